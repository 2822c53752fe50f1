package doughmath_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// rolls is a formula for soft rolls, invented.
func rolls() []doughmath.Ingredient {
	return []doughmath.Ingredient{
		{Name: "flour", Percent: 100, Role: doughmath.RoleFlour},
		{Name: "water", Percent: 58, Role: doughmath.RoleWater},
		{Name: "sugar", Percent: 4, Role: doughmath.RoleOther},
		{Name: "salt", Percent: 2, Role: doughmath.RoleSalt},
		{Name: "yeast", Percent: 1.5, Role: doughmath.RoleOther},
	}
}

func ExampleFormulaScale() {
	out, err := doughmath.FormulaScale{
		Ingredients: rolls(),
		Dough:       unit.Kilograms(120), Division: unit.Grams(50),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range out.Parts {
		fmt.Println(p.Name, p.Mass)
	}
	fmt.Println("together", out.Weighed)
	// Output:
	// flour 72.5 kg
	// water 42.05 kg
	// sugar 2.9 kg
	// salt 1.45 kg
	// yeast 1.1 kg
	// together 120 kg
}

func ExampleFormulaFromWeights() {
	out, err := doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{
		{Name: "flour", Mass: unit.Kilograms(25), Role: doughmath.RoleFlour},
		{Name: "water", Mass: unit.Kilograms(15.5), Role: doughmath.RoleWater},
		{Name: "salt", Mass: unit.Grams(500), Role: doughmath.RoleSalt},
	}}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range out.Ingredients {
		fmt.Println(g.Name, g.Percent)
	}
	// Output:
	// flour 100 %
	// water 62 %
	// salt 2 %
}

func TestFormulaScaleNamesEveryBadField(t *testing.T) {
	_, err := doughmath.FormulaScale{
		Ingredients: []doughmath.Ingredient{
			{Name: "", Percent: 100, Role: doughmath.RoleFlour},
			{Name: "water", Percent: -1, Role: doughmath.RoleWater},
			{Name: "milk", Percent: 10, Role: doughmath.RoleLiquid},
			{Name: "levain", Percent: 10, Role: doughmath.RoleStarter, WaterContent: 3},
			{Name: "butter", Percent: 10, Role: doughmath.RoleOther, WaterContent: 101, Hydration: 2},
			{Name: "salt", Percent: unit.BakersPercent(math.NaN()), Role: doughmath.RoleSalt},
			{Name: "sugar", Percent: 1000.1, Role: doughmath.RoleOther},
			{Name: "yeast", Percent: 1, Role: "leaven"},
		},
		Dough: -1, Division: -1,
	}.Solve()
	assert.Equal(t, []string{
		"ingredients[0].name", "ingredients[1].percent", "ingredients[2].water_content", "ingredients[3].water_content",
		"ingredients[3].hydration", "ingredients[4].water_content", "ingredients[4].hydration", "ingredients[5].percent",
		"ingredients[6].percent", "ingredients[7].role", "dough", "division",
	}, fields(err))

	for id, in := range map[string]doughmath.FormulaScale{
		"dough":    {Ingredients: rolls()},
		"flour":    {Ingredients: rolls(), Dough: 1, Flour: 1},
		"division": {Ingredients: rolls(), Dough: 100, Division: 101},
	} {
		_, err := in.Solve()
		assert.Equal(t, []string{id}, fields(err))
	}
	_, err = doughmath.FormulaScale{Dough: 1}.Solve()
	assert.Equal(t, []string{"ingredients"}, fields(err))
	nameless := append(rolls(),
		doughmath.Ingredient{Percent: 1, Role: doughmath.RoleOther}, doughmath.Ingredient{Percent: 1, Role: doughmath.RoleOther, WaterContent: 100},
		doughmath.Ingredient{Percent: 1, Role: doughmath.RoleLiquid, WaterContent: 100}, doughmath.Ingredient{Percent: 1, Role: doughmath.RoleStarter, Hydration: 1000})
	_, err = doughmath.FormulaScale{Ingredients: nameless, Flour: 1000}.Solve()
	assert.Equal(t, []string{"ingredients[5].name", "ingredients[6].name", "ingredients[7].name", "ingredients[8].name"}, fields(err), "nothing else is wrong with them")
	short := rolls()
	short[0].Percent = 99.9
	_, err = doughmath.FormulaScale{Ingredients: short, Flour: 1}.Solve()
	assert.ErrorContains(t, err, "flours make 99.9 %")
}

