package divider

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

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
	// KnownSD counts a trial by the standard deviation given with it, taken as exact.
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
	Mark   float64   `json:"mark" sym:"x_#" range:"-1e9..1e9"`      // where the handle stood
	Weight unit.Mass `json:"weight" sym:"y_#" range:">0 g..1000 t"` // mean weight of the pieces weighed
	Pieces int       `json:"pieces" sym:"n_#" range:"1..100000"`    // how many pieces the mean is of
	SD     unit.Mass `json:"sd,omitzero" sym:"s_#" range:"-"`       // standard deviation of that mean, 0.001 mg to 1000 t, for the weighting "known-sd" only
}

// check requires a trial that the weighting can count.
func (t Trial) check(c *reckon.Checks, weighting Weighting) {
	reckon.CheckRange(c, "mark", t.Mark, -maxMark, maxMark)
	reckon.CheckAbove(c, "weight", t.Weight, maxWeight)
	reckon.CheckCount(c, "pieces", t.Pieces, 1, 100_000)
	switch {
	case weighting == KnownSD:
		reckon.CheckRange(c, "sd", t.SD, 1e-6, maxWeight)
	case t.SD != 0:
		c.Fail("sd", t.SD.String(), `nothing, unless the weighting is "known-sd"`)
	}
}

// Calibration is weight against mark as fitted, with all that its later use
// needs, so that no table and no quantile is looked up again. At the mark x,
// with u = x - x_m, the curve is
//
//	y = y_m + b*u + d*(u^2 - k*u - S_xx/W)
//
// whose three terms are orthogonal over the trials. It holds for one machine,
// one dough and one number of pieces across.
type Calibration struct {
	Shape      Shape        `json:"shape"`                                   // "straight" or "quadratic"
	Weighting  Weighting    `json:"weighting"`                               // "equal", "by-pieces" or "known-sd"
	Across     int          `json:"across,omitzero" range:"1..32"`           // pieces across in the trials; 0 if it was not said
	Confidence unit.Percent `json:"confidence" sym:"C" range:"50 %..99.9 %"` // two-sided confidence of student_t
	StudentT   float64      `json:"student_t" sym:"t" range:"0.6..700"`      // Student's t for the confidence; the normal value with "known-sd"

	TrialCount       int     `json:"trial_count" range:"3..10000"`         // trials fitted, at least one more than the shape has coefficients
	DegreesOfFreedom int     `json:"degrees_of_freedom" sym:"f" range:"-"` // trials less coefficients; at least 1
	MarkLow          float64 `json:"mark_low" range:"-1e9..1e9"`           // lowest mark of the trials
	MarkHigh         float64 `json:"mark_high" range:"-"`                  // highest mark of the trials; above mark_low, up to 1e9

	MeanMark   float64   `json:"mean_mark" sym:"x_m" range:"-"`              // mean mark, each trial counted by its weighting; from mark_low to mark_high
	MeanWeight unit.Mass `json:"mean_weight" sym:"y_m" range:">0 g..1000 t"` // mean weight, counted in the same way
	Slope      unit.Mass `json:"slope" sym:"b" range:"-1e30 g..1e30 g"`      // weight of one mark, about the middle of the trials
	Curve      float64   `json:"curve,omitzero" sym:"d,0" range:"-"`         // g for each mark squared, -1e30 to 1e30; 0 for a straight line
	Skew       float64   `json:"skew,omitzero" sym:"k,0" range:"-"`          // in marks: how unevenly the trial marks lie about their mean, -2e9 to 2e9; 0 for a straight line

	SumWeights float64 `json:"sum_weights" sym:"W" range:"1e-30..1e40"` // sum of the trials' weights w
	Sxx        float64 `json:"sxx" sym:"S_xx" range:"1e-30..1e60"`      // sum of w*u*u, in marks squared
	Sqq        float64 `json:"sqq,omitzero" sym:"S_qq" range:"-"`       // sum of w times the square of the third term's bracket, 1e-30 to 1e80; 0 for a straight line

	ResidualSD unit.Mass `json:"residual_sd" sym:"s" range:"0 g..1000 t"`   // standard deviation of a trial whose w is 1; 0 only if all trials lie on the curve
	PieceSD    unit.Mass `json:"piece_sd" sym:"s_p" range:"0 g..1000000 t"` // standard deviation of single pieces, if the scatter is from piece to piece
}

