package exercise

import (
	"math"
	"strconv"
)

// A Verdict says in a word what became of an answer.
type Verdict string

// The verdicts.
const (
	Right         Verdict = "right"           // within the tolerance, as finely as asked
	TooManyDigits Verdict = "too-many-digits" // right, with figures that no instrument shows
	TooFewDigits  Verdict = "too-few-digits"  // the right value, rounded more coarsely than asked
	Nearly        Verdict = "nearly"          // a little beside it: something was rounded too early
	Mistaken      Verdict = "mistake"         // what a likely mistake comes to
	Followed      Verdict = "followed"        // it follows rightly from an earlier number, which is wrong
	Wrong         Verdict = "wrong"           // none of these
	WrongQuantity Verdict = "wrong-quantity"  // a weight where a temperature was asked
	Ambiguous     Verdict = "ambiguous"       // it may mean two things: ask back
	Unread        Verdict = "unread"          // no number and unit
	Empty         Verdict = "empty"           // nothing
)

// What an answer is worth. The scheme is the library's own: an instructor who
// weighs otherwise goes by the verdict.
const (
	rightScore    = 1.0
	tooManyScore  = 0.9
	tooFewScore   = 0.7
	nearlyScore   = 0.5
	nearlyReaches = 4 // times the tolerance
)

// A Mark is what an answer is worth and what to tell whoever gave it.
type Mark struct {
	Verdict Verdict `json:"verdict"`
	Score   float64 `json:"score"`            // 0 to 1
	Read    string  `json:"read,omitzero"`    // the answer as it was understood, in the unit asked
	Mistake string  `json:"mistake,omitzero"` // id of the [Mistake] that it shows
	Says    string  `json:"says"`             //
}

// Mark marks an answer, such as "20.5 °C" or "68,9 F". It never gives the
// right answer away.
func (e *Exercise) Mark(answer string) Mark {
	if !e.made() {
		return Mark{Verdict: Unread, Says: "This exercise has " + notMade + "."}
	}
	r, problem := readAnswer(answer, e.outlet.quantity, e.outlet.whole)
	if problem != nil {
		return Mark{Verdict: problem.verdict, Says: problem.says}
	}
	m := e.compare(r)
	m.Read = e.shownAs(r.held)
	return m
}

// made reports whether the exercise comes from Make: one that was read from
// JSON has no answer.
func (e *Exercise) made() bool { return e != nil && e.form != nil }

const notMade = "no answer with it: make it again from its Spec"

// shownAs writes a value with six figures in the unit asked.
func (e *Exercise) shownAs(held float64) string {
	if e.outlet.quantity == nil {
		return strconv.FormatFloat(held, 'g', 6, 64)
	}
	return strconv.FormatFloat(shown(e.outlet.quantity, held, e.Asked.Unit), 'g', 6, 64) + " " + e.Asked.Unit
}

// answerOf is the reading of a value that is written as finely as asked.
func (e *Exercise) answerOf(held float64) reading {
	r, problem := readAnswer(e.Asked.write(e.outlet.quantity, held), e.outlet.quantity, e.outlet.whole)
	if problem != nil {
		return reading{held: math.NaN()}
	}
	return r
}

// slack forgives what binary fractions lose.
const slack = 1e-9

// compare holds a reading against the answer and the likely mistakes.
func (e *Exercise) compare(r reading) Mark {
	a := &e.Asked
	off := math.Abs(r.held - e.held)
	tolerance := e.within()
	needed := e.lastAsked()
	switch {
	case off <= tolerance && !e.outlet.whole && r.round > 0 && r.round*10 <= needed*(1+slack):
		return Mark{Verdict: TooManyDigits, Score: tooManyScore, Says: "The value is right; give it " + a.Text() + ": no instrument shows more."}
	case off <= tolerance:
		return Mark{Verdict: Right, Score: rightScore, Says: "Right."}
	case !e.outlet.whole && r.held != 0 && r.round > needed*(1+slack) && off <= r.round/2*(1+slack) && r.round < math.Abs(e.held):
		return Mark{Verdict: TooFewDigits, Score: tooFewScore, Says: "That is the value rounded too coarsely; give it " + a.Text() + "."}
	}
	if m := e.nearest(r.held); m != nil {
		return Mark{Verdict: Mistaken, Mistake: m.ID, Says: m.Says}
	}
	if off <= nearlyReaches*tolerance && !e.outlet.whole {
		return Mark{Verdict: Nearly, Score: nearlyScore, Says: "Nearly: keep more figures on the way and round only at the end."}
	}
	return Mark{Verdict: Wrong, Says: notRight}
}

const notRight = "Not right. Take it step by step; the first hint says where to start."

// nearest is the likely mistake that the value shows, or nil.
func (e *Exercise) nearest(held float64) *Mistake {
	var found *Mistake
	best := math.Inf(1)
	for i := range e.mistakes {
		at, reach := e.mistakeReach(i)
		if off := math.Abs(at - held); off <= reach && off < best {
			found, best = e.mistakes[i].mistake, off
		}
	}
	return found
}

// mistakeReach is what a likely mistake comes to, as it would be written, and
// how far from it an answer may be that shows it.
func (e *Exercise) mistakeReach(i int) (at, reach float64) {
	m := &e.mistakes[i]
	at, reach = m.held, e.Asked.tolerance
	if e.outlet.whole {
		at = math.Round(at)
	}
	if m.mistake.Calculation == "" { // a slip of the unit: as fine as the answer is, in its own size
		reach *= math.Abs(m.held / e.held)
	}
	return at, reach + float64(slack*math.Abs(m.held))
}

// lastOfStep is what one more in the last decimal of a multiple of the step counts.
func lastOfStep(step float64) float64 {
	if d := decimalsOf(step); d > 0 {
		return powerOfTen(-d)
	}
	return powerOfTen(exponent(step))
}

// addSlips adds the slips of the unit that fit what is asked.
func (e *Exercise) addSlips() {
	for i := range unitMistakes {
		m := &unitMistakes[i]
		if m.Asked == e.Asked.Quantity && (m.Units == "" || m.Units == e.Spec.Units.String()) {
			held := slipFormulas()[i].Eval(func(string) (float64, bool) { return e.held, true })
			if math.Abs(held-e.held) > 2*e.Asked.tolerance {
				e.mistakes = append(e.mistakes, likely{m, held})
			}
		}
	}
}
