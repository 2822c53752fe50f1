package reckon

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// An Expression is the arithmetic of one step, taken apart. It is what a
// person can key into a calculator: numbers, symbols, +, -, *, /, parentheses
// and the functions that [Step] lists.
type Expression struct {
	// Op is '+', '-', '*' or '/' with two Args; '~' for the negative of one;
	// 'f' for the function called Name; 's' for the symbol Name; 'n' for Number.
	Op     byte
	Name   string
	Number float64
	Args   []*Expression
}

// functions are what an expression may call; min, max and count take one argument or more.
var functions = map[string]struct {
	one func(float64) float64
	two func(float64, float64) float64
}{
	"sqrt": {one: math.Sqrt}, "abs": {one: math.Abs}, "exp": {one: math.Exp}, "ln": {one: math.Log},
	"floor": {one: floor}, "ceil": {one: ceil}, "round": {one: math.Round}, "normal": {one: normal},
	"cos": {one: math.Cos}, "sin": {one: math.Sin}, "acosh": {one: math.Acosh},
	"min": {two: math.Min}, "max": {two: math.Max}, "pow": {two: math.Pow},
	"count": {}, // of what, it does not depend on
}

// nearly is how far a number may lie from a whole one and still be taken for
// it: 8.4/1.2 makes 7 pieces, which in binary is a little less. A person with a
// calculator sees 7. Of large numbers it is nearlyShare, which binary rounding takes.
const (
	nearly      = 1e-9
	nearlyShare = 1e-14
)

func floor(x float64) float64 {
	if whole := math.Round(x); math.Abs(x-whole) <= math.Max(nearly, nearlyShare*math.Abs(x)) {
		return whole
	}
	return math.Floor(x)
}

func ceil(x float64) float64 { return -floor(-x) }

// normal is the share of a standard normal distribution below z.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// ParseExpression takes an expression apart. The error says where it stopped.
//
// Angles are in radians. floor and ceil round down and up to a whole number,
// and take what lies within a billionth of a whole number for that number; round rounds halves away from zero. ln is the natural logarithm,
// pow(x, y) is x to the power y, count(x, y, ...) how many values there are, and
// normal(z) the share of a standard normal distribution below z.
func ParseExpression(text string) (*Expression, error) {
	p := expressionParser{text: text}
	e := p.sum()
	if p.next() != 0 {
		p.fail("an operator")
	}
	if p.err != nil {
		return nil, p.err
	}
	return e, nil
}

// maxExpressionDepth bounds the parentheses in parentheses.
const maxExpressionDepth = 64

type expressionParser struct {
	text  string
	at    int
	depth int
	err   error
}

func (p *expressionParser) fail(want string) *Expression {
	if p.err == nil {
		p.err = fmt.Errorf("expression %q: want %s at character %d", p.text, want, p.at+1)
	}
	return &Expression{Op: 'n', Number: math.NaN()}
}

// next returns the next byte that is not a space, or 0 at the end.
func (p *expressionParser) next() byte {
	for p.at < len(p.text) && p.text[p.at] == ' ' {
		p.at++
	}
	if p.at == len(p.text) {
		return 0
	}
	return p.text[p.at]
}

func (p *expressionParser) sum() *Expression {
	if p.depth++; p.depth > maxExpressionDepth {
		return p.fail("fewer parentheses in parentheses")
	}
	e := p.product()
	for op := p.next(); p.err == nil && (op == '+' || op == '-'); op = p.next() {
		p.at++
		e = &Expression{Op: op, Args: []*Expression{e, p.product()}}
	}
	p.depth--
	return e
}

func (p *expressionParser) product() *Expression {
	e := p.factor()
	for op := p.next(); p.err == nil && (op == '*' || op == '/'); op = p.next() {
		p.at++
		e = &Expression{Op: op, Args: []*Expression{e, p.factor()}}
	}
	return e
}

func (p *expressionParser) factor() *Expression {
	switch c := p.next(); {
	case c == '-':
		p.at++
		if p.depth++; p.depth > maxExpressionDepth {
			return p.fail("fewer signs in a row")
		}
		e := &Expression{Op: '~', Args: []*Expression{p.factor()}}
		p.depth--
		return e
	case c == '(':
		p.at++
		e := p.sum()
		p.expect(')')
		return e
	case isDigit(c) || c == '.':
		return p.number()
	case isLetter(c):
		start := p.at
		for p.at < len(p.text) && (isLetter(p.text[p.at]) || isDigit(p.text[p.at])) {
			p.at++
		}
		name := p.text[start:p.at]
		if p.next() != '(' {
			return &Expression{Op: 's', Name: name}
		}
		return p.call(name)
	}
	return p.fail("a number or a symbol")
}

func (p *expressionParser) expect(c byte) {
	if p.next() != c {
		p.fail(strconv.QuoteRune(rune(c)))
		return
	}
	p.at++
}

