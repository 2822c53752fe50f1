package exercise

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A form is one calculation made ready for exercises: its worked example with
// a slot wherever a value can be drawn, and what can be asked.
type form struct {
	entry   calc.Entry
	literal []string // the JSON of the example around the slots: one more than there are
	slots   []slot
	outlets []outlet // every number of the answer
	asks    []int    // the outlets that make an exercise
	remarks []string // conditions that the example's own answer has
	slips   []compiled
	names   map[string]bool // of all its inputs, so that nothing is added that it asks for
}

// A slot is one value of the example.
type slot struct {
	path, name, group, words, symbol string
	quantity                         unit.Quantity // the zero of its kind; nil for a plain number or a word
	whole                            bool          // it counts something
	text                             string        // as the example has it
	held                             float64       // the same, in the unit held
	list                             int           // of slots that are drawn together; 0 if it stands alone
	choices                          []string      // if it is a word
	hidden                           bool          // a word that the wording has no need of
	legal                            bounds        // what the calculation accepts
	grids                            [2]grid       // where values are drawn, by unit system
}

// bounds is the range that a tag names, as numbers in the unit held.
type bounds struct {
	reckon.Range
	low, high       float64
	hasLow, hasHigh bool
}

func (b bounds) holds(v float64) bool {
	return !(b.hasLow && (v < b.low || b.LowOpen && v == b.low)) && !(b.hasHigh && (v > b.high || b.HighOpen && v == b.high))
}

