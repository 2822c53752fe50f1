package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A MeasuredSheet is one sheet as it lies behind the rollers.
type MeasuredSheet struct {
	Length    unit.Length `json:"length" sym:"L_#" range:"1 mm..5 m"`         // longest, in the direction of travel
	Width     unit.Length `json:"width" sym:"W_#" range:"1 mm..2 m"`          // widest, across the belt
	Thickness unit.Length `json:"thickness" sym:"t_#" range:"0.1 mm..200 mm"` // in the middle
}

// Check requires sizes that sheets can have.
func (s MeasuredSheet) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "length", s.Length, 1, longestSheet)
	reckon.CheckRange(c, "width", s.Width, 1, widestSheet)
	reckon.CheckRange(c, "thickness", s.Thickness, thinnestSheet, thickestSheet)
}

// AspectFromSheet asks how much longer than wide sheets measured on the line
// are, and for the density with which the even ellipse has the piece's weight:
//
//	a = sum(L_i / W_i) / n
//	rho = m * 1000 / (sum(pi/4 * L_i * W_i * t_i) / n)
//	s = sqrt(sum((L_i / W_i - a)^2) / (n - 1))
//
// The density takes up what gas the rollers pressed out and how far the sheet
// is from an even ellipse. A value above that of the dough means that the
// sheet is thicker in the middle, where it was measured, than at its edge.
//
// It is refused if:
//   - sheets is empty,
//   - the aspect comes out outside 0.5 to 10, or the density outside 0.1 g/ml to 1.5 g/ml: the sizes do not belong to the piece.
//
// Source: conservation of volume (derived); cases in testdata/cases/molder/aspect-from-sheet.json.
//
// It calibrates [Sheet].
type AspectFromSheet struct {
	Piece  unit.Mass       `json:"piece" sym:"m" range:"1 g..10 kg"` // piece weight
	Sheets []MeasuredSheet `json:"sheets" items:"1..10000"`          // measured behind the rollers; at least one
}

// AspectFromSheetResult is what [Sheet] needs to give back the sheets measured.
type AspectFromSheetResult struct {
	Aspect   float64         `json:"aspect" sym:"a"`      // mean of length over width
	SD       float64         `json:"sd,omitzero" sym:"s"` // sample standard deviation of it; left out for a single sheet
	Density  unit.Density    `json:"density" sym:"rho"`   // weight over the mean volume of the even ellipse
	Count    int             `json:"count" sym:"n"`       // number of sheets measured
	Cautions reckon.Cautions `json:"cautions"`            // roller-nip
}

func (AspectFromSheet) ID() string { return "aspect-from-sheet" }

func (q AspectFromSheet) Check(c *reckon.Checks) { q.check(c) }

// check returns aspect and density, which only sheets of this piece have.
func (q AspectFromSheet) check(c *reckon.Checks) (aspect float64, density unit.Density) {
	start := c.Mark()
	reckon.CheckRange(c, "piece", q.Piece, lightestPiece, heaviestPiece)
	reckon.CheckItems(c, "sheets", len(q.Sheets), mostTrials)
	if len(q.Sheets) == 0 {
		c.Fail("sheets", "empty", "at least one sheet measured behind the rollers")
	}
	for i := range q.Sheets {
		mark := c.Mark()
		q.Sheets[i].Check(c)
		c.Item(mark, "sheets", i)
	}
	if c.Mark() > start {
		return aspect, density
	}
	n := float64(len(q.Sheets))
	aspects, volumes := 0.0, 0.0
	for _, s := range q.Sheets {
		aspects += float64(s.Length / s.Width)
		volumes += float64(math.Pi / 4 * float64(s.Length) * float64(s.Width) * float64(s.Thickness))
	}
	aspect, density = aspects/n, unit.Density(float64(q.Piece)*n*1000/volumes)
	if aspect < leastAspect || aspect > largestAspect {
		c.Fail("sheets", number(aspect)+" times as long as wide", "0.5 to 10 times: measure the length in the direction of travel")
	}
	if density < loosestDough || density > densestDough {
		c.Fail("sheets", "of "+density.String(), loosestDough.String()+" to "+densestDough.String()+": the sizes do not belong to this piece, measure both again")
	}
	return aspect, density
}

func (q AspectFromSheet) Solve() (out AspectFromSheetResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	aspect, density := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.Aspect, out.Density, out.Count = aspect, density, len(q.Sheets)
	if len(q.Sheets) > 1 {
		squares := 0.0
		for _, s := range q.Sheets {
			d := float64(s.Length/s.Width) - aspect
			squares += float64(d * d)
		}
		out.SD = math.Sqrt(squares / (float64(len(q.Sheets)) - 1))
	}
	out.Cautions = reckon.RollerNip
	return out, nil
}

func (q AspectFromSheet) Show(w *reckon.Working, out AspectFromSheetResult) {
	w.Inputs(q)
	w.Lines(out,
		"sheets measured: n = count(L_#...)",
		"length over width: a = sum(L_#/W_#)/n",
		"mean volume of the ellipses: V = sum(pi/4*L_#*W_#*t_#)/n in mm³",
		"density: rho = m*1000{mm³/ml}/V")
	if out.Count > 1 {
		w.Lines(out, "standard deviation of length over width: s = sqrt(sum((L_#/W_# - a)*(L_#/W_# - a))/(n - 1))  [sample standard deviation]")
	}
}
