package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

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

// A trial is what the question gave with one input changed. It is held against
// the question at once and keeps no more than numbers: there are many.
type trial struct {
	input     int
	value     float64
	alike     bool      // its working and its answer have the same steps and numbers
	worded    bool      // the answer says the same in words
	warned    bool      // it has other conditions or cautions
	steps     []float64 // if it is alike
	numbers   []float64
	otherwise []int // steps with other words or another source
}

// against holds an answer against that of the question as it was asked.
func (a *answer) against(base *answer) (t trial) {
	t.alike = slices.EqualFunc(a.steps, base.steps, func(x, y reckon.Step) bool { return x.Symbol == y.Symbol }) &&
		slices.EqualFunc(a.numbers, base.numbers, func(x, y number) bool { return x.path == y.path })
	t.worded = slices.Equal(a.words, base.words)
	t.warned = !slices.Equal(a.remarks, base.remarks) || a.hazards != base.hazards
	if !t.alike {
		return t
	}
	for i, s := range a.steps {
		t.steps = append(t.steps, s.Value)
		if s.ID != base.steps[i].ID || s.Source != base.steps[i].Source {
			t.otherwise = append(t.otherwise, i)
		}
	}
	for _, n := range a.numbers {
		t.numbers = append(t.numbers, n.value)
	}
	return t
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

// clone is a copy of the question that shares nothing with it.
func clone(q reflect.Value) (reflect.Value, error) {
	data, err := json.Marshal(q.Interface())
	if err != nil {
		return q, err
	}
	out := reflect.New(q.Type())
	return out.Elem(), json.Unmarshal(data, out.Interface())
}

// mostToTry bounds the inputs times the numbers that each may move. The demo's
// largest plan has a tenth of it.
const mostToTry = 2_000_000

// makeLive works the question out and finds how everything follows from the inputs.
func makeLive(e calc.Entry, q reflect.Value, sys unit.System) (*live, error) {
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
	trials, err := l.tryAll(q, base, sys)
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

// steps by which inputs are changed, from small to large, each both ways.
var (
	shares  = []float64{1e-4, 0.03, 0.25} // of the value
	degrees = []float64{0.01, 1, 5}       // of a temperature
	counts  = []float64{1, 5, 50}         // of what is counted
	nothing = []float64{0.001, 0.1, 5}    // of what is 0
	ways    = [2]float64{-1, 1}
)

// trialValues lists the values to try for a number, outwards, in one direction.
func trialValues(n *number, way float64) []float64 {
	sizes, scale := shares, math.Abs(n.value)
	switch {
	case n.whole:
		sizes, scale = counts, 1
	case n.at.Type() == tempType:
		sizes, scale = degrees, 1
	case n.value == 0:
		sizes, scale = nothing, 1
	}
	out := make([]float64, len(sizes))
	for i, s := range sizes {
		out[i] = n.value + way*float64(s*scale)
	}
	return out
}

// tryAll tries every input, on as many processors as there are. What it
// returns does not depend on how many.
func (l *live) tryAll(q reflect.Value, base *answer, sys unit.System) ([][]trial, error) {
	out := make([][]trial, len(l.inputs))
	errs := make([]error, runtime.GOMAXPROCS(0))
	var next atomic.Int64
	var all sync.WaitGroup
	for worker := range errs {
		all.Go(func() {
			own, err := clone(q)
			errs[worker] = err
			numbers := valuesOf(own, sys).numbers
			for i := int(next.Add(1)) - 1; err == nil && i < len(out); i = int(next.Add(1)) - 1 {
				out[i] = try(own, i, &numbers[i], base, sys)
			}
		})
	}
	all.Wait()
	return out, errors.Join(errs...)
}

// try changes input i both ways, outwards until the calculation refuses.
func try(q reflect.Value, i int, n *number, base *answer, sys unit.System) (out []trial) {
	defer n.set(n.value)
	for _, way := range ways {
		for _, v := range trialValues(n, way) {
			n.set(v)
			a, err := solve(q, sys)
			if err != nil {
				break
			}
			t := a.against(base)
			t.input, t.value = i, v
			out = append(out, t)
		}
	}
	return out
}

// A course is the value of one number in the question and in every trial that is like it.
type course []float64

func sameNumber(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-11*max(math.Abs(a), math.Abs(b))
}

func (c course) same(d course) bool { return slices.EqualFunc(c, d, sameNumber) }

// moves reports whether any trial changes the number.
func (c course) moves() bool {
	return slices.ContainsFunc(c, func(v float64) bool { return !sameNumber(v, c[0]) })
}

// link finds where every row and every output comes from.
func link(l *live, base *answer, trials []trial) {
	alike := slices.DeleteFunc(slices.Clone(trials), func(t trial) bool { return !t.alike })
	courseOf := func(v float64, of func(t *trial) float64) course {
		c := make(course, 0, len(alike)+1)
		c = append(c, v)
		for i := range alike {
			c = append(c, of(&alike[i]))
		}
		return c
	}
	inputs := make([]course, len(l.inputs))
	for i := range l.inputs {
		v := l.inputs[i].value
		inputs[i] = courseOf(v, func(t *trial) float64 {
			if t.input == i {
				return t.value
			}
			return v
		})
	}
	rows := make([]course, len(base.steps))
	latest := map[string]int{}
	for i, s := range base.steps {
		r := row{Step: s}
		rows[i] = courseOf(s.Value, func(t *trial) float64 { return t.steps[i] })
		switch {
		case s.Symbol == "":
			r.how = heading
		case s.Expression != "" && r.parse(latest):
			r.how = computed
		default:
			r.from, r.how = l.source(rows[i], s.Symbol, s.Unit, inputs, rows[:i])
		}
		l.rows = append(l.rows, r)
		if s.Symbol != "" {
			latest[s.Symbol] = i
		}
	}
	for i, n := range base.numbers {
		c := courseOf(n.value, func(t *trial) float64 { return t.numbers[i] })
		o := output{number: n}
		o.from, o.how = l.source(c, n.symbol, n.held, inputs, rows)
		l.outputs = append(l.outputs, o)
	}
}

// parse takes the expression apart; every symbol stands for the latest row so named.
func (r *row) parse(latest map[string]int) bool {
	e, err := reckon.ParseExpression(r.Expression)
	if err != nil {
		return false
	}
	r.symbols = map[string]int{}
	for _, s := range e.Symbols() {
		at, ok := latest[s]
		if !ok {
			return false
		}
		r.symbols[s] = at
	}
	r.expression = e
	return fitsCell(e)
}

// What a cell takes: so many characters of a formula, and so many arguments of
// one function.
const (
	longestFormula = 8000
	mostArguments  = 255
)

// fitsCell reports whether a cell can hold the expression as a formula.
func fitsCell(e *reckon.Expression) bool {
	var few func(*reckon.Expression) bool
	few = func(e *reckon.Expression) bool {
		return len(e.Args) <= mostArguments && !slices.ContainsFunc(e.Args, func(a *reckon.Expression) bool { return !few(a) })
	}
	return few(e) && len(appendFormula(nil, e, func(string) string { return "C1048576" })) <= longestFormula
}

// source finds the number that moves as c does: by preference one with the
// same symbol, then an input, then the latest row.
func (l *live) source(c course, symbol, unit string, inputs, rows []course) (ref, how) {
	moves := c.moves()
	var fits []ref
	for i := range inputs {
		n := &l.inputs[i].number
		if sameUnit(n.held, unit) && inputs[i].same(c) && (moves || n.symbol == symbol && symbol != "") {
			fits = append(fits, ref{'i', i})
		}
	}
	for i := len(rows) - 1; i >= 0; i-- {
		r := &l.rows[i]
		if r.how == heading || !sameUnit(r.Unit, unit) || !rows[i].same(c) {
			continue
		}
		if moves || r.Symbol == symbol && r.how == computed {
			fits = append(fits, ref{'r', i})
		}
	}
	at := slices.IndexFunc(fits, func(f ref) bool {
		if f.kind == 'i' {
			return l.inputs[f.at].symbol == symbol
		}
		return l.rows[f.at].Symbol == symbol
	})
	switch {
	case symbol != "" && at >= 0:
		return fits[at], carried
	case len(fits) > 0:
		return fits[0], carried
	case moves:
		return ref{}, fixed
	}
	return ref{}, given
}

// sameUnit takes a working's count of pieces for a pure number.
func sameUnit(a, b string) bool { return a == b || a == "" || b == "" }

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
	for i := range l.rows {
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

// reach finds how far input i can be changed with the results still those of
// the calculation, or off only by what follows from nothing, which is marked. So
// are steps on the way that would be others where the results are right all the same.
func (l *live) reach(i int, trials []trial) {
	in := &l.inputs[i]
	in.stale = map[ref]bool{}
	values := make([]float64, len(l.inputs))
	for j := range l.inputs {
		values[j] = l.inputs[j].value
	}
	for _, way := range ways {
		for k := range trials {
			t := &trials[k]
			if (t.value-in.value)*way <= 0 {
				continue
			}
			values[i] = t.value
			if !t.alike || !t.worded || len(onlyOutputs(l.differs(values, t, true))) > 0 {
				break
			}
			maps.Copy(in.stale, l.differs(values, t, false))
			in.low, in.high = min(in.low, t.value), max(in.high, t.value)
			in.warned = in.warned || t.warned
		}
	}
}

func onlyOutputs(refs map[ref]bool) map[ref]bool {
	maps.DeleteFunc(refs, func(r ref, _ bool) bool { return r.kind != 'o' })
	return refs
}
