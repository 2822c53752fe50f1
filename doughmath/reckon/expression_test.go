package reckon

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is no expression is told with the place at which it stops being one.
func TestExpressionTellsWhereItStops(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "a number or a symbol at character 1",
		"1 +":                         "a number or a symbol at character 4",
		"1 + ":                        "a number or a symbol at character 5",
		"1*/2":                        "a number or a symbol at character 3",
		"1 2":                         "an operator at character 3",
		"a b":                         "an operator at character 3",
		"1$":                          "an operator at character 2",
		"1)":                          "an operator at character 2",
		"(1":                          "')' at character 3",
		"(1 2)":                       "')' at character 4",
		"1..2":                        "a number at character 5",
		".":                           "a number at character 2",
		"1e":                          "an operator at character 2",
		"1e+":                         "an operator at character 2",
		"2e-x":                        "an operator at character 2",
		"1e5e5":                       "an operator at character 4",
		"1e5.5":                       "an operator at character 4",
		"1e999":                       "a number at character 6",
		"foo(1)":                      "a known function in place of foo at character 4",
		"sqrt(1, 2)":                  "another number of arguments for sqrt at character 11",
		"pow(1)":                      "another number of arguments for pow at character 7",
		"pow(1, 2, 3)":                "another number of arguments for pow at character 13",
		"max(1":                       "')' at character 6",
		"max(1, )":                    "a number or a symbol at character 8",
		"max 1":                       "an operator at character 5",
		"@":                           "a number or a symbol at character 1",
		"[":                           "a number or a symbol at character 1",
		"`":                           "a number or a symbol at character 1",
		"{":                           "a number or a symbol at character 1",
		"\x7f":                        "a number or a symbol at character 1",
		"/":                           "a number or a symbol at character 1",
		":":                           "a number or a symbol at character 1",
		"1\t":                         "an operator at character 2",
		strings.Repeat("-", 64) + "1": "fewer signs in a row at character 65",
		strings.Repeat("(", 64) + "1": "fewer parentheses in parentheses at character 65",
	} {
		_, err := ParseExpression(text)
		require.Error(t, err, text)
		_, told, _ := strings.Cut(err.Error(), ": want ")
		assert.Equal(t, want, told, text)
	}
}

// Any letter, in any order with digits, names a symbol; signs and parentheses one after the other are not in one another.
func TestExpressionReads(t *testing.T) {
	value := func(symbol string) (float64, bool) {
		v, ok := map[string]float64{"a": 2, "zA_Z0_9": 3, "Mη": 5, "é": 7, "e5": 11, "_": 13}[symbol]
		return v, ok
	}
	for text, want := range map[string]float64{
		"a": 2, "zA_Z0_9": 3, "Mη": 5, "é": 7, "e5*1": 11, "_": 13, " ( a ) ": 2, "1e2": 100, "1e+2": 100, "1e-2": 0.01, "09": 9, "1.": 1, "2*pi": 2 * math.Pi,
		"-a*-a": 4, "1 - -a": 3, "--a": 2, "a - 1 + 1": 2, "12/a*3": 18, "min(5, a, 3)": 2, "max(1, a)": 2, "max(a)": 2, "pow(a, 3)": 8, "count(a, a)": 2,
		"1" + strings.Repeat(" + (1)", 100): 101, "1" + strings.Repeat(" - -1", 100): 101, "max(1" + strings.Repeat(", -a", 100) + ")": 1,
		strings.Repeat("-", 63) + "a": -2, strings.Repeat("(", 63) + "a" + strings.Repeat(")", 63): 2,
	} {
		e, err := ParseExpression(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, e.Eval(value), text)
	}
	for _, text := range []string{"b", "1 + b", "sqrt(b)", "min(1, b)", "-b"} {
		e, err := ParseExpression(text)
		require.NoError(t, err, text)
		assert.True(t, math.IsNaN(e.Eval(value)), text)
	}
	e, err := ParseExpression("pi + a*max(b, -a) + pi")
	require.NoError(t, err)
	assert.Equal(t, []string{"a", "b"}, e.Symbols())
	assert.Equal(t, 3.0+2*2+3, e.Eval(func(symbol string) (float64, bool) { return map[string]float64{"pi": 3, "a": 2, "b": 2}[symbol], true }), "a symbol may be called pi")
}

// What lies within a billionth of a whole number, or within a hundred million millionth of a large one, is that number.
// The normal distribution is that of any table: 0.975 below 1.959964.
func TestFunctions(t *testing.T) {
	for x, want := range map[float64]float64{1e10 - 0.99e-4: 1e10, 1e10 - 1.01e-4: 1e10 - 1, 1e10 + 0.99e-4: 1e10, 2.5: 2, -2.5: -3, 3 - 1e-8: 2, -3 + 0.9e-9: -3} {
		assert.Equal(t, want, floor(x), "%v", x)
		assert.Equal(t, -want, ceil(-x), "%v", -x)
	}
	assert.InDelta(t, 0.975, normal(1.959964), 5e-9)
	assert.InDelta(t, 0.025, normal(-1.959964), 5e-9)
	assert.InDelta(t, 0.8413447, normal(1), 5e-8)
}

// What stands for all items is written out, as far as they are known from the first.
func TestSpread(t *testing.T) {
	known := func(symbol string) bool { return strings.Contains(" t_1 t_2 k_1 k_2 k_3 l_1 u_1 u_3 ", " "+symbol+" ") }
	for text, want := range map[string]string{
		"sum(t_#)":                     "t_1 + t_2",
		"sum(t_#*k_#)":                 "t_1*k_1 + t_2*k_2",
		"sum(k_#)":                     "k_1 + k_2 + k_3",
		"sum(u_#)":                     "u_1",
		"sum(y_#)":                     "0",
		"2*sum(y_#)":                   "2*(0)",
		"2*sum(t_#)":                   "2*(t_1 + t_2)",
		"sum(t_#)/2":                   "(t_1 + t_2)/2",
		"sum(t_#) + sum(l_#)":          "(t_1 + t_2) + (l_1)",
		"sum(max(t_#, 2*a))":           "max(t_1, 2*a) + max(t_2, 2*a)",
		"sum(a)":                       "sum(a)",
		"sum(t_#":                      "sum(t_#",
		"dsum(t_#)":                    "dsum(t_#)",
		"max(0, k_#...)":               "max(0, k_1, k_2, k_3)",
		"max(k_#...)":                  "max(k_1, k_2, k_3)",
		"min(k_#..., 7)":               "min(k_1, k_2, k_3, 7)",
		"max(0, y_#...)":               "max(0)",
		"max(a...)":                    "max(a...)",
		"max(sum(t_#), l_#...)":        "max((t_1 + t_2), l_1)",
		"max(t_#...) - min(0, k_#...)": "max(t_1, t_2) - min(0, k_1, k_2, k_3)",
		"max(2*t_#...)":                "max(2*t_1, 2*t_2)",
		"t_#...":                       "t_1, t_2",
		"sum(t_#) ":                    "(t_1 + t_2) ",
		"2*t_#... + 1":                 "2*t_1, 2*t_2 + 1",
		"a + b":                        "a + b",
	} {
		assert.Equal(t, want, spread(text, known), text)
	}
}
