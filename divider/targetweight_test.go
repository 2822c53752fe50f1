package divider_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func loaf() divider.TargetWeight {
	return divider.TargetWeight{
		Rules: divider.RulesUK, Nominal: 400, SD: 7, SecondShare: 0.01,
		Bake: doughmath.Loss{Percent: 10, Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
		PiecesPerDay: 10000, DaysPerYear: 300, CostPerKg: 0.9,
	}
}

// The target must do what it promises: at it no share is above what is
// tolerated, and a little lower some rule is broken.
func TestTargetIsTheLowestMean(t *testing.T) {
	for _, rules := range []divider.RuleSetName{divider.RulesEU, divider.RulesUK, divider.RulesAustralia, divider.RulesNewZealand, divider.RulesUSCategoryA} {
		for _, nominal := range []unit.Mass{60, 125, 400, 800, 1250} {
			for _, part := range []unit.Mass{0.001, 0.01, 0.02, 0.05} {
				in := loaf()
				in.Rules, in.Nominal, in.SD, in.FirstShare = rules, nominal, nominal*part, 2
				if rules == divider.RulesUSCategoryA {
					in.SecondShare = 0
				}
				got, err := in.Solve()
				require.NoError(t, err)
				legal := func(mean unit.Mass) bool {
					f, err := divider.FractionBelow{Rules: rules, Nominal: nominal, Mean: mean, SD: in.SD}.Solve()
					require.NoError(t, err)
					const slack = 1e-9
					return f.Giveaway >= -slack && f.BelowFirst <= 2+slack && f.BelowSecond <= 0.01+slack
				}
				assert.True(t, legal(got.Target), "%s %v %v", rules, nominal, in.SD)
				assert.False(t, legal(got.Target-0.001*in.SD), "%s %v %v", rules, nominal, in.SD)
				assert.Equal(t, got.LimitedBy != divider.LimitedByAverage, got.Conditions.Has(divider.NotCapable))
			}
		}
	}
}

func TestSDForTargetGoesThereAndBack(t *testing.T) {
	for _, tt := range []struct{ spread, drift unit.Mass }{{7, 0}, {9, 0}, {12, 1.5}, {30, 3}} {
		in := loaf()
		in.SD, in.Drift = tt.spread, tt.drift
		got, err := in.Solve()
		require.NoError(t, err)
		require.NotEqual(t, divider.LimitedByAverage, got.LimitedBy)
		back, err := divider.SDForTarget{Rules: in.Rules, Nominal: in.Nominal, Target: got.Target, SecondShare: in.SecondShare, Drift: in.Drift}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, tt.spread.Grams(), back.SD.Grams(), 1e-9)
		assert.Equal(t, got.LimitedBy, back.LimitedBy)
	}
	// At the label itself there is still a spread that will do.
	back, err := divider.SDForTarget{Rules: divider.RulesUK, Nominal: 400, Target: 400, SecondShare: 0.01}.Solve()
	require.NoError(t, err)
	assert.Greater(t, back.SD, unit.Mass(6))
}

func TestGiveawaySums(t *testing.T) {
	in := loaf()
	in.SD, in.Drift = 0, 2 // aims 2 g over the label
	got, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(402), got.Target)
	assert.InDelta(t, 402/0.9, got.Dough.Grams(), 1e-9)
	assert.InDelta(t, 388/0.9, got.DoughFirst.Grams(), 1e-9)
	assert.InDelta(t, 376/0.9, got.DoughSecond.Grams(), 1e-9)
	assert.InDelta(t, 2*10000/0.9/1000, got.GiveawayDay.Kilograms(), 1e-9, "2 g on 10 000 pieces, as dough")
	assert.InDelta(t, got.GiveawayDay.Kilograms()*300, got.GiveawayYear.Kilograms(), 1e-6)
	assert.InDelta(t, got.GiveawayDay.Kilograms()*0.9, got.CostDay, 1e-9)
	assert.InDelta(t, got.CostDay*300, got.CostYear, 1e-6)
	assert.InDelta(t, got.CostYear/2, got.GramYear, 1e-6, "two grams cost twice one gram")
	assert.Zero(t, got.BetterTarget, "no better spread was given")
	assert.Zero(t, got.SavingYear)
}

