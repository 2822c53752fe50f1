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
	var q doughmath.ScalingWeight
	q.Baked, q.Fermentation, q.Bake = p.Baked, p.Loss.Fermentation, p.Loss.Bake
	q.Cooling, q.Combine = p.Loss.Cooling, p.Loss.Combine
	at := func() places { return places{{"baked", "order.product.baked"}, {"", "order.product.loss."}} }
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	if err := q.SolveInto(&r.out.Piece); r.settled(err, at) && r.w != nil {
		r.w.Heading("Dough piece")
		q.Show(r.w, r.out.Piece)
	}
}

// label: what the law on weights requires of the mean. A shift that a check
// leaves alone has to be legal too, on top of what the mean drifts from there to the next check.
func (r *run) label() {
	p := r.product
	if p.Label == (Label{}) {
		return
	}
	q := divider.TargetWeight{
		Rules: p.Label.Rules, Nominal: p.Baked, SD: p.Label.SD, FirstShare: p.Label.FirstShare, SecondShare: p.Label.SecondShare,
		Drift: p.Label.Drift + r.unseen(), Fermentation: p.Loss.Fermentation, Bake: p.Loss.Bake, Cooling: p.Loss.Cooling, Combine: p.Loss.Combine,
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
		r.showUnseen(q.Drift)
		q.Show(r.w, r.out.Label)
		o := &r.out.Label
		r.w.Carried("lowest mean as sold", "m_t", float64(o.Target), "g")
		r.w.Carried("dough piece for it", "m_d", float64(o.Dough), "g")
		r.w.Carried("first limit as sold", "T_1", float64(o.FirstLimit), "g")
		r.w.Step("first limit on the dough piece", "D_1", "T_1*m_d/m_t", float64(o.DoughFirst), "g", "by the mean loss")
		r.w.Carried("second limit as sold", "T_2", float64(o.SecondLimit), "g")
		r.w.Step("second limit on the dough piece", "D_2", "T_2*m_d/m_t", float64(o.DoughSecond), "g", "by the mean loss")
	}
}

// showUnseen shows how far the mean may drift, what a check does not see of it included.
func (r *run) showUnseen(drift unit.Mass) {
	w, p, noise := r.w, r.product, r.noise()
	if noise == 0 {
		return
	}
	w.Carried("standard deviation of single pieces", "s", float64(p.Check.SD), "g")
	w.Carried("pieces to weigh", "n", float64(r.out.Check.Pieces), "")
	r.showNeedless()
	// Of one piece that scatters by 1 g the noise is the quantile itself.
	one, _ := divider.HandleBand{Expected: 1, Target: 1, SD: 1, Pieces: 1, Needless: divider.NeedlessMoves}.Solve()
	w.Given("normal quantile of the chance", "z", float64(one.Noise), "", "at 1 - A/200")
	w.Step("noise of the check's mean", "m", "z*(s/sqrt(n))", float64(noise), "g", "a shift that a check leaves alone")
	w.Carried("baked weight", "B", float64(p.Baked), "g")
	w.Carried("dough piece", "D", float64(r.out.Piece.Dough), "g")
	w.Carried("drift between checks", "d_c", float64(p.Label.Drift), "g")
	w.Step("drift, with the noise of the check as sold", "d", "d_c + m*B/D", float64(drift), "g", "")
}

// showNeedless shows the chance of a needless move that every plan takes.
func (r *run) showNeedless() {
	r.w.Lines(nil, "needless: A = "+strconv.FormatFloat(float64(divider.NeedlessMoves), 'g', -1, 64)+" in %  [chance of a needless move that the plan accepts]")
}