// An outlet is one number of the answer.
type outlet struct {
	path, words, symbol string
	step                string        // the symbol of the step that computes it
	quantity            unit.Quantity // the zero of its kind; nil for a plain number
	whole               bool
	hops                []hop
	steps               int      // computed steps that lead to it in the worked example
	ofTemps             bool     // it is a sum of temperatures
	needs               []bool   // by slot: it leads to this number
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

var (
	tempType     = reflect.TypeFor[unit.Temp]()
	quantityType = reflect.TypeFor[unit.Quantity]()
	notedType    = reflect.TypeFor[reckon.Noted]()
)

// quantityOf returns a quantity of the kind of zero that holds the value.
func quantityOf(zero unit.Quantity, held float64) unit.Quantity {
	if _, ok := zero.(unit.Temp); ok {
		return unit.Celsius(held)
	}
	v := reflect.New(reflect.TypeOf(zero)).Elem()
	v.SetFloat(held)
	return v.Interface().(unit.Quantity)
}

// zeroOf returns the zero of the quantity t, or nil if t is none.
func zeroOf(t reflect.Type) unit.Quantity {
	if !t.Implements(quantityType) {
		return nil
	}
	return reflect.Zero(t).Interface().(unit.Quantity)
}

// forms is every calculation, each made ready when it is first asked for.
var forms = sync.OnceValue(func() map[string]func() *form {
	all := map[string]func() *form{}
	for _, e := range calc.Entries() {
		all[e.ID] = sync.OnceValue(func() *form { return newForm(e) })
	}
	return all
})

// formOf returns the form of the calculation, or nil if there is none.
func formOf(id string) *form {
	if ready, ok := forms()[id]; ok {
		return ready()
	}
	return nil
}

func newForm(e calc.Entry) *form {
	f := &form{entry: e, names: map[string]bool{}}
	in, _ := e.Types()
	root, err := readNode(json.NewDecoder(strings.NewReader(e.Example)))
	if err != nil {
		return f // an example that is no JSON fails the calculator's own tests
	}
	w := walker{form: f, lists: map[string]int{}}
	w.walk(root, in, spot{})
	f.literal = append(f.literal, w.literal.String())
	for i := range f.slots {
		f.slots[i].grids = shopGrids(e.ID, &f.slots[i])
	}
	answer, err := e.Eval([]byte(e.Example), calc.Options{Working: true})
	if err != nil {
		return f
	}
	for _, r := range answer.Conditions {
		f.remarks = append(f.remarks, r.Word)
	}
	f.findOutlets(reflect.ValueOf(answer.Value()), "", "", "", nil)
	f.findAsks(answer)
	f.slips = compileMistakes(f, answer.Working)
	return f
}

// A node is one value of the example's JSON, its names in their order.
type node struct {
	names  []string
	items  []node // of an object, beside names, or of a list
	object bool
	list   bool
	quoted bool
	text   string
}

func readNode(dec *json.Decoder) (node, error) {
	dec.UseNumber()
	token, err := dec.Token()
	if err != nil {
		return node{}, err
	}
	switch t := token.(type) {
	case json.Delim:
		n := node{object: t == '{', list: t == '['}
		for dec.More() {
			if n.object {
				name, err := dec.Token()
				if err != nil {
					return n, err
				}
				n.names = append(n.names, name.(string))
			}
			item, err := readNode(dec)
			if err != nil {
				return n, err
			}
			n.items = append(n.items, item)
		}
		_, err = dec.Token()
		return n, err
	case string:
		return node{quoted: true, text: t}, nil
	case json.Number:
		return node{text: t.String()}, nil
	case bool:
		return node{text: strconv.FormatBool(t)}, nil
	}
	return node{text: "null"}, nil
}

// itemName is what an item of a list calls itself.
func (n node) itemName() string {
	for i, name := range n.names {
		if (name == "name" || name == "kind") && n.items[i].quoted {
			return n.items[i].text
		}
	}
	return ""
}

// A spot is where in the input a value stands.
type spot struct {
	path, name    string
	group         string // what an item of a list is called
	prefix        string // what a part is called
	number        string // of the item, for symbols
	tag           reflect.StructTag
	listed        string // the list that it is an item of, with its field
	symbolsHidden bool
}

type walker struct {
	form    *form
	literal strings.Builder
	lists   map[string]int
}

func (w *walker) walk(n node, t reflect.Type, at spot) {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case n.object:
		fields := reckon.Fields(t)
		w.literal.WriteByte('{')
		for i, name := range n.names {
			if i > 0 {
				w.literal.WriteByte(',')
			}
			w.literal.WriteString(strconv.Quote(name) + ":")
			w.form.names[name] = true
			j := slices.IndexFunc(fields, func(f reckon.Field) bool { return f.Name == name })
			if j < 0 {
				continue // refused by the calculator's own tests
			}
			in := at
			in.path, in.name, in.tag = joined(at.path, name), name, fields[j].Tag
			if at.name != "" && !strings.HasSuffix(at.path, "]") {
				in.prefix = at.name
				tag, _, _ := strings.Cut(at.tag.Get("sym"), ",")
				in.symbolsHidden = at.symbolsHidden || tag == "-"
				if tag != "" {
					in.number = tag
				}
			}
			if at.listed != "" {
				in.listed = at.listed + "." + name
			}
			w.walk(n.items[i], fields[j].Type, in)
		}
		w.literal.WriteByte('}')
	case n.list:
		w.literal.WriteByte('[')
		for i, item := range n.items {
			if i > 0 {
				w.literal.WriteByte(',')
			}
			in := at
			in.number = strconv.Itoa(i + 1)
			in.path = at.path + "[" + strconv.Itoa(i) + "]"
			in.listed = at.path + "[]"
			if in.group = item.itemName(); in.group == "" {
				in.group = singular(at.name) + " " + in.number
			}
			w.walk(item, t.Elem(), in)
		}
		w.literal.WriteByte(']')
	default:
		w.leaf(n, t, at)
	}
}

