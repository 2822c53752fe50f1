// Package calc is the reference calculator: every calculation of the library
// by its id, from JSON to JSON, over the very functions that Go callers use.
//
//	result, err := calc.Eval("curls", []byte(`{"length":"300 mm","thickness":"5 mm"}`), calc.Options{})
//
// The package describe says what each is about: its question, relation, inputs
// with units and ranges, outputs, sources and a worked example, for a person or
// a program. The folder reference holds all of it for reading.
package calc

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

	of calculation
}

// Types returns the types of the calculation and of its answer.
func (e Entry) Types() (in, out reflect.Type) { return e.of.types() }

// Func returns the Go name of the calculation, such as "doughmath.WaterTemperature".
func (e Entry) Func() string {
	in, _ := e.of.types()
	return in.String()
}

// Run evaluates the input given as JSON and returns the calculation's own
// result struct. It returns the calculation's error, or an *[reckon.InputError]
// for each thing that is wrong with the JSON.
func (e Entry) Run(data []byte, w *reckon.Working) (any, error) {
	out, err := e.run(data, w)
	if err != nil {
		return nil, err
	}
	return reflect.ValueOf(out).Elem().Interface(), nil
}

// Read returns a pointer to the question that the JSON holds, for a program
// that changes it between answers. It returns an *[reckon.InputError] for each
// thing that is wrong with the JSON; ranges are for the answer to refuse.
func (e Entry) Read(data []byte) (q any, err error) { return e.of.read(e.ID, data) }

// Repeat returns a pointer to an answer, and a function that solves the
// question that q points to into it, as the question stands at each call:
// see [reckon.Repeat]. q is one that [Entry.Read] returned, or its copy.
func (e Entry) Repeat(q any, vary []string) (answer any, solve func() error) {
	return e.of.repeat(q, vary)
}

// Show records how the answer to the question comes about. Both are those of [Entry.Repeat].
func (e Entry) Show(q any, w *reckon.Working, answer any) { e.of.show(q, w, answer) }

// run returns a pointer to the answer.
func (e *Entry) run(data []byte, w *reckon.Working) (any, error) {
	q, err := e.of.read(e.ID, data)
	if err != nil {
		return nil, err
	}
	out, err := e.of.solve(q, w)
	if err != nil {
		return nil, reckon.AsTyped(err, q, data)
	}
	if w != nil {
		w.AsTyped(data)
	}
	return out, nil
}

// calculation is what the calculator does with one type of calculation. q and
// answers are pointers.
type calculation interface {
	types() (in, out reflect.Type)
	read(id string, data []byte) (q any, err error)
	check(q any, c *reckon.Checks)
	solve(q any, w *reckon.Working) (answer any, err error)
	repeat(q any, vary []string) (answer any, solve func() error)
	show(q any, w *reckon.Working, answer any)
	writer() *outPlan
}

// kind is the calculation Q with the answer R. How both are read and written is
// worked out when it is first used: most programs use a few.
type kind[Q reckon.Calculation[R], R any] struct {
	used    sync.Once
	decoder *reckon.Decoder[Q]
	plan    *outPlan
}

func (k *kind[Q, R]) ready() *kind[Q, R] {
	k.used.Do(func() { k.decoder, k.plan = reckon.NewDecoder[Q](), newOutPlan(reflect.TypeFor[R]()) })
	return k
}

func (*kind[Q, R]) types() (in, out reflect.Type) { return reflect.TypeFor[Q](), reflect.TypeFor[R]() }

func (k *kind[Q, R]) read(id string, data []byte) (any, error) {
	return k.ready().decoder.Decode(id, data)
}

func (*kind[Q, R]) check(q any, c *reckon.Checks) { (*q.(*Q)).Check(c) }

func (*kind[Q, R]) solve(q any, w *reckon.Working) (any, error) {
	out := new(R)
	var err error
	if *out, err = (*q.(*Q)).Solve(); err != nil {
		return nil, err
	}
	if w != nil {
		(*q.(*Q)).Show(w, *out)
	}
	return out, nil
}

func (k *kind[Q, R]) writer() *outPlan { return k.ready().plan }

func (*kind[Q, R]) repeat(q any, vary []string) (any, func() error) {
	out := new(R)
	return out, reckon.Repeat(q.(*Q), out, vary)
}

func (*kind[Q, R]) show(q any, w *reckon.Working, answer any) { (*q.(*Q)).Show(w, *answer.(*R)) }

// ask describes one calculation. The question, the example and the inverses are
// all that is written here; the rest comes from the calculation itself.
func ask[Q reckon.Calculation[R], R any](question, example string, inverses ...string) Entry {
	var zero Q
	return Entry{ID: zero.ID(), Question: question, Example: example, Inverses: inverses, of: new(kind[Q, R])}
}

// An index is every entry, station by station, and where to find each.
type index struct {
	entries []Entry
	byID    map[string]*Entry
}

// table is made once, when it is first asked for, and never changes.
var table = sync.OnceValue(newIndex)

func newIndex() *index {
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
		{"set-up", setUpEntries()},
		{"faults", faultEntries()},
		{"day", dayEntries()},
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
}

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
		_, out := c.Types()
		for _, f := range reckon.Fields(out) {
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
