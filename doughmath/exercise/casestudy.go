package exercise

import (
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A CaseStudySpec says which case study to make: several exercises, each of which
// may go on with the answer of an earlier one.
type CaseStudySpec struct {
	Case  string      `json:"case,omitzero"`  // one of [CaseStudies]; left out, the seed picks one
	Units unit.System `json:"units,omitzero"` // metric unless US is chosen
	Seed  int64       `json:"seed,omitzero"`  // up to [MaxSeed]
}

// A CaseStudy is several exercises that hand their answers on.
type CaseStudy struct {
	Spec  CaseStudySpec `json:"spec"` // makes it again
	Title string        `json:"title"`
	Parts []Part        `json:"parts"`
}

// A Part is one exercise of a case study. The Spec of the case makes it; its
// own, which knows of no earlier part, does not.
type Part struct {
	*Exercise
	Carried []Carried `json:"carried,omitzero"`
}

// A Carried is a value that a part takes from an earlier one.
type Carried struct {
	Field string `json:"field"` // path of the input
	Part  int    `json:"part"`  // counted from 1
	Given string `json:"given"` // the input of that part that it equals; "" for its answer
}

// study is a case as it is made: link by link.
type study struct {
	name, title string
	links       []link
}

// A link asks for one output of a calculation.
type link struct {
	calculation, asked string
	carried            []Carried
	ranges             []Range // where the values of this case lie
}

// studies are the cases, in the order in which dough passes.
var studies = []study{
	{"rolls-to-proofer", "An order of rolls, from the baked weight to the proofer", []link{
		{"scaling-weight", "dough", nil, []Range{{"baked", "58 g", "74 g", ""}}},
		{"batch-plan", "batches", []Carried{{"piece_weight", 1, ""}}, []Range{{"pieces", "3000", "9000", "100"}}},
		{"batch-plan", "batch_dough", []Carried{
			{"piece_weight", 1, ""},
			{"pieces", 2, "pieces"},
			{"spare", 2, "spare"},
			{"waste", 2, "waste"},
			{"waste_basis", 2, "waste_basis"},
			{"mixer_high", 2, "mixer_high"},
			{"mixer_low", 2, "mixer_low"},
		}, nil},
		{"formula-scale", "parts[1].exact", []Carried{{"dough", 3, ""}}, nil},
		{"water-temperature", "water_temp", nil, nil},
		{"mark-for-weight", "mark", []Carried{{"weight", 1, ""}}, nil},
		{"divider-rate", "piece_rate", nil, []Range{{"across", "2", "3", ""}}},
		{"proofer-dwell", "dwell", []Carried{{"strokes", 7, "strokes"}, {"across", 7, "across"}}, nil},
	}},
	{"loaf-to-moulder", "A loaf, from the baked weight to the turns in the moulder", []link{
		{"scaling-weight", "dough", nil, []Range{{"baked", "400 g", "800 g", ""}}},
		{"sheet", "thickness", []Carried{{"piece", 1, ""}}, nil},
		{"sheet", "length", []Carried{{"piece", 1, ""}, {"density", 2, "density"}, {"gap", 2, "gap"}, {"recovery", 2, "recovery"}, {"aspect", 2, "aspect"}}, nil},
		{"curls", "turns", []Carried{{"length", 3, ""}, {"thickness", 2, ""}}, nil},
	}},
	{"warm-day", "A warm day, from the temperatures to the ice", []link{
		{"water-temperature", "water_temp", nil, []Range{
			{"target_temp", "25 °C", "26 °C", ""}, {"flour_temp", "24 °C", "25.5 °C", ""}, {"room", "25 °C", "27 °C", ""}, {"friction", "18 C°", "21 C°", ""},
		}},
		{"ice", "ice", []Carried{{"needed_temp", 1, ""}}, nil},
		{"ice", "tap_water", []Carried{{"needed_temp", 1, ""}, {"water", 2, "water"}, {"tap", 2, "tap"}}, nil},
	}},
}

// CaseStudies returns the names of the case studies.
func CaseStudies() []string {
	names := make([]string, len(studies))
	for i := range studies {
		names[i] = studies[i].name
	}
	return names
}

// mostCases is how often a whole case is drawn anew: a later part may refuse
// what an earlier one came to.
const mostCases = 60

// Make makes the case study.
//
// It returns an *[reckon.InputError] for everything that is wrong with the CaseStudySpec.
func (s CaseStudySpec) Make() (*CaseStudy, error) {
	c := reckon.Checks{Func: refusal}
	checkSeed(&c, s.Seed)
	checkUnits(&c, s.Units)
	at := -1
	for i := range studies {
		if studies[i].name == s.Case {
			at = i
		}
	}
	if s.Case != "" && at < 0 {
		reckon.CheckWord(&c, "case", s.Case, CaseStudies()...)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	d := newDraw(uint64(s.Seed), caseStream)
	if at < 0 {
		at = d.n(len(studies))
		s.Case = studies[at].name
	}
	for range mostCases {
		if study := d.study(&studies[at], s); study != nil {
			return study, nil
		}
	}
	return nil, &reckon.NoSolutionError{Func: refusal, Unknown: "value in the ranges", Wanted: "the case " + s.Case, Advice: "take another seed"}
}

// study draws part after part, or returns nil if one cannot be made.
func (d draw) study(st *study, s CaseStudySpec) *CaseStudy {
	out := &CaseStudy{Spec: s, Title: st.title}
	for i := range st.links {
		l := &st.links[i]
		spec := Spec{Calculation: l.calculation, Asked: l.asked, Units: s.Units, Ranges: l.ranges, Seed: s.Seed}
		var c reckon.Checks
		f, asks, own := spec.check(&c)
		if !c.OK() {
			return nil // a test finds it
		}
		e := d.exercise(f, asks[0], spec, own, out.carry(l.carried))
		if e == nil {
			return nil
		}
		for j := range e.Given {
			for _, from := range l.carried {
				if from.Field == e.Given[j].Field && from.Given == "" {
					e.Given[j].Text = "your answer to part " + strconv.Itoa(from.Part)
				}
			}
		}
		if i > 0 {
			e.Setting = "" // all parts play in one shop
		}
		out.Parts = append(out.Parts, Part{e, l.carried})
	}
	return out
}

// carry looks up what a part takes from the earlier ones: their answers as
// finely as asked.
func (c *CaseStudy) carry(carried []Carried) map[string]string {
	texts := map[string]string{}
	for _, from := range carried {
		e := c.Parts[from.Part-1].Exercise
		if from.Given == "" {
			texts[from.Field] = e.Asked.write(e.outlet.quantity, e.held)
		} else {
			texts[from.Field] = e.texts[e.form.slotAt(from.Given)]
		}
	}
	return texts
}

// A CaseMark is what the answers to a case study are worth.
type CaseMark struct {
	Parts []Mark  `json:"parts"`
	Score float64 `json:"score"` // 0 to 1: the mean of the parts
}

// Mark marks the answers, in the order of the parts; one that is missing is
// empty. An answer that is wrong only because an earlier one is has its
// credit, unless the earlier one leaves nothing to work out, or nothing that can be.
//
// It returns an *[reckon.InputError] if there are more answers than parts.
func (c *CaseStudy) Mark(answers []string) (CaseMark, error) {
	if len(answers) > len(c.Parts) {
		checks := reckon.Checks{Func: refusal}
		checks.Fail("answers", strconv.Itoa(len(answers)), "at most "+strconv.Itoa(len(c.Parts))+", one for each part")
		return CaseMark{}, checks.Err()
	}
	m := CaseMark{Parts: make([]Mark, len(c.Parts))}
	own := make([]string, len(c.Parts)) // the student's answers as the next part takes them; "" for the right one
	for i := range c.Parts {
		text := ""
		if i < len(answers) {
			text = answers[i]
		}
		e := c.Parts[i].Exercise
		m.Parts[i] = e.Mark(text)
		if v := m.Parts[i].Verdict; v != Right && v != TooManyDigits {
			if follows := c.following(i, own); follows != nil {
				if f := follows.Mark(text); f.Verdict == Right {
					f.Verdict, f.Says = Followed, "Right from your answer before, which is wrong: mend that one first."
					m.Parts[i] = f
				}
			}
			own[i] = e.inItsUnit(text)
		}
		m.Score += m.Parts[i].Score / float64(len(c.Parts))
	}
	return m, nil
}

// inItsUnit writes an answer as the calculations read it; "" if it cannot be read.
func (e *Exercise) inItsUnit(text string) string {
	if !e.made() {
		return ""
	}
	r, problem := readAnswer(text, e.outlet.quantity, e.outlet.whole)
	if problem != nil {
		return ""
	}
	return strings.TrimSpace(strconv.FormatFloat(shown(e.outlet.quantity, r.held, e.Asked.Unit), 'f', -1, 64) + " " + e.Asked.Unit)
}

// following is the part with the student's own earlier answers in it, or nil
// if there are none or they leave no exercise.
func (c *CaseStudy) following(i int, own []string) *Exercise {
	part := c.Parts[i]
	if !part.made() {
		return nil
	}
	texts, changed := append([]string(nil), part.texts...), false
	for _, from := range part.Carried {
		if from.Given == "" && own[from.Part-1] != "" {
			texts[part.form.slotAt(from.Field)], changed = own[from.Part-1], true
		}
	}
	if !changed {
		return nil
	}
	v := drawn{texts: texts, held: make([]float64, len(texts))}
	for j := range part.form.slots {
		v.set(part.form, j, texts[j])
	}
	v.close(part.form)
	e := build(part.form, part.outlet, part.Spec, &v, true)
	if e != nil {
		e.Asked = part.Asked // as finely as it was asked, in the unit in which it was
	}
	return e
}
