package reckon

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/unit"
)

// A Path leads to one place in the values of one struct type, a question or an
// answer. It is worked out once and then followed at hardly any cost. It is
// made of JSON names, as that of [NumberIn]: "batch", "air.dry",
// "trials[2].weight", or with the name of an item "limits[stamper].high".
type Path struct {
	Type reflect.Type      // of the place
	Tag  reflect.StructTag // of the field, or of the list whose item it is

	text  string
	name  string
	steps []step
}

// step is one name or one item on the way.
type step struct {
	index    []int // of a field; nil for an item
	optional bool  // the field is left out if it is empty

	item  int     // counted from 0; -1 if it is known by its name
	name  string  // of the item
	names [][]int // where an item may have its name, the first that is not empty counts
}

// PathIn finds the path in the struct type t.
//
// It returns an *[InputError] that names the part of the path that leads
// nowhere and the nearest name that does.
func PathIn(t reflect.Type, path string) (Path, error) {
	p := Path{Type: t, text: path}
	for rest := path; ; {
		for p.Type.Kind() == reflect.Pointer {
			p.Type = p.Type.Elem()
		}
		if rest == "" {
			return p, nil
		}
		if rest[0] == '[' {
			item, after, ok := strings.Cut(rest[1:], "]")
			if !ok {
				return p, lost(path, rest, `the number or the name of an item, such as "[0]"`)
			}
			if kind := p.Type.Kind(); kind != reflect.Slice && kind != reflect.Array {
				return p, lost(path, rest, "no item here: this is not a list")
			}
			s := step{name: item, names: namesIn(p.Type.Elem()), item: -1}
			if i, err := strconv.Atoi(item); err == nil && i >= 0 {
				s.item = i
			} else if len(s.names) == 0 {
				return p, lost(path, "["+item+"]", "the number of an item, counted from 0")
			}
			p.steps, p.Type, rest = append(p.steps, s), p.Type.Elem(), strings.TrimPrefix(after, ".")
			continue
		}
		end := strings.IndexAny(rest, ".[")
		if end < 0 {
			end = len(rest)
		}
		name := rest[:end]
		rest = strings.TrimPrefix(rest[end:], ".")
		if p.Type.Kind() != reflect.Struct || p.Type == tempType {
			return p, lost(path, name, "no name here")
		}
		f, err := namedField(p.Type, path, name)
		if err != nil {
			return p, err
		}
		p.steps = append(p.steps, step{index: f.Index, optional: !f.Required})
		p.Type, p.Tag, p.name = f.Type, f.Tag, f.Name
	}
}

// Name returns the last name in the path, that of the field or of the list whose item it is.
func (p *Path) Name() string { return p.name }

// String returns the path as it was given.
func (p *Path) String() string { return p.text }

// namedField finds the field with the JSON name.
func namedField(t reflect.Type, path, name string) (Field, error) {
	var known []string
	for _, f := range Fields(t) {
		if f.Name == name {
			return f, nil
		}
		known = append(known, f.Name)
	}
	want := "one of " + strings.Join(known, ", ")
	if near := nearest.Of(name, known); near != "" {
		want = near + " perhaps; " + want
	}
	return Field{}, lost(path, name, want)
}

// namesIn lists where an item of a list may have its name: itself, or in the
// first part of it that has one, as an order goes by its product.
func namesIn(t reflect.Type) [][]int {
	if t.Kind() != reflect.Struct {
		return nil
	}
	own := func(t reflect.Type) []int {
		for _, name := range [...]string{"Name", "Kind"} {
			if f, ok := t.FieldByName(name); ok && f.Type.Kind() == reflect.String {
				return f.Index
			}
		}
		return nil
	}
	var out [][]int
	if index := own(t); index != nil {
		out = append(out, index)
	}
	for f := range t.Fields() {
		if f.IsExported() && f.Type.Kind() == reflect.Struct {
			if index := own(f.Type); index != nil {
				out = append(out, append([]int{f.Index[0]}, index...))
			}
		}
	}
	return out
}

// nameBy returns the name of an item.
func nameBy(v reflect.Value, names [][]int) string {
	for _, index := range names {
		if name := v.FieldByIndex(index).String(); name != "" {
			return name
		}
	}
	return ""
}

