// Package hold has the tests that every station runs of its own calculations, so that a wrong
// fact fails beside the code that states it.
package hold

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// Stations are the packages that have calculations.
func Stations() []string { return []string{"doughmath", "divider", "proof", "molder", "line"} }

// Of returns the package that has the calculation.
func Of(e calc.Entry) string {
	station, _, _ := strings.Cut(e.Func(), ".")
	return station
}

// Station holds the calculations of a package against their cases, the thresholds at which they
// warn or refuse, and the ranges in their tags against what their Check refuses.
func Station(t *testing.T, name string) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	by := map[string][]testdata.Case{}
	for _, c := range cases {
		by[c.Func] = append(by[c.Func], c)
	}
	edges, err := testdata.Edges()
	require.NoError(t, err)
	laws := lawsOf(t)
	held := 0
	for _, e := range calc.Entries() {
		if Of(e) != name {
			continue
		}
		held++
		t.Run(e.ID+"/ranges", func(t *testing.T) { ranges(t, e) })
		for _, c := range by[e.ID] {
			t.Run(e.ID+"/"+c.ID, func(t *testing.T) {
				answer, err := e.Run(c.In, nil)
				for _, complaint := range testdata.Compare(c, answer, err) {
					t.Error(complaint)
				}
			})
		}
		for _, l := range laws[e.ID] {
			t.Run(e.ID+"/"+lawName(l), func(t *testing.T) { holdsLaw(t, e, l) })
		}
		for _, g := range edges {
			if g.ID == e.ID {
				t.Run(e.ID+"/"+g.Says, func(t *testing.T) { edge(t, e, g) })
			}
		}
	}
	assert.Positive(t, held, "no calculation is of %s", name)
}
