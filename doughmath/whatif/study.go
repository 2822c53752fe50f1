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

// The bounds of a study.
const (
	DefaultLimit = 1_000_000 // scenarios, unless the study says otherwise
	mostFactors  = 64
	mostOutputs  = 1000
	mostValues   = 1_000_000 // of one factor
)

// ReadStudy reads a study from JSON, with the calculation or scenario that it
// names. It returns an *[reckon.InputError] for each thing that is wrong.
func ReadStudy(data []byte) (Study, error) {
	s, err := reckon.Decode[Study](studyID, data)
	if err != nil {
		return Study{}, err
	}
	c := reckon.Checks{Func: studyID}
	s.Subject = s.subject(&c)
	if !c.OK() {
		return Study{}, c.Err()
	}
	return *s, nil
}

// subject is what the study varies.
func (s *Study) subject(c *reckon.Checks) Subject {
	if s.Subject.parts > 0 {
		return s.Subject
	}
	switch named := s.Calculation != ""; {
	case named && s.Scenario != nil:
		c.Fail("scenario", "given", "nothing beside a calculation")
	case named && s.Base == nil:
		c.Fail("base", "missing", "the input of the calculation")
	case !named && s.Base != nil:
		c.Fail("calculation", "missing", "the id of the calculation that base is the input of")
	case named:
		out, err := ByID(s.Calculation, s.Base)
		nestBase(c, "base", err)
		return out
	case s.Scenario != nil:
		day, err := line.ReadScenario(s.Scenario)
		nestBase(c, "scenario", err)
		if err == nil && len(day.Orders) > 0 {
			return OfScenario(day)
		}
		if err == nil {
			c.Fail("scenario.orders", "empty", "at least one order")
		}
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
	subject := s.subject(&c)
	if !c.OK() {
		return nil, c.Err()
	}
	out := new(Compiled)
	reckon.CheckItems(&c, "vary", len(s.Vary), mostFactors)
	reckon.CheckItems(&c, "outputs", len(s.Outputs), mostOutputs)
	if !c.OK() {
		return nil, c.Err()
	}
	if len(s.Vary) == 0 {
		c.Fail("vary", "empty", "at least one input to vary")
	}
	var ins []input
	taken := map[string]string{}
	for i := range s.Vary {
		in, f, ok := s.Vary[i].compile(&c, item("vary", i), &subject, s.drawn())
		if !ok {
			continue
		}
		if other, twice := taken[in.at]; twice {
			c.Fail(item("vary", i)+".path", quoted(in.path), "each input once: "+other+" is the same")
			continue
		}
		taken[in.at] = in.path
		ins, out.factors = append(ins, in), append(out.factors, f)
	}
	var outs []output
	for i, o := range s.Outputs {
		if found, ok := subject.output(&c, item("outputs", i)+".path", o.Path); ok {
			outs = append(outs, found)
			out.column(&c, item("outputs", i)+".unit", o.Path, found.kind, found.zero, o.Unit, s.Units, false)
		}
	}
	if !c.OK() {
		s.size(&c, out.factors, len(out.factors) == len(s.Vary))
		return nil, c.Err()
	}
	return out.finish(&c, &s, subject, ins, outs)
}

// finish puts a study together of which all is well so far.
func (out *Compiled) finish(c *reckon.Checks, s *Study, subject Subject, ins []input, outs []output) (*Compiled, error) {
	out.m = subject.model(ins, outs)
	wanted := out.columns
	out.columns, out.convert, out.turned = nil, nil, nil
	for i := range ins {
		out.column(c, "", ins[i].path, ins[i].kind, ins[i].zero, out.factors[i].unit, s.Units, true)
	}
	for i := range outs {
		out.column(c, "", outs[i].path, outs[i].kind, outs[i].zero, wanted[i].Unit, s.Units, false)
	}
	out.size = s.size(c, out.factors, true)
	out.plan = s.design(c, out.factors)
	w := out.m.worker()
	for i := range w.ins {
		if len(w.ins[i]) == 0 {
			c.Fail(item("vary", i)+".path", quoted(ins[i].path), "an input that a wanted output depends on")
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	var failed error
	for i, p := range w.parts {
		if err := p.solve(); err != nil {
			failed = subject.gather(failed, out.m.parts[i], err)
		}
	}
	out.refused = subject.refusals(failed)
	return out, nil
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
	Kind  Kind   `json:"kind"`
	Input bool   `json:"input,omitzero"` // it was varied
}

// column adds a column, in the unit if one is named.
func (c *Compiled) column(told *reckon.Checks, field, path string, kind Kind, zero unit.Quantity, symbol string, sys unit.System, input bool) {
	col, conv := Column{Name: path, Path: path, Kind: kind, Input: input}, unit.Converter{}
	switch {
	case zero == nil && symbol != "":
		told.Fail(field, quoted(symbol), "no unit: this is no quantity")
	case zero != nil:
		if symbol == "" {
			symbol = customary(zero, sys)
		}
		var ok bool
		if conv, ok = unit.ConverterTo(zero, symbol); !ok {
			told.Nest("", &reckon.InputError{Func: studyID, Field: field, Value: quoted(symbol), Want: unitOf(zero), Kind: reckon.KindUnit})
		}
		col.Unit, col.Name = conv.Symbol, path+" ("+conv.Symbol+")"
	}
	turned := zero != nil && conv.Symbol != unit.Describe(zero).Held
	c.columns, c.convert, c.turned = append(c.columns, col), append(c.convert, conv), append(c.turned, turned)
}

// customary is the unit of a column that names none: the one held, or the
// smallest that the system of units shows.
func customary(q unit.Quantity, sys unit.System) string {
	if sys == unit.US {
		if reflect.TypeOf(q) == tempType {
			return "°F"
		}
		if text, err := q.AppendIn(nil, sys); err == nil {
			return string(text[len("0 "):])
		}
	}
	return unit.Describe(q).Held
}

// size returns how many scenarios there are, and refuses too many.
func (s *Study) size(c *reckon.Checks, factors []factor, all bool) int {
	if !all {
		return 0
	}
	limit := s.Limit
	if limit == 0 {
		limit = DefaultLimit
	}
	reckon.CheckCount(c, "limit", limit, 1, most)
	n, fits := 1, true
	switch {
	case s.drawn():
		reckon.CheckCount(c, "samples", s.Samples, 1, most)
		n = s.Samples
	case s.Combine == SideBySide:
		for i := range factors {
			if n = len(factors[0].values); len(factors[i].values) != n {
				c.Fail(item("vary", i), strconv.Itoa(len(factors[i].values))+" values", strconv.Itoa(n)+" values, as many as the first, to stand side by side")
			}
		}
	default:
		for i := range factors {
			high, low := bits.Mul64(uint64(n), uint64(len(factors[i].values)))
			if fits = fits && high == 0 && low <= math.MaxInt; fits {
				n = int(low)
			}
		}
	}
	switch {
	case !fits:
		c.Fail("vary", "more scenarios than can be counted", "at most "+strconv.Itoa(limit)+", or fewer values")
	case n > limit && !s.Force:
		c.Fail("vary", strconv.Itoa(n)+" scenarios", "at most "+strconv.Itoa(limit)+", or force to run them all the same")
	}
	return n
}

// most is the largest number of scenarios.
const most = math.MaxInt
