package molder

import (
	"math"

	"example.com/dough/doughmath"
)

const (
	// UsualTurns is the usual aim at the curling chain; sheeting further is
	// better as long as the sheet does not tear. Common practice, no source.
	UsualTurns = 2.5
	// manyTurns is where rolling becomes more than usual: trade texts give two
	// and a half to four curls. From memory; it raises a condition, no more.
	manyTurns = 4
	// leastTurns is what can be called rolled at all: the sheet folded over once.
	leastTurns = 0.5
	// mostTurns bounds what is asked for; it catches slips of the decimal point.
	mostTurns = 20
)

// What a sheet can be, taken wide.
const (
	thinnestSheet doughmath.Length = 0.1
	thickestSheet doughmath.Length = 200
	longestSheet  doughmath.Length = 5000
	thickestCore  doughmath.Length = 200
)

// turnConditions compares the turns with the usual. A gap set for exactly the
// usual turns must not be called few for its last binary digit.
func turnConditions(turns float64) doughmath.Conditions {
	switch {
	case turns < UsualTurns*(1-1e-9):
		return doughmath.FewTurns
	case turns > manyTurns*(1+1e-9):
		return doughmath.ManyTurns
	}
	return 0
}

// CurlsInput is the sheet that is rolled up.
type CurlsInput struct {
	Length    doughmath.Length `json:"length"`        // sheet length in the direction of travel, 1 to 5000 mm
	Thickness doughmath.Length `json:"thickness"`     // sheet thickness, 0.1 to 200 mm
	Core      doughmath.Length `json:"core,omitzero"` // diameter of the hollow or filling that it is rolled around, 0 to 200 mm; 0 for none
}

// CurlsResult is the rolled piece.
type CurlsResult struct {
	Turns      float64              `json:"turns"`      // from the inner end to the outer end
	Diameter   doughmath.Length     `json:"diameter"`   // of the roll
	Conditions doughmath.Conditions `json:"conditions"` // few-turns, many-turns
	Cautions   doughmath.Cautions   `json:"cautions"`   // moving-machinery
}

// Curls returns how many turns a sheet makes when it is rolled up tight, and
// how thick the roll is, by the area of its end:
//
//	L t = pi (D^2 - d^2) / 4
//	N = (D - d) / (2 t)
//
// with d the core, 0 for none. The area rule takes rings for the spiral; the
// length along the true spiral differs by under 1 % in the cases of its
// source, see [SpiralLength]. The roll is taken as tight, without air.
// Two and a half turns are the usual aim, and sheeting further without
// tearing is better.
//
// It returns an *[doughmath.InputError] if:
//   - length is outside 1 to 5000 mm, or too short for half a turn,
//   - thickness is outside 0.1 to 200 mm,
//   - core is outside 0 to 200 mm.
//
// Source: area of the roll's end (derived); the aim is common practice; cases
// in testdata/cases/molder/curls.json.
//
// The inverses are [LengthForTurns], [ThicknessForTurns] and [GapForTurns], and [TurnsForGap]
// starts from the rollers; [ExplainCurls] shows the working.
func Curls(in CurlsInput) (CurlsResult, error) { return ExplainCurls(in, nil) }

// ExplainCurls is [Curls] with its working.
func ExplainCurls(in CurlsInput, w *doughmath.Working) (out CurlsResult, err error) {
	c := doughmath.Checks{Func: "curls"}
	checkCurls(&c, in.Length, in.Thickness, in.Core)
	if err := c.Err(); err != nil {
		return CurlsResult{}, err
	}
	l, t, d := float64(in.Length), float64(in.Thickness), float64(in.Core)
	diameter, turns := roll(l, t, d)
	out = CurlsResult{
		Turns: turns, Diameter: doughmath.Length(diameter),
		Conditions: turnConditions(turns), Cautions: doughmath.MovingMachinery,
	}
	if w != nil {
		w.Given("sheet length", "L", l, "mm", "")
		w.Given("sheet thickness", "t", t, "mm", "")
		explainRoll(w, d, diameter, turns)
	}
	return out, nil
}

