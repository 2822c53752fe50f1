package divider

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// HopperTime returns how long a batch stands in the hopper until its last
// piece is cut:
//
//	time = batch / dough rate
//
// It holds while the divider runs without a stop. The last dough stands that
// long, the first not at all; [WeightDrift] says what it does to the weight.
//
// It returns an *[reckon.InputError] if:
//   - batch is not above 0 and up to 10 t,
//   - dough is not above 0 and up to 200 000 t/h,
//   - limit is given and not 0 to 24 h.
//
// It returns a *[reckon.NoSolutionError] if the batch would stand longer than 10 days.
//
// Source: conservation of mass; common practice.
//
// The inverse is [BatchForHopperTime].
type HopperTime struct {
	Batch unit.Mass     `json:"batch"`          // dough tipped into the hopper; above 0 up to 10 t
	Dough unit.MassRate `json:"dough"`          // dough that the divider uses, see [Rate]; above 0
	Limit unit.Duration `json:"limit,omitzero"` // longest time the dough may stand; leave out if there is none, else up to 24 h
}

func (HopperTime) ID() string { return "hopper-time" }

// SHELL
func (q HopperTime) Check(c *reckon.Checks) {
	_, err := explainHopperTime(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q HopperTime) Solve() (HopperTimeResult, error) { return explainHopperTime(q, nil) }

func (q HopperTime) Show(w *reckon.Working, _ HopperTimeResult) { _, _ = explainHopperTime(q, w) }

// HopperTimeResult is how long dough stands.
type HopperTimeResult struct {
	Time       unit.Duration `json:"time"`       // from the tipping to the last piece of the batch
	Conditions Conditions    `json:"conditions"` // long-hopper-time
}

// maxStanding bounds what is still called hopper time.
const maxStanding unit.Duration = 10 * 86400

func explainHopperTime(in HopperTime, w *reckon.Working) (out HopperTimeResult, err error) {
	c := reckon.Checks{Func: "hopper-time"}
	checkAbove(&c, "batch", in.Batch, maxBatch)
	checkAbove(&c, "dough", in.Dough, maxDough)
	reckon.CheckRange(&c, "limit", in.Limit, 0, unit.Hours(24))
	if err := c.Err(); err != nil {
		return HopperTimeResult{}, err
	}
	out = HopperTimeResult{Time: unit.Duration(float64(in.Batch) * 3.6 / float64(in.Dough))}
	if !(out.Time <= maxStanding) {
		return HopperTimeResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "hopper time",
			Wanted: in.Batch.String() + " at " + in.Dough.String(), High: maxStanding.String(),
			Advice: "no dough stands that long; check the dough rate",
		}
	}
	if in.Limit > 0 && out.Time > in.Limit {
		out.Conditions |= LongHopperTime
	}
	if w != nil {
		w.Given("batch", "M", float64(in.Batch), "g", "")
		w.Given("dough rate", "D", float64(in.Dough), "kg/h", "")
		w.Step("hopper time", "t", "M * 3.6 / D", float64(out.Time), "s", "conservation of mass")
	}
	return out, nil
}

// BatchForHopperTime returns the largest batch that leaves the hopper within
// the limit:
//
//	batch = dough rate * limit
//
// It is the inverse of [HopperTime], with the same validity. Whether the mixer
// can mix that batch is another question.
//
// It returns an *[reckon.InputError] if:
//   - dough is not above 0 and up to 200 000 t/h,
//   - limit is not above 0 and up to 24 h.
//
// Source: conservation of mass; common practice.
//
// The inverse is [HopperTime].
type BatchForHopperTime struct {
	Dough unit.MassRate `json:"dough"` // dough that the divider uses, see [Rate]; above 0
	Limit unit.Duration `json:"limit"` // longest time the dough may stand; above 0 up to 24 h
}

func (BatchForHopperTime) ID() string { return "batch-for-hopper-time" }

// SHELL
func (q BatchForHopperTime) Check(c *reckon.Checks) {
	_, err := explainBatchForHopperTime(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BatchForHopperTime) Solve() (BatchForHopperTimeResult, error) {
	return explainBatchForHopperTime(q, nil)
}

func (q BatchForHopperTime) Show(w *reckon.Working, _ BatchForHopperTimeResult) {
	_, _ = explainBatchForHopperTime(q, w)
}

// BatchForHopperTimeResult is the largest batch.
type BatchForHopperTimeResult struct {
	Batch unit.Mass `json:"batch"` // the largest batch whose last piece is cut within the limit
}

func explainBatchForHopperTime(in BatchForHopperTime, w *reckon.Working) (out BatchForHopperTimeResult, err error) {
	c := reckon.Checks{Func: "batch-for-hopper-time"}
	checkAbove(&c, "dough", in.Dough, maxDough)
	checkAbove(&c, "limit", in.Limit, unit.Hours(24))
	if err := c.Err(); err != nil {
		return BatchForHopperTimeResult{}, err
	}
	out = BatchForHopperTimeResult{Batch: unit.Mass(float64(in.Dough) * float64(in.Limit) / 3.6)}
	if w != nil {
		w.Given("dough rate", "D", float64(in.Dough), "kg/h", "")
		w.Given("longest time", "t", float64(in.Limit), "s", "")
		w.Step("largest batch", "M", "D * t / 3.6", float64(out.Batch), "g", "conservation of mass")
	}
	return out, nil
}
