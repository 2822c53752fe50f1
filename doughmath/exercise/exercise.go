package exercise

import (
	"math"
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// An Exercise is one question with what is given for it. As JSON it holds what
// a student sees; the answer is in its [Key].
type Exercise struct {
	Spec       Spec          `json:"spec"`             // makes it again
	Station    string        `json:"station"`          // the part of the work that it belongs to
	Setting    string        `json:"setting"`          // where it plays; invented
	Question   string        `json:"question"`         // what a person would ask
	Given      []Given       `json:"given"`            // in the order in which it is told
	Asked      Asked         `json:"asked"`            //
	Hazards    []reckon.Note `json:"hazards,omitzero"` // what can hurt whoever does the step
	Difficulty Difficulty    `json:"difficulty"`       //

	form     *form
	outlet   *outlet
	held     float64  // the answer in the unit held
	texts    []string // of the slots of the form
	input    []byte   // what the calculation is asked
	mistakes []likely
}

// A Given is one value that the student is told.
type Given struct {
	Field     string `json:"field,omitzero"`     // path of the input; "" for one that is not needed
	Group     string `json:"group,omitzero"`     // the item of a list that it belongs to: "trial 2", "rye flour"
	Words     string `json:"words,omitzero"`     // what it is; "" in a list of plain values
	Symbol    string `json:"symbol,omitzero"`    // in the working
	Text      string `json:"text"`               // with its unit
	Converted bool   `json:"converted,omitzero"` // it is not in the usual unit
	Table     bool   `json:"table,omitzero"`     // a constant from a table or a source, told with the question
	Relation  bool   `json:"relation,omitzero"`  // a relation from a source, told with the question

	distractor bool
}

// Asked is what the student is to find, and how finely.
type Asked struct {
	Field    string  `json:"field"`           // path of the output
	Words    string  `json:"words"`           // "water temperature"
	Symbol   string  `json:"symbol,omitzero"` // in the working
	Quantity string  `json:"quantity"`        // "temperature"; "number" or "whole number" without a unit
	Unit     string  `json:"unit,omitzero"`   // in which it is asked; any unit of the quantity is taken
	Step     float64 `json:"step"`            // to the nearest so much of the unit
	Decimals int     `json:"decimals"`        // that a multiple of Step has

	tolerance float64 // in the unit held
	stepHeld  float64
}

// Difficulty says what makes an exercise hard.
type Difficulty struct {
	Steps       int `json:"steps"`       // computed steps from what is given to the answer; where a branch depends on the values, those of the worked example
	Conversions int `json:"conversions"` // values given in another unit than usual
	Distractors int `json:"distractors"` // values given that are not needed
}

// newAsked says how the number of the outlet is asked. It is false if the
// answer is too small for the step to which it is read.
func newAsked(o *outlet, held float64, system unit.System) (Asked, bool) {
	a := Asked{Field: o.path, Words: o.words, Symbol: o.symbol, Quantity: "number"}
	if o.ofTemps && o.quantity != nil && system == unit.US {
		a.Words += aboveFreezing
	}
	if o.whole {
		a.Quantity, a.Step = "whole number", 1
		return a, held != 0
	}
	shownValue := held
	if o.quantity != nil {
		a.Quantity = unit.Describe(o.quantity).Name
		a.Unit = o.unitOf(held, system)
		shownValue = shown(o.quantity, held, a.Unit)
	}
	if shownValue == 0 || math.IsNaN(shownValue) || math.Abs(shownValue) > 1e12 || math.Abs(shownValue) < 1e-9 {
		return a, false
	}
	a.Step = askedStep(shownValue, a.Unit)
	a.Decimals = decimalsOf(a.Step)
	a.stepHeld = stepHeld(o.quantity, a.Step, a.Unit)
	// Half a step is the rounding that is asked for, the other half what was
	// rounded on the way.
	a.tolerance = a.stepHeld
	return a, math.Abs(held) > 4*a.tolerance || a.Quantity == "temperature" && math.Abs(held) > a.tolerance
}

// stepHeld is a step of the unit as it counts in the unit held.
func stepHeld(zero unit.Quantity, step float64, symbol string) float64 {
	if zero == nil {
		return step
	}
	if _, temp := zero.(unit.Temp); temp {
		if symbol == "°F" {
			return float64(step*5) / 9
		}
		return step
	}
	one, err := unit.Parse(zero, "1 "+symbol)
	if err != nil {
		return step
	}
	return float64(step * one)
}

// Text says to what the answer is asked: "to the nearest 0.5 °C".
func (a Asked) Text() string {
	if a.Quantity == "whole number" {
		return "a whole number"
	}
	return strings.TrimSpace("to the nearest " + atSteps(a.Step, a.Step) + " " + a.Unit)
}

// write writes a value, in the unit held, as the answer is asked.
func (a Asked) write(zero unit.Quantity, held float64) string {
	return strings.TrimSpace(atSteps(shown(zero, held, a.Unit), a.Step) + " " + a.Unit)
}

// String is the exercise as it is handed out.
func (e *Exercise) String() string {
	var b strings.Builder
	b.WriteString(e.Question + "\n\n")
	if e.Setting != "" {
		b.WriteString(e.Setting + "\n\n")
	}
	for _, line := range e.Lines() {
		b.WriteString("  " + line + "\n")
	}
	b.WriteString("\nFind: " + e.Asked.Words)
	if e.Asked.Symbol != "" {
		b.WriteString(" (" + e.Asked.Symbol + ")")
	}
	b.WriteString(", " + e.Asked.Text() + ".\n")
	for _, h := range e.Hazards {
		b.WriteString("Take care: " + h.Says + "\n")
	}
	if len(e.Hazards) > 0 {
		b.WriteString(reckon.CautionDeference + "\n")
	}
	return b.String()
}

// Lines is what is given, one line for each value or for each item of a list.
func (e *Exercise) Lines() []string {
	var out []string
	symbols := slices.ContainsFunc(e.Given, func(g Given) bool { return g.Relation })
	for i := 0; i < len(e.Given); {
		g := e.Given[i]
		if symbols && g.Symbol != "" && !g.Relation { // a relation speaks of them
			g.Words += ", " + g.Symbol
		}
		if g.Group == "" {
			out = append(out, g.Words+": "+g.Text)
			i++
			continue
		}
		if g.Words == "" { // a list of plain values
			list, _, _ := strings.Cut(g.Field, "[")
			texts := []string{g.Text}
			for i++; i < len(e.Given) && e.Given[i].Words == "" && strings.HasPrefix(e.Given[i].Field, list+"["); i++ {
				texts = append(texts, e.Given[i].Text)
			}
			if j := strings.LastIndexByte(list, '.'); j >= 0 {
				list = list[j+1:]
			}
			out = append(out, listWords(list)+": "+strings.Join(texts, ", "))
			continue
		}
		parts := []string{g.Words + " " + g.Text}
		for i++; i < len(e.Given) && e.Given[i].Group == g.Group && !sameField(e.Given[i-1], e.Given[i]); i++ {
			parts = append(parts, e.Given[i].Words+" "+e.Given[i].Text)
		}
		out = append(out, g.Group+": "+strings.Join(parts, ", "))
	}
	return out
}

// sameField reports whether two givens are the same field of two items that go by one name.
func sameField(a, b Given) bool {
	i, j := strings.LastIndexByte(a.Field, ']'), strings.LastIndexByte(b.Field, ']')
	return i >= 0 && j >= 0 && a.Field[:i] != b.Field[:j]
}
