package divider_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// holdsWhenWorkedByHand evaluates each step of the working from those before it.
func holdsWhenWorkedByHand[R any](t *testing.T, q reckon.Calculation[R]) {
	t.Helper()
	_, w, err := reckon.Explain(q)
	require.NoError(t, err)
	assert.NoError(t, testdata.Retrace(w, 1e-9), q.ID())
}

// The workings go a way of their own for each kind of chart and of rule set:
// the branches that no published case takes.
func TestWorkingsHoldOnEveryBranch(t *testing.T) {
	x := wandering(60)
	for _, setup := range setups() {
		holdsWhenWorkedByHand(t, divider.ControlChart{Setup: setup, Weighings: x})
		holdsWhenWorkedByHand(t, divider.SetUpChart{
			Kind: setup.Kind, SubgroupSize: setup.SubgroupSize, Weighings: x, Rules: setup.Rules,
			LimitWidth: setup.LimitWidth, EwmaWeight: setup.EwmaWeight, Slack: setup.Slack, Decision: setup.Decision,
		})
	}
	for _, kind := range []divider.SetUpChart{
		{Kind: divider.ChartCUSUM, Decision: 4},
		{Kind: divider.ChartEWMA, LimitWidth: 3, EwmaWeight: 0.3},
	} {
		kind.SubgroupSize, kind.Weighings, kind.Rules = 1, x, divider.LimitsOnly
		holdsWhenWorkedByHand(t, kind)
	}
	for _, sides := range []divider.SampleSides{divider.OneSided, divider.TwoSided} {
		holdsWhenWorkedByHand(t, divider.RunLength{Kind: divider.ChartIndividuals, ShiftInSD: 1, Sides: sides, LimitWidth: 3})
		holdsWhenWorkedByHand(t, divider.PiecesToDetect{SD: 1, Shift: 0.5, Confidence: 95, DetectionChance: 90, Sides: sides})
	}
	holdsWhenWorkedByHand(t, divider.OperatingCurve{SubgroupSize: 9, LimitWidth: 6, Shifts: []float64{0, -1, 10}})
	holdsWhenWorkedByHand(t, sample(84, 86))
	holdsWhenWorkedByHand(t, divider.GroupSample{Groups: grams(500, 501, 503), Pieces: 6, Confidence: 95})
	holdsWhenWorkedByHand(t, divider.Capability{Mean: 85, SDWithin: 0.7, Pieces: 100, Low: 82, High: 88, Confidence: 95, Required: 1.33})

	for _, q := range []divider.LotCheck{
		{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 500, Sample: drawn(30, 380, 380), SecondWeights: drawn(30, 380)},
		{Rules: divider.RulesUK, Sampling: divider.SampleSingle, Lot: 200, Sample: drawn(50)}, // 30 in the test of the mean
		{Rules: divider.RulesUK, Sampling: divider.SampleAll, Lot: 1, Sample: drawn(1)},
		{Rules: divider.RulesUK, Sampling: divider.SampleAll, Lot: 45, Sample: drawn(45)},
		{Rules: divider.RulesUSCategoryA, Sampling: divider.SampleSingle, Lot: 5, Sample: drawn(5)},
	} {
		q.Nominal = 400
		holdsWhenWorkedByHand(t, q)
	}
	for _, sampling := range []divider.Sampling{divider.SampleSingle, divider.SampleDouble} {
		holdsWhenWorkedByHand(t, divider.LotOperatingCurve{Rules: divider.RulesUK, Sampling: sampling, Lot: 900, Fractions: []unit.Percent{0, 3, 100}})
		holdsWhenWorkedByHand(t, divider.FractionForAcceptance{Rules: divider.RulesUK, Sampling: sampling, Lot: 900, Accepted: 0.9})
	}

	loaves := []struct {
		rules         divider.RuleSetName
		nominal       unit.Mass
		first, second unit.Percent
	}{
		{divider.RulesEU, 400, 2, 0.01},
		{divider.RulesUK, 400, 0, 0.01},
		{divider.RulesAustralia, 1250, 2, 0.01},
		{divider.RulesNewZealand, 125, 2, 0.01},
		{divider.RulesUSCategoryA, 400, 2, 0},
		{divider.LoafTexas, unit.Pounds(1), 2, 0},
		{divider.LoafSriLanka, 450, 2, 0},
	}
	for _, l := range loaves {
		target := divider.TargetWeight{
			Rules: l.rules, Nominal: l.nominal, SD: l.nominal / 50, FirstShare: l.first, SecondShare: l.second,
			Bake: doughmath.Loss{Percent: 10, Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
		}
		holdsWhenWorkedByHand(t, target)
		target.Drift, target.BetterSD, target.PiecesPerDay = 1, l.nominal/100, 1000
		holdsWhenWorkedByHand(t, target)
		target.DaysPerYear, target.CostPerKg = 300, 0.9
		holdsWhenWorkedByHand(t, target)
		holdsWhenWorkedByHand(t, divider.SDForTarget{Rules: l.rules, Nominal: l.nominal, Target: l.nominal + 2, FirstShare: l.first, SecondShare: l.second, Drift: 1})
		holdsWhenWorkedByHand(t, divider.FractionBelow{Rules: l.rules, Nominal: l.nominal, Mean: l.nominal + 1, SD: l.nominal / 50})
	}
}

// A working of a list that was appended to the caller's own tells of the new
// rows alone.
func TestWorkingShowsOnlyItsOwnRows(t *testing.T) {
	chart := divider.ControlChart{Setup: onChart(divider.ZoneTests), Weighings: grams(85, 86, 84, 85)}
	run := divider.SetUpChart{Kind: divider.ChartIndividuals, SubgroupSize: 1, Weighings: grams(85, 86, 84, 85), LimitWidth: 3, Rules: divider.ZoneTests}
	curve := divider.OperatingCurve{SubgroupSize: 5, LimitWidth: 3, Shifts: []float64{0.5, 1}}
	lots := divider.LotOperatingCurve{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 300, Fractions: []unit.Percent{1, 5}}
	var appended, solved reckon.Working

	points := []divider.ChartPoint{{Point: 99, Value: 1}}
	out, err := chart.Append(points)
	require.NoError(t, err)
	chart.Show(&appended, out)
	out, err = chart.Solve()
	require.NoError(t, err)
	chart.Show(&solved, out)

	setUp, err := run.Append(points)
	require.NoError(t, err)
	run.Show(&appended, setUp)
	setUp, err = run.Solve()
	require.NoError(t, err)
	run.Show(&solved, setUp)

	moves, err := curve.Append([]divider.ShiftPoint{{ShiftInSD: 99}})
	require.NoError(t, err)
	curve.Show(&appended, moves)
	moves, err = curve.Solve()
	require.NoError(t, err)
	curve.Show(&solved, moves)

	shares, err := lots.Append([]divider.OperatingPoint{{Fraction: 99}})
	require.NoError(t, err)
	lots.Show(&appended, shares)
	shares, err = lots.Solve()
	require.NoError(t, err)
	lots.Show(&solved, shares)

	assert.Equal(t, solved.Steps, appended.Steps)
}

// What a working gives of a table or a law it names, and nothing that does not belong there.
func TestWorkingsNameWhatTheyGive(t *testing.T) {
	lot := func(rules divider.RuleSetName, sampling divider.Sampling, lot, drawn int) divider.LotCheck {
		return divider.LotCheck{Rules: rules, Sampling: sampling, Nominal: 400, Lot: lot, Sample: same(drawn, 404)}
	}
	chance := func(sampling divider.Sampling) divider.FractionForAcceptance {
		return divider.FractionForAcceptance{Rules: divider.RulesUK, Sampling: sampling, Lot: 900, Accepted: 0.9}
	}
	names(t, chance(divider.SampleDouble), []string{"n_1", "c_1", "r_1", "n_2", "c_2", "f"}, nil)
	names(t, chance(divider.SampleSingle), []string{"n_1", "c_1", "f"}, []string{"r_1", "n_2", "c_2"})
	curve := divider.LotOperatingCurve{Rules: divider.RulesUK, Sampling: divider.SampleDouble, Lot: 900, Fractions: []unit.Percent{1}}
	names(t, curve, []string{"n_1", "c_1", "r_1", "n_2", "c_2", "A_1", "B_1", "P_1"}, nil)
	names(t, lot(divider.RulesUK, divider.SampleAll, 40, 40), []string{"h", "c", "d", "i", "n", "m", "s", "k", "m_min"}, nil)
	names(t, lot(divider.RulesUSCategoryA, divider.SampleSingle, 300, 24), []string{"c", "d", "n", "k"}, []string{"h", "i"})
	names(t, divider.TargetWeight{
		Rules: divider.RulesUK, Nominal: 400, SD: 7, SecondShare: 0.01, Bake: doughmath.Loss{Percent: 10, Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
	}, []string{"F_1", "z_1", "z_2", "m", "g", "D", "D_1", "D_2"}, []string{"m_b", "G", "G_y", "C_d", "c_y", "C_y"})
	target := divider.SDForTarget{Rules: divider.RulesUSCategoryA, Nominal: 400, Target: 402, FirstShare: 1}
	names(t, target, []string{"F_1", "z_1", "s"}, []string{"z_2"})
	for sides, where := range map[divider.SampleSides][2]string{
		divider.TwoSided: {"at (1 + P/100)/2, for two sides", "beyond t_a or -t_a"}, divider.OneSided: {"at P/100, for one side", "beyond t_a"},
	} {
		for _, q := range []reckon.Calculation[divider.ShiftForPiecesResult]{divider.ShiftForPieces{SD: 1, Pieces: 10, Confidence: 95, DetectionChance: 90, Sides: sides}} {
			w := names(t, q, []string{"t_a", "d_n", "D_n"}, nil)
			assert.Contains(t, sourceOf(w, "t_a"), where[0])
			assert.Contains(t, sourceOf(w, "d_n")+",", where[1]+",")
		}
	}
}

// names holds the symbols of a working against those that it must have and those that it must not.
func names[R any](t *testing.T, q reckon.Calculation[R], has, hasNot []string) *reckon.Working {
	t.Helper()
	_, w, err := reckon.Explain(q)
	require.NoError(t, err)
	symbols := map[string]bool{}
	for _, s := range w.Steps {
		symbols[s.Symbol] = true
	}
	for _, s := range has {
		assert.True(t, symbols[s], "%s: no step of the working is for %s", q.ID(), s)
	}
	for _, s := range hasNot {
		assert.False(t, symbols[s], "%s: the working has a step for %s, which is not asked for", q.ID(), s)
	}
	return w
}

func sourceOf(w *reckon.Working, symbol string) string {
	for _, s := range w.Steps {
		if s.Symbol == symbol {
			return s.Source
		}
	}
	return ""
}
