package main

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/whatif"
)

// window is what must be so of a scenario that is worth making.
type window struct {
	avoid  []string // words of conditions that must not be met
	within []bound
	met    []string // those of avoid that were
}

// asks reports whether anything must be so.
func (w *window) asks() bool { return len(w.avoid)+len(w.within) > 0 }

// bound is one output that must lie within limits.
type bound struct {
	text      string // as it was typed
	output    whatif.Output
	low, high float64
	column    int
}

// window reads -avoid and -within, and has the study find the outputs that must lie within limits.
func (f *flags) window(s *whatif.Study) (*window, error) {
	w := &window{avoid: f.list("avoid")}
	for _, text := range f.given["within"] {
		l, err := parseLimit(text)
		if err != nil {
			return nil, err
		}
		b := bound{text: text, output: whatif.Output{Path: l.Path}, low: math.Inf(-1), high: math.Inf(1)}
		for _, end := range []struct {
			text string
			into *float64
		}{{l.Low, &b.low}, {l.High, &b.high}} {
			if end.text == "" {
				continue
			}
			number, symbol, _ := strings.Cut(end.text, " ")
			x, err := strconv.ParseFloat(number, 64)
			symbol = strings.TrimSpace(symbol)
			if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || b.output.Unit != "" && symbol != b.output.Unit {
				return nil, wrong(misused, "-within is %q: want numbers in one unit", text)
			}
			*end.into, b.output.Unit = x, symbol
		}
		if b.low > b.high {
			return nil, wrong(misused, "-within is %q: it runs backwards", text)
		}
		switch i := slices.IndexFunc(s.Outputs, func(o whatif.Output) bool { return o.Path == b.output.Path }); {
		case i < 0:
			s.Outputs = append(s.Outputs, b.output)
		case s.Outputs[i].Unit == "":
			s.Outputs[i].Unit = b.output.Unit
		}
		w.within = append(w.within, b)
	}
	return w, nil
}

// compile finds the columns of the outputs that must lie within limits.
func (w *window) compile(c *whatif.Compiled) error {
	for i := range w.within {
		b := &w.within[i]
		b.column = slices.IndexFunc(c.Columns(), func(k whatif.Column) bool { return !k.Input && k.Path == b.output.Path })
		switch k := c.Columns()[b.column]; {
		case k.Kind == whatif.Word:
			return wrong(misused, "-within %q: the output is no number", b.text)
		case b.output.Unit != k.Unit:
			return wrong(misused, "-within %q: want the unit of the column after the number, %s", b.text, k.Unit)
		}
	}
	return nil
}

// inTheWay returns what says of a row what stands in its way; nil if nothing must be so.
func (w *window) inTheWay() func(*whatif.Row) string {
	if !w.asks() {
		return nil
	}
	return func(row *whatif.Row) string { return strings.Join(w.binds(row), " and ") }
}

// binds lists what stands in the way of a scenario.
func (w *window) binds(row *whatif.Row) []string {
	var reasons []string
	add := func(reason string) {
		if !slices.Contains(reasons, reason) {
			reasons = append(reasons, reason)
		}
	}
	for _, r := range row.Refusals() {
		text := refusalKind(&r)
		add(text)
	}
	for _, c := range row.Conditions() {
		if slices.Contains(w.avoid, c.Word) {
			add(c.Word)
			if !slices.Contains(w.met, c.Word) {
				w.met = append(w.met, c.Word)
			}
		}
	}
	for i := range w.within {
		b := &w.within[i]
		switch v := row.Values[b.column]; {
		case math.IsNaN(v) && row.Err() == nil:
			add("no " + words(b.output.Path))
		case v < b.low:
			add(words(b.output.Path) + " below " + number(b.low) + unitAfter(b.output.Unit))
		case v > b.high:
			add(words(b.output.Path) + " above " + number(b.high) + unitAfter(b.output.Unit))
		}
	}
	return reasons
}

func unitAfter(symbol string) string {
	if symbol == "" {
		return ""
	}
	return " " + symbol
}

// refusalKind is what refusals of many scenarios have in common.
func refusalKind(r *whatif.Refusal) string {
	text := ""
	switch {
	case r.Unknown != "":
		text = "no " + r.Unknown
		if r.Low != "" || r.High != "" {
			text += " within reach"
		}
	case r.Binds == "low":
		text = words(r.Field) + " too small"
	case r.Binds == "high":
		text = words(r.Field) + " too large"
	case r.Field != "":
		text = words(r.Field) + " refused"
	default:
		text = "refused"
	}
	if r.At != "" {
		text = words(r.At) + ": " + text
	}
	return text
}
