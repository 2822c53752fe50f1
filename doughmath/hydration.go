package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// LiquidReading names how much of a liquid counts as water. Sources use both.
type LiquidReading string

const (
	// LiquidsWhole counts the whole weight of milk, egg and other liquids as water.
	LiquidsWhole LiquidReading = "whole-mass"
	// LiquidsWater counts only the water in liquids and in other ingredients such as butter.
	LiquidsWater LiquidReading = "water-content"
)

// The hydration outside which a dough is no longer what a make-up line for
// bread and rolls divides and rounds. Common practice, no source.
const driestUsual, wettestUsual = 45, 80

// Hydration asks what the true hydration of a dough is: all its water, with that in other liquids
// and in starters, on all its flour:
//
//	whole-mass:    W_l = sum of p_i over water and liquids
//	water-content: W_l = sum of p_i over water + sum of p_i * x_i / 100 over all that has a water content
//	F_s = sum of p_i * 100 / (100 + h_i) over the starters, W_s = sum of p_i * h_i / (100 + h_i)
//	W = W_l + W_s, F = 100 + F_s
//	h = 100 * W / F
//
// with x_i the water in an ingredient and h_i the hydration of a starter. How liquids count is named,
// because sources differ: milk at its whole weight, or for the water in it. The moisture of the flour
// itself is never counted. A formula without water has a hydration of 0 % and the condition unusual-hydration.
//
// It is exact arithmetic on the percentages.
//
// It is refused if:
//   - the formula is not one that [FormulaScale] takes.
//
// Source: Wild Yeast, Baker's Percentage tutorial (2008), for milk at its whole weight; daveiscooking.com, True
// hydration (2022), with and without the starter; cases in testdata/cases/doughmath/hydration.json.
//
// The inverse is [WaterForHydration].
type Hydration struct {
	Ingredients []Ingredient  `json:"ingredients" items:"1..1000"` // the formula; the flours make 100 %, a starter counts on the flours listed
	Liquids     LiquidReading `json:"liquids"`                     // "whole-mass" or "water-content"
}

// HydrationResult is how wet the dough is.
type HydrationResult struct {
	Hydration      unit.BakersPercent `json:"hydration" sym:"h"`         // all water on all flour, the starter's flour and water counted in
	WithoutStarter unit.BakersPercent `json:"without_starter" sym:"W_l"` // the same with the starter left out
	WaterPercent   unit.BakersPercent `json:"water_percent" sym:"W"`     // all water, in percent of the flours listed
	FlourPercent   unit.BakersPercent `json:"flour_percent" sym:"F"`     // all flour, the starter's included, in percent of the flours listed
	Conditions     Conditions         `json:"conditions"`                // unusual-hydration
}

func (Hydration) ID() string { return "hydration" }

func (q Hydration) Check(c *reckon.Checks) { q.check(c) }

func (q *Hydration) check(c *reckon.Checks) {
	checkFormula(c, q.Ingredients)
	reckon.CheckEither(c, "liquids", q.Liquids, LiquidsWhole, LiquidsWater)
}

func (q Hydration) Solve() (out HydrationResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *Hydration) SolveInto(out *HydrationResult) error {
	*out = HydrationResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	s := q.Liquids.count(q.Ingredients)
	flour, water := 100+s.starterFlour, s.water+s.starterWater
	h := 100 * water / flour
	out.Hydration, out.WithoutStarter = unit.BakersPercent(h), unit.BakersPercent(s.water)
	out.WaterPercent, out.FlourPercent, out.Conditions = unit.BakersPercent(water), unit.BakersPercent(flour), hydrationCondition(h)
	return nil
}

func (q Hydration) Show(w *reckon.Working, out HydrationResult) {
	w.Inputs(q)
	q.Liquids.show(w, out, q.Ingredients)
	w.Lines(out,
		"all water: W = W_l + W_s",
		"all flour: F = 100 + F_s",
		"hydration: h = 100*W/F",
	)
}

// WaterForHydration asks how much water to add to a formula to reach the
// hydration wanted:
//
//	whole-mass:    W_l = sum of p_i over water and liquids
//	water-content: W_l = sum of p_i over water + sum of p_i * x_i / 100 over all that has a water content
//	F_s = sum of p_i * 100 / (100 + h_i) over the starters, W_s = sum of p_i * h_i / (100 + h_i)
//	W = h * (100 + F_s) / 100 - (W_l + W_s)
//
// with x_i the water in an ingredient and h_i the hydration of a starter, in the formula as it is.
//
// It is the inverse of [Hydration], with the same validity and source.
//
// It is refused if:
//   - the formula is not one that [FormulaScale] takes.
//
// Source: daveiscooking.com, True hydration (2022), solved for the water.
//
// The inverse is [Hydration].
type WaterForHydration struct {
	Ingredients []Ingredient       `json:"ingredients" items:"1..1000"`           // the formula; water that stands in it already is counted
	Liquids     LiquidReading      `json:"liquids"`                               // "whole-mass" or "water-content"
	Hydration   unit.BakersPercent `json:"hydration" sym:"h" range:"0 %..1000 %"` // wanted, all water on all flour
}

