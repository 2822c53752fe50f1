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

// What can be rolled up, taken wide: a sheet that is only rolled may be shorter
// than one that the rollers make.
const (
	shortestRolled unit.Length = 1
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

// checkCurls requires a sheet that can be rolled up.
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

// lengthFor returns the sheet length that makes n turns.
func lengthFor(n, t, d float64) float64 { return math.Pi * n * (d + float64(n*t)) }

// showRoll records how a sheet becomes a roll.
func showRoll(w *reckon.Working, answer any) {
	w.Lines(answer,
		"roll diameter: D = sqrt(d*d + 4*L*t/pi) in mm  [the area of the roll's end is that of the sheet's edge]",
		"turns: N = (D - d)/(2*t)  [each turn adds two thicknesses]")
}

// showRolled is showRoll with the turns as they are counted in cut pieces, over
// those computed by ratio; 0 if that is not known.
func showRolled(w *reckon.Working, answer any, ratio float64) {
	if ratio == 0 {
		showRoll(w, answer)
		return
	}
	w.Lines(answer,
		"roll diameter: D = sqrt(d*d + 4*L*t/pi) in mm  [the area of the roll's end is that of the sheet's edge]",
		"turns of a tight roll: N_0 = (D - d)/(2*t)  [each turn adds two thicknesses]",
		"turns: N = k*N_0  [counted in cut pieces]")
}

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

// Curls asks how many turns a sheet makes when it is rolled up tight, and how
// thick the roll is, by the area of its end:
//
//	L * t = pi * (D^2 - d^2) / 4
//	N = (D - d) / (2 * t)
//
// with d = 0 for no core. The roll is taken as tight, without air. The area
// rule takes rings for the spiral. The true spiral that fills the same roll is
// longer: without a core by 0.7 % at 4 turns, 1.6 % at 2.5 turns, 2.4 % at 2
// turns, 7.7 % at 1 turn and 23.8 % at half a turn, and by less round a core;
// [SpiralLength] gives it. Where it is more than 3 % longer, without a core
// below some 1.75 turns, the result is called outside-source.
//
// About two and a half turns are the usual aim, and sheeting further without
// tearing is better. Turns are called few below 2.4, a tenth of a turn under
// the aim: so much is lost in the rounding of the rollers' indicator, and
// nobody sees it in the piece (common practice).
//
// It is refused if the sheet is too short for half a turn, or so long that it
// makes more than 20 turns.
//
// Source: area of the roll's end (derived); the aim is common practice; cases
// in testdata/cases/molder/curls.json.
//
// The inverses are [LengthForTurns], [ThicknessForTurns] and [GapForTurns], and [TurnsForGap]
// starts from the rollers.
type Curls struct {
	Length    unit.Length `json:"length" sym:"L" range:"1 mm..5 m"`             // sheet length in the direction of travel
	Thickness unit.Length `json:"thickness" sym:"t" range:"0.1 mm..200 mm"`     // sheet thickness
	Core      unit.Length `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling that it is rolled around; 0 for none
}

// CurlsResult is the rolled piece.
type CurlsResult struct {
	Turns      float64         `json:"turns" sym:"N"`    // from the inner end to the outer end
	Diameter   unit.Length     `json:"diameter" sym:"D"` // of the roll
	Conditions Conditions      `json:"conditions"`       // few-turns, many-turns, outside-source
	Cautions   reckon.Cautions `json:"cautions"`         // moving-machinery, roller-nip
}

func (Curls) ID() string { return "curls" }

func (q Curls) Check(c *reckon.Checks) { checkCurls(c, q.Length, q.Thickness, q.Core) }

func (q Curls) Solve() (out CurlsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	l, t, d := float64(q.Length), float64(q.Thickness), float64(q.Core)
	diameter, turns := roll(l, t, d)
	return CurlsResult{
		Turns: turns, Diameter: unit.Length(diameter),
		Conditions: turnConditions(turns, t, d), Cautions: reckon.MovingMachinery | reckon.RollerNip,
	}, nil
}

func (q Curls) Show(w *reckon.Working, out CurlsResult) {
	w.Inputs(q)
	showRoll(w, out)
}

// LengthForTurns asks how long a sheet must be to make the wanted turns:
//
//	D = d + 2 * N * t
//	L = pi * N * (d + N * t)
//
// It is the inverse of [Curls], with the same validity.
//
// Source: area of the roll's end (derived).
//
// The inverse is [Curls].
type LengthForTurns struct {
	Turns     float64     `json:"turns" sym:"N" range:"0.5..20"`                // wanted turns; the usual aim is 2.5
	Thickness unit.Length `json:"thickness" sym:"t" range:"0.1 mm..200 mm"`     // sheet thickness
	Core      unit.Length `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling; 0 for none
}

// LengthForTurnsResult is the sheet to make.
type LengthForTurnsResult struct {
	Length     unit.Length `json:"length" sym:"L"`   // sheet length
	Diameter   unit.Length `json:"diameter" sym:"D"` // of the roll
	Conditions Conditions  `json:"conditions"`       // few-turns, many-turns, outside-source
}

func (LengthForTurns) ID() string { return "length-for-turns" }

func (q LengthForTurns) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "turns", q.Turns, leastTurns, mostTurns)
	reckon.CheckRange(c, "thickness", q.Thickness, thinnestSheet, thickestSheet)
	reckon.CheckRange(c, "core", q.Core, 0, thickestCore)
}

