package reckon

import (
	"strconv"
	"strings"
	"unicode"
)

// A Working records how a result came about, step by step. Pass one to an
// Explain function; a nil Working records nothing and costs nothing.
type Working struct {
	Steps []Step `json:"steps"`

	known   map[string]float64 // by symbol, of the steps indexed
	here    map[string]bool    // the symbols since the last heading
	indexed int
}

// A Step is one line of working.
//
// A given step (no Expression) is an input or a constant; one without a Symbol
// is a heading. Any other step's
// Expression is arithmetic over the symbols of earlier steps, written so that
// a person can key it into a calculator and a test can evaluate it: it is a Go
// expression with +, -, *, /, parentheses, numbers, and the functions sqrt,
// abs, exp, ln, min, max, floor, ceil, round, pow, cos, sin, acosh and the constant pi.
// Values are in the unit held, so the expression needs no conversions.
type Step struct {
	ID         string  `json:"id"`                   // what this is, in words: "water temperature"
	Symbol     string  `json:"symbol"`               // how expressions name it: "T_w"
	Expression string  `json:"expression,omitempty"` // how it is computed: "N*T_d - T_f - T_r - F"
	Value      float64 `json:"value"`                // in unit
	Unit       string  `json:"unit,omitempty"`       // the unit held: "°C"; "" for a pure number
	Source     string  `json:"source,omitempty"`     // on whose authority
}

// Heading opens a part of a longer working. It is a step with words only.
func (w *Working) Heading(id string) {
	if w != nil {
		w.add(id, "", "", 0, "", "")
	}
}

// Given records an input or a constant with its origin.
func (w *Working) Given(id, symbol string, value float64, unit, source string) {
	if w != nil {
		w.add(id, symbol, "", value, unit, source)
	}
}

// Step records a value computed from earlier ones.
func (w *Working) Step(id, symbol, expression string, value float64, unit, source string) {
	if w != nil {
		w.add(id, symbol, expression, value, unit, source)
	}
}

// add stays out of line: written into every calculation, it would make the
// code that runs without a working several times as long.
//
//go:noinline
func (w *Working) add(id, symbol, expression string, value float64, unit, source string) {
	w.Steps = append(w.Steps, Step{ID: id, Symbol: symbol, Expression: expression, Value: value, Unit: unit, Source: source})
}

// String lays the working out one step to a line, each expression followed by
// the same with its numbers:
//
//	water temperature: T_w = B - S = 64 - 44 = 20 °C  [factor rule]
//
// Numbers are shown to six significant figures; the steps hold all of them.
func (w *Working) String() string {
	var b strings.Builder
	known := map[string]float64{}
	for i := range w.Steps {
		s := &w.Steps[i]
		if s.Symbol == "" {
			b.WriteString("\n" + s.ID + "\n")
			continue
		}
		b.WriteString("  " + s.ID + ": " + s.Symbol + " = ")
		if s.Expression != "" {
			b.WriteString(s.Expression + " = ")
			if numbers := substitute(s.Expression, known); numbers != s.Expression {
				b.WriteString(numbers + " = ")
			}
		}
		b.WriteString(figures(s.Value))
		if s.Unit != "" {
			b.WriteString(" " + s.Unit)
		}
		if s.Source != "" {
			b.WriteString("  [" + s.Source + "]")
		}
		b.WriteByte('\n')
		known[s.Symbol] = s.Value
	}
	return b.String()
}

func figures(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// substitute puts the values of known symbols into an expression.
func substitute(expression string, known map[string]float64) string {
	var b strings.Builder
	for rest := expression; rest != ""; {
		start := strings.IndexFunc(rest, unicode.IsLetter)
		if start < 0 {
			b.WriteString(rest)
			break
		}
		end := len(rest)
		if n := strings.IndexFunc(rest[start:], func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' }); n >= 0 {
			end = start + n
		}
		b.WriteString(rest[:start])
		word := rest[start:end]
		// The letter of a number such as 1e-9 is not a symbol.
		inNumber := start > 0 && rest[start-1] >= '0' && rest[start-1] <= '9'
		if v, ok := known[word]; ok && !inNumber {
			word = figures(v)
			if v < 0 {
				word = "(" + word + ")"
			}
		}
		b.WriteString(word)
		rest = rest[end:]
	}
	return b.String()
}
