package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/molder"
)

func TestCurlsGoBack(t *testing.T) {
	for _, l := range []doughmath.Length{80, 300, 1200} {
		for _, thick := range []doughmath.Length{1, 4, 9} {
			for _, core := range []doughmath.Length{0, 0.01, 10} {
				out, err := molder.Curls(molder.CurlsInput{Length: l, Thickness: thick, Core: core})
				require.NoError(t, err)
				// The result is (D - d) / (2t), in whatever form it is computed.
				same(t, float64(out.Diameter-core)/float64(2*thick), out.Turns, "turns")
				if out.Turns > 20 {
					continue
				}
				a, err := molder.LengthForTurns(molder.LengthForTurnsInput{Turns: out.Turns, Thickness: thick, Core: core})
				require.NoError(t, err)
				same(t, l, a.Length, "length")
				same(t, out.Diameter, a.Diameter, "diameter")
				b, err := molder.ThicknessForTurns(molder.ThicknessForTurnsInput{Turns: out.Turns, Length: l, Core: core})
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
		for _, core := range []doughmath.Length{0, 0.01, 8, 20} {
			for _, in := range []molder.GapForTurnsInput{
				{Turns: turns, Piece: 500, Density: 1.1, Recovery: 1.8, Aspect: 1.6, Core: core, Measured: true},
				{Turns: turns, Piece: 900, Density: 0.9, Recovery: 1.2, Width: 220, Core: core, Measured: true},
			} {
				gap, err := molder.GapForTurns(in)
				require.NoError(t, err)
				sheet, err := molder.Sheet(molder.SheetInput{Piece: in.Piece, Density: in.Density, Gap: gap.Gap, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width})
				require.NoError(t, err)
				same(t, gap.Thickness, sheet.Thickness, "thickness")
				roll, err := molder.Curls(molder.CurlsInput{Length: sheet.Length, Thickness: sheet.Thickness, Core: core})
				require.NoError(t, err)
				same(t, turns, roll.Turns, "turns")
				assert.Equal(t, gap.Conditions, roll.Conditions, "%v turns", turns)
				whole, err := molder.TurnsForGap(molder.TurnsForGapInput{Piece: in.Piece, Density: in.Density, Gap: gap.Gap, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width, Core: core, Measured: true})
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
		want  doughmath.Conditions
	}{{0.5, doughmath.FewTurns}, {2.49, doughmath.FewTurns}, {2.5, 0}, {3, 0}, {4, 0}, {4.01, doughmath.ManyTurns}, {20, doughmath.ManyTurns}} {
		out, err := molder.LengthForTurns(molder.LengthForTurnsInput{Turns: c.turns, Thickness: 3})
		require.NoError(t, err)
		assert.Equal(t, c.want, out.Conditions, "%v turns", c.turns)
		rolled, err := molder.Curls(molder.CurlsInput{Length: out.Length * (1 + 1e-12), Thickness: 3})
		require.NoError(t, err)
		assert.Equal(t, c.want, rolled.Conditions, "%v turns", c.turns)
	}
}

func TestTurnsOutOfReach(t *testing.T) {
	var none *doughmath.NoSolutionError
	_, err := molder.ThicknessForTurns(molder.ThicknessForTurnsInput{Turns: 4, Length: 100, Core: 40})
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "0.7958 turns", none.High)
	_, err = molder.GapForTurns(molder.GapForTurnsInput{Turns: 0.5, Piece: 500, Density: 1.1, Recovery: 1, Aspect: 10})
	require.ErrorAs(t, err, &none)
}

func TestCurlsNameEveryBadField(t *testing.T) {
	_, err := molder.Curls(molder.CurlsInput{Core: -1})
	assert.Equal(t, []string{"length", "thickness", "core"}, fields(err))
	_, err = molder.Curls(molder.CurlsInput{Length: 6, Thickness: 8})
	assert.Equal(t, []string{"length"}, fields(err))
	_, err = molder.LengthForTurns(molder.LengthForTurnsInput{Turns: 0.4})
	assert.Equal(t, []string{"turns", "thickness"}, fields(err))
	_, err = molder.ThicknessForTurns(molder.ThicknessForTurnsInput{Turns: 30})
	assert.Equal(t, []string{"turns", "length"}, fields(err))
	_, err = molder.GapForTurns(molder.GapForTurnsInput{Turns: 0.1, Core: 300})
	assert.Equal(t, []string{"turns", "piece", "density", "recovery", "aspect", "core"}, fields(err))
}

func ExampleCurls() {
	out, _ := molder.Curls(molder.CurlsInput{Length: doughmath.Millimetres(300), Thickness: doughmath.Millimetres(8)})
	fmt.Printf("The sheet makes %.2f turns and a roll of %v.\n", out.Turns, out.Diameter)
	// Output:
	// The sheet makes 3.45 turns and a roll of 55.28 mm.
}

func ExampleLengthForTurns() {
	out, _ := molder.LengthForTurns(molder.LengthForTurnsInput{Turns: molder.UsualTurns, Thickness: doughmath.Millimetres(7)})
	fmt.Printf("For two and a half turns a 7 mm sheet must be %v long.\n", out.Length)
	// Output:
	// For two and a half turns a 7 mm sheet must be 137.4 mm long.
}

func ExampleThicknessForTurns() {
	out, _ := molder.ThicknessForTurns(molder.ThicknessForTurnsInput{Turns: 3, Length: doughmath.Millimetres(250)})
	fmt.Printf("Three turns of a 250 mm sheet: %v thick.\n", out.Thickness)
	// Output:
	// Three turns of a 250 mm sheet: 8.842 mm thick.
}

func ExampleGapForTurns() {
	out, _ := molder.GapForTurns(molder.GapForTurnsInput{
		Turns: 3, Piece: doughmath.Grams(500), Density: doughmath.KilogramsPerCubicMetre(1100),
		Recovery: 1.8, Aspect: 1.6, Measured: true,
	})
	fmt.Printf("For three turns set the rollers to %v; the sheet is %v thick.\n", out.Gap, out.Thickness)
	// Output:
	// For three turns set the rollers to 5.834 mm; the sheet is 10.5 mm thick.
}

func ExampleTurnsForGap() {
	out, _ := molder.TurnsForGap(molder.TurnsForGapInput{
		Piece: doughmath.Grams(500), Density: doughmath.KilogramsPerCubicMetre(1100), Gap: doughmath.Millimetres(4), Recovery: 1.8, Aspect: 1.6, Measured: true,
	})
	fmt.Printf("A gap of 4 mm gives %.1f turns: a sheet of %v rolls up to %v.\n", out.Turns, out.Length, out.Diameter)
	// Output:
	// A gap of 4 mm gives 4.0 turns: a sheet of 358.6 mm rolls up to 57.34 mm.
}

func TestTurnsForGapOutOfReach(t *testing.T) {
	in := molder.TurnsForGapInput{Piece: 500, Density: 1.1, Gap: 60, Recovery: 1.5, Aspect: 0.5, Core: 100}
	_, err := molder.TurnsForGap(in)
	assert.Equal(t, []string{"gap"}, fields(err), "no half turn round so thick a core")
	in.Gap, in.Aspect, in.Width = 0.1, 0, 20
	_, err = molder.TurnsForGap(in)
	assert.ErrorContains(t, err, "a wider gap")
	_, err = molder.TurnsForGap(molder.TurnsForGapInput{Core: 300})
	assert.Equal(t, []string{"piece", "density", "gap", "recovery", "aspect", "core"}, fields(err))
}

func FuzzCurls(f *testing.F) {
	f.Add(300.0, 5.0, 10.0, 2.5, 500.0, 1.1, 1.6, 0.0)
	f.Fuzz(func(t *testing.T, l, thick, core, turns, m, rho, aspect, width float64) {
		if out, err := molder.Curls(molder.CurlsInput{Length: doughmath.Length(l), Thickness: doughmath.Length(thick), Core: doughmath.Length(core)}); err == nil {
			finite(t, out)
		}
		if out, err := molder.LengthForTurns(molder.LengthForTurnsInput{Turns: turns, Thickness: doughmath.Length(thick), Core: doughmath.Length(core)}); err == nil {
			finite(t, out)
		}
		if out, err := molder.ThicknessForTurns(molder.ThicknessForTurnsInput{Turns: turns, Length: doughmath.Length(l), Core: doughmath.Length(core)}); err == nil {
			finite(t, out)
		}
		if out, err := molder.GapForTurns(molder.GapForTurnsInput{
			Turns: turns, Piece: doughmath.Mass(m), Density: doughmath.Density(rho), Recovery: 1.8,
			Aspect: aspect, Width: doughmath.Length(width), Core: doughmath.Length(core),
		}); err == nil {
			finite(t, out)
			assert.Greater(t, out.Gap, doughmath.Length(0))
		}
	})
}
