package divider_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/exp/stats"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

// The mean and the standard deviation of a sample are those of a
// general-purpose library.
func TestSampleAgainstAnotherLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	for range 200 {
		x := make([]unit.Mass, 3+r.IntN(60))
		for i := range x {
			x[i] = unit.Mass(85 + 1.5*r.NormFloat64())
		}
		out, err := divider.PieceSample{Weighings: x, Confidence: 95, Share: 95, Method: divider.ToleranceHowe}.Solve()
		require.NoError(t, err)
		mean, sd := stats.MeanAndStdDev(x)
		require.InEpsilon(t, float64(mean), float64(out.Mean), 1e-13)
		require.InEpsilon(t, float64(sd), float64(out.SD), 1e-12)
	}
}
