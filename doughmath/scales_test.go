package doughmath_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// shop has a scale in the floor and one on the bench, which is kept for the yeast.
func shop() []doughmath.Scale {
	return []doughmath.Scale{
		{Name: "floor", Division: 100},
		{Name: "bench", Division: 1, Capacity: 3000, For: []string{"yeast"}},
		{Name: "table", Division: 5, Capacity: 12000},
	}
}

func ExampleFormulaScale_scales() {
	out, err := doughmath.FormulaScale{Ingredients: rolls(), Dough: 123456, Scales: shop()}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range out.Parts {
		fmt.Printf("%s %g g on the %s scale\n", p.Name, float64(p.Mass), p.Scale)
	}
	fmt.Println("together", out.Weighed)
	// Output:
	// flour 74600 g on the floor scale
	// water 43300 g on the floor scale
	// sugar 2984 g on the bench scale
	// salt 1492 g on the bench scale
	// yeast 1119 g on the bench scale
	// together 123.5 kg
}

// adds holds the weights of one mix to their scales: whole divisions, no part
// off by as much as one, and together right to the nearest of the coarsest.
func adds(t *testing.T, parts []doughmath.Part, total unit.Mass) (sum unit.Mass) {
	t.Helper()
	coarsest := unit.Mass(0)
	for _, p := range parts {
		require.Positive(t, p.Division)
		require.InDelta(t, math.Round(float64(p.Mass/p.Division)), float64(p.Mass/p.Division), 1e-9, "%+v", p)
		require.Less(t, math.Abs(float64(p.Mass-p.Exact)), float64(p.Division)*(1+1e-9), "%+v", p)
		coarsest = max(coarsest, p.Division)
		sum += p.Mass
	}
	require.LessOrEqual(t, math.Abs(float64(sum-total)), float64(coarsest)/2*(1+1e-9))
	return sum
}

func TestSeveralScales(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 3))
	used := map[string]int{}
	for range 3000 {
		q := randomFormula(r)
		q.Dough, q.Flour, q.Division = unit.Mass(100+3e5*r.Float64()), 0, 0
		if r.IntN(2) == 0 {
			q.RoundUp = unit.Mass(1 + 5000*r.Float64())
		}
		q.Scales = shop()
		q.Scales[1].For = []string{q.Ingredients[len(q.Ingredients)-1].Name}
		q.Scales[1].Capacity = 1e6
		out, w, err := reckon.Explain(q)
		require.NoError(t, err)
		isTrue(t, w)
		made := out.Dough
		if q.RoundUp > 0 {
			made = out.DoughMade
			require.GreaterOrEqual(t, float64(out.FlourUsed), float64(out.Flour)*(1-1e-9))
			require.Less(t, float64(out.FlourUsed), float64(out.Flour+q.RoundUp))
			require.InDelta(t, math.Round(float64(out.FlourUsed/q.RoundUp)), float64(out.FlourUsed/q.RoundUp), 1e-9)
		}
		require.InDelta(t, float64(adds(t, out.Parts, made)), float64(out.Weighed), 1e-6)
		for _, p := range out.Parts {
			used[p.Scale]++
			finest := p.Exact <= 12000
			require.Equal(t, p.Name == q.Scales[1].For[0] || p.Exact <= 1e6 && finest || p.Exact <= 1e6, p.Scale == "bench", "%+v", p)
		}
		require.Equal(t, "bench", out.Parts[len(out.Parts)-1].Scale)
	}
	assert.Positive(t, used["bench"])
}

// A weight goes to the finest scale that takes it.
func TestFinestScaleThatTakesIt(t *testing.T) {
	q := doughmath.FormulaScale{Ingredients: rolls(), Scales: shop()}
	for flour, want := range map[unit.Mass]string{3000: "bench", 3001: "table", 12000: "table", 12001: "floor"} {
		q.Flour = flour
		out, err := q.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, out.Parts[0].Scale, "%v", flour)
	}
	q.Flour = 250000 // 3750 g of yeast
	_, err := q.Solve()
	assert.Equal(t, []string{"scales"}, fields(err))
	assert.ErrorContains(t, err, `"bench" takes 3 kg: want a scale for the 3.75 kg of yeast`)
	q.Scales = q.Scales[2:]
	_, err = q.Solve()
	assert.ErrorContains(t, err, "none that takes 250 kg: want a scale for the 250 kg of flour")
}

func TestScalesRefuse(t *testing.T) {
	q := doughmath.FormulaScale{Ingredients: rolls(), Dough: 1000, Division: 1, Scales: []doughmath.Scale{
		{Division: -1}, {Name: "a", Division: 5, Capacity: 4}, {Name: "a", Division: 1, For: []string{"salt", "salt"}}, {Name: "b", Division: 1, For: []string{"salt"}},
	}}
	_, err := q.Solve()
	assert.Equal(t, []string{"division", "scales[0].name", "scales[0].division", "scales[1].capacity", "scales[2].name", "scales[2].for[1]", "scales[3].for[0]"}, fields(err))
	q.Division, q.Scales = 0, []doughmath.Scale{{Name: "a", Division: 1, For: []string{"malt"}}}
	_, err = q.Solve()
	assert.Equal(t, []string{"scales[0].for[0]"}, fields(err))
	q.Scales[0].Capacity = 1
	_, err = q.Solve()
	assert.Equal(t, []string{"scales[0].for[0]"}, fields(err), "what it is kept for comes before what it takes")
	q.Scales = []doughmath.Scale{{Name: "a", Division: 1, For: make([]string, 101)}}
	_, err = q.Solve()
	assert.Equal(t, []string{"scales[0].for"}, fields(err))
	q.Scales = make([]doughmath.Scale, 17)
	_, err = q.Solve()
	assert.Equal(t, []string{"scales"}, fields(err))
}

