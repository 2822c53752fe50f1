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

// onChart is a chart of single pieces at 85 g with a standard deviation of 1 g,
// so that a weighing of 86 g lies one standard error above the centre.
func onChart(rules divider.RunRules) divider.ChartSetup {
	return divider.ChartSetup{Kind: divider.ChartIndividuals, SubgroupSize: 1, Centre: 85, SD: 1, LimitWidth: 3, Rules: rules}
}

// wandering returns n weighings about 85 g, always the same ones.
func wandering(n int) []unit.Mass {
	r := rand.New(rand.NewPCG(1, 2))
	out := make([]unit.Mass, n)
	for i := range out {
		out[i] = unit.Grams(85 + 0.7*r.NormFloat64() + 0.004*float64(i))
	}
	return out
}

func setups() map[string]divider.ChartSetup {
	return map[string]divider.ChartSetup{
		"ranges":      {Kind: divider.ChartAveragesRanges, SubgroupSize: 4, Centre: 85, SD: 0.7, LimitWidth: 3, Rules: divider.EightTests},
		"deviations":  {Kind: divider.ChartAveragesDeviations, SubgroupSize: 5, Centre: 85, SD: 0.7, LimitWidth: 2.5, Rules: divider.ZoneTests},
		"individuals": {Kind: divider.ChartIndividuals, SubgroupSize: 1, Centre: 85, SD: 0.7, LimitWidth: 3, Rules: divider.EightTests},
		"cusum":       {Kind: divider.ChartCUSUM, SubgroupSize: 2, Centre: 85, SD: 0.7, Slack: 0.5, Decision: 4, Rules: divider.LimitsOnly},
		"ewma":        {Kind: divider.ChartEWMA, SubgroupSize: 3, Centre: 85, SD: 0.7, LimitWidth: 2.7, EwmaWeight: 0.2, Rules: divider.LimitsOnly},
	}
}

func ExampleSetUpChart() {
	out, err := divider.SetUpChart{
		Kind: divider.ChartAveragesRanges, SubgroupSize: 3, LimitWidth: 3, Rules: divider.ZoneTests,
		Weighings: grams(85.2, 84.1, 86.0, 85.5, 84.7, 85.9, 84.4, 85.1, 86.3, 84.8, 85.0, 85.6),
	}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("averages from", out.Chart.Low, "to", out.Chart.High)
	fmt.Println("ranges up to", out.Chart.SpreadHigh)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// averages from 83.73 g to 86.7 g
	// ranges up to 3.733 g
	// Weigh more pieces before you decide.
}

func ExampleControlChart() {
	out, err := divider.ControlChart{
		Setup:     divider.ChartSetup{Kind: divider.ChartAveragesRanges, SubgroupSize: 3, Centre: unit.Grams(85.2), SD: unit.Grams(0.7), LimitWidth: 3, Rules: divider.ZoneTests},
		Weighings: grams(85.4, 84.6, 85.9, 86.6, 86.9, 86.4, 86.2, 86.8, 87.1),
	}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range out.Points {
		fmt.Printf("%d %v [%v]\n", p.Point, p.Value, p.Signals)
	}
	// Output:
	// 1 85.3 g []
	// 2 86.63 g [beyond-limit]
	// 3 86.7 g [beyond-limit, two-of-three]
}

// A point on the limit is within it, as the tests' words say "beyond".
func TestOnTheLimitIsNoSignal(t *testing.T) {
	for _, weight := range []float64{88, 82} {
		out, err := divider.ControlChart{Setup: onChart(divider.EightTests), Weighings: grams(weight)}.Solve()
		require.NoError(t, err)
		assert.Zero(t, out.Signalled)
	}
}

