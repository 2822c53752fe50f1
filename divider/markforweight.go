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
	// Fieller takes every mark at which the curve does not differ significantly from the weight. It is exact for a straight line.
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

// MarkForWeight asks where to set the handle for a weight: at which mark the
// fitted curve gives it, with its interval:
//
//	y(u)  = y_m + b*u + d*(u^2 - k*u - S_xx/W)    (a straight line has d = 0)
//	q(u)  = u^2 - k*u - S_xx/W
//	y     = y(u), solved for u    x = x_m + u
//	b_x   = b + d*(2*u - k)
//	g     = t^2 * s^2 * (1/S_xx + (2*u - k)^2/S_qq) / b_x^2
//	v     = 0 for the mean, s_p^2 for a piece, s_p^2/n for a sample
//	h     = t * sqrt(v + s^2*(1/W + u^2/S_xx + q(u)^2/S_qq)) / |b_x|
//	x_l   = x - h    x_h = x + h    (the delta interval)
//	x_set = round(x/D) * D    y_set = y(x_set - x_m)
//	t     = Student's t, two-sided at C, for f degrees of freedom
//
// The Fieller interval holds every mark x_m + u at which the curve does not differ
// significantly from the weight:
//
//	(y - y(u))^2 <= t^2 * (v + s^2*(1/W + u^2/S_xx + q(u)^2/S_qq))
//
// on the branch of the curve that holds the trials.
//
// It holds within the marks that were weighed, for the dough that was weighed.
// After the move, weigh.
//
// It is refused if:
//   - the calibration is not one that [MarkFit] makes, or across is given and is not that of the calibration,
//   - pieces is missing with "sample", or given without it.
//
// Source: E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175, recalled; F. A. Graybill and H. K. Iyer,
// Regression Analysis (1994), chapter 6; cases in testdata/cases/divider/mark-for-weight.json.
//
// The inverse is [WeightForMark].
type MarkForWeight struct {
	Calibration Calibration `json:"calibration"`                                  // from [MarkFit], of the same dough and the same pieces across
	Across      int         `json:"across,omitzero" range:"-"`                    // pieces across now, 1 to 32, and that of the calibration if it has one; leave out if it does not matter
	Weight      unit.Mass   `json:"weight" sym:"y" range:">0 g..1000 t"`          // weight wanted
	Interval    Interval    `json:"interval"`                                     // how the interval is made
	Of          Of          `json:"of"`                                           // "mean" to set the handle; "piece" or "sample" for a mark read back from a weighing
	Pieces      int         `json:"pieces,omitzero" sym:"n" range:"-"`            // pieces in the sample, 1 to 100000, with "sample" only
	MarkLow     float64     `json:"mark_low" range:"-1e9..1e9"`                   // lowest mark on the scale of the handle
	MarkHigh    float64     `json:"mark_high" range:"-"`                          // highest mark, above mark_low, up to 1e9
	MarkStep    float64     `json:"mark_step,omitzero" sym:"D" range:"1e-6..1e9"` // smallest part of a mark that the handle can be set to; leave out if it moves freely
	Tolerance   unit.Mass   `json:"tolerance,omitzero" range:"0 g..1000 t"`       // weight by which the mark may miss before the condition wide-interval is set; leave out for none
}

// MarkForWeightResult is where to set the handle.
type MarkForWeightResult struct {
	Mark       float64         `json:"mark" sym:"x"`         // the mark at which the curve gives the weight, as computed: it may lie between marks or off the scale
	Low        float64         `json:"low" sym:"x_l"`        // lower end of the interval
	High       float64         `json:"high" sym:"x_h"`       // upper end of the interval
	Set        float64         `json:"set" sym:"x_set"`      // the mark to set: the nearest that the handle can be set to
	Expected   unit.Mass       `json:"expected" sym:"y_set"` // weight that the curve gives at the mark set
	PerMark    unit.Mass       `json:"per_mark" sym:"b_x"`   // weight of one mark, there; below 0 if a higher mark weighs less
	G          float64         `json:"g" sym:"g"`            // Fieller's g, the square of t times SD of slope over slope: above about 0.05 the delta interval is poor
	Conditions Conditions      `json:"conditions"`           // extrapolated, mark-out-of-range, wide-interval; mark-outside-interval if the step of the handle is coarser than the interval; scale-too-coarse if the trials show no scatter to judge by
	Cautions   reckon.Cautions `json:"cautions"`             // moving-machinery, moving-belt
}

