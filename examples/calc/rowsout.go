package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/tabular"
)

// output is one column of answers.
type output struct {
	path   reckon.Path
	name   string
	zero   unit.Quantity // if it is one
	number bool
	in     unit.Converter // from the unit held; its symbol is empty if that is the column's
	symbol string
	chosen bool // by whoever asked
}

// newOutputs finds the outputs with the paths; "rate (t/h)" names a unit of one's own.
func newOutputs(e calc.Entry, names []string, units unit.System) ([]output, error) {
	_, answer := e.Types()
	var out []output
	var wrong []error
	for _, name := range names {
		o := output{name: strings.TrimSpace(name)}
		if m := headerUnit.FindStringSubmatch(o.name); m != nil && strings.HasSuffix(o.name, ")") {
			o.name, o.symbol, o.chosen = m[1], m[2], true
		}
		var err error
		if o.path, err = reckon.PathIn(answer, o.name); err != nil {
			wrong = append(wrong, fmt.Errorf("%s: %s is not a known output: want %s", e.ID, o.name, wanted(err)))
			continue
		}
		if err := o.settle(units); err != nil {
			wrong = append(wrong, fmt.Errorf("%s: %w", e.ID, err))
		}
		out = append(out, o)
	}
	return out, errors.Join(wrong...)
}

// settle finds out what the output is and in which unit it is written.
func (o *output) settle(units unit.System) error {
	switch kind := o.path.Type.Kind(); {
	case o.path.Type.Implements(reflect.TypeFor[unit.Quantity]()):
		o.zero, o.number = reflect.Zero(o.path.Type).Interface().(unit.Quantity), true
	case kind == reflect.Float64 || kind == reflect.Int:
		o.number = true
	case kind == reflect.Struct || kind == reflect.Map || o.path.Type.Implements(reflect.TypeFor[reckon.Noted]()):
		return fmt.Errorf("%s is a part with several outputs: want one of them, %s.NAME", o.name, o.name)
	}
	switch {
	case o.zero == nil && o.symbol != "":
		return fmt.Errorf("%s has no unit", o.name)
	case o.zero == nil:
		return nil
	case o.symbol == "":
		o.symbol = fixedUnit(o.zero, units)
	}
	in, known := unit.ConverterTo(o.zero, o.symbol)
	if !known {
		return fmt.Errorf("%s is in %q: want one of %s", o.name, o.symbol, strings.Join(unit.Describe(o.zero).Units, ", "))
	}
	o.in = in
	return nil
}

// fixedUnit is the unit of a column in which no value has a say: the one held, or in
// the US system the smallest that is shown.
func fixedUnit(zero unit.Quantity, units unit.System) string {
	if units == unit.Metric {
		return unit.Describe(zero).Held
	}
	if _, isTemp := zero.(unit.Temp); isTemp {
		zero = unit.Celsius(0)
	}
	return unitOf(zero, units)
}

// unitOf is the unit in which a person reads the quantity.
func unitOf(q unit.Quantity, units unit.System) string {
	text, _ := q.AppendIn(nil, units) // what cannot be written has no unit
	_, symbol, _ := strings.Cut(string(text), " ")
	return symbol
}

// reading is one output in one answer.
type reading struct {
	reckon.Reader
	found  bool
	number reckon.Number // if its place is fixed and was found
}

func readings(outputs []output, answer any) []reading {
	out := make([]reading, len(outputs))
	for i := range outputs {
		out[i].Reader = outputs[i].path.Reader(answer)
	}
	return out
}

// value returns the number in the column's unit, NaN if it is left out.
func (o *output) value(r *reading) float64 {
	var x float64
	if r.found && r.There() {
		x = r.number.Value()
	} else {
		v, there := r.Value()
		if !there {
			return math.NaN()
		}
		n, _ := reckon.NumberAt(v) // it is one
		if r.Fixed() {
			r.found, r.number = true, n
		}
		x = n.Value()
	}
	if o.zero == nil {
		return x
	}
	return o.in.FromHeld(x)
}

