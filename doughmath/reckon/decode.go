package reckon

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"iter"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/unit"
)

// Bounds on what is read, so that a hostile text is refused quickly.
const (
	maxInput  = 1 << 20 // bytes; a day's weighings of a large plant fit
	maxDepth  = 32
	maxNumber = 64 // characters of a number
	maxShown  = 60 // bytes of a bad value repeated in an error
)

// Decode reads JSON into a struct of type T, such as a calculation or a
// scenario of one's own, and reports everything that is wrong with it at once,
// each as an *[InputError] with its JSON path; name goes into the errors.
//
// The standard decoder stops at the first error, takes the last of two equal
// names and matches names whatever their case. A person who mends an input by
// hand needs the whole list, and a kilogram must never be lost to a slip of
// typing. So every field without omitzero or omitempty must be there, an
// unknown name is refused and the nearest offered, each name stands once, and a
// quantity is a text with its unit, never a bare number.
//
// If T has a Check, as every calculation has, it is asked about whatever could
// be read, so that names, units, ranges and words are told in one go. Decode
// does not ask it about an input that was read without a fault: Solve does.
//
// A caller that reads one type often keeps its [Decoder].
func Decode[T any](name string, data []byte) (*T, error) {
	return NewDecoder[T]().Decode(name, data)
}

// A Decoder reads values of one type from JSON. It does not change once it is
// made, and may be shared.
type Decoder[T any] struct{ plan *plan }

// NewDecoder makes the decoder for T. It panics if T is no struct or holds a
// type that has no strict reading, which is a mistake in the program.
func NewDecoder[T any]() *Decoder[T] {
	return &Decoder[T]{newPlan(reflect.TypeFor[T](), map[reflect.Type]*plan{})}
}

// Decode is the package's [Decode] for T.
func (d *Decoder[T]) Decode(name string, data []byte) (*T, error) {
	out := new(T)
	if err := d.plan.decode(name, data, reflect.ValueOf(out).Elem()); err != nil {
		return nil, err
	}
	return out, nil
}

// A plan says how one Go type is read. It does not change once it is made.
type plan struct {
	form   form
	typ    reflect.Type
	fields []planned     // of an object with named members
	elem   *plan         // of a list, a map or a pointer
	zero   unit.Quantity // if it is one: the quantity 0
}

type planned struct {
	Field
	plan *plan
}

// form is what the JSON of a Go type looks like.
type form uint8

const (
	object form = iota
	list
	mapping
	pointer
	ownJSON // the type reads its own JSON
	ownText // the type reads its own text
	quantity
	text
	boolean
	whole
	plainNumber
)

var (
	textUnmarshaler = reflect.TypeFor[encoding.TextUnmarshaler]()
	jsonUnmarshaler = reflect.TypeFor[json.Unmarshaler]()
)

func newPlan(t reflect.Type, made map[reflect.Type]*plan) *plan {
	if p, ok := made[t]; ok {
		return p
	}
	p := &plan{typ: t}
	made[t] = p
	switch {
	case t.Kind() == reflect.Pointer:
		p.form, p.elem = pointer, newPlan(t.Elem(), made)
		return p
	case reflect.PointerTo(t).Implements(jsonUnmarshaler):
		p.form = ownJSON
		return p
	case t.Implements(quantityType):
		p.form, p.zero = quantity, reflect.Zero(t).Interface().(unit.Quantity)
		return p
	case reflect.PointerTo(t).Implements(textUnmarshaler):
		p.form = ownText
		return p
	}
	switch t.Kind() {
	case reflect.Struct:
		p.form = object
		for _, f := range Fields(t) {
			p.fields = append(p.fields, planned{f, newPlan(f.Type, made)})
		}
		if len(p.fields) > 64 { // as many as a set of those seen holds
			panic("reckon: more than 64 fields in " + t.String())
		}
	case reflect.Slice:
		p.form, p.elem = list, newPlan(t.Elem(), made)
	case reflect.Map:
		if t.Key().Kind() != reflect.String {
			panic("reckon: cannot read the keys of " + t.String())
		}
		p.form, p.elem = mapping, newPlan(t.Elem(), made)
	case reflect.String:
		p.form = text
	case reflect.Bool:
		p.form = boolean
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		p.form = whole
	case reflect.Float64:
		p.form = plainNumber
	default:
		panic("reckon: cannot read into " + t.String())
	}
	return p
}

