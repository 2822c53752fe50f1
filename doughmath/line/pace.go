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

// pace: the mixer is one of the machines that set the speed. Where it cannot
// keep up, a faster divider makes no more dough, it only stands longer between
// batches, and the proofer with it. So the divider runs as slowly as the mixer
// mixes if the window of the others holds that speed: then nothing waits. If
// not even the slowest waits for nothing, it is set where the pieces stay the
// shortest.
//
// Where the slower speed would keep a batch too long in the hopper, batches
// would have to be smaller and the mixer would fall further behind: the speed is left.
func (r *run) pace() {
	o, cycle := r.out, r.shift.Mixer.Cycle
	if o.Batch.Batches < 2 {
		return // a single batch waits for none
	}
	o.MixerStrokes = unit.StrokeRate(float64(o.Batch.PiecesPerBatch) * 60 / (float64(r.product.Across) * float64(cycle)))
	if w := r.w; w != nil {
		w.Heading("The mixer's pace")
		w.Given("pieces per batch", "n_b", float64(o.Batch.PiecesPerBatch), "", "")
		w.Given("pieces across", "a", float64(r.product.Across), "", "")
		w.Given("mixer, from batch to batch", "t_c", float64(cycle), "s", "")
		w.Lines(*o, "fastest with which the mixer keeps up: S_mix = n_b*60/(a*t_c)  [a batch is scaled in the time that it takes to mix one]")
	}
	if o.Strokes <= o.MixerStrokes*(1+hair) {
		return
	}
	step := float64(r.line.Divider.StrokeStep)
	set, steady := steps(math.Floor, float64(o.MixerStrokes), step, hair), true
	if set < float64(o.Speed.Low) {
		set, steady = steps(math.Ceil, float64(o.Speed.Low), step, -hair), false
	}
	slow := unit.StrokeRate(set)
	if slow >= o.Strokes || r.scaling(slow) > r.product.HopperMax*(1+hair) || !steady && r.longest(slow) > r.longest(o.Strokes) {
		return
	}
	o.Strokes, o.StrokesLimit = slow, paceLimit
	o.Conditions |= reckon.RateLimited
	if w := r.w; w != nil {
		w.Given("slowest that everything allows", "S_low", float64(o.Speed.Low), "strokes/min", "")
		if step > 0 {
			w.Given("step of the speed setting", "q", step, "strokes/min", "")
		}
		switch {
		case step > 0 && steady:
			w.Lines(*o, "speed to set: S_set = floor(S_mix/q + 1e-9)*q  [rounded down to a step: nothing waits]")
		case step > 0:
			w.Lines(*o, "speed to set: S_set = ceil(S_low/q - 1e-9)*q  [rounded up to a step: the shortest wait]")
		case steady:
			w.Lines(*o, "speed to set: S_set = S_mix  [nothing waits]")
		default:
			w.Lines(*o, "speed to set: S_set = S_low  [the shortest wait]")
		}
	}
	if r.rate(); r.ready() {
		r.largest()
	}
}

// steps takes v to a step that way, and leaves it where there is no step.
func steps(way func(float64) float64, v, step, slack float64) float64 {
	if step <= 0 {
		return v
	}
	return way(v/step+slack) * step
}

// scaling returns how long a batch stands in the hopper while it is scaled at
// that speed, the dough that is lost on the way counted.
func (r *run) scaling(strokes unit.StrokeRate) unit.Duration {
	rate := float64(strokes) * float64(r.product.Across) * float64(r.out.Target)
	return unit.Duration(float64(r.out.Batch.BatchDough) / rate * 60)
}

// longest returns the longest stay of a piece in the proofer at that speed.
func (r *run) longest(strokes unit.StrokeRate) unit.Duration {
	dwell, _ := proof.Dwell{Proofer: r.line.Proofer, Across: r.product.Across, Strokes: strokes}.Solve()
	_, wait, met := r.wait(strokes, dwell.Dwell)
	return dwell.Dwell + unit.Duration(float64(met*float64(wait)))
}

// wait returns how long the divider scales a batch at that speed, how long it
// then waits for the next, and how many waits one piece meets at most.
func (r *run) wait(strokes unit.StrokeRate, dwell unit.Duration) (scaling, wait unit.Duration, met float64) {
	b := &r.out.Batch
	// Dough that is lost on the way takes no strokes.
	scaling = unit.Duration(float64(b.PiecesPerBatch) * 60 / (float64(strokes) * float64(r.product.Across)))
	if cycle := r.shift.Mixer.Cycle; cycle > scaling*(1+hair) {
		wait = cycle - scaling
	}
	return scaling, wait, min(float64(b.Batches-1), math.Ceil(float64(dwell)/float64(scaling)*(1-hair)))
}

// tooLong refuses a plan in which pieces stay too long in the proofer while the
// divider waits, and says what holds it and what would do.
func (r *run) tooLong() {
	o, p := r.out, r.product
	t := &o.Times
	// The slowest speed gives the mixer the most time: that of the window, or
	// the one at which the batch stands in the hopper for as long as it may.
	slowest, limit := o.Speed.Low, o.Speed.LowLimit
	if byHopper := unit.StrokeRate(float64(o.Strokes) * float64(r.scaling(o.Strokes)) / float64(p.HopperMax)); byHopper > slowest {
		slowest, limit = byHopper, "hopper time"
	}
	slowest = unit.StrokeRate(steps(math.Ceil, float64(slowest), float64(r.line.Divider.StrokeStep), -hair))
	keeps, _, _ := r.wait(slowest, 0)
	advice := fmt.Sprintf("the mixer gives a batch every %v and the divider scales its %d pieces in %v at %v, so both machines stand for %v between batches and pieces stay up to %v; "+
		"nothing would wait with such a batch every %v, at %v (no slower: %s), or with larger batches (largest: %v, limit: %s); "+
		"let mixers or bowls take turns, or see by trial whether the product takes the longer stay",
		r.shift.Mixer.Cycle, o.Batch.PiecesPerBatch, t.BatchScaling, o.Strokes, t.BatchWait, o.LongestDwell, keeps, slowest, limit, o.LargestBatch, o.LargestBatchLimit)
	r.c.Nest("", &reckon.NoSolutionError{
		Func: planID, Unknown: "divider speed", Wanted: "every piece a dwell of " + p.DwellLow.String() + " to " + p.DwellHigh.String(), Advice: advice,
	})
}
