package calc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata/hold"
)

// Every calculation is of a station that holds it.
func TestEveryCalculationIsHeld(t *testing.T) {
	for _, e := range calc.Entries() {
		assert.Contains(t, hold.Stations(), hold.Of(e), e.ID)
	}
}
