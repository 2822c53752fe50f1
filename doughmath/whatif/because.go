package whatif

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// A Reason is one step of the working that changed on the way to a value.
type Reason struct {
	Heading string `json:"heading,omitzero"` // the part of the working that it stands in
	reckon.Step
	Before *float64 `json:"before,omitzero"` // its value in the first case; nil if that has no such step
}

// working is how one part of a case came about.
type working struct {
	steps    []reckon.Step
	headings []string       // of each step
	byKey    map[string]int // a step by what it is called and where
	keys     []string
	from     [][]int // the steps that each uses
}

// working returns the working of a part, which is made when it is first asked for.
func (k *solved) working(part int) *working {
	if k.workings[part] == nil {
		w := new(reckon.Working)
		k.subject.show(k.w.parts[part], w)
		k.workings[part] = newWorking(w.Steps)
	}
	return k.workings[part]
}

func newWorking(steps []reckon.Step) *working {
	w := &working{
		steps: steps, headings: make([]string, len(steps)), keys: make([]string, len(steps)),
		from: make([][]int, len(steps)), byKey: map[string]int{},
	}
	heading, latest, times := "", map[string]int{}, map[string]int{}
	for i := range steps {
		s := &steps[i]
		if s.Symbol == "" {
			heading = s.ID
			continue
		}
		w.headings[i] = heading
		key := heading + "\n" + s.Symbol
		times[key]++ // a symbol may stand under a heading more than once
		w.keys[i] = key + "\n" + strconv.Itoa(times[key])
		w.byKey[w.keys[i]] = i
		if e, err := reckon.ParseExpression(s.Expression); s.Expression != "" && err == nil {
			eachUsed(e, func(symbol string) {
				if from, ok := latest[symbol]; ok {
					// What is carried on comes from where it was worked out.
					for s.Kind == reckon.CarriedStep && steps[from].Kind == reckon.CarriedStep && len(w.from[from]) == 1 {
						from = w.from[from][0]
					}
					w.from[i] = append(w.from[i], from)
				}
			})
		}
		latest[s.Symbol] = i
	}
	return w
}

func eachUsed(e *reckon.Expression, visit func(symbol string)) {
	if e.Op == 's' {
		visit(e.Name)
	}
	for _, arg := range e.Args {
		eachUsed(arg, visit)
	}
}

// because returns the steps that changed from the first case to k on the way to
// wanted output i, in the order of the working.
func because(first, k *solved, i int, place *reckon.Path) []Reason {
	before, after := &first.outs[first.at[i]], &k.outs[k.at[i]]
	pa, pb := first.w.outs[first.at[i]].part, k.w.outs[k.at[i]].part
	if first.w.lost[pa] || before.kind == Word || after.kind == Word {
		return nil
	}
	a, b := first.working(pa), k.working(pb)
	end := b.find(a, place, first.y[first.at[i]], k.y[k.at[i]])
	if end < 0 {
		return nil
	}
	link := chain{a, b, k.inputs, make([]bool, len(b.steps))}
	link.trace(end)
	var out []Reason
	for j, yes := range link.on {
		if !yes {
			continue
		}
		r := Reason{Heading: b.headings[j], Step: b.steps[j]}
		if old, ok := a.byKey[b.keys[j]]; ok {
			r.Before = &a.steps[old].Value
		}
		out = append(out, r)
	}
	return out
}

// find returns the step that makes the value of the output, by its symbol or
// its name, where its value is the output's in both cases; -1 if none does.
func (w *working) find(first *working, place *reckon.Path, was, is float64) int {
	symbol, _, _ := strings.Cut(place.Tag.Get("sym"), ",")
	pattern := regexp.MustCompile("^" + strings.ReplaceAll(regexp.QuoteMeta(symbol), "#", "[0-9]+") + "$")
	name := reckon.Words(place.Name())
	best := -1
	for i := range w.steps {
		s := &w.steps[i]
		if s.Symbol == "" || s.Value != is || s.ID != name && (symbol == "" || !pattern.MatchString(s.Symbol)) {
			continue
		}
		if old, ok := first.byKey[w.keys[i]]; ok && first.steps[old].Value != was {
			continue
		}
		if best < 0 || s.Kind != reckon.CarriedStep && (s.Expression != "" || w.steps[best].Expression == "") {
			best = i
		}
	}
	return best
}

// changed reports whether step i is not as it was in the first working.
func (w *working) changed(first *working, i int) bool {
	old, ok := first.byKey[w.keys[i]]
	return !ok || !alike(first.steps[old].Value, w.steps[i].Value) || first.steps[old].Expression != w.steps[i].Expression
}

// alike reports whether a and b differ by no more than what rounding leaves.
func alike(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-12*max(math.Abs(a), math.Abs(b))
}

// chain gathers the steps of a working that made one of them change.
type chain struct {
	first, now *working
	inputs     map[[2]float64]bool // the values of the inputs that differ, before and now
	on         []bool
}

// trace marks step i and the steps before it that made it change.
func (c *chain) trace(i int) {
	if c.on[i] || !c.now.changed(c.first, i) {
		return
	}
	c.on[i] = true
	for _, from := range c.now.from[i] {
		if x := &c.now.steps[from]; c.now.steps[i].Kind == reckon.CarriedStep && x.Kind == reckon.CarriedStep && x.Expression == "" {
			if origin := c.source(from); origin >= 0 {
				from = origin
			}
		}
		c.trace(from)
	}
	if c.now.steps[i].Expression == "" {
		if from := c.source(i); from >= 0 {
			c.trace(from)
		}
	}
}

// pair returns the value of step i before and now; NaN before if there was no such step.
func (c *chain) pair(i int) [2]float64 {
	was := math.NaN()
	if old, ok := c.first.byKey[c.now.keys[i]]; ok {
		was = c.first.steps[old].Value
	}
	return [2]float64{was, c.now.steps[i].Value}
}

// source returns the step that step i, which is not worked out from others, was
// taken from: -1 for an input of the question. A later part of the working is
// given what an earlier one found, so it is the last step before i that has its
// values in both cases: one that is worked out rather than one that is not, and
// of those one of the same symbol. Failing that it is what the same item was
// before it was rounded, "water, before rounding" for "water, to weigh".
func (c *chain) source(i int) int {
	w, is := c.now, c.pair(i)
	if c.inputs[is] {
		return -1
	}
	s, best, rank := &w.steps[i], -1, 0
	item, _, isItem := strings.Cut(s.ID, ", ")
	for j := i - 1; j >= 0; j-- {
		t := &w.steps[j]
		if t.Symbol == "" || t.Unit != s.Unit || !w.changed(c.first, j) {
			continue
		}
		found := 0
		switch before := c.pair(j); {
		case alike(before[1], is[1]) && (alike(before[0], is[0]) || math.IsNaN(is[0])):
			switch found = 2; {
			case t.Expression != "" && t.Symbol == s.Symbol:
				found = 4
			case t.Expression != "":
				found = 3
			}
		case isItem && t.Expression != "" && w.headings[j] == w.headings[i] && strings.HasPrefix(t.ID, item+", "):
			found = 1
		}
		if found > rank {
			best, rank = j, found
		}
	}
	return best
}