func TestBetterSpreadSaves(t *testing.T) {
	in := loaf()
	in.SD, in.BetterSD = 12, 8
	got, err := in.Solve()
	require.NoError(t, err)
	in.SD, in.BetterSD = 8, 0
	better, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, better.Target, got.BetterTarget)
	assert.InDelta(t, got.CostYear-better.CostYear, got.SavingYear, 1e-6)
	in.SD, in.BetterSD = 3, 2
	none, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, none.SavingYear, "where the average binds, less spread saves no dough")
}

// The inspector's allowance is no target: a packer who aimed at the lowest mean
// that the test lets pass would be below the rule for packers.
func TestInspectorsLimitIsBelowTheTarget(t *testing.T) {
	sample := drawn(50, 390, 391, 409, 412)
	lot, err := divider.LotCheck{Rules: divider.RulesUK, Sampling: divider.SampleSingle, Nominal: 400, Lot: 300, Sample: sample}.Solve()
	require.NoError(t, err)
	in := loaf()
	in.SD = max(lot.SD, 1)
	target, err := in.Solve()
	require.NoError(t, err)
	assert.Less(t, lot.MeanLimit, unit.Mass(400))
	assert.GreaterOrEqual(t, target.Target, unit.Mass(400))
	short, err := divider.FractionBelow{Rules: divider.RulesUK, Nominal: 400, Mean: lot.MeanLimit, SD: in.SD}.Solve()
	require.NoError(t, err)
	assert.True(t, short.Conditions.Has(divider.BelowLabel))
}

func TestLoafOrdinanceHasTwoSides(t *testing.T) {
	in := loaf()
	in.Rules, in.Nominal, in.SD, in.FirstShare, in.SecondShare = divider.LoafTexas, unit.Pounds(1), unit.Ounces(0.3), 2.5, 0
	got, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 16, got.Target.Ounces(), 1e-9, "15 oz and 1.96 times 0.3 oz is below the pound")
	assert.False(t, got.Conditions.Has(divider.NotCapable))
	in.SD = unit.Ounces(0.52) // 16 oz and 1.96 times 0.52 oz is above 17 oz
	got, err = in.Solve()
	require.NoError(t, err)
	assert.True(t, got.Conditions.Has(divider.NotCapable))
	in.Rules, in.Nominal, in.SD = divider.LoafSriLanka, 450, 3
	got, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(436.5), got.FirstLimit)
	assert.Zero(t, got.DoughSecond)
}

func TestTargetWeightRefuses(t *testing.T) {
	for _, tt := range []struct {
		id   string
		bend func(*divider.TargetWeight)
		want []string
	}{
		{"nothing given", func(in *divider.TargetWeight) { *in = divider.TargetWeight{} }, []string{"rules", "nominal", "bake.basis", "combine"}},
		{"unknown rules and a negative spread", func(in *divider.TargetWeight) { in.Rules, in.SD, in.Drift = "home", -1, -1 }, []string{"rules", "sd", "drift"}},
		{"nominal zero", func(in *divider.TargetWeight) { in.Nominal = 0 }, []string{"nominal"}},
		{"negative spread", func(in *divider.TargetWeight) { in.SD = -0.1 }, []string{"sd"}},
		{"spread beyond sense", func(in *divider.TargetWeight) { in.SD = 101 }, []string{"sd"}},
		{"more light pieces than one in forty in the UK", func(in *divider.TargetWeight) { in.FirstShare = 3 }, []string{"first_share"}},
		{"no share where the rules name none", func(in *divider.TargetWeight) { in.Rules = divider.RulesEU }, []string{"first_share"}},
		{"no share below the second limit", func(in *divider.TargetWeight) { in.SecondShare = 0 }, []string{"second_share"}},
		{"a second limit that is not there", func(in *divider.TargetWeight) { in.Rules, in.FirstShare = divider.RulesUSCategoryA, 2 }, []string{"second_share"}},
		{"a better spread that is worse", func(in *divider.TargetWeight) { in.BetterSD = 8 }, []string{"better_sd"}},
		{"no standard loaf", func(in *divider.TargetWeight) { in.Rules, in.FirstShare, in.SecondShare = divider.LoafTexas, 2, 0 }, []string{"nominal"}},
		{"every sum wrong", func(in *divider.TargetWeight) {
			in.Bake.Percent, in.PiecesPerDay, in.DaysPerYear, in.CostPerKg = 100, -1, 367, math.Inf(1)
		}, []string{"bake.percent", "pieces_per_day", "days_per_year", "cost_per_kg"}},
	} {
		t.Run(tt.id, func(t *testing.T) {
			in := loaf()
			tt.bend(&in)
			got, err := in.Solve()
			assert.Equal(t, tt.want, refusedFields(err), "%v", err)
			assert.Zero(t, got)
		})
	}
}

