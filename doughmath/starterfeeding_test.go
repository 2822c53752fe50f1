package doughmath_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
)

func ExampleStarterFeeding() {
	out, err := doughmath.StarterFeeding{WantedWeight: unit.Kilograms(10), Keep: unit.Grams(500), SeedParts: 1, FlourParts: 5, WaterParts: 4, SeedHydration: 80}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("take", out.Seed, "of old starter,", out.Flour, "of flour and", out.Water, "of water")
	// Output: take 1.05 kg of old starter, 5.25 kg of flour and 4.2 kg of water
}

func ExampleRatioForFeeding() {
	out, err := doughmath.RatioForFeeding{Seed: unit.Grams(200), Flour: unit.Kilograms(1), Water: unit.Grams(600), SeedHydration: 60}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1 : %g : %g at %v\n", out.FlourParts, out.WaterParts, out.Hydration)
	// Output: 1 : 5 : 3 at 60 %
}

func TestStarterFeedingNamesEveryBadField(t *testing.T) {
	_, err := doughmath.StarterFeeding{Keep: -1, WaterParts: -1, SeedHydration: -1}.Solve()
	assert.Equal(t, []string{"wanted_weight", "keep", "seed_parts", "flour_parts", "water_parts", "seed_hydration"}, fields(err))
	_, err = doughmath.RatioForFeeding{Water: -1, SeedHydration: unit.BakersPercent(math.NaN())}.Solve()
	assert.Equal(t, []string{"seed", "flour", "water", "seed_hydration"}, fields(err))
}

// A fed starter of more than 1000 % is a slip of a digit: the refusal names the
// water that makes just 1000 %, and that much is taken.
func TestStarterFeedingBoundsTheHydration(t *testing.T) {
	slip := doughmath.StarterFeeding{WantedWeight: 1000, SeedParts: 1e-6, FlourParts: 1e-6, WaterParts: 1000, SeedHydration: 100}
	out, err := slip.Solve()
	assert.Empty(t, out)
	assert.Equal(t, []string{"water_parts"}, fields(err))
	// 10 times 1.5 millionths of flour, less the half millionth of water in the seed.
	assert.ErrorContains(t, err, "water_parts is 1000: want 0 to 1.45e-05 parts, with which the fed starter has a hydration of 1000 % on all its flour")
	_, err = doughmath.RatioForFeeding{Seed: 2, Flour: 2, Water: 1e9, SeedHydration: 100}.Solve()
	assert.Equal(t, []string{"water"}, fields(err))
	assert.ErrorContains(t, err, "want 0 g to 29 g, with which")

	for _, seed := range []unit.BakersPercent{0, 80, 1000} {
		// Water at the bound, worked out from flour 3 and seed 2 by hand.
		inSeed := 200 / (100 + float64(seed))
		in := doughmath.StarterFeeding{WantedWeight: 1000, SeedParts: 2, FlourParts: 3, WaterParts: 10*(3+inSeed) - (2 - inSeed), SeedHydration: seed}
		out, err := in.Solve()
		require.NoError(t, err, seed)
		assert.InDelta(t, 1000, float64(out.Hydration), 1e-9)
		back, err := doughmath.RatioForFeeding{Seed: out.Seed, Flour: out.Flour, Water: out.Water, SeedHydration: seed}.Solve()
		require.NoError(t, err, "back again")
		assert.InDelta(t, 1000, float64(back.Hydration), 1e-9)
		in.WaterParts += 1e-6
		_, err = in.Solve()
		assert.Equal(t, []string{"water_parts"}, fields(err), seed)
	}
}

func TestStarterFeedingThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 1000 {
		in := doughmath.StarterFeeding{
			WantedWeight: unit.Mass(1 + 1e5*r.Float64()), Keep: unit.Mass(1e4 * r.Float64()), SeedParts: 0.01 + r.Float64(),
			FlourParts: 0.01 + 10*r.Float64(), SeedHydration: unit.BakersPercent(150 * r.Float64()),
		}
		in.WaterParts = 10 * in.FlourParts * r.Float64()
		out, err := in.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(in.WantedWeight+in.Keep), float64(out.Seed+out.Flour+out.Water), 1e-12)
		back, err := doughmath.RatioForFeeding{Seed: out.Seed, Flour: out.Flour, Water: out.Water, SeedHydration: in.SeedHydration}.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, in.FlourParts/in.SeedParts, back.FlourParts, 1e-12)
		require.InDelta(t, in.WaterParts/in.SeedParts, back.WaterParts, 1e-9*(1+in.WaterParts/in.SeedParts))
		require.InDelta(t, float64(out.Hydration), float64(back.Hydration), 1e-9)
		require.InDelta(t, float64(out.SeedFlour), float64(back.SeedFlour), 1e-9)
		require.InEpsilon(t, float64(out.Total), float64(back.Total), 1e-12)
		// The hydration that the fed starter has as a whole is what Hydration makes of it.
		wet, err := doughmath.Hydration{Liquids: doughmath.LiquidsWhole, Ingredients: []doughmath.Ingredient{
			{Name: "flour", Percent: 100, Role: doughmath.RoleFlour},
			{Name: "water", Percent: unit.BakersPercent(min(1000, 100*in.WaterParts/in.FlourParts)), Role: doughmath.RoleWater},
			{Name: "seed", Percent: unit.BakersPercent(min(1000, 100*in.SeedParts/in.FlourParts)), Role: doughmath.RoleStarter, Hydration: max(1e-9, in.SeedHydration)},
		}}.Solve()
		require.NoError(t, err)
		if in.WaterParts/in.FlourParts < 10 && in.SeedParts/in.FlourParts < 10 {
			require.InDelta(t, float64(out.Hydration), float64(wet.Hydration), 1e-6)
		}
	}
}

func TestStarterFeedingDoesNotAllocate(t *testing.T) {
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		out, err := doughmath.StarterFeeding{WantedWeight: 1000, SeedParts: 1, FlourParts: 5, WaterParts: 4, SeedHydration: 80}.Solve()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.RatioForFeeding{Seed: out.Seed, Flour: out.Flour, Water: out.Water, SeedHydration: 80}).Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkStarterFeeding(b *testing.B) {
	in := doughmath.StarterFeeding{WantedWeight: 1000, SeedParts: 1, FlourParts: 5, WaterParts: 4, SeedHydration: 80}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzStarterFeeding(f *testing.F) {
	f.Add(1000.0, 100.0, 1.0, 5.0, 4.0, 80.0)
	f.Add(1e9, 1e9, 1e-6, 1e-6, 1000.0, 1000.0)
	f.Fuzz(func(t *testing.T, wanted, keep, seed, flour, water, hydration float64) {
		out, _ := doughmath.StarterFeeding{WantedWeight: unit.Mass(wanted), Keep: unit.Mass(keep), SeedParts: seed, FlourParts: flour, WaterParts: water, SeedHydration: unit.BakersPercent(hydration)}.Solve()
		marshals(t, out)
		back, _ := doughmath.RatioForFeeding{Seed: unit.Mass(seed), Flour: unit.Mass(flour), Water: unit.Mass(water), SeedHydration: unit.BakersPercent(hydration)}.Solve()
		marshals(t, back)
	})
}