// leaf opens a slot for a number or a word.
func (w *walker) leaf(n node, t reflect.Type, at spot) {
	s := slot{path: at.path, name: at.name, group: at.group, words: inputWords(at), symbol: symbolAt(at), text: n.text, quantity: zeroOf(t)}
	switch {
	case s.quantity != nil:
		s.held, _ = unit.Parse(s.quantity, n.text)
	case !n.quoted && (t.Kind() == reflect.Float64 || t.Kind() == reflect.Int):
		s.held, _ = strconv.ParseFloat(n.text, 64)
		s.whole = t.Kind() == reflect.Int
	case n.quoted:
		s.choices, s.hidden = wordChoices(at.path, n.text), at.name == "name" || at.name == "role" || at.name == "kind" && at.group != ""
		s.symbol = ""
	default: // true or false
		w.literal.WriteString(n.text)
		return
	}
	if at.listed != "" && s.choices == nil {
		if w.lists[at.listed] == 0 {
			w.lists[at.listed] = len(w.lists) + 1
		}
		s.list = w.lists[at.listed]
	}
	if s.choices == nil {
		s.legal = legalBounds(at.tag.Get("range"), s.quantity)
	}
	quote := ""
	if n.quoted {
		quote = `"`
	}
	w.literal.WriteString(quote)
	w.form.literal = append(w.form.literal, w.literal.String())
	w.literal.Reset()
	w.literal.WriteString(quote)
	w.form.slots = append(w.form.slots, s)
}

// legalBounds reads the range of a tag.
func legalBounds(tag string, zero unit.Quantity) (b bounds) {
	r, ok := reckon.ParseRange(tag)
	if !ok {
		return b
	}
	b.Range = r
	b.low, b.hasLow = readBound(r.Low, zero)
	b.high, b.hasHigh = readBound(r.High, zero)
	return b
}

func readBound(text string, zero unit.Quantity) (float64, bool) {
	if text == "" {
		return 0, false
	}
	var v float64
	var err error
	if zero == nil {
		v, err = strconv.ParseFloat(text, 64)
	} else {
		v, err = unit.Parse(zero, text)
	}
	return v, err == nil
}

// symbolAt is the symbol that the working has for an input, as the tags say it.
func symbolAt(at spot) string {
	tag, _, _ := strings.Cut(at.tag.Get("sym"), ",")
	if at.symbolsHidden || tag == "-" {
		return ""
	}
	if at.number != "" {
		tag = strings.ReplaceAll(tag, "#", at.number)
	}
	return tag
}

func joined(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
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
	for i := range f.outlets {
		o := &f.outlets[i]
		v, ok := o.value(value)
		if !ok || slices.Contains(notAsked[f.entry.ID], o.path) {
			continue
		}
		if f.byHand(o, answer.Working, answerStep(answer.Working, o, v)) {
			f.asks = append(f.asks, i)
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
	for i := range f.slots {
		o.needs[i] = slices.Contains(toldWords, f.slots[i].name)
	}
	rests := false
	for _, i := range origins(steps, needed) {
		s := &steps[i]
		switch {
		case s.Kind == reckon.InputStep:
			f.need(o, s)
			rests = true
		case s.Value != 0 && (s.Source != "" && s.Source != "counted" || s.Value != math.Trunc(s.Value)) && !slices.Contains(notTold[f.entry.ID], s.Symbol):
			o.tables = append(o.tables, s.Symbol)
		}
	}
	o.words, o.step = askedWords(o, steps[at].ID), steps[at].Symbol
	for _, i := range needed {
		if !isCopy(&steps[i]) || i == at {
			o.steps++
		}
	}
	o.ofTemps = strings.HasPrefix(steps[at].Unit, unit.SumOfTemps)
	return rests && o.steps <= mostSteps && len(o.tables) <= mostTables
}

// need marks the slot that an input of the working comes from.
func (f *form) need(o *outlet, s *reckon.Step) {
	for i := range f.slots {
		if slot := &f.slots[i]; slot.choices == nil && (slot.path == s.Field || s.Field == "" && slot.symbol == s.Symbol) {
			o.needs[i] = true
		}
	}
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
