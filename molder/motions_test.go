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

// Each way of rounding names its own control, and turning that control the way
// its sentence says brings the piece into the range that was good.
func TestAdviceOnRoundingFitsTheWay(t *testing.T) {
	cup := molder.RoundingMotions{Rows: 4, Strokes: 24, Speed: 60, GoodLow: 15, GoodHigh: 30}
	out, err := cup.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.FewMotions, out.Conditions, "10 motions")
	assert.Contains(t, out.Conditions.Sentences()[0], "run the rounder faster")
	assert.NotContains(t, out.Conditions.Sentences()[0], "drum")
	cup.Speed = 120
	out, err = cup.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions, "faster rounds more: 20 motions")
	cup.Speed = 240
	out, err = cup.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.ManyMotions, out.Conditions, "40 motions")
	assert.Contains(t, out.Conditions.Sentences()[0], "run the rounder slower")
	cup.Speed, cup.Strokes = 60, 12
	out, err = cup.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions, "a slower line does the same: 20 motions")

	track := molder.RoundingTime{Diameter: 800, DrumSpeed: 40, Path: 1250, Travel: molder.Carried, GoodLow: 1, GoodHigh: 3}
	short, err := track.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.UnderRounded, short.Conditions, "0.75 s")
	assert.Contains(t, short.Conditions.Sentences()[0], "slow the drum")
	track.DrumSpeed = 20
	longer, err := track.Solve()
	require.NoError(t, err)
	assert.Zero(t, longer.Conditions, "slower rounds more: 1.5 s")
}

func TestMotionsAtTheEndsOfTheRange(t *testing.T) {
	for _, c := range []struct {
		id                 string
		motions, low, high float64
		want               molder.Conditions
	}{
		{"at the ends", 10, 10, 10, 0},
		{"only the lower end known", 100, 10, 0, 0},
		{"only the upper end known", 1, 0, 10, 0},
		{"below", 9.9, 10, 20, molder.FewMotions},
		{"above", 20.1, 10, 20, molder.ManyMotions},
		{"neither known", 9, 0, 0, reckon.Uncalibrated},
	} {
		out, err := molder.SpeedForMotions{Motions: c.motions, Rows: 3, Strokes: 17.3, GoodLow: c.low, GoodHigh: c.high}.Solve()
		require.NoError(t, err, c.id)
		assert.Equal(t, c.want, out.Conditions, c.id)
		back, err := molder.RoundingMotions{Rows: 3, Strokes: 17.3, Speed: out.Speed, GoodLow: c.low, GoodHigh: c.high}.Solve()
		require.NoError(t, err, c.id)
		same(t, c.motions, back.Motions, c.id)
		assert.Equal(t, c.want, back.Conditions, c.id)
	}
}

func TestMotionsNameEveryBadField(t *testing.T) {
	_, err := molder.RoundingMotions{GoodLow: 3, GoodHigh: 2}.Solve()
	assert.Equal(t, []string{"rows", "strokes", "speed", "good_high"}, fields(err))
	_, err = molder.RoundingMotions{Rows: 100, Strokes: 0.01, Speed: 60}.Solve()
	assert.Equal(t, []string{"strokes"}, fields(err), "a week in the cup")
	_, err = molder.SpeedForMotions{Motions: -1}.Solve()
	assert.Equal(t, []string{"motions", "rows", "strokes"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.SpeedForMotions{Motions: 500, Rows: 4, Strokes: 24}.Solve()
	require.ErrorAs(t, err, &none)
	// 10 s at 0.1 and at 1000 turns a minute.
	assert.Equal(t, [2]string{"0.01667", "166.7"}, [2]string{none.Low, none.High})
	_, err = molder.MotionsFromTrials{Trials: []molder.MotionTrial{{}, {Motions: 9, Verdict: molder.Good}}}.Solve()
	assert.Equal(t, []string{"trials[0].motions", "trials[0].verdict"}, fields(err))
	_, err = molder.MotionsFromTrials{Trials: []molder.MotionTrial{{Motions: 9, Verdict: molder.Good}, {Motions: 9, Verdict: molder.Good}}}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.MotionsFromTrials{Trials: []molder.MotionTrial{
		{Motions: 9, Verdict: molder.Good}, {Motions: 20, Verdict: molder.Good}, {Motions: 15, Verdict: molder.TooMuch},
	}}.Solve()
	assert.ErrorAs(t, err, &none, "15 motions lie among the good ones")
}

func ExampleRoundingMotions() {
	out, _ := molder.RoundingMotions{
		Rows: 4, Strokes: unit.StrokesPerMinute(24), Speed: unit.RevolutionsPerMinute(60), GoodLow: 15, GoodHigh: 30,
	}.Solve()
	fmt.Printf("The piece is in its cup for %v and worked %.0f times.\n", out.Time, out.Motions)
	fmt.Println(out.Conditions.Sentences()[0])
	// Output:
	// The piece is in its cup for 10 s and worked 10 times.
	// The piece is worked in its cup by fewer motions than your trials call for: run the rounder faster; a slower line does the same.
}

func ExampleSpeedForMotions() {
	out, _ := molder.SpeedForMotions{Motions: 20, Rows: 4, Strokes: unit.StrokesPerMinute(24)}.Solve()
	fmt.Printf("Run the rounder at %v.\n", out.Speed)
	// Output:
	// Run the rounder at 120 rev/min.
}

func ExampleMotionsFromTrials() {
	out, _ := molder.MotionsFromTrials{Trials: []molder.MotionTrial{
		{Motions: 8, Verdict: molder.TooLittle},
		{Motions: 15, Verdict: molder.Good},
		{Motions: 28, Verdict: molder.Good},
		{Motions: 40, Verdict: molder.TooMuch},
	}}.Solve()
	fmt.Printf("Round this dough by %v to %v motions.\n", out.GoodLow, out.GoodHigh)
	// Output:
	// Round this dough by 15 to 28 motions.
}

func FuzzMotions(f *testing.F) {
	f.Add(4, 24.0, 120.0, 20.0)
	f.Fuzz(func(t *testing.T, rows int, strokes, speed, motions float64) {
		if out, err := (molder.RoundingMotions{Rows: rows, Strokes: unit.StrokeRate(strokes), Speed: unit.RotationRate(speed), GoodLow: motions}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.SpeedForMotions{Motions: motions, Rows: rows, Strokes: unit.StrokeRate(strokes)}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
