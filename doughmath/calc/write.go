package calc

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// outPlan says how one Go type of a result is written. It does not change
// once it is made.
type outPlan struct {
	kind   outKind
	fields []outField
	elem   *outPlan
	marked bool // conditions or cautions are somewhere inside
}

type outField struct {
	name     string
	index    []int
	required bool
	plan     *outPlan
}

type outKind uint8

const (
	outObject outKind = iota
	outList
	outMap
	outPointer
	outQuantity
	outConditions
	outCautions
	outText  // the type writes its own text
	outWord  // a string
	outBool  //
	outInt   //
	outFloat //
)

var (
	quantityType  = reflect.TypeFor[unit.Quantity]()
	notedType     = reflect.TypeFor[reckon.Noted]()
	cautionsType  = reflect.TypeFor[reckon.Cautions]()
	tempType      = reflect.TypeFor[unit.Temp]()
	marshalerType = reflect.TypeFor[encoding.TextMarshaler]()
)

// newOutPlan makes the plan for t. It panics if t has no agreed form in JSON,
// which is a mistake in the program.
func newOutPlan(t reflect.Type) *outPlan { return planOf(t, map[reflect.Type]*outPlan{}) }

// planOf makes each plan once: the results of a line hold the same parts often.
func planOf(t reflect.Type, made map[reflect.Type]*outPlan) *outPlan {
	p := made[t]
	if p == nil {
		p = makePlan(t, made)
		made[t] = p
	}
	return p
}

func makePlan(t reflect.Type, made map[reflect.Type]*outPlan) *outPlan {
	switch {
	case t == cautionsType:
		return &outPlan{kind: outCautions, marked: true}
	case t.Implements(notedType):
		return &outPlan{kind: outConditions, marked: true}
	case t.Implements(quantityType):
		return &outPlan{kind: outQuantity}
	case t.Implements(marshalerType):
		return &outPlan{kind: outText}
	}
	switch t.Kind() {
	case reflect.Struct:
		p := &outPlan{kind: outObject}
		for _, f := range reckon.Fields(t) {
			plan := planOf(f.Type, made)
			p.fields = append(p.fields, outField{f.Name, f.Index, f.Required, plan})
			p.marked = p.marked || plan.marked
		}
		return p
	case reflect.Slice, reflect.Array:
		p := &outPlan{kind: outList, elem: planOf(t.Elem(), made)}
		p.marked = p.elem.marked
		return p
	case reflect.Map:
		if t.Key().Kind() == reflect.String {
			return &outPlan{kind: outMap, elem: planOf(t.Elem(), made)}
		}
	case reflect.Pointer:
		p := &outPlan{kind: outPointer, elem: planOf(t.Elem(), made)}
		p.marked = p.elem.marked
		return p
	case reflect.String:
		return &outPlan{kind: outWord}
	case reflect.Bool:
		return &outPlan{kind: outBool}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return &outPlan{kind: outInt}
	case reflect.Float64:
		return &outPlan{kind: outFloat}
	}
	panic("calc: cannot write " + t.String())
}

// skipped reports whether the value v of the field is left out: it is
// optional and empty, or a temperature that is not known.
func (f *outField) skipped(v reflect.Value) bool {
	if !f.required && (v.IsZero() || f.plan.kind == outList && v.Len() == 0) {
		return true
	}
	return v.Type() == tempType && v.IsZero()
}

// place is a part of a result, and the part that it stands in. It is only put
// into words where something is remarked.
type place struct {
	in   *place
	name string // "[]" for an item of a list
	item int
}

func (p *place) String() string {
	switch {
	case p == nil:
		return ""
	case p.name == "[]":
		return p.in.String() + "[" + strconv.Itoa(p.item) + "]"
	case p.in == nil:
		return p.name
	}
	return p.in.String() + "." + p.name
}

// in returns the field in the struct v.
func (f *outField) in(v reflect.Value) reflect.Value {
	if len(f.index) == 1 {
		return v.Field(f.index[0])
	}
	return v.FieldByIndex(f.index)
}

// isMarked reports whether a condition or a caution is set anywhere in v. Most
// answers have none, and need no places.
func (p *outPlan) isMarked(v reflect.Value) bool {
	if !p.marked {
		return false
	}
	switch p.kind {
	case outConditions, outCautions:
		return v.Uint() != 0
	case outObject:
		for i := range p.fields {
			if f := &p.fields[i]; f.plan.isMarked(f.in(v)) {
				return true
			}
		}
	case outList:
		for i := range v.Len() {
			if p.elem.isMarked(v.Index(i)) {
				return true
			}
		}
	case outPointer:
		return !v.IsNil() && p.elem.isMarked(v.Elem())
	}
	return false
}

// collect gathers the conditions and cautions in v, which stands at the place.
func (p *outPlan) collect(v reflect.Value, at *place, r *Result) {
	if !p.marked {
		return
	}
	switch p.kind {
	case outConditions:
		if v.Uint() == 0 {
			return
		}
		where := at
		if at != nil && at.name == "conditions" {
			where = at.in // they speak of what they stand in
		}
		for _, n := range v.Interface().(reckon.Noted).Notes() {
			r.Conditions = append(r.Conditions, reckon.Remark{Path: where.String(), Note: n})
		}
	case outCautions:
		r.Cautions |= reckon.Cautions(v.Uint())
	case outObject:
		for i := range p.fields {
			f := &p.fields[i]
			switch fv := f.in(v); {
			case f.plan.kind == outCautions:
				r.Cautions |= reckon.Cautions(fv.Uint())
			case f.plan.isMarked(fv):
				f.plan.collect(fv, &place{at, f.name, 0}, r)
			}
		}
	case outList:
		for i := range v.Len() {
			p.elem.collect(v.Index(i), &place{at, "[]", i}, r)
		}
	case outPointer:
		if !v.IsNil() {
			p.elem.collect(v.Elem(), at, r)
		}
	}
}

