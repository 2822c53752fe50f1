package divider

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Shape names the curve of weight against mark.
type Shape string

const (
	// Straight is a line: each mark adds the same weight.
	Straight Shape = "straight"
	// Quadratic is a line with one bend, for a linkage that gains or loses on its way.
	Quadratic Shape = "quadratic"
)

// coefficients returns how many numbers describe the curve.
func (s Shape) coefficients() int {
	if s == Quadratic {
		return 3
	}
	return 2
}

// Weighting names how much each trial counts.
type Weighting string

const (
	// EqualWeights counts every trial alike, whatever the number of pieces behind it.
	EqualWeights Weighting = "equal"
	// ByPieces counts a trial by the pieces behind its mean: right if the scatter is from piece to piece.
	ByPieces Weighting = "by-pieces"
	// KnownSD counts a trial by the standard deviation given with it, and takes it at its word.
	KnownSD Weighting = "known-sd"
)

// The bounds of a calibration. They keep every later sum finite.
const (
	maxTrials = 10_000
	maxMark   = 1e9
	maxWeight = unit.Mass(1e9)
)

// Trial is one weighing at one mark.
type Trial struct {
	Mark   float64   `json:"mark"`        // where the handle stood; -1e9 to 1e9
	Weight unit.Mass `json:"weight"`      // mean weight of the pieces weighed; above 0
	Pieces int       `json:"pieces"`      // how many pieces the mean is of; 1 to 100000
	SD     unit.Mass `json:"sd,omitzero"` // standard deviation of that mean, for the weighting "known-sd" only
}

// MarkFit returns weight against mark as trial weighings show it, by least
// squares:
//
//	slope = sum w*(x - x_mean)*y / sum w*(x - x_mean)^2
//	weight = y_mean + slope*(x - x_mean)
//
// and for the quadratic shape a third term, orthogonal to both. The weights w
// are 1, the pieces, or 1/sd^2. Marks that were weighed more than once test
// the shape: their scatter is what the fit may miss by. A trial far off the curve is
// named and kept.
//
// It holds if the errors of the trials are independent and of the size that
// the weighting says, and the mark has no error of its own. Trial marks are
// best weighed in mixed order, so that a dough that gasses does not pass for a slope.
//
// It returns an *[reckon.InputError] if:
//   - there are fewer trials than coefficients and one more, or more than 10000,
//   - a trial's mark is not -1e9 to 1e9, its weight not above 0 and up to 1000 t, its pieces not 1 to 100000,
//   - a trial's sd is missing with "known-sd" or given without it,
//   - the marks are all the same (or only two, for a curve), or all weights are the same,
//   - confidence is not 50 to 99.9 %, across not 0 to 32, or shape or weighting is not named.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 4.4.3.1 and 4.4.4.6; the
// known standard deviations ISO/TS 28037:2010 clause 6; orthogonal terms G. E. Forsythe,
// J. SIAM 5 (1957) 74, and studentised residuals R. D. Cook and S. Weisberg (1982), both recalled; cases in testdata/cases/divider/mark-fit.json.
//
// The calibration's uses are [MarkForWeight], [WeightForMark] and [NextMark].
type MarkFit struct {
	Trials     []Trial      `json:"trials"`          // at least one more than the shape has coefficients (2 or 3), up to 10000; equal marks are replicates
	Confidence unit.Percent `json:"confidence"`      // for every interval made from the fit; 50 to 99.9 %
	Shape      Shape        `json:"shape"`           // "straight" or "quadratic"
	Weighting  Weighting    `json:"weighting"`       // "equal", "by-pieces" or "known-sd"
	Across     int          `json:"across,omitzero"` // pieces across in the trials, 1 to 32; leave out if it does not matter
}

func (MarkFit) ID() string { return "mark-fit" }

