package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// PiecesToWeigh asks how many pieces to weigh so that the mean is known within
// a wanted half-width:
//
//	E_u = max(E, H, d / 2)
//	n = the smallest n with U = t * s / sqrt(n) <= E_u, t at (1 + P) / 2
//	n_z = max(1, ceil((z * s / E_u)^2)), z at (1 + P) / 2
//	g = the smallest g with U_g = t_g * s / sqrt(k * g) <= E_u, t_g at (1 + P) / 2
//
// t is Student's t with n - 1 degrees of freedom and z the normal quantile. The
// normal formula n_z takes the standard deviation as known and falls short in
// small samples. A mean known better than half a step of the handle changes no
// setting, and a scale rounds by half a division: finer is not asked for, and finer-than-usable says so.
//
// Where single weighing is too much work g groups of k pieces weighed together
// give the mean as well; t_g has g - 1 degrees of freedom. What a group hides
// says [GroupSample]: a double or a torn piece does not show by itself.
//
// Should the new sample scatter more than s, the interval comes
// out wider: [PieceSample] then says how many more to weigh.
//
// It is refused if:
//   - half_width is not a thousandth to a thousand times sd.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
//
// The inverse is [HalfWidthForPieces].
type PiecesToWeigh struct {
	SD         unit.Mass    `json:"sd" sym:"s" range:"0.001 mg..100 kg"`              // standard deviation of single pieces, from an earlier sample
	HalfWidth  unit.Mass    `json:"half_width" sym:"E" range:"-"`                     // how well the mean must be known, plus or minus; a thousandth to a thousand times sd
	Confidence unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"`         // confidence
	HalfStep   unit.Mass    `json:"half_step,omitzero" sym:"H,0" range:"0 g..100 kg"` // weight of half a step of the handle, as [HandleBand] gives it; leave out if it does not matter
	Division   unit.Mass    `json:"division,omitzero" sym:"d,0" range:"0 g..100 kg"`  // smallest step of the scale; leave out if it does not matter
	Group      int          `json:"group,omitzero" sym:"k" range:"2..1000"`           // pieces to weigh together; leave out if each is weighed by itself
}

// PiecesToWeighResult is the sample to take.
type PiecesToWeighResult struct {
	Usable         unit.Mass `json:"usable" sym:"E_u"`                    // half-width that the sample is for: the one asked for, or the finest that is of use
	Pieces         int       `json:"pieces" sym:"n"`                      // pieces to weigh
	Normal         int       `json:"normal" sym:"n_z"`                    // what the normal formula gives, which is 2 to 4 pieces too few in small samples
	HalfWidth      unit.Mass `json:"half_width" sym:"U"`                  // half-width that n pieces give, at most the usable one
	Groups         int       `json:"groups,omitzero" sym:"g"`             // in place of n single weighings, so many of the groups; left out without a group
	GroupHalfWidth unit.Mass `json:"group_half_width,omitzero" sym:"U_g"` // half-width that they give

	Conditions Conditions      `json:"conditions"` // finer-than-usable
	Cautions   reckon.Cautions `json:"cautions"`   // moving-belt
}

func (PiecesToWeigh) ID() string { return "pieces-to-weigh" }

func (q PiecesToWeigh) Check(c *reckon.Checks) {
	checkRatio(c, "half_width", q.SD, q.HalfWidth)
	checkLevel(c, "confidence", q.Confidence)
	checkOptionalMass(c, "half_step", q.HalfStep)
	checkOptionalMass(c, "division", q.Division)
	if q.Group != 0 {
		reckon.CheckCount(c, "group", q.Group, 2, 1000)
	}
}

func (q PiecesToWeigh) Solve() (out PiecesToWeighResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Usable = max(q.HalfWidth, q.HalfStep, q.Division/2)
	if out.Usable > q.HalfWidth {
		out.Conditions |= FinerThanUsable
	}
	sd, half := float64(q.SD), float64(out.Usable)
	z := normalQuantile(twoSided(q.Confidence))
	n := piecesForHalfWidth(sd/half, float64(q.Confidence)/100)
	t := studentQuantile(twoSided(q.Confidence), float64(n-1))
	out.Pieces, out.Normal = n, int(math.Ceil(square(z*sd/half)))
	out.HalfWidth = unit.Mass(t * sd / math.Sqrt(float64(n)))
	out.Cautions = reckon.MovingBelt
	if q.Group > 0 {
		group := sd / math.Sqrt(float64(q.Group))
		out.Groups = piecesForHalfWidth(group/half, float64(q.Confidence)/100)
		out.GroupHalfWidth = unit.Mass(studentQuantile(twoSided(q.Confidence), float64(out.Groups-1)) * group / math.Sqrt(float64(out.Groups)))
	}
	return out, nil
}

