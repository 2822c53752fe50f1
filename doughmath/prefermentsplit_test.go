package doughmath_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// hearth is an invented formula for a hearth bread with a levain and a soaker.
func hearth() doughmath.PrefermentSplit {
	return doughmath.PrefermentSplit{
		Ingredients: []doughmath.Ingredient{
			{Name: "white flour", Percent: 90, Role: doughmath.RoleFlour},
			{Name: "rye flour", Percent: 10, Role: doughmath.RoleFlour},
			{Name: "water", Percent: 72, Role: doughmath.RoleWater},
			{Name: "seeds", Percent: 10, Role: doughmath.RoleOther},
			{Name: "salt", Percent: 2, Role: doughmath.RoleSalt},
		},
		Preferments: []doughmath.Preferment{
			{Name: "levain", Amount: 10, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{{Name: "rye flour", Percent: 100}, {Name: "water", Percent: 80}}},
			{Name: "soaker", Amount: 22, Reading: doughmath.MassOnFlour, Parts: []doughmath.PrefermentPart{{Name: "seeds", Percent: 100}, {Name: "water", Percent: 120}}},
		},
		Flour: unit.Kilograms(10), Liquids: doughmath.LiquidsWhole,
	}
}

func ExamplePrefermentSplit() {
	out, err := hearth().Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range out.Parts {
		fmt.Printf("%s: %s %v\n", p.Mix, p.Name, p.Mass)
	}
	fmt.Println("the dough has", out.Hydration, "of water, the final mix alone", out.FinalHydration)
	// Output:
	// levain: rye flour 1 kg
	// levain: water 800 g
	// soaker: seeds 1 kg
	// soaker: water 1.2 kg
	// final mix: white flour 9 kg
	// final mix: water 5.2 kg
	// final mix: salt 200 g
	// final mix: levain 1.8 kg
	// final mix: soaker 2.2 kg
	// the dough has 72 % of water, the final mix alone 57.78 %
}

