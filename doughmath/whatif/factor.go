package whatif

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Factor is one input that varies, and over what: a list of values, a range
// with a step or a count, or a distribution to draw from. Values are texts as
// in the JSON of the calculation: "18 °C", "2.5", "once", "true".
type Factor struct {
	Path         string       `json:"path"`                                // such as "room", "shift.tap" or "orders[Star bun].product.baked"
	Values       []string     `json:"values,omitzero" items:"1..1000000"`  // each of them
	Weights      []float64    `json:"weights,omitzero" items:"1..1000000"` // how likely each of the values is, next to the others, where they are drawn; leave out if all are as likely
	From         string       `json:"from,omitzero"`                       // or from here
	To           string       `json:"to,omitzero"`                         // up to here
	Step         string       `json:"step,omitzero"`                       // in steps of this size; of a temperature a difference, "2 C°"
	Count        int          `json:"count,omitzero" range:"-"`            // or in so many values, both ends among them; neither where they are drawn
	Distribution Distribution `json:"distribution,omitzero"`               // or drawn from this
	Unit         string       `json:"unit,omitzero"`                       // of its column; leave out for the unit of its first text
}

// factor is a Factor that was compiled.
type factor struct {
	values     []float64               // in the unit held; a word by its index
	shown      []float64               // the same in the unit of the column
	inverse    func(p float64) float64 // or drawn: the value below which it falls with probability p
	*uncertain                         // its distribution, if one was given
	unit       string                  // of its column; "" for the unit held or none
	convert    unit.Converter          // to that unit
}

// compile finds the input of f and its values, and tells what is wrong with them.
func (f *Factor) compile(c *reckon.Checks, at string, s *Subject, drawn bool) (in input, out factor, ok bool) {
	mark := c.Mark()
	in, found := s.input(c, at+".path", f.Path)
	ways := 0
	for _, given := range [...]bool{len(f.Values) > 0, f.From != "" || f.To != "" || f.Step != "" || f.Count != 0, f.Distribution != Distribution{}} {
		if given {
			ways++
		}
	}
	if ways != 1 {
		c.Fail(at, strconv.Itoa(ways)+" of values, range and distribution", "one of them: values, or from and to with step or count, or a distribution")
	}
	if !found || ways != 1 {
		return in, out, false
	}
	p := parser{c: c, in: &in}
	if out.unit, out.convert, found = p.column(at, f); !found {
		return in, out, false
	}
	if len(f.Weights) > 0 && len(f.Values) == 0 {
		c.Fail(at+".weights", "given", "nothing: only a list of values has weights")
	}
	switch {
	case len(f.Values) > 0:
		if reckon.CheckItems(c, at+".values", len(f.Values), mostValues) {
			p.list(at+".values", f.Values, &out)
			s.tryWords(c, func(i int) string { return item(at+".values", i) }, &in, f.Values)
		}
		f.weigh(c, at, &out, drawn)
	case f.Distribution != Distribution{}:
		if !drawn {
			c.Fail(at+".distribution", "given", "values or a range: only where scenarios are drawn is there something to draw")
			break
		}
		if out.uncertain = f.Distribution.compile(&p, at+".distribution"); out.uncertain != nil {
			out.inverse = tabulate(out.shape).quantile
		}
	default:
		p.span(at, f, &out, drawn)
	}
	return in, out, c.Mark() == mark
}

// column chooses the unit of the column of f.
func (p *parser) column(at string, f *Factor) (symbol string, conv unit.Converter, ok bool) {
	switch {
	case p.in.zero == nil && f.Unit != "":
		p.c.Fail(at+".unit", quoted(f.Unit), "no unit: this is no quantity")
		return "", conv, false
	case p.in.zero == nil:
		return "", conv, true
	case f.Unit != "":
		symbol = f.Unit
	default:
		if symbol = f.typedUnit(p.in); symbol == "" {
			symbol = p.in.held
		}
	}
	if conv, ok = unit.ConverterTo(p.in.zero, symbol); !ok {
		p.c.Nest("", &reckon.InputError{Func: p.c.Func, Field: at + ".unit", Value: quoted(symbol), Want: unitOf(p.in.zero), Kind: reckon.KindUnit})
	}
	return conv.Symbol, conv, ok
}

// fromHeld is v in the unit of the column.
func (f *factor) fromHeld(v float64) float64 {
	if f.unit == "" {
		return v
	}
	return f.convert.FromHeld(v)
}

// toHeld is v, in the unit of the column, in the unit held.
func (f *factor) toHeld(v float64) float64 {
	if f.unit == "" {
		return v
	}
	return f.convert.ToHeld(v)
}

