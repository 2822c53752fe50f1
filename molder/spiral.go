package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// SpiralLength asks how far off the true spiral the area rule of [Curls] is, by
// the length of the Archimedean spiral that fills the same roll:
//
//	r = d/2 + b * phi,  b = t / (2 * pi)
//	S = F(D/2) - F(d/2),  L * t = pi * (D^2 - d^2) / 4
//	F(r) = (r * sqrt(r^2 + b^2) + b^2 * asinh(r / b)) / (2 * b)
//	e = 100 * (S - L) / L
//
// The area rule takes rings for the spiral. The difference grows as the turns
// become few: without a core it is 0.7 % at 4 turns, 1.6 % at 2.5, 2.4 % at 2,
// 7.7 % at 1 and 23.8 % at half a turn.
//
// It is refused if the sheet is too short for half a turn, or so long that it
// makes more than 20 turns.
//
// Source: arc length of the Archimedean spiral; cases, by quadrature, in testdata/cases/molder/spiral-length.json.
type SpiralLength struct {
	Length    unit.Length `json:"length" sym:"L" range:"1 mm..5 m"`             // sheet length by the area rule
	Thickness unit.Length `json:"thickness" sym:"t" range:"0.1 mm..200 mm"`     // sheet thickness
	Core      unit.Length `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling; 0 for none
}

// SpiralLengthResult is how far the area rule is from the true spiral.
type SpiralLengthResult struct {
	Spiral      unit.Length  `json:"spiral" sym:"S"`       // length along the spiral that fills the same roll
	ExcessShare unit.Percent `json:"excess_share" sym:"e"` // of that length over the sheet length
}

func (SpiralLength) ID() string { return "spiral-length" }

func (q SpiralLength) Check(c *reckon.Checks) { checkCurls(c, q.Length, q.Thickness, q.Core) }

func (q SpiralLength) Solve() (out SpiralLengthResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	l, t, d := float64(q.Length), float64(q.Thickness), float64(q.Core)
	diameter, _ := roll(l, t, d)
	b := t / (2 * math.Pi)
	length := spiralFrom(diameter/2, b) - spiralFrom(d/2, b)
	return SpiralLengthResult{Spiral: unit.Length(length), ExcessShare: unit.Percent(100 * (length - l) / l)}, nil
}

// spiralExcess is by which part of the sheet's length the spiral of n turns is longer.
func spiralExcess(n, t, d float64) float64 {
	b := t / (2 * math.Pi)
	return (spiralFrom(float64(d/2)+float64(n*t), b)-spiralFrom(d/2, b))/lengthFor(n, t, d) - 1
}

// spiralFrom is the arc length of r = b phi from the middle out to r.
func spiralFrom(r, b float64) float64 {
	return (float64(r*math.Hypot(r, b)) + float64(b*b*math.Asinh(r/b))) / (2 * b)
}

func (q SpiralLength) Show(w *reckon.Working, out SpiralLengthResult) {
	w.Inputs(q)
	showRoll(w, out)
	w.Lines(out,
		"growth of the radius per radian: b = t/(2*pi) in mm  [each turn adds one thickness to the radius]",
		"arc from the middle to the outer end: F_1 = (D/2*sqrt(D*D/4 + b*b) + b*b*ln(D/2/b + sqrt(D*D/4/b/b + 1)))/(2*b) in mm  [arc length of the Archimedean spiral]",
		"arc from the middle to the core: F_0 = (d/2*sqrt(d*d/4 + b*b) + b*b*ln(d/2/b + sqrt(d*d/4/b/b + 1)))/(2*b) in mm",
		"spiral length: S = F_1 - F_0",
		"excess over the sheet length: e = 100*(S - L)/L")
}
