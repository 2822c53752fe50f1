package line

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
)

// shown is a number as it is read off the scale of such a control: to its step and in the unit of that, an inch that is halved and
// halved again as a fraction. Without a step, or with one in the units that a person did not choose, it is rounded.
func (s Sets) shown(v float64, step string, sys unit.System) string {
	number, symbol, _ := strings.Cut(step, " ")
	finest, err := strconv.ParseFloat(number, 64)
	if err != nil || !(finest > 0) {
		return s.text(v, sys)
	}
	if q := s.quantity(v); q != nil {
		symbol = strings.TrimSpace(symbol)
		in, ok := unit.InUnit(q, symbol)
		inches := strings.HasPrefix(symbol, "in") || strings.HasPrefix(symbol, "ft")
		if metric := strings.HasPrefix(symbol, "m") || strings.HasPrefix(symbol, "cm"); !ok || inches && sys != unit.US || metric && sys == unit.US {
			return s.text(v, sys)
		}
		v = in
	}
	text := fraction(v, finest)
	if text == "" || symbol != "in" {
		_, decimals, _ := strings.Cut(number, ".")
		text = strconv.FormatFloat(v, 'f', len(decimals), 64)
		if decimals != "" {
			text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
		}
	}
	return strings.TrimRight(text+" "+symbol, " ")
}

// fraction writes a number as a whole and a fraction, "1 9/16"; "" if the step is no half, quarter and so on to a 64th.
func fraction(v, step float64) string {
	parts := math.Round(1 / step)
	if parts > 64 || math.Abs(float64(parts*step)-1) > 1e-9 || int(parts)&(int(parts)-1) != 0 || v < 0 {
		return ""
	}
	n, of := int(math.Round(float64(v*parts))), int(parts)
	whole, n := n/of, n%of
	for n > 0 && n%2 == 0 {
		n, of = n/2, of/2
	}
	switch {
	case n == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", n, of)
	}
	return fmt.Sprintf("%d %d/%d", whole, n, of)
}