func TestPrefermentSplitRefuses(t *testing.T) {
	part := func(name string, p unit.BakersPercent) doughmath.PrefermentPart {
		return doughmath.PrefermentPart{Name: name, Percent: p}
	}
	for _, c := range []struct {
		id     string
		spoil  func(*doughmath.PrefermentSplit)
		fields []string
	}{
		{"nothing wrong", func(*doughmath.PrefermentSplit) {}, nil},
		{"no preferments", func(in *doughmath.PrefermentSplit) { in.Preferments = nil }, []string{"preferments"}},
		{"too many", func(in *doughmath.PrefermentSplit) { in.Preferments = make([]doughmath.Preferment, 17) }, []string{"preferments"}},
		{"everything at once", func(in *doughmath.PrefermentSplit) {
			in.Ingredients[4].Name = "seeds"
			in.Dough, in.Liquids = 1, "some"
			in.Preferments[0] = doughmath.Preferment{Name: "final mix", Amount: -1, Reading: "flour", Parts: []doughmath.PrefermentPart{part("malt", 1), part("water", 1001), part("water", 1)}}
			in.Preferments[1].Name = "water"
		}, []string{
			"ingredients[4].name", "flour", "liquids", "preferments[0].name", "preferments[0].amount", "preferments[0].reading",
			"preferments[0].parts[0].name", "preferments[0].parts[1].percent", "preferments[0].parts[2].name", "preferments[1].name",
		}},
		{"the first ingredient's name twice", func(in *doughmath.PrefermentSplit) {
			in.Ingredients[4].Name = "white flour"
		}, []string{"ingredients[4].name"}},
		{"the first ingredient's name for a preferment", func(in *doughmath.PrefermentSplit) {
			in.Preferments[1].Name = "white flour"
		}, []string{"preferments[1].name"}},
		{"more flour than there is, and one that goes elsewhere", func(in *doughmath.PrefermentSplit) {
			in.Preferments[0].Amount = 101
			in.Preferments = append(in.Preferments, doughmath.Preferment{Name: "mother", Reading: doughmath.MassOnFlour, Parts: []doughmath.PrefermentPart{part("rye flour", 100)}})
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("mother", 1))
		}, []string{"preferments[0].amount"}},
		{"a preferment without a name", func(in *doughmath.PrefermentSplit) { in.Preferments[1].Name = "" }, []string{"preferments[1].name"}},
		{"a scale for what is not there", func(in *doughmath.PrefermentSplit) {
			in.Scales = []doughmath.Scale{{Name: "bench", Division: 1, For: []string{"salt", "malt"}}}
		}, []string{"scales[0].for[1]"}},
		{"a division as large as what is made", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Division = 1800 }, nil},
		{"a division larger than that", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Division = 1801 }, []string{"preferments[0].division"}},
		{"a division as large as the dough", func(in *doughmath.PrefermentSplit) {
			in.Division, in.Preferments[0].Division, in.Preferments[1].Division = 18400, 1, 1
		}, nil},
		{"a division larger than that", func(in *doughmath.PrefermentSplit) {
			in.Division, in.Preferments[0].Division, in.Preferments[1].Division = 18401, 1, 1
		}, []string{"division"}},
		{"a pinch that its scale does not take", func(in *doughmath.PrefermentSplit) { // 0.1 g, all of it in the levain
			in.Ingredients[4].Percent, in.Preferments[0].Parts = 0.001, append(in.Preferments[0].Parts, part("salt", 0.01))
			in.Scales = []doughmath.Scale{{Name: "floor", Division: 1}, {Name: "letters", Division: 0.001, Capacity: 0.09, For: []string{"salt"}}}
		}, []string{"scales"}},
		{"a pinch at the end that its scale does not take", func(in *doughmath.PrefermentSplit) {
			in.Ingredients[4].Percent = 0.01
			in.Scales = []doughmath.Scale{{Name: "floor", Division: 1}, {Name: "letters", Division: 0.001, Capacity: 0.99, For: []string{"salt"}}}
		}, []string{"scales"}},
		{"a scale that takes all, to the milligram", func(in *doughmath.PrefermentSplit) {
			in.Scales = []doughmath.Scale{{Name: "one", Division: 0.001, Capacity: 9001}}
		}, nil},
		{"a scale that does not take the white flour", func(in *doughmath.PrefermentSplit) {
			in.Scales = []doughmath.Scale{{Name: "one", Division: 1, Capacity: 8999}}
		}, []string{"scales"}},
		{"a scale that takes the rye of the levain", func(in *doughmath.PrefermentSplit) {
			in.Ingredients[0].Percent, in.Ingredients[1].Percent, in.Preferments[0].Amount = 10, 90, 90
			in.Scales = []doughmath.Scale{{Name: "one", Division: 1, Capacity: 9001}}
			in.Ingredients[2].Percent = 100
		}, nil},
		{"a scale that does not", func(in *doughmath.PrefermentSplit) {
			in.Ingredients[0].Percent, in.Ingredients[1].Percent, in.Preferments[0].Amount = 10, 90, 90
			in.Scales = []doughmath.Scale{{Name: "one", Division: 1, Capacity: 8999}}
			in.Ingredients[2].Percent = 100
		}, []string{"scales"}},
		{"next to no flour in it", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Parts[0].Percent = 0.005 }, []string{"preferments[0].parts"}},
		{"a little on flour in a soaker", func(in *doughmath.PrefermentSplit) {
			in.Preferments[1].Amount, in.Preferments[1].Reading = 0.005, doughmath.FlourOnFlour
		}, []string{"preferments[1].reading"}},
		{"no flour on flour, but in the levain", func(in *doughmath.PrefermentSplit) {
			in.Preferments[1].Amount, in.Preferments[1].Reading = 0, doughmath.FlourOnFlour
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("soaker", 30))
		}, nil},
		{"the first goes nowhere", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Amount = 0 }, []string{"preferments[0].amount"}},
		{"neither goes anywhere", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Amount, in.Preferments[1].Amount = 0, 0 }, []string{"preferments[1].amount", "preferments[0].amount"}},
		{"more flour than there is, a little of it in another, and one on what is left", func(in *doughmath.PrefermentSplit) {
			in.Preferments[0].Amount = 101
			in.Preferments = append(in.Preferments,
				doughmath.Preferment{Name: "biga", Amount: 0.005, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{part("rye flour", 100)}},
				doughmath.Preferment{Name: "sour", Amount: 5, Reading: doughmath.MassOnFinalFlour, Parts: []doughmath.PrefermentPart{part("rye flour", 100)}})
		}, []string{"preferments[0].amount", "preferments[2].amount"}},
		{"all of it in one", func(in *doughmath.PrefermentSplit) {
			in.Preferments = []doughmath.Preferment{{Name: "old dough", Amount: 184, Reading: doughmath.MassOnFlour, Parts: []doughmath.PrefermentPart{
				part("white flour", 90), part("rye flour", 10), part("water", 72), part("seeds", 10), part("salt", 2),
			}}}
		}, nil},
		{"one name twice", func(in *doughmath.PrefermentSplit) { in.Preferments[1].Name = "levain" }, []string{"preferments[1].name"}},
		{"a ring of two", func(in *doughmath.PrefermentSplit) {
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("soaker", 1))
			in.Preferments[1].Parts = append(in.Preferments[1].Parts, part("levain", 1))
		}, []string{"preferments[0].parts"}},
		{"contains itself", func(in *doughmath.PrefermentSplit) {
			in.Preferments[1].Parts = append(in.Preferments[1].Parts, part("soaker", 1))
		}, []string{"preferments[1].parts"}},
		{"nothing in it", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Parts = nil }, []string{"preferments[0].parts"}},
		{"a thousand and one parts", func(in *doughmath.PrefermentSplit) {
			in.Preferments[0].Parts = make([]doughmath.PrefermentPart, 1001)
		}, []string{"preferments[0].parts"}},
		{"flours short of 100", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Parts[0].Percent = 99 }, []string{"preferments[0].parts"}},
		{"flour of a soaker", func(in *doughmath.PrefermentSplit) { in.Preferments[1].Reading = doughmath.FlourOnFlour }, []string{"preferments[1].reading"}},
		{"a share of the final flour where none is left", func(in *doughmath.PrefermentSplit) {
			in.Preferments = append(in.Preferments, doughmath.Preferment{Name: "biga", Amount: 90, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{part("white flour", 100), part("water", 45)}})
			in.Preferments[1].Amount, in.Preferments[1].Reading = 5, doughmath.MassOnFinalFlour
		}, []string{"preferments[1].amount"}},
		{"goes nowhere", func(in *doughmath.PrefermentSplit) { in.Preferments[1].Amount = 0 }, []string{"preferments[1].amount"}},
		{"larger than the dough", func(in *doughmath.PrefermentSplit) { in.Preferments[1].Amount = 190 }, []string{"preferments[1].amount"}},
		{"more flour than there is", func(in *doughmath.PrefermentSplit) { in.Preferments[0].Amount = 101 }, []string{"preferments[0].amount"}},
		{"more seeds than there are", func(in *doughmath.PrefermentSplit) { in.Preferments[1].Amount = 23 }, []string{"ingredients[3].percent"}},
		{"more rye and seeds", func(in *doughmath.PrefermentSplit) {
			in.Preferments[0].Amount, in.Preferments[1].Amount = 11, 23
		}, []string{"ingredients[1].percent", "ingredients[3].percent"}},
	} {
		in := hearth()
		c.spoil(&in)
		out, err := in.Solve()
		assert.Equal(t, c.fields, fields(err), c.id)
		if err != nil {
			assert.Empty(t, out, c.id)
		}
	}
	in := hearth()
	in.Preferments[1].Amount = 23
	_, err := in.Solve()
	assert.ErrorContains(t, err, "of seeds that the preferments hold", "the ingredient is named")
}