// Check requires a calibration as [MarkFit] makes it. It is written so that
// every later sum stays finite.
func (k *Calibration) Check(c *reckon.Checks) {
	reckon.CheckEither(c, "shape", k.Shape, Straight, Quadratic)
	switch k.Weighting {
	case EqualWeights, ByPieces, KnownSD:
	default:
		reckon.CheckWord(c, "weighting", k.Weighting, EqualWeights, ByPieces, KnownSD)
	}
	reckon.CheckCount(c, "across", k.Across, 0, maxAcross)
	reckon.CheckRange(c, "confidence", k.Confidence, 50, 99.9)
	// The widest Student's t that can arise: 99.9 % with one degree of freedom.
	reckon.CheckRange(c, "student_t", k.StudentT, 0.6, 700)
	trials := maxTrials
	if reckon.CheckCount(c, "trial_count", k.TrialCount, k.Shape.coefficients()+1, maxTrials) {
		trials = k.TrialCount
	}
	reckon.CheckCount(c, "degrees_of_freedom", k.DegreesOfFreedom, 1, trials-k.Shape.coefficients())
	checkScale(c, k.MarkLow, k.MarkHigh)
	checkMarkWithin(c, "mean_mark", k.MeanMark, k.MarkLow, k.MarkHigh)
	reckon.CheckAbove(c, "mean_weight", k.MeanWeight, maxWeight)
	const steep, tiny = 1e30, 1e-30
	reckon.CheckRange(c, "slope", k.Slope, -steep, steep)
	reckon.CheckRange(c, "sum_weights", k.SumWeights, tiny, 1e40)
	reckon.CheckRange(c, "sxx", k.Sxx, tiny, 1e60)
	reckon.CheckRange(c, "residual_sd", k.ResidualSD, 0, maxWeight)
	reckon.CheckRange(c, "piece_sd", k.PieceSD, 0, 1000*maxWeight)
	if k.Shape == Quadratic {
		reckon.CheckRange(c, "curve", k.Curve, -steep, steep)
		reckon.CheckRange(c, "skew", k.Skew, -2*maxMark, 2*maxMark)
		reckon.CheckRange(c, "sqq", k.Sqq, tiny, 1e80)
	} else if k.Curve != 0 || k.Skew != 0 || k.Sqq != 0 {
		c.Fail("curve", strconv.FormatFloat(k.Curve, 'g', 6, 64), "no curve, skew or sqq with the straight shape")
	}
}

// bend returns the third term's bracket at u marks from the mean.
func (k *Calibration) bend(u float64) float64 {
	return float64(u*u) - float64(k.Skew*u) - k.Sxx/k.SumWeights
}

// at returns the fitted weight, in g, at u marks from the mean.
func (k *Calibration) at(u float64) float64 {
	y := float64(k.MeanWeight) + float64(float64(k.Slope)*u)
	if k.Shape == Quadratic {
		y += float64(k.Curve * k.bend(u))
	}
	return y
}