func (MarkForWeight) ID() string { return "mark-for-weight" }

func (q MarkForWeight) Check(c *reckon.Checks) { q.check(c) }

func (q *MarkForWeight) check(c *reckon.Checks) {
	mark := c.Mark()
	q.Calibration.Check(c)
	c.Under(mark, "calibration")
	q.Calibration.checkAcross(c, q.Across)
	reckon.CheckAbove(c, "weight", q.Weight, maxWeight)
	reckon.CheckEither(c, "interval", q.Interval, Fieller, Delta)
	checkOf(c, q.Of, q.Pieces)
	checkScale(c, q.MarkLow, q.MarkHigh)
	checkMarkStep(c, q.MarkStep)
	reckon.CheckRange(c, "tolerance", q.Tolerance, 0, maxWeight)
}

// Solve has no answer if the slope is not significant at the calibration's
// confidence, if the curve turns within the trials or never reaches the weight,
// if the interval has no end, or if the handle steps so coarsely that the nearest
// mark gives no dough.
func (q MarkForWeight) Solve() (out MarkForWeightResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *MarkForWeight) SolveInto(out *MarkForWeightResult) error {
	*out = MarkForWeightResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	k := &q.Calibration
	u, why := k.markOf(float64(q.Weight))
	if why != "" {
		low, high := k.reach()
		return &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "mark",
			Wanted: "pieces of " + q.Weight.String(), Low: low, High: high, Advice: why,
		}
	}
	slope := k.slopeAt(u)
	out.Mark, out.PerMark = k.MeanMark+u, unit.Mass(slope)
	out.G = float64(k.StudentT*k.StudentT*k.slopeVariance(u)) / (slope * slope)
	out.Cautions = reckon.MovingMachinery | reckon.MovingBelt
	var low, high float64
	bounded := out.G < 1
	if bounded {
		low, high, bounded = q.ends(u)
	}
	out.Low, out.High = k.MeanMark+low, k.MeanMark+high
	if !bounded || !(math.Abs(out.Low) <= 1e3*maxMark) || !(math.Abs(out.High) <= 1e3*maxMark) {
		*out = MarkForWeightResult{}
		return &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "mark",
			Wanted: "pieces of " + q.Weight.String() + " within a bounded interval", Advice: weighMoreAdvice,
		}
	}
	if out.Mark < k.MarkLow || out.Mark > k.MarkHigh {
		out.Conditions |= reckon.Extrapolated
	}
	out.Conditions |= k.unscattered()
	out.Set = out.Mark
	if q.MarkStep != 0 {
		out.Set = float64(math.Round(out.Mark/q.MarkStep) * q.MarkStep)
	}
	out.Expected = unit.Mass(k.at(out.Set - k.MeanMark))
	if !(out.Expected > 0) {
		*out = MarkForWeightResult{}
		return &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "mark that the handle can be set to",
			Wanted: "pieces of " + q.Weight.String(), Advice: "the nearest one gives no dough: set the handle in finer steps if it can be",
		}
	}
	if out.Set < out.Low || out.Set > out.High {
		out.Conditions |= MarkOutsideInterval
	}
	if out.Mark < q.MarkLow || out.Set < q.MarkLow || out.Mark > q.MarkHigh || out.Set > q.MarkHigh {
		out.Conditions |= MarkOutOfRange
	}
	if q.Tolerance != 0 && max(out.High-out.Mark, out.Mark-out.Low)*math.Abs(slope) > float64(q.Tolerance) {
		out.Conditions |= WideInterval
	}
	return nil
}