// A share of the flour added at the final mix comes to nothing if none is added
// there, and that is what the refusal says, even if the soaker is used elsewhere.
func TestPrefermentSplitWithoutFinalFlour(t *testing.T) {
	in := hearth()
	in.Ingredients[0].Percent, in.Ingredients[1].Percent = 100, 0
	in.Preferments = []doughmath.Preferment{
		{Name: "biga", Amount: 100, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{{Name: "white flour", Percent: 100}, {Name: "water", Percent: 45}}},
		{Name: "soaker", Amount: 5, Reading: doughmath.MassOnFinalFlour, Parts: []doughmath.PrefermentPart{{Name: "seeds", Percent: 100}, {Name: "water", Percent: 120}}},
	}
	for range 2 {
		_, err := in.Solve()
		assert.Equal(t, []string{"preferments[1].amount"}, fields(err))
		assert.ErrorContains(t, err, `preferments[1].amount is 5 %: want an amount in another reading than "mass-on-final-flour"`)
		assert.ErrorContains(t, err, "none is left for the final mix")
		assert.NotContains(t, err.Error(), "goes into no other preferment")
		in.Preferments[0].Parts = append(in.Preferments[0].Parts, doughmath.PrefermentPart{Name: "soaker", Percent: 1})
	}
	in.Preferments[0].Parts = in.Preferments[0].Parts[:3]
	in.Preferments[1].Amount = 0.005
	_, err := in.Solve()
	assert.Equal(t, []string{"preferments[1].amount"}, fields(err), "a little")
	in.Preferments[1].Amount = 0
	_, err = in.Solve()
	require.NoError(t, err, "nothing at the final mix, but 1 % in the biga")
	in.Preferments[0].Parts = in.Preferments[0].Parts[:2]
	in.Preferments[1].Amount, in.Preferments[1].Reading = 5, doughmath.MassOnFlour
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.FinalFlour)
}

