package divider_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func gassing() divider.WeightDrift {
	return divider.WeightDrift{StartWeight: 85, Growth: 0.3, GrowthBasis: divider.Measured, Time: unit.Minutes(20), DriftLimit: 2, PerMark: 8.4}
}

func ExampleWeightDrift() {
	out, err := gassing().Solve()
	if err != nil {
		panic(err)
	}
	fmt.Printf("left alone the last pieces weigh %v\n", out.EndWeight)
	for _, m := range out.Moves {
		fmt.Printf("after %v move %.2f marks up, then weigh\n", m.At, m.Move)
	}
	// Output:
	// left alone the last pieces weigh 80.19 g
	// after 8 min 2 s move 0.24 marks up, then weigh
	// after 16 min 15 s move 0.25 marks up, then weigh
}

func ExampleBatchForWeightDrift() {
	// No weighings yet; the dough is pressed to 3 bar, a third of its gas remains.
	out, err := divider.BatchForWeightDrift{
		StartWeight: 85, DriftLimit: 2, Growth: divider.EstimatedGrowth / 3, GrowthBasis: divider.Estimated, DoughRate: 300,
	}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Batch, "in", out.Time)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// 26.73 kg in 5 min 21 s
	// This is a model's estimate: measure it on the line and put the measured value in.
}

func ExampleHopperGrowth() {
	out, err := divider.HopperGrowth{Confidence: 95, Weighings: []divider.HopperWeighing{
		{Time: unit.Minutes(1), Weight: 84.8, Pieces: 10},
		{Time: unit.Minutes(6), Weight: 83.6, Pieces: 10},
		{Time: unit.Minutes(11), Weight: 82.2, Pieces: 10},
		{Time: unit.Minutes(16), Weight: 81.2, Pieces: 10},
	}}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Printf("the dough grows by %v (%.2f to %.2f)\n", out.Growth, out.Low.PercentPerMinute(), out.High.PercentPerMinute())
	// Output: the dough grows by 0.3018 %/min (0.25 to 0.35)
}

// Following the moves, the weight is back at the start after each and off by
// the limit just before the next: checked against the gas itself, chamber by chamber.
func TestMovesBringTheWeightBack(t *testing.T) {
	in := gassing()
	in.Time = unit.Hours(2)
	out, err := in.Solve()
	require.NoError(t, err)
	require.Greater(t, len(out.Moves), 5)
	volume := 1.0 // of the chamber, in chambers of the start
	density := func(at unit.Duration) float64 { return 1 / (1 + float64(in.Growth)/100*at.Minutes()) }
	for _, m := range out.Moves {
		weight := float64(in.StartWeight) * volume * density(m.At)
		assert.InDelta(t, 83, weight, 1e-9)
		// A mark is worth per_mark at the start, and less as the dough lightens.
		weight += m.Move * float64(in.PerMark) * density(m.At)
		assert.InDelta(t, 85, weight, 1e-9)
		volume += m.Move * float64(in.PerMark) / float64(in.StartWeight)
	}
	last := out.Moves[len(out.Moves)-1]
	assert.Less(t, last.At, in.Time)
	assert.Equal(t, reckon.RaisedBowl|reckon.MovingMachinery|reckon.MovingBelt, out.Cautions)
}

