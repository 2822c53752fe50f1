package divider_test

import (
	"fmt"
	"log"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExamplePiecesToWeigh() {
	out, err := divider.PiecesToWeigh{SD: unit.Grams(6), HalfWidth: unit.Grams(2), Confidence: 95}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("weigh", out.Pieces, "pieces; the mean is then known within", out.HalfWidth)
	// Output:
	// weigh 38 pieces; the mean is then known within 1.972 g
}

func ExampleHalfWidthForPieces() {
	out, err := divider.HalfWidthForPieces{SD: unit.Grams(6), Pieces: 10, Confidence: 95}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("ten pieces fix the mean within", out.HalfWidth)
	// Output:
	// ten pieces fix the mean within 4.292 g
}

// Pieces asked for and half-width reached go there and back: n pieces reach
// the half-width, n - 1 do not.
func TestPiecesToWeighGoesThereAndBack(t *testing.T) {
	for _, sd := range []float64{0.3, 1, 7} {
		for _, half := range []float64{0.05, 0.4, 3, 20} {
			for _, level := range []unit.Percent{50, 90, 99.9} {
				plan, err := divider.PiecesToWeigh{SD: unit.Grams(sd), HalfWidth: unit.Grams(half), Confidence: level}.Solve()
				require.NoError(t, err)
				if plan.Pieces > 20000 {
					continue // more than the inverse takes
				}
				back, err := divider.HalfWidthForPieces{SD: unit.Grams(sd), Pieces: plan.Pieces, Confidence: level}.Solve()
				require.NoError(t, err)
				assert.Equal(t, plan.HalfWidth, back.HalfWidth)
				assert.LessOrEqual(t, back.HalfWidth.Grams(), half)
				if plan.Pieces > 2 {
					fewer, err := divider.HalfWidthForPieces{SD: unit.Grams(sd), Pieces: plan.Pieces - 1, Confidence: level}.Solve()
					require.NoError(t, err)
					assert.Greater(t, fewer.HalfWidth.Grams(), half)
				}
			}
		}
	}
}

func TestPiecesToWeighRefuses(t *testing.T) {
	_, err := divider.PiecesToWeigh{SD: 1, HalfWidth: 1e-6, Confidence: 20}.Solve()
	assert.Equal(t, []string{"half_width", "confidence"}, refusedFields(err))
	_, err = divider.PiecesToWeigh{SD: 0, HalfWidth: 0, Confidence: 95}.Solve()
	assert.Equal(t, []string{"sd", "half_width"}, refusedFields(err))
	_, err = divider.HalfWidthForPieces{SD: -1, Pieces: 1, Confidence: 100}.Solve()
	assert.Equal(t, []string{"sd", "pieces", "confidence"}, refusedFields(err))
}

func BenchmarkPiecesToWeigh(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.PiecesToWeigh{SD: 1, HalfWidth: 0.3, Confidence: 95}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
