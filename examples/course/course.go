package main

import (
	"fmt"
	"slices"
	"strings"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A chapter is a lesson with its numbers, whatever it is written as.
type chapter struct {
	Number         int
	Title          string
	ID             string // of the calculation
	Station        string
	Why, How, Next string
	Relation       []relation
	Where          []symbol
	Hazards        []string
	Defer          string // to whom the hazards defer
	Example        *task
	Exercises      []*task // metric and US, or one if that is the same
}

// A relation is one line of it, as the sheet has it that is evaluated.
type relation struct{ Symbol, Expression string }

// A symbol of the relation, and what it stands for.
type symbol struct{ Symbol, Words, Unit string }

// A task is an exercise with its key.
type task struct {
	System   string // "metric" or "US", or "" if that makes no difference
	Setting  string
	Question string
	Given    []string
	Find     string
	Answer   string
	US       string // the answer of a metric one in US units, if that is another
	Working  []reckon.ShownStep
	Mistakes []string
	Sources  []string
}

func makeCourse() ([]*chapter, error) {
	out := make([]*chapter, len(lessons))
	for i := range lessons {
		c, err := lessons[i].make(i + 1)
		if err != nil {
			return nil, fmt.Errorf("lesson %d, %s: %w", i+1, lessons[i].title, err)
		}
		out[i] = c
	}
	return out, nil
}

func (l *lesson) make(number int) (*chapter, error) {
	c := &chapter{Number: number, Title: l.title, ID: l.calculation, Why: l.why, How: l.reading, Next: l.next}
	e, err := exercise.Spec{Calculation: l.calculation, Asked: l.asked, Seed: l.example}.Make()
	if err != nil {
		return nil, err
	}
	c.Station = e.Station
	for _, h := range e.Hazards {
		c.Hazards = append(c.Hazards, h.Says)
		c.Defer = reckon.CautionDeference
	}
	if c.Example, err = newTask(e); err != nil {
		return nil, err
	}
	if err := c.relate(l.relation); err != nil {
		return nil, err
	}
	for _, system := range []unit.System{unit.Metric, unit.US} {
		e, err := exercise.Spec{Calculation: l.calculation, Asked: l.asked, Seed: l.exercise, Units: system}.Make()
		if err != nil {
			return nil, err
		}
		t, err := newTask(e)
		if err != nil {
			return nil, err
		}
		c.Exercises = append(c.Exercises, t)
	}
	if slices.Equal(c.Exercises[0].Given, c.Exercises[1].Given) {
		c.Exercises = c.Exercises[:1]
		c.Exercises[0].System = ""
	}
	return c, nil
}

// relate takes the relation from the working of the example, and says what its symbols are.
func (c *chapter) relate(symbols []string) error {
	steps := c.Example.Working
	for _, name := range symbols {
		at := slices.IndexFunc(steps, func(s reckon.ShownStep) bool { return s.Symbol == name && s.Kind == reckon.WorkedStep })
		if at < 0 {
			return fmt.Errorf("no step works out %s", name)
		}
		e, err := reckon.ParseExpression(steps[at].Expression)
		if err != nil {
			return err
		}
		c.Relation = append(c.Relation, relation{name, steps[at].Expression})
		c.explain(name, steps[:at+1])
		for _, s := range e.Symbols() {
			c.explain(s, steps[:at])
		}
	}
	return nil
}

// explain says what a symbol stands for, once, in the unit that it has last in the
// working so far: a number may have been converted for the step.
func (c *chapter) explain(name string, working []reckon.ShownStep) {
	if slices.ContainsFunc(c.Where, func(s symbol) bool { return s.Symbol == name }) {
		return
	}
	for _, s := range slices.Backward(working) {
		if s.Symbol == name {
			in, _, _ := strings.Cut(s.Unit, " (sum of")
			words, _, _ := strings.Cut(s.ID, ", in ")
			switch {
			case s.Value == "0": // nothing, in any unit
				words, in = words+", here 0", ""
			case strings.HasSuffix(words, "percent"):
				in = ""
			}
			c.Where = append(c.Where, symbol{name, words, in})
			return
		}
	}
}

func newTask(e *exercise.Exercise) (*task, error) {
	k, err := e.Key()
	if err != nil {
		return nil, err
	}
	t := &task{
		System: "metric", Setting: e.Setting, Question: e.Question, Given: e.Lines(), Find: e.Asked.Words + ", " + e.Asked.Text() + ".",
		Answer: k.Answer, Working: k.Working,
	}
	for _, source := range k.Sources { // what is noted at a step need not be said again
		if !slices.ContainsFunc(k.Working, func(s reckon.ShownStep) bool { return s.Source == source }) {
			t.Sources = append(t.Sources, source)
		}
	}
	if e.Spec.Units == unit.US {
		t.System = "US"
	} else if us := last(k.WorkingIn(unit.US)); us.Unit != last(k.Working).Unit {
		t.US = us.Result()
	}
	own := map[string]bool{} // mistakes of this calculation; slips of the unit are made with any
	for _, m := range exercise.Mistakes() {
		own[m.ID] = m.Calculation != ""
	}
	for _, m := range k.Mistakes {
		if own[m.ID] {
			t.Mistakes = append(t.Mistakes, m.Answer+": "+m.Says)
		}
	}
	return t, nil
}

func last(steps []reckon.ShownStep) *reckon.ShownStep { return &steps[len(steps)-1] }
