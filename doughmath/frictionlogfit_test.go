package doughmath_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// fitted is a log worked out by another way than the library's: the normal equations of the columns as they
// are, beta = (X'X)^-1 X'y, with leverage h = x'(X'X)^-1 x and each residual over S*sqrt(1 - h).
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1 and 4.4.4.
type fitted struct {
	beta     []float64
	inverse  mat.Dense
	s        float64
	farthest int // from 1
	distance float64
}

func columns(model doughmath.FrictionModel, minutes, kilograms float64) []float64 {
	switch model {
	case doughmath.FrictionByTime:
		return []float64{1, minutes}
	case doughmath.FrictionBySize:
		return []float64{1, kilograms}
	case doughmath.FrictionByTimeAndSize:
		return []float64{1, minutes, kilograms}
	}
	return []float64{1}
}

// point is a batch of a log: its friction, minutes and kilograms.
type point [3]float64

func normalEquations(t *testing.T, model doughmath.FrictionModel, points []point) (f fitted) {
	p := len(columns(model, 0, 0))
	x, y := mat.NewDense(len(points), p, nil), mat.NewVecDense(len(points), nil)
	for i, b := range points {
		x.SetRow(i, columns(model, b[1], b[2]))
		y.SetVec(i, b[0])
	}
	var square mat.Dense
	square.Mul(x.T(), x)
	require.NoError(t, f.inverse.Inverse(&square))
	var right, beta mat.VecDense
	right.MulVec(x.T(), y)
	beta.MulVec(&f.inverse, &right)
	f.beta = beta.RawVector().Data
	squares := 0.0
	for _, b := range points {
		squares += math.Pow(b[0]-f.at(columns(model, b[1], b[2])), 2)
	}
	f.s = math.Sqrt(squares / float64(len(points)-p))
	for i, b := range points {
		row := columns(model, b[1], b[2])
		if d := math.Abs(b[0]-f.at(row)) / (f.s * math.Sqrt(1-f.leverage(row))); d > f.distance {
			f.farthest, f.distance = i+1, d
		}
	}
	return f
}

func (f *fitted) at(row []float64) (sum float64) {
	for i, x := range row {
		sum += x * f.beta[i]
	}
	return sum
}

func (f *fitted) leverage(row []float64) float64 {
	return mat.Inner(mat.NewVecDense(len(row), row), &f.inverse, mat.NewVecDense(len(row), row))
}

func logOf(points []point) (out []doughmath.LoggedBatch) {
	for i, b := range points {
		out = append(out, logged(b[0], b[1], b[2], fmt.Sprint("day ", i/2)))
	}
	return out
}

// Made-up batches whose times and sizes go together to some degree, so that neither can be fitted alone.
var scattered = []point{{12.1, 6, 90}, {14.6, 8, 105}, {12.9, 6.5, 80}, {15.2, 8.5, 120}, {13.0, 7, 95}, {14.0, 7, 130}, {12.6, 6, 125}, {15.9, 9, 85}}

func TestFrictionLogByNormalEquations(t *testing.T) {
	for _, model := range []doughmath.FrictionModel{doughmath.FrictionMean, doughmath.FrictionByTime, doughmath.FrictionBySize, doughmath.FrictionByTimeAndSize} {
		want := normalEquations(t, model, scattered)
		in := nextBatch(model, logOf(scattered)...)
		in.Time, in.BatchSize = unit.Minutes(8.2), unit.Kilograms(84)
		in.FirstBatch = logged(14.7, 7.7, 99, "today")
		out, w, err := reckon.Explain(in)
		require.NoError(t, err)
		isTrue(t, w)
		shown := map[string]bool{}
		for _, s := range w.Steps {
			shown[s.Symbol] = true
		}
		assert.True(t, shown["b"] && shown["s"], "a figure that the model leaves out is shown as 0")
		row := columns(model, 8.2, 84)
		half := distuv.StudentsT{Sigma: 1, Nu: float64(len(scattered) - len(row))}.Quantile(0.95) * want.s * math.Sqrt(1+want.leverage(row))
		got := []float64{float64(out.Constant)}
		switch model {
		case doughmath.FrictionByTime:
			got = append(got, float64(out.ByMinute))
		case doughmath.FrictionBySize:
			got = append(got, float64(out.ByKilo))
		case doughmath.FrictionByTimeAndSize:
			got = append(got, float64(out.ByMinute), float64(out.ByKilo))
		}
		assert.InDeltaSlice(t, want.beta, got, 1e-9, model)
		assert.InDelta(t, want.s, float64(out.FitSD), 1e-9, model)
		assert.InDelta(t, want.at(row), float64(out.Friction), 1e-9, model)
		assert.InDelta(t, half, float64(out.High-out.Friction), 1e-9, model)
		assert.InDelta(t, half, float64(out.Friction-out.Low), 1e-9, model)
		assert.Equal(t, want.farthest, out.Farthest, model)
		assert.InDelta(t, 14.7-want.at(columns(model, 7.7, 99)), float64(out.FirstFurther), 1e-9, model)
	}
}

