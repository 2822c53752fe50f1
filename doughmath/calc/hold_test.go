package calc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
	"example.com/dough/testdata/hold"
)

// Every calculation is of a station that holds it.
func TestEveryCalculationIsHeld(t *testing.T) {
	for _, e := range calc.Entries() {
		assert.Contains(t, hold.Stations(), hold.Of(e), e.ID)
	}
}

// A case that does not hold says what it is held against, and how good that is.
func TestAFailingCaseNamesItsSource(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	sources, err := testdata.Sources()
	require.NoError(t, err)
	for _, c := range cases {
		said := c.From(sources)
		for _, part := range []string{c.ID, c.Func, sources[c.Source].Title, c.Locator, string(c.Provenance)} {
			assert.Contains(t, said, part)
		}
		assert.NotEmpty(t, c.Locator, c.ID)
	}
}
