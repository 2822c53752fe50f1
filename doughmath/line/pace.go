package line

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// paceLimit is what the mixer is called where it sets the speed.
const paceLimit = "mixer"

// A hair is how far, as a part of it, a time may be passed by what binary
// arithmetic leaves over.
const hair = 1e-9

// batched is an order in so many equal batches.
type batched struct{ batches, pieces int } // pieces in each

// batched returns the batches of the plan.
func (o *PlanResult) batched() batched { return batched{o.Batch.Batches, o.Batch.PiecesPerBatch} }

// pace: the mixer is one of the machines that set the speed. Where it cannot
// keep up, a faster divider makes no more dough, it only stands longer between
// batches, and the proofer with it. So the divider runs as slowly as the mixer
// mixes if the window of the others holds that speed: then nothing waits. If
// even the slowest is too fast, it is set where the pieces stay the shortest.
//
// No speed is too slow for the hopper time of these batches: smaller ones
// would let the mixer fall further behind.
func (r *run) pace() {
	o := r.out
	if o.Batch.Batches < 2 {
		return // a single batch waits for none
	}
	of := o.batched()
	o.MixerStrokes = r.keepsUp(of)
	r.showKeepsUp()
	slow, steady := r.paced(of, o.Strokes)
	if r.elsewhere(of, slow) {
		return // nothing may wait at that speed, and yet a slide may not reach so far
	}
	if slow >= o.Strokes {
		return
	}
	o.Strokes, o.StrokesLimit = slow, paceLimit
	o.Conditions |= reckon.RateLimited
	if w := r.w; w != nil {
		step := float64(r.line.Divider.StrokeStep)
		least, _ := r.slowest(of, r.shift.Mixer.Cycle)
		w.Given("slowest that everything allows", "S_least", float64(least), "strokes/min", "the slowest for all, and the hopper time of these batches")
		if step > 0 {
			w.Carried("step of the speed setting", "q", step, "strokes/min")
		}
		switch {
		case step > 0 && steady:
			w.Lines(*o, "speed to set: S_set = floor(S_mix/q)*q  [rounded down to a step: nothing waits]")
		case step > 0:
			w.Lines(*o, "speed to set: S_set = ceil(S_least/q)*q  [rounded up to a step: the shortest wait]")
		case steady:
			w.Lines(*o, "speed to set: S_set = S_mix  [nothing waits]")
		default:
			w.Lines(*o, "speed to set: S_set = S_least  [the shortest wait]")
		}
	}
	if r.rate(); r.ready() {
		r.largest()
	}
}

// elsewhere takes the plan to other settings if these do not work and others do.
func (r *run) elsewhere(of batched, strokes unit.StrokeRate) bool {
	if s := r.workable(of); s.holds(strokes) {
		return false
	}
	at := r.best(Aim{For: Fastest})
	if at.Strokes == 0 {
		return false
	}
	r.take(&at, paceLimit)
	return true
}

// keepsUp returns the fastest speed with which the mixer keeps up.
func (r *run) keepsUp(of batched) unit.StrokeRate {
	return unit.StrokeRate(float64(of.pieces) * 60 / (float64(r.product.Across) * float64(r.shift.Mixer.Cycle)))
}

func (r *run) showKeepsUp() {
	if w := r.w; w != nil {
		w.Heading("The mixer's pace")
		w.Carried("pieces per batch", "n_b", float64(r.out.Batch.PiecesPerBatch), "")
		w.Carried("pieces across", "a", float64(r.product.Across), "")
		w.Carried("mixer, from batch to batch", "t_c", float64(r.shift.Mixer.Cycle), "s")
		w.Lines(*r.out, "fastest with which the mixer keeps up: S_mix = n_b*60{s/min}/(a*t_c)  [a batch is scaled in the time that it takes to mix one]")
	}
}

// paced returns the speed for these batches, the fastest of all at most, and whether nothing waits at it.
func (r *run) paced(of batched, fastest unit.StrokeRate) (set unit.StrokeRate, steady bool) {
	mixer := r.keepsUp(of)
	if of.batches < 2 || fastest <= mixer*(1+hair) {
		return fastest, true
	}
	step := float64(r.line.Divider.StrokeStep)
	slow, steady := unit.StrokeRate(steps(math.Floor, float64(mixer), step, hair)), true
	least, _ := r.slowest(of, r.shift.Mixer.Cycle)
	if slow < least {
		slow, steady = unit.StrokeRate(steps(math.Ceil, float64(least), step, -hair)), false
	}
	if slow >= fastest || !steady && r.longest(of, slow) > r.longest(of, fastest) {
		return fastest, false
	}
	return slow, steady
}