// All the flour may be fermented beforehand: then the final mix has none for
// its water to count on, and none of it is listed.
func TestPrefermentSplitOfAllTheFlour(t *testing.T) {
	in := hearth()
	in.Preferments = []doughmath.Preferment{
		{Name: "white sponge", Amount: 90, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{{Name: "white flour", Percent: 100}, {Name: "water", Percent: 60}}},
		{Name: "rye sour", Amount: 10, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{{Name: "rye flour", Percent: 100}, {Name: "water", Percent: 60}}},
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.FinalFlour)
	assert.Zero(t, out.FinalHydration)
	assert.InDelta(t, 100, float64(out.PrefermentedFlour), 1e-9)
	var final []string
	for _, p := range out.Parts {
		if p.Mix == doughmath.FinalMix {
			final = append(final, p.Name)
		}
	}
	assert.Equal(t, []string{"water", "seeds", "salt", "white sponge", "rye sour"}, final)

	// Just over, by no more than binary arithmetic loses, is not over.
	in.Preferments[0].Amount = 90.0000000001
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.FinalFlour)
	in.Preferments[0].Amount = 90.001
	_, err = in.Solve()
	assert.Equal(t, []string{"preferments[0].amount", "preferments[1].amount"}, fields(err))
}

// The same split asked for in each reading comes to the same weights.
func TestPrefermentReadingsAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for range 1000 {
		in := hearth()
		in.Ingredients[0].Percent, in.Ingredients[1].Percent = 50, 50
		in.Preferments = in.Preferments[:1]
		in.Preferments[0].Amount = unit.BakersPercent(49 * r.Float64())
		in.Preferments[0].Parts[1].Percent = unit.BakersPercent(140 * r.Float64())
		want, err := in.Solve()
		require.NoError(t, err)
		readings, err := doughmath.PrefermentPercent{
			Percent: in.Preferments[0].Amount, Reading: doughmath.FlourOnFlour,
			TotalPercent: 100 + in.Preferments[0].Parts[1].Percent,
		}.Solve()
		require.NoError(t, err)
		for reading, amount := range map[doughmath.PrefermentReading]unit.BakersPercent{
			doughmath.FlourOnFlour: readings.FlourOnFlour, doughmath.MassOnFlour: readings.MassOnFlour, doughmath.MassOnFinalFlour: readings.MassOnFinalFlour,
		} {
			in.Preferments[0].Amount, in.Preferments[0].Reading = amount, reading
			got, err := in.Solve()
			require.NoError(t, err)
			require.Len(t, got.Parts, len(want.Parts))
			for i := range got.Parts {
				require.InDelta(t, float64(want.Parts[i].Mass), float64(got.Parts[i].Mass), 1e-8)
			}
			back, err := doughmath.PrefermentPercent{Percent: amount, Reading: reading, TotalPercent: 100 + in.Preferments[0].Parts[1].Percent}.Solve()
			require.NoError(t, err)
			require.InDelta(t, float64(readings.FlourOnFlour), float64(back.FlourOnFlour), 1e-10)
		}
	}
}

