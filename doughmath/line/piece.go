package line

import (
	"math"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// weight: from the baked weight to the dough piece.
func (r *run) weight() {
	p := r.product
	q := doughmath.ScalingWeight{
		Baked: p.Baked, Fermentation: p.Loss.Fermentation,
		Bake: p.Loss.Bake, Cooling: p.Loss.Cooling, Combine: p.Loss.Combine,
	}
	at := func() places { return places{{"baked", "order.product.baked"}, {"", "order.product.loss."}} }
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Piece, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Dough piece")
		q.Show(r.w, r.out.Piece)
	}
}

// label: what the law on weights requires of the mean.
func (r *run) label() {
	p := r.product
	if p.Label == (Label{}) {
		return
	}
	q := divider.TargetWeight{
		Rules: p.Label.Rules, Nominal: p.Baked, SD: p.Label.SD, FirstShare: p.Label.FirstShare, SecondShare: p.Label.SecondShare,
		Drift: p.Label.Drift, Fermentation: p.Loss.Fermentation, Bake: p.Loss.Bake, Cooling: p.Loss.Cooling, Combine: p.Loss.Combine,
	}
	at := func() places {
		return places{
			{"nominal", "order.product.baked"},
			{"fermentation", "order.product.loss.fermentation"},
			{"bake", "order.product.loss.bake"},
			{"cooling", "order.product.loss.cooling"},
			{"combine", "order.product.loss.combine"},
			{"", "order.product.label."},
		}
	}
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Label, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Label")
		q.Show(r.w, r.out.Label)
		o := &r.out.Label
		r.w.Given("lowest mean as sold", "m_t", float64(o.Target), "g", "")
		r.w.Given("dough piece for it", "m_d", float64(o.Dough), "g", "")
		r.w.Given("first limit as sold", "T_1", float64(o.FirstLimit), "g", "")
		r.w.Step("first limit on the dough piece", "D_1", "T_1*m_d/m_t", float64(o.DoughFirst), "g", "by the mean loss")
		r.w.Given("second limit as sold", "T_2", float64(o.SecondLimit), "g", "")
		r.w.Step("second limit on the dough piece", "D_2", "T_2*m_d/m_t", float64(o.DoughSecond), "g", "by the mean loss")
	}
}

// aim: the weight to scale, and how far a piece may be off.
func (r *run) aim() {
	p, o := r.product, r.out
	if !r.ready() {
		return
	}
	o.Target = max(o.Piece.Dough, o.Label.Dough)
	o.PieceLow = o.Target - p.Tolerance
	o.PieceHigh = o.Target + p.Tolerance
	if w := r.w; w != nil {
		w.Heading("Dough piece to scale")
		w.Given("dough piece for the baked weight", "m_b", float64(o.Piece.Dough), "g", "")
		w.Given("dough piece for the label", "m_l", float64(o.Label.Dough), "g", "0 without a label")
		w.Given("tolerance either way", "e", float64(p.Tolerance), "g", "the product's")
		w.Lines(*o,
			"dough piece: m = max(m_b, m_l)  [the heavier of the two]",
			"lightest piece: m_low = m - e",
			"heaviest piece: m_high = m + e",
		)
	}
	if !(o.PieceLow > 0) {
		r.c.Fail("order.product.tolerance", p.Tolerance.String(), "less than the dough piece, "+o.Target.String())
	}
}

// mark: where the handle gives that weight, whether that is enough for the
// label and whether it is within the tolerance.
func (r *run) mark() {
	lanes := r.line.lanes(r.product.Dough, r.product.Across)
	if lanes < 0 {
		r.line.checkTrialled(r.c, r.product.Dough, r.product.Across)
		return
	}
	if !r.ready() {
		return // nothing here that an earlier station or the line does not check
	}
	d, k := &r.line.Divider, &r.fits[lanes].Calibration
	r.out.Trials = r.fits[lanes].Conditions
	q := divider.MarkForWeight{
		Calibration: *k, Weight: r.out.Target,
		Interval: d.Interval, Of: divider.OfMean, MarkLow: d.MarkLow, MarkHigh: d.MarkHigh, MarkStep: d.MarkStep,
	}
	var err error
	if r.out.Mark, err = q.Solve(); !r.settled(err, all("~order.product.")) {
		return
	}
	if r.w != nil {
		r.w.Heading("Mark")
		q.Show(r.w, r.out.Mark)
	}
	if r.out.Mark.Conditions.Has(divider.MarkOutOfRange) {
		r.offTheScale(k)
		return
	}
	r.heavyEnough(k)
}

// offTheScale refuses a piece that the divider cannot scale, and says which it can.
func (r *run) offTheScale(k *divider.Calibration) {
	d := &r.line.Divider
	low, _ := divider.WeightForMark{Calibration: *k, Mark: d.MarkLow, Of: divider.OfMean}.Solve()
	high, _ := divider.WeightForMark{Calibration: *k, Mark: d.MarkHigh, Of: divider.OfMean}.Solve()
	r.c.Nest("", &reckon.NoSolutionError{
		Func: planID, Unknown: "mark on the handle",
		Wanted: "a dough piece of " + r.out.Target.String() + ", " + strconv.Itoa(r.product.Across) + " across",
		Low:    min(low.Weight, high.Weight).String(), High: max(low.Weight, high.Weight).String(),
		Advice: "change the number across, or fit the pockets that the maker offers for this weight",
	})
}

