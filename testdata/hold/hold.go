// Package hold has the tests that every station runs of its own calculations, so that a wrong
// fact fails beside the code that states it.
package hold

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// Stations are the packages that have calculations.
func Stations() []string { return []string{"doughmath", "divider", "proof", "molder", "line"} }

// Of returns the package that has the calculation.
func Of(e calc.Entry) string {
	station, _, _ := strings.Cut(e.Func(), ".")
	return station
}

// Station holds the calculations of a package against their cases, their workings, the thresholds at
// which they warn or refuse, and the ranges in their tags against what their Check refuses. What else a package
// holds of its answers follows.
func Station(t *testing.T, name string, also ...func(t *testing.T, e calc.Entry, answers []Answer)) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	edges, err := testdata.Edges()
	require.NoError(t, err)
	laws := lawsOf(t)
	held := 0
	for _, e := range calc.Entries() {
		if Of(e) != name {
			continue
		}
		held++
		t.Run(e.ID, func(t *testing.T) {
			t.Cleanup(func() {
				if t.Failed() {
					t.Logf("%s stands on: %s", e.ID, strings.Join(describe.Of(e).Sources, "; "))
				}
			})
			answers := Answers(t, e, cases)
			for i := range answers {
				t.Run(answers[i].ID, func(t *testing.T) { answer(t, e, &answers[i]) })
			}
			assert.Empty(t, (HazardsOf(e.ID) &^ reckon.Hazards(answers[0].Out)).Words(), "what can hurt here, and is not said of the example")
			steps(t, e, answers)
			for _, held := range also {
				held(t, e, answers)
			}
			for _, l := range laws[e.ID] {
				t.Run(lawName(l), func(t *testing.T) { holdsLaw(t, e, l) })
			}
			for _, g := range edges {
				if g.ID == e.ID {
					t.Run(g.Says, func(t *testing.T) { edge(t, e, g) })
				}
			}
			t.Run("nothing", func(t *testing.T) { refusesNothing(t, e) })
			t.Run("ranges", func(t *testing.T) { ranges(t, e) })
			if name != "line" { // what a plan leaves out is asked about only where it is there
				t.Run("words", func(t *testing.T) { refusesWords(t, e) })
			}
		})
	}
	assert.Positive(t, held, "no calculation is of %s", name)
}

// answer holds an answer against what its case wants, and against its working.
func answer(t *testing.T, e calc.Entry, a *Answer) {
	for _, complaint := range testdata.Compare(a.Case, a.Out, a.Err) {
		t.Error(complaint)
	}
	if a.Err == nil {
		sheet(t, a)
		Shown(t, e.ID, a.Working.Steps)
	}
	if a.Want == nil { // of cases, a search may take long
		plain, err := e.Run(a.In, nil)
		assert.Equal(t, a.Err, err, "working must not change the error")
		assert.Equal(t, a.Out, plain, "working must not change the result")
	}
}
