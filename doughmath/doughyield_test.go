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

func ExampleDoughYield() {
	out, err := doughmath.DoughYield{Ingredients: rolls(), Liquids: doughmath.LiquidsWhole}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("net %g, gross %g for 100 parts of flour\n", float64(out.Net), float64(out.Gross))
	// Output: net 158, gross 165.5 for 100 parts of flour
}

func ExampleBreadYield() {
	out, err := doughmath.BreadYield{Bread: unit.Kilograms(670), Flour: unit.Kilograms(500)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Yield, "of the flour, a gain of", out.Gain)
	// Output: 134 % of the flour, a gain of 34 %
}

func ExampleFlourForBread() {
	out, err := doughmath.FlourForBread{Bread: unit.Kilograms(670), Yield: 134}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("take", out.Flour, "of flour")
	// Output: take 500 kg of flour
}

func TestDoughYieldRefuses(t *testing.T) {
	_, err := doughmath.DoughYield{}.Solve()
	assert.Equal(t, []string{"ingredients", "liquids"}, fields(err))
	_, err = doughmath.BreadYield{Rework: -1}.Solve()
	assert.Equal(t, []string{"bread", "flour", "rework"}, fields(err))
	_, err = doughmath.BreadYield{Bread: -1, Flour: 500}.Solve()
	assert.Equal(t, []string{"bread"}, fields(err), "no rework is never wrong, whatever the bread")
	_, err = doughmath.BreadYield{Bread: 10001, Rework: 10001, Flour: 10}.Solve()
	assert.Equal(t, []string{"flour", "rework"}, fields(err))
	_, err = doughmath.FlourForBread{Bread: 100, Rework: 100, Yield: 0.9}.Solve()
	assert.Equal(t, []string{"rework", "yield"}, fields(err))
}

// The net yield is 100 more than the hydration, and the water found for a
// wanted yield gives that yield.
func TestDoughYieldAgreesWithHydration(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for range 1000 {
		list := randomFormula(r).Ingredients
		yield, err := doughmath.DoughYield{Ingredients: list, Liquids: doughmath.LiquidsWhole}.Solve()
		require.NoError(t, err)
		wet, err := doughmath.Hydration{Ingredients: list, Liquids: doughmath.LiquidsWhole}.Solve()
		require.NoError(t, err)
		require.InDelta(t, 100+float64(wet.Hydration), float64(yield.Net), 1e-9)
		require.Equal(t, wet.Conditions, yield.Conditions&doughmath.UnusualHydration)
		require.GreaterOrEqual(t, float64(yield.Gross), float64(yield.Net)-1e-9)

		add, err := doughmath.WaterForHydration{Ingredients: list, Liquids: doughmath.LiquidsWhole, Hydration: yield.Net - 100 + 10}.Solve()
		require.NoError(t, err)
		list = append(list, doughmath.Ingredient{Name: "water to add", Percent: add.WaterPercent, Role: doughmath.RoleWater})
		more, err := doughmath.DoughYield{Ingredients: list, Liquids: doughmath.LiquidsWhole}.Solve()
		require.NoError(t, err)
		require.InDelta(t, float64(yield.Net)+10, float64(more.Net), 1e-9)

		bread := doughmath.BreadYield{Bread: unit.Mass(100 + 1e6*r.Float64()), Flour: unit.Mass(100 + 7e5*r.Float64())}
		bread.Flour = max(bread.Flour, bread.Bread/9)
		bread.Rework = bread.Bread * unit.Mass(r.Float64()/2)
		if bread.Flour > 40*bread.Bread {
			continue // a yield under 1 % is not one that the way back takes
		}
		made, err := bread.Solve()
		require.NoError(t, err)
		if made.Yield < 1 {
			continue
		}
		back, err := doughmath.FlourForBread{Bread: bread.Bread, Rework: bread.Rework, Yield: made.Yield}.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(bread.Flour), float64(back.Flour), 1e-12)
	}
}

func TestDoughYieldDoesNotAllocate(t *testing.T) {
	in := doughmath.DoughYield{Ingredients: rolls(), Liquids: doughmath.LiquidsWhole}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := in.Solve(); err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.BreadYield{Bread: 670, Flour: 500}).Solve(); err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.FlourForBread{Bread: 670, Yield: 134}).Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkDoughYield(b *testing.B) {
	in := doughmath.DoughYield{Ingredients: rolls(), Liquids: doughmath.LiquidsWhole}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzYield(f *testing.F) {
	f.Add(100.0, 10.0, 75.0, 134.0)
	f.Add(1e9, 1e-3, 1e-3, 1.0)
	f.Fuzz(func(t *testing.T, bread, rework, flour, yield float64) {
		made, _ := doughmath.BreadYield{Bread: unit.Mass(bread), Rework: unit.Mass(rework), Flour: unit.Mass(flour)}.Solve()
		marshals(t, made)
		back, _ := doughmath.FlourForBread{Bread: unit.Mass(bread), Rework: unit.Mass(rework), Yield: unit.BakersPercent(yield)}.Solve()
		marshals(t, back)
		list := rolls()
		list[1].Percent = unit.BakersPercent(yield)
		net, _ := doughmath.DoughYield{Ingredients: list, Liquids: doughmath.LiquidsWater}.Solve()
		marshals(t, net)
	})
}

func ExampleBreadForFlour() {
	out, err := doughmath.BreadForFlour{Flour: unit.Kilograms(500), Yield: 134}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Bread, "of bread, a gain of", out.Gain)
	// Output: 670 kg of bread, a gain of 34 %
}

func TestBreadForFlourThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	for range 1000 {
		in := doughmath.BreadForFlour{Flour: unit.Mass(1 + 1e6*r.Float64()), Yield: unit.BakersPercent(50 + 200*r.Float64()), Rework: unit.Mass(1e4 * r.Float64())}
		out, w, err := reckon.Explain(in)
		require.NoError(t, err)
		isTrue(t, w)
		back, err := doughmath.BreadYield{Bread: out.Bread, Flour: in.Flour, Rework: in.Rework}.Solve()
		if err != nil {
			continue // more rework than a yield counts on
		}
		require.InEpsilon(t, float64(in.Yield), float64(back.Yield), 1e-9)
		require.InDelta(t, float64(out.Gain), float64(back.Gain), 1e-6)
		flour, err := doughmath.FlourForBread{Bread: out.Bread, Rework: in.Rework, Yield: in.Yield}.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(in.Flour), float64(flour.Flour), 1e-9)
	}
	_, err := doughmath.BreadForFlour{Yield: 0.5, Rework: -1}.Solve()
	assert.Equal(t, []string{"flour", "yield", "rework"}, fields(err))
	in := doughmath.BreadForFlour{Flour: 500, Yield: 134}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := in.Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}
