package calc

import (
	"encoding/json"
	"errors"
	"reflect"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Options choose how a result is written. They never change what is computed.
type Options struct {
	Units   unit.System // metric unless US is chosen
	Rounded bool        // to four significant figures, for reading; otherwise every digit
	Working bool        // record the working
}

// A Result is a finished calculation. It writes itself as JSON.
type Result struct {
	ID         string
	Conditions []reckon.Remark // all of those in the result, rows included, with the place of each
	Cautions   reckon.Cautions
	Working    []reckon.Step // if it was asked for

	value   reflect.Value // of the function's result struct
	plan    *outPlan
	options Options
}

// Eval evaluates the calculation with the given id. The input is a JSON
// object; quantities are texts with their units, such as "3 oz".
//
// It returns an *[reckon.InputError] for each thing that is wrong, joined,
// and the errors of the function itself.
func Eval(id string, input []byte, options Options) (Result, error) {
	e, ok := table().byID[id]
	if !ok {
		return Result{}, unknown(id)
	}
	return e.Eval(input, options)
}

// Eval is the package's Eval for this entry.
func (e Entry) Eval(input []byte, options Options) (Result, error) {
	var w *reckon.Working
	if options.Working {
		w = new(reckon.Working)
	}
	out, err := e.run(input, w)
	if err != nil {
		return Result{}, err
	}
	r := e.Result(out, options)
	if w != nil {
		r.Working = w.Steps
	}
	return r, nil
}

// Result is what Eval returns for the answer that a pointer of [Entry.Repeat] points
// to, without the working. It holds until that answer changes.
func (e Entry) Result(answer any, options Options) Result {
	r := Result{ID: e.ID, value: reflect.ValueOf(answer).Elem(), plan: e.of.writer(), options: options}
	if r.plan.isMarked(r.value) {
		r.plan.collect(r.value, nil, &r)
	}
	return r
}

// Value returns the function's own result struct, such as a [doughmath.WaterTemperatureResult].
// It is nil for a Result that Eval returned with an error.
func (r Result) Value() any {
	if r.plan == nil {
		return nil
	}
	return r.value.Interface()
}

// errNoResult is for whoever writes a Result without looking at Eval's error.
var errNoResult = errors.New("calc: there is no result to write")

// MarshalJSON is AppendJSON.
func (r Result) MarshalJSON() ([]byte, error) { return r.AppendJSON(nil) }

// AppendJSON appends the result as one JSON object on one line: the id as
// "calculation", the function's values as "result", "conditions" and
// "cautions" as lists of a stable word and a sentence, "defer" beside cautions,
// and if it was asked for "working", in the units held, and "shown", the same as
// a person writes it down in the units chosen. A value that is not finite is an error.
func (r Result) AppendJSON(b []byte) ([]byte, error) {
	if r.plan == nil {
		return b, errNoResult
	}
	b = append(b, `{"calculation":`...)
	b = appendString(b, r.ID)
	b = append(b, `,"result":`...)
	b, err := r.plan.append(b, r.value, r.options, true)
	if err != nil {
		return b, err
	}
	b = append(b, `,"conditions":`...)
	b = appendRemarks(b, r.Conditions)
	b = append(b, `,"cautions":`...)
	b = appendNotes(b, r.Cautions.Notes())
	if r.Cautions != 0 {
		b = append(b, `,"defer":`...)
		b = appendString(b, reckon.CautionDeference)
	}
	if r.options.Working {
		steps, err := json.Marshal(r.Working)
		if err != nil {
			return b, err
		}
		b = append(b, `,"working":`...)
		b = append(b, steps...)
		shown, err := json.Marshal(reckon.ShowSteps(r.Working, r.options.Units))
		if err != nil {
			return b, err
		}
		b = append(b, `,"shown":`...)
		b = append(b, shown...)
	}
	return append(b, '}'), nil
}
