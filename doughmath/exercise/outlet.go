package exercise

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// An outlet is one number of the answer.
type outlet struct {
	path, words, symbol string
	step                string        // the symbol of the step that computes it
	quantity            unit.Quantity // the zero of its kind; nil for a plain number
	whole               bool
	hops                []hop
	steps               int      // computed steps that lead to it in the worked example
	stepsBy             []int    // the same with other words, by wording
	ofTemps             bool     // it is a sum of temperatures
	shop                bounds   // of a temperature: what a shop knows of it
	needs               []bool   // by slot: it leads to this number
	relations           []Given  // steps whose numbers nobody knows by heart, told as they are
	tables              []string // symbols of constants that these rest on and that nobody can work out
}

// A hop leads from a struct to one of its fields, and into an item if it is a list.
type hop struct {
	field []int
	item  int // -1 for none
}

// value finds the outlet's number in an answer.
func (o *outlet) value(answer reflect.Value) (float64, bool) {
	v := answer
	for _, h := range o.hops {
		if v = v.FieldByIndex(h.field); v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return 0, false
			}
			v = v.Elem()
		}
		if h.item >= 0 {
			if h.item >= v.Len() {
				return 0, false
			}
			v = v.Index(h.item)
		}
	}
	switch {
	case v.Type() == tempType:
		t := v.Interface().(unit.Temp)
		return t.Celsius(), t.Given()
	case v.CanInt():
		return float64(v.Int()), true
	}
	return v.Float(), true
}

// text writes the number with its unit in the given system, as a person reads it.
func (o *outlet) unitOf(held float64, system unit.System) string {
	if o.quantity == nil {
		return ""
	}
	text, err := quantityOf(o.quantity, held).AppendIn(nil, system)
	if err != nil {
		return ""
	}
	_, symbol, _ := strings.Cut(string(text), " ")
	return symbol
}

// mostItems is how far into a list of the answer questions go.
const mostItems = 8

// findOutlets lists every number of the answer v. number is that of the item
// of a list that v is, counted from 1.
func (f *form) findOutlets(v reflect.Value, path, prefix, number string, hops []hop) {
	for _, field := range reckon.Fields(v.Type()) {
		fv := v.FieldByIndex(field.Index)
		if field.Type.Implements(notedType) || !field.Required && fv.IsZero() {
			continue
		}
		if fv.Kind() == reflect.Pointer {
			if fv.IsNil() {
				continue
			}
			fv = fv.Elem()
		}
		name := joined(path, field.Name)
		words := strings.TrimSpace(prefix + " " + inWords(field.Name))
		symbol, _, _ := strings.Cut(field.Tag.Get("sym"), ",")
		if symbol = numbered(symbol, number); path != "" && number == "" {
			symbol = "" // a part shows its own working, or none
		}
		inner := append(slices.Clip(hops), hop{field.Index, -1})
		switch {
		case f.number(fv, name, words, symbol, inner):
		case fv.Kind() == reflect.Struct:
			f.findOutlets(fv, name, words, "", inner)
		case fv.Kind() == reflect.Slice || fv.Kind() == reflect.Array:
			for i := range min(fv.Len(), mostItems) {
				item := append(slices.Clip(hops), hop{field.Index, i})
				at := name + "[" + strconv.Itoa(i) + "]"
				called := singular(words) + " " + strconv.Itoa(i+1)
				iv, n := fv.Index(i), strconv.Itoa(i+1)
				own, _, _ := strings.Cut(field.Tag.Get("sym"), ",")
				switch {
				case f.number(iv, at, called, numbered(own, n), item):
				case iv.Kind() == reflect.Struct:
					if own := iv.FieldByName("Name"); own.IsValid() && own.Kind() == reflect.String && own.String() != "" {
						called = own.String() + ","
					}
					f.findOutlets(iv, at, called, n, item)
				}
			}
		}
	}
}

// numbered puts the number of an item into its symbol; without a number there is none.
func numbered(symbol, number string) string {
	if symbol == "-" || strings.Contains(symbol, "#") && number == "" {
		return ""
	}
	return strings.ReplaceAll(symbol, "#", number)
}

// number adds v to the outlets if it is one.
func (f *form) number(v reflect.Value, path, words, symbol string, hops []hop) bool {
	o := outlet{path: path, words: words, symbol: symbol, quantity: zeroOf(v.Type()), hops: hops}
	if o.quantity == nil {
		switch v.Kind() {
		case reflect.Int:
			o.whole = true
		case reflect.Float64:
		default:
			return false
		}
	}
	if _, temp := o.quantity.(unit.Temp); temp {
		o.shop = shopBounds(f.entry.ID, path)
	}
	f.outlets = append(f.outlets, o)
	return true
}