// SHELL
func (q MarkFit) Check(c *reckon.Checks) {
	_, err := explainMarkFit(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q MarkFit) Solve() (MarkFitResult, error) { return explainMarkFit(q, nil) }

func (q MarkFit) Show(w *reckon.Working, _ MarkFitResult) { _, _ = explainMarkFit(q, w) }

// Calibration is weight against mark as fitted, with all that its later use
// needs, so that no table and no quantile is looked up again. With
// u = mark - MeanMark the curve is
//
//	weight = MeanWeight + Slope*u + Curve*(u*u - Skew*u - Sxx/SumWeights)
//
// whose three terms are orthogonal over the trials. It holds for one machine,
// one dough and one number of pieces across.
type Calibration struct {
	Shape      Shape        `json:"shape"`           // "straight" or "quadratic"
	Weighting  Weighting    `json:"weighting"`       // "equal", "by-pieces" or "known-sd"
	Across     int          `json:"across,omitzero"` // pieces across in the trials; 0 if it was not said
	Confidence unit.Percent `json:"confidence"`      // two-sided confidence of student_t; 50 to 99.9 %
	StudentT   float64      `json:"student_t"`       // Student's t for the confidence, 0.6 to 700; the normal value with "known-sd"

	Trials           int     `json:"trials"`             // trials fitted; 3 to 10000
	DegreesOfFreedom int     `json:"degrees_of_freedom"` // trials less coefficients; at least 1
	LowMark          float64 `json:"low_mark"`           // lowest mark of the trials; -1e9 to 1e9
	HighMark         float64 `json:"high_mark"`          // highest mark of the trials; above low_mark

	MeanMark   float64   `json:"mean_mark"`      // mean mark, each trial counted by its weighting; -1e9 to 1e9
	MeanWeight unit.Mass `json:"mean_weight"`    // mean weight, counted in the same way; above 0 up to 1000 t
	Slope      float64   `json:"slope"`          // g for each mark, about the middle of the trials; -1e30 to 1e30
	Curve      float64   `json:"curve,omitzero"` // g for each mark squared, -1e30 to 1e30; 0 for a straight line
	Skew       float64   `json:"skew,omitzero"`  // in marks: how lopsided the trial marks lie; 0 for a straight line

	SumWeights float64 `json:"sum_weights"`  // sum of the trials' weights w; 1e-30 to 1e40
	Sxx        float64 `json:"sxx"`          // sum of w*u*u, in marks squared; 1e-30 to 1e60
	Sqq        float64 `json:"sqq,omitzero"` // sum of w times the square of the third term's bracket, 1e-30 to 1e80; 0 for a straight line

	ResidualSD unit.Mass `json:"residual_sd"` // standard deviation of a trial whose w is 1; 0 only if all trials lie on the curve
	PieceSD    unit.Mass `json:"piece_sd"`    // standard deviation of single pieces, if the scatter is from piece to piece
}

// MarkFitResult is the calibration and how far to trust it.
type MarkFitResult struct {
	Calibration Calibration `json:"calibration"` // for [MarkForWeight], [WeightForMark] and [NextMark]

	Intercept   unit.Mass `json:"intercept"`             // what the curve says at mark 0, often far outside the trials
	InterceptSD unit.Mass `json:"intercept_sd"`          // its standard deviation
	Slope       float64   `json:"slope"`                 // g for each mark, at mark 0 if the shape is quadratic
	SlopeSD     float64   `json:"slope_sd"`              // its standard deviation
	Curve       float64   `json:"curve,omitzero"`        // g for each mark squared
	CurveSD     float64   `json:"curve_sd,omitzero"`     // its standard deviation
	Covariance  float64   `json:"covariance"`            // of intercept and slope, in g squared for each mark
	SumSquares  float64   `json:"sum_squares"`           // sum of w times residual squared, in g squared; chi-square with "known-sd", a pure number
	LackOfFitF  float64   `json:"lack_of_fit_f"`         // scatter about the curve over scatter within equal marks; 0 if no mark was repeated, no mark is to spare, or equal marks weighed the same to the last digit
	CriticalF   float64   `json:"critical_f"`            // what it may be at the confidence, 0 if there is no test
	PureErrorDF int       `json:"pure_error_df"`         // degrees of freedom within equal marks
	PureErrorSS float64   `json:"pure_error_ss"`         // sum of squares within equal marks, in g squared
	CriticalChi float64   `json:"critical_chi,omitzero"` // what sum_squares may be at the confidence, with "known-sd" only

	Worst         int     `json:"worst"`          // which trial lies furthest off the curve, counted from 0
	WorstResidual float64 `json:"worst_residual"` // its distance over the standard deviation of that distance; 0 if all lie on the curve

	Conditions Conditions `json:"conditions"` // lack-of-fit, turns-back, weigh-more, outlier, scale-too-coarse
}

func explainMarkFit(in MarkFit, w *reckon.Working) (out MarkFitResult, err error) {
	c := reckon.Checks{Func: "mark-fit"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return MarkFitResult{}, err
	}
	f := fitTrials(in)
	out = f.result(in)
	if !out.usable() {
		return MarkFitResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "curve", Wanted: "these trials",
			Advice: "the marks lie so close together that no slope can be told; spread them",
		}
	}
	if w != nil {
		f.explain(in, out, w)
	}
	return out, nil
}

