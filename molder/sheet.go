package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The springback that sources report for wheat dough between rollers: from
// about 1.1, the purely viscous swell, to 2.75 for strong dough that has not
// relaxed. Outside it a measurement is looked at again, not refused. The 2.75
// is printed (Foods 11, 2022, 2300, section 3.1), but that it was measured
// behind a gap of 12 mm was inferred from the order of the sentence there.
const (
	leastRecovery   = 1.1
	largestRecovery = 2.75
)

// What rollers and sheets can be, taken wide.
const (
	narrowestGap   unit.Length = 0.05
	widestGap      unit.Length = 200
	shortestSheet  unit.Length = 5
	narrowestSheet unit.Length = 5
	widestSheet    unit.Length = 2000
	leastAspect                = 0.5
	largestAspect              = 10
)

// recoveryConditions says what to look at in a recovery ratio.
func recoveryConditions(recovery float64, measured bool) Conditions {
	var c Conditions
	if recovery < leastRecovery || recovery > largestRecovery {
		c |= reckon.OutsideSource
	}
	if !measured {
		c |= reckon.Uncalibrated
	}
	return c
}

// checkOutline wants the outline of the sheet said once: by its length over
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

// checkSheet wants a sheet that can be; what is wrong is put into words apart.
func (in *Sheet) checkSheet(c *reckon.Checks, out *SheetResult) {
	if !isSheet(float64(out.Thickness), float64(out.Length), float64(out.Width)) {
		in.refuseSheet(c, out)
	}
}

