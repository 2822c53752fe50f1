package molder

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// CurlSensitivity returns how much each setting changes the turns, so that a
// person knows which handle to move:
//
//	N = N(L, t, d):  E_L = (D + d) / (2 D),  E_t = -(D - d) / (2 D),  E_d = -d / D
//	with the aspect given:  E_gap = E_t - E_L/2,  E_piece = E_L/2,  E_aspect = E_L/2
//	with the width given:   E_gap = E_t - E_L,    E_piece = E_L,    E_width = -E_L
//
// where E is the change of N in percent for one percent of the quantity. The
// values hold for small changes. The gap always works more than the weight:
// without a core and with a given aspect it is three to one.
//
// It returns an *[reckon.InputError] if:
//   - an input is out of the range that [TurnsForGap] names.
//
// Source: derivatives of the relations of [TurnsForGap] (derived); cases in testdata/cases/molder/curl-sensitivity.json.
type CurlSensitivity struct {
	Piece    unit.Mass    `json:"piece"`           // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`         // density of the dough after the rollers, 0.1 to 1.5 g/ml
	Gap      unit.Length  `json:"gap"`             // gap of the last pair of rollers, 0.05 to 200 mm, narrower than the piece
	Recovery float64      `json:"recovery"`        // sheet thickness over gap, 1 to 5
	Aspect   float64      `json:"aspect,omitzero"` // sheet length over width, 0.5 to 10; give this or width
	Width    unit.Length  `json:"width,omitzero"`  // sheet width, 5 to 2000 mm; give this or aspect
	Core     unit.Length  `json:"core,omitzero"`   // diameter of the hollow or filling, 0 to 200 mm; 0 for none
}

func (CurlSensitivity) ID() string { return "curl-sensitivity" }

// SHELL
func (q CurlSensitivity) Check(c *reckon.Checks) {
	_, err := explainCurlSensitivity(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q CurlSensitivity) Solve() (CurlSensitivityResult, error) {
	return explainCurlSensitivity(q, nil)
}

func (q CurlSensitivity) Show(w *reckon.Working, _ CurlSensitivityResult) {
	_, _ = explainCurlSensitivity(q, w)
}

// CurlSensitivityResult says what each change does to the turns. Every value
// but Turns and TurnsPerGap is the change of the turns in percent for one
// percent more of the quantity named.
type CurlSensitivityResult struct {
	Turns       float64    `json:"turns"`           // as the settings stand
	TurnsPerGap float64    `json:"turns_per_gap"`   // turns for each mm that the gap is opened; below zero
	Gap         float64    `json:"gap"`             // percent of turns for a percent more gap
	Recovery    float64    `json:"recovery"`        // percent of turns for a percent more recovery; it works as the gap does
	Piece       float64    `json:"piece"`           // percent of turns for a percent more weight
	Density     float64    `json:"density"`         // percent of turns for a percent more density
	Aspect      float64    `json:"aspect,omitzero"` // percent of turns for a percent more length over width; left out if the width is given
	Width       float64    `json:"width,omitzero"`  // percent of turns for a percent more width; left out if the aspect is given
	Core        float64    `json:"core"`            // percent of turns for a percent more core; 0 without one
	Conditions  Conditions `json:"conditions"`      // few-turns, many-turns, uncalibrated, outside-source
}

func explainCurlSensitivity(in CurlSensitivity, w *reckon.Working) (out CurlSensitivityResult, err error) {
	c := reckon.Checks{Func: "curl-sensitivity"}
	at := TurnsForGap{
		Piece: in.Piece, Density: in.Density, Gap: in.Gap, Recovery: in.Recovery,
		Aspect: in.Aspect, Width: in.Width, Core: in.Core,
	}
	now := at.turns(&c, w)
	if err := c.Err(); err != nil {
		return CurlSensitivityResult{}, err
	}
	diameter, core := float64(now.Diameter), float64(in.Core)
	byLength := (diameter + core) / (2 * diameter)
	byThickness := -(diameter - core) / (2 * diameter)
	out = CurlSensitivityResult{Turns: now.Turns, Core: -core / diameter, Conditions: now.Conditions}
	if core == 0 {
		out.Core = 0 // not the negative zero
	}
	if in.Aspect != 0 {
		out.Piece = byLength / 2
		out.Aspect = out.Piece
	} else {
		out.Piece = byLength
		out.Width = -out.Piece
	}
	out.Density = -out.Piece
	out.Gap = byThickness - out.Piece
	out.Recovery = out.Gap
	out.TurnsPerGap = out.Gap * now.Turns / float64(in.Gap)
	if w != nil {
		w.Step("turns for sheet length", "E_L", "(D + d) / (2*D)", byLength, "", "derivative of the roll's relations")
		w.Step("turns for sheet thickness", "E_t", "-(D - d) / (2*D)", byThickness, "", "")
		if in.Aspect != 0 {
			w.Step("turns for piece weight", "E_m", "E_L / 2", out.Piece, "", "the length goes with the square root of the volume")
		} else {
			w.Step("turns for piece weight", "E_m", "E_L", out.Piece, "", "the length goes with the volume")
		}
		w.Step("turns for gap", "E_g", "E_t - E_m", out.Gap, "", "a wider gap makes the sheet thicker and shorter")
		w.Step("turns for each mm of gap", "S", "E_g * N / g", out.TurnsPerGap, "1/mm", "")
	}
	return out, nil
}
