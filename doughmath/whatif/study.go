package whatif

import (
	"encoding/json"
	"math"
	"math/bits"
	"reflect"
	"strconv"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

const studyID = "study"

// A Study says what to vary, how, and what to find out. A program fills in
// Subject; a study read from JSON names a calculation and its base, or a scenario.
type Study struct {
	Subject Subject `json:"-"`

	Calculation string          `json:"calculation,omitzero"` // id of the calculation to vary, with base
	Base        json.RawMessage `json:"base,omitzero"`        // its input, an object
	Scenario    json.RawMessage `json:"scenario,omitzero"`    // or a line, a shift and its orders, an object

	Vary    []Factor `json:"vary" items:"1..64"`              // what varies
	Combine Combine  `json:"combine,omitzero"`                // how; leave out for the grid
	Samples int      `json:"samples,omitzero" range:"-"`      // scenarios drawn, where they are drawn
	Seed    int      `json:"seed,omitzero"`                   // of what is drawn by chance
	Outputs []Output `json:"outputs,omitzero" items:"..1000"` // what is wanted of each answer

	Units unit.System `json:"units,omitzero"`           // of the columns that name no unit: "metric" or "us"; leave out for metric
	Limit int         `json:"limit,omitzero" range:"-"` // most scenarios; leave out for [DefaultLimit]
	Force bool        `json:"force,omitzero"`           // true to go beyond the limit
}

// An Output is one value that is wanted of each answer.
type Output struct {
	Path string `json:"path"`          // such as "water_temp" or "orders[Star bun].dwell.dwell"
	Unit string `json:"unit,omitzero"` // of its column; leave out for the unit held, or with units "us" the customary one
}

// Combine says how the values of what varies meet.
type Combine string

// The ways to combine.
const (
	Grid           Combine = "grid"            // each with each, the last varying fastest
	SideBySide     Combine = "side-by-side"    // the first of each, then the second of each
	Random         Combine = "random"          // drawn independently
	LatinHypercube Combine = "latin-hypercube" // drawn so that each input is spread evenly
	Sobol          Combine = "sobol"           // the Sobol sequence
	Halton         Combine = "halton"          // the Halton sequence
)

// DefaultLimit is the most scenarios of a study that names no limit: some
// seconds of small calculations. More of them are rather a slip in a step.
const DefaultLimit = 1_000_000

// The bounds of a study.
const (
	mostFactors  = 64
	mostOutputs  = 1000
	mostValues   = 1_000_000 // of one factor
	mostTogether = 4_000_000 // values of all factors
	mostWords    = 1000      // different words of one factor
)

// ReadStudy reads a study from JSON, with the calculation or scenario that it
// names. It returns an *[reckon.InputError] for each thing that is wrong.
func ReadStudy(data []byte) (Study, error) {
	s, err := reckon.Decode[Study](studyID, data)
	if err != nil {
		return Study{}, err
	}
	c := reckon.Checks{Func: studyID}
	s.Subject = source{s.Subject, s.Calculation, s.Base, s.Scenario}.subject(&c)
	if !c.OK() {
		return Study{}, c.Err()
	}
	return *s, nil
}

// MarshalJSON writes the study as [ReadStudy] reads it, with the base of a
// Subject that a program gave. It fails for a base that JSON cannot hold.
func (s Study) MarshalJSON() ([]byte, error) {
	type plain Study
	if s.Calculation == "" && s.Base == nil && s.Scenario == nil && s.Subject.id != "" {
		base, err := json.Marshal(s.Subject.question)
		if err != nil {
			return nil, err
		}
		if s.Subject.whole() {
			s.Scenario = base
		} else {
			s.Calculation, s.Base = s.Subject.id, base
		}
	}
	return json.Marshal(plain(s))
}

// source is what a study or a comparison is of.
type source struct {
	given          Subject
	calculation    string
	base, scenario json.RawMessage
}

// subject reads what is named, unless a program gave it.
func (s source) subject(c *reckon.Checks) Subject {
	if s.given.id != "" {
		if s.given.parts == 0 {
			c.Fail("scenario.orders", "empty", "at least one order")
		}
		return s.given
	}
	switch named := s.calculation != ""; {
	case named && s.scenario != nil:
		c.Fail("scenario", "given", "nothing beside a calculation")
	case named && s.base == nil:
		c.Fail("base", "missing", "the input of the calculation")
	case !named && s.base != nil:
		c.Fail("calculation", "missing", "the id of the calculation that base is the input of")
	case named:
		out, err := ByID(s.calculation, s.base)
		nestBase(c, "base", err)
		return out
	case s.scenario != nil:
		day, err := line.ReadScenario(s.scenario)
		nestBase(c, "scenario", err)
		if err == nil && len(day.Orders) == 0 {
			c.Fail("scenario.orders", "empty", "at least one order")
		}
		return OfScenario(day)
	default:
		c.Fail("calculation", "missing", "the id of a calculation with its base, or a scenario")
	}
	return Subject{}
}

// nestBase tells what is wrong with the base under the name it has in the study.
func nestBase(c *reckon.Checks, name string, err error) {
	for _, e := range reckon.InputErrors(err) {
		in := *e
		if e.Func != studyID {
			in.Func, in.Field = studyID, name+"."+e.Field
		}
		c.Nest("", &in)
	}
}

// Compiled is a study that was checked and made ready to run. It may be shared
// by goroutines.
type Compiled struct {
	m       *model
	factors []factor
	plan    design
	size    int
	columns []Column
	convert []unit.Converter // of each column
	turned  []bool           // whether it is in another unit than the one held
	refused []Refusal
}

// Compile checks the study and makes it ready to run. It returns an
// *[reckon.InputError] for each thing that is wrong with it: paths, units,
// words, ranges, and a size above the limit.
func (s Study) Compile() (*Compiled, error) {
	c := reckon.Checks{Func: studyID}
	s.check(&c)
	mark := c.Mark()
	subject := source{s.Subject, s.Calculation, s.Base, s.Scenario}.subject(&c)
	if c.Mark() > mark || len(s.Vary) == 0 || len(s.Vary) > mostFactors || len(s.Outputs) > mostOutputs {
		return nil, c.Err()
	}
	out := new(Compiled)
	ins := s.inputs(&c, &subject, out)
	outs := s.outputs(&c, &subject, out)
	if len(ins) == len(s.Vary) {
		out.size = s.size(&c, out.factors)
		out.plan = s.design(&c, out.factors)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	out.m = subject.model(ins, outs)
	w := out.m.worker()
	for i := range w.ins {
		if len(w.ins[i]) == 0 {
			c.Fail(item("vary", i)+".path", quoted(ins[i].path), "an input that a wanted output depends on")
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	out.refused = subject.refusals(w.solve())
	return out, nil
}

// check tells what is wrong with the study whatever it is of.
func (s *Study) check(c *reckon.Checks) {
	if reckon.CheckItems(c, "vary", len(s.Vary), mostFactors) && len(s.Vary) == 0 {
		c.Fail("vary", "empty", "at least one input to vary")
	}
	reckon.CheckItems(c, "outputs", len(s.Outputs), mostOutputs)
	if s.Combine != "" {
		reckon.CheckWord(c, "combine", s.Combine, Grid, SideBySide, Random, LatinHypercube, Sobol, Halton)
	}
	switch {
	case s.drawn():
		reckon.CheckCount(c, "samples", s.Samples, 1, maxSample)
	case s.Samples != 0:
		c.Fail("samples", strconv.Itoa(s.Samples), "nothing, or a way to combine that draws scenarios")
	case s.Seed != 0:
		c.Fail("seed", strconv.Itoa(s.Seed), "nothing, or a way to combine that draws scenarios")
	}
	if s.Limit != 0 {
		reckon.CheckCount(c, "limit", s.Limit, 1, most)
	}
}

// inputs finds what varies.
func (s *Study) inputs(c *reckon.Checks, subject *Subject, out *Compiled) (ins []input) {
	taken := map[string]string{}
	together := 0
	for i := range s.Vary {
		at := item("vary", i)
		in, f, ok := s.Vary[i].compile(c, at, subject, s.drawn())
		if !ok {
			continue
		}
		if together += len(f.values); together > mostTogether {
			c.Fail(at, strconv.Itoa(together)+" values with those before", "at most "+strconv.Itoa(mostTogether)+" values of all inputs together")
			return nil
		}
		if other, twice := taken[in.at]; twice {
			c.Fail(at+".path", quoted(in.path), "each input once: "+quoted(other)+" is the same")
			continue
		}
		taken[in.at] = in.path
		ins, out.factors = append(ins, in), append(out.factors, f)
		out.column(c, "", in.path, in.kind, in.zero, f.unit, true)
	}
	return ins
}

// outputs finds what is wanted.
func (s *Study) outputs(c *reckon.Checks, subject *Subject, out *Compiled) (outs []output) {
	for i, o := range s.Outputs {
		at := item("outputs", i)
		found, ok := subject.output(c, at+".path", o.Path)
		if !ok {
			continue
		}
		symbol := o.Unit
		if symbol == "" {
			symbol = customary(found.zero, s.Units)
		}
		if name := out.column(c, at+".unit", o.Path, found.kind, found.zero, symbol, false); name != "" {
			c.Fail(at+".path", quoted(o.Path), "each output once")
		}
		outs = append(outs, found)
	}
	return outs
}

func item(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

// Size returns the number of scenarios.
func (c *Compiled) Size() int { return c.size }

// Columns returns what a row holds: the inputs varied, then the outputs wanted.
func (c *Compiled) Columns() []Column { return append([]Column(nil), c.columns...) }

// BaseRefused returns why the base itself has no answer, or nil. A study of it
// may still run: some of its scenarios may have one.
func (c *Compiled) BaseRefused() []Refusal { return append([]Refusal(nil), c.refused...) }

// A Column is one value of every row, in one unit for all of them.
type Column struct {
	Name  string `json:"name"` // the path, and the unit in parentheses
	Path  string `json:"path"` // as the study gave it
	Unit  string `json:"unit,omitzero"`
	Apart string `json:"difference_unit,omitzero"` // of a difference of two values, such as an uncertainty, if it is another: C° for values in °C
	Kind  Kind   `json:"kind"`
	Input bool   `json:"input,omitzero"` // it was varied
}

// column adds a column in the unit. It returns the name of an output that is there already.
func (c *Compiled) column(told *reckon.Checks, field, path string, kind Kind, zero unit.Quantity, symbol string, input bool) (twice string) {
	col, conv, turned := Column{Name: path, Path: path, Kind: kind, Input: input}, unit.Converter{}, false
	switch {
	case zero == nil && symbol != "":
		told.Fail(field, quoted(symbol), "no unit: this is no quantity")
	case zero != nil:
		var ok bool
		if conv, ok = unit.ConverterTo(zero, symbol); !ok {
			told.Nest("", &reckon.InputError{Func: studyID, Field: field, Value: quoted(symbol), Want: unitOf(zero), Kind: reckon.KindUnit})
		}
		col.Unit, col.Apart, turned = conv.Symbol, apart(zero, conv.Symbol), conv.Symbol != unit.Describe(zero).Held
	}
	for _, other := range c.columns {
		if other.Path == path && other.Unit == col.Unit {
			if !other.Input {
				return other.Name
			}
			col.Name = "answer." + path // which goes by the name of an input
		}
	}
	if col.Unit != "" {
		col.Name += " (" + col.Unit + ")"
	}
	c.columns, c.convert, c.turned = append(c.columns, col), append(c.convert, conv), append(c.turned, turned)
	return ""
}

// apart is the unit of a difference of two values in the unit, "" if it is the same.
func apart(q unit.Quantity, symbol string) string {
	switch {
	case reflect.TypeOf(q) != tempType:
		return ""
	case symbol == "°F":
		return "F°"
	}
	return "C°"
}

// customary is the unit of a column that names none: the one held, or the
// smallest that the system of units shows.
func customary(q unit.Quantity, sys unit.System) string {
	switch {
	case q == nil:
		return ""
	case sys == unit.US && reflect.TypeOf(q) == tempType:
		return "°F"
	case sys == unit.US:
		if text, err := q.AppendIn(nil, sys); err == nil {
			return string(text[len("0 "):])
		}
	}
	return unit.Describe(q).Held
}

// size returns how many scenarios there are, and refuses too many.
func (s *Study) size(c *reckon.Checks, factors []factor) int {
	limit := s.Limit
	if limit == 0 {
		limit = DefaultLimit
	}
	n, fits := 1, true
	switch {
	case s.drawn():
		n = s.Samples
	case s.Combine == SideBySide:
		n = len(factors[0].values)
		for i := range factors {
			if k := len(factors[i].values); k != n {
				c.Fail(item("vary", i), strconv.Itoa(k)+" values", strconv.Itoa(n)+", as many as the first has, to stand side by side")
			}
		}
	default:
		for i := range factors {
			high, low := bits.Mul64(uint64(n), uint64(len(factors[i].values)))
			if fits = fits && high == 0 && low <= most; fits {
				n = int(low)
			}
		}
	}
	switch {
	case !fits:
		c.Fail("vary", "more scenarios than can be counted", "at most "+strconv.Itoa(limit)+": fewer values, or fewer inputs")
	case limit > 0 && n > limit && !s.Force:
		c.Fail("vary", strconv.Itoa(n)+" scenarios", "at most "+strconv.Itoa(limit)+": fewer values, a higher limit, or force to run them all the same")
	}
	return n
}

// most is the largest number of scenarios.
const most = math.MaxInt
