package divider_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

var averageRules = []divider.RuleSetName{divider.RulesEU, divider.RulesUK, divider.RulesAustralia, divider.RulesNewZealand, divider.RulesUSCategoryA}

func refusedFields(err error) []string {
	var out []string
	for _, e := range reckon.InputErrors(err) {
		out = append(out, e.Field)
	}
	return out
}

func ExampleTolerableDeficiency() {
	loaf, err := divider.TolerableDeficiency{Rules: divider.RulesUK, Nominal: unit.Grams(400)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("few loaves below", loaf.FirstLimit, "and none below", loaf.SecondLimit)
	fmt.Println(loaf.RuleSet.Authority, "-", loaf.RuleSet.Edition)
	// Output:
	// few loaves below 388 g and none below 376 g
	// United Kingdom - SI 2006/659, Schedule 2, with the government's table to 25 kg
}

func ExampleLoafLimits() {
	loaf, err := divider.LoafLimits{Rules: divider.LoafTexas, Nominal: unit.Pounds(1.5)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("each loaf", loaf.WeightLow.In(unit.US), "to", loaf.WeightHigh.In(unit.US))
	// Output:
	// each loaf 1.406 lb to 1.594 lb
}

func TestTolerableDeficiencyRoundings(t *testing.T) {
	for _, tt := range []struct {
		id      string
		rules   divider.RuleSetName
		nominal float64
		want    float64
	}{
		{"an exact multiple is not rounded up", divider.RulesUK, 120, 5.4},
		{"a tenth more for the least bit over", divider.RulesUK, 120.1, 5.5},
		{"above a kilogram the UK keeps tenths", divider.RulesUK, 1250, 18.8},
		{"above a kilogram Australia takes whole grams", divider.RulesAustralia, 1250, 19},
		{"at a kilogram Australia still keeps tenths", divider.RulesAustralia, 999, 15},
		{"New Zealand is not rounded", divider.RulesNewZealand, 125, 5.625},
		{"the smallest US labels go by percent", divider.RulesUSCategoryA, 30, 3},
		{"the largest US labels go by percent", divider.RulesUSCategoryA, 30000, 600},
	} {
		t.Run(tt.id, func(t *testing.T) {
			got, err := divider.TolerableDeficiency{Rules: tt.rules, Nominal: unit.Grams(tt.nominal)}.Solve()
			require.NoError(t, err)
			assert.InDelta(t, tt.want, got.Deficiency.Grams(), 1e-12)
			assert.Equal(t, tt.rules, got.RuleSet.Name)
		})
	}
}

// The sources check the table against itself: it is continuous at every
// breakpoint, so it must rise (or stay) everywhere.
func TestTolerableDeficiencyNeverFalls(t *testing.T) {
	for _, rules := range []divider.RuleSetName{divider.RulesEU, divider.RulesUK, divider.RulesAustralia, divider.RulesNewZealand} {
		last := 0.0
		for q := 5.0; q <= 10000; q += 0.5 {
			got, err := divider.TolerableDeficiency{Rules: rules, Nominal: unit.Grams(q)}.Solve()
			require.NoError(t, err)
			require.GreaterOrEqual(t, got.Deficiency.Grams(), last, "%s at %v g", rules, q)
			last = got.Deficiency.Grams()
		}
	}
}

func TestTypedKilogramsRoundAsGrams(t *testing.T) {
	// 1.12 kg is 1120 g and a bit in binary; 1.5 % of it is 16.8 g, not 16.9 g.
	for _, text := range []string{"1.12 kg", "1120 g", "0.00112 t"} {
		m, err := unit.ParseMass(text)
		require.NoError(t, err)
		got, err := divider.TolerableDeficiency{Rules: divider.RulesUK, Nominal: m}.Solve()
		require.NoError(t, err)
		assert.Equal(t, unit.Grams(16.8), got.Deficiency, text)
	}
}

// Every gram figure of Handbook 133's recalled table is the pound figure cut
// off, at 0.1 g below 100 g and at 1 g above. A slip of memory would break the
// pattern; that it does not is no proof that the table is right.
func TestRecalledVariationsAreConsistent(t *testing.T) {
	for _, r := range []struct{ to, variation float64 }{
		{0.12, 0.008},
		{0.18, 0.012},
		{0.26, 0.016},
		{0.34, 0.02},
		{0.46, 0.024},
		{0.58, 0.028},
		{0.70, 0.032},
		{0.84, 0.036},
		{0.94, 0.040},
		{1.08, 0.044},
		{1.26, 0.048},
		{1.40, 0.052},
		{1.54, 0.056},
		{1.70, 0.060},
		{1.88, 0.064},
		{2.14, 0.070},
		{2.48, 0.078},
		{2.76, 0.086},
		{3.20, 0.094},
		{3.90, 0.11},
		{4.70, 0.12},
		{5.80, 0.14},
		{6.80, 0.15},
		{7.90, 0.17},
		{9.40, 0.19},
		{11.7, 0.22},
		{14.3, 0.25},
		{17.7, 0.28},
		{23.2, 0.31},
		{31.6, 0.37},
		{42.4, 0.44},
		{54.4, 0.50},
	} {
		got, err := divider.TolerableDeficiency{Rules: divider.RulesUSCategoryA, Nominal: unit.Pounds(r.to)}.Solve()
		require.NoError(t, err)
		g := unit.Pounds(r.variation).Grams()
		want := math.Floor(g*10) / 10
		if g >= 100 {
			want = math.Floor(g)
		}
		assert.InDelta(t, want, got.Deficiency.Grams(), 1e-9, "to %v lb", r.to)
		assert.True(t, got.Conditions.Has(reckon.FromMemory))
		assert.Zero(t, got.SecondLimit)
	}
}

// A label at the very end of a row stays in it, in whatever unit it was typed.
func TestRowEndsHoldInEveryUnit(t *testing.T) {
	for _, text := range []string{"0.26 lb", "4.16 oz", "117.9340162 g", "0.1179340162 kg"} {
		m, err := unit.ParseMass(text)
		require.NoError(t, err)
		got, err := divider.TolerableDeficiency{Rules: divider.RulesUSCategoryA, Nominal: m}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, 7.2, got.Deficiency.Grams(), 1e-9, text)
	}
}

func TestEveryRuleSetSaysWhoseItIs(t *testing.T) {
	for _, name := range append(averageRules, divider.LoafTexas, divider.LoafSriLanka) {
		set, ok := divider.RuleSetFor(name)
		require.True(t, ok)
		assert.Equal(t, name, set.Name)
		assert.NotEmpty(t, set.Authority)
		assert.NotEmpty(t, set.Edition)
		assert.NotEmpty(t, set.Note)
		assert.Contains(t, []divider.Standing{divider.SeenInText, divider.SeenInReports, divider.PartRecalled, divider.Recalled}, set.Standing)
	}
	_, ok := divider.RuleSetFor("somewhere")
	assert.False(t, ok)
}

func TestTolerableDeficiencyRefuses(t *testing.T) {
	for _, tt := range []struct {
		id   string
		in   divider.TolerableDeficiency
		want []string
	}{
		{"nothing given", divider.TolerableDeficiency{}, []string{"rules", "nominal"}},
		{"nominal zero", divider.TolerableDeficiency{Rules: divider.RulesEU}, []string{"nominal"}},
		{"below the scope", divider.TolerableDeficiency{Rules: divider.RulesUK, Nominal: 4.9}, []string{"nominal"}},
		{"above the scope", divider.TolerableDeficiency{Rules: divider.RulesEU, Nominal: 10001}, []string{"nominal"}},
		{"not a number", divider.TolerableDeficiency{Rules: divider.RulesUSCategoryA, Nominal: unit.Mass(math.NaN())}, []string{"nominal"}},
		{"a loaf ordinance", divider.TolerableDeficiency{Rules: divider.LoafTexas, Nominal: 453.59237}, []string{"rules"}},
	} {
		t.Run(tt.id, func(t *testing.T) {
			got, err := tt.in.Solve()
			assert.Equal(t, tt.want, refusedFields(err))
			assert.Zero(t, got)
		})
	}
	_, err := divider.TolerableDeficiency{Rules: "de", Nominal: 400}.Solve()
	assert.ErrorContains(t, err, `rules is "de": want "eu-76-211", "uk-2006-659", "au-ntmr-2009", "nz-1999-373" or "us-hb133-a"`)
}

func TestLoafLimits(t *testing.T) {
	got, err := divider.LoafLimits{Rules: divider.LoafTexas, Nominal: unit.Pounds(3)}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 45, got.WeightLow.Ounces(), 1e-9)
	assert.InDelta(t, 51, got.WeightHigh.Ounces(), 1e-9)
	_, err = divider.LoafLimits{Rules: divider.LoafSriLanka, Nominal: 400}.Solve()
	assert.Equal(t, []string{"nominal"}, refusedFields(err))
	_, err = divider.LoafLimits{Rules: divider.RulesEU}.Solve()
	assert.Equal(t, []string{"rules", "nominal"}, refusedFields(err))
	for _, half := range []float64{0, 0.5, 2.5, math.NaN(), math.Inf(1), -1} {
		_, err = divider.LoafLimits{Rules: divider.LoafTexas, Nominal: unit.Pounds(half)}.Solve()
		assert.Equal(t, []string{"nominal"}, refusedFields(err), "%v lb", half)
	}
}

