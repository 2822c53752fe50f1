package reckon

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
	"golang.org/x/exp/constraints"
)

// An InputError says that a calculation cannot be done because one value is
// missing, impossible or out of range. A function reports every bad value at
// once, joined with [errors.Join]; [InputErrors] takes them apart again.
type InputError struct {
	Func  string // the calculation's id, such as "water-temperature"
	Field string // the JSON path of the value, such as "trials[2].weight"
	Value string // the value given
	Want  string // what would be accepted, and what to do
	Kind  Kind   // what is wrong with the value, for programs
	Range Range  // what would be accepted of a value that is out of range or missing: every digit, in one unit
	Unit  string // of the range; "" for a plain number
}

// A Kind says what is wrong with a value.
type Kind string

// The kinds of what is wrong with a value.
const (
	KindInput       Kind = "input"        // anything else, such as two values at odds
	KindMissing     Kind = "missing"      // it was not given, or is a list of nothing where something is wanted
	KindUnknownName Kind = "unknown-name" // no value is called so
	KindType        Kind = "type"         // a list in place of a text, for example
	KindUnit        Kind = "unit"         // its unit is missing, or is no unit of this quantity
	KindRange       Kind = "range"        // it is too small, too large, or no number
	KindWord        Kind = "word"         // it is none of the words to choose from
	KindSyntax      Kind = "syntax"       // the text is not JSON
)

func (e *InputError) Error() string {
	return fmt.Sprintf("%s: %s is %s: want %s", e.Func, e.Field, cut(e.Value), cut(e.Want))
}

// A NoSolutionError says that no value of the unknown gives what is wanted,
// and what can be reached.
type NoSolutionError struct {
	Func    string // the calculation's id
	Unknown string // what was to be found
	Wanted  string // what was asked for
	Low     string // the reachable range of what was asked for, "" if unbounded
	High    string
	Advice  string // what a baker can do
}

func (e *NoSolutionError) Error() string {
	text := fmt.Sprintf("%s: no %s gives %s", e.Func, e.Unknown, cut(e.Wanted))
	switch {
	case e.Low != "" && e.High != "":
		text += fmt.Sprintf("; it can reach %s to %s", e.Low, e.High)
	case e.Low != "":
		text += "; it can reach " + e.Low + " and more"
	case e.High != "":
		text += "; it can reach up to " + e.High
	}
	if e.Advice != "" {
		text += ": " + cut(e.Advice)
	}
	return text
}

// InputErrors returns every [InputError] in err, in the order found.
func InputErrors(err error) []*InputError {
	var out []*InputError
	walkErrors(err, func(e error) {
		if in, ok := e.(*InputError); ok {
			out = append(out, in)
		}
	})
	return out
}

// Refusals takes err apart for a program: everything that is wrong, in the
// order found. The list is what it is sent where an answer was expected.
func Refusals(err error) []Refusal {
	switch e := err.(type) {
	case nil:
		return nil
	case *InputError:
		return []Refusal{e.refusal()}
	case *NoSolutionError:
		return []Refusal{e.refusal()}
	case interface{ Unwrap() []error }:
		var out []Refusal
		for _, inner := range e.Unwrap() {
			out = append(out, Refusals(inner)...)
		}
		return out
	}
	if inner := Refusals(errors.Unwrap(err)); len(inner) > 0 && inner[0].Kind != kindOther {
		return inner
	}
	return []Refusal{{Kind: kindOther, Advice: err.Error()}}
}

// walkErrors calls visit for err and everything that it joins or wraps.
func walkErrors(err error, visit func(error)) {
	if err == nil {
		return
	}
	visit(err)
	switch e := err.(type) {
	case interface{ Unwrap() []error }:
		for _, inner := range e.Unwrap() {
			walkErrors(inner, visit)
		}
	case interface{ Unwrap() error }:
		walkErrors(e.Unwrap(), visit)
	}
}

// Checks collects everything that is wrong with the input of one calculation,
// so that a person mends it in one go. It costs nothing while all is well.
//
//	func (q Ice) Check(c *reckon.Checks) {
//		reckon.CheckPositive(c, "water", q.Water)
//	}
//
// A refusal is read by a person or sent over a wire: no more than [MaxErrors] and
// [MaxRefusal] are kept, and the last that is kept says that there are more.
type Checks struct {
	Func string // the calculation's id
	errs []error
	told int // found wrong, kept or not
	size int // bytes of text in errs
}

// The bounds of a refusal.
const (
	MaxErrors  = 50       // things that are wrong
	MaxRefusal = 64 << 10 // bytes of text that say so

	maxText = 1000 // bytes of one text, such as a value or an advice
	andMore = " (mend these first: there may be more)"
)

// cut holds what a refusal repeats of the input to a length that can be read.
func cut(s string) string { return cutAt(s, maxText) }

func cutAt(s string, most int) string {
	if len(s) > most+len("…") { // what was cut once stays as it is
		return strings.ToValidUTF8(s[:most], "") + "…"
	}
	return s
}