// What each role takes: of a liquid there is some water in it, up to all of it, of others there may be none; a starter
// has a hydration of up to ten times its flour; and the rest has neither.
func TestRoles(t *testing.T) {
	for _, c := range []struct {
		role      doughmath.IngredientRole
		water     unit.Percent
		hydration unit.BakersPercent
		want      []string
	}{
		{doughmath.RoleLiquid, 0.005, 0, nil},
		{doughmath.RoleLiquid, 100, 0, nil},
		{doughmath.RoleLiquid, 0, 0, []string{"water_content"}},
		{doughmath.RoleLiquid, -0.005, 0, []string{"water_content"}},
		{doughmath.RoleLiquid, 100.5, 0, []string{"water_content"}},
		{doughmath.RoleLiquid, 88, 0.005, []string{"hydration"}},
		{doughmath.RoleLiquid, 0, 60, []string{"water_content", "hydration"}},
		{doughmath.RoleOther, 0, 0, nil},
		{doughmath.RoleOther, 0.005, 0, nil},
		{doughmath.RoleOther, 100, 0, nil},
		{doughmath.RoleOther, -0.005, 0, []string{"water_content"}},
		{doughmath.RoleOther, 100.5, 0, []string{"water_content"}},
		{doughmath.RoleOther, 0, 0.005, []string{"hydration"}},
		{doughmath.RoleOther, 16, 60, []string{"hydration"}},
		{doughmath.RoleStarter, 0, 0.005, nil},
		{doughmath.RoleStarter, 0, 1000, nil},
		{doughmath.RoleStarter, 0, 0, []string{"hydration"}},
		{doughmath.RoleStarter, 0, -0.005, []string{"hydration"}},
		{doughmath.RoleStarter, 0, 1005, []string{"hydration"}},
		{doughmath.RoleStarter, 0.005, 100, []string{"water_content"}},
		{doughmath.RoleStarter, 5, 0, []string{"water_content", "hydration"}},
		{doughmath.RoleWater, 0, 0, nil},
		{doughmath.RoleSalt, 0, 0, nil},
		{doughmath.RoleWater, 0.005, 0, []string{"water_content"}},
		{doughmath.RoleSalt, 0, 0.005, []string{"hydration"}},
		{doughmath.RoleWater, 100, 100, []string{"water_content", "hydration"}},
	} {
		var want, inWeights []string
		for _, field := range c.want {
			want, inWeights = append(want, "ingredients[1]."+field), append(inWeights, "weights[1]."+field)
		}
		g := doughmath.Ingredient{Name: "part", Percent: 5, Role: c.role, WaterContent: c.water, Hydration: c.hydration}
		_, err := doughmath.FormulaScale{Ingredients: []doughmath.Ingredient{rolls()[0], g}, Flour: 1000}.Solve()
		assert.Equal(t, want, fields(err), "%+v", c)
		_, err = doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{
			{Name: "flour", Mass: 100, Role: doughmath.RoleFlour}, {Name: "part", Mass: 5, Role: c.role, WaterContent: c.water, Hydration: c.hydration},
		}}.Solve()
		assert.Equal(t, inWeights, fields(err), "%+v", c)
	}
	_, err := doughmath.FormulaScale{Ingredients: []doughmath.Ingredient{{Name: "flour", Percent: -1, Role: doughmath.RoleFlour}}, Flour: 1}.Solve()
	assert.ErrorContains(t, err, "want 0 % to 1000 %")
	_, err = doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{{Name: "flour", Mass: 0.005, Role: doughmath.RoleFlour}, {Mass: 0.01, Role: doughmath.RoleWater}}}.Solve()
	assert.Equal(t, []string{"weights[1].name"}, fields(err), "5 mg are flour enough")
	_, err = doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{{Name: "flour", Mass: 0.005, Role: doughmath.RoleFlour}}}.Solve()
	assert.NoError(t, err)
}

