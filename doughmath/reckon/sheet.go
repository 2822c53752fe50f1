package reckon

import (
	"math"
	"reflect"
	"regexp"
	"slices"
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
// counts as 0. In a longer working, what an earlier part has worked out is a
// step that names it.
func (w *Working) Inputs(q any) {
	if w == nil {
		return
	}
	eachSymbol(reflect.ValueOf(q), "", "", "", func(s symbolValue) {
		w.carry(Step{Kind: InputStep, ID: s.words, Symbol: s.symbol, Value: s.value, Unit: s.unit, Field: s.path})
	})
}

// Found records every number of an answer that nobody can key in, because it
// was counted or tried one by one; how says so.
func (w *Working) Found(answer any, how string) {
	if w == nil {
		return
	}
	eachSymbol(reflect.ValueOf(answer), "", "", "", func(s symbolValue) {
		w.add(Step{Kind: TableStep, ID: s.words, Symbol: s.symbol, Value: s.value, Unit: s.unit, Source: how, Answer: true})
	})
}

// Lines records steps as they are printed, one to a line:
//
//	words: symbol = expression in unit  [source]
//
// The value of a symbol that a field of answer carries (tag sym) is that
// field, to the last bit; any other is what the expression makes of the steps
// before it. A line whose expression is a number alone is a constant. A number
// that converts has its unit in braces, F*60{min/h}/1000{g/kg}.
// sum(t_#*k_#) and max(S_1, l_#...) stand for all items recorded since the last
// heading. The unit and the source may be left out; that of an answer's quantity is known.
//
// A line that makes no sense gives NaN: a test of the working finds it.
func (w *Working) Lines(answer any, lines ...string) { w.sheet(WorkedStep, answer, "", lines) }

// Item is [Working.Lines] for item n of a list, counted from 1: every # in a
// line stands for n, and answer is the item's row.
func (w *Working) Item(n int, answer any, lines ...string) {
	w.sheet(WorkedStep, answer, strconv.Itoa(n), lines)
}

// PutBack is [Working.Lines] for the plain relation that a value found by trial
// has to satisfy: its symbol is one that is known, and the expression gives that value again.
func (w *Working) PutBack(lines ...string) { w.sheet(CheckStep, nil, "", lines) }

func (w *Working) sheet(kind StepKind, answer any, number string, lines []string) {
	if w == nil {
		return
	}
	answers := map[string]symbolValue{}
	eachSymbol(reflect.ValueOf(answer), number, "", "", func(s symbolValue) {
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
		l.expression, l.plain, l.constants = converting(spread(l.expression, func(symbol string) bool { return here[symbol] }))
		value, kind := math.NaN(), kind
		if e, err := ParseExpression(l.expression); err == nil {
			if e.Op == 'n' {
				l.expression, kind = "", ConstantStep
			}
			value = e.Eval(func(symbol string) (float64, bool) { v, ok := known[symbol]; return v, ok })
		}
		if before, ok := known[l.symbol]; ok && kind == CheckStep {
			value = before // which a test finds that the expression gives
		}
		a, answered := answers[l.symbol]
		if answered {
			value = a.value
			if l.unit == "" {
				l.unit = a.unit
			}
		}
		w.add(Step{
			Kind: kind, ID: l.words, Symbol: l.symbol, Expression: l.expression, Plain: l.plain, Constants: l.constants,
			Value: value, Unit: l.unit, Source: l.source, Answer: answered,
		})
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
type line struct{ words, symbol, expression, plain, constants, unit, source string }

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

// converting takes the units out of an expression, 60{s/min}, and lists them.
// plain is the expression without the numbers that have one, M/D of
// M/1000{g/kg}/D*3600{s/h}; it is empty if none has.
func converting(expression string) (whole, plain, constants string) {
	var list []string
	rest := expression
	for {
		before, after, found := strings.Cut(rest, "{")
		whole += before
		if !found {
			plain += before
			break
		}
		words, after, _ := strings.Cut(after, "}")
		operand := strings.TrimRight(before, "0123456789.e")
		if constant := before[len(operand):] + " " + words; !slices.Contains(list, constant) {
			list = append(list, constant)
		}
		// The number goes with the sign before it, or else with the one after it.
		switch bare := strings.TrimRight(operand, " "); {
		case strings.HasSuffix(bare, "*"), strings.HasSuffix(bare, "/"):
			plain += strings.TrimRight(bare[:len(bare)-1], " ")
		case strings.HasPrefix(after, "*"):
			plain += operand
			after, whole = after[1:], whole+"*"
		default:
			plain += operand + "1"
		}
		rest = after
	}
	if len(list) == 0 {
		plain = ""
	}
	plain = bracketed.ReplaceAllString(plain, "$1$2")
	return whole, plain, strings.Join(list, ", ")
}

// bracketed is a symbol alone in parentheses that belong to no function.
var bracketed = regexp.MustCompile(`(^|[^\pL\d_])\(([\pL_][\pL\d_]*)\)`)

// symbolValue is one number of a question or an answer that has a symbol.
type symbolValue struct {
	words, symbol, unit, path string
	value                     float64
}

// eachSymbol calls visit for every number in v that has a symbol. number
// replaces # in symbols; prefix goes before the words, path before the names.
func eachSymbol(v reflect.Value, number, prefix, path string, visit func(symbolValue)) {
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
		if tag == "-" || tag == "" && bare(f.Type) {
			continue
		}
		name, how, _ := strings.Cut(f.Tag.Get("json"), ",")
		words := Words(name)
		inner := path
		switch {
		case f.Anonymous: // its fields stand among these
		case path == "":
			inner = name
		default:
			inner = path + "." + name
		}
		symbolsOf(v.Field(i), numbered(tag, number), number, join(prefix, words), inner, how == "omitzero" && option != "0", visit)
	}
}

// bare reports whether a value of the type is a number, a word or a list of such, which has no symbol but its field's.
func bare(t reflect.Type) bool {
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Array || t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t.Kind() != reflect.Struct || t == tempType
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
func symbolsOf(v reflect.Value, symbol, number, words, path string, optional bool, visit func(symbolValue)) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	if value, held, ok := heldValue(v); ok {
		if optional && v.IsZero() || math.IsNaN(value) {
			return
		}
		visit(symbolValue{words, symbol, held, path, value})
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
		eachSymbol(v, symbol, words, path, visit)
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n := strconv.Itoa(i + 1)
			item := words + " " + n
			if name := itemName(v.Index(i)); name != "" {
				item = name + ","
			}
			symbolsOf(v.Index(i), strings.ReplaceAll(itemSymbol(symbol, v.Type().Elem()), "#", n), n, item, path+"["+strconv.Itoa(i)+"]", false, visit)
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
	case v.CanFloat(), v.Type() == tempType:
		if q, ok := v.Interface().(unit.Quantity); ok {
			return unit.Held(q), unit.Describe(q).Held, true
		}
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
			if f := v.FieldByName(field); f.Kind() == reflect.String {
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
