// Package desk is what stands between the page and the exercises: questions
// and answers as JSON. It keeps nothing; an exercise is made again from its Spec.
package desk

import (
	"encoding/json"
	"errors"
	"slices"
	"strconv"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/mathml"
)

// maxRequest bounds a request, in bytes: a set of a thousand named
// calculations and an answer fit many times.
const maxRequest = 1 << 16

// Answer answers one request of the page: topics, set, mark or key. The reply
// is {"reply": ...}, or {"refused": [...]} with each thing that is wrong.
func Answer(kind string, request []byte) []byte {
	reply, err := answer(kind, request)
	if err != nil {
		return encode(struct {
			Refused []reckon.Refusal `json:"refused"`
		}{reckon.Refusals(err)})
	}
	return encode(struct {
		Reply any `json:"reply"`
	}{reply})
}

func answer(kind string, request []byte) (any, error) {
	if len(request) > maxRequest {
		return nil, errors.New("the request is too long")
	}
	switch kind {
	case "topics":
		return topics(), nil
	case "set":
		return ask(request, makeSet)
	case "mark":
		return ask(request, mark)
	case "key":
		return ask(request, key)
	}
	return nil, errors.New("nothing is known of " + strconv.Quote(unit.Clip(kind)))
}

// ask reads what a request holds and answers it.
func ask[Q, A any](request []byte, answer func(Q) (A, error)) (A, error) {
	var q Q
	if err := json.Unmarshal(request, &q); err != nil {
		var none A
		return none, errors.New("the request cannot be read: " + unit.Clip(err.Error()))
	}
	return answer(q)
}

func encode(v any) []byte {
	text, err := json.Marshal(v)
	if err != nil { // a number that JSON does not know; the tests look for one
		return []byte(`{"refused":[{"kind":"other","advice":"the reply cannot be written"}]}`)
	}
	return text
}

// A Topic is one part of the work that a set can keep to.
type Topic struct {
	Station   string `json:"station"`   // "" for all of them
	Words     string `json:"words"`     //
	Exercises int    `json:"exercises"` // calculations that make one
}

// topicWords names the stations as the page lists them.
var topicWords = map[string]string{
	"formula": "Formula and percentages", "temperature": "Dough and water temperature", "batch": "Batches and scaling weight",
	"divider": "Divider", "weight": "Weights and checks", "proofer": "Proofer and proof", "moulder": "Rounding and moulding", "line": "The whole line", "window": "What the line allows", "clock": "The clock and the oven", "changeover": "Changing over",
}

func topics() []Topic {
	all := []Topic{{Words: "All topics"}}
	for _, e := range calc.Entries() {
		if _, unfit := exercise.Unfit(e.ID); unfit {
			continue
		}
		if last := &all[len(all)-1]; last.Station != e.Station || len(all) == 1 {
			words := topicWords[e.Station]
			if words == "" {
				words = e.Station
			}
			all = append(all, Topic{Station: e.Station, Words: words})
		}
		all[0].Exercises++
		all[len(all)-1].Exercises++
	}
	return all
}

// A Shown is an exercise as the page shows it: without its answer.
type Shown struct {
	Spec     exercise.Spec `json:"spec"` // makes it again
	Question string        `json:"question"`
	Setting  string        `json:"setting,omitempty"`
	Given    []string      `json:"given"`
	Find     string        `json:"find"`
	Unit     string        `json:"unit,omitempty"` // in which it is asked; others are taken
	Hazards  []string      `json:"hazards,omitempty"`
	Defer    string        `json:"defer,omitempty"` // to whom the hazards defer
	Steps    int           `json:"steps"`
}

func makeSet(s exercise.SetSpec) ([]Shown, error) {
	set, err := s.Make()
	if err != nil {
		return nil, err
	}
	out := make([]Shown, len(set))
	for i, e := range set {
		out[i] = shown(e)
	}
	return out, nil
}

