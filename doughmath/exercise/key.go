package exercise

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Key is the answer of an exercise with its working. It does not change.
type Key struct {
	Answer    string             `json:"answer"`            // as finely as asked
	Value     float64            `json:"value"`             // in the unit asked, every digit
	Tolerance float64            `json:"tolerance"`         // how far from Value an answer may be, in the unit asked
	Working   []reckon.ShownStep `json:"working"`           // what leads to the answer, in the units of the exercise
	Blanks    []Blank            `json:"blanks"`            // the numbers to be worked out, in their order; the last is the answer
	Hints     []string           `json:"hints"`             // one for each blank, none of which gives a number away
	Sources   []string           `json:"sources,omitzero"`  // of the relations and the constants
	Mistakes  []LikelyAnswer     `json:"mistakes,omitzero"` // wrong answers that are likely, and what to tell
	Unneeded  []string           `json:"unneeded,omitzero"` // what was given and is not needed

	exercise *Exercise
	steps    []reckon.Step // that were recorded: what is given first
	blanks   []blank
	known    map[string]*reckon.Expression // what each symbol of the working stands for, while the blanks are opened
}

// A Blank is one number of the working that a student fills in.
type Blank struct {
	Words      string `json:"words"`
	Symbol     string `json:"symbol"`
	Expression string `json:"expression"` // how it is worked out, in symbols
	Unit       string `json:"unit,omitzero"`
	Value      string `json:"value"` // with its unit, to four figures

	Number    float64 `json:"number"`    // the value in Unit, every digit
	Tolerance float64 `json:"tolerance"` // how far from Number an answer may be, in Unit
}

// blank is how a Blank is marked.
type blank struct {
	kind unit.Quantity
	held string // the unit held
	rule StepRule
}

// A LikelyAnswer is what a mistake comes to in one exercise.
type LikelyAnswer struct {
	ID       string  `json:"id"`
	Answer   string  `json:"answer"`   // as finely as asked
	Value    float64 `json:"value"`    // in the unit asked
	Relation string  `json:"relation"` // the wrong one
	Says     string  `json:"says"`
}

// stepFigures is how finely a number on the way is wanted: an answer may be off
// by one in the last of so many figures.
const stepFigures = 4

// Key returns the key. It returns an error if the exercise was not made by
// [Spec.Make] but read from JSON: make it again from its Spec.
func (e *Exercise) Key() (*Key, error) {
	if !e.made() {
		return nil, errors.New("exercise: it has " + notMade)
	}
	r, err := e.form.entry.Eval(e.input, calc.Options{Working: true})
	if err != nil {
		return nil, err
	}
	k := &Key{
		Answer: e.Asked.write(e.outlet.quantity, e.held), Value: e.held,
		Tolerance: e.Asked.tolerance, exercise: e, known: map[string]*reckon.Expression{},
	}
	if e.outlet.quantity != nil {
		k.Value = shown(e.outlet.quantity, e.held, e.Asked.Unit)
		k.Tolerance = e.Asked.Step
	}
	k.work(r.Working)
	for _, m := range e.mistakes {
		answer := e.Asked.write(e.outlet.quantity, m.held)
		if m.mistake.Calculation == "" { // a slip of the unit may be far smaller than the step
			answer = strings.TrimSpace(figures(shown(e.outlet.quantity, m.held, e.Asked.Unit), stepFigures) + " " + e.Asked.Unit)
		}
		k.Mistakes = append(k.Mistakes, LikelyAnswer{
			ID: m.mistake.ID, Answer: answer, Value: shown(e.outlet.quantity, m.held, e.Asked.Unit),
			Relation: m.mistake.Relation, Says: m.mistake.Says,
		})
	}
	for _, g := range e.Given {
		if g.distractor {
			k.Unneeded = append(k.Unneeded, g.Words)
		}
	}
	return k, nil
}