// A mother that goes into a levain, old dough that holds everything, and a
// soaker: the weights come back to the formula, whatever the amounts.
func TestPrefermentsThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	for n := range 1000 {
		in := hearth()
		in.Flour, in.Dough = 0, unit.Mass(math.Pow(10, 2+5*r.Float64()))
		in.Ingredients = append(in.Ingredients, doughmath.Ingredient{Name: "culture", Percent: unit.BakersPercent(1 + 5*r.Float64()), Role: doughmath.RoleStarter, Hydration: unit.BakersPercent(50 + 100*r.Float64())})
		in.Preferments = []doughmath.Preferment{
			{Name: "levain", Amount: unit.BakersPercent(5 * r.Float64()), Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{
				{Name: "rye flour", Percent: 100},
				{Name: "water", Percent: unit.BakersPercent(120 * r.Float64())},
				{Name: "mother", Percent: unit.BakersPercent(1 + 30*r.Float64())},
				{Name: "culture", Percent: unit.BakersPercent(20 * r.Float64())},
			}},
			{Name: "mother", Amount: 0, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{{Name: "rye flour", Percent: 100}, {Name: "water", Percent: 60}}},
			{Name: "old dough", Amount: unit.BakersPercent(40 * r.Float64()), Reading: doughmath.MassOnFinalFlour, Parts: []doughmath.PrefermentPart{
				{Name: "white flour", Percent: 90}, {Name: "rye flour", Percent: 10}, {Name: "water", Percent: 72}, {Name: "salt", Percent: 2},
			}},
			{Name: "soaker", Amount: unit.BakersPercent(1 + 20*r.Float64()), Reading: doughmath.MassOnFlour, Parts: []doughmath.PrefermentPart{{Name: "seeds", Percent: 100}, {Name: "water", Percent: 110}}},
		}
		out, w, err := reckon.Explain(in)
		require.NoError(t, err, "run %d", n)
		isTrue(t, w)

		// Weigh it all, with twice as much of the mother made as is used.
		back := doughmath.FormulaFromMixes{Liquids: in.Liquids}
		mixes := map[string]*doughmath.WeighedMix{}
		for _, p := range in.Preferments {
			mixes[p.Name] = &doughmath.WeighedMix{Name: p.Name}
		}
		sum := 0.0
		for _, p := range out.Parts {
			mass := p.Mass
			if p.Mix == "mother" {
				mass *= 2
			}
			if _, isMix := mixes[p.Name]; isMix {
				if p.Mix == doughmath.FinalMix {
					back.FinalUses = append(back.FinalUses, doughmath.MixUse{Name: p.Name, Mass: mass})
				} else {
					mixes[p.Mix].Uses = append(mixes[p.Mix].Uses, doughmath.MixUse{Name: p.Name, Mass: mass})
				}
			} else {
				g := in.Ingredients[0]
				for _, g = range in.Ingredients {
					if g.Name == p.Name {
						break
					}
				}
				weight := doughmath.WeighedIngredient{Name: p.Name, Mass: mass, Role: g.Role, Hydration: g.Hydration}
				if p.Mix == doughmath.FinalMix {
					back.Final = append(back.Final, weight)
				} else {
					mixes[p.Mix].Weights = append(mixes[p.Mix].Weights, weight)
				}
			}
			if p.Mix == doughmath.FinalMix {
				sum += float64(p.Mass)
			}
		}
		require.InEpsilon(t, float64(in.Dough), sum, 1e-9, "the final mix is the whole dough")
		for _, p := range in.Preferments {
			back.Preferments = append(back.Preferments, *mixes[p.Name])
		}
		formula, w, err := reckon.Explain(back)
		require.NoError(t, err)
		isTrue(t, w)
		require.InEpsilon(t, float64(in.Dough), float64(formula.Dough), 1e-9)
		require.InEpsilon(t, float64(out.Flour), float64(formula.Flour), 1e-9)
		require.InEpsilon(t, float64(out.AllFlour), float64(formula.AllFlour), 1e-9)
		require.InDelta(t, float64(out.PrefermentedFlour), float64(formula.PrefermentedFlour), 1e-7)
		require.InDelta(t, float64(out.Hydration), float64(formula.Hydration), 1e-7)
		require.InDelta(t, float64(out.FinalHydration), float64(formula.FinalHydration), 1e-6)
		for _, g := range formula.Ingredients {
			for _, want := range in.Ingredients {
				if want.Name == g.Name {
					require.InDelta(t, float64(want.Percent), float64(g.Percent), 1e-7, g.Name)
				}
			}
		}
	}
}

