package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// Put back into the sheet, the calibration must give the sheet that was measured.
func TestAspectGivesTheSheetBack(t *testing.T) {
	measured := molder.MeasuredSheet{Length: 350, Width: 220, Thickness: 7.5}
	cal, err := molder.AspectFromSheet{Piece: 500, Sheets: []molder.MeasuredSheet{measured, measured}}.Solve()
	require.NoError(t, err)
	assert.Zero(t, cal.SD)
	assert.Equal(t, 2, cal.Count)
	out, err := molder.Sheet{Piece: 500, Density: cal.Density, Gap: 5, Recovery: 1.5, Aspect: cal.Aspect, Measured: true}.Solve()
	require.NoError(t, err)
	same(t, measured.Length, out.Length, "length")
	same(t, measured.Width, out.Width, "width")
	same(t, measured.Thickness, out.Thickness, "thickness")
	// Ratios 1, 2, 3: mean 2 and sample standard deviation 1, by hand.
	cal, err = molder.AspectFromSheet{Piece: 250, Sheets: []molder.MeasuredSheet{
		{Length: 200, Width: 200, Thickness: 8}, {Length: 400, Width: 200, Thickness: 4}, {Length: 600, Width: 200, Thickness: 4},
	}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2.0, cal.Aspect)
	assert.Equal(t, 1.0, cal.SD)
}

func TestAspectRefuses(t *testing.T) {
	_, err := molder.AspectFromSheet{}.Solve()
	assert.Equal(t, []string{"piece", "sheets"}, fields(err))
	_, err = molder.AspectFromSheet{Piece: 500, Sheets: []molder.MeasuredSheet{{}}}.Solve()
	assert.Equal(t, []string{"sheets[0].length", "sheets[0].width", "sheets[0].thickness"}, fields(err))
	_, err = molder.AspectFromSheet{Piece: 500, Sheets: []molder.MeasuredSheet{{Length: 20, Width: 100, Thickness: 1}}}.Solve()
	assert.Equal(t, []string{"sheets", "sheets"}, fields(err), "wider than long, and 318 g/ml")
}

func ExampleAspectFromSheet() {
	out, _ := molder.AspectFromSheet{Piece: unit.Grams(500), Sheets: []molder.MeasuredSheet{
		{Length: unit.Millimetres(350), Width: unit.Millimetres(220), Thickness: unit.Millimetres(7.5)},
		{Length: unit.Millimetres(362), Width: unit.Millimetres(216), Thickness: unit.Millimetres(7.2)},
	}}.Solve()
	fmt.Printf("The sheets are %.2f times as long as wide; reckon with %v.\n", out.Aspect, out.Density)
	// Output:
	// The sheets are 1.63 times as long as wide; reckon with 1.116 g/ml.
}