// decode reads data into v, which is only worth keeping if there is no error.
func (p *plan) decode(name string, data []byte, v reflect.Value) error {
	d := decoder{caller: name}
	if len(data) > maxInput {
		d.fail(KindInput, fmt.Sprintf("%d bytes long", len(data)), fmt.Sprintf("at most %d bytes", maxInput))
		return d.told(nil)
	}
	d.data = string(data) // the texts in v are cut from this one
	whole := d.value(p, v, "")
	if whole && !d.atEnd() {
		d.broken("there is more after the end")
	}
	switch {
	case d.syntax != "":
		// What a person sees is one place to mend: the rest was read amiss.
		d.faults, d.deep = nil, 0
		d.fail(KindSyntax, d.syntax, "one JSON value and nothing after it")
	case len(d.faults) == 0:
		return nil
	case whole:
		return AsTyped(d.told(d.ask(p, v)), v.Addr().Interface(), data)
	}
	return d.told(nil)
}

// told joins what was found wrong in reading and what a Check found besides.
func (d *decoder) told(found []*InputError) error {
	var c Checks
	for i := range d.faults {
		c.keep(&d.faults[i].wrong)
	}
	for _, e := range found {
		c.keep(e)
	}
	if d.full() {
		c.told++ // what was not read
	}
	return c.Err()
}

// want says what a value of the planned type looks like, and in which range it
// is if the tag of its field says so.
func (p *plan) want(tag reflect.StructTag) string {
	want := p.looks()
	if r, ok := ParseRange(tag.Get("range")); ok && p.isNumber() {
		want += ", " + r.String()
	}
	if r, ok := ParseRange(tag.Get("items")); ok && p.form == list {
		want += " of " + r.String() + " items"
	}
	return want
}

func (p *plan) looks() string {
	switch p.form {
	case object:
		var names []string
		for i := range p.fields {
			if p.fields[i].Required {
				names = append(names, p.fields[i].Name)
			}
		}
		if len(names) > 0 {
			return "an object with " + strings.Join(names, ", ")
		}
		return "an object"
	case mapping:
		return "an object"
	case list:
		return "a list"
	case pointer:
		return p.elem.looks()
	case boolean:
		return "true or false"
	case whole:
		return "a whole number"
	case plainNumber:
		return "a number without a unit"
	case ownJSON:
		return "a value"
	}
	if p.form == quantity {
		info := unit.Describe(p.zero)
		article := "a "
		if strings.ContainsRune("aeiou", rune(info.Name[0])) {
			article = "an "
		}
		return article + info.Name + " in quotes with its unit (" + strings.Join(info.Units, ", ") + ")"
	}
	return "a text in quotes"
}

// isNumber says that a range can be told of the value.
func (p *plan) isNumber() bool {
	return p.form == quantity || p.form == whole || p.form == plainNumber || p.form == pointer && p.elem.isNumber()
}

func clip(s string) string {
	if len(s) > maxShown {
		s = strings.ToValidUTF8(s[:maxShown], "") + "…"
	}
	return s
}

// shown repeats a value in an error.
func shown(raw string) string {
	switch raw[0] {
	case '{':
		return "an object"
	case '[':
		return "a list"
	case '"':
		s, _ := unquote(raw[1 : len(raw)-1])
		return strconv.Quote(clip(s))
	case 't', 'f', 'n':
		return raw
	}
	return "the bare number " + clip(raw)
}

type decoder struct {
	scanner
	places [maxDepth]place // on the stack, whatever is read
	deep   int             // of places in use
	caller string          // for the errors
	faults []fault
}

// fault is one thing that was found wrong in reading.
type fault struct {
	wrong InputError
	// If a value could not be read:
	unread bool
	at     []place
	tag    reflect.StructTag
	words  []string // to choose from, as a Check names them
}

// place is one part of a JSON path: a name, or an index if it is not negative.
type place struct {
	name  string
	index int
}

func (d *decoder) path() []place { return d.places[:d.deep] }

