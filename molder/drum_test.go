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

var roundingRoom = molder.DrumChoice{
	Piece: unit.Ounces(3), Density: 1.1, CupRatioLow: 0.65, CupRatioHigh: 0.85,
	Drums: []molder.Drum{{Name: "large", Cup: 95}, {Name: "small", Cup: 55}, {Name: "middle", Cup: 72}},
}

func TestDrumChoiceShowsBothNeighbours(t *testing.T) {
	out, err := roundingRoom.Solve()
	require.NoError(t, err)
	assert.Equal(t, "middle", out.Name)
	assert.Equal(t, 2, out.Drum)
	assert.Equal(t, "small", out.Smaller.Name)
	assert.Equal(t, 1, out.Smaller.Drum)
	assert.Equal(t, "large", out.Larger.Name)
	assert.Greater(t, out.Smaller.CupRatio, out.CupRatio)
	assert.Less(t, out.Larger.CupRatio, out.CupRatio)
	assert.Equal(t, molder.Conditions(reckon.Uncalibrated), out.Conditions)
	assert.True(t, out.Cautions.Has(reckon.LockedOut|reckon.MovingMachinery))
}

// The choice never moves to a smaller drum as the piece grows.
func TestLargerPieceTakesLargerDrum(t *testing.T) {
	last := unit.Length(0)
	for m := 1.0; m < 490; m *= 1.01 { // a ball of 494 g fills a cup of 95 mm
		in := roundingRoom
		in.Piece = unit.Grams(m)
		out, err := in.Solve()
		require.NoError(t, err)
		cup := in.Drums[out.Drum].Cup
		require.GreaterOrEqual(t, cup, last, "at %v g", m)
		last = cup
	}
	assert.Equal(t, unit.Length(95), last)
}

// A ball of 30 g of 1 g/ml is 38.55 mm across: by hand, cbrt(6*30000/pi).
func TestBallWiderThanTheCupIsRefused(t *testing.T) {
	q := molder.DrumChoice{Piece: 30, Density: 1, CupRatioLow: 0.8, CupRatioHigh: 0.95, Drums: []molder.Drum{{Name: "tiny", Cup: 25}, {Name: "small", Cup: 38}}}
	_, err := q.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Empty(t, none.Low)
	assert.Equal(t, "28.73 g", none.High, "a ball of 38 mm")
	for _, want := range []string{"does not go into the largest cup, 38 mm (small)", "cups of 40.58 mm to 48.19 mm would suit it"} {
		assert.ErrorContains(t, err, want)
	}
	q.Drums[1].Cup = unit.Length(38.6)
	out, err := q.Solve()
	require.NoError(t, err, "it just goes in")
	assert.Equal(t, "small", out.Name)
	assert.True(t, out.Conditions.Has(molder.DrumTooSmall))
	_, err = molder.DrumChoice{Piece: 10000, Density: 0.1, CupRatioLow: 0.5, CupRatioHigh: 0.9, Drums: q.Drums}.Solve()
	assert.ErrorContains(t, err, "no drum has cups that large")
}

// No drum is named that cannot take the piece, and none is advised that is not there.
func TestNoAdviceNamesADrumThatCannotTakeThePiece(t *testing.T) {
	for m := 1.0; m < 490; m *= 1.003 {
		q := roundingRoom
		q.Piece = unit.Grams(m)
		out, err := q.Solve()
		require.NoError(t, err)
		ball := float64(out.Diameter)
		require.LessOrEqual(t, out.CupRatio, 1.0)
		require.LessOrEqual(t, out.Smaller.CupRatio, 1.0)
		require.LessOrEqual(t, out.Larger.CupRatio, 1.0)
		takes, loose := 0, 0
		for _, d := range q.Drums {
			if r := ball / float64(d.Cup); r <= 1 {
				takes++
				if r < q.CupRatioLow {
					loose++
				}
			}
		}
		if out.Conditions.Has(molder.BetweenDrums) {
			require.Greater(t, takes, 1, "%v g: there are not two drums that take it", m)
		}
		if out.Conditions.Has(molder.DrumTooLarge) {
			require.Equal(t, takes, loose, "%v g: a smaller drum takes it", m)
			require.Zero(t, out.Smaller.Name)
		}
		if out.Conditions.Has(molder.DrumTooSmall) {
			require.Zero(t, out.Larger.Name)
		}
	}
	// 60 mm in 80 mm is loose; the next smaller cup of 55 mm cannot take it, so it is not said to lie between the two.
	out, err := molder.DrumChoice{
		Piece: 113, Density: 1, CupRatioLow: 0.8, CupRatioHigh: 0.95, Calibrated: true,
		Drums: []molder.Drum{{Name: "S", Cup: 55}, {Name: "M", Cup: 80}},
	}.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.DrumTooLarge, out.Conditions)
	assert.Zero(t, out.Smaller)
	for _, says := range out.Conditions.Sentences() {
		assert.NotContains(t, says, "next smaller")
	}
}

