package divider

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Interval names how an interval for a mark is made.
type Interval string

const (
	// Fieller takes every mark whose curve cannot be told from the weight. It is exact for a straight line.
	Fieller Interval = "fieller"
	// Delta carries the standard deviation over by the slope. It is close if the slope is well known, and symmetric.
	Delta Interval = "delta"
)

// Of names what the interval is for.
type Of string

const (
	// OfMean is the long-run mean of the pieces: where to set the handle.
	OfMean Of = "mean"
	// OfPiece is one single piece.
	OfPiece Of = "piece"
	// OfSample is the mean of a number of pieces weighed: what the next check may read.
	OfSample Of = "sample"
)

// newVariance returns the variance that what is weighed adds to the curve's own.
func (k *Calibration) newVariance(of Of, pieces int) float64 {
	v := float64(k.PieceSD) * float64(k.PieceSD)
	switch of {
	case OfMean:
		return 0
	case OfSample:
		return v / float64(pieces)
	}
	return v
}

// band returns half the width, in g, of the interval about the curve at u for
// something whose own variance is v.
func (k *Calibration) band(u, v float64) float64 {
	return float64(k.StudentT * math.Sqrt(v+k.variance(u)))
}

func checkOf(c *reckon.Checks, of Of, pieces int) {
	switch of {
	case OfSample:
		reckon.CheckCount(c, "pieces", pieces, 1, 100_000)
		return
	case OfMean, OfPiece:
	default:
		reckon.CheckWord(c, "of", of, OfMean, OfPiece, OfSample)
	}
	if pieces != 0 {
		c.Fail("pieces", strconv.Itoa(pieces), `nothing, unless of is "sample"`)
	}
}

// MarkForWeight returns the mark at which the fitted curve gives the weight
// wanted, with its interval. For the straight line:
//
//	mark = x_mean + (weight - y_mean) / slope
//	(weight - y_mean - slope*u)^2 <= t^2 * (v + s^2 * (1/W + u^2/S_xx))    u = mark - x_mean
//	set = round(mark / division) * division, expected = y_mean + slope*(set - x_mean)
//
// The second line is true of every mark within the Fieller interval, with v the
// variance of what is weighed: none for the mean, that of a piece, or that of a
// piece over the number in the sample. For the quadratic shape the same is
// solved on the branch that holds the trials.
//
// It holds within the marks that were weighed, for the dough that was weighed.
// After the move, weigh.
//
// It returns an *[reckon.InputError] if:
//   - the calibration is not one that [MarkFit] makes, or across is given and is not that of the calibration,
//   - weight is not above 0 and up to 1000 t, or tolerance is not 0 to 1000 t,
//   - interval or of is not named, or pieces is not 1 to 100000 with "sample" and absent otherwise,
//   - mark_low or mark_high is not -1e9 to 1e9, or mark_low is not below mark_high,
//   - division is given and not 1e-6 to 1e9.
//
// It returns a *[reckon.NoSolutionError] if the slope cannot be told from
// none at the calibration's confidence, if the curve turns within the trials
// or never reaches the weight, if the interval has no end, or if the division
// is so coarse that the nearest mark gives no dough.
//
// Source: E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175, recalled; F. A. Graybill and H. K. Iyer,
// Regression Analysis (1994), chapter 6; cases in testdata/cases/divider/mark-for-weight.json.
//
// The inverse is [WeightForMark].
type MarkForWeight struct {
	Calibration Calibration `json:"calibration"`        // from [MarkFit], of the same dough and the same pieces across
	Across      int         `json:"across,omitzero"`    // pieces across now, 1 to 32; leave out if it does not matter
	Weight      unit.Mass   `json:"weight"`             // weight wanted; above 0 up to 1000 t
	Interval    Interval    `json:"interval"`           // "fieller" or "delta"
	Of          Of          `json:"of"`                 // "mean" to set the handle; "piece" or "sample" for a mark read back from a weighing
	Pieces      int         `json:"pieces,omitzero"`    // pieces in the sample, 1 to 100000, with "sample" only
	MarkLow     float64     `json:"mark_low"`           // lowest mark on the scale of the handle; -1e9 to 1e9
	MarkHigh    float64     `json:"mark_high"`          // highest mark, above mark_low
	Division    float64     `json:"division,omitzero"`  // smallest part of a mark that the handle can be set to; 1e-6 to 1e9; leave out if it moves freely
	Tolerance   unit.Mass   `json:"tolerance,omitzero"` // weight by which the mark may miss before the condition wide-interval is set; leave out for none
}