// slopeAt returns the slope, in g per mark, at u marks from the mean.
func (k *Calibration) slopeAt(u float64) float64 {
	if k.Shape == Quadratic {
		return float64(k.Slope) + float64(k.Curve*(float64(2*u)-k.Skew))
	}
	return float64(k.Slope)
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
// no scatter, so that nothing shows what is significant.
func (k *Calibration) unscattered() Conditions {
	if float64(k.PieceSD) < 1e-12*float64(k.MeanWeight) {
		return reckon.ScaleTooCoarse
	}
	return 0
}

// turns reports whether the curve turns within the trial marks.
func (k *Calibration) turns() bool {
	return k.slopeAt(k.MarkLow-k.MeanMark)*k.slopeAt(k.MarkHigh-k.MeanMark) <= 0
}

// MarkFit asks what weight each mark of the handle gives, by least squares through N
// trial weighings:
//
//	w_i  = 1, n_i or (s/s_i)^2    W = sum(w_i)
//	x_m  = sum(w_i*x_i) / W    y_m = sum(w_i*y_i) / W
//	S_xx = sum(w_i * (x_i - x_m)^2)
//	b    = sum(w_i * (x_i - x_m) * (y_i - y_m)) / S_xx
//	r_i  = y_i - y_m - b*(x_i - x_m) - d*q_i
//	S_r  = sum(w_i * r_i^2)    f = N - 2
//	s    = sqrt(S_r / f)
//	t    = Student's t, two-sided at C, for f degrees of freedom
//	s_p  = s, or with weights of 1: s / sqrt(sum(1/n_i) / N)
//
// A straight line has d = 0. The quadratic shape has a third term, orthogonal
// to both, and f = N - 3:
//
//	k    = sum(w_i * (x_i - x_m)^3) / S_xx
//	q_i  = (x_i - x_m)^2 - k*(x_i - x_m) - S_xx/W
//	S_qq = sum(w_i * q_i^2)
//	d    = sum(w_i * q_i * (y_i - y_m - b*(x_i - x_m))) / S_qq
//
// With standard deviations known, s is the root of the mean of s_i^2, s_p that
// of s_i^2*n_i, t the normal value, and S_r is divided by s^2 and compared with
// chi-square, X_c. At mark 0, for comparison with other work, with
// q_0 = x_m^2 + k*x_m - S_xx/W:
//
//	a    = y_m - b*x_m + d*q_0    s_a = s * sqrt(1/W + x_m^2/S_xx + q_0^2/S_qq)
//	b_0  = b - d*(2*x_m + k)    s_b = s * sqrt(1/S_xx + (2*x_m + k)^2/S_qq)
//	s_d  = s / sqrt(S_qq)
//	s_ab = -s^2 * (x_m/S_xx + q_0*(2*x_m + k)/S_qq)
//
// Marks that were weighed more than once test the shape: their scatter, S_e
// about the mean of each mark with f_e degrees of freedom, is what the fit may
// miss by. A trial i far off the curve is named and kept:
//
//	F = (S_r - S_e) / (f - f_e) / (S_e / f_e) with S_r in g^2, at most F_c
//	z = max(|r_i| * sqrt(w_i / (1 - w_i*(1/W + (x_i - x_m)^2/S_xx + q_i^2/S_qq))) / s)
//
// It holds if the errors of the trials are independent and of the size that
// the weighting says, and the mark has no error of its own. Trial marks are
// best weighed in mixed order, so that gassing dough is not taken for a slope.
//
// It is refused if:
//   - there are too few trials to leave a degree of freedom,
//   - a trial's sd is missing with "known-sd" or given without it,
//   - the marks are all the same (or only two, for a curve), or all weights are the same.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 4.4.3.1 and 4.4.4.6; the
// known standard deviations ISO/TS 28037:2010 clause 6; orthogonal terms G. E. Forsythe,
// J. SIAM 5 (1957) 74, and studentised residuals R. D. Cook and S. Weisberg (1982), both recalled; cases in testdata/cases/divider/mark-fit.json.
//
// The calibration's uses are [MarkForWeight], [WeightForMark] and [NextMark].
type MarkFit struct {
	Trials     []Trial      `json:"trials" items:"3..10000"`                 // at least one more than the shape has coefficients (2 or 3); equal marks are replicates
	Confidence unit.Percent `json:"confidence" sym:"C" range:"50 %..99.9 %"` // for every interval made from the fit
	Shape      Shape        `json:"shape"`                                   // the curve to fit
	Weighting  Weighting    `json:"weighting"`                               // how much each trial counts
	Across     int          `json:"across,omitzero" range:"1..32"`           // pieces across in the trials; leave out if it does not matter
}

// MarkFitResult is the calibration and how far to trust it.
type MarkFitResult struct {
	Calibration Calibration `json:"calibration"` // for [MarkForWeight], [WeightForMark] and [NextMark]

	Intercept   unit.Mass `json:"intercept" sym:"a"`               // what the curve says at mark 0, often far outside the trials
	InterceptSD unit.Mass `json:"intercept_sd" sym:"s_a"`          // its standard deviation
	Slope       unit.Mass `json:"slope" sym:"b_0"`                 // weight of one mark, at mark 0 if the shape is quadratic
	SlopeSD     unit.Mass `json:"slope_sd" sym:"s_b"`              // its standard deviation
	Curve       float64   `json:"curve,omitzero"`                  // g for each mark squared, as in the calibration
	CurveSD     float64   `json:"curve_sd,omitzero" sym:"s_d"`     // its standard deviation
	Covariance  float64   `json:"covariance" sym:"s_ab"`           // of intercept and slope, in g squared for each mark
	SumSquares  float64   `json:"sum_squares" sym:"S_r"`           // sum of w times residual squared, in g squared; chi-square with "known-sd", a pure number
	LackOfFitF  float64   `json:"lack_of_fit_f" sym:"F"`           // scatter about the curve over scatter within equal marks; 0 if no mark was repeated, no mark is to spare, or equal marks weighed the same to the last digit
	CriticalF   float64   `json:"critical_f" sym:"F_c"`            // what it may be at the confidence, 0 if there is no test
	PureErrorDF int       `json:"pure_error_df" sym:"f_e"`         // degrees of freedom within equal marks
	PureErrorSS float64   `json:"pure_error_ss" sym:"S_e"`         // sum of squares within equal marks, in g squared
	CriticalChi float64   `json:"critical_chi,omitzero" sym:"X_c"` // what sum_squares may be at the confidence, with "known-sd" only

	Worst         int     `json:"worst" sym:"i"`          // which trial lies furthest off the curve, counted from 0
	WorstResidual float64 `json:"worst_residual" sym:"z"` // its distance over the standard deviation of that distance; 0 if all lie on the curve

	Conditions Conditions      `json:"conditions"` // lack-of-fit, turns-back, weigh-more, outlier, scale-too-coarse
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, moving-belt
}

func (MarkFit) ID() string { return "mark-fit" }

func (q MarkFit) Check(c *reckon.Checks) {
	start := c.Mark()
	reckon.CheckRange(c, "confidence", q.Confidence, 50, 99.9)
	reckon.CheckEither(c, "shape", q.Shape, Straight, Quadratic)
	reckon.CheckWord(c, "weighting", q.Weighting, EqualWeights, ByPieces, KnownSD)
	reckon.CheckCount(c, "across", q.Across, 0, maxAcross)
	p := q.Shape.coefficients()
	if len(q.Trials) <= p || len(q.Trials) > maxTrials {
		c.Fail("trials", strconv.Itoa(len(q.Trials))+" weighings", strconv.Itoa(p+1)+" to "+strconv.Itoa(maxTrials)+
			": a "+string(q.Shape)+" fit through fewer has no degrees of freedom left to judge it by")
		return
	}
	for i, t := range q.Trials {
		mark := c.Mark()
		t.check(c, q.Weighting)
		c.Item(mark, "trials", i)
	}
	if c.Mark() > start {
		return
	}
	marks, sameWeight := q.differentMarks(p), true
	for _, t := range q.Trials {
		sameWeight = sameWeight && t.Weight == q.Trials[0].Weight
	}
	if marks < p {
		c.Fail("trials", "weighings at "+strconv.Itoa(marks)+" different mark(s)", strconv.Itoa(p)+" or more different marks: move the handle between trials")
	}
	if sameWeight {
		c.Fail("trials", "weighings that are all "+q.Trials[0].Weight.String(), "weights that differ: the handle has moved nothing, or the marks are too close")
	}
}

// Solve has no answer if the marks lie so close together that no slope can be found.
func (q MarkFit) Solve() (out MarkFitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	f := q.fit()
	found := f.result(q)
	if !found.usable() {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "curve", Wanted: "these trials",
			Advice: "the marks lie too close together to show a slope; spread them out",
		}
	}
	found.Cautions = reckon.MovingMachinery | reckon.MovingBelt
	return found, nil
}

