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

func ExampleScaleDivision() {
	out, err := divider.ScaleDivision{Division: unit.Grams(1), SD: unit.Grams(0.7), Variation: unit.Grams(7.2)}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("the rule allows a division of", out.ForRule, "and the scatter one of", out.ForSD)
	fmt.Println(out.Conditions)
	// Output:
	// the rule allows a division of 1.2 g and the scatter one of 0.7 g
	// scale-too-coarse
}

func TestScaleDivisionLimits(t *testing.T) {
	for _, tt := range []struct {
		id                      string
		division, sd, variation unit.Mass
		coarse                  bool
	}{
		{"hb133-example", 1, 0, 7.2, false},
		{"just-fine", 1.2, 0, 7.2, false},
		{"over-the-rule", 2, 0, 7.2, true},
		{"as-large-as-the-scatter", 0.7, 0.7, 0, false},
		{"larger-than-the-scatter", 1, 0.7, 0, true},
		{"one-of-two", 1, 0.7, 7.2, true},
	} {
		out, err := divider.ScaleDivision{Division: tt.division, SD: tt.sd, Variation: tt.variation}.Solve()
		require.NoError(t, err)
		assert.Equal(t, tt.coarse, out.Conditions.Has(reckon.ScaleTooCoarse), tt.id)
	}
	out, err := divider.ScaleDivision{Division: 1, SD: 1}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(13.0/12), out.ShownSD.Grams(), 1e-15, "a division as large as the sd adds 4 %")
}

func TestScaleDivisionRefuses(t *testing.T) {
	_, err := divider.ScaleDivision{SD: -1, Variation: 2e6}.Solve()
	assert.Equal(t, []string{"division", "sd", "variation"}, refusedFields(err))
	_, err = divider.ScaleDivision{Division: 1}.Solve()
	assert.Equal(t, []string{"sd"}, refusedFields(err))
	_, err = divider.ScaleDivision{}.Solve()
	assert.Equal(t, []string{"division", "sd"}, refusedFields(err))
}
