package hold

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// lawsOf returns the laws by the calculation.
func lawsOf(t testing.TB) map[string][]testdata.Law {
	laws, err := testdata.Laws()
	require.NoError(t, err)
	out := map[string][]testdata.Law{}
	for _, l := range laws {
		out[l.ID] = append(out[l.ID], l)
	}
	return out
}

// with returns the calculation with the example that the law starts from.
func with(t testing.TB, e calc.Entry, l testdata.Law) calc.Entry {
	if len(l.With) > 0 {
		patched, err := testdata.Edge{}.Patch([]byte(e.Example), l.With)
		require.NoError(t, err)
		e.Example = string(patched)
	}
	return e
}

// law holds the answer to the question, and to the one with more, against the law. Where the last digits of a question
// move a number by more than the law allows, as they do the scatter about a line that is hit, that much is forgiven. It is
// false where there is no answer to hold, and moved says whether a number that may change has.
func law(t testing.TB, e calc.Entry, l testdata.Law, q reflect.Value, factor float64) (held, moved bool) {
	for _, name := range l.Without {
		partAt(q, name).SetZero()
	}
	one, ok := solved(e, q)
	if !ok {
		return false, false
	}
	text, err := written(q.Elem(), unit.Metric, same)
	require.NoError(t, err)
	if l.To != "" {
		return adds(t, l, q, one, string(text)), true
	}
	if l.Back != "" {
		return back(t, e, l, q, one, string(text))
	}
	asked := copied(t, e, text)
	for _, path := range l.More {
		for _, p := range numbersAt(asked, path) {
			x, whole := more(p, factor)
			if !whole {
				return false, false
			}
			SetNumber(p, x)
		}
	}
	two, ok := solved(e, asked)
	if !ok {
		return false, false
	}
	for _, way := range []struct {
		paths []string
		says  string
		holds func(was, is, within float64) bool
	}{
		{l.Rises, "fell", func(was, is, within float64) bool { return is >= was-within }},
		{l.Falls, "rose", func(was, is, within float64) bool { return is <= was+within }},
		{l.Grows, "did not grow by the factor", func(was, is, within float64) bool { return math.Abs(is-float64(was*factor)) <= within*factor }},
		{l.Shrinks, "did not shrink by the factor", func(was, is, within float64) bool { return math.Abs(is-was/factor) <= within }},
		{l.Stays, "did not stay", func(was, is, within float64) bool { return math.Abs(is-was) <= within }},
	} {
		for _, path := range way.paths {
			was, is := numbersAt(one, path), numbersAt(two, path)
			for i := range min(len(was), len(is)) {
				a, b := numberOf(was[i]), numberOf(is[i])
				held, moved = true, moved || a != b
				within := 1e-9 * max(math.Abs(a), math.Abs(b), 1e-9)
				if !way.holds(a, b, within) && !way.holds(a, b, within+100*(blur(e, q, path, i, a)+blur(e, asked, path, i, b))) {
					t.Errorf("%s: %s: %s %s: %v with %s times %v, %v without (%s)", e.ID, text, path, way.says, is[i].Interface(), strings.Join(l.More, ", "), factor, was[i].Interface(), l.Why)
				}
			}
		}
	}
	return held, moved || len(l.Stays) > 0
}

// more is the number times the factor, and a temperature, whose 0 is no nothing, warmer by up to some degrees.
// It is false for what is counted and would not be whole.
func more(v reflect.Value, factor float64) (float64, bool) {
	x := numberOf(v)
	switch v.Type() {
	case reflect.TypeFor[unit.Temp](), reflect.TypeFor[unit.TempDelta]():
		return x + float64(5*(factor-1)), true
	}
	return x * factor, !v.CanInt() || x*factor == math.Trunc(x*factor)
}

// adds holds what adds up.
func adds(t testing.TB, l testdata.Law, q, answer reflect.Value, text string) bool {
	sum, size := 0.0, 0.0
	at := func(path string) []reflect.Value {
		if name, ok := strings.CutPrefix(path, "given "); ok {
			return numbersAt(q, name)
		}
		return numbersAt(answer, path)
	}
	for _, path := range l.Sum {
		sign := 1.0
		if rest, less := strings.CutPrefix(path, "-"); less {
			path, sign = rest, -1
		}
		for _, v := range at(path) {
			sum += float64(sign * numberOf(v))
			size = max(size, math.Abs(numberOf(v)))
		}
	}
	to := at(l.To)
	if len(to) == 0 {
		return false
	}
	want := numberOf(to[0])
	assert.InDelta(t, want, sum, 1e-9*max(size, math.Abs(want), 1e-9), "%s: %s: %s do not add up to %s (%s)", l.ID, text, strings.Join(l.Sum, ", "), l.To, l.Why)
	return true
}