func (MarkForWeight) ID() string { return "mark-for-weight" }

// SHELL
func (q MarkForWeight) Check(c *reckon.Checks) {
	_, err := explainMarkForWeight(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q MarkForWeight) Solve() (MarkForWeightResult, error) { return explainMarkForWeight(q, nil) }

func (q MarkForWeight) Show(w *reckon.Working, _ MarkForWeightResult) {
	_, _ = explainMarkForWeight(q, w)
}

// MarkForWeightResult is where to set the handle.
type MarkForWeightResult struct {
	Mark       float64         `json:"mark"`       // the mark at which the curve gives the weight, as computed: it may lie between marks or off the scale
	Low        float64         `json:"low"`        // lower end of the interval
	High       float64         `json:"high"`       // upper end of the interval
	Set        float64         `json:"set"`        // the mark to set: the nearest that the handle can be set to
	Expected   unit.Mass       `json:"expected"`   // weight that the curve gives at the mark set
	PerMark    float64         `json:"per_mark"`   // g for each mark, there; below 0 if a higher mark weighs less
	G          float64         `json:"g"`          // Fieller's g, the square of t times SD of slope over slope: above about 0.05 the delta interval is poor
	Conditions Conditions      `json:"conditions"` // extrapolated, mark-out-of-range, wide-interval; scale-too-coarse if the trials show no scatter to judge by
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainMarkForWeight(in MarkForWeight, w *reckon.Working) (out MarkForWeightResult, err error) {
	c := reckon.Checks{Func: "mark-for-weight"}
	k := &in.Calibration
	k.check(&c)
	k.checkAcross(&c, in.Across)
	reckon.CheckAbove(&c, "weight", in.Weight, maxWeight)
	reckon.CheckEither(&c, "interval", in.Interval, Fieller, Delta)
	checkOf(&c, in.Of, in.Pieces)
	checkScale(&c, in.MarkLow, in.MarkHigh)
	checkDivision(&c, in.Division)
	reckon.CheckRange(&c, "tolerance", in.Tolerance, 0, maxWeight)
	if err := c.Err(); err != nil {
		return MarkForWeightResult{}, err
	}
	u, why := k.markOf(float64(in.Weight))
	if why != "" {
		low, high := k.reach()
		return MarkForWeightResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "mark",
			Wanted: "pieces of " + in.Weight.String(), Low: low, High: high, Advice: why,
		}
	}
	v := k.newVariance(in.Of, in.Pieces)
	slope := k.slopeAt(u)
	out = MarkForWeightResult{
		Mark: k.MeanMark + u, PerMark: slope,
		G: float64(k.StudentT*k.StudentT*k.slopeVariance(u)) / (slope * slope), Cautions: reckon.MovingMachinery,
	}
	var low, high float64
	bounded := out.G < 1
	switch {
	case !bounded:
	case in.Interval == Delta:
		half := k.band(u, v) / math.Abs(slope)
		low, high = u-half, u+half
	case k.Shape == Straight:
		low, high = k.fieller(float64(in.Weight), v)
	default:
		low, high, bounded = k.fiellerOnCurve(u, v)
	}
	out.Low, out.High = k.MeanMark+low, k.MeanMark+high
	if !bounded || !(math.Abs(out.Low) <= 1e3*maxMark) || !(math.Abs(out.High) <= 1e3*maxMark) {
		return MarkForWeightResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "mark",
			Wanted: "pieces of " + in.Weight.String() + " within a bounded interval", Advice: weighMoreAdvice,
		}
	}
	if out.Mark < k.LowMark || out.Mark > k.HighMark {
		out.Conditions |= reckon.Extrapolated
	}
	out.Conditions |= k.unscattered()
	out.Set = out.Mark
	if in.Division != 0 {
		out.Set = float64(math.Round(out.Mark/in.Division) * in.Division)
	}
	out.Expected = unit.Mass(k.at(out.Set - k.MeanMark))
	if !(out.Expected > 0) {
		return MarkForWeightResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "mark that the handle can be set to",
			Wanted: "pieces of " + in.Weight.String(), Advice: "the nearest one gives no dough: see whether the handle can be set finer",
		}
	}
	if min(out.Mark, out.Set) < in.MarkLow || max(out.Mark, out.Set) > in.MarkHigh {
		out.Conditions |= MarkOutOfRange
	}
	if in.Tolerance > 0 && max(out.High-out.Mark, out.Mark-out.Low)*math.Abs(slope) > float64(in.Tolerance) {
		out.Conditions |= WideInterval
	}
	if w != nil {
		k.explainMark(in, out, v, u, low, high, w)
	}
	return out, nil
}

