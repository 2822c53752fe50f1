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

func ExamplePiecesToDetect() {
	out, err := divider.PiecesToDetect{SD: unit.Grams(1), Shift: unit.Grams(1), Confidence: 95, DetectionChance: 90, Sides: divider.TwoSided}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("weigh", out.Pieces, "pieces to notice a move of 1 g")
	// Output:
	// weigh 13 pieces to notice a move of 1 g
}

func ExampleShiftForPieces() {
	out, err := divider.ShiftForPieces{SD: unit.Grams(1), Pieces: 6, Confidence: 95, DetectionChance: 90, Sides: divider.TwoSided}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("six pieces notice a move of", out.Shift)
	// Output:
	// six pieces notice a move of 1.67 g
}

func TestPiecesToDetectGoesThereAndBack(t *testing.T) {
	for _, sides := range []divider.SampleSides{divider.OneSided, divider.TwoSided} {
		for _, shift := range []float64{0.1, 0.5, 1, 4} {
			in := divider.PiecesToDetect{SD: 0.8, Shift: unit.Grams(shift), Confidence: 95, DetectionChance: 90, Sides: sides}
			plan, err := in.Solve()
			require.NoError(t, err)
			back, err := divider.ShiftForPieces{SD: 0.8, Pieces: plan.Pieces, Confidence: 95, DetectionChance: 90, Sides: sides}.Solve()
			require.NoError(t, err)
			assert.Equal(t, plan.Shift, back.Shift)
			assert.LessOrEqual(t, back.Shift.Grams(), shift)
			if plan.Pieces > 2 {
				fewer, err := divider.ShiftForPieces{SD: 0.8, Pieces: plan.Pieces - 1, Confidence: 95, DetectionChance: 90, Sides: sides}.Solve()
				require.NoError(t, err)
				assert.Greater(t, fewer.Shift.Grams(), shift)
			}
		}
	}
}

// The sample has the power that was asked for, and one piece fewer has not. The sum of two
// Student's t, which was used before, asks for 45 pieces where 44 do.
func TestPiecesToDetectIsExact(t *testing.T) {
	in := divider.PiecesToDetect{SD: 1, Shift: 0.5, Confidence: 95, DetectionChance: 90, Sides: divider.TwoSided}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 44, out.Pieces)
	assert.InDelta(t, 90.0030593332, float64(out.DetectionChance), 1e-8) // R 4.2.2, pt
	for _, in.Sides = range []divider.SampleSides{divider.OneSided, divider.TwoSided} {
		for _, in.Shift = range []unit.Mass{0.001, 0.02, 1, 30, 1000} {
			for _, in.DetectionChance = range []unit.Percent{50, 90, 99.99} {
				out, err := in.Solve()
				require.NoError(t, err)
				assert.GreaterOrEqual(t, out.DetectionChance, in.DetectionChance)
				assert.Positive(t, out.Shift)
				assert.LessOrEqual(t, out.Shift, in.Shift)
				holdsWhenWorkedByHand(t, in)
			}
		}
	}
	by, err := divider.ShiftForPieces{SD: 1, Pieces: 9, Confidence: 50, DetectionChance: 50, Sides: divider.OneSided}.Solve()
	require.NoError(t, err)
	assert.Zero(t, by.Shift, "an alarm by chance alone comes as often")
}

func TestPiecesToDetectRefuses(t *testing.T) {
	_, err := divider.PiecesToDetect{SD: 1, Shift: 5000, Confidence: 0, DetectionChance: 0, Sides: "three"}.Solve()
	assert.Equal(t, []string{"shift", "confidence", "detection_chance", "sides"}, refusedFields(err))
	_, err = divider.ShiftForPieces{}.Solve()
	assert.Equal(t, []string{"sd", "pieces", "confidence", "detection_chance", "sides"}, refusedFields(err))
}

// A check that sounds half of its alarms by chance alone needs no shift for that.
func TestShiftSeenByChance(t *testing.T) {
	for _, sides := range []divider.SampleSides{divider.OneSided, divider.TwoSided} {
		out, err := divider.ShiftForPieces{SD: 1, Pieces: 5, Confidence: 50, DetectionChance: 50, Sides: sides}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, 0, float64(out.Shift), 1e-6, "%s", sides)
	}
}

// The smallest sample with the power asked for, also where the normal formula asks for more: an alarm on the wrong side
// counts as one. Found by R 4 (pt with a noncentrality), one piece after the other.
func TestFewestPiecesToDetect(t *testing.T) {
	for _, tc := range []struct {
		sd, shift          unit.Mass
		confidence, chance unit.Percent
		normal, want       int
	}{{0.1, 1.5, 95, 90, 1, 2}, {5, 1, 50, 55, 17, 7}, {10, 1, 50, 51, 49, 6}, {10, 1, 50, 55, 65, 25}, {10, 1, 50, 60, 87, 53}} {
		out, err := divider.PiecesToDetect{SD: tc.sd, Shift: tc.shift, Confidence: tc.confidence, DetectionChance: tc.chance, Sides: divider.TwoSided}.Solve()
		require.NoError(t, err)
		assert.Equal(t, tc.want, out.Pieces, "%+v", tc)
		assert.Equal(t, tc.normal, out.Normal, "%+v", tc)
	}
}