// unitOf says which units a quantity is written in.
func unitOf(q unit.Quantity) string {
	info := unit.Describe(q)
	return "a unit of " + info.Name + ": " + strings.Join(info.Units, ", ")
}

// typedUnit is the unit in which the first text of f was typed; "" if it has several.
func (f *Factor) typedUnit(in *input) string {
	if in.zero == nil {
		return ""
	}
	text := f.From
	if len(f.Values) > 0 {
		text = f.Values[0]
	} else if text == "" {
		text = f.Distribution.text()
	}
	text = strings.TrimLeft(strings.TrimSpace(text), "+-−0123456789.")
	if i := strings.IndexByte(text, ' '); i > 0 && strings.Trim(text[1:i], "+-0123456789") == "" && strings.ContainsAny(text[:1], "eE") {
		text = text[i:]
	}
	conv, ok := unit.ConverterTo(in.zero, strings.TrimSpace(text))
	if !ok {
		return ""
	}
	return conv.Symbol
}

// span takes a range apart.
func (p *parser) span(at string, f *Factor, out *factor, drawn bool) {
	c := p.c
	if p.in.kind == Flag || p.in.kind == Word {
		c.Fail(at, "a range", "values: a "+string(p.in.kind)+" has no range")
		return
	}
	mark := c.Mark()
	from, to := p.number(at+".from", f.From, p.in.zero), p.number(at+".to", f.To, p.in.zero)
	if c.Mark() > mark {
		return
	}
	p.inRange(at+".from", f.From, from)
	p.inRange(at+".to", f.To, to)
	switch {
	case from == to:
		c.Fail(at+".to", f.To, "more than from, or one value in place of a range")
	case from > to:
		c.Fail(at+".to", f.To, "more than from, "+f.From+": a range runs upwards")
	case f.Step != "" && f.Count != 0:
		c.Fail(at+".count", strconv.Itoa(f.Count), "nothing beside a step")
	case f.Step != "":
		p.steps(at, f, from, to, out)
	case f.Count != 0:
		if reckon.CheckCount(c, at+".count", f.Count, 2, mostValues) {
			out.spread(from, to, 0, f.Count)
		}
	case !drawn:
		c.Fail(at+".step", "missing", "a step, or a count of values")
	case p.in.kind == Whole:
		out.inverse = func(u float64) float64 { return min(from+math.Floor(u*(to-from+1)), to) }
	default:
		out.inverse = func(u float64) float64 { return from + float64(u*(to-from)) }
	}
	if p.in.kind == Whole && slices.ContainsFunc(out.values, func(v float64) bool { return v != math.Trunc(v) }) {
		c.Fail(at+".count", strconv.Itoa(f.Count), "a count that gives whole numbers")
	}
}

// steps makes the values of a range with a step.
func (p *parser) steps(at string, f *Factor, from, to float64, out *factor) {
	zero := p.in.zero
	if zero != nil && reflect.TypeOf(zero) == tempType {
		zero = unit.TempDelta(0)
	}
	mark := p.c.Mark()
	step := p.number(at+".step", f.Step, zero)
	switch n := math.Floor((to-from)/step + 1e-9); {
	case p.c.Mark() > mark:
	case !(step > 0):
		p.c.Fail(at+".step", f.Step, "more than 0")
	case n < 1:
		p.c.Fail(at+".step", f.Step, "at most from "+f.From+" to "+f.To)
	case n >= mostValues:
		p.c.Fail(at+".step", f.Step, "a step that makes at most "+strconv.Itoa(mostValues)+" values")
	default:
		out.spread(from, to, step, int(n)+1)
	}
}

// spread makes n values from a range: a step apart, or evenly to its end if
// there is no step. They are counted in the unit of the column, so that they
// are the numbers that a person would write.
func (f *factor) spread(from, to, step float64, n int) {
	first, last := tidy(f.fromHeld(from)), tidy(f.fromHeld(to))
	apart := tidy(f.fromHeld(step) - f.fromHeld(0))
	tiny := max(math.Abs(first), math.Abs(last)) * 1e-14
	for i := range n {
		v := first + float64(float64(i)*apart)
		if step == 0 {
			v = first + (last-first)*float64(i)/float64(n-1)
		}
		if v = min(tidy(v), last); math.Abs(v) < tiny {
			v = 0
		}
		f.shown = append(f.shown, v)
		f.values = append(f.values, min(max(f.toHeld(v), from), to))
	}
}