// A handle with a step: the moves are whole steps, and between them the weight never
// leaves the limit on either side, checked against the gas itself minute by minute.
func TestMovesByWholeSteps(t *testing.T) {
	for _, step := range []float64{0.01, 0.05, 0.1, 0.2, 0.3, 0.45} {
		for _, perMark := range []unit.Mass{8.4, -8.4} {
			in := gassing()
			in.Time, in.MarkStep, in.PerMark = unit.Hours(2), step, perMark
			out, err := in.Solve()
			require.NoError(t, err)
			require.NotEmpty(t, out.Moves)
			holdsWhenWorkedByHand(t, in)
			volume, next := float64(in.StartWeight), 0
			for at := unit.Duration(0); at < in.Time; at++ {
				for next < len(out.Moves) && out.Moves[next].At <= at {
					assert.InDelta(t, math.Round(out.Moves[next].Move/step), out.Moves[next].Move/step, 1e-9)
					volume += out.Moves[next].Move * float64(perMark)
					next++
				}
				weight := volume / (1 + float64(in.Growth)/100*at.Minutes())
				// Within the second until the move it may fall a hair further.
				assert.GreaterOrEqual(t, weight, 83-0.01, "step %v at %v", step, at)
				assert.LessOrEqual(t, weight, 87.0, "step %v at %v", step, at)
			}
			assert.Len(t, out.Moves, next)
		}
	}
	in := gassing()
	in.MarkStep = 0.5 // 4.2 g, more than twice the limit of 2 g
	_, err := in.Solve()
	assert.ErrorContains(t, err, "one step of the handle weighs 4.2 g")
	in.DriftLimit, in.PerMark = 0, 0
	_, err = in.Solve()
	assert.Equal(t, []string{"mark_step"}, fields(err))
}

func TestWeightDriftThereAndBack(t *testing.T) {
	for _, growth := range []unit.GrowthRate{0.2, 0.3, 4} {
		for _, limit := range []unit.Mass{0.1, 2, 40} {
			back, err := divider.BatchForWeightDrift{StartWeight: 85, DriftLimit: limit, Growth: growth, GrowthBasis: divider.Measured, DoughRate: 300}.Solve()
			require.NoError(t, err)
			out, err := divider.WeightDrift{StartWeight: 85, Growth: growth, GrowthBasis: divider.Measured, Time: back.Time}.Solve()
			require.NoError(t, err)
			assert.InDelta(t, -float64(limit), float64(out.Drift), 1e-10)
			stands, err := divider.HopperTime{Batch: back.Batch, DoughRate: 300}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, float64(back.Time), float64(stands.Time), 1e-12)
			const head = 500
			over, err := divider.BatchForWeightDrift{StartWeight: 85, DriftLimit: limit, Growth: growth, GrowthBasis: divider.Measured, DoughRate: 300, Head: back.Batch / 2}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, float64(back.Batch)/2, float64(over.Batch), 1e-12)
			_, err = divider.BatchForWeightDrift{StartWeight: 85, DriftLimit: limit, Growth: growth, GrowthBasis: divider.Measured, DoughRate: 300, Head: back.Batch + head}.Solve()
			assert.Error(t, err)
		}
	}
}

// The mean is that of the pieces, minute by minute.
func TestWeightDriftMean(t *testing.T) {
	in := gassing()
	in.Growth = 3
	out, err := in.Solve()
	require.NoError(t, err)
	sum, n := 0.0, 100_000
	for i := range n {
		sum += 85 / (1 + 0.03*20*(float64(i)+0.5)/float64(n))
	}
	assert.InEpsilon(t, sum/float64(n), float64(out.Mean), 1e-9)
	in.Growth = 0
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, in.StartWeight, out.Mean)
	assert.Equal(t, in.StartWeight, out.EndWeight)
	assert.Empty(t, out.Moves)
	assert.Equal(t, reckon.RaisedBowl, out.Cautions, "nothing is set")
}

// Weights that follow the law give their growth back exactly; scattered ones
// within the interval.
func TestHopperGrowthRecoversTheLaw(t *testing.T) {
	in := divider.HopperGrowth{Confidence: 95}
	for i := range 8 {
		at := unit.Minutes(float64(3 * i))
		in.Weighings = append(in.Weighings, divider.HopperWeighing{Time: at, Weight: unit.Mass(85 / (1 + 0.003*at.Minutes())), Pieces: 5 + i})
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 0.3, float64(out.Growth), 1e-10)
	assert.InEpsilon(t, 85, float64(out.StartWeight), 1e-10)
	for i := range in.Weighings {
		in.Weighings[i].Weight += unit.Mass([]float64{0.3, -0.4, 0.2, -0.1, 0.35, -0.25, 0.1, -0.2}[i])
	}
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Less(t, out.Low, 0.3)
	assert.Greater(t, out.High, 0.3)
	assert.Zero(t, out.Conditions)
	// Scatter without a trend tells no growth.
	for i := range in.Weighings {
		in.Weighings[i].Weight = unit.Mass([]float64{85.1, 84.8, 85.3, 84.9, 85, 85.2, 84.7, 85.1}[i])
	}
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, divider.WeighMore, out.Conditions)
}