// A batch is pointed out from three of its own standard deviations on, which are fewer where it pulls on the fit.
func TestFrictionLogOutlierFromThree(t *testing.T) {
	for _, model := range []doughmath.FrictionModel{doughmath.FrictionMean, doughmath.FrictionByTime, doughmath.FrictionByTimeAndSize} {
		points := make([]point, 0, 16)
		for i := range 14 {
			points = append(points, point{13 + 0.1*float64(i%3), 6 + float64(i%4), 90 + 10*float64(i%5)})
		}
		points = append(points, point{0, 9.4, 140})
		low, high := 13.2, 60.0 // of the last friction; its distance grows from under 3 to over
		for range 60 {
			points[14][0] = (low + high) / 2
			if normalEquations(t, model, points).distance > 3 {
				high = points[14][0]
			} else {
				low = points[14][0]
			}
		}
		for move, want := range map[float64]bool{-0.002: false, 0.002: true} {
			points[14][0] = low + move
			out, err := nextBatch(model, logOf(points)...).Solve()
			require.NoError(t, err)
			assert.Equal(t, want, out.Conditions.Has(reckon.Outlier), "%v %v", model, low+move)
			assert.Equal(t, 15, out.Farthest)
		}
	}
}

// A batch that alone has its time lies upon the fit, whatever it shows: it is never the farthest.
func TestFrictionLogWithALoneBatch(t *testing.T) {
	for _, size := range []float64{1, 0.001} {
		points := []point{{13, 7.3, 100}, {13 + 0.3*size, 7.3, 100}, {13 + 0.1*size, 7.3, 100}, {13 - 0.2*size, 7.3, 100}, {13 + 0.1*size, 7.3, 100}, {17.7, 9.1, 100}}
		in := nextBatch(doughmath.FrictionByTime, logOf(points)...)
		in.Time = unit.Minutes(7.3)
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, 4, out.Farthest, "0.26 below the mean of the others")
		assert.False(t, out.Conditions.Has(reckon.Outlier))
	}
	// Of two that lie equally far, the first is named.
	out, err := nextBatch(doughmath.FrictionMean, logOf([]point{{13, 7, 100}, {12, 7, 100}, {14, 7, 100}})...).Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, out.Farthest)
}

// Sizes and times that differ by next to nothing, or go together, support no model.
func TestFrictionLogWithoutADifference(t *testing.T) {
	log := func(each func(i int) (minutes, kilograms float64)) []doughmath.LoggedBatch {
		var points []point
		for i := range 7 {
			m, k := each(i)
			points = append(points, point{13 + 0.1*float64(i%3), m, k})
		}
		return logOf(points)
	}
	refused := func(model doughmath.FrictionModel, batches []doughmath.LoggedBatch) {
		t.Helper()
		_, err := nextBatch(model, batches...).Solve()
		assert.Equal(t, []string{"model"}, fields(err), model)
	}
	for _, v := range []float64{7.1, 6.7, 8.3, 33.3, 0.7} { // of which seven make no seventh of their sum in binary
		same := log(func(int) (float64, float64) { return v, v })
		for _, model := range []doughmath.FrictionModel{doughmath.FrictionByTime, doughmath.FrictionBySize, doughmath.FrictionByTimeAndSize} {
			refused(model, same)
		}
	}
	refused(doughmath.FrictionByTime, log(func(i int) (float64, float64) { return 7 * (1 + 3e-10*float64(i%2)), 100 }))
	milligram := log(func(i int) (float64, float64) { return 6 + float64(i), 1e5 - 1e-6*float64(i%2) })
	refused(doughmath.FrictionBySize, milligram)
	refused(doughmath.FrictionByTimeAndSize, milligram)
	refused(doughmath.FrictionByTimeAndSize, log(func(i int) (float64, float64) { return 6 + float64(i), (60 + 10*float64(i)) * (1 + 1e-11*float64(i%2)) }))
}

