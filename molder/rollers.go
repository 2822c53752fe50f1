package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// largestReduction is what dough stands in one pair of rollers: a rule of
// thumb of the trade is 2 to 1, and up to 4 to 1 is in common use.
const largestReduction = 4

// What passes can be, taken wide: the bounds catch slips of the decimal point.
const (
	leastReduction   = 1.1 // asked for in one pass
	deepestReduction = 10
	mostPasses       = 50
)

// reductionConditions compares a reduction with the dough's own limit.
func reductionConditions(reduction, limit float64) Conditions {
	var c Conditions
	// A gap set for exactly the limit must not fail for its last binary digit.
	if reduction > limit*(1+1e-9) {
		c |= DeepReduction
	}
	if limit > largestReduction {
		c |= reckon.OutsideSource
	}
	return c
}

// SheetingPasses returns how many passes bring a sheet to the wanted thickness within the dough's limit:
//
//	passes = ceil(ln(in / out) / ln(limit / recovery))
//	reduction = recovery * (in / out)^(1 / passes)
//
// The reduction is counted from the thickness in front of the rollers to the
// gap. With a recovery of 1 it is counted from sheet to sheet, as the rule of
// thumb of the trade is.
//
// It returns an *[reckon.InputError] if:
//   - in is outside 0.2 to 1000 mm, or out outside 0.1 mm to less than in,
//   - recovery is outside 1 to 5, or limit outside 1.1 to 10.
//
// It returns a *[reckon.NoSolutionError] if the dough springs back by as
// much as it may be reduced, or so nearly that it takes more than 50 passes.
//
// Source: reduction of 2 to 1 a pass as a rule of thumb, up to 4 to 1 in use
// (trade article on sheeting, 2015); cases in testdata/cases/molder/sheeting-passes.json.
//
// The inverse is [ThicknessForPasses].
type SheetingPasses struct {
	In       unit.Length `json:"in"`       // thickness before the first pair, 0.2 to 1000 mm
	Out      unit.Length `json:"out"`      // wanted thickness behind the last, 0.1 mm to less than in
	Recovery float64     `json:"recovery"` // sheet thickness over gap of each pass, 1 to 5; 1 if the limit is meant from sheet to sheet
	Limit    float64     `json:"limit"`    // largest reduction (thickness in over gap) that the dough stands in one pass, 1.1 to 10; rule of thumb 2, up to 4
}

func (SheetingPasses) ID() string { return "sheeting-passes" }