func (in MarkFit) check(c *reckon.Checks) {
	reckon.CheckRange(c, "confidence", in.Confidence, 50, 99.9)
	reckon.CheckEither(c, "shape", in.Shape, Straight, Quadratic)
	reckon.CheckWord(c, "weighting", in.Weighting, EqualWeights, ByPieces, KnownSD)
	reckon.CheckCount(c, "across", in.Across, 0, maxAcross)
	p := in.Shape.coefficients()
	if len(in.Trials) <= p || len(in.Trials) > maxTrials {
		c.Fail("trials", strconv.Itoa(len(in.Trials))+" weighings", strconv.Itoa(p+1)+" to "+strconv.Itoa(maxTrials)+
			": a "+string(in.Shape)+" fit through fewer has no degrees of freedom left to judge it by")
		return
	}
	before := c.OK()
	for i, t := range in.Trials {
		// The path is only built for a value that is wrong.
		if !(math.Abs(t.Mark) <= maxMark) {
			reckon.CheckRange(c, trialField(i, "mark"), t.Mark, -maxMark, maxMark)
		}
		if !(t.Weight > 0 && t.Weight <= maxWeight) {
			reckon.CheckAbove(c, trialField(i, "weight"), t.Weight, maxWeight)
		}
		if t.Pieces < 1 || t.Pieces > 100_000 {
			reckon.CheckCount(c, trialField(i, "pieces"), t.Pieces, 1, 100_000)
		}
		switch {
		case in.Weighting == KnownSD && !(t.SD >= 1e-6 && t.SD <= maxWeight):
			reckon.CheckRange(c, trialField(i, "sd"), t.SD, 1e-6, maxWeight)
		case in.Weighting != KnownSD && t.SD != 0:
			c.Fail(trialField(i, "sd"), t.SD.String(), `nothing, unless the weighting is "known-sd"`)
		}
	}
	if !before || !c.OK() {
		return
	}
	marks, sameWeight := in.differentMarks(p), true
	for _, t := range in.Trials {
		sameWeight = sameWeight && t.Weight == in.Trials[0].Weight
	}
	if marks < p {
		c.Fail("trials", "weighings at "+strconv.Itoa(marks)+" different mark(s)", strconv.Itoa(p)+" or more different marks: move the handle between trials")
	}
	if sameWeight {
		c.Fail("trials", "weighings that are all "+in.Trials[0].Weight.String(), "weights that differ: the handle has moved nothing, or the marks are too close")
	}
}

func trialField(i int, name string) string { return "trials[" + strconv.Itoa(i) + "]." + name }

// differentMarks counts the different marks, up to enough.
func (in MarkFit) differentMarks(enough int) int {
	n := 0
	for i, t := range in.Trials {
		seen := false
		for _, before := range in.Trials[:i] {
			if seen = before.Mark == t.Mark; seen {
				break
			}
		}
		if !seen {
			if n++; n == enough {
				break
			}
		}
	}
	return n
}

// fit holds the sums behind a calibration.
type fit struct {
	cal           Calibration
	knownSD       float64 // the SD of a trial whose w is 1, if it is known
	sxy, sqy, ssr float64
	pureSS        float64
	groups        int
}

// weightOf returns how much a trial counts. Known standard deviations are
// taken in units of unitSD, so that the residual SD stays a mass.
func (in MarkFit) weightOf(t Trial, unitSD float64) float64 {
	switch in.Weighting {
	case ByPieces:
		return float64(t.Pieces)
	case KnownSD:
		r := unitSD / float64(t.SD)
		return r * r
	}
	return 1
}

