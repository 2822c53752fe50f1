package reckon

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"example.com/dough/doughmath/unit"
)

// ConversionStep is the kind of a shown step that puts a number into another
// unit. It occurs only among what [ShowSteps] returns.
const ConversionStep StepKind = "conversion"

// A ShownStep is a step as it is written on paper. Whoever keys Numbers into a
// calculator, as they stand, gets Value to its last digit shown.
type ShownStep struct {
	Kind       StepKind `json:"kind"`
	ID         string   `json:"id"`
	Symbol     string   `json:"symbol,omitempty"`     // of a conversion too: the number changes, the thing does not
	Expression string   `json:"expression,omitempty"` // in symbols
	Numbers    string   `json:"numbers,omitempty"`    // the same with the numbers shown above it
	Value      string   `json:"value,omitempty"`
	Unit       string   `json:"unit,omitempty"`
	Constants  string   `json:"constants,omitempty"` // which numbers of the expression convert
	Source     string   `json:"source,omitempty"`
}

// Chain is the expression, the same with its numbers, and what they make.
func (s *ShownStep) Chain() string {
	text := ""
	if s.Expression != "" {
		text = s.Expression + " = "
	}
	if s.Numbers != "" && s.Numbers != s.Expression && s.Numbers != s.Value {
		text += s.Numbers + " = "
	}
	return text + s.Result()
}

// Result is the value with its unit.
func (s *ShownStep) Result() string {
	if s.Unit == "" {
		return s.Value
	}
	return s.Value + " " + s.Unit
}

// Note is the source and what the numbers stand for that convert.
func (s *ShownStep) Note() string {
	if s.Source != "" && s.Constants != "" {
		return s.Source + "; " + s.Constants
	}
	return s.Source + s.Constants
}

// ShowSteps writes a working out in units of sys.
//
// An input stands as it was typed, if that is known and its unit belongs to sys
// (in metric units, whatever it is), and otherwise in the unit in which a person
// reads it. An expression that comes out right in those units is shown in them:
// a sum of temperatures, a ratio, an area in inches. Any other holds in the
// units that it was written for, so its numbers are converted first, each by a
// step of its own, and so is a value of the answer at the end.
//
// A number that only converts, as the 60 in a rate times 60, falls out where the
// units fit one another without it: kilograms over kilograms an hour are hours.
//
// Numbers have five digits or as many more as it takes for every step to come
// out again from the numbers shown.
func ShowSteps(steps []Step, sys unit.System) []ShownStep {
	p := paper{sys: sys, known: map[string]*onPaper{}}
	for i := range steps {
		p.write(&steps[i])
	}
	p.round()
	for i := range p.lines {
		l := &p.lines[i]
		if l.number < 0 {
			continue
		}
		n := &p.numbers[l.number]
		l.Value = n.text()
		if !l.again {
			l.Numbers = substitute(n.formula, func(symbol string) (string, bool) {
				from, ok := n.from[symbol]
				if !ok {
					return "", false
				}
				return p.numbers[from].text(), true
			})
		}
	}
	out := make([]ShownStep, len(p.lines))
	for i := range p.lines {
		out[i] = p.lines[i].ShownStep
	}
	return out
}

// paper is a working while it is written out.
type paper struct {
	sys     unit.System
	known   map[string]*onPaper
	lines   []paperLine
	numbers []number
}

type paperLine struct {
	ShownStep
	number int  // in paper's numbers; -1 for a heading
	again  bool // the number stands above
}

// onPaper is what a symbol stands for, and its number in each unit in which it
// has been written down so far.
type onPaper struct {
	step            *Step
	read, sum, held unit.Scale         // on which a person reads it, on which values of its kind add up, on which expressions are written
	in              map[string]written // by unit
}

// written is where a value stands on paper.
type written struct {
	number int // in paper's numbers
	on     unit.Scale
}

