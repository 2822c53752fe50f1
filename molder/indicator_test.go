package molder_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

var (
	opening = []molder.IndicatorPoint{{Number: 0, Gap: 1}, {Number: 5, Gap: 3.6}, {Number: 10, Gap: 5.9}}
	closing = []molder.IndicatorPoint{{Number: -2, Gap: 9}, {Number: 3, Gap: 4}, {Number: 8, Gap: 0.5}}
)

func TestIndicatorGoesBack(t *testing.T) {
	for name, points := range map[string][]molder.IndicatorPoint{"opening": opening, "closing": closing} {
		for _, method := range []molder.ScaleMethod{molder.ByTable, molder.ByLine} {
			for _, gap := range []unit.Length{1, 2.7, 3.6, 4, 5.9} {
				n, err := molder.IndicatorForGap{Gap: gap, Points: points, Method: method}.Solve()
				require.NoError(t, err, name)
				back, err := molder.GapForIndicator{Number: n.Number, Points: points, Method: method}.Solve()
				require.NoError(t, err, name)
				same(t, gap, back.Gap, name)
			}
		}
	}
}

// A table gives back its own points and, half way, the mean of neighbours.
func TestIndicatorTable(t *testing.T) {
	for _, c := range []struct{ number, gap float64 }{{0, 1}, {5, 3.6}, {10, 5.9}, {2.5, 2.3}, {7.5, 4.75}} {
		out, err := molder.GapForIndicator{Number: c.number, Points: opening, Method: molder.ByTable}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, c.gap, float64(out.Gap), 1e-12)
		assert.Zero(t, out.Conditions)
	}
}

func TestIndicatorBeyondTheList(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.IndicatorForGap{Gap: 7, Points: opening, Method: molder.ByTable}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"1 mm", "5.9 mm"}, [2]string{none.Low, none.High})
	_, err = molder.GapForIndicator{Number: 9, Points: closing, Method: molder.ByTable}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"-2", "8"}, [2]string{none.Low, none.High}, "a number was wanted")
	out, err := molder.IndicatorForGap{Gap: 7, Points: opening, Method: molder.ByLine}.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.Conditions(reckon.Extrapolated), out.Conditions)
	_, err = molder.GapForIndicator{Number: -50, Points: opening, Method: molder.ByLine}.Solve()
	assert.ErrorAs(t, err, &none, "the line has no gap left there")
}

// What is said of the reach is true: gaps for a gap, numbers for a number, and
// as far as the line goes where it is read as one.
func TestIndicatorNamesWhatIsReached(t *testing.T) {
	var none *reckon.NoSolutionError
	// gap = 1 + 0.4 n: 0.05 mm at -2.375, 200 mm at 497.5.
	straight := []molder.IndicatorPoint{{Number: 0, Gap: 1}, {Number: 10, Gap: 5}, {Number: 20, Gap: 9}}
	_, err := molder.GapForIndicator{Number: -100, Points: straight, Method: molder.ByLine}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"-2.375", "497.5"}, [2]string{none.Low, none.High})
	assert.NotContains(t, none.Advice, "read it as a line")
	for _, n := range []float64{-2.37, 497} {
		_, err = molder.GapForIndicator{Number: n, Points: straight, Method: molder.ByLine}.Solve()
		require.NoError(t, err)
	}
	_, err = molder.GapForIndicator{Number: -100, Points: straight, Method: molder.ByTable}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"0", "20"}, [2]string{none.Low, none.High})
	assert.Contains(t, none.Advice, "read it as a line")

	// A line so flat that 200 mm lie at number 199000: with gap = 1 + 0.001 n it reaches 11 mm, and 0.05 mm at -950.
	flat := []molder.IndicatorPoint{{Number: 0, Gap: 1}, {Number: 1000, Gap: 2}}
	_, err = molder.IndicatorForGap{Gap: 200, Points: flat, Method: molder.ByLine}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"0.05 mm", "11 mm"}, [2]string{none.Low, none.High})
	assert.NotContains(t, none.Advice, "read it as a line")
	_, err = molder.IndicatorForGap{Gap: 10.9, Points: flat, Method: molder.ByLine}.Solve()
	require.NoError(t, err)

	// A list that starts with rollers that touch, and one that goes beyond what rollers are set to.
	touching := []molder.IndicatorPoint{{Number: 0, Gap: 0}, {Number: 10, Gap: 5}, {Number: 20, Gap: 400}}
	for _, n := range []float64{0, 19} {
		_, err = molder.GapForIndicator{Number: n, Points: touching, Method: molder.ByTable}.Solve()
		require.ErrorAs(t, err, &none)
		// 0.05 of 5 mm over 10 numbers; 195 of 395 mm over 10 numbers.
		assert.Equal(t, [2]string{"0.1", "14.94"}, [2]string{none.Low, none.High})
		assert.NotContains(t, none.Advice, "read it as a line")
	}
	turned := []molder.IndicatorPoint{{Number: 0, Gap: 400}, {Number: 10, Gap: 5}, {Number: 20, Gap: 0}}
	_, err = molder.GapForIndicator{Number: 1, Points: turned, Method: molder.ByTable}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"5.063", "19.9"}, [2]string{none.Low, none.High})
	wide := []molder.IndicatorPoint{{Number: 0, Gap: 300}, {Number: 10, Gap: 400}}
	_, err = molder.GapForIndicator{Number: 5, Points: wide, Method: molder.ByTable}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Empty(t, none.Low+none.High)
	_, err = molder.IndicatorForGap{Gap: 5, Points: wide, Method: molder.ByTable}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Empty(t, none.Low+none.High)
}

