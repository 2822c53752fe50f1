package describe

import (
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// AppendForm appends a form for what is read from JSON into type t, such as a calculation or a scenario, to be filled in with a
// text editor and read by way of [reckon.Filled]. Every field has a note with its meaning and its range, from the same
// descriptions as the reference, and a place that says which units or words it takes. Every list holds one item.
//
// measure says in a sentence how some of the values are found, by their paths: "line.drums[].cup" is that of any drum.
func AppendForm(b []byte, t reflect.Type, measure map[string]string) []byte {
	f := former{b: b, docs: loaded(), measure: measure}
	f.object(t, "", 0)
	return append(f.b, '\n')
}

type former struct {
	*docs
	b       []byte
	measure map[string]string
}

// deepest bounds parts in parts; a type that held itself would go on for ever.
const deepest = 16

func (f *former) line(depth int, text string) {
	f.b = append(append(append(f.b, strings.Repeat("  ", depth)...), text...), '\n')
}

// note writes a note, wrapped.
func (f *former) note(depth int, text string) {
	const width = 100
	row := "#"
	for word := range strings.FieldsSeq(text) {
		if utf8.RuneCountInString(row)+1+utf8.RuneCountInString(word) > width-2*depth {
			f.line(depth, row)
			row = "#"
		}
		row += " " + word
	}
	f.line(depth, row)
}

// object writes the members of t.
func (f *former) object(t reflect.Type, path string, depth int) {
	f.b = append(f.b, "{\n"...)
	fields := reckon.Fields(t)
	for i := range fields {
		k := &fields[i]
		at := strings.TrimPrefix(path+"."+k.Name, ".")
		f.note(depth+1, f.about(t, k))
		if how := f.measure[at]; how != "" {
			f.note(depth+1, how)
		}
		f.b = append(append(f.b, strings.Repeat("  ", depth+1)...), strconv.Quote(k.Name)+": "...)
		f.value(k.Type, at, depth+1)
		if i < len(fields)-1 {
			f.b = append(f.b, ',')
		}
		f.b = append(f.b, '\n')
	}
	f.b = append(append(f.b, strings.Repeat("  ", depth)...), '}')
}

// about is what the note of a field says.
func (f *former) about(t reflect.Type, k *reckon.Field) string {
	text := k.Name + ": " + f.comment(t, k.Index)
	if r, ok := reckon.ParseRange(k.Tag.Get("range")); ok {
		text += "; " + r.String()
	}
	if r, ok := reckon.ParseRange(k.Tag.Get("items")); ok {
		text += "; a list of " + r.String()
	}
	if k.Required {
		text += " [needed]"
	}
	return text
}

// value writes the place of a value.
func (f *former) value(t reflect.Type, path string, depth int) {
	held, kind, layer := shape(t)
	for kind == "" && layer == "" { // what a pointer points to
		held, kind, layer = shape(held)
	}
	switch {
	case layer == "{}":
		f.b = append(f.b, `{"?": `...)
		f.value(held, path+"{}", depth)
		f.b = append(f.b, '}')
	case layer == "[]":
		f.b = append(f.b, '[')
		if inner, kind, _ := shape(held); kind == "object" {
			f.b = append(append(f.b, '\n'), strings.Repeat("  ", depth+1)...)
			f.nested(inner, path+"[]", depth+1)
			f.b = append(append(f.b, '\n'), strings.Repeat("  ", depth)...)
		} else {
			f.value(held, path+"[]", depth)
		}
		f.b = append(f.b, ']')
	case kind == "object":
		f.nested(held, path, depth)
	default:
		f.b = append(f.b, strconv.Quote(strings.TrimRight("? "+f.takes(held, kind), " "))...)
	}
}

func (f *former) nested(t reflect.Type, path string, depth int) {
	if depth > deepest {
		f.b = append(f.b, `"?"`...)
		return
	}
	f.object(t, path, depth)
}

// takes says which units or words a value takes.
func (f *former) takes(t reflect.Type, kind string) string {
	switch {
	case t.Implements(quantityType):
		return strings.Join(unit.Describe(reflect.Zero(t).Interface().(unit.Quantity)).Units, ", ")
	case kind == "word":
		var words []string
		for _, c := range f.Words[t.String()] {
			words = append(words, c.Word)
		}
		return strings.Join(words, ", ")
	case kind == "text":
		return ""
	}
	return kind + ", without quotation marks"
}
