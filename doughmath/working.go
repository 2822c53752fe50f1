package doughmath

// A Working records how a result came about, step by step. Pass one to an
// Explain function; a nil Working records nothing and costs nothing.
type Working struct {
	Steps []Step `json:"steps"`
}

// A Step is one line of working.
//
// A given step (no Expression) is an input or a constant. Any other step's
// Expression is arithmetic over the symbols of earlier steps, written so that
// a person can key it into a calculator and a test can evaluate it: it is a Go
// expression with +, -, *, /, parentheses, numbers, and the functions sqrt,
// abs, exp, ln, min, max, floor, ceil, round, pow, cos, sin, acosh and the constant pi.
// Values are in the unit held, so the expression needs no conversions.
type Step struct {
	ID         string  `json:"id"`                   // what this is, in words: "water temperature"
	Symbol     string  `json:"symbol"`               // how expressions name it: "T_w"
	Expression string  `json:"expression,omitempty"` // how it is computed: "N*T_d - T_f - T_r - F"
	Value      float64 `json:"value"`                // in Unit
	Unit       string  `json:"unit,omitempty"`       // the unit held: "°C"; "" for a pure number
	Source     string  `json:"source,omitempty"`     // on whose authority
}

// Given records an input or a constant with its origin.
func (w *Working) Given(id, symbol string, value float64, unit, source string) {
	if w != nil {
		w.Steps = append(w.Steps, Step{ID: id, Symbol: symbol, Value: value, Unit: unit, Source: source})
	}
}

// Step records a value computed from earlier ones.
func (w *Working) Step(id, symbol, expression string, value float64, unit, source string) {
	if w != nil {
		w.Steps = append(w.Steps, Step{ID: id, Symbol: symbol, Expression: expression, Value: value, Unit: unit, Source: source})
	}
}
