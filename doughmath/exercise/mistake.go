package exercise

import (
	"math"
	"reflect"
	"strings"
	"sync"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Mistake is a wrong way to an answer that is often taken. What it comes to
// is computed for every exercise, so that the answer which shows it is known.
type Mistake struct {
	ID          string `json:"id"`             // such as "percent-of-total"
	Calculation string `json:"calculation"`    // where it is made; "" for a slip of the unit, made anywhere
	Asked       string `json:"asked"`          // the output that it spoils
	Relation    string `json:"relation"`       // the wrong relation, in the symbols of the working
	If          string `json:"if,omitzero"`    // a word that must be among the givens: "friction_basis=per-factor"
	Units       string `json:"units,omitzero"` // the unit system in which it is made: "metric", "us"; "" for both
	Says        string `json:"says"`           // what to tell whoever made it
}

// Mistakes returns every mistake that is known, station by station.
func Mistakes() []Mistake {
	var all []Mistake
	for _, station := range [...][]Mistake{formulaMistakes, temperatureMistakes, batchMistakes, dividerMistakes, weightMistakes, prooferMistakes, moulderMistakes, unitMistakes} {
		all = append(all, station...)
	}
	return all
}

// likely is what a mistake comes to in one exercise.
type likely struct {
	mistake *Mistake
	held    float64
}

// compiled is a mistake made ready for its form.
type compiled struct {
	mistake *Mistake
	outlet  *outlet
	value   formula
}

// A formula computes from the values drawn and the answer.
type formula func(v *drawn, answer reflect.Value) float64

var arithmetic = map[byte]func(a, b float64) float64{
	'+': func(a, b float64) float64 { return a + b },
	'-': func(a, b float64) float64 { return a - b },
	'*': func(a, b float64) float64 { return float64(a * b) },
	'/': func(a, b float64) float64 { return a / b },
}

// compileMistakes readies the mistakes of a calculation. A symbol of a relation is that of an
// output, of an input, or of a step of the worked example.
func compileMistakes(f *form, steps []reckon.Step) []compiled {
	var out []compiled
	for _, list := range [...][]Mistake{formulaMistakes, temperatureMistakes, batchMistakes, dividerMistakes, weightMistakes, prooferMistakes, moulderMistakes} {
		for i := range list {
			m := &list[i]
			if m.Calculation != f.entry.ID {
				continue
			}
			o := f.asked(m.Asked)
			e, err := reckon.ParseExpression(m.Relation)
			if o == nil || err != nil {
				continue // a test finds it
			}
			if value := compile(e, f, steps, 0); value != nil {
				out = append(out, compiled{m, o, value})
			}
		}
	}
	return out
}

// mostNested bounds how far a symbol is followed through the steps.
const mostNested = 40

// compile turns an expression into a formula; nil if a symbol leads nowhere.
func compile(e *reckon.Expression, f *form, steps []reckon.Step, depth int) formula {
	if depth > mostNested {
		return nil
	}
	if e.Op == 'n' {
		n := e.Number
		return func(*drawn, reflect.Value) float64 { return n }
	}
	if e.Op == 's' {
		return symbolValue(e.Name, f, steps, depth)
	}
	args := make([]formula, len(e.Args))
	for i, a := range e.Args {
		if args[i] = compile(a, f, steps, depth+1); args[i] == nil {
			return nil
		}
	}
	if do, ok := arithmetic[e.Op]; ok {
		a, b := args[0], args[1]
		return func(v *drawn, answer reflect.Value) float64 { return do(a(v, answer), b(v, answer)) }
	}
	// A function or a sign: the expression itself knows it.
	own := &reckon.Expression{Op: e.Op, Name: e.Name}
	names := make([]string, len(args))
	for i := range args {
		names[i] = string(rune('a' + i))
		own.Args = append(own.Args, &reckon.Expression{Op: 's', Name: names[i]})
	}
	return func(v *drawn, answer reflect.Value) float64 {
		return own.Eval(func(name string) (float64, bool) { return args[name[0]-'a'](v, answer), true })
	}
}

func symbolValue(name string, f *form, steps []reckon.Step, depth int) formula {
	if name == "pi" {
		return func(*drawn, reflect.Value) float64 { return math.Pi }
	}
	for i := range f.slots {
		if f.slots[i].symbol == name {
			return func(v *drawn, _ reflect.Value) float64 { return v.held[i] }
		}
	}
	for i := range f.outlets {
		if o := &f.outlets[i]; o.symbol == name {
			return func(_ *drawn, answer reflect.Value) float64 {
				if held, ok := o.value(answer); ok {
					return held
				}
				return math.NaN()
			}
		}
	}
	for i := len(steps) - 1; i >= 0; i-- {
		if steps[i].Symbol != name || steps[i].Kind == reckon.CheckStep {
			continue
		}
		if steps[i].Kind != reckon.WorkedStep {
			constant := steps[i].Value
			return func(*drawn, reflect.Value) float64 { return constant }
		}
		e, err := reckon.ParseExpression(steps[i].Expression)
		if err != nil {
			return nil
		}
		return compile(e, f, steps[:i], depth+1)
	}
	return nil
}

// addMistakes computes what each likely mistake comes to. It is false if one
// cannot be told from the right answer, or would not be named.
func (e *Exercise) addMistakes(f *form, v *drawn, answer reflect.Value) bool {
	for i := range f.slips {
		m := &f.slips[i]
		if m.outlet == e.outlet && m.mistake.applies(f, v, e.Spec.Units) {
			e.mistakes = append(e.mistakes, likely{m.mistake, m.value(v, answer)})
		}
	}
	kept := e.mistakes[:0]
	for _, m := range e.mistakes {
		switch {
		case math.IsNaN(m.held) || math.IsInf(m.held, 0) || m.held == e.held:
			// It cannot be made with these values.
		case e.outlet.whole && math.Round(m.held) == e.held, !e.outlet.whole && math.Abs(m.held-e.held) <= 2*e.Asked.tolerance:
			return false
		default:
			kept = append(kept, m)
		}
	}
	e.mistakes = kept
	for i, m := range e.mistakes {
		if e.compare(e.answerOf(m.held)).Mistake != m.mistake.ID && !e.doubled(i) {
			return false
		}
	}
	e.addSlips()
	return true
}

// doubled reports whether an earlier mistake comes to the same.
func (e *Exercise) doubled(i int) bool {
	for _, m := range e.mistakes[:i] {
		if e.Asked.write(e.outlet.quantity, m.held) == e.Asked.write(e.outlet.quantity, e.mistakes[i].held) {
			return true
		}
	}
	return false
}

// applies reports whether a mistake can be made with the words drawn.
func (m *Mistake) applies(f *form, v *drawn, system unit.System) bool {
	if m.Units != "" && m.Units != system.String() {
		return false
	}
	if m.If == "" {
		return true
	}
	path, word, _ := strings.Cut(m.If, "=")
	for i := range f.slots {
		if f.slots[i].path == path {
			return v.texts[i] == word
		}
	}
	return false
}

// slipFormulas are the relations of unitMistakes, ready to be evaluated.
var slipFormulas = sync.OnceValue(func() []*reckon.Expression {
	out := make([]*reckon.Expression, len(unitMistakes))
	for i := range unitMistakes {
		e, err := reckon.ParseExpression(unitMistakes[i].Relation)
		if err != nil {
			e = &reckon.Expression{Op: 'n', Number: math.NaN()} // a test finds it
		}
		out[i] = e
	}
	return out
})
