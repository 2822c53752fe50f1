// Package describe says what every calculation of the reference calculator is
// about: for a person ([Of], [Description.AppendMarkdown]) and for a program
// ([InputSchema], [OutputSchema]). It carries the texts for that, which whoever
// only evaluates does not need.
//
// The folder doughmath/calc/reference holds all descriptions for reading.
package describe

//go:generate go test -count=1 -run ^TestGenerated$ . -write

import (
	"encoding"
	"encoding/json"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Description is everything that a person needs to know before using a
// calculation. All but the question, the example and the inverses is taken
// from the Go source of the calculation, so that it cannot say something else.
type Description struct {
	ID         string          `json:"id"`
	Station    string          `json:"station"`
	Func       string          `json:"func"`               // the Go type
	Question   string          `json:"question"`           // what a person would ask
	Summary    string          `json:"summary"`            // what comes back
	Relation   string          `json:"relation,omitempty"` // the formula, over the symbols of the fields
	Notes      []string        `json:"notes,omitempty"`    // the meaning of symbols and where the relation holds
	Inputs     []Field         `json:"inputs"`
	Outputs    []Field         `json:"outputs"`
	Refusals   []string        `json:"refusals,omitempty"` // what cannot be computed, besides values out of their ranges
	Conditions []reckon.Note   `json:"conditions"`         // what may be set in a result
	Cautions   []reckon.Note   `json:"cautions"`           // for the safety of people and the law
	Sources    []string        `json:"sources"`
	Inverses   []string        `json:"inverses"` // ids of the calculations for other unknowns
	Example    json.RawMessage `json:"example"`
}

// A Field is one value of an input or a result.
type Field struct {
	Name     string       `json:"name"`              // the JSON name; "rows[].mass" is in every item of a list
	Symbol   string       `json:"symbol,omitempty"`  // in the relation and the working; T_i is that of item i
	Kind     string       `json:"kind"`              // "mass", "whole number", "word", "object", ...
	Units    []string     `json:"units,omitempty"`   // those it can be read in
	Choices  []Choice     `json:"choices,omitempty"` // of a word
	Range    reckon.Range `json:"range,omitzero"`    // of a number, or of each in a list
	Items    reckon.Range `json:"items,omitzero"`    // how many items a list may have
	Meaning  string       `json:"meaning"`
	Optional bool         `json:"optional,omitempty"` // may be left out
	Absent   string       `json:"absent,omitempty"`   // what leaving it out means
}

// A Choice is one word that an input takes.
type Choice struct {
	Word    string `json:"word"`
	Meaning string `json:"meaning,omitempty"`
}

// Of says all about a calculation.
func Of(e calc.Entry) Description { return loaded().describe(e) }

func (d *docs) describe(e calc.Entry) Description {
	in, out := e.Types()
	f := d.Functions[e.Func()]
	about := Description{
		ID: e.ID, Station: e.Station, Func: e.Func(), Question: e.Question,
		Summary: f.Summary, Relation: f.Relation, Notes: slices.Clone(f.Notes),
		Refusals: slices.Clone(f.Refusals), Sources: slices.Clone(f.Sources),
		Inputs: d.fields(in), Outputs: d.fields(out),
		Conditions: []reckon.Note{}, Cautions: []reckon.Note{},
		Inverses: append([]string{}, e.Inverses...), Example: json.RawMessage(exampleLines.ReplaceAllString(e.Example, "\n ")),
	}
	conditions, cautions := knownNotes(out)
	for _, word := range f.Conditions {
		about.Conditions = append(about.Conditions, reckon.Note{Word: word, Says: conditions[word]})
	}
	for _, word := range f.Cautions {
		about.Cautions = append(about.Cautions, reckon.Note{Word: word, Says: cautions[word]})
	}
	return about
}

// exampleLines matches a line break and the indent of the Go source after it.
var exampleLines = regexp.MustCompile(`\s*\n\s*`)

// knownNotes returns the sentence of every condition and caution that a result
// of type t can hold, by its word.
func knownNotes(t reflect.Type) (conditions, cautions map[string]string) {
	conditions, cautions = map[string]string{}, map[string]string{}
	eachNoted(t, func(_ reflect.Type, f reflect.StructField) {
		into := conditions
		if f.Type == cautionsType {
			into = cautions
		}
		for _, n := range reflect.Zero(f.Type).Interface().(reckon.Noted).Known() {
			into[n.Word] = n.Says
		}
	})
	return conditions, cautions
}

// eachNoted calls visit for every field of t and what it holds that is a set
// of conditions or cautions, and for the struct that the field is in.
func eachNoted(t reflect.Type, visit func(in reflect.Type, f reflect.StructField)) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(t reflect.Type) {
		switch t.Kind() {
		case reflect.Slice, reflect.Array, reflect.Pointer, reflect.Map:
			walk(t.Elem())
		case reflect.Struct:
			if seen[t] {
				return
			}
			seen[t] = true
			for f := range t.Fields() {
				if f.Type.Implements(notedType) {
					visit(t, f)
				} else {
					walk(f.Type)
				}
			}
		}
	}
	walk(t)
}

