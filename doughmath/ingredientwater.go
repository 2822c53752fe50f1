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

// IngredientWater asks how much water is in milk, egg, butter and other
// ingredients, and on whose authority:
//
//	W = m * x / 100, R = m - W
//
// with x the water content on record. Contents differ with breed, season and maker by a percent or two; a
// supplier's sheet is better than this table. The condition from-memory marks figures that were not seen in a source.
//
// Source: T. Longvah and others, Indian Food Composition Tables (2017), or from memory, as the result says; cases in
// testdata/cases/doughmath/ingredient-water.json.
//
// The inverse is [LiquidForWater].
type IngredientWater struct {
	Kind MoistIngredient `json:"kind"`                             // "cow-milk", "buffalo-milk", "skim-milk", "buttermilk", "yoghurt", "whipping-cream", "condensed-milk", "whole-egg", "egg-white", "egg-yolk", "butter", "margarine", "oil", "honey" or "compressed-yeast"
	Mass unit.Mass       `json:"mass" sym:"m" range:"0 g..1000 t"` // its weight
}

// IngredientWaterResult is the water in it.
type IngredientWaterResult struct {
	WaterContent unit.Percent `json:"water_content" sym:"x"` // water in it, for [Ingredient]
	Water        unit.Mass    `json:"water" sym:"W"`         // water that it brings
	Dry          unit.Mass    `json:"dry" sym:"R"`           // the rest: fat, sugar, protein and so on
	Source       string       `json:"source"`                // on whose authority
	Conditions   Conditions   `json:"conditions"`            // from-memory
}

func (IngredientWater) ID() string { return "ingredient-water" }

func (q IngredientWater) Check(c *reckon.Checks) { q.check(c) }

// check returns the water content and its source.
func (q IngredientWater) check(c *reckon.Checks) (content unit.Percent, source string) {
	content, source = lookUpWater(c, q.Kind)
	reckon.CheckRange(c, "mass", q.Mass, 0, largestMass)
	return content, source
}

func (q IngredientWater) Solve() (out IngredientWaterResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	content, source := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	water := float64(float64(q.Mass)*float64(content)) / 100
	return IngredientWaterResult{
		WaterContent: content, Water: unit.Mass(water), Dry: unit.Mass(float64(q.Mass) - water),
		Source: source, Conditions: waterCondition(source),
	}, nil
}

func (q IngredientWater) Show(w *reckon.Working, out IngredientWaterResult) {
	w.Inputs(q)
	w.Given("water content", "x", float64(out.WaterContent), "%", out.Source)
	w.Lines(out, "water: W = m*x/100", "the rest: R = m - W")
}

// LiquidForWater asks how much of an ingredient to use in place of water:
//
//	m = 100 * W / x, R = m - W
//
// with x the water content on record. It is the inverse of [IngredientWater], with the same validity and source.
//
// Source: T. Longvah and others, Indian Food Composition Tables (2017), or from memory, as the result says.
//
// The inverse is [IngredientWater].
type LiquidForWater struct {
	Kind  MoistIngredient `json:"kind"`                              // as for [IngredientWater]
	Water unit.Mass       `json:"water" sym:"W" range:"0 g..1000 t"` // water to be replaced
}

// LiquidForWaterResult is the ingredient that brings this water.
type LiquidForWaterResult struct {
	Mass       unit.Mass       `json:"mass" sym:"m"` // how much of it
	Dry        unit.Mass       `json:"dry" sym:"R"`  // fat, sugar, protein and so on that come with it
	Source     string          `json:"source"`       // on whose authority
	Conditions Conditions      `json:"conditions"`   // from-memory
	Cautions   reckon.Cautions `json:"cautions"`     // allergens, spoilage
}

func (LiquidForWater) ID() string { return "liquid-for-water" }

func (q LiquidForWater) Check(c *reckon.Checks) { q.check(c) }

// check returns the water content and its source.
func (q LiquidForWater) check(c *reckon.Checks) (content unit.Percent, source string) {
	content, source = lookUpWater(c, q.Kind)
	reckon.CheckRange(c, "water", q.Water, 0, largestMass)
	return content, source
}

// Solve has no answer if the ingredient has no water.
func (q LiquidForWater) Solve() (out LiquidForWaterResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	content, source := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if content == 0 {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "amount of " + string(q.Kind), Wanted: reckon.Text(q.Water) + " of water",
			Advice: "it brings no water; keep the water in the formula",
		}
	}
	mass := 100 * float64(q.Water) / float64(content)
	return LiquidForWaterResult{Mass: unit.Mass(mass), Dry: unit.Mass(mass - float64(q.Water)), Source: source, Conditions: waterCondition(source), Cautions: reckon.Allergens | reckon.Spoilage}, nil
}

func (q LiquidForWater) Show(w *reckon.Working, out LiquidForWaterResult) {
	content, source := lookUpWater(new(reckon.Checks), q.Kind)
	w.Inputs(q)
	w.Given("water content", "x", float64(content), "%", source)
	w.Lines(out, "weight: m = 100*W/x", "what comes with the water: R = m - W")
}