// Solve has no answer if the sheet would be outside the 1 mm to 5 m that [Curls] takes.
func (q LengthForTurns) Solve() (out LengthForTurnsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	t, d := float64(q.Thickness), float64(q.Core)
	length := unit.Length(lengthFor(q.Turns, t, d))
	if length < shortestRolled || length > longestSheet {
		return out, q.noLength(length)
	}
	return LengthForTurnsResult{
		Length: length, Diameter: unit.Length(d + float64(2*q.Turns*t)), Conditions: turnConditions(q.Turns, t, d),
	}, nil
}

// noLength says which turns can be reached.
func (q *LengthForTurns) noLength(length unit.Length) error {
	t, d := float64(q.Thickness), float64(q.Core)
	_, low := roll(float64(shortestRolled), t, d)
	_, high := roll(float64(longestSheet), t, d)
	advice := "the sheet would have to be " + length.String() + " long; make it thinner or ask for fewer turns"
	if length < shortestRolled {
		advice = "the sheet would be only " + length.String() + " long; make it thicker or ask for more turns"
	}
	return noTurns(q.ID(), "length", number(q.Turns)+" turns of a sheet "+q.Thickness.String()+" thick", low, high, advice)
}

func (q LengthForTurns) Show(w *reckon.Working, out LengthForTurnsResult) {
	w.Inputs(q)
	w.Lines(out,
		"roll diameter: D = d + 2*N*t  [each turn adds two thicknesses]",
		"sheet length: L = pi*N*(d + N*t)  [the area of the roll's end is that of the sheet's edge]")
}

// ThicknessForTurns asks how thick a sheet of given length must be to make the
// wanted turns:
//
//	t = (L / (pi * N) - d) / N
//	D = d + 2 * N * t
//
// It is the inverse of [Curls], with the same validity. The length of a real
// piece grows as it is sheeted thinner: for a piece of given mass use [GapForTurns].
//
// Source: area of the roll's end (derived).
//
// The inverse is [Curls].
type ThicknessForTurns struct {
	Turns  float64     `json:"turns" sym:"N" range:"0.5..20"`                // wanted turns; the usual aim is 2.5
	Length unit.Length `json:"length" sym:"L" range:"1 mm..5 m"`             // sheet length
	Core   unit.Length `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling; 0 for none
}

// ThicknessForTurnsResult is the sheet to make.
type ThicknessForTurnsResult struct {
	Thickness  unit.Length     `json:"thickness" sym:"t"` // sheet thickness
	Diameter   unit.Length     `json:"diameter" sym:"D"`  // of the roll
	Conditions Conditions      `json:"conditions"`        // few-turns, many-turns, outside-source
	Cautions   reckon.Cautions `json:"cautions"`          // roller-nip
}

func (ThicknessForTurns) ID() string { return "thickness-for-turns" }

func (q ThicknessForTurns) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "turns", q.Turns, leastTurns, mostTurns)
	reckon.CheckRange(c, "length", q.Length, shortestRolled, longestSheet)
	reckon.CheckRange(c, "core", q.Core, 0, thickestCore)
}

// Solve has no answer if the sheet is too short to go round the core that many times,
// or would be outside the 0.1 mm to 200 mm thick that [Curls] takes.
func (q ThicknessForTurns) Solve() (out ThicknessForTurnsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n, l, d := q.Turns, float64(q.Length), float64(q.Core)
	t := (l/(math.Pi*n) - d) / n
	if !(t >= float64(thinnestSheet) && t <= float64(thickestSheet)) {
		return out, q.noThickness(t)
	}
	return ThicknessForTurnsResult{
		Thickness: unit.Length(t), Diameter: unit.Length(d + float64(2*n*t)), Conditions: turnConditions(n, t, d),
		Cautions: reckon.RollerNip,
	}, nil
}

// noThickness says which turns can be reached.
func (q *ThicknessForTurns) noThickness(t float64) error {
	l, d := float64(q.Length), float64(q.Core)
	_, low := roll(l, float64(thickestSheet), d)
	_, high := roll(l, float64(thinnestSheet), d)
	wanted := number(q.Turns) + " turns of a sheet " + q.Length.String() + " long"
	if d > 0 {
		wanted += " round a core of " + q.Core.String()
	}
	advice := "take a longer sheet, a thinner core or fewer turns"
	if t > 0 {
		advice = "the sheet would have to be " + unit.Length(t).String() + " thick; " + advice
	}
	if t > float64(thickestSheet) {
		advice = "the sheet would have to be " + unit.Length(t).String() + " thick; take a shorter sheet or more turns"
	}
	return noTurns(q.ID(), "thickness", wanted, low, high, advice)
}

func (q ThicknessForTurns) Show(w *reckon.Working, out ThicknessForTurnsResult) {
	w.Inputs(q)
	w.Lines(out,
		"sheet thickness: t = (L/(pi*N) - d)/N  [the area of the roll's end is that of the sheet's edge]",
		"roll diameter: D = d + 2*N*t  [each turn adds two thicknesses]")
}
