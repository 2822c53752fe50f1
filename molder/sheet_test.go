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

func sheets() []molder.Sheet {
	var out []molder.Sheet
	for _, m := range []unit.Mass{30, 85, 500} {
		for _, gap := range []unit.Length{2, 3, 4.5} {
			for _, recovery := range []float64{1.1, 1.8, 2.75} {
				out = append(out, molder.Sheet{Piece: m, Density: 1.1, Gap: gap, Recovery: recovery, Aspect: 1.6},
					molder.Sheet{Piece: m, Density: 0.9, Gap: gap, Recovery: recovery, Width: 120})
			}
		}
	}
	return out
}

func TestSheetKeepsTheVolume(t *testing.T) {
	for _, in := range sheets() {
		out, err := in.Solve()
		require.NoError(t, err)
		v := math.Pi / 4 * float64(out.Length) * float64(out.Width) * float64(out.Thickness)
		same(t, float64(in.Piece)/float64(in.Density), v/1000, "volume")
	}
}

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

func TestSheetConditions(t *testing.T) {
	in := molder.Sheet{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.Conditions(reckon.Uncalibrated), out.Conditions)
	in.Measured, in.Recovery = true, 3
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.Conditions(reckon.OutsideSource), out.Conditions)
}

func TestSheetNamesEveryBadField(t *testing.T) {
	_, err := molder.Sheet{}.Solve()
	assert.Equal(t, []string{"piece", "density", "gap", "recovery", "aspect"}, fields(err))
	_, err = molder.Sheet{Piece: 500, Density: 1.1, Gap: 60, Recovery: 1.8, Aspect: 1, Width: 100}.Solve()
	assert.Equal(t, []string{"gap", "width"}, fields(err))
	_, err = molder.GapForThickness{}.Solve()
	assert.Equal(t, []string{"thickness", "recovery"}, fields(err))
	_, err = molder.GapForSheetLength{Aspect: 20}.Solve()
	assert.Equal(t, []string{"piece", "density", "length", "recovery", "aspect"}, fields(err))
	_, err = molder.RecoveryFromSheet{Gap: 4, Thicknesses: []unit.Length{3, 5, 30}}.Solve()
	assert.Equal(t, []string{"thicknesses[0]", "thicknesses[2]"}, fields(err))
	_, err = molder.RecoveryFromSheet{}.Solve()
	assert.Equal(t, []string{"gap", "thicknesses"}, fields(err))
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

// A sheet keeps to the sizes that the calculations about sheets take.
func TestSheetOfImpossibleOutline(t *testing.T) {
	for _, c := range []struct {
		id   string
		in   molder.Sheet
		says string
	}{
		{"31 km", molder.Sheet{Piece: 10000, Density: 1.1, Gap: 0.1, Recovery: 1.5, Width: 5}, "a wider gap, or another width"},
		{"thinner than any", molder.Sheet{Piece: 10000, Density: 1.1, Gap: 0.05, Recovery: 1.5, Width: 5}, "thick, and sheets are 0.1 mm to 200 mm"},
		{"2 m by 4 mm", molder.Sheet{Piece: 50, Density: 1.1, Gap: 5, Recovery: 1.5, Width: 2000}, "a narrower gap, or another width"},
		{"too wide", molder.Sheet{Piece: 10000, Density: 0.1, Gap: 10, Recovery: 1.5, Aspect: 0.5}, "wide, and sheets are 5 mm to 2 m"},
		{"too narrow", molder.Sheet{Piece: 1, Density: 1.5, Gap: 5, Recovery: 1.5, Aspect: 10}, "a narrower gap: this sheet would be"},
		{"thicker than any", molder.Sheet{Piece: 10000, Density: 0.1, Gap: 150, Recovery: 1.5, Aspect: 1}, "a narrower gap: this sheet would be 225 mm thick"},
	} {
		_, err := c.in.Solve()
		require.Equal(t, []string{"gap"}, fields(err), c.id)
		assert.ErrorContains(t, err, c.says, c.id)
		_, err = molder.TurnsForGap{Piece: c.in.Piece, Density: c.in.Density, Gap: c.in.Gap, Recovery: c.in.Recovery, Aspect: c.in.Aspect, Width: c.in.Width}.Solve()
		require.Equal(t, []string{"gap"}, fields(err), c.id)
	}
	// 200 g of 1 g/ml, 5 mm thick and 500 mm wide: 4 * 200000 / (pi * 5 * 500) = 101.9 mm long, under half of its width.
	in := molder.Sheet{Piece: 200, Density: 1, Gap: 2.5, Recovery: 2, Width: 500, Measured: true}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.Conditions(reckon.OutsideSource), out.Conditions)
	in.Width = 300
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
	in.Width = 60
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.Conditions(reckon.OutsideSource), out.Conditions, "14 times as long as wide")
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

