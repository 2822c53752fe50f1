package main

import (
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// appendFormula writes an expression of the working as a spreadsheet reads it.
// cell gives the cell of a symbol.
//
// What spreadsheets do otherwise than the working: a sign binds tighter than a
// power there, so every negative stands in parentheses, and FLOOR and CEILING
// quarrel about negative numbers, so both are made of INT, which always goes
// down. ROUND goes away from zero at a half, as the working does.
func appendFormula(b []byte, e *reckon.Expression, cell func(symbol string) string) []byte {
	switch e.Op {
	case 'n':
		return append(b, plainNumber(e.Number)...)
	case 's':
		if to := cell(e.Name); to != "" {
			return append(b, to...)
		}
		return append(b, "PI()"...) // the one symbol that needs no cell
	case '~':
		b = append(b, "(-"...)
		b = appendOperand(b, e.Args[0], true, cell)
		return append(b, ')')
	case 'f':
		return appendCall(b, e, cell)
	}
	b = appendOperand(b, e.Args[0], rank(e.Args[0]) < rank(e), cell)
	b = append(b, e.Op)
	return appendOperand(b, e.Args[1], rank(e.Args[1]) <= rank(e), cell)
}

// rank is higher for what binds tighter.
func rank(e *reckon.Expression) int {
	switch e.Op {
	case '+', '-':
		return 1
	case '*', '/':
		return 2
	}
	return 3
}

func appendOperand(b []byte, e *reckon.Expression, inParentheses bool, cell func(string) string) []byte {
	if inParentheses && rank(e) < 3 {
		b = append(b, '(')
		return append(appendFormula(b, e, cell), ')')
	}
	return appendFormula(b, e, cell)
}

// calls are the functions of the working as a spreadsheet writes them.
var calls = map[string][2]string{
	"sqrt": {"SQRT(", ")"}, "abs": {"ABS(", ")"}, "exp": {"EXP(", ")"}, "ln": {"LN(", ")"},
	"min": {"MIN(", ")"}, "max": {"MAX(", ")"}, "pow": {"POWER(", ")"},
	"floor": {"INT(1E-9+", ")"}, "ceil": {"(-INT(1E-9-(", ")))"}, "count": {"COUNT(", ")"}, "normal": {"NORMSDIST(", ")"}, "round": {"ROUND(", ",0)"},
	"cos": {"COS(", ")"}, "sin": {"SIN(", ")"}, "acosh": {"ACOSH(", ")"},
}

func appendCall(b []byte, e *reckon.Expression, cell func(string) string) []byte {
	around := calls[e.Name]
	b = append(b, around[0]...)
	for i, a := range e.Args {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendFormula(b, a, cell)
	}
	return append(b, around[1]...)
}

// plainNumber writes a number as every spreadsheet reads it.
func plainNumber(v float64) string {
	text := strings.ToUpper(strconv.FormatFloat(v, 'g', -1, 64))
	if v < 0 {
		return "(" + text + ")"
	}
	return text
}

// held is the formula for the number held, of one that is shown in the cell.
func (u unitOf) held(cell string) string {
	if u.zero != 0 {
		cell = "(" + cell + "-" + plainNumber(u.zero) + ")"
	}
	return u.scaled(cell, '*', '/')
}

// asShown is the formula for the number shown, of one that is held in the cell.
func (u unitOf) asShown(cell string) string {
	cell = u.scaled(cell, '/', '*')
	if u.zero != 0 {
		cell += "+" + plainNumber(u.zero)
	}
	return cell
}

func (u unitOf) scaled(cell string, mul, div byte) string {
	if u.mul != 0 && u.mul != 1 {
		cell += string(mul) + plainNumber(u.mul)
	}
	if u.mul != 0 && u.div != 1 {
		cell += string(div) + plainNumber(u.div)
	}
	return cell
}
