package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
)

// A form turns texts, one for each named input, into the JSON of an input.
// Whether they make sense is for the calculator to say.
type form struct {
	columns []column
	base    []byte // the object that they are put into; nil for an empty one
}

// column is one named text.
type column struct {
	name string // as the calculator knows it
	kind kind
	unit string // put after a bare number
	path []step
	kept bool // it is no input and is copied
}

type kind uint8

const (
	asText kind = iota // in quotes
	asJSON             // a number, true, false, an object or a list of objects
	asList             // of texts, separated by commas
	asNumbers
)

// step is a name on a path, or the item of a list that stands before it.
type step struct {
	name string
	item bool // by its number or its name
}

var (
	headerUnit = regexp.MustCompile(`^(.*\S)\s*[(\[]([^()\[\]]+(?:\([^()]*\))?)[)\]]$`)
	anyItem    = regexp.MustCompile(`\[[^\]]*\]`)
)

// newForm maps names to the inputs of e. A name may carry a unit, "length
// (mm)", and the names in keep are no inputs. Nothing is guessed: a name that
// is not known is an error that offers the nearest.
func newForm(e calc.Entry, names, keep []string, base []byte) (*form, error) {
	inputs := map[string]describe.Field{}
	for _, f := range describe.Of(e).Inputs {
		inputs[f.Name] = f
		inputs[strings.TrimSuffix(f.Name, "[]")] = f
	}
	question, _ := e.Types()
	f := &form{base: base}
	seen := map[string]bool{}
	for _, name := range names {
		name = strings.TrimSpace(name)
		if slices.Contains(keep, name) {
			f.columns = append(f.columns, column{name: name, kept: true})
			continue
		}
		symbol := ""
		if m := headerUnit.FindStringSubmatch(name); m != nil && !known(inputs, name) {
			name, symbol = m[1], m[2]
		}
		if plain := strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(name)); !known(inputs, name) && known(inputs, plain) {
			name = plain
		}
		if seen[name] {
			return nil, fmt.Errorf("%s: %q is there twice", e.ID, name)
		}
		seen[name] = true
		if !known(inputs, name) && keep != nil {
			if _, err := reckon.PathIn(question, name); err != nil { // a description does not follow parts in parts for ever
				return nil, fmt.Errorf("%s: %s is not a known name: want %s; or copy the column with -keep %q", e.ID, name, wanted(err), name)
			}
		}
		f.columns = append(f.columns, column{name: name, kind: kindOf(inputs, name), unit: symbol, path: steps(name)})
	}
	for _, k := range keep {
		if !slices.ContainsFunc(f.columns, func(c column) bool { return c.kept && c.name == k }) {
			return nil, fmt.Errorf("-keep: there is no column %q", k)
		}
	}
	return f, nil
}

func known(inputs map[string]describe.Field, name string) bool {
	_, ok := inputs[anyItem.ReplaceAllString(name, "[]")]
	return ok
}

// wanted is what the refusal of a path would accept.
func wanted(err error) string {
	var wrong *reckon.InputError
	if errors.As(err, &wrong) {
		return wrong.Want
	}
	return "the name of an input"
}

func kindOf(inputs map[string]describe.Field, name string) kind {
	f := inputs[anyItem.ReplaceAllString(name, "[]")]
	list := strings.HasSuffix(f.Name, "[]") && !strings.HasSuffix(name, "]")
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

// steps takes a path apart.
func steps(path string) (out []step) {
	for path != "" {
		if item, ok := strings.CutPrefix(path, "["); ok {
			name, rest, _ := strings.Cut(item, "]")
			out, path = append(out, step{name, true}), strings.TrimPrefix(rest, ".")
			continue
		}
		end := strings.IndexAny(path+".", ".[")
		out, path = append(out, step{name: path[:end]}), strings.TrimPrefix(path[end:], ".")
	}
	return out
}

// json returns the object that the cells make with the base. Empty cells are left out.
func (f *form) json(cells []string) ([]byte, error) {
	object, err := tree(f.base)
	if err != nil {
		return nil, err
	}
	for i := range f.columns {
		c := &f.columns[i]
		if cell := strings.TrimSpace(cells[i]); cell != "" && !c.kept {
			if object, err = put(object, c.path, c.value(cell)); err != nil {
				return nil, fmt.Errorf("%s: %w", c.name, err)
			}
		}
	}
	return compact(object), nil
}

// tree reads an object to be changed: maps, lists and the texts of numbers.
func tree(object []byte) (any, error) {
	if len(object) == 0 {
		return map[string]any{}, nil
	}
	dec := json.NewDecoder(bytes.NewReader(object))
	dec.UseNumber()
	var out any
	err := dec.Decode(&out)
	if _, more := dec.Token(); err == nil && !errors.Is(more, io.EOF) {
		err = errors.New("there is more after the end of the object")
	}
	return out, err
}

func compact(object any) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(object) // what was read can be written, to a buffer as well
	return b.Bytes()
}

