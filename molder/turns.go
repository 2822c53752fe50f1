package molder

import (
	"math"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// TurnsForGap asks how many turns a gap gives a piece, and what its sheet and its
// roll are like:
//
//	t = R * g
//	V = m / rho * 1000 = pi/4 * L * W * t,  a = L / W
//	L * t = pi * (D^2 - d^2) / 4
//	N = k * (D - d) / (2 * t)
//	V = pi * (D_m^2 - d^2) / 4 * W
//
// The sheet is longest in its middle, and so the roll is thickest there: D
// holds in the middle, and D_m is that of an even roll of the same dough. The
// ratio k is that of the turns counted in cut pieces to those computed, 1 if
// it is left out: a roll that is not tight makes fewer.
//
// Where tear_limit is given, many turns are no reason to look; a sheet thinner
// than that is. It joins [Sheet] and [Curls], with their validity, and is the inverse of [GapForTurns].
//
// It is refused if:
//   - the gap is too wide to sheet the piece,
//   - both or neither of aspect and width are given,
//   - the gap makes a sheet that [Sheet] refuses, or one of less than half a turn or more than 20 turns.
//
// Source: conservation of volume and area of the roll's end (derived).
//
// The inverse is [GapForTurns].
type TurnsForGap struct {
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough after the rollers
	Gap      unit.Length  `json:"gap" sym:"g" range:"0.05 mm..200 mm"`          // gap of the last pair of rollers, narrow enough to sheet the piece
	Recovery float64      `json:"recovery" sym:"R" range:"1..5"`                // sheet thickness over gap
	Aspect   float64      `json:"aspect,omitzero" sym:"a" range:"0.5..10"`      // sheet length over width; give this or width
	Width    unit.Length  `json:"width,omitzero" sym:"W" range:"5 mm..2 m"`     // sheet width; give this or aspect
	Core     unit.Length  `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling; 0 for none
	Measured bool         `json:"measured,omitzero"`                            // true if recovery was measured on this line: see [RecoveryFromSheet]

	TurnsRatio float64     `json:"turns_ratio,omitzero" sym:"k,1" range:"0.3..2"` // turns counted in cut pieces over turns computed: see [TurnsRatioFromPieces]; leave out for 1
	TearLimit  unit.Length `json:"tear_limit,omitzero" range:"0.1 mm..200 mm"`    // thinnest sheet of this dough that did not tear: see [SheetFromTrials]; leave out if not known
}

// TurnsForGapResult is the sheet and the roll that a gap makes.
type TurnsForGapResult struct {
	Turns      float64         `json:"turns" sym:"N"`           // from the inner end to the outer end
	Diameter   unit.Length     `json:"diameter" sym:"D"`        // of the roll in its middle, where it is thickest
	Mean       unit.Length     `json:"mean_diameter" sym:"D_m"` // of a cylinder as long as the roll that holds its dough and its core
	Thickness  unit.Length     `json:"thickness" sym:"t"`       // of the sheet
	Length     unit.Length     `json:"length" sym:"L"`          // of the sheet, in the direction of travel
	Width      unit.Length     `json:"width" sym:"W"`           // of the sheet, which is the length of the roll
	Conditions Conditions      `json:"conditions"`              // few-turns, many-turns, sheet-may-tear, uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`                // moving-machinery, interlocks, roller-nip
}

func (TurnsForGap) ID() string { return "turns-for-gap" }

func (q TurnsForGap) Check(c *reckon.Checks) { q.check(c, new(TurnsForGapResult)) }

// check returns the sheet and the roll, if there are any.
func (q *TurnsForGap) check(c *reckon.Checks, out *TurnsForGapResult) {
	var s Sheet
	s.Piece, s.Density, s.Gap = q.Piece, q.Density, q.Gap
	s.Recovery, s.Aspect, s.Width = q.Recovery, q.Aspect, q.Width
	s.Measured = q.Measured
	ok := s.checkInputs(c)
	ok = reckon.CheckRange(c, "core", q.Core, 0, thickestCore) && ok
	if ok = checkTurnsRatio(c, q.TurnsRatio) && ok; !checkTearLimit(c, q.TearLimit) || !ok {
		return
	}
	sheet := s.sheet()
	l, t, d := float64(sheet.Length), float64(sheet.Thickness), float64(q.Core)
	diameter, turns := roll(l, t, d)
	switch {
	case !isSheet(t, l, float64(sheet.Width)):
		s.refuse(c, &sheet)
		return
	case l < lengthFor(leastTurns, t, d):
		c.Fail("gap", q.Gap.String(), "a narrower gap: this sheet does not make half a turn")
		return
	case turns > mostTurns*(1+1e-9):
		c.Fail("gap", q.Gap.String(), "a wider gap: this sheet makes "+number(turns)+" turns, and "+number(mostTurns)+" are the most")
		return
	}
	out.Turns, out.Diameter = turns*ratioOr1(q.TurnsRatio), unit.Length(diameter)
	out.Mean = unit.Length(math.Sqrt(float64(d*d) + float64(l*t)))
	out.Thickness, out.Length, out.Width = sheet.Thickness, sheet.Length, sheet.Width
	out.Conditions, out.Cautions = sheet.Conditions, sheet.Cautions
	if !usual(out.Turns) {
		out.Conditions |= unusualTurns(out.Turns, t, d)
	}
	out.Conditions = tearConditions(out.Conditions, sheet.Thickness, q.TearLimit)
}

// tearConditions drops what many turns would ask to look at if the sheet is
// known to hold, and says if it is not.
func tearConditions(found Conditions, thickness, tears unit.Length) Conditions {
	switch {
	case tears == 0:
		return found
	case thickness < tears*(1-1e-9): // a gap set for exactly the limit holds
		return found | SheetMayTear
	}
	return found &^ ManyTurns
}

func checkTurnsRatio(c *reckon.Checks, ratio float64) bool {
	return ratio == 0 || reckon.CheckRange(c, "turns_ratio", ratio, leastTurnsRatio, largestTurnsRatio)
}

func checkTearLimit(c *reckon.Checks, limit unit.Length) bool {
	return limit == 0 || reckon.CheckRange(c, "tear_limit", limit, thinnestSheet, thickestSheet)
}

// ratioOr1 reads the ratio of counted to computed turns, which may be left out.
func ratioOr1(ratio float64) float64 {
	if ratio == 0 {
		return 1
	}
	return ratio
}

func (q TurnsForGap) Solve() (out TurnsForGapResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *TurnsForGap) SolveInto(out *TurnsForGapResult) error {
	*out = TurnsForGapResult{}
	c := reckon.Checks{Func: q.ID()}
	q.check(&c, out)
	return c.Err()
}

func (q TurnsForGap) Show(w *reckon.Working, out TurnsForGapResult) {
	w.Inputs(q)
	showSheet(w, out, q.Aspect != 0)
	showRolled(w, out, q.TurnsRatio)
	w.Lines(out, "diameter of an even roll: D_m = sqrt(d*d + 4*V/(pi*W))  [the roll holds the dough of the sheet]")
}

// GapForTurns asks what gap gives a piece the wanted turns:
//
//	V = m / rho * 1000
//	N_0 = N / k
//	pi * N_0 * (d + N_0 * t) = L,  L = sqrt(4 * V * a / (pi * t))  or  L = 4 * V / (pi * W * t)
//	g = t / R
//
// which is a cubic in sqrt(t) with the aspect a given, and a quadratic in t
// with the width W given; both have one positive root, in closed form.
// Without a core the turns go with t^(-3/4), or with 1/t at a given width.
//
// It joins the inverses of [Sheet] and [Curls], with their validity, and is the inverse of [TurnsForGap].
//
// It is refused if both or neither of aspect and width are given.
//
// Source: conservation of volume and area of the roll's end (derived).
//
// The inverse is [TurnsForGap].
type GapForTurns struct {
	Turns    float64      `json:"turns" sym:"N" range:"0.5..20"`                // wanted turns; the usual aim is 2.5
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough after the rollers
	Recovery float64      `json:"recovery" sym:"R" range:"1..5"`                // sheet thickness over gap
	Aspect   float64      `json:"aspect,omitzero" sym:"a" range:"0.5..10"`      // sheet length over width; give this or width
	Width    unit.Length  `json:"width,omitzero" sym:"W" range:"5 mm..2 m"`     // sheet width; give this or aspect
	Core     unit.Length  `json:"core,omitzero" sym:"d,0" range:"0 mm..200 mm"` // diameter of the hollow or filling; 0 for none
	Measured bool         `json:"measured,omitzero"`                            // true if recovery was measured on this line: see [RecoveryFromSheet]

	TurnsRatio float64 `json:"turns_ratio,omitzero" sym:"k,1" range:"0.3..2"` // turns counted in cut pieces over turns computed: see [TurnsRatioFromPieces]; leave out for 1
}

func (GapForTurns) ID() string { return "gap-for-turns" }

func (q GapForTurns) Check(c *reckon.Checks) { q.check(c) }

func (q *GapForTurns) check(c *reckon.Checks) {
	ok := reckon.CheckRange(c, "turns", q.Turns, leastTurns, mostTurns)
	checkPiece(c, q.Piece, q.Density)
	reckon.CheckRange(c, "recovery", q.Recovery, 1, 5)
	checkOutline(c, q.Aspect, q.Width)
	reckon.CheckRange(c, "core", q.Core, 0, thickestCore)
	// Neither turns nor computed turns leave what can be rolled.
	if !checkTurnsRatio(c, q.TurnsRatio) || !ok || q.TurnsRatio == 0 {
		return
	}
	if n := q.Turns / q.TurnsRatio; n < leastTurns*(1-1e-9) || n > mostTurns*(1+1e-9) {
		c.Fail("turns", number(q.Turns), number(max(leastTurns, leastTurns*q.TurnsRatio))+" to "+number(min(mostTurns, mostTurns*q.TurnsRatio))+" with this turns_ratio")
	}
}

// Solve has no answer if the sheet would have to be as thick as the piece or
// thicker, or if gap or sheet would be out of the range that [Sheet] names.
func (q GapForTurns) Solve() (out GapResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return out, c.Err()
	}
	err = q.find(&out)
	return out, err
}

