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
		b, err := parseBound(text)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(s.Outputs, b.output) {
			s.Outputs = append(s.Outputs, b.output)
		}
		w.within = append(w.within, b)
	}
	return w, nil
}

// parseBound reads "PATH<=9 min", "PATH>=5 min" and "PATH=5 min..9 min".
func parseBound(text string) (bound, error) {
	b := bound{text: text, low: math.Inf(-1), high: math.Inf(1)}
	bad := wrong(misused, `-within is %q: want "PATH<=VALUE", "PATH>=VALUE" or "PATH=VALUE..VALUE", each with its unit`, text)
	at := strings.IndexAny(text, "<>=")
	if at <= 0 {
		return b, bad
	}
	b.output.Path = strings.TrimSpace(text[:at])
	sign, rest := text[at:at+1], strings.TrimPrefix(text[at+1:], "=")
	low, high := rest, rest
	switch sign {
	case "<":
		low = ""
	case ">":
		high = ""
	default:
		var ok bool
		if low, high, ok = strings.Cut(rest, ".."); !ok {
			return b, bad
		}
	}
	for _, end := range []struct {
		text string
		into *float64
	}{{low, &b.low}, {high, &b.high}} {
		if end.text == "" {
			continue
		}
		number, symbol, _ := strings.Cut(strings.TrimSpace(end.text), " ")
		x, err := strconv.ParseFloat(number, 64)
		symbol = strings.TrimSpace(symbol)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || *end.into == b.low && b.output.Unit != "" && symbol != b.output.Unit {
			return b, bad
		}
		*end.into, b.output.Unit = x, symbol
	}
	if b.low > b.high {
		return b, wrong(misused, "-within is %q: it runs backwards", text)
	}
	return b, nil
}

// compile finds the columns of the outputs that must lie within limits.
func (w *window) compile(c *whatif.Compiled) error {
	for i := range w.within {
		b := &w.within[i]
		b.column = slices.IndexFunc(c.Columns(), func(k whatif.Column) bool {
			return !k.Input && k.Path == b.output.Path && (b.output.Unit == "" || k.Unit == b.output.Unit)
		})
		if b.column < 0 || c.Columns()[b.column].Kind == whatif.Word {
			return wrong(misused, "-within %q: the output is no number", b.text)
		}
		if b.output.Unit == "" && c.Columns()[b.column].Unit != "" {
			return wrong(misused, "-within %q: want a unit after the number, such as %s", b.text, c.Columns()[b.column].Unit)
		}
	}
	return nil
}

// binds says what stands in the way of a scenario; "" if nothing does.
func (w *window) binds(row *whatif.Row) string {
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
	return strings.Join(reasons, " and ")
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
