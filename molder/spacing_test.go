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

func TestSpacingGoesBack(t *testing.T) {
	for _, belt := range []unit.Speed{200, 250, 1234.5} {
		for _, rate := range []unit.PieceRate{20, 33.3, 90} {
			out, err := molder.PieceSpacing{Belt: belt, PieceRate: rate, PieceLength: 100}.Solve()
			require.NoError(t, err)
			a, err := molder.BeltForGap{Gap: out.Gap, PieceRate: rate, PieceLength: 100}.Solve()
			require.NoError(t, err)
			same(t, belt, a.Belt, "belt")
			same(t, out.Pitch, a.Pitch, "pitch")
			b, err := molder.RateForGap{Gap: out.Gap, Belt: belt, PieceLength: 100}.Solve()
			require.NoError(t, err)
			same(t, rate, b.PieceRate, "rate")
			same(t, out.Pitch, b.Pitch, "pitch")
		}
	}
}

func TestSpacingNamesWhatIsReached(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.BeltForGap{Gap: 5000, PieceRate: 10000, PieceLength: 5000}.Solve()
	require.ErrorAs(t, err, &none, "100 km/min")
	assert.Empty(t, none.High, "at 10 m/s pieces of 5 m touch")
	_, err = molder.BeltForGap{Gap: 1000, PieceRate: 3000, PieceLength: 100}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"0 mm", "100 mm"}, [2]string{none.Low, none.High}, "10 m/s * 60 / 3000 - 100 mm")
	_, err = molder.BeltForGap{Gap: 1, PieceRate: 0.01, PieceLength: 1}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"599 mm", "100 m"}, [2]string{none.Low, none.High}, "0.1 mm/s * 60 / 0.01 - 1 mm")
	_, err = molder.RateForGap{Gap: 1, Belt: 10000, PieceLength: 1}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"59 mm", "100 m"}, [2]string{none.Low, none.High}, "10 m/s * 60 / 10000 - 1 mm")
	_, err = molder.RateForGap{Gap: 1000, Belt: 0.1, PieceLength: 1}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"0 mm", "599 mm"}, [2]string{none.Low, none.High})
	_, err = molder.PieceSpacing{Belt: 100, PieceRate: 0.01, PieceLength: 100}.Solve()
	assert.Equal(t, []string{"piece_rate"}, fields(err), "600 m apart")
}

func TestSpacingNamesEveryBadField(t *testing.T) {
	_, err := molder.PieceSpacing{LeastGap: -1}.Solve()
	assert.Equal(t, []string{"belt", "piece_rate", "piece_length", "least_gap"}, fields(err))
	_, err = molder.PieceSpacing{Belt: 100, PieceRate: 60, PieceLength: 100}.Solve()
	assert.ErrorContains(t, err, "more than 6 m/min", "pieces that touch are no gap")
	_, err = molder.BeltForGap{}.Solve()
	assert.Equal(t, []string{"gap", "piece_rate", "piece_length"}, fields(err))
	_, err = molder.RateForGap{}.Solve()
	assert.Equal(t, []string{"gap", "belt", "piece_length"}, fields(err))
}

func ExamplePieceSpacing() {
	out, _ := molder.PieceSpacing{
		Belt: unit.MetresPerMinute(15), PieceRate: unit.PiecesPerMinute(60), PieceLength: unit.Millimetres(100), LeastGap: unit.Millimetres(50),
	}.Solve()
	fmt.Printf("A piece every %v, with %v of free belt between.\n", out.Pitch, out.Gap)
	// Output:
	// A piece every 250 mm, with 150 mm of free belt between.
}

func ExampleBeltForGap() {
	out, _ := molder.BeltForGap{Gap: unit.Millimetres(150), PieceRate: unit.PiecesPerMinute(60), PieceLength: unit.Millimetres(100)}.Solve()
	fmt.Printf("Run the belt at %v.\n", out.Belt)
	// Output:
	// Run the belt at 15 m/min.
}

func ExampleRateForGap() {
	out, _ := molder.RateForGap{Gap: unit.Millimetres(150), Belt: unit.MetresPerMinute(15), PieceLength: unit.Millimetres(100)}.Solve()
	fmt.Printf("This belt takes %v.\n", out.PieceRate)
	// Output:
	// This belt takes 60 pieces/min.
}

func FuzzPieceSpacing(f *testing.F) {
	f.Add(250.0, 60.0, 100.0, 50.0)
	f.Fuzz(func(t *testing.T, belt, rate, piece, gap float64) {
		if out, err := (molder.PieceSpacing{Belt: unit.Speed(belt), PieceRate: unit.PieceRate(rate), PieceLength: unit.Length(piece), LeastGap: unit.Length(gap)}).Solve(); err == nil {
			finite(t, out)
			assert.Greater(t, out.Gap, unit.Length(0))
		}
		if out, err := (molder.BeltForGap{Gap: unit.Length(gap), PieceRate: unit.PieceRate(rate), PieceLength: unit.Length(piece)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.RateForGap{Gap: unit.Length(gap), Belt: unit.Speed(belt), PieceLength: unit.Length(piece)}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
