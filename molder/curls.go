package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

const (
	// UsualTurns is the usual aim at the curling chain; sheeting further is
	// better as long as the sheet does not tear. Common practice, no source.
	UsualTurns = 2.5
	// fewTurns is where rolling becomes less than usual: a tenth of a turn below
	// the aim, which is about two and a half. So much is lost in the rounding of
	// the rollers' indicator, and nobody sees it in the piece. Common practice, no source.
	fewTurns = 2.4
	// manyTurns is where rolling becomes more than usual: trade texts give two
	// and a half to four curls. From memory; it raises a condition, no more.
	manyTurns = 4
	// leastTurns is what can be called rolled at all: the sheet folded over once.
	leastTurns = 0.5
	// mostTurns bounds turns asked for and found; it catches slips of the decimal point.
	mostTurns = 20
)

// Where the area rule, which takes rings for the spiral, is no longer good: a
// true spiral more than 3 % longer than the sheet. Without a core that is
// below some 1.75 turns; round a core the rule is better.
const (
	largestExcess = 0.03
	// areaRuleTurns are turns from which the spiral is less than that longer, whatever the core.
	areaRuleTurns = 1.75
)

// What a sheet can be, taken wide.
const (
	thinnestSheet  unit.Length = 0.1
	thickestSheet  unit.Length = 200
	shortestRolled unit.Length = 1
	longestSheet   unit.Length = 5000
	thickestCore   unit.Length = 200
)

// turnConditions compares the turns of a sheet of thickness t round a core d
// with the usual, and with what the area rule is good for. A gap set for
// exactly a border must not fall on its other side for its last binary digit.
func turnConditions(turns, t, d float64) Conditions {
	if usual(turns) {
		return 0
	}
	return unusualTurns(turns, t, d)
}

// usual reports whether turns are neither few nor many; it is small enough to be inlined.
func usual(turns float64) bool {
	return turns >= fewTurns*(1-1e-9) && turns <= manyTurns*(1+1e-9)
}

func unusualTurns(turns, t, d float64) Conditions {
	switch {
	case turns > manyTurns:
		return ManyTurns
	case turns < areaRuleTurns && spiralExcess(turns, t, d) > largestExcess:
		return FewTurns | reckon.OutsideSource
	}
	return FewTurns
}

// Curls returns how many turns a sheet makes when it is rolled up tight, and
// how thick the roll is, by the area of its end:
//
//	L t = pi (D^2 - d^2) / 4
//	N = (D - d) / (2 t)
//
// with d the core, 0 for none. The roll is taken as tight, without air. The
// area rule takes rings for the spiral. The true spiral that fills the same
// roll is longer: without a core by 0.7 % at 4 turns, 1.6 % at 2.5 turns, 2.4 %
// at 2 turns, 7.7 % at 1 turn and 23.8 % at half a turn, and by less round a
// core; [SpiralLength] gives it. Where it is more than 3 % longer, without a
// core below some 1.75 turns, the result is called outside-source.
//
// About two and a half turns are the usual aim, and sheeting further without
// tearing is better. Turns are called few below 2.4, a tenth of a turn under
// the aim: so much is lost in the rounding of the rollers' indicator, and
// nobody sees it in the piece (common practice).
//
// It returns an *[reckon.InputError] if:
//   - length is outside 1 to 5000 mm, too short for half a turn, or so long that it makes more than 20 turns,
//   - thickness is outside 0.1 to 200 mm,
//   - core is outside 0 to 200 mm.
//
// Source: area of the roll's end (derived); the aim is common practice; cases
// in testdata/cases/molder/curls.json.
//
// The inverses are [LengthForTurns], [ThicknessForTurns] and [GapForTurns], and [TurnsForGap]
// starts from the rollers.
type Curls struct {
	Length    unit.Length `json:"length"`        // sheet length in the direction of travel, 1 to 5000 mm
	Thickness unit.Length `json:"thickness"`     // sheet thickness, 0.1 to 200 mm
	Core      unit.Length `json:"core,omitzero"` // diameter of the hollow or filling that it is rolled around, 0 to 200 mm; 0 for none
}

