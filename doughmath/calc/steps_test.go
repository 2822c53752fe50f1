package calc_test

import (
	"encoding/json"
	"fmt"
	"iter"
	"maps"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// leaf is one number of a question or an answer.
type leaf struct {
	path   string // without the numbers of list items
	symbol string // its tag
	value  float64
}

// numbersIn visits every number in v.
func numbersIn(v reflect.Value, path, symbol string, visit func(leaf)) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	if q, ok := v.Interface().(unit.Quantity); ok {
		if held := unit.Held(q); !math.IsNaN(held) {
			visit(leaf{path, symbol, held})
		}
		return
	}
	if _, ok := v.Interface().(json.Marshaler); ok { // conditions and cautions
		return
	}
	switch {
	case v.CanFloat():
		visit(leaf{path, symbol, v.Float()})
	case v.CanInt():
		visit(leaf{path, symbol, float64(v.Int())})
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			name, how, _ := strings.Cut(f.Tag.Get("json"), ",")
			if !f.IsExported() || how == "omitzero" && v.Field(i).IsZero() {
				continue
			}
			inner := path
			if !f.Anonymous {
				inner = strings.TrimPrefix(path+"."+name, ".")
			}
			tag, _, _ := strings.Cut(f.Tag.Get("sym"), ",")
			numbersIn(v.Field(i), inner, tag, visit)
		}
	case v.Kind() == reflect.Slice, v.Kind() == reflect.Array:
		for i := range v.Len() {
			numbersIn(v.Index(i), path+"[]", symbol, visit)
		}
	}
}

type shownCase struct {
	name    string
	entry   calc.Entry
	in      json.RawMessage
	out     any
	working *reckon.Working
}

// everyWorking is the working of every example and of every case that has an answer.
func everyWorking(t *testing.T) iter.Seq[shownCase] {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	return func(yield func(shownCase) bool) {
		for _, e := range calc.Entries() {
			inputs := []testdata.Case{{ID: "example", In: json.RawMessage(e.Example)}}
			for _, c := range cases {
				if c.Func == e.ID {
					inputs = append(inputs, c)
				}
			}
			for i, o := range otherBranches {
				if o.id == e.ID {
					inputs = append(inputs, testdata.Case{ID: fmt.Sprint("branch", i), In: json.RawMessage(o.in)})
				}
			}
			if e.ID == "line-plan" {
				inputs = append(inputs, testdata.Case{ID: "hot", In: json.RawMessage(hotPlan(e.Example))})
			}
			for _, c := range inputs {
				r := runOnce(e, c.In)
				if strings.HasPrefix(c.ID, "branch") || c.ID == "hot" {
					require.NoError(t, r.err, e.ID)
				}
				if r.err == nil && !yield(shownCase{e.ID + "/" + c.ID, e, c.In, r.explained, &r.working}) {
					return
				}
			}
		}
	}
}

// Every number of an answer has a step that works it out, or is an input of
// the question under its own name. What is found by trial is put back into its
// relation. What nobody can key into a calculator is in the list notKeyedIn,
// with the reason. A 0 that stands for "not asked" needs no step, but then some
// other example shows the number.
func TestEveryNumberHasItsStep(t *testing.T) {
	listed, shown, zeros := map[string]bool{}, map[string]bool{}, map[string]bool{}
	wrong := map[string]string{}
	for c := range everyWorking(t) {
		q, err := c.entry.Input(string(c.in))
		require.NoError(t, err)
		given := map[string]bool{}
		numbersIn(q, "", "", func(l leaf) { given[fmt.Sprint(l.name(), l.value)] = true })
		asked := map[float64]bool{}
		numbersIn(q, "", "", func(l leaf) { asked[l.value] = true })
		for _, s := range c.working.Steps {
			if s.Kind == reckon.InputStep && !asked[s.Value] && s.Value != 0 && !(s.Value == 1 && s.ID == "baked") { // one gram, to find what it takes
				wrong[c.entry.ID+" given "+s.Symbol] = fmt.Sprintf("%s: %s is given, and is no number of the question", c.name, s.ID)
			}
			if s.Kind == reckon.TableStep && s.Source == "" {
				wrong[c.entry.ID+" given "+s.Symbol] = fmt.Sprintf("%s: %s has no source", c.name, s.ID)
			}
		}
		worked, echoed := map[float64][]string{}, map[float64][]string{}
		for i, s := range c.working.Steps {
			if s.Kind == reckon.WorkedStep || s.Kind == reckon.CarriedStep || s.Kind == reckon.RootStep && putBack(c.working.Steps[i:]) {
				worked[s.Value] = append(worked[s.Value], s.Symbol)
			}
			if s.Kind == reckon.InputStep {
				echoed[s.Value] = append(echoed[s.Value], s.Symbol)
			}
		}
		numbersIn(reflect.ValueOf(c.out), "", "", func(l leaf) {
			field := c.entry.ID + " " + l.path
			switch {
			case slices.ContainsFunc(worked[l.value], l.is):
				shown[field] = true
			case given[fmt.Sprint(l.name(), l.value)], l.symbol != "" && slices.ContainsFunc(echoed[l.value], l.is):
			case notKeyedIn[field] != "":
				listed[field] = true
			case l.value == 0:
				zeros[field] = true
			default:
				wrong[field] = fmt.Sprintf("%s: %v (%s) is in no step, but in %v", c.name, l.value, l.symbol, worked[l.value])
			}
		})
	}
	for _, field := range slices.Sorted(maps.Keys(wrong)) {
		t.Errorf("%s: %s", field, wrong[field])
	}
	for field := range zeros {
		if !shown[field] && notKeyedIn[field] == "" && wrong[field] == "" {
			t.Errorf("%s is 0 in every example, and has no step", field)
		}
	}
	for field := range notKeyedIn {
		assert.True(t, listed[field], "%s need not be in the list", field)
	}
}

// hotPlan is the plan with water that is warmer than the tap.
func hotPlan(plan string) string {
	return strings.NewReplacer(`"tap": "15 °C"`, `"tap": "15 °C", "hot_tap": "50 °C"`, `"friction": "24 C°"`, `"friction": "2 C°"`).Replace(plan)
}

// putBack reports whether a root, the first of the steps, goes into a check after it.
func putBack(steps []reckon.Step) bool {
	from := map[string]bool{steps[0].Symbol: true}
	for _, s := range steps[1:] {
		e, err := reckon.ParseExpression(s.Expression)
		if err != nil || !slices.ContainsFunc(e.Symbols(), func(symbol string) bool { return from[symbol] }) {
			continue
		}
		if s.Kind == reckon.CheckStep {
			return true
		}
		from[s.Symbol] = true
	}
	return false
}

// name is the last part of the path.
func (l leaf) name() string {
	return strings.TrimSuffix(l.path[strings.LastIndexByte(l.path, '.')+1:], "[]")
}

// is reports whether a symbol can be that of l.
func (l leaf) is(symbol string) bool {
	if l.symbol == "" || l.symbol == "-" {
		return true
	}
	if symbol+"_#" == l.symbol { // the same for all items
		return true
	}
	pattern := strings.ReplaceAll(regexp.QuoteMeta(l.symbol), "#", `[\pL\d_]+`)
	return regexp.MustCompile("^" + pattern + "$").MatchString(symbol)
}
