package reckon

import (
	"encoding"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/unit"
)

// A Cell is one value inside a question, found once by its path and then set
// from text, as a table holds it: a quantity, a number, a word, or true or false.
type Cell struct {
	At       string // the path, items by their numbers
	Required bool   // it must be given: the question makes no sense without it

	v      reflect.Value
	plan   *plan
	symbol string
}

// CellIn finds the value at the path in the struct that q points to. A number
// without a unit is read in the one written as symbol, if that is not empty.
//
// It returns an *[InputError] for a path that leads nowhere, and for a value that no
// single cell holds, such as a list.
func CellIn(q any, path, symbol string) (*Cell, error) {
	way, err := PathIn(reflect.TypeOf(q).Elem(), path)
	if err != nil {
		return nil, err
	}
	v, at, err := way.Place(q)
	if err != nil {
		return nil, err
	}
	options := way.Tag.Get("json")
	c := &Cell{
		At: at, v: v, plan: newPlan(v.Type(), map[reflect.Type]*plan{}), symbol: symbol,
		Required: strings.HasSuffix(at, "]") || !strings.Contains(options, ",omitzero") && !strings.Contains(options, ",omitempty"),
	}
	switch c.plan.form {
	case quantity:
		if _, known := unit.InUnit(c.plan.zero, symbol); known || symbol == "" {
			return c, nil
		}
		return nil, lost(path, symbol, c.plan.want(""))
	case whole, plainNumber, text, boolean, ownText:
		if symbol == "" {
			return c, nil
		}
		return nil, lost(path, symbol, "no unit here")
	}
	return nil, lost(path, path, "the path of a single value")
}

// Set reads the text as strictly as [Decode] does. It is false, and nothing has changed, if
// that would refuse it; Decode then says why.
func (c *Cell) Set(s string) bool {
	switch c.plan.form {
	case quantity:
		x, err := unit.ParseIn(c.plan.zero, s, c.symbol)
		if err != nil {
			return false
		}
		setHeld(c.v, x)
	case whole:
		i, err := strconv.ParseInt(s, 10, 64)
		if err != nil || !isJSONNumber(s) || c.v.OverflowInt(i) {
			return false
		}
		c.v.SetInt(i)
	case plainNumber:
		x, err := strconv.ParseFloat(s, 64)
		if err != nil || !isJSONNumber(s) {
			return false
		}
		c.v.SetFloat(x)
	case boolean:
		if s != "true" && s != "false" {
			return false
		}
		c.v.SetBool(s == "true")
	case ownText:
		fresh := reflect.New(c.plan.typ)
		if s == "" || fresh.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(s)) != nil {
			return false
		}
		c.v.Set(fresh.Elem())
	default:
		if !utf8.ValidString(s) {
			return false
		}
		c.v.SetString(s)
	}
	return true
}

// Clear leaves the value out.
func (c *Cell) Clear() { c.v.SetZero() }

func isJSONNumber(s string) bool {
	scan := scanner{data: s}
	return len(s) <= maxNumber && scan.number() && scan.atEnd()
}