// find is Solve without the checks. With an error out is left alone.
func (q *GapForTurns) find(out *GapResult) error {
	n, d := q.Turns/ratioOr1(q.TurnsRatio), float64(q.Core)
	t := q.thickness()
	length := lengthFor(n, t, d)
	if asThickAsBall(t, q.Piece, q.Density) || !isUsualSheet(t, length) && !q.isSheet(t, length) {
		return q.noGap(t, length)
	}
	*out = gapFor(t, q.Recovery, q.Measured)
	if !usual(q.Turns) {
		out.Conditions |= unusualTurns(q.Turns, t, d)
	}
	if q.Width != 0 {
		out.Conditions |= outlineConditions(length, float64(q.Width))
	}
	return nil
}

// thickness returns the thickness of the sheet that makes the wanted turns.
func (q *GapForTurns) thickness() float64 {
	v, n, d := volume(q.Piece, q.Density), q.Turns/ratioOr1(q.TurnsRatio), float64(q.Core)
	if q.Aspect == 0 {
		// pi N^2 t^2 + pi N d t = B; the root is written without a difference.
		b := 4 * v / (math.Pi * float64(q.Width))
		return 2 * b / (float64(math.Pi*n*d) + math.Sqrt(float64(math.Pi*n*d*math.Pi*n*d)+float64(4*math.Pi*n*n*b)))
	}
	// With s = sqrt(t): s^3 + p s = q, whose one real root is u - p/(3u).
	linear := d / n
	right := math.Sqrt(4*v*q.Aspect/math.Pi) / (math.Pi * n * n)
	u := math.Cbrt(float64(right/2) + math.Sqrt(float64(float64(right*right)/4)+float64(linear*linear*linear)/27))
	s := u - linear/(3*u)
	return s * s
}

