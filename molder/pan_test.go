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

var (
	straight = molder.Pan{Length: 200, Width: 100, Depth: 80}
	sloping  = molder.Pan{Length: 200, Width: 100, Depth: 80, BottomLength: 180, BottomWidth: 80}
	loaf     = molder.PanFit{Piece: 450, Density: 1.1, Length: 170, Pan: sloping, Growth: 2.6, FillLow: 70, FillHigh: 95, Measured: true}
)

// A box is length x width x depth; a pyramid is a third of it; and a pan that
// slopes in one direction only is a prism: mean length times width times depth.
func TestPanVolume(t *testing.T) {
	for _, c := range []struct {
		id   string
		pan  molder.Pan
		want float64 // ml
	}{
		{"box", straight, 1600},
		{"prism", molder.Pan{Length: 200, Width: 100, Depth: 80, BottomLength: 160, BottomWidth: 100}, 1440},
		// Frustum of a square pyramid, h/3 (A + B + sqrt(AB)).
		{"frustum", molder.Pan{Length: 120, Width: 120, Depth: 90, BottomLength: 60, BottomWidth: 60}, 90.0 / 3 * (14400 + 3600 + 7200) / 1000},
	} {
		in := loaf
		in.Pan, in.Length = c.pan, 60
		out, err := in.Solve()
		require.NoError(t, err)
		same(t, c.want, out.Volume.Millilitres(), c.id)
	}
}

func TestPanGoesBack(t *testing.T) {
	known, err := loaf.Solve()
	require.NoError(t, err)
	assert.Zero(t, known.Conditions)
	back, err := molder.PieceForPan{KnownPiece: loaf.Piece, KnownPan: loaf.Pan, Pan: straight}.Solve()
	require.NoError(t, err)
	in := loaf
	in.Piece, in.Pan = back.Piece, straight
	out, err := in.Solve()
	require.NoError(t, err)
	same(t, known.Loading, out.Loading, "loading")
	same(t, known.Fill, out.Fill, "fill")
	assert.Equal(t, unit.Length(15), out.Clearance)
}

func TestPanConditions(t *testing.T) {
	for _, c := range []struct {
		piece unit.Mass
		want  molder.Conditions
	}{{300, molder.PanUnderfull}, {450, 0}, {600, molder.PanOverfull}} {
		in := loaf
		in.Piece = c.piece
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.want, out.Conditions, "%v: %v", c.piece, out.Fill)
	}
}

// A piece goes into a pan no narrower than it is thick, and a pan opens upward.
func TestPanAgainstThePieceAndItself(t *testing.T) {
	in := molder.PanFit{Piece: 900, Density: 1.1, Length: 240, Pan: molder.Pan{Length: 250, Width: 20, Depth: 100}, Growth: 2.6, FillLow: 70, FillHigh: 95, Measured: true}
	_, err := in.Solve()
	require.Equal(t, []string{"length"}, fields(err))
	// sqrt(4 * 818182 / (pi * 240)) = 65.88 mm.
	assert.ErrorContains(t, err, "65.88 mm thick, and the pan is 20 mm wide")
	in.Pan.Width = 65.8
	_, err = in.Solve()
	require.Equal(t, []string{"length"}, fields(err))
	in.Pan.Width = 65.9
	_, err = in.Solve()
	require.NoError(t, err)

	in.Pan = molder.Pan{Length: 250, Width: 120, Depth: 100, BottomLength: 2000, BottomWidth: 2000}
	_, err = in.Solve()
	assert.Equal(t, []string{"pan.bottom_length", "pan.bottom_width"}, fields(err))
	_, err = molder.PieceForPan{KnownPiece: 450, KnownPan: straight, Pan: in.Pan}.Solve()
	assert.Equal(t, []string{"pan.bottom_length", "pan.bottom_width"}, fields(err))
	in.Pan.BottomLength, in.Pan.BottomWidth = 250, 120.1
	_, err = in.Solve()
	assert.Equal(t, []string{"pan.bottom_width"}, fields(err))
	in.Pan.BottomWidth = 120
	_, err = in.Solve()
	assert.NoError(t, err, "straight sides, said twice")
}

func TestPieceForPanWithinWhatItGoesBackTo(t *testing.T) {
	var none *reckon.NoSolutionError
	// 450 g in 1.6 l; 10 kg go into 35.56 l, and 4000 l would take over a tonne.
	_, err := molder.PieceForPan{KnownPiece: 450, KnownPan: straight, Pan: molder.Pan{Length: 2000, Width: 2000, Depth: 1000}}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"3.556 ml", "35.56 l"}, [2]string{none.Low, none.High})
}

func TestPanRefuses(t *testing.T) {
	_, err := molder.PanFit{Pan: molder.Pan{BottomLength: 5}}.Solve()
	assert.Equal(t, []string{
		"piece", "density", "length", "pan.length", "pan.width", "pan.depth", "pan.bottom_length", "pan.bottom_width",
		"growth", "fill_low", "fill_high",
	}, fields(err))
	in := loaf
	in.Length, in.FillHigh = 190, 70
	_, err = in.Solve()
	assert.Equal(t, []string{"length", "fill_high"}, fields(err))
	_, err = molder.PieceForPan{}.Solve()
	assert.Equal(t, []string{"known_piece", "known_pan.length", "known_pan.width", "known_pan.depth", "pan.length", "pan.width", "pan.depth"}, fields(err))
}

func ExamplePanFit() {
	out, _ := molder.PanFit{
		Piece: unit.Grams(450), Density: unit.GramsPerMillilitre(1.1), Length: unit.Millimetres(170),
		Pan:    molder.Pan{Length: unit.Millimetres(200), Width: unit.Millimetres(100), Depth: unit.Millimetres(80), BottomLength: unit.Millimetres(180), BottomWidth: unit.Millimetres(80)},
		Growth: 2.6, FillLow: 70, FillHigh: 95, Measured: true,
	}.Solve()
	fmt.Printf("The pan holds %v; proofed, the piece fills %.0f %% of it.\n", out.Volume, float64(out.Fill))
	// Output:
	// The pan holds 1.371 l; proofed, the piece fills 78 % of it.
}

func ExamplePieceForPan() {
	small := molder.Pan{Length: unit.Inches(8), Width: unit.Inches(3.5), Depth: unit.Inches(3)}
	large := molder.Pan{Length: unit.Inches(9), Width: unit.Inches(4), Depth: unit.Inches(4)}
	out, _ := molder.PieceForPan{KnownPiece: unit.Grams(450), KnownPan: small, Pan: large}.Solve()
	fmt.Printf("Scale %v for the larger pan.\n", out.Piece)
	// Output:
	// Scale 771.4 g for the larger pan.
}

func FuzzPan(f *testing.F) {
	f.Add(450.0, 1.1, 170.0, 200.0, 100.0, 80.0, 180.0, 80.0, 2.6)
	f.Fuzz(func(t *testing.T, m, rho, l, a, b, h, c, d, growth float64) {
		pan := molder.Pan{Length: unit.Length(a), Width: unit.Length(b), Depth: unit.Length(h), BottomLength: unit.Length(c), BottomWidth: unit.Length(d)}
		if out, err := (molder.PanFit{Piece: unit.Mass(m), Density: unit.Density(rho), Length: unit.Length(l), Pan: pan, Growth: growth, FillLow: 70, FillHigh: 95}).Solve(); err == nil {
			finite(t, out)
			assert.GreaterOrEqual(t, out.Clearance, unit.Length(0))
		}
		if out, err := (molder.PieceForPan{KnownPiece: unit.Mass(m), KnownPan: pan, Pan: straight}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