func fitTrials(in MarkFit) fit {
	n := float64(len(in.Trials))
	f := fit{cal: Calibration{
		Shape: in.Shape, Weighting: in.Weighting, Across: in.Across, Confidence: in.Confidence,
		Trials: len(in.Trials), DegreesOfFreedom: len(in.Trials) - in.Shape.coefficients(),
		LowMark: in.Trials[0].Mark, HighMark: in.Trials[0].Mark,
	}}
	k := &f.cal
	var meanOfInverse, pieceVariance float64
	for _, t := range in.Trials {
		k.LowMark, k.HighMark = min(k.LowMark, t.Mark), max(k.HighMark, t.Mark)
		meanOfInverse += 1 / (n * float64(t.Pieces))
		f.knownSD += float64(float64(t.SD)*float64(t.SD)) / n
		pieceVariance += float64(float64(t.SD)*float64(t.SD)*float64(t.Pieces)) / n
	}
	f.knownSD = math.Sqrt(f.knownSD)

	// Means are taken about the first trial, then once more about themselves,
	// and every later sum about the means: raw sums would lose the digits.
	mx, my := in.Trials[0].Mark, float64(in.Trials[0].Weight)
	for range 2 {
		var sw, sx, sy float64
		for _, t := range in.Trials {
			w := in.weightOf(t, f.knownSD)
			sw += w
			sx += float64(w * (t.Mark - mx))
			sy += float64(w * (float64(t.Weight) - my))
		}
		k.SumWeights = sw
		mx += sx / sw
		my += sy / sw
	}
	k.MeanMark, k.MeanWeight = mx, unit.Mass(my)

	var sxxx float64
	for _, t := range in.Trials {
		w, u := in.weightOf(t, f.knownSD), t.Mark-mx
		k.Sxx += float64(w * u * u)
		f.sxy += float64(w * u * (float64(t.Weight) - my))
		sxxx += float64(w * u * u * u)
	}
	k.Slope = f.sxy / k.Sxx
	if in.Shape == Quadratic {
		k.Skew = sxxx / k.Sxx
		for _, t := range in.Trials {
			w, u := in.weightOf(t, f.knownSD), t.Mark-mx
			q := k.bend(u)
			k.Sqq += float64(w * q * q)
			f.sqy += float64(w * q * (float64(t.Weight) - my - float64(k.Slope*u)))
		}
		k.Curve = f.sqy / k.Sqq
	}
	for _, t := range in.Trials {
		r := float64(t.Weight) - k.at(t.Mark-mx)
		f.ssr += float64(in.weightOf(t, f.knownSD) * r * r)
	}
	df := float64(k.DegreesOfFreedom)
	two := 0.5 + float64(in.Confidence)/200
	if in.Weighting == KnownSD {
		k.ResidualSD = unit.Mass(f.knownSD)
		k.PieceSD = unit.Mass(math.Sqrt(pieceVariance))
		k.StudentT = normalQuantile(two)
	} else {
		k.ResidualSD = unit.Mass(math.Sqrt(f.ssr / df))
		k.PieceSD = k.ResidualSD
		if in.Weighting == EqualWeights {
			k.PieceSD = unit.Mass(float64(k.ResidualSD) / math.Sqrt(meanOfInverse))
		}
		k.StudentT = distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(two)
	}
	f.pureError(in)
	return f
}

// pureError sums the squares within equal marks and counts the different ones.
func (f *fit) pureError(in MarkFit) {
	sorted := slices.Clone(in.Trials)
	slices.SortStableFunc(sorted, func(a, b Trial) int { return cmp.Compare(a.Mark, b.Mark) })
	for len(sorted) > 0 {
		n := 1
		for n < len(sorted) && sorted[n].Mark == sorted[0].Mark {
			n++
		}
		same := sorted[:n]
		sorted = sorted[n:]
		f.groups++
		mean := float64(same[0].Weight)
		for range 2 {
			var sw, sy float64
			for _, t := range same {
				w := in.weightOf(t, f.knownSD)
				sw += w
				sy += float64(w * (float64(t.Weight) - mean))
			}
			mean += sy / sw
		}
		for _, t := range same {
			r := float64(t.Weight) - mean
			f.pureSS += float64(in.weightOf(t, f.knownSD) * r * r)
		}
	}
}