// put sets the value at the path in a tree and returns the tree. Objects on the way
// are made; items are there or not.
func put(in any, path []step, value any) (any, error) {
	if len(path) == 0 {
		return value, nil
	}
	s := path[0]
	if s.item {
		list, _ := in.([]any)
		i := slices.IndexFunc(list, func(item any) bool { return goesBy(item, s.name) })
		if n, err := strconv.Atoi(s.name); err == nil {
			i = n
		}
		if i < 0 || i >= len(list) {
			return in, fmt.Errorf("there is no item [%s]: the base has %d", s.name, len(list))
		}
		var err error
		list[i], err = put(list[i], path[1:], value)
		return list, err
	}
	object, ok := in.(map[string]any)
	if !ok {
		object = map[string]any{}
	}
	var err error
	object[s.name], err = put(object[s.name], path[1:], value)
	return object, err
}

// goesBy tells whether an item has the name, itself or in one of its parts, as an
// order goes by its product.
func goesBy(item any, name string) bool {
	object, _ := item.(map[string]any)
	if object["name"] == name || object["kind"] == name {
		return true
	}
	for _, part := range object {
		if inner, ok := part.(map[string]any); ok && inner["name"] == name {
			return true
		}
	}
	return false
}

// at returns what stands at the path in a tree, and whether it is there.
func at(in any, path []step) (any, bool) {
	for _, s := range path {
		if s.item {
			list, _ := in.([]any)
			i := slices.IndexFunc(list, func(item any) bool { return goesBy(item, s.name) })
			if n, err := strconv.Atoi(s.name); err == nil {
				i = n
			}
			if i < 0 || i >= len(list) {
				return nil, false
			}
			in = list[i]
			continue
		}
		object, _ := in.(map[string]any)
		inner, there := object[s.name]
		if !there {
			return nil, false
		}
		in = inner
	}
	return in, true
}

// value is a cell as JSON.
func (c *column) value(cell string) any {
	switch c.kind {
	case asJSON, asNumbers:
		text := cell
		if c.kind == asNumbers && cell[0] != '[' {
			text = "[" + cell + "]"
		}
		if json.Valid([]byte(text)) {
			return json.RawMessage(text)
		}
	case asList:
		if cell[0] == '[' && json.Valid([]byte(cell)) {
			return json.RawMessage(cell)
		}
		var items []any
		for item := range strings.SplitSeq(cell, ",") {
			items = append(items, c.item(strings.TrimSpace(item)))
		}
		return items
	}
	return c.item(cell)
}

func (c *column) item(item string) string {
	if c.unit != "" && isNumber(item) {
		item += " " + c.unit
	}
	return item
}

func isNumber(s string) bool {
	_, err := strconv.ParseFloat(strings.Replace(s, "−", "-", 1), 64)
	return err == nil
}

// readBase reads what is the same for all rows, and tells what is wrong with it. What is missing
// there must stand in the rows.
func readBase(e calc.Entry, base []byte) error {
	if len(base) == 0 {
		return nil
	}
	var wrong []error
	_, err := e.Read(base)
	for _, bad := range reckon.InputErrors(err) {
		if bad.Kind != reckon.KindMissing {
			wrong = append(wrong, fmt.Errorf("the base: %w", bad))
		}
	}
	return errors.Join(wrong...)
}

// textOf is a value of the base as a cell would hold it.
func textOf(value any) (string, error) {
	switch v := value.(type) {
	case string:
		return v, nil
	case json.Number:
		return v.String(), nil
	case bool:
		return strconv.FormatBool(v), nil
	}
	return "", errors.New("no single value")
}