// text returns what is no number: a word, true or false, a list joined by commas.
func (o *output) text(r *reading, a *solved) (string, error) {
	v, there := r.Value()
	switch {
	case !there:
		return "", nil
	case v.Kind() == reflect.String:
		return v.String(), nil
	case v.Kind() == reflect.Bool:
		return strconv.FormatBool(v.Bool()), nil
	}
	whole := a.result()
	b, err := whole.Append(nil, o.name)
	return string(b), err
}

// defaultOutputs lists the outputs that fit into one cell each.
func defaultOutputs(e calc.Entry) []string {
	var out []string
	for _, f := range describe.Of(e).Outputs {
		name := strings.TrimSuffix(f.Name, "[]")
		isObject := f.Kind == "object" && name == f.Name
		if !strings.ContainsAny(name, "[{") && !isObject && !strings.HasPrefix(f.Kind, "list of ") {
			out = append(out, name)
		}
	}
	return out
}

// sink writes answers and refusals.
type sink interface {
	answered(number int, r row, a *solved) error
	refused(number int, r row, err error) error
	close() error
}

// echo is one column of the input that is written again.
type echo struct {
	column int
	unit   string
	zero   unit.Quantity
}

// sheetSink writes a column for each output.
type sheetSink struct {
	format  string
	out     io.Writer
	echoes  []echo
	absent  []string
	form    *form
	outputs []output
	units   unit.System

	w        tabular.Writer
	early    []earlyRefusal // of a table whose units are not known yet
	met      []reckon.Note
	cautions reckon.Cautions
	words    []string

	last      reckon.Cautions // of which lastWords holds the words
	lastWords []string
}

type earlyRefusal struct {
	number int
	cells  []string
	err    error
}

// newSheet says which columns there are. Inputs are echoed in one unit: that of the header, or else the one held.
func newSheet(format string, out io.Writer, e calc.Entry, f *form, outputs []output, echoed bool, units unit.System) *sheetSink {
	s := &sheetSink{format: format, out: out, form: f, outputs: outputs, units: units}
	question, _ := e.Types()
	base, _ := tree(f.base) // it was read before
	for i := range f.columns {
		c := &f.columns[i]
		absent := ""
		if old, there := at(base, c.path); there && !c.kept {
			absent, _ = textOf(old) // a list is not echoed
		}
		s.absent = append(s.absent, absent)
		if !c.kept && !echoed {
			continue
		}
		k := echo{column: i}
		if !c.kept {
			if p, err := reckon.PathIn(question, c.name); err == nil && p.Type.Implements(reflect.TypeFor[unit.Quantity]()) {
				k.zero = reflect.Zero(p.Type).Interface().(unit.Quantity)
				if k.unit = c.unit; k.unit == "" {
					k.unit = fixedUnit(k.zero, units)
				}
			}
		}
		s.echoes = append(s.echoes, k)
	}
	return s
}

// begin writes the head. A table, which is read by people, takes the units in which the first
// answer is best read.
func (s *sheetSink) begin(a *solved) error {
	if s.w != nil {
		return nil
	}
	if s.format == "table" && a != nil {
		for i := range s.outputs {
			o := &s.outputs[i]
			if v, there := a.readers[i].Value(); there && o.zero != nil && !o.chosen {
				o.symbol = unitOf(v.Interface().(unit.Quantity), s.units)
				o.in, _ = unit.ConverterTo(o.zero, o.symbol) // a quantity is shown in one of its units
			}
		}
	}
	head := []tabular.Column{{Name: "row"}}
	for _, k := range s.echoes {
		head = append(head, tabular.Column{Name: s.form.columns[k.column].name, Unit: k.unit})
	}
	for _, o := range s.outputs {
		head = append(head, tabular.Column{Name: o.name, Unit: o.symbol})
	}
	head = append(head, tabular.Column{Name: "conditions"}, tabular.Column{Name: "cautions"}, tabular.Column{Name: "error"})
	if s.format == "table" {
		head = head[:len(head)-1] // it is told besides
	}
	var err error
	s.w, err = tabular.New(s.format, s.out, head)
	for _, r := range s.early {
		err = errors.Join(err, s.refused(r.number, row{cells: r.cells}, r.err))
	}
	s.early = nil
	return err
}

