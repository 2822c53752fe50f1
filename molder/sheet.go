package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What rollers and sheets can be, taken wide.
const (
	narrowestGap   unit.Length = 0.05
	widestGap      unit.Length = 200
	thinnestSheet  unit.Length = 0.1
	thickestSheet  unit.Length = 200
	shortestSheet  unit.Length = 5
	longestSheet   unit.Length = 5000
	narrowestSheet unit.Length = 5
	widestSheet    unit.Length = 2000
	leastAspect                = 0.5
	largestAspect              = 10
)

// checkOutline requires the outline of the sheet said once: by its length over
// its width, or by its width.
func checkOutline(c *reckon.Checks, aspect float64, width unit.Length) {
	switch {
	case aspect != 0 && width != 0:
		c.Fail("width", width.String(), "no width when the aspect is given: give one of the two")
	case aspect == 0 && width == 0:
		c.Fail("aspect", "missing", "a length over width of 0.5 to 10, or a width instead")
	case width != 0:
		reckon.CheckRange(c, "width", width, narrowestSheet, widestSheet)
	default:
		reckon.CheckRange(c, "aspect", aspect, leastAspect, largestAspect)
	}
}

// outlineConditions looks at a sheet of given width: its length over its width
// may come out where no aspect would be taken.
func outlineConditions(length, width float64) Conditions {
	if length < leastAspect*width || length > largestAspect*width {
		return reckon.OutsideSource
	}
	return 0
}

// isSheet reports whether a sheet is one that the calculations about sheets take.
func isSheet(thickness, length, width float64) bool {
	return thickness >= float64(thinnestSheet) && thickness <= float64(thickestSheet) &&
		length >= float64(shortestSheet) && length <= float64(longestSheet) &&
		width >= float64(narrowestSheet) && width <= float64(widestSheet)
}

// An outline is what fixes the sheet of a piece but its thickness.
type outline struct {
	volume   float64 // mm³
	recovery float64
	aspect   float64 // 0 if the width is given
	width    float64 // mm; 0 if the aspect is given
}

// length returns how long the sheet is at a thickness.
func (o outline) length(t float64) float64 {
	if o.aspect != 0 {
		return math.Sqrt(4 * o.volume * o.aspect / (math.Pi * t))
	}
	return 4 * o.volume / (math.Pi * t * o.width)
}

// thickness returns how thick the sheet is at a length.
func (o outline) thickness(l float64) float64 {
	if o.aspect != 0 {
		return 4 * o.volume * o.aspect / (math.Pi * l * l)
	}
	return 4 * o.volume / (math.Pi * l * o.width)
}

// reach returns the thinnest and the thickest sheet that keep to every range
// that [Sheet] names, and whether there is any.
func (o outline) reach() (thin, thick float64, ok bool) {
	thin = max(float64(thinnestSheet), float64(narrowestGap)*o.recovery, o.thickness(float64(longestSheet)))
	thick = min(float64(thickestSheet), math.Cbrt(6*o.volume/math.Pi), o.thickness(float64(shortestSheet)))
	if o.aspect != 0 {
		thin = max(thin, o.thickness(float64(widestSheet)*o.aspect))
		thick = min(thick, o.thickness(float64(narrowestSheet)*o.aspect))
	}
	return thin, thick, thin < thick
}

// Sheet asks how thick, long and wide the sheet is that a pair of rollers
// makes of a piece, as an ellipse of even thickness:
//
//	t = R * g
//	V = m / rho * 1000 = pi/4 * L * W * t
//	a = L / W
//
// Volume is exact; the even ellipse is a model. Dough springs back after the
// gap, so the sheet is thicker than the gap by the recovery, which is
// measured on the line with [RecoveryFromSheet]. Where the width is given and
// the length comes out under half of it or over ten times, which is no aspect
// that would be taken, the result is called outside-source.
//
// It is refused if:
//   - the gap is too wide to sheet the piece: recovery times gap is not less than the diameter of the piece as a ball,
//   - both or neither of aspect and width are given,
//   - the sheet would be outside 0.1 mm to 200 mm thick, 5 mm to 5 m long or 5 mm to 2 m wide.
//
// Source: conservation of volume (derived); recovery 1.86 to 2.75 measured on
// bread dough in Foods 11 (2022) 2300, the gap that belongs to the 2.75
// inferred from the order of its sentence; cases in testdata/cases/molder/sheet.json.
//
// The inverses are [GapForThickness] and [GapForSheetLength].
type Sheet struct {
	Piece    unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density  unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough after the rollers
	Gap      unit.Length  `json:"gap" sym:"g" range:"0.05 mm..200 mm"`          // gap of the last pair of rollers, narrow enough to sheet the piece
	Recovery float64      `json:"recovery" sym:"R" range:"1..5"`                // sheet thickness over gap; about 1.1 to 2.75 by the sources
	Aspect   float64      `json:"aspect,omitzero" sym:"a" range:"0.5..10"`      // sheet length over width; give this or width
	Width    unit.Length  `json:"width,omitzero" sym:"W" range:"5 mm..2 m"`     // sheet width; give this or aspect
	Measured bool         `json:"measured,omitzero"`                            // true if recovery was measured on this line: see [RecoveryFromSheet]; aspect, if given, is measured with [AspectFromSheet]
}