const weighMoreAdvice = "the trials do not tell the slope from none: weigh more pieces at each mark, or spread the marks further"

// checkMarkWithin wants a mark from low to high. Where these are refused
// themselves, it wants any mark that can be.
func checkMarkWithin(c *reckon.Checks, field string, mark, low, high float64) {
	if !(low < high) {
		low, high = -maxMark, maxMark
	}
	reckon.CheckRange(c, field, mark, max(low, -maxMark), min(high, maxMark))
}

// checkScale wants the ends of the handle's scale.
func checkScale(c *reckon.Checks, low, high float64) {
	reckon.CheckRange(c, "mark_low", low, -maxMark, maxMark)
	if reckon.CheckRange(c, "mark_high", high, -maxMark, maxMark) && !(low < high) {
		c.Fail("mark_high", strconv.FormatFloat(high, 'g', 6, 64), "more than mark_low")
	}
}

// markOf returns the mark, from the mean mark, at which the curve gives y g,
// or why there is none. It takes the branch that holds the trials.
func (k *Calibration) markOf(y float64) (u float64, why string) {
	d := y - float64(k.MeanWeight)
	if k.Shape == Straight {
		u = d / k.Slope
	} else {
		if k.turns() {
			return 0, "the fitted curve turns within the marks weighed, so one weight has two marks: weigh the odd marks again or fit the straight line"
		}
		// Curve*u*u + b*u + e = 0, by the form that does not cancel.
		b := k.Slope - float64(k.Curve*k.Skew)
		e := -float64(k.Curve*k.Sxx)/k.SumWeights - d
		disc := float64(b*b) - float64(4*k.Curve*e)
		if !(disc > 0) {
			return 0, "the fitted curve turns before it reaches that weight: weigh trial pieces nearer to it"
		}
		u = float64(-2*e) / (b + math.Copysign(math.Sqrt(disc), k.slopeAt(0)))
	}
	if !(math.Abs(u) <= 1e3*maxMark) {
		return 0, weighMoreAdvice
	}
	return u, ""
}

// reach returns the weights at the ends of the trial marks, for an error.
func (k *Calibration) reach() (low, high string) {
	a, b := k.at(k.LowMark-k.MeanMark), k.at(k.HighMark-k.MeanMark)
	return unit.Mass(min(a, b)).String(), unit.Mass(max(a, b)).String()
}

// fieller returns the ends of the Fieller interval of a straight line, from
// the mean mark. The slope is significant.
func (k *Calibration) fieller(y, v float64) (low, high float64) {
	d := y - float64(k.MeanWeight)
	t2, s2 := k.StudentT*k.StudentT, float64(k.ResidualSD)*float64(k.ResidualSD)
	a := float64(k.Slope*k.Slope) - float64(t2*s2)/k.Sxx
	// Fieller's quadratic a*u*u - 2*d*slope*u + d*d - q = 0, whose
	// discriminant is written as a sum of two positive terms.
	q := t2 * (v + s2/k.SumWeights)
	root := math.Sqrt(float64(d*d*t2*s2)/k.Sxx + float64(a*q))
	return (float64(d*k.Slope) - root) / a, (float64(d*k.Slope) + root) / a
}

// fiellerOnCurve returns the ends of the interval on a quadratic, from the
// mean mark: the nearest marks on either side of u at which the curve leaves
// the weight by t standard deviations, before it turns.
func (k *Calibration) fiellerOnCurve(u, v float64) (low, high float64, bounded bool) {
	y := k.at(u)
	beyond := func(x float64) float64 {
		r := k.at(x) - y
		return float64(r*r) - float64(k.StudentT*k.StudentT*(v+k.variance(x)))
	}
	step := k.band(u, v) / math.Abs(k.slopeAt(u))
	if step == 0 {
		return u, u, true
	}
	turn := math.Inf(1)
	if k.Curve != 0 {
		turn = (k.Skew - k.Slope/k.Curve) / 2
	}
	end := func(side float64) (float64, bool) {
		for reach := step; reach <= 64*step; reach *= 2 {
			x := u + float64(side*reach)
			if (turn-u)*side > 0 && (x-turn)*side > 0 {
				x = turn
			}
			if beyond(x) > 0 {
				return reckon.Bisect(min(u, x), max(u, x), beyond)
			}
		}
		return 0, false
	}
	low, okLow := end(-1)
	high, okHigh := end(1)
	return low, high, okLow && okHigh
}