// Growth is the ratio of two coefficients of the line of 1/weight on time; at
// the ends of its interval that line misses nothing by t of its standard deviations.
func TestHopperGrowthIntervalIsFiellers(t *testing.T) {
	in := divider.HopperGrowth{Confidence: 95, Weighings: []divider.HopperWeighing{
		{Time: 60, Weight: 84.8, Pieces: 10}, {Time: 360, Weight: 83.6, Pieces: 10}, {Time: 660, Weight: 82.2, Pieces: 10}, {Time: 960, Weight: 81.2, Pieces: 10},
	}}
	out, err := in.Solve()
	require.NoError(t, err)
	// The same by normal equations in the raw times, which is another road.
	var s0, s1, s2, y0, y1 float64
	for _, h := range in.Weighings {
		k, m, y := math.Pow(float64(h.Weight), 4)*10, h.Time.Minutes(), 1/float64(h.Weight)
		s0, s1, s2, y0, y1 = s0+k, s1+k*m, s2+k*m*m, y0+k*y, y1+k*m*y
	}
	det := s0*s2 - s1*s1
	a, b := (s2*y0-s1*y1)/det, (s0*y1-s1*y0)/det
	var ssr float64
	for _, h := range in.Weighings {
		r := 1/float64(h.Weight) - a - b*h.Time.Minutes()
		ssr += math.Pow(float64(h.Weight), 4) * 10 * r * r
	}
	assert.InEpsilon(t, 100*b/a, float64(out.Growth), 1e-9)
	const t975 = 4.302652729749464 // two degrees of freedom, reference table
	for _, end := range []float64{float64(out.Low) / 100, float64(out.High) / 100} {
		miss := b - end*a
		variance := ssr / 2 * (s0 + 2*end*s1 + end*end*s2) / det
		assert.InEpsilon(t, t975*math.Sqrt(variance), math.Abs(miss), 1e-6)
	}
}

func TestWeightDriftRefuses(t *testing.T) {
	_, err := divider.WeightDrift{StartWeight: 85, Growth: 101, DriftLimit: 85}.Solve()
	assert.Equal(t, []string{"growth", "growth_basis", "time", "drift_limit", "per_mark"}, fields(err))
	in := gassing()
	in.DriftLimit = 0
	_, err = in.Solve()
	assert.Equal(t, []string{"per_mark"}, fields(err))
	in = gassing()
	in.DriftLimit, in.Growth = 0.01, 10
	_, err = in.Solve()
	assert.ErrorContains(t, err, "smaller batches")
	_, err = divider.BatchForWeightDrift{StartWeight: 85, DriftLimit: 2, GrowthBasis: divider.Measured, DoughRate: 300}.Solve()
	assert.Equal(t, []string{"growth"}, fields(err))
	_, err = divider.BatchForWeightDrift{StartWeight: 85, DriftLimit: 84, Growth: 0.01, GrowthBasis: divider.Measured, DoughRate: 300}.Solve()
	assert.ErrorContains(t, err, "within 24 h")
	_, err = divider.HopperGrowth{Confidence: 95, Weighings: []divider.HopperWeighing{{Time: -1, Weight: 85, Pieces: 1}, {Weight: 0, Pieces: 1}, {Weight: 85}}}.Solve()
	assert.Equal(t, []string{"weighings[0].time", "weighings[1].weight", "weighings[2].pieces"}, fields(err))
	_, err = divider.HopperGrowth{Confidence: 49, Weighings: make([]divider.HopperWeighing, 2)}.Solve()
	assert.Equal(t, []string{"confidence", "weighings"}, fields(err))
	_, err = divider.HopperGrowth{Confidence: 95, Weighings: make([]divider.HopperWeighing, 10_001)}.Solve()
	assert.Equal(t, []string{"weighings"}, fields(err))
	_, err = divider.HopperGrowth{Confidence: 95, Weighings: []divider.HopperWeighing{{Weight: 85, Pieces: 1}, {Weight: 84, Pieces: 1}, {Weight: 86, Pieces: 1}}}.Solve()
	assert.Equal(t, []string{"weighings"}, fields(err))
}