// worst returns the trial with the largest studentised residual. A trial that
// alone holds the curve up at its end has no residual to judge.
func (f *fit) worst(in MarkFit) (index int, residual float64) {
	k := &f.cal
	// Residuals that are only the rounding of the arithmetic are none.
	if k.exact() {
		return 0, 0
	}
	for i, t := range in.Trials {
		u, w := t.Mark-k.MeanMark, in.weightOf(t, f.knownSD)
		free := 1 - float64(w*k.leverage(u))
		if free < 1e-9 {
			continue
		}
		r := math.Abs(float64(t.Weight)-k.at(u)) * math.Sqrt(w/free) / float64(k.ResidualSD)
		if r > residual {
			index, residual = i, r
		}
	}
	return index, residual
}

// outlierLimit returns what the largest studentised residual may be at the
// calibration's confidence, by Bonferroni's inequality. With the scatter taken
// from the fit, the limit is that of the residual against a fit without it.
func (f *fit) outlierLimit() float64 {
	k := &f.cal
	one := 1 - (1-float64(k.Confidence)/100)/float64(2*k.Trials)
	df := float64(k.DegreesOfFreedom)
	switch {
	case k.Weighting == KnownSD:
		return normalQuantile(one)
	case df < 2:
		return math.Sqrt(df) + 1 // it cannot be reached: one degree of freedom tells nothing
	}
	t := distuv.StudentsT{Sigma: 1, Nu: df - 1}.Quantile(one)
	return math.Sqrt(df * t * t / (df - 1 + float64(t*t)))
}

func (f *fit) result(in MarkFit) MarkFitResult {
	k := f.cal
	u, s2 := -k.MeanMark, float64(k.ResidualSD)*float64(k.ResidualSD)
	out := MarkFitResult{
		Calibration: k,
		Intercept:   unit.Mass(k.at(u)), InterceptSD: unit.Mass(math.Sqrt(k.variance(u))),
		Slope: k.slopeAt(u), SlopeSD: math.Sqrt(k.slopeVariance(u)), Curve: k.Curve,
		Covariance: float64(s2 * u / k.Sxx), SumSquares: f.ssr,
		PureErrorDF: k.Trials - f.groups, PureErrorSS: f.pureSS,
	}
	if k.Shape == Quadratic {
		out.CurveSD = math.Sqrt(s2 / k.Sqq)
		out.Covariance += float64(s2 * k.bend(u) * (float64(2*u) - k.Skew) / k.Sqq)
		if k.turns() {
			out.Conditions |= TurnsBack
		}
	}
	probability := float64(in.Confidence) / 100
	if in.Weighting == KnownSD {
		out.SumSquares = f.ssr / s2
		out.CriticalChi = distuv.ChiSquared{K: float64(k.DegreesOfFreedom)}.Quantile(probability)
		if out.SumSquares > out.CriticalChi {
			out.Conditions |= LackOfFit
		}
	}
	missDF := f.groups - in.Shape.coefficients()
	exact := k.exact()
	if exact {
		out.Conditions |= reckon.ScaleTooCoarse // no pieces are as even as that
	}
	switch {
	case out.PureErrorDF == 0 || missDF == 0:
	case f.pureSS == 0:
		// Trials that agree to the last digit leave no scatter to test against:
		// whatever the curve misses is then a lack of fit, on a scale too coarse to tell.
		out.Conditions |= reckon.ScaleTooCoarse
		if !exact {
			out.Conditions |= LackOfFit
		}
	default:
		out.LackOfFitF = max(0, f.ssr-f.pureSS) / float64(missDF) / (f.pureSS / float64(out.PureErrorDF))
		out.CriticalF = distuv.F{D1: float64(missDF), D2: float64(out.PureErrorDF)}.Quantile(probability)
		if out.LackOfFitF > out.CriticalF {
			out.Conditions |= LackOfFit
		}
	}
	out.Worst, out.WorstResidual = f.worst(in)
	if out.WorstResidual > f.outlierLimit() {
		out.Conditions |= reckon.Outlier
	}
	if t := k.StudentT; float64(t*t*k.slopeVariance(0)) >= k.slopeAt(0)*k.slopeAt(0) {
		out.Conditions |= WeighMore
	}
	return out
}

