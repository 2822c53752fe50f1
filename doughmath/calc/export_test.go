package calc

import (
	"reflect"

	"example.com/dough/doughmath/reckon"
)

// Types returns the types of the input and the result.
func (e Entry) Types() (in, out reflect.Type) { return e.in, e.out }

// Input decodes an input without evaluating it.
func (e Entry) Input(data string) (reflect.Value, error) {
	in, err := e.read([]byte(data))
	return reflect.ValueOf(in).Elem(), err
}

// Call solves any input, past the decoder.
func (e Entry) Call(in reflect.Value, w *reckon.Working) (Result, error) {
	q := reflect.New(e.in)
	q.Elem().Set(in)
	out, err := e.solve(q.Interface(), w)
	if err != nil {
		return Result{}, err
	}
	r := Result{ID: e.ID, value: out, plan: e.encode}
	r.plan.collect(out, nil, &r)
	return r, nil
}

// Check tells what is wrong with the calculation that q points to.
func (e Entry) Check(q any) []*reckon.InputError {
	c := reckon.Checks{Func: e.ID}
	e.check(q, &c)
	return reckon.InputErrors(c.Err())
}

// Words returns the words of the conditions and the cautions, each once.
func (r Result) Words() []string { return r.words() }

// KnownNotes returns the sentences of what a result can hold, by their words.
func (e Entry) KnownNotes() (conditions, cautions map[string]string) { return knownNotes(e.out) }

// Docs is what described.json holds.
type (
	Docs     = docs
	FuncDoc  = funcDoc
	ProbeDoc = probeDoc
)

// DescribeWith describes e from d instead of what was embedded.
func (e Entry) DescribeWith(d *Docs) Description { return e.describe(d) }
