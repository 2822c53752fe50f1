package divider

import (
	"math"
	"strconv"
	"unicode/utf8"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Action is what to do after a check.
type Action string

const (
	// Move says that the handle is to be moved, and that a weighing follows.
	Move Action = "move"
	// Stay says that the handle is left where it is.
	Stay Action = "stay"
	// OffScale says that the scale of the handle ends before the mark that is needed.
	OffScale Action = "off-scale"
	// Between says that the mean is off and no mark that the handle can be set to comes nearer.
	Between Action = "between-marks"
	// Weigh says that more pieces are to be weighed before anything is decided.
	Weigh Action = "weigh-more"
)

// advice returns what to tell the person at the handle.
func (a Action) advice() string {
	switch a {
	case Move:
		return "Move the handle to the mark, let the dough already in the chambers clear, and weigh again: every change of the mark is followed by a weighing."
	case Stay:
		return "Leave the handle alone and go on with the usual checks."
	case OffScale:
		return "The handle does not reach so far: look at the dough, its gas and the chambers before you weigh again."
	case Between:
		return "Leave the handle alone: the mean is off, but no mark that the handle can be set to brings it nearer, so this is as near as the handle comes."
	case Weigh:
		return "Leave the handle alone; weigh so many more pieces of the same setting, and ask again with the mean of all."
	}
	return ""
}

// NextMark asks, after a check, whether to move the handle, and where to:
//
//	off   = y - T
//	noise = t * s_p / sqrt(n), or z * s_1 / sqrt(n), z at 1 - A / 2
//	H     = |b_u| * D / 2, h = max(H, L)    b_u = b + d*(2*u - k)
//	E_s   = E, or y(u)    T_a = T, and with a label max(T, Y + noise + h)
//	c     = E_s, but not farther than h from T_a
//	stay from c_low = min(c - noise, T_a - h) to c_high = max(c + noise, T_a + h), else move
//	shift = y - y(u)    u = x - x_m, y(u) = y_m + b*u + d*q(u), q(u) = u^2 - k*u - S_xx/W
//	T_a   = y(v) + shift, solved for v    x_t = x_m + v
//	b_t   = b + d*(2*v - k)
//	h_x   = t * sqrt(noise^2/t^2 + s^2*((v - u)^2/S_xx + (q(v) - q(u))^2/S_qq)) / |b_t|
//	x_l   = x_t - h_x    x_h = x_t + h_x
//	x_set = round(x_t/D) * D
//	m     = x_set - x    y_set = y(x_set - x_m) + shift
//	N     = max(3, ceil((noise/h)^2 * n)), M = N - n
//	t     = Student's t, two-sided at C, for f degrees of freedom
//
// A straight line has d = 0. Today's check shifts the curve, its slope is kept:
// dough differs from day to day, the linkage does not. The handle moves if the
// check shows that the divider has changed and another mark comes nearer: this is
// the band of [HandleBand], and for the same figures no mean is judged otherwise.
// A mean that looks off by more than half a step without showing it asks for more
// pieces; meanwhile the handle is left alone, because a move made for noise
// adds to the noise; asking again is another check, with a chance of its own. Every change of the mark is followed by a weighing.
//
// It is about pieces that are whole: [WeighingVerdict] comes first, since a double
// or a torn piece in the mean is not the mark.
//
// It holds while the pieces scatter as in the trials, or by sd, and the mark is near those of the trials.
//
// It is refused if:
//   - the calibration is not one that [MarkFit] makes, or across is given and is not that of the calibration,
//   - one of sd and needless is given without the other,
//   - way_up or way_down is longer than 60 characters.
//
// Source: common practice (every change is followed by a weighing); a shift with the slope kept is
// the one-point recalibration of a line; do not adjust for noise: W. E. Deming's funnel, recalled.
//
// Without a check, [MarkForWeight] sets the mark.
type NextMark struct {
	Calibration Calibration  `json:"calibration"`                                       // from [MarkFit], of the same pieces across; today's dough may weigh more or less
	Across      int          `json:"across,omitzero" range:"-"`                         // pieces across now, 1 to 32, and that of the calibration if it has one; leave out if it does not matter
	Mark        float64      `json:"mark" sym:"x" range:"-"`                            // where the handle stands; mark_low to mark_high
	Weight      unit.Mass    `json:"weight" sym:"y" range:">0 g..1000 t"`               // mean of the pieces weighed
	Pieces      int          `json:"pieces" sym:"n" range:"1..100000"`                  // how many pieces were weighed
	Target      unit.Mass    `json:"target" sym:"T" range:">0 g..1000 t"`               // mean weight wanted
	Expected    unit.Mass    `json:"expected,omitzero" sym:"E" range:"0 g..1000 t"`     // mean that the set mark gives: after a move, the expected of the answer that ordered it; left out, what the calibration gives there
	MoveLimit   unit.Mass    `json:"move_limit,omitzero" sym:"L,0" range:"0 g..1000 t"` // how far the mean may lie from the target before it matters, where that is more than half a step
	MarkStep    float64      `json:"mark_step,omitzero" sym:"D,0" range:"1e-6..1e9"`    // smallest part of a mark that the handle can be set to; leave out if it moves freely
	SD          unit.Mass    `json:"sd,omitzero" sym:"s_1" range:"-"`                   // standard deviation of single pieces, 0.001 mg to 100 kg, if it is known better than from the trials
	Needless    unit.Percent `json:"needless,omitzero" sym:"A" range:"-"`               // chance of a needless move, 0.01 % to 5 %; with sd only, without it the calibration's confidence counts
	Label       unit.Mass    `json:"label,omitzero" sym:"Y,0" range:"0 g..1000 t"`      // lowest mean that a label allows; leave out for none
	MarkLow     float64      `json:"mark_low" range:"-1e9..1e9"`                        // lowest mark on the scale of the handle
	MarkHigh    float64      `json:"mark_high" range:"-"`                               // highest mark, above mark_low, up to 1e9
	WayUp       string       `json:"way_up,omitzero"`                                   // what this line calls the way to a higher mark, such as "to the right"; up to 60 characters
	WayDown     string       `json:"way_down,omitzero"`                                 // what this line calls the way to a lower mark; up to 60 characters
}

// NextMarkResult is what the check says.
type NextMarkResult struct {
	Action    Action    `json:"action"`                  // "move", "stay", "weigh-more", "off-scale" or "between-marks"
	Advice    string    `json:"advice"`                  // what to tell the person at the handle: every move is followed by a weighing
	Off       unit.Mass `json:"off" sym:"off"`           // weight found, less target
	Shift     unit.Mass `json:"shift" sym:"shift"`       // weight found, less what the calibration gives at this mark
	Noise     unit.Mass `json:"noise" sym:"noise"`       // how far the mean of so many pieces varies by chance, either way
	Aim       unit.Mass `json:"aim" sym:"T_a"`           // mean to set the handle for: the target, raised where the label requires it
	Given     unit.Mass `json:"given" sym:"E_s"`         // mean that the set mark gives
	LeaveLow  unit.Mass `json:"leave_low" sym:"c_low"`   // lowest mean of such a check at which the handle is left alone
	LeaveHigh unit.Mass `json:"leave_high" sym:"c_high"` // highest

	Mark      float64   `json:"mark" sym:"x_set"`     // where to set the handle, or the mark off the scale; the mark as it is with "stay", "weigh-more" and "between-marks"
	By        float64   `json:"by" sym:"m"`           // marks to move, above 0 to a higher mark
	Way       string    `json:"way"`                  // which way to move, in the line's words; empty without a move
	ExactMark float64   `json:"exact_mark" sym:"x_t"` // the mark that would bring the mean to the target, whatever the action and before rounding
	Low       float64   `json:"low" sym:"x_l"`        // lower end of its interval
	High      float64   `json:"high" sym:"x_h"`       // upper end of its interval
	Expected  unit.Mass `json:"expected" sym:"y_set"` // mean weight to expect at mark
	WeighNext int       `json:"weigh_next" sym:"N"`   // pieces to weigh so that a mean off by half a step, or by the limit, shows; weigh so many after a move; as many as now if the handle moves freely
	WeighMore int       `json:"weigh_more" sym:"M"`   // with "weigh-more", how many more pieces to weigh now; otherwise 0

	Conditions Conditions      `json:"conditions"` // no-move-warranted, weigh-more, rounded, extrapolated, mark-out-of-range; scale-too-coarse if the trials show no scatter to judge by
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery and moving-belt, if the handle is to move
}

func (NextMark) ID() string { return "next-mark" }

func (q NextMark) Check(c *reckon.Checks) { q.check(c) }

func (q *NextMark) check(c *reckon.Checks) {
	mark := c.Mark()
	q.Calibration.Check(c)
	c.Under(mark, "calibration")
	q.Calibration.checkAcross(c, q.Across)
	reckon.CheckAbove(c, "weight", q.Weight, maxWeight)
	reckon.CheckCount(c, "pieces", q.Pieces, 1, 100_000)
	reckon.CheckAbove(c, "target", q.Target, maxWeight)
	reckon.CheckRange(c, "expected", q.Expected, 0, maxWeight)
	reckon.CheckRange(c, "move_limit", q.MoveLimit, 0, maxWeight)
	checkMarkStep(c, q.MarkStep)
	if q.SD != 0 || q.Needless != 0 {
		checkSD(c, "sd", q.SD)
		checkNeedless(c, q.Needless)
	}
	reckon.CheckRange(c, "label", q.Label, 0, maxWeight)
	checkScale(c, q.MarkLow, q.MarkHigh)
	checkMarkWithin(c, "mark", q.Mark, q.MarkLow, q.MarkHigh)
	for _, way := range [...]struct{ field, text string }{{"way_up", q.WayUp}, {"way_down", q.WayDown}} {
		if n := utf8.RuneCountInString(way.text); n > 60 {
			c.Fail(way.field, strconv.Itoa(n)+" characters", "up to 60 characters")
		}
	}
}

// Solve has no answer if the slope is not significant, if no mark gives the
// target, or if more than 100000 pieces would have to be weighed to see a mean
// that is off by a move_limit that was given.
func (q NextMark) Solve() (out NextMarkResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return out, c.Err()
	}
	k := &q.Calibration
	u := q.Mark - k.MeanMark
	shift := float64(q.Weight) - k.at(u)
	sd := float64(k.PieceSD) / math.Sqrt(float64(q.Pieces))
	noise := k.StudentT * sd
	if q.SD != 0 {
		noise = needlessQuantile(q.Needless) * (float64(q.SD) / math.Sqrt(float64(q.Pieces)))
	}
	given := k.at(u)
	if q.Expected != 0 {
		given = float64(q.Expected)
	}
	b := bandAbout(given, float64(q.Target), math.Abs(k.slopeAt(u))*q.MarkStep/2, noise, q.MoveLimit, q.Label)
	enough, ok := b.piecesEnough(q.Pieces)
	if !ok && q.MoveLimit != 0 {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "number of pieces to weigh",
			Wanted: "a mean known to " + unit.Mass(b.near).String(), Advice: "the pieces scatter too much for that limit: reduce the scatter or widen the limit",
		}
	}
	next, why := k.markOf(b.aim - shift)
	slope := k.slopeAt(next)
	if why == "" && float64(k.StudentT*k.StudentT*k.slopeVariance(next)) >= slope*slope {
		why = weighMoreAdvice
	}
	if why != "" {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "mark",
			Wanted: "pieces of " + unit.Mass(b.aim).String() + " with the curve shifted by " + unit.Mass(shift).String(), Advice: why,
		}
	}
	half := math.Sqrt(float64(noise*noise)+float64(k.StudentT*k.StudentT*k.differenceVariance(u, next))) / math.Abs(slope)
	out = NextMarkResult{
		Off: q.Weight - q.Target, Shift: unit.Mass(shift), Noise: unit.Mass(noise), Aim: unit.Mass(b.aim), Given: unit.Mass(given),
		LeaveLow: unit.Mass(b.low), LeaveHigh: unit.Mass(b.high),
		Mark: q.Mark, ExactMark: k.MeanMark + next, Expected: q.Weight, WeighNext: enough,
	}
	out.Low, out.High = out.ExactMark-half, out.ExactMark+half
	target := out.ExactMark
	if q.MarkStep != 0 {
		target = q.MarkStep * math.Round(out.ExactMark/q.MarkStep)
	}
	switch off := math.Abs(float64(q.Weight) - b.aim); {
	case !b.leaves(float64(q.Weight)):
		out.move(&q, target)
	case off > b.near && enough > q.Pieces:
		out.Action, out.WeighMore = Weigh, enough-q.Pieces
		out.Conditions |= WeighMore
	case off > b.noise && b.halfStep >= off:
		out.Action = Between
		out.Conditions |= reckon.Rounded
	default:
		out.Action = Stay
		out.Conditions |= NoMoveWarranted
	}
	out.Conditions |= k.unscattered()
	out.Advice = out.Action.advice()
	return out, nil
}

