package exercise

import (
	"math"
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// answerStep finds the step that computes the number v of the outlet: by its
// symbol, or if it is an item of a list and has none there, the only one of the
// same kind that comes to the same. It is -1 if no step does.
func answerStep(steps []reckon.Step, o *outlet, v float64) int {
	if o.symbol != "" {
		for i := len(steps) - 1; i >= 0; i-- {
			if s := &steps[i]; s.Kind == reckon.WorkedStep && s.Symbol == o.symbol && s.Value == v {
				return i
			}
		}
	}
	if o.symbol != "" && !strings.Contains(o.path, "[") || o.whole && math.Abs(v) < smallCount {
		return -1 // a small count equals too many others
	}
	held, found := "", -1
	if o.quantity != nil {
		held = unit.Describe(o.quantity).Held
	}
	for i := range steps {
		if s := &steps[i]; s.Kind == reckon.WorkedStep && s.Unit == held && s.Value == v && !isCopy(s) {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

const smallCount = 20

// stepsTo lists the computed steps that lead to the one at the index, itself
// included, in their order.
func stepsTo(steps []reckon.Step, at int) []int {
	needed := map[int]bool{at: true}
	for i := at; i >= 0; i-- {
		if !needed[i] {
			continue
		}
		e, err := reckon.ParseExpression(steps[i].Expression)
		if steps[i].Kind != reckon.WorkedStep || err != nil {
			delete(needed, i)
			continue
		}
		for _, symbol := range e.Symbols() {
			if j := stepBefore(steps[:i], symbol); j >= 0 {
				needed[j] = true
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
			if j := stepBefore(steps[:i], symbol); j >= 0 && steps[j].Kind != reckon.WorkedStep && !slices.Contains(out, j) {
				out = append(out, j)
			}
		}
	}
	slices.Sort(out)
	return out
}

// stepBefore is the last of the steps that has the symbol and is no check, or -1.
func stepBefore(steps []reckon.Step, symbol string) int {
	for i := len(steps) - 1; i >= 0; i-- {
		if steps[i].Symbol == symbol && steps[i].Kind != reckon.CheckStep {
			return i
		}
	}
	return -1
}

// isCopy reports whether a step only gives another name to a number.
func isCopy(s *reckon.Step) bool {
	return s.Expression != "" && !strings.ContainsAny(s.Expression, " +-*/(")
}

// isRead reports whether a step only repeats something that is given, takes the
// least or the largest of such, or counts them: then it is read off, not worked out.
func isRead(steps []reckon.Step, at int) bool {
	e, err := reckon.ParseExpression(steps[at].Expression)
	if err != nil {
		return true
	}
	if onlyCounts(e) {
		return true
	}
	from := []*reckon.Expression{e}
	switch {
	case e.Op == 'f' && (e.Name == "min" || e.Name == "max" || e.Name == "count"):
		from = e.Args
	case e.Op != 's':
		return false
	}
	return !slices.ContainsFunc(from, func(a *reckon.Expression) bool {
		if a.Op != 's' {
			return a.Op != 'n'
		}
		j := stepBefore(steps[:at], a.Name)
		return j >= 0 && steps[j].Kind == reckon.WorkedStep
	})
}

// onlyCounts reports whether an expression counts and does nothing else: 1 + count(a, b).
func onlyCounts(e *reckon.Expression) bool {
	switch e.Op {
	case 'n':
		return true
	case 'f':
		return e.Name == "count"
	case '+', '-':
		return onlyCounts(e.Args[0]) && onlyCounts(e.Args[1])
	}
	return false
}
