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

func TestCurlsGoBack(t *testing.T) {
	for _, l := range []unit.Length{80, 300, 1200} {
		for _, thick := range []unit.Length{1, 4, 9} {
			for _, core := range []unit.Length{0, 0.01, 10} {
				out, err := molder.Curls{Length: l, Thickness: thick, Core: core}.Solve()
				require.NoError(t, err)
				// The result is (D - d) / (2t), in whatever form it is computed.
				same(t, float64(out.Diameter-core)/float64(2*thick), out.Turns, "turns")
				if out.Turns > 20 {
					continue
				}
				a, err := molder.LengthForTurns{Turns: out.Turns, Thickness: thick, Core: core}.Solve()
				require.NoError(t, err)
				same(t, l, a.Length, "length")
				same(t, out.Diameter, a.Diameter, "diameter")
				b, err := molder.ThicknessForTurns{Turns: out.Turns, Length: l, Core: core}.Solve()
				require.NoError(t, err)
				same(t, thick, b.Thickness, "thickness")
				same(t, out.Diameter, b.Diameter, "diameter")
			}
		}
	}
}

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

func TestTurnsAgainstTheUsual(t *testing.T) {
	for _, c := range []struct {
		turns float64
		want  molder.Conditions
	}{
		{0.5, molder.FewTurns | reckon.OutsideSource},
		{1.69, molder.FewTurns | reckon.OutsideSource},
		{1.8, molder.FewTurns},
		{2.39, molder.FewTurns},
		{2.4, 0},
		{2.46, 0},
		{2.5, 0},
		{3, 0},
		{4, 0},
		{4.01, molder.ManyTurns},
		{20, molder.ManyTurns},
	} {
		out, err := molder.LengthForTurns{Turns: c.turns, Thickness: 3}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.want, out.Conditions, "%v turns", c.turns)
		rolled, err := molder.Curls{Length: out.Length * (1 + 1e-12), Thickness: 3}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.want, rolled.Conditions, "%v turns", c.turns)
	}
}

func TestTurnsOutOfReach(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.ThicknessForTurns{Turns: 4, Length: 100, Core: 40}.Solve()
	require.ErrorAs(t, err, &none)
	// At the thinnest, 0.1 mm: D = sqrt(40^2 + 4 * 100 * 0.1 / pi) = 40.159 mm, N = (D - 40) / 0.2.
	assert.Equal(t, [2]string{"0.5 turns", "0.7942 turns"}, [2]string{none.Low, none.High})
	_, err = molder.GapForTurns{Turns: 0.5, Piece: 500, Density: 1.1, Recovery: 1, Aspect: 10}.Solve()
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "ask for more turns")
	// 20 turns of 200 mm are 251 m long; 5 m of it make sqrt(5000 / (200 pi)) = 2.821 turns.
	_, err = molder.LengthForTurns{Turns: 20, Thickness: 200}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "2.821 turns", none.High)
	assert.ErrorContains(t, err, "fewer turns")
	// Half a turn of 0.1 mm is 0.08 mm long; 1 mm of it makes sqrt(1 / (0.1 pi)) = 1.784 turns.
	_, err = molder.LengthForTurns{Turns: 0.5, Thickness: 0.1}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "1.784 turns", none.Low)
	assert.ErrorContains(t, err, "more turns")
	// 20 turns of a sheet of 10 mm would be 0.008 mm thick; at 0.1 mm it makes sqrt(10 / (0.1 pi)) = 5.642.
	_, err = molder.ThicknessForTurns{Turns: 20, Length: 10}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "5.642 turns", none.High)
	assert.ErrorContains(t, err, "0.007958 mm")
	// Half a turn of 5 m would be 6.4 m thick.
	_, err = molder.ThicknessForTurns{Turns: 0.5, Length: 5000}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "2.821 turns", none.Low)
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

func TestCurlsBeyondTheMostTurns(t *testing.T) {
	_, err := molder.Curls{Length: 5000, Thickness: 1}.Solve()
	require.Equal(t, []string{"length"}, fields(err))
	assert.ErrorContains(t, err, "at most 1.257 m", "20 turns of 1 mm are 400 pi mm")
	_, err = molder.TurnsForGap{Piece: 500, Density: 1.1, Gap: 0.2, Recovery: 1.5, Aspect: 1.6}.Solve()
	assert.ErrorContains(t, err, "a wider gap", "44 turns")
}