// fewestPieces is the smallest check that is asked for: of two pieces nobody
// can tell which is the double. Common practice, no source.
const fewestPieces = 3

// piecesEnough returns how many pieces to weigh so that the noise of their mean
// is no more than what is near enough, and false if no practical number does.
// A handle that moves freely, without a limit, makes do with as many as now.
func (b *band) piecesEnough(now int) (int, bool) {
	if b.near == 0 {
		return now, true
	}
	ratio := b.noise / b.near
	n := math.Ceil(float64(ratio * ratio * float64(now) * (1 - 1e-12))) // the last digits are no piece
	if n > 100_000 {
		return now, false
	}
	return int(max(fewestPieces, n)), true
}

func (q NextMark) Show(w *reckon.Working, out NextMarkResult) {
	k := &q.Calibration
	w.Inputs(q)
	w.Lines(out, "off target: off = y - T")
	if q.SD > 0 {
		w.Given("normal quantile of the chance", "z", needlessQuantile(q.Needless), "", "at 1 - A/200")
		w.Lines(out, "noise of the mean: noise = z*s_1/sqrt(n)")
	} else {
		w.Lines(out, "noise of the mean: noise = t*s_p/sqrt(n)")
	}
	w.Lines(out,
		"marks from the mean, now: u = x - x_m",
		"shift of the curve today: shift = y - ("+k.weightText("u")+")  [slope kept]",
	)
	if q.Expected > 0 {
		w.Lines(out, "mean that the set mark gives: E_s = E")
	} else {
		w.Lines(out, "mean that the set mark gives: E_s = "+k.weightText("u"))
	}
	w.Lines(out,
		"weight of one mark, at the set mark: b_u = "+k.slopeText("u")+" in g",
		"half a step of the handle: H = abs(b_u)*D/2 in g",
		nearEnough,
	)
	if q.Label > 0 {
		w.Lines(out, "mean aimed at: T_a = max(T, Y + noise + h)  [a shift that a check leaves alone stays legal]")
	} else {
		w.Lines(out, "mean aimed at: T_a = T")
	}
	w.Lines(out,
		"mean expected, as far as a half step goes: c = min(max(E_s, T_a - h), T_a + h) in g",
		"leave the handle from: c_low = min(c - noise, T_a - h)",
		"leave the handle up to: c_high = max(c + noise, T_a + h)",
	)
	if b := (band{noise: float64(out.Noise), near: math.Max(math.Abs(k.slopeAt(q.Mark-k.MeanMark))*q.MarkStep/2, float64(q.MoveLimit))}); b.near > 0 {
		if _, ok := b.piecesEnough(q.Pieces); ok {
			w.Lines(out, "pieces to weigh: N = max(3, ceil(pow(noise/h, 2)*n))")
		} else {
			w.Lines(out, "pieces to weigh: N = n  [no practical number shows half a step]")
		}
	} else {
		w.Lines(out, "pieces to weigh: N = n")
	}
	if out.Action == Weigh {
		w.Lines(out, "pieces more, now: M = N - n")
	} else {
		w.Lines(out, "pieces more, now: M = 0*n")
	}
	w.Lines(out, k.markLines("marks from the mean, at the aim", "v", "(T_a - shift)")...)
	w.Lines(out,
		"mark that gives the aim: x_t = x_m + v",
		"weight of one mark, there: b_t = "+k.slopeText("v")+" in g",
		"half width, in marks: h_x = sqrt(noise*noise + t*t*s*s*"+k.differenceDoubt("u", "v")+")/abs(b_t)",
		"lower end: x_l = x_t - h_x",
		"upper end: x_h = x_t + h_x",
	)
	moved := out.Action == Move || out.Action == OffScale
	switch {
	case !moved:
		w.Lines(out, "mark, as it is: x_set = x")
	case q.MarkStep > 0:
		w.Lines(out, "mark to set: x_set = round(x_t/D)*D  [the nearest that the handle can be set to]")
	default:
		w.Lines(out, "mark to set: x_set = x_t")
	}
	w.Lines(out, "marks to move: m = x_set - x")
	if moved {
		w.Lines(out,
			"marks from the mean, as set: u_set = x_set - x_m",
			"weight expected there: y_set = "+k.weightText("u_set")+" + shift",
		)
	} else {
		w.Lines(out, "weight expected there: y_set = y")
	}
}

