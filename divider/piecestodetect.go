package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

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

// where says in a working where that quantile is taken.
func (s SampleSides) where() string {
	if s == TwoSided {
		return "at (1 + P/100)/2, for two sides"
	}
	return "at P/100, for one side"
}

// PiecesToDetect asks how many pieces to weigh so that a check notices a shift
// of the mean, by the exact power of the t test:
//
//	n = the smallest n with Q_n >= Q
//	Q_n = 1 - F(t_a; n - 1, d) for one side,  1 - F(t_a; n - 1, d) + F(-t_a; n - 1, d) for two
//	d = D * sqrt(n) / s
//	D_n = d_n * s / sqrt(n),  d_n the d at which Q_n = Q
//	n_z = ceil(((z_a + z_b) * s / D)^2)
//	t_a, z_a at (1 + P) / 2 if either side counts, at P if one does;  z_b at Q
//
// F is the noncentral t distribution with n - 1 degrees of freedom and the
// noncentrality d, t_a Student's t with as many, z_a and z_b are normal quantiles. An alarm
// on the wrong side counts as one, as it does at the line. The check judges by the scatter of
// its own pieces; s is only what that scatter is expected to be.
//
// It holds for pieces whose weights scatter normally and independently: neighbours
// that resemble one another tell less, see [WeighingCorrelation].
//
// It is refused if:
//   - shift is not a thousandth to a thousand times sd.
//
// Source: N. L. Johnson, S. Kotz and N. Balakrishnan, Continuous Univariate Distributions,
// volume 2 (2nd ed. 1995), chapter 31; NIST/SEMATECH e-Handbook of Statistical Methods,
// section 7.2.2.2 (the normal formula); cases in testdata/cases/divider/pieces-to-detect.json.
//
// The inverse is [ShiftForPieces].
type PiecesToDetect struct {
	SD              unit.Mass    `json:"sd" sym:"s" range:"0.001 mg..100 kg"`            // standard deviation of single pieces
	Shift           unit.Mass    `json:"shift" sym:"D" range:"-"`                        // shift of the mean that must be seen; a thousandth to a thousand times sd
	Confidence      unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"`       // chance of no alarm when nothing has shifted
	DetectionChance unit.Percent `json:"detection_chance" sym:"Q" range:"50 %..99.99 %"` // chance of an alarm when the mean has shifted so far
	Sides           SampleSides  `json:"sides"`                                          // "two" if either side counts, "one" if one alone
}

// PiecesToDetectResult is the sample to take.
type PiecesToDetectResult struct {
	Pieces int       `json:"pieces" sym:"n"`   // pieces to weigh
	Normal int       `json:"normal" sym:"n_z"` // what the normal quantiles give, which is too few in small samples
	Shift  unit.Mass `json:"shift" sym:"D_n"`  // shift that n pieces detect, at most the one asked for

	DetectionChance unit.Percent `json:"detection_chance" sym:"Q_n"` // chance of an alarm from n pieces when the mean has shifted as asked; at least the chance asked for

	Cautions reckon.Cautions `json:"cautions"` // moving-belt
}

func (PiecesToDetect) ID() string { return "pieces-to-detect" }

func (q PiecesToDetect) Check(c *reckon.Checks) {
	checkRatio(c, "shift", q.SD, q.Shift)
	checkDetection(c, q.Confidence, q.DetectionChance, q.Sides)
}

func (q PiecesToDetect) Solve() (out PiecesToDetectResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	p, power, ratio := q.Sides.tail(float64(q.Confidence)/100), float64(q.DetectionChance)/100, float64(q.SD)/float64(q.Shift)
	zp, zq := normalQuantile(p), normalQuantile(power)
	normal := int(math.Ceil(square((zp + zq) * ratio)))
	n := max(2, normal)
	// The exact power needs a few pieces more than the normal formula says, never many;
	// nor is it always more: for two pieces an alarm on the wrong side counts for something.
	for n > 2 && alarmChance(float64(n-1), p, math.Sqrt(float64(n-1))/ratio, q.Sides) >= power {
		n--
	}
	chance := alarmChance(float64(n), p, math.Sqrt(float64(n))/ratio, q.Sides)
	for chance < power {
		n++
		chance = alarmChance(float64(n), p, math.Sqrt(float64(n))/ratio, q.Sides)
	}
	out.Pieces, out.Normal, out.DetectionChance = n, normal, unit.Percent(100*chance)
	// What bisection leaves over does not make the shift larger than the one that is seen.
	out.Shift = min(q.Shift, unit.Mass(shiftSeen(float64(n), p, power, q.Sides)*float64(q.SD)/math.Sqrt(float64(n))))
	out.Cautions = reckon.MovingBelt
	return out, nil
}

func (q PiecesToDetect) Show(w *reckon.Working, out PiecesToDetectResult) {
	w.Inputs(q)
	p, power, n := q.Sides.tail(float64(q.Confidence)/100), float64(q.DetectionChance)/100, float64(out.Pieces)
	w.Given("normal quantile of the confidence", "z_a", normalQuantile(p), "", q.Sides.where())
	w.Given("normal quantile of the detection chance", "z_b", normalQuantile(power), "", "at Q/100")
	w.Lines(out, "pieces, if the scatter were known: n_z = ceil((z_a + z_b)*s/D*((z_a + z_b)*s/D)) in pieces  [normal formula]")
	w.Given("pieces to weigh", "n", n, "pieces", "smallest n whose chance of an alarm is at least Q")
	w.Given("Student's t of the confidence", "t_a", studentQuantile(p, n-1), "", "n - 1 degrees of freedom, "+q.Sides.where())
	w.Lines(out, "noncentrality of that shift: d = D*sqrt(n)/s")
	w.Given("chance of an alarm from n pieces", "Q_n", float64(out.DetectionChance), "%", "noncentral t with n - 1 degrees of freedom and noncentrality d, beyond "+q.Sides.beyond())
	if out.Shift == q.Shift {
		w.Lines(out, "shift seen then: D_n = D  [n pieces see no less]")
		return
	}
	w.Given("noncentrality seen with the chance asked for", "d_n", shiftSeen(n, p, power, q.Sides), "", "found by bisection")
	w.Lines(out, "shift seen then: D_n = d_n*s/sqrt(n)")
}