func TestControlChartRefuses(t *testing.T) {
	for _, tt := range []struct {
		id     string
		change func(*divider.ControlChart)
		fields []string
	}{
		{"zero-weighing", func(in *divider.ControlChart) { in.Weighings[2] = 0 }, []string{"weighings[2]"}},
		{"uneven", func(in *divider.ControlChart) { in.Weighings = in.Weighings[:7] }, []string{"weighings"}},
		{"none", func(in *divider.ControlChart) { in.Weighings = nil }, []string{"weighings"}},
		{"mixed-lanes", func(in *divider.ControlChart) { in.LaneOf = []int{1, 1, 2, 1, 1, 1, 3, 1} }, []string{"lane_of[2]", "lane_of[6]"}},
		{"too-few-lanes", func(in *divider.ControlChart) { in.LaneOf = []int{1} }, []string{"lane_of"}},
		{"not-its-fields", func(in *divider.ControlChart) {
			in.Setup.EwmaWeight, in.Setup.Slack, in.Setup.Decision = 0.2, 1, 4
		}, []string{"setup.slack", "setup.decision", "setup.ewma_weight"}},
		{"rules-on-a-cusum", func(in *divider.ControlChart) {
			in.Setup = divider.ChartSetup{Kind: divider.ChartCUSUM, SubgroupSize: 4, Centre: 85, SD: 1, LimitWidth: 3, Slack: 9, Rules: divider.ZoneTests}
		}, []string{"setup.limit_width", "setup.slack", "setup.decision", "setup.rules"}},
		{"ewma-without-weight", func(in *divider.ControlChart) {
			in.Setup = divider.ChartSetup{Kind: divider.ChartEWMA, SubgroupSize: 4, Centre: 85, SD: 1, LimitWidth: 3, Rules: divider.LimitsOnly}
		}, []string{"setup.ewma_weight"}},
		{"everything", func(in *divider.ControlChart) {
			in.Setup = divider.ChartSetup{Kind: divider.ChartAveragesRanges, SubgroupSize: 99, Centre: -1, SD: unit.Mass(math.NaN()), LimitWidth: 40}
		}, []string{"setup.subgroup_size", "setup.limit_width", "setup.rules", "setup.centre", "setup.sd", "weighings"}},
	} {
		t.Run(tt.id, func(t *testing.T) {
			in := divider.ControlChart{
				Setup:     divider.ChartSetup{Kind: divider.ChartAveragesRanges, SubgroupSize: 4, Centre: 85, SD: 1, LimitWidth: 3, Rules: divider.ZoneTests},
				Weighings: grams(85, 84, 86, 85, 85.5, 84.5, 85, 86),
			}
			tt.change(&in)
			_, err := in.Solve()
			assert.Equal(t, tt.fields, refusedFields(err))
		})
	}
}

func TestSetUpChartRefuses(t *testing.T) {
	in := divider.SetUpChart{Kind: divider.ChartAveragesRanges, SubgroupSize: 2, Weighings: grams(85, 85, 86, 86), LimitWidth: 3, Rules: divider.LimitsOnly}
	_, err := in.Solve()
	assert.ErrorContains(t, err, "without scatter", "equal within each subgroup: the mean moves, the spread is unknown")
	in.Weighings = grams(85, 84)
	_, err = in.Solve()
	assert.Equal(t, []string{"weighings"}, refusedFields(err))
	_, err = divider.SetUpChart{Kind: "pie", LimitWidth: -1}.Solve()
	assert.Equal(t, []string{"kind", "subgroup_size", "weighings"}, refusedFields(err))
}

