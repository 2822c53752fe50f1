package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// MoistIngredient names an ingredient whose water content is on record.
type MoistIngredient string

// The ingredients on record.
const (
	CowMilk       MoistIngredient = "cow-milk"       // whole
	BuffaloMilk   MoistIngredient = "buffalo-milk"   // whole
	SkimMilk      MoistIngredient = "skim-milk"      // nearly free of fat
	Buttermilk    MoistIngredient = "buttermilk"     // cultured
	Yoghurt       MoistIngredient = "yoghurt"        // plain, of whole milk
	WhippingCream MoistIngredient = "whipping-cream" // about 36 % fat
	CondensedMilk MoistIngredient = "condensed-milk" // sweetened
	WholeEgg      MoistIngredient = "whole-egg"      // without shell
	EggWhite      MoistIngredient = "egg-white"
	EggYolk       MoistIngredient = "egg-yolk"
	Butter        MoistIngredient = "butter"    // about 82 % fat
	Margarine     MoistIngredient = "margarine" // about 80 % fat
	Oil           MoistIngredient = "oil"       // and clarified butter, lard
	Honey         MoistIngredient = "honey"
	MoistYeast    MoistIngredient = "compressed-yeast"
)

// ifct is where the measured water contents were seen, in an open transcription of the tables.
const ifct = "T. Longvah and others, Indian Food Composition Tables (2017)"

// recalled marks water contents that were not seen in a source. They agree
// with common food tables to about a percent; a supplier's sheet is better.
const recalled = "recalled from food tables, not seen"

// waterContents holds the water of each kind, in percent of its weight.
var waterContents = [...]struct {
	kind   MoistIngredient
	water  unit.Percent
	source string
}{
	{CowMilk, 86.64, ifct},
	{BuffaloMilk, 80.68, ifct},
	{SkimMilk, 91, recalled},
	{Buttermilk, 90, recalled},
	{Yoghurt, 88, recalled},
	{WhippingCream, 58, recalled},
	{CondensedMilk, 27, recalled},
	{WholeEgg, 76.51, ifct},
	{EggWhite, 86.68, ifct},
	{EggYolk, 53.57, ifct},
	{Butter, 16, recalled},
	{Margarine, 16, recalled},
	{Oil, 0, ifct},
	{Honey, 17, recalled},
	{MoistYeast, 69, recalled},
}

// lookUpWater returns the record of kind, and records in c that there is none.
func lookUpWater(c *reckon.Checks, kind MoistIngredient) (water unit.Percent, source string) {
	for i := range waterContents {
		if waterContents[i].kind == kind {
			return waterContents[i].water, waterContents[i].source
		}
	}
	reckon.CheckWord(c, "kind", kind, CowMilk, BuffaloMilk, SkimMilk, Buttermilk, Yoghurt, WhippingCream, CondensedMilk, WholeEgg, EggWhite,
		EggYolk, Butter, Margarine, Oil, Honey, MoistYeast)
	return 0, ""
}

func waterCondition(source string) Conditions {
	if source == recalled {
		return reckon.FromMemory
	}
	return 0
}

// IngredientWater returns the water that milk, egg, butter and other
// ingredients bring, with the source of the figure.
//
//	water = mass * content / 100
//
// Contents differ with breed, season and maker by a percent or two; a supplier's sheet
// comes before this table. The condition from-memory marks figures that were not seen in a source.
//
// It returns an *[reckon.InputError] if:
//   - the kind is not on record,
//   - mass is outside 0 to 1000 t.
//
// Source: T. Longvah and others, Indian Food Composition Tables (2017), or from memory, as the result says; cases in
// testdata/cases/doughmath/ingredient-water.json.
//
// The inverse is [LiquidForWater].
type IngredientWater struct {
	Kind MoistIngredient `json:"kind"` // "cow-milk", "buffalo-milk", "skim-milk", "buttermilk", "yoghurt", "whipping-cream", "condensed-milk", "whole-egg", "egg-white", "egg-yolk", "butter", "margarine", "oil", "honey" or "compressed-yeast"
	Mass unit.Mass       `json:"mass"` // its weight; 0 to 1000 t
}

func (IngredientWater) ID() string { return "ingredient-water" }

