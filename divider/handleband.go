package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// NeedlessMoves is the chance of a needless move that a check is made for where
// none is named: of a divider that runs as set one check in twenty-five may order
// one, so that over a day fewer than one in twenty do.
//
// Reason: each needless move costs a weighing, and adds its own error to the
// weight; much less makes the check blind to a real shift. Source: chosen under mostNeedless.
const NeedlessMoves unit.Percent = 4

// mostNeedless is the largest chance of a needless move that a check may be made for.
//
// Source: common practice (95 % confidence).
const mostNeedless unit.Percent = 5

// foundShare is the share of checks that find a shift of the size which an answer names.
//
// Source: common practice (nine times in ten).
const foundShare unit.Percent = 90

// HandleBand asks between which means of a check the handle is left alone:
//
//	e = s / sqrt(n),  m = z * e, z at 1 - A / 2
//	H = |b| * D / 2,  h = max(H, L)
//	T_a = T, and with a label max(T, Y + m + h)
//	c = E, but not farther than h from T_a
//	a_low  = min(c - m, T_a - h)
//	a_high = max(c + m, T_a + h)
//	p = the normal share below a_low and above a_high, about E with standard error e
//	d_up = a_high - E + z_9*e,  d_down = E - a_low + z_9*e, z_9 at 90 %
//	o = E - T,  O = o * N
//
// A check is a reason to move the handle only if it shows that the divider has
// changed and if another mark comes nearer. So the handle stays if the mean lies
// within the scatter of the check's own mean about what the set mark gives, or
// within half a step of the handle of the weight aimed at. The first of these
// intervals holds c, which lies in the second: the two overlap, and the band is
// one interval. Within it no check that [NextMark] judges by the same figures moves the handle.
//
// While the set mark is the nearest, c is E and the band is centred on what the mark gives.
// If E lies more than h from the aim another mark comes nearer (nearer), and that
// nothing has changed is no reason to stay there: E then counts as far as the half step goes.
//
// With the mean as expected a check orders a move with the chance p, at most A
// while no mark lies nearer. It orders one nine times in ten once the mean has
// shifted by d_up or d_down. The offset o costs o*N of dough in an order of N pieces.
//
// A label does not narrow the band, it raises the aim: no mark that gives less
// than Y + m is the nearest to it, so that a mean which a check just leaves alone is still legal.
//
// It holds for pieces that scatter independently, with a standard deviation that
// is known; one from few pieces requires more than z.
//
// Source: a two-sided test of the mean at known scatter and its power, as in NIST/SEMATECH
// e-Handbook of Statistical Methods, section 7.2.2.2; do not adjust for noise: W. E. Deming's funnel, recalled.
type HandleBand struct {
	Expected    unit.Mass    `json:"expected" sym:"E" range:">0 g..1000 t"`                // mean that the set mark gives, by the calibration or by the last answer of [NextMark]
	Target      unit.Mass    `json:"target" sym:"T" range:">0 g..1000 t"`                  // mean weight wanted
	PerMark     unit.Mass    `json:"per_mark" sym:"b" range:"-1000 t..1000 t"`             // weight of one mark; below 0 if a higher mark weighs less
	MarkStep    float64      `json:"mark_step,omitzero" sym:"D,0" range:"1e-6..1e9"`       // smallest part of a mark that the handle can be set to; leave out if it moves freely
	MoveLimit   unit.Mass    `json:"move_limit,omitzero" sym:"L,0" range:"0 g..1000 t"`    // how far the mean may lie from the target before it matters, where that is more than half a step
	SD          unit.Mass    `json:"sd" sym:"s" range:"0.001 mg..100 kg"`                  // standard deviation of single pieces
	Pieces      int          `json:"pieces" sym:"n" range:"1..100000"`                     // pieces weighed in the check
	Needless    unit.Percent `json:"needless" sym:"A" range:"0.01 %..5 %"`                 // chance of a needless move that is accepted; the plan takes 4 %
	Label       unit.Mass    `json:"label,omitzero" sym:"Y,0" range:"0 g..1000 t"`         // lowest mean that a label allows, as [TargetWeight] gives it for the dough piece; leave out for none
	OrderPieces int          `json:"order_pieces,omitzero" sym:"N,0" range:"0..100000000"` // pieces of the order; leave out for no sum of dough
}

