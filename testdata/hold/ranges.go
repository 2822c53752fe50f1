package hold

import (
	"encoding"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ranges: the range that a field's tag names is the range that Check holds it to: a
// value at a bound is not refused for it, one step beyond is.
func ranges(t *testing.T, e calc.Entry) {
	q := Ask(e)
	EachRange(q.in, nil, func(steps []reckon.Field, tag, items string) {
		t.Run(pathOf(steps), func(t *testing.T) {
			f := steps[len(steps)-1]
			if items != "" {
				holdsItems(t, q, steps, items)
			}
			if tag == "" || tag == "-" {
				return
			}
			typ := f.Type
			for typ.Kind() == reflect.Slice || typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Array {
				typ = typ.Elem()
			}
			low, high, ok := strings.Cut(tag, "..")
			require.True(t, ok, "range %q", tag)
			low, above := strings.CutPrefix(low, ">")
			high, below := strings.CutPrefix(high, "<")
			bound(t, q, steps, typ, low, above, math.Inf(-1))
			if high != "" {
				bound(t, q, steps, typ, high, below, math.Inf(1))
			}
			refusedAlone(t, q, steps)
			if typ.Kind() == reflect.Float64 || typ == reflect.TypeFor[unit.Temp]() {
				for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
					assert.Positive(t, refusedAt(q, steps, v), "%v is not refused", v)
				}
			}
		})
	})
}

// bound tries the value of a bound and the one a step beyond it. A bound that
// is open is refused itself.
func bound(t *testing.T, q Question, steps []reckon.Field, typ reflect.Type, text string, open bool, beyond float64) {
	at := reflect.New(typ)
	if u, ok := at.Interface().(encoding.TextUnmarshaler); ok {
		require.NoError(t, u.UnmarshalText([]byte(text)), "bound %q", text)
	} else {
		v, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err, "bound %q", text)
		SetNumber(at.Elem(), v)
	}
	v := numberOf(at.Elem())
	step := math.Nextafter(v, beyond)
	inside := math.Nextafter(v, -beyond)
	if at.Elem().CanInt() {
		step, inside = v+math.Copysign(1, beyond), v-math.Copysign(1, beyond)
	}
	optional := !steps[len(steps)-1].Required
	if open {
		step = v
	} else {
		inside = v
	}
	assert.Less(t, refusedAt(q, steps, inside), 2, "%v is refused, which is within the range at %s", inside, text)
	if optional && step == 0 {
		return // left out
	}
	assert.Positive(t, refusedAt(q, steps, step), "%v is not refused, which is out of the range at %s", step, text)
}

// holdsItems tries lists of the least and most items, and of one fewer and one more.
func holdsItems(t *testing.T, q Question, steps []reckon.Field, items string) {
	low, high, _ := strings.Cut(items, "..")
	if low == "" {
		holdsMost(t, q, steps, high)
		return
	}
	least, err := strconv.Atoi(low)
	require.NoError(t, err)
	most, err := strconv.Atoi(high)
	require.NoError(t, err)
	for n, want := range map[int]bool{least: false, most: false, least - 1: true, most + 1: true} {
		if n < 0 || n == 0 && !steps[len(steps)-1].Required {
			continue
		}
		refused := false
		for _, base := range q.bases() {
			list := WalkTo(base.Elem(), steps[:len(steps)-1]).FieldByIndex(steps[len(steps)-1].Index)
			list.Set(reflect.MakeSlice(list.Type(), n, n))
			if n > 1 && list.Index(0).CanFloat() {
				list.Index(0).SetFloat(1) // weighings that are all equal are refused as a whole
			}
			for _, bad := range wrong(base.Interface()) {
				refused = refused || bad.Field == pathOf(steps)
			}
		}
		assert.Equal(t, want, refused, "%d items", n)
	}
}

// holdsMost tries lists of the most items and of one more, where what a list
// must have depends on more than its length.
func holdsMost(t *testing.T, q Question, steps []reckon.Field, high string) {
	most, err := strconv.Atoi(high)
	require.NoError(t, err)
	for n, want := range map[int]bool{most: false, most + 1: true} {
		tooLong := false
		for _, base := range q.bases() {
			list := WalkTo(base.Elem(), steps[:len(steps)-1]).FieldByIndex(steps[len(steps)-1].Index)
			list.Set(reflect.MakeSlice(list.Type(), n, n))
			tooLong = tooLong || slices.ContainsFunc(wrong(base.Interface()), func(bad *reckon.InputError) bool {
				return bad.Field == pathOf(steps) && slices.Contains(strings.FieldsFunc(bad.Want, func(r rune) bool { return r < '0' || r > '9' }), high)
			})
		}
		assert.Equal(t, want, tooLong, "%d items", n)
	}
}

// refusedAt counts in how many of the two bases the field is refused with the
// value v. Zero all else, a bound may depend on a value that is not there; as
// in the example, another value may rule this one out.
func refusedAt(q Question, steps []reckon.Field, v float64) int {
	refused := 0
	for _, base := range q.bases() {
		SetNumber(WalkTo(base.Elem(), steps), v)
		if slices.ContainsFunc(wrong(base.Interface()), func(bad *reckon.InputError) bool { return bad.Field == leafPath(steps) }) {
			refused++
		}
	}
	return refused
}

