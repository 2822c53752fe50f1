package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
)

var write = flag.Bool("write", false, "write the list of what is not live")

// all asks for every trial of the largest questions too, which hold a whole line or day. Every day they are tried at one
// input in twenty-nine: they take twenty times as long as all the others together.
var all = os.Getenv("CHECKS") == "all"

// liveOf is the example of a calculation, made live.
func liveOf(t *testing.T, id string) (*live, reflect.Value) {
	t.Helper()
	return liveTrying(t, id, 1)
}

func liveTrying(t *testing.T, id string, every int) (*live, reflect.Value) {
	t.Helper()
	e, ok := calc.Lookup(id)
	require.True(t, ok, id)
	q, err := read(e, []byte(e.Example))
	require.NoError(t, err, id)
	l, err := makeLive(e, q, unit.Metric, every)
	require.NoError(t, err, id)
	return l, q
}

func (l *live) made() []float64 {
	out := make([]float64, len(l.inputs))
	for i := range l.inputs {
		out[i] = l.inputs[i].value
	}
	return out
}

const notLive = "testdata/notlive.txt"

// The list of what does not follow a change of the inputs is the one that is
// kept: a step whose working does not say how it comes about, and the results
// that rest on it. Whoever makes a step of a number writes it anew with
//
//	CHECKS=all go test ./examples/spreadsheet -run NotLive -write
func TestNotLive(t *testing.T) {
	kept := keptNotLive(t)
	var b strings.Builder
	for _, e := range calc.Entries() {
		every := 1
		if !all && (len(e.Example) > 2500 || e.ID == "run-order") {
			every = 29
		}
		l, q := liveTrying(t, e.ID, every)
		base, err := solve(q, unit.Metric)
		require.NoError(t, err)
		same := base.against(base)
		assert.Empty(t, l.differs(l.made(), &same, false), "%s: the formulas do not give what the calculation gives", e.ID)
		var lines []string
		for i := range l.rows {
			if r := &l.rows[i]; r.how == fixed {
				lines = append(lines, fmt.Sprintf("  step    %s  %s", r.Symbol, r.ID))
			}
		}
		for i := range l.outputs {
			if o := &l.outputs[i]; o.stale || o.how == fixed {
				lines = append(lines, "  result  "+o.path)
			}
		}
		if len(lines) > 0 {
			b.WriteString(e.ID + "\n" + strings.Join(lines, "\n") + "\n")
		}
		switch {
		case *write:
		case every == 1:
			assert.Equal(t, kept[e.ID], lines, "%s: another list than the one kept: write it anew", e.ID)
		default:
			assert.Subset(t, kept[e.ID], lines, "%s: more than the list that is kept: write it anew", e.ID)
		}
	}
	if *write {
		require.True(t, all, "the list is written with CHECKS=all")
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(notLive, []byte(b.String()), 0o644))
	}
}

// keptNotLive is the list by calculation. There is nothing of one that is unknown.
func keptNotLive(t *testing.T) map[string][]string {
	t.Helper()
	text, err := os.ReadFile(notLive)
	require.NoError(t, err)
	out := map[string][]string{}
	id := ""
	for row := range strings.Lines(string(text)) {
		row = strings.TrimSuffix(row, "\n")
		if !strings.HasPrefix(row, " ") {
			id = row
			_, known := calc.Lookup(id)
			require.True(t, known, "%s is in the list of what is not live", id)
			continue
		}
		out[id] = append(out[id], row)
	}
	return out
}

