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
		assert.InDelta(t, c.percent, float64(spiral.ExcessShare), 0.05, "%v turns", c.turns)
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
				assert.Equal(t, spiral.ExcessShare > 3, rolled.Conditions.Has(reckon.OutsideSource), "%v turns of %v round %v: %v", turns, thick, core, spiral.ExcessShare)
			}
		}
	}
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