// SheetResult is the sheet as it leaves the rollers.
type SheetResult struct {
	Thickness  unit.Length     `json:"thickness" sym:"t"` // after springback
	Length     unit.Length     `json:"length" sym:"L"`    // in the direction of travel
	Width      unit.Length     `json:"width" sym:"W"`     // across the belt
	Conditions Conditions      `json:"conditions"`        // uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`          // moving-machinery, interlocks, roller-nip
}

func (Sheet) ID() string { return "sheet" }

func (q Sheet) Check(c *reckon.Checks) { q.check(c) }

// check returns the sheet, if there is one.
func (q *Sheet) check(c *reckon.Checks) (out SheetResult) {
	if !q.checkInputs(c) {
		return out
	}
	out = q.sheet()
	if !isSheet(float64(out.Thickness), float64(out.Length), float64(out.Width)) {
		q.refuse(c, &out)
	}
	return out
}

func (q *Sheet) checkInputs(c *reckon.Checks) bool {
	mark := c.Mark()
	checkPiece(c, q.Piece, q.Density)
	reckon.CheckRange(c, "gap", q.Gap, narrowestGap, widestGap)
	reckon.CheckRange(c, "recovery", q.Recovery, 1, 5)
	// It must come out thinner than it went in.
	if c.Mark() == mark && asThickAsBall(q.Recovery*float64(q.Gap), q.Piece, q.Density) {
		piece := sphere(q.Piece, q.Density)
		limit := unit.Length(float64(piece) / q.Recovery)
		c.Fail("gap", q.Gap.String(), "less than "+limit.String()+": the piece is "+piece.String()+
			" thick as a ball, and a wider gap with this recovery does not sheet it")
	}
	checkOutline(c, q.Aspect, q.Width)
	return c.Mark() == mark
}

// sheet does the arithmetic on input that was checked.
func (q *Sheet) sheet() (out SheetResult) {
	v, t := volume(q.Piece, q.Density), q.Recovery*float64(q.Gap)
	o := outline{volume: v, aspect: q.Aspect, width: float64(q.Width)}
	out.Thickness, out.Length, out.Width = unit.Length(t), unit.Length(o.length(t)), q.Width
	out.Conditions = recoveryConditions(q.Recovery, q.Measured)
	if q.Aspect != 0 {
		out.Width = out.Length / unit.Length(q.Aspect)
	} else {
		out.Conditions |= outlineConditions(float64(out.Length), float64(q.Width))
	}
	out.Cautions = rollerCautions
	return out
}

// refuse says which setting makes a sheet that can be.
func (q *Sheet) refuse(c *reckon.Checks, out *SheetResult) {
	or := ""
	if q.Width != 0 {
		or = ", or another width"
	}
	fail := func(setting string, size unit.Length, is string, low, high unit.Length) {
		c.Fail("gap", q.Gap.String(), setting+or+": this sheet would be "+size.String()+" "+is+", and sheets are "+low.String()+" to "+high.String())
	}
	switch {
	case out.Thickness < thinnestSheet:
		or = ""
		fail("a wider gap", out.Thickness, "thick", thinnestSheet, thickestSheet)
	case out.Thickness > thickestSheet:
		or = ""
		fail("a narrower gap", out.Thickness, "thick", thinnestSheet, thickestSheet)
	case out.Length > longestSheet:
		fail("a wider gap", out.Length, "long", shortestSheet, longestSheet)
	case out.Length < shortestSheet:
		fail("a narrower gap", out.Length, "long", shortestSheet, longestSheet)
	case out.Width > widestSheet:
		fail("a wider gap", out.Width, "wide", narrowestSheet, widestSheet)
	default:
		fail("a narrower gap", out.Width, "wide", narrowestSheet, widestSheet)
	}
}

func (q Sheet) Solve() (out SheetResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	sheet := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	return sheet, nil
}

func (q Sheet) Show(w *reckon.Working, out SheetResult) {
	w.Inputs(q)
	showSheet(w, out, q.Aspect != 0)
}

// showSheet records how a piece becomes a sheet, whose outline is given by its
// aspect or by its width.
func showSheet(w *reckon.Working, answer any, byAspect bool) {
	w.Lines(answer, volumeLine, "sheet thickness: t = R*g in mm  [springback]")
	if byAspect {
		w.Lines(answer,
			"sheet length: L = sqrt(4*V*a/(pi*t)) in mm  [volume of an ellipse of even thickness]",
			"sheet width: W = L/a in mm")
	} else {
		w.Lines(answer, "sheet length: L = 4*V/(pi*t*W) in mm  [volume of an ellipse of even thickness]")
	}
}