func (p *expressionParser) number() *Expression {
	start := p.at
	for p.at < len(p.text) && (isDigit(p.text[p.at]) || p.text[p.at] == '.') {
		p.at++
	}
	if p.at+1 < len(p.text) && p.text[p.at] == 'e' {
		exponent := p.at + 1
		if p.text[exponent] == '-' || p.text[exponent] == '+' {
			exponent++
		}
		if exponent < len(p.text) && isDigit(p.text[exponent]) {
			for p.at = exponent; p.at < len(p.text) && isDigit(p.text[p.at]); {
				p.at++
			}
		}
	}
	v, err := strconv.ParseFloat(p.text[start:p.at], 64)
	if err != nil {
		return p.fail("a number")
	}
	return &Expression{Op: 'n', Number: v, Name: p.text[start:p.at]}
}

func (p *expressionParser) call(name string) *Expression {
	f, ok := functions[name]
	if !ok {
		return p.fail("a known function in place of " + name)
	}
	p.expect('(')
	e := &Expression{Op: 'f', Name: name}
	for p.err == nil {
		e.Args = append(e.Args, p.sum())
		if p.next() != ',' {
			break
		}
		p.at++
	}
	p.expect(')')
	switch n := len(e.Args); {
	case f.one != nil && n != 1, name == "pow" && n != 2: // the others take any number
		return p.fail("another number of arguments for " + name)
	}
	return e
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// isLetter takes every byte of a letter beyond ASCII (η, ρ) for one.
func isLetter(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' || c >= 0x80
}

// Eval returns the value of e. A symbol without a value makes it NaN.
func (e *Expression) Eval(value func(symbol string) (float64, bool)) float64 {
	switch e.Op {
	case 'n':
		return e.Number
	case 's':
		if v, ok := value(e.Name); ok {
			return v
		}
		if e.Name == "pi" {
			return math.Pi
		}
		return math.NaN()
	case '~':
		return -e.Args[0].Eval(value)
	}
	x := e.Args[0].Eval(value)
	if f := functions[e.Name]; f.one != nil {
		return f.one(x)
	} else if e.Name == "count" {
		return float64(len(e.Args))
	} else if e.Op == 'f' {
		for _, a := range e.Args[1:] {
			x = f.two(x, a.Eval(value))
		}
		return x
	}
	y := e.Args[1].Eval(value)
	switch e.Op {
	case '+':
		return x + y
	case '-':
		return x - y
	case '*':
		return float64(x * y)
	}
	return x / y
}

// Symbols returns the symbols in e, each once, in the order met.
func (e *Expression) Symbols() []string {
	var out []string
	var walk func(*Expression)
	walk = func(e *Expression) {
		if e.Op == 's' && e.Name != "pi" && !slices.Contains(out, e.Name) {
			out = append(out, e.Name)
		}
		for _, a := range e.Args {
			walk(a)
		}
	}
	walk(e)
	return out
}

// spread writes out what stands for all items: sum(t_#*k_#) becomes
// t_1*k_1 + t_2*k_2, and l_#... becomes l_1, l_2. The items of a symbol are
// counted by those that are known.
func spread(expression string, known func(symbol string) bool) string {
	for {
		start := strings.Index(expression, "sum(")
		if start < 0 || start > 0 && isLetter(expression[start-1]) {
			break
		}
		end, ok := closing(expression, start+len("sum"))
		if !ok {
			return expression // which does not parse and says so
		}
		inner := expression[start+len("sum(") : end]
		items, counted := repeat(inner, known)
		if !counted {
			return expression
		}
		if len(items) == 0 {
			items = []string{"0"}
		}
		whole := strings.Join(items, " + ")
		if start > 0 || end < len(expression)-1 {
			whole = "(" + whole + ")"
		}
		expression = expression[:start] + whole + expression[end+1:]
	}
	for {
		dots := strings.Index(expression, "...")
		if dots < 0 {
			return expression
		}
		start := dots
		for start > 0 && expression[start-1] != ',' && expression[start-1] != '(' {
			start--
		}
		items, counted := repeat(strings.TrimSpace(expression[start:dots]), known)
		if !counted {
			return expression
		}
		before := strings.TrimRight(expression[:start], " ")
		if len(items) == 0 {
			before = strings.TrimSuffix(before, ",")
		} else if strings.HasSuffix(before, ",") {
			before += " "
		}
		expression = before + strings.Join(items, ", ") + expression[dots+len("..."):]
	}
}

// closing returns the index of the parenthesis that closes the one at open, if one does.
func closing(text string, open int) (end int, ok bool) {
	depth := 0
	for i := open; i < len(text); i++ {
		switch text[i] {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return i, true
			}
		}
	}
	return 0, false
}

// repeat writes the template once for every item, # being its number, as long
// as every numbered symbol in it is known. It is not counted if it has none.
func repeat(template string, known func(symbol string) bool) (out []string, counted bool) {
	for n := 1; ; n++ {
		item := strings.ReplaceAll(template, "#", strconv.Itoa(n))
		for at := 0; at < len(template); {
			if !isLetter(template[at]) {
				at++
				continue
			}
			start := at
			for at < len(template) && (isLetter(template[at]) || isDigit(template[at]) || template[at] == '#') {
				at++
			}
			symbol := template[start:at]
			if strings.Contains(symbol, "#") {
				counted = true
				if !known(strings.ReplaceAll(symbol, "#", strconv.Itoa(n))) {
					return out, true
				}
			}
		}
		if !counted {
			return nil, false
		}
		out = append(out, item)
	}
}
