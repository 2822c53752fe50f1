package calc_test

import (
	"encoding/json"
	"fmt"
	"iter"
	"math"
	"reflect"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func numbersIn(v reflect.Value, path string, visit func(path string, v float64)) {
	for v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	if q, ok := v.Interface().(unit.Quantity); ok {
		if t, ok := q.(unit.Temp); ok && !t.Given() {
			return
		}
		visit(path, unit.Held(q))
		return
	}
	if _, ok := v.Interface().(json.Marshaler); ok {
		return
	}
	if _, ok := v.Interface().(interface{ MarshalText() ([]byte, error) }); ok {
		return
	}
	switch {
	case v.CanFloat():
		visit(path, v.Float())
	case v.CanInt():
		visit(path, float64(v.Int()))
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() {
				continue
			}
			name, how, _ := strings.Cut(f.Tag.Get("json"), ",")
			if how == "omitzero" && v.Field(i).IsZero() {
				continue
			}
			if name == "-" {
				continue
			}
			p := path + "." + name
			if f.Anonymous && name == "" {
				p = path
			}
			numbersIn(v.Field(i), p, visit)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			numbersIn(v.Index(i), path+"[]", visit)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			numbersIn(v.MapIndex(k), path+"."+fmt.Sprint(k), visit)
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
			for _, c := range inputs {
				w := new(reckon.Working)
				out, err := e.Run(c.In, w)
				if err == nil && !yield(shownCase{e.ID + "/" + c.ID, e, c.In, out, w}) {
					return
				}
			}
		}
	}
}

func TestEveryNumber(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	missing := map[string]map[string]string{}
	for _, e := range calc.Entries() {
		inputs := []testdata.Case{{ID: "example", In: json.RawMessage(e.Example)}}
		for _, c := range cases {
			if c.Func == e.ID {
				inputs = append(inputs, c)
			}
		}
		for _, c := range inputs {
			var w reckon.Working
			out, err := e.Run(c.In, &w)
			if err != nil {
				continue
			}
			in, err := e.Input(string(c.In))
			require.NoError(t, err)
			given := map[string]float64{}
			numbersIn(reflect.ValueOf(in), "", func(p string, v float64) { given[p[strings.LastIndex(p, ".")+1:]] = v })
			steps := map[float64]string{}
			for _, s := range w.Steps {
				if s.Expression != "" {
					steps[s.Value] = "step"
				} else if s.Symbol != "" && steps[s.Value] == "" {
					steps[s.Value] = "given"
				}
			}
			numbersIn(reflect.ValueOf(out), "", func(p string, v float64) {
				if steps[v] == "step" || math.IsNaN(v) {
					return
				}
				if g, ok := given[p[strings.LastIndex(p, ".")+1:]]; ok && g == v {
					return
				}
				if missing[e.Func()+" "+e.ID] == nil {
					missing[e.Func()+" "+e.ID] = map[string]string{}
				}
				missing[e.Func()+" "+e.ID][p] = fmt.Sprint(steps[v], " ", c.ID, " ", v)
			})
		}
	}
	var ids []string
	for id := range missing {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	n := 0
	for _, id := range ids {
		fmt.Println(id)
		var ps []string
		for p := range missing[id] {
			ps = append(ps, p)
		}
		sort.Strings(ps)
		for _, p := range ps {
			n++
			fmt.Println("     ", p, "  --", missing[id][p])
		}
	}
	fmt.Println(len(ids), n)
}
