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
)

// bent is an invented set of trials on a linkage that loses on its way.
func bent() divider.MarkFit {
	in := divider.MarkFit{Confidence: 95, Shape: divider.Quadratic, Weighting: divider.ByPieces}
	for i, x := range []float64{1, 3, 5, 7, 9, 9, 5, 1} {
		noise := []float64{0.2, -0.3, 0.1, 0.3, -0.2, 0.1, -0.2, -0.1}[i]
		in.Trials = append(in.Trials, divider.Trial{Mark: x, Weight: unit.Mass(40 + 9*x - 0.25*x*x + noise), Pieces: 10})
	}
	return in
}

func setting(c divider.Calibration, weight unit.Mass) divider.MarkForWeight {
	return divider.MarkForWeight{Calibration: c, Weight: weight, Interval: divider.Fieller, Of: divider.OfMean, MarkLow: 0, MarkHigh: 10}
}

func ExampleMarkForWeight() {
	fitted, err := morning().Solve()
	if err != nil {
		panic(err)
	}
	out, err := divider.MarkForWeight{
		Calibration: fitted.Calibration, Weight: unit.Ounces(3),
		Interval: divider.Fieller, Of: divider.OfMean, MarkLow: 0, MarkHigh: 10,
	}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Printf("3 oz: set mark %.2f (%.2f to %.2f), then weigh\n", out.Mark, out.Low, out.High)
	// Output: 3 oz: set mark 4.82 (4.77 to 4.87), then weigh
}

func ExampleWeightForMark() {
	fitted, err := morning().Solve()
	if err != nil {
		panic(err)
	}
	out, err := divider.WeightForMark{Calibration: fitted.Calibration, Mark: 5, Of: divider.OfSample, Pieces: 10}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Printf("%v at mark 5; ten pieces may weigh %v to %v in the mean\n", out.Weight, out.Low, out.High)
	// Output: 86.57 g at mark 5; ten pieces may weigh 85.49 g to 87.65 g in the mean
}

func TestMarkThereAndBack(t *testing.T) {
	falling := morning()
	for i := range falling.Trials {
		falling.Trials[i].Mark = -falling.Trials[i].Mark
	}
	upward := bent()
	for i := range upward.Trials {
		upward.Trials[i].Mark = 10 - upward.Trials[i].Mark
	}
	for name, in := range map[string]divider.MarkFit{"straight": morning(), "falling": falling, "bent": bent(), "bent and falling": upward} {
		t.Run(name, func(t *testing.T) {
			c := calibrated(t, in)
			for x := c.MarkLow; x <= c.MarkHigh; x += 0.25 {
				weight, err := divider.WeightForMark{Calibration: c, Mark: x, Of: divider.OfMean}.Solve()
				require.NoError(t, err)
				for _, interval := range []divider.Interval{divider.Fieller, divider.Delta} {
					in := setting(c, weight.Weight)
					in.Interval = interval
					mark, err := in.Solve()
					require.NoError(t, err)
					assert.InDelta(t, x, mark.Mark, 1e-9)
					assert.Less(t, mark.Low, mark.Mark)
					assert.Greater(t, mark.High, mark.Mark)
				}
			}
		})
	}
}

// The Fieller interval is the band about the curve, read the other way: at its
// ends the weight wanted lies on the edge of the band.
func TestFiellerInvertsTheBand(t *testing.T) {
	for name, in := range map[string]divider.MarkFit{"straight": morning(), "bent": bent()} {
		for _, of := range []divider.Of{divider.OfMean, divider.OfPiece, divider.OfSample} {
			t.Run(name+" "+string(of), func(t *testing.T) {
				c := calibrated(t, in)
				pieces := 0
				if of == divider.OfSample {
					pieces = 7
				}
				ask := setting(c, 80)
				ask.Of, ask.Pieces = of, pieces
				mark, err := ask.Solve()
				require.NoError(t, err)
				low, err := divider.WeightForMark{Calibration: c, Mark: mark.Low, Of: of, Pieces: pieces}.Solve()
				require.NoError(t, err)
				high, err := divider.WeightForMark{Calibration: c, Mark: mark.High, Of: of, Pieces: pieces}.Solve()
				require.NoError(t, err)
				assert.InDelta(t, 80, float64(low.High), 1e-9)
				assert.InDelta(t, 80, float64(high.Low), 1e-9)
			})
		}
	}
}

