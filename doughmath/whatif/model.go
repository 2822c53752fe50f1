package whatif

import (
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Kind says what a column holds.
type Kind string

// The kinds of columns.
const (
	Number Kind = "number" // a quantity in the column's unit, or a plain number
	Whole  Kind = "whole"  // a count
	Flag   Kind = "flag"   // 1 for true, 0 for false
	Word   Kind = "word"   // a text
)

var (
	quantityType = reflect.TypeFor[unit.Quantity]()
	notedType    = reflect.TypeFor[reckon.Noted]()
	tempType     = reflect.TypeFor[unit.Temp]()
)

// kindOf says what a place of the type holds; "" if it is no single value.
func kindOf(t reflect.Type) Kind {
	switch {
	case t.Implements(notedType):
		return ""
	case t.Implements(quantityType):
		return Number
	}
	switch t.Kind() {
	case reflect.Float64:
		return Number
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return Whole
	case reflect.Bool:
		return Flag
	case reflect.String:
		return Word
	}
	return ""
}

// model is a subject with the places that a study sets and reads, found once.
// It does not change once it is made.
type model struct {
	subject Subject
	ins     []input
	outs    []output
	parts   []int  // of the subject, that are solved
	notes   *notes // where conditions and cautions stand in the answer of a part
}

// input is one place of the question that varies.
type input struct {
	path  string // as it was given
	at    string // by the numbers of items
	kind  Kind
	zero  unit.Quantity // if it is one: the quantity 0
	tag   reflect.StructTag
	typ   reflect.Type
	words []string // that x counts, if it is a word
	held  string   // the unit held; "" for what has none
	base  reflect.Value
	target
}

// output is one place of the answer that is wanted.
type output struct {
	path string
	kind Kind
	zero unit.Quantity
	held string
	target
	in reckon.Path // in the part's answer
}

// fail records what is wrong with a path, told by the package reckon, under the
// field of the study. Where the path is another's end, that is offered.
func fail(c *reckon.Checks, field, path string, err error, others ...string) {
	for _, e := range reckon.InputErrors(err) {
		want := e.Want
		if e.Value != quoted(path) {
			want = "in place of " + e.Value + " " + want
		}
		if len(others) > 0 {
			want = strings.Join(others[:min(3, len(others))], " or ") + " perhaps"
		}
		c.Nest("", &reckon.InputError{Func: c.Func, Field: field, Value: quoted(path), Want: want, Kind: reckon.KindUnknownName})
	}
}

// ends lists the inputs whose paths end with the one given: shift.tap for tap.
func (s *Subject) ends(path string) (out []string) {
	for _, l := range s.leaves() {
		if path != "" && strings.HasSuffix(l.path, "."+path) {
			out = append(out, l.path)
		}
	}
	return out
}

func quoted(s string) string { return strconv.Quote(unit.Clip(s)) }

// input finds the place at the path in the question.
func (s *Subject) input(c *reckon.Checks, field, path string) (in input, ok bool) {
	in.path = path
	p, err := reckon.PathIn(reflect.TypeOf(s.question).Elem(), path)
	if err == nil {
		in.base, in.at, err = p.Place(s.question)
	}
	if err != nil {
		fail(c, field, path, err, s.ends(path)...)
		return in, false
	}
	in.tag, in.typ, in.kind = p.Tag, p.Type, kindOf(p.Type)
	if in.target = s.place(in.at, true); in.kind == "" || !in.ok {
		c.Fail(field, quoted(path), "the path of one number, one word or one true or false that the answer depends on")
		return in, false
	}
	in.zero, in.held = quantityOf(p.Type)
	return in, true
}

// output finds the place at the path in the answer.
func (s *Subject) output(c *reckon.Checks, field, path string) (out output, ok bool) {
	out.path = path
	at := path
	if order, inner, cut := strings.Cut(path, "]."); cut && s.whole() {
		// Orders are known by the names in the question.
		if p, err := reckon.PathIn(reflect.TypeOf(s.question).Elem(), order+"]"); err == nil {
			_, number, err := p.Place(s.question)
			if err != nil {
				fail(c, field, path, err)
				return out, false
			}
			at = number + "." + inner
		}
	}
	p, err := reckon.PathIn(s.answer, at)
	if err != nil {
		var others []string
		if _, err := reckon.PathIn(s.part, path); err == nil { // of a plan, without its order
			for i := range s.parts {
				others = append(others, s.named(i)+"."+path)
			}
		}
		fail(c, field, path, err, others...)
		return out, false
	}
	out.kind = kindOf(p.Type)
	switch out.target = s.place(at, false); {
	case p.Type.Implements(notedType):
		c.Fail(field, quoted(path), "an output: every row has its conditions and cautions")
		return out, false
	case out.kind == "" || !out.ok:
		c.Fail(field, quoted(path), "the path of one number, one word or one true or false of the answer")
		return out, false
	}
	out.zero, out.held = quantityOf(p.Type)
	if out.in = p; out.target.path != at {
		if out.in, err = reckon.PathIn(s.part, out.target.path); err != nil {
			fail(c, field, path, err)
			return out, false
		}
	}
	return out, true
}

// quantityOf returns the quantity 0 of the type and the unit it is held in, if it is one.
func quantityOf(t reflect.Type) (unit.Quantity, string) {
	if !t.Implements(quantityType) {
		return nil, ""
	}
	q := reflect.Zero(t).Interface().(unit.Quantity)
	return q, unit.Describe(q).Held
}

// model puts the places together. They were found with [Subject.input] and [Subject.output].
func (s Subject) model(ins []input, outs []output) *model {
	m := &model{subject: s, ins: ins, outs: outs, notes: notesOf(s.part)}
	wanted := make([]bool, s.parts)
	for _, o := range outs {
		wanted[o.part] = true
	}
	for i := range wanted {
		if wanted[i] || len(outs) == 0 {
			m.parts = append(m.parts, i)
		}
	}
	return m
}

// A worker solves one scenario after the other for one goroutine.
type worker struct {
	m     *model
	parts []*part
	ins   [][]slot // the places of each input
	outs  []getter
	lost  []bool   // of each part: it has no answer
	texts []string // the words among the outputs of the last answer
	marks []mark   // its conditions and cautions: see [worker.remarks]
	read  []noteReader
}

// slot is one place that is set.
type slot struct {
	kind   Kind
	number reckon.Number // a count or a temperature
	float  *float64      // another number
	flag   *bool
	word   *string
}

// getter is one place that is read.
type getter struct {
	kind   Kind
	part   int // among the worker's
	reader reckon.Reader
	bare   bool // the place never moves and is always there; it is one of these
	float  *float64
	temp   *unit.Temp
	count  *int
	flag   *bool
	word   *string
}

// pointer returns a pointer to the value in v, whose underlying type is T, or
// nil if it is of another. Reading through it costs no more than in a program
// written for that type.
func pointer[T any](v reflect.Value) *T {
	if want := reflect.TypeFor[*T](); v.Addr().CanConvert(want) {
		return v.Addr().Convert(want).Interface().(*T)
	}
	return nil
}

// worker makes a worker, which has its own copy of the input.
func (m *model) worker() *worker {
	w := &worker{m: m, ins: make([][]slot, len(m.ins)), outs: make([]getter, len(m.outs)), texts: make([]string, len(m.outs))}
	w.lost = make([]bool, len(m.parts))
	index := map[int]int{}
	for i, number := range m.parts {
		index[number] = i
		p := m.subject.make(m.subject.question, number, m.vary(number))
		w.parts = append(w.parts, p)
		w.read = append(w.read, m.notes.reader(p.answer))
	}
	for i := range m.ins {
		in := &m.ins[i]
		for j, number := range m.parts {
			if in.part >= 0 && in.part != number {
				continue
			}
			if s, ok := slotAt(w.parts[j].q, in); ok {
				w.ins[i] = append(w.ins[i], s)
			}
		}
	}
	for j := range m.outs {
		o := &m.outs[j]
		w.outs[j] = getterOf(o, index[o.part], w.parts[index[o.part]].answer)
	}
	return w
}

// vary lists the paths in a part that vary.
func (m *model) vary(part int) (paths []string) {
	for _, in := range m.ins {
		if in.part < 0 || in.part == part {
			paths = append(paths, in.target.path)
		}
	}
	return paths
}

// slotAt finds the place of an input in a part's own question.
func slotAt(q any, in *input) (slot, bool) {
	p, err := reckon.PathIn(reflect.TypeOf(q).Elem(), in.target.path)
	if err != nil {
		return slot{}, false
	}
	v, _, err := p.Place(q)
	if err != nil {
		return slot{}, false
	}
	return slotOf(v, in.kind), true
}

func slotOf(v reflect.Value, kind Kind) slot {
	s := slot{kind: kind}
	switch kind {
	case Flag:
		s.flag = pointer[bool](v)
	case Word:
		s.word = pointer[string](v)
	default:
		if s.float = pointer[float64](v); s.float == nil {
			s.number, _ = reckon.NumberAt(v)
		}
	}
	return s
}

// set puts x there. It returns false if a count is not whole.
func (s *slot) set(x float64, words []string) bool {
	switch {
	case s.float != nil:
		*s.float = x
	case s.kind == Flag:
		*s.flag = x != 0
	case s.kind == Word:
		*s.word = words[int(x)]
	default:
		return s.number.Set(x)
	}
	return true
}

func getterOf(o *output, part int, answer any) getter {
	g := getter{kind: o.kind, part: part, reader: o.in.Reader(answer)}
	if g.reader.Fixed() {
		v := g.reader.Place()
		g.temp, g.float, g.count, g.flag, g.word = pointer[unit.Temp](v), pointer[float64](v), pointer[int](v), pointer[bool](v), pointer[string](v)
		g.bare = g.temp != nil || g.float != nil || g.count != nil || g.flag != nil || g.word != nil
	}
	return g
}

// value reads the place: NaN for what the answer leaves out and for a word, whose text is told.
func (g *getter) value() (x float64, text string) {
	switch {
	case !g.bare || !g.reader.There():
		if v, there := g.reader.Value(); there {
			return read(v)
		}
		return math.NaN(), ""
	case g.float != nil:
		return *g.float, ""
	case g.temp != nil:
		return g.temp.Celsius(), ""
	case g.count != nil:
		return float64(*g.count), ""
	case g.flag != nil && *g.flag:
		return 1, ""
	case g.flag != nil:
		return 0, ""
	}
	return math.NaN(), *g.word
}

// eval sets every input to x, in the unit held, a word by its index among the
// input's words and 1 for true, solves, and writes the outputs to y in the unit
// held: NaN for what this answer leaves out, for a word, and for all that an
// order had to say that was refused. It returns the errors of the
// calculation, joined.
func (w *worker) eval(x, y []float64) error {
	for i := range w.ins {
		in := &w.m.ins[i]
		for j := range w.ins[i] {
			if !w.ins[i][j].set(x[i], in.words) {
				w.refuse(y)
				return &reckon.InputError{
					Func: w.m.subject.id, Field: in.at, Value: strconv.FormatFloat(x[i], 'g', -1, 64),
					Want: "a whole number", Kind: reckon.KindRange,
				}
			}
		}
	}
	failed := w.solve()
	for j := range w.outs {
		g := &w.outs[j]
		if y[j], w.texts[j] = math.NaN(), ""; !w.lost[g.part] {
			y[j], w.texts[j] = g.value()
		}
	}
	return failed
}

// solve solves every part as it stands.
func (w *worker) solve() (failed error) {
	for i, p := range w.parts {
		err := p.solve()
		if w.lost[i] = err != nil; err != nil {
			failed = w.m.subject.gather(failed, w.m.parts[i], err)
		}
	}
	return failed
}

// refuse leaves every output out.
func (w *worker) refuse(y []float64) {
	for i := range w.lost {
		w.lost[i] = true
	}
	for j := range w.outs {
		y[j], w.texts[j] = math.NaN(), ""
	}
}