// SHELL
func (q SheetingPasses) Check(c *reckon.Checks) {
	_, err := explainSheetingPasses(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SheetingPasses) Solve() (SheetingPassesResult, error) { return explainSheetingPasses(q, nil) }

func (q SheetingPasses) Show(w *reckon.Working, _ SheetingPassesResult) {
	_, _ = explainSheetingPasses(q, w)
}

// SheetingPassesResult is how often the dough is sheeted.
type SheetingPassesResult struct {
	Passes     int        `json:"passes"`     // pairs of rollers, or times through one
	Reduction  float64    `json:"reduction"`  // thickness in over gap of each pass, shared evenly
	Conditions Conditions `json:"conditions"` // outside-source
}

func explainSheetingPasses(in SheetingPasses, w *reckon.Working) (out SheetingPassesResult, err error) {
	c := reckon.Checks{Func: "sheeting-passes"}
	if reckon.CheckRange(&c, "in", in.In, 0.2, 1000) {
		reckon.CheckBelow(&c, "out", in.Out, thinnestSheet, in.In)
	} else {
		reckon.CheckRange(&c, "out", in.Out, thinnestSheet, 1000)
	}
	checkReduction(&c, in.Recovery, in.Limit)
	if err := c.Err(); err != nil {
		return SheetingPassesResult{}, err
	}
	if in.Recovery >= in.Limit {
		return SheetingPassesResult{}, noReduction(c.Func, in.Recovery)
	}
	total := float64(in.In) / float64(in.Out)
	exact := math.Log(total) / math.Log(in.Limit/in.Recovery)
	// Exact powers, such as 16 at 2 to 1, must not ask for one pass more.
	passes := max(1, math.Ceil(exact-1e-9))
	if passes > mostPasses {
		thinnest := unit.Length(float64(in.In) * math.Pow(in.Recovery/in.Limit, mostPasses))
		return SheetingPassesResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "number of passes up to " + number(mostPasses), Wanted: "a sheet " + in.Out.String() + " thick",
			Low: thinnest.String(), High: in.In.String(),
			Advice: "each pass leaves no less than " + number(in.Recovery/in.Limit) + " of the thickness; rest the dough before sheeting, or allow a larger reduction",
		}
	}
	out = SheetingPassesResult{
		Passes: int(passes), Reduction: in.Recovery * math.Pow(total, 1/passes),
		Conditions: reductionConditions(1, in.Limit),
	}
	if w != nil {
		w.Given("thickness in", "t_in", float64(in.In), "mm", "")
		w.Given("thickness out", "t_out", float64(in.Out), "mm", "")
		w.Given("recovery", "R", in.Recovery, "", "")
		w.Given("largest reduction", "limit", in.Limit, "", "")
		w.Step("whole reduction", "q", "t_in / t_out", total, "", "")
		w.Step("passes", "p", "max(1, ceil(ln(q)/ln(limit/R) - 0.000000001))", passes, "", "whole passes; the last term forgives binary rounding")
		w.Step("reduction of each pass", "r", "R * pow(q, 1/p)", out.Reduction, "", "shared evenly")
	}
	return out, nil
}

func checkReduction(c *reckon.Checks, recovery, limit float64) {
	reckon.CheckRange(c, "recovery", recovery, 1, 5)
	reckon.CheckRange(c, "limit", limit, leastReduction, deepestReduction)
}

func noReduction(id string, recovery float64) error {
	return &reckon.NoSolutionError{
		Func: id, Unknown: "number of passes", Wanted: "that thickness",
		Advice: "the dough springs back to " + number(recovery) + " times the gap, as much as it may be reduced; rest it before sheeting",
	}
}

// ThicknessForPasses returns the thinnest sheet that so many passes make within the dough's limit:
//
//	out = in * (recovery / limit)^passes
//
// It is the inverse of [SheetingPasses], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - in is outside 0.2 to 1000 mm, or passes outside 1 to 50,
//   - recovery is outside 1 to 5, or limit outside 1.1 to 10.
//
// It returns a *[reckon.NoSolutionError] if the dough springs back by as
// much as it may be reduced, or if the sheet would be thinner than the 0.1 mm that [SheetingPasses] takes.
//
// Source: reduction of 2 to 1 a pass as a rule of thumb, up to 4 to 1 in use
// (trade article on sheeting, 2015).
type ThicknessForPasses struct {
	In       unit.Length `json:"in"`       // thickness before the first pair, 0.2 to 1000 mm
	Passes   int         `json:"passes"`   // pairs of rollers, or times through one, 1 to 50
	Recovery float64     `json:"recovery"` // sheet thickness over gap of each pass, 1 to 5; 1 if the limit is meant from sheet to sheet
	Limit    float64     `json:"limit"`    // largest reduction (thickness in over gap) that the dough stands in one pass, 1.1 to 10; rule of thumb 2, up to 4
}

func (ThicknessForPasses) ID() string { return "thickness-for-passes" }

