package divider

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// HopperTime asks how long a batch stands in the hopper until its last piece
// is cut:
//
//	t = M * 3.6 / D
//
// It holds while the divider runs without a stop. The last dough stands that
// long, the first not at all; [WeightDrift] says what it does to the weight.
//
// Source: conservation of mass; common practice.
//
// The inverse is [BatchForHopperTime].
type HopperTime struct {
	Batch     unit.Mass     `json:"batch" sym:"M" range:">0 g..10 t"`               // dough tipped into the hopper
	DoughRate unit.MassRate `json:"dough_rate" sym:"D" range:">0 kg/h..200000 t/h"` // dough that the divider uses, see [Rate]
	TimeLimit unit.Duration `json:"time_limit,omitzero" range:"0 s..24 h"`          // longest time the dough may stand; leave out for no limit
}

// HopperTimeResult is how long dough stands.
type HopperTimeResult struct {
	Time       unit.Duration   `json:"time" sym:"t"` // from the tipping to the last piece of the batch
	Conditions Conditions      `json:"conditions"`   // long-hopper-time
	Cautions   reckon.Cautions `json:"cautions"`     // raised-bowl
}

// maxStanding bounds what is still called hopper time.
const maxStanding unit.Duration = 10 * 86400

func (HopperTime) ID() string { return "hopper-time" }

func (q HopperTime) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "batch", q.Batch, maxBatch)
	reckon.CheckAbove(c, "dough_rate", q.DoughRate, maxDough)
	reckon.CheckRange(c, "time_limit", q.TimeLimit, 0, unit.Hours(24))
}

// Solve has no answer if the batch would stand longer than 10 days.
func (q HopperTime) Solve() (out HopperTimeResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	time := unit.Duration(float64(q.Batch) * 3.6 / float64(q.DoughRate))
	if !(time <= maxStanding) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "hopper time",
			Wanted: q.Batch.String() + " at " + q.DoughRate.String(), High: maxStanding.String(),
			Advice: "no dough stands that long; check the dough rate",
		}
	}
	out.Time = time
	if q.TimeLimit > 0 && out.Time > q.TimeLimit {
		out.Conditions |= LongHopperTime
	}
	out.Cautions = reckon.RaisedBowl
	return out, nil
}

func (q HopperTime) Show(w *reckon.Working, out HopperTimeResult) {
	w.Inputs(q)
	w.Lines(out, "hopper time: t = M*3.6/D  [conservation of mass]")
}

// BatchForHopperTime asks for the largest batch that clears the hopper within
// the limit:
//
//	M = D * t / 3.6
//
// It is the inverse of [HopperTime], with the same validity. Whether the mixer
// can mix that batch is another question.
//
// Source: conservation of mass; common practice.
//
// The inverse is [HopperTime].
type BatchForHopperTime struct {
	DoughRate unit.MassRate `json:"dough_rate" sym:"D" range:">0 kg/h..200000 t/h"` // dough that the divider uses, see [Rate]
	TimeLimit unit.Duration `json:"time_limit" sym:"t" range:">0 s..24 h"`          // longest time the dough may stand
}

// BatchForHopperTimeResult is the largest batch.
type BatchForHopperTimeResult struct {
	Batch    unit.Mass       `json:"batch" sym:"M"` // the largest batch whose last piece is cut within the limit
	Cautions reckon.Cautions `json:"cautions"`      // raised-bowl
}

func (BatchForHopperTime) ID() string { return "batch-for-hopper-time" }

func (q BatchForHopperTime) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "dough_rate", q.DoughRate, maxDough)
	reckon.CheckAbove(c, "time_limit", q.TimeLimit, unit.Hours(24))
}

func (q BatchForHopperTime) Solve() (out BatchForHopperTimeResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Batch = unit.Mass(float64(q.DoughRate) * float64(q.TimeLimit) / 3.6)
	out.Cautions = reckon.RaisedBowl
	return out, nil
}

func (q BatchForHopperTime) Show(w *reckon.Working, out BatchForHopperTimeResult) {
	w.Inputs(q)
	w.Lines(out, "largest batch: M = D*t/3.6  [conservation of mass]")
}