func FuzzRuleSets(f *testing.F) {
	f.Add("uk-2006-659", 400.0)
	f.Add("us-hb133-a", 453.6)
	f.Add("us-tx-434-007", 453.59237)
	f.Fuzz(func(t *testing.T, rules string, nominal float64) {
		a, err := divider.TolerableDeficiency{Rules: divider.RuleSetName(rules), Nominal: unit.Mass(nominal)}.Solve()
		if err == nil {
			_, err = json.Marshal(a) // refuses NaN and infinity
			require.NoError(t, err)
			assert.Less(t, a.FirstLimit, unit.Mass(nominal))
		}
		b, err := divider.LoafLimits{Rules: divider.RuleSetName(rules), Nominal: unit.Mass(nominal)}.Solve()
		if err == nil {
			_, err = json.Marshal(b)
			require.NoError(t, err)
		}
	})
}

func TestRuleSetsAllocateNothing(t *testing.T) {
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := (divider.TolerableDeficiency{Rules: divider.RulesUSCategoryA, Nominal: 400}).Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.LoafLimits{Rules: divider.LoafSriLanka, Nominal: 450}).Solve(); err != nil {
			t.Error(err)
		}
	}))
}

func BenchmarkTolerableDeficiency(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.TolerableDeficiency{Rules: divider.RulesUK, Nominal: 400}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
