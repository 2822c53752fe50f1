package whatif

import (
	"context"
	"iter"
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
)

// A Row is one scenario with what it came to.
//
// A row that [Compiled.Rows] yields, and all that it holds, is written over as
// soon as the loop goes on: [Row.Clone] keeps one. What its methods return may be kept.
type Row struct {
	Index  int       // of the scenario, from 0
	Values []float64 // one for each of [Compiled.Columns]: NaN for a word, and for what this answer leaves out

	words []string // those that are words; nil if no column is
	marks []mark
	err   error
	of    *Compiled
}

// Word returns the text of a column that holds words, "" if the answer leaves it out.
func (r *Row) Word(column int) string {
	if column < 0 || column >= len(r.words) {
		return ""
	}
	return r.words[column]
}

// Err returns the errors of the calculation, joined, or nil. [Row.Refusals] has them as data.
func (r *Row) Err() error { return r.err }

// Refusals returns why the scenario has no answer, or some order of it no plan; nil if all is well.
func (r *Row) Refusals() []Refusal {
	if r.err == nil {
		return nil
	}
	return r.of.m.subject.refusals(r.err)
}

// Conditions returns the conditions of the answer with the places where they arose.
func (r *Row) Conditions() []reckon.Remark {
	if len(r.marks) == 0 {
		return nil
	}
	conditions, _ := r.of.m.remarksOf(r.marks)
	return conditions
}

// Cautions returns the cautions of the answer, of all its parts together.
func (r *Row) Cautions() reckon.Cautions {
	if len(r.marks) == 0 {
		return 0
	}
	_, cautions := r.of.m.remarksOf(r.marks)
	return cautions
}

// Clone returns a copy of the row that may be kept.
func (r *Row) Clone() Row {
	out := *r
	out.Values, out.words, out.marks = slices.Clone(r.Values), slices.Clone(r.words), slices.Clone(r.marks)
	return out
}

// row makes an empty row.
func (c *Compiled) row() Row {
	r := Row{Values: make([]float64, len(c.columns)), of: c}
	if c.worded() {
		r.words = make([]string, len(c.columns))
	}
	return r
}

// worded reports whether a column holds words.
func (c *Compiled) worded() bool {
	return slices.ContainsFunc(c.columns, func(col Column) bool { return col.Kind == Word })
}

// runner is a worker with room for the numbers of one scenario.
type runner struct {
	*worker
	x, u       []float64
	valuesOnly bool
}

func (c *Compiled) runner(o Options) *runner {
	n := len(c.factors)
	return &runner{worker: c.m.worker(), x: make([]float64, n), u: make([]float64, n), valuesOnly: o.ValuesOnly}
}

// run solves scenario i into the row, whose marks are the runner's until the next.
func (w *runner) run(c *Compiled, i int, r *Row) {
	n := len(w.x)
	r.Index = i
	c.plan.point(i, w.x, r.Values[:n], w.u)
	y := r.Values[n:]
	r.err = w.eval(w.x, y)
	for j := range y {
		if c.turned[n+j] {
			y[j] = c.convert[n+j].FromHeld(y[j])
		}
	}
	if r.words != nil {
		for k := range w.x {
			if in := &w.m.ins[k]; in.kind == Word {
				r.words[k], r.Values[k] = in.words[int(w.x[k])], math.NaN()
			}
		}
		copy(r.words[n:], w.texts)
	}
	if r.marks = nil; !w.valuesOnly {
		w.note()
		r.marks = w.marks
	}
}

// At solves scenario i alone, whatever else is or was solved. It returns an
// *[reckon.InputError] if there is no such scenario.
func (c *Compiled) At(i int) (Row, error) {
	if i < 0 || i >= c.size {
		return Row{}, &reckon.InputError{
			Func: studyID, Field: "the scenario", Value: strconv.Itoa(i), Want: "a whole number from 0 to " + strconv.Itoa(c.size-1),
			Kind: reckon.KindRange, Range: reckon.Range{Low: "0", High: strconv.Itoa(c.size - 1)},
		}
	}
	r := c.row()
	c.runner(Options{}).run(c, i, &r)
	return r, nil
}

// Options say how a study is run. They never change the values in a row.
type Options struct {
	Workers    int            // goroutines that solve; none are started for 0 and 1
	First      int            // first scenario of this run
	Count      int            // scenarios of this run; 0 for all from the first
	ValuesOnly bool           // true to leave conditions and cautions out of the rows, which is quicker where an answer has many parts; refusals stay
	Progress   func(done int) // called after each row, with how many of this run are done; may be nil
}

// mostWorkers bounds the goroutines, and with them the rows in memory.
const mostWorkers = 1024

// Rows runs the study, or a shard of it, and yields its rows in the order of
// their scenarios. A scenario that is refused is a row as well. An error ends
// the rows: that of the context when it is done, or an *[reckon.InputError] for
// each of the options that makes no sense.
//
// With more than one worker it starts goroutines, which are gone when the loop
// is left, however it is left. Rows may be gone through again.
func (c *Compiled) Rows(ctx context.Context, o Options) iter.Seq2[*Row, error] {
	return func(yield func(*Row, error) bool) {
		count, err := c.shard(o)
		if err != nil {
			yield(nil, err)
			return
		}
		if o.Workers > 1 && count > 1 {
			c.together(ctx, o, count, yield)
			return
		}
		w, r := c.runner(o), c.row()
		for i := range count {
			if err := ctx.Err(); err != nil {
				yield(nil, err)
				return
			}
			w.run(c, o.First+i, &r)
			if o.tell(i + 1); !yield(&r, nil) {
				return
			}
		}
	}
}

// shard returns how many scenarios the run has.
func (c *Compiled) shard(o Options) (int, error) {
	wrong := reckon.Checks{Func: studyID}
	reckon.CheckCount(&wrong, "workers", o.Workers, 0, mostWorkers)
	if reckon.CheckCount(&wrong, "first", o.First, 0, c.size) {
		reckon.CheckCount(&wrong, "count", o.Count, 0, c.size-o.First)
	}
	if o.Count == 0 {
		o.Count = c.size - o.First
	}
	return o.Count, wrong.Err()
}

func (o *Options) tell(done int) {
	if o.Progress != nil {
		o.Progress(done)
	}
}
