// Package strictjson reads JSON into a struct and reports everything that is
// wrong with it at once, each with its JSON path and what would be accepted.
//
// The standard decoder stops at the first error, takes the last of two equal
// keys and matches names whatever their case. A person who mends a scenario by
// hand needs the whole list, and a kilogram must never be lost to a typing slip.
package strictjson

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Bounds on what is read, so that a hostile text is refused quickly.
const (
	maxDepth  = 32
	maxErrors = 50 // reading stops there
	maxNumber = 64 // characters of a number
	maxShown  = 60 // bytes of a bad value repeated in an error
)

// Decode reads data into the struct that dst points to. Every field without
// omitzero or omitempty must be there. Errors are *doughmath.InputError with
// Func set to name, joined; dst is only written when there is none.
//
// A caller that reads one type often keeps its [Plan].
func Decode(name string, data []byte, dst any, maxBytes int) error {
	return NewPlan(reflect.TypeOf(dst).Elem()).Decode(name, data, dst, maxBytes)
}

// A Plan says how one Go type is read. It does not change once it is made.
type Plan struct {
	kind   kind
	typ    reflect.Type
	fields []planned // of an object with named members
	elem   *Plan     // of a list, a map or a pointer
}

type planned struct {
	Field
	plan *Plan
}

type kind uint8

const (
	object kind = iota
	list
	mapping
	pointer
	fromJSON // the type reads its own JSON
	fromText // the type reads its own text
	text
	boolean
	whole
	number
)

var (
	textUnmarshaler = reflect.TypeFor[encoding.TextUnmarshaler]()
	jsonUnmarshaler = reflect.TypeFor[json.Unmarshaler]()
)

// NewPlan makes the plan for the type t. It panics if t holds a type that has
// no strict reading, which is a mistake in the program.
func NewPlan(t reflect.Type) *Plan { return newPlan(t, map[reflect.Type]*Plan{}) }

func newPlan(t reflect.Type, made map[reflect.Type]*Plan) *Plan {
	if p, ok := made[t]; ok {
		return p
	}
	p := &Plan{typ: t}
	made[t] = p
	switch {
	case t.Kind() == reflect.Pointer:
		p.kind, p.elem = pointer, newPlan(t.Elem(), made)
		return p
	case reflect.PointerTo(t).Implements(jsonUnmarshaler):
		p.kind = fromJSON
		return p
	case reflect.PointerTo(t).Implements(textUnmarshaler):
		p.kind = fromText
		return p
	}
	switch t.Kind() {
	case reflect.Struct:
		p.kind = object
		for _, f := range Fields(t) {
			p.fields = append(p.fields, planned{f, newPlan(f.Type, made)})
		}
		if len(p.fields) > 64 { // as many as a set of those seen holds
			panic("strictjson: more than 64 fields in " + t.String())
		}
	case reflect.Slice:
		p.kind, p.elem = list, newPlan(t.Elem(), made)
	case reflect.Map:
		if t.Key().Kind() != reflect.String {
			panic("strictjson: cannot read the keys of " + t.String())
		}
		p.kind, p.elem = mapping, newPlan(t.Elem(), made)
	case reflect.String:
		p.kind = text
	case reflect.Bool:
		p.kind = boolean
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		p.kind = whole
	case reflect.Float64:
		p.kind = number
	default:
		panic("strictjson: cannot read into " + t.String())
	}
	return p
}

// Decode is the package's Decode for the planned type.
func (p *Plan) Decode(name string, data []byte, dst any, maxBytes int) error {
	d := decoder{scanner: scanner{data: data}, checks: reckon.Checks{Func: name}}
	if len(data) > maxBytes {
		d.fail(fmt.Sprintf("%d bytes long", len(data)), fmt.Sprintf("at most %d bytes", maxBytes))
		return d.checks.Err()
	}
	fresh := reflect.New(p.typ).Elem()
	if d.value(p, fresh) && !d.atEnd() {
		d.broken("there is more after the end")
	}
	if d.syntax != "" {
		// What a person sees is one place to mend: the rest was read amiss.
		d.checks, d.path, d.count = reckon.Checks{Func: name}, nil, 0
		d.fail(d.syntax, "one JSON value and nothing after it")
	}
	if d.checks.OK() {
		reflect.ValueOf(dst).Elem().Set(fresh)
	}
	return d.checks.Err()
}