// tidy rounds to 15 significant figures, which every decimal number survives.
func tidy(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// parser reads the texts of one factor.
type parser struct {
	c  *reckon.Checks
	in *input
}

// list reads a list of values.
func (p *parser) list(at string, texts []string, out *factor) {
	for i, text := range texts {
		v := p.value(item(at, i), text)
		out.values, out.shown = append(out.values, v), append(out.shown, tidy(out.fromHeld(v)))
	}
}

// value reads one value: a number, 1 for true, or the index of a word.
func (p *parser) value(field, text string) float64 {
	switch p.in.kind {
	case Flag:
		if text != "true" && text != "false" {
			p.c.Fail(field, quoted(text), "true or false")
		}
		if text == "true" {
			return 1
		}
		return 0
	case Word:
		n := slices.Index(p.in.words, text)
		if n < 0 {
			if n = len(p.in.words); n == mostWords {
				p.c.Fail(field, quoted(text), "one of the "+strconv.Itoa(mostWords)+" different words before it: there are too many")
				return 0
			}
			p.in.words = append(p.in.words, text)
		}
		return float64(n)
	}
	mark := p.c.Mark()
	v := p.number(field, text, p.in.zero)
	if p.c.Mark() == mark {
		p.inRange(field, text, v)
	}
	return v
}

// number reads one number with its unit, or without if it is no quantity.
func (p *parser) number(field, text string, zero unit.Quantity) float64 {
	wrong := func(kind reckon.Kind, want string) float64 {
		value := quoted(text)
		if text == "" {
			kind, value = reckon.KindMissing, "missing"
		}
		p.c.Nest("", &reckon.InputError{Func: p.c.Func, Field: field, Value: value, Want: want, Kind: kind})
		return 0
	}
	if zero != nil {
		v, err := unit.Parse(zero, text)
		if err != nil {
			want := err.Error()
			if _, after, ok := strings.Cut(want, ": want "); ok {
				want = after
			}
			return wrong(reckon.KindUnit, want)
		}
		return v
	}
	if len(text) > 64 {
		return wrong(reckon.KindType, "a number of at most 64 characters")
	}
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return wrong(reckon.KindType, "a number without a unit")
	case p.in.kind == Whole && (v != math.Trunc(v) || math.Abs(v) > 1<<53):
		return wrong(reckon.KindType, "a whole number")
	}
	return v
}

// inRange refuses a number outside the range that the tag of its field names.
func (p *parser) inRange(field, text string, v float64) {
	r, ok := reckon.ParseRange(p.in.tag.Get("range"))
	if !ok {
		return
	}
	low, high := p.bound(r.Low, math.Inf(-1)), p.bound(r.High, math.Inf(1))
	if v < low || v > high || r.LowOpen && v == low || r.HighOpen && v == high {
		p.c.Nest("", &reckon.InputError{Func: p.c.Func, Field: field, Value: text, Want: r.String(), Kind: reckon.KindRange, Range: r, Unit: p.in.held})
	}
}

func (p *parser) bound(text string, none float64) float64 {
	var v float64
	var err error
	if p.in.zero != nil {
		v, err = unit.Parse(p.in.zero, text)
	} else {
		v, err = strconv.ParseFloat(text, 64)
	}
	if text == "" || err != nil {
		return none
	}
	return v
}

// tryWords refuses words that the question does not know, by asking its Check about each.
func (s *Subject) tryWords(c *reckon.Checks, at func(i int) string, in *input, texts []string) {
	if in.kind != Word {
		return
	}
	q := clone(s.question)
	checker, checks := q.(interface{ Check(c *reckon.Checks) })
	path, err := reckon.PathIn(reflect.TypeOf(q).Elem(), in.at)
	if !checks || err != nil {
		return
	}
	place, _, err := path.Place(q)
	if err != nil {
		return
	}
	told := map[string]bool{}
	for i, word := range texts {
		if told[word] {
			continue
		}
		told[word] = true
		place.SetString(word)
		says := reckon.Checks{Func: s.id}
		checker.Check(&says)
		for _, e := range reckon.InputErrors(says.Err()) {
			if e.Field == in.at && e.Kind == reckon.KindWord {
				want := e.Want
				if known := wordsIn(want); nearest.Of(word, known) != "" {
					want = strconv.Quote(nearest.Of(word, known)) + " perhaps; " + want
				}
				c.Nest("", &reckon.InputError{Func: c.Func, Field: at(i), Value: quoted(word), Want: want, Kind: reckon.KindWord})
			}
		}
	}
}

// wordsIn takes the words out of a sentence that quotes them.
func wordsIn(want string) []string {
	var out []string
	for i, part := range strings.Split(want, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		}
	}
	return out
}
