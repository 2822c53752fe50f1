// Package strictjson reads JSON into a struct and reports everything that is
// wrong with it at once, each with its JSON path and what would be accepted.
//
// The standard decoder stops at the first error, takes the last of two equal
// keys and matches names whatever their case. A person who mends a scenario by
// hand needs the whole list, and a kilogram must never be lost to a typing slip.
package strictjson

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath"
)

// Bounds on what is read, so that a hostile text is refused quickly.
const (
	maxDepth  = 32
	maxErrors = 50
	maxShown  = 60 // bytes of a bad value repeated in an error
)

// Decode reads data into the struct that dst points to. Every field without
// omitzero or omitempty must be there. Errors are *doughmath.InputError with
// Func set to name, joined; dst is only written when there is none.
func Decode(name string, data []byte, dst any, maxBytes int) error {
	d := decoder{checks: doughmath.Checks{Func: name}}
	if len(data) > maxBytes {
		d.fail("", fmt.Sprintf("%d bytes long", len(data)), fmt.Sprintf("at most %d bytes", maxBytes))
		return d.checks.Err()
	}
	root, err := parse(data)
	if err != nil {
		d.fail(err.path, err.value, err.want)
		return d.checks.Err()
	}
	out := reflect.ValueOf(dst).Elem()
	fresh := reflect.New(out.Type()).Elem()
	d.assign("", root, fresh)
	if d.checks.OK() {
		out.Set(fresh)
	}
	return d.checks.Err()
}

type node struct {
	raw     []byte // the text of the value
	token   json.Token
	members []member // of an object, in the order written
	items   []node   // of an array
}

type member struct {
	name string
	node node
}

type parseError struct{ path, value, want string }

func parse(data []byte) (node, *parseError) {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	p := parser{dec: dec, data: data}
	n, err := p.value("", 0)
	if err != nil {
		return node{}, err
	}
	if _, e := dec.Token(); !errors.Is(e, io.EOF) {
		return node{}, &parseError{"", "followed by more text", "one JSON value and nothing after it"}
	}
	return n, nil
}

type parser struct {
	dec  *json.Decoder
	data []byte
}

func (p *parser) next(path string) (json.Token, *parseError) {
	t, err := p.dec.Token()
	if err == nil {
		return t, nil
	}
	offset := int(p.dec.InputOffset())
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		offset = int(syntax.Offset)
	}
	offset = min(offset, len(p.data))
	line := 1 + bytes.Count(p.data[:offset], []byte("\n"))
	column := offset - bytes.LastIndexByte(p.data[:offset], '\n')
	if errors.Is(err, io.EOF) {
		err = io.ErrUnexpectedEOF
	}
	return nil, &parseError{path, fmt.Sprintf("not JSON at line %d, column %d (%s)", line, column, err), "valid JSON"}
}