// heavyEnough holds what the mark gives against the label and the tolerance.
// If rounding alone took it below the label, the handle goes one step further.
func (r *run) heavyEnough(k *divider.Calibration) {
	o, p := r.out, r.product
	// What binary arithmetic leaves over is not weight that is missing.
	enough := unit.Mass(float64(o.Label.Dough) * (1 - 1e-9))
	if o.Mark.Expected < enough {
		r.heavier(k)
	}
	if o.Mark.Expected < enough {
		o.Label.Conditions |= divider.BelowLabel
	}
	if step := r.line.Divider.MarkStep; p.Tolerance > 0 && (o.Mark.Expected < o.PieceLow || o.Mark.Expected > o.PieceHigh) && step > 0 {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "mark that the handle can be set to",
			Wanted: "a dough piece of " + o.PieceLow.String() + " to " + o.PieceHigh.String(),
			Advice: "a step of " + strconv.FormatFloat(step, 'g', 6, 64) + " marks weighs " + unit.Mass(math.Abs(float64(o.Mark.PerMark))*step).String() +
				", and the nearest mark gives " + o.Mark.Expected.String() + ": see whether the handle can be set finer, or widen the tolerance",
		})
	}
}

// heavier moves the mark by one step of the handle to more weight, if it reaches so far.
func (r *run) heavier(k *divider.Calibration) {
	d, m := &r.line.Divider, &r.out.Mark
	set := m.Set + math.Copysign(d.MarkStep, float64(m.PerMark))
	if set < d.MarkLow || set > d.MarkHigh {
		return
	}
	q := divider.WeightForMark{Calibration: *k, Mark: set, Of: divider.OfMean}
	at, err := q.Solve()
	if r.settled(err, all("~line.divider.")) && r.w != nil {
		r.w.Heading("Mark, one step heavier for the label")
		q.Show(r.w, at)
	}
	m.Set, m.Expected = set, at.Weight
	m.Conditions = m.Conditions&^divider.MarkOutsideInterval | reckon.Rounded
	if set < m.Low || set > m.High {
		m.Conditions |= divider.MarkOutsideInterval
	}
}

// check: how many pieces to weigh, and between which of their means the handle
// is left alone.
func (r *run) check() {
	p := r.product
	if p.Check == (Check{}) {
		return
	}
	q := divider.PiecesToWeigh{SD: p.Check.SD, HalfWidth: p.Check.HalfWidth, Confidence: p.Check.Confidence}
	at := all("order.product.check.")
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Check, err = q.Solve(); !r.settled(err, at) {
		return
	}
	if r.w != nil {
		r.w.Heading("Check weighing")
		q.Show(r.w, r.out.Check)
	}
	r.leave()
}

// leave: within the margin of the mean of the pieces weighed nothing is known to be off,
// and within half a step of the handle no other mark comes nearer. A mean
// below the lowest that the label allows is never left, nor one out of tolerance.
func (r *run) leave() {
	o, step := r.out, r.line.Divider.MarkStep
	half := unit.Mass(float64(math.Abs(float64(o.Mark.PerMark))*step) / 2)
	off := max(o.Check.HalfWidth, half)
	low := max(o.Target-off, o.Label.Dough)
	high := low + 2*off
	o.LeaveLow, o.LeaveHigh = low, high
	if r.product.Tolerance > 0 {
		o.LeaveLow, o.LeaveHigh = max(low, o.PieceLow), min(high, o.PieceHigh)
	}
	if w := r.w; w != nil {
		w.Given("how well the mean is known", "E", float64(o.Check.HalfWidth), "g", "")
		w.Given("weight of one mark", "b", float64(o.Mark.PerMark), "g", "")
		w.Given("smallest part of a mark", "q", step, "", "0 if the handle moves freely")
		w.Given("lowest mean that the label allows", "m_d", float64(o.Label.Dough), "g", "0 without a label")
		w.Lines(*o,
			"half a step of the handle: H = abs(b)*q/2 in g  [within it no other mark comes nearer]",
			"left alone either way: f = max(E, H) in g",
			"left alone from: a_low = max(m - f, m_d) in g",
			"left alone up to: a_high = a_low + 2*f in g",
		)
		if r.product.Tolerance > 0 {
			w.Lines(*o,
				"leave the handle from: c_low = max(a_low, m_low)  [never out of tolerance]",
				"leave the handle up to: c_high = min(a_high, m_high)  [never out of tolerance]",
			)
		} else {
			w.Lines(*o, "leave the handle from: c_low = a_low", "leave the handle up to: c_high = a_high")
		}
	}
}