// checkCurls wants a sheet that can be rolled up.
func checkCurls(c *doughmath.Checks, length, thickness, core doughmath.Length) {
	ok := doughmath.CheckRange(c, "length", length, 1, longestSheet)
	ok = doughmath.CheckRange(c, "thickness", thickness, thinnestSheet, thickestSheet) && ok
	ok = doughmath.CheckRange(c, "core", core, 0, thickestCore) && ok
	if !ok {
		return
	}
	if shortest := doughmath.Length(lengthFor(leastTurns, float64(thickness), float64(core))); length < shortest {
		c.Fail("length", length.String(), "at least "+shortest.String()+
			", half a turn at this thickness: close the gap for a longer, thinner sheet")
	}
}

// roll returns the diameter and the turns of a sheet rolled up.
func roll(l, t, d float64) (diameter, turns float64) {
	diameter = math.Sqrt(float64(d*d) + 4*l*t/math.Pi)
	// (D - d) / (2t), written so that nothing is lost when D is close to d.
	return diameter, 2 * l / (math.Pi * (diameter + d))
}

// explainRoll ends a working that holds L and t.
func explainRoll(w *doughmath.Working, d, diameter, turns float64) {
	w.Given("core diameter", "d", d, "mm", "")
	w.Step("roll diameter", "D", "sqrt(d*d + 4*L*t/pi)", diameter, "mm", "the area of the roll's end is that of the sheet's edge")
	w.Step("turns", "N", "(D - d) / (2*t)", turns, "", "each turn adds two thicknesses")
}

// lengthFor returns the sheet length that makes n turns.
func lengthFor(n, t, d float64) float64 { return math.Pi * n * (d + float64(n*t)) }

// LengthForTurnsInput is the roll wanted of a sheet of known thickness.
type LengthForTurnsInput struct {
	Turns     float64          `json:"turns"`         // wanted turns, 0.5 to 20; the usual aim is 2.5
	Thickness doughmath.Length `json:"thickness"`     // sheet thickness, 0.1 to 200 mm
	Core      doughmath.Length `json:"core,omitzero"` // diameter of the hollow or filling, 0 to 200 mm; 0 for none
}

// LengthForTurnsResult is the sheet to make.
type LengthForTurnsResult struct {
	Length     doughmath.Length     `json:"length"`     // sheet length
	Diameter   doughmath.Length     `json:"diameter"`   // of the roll
	Conditions doughmath.Conditions `json:"conditions"` // few-turns, many-turns
}

// LengthForTurns returns the sheet length that makes the wanted turns:
//
//	L = pi N (d + N t)
//
// It is the inverse of [Curls], with the same validity.
//
// It returns an *[doughmath.InputError] if:
//   - turns is outside 0.5 to 20,
//   - thickness is outside 0.1 to 200 mm, or core outside 0 to 200 mm.
//
// Source: area of the roll's end (derived).
//
// [ExplainLengthForTurns] shows the working.
func LengthForTurns(in LengthForTurnsInput) (LengthForTurnsResult, error) {
	return ExplainLengthForTurns(in, nil)
}

// ExplainLengthForTurns is [LengthForTurns] with its working.
func ExplainLengthForTurns(in LengthForTurnsInput, w *doughmath.Working) (out LengthForTurnsResult, err error) {
	c := doughmath.Checks{Func: "length-for-turns"}
	doughmath.CheckRange(&c, "turns", in.Turns, leastTurns, mostTurns)
	doughmath.CheckRange(&c, "thickness", in.Thickness, thinnestSheet, thickestSheet)
	doughmath.CheckRange(&c, "core", in.Core, 0, thickestCore)
	if err := c.Err(); err != nil {
		return LengthForTurnsResult{}, err
	}
	t, d := float64(in.Thickness), float64(in.Core)
	out = LengthForTurnsResult{
		Length:   doughmath.Length(lengthFor(in.Turns, t, d)),
		Diameter: doughmath.Length(d + float64(2*in.Turns*t)), Conditions: turnConditions(in.Turns),
	}
	if w != nil {
		w.Given("turns", "N", in.Turns, "", "")
		w.Given("sheet thickness", "t", t, "mm", "")
		w.Given("core diameter", "d", d, "mm", "")
		w.Step("roll diameter", "D", "d + 2*N*t", float64(out.Diameter), "mm", "each turn adds two thicknesses")
		w.Step("sheet length", "L", "pi*N*(d + N*t)", float64(out.Length), "mm", "the area of the roll's end is that of the sheet's edge")
	}
	return out, nil
}