// The bounds of what can be done by hand.
const (
	mostGivens     = 30
	mostSteps      = 16
	mostTables     = 8
	mostExpression = 240 // characters
)

// findAsks picks the outlets that make an exercise: those that the working of
// the example computes, in steps that a person can do.
func (f *form) findAsks(answer calc.Result) {
	value := reflect.ValueOf(answer.Value())
	var numbers int
	for i := range f.slots {
		if f.slots[i].choices == nil {
			numbers++
		}
	}
	if numbers == 0 || numbers > mostGivens {
		return
	}
	f.drawOthers()
	for i := range f.outlets {
		o := &f.outlets[i]
		v, ok := o.value(value)
		if !ok || slices.Contains(notAsked[f.entry.ID], o.path) || strings.HasSuffix(o.path, dull) {
			continue
		}
		if f.varies(o, v) && f.byHand(o, answer.Working, answerStep(answer.Working, o, v)) {
			f.asks = append(f.asks, i)
		}
	}
	f.others = nil
	f.countByWords()
}

// tries is how many draws it takes for a number that varies to have varied.
const tries = 12

// varies reports whether the outlet, v in the worked example, is something else
// with other values: flour is always 100 % of itself.
func (f *form) varies(o *outlet, v float64) bool {
	for _, answer := range f.others {
		if other, ok := o.value(answer); ok && other != v {
			return true
		}
	}
	return false
}

// drawOthers answers the calculation for other values than the example's.
func (f *form) drawOthers() {
	d, v := newDraw(0, formStream), newDrawn(f)
	for range tries {
		d.values(f, &v, unit.Metric, nil, nil)
		if r, err := f.entry.Eval(v.input, calc.Options{}); err == nil {
			f.others = append(f.others, reflect.ValueOf(r.Value()))
		}
	}
}

// byHand reports whether a person can work the outlet out from what is given,
// and notes what that takes.
func (f *form) byHand(o *outlet, steps []reckon.Step, at int) bool {
	if at < 0 || isRead(steps, at) {
		return false
	}
	needed := stepsTo(steps, at)
	for _, i := range needed {
		if len(steps[i].Expression) > mostExpression {
			return false
		}
	}
	o.needs = make([]bool, len(f.slots))
	rests := false
	for _, i := range origins(steps, needed) {
		s := &steps[i]
		switch {
		case s.Kind == reckon.InputStep:
			rests = true
			if !f.need(o, s) && s.Value != 0 { // it may be any of them; what is left out counts as 0
				o.needs = slices.Repeat([]bool{true}, len(f.slots))
			}
		case s.Value != 0 && (s.Source != "" && s.Source != "counted" || s.Value != math.Trunc(s.Value)) && !slices.Contains(notTold[f.entry.ID], s.Symbol):
			o.tables = append(o.tables, s.Symbol)
		}
	}
	f.needLists(o)
	f.needWords(o)
	o.words, o.step = askedWords(o, steps[at].ID), steps[at].Symbol
	if o.quantity == nil && !o.whole && steps[at].Unit != "" {
		o.words += ", in " + steps[at].Unit // its number is plain, and answered so
	}
	o.steps = countSteps(steps, needed, at)
	for _, i := range needed {
		if s := &steps[i]; unusual(s.Expression) || slices.Contains(toldRelations[f.entry.ID], s.Symbol) {
			o.relations = append(o.relations, relation(steps[:i], s))
		}
	}
	o.ofTemps = strings.HasPrefix(steps[at].Unit, unit.SumOfTemps)
	return rests && o.steps <= mostSteps && len(o.tables) <= mostTables
}

// relation tells a step: what it computes, and in which units.
func relation(before []reckon.Step, s *reckon.Step) Given {
	text := s.Symbol + " = " + s.Expression
	var units []string
	if s.Unit != "" {
		units = append(units, s.Symbol+" in "+s.Unit)
	}
	if e, err := reckon.ParseExpression(s.Expression); err == nil {
		for _, symbol := range e.Symbols() {
			if j := stepBefore(before, symbol); j >= 0 && before[j].Unit != "" {
				units = append(units, symbol+" in "+before[j].Unit)
			}
		}
	}
	if len(units) > 0 {
		text += " (" + strings.Join(units, ", ") + ")"
	}
	return Given{Words: s.ID, Symbol: s.Symbol, Text: text, Relation: true}
}

// unusual reports whether an expression has an exponential, or a number of
// four figures or more: a person has those from a source.
func unusual(expression string) bool {
	if strings.Contains(expression, "exp(") {
		return true
	}
	for number := range strings.FieldsFuncSeq(expression, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != '_' && !unicode.IsLetter(r) }) {
		if number[0] >= '0' && number[0] <= '9' && len(strings.Trim(strings.ReplaceAll(number, ".", ""), "0")) >= 4 {
			return true
		}
	}
	return false
}