// A pinch counts.
func TestFormulaScaleOfAPinch(t *testing.T) {
	out, err := doughmath.FormulaScale{Ingredients: append(rolls()[:1], doughmath.Ingredient{Name: "saffron", Percent: 0.005, Role: doughmath.RoleOther}), Flour: 100000}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 100.005, float64(out.TotalPercent), 1e-12)
	assert.InDelta(t, 100005, float64(out.Dough), 1e-9)
}

// Ten tonnes are a whole number of grams, whatever binary arithmetic adds or takes: a hundred millionth of a gram is not weighed.
func TestRoundUpOfMuch(t *testing.T) {
	for _, off := range []unit.Mass{-5e-8, 5e-8} {
		out, err := doughmath.FormulaScale{Ingredients: rolls(), Flour: 1e7 + off, RoundUp: 1}.Solve()
		require.NoError(t, err)
		assert.Equal(t, unit.Mass(1e7), out.FlourUsed)
		assert.Zero(t, out.Conditions)
	}
}

// The working names the scale where there are several, and the division where there is one.
func TestFormulaScaleShowsTheScale(t *testing.T) {
	_, w, err := reckon.Explain(doughmath.FormulaScale{Ingredients: rolls(), Dough: 123456, Scales: shop()})
	require.NoError(t, err)
	assert.Contains(t, w.String(), "yeast, to weigh on the scale bench: m_5 = ")
	_, w, err = reckon.Explain(doughmath.FormulaScale{Ingredients: rolls(), Dough: 123456, Division: 5})
	require.NoError(t, err)
	assert.Contains(t, w.String(), "salt, to weigh: m_4 = floor(e_4/d)*d = ")
}

func TestFormulaScaleConditions(t *testing.T) {
	in := doughmath.FormulaScale{Ingredients: rolls(), Dough: 16550, Division: 5}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.Conditions(0), out.Conditions, "10 kg of flour needs no rounding to 5 g")

	in.Division = 100 // yeast is 150 g, sugar 400 g, salt 200 g, water 5800 g; only the total and the yeast are off
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.Conditions(reckon.Rounded|reckon.ScaleTooCoarse), out.Conditions)
	assert.Equal(t, unit.Mass(16600), out.Weighed)
	assert.Equal(t, unit.Mass(200), out.Parts[4].Mass)
	assert.Equal(t, unit.Mass(50), out.Parts[4].Error)

	// Off by 10 g: that is 6.7 % of 150 g of yeast, and 4 % of 250 g.
	in = doughmath.FormulaScale{Ingredients: rolls(), Flour: 10000, Division: 20}
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(160), out.Parts[4].Mass, "140 g and 20 g more would be short of the total")
	assert.Equal(t, doughmath.Conditions(reckon.Rounded|reckon.ScaleTooCoarse), out.Conditions, "10 g on 150 g")
	in.Ingredients[4].Percent = 2.5
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.Conditions(reckon.Rounded), out.Conditions, "10 g on 250 g")

	for salt, want := range map[unit.BakersPercent]doughmath.Conditions{0: 0, 0.9: doughmath.UnusualSalt, 1: 0, 3: 0, 3.1: doughmath.UnusualSalt} {
		in := doughmath.FormulaScale{Ingredients: rolls(), Flour: 1000}
		in.Ingredients[3].Percent = salt
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Conditions, "salt %v", salt)
	}
}

// Equal shares lose equally: the earlier ingredient is given the division, whatever the unit.
func TestFormulaScaleTies(t *testing.T) {
	for _, division := range []unit.Mass{unit.Grams(1), unit.Ounces(1), unit.Pounds(1)} {
		in := doughmath.FormulaScale{Dough: 4 * division, Division: division, Ingredients: []doughmath.Ingredient{
			{Name: "a", Percent: 50, Role: doughmath.RoleFlour},
			{Name: "b", Percent: 50, Role: doughmath.RoleFlour},
			{Name: "c", Percent: 50, Role: doughmath.RoleWater},
		}}
		out, err := in.Solve()
		require.NoError(t, err)
		assert.InDelta(t, 2, float64(out.Parts[0].Mass/division), 1e-12)
		assert.InDelta(t, 1, float64(out.Parts[1].Mass/division), 1e-12)
		assert.InDelta(t, 1, float64(out.Parts[2].Mass/division), 1e-12)
	}
}