// ThicknessForTurnsInput is the roll wanted of a sheet of known length.
type ThicknessForTurnsInput struct {
	Turns  float64          `json:"turns"`         // wanted turns, 0.5 to 20; the usual aim is 2.5
	Length doughmath.Length `json:"length"`        // sheet length, 1 to 5000 mm
	Core   doughmath.Length `json:"core,omitzero"` // diameter of the hollow or filling, 0 to 200 mm; 0 for none
}

// ThicknessForTurnsResult is the sheet to make.
type ThicknessForTurnsResult struct {
	Thickness  doughmath.Length     `json:"thickness"`  // sheet thickness
	Diameter   doughmath.Length     `json:"diameter"`   // of the roll
	Conditions doughmath.Conditions `json:"conditions"` // few-turns, many-turns
}

// ThicknessForTurns returns the thickness at which a sheet of given length
// makes the wanted turns:
//
//	t = (L / (pi N) - d) / N
//
// It is the inverse of [Curls], with the same validity. The length of a real
// piece grows as it is sheeted thinner: for a piece of given mass use [GapForTurns].
//
// It returns an *[doughmath.InputError] if:
//   - turns is outside 0.5 to 20,
//   - length is outside 1 to 5000 mm, or core outside 0 to 200 mm.
//
// It returns a *[doughmath.NoSolutionError] if the sheet is too short to go round the core so often.
//
// Source: area of the roll's end (derived).
//
// [ExplainThicknessForTurns] shows the working.
func ThicknessForTurns(in ThicknessForTurnsInput) (ThicknessForTurnsResult, error) {
	return ExplainThicknessForTurns(in, nil)
}

// ExplainThicknessForTurns is [ThicknessForTurns] with its working.
func ExplainThicknessForTurns(in ThicknessForTurnsInput, w *doughmath.Working) (out ThicknessForTurnsResult, err error) {
	c := doughmath.Checks{Func: "thickness-for-turns"}
	doughmath.CheckRange(&c, "turns", in.Turns, leastTurns, mostTurns)
	doughmath.CheckRange(&c, "length", in.Length, 1, longestSheet)
	doughmath.CheckRange(&c, "core", in.Core, 0, thickestCore)
	if err := c.Err(); err != nil {
		return ThicknessForTurnsResult{}, err
	}
	n, l, d := in.Turns, float64(in.Length), float64(in.Core)
	t := (l/(math.Pi*n) - d) / n
	if t <= 0 {
		return ThicknessForTurnsResult{}, &doughmath.NoSolutionError{
			Func: c.Func, Unknown: "thickness",
			Wanted: number(n) + " turns round a core of " + in.Core.String(), High: number(l/(math.Pi*d)) + " turns",
			Advice: "take a longer sheet or a thinner core",
		}
	}
	out = ThicknessForTurnsResult{Thickness: doughmath.Length(t), Diameter: doughmath.Length(d + float64(2*n*t)), Conditions: turnConditions(n)}
	if w != nil {
		w.Given("turns", "N", n, "", "")
		w.Given("sheet length", "L", l, "mm", "")
		w.Given("core diameter", "d", d, "mm", "")
		w.Step("sheet thickness", "t", "(L/(pi*N) - d) / N", t, "mm", "the area of the roll's end is that of the sheet's edge")
	}
	return out, nil
}

// GapForTurnsInput is the piece, how it sheets, and the turns wanted.
type GapForTurnsInput struct {
	Turns    float64           `json:"turns"`             // wanted turns, 0.5 to 20; the usual aim is 2.5
	Piece    doughmath.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  doughmath.Density `json:"density"`           // density of the dough after the rollers, 0.1 to 1.5 g/ml
	Recovery float64           `json:"recovery"`          // sheet thickness over gap, 1 to 5
	Aspect   float64           `json:"aspect,omitzero"`   // sheet length over width, 0.5 to 10; give this or width
	Width    doughmath.Length  `json:"width,omitzero"`    // sheet width, 5 to 2000 mm; give this or aspect
	Core     doughmath.Length  `json:"core,omitzero"`     // diameter of the hollow or filling, 0 to 200 mm; 0 for none
	Measured bool              `json:"measured,omitzero"` // true if recovery was measured on this line: see [RecoveryFromSheet]
}