func checkDetection(c *reckon.Checks, confidence, chance unit.Percent, sides SampleSides) {
	checkLevel(c, "confidence", confidence)
	checkLevel(c, "detection_chance", chance)
	reckon.CheckEither(c, "sides", sides, TwoSided, OneSided)
}

// beyond says in a working what counts as an alarm.
func (s SampleSides) beyond() string {
	if s == TwoSided {
		return "t_a or -t_a"
	}
	return "t_a"
}

// alarmChance returns the chance that the t test of n pieces sounds an alarm, with the
// share p of Student's t below its limit and the noncentrality d.
func alarmChance(n, p, d float64, sides SampleSides) float64 {
	return chanceBeyond(studentQuantile(p, n-1), n-1, d, sides)
}

func chanceBeyond(t, df, d float64, sides SampleSides) float64 {
	// T(d) < t is -T(-d) < t: the upper tail is taken as a lower one, and keeps its digits.
	chance := noncentralBelow(-t, df, -d)
	if sides == TwoSided {
		chance += noncentralBelow(-t, df, d)
	}
	return chance
}

// shiftSeen returns the noncentrality at which the alarm sounds with the chance power, which
// is at least the chance of a false one.
func shiftSeen(n, p, power float64, sides SampleSides) float64 {
	t := studentQuantile(p, n-1)
	lack := func(d float64) float64 { return chanceBeyond(t, n-1, d, sides) - power }
	if lack(0) >= 0 {
		return 0 // as often by chance alone
	}
	high := 1 + t
	for lack(high) < 0 {
		high *= 2
	}
	d, _ := reckon.Bisect(0, high, lack)
	return d
}

// ShiftForPieces asks what shift of the mean a check of so many pieces shows:
//
//	D_n = d_n * s / sqrt(n),  d_n the d at which Q_n = Q
//	Q_n = 1 - F(t_a; n - 1, d) for one side,  1 - F(t_a; n - 1, d) + F(-t_a; n - 1, d) for two
//	t_a at (1 + P) / 2 if either side counts, at P if one does
//
// F is the noncentral t distribution and t_a Student's t, both with n - 1
// degrees of freedom. It is the inverse of [PiecesToDetect], with the same validity
// and source. Where a false alarm is as likely as Q, the shift is 0 g.
//
// Source: N. L. Johnson, S. Kotz and N. Balakrishnan, Continuous Univariate Distributions,
// volume 2 (2nd ed. 1995), chapter 31.
//
// The inverse is [PiecesToDetect].
type ShiftForPieces struct {
	SD              unit.Mass    `json:"sd" sym:"s" range:"0.001 mg..100 kg"`            // standard deviation of single pieces
	Pieces          int          `json:"pieces" sym:"n" range:"2..20000"`                // pieces to weigh
	Confidence      unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"`       // chance of no alarm when nothing has shifted
	DetectionChance unit.Percent `json:"detection_chance" sym:"Q" range:"50 %..99.99 %"` // chance of an alarm when the mean has shifted so far
	Sides           SampleSides  `json:"sides"`                                          // "two" if either side counts, "one" if one alone
}

// ShiftForPiecesResult is what such a check shows.
type ShiftForPiecesResult struct {
	Shift unit.Mass `json:"shift" sym:"D_n"` // shift of the mean that is seen with the chance asked for
}

func (ShiftForPieces) ID() string { return "shift-for-pieces" }

func (q ShiftForPieces) Check(c *reckon.Checks) {
	checkSD(c, "sd", q.SD)
	reckon.CheckCount(c, "pieces", q.Pieces, 2, mostWeighings)
	checkDetection(c, q.Confidence, q.DetectionChance, q.Sides)
}

func (q ShiftForPieces) Solve() (out ShiftForPiecesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n := float64(q.Pieces)
	out.Shift = unit.Mass(shiftSeen(n, q.Sides.tail(float64(q.Confidence)/100), float64(q.DetectionChance)/100, q.Sides) * float64(q.SD) / math.Sqrt(n))
	return out, nil
}

func (q ShiftForPieces) Show(w *reckon.Working, out ShiftForPiecesResult) {
	w.Inputs(q)
	p, n := q.Sides.tail(float64(q.Confidence)/100), float64(q.Pieces)
	w.Given("Student's t of the confidence", "t_a", studentQuantile(p, n-1), "", "n - 1 degrees of freedom, "+q.Sides.where())
	w.Given("noncentrality seen with the chance asked for", "d_n", shiftSeen(n, p, float64(q.DetectionChance)/100, q.Sides), "",
		"noncentral t with n - 1 degrees of freedom, beyond "+q.Sides.beyond()+", found by bisection")
	w.Lines(out, "shift seen: D_n = d_n*s/sqrt(n)")
}
