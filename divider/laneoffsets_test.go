package divider_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

// fourLanes is an invented calibration of four lanes, with a piece SD of 1.1 g.
func fourLanes(t testing.TB) divider.Calibration {
	in := morning()
	in.Across = 4
	return calibrated(t, in)
}

func ExampleLaneOffsets() {
	in := morning()
	in.Across = 4
	fitted, err := in.Solve()
	if err != nil {
		panic(err)
	}
	out, err := divider.LaneOffsets{Calibration: fitted.Calibration, Mark: 5, Lanes: []divider.LaneWeighing{
		{Lane: 1, Weight: 86.2, Pieces: 10}, {Lane: 2, Weight: 86.9, Pieces: 10}, {Lane: 3, Weight: 82.7, Pieces: 10}, {Lane: 4, Weight: 86.6, Pieces: 10},
	}}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Printf("all lanes %v; lane %d is off by %v\n", out.Mean, out.Worst, out.Far)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// all lanes 85.6 g; lane 3 is off by -2.9 g
	// The lanes differ by more than their scatter: the handle cannot correct that; have the chambers checked.
}

func TestLaneOffsetsAddUpToNothing(t *testing.T) {
	kept := []divider.LaneOffset{{Lane: 9}}
	out, err := divider.LaneOffsets{Calibration: fourLanes(t), Mark: 5, Lanes: []divider.LaneWeighing{
		{Lane: 1, Weight: 86.2, Pieces: 10}, {Lane: 2, Weight: 86.9, Pieces: 3}, {Lane: 3, Weight: 86.1, Pieces: 40}, {Lane: 4, Weight: 86.6, Pieces: 10},
	}}.Append(kept)
	require.NoError(t, err)
	require.Len(t, out.Lanes, 5)
	assert.Equal(t, 9, out.Lanes[0].Lane, "rows are appended to the caller's")
	var sum unit.Mass
	for _, l := range out.Lanes[1:] {
		sum += l.Offset
		assert.False(t, l.Significant)
		assert.Less(t, l.Low, l.Offset)
		assert.Greater(t, l.High, l.Offset)
	}
	assert.InDelta(t, 0, float64(sum), 1e-9)
	assert.Zero(t, out.Conditions)
	// Two lanes are off the mean by half their difference, and by no more or less surely than each other.
	c := fourLanes(t)
	c.Across = 0
	two, err := divider.LaneOffsets{Calibration: c, Mark: 5, Lanes: []divider.LaneWeighing{
		{Lane: 1, Weight: 84, Pieces: 5}, {Lane: 2, Weight: 87, Pieces: 20},
	}}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, -1.5, float64(two.Lanes[0].Offset), 1e-12)
	assert.InDelta(t, 1.5, float64(two.Lanes[1].Offset), 1e-12)
	assert.InDelta(t, float64(two.Lanes[0].High-two.Lanes[0].Low), float64(two.Lanes[1].High-two.Lanes[1].Low), 1e-12)
}

func TestLaneOffsetsRefuses(t *testing.T) {
	in := divider.LaneOffsets{Calibration: fourLanes(t), Mark: 5, Lanes: []divider.LaneWeighing{
		{Lane: 1, Weight: 86, Pieces: 10}, {Lane: 1, Weight: 0, Pieces: 0}, {Lane: 33, Weight: 86, Pieces: 10},
	}}
	_, err := in.Solve()
	assert.Equal(t, []string{"lanes", "lanes[1].lane", "lanes[1].weight", "lanes[1].pieces", "lanes[2].lane"}, fields(err))
	in.Lanes = in.Lanes[:1]
	_, err = in.Solve()
	assert.Equal(t, []string{"lanes"}, fields(err))
}

func FuzzLaneOffsets(f *testing.F) {
	f.Add(86.0, 10, 1e9, 1, 5.0)
	c := calibrated(f, morning())
	f.Fuzz(func(t *testing.T, w1 float64, n1 int, w2 float64, n2 int, mark float64) {
		out, err := divider.LaneOffsets{Calibration: c, Mark: mark, Lanes: []divider.LaneWeighing{
			{Lane: 1, Weight: unit.Mass(w1), Pieces: n1}, {Lane: 2, Weight: unit.Mass(w2), Pieces: n2},
		}}.Solve()
		if err == nil {
			for _, l := range out.Lanes {
				finite(t, float64(out.Mean), float64(out.Shift), float64(l.Offset), float64(l.Low), float64(l.High))
			}
		}
	})
}

func BenchmarkLaneOffsets(b *testing.B) {
	in := divider.LaneOffsets{Calibration: fourLanes(b), Mark: 5, Lanes: []divider.LaneWeighing{
		{Lane: 1, Weight: 86.2, Pieces: 10}, {Lane: 2, Weight: 86.9, Pieces: 10}, {Lane: 3, Weight: 82.7, Pieces: 10}, {Lane: 4, Weight: 86.6, Pieces: 10},
	}}
	rows := make([]divider.LaneOffset, 0, 4)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = in.Append(rows)
	}
}

// Of lanes that lie as far off, or not at all, the first is named.
func TestFirstOfLanesAlike(t *testing.T) {
	c := fourLanes(t)
	c.Across = 0
	for _, weight := range []unit.Mass{85, 86} {
		in := divider.LaneOffsets{Calibration: c, Mark: 5, Lanes: []divider.LaneWeighing{{Lane: 3, Weight: 85, Pieces: 5}, {Lane: 4, Weight: weight, Pieces: 5}}}
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, 3, out.Worst)
		assert.Equal(t, (85-weight)/2, out.Far)
		holdsWhenWorkedByHand(t, in)
	}
}
