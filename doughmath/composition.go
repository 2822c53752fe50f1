package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Composition is what a food is made of, as food tables print it.
type Composition struct {
	WaterContent unit.Percent `json:"water_content" range:"0 %..100 %"` // moisture
	Protein      unit.Percent `json:"protein" range:"0 %..100 %"`       // protein
	Fat          unit.Percent `json:"fat" range:"0 %..100 %"`           // fat
	Carbohydrate unit.Percent `json:"carbohydrate" range:"0 %..100 %"`  // all of it, the fibre included
	Fibre        unit.Percent `json:"fibre" range:"-"`                  // part of the carbohydrate; 0 to the carbohydrate
	Ash          unit.Percent `json:"ash" range:"0 %..100 %"`           // minerals, salt
}

// total is what the parts add to; the fibre is within the carbohydrate.
func (m Composition) total() float64 {
	return float64(m.WaterContent + m.Protein + m.Fat + m.Carbohydrate + m.Ash)
}

// Check requires parts that can be a whole. Tables are rounded and leave traces
// out, so 99 to 101 % is taken for the whole.
func (m Composition) Check(c *reckon.Checks) {
	mark := c.Mark()
	reckon.CheckRange(c, "water_content", m.WaterContent, 0, 100)
	reckon.CheckRange(c, "protein", m.Protein, 0, 100)
	reckon.CheckRange(c, "fat", m.Fat, 0, 100)
	reckon.CheckRange(c, "carbohydrate", m.Carbohydrate, 0, 100)
	reckon.CheckRange(c, "ash", m.Ash, 0, 100)
	reckon.CheckRange(c, "fibre", m.Fibre, 0, max(m.Carbohydrate, 0))
	if total := m.total(); c.Mark() == mark && !(total >= 99 && total <= 101) {
		c.Fail("", "parts that add to "+unit.Percent(total).String(), "water, protein, fat, carbohydrate and ash that add to 99 to 101 %")
	}
}

// IngredientKind names an ingredient whose composition is known here.
type IngredientKind string

// The kinds. Flours take up heat of hydration; water is what a factor rule counts as water.
const (
	BreadFlour      IngredientKind = "bread-flour"       // white flour for bread
	AllPurposeFlour IngredientKind = "all-purpose-flour" // white flour, softer
	WholeGrainFlour IngredientKind = "whole-grain-flour" // whole-grain wheat flour
	WaterKind       IngredientKind = "water"             // formula water
	SaltKind        IngredientKind = "salt"              // booked as ash
	SugarKind       IngredientKind = "sugar"             // booked as carbohydrate
	FatKind         IngredientKind = "fat"               // shortening, oil
	CompressedYeast IngredientKind = "compressed-yeast"  // fresh yeast
	OtherKind       IngredientKind = "other"             // anything else, a preferment too: its own values must be given
)

// checkIngredient requires a mass and a kind that is named.
func checkIngredient(c *reckon.Checks, kind IngredientKind, mass unit.Mass) {
	reckon.CheckRange(c, "mass", mass, leastMass, mostMass)
	if _, _, known := kind.composition(); !known && kind != OtherKind {
		reckon.CheckWord(c, "kind", kind, BreadFlour, AllPurposeFlour, WholeGrainFlour, WaterKind, SaltKind, SugarKind, FatKind, CompressedYeast, OtherKind)
	}
}

func (k IngredientKind) flour() bool {
	return k == BreadFlour || k == AllPurposeFlour || k == WholeGrainFlour
}

