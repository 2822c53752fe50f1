package reckon

import (
	"math"
	"slices"
	"strings"
	"unicode"
)

// Carried records a value from an earlier part of a longer working under the
// symbol that it has in this part: as a step that names the earlier one. What
// is not there yet is an input.
func (w *Working) Carried(id, symbol string, value float64, unit string) {
	if w != nil {
		w.carry(Step{Kind: InputStep, ID: id, Symbol: symbol, Value: value, Unit: unit})
	}
}

// carry adds an input, or the step that names where it was worked out above.
// That is told by the value to the last bit, and by the words and the symbol. A
// bare number such as 2 may mean anything, so that it must have the same symbol;
// and what is like an earlier input as well must share a word. A constant that this part has under the same
// symbol is not recorded again.
func (w *Working) carry(s Step) {
	telling := s.Value != 0 && (s.Unit != "" || s.Value >= 100 || s.Value != math.Trunc(s.Value))
	var from *Step
	most, input, here := 0, false, true
	for i := len(w.Steps) - 1; i >= 0; i-- {
		x := &w.Steps[i]
		here = here && x.Kind != HeadingStep
		if x.Value != s.Value || x.Unit != s.Unit {
			continue
		}
		switch x.Kind {
		case InputStep, ConstantStep:
			if input = true; here && x.Kind == ConstantStep && x.Symbol == s.Symbol {
				return
			}
		case WorkedStep, RootStep, TableStep:
			if same := x.Symbol == s.Symbol; same || telling {
				alike := 1 + 2*sharedWords(x.ID, s.ID)
				if same {
					alike++
				}
				if alike > most {
					from, most = x, alike
				}
			}
		}
	}
	if from != nil && (most > 1 || !input) {
		s.Kind, s.Source = CarriedStep, from.ID+", from above"
		// An expression can name it as long as its symbol stands for nothing else.
		if now := w.latest(from.Symbol); now.Value == s.Value && now.Unit == s.Unit {
			s.Expression = from.Symbol
		}
	}
	w.add(s)
}

// latest returns the step that a symbol stands for now, which has been recorded.
func (w *Working) latest(symbol string) *Step {
	i := len(w.Steps) - 1
	for w.Steps[i].Symbol != symbol {
		i--
	}
	return &w.Steps[i]
}

// sharedWords counts the words that two names have in common, small ones aside.
func sharedWords(a, b string) (n int) {
	split := func(text string) []string {
		return strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
	}
	theirs := split(b)
	for _, word := range split(a) {
		if len(word) > 3 && slices.Contains(theirs, word) {
			n++
		}
	}
	return n
}
