package describe

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// noLaw lists what neither a law nor a fuzz target of its own holds yet: whole plans, of which all may change with any
// input, and what answers in words. What is true of every calculation is held of them too. The list may only grow shorter.
var noLaw = []string{"control-settings", "known-good", "day-plan", "day-clock", "part-care"}

// Every calculation that has a number to change has a law, or a fuzz target of its station names it.
func TestEveryCalculationHasALaw(t *testing.T) {
	laws, err := testdata.Laws()
	require.NoError(t, err)
	held := map[string]bool{}
	for _, l := range laws {
		_, known := calc.Lookup(l.ID)
		assert.True(t, known, "no calculation is called %q", l.ID)
		held[l.ID] = true
	}
	for _, e := range calc.Entries() {
		in, _ := e.Types()
		station, name, _ := strings.Cut(e.Func(), ".")
		named := readSources(t)[station].fuzzes[name]
		listed := slices.Contains(noLaw, e.ID)
		if hasNumber(in) {
			assert.True(t, held[e.ID] || named || listed, "%s: write a law of it into testdata/laws/%s.json", e.ID, station)
		}
		assert.False(t, listed && (held[e.ID] || named), "%s need not be in the list", e.ID)
	}
}

// hasNumber reports whether a question has a number anywhere.
func hasNumber(t reflect.Type) bool {
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer || t.Kind() == reflect.Array {
		t = t.Elem()
	}
	switch {
	case t.Implements(quantityType), t.Kind() == reflect.Float64, t.Kind() == reflect.Int:
		return true
	case t.Kind() == reflect.Struct:
		return slices.ContainsFunc(reckon.Fields(t), func(f reckon.Field) bool { return hasNumber(f.Type) })
	}
	return false
}