// Whatever the formula and the scale, the parts add up, no part is off by a
// division or more, and the way back gives the percentages again.
func TestFormulaScaleThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := range 2000 {
		in := randomFormula(r)
		in.Division = unit.Mass(math.Pow(10, -3+6*r.Float64()))
		if in.Division > in.Dough {
			in.Division = in.Dough
		}
		out, err := in.Solve()
		require.NoError(t, err)
		sum, units := 0.0, 0.0
		for i, p := range out.Parts {
			sum += float64(p.Mass)
			u := float64(p.Mass) / float64(in.Division)
			units += math.Round(u)
			require.InDelta(t, math.Round(u), u, 1e-9*math.Max(1, u), "run %d: part %d is not whole", n, i)
			require.Less(t, math.Abs(float64(p.Error)), float64(in.Division)*(1+1e-6)+1e-12*float64(p.Exact), "run %d: part %d", n, i)
			require.GreaterOrEqual(t, float64(p.Mass), 0.0)
		}
		require.Equal(t, math.Round(float64(out.Weighed)/float64(in.Division)), units, "run %d", n)
		require.InDelta(t, float64(out.Weighed), sum, 1e-9*sum)
		require.LessOrEqual(t, math.Abs(float64(out.Weighed-out.Dough)), float64(in.Division)*(0.5+1e-6)+1e-12*float64(out.Dough))

		in.Division = 0
		out, err = in.Solve()
		require.NoError(t, err)
		var weights []doughmath.WeighedIngredient
		for i, p := range out.Parts {
			g := in.Ingredients[i]
			weights = append(weights, doughmath.WeighedIngredient{Name: p.Name, Mass: p.Mass, Role: g.Role, WaterContent: g.WaterContent, Hydration: g.Hydration})
		}
		back, err := doughmath.FormulaFromWeights{Weights: weights}.Solve()
		require.NoError(t, err)
		for i, g := range back.Ingredients {
			require.InEpsilon(t, 1+float64(in.Ingredients[i].Percent), 1+float64(g.Percent), 1e-12)
			require.Equal(t, in.Ingredients[i].Role, g.Role)
		}
		require.InEpsilon(t, float64(in.Dough), float64(back.Dough), 1e-12)
		again, err := doughmath.FormulaScale{Ingredients: in.Ingredients, Flour: out.Flour}.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(in.Dough), float64(again.Dough), 1e-12)
	}
}

func randomFormula(r *rand.Rand) doughmath.FormulaScale {
	white := unit.BakersPercent(100 * r.Float64())
	list := []doughmath.Ingredient{{Name: "white", Percent: white, Role: doughmath.RoleFlour}, {Name: "whole", Percent: 100 - white, Role: doughmath.RoleFlour}}
	for i := range 1 + r.IntN(10) {
		g := doughmath.Ingredient{Name: "part " + strconv.Itoa(i), Percent: unit.BakersPercent(80 * r.Float64())}
		switch r.IntN(5) {
		case 0:
			g.Role = doughmath.RoleWater
		case 1:
			g.Role, g.WaterContent = doughmath.RoleLiquid, unit.Percent(1+99*r.Float64())
		case 2:
			g.Role, g.Hydration = doughmath.RoleStarter, unit.BakersPercent(1+150*r.Float64())
		case 3:
			g.Role, g.WaterContent = doughmath.RoleOther, unit.Percent(100*r.Float64())
		default:
			g.Role = doughmath.RoleSalt
		}
		list = append(list, g)
	}
	return doughmath.FormulaScale{Ingredients: list, Dough: unit.Mass(math.Pow(10, 1+7*r.Float64()))}
}

func TestFormulaFromWeightsConditions(t *testing.T) {
	for salt, want := range map[unit.Mass]doughmath.Conditions{0: 0, 40: doughmath.UnusualSalt, 100: 0, 160: doughmath.UnusualSalt} {
		out, err := doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{
			{Name: "flour", Mass: 5000, Role: doughmath.RoleFlour}, {Name: "water", Mass: 3000, Role: doughmath.RoleWater}, {Name: "salt", Mass: salt, Role: doughmath.RoleSalt},
		}}.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Conditions, "%v", salt)
	}
}