// GapForTurns returns the gap that gives a piece the wanted turns:
//
//	pi N (d + N t) = L,  L = sqrt(4 V a / (pi t))  or  L = 4 V / (pi W t)
//	gap = t / recovery
//
// which is a cubic in sqrt(t) with the aspect a given, and a quadratic in t
// with the width W given; both have one positive root, in closed form.
// Without a core the turns go with t^(-3/4), or with 1/t at a given width.
//
// It joins the inverses of [Sheet] and [Curls], with their validity, and is the inverse of [TurnsForGap].
//
// It returns an *[doughmath.InputError] if:
//   - turns is outside 0.5 to 20, or core outside 0 to 200 mm,
//   - piece, density, recovery, aspect or width is out of the range that [Sheet] names.
//
// It returns a *[doughmath.NoSolutionError] if the sheet would have to be as thick as the piece, or thicker.
//
// Source: conservation of volume and area of the roll's end (derived).
//
// [ExplainGapForTurns] shows the working.
func GapForTurns(in GapForTurnsInput) (GapResult, error) { return ExplainGapForTurns(in, nil) }

// ExplainGapForTurns is [GapForTurns] with its working.
func ExplainGapForTurns(in GapForTurnsInput, w *doughmath.Working) (out GapResult, err error) {
	c := doughmath.Checks{Func: "gap-for-turns"}
	doughmath.CheckRange(&c, "turns", in.Turns, leastTurns, mostTurns)
	checkPiece(&c, in.Piece, in.Density)
	doughmath.CheckRange(&c, "recovery", in.Recovery, 1, 5)
	checkOutline(&c, in.Aspect, in.Width)
	doughmath.CheckRange(&c, "core", in.Core, 0, thickestCore)
	if err := c.Err(); err != nil {
		return GapResult{}, err
	}
	v, n, d := volume(in.Piece, in.Density), in.Turns, float64(in.Core)
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Given("turns", "N", n, "", "")
		w.Given("core diameter", "d", d, "mm", "")
	}
	var t float64
	if in.Aspect != 0 {
		// With s = sqrt(t): s^3 + p s = q, whose one real root is u - p/(3u).
		p := d / n
		q := math.Sqrt(4*v*in.Aspect/math.Pi) / (math.Pi * n * n)
		u := math.Cbrt(float64(q/2) + math.Sqrt(float64(float64(q*q)/4)+float64(p*p*p)/27))
		s := u - p/(3*u)
		t = s * s
		if w != nil {
			w.Given("length over width", "a", in.Aspect, "", "")
			w.Step("cubic's linear term", "p", "d / N", p, "mm", "pi*N*(d + N*t) = sqrt(4*V*a/(pi*t)) is s*s*s + p*s = q with s = sqrt(t)")
			w.Step("cubic's right side", "q", "sqrt(4*V*a/pi) / (pi*N*N)", q, "", "")
			w.Step("Cardano's root", "u", "pow(q/2 + sqrt(q*q/4 + p*p*p/27), 1.0/3)", u, "", "")
			w.Step("root of the thickness", "s", "u - p/(3*u)", s, "", "")
			w.Step("sheet thickness", "t", "s * s", t, "mm", "")
		}
	} else {
		// pi N^2 t^2 + pi N d t = B; the root is written without a difference.
		b := 4 * v / (math.Pi * float64(in.Width))
		t = 2 * b / (float64(math.Pi*n*d) + math.Sqrt(float64(math.Pi*n*d*math.Pi*n*d)+float64(4*math.Pi*n*n*b)))
		if w != nil {
			w.Given("sheet width", "W", float64(in.Width), "mm", "")
			w.Step("length times thickness", "B", "4*V / (pi*W)", b, "mm²", "volume of an ellipse of even thickness")
			w.Step("sheet thickness", "t", "2*B / (pi*N*d + sqrt(pi*N*d*pi*N*d + 4*pi*N*N*B))", t, "mm", "pi*N*(d + N*t)*t = B")
		}
	}
	if asThickAsBall(t, in.Piece, in.Density) {
		thickest := sphere(in.Piece, in.Density)
		return GapResult{}, &doughmath.NoSolutionError{
			Func: c.Func, Unknown: "gap", Wanted: number(n) + " turns",
			Advice: "the sheet would have to be " + doughmath.Length(t).String() + " and the piece is only " + thickest.String() + " thick; ask for more turns",
		}
	}
	out = gapFor(t, in.Recovery, in.Measured, w)
	out.Conditions |= turnConditions(n)
	return out, nil
}

