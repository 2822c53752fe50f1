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

func TestStampsGoBack(t *testing.T) {
	for _, rate := range []unit.PieceRate{7, 60, 133.3} {
		for across := 1; across <= 4; across++ {
			out, err := molder.StampRate{PieceRate: rate, Across: across, Die: molder.StillDie, Spin: molder.SpinOff, Contact: 25}.Solve()
			require.NoError(t, err)
			assert.Zero(t, out.Head)
			same(t, float64(out.StampInterval)*0.25, float64(out.Dwell), "dwell")
			back, err := molder.RateForStamps{Stamps: out.Stamps, Across: across}.Solve()
			require.NoError(t, err)
			same(t, rate, back.PieceRate, "rate")
		}
	}
}

// The speeds named keep step to the very end, and no others do.
func TestStampsForRunGoBack(t *testing.T) {
	for _, run := range []unit.Duration{60, 300, 3600} {
		limits, err := molder.StampsForRun{PieceRate: 60, Across: 2, RunTime: run, Window: 10}.Solve()
		require.NoError(t, err)
		for _, c := range []struct {
			stamps unit.StrokeRate
			want   molder.Conditions
		}{
			{limits.Low, 0},
			{limits.High, 0},
			{30, 0},
			{limits.Low * 0.9999, molder.OutOfStep},
			{limits.High * 1.0001, molder.OutOfStep},
		} {
			out, err := molder.StampDrift{Mode: molder.ContinuousStamp, Stamps: c.stamps, PieceRate: 60, Across: 2, RunTime: run, Window: 10}.Solve()
			require.NoError(t, err)
			assert.Equal(t, c.want, out.Conditions, "%v over %v", c.stamps, run)
			if c.want == 0 {
				assert.Zero(t, out.Until)
			} else {
				assert.Less(t, out.Until, run)
				same(t, 0.1, float64(out.Until)/60*float64(max(out.GainRate, -out.GainRate)), "the window at that time")
			}
			assert.True(t, out.Cautions.Has(reckon.Interlocks))
		}
	}
	out, err := molder.StampsForRun{PieceRate: 1, Across: 2, RunTime: 1, Window: 50}.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Low, "so short a run may end before the first row")
}

func TestStampsNameWhatIsReached(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.RateForStamps{Stamps: 1000, Across: 20}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{unit.StrokeRate(0.0005).String(), unit.StrokeRate(500).String()}, [2]string{none.Low, none.High})
	_, err = molder.StampsForRun{PieceRate: 10000, Across: 1, RunTime: 1, Window: 50}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "9970 rows a minute", none.High, "half a row in a second is 30 in a minute")
}

func TestStampRefuses(t *testing.T) {
	_, err := molder.StampRate{StampsHigh: -1}.Solve()
	assert.Equal(t, []string{"piece_rate", "across", "die", "spin", "contact", "stamps_high"}, fields(err))
	_, err = molder.StampRate{PieceRate: 60, Across: 2, Die: molder.TurningDie, Spin: molder.SpinOn, Around: 51, Contact: 100}.Solve()
	assert.Equal(t, []string{"around", "contact"}, fields(err))
	_, err = molder.StampRate{PieceRate: 60, Across: 2, Die: molder.StillDie, Spin: molder.SpinOff, Around: -1, Contact: 25}.Solve()
	assert.Equal(t, []string{"around"}, fields(err))
	_, err = molder.RateForStamps{}.Solve()
	assert.Equal(t, []string{"stamps", "across"}, fields(err))
	_, err = molder.StampDrift{Window: 51}.Solve()
	assert.Equal(t, []string{"mode", "stamps", "piece_rate", "across", "run_time", "window"}, fields(err))
	_, err = molder.StampsForRun{}.Solve()
	assert.Equal(t, []string{"piece_rate", "across", "run_time", "window"}, fields(err))
}

