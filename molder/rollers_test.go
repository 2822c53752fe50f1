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

var twoPairs = molder.RollerGaps{
	Piece: 500, Density: 1.1, Thickness: 60, LastGap: 4, FirstRecovery: 1.6, LastRecovery: 1.8, ReductionLimit: 5,
	FirstScale: molder.IndicatorScale{Method: molder.ByTable, Points: []molder.IndicatorPoint{{Number: 0, Gap: 2}, {Number: 10, Gap: 14.5}}},
	LastScale:  molder.IndicatorScale{Method: molder.ByLine, Points: opening},
}

func TestRollerGapsShareTheReduction(t *testing.T) {
	out, err := twoPairs.Solve()
	require.NoError(t, err)
	same(t, out.Reduction, 60/float64(out.FirstGap), "first pair")
	same(t, out.Reduction, float64(out.FirstSheet/out.LastGap), "second pair")
	same(t, 1.6, float64(out.FirstSheet/out.FirstGap), "first recovery")
	same(t, 1.8, float64(out.LastSheet/out.LastGap), "second recovery")
	assert.Greater(t, out.FirstGap, out.LastGap, "the first pair is the wider one")
	n, err := molder.GapForIndicator{Number: out.FirstNumber, Points: twoPairs.FirstScale.Points, Method: molder.ByTable}.Solve()
	require.NoError(t, err)
	same(t, out.FirstGap, n.Gap, "first number")
	n, err = molder.GapForIndicator{Number: out.LastNumber, Points: opening, Method: molder.ByLine}.Solve()
	require.NoError(t, err)
	same(t, out.LastGap, n.Gap, "second number")
	assert.Equal(t, molder.Conditions(reckon.Uncalibrated|reckon.OutsideSource), out.Conditions, "a limit of 5 is beyond the source")
}

func TestLastGapGoesBack(t *testing.T) {
	for _, h := range []unit.Length{0, 60} {
		in := twoPairs
		in.Thickness, in.FirstScale, in.LastScale = h, molder.IndicatorScale{}, molder.IndicatorScale{}
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Zero(t, out.FirstNumber)
		back, err := molder.LastGapForReduction{Piece: in.Piece, Density: in.Density, Thickness: h, FirstRecovery: in.FirstRecovery, Reduction: out.Reduction}.Solve()
		require.NoError(t, err)
		same(t, in.LastGap, back.LastGap, "last gap")
		same(t, out.FirstGap, back.FirstGap, "first gap")
	}
}

// Set for exactly the limit, the dough is not called overworked.
func TestReductionAtTheLimit(t *testing.T) {
	for _, limit := range []float64{2, 3, 3.7, 4} {
		back, err := molder.LastGapForReduction{Piece: 500, Density: 1.1, FirstRecovery: 1.3, Reduction: limit, Measured: true}.Solve()
		require.NoError(t, err)
		in := molder.RollerGaps{Piece: 500, Density: 1.1, LastGap: back.LastGap, FirstRecovery: 1.3, LastRecovery: 1.3, ReductionLimit: limit, Measured: true}
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Zero(t, out.Conditions)
		in.LastGap *= 0.99
		out, err = in.Solve()
		require.NoError(t, err)
		assert.Equal(t, molder.DeepReduction, out.Conditions)
	}
}

func TestRollersNameWhatIsReached(t *testing.T) {
	var none *reckon.NoSolutionError
	// 1 mm at 10 to 1: 1.6 * 0.1 / 10 = 0.016 mm; 0.05 mm is reached at sqrt(1.6 / 0.05) = 5.657 to 1.
	in := molder.LastGapForReduction{Piece: 500, Density: 1.1, Thickness: 1, FirstRecovery: 1.6, Reduction: 10}
	_, err := in.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"1.6", "5.657"}, [2]string{none.Low, none.High})
	in.Reduction = 5.65
	_, err = in.Solve()
	require.NoError(t, err)
	// 500 mm at 1.2 to 1 leaves 347 mm; 200 mm is reached at sqrt(500 / 200) = 1.581.
	_, err = molder.LastGapForReduction{Piece: 500, Density: 1.1, Thickness: 500, FirstRecovery: 1, Reduction: 1.2}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"1.581", "10"}, [2]string{none.Low, none.High})
	// 40 mm halved 8 times is 0.16 mm, once more 0.08 mm.
	_, err = molder.ThicknessForPasses{ThicknessIn: 40, Passes: 9, Recovery: 1, ReductionLimit: 2}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "8 passes", none.High)
	_, err = molder.SheetingPasses{ThicknessIn: 1000, ThicknessOut: 0.1, Recovery: 1, ReductionLimit: 1.1}.Solve()
	require.ErrorAs(t, err, &none, "97 passes")
	assert.Equal(t, unit.Length(1000*math.Pow(1.1, -50)).String(), none.Low)
}

