package divider

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// PieceSample asks what a sample of single pieces shows about all pieces: their
// mean and scatter, the weights between which a named share of them lies, and
// whether one weighing is an outlier:
//
//	m = sum(x_i) / n,  s = sqrt(sum((x_i - m)^2) / (n - 1))
//	m_low, m_high = m -+ t * s / sqrt(n), t at (1 + P) / 2
//	s_low, s_high = s * sqrt((n - 1) / chi2), chi2 at (1 + P) / 2 and (1 - P) / 2
//	y_low, y_high = m -+ t * s * sqrt(1 + 1/n)
//	x_least, x_most = m -+ k_1 * s,  x_low, x_high = m -+ k_2 * s, for the share p at the confidence P
//	x_min = min(x_i),  x_max = max(x_i)
//	G = |x_j - m| / s for the farthest weighing j, an outlier above
//	G_max = (n - 1) / sqrt(n) * sqrt(t_G^2 / (n - 2 + t_G^2))
//	n_E = the smallest n with t * s / sqrt(n) <= E
//	r_1 = sum of (x_i - m) * (x_(i+1) - m) / sum((x_i - m)^2),  r_max = z / sqrt(n), z at (1 + P) / 2
//
// t is Student's t and chi2 chi-square, both with n - 1 degrees of freedom, k_1
// and k_2 are the factors of [ToleranceFactor], and t_G is Student's t with n - 2
// degrees of freedom at 1 - (1 - P) / 2n (Grubbs' two-sided test). An outlier is
// reported and kept: whether a piece was misread, or the divider does that now
// and then, is not in the numbers. The test sees one outlier; two on the same
// side can hide one another.
//
// r_1 is the correlation of neighbours and r_max what it reaches by chance, see [WeighingCorrelation].
// With fewer than ten pieces it is not looked at.
//
// It holds for pieces whose weights scatter normally and independently: pieces
// of one lane, weighed one by one. If r_1 exceeds r_max, every interval here is too narrow. [GroupSample] says what is lost when they are
// weighed together, [ScaleDivision] what the scale must show.
//
// The mean and the standard deviation reach the certified digits of the NIST
// Statistical Reference Datasets as far as the data keep them in binary
// (weighing_test.go), and the t and chi-square quantiles 12 digits (quantile_test.go).
//
// It is refused if:
//   - the weighings are all equal,
//   - half_width is given and less than a thousandth of s.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, sections 1.3.5.2
// (mean), 7.2.6.3 (tolerance interval) and 1.3.5.17.1 (outlier); F. E. Grubbs,
// Technometrics 11 (1969), 1-21.
type PieceSample struct {
	Weighings  []unit.Mass     `json:"weighings" sym:"x_#" range:"1 mg..100 kg" items:"2..20000"` // weights of single pieces in the order weighed, not all equal
	Confidence unit.Percent    `json:"confidence" sym:"P" range:"50 %..99.99 %"`                  // confidence of every interval
	Share      unit.Percent    `json:"share" sym:"p" range:"50 %..99.99 %"`                       // share of all pieces that the tolerance interval covers
	Method     ToleranceMethod `json:"method"`                                                    // how its two-sided factor is found: "exact" or "howe"
	HalfWidth  unit.Mass       `json:"half_width,omitzero" sym:"E" range:"0 g..100 kg"`           // how well the mean must be known, plus or minus; 0 g asks for nothing
	Division   unit.Mass       `json:"division,omitzero" range:"0 g..100 kg"`                     // smallest step of the scale; 0 g leaves it unchecked
}

