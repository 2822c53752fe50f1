package line

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// AimFor names what the settings of a run are chosen for, among all that work.
type AimFor string

const (
	// Fastest is the fastest run: fewest batches, the highest speed with which the mixer keeps up, else the shortest waits. It is meant where no aim is named.
	Fastest AimFor = "fastest"
	// WantedRate is a number of pieces a minute, waits counted, such as what the oven or the packing is to be fed with.
	WantedRate AimFor = "rate"
	// MidDwell is a dwell in the middle of the range that suits the product, for every piece.
	MidDwell AimFor = "mid-dwell"
	// NoWaits is a divider that never waits for dough.
	NoWaits AimFor = "no-waits"
	// LeastGiveaway is the least dough beyond what the order needs.
	LeastGiveaway AimFor = "least-giveaway"
	// LeastFlour is the least dusting flour.
	LeastFlour AimFor = "least-flour"
	// FinishInTime is the calmest run that ends in time.
	FinishInTime AimFor = "finish"
)

// Aim is what the speed and the batches of a run are chosen for, among all settings that work: see [Window].
type Aim struct {
	For      AimFor         `json:"for"`                           // "fastest", "rate", "mid-dwell", "no-waits", "least-giveaway", "least-flour" or "finish"
	Rate     unit.PieceRate `json:"piece_rate,omitzero" range:"-"` // for "rate": pieces a minute to keep up, 0.01 to 10000; leave out otherwise
	FinishIn unit.Duration  `json:"finish_in,omitzero" range:"-"`  // for "finish": from the start of the first mixing until the last pieces leave the overhead proofer, at the latest, up to 240 h; leave out otherwise
}

// AimPoint is the settings that are best for an aim, and what comes of them.
type AimPoint struct {
	Aim            AimFor          `json:"aim"`                        // for what they are best
	Strokes        unit.StrokeRate `json:"strokes" sym:"S_#"`          // speed of the divider
	Batches        int             `json:"batches" sym:"b_#"`          // batches, all alike
	PiecesPerBatch int             `json:"pieces_per_batch" sym:"n_#"` // whole pieces in each
	PieceRate      unit.PieceRate  `json:"piece_rate" sym:"P_#"`       // pieces kept up, waits for the mixer counted
	Dwell          unit.Duration   `json:"dwell" sym:"t_#"`            // stay in the overhead proofer while the machines run
	LongestDwell   unit.Duration   `json:"longest_dwell" sym:"l_#"`    // longest stay, waits counted
	Waits          unit.Duration   `json:"waits" sym:"w_#"`            // all waits of the divider for dough, together
	Finish         unit.Duration   `json:"finish" sym:"z_#"`           // from the start of the first mixing until the last pieces leave the overhead proofer
	Giveaway       unit.Mass       `json:"giveaway" sym:"g_#"`         // dough beyond the order: what the mark scales over the dough piece, and pieces left over
	Flour          unit.Mass       `json:"flour" sym:"f_#"`            // dusting flour of the run, if the line says how much falls
	Missed         string          `json:"missed,omitzero"`            // by how much the aim is missed, and what to do; left out if it is reached
}

// AimCost is what an aim costs against the best for another one.
type AimCost struct {
	Best      AimPoint       `json:"best"`                  // the best for the other aim
	PieceRate unit.PieceRate `json:"piece_rate" sym:"DP_#"` // more pieces a minute than there; below 0 if fewer
	Finish    unit.Duration  `json:"finish" sym:"Dz_#"`     // later than there; below 0 if earlier
	Waits     unit.Duration  `json:"waits" sym:"Dw_#"`      // more waiting than there
	Giveaway  unit.Mass      `json:"giveaway" sym:"Dg_#"`   // more dough beyond the order than there
	Flour     unit.Mass      `json:"flour" sym:"Df_#"`      // more dusting flour than there
}

// AimResult is what comes of an aim, and what it costs.
type AimResult struct {
	Here  AimPoint  `json:"here" sym:"-"`  // of this plan
	Costs []AimCost `json:"costs" sym:"-"` // against the best for each other aim that needs no number
}

// plainAims are the aims that need no number.
var plainAims = [...]AimFor{Fastest, MidDwell, NoWaits, LeastGiveaway, LeastFlour}

// latestFinish bounds the time in which a run can be asked to end.
const latestFinish = 10 * longest

// named reports whether an aim is named: without one the run is the fastest, and nothing is said of others.
func (a *Aim) named() bool { return *a != Aim{} }