// The limits that the errors name are taken, and an ingredient of 0 % too.
func TestFormulaBounds(t *testing.T) {
	list := []doughmath.Ingredient{{Name: "flour", Percent: 100, Role: doughmath.RoleFlour}, {Name: "malt", Role: doughmath.RoleOther}, {Name: "water", Percent: 1000, Role: doughmath.RoleWater}}
	for _, mass := range []unit.Mass{1e-3, 1e9} {
		out, err := doughmath.FormulaScale{Ingredients: list, Dough: mass, Division: 1e-3}.Solve()
		require.NoError(t, err)
		assert.Zero(t, out.Parts[1].Mass)
	}
}

// A thousand ingredients are taken, one more is refused.
func TestFormulaBoundsTheList(t *testing.T) {
	list := rolls()
	var weights []doughmath.WeighedIngredient
	for len(list) < 1000 {
		list = append(list, doughmath.Ingredient{Name: "seed", Percent: 0.01, Role: doughmath.RoleOther})
	}
	for _, g := range list {
		weights = append(weights, doughmath.WeighedIngredient{Name: g.Name, Mass: unit.Mass(g.Percent), Role: g.Role})
	}
	_, err := doughmath.FormulaScale{Ingredients: list, Dough: 1000}.Solve()
	require.NoError(t, err)
	_, err = doughmath.FormulaFromWeights{Weights: weights}.Solve()
	require.NoError(t, err)
	_, err = doughmath.FormulaScale{Ingredients: append(list, list[999]), Dough: 1000}.Solve()
	assert.ErrorContains(t, err, "1001 ingredients")
	_, err = doughmath.FormulaFromWeights{Weights: append(weights, weights[999])}.Solve()
	assert.ErrorContains(t, err, "1001 ingredients")
	_, err = doughmath.FormulaScale{Dough: 1000}.Solve()
	assert.ErrorContains(t, err, "0 ingredients")
}

func TestFormulaFromWeightsNamesEveryBadField(t *testing.T) {
	_, err := doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{
		{Name: "flour", Mass: -1, Role: doughmath.RoleFlour}, {Name: "water", Mass: unit.Mass(math.Inf(1)), Role: doughmath.RoleWater}, {Name: "x", Mass: 1},
	}}.Solve()
	assert.Equal(t, []string{"weights[0].mass", "weights[1].mass", "weights[2].role"}, fields(err))
	_, err = doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{{Name: "water", Mass: 1, Role: doughmath.RoleWater}}}.Solve()
	assert.ErrorContains(t, err, "without flour")
	_, err = doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{
		{Name: "flour", Mass: 1, Role: doughmath.RoleFlour}, {Name: "water", Mass: 10.1, Role: doughmath.RoleWater},
	}}.Solve()
	assert.Equal(t, []string{"weights[1].mass"}, fields(err))
	_, err = doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{
		{Name: "flour", Mass: 1, Role: doughmath.RoleFlour}, {Name: "water", Mass: 10, Role: doughmath.RoleWater},
	}}.Solve()
	require.NoError(t, err, "ten times the flour, and no more")
	_, err = doughmath.FormulaFromWeights{Weights: []doughmath.WeighedIngredient{
		{Name: "flour", Mass: 1, Role: doughmath.RoleFlour}, {Name: "levain", Mass: 1, Role: doughmath.RoleStarter},
	}}.Solve()
	assert.Equal(t, []string{"weights[1].hydration"}, fields(err), "its water content is left out, as it should be")
	_, err = doughmath.FormulaFromWeights{}.Solve()
	assert.Equal(t, []string{"weights"}, fields(err))
}

func TestFormulaListsDoNotAllocate(t *testing.T) {
	in := doughmath.FormulaScale{Ingredients: rolls(), Dough: 120000, Division: 5}
	parts := make([]doughmath.Part, 0, 8)
	weights := doughmath.FormulaFromWeights{}
	for _, g := range rolls() {
		weights.Weights = append(weights.Weights, doughmath.WeighedIngredient{Name: g.Name, Mass: unit.Mass(g.Percent), Role: g.Role})
	}
	ingredients := make([]doughmath.Ingredient, 0, 8)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := in.Append(parts); err != nil {
			t.Fatal(err)
		}
		if _, err := weights.Append(ingredients); err != nil {
			t.Fatal(err)
		}
	}))
}

