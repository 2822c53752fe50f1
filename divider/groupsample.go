package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// GroupSample asks what weighing pieces several at a time shows about one
// piece, and what it hides:
//
//	m_g = sum(x_i) / n,  s_g = sqrt(sum((x_i - m_g)^2) / (n - 1))
//	m = m_g / g,  m_low, m_high = m -+ t * s_g / (g * sqrt(n)), t at (1 + P) / 2
//	s = s_g / sqrt(g)
//	r = d / (sqrt(12) * g)
//	h = z * s_g, z at (1 + P) / 2
//
// with n groups of g pieces, t Student's t with n - 1 degrees of freedom and z
// the normal quantile.
//
// A group gives the mean as well as the same pieces weighed singly, with fewer
// readings and g times finer rounding. It hides the single piece: heavy and
// light pieces cancel, so a piece may be off by z * sqrt(g) standard deviations
// and its group look usual. The s of one piece holds only if pieces scatter
// independently: if a group holds one piece of each lane, a lane that is always
// light does not show; if it holds one stroke, pieces that are heavy together
// make s too large. Whoever promises single weights weighs single pieces.
//
// It sets scale-too-coarse if d is larger than s_g.
//
// It is refused if:
//   - the groups are all equal.
//
// Source: variance of a sum of independent pieces, as in NIST/SEMATECH
// e-Handbook of Statistical Methods, section 2.5.5; rounding as in the Guide to
// the Expression of Uncertainty in Measurement (JCGM 100:2008), F.2.2.1.
type GroupSample struct {
	Groups     []unit.Mass  `json:"groups" sym:"x_#" range:"1 mg..100 kg" items:"2..20000"` // weights of the groups, not all equal
	Pieces     int          `json:"pieces" sym:"g" range:"2..1000"`                         // pieces in each group
	Confidence unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"`               // confidence of the interval
	Division   unit.Mass    `json:"division,omitzero" sym:"d,0" range:"0 g..100 kg"`        // smallest step of the scale; 0 g leaves it out
}

// GroupSampleResult is what weighing in groups shows about one piece, and what it hides.
type GroupSampleResult struct {
	Mean       unit.Mass       `json:"mean" sym:"m"`           // mean weight of one piece
	MeanLow    unit.Mass       `json:"mean_low" sym:"m_low"`   // it lies from here
	MeanHigh   unit.Mass       `json:"mean_high" sym:"m_high"` // to here, at the confidence asked for
	GroupSD    unit.Mass       `json:"group_sd" sym:"s_g"`     // standard deviation of the groups, divisor n - 1
	RoundingSD unit.Mass       `json:"rounding_sd" sym:"r"`    // standard deviation that the scale's division leaves in the weight of one piece: a group shares it out
	Hidden     unit.Mass       `json:"hidden" sym:"h"`         // a single piece can be off by this much and its group still looks usual, at the confidence asked for
	SD         unit.Mass       `json:"sd" sym:"s"`             // standard deviation of single pieces, if they scatter independently
	Conditions Conditions      `json:"conditions"`             // scale-too-coarse
	Cautions   reckon.Cautions `json:"cautions"`               // moving-belt
}

func (GroupSample) ID() string { return "group-sample" }

func (q GroupSample) Check(c *reckon.Checks) {
	checkWeighings(c, "groups", q.Groups, 2)
	reckon.CheckCount(c, "pieces", q.Pieces, 2, 1000)
	checkLevel(c, "confidence", q.Confidence)
	checkOptionalMass(c, "division", q.Division)
}

func (q GroupSample) Solve() (out GroupSampleResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	groups, g := float64(len(q.Groups)), float64(q.Pieces)
	mean, sd := meanSD(q.Groups)
	t, z := studentQuantile(twoSided(q.Confidence), groups-1), normalQuantile(twoSided(q.Confidence))
	piece, half := mean/g, t*sd/(g*math.Sqrt(groups))
	out = GroupSampleResult{
		Mean: unit.Mass(piece), MeanLow: unit.Mass(piece - half), MeanHigh: unit.Mass(piece + half),
		GroupSD: unit.Mass(sd), RoundingSD: unit.Mass(roundingSD(float64(q.Division)) / g),
		Hidden: unit.Mass(z * sd), SD: unit.Mass(sd / math.Sqrt(g)),
	}
	if q.Division > out.GroupSD {
		out.Conditions |= reckon.ScaleTooCoarse
	}
	out.Cautions = reckon.MovingBelt
	return out, nil
}

func (q GroupSample) Show(w *reckon.Working, out GroupSampleResult) {
	n := float64(len(q.Groups))
	w.Inputs(q)
	w.Lines(out,
		"groups weighed: n = count(x_#...)",
		"mean of the groups: m_g = sum(x_#)/n in g",
		"standard deviation of the groups: s_g = sqrt(sum((x_# - m_g)*(x_# - m_g))/(n - 1))",
	)
	w.Given("Student's t", "t", studentQuantile(twoSided(q.Confidence), n-1), "", studentAtLevel)
	w.Given("normal quantile", "z", normalQuantile(twoSided(q.Confidence)), "", "at (1 + P/100)/2")
	w.Lines(out,
		"mean of one piece: m = m_g/g",
		"half-width of its interval: U = t*s_g/(g*sqrt(n)) in g",
		"mean of one piece, lower limit: m_low = m - U",
		"mean of one piece, upper limit: m_high = m + U",
		"rounding in one piece: r = d/(sqrt(12)*g)",
		"hidden in a group: h = z*s_g",
		"standard deviation of one piece: s = s_g/sqrt(g)  [pieces that scatter independently]",
	)
}

// roundingSD is the standard deviation of the error that rounding to a division leaves.
func roundingSD(division float64) float64 { return division / math.Sqrt(12) }
