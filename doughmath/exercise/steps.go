package exercise

import (
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// answerStep finds the step that computes the number v of the outlet: by its
// symbol if it has one, else the last one of the same kind that comes to the
// same. It is -1 if no step does.
func answerStep(steps []reckon.Step, o *outlet, v float64) int {
	held := ""
	if o.quantity != nil {
		held = unit.Describe(o.quantity).Held
	}
	found := -1
	for i := range steps {
		s := &steps[i]
		if s.Expression == "" || s.Value != v {
			continue
		}
		if o.symbol != "" && s.Symbol == o.symbol {
			return i
		}
		if s.Unit == held && o.symbol == "" {
			found = i
		}
	}
	return found
}

// stepsTo lists the computed steps that lead to the one at the index, itself
// included, in their order.
func stepsTo(steps []reckon.Step, at int) []int {
	needed := map[int]bool{at: true}
	for i := at; i >= 0; i-- {
		if !needed[i] {
			continue
		}
		e, err := reckon.ParseExpression(steps[i].Expression)
		if steps[i].Expression == "" || err != nil {
			delete(needed, i)
			continue
		}
		for _, symbol := range e.Symbols() {
			for j := i - 1; j >= 0; j-- {
				if steps[j].Symbol == symbol {
					needed[j] = true
					break
				}
			}
		}
	}
	out := make([]int, 0, len(needed))
	for i := range needed {
		out = append(out, i)
	}
	slices.Sort(out)
	return out
}

// origins lists the steps that are given and that the computed ones refer to.
func origins(steps []reckon.Step, computed []int) []int {
	var out []int
	for _, i := range computed {
		e, err := reckon.ParseExpression(steps[i].Expression)
		if err != nil {
			continue
		}
		for _, symbol := range e.Symbols() {
			for j := i - 1; j >= 0; j-- {
				if steps[j].Symbol == symbol {
					if steps[j].Expression == "" && !slices.Contains(out, j) {
						out = append(out, j)
					}
					break
				}
			}
		}
	}
	slices.Sort(out)
	return out
}

// isName reports whether an expression is a symbol alone.
func isName(expression string) bool {
	return expression != "" && !strings.ContainsAny(expression, " +-*/(")
}

// givenStep reports whether the symbol is that of a step that is given: then
// what equals it is read off, not worked out.
func givenStep(steps []reckon.Step, symbol string) bool {
	for i := len(steps) - 1; i >= 0; i-- {
		if steps[i].Symbol == symbol {
			return steps[i].Expression == ""
		}
	}
	return true
}
