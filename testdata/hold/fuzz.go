package hold

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// Fuzz changes the example of every calculation of a package, within the ranges and beyond them, and holds what comes
// of it against what must be true of any calculation ([sound]), and of this one.
func Fuzz(f *testing.F, station string) {
	var entries []calc.Entry
	for _, e := range calc.Entries() {
		if Of(e) == station {
			entries = append(entries, e)
			f.Add(e.ID, []byte{})
		}
	}
	laws := lawsOf(f)
	f.Fuzz(func(t *testing.T, id string, bytes []byte) {
		i := slices.IndexFunc(entries, func(e calc.Entry) bool { return e.ID == id })
		if i < 0 { // a fuzzer's own word stands for one of them, the same for ever
			h := fnv.New32a()
			h.Write([]byte(id))
			i = int(h.Sum32() % uint32(len(entries)))
		}
		d := dice(bytes)
		e := entries[i]
		factor := 1 + float64(d.byte())/32 // before the rest, which is used up
		sound(t, e, changed(e, &d))
		for _, l := range laws[e.ID] {
			d := dice(bytes[min(1, len(bytes)):])
			e := with(t, e, l)
			law(t, e, l, changed(e, &d), factor)
		}
	})
}

// sound holds of every question:
//
//   - nothing panics, and what is no number is refused,
//   - it has an answer or a refusal, that of Check, which names fields that the input has,
//   - as JSON it is the same question, and its answer the same answer,
//   - written in US units it is the same, and so is an answer in them,
//   - an answer with its working is the plain one, and every step comes out again,
//   - a question that is asked again in place has the same answer,
//   - an answer says only what the calculation is documented to say,
//   - nothing changes the question.
func sound(t *testing.T, e calc.Entry, q reflect.Value) {
	answer, solve := e.Repeat(q.Interface(), nil)
	refused := wrong(q.Interface())
	err := solve()
	text, unwritable := written(q.Elem(), unit.Metric, same)
	if unwritable != nil {
		require.Error(t, err, "what is no number has an answer")
	}
	if err != nil {
		helps(t, e, err)
		told := reckon.InputErrors(err)
		assert.Equal(t, len(refused) > 0, len(told) > 0, "Check says %v, Solve %v", refused, err)
	}
	if len(refused) > 0 {
		require.Error(t, err, "Check refuses %v", refused)
	}
	if unwritable != nil {
		return
	}
	plain, readErr := e.Run(text, nil)
	if err != nil {
		require.Error(t, readErr, "%s: refused as a value only: %v", text, err)
		helps(t, e, readErr)
		return
	}
	require.NoError(t, readErr, "%s: refused as JSON only", text)
	require.Equal(t, reflect.ValueOf(answer).Elem().Interface(), plain, "%s: as JSON", text)
	again, err := written(q.Elem(), unit.Metric, same)
	require.NoError(t, err)
	require.Equal(t, string(text), string(again), "the question was changed")

	works(t, e, text, plain)
	says(t, e, text)
	inUSUnits(t, e, q, plain)
}

func same(v float64) float64 { return v }

// helps wants an error to be one of the two kinds, with its texts filled in, about fields that the input has.
func helps(t *testing.T, e calc.Entry, err error) {
	t.Helper()
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		assert.True(t, none.Func == e.ID && none.Unknown != "" && none.Wanted != "", "an error that does not help: %+v", none)
		return
	}
	list := reckon.InputErrors(err)
	require.NotEmpty(t, list, "an error of neither kind: %v", err)
	in, _ := e.Types()
	for _, bad := range list {
		assert.True(t, bad.Func == e.ID && bad.Value != "" && bad.Want != "", "an error that does not help: %+v", bad)
		assert.True(t, HasField(in, bad.Field), "no input is called %q: %v", bad.Field, bad)
	}
}

// HasField follows the names of a path through a type.
func HasField(t reflect.Type, path string) bool {
	for name := range strings.SplitSeq(path, ".") {
		name, _, _ = strings.Cut(name, "[")
		for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer || t.Kind() == reflect.Array {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			return false
		}
		fields := reckon.Fields(t)
		i := slices.IndexFunc(fields, func(f reckon.Field) bool { return f.Name == name })
		if i < 0 {
			return false
		}
		t = fields[i].Type
	}
	return true
}

