package molder_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

func TestDoublesGoBack(t *testing.T) {
	for _, most := range []float64{0.01, 1, 30, 900} {
		for _, spread := range []unit.Duration{0.01, 0.08, 0.15} {
			back, err := molder.BeltForDoubles{PerHourLimit: most, PieceRate: 60, PieceLength: 100, SD: spread, Measured: true}.Solve()
			require.NoError(t, err)
			in := molder.DoublesRisk{Belt: back.Belt, PieceRate: 60, PieceLength: 100, SD: spread, PerHourLimit: most, Measured: true}
			out, err := in.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, most, out.PerHour, 1e-9)
			same(t, back.Pitch, out.Pitch, "pitch")
			want := distuv.Normal{Mu: 1, Sigma: float64(spread)}.CDF(100 / float64(back.Belt))
			assert.InEpsilon(t, want, out.Probability, 1e-9)
			in.Belt *= 0.997
			out, err = in.Solve()
			require.NoError(t, err)
			assert.Equal(t, molder.RiskOfDoubles, out.Conditions)
			in.Belt *= 1.01
			out, err = in.Solve()
			require.NoError(t, err)
			assert.Zero(t, out.Conditions)
		}
	}
}

// Times with a spread of more than a third of their mean are not normal: too
// many would be below zero.
func TestDoublesBeyondTheModel(t *testing.T) {
	in := molder.DoublesRisk{Belt: 200, PieceRate: 60, PieceLength: 100, SD: 600, PerHourLimit: 3600, Measured: true}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 0.4997, out.Probability, 1e-4)
	assert.Equal(t, molder.Conditions(reckon.OutsideSource), out.Conditions)
	// A third of a second at 60 pieces/min: one time in 740 below zero.
	assert.InEpsilon(t, 1.0/740, distuv.UnitNormal.CDF(-3), 0.002)
	for _, c := range []struct {
		spread unit.Duration
		want   molder.Conditions
	}{{0.333, 0}, {1.0 / 3, 0}, {0.334, reckon.OutsideSource}} {
		in.SD = c.spread
		out, err = in.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.want, out.Conditions, "%v", c.spread)
		belt, err := molder.BeltForDoubles{PerHourLimit: 1000, PieceRate: 60, PieceLength: 100, SD: c.spread, Measured: true}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.want, belt.Conditions, "%v", c.spread)
	}
}

func TestBeltForDoublesNamesWhatIsReached(t *testing.T) {
	var none *reckon.NoSolutionError
	// 0.01 pieces/min of 1 mm: 6000 s apart, and a belt of 0.1 mm/s is fast enough.
	_, err := molder.BeltForDoubles{PerHourLimit: 0.1, PieceRate: 0.01, PieceLength: 1, SD: 600}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Empty(t, none.Low)
	assert.NotEmpty(t, none.High)
	_, err = molder.BeltForDoubles{PerHourLimit: 1, PieceRate: 60, PieceLength: 100, SD: 0.5}.Solve()
	require.ErrorAs(t, err, &none)
	// Even at 10 m/s: 3600 Phi((0.01 - 1) / 0.5).
	least, err := strconv.ParseFloat(none.Low, 64)
	require.NoError(t, err)
	assert.InEpsilon(t, 3600*distuv.UnitNormal.CDF(-1.98), least, 1e-3)
}

