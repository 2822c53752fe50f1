package main

import (
	"maps"
	"math"
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
)

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
	l.lookAhead(rows)
	l.order = l.sorted()
	for i, n := range base.numbers {
		c := courseOf(n.value, func(t *trial) float64 { return t.numbers[i] })
		o := output{number: n}
		o.from, o.how = l.source(c, n.symbol, n.held, inputs, rows)
		l.outputs = append(l.outputs, o)
	}
}

// lookAhead finds what follows from a later step: a plan shows some stations
// before those whose numbers they use.
func (l *live) lookAhead(rows []course) {
	for i := range l.rows {
		if l.rows[i].how != fixed {
			continue
		}
		best := -1
		for k := i + 1; k < len(l.rows); k++ {
			r := &l.rows[k]
			if r.how != computed || !sameUnit(r.Unit, l.rows[i].Unit) || !rows[k].same(rows[i]) || l.restsOn(k, i) {
				continue
			}
			if same := r.Symbol == l.rows[i].Symbol; best < 0 || same {
				best = k
				if same {
					break
				}
			}
		}
		if best >= 0 {
			l.rows[i].from, l.rows[i].how = ref{'r', best}, carried
		}
	}
}

// sources are the rows that row i is made of.
func (l *live) sources(i int) []int {
	if l.rows[i].from.kind == 'r' {
		return []int{l.rows[i].from.at}
	}
	return slices.Sorted(maps.Values(l.rows[i].symbols))
}

// restsOn reports whether row i is made of row on, directly or not.
func (l *live) restsOn(i, on int) bool {
	seen := make([]bool, len(l.rows))
	var rests func(int) bool
	rests = func(i int) bool {
		if i == on {
			return true
		}
		if seen[i] {
			return false
		}
		seen[i] = true
		return slices.ContainsFunc(l.sources(i), rests)
	}
	return rests(i)
}

// sorted lists the rows so that each comes after those that it is made of.
func (l *live) sorted() (order []int) {
	placed := make([]bool, len(l.rows))
	var put func(int)
	put = func(i int) {
		if placed[i] {
			return
		}
		placed[i] = true
		for _, from := range l.sources(i) {
			put(from)
		}
		order = append(order, i)
	}
	for i := range l.rows {
		put(i)
	}
	return order
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

// sumOfTemps opens the unit of a sum of temperatures in a working.
const sumOfTemps = "°C (sum of "

// sameUnit takes a working's count of pieces for a pure number, and its sum of
// temperatures for what the answer holds it as.
func sameUnit(a, b string) bool {
	return a == b || a == "" || b == "" || strings.HasPrefix(a, sumOfTemps) && b == "C°" || a == "C°" && strings.HasPrefix(b, sumOfTemps)
}