func FuzzWeightDrift(f *testing.F) {
	f.Add(85.0, 0.3, 1200.0, 2.0, 8.4, 300.0)
	f.Add(1e5, 100.0, 86400.0, 1e-300, 1e-9, 1e-300)
	f.Fuzz(func(t *testing.T, start, growth, time, limit, perMark, dough float64) {
		s, l := unit.Mass(start), unit.Mass(limit)
		if out, err := (divider.WeightDrift{
			StartWeight: s, Growth: unit.GrowthRate(growth), GrowthBasis: divider.Estimated, Time: unit.Duration(time), DriftLimit: l, PerMark: unit.Mass(perMark),
		}).Solve(); err == nil {
			finite(t, float64(out.EndWeight), float64(out.Drift), float64(out.FirstMinute), float64(out.Mean))
			for _, m := range out.Moves {
				finite(t, float64(m.At), m.Move)
			}
		}
		if out, err := (divider.BatchForWeightDrift{
			StartWeight: s, DriftLimit: l, Growth: unit.GrowthRate(growth), GrowthBasis: divider.Measured, DoughRate: unit.MassRate(dough),
		}).Solve(); err == nil {
			finite(t, float64(out.Time), float64(out.Batch))
		}
		if out, err := (divider.HopperGrowth{Confidence: 95, Weighings: []divider.HopperWeighing{
			{Time: 0, Weight: s, Pieces: 1}, {Time: unit.Duration(time), Weight: l, Pieces: 2}, {Time: 60, Weight: 80, Pieces: 3},
		}}).Solve(); err == nil {
			finite(t, float64(out.Growth), float64(out.Low), float64(out.High), float64(out.StartWeight))
		}
	})
}

func BenchmarkWeightDrift(b *testing.B) {
	rows := make([]divider.DriftMove, 0, 8)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = gassing().Append(rows)
	}
}

// The working of next to no growth comes out: 1 + g*t keeps none of its digits there.
func TestWorkingOfLittleGrowth(t *testing.T) {
	for _, growth := range []unit.GrowthRate{1e-250, 1e-15, 1e-9, 1e-6, 4.9e-4, 5.1e-4, 1e-3} {
		q := gassing()
		q.Growth = growth
		_, w, err := reckon.Explain(q)
		require.NoError(t, err)
		assert.NoError(t, testdata.Retrace(w, 1e-11), "%v", growth)
	}
}

// Weights that do not change show a growth of nothing, which is no growth.
func TestNoGrowthIsNotSignificant(t *testing.T) {
	in := divider.HopperGrowth{Confidence: 95}
	for i := range 4 {
		in.Weighings = append(in.Weighings, divider.HopperWeighing{Time: unit.Minutes(float64(i)), Weight: 85, Pieces: 10})
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Growth)
	assert.Equal(t, divider.WeighMore, out.Conditions)
}

// A limit that is no number is told once.
func TestEndlessDriftLimit(t *testing.T) {
	_, err := divider.BatchForWeightDrift{StartWeight: 85, DriftLimit: unit.Mass(math.Inf(1)), Growth: 1, GrowthBasis: divider.Measured, DoughRate: 300}.Solve()
	assert.Equal(t, []string{"drift_limit"}, fields(err))
}