// work picks from all steps those that lead to the answer.
func (k *Key) work(all []reckon.Step) {
	e := k.exercise
	at := e.outlet.computedAt(all, e.held)
	if at < 0 {
		return // another branch than the example's: the answer stands alone
	}
	computed := stepsTo(all, at)
	picked := append(origins(all, computed), computed...)
	slices.Sort(picked)
	for _, i := range picked {
		s := all[i]
		opens := s.Kind == reckon.WorkedStep && (!isCopy(&s) || i == at)
		if opens {
			k.addBlank(&s, i == at)
		}
		k.knows(&s, opens)
		k.steps = append(k.steps, s)
		if s.Source != "" && !slices.Contains(k.Sources, s.Source) {
			k.Sources = append(k.Sources, s.Source)
		}
	}
	for _, source := range sourcesOf(e.form.entry.ID) {
		if !slices.Contains(k.Sources, source) {
			k.Sources = append(k.Sources, source)
		}
	}
	k.Working, k.known = reckon.ShowSteps(k.steps, e.Spec.Units), nil
	k.addHints()
}

// WorkingIn is the working of the same exercise in the units of another system.
func (k *Key) WorkingIn(system unit.System) []reckon.ShownStep {
	return reckon.ShowSteps(k.steps, system)
}

// addHints writes a hint for each blank: what comes next, and the relation as
// it is shown. A copy of a number is no blank.
func (k *Key) addHints() {
	for i := range k.Working {
		s := &k.Working[i]
		n := len(k.Hints)
		if s.Kind != reckon.WorkedStep || n == len(k.Blanks) || k.Blanks[n].Symbol != s.Symbol || k.Blanks[n].Words != s.ID {
			continue
		}
		k.Blanks[n].Expression = s.Expression
		hint := "Step " + strconv.Itoa(n+1) + " of " + strconv.Itoa(len(k.Blanks)) + ", " + s.ID + ": " + s.Symbol + " = " + s.Expression
		if s.Source != "" {
			hint += " (" + s.Source + ")"
		}
		k.Hints = append(k.Hints, hint+".")
	}
}

// addBlank opens a blank for a computed step.
func (k *Key) addBlank(s *reckon.Step, last bool) {
	e := k.exercise
	b := blank{kind: kindOfHeld(s.Unit), held: s.Unit}
	shownBlank := Blank{Words: s.ID, Symbol: s.Symbol, Expression: s.Expression}
	var scale unit.Scale
	var tolerance float64
	if last {
		b.kind, scale, tolerance = e.outlet.quantity, e.scale(), e.Asked.tolerance
		shownBlank.Unit, shownBlank.Value = e.Asked.Unit, k.Answer
		shownBlank.Number, shownBlank.Tolerance = k.Value, k.Tolerance
	} else {
		scale, _ = unit.Scales(s.Unit, s.Value, e.Spec.Units)
		v := scale.Number(s.Value)
		tolerance = float64(lastFigureOf(v)*scale.Mul) / scale.Div
		shownBlank.Number, shownBlank.Tolerance = v, lastFigureOf(v)
		shownBlank.Unit, _, _ = strings.Cut(scale.Unit, sumOf)
		shownBlank.Value = strings.TrimSpace(figures(v, stepFigures) + " " + shownBlank.Unit)
	}
	_, isTemp := b.kind.(unit.Temp)
	b.rule = k.rule(s, scale, tolerance, isTemp)
	k.blanks, k.Blanks = append(k.blanks, b), append(k.Blanks, shownBlank)
}

// scale is that of the unit in which the answer is asked.
func (e *Exercise) scale() unit.Scale {
	if e.outlet.quantity != nil {
		if s, ok := unit.ScaleOf(unit.Describe(e.outlet.quantity).Held, e.Asked.Unit); ok {
			return s
		}
	}
	return unit.Scale{Unit: e.Asked.Unit, Mul: 1, Div: 1}
}

// sumOf opens what the working says behind the unit of a sum of temperatures.
const sumOf = " (sum of "

