package divider_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// morning is an invented set of trials: rolls two across, ten pieces a mark.
func morning() divider.MarkFit {
	return divider.MarkFit{Trials: []divider.Trial{
		{Mark: 2, Weight: 61.2, Pieces: 10},
		{Mark: 4, Weight: 77.9, Pieces: 10},
		{Mark: 6, Weight: 94.6, Pieces: 10},
		{Mark: 4, Weight: 78.3, Pieces: 10},
		{Mark: 6, Weight: 95.4, Pieces: 10},
		{Mark: 2, Weight: 61.6, Pieces: 10},
	}, Confidence: 95, Shape: divider.Straight, Weighting: divider.ByPieces, Across: 2}
}

func calibrated(t testing.TB, in divider.MarkFit) divider.Calibration {
	t.Helper()
	out, err := in.Solve()
	require.NoError(t, err)
	return out.Calibration
}

func ExampleMarkFit() {
	out, err := morning().Solve()
	if err != nil {
		panic(err)
	}
	c := out.Calibration
	fmt.Printf("each mark adds %v; a piece scatters by %v\n", c.Slope, c.PieceSD)
	// Output: each mark adds 8.4 g; a piece scatters by 1.111 g
}

func TestMarkFitRefuses(t *testing.T) {
	for _, tc := range []struct {
		name   string
		change func(*divider.MarkFit)
		want   []string
	}{
		{"two points", func(in *divider.MarkFit) { in.Trials = in.Trials[:2] }, []string{"trials"}},
		{"three points for a curve", func(in *divider.MarkFit) { in.Trials, in.Shape = in.Trials[:3], divider.Quadratic }, []string{"trials"}},
		{"one mark", func(in *divider.MarkFit) {
			for i := range in.Trials {
				in.Trials[i].Mark = 4
			}
		}, []string{"trials"}},
		{"two marks for a curve", func(in *divider.MarkFit) {
			in.Shape = divider.Quadratic
			for i := range in.Trials {
				in.Trials[i].Mark = float64(i % 2)
			}
		}, []string{"trials"}},
		{"one weight", func(in *divider.MarkFit) {
			for i := range in.Trials {
				in.Trials[i].Weight = 80
			}
		}, []string{"trials"}},
		{"a weighing of zero", func(in *divider.MarkFit) { in.Trials[3].Weight = 0 }, []string{"trials[3].weight"}},
		{"not numbers", func(in *divider.MarkFit) {
			in.Trials[0].Mark, in.Trials[1].Weight = math.NaN(), unit.Mass(math.Inf(1))
		}, []string{"trials[0].mark", "trials[1].weight"}},
		{"no pieces", func(in *divider.MarkFit) { in.Trials[5].Pieces = 0 }, []string{"trials[5].pieces"}},
		{"sd missing", func(in *divider.MarkFit) { in.Trials, in.Weighting = in.Trials[:3], divider.KnownSD }, []string{"trials[0].sd", "trials[1].sd", "trials[2].sd"}},
		{"sd not used", func(in *divider.MarkFit) { in.Trials[0].SD = 1 }, []string{"trials[0].sd"}},
		{"words and bounds", func(in *divider.MarkFit) {
			in.Confidence, in.Shape, in.Weighting, in.Across = 49, "cubic", "", 40
		}, []string{"confidence", "shape", "weighting", "across"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			in := morning()
			tc.change(&in)
			_, err := in.Solve()
			assert.Equal(t, tc.want, fields(err), "%v", err)
		})
	}
}