// A levain of nothing but a fed mother is a mix too, and the mother itself does not
// stand among the weighings of the final mix.
func TestMixesOfMixes(t *testing.T) {
	in := hearth()
	in.Preferments[0].Parts = []doughmath.PrefermentPart{{Name: "mother", Percent: 100}}
	in.Preferments = append(in.Preferments, doughmath.Preferment{
		Name: "mother", Reading: doughmath.MassOnFlour,
		Parts: []doughmath.PrefermentPart{{Name: "rye flour", Percent: 100}, {Name: "water", Percent: 100}},
	})
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.MixPart{Mix: "mother", Name: "rye flour", Percent: 10, Mass: 1000, Exact: 1000}, out.Parts[0])
	for _, p := range out.Parts {
		assert.False(t, p.Mix == doughmath.FinalMix && p.Name == "mother", "%+v", p)
		assert.Positive(t, float64(p.Mass))
	}

	flour := doughmath.WeighedIngredient{Name: "flour", Mass: 100, Role: doughmath.RoleFlour}
	for salt, want := range map[unit.Mass]doughmath.Conditions{1: doughmath.UnusualSalt, 4: 0, 7: doughmath.UnusualSalt} {
		back, err := doughmath.FormulaFromMixes{
			Preferments: []doughmath.WeighedMix{{Name: "levain", Uses: []doughmath.MixUse{{Name: "mother", Mass: 100}}}, {Name: "mother", Weights: []doughmath.WeighedIngredient{flour}}},
			Final:       []doughmath.WeighedIngredient{flour, {Name: "water", Mass: 120, Role: doughmath.RoleWater}, {Name: "salt", Mass: salt, Role: doughmath.RoleSalt}},
			FinalUses:   []doughmath.MixUse{{Name: "levain", Mass: 100}}, Liquids: doughmath.LiquidsWhole,
		}.Solve()
		require.NoError(t, err)
		assert.Equal(t, unit.Mass(200), back.Flour)
		assert.Equal(t, want, back.Conditions, "%v", salt)
	}
}

