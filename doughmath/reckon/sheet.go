package reckon

import (
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
)

// The tag sym names the symbol of a field in relations and working:
//
//	Batch  unit.Mass `json:"batch" sym:"M"`
//	Limits []Limit   `json:"limits"`             // Limit.Low has sym:"l_#": l_1, l_2, ...
//	Cool   Stage     `json:"cool" sym:"1"`       // Stage.Temp has sym:"T_#": T_1
//	Loss   Loss      `json:"loss" sym:"-"`       // a part whose symbols are left out
//	Spare  int       `json:"spare,omitzero" sym:"s,0"` // recorded as 0 when it is left out

// Inputs records every input of q that has a symbol, in the order of its
// fields. What was left out is not recorded, unless the tag says that it
// counts as 0.
func (w *Working) Inputs(q any) {
	if w == nil {
		return
	}
	eachSymbol(reflect.ValueOf(q), "", "", func(s symbolValue) {
		w.add(s.words, s.symbol, "", s.value, s.unit, "")
	})
}

// Lines records steps as they are printed, one to a line:
//
//	words: symbol = expression in unit  [source]
//
// The value of a symbol that a field of answer carries (tag sym) is that
// field, to the last bit; any other is what the expression makes of the steps
// before it. A line whose expression is a number alone is a constant.
// sum(t_#*k_#) and max(S_1, l_#...) stand for all items recorded since the last
// heading. The unit and the source may be left out; that of an answer's quantity is known.
//
// A line that makes no sense gives NaN: a test of the working finds it.
func (w *Working) Lines(answer any, lines ...string) { w.sheet(answer, "", lines) }

// Item is [Working.Lines] for item n of a list, counted from 1: every # in a
// line stands for n, and answer is the item's row.
func (w *Working) Item(n int, answer any, lines ...string) { w.sheet(answer, strconv.Itoa(n), lines) }

func (w *Working) sheet(answer any, number string, lines []string) {
	if w == nil {
		return
	}
	answers := map[string]symbolValue{}
	eachSymbol(reflect.ValueOf(answer), number, "", func(s symbolValue) {
		if _, ok := answers[s.symbol]; !ok {
			answers[s.symbol] = s
		}
	})
	known, here := w.symbols()
	for _, text := range lines {
		if number != "" {
			text = strings.ReplaceAll(text, "#", number)
		}
		l := splitLine(text)
		l.expression = spread(l.expression, func(symbol string) bool { return here[symbol] })
		value := math.NaN()
		if e, err := ParseExpression(l.expression); err == nil {
			if e.Op == 'n' {
				l.expression = ""
			}
			value = e.Eval(func(symbol string) (float64, bool) { v, ok := known[symbol]; return v, ok })
		}
		if a, ok := answers[l.symbol]; ok {
			value = a.value
			if l.unit == "" {
				l.unit = a.unit
			}
		}
		w.add(l.words, l.symbol, l.expression, value, l.unit, l.source)
		known, here = w.symbols()
	}
}

// symbols returns the value of every symbol recorded so far, and which of them
// stand under the last heading: items of an earlier part do not count there.
func (w *Working) symbols() (known map[string]float64, here map[string]bool) {
	if w.known == nil || w.indexed > len(w.Steps) {
		w.known, w.here, w.indexed = map[string]float64{}, map[string]bool{}, 0
	}
	for ; w.indexed < len(w.Steps); w.indexed++ {
		s := &w.Steps[w.indexed]
		if s.Symbol == "" {
			clear(w.here)
			continue
		}
		w.known[s.Symbol], w.here[s.Symbol] = s.Value, true
	}
	return w.known, w.here
}

// line is one line of a sheet, taken apart.
type line struct{ words, symbol, expression, unit, source string }

