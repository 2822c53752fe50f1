package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// SpiralLength returns the length of the Archimedean spiral that fills the
// roll which the area rule of [Curls] foresees, as a check of that rule:
//
//	r = d/2 + b phi,  b = t / (2 pi)
//	length = [F(r)] from d/2 to D/2
//	F(r) = (r sqrt(r^2 + b^2) + b^2 asinh(r / b)) / (2 b)
//
// The area rule takes rings for the spiral. The difference grows as the turns
// become few: without a core it is 0.7 % at 4 turns, 1.6 % at 2.5, 2.4 % at 2,
// 7.7 % at 1 and 23.8 % at half a turn.
//
// It returns an *[reckon.InputError] if:
//   - length, thickness or core is out of the range that [Curls] names.
//
// Source: arc length of the Archimedean spiral; cases, by quadrature, in testdata/cases/molder/spiral-length.json.
type SpiralLength struct {
	Length    unit.Length `json:"length"`        // sheet length by the area rule, 1 to 5000 mm
	Thickness unit.Length `json:"thickness"`     // sheet thickness, 0.1 to 200 mm
	Core      unit.Length `json:"core,omitzero"` // diameter of the hollow or filling, 0 to 200 mm; 0 for none
}

func (SpiralLength) ID() string { return "spiral-length" }

// SHELL
func (q SpiralLength) Check(c *reckon.Checks) {
	_, err := explainSpiralLength(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SpiralLength) Solve() (SpiralLengthResult, error) { return explainSpiralLength(q, nil) }

func (q SpiralLength) Show(w *reckon.Working, _ SpiralLengthResult) { _, _ = explainSpiralLength(q, w) }

// SpiralLengthResult is how far the area rule is from the true spiral.
type SpiralLengthResult struct {
	Spiral unit.Length  `json:"spiral"` // length along the spiral that fills the same roll
	Excess unit.Percent `json:"excess"` // of that length over the sheet length
}

func explainSpiralLength(in SpiralLength, w *reckon.Working) (out SpiralLengthResult, err error) {
	c := reckon.Checks{Func: "spiral-length"}
	checkCurls(&c, in.Length, in.Thickness, in.Core)
	if err := c.Err(); err != nil {
		return SpiralLengthResult{}, err
	}
	l, t, d := float64(in.Length), float64(in.Thickness), float64(in.Core)
	diameter, turns := roll(l, t, d)
	b := t / (2 * math.Pi)
	outer, inner := spiralFrom(diameter/2, b), spiralFrom(d/2, b)
	length := outer - inner
	out = SpiralLengthResult{Spiral: unit.Length(length), Excess: unit.Percent(100 * (length - l) / l)}
	if w != nil {
		w.Given("sheet length", "L", l, "mm", "")
		w.Given("sheet thickness", "t", t, "mm", "")
		explainRoll(w, d, diameter, turns)
		w.Step("growth of the radius per radian", "b", "t / (2*pi)", b, "mm", "each turn adds one thickness to the radius")
		w.Step("arc from the middle to the outer end", "F_1", "(D/2*sqrt(D*D/4 + b*b) + b*b*ln(D/2/b + sqrt(D*D/4/b/b + 1))) / (2*b)", outer, "mm", "arc length of the Archimedean spiral")
		w.Step("arc from the middle to the core", "F_0", "(d/2*sqrt(d*d/4 + b*b) + b*b*ln(d/2/b + sqrt(d*d/4/b/b + 1))) / (2*b)", inner, "mm", "")
		w.Step("spiral length", "S", "F_1 - F_0", length, "mm", "")
		w.Step("excess over the sheet length", "e", "100 * (S - L) / L", float64(out.Excess), "%", "")
	}
	return out, nil
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
