package whatif

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// leaf is one value in a question or an answer, with the path to it.
type leaf struct {
	path string
	v    reflect.Value
}

// mostLeaves bounds the values that are compared one by one.
const mostLeaves = 5000

// leavesOf lists the values in v, in the order of its fields: what was left out
// is not there. Where there are more than most it stops.
func leavesOf(v reflect.Value, path string, most int, out []leaf) []leaf {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return out
		}
		v = v.Elem()
	}
	if len(out) > most {
		return out
	}
	if v.Type() == tempType && !v.Addr().Interface().(*unit.Temp).Given() {
		return out
	}
	if kindOf(v.Type()) != "" {
		return append(out, leaf{path, v})
	}
	switch v.Kind() {
	case reflect.Struct:
		for _, f := range reckon.Fields(v.Type()) {
			if inner := v.FieldByIndex(f.Index); f.Required || !inner.IsZero() {
				out = leavesOf(inner, strings.TrimPrefix(path+"."+f.Name, "."), most, out)
			}
		}
	case reflect.Slice, reflect.Array:
		names := itemNames(v)
		for i := range v.Len() {
			out = leavesOf(v.Index(i), path+"["+names[i]+"]", most, out)
		}
	}
	return out
}

// leaves lists the values of the question.
func (s *Subject) leaves() []leaf {
	return leavesOf(reflect.ValueOf(s.question).Elem(), "", math.MaxInt, nil)
}

// itemNames are the names of the items of a list if each has one of its own
// that a path can hold, otherwise their numbers.
func itemNames(v reflect.Value) []string {
	out := make([]string, v.Len())
	seen := map[string]bool{}
	for i := range out {
		name := reckon.ItemName(v.Index(i))
		if _, err := strconv.Atoi(name); name == "" || err == nil || seen[name] || strings.ContainsAny(name, "[]") {
			for j := range out {
				out[j] = strconv.Itoa(j)
			}
			return out
		}
		seen[name], out[i] = true, name
	}
	return out
}

// everyOutput lists every value in the answers of the cases.
func everyOutput(c *reckon.Checks, cases []*solved) []Output {
	var paths []string
	seen := map[string]bool{}
	for _, k := range cases {
		w := k.subject.model(nil, nil).worker()
		_ = w.solve() // what is refused is told when the outputs are known
		for i, p := range w.parts {
			if w.lost[i] {
				continue
			}
			for _, l := range leavesOf(reflect.ValueOf(p.answer).Elem(), k.subject.named(w.m.parts[i]), mostLeaves, nil) {
				if !seen[l.path] {
					seen[l.path] = true
					paths = append(paths, l.path)
				}
			}
		}
	}
	if len(paths) > mostLeaves {
		c.Fail("outputs", "missing", "the outputs to compare: the answers have more than "+strconv.Itoa(mostLeaves)+" values")
		return nil
	}
	out := make([]Output, len(paths))
	for i, p := range paths {
		out[i].Path = p
	}
	return out
}

// inputsThatDiffer lists every input that is not the same in all cases.
func inputsThatDiffer(c *reckon.Checks, cases []*solved, sys unit.System) []Difference {
	out := []Difference{}
	var paths []string
	at := make([]map[string]reflect.Value, len(cases))
	for i, k := range cases {
		at[i] = map[string]reflect.Value{}
		for _, l := range k.subject.leaves() {
			at[i][l.path] = l.v
			if !slices.ContainsFunc(at[:i], func(m map[string]reflect.Value) bool { return m[l.path].IsValid() }) {
				paths = append(paths, l.path)
			}
		}
	}
	for _, p := range paths {
		var d difference
		for i := range cases {
			if v := at[i][p]; v.IsValid() && d.Kind == "" {
				d.Path, d.Kind = p, kindOf(v.Type())
				d.zero, _ = quantityOf(v.Type())
				d.column(c, "units", "", sys)
			}
		}
		for i := range cases {
			v := at[i][p]
			held, text := read(v)
			before, _ := read(at[0][p])
			cases[i].inputs[[2]float64{before, held}] = true
			d.Cases = append(d.Cases, d.cell(held, text, v.IsValid()))
		}
		if !d.same() {
			out = append(out, d.Difference)
		}
	}
	return out
}

// read returns the number in v in the unit held, or its text.
func read(v reflect.Value) (float64, string) {
	switch {
	case !v.IsValid():
		return math.NaN(), ""
	case v.Type() == tempType:
		return v.Addr().Interface().(*unit.Temp).Celsius(), ""
	case v.Kind() == reflect.String:
		return math.NaN(), v.String()
	case v.Kind() == reflect.Bool && v.Bool():
		return 1, ""
	case v.Kind() == reflect.Bool:
		return 0, ""
	case v.CanInt():
		return float64(v.Int()), ""
	}
	return v.Float(), ""
}
