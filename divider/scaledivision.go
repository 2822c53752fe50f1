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

// ScaleDivision returns what the scale's division adds to the scatter, and
// whether the scale is fine enough for the job:
//
//	rounding = division / sqrt(12)
//	readings scatter by sqrt(sd^2 + division^2 / 12)
//	fine enough: division <= sd, and division <= MAV / 6
//
// A division as large as the standard deviation adds 4 % to it; from there on
// the rounding is no longer spread evenly and the formula itself gives way
// (W. F. Sheppard's correction). The second rule is that of NIST Handbook 133
// for checking packages by weight.
//
// It sets scale-too-coarse if the division is above either limit.
//
// It returns an *[reckon.InputError] if:
//   - division is not above 0 g, or any weight is above 100 kg or below 0 g,
//   - neither sd nor variation is given.
//
// Source: NIST Handbook 133, section 2.2; rounding as in the Guide to the
// Expression of Uncertainty in Measurement (JCGM 100:2008), F.2.2.1.
type ScaleDivision struct {
	Division  unit.Mass `json:"division"`           // smallest step that the scale shows; above 0 g to 100 kg
	SD        unit.Mass `json:"sd,omitzero"`        // standard deviation of single pieces; 0 g if nobody knows it yet
	Variation unit.Mass `json:"variation,omitzero"` // maximum allowable variation of one package under the rule in force; 0 g if no rule applies
}

func (ScaleDivision) ID() string { return "scale-division" }

// SHELL
func (q ScaleDivision) Check(c *reckon.Checks) {
	_, err := explainScaleDivision(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ScaleDivision) Solve() (ScaleDivisionResult, error) { return explainScaleDivision(q, nil) }

func (q ScaleDivision) Show(w *reckon.Working, _ ScaleDivisionResult) {
	_, _ = explainScaleDivision(q, w)
}

// ScaleDivisionResult says whether the division is fine enough.
type ScaleDivisionResult struct {
	RoundingSD unit.Mass  `json:"rounding_sd"` // standard deviation of the rounding error
	ShownSD    unit.Mass  `json:"shown_sd"`    // scatter of the readings: pieces and rounding together; 0 g if sd was not given
	ForRule    unit.Mass  `json:"for_rule"`    // largest division that the rule allows; 0 g if no variation was given
	ForSD      unit.Mass  `json:"for_sd"`      // largest division that leaves the scatter readable; 0 g if sd was not given
	Conditions Conditions `json:"conditions"`  // scale-too-coarse
}

func explainScaleDivision(in ScaleDivision, w *reckon.Working) (out ScaleDivisionResult, err error) {
	c := reckon.Checks{Func: "scale-division"}
	if reckon.CheckPositive(&c, "division", in.Division) {
		reckon.CheckRange(&c, "division", in.Division, 0, heaviestPiece)
	}
	checkOptionalMass(&c, "sd", in.SD)
	checkOptionalMass(&c, "variation", in.Variation)
	if c.OK() && in.SD == 0 && in.Variation == 0 {
		c.Fail("sd", in.SD.String(), "the scatter of the pieces here, or the allowed variation in variation, to hold the division against")
	}
	if err := c.Err(); err != nil {
		return ScaleDivisionResult{}, err
	}
	d, sd := float64(in.Division), float64(in.SD)
	rounding := roundingSD(d)
	out = ScaleDivisionResult{RoundingSD: unit.Mass(rounding), ForRule: in.Variation / hb133DivisionShare, ForSD: in.SD}
	if sd > 0 {
		out.ShownSD = unit.Mass(math.Sqrt(float64(sd*sd) + float64(rounding*rounding)))
	}
	if in.Variation > 0 && in.Division > out.ForRule || sd > 0 && in.Division > out.ForSD {
		out.Conditions |= reckon.ScaleTooCoarse
	}
	if w != nil {
		w.Given("division of the scale", "d", d, "g", "")
		w.Step("standard deviation of the rounding", "u", "d/sqrt(12)", rounding, "g", "even spread over one division")
		if sd > 0 {
			w.Given("standard deviation of pieces", "s", sd, "g", "")
			w.Step("scatter of the readings", "s_r", "sqrt(s*s + u*u)", float64(out.ShownSD), "g", "")
		}
		if in.Variation > 0 {
			w.Given("allowed variation", "M", float64(in.Variation), "g", "")
			w.Step("largest division by the rule", "d_max", "M/6", float64(out.ForRule), "g", "NIST Handbook 133, section 2.2")
		}
	}
	return out, nil
}
