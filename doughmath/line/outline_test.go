package line_test

import (
	"flag"
	"iter"
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
	"example.com/dough/testdata/hold"
)

// outlines says what stands in workings: beneath each heading the symbols in their order, each part once. Numbers in a
// symbol are written #, and what is repeated stands in brackets with how often: (c_# v_#)3. A working is read from
// top to bottom, and a line that is gone from it is missed by its reader alone.
const outlines = "testdata/outlines.txt"

var write = flag.Bool("write", false, "write "+outlines+" anew, for whoever means to change what a working tells")

// outlined holds workings, all those of one name, against their outline.
func outlined(t *testing.T, name string, workings ...*reckon.Working) {
	t.Helper()
	holdOutline(t, name, nil, workings)
}

// outlinedBesideThePlan leaves out what a plan has, which stands in most workings and is held of plans.
func outlinedBesideThePlan(t *testing.T, name string, workings ...*reckon.Working) {
	t.Helper()
	known, err := planned()
	require.NoError(t, err)
	holdOutline(t, name, known, workings)
}

// holdOutline leaves out the headings that are held elsewhere.
func holdOutline(t *testing.T, name string, elsewhere map[string]bool, workings []*reckon.Working) {
	t.Helper()
	parts := map[string]bool{}
	for _, w := range workings {
		for heading, symbols := range partsOf(w) {
			if !elsewhere[heading] {
				parts["\t"+heading+": "+symbols] = true
			}
		}
	}
	text, err := os.ReadFile(outlines)
	require.NoError(t, err)
	all := blocks(string(text))
	if *write {
		all[name] = slices.Sorted(maps.Keys(parts))
		var b strings.Builder
		for _, name := range slices.Sorted(maps.Keys(all)) {
			b.WriteString(name + "\n" + strings.Join(all[name], "\n") + "\n")
		}
		require.NoError(t, os.WriteFile(outlines, []byte(b.String()), 0o600))
		return
	}
	for _, part := range all[name] {
		assert.True(t, parts[part], "no working of %s has this part any more:\n%s", name, part)
	}
	for _, part := range slices.Sorted(maps.Keys(parts)) {
		assert.True(t, slices.Contains(all[name], part), "the outline of %s does not have this part of a working:\n%s", name, part)
	}
}

// blocks are the lines beneath each name.
func blocks(text string) map[string][]string {
	all := map[string][]string{}
	name := ""
	for line := range strings.Lines(text) {
		if line = strings.TrimSuffix(line, "\n"); strings.HasPrefix(line, "\t") {
			all[name] = append(all[name], line)
		} else {
			name = line
		}
	}
	return all
}

// planned are the headings of the demo's plans.
var planned = sync.OnceValues(func() (map[string]bool, error) {
	data, err := testdata.Scenario("demo.json")
	if err != nil {
		return nil, err
	}
	s, err := line.ReadScenario(data)
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, order := range s.Orders[:3] {
		_, w, err := reckon.Explain(line.Plan{Line: s.Line, Order: order, Shift: s.Shift})
		if err != nil {
			return nil, err
		}
		for heading := range partsOf(w) {
			known[heading] = true
		}
	}
	return known, nil
})

var digits = regexp.MustCompile(`\d+`)

// partsOf yields each heading of a working with the symbols beneath. A day has the parts of each order, which begin
// with its name; that is left out.
func partsOf(w *reckon.Working) iter.Seq2[string, string] {
	return func(yield func(heading, symbols string) bool) {
		heading := ""
		var symbols []string
		for i, s := range w.Steps {
			if s.Kind == reckon.HeadingStep {
				heading, symbols = s.ID, nil
				if i := strings.LastIndex(heading, ": "); i >= 0 {
					heading = heading[i+2:]
				}
			} else {
				symbols = append(symbols, digits.ReplaceAllString(s.Symbol, "#"))
			}
			if i+1 == len(w.Steps) || w.Steps[i+1].Kind == reckon.HeadingStep {
				if !yield(heading, strings.Join(repeated(symbols), " ")) {
					return
				}
			}
		}
	}
}

// repeated puts what follows itself in brackets, with how often it stands there.
func repeated(list []string) []string {
	var out []string
	for i := 0; i < len(list); {
		times, of := 1, 1
		for n := 1; n <= min(24, (len(list)-i)/2); n++ {
			k := 1
			for i+(k+1)*n <= len(list) && slices.Equal(list[i+k*n:i+(k+1)*n], list[i:i+n]) {
				k++
			}
			if k > 1 && k*n > times*of {
				times, of = k, n
			}
		}
		if times > 1 {
			out = append(out, "("+strings.Join(list[i:i+of], " ")+")"+strconv.Itoa(times))
		} else {
			out = append(out, list[i])
		}
		i += times * of
	}
	return out
}

// What the examples and cases have in their workings.
func outlinedAnswers(t *testing.T, e calc.Entry, answers []hold.Answer) {
	var workings []*reckon.Working
	for i := range answers {
		if answers[i].Err == nil {
			workings = append(workings, &answers[i].Working)
		}
	}
	if e.ID == (line.Plan{}).ID() {
		outlined(t, e.ID, workings...)
	} else {
		outlinedBesideThePlan(t, e.ID, workings...)
	}
}
