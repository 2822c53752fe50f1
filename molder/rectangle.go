package molder

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// RectangularSheet asks how thick a piece is as a rectangle of even thickness,
// such as one cut or folded square and rolled out by hand or on a reversing sheeter:
//
//	V = m / rho * 1000
//	t = V / (L * W)
//
// It is the sheet where corners are full. A piece that the rollers of a
// moulder sheet from a ball is an ellipse: for that one see [Sheet], which
// is thicker by 4/pi at the same length and width. [Curls] rolls up either.
//
// It is refused if:
//   - the sheet would be outside 0.1 mm to 200 mm thick.
//
// Source: conservation of volume (derived); cases in testdata/cases/molder/rectangular-sheet.json.
//
// The inverse is [PieceForRectangularSheet].
type RectangularSheet struct {
	Piece   unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // weight of the dough
	Density unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as a sheet
	Length  unit.Length  `json:"length" sym:"L" range:"5 mm..5 m"`             // length of the sheet
	Width   unit.Length  `json:"width" sym:"W" range:"5 mm..2 m"`              // width of the sheet
}

// RectangularSheetResult is the sheet.
type RectangularSheetResult struct {
	Thickness unit.Length `json:"thickness" sym:"t"` // even thickness
}

func (RectangularSheet) ID() string { return "rectangular-sheet" }

func (q RectangularSheet) Check(c *reckon.Checks) { q.check(c) }

// check returns the thickness, if there is such a sheet.
func (q RectangularSheet) check(c *reckon.Checks) (thickness unit.Length) {
	ok := checkPiece(c, q.Piece, q.Density)
	ok = reckon.CheckRange(c, "length", q.Length, shortestSheet, longestSheet) && ok
	if !reckon.CheckRange(c, "width", q.Width, narrowestSheet, widestSheet) || !ok {
		return thickness
	}
	thickness = unit.Length(volume(q.Piece, q.Density) / (float64(q.Length) * float64(q.Width)))
	if thickness < thinnestSheet*(1-1e-9) || thickness > thickestSheet*(1+1e-9) {
		c.Fail("piece", q.Piece.String(), "a piece that makes a sheet "+thinnestSheet.String()+" to "+thickestSheet.String()+" thick: this one would be "+thickness.String())
	}
	return thickness
}

func (q RectangularSheet) Solve() (out RectangularSheetResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	thickness := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	return RectangularSheetResult{Thickness: thickness}, nil
}

func (q RectangularSheet) Show(w *reckon.Working, out RectangularSheetResult) {
	w.Inputs(q)
	w.Lines(out, volumeLine, "sheet thickness: t = V/(L*W)  [volume of a rectangle of even thickness]")
}

// PieceForRectangularSheet asks how much dough a rectangular sheet takes:
//
//	V = L * W * t
//	m = rho * V / 1000
//
// It is the inverse of [RectangularSheet], with the same validity.
//
// Source: conservation of volume (derived).
//
// The inverse is [RectangularSheet].
type PieceForRectangularSheet struct {
	Length    unit.Length  `json:"length" sym:"L" range:"5 mm..5 m"`             // length of the sheet
	Width     unit.Length  `json:"width" sym:"W" range:"5 mm..2 m"`              // width of the sheet
	Thickness unit.Length  `json:"thickness" sym:"t" range:"0.1 mm..200 mm"`     // even thickness
	Density   unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough as a sheet
}

// PieceForRectangularSheetResult is the dough to scale.
type PieceForRectangularSheetResult struct {
	Piece unit.Mass `json:"piece" sym:"m"` // weight of the dough
}

func (PieceForRectangularSheet) ID() string { return "piece-for-rectangular-sheet" }

func (q PieceForRectangularSheet) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "length", q.Length, shortestSheet, longestSheet)
	reckon.CheckRange(c, "width", q.Width, narrowestSheet, widestSheet)
	reckon.CheckRange(c, "thickness", q.Thickness, thinnestSheet, thickestSheet)
	reckon.CheckRange(c, "density", q.Density, loosestDough, densestDough)
}

// Solve has no answer if the sheet takes less than 1 g or more than 10 kg.
func (q PieceForRectangularSheet) Solve() (out PieceForRectangularSheetResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	piece := unit.Mass(float64(q.Density) * float64(q.Length) * float64(q.Width) * float64(q.Thickness) / 1000)
	if !(piece >= lightestPiece && piece <= heaviestPiece) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "piece", Wanted: "a sheet of " + q.Length.String() + " by " + q.Width.String() + " by " + q.Thickness.String(),
			Advice: "it takes " + piece.String() + " of dough, and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; give another size",
		}
	}
	return PieceForRectangularSheetResult{Piece: piece}, nil
}

func (q PieceForRectangularSheet) Show(w *reckon.Working, out PieceForRectangularSheetResult) {
	w.Inputs(q)
	w.Lines(out, "volume: V = L*W*t in mm³", "weight of the dough: m = rho*V/1000{mm³/ml}")
}