// isUsualSheet reports whether gap and sheet lie within all ranges whatever the
// recovery and the aspect are: a gap of t/5 and widths of L/10 and 2 L do.
func isUsualSheet(t, length float64) bool {
	return t >= 5*float64(narrowestGap) && t <= float64(thickestSheet) && length >= 10*float64(narrowestSheet) && length <= float64(widestSheet)/2
}

// isSheet reports whether gap and sheet lie within the ranges that [Sheet] names.
func (q *GapForTurns) isSheet(t, length float64) bool {
	width := float64(q.Width)
	if q.Aspect != 0 {
		width = length / q.Aspect
	}
	return t/q.Recovery >= float64(narrowestGap) && isSheet(t, length, width)
}

// noGap says which turns can be reached.
func (q *GapForTurns) noGap(t, length float64) error {
	wanted := number(q.Turns) + " turns"
	o := outline{volume: volume(q.Piece, q.Density), recovery: q.Recovery, aspect: q.Aspect, width: float64(q.Width)}
	thin, thick, ok := o.reach()
	if !ok {
		return &reckon.NoSolutionError{Func: q.ID(), Unknown: "gap", Wanted: wanted, Advice: noSheetAtAll}
	}
	_, low := roll(o.length(thick), thick, float64(q.Core))
	_, high := roll(o.length(thin), thin, float64(q.Core))
	would := "the sheet would have to be " + unit.Length(t).String() + " thick and " + unit.Length(length).String() + " long behind a gap of " + unit.Length(t/q.Recovery).String()
	switch {
	case asThickAsBall(t, q.Piece, q.Density):
		would = "the sheet would have to be " + unit.Length(t).String() + " and the piece is only " + sphere(q.Piece, q.Density).String() + " thick; ask for more turns"
	case t >= thick:
		would += "; ask for more turns"
	default:
		would += "; ask for fewer turns or take a heavier piece"
	}
	k := ratioOr1(q.TurnsRatio)
	return noTurns(q.ID(), "gap", wanted, k*low, k*high, would)
}