func TestDoublesRefuse(t *testing.T) {
	_, err := molder.DoublesRisk{PerHourLimit: -1}.Solve()
	assert.Equal(t, []string{"belt", "piece_rate", "piece_length", "sd", "per_hour_limit"}, fields(err))
	_, err = molder.BeltForDoubles{}.Solve()
	assert.Equal(t, []string{"piece_rate", "piece_length", "sd", "per_hour_limit"}, fields(err))
	_, err = molder.BeltForDoubles{PerHourLimit: 1800, PieceRate: 60, PieceLength: 100, SD: 0.1}.Solve()
	assert.Equal(t, []string{"per_hour_limit"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.BeltForDoubles{PerHourLimit: 1, PieceRate: 60, PieceLength: 100, SD: 0.5}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = molder.ArrivalSD{Intervals: []unit.Duration{1, 0}}.Solve()
	assert.Equal(t, []string{"intervals", "intervals[1]"}, fields(err))
	_, err = molder.ArrivalSD{Intervals: []unit.Duration{1e-4, 1e-4, 1e-4}}.Solve()
	assert.Equal(t, []string{"intervals"}, fields(err))
}

// 0.9, 1.0, 1.1 s: mean 1 s, standard deviation 0.1 s, by hand.
func TestArrivalSDByHand(t *testing.T) {
	out, err := molder.ArrivalSD{Intervals: []unit.Duration{0.9, 1.1, 1}}.Solve()
	require.NoError(t, err)
	same(t, unit.Duration(1), out.MeanInterval, "mean")
	same(t, unit.Duration(0.1), out.SD, "spread")
	same(t, unit.PieceRate(60), out.PieceRate, "rate")
	assert.Equal(t, 3, out.Pieces)
}

func ExampleDoublesRisk() {
	out, _ := molder.DoublesRisk{
		Belt: unit.MetresPerMinute(12), PieceRate: unit.PiecesPerMinute(60), PieceLength: unit.Millimetres(100),
		SD: unit.Seconds(0.18), PerHourLimit: 2, Measured: true,
	}.Solve()
	fmt.Printf("Expect %.0f doubles in an hour.\n", out.PerHour)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// Expect 10 doubles in an hour.
	// Pieces may touch on the belt: run the belt faster or the divider slower.
}

func ExampleBeltForDoubles() {
	out, _ := molder.BeltForDoubles{
		PerHourLimit: 2, PieceRate: unit.PiecesPerMinute(60), PieceLength: unit.Millimetres(100), SD: unit.Seconds(0.18), Measured: true,
	}.Solve()
	fmt.Printf("Run the belt at %v or faster.\n", out.Belt)
	// Output:
	// Run the belt at 14.53 m/min or faster.
}

func ExampleArrivalSD() {
	out, _ := molder.ArrivalSD{Intervals: []unit.Duration{
		unit.Seconds(0.9), unit.Seconds(1.1), unit.Seconds(1.05), unit.Seconds(0.95),
	}}.Solve()
	fmt.Printf("%v, with a spread of %.3f s.\n", out.PieceRate, out.SD.Seconds())
	// Output:
	// 60 pieces/min, with a spread of 0.091 s.
}

func FuzzDoubles(f *testing.F) {
	f.Add(200.0, 60.0, 100.0, 0.18, 2.0)
	f.Fuzz(func(t *testing.T, belt, rate, piece, spread, most float64) {
		if out, err := (molder.DoublesRisk{Belt: unit.Speed(belt), PieceRate: unit.PieceRate(rate), PieceLength: unit.Length(piece), SD: unit.Duration(spread), PerHourLimit: most}).Solve(); err == nil {
			finite(t, out)
			assert.LessOrEqual(t, out.Probability, 0.5)
		}
		if out, err := (molder.BeltForDoubles{PerHourLimit: most, PieceRate: unit.PieceRate(rate), PieceLength: unit.Length(piece), SD: unit.Duration(spread)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.ArrivalSD{Intervals: []unit.Duration{unit.Duration(spread), unit.Duration(most), unit.Duration(math.Abs(belt))}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}

// Few doubles are as exact as many: a billionth lies 5.997807015007687 standard deviations below the mean, and a
// trillionth 7.034483825301132 (R 4, qnorm).
func TestFewDoublesAreExact(t *testing.T) {
	for share, deviations := range map[float64]float64{1e-9: 5.997807015007687, 1e-12: 7.034483825301132} {
		q := molder.BeltForDoubles{PerHourLimit: share * 60 * 60, PieceRate: 60, PieceLength: 100, SD: 0.1}
		out, err := q.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, 100/(1-0.1*deviations), float64(out.Belt), 1e-13, "%g", share)
	}
}
