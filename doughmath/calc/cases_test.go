package calc_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// Every published case goes through Eval to JSON and back, on the same path from text
// that a user's input takes. Each station holds its own to the cases, in its own tests.
func TestCases(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	sources, err := testdata.Sources()
	require.NoError(t, err)
	checked, cited := map[string]bool{}, map[string]bool{}
	for _, c := range cases {
		checked[c.Func], cited[c.Source] = true, true
		t.Run(c.Func+"/"+c.ID, func(t *testing.T) {
			e, ok := calc.Lookup(c.Func)
			require.True(t, ok, "no calculation is called %q", c.Func)
			assert.NotEqual(t, testdata.Open, c.Status, "an open case must be settled")
			evaluated, err := calc.Eval(c.Func, c.In, calc.Options{})
			var back any
			if err == nil {
				back = readBack(t, e, evaluated)
			}
			for _, complaint := range testdata.Compare(c, back, err) {
				t.Error(complaint)
			}
		})
	}
	for key := range sources {
		assert.True(t, cited[key], "no case cites the source %q", key)
	}
	for _, e := range calc.Entries() {
		// An inverse is checked through its primary, by going there and back.
		if !strings.Contains(e.ID, "-for-") {
			assert.True(t, checked[e.ID], "%s has no case", e.ID)
		}
	}
}

// A case that does not hold says whose value it is: provenance, source and where it stands there.
func TestFailingCaseNamesItsSource(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	sources, err := testdata.Sources()
	require.NoError(t, err)
	for i, c := range cases {
		if !all && i%5 != 0 {
			continue
		}
		e, _ := calc.Lookup(c.Func)
		result, err := e.Run(c.In, nil)
		require.NotEmpty(t, c.Want)
		assert.NotEmpty(t, c.Locator, c.ID)
		var complaints []string
		if _, refused := c.Want["errors"]; refused {
			complaints = testdata.Compare(c, result, nil) // it was to be refused
		} else {
			assert.NoError(t, err)
			complaints = testdata.Compare(c, nil, errors.New("no answer"))
			for name := range c.Want {
				c.Want = map[string]json.RawMessage{name: json.RawMessage(`"no such value"`)}
			}
			complaints = append(complaints, testdata.Compare(c, result, err)...)
			require.GreaterOrEqual(t, len(complaints), 2, c.ID)
		}
		require.NotEmpty(t, complaints, c.ID)
		for _, complaint := range complaints {
			assert.Contains(t, complaint, "("+string(c.Provenance)+", source "+c.Source+": ")
			assert.Contains(t, complaint, sources[c.Source].Title)
			assert.Contains(t, complaint, c.Locator)
		}
	}
}

// readBack writes r as JSON and reads the result struct from that text.
func readBack(t *testing.T, e calc.Entry, r calc.Result) any {
	t.Helper()
	data, err := r.AppendJSON(nil)
	require.NoError(t, err)
	require.True(t, json.Valid(data), "%s", data)
	var envelope struct {
		Calculation          string
		Result               map[string]json.RawMessage
		Conditions, Cautions []struct{ At, Word, Says string }
	}
	require.NoError(t, json.Unmarshal(data, &envelope))
	assert.Equal(t, e.ID, envelope.Calculation)
	// The words of the top level stand beside the result: put them back where
	// the struct has them.
	_, out := e.Types()
	for field := range out.Fields() {
		name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
		var words []string
		if !field.Type.Implements(reflect.TypeFor[reckon.Noted]()) {
			continue
		}
		list, at := envelope.Conditions, name
		switch name {
		case "conditions":
			at = ""
		case "cautions":
			list, at = envelope.Cautions, ""
		}
		for _, c := range list {
			assert.NotEmpty(t, c.Says)
			if c.At == at {
				words = append(words, c.Word)
			}
		}
		data, err := json.Marshal(words)
		require.NoError(t, err)
		envelope.Result[name] = data
	}
	inner, err := json.Marshal(envelope.Result)
	require.NoError(t, err)
	back := reflect.New(out)
	require.NoError(t, json.Unmarshal(inner, back.Interface()), "%s", inner)
	return back.Elem().Interface()
}