// Two inputs changed at once, each within what was tried, still give what the
// calculation gives, but for what is marked. (With the words as they were: a
// second change may bring another case, which the sheet says it cannot see.)
func TestTwoChanges(t *testing.T) {
	for _, id := range []string{"water-temperature", "curls", "batch-for-hopper-time", "scaling-weight", "mixing-heat", "pressure-board", "pocket-fit", "gap-for-turns"} {
		l, q := liveOf(t, id)
		base, err := solve(q, unit.Metric)
		require.NoError(t, err)
		numbers := valuesOf(q, unit.Metric).numbers
		tried := 0
		for i := range l.inputs {
			for k := range i {
				a, b := &l.inputs[i], &l.inputs[k]
				if !a.free() || !b.free() || a.whole || b.whole {
					continue
				}
				inputs := l.made()
				inputs[i], inputs[k] = (a.value+a.high)/2, (b.value+b.low)/2
				numbers[i].set(inputs[i])
				numbers[k].set(inputs[k])
				got, err := solve(q, unit.Metric)
				numbers[i].set(a.value)
				numbers[k].set(b.value)
				if err != nil {
					continue
				}
				both := got.against(base)
				if !both.alike || !both.worded {
					continue
				}
				tried++
				for r := range l.differs(inputs, &both, false) {
					assert.True(t, a.stale[r] || b.stale[r], "%s: %s and %s changed: %v", id, a.path, b.path, r)
				}
			}
		}
		assert.Positive(t, tried, id)
	}
}

// What a station of a plan takes from an earlier one follows it, although its
// working calls it given.
func TestPlanIsOneChain(t *testing.T) {
	l, _ := liveOf(t, "line-plan")
	inputs := l.made()
	for i := range l.inputs {
		if l.inputs[i].path == "order.product.baked" {
			inputs[i] *= 1.001
		}
	}
	_, before := l.evaluate(l.made(), nil)
	_, after := l.evaluate(inputs, nil)
	moved := map[string]bool{}
	for i := range l.outputs {
		moved[l.outputs[i].path] = math.Abs(after[i]-before[i]) > 1e-6*math.Abs(before[i])
	}
	for _, path := range []string{"target", "mark.mark", "rate.dough_rate", "batch.dough", "hopper.time", "times.batch_interval"} {
		_, there := moved[path]
		require.True(t, there, path)
	}
	for _, path := range []string{"target", "mark.mark", "rate.dough_rate", "batch.dough"} {
		assert.True(t, moved[path], "%s does not follow the baked weight", path)
	}
}

// Nothing that was tried is left changed.
func TestTrialsLeaveTheQuestionAlone(t *testing.T) {
	for _, id := range []string{"water-temperature", "mark-fit", "batch-plan"} {
		l, q := liveOf(t, id)
		e, _ := calc.Lookup(id)
		again, err := read(e, []byte(e.Example))
		require.NoError(t, err)
		assert.Equal(t, again.Interface(), q.Interface(), id)
		for i := range l.inputs {
			in := &l.inputs[i]
			assert.True(t, in.low <= in.value && in.value <= in.high, "%s: %s", id, in.path)
		}
	}
}

// Every number and every word of every example is on its sheet: nothing given is lost.
func TestNothingGivenIsLost(t *testing.T) {
	for _, e := range calc.Entries() {
		q, err := read(e, []byte(e.Example))
		require.NoError(t, err)
		v := valuesOf(q, unit.Metric)
		leaves := countLeaves(t, []byte(e.Example))
		assert.GreaterOrEqual(t, len(v.numbers)+len(v.words), leaves, e.ID)
	}
}

// countLeaves counts the texts, numbers and truths in JSON that are not nothing.
func countLeaves(t *testing.T, data []byte) (n int) {
	var tree any
	require.NoError(t, json.Unmarshal(data, &tree))
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for _, m := range v {
				walk(m)
			}
		case []any:
			for _, m := range v {
				walk(m)
			}
		case string:
			if v != "" && !strings.HasPrefix(v, "0 ") {
				n++
			}
		case float64:
			if v != 0 {
				n++
			}
		case bool:
			if v {
				n++
			}
		}
	}
	walk(tree)
	return n
}

// A question with thousands of numbers is refused before anything is tried.
func TestTooLong(t *testing.T) {
	var object strings.Builder
	object.WriteString(`{"trials":[`)
	for i := range 900 {
		if i > 0 {
			object.WriteByte(',')
		}
		fmt.Fprintf(&object, `{"mark":%d,"weight":"%d g","pieces":10}`, 2+i%30, 60+8*(i%30)+i%3)
	}
	object.WriteString(`],"shape":"straight","weighting":"by-pieces","confidence":"95 %"}`)
	e, _ := calc.Lookup("mark-fit")
	q, err := read(e, []byte(object.String()))
	require.NoError(t, err)
	_, err = makeLive(e, q, unit.Metric, 1)
	assert.ErrorContains(t, err, "want fewer")
}
