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

func TestRoundingTimeGoesBack(t *testing.T) {
	for _, travel := range []molder.Travel{molder.Carried, molder.Rolling} {
		for _, speed := range []unit.RotationRate{3, 20, 61.7} {
			out, err := molder.RoundingTime{Diameter: 800, DrumSpeed: speed, Path: 1250, Travel: travel}.Solve()
			require.NoError(t, err)
			back, err := molder.DrumSpeedForRoundingTime{Time: out.Time, Diameter: 800, Path: 1250, Travel: travel}.Solve()
			require.NoError(t, err)
			same(t, speed, back.DrumSpeed, "speed")
			same(t, out.Surface, back.Surface, "surface")
			assert.Equal(t, molder.Conditions(reckon.Uncalibrated), back.Conditions)
		}
	}
}

func TestRoundingConditions(t *testing.T) {
	for _, c := range []struct {
		id              string
		time, low, high unit.Duration
		want            molder.Conditions
	}{
		{"inside", 2, 1, 3, 0},
		{"at the ends", 1, 1, 1, 0},
		{"short", 0.9, 1, 3, molder.UnderRounded},
		{"long", 3.1, 1, 3, molder.OverRounded},
		{"only the lower end known", 30, 1, 0, 0},
		{"only the upper end known", 0.1, 0, 3, 0},
		{"neither known", 2, 0, 0, reckon.Uncalibrated},
	} {
		out, err := molder.DrumSpeedForRoundingTime{
			Time: c.time, Diameter: 800, Path: 1250, Travel: molder.Carried, GoodLow: c.low, GoodHigh: c.high,
		}.Solve()
		require.NoError(t, err, c.id)
		assert.Equal(t, c.want, out.Conditions, c.id)
	}
}

// Drums that do not turn so are not asked for, and times that nobody rounds are not told.
func TestRoundingWithinWhatDrumsDo(t *testing.T) {
	var none *reckon.NoSolutionError
	fast := molder.DrumSpeedForRoundingTime{Time: 0.05, Diameter: 10, Path: 100000, Travel: molder.Rolling}
	_, err := fast.Solve()
	require.ErrorAs(t, err, &none)
	// 100 m at half of pi * 10 mm * 1000 rev/min: 382 s, and at 0.1 rev/min longer than 600 s.
	assert.Equal(t, [2]string{unit.Duration(381.972).String(), unit.Duration(600).String()}, [2]string{none.Low, none.High})
	fast.Time = 383
	_, err = fast.Solve()
	require.NoError(t, err)
	_, err = molder.DrumSpeedForRoundingTime{Time: 600, Diameter: 10000, Path: 10, Travel: molder.Carried}.Solve()
	require.ErrorAs(t, err, &none)
	// 10 mm at pi * 10 m * 0.1 rev/min: 0.191 s.
	assert.Equal(t, [2]string{unit.Duration(0.05).String(), unit.Duration(0.190986).String()}, [2]string{none.Low, none.High})
	_, err = molder.RoundingTime{Diameter: 10, DrumSpeed: 0.1, Path: 100000, Travel: molder.Carried}.Solve()
	assert.Equal(t, []string{"drum_speed"}, fields(err), "22 days")
	_, err = molder.RoundingTime{Diameter: 10000, DrumSpeed: 1000, Path: 10, Travel: molder.Carried}.Solve()
	assert.Equal(t, []string{"drum_speed"}, fields(err), "20 µs")
	_, err = molder.CupRatioFromTrials{Density: 1.1, Trials: []molder.CupTrial{
		{Piece: 60, Cup: 72, Verdict: molder.Good}, {Piece: 10000, Cup: 5, Verdict: molder.Good}, {Piece: 1, Cup: 500, Verdict: molder.Good},
	}}.Solve()
	assert.Equal(t, []string{"trials[1].cup", "trials[2].cup"}, fields(err), "fills that no drum is chosen by")
	_, err = molder.CupRatioFromTrials{Density: 1.1, Trials: []molder.CupTrial{
		{Piece: 60, Cup: 72, Verdict: molder.Good}, {Piece: 300, Cup: 72, Verdict: molder.Good}, {Piece: 300, Cup: 72, Verdict: molder.TooMuch},
	}}.Solve()
	assert.Equal(t, []string{"trials[1].verdict"}, fields(err), "a good ball of 80 mm in a cup of 72 mm")
}

