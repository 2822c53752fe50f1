package describe

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// notTried are words that no example, case or threshold sets, each with what holds it instead.
var notTried = map[string]string{
	"run-order not-proven": "a list that is too long to be proven takes a second: TestLongListsAgainstPublishedBests has two",
}

// Every condition and caution that a calculation is documented to say is said by its example, a case or a
// threshold, and not by a neighbour of it; and it says no other.
func TestEveryWordIsSet(t *testing.T) {
	documented, said, unsaid := map[string][]string{}, map[string]bool{}, map[string]bool{}
	see := func(id string, in []byte) {
		r, err := answer(t, id, in)
		if err != nil {
			return
		}
		var words []string
		for _, c := range r.Conditions {
			words = append(words, c.Word)
		}
		for _, n := range r.Cautions.Notes() {
			words = append(words, n.Word)
		}
		for _, w := range words {
			assert.Contains(t, documented[id], w, "%s says what it is not documented to say: %s", id, in)
		}
		for _, w := range documented[id] {
			if slices.Contains(words, w) {
				said[id+" "+w] = true
			} else {
				unsaid[id+" "+w] = true
			}
		}
	}
	examples := map[string]string{}
	for _, e := range calc.Entries() {
		d := Of(e)
		for _, n := range slices.Concat(d.Conditions, d.Cautions) {
			documented[e.ID] = append(documented[e.ID], n.Word)
		}
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
		for _, side := range [][]byte{g.At, g.Beyond} {
			in, err := g.Patch([]byte(examples[g.ID]), side)
			require.NoError(t, err)
			see(g.ID, in)
		}
	}
	const edge = "give it a threshold in testdata/edges, or mend the comment: "
	for id, words := range documented {
		for _, w := range words {
			pair := id + " " + w
			assert.Equal(t, notTried[pair] == "", said[pair], "%s is never said: %sa part says \"never says %s\" where the whole cannot", pair, edge, w)
			assert.Equal(t, alwaysSaid[pair] == "", unsaid[pair], "%s is always said: %salwaysSaid has what every answer says, with the reason", pair, edge)
		}
	}
	for _, list := range []map[string]string{notTried, alwaysSaid} {
		for pair := range list {
			assert.True(t, said[pair] || unsaid[pair], "%s is not documented any more", pair)
		}
	}
}