// keep counts one thing that is wrong and keeps it while there is room. Half of
// the room is left for the paths, which grow while parts are put under their fields.
func (c *Checks) keep(err error) {
	c.told++
	if len(c.errs) == MaxErrors || c.size > MaxRefusal/2 {
		return
	}
	if e, ok := err.(*InputError); ok {
		c.size += len(e.Func) + len(e.Field) + len(e.Value) + len(e.Want)
	} else {
		c.size += len(err.Error())
	}
	c.errs = append(c.errs, err)
}

// Fail records that the value of field is not what is wanted.
func (c *Checks) Fail(field, value, want string) {
	c.tell(InputError{Field: field, Value: value, Want: want, Kind: KindInput})
}

func (c *Checks) tell(e InputError) {
	e.Func, e.Value, e.Want = c.Func, cut(e.Value), cut(e.Want)
	c.keep(&e)
}

// Told reports whether something is wrong with the field already.
func (c *Checks) Told(field string) bool {
	return slices.ContainsFunc(c.errs, func(err error) bool {
		e, ok := err.(*InputError)
		return ok && e.Field == field
	})
}

// Nest records what a calculation that this one rests on found wrong, with
// prefix put before each field. Other errors are kept as they are.
func (c *Checks) Nest(prefix string, err error) {
	c.adopt(err, func(e *InputError) { e.Field = path(prefix, e.Field) })
}

// adopt takes over all that err holds, each input error changed.
func (c *Checks) adopt(err error, change func(*InputError)) {
	walkErrors(err, func(e error) {
		switch e := e.(type) {
		case *InputError:
			in := *e
			change(&in)
			c.keep(&in)
		case interface{ Unwrap() []error }, interface{ Unwrap() error }:
			// Its parts are visited one by one.
		default:
			c.keep(e)
		}
	})
}

// Mark returns how many things were wrong so far, for [Checks.Under] and [Checks.Item].
func (c *Checks) Mark() int { return c.told }

// Under puts the name of a part before every field that was told since the
// mark. A part is checked under its field so:
//
//	mark := c.Mark()
//	q.Air.Check(c)
//	c.Under(mark, "air")
//
// The path is only put together for what is wrong.
func (c *Checks) Under(mark int, part string) {
	if len(c.errs) > mark {
		c.under(mark, part)
	}
}

// under stays out of line, so that Under costs a comparison while all is well.
//
//go:noinline
func (c *Checks) under(mark int, part string) {
	for i := mark; i < len(c.errs); i++ {
		if in, ok := c.errs[i].(*InputError); ok {
			under := *in
			under.Field = path(part, in.Field)
			c.errs[i] = &under
		}
	}
}

// Item is [Checks.Under] for item i of a list, counted from 0: history[2].temp.
func (c *Checks) Item(mark int, list string, i int) {
	if len(c.errs) > mark {
		c.item(mark, list, i)
	}
}

func (c *Checks) item(mark int, list string, i int) { c.under(mark, list+"["+strconv.Itoa(i)+"]") }

// path joins the name of a part and a path within it.
func path(part, inner string) string {
	switch {
	case part == "":
		return inner
	case inner == "":
		return part
	case inner[0] == '[':
		return part + inner
	}
	return part + "." + inner
}

// OK reports whether nothing was wrong so far.
func (c *Checks) OK() bool { return len(c.errs) == 0 }

// Err returns nil, the one error, or all of them joined.
func (c *Checks) Err() error {
	errs := c.errs
	if c.told > len(errs) {
		if last, ok := errs[len(errs)-1].(*InputError); ok {
			more := *last
			more.Want = cutAt(more.Want, maxText-len(andMore)) + andMore
			errs = append(slices.Clone(errs[:len(errs)-1]), &more)
		}
	}
	switch len(errs) {
	case 0:
		return nil
	case 1:
		return errs[0]
	}
	return errors.Join(errs...)
}

// The checks of numbers take quantities and plain numbers alike.

// Text shows v with its unit if it has one.
func Text[N constraints.Float](v N) string {
	if s, ok := any(v).(fmt.Stringer); ok {
		return s.String()
	}
	return strconv.FormatFloat(float64(v), 'g', 6, 64)
}

// digits is v with every digit, in the unit that it is held in if it has one.
func digits(v any) string {
	if q, ok := v.(unit.Quantity); ok {
		text, _ := q.MarshalText() // a bound that is not finite is none
		return string(text)
	}
	return strconv.FormatFloat(reflect.ValueOf(v).Float(), 'g', -1, 64)
}

// heldIn is the unit that v is held in, if it has one.
func heldIn(v any) string {
	if q, ok := v.(unit.Quantity); ok {
		return unit.Describe(q).Held
	}
	return ""
}

// The checks below are small enough to be inlined while all is well; what is
// wrong is put into words apart from them.

// CheckPositive wants a finite value above zero.
func CheckPositive[N constraints.Float](c *Checks, field string, v N) bool {
	return v > 0 && float64(v) <= math.MaxFloat64 || refuse(c, field, v, true)
}

