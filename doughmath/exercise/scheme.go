package exercise

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Scheme is the marking of an exercise as plain data, for whoever marks
// without this library: on a learning platform, say. An answer is a number in
// the unit asked; that it has zeros behind its last figure cannot be seen in it.
type Scheme struct {
	Bands []Band     // the first that holds the answer counts
	Else  Mark       // what an answer in none of them is worth
	Steps []StepRule // one for each blank, the last of them the answer
}

// A Band is a stretch of numbers that are worth the same, in the unit asked.
type Band struct {
	Low, High float64 // both included
	Mark      Mark    // with nothing in Read
}

// A StepRule says when the number in a blank is right, and when it follows
// rightly from an earlier one that is wrong. It speaks of numbers in the unit
// held: Scale.Held makes one of a number in the unit of the blank.
type StepRule struct {
	Scale     unit.Scale
	Right     float64
	Tolerance float64            // how far off a number may be
	Follows   *reckon.Expression // what the earlier blanks make of it: the symbol "2" is the number in the second; nil if it rests on none
	Low, High float64            // what follows counts within these alone, and if it is not 0
}

// Scheme returns the marking as plain data.
func (k *Key) Scheme() Scheme {
	e := k.exercise
	out := Scheme{Steps: make([]StepRule, len(k.blanks)), Else: Mark{Verdict: Wrong, Says: notRight}}
	for i := range k.blanks {
		out.Steps[i] = k.blanks[i].rule
	}
	right := e.marked(e.held)
	if !e.outlet.whole {
		out.Bands = e.points()
		right = e.compare(reading{held: e.held, round: e.lastAsked() / 10}) // whatever else is that near has more figures
	}
	out.Bands = append(out.Bands, e.band(e.held, e.within(), right))
	out.Bands = append(out.Bands, e.stretches()...)
	return out
}

// lastAsked is what one in the last figure asked for counts, in the unit held.
func (e *Exercise) lastAsked() float64 {
	return float64(e.Asked.stepHeld * lastOfStep(e.Asked.Step) / e.Asked.Step)
}

// marked is what a value is worth if it is written as finely as asked.
func (e *Exercise) marked(held float64) Mark {
	return e.compare(reading{held: held, round: e.lastAsked()})
}

// within is how far off a right answer may be, in the unit held.
func (e *Exercise) within() float64 { return e.Asked.tolerance + float64(slack*math.Abs(e.held)) }

// band is the numbers within reach of a value held.
func (e *Exercise) band(held, reach float64, m Mark) Band {
	return Band{shown(e.outlet.quantity, held-reach, e.Asked.Unit), shown(e.outlet.quantity, held+reach, e.Asked.Unit), m}
}

// points are the single numbers that are right, and those that are right but
// for their rounding.
func (e *Exercise) points() []Band {
	var out []Band
	v := shown(e.outlet.quantity, e.held, e.Asked.Unit)
	add := func(x, step float64, want Verdict) {
		number, err := strconv.ParseFloat(atSteps(x, step), 64)
		if err != nil || slices.ContainsFunc(out, func(b Band) bool { return b.Low <= number && number <= b.High }) {
			return
		}
		if m := e.Mark(strings.TrimSpace(strconv.FormatFloat(number, 'f', -1, 64) + " " + e.Asked.Unit)); m.Verdict == want {
			m.Read = ""
			reach := float64(slack * math.Max(math.Abs(number), step))
			out = append(out, Band{number - reach, number + reach, m})
		}
	}
	last := lastOfStep(e.Asked.Step)
	for n := -e.Asked.Step; n <= e.Asked.Step*(1+slack); n += last {
		add(v+n, last, Right)
		add(v+n+float64(last/2), last, Right) // of the two next to it
	}
	for n := exponent(last) + 1; n <= exponent(v)+1; n++ {
		step := powerOfTen(n)
		add(math.Floor(v/step)*step, step, TooFewDigits)
		add(math.Ceil(v/step)*step, step, TooFewDigits)
	}
	return out
}

// stretches are the numbers around the answer and the likely mistakes that are
// worth something or show something. The marking itself says what: it is asked
// once between every two places where it may change.
func (e *Exercise) stretches() []Band {
	var at []float64
	around := func(held, reach float64) { at = append(at, held-reach, held+reach) }
	for i := range e.mistakes {
		held, reach := e.mistakeReach(i)
		around(held, reach)
		for j := range i {
			other, _ := e.mistakeReach(j)
			at = append(at, other+float64((held-other)/2))
		}
	}
	around(e.held, e.within())
	around(e.held, float64(nearlyReaches*e.within()))
	slices.Sort(at)
	var out []Band
	for i := range at[1:] {
		m := e.marked(at[i] + float64((at[i+1]-at[i])/2))
		if at[i] == at[i+1] || m.Verdict != Mistaken && m.Verdict != Nearly {
			continue
		}
		low, high := shown(e.outlet.quantity, at[i], e.Asked.Unit), shown(e.outlet.quantity, at[i+1], e.Asked.Unit)
		if last := len(out) - 1; last >= 0 && out[last].High == low && out[last].Mark == m {
			out[last].High = high
			continue
		}
		out = append(out, Band{low, high, m})
	}
	// Where two meet, the mistake is told.
	slices.SortStableFunc(out, func(a, b Band) int { return rank(a.Mark.Verdict) - rank(b.Mark.Verdict) })
	return out
}

func rank(v Verdict) int {
	if v == Mistaken {
		return 0
	}
	return 1
}

// rule states how the blank of the step is marked.
func (k *Key) rule(s *reckon.Step, scale unit.Scale, tolerance float64, isTemp bool) StepRule {
	r := StepRule{Scale: scale, Right: s.Value, Tolerance: tolerance + float64(slack*math.Abs(s.Value)), Follows: k.resolved(s)}
	switch {
	case isTemp || strings.HasPrefix(s.Unit, unit.SumOfTemps):
		r.Low, r.High = s.Value-farTemp, s.Value+farTemp
	case math.Signbit(s.Value):
		r.Low = -math.MaxFloat64
	default:
		r.High = math.MaxFloat64
	}
	return r
}

// resolved is the expression of a step with the numbers of the blanks before
// it for symbols, and all else put in; nil if it rests on no blank.
func (k *Key) resolved(s *reckon.Step) *reckon.Expression {
	e, err := reckon.ParseExpression(s.Expression)
	if err != nil {
		return nil
	}
	rests := false
	var put func(*reckon.Expression) *reckon.Expression
	put = func(e *reckon.Expression) *reckon.Expression {
		if e.Op == 's' {
			known, ok := k.known[e.Name]
			if !ok {
				return e // pi
			}
			rests = rests || known.Op == 's'
			return known
		}
		out := *e
		out.Args = make([]*reckon.Expression, len(e.Args))
		for i, a := range e.Args {
			out.Args[i] = put(a)
		}
		return &out
	}
	if e = put(e); !rests {
		return nil
	}
	return e
}

// knows notes what a symbol stands for from now on: the number of the blank
// just opened, that of the blank which the step repeats, or what is given.
func (k *Key) knows(s *reckon.Step, blank bool) {
	known := &reckon.Expression{Op: 'n', Number: s.Value}
	if blank {
		known = &reckon.Expression{Op: 's', Name: strconv.Itoa(len(k.blanks))}
	} else if copied := k.known[s.Expression]; copied != nil && isCopy(s) {
		known = copied
	}
	k.known[s.Symbol] = known
}