// By hand: 3000 g of batter of 377.5 % take 794.70 g of flour; with 800 g it is 3020 g of batter.
func TestRoundUp(t *testing.T) {
	q := doughmath.FormulaScale{Ingredients: []doughmath.Ingredient{
		{Name: "cake flour", Percent: 100, Role: doughmath.RoleFlour}, {Name: "the rest", Percent: 277.5, Role: doughmath.RoleOther},
	}, Dough: 3000, RoundUp: 100, Division: 1}
	out, w, err := reckon.Explain(q)
	require.NoError(t, err)
	isTrue(t, w)
	assert.Equal(t, [4]unit.Mass{800, 2220, 3020, 3020}, [4]unit.Mass{out.Parts[0].Mass, out.Parts[1].Mass, out.Weighed, out.DoughMade})
	assert.True(t, out.Conditions.Has(doughmath.Conditions(reckon.Rounded)))
	q.Dough, q.Flour = 0, 800
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(800), out.FlourUsed, "what is a whole multiple stays")
	assert.Zero(t, out.Conditions)
	q.RoundUp = -1
	_, err = q.Solve()
	assert.Equal(t, []string{"round_up"}, fields(err))
}

// Every mix adds up on its scale; a preferment goes in as it was made; and
// what all mixes take of an ingredient is what the formula asks for, to a division for each mix.
func TestEveryMixAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 4))
	for n := range 2000 {
		q := hearth()
		q.Flour = unit.Mass(20000 + 3e5*r.Float64())
		q.Division = []unit.Mass{1, 5, 10, 50}[r.IntN(4)]
		q.Preferments[0].Division = []unit.Mass{0, 1, 20, 100}[r.IntN(4)]
		q.Preferments[1].Division = []unit.Mass{0, 1, 20, 100}[r.IntN(4)]
		if n%2 == 0 {
			q.Division, q.Scales = 0, []doughmath.Scale{{Name: "floor", Division: 50}, {Name: "bench", Division: 2, Capacity: 6000}}
		}
		mother := n%3 == 0
		if mother { // divided: into the levain, and the rest into the final mix
			q.Preferments[0].Parts = append(q.Preferments[0].Parts, doughmath.PrefermentPart{Name: "mother", Percent: 20})
			q.Preferments = append(q.Preferments, doughmath.Preferment{
				Name: "mother", Amount: 2, Reading: doughmath.MassOnFlour, Division: 5,
				Parts: []doughmath.PrefermentPart{{Name: "white flour", Percent: 100}, {Name: "water", Percent: 100}},
			})
		}
		out, w, err := reckon.Explain(q)
		require.NoError(t, err)
		isTrue(t, w)
		made := map[string]unit.Mass{}
		taken := map[string]unit.Mass{}
		for from := 0; from < len(out.Parts); {
			mix := out.Parts[from].Mix
			to := from
			for to < len(out.Parts) && out.Parts[to].Mix == mix {
				to++
			}
			var own, exact, coarsest, sum unit.Mass
			for _, p := range out.Parts[from:to] {
				sum += p.Mass
				if p.Division == 0 {
					taken[p.Name] += p.Mass
					continue
				}
				if slices.ContainsFunc(q.Preferments, func(f doughmath.Preferment) bool { return f.Name == p.Name }) {
					taken[p.Name] += p.Mass
				}
				require.InDelta(t, math.Round(float64(p.Mass/p.Division)), float64(p.Mass/p.Division), 1e-9, "%+v", p)
				own, exact, coarsest = own+p.Mass, exact+p.Exact, max(coarsest, p.Division)
			}
			require.LessOrEqual(t, math.Abs(float64(own-exact)), float64(coarsest)/2*(1+1e-9), mix)
			made[mix] = sum
			from = to
		}
		for _, f := range q.Preferments {
			require.InDelta(t, float64(made[f.Name]), float64(taken[f.Name]), 1e-6, "%s goes in as it was made", f.Name)
		}
		require.InDelta(t, float64(made[doughmath.FinalMix]), float64(out.Weighed), 1e-6)
		require.InDelta(t, float64(out.Dough), float64(out.Weighed), 100*4)
	}
}

func TestPrefermentDivisionRefuses(t *testing.T) {
	q := hearth()
	q.Division, q.Preferments[0].Division = 19000, -1
	_, err := q.Solve()
	assert.Equal(t, []string{"preferments[0].division"}, fields(err))
	q.Preferments[0].Division = 1801
	_, err = q.Solve()
	assert.Equal(t, []string{"preferments[0].division"}, fields(err), "all of the levain is 1.8 kg")
	q.Preferments[0].Division, q.Preferments[1].Division = 1, 1
	_, err = q.Solve()
	assert.Equal(t, []string{"division"}, fields(err), "the dough is 18.4 kg")
	q.Division, q.Scales = 0, []doughmath.Scale{{Name: "bench", Division: 1, Capacity: 5000}}
	_, err = q.Solve()
	assert.ErrorContains(t, err, "9 kg of white flour")
	// Nearly all of the mother goes into the levain; to 100 g that is more than was made.
	q = hearth()
	q.Preferments[0].Parts = append(q.Preferments[0].Parts, doughmath.PrefermentPart{Name: "mother", Percent: 20})
	q.Preferments = append(q.Preferments, doughmath.Preferment{
		Name: "mother", Amount: 0.01, Reading: doughmath.MassOnFlour, Division: 1,
		Parts: []doughmath.PrefermentPart{{Name: "white flour", Percent: 100}, {Name: "water", Percent: 100}},
	})
	q.Preferments[0].Division = 100
	_, err = q.Solve()
	assert.ErrorContains(t, err, "less than nothing is left")
}