// PieceSampleResult is what the sample shows about all pieces.
type PieceSampleResult struct {
	Pieces      int       `json:"pieces" sym:"n"`           // pieces weighed
	Mean        unit.Mass `json:"mean" sym:"m"`             // mean of the sample
	SD          unit.Mass `json:"sd" sym:"s"`               // standard deviation of single pieces, divisor n - 1
	Lightest    unit.Mass `json:"lightest" sym:"x_min"`     // lightest piece weighed
	Heaviest    unit.Mass `json:"heaviest" sym:"x_max"`     // heaviest piece weighed
	MeanLow     unit.Mass `json:"mean_low" sym:"m_low"`     // the mean of all pieces lies from here
	MeanHigh    unit.Mass `json:"mean_high" sym:"m_high"`   // to here, at the confidence asked for
	SDLow       unit.Mass `json:"sd_low" sym:"s_low"`       // the standard deviation of all pieces lies from here
	SDHigh      unit.Mass `json:"sd_high" sym:"s_high"`     // to here, at the confidence asked for
	AtLeast     unit.Mass `json:"at_least" sym:"x_least"`   // the share of all pieces weighs at least this, at the confidence asked for (one-sided)
	AtMost      unit.Mass `json:"at_most" sym:"x_most"`     // the share of all pieces weighs at most this, at the confidence asked for (one-sided)
	Farthest    int       `json:"farthest" sym:"j"`         // which weighing lies farthest from the mean, counted from 1
	Grubbs      float64   `json:"grubbs" sym:"G"`           // its distance from the mean in standard deviations
	GrubbsLimit float64   `json:"grubbs_limit" sym:"G_max"` // G above which it is an outlier at the confidence asked for; 0 with two pieces, which have none
	Needed      int       `json:"needed" sym:"n_E"`         // pieces to weigh in all for the half-width asked for, if the scatter stays as found; 0 if none was asked
	NextLow     unit.Mass `json:"next_low" sym:"y_low"`     // the next single piece lies from here
	NextHigh    unit.Mass `json:"next_high" sym:"y_high"`   // to here, at the confidence asked for
	PiecesLow   unit.Mass `json:"pieces_low" sym:"x_low"`   // the share of all pieces lies from here
	PiecesHigh  unit.Mass `json:"pieces_high" sym:"x_high"` // to here, at the confidence asked for (two-sided)

	Correlation      float64 `json:"correlation" sym:"r_1"`         // correlation of neighbouring weighings; 0 with fewer than ten
	CorrelationLimit float64 `json:"correlation_limit" sym:"r_max"` // above this it is significant at the confidence asked for; 0 with fewer than ten

	Conditions Conditions      `json:"conditions"` // weigh-more, outlier, scale-too-coarse, correlated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-belt
}

func (PieceSample) ID() string { return "piece-sample" }

func (q PieceSample) Check(c *reckon.Checks) { q.check(c) }

// check returns the mean and the standard deviation, which limit the half-width.
func (q PieceSample) check(c *reckon.Checks) (mean, sd float64) {
	checkWeighings(c, "weighings", q.Weighings, 2)
	checkLevel(c, "confidence", q.Confidence)
	checkLevel(c, "share", q.Share)
	reckon.CheckEither(c, "method", q.Method, ToleranceExact, ToleranceHowe)
	checkOptionalMass(c, "half_width", q.HalfWidth)
	checkOptionalMass(c, "division", q.Division)
	if !c.OK() {
		return 0, 0
	}
	mean, sd = meanSD(q.Weighings)
	if q.HalfWidth != 0 && !(sd <= mostRatio*float64(q.HalfWidth)) {
		c.Fail("half_width", q.HalfWidth.String(), "0 g, or at least a thousandth of the sd, which is "+unit.Mass(sd).String())
	}
	return mean, sd
}

func (q PieceSample) Solve() (out PieceSampleResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	mean, sd := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	n := len(q.Weighings)
	count, level, share := float64(n), float64(q.Confidence)/100, float64(q.Share)/100
	out = PieceSampleResult{
		Pieces: n, Mean: unit.Mass(mean), SD: unit.Mass(sd),
		Lightest: q.Weighings[0], Heaviest: q.Weighings[0],
	}
	farthest := -1.0
	for i, m := range q.Weighings {
		out.Lightest, out.Heaviest = min(out.Lightest, m), max(out.Heaviest, m)
		if d := math.Abs(float64(m) - mean); d > farthest {
			farthest, out.Farthest = d, i+1
		}
	}
	out.Grubbs = farthest / sd
	if n > 2 {
		t := grubbsQuantile(count, level)
		out.GrubbsLimit = (count - 1) / math.Sqrt(count) * math.Sqrt(t*t/(count-2+float64(t*t)))
	}
	t := studentQuantile(twoSided(q.Confidence), count-1)
	half := t * sd / math.Sqrt(count)
	out.MeanLow, out.MeanHigh = unit.Mass(mean-half), unit.Mass(mean+half)
	next := t * sd * math.Sqrt(1+1/count)
	out.NextLow, out.NextHigh = unit.Mass(mean-float64(next)), unit.Mass(mean+float64(next))
	out.SDLow = unit.Mass(sd * math.Sqrt((count-1)/chiSquareQuantile((1+level)/2, count-1)))
	out.SDHigh = unit.Mass(sd * math.Sqrt((count-1)/chiSquareQuantile((1-level)/2, count-1)))
	one, two := oneSidedFactor(count, share, level), q.Method.factor(count, share, level)
	out.AtLeast, out.AtMost = unit.Mass(mean-float64(one*sd)), unit.Mass(mean+float64(one*sd))
	out.PiecesLow, out.PiecesHigh = unit.Mass(mean-float64(two*sd)), unit.Mass(mean+float64(two*sd))
	if q.HalfWidth != 0 {
		out.Needed = piecesForHalfWidth(sd/float64(q.HalfWidth), level)
		if half > float64(q.HalfWidth) {
			out.Conditions |= WeighMore
		}
	}
	if n > 2 && out.Grubbs > out.GrubbsLimit {
		out.Conditions |= reckon.Outlier
	}
	if n >= fewestForCorrelation {
		products, squares := neighbours(q.Weighings, mean)
		out.Correlation, out.CorrelationLimit = products/squares, correlationLimit(count, q.Confidence)
		if out.Correlation > out.CorrelationLimit {
			out.Conditions |= Correlated
		}
	}
	if q.Division > out.SD {
		out.Conditions |= reckon.ScaleTooCoarse
	}
	out.Cautions = reckon.MovingBelt
	return out, nil
}