// HandleBandResult is the band, and what it does.
type HandleBandResult struct {
	Low    unit.Mass `json:"low" sym:"a_low"`   // lowest mean of a check at which the handle is left alone
	High   unit.Mass `json:"high" sym:"a_high"` // highest
	Advice string    `json:"advice"`            // what to tell the person at the handle

	Aim            unit.Mass    `json:"aim" sym:"T_a"`           // mean to set the handle for: the target, raised where the label requires it
	Noise          unit.Mass    `json:"noise" sym:"m"`           // how far the mean of the check varies by chance, either way
	HalfStep       unit.Mass    `json:"half_step" sym:"H"`       // weight of half a step of the handle; 0 g if it moves freely
	NeedlessChance unit.Percent `json:"needless_chance" sym:"p"` // chance that a check orders a move though the mean is as expected
	ShiftUp        unit.Mass    `json:"shift_up" sym:"d_up"`     // how much heavier the mean must become to be found nine times in ten
	ShiftDown      unit.Mass    `json:"shift_down" sym:"d_down"` // how much lighter, likewise
	Nearer         bool         `json:"nearer"`                  // true if another mark comes nearer the aim than the one set
	Offset         unit.Mass    `json:"offset" sym:"o"`          // mean expected, less target
	OffsetDough    unit.Mass    `json:"offset_dough" sym:"O"`    // dough that the offset costs over the order; below 0 if the pieces are light

	Cautions reckon.Cautions `json:"cautions"` // moving-belt; moving-machinery, if another mark is to be set
}

func (HandleBand) ID() string { return "handle-band" }

func (q HandleBand) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "expected", q.Expected, maxWeight)
	reckon.CheckAbove(c, "target", q.Target, maxWeight)
	reckon.CheckRange(c, "per_mark", q.PerMark, -maxWeight, maxWeight)
	checkMarkStep(c, q.MarkStep)
	reckon.CheckRange(c, "move_limit", q.MoveLimit, 0, maxWeight)
	checkSD(c, "sd", q.SD)
	reckon.CheckCount(c, "pieces", q.Pieces, 1, 100_000)
	checkNeedless(c, q.Needless)
	reckon.CheckRange(c, "label", q.Label, 0, maxWeight)
	reckon.CheckCount(c, "order_pieces", q.OrderPieces, 0, 100_000_000)
}

// checkNeedless requires a chance of a needless move that a check can be made for.
func checkNeedless(c *reckon.Checks, needless unit.Percent) {
	reckon.CheckRange(c, "needless", needless, 0.01, mostNeedless)
}

func (q HandleBand) Solve() (out HandleBandResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	e := float64(q.SD) / math.Sqrt(float64(q.Pieces))
	b := bandAbout(float64(q.Expected), float64(q.Target), math.Abs(float64(q.PerMark))*q.MarkStep/2, needlessQuantile(q.Needless)*e, q.MoveLimit, q.Label)
	found := float64(normalQuantile(float64(foundShare)/100) * e)
	expected := float64(q.Expected)
	out = HandleBandResult{
		Low: unit.Mass(b.low), High: unit.Mass(b.high), Aim: unit.Mass(b.aim), Noise: unit.Mass(b.noise), HalfStep: unit.Mass(b.halfStep),
		NeedlessChance: unit.Percent(100 * (normalBelow((b.low-expected)/e) + normalBelow((expected-b.high)/e))),
		ShiftUp:        unit.Mass(b.high - expected + found), ShiftDown: unit.Mass(expected - b.low + found),
		Nearer: b.nearer, Offset: q.Expected - q.Target,
		OffsetDough: unit.Mass(float64(q.Expected-q.Target) * float64(q.OrderPieces)),
		Advice:      leaveAlone,
		Cautions:    reckon.MovingBelt,
	}
	switch {
	case b.nearer:
		out.Advice, out.Cautions = nearerMark, out.Cautions|reckon.MovingMachinery
	case q.MarkStep != 0:
		out.Advice = asNear
	}
	return out, nil
}

