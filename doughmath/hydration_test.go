package doughmath_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleHydration() {
	formula := append(rolls(), doughmath.Ingredient{Name: "starter", Percent: 20, Role: doughmath.RoleStarter, Hydration: 100})
	out, err := doughmath.Hydration{Ingredients: formula, Liquids: doughmath.LiquidsWater}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("with the starter", out.Hydration, "and without", out.WithoutStarter)
	// Output: with the starter 61.82 % and without 58 %
}

func ExampleWaterForHydration() {
	out, err := doughmath.WaterForHydration{
		Liquids: doughmath.LiquidsWater, Hydration: 65,
		Ingredients: []doughmath.Ingredient{
			{Name: "flour", Percent: 100, Role: doughmath.RoleFlour},
			{Name: "starter", Percent: 20, Role: doughmath.RoleStarter, Hydration: 100},
		},
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("add", out.WaterPercent, "of water on the flour")
	// Output: add 61.5 % of water on the flour
}

func TestHydrationRefuses(t *testing.T) {
	_, err := doughmath.Hydration{Ingredients: rolls()[1:], Liquids: "some"}.Solve()
	assert.Equal(t, []string{"liquids"}, fields(err)[len(fields(err))-1:])
	assert.Contains(t, fields(err), "ingredients")
	_, err = doughmath.WaterForHydration{Ingredients: rolls(), Liquids: doughmath.LiquidsWater, Hydration: -1}.Solve()
	assert.Equal(t, []string{"hydration"}, fields(err))

	var none *reckon.NoSolutionError
	_, err = doughmath.WaterForHydration{Ingredients: rolls(), Liquids: doughmath.LiquidsWater, Hydration: 57.9}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "58 %", none.Low)
	out, err := doughmath.WaterForHydration{Ingredients: rolls(), Liquids: doughmath.LiquidsWater, Hydration: 58}.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.WaterPercent)
}

func TestHydrationConditions(t *testing.T) {
	for water, want := range map[unit.BakersPercent]doughmath.Conditions{
		0: doughmath.UnusualHydration, 44.9: doughmath.UnusualHydration, 45: 0, 80: 0, 80.1: doughmath.UnusualHydration,
	} {
		formula := rolls()
		formula[1].Percent = water
		out, err := doughmath.Hydration{Ingredients: formula, Liquids: doughmath.LiquidsWater}.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Conditions, "%v", water)
	}
}

// Butter holds water but is not a liquid: it counts only under water-content.
func TestHydrationReadings(t *testing.T) {
	formula := append(rolls(), doughmath.Ingredient{Name: "butter", Percent: 10, Role: doughmath.RoleOther, WaterContent: 16},
		doughmath.Ingredient{Name: "milk", Percent: 10, Role: doughmath.RoleLiquid, WaterContent: 88})
	whole, err := doughmath.Hydration{Ingredients: formula, Liquids: doughmath.LiquidsWhole}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 68, float64(whole.Hydration), 1e-12)
	content, err := doughmath.Hydration{Ingredients: formula, Liquids: doughmath.LiquidsWater}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 68.4, float64(content.Hydration), 1e-12)
}

func TestHydrationThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	for range 1000 {
		in := doughmath.Hydration{Ingredients: randomFormula(r).Ingredients, Liquids: doughmath.LiquidsWhole}
		if r.IntN(2) == 0 {
			in.Liquids = doughmath.LiquidsWater
		}
		before, err := in.Solve()
		require.NoError(t, err)
		wanted := before.Hydration + unit.BakersPercent(40*r.Float64())
		add, err := doughmath.WaterForHydration{Ingredients: in.Ingredients, Liquids: in.Liquids, Hydration: wanted}.Solve()
		require.NoError(t, err)
		in.Ingredients = append(in.Ingredients, doughmath.Ingredient{Name: "water to add", Percent: add.WaterPercent, Role: doughmath.RoleWater})
		after, w, err := reckon.Explain(in)
		require.NoError(t, err)
		isTrue(t, w)
		require.InDelta(t, float64(wanted), float64(after.Hydration), 1e-9)
	}
}

func TestHydrationDoesNotAllocate(t *testing.T) {
	in := doughmath.Hydration{Ingredients: rolls(), Liquids: doughmath.LiquidsWater}
	inverse := doughmath.WaterForHydration{Ingredients: rolls(), Liquids: doughmath.LiquidsWater, Hydration: 60}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := in.Solve(); err != nil {
			t.Fatal(err)
		}
		if _, err := inverse.Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkHydration(b *testing.B) {
	in := doughmath.Hydration{Ingredients: rolls(), Liquids: doughmath.LiquidsWater}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
