package describe

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// draft is the version of JSON Schema in which both schemas are written.
const draft = "https://json-schema.org/draft/2020-12/schema"

// quantityPattern matches a number followed by a unit, as every quantity is
// written. The units are named in the description of each field.
const quantityPattern = `^ *[-+−]?\.?[0-9][0-9.eE+-]* *[^0-9 .].*$`

// InputSchema returns the JSON Schema (draft 2020-12) of the calculation's
// input. It is a little wider than the calculation: a range that depends on
// another value, and that of a quantity, are told in words only.
func InputSchema(e calc.Entry) json.RawMessage { return loaded().inputSchema(e).text() }

// OutputSchema returns the JSON Schema (draft 2020-12) of a [calc.Result].
func OutputSchema(e calc.Entry) json.RawMessage { return loaded().outputSchema(e).text() }

// A schema is the part of JSON Schema that is used here.
type schema struct {
	Draft            string            `json:"$schema,omitempty"`
	Title            string            `json:"title,omitempty"`
	Description      string            `json:"description,omitempty"`
	Type             string            `json:"type,omitempty"`
	Const            string            `json:"const,omitempty"`
	Enum             []string          `json:"enum,omitempty"`
	Pattern          string            `json:"pattern,omitempty"`
	Minimum          json.Number       `json:"minimum,omitempty"`
	ExclusiveMinimum json.Number       `json:"exclusiveMinimum,omitempty"`
	Maximum          json.Number       `json:"maximum,omitempty"`
	ExclusiveMaximum json.Number       `json:"exclusiveMaximum,omitempty"`
	Items            *schema           `json:"items,omitempty"`
	MinItems         json.Number       `json:"minItems,omitempty"`
	MaxItems         json.Number       `json:"maxItems,omitempty"`
	Properties       properties        `json:"properties,omitempty"`
	Required         []string          `json:"required,omitempty"`
	Additional       any               `json:"additionalProperties,omitempty"` // false, or the schema of every value in a map
	Examples         []json.RawMessage `json:"examples,omitempty"`
}

// properties are the members of an object, in the order declared.
type properties []property

type property struct {
	name   string
	schema *schema
}

// MarshalJSON keeps the order.
func (p properties) MarshalJSON() ([]byte, error) {
	b := []byte{'{'}
	for i, m := range p {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(strconv.AppendQuote(b, m.name), ':')
		b = append(b, m.schema.text()...)
	}
	return append(b, '}'), nil
}

// text writes the schema. Nothing in it can fail to be written.
func (s *schema) text() []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		panic("describe: " + err.Error())
	}
	return bytes.TrimSpace(b.Bytes())
}

func (d *docs) inputSchema(e calc.Entry) *schema {
	in, _ := e.Types()
	s := maker{docs: d}.of(in, "")
	s.Draft, s.Title, s.Description = draft, e.ID, e.Question
	s.Examples = []json.RawMessage{json.RawMessage(e.Example)}
	return s
}

func (d *docs) outputSchema(e calc.Entry) *schema {
	_, out := e.Types()
	m := maker{docs: d, output: true}
	result := closed()
	result.Description = d.Functions[e.Func()].Summary
	for _, f := range reckon.Fields(out) {
		if !f.Type.Implements(notedType) { // they stand beside the result
			m.addMember(result, out, f)
		}
	}
	s := closed()
	s.Draft, s.Title = draft, e.ID
	s.add("calculation", &schema{Const: e.ID}, true)
	s.add("result", result, true)
	s.add("conditions", remarks("things to look at"), true)
	s.add("cautions", remarks("hazards and duties"), true)
	s.add("defer", &schema{Type: "string", Description: "who decides before this page"}, false)
	s.add("working", &schema{Type: "array", Items: m.of(reflect.TypeFor[reckon.Step](), "")}, false)
	s.add("shown", &schema{Type: "array", Items: m.of(reflect.TypeFor[reckon.ShownStep](), "")}, false)
	return s
}

func remarks(about string) *schema {
	item := closed()
	item.add("at", &schema{Type: "string", Description: "the part of the result that it speaks of; left out for the whole"}, false)
	item.add("word", &schema{Type: "string", Description: "for programs; it stays the same"}, true)
	item.add("says", &schema{Type: "string", Description: "for people"}, true)
	return &schema{Type: "array", Items: item, Description: about}
}

