package reckon

import (
	"math"
	"strconv"
	"strings"
)

// A number of a working on paper, and how it comes about.
type number struct {
	value      float64 // with every digit, as it comes out of the numbers shown
	exact      float64 // as it was computed
	typed      string  // its text, if somebody typed it
	formula    string
	expression *Expression
	from       map[string]int // the numbers that stand for the symbols
	digits     int            // significant figures shown
	most       int            // that it can have, if the numbers it comes from do not give more; 0 for any
	nothing    bool           // it is 0 but for binary rounding
}

const (
	leastDigits = 5
	mostDigits  = 15 // of a float64 that are sure

	// sameShare is by how much, as a share, a number may come out differently of the numbers shown.
	sameShare = 1e-9
)

func (n *number) text() string { return n.textOf(n.digits) }

func (n *number) textOf(digits int) string {
	switch {
	case n.typed != "":
		return n.typed
	case n.nothing:
		return "0"
	}
	return figures(n.value, digits)
}

// figures writes v with so many significant figures, all figures of a whole
// number part, and no trailing zeros.
func figures(v float64, digits int) string {
	size := math.Abs(v)
	switch {
	case v == 0:
		return "0"
	case math.IsNaN(v) || math.IsInf(v, 0):
		return strconv.FormatFloat(v, 'g', -1, 64)
	case size >= 1e15 || size < 1e-4:
		mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', digits-1, 64), "e")
		return strings.TrimRight(strings.TrimRight(mantissa, "0"), ".") + "e" + exponent
	}
	text := strconv.FormatFloat(v, 'f', max(0, digits-1-int(math.Floor(math.Log10(size)))), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// round chooses how many digits every number is shown with: five, and more in
// those from which another is worked out that would else come out differently
// in its last digit. It goes from the last number to the first, because a
// number's digits follow from what is made of it, and again until nothing
// changes.
//
// What does not come out of all digits, as at the end of hundreds of steps that
// each go on from the one before, is shown as it comes out of them, if that is the
// same to nine digits. Otherwise it has fewer digits, and all is done again.
func (p *paper) round() {
	for i := range p.numbers {
		p.settleNothing(&p.numbers[i])
		p.numbers[i].exact = p.numbers[i].value
	}
	for {
		for i := range p.numbers {
			n := &p.numbers[i]
			n.digits, n.value = min(leastDigits, n.mostDigits()), n.exact
		}
		if worst := p.raise(); worst != nil {
			worst.most = worst.digits - 1
			continue
		}
		return
	}
}

// raise gives digits to the numbers until every one comes out of those that it
// is made of. It returns the first that cannot, if it can have fewer digits.
func (p *paper) raise() *number {
	for changed := true; changed; {
		changed = false
		for i := len(p.numbers) - 1; i >= 0; i-- {
			n := &p.numbers[i]
			if n.expression == nil {
				continue
			}
			before := n.value
			raised, ok := p.comesOut(n)
			if !ok {
				if n.digits > 1 {
					return n
				}
				continue
			}
			// No number stays no number, and is never equal to what it was.
			changed = changed || raised || n.value != before && !math.IsNaN(n.value)
		}
	}
	return nil
}

// comesOut gives the numbers that n is made of the digits that it takes for n
// to come out as it is shown, and reports whether they got any and whether it can be done.
func (p *paper) comesOut(n *number) (raised, ok bool) {
	for with := leastDigits; with <= mostDigits; with++ {
		value := p.evaluate(n, with)
		same := n.same(value, p.largest(n))
		if !same && with == mostDigits && math.Abs(value-n.exact) <= sameShare*math.Abs(n.exact) {
			n.value, same = value, true
		}
		if same {
			for _, from := range n.from {
				x := &p.numbers[from]
				raised = raised || x.with(with) > x.digits
				x.digits = x.with(with)
			}
			return raised, true
		}
	}
	return false, false
}

// mostDigits is how many digits n can have.
func (n *number) mostDigits() int {
	if n.most > 0 {
		return n.most
	}
	return mostDigits
}

// with is how many digits n has when it is to have as many as these.
func (n *number) with(digits int) int { return max(n.digits, min(digits, n.mostDigits())) }

// evaluate works n out from what is shown with so many digits.
func (p *paper) evaluate(n *number, digits int) float64 {
	return n.expression.Eval(func(symbol string) (float64, bool) {
		i, ok := n.from[symbol]
		if !ok {
			return 0, false
		}
		from := &p.numbers[i]
		v, err := strconv.ParseFloat(from.textOf(from.with(digits)), 64)
		return v, err == nil
	})
}

// same reports whether v is shown as n is.
func (n *number) same(v, among float64) bool {
	if n.nothing {
		return math.Abs(v) <= 1e-9*among
	}
	return figures(v, n.digits) == figures(n.value, n.digits)
}

// largest is the largest number that n is made of.
func (p *paper) largest(n *number) float64 {
	largest := 0.0
	for _, i := range n.from {
		largest = math.Max(largest, math.Abs(p.numbers[i].value))
	}
	return largest
}

// settleNothing takes what is left of the binary rounding of larger numbers for 0.
func (p *paper) settleNothing(n *number) {
	if n.expression != nil {
		n.nothing = math.Abs(n.value) <= nothing*n.expression.size(func(symbol string) (float64, bool) {
			i, ok := n.from[symbol]
			return p.numbers[i].value, ok
		})
	}
}