func ExampleStampRate() {
	out, _ := molder.StampRate{PieceRate: unit.PiecesPerMinute(60), Across: 2, Die: molder.TurningDie, Spin: molder.SpinOn, Around: 3, Contact: 25}.Solve()
	fmt.Printf("Stamp at %v: the head turns at %v and each die is on the dough for %v s.\n", out.Stamps, out.Head, out.Dwell.Seconds())
	fmt.Println(out.Cautions.Sentences()[1])
	// Output:
	// Stamp at 30 strokes/min: the head turns at 10 rev/min and each die is on the dough for 0.5 s.
	// Never defeat a guard or an interlock; if one fails, stop the machine and call an authorised person.
}

func ExampleRateForStamps() {
	out, _ := molder.RateForStamps{Stamps: unit.StrokesPerMinute(30), Across: 2}.Solve()
	fmt.Printf("Thirty stamps a minute, two across, go with %v.\n", out.PieceRate)
	// Output:
	// Thirty stamps a minute, two across, go with 60 pieces/min.
}

func ExampleStampDrift() {
	out, _ := molder.StampDrift{
		Mode: molder.ContinuousStamp, Stamps: unit.StrokesPerMinute(30.2), PieceRate: unit.PiecesPerMinute(60), Across: 2,
		RunTime: unit.Minutes(5), Window: 10,
	}.Solve()
	fmt.Printf("The stamper gains %.1f rows a minute and misses the middle after %v.\n", out.GainRate, out.Until)
	// Output:
	// The stamper gains 0.2 rows a minute and misses the middle after 30 s.
}

func ExampleStampsForRun() {
	out, _ := molder.StampsForRun{PieceRate: unit.PiecesPerMinute(60), Across: 2, RunTime: unit.Minutes(60), Window: 10}.Solve()
	fmt.Printf("To keep step for an hour the speed must be right to %.4f %%: link the drives.\n", float64(out.SpeedTolerance))
	// Output:
	// To keep step for an hour the speed must be right to 0.0056 %: link the drives.
}

// Whether a die turns, whether the stamper spins it and how many dies sit around a head are three things.
func TestSpinMustSuitTheDie(t *testing.T) {
	for _, around := range []int{0, 1, 8} {
		for _, die := range []molder.Die{molder.StillDie, molder.TurningDie} {
			for _, spin := range []molder.Spin{molder.SpinOn, molder.SpinOff} {
				out, err := molder.StampRate{PieceRate: 60, Across: 2, Die: die, Spin: spin, Around: around, Contact: 25}.Solve()
				if (die == molder.TurningDie) != (spin == molder.SpinOn) {
					assert.Equal(t, []string{"spin"}, fields(err))
					assert.ErrorContains(t, err, string(die)+" die")
					continue
				}
				require.NoError(t, err)
				if around == 0 {
					assert.Zero(t, out.Head)
				} else {
					assert.InDelta(t, 30/float64(around), float64(out.Head), 1e-12)
				}
			}
		}
	}
	_, err := molder.StampDrift{Mode: molder.OffStamp, Stamps: 30, PieceRate: 60, Across: 2, RunTime: 60, Window: 10}.Solve()
	assert.Equal(t, []string{"mode"}, fields(err), "a stamper that is off does not drift")
}

func FuzzStamp(f *testing.F) {
	f.Add(60.0, 30.2, 25.0, 300.0, 10.0, 2, true)
	f.Fuzz(func(t *testing.T, rate, stamps, contact, run, window float64, across int, automatic bool) {
		mode, die, spin := molder.ContinuousStamp, molder.StillDie, molder.SpinOff
		if automatic {
			mode, die, spin = molder.TimedStamp, molder.TurningDie, molder.SpinOn
		}
		if out, err := (molder.StampRate{PieceRate: unit.PieceRate(rate), Across: across, Die: die, Spin: spin, Around: across, Contact: unit.Percent(contact), StampsHigh: unit.StrokeRate(stamps)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.StampDrift{Mode: mode, Stamps: unit.StrokeRate(stamps), PieceRate: unit.PieceRate(rate), Across: across, RunTime: unit.Duration(run), Window: unit.Percent(window)}).Solve(); err == nil {
			finite(t, out)
			assert.LessOrEqual(t, out.Until, unit.Duration(run))
		}
		if out, err := (molder.StampsForRun{PieceRate: unit.PieceRate(rate), Across: across, RunTime: unit.Duration(run), Window: unit.Percent(window)}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
