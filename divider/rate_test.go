package divider_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleRate() {
	out, err := divider.Rate{Strokes: 30, Across: 2, Piece: unit.Ounces(3)}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Printf("%v, %v, a stroke every %v\n", out.PieceRate, out.DoughRate.In(unit.US), out.Beat)
	// Output: 60 pieces/min, 675 lb/h, a stroke every 2 s
}

func ExampleStrokesForRate() {
	out, err := divider.StrokesForRate{PieceRate: 100, Across: 2, StrokesHigh: 40}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Strokes, "wanted,", out.Reachable, "can be made")
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// 50 strokes/min wanted, 80 pieces/min can be made
	// A machine's limit holds the rate below what was asked.
}

func TestStrokesForRateKeepsTheStrokesAsked(t *testing.T) {
	for _, tc := range []struct {
		name               string
		pieces             unit.PieceRate
		slowest, fastest   unit.StrokeRate
		strokes, reachable float64
		conditions         divider.Conditions
	}{
		{"within", 60, 10, 40, 30, 60, 0},
		{"at the fastest", 80, 10, 40, 40, 80, 0},
		{"too fast", 81, 10, 40, 40.5, 80, reckon.RateLimited},
		{"too slow", 18, 10, 40, 9, 20, divider.SlowerThanMachine},
		{"no range known", 5000, 0, 0, 2500, 5000, 0},
		{"only the slowest known", 60, 20, 0, 30, 60, 0},
		{"only the slowest known, too slow", 60, 40, 0, 30, 80, divider.SlowerThanMachine},
	} {
		t.Run(tc.name, func(t *testing.T) {
			out, err := divider.StrokesForRate{PieceRate: tc.pieces, Across: 2, StrokesLow: tc.slowest, StrokesHigh: tc.fastest}.Solve()
			require.NoError(t, err)
			assert.Equal(t, tc.strokes, float64(out.Strokes))
			assert.Equal(t, tc.reachable, float64(out.Reachable))
			assert.Equal(t, tc.conditions, out.Conditions)
		})
	}
}

func TestRateThereAndBack(t *testing.T) {
	for _, strokes := range []unit.StrokeRate{0.01, 7.3, 22, 999.9} {
		for across := 1; across <= 8; across++ {
			out, err := divider.Rate{Strokes: strokes, Across: across, Piece: 85}.Solve()
			require.NoError(t, err)
			back, err := divider.StrokesForRate{PieceRate: out.PieceRate, Across: across}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, float64(strokes), float64(back.Strokes), 1e-15)
		}
	}
}

func TestRateNamesEveryBadField(t *testing.T) {
	_, err := divider.Rate{Strokes: 0, Across: 0, Piece: unit.Mass(math.NaN())}.Solve()
	assert.Equal(t, []string{"strokes", "across", "piece"}, fields(err))
	_, err = divider.StrokesForRate{PieceRate: 0, Across: 33, StrokesLow: 50, StrokesHigh: 40}.Solve()
	assert.Equal(t, []string{"piece_rate", "across", "strokes_low"}, fields(err))
}

// fields returns the fields that err refuses, in the order found.
func fields(err error) []string {
	var out []string
	for _, e := range reckon.InputErrors(err) {
		out = append(out, e.Field)
	}
	return out
}

func BenchmarkRate(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = divider.Rate{Strokes: 30, Across: 2, Piece: 85}.Solve()
	}
}
