package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// GapResult is where the rollers go.
type GapResult struct {
	Gap        unit.Length     `json:"gap" sym:"g"`       // gap of the last pair of rollers
	Thickness  unit.Length     `json:"thickness" sym:"t"` // thickness of the sheet that it makes
	Conditions Conditions      `json:"conditions"`        // uncalibrated, outside-source, and few-turns or many-turns where turns are wanted
	Cautions   reckon.Cautions `json:"cautions"`          // moving-machinery, interlocks, roller-nip
}

// rollerCautions go with everything that is set at rollers.
const rollerCautions = reckon.MovingMachinery | reckon.Interlocks | reckon.RollerNip

// gapFor ends every search for a gap.
func gapFor(t, recovery float64, measured bool) GapResult {
	return GapResult{
		Gap: unit.Length(t / recovery), Thickness: unit.Length(t),
		Conditions: recoveryConditions(recovery, measured), Cautions: rollerCautions,
	}
}

// noSheetAtAll is the advice where no gap makes a sheet of the outline.
const noSheetAtAll = "no gap makes a sheet of this piece with this outline; give another width or another length over width"

// GapForThickness asks what gap makes a sheet of the wanted thickness:
//
//	g = t / R
//
// It is the inverse of [Sheet], with the same validity. It never says few-turns or many-turns: it knows of no piece to roll.
//
// Source: definition of the recovery ratio; Foods 11 (2022) 2300.
//
// The inverse is [Sheet].
type GapForThickness struct {
	Thickness unit.Length `json:"thickness" sym:"t" range:"0.1 mm..200 mm"` // wanted sheet thickness
	Recovery  float64     `json:"recovery" sym:"R" range:"1..5"`            // sheet thickness over gap
	Measured  bool        `json:"measured,omitzero"`                        // true if recovery was measured on this line: see [RecoveryFromSheet]
}

func (GapForThickness) ID() string { return "gap-for-thickness" }

func (q GapForThickness) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "thickness", q.Thickness, thinnestSheet, thickestSheet)
	reckon.CheckRange(c, "recovery", q.Recovery, 1, 5)
}

// Solve has no answer if the gap would be narrower than the 0.05 mm that [Sheet] takes.
func (q GapForThickness) Solve() (out GapResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	if gap := unit.Length(float64(q.Thickness) / q.Recovery); gap < narrowestGap {
		return out, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "gap", Wanted: "a sheet " + q.Thickness.String() + " thick",
			Low: max(thinnestSheet, narrowestGap*unit.Length(q.Recovery)).String(), High: thickestSheet.String(),
			Advice: "the rollers would have to close to " + gap.String() + ", and " + narrowestGap.String() + " is the narrowest; ask for a thicker sheet",
		}
	}
	return gapFor(float64(q.Thickness), q.Recovery, q.Measured), nil
}

func (q GapForThickness) Show(w *reckon.Working, out GapResult) {
	w.Inputs(q)
	w.Lines(out, "gap: g = t/R  [springback]")
}

// GapForSheetLength asks what gap rolls a piece to the wanted length:
//
//	V = m / rho * 1000
//	t = 4 * V / (pi * L * W),  W = L / a if the aspect is given
//	g = t / R
//
// It is the inverse of [Sheet], with the same validity. It never says few-turns or many-turns: ask [TurnsForGap] how the sheet rolls.
//
// It is refused if both or neither of aspect and width are given.
//
// Source: conservation of volume (derived).
//
// The inverse is [Sheet].
type GapForSheetLength struct {
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough after the rollers
	Length   unit.Length  `json:"length" sym:"L" range:"5 mm..5 m"`             // wanted sheet length
	Recovery float64      `json:"recovery" sym:"R" range:"1..5"`                // sheet thickness over gap
	Aspect   float64      `json:"aspect,omitzero" sym:"a" range:"0.5..10"`      // sheet length over width; give this or width
	Width    unit.Length  `json:"width,omitzero" sym:"W" range:"5 mm..2 m"`     // sheet width; give this or aspect
	Measured bool         `json:"measured,omitzero"`                            // true if recovery was measured on this line: see [RecoveryFromSheet]
}

func (GapForSheetLength) ID() string { return "gap-for-sheet-length" }

func (q GapForSheetLength) Check(c *reckon.Checks) {
	checkPiece(c, q.Piece, q.Density)
	reckon.CheckRange(c, "length", q.Length, shortestSheet, longestSheet)
	reckon.CheckRange(c, "recovery", q.Recovery, 1, 5)
	checkOutline(c, q.Aspect, q.Width)
}

// Solve has no answer if the piece would have to be made thicker, or if gap,
// thickness or width would be out of the range that [Sheet] names.
func (q GapForSheetLength) Solve() (out GapResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	v, width := volume(q.Piece, q.Density), float64(q.Width)
	if q.Aspect != 0 {
		width = float64(q.Length) / q.Aspect
	}
	t := 4 * v / (math.Pi * float64(q.Length) * width)
	if asThickAsBall(t, q.Piece, q.Density) || t/q.Recovery < float64(narrowestGap) || !isSheet(t, float64(q.Length), width) {
		return out, q.noGap(t)
	}
	out = gapFor(t, q.Recovery, q.Measured)
	if q.Width != 0 {
		out.Conditions |= outlineConditions(float64(q.Length), width)
	}
	return out, nil
}

// noGap says which lengths can be reached.
func (q *GapForSheetLength) noGap(t float64) error {
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "gap", Wanted: "a sheet " + q.Length.String() + " long", Advice: noSheetAtAll,
	}
	o := outline{volume: volume(q.Piece, q.Density), recovery: q.Recovery, aspect: q.Aspect, width: float64(q.Width)}
	thin, thick, ok := o.reach()
	if !ok {
		return none
	}
	none.Low, none.High = unit.Length(o.length(thick)).String(), unit.Length(o.length(thin)).String()
	switch {
	case asThickAsBall(t, q.Piece, q.Density):
		none.Advice = "the piece would have to come out thicker than it went in; ask for a longer sheet"
	case t >= thick:
		none.Advice = "the sheet would be thicker or narrower than sheets are; ask for a longer one"
	default:
		none.Advice = "the rollers would have to close to " + unit.Length(t/q.Recovery).String() + "; ask for a shorter sheet or take a heavier piece"
	}
	return none
}

func (q GapForSheetLength) Show(w *reckon.Working, out GapResult) {
	w.Inputs(q)
	w.Lines(out, volumeLine)
	if q.Aspect != 0 {
		w.Lines(out, "sheet width: W = L/a in mm")
	}
	w.Lines(out,
		"sheet thickness: t = 4*V/(pi*L*W)  [volume of an ellipse of even thickness]",
		"gap: g = t/R  [springback]")
}
