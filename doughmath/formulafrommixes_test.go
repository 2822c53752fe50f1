package doughmath_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
)

func ExampleFormulaFromMixes() {
	out, err := doughmath.FormulaFromMixes{
		Preferments: []doughmath.WeighedMix{{Name: "poolish", Weights: []doughmath.WeighedIngredient{
			{Name: "flour", Mass: unit.Kilograms(3), Role: doughmath.RoleFlour},
			{Name: "water", Mass: unit.Kilograms(3), Role: doughmath.RoleWater},
		}}},
		Final: []doughmath.WeighedIngredient{
			{Name: "flour", Mass: unit.Kilograms(7), Role: doughmath.RoleFlour},
			{Name: "water", Mass: unit.Kilograms(3.6), Role: doughmath.RoleWater},
			{Name: "salt", Mass: unit.Grams(200), Role: doughmath.RoleSalt},
		},
		FinalUses: []doughmath.MixUse{{Name: "poolish", Mass: unit.Kilograms(6)}},
		Liquids:   doughmath.LiquidsWhole,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range out.Ingredients {
		fmt.Println(g.Name, g.Percent)
	}
	fmt.Println(out.PrefermentedFlour, "of the flour in the poolish")
	// Output:
	// flour 100 %
	// water 66 %
	// salt 2 %
	// 30 % of the flour in the poolish
}

func TestFormulaFromMixesRefuses(t *testing.T) {
	flour := doughmath.WeighedIngredient{Name: "flour", Mass: 100, Role: doughmath.RoleFlour}
	good := func() doughmath.FormulaFromMixes {
		return doughmath.FormulaFromMixes{
			Preferments: []doughmath.WeighedMix{{Name: "a", Weights: []doughmath.WeighedIngredient{flour}}, {Name: "b", Weights: []doughmath.WeighedIngredient{flour}}},
			Final:       []doughmath.WeighedIngredient{flour}, FinalUses: []doughmath.MixUse{{Name: "a", Mass: 100}, {Name: "b", Mass: 50}}, Liquids: doughmath.LiquidsWater,
		}
	}
	for _, c := range []struct {
		id     string
		spoil  func(*doughmath.FormulaFromMixes)
		fields []string
	}{
		{"nothing wrong", func(*doughmath.FormulaFromMixes) {}, nil},
		{"everything at once", func(in *doughmath.FormulaFromMixes) {
			in.Final = []doughmath.WeighedIngredient{{Name: "", Mass: -1}}
			in.Preferments[0].Name = ""
			in.Preferments[1].Weights[0].Role = ""
			in.FinalUses[0] = doughmath.MixUse{Name: "c", Mass: -1}
			in.Liquids = ""
		}, []string{"final[0].mass", "preferments[0].name", "preferments[1].weights[0].role", "final_uses[0].name", "final_uses[0].mass", "liquids"}},
		{"no preferments", func(in *doughmath.FormulaFromMixes) { in.Preferments = nil }, []string{"preferments", "liquids"}[:1]},
		{"one name twice", func(in *doughmath.FormulaFromMixes) { in.Preferments[1].Name = "a" }, []string{"preferments[1].name", "final_uses[1].name"}},
		{"nothing in it", func(in *doughmath.FormulaFromMixes) { in.Preferments[0].Weights = nil }, []string{"preferments[0].weights"}},
		{"weights of nothing", func(in *doughmath.FormulaFromMixes) {
			in.Preferments[0].Weights = []doughmath.WeighedIngredient{{Name: "flour", Role: doughmath.RoleFlour}}
		}, []string{"preferments[0].weights"}},
		{"a ring", func(in *doughmath.FormulaFromMixes) {
			in.Preferments[0].Uses = []doughmath.MixUse{{Name: "b", Mass: 1}}
			in.Preferments[1].Uses = []doughmath.MixUse{{Name: "a", Mass: 1}}
		}, []string{"preferments[0].uses"}},
		{"used by nothing", func(in *doughmath.FormulaFromMixes) { in.FinalUses = in.FinalUses[:1] }, []string{"preferments[1].name"}},
		{"more used than made", func(in *doughmath.FormulaFromMixes) {
			in.Preferments[0].Uses = []doughmath.MixUse{{Name: "b", Mass: 51}}
		}, []string{"preferments[1].weights"}},
		{"another role elsewhere", func(in *doughmath.FormulaFromMixes) {
			in.Preferments[1].Weights = []doughmath.WeighedIngredient{{Name: "flour", Mass: 100, Role: doughmath.RoleOther}}
		}, []string{"preferments[1].weights[0].name"}},
		{"no flour", func(in *doughmath.FormulaFromMixes) {
			water := []doughmath.WeighedIngredient{{Name: "water", Mass: 100, Role: doughmath.RoleWater}}
			in.Final, in.Preferments[0].Weights, in.Preferments[1].Weights = water, water, water
		}, []string{"final"}},
		{"another water content elsewhere", func(in *doughmath.FormulaFromMixes) {
			milk := doughmath.WeighedIngredient{Name: "milk", Mass: 10, Role: doughmath.RoleLiquid, WaterContent: 88}
			in.Final, in.Preferments[0].Weights = append(in.Final, milk), append(in.Preferments[0].Weights, milk)
			in.Preferments[0].Weights[1].WaterContent = 87
		}, []string{"preferments[0].weights[1].name"}},
		{"another hydration elsewhere", func(in *doughmath.FormulaFromMixes) {
			culture := doughmath.WeighedIngredient{Name: "culture", Mass: 10, Role: doughmath.RoleStarter, Hydration: 100}
			in.Final, in.Preferments[1].Weights = append(in.Final, culture), append(in.Preferments[1].Weights, culture)
			in.Preferments[1].Weights[1].Hydration = 80
		}, []string{"preferments[1].weights[1].name"}},
		{"called as the final mix", func(in *doughmath.FormulaFromMixes) {
			in.Preferments[1].Name, in.FinalUses[1].Name = doughmath.FinalMix, doughmath.FinalMix
		}, []string{"preferments[1].name"}},
		{"all that was made", func(in *doughmath.FormulaFromMixes) { in.FinalUses[1].Mass = 100 }, nil},
		{"a little more", func(in *doughmath.FormulaFromMixes) { in.FinalUses[1].Mass = 100.1 }, []string{"preferments[1].weights"}},
		{"ten milligrams of it", func(in *doughmath.FormulaFromMixes) { in.FinalUses[1].Mass = 0.01 }, nil},
		{"five milligrams made", func(in *doughmath.FormulaFromMixes) {
			in.Preferments[1].Weights = []doughmath.WeighedIngredient{{Name: "flour", Mass: 0.005, Role: doughmath.RoleFlour}}
			in.FinalUses[1].Mass = 0.005
		}, nil},
		{"a thousand and one uses", func(in *doughmath.FormulaFromMixes) {
			in.FinalUses = append(in.FinalUses, make([]doughmath.MixUse, 999)...)
		}, []string{"final_uses"}},
		{"ten times the flour", func(in *doughmath.FormulaFromMixes) {
			in.Final = append(in.Final, doughmath.WeighedIngredient{Name: "water", Mass: 2500, Role: doughmath.RoleWater})
		}, nil},
		{"eleven times the flour", func(in *doughmath.FormulaFromMixes) {
			in.Final = append(in.Final, doughmath.WeighedIngredient{Name: "water", Mass: 2501, Role: doughmath.RoleWater})
		}, []string{"final"}},
	} {
		in := good()
		c.spoil(&in)
		_, err := in.Solve()
		assert.Equal(t, c.fields, fields(err), c.id)
	}
}

// Sixteen preferments are taken, and a use of one that is not there is named
// even when there are as many as can be.
func TestMixesBoundTheList(t *testing.T) {
	flour := []doughmath.WeighedIngredient{{Name: "flour", Mass: 100, Role: doughmath.RoleFlour}}
	in := doughmath.FormulaFromMixes{Final: flour, Liquids: doughmath.LiquidsWhole}
	for i := range 16 {
		name := fmt.Sprint("mix ", i)
		in.Preferments = append(in.Preferments, doughmath.WeighedMix{Name: name, Weights: flour})
		in.FinalUses = append(in.FinalUses, doughmath.MixUse{Name: name, Mass: 100})
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(1700), out.Flour)
	in.FinalUses = append(in.FinalUses, doughmath.MixUse{Name: "mix 16", Mass: 1})
	_, err = in.Solve()
	assert.Equal(t, []string{"final_uses[16].name"}, fields(err))
	in.Preferments = append(in.Preferments, in.Preferments[0])
	_, err = in.Solve()
	assert.Equal(t, []string{"preferments"}, fields(err))
}

// A starter is the flour and water in it: written as a preferment of flour and
// water instead, it leaves the flour, the share of it that is prefermented and
// the hydration as they were. The percentages alone count on another flour.
func TestStarterIsItsFlourAndWater(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	weight := func(name string, mass float64, role doughmath.IngredientRole) doughmath.WeighedIngredient {
		return doughmath.WeighedIngredient{Name: name, Mass: unit.Mass(mass), Role: role}
	}
	for n := range 500 {
		flour, water, hydration := 10+200*r.Float64(), 300*r.Float64(), 30+150*r.Float64()
		mother := doughmath.WeighedIngredient{Name: "mother", Mass: unit.Mass(1 + 100*r.Float64()), Role: doughmath.RoleStarter, Hydration: unit.BakersPercent(hydration)}
		levain := doughmath.WeighedMix{Name: "levain", Weights: []doughmath.WeighedIngredient{weight("flour", flour, doughmath.RoleFlour), weight("water", water, doughmath.RoleWater)}}
		made, used := flour+water+float64(mother.Mass), 0.1+0.9*r.Float64()
		final := []doughmath.WeighedIngredient{weight("flour", 1000*r.Float64(), doughmath.RoleFlour), weight("water", 600*r.Float64(), doughmath.RoleWater)}
		starter := doughmath.FormulaFromMixes{Liquids: doughmath.LiquidsWhole, Final: final, FinalUses: []doughmath.MixUse{{Name: "levain", Mass: unit.Mass(used * made)}}}
		mixed := starter
		inside := float64(mother.Mass) * 100 / (100 + hydration)
		fed := doughmath.WeighedMix{Name: "mother", Weights: []doughmath.WeighedIngredient{weight("flour", inside, doughmath.RoleFlour), weight("water", float64(mother.Mass)-inside, doughmath.RoleWater)}}
		a, b := levain, levain
		if n%2 == 0 {
			a.Weights = append([]doughmath.WeighedIngredient{mother}, levain.Weights...)
			b.Uses = []doughmath.MixUse{{Name: "mother", Mass: mother.Mass}}
		} else { // into the final mix
			starter.FinalUses = []doughmath.MixUse{{Name: "levain", Mass: unit.Mass(used * (flour + water))}}
			starter.Final = append([]doughmath.WeighedIngredient{mother}, final...)
			mixed.FinalUses = []doughmath.MixUse{starter.FinalUses[0], {Name: "mother", Mass: mother.Mass}}
		}
		starter.Preferments, mixed.Preferments = []doughmath.WeighedMix{a}, []doughmath.WeighedMix{b, fed}
		got, err := starter.Solve()
		if err != nil {
			continue // more than ten times the flour
		}
		want, err := mixed.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(want.Flour), float64(got.AllFlour), 1e-9)
		require.Equal(t, want.Flour, want.AllFlour, "no starter")
		require.InEpsilon(t, float64(want.Dough), float64(got.Dough), 1e-9)
		require.InDelta(t, float64(want.PrefermentedFlour), float64(got.PrefermentedFlour), 1e-9)
		require.InDelta(t, float64(want.Hydration), float64(got.Hydration), 1e-9)
		require.Less(t, got.Flour, got.AllFlour)
		require.InEpsilon(t, 100*float64(got.Dough)/float64(got.Flour), float64(got.TotalPercent), 1e-12, "the percentages count on what is weighed as flour")
	}
}