// usable reports whether the fit came out in numbers that later use can take.
func (r MarkFitResult) usable() bool {
	var c reckon.Checks
	r.Calibration.check(&c)
	for _, v := range [...]float64{
		float64(r.Intercept), float64(r.InterceptSD), r.Slope, r.SlopeSD, r.CurveSD,
		r.Covariance, r.SumSquares, r.LackOfFitF, r.CriticalF, r.CriticalChi, r.WorstResidual,
	} {
		if !(math.Abs(v) <= math.MaxFloat64) {
			return false
		}
	}
	return c.OK()
}

func (f *fit) explain(in MarkFit, out MarkFitResult, w *reckon.Working) {
	k := f.cal
	w.Given("sum of the trials' weights", "W", k.SumWeights, "", "summed over the trials")
	w.Given("mean mark", "x_m", k.MeanMark, "", "weighted mean of the trials")
	w.Given("mean weight", "y_m", float64(k.MeanWeight), "g", "weighted mean of the trials")
	w.Given("sum of squares of the marks", "S_xx", k.Sxx, "", "about the mean, summed over the trials")
	w.Given("sum of products", "S_xy", f.sxy, "g", "about the means, summed over the trials")
	w.Step("slope at the mean mark", "b", "S_xy / S_xx", k.Slope, "g per mark", "least squares")
	if k.Shape == Quadratic {
		w.Given("sum of squares of the bend", "S_qq", k.Sqq, "", "orthogonal to the line, summed over the trials")
		w.Given("sum of products of the bend", "S_qy", f.sqy, "g", "summed over the trials")
		w.Step("bend", "d", "S_qy / S_qq", k.Curve, "g per mark squared", "least squares")
	}
	w.Given("sum of squares about the curve", "S_r", f.ssr, "g²", "summed over the trials")
	w.Given("degrees of freedom", "f", float64(k.DegreesOfFreedom), "", "trials less coefficients")
	if in.Weighting == KnownSD {
		w.Given("standard deviation of a trial of weight 1", "s", float64(k.ResidualSD), "g", "as given with the trials")
		w.Step("chi-square", "X2", "S_r / (s*s)", out.SumSquares, "", "ISO/TS 28037:2010, clause 6")
		return
	}
	w.Step("standard deviation about the curve", "s", "sqrt(S_r / f)", float64(k.ResidualSD), "g", "least squares")
}

// bend returns the third term's bracket at u marks from the mean.
func (k *Calibration) bend(u float64) float64 {
	return float64(u*u) - float64(k.Skew*u) - k.Sxx/k.SumWeights
}

// at returns the fitted weight, in g, at u marks from the mean.
func (k *Calibration) at(u float64) float64 {
	y := float64(k.MeanWeight) + float64(k.Slope*u)
	if k.Shape == Quadratic {
		y += float64(k.Curve * k.bend(u))
	}
	return y
}

// slopeAt returns the slope, in g per mark, at u marks from the mean.
func (k *Calibration) slopeAt(u float64) float64 {
	if k.Shape == Quadratic {
		return k.Slope + float64(k.Curve*(float64(2*u)-k.Skew))
	}
	return k.Slope
}

// variance returns the variance, in g squared, of the fitted weight at u.
func (k *Calibration) variance(u float64) float64 {
	return float64(float64(k.ResidualSD) * float64(k.ResidualSD) * k.leverage(u))
}

// leverage returns that variance for a residual SD of 1.
func (k *Calibration) leverage(u float64) float64 {
	v := 1/k.SumWeights + float64(u*u)/k.Sxx
	if k.Shape == Quadratic {
		q := k.bend(u)
		v += float64(q*q) / k.Sqq
	}
	return v
}

// slopeVariance returns the variance of the slope at u.
func (k *Calibration) slopeVariance(u float64) float64 {
	v := 1 / k.Sxx
	if k.Shape == Quadratic {
		d := float64(2*u) - k.Skew
		v += float64(d*d) / k.Sqq
	}
	return float64(float64(k.ResidualSD) * float64(k.ResidualSD) * v)
}

// exact reports whether the trials lie on the curve to the last digits of the arithmetic.
func (k *Calibration) exact() bool {
	return float64(k.ResidualSD) < 1e-12*float64(k.MeanWeight)
}

