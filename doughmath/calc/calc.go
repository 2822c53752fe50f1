// Package calc is the reference calculator: every calculation of the library
// by its id, from JSON to JSON, over the very functions that Go callers use.
package calc

import (
	"reflect"
	"runtime"
	"slices"
	"strings"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/internal/strictjson"
)

// An Entry is one calculation that the calculator can do.
type Entry struct {
	ID       string   // such as "water-temperature"
	Question string   // what a person would ask
	Example  string   // an input that works, as JSON
	Inverses []string // ids of the calculations that solve the same relation for another unknown

	goName  string // "doughmath.WaterTemperature"
	in, out reflect.Type
	run     func(data []byte, w *doughmath.Working) (any, error)
}

// Func returns the Go name of the function behind the entry, such as "doughmath.WaterTemperature".
func (e Entry) Func() string { return e.goName }

// Run evaluates the input given as JSON and returns the function's own result
// struct. It returns the function's error, or an *[doughmath.InputError] for
// each thing that is wrong with the JSON.
func (e Entry) Run(data []byte, w *doughmath.Working) (any, error) { return e.run(data, w) }

// maxInputBytes bounds one input. A day's weighings of a large plant fit.
const maxInputBytes = 1 << 20

// entry describes one calculation. The id and the texts are all that is
// written here; fields, units and the name come from the function itself.
func entry[In, Out any](id, question, example string, explain func(In, *doughmath.Working) (Out, error), inverses ...string) Entry {
	return build(id, question, example, inverses, reflect.ValueOf(explain), explain)
}

// listEntry is entry for a function that appends to a slice of its caller.
func listEntry[In, Row, Out any](id, question, example string, explain func(In, []Row, *doughmath.Working) (Out, error), inverses ...string) Entry {
	return build(id, question, example, inverses, reflect.ValueOf(explain),
		func(in In, w *doughmath.Working) (Out, error) { return explain(in, nil, w) })
}

func build[In, Out any](id, question, example string, inverses []string, function reflect.Value, explain func(In, *doughmath.Working) (Out, error)) Entry {
	name := runtime.FuncForPC(function.Pointer()).Name()
	name = name[strings.LastIndexByte(name, '/')+1:]
	return Entry{
		ID: id, Question: question, Example: example, Inverses: inverses,
		goName: strings.Replace(name, ".Explain", ".", 1),
		in:     reflect.TypeFor[In](), out: reflect.TypeFor[Out](),
		run: func(data []byte, w *doughmath.Working) (any, error) {
			var in In
			if err := strictjson.Decode(id, data, &in, maxInputBytes); err != nil {
				return nil, err
			}
			out, err := explain(in, w)
			if err != nil {
				return nil, err
			}
			return out, nil
		},
	}
}

// Entries returns every calculation, station by station in the order in which
// dough passes them.
func Entries() []Entry {
	return slices.Concat(formulaEntries(), temperatureEntries(), batchEntries(), dividerEntries(), weightEntries(),
		proofEntries(), molderEntries(), lineEntries())
}

// Lookup returns the calculation with the given id.
func Lookup(id string) (Entry, bool) {
	for _, e := range Entries() {
		if e.ID == id {
			return e, true
		}
	}
	return Entry{}, false
}
