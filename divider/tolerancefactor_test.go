package divider_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExampleToleranceFactor() {
	out, err := divider.ToleranceFactor{Pieces: 43, Share: 90, Confidence: 99}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("at least: mean - %.4f sd; between: mean ± %.4f sd (Howe: %.4f)\n", out.OneSided, out.TwoSided, out.Howe)
	// Output:
	// at least: mean - 1.8740 sd; between: mean ± 2.2228 sd (Howe: 2.2173)
}

// Howe's factor stays as near the exact one as its comment says, and the exact
// factor falls with every piece.
func TestHoweNearExact(t *testing.T) {
	for _, share := range []unit.Percent{50, 90, 95, 99, 99.99} {
		for _, level := range []unit.Percent{90, 95, 99} {
			last := math.Inf(1)
			for _, n := range []int{5, 6, 10, 20, 100, 2000} {
				f, err := divider.ToleranceFactor{Pieces: n, Share: share, Confidence: level}.Solve()
				require.NoError(t, err)
				off := 0.05
				if n >= 10 && share >= 90 && share <= 99 {
					off = 0.01
				}
				assert.InEpsilon(t, f.TwoSided, f.Howe, off, "n %d share %v level %v", n, share, level)
				assert.Less(t, f.TwoSided, last)
				last = f.TwoSided
			}
		}
	}
}

func TestToleranceFactorRefuses(t *testing.T) {
	_, err := divider.ToleranceFactor{}.Solve()
	assert.Equal(t, []string{"pieces", "share", "confidence"}, refusedFields(err))
}

func BenchmarkToleranceFactor(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.ToleranceFactor{Pieces: 20, Share: 95, Confidence: 95}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