func (q PiecesToWeigh) Show(w *reckon.Working, out PiecesToWeighResult) {
	w.Inputs(q)
	w.Lines(out, "half-width that is of use: E_u = max(E, H, d/2)")
	w.Given("normal quantile", "z", normalQuantile(twoSided(q.Confidence)), "", "at (1 + P/100)/2")
	w.Lines(out, "pieces, if the scatter were known: n_z = max(1, ceil(z*s/E_u*(z*s/E_u)))  [normal formula]")
	w.Given("pieces to weigh", "n", float64(out.Pieces), "", "smallest n whose t*s/sqrt(n) is at most E_u")
	w.Given("Student's t", "t", studentQuantile(twoSided(q.Confidence), float64(out.Pieces-1)), "", studentAtLevel)
	if q.Group > 0 {
		w.Given("groups to weigh", "g", float64(out.Groups), "groups", "smallest g whose t_g*s/sqrt(k*g) is at most E_u")
		w.Given("Student's t of the groups", "t_g", studentQuantile(twoSided(q.Confidence), float64(out.Groups-1)), "", "g - 1 degrees of freedom, at (1 + P/100)/2")
		w.Lines(out, "half-width of the groups: U_g = t_g*(s/sqrt(k))/sqrt(g)")
	}
	if fewer := float64(out.Pieces - 1); fewer > 1 {
		w.Given("Student's t of one piece fewer", "t_1", studentQuantile(twoSided(q.Confidence), fewer-1), "", "n - 2 degrees of freedom, at (1 + P/100)/2")
		w.Lines(nil, "half-width of one piece fewer: U_1 = t_1*s/sqrt(n - 1) in g  [more than E_u]")
	}
	w.Lines(out, "half-width then: U = t*s/sqrt(n)  [at most E_u]")
}

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

// The ratio of scatter to what is asked for, within which samples are planned.
const (
	leastRatio = 1e-3
	mostRatio  = 1e3
)

// checkRatio requires the scatter, and a mass that a sample can be planned for.
func checkRatio(c *reckon.Checks, field string, sd, m unit.Mass) {
	sdOK := checkSD(c, "sd", sd)
	if reckon.CheckPositive(c, field, m) && sdOK && !(sd/m >= leastRatio && sd/m <= mostRatio) {
		c.Fail(field, m.String(), "a thousandth to a thousand times the sd")
	}
}

// HalfWidthForPieces asks how well a sample of so many pieces fixes the mean:
//
//	U = t * s / sqrt(n), t at (1 + P) / 2
//
// t is Student's t with n - 1 degrees of freedom. It is the inverse of
// [PiecesToWeigh], with the same validity and source.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.2.2.
//
// The inverse is [PiecesToWeigh].
type HalfWidthForPieces struct {
	SD         unit.Mass    `json:"sd" sym:"s" range:"0.001 mg..100 kg"`      // standard deviation of single pieces
	Pieces     int          `json:"pieces" sym:"n" range:"2..20000"`          // pieces to weigh
	Confidence unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"` // confidence
}

// HalfWidthForPiecesResult is the precision to expect.
type HalfWidthForPiecesResult struct {
	HalfWidth unit.Mass `json:"half_width" sym:"U"` // the mean will be known plus or minus this
}

func (HalfWidthForPieces) ID() string { return "half-width-for-pieces" }

func (q HalfWidthForPieces) Check(c *reckon.Checks) {
	checkSD(c, "sd", q.SD)
	reckon.CheckCount(c, "pieces", q.Pieces, 2, mostWeighings)
	checkLevel(c, "confidence", q.Confidence)
}

func (q HalfWidthForPieces) Solve() (out HalfWidthForPiecesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n := float64(q.Pieces)
	t := studentQuantile(twoSided(q.Confidence), n-1)
	out.HalfWidth = unit.Mass(t * float64(q.SD) / math.Sqrt(n))
	return out, nil
}

func (q HalfWidthForPieces) Show(w *reckon.Working, out HalfWidthForPiecesResult) {
	w.Inputs(q)
	w.Given("Student's t", "t", studentQuantile(twoSided(q.Confidence), float64(q.Pieces-1)), "", studentAtLevel)
	w.Lines(out, "half-width: U = t*s/sqrt(n)")
}
