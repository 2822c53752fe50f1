package whatif

import (
	"context"
	"encoding/json"
	"maps"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// A Seek asks which value of one input brings an output to a wanted value. Where
// a calculation of the library answers that turned round, that one does;
// otherwise the range of the input is searched, and every meeting found is told.
//
// Vary names the one input, over From and To or, without them, over the range
// that the input has; with a Step only those settings count, and whole numbers go by one.
// The first of Outputs is the one that is sought; the others are told with it.
type Seek struct {
	Study  Study  `json:"study"`                              // the one input in vary, and the outputs
	Value  string `json:"value"`                              // wanted of the first output, such as "4 °C"
	Points int    `json:"points,omitzero" range:"3..1000000"` // places looked at before narrowing; leave out for 512
}

// A SeekResult is where the output has the wanted value, in the units of the columns.
type SeekResult struct {
	Columns  []Column  `json:"columns"`           // the input, then the outputs
	Value    float64   `json:"value"`             // wanted
	Inverse  string    `json:"inverse,omitempty"` // id of the calculation that gave the answer; left out if it was searched for
	Met      []Meeting `json:"met"`
	Refused  []Stretch `json:"refused,omitempty"` // of the input, where there is no answer
	Searched Stretch   `json:"searched"`          // of the input
	Reach    *Reach    `json:"reach,omitempty"`   // of the output, as far as the search saw; left out after an inverse
	More     bool      `json:"more,omitempty"`    // there are more meetings, or more refused stretches, than are told
	Solved   int       `json:"solved"`            // scenarios
}

// A Meeting is a value of the input at which the output meets the wanted value.
type Meeting struct {
	Kind Meet    `json:"kind"`
	From Setting `json:"from"`
	To   Setting `json:"to"` // the other side, of what is not at one value
}

// A Setting is a value of the input with what it gives.
type Setting struct {
	Input      float64         `json:"input"`
	Outputs    []float64       `json:"outputs"`           // 0 for what this answer leaves out
	Missing    []int           `json:"missing,omitempty"` // which of the outputs it leaves out, from 0
	Residual   float64         `json:"residual"`          // the output less what is wanted, in the difference unit of the column
	Conditions []string        `json:"conditions,omitempty"`
	Cautions   reckon.Cautions `json:"cautions,omitzero"`
}

// A Stretch of an input, both ends in it.
type Stretch struct {
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

// A Reach is how far an output goes.
type Reach struct {
	Low    float64 `json:"low"`
	LowAt  float64 `json:"low_at"` // value of the input there
	High   float64 `json:"high"`
	HighAt float64 `json:"high_at"`
}

// ReadSeek reads a seek from JSON, as [ReadStudy] reads a study.
func ReadSeek(data []byte) (Seek, error) {
	s, err := reckon.Decode[Seek](studyID, data)
	if err != nil {
		return Seek{}, err
	}
	return *s, s.Study.find()
}

// seeking is a seek that was checked.
type seeking struct {
	*Compiled
	*bench
	ask    Seek
	want   float64 // in the unit held
	seeker         // its input in the unit of the column, so that steps are the numbers that a person would write
	out    SeekResult
}

// compile checks the seek.
func (s Seek) compile() (*seeking, error) {
	c := reckon.Checks{Func: studyID}
	setDefault(&s.Points, seekPoints)
	reckon.CheckCount(&c, "points", s.Points, 3, 1_000_000)
	if len(s.Study.Vary) != 1 {
		c.Fail("study.vary", strconv.Itoa(len(s.Study.Vary))+" inputs", "the one that is to be found")
	}
	if len(s.Study.Outputs) == 0 {
		c.Fail("study.outputs", "empty", "the output that is to have the value, and others to see with it")
	}
	if s.Study.drawn() {
		c.Fail("study.combine", quoted(string(s.Study.Combine)), "nothing: one input is searched, none is drawn")
	}
	mark := c.Mark()
	subject := s.Study.subject(&c)
	c.Under(mark, "study")
	if !c.OK() {
		return nil, c.Err()
	}
	f := s.Study.Vary[0]
	in, found := subject.input(&c, "study.vary[0].path", f.Path)
	p := parser{c: &c, in: &in}
	var step float64
	if found {
		f, step = p.searched(f)
	}
	s.Study.Vary = []Factor{f}
	study, err := s.Study.Compile()
	told := c.OK()
	for _, e := range reckon.InputErrors(err) {
		if told || !strings.HasPrefix(e.Field, "vary") { // told above
			c.Nest("study", e)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	out := &seeking{Compiled: study, bench: study.bench(), ask: s}
	wanted := study.m.outs[0]
	to := input{kind: wanted.kind, zero: wanted.zero}
	if wanted.kind == Word {
		c.Fail("study.outputs[0].path", quoted(wanted.path), "a number: a word is not sought")
		return nil, c.Err()
	}
	if out.want = (&parser{c: &c, in: &to}).number("value", s.Value, wanted.zero); !c.OK() {
		return nil, c.Err()
	}
	from := study.factors[0]
	ends := from.shown
	step = tidy(from.fromHeld(step) - from.fromHeld(0))
	if n := (ends[1] - ends[0]) / step; step > 0 && !(n >= 1 && n <= mostSteps) {
		c.Fail("study.vary[0].step", f.Path+" in "+reckon.Text(n)+" steps", "1 to 1e+12 steps from one end of the range to the other")
		return nil, c.Err()
	}
	out.seeker = seeker{want: out.want, low: ends[0], high: ends[1], step: step, points: s.Points}
	if n, ok := reckon.NumberAt(in.base); ok {
		out.around = from.fromHeld(n.Value())
	}
	return out, nil
}

// searched gives the factor the range to search, two values of it, and returns
// the step within it.
func (p *parser) searched(f Factor) (Factor, float64) {
	c := p.c
	if p.in.kind != Number && p.in.kind != Whole {
		c.Fail("study.vary[0].path", quoted(f.Path), "a number: a "+string(p.in.kind)+" is not searched")
		return f, 0
	}
	if len(f.Values) > 0 || f.Count != 0 || f.Distribution != (Distribution{}) {
		c.Fail("study.vary[0]", "values, a count or a distribution", "from and to, with a step if it has one, or nothing for the range of the input")
		return f, 0
	}
	low, high, _ := p.legal()
	for _, end := range []struct {
		text  *string
		legal float64
		name  string
	}{{&f.From, low, "from"}, {&f.To, high, "to"}} {
		switch {
		case *end.text != "":
		case math.IsInf(end.legal, 0):
			c.Fail("study.vary[0]."+end.name, "missing", "where to search: the input has no such bound of its own")
		default:
			if *end.text = strconv.FormatFloat(end.legal, 'g', -1, 64); p.in.held != "" {
				*end.text += " " + p.in.held
			}
		}
	}
	step := 0.0
	if f.Step != "" {
		step = p.positive("study.vary[0].step", f.Step)
	} else if p.in.kind == Whole {
		step = 1
	}
	f.Step, f.Count = "", 2
	return f, step
}

// Run looks for the value. It returns an *[reckon.InputError] for each thing that
// is wrong with the seek, and a *[reckon.NoSolutionError] with the reachable range if
// the output never has the value; the result then still holds what was seen.
func (s Seek) Run(ctx context.Context) (*SeekResult, error) {
	r, err := s.compile()
	if err != nil {
		return nil, err
	}
	r.out.Columns, r.out.Met = r.columns, []Meeting{}
	r.out.Value = r.shownOutput(0, r.want)
	r.out.Searched = Stretch{r.low, r.high}
	if r.byInverse() {
		return &r.out, nil
	}
	y := make([]float64, r.outputs())
	r.f = func(x float64) float64 {
		if ctx.Err() != nil {
			return math.NaN()
		}
		if r.function([]float64{r.heldInput(x)}, y) != nil {
			return math.NaN()
		}
		return r.heldOutput(y[0])
	}
	found := r.search()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	r.tell(found)
	if len(r.out.Met) == 0 {
		return &r.out, r.noSolution(found)
	}
	return &r.out, nil
}

// heldInput is x, in the unit of the column, in the unit held, and not a rounding's width beyond the range.
func (r *seeking) heldInput(x float64) float64 {
	f := &r.factors[0]
	return min(max(f.toHeld(x), f.values[0]), f.values[1])
}

func (r *seeking) heldOutput(y float64) float64 {
	if r.turned[1] {
		return r.convert[1].ToHeld(y)
	}
	return y
}

// setting solves once more at x and tells what it gives.
func (r *seeking) setting(x float64) Setting {
	row := r.bench.solve([]float64{r.heldInput(x)})
	s := Setting{Input: x, Outputs: slices.Clone(row.Values[1:])}
	s.Residual = s.Outputs[0] - r.out.Value
	for j, y := range s.Outputs {
		if math.IsNaN(y) {
			s.Outputs[j] = 0
			s.Missing = append(s.Missing, j)
		}
	}
	s.Conditions, s.Cautions = r.run.remarks()
	return s
}

// tell puts what was found into the units of the columns.
func (r *seeking) tell(found sought) {
	for _, m := range found.met {
		told := Meeting{Kind: m.kind, From: r.setting(m.from)}
		if told.To = told.From; m.to != m.from {
			told.To = r.setting(m.to)
		}
		r.out.Met = append(r.out.Met, told)
	}
	for _, s := range found.refused {
		r.out.Refused = append(r.out.Refused, Stretch{s[0], s[1]})
	}
	if !math.IsInf(found.least, 1) {
		r.out.Reach = &Reach{r.shownOutput(0, found.least), found.leastAt, r.shownOutput(0, found.most), found.mostAt}
	}
	r.out.More, r.out.Solved = found.more, found.solved+len(r.out.Met)
}

// noSolution names what can be reached.
func (r *seeking) noSolution(found sought) error {
	err := &reckon.NoSolutionError{
		Func: r.m.subject.id, Unknown: r.columns[0].Path, Wanted: r.columns[1].Path + " of " + r.ask.Value,
		Advice: "no value from " + r.columns[0].text(r.out.Searched.From) + " to " + r.columns[0].text(r.out.Searched.To) + " does",
	}
	if r.out.Reach == nil {
		err.Advice = "nothing from " + r.columns[0].text(r.out.Searched.From) + " to " + r.columns[0].text(r.out.Searched.To) + " has an answer"
		return err
	}
	err.Low, err.High = r.columns[1].text(r.out.Reach.Low), r.columns[1].text(r.out.Reach.High)
	if found.least < r.want && r.want < found.most {
		err.Advice += ": it lies within that range, on a stretch that is refused or leapt over"
	}
	return err
}

// mostSteps can be counted one by one in a float64, with room to spare.
const mostSteps = 1e12

// inverseWithin is how far, of the size of the wanted value, the answer of an inverse may
// be from it to be taken.
const inverseWithin = 1e-9

// byInverse asks the calculations that solve the same relation for the input. It
// takes an answer that lies in the range and gives the wanted value when it is
// put in.
func (r *seeking) byInverse() bool {
	entry, ok := calc.Lookup(r.m.subject.id)
	if !ok || r.step > 0 {
		return false
	}
	data, err := json.Marshal(r.m.subject.question)
	var given map[string]json.RawMessage
	if err != nil || json.Unmarshal(data, &given) != nil {
		return false
	}
	input, output := r.columns[0].Path, r.columns[1].Path
	if _, there := given[input]; !there {
		return false
	}
	delete(given, input)
	_, out := entry.Types()
	for _, id := range entry.Inverses {
		inverse, ok := calc.Lookup(id)
		if !ok {
			continue
		}
		// The inverse may know the output by another name: any of its kind that is not given yet.
		in, _ := inverse.Types()
		for _, f := range reckon.Fields(in) {
			_, taken := given[f.Name]
			if !taken && f.Type == typeOf(out, output) && r.answers(inverse, given, f.Name, input) {
				return true
			}
		}
	}
	return false
}

func typeOf(answer reflect.Type, name string) reflect.Type {
	for _, f := range reckon.Fields(answer) {
		if f.Name == name {
			return f.Type
		}
	}
	return nil
}

// answers reports whether the inverse, asked with the wanted value under a name, finds the input.
func (r *seeking) answers(inverse calc.Entry, given map[string]json.RawMessage, name, input string) bool {
	asked := maps.Clone(given)
	asked[name], _ = json.Marshal(r.ask.Value)
	data, err := json.Marshal(asked)
	if err != nil {
		return false
	}
	answer, err := inverse.Run(data, nil)
	if err != nil {
		return false
	}
	place := reflect.New(reflect.TypeOf(answer))
	place.Elem().Set(reflect.ValueOf(answer))
	n, err := reckon.NumberIn(place.Interface(), input)
	if f := &r.factors[0]; err != nil || n.Held != r.m.ins[0].held || !(n.Value() >= f.values[0] && n.Value() <= f.values[1]) {
		return false
	}
	at := r.setting(r.factors[0].fromHeld(n.Value()))
	r.out.Solved++
	if slices.Contains(at.Missing, 0) || !(math.Abs(at.Residual) <= inverseWithin*max(math.Abs(r.out.Value), 1)) {
		return false
	}
	r.out.Inverse, r.out.Met = inverse.ID, []Meeting{{Kind: Crossing, From: at, To: at}}
	return true
}
