package doughmath

import (
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

// Hydration returns how wet a dough is: its water, with the water in other
// liquids and in starters, on all its flour.
//
//	h = 100 * (water + water in liquids + starter water) / (flour + starter flour)
//	starter flour = starter / (1 + its hydration), starter water = the rest
//
// How liquids count is named, because sources differ: milk at its whole weight,
// or for the water in it. The moisture of the flour itself is never counted.
// A formula without water has a hydration of 0 % and the condition unusual-hydration.
//
// It is exact arithmetic on the percentages.
//
// It returns an *[reckon.InputError] if:
//   - the formula is not one that [FormulaScale] takes,
//   - the reading of liquids is not named.
//
// Source: Wild Yeast, Baker's Percentage tutorial (2008), for milk at its whole weight; daveiscooking.com, True
// hydration (2022), with and without the starter; cases in testdata/cases/doughmath/hydration.json.
//
// The inverse is [WaterForHydration].
type Hydration struct {
	Ingredients []Ingredient  `json:"ingredients"` // the formula; the flours make 100 %, a starter counts on the flours listed
	Liquids     LiquidReading `json:"liquids"`     // "whole-mass" or "water-content"
}

func (Hydration) ID() string { return "hydration" }

// SHELL
func (q Hydration) Check(c *reckon.Checks) {
	_, err := explainHydration(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Hydration) Solve() (HydrationResult, error) { return explainHydration(q, nil) }

func (q Hydration) Show(w *reckon.Working, _ HydrationResult) { _, _ = explainHydration(q, w) }

// HydrationResult is how wet the dough is.
type HydrationResult struct {
	Hydration      unit.BakersPercent `json:"hydration"`       // all water on all flour, the starter's flour and water counted in
	WithoutStarter unit.BakersPercent `json:"without_starter"` // the same with the starter left out
	Water          unit.BakersPercent `json:"water"`           // all water, in percent of the flours listed
	Flour          unit.BakersPercent `json:"flour"`           // all flour, the starter's included, in percent of the flours listed
	Conditions     Conditions         `json:"conditions"`      // unusual-hydration
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
	case g.Water != 0 && r == LiquidsWater:
		s.water += float64(p*float64(g.Water)) / 100
	}
	return s
}

func hydrationCondition(h float64) Conditions {
	if h < driestUsual || h > wettestUsual {
		return UnusualHydration
	}
	return 0
}

func explainHydration(in Hydration, w *reckon.Working) (out HydrationResult, err error) {
	c := reckon.Checks{Func: "hydration"}
	checkFormula(&c, in.Ingredients)
	reckon.CheckEither(&c, "liquids", in.Liquids, LiquidsWhole, LiquidsWater)
	if err := c.Err(); err != nil {
		return HydrationResult{}, err
	}
	s := in.Liquids.count(in.Ingredients)
	flour, water := 100+s.starterFlour, s.water+s.starterWater
	h := 100 * water / flour
	out = HydrationResult{
		Hydration: unit.BakersPercent(h), WithoutStarter: unit.BakersPercent(s.water),
		Water: unit.BakersPercent(water), Flour: unit.BakersPercent(flour), Conditions: hydrationCondition(h),
	}
	if w != nil {
		s.explain(w)
		w.Step("all water", "W", "W_l + W_s", water, "%", "")
		w.Step("all flour", "F", "100 + F_s", flour, "%", "")
		w.Step("hydration", "h", "100*W/F", h, "%", "")
	}
	return out, nil
}

func (s wetness) explain(w *reckon.Working) {
	w.Given("water, and liquids as read, on the flours listed", "W_l", s.water, "%", "")
	w.Given("water in starters", "W_s", s.starterWater, "%", "starter * h_s/(100 + h_s)")
	w.Given("flour in starters", "F_s", s.starterFlour, "%", "starter * 100/(100 + h_s)")
}

// WaterForHydration returns the water to add to a formula so that it comes to
// the hydration wanted.
//
//	water = h * (100 + starter flour) / 100 - (water in the formula + starter water)
//
// It is the inverse of [Hydration], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - the formula is not one that [FormulaScale] takes,
//   - the reading of liquids is not named,
//   - hydration is outside 0 to 1000 %.
//
// It returns a *[reckon.NoSolutionError] if the formula is already wetter than wanted.
//
// Source: daveiscooking.com, True hydration (2022), solved for the water.
type WaterForHydration struct {
	Ingredients []Ingredient       `json:"ingredients"` // the formula; water that stands in it already is counted
	Liquids     LiquidReading      `json:"liquids"`     // "whole-mass" or "water-content"
	Hydration   unit.BakersPercent `json:"hydration"`   // wanted, all water on all flour; 0 to 1000 %
}

func (WaterForHydration) ID() string { return "water-for-hydration" }

// SHELL
func (q WaterForHydration) Check(c *reckon.Checks) {
	_, err := explainWaterForHydration(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WaterForHydration) Solve() (WaterForHydrationResult, error) {
	return explainWaterForHydration(q, nil)
}

func (q WaterForHydration) Show(w *reckon.Working, _ WaterForHydrationResult) {
	_, _ = explainWaterForHydration(q, w)
}

// WaterForHydrationResult is the water to add.
type WaterForHydrationResult struct {
	Water      unit.BakersPercent `json:"water"`      // to add to the formula, on the flours listed
	Conditions Conditions         `json:"conditions"` // unusual-hydration
}

func explainWaterForHydration(in WaterForHydration, w *reckon.Working) (WaterForHydrationResult, error) {
	c := reckon.Checks{Func: "water-for-hydration"}
	checkFormula(&c, in.Ingredients)
	reckon.CheckEither(&c, "liquids", in.Liquids, LiquidsWhole, LiquidsWater)
	reckon.CheckRange(&c, "hydration", in.Hydration, 0, largestPercent)
	if err := c.Err(); err != nil {
		return WaterForHydrationResult{}, err
	}
	s := in.Liquids.count(in.Ingredients)
	flour, have := 100+s.starterFlour, s.water+s.starterWater
	water := float64(float64(in.Hydration)*flour)/100 - have
	if water < 0 {
		if water > -roundingSlack {
			water = 0 // just as wet as wanted, but for the rounding of binary arithmetic
		} else {
			return WaterForHydrationResult{}, &reckon.NoSolutionError{
				Func: c.Func, Unknown: "water to add",
				Wanted: "a hydration of " + in.Hydration.String(), Low: unit.BakersPercent(100 * have / flour).String(),
				Advice: "take liquid or starter out, or add flour",
			}
		}
	}
	if w != nil {
		s.explain(w)
		w.Given("hydration wanted", "h", float64(in.Hydration), "%", "")
		w.Step("water to add", "W", "max(0, h*(100 + F_s)/100 - (W_l + W_s))", water, "%", "")
	}
	return WaterForHydrationResult{Water: unit.BakersPercent(water), Conditions: hydrationCondition(float64(in.Hydration))}, nil
}