// append writes v as JSON. At the top, conditions and cautions are left for
// the sentences that follow.
func (p *outPlan) append(b []byte, v reflect.Value, o Options, top bool) ([]byte, error) {
	var err error
	switch p.kind {
	case outObject:
		b = append(b, '{')
		first := true
		for i := range p.fields {
			f := &p.fields[i]
			fv := f.in(v)
			if top && (f.plan.kind == outConditions || f.plan.kind == outCautions) || f.skipped(fv) {
				continue
			}
			if !first {
				b = append(b, ',')
			}
			first = false
			b = append(b, '"')
			b = append(b, f.name...)
			b = append(b, `":`...)
			if b, err = f.plan.append(b, fv, o, false); err != nil {
				return b, fmt.Errorf("%s: %w", f.name, err)
			}
		}
		return append(b, '}'), nil
	case outList:
		b = append(b, '[')
		for i := range v.Len() {
			if i > 0 {
				b = append(b, ',')
			}
			if b, err = p.elem.append(b, v.Index(i), o, false); err != nil {
				return b, fmt.Errorf("[%d]: %w", i, err)
			}
		}
		return append(b, ']'), nil
	case outMap:
		return p.appendMap(b, v, o)
	case outPointer:
		if v.IsNil() {
			return append(b, "null"...), nil
		}
		return p.elem.append(b, v.Elem(), o, false)
	case outQuantity:
		b, err = appendQuantity(append(b, '"'), quantity(v), o)
		return append(b, '"'), err
	case outConditions, outCautions:
		words, err := v.Interface().(json.Marshaler).MarshalJSON()
		return append(b, words...), err
	case outText:
		text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
		return appendString(b, string(text)), err
	case outWord:
		return appendString(b, v.String()), nil
	case outBool:
		return strconv.AppendBool(b, v.Bool()), nil
	case outInt:
		return strconv.AppendInt(b, v.Int(), 10), nil
	}
	return appendNumber(b, v.Float(), o)
}

// quantity returns v without a copy where it has an address.
func quantity(v reflect.Value) unit.Quantity {
	if v.CanAddr() {
		return v.Addr().Interface().(unit.Quantity)
	}
	return v.Interface().(unit.Quantity)
}

func appendQuantity(b []byte, q unit.Quantity, o Options) ([]byte, error) {
	start := len(b)
	b, err := q.AppendIn(b, o.Units)
	if err == nil && o.Rounded {
		// Only after AppendIn has made sure that the value is finite.
		b = append(b[:start], q.In(o.Units)...)
	}
	return b, err
}

func appendNumber(b []byte, v float64, o Options) ([]byte, error) {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return b, fmt.Errorf("a number that is not finite")
	case o.Rounded && math.Abs(v) < 1000:
		rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
		return strconv.AppendFloat(b, rounded, 'g', -1, 64), err
	case o.Rounded && math.Abs(v) < 1e15:
		return strconv.AppendFloat(b, v, 'f', 0, 64), nil
	}
	return strconv.AppendFloat(b, v, 'g', -1, 64), nil
}

func (p *outPlan) appendMap(b []byte, v reflect.Value, o Options) ([]byte, error) {
	keys := v.MapKeys()
	slices.SortFunc(keys, func(x, y reflect.Value) int { return strings.Compare(x.String(), y.String()) })
	b = append(b, '{')
	for i, k := range keys {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendString(b, k.String())
		b = append(b, ':')
		var err error
		if b, err = p.elem.append(b, v.MapIndex(k), o, false); err != nil {
			return b, fmt.Errorf("%s: %w", k.String(), err)
		}
	}
	return append(b, '}'), nil
}

func appendRemarks(b []byte, remarks []reckon.Remark) []byte {
	b = append(b, '[')
	for i, r := range remarks {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, '{')
		if r.Path != "" {
			b = append(appendString(append(b, `"at":`...), r.Path), ',')
		}
		b = append(appendNote(b, r.Note), '}')
	}
	return append(b, ']')
}

func appendNotes(b []byte, notes []reckon.Note) []byte {
	b = append(b, '[')
	for i, n := range notes {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(appendNote(append(b, '{'), n), '}')
	}
	return append(b, ']')
}

func appendNote(b []byte, n reckon.Note) []byte {
	b = append(b, `"word":`...)
	b = appendString(b, n.Word)
	b = append(b, `,"says":`...)
	return appendString(b, n.Says)
}

// appendString appends s as a JSON text.
func appendString(b []byte, s string) []byte {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return appendEscaped(b, s)
		}
	}
	b = append(b, '"')
	b = append(b, s...)
	return append(b, '"')
}

// appendEscaped is for texts that are not plain: most with a sign such as ° and
// a few with quotes.
func appendEscaped(b []byte, s string) []byte {
	if !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r == '"' || r == '\\' || r == 0x7f }) {
		b = append(b, '"')
		b = append(b, strings.ToValidUTF8(s, "\ufffd")...)
		return append(b, '"')
	}
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(s) // a string can always be written, to a buffer as well
	return append(b, bytes.TrimRight(text.Bytes(), "\n")...)
}
