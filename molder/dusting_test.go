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

func TestFlourGoesBack(t *testing.T) {
	for lanes := 1; lanes <= 5; lanes++ {
		out, err := molder.FlourShare{FlourRate: 1.3, PieceRate: 60, Across: lanes, Belt: 200, Width: 520, PieceLength: 100}.Solve()
		require.NoError(t, err)
		back, err := molder.FlourForPiece{FlourPerPiece: out.FlourPerPiece, PieceRate: 60, Across: lanes, Belt: 200, Width: 520, PieceLength: 100}.Solve()
		require.NoError(t, err)
		same(t, unit.MassRate(1.3), back.FlourRate, "flour")
		same(t, out.OnBelt, back.OnBelt, "beside")
		// What falls on pieces and beside them is all the flour.
		onPieces := float64(out.FlourPerPiece) * 60 * float64(lanes) * 60 / 1000
		same(t, 1.3, onPieces+float64(out.OnBelt), "balance")
	}
}

// The even curtain of flour is a model until it was looked at.
func TestFlourIsUncalibratedUnlessMeasured(t *testing.T) {
	share := molder.FlourShare{FlourRate: 1.3, PieceRate: 60, Across: 2, Belt: 200, Width: 520, PieceLength: 100}
	duster := molder.FlourForPiece{FlourPerPiece: 0.05, PieceRate: 60, Across: 2, Belt: 200, Width: 520, PieceLength: 100}
	for _, measured := range []bool{false, true} {
		share.Measured, duster.Measured = measured, measured
		a, err := share.Solve()
		require.NoError(t, err)
		b, err := duster.Solve()
		require.NoError(t, err)
		var want molder.Conditions = reckon.Uncalibrated
		if measured {
			want = 0
		}
		assert.Equal(t, want, a.Conditions)
		assert.Equal(t, want, b.Conditions)
	}
}

func TestFlourWithinWhatDustersDrop(t *testing.T) {
	// One piece of 10 mm a minute on a belt 5 m wide: 1 kg of flour on it is a cubic order too much.
	_, err := molder.FlourForPiece{FlourPerPiece: 1000, PieceRate: 1, Across: 1, Belt: 200, Width: 5000, PieceLength: 10}.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	// 1000 kg/h * pi/4 * 100 / (12000 * 5000) over 60 pieces an hour.
	assert.Equal(t, unit.Mass(1e6*math.Pi/4*100/(12000*5000)/60).String(), none.High)
	_, err = molder.FlourShare{FlourRate: 1000, PieceRate: 0.01, Across: 1, Belt: 1, Width: 1000, PieceLength: 1000}.Solve()
	assert.Equal(t, []string{"flour_rate"}, fields(err))
}

func TestFlourRefuses(t *testing.T) {
	_, err := molder.FlourShare{}.Solve()
	assert.Equal(t, []string{"flour_rate", "piece_rate", "piece_length", "across", "belt", "width"}, fields(err))
	_, err = molder.FlourShare{FlourRate: 1, PieceRate: 60, Across: 6, Belt: 90, Width: 520, PieceLength: 100}.Solve()
	assert.Equal(t, []string{"belt", "width"}, fields(err))
	_, err = molder.FlourForPiece{}.Solve()
	assert.Equal(t, []string{"flour_per_piece", "piece_rate", "piece_length", "across", "belt", "width"}, fields(err))
}

func ExampleFlourShare() {
	out, _ := molder.FlourShare{
		FlourRate: unit.KilogramsPerHour(1), PieceRate: unit.PiecesPerMinute(60), Across: 2,
		Belt: unit.MetresPerMinute(12), Width: unit.Millimetres(500), PieceLength: unit.Millimetres(100),
	}.Solve()
	fmt.Printf("%.0f %% of the flour falls on dough, %.3f g on each piece; %v falls beside.\n", float64(out.Share), out.FlourPerPiece.Grams(), out.OnBelt)
	// Output:
	// 16 % of the flour falls on dough, 0.022 g on each piece; 0.8429 kg/h falls beside.
}

func ExampleFlourForPiece() {
	out, _ := molder.FlourForPiece{
		FlourPerPiece: unit.Grams(0.05), PieceRate: unit.PiecesPerMinute(60), Across: 2,
		Belt: unit.MetresPerMinute(12), Width: unit.Millimetres(500), PieceLength: unit.Millimetres(100),
	}.Solve()
	fmt.Printf("The duster drops %v.\n", out.FlourRate)
	// Output:
	// The duster drops 2.292 kg/h.
}

func FuzzFlour(f *testing.F) {
	f.Add(60.0, 250.0, 70.0, 500.0, 1.0, 2)
	f.Fuzz(func(t *testing.T, rate, belt, piece, width, flour float64, lanes int) {
		if out, err := (molder.FlourShare{FlourRate: unit.MassRate(flour), PieceRate: unit.PieceRate(rate), Across: lanes, Belt: unit.Speed(belt), Width: unit.Length(width), PieceLength: unit.Length(piece)}).Solve(); err == nil {
			finite(t, out)
			assert.LessOrEqual(t, out.Share, unit.Percent(100))
		}
		if out, err := (molder.FlourForPiece{FlourPerPiece: unit.Mass(flour), PieceRate: unit.PieceRate(rate), Across: lanes, Belt: unit.Speed(belt), Width: unit.Length(width), PieceLength: unit.Length(piece)}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