func (q MarkForWeight) Show(w *reckon.Working, out MarkForWeightResult) {
	k := &q.Calibration
	w.Inputs(q)
	w.Lines(out, k.markLines("marks from the mean", "u", "y")...)
	w.Lines(out,
		"mark: x = x_m + u",
		"weight of one mark, there: b_x = "+k.slopeText("u"),
		"Fieller's g: g = t*t*s*s"+k.slopeDoubt("u")+"/(b_x*b_x)",
		newVarianceLine(q.Of),
	)
	switch {
	case q.Interval == Delta:
		w.Lines(out,
			"half width, in marks: h = t*sqrt(v + s*s*"+k.doubt("u")+")/abs(b_x)  [delta method]",
			"lower end: x_l = x - h",
			"upper end: x_h = x + h",
		)
	case k.Shape == Straight:
		w.Lines(out,
			"slope squared, less the square of its uncertainty: A = b*b - t*t*s*s/S_xx",
			"root: R = t*sqrt((y - y_m)*(y - y_m)*s*s/S_xx + A*(v + s*s/W))",
			"lower end: x_l = x_m + ((y - y_m)*b - R)/A  [Fieller]",
			"upper end: x_h = x_m + ((y - y_m)*b + R)/A  [Fieller]",
		)
	default:
		q.showEnd(w, "lower end", "l", out.Low)
		q.showEnd(w, "upper end", "h", out.High)
	}
	if q.MarkStep == 0 {
		w.Lines(out, "mark to set: x_set = x  [the handle moves freely]")
	} else {
		w.Lines(out, "mark to set: x_set = round(x/D)*D  [the nearest that the handle can be set to]")
	}
	w.Lines(out,
		"marks from the mean, as set: u_set = x_set - x_m",
		"weight expected there: y_set = "+k.weightText("u_set"),
	)
}

// ends returns the ends of the interval, from the mean mark, about the mark at
// u, and whether it has ends. The slope is significant.
func (q *MarkForWeight) ends(u float64) (low, high float64, bounded bool) {
	k := &q.Calibration
	v := k.newVariance(q.Of, q.Pieces)
	switch {
	case q.Interval == Delta:
		half := k.band(u, v) / math.Abs(k.slopeAt(u))
		return u - half, u + half, true
	case k.Shape == Straight:
		low, high = k.fieller(float64(q.Weight), v)
		return low, high, true
	}
	return k.fiellerOnCurve(u, v)
}

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

const weighMoreAdvice = "the slope is not significant: weigh more pieces at each mark, or spread the marks further"

// checkMarkWithin requires a mark from low to high. Where these are refused
// themselves, it requires any possible mark.
func checkMarkWithin(c *reckon.Checks, field string, mark, low, high float64) {
	if !(low < high) {
		low, high = -maxMark, maxMark
	}
	reckon.CheckRange(c, field, mark, max(low, -maxMark), min(high, maxMark))
}

// checkScale requires the ends of a scale of marks.
func checkScale(c *reckon.Checks, low, high float64) {
	lowOK := reckon.CheckRange(c, "mark_low", low, -maxMark, maxMark)
	if reckon.CheckRange(c, "mark_high", high, -maxMark, maxMark) && lowOK && !(low < high) {
		c.Fail("mark_high", strconv.FormatFloat(high, 'g', 6, 64), "more than mark_low")
	}
}

// checkMarkStep requires a step of the handle, if there is one.
func checkMarkStep(c *reckon.Checks, step float64) {
	if step != 0 {
		reckon.CheckRange(c, "mark_step", step, 1e-6, maxMark)
	}
}

