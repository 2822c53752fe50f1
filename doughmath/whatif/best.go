package whatif

import (
	"context"
	"errors"
	"math"
	"slices"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Best asks which setting of a study is the best one: the one that makes the
// first of its outputs, or one of its inputs, least, most or nearest to a value, among those
// that keep to what they must. It looks at every scenario of the study and then goes on from the
// best of them between the values, for inputs that were given as a range without
// a step. What it returns is never worse than any scenario of the study.
type Best struct {
	Study Study  `json:"study"` // what may be set in vary
	Aim   Aim    `json:"aim"`
	Of    string `json:"of,omitzero"`    // path of the input that counts, such as the warmest flour that will do; leave out for the first of the outputs
	Value string `json:"value,omitzero"` // to be near to
	Must  Must   `json:"must,omitzero"`
	Exact bool   `json:"exact,omitzero"` // true for the scenarios of the study alone
}

// An Aim is what makes one value better than another.
type Aim string

// The aims.
const (
	Least   Aim = "least"
	Most    Aim = "most"
	Nearest Aim = "nearest" // to the value
)

// A BestResult is the best setting.
type BestResult struct {
	Columns []Column `json:"columns"` // the inputs, then the outputs, those that limits name among them
	Met     bool     `json:"met"`     // the best setting keeps to all that it must; if not, it is the one that comes nearest
	Best    Scenario `json:"best"`
	Between bool     `json:"between"` // it lies between scenarios of the study
	Grid    Scenario `json:"grid"`    // the best scenario of the study
	Index   int      `json:"index"`   // of that one
	Kept    Share    `json:"kept"`    // scenarios of the study that keep to all that they must; its interval is of use only where they are drawn
	Refused int      `json:"refused"` // scenarios of the study
	Solved  int      `json:"solved"`  // scenarios in all
}

// A Scenario is one setting with what it gives, in the units of the columns.
type Scenario struct {
	Inputs     []float64         `json:"inputs"`
	Words      map[string]string `json:"words,omitempty"`   // inputs and outputs that are words, by path
	Outputs    []float64         `json:"outputs"`           // 0 for a word and for what the answer leaves out
	Missing    []int             `json:"missing,omitempty"` // which of the outputs it leaves out, from 0
	Conditions []string          `json:"conditions,omitempty"`
	Cautions   reckon.Cautions   `json:"cautions,omitzero"`
	Missed     []string          `json:"missed,omitempty"` // what it must keep to and does not
}

// ReadBest reads a best from JSON, as [ReadStudy] reads a study.
func ReadBest(data []byte) (Best, error) {
	s, err := reckon.Decode[Best](studyID, data)
	if err != nil {
		return Best{}, err
	}
	return *s, s.Study.find()
}

// starts is from how many of the best scenarios the search goes on.
const starts = 3

// choosing is a Best that was checked.
type choosing struct {
	*Compiled
	requirement
	aim    Aim
	column int     // of what counts
	value  float64 // in the unit of the column
	low    []float64
	high   []float64
	out    BestResult
}

func (s Best) compile() (*choosing, error) {
	c := reckon.Checks{Func: studyID}
	reckon.CheckWord(&c, "aim", s.Aim, Least, Most, Nearest)
	if s.Aim != Nearest && s.Value != "" {
		c.Fail("value", quoted(s.Value), `nothing, but with the aim "nearest"`)
	}
	if len(s.Study.Outputs) == 0 && s.Of == "" {
		c.Fail("study.outputs", "empty", "at least the output that counts")
	}
	mark := c.Mark()
	s.Must.check(&c)
	c.Under(mark, "must")
	s.Study.Outputs = s.Must.outputsOf(s.Study.Outputs)
	study, err := s.Study.Compile()
	c.Nest("study", err)
	if !c.OK() {
		return nil, c.Err()
	}
	out := &choosing{Compiled: study, aim: s.Aim, column: len(study.factors)}
	mark = c.Mark()
	out.requirement = s.Must.compile(&c, study)
	c.Under(mark, "must")
	out.counts(&c, s)
	for k := range study.factors {
		low, high := math.NaN(), math.NaN() // it stays
		if f, given := &study.factors[k], &s.Study.Vary[k]; !s.Exact && given.Step == "" && len(given.Values) == 0 && study.columns[k].Kind == Number {
			switch {
			case f.uncertain != nil: // drawn between its ends, as far as it has any
				low, high = f.quantile(0.001), f.quantile(0.999)
			case f.inverse != nil:
				low, high = f.inverse(0), f.inverse(1)
			default:
				low, high = f.values[0], f.values[len(f.values)-1]
			}
		}
		out.low, out.high = append(out.low, low), append(out.high, high)
	}
	return out, c.Err()
}

// counts finds what counts, and the value that it is to be near to.
func (r *choosing) counts(c *reckon.Checks, s Best) {
	if s.Of != "" {
		r.column = slices.IndexFunc(s.Study.Vary, func(f Factor) bool { return f.Path == s.Of })
		if r.column < 0 {
			c.Fail("of", quoted(s.Of), "the path of an input that varies; or leave it out, for the first of the outputs")
			return
		}
	}
	col := &r.columns[r.column]
	if col.Kind == Word {
		c.Fail("study", quoted(col.Path)+" counts", "a number: no word is better than another")
		return
	}
	if s.Aim != Nearest {
		return
	}
	var zero unit.Quantity
	if r.column < len(r.factors) {
		zero = r.m.ins[r.column].zero
	} else {
		zero = r.m.outs[0].zero
	}
	p := parser{c: c, in: &input{kind: Number, zero: zero}}
	if r.value = p.number("value", s.Value, zero); r.column < len(r.factors) {
		r.value = r.factors[r.column].fromHeld(r.value)
	} else {
		r.value = r.shownOutput(0, r.value)
	}
}

// judge says how a row does.
func (r *choosing) judge(row *Row) standing {
	y := row.Values[r.column]
	if row.err != nil || math.IsNaN(y) {
		return nowhere
	}
	switch r.aim {
	case Most:
		y = -y
	case Nearest:
		y = math.Abs(y - r.value)
	}
	return standing{r.missed(row), y}
}

// candidate is a scenario of the study that may be the best.
type candidate struct {
	standing
	index int
	x     []float64 // in the unit held
}

// Run looks for the best setting. It returns an *[reckon.InputError] for each thing
// that is wrong, a *[reckon.NoSolutionError] if every scenario is refused, and the error
// of the context if that is done first. If nothing keeps to what it must, the
// result says so and holds what comes nearest. Of the options only Workers and Progress
// count; neither changes a digit.
//
// Source: gonum optimize.NelderMead, which runs in a goroutine of its own that is gone when Run returns.
func (s Best) Run(ctx context.Context, o Options) (*BestResult, error) {
	r, err := s.compile()
	if err = errors.Join(err, o.whole()); err != nil {
		return nil, err
	}
	var ahead []candidate // the best scenarios, best first; of equals the first
	kept, done := 0, 0
	var refused error // the first
	for row, err := range r.Rows(ctx, Options{Workers: o.Workers, Progress: o.Progress, ValuesOnly: len(r.words) == 0}) {
		if err != nil {
			return nil, err
		}
		stands := r.judge(row)
		if done++; row.err != nil {
			if r.out.Refused++; refused == nil {
				refused = row.err
			}
		} else if stands.missed == 0 {
			kept++
		}
		ahead = insert(ahead, candidate{standing: stands, index: row.Index})
	}
	if ahead[0].standing == nowhere {
		return nil, &reckon.NoSolutionError{
			Func: r.m.subject.id, Unknown: "scenario of the study", Wanted: "an answer with " + r.columns[r.column].Path,
			Advice: why(refused),
		}
	}
	r.out.Columns, r.out.Kept, r.out.Index, r.out.Solved = r.columns, newShare(kept, done), ahead[0].index, done
	b := r.bench()
	u := make([]float64, len(r.factors))
	shown := make([]float64, len(r.factors))
	for i := range ahead {
		ahead[i].x = make([]float64, len(r.factors))
		r.plan.point(ahead[i].index, ahead[i].x, shown, u)
	}
	best := ahead[0]
	for _, from := range ahead {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if from.standing != nowhere {
			best = r.refine(ctx, b, from, best)
		}
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	r.out.Grid, r.out.Best = r.scenario(b, ahead[0].x), r.scenario(b, best.x)
	r.out.Met, r.out.Between = best.missed == 0, best.index < 0
	return &r.out, nil
}

// why says why no scenario will do.
func why(refused error) string {
	if refused == nil {
		return "every answer leaves it out"
	}
	return "all are refused, or leave it out; the first: " + refused.Error()
}

// insert keeps the best few.
func insert(ahead []candidate, next candidate) []candidate {
	at := slices.IndexFunc(ahead, func(c candidate) bool { return next.better(c.standing) })
	if at < 0 {
		at = len(ahead)
	}
	ahead = slices.Insert(ahead, at, next)
	return ahead[:min(len(ahead), starts)]
}

// refine goes on from a scenario and returns what is better than the best so far, or that.
func (r *choosing) refine(ctx context.Context, b *bench, from, best candidate) candidate {
	judge := func(x []float64) standing {
		if ctx.Err() != nil {
			return nowhere // and soon done
		}
		return r.judge(b.solve(x))
	}
	d := refiner{judge: judge, low: slices.Clone(r.low), high: slices.Clone(r.high)}
	free := false
	for k, low := range r.low {
		if math.IsNaN(low) {
			d.low[k], d.high[k] = from.x[k], from.x[k]
		} else {
			free = true
		}
	}
	if !free {
		return best
	}
	d.from(from.x)
	r.out.Solved += d.solved
	if d.better(best.standing) {
		return candidate{d.standing, -1, slices.Clone(d.best)}
	}
	return best
}

// scenario solves at x once more and tells what comes of it.
func (r *choosing) scenario(b *bench, x []float64) Scenario {
	return r.tell(b.solve(x), &r.requirement)
}

// tell is a row as a scenario.
func (c *Compiled) tell(row *Row, must *requirement) Scenario {
	n := len(c.factors)
	out := Scenario{Inputs: slices.Clone(row.Values[:n]), Outputs: slices.Clone(row.Values[n:])}
	for k, col := range c.columns {
		v := &row.Values[k]
		switch {
		case col.Kind == Word:
			if out.Words == nil {
				out.Words = map[string]string{}
			}
			out.Words[col.Path] = row.Word(k)
		case k >= n && math.IsNaN(*v):
			out.Missing = append(out.Missing, k-n)
		}
	}
	for _, list := range [][]float64{out.Inputs, out.Outputs} {
		for i, v := range list {
			if math.IsNaN(v) {
				list[i] = 0
			}
		}
	}
	seen := map[string]bool{}
	for _, remark := range row.Conditions() {
		if !seen[remark.Word] {
			seen[remark.Word] = true
			out.Conditions = append(out.Conditions, remark.Word)
		}
	}
	out.Cautions = row.Cautions()
	out.Missed = must.says(row)
	return out
}