// SHELL
func (q IngredientWater) Check(c *reckon.Checks) {
	_, err := explainIngredientWater(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q IngredientWater) Solve() (IngredientWaterResult, error) {
	return explainIngredientWater(q, nil)
}

func (q IngredientWater) Show(w *reckon.Working, _ IngredientWaterResult) {
	_, _ = explainIngredientWater(q, w)
}

// IngredientWaterResult is the water in it.
type IngredientWaterResult struct {
	Percent    unit.Percent `json:"percent"`    // water in it, for [Ingredient]
	Water      unit.Mass    `json:"water"`      // water that it brings
	Dry        unit.Mass    `json:"dry"`        // the rest: fat, sugar, protein and so on
	Source     string       `json:"source"`     // on whose authority
	Conditions Conditions   `json:"conditions"` // from-memory
}

func explainIngredientWater(in IngredientWater, w *reckon.Working) (IngredientWaterResult, error) {
	c := reckon.Checks{Func: "ingredient-water"}
	content, source := lookUpWater(&c, in.Kind)
	reckon.CheckRange(&c, "mass", in.Mass, 0, largestMass)
	if err := c.Err(); err != nil {
		return IngredientWaterResult{}, err
	}
	water := float64(float64(in.Mass)*float64(content)) / 100
	if w != nil {
		w.Given("weight", "m", float64(in.Mass), "g", "")
		w.Given("water content", "x", float64(content), "%", source)
		w.Step("water", "W", "m*x/100", water, "g", "")
		w.Step("the rest", "R", "m - W", float64(in.Mass)-water, "g", "")
	}
	return IngredientWaterResult{Percent: content, Water: unit.Mass(water), Dry: unit.Mass(float64(in.Mass) - water), Source: source, Conditions: waterCondition(source)}, nil
}

// LiquidForWater returns how much of an ingredient brings as much water as is
// to be replaced.
//
//	mass = 100 * water / content
//
// It is the inverse of [IngredientWater], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - the kind is not on record,
//   - water is outside 0 to 1000 t.
//
// It returns a *[reckon.NoSolutionError] if the ingredient has no water.
//
// Source: T. Longvah and others, Indian Food Composition Tables (2017), or from memory, as the result says.
type LiquidForWater struct {
	Kind  MoistIngredient `json:"kind"`  // as for [IngredientWater]
	Water unit.Mass       `json:"water"` // water to be replaced; 0 to 1000 t
}

func (LiquidForWater) ID() string { return "liquid-for-water" }

// SHELL
func (q LiquidForWater) Check(c *reckon.Checks) {
	_, err := explainLiquidForWater(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q LiquidForWater) Solve() (LiquidForWaterResult, error) { return explainLiquidForWater(q, nil) }

func (q LiquidForWater) Show(w *reckon.Working, _ LiquidForWaterResult) {
	_, _ = explainLiquidForWater(q, w)
}

// LiquidForWaterResult is the ingredient that brings this water.
type LiquidForWaterResult struct {
	Mass       unit.Mass  `json:"mass"`       // how much of it
	Dry        unit.Mass  `json:"dry"`        // fat, sugar, protein and so on that come with it
	Source     string     `json:"source"`     // on whose authority
	Conditions Conditions `json:"conditions"` // from-memory
}

func explainLiquidForWater(in LiquidForWater, w *reckon.Working) (LiquidForWaterResult, error) {
	c := reckon.Checks{Func: "liquid-for-water"}
	content, source := lookUpWater(&c, in.Kind)
	reckon.CheckRange(&c, "water", in.Water, 0, largestMass)
	if err := c.Err(); err != nil {
		return LiquidForWaterResult{}, err
	}
	if content == 0 {
		return LiquidForWaterResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "amount of " + string(in.Kind), Wanted: reckon.Text(in.Water) + " of water",
			Advice: "it brings no water; keep the water in the formula",
		}
	}
	mass := 100 * float64(in.Water) / float64(content)
	if w != nil {
		w.Given("water to be replaced", "W", float64(in.Water), "g", "")
		w.Given("water content", "x", float64(content), "%", source)
		w.Step("weight", "m", "100*W/x", mass, "g", "")
		w.Step("what comes with the water", "R", "m - W", mass-float64(in.Water), "g", "")
	}
	return LiquidForWaterResult{Mass: unit.Mass(mass), Dry: unit.Mass(mass - float64(in.Water)), Source: source, Conditions: waterCondition(source)}, nil
}