// want says what a value of the planned type looks like.
func (p *Plan) want() string {
	switch p.kind {
	case object, mapping:
		return "an object"
	case list:
		return "a list"
	case pointer:
		return p.elem.want()
	case boolean:
		return "true or false"
	case whole:
		return "a whole number"
	case number:
		return "a number without a unit"
	case fromJSON:
		return "a value"
	}
	if q, ok := reflect.Zero(p.typ).Interface().(unit.Quantity); ok {
		info := unit.Describe(q)
		article := "a "
		if strings.ContainsRune("aeiou", rune(info.Name[0])) {
			article = "an "
		}
		return article + info.Name + " in quotes with its unit (" + strings.Join(info.Units, ", ") + ")"
	}
	return "a text in quotes"
}

func clip(s string) string {
	if len(s) > maxShown {
		s = strings.ToValidUTF8(s[:maxShown], "") + "…"
	}
	return s
}

// shown repeats a value in an error.
func shown(raw []byte) string {
	switch raw[0] {
	case '{':
		return "an object"
	case '[':
		return "a list"
	case '"':
		s, _ := unquote(raw[1 : len(raw)-1])
		return strconv.Quote(clip(string(s)))
	case 't', 'f', 'n':
		return string(raw)
	}
	return "the bare number " + clip(string(raw))
}

type decoder struct {
	scanner
	path   []step
	checks reckon.Checks
	count  int
}

// step is one part of a JSON path: a name, or an index if the name is "".
type step struct {
	name  string
	index int
}

func (d *decoder) where() string {
	if len(d.path) == 0 {
		return "the input"
	}
	var b strings.Builder
	for i, s := range d.path {
		switch {
		case s.index >= 0:
			b.WriteString("[" + strconv.Itoa(s.index) + "]")
		case !isPlain(s.name):
			b.WriteString("[" + strconv.Quote(clip(s.name)) + "]")
		default:
			if i > 0 {
				b.WriteByte('.')
			}
			b.WriteString(clip(s.name))
		}
	}
	return b.String()
}

// isPlain reports whether a path can hold the name as it stands.
func isPlain(name string) bool {
	const letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-"
	return name != "" && strings.Trim(name, letters) == ""
}

// fail records what is wrong at the current path.
func (d *decoder) fail(value, want string) {
	d.count++
	if d.count == maxErrors {
		want += " (mend these first: there may be more)"
	}
	if d.count <= maxErrors {
		d.checks.Fail(d.where(), value, want)
	}
}

// full says that enough errors were found to stop reading.
func (d *decoder) full() bool { return d.count >= maxErrors }

func (d *decoder) in(s step)  { d.path = append(d.path, s) }
func (d *decoder) out()       { d.path = d.path[:len(d.path)-1] }
func named(name string) step  { return step{name, -1} }
func numbered(index int) step { return step{"", index} }

// value reads the next value into v. It returns false when there is no point
// in reading on.
func (d *decoder) value(p *Plan, v reflect.Value) bool {
	if d.full() {
		return false
	}
	first, ok := d.peek()
	if !ok {
		return false
	}
	switch {
	case p.kind == pointer:
		v.Set(reflect.New(p.elem.typ))
		return d.value(p.elem, v.Elem())
	case p.kind == object && first == '{':
		return d.object(p, v)
	case p.kind == mapping && first == '{':
		return d.mapping(p, v)
	case p.kind == list && first == '[':
		return d.list(p, v)
	}
	raw, ok := d.skip()
	if !ok {
		return false
	}
	isNumber := first == '-' || first >= '0' && first <= '9'
	if isNumber && len(raw) > maxNumber {
		d.fail("a number of "+strconv.Itoa(len(raw))+" characters", "at most "+strconv.Itoa(maxNumber))
		return true
	}
	switch {
	case p.kind == fromJSON:
		if err := v.Addr().Interface().(json.Unmarshaler).UnmarshalJSON(raw); err != nil {
			d.fail(shown(raw), strings.TrimPrefix(err.Error(), "json: "))
		}
	case p.kind == fromText && first == '"' && len(raw) > 2:
		d.fromText(raw, v)
	case p.kind == text && first == '"':
		s, _ := unquote(raw[1 : len(raw)-1])
		v.SetString(string(s))
	case p.kind == boolean && (first == 't' || first == 'f'):
		v.SetBool(first == 't')
	case p.kind == whole && isNumber:
		i, err := strconv.ParseInt(string(raw), 10, 64)
		if err != nil || v.OverflowInt(i) {
			d.fail(shown(raw), p.want())
			break
		}
		v.SetInt(i)
	case p.kind == number && isNumber:
		f, err := strconv.ParseFloat(string(raw), 64)
		if err != nil {
			d.fail(shown(raw), "a number that a computer can hold")
			break
		}
		v.SetFloat(f)
	default:
		d.fail(shown(raw), p.want())
	}
	return true
}

