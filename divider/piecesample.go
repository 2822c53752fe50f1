package divider

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// One weighing is taken to lie between these: less is an empty scale, more a
// slip of the unit or of a digit.
const (
	heaviestPiece unit.Mass = 100_000 // g
	lightestPiece unit.Mass = 0.001   // g
)

// mostWeighings bounds one sample: more than a long day's check-weighing.
const mostWeighings = 20_000

// The confidence levels and shares of pieces for which intervals are found.
const (
	lowestLevel  unit.Percent = 50
	highestLevel unit.Percent = 99.99
)

// ToleranceMethod names how the factor of a two-sided tolerance interval is
// found: sources print both.
type ToleranceMethod string

const (
	// ToleranceExact solves the integral that defines the factor.
	ToleranceExact ToleranceMethod = "exact"
	// ToleranceHowe is Howe's approximation: within 1 % of the exact factor from 10 pieces and shares of 90 to 99 %, within 5 % from 5 pieces.
	ToleranceHowe ToleranceMethod = "howe"
)

// checkLevel wants a share between the bounds of this file.
func checkLevel(c *reckon.Checks, field string, level unit.Percent) {
	reckon.CheckRange(c, field, level, lowestLevel, highestLevel)
}

// checkOptionalMass wants a mass of zero, which leaves it out, to the heaviest weighing.
func checkOptionalMass(c *reckon.Checks, field string, m unit.Mass) {
	reckon.CheckRange(c, field, m, 0, heaviestPiece)
}

// checkEach names every weighing that is no weight, and a count out of range.
func checkEach(c *reckon.Checks, field string, x []unit.Mass, atLeast int) {
	if len(x) < atLeast || len(x) > mostWeighings {
		c.Fail(field, fmt.Sprintf("%d weighings", len(x)), fmt.Sprintf("%d to %d weighings", atLeast, mostWeighings))
	}
	for i, m := range x {
		if !(m >= lightestPiece && m <= heaviestPiece) {
			c.Fail(fmt.Sprintf("%s[%d]", field, i), m.String(), "1 mg to 100 kg; leave out a weighing that was missed")
		}
	}
}

// checkWeighings is checkEach that also refuses weighings that are all equal,
// whose scatter nobody knows.
func checkWeighings(c *reckon.Checks, field string, x []unit.Mass, atLeast int) {
	checkEach(c, field, x, atLeast)
	for _, m := range x {
		if m != x[0] {
			return
		}
	}
	if len(x) >= atLeast {
		c.Fail(field, fmt.Sprintf("%d times %s", len(x), x[0]), "weighings that differ: read them on a finer scale, or weigh more pieces")
	}
}

// PieceSample returns what a sample of single pieces tells of all pieces: the
// mean with its interval, the scatter, the weights between which a named share
// of the pieces lies, and whether a weighing is an outlier:
//
//	mean interval:       m -+ t * s / sqrt(n)
//	next piece:          m -+ t * s * sqrt(1 + 1/n)
//	tolerance interval:  m -+ k * s
//	outlier:             G = max |x - m| / s > (n-1)/sqrt(n) * sqrt(t'^2 / (n - 2 + t'^2))
//
// t is Student's t with n - 1 degrees of freedom at (1 + level) / 2, t' that
// with n - 2 at 1 - (1 - level) / 2n (Grubbs' two-sided test), k the factor of
// [ToleranceFactor]. An outlier is told and kept: whether a piece was misread,
// or the divider does that now and then, is not in the numbers. The test sees
// one outlier; two on the same side can hide one another.
//
// It holds for pieces whose weights scatter normally and independently: pieces
// of one lane, weighed one by one. [GroupSample] says what is lost when they are
// weighed together, [ScaleDivision] what the scale must show.
//
// The mean and the standard deviation reach the certified digits of the NIST
// Statistical Reference Datasets as far as the data keep them in binary, and
// the t and chi-square quantiles 12 digits (quantile_test.go).
//
// It returns an *[reckon.InputError] if:
//   - there are fewer than 2 or more than 20 000 weighings, or they are all equal,
//   - a weighing is outside 1 mg to 100 kg,
//   - level or share is outside 50 to 99.99 %, or the method is not named,
//   - half_width or division is below 0 g or above 100 kg, or half_width is
//     above 0 g and less than a thousandth of the sd.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, sections 1.3.5.2
// (mean), 7.2.6.3 (tolerance interval) and 1.3.5.17.1 (outlier); F. E. Grubbs,
// Technometrics 11 (1969), 1-21.
type PieceSample struct {
	Weighings []unit.Mass     `json:"weighings"`           // weights of single pieces in the order weighed; 2 to 20 000, each 1 mg to 100 kg, not all equal
	Level     unit.Percent    `json:"level"`               // confidence of every interval; 50 % to 99.99 %
	Share     unit.Percent    `json:"share"`               // share of all pieces that the tolerance interval covers; 50 % to 99.99 %
	Method    ToleranceMethod `json:"method"`              // how its two-sided factor is found: "exact" or "howe"
	HalfWidth unit.Mass       `json:"half_width,omitzero"` // how well the mean must be known, plus or minus; 0 g asks for nothing
	Division  unit.Mass       `json:"division,omitzero"`   // smallest step of the scale; 0 g leaves it unchecked
}

