package molder_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// between draws evenly in the logarithm, so that both ends of a wide range are met.
func between[N ~float64](r *rand.Rand, low, high float64) N {
	return N(low * math.Pow(high/low, r.Float64()))
}

func either[T any](r *rand.Rand, choices ...T) T { return choices[r.IntN(len(choices))] }

// outline draws how the outline of a sheet is said.
func outline(r *rand.Rand) (aspect float64, width unit.Length) {
	if r.IntN(2) == 0 {
		return between[float64](r, 0.5, 10), 0
	}
	return 0, between[unit.Length](r, 5, 2000)
}

func core(r *rand.Rand) unit.Length {
	if r.IntN(2) == 0 {
		return 0
	}
	return between[unit.Length](r, 0.1, 200)
}

// A pair is a calculation and its inverse. There draws an input of the
// inverse, puts its answer through the calculation and returns what was wanted
// and what came; back draws an input of the calculation and does the same the
// other way round. The first error is that of the call that was drawn for, the
// second that of the call that must take its answer.
type pair struct {
	id          string
	there, back func(r *rand.Rand) (want, got float64, first, second error)
}

var pairs = []pair{
	{
		"drum-choice and piece-for-drum",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.PieceForDrum{Cup: between[unit.Length](r, 5, 500), Density: between[unit.Density](r, 0.1, 1.5), CupRatioLow: between[float64](r, 0.1, 0.95)}
			in.CupRatioHigh = between[float64](r, in.CupRatioLow*1.001, 1)
			out, first := in.Solve()
			drums := []molder.Drum{{Name: "only", Cup: in.Cup}}
			low, second := molder.DrumChoice{Piece: out.Low, Density: in.Density, Drums: drums, CupRatioLow: in.CupRatioLow, CupRatioHigh: in.CupRatioHigh}.Solve()
			if second == nil {
				_, second = molder.DrumChoice{Piece: out.High, Density: in.Density, Drums: drums, CupRatioLow: in.CupRatioLow, CupRatioHigh: in.CupRatioHigh}.Solve()
			}
			return in.CupRatioLow, low.CupRatio, first, second
		},
		nil, // the fill is shown however far it is off: drum-too-small, drum-too-large
	},
	{
		"sheet and gap-for-thickness",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.GapForThickness{Thickness: between[unit.Length](r, 0.1, 200), Recovery: between[float64](r, 1, 5)}
			out, first := in.Solve()
			// A piece twice as thick as the sheet, or as much as there is.
			piece := min(10000, math.Pi/6*math.Pow(2*float64(in.Thickness), 3)/1000)
			sheet, second := molder.Sheet{Piece: unit.Mass(max(1, piece)), Density: 0.1, Gap: out.Gap, Recovery: in.Recovery, Aspect: 1}.Solve()
			return float64(in.Thickness), float64(sheet.Thickness), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in, sheet, first := aSheet(r)
			out, second := molder.GapForThickness{Thickness: sheet.Thickness, Recovery: in.Recovery}.Solve()
			return float64(in.Gap), float64(out.Gap), first, second
		},
	},
	{
		"sheet and gap-for-sheet-length",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.GapForSheetLength{Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), Length: between[unit.Length](r, 5, 5000), Recovery: between[float64](r, 1, 5)}
			in.Aspect, in.Width = outline(r)
			out, first := in.Solve()
			sheet, second := molder.Sheet{Piece: in.Piece, Density: in.Density, Gap: out.Gap, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width}.Solve()
			if first == nil && second == nil && out.Conditions != sheet.Conditions {
				second = errors.New("conditions differ: " + out.Conditions.String() + " and " + sheet.Conditions.String())
			}
			return float64(in.Length), float64(sheet.Length), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in, sheet, first := aSheet(r)
			out, second := molder.GapForSheetLength{Piece: in.Piece, Density: in.Density, Length: sheet.Length, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width}.Solve()
			return float64(in.Gap), float64(out.Gap), first, second
		},
	},
	{
		"curls and length-for-turns",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.LengthForTurns{Turns: between[float64](r, 0.5, 20), Thickness: between[unit.Length](r, 0.1, 200), Core: core(r)}
			out, first := in.Solve()
			roll, second := molder.Curls{Length: out.Length, Thickness: in.Thickness, Core: in.Core}.Solve()
			return in.Turns, roll.Turns, first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.Curls{Length: between[unit.Length](r, 1, 5000), Thickness: between[unit.Length](r, 0.1, 200), Core: core(r)}
			roll, first := in.Solve()
			out, second := molder.LengthForTurns{Turns: roll.Turns, Thickness: in.Thickness, Core: in.Core}.Solve()
			return float64(in.Length), float64(out.Length), first, second
		},
	},
	{
		"curls and thickness-for-turns",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.ThicknessForTurns{Turns: between[float64](r, 0.5, 20), Length: between[unit.Length](r, 1, 5000), Core: core(r)}
			out, first := in.Solve()
			roll, second := molder.Curls{Length: in.Length, Thickness: out.Thickness, Core: in.Core}.Solve()
			return in.Turns, roll.Turns, first, second
		},
		nil, // takes the turns that length-for-turns takes
	},
	{
		"turns-for-gap and gap-for-turns",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.GapForTurns{Turns: between[float64](r, 0.5, 20), Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), Recovery: between[float64](r, 1, 5), Core: core(r)}
			in.Aspect, in.Width = outline(r)
			out, first := in.Solve()
			roll, second := molder.TurnsForGap{Piece: in.Piece, Density: in.Density, Gap: out.Gap, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width, Core: in.Core}.Solve()
			if first == nil && second == nil && out.Conditions != roll.Conditions {
				second = errors.New("conditions differ: " + out.Conditions.String() + " and " + roll.Conditions.String())
			}
			return in.Turns, roll.Turns, first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.TurnsForGap{Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), Gap: between[unit.Length](r, 0.05, 200), Recovery: between[float64](r, 1, 5), Core: core(r)}
			in.Aspect, in.Width = outline(r)
			roll, first := in.Solve()
			out, second := molder.GapForTurns{Turns: roll.Turns, Piece: in.Piece, Density: in.Density, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width, Core: in.Core}.Solve()
			if first == nil && second == nil {
				// What the turns are made of must be taken one by one, too.
				_, second = molder.Curls{Length: roll.Length, Thickness: roll.Thickness, Core: in.Core}.Solve()
			}
			return float64(in.Gap), float64(out.Gap), first, second
		},
	},
	{
		"rounding-time and drum-speed-for-rounding-time",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.DrumSpeedForRoundingTime{Time: between[unit.Duration](r, 0.05, 600), Diameter: between[unit.Length](r, 10, 10000), Path: between[unit.Length](r, 10, 100000), Travel: either(r, molder.Carried, molder.Rolling)}
			out, first := in.Solve()
			back, second := molder.RoundingTime{Diameter: in.Diameter, DrumSpeed: out.DrumSpeed, Path: in.Path, Travel: in.Travel}.Solve()
			return float64(in.Time), float64(back.Time), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.RoundingTime{Diameter: between[unit.Length](r, 10, 10000), DrumSpeed: between[unit.RotationRate](r, 0.1, 1000), Path: between[unit.Length](r, 10, 100000), Travel: either(r, molder.Carried, molder.Rolling)}
			out, first := in.Solve()
			back, second := molder.DrumSpeedForRoundingTime{Time: out.Time, Diameter: in.Diameter, Path: in.Path, Travel: in.Travel}.Solve()
			return float64(in.DrumSpeed), float64(back.DrumSpeed), first, second
		},
	},
	{
		"rounding-motions and speed-for-motions",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.SpeedForMotions{Motions: between[float64](r, 0.01, 10000), Rows: 1 + r.IntN(100), Strokes: between[unit.StrokeRate](r, 0.01, 1000)}
			out, first := in.Solve()
			back, second := molder.RoundingMotions{Rows: in.Rows, Strokes: in.Strokes, Speed: out.Speed}.Solve()
			return in.Motions, back.Motions, first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.RoundingMotions{Rows: 1 + r.IntN(100), Strokes: between[unit.StrokeRate](r, 0.01, 1000), Speed: between[unit.RotationRate](r, 0.1, 1000)}
			out, first := in.Solve()
			back, second := molder.SpeedForMotions{Motions: out.Motions, Rows: in.Rows, Strokes: in.Strokes}.Solve()
			return float64(in.Speed), float64(back.Speed), first, second
		},
	},
	{
		"roller-gaps and last-gap-for-reduction",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.LastGapForReduction{Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), FirstRecovery: between[float64](r, 1, 5), Reduction: between[float64](r, 1.1, 10)}
			if r.IntN(2) == 0 {
				in.Thickness = between[unit.Length](r, 1, 500)
			}
			out, first := in.Solve()
			gaps, second := molder.RollerGaps{Piece: in.Piece, Density: in.Density, Thickness: in.Thickness, LastGap: out.LastGap, FirstRecovery: in.FirstRecovery, LastRecovery: in.FirstRecovery, ReductionLimit: 10}.Solve()
			return in.Reduction, gaps.Reduction, first, second
		},
		nil, // a reduction beyond the dough's limit is shown: deep-reduction
	},
	{
		"sheeting-passes and thickness-for-passes",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.ThicknessForPasses{ThicknessIn: between[unit.Length](r, 0.2, 1000), Passes: 1 + r.IntN(50), Recovery: between[float64](r, 1, 5), ReductionLimit: between[float64](r, 1.1, 10)}
			out, first := in.Solve()
			back, second := molder.SheetingPasses{ThicknessIn: in.ThicknessIn, ThicknessOut: out.ThicknessOut, Recovery: in.Recovery, ReductionLimit: in.ReductionLimit}.Solve()
			return float64(in.Passes), float64(back.Passes), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.SheetingPasses{ThicknessIn: between[unit.Length](r, 0.2, 1000), Recovery: between[float64](r, 1, 5), ReductionLimit: between[float64](r, 1.1, 10)}
			in.ThicknessOut = between[unit.Length](r, 0.1, float64(in.ThicknessIn)*0.999)
			out, first := in.Solve()
			// The reduction found is the limit at which so many passes give the thickness.
			back, second := molder.ThicknessForPasses{ThicknessIn: in.ThicknessIn, Passes: out.Passes, Recovery: in.Recovery, ReductionLimit: max(1.1, out.Reduction)}.Solve()
			if out.Reduction < 1.1 {
				return 1, 1, first, second
			}
			return float64(in.ThicknessOut), float64(back.ThicknessOut), first, second
		},
	},
	{
		"indicator-for-gap and gap-for-indicator",
		func(r *rand.Rand) (want, got float64, first, second error) {
			points, method := scale(r)
			in := molder.GapForIndicator{Number: 20000 * (r.Float64() - 0.5), Points: points, Method: method}
			if r.IntN(2) == 0 {
				in.Number = points[0].Number + r.Float64()*(points[len(points)-1].Number-points[0].Number)
			}
			out, first := in.Solve()
			back, second := molder.IndicatorForGap{Gap: out.Gap, Points: points, Method: method}.Solve()
			return in.Number + 1e6, back.Number + 1e6, first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			points, method := scale(r)
			in := molder.IndicatorForGap{Gap: between[unit.Length](r, 0.05, 200), Points: points, Method: method}
			out, first := in.Solve()
			back, second := molder.GapForIndicator{Number: out.Number, Points: points, Method: method}.Solve()
			return float64(in.Gap), float64(back.Gap), first, second
		},
	},
	{
		"pressure-board and board-for-length",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.BoardForLength{Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), Length: between[unit.Length](r, 5, 2000), RollDiameter: between[unit.Length](r, 1, 500), Spring: between[float64](r, 1, 5), Bite: unit.Percent(50 * r.Float64())}
			in.RollLength = rollLength(r, in.Piece, in.Density, in.RollDiameter)
			out, first := in.Solve()
			board, second := molder.PressureBoard{
				Piece: in.Piece, Density: in.Density, RollDiameter: in.RollDiameter, RollLength: in.RollLength, HeightIn: out.HeightIn, HeightOut: out.HeightOut,
				BoardLength: max(50, 3*in.RollDiameter), Belt: 300, Spring: in.Spring, Guides: in.Length,
			}.Solve()
			return float64(in.Length), float64(board.Length), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in, out, first := aBoard(r)
			if first == nil && in.HeightIn > in.RollDiameter {
				return 1, 1, nil, nil // no bite
			}
			back, second := molder.BoardForLength{
				Piece: in.Piece, Density: in.Density, Length: out.Length, RollDiameter: in.RollDiameter, RollLength: in.RollLength, Spring: in.Spring,
				Bite: unit.Percent(max(0, min(50, 100*(1-float64(in.HeightIn/in.RollDiameter))*(1-1e-12)))),
			}.Solve()
			return float64(in.HeightOut), float64(back.HeightOut), first, second
		},
	},
	{
		"pressure-board and board-length-for-turns",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.BoardLengthForTurns{Turns: between[float64](r, 0.1, 100), RollDiameter: between[unit.Length](r, 1, 500), HeightIn: between[unit.Length](r, 1, 500), HeightOut: between[unit.Length](r, 1, 500), Spring: between[float64](r, 1, 5)}
			out, first := in.Solve()
			// A piece half as long again as the roll is thick.
			v := math.Pi / 4 * math.Pow(float64(in.RollDiameter), 3) * 1.5 / 1000
			density := max(0.1, min(1.5, 1000/v))
			board, second := molder.PressureBoard{
				Piece: unit.Mass(v * density), Density: unit.Density(density), RollDiameter: in.RollDiameter, HeightIn: in.HeightIn, HeightOut: in.HeightOut,
				BoardLength: out.BoardLength, Belt: 300, Spring: in.Spring, Guides: 2000,
			}.Solve()
			if first == nil && second != nil && len(onlyFields(second, "piece", "height_out")) == 0 {
				return 1, 1, nil, nil // no piece for this roll, or none short enough
			}
			return in.Turns, board.Turns, first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in, out, first := aBoard(r)
			back, second := molder.BoardLengthForTurns{Turns: out.Turns, RollDiameter: in.RollDiameter, HeightIn: in.HeightIn, HeightOut: in.HeightOut, Spring: in.Spring}.Solve()
			return float64(in.BoardLength), float64(back.BoardLength), first, second
		},
	},
	{
		"side-guides and piece-length-for-guides",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.PieceLengthForGuides{Guides: between[unit.Length](r, 5, 2000), PanLength: between[unit.Length](r, 20, 2000), LengthRatio: between[float64](r, 0.5, 2)}
			out, first := in.Solve()
			back, second := molder.SideGuides{PanLength: in.PanLength, Clearance: out.Clearance, LengthRatio: in.LengthRatio}.Solve()
			return float64(in.Guides), float64(back.Guides), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.SideGuides{PanLength: between[unit.Length](r, 20, 2000), Clearance: between[unit.Length](r, 0.01, 500), LengthRatio: between[float64](r, 0.5, 2)}
			out, first := in.Solve()
			back, second := molder.PieceLengthForGuides{Guides: out.Guides, PanLength: in.PanLength, LengthRatio: in.LengthRatio}.Solve()
			return float64(out.PieceLength), float64(back.PieceLength), first, second
		},
	},
	{
		"pan-fit and piece-for-pan",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.PieceForPan{KnownPiece: between[unit.Mass](r, 1, 10000), KnownPan: aPan(r), Pan: aPan(r)}
			out, first := in.Solve()
			back, second := molder.PanFit{Piece: out.Piece, Density: 1.1, Length: max(5, min(in.Pan.Length, 2000)), Pan: in.Pan, Growth: 2, FillLow: 60, FillHigh: 90}.Solve()
			if first == nil && second != nil && len(onlyFields(second, "length")) == 0 {
				return 1, 1, nil, nil // more dough than the pan is wide
			}
			return float64(out.Loading), float64(back.Loading), first, second
		},
		nil, // needs another pan
	},
	{
		"tray-fit and piece-for-tray",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.PieceForTray{Along: 1 + r.IntN(300), Across: 1 + r.IntN(300), Density: between[unit.Density](r, 0.1, 1.5), Growth: between[float64](r, 1, 8), Flatness: between[float64](r, 1, 3), Length: between[unit.Length](r, 20, 3000), Width: between[unit.Length](r, 20, 3000), Gap: between[unit.Length](r, 0.01, 500)}
			if r.IntN(2) == 0 {
				in.Along, in.Across = 1+r.IntN(8), 1+r.IntN(8)
			}
			out, first := in.Solve()
			back, second := molder.TrayFit{Piece: out.Piece, Density: in.Density, Growth: in.Growth, Flatness: in.Flatness, Length: in.Length, Width: in.Width, Gap: in.Gap}.Solve()
			if first == nil && second == nil && (back.Along < in.Along || back.Across < in.Across) {
				second = errors.New("fewer places than asked for")
			}
			return float64(out.Diameter), float64(back.Diameter), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.TrayFit{Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), Growth: between[float64](r, 1, 8), Flatness: between[float64](r, 1, 3), Length: between[unit.Length](r, 20, 3000), Width: between[unit.Length](r, 20, 3000)}
			out, first := in.Solve()
			back, second := molder.PieceForTray{Along: out.Along, Across: out.Across, Density: in.Density, Growth: in.Growth, Flatness: in.Flatness, Length: in.Length, Width: in.Width}.Solve()
			if first == nil && second == nil && float64(back.Piece) < float64(in.Piece)*(1-1e-9) {
				second = errors.New("lighter than the piece that fits so often")
			}
			if none := (*reckon.NoSolutionError)(nil); errors.As(second, &none) && none.High == "" {
				return 1, 1, first, nil // so few places take more than the heaviest piece
			}
			return 1, 1, first, second
		},
	},
	{
		"stamp-rate and rate-for-stamps",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.RateForStamps{Stamps: between[unit.StrokeRate](r, 0.0005, 10000), Across: 1 + r.IntN(20)}
			out, first := in.Solve()
			back, second := molder.StampRate{PieceRate: out.PieceRate, Across: in.Across, Die: molder.StillDie, Spin: molder.SpinOff, Contact: 25}.Solve()
			return float64(in.Stamps), float64(back.Stamps), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.StampRate{PieceRate: between[unit.PieceRate](r, 0.01, 10000), Across: 1 + r.IntN(20), Die: molder.StillDie, Spin: molder.SpinOff, Contact: 25}
			out, first := in.Solve()
			back, second := molder.RateForStamps{Stamps: out.Stamps, Across: in.Across}.Solve()
			return float64(in.PieceRate), float64(back.PieceRate), first, second
		},
	},
	{
		"stamp-drift and stamps-for-run",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.StampsForRun{PieceRate: between[unit.PieceRate](r, 0.01, 10000), Across: 1 + r.IntN(20), RunTime: between[unit.Duration](r, 1, 172800), Window: between[unit.Percent](r, 0.01, 50)}
			out, first := in.Solve()
			drift, second := molder.StampDrift{Mode: molder.ContinuousStamp, Stamps: out.High, PieceRate: in.PieceRate, Across: in.Across, RunTime: in.RunTime, Window: in.Window}.Solve()
			if second == nil && out.Low > 0.0005 {
				_, second = molder.StampDrift{Mode: molder.ContinuousStamp, Stamps: out.Low, PieceRate: in.PieceRate, Across: in.Across, RunTime: in.RunTime, Window: in.Window}.Solve()
			}
			return float64(in.Window)/100 + 1e4, drift.RowsOff + 1e4, first, second
		},
		nil, // needs no range of its own
	},
	{
		"piece-spacing and belt-for-gap",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.BeltForGap{Gap: between[unit.Length](r, 0.1, 100000), PieceRate: between[unit.PieceRate](r, 0.01, 10000), PieceLength: between[unit.Length](r, 1, 5000)}
			out, first := in.Solve()
			back, second := molder.PieceSpacing{Belt: out.Belt, PieceRate: in.PieceRate, PieceLength: in.PieceLength}.Solve()
			return float64(in.Gap), float64(back.Gap), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in, out, first := aSpacing(r)
			back, second := molder.BeltForGap{Gap: out.Gap, PieceRate: in.PieceRate, PieceLength: in.PieceLength}.Solve()
			return float64(in.Belt), float64(back.Belt), first, second
		},
	},
	{
		"piece-spacing and rate-for-gap",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.RateForGap{Gap: between[unit.Length](r, 0.1, 100000), Belt: between[unit.Speed](r, 0.1, 10000), PieceLength: between[unit.Length](r, 1, 5000)}
			out, first := in.Solve()
			back, second := molder.PieceSpacing{Belt: in.Belt, PieceRate: out.PieceRate, PieceLength: in.PieceLength}.Solve()
			return float64(in.Gap), float64(back.Gap), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in, out, first := aSpacing(r)
			back, second := molder.RateForGap{Gap: out.Gap, Belt: in.Belt, PieceLength: in.PieceLength}.Solve()
			return float64(in.PieceRate), float64(back.PieceRate), first, second
		},
	},
	{
		"doubles-risk and belt-for-doubles",
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := molder.BeltForDoubles{PieceRate: between[unit.PieceRate](r, 0.01, 10000), PieceLength: between[unit.Length](r, 1, 5000), SD: between[unit.Duration](r, 0.001, 600)}
			in.PerHourLimit = 30 * float64(in.PieceRate) * between[float64](r, 1e-6, 0.999)
			out, first := in.Solve()
			back, second := molder.DoublesRisk{Belt: out.Belt, PieceRate: in.PieceRate, PieceLength: in.PieceLength, SD: in.SD, PerHourLimit: in.PerHourLimit}.Solve()
			if first == nil && second == nil && out.Conditions != back.Conditions&^molder.RiskOfDoubles {
				second = errors.New("conditions differ: " + out.Conditions.String() + " and " + back.Conditions.String())
			}
			return in.PerHourLimit, back.PerHour, first, second
		},
		nil, // no doubles at all are no limit that a belt is set for
	},
	{
		"flour-share and flour-for-piece",
		func(r *rand.Rand) (want, got float64, first, second error) {
			d := aDuster(r)
			in := molder.FlourForPiece{FlourPerPiece: between[unit.Mass](r, 1e-3, 1000), PieceRate: d.PieceRate, Across: d.Across, Belt: d.Belt, Width: d.Width, PieceLength: d.PieceLength}
			out, first := in.Solve()
			d.FlourRate = out.FlourRate
			back, second := d.Solve()
			return float64(in.FlourPerPiece), float64(back.FlourPerPiece), first, second
		},
		func(r *rand.Rand) (want, got float64, first, second error) {
			in := aDuster(r)
			out, first := in.Solve()
			back, second := molder.FlourForPiece{FlourPerPiece: out.FlourPerPiece, PieceRate: in.PieceRate, Across: in.Across, Belt: in.Belt, Width: in.Width, PieceLength: in.PieceLength}.Solve()
			return float64(in.FlourRate), float64(back.FlourRate), first, second
		},
	},
}

