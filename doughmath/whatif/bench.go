package whatif

import (
	"context"
	"math"
	"math/bits"
	"strconv"

	"example.com/dough/doughmath/reckon"
)

// bench solves a compiled study at inputs of one's own choice, one after the other.
type bench struct {
	study Compiled // with the bench as its design
	x     []float64
	run   *runner
	row   Row
}

func (c *Compiled) bench() *bench {
	b := &bench{study: *c, run: c.runner(Options{}), row: c.row()}
	b.study.plan = b
	return b
}

func (b *bench) point(_ int, x, shown, _ []float64) {
	copy(x, b.x)
	b.study.show(x, shown)
}

// solve solves the study at x, in the units held. The row is written over by the next.
func (b *bench) solve(x []float64) *Row {
	b.x = x
	b.run.run(&b.study, 0, &b.row)
	return &b.row
}

// function solves at x, in the units held, for the outputs in the units of their columns.
func (b *bench) function(x, y []float64) error {
	b.run.valuesOnly = true // nobody asks for the conditions here, and to gather them takes time
	row := b.solve(x)
	copy(y, row.Values[len(x):])
	if row.err != nil {
		for j := range y {
			y[j] = math.NaN()
		}
	}
	return row.err
}

// show turns inputs in the units held into those of their columns.
func (c *Compiled) show(x, shown []float64) {
	for k := range x {
		shown[k] = c.factors[k].fromHeld(x[k])
	}
}

// outputs is how many outputs are wanted.
func (c *Compiled) outputs() int { return len(c.columns) - len(c.factors) }

// sample is inputs drawn for the points of a sampler.
type sample struct {
	*population
	from  sampler
	study *Compiled
}

func (s *sample) point(i int, x, shown, u []float64) {
	s.from.Point(i, u)
	s.draw(u, x)
	s.study.show(x, shown)
}

// whole refuses options that ask for a shard: what is found out takes all scenarios together.
func (o *Options) whole() error {
	c := reckon.Checks{Func: studyID}
	reckon.CheckCount(&c, "first", o.First, 0, 0)
	reckon.CheckCount(&c, "count", o.Count, 0, 0)
	return c.Err()
}

// each solves the first n scenarios of a plan and visits their rows in order.
func (c *Compiled) each(ctx context.Context, o Options, plan design, n int, visit func(*Row)) error {
	study := *c
	study.plan, study.size = plan, n
	for row, err := range study.Rows(ctx, Options{Workers: o.Workers, ValuesOnly: o.ValuesOnly}) {
		if err != nil {
			return err
		}
		visit(row)
	}
	return nil
}

// known returns the distribution of what a factor draws, or nil and tells why there is none.
func (f *factor) known(c *reckon.Checks, field string, kind Kind) *uncertain {
	const mostWhole = 10_000
	switch {
	case f.uncertain != nil:
		return f.uncertain
	case f.inverse == nil:
		d := discrete{values: f.values}
		for i := range f.values {
			d.upTo = append(d.upTo, float64(i+1)/float64(len(f.values)))
		}
		return &uncertain{d, math.Inf(1)}
	case kind == Whole:
		d, low, high := discrete{}, f.inverse(0), f.inverse(1)
		n := high - low + 1
		if n > mostWhole {
			c.Fail(field, reckon.Text(n)+" values", "at most 10000 where every one is as likely")
			return nil
		}
		for i := range int(n) {
			d.values, d.upTo = append(d.values, low+float64(i)), append(d.upTo, float64(i+1)/n)
		}
		return &uncertain{d, math.Inf(1)}
	}
	return &uncertain{trapezoidal{f.inverse(0), f.inverse(1), 1}, math.Inf(1)}
}

// tally counts in how many rows each condition arose.
type tally struct {
	words [][64]int // which condition a bit of a place is, by place; -1 for none
	names []string
	last  []int // row in which a condition was counted last
	count []int
	order []int // of the conditions, as they came
	rows  int
}

func newTally(m *model) *tally {
	t := &tally{words: make([][64]int, len(m.notes.places))}
	number := map[string]int{}
	for i := range m.notes.places {
		p := &m.notes.places[i]
		for bit := range t.words[i] {
			t.words[i][bit] = -1
			word := p.words[bit].Word
			if word == "" || p.typ == cautionsType {
				continue
			}
			n, known := number[word]
			if !known {
				n = len(t.names)
				number[word], t.names = n, append(t.names, word)
			}
			t.words[i][bit] = n
		}
	}
	t.last, t.count = make([]int, len(t.names)), make([]int, len(t.names))
	return t
}

func (t *tally) add(row *Row) {
	t.rows++
	for _, k := range row.marks {
		for rest := k.bits; rest != 0; rest &= rest - 1 {
			n := t.words[k.place][bits.TrailingZeros64(rest)]
			if n < 0 || t.last[n] == t.rows {
				continue
			}
			if t.count[n] == 0 {
				t.order = append(t.order, n)
			}
			t.last[n] = t.rows
			t.count[n]++
		}
	}
}

// A WordShare is how often a condition arose.
type WordShare struct {
	Word  string `json:"word"`
	Share Share  `json:"share"` // of the scenarios, refused ones among them
}

// shares are in the order in which the words first arose, which does not depend on the workers.
func (t *tally) shares() []WordShare {
	var out []WordShare
	for _, n := range t.order {
		out = append(out, WordShare{t.names[n], newShare(t.count[n], t.rows)})
	}
	return out
}

// weigh gives the values of a list their weights.
func (f *Factor) weigh(c *reckon.Checks, at string, out *factor, drawn bool) {
	at += ".weights"
	switch total := 0.0; {
	case len(f.Weights) == 0:
	case !drawn:
		c.Fail(at, "given", "nothing: only where scenarios are drawn are some more likely than others")
	case len(f.Weights) != len(f.Values):
		c.Fail(at, strconv.Itoa(len(f.Weights))+" items", strconv.Itoa(len(f.Values))+", one for each value")
	default:
		for i, w := range f.Weights {
			reckon.CheckRange(c, item(at, i), w, 0, 1e9)
			total += w
		}
		if !(total > 0) {
			c.Fail(at, "0 together", "a weight above 0")
			return
		}
		d, upTo := discrete{values: out.values}, 0.0
		for _, w := range f.Weights {
			upTo += w
			d.upTo = append(d.upTo, upTo/total)
		}
		out.uncertain, out.inverse = &uncertain{d, math.Inf(1)}, d.quantile
	}
}
