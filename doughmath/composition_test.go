package doughmath_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A composition that is given is held to its ranges also where the specific heat does without it.
func TestCompositionIsNeverPassedOver(t *testing.T) {
	for _, heat := range []unit.SpecificHeat{0, 2} {
		batch := leanBatch(unit.Celsius(20))
		batch.Heats = doughmath.TradeHeats
		batch.Ingredients[0].SpecificHeat = heat
		batch.Ingredients[0].Composition.Fat = -1
		_, err := doughmath.MixingHeat{MixingBatch: batch}.Solve()
		bad := reckon.InputErrors(err)
		require.Len(t, bad, 1, "%v", err)
		assert.Equal(t, "ingredients[0].composition.fat", bad[0].Field)
	}
}
