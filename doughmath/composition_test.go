package doughmath_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// madeOf is the property of something made of one composition.
func madeOf(t *testing.T, m doughmath.Composition, celsius float64) doughmath.DoughPropertyResult {
	out, err := doughmath.DoughProperty{
		Ingredients: []doughmath.DoughIngredient{{Kind: doughmath.OtherKind, Mass: 1000, Composition: m}}, Temperature: unit.Celsius(celsius),
	}.Solve()
	require.NoError(t, err)
	return out
}

// Each component alone has the specific heat and the density of its polynomial.
// Source: Y. Choi, M. R. Okos (1986), as printed in ASHRAE Handbook-Refrigeration, Thermal Properties of Foods, Tables 1 and 2:
// J/(kg K) there for kJ/(kg K) here.
func TestComponentsByChoiAndOkos(t *testing.T) {
	for name, c := range map[string]struct {
		made          doughmath.Composition
		heat, density [3]float64
	}{
		"water":        {doughmath.Composition{WaterContent: 100}, [3]float64{4.1762, -9.0864e-5, 5.4731e-6}, [3]float64{9.9718e2, 3.1439e-3, -3.7574e-3}},
		"protein":      {doughmath.Composition{Protein: 100}, [3]float64{2.0082, 1.2089e-3, -1.3129e-6}, [3]float64{1.3299e3, -5.1840e-1}},
		"fat":          {doughmath.Composition{Fat: 100}, [3]float64{1.9842, 1.4733e-3, -4.8008e-6}, [3]float64{9.2559e2, -4.1757e-1}},
		"carbohydrate": {doughmath.Composition{Carbohydrate: 100}, [3]float64{1.5488, 1.9625e-3, -5.9399e-6}, [3]float64{1.5991e3, -3.1046e-1}},
		"fibre":        {doughmath.Composition{Carbohydrate: 100, Fibre: 100}, [3]float64{1.8459, 1.8306e-3, -4.6509e-6}, [3]float64{1.3115e3, -3.6589e-1}},
		"ash":          {doughmath.Composition{Ash: 100}, [3]float64{1.0926, 1.8896e-3, -3.6817e-6}, [3]float64{2.4238e3, -2.8063e-1}},
	} {
		for _, at := range []float64{0, 40, 100} {
			out := madeOf(t, c.made, at)
			of := func(p [3]float64) float64 { return p[0] + p[1]*at + p[2]*at*at }
			assert.InEpsilon(t, of(c.heat), float64(out.SpecificHeat), 1e-12, "specific heat of %s at %v °C: Choi and Okos (1986)", name, at)
			assert.InEpsilon(t, of(c.density)/1000, float64(out.GasFree), 1e-12, "density of %s at %v °C: Choi and Okos (1986)", name, at)
		}
	}
}

// What a kind is made of: USDA FoodData Central, SR Legacy, FDC 168896 (bread flour), 168894 (all-purpose, unenriched) and
// 168893 (whole-grain); compressed yeast from memory. Salt is ash, sugar carbohydrate, by the custom of the model.
func TestKindsAreMadeOf(t *testing.T) {
	for kind, c := range map[doughmath.IngredientKind]struct {
		made     doughmath.Composition
		recalled bool
	}{
		doughmath.BreadFlour:      {doughmath.Composition{WaterContent: 13.36, Protein: 11.98, Fat: 1.66, Carbohydrate: 72.53, Fibre: 2.4, Ash: 0.47}, false},
		doughmath.AllPurposeFlour: {doughmath.Composition{WaterContent: 11.92, Protein: 10.33, Fat: 0.98, Carbohydrate: 76.31, Fibre: 2.7, Ash: 0.47}, false},
		doughmath.WholeGrainFlour: {doughmath.Composition{WaterContent: 10.74, Protein: 13.21, Fat: 2.5, Carbohydrate: 71.97, Fibre: 10.7, Ash: 1.58}, true},
		doughmath.WaterKind:       {doughmath.Composition{WaterContent: 100}, false},
		doughmath.SaltKind:        {doughmath.Composition{Ash: 100}, false},
		doughmath.SugarKind:       {doughmath.Composition{Carbohydrate: 100}, false},
		doughmath.FatKind:         {doughmath.Composition{Fat: 100}, false},
		doughmath.CompressedYeast: {doughmath.Composition{WaterContent: 69, Protein: 8.4, Fat: 1.9, Carbohydrate: 18.1, Fibre: 8.1, Ash: 1.8}, true},
	} {
		for _, at := range []float64{0, 100} {
			got, err := doughmath.DoughProperty{Ingredients: []doughmath.DoughIngredient{{Kind: kind, Mass: 1000}}, Temperature: unit.Celsius(at)}.Solve()
			require.NoError(t, err)
			want := madeOf(t, c.made, at)
			assert.InEpsilon(t, float64(want.SpecificHeat), float64(got.SpecificHeat), 1e-12, "%s: what it is made of, by USDA FoodData Central", kind)
			assert.InEpsilon(t, float64(want.GasFree), float64(got.GasFree), 1e-12, "%s: what it is made of, by USDA FoodData Central", kind)
			assert.InDelta(t, float64(want.WaterContent), float64(got.WaterContent), 1e-12, "%s: what it is made of, by USDA FoodData Central", kind)
			assert.Equal(t, c.recalled, got.Conditions.Has(reckon.FromMemory), kind)
		}
	}
}