func (p *paper) symbol(s *Step) *onPaper {
	o := &onPaper{step: s, held: unit.Scale{Unit: s.Unit, Mul: 1, Div: 1}, in: map[string]written{}}
	o.read, o.sum = unit.Scales(s.Unit, s.Value, p.sys)
	return o
}

func (p *paper) write(s *Step) {
	if s.Symbol == "" {
		p.lines = append(p.lines, paperLine{ShownStep: ShownStep{Kind: HeadingStep, ID: s.ID}, number: -1})
		return
	}
	o := p.symbol(s)
	e, err := ParseExpression(s.Expression)
	switch {
	case err != nil: // there is none, or it makes no sense
		p.given(o)
	case s.Expression == s.Symbol && p.known[s.Symbol] != nil: // it stands above under this symbol
		p.again(o)
	default:
		if p.worked(o, e); s.Kind == CheckStep {
			return
		}
	}
	p.known[s.Symbol] = o
}

// again writes down what stands above under the same symbol.
func (p *paper) again(o *onPaper) {
	before := p.known[o.step.Symbol]
	o.read, o.in = before.read, before.in
	p.line(o.step, o.read.Unit, p.convert(o, o.read))
	l := &p.lines[len(p.lines)-1]
	l.Expression, l.again = "", true
}

// given writes down what is not worked out.
func (p *paper) given(o *onPaper) {
	s := o.step
	if digits, scale, ok := p.typed(s); ok {
		n := p.number(number{value: scale.Number(s.Value), typed: digits})
		p.line(s, scale.Unit, n)
		o.in[scale.Unit] = written{n, scale}
		if unit.Belongs(s.Unit, scale.Unit, p.sys) {
			o.read = scale
		}
		return
	}
	n := p.number(number{value: o.read.Number(s.Value)})
	p.line(s, o.read.Unit, n)
	o.in[o.read.Unit] = written{n, o.read}
}