// steps takes v to a step that way, and leaves it where there is no step.
func steps(way func(float64) float64, v, step, slack float64) float64 {
	if step <= 0 {
		return v
	}
	return way(v/step+slack) * step
}

// slowest returns the slowest speed that everything allows with these batches where the
// mixer gives one after that time, and its limit: the window's, or the speed at which a
// batch stands in the hopper for as long as it may.
//
// The head ahead of a batch is cut first, and the tail of the batch stands as the next head
// until the next one is mixed: (n_b*m + H)/D while the divider never waits, H/D + t_c where
// it does. Waste is lost before and takes no strokes.
func (r *run) slowest(of batched, cycle unit.Duration) (unit.StrokeRate, string) {
	o, across := r.out, float64(r.product.Across)
	may, who := r.product.HopperMax, "hopper time"
	if r.held > 0 && r.held < may {
		may, who = r.held, "weight drift"
	}
	per, head := float64(of.pieces), float64(r.line.Divider.HopperLeast)/float64(o.Target)
	byHopper := (per + head) * 60 / (across * float64(may))
	// Where the divider never waits the second is the lower. No speed helps where the mixer alone takes longer than dough may stand.
	if cycle < may {
		byHopper = max(byHopper, head*60/(across*float64(may-cycle)))
	}
	if byHopper > float64(o.Speed.Low) {
		return unit.StrokeRate(byHopper), who
	}
	return o.Speed.Low, o.Speed.LowLimit
}

// longest returns the longest stay of a piece in the proofer at that speed.
func (r *run) longest(of batched, strokes unit.StrokeRate) unit.Duration {
	dwell, _ := proof.Dwell{Proofer: r.line.Proofer, Across: r.product.Across, Strokes: strokes}.Solve()
	_, wait, met := r.wait(of, strokes, dwell.Dwell)
	return dwell.Dwell + unit.Duration(float64(met*float64(wait)))
}

// wait returns how long the divider scales a batch at that speed, how long it
// then waits for the next, and how many waits one piece meets at most.
func (r *run) wait(of batched, strokes unit.StrokeRate, dwell unit.Duration) (scaling, wait unit.Duration, met float64) {
	// Dough that is lost on the way takes no strokes.
	scaling = unit.Duration(float64(of.pieces) * 60 / (float64(strokes) * float64(r.product.Across)))
	if cycle := r.shift.Mixer.Cycle; cycle > scaling*(1+hair) {
		wait = cycle - scaling
	}
	return scaling, wait, min(float64(of.batches-1), math.Ceil(float64(dwell)/float64(scaling)*(1-hair)))
}

// tooLong refuses a plan in which pieces stay too long in the proofer while the
// divider waits, and says what holds it and what would do.
func (r *run) tooLong() {
	o, p := r.out, r.product
	t := &o.Times
	// The slowest speed gives the mixer the most time.
	slowest, limit := r.slowest(o.batched(), 0)
	slowest = unit.StrokeRate(steps(math.Ceil, float64(slowest), float64(r.line.Divider.StrokeStep), -hair))
	keeps, _, _ := r.wait(o.batched(), slowest, 0)
	advice := fmt.Sprintf("at %v the divider scales a batch of %d pieces in %v and the mixer gives the next after %v, so both machines stand for %v and pieces stay up to %v; "+
		"with such a batch every %v nothing waits at %v (no slower: %s), and batches can be no larger than %v (limit: %s); "+
		"let mixers or bowls take turns, or see by trial whether the product takes the longer stay",
		o.Strokes, o.Batch.PiecesPerBatch, t.BatchScaling, r.shift.Mixer.Cycle, t.BatchWait, o.LongestDwell, keeps, slowest, limit, o.LargestBatch, o.LargestBatchLimit)
	r.c.Nest("", &reckon.NoSolutionError{
		Func: planID, Unknown: "divider speed", Wanted: "every piece a dwell of " + p.DwellLow.String() + " to " + p.DwellHigh.String(), Advice: advice,
	})
}
