package line

import (
	"math"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// batches: the largest batch that everything allows, and the batches.
//
// Waste is dough that is lost before the divider's chamber: it is mixed and tipped, but
// takes no strokes and so no time in the hopper either.
func (r *run) batches() {
	s := r.shift
	plan, planAt := r.batchPlan()
	if !r.ready() {
		byTime, at := r.byHopperTime()
		r.tell(at, byTime.Check)
		r.tell(planAt, plan.Check)
		r.driftLimit()
		return
	}
	if r.driftLimit(); !r.ready() || !r.largest() {
		return
	}
	least := s.Mixer.Low
	if least > r.out.LargestBatch {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "batch", Wanted: "at least the " + least.String() + " that the mixer mixes well",
			High: r.out.LargestBatch.String(), Advice: "the " + r.out.LargestBatchLimit + " allows no more; take a smaller mixer or allow more time in the hopper",
		})
		return
	}
	plan.MixerHigh, plan.MixerLow = r.out.LargestBatch, least
	var err error
	if err = plan.SolveInto(&r.out.Batch); !r.settled(err, planAt) {
		return
	}
	if r.w != nil {
		r.w.Heading("Batches")
		plan.Show(r.w, r.out.Batch)
	}
	r.fewest, r.top = r.out.batched(), r.out.Strokes
	if r.order.Aim.named() || r.bare {
		r.slides()
	}
	if r.order.Aim.named() {
		r.aimed()
	} else {
		r.pace()
	}
	if !r.ready() {
		return
	}
	r.hopper()
	r.drift()
}

// batchPlan asks for the batches, and says where the plan holds what that takes.
func (r *run) batchPlan() (plan doughmath.BatchPlan, at func() places) {
	s := r.shift
	plan.Pieces, plan.PieceWeight, plan.Spare = r.order.Pieces, r.out.Target, r.order.Spare
	plan.Waste, plan.WasteBasis = s.Waste, s.WasteBasis
	return plan, func() places {
		return places{
			{"pieces", "order.pieces"},
			{"spare", "order.spare"},
			{"waste", "shift.waste"},
			{"waste_basis", "shift.waste_basis"},
			{"mixer_low", "~shift.mixer.low"},
			{"mixer_high", "~shift.mixer.high"},
			{"", "~order.product."},
		}
	}
}

// hopper: how long the dough of a batch stands until it is cut, the head of dough that
// is left in the hopper ahead of it.
func (r *run) hopper() {
	o, d := r.out, &r.line.Divider
	cut := unit.Mass(float64(o.Batch.PiecesPerBatch) * float64(o.Target))
	var q divider.HopperTime
	q.Batch, q.DoughRate, q.TimeLimit = cut, o.Rate.DoughRate, r.product.HopperMax
	r.batchTimes()
	if o.Batch.Batches > 1 && d.HopperLeast > 0 {
		q.Head, q.Wait = d.HopperLeast, o.Times.BatchWait
	}
	if w := r.w; w != nil {
		w.Heading("Time in the hopper")
		w.Carried("pieces per batch", "n_b", float64(o.Batch.PiecesPerBatch), "")
		w.Carried("dough piece", "m", float64(o.Target), "g")
		w.Step("dough of a batch that is cut", "M_c", "n_b*m", float64(cut), "g", "waste is lost before the divider and takes no strokes")
	}
	var err error
	if err = q.SolveInto(&o.Hopper); !r.settled(err, all("~line.divider.")) {
		return
	}
	if d.HopperLeast > 0 {
		o.LightPieces = int(math.Ceil(float64(d.HopperLeast) / float64(o.Target) * (1 - 1e-9)))
		o.Hopper.Conditions |= divider.LightRunOut
	}
	if w := r.w; w != nil {
		q.Show(w, o.Hopper)
		w.Carried("least in the hopper", "H_d", float64(d.HopperLeast), "g")
		w.Lines(*o, "pieces that scale light as the hopper runs out: n_l = ceil(H_d/m)")
	}
}

// batchTimes: from batch to batch, and how long the divider waits between them.
func (r *run) batchTimes() {
	t := &r.out.Times
	t.BatchScaling, t.BatchWait, _ = r.wait(r.out.batched(), r.out.Strokes, 0)
	t.BatchInterval = t.BatchScaling
	if t.BatchWait > 0 {
		t.BatchInterval = r.shift.Mixer.Cycle
	}
	if t.BatchWait > 0 && r.out.Batch.Batches > 1 {
		r.out.Conditions |= reckon.RateLimited
	}
}

// byHopperTime asks how much dough is cut while it may stand, and says where the plan holds that.
func (r *run) byHopperTime() (divider.BatchForHopperTime, func() places) {
	q := divider.BatchForHopperTime{TimeLimit: r.product.HopperMax, DoughRate: r.out.Rate.DoughRate, Head: r.line.Divider.HopperLeast}
	return q, func() places {
		return places{{"time_limit", "order.product.hopper_max"}, {"head", "line.divider.hopper_least"}, {"", "~order.product."}}
	}
}

// largest: the largest batch at the speed set. It reports whether there is one.
func (r *run) largest() bool {
	s, d, o := r.shift, &r.line.Divider, r.out
	byTime, at := r.byHopperTime()
	inTime, err := byTime.Solve()
	if !r.settled(err, at) {
		return false
	}
	// What the divider cuts in a time, with the waste that was lost before.
	waste := s.WasteBasis.Factor(s.Waste)
	byHopper, gross := d.HopperCapacity-d.HopperLeast, unit.Mass(float64(inTime.Batch)*waste)
	o.LargestBatch, o.LargestBatchLimit = s.Mixer.High, "mixer"
	if byHopper < o.LargestBatch {
		o.LargestBatch, o.LargestBatchLimit = byHopper, "hopper"
	}
	if gross < o.LargestBatch {
		o.LargestBatch, o.LargestBatchLimit = gross, "hopper time"
	}
	if w := r.w; w != nil {
		w.Heading("Largest batch")
		byTime.Show(w, inTime)
		w.Carried("most that the mixer takes", "M_m", float64(s.Mixer.High), "g")
		w.Carried("most that the hopper holds", "M_c", float64(d.HopperCapacity), "g")
		w.Carried("least in the hopper", "H_d", float64(d.HopperLeast), "g")
		w.Carried("cut within the hopper time", "M_t", float64(inTime.Batch), "g")
		w.Carried("waste", "w", float64(s.Waste), "%")
		mixed := "1 + w/100"
		if s.WasteBasis == doughmath.WasteOnDough {
			mixed = "1/(1 - w/100)"
		}
		w.Lines(nil, "dough mixed for one of dough cut: k_w = "+mixed+"  [waste takes no strokes]", "most on top of the least: M_h = M_c - H_d in g")
	}
	mostDrifted := r.driftBatch(waste)
	if !r.ready() {
		return false
	}
	if w := r.w; w != nil {
		if mostDrifted > 0 {
			w.Carried("batch that holds its weight", "M_g", float64(mostDrifted), "g")
			w.Lines(*o, "largest batch: M = min(M_m, M_h, M_t*k_w, M_g)")
		} else {
			w.Lines(*o, "largest batch: M = min(M_m, M_h, M_t*k_w)")
		}
	}
	return true
}