// refusedAlone: of a value of the example that is put out of its range one thing is said, and nothing of any
// other field: who mends it mends all.
func refusedAlone(t *testing.T, question Question, steps []reckon.Field) {
	for _, v := range []float64{math.NaN(), 0, 1e-9, -1, 1, 1e3, 1e6, 1e9, 1e15} {
		q := question.Example()
		leaf := WalkTo(q.Elem(), steps)
		if leaf.IsZero() || len(wrong(q.Interface())) > 0 {
			return // not given, or in a list that became longer on the way
		}
		if math.IsNaN(v) && leaf.CanInt() {
			continue
		}
		SetNumber(leaf, v)
		bad := wrong(q.Interface())
		outOfRange := slices.ContainsFunc(bad, func(bad *reckon.InputError) bool {
			return bad.Field == leafPath(steps) && (bad.Kind == reckon.KindRange || bad.Kind == reckon.KindMissing)
		})
		if outOfRange && len(bad) > 1 {
			t.Errorf("%v is out of range, and of nothing else: %v", v, bad)
		}
	}
}

// Question is a calculation whose values are tried one by one. Its example is read once: each trial has a copy, and WalkTo
// copies the lists and pointers on its way.
type Question struct {
	in      reflect.Type
	example reflect.Value
}

// Ask reads the example of a calculation.
func Ask(e calc.Entry) Question {
	in, _ := e.Types()
	q, err := e.Read([]byte(e.Example))
	if err != nil {
		panic(err)
	}
	return Question{in, reflect.ValueOf(q).Elem()}
}

// Example returns a pointer to a copy of the example. What its lists hold is shared.
func (q Question) Example() reflect.Value {
	example := reflect.New(q.in)
	example.Elem().Set(q.example)
	return example
}

// bases are the zero query and the example.
func (q Question) bases() []reflect.Value { return []reflect.Value{reflect.New(q.in), q.Example()} }

// wrong tells what Check refuses of the question that q points to.
func wrong(q any) []*reckon.InputError {
	var c reckon.Checks
	q.(interface{ Check(c *reckon.Checks) }).Check(&c)
	return reckon.InputErrors(c.Err())
}

// WalkTo goes down to a struct; pointers get something to point to, lists two
// items, because a check may look at none where there are too few.
func WalkTo(v reflect.Value, steps []reckon.Field) reflect.Value {
	for _, f := range steps {
		v = first(v.FieldByIndex(f.Index))
	}
	return v
}

func first(v reflect.Value) reflect.Value {
	for {
		switch v.Kind() {
		case reflect.Pointer:
			if v.IsNil() {
				v.Set(reflect.New(v.Type().Elem()))
			} else {
				c := reflect.New(v.Type().Elem())
				c.Elem().Set(v.Elem())
				v.Set(c)
			}
			v = v.Elem()
		case reflect.Slice:
			n := max(2, v.Len())
			list := reflect.MakeSlice(v.Type(), n, n)
			reflect.Copy(list, v)
			v.Set(list)
			v = v.Index(0)
		case reflect.Array:
			v = v.Index(0)
		default:
			return v
		}
	}
}

// SetNumber puts the number into a quantity, a count or a plain number.
func SetNumber(v reflect.Value, x float64) {
	switch {
	case v.Type() == reflect.TypeFor[unit.Temp]():
		v.Set(reflect.ValueOf(unit.Celsius(x)))
	case v.CanInt():
		v.SetInt(int64(x))
	default:
		v.SetFloat(x)
	}
}

func numberOf(v reflect.Value) float64 {
	if t, ok := v.Interface().(unit.Temp); ok {
		return t.Celsius()
	}
	if v.CanInt() {
		return float64(v.Int())
	}
	return v.Float()
}

// EachRange visits every field with a range, and the number of items of every list with one.
func EachRange(t reflect.Type, steps []reckon.Field, visit func(steps []reckon.Field, tag, items string)) {
	for _, f := range reckon.Fields(t) {
		sf := t.FieldByIndex(f.Index)
		path := append(append([]reckon.Field{}, steps...), f)
		tag, items := sf.Tag.Get("range"), sf.Tag.Get("items")
		if tag != "" || items != "" {
			visit(path, tag, items)
		}
		inner := f.Type
		for inner.Kind() == reflect.Slice || inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Array {
			inner = inner.Elem()
		}
		// A "-" on a part says that its own ranges wait for more than a Check of the whole.
		if inner.Kind() == reflect.Struct && inner != reflect.TypeFor[unit.Temp]() && tag != "-" {
			EachRange(inner, path, visit)
		}
	}
}

// leafPath is the path of the value in the first item of every list.
func leafPath(steps []reckon.Field) string {
	p := pathOf(steps)
	if k := steps[len(steps)-1].Type.Kind(); k == reflect.Slice || k == reflect.Array {
		p += "[0]"
	}
	return p
}

// pathOf names the field as a refusal does, in the first item of every list on the way.
func pathOf(steps []reckon.Field) string {
	var b strings.Builder
	for i, f := range steps {
		if i > 0 {
			b.WriteByte('.')
		}
		b.WriteString(f.Name)
		if k := f.Type.Kind(); i < len(steps)-1 && (k == reflect.Slice || k == reflect.Array) {
			b.WriteString("[0]")
		}
	}
	return b.String()
}
