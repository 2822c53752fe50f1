package divider_test

import (
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleRunLength() {
	out, err := divider.RunLength{Kind: divider.ChartCUSUM, ShiftInSD: 1, Sides: divider.TwoSided, Slack: 0.5, Decision: 5}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("signals after %.1f points, and without cause every %.0f\n", out.RunLength, out.FalseAlarm)
	// Output:
	// signals after 10.4 points, and without cause every 465
}

func ExampleOperatingCurve() {
	out, err := divider.OperatingCurve{SubgroupSize: 5, LimitWidth: 3, Shifts: []float64{0.5, 1, 1.5}}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range out.Points {
		fmt.Printf("a move of %.1f sd is missed %.0f times in 100\n", p.ShiftInSD, 100*p.Missed)
	}
	// Output:
	// a move of 0.5 sd is missed 97 times in 100
	// a move of 1.0 sd is missed 78 times in 100
	// a move of 1.5 sd is missed 36 times in 100
}

func TestRunLengthRefuses(t *testing.T) {
	for _, tt := range []struct {
		in     divider.RunLength
		fields []string
	}{
		{divider.RunLength{}, []string{"kind", "sides"}},
		{divider.RunLength{Kind: divider.ChartEWMA, Sides: divider.OneSided, ShiftInSD: 99, Decision: 1, Slack: 1}, []string{"shift_in_sd", "sides", "limit_width", "ewma_weight", "slack", "decision"}},
		{divider.RunLength{Kind: divider.ChartCUSUM, Sides: divider.TwoSided, Slack: -1, Decision: 21, LimitWidth: 3}, []string{"limit_width", "slack", "decision"}},
		{divider.RunLength{Kind: divider.ChartIndividuals, Sides: divider.TwoSided, LimitWidth: math.NaN()}, []string{"limit_width"}},
		{divider.RunLength{Kind: divider.ChartEWMA, Sides: divider.TwoSided, LimitWidth: 4.5, EwmaWeight: 0.02}, []string{"limit_width"}},
	} {
		_, err := tt.in.Solve()
		assert.Equal(t, tt.fields, refusedFields(err))
	}
	var none *reckon.NoSolutionError
	_, err := divider.RunLength{Kind: divider.ChartCUSUM, Sides: divider.TwoSided, Slack: 5, Decision: 20}.Solve()
	assert.ErrorAs(t, err, &none, "a chart that never signals has no run length worth the name")
}

// An ewma that forgets at once is the chart of single pieces: two ways to the
// same run length, one in closed form.
func TestEWMAOfWeightOneIsTheChartOfSinglePieces(t *testing.T) {
	for _, shift := range []float64{0, 0.5, -1, 3} {
		a, err := divider.RunLength{Kind: divider.ChartEWMA, Sides: divider.TwoSided, LimitWidth: 3, EwmaWeight: 1, ShiftInSD: shift}.Solve()
		require.NoError(t, err)
		b, err := divider.RunLength{Kind: divider.ChartIndividuals, Sides: divider.TwoSided, LimitWidth: 3, ShiftInSD: shift}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, b.RunLength, a.RunLength, 1e-10)
	}
}

// The run length by equation against the chart itself: mean over many runs.
func TestRunLengthBySimulation(t *testing.T) {
	const runs = 4000
	r := rand.New(rand.NewPCG(7, 11))
	for name, setup := range map[string]divider.ChartSetup{
		"cusum":       {Kind: divider.ChartCUSUM, SubgroupSize: 1, Centre: 85, SD: 1, Slack: 0.5, Decision: 4, Rules: divider.LimitsOnly},
		"individuals": {Kind: divider.ChartIndividuals, SubgroupSize: 1, Centre: 85, SD: 1, LimitWidth: 3, Rules: divider.LimitsOnly},
	} {
		want, err := divider.RunLength{Kind: setup.Kind, ShiftInSD: 1, Sides: divider.TwoSided, LimitWidth: setup.LimitWidth, Slack: setup.Slack, Decision: setup.Decision}.Solve()
		require.NoError(t, err)
		total := 0
		for range runs {
			watch, err := divider.NewWatch(setup)
			require.NoError(t, err)
			for {
				p, _, err := watch.Add(unit.Grams(86 + r.NormFloat64()))
				require.NoError(t, err)
				total++
				if p.Signals&^divider.SpreadBeyondLimit != 0 {
					break
				}
			}
		}
		// A run length scatters at most about as much as it is long.
		got := float64(total) / runs
		assert.InDelta(t, want.RunLength, got, 4*want.RunLength/math.Sqrt(runs), name)
	}
}

func TestOperatingCurveIsEven(t *testing.T) {
	out, err := divider.OperatingCurve{SubgroupSize: 5, LimitWidth: 3, Shifts: []float64{1.2, -1.2, 10}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, out.Points[0].Missed, out.Points[1].Missed)
	assert.InDelta(t, 1, out.Points[2].RunLength, 1e-12)
	_, err = divider.OperatingCurve{Shifts: []float64{0, 11, math.NaN()}}.Solve()
	assert.Equal(t, []string{"subgroup_size", "limit_width", "shifts[1]", "shifts[2]"}, refusedFields(err))
	_, err = divider.OperatingCurve{SubgroupSize: 1, LimitWidth: 3}.Solve()
	assert.Equal(t, []string{"shifts"}, refusedFields(err))
}

func FuzzRunLength(f *testing.F) {
	f.Add(uint8(0), 0.0, 3.0, 0.0)
	f.Add(uint8(1), 2.0, 0.5, 5.0)
	f.Add(uint8(2), -1.0, 2.7, 0.2)
	f.Fuzz(func(t *testing.T, kind uint8, shift, a, b float64) {
		in := divider.RunLength{Kind: divider.ChartIndividuals, ShiftInSD: shift, Sides: divider.TwoSided, LimitWidth: a}
		switch kind % 3 {
		case 1:
			in = divider.RunLength{Kind: divider.ChartCUSUM, ShiftInSD: shift, Sides: divider.TwoSided, Slack: a, Decision: b}
		case 2:
			in.Kind, in.EwmaWeight = divider.ChartEWMA, b
		}
		out, err := in.Solve()
		if err != nil {
			return
		}
		allFinite(t, out.FalseAlarm, out.RunLength)
		if out.RunLength < 1-1e-9 || out.FalseAlarm < 1-1e-9 {
			t.Fatalf("fewer than one point: %+v %+v", in, out)
		}
	})
}

func BenchmarkRunLength(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.RunLength{Kind: divider.ChartCUSUM, ShiftInSD: 1, Sides: divider.TwoSided, Slack: 0.5, Decision: 5}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// A side that hardly ever signals adds nothing to the other, and does not spoil it.
func TestRareSideAddsNothing(t *testing.T) {
	for _, shift := range []float64{2, 4, 7, 10} {
		in := divider.RunLength{Kind: divider.ChartCUSUM, ShiftInSD: shift, Sides: divider.OneSided, Slack: 0.5, Decision: 4}
		one, err := in.Solve()
		require.NoError(t, err)
		in.Sides = divider.TwoSided
		two, err := in.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, one.RunLength, two.RunLength, 1e-4, "%v", shift)
		assert.InEpsilon(t, one.FalseAlarm/2, two.FalseAlarm, 1e-9, "%v", shift)
	}
}