// The fit says weigh-more exactly where the mark for a weight is refused.
func TestWeighMoreIsWhereTheInverseIsRefused(t *testing.T) {
	said := 0
	for scatter := 0.0; scatter < 12; scatter += 0.25 {
		for _, shape := range []divider.Shape{divider.Straight, divider.Quadratic} {
			in := divider.MarkFit{Confidence: 95, Shape: shape, Weighting: divider.EqualWeights}
			for i, wobble := range []float64{0.9, -1.2, 0.4, 0.7, -0.8, 0.3, -0.5, 0.2} {
				in.Trials = append(in.Trials, divider.Trial{Mark: float64(i % 4), Weight: unit.Mass(80 + 2*float64(i%4) + scatter*wobble), Pieces: 1})
			}
			out, err := in.Solve()
			require.NoError(t, err)
			if out.Conditions.Has(divider.TurnsBack) {
				continue
			}
			ask := setting(out.Calibration, out.Calibration.MeanWeight)
			ask.Interval = divider.Delta
			mark, err := ask.Solve()
			refused := err != nil
			// A curve's slope differs a little between the mean mark and the mark of the mean weight.
			if shape == divider.Straight || math.Abs(mark.G-1) > 0.3 {
				assert.Equal(t, out.Conditions.Has(divider.WeighMore), refused, "%s, scatter %g", shape, scatter)
			}
			if refused {
				said++
			}
		}
	}
	assert.Positive(t, said)
}

func TestMarkFitSaysWhenTheHandleCannotBeTold(t *testing.T) {
	in := morning()
	for i := range in.Trials {
		in.Trials[i].Weight = []unit.Mass{80, 79, 80.5, 81, 79.6, 80.2}[i]
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(divider.WeighMore))
	_, err = divider.MarkForWeight{
		Calibration: out.Calibration, Weight: 80,
		Interval: divider.Fieller, Of: divider.OfMean, MarkHigh: 10,
	}.Solve()
	var none *reckon.NoSolutionError
	require.True(t, errors.As(err, &none), "%v", err)
	assert.Contains(t, err.Error(), "weigh more pieces")
	assert.Contains(t, err.Error(), "spread the marks")
}

// Trials that count k times must give the line that k like trials give.
func TestByPiecesIsRepetition(t *testing.T) {
	weighted := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.ByPieces, Trials: []divider.Trial{
		{Mark: 1, Weight: 50, Pieces: 3}, {Mark: 2, Weight: 61, Pieces: 1}, {Mark: 4, Weight: 79, Pieces: 5}, {Mark: 5, Weight: 92, Pieces: 2},
	}}
	repeated := weighted
	repeated.Trials, repeated.Weighting = nil, divider.EqualWeights
	for _, tr := range weighted.Trials {
		for range tr.Pieces {
			repeated.Trials = append(repeated.Trials, divider.Trial{Mark: tr.Mark, Weight: tr.Weight, Pieces: 1})
		}
	}
	for _, shape := range []divider.Shape{divider.Straight, divider.Quadratic} {
		weighted.Shape, repeated.Shape = shape, shape
		a, err := weighted.Solve()
		require.NoError(t, err)
		b, err := repeated.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(b.Intercept), float64(a.Intercept), 1e-12)
		assert.InEpsilon(t, float64(b.Slope), float64(a.Slope), 1e-12)
		assert.InEpsilon(t, b.SumSquares, a.SumSquares, 1e-12)
		assert.InEpsilon(t, b.Calibration.SumWeights, a.Calibration.SumWeights, 1e-12)
	}
}

// Known standard deviations of s/sqrt(pieces) are what "by-pieces" assumes:
// the same curve, with the scatter taken from what was given.
func TestKnownSDIsByPiecesWithTheScatterGiven(t *testing.T) {
	by := morning()
	by.Trials[1].Pieces, by.Trials[4].Pieces = 3, 25
	known := by
	known.Weighting, known.Trials = divider.KnownSD, append([]divider.Trial(nil), by.Trials...)
	for i := range known.Trials {
		known.Trials[i].SD = unit.Mass(1.3 / math.Sqrt(float64(known.Trials[i].Pieces)))
	}
	a, b := calibrated(t, by), calibrated(t, known)
	assert.InEpsilon(t, float64(a.Slope), float64(b.Slope), 1e-12)
	assert.InEpsilon(t, float64(a.MeanWeight), float64(b.MeanWeight), 1e-12)
	assert.InEpsilon(t, 1.3, float64(b.PieceSD), 1e-12)
	assert.InEpsilon(t, 1.959963984540054, b.StudentT, 1e-12)
}