// closed makes an object that takes the members added to it and no others.
func closed() *schema { return &schema{Type: "object", Additional: false} }

func (s *schema) add(name string, member *schema, required bool) {
	s.Properties = append(s.Properties, property{name, member})
	if required {
		s.Required = append(s.Required, name)
	}
}

// A maker makes the schemas of inputs, or of outputs.
type maker struct {
	*docs
	output bool
}

// addMember adds a field of the struct type t.
func (m maker) addMember(s *schema, t reflect.Type, f reckon.Field) {
	member := m.of(f.Type, f.Tag)
	if !f.Required {
		member.admitZero()
	}
	member.Description = join(m.comment(t, f.Index), member.Description)
	// A temperature that is not known is left out of a result.
	unknown := m.output && f.Type == reflect.TypeFor[unit.Temp]()
	s.add(f.Name, member, f.Required && !unknown)
}

func join(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "; ")
}

// of describes the type of a field with the tag.
func (m maker) of(t reflect.Type, tag reflect.StructTag) *schema {
	limits, _ := reckon.ParseRange(tag.Get("range"))
	switch {
	case t.Kind() == reflect.Pointer: // first: it has the methods of what it points to
		return m.of(t.Elem(), tag)
	case t.Implements(notedType):
		return &schema{Type: "array", Items: &schema{Type: "string"}}
	case t.Implements(quantityType):
		info := unit.Describe(reflect.Zero(t).Interface().(unit.Quantity))
		about := info.Name + " in " + strings.Join(info.Units, ", ")
		return &schema{Type: "string", Pattern: quantityPattern, Description: join(limits.String(), about)}
	case t.Implements(marshalerType):
		return &schema{Type: "string"}
	}
	switch t.Kind() {
	case reflect.Struct:
		s := closed()
		for _, f := range reckon.Fields(t) {
			m.addMember(s, t, f)
		}
		return s
	case reflect.Map:
		return &schema{Type: "object", Additional: m.of(t.Elem(), tag)}
	case reflect.Slice, reflect.Array:
		items, _ := reckon.ParseRange(tag.Get("items"))
		return &schema{Type: "array", Items: m.of(t.Elem(), tag), MinItems: json.Number(items.Low), MaxItems: json.Number(items.High)}
	case reflect.String:
		s := &schema{Type: "string"}
		for _, c := range m.Words[t.String()] {
			if !m.output { // in a result it may be empty
				s.Enum = append(s.Enum, c.Word)
			}
		}
		return s
	case reflect.Bool:
		return &schema{Type: "boolean"}
	case reflect.Float64:
		return numeric("number", limits)
	}
	return numeric("integer", limits)
}

func numeric(kind string, r reckon.Range) *schema {
	s := &schema{Type: kind}
	low, high := &s.Minimum, &s.Maximum
	if r.LowOpen {
		low = &s.ExclusiveMinimum
	}
	if r.HighOpen {
		high = &s.ExclusiveMaximum
	}
	*low, *high = json.Number(r.Low), json.Number(r.High)
	return s
}

// admitZero lets in what stands for a value that is left out: 0 and an empty
// list, also where the range does not hold them. The range is told in words.
func (s *schema) admitZero() {
	s.MinItems = ""
	limits := reckon.Range{Low: string(s.Minimum), High: string(s.Maximum)}
	if s.ExclusiveMinimum != "" {
		limits.Low, limits.LowOpen = string(s.ExclusiveMinimum), true
	}
	if s.ExclusiveMaximum != "" {
		limits.High, limits.HighOpen = string(s.ExclusiveMaximum), true
	}
	low, _ := strconv.ParseFloat(limits.Low, 64)
	high, _ := strconv.ParseFloat(limits.High, 64)
	switch {
	case low > 0 || limits.LowOpen && low == 0:
		s.Minimum, s.ExclusiveMinimum = "0", ""
	case high < 0 || limits.HighOpen && high == 0:
		s.Maximum, s.ExclusiveMaximum = "0", ""
	default:
		return
	}
	s.Description = join(s.Description, limits.String()+", or 0 as if left out")
}
