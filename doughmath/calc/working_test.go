package calc_test

import (
	"encoding/json"
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// Every step of every working is evaluated again from what it says, so that
// the formula a person reads is the formula that was computed: for the example
// and for every published case.
func TestWorkingIsTrue(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	for _, e := range calc.Entries() {
		inputs := []testdata.Case{{ID: "example", In: json.RawMessage(e.Example)}}
		for _, c := range cases {
			if c.Func == e.ID {
				inputs = append(inputs, c)
			}
		}
		for _, c := range inputs {
			workingIsTrue(t, e, c)
		}
	}
}

func workingIsTrue(t *testing.T, e calc.Entry, c testdata.Case) {
	t.Run(e.ID+"/"+c.ID, func(t *testing.T) {
		r := runOnce(e, c.In)
		w, explained, plain, err := &r.working, r.explained, r.plain, r.err
		require.Equal(t, err, r.plainErr, "working must not change the error")
		if err != nil {
			require.Contains(t, c.Want, "errors", "%v", err)
			return
		}
		require.Equal(t, plain, explained, "working must not change the result")
		require.NotEmpty(t, w.Steps)
		assert.NoError(t, testdata.Retrace(w, 1e-9))
		at := len(w.Steps) - 1
		for w.Steps[at].Kind == reckon.CheckStep {
			at--
		}
		last := w.Steps[at].Value
		assert.True(t, holds(t, explained, last), "the last step (%v) is not a value of the result", last)
	})
}

// holds reports whether some number in the result is v, bit for bit.
func holds(t *testing.T, result any, v float64) bool {
	data, err := json.Marshal(result)
	require.NoError(t, err)
	var tree any
	require.NoError(t, json.Unmarshal(data, &tree))
	found := false
	var walk func(any)
	walk = func(n any) {
		switch n := n.(type) {
		case map[string]any:
			for _, m := range n {
				walk(m)
			}
		case []any:
			for _, m := range n {
				walk(m)
			}
		case float64:
			found = found || n == v
		case string:
			var number string
			if _, err := fmt.Sscanf(n, "%s ", &number); err == nil {
				f, err := strconv.ParseFloat(number, 64)
				found = found || err == nil && f == v
			}
		}
	}
	walk(tree)
	return found
}
