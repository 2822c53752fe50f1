package unit

import (
	"math"
	"strconv"
)

// Parse reads the text of a quantity of q's kind, whatever q is, and returns
// the value in the unit held: what [Held] returns of the quantity read. It is
// for whoever knows the kind at run time only.
func Parse(q Quantity, text string) (float64, error) {
	if _, ok := q.(Temp); ok {
		t, err := ParseTemp(text)
		return t.celsius, err
	}
	return q.dimension().parse(text)
}

// ParseIn is [Parse] for a text whose unit may stand elsewhere, as in the head of
// its column: a bare number is in the unit written as symbol.
func ParseIn(q Quantity, text, symbol string) (float64, error) {
	if symbol == "" {
		return Parse(q, text)
	}
	number, own, _, problem := splitNumber(trim(text))
	if problem != "" || own != "" {
		return Parse(q, text)
	}
	u, known := q.dimension().find(symbol)
	v, _ := strconv.ParseFloat(number, 64) // infinite if it is too large
	if !known || len(text)+len(symbol) >= maxQuantityText {
		return Parse(q, text+" "+symbol) // it tells what is wrong
	}
	held := 0 + u.toHeld(v) // as a sum of one part
	if _, isTemp := q.(Temp); isTemp {
		held = tempIn(v, u.symbol).celsius
	}
	if math.IsInf(held, 0) {
		return Parse(q, text+" "+symbol)
	}
	return held, nil
}
