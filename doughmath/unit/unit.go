package unit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// System says in which units a quantity is shown to a person.
// It never changes what is held or computed.
type System uint8

const (
	// Metric shows grams and kilograms, millimetres, degrees Celsius.
	Metric System = iota
	// US shows ounces and pounds, inches, degrees Fahrenheit (US customary units).
	US
)

// String returns "metric" or "us".
func (s System) String() string {
	if s == US {
		return "us"
	}
	return "metric"
}

// MarshalText writes "metric" or "us".
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads "metric" or "us".
func (s *System) UnmarshalText(text []byte) error {
	switch string(text) {
	case "metric":
		*s = Metric
	case "us":
		*s = US
	default:
		return &Error{Quantity: "unit system", Text: Clip(string(text)), Want: "metric or us"}
	}
	return nil
}

// form is one way to write a quantity: value in this unit * mul / div gives
// the value held. Multiplying or dividing by an exact number, never by an
// inexact reciprocal, is what lets 62.3 kg or 5 mg come back as typed.
type form struct {
	symbol   string
	mul, div float64
	aliases  []string
}

func (u form) toHeld(v float64) float64   { return float64(v*u.mul) / u.div }
func (u form) fromHeld(v float64) float64 { return float64(v*u.div) / u.mul }

// dimension is a kind of quantity with the units it may be written in.
// The first unit is the one it is held in.
type dimension struct {
	name     string
	units    []form
	compound bool      // "2 lb 8 oz" is read
	show     [2]ladder // by System
}

// ladder lists the units a value is shown in: nothing, and what is no number, in the first (0 g, not 0 mg),
// and a value of `from` held units or more in that of the last rung that it reaches.
type ladder struct {
	unit string
	then []rung
}

type rung struct {
	from   float64
	symbol string
}

// Error says why a text is not a quantity, and what to write instead.
type Error struct {
	Quantity string // such as "mass"
	Text     string // the text as given, cut to a readable length
	Want     string // what would be accepted
}

func (e *Error) Error() string {
	return fmt.Sprintf("%s: cannot read %q: want %s", e.Quantity, e.Text, e.Want)
}

// maxQuantityText bounds the text of one quantity, in bytes. The longest
// honest one ("-1.7976931348623157e+308 kJ/(kg K)") is well below it.
const maxQuantityText = 64

// Clip cuts a text that is repeated in an error to a readable length.
func Clip(s string) string {
	if len(s) <= maxQuantityText {
		return s
	}
	return strings.ToValidUTF8(s[:maxQuantityText], "") + "…"
}

func (d *dimension) find(symbol string) (form, bool) {
	for _, u := range d.units {
		if u.symbol == symbol {
			return u, true
		}
		if slices.Contains(u.aliases, symbol) {
			return u, true
		}
	}
	return form{}, false
}

func (d *dimension) symbols() []string {
	out := make([]string, len(d.units))
	for i, u := range d.units {
		out[i] = u.symbol
	}
	return out
}

func (d *dimension) fail(text, why string) error {
	want := why + "; a number and a unit (" + strings.Join(d.symbols(), ", ") + ")"
	return &Error{Quantity: d.name, Text: Clip(text), Want: want}
}

// parse reads "85 g", "3oz", or for a compound dimension "2 lb 8 oz".
func (d *dimension) parse(text string) (float64, error) {
	rest, err := d.bounded(text)
	if err != nil {
		return 0, err
	}
	sign := 1.0
	if strings.HasPrefix(rest, "-") {
		sign = -1
	}
	v, u, after, err := d.part(rest, text)
	total, last := 0+u.toHeld(v), u // a minus before nothing is lost
	for err == nil && after != "" {
		if !d.compound {
			return 0, d.fail(text, "one number only")
		}
		signed := strings.HasPrefix(after, "-") || strings.HasPrefix(after, "+")
		v, u, after, err = d.part(after, text)
		if err == nil && (signed || u.mul/u.div >= last.mul/last.div) {
			return 0, d.fail(text, "the larger unit first and no sign inside")
		}
		total, last = total+u.toHeld(sign*v), u
	}
	if err != nil {
		return 0, err
	}
	if math.IsInf(total, 0) {
		return 0, d.fail(text, "a number that a computer can hold")
	}
	return total, nil
}