func TestSDForTargetNeedsTheAverage(t *testing.T) {
	_, err := divider.SDForTarget{Rules: divider.RulesUK, Nominal: 400, Target: 401, SecondShare: 0.01, Drift: 2}.Solve()
	var none *reckon.NoSolutionError
	require.True(t, errors.As(err, &none))
	assert.Equal(t, "402 g", none.Low)
	_, err = divider.SDForTarget{Rules: divider.RulesUK, Nominal: 400, Target: 900, Drift: -1}.Solve()
	assert.Equal(t, []string{"second_share", "target", "drift"}, refusedFields(err))
	_, err = divider.SDForTarget{}.Solve()
	assert.Equal(t, []string{"rules", "nominal", "target"}, refusedFields(err))
	_, err = divider.FractionBelow{Rules: divider.RulesUK, Nominal: 400, Mean: 100, SD: 0}.Solve()
	assert.Equal(t, []string{"mean", "sd"}, refusedFields(err))
	_, err = divider.FractionBelow{}.Solve()
	assert.Equal(t, []string{"rules", "nominal", "mean", "sd"}, refusedFields(err))
}

func FuzzTargetWeight(f *testing.F) {
	f.Add("uk-2006-659", 400.0, 7.0, 0.0, 0.01, 1.0, 10.0, 10000, 300, 0.9, 5.0)
	f.Add("us-tx-434-007", 453.59237, 20.0, 2.5, 0.0, 0.0, 99.99999999999999, 10_000_000, 366, 1e6, 0.0)
	f.Fuzz(func(t *testing.T, rules string, nominal, spread, first, second, drift, loss float64, pieces, days int, cost, better float64) {
		got, err := divider.TargetWeight{
			Rules: divider.RuleSetName(rules), Nominal: unit.Mass(nominal), SD: unit.Mass(spread),
			FirstShare: unit.Percent(first), SecondShare: unit.Percent(second), Drift: unit.Mass(drift),
			Bake: doughmath.Loss{Percent: unit.Percent(loss), Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
			PiecesPerDay: pieces, DaysPerYear: days, CostPerKg: cost, BetterSD: unit.Mass(better),
		}.Solve()
		if err == nil {
			_, err = json.Marshal(got) // refuses NaN and infinity
			require.NoError(t, err)
			assert.GreaterOrEqual(t, got.Giveaway, unit.Mass(0))
		}
		limit, err := divider.SDForTarget{
			Rules: divider.RuleSetName(rules), Nominal: unit.Mass(nominal), Target: unit.Mass(nominal + drift),
			FirstShare: unit.Percent(first), SecondShare: unit.Percent(second), Drift: unit.Mass(drift),
		}.Solve()
		if err == nil {
			_, err = json.Marshal(limit)
			require.NoError(t, err)
		}
		share, err := divider.FractionBelow{Rules: divider.RuleSetName(rules), Nominal: unit.Mass(nominal), Mean: unit.Mass(nominal + drift), SD: unit.Mass(spread)}.Solve()
		if err == nil {
			_, err = json.Marshal(share)
			require.NoError(t, err)
		}
	})
}

func TestTargetWeightAllocatesNothing(t *testing.T) {
	in := loaf()
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := in.Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.SDForTarget{Rules: divider.RulesUK, Nominal: 400, Target: 402, SecondShare: 0.01}).Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.FractionBelow{Rules: divider.RulesUK, Nominal: 400, Mean: 402, SD: 6}).Solve(); err != nil {
			t.Error(err)
		}
	}))
}