// WaterForHydrationResult is the water to add.
type WaterForHydrationResult struct {
	WaterPercent unit.BakersPercent `json:"water_percent" sym:"W"` // to add to the formula, on the flours listed
	Conditions   Conditions         `json:"conditions"`            // unusual-hydration
}

func (WaterForHydration) ID() string { return "water-for-hydration" }

func (q WaterForHydration) Check(c *reckon.Checks) {
	checkFormula(c, q.Ingredients)
	reckon.CheckEither(c, "liquids", q.Liquids, LiquidsWhole, LiquidsWater)
	reckon.CheckRange(c, "hydration", q.Hydration, 0, largestPercent)
}

// Solve has no answer if the formula is already wetter than wanted.
func (q WaterForHydration) Solve() (out WaterForHydrationResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	s := q.Liquids.count(q.Ingredients)
	flour, have := 100+s.starterFlour, s.water+s.starterWater
	water := float64(float64(q.Hydration)*flour)/100 - have
	if water <= -roundingSlack {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "water to add",
			Wanted: "a hydration of " + q.Hydration.String(), Low: unit.BakersPercent(100 * have / flour).String(),
			Advice: "take liquid or starter out, or add flour",
		}
	}
	if water < 0 {
		water = 0 // just as wet as wanted, but for the rounding of binary arithmetic
	}
	out.WaterPercent, out.Conditions = unit.BakersPercent(water), hydrationCondition(float64(q.Hydration))
	return out, nil
}

func (q WaterForHydration) Show(w *reckon.Working, out WaterForHydrationResult) {
	w.Inputs(q)
	q.Liquids.show(w, out, q.Ingredients)
	w.Lines(out, "water to add: W = h*(100 + F_s)/100 - (W_l + W_s)")
}

// wetness is what a formula holds of water and flour, in percent of the flours listed.
type wetness struct{ water, starterWater, starterFlour float64 }

func (r LiquidReading) count(ingredients []Ingredient) wetness {
	var s wetness
	for i := range ingredients {
		s = s.with(r, &ingredients[i], float64(ingredients[i].Percent))
	}
	return s
}

// with returns s and p of g.
func (s wetness) with(r LiquidReading, g *Ingredient, p float64) wetness {
	switch {
	case g.Role == RoleStarter:
		flour := p * 100 / (100 + float64(g.Hydration))
		s.starterFlour += flour
		s.starterWater += p - flour
	case g.Role == RoleWater, g.Role == RoleLiquid && r == LiquidsWhole:
		s.water += p
	case g.WaterContent != 0 && r == LiquidsWater:
		s.water += float64(p*float64(g.WaterContent)) / 100
	}
	return s
}

// hydration returns all water on all flour, with flour of listed flours, or 0
// if there is next to no flour for the water to count on.
func (s wetness) hydration(flour float64) float64 {
	if flour += s.starterFlour; flour >= float64(smallestMass) {
		return 100 * (s.water + s.starterWater) / flour
	}
	return 0
}

func hydrationCondition(h float64) Conditions {
	if h < driestUsual || h > wettestUsual {
		return UnusualHydration
	}
	return 0
}

// show records W_l, F_s and W_s of a formula.
func (r LiquidReading) show(w *reckon.Working, answer any, ingredients []Ingredient) {
	r.given(w, ingredients)
	var t wetTerms
	for i := range ingredients {
		n := strconv.Itoa(i + 1)
		t.add(r, &ingredients[i], n, "p_"+n)
	}
	w.Lines(answer,
		"water, and liquids as read: W_l = "+sumOf(t.water)+" in %",
		"flour in starters: F_s = "+sumOf(t.starterFlour)+" in %",
		"water in starters: W_s = "+sumOf(t.starterWater)+" in %",
	)
}

// given records the water and the hydration that the reading looks up. They have no
// symbol in their tags, because most calculations with a formula do not count them.
func (r LiquidReading) given(w *reckon.Working, ingredients []Ingredient) {
	for i, g := range ingredients {
		n := strconv.Itoa(i + 1)
		switch {
		case g.Role == RoleStarter:
			w.Given(g.Name+", hydration", "h_"+n, float64(g.Hydration), "%", "")
		case g.WaterContent != 0 && r == LiquidsWater:
			w.Given(g.Name+", water", "x_"+n, float64(g.WaterContent), "%", "")
		}
	}
}

// wetTerms are the sums of [wetness] as a person keys them in.
type wetTerms struct{ water, starterWater, starterFlour string }

// add is [wetness.with] for ingredient n, of which there is the amount.
func (t *wetTerms) add(r LiquidReading, g *Ingredient, n, amount string) {
	switch {
	case g.Role == RoleStarter:
		t.starterFlour = plus(t.starterFlour, amount+"*100/(100 + h_"+n+")")
		t.starterWater = plus(t.starterWater, amount+"*h_"+n+"/(100 + h_"+n+")")
	case g.Role == RoleWater, g.Role == RoleLiquid && r == LiquidsWhole:
		t.water = plus(t.water, amount)
	case g.WaterContent != 0 && r == LiquidsWater:
		t.water = plus(t.water, amount+"*x_"+n+"/100")
	}
}

func (t *wetTerms) allWater() string {
	if t.starterWater == "" {
		return sumOf(t.water)
	}
	return plus(t.water, t.starterWater)
}