func splitLine(text string) (l line) {
	rest, source, sourced := strings.Cut(text, "  [")
	if sourced {
		l.source = strings.TrimSuffix(source, "]")
	}
	l.words, rest, _ = strings.Cut(rest, ": ")
	l.symbol, rest, _ = strings.Cut(rest, " = ")
	l.expression, l.unit, _ = strings.Cut(rest, " in ")
	return l
}

// symbolValue is one number of a question or an answer that has a symbol.
type symbolValue struct {
	words, symbol, unit string
	value               float64
}

// eachSymbol calls visit for every number in v that has a symbol. number
// replaces # in symbols; prefix goes before the words.
func eachSymbol(v reflect.Value, number, prefix string, visit func(symbolValue)) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	if v.Kind() != reflect.Struct {
		return
	}
	t := v.Type()
	for i := range t.NumField() {
		f := t.Field(i)
		if !f.IsExported() {
			continue
		}
		tag, option, _ := strings.Cut(f.Tag.Get("sym"), ",")
		if tag == "-" {
			continue
		}
		name, how, _ := strings.Cut(f.Tag.Get("json"), ",")
		words := Words(name)
		symbolsOf(v.Field(i), numbered(tag, number), number, join(prefix, words), how == "omitzero" && option != "0", f.Anonymous, visit)
	}
}

// Words is a JSON name as a person reads it.
func Words(name string) string {
	words := strings.Split(name, "_")
	for i, w := range words {
		switch w {
		case "temp":
			words[i] = "temperature"
		case "sd":
			words[i] = "standard deviation"
		}
	}
	return strings.Join(words, " ")
}

// numbered puts the item's number into a symbol, if there is an item.
func numbered(symbol, number string) string {
	if number == "" {
		return symbol
	}
	return strings.ReplaceAll(symbol, "#", number)
}

// symbolsOf visits the numbers in the value of one field.
func symbolsOf(v reflect.Value, symbol, number, words string, optional, embedded bool, visit func(symbolValue)) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	if value, held, ok := heldValue(v); ok {
		if symbol == "" || optional && v.IsZero() || math.IsNaN(value) {
			return
		}
		visit(symbolValue{words, symbol, held, value})
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		if optional && v.IsZero() {
			return
		}
		if symbol == "" {
			symbol = number
		}
		if embedded {
			words = ""
		}
		eachSymbol(v, symbol, words, visit)
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n := strconv.Itoa(i + 1)
			item := words + " " + n
			if name := itemName(v.Index(i)); name != "" {
				item = name + ","
			}
			symbolsOf(v.Index(i), strings.ReplaceAll(itemSymbol(symbol, v.Type().Elem()), "#", n), n, item, false, false, visit)
		}
	}
}

// itemSymbol numbers the items of a list of plain numbers; in a list of
// structs the fields of the items have the symbols.
func itemSymbol(symbol string, item reflect.Type) string {
	if item.Kind() == reflect.Struct && item != tempType {
		return ""
	}
	return symbol
}

var (
	tempType     = reflect.TypeFor[unit.Temp]()
	quantityType = reflect.TypeFor[unit.Quantity]()
)

// heldValue returns the number in v in the unit it is held in, and that unit.
func heldValue(v reflect.Value) (value float64, held string, ok bool) {
	switch {
	case v.Type().Implements(quantityType):
		q := v.Interface().(unit.Quantity)
		return unit.Held(q), unit.Describe(q).Held, true
	case v.CanFloat():
		return v.Float(), "", true
	case v.CanInt():
		return float64(v.Int()), "", true
	}
	return 0, "", false
}

// itemName is the name that an item of a list gives itself, or else its kind.
func itemName(v reflect.Value) string {
	if v.Kind() == reflect.Struct {
		for _, field := range [...]string{"Name", "Kind"} {
			if f := v.FieldByName(field); f.IsValid() && f.Kind() == reflect.String {
				return f.String()
			}
		}
	}
	return ""
}

func join(prefix, words string) string {
	switch {
	case prefix == "":
		return words
	case words == "":
		return prefix
	}
	return prefix + " " + words
}
