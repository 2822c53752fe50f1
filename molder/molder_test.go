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
	"drum-choice":                  call(molder.DrumChoice.Solve, roundingRoom),
	"piece-for-drum":               call(molder.PieceForDrum.Solve, molder.PieceForDrum{Cup: 72, Density: 1.1, CupRatioLow: 0.65, CupRatioHigh: 0.85}),
	"sheet":                        call(molder.Sheet.Solve, molder.Sheet{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6}),
	"gap-for-thickness":            call(molder.GapForThickness.Solve, molder.GapForThickness{Thickness: 7, Recovery: 1.8}),
	"gap-for-sheet-length":         call(molder.GapForSheetLength.Solve, molder.GapForSheetLength{Piece: 500, Density: 1.1, Length: 360, Recovery: 1.8, Width: 210}),
	"rectangular-sheet":            call(molder.RectangularSheet.Solve, molder.RectangularSheet{Piece: 990, Density: 1.1, Length: 600, Width: 300}),
	"piece-for-rectangular-sheet":  call(molder.PieceForRectangularSheet.Solve, molder.PieceForRectangularSheet{Length: 600, Width: 300, Thickness: 4, Density: 1.1}),
	"recovery-from-sheet":          call(molder.RecoveryFromSheet.Solve, molder.RecoveryFromSheet{Gap: 4, Thicknesses: []unit.Length{7.1, 7.4, 7}}),
	"curls":                        call(molder.Curls.Solve, molder.Curls{Length: 300, Thickness: 5, Core: 10}),
	"length-for-turns":             call(molder.LengthForTurns.Solve, molder.LengthForTurns{Turns: 2.5, Thickness: 7}),
	"thickness-for-turns":          call(molder.ThicknessForTurns.Solve, molder.ThicknessForTurns{Turns: 2.5, Length: 200}),
	"gap-for-turns":                call(molder.GapForTurns.Solve, molder.GapForTurns{Turns: 2.5, Piece: 500, Density: 1.1, Recovery: 1.8, Aspect: 1.6, Core: 8}),
	"turns-for-gap":                call(molder.TurnsForGap.Solve, molder.TurnsForGap{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6, Core: 8}),
	"sheet-setting":                call(molder.SheetSetting.Solve, finest),
	"sheet-from-trials":            call(molder.SheetFromTrials.Solve, molder.SheetFromTrials{Trials: []molder.SheetTrial{{Thickness: 9, Verdict: molder.Good}, {Thickness: 7, Verdict: molder.Good}}}),
	"turns-ratio-from-pieces":      call(molder.TurnsRatioFromPieces.Solve, molder.TurnsRatioFromPieces{Computed: 3.2, Counted: []float64{3, 3.25}}),
	"spiral-length":                call(molder.SpiralLength.Solve, molder.SpiralLength{Length: 200, Thickness: 4, Core: 6}),
	"curl-sensitivity":             call(molder.CurlSensitivity.Solve, molder.CurlSensitivity{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Width: 200}),
	"rounding-time":                call(molder.RoundingTime.Solve, molder.RoundingTime{Diameter: 800, DrumSpeed: 20, Path: 1250, Travel: molder.Carried}),
	"drum-speed-for-rounding-time": call(molder.DrumSpeedForRoundingTime.Solve, molder.DrumSpeedForRoundingTime{Time: 2, Diameter: 800, Path: 1250, Travel: molder.Carried}),
	"rounding-motions":             call(molder.RoundingMotions.Solve, molder.RoundingMotions{Rows: 4, Strokes: 24, Speed: 120}),
	"speed-for-motions":            call(molder.SpeedForMotions.Solve, molder.SpeedForMotions{Motions: 20, Rows: 4, Strokes: 24}),
	"motions-from-trials":          call(molder.MotionsFromTrials.Solve, molder.MotionsFromTrials{Trials: []molder.MotionTrial{{Motions: 10, Verdict: molder.Good}, {Motions: 20, Verdict: molder.Good}}}),
	"rounding-from-trials":         call(molder.RoundingFromTrials.Solve, molder.RoundingFromTrials{Trials: []molder.RoundingTrial{{Time: 1, Verdict: molder.Good}, {Time: 2, Verdict: molder.Good}}}),
	"cup-ratio-from-trials":        call(molder.CupRatioFromTrials.Solve, molder.CupRatioFromTrials{Density: 1.1, Trials: []molder.CupTrial{{Piece: 60, Cup: 72, Verdict: molder.Good}, {Piece: 90, Cup: 72, Verdict: molder.Good}}}),
	"roller-gaps":                  call(molder.RollerGaps.Solve, twoPairs),
	"last-gap-for-reduction":       call(molder.LastGapForReduction.Solve, molder.LastGapForReduction{Piece: 500, Density: 1.1, FirstRecovery: 1.6, Reduction: 4}),
	"roller-grip":                  call(molder.RollerGrip.Solve, molder.RollerGrip{Roller: 200, Gap: 15, Friction: 0.8, Thickness: 60}),
	"gap-for-grip":                 call(molder.GapForGrip.Solve, molder.GapForGrip{Roller: 200, Friction: 0.6, Thickness: 60}),
	"grip-from-trials":             call(molder.GripFromTrials.Solve, molder.GripFromTrials{Roller: 200, Trials: []molder.GripTrial{{Thickness: 60, Gap: 15, Taken: molder.Good}}}),
	"sheeting-passes":              call(molder.SheetingPasses.Solve, molder.SheetingPasses{ThicknessIn: 40, ThicknessOut: 2.5, Recovery: 1, ReductionLimit: 2}),
	"thickness-for-passes":         call(molder.ThicknessForPasses.Solve, molder.ThicknessForPasses{ThicknessIn: 40, Passes: 2, Recovery: 1.2, ReductionLimit: 3}),
	"indicator-fit":                call(molder.IndicatorFit.Solve, molder.IndicatorFit{Points: opening}),
	"indicator-for-gap":            call(molder.IndicatorForGap.Solve, molder.IndicatorForGap{Gap: 4, Points: opening, Method: molder.ByTable}),
	"gap-for-indicator":            call(molder.GapForIndicator.Solve, molder.GapForIndicator{Number: 6, Points: opening, Method: molder.ByLine}),
	"pressure-board":               call(molder.PressureBoard.Solve, moulder),
	"board-for-length":             call(molder.BoardForLength.Solve, molder.BoardForLength{Piece: 500, Density: 1.1, Length: 240, RollDiameter: 60, Spring: 1.05, Bite: 5}),
	"board-length-for-turns":       call(molder.BoardLengthForTurns.Solve, molder.BoardLengthForTurns{Turns: 6, RollDiameter: 60, HeightIn: 58, HeightOut: 46, Spring: 1.05}),
	"seal-from-trials":             call(molder.SealFromTrials.Solve, molder.SealFromTrials{Trials: []molder.SealTrial{{Turns: 6, Verdict: molder.Good}, {Turns: 9, Verdict: molder.Good}}}),
	"side-guides":                  call(molder.SideGuides.Solve, molder.SideGuides{PanLength: 230, Clearance: 5, LengthRatio: 1.04}),
	"piece-length-for-guides":      call(molder.PieceLengthForGuides.Solve, molder.PieceLengthForGuides{Guides: 200, PanLength: 230, LengthRatio: 1.04}),
	"guide-ratio-from-pieces":      call(molder.GuideRatioFromPieces.Solve, molder.GuideRatioFromPieces{Guides: 200, Lengths: []unit.Length{207, 210}}),
	"curling-chain":                call(molder.CurlingChain.Solve, molder.CurlingChain{Piece: 85, Heights: heights, Margin: 5}),
	"pan-fit":                      call(molder.PanFit.Solve, loaf),
	"piece-for-pan":                call(molder.PieceForPan.Solve, molder.PieceForPan{KnownPiece: 450, KnownPan: straight, Pan: sloping}),
	"tray-fit":                     call(molder.TrayFit.Solve, molder.TrayFit{Piece: 85, Density: 1.1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 10}),
	"piece-for-tray":               call(molder.PieceForTray.Solve, molder.PieceForTray{Along: 5, Across: 3, Density: 1.1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 10}),
	"long-tray-fit":                call(molder.LongTrayFit.Solve, molder.LongTrayFit{PieceLength: 180, PieceWidth: 60, Length: 600, Width: 400, SideGap: 25, EndGap: 15}),
	"long-piece-for-tray":          call(molder.LongPieceForTray.Solve, molder.LongPieceForTray{EndToEnd: 2, SideBySide: 6, Length: 600, Width: 400, SideGap: 16, EndGap: 15}),
	"stamp-rate":                   call(molder.StampRate.Solve, molder.StampRate{PieceRate: 60, Across: 2, Die: molder.TurningDie, Spin: molder.SpinOn, Around: 3, Contact: 25}),
	"rate-for-stamps":              call(molder.RateForStamps.Solve, molder.RateForStamps{Stamps: 30, Across: 2}),
	"stamp-drift":                  call(molder.StampDrift.Solve, molder.StampDrift{Mode: molder.ContinuousStamp, Stamps: 30.2, PieceRate: 60, Across: 2, RunTime: 300, Window: 10}),
	"stamps-for-run":               call(molder.StampsForRun.Solve, molder.StampsForRun{PieceRate: 60, Across: 2, RunTime: 300, Window: 10}),
	"doubles-risk":                 call(molder.DoublesRisk.Solve, molder.DoublesRisk{Belt: 200, PieceRate: 60, PieceLength: 100, SD: 0.18, PerHourLimit: 2}),
	"belt-for-doubles":             call(molder.BeltForDoubles.Solve, molder.BeltForDoubles{PerHourLimit: 2, PieceRate: 60, PieceLength: 100, SD: 0.18}),
	"arrival-sd":                   call(molder.ArrivalSD.Solve, molder.ArrivalSD{Intervals: []unit.Duration{0.9, 1.1, 1}}),
	"flour-share":                  call(molder.FlourShare.Solve, molder.FlourShare{FlourRate: 1, PieceRate: 60, Across: 2, Belt: 200, Width: 500, PieceLength: 100}),
	"flour-for-piece":              call(molder.FlourForPiece.Solve, molder.FlourForPiece{FlourPerPiece: 0.05, PieceRate: 60, Across: 2, Belt: 200, Width: 500, PieceLength: 100}),
	"part-care":                    call(molder.PartCare.Solve, molder.PartCare{Part: molder.RoundingDrum, Materials: []molder.Material{molder.Plastic}, WaterTemp: unit.Celsius(30)}),
	"aspect-from-sheet":            call(molder.AspectFromSheet.Solve, molder.AspectFromSheet{Piece: 500, Sheets: []molder.MeasuredSheet{{Length: 350, Width: 220, Thickness: 7.5}}}),
	"growth-from-jar":              call(molder.GrowthFromJar.Solve, molder.GrowthFromJar{Jars: []molder.JarTrial{{HeightBefore: 40, HeightAfter: 100}}}),
	"flatness-from-pieces":         call(molder.FlatnessFromPieces.Solve, molder.FlatnessFromPieces{Piece: 60, Density: 1.1, Growth: 1, Diameters: []unit.Length{52, 54}}),
	"piece-spacing":                call(molder.PieceSpacing.Solve, molder.PieceSpacing{Belt: 250, PieceRate: 60, PieceLength: 100}),
	"belt-for-gap":                 call(molder.BeltForGap.Solve, molder.BeltForGap{Gap: 150, PieceRate: 60, PieceLength: 100}),
	"rate-for-gap":                 call(molder.RateForGap.Solve, molder.RateForGap{Gap: 150, Belt: 250, PieceLength: 100}),
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
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = train.Append(rows[:0]) }))
	list := make([]molder.ChainHeight, 0, len(chain.Names))
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = chain.Append(list[:0]) }))
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
