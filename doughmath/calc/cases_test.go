package calc_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// Every published case goes through the function that it checks, on the same
// path from text that a user's input takes.
func TestCases(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	checked := map[string]bool{}
	for _, c := range cases {
		t.Run(c.Func+"/"+c.ID, func(t *testing.T) {
			e, ok := calc.Lookup(c.Func)
			require.True(t, ok, "no calculation is called %q", c.Func)
			checked[e.ID] = true
			assert.NotEqual(t, testdata.Open, c.Status, "an open case must be settled")
			result, err := e.Run(c.In, nil)
			for _, complaint := range testdata.Compare(c, result, err) {
				t.Error(complaint)
			}
		})
	}
	for _, e := range calc.Entries() {
		// An inverse is checked through its primary, by going there and back.
		if !strings.Contains(e.ID, "-for-") {
			assert.True(t, checked[e.ID], "%s has no case from outside the project", e.ID)
		}
	}
}
