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
		return "The mean is off, and no mark that the handle can be set to brings it nearer: see whether the handle can be set finer, or allow half a step of it as the limit."
	case Weigh:
		return "Leave the handle alone, weigh more pieces now and ask again with their mean."
	}
	return ""
}

// NextMark returns whether to move the handle after a check, and where to:
//
//	off   = weight - target
//	noise = t * piece SD / sqrt(pieces)
//	move if |off| > noise and |off| > limit, to the mark where curve + shift = target
//
// Today's check shifts the curve, its slope is kept: dough differs from day to
// day, the linkage does not. If the noise is above the limit more pieces must
// be weighed first, unless the difference is plain all the same; otherwise the
// handle is left alone, because a move made for noise adds to the noise.
// Every change of the mark is followed by a weighing.
//
// It holds while the pieces scatter as in the trials and the mark is near those of the trials.
//
// It returns an *[reckon.InputError] if:
//   - the calibration is not one that [MarkFit] makes, or across is given and is not that of the calibration,
//   - mark_low or mark_high is not -1e9 to 1e9, mark_low is not below mark_high, or mark is not from the one to the other,
//   - weight or target is not above 0 and up to 1000 t, pieces not 1 to 100000, limit not above 0 and up to 1000 t,
//   - division is given and not 1e-6 to 1e9, or a way is longer than 60 characters.
//
// It returns a *[reckon.NoSolutionError] if the slope cannot be told from
// none, if no mark gives the target, or if more than 100000 pieces would have to be weighed.
//
// Source: common practice (every change is followed by a weighing); a shift with the slope kept is
// the one-point recalibration of a line; do not adjust for noise: W. E. Deming's funnel, recalled.
//
// Without a check, [MarkForWeight] sets the mark.
type NextMark struct {
	Calibration Calibration `json:"calibration"`       // from [MarkFit], of the same pieces across; today's dough may weigh more or less
	Across      int         `json:"across,omitzero"`   // pieces across now, 1 to 32; leave out if it does not matter
	Mark        float64     `json:"mark"`              // where the handle stands; mark_low to mark_high
	Weight      unit.Mass   `json:"weight"`            // mean of the pieces weighed; above 0 up to 1000 t
	Pieces      int         `json:"pieces"`            // how many pieces were weighed; 1 to 100000
	Target      unit.Mass   `json:"target"`            // mean weight wanted; above 0 up to 1000 t
	Limit       unit.Mass   `json:"limit"`             // how far the mean may lie from the target before it matters; above 0
	Division    float64     `json:"division,omitzero"` // smallest part of a mark that the handle can be set to; 1e-6 to 1e9; leave out if it moves freely
	MarkLow     float64     `json:"mark_low"`          // lowest mark on the scale of the handle; -1e9 to 1e9
	MarkHigh    float64     `json:"mark_high"`         // highest mark, above mark_low
	WayUp       string      `json:"way_up,omitzero"`   // what this line calls the way to a higher mark, such as "to the right"; up to 60 characters
	WayDown     string      `json:"way_down,omitzero"` // what this line calls the way to a lower mark; up to 60 characters
}

func (NextMark) ID() string { return "next-mark" }

// SHELL
func (q NextMark) Check(c *reckon.Checks) {
	_, err := explainNextMark(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q NextMark) Solve() (NextMarkResult, error) { return explainNextMark(q, nil) }

func (q NextMark) Show(w *reckon.Working, _ NextMarkResult) { _, _ = explainNextMark(q, w) }

// NextMarkResult is what the check says.
type NextMarkResult struct {
	Action Action    `json:"action"` // "move", "stay", "weigh-more", "off-scale" or "between-marks"
	Advice string    `json:"advice"` // what to tell the person at the handle: every move is followed by a weighing
	Off    unit.Mass `json:"off"`    // weight found, less target
	Shift  unit.Mass `json:"shift"`  // weight found, less what the calibration gives at this mark
	Noise  unit.Mass `json:"noise"`  // how far the mean of so many pieces strays by itself, at the calibration's confidence

	Mark     float64   `json:"mark"`     // where to set the handle, or the mark off the scale; the mark as it is with "stay", "weigh-more" and "between-marks"
	By       float64   `json:"by"`       // marks to move, above 0 to a higher mark
	Way      string    `json:"way"`      // which way to move, in the line's words; empty without a move
	Exact    float64   `json:"exact"`    // the mark that would bring the mean to the target, whatever the action and before rounding
	Low      float64   `json:"low"`      // lower end of its interval
	High     float64   `json:"high"`     // upper end of its interval
	Expected unit.Mass `json:"expected"` // mean weight to expect at mark
	Check    int       `json:"check"`    // pieces to weigh so that a mean off by the limit shows; weigh so many after a move

	Conditions Conditions      `json:"conditions"` // no-move-warranted, weigh-more, rounded, extrapolated, mark-out-of-range; scale-too-coarse if the trials show no scatter to judge by
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, if the handle is to move
}

func explainNextMark(in NextMark, w *reckon.Working) (out NextMarkResult, err error) {
	c := reckon.Checks{Func: "next-mark"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return NextMarkResult{}, err
	}
	k := &in.Calibration
	u := in.Mark - k.MeanMark
	off := float64(in.Weight) - float64(in.Target)
	shift := float64(in.Weight) - k.at(u)
	sd := float64(k.PieceSD) / math.Sqrt(float64(in.Pieces))
	noise := k.StudentT * sd
	enough := k.StudentT * float64(k.PieceSD) / float64(in.Limit)
	check := max(1, math.Ceil(enough*enough))
	if check > 100_000 {
		return NextMarkResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "number of pieces to weigh",
			Wanted: "a mean known to " + in.Limit.String(), Advice: "the pieces scatter too much for that limit: mend the scatter or widen the limit",
		}
	}
	next, why := k.markOf(float64(in.Target) - shift)
	slope := k.slopeAt(next)
	if why == "" && float64(k.StudentT*k.StudentT*k.slopeVariance(next)) >= slope*slope {
		why = weighMoreAdvice
	}
	if why != "" {
		return NextMarkResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "mark",
			Wanted: "pieces of " + in.Target.String() + " with the curve shifted by " + unit.Mass(shift).String(), Advice: why,
		}
	}
	half := k.StudentT * math.Sqrt(float64(sd*sd)+k.differenceVariance(u, next)) / math.Abs(slope)
	out = NextMarkResult{
		Off: unit.Mass(off), Shift: unit.Mass(shift), Noise: unit.Mass(noise),
		Mark: in.Mark, Exact: k.MeanMark + next, Expected: in.Weight, Check: int(check),
	}
	out.Low, out.High = out.Exact-half, out.Exact+half
	target := out.Exact
	if in.Division > 0 {
		target = in.Division * math.Round(out.Exact/in.Division)
	}
	switch {
	case math.Abs(off) > noise && math.Abs(off) > float64(in.Limit):
		out.move(&in, target)
	case noise > float64(in.Limit):
		out.Action = Weigh
		out.Conditions |= WeighMore
	default:
		out.Action = Stay
		out.Conditions |= NoMoveWarranted
	}
	out.Conditions |= k.unscattered()
	out.Advice = out.Action.advice()
	if w != nil {
		in.explain(&out, u, shift, next, w)
	}
	return out, nil
}