// TurnsForGapInput is the piece, how it sheets, and the gap.
type TurnsForGapInput struct {
	Piece    doughmath.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  doughmath.Density `json:"density"`           // density of the dough after the rollers, 0.1 to 1.5 g/ml
	Gap      doughmath.Length  `json:"gap"`               // gap of the last pair of rollers, 0.05 to 200 mm, narrower than the piece
	Recovery float64           `json:"recovery"`          // sheet thickness over gap, 1 to 5
	Aspect   float64           `json:"aspect,omitzero"`   // sheet length over width, 0.5 to 10; give this or width
	Width    doughmath.Length  `json:"width,omitzero"`    // sheet width, 5 to 2000 mm; give this or aspect
	Core     doughmath.Length  `json:"core,omitzero"`     // diameter of the hollow or filling, 0 to 200 mm; 0 for none
	Measured bool              `json:"measured,omitzero"` // true if recovery was measured on this line: see [RecoveryFromSheet]
}

// TurnsForGapResult is the sheet and the roll that a gap makes.
type TurnsForGapResult struct {
	Turns      float64              `json:"turns"`      // from the inner end to the outer end
	Diameter   doughmath.Length     `json:"diameter"`   // of the roll
	Thickness  doughmath.Length     `json:"thickness"`  // of the sheet
	Length     doughmath.Length     `json:"length"`     // of the sheet, in the direction of travel
	Width      doughmath.Length     `json:"width"`      // of the sheet, which is the length of the roll
	Conditions doughmath.Conditions `json:"conditions"` // few-turns, many-turns, uncalibrated, outside-source
	Cautions   doughmath.Cautions   `json:"cautions"`   // moving-machinery, interlocks
}

// TurnsForGap returns the sheet, the turns and the roll that a gap gives a piece:
//
//	t = recovery * gap,  m / rho = pi/4 * L * W * t
//	L t = pi (D^2 - d^2) / 4,  N = (D - d) / (2 t)
//
// It joins [Sheet] and [Curls], with their validity, and is the inverse of [GapForTurns].
//
// It returns an *[doughmath.InputError] if:
//   - piece, density, gap, recovery, aspect or width is out of the range that [Sheet] names,
//   - core is outside 0 to 200 mm,
//   - the gap makes a sheet of less than half a turn, or longer than 5 m.
//
// Source: conservation of volume and area of the roll's end (derived).
//
// [ExplainTurnsForGap] shows the working.
func TurnsForGap(in TurnsForGapInput) (TurnsForGapResult, error) { return ExplainTurnsForGap(in, nil) }

// ExplainTurnsForGap is [TurnsForGap] with its working.
func ExplainTurnsForGap(in TurnsForGapInput, w *doughmath.Working) (out TurnsForGapResult, err error) {
	c := doughmath.Checks{Func: "turns-for-gap"}
	out = in.turns(&c, w)
	return out, c.Err()
}

// turns works out the result, or says in c what is wrong.
func (in *TurnsForGapInput) turns(c *doughmath.Checks, w *doughmath.Working) (out TurnsForGapResult) {
	var s SheetInput
	s.Piece, s.Density, s.Gap, s.Recovery, s.Aspect, s.Width, s.Measured = in.Piece, in.Density, in.Gap, in.Recovery, in.Aspect, in.Width, in.Measured
	s.check(c)
	doughmath.CheckRange(c, "core", in.Core, 0, thickestCore)
	if !c.OK() {
		return out
	}
	sheet := s.sheet(w)
	l, t, d := float64(sheet.Length), float64(sheet.Thickness), float64(in.Core)
	switch {
	case l < lengthFor(leastTurns, t, d):
		c.Fail("gap", in.Gap.String(), "a narrower gap: this sheet does not make half a turn")
	case sheet.Length > longestSheet:
		c.Fail("gap", in.Gap.String(), "a wider gap: this sheet would be "+sheet.Length.String()+" long")
	}
	if !c.OK() {
		return out
	}
	diameter, turns := roll(l, t, d)
	if w != nil {
		explainRoll(w, d, diameter, turns)
	}
	out.Turns, out.Diameter = turns, doughmath.Length(diameter)
	out.Thickness, out.Length, out.Width = sheet.Thickness, sheet.Length, sheet.Width
	out.Conditions, out.Cautions = sheet.Conditions|turnConditions(turns), sheet.Cautions
	return out
}