func (p *parser) value(path string, depth int) (node, *parseError) {
	if depth > maxDepth {
		return node{}, &parseError{path, "nested too deeply", fmt.Sprintf("at most %d levels", maxDepth)}
	}
	t, err := p.next(path)
	if err != nil {
		return node{}, err
	}
	n := node{token: t}
	end := int(p.dec.InputOffset())
	start := end
	switch t {
	case json.Delim('{'):
		start = end - 1
		seen := map[string]bool{}
		for p.dec.More() {
			key, err := p.next(path)
			if err != nil {
				return node{}, err
			}
			name := key.(string) // the decoder lets only strings through here
			if seen[name] {
				return node{}, &parseError{join(path, clip(name)), "there twice", "each name once"}
			}
			seen[name] = true
			v, err := p.value(join(path, clip(name)), depth+1)
			if err != nil {
				return node{}, err
			}
			n.members = append(n.members, member{name, v})
		}
		if _, err := p.next(path); err != nil {
			return node{}, err
		}
	case json.Delim('['):
		start = end - 1
		for i := 0; p.dec.More(); i++ {
			v, err := p.value(index(path, i), depth+1)
			if err != nil {
				return node{}, err
			}
			n.items = append(n.items, v)
		}
		if _, err := p.next(path); err != nil {
			return node{}, err
		}
	default:
		return n, nil
	}
	n.raw = p.data[start:p.dec.InputOffset()]
	return n, nil
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func index(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

func clip(s string) string {
	if len(s) > maxShown {
		s = strings.ToValidUTF8(s[:maxShown], "") + "…"
	}
	return s
}

func (n node) shown() string {
	switch t := n.token.(type) {
	case nil:
		return "null"
	case string:
		return strconv.Quote(clip(t))
	case json.Number:
		return "the bare number " + clip(t.String())
	case bool:
		return strconv.FormatBool(t)
	}
	if n.token == json.Delim('[') {
		return "a list"
	}
	return "an object"
}

type decoder struct {
	checks doughmath.Checks
	count  int
}

func (d *decoder) fail(path, value, want string) {
	d.count++
	if path == "" {
		path = "the input"
	}
	switch {
	case d.count < maxErrors:
		d.checks.Fail(path, value, want)
	case d.count == maxErrors:
		d.checks.Fail(path, value, want+" (more was wrong and is not listed)")
	}
}

var (
	textUnmarshaler = reflect.TypeFor[encoding.TextUnmarshaler]()
	jsonUnmarshaler = reflect.TypeFor[json.Unmarshaler]()
)

func (d *decoder) assign(path string, n node, v reflect.Value) {
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		d.assign(path, n, v.Elem())
		return
	}
	switch {
	case v.Addr().Type().Implements(jsonUnmarshaler):
		raw := n.raw
		if raw == nil {
			raw, _ = json.Marshal(n.token) // a token that was read can be written
		}
		if err := v.Addr().Interface().(json.Unmarshaler).UnmarshalJSON(raw); err != nil {
			d.fail(path, n.shown(), strings.TrimPrefix(err.Error(), "json: "))
		}
		return
	case v.Addr().Type().Implements(textUnmarshaler):
		d.assignText(path, n, v)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		d.assignStruct(path, n, v)
	case reflect.Slice:
		if n.token != json.Delim('[') {
			d.fail(path, n.shown(), "a list")
			return
		}
		list := reflect.MakeSlice(v.Type(), len(n.items), len(n.items))
		for i, item := range n.items {
			d.assign(index(path, i), item, list.Index(i))
		}
		v.Set(list)
	case reflect.Map:
		if n.token != json.Delim('{') {
			d.fail(path, n.shown(), "an object")
			return
		}
		m := reflect.MakeMapWithSize(v.Type(), len(n.members))
		for _, member := range n.members {
			value := reflect.New(v.Type().Elem()).Elem()
			d.assign(join(path, clip(member.name)), member.node, value)
			m.SetMapIndex(reflect.ValueOf(member.name).Convert(v.Type().Key()), value)
		}
		v.Set(m)
	case reflect.String:
		s, ok := n.token.(string)
		if !ok {
			d.fail(path, n.shown(), "a text in quotes")
			return
		}
		v.SetString(s)
	case reflect.Bool:
		b, ok := n.token.(bool)
		if !ok {
			d.fail(path, n.shown(), "true or false")
			return
		}
		v.SetBool(b)
	case reflect.Int, reflect.Int64:
		number, ok := n.token.(json.Number)
		i, err := strconv.ParseInt(number.String(), 10, 64)
		if !ok || err != nil {
			d.fail(path, n.shown(), "a whole number")
			return
		}
		v.SetInt(i)
	case reflect.Float64:
		number, ok := n.token.(json.Number)
		f, err := strconv.ParseFloat(number.String(), 64)
		if !ok || err != nil {
			d.fail(path, n.shown(), "a number without a unit")
			return
		}
		v.SetFloat(f)
	default:
		panic("strictjson: cannot read into " + v.Type().String())
	}
}

func (d *decoder) assignText(path string, n node, v reflect.Value) {
	s, ok := n.token.(string)
	if !ok || s == "" {
		d.fail(path, n.shown(), wantText(v))
		return
	}
	if err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(s)); err != nil {
		want := err.Error()
		var unit *doughmath.UnitError
		if errors.As(err, &unit) {
			want = unit.Want
		}
		d.fail(path, n.shown(), want)
	}
}

func wantText(v reflect.Value) string {
	if q, ok := v.Interface().(doughmath.Quantity); ok {
		info := doughmath.Describe(q)
		return info.Name + " as text with its unit (" + strings.Join(info.Units, ", ") + ")"
	}
	return "a text in quotes"
}

func (d *decoder) assignStruct(path string, n node, v reflect.Value) {
	if n.token != json.Delim('{') {
		d.fail(path, n.shown(), "an object")
		return
	}
	fields := Fields(v.Type())
	for _, m := range n.members {
		i := slices.IndexFunc(fields, func(f Field) bool { return f.Name == m.name })
		if i < 0 {
			names := make([]string, len(fields))
			for k, f := range fields {
				names[k] = f.Name
			}
			d.fail(join(path, clip(m.name)), "not a known name", "one of "+strings.Join(names, ", "))
			continue
		}
		d.assign(join(path, m.name), m.node, v.FieldByIndex(fields[i].Index))
	}
	for _, f := range fields {
		if f.Required && !slices.ContainsFunc(n.members, func(m member) bool { return m.name == f.Name }) {
			d.fail(join(path, f.Name), "missing", wantValue(v.FieldByIndex(f.Index)))
		}
	}
}

// wantValue says what a missing field should have been.
func wantValue(v reflect.Value) string {
	if v.Kind() != reflect.Pointer && v.Addr().Type().Implements(textUnmarshaler) {
		return wantText(v)
	}
	switch v.Kind() {
	case reflect.Struct, reflect.Map:
		return "an object"
	case reflect.Slice:
		return "a list"
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Int64:
		return "a whole number"
	case reflect.Float64:
		return "a number without a unit"
	}
	return "a value"
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