// SHELL
func (q ThicknessForPasses) Check(c *reckon.Checks) {
	_, err := explainThicknessForPasses(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ThicknessForPasses) Solve() (ThicknessForPassesResult, error) {
	return explainThicknessForPasses(q, nil)
}

func (q ThicknessForPasses) Show(w *reckon.Working, _ ThicknessForPassesResult) {
	_, _ = explainThicknessForPasses(q, w)
}

// ThicknessForPassesResult is the thinnest sheet within the limit.
type ThicknessForPassesResult struct {
	Out        unit.Length `json:"out"`        // thickness behind the last pair
	Conditions Conditions  `json:"conditions"` // outside-source
}

func explainThicknessForPasses(in ThicknessForPasses, w *reckon.Working) (out ThicknessForPassesResult, err error) {
	c := reckon.Checks{Func: "thickness-for-passes"}
	reckon.CheckRange(&c, "in", in.In, 0.2, 1000)
	reckon.CheckCount(&c, "passes", in.Passes, 1, mostPasses)
	checkReduction(&c, in.Recovery, in.Limit)
	if err := c.Err(); err != nil {
		return ThicknessForPassesResult{}, err
	}
	if in.Recovery >= in.Limit {
		return ThicknessForPassesResult{}, noReduction(c.Func, in.Recovery)
	}
	out = ThicknessForPassesResult{
		Out:        unit.Length(float64(in.In) * math.Pow(in.Recovery/in.Limit, float64(in.Passes))),
		Conditions: reductionConditions(1, in.Limit),
	}
	if out.Out < thinnestSheet {
		most := math.Floor(math.Log(float64(in.In/thinnestSheet)) / math.Log(in.Limit/in.Recovery))
		return ThicknessForPassesResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "sheet", Wanted: number(float64(in.Passes)) + " passes at the limit", High: number(most) + " passes",
			Advice: "the sheet would be thinner than " + thinnestSheet.String() + "; ask for fewer passes",
		}
	}
	if w != nil {
		w.Given("thickness in", "t_in", float64(in.In), "mm", "")
		w.Given("passes", "p", float64(in.Passes), "", "")
		w.Given("recovery", "R", in.Recovery, "", "")
		w.Given("largest reduction", "limit", in.Limit, "", "")
		w.Step("thickness out", "t_out", "t_in * pow(R/limit, p)", float64(out.Out), "mm", "")
	}
	return out, nil
}

// RollerGaps returns the gap of the first pair of rollers that shares the reduction evenly with the second:
//
//	h / g1 = R1 g1 / g2,  so  g1 = sqrt(h g2 / R1)
//	reduction = h / g1
//
// with h the thickness of the piece in front and R1 the recovery behind the
// first pair. The first gap always comes out wider than the second. A
// reduction beyond the dough's limit is shown, not hidden.
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg, density outside 0.1 to 1.5 g/ml, or thickness given and outside 1 to 500 mm,
//   - last_gap is outside 0.05 to 200 mm, or so wide that one of the pairs would not sheet the piece,
//   - a recovery is outside 1 to 5, or limit outside 1.1 to 10,
//   - a scale is refused by [IndicatorForGap].
//
// It returns a *[reckon.NoSolutionError] if a gap lies outside its table.
//
// Source: two pairs, the first wider (common practice); reduction of 2 to 1 a
// pass as a rule of thumb, up to 4 to 1 in use (trade article on sheeting, 2015); cases in testdata/cases/molder/roller-gaps.json.
//
// The inverse is [LastGapForReduction].
type RollerGaps struct {
	Piece         unit.Mass      `json:"piece"`                // piece weight, 1 g to 10 kg
	Density       unit.Density   `json:"density"`              // density of the dough in front of the rollers, 0.1 to 1.5 g/ml
	Thickness     unit.Length    `json:"thickness,omitzero"`   // thickness of the piece as it meets the first pair, 1 to 500 mm; leave out for a ball
	LastGap       unit.Length    `json:"last_gap"`             // gap of the second pair, 0.05 to 200 mm, as [GapForTurns] gives it
	FirstRecovery float64        `json:"first_recovery"`       // sheet thickness over gap behind the first pair, 1 to 5
	LastRecovery  float64        `json:"last_recovery"`        // sheet thickness over gap behind the second pair, 1 to 5
	Limit         float64        `json:"limit"`                // largest reduction (thickness in over gap) that the dough stands in one pair, 1.1 to 10; rule of thumb 2, up to 4
	FirstScale    IndicatorScale `json:"first_scale,omitzero"` // gaps measured at the indicator of the first pair; leave out for none
	LastScale     IndicatorScale `json:"last_scale,omitzero"`  // gaps measured at the indicator of the second pair; leave out for none
	Measured      bool           `json:"measured,omitzero"`    // true if both recoveries were measured on this line: see [RecoveryFromSheet]
}

