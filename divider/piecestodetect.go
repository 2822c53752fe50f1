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
// of the mean:
//
//	n = the smallest n with D_n = (t_a + t_b) * s / sqrt(n) <= D
//	n_z = ceil(((z_a + z_b) * s / D)^2)
//	t_a, z_a at (1 + P) / 2 if either side counts, at P if one does;  t_b, z_b at Q
//
// t_a and t_b are Student's t with n - 1 degrees of freedom, z_a and z_b normal
// quantiles. This is the usual approximation to the power of the t test, which
// the noncentral t gives exactly.
//
// It is refused if:
//   - shift is not a thousandth to a thousand times sd.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
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
	Pieces   int             `json:"pieces" sym:"n"`   // pieces to weigh
	Normal   int             `json:"normal" sym:"n_z"` // what the normal quantiles give, which is too few in small samples
	Shift    unit.Mass       `json:"shift" sym:"D_n"`  // shift that n pieces detect, at most the one asked for
	Cautions reckon.Cautions `json:"cautions"`         // moving-belt
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
	for square((studentQuantile(p, float64(n-1))+studentQuantile(power, float64(n-1)))*ratio) > float64(n) {
		n++
	}
	out.Pieces, out.Normal = n, normal
	tp, tq := studentQuantile(p, float64(n-1)), studentQuantile(power, float64(n-1))
	out.Shift = unit.Mass((tp + tq) * float64(q.SD) / math.Sqrt(float64(n)))
	out.Cautions = reckon.MovingBelt
	return out, nil
}

func (q PiecesToDetect) Show(w *reckon.Working, out PiecesToDetectResult) {
	w.Inputs(q)
	w.Given("normal quantile of the confidence", "z_a", normalQuantile(q.Sides.tail(float64(q.Confidence)/100)), "", q.Sides.where())
	w.Given("normal quantile of the detection chance", "z_b", normalQuantile(float64(q.DetectionChance)/100), "", "at Q/100")
	w.Lines(out, "pieces, if the scatter were known: n_z = ceil((z_a + z_b)*s/D*((z_a + z_b)*s/D)) in pieces  [normal formula]")
	w.Given("pieces to weigh", "n", float64(out.Pieces), "pieces", "smallest n that reaches the same with Student's t")
	showDetection(w, out.Pieces, q.Confidence, q.DetectionChance, q.Sides)
	w.Lines(out, "shift seen then: D_n = (t_a + t_b)*s/sqrt(n)")
}

func checkDetection(c *reckon.Checks, confidence, chance unit.Percent, sides SampleSides) {
	checkLevel(c, "confidence", confidence)
	checkLevel(c, "detection_chance", chance)
	reckon.CheckEither(c, "sides", sides, TwoSided, OneSided)
}

// showDetection records Student's t of the confidence and of the detection chance.
func showDetection(w *reckon.Working, n int, level, power unit.Percent, sides SampleSides) {
	df := float64(n - 1)
	w.Given("Student's t of the confidence", "t_a", studentQuantile(sides.tail(float64(level)/100), df), "", "n - 1 degrees of freedom, "+sides.where())
	w.Given("Student's t of the detection chance", "t_b", studentQuantile(float64(power)/100, df), "", "n - 1 degrees of freedom, at Q/100")
}

// ShiftForPieces asks what shift of the mean a check of so many pieces shows:
//
//	D_n = (t_a + t_b) * s / sqrt(n)
//	t_a at (1 + P) / 2 if either side counts, at P if one does;  t_b at Q
//
// t_a and t_b are Student's t with n - 1 degrees of freedom. It is the inverse of
// [PiecesToDetect], with the same validity and source.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
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
	tp, tq := studentQuantile(q.Sides.tail(float64(q.Confidence)/100), n-1), studentQuantile(float64(q.DetectionChance)/100, n-1)
	out.Shift = unit.Mass((tp + tq) * float64(q.SD) / math.Sqrt(n))
	return out, nil
}

func (q ShiftForPieces) Show(w *reckon.Working, out ShiftForPiecesResult) {
	w.Inputs(q)
	showDetection(w, q.Pieces, q.Confidence, q.DetectionChance, q.Sides)
	w.Lines(out, "shift seen: D_n = (t_a + t_b)*s/sqrt(n)")
}
