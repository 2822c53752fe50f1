package describe

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

var symbolWord = regexp.MustCompile(`[\p{L}_][\p{L}\d_]*`)

// beside lists what a shared part of the input carries and this calculation
// solves for or leaves alone.
var beside = map[string]bool{
	"work-for-mixing-heat P": true, "work-for-mixing-heat t_m": true, // the work is what is asked for
	"lane-offsets S_qq":  true, // of the calibration, a curve's
	"proofer-tradeoff m": true, // how many rows, not a number of the relation
}

// elsewhere are parts that several calculations share: their relation stands
// with the calculation of their own.
var elsewhere = map[string]string{"water": "water-draw", "tap": "water-draw", "hot_tap": "water-draw", "weigh": "water-draw"}

// A symbol is one notation for comment, tag and working: each that a field
// carries stands in the relation and in some step.
func TestSymbolsOccur(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	inputs := map[string][]json.RawMessage{}
	for _, c := range cases {
		inputs[c.Func] = append(inputs[c.Func], c.In)
	}
	for _, e := range calc.Entries() {
		d := readDocuments(t).describe(e)
		relation := map[string]bool{}
		for _, w := range symbolWord.FindAllString(d.Relation, -1) {
			relation[w] = true
		}
		supplied := slices.ContainsFunc(d.Inputs, func(f Field) bool { return f.Name == "hot_tap" })
		steps := map[string]bool{}
		for _, in := range append(inputs[e.ID], json.RawMessage(e.Example)) {
			r, err := answer(t, e.ID, in)
			if err != nil {
				continue
			}
			for _, s := range r.Working {
				steps[s.Symbol] = true
			}
		}
		for i, f := range append(d.Inputs, d.Outputs...) {
			// A plan's parts are the stations', and their relations stand there.
			if f.Symbol == "" || e.ID == "line-plan" || beside[e.ID+" "+f.Symbol] {
				continue
			}
			part, _, _ := strings.Cut(f.Name, ".")
			if part == "melting_heat" {
				continue // a value in the place of a named one: the step says h = h_m
			}
			if where := elsewhere[part]; where != "" && where != e.ID && supplied {
				other, _ := calc.Lookup(where)
				assert.Contains(t, readDocuments(t).describe(other).Relation, f.Symbol, "%s of %s", f.Symbol, e.ID)
				continue
			}
			assert.True(t, relation[f.Symbol], "%s: %s of %s is not in the relation:\n%s", e.ID, f.Symbol, f.Name, d.Relation)
			if strings.Contains(f.Name, ".") || i < len(d.Inputs) && f.Optional || e.ID+" "+f.Symbol == "fraction-below F_u" {
				continue // it is in a step only where it is given, or where the rule set has it
			}
			first := strings.TrimSuffix(f.Symbol, "i") + "1"
			assert.True(t, steps[f.Symbol] || steps[first], "%s: %s of %s is in no step", e.ID, f.Symbol, f.Name)
		}
	}
}
