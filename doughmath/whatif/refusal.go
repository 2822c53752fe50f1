package whatif

import (
	"errors"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// A Refusal is one thing that stands in the way of an answer, as a program
// reads it: what it is, the value, the range that is accepted or can be
// reached, and which end of it binds.
type Refusal struct {
	reckon.Refusal
	Binds string `json:"binds,omitempty"` // "low" or "high": the limit that stands in the way, if it is a limit
	At    string `json:"at,omitempty"`    // the order that has no plan, such as "orders[2]"
}

// orderError is what one order of a scenario was refused for.
type orderError struct {
	at    string
	under func(field string) string // its path in the scenario
	err   error
}

func (e *orderError) Error() string { return e.at + ": " + e.err.Error() }
func (e *orderError) Unwrap() error { return e.err }

// gather joins what the part was refused for to what others were.
func (s *Subject) gather(failed error, part int, err error) error {
	if at := s.prefix(part); at != "" {
		err = &orderError{at, func(field string) string { return s.under(part, field) }, err}
	}
	if failed == nil {
		return err
	}
	return errors.Join(failed, err)
}

// refusals takes err apart. What several orders are refused for is told once.
func (s *Subject) refusals(err error) []Refusal {
	if err == nil {
		return nil
	}
	var out []Refusal
	told := map[Refusal]bool{}
	var take func(err error, order *orderError)
	take = func(err error, order *orderError) {
		if o, ok := err.(*orderError); ok { //nolint:errorlint // one at a time, its own kind alone
			take(o.err, o)
			return
		}
		if joined, ok := err.(interface{ Unwrap() []error }); ok { //nolint:errorlint // the same
			for _, inner := range joined.Unwrap() {
				take(inner, order)
			}
			return
		}
		for _, r := range reckon.Refusals(err) {
			all := Refusal{Refusal: r, Binds: binds(&r)}
			if order != nil {
				if all.Field != "" {
					all.Field = order.under(r.Field)
				}
				if all.Field == r.Field && all.Field != "" {
					order = nil // the line's or the shift's, whatever the order
				}
			}
			if order != nil {
				all.At = order.at
			}
			if !told[all] {
				told[all] = true
				out = append(out, all)
			}
		}
	}
	take(err, nil)
	return out
}

// binds says which end of a range stands in the way: the only one there is, or
// the one that the value lies beyond.
func binds(r *reckon.Refusal) string {
	switch {
	case r.Low == "" && r.High == "":
		return ""
	case r.Low == "":
		return "high"
	case r.High == "":
		return "low"
	}
	text := r.Value
	if text == "" {
		text = r.Wanted
	}
	v, ok := leading(text)
	low, lowOK := leading(r.Low)
	high, highOK := leading(r.High)
	if !ok || !lowOK || !highOK || v.unit != low.unit || v.unit != high.unit {
		return ""
	}
	switch {
	case v.x <= low.x:
		return "low"
	case v.x >= high.x:
		return "high"
	}
	return ""
}

type amount struct {
	x    float64
	unit string
}

// leading reads a number and its unit.
func leading(text string) (amount, bool) {
	number, unit, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(number, 64)
	return amount{x, unit}, err == nil
}