func aSheet(r *rand.Rand) (molder.Sheet, molder.SheetResult, error) {
	in := molder.Sheet{Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), Gap: between[unit.Length](r, 0.05, 200), Recovery: between[float64](r, 1, 5)}
	in.Aspect, in.Width = outline(r)
	out, err := in.Solve()
	return in, out, err
}

func aBoard(r *rand.Rand) (molder.PressureBoard, molder.PressureBoardResult, error) {
	in := molder.PressureBoard{
		Piece: between[unit.Mass](r, 1, 10000), Density: between[unit.Density](r, 0.1, 1.5), RollDiameter: between[unit.Length](r, 1, 500),
		BoardLength: between[unit.Length](r, 50, 10000), Belt: 300, Spring: between[float64](r, 1, 5), Guides: between[unit.Length](r, 100, 2000),
	}
	in.RollLength = rollLength(r, in.Piece, in.Density, in.RollDiameter)
	in.HeightIn = in.RollDiameter * between[unit.Length](r, 0.4, 1.5)
	in.HeightOut = in.HeightIn * between[unit.Length](r, 0.1, 1)
	out, err := in.Solve()
	return in, out, err
}

// rollLength draws how long a roll is that is thickest in its middle, or leaves it out.
func rollLength(r *rand.Rand, piece unit.Mass, density unit.Density, diameter unit.Length) unit.Length {
	length := 4 * float64(piece) / float64(density) * 1000 / (math.Pi * float64(diameter*diameter)) * between[float64](r, 0.9, 1.5)
	if r.IntN(2) == 0 || length < 5 || length > 2000 {
		return 0
	}
	return unit.Length(length)
}

