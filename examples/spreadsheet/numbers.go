package main

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A number is one number of a question or of an answer, with the place where it stands.
type number struct {
	path   string  // "trials[2].mark"
	symbol string  // how the working calls it; "" if it has no symbol
	value  float64 // in the unit held
	held   string  // the unit held; "" for a pure number
	whole  bool    // pieces, passes: it is counted
	in     unitOf  // the unit in which the sheet shows it
	at     reflect.Value
}

// A word is a value that is no number: a name, a choice, yes or no.
type word struct{ path, text string }

// values are the numbers and the words of a question or an answer, in the order of its fields.
type values struct {
	numbers []number
	words   []word
}

var (
	tempType     = reflect.TypeFor[unit.Temp]()
	quantityType = reflect.TypeFor[unit.Quantity]()
	notedType    = reflect.TypeFor[reckon.Noted]()
)

// valuesOf lists what is in v. What was left out is not in it.
func valuesOf(v reflect.Value, sys unit.System) values {
	var out values
	out.walk(v, "", "", "", sys)
	return out
}

// walk follows the fields as the working does: item is the number that stands for # in symbols.
func (l *values) walk(v reflect.Value, path, symbol, item string, sys unit.System) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	if v.Type().Implements(notedType) {
		return // conditions and cautions are told apart
	}
	n := number{path: path, symbol: symbol, at: v}
	if v.Type().Implements(quantityType) {
		q := v.Interface().(unit.Quantity)
		if n.value, n.held = unit.Held(q), unit.Describe(q).Held; !math.IsNaN(n.value) {
			n.in = shownIn(q, sys)
			l.numbers = append(l.numbers, n)
		}
		return
	}
	switch v.Kind() {
	case reflect.Float64:
		n.value = v.Float()
		l.numbers = append(l.numbers, n)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		n.value, n.whole = float64(v.Int()), true
		l.numbers = append(l.numbers, n)
	case reflect.String:
		l.words = append(l.words, word{path, v.String()})
	case reflect.Bool:
		l.words = append(l.words, word{path, map[bool]string{true: "yes", false: "no"}[v.Bool()]})
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n := strconv.Itoa(i + 1)
			l.walk(v.Index(i), path+"["+strconv.Itoa(i)+"]", strings.ReplaceAll(symbol, "#", n), n, sys)
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, k := range keys {
			l.walk(v.MapIndex(k), join(path, k.String()), "", "", sys)
		}
	case reflect.Struct:
		l.fields(v, path, symbol, item, sys)
	}
}

func (l *values) fields(v reflect.Value, path, symbol, item string, sys unit.System) {
	if symbol != "" {
		item = symbol // a part's symbol is its number
	}
	for _, f := range reckon.Fields(v.Type()) {
		at := v.FieldByIndex(f.Index)
		if !f.Required && at.IsZero() {
			continue
		}
		tag, _, _ := strings.Cut(f.Tag.Get("sym"), ",")
		if item != "" {
			tag = strings.ReplaceAll(tag, "#", item)
		}
		tag = strings.TrimPrefix(tag, "-")
		l.walk(at, join(path, f.Name), tag, item, sys)
	}
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// set gives the number another value, in the unit held.
func (n *number) set(v float64) {
	switch {
	case n.at.Type() == tempType:
		n.at.Set(reflect.ValueOf(unit.Celsius(v)))
	case n.whole:
		n.at.SetInt(int64(v))
	default:
		n.at.SetFloat(v)
	}
}

// A unitOf is a unit in which a sheet shows numbers that are held in another.
type unitOf struct {
	symbol   string
	mul, div float64 // the number shown, times mul, over div and less the shift, is the number held
	zero     float64 // what a thermometer of this unit shows at the zero of the unit held
}

// shownIn picks the unit in which a person of sys reads q.
func shownIn(q unit.Quantity, sys unit.System) unitOf {
	text, err := q.AppendIn(nil, sys)
	if err != nil {
		return unitOf{symbol: unit.Describe(q).Held, mul: 1, div: 1}
	}
	_, symbol, _ := strings.Cut(string(text), " ")
	return inUnit(q, symbol)
}

// inUnit is the unit with that symbol, one of those that q can be written in.
func inUnit(q unit.Quantity, symbol string) unitOf {
	u := unitOf{symbol: symbol, mul: 1, div: 1}
	if _, isTemp := q.(unit.Temp); isTemp {
		if symbol == "°F" {
			u.mul, u.div, u.zero = 5, 9, unit.FahrenheitAtFreezing
		}
		return u
	}
	one, err := unit.Parse(q, "1 "+symbol)
	if err != nil {
		return u // only a temperature has a unit that cannot be counted so
	}
	u.mul = one
	if per := math.Round(1 / u.mul); u.mul < 1 && math.Abs(per*u.mul-1) < 1e-15 {
		u.mul, u.div = 1, per
	}
	return u
}

// toHeld and toShown do what the formulas of the sheet do.
func (u unitOf) toHeld(v float64) float64  { return (v - u.zero) * u.scale() }
func (u unitOf) toShown(v float64) float64 { return v/u.scale() + u.zero }

func (u unitOf) scale() float64 {
	if u.mul == 0 { // a pure number
		return 1
	}
	return u.mul / u.div
}

// shown is the number in the unit of the sheet.
func (n *number) shown() float64 { return n.in.toShown(n.value) }

// inWords is a path as a person reads it: "trials 3: mark".
func inWords(path string) string {
	steps := strings.Split(path, ".")
	for i, s := range steps {
		name, index, listed := strings.Cut(s, "[")
		s = strings.ReplaceAll(name, "_", " ")
		for listed {
			var at string
			at, index, _ = strings.Cut(index, "]")
			if k, err := strconv.Atoi(at); err == nil {
				s += " " + strconv.Itoa(k+1)
			}
			_, index, listed = strings.Cut(index, "[")
		}
		steps[i] = s
	}
	return strings.Join(steps, ": ")
}