func (d *decoder) where() string {
	if d.deep == 0 {
		return "the input"
	}
	var b strings.Builder
	for i, s := range d.path() {
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
func (d *decoder) fail(kind Kind, value, want string) {
	d.faults = append(d.faults, fault{wrong: InputError{Func: d.caller, Field: d.where(), Value: value, Want: want, Kind: kind}})
}

// full says that enough was found wrong to stop reading.
func (d *decoder) full() bool { return len(d.faults) >= MaxErrors }

// refuse records that the value at the current path cannot be read.
func (d *decoder) refuse(kind Kind, tag reflect.StructTag, value, want string) {
	d.fail(kind, value, want)
	f := &d.faults[len(d.faults)-1]
	f.unread, f.at, f.tag = true, slices.Clone(d.path()), tag
}

// mistake is refuse for a value of p that is missing or of another kind altogether.
func (d *decoder) mistake(kind Kind, p *plan, tag reflect.StructTag, value string) {
	d.refuse(kind, tag, value, p.want(tag))
	if r, ok := ParseRange(tag.Get("range")); ok && p.isNumber() {
		e := &d.faults[len(d.faults)-1].wrong
		e.Range, e.Unit = p.held(r)
	}
}

func (d *decoder) in(name string, index int) {
	d.places[d.deep] = place{name, index}
	d.deep++
}

func (d *decoder) out() { d.deep-- }

// value reads the next value into v. It returns false when there is no point
// in reading on.
func (d *decoder) value(p *plan, v reflect.Value, tag reflect.StructTag) bool {
	if d.full() {
		return false
	}
	first, _ := d.peek()
	switch {
	case p.form == pointer:
		v.Set(reflect.New(p.elem.typ))
		return d.value(p.elem, v.Elem(), tag)
	case p.form == object && first == '{':
		return d.object(p, v)
	case p.form == mapping && first == '{':
		return d.mapping(p, v, tag)
	case p.form == list && first == '[':
		return d.list(p, v, tag)
	}
	start, s, ok := d.at, "", false
	if first == '"' {
		s, ok = d.text()
	} else {
		_, ok = d.skip()
	}
	if !ok {
		return false
	}
	raw := d.data[start:d.at]
	isNumber := first == '-' || first >= '0' && first <= '9'
	if isNumber && len(raw) > maxNumber {
		d.refuse(KindInput, tag, "a number of "+strconv.Itoa(len(raw))+" characters", "at most "+strconv.Itoa(maxNumber))
		return true
	}
	switch {
	case p.form == ownJSON:
		if err := v.Addr().Interface().(json.Unmarshaler).UnmarshalJSON([]byte(raw)); err != nil {
			d.refuse(KindType, tag, shown(raw), strings.TrimPrefix(err.Error(), "json: "))
		}
	case p.form == quantity && first == '"' && len(raw) > 2:
		if x, err := unit.Parse(p.zero, s); err != nil {
			d.unreadable(tag, raw, err)
		} else {
			setHeld(v, x)
		}
	case p.form == ownText && first == '"' && len(raw) > 2:
		if err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(s)); err != nil {
			d.unreadable(tag, raw, err)
		}
	case p.form == text && first == '"':
		v.SetString(s)
	case p.form == boolean && (first == 't' || first == 'f'):
		v.SetBool(first == 't')
	case p.form == whole:
		i, err := strconv.ParseInt(raw, 10, 64)
		if err != nil || v.OverflowInt(i) {
			d.mistake(KindType, p, tag, shown(raw))
			break
		}
		v.SetInt(i)
	case p.form == plainNumber && isNumber:
		f, err := strconv.ParseFloat(raw, 64)
		if err != nil {
			d.refuse(KindRange, tag, shown(raw), "a number that a computer can hold")
			break
		}
		v.SetFloat(f)
	case isNumber && p.form == quantity:
		d.mistake(KindUnit, p, tag, shown(raw))
	default:
		d.mistake(KindType, p, tag, shown(raw))
	}
	return true
}

// unreadable refuses a text that is none of what its type reads.
func (d *decoder) unreadable(tag reflect.StructTag, raw string, err error) {
	kind, want := KindType, err.Error()
	var wrong *unit.Error
	if errors.As(err, &wrong) {
		kind, want = KindUnit, wrong.Want
	}
	d.refuse(kind, tag, shown(raw), want)
}

func (d *decoder) object(p *plan, v reflect.Value) bool {
	if !d.enter() {
		return false
	}
	var seen uint64
	for more := d.first('}'); more; more = d.another('}') {
		name, ok := d.name()
		if !ok || !d.member(p, v, name, &seen) {
			return false
		}
	}
	d.leave()
	if d.syntax != "" {
		return false
	}
	for i := range p.fields {
		if f := &p.fields[i]; f.Required && seen&(1<<i) == 0 {
			d.in(f.Name, -1)
			d.mistake(KindMissing, f.plan, f.Tag, "missing")
			d.out()
		}
	}
	return true
}

// member reads the value of one name of an object.
func (d *decoder) member(p *plan, v reflect.Value, name string, seen *uint64) bool {
	i := p.find(name)
	d.in(name, -1)
	ok := false
	switch {
	case i < 0:
		d.fail(KindUnknownName, "not a known name", p.wantName(name))
	case *seen&(1<<i) != 0:
		d.refuse(KindInput, p.fields[i].Tag, "there twice", "each name once")
	default:
		*seen |= 1 << i
		f, faults := &p.fields[i], len(d.faults)
		ok = d.value(f.plan, f.in(v), f.Tag)
		if ok && len(d.faults) == faults && f.lacks(f.in(v)) {
			d.mistake(KindMissing, f.plan, f.Tag, "empty")
		}
		d.out()
		return ok
	}
	_, ok = d.skip()
	d.out()
	return ok && !d.full()
}

// lacks reports whether v is a list without items that has to have some.
func (f *Field) lacks(v reflect.Value) bool {
	if !f.Required || v.Kind() != reflect.Slice || v.Len() > 0 {
		return false
	}
	items, ok := ParseRange(f.Tag.Get("items"))
	return ok && items.Low != "" && items.Low != "0"
}

// in returns the field in the struct v.
func (f *Field) in(v reflect.Value) reflect.Value {
	if len(f.Index) == 1 {
		return v.Field(f.Index[0])
	}
	return v.FieldByIndex(f.Index)
}

func (p *plan) find(name string) int {
	for i := range p.fields {
		if p.fields[i].Name == name {
			return i
		}
	}
	return -1
}

func (p *plan) wantName(name string) string {
	names := make([]string, len(p.fields))
	for i, f := range p.fields {
		names[i] = f.Name
	}
	all := strings.Join(names, ", ")
	switch near := nearest.Of(name, names); {
	case len(names) == 0:
		return "no names here"
	case near != "":
		return near + " perhaps; the names here are " + all
	}
	return "one of " + all
}

func (d *decoder) mapping(p *plan, v reflect.Value, tag reflect.StructTag) bool {
	if !d.enter() {
		return false
	}
	v.Set(reflect.MakeMap(p.typ))
	for more := d.first('}'); more; more = d.another('}') {
		name, ok := d.name()
		if !ok {
			return false
		}
		key := reflect.ValueOf(name).Convert(p.typ.Key())
		d.in(name, -1)
		if v.MapIndex(key).IsValid() {
			d.refuse(KindInput, tag, "there twice", "each name once")
		}
		value := reflect.New(p.elem.typ).Elem()
		ok = d.value(p.elem, value, tag)
		d.out()
		v.SetMapIndex(key, value)
		if !ok {
			return false
		}
	}
	d.leave()
	return d.syntax == ""
}

func (d *decoder) list(p *plan, v reflect.Value, tag reflect.StructTag) bool {
	if !d.enter() {
		return false
	}
	v.Set(reflect.MakeSlice(p.typ, 0, 0))
	i := 0
	for more := d.first(']'); more; more = d.another(']') {
		v.Grow(1)
		v.SetLen(i + 1)
		d.in("", i)
		ok := d.value(p.elem, v.Index(i), tag)
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
	Tag      reflect.StructTag
}

// members yields the fields of t and those that embedded structs lend it.
func members(t reflect.Type) iter.Seq[reflect.StructField] {
	for f := range t.Fields() {
		if f.Anonymous {
			return slices.Values(reflect.VisibleFields(t))
		}
	}
	return t.Fields() // the same, at a fraction of the cost
}

// Fields lists the JSON members of the struct type t in the order declared.
func Fields(t reflect.Type) []Field {
	out := make([]Field, 0, t.NumField())
	for f := range members(t) {
		tag := f.Tag.Get("json")
		if !f.IsExported() || tag == "-" || f.Anonymous {
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		if name == "" {
			name = f.Name
		}
		out = append(out, Field{
			Name: name, Index: f.Index, Type: f.Type, Tag: f.Tag,
			Required: !strings.Contains(options, "omitzero") && !strings.Contains(options, "omitempty"),
		})
	}
	return out
}