var (
	quantityType  = reflect.TypeFor[unit.Quantity]()
	notedType     = reflect.TypeFor[reckon.Noted]()
	cautionsType  = reflect.TypeFor[reckon.Cautions]()
	marshalerType = reflect.TypeFor[encoding.TextMarshaler]()
)

// maxNesting bounds the lists in lists that are described.
const maxNesting = 4

// fields lists what t holds, the parts of each part after it.
func (d *docs) fields(t reflect.Type) []Field {
	out := []Field{}
	d.walk(t, place{}, func(f Field) { out = append(out, f) })
	return out
}

// place is where the fields of a part stand.
type place struct {
	path   string
	number string // what # in their symbols stands for
	hidden bool   // they have no symbols here
	depth  int
}

func (d *docs) walk(t reflect.Type, at place, visit func(Field)) {
	for _, f := range reckon.Fields(t) {
		symbol, _, _ := strings.Cut(f.Tag.Get("sym"), ",")
		inner := place{path: at.path + f.Name, number: at.number, hidden: at.hidden || symbol == "-", depth: at.depth + 1}
		held, kind := f.Type, ""
		list := false
		for kind == "" {
			var layer string
			held, kind, layer = shape(held)
			inner.path += layer
			list = list || layer == "[]"
		}
		field := Field{Name: inner.path, Kind: kind, Optional: !f.Required, Meaning: d.comment(t, f.Index)}
		switch {
		case list: // # in the symbols is the number of the item
			symbol, inner.number = strings.ReplaceAll(symbol, "#", "i"), "i"
		case at.number != "":
			symbol = strings.ReplaceAll(symbol, "#", at.number)
		}
		if kind != "object" && !inner.hidden {
			field.Symbol = symbol
		}
		if kind == "object" && symbol != "" && !list {
			inner.number = symbol
		}
		if kind == "word" {
			field.Choices = slices.Clone(d.Words[held.String()])
			if len(field.Choices) == 0 {
				field.Kind = "text"
			}
		}
		if held.Implements(quantityType) {
			field.Units = unit.Describe(reflect.Zero(held).Interface().(unit.Quantity)).Units
		}
		field.Range, _ = reckon.ParseRange(f.Tag.Get("range"))
		field.Items, _ = reckon.ParseRange(f.Tag.Get("items"))
		if field.Optional {
			field.Absent = absentClause(field.Meaning)
		}
		visit(field)
		if kind == "object" && at.depth < maxNesting {
			inner.path += "."
			d.walk(held, inner, visit)
		}
	}
}

// shape names the kind of t, or takes one layer off it: a pointer, a list or a map.
func shape(t reflect.Type) (inner reflect.Type, kind, layer string) {
	switch {
	case t.Kind() == reflect.Pointer: // first: it has the methods of what it points to
		return t.Elem(), "", ""
	case t == cautionsType:
		return t, "list of cautions", ""
	case t.Implements(notedType):
		return t, "list of conditions", ""
	case t.Implements(quantityType):
		return t, unit.Describe(reflect.Zero(t).Interface().(unit.Quantity)).Name, ""
	case t.Implements(marshalerType):
		return t, "text", ""
	}
	switch t.Kind() {
	case reflect.Slice, reflect.Array:
		return t.Elem(), "", "[]"
	case reflect.Map:
		return t.Elem(), "", "{}"
	case reflect.Struct:
		return t, "object", ""
	case reflect.String:
		if t.Name() == "string" {
			return t, "text", ""
		}
		return t, "word", ""
	case reflect.Bool:
		return t, "true or false", ""
	case reflect.Float64:
		return t, "number", ""
	}
	return t, "whole number", ""
}

// absentClause finds what a comment says about leaving the value out.
func absentClause(comment string) string {
	for clause := range strings.SplitSeq(comment, ";") {
		clause = strings.TrimSpace(clause)
		for _, word := range []string{"leave out", "left out", "default", "absent", "if any", "not given", "0 for", "empty for", "zero for", "zero means", "0 means", "without it", "none", "if known", "if wanted"} {
			if strings.Contains(clause, word) {
				return clause
			}
		}
	}
	return ""
}
