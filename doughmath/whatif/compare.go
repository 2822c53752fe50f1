package whatif

import (
	"encoding/json"
	"math"
	"reflect"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Comparison sets two or more cases side by side: each is the base with some
// changes. It says which inputs differ, what becomes of the answer, and through
// which steps of the working.
type Comparison struct {
	Subject Subject `json:"-"` // as in a [Study]

	Calculation string          `json:"calculation,omitzero"` // id of the calculation, with base
	Base        json.RawMessage `json:"base,omitzero"`        // its input, an object
	Scenario    json.RawMessage `json:"scenario,omitzero"`    // or a line, a shift and its orders, an object

	Cases   []Case      `json:"cases" items:"2..20"`             // the first is what the others are held against
	Outputs []Output    `json:"outputs,omitzero" items:"..1000"` // what is compared; leave out for every value of the answer that differs
	Units   unit.System `json:"units,omitzero"`                  // of values that name no unit
}

// A Case is the base of a comparison with some changes, under a name.
type Case struct {
	Name    string          `json:"name"`                          // such as "as planned" or "warm flour"
	Subject Subject         `json:"-"`                             // a base of its own, of the same kind
	Base    json.RawMessage `json:"base,omitzero"`                 // the same as JSON, an input of the calculation or a scenario; leave out for the shared one
	Change  []Change        `json:"change,omitzero" items:"..100"` // leave out for the base as it stands
}

// A Change gives one input another value.
type Change struct {
	Path  string `json:"path"`  // such as "shift.tap"
	Value string `json:"value"` // such as "8 °C", "2.5", "once" or "true"
}

// Compared is what a comparison found.
type Compared struct {
	Cases   []CaseResult `json:"cases"`   // in the order given
	Inputs  []Difference `json:"inputs"`  // every input that is not the same in all cases
	Outputs []Difference `json:"outputs"` // the values wanted, or every one that is not the same in all cases
}

// CaseResult is one case as a whole. What it gained and lost is against the first case.
type CaseResult struct {
	Name           string          `json:"name"`
	Refusals       []Refusal       `json:"refusals,omitzero"` // why it has no answer, or some order no plan
	Gained         []reckon.Remark `json:"gained,omitzero"`   // conditions
	Lost           []reckon.Remark `json:"lost,omitzero"`
	CautionsGained reckon.Cautions `json:"cautions_gained,omitzero"`
	CautionsLost   reckon.Cautions `json:"cautions_lost,omitzero"`
}

// A Difference is one input or one value of the answer in every case.
type Difference struct {
	Path  string `json:"path"`
	Kind  Kind   `json:"kind"`
	Unit  string `json:"unit,omitzero"`            // of the values
	Apart string `json:"difference_unit,omitzero"` // of the absolute difference: C° for values in °C
	Cases []Cell `json:"cases"`                    // one for each case
}

// A Cell is a value in one case. The differences are against the first case:
// NaN where there is nothing to compare, and in JSON left out.
type Cell struct {
	There    bool     // false where the input was not given or the answer leaves it out
	Number   float64  // NaN for a word; 1 for true
	Text     string   // a word
	Absolute float64  // the number less that of the first case
	Relative float64  // the same as a share of the number of the first case; NaN for temperatures, which have no natural zero, and where that is 0
	Because  []Reason // of a number of the answer that differs: the steps of the working that changed on the way to it; they start at the inputs that differ, or where the working records what it does not work out, such as a fit
}

// MarshalJSON writes {"value":..., "absolute":..., "relative":..., "because":[...]}.
func (c Cell) MarshalJSON() ([]byte, error) {
	number := func(v float64) any {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
		return v
	}
	out := struct {
		Value    any      `json:"value"`
		Absolute any      `json:"absolute,omitzero"`
		Relative any      `json:"relative,omitzero"`
		Because  []Reason `json:"because,omitzero"`
	}{Absolute: number(c.Absolute), Relative: number(c.Relative), Because: c.Because}
	switch {
	case !c.There:
	case math.IsNaN(c.Number):
		out.Value = c.Text
	default:
		out.Value = number(c.Number)
	}
	return json.Marshal(out)
}

// ReadComparison reads a comparison from JSON, with the calculation or scenario
// that it names. It returns an *[reckon.InputError] for each thing that is wrong.
func ReadComparison(data []byte) (Comparison, error) {
	q, err := reckon.Decode[Comparison](comparisonID, data)
	if err != nil {
		return Comparison{}, err
	}
	c := reckon.Checks{Func: comparisonID}
	q.Subject = source{q.Subject, q.Calculation, q.Base, q.Scenario}.subject(&c)
	if !c.OK() {
		return Comparison{}, c.Err()
	}
	return *q, nil
}

const (
	comparisonID = "comparison"
	leastCases   = 2
	mostCases    = 20
	mostChanges  = 100
)

// Solve solves every case. What is refused in one is told in its place; an
// error is an *[reckon.InputError] for each thing that is wrong with the
// comparison itself.
func (q Comparison) Solve() (Compared, error) {
	c := reckon.Checks{Func: comparisonID}
	if n := len(q.Cases); n < leastCases || n > mostCases {
		c.Fail("cases", strconv.Itoa(n)+" cases", strconv.Itoa(leastCases)+" to "+strconv.Itoa(mostCases)+" cases")
		return Compared{}, c.Err()
	}
	reckon.CheckItems(&c, "outputs", len(q.Outputs), mostOutputs)
	mark := c.Mark()
	base := source{q.Subject, q.Calculation, q.Base, q.Scenario}.subject(&c)
	if c.Mark() > mark {
		return Compared{}, c.Err()
	}
	cases := make([]*solved, len(q.Cases))
	named := map[string]bool{}
	for i := range q.Cases {
		k := &q.Cases[i]
		if k.Name == "" || named[k.Name] {
			c.Fail(item("cases", i)+".name", quoted(k.Name), "a name that no other case has")
		}
		named[k.Name] = true
		cases[i] = &solved{subject: k.subject(&c, item("cases", i), &base), inputs: map[[2]float64]bool{}}
	}
	if !c.OK() {
		return Compared{}, c.Err()
	}
	wanted := q.Outputs
	if len(wanted) == 0 {
		wanted = everyOutput(&c, cases)
	}
	out := Compared{Inputs: inputsThatDiffer(&c, cases, q.Units), Outputs: []Difference{}}
	diffs := outputsOf(&c, cases, wanted, q.Units)
	if !c.OK() {
		return Compared{}, c.Err()
	}
	for _, k := range cases {
		k.solve()
	}
	for i := range diffs {
		d := &diffs[i]
		d.fill(i, cases)
		if len(q.Outputs) == 0 && d.same() {
			continue
		}
		out.Outputs = append(out.Outputs, d.Difference)
	}
	for i, k := range cases {
		r := CaseResult{Name: q.Cases[i].Name, Refusals: k.subject.refusals(k.err)}
		if i > 0 {
			first := cases[0]
			r.Gained, r.Lost = lacking(k.conditions, first.conditions), lacking(first.conditions, k.conditions)
			r.CautionsGained, r.CautionsLost = k.cautions&^first.cautions, first.cautions&^k.cautions
		}
		out.Cases = append(out.Cases, r)
	}
	return out, nil
}

// lacking returns what is in a and not in b.
func lacking(a, b []reckon.Remark) (out []reckon.Remark) {
	has := map[reckon.Remark]bool{}
	for _, r := range b {
		has[r] = true
	}
	for _, r := range a {
		if !has[r] {
			out = append(out, r)
		}
	}
	return out
}

// subject returns the base with the changes of the case.
func (k *Case) subject(c *reckon.Checks, at string, base *Subject) Subject {
	s := *base
	whole := base.whole()
	switch own := k.Subject; {
	case own.id != "" && (own.id != base.id || reflect.TypeOf(own.question) != reflect.TypeOf(base.question) || own.parts == 0):
		c.Fail(at, own.id, "a base of "+base.id)
		return s
	case own.id != "":
		s = own
	case k.Base != nil && whole:
		inner := reckon.Checks{Func: c.Func}
		s = source{scenario: k.Base}.subject(&inner)
		nestCase(c, at, "scenario", inner.Err())
	case k.Base != nil:
		inner := reckon.Checks{Func: c.Func}
		s = source{calculation: base.id, base: k.Base}.subject(&inner)
		nestCase(c, at, "", inner.Err())
	}
	if reckon.CheckItems(c, at+".change", len(k.Change), mostChanges) && s.question != nil {
		s.question = clone(s.question)
		taken := map[string]bool{}
		for i, change := range k.Change {
			s.change(c, at+"."+item("change", i), change, taken)
		}
	}
	return s
}

// nestCase tells what is wrong with the base of a case.
func nestCase(c *reckon.Checks, at, was string, err error) {
	for _, e := range reckon.InputErrors(err) {
		in := *e
		if was != "" {
			in.Field = "base" + in.Field[len(was):]
		}
		in.Field = at + "." + in.Field
		c.Nest("", &in)
	}
}

// change gives one input of the question another value.
func (s *Subject) change(c *reckon.Checks, at string, change Change, taken map[string]bool) {
	mark := c.Mark()
	in, found := s.input(c, at+".path", change.Path)
	if !found {
		return
	}
	if taken[in.at] {
		c.Fail(at+".path", quoted(change.Path), "each input once in a case")
		return
	}
	taken[in.at] = true
	p := parser{c: c, in: &in}
	v := p.value(at+".value", change.Value)
	if c.Mark() > mark {
		return
	}
	s.tryWords(c, func(int) string { return at + ".value" }, &in, []string{change.Value})
	slot := slotOf(in.base, in.kind)
	slot.set(v, in.words)
}

// solved is one case on its way.
type solved struct {
	subject    Subject
	w          *worker
	outs       []output
	at         []int // where among outs each wanted output is; -1 if the case has no such place
	y          []float64
	err        error
	conditions []reckon.Remark
	cautions   reckon.Cautions
	inputs     map[[2]float64]bool // what differs from the first case: its values there and here
	workings   []*working          // by part of the worker, where one was asked for
}

func (k *solved) solve() {
	k.w = k.subject.model(nil, k.outs).worker()
	k.y = make([]float64, len(k.outs))
	k.err = k.w.eval(nil, k.y)
	k.w.note()
	k.conditions, k.cautions = k.w.m.remarksOf(k.w.marks)
	k.workings = make([]*working, len(k.w.parts))
}

// difference is a Difference that is being filled in.
type difference struct {
	Difference
	zero  unit.Quantity
	conv  unit.Converter
	place reckon.Path
}

// column gives the difference its unit.
func (d *difference) column(c *reckon.Checks, field, symbol string, sys unit.System) {
	switch {
	case d.zero == nil && symbol != "":
		c.Fail(field, quoted(symbol), "no unit: this is no quantity")
	case d.zero != nil:
		if symbol == "" {
			symbol = customary(d.zero, sys)
		}
		var ok bool
		if d.conv, ok = unit.ConverterTo(d.zero, symbol); !ok {
			c.Nest("", &reckon.InputError{Func: c.Func, Field: field, Value: quoted(symbol), Want: unitOf(d.zero), Kind: reckon.KindUnit})
		}
		if d.Unit, d.Apart = d.conv.Symbol, apart(d.zero, d.conv.Symbol); d.Apart == "" {
			d.Apart = d.Unit
		}
	}
}

func (d *difference) isTemp() bool { return d.zero != nil && reflect.TypeOf(d.zero) == tempType }

// cell makes a cell of a number in the unit held, or of a word.
func (d *difference) cell(held float64, text string, there bool) Cell {
	nan := math.NaN()
	out := Cell{There: there, Number: nan, Absolute: nan, Relative: nan}
	switch {
	case !there:
	case d.Kind == Word:
		out.Text = text
	case d.zero != nil:
		out.Number = d.conv.FromHeld(held)
	default:
		out.Number = held
	}
	if n := len(d.Cases); n > 0 && there && d.Cases[0].There && (d.Kind == Number || d.Kind == Whole) {
		first := d.Cases[0].Number
		if out.Absolute = out.Number - first; first != 0 && !d.isTemp() {
			out.Relative = out.Absolute / math.Abs(first)
		}
	}
	return out
}

// same reports whether all cases have the same.
func (d *difference) same() bool {
	for _, c := range d.Cases[1:] {
		if !d.Cases[0].equal(&c) {
			return false
		}
	}
	return true
}

// equal reports whether two cells hold the same, but for what rounding leaves.
func (c *Cell) equal(d *Cell) bool {
	return c.There == d.There && c.Text == d.Text && (alike(c.Number, d.Number) || math.IsNaN(c.Number) && math.IsNaN(d.Number))
}

// outputsOf finds the wanted outputs in every case. A case may lack one that another has.
func outputsOf(c *reckon.Checks, cases []*solved, wanted []Output, sys unit.System) []difference {
	out := make([]difference, 0, len(wanted))
	for i, o := range wanted {
		var d difference
		at := item("outputs", i)
		var first reckon.Checks
		found := false
		for j, k := range cases {
			wrong := reckon.Checks{Func: c.Func}
			place, ok := k.subject.output(&wrong, at+".path", o.Path)
			if j == 0 {
				first = wrong
			}
			if !ok {
				k.at = append(k.at, -1)
				continue
			}
			k.at, k.outs = append(k.at, len(k.outs)), append(k.outs, place)
			if !found {
				d = difference{Difference: Difference{Path: o.Path, Kind: place.kind}, zero: place.zero, place: place.in}
				found = true
			}
		}
		if !found {
			c.Nest("", first.Err())
			continue
		}
		d.column(c, at+".unit", o.Unit, sys)
		out = append(out, d)
	}
	return out
}

// fill puts the values of wanted output i into the difference.
func (d *difference) fill(i int, cases []*solved) {
	for n, k := range cases {
		held, text, there := math.NaN(), "", false
		if at := k.at[i]; at >= 0 {
			held, text = k.y[at], k.w.texts[at]
			there = !math.IsNaN(held) || text != ""
		}
		cell := d.cell(held, text, there)
		if n > 0 && there && cases[0].at[i] >= 0 && !d.Cases[0].equal(&cell) {
			cell.Because = because(cases[0], k, i, &d.place)
		}
		d.Cases = append(d.Cases, cell)
	}
}
