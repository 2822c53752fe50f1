package hold

import (
	"encoding/json"
	"fmt"
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

// An Answer is what an input comes to, and how.
type Answer struct {
	testdata.Case // of an input that no case has, its id and In alone

	Out     any
	Working reckon.Working
	Err     error
}

// Answers evaluates the calculation's example, its cases, and the inputs beside them that show
// what none of those does.
func Answers(t *testing.T, e calc.Entry, cases []testdata.Case) []Answer {
	list := []Answer{{Case: testdata.Case{ID: "example", In: json.RawMessage(e.Example)}}}
	for _, c := range cases {
		if c.Func == e.ID {
			list = append(list, Answer{Case: c})
		}
	}
	for i, in := range otherBranches(e) {
		list = append(list, Answer{Case: testdata.Case{ID: fmt.Sprint("branch", i+1), In: json.RawMessage(in)}})
	}
	for i := range list {
		a := &list[i]
		if a.Out, a.Err = e.Run(a.In, &a.Working); a.Want == nil {
			require.NoError(t, a.Err, "%s/%s", e.ID, a.ID)
		}
	}
	return list
}

// sheet works every step of a working out again from what it says, so that the relation that a
// person reads is the one that was computed.
func sheet(t *testing.T, a *Answer) {
	steps := a.Working.Steps
	require.NotEmpty(t, steps)
	assert.NoError(t, testdata.Retrace(&a.Working, 1e-9))
	at := len(steps) - 1
	for steps[at].Kind == reckon.CheckStep {
		at--
	}
	ends := false
	numbersIn(reflect.ValueOf(a.Out), "", "", func(l leaf) { ends = ends || l.value == steps[at].Value })
	assert.True(t, ends, "the last step (%s = %v) is not a value of the answer", steps[at].Symbol, steps[at].Value)
	for _, s := range steps {
		if worked := s.Kind == reckon.WorkedStep || s.Kind == reckon.CheckStep; worked && s.Expression == "" {
			t.Errorf("nothing says how %s = %v comes about", s.Symbol, s.Value)
		}
		saysWhatItConverts(t, s)
	}
}

var guard = regexp.MustCompile(`\de-\d`)

// saysWhatItConverts: a number that stands in an expression only to convert says so, and what
// guards the code against binary rounding stands in none.
func saysWhatItConverts(t *testing.T, s reckon.Step) {
	assert.False(t, guard.MatchString(s.Expression), "%s = %s", s.Symbol, s.Expression)
	e, err := reckon.ParseExpression(s.Expression)
	if err != nil || strings.HasPrefix(s.ID, "half-width of the limits at point") { // which has the number of the point in it
		return
	}
	for _, constant := range []string{"60", "3600", "1000", "3.6", "24", "86400", "1440"} {
		if hasNumber(e, constant) && !strings.Contains(s.Constants, constant+" ") {
			t.Errorf("what is %s in %s = %s?", constant, s.Symbol, s.Expression)
		}
	}
}

func hasNumber(e *reckon.Expression, text string) bool {
	return e.Op == 'n' && e.Name == text || slices.ContainsFunc(e.Args, func(a *reckon.Expression) bool { return hasNumber(a, text) })
}

// steps: every number of an answer has a step that works it out, or is an input of
// the question under its own name. What is found by trial is put back into its
// relation. What nobody can key into a calculator is in the list notKeyedIn,
// with the reason. A 0 that stands for "not asked" needs no step, but then some
// other example shows the number.
func steps(t *testing.T, e calc.Entry, answers []Answer) {
	reasons := notKeyedIn(t, e)
	listed, shown, zeros := map[string]bool{}, map[string]bool{}, map[string]bool{}
	wrong := map[string]string{}
	for _, a := range answers {
		if a.Err != nil {
			continue
		}
		q, err := e.Read(a.In)
		require.NoError(t, err)
		given, asked := map[string]bool{}, map[float64]bool{}
		numbersIn(reflect.ValueOf(q), "", "", func(l leaf) { given[fmt.Sprint(l.name(), l.value)], asked[l.value] = true, true })
		worked, echoed := map[float64][]string{}, map[float64][]string{}
		for i, s := range a.Working.Steps {
			switch s.Kind {
			case reckon.InputStep:
				echoed[s.Value] = append(echoed[s.Value], s.Symbol)
				if !asked[s.Value] && s.Value != 0 && !(s.Value == 1 && s.ID == "baked") { // one gram, to find what it takes
					wrong["given "+s.Symbol] = fmt.Sprintf("%s: %s is given, and is no number of the question", a.ID, s.ID)
				}
			case reckon.TableStep:
				if s.Source == "" {
					wrong["given "+s.Symbol] = fmt.Sprintf("%s: %s has no source", a.ID, s.ID)
				}
			case reckon.WorkedStep, reckon.CarriedStep:
				worked[s.Value] = append(worked[s.Value], s.Symbol)
			case reckon.RootStep:
				if putBack(a.Working.Steps[i:]) {
					worked[s.Value] = append(worked[s.Value], s.Symbol)
				}
			}
		}
		numbersIn(reflect.ValueOf(a.Out), "", "", func(l leaf) {
			switch {
			case slices.ContainsFunc(worked[l.value], l.is):
				shown[l.path] = true
			case given[fmt.Sprint(l.name(), l.value)], l.symbol != "" && slices.ContainsFunc(echoed[l.value], l.is):
			case reasons[l.path] != "":
				listed[l.path] = true
			case l.value == 0:
				zeros[l.path] = true
			default:
				wrong[l.path] = fmt.Sprintf("%s: %v (%s) is in no step, but in %v", a.ID, l.value, l.symbol, worked[l.value])
			}
		})
	}
	for _, field := range slices.Sorted(maps.Keys(wrong)) {
		t.Errorf("%s: %s", field, wrong[field])
	}
	for field := range zeros {
		if !shown[field] && reasons[field] == "" && wrong[field] == "" {
			t.Errorf("%s is 0 in every example, and has no step", field)
		}
	}
	for field := range reasons {
		assert.True(t, listed[field], "%s need not be in the list", field)
	}
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

// leaf is one number of a question or an answer.
type leaf struct {
	path   string // without the numbers of list items
	symbol string // its tag
	value  float64
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
