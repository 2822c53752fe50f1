package molder_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/molder"
)

// A cup filled exactly as far as the trials went is good, and no drum is smaller or larger than its equal.
func TestDrumAtTheEndsOfItsRange(t *testing.T) {
	q := molder.DrumChoice{
		Piece: 100, Density: 1.1, CupRatioLow: 0.5, CupRatioHigh: 1, Calibrated: true,
		Drums: []molder.Drum{{Name: "one", Cup: 75}, {Name: "its equal", Cup: 75}},
	}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "one", out.Name, "the first of two that are as good")
	assert.Zero(t, out.Smaller)
	assert.Zero(t, out.Larger)
	for _, ends := range [][2]float64{{0.5, out.CupRatio}, {out.CupRatio, 1}} {
		q.CupRatioLow, q.CupRatioHigh = ends[0], ends[1]
		at, err := q.Solve()
		require.NoError(t, err)
		assert.Zero(t, at.Conditions, "%v", ends)
	}
}

// Of belts that leave the same gap the first is named.
func TestBeltTrainNamesTheFirstOfTheTightest(t *testing.T) {
	belt := molder.Belt{Name: "belt", BeltSpeed: 250, PieceLength: 100}
	out, err := molder.BeltTrain{PieceRate: 60, Belts: []molder.Belt{{Name: "wide", BeltSpeed: 300, PieceLength: 100}, belt, belt}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 1, out.Tightest)
}

// What two values say together is said only where both are known.
func TestNothingFollowsFromWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		want []string
		q    interface{ Check(c *reckon.Checks) }
	}{
		{[]string{"part"}, molder.PartCare{Part: "wheel", Materials: []molder.Material{molder.Plastic}, ThinWalled: true}},
		{[]string{"die"}, molder.StampRate{PieceRate: 60, Across: 2, Die: "wheel", Spin: molder.SpinOn, Contact: 25}},
		{[]string{"spin"}, molder.StampRate{PieceRate: 60, Across: 2, Die: molder.StillDie, Spin: "round", Contact: 25}},
		{[]string{"piece_rate"}, molder.BeltForDoubles{PerHourLimit: 1, PieceLength: 100, SD: 0.2}},
		{[]string{"piece_rate", "per_hour_limit"}, molder.BeltForDoubles{PieceLength: 100, SD: 0.2}},
		{[]string{"belts[0].belt_speed", "belts[0].advance_per_stroke"}, molder.BeltTrain{PieceRate: 60, Belts: []molder.Belt{{Name: "both", BeltSpeed: 20000, AdvancePerStroke: 100, PieceLength: 70}}}},
		{[]string{"belts[0].advance_per_stroke"}, molder.BeltTrain{PieceRate: 60, Belts: []molder.Belt{{Name: "both", BeltSpeed: 200, AdvancePerStroke: 100, PieceLength: 70}}}},
		{[]string{"trials[0].piece"}, molder.ChainFromTrials{Names: []string{"one"}, Trials: []molder.ChainTrial{{Verdict: molder.Good}}}},
		{[]string{"trials", "trials[0].height"}, molder.ChainFromTrials{Names: []string{"one"}, Trials: []molder.ChainTrial{{Height: 1, Piece: 50, Verdict: molder.Good}}}},
	} {
		var got reckon.Checks
		c.q.Check(&got)
		assert.ElementsMatch(t, c.want, fields(got.Err()), "%+v", c.q)
	}
}
