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

func TestGapGoesBackToTheSheet(t *testing.T) {
	for _, in := range sheets() {
		out, err := in.Solve()
		require.NoError(t, err)
		a, err := molder.GapForThickness{Thickness: out.Thickness, Recovery: in.Recovery}.Solve()
		require.NoError(t, err)
		same(t, in.Gap, a.Gap, "gap for thickness")
		b, err := molder.GapForSheetLength{
			Piece: in.Piece, Density: in.Density, Length: out.Length,
			Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width,
		}.Solve()
		require.NoError(t, err)
		same(t, in.Gap, b.Gap, "gap for length")
		same(t, out.Thickness, b.Thickness, "thickness")
	}
}

func TestSheetTooShortForThePiece(t *testing.T) {
	for _, in := range []molder.GapForSheetLength{
		{Piece: 500, Density: 1.1, Length: 50, Recovery: 1.8, Aspect: 1.6},
		{Piece: 500, Density: 1.1, Length: 20, Recovery: 1.8, Width: 120},
	} {
		_, err := in.Solve()
		var none *reckon.NoSolutionError
		require.ErrorAs(t, err, &none)
		limit, err := unit.ParseLength(none.Low)
		require.NoError(t, err)
		in.Length = limit * 1.001
		_, err = in.Solve()
		require.NoError(t, err, "the range named must be reachable")
		in.Length = limit * 0.999
		_, err = in.Solve()
		require.ErrorAs(t, err, &none, "and no more than that")
	}
}

// Gaps that the rollers do not have are not answered with.
func TestGapForSheetNamesWhatIsReached(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.GapForThickness{Thickness: 0.1, Recovery: 5}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"0.25 mm", "200 mm"}, [2]string{none.Low, none.High})
	for _, in := range []molder.GapForSheetLength{
		{Piece: 10, Density: 1.1, Length: 4000, Recovery: 2, Width: 200},      // a gap of 7 µm
		{Piece: 10, Density: 1.1, Length: 3000, Recovery: 5, Aspect: 10},      // a gap closed further than rollers are
		{Piece: 9000, Density: 0.5, Length: 2000, Recovery: 1.8, Aspect: 0.5}, // 4 m wide
		{Piece: 1, Density: 1.1, Length: 20, Recovery: 1.2, Aspect: 10},       // 2 mm wide
		{Piece: 10000, Density: 0.1, Length: 300, Recovery: 1.2, Aspect: 1},   // thicker than sheets are
	} {
		_, err := in.Solve()
		require.ErrorAs(t, err, &none, "%+v", in)
		low, err := unit.ParseLength(none.Low)
		require.NoError(t, err)
		high, err := unit.ParseLength(none.High)
		require.NoError(t, err)
		for _, inside := range []unit.Length{low * 1.001, high * 0.999} {
			in.Length = inside
			_, err = in.Solve()
			require.NoError(t, err, "%+v: %v", in, none)
		}
		for _, beyond := range []unit.Length{low * 0.999, high * 1.001} {
			in.Length = beyond
			_, err = in.Solve()
			require.Error(t, err, "%+v: %v", in, none)
		}
	}
	_, err = molder.GapForSheetLength{Piece: 10000, Density: 0.1, Length: 1000, Recovery: 1, Width: 5}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Empty(t, none.Low+none.High)
	assert.ErrorContains(t, err, "another width")
}

func ExampleGapForThickness() {
	out, _ := molder.GapForThickness{Thickness: unit.Millimetres(7.2), Recovery: 1.8, Measured: true}.Solve()
	fmt.Printf("Set the rollers to %v.\n", out.Gap)
	// Output:
	// Set the rollers to 4 mm.
}

func ExampleGapForSheetLength() {
	out, _ := molder.GapForSheetLength{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100),
		Length: unit.Millimetres(400), Recovery: 1.8, Aspect: 1.6, Measured: true,
	}.Solve()
	fmt.Printf("Set the rollers to %v: the sheet comes out %v thick.\n", out.Gap, out.Thickness)
	// Output:
	// Set the rollers to 3.215 mm: the sheet comes out 5.787 mm thick.
}
