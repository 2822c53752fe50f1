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
