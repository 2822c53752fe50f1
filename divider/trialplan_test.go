package divider_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func plan() divider.TrialPlan {
	return divider.TrialPlan{
		Shape: divider.Straight, Confidence: 95, MarkLow: 2, MarkHigh: 6, MarkCount: 3, Rounds: 2,
		RunMark: 4.8, PieceSD: 1.1, HalfWidth: 0.5, Slope: 8.4,
	}
}

func ExampleTrialPlan() {
	out, err := plan().Solve()
	if err != nil {
		panic(err)
	}
	for _, tr := range out.Trials {
		fmt.Printf("mark %g: weigh %d\n", tr.Mark, tr.Pieces)
	}
	fmt.Printf("%d pieces; the mean will be known to %v, the mark to %.2f\n", out.Pieces, out.Reaches, out.ReachesMarks)
	// Output:
	// mark 2: weigh 8
	// mark 4: weigh 8
	// mark 6: weigh 8
	// mark 6: weigh 8
	// mark 4: weigh 8
	// mark 2: weigh 8
	// 48 pieces; the mean will be known to 0.4909 g, the mark to 0.06
}

// What the plan promises is what a fit of such trials gives, and one piece
// fewer at each trial would not do.
func TestTrialPlanKeepsItsPromise(t *testing.T) {
	for _, shape := range []divider.Shape{divider.Straight, divider.Quadratic} {
		for _, rounds := range []int{2, 3} {
			in := plan()
			in.Shape, in.Rounds, in.MarkCount = shape, rounds, 4
			out, err := in.Solve()
			require.NoError(t, err)
			fit := divider.MarkFit{Confidence: 95, Shape: shape, Weighting: divider.ByPieces}
			for i, tr := range out.Trials {
				wobble := []float64{0.3, -0.4, 0.2, -0.1, 0.35, -0.25}[i%6]
				fit.Trials = append(fit.Trials, divider.Trial{Mark: tr.Mark, Pieces: tr.Pieces, Weight: unit.Mass(44 + 8.4*tr.Mark + wobble)})
			}
			c := calibrated(t, fit)
			assert.Equal(t, out.DegreesOfFreedom, c.DegreesOfFreedom)
			c.ResidualSD, c.PieceSD = in.PieceSD, in.PieceSD // the scatter that the plan was told
			got, err := divider.WeightForMark{Calibration: c, Mark: in.RunMark, Of: divider.OfMean}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, float64(out.Reaches), float64(got.High-got.Weight), 1e-9)
			assert.LessOrEqual(t, out.Reaches, in.HalfWidth)
			assert.Equal(t, out.Pieces, out.PiecesEach*len(out.Trials))
			k := float64(out.PiecesEach)
			assert.Greater(t, float64(out.Reaches*out.Reaches)*k/(k-1), float64(in.HalfWidth*in.HalfWidth))
		}
	}
}

// With an even number of rounds a dough that gains or loses steadily does not
// change the slope.
func TestTrialPlanCancelsDrift(t *testing.T) {
	out, err := plan().Solve()
	require.NoError(t, err)
	fit := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.EqualWeights}
	for i, tr := range out.Trials {
		fit.Trials = append(fit.Trials, divider.Trial{Mark: tr.Mark, Pieces: 1, Weight: unit.Mass(44 + 8.4*tr.Mark - 0.7*float64(i))})
	}
	assert.InEpsilon(t, 8.4, float64(calibrated(t, fit).Slope), 1e-12)
}

func TestTrialPlanRefuses(t *testing.T) {
	_, err := divider.TrialPlan{MarkLow: 6, MarkHigh: 2, MarkCount: 51, Slope: 0}.Solve()
	assert.Equal(t, []string{"shape", "confidence", "mark_high", "mark_count", "piece_sd", "half_width", "slope"}, fields(err))
	in := plan()
	in.MarkCount, in.Rounds, in.RunMark = 2, 1, 7
	_, err = in.Solve()
	assert.Equal(t, []string{"run_mark", "rounds"}, fields(err))
	in = plan()
	in.HalfWidth = 0.01
	_, err = in.Solve()
	assert.ErrorContains(t, err, "more rounds")
}

func FuzzTrialPlan(f *testing.F) {
	f.Add(2.0, 6.0, 3, 2, 4.8, 1.1, 0.5, 8.4, true)
	f.Add(-1e9, 1e9, 50, 50, 0.0, 1e-300, 1e9, -1e9, false)
	f.Fuzz(func(t *testing.T, low, high float64, marks, rounds int, at, sd, half, slope float64, curve bool) {
		in := divider.TrialPlan{
			Shape: divider.Straight, Confidence: 99, MarkLow: low, MarkHigh: high, MarkCount: marks, Rounds: rounds, RunMark: at,
			PieceSD: unit.Mass(sd), HalfWidth: unit.Mass(half), Slope: unit.Mass(slope),
		}
		if curve {
			in.Shape = divider.Quadratic
		}
		out, err := in.Solve()
		if err == nil {
			finite(t, float64(out.Reaches), out.ReachesMarks)
			for _, tr := range out.Trials {
				finite(t, tr.Mark)
			}
		}
	})
}

func BenchmarkTrialPlan(b *testing.B) {
	rows := make([]divider.TrialMark, 0, 6)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = plan().Append(rows)
	}
}