func TestRollersNameEveryBadField(t *testing.T) {
	_, err := molder.RollerGaps{Thickness: -1, FirstScale: molder.IndicatorScale{Method: "guess"}, LastScale: molder.IndicatorScale{Points: opening}}.Solve()
	assert.Equal(t, []string{
		"piece", "density", "thickness", "last_gap", "first_recovery", "last_recovery", "reduction_limit",
		"first_scale.method", "first_scale.points", "last_scale.method",
	}, fields(err))
	_, err = molder.LastGapForReduction{FirstRecovery: 2, Reduction: 2, Thickness: 1000}.Solve()
	assert.Equal(t, []string{"piece", "density", "thickness", "reduction"}, fields(err))
	_, err = molder.SheetingPasses{}.Solve()
	assert.Equal(t, []string{"thickness_in", "thickness_out", "recovery", "reduction_limit"}, fields(err))
	_, err = molder.SheetingPasses{ThicknessIn: 5, ThicknessOut: 5, Recovery: 1, ReductionLimit: 2}.Solve()
	assert.Equal(t, []string{"thickness_out"}, fields(err))
	_, err = molder.ThicknessForPasses{}.Solve()
	assert.Equal(t, []string{"thickness_in", "passes", "recovery", "reduction_limit"}, fields(err))
}

func TestDoughThatSpringsBackWholly(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.SheetingPasses{ThicknessIn: 40, ThicknessOut: 4, Recovery: 2, ReductionLimit: 2}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = molder.ThicknessForPasses{ThicknessIn: 40, Passes: 3, Recovery: 3, ReductionLimit: 2}.Solve()
	require.ErrorAs(t, err, &none)
	in := twoPairs
	in.LastGap = 15
	in.FirstScale.Points = []molder.IndicatorPoint{{Number: 0, Gap: 2}, {Number: 10, Gap: 9}}
	_, err = in.Solve()
	require.ErrorAs(t, err, &none, "the first gap lies off its table")
	assert.Equal(t, "9 mm", none.High)
}

func ExampleRollerGaps() {
	out, _ := molder.RollerGaps{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100), Thickness: unit.Millimetres(60),
		LastGap: unit.Millimetres(6), FirstRecovery: 1.6, LastRecovery: 1.8, ReductionLimit: 4, Measured: true,
	}.Solve()
	fmt.Printf("First pair %v, second pair %v: each squeezes the dough %.1f to 1.\n", out.FirstGap, out.LastGap, out.Reduction)
	fmt.Printf("The sheets are %v and %v thick.\n", out.FirstSheet, out.LastSheet)
	// Output:
	// First pair 15 mm, second pair 6 mm: each squeezes the dough 4.0 to 1.
	// The sheets are 24 mm and 10.8 mm thick.
}

func ExampleLastGapForReduction() {
	out, _ := molder.LastGapForReduction{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100), Thickness: unit.Millimetres(60), FirstRecovery: 1.6, Reduction: 4, Measured: true,
	}.Solve()
	fmt.Printf("Within 4 to 1 the pairs close to %v and %v.\n", out.FirstGap, out.LastGap)
	// Output:
	// Within 4 to 1 the pairs close to 15 mm and 6 mm.
}

func FuzzRollers(f *testing.F) {
	f.Add(500.0, 1.1, 60.0, 4.0, 1.6, 1.8, 4.0, 2)
	f.Fuzz(func(t *testing.T, m, rho, h, gap, r1, r2, limit float64, passes int) {
		if out, err := (molder.RollerGaps{Piece: unit.Mass(m), Density: unit.Density(rho), Thickness: unit.Length(h), LastGap: unit.Length(gap), FirstRecovery: r1, LastRecovery: r2, ReductionLimit: limit}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.LastGapForReduction{Piece: unit.Mass(m), Density: unit.Density(rho), Thickness: unit.Length(h), FirstRecovery: r1, Reduction: limit}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.SheetingPasses{ThicknessIn: unit.Length(h), ThicknessOut: unit.Length(gap), Recovery: r1, ReductionLimit: limit}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.ThicknessForPasses{ThicknessIn: unit.Length(h), Passes: passes, Recovery: r1, ReductionLimit: limit}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.CurlSensitivity{Piece: unit.Mass(m), Density: unit.Density(rho), Gap: unit.Length(gap), Recovery: r1, Aspect: r2, Core: unit.Length(h)}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
