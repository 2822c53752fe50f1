package molder_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// scalars holds one working call of every calculation without a list result:
// each is allocation-free.
var scalars = map[string]calculation{
	"drum-choice":                  call(molder.DrumChoice, roundingRoom),
	"piece-for-drum":               call(molder.PieceForDrum, molder.PieceForDrumInput{Cup: 72, Density: 1.1, FillLow: 0.65, FillHigh: 0.85}),
	"sheet":                        call(molder.Sheet, molder.SheetInput{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6}),
	"gap-for-thickness":            call(molder.GapForThickness, molder.GapForThicknessInput{Thickness: 7, Recovery: 1.8}),
	"gap-for-sheet-length":         call(molder.GapForSheetLength, molder.GapForSheetLengthInput{Piece: 500, Density: 1.1, Length: 360, Recovery: 1.8, Width: 210}),
	"recovery-from-sheet":          call(molder.RecoveryFromSheet, molder.RecoveryFromSheetInput{Gap: 4, Thicknesses: []unit.Length{7.1, 7.4, 7}}),
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
	"pressure-board":               call(molder.PressureBoard, moulder),
	"board-for-length":             call(molder.BoardForLength, molder.BoardForLengthInput{Piece: 500, Density: 1.1, Length: 240, Roll: 60, Spring: 1.05, Bite: 5}),
	"board-length-for-turns":       call(molder.BoardLengthForTurns, molder.BoardLengthForTurnsInput{Turns: 6, Roll: 60, HeightIn: 58, HeightOut: 46}),
	"seal-from-trials":             call(molder.SealFromTrials, molder.SealFromTrialsInput{Trials: []molder.SealTrial{{Turns: 6, Verdict: molder.Good}, {Turns: 9, Verdict: molder.Good}}}),
	"side-guides":                  call(molder.SideGuides, molder.SideGuidesInput{Pan: 230, Clearance: 5, Spread: 1.04}),
	"piece-length-for-guides":      call(molder.PieceLengthForGuides, molder.PieceLengthForGuidesInput{Guides: 200, Pan: 230, Spread: 1.04}),
	"spread-from-pieces":           call(molder.SpreadFromPieces, molder.SpreadFromPiecesInput{Guides: 200, Lengths: []unit.Length{207, 210}}),
	"curling-chain":                call(molder.CurlingChain, molder.CurlingChainInput{Piece: 85, Heights: heights, Margin: 5}),
	"pan-fit":                      call(molder.PanFit, loaf),
	"piece-for-pan":                call(molder.PieceForPan, molder.PieceForPanInput{KnownPiece: 450, KnownPan: straight, Pan: sloping}),
	"tray-fit":                     call(molder.TrayFit, molder.TrayFitInput{Piece: 85, Density: 1.1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 10}),
	"piece-for-tray":               call(molder.PieceForTray, molder.PieceForTrayInput{Along: 5, Across: 3, Density: 1.1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 10}),
	"stamp-rate":                   call(molder.StampRate, molder.StampRateInput{Rate: 60, Across: 2, Die: molder.RotatingDie, Around: 3, Contact: 25}),
	"rate-for-stamps":              call(molder.RateForStamps, molder.RateForStampsInput{Stamps: 30, Across: 2}),
	"stamp-drift":                  call(molder.StampDrift, molder.StampDriftInput{Mode: molder.ContinuousStamp, Stamps: 30.2, Rate: 60, Across: 2, Run: 300, Window: 10}),
	"stamps-for-run":               call(molder.StampsForRun, molder.StampsForRunInput{Rate: 60, Across: 2, Run: 300, Window: 10}),
	"doubles-risk":                 call(molder.DoublesRisk, molder.DoublesRiskInput{Belt: 200, Rate: 60, Piece: 100, Spread: 0.18, Most: 2}),
	"belt-for-doubles":             call(molder.BeltForDoubles, molder.BeltForDoublesInput{Most: 2, Rate: 60, Piece: 100, Spread: 0.18}),
	"arrival-spread":               call(molder.ArrivalSpread, molder.ArrivalSpreadInput{Intervals: []unit.Duration{0.9, 1.1, 1}}),
	"flour-share":                  call(molder.FlourShare, molder.FlourShareInput{Flour: 1, Rate: 60, Lanes: 2, Belt: 200, Width: 500, Piece: 100}),
	"flour-for-piece":              call(molder.FlourForPiece, molder.FlourForPieceInput{PerPiece: 0.05, Rate: 60, Lanes: 2, Belt: 200, Width: 500, Piece: 100}),
	"part-care":                    call(molder.PartCare, molder.PartCareInput{Part: molder.RoundingDrum, Material: molder.Plastic, Water: unit.Celsius(30)}),
	"aspect-from-sheet":            call(molder.AspectFromSheet, molder.AspectFromSheetInput{Piece: 500, Sheets: []molder.MeasuredSheet{{Length: 350, Width: 220, Thickness: 7.5}}}),
	"growth-from-jar":              call(molder.GrowthFromJar, molder.GrowthFromJarInput{Jars: []molder.JarTrial{{Before: 40, After: 100}}}),
	"flatness-from-pieces":         call(molder.FlatnessFromPieces, molder.FlatnessFromPiecesInput{Piece: 60, Density: 1.1, Growth: 1, Diameters: []unit.Length{52, 54}}),
	"piece-spacing":                call(molder.PieceSpacing, molder.PieceSpacingInput{Belt: 250, Rate: 60, Piece: 100}),
	"belt-for-gap":                 call(molder.BeltForGap, molder.BeltForGapInput{Gap: 150, Rate: 60, Piece: 100}),
	"rate-for-gap":                 call(molder.RateForGap, molder.RateForGapInput{Gap: 150, Belt: 250, Piece: 100}),
}

// A calculation is a function with an input that works.
type calculation struct {
	in  any
	run func() error       // with that input
	try func(in any) error // with another of the same type
}

func call[In, Out any](f func(In) (Out, error), in In) calculation {
	return calculation{
		in: in,
		run: func() error {
			_, err := f(in)
			return err
		},
		try: func(in any) error {
			_, err := f(in.(In))
			return err
		},
	}
}

func TestScalarsDoNotAllocate(t *testing.T) {
	for id, c := range scalars {
		require.NoError(t, c.run(), id)
		assert.Zero(t, testing.AllocsPerRun(100, func() { _ = c.run() }), id)
	}
}

// With room in the caller's list, lists do not allocate either.
func TestListsDoNotAllocate(t *testing.T) {
	rows := make([]molder.BeltRow, 0, len(train.Belts))
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = molder.BeltTrain(train, rows[:0]) }))
	list := make([]molder.ChainHeight, 0, len(chain.Names))
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = molder.ChainFromTrials(chain, list[:0]) }))
}

func BenchmarkScalars(b *testing.B) {
	for id, c := range scalars {
		b.Run(id, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_ = c.run()
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
	for _, e := range reckon.InputErrors(err) {
		out = append(out, e.Field)
	}
	return out
}

// same holds two values equal to the rounding of binary arithmetic.
func same[N ~float64](t *testing.T, want, got N, what string) {
	t.Helper()
	assert.InEpsilon(t, float64(want), float64(got), 1e-9, what)
}