func (q MarkFit) Show(w *reckon.Working, out MarkFitResult) {
	curved, known := q.Shape == Quadratic, q.Weighting == KnownSD
	w.Inputs(q)
	w.Lines(out, "trials: N = count(x_#...)", "lowest mark tried: x_low = min(x_#...)", "highest: x_high = max(x_#...)")
	counts := "1"
	switch {
	case known:
		w.Lines(out, "standard deviation of a trial of weight 1: s = sqrt(sum(s_#*s_#)/N)  [as given with the trials]")
		counts = "pow(s/s_#, 2)"
	case q.Weighting == ByPieces:
		counts = "n_#"
	}
	w.Lines(out, eachOf(len(q.Trials), "how much trial # counts: w_# = "+counts)...)
	w.Lines(out,
		"sum of the weights: W = sum(w_#)",
		"mean mark: x_m = sum(w_#*x_#)/W",
		"mean weight: y_m = sum(w_#*y_#)/W",
		"sum of squares of the marks: S_xx = sum(w_#*pow(x_# - x_m, 2))",
		"sum of products: S_xy = sum(w_#*(x_# - x_m)*(y_# - y_m)) in g",
		"weight of one mark, at the mean mark: b = S_xy/S_xx  [least squares]",
	)
	// The terms that only the bend adds, to a residual, a leverage and the variance of a slope.
	var rest, leverage, atZero, slope string
	if curved {
		w.Lines(out, "skew of the marks: k = sum(w_#*pow(x_# - x_m, 3))/S_xx")
		w.Lines(out, eachOf(len(q.Trials), "bend at trial #: q_# = pow(x_# - x_m, 2) - k*(x_# - x_m) - S_xx/W")...)
		w.Lines(out,
			"sum of squares of the bend: S_qq = sum(w_#*q_#*q_#)  [orthogonal to the line]",
			"sum of products of the bend: S_qy = sum(w_#*q_#*(y_# - y_m - b*(x_# - x_m))) in g",
			"bend: d = S_qy/S_qq in g per mark squared  [least squares]",
			"bend at mark 0: q_0 = x_m*x_m + k*x_m - S_xx/W",
		)
		rest, leverage, atZero, slope = " - d*q_#", " + q_#*q_#/S_qq", " + q_0*q_0/S_qq", " + pow(2*x_m + k, 2)/S_qq"
	}
	w.Lines(out, eachOf(len(q.Trials), "residual of trial #: r_# = y_# - y_m - b*(x_# - x_m)"+rest+" in g")...)
	w.Lines(out, "degrees of freedom: f = N - "+strconv.Itoa(q.Shape.coefficients()))
	squares := "S_r" // in g squared
	switch q.Weighting {
	case KnownSD:
		squares = "S_r*s*s"
		w.Lines(out,
			"chi-square: S_r = sum(w_#*r_#*r_#)/(s*s)  [ISO/TS 28037:2010, clause 6]",
			"standard deviation of a piece: s_p = sqrt(sum(s_#*s_#*n_#)/N)",
		)
		w.Given("what chi-square may be", "X_c", out.CriticalChi, "", "at C, for f degrees of freedom")
		w.Given("normal value", "t", out.Calibration.StudentT, "", "two-sided at C")
	default:
		piece := "s"
		if q.Weighting == EqualWeights {
			piece = "s/sqrt(sum(1/n_#)/N)"
		}
		w.Lines(out,
			"sum of squares about the curve: S_r = sum(w_#*r_#*r_#) in g²",
			"standard deviation about the curve: s = sqrt(S_r/f)  [least squares]",
			"standard deviation of a piece: s_p = "+piece,
		)
		w.Given("Student's t", "t", out.Calibration.StudentT, "", "two-sided at C, for f degrees of freedom")
	}
	q.showEqualMarks(w, out, squares)
	if curved {
		w.Lines(out,
			"weight at mark 0: a = y_m - b*x_m + d*q_0",
			"weight of one mark, at mark 0: b_0 = b - d*(2*x_m + k)",
			"covariance of the two: s_ab = -s*s*(x_m/S_xx + q_0*(2*x_m + k)/S_qq)",
			"standard deviation of the bend: s_d = s/sqrt(S_qq)",
		)
	} else {
		w.Lines(out,
			"weight at mark 0: a = y_m - b*x_m",
			"weight of one mark, at mark 0: b_0 = b",
			"covariance of the two: s_ab = -s*s*x_m/S_xx",
		)
	}
	w.Lines(out,
		"standard deviation of the weight at mark 0: s_a = s*sqrt(1/W + x_m*x_m/S_xx"+atZero+")",
		"standard deviation of the weight of one mark, at mark 0: s_b = s*sqrt(1/S_xx"+slope+")",
	)
	if out.WorstResidual > 0 {
		w.Item(out.Worst+1, out,
			"trial furthest off, counted from 0: i = # - 1",
			"its distance, over the standard deviation of that: z = abs(r_#)*sqrt(w_#/(1 - w_#*(1/W + pow(x_# - x_m, 2)/S_xx"+leverage+")))/s",
		)
	}
}