// unscattered is the condition of every use of a calibration whose trials show
// no scatter, so that nothing can be told from noise.
func (k *Calibration) unscattered() Conditions {
	if float64(k.PieceSD) < 1e-12*float64(k.MeanWeight) {
		return reckon.ScaleTooCoarse
	}
	return 0
}

// turns reports whether the curve turns within the trial marks.
func (k *Calibration) turns() bool {
	return k.slopeAt(k.LowMark-k.MeanMark)*k.slopeAt(k.HighMark-k.MeanMark) <= 0
}

// check wants a calibration as [MarkFit] makes it. It is written so that
// every later sum stays finite.
func (k *Calibration) check(c *reckon.Checks) {
	reckon.CheckEither(c, "calibration.shape", k.Shape, Straight, Quadratic)
	switch k.Weighting {
	case EqualWeights, ByPieces, KnownSD:
	default:
		reckon.CheckWord(c, "calibration.weighting", k.Weighting, EqualWeights, ByPieces, KnownSD)
	}
	reckon.CheckCount(c, "calibration.across", k.Across, 0, maxAcross)
	reckon.CheckRange(c, "calibration.confidence", k.Confidence, 50, 99.9)
	// The widest Student's t that can arise: 99.9 % with one degree of freedom.
	reckon.CheckRange(c, "calibration.student_t", k.StudentT, 0.6, 700)
	reckon.CheckCount(c, "calibration.trials", k.Trials, k.Shape.coefficients()+1, maxTrials)
	reckon.CheckCount(c, "calibration.degrees_of_freedom", k.DegreesOfFreedom, 1, max(1, min(k.Trials, maxTrials)-k.Shape.coefficients()))
	reckon.CheckRange(c, "calibration.low_mark", k.LowMark, -maxMark, maxMark)
	if reckon.CheckRange(c, "calibration.high_mark", k.HighMark, -maxMark, maxMark) && !(k.LowMark < k.HighMark) {
		c.Fail("calibration.high_mark", strconv.FormatFloat(k.HighMark, 'g', 6, 64), "more than low_mark")
	}
	checkMarkWithin(c, "calibration.mean_mark", k.MeanMark, k.LowMark, k.HighMark)
	reckon.CheckAbove(c, "calibration.mean_weight", k.MeanWeight, maxWeight)
	const steep, tiny = 1e30, 1e-30
	reckon.CheckRange(c, "calibration.slope", k.Slope, -steep, steep)
	reckon.CheckRange(c, "calibration.sum_weights", k.SumWeights, tiny, 1e40)
	reckon.CheckRange(c, "calibration.sxx", k.Sxx, tiny, 1e60)
	reckon.CheckRange(c, "calibration.residual_sd", k.ResidualSD, 0, maxWeight)
	reckon.CheckRange(c, "calibration.piece_sd", k.PieceSD, 0, 1000*maxWeight)
	if k.Shape == Quadratic {
		reckon.CheckRange(c, "calibration.curve", k.Curve, -steep, steep)
		reckon.CheckRange(c, "calibration.skew", k.Skew, -2*maxMark, 2*maxMark)
		reckon.CheckRange(c, "calibration.sqq", k.Sqq, tiny, 1e80)
	} else if k.Curve != 0 || k.Skew != 0 || k.Sqq != 0 {
		c.Fail("calibration.curve", strconv.FormatFloat(k.Curve, 'g', 6, 64), "no curve, skew or sqq with the straight shape")
	}
}

// explain records what every use of the curve starts from.
func (k *Calibration) explain(w *reckon.Working) {
	w.Given("mean mark of the trials", "x_m", k.MeanMark, "", "calibration")
	w.Given("mean weight of the trials", "y_m", float64(k.MeanWeight), "g", "calibration")
	w.Given("slope", "b", k.Slope, "g per mark", "calibration")
	w.Given("bend", "d", k.Curve, "g per mark squared", "calibration")
	w.Given("lopsidedness of the marks", "k", k.Skew, "", "calibration")
	w.Given("sum of the trials' weights", "W", k.SumWeights, "", "calibration")
	w.Given("sum of squares of the marks", "S_xx", k.Sxx, "", "calibration")
	w.Given("Student's t", "t", k.StudentT, "", "calibration")
}
