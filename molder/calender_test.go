package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/molder"
)

// More dough in front, more swell; and never less than the gap.
func TestCalenderBoundGrowsWithTheFeed(t *testing.T) {
	for _, n := range []float64{0.1, 0.35, 1, 1.5} {
		last := 1.0
		for _, feed := range []float64{1.01, 1.2, 2, 5, 30, 1000} {
			out, err := molder.CalenderBound{Feed: feed, Index: n}.Solve()
			require.NoError(t, err)
			assert.Greater(t, out.Recovery, last, "n = %v, feed %v", n, feed)
			assert.Less(t, out.Recovery, feed)
			last = out.Recovery
		}
		out, err := molder.CalenderBound{Index: n}.Solve()
		require.NoError(t, err)
		assert.Greater(t, out.Recovery, last, "dough without end")
	}
}

func TestCalenderBoundNamesEveryBadField(t *testing.T) {
	_, err := molder.CalenderBound{Feed: 0.9}.Solve()
	assert.Equal(t, []string{"feed", "index"}, fields(err))
}

func ExampleCalenderBound() {
	out, _ := molder.CalenderBound{Feed: 4, Index: 0.35}.Solve()
	fmt.Printf("Even dough without any spring comes out %.2f times the gap.\n", out.Recovery)
	// Output:
	// Even dough without any spring comes out 1.16 times the gap.
}

func FuzzCalenderBound(f *testing.F) {
	f.Add(4.0, 0.35)
	f.Add(0.0, 1.0)
	f.Fuzz(func(t *testing.T, feed, index float64) {
		if out, err := (molder.CalenderBound{Feed: feed, Index: index}).Solve(); err == nil {
			finite(t, out)
			assert.Greater(t, out.Recovery, 1.0)
		}
	})
}
