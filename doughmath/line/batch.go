package line

import (
	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
)

// batches: the largest batch that everything allows, and the batches.
func (r *run) batches() {
	p, s := r.product, r.shift
	byTime := divider.BatchForHopperTime{TimeLimit: p.HopperMax, DoughRate: r.out.Rate.DoughRate}
	at := func() places { return places{{"time_limit", "order.product.hopper_max"}, {"", "~order.product."}} }
	plan := doughmath.BatchPlan{
		Pieces: r.order.Pieces, PieceWeight: r.out.Target, Spare: r.order.Spare,
		Waste: s.Waste, WasteBasis: s.WasteBasis,
	}
	planAt := func() places {
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
	if !r.ready() {
		r.tell(at, byTime.Check)
		r.tell(planAt, plan.Check)
		return
	}
	if !r.largest() {
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
	if r.out.Batch, err = plan.Solve(); !r.settled(err, planAt) {
		return
	}
	if r.pace(); !r.ready() {
		return
	}
	hopper := divider.HopperTime{Batch: r.out.Batch.BatchDough, DoughRate: r.out.Rate.DoughRate, TimeLimit: p.HopperMax}
	if r.out.Hopper, err = hopper.Solve(); r.settled(err, all("~order.product.")) && r.w != nil {
		r.w.Heading("Batches")
		plan.Show(r.w, r.out.Batch)
		r.w.Heading("Time in the hopper")
		hopper.Show(r.w, r.out.Hopper)
	}
}

// largest: the largest batch at the speed set. It reports whether there is one.
func (r *run) largest() bool {
	p, s, o := r.product, r.shift, r.out
	byTime := divider.BatchForHopperTime{TimeLimit: p.HopperMax, DoughRate: o.Rate.DoughRate}
	inTime, err := byTime.Solve()
	if !r.settled(err, func() places { return places{{"time_limit", "order.product.hopper_max"}, {"", "~order.product."}} }) {
		return false
	}
	o.LargestBatch, o.LargestBatchLimit = s.Mixer.High, "mixer"
	if r.line.Divider.HopperCapacity < o.LargestBatch {
		o.LargestBatch, o.LargestBatchLimit = r.line.Divider.HopperCapacity, "hopper"
	}
	if inTime.Batch < o.LargestBatch {
		o.LargestBatch, o.LargestBatchLimit = inTime.Batch, "hopper time"
	}
	if w := r.w; w != nil {
		w.Heading("Largest batch")
		byTime.Show(w, inTime)
		w.Given("most that the mixer takes", "M_m", float64(s.Mixer.High), "g", "")
		w.Given("most that the hopper takes", "M_h", float64(r.line.Divider.HopperCapacity), "g", "")
		w.Given("most within the hopper time", "M_t", float64(inTime.Batch), "g", "")
		w.Lines(*o, "largest batch: M = min(M_m, M_h, M_t)")
	}
	return true
}