// move fills in a move to the given mark, or says why there is none.
func (r *NextMarkResult) move(in *NextMark, to float64) {
	k := &in.Calibration
	expected := unit.Mass(k.at(to-k.MeanMark)) + r.Shift
	if math.Abs(float64(expected-in.Target)) >= math.Abs(float64(r.Off)) {
		r.Action = Between
		r.Conditions |= reckon.Rounded
		return
	}
	r.Action, r.Mark, r.By, r.Expected = Move, to, to-in.Mark, expected
	r.Cautions |= reckon.MovingMachinery
	if to < in.MarkLow || to > in.MarkHigh {
		r.Action = OffScale
		r.Conditions |= MarkOutOfRange
	}
	r.Way = in.WayUp
	if r.By < 0 {
		r.Way = in.WayDown
	}
	switch {
	case r.Way != "":
	case r.By > 0:
		r.Way = "to a higher mark"
	default:
		r.Way = "to a lower mark"
	}
	// The last digits of the arithmetic are no rounding.
	if math.Abs(to-r.Exact) > 1e-9*max(1, math.Abs(to)) {
		r.Conditions |= reckon.Rounded
	}
	if to < k.LowMark || to > k.HighMark {
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

func (in *NextMark) check(c *reckon.Checks) {
	in.Calibration.check(c)
	in.Calibration.checkAcross(c, in.Across)
	reckon.CheckAbove(c, "weight", in.Weight, maxWeight)
	reckon.CheckCount(c, "pieces", in.Pieces, 1, 100_000)
	reckon.CheckAbove(c, "target", in.Target, maxWeight)
	reckon.CheckAbove(c, "limit", in.Limit, maxWeight)
	checkDivision(c, in.Division)
	checkScale(c, in.MarkLow, in.MarkHigh)
	checkMarkWithin(c, "mark", in.Mark, in.MarkLow, in.MarkHigh)
	for _, way := range [...]struct{ field, text string }{{"way_up", in.WayUp}, {"way_down", in.WayDown}} {
		if n := utf8.RuneCountInString(way.text); n > 60 {
			c.Fail(way.field, strconv.Itoa(n)+" characters", "up to 60 characters")
		}
	}
}

// checkAcross wants the calibration to be of as many pieces across as the line runs.
func (k *Calibration) checkAcross(c *reckon.Checks, across int) {
	if reckon.CheckCount(c, "across", across, 0, maxAcross) && across != 0 && k.Across != 0 && across != k.Across {
		c.Fail("across", strconv.Itoa(across), strconv.Itoa(k.Across)+", as in the calibration: each number of pieces across has its own curve, weigh trial pieces for it")
	}
}

func (in *NextMark) explain(out *NextMarkResult, u, shift, next float64, w *reckon.Working) {
	k := &in.Calibration
	w.Given("mark now", "x", in.Mark, "", "")
	w.Given("mean of the pieces weighed", "y", float64(in.Weight), "g", "")
	w.Given("pieces weighed", "n", float64(in.Pieces), "", "")
	w.Given("target", "T", float64(in.Target), "g", "")
	k.explain(w)
	w.Given("standard deviation of a piece", "s", float64(k.PieceSD), "g", "calibration")
	w.Step("off target", "off", "y - T", float64(out.Off), "g", "")
	w.Step("noise of the mean", "noise", "t * s / sqrt(n)", float64(out.Noise), "g", "")
	w.Step("marks from the mean, now", "u", "x - x_m", u, "", "")
	w.Step("shift of the curve today", "shift", "y - (y_m + b*u + d*(u*u - k*u - S_xx/W))", shift, "g", "slope kept")
	if k.Shape == Straight {
		w.Step("marks from the mean, at the target", "v", "(T - shift - y_m) / b", next, "", "")
	} else {
		w.Given("marks from the mean, at the target", "v", next, "", "the curve, solved on the trials' branch")
	}
	w.Step("mark that gives the target", "x_t", "x_m + v", out.Exact, "", "")
}
