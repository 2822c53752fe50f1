package exercise

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/dough/doughmath/unit"
)

// maxAnswer bounds an answer, in bytes. The longest honest one is well below it.
const maxAnswer = 80

// A reading is an answer as it was understood.
type reading struct {
	held  float64 // in the unit held
	digit float64 // what one more in the last figure would be, in the unit held; 0 for a fraction
	round float64 // the same if zeros at the end of a whole number are no figures
}

// A refused answer says why it was not read.
type unread struct {
	verdict Verdict
	says    string
}

// readAnswer reads the text of an answer for a quantity: in any of its units,
// with a decimal point or comma, as a fraction, or in two parts (2 lb 8 oz).
// What may mean two things is asked back, never guessed.
func readAnswer(text string, zero unit.Quantity, whole bool) (reading, *unread) {
	if len(text) > maxAnswer {
		return reading{}, &unread{Unread, "An answer is a number and its unit, at most " + strconv.Itoa(maxAnswer) + " characters."}
	}
	if !utf8.ValidString(text) {
		return reading{}, &unread{Unread, "This is no text: write a number and its unit."}
	}
	rest := strings.TrimSpace(plain.Replace(text))
	if rest == "" {
		return reading{}, &unread{Empty, "There is no answer yet."}
	}
	for _, r := range rest {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return reading{}, &unread{Unread, "This cannot be read: write a number and its unit."}
		}
	}
	negative := strings.HasPrefix(rest, "-")
	var out reading
	kind := zero
	for part := 0; rest != ""; part++ {
		n, after, problem := readNumber(rest)
		if problem != nil {
			return reading{}, problem
		}
		end := strings.IndexFunc(after, func(r rune) bool { return r >= '0' && r <= '9' || r == '-' || r == '+' })
		symbol := after
		for end > 0 && !strings.HasSuffix(after[:end], " ") { // a figure inside a unit: m3
			next := strings.IndexFunc(after[end+1:], func(r rune) bool { return r >= '0' && r <= '9' || r == '-' || r == '+' })
			if next < 0 {
				end = -1
				break
			}
			end += 1 + next
		}
		if end == 0 {
			return reading{}, &unread{Unread, "After the number " + strconv.Quote(unit.Clip(rest[:len(rest)-len(after)])) + " a unit is wanted, not " + strconv.Quote(unit.Clip(after)) + "."}
		}
		if end > 0 {
			symbol, after = strings.TrimSpace(after[:end]), after[end:]
		} else {
			symbol, after = strings.TrimSpace(symbol), ""
		}
		held, size, problem := inUnit(n, symbol, kind, whole)
		if problem != nil {
			return reading{}, problem
		}
		if part > 0 && (zero == nil || !compoundKind(zero) || n.value < 0) {
			return reading{}, &unread{Unread, "One number and its unit are wanted."}
		}
		if part > 0 && negative {
			held = -held
		}
		out.held += held
		out.digit, out.round = float64(n.digit*size), float64(n.round*size)
		rest = strings.TrimSpace(after)
	}
	if math.IsNaN(out.held) || math.IsInf(out.held, 0) {
		return reading{}, &unread{Unread, "This number is too large to be an answer."}
	}
	return out, nil
}

// plain puts the signs that people type in place of one another into one form.
var plain = strings.NewReplacer("−", "-", "–", "-", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "º", "°", "’", "'")

func compoundKind(zero unit.Quantity) bool {
	switch zero.(type) {
	case unit.Mass, unit.Length, unit.Volume, unit.Duration:
		return true
	}
	return false
}

// A numeral is a number as typed.
type numeral struct {
	value        float64
	text         string // that a parser reads
	digit, round float64
}