// typed returns the number that was typed, if it is one number with a unit.
func (p *paper) typed(s *Step) (digits string, scale unit.Scale, ok bool) {
	digits, symbol, _ := strings.Cut(s.Typed, " ")
	if symbol == "" {
		at := strings.LastIndexAny(s.Typed, "0123456789.") + 1
		digits, symbol = s.Typed[:at], s.Typed[at:]
	}
	scale = unit.Scale{Unit: s.Unit, Mul: 1, Div: 1}
	if s.Unit != "" || symbol != "" {
		scale, _ = unit.ScaleOf(s.Unit, strings.TrimSpace(symbol)) // of none that it has, no number is alike
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || strings.ContainsAny(digits, "+xXeE_pP") || !alike(scale.Held(v), s.Value, 0) {
		return "", scale, false
	}
	return digits, scale, p.sys == unit.Metric || unit.Belongs(s.Unit, scale.Unit, p.sys)
}

// alike reports whether two ways to the same number came to the same, but for
// what binary rounding leaves of a difference of numbers of this size.
func alike(x, y, size float64) bool {
	return math.Abs(x-y) <= float64(1e-9*math.Abs(y))+float64(nothing*size)
}

// nothing is how much of larger numbers may be left by binary rounding where
// their difference is 0.
const nothing = 1e-13

// size is that of the larger side of a sum or a difference; 0 for anything else.
func (e *Expression) size(value func(string) (float64, bool)) float64 {
	if e.Op != '+' && e.Op != '-' {
		return 0
	}
	return math.Max(math.Abs(e.Args[0].Eval(value)), math.Abs(e.Args[1].Eval(value)))
}

// A way is how a step can be written down.
type way struct {
	formula string
	e       *Expression
	of      map[string]unit.Scale // by symbol
	result  unit.Scale
}

// worked writes down a step, in the way that takes the fewest conversions.
func (p *paper) worked(o *onPaper, e *Expression) {
	var best way
	fewest := math.MaxInt
	for _, w := range p.ways(o, e) {
		if n := p.conversions(o, &w); n < fewest {
			best, fewest = w, n
		}
	}
	from := map[string]int{}
	for _, symbol := range best.e.Symbols() {
		if operand, ok := p.known[symbol]; ok {
			from[symbol] = p.convert(operand, best.of[symbol])
		}
	}
	n := p.number(number{value: best.result.Number(o.step.Value), formula: best.formula, expression: best.e, from: from})
	p.line(o.step, best.result.Unit, n)
	if l := &p.lines[len(p.lines)-1]; best.formula != o.step.Expression {
		l.Expression, l.Constants = best.formula, ""
	}
	o.in[best.result.Unit] = written{n, best.result}
	if o.step.Answer {
		p.convert(o, o.read)
		if strings.HasPrefix(o.step.Unit, unit.SumOfTemps) && p.sys == unit.US {
			// The answer has it as so many degrees above freezing.
			_, degrees := unit.Scales("C°", 0, p.sys)
			p.convert(o, degrees)
		}
	}
}

// ways are those in which the step comes out right: first as people read the
// numbers, last in the units that the expression was written for.
func (p *paper) ways(o *onPaper, e *Expression) (right []way) {
	symbols := e.Symbols()
	on := func(scale func(*onPaper) unit.Scale) map[string]unit.Scale {
		of := map[string]unit.Scale{}
		for _, symbol := range symbols {
			if operand, ok := p.known[symbol]; ok {
				of[symbol] = scale(operand)
			}
		}
		return of
	}
	common := p.common(o, symbols)
	read, alike := on(func(x *onPaper) unit.Scale { return x.read }), on(common)
	try := func(formula string, e *Expression, of map[string]unit.Scale, result unit.Scale) {
		w := way{formula, e, of, result}
		if p.comesTo(o, &w) {
			right = append(right, w)
		}
	}
	try(o.step.Expression, e, read, o.read)
	try(o.step.Expression, e, alike, common(o))
	if plain, err := ParseExpression(o.step.Plain); err == nil {
		for _, scale := range append([]unit.Scale{o.read}, unit.AllScales(o.step.Unit)...) {
			if unit.Belongs(o.step.Unit, scale.Unit, p.sys) {
				try(o.step.Plain, plain, read, scale)
				try(o.step.Plain, plain, alike, scale)
				for _, clock := range unit.AllScales("s") { // two hours at pieces a minute are 120 minutes
					try(o.step.Plain, plain, on(func(x *onPaper) unit.Scale {
						if x.step.Unit == "s" {
							return clock
						}
						return x.read
					}), scale)
				}
			}
		}
	}
	try(o.step.Expression, e, on(func(x *onPaper) unit.Scale { return x.sum }), o.sum)
	return append(right, way{o.step.Expression, e, on(func(x *onPaper) unit.Scale { return x.held }), o.held})
}

// common returns one scale for all values of a kind: that on which most of
// them are written already.
func (p *paper) common(result *onPaper, symbols []string) func(*onPaper) unit.Scale {
	times := map[string]int{}
	most := map[string]unit.Scale{}
	for _, symbol := range symbols {
		operand, ok := p.known[symbol]
		if !ok {
			continue
		}
		held := operand.step.Unit
		for _, scale := range append([]unit.Scale{operand.read, operand.sum}, unit.AllScales(held)...) {
			if _, there := operand.in[scale.Unit]; !there || !unit.Belongs(held, scale.Unit, p.sys) {
				continue
			}
			times[held+" in "+scale.Unit]++
			if best, there := most[held]; !there || times[held+" in "+scale.Unit] > times[held+" in "+best.Unit] {
				most[held] = scale
			}
		}
	}
	return func(x *onPaper) unit.Scale {
		if scale, ok := most[x.step.Unit]; ok {
			return scale
		}
		return x.read
	}
}

// conversions counts those that w takes.
func (p *paper) conversions(o *onPaper, w *way) (n int) {
	for symbol, scale := range w.of {
		if _, there := p.known[symbol].in[scale.Unit]; !there {
			n++
		}
	}
	if w.result.Unit != o.read.Unit && (o.step.Answer || !unit.Belongs(o.step.Unit, w.result.Unit, p.sys)) {
		n++
	}
	return n
}

// comesTo reports whether the step comes out right in this way.
func (p *paper) comesTo(o *onPaper, w *way) bool {
	number := func(symbol string) (float64, bool) {
		scale, known := w.of[symbol]
		if !known {
			return 0, false
		}
		return scale.Number(p.known[symbol].step.Value), true
	}
	return alike(w.e.Eval(number), w.result.Number(o.step.Value), w.e.size(number))
}

// convert returns the number of o on a scale, and writes the conversion down
// if it is not there yet.
func (p *paper) convert(o *onPaper, to unit.Scale) int {
	if there, ok := o.in[to.Unit]; ok {
		return there.number
	}
	from := written{number: -1}
	for _, x := range o.in { // the first that was written is the one that is known
		if from.number < 0 || x.number < from.number {
			from = x
		}
	}
	formula := conversion(from.on, to)
	e, err := ParseExpression(formula)
	if err != nil {
		return from.number
	}
	n := p.number(number{
		value: to.Number(o.step.Value), formula: formula, expression: e, from: map[string]int{"x": from.number},
	})
	p.lines = append(p.lines, paperLine{ShownStep: ShownStep{Kind: ConversionStep, ID: o.step.ID + ", in " + to.Unit, Symbol: o.step.Symbol, Unit: to.Unit}, number: n})
	o.in[to.Unit] = written{n, to}
	return n
}

// conversion is the arithmetic that takes x from one scale to another.
func conversion(from, to unit.Scale) string {
	text := "x"
	if from.Zero != 0 {
		text = "(x - " + Text(from.Zero) + ")"
	}
	ratio := float64(from.Mul*to.Div) / float64(from.Div*to.Mul)
	up, down := []float64{from.Mul, to.Div}, []float64{from.Div, to.Mul}
	switch { // 60 rather than 3600/60
	case isWhole(ratio):
		up, down = []float64{math.Round(ratio)}, nil
	case isWhole(1 / ratio):
		up, down = nil, []float64{math.Round(1 / ratio)}
	}
	for i := range up {
		for j := range down {
			if up[i] == down[j] { // as the pounds in ounces to pounds
				up[i], down[j] = 1, 1
			}
		}
	}
	for _, f := range up {
		if f != 1 {
			text += "*" + exactly(f)
		}
	}
	for _, f := range down {
		if f != 1 {
			text += "/" + exactly(f)
		}
	}
	if to.Zero != 0 {
		text += " + " + Text(to.Zero)
	}
	return text
}

// isWhole reports whether a ratio of two exact factors is a whole number.
func isWhole(v float64) bool { return math.Abs(v-math.Round(v)) <= 1e-12*v }

func exactly(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func (p *paper) number(n number) int {
	p.numbers = append(p.numbers, n)
	return len(p.numbers) - 1
}

func (p *paper) line(s *Step, shown string, n int) {
	p.lines = append(p.lines, paperLine{ShownStep: ShownStep{
		Kind: s.Kind, ID: s.ID, Symbol: s.Symbol, Expression: s.Expression, Unit: shown, Constants: s.Constants, Source: s.Source,
	}, number: n})
}

// substitute puts numbers in the place of symbols.
func substitute(expression string, number func(symbol string) (string, bool)) string {
	var b strings.Builder
	for rest := expression; rest != ""; {
		start := strings.IndexFunc(rest, unicode.IsLetter)
		if start < 0 {
			b.WriteString(rest)
			break
		}
		after := strings.TrimLeftFunc(rest[start:], func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' })
		b.WriteString(rest[:start])
		word := strings.TrimSuffix(rest[start:], after)
		// The letter of a number such as 1e-9 is not a symbol.
		inNumber := start > 0 && isDigit(rest[start-1])
		if text, ok := number(word); ok && !inNumber {
			word = text
			if strings.HasPrefix(text, "-") {
				word = "(" + word + ")"
			}
		}
		b.WriteString(word)
		rest = after
	}
	return b.String()
}
