package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// GroupSample returns what weighing pieces several at a time tells of one
// piece, and what it hides:
//
//	mean = sum of groups / (groups * g)
//	interval: mean -+ t * s_g / (g * sqrt(groups))
//	sd of one piece = s_g / sqrt(g)
//	rounding = division / (sqrt(12) * g)
//	hidden = z * s_g
//
// with g pieces in a group, s_g the standard deviation of the groups and t with
// groups - 1 degrees of freedom.
//
// A group tells the mean as well as the same pieces weighed singly, with fewer
// readings and g times finer rounding. It hides the single piece: heavy and
// light pieces cancel, so a piece may be off by z * sqrt(g) standard deviations
// and its group look usual. The sd of one piece holds only if pieces scatter
// independently: if a group holds one piece of each lane, a lane that is always
// light shows nowhere; if it holds one stroke, pieces that are heavy together
// make the sd too large. Whoever promises single weights weighs single pieces.
//
// It returns an *[reckon.InputError] if:
//   - there are fewer than 2 or more than 20 000 groups, or they are all equal,
//   - a group is outside 1 mg to 100 kg,
//   - pieces is outside 2 to 1000, level outside 50 to 99.99 % or division outside 0 g to 100 kg.
//
// It sets scale-too-coarse if the division is larger than the sd of the groups.
//
// Source: variance of a sum of independent pieces, as in NIST/SEMATECH
// e-Handbook of Statistical Methods, section 2.5.5; rounding as in the Guide to
// the Expression of Uncertainty in Measurement (JCGM 100:2008), F.2.2.1.
type GroupSample struct {
	Groups   []unit.Mass  `json:"groups"`            // weights of the groups; 2 to 20 000, each 1 mg to 100 kg, not all equal
	Pieces   int          `json:"pieces"`            // pieces in each group; 2 to 1000
	Level    unit.Percent `json:"level"`             // confidence of the interval; 50 % to 99.99 %
	Division unit.Mass    `json:"division,omitzero"` // smallest step of the scale; 0 g leaves it out
}

func (GroupSample) ID() string { return "group-sample" }

// SHELL
func (q GroupSample) Check(c *reckon.Checks) {
	_, err := explainGroupSample(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GroupSample) Solve() (GroupSampleResult, error) { return explainGroupSample(q, nil) }

func (q GroupSample) Show(w *reckon.Working, _ GroupSampleResult) { _, _ = explainGroupSample(q, w) }

// GroupSampleResult is what weighing in groups tells, and what it hides.
type GroupSampleResult struct {
	Mean       unit.Mass  `json:"mean"`       // mean weight of one piece
	MeanLow    unit.Mass  `json:"mean_low"`   // it lies from here
	MeanHigh   unit.Mass  `json:"mean_high"`  // to here, at the level
	GroupSD    unit.Mass  `json:"group_sd"`   // standard deviation of the groups, divisor groups - 1
	RoundingSD unit.Mass  `json:"rounding"`   // standard deviation that the scale's division leaves in the weight of one piece: a group shares it out
	Hidden     unit.Mass  `json:"hidden"`     // a single piece can be off by this much and its group still looks usual, at the level
	SD         unit.Mass  `json:"sd"`         // standard deviation of single pieces, if they scatter independently
	Conditions Conditions `json:"conditions"` // scale-too-coarse
}

func explainGroupSample(in GroupSample, w *reckon.Working) (out GroupSampleResult, err error) {
	c := reckon.Checks{Func: "group-sample"}
	checkWeighings(&c, "groups", in.Groups, 2)
	reckon.CheckCount(&c, "pieces", in.Pieces, 2, 1000)
	checkLevel(&c, "level", in.Level)
	checkOptionalMass(&c, "division", in.Division)
	if err := c.Err(); err != nil {
		return GroupSampleResult{}, err
	}
	groups, g, level := float64(len(in.Groups)), float64(in.Pieces), float64(in.Level)/100
	mean, sd := meanSD(in.Groups)
	t, z := studentQuantile((1+level)/2, groups-1), normalQuantile((1+level)/2)
	piece, half := mean/g, t*sd/(g*math.Sqrt(groups))
	out = GroupSampleResult{
		Mean: unit.Mass(piece), MeanLow: unit.Mass(piece - half), MeanHigh: unit.Mass(piece + half),
		GroupSD: unit.Mass(sd), RoundingSD: unit.Mass(roundingSD(float64(in.Division)) / g),
		Hidden: unit.Mass(z * sd), SD: unit.Mass(sd / math.Sqrt(g)),
	}
	if in.Division > out.GroupSD {
		out.Conditions |= reckon.ScaleTooCoarse
	}
	if w != nil {
		w.Given("groups weighed", "G", groups, "", "")
		w.Given("pieces in a group", "g", g, "pieces", "")
		w.Given("mean of the groups", "m_g", mean, "g", "two-pass mean of the groups")
		w.Given("standard deviation of the groups", "s_g", sd, "g", "two-pass, divisor G - 1")
		w.Given("Student's t", "t", t, "", "G - 1 degrees of freedom, two-sided at the level")
		w.Given("normal quantile", "z", z, "", "two-sided at the level")
		w.Step("mean of one piece", "m", "m_g/g", piece, "g", "")
		w.Step("half-width of its interval", "U", "t*s_g/(g*sqrt(G))", half, "g", "")
		w.Step("hidden in a group", "h", "z*s_g", float64(out.Hidden), "g", "")
		w.Step("standard deviation of one piece", "s", "s_g/sqrt(g)", float64(out.SD), "g", "pieces that scatter independently")
	}
	return out, nil
}

// roundingSD is the standard deviation of the error that rounding to a division leaves.
func roundingSD(division float64) float64 { return division / math.Sqrt(12) }
