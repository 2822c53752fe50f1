package hold

import (
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// edge holds one side of a threshold against the other: beyond it the answer says something
// that it does not say at it.
func edge(t *testing.T, e calc.Entry, g testdata.Edge) {
	says := func(patch json.RawMessage) bool {
		in, err := g.Patch([]byte(e.Example), patch)
		require.NoError(t, err)
		r, err := e.Eval(in, calc.Options{})
		if err != nil {
			var none *reckon.NoSolutionError
			fields := reckon.InputErrors(err)
			refused := slices.ContainsFunc(fields, func(bad *reckon.InputError) bool { return bad.Field == g.Says })
			require.True(t, refused || len(fields) == 0 && g.Says == testdata.NoSolution && errors.As(err, &none), "%s is refused for something else: %v", patch, err)
			for _, text := range g.Told {
				assert.Contains(t, err.Error(), text, g.Why)
			}
			if q, err := e.Read(in); err == nil {
				assert.Equal(t, len(fields) > 0, len(wrong(q)) > 0, "Check says as much of %s as Solve", patch)
				answer, solve := e.Repeat(q, nil)
				require.Error(t, solve())
				assert.Zero(t, reflect.ValueOf(answer).Elem().Interface(), "%s is refused, and yet there is an answer", patch)
			}
			return true
		}
		return slices.ContainsFunc(r.Conditions, func(c reckon.Remark) bool { return c.Word == g.Says }) ||
			slices.ContainsFunc(r.Cautions.Notes(), func(n reckon.Note) bool { return n.Word == g.Says })
	}
	assert.False(t, says(g.At), "at %s there is no %q yet: %s", g.At, g.Says, g.Why)
	assert.True(t, says(g.Beyond), "at %s there is %q: %s", g.Beyond, g.Says, g.Why)
}