// Zero scatter for points on a line; slope and zero by hand: gap = 1 + 0.5 n.
func TestIndicatorFitByHand(t *testing.T) {
	out, err := molder.IndicatorFit{Points: []molder.IndicatorPoint{{Number: 4, Gap: 3}, {Number: 0, Gap: 1}, {Number: 8, Gap: 5}}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.IndicatorFitResult{Zero: 1, Slope: 0.5, Cautions: reckon.RollerNip}, out)
	// Moving the middle one by 0.3 leaves misses of -0.1, 0.2, -0.1: scatter sqrt(0.06).
	out, err = molder.IndicatorFit{Points: []molder.IndicatorPoint{{Number: 0, Gap: 1}, {Number: 4, Gap: 3.3}, {Number: 8, Gap: 5}}}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(0.06), float64(out.SD), 1e-12)
	assert.Equal(t, 1, out.Worst)
	assert.InDelta(t, 0.2, float64(out.Miss), 1e-12)
	// Misses of 0.1, -0.1, -0.1, 0.1 about a level line of 3: scatter sqrt(0.04 / 2).
	out, err = molder.IndicatorFit{Points: []molder.IndicatorPoint{{Number: 0, Gap: 3.1}, {Number: 1, Gap: 2.9}, {Number: 2, Gap: 2.9}, {Number: 3, Gap: 3.1}}}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(0.02), float64(out.SD), 1e-12)
}

func TestIndicatorNamesEveryBadField(t *testing.T) {
	bad := []molder.IndicatorPoint{{Number: 0, Gap: 1}, {Number: 0, Gap: 2}, {Number: math.NaN(), Gap: 1.5}, {Number: 4, Gap: -1}}
	_, err := molder.IndicatorForGap{Points: bad, Method: molder.ByTable}.Solve()
	assert.Equal(t, []string{"gap", "points[2].number", "points[3].gap"}, fields(err))
	muddled := []molder.IndicatorPoint{{Number: 0, Gap: 1}, {Number: 0, Gap: 2}, {Number: 4, Gap: 1.5}}
	_, err = molder.IndicatorForGap{Gap: 1, Points: muddled, Method: molder.ByTable}.Solve()
	assert.Equal(t, []string{"points[1].number", "points[2].gap"}, fields(err))
	_, err = molder.GapForIndicator{Number: 1e9, Points: bad[:1]}.Solve()
	assert.Equal(t, []string{"number", "method", "points"}, fields(err))
	flat := []molder.IndicatorPoint{{Number: 0, Gap: 1}, {Number: 5, Gap: 1}}
	_, err = molder.GapForIndicator{Number: 1, Points: flat, Method: molder.ByLine}.Solve()
	assert.Equal(t, []string{"points"}, fields(err))
	_, err = molder.IndicatorFit{Points: []molder.IndicatorPoint{{Gap: 1}, {Gap: 2}, {Gap: 3}}}.Solve()
	assert.Equal(t, []string{"points"}, fields(err))
	_, err = molder.IndicatorFit{Points: flat}.Solve()
	assert.Equal(t, []string{"points"}, fields(err))
}

func ExampleIndicatorForGap() {
	out, _ := molder.IndicatorForGap{
		Gap: unit.Millimetres(4), Method: molder.ByTable,
		Points: []molder.IndicatorPoint{{Number: 0, Gap: unit.Millimetres(1)}, {Number: 5, Gap: unit.Millimetres(3.6)}, {Number: 10, Gap: unit.Millimetres(5.9)}},
	}.Solve()
	fmt.Printf("Set the indicator to %.1f.\n", out.Number)
	// Output:
	// Set the indicator to 5.9.
}

func ExampleGapForIndicator() {
	out, _ := molder.GapForIndicator{
		Number: 6, Method: molder.ByTable,
		Points: []molder.IndicatorPoint{{Number: 0, Gap: unit.Millimetres(1)}, {Number: 5, Gap: unit.Millimetres(3.6)}, {Number: 10, Gap: unit.Millimetres(5.9)}},
	}.Solve()
	fmt.Printf("At number 6 the rollers stand %v apart.\n", out.Gap)
	// Output:
	// At number 6 the rollers stand 4.06 mm apart.
}

func ExampleIndicatorFit() {
	out, _ := molder.IndicatorFit{
		Points: []molder.IndicatorPoint{{Number: 0, Gap: unit.Millimetres(1)}, {Number: 5, Gap: unit.Millimetres(3.6)}, {Number: 10, Gap: unit.Millimetres(5.9)}},
	}.Solve()
	fmt.Printf("%.2f mm and %.2f mm more for each number; the measured gaps scatter by %.2f mm.\n", out.Zero, out.Slope, out.SD.Millimetres())
	// Output:
	// 1.05 mm and 0.49 mm more for each number; the measured gaps scatter by 0.12 mm.
}

func FuzzIndicator(f *testing.F) {
	f.Add(4.0, 0.0, 1.0, 5.0, 3.6, 10.0, 5.9, true)
	f.Fuzz(func(t *testing.T, v, n1, g1, n2, g2, n3, g3 float64, table bool) {
		points := []molder.IndicatorPoint{{Number: n1, Gap: unit.Length(g1)}, {Number: n2, Gap: unit.Length(g2)}, {Number: n3, Gap: unit.Length(g3)}}
		method := molder.ByLine
		if table {
			method = molder.ByTable
		}
		if out, err := (molder.IndicatorForGap{Gap: unit.Length(v), Points: points, Method: method}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.GapForIndicator{Number: v, Points: points, Method: method}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.IndicatorFit{Points: points}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
