package reckon

import (
	"iter"
	"reflect"
	"strconv"
)

// An Answer is what one scenario of [Vary] came to: a value, or the error that
// Solve returned.
type Answer[R any] struct {
	Value R
	Err   error
}

// Vary solves q once for each value of the input at the path, in the unit in
// which that input is held, and leaves q alone:
//
//	all, err := reckon.Vary(q, "dough", []float64{300, 400, 500})
//	for dough, answer := range all { ... }
//
// What is refused for one value is the answer of that scenario; the others go
// on. See [NumberIn] for paths and for the error of one that leads nowhere.
func Vary[Q Calculation[R], R any](q Q, path string, values []float64) (iter.Seq2[float64, Answer[R]], error) {
	probe := q
	if _, err := numberIn(reflect.ValueOf(&probe).Elem(), path, true); err != nil {
		return nil, err
	}
	return func(yield func(float64, Answer[R]) bool) {
		own := q
		n, err := numberIn(reflect.ValueOf(&own).Elem(), path, true)
		for _, x := range values {
			var a Answer[R]
			switch {
			case err != nil:
				a.Err = err
			case !n.Set(x):
				a.Err = &InputError{Func: q.ID(), Field: path, Value: strconv.FormatFloat(x, 'g', -1, 64), Want: "a whole number"}
			default:
				a.Value, a.Err = own.Solve()
			}
			if !yield(x, a) {
				return
			}
		}
	}, nil
}

// Repeat returns a function that solves the calculation that q points to into
// out, as q stands at each call. Between calls only the inputs at the paths in
// vary may change, items given by number, and nothing of out. With an error out is not to be used.
//
// A calculation of which much does not depend on what varies keeps that, and
// writes its answer in place, if its pointer has a method
//
//	func (q *Q) Repeat(out *R, vary []string) func() error
//
// Any other is solved from the start each time, in place if it has a SolveInto.
func Repeat[Q Calculation[R], R any](q *Q, out *R, vary []string) func() error {
	if own, ok := any(q).(interface {
		Repeat(out *R, vary []string) func() error
	}); ok {
		return own.Repeat(out, vary)
	}
	if own, ok := any(q).(interface{ SolveInto(out *R) error }); ok {
		return func() error { return own.SolveInto(out) }
	}
	return func() (err error) {
		*out, err = (*q).Solve()
		return err
	}
}
