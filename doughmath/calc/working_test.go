package calc_test

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// Every step of every working is evaluated again from what it says, so that
// the formula a person reads is the formula that was computed: for the example
// and for every published case.
func TestWorkingIsTrue(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	for _, e := range calc.Entries() {
		inputs := []testdata.Case{{ID: "example", In: json.RawMessage(e.Example)}}
		for _, c := range cases {
			if c.Func == e.ID {
				inputs = append(inputs, c)
			}
		}
		for _, c := range inputs {
			workingIsTrue(t, e, c)
		}
	}
}

func workingIsTrue(t *testing.T, e calc.Entry, c testdata.Case) {
	t.Run(e.ID+"/"+c.ID, func(t *testing.T) {
		var w reckon.Working
		explained, err := e.Run(c.In, &w)
		plain, err2 := e.Run(c.In, nil)
		require.Equal(t, err, err2, "working must not change the error")
		if err != nil {
			require.Contains(t, c.Want, "errors", "%v", err)
			return
		}
		require.Equal(t, plain, explained, "working must not change the result")
		require.NotEmpty(t, w.Steps)
		known := map[string]float64{"pi": math.Pi}
		for _, s := range w.Steps {
			if s.Expression != "" {
				v, err := evaluate(s.Expression, known)
				if assert.NoError(t, err, "%s = %s", s.Symbol, s.Expression) {
					assert.InDelta(t, s.Value, v, 1e-9*math.Max(1, math.Abs(s.Value)), "%s = %s", s.Symbol, s.Expression)
				}
			}
			known[s.Symbol] = s.Value
		}
		last := w.Steps[len(w.Steps)-1].Value
		assert.True(t, holds(t, explained, last), "the last step (%v) is not a value of the result", last)
	})
}

// holds reports whether some number in the result is v, bit for bit.
func holds(t *testing.T, result any, v float64) bool {
	data, err := json.Marshal(result)
	require.NoError(t, err)
	var tree any
	require.NoError(t, json.Unmarshal(data, &tree))
	found := false
	var walk func(any)
	walk = func(n any) {
		switch n := n.(type) {
		case map[string]any:
			for _, m := range n {
				walk(m)
			}
		case []any:
			for _, m := range n {
				walk(m)
			}
		case float64:
			found = found || n == v
		case string:
			var number string
			if _, err := fmt.Sscanf(n, "%s ", &number); err == nil {
				f, err := strconv.ParseFloat(number, 64)
				found = found || err == nil && f == v
			}
		}
	}
	walk(tree)
	return found
}

func evaluate(expression string, known map[string]float64) (float64, error) {
	tree, err := parser.ParseExpr(expression)
	if err != nil {
		return 0, err
	}
	return eval(tree, known)
}

func eval(n ast.Expr, known map[string]float64) (float64, error) {
	switch n := n.(type) {
	case *ast.ParenExpr:
		return eval(n.X, known)
	case *ast.BasicLit:
		return strconv.ParseFloat(n.Value, 64)
	case *ast.Ident:
		v, ok := known[n.Name]
		if !ok {
			return 0, fmt.Errorf("%s is not known yet", n.Name)
		}
		return v, nil
	case *ast.UnaryExpr:
		x, err := eval(n.X, known)
		if n.Op == token.SUB {
			x = -x
		}
		return x, err
	case *ast.BinaryExpr:
		x, err := eval(n.X, known)
		if err != nil {
			return 0, err
		}
		y, err := eval(n.Y, known)
		switch n.Op {
		case token.ADD:
			return x + y, err
		case token.SUB:
			return x - y, err
		case token.MUL:
			return x * y, err
		case token.QUO:
			return x / y, err
		}
		return 0, fmt.Errorf("operator %s", n.Op)
	case *ast.CallExpr:
		name := n.Fun.(*ast.Ident).Name
		args := make([]float64, len(n.Args))
		for i, a := range n.Args {
			var err error
			if args[i], err = eval(a, known); err != nil {
				return 0, err
			}
		}
		one := map[string]func(float64) float64{
			"sqrt": math.Sqrt, "abs": math.Abs, "exp": math.Exp, "ln": math.Log,
			"floor": math.Floor, "ceil": math.Ceil, "round": math.Round, "cos": math.Cos, "sin": math.Sin, "acosh": math.Acosh,
		}
		two := map[string]func(float64, float64) float64{"min": math.Min, "max": math.Max, "pow": math.Pow}
		if f, ok := one[name]; ok && len(args) == 1 {
			return f(args[0]), nil
		}
		if f, ok := two[name]; ok && len(args) >= 2 {
			v := args[0]
			for _, a := range args[1:] {
				v = f(v, a)
			}
			return v, nil
		}
		return 0, fmt.Errorf("function %s of %d", name, len(args))
	}
	return 0, fmt.Errorf("cannot evaluate %T", n)
}