// The figures of the comment on Curls, without a core: excess of the spiral
// r = t phi / (2 pi) over the area rule's L = pi N^2 t, worked by hand as
// (phi sqrt(1 + phi^2) + asinh phi) / phi^2 - 1 with phi = 2 pi N.
func TestAreaRuleAgainstTheSpiral(t *testing.T) {
	for _, c := range []struct{ turns, percent float64 }{{4, 0.7}, {2.5, 1.6}, {2, 2.4}, {1, 7.7}, {0.5, 23.8}} {
		phi := 2 * math.Pi * c.turns
		assert.InDelta(t, c.percent, 100*((phi*math.Sqrt(1+phi*phi)+math.Asinh(phi))/(phi*phi)-1), 0.05)
		length := unit.Length(math.Pi * c.turns * c.turns * 5 * (1 + 1e-12))
		spiral, err := molder.SpiralLength{Length: length, Thickness: 5}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, c.percent, float64(spiral.Excess), 0.05, "%v turns", c.turns)
	}
	// The word is there exactly where the spiral is more than 3 % longer, round any core.
	for turns := 0.5; turns < 3; turns += 0.01 {
		for _, core := range []unit.Length{0, 0.1, 0.5, 1, 2, 5, 20, 200} {
			for _, thick := range []unit.Length{0.5, 5, 50} {
				length := unit.Length(math.Pi * turns * (float64(core) + turns*float64(thick)) * (1 + 1e-12))
				if length < 1 || length > 5000 {
					continue
				}
				spiral, err := molder.SpiralLength{Length: length, Thickness: thick, Core: core}.Solve()
				require.NoError(t, err)
				rolled, err := molder.Curls{Length: length, Thickness: thick, Core: core}.Solve()
				require.NoError(t, err)
				assert.Equal(t, spiral.Excess > 3, rolled.Conditions.Has(reckon.OutsideSource), "%v turns of %v round %v: %v", turns, thick, core, spiral.Excess)
			}
		}
	}
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

func TestCurlsNameEveryBadField(t *testing.T) {
	_, err := molder.Curls{Core: -1}.Solve()
	assert.Equal(t, []string{"length", "thickness", "core"}, fields(err))
	_, err = molder.Curls{Length: 6, Thickness: 8}.Solve()
	assert.Equal(t, []string{"length"}, fields(err))
	_, err = molder.LengthForTurns{Turns: 0.4}.Solve()
	assert.Equal(t, []string{"turns", "thickness"}, fields(err))
	_, err = molder.ThicknessForTurns{Turns: 30}.Solve()
	assert.Equal(t, []string{"turns", "length"}, fields(err))
	_, err = molder.GapForTurns{Turns: 0.1, Core: 300}.Solve()
	assert.Equal(t, []string{"turns", "piece", "density", "recovery", "aspect", "core"}, fields(err))
}

func ExampleCurls() {
	out, _ := molder.Curls{Length: unit.Millimetres(300), Thickness: unit.Millimetres(8)}.Solve()
	fmt.Printf("The sheet makes %.2f turns and a roll of %v.\n", out.Turns, out.Diameter)
	// Output:
	// The sheet makes 3.45 turns and a roll of 55.28 mm.
}

func ExampleLengthForTurns() {
	out, _ := molder.LengthForTurns{Turns: molder.UsualTurns, Thickness: unit.Millimetres(7)}.Solve()
	fmt.Printf("For two and a half turns a 7 mm sheet must be %v long.\n", out.Length)
	// Output:
	// For two and a half turns a 7 mm sheet must be 137.4 mm long.
}

func ExampleThicknessForTurns() {
	out, _ := molder.ThicknessForTurns{Turns: 3, Length: unit.Millimetres(250)}.Solve()
	fmt.Printf("Three turns of a 250 mm sheet: %v thick.\n", out.Thickness)
	// Output:
	// Three turns of a 250 mm sheet: 8.842 mm thick.
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

func FuzzCurls(f *testing.F) {
	f.Add(300.0, 5.0, 10.0, 2.5, 500.0, 1.1, 1.6, 0.0)
	f.Fuzz(func(t *testing.T, l, thick, core, turns, m, rho, aspect, width float64) {
		if out, err := (molder.Curls{Length: unit.Length(l), Thickness: unit.Length(thick), Core: unit.Length(core)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.LengthForTurns{Turns: turns, Thickness: unit.Length(thick), Core: unit.Length(core)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.ThicknessForTurns{Turns: turns, Length: unit.Length(l), Core: unit.Length(core)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.GapForTurns{
			Turns: turns, Piece: unit.Mass(m), Density: unit.Density(rho), Recovery: 1.8,
			Aspect: aspect, Width: unit.Length(width), Core: unit.Length(core),
		}).Solve(); err == nil {
			finite(t, out)
			assert.Greater(t, out.Gap, unit.Length(0))
		}
	})
}
