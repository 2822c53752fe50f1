package divider

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// HopperTime asks how long a batch stands in the hopper until its last piece
// is cut:
//
//	t   = (M + H) * 3.6 / D + w
//	t_f = H * 3.6 / D
//
// A divider that draws its dough in scales light once the hopper runs low: the next batch is
// tipped while a head of dough H is left, which is cut before it. The tail of each batch is
// the head of the next, and stands while the divider waits for it.
//
// It holds while the divider runs without any other stop and the hopper empties first in,
// first out. The last dough stands that long, the first of a batch t_f; [WeightDrift] says
// what it does to the weight. Dough that is lost before the divider takes no time there.
//
// It is refused if:
//   - wait is given without a head: an empty hopper has nothing that waits.
//
// Source: conservation of mass; common practice.
//
// The inverse is [BatchForHopperTime].
type HopperTime struct {
	Batch     unit.Mass     `json:"batch" sym:"M" range:">0 g..10 t"`               // dough of a batch that the divider cuts
	Head      unit.Mass     `json:"head,omitzero" sym:"H,0" range:"0 g..10 t"`      // dough that is left in the hopper when the next batch is tipped, and at the end; leave out if it runs empty
	DoughRate unit.MassRate `json:"dough_rate" sym:"D" range:">0 kg/h..200000 t/h"` // dough that the divider uses, see [Rate]
	Wait      unit.Duration `json:"wait,omitzero" sym:"w,0" range:"-"`              // how long the divider stands until the next batch comes, 0 s to 24 h, and above 0 s with a head only
	TimeLimit unit.Duration `json:"time_limit,omitzero" range:"0 s..24 h"`          // longest time the dough may stand; leave out for no limit
}

// HopperTimeResult is how long dough stands.
type HopperTimeResult struct {
	Time       unit.Duration   `json:"time" sym:"t"`          // from the tipping to the last piece of the batch
	FirstPiece unit.Duration   `json:"first_piece" sym:"t_f"` // from the tipping to the first piece of the batch: until then the head ahead of it is cut
	Conditions Conditions      `json:"conditions"`            // long-hopper-time
	Cautions   reckon.Cautions `json:"cautions"`              // raised-bowl
}

// maxStanding bounds what is still called hopper time.
const maxStanding unit.Duration = 10 * 86400

func (HopperTime) ID() string { return "hopper-time" }

func (q HopperTime) Check(c *reckon.Checks) { q.check(c) }

func (q *HopperTime) check(c *reckon.Checks) {
	reckon.CheckAbove(c, "batch", q.Batch, maxBatch)
	checkHead(c, q.Head, q.Wait)
	reckon.CheckAbove(c, "dough_rate", q.DoughRate, maxDough)
	reckon.CheckRange(c, "time_limit", q.TimeLimit, 0, unit.Hours(24))
}

// checkHead requires a head of dough, and a wait only where there is one.
func checkHead(c *reckon.Checks, head unit.Mass, wait unit.Duration) {
	reckon.CheckRange(c, "head", head, 0, maxBatch)
	if reckon.CheckRange(c, "wait", wait, 0, unit.Hours(24)) && wait != 0 && head == 0 {
		c.Fail("wait", wait.String(), "nothing, unless a head of dough is left in the hopper meanwhile")
	}
}

// Solve has no answer if the batch would stand longer than 10 days.
func (q HopperTime) Solve() (out HopperTimeResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *HopperTime) SolveInto(out *HopperTimeResult) error {
	*out = HopperTimeResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	time := unit.Duration(float64(q.Batch+q.Head)*3.6/float64(q.DoughRate)) + q.Wait
	if !(time <= maxStanding) {
		return &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "hopper time",
			Wanted: (q.Batch + q.Head).String() + " at " + q.DoughRate.String(), High: maxStanding.String(),
			Advice: "no dough stands that long; check the dough rate",
		}
	}
	out.Time, out.FirstPiece = time, unit.Duration(float64(q.Head)*3.6/float64(q.DoughRate))
	if q.TimeLimit != 0 && out.Time > q.TimeLimit {
		out.Conditions |= LongHopperTime
	}
	out.Cautions = reckon.RaisedBowl
	return nil
}

func (q HopperTime) Show(w *reckon.Working, out HopperTimeResult) {
	w.Inputs(q)
	w.Lines(out,
		"hopper time: t = (M + H)/1000{g/kg}/D*3600{s/h} + w  [conservation of mass]",
		"first piece of a batch after its tipping: t_f = H/1000{g/kg}/D*3600{s/h}  [the head is cut first]",
	)
}

// BatchForHopperTime asks for the largest batch that clears the hopper within
// the limit:
//
//	M = D * (t - w) / 3.6 - H
//
// It is the inverse of [HopperTime], with the same validity. Whether the mixer
// can mix that batch is another question.
//
// It is refused if:
//   - wait is given without a head.
//
// Source: conservation of mass; common practice.
//
// The inverse is [HopperTime].
type BatchForHopperTime struct {
	DoughRate unit.MassRate `json:"dough_rate" sym:"D" range:">0 kg/h..200000 t/h"` // dough that the divider uses, see [Rate]
	TimeLimit unit.Duration `json:"time_limit" sym:"t" range:">0 s..24 h"`          // longest time the dough may stand
	Head      unit.Mass     `json:"head,omitzero" sym:"H,0" range:"0 g..10 t"`      // dough that is left in the hopper when the next batch is tipped; leave out if it runs empty
	Wait      unit.Duration `json:"wait,omitzero" sym:"w,0" range:"-"`              // how long the divider stands until the next batch comes, 0 s to 24 h, and above 0 s with a head only
}

// BatchForHopperTimeResult is the largest batch.
type BatchForHopperTimeResult struct {
	Batch    unit.Mass       `json:"batch" sym:"M"` // the largest batch whose last piece is cut within the limit
	Cautions reckon.Cautions `json:"cautions"`      // raised-bowl
}

func (BatchForHopperTime) ID() string { return "batch-for-hopper-time" }

func (q BatchForHopperTime) Check(c *reckon.Checks) { q.check(c) }

func (q *BatchForHopperTime) check(c *reckon.Checks) {
	reckon.CheckAbove(c, "dough_rate", q.DoughRate, maxDough)
	reckon.CheckAbove(c, "time_limit", q.TimeLimit, unit.Hours(24))
	checkHead(c, q.Head, q.Wait)
}

// Solve has no answer if the head alone stands longer than the limit.
func (q BatchForHopperTime) Solve() (out BatchForHopperTimeResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *BatchForHopperTime) SolveInto(out *BatchForHopperTimeResult) error {
	*out = BatchForHopperTimeResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	batch := unit.Mass(float64(q.DoughRate)*float64(q.TimeLimit-q.Wait)/3.6) - q.Head
	if !(batch > 0) {
		return &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "batch", Wanted: "a hopper time of at most " + q.TimeLimit.String(),
			Advice: "the head of " + q.Head.String() + " alone stands longer: run faster, or keep less dough in the hopper",
		}
	}
	out.Batch = batch
	out.Cautions = reckon.RaisedBowl
	return nil
}

func (q BatchForHopperTime) Show(w *reckon.Working, out BatchForHopperTimeResult) {
	w.Inputs(q)
	w.Lines(out, "largest batch: M = D*(t - w)/3600{s/h}*1000{g/kg} - H  [conservation of mass]")
}