func (k *Calibration) explainMark(in MarkForWeight, out MarkForWeightResult, v, u, low, high float64, w *reckon.Working) {
	w.Given("weight wanted", "y", float64(in.Weight), "g", "")
	w.Given("mean mark of the trials", "x_m", k.MeanMark, "", "calibration")
	w.Given("mean weight of the trials", "y_m", float64(k.MeanWeight), "g", "calibration")
	w.Given("slope", "b", k.Slope, "g per mark", "calibration")
	w.Given("Student's t", "t", k.StudentT, "", "calibration")
	w.Given("standard deviation about the curve", "s", float64(k.ResidualSD), "g", "calibration")
	w.Given("sum of the trials' weights", "W", k.SumWeights, "", "calibration")
	w.Given("sum of squares of the marks", "S_xx", k.Sxx, "", "calibration")
	w.Given("variance of what is weighed", "v", v, "g²", "none for the mean")
	if k.Shape == Straight {
		w.Step("marks from the mean", "u", "(y - y_m) / b", u, "", "the line, solved for the mark")
	} else {
		w.Given("bend", "d", k.Curve, "g per mark squared", "calibration")
		w.Given("lopsidedness of the marks", "k", k.Skew, "", "calibration")
		w.Step("slope term", "B", "b - d*k", k.Slope-float64(k.Curve*k.Skew), "", "")
		w.Step("constant term", "E", "y_m - d*S_xx/W - y", float64(k.MeanWeight)-float64(k.Curve*k.Sxx)/k.SumWeights-float64(in.Weight), "", "")
		if k.slopeAt(0) > 0 {
			w.Step("marks from the mean", "u", "-2*E / (B + sqrt(B*B - 4*d*E))", u, "", "the curve, solved for the mark on the trials' branch")
		} else {
			w.Step("marks from the mean", "u", "-2*E / (B - sqrt(B*B - 4*d*E))", u, "", "the curve, solved for the mark on the trials' branch")
		}
	}
	switch {
	case k.Shape == Quadratic:
		w.Given("lower end", "x_l", out.Low, "", string(in.Interval)+" interval, solved by bisection or from the slope there")
		w.Given("upper end", "x_h", out.High, "", string(in.Interval)+" interval")
	case in.Interval == Fieller:
		w.Step("slope squared, less its doubt", "A", "b*b - t*t*s*s/S_xx", float64(k.Slope*k.Slope)-float64(k.StudentT*k.StudentT*float64(k.ResidualSD)*float64(k.ResidualSD))/k.Sxx, "", "")
		w.Step("lower end from the mean", "u_l", "((y - y_m)*b - sqrt((y - y_m)*(y - y_m)*t*t*s*s/S_xx + A*t*t*(v + s*s/W))) / A", low, "", "Fieller")
		w.Step("upper end from the mean", "u_h", "((y - y_m)*b + sqrt((y - y_m)*(y - y_m)*t*t*s*s/S_xx + A*t*t*(v + s*s/W))) / A", high, "", "Fieller")
		w.Step("lower end", "x_l", "x_m + u_l", out.Low, "", "")
		w.Step("upper end", "x_h", "x_m + u_h", out.High, "", "")
	default:
		w.Step("half width", "h", "t * sqrt(v + s*s*(1/W + u*u/S_xx)) / abs(b)", k.band(u, v)/math.Abs(k.Slope), "", "delta method")
		w.Step("lower end", "x_l", "x_m + u - h", out.Low, "", "")
		w.Step("upper end", "x_h", "x_m + u + h", out.High, "", "")
	}
	w.Step("mark", "x", "x_m + u", out.Mark, "", "")
	if in.Division == 0 {
		w.Step("mark to set", "x_set", "x", out.Set, "", "set between the marks")
	} else {
		w.Given("smallest part of a mark", "q", in.Division, "", "")
		w.Step("mark to set", "x_set", "round(x/q) * q", out.Set, "", "the nearest that the handle can be set to")
	}
	w.Step("marks from the mean, as set", "u_set", "x_set - x_m", out.Set-k.MeanMark, "", "")
	if k.Shape == Straight {
		w.Step("weight expected there", "y_set", "y_m + b*u_set", float64(out.Expected), "g", "")
	} else {
		w.Step("weight expected there", "y_set", "y_m + b*u_set + d*(u_set*u_set - k*u_set - S_xx/W)", float64(out.Expected), "g", "")
	}
}

// checkDivision wants a step of the handle, if there is one.
func checkDivision(c *reckon.Checks, division float64) {
	if division != 0 {
		reckon.CheckRange(c, "division", division, 1e-6, maxMark)
	}
}