// Whatever is weighed where, each ingredient is used up, and so is what is made of each preferment: as the
// formula asks, and as the scales show it. What is 0 % is not weighed, however often it is named.
func TestPrefermentsUseUpWhatThereIs(t *testing.T) {
	part := func(name string, p unit.BakersPercent) doughmath.PrefermentPart {
		return doughmath.PrefermentPart{Name: name, Percent: p}
	}
	for id, change := range map[string]func(*doughmath.PrefermentSplit){
		"as it is": func(*doughmath.PrefermentSplit) {},
		"parts of nothing": func(in *doughmath.PrefermentSplit) {
			in.Ingredients = append(in.Ingredients, doughmath.Ingredient{Name: "malt", Role: doughmath.RoleOther})
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("salt", 0), part("soaker", 0), part("malt", 0))
			in.Preferments[1].Parts = append(in.Preferments[1].Parts, part("white flour", 0))
		},
		"a little of much": func(in *doughmath.PrefermentSplit) {
			in.Ingredients = append(in.Ingredients, doughmath.Ingredient{Name: "malt", Role: doughmath.RoleOther, Percent: 0.005})
			in.Preferments[0].Amount = 0.006
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("salt", 0.007), part("soaker", 0.008))
			in.Preferments[1].Parts = []doughmath.PrefermentPart{part("seeds", 0.002), part("water", 0.003)}
		},
		"flour by way of another": func(in *doughmath.PrefermentSplit) {
			in.Preferments[0].Amount, in.Preferments[0].Reading = 10, doughmath.MassOnFinalFlour
			in.Preferments[1].Amount, in.Preferments[1].Reading = 0.0001, doughmath.FlourOnFlour
			in.Preferments[1].Parts = append(in.Preferments[1].Parts, part("levain", 0.009))
		},
		"a soaker in the levain alone, on flour that it has none of": func(in *doughmath.PrefermentSplit) {
			in.Preferments[1].Amount, in.Preferments[1].Reading = 0, doughmath.FlourOnFlour
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("soaker", 30))
		},
		"a mother in two, and not at the end": func(in *doughmath.PrefermentSplit) {
			in.Preferments = append(in.Preferments, doughmath.Preferment{Name: "mother", Reading: doughmath.MassOnFlour, Parts: []doughmath.PrefermentPart{part("rye flour", 100), part("water", 61)}})
			in.Preferments[0].Amount = 7
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("mother", 31))
			in.Preferments[1].Parts = append(in.Preferments[1].Parts, part("mother", 0.005))
		},
		"a mother in the levain and at the end": func(in *doughmath.PrefermentSplit) {
			in.Preferments = append(in.Preferments, doughmath.Preferment{Name: "mother", Amount: 1, Reading: doughmath.FlourOnFlour, Parts: []doughmath.PrefermentPart{part("rye flour", 100), part("water", 61)}})
			in.Preferments[0].Amount = 7
			in.Preferments[0].Parts = append(in.Preferments[0].Parts, part("mother", 17))
		},
	} {
		for _, division := range []unit.Mass{0, 0.7} {
			t.Run(fmt.Sprint(id, ", ", division), func(t *testing.T) {
				in := hearth()
				change(&in)
				in.Division = division
				out, w, err := reckon.Explain(in)
				require.NoError(t, err)
				require.NoError(t, testdata.Retrace(w, 1e-9))
				exact, used, made := map[string]float64{}, map[string]float64{}, map[string]float64{}
				for _, p := range out.Parts {
					assert.Positive(t, p.Exact, p)
					assert.InEpsilon(t, float64(p.Percent)*100, float64(p.Exact), 1e-12, "of 10 kg")
					exact[p.Name] += float64(p.Exact)
					exact[p.Mix] -= float64(p.Exact)
					used[p.Name] += float64(p.Mass)
					made[p.Mix] += float64(p.Mass)
				}
				for _, g := range in.Ingredients {
					assert.InDelta(t, float64(g.Percent)*100, exact[g.Name], 1e-9, g.Name)
				}
				for _, p := range in.Preferments {
					assert.InDelta(t, 0, exact[p.Name], 1e-9, p.Name)
					assert.InDelta(t, made[p.Name], used[p.Name], 1e-9, p.Name)
				}
				assert.InDelta(t, float64(out.Dough), -exact[doughmath.FinalMix], 1e-9)
				assert.InDelta(t, float64(out.Weighed), made[doughmath.FinalMix], 1e-9)
				assert.Equal(t, reckon.FlourDust|reckon.Lifting|reckon.Spoilage, out.Cautions)
			})
		}
	}
}

// A bought starter in the final mix brings flour and water to it.
func TestStarterInTheFinalMix(t *testing.T) {
	in := hearth()
	in.Ingredients = append(in.Ingredients, doughmath.Ingredient{Name: "bought starter", Percent: 20, Role: doughmath.RoleStarter, Hydration: 100})
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 100*82.0/110, float64(out.Hydration), 1e-9)
	assert.InDelta(t, 100*62.0/100, float64(out.FinalHydration), 1e-9)
	assert.Equal(t, unit.Mass(9000), out.FinalFlour, "what is weighed as flour")
	assert.Equal(t, unit.Mass(10000), out.Flour, "what is weighed as flour")
	assert.InDelta(t, 11000, float64(out.AllFlour), 1e-9, "the starter's flour counted")
	assert.InDelta(t, 100*20.0/110, float64(out.PrefermentedFlour), 1e-9, "10 in the levain and 10 in the starter, on 110")

	// A final mix without flour of its own still has its starter's.
	back, err := doughmath.FormulaFromMixes{
		Preferments: []doughmath.WeighedMix{{Name: "sponge", Weights: []doughmath.WeighedIngredient{{Name: "flour", Mass: 100, Role: doughmath.RoleFlour}}}},
		Final:       []doughmath.WeighedIngredient{{Name: "bought starter", Mass: 20, Role: doughmath.RoleStarter, Hydration: 100}, {Name: "water", Mass: 40, Role: doughmath.RoleWater}},
		FinalUses:   []doughmath.MixUse{{Name: "sponge", Mass: 100}}, Liquids: doughmath.LiquidsWhole,
	}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 500, float64(back.FinalHydration), 1e-9)
}