func BenchmarkTargetWeight(b *testing.B) {
	in := loaf()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleTargetWeight() {
	loaf, err := divider.TargetWeight{
		Rules: divider.RulesUK, Nominal: unit.Grams(400), SD: unit.Grams(7),
		SecondShare: 0.01, // one in ten thousand
		Bake:        doughmath.Loss{Percent: 11, Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
		PiecesPerDay: 12000, DaysPerYear: 300, CostPerKg: 0.9, BetterSD: unit.Grams(5),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("aim at %s, scale %s of dough (%s)\n", loaf.Target, loaf.Dough, loaf.LimitedBy)
	fmt.Printf("%s of dough given away in a day, %.0f in money a year; the better spread saves %.0f\n", loaf.GiveawayDay, loaf.CostYear, loaf.SavingYear)
	// Output:
	// aim at 402 g, scale 451.7 g of dough (second-limit)
	// 27.41 kg of dough given away in a day, 7401 in money a year; the better spread saves 7401
}

func ExampleSDForTarget() {
	line, err := divider.SDForTarget{Rules: divider.RulesUK, Nominal: unit.Grams(400), Target: unit.Grams(401), SecondShare: 0.01}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the standard deviation may be up to %s\n", line.SD)
	// Output:
	// the standard deviation may be up to 6.633 g
}

func ExampleFractionBelow() {
	loaf, err := divider.FractionBelow{Rules: divider.RulesUK, Nominal: unit.Grams(400), Mean: unit.Grams(403), SD: unit.Grams(6)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s below the label, %s below the first limit, %s given away on a loaf\n", loaf.BelowNominal, loaf.BelowFirst, loaf.Giveaway)
	// Output:
	// 30.85 % below the label, 0.621 % below the first limit, 3 g given away on a loaf
}

// A limit that no piece may pass is told when more than a few pass it, and so
// is the upper one of a loaf ordinance.
func TestFractionBelowTellsEveryLimit(t *testing.T) {
	for _, tt := range []struct {
		name         string
		in           divider.FractionBelow
		below, above bool
	}{
		{"loaf below its least", divider.FractionBelow{Rules: divider.LoafSriLanka, Nominal: 450, Mean: 455, SD: 20}, true, false},
		{"loaf above its most", divider.FractionBelow{Rules: divider.LoafTexas, Nominal: unit.Pounds(1), Mean: 490, SD: 5}, false, true},
		{"loaf within both", divider.FractionBelow{Rules: divider.LoafTexas, Nominal: unit.Pounds(1), Mean: 460, SD: 3}, false, false},
		{"packages below the second limit", divider.FractionBelow{Rules: divider.RulesEU, Nominal: 400, Mean: 401, SD: 12}, true, false},
		{"packages above it", divider.FractionBelow{Rules: divider.RulesEU, Nominal: 400, Mean: 401, SD: 4}, false, false},
	} {
		got, err := tt.in.Solve()
		require.NoError(t, err, tt.name)
		assert.Equal(t, tt.below, got.Conditions.Has(divider.BelowLabel), tt.name)
		assert.Equal(t, tt.above, got.Conditions.Has(divider.AboveLimit), tt.name)
		assert.Equal(t, tt.above, got.AboveMost > 50, tt.name)
	}
	loaf, err := divider.SDForTarget{Rules: divider.LoafTexas, Nominal: unit.Pounds(1), Target: 490, FirstShare: 2}.Solve()
	require.NoError(t, err)
	assert.True(t, loaf.Conditions.Has(divider.AboveLimit))
}

// What depends on a value that is refused is not refused for that.
func TestTargetIsRefusedOnce(t *testing.T) {
	q := divider.TargetWeight{
		Rules: divider.RulesUK, Nominal: 400, SD: -1, SecondShare: 0.01, BetterSD: 1,
		Bake: doughmath.Loss{Percent: 10, Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
	}
	_, err := q.Solve()
	assert.Equal(t, []string{"sd"}, refusedFields(err))
	q.SD = 0
	_, err = q.Solve()
	assert.Equal(t, []string{"better_sd"}, refusedFields(err), "nothing is steadier than no scatter")
	_, err = divider.SDForTarget{Rules: "mine", Nominal: 400, Target: -1, Drift: -1}.Solve()
	assert.Equal(t, []string{"rules", "target", "drift"}, refusedFields(err))
}
