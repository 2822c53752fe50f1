// Package mathml typesets the expressions of a working as MathML, from the very
// text that is evaluated, so that a page cannot show another relation than the one that holds.
package mathml

import (
	"html"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// Inline is the expression as a math element in a line of text, its fractions as large as elsewhere.
func Inline(e *reckon.Expression) string { return `<math displaystyle="true">` + Of(e) + "</math>" }

// Text typesets an expression for a line of text; what is none, such as the
// name of a table, stays as it is.
func Text(expression string) string {
	e, err := reckon.ParseExpression(expression)
	if err != nil {
		return html.EscapeString(expression)
	}
	return Inline(e)
}

// Equation is "symbol = expression" as a math element that stands in a line of its own.
func Equation(symbol string, e *reckon.Expression) string {
	return `<math display="block">` + row(Symbol(symbol), "<mo>=</mo>", Of(e)) + "</math>"
}

// Of is the expression without the math element around it.
func Of(e *reckon.Expression) string {
	switch e.Op {
	case 'n':
		return number(e)
	case 's':
		return Symbol(e.Name)
	case '~':
		return row("<mo>−</mo>", inside(e.Args[0], product))
	case '+', '-':
		sign := "<mo>+</mo>"
		right := inside(e.Args[1], sum)
		if e.Op == '-' {
			sign, right = "<mo>−</mo>", inside(e.Args[1], product)
		}
		return row(inside(e.Args[0], sum), sign, right)
	case '*':
		left := inside(e.Args[0], product)
		if e.Args[0].Op == '~' { // -k*t, in which the sign may stand in front of all
			left = Of(e.Args[0])
		}
		return row(left, "<mo>×</mo>", inside(e.Args[1], product))
	case '/':
		return "<mfrac>" + row(Of(e.Args[0])) + row(Of(e.Args[1])) + "</mfrac>"
	}
	return call(e)
}

// How tightly an expression holds together.
const (
	sum = iota
	product
	power
)

func tightness(e *reckon.Expression) int {
	switch e.Op {
	case '+', '-', '~':
		return sum
	case '*', '/':
		return product
	}
	return power
}

// inside is the expression in parentheses unless it holds together as tightly as is wanted.
func inside(e *reckon.Expression, wanted int) string {
	if tightness(e) < wanted {
		return fenced("(", Of(e), ")")
	}
	return Of(e)
}

func row(parts ...string) string { return "<mrow>" + strings.Join(parts, "") + "</mrow>" }

func fenced(open, text, shut string) string {
	return row("<mo>"+open+"</mo>", text, "<mo>"+shut+"</mo>")
}

// number writes 1.2e-3 as a power of ten.
func number(e *reckon.Expression) string {
	mantissa, exponent, large := strings.Cut(e.Name, "e")
	if !large {
		return "<mn>" + html.EscapeString(mantissa) + "</mn>"
	}
	return row("<mn>"+html.EscapeString(mantissa)+"</mn>", "<mo>×</mo>", "<msup><mn>10</mn><mn>"+html.EscapeString(strings.Replace(exponent, "-", "−", 1))+"</mn></msup>")
}

// Symbol writes T_w as T with a subscript.
func Symbol(name string) string {
	if name == "pi" {
		return "<mi>π</mi>"
	}
	letter, below, has := strings.Cut(name, "_")
	if !has {
		return "<mi>" + html.EscapeString(letter) + "</mi>"
	}
	return "<msub><mi>" + html.EscapeString(letter) + "</mi><mtext>" + html.EscapeString(strings.ReplaceAll(below, "_", ", ")) + "</mtext></msub>"
}

// call writes what has a sign of its own with it, any other function by its name.
func call(e *reckon.Expression) string {
	args := make([]string, len(e.Args))
	for i, a := range e.Args {
		args[i] = Of(a)
	}
	switch e.Name {
	case "sqrt":
		return "<msqrt>" + args[0] + "</msqrt>"
	case "abs":
		return fenced("|", args[0], "|")
	case "floor":
		return fenced("⌊", args[0], "⌋")
	case "ceil":
		return fenced("⌈", args[0], "⌉")
	case "exp":
		return "<msup><mi>e</mi>" + row(args[0]) + "</msup>"
	case "pow":
		return "<msup>" + row(inside(e.Args[0], power)) + row(args[1]) + "</msup>"
	}
	return row("<mi>"+html.EscapeString(e.Name)+"</mi>", fenced("(", strings.Join(args, "<mo>,</mo>"), ")"))
}
