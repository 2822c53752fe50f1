package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

func TestPieceForTrayWithinWhatItGoesBackTo(t *testing.T) {
	var none *reckon.NoSolutionError
	in := molder.PieceForTray{Along: 60, Across: 40, Density: 1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 0}
	_, err := in.Solve()
	require.ErrorAs(t, err, &none)
	// 1 g, three times as large, lies 1.2 * (18000/pi)^(1/3) = 21.47 mm wide.
	assert.Equal(t, "27 by 18 places", none.High)
	in.Along, in.Across = 27, 18
	_, err = in.Solve()
	require.NoError(t, err)
	_, err = molder.PieceForTray{Along: 1, Across: 1, Density: 1, Growth: 1, Flatness: 1, Length: 3000, Width: 3000}.Solve()
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "more places")
}

func TestTrayGoesBack(t *testing.T) {
	for _, along := range []int{1, 4, 9} {
		for _, across := range []int{1, 3, 7} {
			back, err := molder.PieceForTray{Along: along, Across: across, Density: 1.1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 10}.Solve()
			require.NoError(t, err)
			in := molder.TrayFit{Piece: back.Piece, Density: 1.1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 10}
			out, err := in.Solve()
			require.NoError(t, err)
			same(t, back.Diameter, out.Diameter, "diameter")
			assert.GreaterOrEqual(t, out.Along, along)
			assert.GreaterOrEqual(t, out.Across, across)
			assert.Equal(t, out.Along*out.Across, out.Pieces)
			in.Piece *= 1.001
			out, err = in.Solve()
			if err == nil { // a single piece as wide as the tray no longer fits at all
				assert.True(t, out.Along < along || out.Across < across, "the heaviest that fits is the heaviest")
			}
		}
	}
}

func TestTrayRefuses(t *testing.T) {
	_, err := molder.TrayFit{Gap: -1}.Solve()
	assert.Equal(t, []string{"piece", "density", "growth", "flatness", "length", "width", "gap"}, fields(err))
	_, err = molder.PieceForTray{}.Solve()
	assert.Equal(t, []string{"along", "across", "density", "growth", "flatness", "length", "width"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.PieceForTray{Along: 100, Across: 1, Density: 1.1, Growth: 3, Flatness: 1.2, Length: 600, Width: 400, Gap: 10}.Solve()
	require.ErrorAs(t, err, &none)
}

func ExampleTrayFit() {
	out, _ := molder.TrayFit{
		Piece: unit.Grams(85), Density: unit.GramsPerMillilitre(1.1), Growth: 3, Flatness: 1.2,
		Length: unit.Millimetres(600), Width: unit.Millimetres(400), Gap: unit.Millimetres(10), Measured: true,
	}.Solve()
	fmt.Printf("%d by %d pieces, %d on the tray, each %v across when proofed.\n", out.Along, out.Across, out.Pieces, out.Diameter)
	// Output:
	// 5 by 3 pieces, 15 on the tray, each 91.46 mm across when proofed.
}

func ExamplePieceForTray() {
	out, _ := molder.PieceForTray{
		Along: 6, Across: 4, Density: unit.GramsPerMillilitre(1.1), Growth: 3, Flatness: 1.2,
		Length: unit.Millimetres(600), Width: unit.Millimetres(400), Gap: unit.Millimetres(10), Measured: true,
	}.Solve()
	fmt.Printf("For 6 by 4 the piece may weigh up to %v.\n", out.Piece)
	// Output:
	// For 6 by 4 the piece may weigh up to 74.43 g.
}

// Flatness and growth measured on pieces give those pieces' own diameter back.
func TestTrayCalibrationsGiveThePiecesBack(t *testing.T) {
	growth, err := molder.GrowthFromJar{Jars: []molder.JarTrial{{HeightBefore: 40, HeightAfter: 100}, {HeightBefore: 50, HeightAfter: 175}}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 3.0, growth.Growth, "the mean of 2.5 and 3.5")
	same(t, 0.7071067811865476, growth.SD, "scatter of two values one apart")
	flat, err := molder.FlatnessFromPieces{Piece: 85, Density: 1.1, Growth: growth.Growth, Diameters: []unit.Length{90, 94}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, flat.Pieces)
	same(t, 4*0.7071067811865476/float64(flat.Ball), flat.SD, "scatter of 90 and 94 mm")
	out, err := molder.TrayFit{Piece: 85, Density: 1.1, Growth: growth.Growth, Flatness: flat.Flatness, Length: 600, Width: 400, Gap: 10, Measured: true}.Solve()
	require.NoError(t, err)
	same(t, unit.Length(92), out.Diameter, "diameter")
	assert.Equal(t, molder.Conditions(reckon.Rounded), out.Conditions)
}

func TestFlatnessRefuses(t *testing.T) {
	_, err := molder.FlatnessFromPieces{}.Solve()
	assert.Equal(t, []string{"piece", "density", "growth", "diameters"}, fields(err))
	_, err = molder.FlatnessFromPieces{Piece: 60, Density: 1.1, Growth: 1, Diameters: []unit.Length{47, 142}}.Solve()
	assert.Equal(t, []string{"diameters[0]", "diameters[1]"}, fields(err))
}

func ExampleFlatnessFromPieces() {
	out, _ := molder.FlatnessFromPieces{
		Piece: unit.Grams(60), Density: unit.GramsPerMillilitre(1.1), Growth: 1,
		Diameters: []unit.Length{unit.Millimetres(52), unit.Millimetres(54), unit.Millimetres(53)},
	}.Solve()
	fmt.Printf("A piece lies %.2f times as wide as its ball of %v.\n", out.Flatness, out.Ball)
	// Output:
	// A piece lies 1.13 times as wide as its ball of 47.05 mm.
}

func FuzzTray(f *testing.F) {
	f.Add(85.0, 1.1, 600.0, 400.0, 3.0, 10.0, 4)
	f.Fuzz(func(t *testing.T, m, rho, a, b, growth, gap float64, n int) {
		if out, err := (molder.TrayFit{Piece: unit.Mass(m), Density: unit.Density(rho), Growth: growth, Flatness: 1.2, Length: unit.Length(a), Width: unit.Length(b), Gap: unit.Length(gap)}).Solve(); err == nil {
			finite(t, out)
			assert.Positive(t, out.Pieces)
		}
		if out, err := (molder.PieceForTray{Along: n, Across: n, Density: unit.Density(rho), Growth: growth, Flatness: 1.2, Length: unit.Length(a), Width: unit.Length(b), Gap: unit.Length(gap)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.FlatnessFromPieces{Piece: unit.Mass(m), Density: unit.Density(rho), Growth: growth, Diameters: []unit.Length{unit.Length(a), unit.Length(b)}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