func TestRoundingNamesEveryBadField(t *testing.T) {
	_, err := molder.RoundingTime{Travel: "sliding", GoodLow: 3, GoodHigh: 2}.Solve()
	assert.Equal(t, []string{"diameter", "path", "travel", "good_high", "drum_speed"}, fields(err))
	_, err = molder.DrumSpeedForRoundingTime{GoodLow: -1, GoodHigh: unit.Duration(math.NaN())}.Solve()
	assert.Equal(t, []string{"time", "diameter", "path", "travel", "good_low", "good_high"}, fields(err))
	_, err = molder.RoundingFromTrials{Trials: []molder.RoundingTrial{{}, {Time: 1, Verdict: molder.Good}}}.Solve()
	assert.Equal(t, []string{"trials[0].time", "trials[0].verdict"}, fields(err))
	_, err = molder.RoundingFromTrials{}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.CupRatioFromTrials{Trials: []molder.CupTrial{{}}}.Solve()
	assert.Equal(t, []string{"density", "trials[0].piece", "trials[0].cup", "trials[0].verdict"}, fields(err))
	_, err = molder.CupRatioFromTrials{Density: 1.1, Trials: []molder.CupTrial{{Piece: 60, Cup: 72, Verdict: molder.Good}, {Piece: 60, Cup: 72, Verdict: molder.Good}}}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err), "two pieces of one fill make no range")
	_, err = molder.CupRatioFromTrials{Density: 1.1, Trials: []molder.CupTrial{
		{Piece: 60, Cup: 72, Verdict: molder.Good}, {Piece: 90, Cup: 72, Verdict: molder.Good}, {Piece: 60, Cup: 72, Verdict: molder.TooLittle},
	}}.Solve()
	var none *reckon.NoSolutionError
	assert.ErrorAs(t, err, &none, "the same piece was good and too little")
}

func ExampleRoundingTime() {
	out, _ := molder.RoundingTime{
		Diameter: unit.Millimetres(800), DrumSpeed: unit.RevolutionsPerMinute(20), Path: unit.Millimetres(1250),
		Travel: molder.Carried, GoodLow: unit.Seconds(2), GoodHigh: unit.Seconds(3),
	}.Solve()
	fmt.Printf("The piece is rounded for %.2f s.\n", out.Time.Seconds())
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// The piece is rounded for 1.49 s.
	// The piece is rounded less than your trials call for: slow the drum or lengthen the travel.
}

func ExampleDrumSpeedForRoundingTime() {
	out, _ := molder.DrumSpeedForRoundingTime{
		Time: unit.Seconds(2.5), Diameter: unit.Millimetres(800), Path: unit.Millimetres(1250), Travel: molder.Carried,
	}.Solve()
	fmt.Printf("Run the drum at %v.\n", out.DrumSpeed)
	// Output:
	// Run the drum at 11.94 rev/min.
}

func ExampleRoundingFromTrials() {
	out, _ := molder.RoundingFromTrials{Trials: []molder.RoundingTrial{
		{Time: unit.Seconds(1), Verdict: molder.TooLittle},
		{Time: unit.Seconds(1.5), Verdict: molder.Good},
		{Time: unit.Seconds(2.5), Verdict: molder.Good},
		{Time: unit.Seconds(4), Verdict: molder.TooMuch},
	}}.Solve()
	fmt.Printf("Round this dough for %v s to %v s.\n", out.GoodLow.Seconds(), out.GoodHigh.Seconds())
	// Output:
	// Round this dough for 1.5 s to 2.5 s.
}

func FuzzRounding(f *testing.F) {
	f.Add(800.0, 20.0, 1250.0, 1.0, 3.0, true)
	f.Fuzz(func(t *testing.T, d, speed, path, a, b float64, carried bool) {
		travel := molder.Rolling
		if carried {
			travel = molder.Carried
		}
		if out, err := (molder.RoundingTime{Diameter: unit.Length(d), DrumSpeed: unit.RotationRate(speed), Path: unit.Length(path), Travel: travel}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.DrumSpeedForRoundingTime{Time: unit.Duration(a), Diameter: unit.Length(d), Path: unit.Length(path), Travel: travel}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.RoundingFromTrials{Trials: []molder.RoundingTrial{{Time: unit.Duration(a), Verdict: molder.Good}, {Time: unit.Duration(b), Verdict: molder.Good}}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