// With a curve of no bend, the curved solver must find the straight line's interval.
func TestCurvedSolverAgreesWithTheClosedForm(t *testing.T) {
	c := calibrated(t, morning())
	q := c
	q.Shape, q.Sqq = divider.Quadratic, 1e80 // a bend known to be none
	q.TrialCount++                           // one more coefficient takes one more trial for the same degrees of freedom
	for _, of := range []divider.Of{divider.OfMean, divider.OfPiece} {
		a, b := setting(c, 85), setting(q, 85)
		a.Of, b.Of = of, of
		straight, err := a.Solve()
		require.NoError(t, err)
		curved, err := b.Solve()
		require.NoError(t, err)
		assert.InDelta(t, straight.Mark, curved.Mark, 1e-12)
		assert.InDelta(t, straight.Low, curved.Low, 1e-9)
		assert.InDelta(t, straight.High, curved.High, 1e-9)
	}
}

func TestMarkForWeightConditions(t *testing.T) {
	c := calibrated(t, morning())
	for _, tc := range []struct {
		weight    unit.Mass
		tolerance unit.Mass
		want      divider.Conditions
	}{
		{85, 0, 0},
		{85, 0.4, divider.WideInterval},
		{85, 0.5, 0},
		{100, 0, reckon.Extrapolated},
		{140, 0, reckon.Extrapolated | divider.MarkOutOfRange},
	} {
		in := setting(c, tc.weight)
		in.Tolerance = tc.tolerance
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, tc.want, out.Conditions, "%v within %v", tc.weight, tc.tolerance)
	}
}

// The mark set is a whole number of divisions, the nearest to the mark, and
// the weight expected is what WeightForMark gives there.
func TestMarkSetToADivision(t *testing.T) {
	for name, in := range map[string]divider.MarkFit{"straight": morning(), "bent": bent()} {
		c := calibrated(t, in)
		for _, division := range []float64{0, 0.05, 0.5, 1} {
			for weight := unit.Mass(75); weight <= 90; weight += 0.7 {
				ask := setting(c, weight)
				ask.MarkStep = division
				out, err := ask.Solve()
				require.NoError(t, err, name)
				assert.LessOrEqual(t, math.Abs(out.Set-out.Mark), division/2+1e-12)
				if division > 0 {
					assert.InDelta(t, math.Round(out.Set/division), out.Set/division, 1e-9)
				}
				there, err := divider.WeightForMark{Calibration: c, Mark: out.Set, Of: divider.OfMean}.Solve()
				require.NoError(t, err)
				assert.InDelta(t, float64(there.Weight), float64(out.Expected), 1e-9)
			}
		}
	}
	c := calibrated(t, morning())
	top, err := divider.WeightForMark{Calibration: c, Mark: 9.9, Of: divider.OfMean}.Solve()
	require.NoError(t, err)
	ask := setting(c, top.Weight)
	ask.MarkStep = 3.4
	out, err := ask.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 10.2, out.Set, 1e-9)
	assert.True(t, out.Conditions.Has(divider.MarkOutOfRange), "9.9 is on the scale, 10.2 is not")
	ask = setting(c, 1)
	ask.MarkStep = 8
	_, err = ask.Solve()
	assert.ErrorContains(t, err, "the nearest one gives no dough")
	ask.MarkStep = -1
	_, err = ask.Solve()
	assert.Equal(t, []string{"mark_step"}, fields(err))
}