// Scatter beyond what was given is a lack of fit; the limit is chi-square's.
func TestKnownSDTooSmallIsALackOfFit(t *testing.T) {
	in := morning()
	in.Weighting = divider.KnownSD
	for i := range in.Trials {
		in.Trials[i].SD = 0.2
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 9.487729036781154, out.CriticalChi, 1e-9, "95 % of chi-square with 4 degrees of freedom, any table: 9.488")
	assert.Greater(t, out.SumSquares, out.CriticalChi)
	assert.True(t, out.Conditions.Has(divider.LackOfFit))
	for i := range in.Trials {
		in.Trials[i].SD = 0.5
	}
	out, err = in.Solve()
	require.NoError(t, err)
	assert.False(t, out.Conditions.Has(divider.LackOfFit))
}

// Marks that differ by less than the arithmetic can hold are refused, not answered.
func TestMarksTooCloseAreRefused(t *testing.T) {
	for _, close := range []float64{1e-300, 1e-20} { // no sum of squares, and one that no calibration takes
		in := morning()
		for i := range in.Trials {
			in.Trials[i].Mark *= close
		}
		_, err := in.Solve()
		assert.ErrorContains(t, err, "spread them", "%v", close)
	}
}

// The standard deviations of the coefficients and their covariance, found by
// nudging each trial and fitting again: a fit is linear in its weights.
func TestCoefficientsScatterAsTheirTrialsDo(t *testing.T) {
	for name, in := range map[string]divider.MarkFit{"straight": morning(), "bent": bent()} {
		t.Run(name, func(t *testing.T) {
			in.Trials = append([]divider.Trial(nil), in.Trials...)
			in.Trials[0].Pieces, in.Trials[1].Mark = 3, 3.4 // marks that do not lie evenly
			before, err := in.Solve()
			require.NoError(t, err)
			var aa, bb, cc, ab float64
			for i := range in.Trials {
				in.Trials[i].Weight++
				after, err := in.Solve()
				require.NoError(t, err)
				in.Trials[i].Weight--
				v := float64(before.Calibration.ResidualSD*before.Calibration.ResidualSD) / float64(in.Trials[i].Pieces)
				a, b, c := float64(after.Intercept-before.Intercept), float64(after.Slope-before.Slope), after.Curve-before.Curve
				aa, bb, cc, ab = aa+a*a*v, bb+b*b*v, cc+c*c*v, ab+a*b*v
			}
			assert.InEpsilon(t, math.Sqrt(aa), float64(before.InterceptSD), 1e-9)
			assert.InEpsilon(t, math.Sqrt(bb), float64(before.SlopeSD), 1e-9)
			assert.InEpsilon(t, ab, before.Covariance, 1e-9)
			if in.Shape == divider.Quadratic {
				assert.InEpsilon(t, math.Sqrt(cc), before.CurveSD, 1e-9)
			}
		})
	}
}

// With equal weights, ten pieces a trial, a single piece scatters sqrt(10) as much as a trial.
func TestPieceSDOfEqualTrials(t *testing.T) {
	in := morning()
	in.Weighting = divider.EqualWeights
	c := calibrated(t, in)
	assert.InEpsilon(t, float64(c.ResidualSD)*math.Sqrt(10), float64(c.PieceSD), 1e-12)
}

