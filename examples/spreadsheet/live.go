package main

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A live question is a calculation whose working is taken apart far enough to
// be computed again from changed inputs: each step from earlier steps, the
// first of them from the inputs.
//
// A working tells how a step follows from others, but where a station of a plan
// starts from a number of an earlier one, it records that number as given. What
// it was is found by trial: every input is changed a little, one after the
// other, and a given number that moves in all of these trials exactly as an
// input or an earlier step does is that input or that step. A number that moves
// and follows from nothing is told as one that does not follow.
type live struct {
	entry   calc.Entry
	inputs  []input
	words   []word // of the question: what the steps hold for
	outputs []output
	said    []word // words of the answer
	rows    []row
	order   []int // of the rows, each after those that it rests on
	remarks []reckon.Remark
	hazards reckon.Cautions
}

// An input is a number of the question that can be changed.
type input struct {
	number
	low, high float64      // the formulas gave the calculation's own values at these, and at what was tried between; in the unit held
	stale     map[ref]bool // what does not follow this input
	warned    bool         // with another value, other conditions or cautions were told
}

// free reports whether the sheet can follow a change of the input at all.
func (in *input) free() bool { return in.low < in.high }

// A ref names a number of the sheet.
type ref struct {
	kind byte // 'i' for an input, 'r' for a row of the working, 'o' for an output, 0 for none
	at   int
}

// how says how the value of a row comes about.
type how uint8

const (
	heading  how = iota
	carried      // it is an input, or was computed before
	computed     // by its expression
	given        // a constant: no input changes it
	fixed        // inputs change it, but no step says how: it stays as it was
)

// A row is one step of the working.
type row struct {
	reckon.Step
	how        how
	from       ref // of what is carried
	expression *reckon.Expression
	symbols    map[string]int // the rows that its symbols stand for
	stale      bool           // it does not follow some input
}

// An output is a number of the answer.
type output struct {
	number
	how   how // carried, given or fixed
	from  ref
	stale bool
}

// answer is what one evaluation gives.
type answer struct {
	values
	steps   []reckon.Step
	remarks []reckon.Remark
	hazards reckon.Cautions
}

// read makes the typed question of the JSON, or tells what is wrong with it.
func read(e calc.Entry, data []byte) (reflect.Value, error) {
	if _, err := e.Run(data, nil); err != nil {
		return reflect.Value{}, err
	}
	in, _ := e.Types()
	q := reflect.New(in)
	if err := json.Unmarshal(data, q.Interface()); err != nil {
		return reflect.Value{}, fmt.Errorf("%s: %w", e.ID, err)
	}
	return q.Elem(), nil
}

// solve evaluates the question as it stands. Every calculation has the methods
// of [reckon.Calculation]; which answer it has is known only here, at run time.
func solve(q reflect.Value, sys unit.System) (*answer, error) {
	solved := q.MethodByName("Solve").Call(nil)
	if err, failed := solved[1].Interface().(error); failed {
		return nil, err
	}
	var w reckon.Working
	q.MethodByName("Show").Call([]reflect.Value{reflect.ValueOf(&w), solved[0]})
	out := solved[0].Interface()
	return &answer{valuesOf(solved[0], sys), w.Steps, reckon.Remarks(out), reckon.Hazards(out)}, nil
}

// makeLive works the question out and finds how everything follows from the inputs. It tries each of them;
// with every above 1 only one in so many, which is enough to see that the sheet holds, and not how far.
func makeLive(e calc.Entry, q reflect.Value, sys unit.System, every int) (*live, error) {
	base, err := solve(q, sys)
	if err != nil {
		return nil, err
	}
	asked := valuesOf(q, sys)
	l := &live{entry: e, words: asked.words, said: base.words, remarks: base.remarks, hazards: base.hazards}
	for _, n := range asked.numbers {
		l.inputs = append(l.inputs, input{number: n, low: n.value, high: n.value})
	}
	if size := len(l.inputs) * (len(base.steps) + len(base.numbers)); size > mostToTry {
		return nil, &reckon.InputError{
			Func: e.ID, Field: "the question", Value: fmt.Sprintf("%d numbers in %d steps", len(l.inputs), len(base.steps)),
			Want: "fewer: a live sheet is tried number by number; calc do -working shows so long a working",
		}
	}
	trials, err := l.tryAll(q, base, sys, every)
	if err != nil {
		return nil, err
	}
	link(l, base, slices.Concat(trials...))
	for i := range l.inputs {
		l.reach(i, trials[i])
	}
	for i := range l.inputs {
		for r := range l.inputs[i].stale {
			if r.kind == 'r' {
				l.rows[r.at].stale = true
			} else {
				l.outputs[r.at].stale = true
			}
		}
	}
	return l, nil
}

// evaluate computes all rows and outputs from the inputs, as the sheet does. With
// a trial, what follows from nothing is taken from there.
func (l *live) evaluate(inputs []float64, known *trial) (rows, outputs []float64) {
	rows, outputs = make([]float64, len(l.rows)), make([]float64, len(l.outputs))
	value := func(f ref, made float64) float64 {
		switch f.kind {
		case 'i':
			return inputs[f.at]
		case 'r':
			return rows[f.at]
		}
		return made
	}
	for _, i := range l.order {
		r, made := &l.rows[i], l.rows[i].Value
		if known != nil {
			made = known.steps[i]
		}
		if r.how == computed {
			rows[i] = r.expression.Eval(func(symbol string) (float64, bool) {
				at, ok := r.symbols[symbol]
				if !ok {
					return 0, false
				}
				return rows[at], true
			})
		} else {
			rows[i] = value(r.from, made)
		}
	}
	for i := range l.outputs {
		made := l.outputs[i].value
		if known != nil {
			made = known.numbers[i]
		}
		outputs[i] = value(l.outputs[i].from, made)
	}
	return rows, outputs
}

// differs lists what the sheet makes of the inputs that the calculation does
// not, and the rows whose words would be others. With known, it is not held
// against the sheet that some numbers follow from nothing.
func (l *live) differs(inputs []float64, t *trial, known bool) map[ref]bool {
	from := t
	if !known {
		from = nil
	}
	rows, outputs := l.evaluate(inputs, from)
	out := map[ref]bool{}
	for i := range rows {
		if !l.close(i, rows, rows[i], t.steps[i]) {
			out[ref{'r', i}] = true
		}
	}
	for _, i := range t.otherwise {
		out[ref{'r', i}] = true
	}
	for i := range outputs {
		same := agree(outputs[i], t.numbers[i], 0)
		if f := l.outputs[i].from; f.kind == 'r' {
			same = l.close(f.at, rows, outputs[i], t.numbers[i])
		}
		if !same {
			out[ref{'o', i}] = true
		}
	}
	return out
}

// close compares two values of a row. Where a sum cancels, the digits that
// are left are those of its parts.
func (l *live) close(at int, rows []float64, a, b float64) bool {
	scale := 0.0
	for _, from := range l.rows[at].symbols {
		scale = max(scale, math.Abs(rows[from]))
	}
	return agree(a, b, scale)
}

// agree compares to a part in a thousand million, or to the last digits of the scale.
func agree(a, b, scale float64) bool {
	return a == b || math.Abs(a-b) <= max(1e-9*max(math.Abs(a), math.Abs(b)), 1e-12*scale)
}
