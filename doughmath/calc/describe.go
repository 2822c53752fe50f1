package calc

import (
	_ "embed" // for the descriptions taken from the source
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Description is everything that a person needs to know before using a
// calculation. All but the question, the example and the inverses is taken
// from the Go source of the function, so that it cannot say something else.
type Description struct {
	ID         string          `json:"id"`
	Station    string          `json:"station"`
	Func       string          `json:"func"`               // the Go function
	Question   string          `json:"question"`           // what a person would ask
	Summary    string          `json:"summary"`            // what comes back
	Relation   string          `json:"relation,omitempty"` // the formula, over the symbols of the fields
	Notes      []string        `json:"notes,omitempty"`    // the meaning of symbols and where the relation holds
	Inputs     []Field         `json:"inputs"`
	Outputs    []Field         `json:"outputs"`
	Refusals   []string        `json:"refusals,omitempty"` // what cannot be computed
	Conditions []reckon.Note   `json:"conditions"`         // what may be set in a result
	Cautions   []reckon.Note   `json:"cautions"`           // for the safety of people and the law
	Sources    []string        `json:"sources"`
	Inverses   []string        `json:"inverses"` // ids of the calculations for other unknowns
	Example    json.RawMessage `json:"example"`
}

// A Field is one value of an input or a result.
type Field struct {
	Name     string   `json:"name"`              // the JSON name; "rows[].mass" is in every item of a list
	Symbol   string   `json:"symbol,omitempty"`  // in the relation and the working
	Kind     string   `json:"kind"`              // "mass", "whole number", "word", "list", ...
	Units    []string `json:"units,omitempty"`   // those it can be read in
	Choices  []Choice `json:"choices,omitempty"` // of a word
	Meaning  string   `json:"meaning"`
	Accepts  string   `json:"accepts,omitempty"`  // what the function says that it wants when it refuses the example with another value here
	Optional bool     `json:"optional,omitempty"` // may be left out
	Absent   string   `json:"absent,omitempty"`   // what leaving it out means
}

// A Choice is one word that an input takes.
type Choice struct {
	Word    string `json:"word"`
	Meaning string `json:"meaning,omitempty"`
}

// described holds what the source says: see go generate.
//
//go:embed described.json
var described []byte

// docs is the form of described.json.
type docs struct {
	Functions    map[string]funcDoc           `json:"functions"`    // by Go name
	Types        map[string]map[string]string `json:"types"`        // comments by Go type and field
	Words        map[string][]Choice          `json:"words"`        // by Go type
	Calculations map[string]probeDoc          `json:"calculations"` // by id
}

type funcDoc struct {
	Summary    string   `json:"summary"`
	Relation   string   `json:"relation,omitempty"`
	Notes      []string `json:"notes,omitempty"`
	Refusals   []string `json:"refusals,omitempty"`
	Sources    []string `json:"sources"`
	Conditions []string `json:"conditions,omitempty"`
	Cautions   []string `json:"cautions,omitempty"`
}

// probeDoc is what the function shows when it is run: the symbols that its
// working gives to the fields, and the ranges that it names when it refuses.
type probeDoc struct {
	Symbols map[string]string `json:"symbols,omitempty"`
	Accepts map[string]string `json:"accepts,omitempty"`
}

var loaded = sync.OnceValue(func() *docs {
	d, err := readDocs(described)
	if err != nil {
		panic("calc: described.json: " + err.Error()) // it is part of the program
	}
	return d
})

func readDocs(data []byte) (*docs, error) {
	var d docs
	return &d, json.Unmarshal(data, &d)
}

// Describe says all about the calculation.
func (e Entry) Describe() Description { return e.describe(loaded()) }

func (e Entry) describe(d *docs) Description {
	in, out_ := e.Types()
	f, probe := d.Functions[e.Func()], d.Calculations[e.ID]
	out := Description{
		ID: e.ID, Station: e.Station, Func: e.Func(), Question: e.Question,
		Summary: f.Summary, Relation: f.Relation, Notes: slices.Clone(f.Notes),
		Refusals: slices.Clone(f.Refusals), Sources: slices.Clone(f.Sources),
		Inputs: d.fields(in, "in.", probe), Outputs: d.fields(out_, "out.", probe),
		Conditions: []reckon.Note{}, Cautions: []reckon.Note{},
		Inverses: append([]string{}, e.Inverses...), Example: json.RawMessage(exampleLines.ReplaceAllString(e.Example, "\n ")),
	}
	conditions, cautions := knownNotes(out_)
	for _, word := range f.Conditions {
		out.Conditions = append(out.Conditions, reckon.Note{Word: word, Says: conditions[word]})
	}
	for _, word := range f.Cautions {
		out.Cautions = append(out.Cautions, reckon.Note{Word: word, Says: cautions[word]})
	}
	return out
}

// knownNotes returns the sentence of every condition and caution that a result
// of type t can hold, by its word.
func knownNotes(t reflect.Type) (conditions, cautions map[string]string) {
	conditions, cautions = map[string]string{}, map[string]string{}
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(t reflect.Type) {
		if t.Implements(notedType) {
			into := conditions
			if t == cautionsType {
				into = cautions
			}
			for _, n := range reflect.Zero(t).Interface().(reckon.Noted).Known() {
				into[n.Word] = n.Says
			}
			return
		}
		switch t.Kind() {
		case reflect.Slice, reflect.Array, reflect.Pointer, reflect.Map:
			walk(t.Elem())
		case reflect.Struct:
			if seen[t] {
				return
			}
			seen[t] = true
			for f := range t.Fields() {
				walk(f.Type)
			}
		}
	}
	walk(t)
	return conditions, cautions
}

// exampleLines matches a line break and the indent of the Go source after it.
var exampleLines = regexp.MustCompile(`\s*\n\s*`)

// maxNesting bounds the lists in lists that are described.
const maxNesting = 4

// fields lists what t holds. The prefix tells inputs from outputs in the probe.
func (d *docs) fields(t reflect.Type, prefix string, probe probeDoc) []Field {
	out := []Field{}
	var walk func(t reflect.Type, path string, depth int)
	walk = func(t reflect.Type, path string, depth int) {
		for _, f := range reckon.Fields(t) {
			name := path + f.Name
			inner, kind := f.Type, ""
			for kind == "" {
				inner, kind, name = shape(inner, name)
			}
			field := Field{
				Name: name, Kind: kind, Optional: !f.Required, Meaning: d.comment(t, f.Index),
				Symbol: probe.Symbols[prefix+name], Accepts: probe.Accepts[prefix+name],
			}
			if kind == "word" {
				field.Choices = slices.Clone(d.Words[inner.String()])
				if len(field.Choices) == 0 {
					field.Kind = "text"
				}
			}
			if q, ok := reflect.Zero(inner).Interface().(unit.Quantity); ok {
				field.Units = unit.Describe(q).Units
			}
			if field.Optional {
				field.Absent = absentClause(field.Meaning)
			}
			out = append(out, field)
			if kind == "object" && depth < maxNesting {
				walk(inner, name+".", depth+1)
			}
		}
	}
	walk(t, "", 0)
	return out
}

// shape takes one layer off t: a pointer, a list or a map. Otherwise it names the kind.
func shape(t reflect.Type, name string) (inner reflect.Type, kind, path string) {
	switch {
	case t == cautionsType:
		return t, "list of cautions", name
	case t.Implements(notedType):
		return t, "list of conditions", name
	case t.Implements(quantityType):
		return t, unit.Describe(reflect.Zero(t).Interface().(unit.Quantity)).Name, name
	case reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
		return t, "text", name
	}
	switch t.Kind() {
	case reflect.Pointer:
		return t.Elem(), "", name
	case reflect.Slice, reflect.Array:
		return t.Elem(), "", name + "[]"
	case reflect.Map:
		return t.Elem(), "", name + "{}"
	case reflect.Struct:
		return t, "object", name
	case reflect.String:
		if t.Name() == "string" {
			return t, "text", name
		}
		return t, "word", name
	case reflect.Bool:
		return t, "true or false", name
	case reflect.Float64:
		return t, "number", name
	}
	return t, "whole number", name
}

// comment returns the comment of the field with the index in t or, for a
// field of an embedded struct, in that struct.
func (d *docs) comment(t reflect.Type, index []int) string {
	for _, i := range index[:len(index)-1] {
		t = t.Field(i).Type
	}
	return d.Types[t.String()][t.Field(index[len(index)-1]).Name]
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

// AppendMarkdown appends the description as a section of Markdown that can be
// read as plain text too. The example is worked in the given units.
func (d Description) AppendMarkdown(b []byte, units unit.System) ([]byte, error) {
	add := func(format string, args ...any) { b = fmt.Appendf(b, format, args...) }
	add("## %s\n\n*%s*\n\n%s\n", d.ID, d.Question, d.Summary)
	if d.Relation != "" {
		add("\n```\n%s\n```\n", d.Relation)
	}
	for _, n := range d.Notes {
		add("\n%s\n", n)
	}
	add("\n**Give**\n\n")
	for _, f := range d.Inputs {
		b = f.appendMarkdown(b, true)
	}
	add("\n**Get**\n\n")
	for _, f := range d.Outputs {
		if !strings.HasPrefix(f.Kind, "list of ") {
			b = f.appendMarkdown(b, false)
		}
	}
	remarks := func(title string, list []reckon.Note) {
		if len(list) > 0 {
			add("\n**%s**\n\n", title)
		}
		for _, r := range list {
			add("- `%s`: %s\n", r.Word, r.Says)
		}
	}
	remarks("Look out for", d.Conditions)
	remarks("Take care", d.Cautions)
	if len(d.Cautions) > 0 {
		add("\n%s\n", reckon.CautionDeference)
	}
	if len(d.Refusals) > 0 {
		add("\n**Refused**\n\n")
		for _, r := range d.Refusals {
			add("- %s\n", r)
		}
	}
	b, err := d.appendExample(b, units)
	if err != nil {
		return b, err
	}
	add("\n**Sources**\n\n")
	for _, s := range d.Sources {
		add("- %s\n", s)
	}
	if len(d.Inverses) > 0 {
		add("\n**The other way round**: ")
		for i, id := range d.Inverses {
			if i > 0 {
				add(", ")
			}
			add("[%s](#%s)", id, id)
		}
		add(".\n")
	}
	add("\nIn Go: `%s`.\n", d.Func)
	return b, nil
}

func (f Field) appendMarkdown(b []byte, input bool) []byte {
	b = fmt.Appendf(b, "- `%s`", f.Name)
	if f.Symbol != "" {
		b = fmt.Appendf(b, ", %s", f.Symbol)
	}
	b = fmt.Appendf(b, " (%s", f.Kind)
	if f.Optional {
		b = append(b, ", optional"...)
	}
	b = append(b, ')')
	if f.Meaning != "" {
		b = fmt.Appendf(b, ": %s", strings.TrimSuffix(f.Meaning, "."))
	}
	b = append(b, '.')
	// Most comments give the range; where one does not, the function does, as
	// it stands with the other values of the example.
	if input && f.Accepts != "" && len(f.Choices) == 0 && !strings.ContainsAny(f.Meaning, "0123456789") {
		b = fmt.Appendf(b, " In the example: %s.", strings.TrimSuffix(f.Accepts, "."))
	}
	b = append(b, '\n')
	for _, c := range f.Choices {
		b = fmt.Appendf(b, "  - `%s`", c.Word)
		if c.Meaning != "" {
			b = fmt.Appendf(b, " %s", c.Meaning)
		}
		b = append(b, '\n')
	}
	return b
}

// appendExample works the example and shows every step.
func (d Description) appendExample(b []byte, units unit.System) ([]byte, error) {
	r, err := Eval(d.ID, d.Example, Options{Units: units, Rounded: true, Working: true})
	if err != nil {
		return b, err
	}
	b = append(b, "\n**Worked example**\n\n```json\n"...)
	b = append(b, d.Example...)
	b = append(b, "\n```\n\n```\n"...)
	b = AppendWorking(b, r.Working)
	b = append(b, "```\n\nAnswer:\n\n```\n"...)
	if b, err = r.AppendText(b); err != nil {
		return b, err
	}
	b = append(b, "```\n"...)
	if words := r.words(); len(words) > 0 {
		b = fmt.Appendf(b, "\nIt comes with `%s`.\n", strings.Join(words, "`, `"))
	}
	return b, nil
}

// AppendWorking appends the steps as aligned lines, one step each:
//
//	F  friction factor   = 14 C°
//	B  base temperature  = 64 C°  from N*T_d - F
func AppendWorking(b []byte, steps []reckon.Step) []byte {
	rows := make([][]string, len(steps))
	for i, s := range steps {
		value, err := appendNumber(nil, s.Value, Options{Rounded: true})
		if err != nil {
			value = append(value[:0], '?')
		}
		origin := ""
		if s.Expression != "" {
			origin = "from " + s.Expression
		}
		if s.Source != "" {
			origin = strings.TrimSpace(origin + " (" + s.Source + ")")
		}
		rows[i] = []string{s.Symbol, s.ID, strings.TrimSpace("= " + string(value) + " " + s.Unit), origin}
	}
	return appendAligned(b, rows)
}
