package line

import (
	"math"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// mostCounts is how many numbers of batches are looked at, the fewest and those above it: still
// more would only be more work for the mixer.
const mostCounts = 32

// stretch is the speeds at which an order runs in so many batches; there is none if low exceeds high.
type stretch struct {
	low, high           unit.StrokeRate // on a step of the speed setting, if it has one
	lowLimit, highLimit string          // what allows no slower, and no faster
}

func (s *stretch) holds(v unit.StrokeRate) bool { return v >= s.low*(1-hair) && v <= s.high*(1+hair) }

// noSlower narrows the speeds to those from v on. It takes and returns a value, as noFaster does, so that a plan stays off the heap.
func (s stretch) noSlower(v float64, limit string) stretch {
	if v > float64(s.low)*(1+hair) {
		s.low, s.lowLimit = unit.StrokeRate(v), limit
	}
	return s
}

func (s stretch) noFaster(v float64, limit string) stretch {
	if v < float64(s.high)*(1-hair) {
		s.high, s.highLimit = unit.StrokeRate(v), limit
	}
	return s
}

// workable returns the speeds at which the order runs in these batches with no piece outside
// the dwell window and no dough in the hopper for longer than it may. What it stands there
// because the divider waits for the mixer is a condition of the plan, unless the batch is to hold its weight.
func (r *run) workable(of batched) stretch {
	o := r.out
	s := stretch{o.Speed.Low, o.Speed.High, o.Speed.LowLimit, o.Speed.HighLimit}
	across, head := float64(r.product.Across), float64(r.line.Divider.HopperLeast)/float64(o.Target)
	ahead := (float64(of.pieces) + head) * 60 / across // of the last piece of a batch, in strokes a minute for each second
	s = s.noSlower(ahead/float64(r.product.HopperMax), "hopper time")
	if r.held > 0 {
		s = s.noSlower(ahead/float64(r.held), "weight drift")
	}
	if f := &r.dusted; f.high > 0 {
		s = s.noSlower(float64(f.low), f.lowLimit)
		if f.highLimit != "" { // else it is the top speed to set, which the step below finds
			s = s.noFaster(float64(f.high), f.highLimit)
		}
	}
	if of.batches > 1 {
		s = r.whileWaiting(s, of, head*60/across)
	}
	step := float64(r.line.Divider.StrokeStep)
	s.low, s.high = unit.StrokeRate(steps(math.Ceil, float64(s.low), step, -hair)), unit.StrokeRate(steps(math.Floor, float64(s.high), step, hair))
	return s
}

// whileWaiting narrows the speeds by what the waits for the mixer do, above the speed with which it keeps up.
//
// A batch is scaled in c/S, a piece stays for A/S while nothing waits and so meets the same number of
// waits, k, at any speed: up to k*t_c + (A - k*c)/S.
func (r *run) whileWaiting(s stretch, of batched, head float64) stretch {
	cycle, mixer := float64(r.shift.Mixer.Cycle), r.keepsUp(of)
	if s.high <= mixer*(1+hair) {
		return s
	}
	c, a := float64(float64(mixer)*cycle), float64(float64(r.out.Speed.DwellAtHigh)*float64(r.out.Speed.High))
	met := min(float64(of.batches-1), math.Ceil(a/c*(1-hair)))
	grows := nothing(a-float64(met*c), a)
	left := nothing(float64(r.product.DwellHigh)-float64(met*cycle), float64(r.product.DwellHigh))
	switch {
	case grows < 0 && left < 0:
		s = s.noFaster(grows/left, paceLimit)
	case grows == 0 && left < 0, grows > 0 && left <= 0:
		s = s.noFaster(float64(mixer), paceLimit)
	case grows > 0 && grows/left > float64(mixer):
		s = s.noSlower(grows/left, paceLimit)
	}
	if r.held == 0 || head == 0 {
		return s
	}
	// The tail of a batch stands as the next head until that is mixed.
	if float64(r.held) > cycle {
		s = s.noSlower(head/(float64(r.held)-cycle), "weight drift")
	} else {
		s = s.noFaster(float64(mixer), "weight drift")
	}
	return s
}

// more returns the next larger number of equal batches, and whether the mixer mixes them well.
func (r *run) more(of batched) (batched, bool) {
	all := r.order.Pieces + r.order.Spare
	if of.pieces < 2 {
		return of, false
	}
	of.batches = (all + of.pieces - 2) / (of.pieces - 1)
	of.pieces = (all + of.batches - 1) / of.batches
	each := float64(r.out.Target) * r.shift.WasteBasis.Factor(r.shift.Waste)
	return of, float64(of.pieces)*each >= float64(r.shift.Mixer.Low)*(1-1e-12)
}

// best returns the workable settings that are best for an aim, those of zero speed if there are none.
// A speed between the ends of what works is the best only where the mixer just keeps up, or at the aim itself.
func (r *run) best(aim Aim) (found AimPoint) {
	flour := r.flourOnPiece()
	var least rank
	of, more := r.fewest, true
	for i := 0; more && i < mostCounts; i++ {
		s := r.workable(of)
		if s.low <= s.high*(1+hair) {
			step := float64(r.line.Divider.StrokeStep)
			pace, _ := r.paced(of, r.top)
			for _, v := range [...]unit.StrokeRate{pace, s.high, s.low, r.keepsUp(of), aim.strokes(r, of), aim.between(r, of)} {
				for _, way := range [...]func(float64) float64{math.Floor, math.Ceil} {
					set := unit.StrokeRate(steps(way, float64(v), step, 0))
					if !s.holds(set) {
						continue
					}
					p := r.point(of, set, flour)
					p.Aim = aim.For
					if k := aim.rank(r, &p, of, set == pace); found.Strokes == 0 || k.below(&least) {
						found, least = p, k
					}
				}
			}
		}
		of, more = r.more(of)
	}
	return found
}

// point returns what comes of settings.
func (r *run) point(of batched, strokes unit.StrokeRate, flour unit.Mass) AimPoint {
	o, across := r.out, r.product.Across
	p := AimPoint{Strokes: strokes, Batches: of.batches, PiecesPerBatch: of.pieces}
	made := of.batches * of.pieces
	clear, _ := proof.Clear{Proofer: r.line.Proofer, Across: across, Strokes: strokes, Pieces: made}.Solve()
	p.Dwell = clear.FirstOut
	_, wait, met := r.wait(of, strokes, p.Dwell)
	p.PieceRate = unit.PieceRate(float64(strokes) * float64(across))
	if of.batches > 1 && wait > 0 {
		p.PieceRate = unit.PieceRate(float64(of.pieces) * 60 / float64(r.shift.Mixer.Cycle))
		p.Waits = unit.Duration(float64(of.batches-1) * float64(wait))
	}
	p.LongestDwell = p.Dwell + unit.Duration(float64(met*float64(wait)))
	p.Finish = r.shift.Mixer.Mixing + r.product.FloorTime + clear.LastOut + p.Waits
	left := made - r.order.Pieces - r.order.Spare
	p.Giveaway = unit.Mass(float64(max(0, o.Mark.Expected-o.Piece.Dough)*unit.Mass(made)) + float64(unit.Mass(left)*o.Piece.Dough))
	p.Flour = unit.Mass(float64((made+across-1)/across*across) * float64(flour))
	return p
}

// slides finds the speeds at which the slide of every duster that has one gives the flour that the pieces take.
func (r *run) slides() {
	s := stretch{high: r.top}
	for i := range r.line.Dusters {
		d := &r.line.Dusters[i]
		if len(d.Slide) == 0 {
			continue
		}
		flour := float64(r.flourOf(d)) * float64(r.product.Across) * 60 / 1000 // kg/h for each stroke a minute
		low, high := d.reach()
		if flour > 0 {
			s = s.noSlower(float64(low)/flour, d.Name)
			s = s.noFaster(float64(high)/flour, d.Name)
		}
	}
	r.dusted = s
}

// reach returns the least and the most flour that a slide can be set for: its step takes it to no position beyond those tried.
func (d *Duster) reach() (low, high unit.MassRate) {
	first, last := d.Slide[0], d.Slide[len(d.Slide)-1]
	if d.SlideStep == 0 {
		return first.FlourRate, last.FlourRate
	}
	at := func(slide float64) unit.MassRate {
		out, _ := divider.FlowForSlide{Slide: min(max(slide, first.Slide), last.Slide), Points: d.Slide}.Solve()
		return out.FlourRate
	}
	// Half a step is a hair less: right at it the slide would be set for the step beyond.
	const half = 0.5 - hair
	return at((math.Ceil(first.Slide/d.SlideStep-hair) - half) * d.SlideStep), at((math.Floor(last.Slide/d.SlideStep+hair) + half) * d.SlideStep)
}

// flourOf returns the flour of a duster on one piece, 0 where the duster itself refuses that.
func (r *run) flourOf(d *Duster) unit.Mass {
	out, _ := divider.FlourUse{Scale: d.Scale, Stickiness: r.product.Stickiness, Piece: r.out.Target, PieceRate: 1, RunTime: 60}.Solve()
	return out.FlourPerPiece
}

// flourOnPiece returns the dusting flour that one piece takes, of all dusters.
func (r *run) flourOnPiece() (flour unit.Mass) {
	for i := range r.line.Dusters {
		flour += r.flourOf(&r.line.Dusters[i])
	}
	return flour
}

// take sets the plan to settings other than those of the fastest batches.
func (r *run) take(at *AimPoint, limit string) {
	o := r.out
	if of := (batched{at.Batches, at.PiecesPerBatch}); of != o.batched() {
		plan, planAt := r.batchPlan()
		each := float64(o.Target) * r.shift.WasteBasis.Factor(r.shift.Waste)
		plan.MixerHigh, plan.MixerLow = unit.Mass(float64(of.pieces)*each), 0
		err := plan.SolveInto(&o.Batch)
		if !r.settled(err, planAt) {
			return
		}
		if r.w != nil {
			r.w.Heading("Batches of " + unit.Mass(plan.MixerHigh).String())
			plan.Show(r.w, o.Batch)
		}
	}
	if o.MixerStrokes = 0; o.Batch.Batches > 1 {
		o.MixerStrokes = r.keepsUp(o.batched())
		r.showKeepsUp()
	}
	if at.Strokes != o.Strokes {
		o.Strokes, o.StrokesLimit = at.Strokes, limit
	}
	if r.w != nil {
		r.w.Given("speed to set", "S_set", float64(o.Strokes), "strokes/min", "the best of all settings that work, by comparing them")
	}
	if r.rate(); r.ready() {
		r.largest()
	}
}
