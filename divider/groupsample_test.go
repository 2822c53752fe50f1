package divider_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleGroupSample() {
	out, err := divider.GroupSample{Groups: grams(512.4, 510.8, 511.5, 513.0, 509.9), Pieces: 6, Confidence: 95, Division: unit.Grams(0.2)}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("a piece weighs", out.Mean, "on average")
	fmt.Println("one piece could be off by", out.Hidden, "unseen")
	// Output:
	// a piece weighs 85.25 g on average
	// one piece could be off by 2.422 g unseen
}

func TestGroupAndSingleWeighingAgreeOnTheMean(t *testing.T) {
	single := grams(85, 84, 86.5, 85.2, 84.8, 86, 83.9, 85.6, 85.1, 84.4, 85.8, 85.3)
	var groups []unit.Mass
	for i := 0; i < len(single); i += 3 {
		groups = append(groups, single[i]+single[i+1]+single[i+2])
	}
	one, err := divider.PieceSample{Weighings: single, Confidence: 95, Share: 95, Method: divider.ToleranceHowe}.Solve()
	require.NoError(t, err)
	many, err := divider.GroupSample{Groups: groups, Pieces: 3, Confidence: 95, Division: 0.2}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, one.Mean.Grams(), many.Mean.Grams(), 1e-12)
	assert.InDelta(t, 0.2/math.Sqrt(12)/3, many.RoundingSD.Grams(), 1e-15)
	assert.Zero(t, many.Conditions)
	many, err = divider.GroupSample{Groups: groups, Pieces: 3, Confidence: 95, Division: 20}.Solve()
	require.NoError(t, err)
	assert.Equal(t, divider.Conditions(reckon.ScaleTooCoarse), many.Conditions)
}

func TestGroupSampleRefuses(t *testing.T) {
	_, err := divider.GroupSample{Groups: grams(500, 500), Division: -1}.Solve()
	assert.Equal(t, []string{"groups", "pieces", "confidence", "division"}, refusedFields(err))
}
