package reckon_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
	"example.com/dough/testdata/hold"
)

// Workings of all stations are worked out again by another parser, and keyed in as they are shown. Here it is the
// examples, but for those of a line and a day; the stations hold the rest.
func TestWorkingsComeOut(t *testing.T) {
	lines := 0
	for _, e := range calc.Entries() {
		if len(e.Example) > 1500 {
			continue
		}
		var w reckon.Working
		_, err := e.Run([]byte(e.Example), &w)
		require.NoError(t, err, e.ID)
		assert.NoError(t, testdata.Retrace(&w, 1e-9), e.ID)
		lines += hold.Shown(t, e.ID, w.Steps)
	}
	assert.Greater(t, lines, 1500)
}