// A curve that is exactly quadratic comes back as it is, however far off zero the marks lie.
func TestQuadraticIsRecovered(t *testing.T) {
	for _, offset := range []float64{0, 1000, -1e6} {
		in := divider.MarkFit{Confidence: 95, Shape: divider.Quadratic, Weighting: divider.EqualWeights}
		for _, x := range []float64{0, 1, 2.5, 4, 7, 8} {
			in.Trials = append(in.Trials, divider.Trial{Mark: offset + x, Weight: unit.Mass(40 + 9*x - 0.3*x*x), Pieces: 1})
		}
		c := calibrated(t, in)
		assert.InEpsilon(t, -0.3, c.Curve, 1e-9)
		for _, x := range []float64{0, 3, 8} {
			out, err := divider.WeightForMark{Calibration: c, Mark: offset + x, Of: divider.OfMean}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, 40+9*x-0.3*x*x, float64(out.Weight), 1e-9)
		}
	}
}

func TestCurveThatTurnsIsSaid(t *testing.T) {
	in := divider.MarkFit{Confidence: 95, Shape: divider.Quadratic, Weighting: divider.EqualWeights, Trials: []divider.Trial{
		{Mark: 0, Weight: 50, Pieces: 1}, {Mark: 1, Weight: 60, Pieces: 1}, {Mark: 2, Weight: 64.2, Pieces: 1}, {Mark: 3, Weight: 59.8, Pieces: 1}, {Mark: 4, Weight: 50.3, Pieces: 1},
	}}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(divider.TurnsBack))
	_, err = divider.MarkForWeight{Calibration: out.Calibration, Weight: 55, Interval: divider.Fieller, Of: divider.OfMean, MarkHigh: 10}.Solve()
	assert.ErrorContains(t, err, "two marks")
}

// A studentised residual is how far a trial lies from the fit made without it,
// over the standard deviation of that distance. A mistyped weighing shows.
func TestOutlierIsTheTrialThatTheOthersDoNotExpect(t *testing.T) {
	for _, in := range []divider.MarkFit{morning(), bent()} {
		in.Weighting = divider.EqualWeights
		in.Trials = append([]divider.Trial(nil), in.Trials...)
		for i := range in.Trials {
			in.Trials[i].Pieces = 1
		}
		in.Trials[3].Weight += 12
		all, err := in.Solve()
		require.NoError(t, err)
		assert.True(t, all.Conditions.Has(reckon.Outlier))
		require.Equal(t, 3, all.Worst)
		without := in
		without.Trials = append(append([]divider.Trial(nil), in.Trials[:3]...), in.Trials[4:]...)
		c := calibrated(t, without)
		expected, err := divider.WeightForMark{Calibration: c, Mark: in.Trials[3].Mark, Of: divider.OfPiece}.Solve()
		require.NoError(t, err)
		deleted := float64(in.Trials[3].Weight-expected.Weight) / (float64(expected.High-expected.Weight) / c.StudentT)
		df := float64(all.Calibration.DegreesOfFreedom)
		assert.InEpsilon(t, deleted*deleted, all.WorstResidual*all.WorstResidual*(df-1)/(df-all.WorstResidual*all.WorstResidual), 1e-9)
	}
	clean, err := morning().Solve()
	require.NoError(t, err)
	assert.False(t, clean.Conditions.Has(reckon.Outlier))
}

// Student's t, the normal value and F, as far as calibrations use them, against tables.
func TestQuantilesBehindTheIntervals(t *testing.T) {
	for _, tc := range []struct {
		trials     int
		confidence unit.Percent
		want       float64
	}{
		// R 4.2 and 40-digit arithmetic agree on these.
		{3, 99.8, 318.3088389855504}, {4, 95, 4.302652729749464}, {8, 98, 3.142668403290983}, {32, 90, 1.697260886593958},
	} {
		in := divider.MarkFit{Confidence: tc.confidence, Shape: divider.Straight, Weighting: divider.EqualWeights}
		for i := range tc.trials {
			in.Trials = append(in.Trials, divider.Trial{Mark: float64(i), Weight: unit.Mass(50 + 8*i + i%2), Pieces: 1})
		}
		assert.InEpsilon(t, tc.want, calibrated(t, in).StudentT, 1e-9, "%d trials", tc.trials)
	}
}

