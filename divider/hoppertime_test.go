package divider_test

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleHopperTime() {
	out, err := divider.HopperTime{Batch: unit.Kilograms(100), DoughRate: 400, TimeLimit: unit.Minutes(10)}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Time)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// 15 min
	// The dough stands in the hopper longer than the limit: mix smaller batches, or run faster.
}

func ExampleBatchForHopperTime() {
	out, err := divider.BatchForHopperTime{DoughRate: 400, TimeLimit: unit.Minutes(12)}.Solve()
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Batch)
	// Output: 80 kg
}

func TestHopperTimeThereAndBack(t *testing.T) {
	for _, dough := range []unit.MassRate{3, 300, 12000} {
		for _, limit := range []unit.Duration{1, 600, 86400} {
			batch, err := divider.BatchForHopperTime{DoughRate: dough, TimeLimit: limit}.Solve()
			require.NoError(t, err)
			if batch.Batch > unit.Kilograms(10_000) {
				continue
			}
			out, err := divider.HopperTime{Batch: batch.Batch, DoughRate: dough}.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, float64(limit), float64(out.Time), 1e-14)
		}
	}
}

// A head of dough is cut before each batch and stands while the divider waits: worked
// piece by piece, first in, first out.
func TestHopperTimeWithAHeadOfDough(t *testing.T) {
	in := divider.HopperTime{Batch: unit.Kilograms(100), Head: unit.Kilograms(20), DoughRate: 400, Wait: unit.Minutes(3)}
	out, err := in.Solve()
	require.NoError(t, err)
	// Tipped at 0 on 20 kg; one kilogram takes 9 s. The divider stands once 20 kg are left.
	const each = 9.0
	clock, left := 0.0, 120.0
	var first, last float64
	for cut := range 120 {
		if left == 20 {
			clock += 180
		}
		if cut == 20 {
			first = clock
		}
		clock += each
		left--
		last = clock
	}
	assert.InDelta(t, first, float64(out.FirstPiece), 1e-9)
	assert.InDelta(t, last, float64(out.Time), 1e-9)
	back, err := divider.BatchForHopperTime{DoughRate: in.DoughRate, TimeLimit: out.Time, Head: in.Head, Wait: in.Wait}.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, float64(in.Batch), float64(back.Batch), 1e-12)
	holdsWhenWorkedByHand(t, in)

	in.Head = 0
	_, err = in.Solve()
	assert.Equal(t, []string{"wait"}, fields(err))
	_, err = divider.BatchForHopperTime{DoughRate: 400, TimeLimit: 60, Head: unit.Kilograms(20)}.Solve()
	assert.ErrorContains(t, err, "keep less dough in the hopper")
}

func TestHopperTimeRefuses(t *testing.T) {
	_, err := divider.HopperTime{Batch: 0, DoughRate: -1, TimeLimit: -1}.Solve()
	assert.Equal(t, []string{"batch", "dough_rate", "time_limit"}, fields(err))
	_, err = divider.BatchForHopperTime{}.Solve()
	assert.Equal(t, []string{"dough_rate", "time_limit"}, fields(err))
	_, err = divider.HopperTime{Batch: 1000, DoughRate: 1e-300}.Solve()
	var none *reckon.NoSolutionError
	assert.True(t, errors.As(err, &none), "%v", err)
}

func TestHopperTimeAtTheLimitIsWithinIt(t *testing.T) {
	out, err := divider.HopperTime{Batch: unit.Kilograms(100), DoughRate: 400, TimeLimit: unit.Minutes(15)}.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
}

func BenchmarkHopperTime(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = divider.HopperTime{Batch: 1e5, DoughRate: 400}.Solve()
	}
}