func (q GapForTurns) Show(w *reckon.Working, out GapResult) {
	w.Inputs(q)
	q.showThickness(w, out, "t", "N")
	w.Lines(out, "gap: g = t/R  [springback]")
}

// showThickness records how the wanted turns fix the thickness of the sheet,
// each under its symbol.
func (q *GapForTurns) showThickness(w *reckon.Working, answer any, symbol, wanted string) {
	n := wanted
	if w.Lines(answer, volumeLine); q.TurnsRatio != 0 {
		n = "N_0"
		w.Lines(answer, "turns to compute with: N_0 = "+wanted+"/k  [counted in cut pieces]")
	}
	of := strings.NewReplacer("N", n, "$", symbol)
	if q.Aspect != 0 {
		w.Lines(answer,
			of.Replace("cubic's linear term: p = d/N in mm  [pi*N*(d + N*t) = sqrt(4*V*a/(pi*t)) is s*s*s + p*s = q with s = sqrt(t)]"),
			of.Replace("cubic's right side: q = sqrt(4*V*a/pi)/(pi*N*N)"),
			"Cardano's root: u = pow(q/2 + sqrt(q*q/4 + p*p*p/27), 1/3)",
			"root of the thickness: s = u - p/(3*u)",
			of.Replace("sheet thickness: $ = s*s in mm"))
		w.PutBack(of.Replace("turns of a sheet so thick: N = (sqrt(d*d + 4*sqrt(4*V*a/(pi*$))*$/pi) - d)/(2*$)  [the roll that its length makes]"))
		return
	}
	w.Lines(answer,
		"length times thickness: B = 4*V/(pi*W) in mm²  [volume of an ellipse of even thickness]",
		of.Replace("sheet thickness: $ = 2*B/(pi*N*d + sqrt(pi*N*d*pi*N*d + 4*pi*N*N*B)) in mm  [pi*N*(d + N*t)*t = B]"))
}
