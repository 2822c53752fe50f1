package line

import (
	"errors"
	"math"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// HopperDrift is how a dough gasses in the divider's hopper, and how its weight is
// held meanwhile. A piece fills the chamber: the dough in it lightens by the minute.
type HopperDrift struct {
	Growth      unit.GrowthRate     `json:"growth" range:"0 %/min..100 %/min"`  // growth of the dough's volume in the chamber, from [divider.HopperGrowth], or an estimate
	GrowthBasis divider.GrowthBasis `json:"growth_basis"`                       // "measured" or "estimated"
	DriftLimit  unit.Mass           `json:"drift_limit,omitzero" range:"0 g.."` // weight that may be lost before something is done; leave out to let tolerance and label decide
	Hold        Hold                `json:"hold"`                               // what is done: "moves" of the mark, or a "batch" so small that none is needed
}

// Hold names how the weight is held while a batch gasses.
type Hold string

const (
	// HoldByMoves moves the mark within a batch, and back with the next.
	HoldByMoves Hold = "moves"
	// HoldByBatch makes the batch so small that the mark is left alone.
	HoldByBatch Hold = "batch"
)

// driftAt says where the plan holds what [divider.WeightDrift] asks for.
func driftAt() places {
	return places{
		{"growth", "order.product.hopper_drift.growth"},
		{"growth_basis", "order.product.hopper_drift.growth_basis"},
		{"mark_step", "~line.divider.mark_step"},
		{"", "~order.product."},
	}
}

// driftLimit finds what may be lost of the weight that the mark gives.
func (r *run) driftLimit() {
	p, o := r.product, r.out
	if !r.drifts {
		return
	}
	reckon.CheckEither(r.c, "order.product.hopper_drift.hold", p.Drift.Hold, HoldByMoves, HoldByBatch)
	reckon.CheckNotNegative(r.c, "order.product.hopper_drift.drift_limit", p.Drift.DriftLimit)
	if p.Drift.DriftLimit == 0 && p.Tolerance == 0 && p.Label == (Label{}) {
		r.c.Fail("order.product.hopper_drift.drift_limit", p.Drift.DriftLimit.String(), "more than 0 g where neither a tolerance nor a label says how light a piece may be")
	}
	if !r.ready() {
		r.tell(driftAt, divider.WeightDrift{Growth: p.Drift.Growth, GrowthBasis: p.Drift.GrowthBasis}.Check)
		return
	}
	low, who := o.lowestMean(p)
	o.DriftLimit = o.Mark.Expected - low
	if p.Drift.DriftLimit > 0 {
		o.DriftLimit = min(o.DriftLimit, p.Drift.DriftLimit)
	}
	if w := r.w; w != nil {
		w.Heading("Weight that may be lost in the hopper")
		w.Carried("weight expected at the mark set", "m_s", float64(o.Mark.Expected), "g")
		w.Carried("lightest mean, by the "+who, "m_w", float64(low), "g")
		if p.Drift.DriftLimit > 0 {
			w.Carried("limit asked for", "L_p", float64(p.Drift.DriftLimit), "g")
			w.Lines(*o, "weight that may be lost: L_d = min(m_s - m_w, L_p)")
		} else {
			w.Lines(*o, "weight that may be lost: L_d = m_s - m_w")
		}
	}
	if low > 0 && !(o.DriftLimit > 1e-9*o.Mark.Expected) && p.Drift.Growth > 0 {
		advice := "the mark gives " + o.Mark.Expected.String() + " and the " + who + " allows no less than " + low.String() + ": set the handle finer or widen the tolerance"
		if who == "label" {
			advice = "the mark gives " + o.Mark.Expected.String() + ", the least that the label allows: name in label.drift how far the weight may fall, so that the aim is raised by it"
		}
		r.c.Nest("", &reckon.NoSolutionError{Func: planID, Unknown: "weight that may be lost in the hopper", Wanted: "more than 0 g", Advice: advice})
	}
}

// lowestMean returns the lightest mean that tolerance and label leave, and which of them says so; 0 if neither does.
// The label's own allowance for drift was added to its target, and may be used up.
func (o *PlanResult) lowestMean(p *Product) (low unit.Mass, who string) {
	if p.Tolerance > 0 {
		low, who = o.PieceLow, "tolerance"
	}
	if o.Label.Target > 0 {
		least := o.Label.Dough * (1 - p.Label.Drift/o.Label.Target)
		if least > low {
			low, who = least, "label"
		}
	}
	return low, who
}

// driftBatch: where the batch is to hold the weight, the largest that does, its waste
// included; 0 if any batch does or moves of the mark hold it.
func (r *run) driftBatch(waste float64) unit.Mass {
	p, o := r.product, r.out
	if p.Drift.Growth == 0 || p.Drift.Hold != HoldByBatch {
		return 0
	}
	q := divider.BatchForWeightDrift{
		StartWeight: o.Mark.Expected, DriftLimit: o.DriftLimit, Growth: p.Drift.Growth, GrowthBasis: p.Drift.GrowthBasis, DoughRate: o.Rate.DoughRate,
	}
	held, err := q.Solve()
	var any *reckon.NoSolutionError
	if errors.As(err, &any) {
		return 0 // no batch loses so much within a day
	}
	if !r.settled(err, driftAt) {
		return 0
	}
	r.held = held.Time
	byTime := divider.BatchForHopperTime{TimeLimit: held.Time, DoughRate: o.Rate.DoughRate, Head: r.line.Divider.HopperLeast}
	cut, err := byTime.Solve()
	if !r.settled(err, driftAt) {
		return 0
	}
	if w := r.w; w != nil {
		w.Heading("Batch that holds its weight")
		q.Show(w, held)
		byTime.Show(w, cut)
	}
	gross := unit.Mass(float64(cut.Batch) * waste)
	if gross < o.LargestBatch {
		o.LargestBatch, o.LargestBatchLimit = gross, "weight drift"
	}
	return gross
}

// drift: the weight at the start and the end of a batch, and the moves of the mark that hold it.
func (r *run) drift() {
	p, o := r.product, r.out
	if !r.drifts {
		o.Drift.Moves = nil // of a plan that is repeated, room for those of a product that drifts
		return
	}
	if !r.ready() {
		return
	}
	q := divider.WeightDrift{StartWeight: o.Mark.Expected, Growth: p.Drift.Growth, GrowthBasis: p.Drift.GrowthBasis, Time: o.Hopper.Time}
	if p.Drift.Hold == HoldByMoves && p.Drift.Growth > 0 {
		q.PerMark, q.MarkStep = o.Mark.PerMark, r.line.Divider.MarkStep
		q.DriftLimit = o.DriftLimit
		// A move of whole steps goes above the start by up to half a step.
		if step := math.Abs(float64(q.PerMark)) * q.MarkStep; step > 0 && p.Tolerance > 0 {
			above := float64(max(1, math.Round(float64(o.DriftLimit)/step))*step) - float64(o.DriftLimit)
			if float64(o.Mark.Expected)+above > float64(o.PieceHigh)*(1+1e-12) {
				r.stepTooCoarse(unit.Mass(step))
				return
			}
		}
	}
	var err error
	if o.Drift, err = q.Append(o.Drift.Moves[:0]); !r.settled(err, driftAt) {
		return
	}
	if len(o.Drift.Moves) == 0 {
		o.Drift.Moves = nil
	}
	if lost := -o.Drift.Drift; p.Drift.Hold == HoldByBatch && lost > o.DriftLimit*(1+1e-9) {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "batch that holds its weight", Wanted: "a loss of at most " + o.DriftLimit.String() + " in the hopper",
			Advice: "the divider waits for the mixer while the head of dough stands, and " + lost.String() + ` are lost: hold the weight by "moves", keep less dough in the hopper, or mix more often`,
		})
		return
	}
	if w := r.w; w != nil {
		w.Heading("Weight in the hopper")
		q.Show(w, o.Drift)
	}
}

// stepTooCoarse refuses moves that the handle cannot make within the tolerance.
func (r *run) stepTooCoarse(step unit.Mass) {
	r.c.Nest("", &reckon.NoSolutionError{
		Func: planID, Unknown: "move of the mark", Wanted: "a weight that stays within the tolerance while the batch gasses",
		Advice: "one step of the handle weighs " + step.String() + `: hold the weight by the "batch" instead, set the handle finer or widen the tolerance`,
	})
}
