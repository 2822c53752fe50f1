package testdata

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
)

// Retrace works every step of a working out again from what it says, by
// another way than the library's own: the standard library's parser of Go
// expressions. It returns what does not come out to within the share of the
// value, or of one.
func Retrace(w *reckon.Working, within float64) error {
	known := map[string]float64{"pi": math.Pi}
	var wrong []error
	for _, s := range w.Steps {
		if s.Expression != "" {
			v, err := evaluate(s.Expression, known)
			if err == nil && !(math.Abs(v-s.Value) <= within*math.Max(1, math.Abs(s.Value))) {
				err = fmt.Errorf("it makes %v, not %v", v, s.Value)
			}
			if err != nil {
				wrong = append(wrong, fmt.Errorf("%s: %s = %s: %w", s.ID, s.Symbol, s.Expression, err))
			}
		}
		known[s.Symbol] = s.Value
	}
	return errors.Join(wrong...)
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
			"floor": func(x float64) float64 { return math.Floor(x + math.Max(1e-9, 1e-14*math.Abs(x))) },
			"ceil":  func(x float64) float64 { return math.Ceil(x - math.Max(1e-9, 1e-14*math.Abs(x))) },
			"round": math.Round, "normal": func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }, "cos": math.Cos, "sin": math.Sin, "acosh": math.Acosh,
		}
		if name == "count" {
			return float64(len(args)), nil
		}
		two := map[string]func(float64, float64) float64{"min": math.Min, "max": math.Max, "pow": math.Pow}
		if f, ok := one[name]; ok && len(args) == 1 {
			return f(args[0]), nil
		}
		if f, ok := two[name]; ok && (len(args) >= 2 || len(args) == 1 && name != "pow") {
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