// composition returns what an ingredient of the kind is made of, and whether
// some of it was recalled, not seen. It returns false for "other".
//
// Source: USDA FoodData Central, SR Legacy (FDC 168896, 168894, 168893; compressed
// yeast recalled). Salt booked as ash and sugar as carbohydrate, as is usual for the model.
func (k IngredientKind) composition() (m Composition, memory, ok bool) {
	switch k {
	case BreadFlour:
		return Composition{WaterContent: 13.36, Protein: 11.98, Fat: 1.66, Carbohydrate: 72.53, Fibre: 2.4, Ash: 0.47}, false, true
	case AllPurposeFlour:
		return Composition{WaterContent: 11.92, Protein: 10.33, Fat: 0.98, Carbohydrate: 76.31, Fibre: 2.7, Ash: 0.47}, false, true
	case WholeGrainFlour:
		return Composition{WaterContent: 10.74, Protein: 13.21, Fat: 2.5, Carbohydrate: 71.97, Fibre: 10.7, Ash: 1.58}, true, true
	case WaterKind:
		return Composition{WaterContent: 100}, false, true
	case SaltKind:
		return Composition{Ash: 100}, false, true
	case SugarKind:
		return Composition{Carbohydrate: 100}, false, true
	case FatKind:
		return Composition{Fat: 100}, false, true
	case CompressedYeast:
		return Composition{WaterContent: 69, Protein: 8.4, Fat: 1.9, Carbohydrate: 18.1, Fibre: 8.1, Ash: 1.8}, true, true
	}
	return Composition{}, false, false
}

// quadratic is a + b*t + c*t², t in °C.
type quadratic struct{ a, b, c float64 }

func (q quadratic) at(t float64) float64 { return q.a + float64(q.b*t) + float64(q.c*t*t) }

// component is one of the six things that the model takes a food to be made of.
type component struct {
	id, symbol string
	heat       quadratic // specific heat, kJ/(kg K)
	density    quadratic // kg/m³
}

// The components in the order of [Composition.fractions].
//
// Source: Y. Choi, M. R. Okos (1986), as printed in ASHRAE Handbook-Refrigeration,
// Thermal Properties of Foods, Tables 1 and 2. Transcriptions carry misprints: 4.1289 for water,
// 1.4373e-3 for fat, 1.8549 for fibre and -1.9625e-6 for carbohydrate are wrong.
var components = [...]component{
	{"water", "water", quadratic{4.1762, -9.0864e-5, 5.4731e-6}, quadratic{997.18, 3.1439e-3, -3.7574e-3}},
	{"protein", "protein", quadratic{2.0082, 1.2089e-3, -1.3129e-6}, quadratic{1329.9, -0.5184, 0}},
	{"fat", "fat", quadratic{1.9842, 1.4733e-3, -4.8008e-6}, quadratic{925.59, -0.41757, 0}},
	{"carbohydrate without fibre", "carb", quadratic{1.5488, 1.9625e-3, -5.9399e-6}, quadratic{1599.1, -0.31046, 0}},
	{"fibre", "fibre", quadratic{1.8459, 1.8306e-3, -4.6509e-6}, quadratic{1311.5, -0.36589, 0}},
	{"ash", "ash", quadratic{1.0926, 1.8896e-3, -3.6817e-6}, quadratic{2423.8, -0.28063, 0}},
}

// fractions returns the shares of the components, adding to 1.
func (m Composition) fractions() [len(components)]float64 {
	total := m.total()
	return [...]float64{
		float64(m.WaterContent) / total, float64(m.Protein) / total, float64(m.Fat) / total,
		float64(m.Carbohydrate-m.Fibre) / total, float64(m.Fibre) / total, float64(m.Ash) / total,
	}
}

// specificHeatOf returns the specific heat at t °C in kJ/(kg K): each part's share of it.
func specificHeatOf(fractions [len(components)]float64, t float64) float64 {
	sum := 0.0
	for i, x := range fractions {
		sum += float64(x * components[i].heat.at(t))
	}
	return sum
}

// madeOf returns the composition to reckon with, given or from the table, and
// whether the table's was recalled.
func (k IngredientKind) madeOf(given Composition) (m Composition, memory bool) {
	if given != (Composition{}) {
		return given, false
	}
	m, memory, _ = k.composition()
	return m, memory
}

// checkMadeOf requires a composition that is sound, or one from the table.
func (k IngredientKind) checkMadeOf(c *reckon.Checks, given Composition) {
	if given.check(c); given != (Composition{}) {
		return
	}
	if _, _, known := k.composition(); !known {
		c.Fail("composition", "not given", "the composition, which is not known for this kind")
	}
}

// check requires a composition that is given to be sound.
func (m Composition) check(c *reckon.Checks) {
	if m != (Composition{}) {
		mark := c.Mark()
		m.Check(c)
		c.Under(mark, "composition")
	}
}
