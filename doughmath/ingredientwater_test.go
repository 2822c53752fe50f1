package doughmath_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleIngredientWater() {
	out, err := doughmath.IngredientWater{Kind: doughmath.CowMilk, Mass: unit.Kilograms(5)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Water, "of water and", out.Dry, "of solids")
	// Output: 4.332 kg of water and 668 g of solids
}

func ExampleLiquidForWater() {
	out, err := doughmath.LiquidForWater{Kind: doughmath.CowMilk, Water: unit.Kilograms(5)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("take", out.Mass, "of milk in place of 5 kg of water")
	// Output: take 5.771 kg of milk in place of 5 kg of water
}

var kinds = []doughmath.MoistIngredient{
	doughmath.CowMilk, doughmath.BuffaloMilk, doughmath.SkimMilk, doughmath.Buttermilk, doughmath.Yoghurt,
	doughmath.WhippingCream, doughmath.CondensedMilk, doughmath.WholeEgg, doughmath.EggWhite, doughmath.EggYolk, doughmath.Butter, doughmath.Margarine,
	doughmath.Oil, doughmath.Honey, doughmath.MoistYeast,
}

func TestIngredientWaterThereAndBack(t *testing.T) {
	seen := map[unit.Percent]bool{}
	for _, kind := range kinds {
		out, err := doughmath.IngredientWater{Kind: kind, Mass: 1000}.Solve()
		require.NoError(t, err, kind)
		assert.InDelta(t, 1000, float64(out.Water+out.Dry), 1e-9)
		assert.NotEmpty(t, out.Source)
		// A figure that was not seen says so, and only such a figure.
		assert.Equal(t, out.Source == "recalled from food tables, not seen", out.Conditions.Has(reckon.FromMemory), kind)
		seen[out.WaterContent] = true
		back, err := doughmath.LiquidForWater{Kind: kind, Water: out.Water}.Solve()
		if kind == doughmath.Oil {
			var none *reckon.NoSolutionError
			require.ErrorAs(t, err, &none)
			continue
		}
		require.NoError(t, err, kind)
		assert.InEpsilon(t, 1000, float64(back.Mass), 1e-12)
		assert.InDelta(t, float64(out.Dry), float64(back.Dry), 1e-9)
		assert.Equal(t, out.Conditions, back.Conditions)
	}
	assert.Greater(t, len(seen), 10)
}

// A whole egg is its white and its yolk, about two to one: its water lies between theirs.
func TestEggWaterIsConsistent(t *testing.T) {
	water := func(k doughmath.MoistIngredient) float64 {
		out, err := doughmath.IngredientWater{Kind: k, Mass: 1}.Solve()
		require.NoError(t, err)
		return float64(out.WaterContent)
	}
	white := (water(doughmath.WholeEgg) - water(doughmath.EggYolk)) / (water(doughmath.EggWhite) - water(doughmath.EggYolk))
	assert.InDelta(t, 2.0/3, white, 0.05)
}

func TestIngredientWaterRefuses(t *testing.T) {
	_, err := doughmath.IngredientWater{Kind: "milk", Mass: -1}.Solve()
	assert.Equal(t, []string{"kind", "mass"}, fields(err))
	assert.ErrorContains(t, err, `"cow-milk"`)
	for _, kind := range kinds {
		assert.ErrorContains(t, err, string(kind), "the error lists every kind")
	}
	_, err = doughmath.LiquidForWater{Water: -1}.Solve()
	assert.Equal(t, []string{"kind", "water"}, fields(err))
}

func TestIngredientWaterDoesNotAllocate(t *testing.T) {
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := (doughmath.IngredientWater{Kind: doughmath.MoistYeast, Mass: 1000}).Solve(); err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.LiquidForWater{Kind: doughmath.MoistYeast, Water: 1000}).Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkIngredientWater(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (doughmath.IngredientWater{Kind: doughmath.WholeEgg, Mass: 1000}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