// A list that holds something already keeps it, and the parts of this formula come after.
func TestFormulaScaleAppends(t *testing.T) {
	first, err := doughmath.FormulaScale{Ingredients: rolls(), Dough: 1000, Division: 10}.Solve()
	require.NoError(t, err)
	kept := append([]doughmath.Part(nil), first.Parts...)
	q := doughmath.FormulaScale{Ingredients: rolls(), Dough: 777, Division: 1}
	second, err := q.Append(first.Parts)
	require.NoError(t, err)
	var w reckon.Working
	q.Show(&w, second)
	assert.Equal(t, kept, second.Parts[:5])
	assert.Len(t, second.Parts, 10)
	assert.Equal(t, float64(second.Parts[9].Error), w.Steps[len(w.Steps)-1].Value)
}

func BenchmarkFormulaScale(b *testing.B) {
	in := doughmath.FormulaScale{Ingredients: rolls(), Dough: 123457, Division: 5}
	parts := make([]doughmath.Part, 0, 8)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Append(parts); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFormulaFromWeights(b *testing.B) {
	in := doughmath.FormulaFromWeights{}
	for _, g := range rolls() {
		in.Weights = append(in.Weights, doughmath.WeighedIngredient{Name: g.Name, Mass: unit.Mass(g.Percent), Role: g.Role})
	}
	list := make([]doughmath.Ingredient, 0, 8)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Append(list); err != nil {
			b.Fatal(err)
		}
	}
}

// No numbers make the family panic or let NaN or infinity out.
func FuzzFormula(f *testing.F) {
	f.Add(100.0, 60.0, 88.0, 100.0, 1000.0, 5.0)
	f.Add(100.0, 0.0, 0.0, 1e-300, 1e9, 1e-3)
	f.Add(100.0, 1000.0, 100.0, 1000.0, 1e-3, 0.0)
	f.Fuzz(func(t *testing.T, flour, p, water, hydration, mass, division float64) {
		list := []doughmath.Ingredient{
			{Name: "flour", Percent: unit.BakersPercent(flour), Role: doughmath.RoleFlour},
			{Name: "milk", Percent: unit.BakersPercent(p), Role: doughmath.RoleLiquid, WaterContent: unit.Percent(water)},
			{Name: "starter", Percent: unit.BakersPercent(p), Role: doughmath.RoleStarter, Hydration: unit.BakersPercent(hydration)},
		}
		scaled, err := doughmath.FormulaScale{Ingredients: list, Dough: unit.Mass(mass), Division: unit.Mass(division)}.Solve()
		marshals(t, scaled)
		if err == nil {
			weights := []doughmath.WeighedIngredient{}
			for i, p := range scaled.Parts {
				weights = append(weights, doughmath.WeighedIngredient{Name: p.Name, Mass: p.Mass, Role: list[i].Role, WaterContent: list[i].WaterContent, Hydration: list[i].Hydration})
			}
			back, _ := doughmath.FormulaFromWeights{Weights: weights}.Solve()
			marshals(t, back)
		}
		for _, reading := range []doughmath.LiquidReading{doughmath.LiquidsWhole, doughmath.LiquidsWater} {
			wet, _ := doughmath.Hydration{Ingredients: list, Liquids: reading}.Solve()
			marshals(t, wet)
			add, _ := doughmath.WaterForHydration{Ingredients: list, Liquids: reading, Hydration: unit.BakersPercent(division)}.Solve()
			marshals(t, add)
		}
	})
}

// The flours of a formula make 100 %, but for a millionth of a percent that binary arithmetic may lose.
func TestFlourSumTolerance(t *testing.T) {
	for flour, want := range map[unit.BakersPercent][]string{100 + 9.95e-7: nil, 100 + 1.005e-6: {"ingredients"}, 100 - 9.95e-7: nil, 100 - 1.005e-6: {"ingredients"}} {
		_, err := doughmath.FormulaScale{
			Ingredients: []doughmath.Ingredient{{Name: "flour", Percent: flour, Role: doughmath.RoleFlour}, {Name: "water", Percent: 60, Role: doughmath.RoleWater}}, Dough: 1000,
		}.Solve()
		assert.Equal(t, want, fields(err), flour)
	}
}
