package divider_test

import (
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExampleWeighingCorrelation() {
	in := divider.WeighingCorrelation{Weighings: neighbourly(rand.New(rand.NewPCG(1, 2)), 120, 0.5), Confidence: 95}
	out, err := in.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("correlation %.2f: %d pieces tell as much of the mean as %.0f\n", out.Used, out.Pieces, out.EffectivePieces)
	// Output:
	// correlation 0.43: 120 pieces tell as much of the mean as 48
}

// neighbourly makes weights of which each resembles the one before: 85 g, 1 g of scatter.
func neighbourly(random *rand.Rand, n int, r float64) []unit.Mass {
	x, off := make([]unit.Mass, n), random.NormFloat64()
	for i := range x {
		x[i] = 85 + unit.Mass(off)
		off = r*off + math.Sqrt(1-r*r)*random.NormFloat64()
	}
	return x
}

// What the interval promises is kept: of samples of correlated pieces it holds the true mean about as
// often as asked for, where the interval of independent pieces holds it far less often.
func TestCorrelationIsCounted(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	const samples = 2000
	counted, plain, alone := 0, 0, 0
	for range samples {
		x := neighbourly(random, 100, 0.6)
		out, err := divider.WeighingCorrelation{Weighings: x, Confidence: 95}.Solve()
		require.NoError(t, err)
		if out.MeanLow <= 85 && 85 <= out.MeanHigh {
			counted++
		}
		half := (out.MeanHigh - out.MeanLow) / 2 / unit.Mass(out.Widening)
		if out.Mean-half <= 85 && 85 <= out.Mean+half {
			plain++
		}
		free, err := divider.WeighingCorrelation{Weighings: neighbourly(random, 100, 0), Confidence: 95}.Solve()
		require.NoError(t, err)
		if free.Conditions.Has(divider.Correlated) {
			alone++
		} else {
			assert.Equal(t, 100.0, free.EffectivePieces)
			assert.InDelta(t, 1, free.Widening, 1e-12)
		}
	}
	assert.InDelta(t, 0.95, float64(counted)/samples, 0.03)
	assert.Less(t, float64(plain)/samples, 0.75)
	assert.Less(t, float64(alone)/samples, 0.04, "independent pieces are seldom called correlated")
}

// The intervals of a sample are for independent pieces: a sample that is not says so.
func TestSampleSaysThatItIsCorrelated(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	in := divider.PieceSample{Weighings: neighbourly(random, 60, 0.7), Confidence: 95, Share: 95, Method: divider.ToleranceHowe}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(divider.Correlated))
	holdsWhenWorkedByHand(t, in)
	in.Weighings = in.Weighings[:9]
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.CorrelationLimit, "too few to say")
}

func TestWeighingCorrelationRefuses(t *testing.T) {
	_, err := divider.WeighingCorrelation{Weighings: grams(85, 86, 85)}.Solve()
	assert.Equal(t, []string{"weighings", "confidence"}, refusedFields(err))
	_, err = divider.WeighingCorrelation{Weighings: grams(80, 81, 82, 83, 84, 85, 86, 87, 88, 89), Confidence: 95}.Solve()
	assert.ErrorContains(t, err, "the weights wander")
	holdsWhenWorkedByHand(t, divider.WeighingCorrelation{Weighings: neighbourly(rand.New(rand.NewPCG(7, 8)), 60, 0), Confidence: 95})
	holdsWhenWorkedByHand(t, divider.WeighingCorrelation{Weighings: neighbourly(rand.New(rand.NewPCG(7, 8)), 60, 0.6), Confidence: 95})
}

func BenchmarkWeighingCorrelation(b *testing.B) {
	in := divider.WeighingCorrelation{Weighings: neighbourly(rand.New(rand.NewPCG(1, 2)), 120, 0.5), Confidence: 95}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
