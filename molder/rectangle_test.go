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

func TestRectangularSheetGoesBack(t *testing.T) {
	for _, in := range []molder.PieceForRectangularSheet{
		{Length: 600, Width: 300, Thickness: 5, Density: 1.1}, {Length: 40, Width: 60, Thickness: 0.5, Density: 1}, {Length: 5000, Width: 900, Thickness: 2, Density: 1.05},
	} {
		piece, err := in.Solve()
		require.NoError(t, err)
		out, err := molder.RectangularSheet{Piece: piece.Piece, Density: in.Density, Length: in.Length, Width: in.Width}.Solve()
		require.NoError(t, err)
		same(t, in.Thickness, out.Thickness, "thickness")
	}
}

// An ellipse of the same length and width is thicker by 4/pi: its corners are missing.
func TestRectangleAgainstEllipse(t *testing.T) {
	oval, err := molder.Sheet{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6}.Solve()
	require.NoError(t, err)
	full, err := molder.RectangularSheet{Piece: 500, Density: 1.1, Length: oval.Length, Width: oval.Width}.Solve()
	require.NoError(t, err)
	same(t, 4/math.Pi, float64(oval.Thickness/full.Thickness), "ratio")
}

func TestRectangularSheetRefuses(t *testing.T) {
	_, err := molder.RectangularSheet{}.Solve()
	assert.Equal(t, []string{"piece", "density", "length", "width"}, fields(err))
	_, err = molder.RectangularSheet{Piece: 10000, Density: 1, Length: 50, Width: 50}.Solve()
	assert.Equal(t, []string{"piece"}, fields(err))
	_, err = molder.RectangularSheet{Piece: 10, Density: 1, Length: 5000, Width: 50}.Solve()
	assert.Equal(t, []string{"piece"}, fields(err))
	_, err = molder.PieceForRectangularSheet{}.Solve()
	assert.Equal(t, []string{"length", "width", "thickness", "density"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.PieceForRectangularSheet{Length: 5000, Width: 2000, Thickness: 100, Density: 1}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = molder.PieceForRectangularSheet{Length: 5, Width: 5, Thickness: 1, Density: 1}.Solve()
	require.ErrorAs(t, err, &none)
}

func ExampleRectangularSheet() {
	out, _ := molder.RectangularSheet{Piece: unit.Grams(990), Density: unit.KilogramsPerCubicMetre(1100), Length: unit.Millimetres(600), Width: unit.Millimetres(300)}.Solve()
	fmt.Printf("The sheet is %v thick.\n", out.Thickness)
	// Output:
	// The sheet is 5 mm thick.
}

func ExamplePieceForRectangularSheet() {
	out, _ := molder.PieceForRectangularSheet{Length: unit.Millimetres(600), Width: unit.Millimetres(300), Thickness: unit.Millimetres(4), Density: unit.KilogramsPerCubicMetre(1100)}.Solve()
	fmt.Printf("Scale %v of dough.\n", out.Piece)
	// Output:
	// Scale 792 g of dough.
}
