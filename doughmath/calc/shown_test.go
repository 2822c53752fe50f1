package calc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
	"example.com/dough/testdata/hold"
)

// What is shown of every example and case comes out, in both systems of units.
func TestShownNumbersComeOut(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	lines := 0
	for _, e := range calc.Entries() {
		for _, a := range hold.Answers(t, e, cases) {
			lines += hold.Shown(t, e.ID+"/"+a.ID, a.Working.Steps)
		}
	}
	assert.Greater(t, lines, 10_000)
}