func (a *Aim) check(c *reckon.Checks) {
	if !a.named() {
		return
	}
	mark := c.Mark()
	reckon.CheckWord(c, "for", a.For, Fastest, WantedRate, MidDwell, NoWaits, LeastGiveaway, LeastFlour, FinishInTime)
	if a.For == WantedRate {
		reckon.CheckRange(c, "piece_rate", a.Rate, 0.01, 10_000)
	} else if a.Rate != 0 {
		c.Fail("piece_rate", a.Rate.String(), `nothing, unless the aim is for "rate"`)
	}
	if a.For == FinishInTime {
		reckon.CheckRange(c, "finish_in", a.FinishIn, shortest, latestFinish)
	} else if a.FinishIn != 0 {
		c.Fail("finish_in", a.FinishIn.String(), `nothing, unless the aim is for "finish"`)
	}
	c.Under(mark, "aim")
}

// middle returns the middle of the dwell that suits the product.
func (p *Product) middle() unit.Duration {
	return p.DwellLow + unit.Duration((p.DwellHigh-p.DwellLow)/2)
}

// strokes returns the speed at which the aim is met if nothing waits, 0 if it names none.
func (a *Aim) strokes(r *run, of batched) unit.StrokeRate {
	switch a.For {
	case WantedRate:
		return unit.StrokeRate(float64(a.Rate) / float64(r.product.Across))
	case MidDwell:
		return unit.StrokeRate(float64(r.out.Speed.DwellAtHigh) * float64(r.out.Speed.High) / float64(r.product.middle()))
	case FinishInTime:
		return r.toFinish(of, a.FinishIn, 0)
	}
	return 0
}

// between returns the speed at which the aim is met while the divider waits for the mixer, 0 if it names none.
func (a *Aim) between(r *run, of batched) unit.StrokeRate {
	switch a.For {
	case MidDwell:
		// The shortest and the longest stay lie as far from the middle. With a piece that does not meet every wait both lie
		// nearer to it the slower it goes.
		cycle, met := float64(r.shift.Mixer.Cycle), float64(of.batches-1)
		c, t := float64(float64(r.keepsUp(of))*cycle), float64(float64(r.out.Speed.DwellAtHigh)*float64(r.out.Speed.High))
		return unit.StrokeRate((float64(2*t) - float64(met*c)) / (float64(2*r.product.middle()) - float64(met*cycle)))
	case FinishInTime:
		return r.toFinish(of, a.FinishIn, 1)
	}
	return 0
}

// toFinish returns the speed that ends a run in so long, with that part of the waits for the mixer: none of them, or all.
func (r *run) toFinish(of batched, in unit.Duration, waits float64) unit.StrokeRate {
	one := r.point(of, 1, 0)
	start := r.shift.Mixer.Mixing + r.product.FloorTime
	running := float64(one.Finish - start - one.Waits) // at one stroke a minute
	between := float64(waits * float64(of.batches-1))
	cycle := float64(r.shift.Mixer.Cycle)
	return unit.StrokeRate((running - float64(between*float64(r.keepsUp(of))*cycle)) / (float64(in-start) - float64(between*cycle)))
}

// rank is how good settings are for an aim: the first number that differs decides, and less is better.
type rank [6]float64

// below reports whether k is better, by more than what binary arithmetic leaves over.
func (k *rank) below(other *rank) bool {
	for i, v := range k {
		if d := v - other[i]; math.Abs(d) > hair*max(math.Abs(v), math.Abs(other[i])) {
			return d < 0
		}
	}
	return false
}

// nothing is v, or 0 if it is no more than what binary arithmetic leaves over of a whole.
func nothing(v, whole float64) float64 {
	if math.Abs(v) <= hair*math.Abs(whole) {
		return 0
	}
	return v
}

// rank ranks settings; paced says that their speed is what the fastest run of these batches has.
func (a *Aim) rank(r *run, p *AimPoint, of batched, paced bool) (k rank) {
	keys := k[:0]
	wait := func() float64 { return float64(p.Waits) }
	switch a.For {
	case WantedRate:
		keys = append(keys, math.Abs(nothing(float64(p.PieceRate-a.Rate), float64(a.Rate))), wait())
	case MidDwell:
		middle := r.product.middle()
		keys = append(keys, nothing(float64(max(middle-p.Dwell, p.Dwell-middle, p.LongestDwell-middle)), float64(middle)))
	case NoWaits:
		keys = append(keys, wait())
	case LeastGiveaway:
		keys = append(keys, float64(p.Giveaway))
	case LeastFlour:
		keys = append(keys, float64(p.Flour))
	case FinishInTime:
		late := max(0, nothing(float64(p.Finish-a.FinishIn), float64(a.FinishIn)))
		keys = append(keys, late, wait(), -float64(p.Finish))
	}
	// Then as for the fastest.
	other := 1.0
	if paced {
		other = 0
	}
	keys = append(keys, float64(of.batches), other, float64(p.LongestDwell))
	return rank(append(keys, make([]float64, len(k)-len(keys))...))
}

