package molder_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/molder"
)

// scalars holds one working call of every calculation without a list result:
// each is allocation-free.
var scalars = map[string]func() error{
	"drum-choice":                  call(molder.DrumChoice, roundingRoom),
	"piece-for-drum":               call(molder.PieceForDrum, molder.PieceForDrumInput{Cup: 72, Density: 1.1, FillLow: 0.65, FillHigh: 0.85}),
	"sheet":                        call(molder.Sheet, molder.SheetInput{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6}),
	"gap-for-thickness":            call(molder.GapForThickness, molder.GapForThicknessInput{Thickness: 7, Recovery: 1.8}),
	"gap-for-sheet-length":         call(molder.GapForSheetLength, molder.GapForSheetLengthInput{Piece: 500, Density: 1.1, Length: 360, Recovery: 1.8, Width: 210}),
	"recovery-from-sheet":          call(molder.RecoveryFromSheet, molder.RecoveryFromSheetInput{Gap: 4, Thicknesses: []doughmath.Length{7.1, 7.4, 7}}),
	"curls":                        call(molder.Curls, molder.CurlsInput{Length: 300, Thickness: 5, Core: 10}),
	"length-for-turns":             call(molder.LengthForTurns, molder.LengthForTurnsInput{Turns: 2.5, Thickness: 7}),
	"thickness-for-turns":          call(molder.ThicknessForTurns, molder.ThicknessForTurnsInput{Turns: 2.5, Length: 200}),
	"gap-for-turns":                call(molder.GapForTurns, molder.GapForTurnsInput{Turns: 2.5, Piece: 500, Density: 1.1, Recovery: 1.8, Aspect: 1.6, Core: 8}),
	"turns-for-gap":                call(molder.TurnsForGap, molder.TurnsForGapInput{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6, Core: 8}),
	"spiral-length":                call(molder.SpiralLength, molder.SpiralLengthInput{Length: 200, Thickness: 4, Core: 6}),
	"curl-sensitivity":             call(molder.CurlSensitivity, molder.CurlSensitivityInput{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Width: 200}),
	"rounding-time":                call(molder.RoundingTime, molder.RoundingTimeInput{Diameter: 800, Speed: 20, Path: 1250, Travel: molder.Carried}),
	"drum-speed-for-rounding-time": call(molder.DrumSpeedForRoundingTime, molder.DrumSpeedForRoundingTimeInput{Time: 2, Diameter: 800, Path: 1250, Travel: molder.Carried}),
	"rounding-from-trials":         call(molder.RoundingFromTrials, molder.RoundingFromTrialsInput{Trials: []molder.RoundingTrial{{Time: 1, Verdict: molder.Good}, {Time: 2, Verdict: molder.Good}}}),
	"fill-from-trials":             call(molder.FillFromTrials, molder.FillFromTrialsInput{Density: 1.1, Trials: []molder.FillTrial{{Piece: 60, Cup: 72, Verdict: molder.Good}, {Piece: 90, Cup: 72, Verdict: molder.Good}}}),
	"roller-gaps":                  call(molder.RollerGaps, twoPairs),
	"last-gap-for-reduction":       call(molder.LastGapForReduction, molder.LastGapForReductionInput{Piece: 500, Density: 1.1, FirstRecovery: 1.6, Reduction: 4}),
	"sheeting-passes":              call(molder.SheetingPasses, molder.SheetingPassesInput{In: 40, Out: 2.5, Recovery: 1, Limit: 2}),
	"thickness-for-passes":         call(molder.ThicknessForPasses, molder.ThicknessForPassesInput{In: 40, Passes: 2, Recovery: 1.2, Limit: 3}),
	"indicator-fit":                call(molder.IndicatorFit, molder.IndicatorFitInput{Points: opening}),
	"indicator-for-gap":            call(molder.IndicatorForGap, molder.IndicatorForGapInput{Gap: 4, Points: opening, Method: molder.ByTable}),
	"gap-for-indicator":            call(molder.GapForIndicator, molder.GapForIndicatorInput{Number: 6, Points: opening, Method: molder.ByLine}),
	"piece-spacing":                call(molder.PieceSpacing, molder.PieceSpacingInput{Belt: 250, Rate: 60, Piece: 100}),
	"belt-for-gap":                 call(molder.BeltForGap, molder.BeltForGapInput{Gap: 150, Rate: 60, Piece: 100}),
	"rate-for-gap":                 call(molder.RateForGap, molder.RateForGapInput{Gap: 150, Belt: 250, Piece: 100}),
}

func call[In, Out any](f func(In) (Out, error), in In) func() error {
	return func() error {
		_, err := f(in)
		return err
	}
}

func TestScalarsDoNotAllocate(t *testing.T) {
	for id, f := range scalars {
		require.NoError(t, f(), id)
		assert.Zero(t, testing.AllocsPerRun(100, func() { _ = f() }), id)
	}
}

func BenchmarkScalars(b *testing.B) {
	for id, f := range scalars {
		b.Run(id, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_ = f()
			}
		})
	}
}

// finite fails if a number anywhere in the result is NaN or infinite.
func finite(t *testing.T, result any) {
	t.Helper()
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
				t.Errorf("not finite in %+v", result)
			}
		case reflect.Struct:
			for _, field := range v.Fields() {
				walk(field)
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		}
	}
	walk(reflect.ValueOf(result))
}

// fields lists the fields that an error complains about.
func fields(err error) []string {
	var out []string
	for _, e := range doughmath.InputErrors(err) {
		out = append(out, e.Field)
	}
	return out
}

// same holds two values equal to the rounding of binary arithmetic.
func same[N ~float64](t *testing.T, want, got N, what string) {
	t.Helper()
	assert.InEpsilon(t, float64(want), float64(got), 1e-9, what)
}
