package reckon

import (
	"strings"

	"example.com/dough/doughmath/unit"
)

// A Working records how a result came about, step by step. Pass one to an
// Explain function; a nil Working records nothing and costs nothing. It is
// recorded in the units held, with every digit; [ShowSteps] writes it out for a person.
type Working struct {
	Steps []Step `json:"steps"`

	known   map[string]float64 // by symbol, of the steps indexed
	here    map[string]bool    // the symbols since the last heading
	indexed int
}

// A StepKind says where the number of a step comes from.
type StepKind string

// Every step is one of these. Only a step that is worked out or put back has
// an Expression.
const (
	HeadingStep  StepKind = "heading"  // words only: a part of a longer working begins
	InputStep    StepKind = "input"    // an input of the question
	ConstantStep StepKind = "constant" // a number of the relation, the source or the law, or of a default
	TableStep    StepKind = "table"    // read off a table or a distribution, a count, or a trial of many: Source says which
	RootStep     StepKind = "root"     // found by trial, where the closed form is unreadable; a check follows
	WorkedStep   StepKind = "step"     // worked out by its Expression
	CarriedStep  StepKind = "carried"  // worked out in an earlier part of the working, which Source names
	CheckStep    StepKind = "check"    // a root put back into the plain relation: gives the Symbol's value once more
)

// A Step is one line of working.
//
// Its Expression is arithmetic over the symbols of earlier steps, written so that
// a person can key it into a calculator and a test can evaluate it: it is a Go
// expression with +, -, *, /, parentheses, numbers, the functions sqrt,
// abs, exp, ln, min, max, floor, ceil, round, pow, cos, sin, acosh, count and
// normal, and the constant pi. [ParseExpression] says what they do.
// Values are in the unit held; what the expression converts, Constants says.
type Step struct {
	ID         string   `json:"id"`                   // what this is, in words: "water temperature"
	Symbol     string   `json:"symbol"`               // how expressions name it: "T_w"
	Kind       StepKind `json:"kind"`                 // where the number comes from
	Expression string   `json:"expression,omitempty"` // how it is computed: "N*T_d - T_f - T_r - F"
	Constants  string   `json:"constants,omitempty"`  // which numbers of the expression convert: "60 s/min"
	Plain      string   `json:"plain,omitempty"`      // the expression without them, for numbers whose units fit one another
	Value      float64  `json:"value"`                // in unit
	Unit       string   `json:"unit,omitempty"`       // the unit held: "°C"; "" for a pure number
	Source     string   `json:"source,omitempty"`     // on whose authority
	Field      string   `json:"field,omitempty"`      // of an input, its path in the question: "friction"
	Typed      string   `json:"typed,omitempty"`      // of an input, the text that was given, "2.91 oz", if it is known
	Answer     bool     `json:"answer,omitempty"`     // it is a value of the answer
}

// Heading opens a part of a longer working. It is a step with words only.
func (w *Working) Heading(id string) {
	if w != nil {
		w.add(Step{Kind: HeadingStep, ID: id})
	}
}

// Given records what is not worked out here: an input that [Working.Inputs]
// cannot record, or, with its source, a value of a table or a distribution, or
// a count. What was computed is never given: it is a Step, or a Root.
func (w *Working) Given(id, symbol string, value float64, unit, source string) {
	if w == nil {
		return
	}
	kind := InputStep
	if source != "" {
		kind = TableStep
	}
	w.add(Step{Kind: kind, ID: id, Symbol: symbol, Value: value, Unit: unit, Source: source})
}

// Root records a value that was found by trial. Put it back with
// [Working.PutBack] right after.
func (w *Working) Root(id, symbol string, value float64, unit, how string) {
	if w != nil {
		w.add(Step{Kind: RootStep, ID: id, Symbol: symbol, Value: value, Unit: unit, Source: how, Answer: true})
	}
}

// Step records a value computed from earlier ones.
func (w *Working) Step(id, symbol, expression string, value float64, unit, source string) {
	if w != nil {
		expression, plain, constants := converting(expression)
		w.add(Step{Kind: WorkedStep, ID: id, Symbol: symbol, Expression: expression, Plain: plain, Constants: constants, Value: value, Unit: unit, Source: source, Answer: true})
	}
}

// add stays out of line: written into every calculation, it would make the
// code that runs without a working several times as long.
//
//go:noinline
func (w *Working) add(s Step) { w.Steps = append(w.Steps, s) }

// AsTyped notes beside every input the text that it was read from. data is the
// JSON object of the question.
func (w *Working) AsTyped(data []byte) {
	if len(data) > maxInput {
		return
	}
	t := typed{scanner: scanner{data: string(data)}, found: map[string]string{}}
	for i := range w.Steps {
		if s := &w.Steps[i]; s.Field != "" {
			t.found[s.Field] = ""
		}
	}
	if len(t.found) == 0 || !t.value() {
		return
	}
	for i := range w.Steps {
		if s := &w.Steps[i]; s.Field != "" {
			s.Typed = t.found[s.Field]
		}
	}
}

// String lays the working out one step to a line, as [ShowSteps] writes it in
// metric units:
//
//	water temperature: T_w = B - S = 64 - 44 = 20 °C  [factor rule]
func (w *Working) String() string { return w.In(unit.Metric) }

// In is String in units of sys.
func (w *Working) In(sys unit.System) string {
	var b strings.Builder
	for _, s := range ShowSteps(w.Steps, sys) {
		if s.Kind == HeadingStep {
			b.WriteString("\n" + s.ID + "\n")
			continue
		}
		b.WriteString("  " + s.ID + ": " + s.Symbol + " = " + s.Chain())
		if note := s.Note(); note != "" {
			b.WriteString("  [" + note + "]")
		}
		b.WriteByte('\n')
	}
	return b.String()
}