// lastFigureOf is one in the last of the figures that a step is wanted to.
func lastFigureOf(v float64) float64 {
	if v == 0 {
		return 1e-9
	}
	return powerOfTen(exponent(v) - stepFigures + 1)
}

// Lines is the working as it is handed out, one step to a line: with its
// numbers, or with blanks where they are to be worked out.
func (k *Key) Lines(blanks bool) []string {
	out := make([]string, 0, len(k.Working))
	last := 0 // the line of the answer, which is a blank though it be a copy
	for i := range k.Working {
		if k.Working[i].Kind == reckon.WorkedStep {
			last = i
		}
	}
	for i := range k.Working {
		s := &k.Working[i]
		switch {
		case !blanks:
			line := s.ID + ": " + s.Symbol + " = " + s.Chain()
			if note := s.Note(); note != "" {
				line += "  [" + note + "]"
			}
			out = append(out, line)
		case i < last && s.Kind == reckon.WorkedStep && !strings.ContainsAny(s.Expression, " +-*/("):
			out = append(out, s.ID+": "+s.Symbol+" = "+s.Expression) // a copy: its number may be that of a blank
		case s.Kind == reckon.WorkedStep || s.Kind == reckon.ConversionStep:
			line := s.ID + ": " + s.Symbol + " = "
			if s.Expression != "" {
				line += s.Expression + " = "
			}
			out = append(out, strings.TrimSpace(line+"________ "+s.Unit))
		default:
			out = append(out, s.ID+": "+s.Symbol+" = "+s.Result())
		}
	}
	return out
}

// A StepMark is what one filled blank is worth.
type StepMark struct {
	Verdict Verdict `json:"verdict"`
	Says    string  `json:"says,omitzero"`
}

// A WorkMark is what an answer with its working is worth.
type WorkMark struct {
	Answer Mark       `json:"answer"`
	Steps  []StepMark `json:"steps"` // one for each blank
	Score  float64    `json:"score"` // 0 to 1: the answer's own, or for a wrong one the share of the steps that are right or follow
}

// MarkWork marks a working: the blanks in their order, and the answer. A blank
// may be left empty. A number that is wrong only because an earlier one is has
// its credit, unless that makes it nothing, impossible, or no work at all.
//
// It returns an *[reckon.InputError] if there are more texts than blanks.
func (k *Key) MarkWork(blanks []string, answer string) (WorkMark, error) {
	if len(blanks) > len(k.blanks) {
		c := reckon.Checks{Func: refusal}
		c.Fail("blanks", strconv.Itoa(len(blanks))+" texts", "at most "+strconv.Itoa(len(k.blanks))+", one for each blank")
		return WorkMark{}, c.Err()
	}
	m := WorkMark{Answer: k.exercise.Mark(answer), Steps: make([]StepMark, len(k.blanks))}
	if len(k.blanks) == 0 {
		m.Score = m.Answer.Score
		return m, nil
	}
	f := follower{key: k}
	credits, last := 0, len(k.blanks)-1
	for i := range k.blanks {
		text := ""
		if i < len(blanks) {
			text = blanks[i]
		}
		if i == last && strings.TrimSpace(text) == "" {
			text = answer
		}
		m.Steps[i] = f.mark(i, text)
		if v := m.Steps[i].Verdict; v == Right || v == Followed {
			credits++
		}
	}
	m.Score = max(m.Answer.Score, float64(credits)/float64(len(k.blanks)))
	if m.Answer.Score < rightScore && m.Score >= rightScore {
		m.Score = max(m.Answer.Score, float64(last)/float64(len(k.blanks)))
	}
	if m.Answer.Verdict != Right && m.Steps[last].Verdict == Followed {
		m.Answer.Says = FollowedAnswer
	}
	return m, nil
}

// A follower marks blank after blank with the values that the student has.
type follower struct {
	key    *Key
	values []float64 // of the blanks so far: the student's where there is one
	wrong  []bool    // it is the student's, and not right
}