// markOf returns the mark, from the mean mark, at which the curve gives y g,
// or why there is none. It takes the branch that holds the trials.
func (k *Calibration) markOf(y float64) (u float64, why string) {
	d := y - float64(k.MeanWeight)
	if k.Shape == Straight {
		u = d / float64(k.Slope)
	} else {
		if k.turns() {
			return 0, "the fitted curve turns within the marks weighed, so one weight has two marks: weigh the doubtful marks again or fit a straight line"
		}
		// Curve*u*u + b*u + e = 0, by the form that does not cancel.
		b := float64(k.Slope) - float64(k.Curve*k.Skew)
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
	a, b := k.at(k.MarkLow-k.MeanMark), k.at(k.MarkHigh-k.MeanMark)
	return unit.Mass(min(a, b)).String(), unit.Mass(max(a, b)).String()
}

// fieller returns the ends of the Fieller interval of a straight line, from
// the mean mark. The slope is significant.
func (k *Calibration) fieller(y, v float64) (low, high float64) {
	d := y - float64(k.MeanWeight)
	t2, s2 := k.StudentT*k.StudentT, float64(k.ResidualSD)*float64(k.ResidualSD)
	slope := float64(k.Slope)
	a := float64(slope*slope) - float64(t2*s2)/k.Sxx
	// Fieller's quadratic a*u*u - 2*d*slope*u + d*d - q = 0, whose
	// discriminant is written as a sum of two positive terms.
	q := t2 * (v + s2/k.SumWeights)
	root := math.Sqrt(float64(d*d*t2*s2)/k.Sxx + float64(a*q))
	return (float64(d*slope) - root) / a, (float64(d*slope) + root) / a
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
		turn = (k.Skew - float64(k.Slope)/k.Curve) / 2
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

// newVarianceLine is the line of the working for the variance of what is weighed.
func newVarianceLine(of Of) string {
	variance := "s_p*s_p"
	switch of {
	case OfMean:
		variance = "0"
	case OfSample:
		variance = "s_p*s_p/n"
	}
	return "variance of what is weighed: v = " + variance + " in g²"
}

// weightText writes the fitted weight at u, a symbol for marks from the mean, for a working.
func (k *Calibration) weightText(u string) string {
	if k.Shape == Quadratic {
		return "y_m + b*" + u + " + d*(" + bendText(u) + ")"
	}
	return "y_m + b*" + u
}

// showEnd records an end of Fieller's interval and puts it back: the curve is
// off the weight there by just what may be the weight's and the curve's own doubt.
func (q *MarkForWeight) showEnd(w *reckon.Working, words, end string, at float64) {
	k, x, u, sign := &q.Calibration, "x_"+end, "u_"+end, " + "
	if k.at(at-k.MeanMark) > float64(q.Weight) {
		sign = " - "
	}
	w.Root(words, x, at, "", "Fieller, by bisection")
	w.Lines(nil, words+", marks from the mean: "+u+" = "+x+" - x_m")
	w.PutBack(words + ", where curve and doubt make the weight: y = " + k.weightText(u) + sign + "t*sqrt(v + s*s*" + k.doubt(u) + ")")
}

func bendText(u string) string { return u + "*" + u + " - k*" + u + " - S_xx/W" }

// slopeText writes the slope at u.
func (k *Calibration) slopeText(u string) string {
	if k.Shape == Quadratic {
		return "b + d*(2*" + u + " - k)"
	}
	return "b"
}

// doubt writes the variance of the fitted weight at u, for a residual SD of 1, for a working.
func (k *Calibration) doubt(u string) string {
	if k.Shape == Quadratic {
		return "(1/W + " + u + "*" + u + "/S_xx + pow(" + bendText(u) + ", 2)/S_qq)"
	}
	return "(1/W + " + u + "*" + u + "/S_xx)"
}

// slopeDoubt writes the factor by which the slope at u varies, for a residual SD of 1.
func (k *Calibration) slopeDoubt(u string) string {
	if k.Shape == Quadratic {
		return "*(1/S_xx + pow(2*" + u + " - k, 2)/S_qq)"
	}
	return "/S_xx"
}

// markLines writes how the curve is solved for the mark, u from the mean, at
// which it gives the weight y. The words say what u is.
func (k *Calibration) markLines(words, u, y string) []string {
	if k.Shape == Straight {
		return []string{words + ": " + u + " = (" + y + " - y_m)/b  [the line, solved for the mark]"}
	}
	sign := "+"
	if k.slopeAt(0) < 0 {
		sign = "-"
	}
	return []string{
		"slope term: B = b - d*k in g",
		"constant term: E = y_m - d*S_xx/W - " + y + " in g",
		words + ": " + u + " = -2*E/(B " + sign + " sqrt(B*B - 4*d*E))  [the curve, solved for the mark on the trials' branch]",
	}
}

// WeightForMark asks what a piece weighs at a mark, with its interval:
//
//	u = x - x_m    q = u^2 - k*u - S_xx/W
//	y = y_m + b*u + d*q    b_x = b + d*(2*u - k)    (a straight line has d = 0)
//	v = 0 for the mean, s_p^2 for a piece, s_p^2/n for a sample
//	h = t * sqrt(v + s^2*(1/W + u^2/S_xx + q^2/S_qq))
//	y_l = y - h    y_h = y + h
//	t = Student's t, two-sided at C, for f degrees of freedom
//
// It is the inverse of [MarkForWeight]. The interval of the mean is that of the
// curve; that of a sample or a piece is where the next weighing may fall.
//
// It holds within the marks that were weighed, for the dough that was weighed.
//
// It is refused if:
//   - the calibration is not one that [MarkFit] makes,
//   - pieces is missing with "sample", or given without it.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 4.5.1; cases in testdata/cases/divider/weight-for-mark.json.
//
// The inverse is [MarkForWeight].
type WeightForMark struct {
	Calibration Calibration `json:"calibration"`                       // from [MarkFit], of the same dough and the same pieces across
	Mark        float64     `json:"mark" sym:"x" range:"-1e9..1e9"`    // where the handle stands
	Of          Of          `json:"of"`                                // what is weighed
	Pieces      int         `json:"pieces,omitzero" sym:"n" range:"-"` // pieces in the sample, 1 to 100000, with "sample" only
}

// WeightForMarkResult is what to expect on the scale.
type WeightForMarkResult struct {
	Weight     unit.Mass  `json:"weight" sym:"y"`     // weight that the curve gives
	PerMark    unit.Mass  `json:"per_mark" sym:"b_x"` // weight of one mark, there; below 0 if a higher mark weighs less
	Low        unit.Mass  `json:"low" sym:"y_l"`      // lower end of the interval; may fall below 0 where little is known
	High       unit.Mass  `json:"high" sym:"y_h"`     // upper end of the interval
	Conditions Conditions `json:"conditions"`         // extrapolated; scale-too-coarse if the trials show no scatter to judge by
}

func (WeightForMark) ID() string { return "weight-for-mark" }

func (q WeightForMark) Check(c *reckon.Checks) {
	mark := c.Mark()
	q.Calibration.Check(c)
	c.Under(mark, "calibration")
	reckon.CheckRange(c, "mark", q.Mark, -maxMark, maxMark)
	checkOf(c, q.Of, q.Pieces)
}

// Solve has no answer if the curve gives no dough at that mark.
func (q WeightForMark) Solve() (out WeightForMarkResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	k := &q.Calibration
	u := q.Mark - k.MeanMark
	y, half := k.at(u), k.band(u, k.newVariance(q.Of, q.Pieces))
	if !(y > 0) {
		low, high := k.reach()
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "weight",
			Wanted: "mark " + strconv.FormatFloat(q.Mark, 'g', 6, 64), Low: low, High: high,
			Advice: "the curve gives no dough there; it was fitted on marks far from it",
		}
	}
	out = WeightForMarkResult{Weight: unit.Mass(y), PerMark: unit.Mass(k.slopeAt(u)), Low: unit.Mass(y - half), High: unit.Mass(y + half)}
	if q.Mark < k.MarkLow || q.Mark > k.MarkHigh {
		out.Conditions |= reckon.Extrapolated
	}
	out.Conditions |= k.unscattered()
	return out, nil
}

func (q WeightForMark) Show(w *reckon.Working, out WeightForMarkResult) {
	k := &q.Calibration
	w.Inputs(q)
	w.Lines(out,
		"marks from the mean: u = x - x_m",
		newVarianceLine(q.Of),
		"weight of one mark, there: b_x = "+k.slopeText("u"),
		"half width: h = t*sqrt(v + s*s*"+k.doubt("u")+") in g",
		"weight: y = "+k.weightText("u")+"  [the fitted curve]",
		"lower end: y_l = y - h",
		"upper end: y_h = y + h",
	)
}
