package reckon

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
)

// ask lets the Check of what v holds tell what else is wrong. It is asked
// several times, with other values in place of those that could not be read:
// what it says each time does not depend on them. Whether values agree with one
// another waits until all can be read. v is not worth keeping after that.
func (d *decoder) ask(p *plan, v reflect.Value) []*InputError {
	q, ok := v.Addr().Interface().(interface{ Check(c *Checks) })
	if !ok || slices.ContainsFunc(d.faults, func(f fault) bool { return f.unread && len(f.at) == 0 }) {
		return nil // there is nobody to ask, or nothing could be read
	}
	check := func() []*InputError {
		c := Checks{Func: d.caller}
		q.Check(&c)
		return InputErrors(c.Err())
	}
	d.complete(check())
	rounds := 2 // at the low and at the high end of the ranges
	for i := range d.faults {
		rounds = max(rounds, 2*len(d.faults[i].words))
	}
	var found []*InputError
	for round := range rounds {
		for i := range d.faults {
			d.faults[i].invent(p, v, round)
		}
		said := check()
		if round == 0 {
			found = said
		} else {
			found = inBoth(found, said)
		}
	}
	return slices.DeleteFunc(found, func(e *InputError) bool {
		return e.Kind == KindInput || slices.ContainsFunc(d.faults, func(f fault) bool { return within(e.Field, f.wrong.Field) })
	})
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
// said of them: the words to choose from, what a list is to hold, and of a single
// missing value its range where the tag of the field does not name one.
func (d *decoder) complete(says []*InputError) {
	unread := 0
	for i := range d.faults {
		if d.faults[i].unread {
			unread++
		}
	}
	for i := range d.faults {
		f := &d.faults[i]
		j := slices.IndexFunc(says, func(e *InputError) bool { return e.Field == f.wrong.Field })
		switch {
		case j < 0:
		case f.wrong.Kind == KindMissing && f.wrong.Value == "empty":
			f.wrong.Want = says[j].Want
		case says[j].Kind == KindWord:
			f.words = quoted(says[j].Want)
			if f.wrong.Kind != KindInput {
				f.wrong.Want = says[j].Want
			}
		case unread == 1 && f.wrong.Kind == KindMissing && f.wrong.Range == (Range{}) && f.tag.Get("items") == "":
			f.wrong.Want += ", " + strings.TrimPrefix(strings.TrimPrefix(says[j].Want, wholeFrom), tempFrom)
			f.wrong.Range, f.wrong.Unit = says[j].Range, says[j].Unit
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
		case p.form == object:
			f := &p.fields[p.find(step.name)]
			p, v = f.plan, f.in(v)
		case p.form == list && step.index < v.Len():
			p, v = p.elem, v.Index(step.index)
		default:
			return p, v, false // in a map, or in a list that another stands for by now
		}
	}
	return p, v, true
}

// invent puts a value that may well have been meant in the place of the one
// that could not be read: at the low end of its range in even rounds, at the
// high end in odd ones, and each word in turn.
func (f *fault) invent(p *plan, v reflect.Value, round int) {
	if p, v, ok := find(p, v, f.at); ok && f.unread {
		invent(p, v, f.tag, f.words, round, 0)
	}
}

func invent(p *plan, v reflect.Value, tag reflect.StructTag, words []string, round, depth int) {
	if depth++; depth > maxDepth {
		return // a type may hold itself
	}
	switch p.form {
	case pointer:
		v.Set(reflect.New(p.elem.typ))
		invent(p.elem, v.Elem(), tag, words, round, depth)
	case object:
		for i := range p.fields {
			if f := &p.fields[i]; f.Required {
				invent(f.plan, f.in(v), f.Tag, nil, round, depth)
			}
		}
	case list:
		v.Set(reflect.MakeSlice(p.typ, 1, 1))
		invent(p.elem, v.Index(0), tag, nil, round, depth)
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
	r, _ := ParseRange(tag.Get("range"))
	low, lowOK := p.number(r.Low)
	high, highOK := p.number(r.High)
	switch {
	case !lowOK && !highOK:
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