// readNumber reads the number at the head of s.
func readNumber(s string) (n numeral, after string, problem *unread) {
	sign, digits := "", s
	if s != "" && (s[0] == '-' || s[0] == '+') {
		sign, digits = s[:1], strings.TrimLeft(s[1:], " ")
	}
	end := strings.IndexFunc(digits, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != '\'' })
	if end < 0 {
		end = len(digits)
	}
	number, after := digits[:end], digits[end:]
	if strings.HasPrefix(after, ":") {
		return n, "", &unread{Ambiguous, "Is " + strconv.Quote(unit.Clip(s)) + " in minutes and seconds, or in hours and minutes? Write the units: 1 min 30 s."}
	}
	if number == "" || strings.Trim(number, ".,'") == "" {
		return n, "", &unread{Unread, "A number is wanted first, then its unit: not " + strconv.Quote(unit.Clip(s)) + "."}
	}
	if numerator, denominator, rest, ok := fractionAt(after, number); ok {
		return fraction(sign, numerator, denominator, rest, s)
	}
	// "2 1/2 lb", and "1 234 g" with a space between the thousands.
	for strings.HasPrefix(after, " ") {
		next := strings.TrimLeft(after, " ")
		end := strings.IndexFunc(next, func(r rune) bool { return r < '0' || r > '9' })
		if end <= 0 {
			break
		}
		if numerator, denominator, rest, ok := fractionAt(next[end:], next[:end]); ok && !strings.ContainsAny(number, ".,'") {
			f, rest, problem := fraction("", numerator, denominator, rest, s)
			if problem != nil {
				return n, "", problem
			}
			whole, err := strconv.ParseFloat(number, 64)
			if err != nil || f.value >= 1 {
				return n, "", &unread{Unread, "The fraction in " + strconv.Quote(unit.Clip(s)) + " is not less than one."}
			}
			return signed(sign, whole+f.value), rest, nil
		}
		if end != 3 || strings.ContainsAny(number, ".,'") || len(number)%3 == 0 && len(number) > 15 {
			break
		}
		number, after = number+next[:3], next[3:]
		if after != "" && (after[0] == '.' || after[0] == ',') {
			stop := strings.IndexFunc(after[1:], func(r rune) bool { return r < '0' || r > '9' })
			if stop < 0 {
				stop = len(after) - 1
			}
			number, after = number+after[:1+stop], after[1+stop:]
		}
	}
	number, problem = decimal(number)
	if problem != nil {
		return n, "", problem
	}
	// A power of ten: 1.2e3.
	if len(after) > 1 && (after[0] == 'e' || after[0] == 'E') {
		stop := 1
		if after[stop] == '-' || after[stop] == '+' {
			stop++
		}
		start := stop
		for stop < len(after) && after[stop] >= '0' && after[stop] <= '9' {
			stop++
		}
		if stop > start {
			number, after = number+after[:stop], after[stop:]
		}
	}
	v, err := strconv.ParseFloat(sign+number, 64)
	if err != nil {
		return n, "", &unread{Unread, "The number in " + strconv.Quote(unit.Clip(s)) + " cannot be read."}
	}
	n = numeral{value: v, text: sign + number}
	n.digit, n.round = lastFigure(number)
	return n, after, nil
}

// fractionAt finds "/2" behind a numerator.
func fractionAt(after, numerator string) (a, b, rest string, ok bool) {
	if !strings.HasPrefix(after, "/") && !strings.HasPrefix(after, "⁄") {
		return "", "", "", false
	}
	_, after, _ = strings.Cut(after, after[:len(after)-len(strings.TrimLeft(after, "/⁄"))])
	end := strings.IndexFunc(after, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		end = len(after)
	}
	return numerator, after[:end], after[end:], end > 0
}

func fraction(sign, numerator, denominator, rest, s string) (numeral, string, *unread) {
	a, errA := strconv.ParseUint(numerator, 10, 32)
	b, errB := strconv.ParseUint(denominator, 10, 32)
	if errA != nil || errB != nil || b == 0 {
		return numeral{}, "", &unread{Unread, "The fraction in " + strconv.Quote(unit.Clip(s)) + " cannot be read."}
	}
	return signed(sign, float64(a)/float64(b)), rest, nil
}

// signed is a number that has no last figure.
func signed(sign string, v float64) numeral {
	if sign == "-" {
		v = -v
	}
	return numeral{value: v, text: strconv.FormatFloat(v, 'f', -1, 64)}
}

