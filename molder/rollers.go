package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// largestReduction is what dough can stand in one pair of rollers: a rule of
// thumb of the trade is 2 to 1, and up to 4 to 1 is in common use.
const largestReduction = 4

// What can be asked for in one pass, taken wide: the bounds catch slips of the decimal point.
const (
	leastReduction   = 1.1
	deepestReduction = 10
)

// What a piece can be in front of the rollers, taken wide.
const (
	thinnestPiece unit.Length = 1
	thickestPiece unit.Length = 500
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

func checkReduction(c *reckon.Checks, recovery, limit float64) {
	reckon.CheckRange(c, "recovery", recovery, 1, 5)
	reckon.CheckRange(c, "reduction_limit", limit, leastReduction, deepestReduction)
}

// inFront returns how thick the piece is in front of the rollers: as given, or
// as a ball.
func inFront(thickness unit.Length, piece unit.Mass, density unit.Density) float64 {
	if thickness != 0 {
		return float64(thickness)
	}
	return float64(sphere(piece, density))
}

// showInFront records how thick a piece is of which no thickness is given.
func showInFront(w *reckon.Working, thickness unit.Length) {
	if thickness == 0 {
		w.Lines(nil, volumeLine, "thickness of the piece in front: h = pow(6*V/pi, 1/3) in mm  [as a ball of the same volume]")
	}
}

// RollerGaps asks how both pairs of rollers should be set, as the gap of the
// first pair that shares the reduction evenly with the second:
//
//	h = (6 * m / rho * 1000 / pi)^(1/3)  if it is not given
//	h / g_1 = R_1 * g_1 / g_2,  so  g_1 = sqrt(h * g_2 / R_1)
//	t_1 = R_1 * g_1,  t_2 = R_2 * g_2
//	n_1 = n_01 + (g_1 - g_01) / k_1,  n_2 = n_02 + (g_2 - g_02) / k_2  with scales
//	r = h / g_1
//	h_max = (D_r + g_1) * sqrt(1 + mu^2) - D_r  as in [RollerGrip], with roller_diameter and friction
//
// with h the thickness of the piece in front and R_1 the recovery behind the
// first pair. The first gap always comes out wider than the second. A
// reduction that exceeds the dough's limit is shown, not hidden. The numbers
// n_1 and n_2 are read from the scales as [IndicatorForGap] reads them.
//
// It is refused if:
//   - last_gap is so wide that one of the pairs would not sheet the piece,
//   - one of roller_diameter and friction is given without the other,
//   - a scale is refused by [IndicatorForGap].
//
// Source: two pairs, the first wider (common practice); reduction of 2 to 1 a
// pass as a rule of thumb, up to 4 to 1 in use (trade article on sheeting, 2015); cases in testdata/cases/molder/roller-gaps.json.
//
// The inverse is [LastGapForReduction].
type RollerGaps struct {
	Piece          unit.Mass      `json:"piece" sym:"m" range:"1 g..10 kg"`                      // piece weight
	Density        unit.Density   `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"`          // density of the dough in front of the rollers
	Thickness      unit.Length    `json:"thickness,omitzero" sym:"h" range:"1 mm..500 mm"`       // thickness of the piece as it meets the first pair; leave out for a ball
	LastGap        unit.Length    `json:"last_gap" sym:"g_2" range:"0.05 mm..200 mm"`            // gap of the second pair, as [GapForTurns] gives it
	FirstRecovery  float64        `json:"first_recovery" sym:"R_1" range:"1..5"`                 // sheet thickness over gap behind the first pair
	LastRecovery   float64        `json:"last_recovery" sym:"R_2" range:"1..5"`                  // sheet thickness over gap behind the second pair
	ReductionLimit float64        `json:"reduction_limit" range:"1.1..10"`                       // largest reduction (thickness in over gap) that the dough can stand in one pair; rule of thumb 2, up to 4
	FirstScale     IndicatorScale `json:"first_scale,omitzero" sym:"-"`                          // gaps measured at the indicator of the first pair; leave out for none
	LastScale      IndicatorScale `json:"last_scale,omitzero" sym:"-"`                           // gaps measured at the indicator of the second pair; leave out for none
	Roller         unit.Length    `json:"roller_diameter,omitzero" sym:"D_r" range:"10 mm..2 m"` // diameter of the rollers of the first pair, with friction; leave out both if not known
	Friction       float64        `json:"friction,omitzero" sym:"mu" range:"0.05..3"`            // of the dough on them: see [GripFromTrials]
	Measured       bool           `json:"measured,omitzero"`                                     // true if both recoveries, and the friction if it is given, were measured on this line: see [RecoveryFromSheet]
}

// RollerGapsResult is where both pairs go.
type RollerGapsResult struct {
	FirstGap    unit.Length     `json:"first_gap" sym:"g_1"`             // gap of the first pair
	FirstNumber float64         `json:"first_number,omitzero" sym:"n_1"` // at its indicator; left out without a scale
	FirstSheet  unit.Length     `json:"first_sheet" sym:"t_1"`           // thickness behind it
	GripLimit   unit.Length     `json:"grip_limit,omitzero" sym:"h_max"` // thickest piece that the first pair draws in; left out if roller_diameter and friction are not given
	LastGap     unit.Length     `json:"last_gap" sym:"g_2"`              // gap of the second pair
	LastNumber  float64         `json:"last_number,omitzero" sym:"n_2"`  // at its indicator; left out without a scale
	LastSheet   unit.Length     `json:"last_sheet" sym:"t_2"`            // thickness behind it
	Reduction   float64         `json:"reduction" sym:"r"`               // thickness in over gap, the same in both pairs
	Conditions  Conditions      `json:"conditions"`                      // deep-reduction, no-grip, uncalibrated, outside-source, extrapolated
	Cautions    reckon.Cautions `json:"cautions"`                        // moving-machinery, interlocks, roller-nip
}

func (RollerGaps) ID() string { return "roller-gaps" }

func (q RollerGaps) Check(c *reckon.Checks) { q.check(c) }

// check returns how thick the piece is in front of the rollers.
func (q *RollerGaps) check(c *reckon.Checks) (h float64) {
	ok := checkPiece(c, q.Piece, q.Density)
	if q.Thickness != 0 {
		ok = reckon.CheckRange(c, "thickness", q.Thickness, thinnestPiece, thickestPiece) && ok
	}
	ok = reckon.CheckRange(c, "last_gap", q.LastGap, narrowestGap, widestGap) && ok
	ok = reckon.CheckRange(c, "first_recovery", q.FirstRecovery, 1, 5) && ok
	ok = reckon.CheckRange(c, "last_recovery", q.LastRecovery, 1, 5) && ok
	reckon.CheckRange(c, "reduction_limit", q.ReductionLimit, leastReduction, deepestReduction)
	if ok {
		h = inFront(q.Thickness, q.Piece, q.Density)
		// Each pair must leave the dough thinner than it came.
		widest := unit.Length(min(h/q.FirstRecovery, h*q.FirstRecovery/(q.LastRecovery*q.LastRecovery)))
		if q.LastGap >= widest {
			c.Fail("last_gap", q.LastGap.String(), "less than "+widest.String()+": wider, one of the pairs does not sheet the piece")
		}
	}
	if q.Roller != 0 || q.Friction != 0 {
		reckon.CheckRange(c, "roller_diameter", q.Roller, thinnestRoller, widestRoller)
		reckon.CheckRange(c, "friction", q.Friction, leastFriction, mostFriction)
	}
	if q.FirstScale.given() {
		mark := c.Mark()
		q.FirstScale.Check(c)
		c.Under(mark, "first_scale")
	}
	if q.LastScale.given() {
		mark := c.Mark()
		q.LastScale.Check(c)
		c.Under(mark, "last_scale")
	}
	return h
}

// Solve has no answer if a gap lies outside its table.
func (q RollerGaps) Solve() (out RollerGapsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	h := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	g2 := float64(q.LastGap)
	g1 := math.Sqrt(h * g2 / q.FirstRecovery)
	reduction := h / g1
	found := RollerGapsResult{
		FirstGap: unit.Length(g1), FirstSheet: unit.Length(q.FirstRecovery * g1),
		LastGap: q.LastGap, LastSheet: unit.Length(q.LastRecovery * g2), Reduction: reduction,
		Conditions: recoveryConditions(q.FirstRecovery, q.Measured) | recoveryConditions(q.LastRecovery, q.Measured) | reductionConditions(reduction, q.ReductionLimit),
		Cautions:   rollerCautions,
	}
	if q.Roller != 0 {
		found.GripLimit = gripped(q.Roller, found.FirstGap, q.Friction)
		if h > float64(found.GripLimit)*(1+1e-9) {
			found.Conditions |= NoGrip
		}
	}
	if q.FirstScale.given() {
		n, _, conditions, ok := q.FirstScale.numberAt(g1)
		if !ok {
			return out, q.FirstScale.noNumber(c.Func, "number of the first pair", found.FirstGap, 0, widestPoint)
		}
		found.FirstNumber, found.Conditions = n, found.Conditions|conditions
	}
	if q.LastScale.given() {
		n, _, conditions, ok := q.LastScale.numberAt(g2)
		if !ok {
			return out, q.LastScale.noNumber(c.Func, "number of the second pair", found.LastGap, 0, widestPoint)
		}
		found.LastNumber, found.Conditions = n, found.Conditions|conditions
	}
	return found, nil
}

func (q RollerGaps) Show(w *reckon.Working, out RollerGapsResult) {
	w.Inputs(q)
	showInFront(w, q.Thickness)
	w.Lines(out, "gap of the first pair: g_1 = sqrt(h*g_2/R_1)  [the same reduction in both pairs]")
	if q.FirstScale.given() {
		_, on, _, _ := q.FirstScale.numberAt(float64(out.FirstGap))
		q.FirstScale.showPair(w, on, "1")
		w.Lines(out, "number of the first pair: n_1 = n_01 + (g_1 - g_01)/k_1")
	}
	if q.LastScale.given() {
		_, on, _, _ := q.LastScale.numberAt(float64(out.LastGap))
		q.LastScale.showPair(w, on, "2")
		w.Lines(out, "number of the second pair: n_2 = n_02 + (g_2 - g_02)/k_2")
	}
	w.Lines(out,
		"sheet behind the first pair: t_1 = R_1*g_1  [springback]",
		"sheet behind the second pair: t_2 = R_2*g_2  [springback]",
		"reduction: r = h/g_1")
	if q.Roller != 0 {
		w.Lines(out, "thickest piece that the first pair draws in: h_max = (D_r + g_1)*sqrt(1 + mu*mu) - D_r  [angle of nip of crushing rolls]")
	}
}

// LastGapForReduction asks how far two pairs of rollers can close, as the gaps at
// which both reduce a piece by the same wanted amount:
//
//	h = (6 * m / rho * 1000 / pi)^(1/3)  if it is not given
//	g_1 = h / r
//	g_2 = R_1 * g_1 / r
//
// With the dough's limit for the reduction it is the narrowest that two pairs
// may go. It is the inverse of [RollerGaps], with the same validity.
//
// It is refused if reduction is not more than first_recovery.
//
// Source: reduction of 2 to 1 a pass as a rule of thumb, up to 4 to 1 in use
// (trade article on sheeting, 2015).
//
// The inverse is [RollerGaps].
type LastGapForReduction struct {
	Piece         unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`                // piece weight
	Density       unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"`    // density of the dough in front of the rollers
	Thickness     unit.Length  `json:"thickness,omitzero" sym:"h" range:"1 mm..500 mm"` // thickness of the piece as it meets the first pair; leave out for a ball
	FirstRecovery float64      `json:"first_recovery" sym:"R_1" range:"1..5"`           // sheet thickness over gap behind the first pair
	Reduction     float64      `json:"reduction" sym:"r" range:"1.1..10"`               // wanted reduction (thickness in over gap) in each pair, more than first_recovery
	Measured      bool         `json:"measured,omitzero"`                               // true if the recovery was measured on this line: see [RecoveryFromSheet]
}

// LastGapForReductionResult is where both pairs go.
type LastGapForReductionResult struct {
	FirstGap   unit.Length     `json:"first_gap" sym:"g_1"` // gap of the first pair
	LastGap    unit.Length     `json:"last_gap" sym:"g_2"`  // gap of the second pair
	Conditions Conditions      `json:"conditions"`          // uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`            // moving-machinery, interlocks, roller-nip
}

func (LastGapForReduction) ID() string { return "last-gap-for-reduction" }

func (q LastGapForReduction) Check(c *reckon.Checks) {
	checkPiece(c, q.Piece, q.Density)
	if q.Thickness != 0 {
		reckon.CheckRange(c, "thickness", q.Thickness, thinnestPiece, thickestPiece)
	}
	ok := reckon.CheckRange(c, "first_recovery", q.FirstRecovery, 1, 5)
	if reckon.CheckRange(c, "reduction", q.Reduction, leastReduction, deepestReduction) && ok && q.Reduction <= q.FirstRecovery {
		c.Fail("reduction", number(q.Reduction), "more than first_recovery ("+number(q.FirstRecovery)+"): otherwise the dough springs back as far as it was squeezed")
	}
}

// Solve has no answer if the second gap would be outside the 0.05 mm to 200 mm that [RollerGaps] takes.
func (q LastGapForReduction) Solve() (out LastGapForReductionResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	h := inFront(q.Thickness, q.Piece, q.Density)
	g1 := h / q.Reduction
	g2 := q.FirstRecovery * g1 / q.Reduction
	if !(g2 >= float64(narrowestGap) && g2 <= float64(widestGap)) {
		return out, q.noGap(h, g2)
	}
	return LastGapForReductionResult{
		FirstGap: unit.Length(g1), LastGap: unit.Length(g2),
		Conditions: recoveryConditions(q.FirstRecovery, q.Measured) | reductionConditions(1, q.Reduction),
		Cautions:   rollerCautions,
	}, nil
}

// noGap says which reductions can be reached.
func (q *LastGapForReduction) noGap(h, g2 float64) error {
	least := math.Sqrt(q.FirstRecovery * h / float64(widestGap))
	most := math.Sqrt(q.FirstRecovery * h / float64(narrowestGap))
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "gap", Wanted: "a reduction of " + number(q.Reduction) + " to 1 in both pairs",
		Low: number(max(leastReduction, q.FirstRecovery, least)), High: number(min(deepestReduction, most)),
		Advice: "the second pair would stand at " + unit.Length(g2).String() + ", and rollers have gaps of " + narrowestGap.String() + " to " + widestGap.String() + "; ask for another reduction",
	}
	if most <= max(leastReduction, q.FirstRecovery) {
		none.Low, none.High = "", ""
	}
	return none
}

func (q LastGapForReduction) Show(w *reckon.Working, out LastGapForReductionResult) {
	w.Inputs(q)
	showInFront(w, q.Thickness)
	w.Lines(out,
		"gap of the first pair: g_1 = h/r",
		"gap of the second pair: g_2 = R_1*g_1/r  [the same reduction in both pairs]")
}