// back asks the calculation that leads back, and wants what went in. Where the last digits of what it is asked move
// what it answers by more, that much is forgiven.
func back(t testing.TB, e calc.Entry, l testdata.Law, q, answer reflect.Value, text string) (held, moved bool) {
	inverse, ok := calc.Lookup(l.Back)
	require.True(t, ok, "no calculation is called %s", l.Back)
	in, _ := inverse.Types()
	ask := reflect.New(in)
	for _, f := range reckon.Fields(in) {
		from := partAt(q, f.Name)
		if name, ok := l.From[f.Name]; ok {
			from = partAt(answer, name)
		}
		if from.IsValid() && from.Type() == f.Type {
			ask.Elem().FieldByIndex(f.Index).Set(from)
		}
	}
	got, ok := solved(inverse, ask)
	if !ok {
		return false, false
	}
	for input, output := range l.Gives {
		was, is := numbersAt(q, input), numbersAt(got, output)
		for i := range min(len(was), len(is)) {
			held = true
			a, b := numberOf(was[i]), numberOf(is[i])
			if off := math.Abs(a - b); off > 1e-9*max(math.Abs(a), math.Abs(b)) && off > 100*blur(inverse, ask, output, i, b) {
				t.Errorf("%s: %s: %s is %v, and by %s %v (%s)", e.ID, text, input, was[i].Interface(), l.Back, is[i].Interface(), l.Why)
			}
		}
	}
	return held, held
}

// blur is how much a number of the answer moves when the inputs move by their last digits.
func blur(e calc.Entry, q reflect.Value, path string, i int, was float64) (most float64) {
	for n := range 6 {
		text, err := written(q.Elem(), unit.Metric, nudge(n))
		if err != nil {
			return math.Inf(1)
		}
		moved, err := e.Read(text)
		if err != nil {
			return math.Inf(1)
		}
		answer, ok := solved(e, reflect.ValueOf(moved))
		if !ok {
			return math.Inf(1)
		}
		if at := numbersAt(answer, path); i < len(at) {
			most = max(most, math.Abs(numberOf(at[i])-was))
		}
	}
	return most
}

// partAt returns the part of what v points to that the path of names leads to.
func partAt(v reflect.Value, path string) reflect.Value {
	v = v.Elem()
	for name := range strings.SplitSeq(path, ".") {
		var next reflect.Value
		for _, f := range reckon.Fields(v.Type()) {
			if f.Name == name {
				next = v.FieldByIndex(f.Index)
			}
		}
		if v = next; !v.IsValid() {
			break
		}
	}
	return v
}

// solved returns a pointer to the answer, if there is one.
func solved(e calc.Entry, q reflect.Value) (reflect.Value, bool) {
	answer, solve := e.Repeat(q.Interface(), nil)
	err := solve()
	return reflect.ValueOf(answer), err == nil
}

// copied returns a pointer to a copy of the question that was written.
func copied(t testing.TB, e calc.Entry, text []byte) reflect.Value {
	q, err := e.Read(text)
	require.NoError(t, err, "%s", text)
	return reflect.ValueOf(q)
}

// numbersAt returns the numbers that the path leads to in what v points to: "batch", "loss.percent", "rows[].mass". One that
// was left out has none.
func numbersAt(v reflect.Value, path string) []reflect.Value {
	at := []reflect.Value{v.Elem()}
	for name := range strings.SplitSeq(path, ".") {
		name, every := strings.CutSuffix(name, "[]")
		var next []reflect.Value
		for _, v := range at {
			for v.Kind() == reflect.Pointer && !v.IsNil() {
				v = v.Elem()
			}
			if v.Kind() != reflect.Struct {
				continue
			}
			for _, f := range reckon.Fields(v.Type()) {
				part := v.FieldByIndex(f.Index)
				switch {
				case f.Name != name:
				case every:
					for i := range part.Len() {
						next = append(next, part.Index(i))
					}
				default:
					next = append(next, part)
				}
			}
		}
		at = next
	}
	var out []reflect.Value
	for _, v := range at {
		if isNumber(v) && (!v.IsZero() || v.Type() != reflect.TypeFor[unit.Temp]()) {
			out = append(out, v)
		}
	}
	return out
}

// holdsLaw wants the law to hold of the example, for more and for less, and that it could fail there: that the paths lead
// to numbers, and a number that is said to change does.
func holdsLaw(t *testing.T, e calc.Entry, l testdata.Law) {
	e = with(t, e, l)
	held, moved := false, false
	for _, factor := range []float64{2, 1.001, 3, 1.1, 1.5} {
		h, m := law(t, e, l, Example(e), factor)
		held, moved = held || h, moved || m
		less := Example(e) // from less to the example, where more than the example is refused
		for _, path := range l.More {
			for _, p := range numbersAt(less, path) {
				if x, whole := more(p, 1/factor); whole {
					SetNumber(p, x)
				}
			}
		}
		h, m = law(t, e, l, less, factor)
		held, moved = held || h, moved || m
	}
	for _, path := range l.More {
		assert.NotEmpty(t, numbersAt(Example(e), path), "no input is called %s", path)
	}
	assert.True(t, held, "there is nothing that the law could be held of")
	assert.True(t, moved, "nothing changes: the law could not fail")
}

// lawName names the law in a test.
func lawName(l testdata.Law) string {
	switch {
	case l.To != "":
		return "sum to " + l.To
	case l.Back != "":
		return "back by " + l.Back
	}
	return fmt.Sprint("more ", strings.Join(l.More, ","))
}