func (d *decoder) fromText(raw []byte, v reflect.Value) {
	s, _ := unquote(raw[1 : len(raw)-1])
	err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText(s)
	if err == nil {
		return
	}
	want := err.Error()
	var wrong *unit.Error
	if errors.As(err, &wrong) {
		want = wrong.Want
	}
	d.fail(shown(raw), want)
}

// members calls each for every member of the object that starts here.
func (d *decoder) members(each func(name []byte) bool) bool {
	if !d.enter() {
		return false
	}
	for more := d.first('}'); more; more = d.another('}') {
		name, ok := d.name()
		if !ok || !each(name) {
			return false
		}
	}
	d.leave()
	return d.syntax == ""
}

func (d *decoder) object(p *Plan, v reflect.Value) bool {
	var seen uint64
	ok := d.members(func(name []byte) bool {
		i := p.find(name)
		if i < 0 {
			d.in(named(string(name)))
			d.fail("not a known name", p.wantName(string(name)))
			d.out()
			_, ok := d.skip()
			return ok && !d.full()
		}
		d.in(named(p.fields[i].Name))
		if seen&(1<<i) != 0 {
			d.fail("there twice", "each name once")
			_, ok := d.skip()
			d.out()
			return ok && !d.full()
		}
		seen |= 1 << i
		ok := d.value(p.fields[i].plan, v.FieldByIndex(p.fields[i].Index))
		d.out()
		return ok
	})
	if !ok {
		return false
	}
	for i, f := range p.fields {
		if f.Required && seen&(1<<i) == 0 {
			d.in(named(f.Name))
			d.fail("missing", f.plan.want())
			d.out()
		}
	}
	return true
}

func (p *Plan) find(name []byte) int {
	for i := range p.fields {
		if p.fields[i].Name == string(name) {
			return i
		}
	}
	return -1
}

func (p *Plan) wantName(name string) string {
	names := make([]string, len(p.fields))
	for i, f := range p.fields {
		names[i] = f.Name
	}
	list := strings.Join(names, ", ")
	switch near := nearest.Of(name, names); {
	case len(names) == 0:
		return "no names here"
	case near != "":
		return near + " perhaps; the names here are " + list
	}
	return "one of " + list
}

func (d *decoder) mapping(p *Plan, v reflect.Value) bool {
	v.Set(reflect.MakeMap(p.typ))
	return d.members(func(name []byte) bool {
		key := reflect.ValueOf(string(name)).Convert(p.typ.Key())
		d.in(named(string(name)))
		if v.MapIndex(key).IsValid() {
			d.fail("there twice", "each name once")
		}
		value := reflect.New(p.elem.typ).Elem()
		ok := d.value(p.elem, value)
		d.out()
		v.SetMapIndex(key, value)
		return ok
	})
}

func (d *decoder) list(p *Plan, v reflect.Value) bool {
	if !d.enter() {
		return false
	}
	v.Set(reflect.MakeSlice(p.typ, 0, 0))
	i := 0
	for more := d.first(']'); more; more = d.another(']') {
		v.Grow(1)
		v.SetLen(i + 1)
		d.in(numbered(i))
		ok := d.value(p.elem, v.Index(i))
		d.out()
		if !ok {
			return false
		}
		i++
	}
	d.leave()
	return d.syntax == ""
}

// A Field is one named member of a JSON object as a Go struct declares it.
type Field struct {
	Name     string
	Required bool // must be there: the tag has neither omitzero nor omitempty
	Index    []int
	Type     reflect.Type
}

// Fields lists the JSON members of the struct type t in the order declared.
func Fields(t reflect.Type) []Field {
	var out []Field
	for _, f := range reflect.VisibleFields(t) {
		tag, tagged := f.Tag.Lookup("json")
		if !f.IsExported() || tag == "-" || (f.Anonymous && !tagged) {
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		if name == "" {
			name = f.Name
		}
		out = append(out, Field{
			Name: name, Index: f.Index, Type: f.Type,
			Required: !strings.Contains(options, "omitzero") && !strings.Contains(options, "omitempty"),
		})
	}
	return out
}