// showEqualMarks shows the scatter within equal marks and the test that it
// allows. The squares are those about the curve, in g squared.
func (q *MarkFit) showEqualMarks(w *reckon.Working, out MarkFitResult, squares string) {
	if out.PureErrorDF == 0 {
		return
	}
	numbers := map[float64][]string{} // of the trials, by their mark
	var marks []float64
	for i, t := range q.Trials {
		if numbers[t.Mark] == nil {
			marks = append(marks, t.Mark)
		}
		numbers[t.Mark] = append(numbers[t.Mark], strconv.Itoa(i+1))
	}
	var lines, terms []string
	for i, mark := range marks {
		same := numbers[mark]
		if len(same) == 1 {
			continue // a trial that is the mean of its mark
		}
		mean := "M_" + strconv.Itoa(i+1)
		var sum, weights []string
		for _, n := range same {
			sum = append(sum, "w_"+n+"*y_"+n)
			weights = append(weights, "w_"+n)
			terms = append(terms, "w_"+n+"*pow(y_"+n+" - "+mean+", 2)")
		}
		lines = append(lines, "mean weight at mark "+strconv.FormatFloat(mark, 'g', 6, 64)+": "+mean+
			" = ("+strings.Join(sum, " + ")+")/("+strings.Join(weights, " + ")+") in g")
	}
	w.Lines(out, lines...)
	w.Lines(out,
		"sum of squares within equal marks: S_e = "+strings.Join(terms, " + ")+" in g²",
		"degrees of freedom within equal marks: f_e = N - "+strconv.Itoa(len(marks)),
	)
	if out.CriticalF > 0 {
		w.Lines(out, "scatter about the curve over that within equal marks: F = max(0, "+squares+" - S_e)/(f - f_e)/(S_e/f_e)")
		w.Given("what it may be", "F_c", out.CriticalF, "", "at C, for f - f_e and f_e degrees of freedom")
	}
}