func (f *follower) mark(n int, text string) StepMark {
	b := &f.key.blanks[n]
	right, follows := b.rule.Right, f.follows(b.rule.Follows)
	anyWrong := slices.Contains(f.wrong, true)
	f.values, f.wrong = append(f.values, right), append(f.wrong, false)
	r, problem := readStepAnswer(text, b)
	if problem != nil {
		if problem.verdict == Empty && anyWrong && !math.IsNaN(follows) && !math.IsInf(follows, 0) {
			f.values[n] = follows // a step left out is taken to be done rightly
		}
		return StepMark{problem.verdict, problem.says}
	}
	f.values[n] = r.held
	if math.Abs(r.held-right) <= b.rule.Tolerance {
		return StepMark{Right, ""}
	}
	f.wrong[n] = true
	// The tolerance goes with the size of what should come out.
	reach := b.rule.Tolerance
	if right != 0 {
		reach = max(reach, float64(reach*math.Abs(follows/right)))
	}
	if anyWrong && math.Abs(r.held-follows) <= reach && f.isWork(&b.rule, follows) {
		return StepMark{Followed, FollowedStep}
	}
	return StepMark{Wrong, f.key.WrongStep(n)}
}

// What is told with a number that follows from a wrong one.
const (
	FollowedStep   = "Right from the number before, which is wrong."
	FollowedAnswer = "This follows from an earlier number, which is wrong: mend that one first."
)

// WrongStep is what to tell of a wrong number in a blank, counted from 0.
func (k *Key) WrongStep(blank int) string {
	return "Not right: " + k.Blanks[blank].Symbol + " = " + k.Blanks[blank].Expression + "."
}

// follows is what the step comes to with the student's values.
func (f *follower) follows(e *reckon.Expression) float64 {
	if e == nil {
		return math.NaN()
	}
	return e.Eval(func(symbol string) (float64, bool) {
		n, err := strconv.Atoi(symbol)
		if err != nil {
			return 0, false // pi
		}
		return f.values[n-1], true
	})
}

// farTemp is how far a temperature may be off, in C°, and still be one that a
// bakery can have.
const farTemp = 60

// isWork reports whether a value that follows from a wrong one is neither
// impossible nor nothing nor that wrong one again.
func (f *follower) isWork(r *StepRule, v float64) bool {
	if math.IsNaN(v) || v == 0 || v < r.Low || v > r.High {
		return false
	}
	return !slices.ContainsFunc(r.Follows.Symbols(), func(symbol string) bool {
		n, err := strconv.Atoi(symbol)
		return err == nil && f.wrong[n-1] && math.Abs(f.values[n-1]-v) <= slack*math.Abs(v)
	})
}

// readStepAnswer reads a number on the way, in any unit that such a number can
// be written in.
func readStepAnswer(text string, b *blank) (reading, *unread) {
	if b.kind != nil || b.held == "" || len(text) > maxAnswer {
		return readAnswer(text, b.kind, false)
	}
	// Such as a sum of temperatures, or an area: no quantity is held so.
	text = strings.TrimSpace(plain.Replace(text))
	if text == "" {
		return readAnswer(text, nil, false)
	}
	n, symbol, problem := readNumber(text)
	if problem != nil {
		return reading{}, problem
	}
	symbol, _, _ = strings.Cut(strings.TrimSpace(symbol), sumOf)
	if strings.HasPrefix(b.held, unit.SumOfTemps) {
		symbol = strings.NewReplacer("C°", "°C", "F°", "°F").Replace(symbol)
	}
	scale, ok := unit.ScaleOf(b.held, symbol)
	if !ok {
		if symbol != "" && symbol != b.held {
			held, _, _ := strings.Cut(b.held, sumOf)
			return reading{}, &unread{Unread, strconv.Quote(unit.Clip(symbol)) + " is no unit for this step: write " + held + "."}
		}
		return reading{held: n.value}, nil
	}
	return reading{held: scale.Held(n.value)}, nil
}
