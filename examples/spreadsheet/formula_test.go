package main

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func TestFormula(t *testing.T) {
	cell := func(symbol string) string {
		return map[string]string{"a": "C5", "b": "C6", "c_1": "'line and shift'!C7"}[symbol]
	}
	for expression, want := range map[string]string{
		"a - (b - c_1)":         "C5-(C6-'line and shift'!C7)",
		"a - b - c_1":           "C5-C6-'line and shift'!C7",
		"a/(b*c_1)":             "C5/(C6*'line and shift'!C7)",
		"a/b*c_1":               "C5/C6*'line and shift'!C7",
		"-a*b":                  "(-C5)*C6",
		"a - -b":                "C5-(-C6)",
		"-(a + b)":              "(-(C5+C6))",
		"pow(-a, 2)":            "POWER((-C5),2)",
		"floor(a/b + 1e-9)":     "INT(1E-9+C5/C6+1E-09)",
		"ceil(a)*b":             "(-INT(1E-9-(C5)))*C6",
		"round(a/b)*b":          "ROUND(C5/C6,0)*C6",
		"max(0, a, b)":          "MAX(0,C5,C6)",
		"sqrt(abs(a))":          "SQRT(ABS(C5))",
		"exp(ln(a))":            "EXP(LN(C5))",
		"acosh(cos(a)*sin(pi))": "ACOSH(COS(C5)*SIN(PI()))",
	} {
		e, err := reckon.ParseExpression(expression)
		require.NoError(t, err)
		assert.Equal(t, want, string(appendFormula(nil, e, cell)), expression)
	}
}

// What a spreadsheet makes of a formula is what the working makes of the
// expression, also where the two are known to differ: signs before powers,
// halves below zero, whole numbers below zero. A second opinion comes from
// LibreOffice, on every step of every calculation.
func TestFormulaMeansTheSame(t *testing.T) {
	f := excelize.NewFile()
	defer func() { _ = f.Close() }()
	values := map[string]float64{"a": -2.5, "b": 3, "c": 0.5, "d": -7}
	at := map[string]string{"a": "A1", "b": "A2", "c": "A3", "d": "A4"}
	for symbol, v := range values {
		require.NoError(t, f.SetCellFloat("Sheet1", at[symbol], v, -1, 64))
	}
	for _, expression := range []string{
		"round(a)", "round(-a)", "round(c)", "round(-c)", "floor(a)", "ceil(a)", "floor(-a)", "ceil(-a)", "ceil(d)", "floor(d)",
		"-a*b", "-pow(b, 2)", "pow(-b, 2)", "pow(b, a)", "b - -a - (c - d)", "a/b/c", "a/(b/c)", "a - (b - c) - d", "-(a - b)*c",
		"min(a, b, d)", "max(a, d)", "abs(d)*sqrt(b)", "exp(a)", "ln(b)", "cos(a)", "sin(a)", "acosh(b)", "pi*b", "2*(a + b)*-c", "1e-3*d", "- - a",
	} {
		e, err := reckon.ParseExpression(expression)
		require.NoError(t, err)
		want := e.Eval(func(s string) (float64, bool) { v, ok := values[s]; return v, ok })
		require.False(t, math.IsNaN(want), expression)
		formula := string(appendFormula(nil, e, func(s string) string { return at[s] }))
		require.NoError(t, f.SetCellFormula("Sheet1", "B1", formula))
		text, err := f.CalcCellValue("Sheet1", "B1", excelize.Options{RawCellValue: true})
		require.NoError(t, err, "%s: %s", expression, formula)
		got, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err, "%s: %s gives %s", expression, formula, text)
		assert.InDelta(t, want, got, 1e-12*max(1, math.Abs(want)), "%s: %s", expression, formula)
	}
}

// Every function that an expression may call has its counterpart.
func TestEveryFunctionHasItsCounterpart(t *testing.T) {
	for name := range calls {
		arguments := "(a)"
		if name == "pow" {
			arguments = "(a, b)"
		}
		_, err := reckon.ParseExpression(name + arguments)
		assert.NoError(t, err, name)
	}
	_, err := reckon.ParseExpression("tan(a)")
	assert.ErrorContains(t, err, "known function", "a new function needs a counterpart here")
}

// A list can be so long that no cell holds its sum: the row then stays a value
// that does not follow, and says so.
func TestFormulaTooLong(t *testing.T) {
	items := make([]string, 300)
	for i := range items {
		items[i] = "a"
	}
	for expression, fits := range map[string]bool{
		strings.Join(items, " + "):               true,
		"max(" + strings.Join(items, ", ") + ")": false,
		strings.Join(items, " + a*a + "):         false,
	} {
		e, err := reckon.ParseExpression(expression)
		require.NoError(t, err)
		assert.Equal(t, fits, fitsCell(e), "%.40s", expression)
	}
}

// What is shown is what is held, there and back, and so say the formulas.
func TestUnits(t *testing.T) {
	for _, q := range []unit.Quantity{
		unit.Kilograms(62.3), unit.Grams(45), unit.Grams(0.0123), unit.Celsius(26), unit.Celsius(-4.5), unit.CelsiusDegrees(14),
		unit.Millimetres(300), unit.Minutes(25), unit.Hours(2.2), unit.Percent(11), unit.StrokesPerMinute(28),
	} {
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			u, held := shownIn(q, sys), unit.Held(q)
			want, ok := unit.InUnit(q, u.symbol)
			require.True(t, ok)
			assert.InDelta(t, want, u.toShown(held), 1e-12*math.Abs(want), "%v in %s", q, u.symbol)
			assert.InDelta(t, held, u.toHeld(u.toShown(held)), 1e-12*max(1, math.Abs(held)), "%v in %s", q, u.symbol)
		}
	}
	fahrenheit := shownIn(unit.Celsius(26), unit.US)
	assert.Equal(t, "(C5-32)*5/9", fahrenheit.held("C5"))
	assert.Equal(t, "C5/5*9+32", fahrenheit.asShown("C5"))
	assert.Equal(t, "C5*1000", shownIn(unit.Kilograms(2), unit.Metric).held("C5"))
	assert.Equal(t, "C5/1000", shownIn(unit.Grams(0.05), unit.Metric).held("C5"))
	assert.Equal(t, "C5", shownIn(unit.Grams(50), unit.Metric).held("C5"))
}