// ItemName returns the name that an item of a list goes by in a path; "" if it has none.
func ItemName(item reflect.Value) string {
	return nameBy(item, namesIn(item.Type()))
}

// Place follows the path in the question that q points to, to a place that can
// be set, and says which one it is by the numbers of its items. Every part on
// the way must be there.
func (p *Path) Place(q any) (reflect.Value, string, error) {
	return p.walk(reflect.ValueOf(q), func(v reflect.Value) (reflect.Value, bool) {
		for v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return v, false
			}
			v = v.Elem()
		}
		return v, true
	})
}

// walk follows the path from v. inside takes each value on the way out of its
// pointer, and may say that it is not there.
func (p *Path) walk(v reflect.Value, inside func(reflect.Value) (reflect.Value, bool)) (reflect.Value, string, error) {
	var at strings.Builder
	for i := 0; ; i++ {
		var there bool
		if v, there = inside(v); !there {
			return v, "", lost(p.text, at.String(), "something to vary: the input has no such part")
		}
		if i == len(p.steps) {
			return v, at.String(), nil
		}
		s := &p.steps[i]
		if s.index != nil {
			if at.Len() > 0 {
				at.WriteByte('.')
			}
			at.WriteString(fieldName(v.Type(), s.index))
			v = v.FieldByIndex(s.index)
			continue
		}
		item, names := itemAt(v, s.name)
		if item < 0 {
			return v, "", lost(p.text, "["+s.name+"]", names)
		}
		at.WriteString("[" + strconv.Itoa(item) + "]")
		v = v.Index(item)
	}
}

// fieldName is the JSON name of the field at the index.
func fieldName(t reflect.Type, index []int) string {
	name, _, _ := strings.Cut(t.FieldByIndex(index).Tag.Get("json"), ",")
	return name
}

// A Reader reads the place that a path leads to in one answer, again and again
// as the answer changes.
type Reader struct {
	from   reflect.Value   // as far as the way never changes
	guards []reflect.Value // parts on that way that are left out if they are empty
	rest   []step          // through lists and pointers
}

// Reader returns the reader of the path in the answer that a points to.
func (p *Path) Reader(a any) Reader {
	r := Reader{from: reflect.ValueOf(a).Elem()}
	for i := range p.steps {
		s := &p.steps[i]
		if s.index == nil || r.from.Kind() == reflect.Pointer {
			r.rest = p.steps[i:]
			break
		}
		r.from = r.from.FieldByIndex(s.index)
		if s.optional {
			r.guards = append(r.guards, r.from)
		}
	}
	return r
}

// Fixed reports whether Value always returns the same place, and may only be
// left out of the answer.
func (r *Reader) Fixed() bool { return len(r.rest) == 0 && r.from.Kind() != reflect.Pointer }

// Place returns that place.
func (r *Reader) Place() reflect.Value { return r.from }

// There reports whether the parts with a fixed place on the way are there.
func (r *Reader) There() bool {
	return !slices.ContainsFunc(r.guards, empty)
}

// Value returns the place, or false if the answer leaves it out: a list that
// is too short, a part that this answer does not have.
func (r *Reader) Value() (reflect.Value, bool) {
	if !r.There() {
		return reflect.Value{}, false
	}
	v := r.from
	for i := range r.rest {
		s := &r.rest[i]
		for v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return v, false
			}
			v = v.Elem()
		}
		if s.index != nil {
			if v = v.FieldByIndex(s.index); s.optional && empty(v) {
				return v, false
			}
			continue
		}
		item := s.item
		if item < 0 {
			for item = 0; item < v.Len() && nameBy(v.Index(item), s.names) != s.name; {
				item++
			}
		}
		if item >= v.Len() {
			return v, false
		}
		v = v.Index(item)
	}
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return v, false
		}
		v = v.Elem()
	}
	return v, true
}

func empty(v reflect.Value) bool { return v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0 }

// NumberAt returns the number in v, a place that can be set; false if there is none.
func NumberAt(v reflect.Value) (Number, bool) {
	if v.Type() == tempType {
		return Number{Held: "°C", v: v, temp: v.Addr().Interface().(*unit.Temp)}, true
	}
	_, held, ok := heldValue(v)
	return Number{Held: held, v: v}, ok
}