func (PieceSample) ID() string { return "piece-sample" }

// SHELL
func (q PieceSample) Check(c *reckon.Checks) {
	_, err := explainPieceSample(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PieceSample) Solve() (PieceSampleResult, error) { return explainPieceSample(q, nil) }

func (q PieceSample) Show(w *reckon.Working, _ PieceSampleResult) { _, _ = explainPieceSample(q, w) }

// PieceSampleResult is what the sample tells of all pieces.
type PieceSampleResult struct {
	Pieces      int        `json:"pieces"`       // pieces weighed, n
	Mean        unit.Mass  `json:"mean"`         // mean of the sample
	SD          unit.Mass  `json:"sd"`           // standard deviation of single pieces, divisor n - 1
	Lightest    unit.Mass  `json:"lightest"`     // lightest piece weighed
	Heaviest    unit.Mass  `json:"heaviest"`     // heaviest piece weighed
	MeanLow     unit.Mass  `json:"mean_low"`     // the mean of all pieces lies from here
	MeanHigh    unit.Mass  `json:"mean_high"`    // to here, at the level
	SDLow       unit.Mass  `json:"sd_low"`       // the standard deviation of all pieces lies from here
	SDHigh      unit.Mass  `json:"sd_high"`      // to here, at the level
	AtLeast     unit.Mass  `json:"at_least"`     // the share of all pieces weighs at least this, at the level (one-sided)
	AtMost      unit.Mass  `json:"at_most"`      // the share of all pieces weighs at most this, at the level (one-sided)
	Farthest    int        `json:"farthest"`     // which weighing lies farthest from the mean, counted from 1
	Grubbs      float64    `json:"grubbs"`       // its distance from the mean in standard deviations, G
	GrubbsLimit float64    `json:"grubbs_limit"` // G above which it is an outlier at the level; 0 with two pieces, which have none
	Needed      int        `json:"needed"`       // pieces to weigh in all for the half-width asked for, were the scatter as found; 0 if none was asked
	NextLow     unit.Mass  `json:"next_low"`     // the next single piece lies from here
	NextHigh    unit.Mass  `json:"next_high"`    // to here, at the level
	PiecesLow   unit.Mass  `json:"pieces_low"`   // the share of all pieces lies from here
	PiecesHigh  unit.Mass  `json:"pieces_high"`  // to here, at the level (two-sided)
	Conditions  Conditions `json:"conditions"`   // weigh-more, outlier, scale-too-coarse
}

func explainPieceSample(in PieceSample, w *reckon.Working) (out PieceSampleResult, err error) {
	c := reckon.Checks{Func: "piece-sample"}
	checkWeighings(&c, "weighings", in.Weighings, 2)
	checkLevel(&c, "level", in.Level)
	checkLevel(&c, "share", in.Share)
	reckon.CheckEither(&c, "method", in.Method, ToleranceExact, ToleranceHowe)
	checkOptionalMass(&c, "half_width", in.HalfWidth)
	checkOptionalMass(&c, "division", in.Division)
	if err := c.Err(); err != nil {
		return PieceSampleResult{}, err
	}
	n := len(in.Weighings)
	count, level, share := float64(n), float64(in.Level)/100, float64(in.Share)/100
	mean, sd := meanSD(in.Weighings)
	if in.HalfWidth > 0 && !(sd <= mostRatio*float64(in.HalfWidth)) {
		c.Fail("half_width", in.HalfWidth.String(), "0 g, or at least a thousandth of the sd, which is "+unit.Mass(sd).String())
		return PieceSampleResult{}, c.Err()
	}
	out = PieceSampleResult{
		Pieces: n, Mean: unit.Mass(mean), SD: unit.Mass(sd),
		Lightest: in.Weighings[0], Heaviest: in.Weighings[0],
	}
	farthest := -1.0
	for i, m := range in.Weighings {
		out.Lightest, out.Heaviest = min(out.Lightest, m), max(out.Heaviest, m)
		if d := math.Abs(float64(m) - mean); d > farthest {
			farthest, out.Farthest = d, i+1
		}
	}
	out.Grubbs = farthest / sd
	if n > 2 {
		out.GrubbsLimit = grubbsLimit(count, level)
	}
	t := studentQuantile((1+level)/2, count-1)
	half := t * sd / math.Sqrt(count)
	out.MeanLow, out.MeanHigh = unit.Mass(mean-half), unit.Mass(mean+half)
	next := t * sd * math.Sqrt(1+1/count)
	out.NextLow, out.NextHigh = unit.Mass(mean-float64(next)), unit.Mass(mean+float64(next))
	out.SDLow = unit.Mass(sd * math.Sqrt((count-1)/chiSquareQuantile((1+level)/2, count-1)))
	out.SDHigh = unit.Mass(sd * math.Sqrt((count-1)/chiSquareQuantile((1-level)/2, count-1)))
	one := oneSidedFactor(count, share, level)
	out.AtLeast, out.AtMost = unit.Mass(mean-float64(one*sd)), unit.Mass(mean+float64(one*sd))
	k := howeFactor(count, share, level)
	if in.Method == ToleranceExact {
		k = exactFactor(count, share, level)
	}
	out.PiecesLow, out.PiecesHigh = unit.Mass(mean-float64(k*sd)), unit.Mass(mean+float64(k*sd))
	if in.HalfWidth > 0 {
		out.Needed = piecesForHalfWidth(sd/float64(in.HalfWidth), level)
		if half > float64(in.HalfWidth) {
			out.Conditions |= WeighMore
		}
	}
	if n > 2 && out.Grubbs > out.GrubbsLimit {
		out.Conditions |= reckon.Outlier
	}
	if in.Division > out.SD {
		out.Conditions |= reckon.ScaleTooCoarse
	}
	if w != nil {
		w.Given("pieces weighed", "n", count, "", "")
		w.Given("mean", "m", mean, "g", "two-pass mean of the weighings")
		w.Given("standard deviation", "s", sd, "g", "two-pass, divisor n - 1")
		w.Given("Student's t", "t", t, "", "n - 1 degrees of freedom, two-sided at the level")
		w.Step("half-width of the mean's interval", "U", "t*s/sqrt(n)", half, "g", "")
		w.Step("mean, lower limit", "m_low", "m - U", float64(out.MeanLow), "g", "")
		w.Step("mean, upper limit", "m_high", "m + U", float64(out.MeanHigh), "g", "")
		w.Step("next piece, lower limit", "y_low", "m - t*s*sqrt(1 + 1/n)", float64(out.NextLow), "g", "")
		w.Step("next piece, upper limit", "y_high", "m + t*s*sqrt(1 + 1/n)", float64(out.NextHigh), "g", "")
		w.Given("one-sided tolerance factor", "k_1", one, "", "noncentral t")
		w.Step("weight that the share reaches", "x_least", "m - k_1*s", float64(out.AtLeast), "g", "")
		w.Given("two-sided tolerance factor", "k_2", k, "", string(in.Method))
		w.Step("lower end of the share", "x_low", "m - k_2*s", float64(out.PiecesLow), "g", "")
		w.Step("upper end of the share", "x_high", "m + k_2*s", float64(out.PiecesHigh), "g", "")
	}
	return out, nil
}

// grubbsLimit returns the two-sided critical value of Grubbs' test.
func grubbsLimit(n, level float64) float64 {
	t := studentQuantile(1-(1-level)/(2*n), n-2)
	return (n - 1) / math.Sqrt(n) * math.Sqrt(t*t/(n-2+float64(t*t)))
}

// SampleSides names whether a shift to either side counts, or to one alone.
type SampleSides string

const (
	// TwoSided looks for a shift to either side.
	TwoSided SampleSides = "two"
	// OneSided looks for a shift to one named side alone, such as too light.
	OneSided SampleSides = "one"
)

// tail returns the share of the distribution below the quantile that the level asks for.
func (s SampleSides) tail(level float64) float64 {
	if s == TwoSided {
		return (1 + level) / 2
	}
	return level
}

// The ratio of scatter to what is asked for, within which samples are planned.
const (
	leastRatio = 1e-3
	mostRatio  = 1e3
)

func checkRatio(c *reckon.Checks, field string, sd, m unit.Mass) {
	sdOK := reckon.CheckRange(c, "sd", sd, 1e-6, heaviestPiece)
	if reckon.CheckPositive(c, field, m) && sdOK && !(sd/m >= leastRatio && sd/m <= mostRatio) {
		c.Fail(field, m.String(), "a thousandth to a thousand times the sd")
	}
}

// PiecesToWeigh returns how many pieces to weigh so that the mean is known
// within a wanted half-width: the smallest n with
//
//	t * s / sqrt(n) <= E
//
// where t is Student's t with n - 1 degrees of freedom at (1 + level) / 2. The
// normal formula (z * s / E)^2 is given beside it; it takes the standard
// deviation as known. Should the new sample scatter more than s, the interval
// comes out wider: [PieceSample] then says how many more to weigh.
//
// It returns an *[reckon.InputError] if:
//   - sd is outside 1 µg to 100 kg,
//   - half_width is not a thousandth to a thousand times the sd,
//   - level is outside 50 to 99.99 %.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
//
// The inverse is [HalfWidthForPieces].
type PiecesToWeigh struct {
	SD        unit.Mass    `json:"sd"`         // standard deviation of single pieces, from an earlier sample; 1 µg to 100 kg
	HalfWidth unit.Mass    `json:"half_width"` // how well the mean must be known, plus or minus; a thousandth to a thousand times the sd
	Level     unit.Percent `json:"level"`      // confidence; 50 % to 99.99 %
}

func (PiecesToWeigh) ID() string { return "pieces-to-weigh" }

// SHELL
func (q PiecesToWeigh) Check(c *reckon.Checks) {
	_, err := explainPiecesToWeigh(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PiecesToWeigh) Solve() (PiecesToWeighResult, error) { return explainPiecesToWeigh(q, nil) }

func (q PiecesToWeigh) Show(w *reckon.Working, _ PiecesToWeighResult) {
	_, _ = explainPiecesToWeigh(q, w)
}

// PiecesToWeighResult is the sample to take.
type PiecesToWeighResult struct {
	Pieces    int       `json:"pieces"`     // pieces to weigh, n
	Normal    int       `json:"normal"`     // what (z*s/E)^2 gives, which is 2 to 4 pieces too few in small samples
	HalfWidth unit.Mass `json:"half_width"` // half-width that n pieces give, at most the one asked for
}

func explainPiecesToWeigh(in PiecesToWeigh, w *reckon.Working) (out PiecesToWeighResult, err error) {
	c := reckon.Checks{Func: "pieces-to-weigh"}
	checkRatio(&c, "half_width", in.SD, in.HalfWidth)
	checkLevel(&c, "level", in.Level)
	if err := c.Err(); err != nil {
		return PiecesToWeighResult{}, err
	}
	level, sd := float64(in.Level)/100, float64(in.SD)
	z := normalQuantile((1 + level) / 2)
	n := piecesForHalfWidth(sd/float64(in.HalfWidth), level)
	t := studentQuantile((1+level)/2, float64(n-1))
	out = PiecesToWeighResult{
		Pieces: n, Normal: int(math.Ceil(square(z * sd / float64(in.HalfWidth)))),
		HalfWidth: unit.Mass(t * sd / math.Sqrt(float64(n))),
	}
	if w != nil {
		w.Given("standard deviation of pieces", "s", sd, "g", "")
		w.Given("half-width wanted", "E", float64(in.HalfWidth), "g", "")
		w.Given("normal quantile", "z", z, "", "two-sided at the level")
		w.Step("pieces, were the scatter known", "n_z", "ceil(z*s/E*(z*s/E))", float64(out.Normal), "pieces", "normal formula")
		w.Given("pieces to weigh", "n", float64(n), "pieces", "smallest n whose t*s/sqrt(n) is at most E")
		w.Given("Student's t", "t", t, "", "n - 1 degrees of freedom, two-sided at the level")
		w.Step("half-width then", "U", "t*s/sqrt(n)", float64(out.HalfWidth), "g", "")
	}
	return out, nil
}

func square(x float64) float64 { return float64(x * x) }

// piecesForHalfWidth returns the smallest n, 2 or more, with t*ratio/sqrt(n) <= 1.
func piecesForHalfWidth(ratio, level float64) int {
	p := (1 + level) / 2
	// t*s/sqrt(n) falls as n grows and t > z: the normal formula is a lower bound.
	n := max(2, int(math.Ceil(square(normalQuantile(p)*ratio))))
	for studentQuantile(p, float64(n-1))*ratio > math.Sqrt(float64(n)) {
		n++
	}
	return n
}

// HalfWidthForPieces returns how well a sample of n pieces fixes the mean:
//
//	E = t * s / sqrt(n)
//
// It is the inverse of [PiecesToWeigh], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - sd is outside 1 µg to 100 kg,
//   - pieces is outside 2 to 20 000 or level outside 50 to 99.99 %.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
type HalfWidthForPieces struct {
	SD     unit.Mass    `json:"sd"`     // standard deviation of single pieces; 1 µg to 100 kg
	Pieces int          `json:"pieces"` // pieces to weigh; 2 to 20 000
	Level  unit.Percent `json:"level"`  // confidence; 50 % to 99.99 %
}

func (HalfWidthForPieces) ID() string { return "half-width-for-pieces" }

// SHELL
func (q HalfWidthForPieces) Check(c *reckon.Checks) {
	_, err := explainHalfWidthForPieces(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q HalfWidthForPieces) Solve() (HalfWidthForPiecesResult, error) {
	return explainHalfWidthForPieces(q, nil)
}

func (q HalfWidthForPieces) Show(w *reckon.Working, _ HalfWidthForPiecesResult) {
	_, _ = explainHalfWidthForPieces(q, w)
}

// HalfWidthForPiecesResult is the precision to expect.
type HalfWidthForPiecesResult struct {
	HalfWidth unit.Mass `json:"half_width"` // the mean will be known plus or minus this
}

func explainHalfWidthForPieces(in HalfWidthForPieces, w *reckon.Working) (out HalfWidthForPiecesResult, err error) {
	c := reckon.Checks{Func: "half-width-for-pieces"}
	reckon.CheckRange(&c, "sd", in.SD, 1e-6, heaviestPiece)
	reckon.CheckCount(&c, "pieces", in.Pieces, 2, mostWeighings)
	checkLevel(&c, "level", in.Level)
	if err := c.Err(); err != nil {
		return HalfWidthForPiecesResult{}, err
	}
	n := float64(in.Pieces)
	t := studentQuantile((1+float64(in.Level)/100)/2, n-1)
	out = HalfWidthForPiecesResult{HalfWidth: unit.Mass(t * float64(in.SD) / math.Sqrt(n))}
	if w != nil {
		w.Given("standard deviation of pieces", "s", float64(in.SD), "g", "")
		w.Given("pieces to weigh", "n", n, "pieces", "")
		w.Given("Student's t", "t", t, "", "n - 1 degrees of freedom, two-sided at the level")
		w.Step("half-width", "E", "t*s/sqrt(n)", float64(out.HalfWidth), "g", "")
	}
	return out, nil
}

// PiecesToDetect returns how many pieces to weigh so that a check notices a
// shift of the mean: the smallest n with
//
//	n >= ((t_level + t_power) * s / shift)^2
//
// where both are Student's t with n - 1 degrees of freedom, at (1 + level) / 2
// if either side counts and at level if one does, and at power. This is the
// usual approximation to the power of the t test, which the noncentral t gives
// exactly.
//
// It returns an *[reckon.InputError] if:
//   - sd is outside 1 µg to 100 kg,
//   - shift is not a thousandth to a thousand times the sd,
//   - level or power is outside 50 to 99.99 %, or sides is not named.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
//
// The inverse is [ShiftForPieces].
type PiecesToDetect struct {
	SD    unit.Mass    `json:"sd"`    // standard deviation of single pieces; 1 µg to 100 kg
	Shift unit.Mass    `json:"shift"` // shift of the mean that must be seen; a thousandth to a thousand times the sd
	Level unit.Percent `json:"level"` // chance of no alarm when nothing has shifted; 50 % to 99.99 %
	Power unit.Percent `json:"power"` // chance of an alarm when the mean has shifted so far; 50 % to 99.99 %
	Sides SampleSides  `json:"sides"` // "two" if either side counts, "one" if one alone
}

func (PiecesToDetect) ID() string { return "pieces-to-detect" }

// SHELL
func (q PiecesToDetect) Check(c *reckon.Checks) {
	_, err := explainPiecesToDetect(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PiecesToDetect) Solve() (PiecesToDetectResult, error) { return explainPiecesToDetect(q, nil) }

func (q PiecesToDetect) Show(w *reckon.Working, _ PiecesToDetectResult) {
	_, _ = explainPiecesToDetect(q, w)
}

// PiecesToDetectResult is the sample to take.
type PiecesToDetectResult struct {
	Pieces int       `json:"pieces"` // pieces to weigh, n
	Normal int       `json:"normal"` // what the normal quantiles give, which is too few in small samples
	Shift  unit.Mass `json:"shift"`  // shift that n pieces detect, at most the one asked for
}

func explainPiecesToDetect(in PiecesToDetect, w *reckon.Working) (out PiecesToDetectResult, err error) {
	c := reckon.Checks{Func: "pieces-to-detect"}
	checkRatio(&c, "shift", in.SD, in.Shift)
	checkLevel(&c, "level", in.Level)
	checkLevel(&c, "power", in.Power)
	reckon.CheckEither(&c, "sides", in.Sides, TwoSided, OneSided)
	if err := c.Err(); err != nil {
		return PiecesToDetectResult{}, err
	}
	p, power, ratio := in.Sides.tail(float64(in.Level)/100), float64(in.Power)/100, float64(in.SD)/float64(in.Shift)
	zp, zq := normalQuantile(p), normalQuantile(power)
	normal := int(math.Ceil(square((zp + zq) * ratio)))
	n := max(2, normal)
	for square((studentQuantile(p, float64(n-1))+studentQuantile(power, float64(n-1)))*ratio) > float64(n) {
		n++
	}
	tp, tq := studentQuantile(p, float64(n-1)), studentQuantile(power, float64(n-1))
	out = PiecesToDetectResult{Pieces: n, Normal: normal, Shift: unit.Mass((tp + tq) * float64(in.SD) / math.Sqrt(float64(n)))}
	if w != nil {
		w.Given("standard deviation of pieces", "s", float64(in.SD), "g", "")
		w.Given("shift to see", "D", float64(in.Shift), "g", "")
		w.Given("normal quantile of the level", "z_a", zp, "", "")
		w.Given("normal quantile of the power", "z_b", zq, "", "")
		w.Step("pieces, were the scatter known", "n_z", "ceil((z_a + z_b)*s/D*((z_a + z_b)*s/D))", float64(normal), "pieces", "normal formula")
		w.Given("pieces to weigh", "n", float64(n), "pieces", "smallest n that reaches the same with Student's t")
		w.Given("Student's t of the level", "t_a", tp, "", "n - 1 degrees of freedom")
		w.Given("Student's t of the power", "t_b", tq, "", "n - 1 degrees of freedom")
		w.Step("shift seen then", "D_n", "(t_a + t_b)*s/sqrt(n)", float64(out.Shift), "g", "")
	}
	return out, nil
}

// ShiftForPieces returns the shift of the mean that a check of n pieces sees:
//
//	shift = (t_level + t_power) * s / sqrt(n)
//
// It is the inverse of [PiecesToDetect], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - sd is outside 1 µg to 100 kg,
//   - pieces is outside 2 to 20 000,
//   - level or power is outside 50 to 99.99 %, or sides is not named.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
type ShiftForPieces struct {
	SD     unit.Mass    `json:"sd"`     // standard deviation of single pieces; 1 µg to 100 kg
	Pieces int          `json:"pieces"` // pieces to weigh; 2 to 20 000
	Level  unit.Percent `json:"level"`  // chance of no alarm when nothing has shifted; 50 % to 99.99 %
	Power  unit.Percent `json:"power"`  // chance of an alarm when the mean has shifted so far; 50 % to 99.99 %
	Sides  SampleSides  `json:"sides"`  // "two" if either side counts, "one" if one alone
}

func (ShiftForPieces) ID() string { return "shift-for-pieces" }

// SHELL
func (q ShiftForPieces) Check(c *reckon.Checks) {
	_, err := explainShiftForPieces(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ShiftForPieces) Solve() (ShiftForPiecesResult, error) { return explainShiftForPieces(q, nil) }

func (q ShiftForPieces) Show(w *reckon.Working, _ ShiftForPiecesResult) {
	_, _ = explainShiftForPieces(q, w)
}

// ShiftForPiecesResult is what such a check sees.
type ShiftForPiecesResult struct {
	Shift unit.Mass `json:"shift"` // shift of the mean that is seen with the power asked for
}

func explainShiftForPieces(in ShiftForPieces, w *reckon.Working) (out ShiftForPiecesResult, err error) {
	c := reckon.Checks{Func: "shift-for-pieces"}
	reckon.CheckRange(&c, "sd", in.SD, 1e-6, heaviestPiece)
	reckon.CheckCount(&c, "pieces", in.Pieces, 2, mostWeighings)
	checkLevel(&c, "level", in.Level)
	checkLevel(&c, "power", in.Power)
	reckon.CheckEither(&c, "sides", in.Sides, TwoSided, OneSided)
	if err := c.Err(); err != nil {
		return ShiftForPiecesResult{}, err
	}
	n := float64(in.Pieces)
	tp, tq := studentQuantile(in.Sides.tail(float64(in.Level)/100), n-1), studentQuantile(float64(in.Power)/100, n-1)
	out = ShiftForPiecesResult{Shift: unit.Mass((tp + tq) * float64(in.SD) / math.Sqrt(n))}
	if w != nil {
		w.Given("standard deviation of pieces", "s", float64(in.SD), "g", "")
		w.Given("pieces to weigh", "n", n, "pieces", "")
		w.Given("Student's t of the level", "t_a", tp, "", "n - 1 degrees of freedom")
		w.Given("Student's t of the power", "t_b", tq, "", "n - 1 degrees of freedom")
		w.Step("shift seen", "D", "(t_a + t_b)*s/sqrt(n)", float64(out.Shift), "g", "")
	}
	return out, nil
}
