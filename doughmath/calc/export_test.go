package calc

import (
	"reflect"

	"example.com/dough/doughmath/reckon"
)

// Input decodes an input without evaluating it.
func (e Entry) Input(data string) (reflect.Value, error) {
	in, err := e.of.read(e.ID, []byte(data))
	return reflect.ValueOf(in).Elem(), err
}

// Call solves any input, past the decoder.
func (e Entry) Call(in reflect.Value, w *reckon.Working) (Result, error) {
	q := reflect.New(in.Type())
	q.Elem().Set(in)
	out, err := e.of.solve(q.Interface(), w)
	if err != nil {
		return Result{}, err
	}
	r := Result{ID: e.ID, value: reflect.ValueOf(out).Elem(), plan: e.of.writer()}
	r.plan.collect(r.value, nil, &r)
	return r, nil
}

// Check tells what is wrong with the calculation that q points to.
func (e Entry) Check(q any) []*reckon.InputError {
	c := reckon.Checks{Func: e.ID}
	e.of.check(q, &c)
	return reckon.InputErrors(c.Err())
}

// Words returns the words of the conditions and the cautions, each once.
func (r Result) Words() []string {
	var out []string
	for _, n := range append(reckon.Distinct(r.Conditions), r.Cautions.Notes()...) {
		out = append(out, n.Word)
	}
	return out
}

// Fresh is a table of entries as a process finds it that has evaluated nothing yet.
type Fresh struct{ *index }

// NewFresh makes one.
func NewFresh() Fresh { return Fresh{newIndex()} }

// Eval is the package's Eval on this table.
func (f Fresh) Eval(id string, data []byte) (Result, error) {
	return f.byID[id].Eval(data, Options{})
}
