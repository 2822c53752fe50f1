package reckon

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
)

// refused is a value that could not be read.
type refused struct {
	err   *InputError
	tag   reflect.StructTag
	at    []place
	words []string // to choose from, as Check names them
}

// ask lets the Check of what v holds tell what else is wrong. It is asked
// several times, with other values in place of those that could not be read:
// what it says each time does not depend on them. Whether values agree with one
// another waits until all can be read. v is not worth keeping after that.
func (d *decoder) ask(p *plan, v reflect.Value) {
	q, ok := v.Addr().Interface().(interface{ Check(c *Checks) })
	if !ok || slices.ContainsFunc(d.refused, func(r refused) bool { return len(r.at) == 0 }) {
		return // nothing could be read
	}
	check := func() []*InputError {
		c := Checks{Func: d.checks.Func}
		q.Check(&c)
		return InputErrors(c.Err())
	}
	d.complete(check())
	rounds := 2 // at the low and at the high end of the ranges
	for i := range d.refused {
		rounds = max(rounds, 2*len(d.refused[i].words))
	}
	var found []*InputError
	for round := range rounds {
		for i := range d.refused {
			d.refused[i].invent(p, v, round)
		}
		said := check()
		if round == 0 {
			found = said
		} else {
			found = inBoth(found, said)
		}
	}
	for _, e := range found {
		unread := func(r refused) bool { return within(e.Field, r.err.Field) }
		if e.Kind != KindInput && !slices.ContainsFunc(d.refused, unread) {
			d.checks.errs = append(d.checks.errs, e)
		}
	}
}

// inBoth returns what is said word for word in both lists.
func inBoth(a, b []*InputError) []*InputError {
	said := map[InputError]bool{}
	for _, e := range b {
		said[*e] = true
	}
	return slices.DeleteFunc(a, func(e *InputError) bool { return !said[*e] })
}

// complete puts what a Check says of the values that were not given to what is
// said of them: the words to choose from, and of a single missing value its
// range where the tag of the field does not name one.
func (d *decoder) complete(says []*InputError) {
	for i := range d.refused {
		r := &d.refused[i]
		j := slices.IndexFunc(says, func(e *InputError) bool { return e.Field == r.err.Field })
		switch {
		case j < 0:
		case says[j].Kind == KindWord:
			r.words = quoted(says[j].Want)
			if r.err.Kind != KindInput {
				r.err.Want = says[j].Want
			}
		case r.err.Kind == KindMissing && r.tag.Get("items") == "" && r.err.Range == Range{} && len(d.refused) == 1:
			want := strings.TrimPrefix(strings.TrimPrefix(says[j].Want, wholeFrom), tempFrom)
			r.err.Want += ", " + want
			r.err.Range, r.err.Unit = says[j].Range, says[j].Unit
		}
	}
}

// quoted lists the words in quotes in a text.
func quoted(text string) []string {
	var out []string
	for i, part := range strings.Split(text, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		}
	}
	return out
}

// within reports whether a path is that of a part or of something inside it.
func within(path, part string) bool {
	rest, ok := strings.CutPrefix(path, part)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// find follows a path in what was read.
func find(p *plan, v reflect.Value, at []place) (*plan, reflect.Value, bool) {
	for _, step := range at {
		for p.form == pointer {
			if v.IsNil() {
				return p, v, false
			}
			p, v = p.elem, v.Elem()
		}
		switch {
		case p.form == object && step.index < 0:
			f := &p.fields[p.find(step.name)]
			p, v = f.plan, f.in(v)
		case p.form == list && step.index < v.Len():
			p, v = p.elem, v.Index(step.index)
		default:
			return p, v, false // in a map
		}
	}
	return p, v, true
}

// invent puts a value that may well have been meant in the place of the one
// that could not be read: at the low end of its range in even rounds, at the
// high end in odd ones, and each word in turn.
func (r *refused) invent(p *plan, v reflect.Value, round int) {
	if p, v, ok := find(p, v, r.at); ok {
		invent(p, v, r.tag, r.words, round, 0)
	}
}

func invent(p *plan, v reflect.Value, tag reflect.StructTag, words []string, round, depth int) {
	switch p.form {
	case pointer:
		v.Set(reflect.New(p.elem.typ))
		invent(p.elem, v.Elem(), tag, words, round, depth)
	case object:
		for i := range p.fields {
			if f := &p.fields[i]; f.Required && depth < maxDepth {
				invent(f.plan, f.in(v), f.Tag, nil, round, depth+1)
			}
		}
	case list:
		if v.Set(reflect.MakeSlice(p.typ, 1, 1)); depth < maxDepth {
			invent(p.elem, v.Index(0), tag, nil, round, depth+1)
		}
	case text:
		word := ""
		if len(words) > 0 {
			word = words[round/2%len(words)]
		}
		v.SetString(word)
	case boolean:
		v.SetBool(round%2 == 1)
	default:
		if p.isNumber() {
			setHeld(v, p.ends(tag)[round%2])
		}
	}
}

// ends returns a value near either end of the range that the tag names.
func (p *plan) ends(tag reflect.StructTag) [2]float64 {
	r, ok := ParseRange(tag.Get("range"))
	low, lowOK := p.number(r.Low)
	high, highOK := p.number(r.High)
	switch {
	case !ok || !lowOK && !highOK:
		return [2]float64{1, 1e6}
	case !highOK:
		high = low + 1e6
	case !lowOK:
		low = high - 1e6
	}
	inside := (high - low) / 1024
	if p.form == whole {
		inside = min(1, high-low)
	}
	if r.LowOpen {
		low += inside
	}
	if r.HighOpen {
		high -= inside
	}
	return [2]float64{low, high}
}

// number reads the text of a number of the planned type.
func (p *plan) number(text string) (held float64, ok bool) {
	var err error
	if p.form == quantity {
		held, err = unit.Parse(p.zero, text)
	} else {
		held, err = strconv.ParseFloat(text, 64)
	}
	return held, err == nil
}

// setHeld sets the number in v.
func setHeld(v reflect.Value, x float64) {
	switch {
	case v.Type() == tempType:
		*v.Addr().Interface().(*unit.Temp) = unit.Celsius(x)
	case v.CanInt():
		v.SetInt(int64(x))
	default:
		v.SetFloat(x)
	}
}

// held returns a range with both bounds in the unit that the planned type is
// held in, and that unit.
func (p *plan) held(r Range) (Range, string) {
	for p.form == pointer {
		p = p.elem
	}
	if p.form != quantity {
		return r, ""
	}
	in := func(bound string) string {
		x, ok := p.number(bound)
		if !ok {
			return ""
		}
		v := reflect.New(p.typ).Elem()
		setHeld(v, x)
		return digits(v.Interface())
	}
	r.Low, r.High = in(r.Low), in(r.High)
	return r, heldIn(p.zero)
}
