package molder_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// The count against laying the pieces down one by one.
func TestLongPiecesAreLaidOneByOne(t *testing.T) {
	row := func(tray, piece, gap unit.Length) (n int) {
		for end := gap + piece + gap; end <= tray+1e-6; end += piece + gap {
			n++
		}
		return n
	}
	r := rand.New(rand.NewPCG(6, 6))
	for range 500 {
		q := molder.LongTrayFit{
			PieceLength: between[unit.Length](r, 40, 500), Length: between[unit.Length](r, 400, 900), Width: between[unit.Length](r, 300, 700),
			SideGap: between[unit.Length](r, 1, 40), EndGap: between[unit.Length](r, 1, 40),
		}
		q.PieceWidth = q.PieceLength * between[unit.Length](r, 0.15, 1)
		along := row(q.Length, q.PieceLength, q.EndGap) * row(q.Width, q.PieceWidth, q.SideGap)
		across := row(q.Width, q.PieceLength, q.EndGap) * row(q.Length, q.PieceWidth, q.SideGap)
		out, err := q.Solve()
		if along+across == 0 {
			var none *reckon.NoSolutionError
			require.ErrorAs(t, err, &none)
			continue
		}
		require.NoError(t, err)
		assert.Equal(t, [3]int{along, across, max(along, across)}, [3]int{out.Along, out.Across, out.Pieces}, "%+v", q)
		assert.Equal(t, out.Pieces, out.EndToEnd*out.SideBySide)
		assert.Equal(t, across > along, out.Lying == "across")
	}
}

func TestLongTrayGoesBack(t *testing.T) {
	for _, in := range []molder.LongPieceForTray{
		{EndToEnd: 2, SideBySide: 6, Length: 600, Width: 400, SideGap: 25, EndGap: 15},
		{EndToEnd: 1, SideBySide: 9, Length: 780, Width: 580, SideGap: 30},
		{EndToEnd: 3, SideBySide: 7, Length: 600, Width: 400},
	} {
		out, err := in.Solve()
		require.NoError(t, err)
		back, err := molder.LongTrayFit{PieceLength: out.PieceLength, PieceWidth: out.PieceWidth, Length: in.Length, Width: in.Width, SideGap: in.SideGap, EndGap: in.EndGap}.Solve()
		require.NoError(t, err)
		assert.Equal(t, in.EndToEnd*in.SideBySide, back.Along)
	}
}

func TestLongTrayRefuses(t *testing.T) {
	_, err := molder.LongTrayFit{SideGap: -1, EndGap: -1}.Solve()
	assert.Equal(t, []string{"piece_length", "piece_width", "length", "width", "side_gap", "end_gap"}, fields(err))
	_, err = molder.LongTrayFit{PieceLength: 50, PieceWidth: 60, Length: 600, Width: 400}.Solve()
	assert.Equal(t, []string{"piece_width"}, fields(err))
	_, err = molder.LongPieceForTray{}.Solve()
	assert.Equal(t, []string{"end_to_end", "side_by_side", "length", "width"}, fields(err))
	for _, q := range []molder.LongPieceForTray{
		{EndToEnd: 100, SideBySide: 1, Length: 600, Width: 400, EndGap: 10},
		{EndToEnd: 5, SideBySide: 1, Length: 600, Width: 400},
		{EndToEnd: 1, SideBySide: 1, Length: 3000, Width: 400},
	} {
		var none *reckon.NoSolutionError
		_, err = q.Solve()
		require.ErrorAs(t, err, &none)
	}
}

func ExampleLongTrayFit() {
	out, _ := molder.LongTrayFit{
		PieceLength: unit.Millimetres(180), PieceWidth: unit.Millimetres(60), Length: unit.Millimetres(600), Width: unit.Millimetres(400),
		SideGap: unit.Millimetres(25), EndGap: unit.Millimetres(15),
	}.Solve()
	fmt.Printf("%d pieces, %s the tray: %d by %d.\n", out.Pieces, out.Lying, out.EndToEnd, out.SideBySide)
	// Output:
	// 12 pieces, along the tray: 3 by 4.
}

func ExampleLongPieceForTray() {
	out, _ := molder.LongPieceForTray{
		EndToEnd: 2, SideBySide: 6, Length: unit.Millimetres(600), Width: unit.Millimetres(400), SideGap: unit.Millimetres(16), EndGap: unit.Millimetres(15),
	}.Solve()
	fmt.Printf("Proofed pieces up to %v long and %v wide.\n", out.PieceLength, out.PieceWidth)
	// Output:
	// Proofed pieces up to 277.5 mm long and 48 mm wide.
}