func TestWhatComesOutIsTheDrumsOwn(t *testing.T) {
	q := roundingRoom
	q.Drums = []molder.Drum{{Name: "rolls", Cup: 72}, {Name: "bread", Cup: 140, TakesOut: []string{"chutes", "brush"}}}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Empty(t, out.TakesOut)
	q.Piece = 800
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []string{"chutes", "brush"}, out.TakesOut)
}

func TestPieceForDrumGoesBack(t *testing.T) {
	for _, cup := range []unit.Length{40, 72, 150} {
		back, err := molder.PieceForDrum{Cup: cup, Density: 1.1, CupRatioLow: 0.65, CupRatioHigh: 0.85, Calibrated: true}.Solve()
		require.NoError(t, err)
		assert.Zero(t, back.Conditions)
		for _, end := range []struct {
			m    unit.Mass
			fill float64
		}{{back.Low, 0.65}, {back.High, 0.85}} {
			out, err := molder.DrumChoice{Piece: end.m, Density: 1.1, CupRatioLow: 0.6, CupRatioHigh: 0.9, Drums: []molder.Drum{{Name: "only", Cup: cup}}}.Solve()
			require.NoError(t, err)
			same(t, end.fill, out.CupRatio, "fill")
			assert.Zero(t, out.Smaller)
			assert.Zero(t, out.Larger)
		}
	}
}

func TestPieceForDrumNamesWhatIsReached(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.PieceForDrum{Cup: 500, Density: 1, CupRatioLow: 0.5, CupRatioHigh: 1}.Solve()
	require.ErrorAs(t, err, &none)
	// Balls of 1 g and 10 kg of 1 g/ml are 12.41 mm and 267.3 mm thick.
	assert.Equal(t, [2]string{"0.1", "0.5346"}, [2]string{none.Low, none.High})
	_, err = molder.PieceForDrum{Cup: 50, Density: 1, CupRatioLow: 0.2, CupRatioHigh: 1}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"0.2481", "1"}, [2]string{none.Low, none.High})
}

func TestDrumChoiceNamesEveryBadField(t *testing.T) {
	_, err := molder.DrumChoice{Piece: unit.Mass(math.NaN()), CupRatioLow: 0, CupRatioHigh: 3}.Solve()
	assert.Equal(t, []string{"piece", "density", "drums", "cup_ratio_low", "cup_ratio_high"}, fields(err))
	_, err = molder.DrumChoice{Piece: 85, Density: 1.1, CupRatioLow: 0.65, CupRatioHigh: 0.85, Drums: []molder.Drum{
		{Name: "a", Cup: 72, TakesOut: []string{"brush", ""}}, {Name: "b", Cup: 72, TakesOut: make([]string, 21)},
	}}.Solve()
	assert.Equal(t, []string{"drums[0].takes_out[1]", "drums[1].takes_out"}, fields(err))
	_, err = molder.PieceForDrum{Cup: 1, Density: 2, CupRatioLow: 0.9, CupRatioHigh: 0.9}.Solve()
	assert.Equal(t, []string{"cup", "density", "cup_ratio_high"}, fields(err))
}