// differentMarks counts the different marks, up to enough.
func (q MarkFit) differentMarks(enough int) int {
	n := 0
	for i, t := range q.Trials {
		seen := false
		for _, before := range q.Trials[:i] {
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
	cal     Calibration
	knownSD float64 // the SD of a trial whose w is 1, if it is known
	ssr     float64
	pureSS  float64
	groups  int
}

// weightOf returns how much a trial counts. Known standard deviations are
// taken in units of unitSD, so that the residual SD stays a mass.
func (q MarkFit) weightOf(t Trial, unitSD float64) float64 {
	switch q.Weighting {
	case ByPieces:
		return float64(t.Pieces)
	case KnownSD:
		r := unitSD / float64(t.SD)
		return r * r
	}
	return 1
}

func (q MarkFit) fit() fit {
	n := float64(len(q.Trials))
	f := fit{cal: Calibration{
		Shape: q.Shape, Weighting: q.Weighting, Across: q.Across, Confidence: q.Confidence,
		TrialCount: len(q.Trials), DegreesOfFreedom: len(q.Trials) - q.Shape.coefficients(),
		MarkLow: q.Trials[0].Mark, MarkHigh: q.Trials[0].Mark,
	}}
	k := &f.cal
	var meanOfInverse, pieceVariance float64
	for _, t := range q.Trials {
		k.MarkLow, k.MarkHigh = min(k.MarkLow, t.Mark), max(k.MarkHigh, t.Mark)
		meanOfInverse += 1 / (n * float64(t.Pieces))
		f.knownSD += float64(float64(t.SD)*float64(t.SD)) / n
		pieceVariance += float64(float64(t.SD)*float64(t.SD)*float64(t.Pieces)) / n
	}
	f.knownSD = math.Sqrt(f.knownSD)

	// Means are taken about the first trial, then once more about themselves,
	// and every later sum about the means: raw sums would lose the digits.
	mx, my := q.Trials[0].Mark, float64(q.Trials[0].Weight)
	for range 2 {
		var sw, sx, sy float64
		for _, t := range q.Trials {
			w := q.weightOf(t, f.knownSD)
			sw += w
			sx += float64(w * (t.Mark - mx))
			sy += float64(w * (float64(t.Weight) - my))
		}
		k.SumWeights = sw
		mx += sx / sw
		my += sy / sw
	}
	k.MeanMark, k.MeanWeight = mx, unit.Mass(my)

	var sxy, sxxx float64
	for _, t := range q.Trials {
		w, u := q.weightOf(t, f.knownSD), t.Mark-mx
		k.Sxx += float64(w * u * u)
		sxy += float64(w * u * (float64(t.Weight) - my))
		sxxx += float64(w * u * u * u)
	}
	slope := sxy / k.Sxx
	k.Slope = unit.Mass(slope)
	if q.Shape == Quadratic {
		k.Skew = sxxx / k.Sxx
		var sqy float64
		for _, t := range q.Trials {
			w, u := q.weightOf(t, f.knownSD), t.Mark-mx
			bend := k.bend(u)
			k.Sqq += float64(w * bend * bend)
			sqy += float64(w * bend * (float64(t.Weight) - my - float64(slope*u)))
		}
		k.Curve = sqy / k.Sqq
	}
	for _, t := range q.Trials {
		r := float64(t.Weight) - k.at(t.Mark-mx)
		f.ssr += float64(q.weightOf(t, f.knownSD) * r * r)
	}
	df := float64(k.DegreesOfFreedom)
	two := 0.5 + float64(q.Confidence)/200
	if q.Weighting == KnownSD {
		k.ResidualSD = unit.Mass(f.knownSD)
		k.PieceSD = unit.Mass(math.Sqrt(pieceVariance))
		k.StudentT = normalQuantile(two)
	} else {
		k.ResidualSD = unit.Mass(math.Sqrt(f.ssr / df))
		k.PieceSD = k.ResidualSD
		if q.Weighting == EqualWeights {
			k.PieceSD = unit.Mass(float64(k.ResidualSD) / math.Sqrt(meanOfInverse))
		}
		k.StudentT = distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(two)
	}
	f.pureError(q)
	return f
}

// pureError sums the squares within equal marks and counts the different ones.
func (f *fit) pureError(q MarkFit) {
	sorted := slices.Clone(q.Trials)
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
				w := q.weightOf(t, f.knownSD)
				sw += w
				sy += float64(w * (float64(t.Weight) - mean))
			}
			mean += sy / sw
		}
		for _, t := range same {
			r := float64(t.Weight) - mean
			f.pureSS += float64(q.weightOf(t, f.knownSD) * r * r)
		}
	}
}