func TestPrefermentsDoNotAllocate(t *testing.T) {
	in := hearth()
	parts := make([]doughmath.MixPart, 0, 16)
	flour := []doughmath.WeighedIngredient{{Name: "flour", Mass: 100, Role: doughmath.RoleFlour}}
	mixes := doughmath.FormulaFromMixes{
		Preferments: []doughmath.WeighedMix{{Name: "a", Weights: flour}}, Final: flour,
		FinalUses: []doughmath.MixUse{{Name: "a", Mass: 100}}, Liquids: doughmath.LiquidsWater,
	}
	ingredients := make([]doughmath.Ingredient, 0, 4)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := in.Append(parts); err != nil {
			t.Fatal(err)
		}
		if _, err := mixes.Append(ingredients); err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.PrefermentPercent{Percent: 20, Reading: doughmath.MassOnFlour, TotalPercent: 180}).Solve(); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkPrefermentSplit(b *testing.B) {
	in := hearth()
	parts := make([]doughmath.MixPart, 0, 16)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Append(parts); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzPreferments(f *testing.F) {
	f.Add(30.0, 20.0, 60.0, 80.0, 10000.0, 0, 1)
	f.Add(1000.0, 1000.0, 0.0, 5e-324, 1e9, 2, 2)
	f.Add(99.99999999999999, 1e-300, 1000.0, 1000.0, 1e-3, 1, 0)
	f.Add(33.33333333333333, 4e-300, 1000.0, 200.0, 0.005, 29, 128)
	readings := []doughmath.PrefermentReading{doughmath.FlourOnFlour, doughmath.MassOnFlour, doughmath.MassOnFinalFlour}
	f.Fuzz(func(t *testing.T, a, b, water, nested, mass float64, r1, r2 int) {
		in := hearth()
		in.Flour = unit.Mass(mass)
		in.Preferments[0].Amount, in.Preferments[0].Reading = unit.BakersPercent(a), readings[uint(r1)%3]
		in.Preferments[0].Parts[1].Percent = unit.BakersPercent(water)
		in.Preferments[0].Parts = append(in.Preferments[0].Parts, doughmath.PrefermentPart{Name: "soaker", Percent: unit.BakersPercent(nested)})
		in.Preferments[1].Amount, in.Preferments[1].Reading = unit.BakersPercent(b), readings[uint(r2)%3]
		out, err := in.Solve()
		marshals(t, out)
		if err == nil {
			for _, p := range out.Parts {
				if !(p.Mass > 0) && p.Percent > 1e-300 {
					t.Fatalf("%+v", p)
				}
			}
		}
		flour := []doughmath.WeighedIngredient{{Name: "flour", Mass: unit.Mass(mass), Role: doughmath.RoleFlour}, {Name: "water", Mass: unit.Mass(water), Role: doughmath.RoleWater}}
		back, _ := doughmath.FormulaFromMixes{
			Preferments: []doughmath.WeighedMix{{Name: "x", Weights: flour}, {Name: "y", Weights: flour, Uses: []doughmath.MixUse{{Name: "x", Mass: unit.Mass(a)}}}},
			Final:       flour, FinalUses: []doughmath.MixUse{{Name: "y", Mass: unit.Mass(b)}, {Name: "x", Mass: unit.Mass(nested)}}, Liquids: doughmath.LiquidsWhole,
		}.Solve()
		marshals(t, back)
		percent, _ := doughmath.PrefermentPercent{Percent: unit.BakersPercent(a), Reading: readings[uint(r1)%3], TotalPercent: unit.BakersPercent(water)}.Solve()
		marshals(t, percent)
	})
}
