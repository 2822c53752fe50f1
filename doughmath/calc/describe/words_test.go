package describe

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// Every condition and caution that a calculation is documented to set is set by its example, a case or a
// threshold, or stands in a list of what none of them sets yet, which may only grow shorter.
func TestEveryWordIsSet(t *testing.T) {
	set := map[string]map[string]bool{}
	see := func(id string, in []byte) {
		if set[id] == nil {
			set[id] = map[string]bool{}
		}
		r, err := answer(t, id, in)
		if err != nil {
			return
		}
		for _, c := range r.Conditions {
			set[id][c.Word] = true
		}
		for _, n := range r.Cautions.Notes() {
			set[id][n.Word] = true
		}
	}
	examples := map[string]string{}
	for _, e := range calc.Entries() {
		see(e.ID, []byte(e.Example))
		examples[e.ID] = e.Example
	}
	cases, err := testdata.Cases()
	require.NoError(t, err)
	for _, c := range cases {
		see(c.Func, c.In)
	}
	edges, err := testdata.Edges()
	require.NoError(t, err)
	for _, g := range edges {
		require.Contains(t, examples, g.ID, "no calculation is called so")
		in, err := g.Patch([]byte(examples[g.ID]), g.Beyond)
		require.NoError(t, err)
		see(g.ID, in)
	}
	var unset []string
	for _, e := range calc.Entries() {
		d := Of(e)
		for _, n := range slices.Concat(d.Conditions, d.Cautions) {
			if !set[e.ID][n.Word] {
				unset = append(unset, e.ID+" "+n.Word)
			}
		}
	}
	slices.Sort(unset)
	const file = "../../../testdata/edges/unset.txt"
	text := strings.Join(append(unset, ""), "\n")
	if *write {
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	}
	listed, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(listed), text, "go test ./doughmath/calc/describe -run EveryWord -write, and see that the list grew shorter")
}