// WeightForMark returns what a mark weighs, with its interval:
//
//	weight = y_mean + slope*(mark - x_mean)
//	ends   = weight -+ t * sqrt(v + s^2 * (1/W + (mark - x_mean)^2/S_xx))
//
// with v and the quadratic shape as for [MarkForWeight], whose inverse it is.
// The interval of the mean is that of the curve; that of a sample or a piece
// is where the next weighing may fall.
//
// It holds within the marks that were weighed, for the dough that was weighed.
//
// It returns an *[reckon.InputError] if:
//   - the calibration is not one that [MarkFit] makes,
//   - mark is not -1e9 to 1e9,
//   - of is not named, or pieces is not 1 to 100000 with "sample" and absent otherwise.
//
// It returns a *[reckon.NoSolutionError] if the curve gives no dough at that mark.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 4.5.1; cases in testdata/cases/divider/weight-for-mark.json.
//
// The inverse is [MarkForWeight].
type WeightForMark struct {
	Calibration Calibration `json:"calibration"`     // from [MarkFit], of the same dough and the same pieces across
	Mark        float64     `json:"mark"`            // where the handle stands; -1e9 to 1e9
	Of          Of          `json:"of"`              // "mean", "piece" or "sample"
	Pieces      int         `json:"pieces,omitzero"` // pieces in the sample, 1 to 100000, with "sample" only
}

func (WeightForMark) ID() string { return "weight-for-mark" }

// SHELL
func (q WeightForMark) Check(c *reckon.Checks) {
	_, err := explainWeightForMark(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WeightForMark) Solve() (WeightForMarkResult, error) { return explainWeightForMark(q, nil) }

func (q WeightForMark) Show(w *reckon.Working, _ WeightForMarkResult) {
	_, _ = explainWeightForMark(q, w)
}

// WeightForMarkResult is what to expect on the scale.
type WeightForMarkResult struct {
	Weight     unit.Mass  `json:"weight"`     // weight that the curve gives
	Low        unit.Mass  `json:"low"`        // lower end of the interval; may fall below 0 where little is known
	High       unit.Mass  `json:"high"`       // upper end of the interval
	Conditions Conditions `json:"conditions"` // extrapolated; scale-too-coarse if the trials show no scatter to judge by
}

func explainWeightForMark(in WeightForMark, w *reckon.Working) (out WeightForMarkResult, err error) {
	c := reckon.Checks{Func: "weight-for-mark"}
	k := &in.Calibration
	k.check(&c)
	reckon.CheckRange(&c, "mark", in.Mark, -maxMark, maxMark)
	checkOf(&c, in.Of, in.Pieces)
	if err := c.Err(); err != nil {
		return WeightForMarkResult{}, err
	}
	u, v := in.Mark-k.MeanMark, k.newVariance(in.Of, in.Pieces)
	y, half := k.at(u), k.band(u, v)
	if !(y > 0) {
		low, high := k.reach()
		return WeightForMarkResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "weight",
			Wanted: "mark " + strconv.FormatFloat(in.Mark, 'g', 6, 64), Low: low, High: high,
			Advice: "the curve gives no dough there; it was fitted on marks far from it",
		}
	}
	out = WeightForMarkResult{Weight: unit.Mass(y), Low: unit.Mass(y - half), High: unit.Mass(y + half)}
	if in.Mark < k.LowMark || in.Mark > k.HighMark {
		out.Conditions |= reckon.Extrapolated
	}
	out.Conditions |= k.unscattered()
	if w != nil {
		w.Given("mark", "x", in.Mark, "", "")
		k.explain(w)
		w.Given("standard deviation about the curve", "s", float64(k.ResidualSD), "g", "calibration")
		w.Given("variance of what is weighed", "v", v, "g²", "none for the mean")
		w.Step("marks from the mean", "u", "x - x_m", u, "", "")
		w.Step("bend there", "q", "u*u - k*u - S_xx/W", k.bend(u), "", "")
		if k.Shape == Quadratic {
			w.Given("sum of squares of the bend", "S_qq", k.Sqq, "", "calibration")
			w.Step("half width", "h", "t * sqrt(v + s*s*(1/W + u*u/S_xx + q*q/S_qq))", half, "g", "")
		} else {
			w.Step("half width", "h", "t * sqrt(v + s*s*(1/W + u*u/S_xx))", half, "g", "")
		}
		w.Step("weight", "y", "y_m + b*u + d*q", y, "g", "the fitted curve")
	}
	return out, nil
}