func (RollerGaps) ID() string { return "roller-gaps" }

// SHELL
func (q RollerGaps) Check(c *reckon.Checks) {
	_, err := explainRollerGaps(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RollerGaps) Solve() (RollerGapsResult, error) { return explainRollerGaps(q, nil) }

func (q RollerGaps) Show(w *reckon.Working, _ RollerGapsResult) { _, _ = explainRollerGaps(q, w) }

// RollerGapsResult is where both pairs go.
type RollerGapsResult struct {
	FirstGap    unit.Length     `json:"first_gap"`             // gap of the first pair
	FirstNumber float64         `json:"first_number,omitzero"` // at its indicator; left out without a scale
	FirstSheet  unit.Length     `json:"first_sheet"`           // thickness behind it
	LastGap     unit.Length     `json:"last_gap"`              // gap of the second pair
	LastNumber  float64         `json:"last_number,omitzero"`  // at its indicator; left out without a scale
	LastSheet   unit.Length     `json:"last_sheet"`            // thickness behind it
	Reduction   float64         `json:"reduction"`             // thickness in over gap, the same in both pairs
	Conditions  Conditions      `json:"conditions"`            // deep-reduction, uncalibrated, outside-source, extrapolated
	Cautions    reckon.Cautions `json:"cautions"`              // moving-machinery, interlocks
}

func explainRollerGaps(in RollerGaps, w *reckon.Working) (out RollerGapsResult, err error) {
	c := reckon.Checks{Func: "roller-gaps"}
	ok := checkPiece(&c, in.Piece, in.Density)
	if in.Thickness != 0 {
		ok = reckon.CheckRange(&c, "thickness", in.Thickness, 1, 500) && ok
	}
	ok = reckon.CheckRange(&c, "last_gap", in.LastGap, narrowestGap, widestGap) && ok
	ok = reckon.CheckRange(&c, "first_recovery", in.FirstRecovery, 1, 5) && ok
	ok = reckon.CheckRange(&c, "last_recovery", in.LastRecovery, 1, 5) && ok
	reckon.CheckRange(&c, "limit", in.Limit, leastReduction, deepestReduction)
	h := float64(in.Thickness)
	if ok {
		if h == 0 {
			h = float64(sphere(in.Piece, in.Density))
		}
		// Each pair must leave the dough thinner than it came.
		widest := unit.Length(min(h/in.FirstRecovery, h*in.FirstRecovery/(in.LastRecovery*in.LastRecovery)))
		if in.LastGap >= widest {
			c.Fail("last_gap", in.LastGap.String(), "less than "+widest.String()+": wider, one of the pairs does not sheet the piece")
		}
	}
	if in.FirstScale.given() {
		in.FirstScale.check(&c, "first_scale.method", "first_scale.points")
	}
	if in.LastScale.given() {
		in.LastScale.check(&c, "last_scale.method", "last_scale.points")
	}
	if err := c.Err(); err != nil {
		return RollerGapsResult{}, err
	}
	g2 := float64(in.LastGap)
	g1 := math.Sqrt(h * g2 / in.FirstRecovery)
	reduction := h / g1
	out = RollerGapsResult{
		FirstGap: unit.Length(g1), FirstSheet: unit.Length(in.FirstRecovery * g1),
		LastGap: in.LastGap, LastSheet: unit.Length(in.LastRecovery * g2), Reduction: reduction,
		Conditions: recoveryConditions(in.FirstRecovery, in.Measured) | recoveryConditions(in.LastRecovery, in.Measured) | reductionConditions(reduction, in.Limit),
		Cautions:   reckon.MovingMachinery | reckon.Interlocks,
	}
	var first, last line
	if in.FirstScale.given() {
		n, segment, conditions, ok := in.FirstScale.numberAt(g1)
		if !ok {
			return RollerGapsResult{}, in.FirstScale.noNumber(c.Func, "number of the first pair", out.FirstGap, 0, widestPoint)
		}
		out.FirstNumber, out.Conditions, first = n, out.Conditions|conditions, segment
	}
	if in.LastScale.given() {
		n, segment, conditions, ok := in.LastScale.numberAt(g2)
		if !ok {
			return RollerGapsResult{}, in.LastScale.noNumber(c.Func, "number of the second pair", out.LastGap, 0, widestPoint)
		}
		out.LastNumber, out.Conditions, last = n, out.Conditions|conditions, segment
	}
	if w != nil {
		w.Given("thickness of the piece in front", "h", h, "mm", "as given, or as a ball of the same volume")
		w.Given("gap of the second pair", "g_2", g2, "mm", "")
		w.Given("recovery behind the first pair", "R_1", in.FirstRecovery, "", "")
		w.Given("recovery behind the second pair", "R_2", in.LastRecovery, "", "")
		w.Step("gap of the first pair", "g_1", "sqrt(h * g_2 / R_1)", g1, "mm", "the same reduction in both pairs")
		if in.FirstScale.given() {
			w.Given("number of its known point", "n_01", first.meanNumber, "", "measured list")
			w.Given("gap of its known point", "g_01", first.meanGap, "mm", "measured list")
			w.Given("gap for each number of the first pair", "k_1", first.slope, "mm", "measured list")
			w.Step("number of the first pair", "n_1", "n_01 + (g_1 - g_01) / k_1", out.FirstNumber, "", "")
		}
		if in.LastScale.given() {
			w.Given("number of its known point", "n_02", last.meanNumber, "", "measured list")
			w.Given("gap of its known point", "g_02", last.meanGap, "mm", "measured list")
			w.Given("gap for each number of the second pair", "k_2", last.slope, "mm", "measured list")
			w.Step("number of the second pair", "n_2", "n_02 + (g_2 - g_02) / k_2", out.LastNumber, "", "")
		}
		w.Step("sheet behind the first pair", "t_1", "R_1 * g_1", float64(out.FirstSheet), "mm", "springback")
		w.Step("sheet behind the second pair", "t_2", "R_2 * g_2", float64(out.LastSheet), "mm", "springback")
		w.Step("reduction", "r", "h / g_1", reduction, "", "")
	}
	return out, nil
}

// LastGapForReduction returns the gaps at which both pairs reduce a piece by the same wanted amount:
//
//	g1 = h / reduction,  g2 = R1 g1 / reduction
//
// With the dough's limit for the reduction it is the narrowest that two pairs
// may go. It is the inverse of [RollerGaps], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - piece, density, thickness or first_recovery is out of the range that [RollerGaps] names,
//   - reduction is outside 1.1 to 10, or not more than first_recovery.
//
// It returns a *[reckon.NoSolutionError] if the second gap would be outside the 0.05 to 200 mm that [RollerGaps] takes.
//
// Source: reduction of 2 to 1 a pass as a rule of thumb, up to 4 to 1 in use
// (trade article on sheeting, 2015).
type LastGapForReduction struct {
	Piece         unit.Mass    `json:"piece"`              // piece weight, 1 g to 10 kg
	Density       unit.Density `json:"density"`            // density of the dough in front of the rollers, 0.1 to 1.5 g/ml
	Thickness     unit.Length  `json:"thickness,omitzero"` // thickness of the piece as it meets the first pair, 1 to 500 mm; leave out for a ball
	FirstRecovery float64      `json:"first_recovery"`     // sheet thickness over gap behind the first pair, 1 to 5
	Reduction     float64      `json:"reduction"`          // wanted reduction (thickness in over gap) in each pair, 1.1 to 10 and more than first_recovery
	Measured      bool         `json:"measured,omitzero"`  // true if the recovery was measured on this line: see [RecoveryFromSheet]
}

func (LastGapForReduction) ID() string { return "last-gap-for-reduction" }

// SHELL
func (q LastGapForReduction) Check(c *reckon.Checks) {
	_, err := explainLastGapForReduction(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q LastGapForReduction) Solve() (LastGapForReductionResult, error) {
	return explainLastGapForReduction(q, nil)
}

func (q LastGapForReduction) Show(w *reckon.Working, _ LastGapForReductionResult) {
	_, _ = explainLastGapForReduction(q, w)
}

// LastGapForReductionResult is where both pairs go.
type LastGapForReductionResult struct {
	FirstGap   unit.Length     `json:"first_gap"`  // gap of the first pair
	LastGap    unit.Length     `json:"last_gap"`   // gap of the second pair
	Conditions Conditions      `json:"conditions"` // uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, interlocks
}

func explainLastGapForReduction(in LastGapForReduction, w *reckon.Working) (LastGapForReductionResult, error) {
	c := reckon.Checks{Func: "last-gap-for-reduction"}
	checkPiece(&c, in.Piece, in.Density)
	if in.Thickness != 0 {
		reckon.CheckRange(&c, "thickness", in.Thickness, 1, 500)
	}
	ok := reckon.CheckRange(&c, "first_recovery", in.FirstRecovery, 1, 5)
	if reckon.CheckRange(&c, "reduction", in.Reduction, leastReduction, deepestReduction) && ok && in.Reduction <= in.FirstRecovery {
		c.Fail("reduction", number(in.Reduction), "more than first_recovery ("+number(in.FirstRecovery)+"): otherwise the dough springs back as far as it was squeezed")
	}
	if err := c.Err(); err != nil {
		return LastGapForReductionResult{}, err
	}
	h := float64(in.Thickness)
	if h == 0 {
		h = float64(sphere(in.Piece, in.Density))
	}
	g1 := h / in.Reduction
	g2 := in.FirstRecovery * g1 / in.Reduction
	if !(g2 >= float64(narrowestGap) && g2 <= float64(widestGap)) {
		least := math.Sqrt(in.FirstRecovery * h / float64(widestGap))
		most := math.Sqrt(in.FirstRecovery * h / float64(narrowestGap))
		none := &reckon.NoSolutionError{
			Func: c.Func, Unknown: "gap", Wanted: "a reduction of " + number(in.Reduction) + " to 1 in both pairs",
			Low: number(max(leastReduction, in.FirstRecovery, least)), High: number(min(deepestReduction, most)),
			Advice: "the second pair would stand at " + unit.Length(g2).String() + ", and rollers have gaps of " + narrowestGap.String() + " to " + widestGap.String() + "; ask for another reduction",
		}
		if most <= max(leastReduction, in.FirstRecovery) {
			none.Low, none.High = "", ""
		}
		return LastGapForReductionResult{}, none
	}
	if w != nil {
		w.Given("thickness of the piece in front", "h", h, "mm", "as given, or as a ball of the same volume")
		w.Given("recovery behind the first pair", "R_1", in.FirstRecovery, "", "")
		w.Given("reduction", "r", in.Reduction, "", "")
		w.Step("gap of the first pair", "g_1", "h / r", g1, "mm", "")
		w.Step("gap of the second pair", "g_2", "R_1 * g_1 / r", g2, "mm", "the same reduction in both pairs")
	}
	return LastGapForReductionResult{
		FirstGap: unit.Length(g1), LastGap: unit.Length(g2),
		Conditions: recoveryConditions(in.FirstRecovery, in.Measured) | reductionConditions(1, in.Reduction),
		Cautions:   reckon.MovingMachinery | reckon.Interlocks,
	}, nil
}