// A handle that steps over the interval is said to: a mark that is set lies within
// the interval that is printed beside it, or the condition says that it does not.
func TestMarkSetOutsideItsInterval(t *testing.T) {
	c := calibrated(t, morning())
	outside := 0
	for _, step := range []float64{0, 0.01, 0.1, 0.5, 1} {
		for weight := unit.Mass(75); weight <= 90; weight += 0.7 {
			ask := setting(c, weight)
			ask.MarkStep = step
			out, err := ask.Solve()
			require.NoError(t, err)
			assert.Equal(t, out.Set < out.Low || out.Set > out.High, out.Conditions.Has(divider.MarkOutsideInterval), "%v at a step of %v", weight, step)
			if out.Conditions.Has(divider.MarkOutsideInterval) {
				outside++
			}
		}
	}
	assert.Positive(t, outside)
}

func TestMarkForWeightRefuses(t *testing.T) {
	_, err := divider.MarkForWeight{Calibration: calibrated(t, morning()), Weight: -1, Pieces: 3, MarkLow: 5, MarkHigh: 5, Tolerance: -1}.Solve()
	assert.Equal(t, []string{"weight", "interval", "of", "pieces", "mark_high", "tolerance"}, fields(err))
	_, err = setting(divider.Calibration{}, 85).Solve()
	assert.Contains(t, fields(err), "calibration.sxx")
	c := calibrated(t, morning())
	c.Curve = 1
	_, err = setting(c, 85).Solve()
	assert.Equal(t, []string{"calibration.curve"}, fields(err))
	_, err = setting(calibrated(t, bent()), 500).Solve()
	assert.ErrorContains(t, err, "turns before it reaches")
	in := setting(calibrated(t, morning()), 85)
	in.Across = 4
	_, err = in.Solve()
	assert.Equal(t, []string{"across"}, fields(err))
	flat := calibrated(t, morning())
	flat.Slope, flat.ResidualSD, flat.PieceSD = 0, 0, 0
	_, err = setting(flat, 85).Solve()
	assert.ErrorContains(t, err, "weigh more pieces")
	_, err = check(flat, 87).Solve()
	assert.ErrorContains(t, err, "weigh more pieces")
	unsure := calibrated(t, morning())
	unsure.ResidualSD = 60
	_, err = check(unsure, 87).Solve()
	assert.ErrorContains(t, err, "weigh more pieces")
	exact := calibrated(t, bent())
	exact.ResidualSD, exact.PieceSD = 0, 0
	out, err := setting(exact, 85).Solve()
	require.NoError(t, err)
	assert.Equal(t, []float64{out.Mark, out.Mark}, []float64{out.Low, out.High}, "a curve without doubt has an interval without width")
	_, err = divider.WeightForMark{Calibration: calibrated(t, morning()), Mark: -10, Of: divider.OfMean}.Solve()
	assert.ErrorContains(t, err, "no dough")
}

func TestSingleCalculationsDoNotAllocate(t *testing.T) {
	c, q := calibrated(t, morning()), calibrated(t, bent())
	straight, curved := setting(c, 85), setting(q, 85)
	for name, f := range map[string]func(){
		"rate":            func() { _, _ = (divider.Rate{Strokes: 30, Across: 2, Piece: 85}).Solve() },
		"strokes":         func() { _, _ = (divider.StrokesForRate{PieceRate: 60, Across: 2}).Solve() },
		"hopper time":     func() { _, _ = (divider.HopperTime{Batch: 1e5, DoughRate: 400}).Solve() },
		"batch":           func() { _, _ = (divider.BatchForHopperTime{DoughRate: 400, TimeLimit: 600}).Solve() },
		"mark":            func() { _, _ = straight.Solve() },
		"mark on a curve": func() { _, _ = curved.Solve() },
		"weight": func() {
			_, _ = (divider.WeightForMark{Calibration: c, Mark: 5, Of: divider.OfPiece}).Solve()
		},
	} {
		assert.Zero(t, testing.AllocsPerRun(100, f), name)
	}
}

func BenchmarkMarkForWeight(b *testing.B) {
	for _, in := range []divider.MarkForWeight{setting(calibrated(b, morning()), 85), setting(calibrated(b, bent()), 85)} {
		b.Run(string(in.Calibration.Shape), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = in.Solve()
			}
		})
	}
}
