package whatif

import (
	"errors"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
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
		if joined, ok := err.(interface{ Unwrap() []error }); ok {
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
// the one that the value lies beyond; "" where that cannot be told.
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
	for _, read := range readers {
		low, lowOK := read(r.Low)
		high, highOK := read(r.High)
		if !lowOK || !highOK {
			continue
		}
		v, ok := read(text)
		if !ok {
			v, ok = first(text, read)
		}
		switch {
		case ok && v <= low:
			return "low"
		case ok && v >= high:
			return "high"
		}
		return ""
	}
	return ""
}

// readers read a number of each kind: what the ends of a range are says which it is.
var readers = append(quantityReaders(), func(text string) (float64, bool) {
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
})

func quantityReaders() (out []func(text string) (float64, bool)) {
	for _, zero := range []unit.Quantity{
		unit.Mass(0), unit.Length(0), unit.Duration(0),
		unit.Temp{},
		unit.TempDelta(0), unit.Percent(0), unit.Speed(0),
		unit.StrokeRate(0), unit.PieceRate(0), unit.TrayRate(0), unit.RotationRate(0), unit.MassRate(0), unit.VolumeRate(0),
		unit.Volume(0), unit.Density(0), unit.SpecificVolume(0), unit.Pressure(0), unit.Power(0), unit.Energy(0), unit.SpecificEnergy(0),
		unit.SpecificHeat(0), unit.HeatTransfer(0), unit.Concentration(0), unit.GrowthRate(0),
	} {
		out = append(out, func(text string) (float64, bool) {
			v, err := unit.Parse(zero, text)
			return v, err == nil
		})
	}
	return out
}

// first reads the first number of a sentence: "a sheet 12 mm thick".
func first(text string, read func(string) (float64, bool)) (float64, bool) {
	words := strings.Fields(strings.Map(func(r rune) rune {
		if strings.ContainsRune(",;()", r) {
			return ' '
		}
		return r
	}, text))
	for i := range words {
		for n := min(6, len(words)-i); n > 0; n-- { // "1 h 30 min 5 s" is six
			if v, ok := read(strings.Join(words[i:i+n], " ")); ok {
				return v, true
			}
		}
	}
	return 0, false
}