// The batch to come lies within what the model looks at, or not.
func TestFrictionLogSpans(t *testing.T) {
	for _, c := range []struct {
		model              doughmath.FrictionModel
		minutes, kilograms float64
		beyond             bool
	}{
		{doughmath.FrictionMean, 20, 300, false},
		{doughmath.FrictionByTime, 9, 300, false},
		{doughmath.FrictionByTime, 9.01, 100, true},
		{doughmath.FrictionByTime, 5.99, 100, true},
		{doughmath.FrictionBySize, 20, 130, false},
		{doughmath.FrictionBySize, 7, 130.1, true},
		{doughmath.FrictionBySize, 7, 79.9, true},
		{doughmath.FrictionByTimeAndSize, 9, 80, false},
		{doughmath.FrictionByTimeAndSize, 9.01, 80, true},
		{doughmath.FrictionByTimeAndSize, 9, 79.9, true},
	} {
		in := nextBatch(c.model, logOf(scattered)...)
		in.Time, in.BatchSize = unit.Minutes(c.minutes), unit.Kilograms(c.kilograms)
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.beyond, out.Conditions.Has(reckon.Extrapolated), "%+v", c)
	}
}

// What a log must have for the first batch of a day, and what counts in it.
func TestFrictionLogOfDays(t *testing.T) {
	days := func(counts ...int) doughmath.FrictionLog {
		var points []doughmath.LoggedBatch
		for d, n := range counts {
			for i := range n {
				points = append(points, logged(13+0.2*float64(d%2)+0.1*float64(i), 7, 100, fmt.Sprint("day ", d)))
			}
		}
		in := nextBatch(doughmath.FrictionMean, points...)
		in.FirstBatch = logged(13, 7, 100, "today")
		return in
	}
	for _, c := range []struct {
		id   string
		in   doughmath.FrictionLog
		want []string
	}{
		{"one day", days(4), []string{"log"}},
		{"two days and a pair", days(2, 1), nil},
		{"no day with two batches", days(1, 1, 1, 1), []string{"log"}},
	} {
		_, err := c.in.Solve()
		assert.Equal(t, c.want, fields(err), c.id)
	}
	few := func(in doughmath.FrictionLog) bool {
		out, err := in.Solve()
		require.NoError(t, err)
		return out.Conditions.Has(doughmath.FewBatches)
	}
	assert.False(t, few(days(2, 2, 2, 2, 1)), "four degrees of freedom within a day, and four between")
	assert.True(t, few(days(2, 2, 2, 1, 1, 1)), "three within")
	assert.True(t, few(days(3, 2, 2, 2)), "three between")

	in := days(2, 2, 2, 2, 2)
	out, err := in.Solve()
	require.NoError(t, err)
	in.TempTolerance = out.TodayDough
	assert.False(t, few(in), "what may be is as wide as it may be")
	in.TempTolerance = out.TodayDough * 0.999
	assert.True(t, few(in))
	in.TempTolerance = 0.005
	assert.True(t, few(in))

	// Other speeds of the mixer do not count, nor what is wrong elsewhere.
	plain := days(2, 2)
	fast := logged(25, 7, 100, "day 9")
	fast.MixerSpeed = "fast"
	mixed := days(2, 2)
	mixed.Log = append(mixed.Log, fast)
	want, err := plain.Solve()
	require.NoError(t, err)
	got, err := mixed.Solve()
	require.NoError(t, err)
	assert.Equal(t, want, got)
	mixed.Log[0].Room = unit.Celsius(90)
	_, err = mixed.Solve()
	assert.Equal(t, []string{"log[0].room"}, fields(err))
	plain.Mixer = ""
	_, err = plain.Solve()
	assert.Equal(t, []string{"mixer", "first_batch.mixer"}, fields(err))
}

// By hand, as in the first-batch test: days that differ by very little still take their share of a surprise.
func TestFrictionLogOfLikeDays(t *testing.T) {
	const spread, pair = 0.006, 0.001
	var points []doughmath.LoggedBatch
	for i, d := range []float64{-spread, 0, spread, 0} {
		day := fmt.Sprint("day ", i)
		points = append(points, logged(13+d-pair, 7, 100, day), logged(13+d+pair, 7, 100, day))
	}
	in := nextBatch(doughmath.FrictionMean, points...)
	in.FirstBatch = logged(15, 7, 100, "today")
	out, err := in.Solve()
	require.NoError(t, err)
	between, within := (4.0/3*spread*spread-2*pair*pair)/2, 2*pair*pair
	assert.InDelta(t, math.Sqrt(between), float64(out.DaySD), 1e-9)
	assert.InDelta(t, 100*between/(between+within), float64(out.FirstCounts), 1e-6)
}