// move fills in a move to the given mark, or says why there is none.
func (r *NextMarkResult) move(q *NextMark, to float64) {
	k := &q.Calibration
	expected := unit.Mass(k.at(to-k.MeanMark)) + r.Shift
	if math.Abs(float64(expected-r.Aim)) >= math.Abs(float64(q.Weight-r.Aim)) {
		r.Action = Between
		r.Conditions |= reckon.Rounded
		return
	}
	r.Action, r.Mark, r.By, r.Expected = Move, to, to-q.Mark, expected
	r.Cautions |= reckon.MovingMachinery | reckon.MovingBelt
	if to < q.MarkLow || to > q.MarkHigh {
		r.Action = OffScale
		r.Conditions |= MarkOutOfRange
	}
	r.Way = q.WayUp
	if r.By < 0 {
		r.Way = q.WayDown
	}
	switch {
	case r.Way != "":
	case r.By > 0:
		r.Way = "to a higher mark"
	default:
		r.Way = "to a lower mark"
	}
	// The last digits of the arithmetic are no rounding.
	if math.Abs(to-r.ExactMark) > 1e-9*max(1, math.Abs(to)) {
		r.Conditions |= reckon.Rounded
	}
	if to < k.MarkLow || to > k.MarkHigh {
		r.Conditions |= reckon.Extrapolated
	}
}