func TestRecoverySpread(t *testing.T) {
	// Ratios 1, 2, 3: mean 2 and sample standard deviation 1, by hand.
	out, err := molder.RecoveryFromSheet{Gap: 4, Thicknesses: []unit.Length{4, 8, 12}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2.0, out.Recovery)
	assert.Equal(t, 1.0, out.Spread)
	assert.Equal(t, 3, out.Sheets)
}

func ExampleSheet() {
	out, _ := molder.Sheet{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100),
		Gap: unit.Millimetres(4), Recovery: 1.8, Aspect: 1.6,
	}.Solve()
	fmt.Printf("The sheet is %v thick, %v long and %v wide.\n", out.Thickness, out.Length, out.Width)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// The sheet is 7.2 mm thick, 358.6 mm long and 224.1 mm wide.
	// This is a model's estimate: measure it on the line and put the measured value in.
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

func ExampleRecoveryFromSheet() {
	out, _ := molder.RecoveryFromSheet{
		Gap:         unit.Millimetres(4),
		Thicknesses: []unit.Length{unit.Millimetres(7.1), unit.Millimetres(7.4), unit.Millimetres(7)},
	}.Solve()
	fmt.Printf("%d sheets behind a 4 mm gap are %v thick: recovery %.2f, spread %.2f.\n", out.Sheets, out.Thickness, out.Recovery, out.Spread)
	// Output:
	// 3 sheets behind a 4 mm gap are 7.167 mm thick: recovery 1.79, spread 0.05.
}

// Put back into the sheet, the calibration must give the sheet that was measured.
func TestAspectGivesTheSheetBack(t *testing.T) {
	measured := molder.MeasuredSheet{Length: 350, Width: 220, Thickness: 7.5}
	cal, err := molder.AspectFromSheet{Piece: 500, Sheets: []molder.MeasuredSheet{measured, measured}}.Solve()
	require.NoError(t, err)
	assert.Zero(t, cal.Scatter)
	assert.Equal(t, 2, cal.Sheets)
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
	assert.Equal(t, 1.0, cal.Scatter)
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

func FuzzSheet(f *testing.F) {
	f.Add(500.0, 1.1, 4.0, 1.8, 1.6, 0.0, 360.0)
	f.Add(60.0, 1.1, 2.0, 1.1, 0.0, 80.0, 90.0)
	f.Fuzz(func(t *testing.T, m, rho, gap, recovery, aspect, width, length float64) {
		if out, err := (molder.Sheet{
			Piece: unit.Mass(m), Density: unit.Density(rho), Gap: unit.Length(gap),
			Recovery: recovery, Aspect: aspect, Width: unit.Length(width),
		}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.GapForSheetLength{
			Piece: unit.Mass(m), Density: unit.Density(rho), Length: unit.Length(length),
			Recovery: recovery, Aspect: aspect, Width: unit.Length(width),
		}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.AspectFromSheet{Piece: unit.Mass(m), Sheets: []molder.MeasuredSheet{{Length: unit.Length(length), Width: unit.Length(width), Thickness: unit.Length(gap)}}}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.RecoveryFromSheet{Gap: unit.Length(gap), Thicknesses: []unit.Length{unit.Length(width), unit.Length(length)}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