func (q PieceSample) Show(w *reckon.Working, out PieceSampleResult) {
	n, level, share := float64(out.Pieces), float64(q.Confidence)/100, float64(q.Share)/100
	w.Inputs(q)
	w.Lines(out,
		"pieces weighed: n = count(x_#...)",
		"mean: m = sum(x_#)/n",
		"standard deviation: s = sqrt(sum((x_# - m)*(x_# - m))/(n - 1))",
		"lightest piece: x_min = min(x_#...)",
		"heaviest piece: x_max = max(x_#...)",
	)
	w.Given("number of the weighing farthest from the mean", "j", float64(out.Farthest), "", "as counted from 1")
	w.Lines(out, fmt.Sprintf("its distance in standard deviations: G = abs(x_%d - m)/s", out.Farthest))
	if out.Pieces > 2 {
		w.Given("Student's t for an outlier", "t_G", grubbsQuantile(n, level), "", "n - 2 degrees of freedom, at 1 - (1 - P/100)/(2*n)")
		w.Lines(out, "distance above which it is an outlier: G_max = (n - 1)/sqrt(n)*sqrt(t_G*t_G/(n - 2 + t_G*t_G))  [Grubbs 1969]")
	}
	if out.Pieces >= fewestForCorrelation {
		w.Lines(out, "correlation of neighbours: r_1 = ("+productsText(out.Pieces)+")/sum((x_# - m)*(x_# - m))  [each weighing with the next]")
		w.Given("normal quantile", "z", normalQuantile(twoSided(q.Confidence)), "", "at (1 + P/100)/2")
		w.Lines(out, "what it reaches by chance: r_max = z/sqrt(n)")
	}
	w.Given("Student's t", "t", studentQuantile(twoSided(q.Confidence), n-1), "", studentAtLevel)
	w.Given("upper chi-square quantile", "X_high", chiSquareQuantile((1+level)/2, n-1), "", "n - 1 degrees of freedom, at (1 + P/100)/2")
	w.Given("lower chi-square quantile", "X_low", chiSquareQuantile((1-level)/2, n-1), "", "n - 1 degrees of freedom, at (1 - P/100)/2")
	w.Lines(out,
		"half-width of the mean's interval: U = t*s/sqrt(n) in g",
		"mean, lower limit: m_low = m - U",
		"mean, upper limit: m_high = m + U",
		"standard deviation, lower limit: s_low = s*sqrt((n - 1)/X_high)",
		"standard deviation, upper limit: s_high = s*sqrt((n - 1)/X_low)",
		"next piece, lower limit: y_low = m - t*s*sqrt(1 + 1/n)",
		"next piece, upper limit: y_high = m + t*s*sqrt(1 + 1/n)",
	)
	if q.HalfWidth > 0 {
		w.Given("pieces for the half-width asked for", "n_E", float64(out.Needed), "", "smallest number whose t*s/sqrt(n) is at most E")
		w.Given("Student's t of so many", "t_E", studentQuantile(twoSided(q.Confidence), float64(out.Needed-1)), "", "n_E - 1 degrees of freedom, at (1 + P/100)/2")
		w.Lines(nil, "half-width of so many: E_n = t_E*s/sqrt(n_E) in g  [at most E]")
	}
	w.Given("one-sided tolerance factor", "k_1", oneSidedFactor(n, share, level), "", "tolerance-factor")
	w.Given("two-sided tolerance factor", "k_2", q.Method.factor(n, share, level), "", "tolerance-factor, "+string(q.Method))
	w.Lines(out,
		"weight that the share reaches: x_least = m - k_1*s",
		"weight that the share does not exceed: x_most = m + k_1*s",
		"lower end of the share: x_low = m - k_2*s",
		"upper end of the share: x_high = m + k_2*s",
	)
}

// studentAtLevel says where Student's t is taken for an interval that holds the level in the middle.
const studentAtLevel = "n - 1 degrees of freedom, at (1 + P/100)/2"

// grubbsQuantile returns the quantile behind the critical value of Grubbs' two-sided test.
func grubbsQuantile(n, level float64) float64 {
	return studentQuantile(1-(1-level)/(2*n), n-2)
}