// The parts of a composition add to 99 to 101 %, as those of a food table do.
func TestCompositionAddsUp(t *testing.T) {
	for total, want := range map[unit.Percent][]string{98.9: {"ingredients[0].composition"}, 99: nil, 101: nil, 101.1: {"ingredients[0].composition"}} {
		_, err := doughmath.DoughProperty{
			Ingredients: []doughmath.DoughIngredient{{Kind: doughmath.OtherKind, Mass: 1000, Composition: doughmath.Composition{WaterContent: total - 50, Protein: 10, Fat: 10, Carbohydrate: 20, Ash: 10}}},
			Temperature: unit.Celsius(20),
		}.Solve()
		assert.Equal(t, want, fields(err), total)
	}
}

// The water of what brings some with it, in percent: T. Longvah and others, Indian Food Composition Tables (2017), or from
// memory of common food tables, which the answer then says.
func TestWaterContents(t *testing.T) {
	for kind, c := range map[doughmath.MoistIngredient]struct {
		water    unit.Percent
		recalled bool
	}{
		doughmath.CowMilk: {86.64, false}, doughmath.BuffaloMilk: {80.68, false}, doughmath.WholeEgg: {76.51, false}, doughmath.EggWhite: {86.68, false},
		doughmath.EggYolk: {53.57, false}, doughmath.Oil: {0, false},
		doughmath.SkimMilk: {91, true}, doughmath.Buttermilk: {90, true}, doughmath.Yoghurt: {88, true}, doughmath.WhippingCream: {58, true},
		doughmath.CondensedMilk: {27, true}, doughmath.Butter: {16, true}, doughmath.Margarine: {16, true}, doughmath.Honey: {17, true}, doughmath.MoistYeast: {69, true},
	} {
		out, err := doughmath.IngredientWater{Kind: kind, Mass: 100}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.water, out.WaterContent, "%s: %s", kind, out.Source)
		assert.InDelta(t, float64(c.water), float64(out.Water), 1e-12, "%s: %s", kind, out.Source)
		assert.Equal(t, c.recalled, out.Conditions.Has(reckon.FromMemory), kind)
	}
}

// A composition that is given is held to its ranges also where the specific heat does without it.
func TestCompositionIsNeverPassedOver(t *testing.T) {
	for _, heat := range []unit.SpecificHeat{0, 2} {
		batch := leanBatch(unit.Celsius(20))
		batch.Heats = doughmath.TradeHeats
		batch.Ingredients[0].SpecificHeat = heat
		batch.Ingredients[0].Composition.Fat = -1
		_, err := doughmath.MixingHeat{MixingBatch: batch}.Solve()
		bad := reckon.InputErrors(err)
		require.Len(t, bad, 1, "%v", err)
		assert.Equal(t, "ingredients[0].composition.fat", bad[0].Field)
	}
}