func (in *Sheet) refuseSheet(c *reckon.Checks, out *SheetResult) {
	or := ""
	if in.Width != 0 {
		or = ", or another width"
	}
	fail := func(handle string, size unit.Length, is string, low, high unit.Length) {
		c.Fail("gap", in.Gap.String(), handle+or+": this sheet would be "+size.String()+" "+is+", and sheets are "+low.String()+" to "+high.String())
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

// noSheetAtAll is the advice where no gap makes a sheet of the outline.
const noSheetAtAll = "no gap makes a sheet of this piece with this outline; give another width or another length over width"

// checkThinner wants a sheet thinner than the piece that goes in.
func checkThinner(c *reckon.Checks, in *Sheet) {
	if gap, recovery := in.Gap, in.Recovery; asThickAsBall(recovery*float64(gap), in.Piece, in.Density) {
		piece := sphere(in.Piece, in.Density)
		limit := unit.Length(float64(piece) / recovery)
		c.Fail("gap", gap.String(), "less than "+limit.String()+": the piece is "+piece.String()+
			" thick as a ball, and a wider gap with this recovery does not sheet it")
	}
}

// Sheet returns the thickness, length and width of the sheet that a pair of
// rollers makes of a piece, as an ellipse of even thickness:
//
//	t = recovery * gap
//	m / rho = pi/4 * L * W * t
//
// Volume is exact; the even ellipse is a model. Dough springs back after the
// gap, so the sheet is thicker than the gap by the recovery, which is
// measured on the line with [RecoveryFromSheet]. Where the width is given and
// the length comes out under half of it or over ten times, which is no aspect
// that would be taken, the result is called outside-source.
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg, or density outside 0.1 to 1.5 g/ml,
//   - gap is outside 0.05 to 200 mm, or too wide for the piece,
//   - recovery is outside 1 to 5,
//   - both or neither of aspect (0.5 to 10) and width (5 to 2000 mm) are given, or out of range,
//   - the sheet would be outside 0.1 to 200 mm thick, 5 to 5000 mm long or 5 to 2000 mm wide.
//
// Source: conservation of volume (derived); recovery 1.86 to 2.75 measured on
// bread dough in Foods 11 (2022) 2300, the gap that belongs to the 2.75
// inferred from the order of its sentence; cases in testdata/cases/molder/sheet.json.
//
// The inverses are [GapForThickness] and [GapForSheetLength].
type Sheet struct {
	Piece    unit.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`           // density of the dough after the rollers, 0.1 to 1.5 g/ml
	Gap      unit.Length  `json:"gap"`               // gap of the last pair of rollers, 0.05 to 200 mm, narrower than the piece
	Recovery float64      `json:"recovery"`          // sheet thickness over gap, 1 to 5; about 1.1 to 2.75 by the sources
	Aspect   float64      `json:"aspect,omitzero"`   // sheet length over width, 0.5 to 10; give this or width
	Width    unit.Length  `json:"width,omitzero"`    // sheet width, 5 to 2000 mm; give this or aspect
	Measured bool         `json:"measured,omitzero"` // true if recovery was measured on this line: see [RecoveryFromSheet]; aspect, if given, is measured with [AspectFromSheet]
}

func (Sheet) ID() string { return "sheet" }

// SHELL
func (q Sheet) Check(c *reckon.Checks) {
	_, err := explainSheet(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Sheet) Solve() (SheetResult, error) { return explainSheet(q, nil) }

func (q Sheet) Show(w *reckon.Working, _ SheetResult) { _, _ = explainSheet(q, w) }

// SheetResult is the sheet as it leaves the rollers.
type SheetResult struct {
	Thickness  unit.Length     `json:"thickness"`  // after springback
	Length     unit.Length     `json:"length"`     // in the direction of travel
	Width      unit.Length     `json:"width"`      // across the belt
	Conditions Conditions      `json:"conditions"` // uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, interlocks
}

func explainSheet(in Sheet, w *reckon.Working) (SheetResult, error) {
	c := reckon.Checks{Func: "sheet"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return SheetResult{}, err
	}
	out := in.sheet(w)
	in.checkSheet(&c, &out)
	if err := c.Err(); err != nil {
		return SheetResult{}, err
	}
	return out, nil
}

func (in *Sheet) check(c *reckon.Checks) {
	ok := checkPiece(c, in.Piece, in.Density)
	ok = reckon.CheckRange(c, "gap", in.Gap, narrowestGap, widestGap) && ok
	ok = reckon.CheckRange(c, "recovery", in.Recovery, 1, 5) && ok
	if ok {
		checkThinner(c, in)
	}
	checkOutline(c, in.Aspect, in.Width)
}

// sheet does the arithmetic on input that was checked.
func (in *Sheet) sheet(w *reckon.Working) (out SheetResult) {
	v, t := volume(in.Piece, in.Density), in.Recovery*float64(in.Gap)
	out = SheetResult{
		Thickness: unit.Length(t), Width: in.Width,
		Conditions: recoveryConditions(in.Recovery, in.Measured), Cautions: reckon.MovingMachinery | reckon.Interlocks,
	}
	o := outline{volume: v, aspect: in.Aspect, width: float64(in.Width)}
	out.Length = unit.Length(o.length(t))
	if in.Aspect != 0 {
		out.Width = out.Length / unit.Length(in.Aspect)
	} else {
		out.Conditions |= outlineConditions(float64(out.Length), float64(in.Width))
	}
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Given("gap", "g", float64(in.Gap), "mm", "")
		w.Given("recovery", "R", in.Recovery, "", "")
		w.Step("sheet thickness", "t", "R * g", t, "mm", "springback")
		if in.Aspect != 0 {
			w.Given("length over width", "a", in.Aspect, "", "")
			w.Step("sheet length", "L", "sqrt(4*V*a / (pi*t))", float64(out.Length), "mm", "volume of an ellipse of even thickness")
			w.Step("sheet width", "W", "L / a", float64(out.Width), "mm", "")
		} else {
			w.Given("sheet width", "W", float64(in.Width), "mm", "")
			w.Step("sheet length", "L", "4*V / (pi*t*W)", float64(out.Length), "mm", "volume of an ellipse of even thickness")
		}
	}
	return out
}

// GapForThickness returns the gap that makes a sheet of the wanted thickness:
//
//	gap = t / recovery
//
// It is the inverse of [Sheet], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - thickness is outside 0.1 to 200 mm,
//   - recovery is outside 1 to 5.
//
// It returns a *[reckon.NoSolutionError] if the gap would be narrower than the 0.05 mm that [Sheet] takes.
//
// Source: definition of the recovery ratio; Foods 11 (2022) 2300.
type GapForThickness struct {
	Thickness unit.Length `json:"thickness"`         // wanted sheet thickness, 0.1 to 200 mm
	Recovery  float64     `json:"recovery"`          // sheet thickness over gap, 1 to 5
	Measured  bool        `json:"measured,omitzero"` // true if recovery was measured on this line: see [RecoveryFromSheet]
}

func (GapForThickness) ID() string { return "gap-for-thickness" }

// SHELL
func (q GapForThickness) Check(c *reckon.Checks) {
	_, err := explainGapForThickness(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GapForThickness) Solve() (GapResult, error) { return explainGapForThickness(q, nil) }

func (q GapForThickness) Show(w *reckon.Working, _ GapResult) { _, _ = explainGapForThickness(q, w) }

// GapResult is where the rollers go.
type GapResult struct {
	Gap        unit.Length     `json:"gap"`        // gap of the last pair of rollers
	Thickness  unit.Length     `json:"thickness"`  // thickness of the sheet that it makes
	Conditions Conditions      `json:"conditions"` // uncalibrated, outside-source, and few-turns or many-turns where turns are wanted
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, interlocks
}

func explainGapForThickness(in GapForThickness, w *reckon.Working) (GapResult, error) {
	c := reckon.Checks{Func: "gap-for-thickness"}
	reckon.CheckRange(&c, "thickness", in.Thickness, 0.1, widestGap)
	reckon.CheckRange(&c, "recovery", in.Recovery, 1, 5)
	if err := c.Err(); err != nil {
		return GapResult{}, err
	}
	if gap := unit.Length(float64(in.Thickness) / in.Recovery); gap < narrowestGap {
		return GapResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "gap", Wanted: "a sheet " + in.Thickness.String() + " thick",
			Low: max(thinnestSheet, narrowestGap*unit.Length(in.Recovery)).String(), High: thickestSheet.String(),
			Advice: "the rollers would have to close to " + gap.String() + ", and " + narrowestGap.String() + " is the narrowest; ask for a thicker sheet",
		}
	}
	if w != nil {
		w.Given("sheet thickness", "t", float64(in.Thickness), "mm", "")
	}
	return gapFor(float64(in.Thickness), in.Recovery, in.Measured, w), nil
}

// gapFor ends every search for a gap; a working must hold t already.
func gapFor(t, recovery float64, measured bool, w *reckon.Working) GapResult {
	out := GapResult{
		Gap: unit.Length(t / recovery), Thickness: unit.Length(t),
		Conditions: recoveryConditions(recovery, measured), Cautions: reckon.MovingMachinery | reckon.Interlocks,
	}
	if w != nil {
		w.Given("recovery", "R", recovery, "", "")
		w.Step("gap", "g", "t / R", float64(out.Gap), "mm", "springback")
	}
	return out
}

// GapForSheetLength returns the gap that rolls a piece to the wanted length:
//
//	t = 4 m / (pi rho L W),  W = L / aspect if the aspect is given
//	gap = t / recovery
//
// It is the inverse of [Sheet], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - piece, density, recovery, aspect or width is out of the range that [Sheet] names,
//   - length is outside 5 to 5000 mm.
//
// It returns a *[reckon.NoSolutionError] if the piece would have to be made
// thicker, or if gap, thickness or width would be out of the range that [Sheet] names.
//
// Source: conservation of volume (derived).
type GapForSheetLength struct {
	Piece    unit.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`           // density of the dough after the rollers, 0.1 to 1.5 g/ml
	Length   unit.Length  `json:"length"`            // wanted sheet length, 5 to 5000 mm
	Recovery float64      `json:"recovery"`          // sheet thickness over gap, 1 to 5
	Aspect   float64      `json:"aspect,omitzero"`   // sheet length over width, 0.5 to 10; give this or width
	Width    unit.Length  `json:"width,omitzero"`    // sheet width, 5 to 2000 mm; give this or aspect
	Measured bool         `json:"measured,omitzero"` // true if recovery was measured on this line: see [RecoveryFromSheet]
}

func (GapForSheetLength) ID() string { return "gap-for-sheet-length" }

// SHELL
func (q GapForSheetLength) Check(c *reckon.Checks) {
	_, err := explainGapForSheetLength(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GapForSheetLength) Solve() (GapResult, error) { return explainGapForSheetLength(q, nil) }

func (q GapForSheetLength) Show(w *reckon.Working, _ GapResult) {
	_, _ = explainGapForSheetLength(q, w)
}

func explainGapForSheetLength(in GapForSheetLength, w *reckon.Working) (GapResult, error) {
	c := reckon.Checks{Func: "gap-for-sheet-length"}
	checkPiece(&c, in.Piece, in.Density)
	reckon.CheckRange(&c, "length", in.Length, shortestSheet, longestSheet)
	reckon.CheckRange(&c, "recovery", in.Recovery, 1, 5)
	checkOutline(&c, in.Aspect, in.Width)
	if err := c.Err(); err != nil {
		return GapResult{}, err
	}
	v, width := volume(in.Piece, in.Density), float64(in.Width)
	if in.Aspect != 0 {
		width = float64(in.Length) / in.Aspect
	}
	t := 4 * v / (math.Pi * float64(in.Length) * width)
	if asThickAsBall(t, in.Piece, in.Density) || t/in.Recovery < float64(narrowestGap) || !isSheet(t, float64(in.Length), width) {
		return GapResult{}, in.noGap(t)
	}
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Given("sheet length", "L", float64(in.Length), "mm", "")
		if in.Aspect != 0 {
			w.Given("length over width", "a", in.Aspect, "", "")
			w.Step("sheet width", "W", "L / a", width, "mm", "")
		} else {
			w.Given("sheet width", "W", width, "mm", "")
		}
		w.Step("sheet thickness", "t", "4*V / (pi*L*W)", t, "mm", "volume of an ellipse of even thickness")
	}
	out := gapFor(t, in.Recovery, in.Measured, w)
	if in.Width != 0 {
		out.Conditions |= outlineConditions(float64(in.Length), width)
	}
	return out, nil
}

// noGap says which lengths can be reached.
func (in *GapForSheetLength) noGap(t float64) error {
	none := &reckon.NoSolutionError{
		Func: "gap-for-sheet-length", Unknown: "gap", Wanted: "a sheet " + in.Length.String() + " long", Advice: noSheetAtAll,
	}
	o := outline{volume: volume(in.Piece, in.Density), recovery: in.Recovery, aspect: in.Aspect, width: float64(in.Width)}
	thin, thick, ok := o.reach()
	if !ok {
		return none
	}
	none.Low, none.High = unit.Length(o.length(thick)).String(), unit.Length(o.length(thin)).String()
	switch {
	case asThickAsBall(t, in.Piece, in.Density):
		none.Advice = "the piece would have to come out thicker than it went in; ask for a longer sheet"
	case t >= thick:
		none.Advice = "the sheet would be thicker or narrower than sheets are; ask for a longer one"
	default:
		none.Advice = "the rollers would have to close to " + unit.Length(t/in.Recovery).String() + "; ask for a shorter sheet or take a heavier piece"
	}
	return none
}

// RecoveryFromSheet returns the recovery ratio from sheets measured on the line:
//
//	recovery = mean(thickness) / gap
//
// The ratio belongs to the dough, its rest before the rollers, the gap and
// the speed: measure it again when one of them changes. A sheet needs some 50
// minutes to relax fully (Morgenstern, Newberry and Holst, Cereal Chem. 73,
// 1996, 478), so a short rest leaves much of the spring. A sheet thinner than
// the gap is being pulled by the belt behind the rollers; mend that first.
//
// It returns an *[reckon.InputError] if:
//   - gap is outside 0.05 to 200 mm,
//   - thicknesses is empty, or one is less than the gap or more than 5 times it.
//
// Source: definition of the recovery ratio; the ratios of Foods 11 (2022) 2300, section 3.1,
// worked one way and back (derived); cases in testdata/cases/molder/recovery-from-sheet.json.
//
// It calibrates [Sheet].
type RecoveryFromSheet struct {
	Gap         unit.Length   `json:"gap"`         // gap of the rollers, 0.05 to 200 mm
	Thicknesses []unit.Length `json:"thicknesses"` // sheets measured behind it in the middle, each at least the gap and at most 5 times it; at least one
}

func (RecoveryFromSheet) ID() string { return "recovery-from-sheet" }

// SHELL
func (q RecoveryFromSheet) Check(c *reckon.Checks) {
	_, err := explainRecoveryFromSheet(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RecoveryFromSheet) Solve() (RecoveryFromSheetResult, error) {
	return explainRecoveryFromSheet(q, nil)
}

func (q RecoveryFromSheet) Show(w *reckon.Working, _ RecoveryFromSheetResult) {
	_, _ = explainRecoveryFromSheet(q, w)
}

// RecoveryFromSheetResult is how far this dough springs back behind this gap.
type RecoveryFromSheetResult struct {
	Recovery   float64     `json:"recovery"`        // mean of thickness over gap
	Spread     float64     `json:"spread,omitzero"` // sample standard deviation of the ratio; left out for a single sheet
	Thickness  unit.Length `json:"thickness"`       // mean thickness
	Sheets     int         `json:"sheets"`          // number of sheets measured
	Conditions Conditions  `json:"conditions"`      // outside-source
}

func explainRecoveryFromSheet(in RecoveryFromSheet, w *reckon.Working) (out RecoveryFromSheetResult, err error) {
	c := reckon.Checks{Func: "recovery-from-sheet"}
	if reckon.CheckRange(&c, "gap", in.Gap, narrowestGap, widestGap) {
		for i, t := range in.Thicknesses {
			if !(t >= in.Gap && t <= 5*in.Gap) {
				reckon.CheckRange(&c, fmt.Sprintf("thicknesses[%d]", i), t, in.Gap, 5*in.Gap)
			}
		}
	}
	if len(in.Thicknesses) == 0 {
		c.Fail("thicknesses", "empty", "at least one sheet measured behind the rollers")
	}
	if err := c.Err(); err != nil {
		return RecoveryFromSheetResult{}, err
	}
	sum, mean, scatter := ratios(in.Thicknesses, in.Gap)
	out = RecoveryFromSheetResult{Recovery: mean / float64(in.Gap), Spread: scatter, Thickness: unit.Length(mean), Sheets: len(in.Thicknesses)}
	out.Conditions = recoveryConditions(out.Recovery, true)
	if w != nil {
		w.Given("sheets measured", "n", float64(len(in.Thicknesses)), "", "")
		w.Given("sum of their thicknesses", "S", sum, "mm", "")
		w.Given("gap", "g", float64(in.Gap), "mm", "")
		w.Step("mean thickness", "t", "S / n", mean, "mm", "")
		w.Step("recovery", "R", "t / g", out.Recovery, "", "definition")
	}
	return out, nil
}

// A MeasuredSheet is one sheet as it lies behind the rollers.
type MeasuredSheet struct {
	Length    unit.Length `json:"length"`    // longest, in the direction of travel, 1 to 5000 mm
	Width     unit.Length `json:"width"`     // widest, across the belt, 1 to 2000 mm
	Thickness unit.Length `json:"thickness"` // in the middle, 0.1 to 200 mm
}

// AspectFromSheet returns the ratio of length to width, and the density with
// which the even ellipse has the piece's weight, from sheets measured on the line:
//
//	aspect = mean(L / W)
//	density = m / mean(pi/4 * L * W * t)
//
// The density takes up what gas the rollers pressed out and how far the sheet
// is from an even ellipse. A value above that of the dough means that the
// sheet is thicker in the middle, where it was measured, than at its edge.
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg,
//   - sheets is empty, or a length, width or thickness is outside 1 to 5000, 1 to 2000 or 0.1 to 200 mm,
//   - the aspect comes out outside 0.5 to 10, or the density outside 0.1 to 1.5 g/ml: the sizes do not belong to the piece.
//
// Source: conservation of volume (derived); cases in testdata/cases/molder/aspect-from-sheet.json.
//
// It calibrates [Sheet].
type AspectFromSheet struct {
	Piece  unit.Mass       `json:"piece"`  // piece weight, 1 g to 10 kg
	Sheets []MeasuredSheet `json:"sheets"` // measured behind the rollers; at least one
}

func (AspectFromSheet) ID() string { return "aspect-from-sheet" }

// SHELL
func (q AspectFromSheet) Check(c *reckon.Checks) {
	_, err := explainAspectFromSheet(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q AspectFromSheet) Solve() (AspectFromSheetResult, error) {
	return explainAspectFromSheet(q, nil)
}

func (q AspectFromSheet) Show(w *reckon.Working, _ AspectFromSheetResult) {
	_, _ = explainAspectFromSheet(q, w)
}

// AspectFromSheetResult is what [Sheet] needs to give back the sheets measured.
type AspectFromSheetResult struct {
	Aspect  float64      `json:"aspect"`           // mean of length over width
	Scatter float64      `json:"scatter,omitzero"` // sample standard deviation of it; left out for a single sheet
	Density unit.Density `json:"density"`          // weight over the mean volume of the even ellipse
	Sheets  int          `json:"sheets"`           // number of sheets measured
}

func explainAspectFromSheet(in AspectFromSheet, w *reckon.Working) (out AspectFromSheetResult, err error) {
	c := reckon.Checks{Func: "aspect-from-sheet"}
	reckon.CheckRange(&c, "piece", in.Piece, lightestPiece, heaviestPiece)
	if len(in.Sheets) == 0 {
		c.Fail("sheets", "empty", "at least one sheet measured behind the rollers")
	}
	for i, s := range in.Sheets {
		if !(s.Length >= 1 && s.Length <= longestSheet) {
			reckon.CheckRange(&c, fmt.Sprintf("sheets[%d].length", i), s.Length, 1, longestSheet)
		}
		if !(s.Width >= 1 && s.Width <= widestSheet) {
			reckon.CheckRange(&c, fmt.Sprintf("sheets[%d].width", i), s.Width, 1, widestSheet)
		}
		if !(s.Thickness >= thinnestSheet && s.Thickness <= thickestSheet) {
			reckon.CheckRange(&c, fmt.Sprintf("sheets[%d].thickness", i), s.Thickness, thinnestSheet, thickestSheet)
		}
	}
	if err := c.Err(); err != nil {
		return AspectFromSheetResult{}, err
	}
	n := float64(len(in.Sheets))
	aspects, volumes := 0.0, 0.0
	for _, s := range in.Sheets {
		aspects += float64(s.Length / s.Width)
		volumes += float64(math.Pi / 4 * float64(s.Length) * float64(s.Width) * float64(s.Thickness))
	}
	out = AspectFromSheetResult{
		Aspect: aspects / n, Density: unit.Density(float64(in.Piece) * n * 1000 / volumes), Sheets: len(in.Sheets),
	}
	if len(in.Sheets) > 1 {
		squares := 0.0
		for _, s := range in.Sheets {
			d := float64(s.Length/s.Width) - out.Aspect
			squares += float64(d * d)
		}
		out.Scatter = math.Sqrt(squares / (n - 1))
	}
	if out.Aspect < leastAspect || out.Aspect > largestAspect {
		c.Fail("sheets", number(out.Aspect)+" times as long as wide", "0.5 to 10 times: measure the length in the direction of travel")
	}
	if out.Density < loosestDough || out.Density > densestDough {
		c.Fail("sheets", "of "+out.Density.String(), loosestDough.String()+" to "+densestDough.String()+": the sizes do not belong to this piece, measure both again")
	}
	if err := c.Err(); err != nil {
		return AspectFromSheetResult{}, err
	}
	if w != nil {
		w.Given("piece", "m", float64(in.Piece), "g", "")
		w.Given("sheets measured", "n", n, "", "")
		w.Given("sum of length over width", "S_a", aspects, "", "")
		w.Given("sum of the volumes of the ellipses", "S_V", volumes, "mm³", "pi/4 * length * width * thickness")
		w.Step("length over width", "a", "S_a / n", out.Aspect, "", "")
		w.Step("density", "rho", "m * n * 1000 / S_V", float64(out.Density), "g/ml", "1 ml = 1000 mm³")
	}
	return out, nil
}
