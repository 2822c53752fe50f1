// Package calc is the reference calculator: every calculation of the library
// by its id, from JSON to JSON, over the very functions that Go callers use.
//
//	result, err := calc.Eval("curls", []byte(`{"length":"300 mm","thickness":"5 mm"}`), calc.Options{})
//
// An [Entry] also says what a calculation is about: its question, relation,
// inputs with units and ranges, outputs, sources and a worked example, for a
// person ([Entry.Describe]) or a program ([Entry.InputSchema]). The page
// REFERENCE.md holds all of it for reading.
package calc

//go:generate go test -count=1 -run ^TestGenerated$ . -write

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/reckon"
)

// An Entry is one calculation that the calculator can do.
type Entry struct {
	ID       string   // such as "water-temperature"
	Station  string   // the part of the work that it belongs to, such as "temperature" or "divider"
	Question string   // what a person would ask
	Example  string   // an input that works, as JSON
	Inverses []string // ids of the calculations that solve the same relation for another unknown

	goName  string // "doughmath.WaterTemperature"
	in, out reflect.Type
	read    func(data []byte) (any, error) // a pointer to the calculation
	encode  *outPlan
	check   func(q any, c *reckon.Checks)                               // q points to the calculation
	solve   func(q any, w *reckon.Working) (reflect.Value, error)       // q points to the calculation; the answer is addressable
	call    func(data []byte, w *reckon.Working) (reflect.Value, error) // the same from JSON
}

// Func returns the Go name of the function behind the entry, such as "doughmath.WaterTemperature".
func (e Entry) Func() string { return e.goName }

// Run evaluates the input given as JSON and returns the function's own result
// struct. It returns the function's error, or an *[reckon.InputError] for
// each thing that is wrong with the JSON.
func (e Entry) Run(data []byte, w *reckon.Working) (any, error) {
	out, err := e.call(data, w)
	if err != nil {
		return nil, err
	}
	return out.Interface(), nil
}

// ask describes one calculation. The question, the example and the inverses are
// all that is written here; the rest comes from the calculation itself.
func ask[Q reckon.Calculation[R], R any](question, example string, inverses ...string) Entry {
	var zero Q
	e := Entry{
		ID: zero.ID(), Question: question, Example: example, Inverses: inverses,
		in: reflect.TypeFor[Q](), out: reflect.TypeFor[R](),
	}
	e.goName = e.in.String()
	decoder := reckon.NewDecoder[Q]()
	e.encode = newOutPlan(e.out)
	e.read = func(data []byte) (any, error) { return decoder.Decode(e.ID, data) }
	e.check = func(q any, c *reckon.Checks) { (*q.(*Q)).Check(c) }
	e.solve = func(q any, w *reckon.Working) (reflect.Value, error) {
		out := new(R)
		var err error
		if *out, err = (*q.(*Q)).Solve(); err != nil {
			return reflect.Value{}, err
		}
		if w != nil {
			(*q.(*Q)).Show(w, *out)
		}
		return reflect.ValueOf(out).Elem(), nil
	}
	e.call = func(data []byte, w *reckon.Working) (reflect.Value, error) {
		q, err := e.read(data)
		if err != nil {
			return reflect.Value{}, err
		}
		out, err := e.solve(q, w)
		if err != nil {
			return out, reckon.AsTyped(err, q, data)
		}
		return out, nil
	}
	return e
}

// An index is every entry, station by station, and where to find each.
type index struct {
	entries []Entry
	byID    map[string]*Entry
}

// table is made once, when it is first asked for, and never changes.
var table = sync.OnceValue(func() *index {
	t := &index{byID: map[string]*Entry{}}
	for _, station := range []struct {
		name    string
		entries []Entry
	}{
		{"formula", formulaEntries()},
		{"temperature", temperatureEntries()},
		{"batch", batchEntries()},
		{"divider", dividerEntries()},
		{"weight", weightEntries()},
		{"proofer", proofEntries()},
		{"moulder", molderEntries()},
		{"line", lineEntries()},
	} {
		for _, e := range station.entries {
			e.Station = station.name
			t.entries = append(t.entries, e)
		}
	}
	for i := range t.entries {
		t.byID[t.entries[i].ID] = &t.entries[i]
	}
	return t
})

// Entries returns every calculation, station by station in the order in which
// dough passes them.
func Entries() []Entry {
	all := slices.Clone(table().entries)
	for i := range all {
		all[i].Inverses = slices.Clone(all[i].Inverses)
	}
	return all
}

// Lookup returns the calculation with the given id.
func Lookup(id string) (Entry, bool) {
	e, ok := table().byID[id]
	if !ok {
		return Entry{}, false
	}
	out := *e
	out.Inverses = slices.Clone(e.Inverses)
	return out, true
}

// unknown says that no calculation has the id, and which one may be meant.
func unknown(id string) error {
	var ids []string
	for _, e := range table().entries {
		ids = append(ids, e.ID)
	}
	want := "the id of a calculation, one of those in the list"
	if near := nearest.Of(id, ids); near != "" {
		want = strconv.Quote(near) + " perhaps"
	}
	if len(id) > 64 {
		id = strings.ToValidUTF8(id[:64], "") + "…"
	}
	return &reckon.InputError{Func: "calc", Field: "id", Value: strconv.Quote(id), Want: want}
}

// Solving returns the calculation that finds the output with the given name:
// the entry itself or one of its inverses.
func (e Entry) Solving(output string) (Entry, error) {
	candidates := []Entry{e}
	for _, id := range e.Inverses {
		if inverse, ok := Lookup(id); ok {
			candidates = append(candidates, inverse)
		}
	}
	var known []string
	for _, c := range candidates {
		for _, f := range reckon.Fields(c.out) {
			if f.Type.Implements(notedType) {
				continue
			}
			if f.Name == output {
				return c, nil
			}
			if !slices.Contains(known, f.Name) {
				known = append(known, f.Name)
			}
		}
	}
	want := "one of " + strings.Join(known, ", ")
	if near := nearest.Of(output, known); near != "" {
		want = strconv.Quote(near) + " perhaps; " + want
	}
	return Entry{}, &reckon.InputError{Func: e.ID, Field: "the wanted output", Value: strconv.Quote(output), Want: want}
}