// A run that wanders must not widen its own limits.
func TestSetUpIgnoresTheWanderingMean(t *testing.T) {
	steady, moved := wandering(100), wandering(100)
	for i := range moved {
		moved[i] += unit.Grams(float64(i / 5))
	}
	a, err := divider.SetUpChart{Kind: divider.ChartAveragesRanges, SubgroupSize: 5, Weighings: steady, LimitWidth: 3, Rules: divider.LimitsOnly}.Solve()
	require.NoError(t, err)
	b, err := divider.SetUpChart{Kind: divider.ChartAveragesRanges, SubgroupSize: 5, Weighings: moved, LimitWidth: 3, Rules: divider.LimitsOnly}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, a.Setup.SD.Grams(), b.Setup.SD.Grams(), 1e-9)
	assert.True(t, b.Conditions.Has(divider.OutOfControl))
	assert.False(t, a.Conditions.Has(divider.WeighMore), "twenty subgroups are enough")
	assert.Equal(t, reckon.MovingBelt, a.Cautions)
}

func TestChartAppendsToTheCallersSlice(t *testing.T) {
	dst := make([]divider.ChartPoint, 0, 8)
	in := divider.ControlChart{Setup: onChart(divider.ZoneTests), Weighings: grams(85, 86, 84, 85)}
	assert.Zero(t, testing.AllocsPerRun(10, func() { _, _ = in.Append(dst) }))
	dst = append(dst, divider.ChartPoint{Point: 99})
	out, err := in.Append(dst)
	require.NoError(t, err)
	require.Len(t, out.Points, 5)
	assert.Equal(t, 99, out.Points[0].Point)
}

func TestChartCalculationsDoNotAllocate(t *testing.T) {
	points := make([]divider.ShiftPoint, 0, 2)
	for name, f := range map[string]func(){
		"chart-constants": func() { _, _ = (divider.ChartConstants{SubgroupSize: 5}).Solve() },
		"run-length": func() {
			_, _ = (divider.RunLength{Kind: divider.ChartEWMA, ShiftInSD: 1, Sides: divider.TwoSided, LimitWidth: 2.962, EwmaWeight: 0.2}).Solve()
		},
		"operating-curve": func() {
			_, _ = (divider.OperatingCurve{SubgroupSize: 5, LimitWidth: 3, Shifts: []float64{0, 1}}).Append(points)
		},
		"sd-for-capability": func() {
			_, _ = (divider.SDForCapability{Mean: 85, Low: 82, High: 88, Cpk: 1.33}).Solve()
		},
	} {
		assert.Zero(t, testing.AllocsPerRun(3, f), name)
	}
}

func FuzzControlChart(f *testing.F) {
	f.Add(uint8(0), 2, 85.0, 1.0, 3.0, 0.0, 85.0, 84.0)
	f.Add(uint8(3), 1, 85.0, 1e-6, 0.0, 4.0, 1e5, 1e-3)
	f.Add(uint8(4), 25, 1e5, 1e5, 6.0, 0.2, 1e5, math.NaN())
	kinds := []divider.ChartKind{divider.ChartAveragesRanges, divider.ChartAveragesDeviations, divider.ChartIndividuals, divider.ChartCUSUM, divider.ChartEWMA}
	f.Fuzz(func(t *testing.T, kind uint8, size int, centre, sd, width, other, a, b float64) {
		setup := divider.ChartSetup{Kind: kinds[int(kind)%len(kinds)], SubgroupSize: size, Centre: unit.Grams(centre), SD: unit.Grams(sd), LimitWidth: width, Rules: divider.LimitsOnly}
		switch setup.Kind {
		case divider.ChartCUSUM:
			setup.LimitWidth, setup.Decision = 0, other
		case divider.ChartEWMA:
			setup.EwmaWeight = other
		}
		var x []unit.Mass
		for range 4 * min(max(size, 1), 25) {
			x = append(x, unit.Grams(a), unit.Grams(b))
		}
		out, err := divider.ControlChart{Setup: setup, Weighings: x}.Solve()
		if err != nil {
			if len(refusedFields(err)) == 0 {
				t.Fatal(err)
			}
			return
		}
		for _, p := range out.Points {
			allFinite(t, float64(p.Value), float64(p.Spread), float64(p.Plotted), float64(p.Low), float64(p.High), p.SumAbove, p.SumBelow)
		}
	})
}
