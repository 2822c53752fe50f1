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