// worst returns the trial with the largest studentised residual. A trial that
// alone holds the curve up at its end has no residual to judge.
func (f *fit) worst(q MarkFit) (index int, residual float64) {
	k := &f.cal
	// Residuals that are only the rounding of the arithmetic are none.
	if k.exact() {
		return 0, 0
	}
	for i, t := range q.Trials {
		u, w := t.Mark-k.MeanMark, q.weightOf(t, f.knownSD)
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
	one := 1 - (1-float64(k.Confidence)/100)/float64(2*k.TrialCount)
	df := float64(k.DegreesOfFreedom)
	switch {
	case k.Weighting == KnownSD:
		return normalQuantile(one)
	case df < 2:
		return math.Sqrt(df) + 1 // it cannot be reached: one degree of freedom is too few
	}
	t := distuv.StudentsT{Sigma: 1, Nu: df - 1}.Quantile(one)
	return math.Sqrt(df * t * t / (df - 1 + float64(t*t)))
}

func (f *fit) result(q MarkFit) MarkFitResult {
	k := f.cal
	u, s2 := -k.MeanMark, float64(k.ResidualSD)*float64(k.ResidualSD)
	out := MarkFitResult{
		Calibration: k,
		Intercept:   unit.Mass(k.at(u)), InterceptSD: unit.Mass(math.Sqrt(k.variance(u))),
		Slope: unit.Mass(k.slopeAt(u)), SlopeSD: unit.Mass(math.Sqrt(k.slopeVariance(u))), Curve: k.Curve,
		Covariance: float64(s2 * u / k.Sxx), SumSquares: f.ssr,
		PureErrorDF: k.TrialCount - f.groups, PureErrorSS: f.pureSS,
	}
	if k.Shape == Quadratic {
		out.CurveSD = math.Sqrt(s2 / k.Sqq)
		out.Covariance += float64(s2 * k.bend(u) * (float64(2*u) - k.Skew) / k.Sqq)
		if k.turns() {
			out.Conditions |= TurnsBack
		}
	}
	probability := float64(q.Confidence) / 100
	if q.Weighting == KnownSD {
		out.SumSquares = f.ssr / s2
		out.CriticalChi = distuv.ChiSquared{K: float64(k.DegreesOfFreedom)}.Quantile(probability)
		if out.SumSquares > out.CriticalChi {
			out.Conditions |= LackOfFit
		}
	}
	missDF := f.groups - q.Shape.coefficients()
	exact := k.exact()
	if exact {
		out.Conditions |= reckon.ScaleTooCoarse // no pieces are as even as that
	}
	switch {
	case out.PureErrorDF == 0 || missDF == 0:
	case f.pureSS == 0:
		// Trials that agree to the last digit leave no scatter to test against:
		// whatever the curve misses is then a lack of fit, on a scale too coarse to show it.
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
	out.Worst, out.WorstResidual = f.worst(q)
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
	r.Calibration.Check(&c)
	for _, v := range [...]float64{
		float64(r.Intercept), float64(r.InterceptSD), float64(r.Slope), float64(r.SlopeSD), r.CurveSD,
		r.Covariance, r.SumSquares, r.LackOfFitF, r.CriticalF, r.CriticalChi, r.WorstResidual,
	} {
		if !(math.Abs(v) <= math.MaxFloat64) {
			return false
		}
	}
	return c.OK()
}
