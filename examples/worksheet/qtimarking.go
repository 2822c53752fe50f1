package main

import (
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A marking writes the scheme of an exercise in the rules of QTI, so that a
// platform marks as the library does: by tolerance, with the likely mistake
// told, and step by step, an earlier wrong number followed through.
type marking struct {
	key    *exercise.Key
	scheme exercise.Scheme
	asked  *exercise.Asked
	last   int // the blank that is the answer; -1 if there are none
}

func newMarking(it *item) *marking {
	return &marking{it.key, it.key.Scheme(), &it.exercise.Asked, len(it.key.Blanks) - 1}
}

// The outcomes. Those with a number behind them belong to a blank.
const (
	outScore    = "SCORE"
	outMost     = "MAXSCORE"
	outTold     = "FEEDBACK"   // what is told of the answer
	outAnswer   = "ANSWER"     // what the answer alone is worth
	outCredits  = "CREDITS"    // blanks that are right or follow
	outStepTold = "FEEDBACK_"  // what is told of a step
	outHeld     = "HELD_"      // its number, in the unit that the relations are written in
	outFollows  = "FOLLOWS_"   // what the earlier numbers make of it
	outWrong    = "WRONG_"     // 1 if it is not right
	toldUnread  = "not-read"   // no number
	toldNone    = "not-filled" // nothing
)

func numbered(outcome string, n int) string { return outcome + strconv.Itoa(n+1) }

// outcomes declares what the marking finds.
func (m *marking) outcomes() []*element {
	score := declareOutcome(outScore, "float")
	score.attributes = append(score.attributes, "normal-maximum", "1", "normal-minimum", "0")
	most := tag("qti-outcome-declaration", "identifier", outMost, "cardinality", "single", "base-type", "float").in(
		tag("qti-default-value").in(tag("qti-value").say("1")),
	)
	out := []*element{score, most, declareOutcome(outTold, "identifier"), declareOutcome(outAnswer, "float"), declareOutcome(outCredits, "float")}
	for n := range m.scheme.Steps {
		out = append(out, declareOutcome(numbered(outStepTold, n), "identifier"), declareOutcome(numbered(outHeld, n), "float"),
			declareOutcome(numbered(outFollows, n), "float"), declareOutcome(numbered(outWrong, n), "float"))
	}
	return out
}

// entries are the blanks of the working and the answer, each with what is told of it.
func (m *marking) entries() []*element {
	var out []*element
	if m.last > 0 {
		out = append(out, tag("h2").say("Working"), tag("p").say("Fill in what you work out. A number that is missing costs nothing if the answer is right."), m.symbols())
	}
	for n := range m.key.Blanks[:max(m.last, 0)] {
		b := &m.key.Blanks[n]
		told := numbered(outStepTold, n)
		line := tag("p").say(b.Words+": "+b.Symbol+" = ").in(
			entry(stepResponse(n), b.Words+", "+b.Symbol, b.Unit),
			feedback("qti-feedback-inline", told, string(exercise.Right), "Right."),
			feedback("qti-feedback-inline", told, string(exercise.Followed), exercise.FollowedStep),
			feedback("qti-feedback-inline", told, string(exercise.Wrong), m.key.WrongStep(n)),
			feedback("qti-feedback-inline", told, toldUnread, onlyNumber),
		)
		out = append(out, line)
	}
	out = append(out,
		tag("h2").say("Answer"),
		tag("p").say(m.words()+": ").in(entry(answerResponse, m.words(), m.asked.Unit)),
	)
	told := map[string]bool{}
	tell := func(value, says string) {
		if !told[value] {
			told[value] = true
			out = append(out, feedback("qti-feedback-block", outTold, value, says))
		}
	}
	for _, b := range m.scheme.Bands {
		tell(marked(b.Mark), b.Mark.Says)
	}
	tell(marked(m.scheme.Else), m.scheme.Else.Says)
	tell(string(exercise.Followed), exercise.FollowedAnswer)
	tell(toldUnread, onlyNumber)
	tell(toldNone, "There is no answer yet.")
	return out
}

// symbols says what the relations of the working call what is given.
func (m *marking) symbols() *element {
	out := tag("ul")
	for i := range m.key.Working {
		if s := &m.key.Working[i]; s.Kind != reckon.WorkedStep && s.Kind != reckon.ConversionStep {
			out.in(tag("li").say(s.Symbol + ": " + s.ID))
		}
	}
	return out
}

// processing is the marking.
func (m *marking) processing() *element {
	out := tag("qti-response-processing")
	for n := range m.scheme.Steps {
		out.in(m.step(n)...)
	}
	out.in(m.answer())
	if m.last < 0 {
		return out.in(setOutcome(outScore, variable(outAnswer)))
	}
	blanks := float64(m.last + 1)
	share := tag("qti-divide").in(variable(outCredits), number(blanks))
	return out.in(
		condition(tag("qti-match").in(variable(numbered(outStepTold, m.last)), word(string(exercise.Followed))), setOutcome(outTold, word(string(exercise.Followed)))),
		setOutcome(outScore, tag("qti-max").in(variable(outAnswer), share)),
		// All steps right and the answer not: the answer was one of them.
		condition(
			tag("qti-and").in(tag("qti-lt").in(variable(outAnswer), number(1)), tag("qti-gte").in(variable(outScore), number(1))),
			setOutcome(outScore, tag("qti-max").in(variable(outAnswer), number((blanks-1)/blanks))),
		),
	)
}

// answer marks the answer by itself.
func (m *marking) answer() *element {
	cases := []*element{
		branch("qti-response-if", isNull(answerResponse), setOutcome(outTold, word(toldNone))),
		branch("qti-response-else-if", noNumber(answerResponse), setOutcome(outTold, word(toldUnread))),
	}
	for i := 0; i < len(m.scheme.Bands); {
		worth := m.scheme.Bands[i].Mark
		either := tag("qti-or")
		for ; i < len(m.scheme.Bands) && m.scheme.Bands[i].Mark == worth; i++ {
			b := &m.scheme.Bands[i]
			either.in(equal(b.Low+(b.High-b.Low)/2, (b.High-b.Low)/2, variable(answerResponse)))
		}
		then := []*element{setOutcome(outTold, word(marked(worth)))}
		if worth.Score > 0 {
			then = append(then, setOutcome(outAnswer, number(worth.Score)))
		}
		cases = append(cases, branch("qti-response-else-if", either, then...))
	}
	cases = append(cases, tag("qti-response-else").in(setOutcome(outTold, word(marked(m.scheme.Else)))))
	return tag("qti-response-condition").in(cases...)
}

// step marks the number in a blank.
func (m *marking) step(n int) []*element {
	r := &m.scheme.Steps[n]
	response := stepResponse(n)
	if n == m.last {
		response = answerResponse
	}
	told, held, follows := numbered(outStepTold, n), numbered(outHeld, n), numbered(outFollows, n)
	credit := setOutcome(outCredits, tag("qti-sum").in(variable(outCredits), number(1)))
	wrong := setOutcome(numbered(outWrong, n), number(1))
	var out []*element
	// What is left out is taken to be done rightly, and what cannot be read to be right.
	left := []*element{setOutcome(held, number(r.Right))}
	cases := []*element{branch("qti-response-if", equal(r.Right, r.Tolerance, variable(held)), credit, setOutcome(told, word(string(exercise.Right))))}
	if from := qtiExpression(r.Follows); from != nil {
		out = append(out, setOutcome(follows, from))
		before := m.wrongBefore(n)
		left = append(left, condition(tag("qti-and").in(before, tag("qti-not").in(isNull(follows))), setOutcome(held, variable(follows))))
		cases = append(cases, branch("qti-response-else-if", m.followed(n, before), credit, wrong, setOutcome(told, word(string(exercise.Followed)))))
	}
	cases = append(cases, tag("qti-response-else").in(wrong, setOutcome(told, word(string(exercise.Wrong)))))
	return append(out, tag("qti-response-condition").in(
		branch("qti-response-if", isNull(response), left...),
		branch("qti-response-else-if", noNumber(response), setOutcome(held, number(r.Right)), setOutcome(told, word(toldUnread))),
		tag("qti-response-else").in(setOutcome(held, onScale(response, r.Scale)), tag("qti-response-condition").in(cases...)),
	))
}

// wrongBefore holds if a number before the blank is wrong.
func (m *marking) wrongBefore(n int) *element {
	sum := tag("qti-sum").in(number(0))
	for i := range n {
		sum.in(variable(numbered(outWrong, i)))
	}
	return tag("qti-gt").in(sum, number(0))
}

// followed holds if the number in the blank is what the earlier ones make of
// it, and that is neither impossible nor nothing nor one of them again.
func (m *marking) followed(n int, before *element) *element {
	r := &m.scheme.Steps[n]
	held, follows := numbered(outHeld, n), numbered(outFollows, n)
	reach := number(r.Tolerance)
	if r.Right != 0 { // the tolerance goes with the size of what should come out
		reach = tag("qti-max").in(number(r.Tolerance), tag("qti-product").in(number(r.Tolerance/math.Abs(r.Right)), abs(variable(follows))))
	}
	all := tag("qti-and").in(
		before,
		tag("qti-lte").in(apart(held, follows), reach),
		tag("qti-not").in(tag("qti-equal", "tolerance-mode", "exact").in(variable(follows), number(0))),
	)
	if r.Low > -math.MaxFloat64 {
		all.in(tag("qti-gte").in(variable(follows), number(r.Low)))
	}
	if r.High < math.MaxFloat64 {
		all.in(tag("qti-lte").in(variable(follows), number(r.High)))
	}
	for _, symbol := range r.Follows.Symbols() {
		again := tag("qti-lte").in(apart(outHeld+symbol, follows), tag("qti-product").in(number(sameAgain), abs(variable(follows))))
		all.in(tag("qti-not").in(tag("qti-and").in(tag("qti-gt").in(variable(outWrong+symbol), number(0)), again)))
	}
	return all
}

// sameAgain is how near two numbers are that are the same but for binary rounding.
const sameAgain = 1e-9

// words are what is asked, with its symbol.
func (m *marking) words() string {
	if m.asked.Symbol == "" {
		return m.asked.Words
	}
	return m.asked.Words + ", " + m.asked.Symbol
}

// qtiFunctions are the functions that a relation may have and QTI has too.
var qtiFunctions = map[string]string{"abs": "abs", "exp": "exp", "ln": "ln", "sin": "sin", "cos": "cos"}

// qtiExpression writes a relation in the operators of QTI; nil if there is
// none, or one with a function that they lack.
func qtiExpression(e *reckon.Expression) *element {
	if e == nil {
		return nil
	}
	switch {
	case e.Op == 'n':
		return number(e.Number)
	case e.Op == 's' && e.Name == "pi":
		return tag("qti-math-constant", "name", "pi")
	case e.Op == 's':
		return variable(outHeld + e.Name)
	case e.Op == 'f' && e.Name == "count":
		return number(float64(len(e.Args)))
	}
	args := make([]*element, len(e.Args))
	for i, a := range e.Args {
		if args[i] = qtiExpression(a); args[i] == nil {
			return nil
		}
	}
	switch {
	case e.Op == '+':
		return tag("qti-sum").in(args...)
	case e.Op == '-':
		return tag("qti-subtract").in(args...)
	case e.Op == '*':
		return tag("qti-product").in(args...)
	case e.Op == '/':
		return tag("qti-divide").in(args...)
	case e.Op == '~':
		return tag("qti-product").in(number(-1), args[0])
	case e.Name == "min", e.Name == "max":
		return tag("qti-" + e.Name).in(args...)
	case e.Name == "pow":
		return tag("qti-power").in(args...)
	case e.Name == "sqrt":
		return tag("qti-power").in(args[0], number(0.5))
	case e.Name == "round":
		return toFloat(tag("qti-round").in(args[0]))
	case e.Name == "floor": // what lies hardly below a whole number is that number
		return toFloat(tag("qti-math-operator", "name", "floor").in(tag("qti-sum").in(args[0], number(sameAgain))))
	case e.Name == "ceil":
		return toFloat(tag("qti-math-operator", "name", "ceil").in(tag("qti-subtract").in(args[0], number(sameAgain))))
	}
	if own, ok := qtiFunctions[e.Name]; ok {
		return tag("qti-math-operator", "name", own).in(args[0])
	}
	return nil
}

// toFloat makes an integer one of the numbers that everything else is.
func toFloat(e *element) *element { return tag("qti-integer-to-float").in(e) }

// onScale is a response in the unit that the relations are written in.
func onScale(response string, s unit.Scale) *element {
	out := variable(response)
	if s.Zero != 0 {
		out = tag("qti-subtract").in(out, number(s.Zero))
	}
	if s.Mul != 1 {
		out = tag("qti-product").in(out, number(s.Mul))
	}
	if s.Div != 1 {
		out = tag("qti-divide").in(out, number(s.Div))
	}
	return out
}

func number(v float64) *element {
	return tag("qti-base-value", "base-type", "float").say(decimal(v))
}

func word(text string) *element {
	return tag("qti-base-value", "base-type", "identifier").say(text)
}

func variable(name string) *element { return tag("qti-variable", "identifier", name) }

func isNull(name string) *element { return tag("qti-is-null").in(variable(name)) }

// noNumber holds for what a platform lets pass as an answer though it is none:
// a number is either below 0 or not.
func noNumber(name string) *element {
	return tag("qti-not").in(tag("qti-or").in(tag("qti-lt").in(variable(name), number(0)), tag("qti-gte").in(variable(name), number(0))))
}

// equal holds for what is within reach of v, which stands first: the tolerance is laid around it.
func equal(v, reach float64, of *element) *element {
	return tag("qti-equal", "tolerance-mode", "absolute", "tolerance", strings.Join([]string{decimal(reach), decimal(reach)}, " ")).in(number(v), of)
}

func abs(of *element) *element { return tag("qti-math-operator", "name", "abs").in(of) }

// apart is how far two numbers lie apart.
func apart(a, b string) *element { return abs(tag("qti-subtract").in(variable(a), variable(b))) }

func setOutcome(name string, to *element) *element {
	return tag("qti-set-outcome-value", "identifier", name).in(to)
}

func branch(name string, when *element, then ...*element) *element {
	return tag(name).in(when).in(then...)
}

func condition(when *element, then ...*element) *element {
	return tag("qti-response-condition").in(branch("qti-response-if", when, then...))
}