// parseOne reads one number and its unit, unconverted.
func (d *dimension) parseOne(text string) (v float64, symbol string, err error) {
	rest, err := d.bounded(text)
	if err != nil {
		return v, symbol, err
	}
	v, u, after, err := d.part(rest, text)
	if err == nil && after != "" {
		err = d.fail(text, "one number only")
	}
	return v, u.symbol, err
}

// bounded is the text to be read, as long as it is no longer than an honest one.
func (d *dimension) bounded(text string) (string, error) {
	if len(text) > maxQuantityText {
		return "", d.fail(text, fmt.Sprintf("at most %d characters", maxQuantityText))
	}
	return trim(text), nil
}

// trim takes off the spaces around a text; a typeset minus is a minus.
func trim(text string) string { return strings.TrimSpace(strings.ReplaceAll(text, "−", "-")) }

// part reads the number at the front of rest and the unit after it, unconverted. A number that is
// too large is infinite. Of text it complains.
func (d *dimension) part(rest, text string) (v float64, u form, after string, err error) {
	number, symbol, after, problem := splitNumber(rest)
	u, known := d.find(symbol)
	switch {
	case problem != "":
		err = d.fail(text, problem)
	case symbol == "":
		err = d.fail(text, "a unit after the number")
	case !known:
		err = d.fail(text, fmt.Sprintf("a unit of %s in place of %q", d.name, symbol))
	default:
		v, _ = strconv.ParseFloat(number, 64)
	}
	return v, u, after, err
}

// splitNumber cuts the leading number and the unit after it from s. The unit
// runs to the next number or to the end.
func splitNumber(s string) (number, symbol, after, problem string) {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	digits := i
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	seen := i > digits
	if i < len(s) && s[i] == '.' {
		i++
		frac := i
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		seen = seen || i > frac
	}
	if !seen {
		return "", "", "", "a number first"
	}
	if i < len(s) && s[i] == ',' {
		return "", "", "", "a point for the decimals and nothing between the thousands"
	}
	if i+1 < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if s[j] == '+' || s[j] == '-' {
			j++
		}
		exp := j
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		if j > exp {
			i = j
		}
	}
	number = s[:i]
	s = strings.TrimLeft(s[i:], " ")
	// A digit that follows a space starts the next part; one inside a unit
	// ("kg/m3", "lb/ft3") belongs to it.
	end, spaced := len(s), false
	for k, c := range []byte(s) {
		if spaced && (c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.') {
			end = k
			break
		}
		spaced = c == ' '
	}
	return number, strings.TrimRight(s[:end], " "), s[end:], ""
}

// append writes v, given in held units, with every digit and the held unit.
func (d *dimension) append(b []byte, v float64) ([]byte, error) {
	return d.appendIn(b, v, d.units[0])
}

func (d *dimension) appendIn(b []byte, v float64, u form) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return b, &Error{Quantity: d.name, Text: strconv.FormatFloat(v, 'g', -1, 64), Want: "a finite number"}
	}
	b = strconv.AppendFloat(b, u.fromHeld(v), 'g', -1, 64)
	b = append(b, ' ')
	return append(b, u.symbol...), nil
}

// shown picks the unit in which a person reads the value v, in held units.
func (d *dimension) shown(v float64, s System) form {
	l := d.show[s]
	if l.unit == "" {
		l = d.show[Metric]
	}
	symbol := l.unit
	for _, r := range l.then {
		if math.Abs(v) >= r.from {
			symbol = r.symbol
		}
	}
	u, _ := d.find(symbol)
	return u
}

// format rounds v for a person and adds the unit.
func (d *dimension) format(v float64, s System) string {
	u := d.shown(v, s)
	return roundedText(u.fromHeld(v)) + " " + u.symbol
}

// roundedText gives four significant figures, all figures of a whole number
// part, and no trailing zeros. Numbers that nobody meets in a bakery are given
// with a power of ten.
func roundedText(v float64) string {
	if v == 0 {
		return "0"
	}
	if met := math.Abs(v) >= 1e-6 && math.Abs(v) < 1e15; !met { // nor is NaN
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	decimals := 3 - int(math.Floor(math.Log10(math.Abs(v))))
	if decimals <= 0 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}