func (Curls) ID() string { return "curls" }

// SHELL
func (q Curls) Check(c *reckon.Checks) {
	_, err := explainCurls(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Curls) Solve() (CurlsResult, error) { return explainCurls(q, nil) }

func (q Curls) Show(w *reckon.Working, _ CurlsResult) { _, _ = explainCurls(q, w) }

// CurlsResult is the rolled piece.
type CurlsResult struct {
	Turns      float64         `json:"turns"`      // from the inner end to the outer end
	Diameter   unit.Length     `json:"diameter"`   // of the roll
	Conditions Conditions      `json:"conditions"` // few-turns, many-turns, outside-source
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainCurls(in Curls, w *reckon.Working) (out CurlsResult, err error) {
	c := reckon.Checks{Func: "curls"}
	checkCurls(&c, in.Length, in.Thickness, in.Core)
	if err := c.Err(); err != nil {
		return CurlsResult{}, err
	}
	l, t, d := float64(in.Length), float64(in.Thickness), float64(in.Core)
	diameter, turns := roll(l, t, d)
	out = CurlsResult{
		Turns: turns, Diameter: unit.Length(diameter),
		Conditions: turnConditions(turns, t, d), Cautions: reckon.MovingMachinery,
	}
	if w != nil {
		w.Given("sheet length", "L", l, "mm", "")
		w.Given("sheet thickness", "t", t, "mm", "")
		explainRoll(w, d, diameter, turns)
	}
	return out, nil
}

// checkCurls wants a sheet that can be rolled up.
func checkCurls(c *reckon.Checks, length, thickness, core unit.Length) {
	ok := reckon.CheckRange(c, "length", length, shortestRolled, longestSheet)
	ok = reckon.CheckRange(c, "thickness", thickness, thinnestSheet, thickestSheet) && ok
	ok = reckon.CheckRange(c, "core", core, 0, thickestCore) && ok
	if !ok {
		return
	}
	if shortest := unit.Length(lengthFor(leastTurns, float64(thickness), float64(core))); length < shortest {
		c.Fail("length", length.String(), "at least "+shortest.String()+
			", half a turn at this thickness: close the gap for a longer, thinner sheet")
	}
	// A sheet made for exactly the most must not fail for its last binary digit.
	if longest := unit.Length(lengthFor(mostTurns, float64(thickness), float64(core))); length > longest*(1+1e-9) {
		c.Fail("length", length.String(), "at most "+longest.String()+", "+number(mostTurns)+" turns at this thickness: cut a shorter sheet or open the gap")
	}
}

// roll returns the diameter and the turns of a sheet rolled up.
func roll(l, t, d float64) (diameter, turns float64) {
	diameter = math.Sqrt(float64(d*d) + 4*l*t/math.Pi)
	// (D - d) / (2t), written so that nothing is lost when D is close to d.
	return diameter, 2 * l / (math.Pi * (diameter + d))
}

// explainRoll ends a working that holds L and t.
func explainRoll(w *reckon.Working, d, diameter, turns float64) {
	w.Given("core diameter", "d", d, "mm", "")
	w.Step("roll diameter", "D", "sqrt(d*d + 4*L*t/pi)", diameter, "mm", "the area of the roll's end is that of the sheet's edge")
	w.Step("turns", "N", "(D - d) / (2*t)", turns, "", "each turn adds two thicknesses")
}

// lengthFor returns the sheet length that makes n turns.
func lengthFor(n, t, d float64) float64 { return math.Pi * n * (d + float64(n*t)) }

// noTurns says which turns can be reached: from low to high, as far as turns
// may be asked for at all.
func noTurns(id, unknown, wanted string, low, high float64, advice string) error {
	if high > leastTurns {
		low = max(low, leastTurns)
	}
	if low < mostTurns {
		high = min(high, mostTurns)
	}
	return &reckon.NoSolutionError{
		Func: id, Unknown: unknown, Wanted: wanted,
		Low: number(low) + " turns", High: number(high) + " turns", Advice: advice,
	}
}

// LengthForTurns returns the sheet length that makes the wanted turns:
//
//	L = pi N (d + N t)
//
// It is the inverse of [Curls], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - turns is outside 0.5 to 20,
//   - thickness is outside 0.1 to 200 mm, or core outside 0 to 200 mm.
//
// It returns a *[reckon.NoSolutionError] if the sheet would be outside the 1 to 5000 mm that [Curls] takes.
//
// Source: area of the roll's end (derived).
type LengthForTurns struct {
	Turns     float64     `json:"turns"`         // wanted turns, 0.5 to 20; the usual aim is 2.5
	Thickness unit.Length `json:"thickness"`     // sheet thickness, 0.1 to 200 mm
	Core      unit.Length `json:"core,omitzero"` // diameter of the hollow or filling, 0 to 200 mm; 0 for none
}

func (LengthForTurns) ID() string { return "length-for-turns" }

// SHELL
func (q LengthForTurns) Check(c *reckon.Checks) {
	_, err := explainLengthForTurns(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q LengthForTurns) Solve() (LengthForTurnsResult, error) { return explainLengthForTurns(q, nil) }

func (q LengthForTurns) Show(w *reckon.Working, _ LengthForTurnsResult) {
	_, _ = explainLengthForTurns(q, w)
}

// LengthForTurnsResult is the sheet to make.
type LengthForTurnsResult struct {
	Length     unit.Length `json:"length"`     // sheet length
	Diameter   unit.Length `json:"diameter"`   // of the roll
	Conditions Conditions  `json:"conditions"` // few-turns, many-turns, outside-source
}

func explainLengthForTurns(in LengthForTurns, w *reckon.Working) (out LengthForTurnsResult, err error) {
	c := reckon.Checks{Func: "length-for-turns"}
	reckon.CheckRange(&c, "turns", in.Turns, leastTurns, mostTurns)
	reckon.CheckRange(&c, "thickness", in.Thickness, thinnestSheet, thickestSheet)
	reckon.CheckRange(&c, "core", in.Core, 0, thickestCore)
	if err := c.Err(); err != nil {
		return LengthForTurnsResult{}, err
	}
	t, d := float64(in.Thickness), float64(in.Core)
	out = LengthForTurnsResult{
		Length:   unit.Length(lengthFor(in.Turns, t, d)),
		Diameter: unit.Length(d + float64(2*in.Turns*t)), Conditions: turnConditions(in.Turns, t, d),
	}
	if out.Length < shortestRolled || out.Length > longestSheet {
		_, low := roll(float64(shortestRolled), t, d)
		_, high := roll(float64(longestSheet), t, d)
		advice := "the sheet would have to be " + out.Length.String() + " long; make it thinner or ask for fewer turns"
		if out.Length < shortestRolled {
			advice = "the sheet would be only " + out.Length.String() + " long; make it thicker or ask for more turns"
		}
		return LengthForTurnsResult{}, noTurns(c.Func, "length", number(in.Turns)+" turns of a sheet "+in.Thickness.String()+" thick", low, high, advice)
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

// ThicknessForTurns returns the thickness at which a sheet of given length
// makes the wanted turns:
//
//	t = (L / (pi N) - d) / N
//
// It is the inverse of [Curls], with the same validity. The length of a real
// piece grows as it is sheeted thinner: for a piece of given mass use [GapForTurns].
//
// It returns an *[reckon.InputError] if:
//   - turns is outside 0.5 to 20,
//   - length is outside 1 to 5000 mm, or core outside 0 to 200 mm.
//
// It returns a *[reckon.NoSolutionError] if the sheet is too short to go
// round the core so often, or would be outside the 0.1 to 200 mm thick that [Curls] takes.
//
// Source: area of the roll's end (derived).
type ThicknessForTurns struct {
	Turns  float64     `json:"turns"`         // wanted turns, 0.5 to 20; the usual aim is 2.5
	Length unit.Length `json:"length"`        // sheet length, 1 to 5000 mm
	Core   unit.Length `json:"core,omitzero"` // diameter of the hollow or filling, 0 to 200 mm; 0 for none
}

func (ThicknessForTurns) ID() string { return "thickness-for-turns" }

// SHELL
func (q ThicknessForTurns) Check(c *reckon.Checks) {
	_, err := explainThicknessForTurns(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ThicknessForTurns) Solve() (ThicknessForTurnsResult, error) {
	return explainThicknessForTurns(q, nil)
}

func (q ThicknessForTurns) Show(w *reckon.Working, _ ThicknessForTurnsResult) {
	_, _ = explainThicknessForTurns(q, w)
}

// ThicknessForTurnsResult is the sheet to make.
type ThicknessForTurnsResult struct {
	Thickness  unit.Length `json:"thickness"`  // sheet thickness
	Diameter   unit.Length `json:"diameter"`   // of the roll
	Conditions Conditions  `json:"conditions"` // few-turns, many-turns, outside-source
}

func explainThicknessForTurns(in ThicknessForTurns, w *reckon.Working) (out ThicknessForTurnsResult, err error) {
	c := reckon.Checks{Func: "thickness-for-turns"}
	reckon.CheckRange(&c, "turns", in.Turns, leastTurns, mostTurns)
	reckon.CheckRange(&c, "length", in.Length, shortestRolled, longestSheet)
	reckon.CheckRange(&c, "core", in.Core, 0, thickestCore)
	if err := c.Err(); err != nil {
		return ThicknessForTurnsResult{}, err
	}
	n, l, d := in.Turns, float64(in.Length), float64(in.Core)
	t := (l/(math.Pi*n) - d) / n
	if !(t >= float64(thinnestSheet) && t <= float64(thickestSheet)) {
		_, low := roll(l, float64(thickestSheet), d)
		_, high := roll(l, float64(thinnestSheet), d)
		wanted := number(n) + " turns of a sheet " + in.Length.String() + " long"
		if d > 0 {
			wanted += " round a core of " + in.Core.String()
		}
		advice := "take a longer sheet, a thinner core or fewer turns"
		if t > 0 {
			advice = "the sheet would have to be " + unit.Length(t).String() + " thick; " + advice
		}
		if t > float64(thickestSheet) {
			advice = "the sheet would have to be " + unit.Length(t).String() + " thick; take a shorter sheet or more turns"
		}
		return ThicknessForTurnsResult{}, noTurns(c.Func, "thickness", wanted, low, high, advice)
	}
	out = ThicknessForTurnsResult{Thickness: unit.Length(t), Diameter: unit.Length(d + float64(2*n*t)), Conditions: turnConditions(n, t, d)}
	if w != nil {
		w.Given("turns", "N", n, "", "")
		w.Given("sheet length", "L", l, "mm", "")
		w.Given("core diameter", "d", d, "mm", "")
		w.Step("sheet thickness", "t", "(L/(pi*N) - d) / N", t, "mm", "the area of the roll's end is that of the sheet's edge")
	}
	return out, nil
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
// It returns an *[reckon.InputError] if:
//   - turns is outside 0.5 to 20, or core outside 0 to 200 mm,
//   - piece, density, recovery, aspect or width is out of the range that [Sheet] names.
//
// It returns a *[reckon.NoSolutionError] if the sheet would have to be as
// thick as the piece or thicker, or if gap or sheet would be out of the range that [Sheet] names.
//
// Source: conservation of volume and area of the roll's end (derived).
type GapForTurns struct {
	Turns    float64      `json:"turns"`             // wanted turns, 0.5 to 20; the usual aim is 2.5
	Piece    unit.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`           // density of the dough after the rollers, 0.1 to 1.5 g/ml
	Recovery float64      `json:"recovery"`          // sheet thickness over gap, 1 to 5
	Aspect   float64      `json:"aspect,omitzero"`   // sheet length over width, 0.5 to 10; give this or width
	Width    unit.Length  `json:"width,omitzero"`    // sheet width, 5 to 2000 mm; give this or aspect
	Core     unit.Length  `json:"core,omitzero"`     // diameter of the hollow or filling, 0 to 200 mm; 0 for none
	Measured bool         `json:"measured,omitzero"` // true if recovery was measured on this line: see [RecoveryFromSheet]
}

func (GapForTurns) ID() string { return "gap-for-turns" }

// SHELL
func (q GapForTurns) Check(c *reckon.Checks) {
	_, err := explainGapForTurns(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GapForTurns) Solve() (GapResult, error) { return explainGapForTurns(q, nil) }

func (q GapForTurns) Show(w *reckon.Working, _ GapResult) { _, _ = explainGapForTurns(q, w) }

func explainGapForTurns(in GapForTurns, w *reckon.Working) (out GapResult, err error) {
	c := reckon.Checks{Func: "gap-for-turns"}
	reckon.CheckRange(&c, "turns", in.Turns, leastTurns, mostTurns)
	checkPiece(&c, in.Piece, in.Density)
	reckon.CheckRange(&c, "recovery", in.Recovery, 1, 5)
	checkOutline(&c, in.Aspect, in.Width)
	reckon.CheckRange(&c, "core", in.Core, 0, thickestCore)
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
	length := lengthFor(n, t, d)
	if asThickAsBall(t, in.Piece, in.Density) || !isUsualSheet(t, length) && !in.isSheet(t, length) {
		return GapResult{}, in.noGap(t, length)
	}
	out = gapFor(t, in.Recovery, in.Measured, w)
	if !usual(n) {
		out.Conditions |= unusualTurns(n, t, d)
	}
	if in.Width != 0 {
		out.Conditions |= outlineConditions(length, float64(in.Width))
	}
	return out, nil
}

// isUsualSheet reports whether gap and sheet lie within all ranges whatever the
// recovery and the aspect are: a gap of t/5 and widths of L/10 and 2 L do.
func isUsualSheet(t, length float64) bool {
	return t >= 5*float64(narrowestGap) && t <= float64(thickestSheet) && length >= 10*float64(narrowestSheet) && length <= float64(widestSheet)/2
}

// isSheet reports whether gap and sheet lie within the ranges that [Sheet] names.
func (in *GapForTurns) isSheet(t, length float64) bool {
	width := float64(in.Width)
	if in.Aspect != 0 {
		width = length / in.Aspect
	}
	return t/in.Recovery >= float64(narrowestGap) && isSheet(t, length, width)
}

// noGap says which turns can be reached.
func (in *GapForTurns) noGap(t, length float64) error {
	id, wanted := "gap-for-turns", number(in.Turns)+" turns"
	o := outline{volume: volume(in.Piece, in.Density), recovery: in.Recovery, aspect: in.Aspect, width: float64(in.Width)}
	thin, thick, ok := o.reach()
	if !ok {
		return &reckon.NoSolutionError{Func: id, Unknown: "gap", Wanted: wanted, Advice: noSheetAtAll}
	}
	_, low := roll(o.length(thick), thick, float64(in.Core))
	_, high := roll(o.length(thin), thin, float64(in.Core))
	would := "the sheet would have to be " + unit.Length(t).String() + " thick and " + unit.Length(length).String() + " long behind a gap of " + unit.Length(t/in.Recovery).String()
	switch {
	case asThickAsBall(t, in.Piece, in.Density):
		would = "the sheet would have to be " + unit.Length(t).String() + " and the piece is only " + sphere(in.Piece, in.Density).String() + " thick; ask for more turns"
	case t >= thick:
		would += "; ask for more turns"
	default:
		would += "; ask for fewer turns or take a heavier piece"
	}
	return noTurns(id, "gap", wanted, low, high, would)
}

// TurnsForGap returns the sheet, the turns and the roll that a gap gives a piece:
//
//	t = recovery * gap,  m / rho = pi/4 * L * W * t
//	L t = pi (D^2 - d^2) / 4,  N = (D - d) / (2 t)
//
// It joins [Sheet] and [Curls], with their validity, and is the inverse of [GapForTurns].
//
// It returns an *[reckon.InputError] if:
//   - piece, density, gap, recovery, aspect or width is out of the range that [Sheet] names,
//   - core is outside 0 to 200 mm,
//   - the gap makes a sheet of less than half a turn or more than 20 turns, or one that [Sheet] refuses.
//
// Source: conservation of volume and area of the roll's end (derived).
type TurnsForGap struct {
	Piece    unit.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`           // density of the dough after the rollers, 0.1 to 1.5 g/ml
	Gap      unit.Length  `json:"gap"`               // gap of the last pair of rollers, 0.05 to 200 mm, narrower than the piece
	Recovery float64      `json:"recovery"`          // sheet thickness over gap, 1 to 5
	Aspect   float64      `json:"aspect,omitzero"`   // sheet length over width, 0.5 to 10; give this or width
	Width    unit.Length  `json:"width,omitzero"`    // sheet width, 5 to 2000 mm; give this or aspect
	Core     unit.Length  `json:"core,omitzero"`     // diameter of the hollow or filling, 0 to 200 mm; 0 for none
	Measured bool         `json:"measured,omitzero"` // true if recovery was measured on this line: see [RecoveryFromSheet]
}

func (TurnsForGap) ID() string { return "turns-for-gap" }

// SHELL
func (q TurnsForGap) Check(c *reckon.Checks) {
	_, err := explainTurnsForGap(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TurnsForGap) Solve() (TurnsForGapResult, error) { return explainTurnsForGap(q, nil) }

func (q TurnsForGap) Show(w *reckon.Working, _ TurnsForGapResult) { _, _ = explainTurnsForGap(q, w) }

// TurnsForGapResult is the sheet and the roll that a gap makes.
type TurnsForGapResult struct {
	Turns      float64         `json:"turns"`      // from the inner end to the outer end
	Diameter   unit.Length     `json:"diameter"`   // of the roll
	Thickness  unit.Length     `json:"thickness"`  // of the sheet
	Length     unit.Length     `json:"length"`     // of the sheet, in the direction of travel
	Width      unit.Length     `json:"width"`      // of the sheet, which is the length of the roll
	Conditions Conditions      `json:"conditions"` // few-turns, many-turns, uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, interlocks
}

func explainTurnsForGap(in TurnsForGap, w *reckon.Working) (out TurnsForGapResult, err error) {
	c := reckon.Checks{Func: "turns-for-gap"}
	out = in.turns(&c, w)
	return out, c.Err()
}

// turns works out the result, or says in c what is wrong.
func (in *TurnsForGap) turns(c *reckon.Checks, w *reckon.Working) (out TurnsForGapResult) {
	var s Sheet
	s.Piece, s.Density, s.Gap, s.Recovery, s.Aspect, s.Width, s.Measured = in.Piece, in.Density, in.Gap, in.Recovery, in.Aspect, in.Width, in.Measured
	s.check(c)
	reckon.CheckRange(c, "core", in.Core, 0, thickestCore)
	if !c.OK() {
		return out
	}
	sheet := s.sheet(w)
	l, t, d := float64(sheet.Length), float64(sheet.Thickness), float64(in.Core)
	diameter, turns := roll(l, t, d)
	switch {
	case !isSheet(t, l, float64(sheet.Width)):
		s.refuseSheet(c, &sheet)
	case l < lengthFor(leastTurns, t, d):
		c.Fail("gap", in.Gap.String(), "a narrower gap: this sheet does not make half a turn")
	case turns > mostTurns*(1+1e-9):
		c.Fail("gap", in.Gap.String(), "a wider gap: this sheet makes "+number(turns)+" turns, and "+number(mostTurns)+" are the most")
	}
	if !c.OK() {
		return out
	}
	if w != nil {
		explainRoll(w, d, diameter, turns)
	}
	out.Turns, out.Diameter = turns, unit.Length(diameter)
	out.Thickness, out.Length, out.Width = sheet.Thickness, sheet.Length, sheet.Width
	out.Conditions, out.Cautions = sheet.Conditions, sheet.Cautions
	if !usual(turns) {
		out.Conditions |= unusualTurns(turns, t, d)
	}
	return out
}