func FuzzMark(f *testing.F) {
	f.Add(2.0, 61.0, 4.0, 78.0, 6.0, 95.0, 5.0, 85.0, 10, 84.0, true)
	f.Add(-1e9, 1e9, 1e9, 1e-300, 0.0, 5e8, 1e-12, 1e9, 100000, 1e9, false)
	f.Fuzz(func(t *testing.T, x1, y1, x2, y2, x3, y3, x4, y4 float64, pieces int, y float64, curve bool) {
		in := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.ByPieces, Trials: []divider.Trial{
			{Mark: x1, Weight: unit.Mass(y1), Pieces: pieces},
			{Mark: x2, Weight: unit.Mass(y2), Pieces: 1},
			{Mark: x3, Weight: unit.Mass(y3), Pieces: 2},
			{Mark: x4, Weight: unit.Mass(y4), Pieces: 3},
		}}
		if curve {
			in.Shape = divider.Quadratic
		}
		out, err := in.Solve()
		if err != nil {
			return
		}
		finite(t, float64(out.Calibration.Slope), float64(out.Intercept), float64(out.SlopeSD), out.LackOfFitF)
		for _, interval := range []divider.Interval{divider.Fieller, divider.Delta} {
			for _, of := range []divider.Of{divider.OfMean, divider.OfPiece} {
				mark, err := divider.MarkForWeight{
					Calibration: out.Calibration, Weight: unit.Mass(y),
					Interval: interval, Of: of, MarkLow: -10, MarkHigh: 10,
				}.Solve()
				assert.Empty(t, mustBeInput(err, "calibration"), "what MarkFit makes, MarkForWeight takes: %v", err)
				if err == nil {
					finite(t, mark.Mark, mark.Low, mark.High, float64(mark.PerMark), mark.G)
				}
			}
		}
		weight, err := divider.WeightForMark{Calibration: out.Calibration, Mark: y, Of: divider.OfPiece}.Solve()
		if err == nil {
			finite(t, float64(weight.Weight), float64(weight.Low), float64(weight.High))
		}
	})
}

// mustBeInput returns the refused fields that start with prefix.
func mustBeInput(err error, prefix string) []string {
	var out []string
	for _, f := range fields(err) {
		if len(f) >= len(prefix) && f[:len(prefix)] == prefix {
			out = append(out, f)
		}
	}
	return out
}

func finite(t *testing.T, values ...float64) {
	t.Helper()
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%v left the library", values)
		}
	}
}

func BenchmarkMarkFit(b *testing.B) {
	in := morning()
	b.ReportAllocs()
	for b.Loop() {
		_, _ = in.Solve()
	}
}

// Trials that agree to the last digit do not make the curve certain.
func TestTrialsWithoutScatterAreTold(t *testing.T) {
	fit := func(weights ...unit.Mass) divider.MarkFitResult {
		in := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.ByPieces}
		for i, w := range weights {
			in.Trials = append(in.Trials, divider.Trial{Mark: float64(2 + 2*(i/2)), Weight: w, Pieces: 10})
		}
		out, err := in.Solve()
		require.NoError(t, err)
		return out
	}
	exact := fit(60, 60, 75, 75, 90, 90)
	assert.Equal(t, divider.Conditions(reckon.ScaleTooCoarse), exact.Conditions, "on the line to the last digit")
	next, err := divider.NextMark{Calibration: exact.Calibration, Mark: 4, Weight: 76, Pieces: 1, Target: 75, MoveLimit: 0.5, MarkLow: 0, MarkHigh: 10}.Solve()
	require.NoError(t, err)
	assert.True(t, next.Conditions.Has(reckon.ScaleTooCoarse))
	mark, err := setting(exact.Calibration, 80).Solve()
	require.NoError(t, err)
	assert.True(t, mark.Conditions.Has(reckon.ScaleTooCoarse))
	bent := fit(60, 60, 70, 70, 100, 100)
	assert.Equal(t, reckon.ScaleTooCoarse|divider.LackOfFit, bent.Conditions, "far from the line, and no scatter to excuse it")
}