// inputs writes the number of the row and what is echoed of it.
func (s *sheetSink) inputs(number int, r row) {
	s.w.Number(float64(number))
	for _, k := range s.echoes {
		text := ""
		if k.column < len(r.cells) {
			text = r.cells[k.column]
		}
		if text == "" {
			text = s.absent[k.column]
		}
		if k.zero == nil {
			if c := s.form.columns[k.column]; !c.kept && c.kind == asJSON && isNumber(text) {
				x, _ := strconv.ParseFloat(text, 64) // it is one
				s.w.Number(x)
			} else {
				s.w.Text(text)
			}
			continue
		}
		x, err := unit.ParseIn(k.zero, text, s.form.columns[k.column].unit)
		in, known := unit.ConverterTo(k.zero, k.unit)
		if err != nil || !known {
			x = math.NaN()
		}
		s.w.Number(in.FromHeld(x))
	}
}

func (s *sheetSink) answered(number int, r row, a *solved) error {
	if err := s.begin(a); err != nil {
		return err
	}
	s.inputs(number, r)
	for i := range s.outputs {
		if o := &s.outputs[i]; o.number {
			s.w.Number(o.value(&a.readers[i]))
		} else {
			text, err := o.text(&a.readers[i], a)
			if err != nil {
				return err
			}
			s.w.Text(text)
		}
	}
	said := a.notes.read()
	s.w.Words(said.words)
	if s.format == "table" {
		for _, n := range said.met {
			if !slices.Contains(s.met, n) {
				s.met = append(s.met, n)
			}
		}
	}
	s.words = s.words[:0]
	if said.cautions != 0 {
		if said.cautions != s.last {
			s.last, s.lastWords = said.cautions, nil
			for _, n := range said.cautions.Notes() {
				s.lastWords = append(s.lastWords, n.Word)
			}
		}
		s.words = s.lastWords
		s.cautions |= said.cautions
	}
	s.w.Words(s.words)
	if s.format != "table" {
		s.w.Refused(nil, nil)
	}
	return s.w.End()
}

func (s *sheetSink) refused(number int, r row, err error) error {
	if s.w == nil && s.format == "table" && len(s.early) < 200 {
		s.early = append(s.early, earlyRefusal{number, slices.Clone(r.cells), err})
		return nil
	}
	if s.w == nil {
		if err := s.begin(nil); err != nil {
			return err
		}
	}
	s.inputs(number, r)
	for i, o := range s.outputs {
		switch {
		case i == 0 && s.format == "table":
			s.w.Text("not worked out")
		case o.number:
			s.w.Number(math.NaN())
		default:
			s.w.Text("")
		}
	}
	s.w.Words(nil)
	s.w.Words(nil)
	if s.format != "table" {
		s.w.Refused(err, func() any { return reckon.Refusals(err) })
	}
	return s.w.End()
}

func (s *sheetSink) close() error {
	if err := s.begin(nil); err != nil {
		return err
	}
	return s.w.Close(appendRemarks(nil, s.met, s.cautions))
}

// wholeSink writes whole answers as JSON Lines.
type wholeSink struct {
	w *bufio.Writer
	b []byte
}

func (l *wholeSink) answered(number int, _ row, a *solved) error {
	l.b = append(strconv.AppendInt(append(l.b[:0], `{"row":`...), int64(number), 10), ',')
	start := len(l.b)
	var err error
	r := a.result()
	if l.b, err = r.AppendJSON(l.b); err != nil {
		return err
	}
	l.b = slices.Delete(l.b, start, start+1) // the result's own opening brace
	safe, _ := tabular.Escape(append(l.b, '\n'))
	_, err = l.w.Write(safe)
	return err
}

func (l *wholeSink) refused(number int, _ row, err error) error {
	safe, _ := tabular.Escape(refusal(err, "row", number))
	_, err = l.w.Write(safe)
	return err
}

func (l *wholeSink) close() error { return l.w.Flush() }

// refusal is what a program is sent where an answer was expected.
func refusal(err error, of string, which any) []byte {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(map[string]any{of: which, "errors": reckon.Refusals(err)}) // texts can be written, to a buffer as well
	return text.Bytes()
}