func shown(e *exercise.Exercise) Shown {
	s := Shown{
		Spec: e.Spec, Question: e.Question, Setting: e.Setting, Given: e.Lines(),
		Find: e.Asked.Words + ", " + e.Asked.Text() + ".", Unit: e.Asked.Unit, Steps: e.Difficulty.Steps,
	}
	for _, h := range e.Hazards {
		s.Hazards = append(s.Hazards, h.Says)
		s.Defer = reckon.CautionDeference
	}
	return s
}

// Work is what a student hands in for one exercise.
type Work struct {
	Spec   exercise.Spec `json:"spec"`
	Answer string        `json:"answer"`
	Blanks []string      `json:"blanks"` // of the working, as far as it was filled in; none to hand in the answer alone
}

func mark(w Work) (exercise.WorkMark, error) {
	e, err := w.Spec.Make()
	if err != nil {
		return exercise.WorkMark{}, err
	}
	if len(w.Blanks) == 0 {
		m := e.Mark(w.Answer)
		return exercise.WorkMark{Answer: m, Steps: []exercise.StepMark{}, Score: m.Score}, nil
	}
	k, err := e.Key()
	if err != nil {
		return exercise.WorkMark{}, err
	}
	return k.MarkWork(w.Blanks, w.Answer)
}

// A Key is the answer with its working, for hints, blanks and whoever gives up.
type Key struct {
	Answer   string   `json:"answer"`
	Working  []Step   `json:"working"`
	Mistakes []string `json:"mistakes,omitempty"` // that are likely, with what each comes to
	Unneeded []string `json:"unneeded,omitempty"` // what was given for nothing
	Sources  []string `json:"sources,omitempty"`
}

// A Step is one line of the working. Its relation and its numbers are typeset.
type Step struct {
	Words    string `json:"words"`
	Relation string `json:"relation,omitempty"` // MathML: the symbol and how it is worked out; without it a heading
	Numbers  string `json:"numbers,omitempty"`  // MathML: the same in numbers
	Value    string `json:"value,omitempty"`    // with its unit
	Note     string `json:"note,omitempty"`
	Blank    bool   `json:"blank,omitempty"` // a number that a student can fill in
	Copy     bool   `json:"copy,omitempty"`  // another symbol for a number that is known
	Unit     string `json:"unit,omitempty"`  // of the blank
}

func key(s exercise.Spec) (*Key, error) {
	e, err := s.Make()
	if err != nil {
		return nil, err
	}
	k, err := e.Key()
	if err != nil {
		return nil, err
	}
	out := &Key{Answer: k.Answer, Unneeded: k.Unneeded}
	for _, source := range k.Sources { // what is noted at a step need not be said again
		if !slices.ContainsFunc(k.Working, func(s reckon.ShownStep) bool { return s.Source == source }) {
			out.Sources = append(out.Sources, source)
		}
	}
	for _, m := range k.Mistakes {
		out.Mistakes = append(out.Mistakes, m.Answer+": "+m.Says)
	}
	next := 0
	for i := range k.Working {
		step := typeset(&k.Working[i])
		if k.Working[i].Kind == reckon.WorkedStep {
			if step.Copy = next == len(k.Blanks) || k.Blanks[next].Symbol != k.Working[i].Symbol || k.Blanks[next].Words != step.Words; !step.Copy {
				step.Blank, step.Unit = true, k.Blanks[next].Unit
				next++
			}
		}
		out.Working = append(out.Working, step)
	}
	return out, nil
}

func typeset(s *reckon.ShownStep) Step {
	out := Step{Words: s.ID, Value: s.Result(), Note: s.Note()}
	if s.Symbol == "" {
		return out
	}
	out.Relation = mathml.Text(s.Symbol)
	if s.Expression != "" {
		out.Relation += " = " + mathml.Text(s.Expression)
	}
	if s.Numbers != "" && s.Numbers != s.Expression && s.Numbers != s.Value {
		out.Numbers = mathml.Text(s.Numbers)
	}
	return out
}