// works wants the answer with its working to be the plain one, and its steps to come out.
func works(t *testing.T, e calc.Entry, text []byte, plain any) {
	var w reckon.Working
	explained, err := e.Run(text, &w)
	require.NoError(t, err, "%s: refused with its working only", text)
	require.Equal(t, plain, explained, "%s: another answer with its working", text)
	require.NotEmpty(t, w.Steps)
	assert.NoError(t, testdata.Retrace(&w, 1e-9), "%s", text)
	reckon.ShowSteps(w.Steps, unit.Metric)
	reckon.ShowSteps(w.Steps, unit.US)
}

// says wants an answer that can be written and read again, and says what is documented.
func says(t *testing.T, e calc.Entry, text []byte) {
	r, err := e.Eval(text, calc.Options{})
	require.NoError(t, err)
	about := describe.Of(e)
	for _, c := range r.Conditions {
		assert.True(t, slices.ContainsFunc(about.Conditions, func(n reckon.Note) bool { return n.Word == c.Word }), "%s: %s is not documented", text, c.Word)
	}
	for _, c := range r.Cautions.Notes() {
		assert.True(t, slices.ContainsFunc(about.Cautions, func(n reckon.Note) bool { return n.Word == c.Word }), "%s: %s is not documented", text, c.Word)
	}
	back := readBack(t, e, r)
	where, by := apart(reflect.ValueOf(r.Value()), back, 1e-15)
	assert.Zero(t, by, "%s: %s: the answer as JSON is another one", text, where)
}

// readBack writes an answer and reads it again.
func readBack(t *testing.T, e calc.Entry, r calc.Result) reflect.Value {
	data, err := r.AppendJSON(nil)
	require.NoError(t, err)
	var whole struct {
		Result json.RawMessage `json:"result"`
	}
	require.NoError(t, json.Unmarshal(data, &whole), "%s", data)
	_, out := e.Types()
	back := reflect.New(out)
	require.NoError(t, json.NewDecoder(bytes.NewReader(whole.Result)).Decode(back.Interface()), "%s", whole.Result)
	return back.Elem()
}

// inUSUnits wants the question in US units to have the same answer, and the answer in US units to be the same.
// A conversion moves an input by its last digit; where that much moves an answer, or refuses it, it may differ by as much.
func inUSUnits(t *testing.T, e calc.Entry, q reflect.Value, plain any) {
	const share = 1e-9
	text, err := written(q.Elem(), unit.US, same)
	require.NoError(t, err)
	r, err := e.Eval(text, calc.Options{Units: unit.US})
	where, by := "refused in US units only: "+fmt.Sprint(err), math.Inf(1)
	if err == nil {
		where, by = apart(reflect.ValueOf(plain), readBack(t, e, r), share)
		if was, is := words(plain), words(r.Value()); !slices.Equal(was, is) {
			where, by = fmt.Sprintf("%q and %q", was, is), math.Inf(1)
		}
	}
	if by == 0 {
		return
	}
	for i := range 12 {
		nudged, err := written(q.Elem(), unit.Metric, nudge(i))
		require.NoError(t, err)
		moved, err := e.Run(nudged, nil)
		if err != nil {
			return
		}
		if _, d := apart(reflect.ValueOf(plain), reflect.ValueOf(moved), share/100); d > by/100 || !slices.Equal(words(plain), words(moved)) {
			return
		}
	}
	t.Errorf("%s\n%s: %s", text, e.ID, where)
}

// words are what the answer says, each with its place.
func words(answer any) []string {
	var out []string
	for _, r := range reckon.Remarks(answer) {
		out = append(out, strings.TrimPrefix(r.Path+" "+r.Word, " "))
	}
	return append(out, reckon.Hazards(answer).Words()...)
}

// nudge moves numbers by a few units in the last place: all up, all down, and then each its own way.
func nudge(i int) func(float64) float64 {
	const step = 8 * 0x1p-53
	n := 0
	return func(v float64) float64 {
		n++
		up := i == 0 || i > 1 && (n*(2*i+1)/3)%2 == 0
		if !up {
			return v - step*math.Abs(v)
		}
		return v + step*math.Abs(v)
	}
}