// CheckNotNegative wants a finite value of zero or more.
func CheckNotNegative[N constraints.Float](c *Checks, field string, v N) bool {
	return v >= 0 && float64(v) <= math.MaxFloat64 || refuse(c, field, v, false)
}

// CheckFinite wants any number that is not NaN or infinite.
func CheckFinite[N constraints.Float](c *Checks, field string, v N) bool {
	return math.Abs(float64(v)) <= math.MaxFloat64 || refuseInfinite(c, field, v)
}

// CheckRange wants low <= v <= high.
func CheckRange[N constraints.Float](c *Checks, field string, v, low, high N) bool {
	return v >= low && v <= high || refuseRange(c, field, v, low, high, false, false)
}

// CheckAbove wants 0 < v <= high.
func CheckAbove[N constraints.Float](c *Checks, field string, v, high N) bool {
	return v > 0 && v <= high || refuseRange(c, field, v, 0, high, true, false)
}

// CheckBelow wants low <= v < high.
func CheckBelow[N constraints.Float](c *Checks, field string, v, low, high N) bool {
	return v >= low && v < high || refuseRange(c, field, v, low, high, false, true)
}

// refuse wants zero or more, or more than that.
func refuse[N constraints.Float](c *Checks, field string, v N, open bool) bool {
	words, limits := Range{Low: Text(N(0)), LowOpen: open}, Range{Low: digits(N(0)), LowOpen: open}
	c.tell(InputError{Kind: KindRange, Field: field, Value: Text(v), Want: words.String(), Range: limits, Unit: heldIn(v)})
	return false
}

func refuseInfinite[N constraints.Float](c *Checks, field string, v N) bool {
	c.tell(InputError{Kind: KindRange, Field: field, Value: Text(v), Want: "a finite number", Unit: heldIn(v)})
	return false
}

func refuseRange[N constraints.Float](c *Checks, field string, v, low, high N, above, below bool) bool {
	words, limits := Range{Text(low), above, Text(high), below}, Range{digits(low), above, digits(high), below}
	c.tell(InputError{Kind: KindRange, Field: field, Value: Text(v), Want: words.String(), Range: limits, Unit: heldIn(v)})
	return false
}

// CheckCount wants a whole number from low to high.
func CheckCount(c *Checks, field string, n, low, high int) bool {
	return n >= low && n <= high || refuseCount(c, field, n, low, high)
}

// CheckItems wants a list of at most so many items. What a list may lack is for
// its own calculation to say.
func CheckItems(c *Checks, field string, n, most int) bool {
	return n <= most || refuseItems(c, field, n, most)
}

func refuseItems(c *Checks, field string, n, most int) bool {
	c.tell(InputError{
		Field: field, Value: strconv.Itoa(n) + " items", Want: fmt.Sprintf("at most %d items", most), Kind: KindRange,
		Range: Range{High: strconv.Itoa(most)},
	})
	return false
}

const (
	wholeFrom = "a whole number from "
	tempFrom  = "a temperature from "
)

func refuseCount(c *Checks, field string, n, low, high int) bool {
	limits := Range{Low: strconv.Itoa(low), High: strconv.Itoa(high)}
	c.tell(InputError{Kind: KindRange, Field: field, Value: strconv.Itoa(n), Want: wholeFrom + limits.String(), Range: limits})
	return false
}

// CheckTemp wants a temperature that was given, from low to high.
func CheckTemp(c *Checks, field string, t, low, high unit.Temp) bool {
	return t.Between(low, high) || refuseTemp(c, field, t, low, high)
}

func refuseTemp(c *Checks, field string, t, low, high unit.Temp) bool {
	kind := KindRange
	if !t.Given() {
		kind = KindMissing
	}
	words, limits := Range{Low: low.String(), High: high.String()}, Range{Low: digits(low), High: digits(high)}
	c.tell(InputError{Kind: kind, Field: field, Value: t.String(), Want: tempFrom + words.String(), Range: limits, Unit: heldIn(t)})
	return false
}

// CheckWord wants one of the named choices. The empty word is not one: what
// sources disagree on is chosen by name, never by default.
func CheckWord[W ~string](c *Checks, field string, v W, choices ...W) bool {
	if slices.Contains(choices, v) {
		return true
	}
	return refuseWord(c, field, v, choices)
}

// CheckEither is [CheckWord] for two choices, which is small enough to be inlined.
func CheckEither[W ~string](c *Checks, field string, v, a, b W) bool {
	return a == v || b == v || refuseWord(c, field, v, []W{a, b})
}

func refuseWord[W ~string](c *Checks, field string, v W, choices []W) bool {
	c.tell(InputError{Kind: KindWord, Field: field, Value: strconv.Quote(unit.Clip(string(v))), Want: OneOf(choices...)})
	return false
}

// OneOf names choices as a refusal does: "a", "b" or "c".
func OneOf[W ~string](choices ...W) string {
	var want strings.Builder
	for i, w := range choices {
		switch {
		case i == 0:
		case i == len(choices)-1:
			want.WriteString(" or ")
		default:
			want.WriteString(", ")
		}
		want.WriteString(strconv.Quote(string(w)))
	}
	return want.String()
}