// differenceVariance returns the variance of the difference of the curve
// between two places, which a shift leaves as it is.
func (k *Calibration) differenceVariance(u, to float64) float64 {
	v := float64((to-u)*(to-u)) / k.Sxx
	if k.Shape == Quadratic {
		q := k.bend(to) - k.bend(u)
		v += float64(q*q) / k.Sqq
	}
	return float64(float64(k.ResidualSD) * float64(k.ResidualSD) * v)
}

// differenceDoubt writes that variance between u and to, symbols for marks from
// the mean, for a residual SD of 1.
func (k *Calibration) differenceDoubt(u, to string) string {
	doubt := "pow(" + to + " - " + u + ", 2)/S_xx"
	if k.Shape == Quadratic {
		doubt += " + pow(" + bendText(to) + " - (" + bendText(u) + "), 2)/S_qq"
	}
	return "(" + doubt + ")"
}

// checkAcross requires the calibration to be of as many pieces across as the line runs.
func (k *Calibration) checkAcross(c *reckon.Checks, across int) {
	if reckon.CheckCount(c, "across", across, 0, maxAcross) && across != 0 && k.Across > 0 && k.Across <= maxAcross && across != k.Across {
		c.Fail("across", strconv.Itoa(across), strconv.Itoa(k.Across)+", as in the calibration: each number of pieces across has its own curve, weigh trial pieces for it")
	}
}
