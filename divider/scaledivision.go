package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// hb133DivisionShare is the largest part of the maximum allowable variation
// that one division of the scale may be.
//
// Source: NIST Handbook 133, section 2.2 (2020 edition): at most MAV / 6.
const hb133DivisionShare = 6

// ScaleDivision asks whether the scale is fine enough for the job, and what
// its division adds to the scatter:
//
//	u     = d / sqrt(12)
//	s_r   = sqrt(s^2 + u^2)
//	d_max = M / 6,  d_s = s
//	fine enough: d <= s and d <= d_max
//
// A division as large as the standard deviation adds 4 % to it; from there on
// the rounding is no longer spread evenly and the formula itself gives way
// (W. F. Sheppard's correction). The second rule is that of NIST Handbook 133
// for checking packages by weight.
//
// It is refused if:
//   - neither sd nor variation is given.
//
// Source: NIST Handbook 133, section 2.2; rounding as in the Guide to the
// Expression of Uncertainty in Measurement (JCGM 100:2008), F.2.2.1.
type ScaleDivision struct {
	Division  unit.Mass `json:"division" sym:"d" range:">0 g..100 kg"`          // smallest step that the scale shows
	SD        unit.Mass `json:"sd,omitzero" sym:"s" range:"0 g..100 kg"`        // standard deviation of single pieces; 0 g if nobody knows it yet
	Variation unit.Mass `json:"variation,omitzero" sym:"M" range:"0 g..100 kg"` // maximum allowable variation of one package under the rule in force; 0 g if no rule applies
}

// ScaleDivisionResult says whether the division is fine enough.
type ScaleDivisionResult struct {
	RoundingSD unit.Mass  `json:"rounding_sd" sym:"u"`  // standard deviation of the rounding error
	ShownSD    unit.Mass  `json:"shown_sd" sym:"s_r"`   // scatter of the readings: pieces and rounding together; 0 g if sd was not given
	ForRule    unit.Mass  `json:"for_rule" sym:"d_max"` // largest division that the rule allows; 0 g if no variation was given
	ForSD      unit.Mass  `json:"for_sd" sym:"d_s"`     // largest division that leaves the scatter readable, which is sd; 0 g if sd was not given
	Conditions Conditions `json:"conditions"`           // scale-too-coarse
}

func (ScaleDivision) ID() string { return "scale-division" }

func (q ScaleDivision) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "division", q.Division, heaviestPiece)
	checkOptionalMass(c, "sd", q.SD)
	checkOptionalMass(c, "variation", q.Variation)
	if q.SD == 0 && q.Variation == 0 {
		c.Fail("sd", q.SD.String(), "the scatter of the pieces, or variation with what the rule allows, to compare the division with")
	}
}

func (q ScaleDivision) Solve() (out ScaleDivisionResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	sd, rounding := float64(q.SD), roundingSD(float64(q.Division))
	out = ScaleDivisionResult{RoundingSD: unit.Mass(rounding), ForRule: q.Variation / hb133DivisionShare, ForSD: q.SD}
	if sd != 0 {
		out.ShownSD = unit.Mass(math.Sqrt(float64(sd*sd) + float64(rounding*rounding)))
	}
	if q.Variation != 0 && q.Division > out.ForRule || sd != 0 && q.Division > out.ForSD {
		out.Conditions |= reckon.ScaleTooCoarse
	}
	return out, nil
}

func (q ScaleDivision) Show(w *reckon.Working, out ScaleDivisionResult) {
	w.Inputs(q)
	w.Lines(out, "standard deviation of the rounding: u = d/sqrt(12)  [even spread over one division]")
	if q.SD > 0 {
		w.Lines(out, "scatter of the readings: s_r = sqrt(s*s + u*u)", "largest division that leaves the scatter readable: d_s = s")
	}
	if q.Variation > 0 {
		w.Lines(out, "largest division by the rule: d_max = M/6  [NIST Handbook 133, section 2.2]")
	}
}
