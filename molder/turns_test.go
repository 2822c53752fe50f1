package molder_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// The gap found, put through the sheet and the roll, must give the turns asked for.
func TestGapForTurnsGoesBack(t *testing.T) {
	for _, turns := range []float64{1.5, 2.5, 4} {
		for _, core := range []unit.Length{0, 0.01, 8, 20} {
			for _, in := range []molder.GapForTurns{
				{Turns: turns, Piece: 500, Density: 1.1, Recovery: 1.8, Aspect: 1.6, Core: core, Measured: true},
				{Turns: turns, Piece: 900, Density: 0.9, Recovery: 1.2, Width: 220, Core: core, Measured: true},
			} {
				gap, err := in.Solve()
				require.NoError(t, err)
				sheet, err := molder.Sheet{Piece: in.Piece, Density: in.Density, Gap: gap.Gap, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width}.Solve()
				require.NoError(t, err)
				same(t, gap.Thickness, sheet.Thickness, "thickness")
				roll, err := molder.Curls{Length: sheet.Length, Thickness: sheet.Thickness, Core: core}.Solve()
				require.NoError(t, err)
				same(t, turns, roll.Turns, "turns")
				assert.Equal(t, gap.Conditions, roll.Conditions, "%v turns", turns)
				whole, err := molder.TurnsForGap{Piece: in.Piece, Density: in.Density, Gap: gap.Gap, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width, Core: core, Measured: true}.Solve()
				require.NoError(t, err)
				same(t, turns, whole.Turns, "turns for gap")
				assert.Equal(t, gap.Conditions, whole.Conditions, "%v turns", turns)
			}
		}
	}
}

// 20 turns of so small a piece would need a gap of 0.014 mm. The range named
// is reached, and no more than that.
func TestGapForTurnsNamesWhatIsReached(t *testing.T) {
	for _, in := range []molder.GapForTurns{
		{Piece: 1, Density: 1.5, Recovery: 5, Aspect: 0.5, Turns: 20},
		{Piece: 500, Density: 1.1, Recovery: 1.8, Aspect: 1.6, Core: 150, Turns: 20},
		{Piece: 500, Density: 1.1, Recovery: 1.8, Width: 5, Turns: 2},
		{Piece: 5000, Density: 0.3, Recovery: 1.8, Width: 200, Turns: 0.9},
	} {
		_, err := in.Solve()
		var none *reckon.NoSolutionError
		require.ErrorAs(t, err, &none, "%+v", in)
		for _, end := range []struct {
			text string
			in   float64 // into the range
		}{{none.Low, 1.002}, {none.High, 0.998}} {
			number, err := strconv.ParseFloat(strings.TrimSuffix(end.text, " turns"), 64)
			require.NoError(t, err)
			at := in
			at.Turns = number * end.in
			_, err = at.Solve()
			require.NoError(t, err, "%+v: %v", at, none)
			at.Turns = number / end.in
			_, err = at.Solve()
			require.Error(t, err, "%+v: %v", at, none)
		}
	}
	_, err := molder.GapForTurns{Piece: 10000, Density: 0.1, Recovery: 1, Width: 5, Turns: 2}.Solve()
	assert.ErrorContains(t, err, "another width", "no gap makes a sheet of that")
}

// What the rollers' indicator rounds away from two and a half turns is not called few.
func TestRoundedGapIsNotCalledFewTurns(t *testing.T) {
	in := molder.TurnsForGap{Piece: 70.4, Density: 1.06, Recovery: 1.6, Aspect: 2.2, Measured: true}
	gap, err := molder.GapForTurns{Turns: 2.5, Piece: in.Piece, Density: in.Density, Recovery: in.Recovery, Aspect: in.Aspect}.Solve()
	require.NoError(t, err)
	in.Gap = unit.Length(math.Ceil(float64(gap.Gap)*4) / 4) // in quarters of a millimetre
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Less(t, out.Turns, 2.5)
	assert.Zero(t, out.Conditions, "%v turns", out.Turns)
}

func ExampleGapForTurns() {
	out, _ := molder.GapForTurns{
		Turns: 3, Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100),
		Recovery: 1.8, Aspect: 1.6, Measured: true,
	}.Solve()
	fmt.Printf("For three turns set the rollers to %v; the sheet is %v thick.\n", out.Gap, out.Thickness)
	// Output:
	// For three turns set the rollers to 5.834 mm; the sheet is 10.5 mm thick.
}

func ExampleTurnsForGap() {
	out, _ := molder.TurnsForGap{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100), Gap: unit.Millimetres(4), Recovery: 1.8, Aspect: 1.6, Measured: true,
	}.Solve()
	fmt.Printf("A gap of 4 mm gives %.1f turns: a sheet of %v rolls up to %v.\n", out.Turns, out.Length, out.Diameter)
	// Output:
	// A gap of 4 mm gives 4.0 turns: a sheet of 358.6 mm rolls up to 57.34 mm.
}

func TestTurnsForGapOutOfReach(t *testing.T) {
	in := molder.TurnsForGap{Piece: 500, Density: 1.1, Gap: 60, Recovery: 1.5, Aspect: 0.5, Core: 100}
	_, err := in.Solve()
	assert.Equal(t, []string{"gap"}, fields(err), "no half turn round so thick a core")
	in.Gap, in.Aspect, in.Width = 0.1, 0, 20
	_, err = in.Solve()
	assert.ErrorContains(t, err, "a wider gap")
	_, err = molder.TurnsForGap{Core: 300}.Solve()
	assert.Equal(t, []string{"piece", "density", "gap", "recovery", "aspect", "core"}, fields(err))
}