// unseen is the shift of the mean as sold that a check leaves alone.
func (r *run) unseen() unit.Mass {
	if !r.ready() {
		return 0
	}
	return r.noise() * r.product.Baked / r.out.Piece.Dough
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
		w.Carried("dough piece for the baked weight", "m_b", float64(o.Piece.Dough), "g")
		if o.Label.Dough != 0 {
			w.Carried("dough piece for the label", "m_l", float64(o.Label.Dough), "g")
		} else {
			w.Lines(nil, "dough piece for the label: m_l = 0 in g  [no label]")
		}
		w.Carried("tolerance either way", "e", float64(p.Tolerance), "g")
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
	var q divider.MarkForWeight
	q.Calibration, q.Weight = *k, r.out.Target
	q.Interval, q.Of = d.Interval, divider.OfMean
	q.MarkLow, q.MarkHigh, q.MarkStep = d.MarkLow, d.MarkHigh, d.MarkStep
	q.Tolerance = r.product.Tolerance
	var err error
	if err = q.SolveInto(&r.out.Mark); !r.settled(err, all("~order.product.")) {
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
	m.Conditions &^= divider.MarkOutsideInterval
	if set < m.Low || set > m.High {
		m.Conditions |= divider.MarkOutsideInterval
	}
}

// check: how many pieces to weigh, no more than the handle and the scale can use.
func (r *run) check() {
	p := r.product
	if p.Check == (Check{}) {
		return
	}
	q := divider.PiecesToWeigh{SD: p.Check.SD, HalfWidth: p.Check.HalfWidth, Confidence: p.Check.Confidence, Division: p.Check.Division, Group: p.Check.Group}
	if lanes := r.line.lanes(p.Dough, p.Across); lanes >= 0 && r.ready() {
		q.HalfStep = unit.Mass(math.Abs(float64(r.fits[lanes].Calibration.Slope)) * r.line.Divider.MarkStep / 2)
	}
	at := all("order.product.check.")
	if !r.ready() {
		r.tell(at, q.Check)
		return
	}
	var err error
	if r.out.Check, err = q.Solve(); r.settled(err, at) && r.w != nil {
		r.w.Heading("Check weighing")
		if q.HalfStep > 0 {
			r.w.Carried("weight of one mark, at the mean mark", "b", float64(r.fits[r.line.lanes(p.Dough, p.Across)].Calibration.Slope), "g")
			r.w.Carried("step of the handle", "D", r.line.Divider.MarkStep, "")
			r.w.Step("half a step of the handle", "H", "abs(b)*D/2", float64(q.HalfStep), "g", "")
		}
		q.Show(r.w, r.out.Check)
	}
}

// noise is how far the mean of a check may lie off by chance before the handle is moved.
func (r *run) noise() unit.Mass {
	if r.out.Check.Pieces == 0 {
		return 0
	}
	band := divider.HandleBand{Expected: 1, Target: 1, SD: r.product.Check.SD, Pieces: r.out.Check.Pieces, Needless: divider.NeedlessMoves}
	out, _ := band.Solve() // its figures were checked
	return out.Noise
}

// leave: between which means of a check the handle is left alone, by the same
// rule as the advice after a check.
func (r *run) leave() {
	o, p := r.out, r.product
	if o.Check.Pieces == 0 || !r.ready() {
		return
	}
	d := &r.line.Divider
	set, err := divider.WeightForMark{Calibration: r.fits[r.line.lanes(p.Dough, p.Across)].Calibration, Mark: o.Mark.Set, Of: divider.OfMean}.Solve()
	if !r.settled(err, all("~line.divider.")) {
		return
	}
	q := divider.HandleBand{
		Expected: o.Mark.Expected, Target: o.Target, PerMark: set.PerMark, MarkStep: d.MarkStep,
		SD: p.Check.SD, Pieces: o.Check.Pieces, Needless: divider.NeedlessMoves, OrderPieces: r.order.Pieces + r.order.Spare,
	}
	if o.Label.Dough > 0 {
		q.Label = o.Label.Dough - r.noise()
	}
	if o.Band, err = q.Solve(); !r.settled(err, all("~order.product.check.")) {
		return
	}
	if w := r.w; w != nil {
		w.Heading("Check weighing, the handle left alone")
		w.Carried("pieces to deliver", "N_d", float64(r.order.Pieces), "")
		w.Carried("spare pieces", "N_s", float64(r.order.Spare), "")
		r.showNeedless()
		w.Step("pieces of the order", "N", "N_d + N_s", float64(q.OrderPieces), "", "")
		if o.Label.Dough > 0 {
			w.Carried("dough piece for the label", "m_l", float64(o.Label.Dough), "g")
			w.Carried("noise of the check's mean", "m", float64(r.noise()), "g")
			w.Step("lowest mean for the label, the noise aside", "Y", "m_l - m", float64(q.Label), "g", "")
		}
		q.Show(w, o.Band)
	}
	if p.Tolerance > 0 && (o.Band.Low < o.PieceLow || o.Band.High > o.PieceHigh) {
		o.Check.Conditions |= divider.WideInterval
	}
}