// missed says by how much settings miss the aim, "" if they reach it. What a step of the speed setting rounds away is no miss.
func (a *Aim) missed(r *run, p *AimPoint) string {
	half := unit.StrokeRate(float64(r.line.Divider.StrokeStep / 2))
	switch a.For {
	case WantedRate:
		off := nothing(float64(p.PieceRate-a.Rate), float64(a.Rate))
		switch {
		case math.Abs(off) <= float64(half)*float64(r.product.Across)*(1+hair):
			return ""
		case off < 0:
			return unit.PieceRate(-off).String() + " fewer than wanted"
		}
		return unit.PieceRate(off).String() + " more than wanted"
	case MidDwell:
		wanted := a.strokes(r, batched{})
		middle := r.product.middle()
		switch {
		case p.LongestDwell > p.Dwell*(1+hair):
			return (p.LongestDwell - middle).String() + " longer than the middle for the pieces that meet a wait, " + middle.String()
		case p.Strokes > unit.StrokeRate(float64(wanted*(1+hair)))+half:
			return (middle - p.Dwell).String() + " shorter than the middle, " + middle.String()
		case p.Strokes < unit.StrokeRate(float64(wanted*(1-hair)))-half:
			return (p.Dwell - middle).String() + " longer than the middle, " + middle.String()
		}
	case NoWaits:
		if p.Waits > 0 {
			return "the divider waits for " + p.Waits.String() + " in all"
		}
	case FinishInTime:
		if late := nothing(float64(p.Finish-a.FinishIn), float64(a.FinishIn)); late > 0 {
			return unit.Duration(late).String() + " too late"
		}
	}
	return ""
}

// says is the aim in words.
func (a *Aim) says(r *run) string {
	switch a.For {
	case WantedRate:
		return "a rate of " + a.Rate.String() + " kept up"
	case MidDwell:
		return "a dwell of " + r.product.middle().String() + " for every piece"
	case NoWaits:
		return "a run in which the divider never waits for dough"
	case FinishInTime:
		return "a run that ends " + a.FinishIn.String() + " after the first mixing starts"
	}
	return string(a.For)
}

// aimed chooses the speed and the batches by the aim of the order.
func (r *run) aimed() {
	o, a := r.out, &r.order.Aim
	at := r.best(*a)
	if at.Strokes == 0 {
		r.pace() // which says what stands in the way
		return
	}
	if at.Missed = a.missed(r, &at); at.Missed != "" {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "speed and batches", Wanted: a.says(r),
			Advice: "the nearest is " + at.Strokes.String() + " with " + strconv.Itoa(at.Batches) + " batches of " + strconv.Itoa(at.PiecesPerBatch) + " pieces, " +
				at.PieceRate.String() + ": " + at.Missed + "; see line-window for what limits it and what more would buy",
		})
		return
	}
	// The fastest run is the one without an aim, unless a slide does not reach so far.
	if paced, _ := r.paced(r.fewest, r.top); a.For == Fastest && r.dusted.holds(paced) {
		r.pace()
	} else {
		r.take(&at, string(a.For))
	}
	if !r.ready() {
		return
	}
	if wanted := a.strokes(r, o.batched()); wanted > 0 && o.Strokes != wanted && r.line.Divider.StrokeStep > 0 {
		o.Conditions |= reckon.Rounded
	}
	if r.bare {
		return
	}
	o.Aim.Here = at
	for _, other := range plainAims {
		if other == a.For {
			continue
		}
		best := r.best(Aim{For: other})
		o.Aim.Costs = append(o.Aim.Costs, AimCost{
			Best: best, PieceRate: at.PieceRate - best.PieceRate, Finish: at.Finish - best.Finish, Waits: at.Waits - best.Waits,
			Giveaway: at.Giveaway - best.Giveaway, Flour: at.Flour - best.Flour,
		})
	}
}
