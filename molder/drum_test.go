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
	for m := 1.0; m < 5000; m *= 1.01 {
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
	assert.Equal(t, [2]string{"0.2481", "2"}, [2]string{none.Low, none.High})
}

func TestDrumChoiceNamesEveryBadField(t *testing.T) {
	_, err := molder.DrumChoice{Piece: unit.Mass(math.NaN()), CupRatioLow: 0, CupRatioHigh: 3}.Solve()
	assert.Equal(t, []string{"piece", "density", "drums", "cup_ratio_low", "cup_ratio_high"}, fields(err))
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