// The sentences that go with a band.
const (
	leaveAlone = "Leave the handle alone while the mean of a check lies in the band."
	asNear     = "Leave the handle alone while the mean of a check lies in the band: this is as near as the handle comes."
	nearerMark = "Another mark comes nearer the aim than the one set: set that one first, and weigh."
)

func (q HandleBand) Show(w *reckon.Working, out HandleBandResult) {
	w.Inputs(q)
	w.Lines(out, "standard error of the check's mean: e = s/sqrt(n) in g")
	w.Given("normal quantile of the chance", "z", needlessQuantile(q.Needless), "", "at 1 - A/200")
	w.Lines(out, "noise of the check's mean: m = z*e", "half a step of the handle: H = abs(b)*D/2", nearEnough)
	showAim(w, out, q.Label)
	showBand(w, out)
	w.Lines(out,
		"mean expected less target: o = E - T",
		"dough that it costs over the order: O = o*N",
		"chance of a move with the mean as expected: p = 100*(normal((a_low - E)/e) + normal((E - a_high)/e))  [normal shares below a_low and above a_high]",
	)
	w.Given("normal quantile of nine in ten", "z_9", normalQuantile(float64(foundShare)/100), "", "standard normal, at 0.9")
	w.Lines(out,
		"shift to heavier that is found: d_up = a_high - E + z_9*e",
		"shift to lighter that is found: d_down = E - a_low + z_9*e",
	)
}

// showBand shows the band of a handle set to a mark; the next mark has it from a weight of its own.
func showBand(w *reckon.Working, out any) {
	w.Lines(out,
		"mean expected, as far as a half step goes: c = min(max(E, T_a - h), T_a + h) in g",
		"leave the handle from: a_low = min(c - m, T_a - h)",
		"leave the handle up to: a_high = max(c + m, T_a + h)",
	)
}

// The lines that a band and a next mark share.
const nearEnough = "near enough to the aim: h = max(H, L) in g  [within it no other mark comes nearer]"

func showAim(w *reckon.Working, out any, label unit.Mass) {
	if label != 0 {
		w.Lines(out, "mean aimed at: T_a = max(T, Y + m + h) in g  [a shift that a check leaves alone stays legal]")
	} else {
		w.Lines(out, "mean aimed at: T_a = T in g")
	}
}

// needlessQuantile returns how many standard errors a mean may lie off before
// it is taken for a change.
func needlessQuantile(needless unit.Percent) float64 {
	return normalQuantile(1 - float64(needless)/200)
}

// band is the one decision on the handle: the means at which it is left alone.
type band struct {
	aim      float64 // mean to set the handle for
	centre   float64 // mean expected, as far as it is no reason to move by itself
	noise    float64 // of the check's mean
	halfStep float64 // of the handle
	near     float64 // from the aim, within which nothing is gained by a move
	nearer   bool    // another mark is expected nearer the aim
	low      float64
	high     float64
}

// bandAbout returns the band, all in g.
func bandAbout(expected, target, halfStep, noise float64, limit, label unit.Mass) band {
	b := band{aim: target, noise: noise, halfStep: halfStep, near: max(halfStep, float64(limit))}
	if label > 0 {
		b.aim = max(target, float64(label)+noise+b.near)
	}
	b.centre = min(max(expected, b.aim-b.near), b.aim+b.near)
	// A mark midway between two, but for the last digits, is as near as the other.
	b.nearer = math.Abs(expected-b.aim) > b.near+float64(1e-9*b.aim)
	b.low, b.high = min(b.centre-noise, b.aim-b.near), max(b.centre+noise, b.aim+b.near)
	return b
}

// leaves reports whether the handle is left alone at a mean.
func (b *band) leaves(mean float64) bool { return mean >= b.low && mean <= b.high }