// countSteps counts those that compute something: a copy is none, unless it is the answer.
func countSteps(steps []reckon.Step, needed []int, at int) (n int) {
	for _, i := range needed {
		if !isCopy(&steps[i]) || i == at {
			n++
		}
	}
	return n
}

// countByWords counts the steps to every outlet that is asked with the other
// words that may be drawn: a friction for each factor takes one more.
func (f *form) countByWords() {
	v := newDrawn(f)
	for n := range f.wordings() {
		v.input = v.input[:0]
		rest := n
		for i := range f.slots {
			s := &f.slots[i]
			text := s.text
			if len(s.choices) > 1 {
				text, rest = s.choices[rest%len(s.choices)], rest/len(s.choices)
			}
			v.set(f, i, text)
		}
		v.close(f)
		r, err := f.entry.Eval(v.input, calc.Options{Working: true})
		for _, i := range f.asks {
			o := &f.outlets[i]
			steps := o.steps
			if err == nil {
				if held, ok := o.value(reflect.ValueOf(r.Value())); ok {
					if at := o.computedAt(r.Working, held); at >= 0 {
						steps = countSteps(r.Working, stepsTo(r.Working, at), at)
					}
				}
			}
			o.stepsBy = append(o.stepsBy, steps)
		}
	}
}

// wordings is how many combinations of words may be drawn.
func (f *form) wordings() int {
	n := 1
	for i := range f.slots {
		n *= max(1, len(f.slots[i].choices))
	}
	return n
}

// wording is which of them these texts are.
func (f *form) wording(texts []string) (n int) {
	times := 1
	for i := range f.slots {
		if choices := f.slots[i].choices; len(choices) > 1 {
			n += times * max(0, slices.Index(choices, texts[i]))
			times *= len(choices)
		}
	}
	return n
}

// computedAt finds the step that computes the outlet's number, or -1.
func (o *outlet) computedAt(steps []reckon.Step, held float64) int {
	return slices.IndexFunc(steps, func(s reckon.Step) bool {
		return s.Kind == reckon.WorkedStep && s.Symbol == o.step && s.Value == held
	})
}

// need marks the slot that an input of the working comes from; it is false if
// the working does not say which.
func (f *form) need(o *outlet, s *reckon.Step) (found bool) {
	for i := range f.slots {
		if slot := &f.slots[i]; slot.choices == nil && (slot.path == s.Field || s.Field == "" && slot.symbol == s.Symbol) {
			o.needs[i], found = true, true
		}
	}
	return found
}

// needLists marks the same field in every item of a list: which of them counts
// is for the student to find.
func (f *form) needLists(o *outlet) {
	needed := map[int]bool{}
	for i := range f.slots {
		needed[f.slots[i].list] = needed[f.slots[i].list] || o.needs[i]
	}
	for i := range f.slots {
		o.needs[i] = o.needs[i] || f.slots[i].list > 0 && needed[f.slots[i].list]
	}
}

// needWords marks the words that say how a value that is needed is meant.
func (f *form) needWords(o *outlet) {
	for i := range f.slots {
		if f.slots[i].choices == nil {
			continue
		}
		of, ok := toldWith[f.slots[i].name]
		o.needs[i] = ok && (of == "" || slices.ContainsFunc(f.slots, func(s slot) bool {
			return s.name == of && o.needs[f.slotAt(s.path)] && (f.slots[i].name != "basis" || parent(s.path) == parent(f.slots[i].path))
		}))
	}
	if f.entry.ID == "proofer-lanes" { // the passes are counted along the pattern
		o.needs = slices.Repeat([]bool{true}, len(f.slots))
	}
}

// parent is the path without its last name.
func parent(path string) string { return path[:max(0, strings.LastIndexByte(path, '.'))] }

// main lists what the seed picks from: the outlets that take more than a step
// or two, where there are such.
func (f *form) main() []*outlet {
	most := 0
	for _, i := range f.asks {
		most = max(most, f.outlets[i].steps)
	}
	var out []*outlet
	for _, i := range f.asks {
		if o := &f.outlets[i]; 2*o.steps >= most {
			out = append(out, o)
		}
	}
	return out
}

// asked returns the outlet of the given name among those that make an exercise.
func (f *form) asked(path string) *outlet {
	for _, i := range f.asks {
		if f.outlets[i].path == path {
			return &f.outlets[i]
		}
	}
	return nil
}

// askNames lists what can be asked.
func (f *form) askNames() []string {
	names := make([]string, len(f.asks))
	for i, j := range f.asks {
		names[i] = f.outlets[j].path
	}
	return names
}
