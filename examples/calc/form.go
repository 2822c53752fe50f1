package main

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
)

// A form turns texts, one for each named input, into the JSON of an input.
// Whether they make sense is for the calculator to say.
type form struct {
	columns []column
	kept    []int // columns that are copied, by number
	top     group
}

// column is one named text.
type column struct {
	name string // as the calculator knows it
	kind kind
	unit string // put after a bare number
}

type kind uint8

const (
	asText kind = iota // in quotes
	asJSON             // a number, true, false, an object or a list of objects
	asList             // of texts, separated by commas
	asNumbers
)

// group is an object of the input with its columns and inner objects.
type group struct {
	name    string
	columns []int
	inner   []*group
}

var headerUnit = regexp.MustCompile(`^(.*\S)\s*[(\[]([^()\[\]]+(?:\([^()]*\))?)[)\]]$`)

// newForm maps names to the inputs of e. A name may carry a unit, "length
// (mm)", and the names in keep are no inputs. Nothing is guessed: a name that
// is not known is an error that offers the nearest.
func newForm(e calc.Entry, names, keep []string) (*form, error) {
	inputs := map[string]describe.Field{}
	for _, f := range describe.Of(e).Inputs {
		inputs[strings.TrimSuffix(f.Name, "[]")] = f
	}
	f := &form{}
	seen := map[string]bool{}
	for i, name := range names {
		name = strings.TrimSpace(name)
		if slices.Contains(keep, name) {
			f.columns = append(f.columns, column{name: name})
			f.kept = append(f.kept, i)
			continue
		}
		symbol := ""
		if m := headerUnit.FindStringSubmatch(name); m != nil {
			name, symbol = m[1], m[2]
		}
		plain := strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(name))
		if _, exact := inputs[name]; !exact {
			if _, ok := inputs[plain]; ok {
				name = plain
			}
		}
		if seen[name] {
			return nil, fmt.Errorf("%s: %q is there twice", e.ID, name)
		}
		seen[name] = true
		field, known := inputs[name]
		if !known && keep != nil {
			// The strict reader knows the nearest name.
			_, err := e.Run(append(appendText([]byte("{"), name), ":1}"...), nil)
			first, _, _ := strings.Cut(err.Error(), "\n")
			return nil, fmt.Errorf("%s; or copy the column with -keep %q", first, name)
		}
		f.columns = append(f.columns, column{name, kindOf(field), symbol})
		f.top.add(strings.Split(name, "."), i)
	}
	for _, k := range keep {
		if !slices.ContainsFunc(f.kept, func(i int) bool { return f.columns[i].name == k }) {
			return nil, fmt.Errorf("-keep: there is no column %q", k)
		}
	}
	return f, nil
}

func kindOf(f describe.Field) kind {
	list := strings.HasSuffix(f.Name, "[]")
	switch f.Kind {
	case "object":
		return asJSON
	case "number", "whole number", "true or false":
		if list {
			return asNumbers
		}
		return asJSON
	}
	if list {
		return asList
	}
	return asText
}

func (g *group) add(path []string, column int) {
	if len(path) == 1 {
		g.columns = append(g.columns, column)
		return
	}
	i := slices.IndexFunc(g.inner, func(inner *group) bool { return inner.name == path[0] })
	if i < 0 {
		i = len(g.inner)
		g.inner = append(g.inner, &group{name: path[0]})
	}
	g.inner[i].add(path[1:], column)
}

// appendJSON appends the object that the cells make. Empty cells are left out.
func (f *form) appendJSON(b []byte, cells []string) []byte { return f.group(b, &f.top, cells) }

func (f *form) group(b []byte, g *group, cells []string) []byte {
	b = append(b, '{')
	for _, i := range g.columns {
		if cell := strings.TrimSpace(cells[i]); cell != "" {
			c := &f.columns[i]
			b = appendName(b, c.name[strings.LastIndexByte(c.name, '.')+1:])
			b = c.append(b, cell)
		}
	}
	for _, inner := range g.inner {
		start := len(b)
		b = appendName(b, inner.name)
		empty := len(b) + 2
		if b = f.group(b, inner, cells); len(b) == empty {
			b = b[:start] // nothing in it was given
		}
	}
	return append(b, '}')
}

func appendName(b []byte, name string) []byte {
	if b[len(b)-1] != '{' {
		b = append(b, ',')
	}
	return append(appendText(b, name), ':')
}

func (c *column) append(b []byte, cell string) []byte {
	switch c.kind {
	case asJSON, asNumbers:
		if c.kind == asNumbers && cell[0] != '[' {
			cell = "[" + cell + "]"
		}
		if json.Valid([]byte(cell)) {
			return append(b, cell...)
		}
	case asList:
		if cell[0] == '[' && json.Valid([]byte(cell)) {
			return append(b, cell...)
		}
		b = append(b, '[')
		for i, item := range strings.Split(cell, ",") {
			if i > 0 {
				b = append(b, ',')
			}
			b = c.appendItem(b, strings.TrimSpace(item))
		}
		return append(b, ']')
	}
	return c.appendItem(b, cell)
}

func (c *column) appendItem(b []byte, item string) []byte {
	if c.unit != "" && isNumber(item) {
		item += " " + c.unit
	}
	return appendText(b, item)
}

func isNumber(s string) bool {
	_, err := strconv.ParseFloat(strings.Replace(s, "−", "-", 1), 64)
	return err == nil
}

// appendText appends s as a JSON text.
func appendText(b []byte, s string) []byte {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' || c >= utf8.RuneSelf && !utf8.ValidString(s) {
			quoted, _ := json.Marshal(s) // a string can always be written
			return append(b, quoted...)
		}
	}
	b = append(b, '"')
	b = append(b, s...)
	return append(b, '"')
}