// decimal makes one form of the decimal point and takes out what stands
// between thousands. A comma before three figures may be either.
func decimal(number string) (string, *unread) {
	commas, points := strings.Count(number, ","), strings.Count(number, ".")
	number = strings.ReplaceAll(number, "'", "")
	switch {
	case commas == 0 && points <= 1:
		return number, nil
	case commas > 0 && points > 0:
		last := strings.LastIndexAny(number, ",.")
		mark, between := number[last:last+1], ","
		if mark == "," {
			between = "."
		}
		head := number[:last]
		if strings.Contains(head, mark) || !thousands(head, between) {
			return "", &unread{Ambiguous, "Where is the decimal point in " + number + "? Write it without anything between the thousands."}
		}
		return strings.ReplaceAll(head, between, "") + "." + number[last+1:], nil
	case commas > 1 && thousands(number, ","):
		return strings.ReplaceAll(number, ",", ""), nil
	case points > 1 && thousands(number, "."):
		return strings.ReplaceAll(number, ".", ""), nil
	case commas == 1:
		head, tail, _ := strings.Cut(number, ",")
		if len(tail) == 3 && head != "" && len(head) <= 3 && strings.Trim(head, "0") != "" {
			return "", &unread{Ambiguous, "Is " + number + " the number " + head + "." + tail + " or the number " + head + tail + "? Write it without the comma."}
		}
		return head + "." + tail, nil
	}
	return "", &unread{Ambiguous, "Where is the decimal point in " + number + "? Write it without anything between the thousands."}
}

// thousands reports whether the groups between the marks are of three figures.
func thousands(number, mark string) bool {
	groups := strings.Split(number, mark)
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && (g == "" || len(g) > 3) {
			return false
		}
	}
	return true
}

// lastFigure is what one more in the last figure of the number would be, and
// the same if zeros at the end of a whole number are no figures.
func lastFigure(number string) (digit, round float64) {
	mantissa, power := number, 0
	if i := strings.IndexAny(number, "eE"); i >= 0 {
		mantissa = number[:i]
		power, _ = strconv.Atoi(number[i+1:])
	}
	if power > 300 || power < -300 {
		return 0, 0
	}
	if _, decimals, ok := strings.Cut(mantissa, "."); ok {
		digit = powerOfTen(power - len(decimals))
		return digit, digit
	}
	return powerOfTen(power), powerOfTen(power + len(mantissa) - len(strings.TrimRight(mantissa, "0")))
}

// inUnit reads a numeral in a unit: its value held, and what one of the unit
// counts there.
func inUnit(n numeral, symbol string, zero unit.Quantity, whole bool) (held, size float64, problem *unread) {
	if zero == nil {
		return inNoUnit(n, symbol, whole)
	}
	name := unit.Describe(zero).Name
	if symbol == "" {
		return 0, 0, &unread{Ambiguous, "In which unit is " + n.text + "? A " + kindName(name) + " has one of " + strings.Join(unit.Describe(zero).Units, ", ") + "."}
	}
	text := n.text + " " + symbol
	held, err := unit.Parse(zero, text)
	if err == nil {
		return held, unitSize(zero, symbol), nil
	}
	if other := kindOf("1 " + symbol); other != nil {
		return 0, 0, &unread{WrongQuantity, "That is a " + kindName(unit.Describe(other).Name) + "; a " + kindName(name) + " was asked."}
	}
	return 0, 0, &unread{Unread, strconv.Quote(unit.Clip(symbol)) + " is no unit of a " + kindName(name) + ": write " + strings.Join(unit.Describe(zero).Units, ", ") + "."}
}

// inNoUnit takes a plain number, or a count with what is counted.
func inNoUnit(n numeral, symbol string, whole bool) (held, size float64, problem *unread) {
	asked := "plain number"
	if whole {
		asked = "whole number"
	}
	if symbol != "" {
		if other := kindOf("1 " + symbol); other != nil {
			return 0, 0, &unread{WrongQuantity, "That is a " + kindName(unit.Describe(other).Name) + "; a " + asked + " was asked."}
		}
		if !whole || strings.ContainsFunc(symbol, func(r rune) bool { return !unicode.IsLetter(r) && r != ' ' }) {
			return 0, 0, &unread{Unread, "A " + asked + " was asked, without " + strconv.Quote(unit.Clip(symbol)) + "."}
		}
	}
	return n.value, 1, nil
}

// unitSize is what one of the unit counts in the unit held.
func unitSize(zero unit.Quantity, symbol string) float64 {
	if _, temp := zero.(unit.Temp); temp {
		if strings.HasSuffix(symbol, "F") {
			return 5.0 / 9
		}
		return 1
	}
	one, err := unit.Parse(zero, "1 "+symbol)
	if err != nil {
		return 0
	}
	return one
}
