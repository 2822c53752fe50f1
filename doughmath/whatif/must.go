package whatif

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/reckon"
)

// Must is what an answer has to keep to. A scenario that is refused keeps nothing.
type Must struct {
	Limits  []Limit  `json:"limits,omitzero" items:"..100"`  // outputs within limits
	With    []string `json:"with,omitzero" items:"..100"`    // words of conditions that have to be there
	Without []string `json:"without,omitzero" items:"..100"` // words of conditions that must not, such as "seam-open"
}

// A Limit holds an output between two values, or on one side of one.
type Limit struct {
	Path string `json:"path"`          // of the output
	Low  string `json:"low,omitzero"`  // least value; leave out for none
	High string `json:"high,omitzero"` // greatest value; leave out for none
}

// requirement is a Must that was compiled.
type requirement struct {
	limits []bound
	words  []wanted
}

type bound struct {
	Limit
	output    int     // of the study
	low, high float64 // in the unit of its column
}

type wanted struct {
	word  string
	there bool
	watch
}

// outputsOf returns the outputs of the study and those that the limits name besides.
func (m *Must) outputsOf(outputs []Output) []Output {
	all := slices.Clone(outputs)
	for _, l := range m.Limits {
		if !slices.ContainsFunc(all, func(o Output) bool { return o.Path == l.Path }) {
			all = append(all, Output{Path: l.Path})
		}
	}
	return all
}

// check wants something to keep to of each limit and word.
func (m *Must) check(c *reckon.Checks) {
	reckon.CheckItems(c, "limits", len(m.Limits), 100)
	reckon.CheckItems(c, "with", len(m.With), 100)
	reckon.CheckItems(c, "without", len(m.Without), 100)
	for i, l := range m.Limits {
		if l.Low == "" && l.High == "" {
			c.Fail(item("limits", i), "without low and high", "at least one of them")
		}
	}
}

// compile finds outputs and words in a study that was compiled with the outputs of outputsOf.
func (m *Must) compile(c *reckon.Checks, study *Compiled) requirement {
	var out requirement
	for i, l := range m.Limits {
		at := item("limits", i)
		b := bound{Limit: l, low: math.Inf(-1), high: math.Inf(1)}
		b.output = slices.IndexFunc(study.columns[len(study.factors):], func(col Column) bool { return col.Path == l.Path })
		o := &study.m.outs[b.output]
		if o.kind == Word {
			c.Fail(at+".path", quoted(l.Path), "an output that is a number")
			continue
		}
		p := parser{c: c, in: &input{kind: Number, zero: o.zero}}
		mark := c.Mark()
		if l.Low != "" {
			b.low = study.shownOutput(b.output, p.number(at+".low", l.Low, o.zero))
		}
		if l.High != "" {
			b.high = study.shownOutput(b.output, p.number(at+".high", l.High, o.zero))
		}
		if c.Mark() == mark && !(b.low <= b.high) {
			c.Fail(at+".high", l.High, "no less than low, "+l.Low)
		}
		out.limits = append(out.limits, b)
	}
	for _, list := range []struct {
		name  string
		words []string
		there bool
	}{{"with", m.With, true}, {"without", m.Without, false}} {
		for i, word := range list.words {
			w, known := study.m.watch(word)
			if known != nil {
				c.Fail(item(list.name, i), quoted(word), conditionsIn(word, known))
			}
			out.words = append(out.words, wanted{word, list.there, w})
		}
	}
	return out
}

// conditionsIn says which conditions the answer may have.
func conditionsIn(word string, known []string) string {
	want := "a condition of this answer: " + strings.Join(known, ", ")
	if near := nearest.Of(word, known); near != "" {
		want = strconv.Quote(near) + " perhaps; " + want
	}
	return want
}

// shownOutput is an output in the unit of its column.
func (c *Compiled) shownOutput(o int, y float64) float64 {
	if k := len(c.factors) + o; c.turned[k] {
		return c.convert[k].FromHeld(y)
	}
	return y
}

// missed is how far a row is from keeping all: 0 if it does. Each thing missed
// counts 1, and what a limit is missed by, measured by the limits, up to 1 more.
func (r *requirement) missed(row *Row) (missed float64) {
	if row.err != nil {
		return math.Inf(1)
	}
	values := row.Values[len(row.of.factors):]
	for i := range r.limits {
		b := &r.limits[i]
		switch y := values[b.output]; {
		case math.IsNaN(y):
			missed += 2
		case y < b.low:
			missed += 1 + b.far(b.low-y)
		case y > b.high:
			missed += 1 + b.far(y-b.high)
		}
	}
	for i := range r.words {
		if w := &r.words[i]; w.has(row.marks) != w.there {
			missed++
		}
	}
	return missed
}

// far is a distance as a part of the width between the limits, or of the one there is: 0 to 1.
func (b *bound) far(d float64) float64 {
	scale := b.high - b.low
	if math.IsInf(scale, 0) || scale == 0 {
		scale = math.Abs(b.low)
		if math.IsInf(scale, 0) {
			scale = math.Abs(b.high)
		}
	}
	if scale == 0 {
		scale = 1
	}
	return d / (d + scale)
}

// says lists what a row misses, in words.
func (r *requirement) says(row *Row) (out []string) {
	if row.err != nil {
		return []string{"refused: " + row.err.Error()}
	}
	values := row.Values[len(row.of.factors):]
	for i := range r.limits {
		b := &r.limits[i]
		col := &row.of.columns[len(row.of.factors)+b.output]
		switch y := values[b.output]; {
		case math.IsNaN(y):
			out = append(out, b.Path+" is left out")
		case y < b.low:
			out = append(out, b.Path+" is "+col.text(y)+", below "+b.Low)
		case y > b.high:
			out = append(out, b.Path+" is "+col.text(y)+", above "+b.High)
		}
	}
	for i := range r.words {
		switch w := &r.words[i]; {
		case w.has(row.marks) == w.there:
		case w.there:
			out = append(out, w.word+" is not there")
		default:
			out = append(out, w.word)
		}
	}
	return out
}

// text is a value of the column, rounded for reading, with its unit.
func (c *Column) text(v float64) string {
	text := strconv.FormatFloat(v, 'g', 6, 64)
	if c.Unit != "" {
		text += " " + c.Unit
	}
	return text
}