func ExampleDrumChoice() {
	out, _ := molder.DrumChoice{
		Piece: unit.Ounces(3), Density: unit.KilogramsPerCubicMetre(1100),
		Drums:       []molder.Drum{{Name: "small", Cup: unit.Millimetres(55)}, {Name: "middle", Cup: unit.Millimetres(72)}, {Name: "large", Cup: unit.Millimetres(95)}},
		CupRatioLow: 0.65, CupRatioHigh: 0.85,
	}.Solve()
	fmt.Printf("The piece is a ball of %v.\n", out.Diameter)
	fmt.Printf("Put on the %s drum: the ball fills %.0f %% of the cup.\n", out.Name, 100*out.CupRatio)
	fmt.Printf("In the %s drum it would fill %.0f %%, in the %s drum %.0f %%.\n", out.Smaller.Name, 100*out.Smaller.CupRatio, out.Larger.Name, 100*out.Larger.CupRatio)
	// Output:
	// The piece is a ball of 52.86 mm.
	// Put on the middle drum: the ball fills 73 % of the cup.
	// In the small drum it would fill 96 %, in the large drum 56 %.
}

func ExamplePieceForDrum() {
	out, _ := molder.PieceForDrum{Cup: unit.Millimetres(72), Density: unit.GramsPerMillilitre(1.1), CupRatioLow: 0.65, CupRatioHigh: 0.85}.Solve()
	fmt.Printf("This drum rounds pieces of %v to %v.\n", out.Low, out.High)
	// Output:
	// This drum rounds pieces of 59.04 g to 132 g.
}

func FuzzDrumChoice(f *testing.F) {
	f.Add(85.0, 1.1, 55.0, 72.0, 0.65, 0.85)
	f.Fuzz(func(t *testing.T, m, rho, cup1, cup2, low, high float64) {
		in := molder.DrumChoice{
			Piece: unit.Mass(m), Density: unit.Density(rho), CupRatioLow: low, CupRatioHigh: high,
			Drums: []molder.Drum{{Name: "a", Cup: unit.Length(cup1)}, {Name: "b", Cup: unit.Length(cup2)}},
		}
		if out, err := in.Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.PieceForDrum{Cup: unit.Length(cup1), Density: unit.Density(rho), CupRatioLow: low, CupRatioHigh: high}).Solve(); err == nil {
			finite(t, out)
		}
	})
}

// The range found in trials must call its own good pieces good and its own bad pieces bad.
func TestCupRatioFromTrialsServesDrumChoice(t *testing.T) {
	trials := []molder.CupTrial{
		{Piece: 150, Cup: 72, Verdict: molder.TooMuch},
		{Piece: 60, Cup: 72, Verdict: molder.Good},
		{Piece: 45, Cup: 72, Verdict: molder.TooLittle},
		{Piece: 120, Cup: 72, Verdict: molder.Good},
	}
	fill, err := molder.CupRatioFromTrials{Density: 1.1, Trials: trials}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, fill.Good)
	for _, trial := range trials {
		out, err := molder.DrumChoice{
			Piece: trial.Piece, Density: 1.1, Drums: []molder.Drum{{Name: "72", Cup: 72}},
			CupRatioLow: fill.CupRatioLow, CupRatioHigh: fill.CupRatioHigh, Calibrated: true,
		}.Solve()
		require.NoError(t, err)
		want := map[molder.Verdict]molder.Conditions{molder.Good: 0, molder.TooLittle: molder.DrumTooLarge, molder.TooMuch: molder.DrumTooSmall}
		assert.Equal(t, want[trial.Verdict], out.Conditions, "%v", trial.Piece)
	}
}

func ExampleCupRatioFromTrials() {
	out, _ := molder.CupRatioFromTrials{Density: unit.GramsPerMillilitre(1.1), Trials: []molder.CupTrial{
		{Piece: unit.Grams(45), Cup: unit.Millimetres(72), Verdict: molder.TooLittle},
		{Piece: unit.Grams(60), Cup: unit.Millimetres(72), Verdict: molder.Good},
		{Piece: unit.Grams(120), Cup: unit.Millimetres(72), Verdict: molder.Good},
	}}.Solve()
	fmt.Printf("Pieces round well that fill %.0f to %.0f %% of the cup.\n", 100*out.CupRatioLow, 100*out.CupRatioHigh)
	// Output:
	// Pieces round well that fill 65 to 82 % of the cup.
}