func aPan(r *rand.Rand) molder.Pan {
	p := molder.Pan{Length: between[unit.Length](r, 20, 2000), Width: between[unit.Length](r, 20, 2000), Depth: between[unit.Length](r, 5, 1000)}
	return p
}

func aSpacing(r *rand.Rand) (molder.PieceSpacing, molder.PieceSpacingResult, error) {
	in := molder.PieceSpacing{Belt: between[unit.Speed](r, 0.1, 10000), PieceRate: between[unit.PieceRate](r, 0.01, 10000), PieceLength: between[unit.Length](r, 1, 5000)}
	out, err := in.Solve()
	return in, out, err
}

func aDuster(r *rand.Rand) molder.FlourShare {
	return molder.FlourShare{
		FlourRate: between[unit.MassRate](r, 1e-3, 1000), PieceRate: between[unit.PieceRate](r, 0.01, 10000), Across: 1 + r.IntN(20),
		Belt: between[unit.Speed](r, 0.1, 10000), Width: between[unit.Length](r, 10, 5000), PieceLength: between[unit.Length](r, 1, 5000),
	}
}

// scale draws three measured points, opening or closing.
func scale(r *rand.Rand) ([]molder.IndicatorPoint, molder.ScaleMethod) {
	gaps := []float64{1000 * r.Float64() * r.Float64(), 0, 0}
	gaps[1] = gaps[0] + 0.01 + 50*r.Float64()
	gaps[2] = gaps[1] + 0.01 + 50*r.Float64()
	if r.IntN(2) == 0 {
		gaps[0], gaps[2] = gaps[2], gaps[0]
	}
	number := 200 * (r.Float64() - 0.5)
	var points []molder.IndicatorPoint
	for _, g := range gaps {
		points = append(points, molder.IndicatorPoint{Number: number, Gap: unit.Length(min(g, 1000))})
		number += 0.1 + 50*r.Float64()
	}
	return points, either(r, molder.ByTable, molder.ByLine)
}

// onlyFields lists the fields complained of that are not among those named.
func onlyFields(err error, named ...string) []string {
	var out []string
	for _, f := range fields(err) {
		known := false
		for _, n := range named {
			known = known || f == n
		}
		if !known {
			out = append(out, f)
		}
	}
	return out
}

// Over the whole of both ranges, what one of a pair answers is taken by the
// other, which gives back what went in.
func TestInversesAgreeOverTheirWholeRange(t *testing.T) {
	for i, p := range pairs {
		for way, draw := range map[string]func(*rand.Rand) (want, got float64, first, second error){"there": p.there, "back": p.back} {
			if draw == nil {
				continue
			}
			t.Run(p.id+" "+way, func(t *testing.T) {
				r := rand.New(rand.NewPCG(uint64(i), uint64(len(way))))
				answers := 0
				for range 4000 {
					want, got, first, second := draw(r)
					if first != nil {
						continue
					}
					answers++
					require.NoError(t, second)
					require.InEpsilon(t, want, got, 1e-6)
				}
				assert.Greater(t, answers, 40)
			})
		}
	}
}
