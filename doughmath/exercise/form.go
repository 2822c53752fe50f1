package exercise

import (
	"encoding/json"
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
	outlets []outlet        // every number of the answer
	asks    []int           // the outlets that make an exercise
	others  []reflect.Value // answers for other values
	remarks []string        // conditions that the example's own answer has
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
	if own, ok := smaller[e.ID]; ok {
		e.Example = own
	}
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

// slotAt finds the slot with the path; nobody asks for one that is missing.
func (f *form) slotAt(path string) int {
	for i := range f.slots {
		if f.slots[i].path == path {
			return i
		}
	}
	return 0
}