// Trials on a line have no scatter, none that lies off, and no doubt; not even where binary numbers miss the line by a last digit.
func TestTrialsOnTheLineHaveNoOutlier(t *testing.T) {
	for _, y := range [][]unit.Mass{{60, 78, 96}, {60.1, 78.2, 96.3}, {61.3, 78.6, 95.9}} {
		out, err := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.EqualWeights, Trials: []divider.Trial{
			{Mark: 2, Weight: y[0], Pieces: 10}, {Mark: 4, Weight: y[1], Pieces: 10}, {Mark: 6, Weight: y[2], Pieces: 10},
		}}.Solve()
		require.NoError(t, err)
		assert.Equal(t, divider.Conditions(reckon.ScaleTooCoarse), out.Conditions)
		assert.Zero(t, out.Worst)
		assert.Zero(t, out.WorstResidual)
	}
}

// One trial off a line through all others has the largest residual that there can be, the root of the degrees of freedom:
// with two of these it is an outlier, by Student's t with one; with one it cannot be told which of three lies off.
func TestTheOnlyTrialOffTheLine(t *testing.T) {
	in := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.EqualWeights, Trials: []divider.Trial{
		{Mark: 2, Weight: 60, Pieces: 1}, {Mark: 4, Weight: 78, Pieces: 1}, {Mark: 6, Weight: 96, Pieces: 1}, {Mark: 8, Weight: 134, Pieces: 1},
	}}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, math.Sqrt2, out.WorstResidual, 1e-9)
	assert.Equal(t, 3, out.Worst)
	assert.True(t, out.Conditions.Has(reckon.Outlier))
	in.Trials = in.Trials[1:]
	out, err = in.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 1, out.WorstResidual, 1e-9)
	assert.False(t, out.Conditions.Has(reckon.Outlier))
}

// Equal marks that weighed almost nothing, and almost the same, beside tonnes: F would have no end.
func TestNoEndlessLackOfFit(t *testing.T) {
	_, err := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.EqualWeights, Trials: []divider.Trial{
		{Mark: 2, Weight: 1e-154, Pieces: 1}, {Mark: 2, Weight: 3e-154, Pieces: 1}, {Mark: 4, Weight: 1e9, Pieces: 1}, {Mark: 6, Weight: 1e8, Pieces: 1},
	}}.Solve()
	var none *reckon.NoSolutionError
	assert.ErrorAs(t, err, &none)
}

// Of trials that lie as far off the first is named, and one that weighs what the first does is no reason to refuse them all.
func TestTrialsAlike(t *testing.T) {
	out, err := divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.EqualWeights, Trials: []divider.Trial{
		{Mark: 6, Weight: 94, Pieces: 1},
		{Mark: 2, Weight: 58, Pieces: 1},
		{Mark: 2, Weight: 62, Pieces: 1},
		{Mark: 6, Weight: 98, Pieces: 1},
		{Mark: 6, Weight: 94, Pieces: 1},
		{Mark: 6, Weight: 98, Pieces: 1},
		{Mark: 2, Weight: 58, Pieces: 1},
		{Mark: 2, Weight: 62, Pieces: 1},
		{Mark: 6, Weight: 94, Pieces: 1},
		{Mark: 6, Weight: 98, Pieces: 1},
		{Mark: 2, Weight: 62, Pieces: 1},
		{Mark: 2, Weight: 58, Pieces: 1},
	}}.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Worst)
	assert.InEpsilon(t, 9, float64(out.Slope), 1e-12)
	_, err = divider.MarkFit{Confidence: 95, Shape: divider.Straight, Weighting: divider.EqualWeights, Trials: []divider.Trial{
		{Mark: 2, Weight: 60, Pieces: 1}, {Mark: 6, Weight: 95, Pieces: 1}, {Mark: 2, Weight: 60, Pieces: 1},
	}}.Solve()
	assert.NoError(t, err)
}
