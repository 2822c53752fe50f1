package molder

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// CurlSensitivity asks how much each setting changes the turns, so that a
// person knows which setting to move:
//
//	t = R * g,  m / rho * 1000 = pi/4 * L * W * t,  a = L / W
//	L * t = pi * (D^2 - d^2) / 4,  N = (D - d) / (2 * t)
//	E_L = (D + d) / (2 * D),  E_t = -(D - d) / (2 * D)
//	E_m = E_L / 2 = E_a  with the aspect a given
//	E_m = E_L = -E_W     with the width W given
//	E_rho = -E_m,  E_g = E_R = E_t - E_m,  E_d = -d / D
//	S = E_g * N / g
//
// where E is the change of N in percent for one percent of the quantity: of
// the weight m, the density rho, the gap g and the recovery R, and S the
// change of N for each millimetre of gap. The values hold for small changes.
// The gap always works more than the weight: without a core and with a given
// aspect it is three to one.
//
// It is refused if an input is refused by [TurnsForGap].
//
// Source: derivatives of the relations of [TurnsForGap] (derived); cases in testdata/cases/molder/curl-sensitivity.json.
type CurlSensitivity struct {
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough after the rollers
	Gap      unit.Length  `json:"gap" sym:"g" range:"0.05 mm..200 mm"`          // gap of the last pair of rollers, narrow enough to sheet the piece
	Recovery float64      `json:"recovery" sym:"R" range:"1..5"`                // sheet thickness over gap
	Aspect   float64      `json:"aspect,omitzero" sym:"a" range:"0.5..10"`      // sheet length over width; give this or width
	Width    unit.Length  `json:"width,omitzero" sym:"W" range:"5 mm..2 m"`     // sheet width; give this or aspect
	Core     unit.Length  `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling; 0 for none
}

// CurlSensitivityResult says what each change does to the turns. Every value
// but Turns and TurnsPerGap is the change of the turns in percent for one
// percent more of the quantity named.
type CurlSensitivityResult struct {
	Turns          float64         `json:"turns" sym:"N"`                    // as the settings stand
	TurnsPerGap    float64         `json:"turns_per_gap" sym:"S"`            // turns for each mm that the gap is opened; below zero
	GapEffect      float64         `json:"gap_effect" sym:"E_g"`             // percent of turns for a percent more gap
	RecoveryEffect float64         `json:"recovery_effect" sym:"E_R"`        // percent of turns for a percent more recovery; it works as the gap does
	PieceEffect    float64         `json:"piece_effect" sym:"E_m"`           // percent of turns for a percent more weight
	DensityEffect  float64         `json:"density_effect" sym:"E_rho"`       // percent of turns for a percent more density
	AspectEffect   float64         `json:"aspect_effect,omitzero" sym:"E_a"` // percent of turns for a percent more length over width; left out if the width is given
	WidthEffect    float64         `json:"width_effect,omitzero" sym:"E_W"`  // percent of turns for a percent more width; left out if the aspect is given
	CoreEffect     float64         `json:"core_effect" sym:"E_d"`            // percent of turns for a percent more core; 0 without one
	Conditions     Conditions      `json:"conditions"`                       // few-turns, many-turns, uncalibrated, outside-source
	Cautions       reckon.Cautions `json:"cautions"`                         // moving-machinery, roller-nip
}

func (CurlSensitivity) ID() string { return "curl-sensitivity" }

func (q CurlSensitivity) Check(c *reckon.Checks) { q.check(c) }

// check returns the sheet and the roll as the settings stand.
func (q *CurlSensitivity) check(c *reckon.Checks) (now TurnsForGapResult) {
	at := TurnsForGap{
		Piece: q.Piece, Density: q.Density, Gap: q.Gap, Recovery: q.Recovery,
		Aspect: q.Aspect, Width: q.Width, Core: q.Core,
	}
	at.check(c, &now)
	return now
}

func (q CurlSensitivity) Solve() (out CurlSensitivityResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	now := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	diameter, core := float64(now.Diameter), float64(q.Core)
	byLength := (diameter + core) / (2 * diameter)
	byThickness := -(diameter - core) / (2 * diameter)
	out.Turns, out.Conditions = now.Turns, now.Conditions
	if core != 0 { // else it would be the negative zero
		out.CoreEffect = -core / diameter
	}
	if q.Aspect != 0 {
		out.PieceEffect = byLength / 2
		out.AspectEffect = out.PieceEffect
	} else {
		out.PieceEffect = byLength
		out.WidthEffect = -out.PieceEffect
	}
	out.DensityEffect = -out.PieceEffect
	out.GapEffect = byThickness - out.PieceEffect
	out.RecoveryEffect = out.GapEffect
	out.TurnsPerGap = out.GapEffect * now.Turns / float64(q.Gap)
	out.Cautions = reckon.MovingMachinery | reckon.RollerNip
	return out, nil
}

func (q CurlSensitivity) Show(w *reckon.Working, out CurlSensitivityResult) {
	w.Inputs(q)
	showSheet(w, out, q.Aspect != 0)
	showRoll(w, out)
	w.Lines(out,
		"turns for sheet length: E_L = (D + d)/(2*D)  [derivative of the roll's relations]",
		"turns for sheet thickness: E_t = -(D - d)/(2*D)")
	if q.Aspect != 0 {
		w.Lines(out,
			"turns for piece weight: E_m = E_L/2  [the length goes with the square root of the volume]",
			"turns for length over width: E_a = E_m")
	} else {
		w.Lines(out,
			"turns for piece weight: E_m = E_L  [the length goes with the volume]",
			"turns for sheet width: E_W = -E_m")
	}
	w.Lines(out,
		"turns for density: E_rho = -E_m",
		"turns for gap: E_g = E_t - E_m  [a wider gap makes the sheet thicker and shorter]",
		"turns for recovery: E_R = E_g  [it works as the gap does]",
		"turns for core: E_d = -d/D",
		"turns for each mm of gap: S = E_g*N/g in 1/mm")
}
