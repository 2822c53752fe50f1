package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"slices"
	"strings"
)

// text writes the node with its changes.
func (w *writer) text(n ast.Node) string {
	if e, ok := n.(ast.Expr); ok && w.info.Types[e].Value != nil {
		return w.constant(e)
	}
	switch n := n.(type) {
	case *ast.GenDecl:
		if n.Tok != token.VAR {
			return w.raw(n)
		}
	case *ast.ValueSpec:
		w.of = n.Names[0].Name
	case *ast.FuncDecl:
		if n.Body == nil {
			return w.raw(n)
		}
		w.of = n.Name.Name
		if n.Recv != nil && len(n.Recv.List) > 0 {
			w.of = strings.TrimLeft(w.raw(n.Recv.List[0].Type), "*") + "." + w.of
		}
		return w.between(n.Pos(), n.Body.Pos()) + w.text(n.Body)
	case *ast.FuncType, *ast.ArrayType, *ast.MapType, *ast.StructType, *ast.InterfaceType, *ast.IndexListExpr, *ast.CommentGroup:
		return w.raw(n)
	case *ast.CallExpr:
		return w.call(n)
	case *ast.IndexExpr:
		if w.info.Types[n.Index].IsType() || w.info.Types[n.Index].Value != nil {
			return w.text(n.X) + w.between(n.X.End(), n.End())
		}
	case *ast.KeyValueExpr:
		return w.between(n.Pos(), n.Value.Pos()) + w.set(n.Value)
	case *ast.BinaryExpr:
		return w.binary(n)
	case *ast.UnaryExpr:
		if n.Op == token.SUB && isNumber(w.info.TypeOf(n)) {
			return fmt.Sprintf("mut.Minus(%d, %s)", w.add(sign, n, "no minus: "+w.raw(n)), w.text(n.X))
		}
	case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt, *ast.SwitchStmt, *ast.TypeSwitchStmt, *ast.CaseClause:
		return w.branch(n)
	case *ast.ExprStmt:
		return w.statement(n)
	case *ast.AssignStmt:
		return w.assign(n)
	case *ast.IncDecStmt:
		return fmt.Sprintf("if !mut.On(%d) { %s }", w.add(removed, n, w.raw(n)), w.raw(n))
	case *ast.ReturnStmt:
		return w.returns(n)
	}
	return w.inner(n)
}

// constant writes what has its value when it is compiled.
func (w *writer) constant(e ast.Expr) string {
	t := w.info.TypeOf(e)
	if b, ok := t.(*types.Basic); ok && b.Kind() == types.UntypedFloat {
		t = types.Typ[types.Float64]
	}
	name, ok := w.typeName(t)
	if !isNumber(t) || !ok {
		if call, conversion := e.(*ast.CallExpr); conversion && w.info.Types[call.Fun].IsType() {
			return w.inner(call)
		}
		return w.raw(e)
	}
	if !w.written(e) {
		o := w.constantIn(e)
		if o == nil {
			return w.raw(e)
		}
		id := w.named[o]
		if id == 0 {
			of := w.of
			w.of = o.Name()
			at := w.fset.Position(o.Pos())
			id = w.add(namedConstant, e, o.Name()+" = "+o.Val().String())
			w.of = of
			w.changes[id-1].line = at.Line
			if rel, ok := strings.CutPrefix(at.Filename, w.root+"/"); ok {
				w.changes[id-1].file = rel
			}
			w.named[o] = id
		}
		w.used = true
		return fmt.Sprintf("mut.Constant[%s](%d, %s)", name, id, w.raw(e))
	}
	if w.guarded(e) {
		return w.raw(e)
	}
	id := w.add(literal, e, w.raw(e))
	return fmt.Sprintf("mut.Constant[%s](%d, %s)", name, id, w.raw(e))
}

// guarded reports whether the expression holds a guard against binary rounding, such as 1e-9: how wide it is
// is no fact, and no value stands upon a bound that has one.
func (w *writer) guarded(e ast.Expr) (found bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		x, ok := n.(ast.Expr)
		found = found || ok && w.guard(x)
		return !found
	})
	return found
}

// guard reports whether the expression is such a guard.
func (w *writer) guard(e ast.Expr) bool {
	value := w.info.Types[e].Value
	if value == nil || value.Kind() != constant.Float && value.Kind() != constant.Int {
		return false
	}
	v, _ := constant.Float64Val(constant.ToFloat(value))
	return v != 0 && math.Abs(v) < 1e-8 || v != 1 && math.Abs(v-1) < 1e-8
}

// written reports whether a number stands in the expression.
func (w *writer) written(e ast.Expr) (found bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		b, ok := n.(*ast.BasicLit)
		found = found || ok && (b.Kind == token.INT || b.Kind == token.FLOAT)
		return !found
	})
	return found
}

// constantIn returns the package's own constant that the expression names, if it names one.
func (w *writer) constantIn(e ast.Expr) *types.Const {
	var found []*types.Const
	ast.Inspect(e, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok {
			if o, ok := w.info.Uses[id].(*types.Const); ok && o.Pkg() == w.pkg {
				found = append(found, o)
			}
		}
		return true
	})
	if len(found) != 1 {
		return nil
	}
	b, ok := found[0].Type().Underlying().(*types.Basic)
	if !ok || b.Info()&types.IsNumeric == 0 || b.Info()&types.IsUnsigned != 0 {
		return nil // the bits of a set
	}
	return found[0]
}

func (w *writer) call(n *ast.CallExpr) string {
	switch f := n.Fun.(type) {
	case *ast.Ident:
		if slices.Contains([]string{"make", "cap", "panic"}, f.Name) {
			return w.raw(n)
		}
	case *ast.SelectorExpr:
		x, ok := f.X.(*ast.Ident)
		if !ok {
			break
		}
		p, ok := w.info.Uses[x].(*types.PkgName)
		if !ok {
			break
		}
		switch path := p.Imported().Path(); {
		case path == "strconv", path == "fmt", path == "errors", path == "math" && f.Sel.Name == "Inf":
			return w.raw(n)
		case path == "math" && f.Sel.Name == "Sqrt":
			return fmt.Sprintf("mut.Sqrt(%d, %s)", w.add(exponent, n, w.raw(n)), w.text(n.Args[0]))
		case path == "math" && f.Sel.Name == "Pow":
			return fmt.Sprintf("mut.Pow(%d, %s, %s)", w.add(exponent, n, w.raw(n)), w.text(n.Args[0]), w.text(n.Args[1]))
		}
	}
	return w.twin(n)
}

// twin swaps a unit, where another function or method of the same form names one.
func (w *writer) twin(n *ast.CallExpr) string {
	switch f := n.Fun.(type) {
	case *ast.SelectorExpr:
		if s := w.info.Selections[f]; s != nil && s.Kind() == types.MethodVal && len(n.Args) == 0 && isNumber(w.info.TypeOf(n)) {
			t, ok := w.typeName(w.info.TypeOf(n))
			if other := otherMethod(s, w.pkg); other != "" && ok {
				id, x := w.add(unitSwap, n, w.raw(n)+" for "+other), w.text(f.X)
				return fmt.Sprintf("func() %s { if mut.On(%d) { return %s.%s() }; return %s.%s() }()", t, id, x, other, x, f.Sel.Name)
			}
			break
		}
		x, ok := f.X.(*ast.Ident)
		if !ok || len(n.Args) != 1 {
			break
		}
		if p, ok := w.info.Uses[x].(*types.PkgName); ok && strings.HasPrefix(p.Imported().Path(), module) {
			if other := otherFunc(f.Sel.Name, p.Imported(), w.pkg); other != "" {
				id := w.add(unitSwap, n, w.raw(n)+" for "+other)
				return fmt.Sprintf("mut.Twin(%d, %s, %s.%s)(%s)", id, w.raw(f), x.Name, other, w.text(n.Args[0]))
			}
		}
	case *ast.Ident:
		fn, ok := w.info.Uses[f].(*types.Func)
		if ok && len(n.Args) == 1 && fn.Pkg() == w.pkg && fn.Signature().Recv() == nil {
			if other := otherFunc(f.Name, w.pkg, w.pkg); other != "" {
				id := w.add(unitSwap, n, w.raw(n)+" for "+other)
				return fmt.Sprintf("mut.Twin(%d, %s, %s)(%s)", id, f.Name, other, w.text(n.Args[0]))
			}
		}
	}
	return w.inner(n)
}

var unitWords = []string{
	"Celsius", "Fahrenheit", "Kelvin", "Gram", "Kilogram", "Ounce", "Pound", "Milli", "Centi", "Inch", "Metre", "Foot", "Feet", "Second",
	"Minute", "Hour", "Litre", "Gallon", "PerHour", "PerMinute", "Percent", "Fraction", "Joule", "Watt", "Pascal",
}

func namesUnit(s string) bool {
	return slices.ContainsFunc(unitWords, func(u string) bool { return strings.Contains(s, u) })
}

func otherFunc(name string, p, from *types.Package) string {
	f, ok := p.Scope().Lookup(name).(*types.Func)
	if !ok || !namesUnit(name) {
		return ""
	}
	for _, n := range p.Scope().Names() {
		o, ok := p.Scope().Lookup(n).(*types.Func)
		if ok && n != name && (o.Exported() || p == from) && namesUnit(n) && types.Identical(o.Type(), f.Type()) {
			return n
		}
	}
	return ""
}

func otherMethod(s *types.Selection, from *types.Package) string {
	set, f := types.NewMethodSet(s.Recv()), s.Obj().(*types.Func)
	for m := range set.Methods() {
		o := m.Obj().(*types.Func)
		same := types.Identical(o.Signature().Params(), f.Signature().Params()) && types.Identical(o.Signature().Results(), f.Signature().Results())
		if same && o.Name() != f.Name() && (o.Exported() || o.Pkg() == from) && namesUnit(o.Name()) && namesUnit(f.Name()) {
			return o.Name()
		}
	}
	return ""
}

var (
	swapped  = map[token.Token]string{token.ADD: "Add", token.SUB: "Sub", token.MUL: "Mul", token.QUO: "Quo"}
	compared = map[token.Token]string{token.LSS: "Less", token.LEQ: "AtMost", token.GTR: "More", token.GEQ: "AtLeast"}
)

func (w *writer) binary(n *ast.BinaryExpr) string {
	x, y := w.info.TypeOf(n.X), w.info.TypeOf(n.Y)
	said := w.raw(n.X) + " [" + n.Op.String() + "] " + w.raw(n.Y)
	name, ok := w.typeName(x)
	numbers := ok && isNumber(x) && isNumber(y) && types.Identical(x, y)
	switch {
	case swapped[n.Op] != "" && numbers && (w.guard(ast.Unparen(n.X)) || w.guard(ast.Unparen(n.Y))):
		return w.inner(n)
	case swapped[n.Op] != "" && numbers:
		return fmt.Sprintf("mut.%s[%s](%d, %s, %s)", swapped[n.Op], name, w.add(arithmetic, n, said), w.text(n.X), w.text(n.Y))
	case compared[n.Op] != "" && numbers && (w.guarded(n.X) || w.guarded(n.Y)):
		return w.inner(n)
	case compared[n.Op] != "" && numbers:
		return fmt.Sprintf("mut.%s[%s](%d, %s, %s)", compared[n.Op], name, w.add(boundary, n, said), w.text(n.X), w.text(n.Y))
	case n.Op == token.LAND:
		return fmt.Sprintf("((mut.On(%d) || (%s)) && (mut.On(%d) || (%s)))", w.add(dropped, n, "the left of "+said), w.text(n.X), w.add(dropped, n, "the right of "+said), w.text(n.Y))
	case n.Op == token.LOR:
		return fmt.Sprintf("((!mut.On(%d) && (%s)) || (!mut.On(%d) && (%s)))", w.add(dropped, n, "the left of "+said), w.text(n.X), w.add(dropped, n, "the right of "+said), w.text(n.Y))
	case n.Op == token.OR && setKind(x) != "":
		return w.set(n.X) + " | " + w.set(n.Y)
	}
	return w.inner(n)
}

// set writes an expression, which a change leaves empty if it is a set of conditions or cautions.
func (w *writer) set(e ast.Expr) string {
	t := w.info.TypeOf(e)
	k := setKind(t)
	name, ok := w.typeName(t)
	if b, joined := e.(*ast.BinaryExpr); k == "" || !ok || w.raw(e) == "0" || joined && b.Op == token.OR {
		return w.text(e)
	}
	return fmt.Sprintf("mut.None[%s](%d, %s)", name, w.add(k, e, "none of "+w.raw(e)), w.text(e))
}

func (w *writer) branch(n ast.Node) string {
	var b strings.Builder
	switch n := n.(type) {
	case *ast.IfStmt:
		b.WriteString("if ")
		if n.Init != nil {
			b.WriteString(w.simple(n.Init) + "; ")
		}
		b.WriteString(w.decides(n.Cond, "") + " " + w.text(n.Body))
		if n.Else != nil {
			b.WriteString(" else " + w.text(n.Else))
		}
	case *ast.ForStmt:
		b.WriteString("for ")
		if n.Init != nil || n.Post != nil {
			if n.Init != nil {
				b.WriteString(w.simple(n.Init))
			}
			b.WriteString("; ")
			if n.Cond != nil {
				b.WriteString(w.text(n.Cond))
			}
			b.WriteString("; ")
			if n.Post != nil {
				b.WriteString(w.raw(n.Post))
			}
		} else if n.Cond != nil {
			b.WriteString(w.text(n.Cond))
		}
		b.WriteString(" " + w.text(n.Body))
	case *ast.RangeStmt:
		b.WriteString(w.between(n.Pos(), n.Body.Pos()) + w.text(n.Body))
	case *ast.SwitchStmt:
		b.WriteString("switch ")
		if n.Init != nil {
			b.WriteString(w.simple(n.Init) + "; ")
		}
		if n.Tag != nil {
			b.WriteString(w.raw(n.Tag) + " ")
		}
		b.WriteString(w.text(n.Body))
	case *ast.TypeSwitchStmt:
		b.WriteString(w.between(n.Pos(), n.Body.Pos()) + w.text(n.Body))
	case *ast.CaseClause:
		b.WriteString("default:\n")
		if n.List != nil {
			b.Reset()
			var list []string
			for _, e := range n.List {
				list = append(list, w.inCase(e))
			}
			b.WriteString("case " + strings.Join(list, ", ") + ":\n")
		}
		for _, s := range n.Body {
			b.WriteString(w.text(s) + "\n")
		}
	}
	return b.String()
}

// decides writes what a branch hangs on.
func (w *writer) decides(e ast.Expr, where string) string {
	said := where + w.raw(e)
	not, never := w.add(negated, e, said), w.add(never, e, said)
	return fmt.Sprintf("mut.If(%d, %d, %s)", not, never, w.text(e))
}

func (w *writer) inCase(e ast.Expr) string {
	if w.info.Types[e].IsType() || w.info.Types[e].Value != nil {
		return w.raw(e)
	}
	if t, ok := w.info.TypeOf(e).Underlying().(*types.Basic); ok && t.Info()&types.IsBoolean != 0 {
		return w.decides(e, "case ")
	}
	return w.text(e)
}

func (w *writer) statement(n *ast.ExprStmt) string {
	call, ok := n.X.(*ast.CallExpr)
	if !ok || strings.HasPrefix(w.raw(n), "panic(") {
		return w.inner(n)
	}
	k := removed
	if f := w.raw(call.Fun); strings.Contains(f, "Check") || strings.HasSuffix(f, ".check") || strings.HasSuffix(f, ".Fail") || strings.HasSuffix(f, ".Nest") {
		k = removedCheck
	}
	id := w.add(k, n, w.raw(n))
	return fmt.Sprintf("if !mut.On(%d) { %s }", id, w.inner(n))
}

func (w *writer) assign(n *ast.AssignStmt) string {
	blank := !slices.ContainsFunc(n.Lhs, func(e ast.Expr) bool { return w.raw(e) != "_" })
	if n.Tok == token.DEFINE || blank {
		return w.simple(n)
	}
	k := removed
	if len(n.Lhs) == 1 {
		if s := setKind(w.info.TypeOf(n.Lhs[0])); s != "" {
			k = s
		}
	}
	id := w.add(k, n, w.raw(n))
	return fmt.Sprintf("if !mut.On(%d) { %s }", id, w.simple(n))
}

// simple writes a statement of which only the right side changes.
func (w *writer) simple(s ast.Stmt) string {
	a, ok := s.(*ast.AssignStmt)
	if !ok {
		return w.raw(s)
	}
	var parts []string
	for _, e := range a.Rhs {
		if len(a.Rhs) > 1 {
			parts = append(parts, w.set(e))
		} else {
			parts = append(parts, w.text(e))
		}
	}
	return w.between(a.Pos(), a.Rhs[0].Pos()) + strings.Join(parts, ", ")
}

var errorType = types.Universe.Lookup("error").Type()

func (w *writer) returns(n *ast.ReturnStmt) string {
	if len(n.Results) == 0 {
		return w.raw(n)
	}
	var parts []string
	last := w.info.Types[n.Results[len(n.Results)-1]].Value
	none := last != nil && last.Kind() == constant.Bool && !constant.BoolVal(last)
	for i, e := range n.Results {
		if v := w.info.Types[e].Value; none && v != nil && (v.Kind() == constant.Int || v.Kind() == constant.Float) && constant.Sign(v) == 0 {
			parts = append(parts, w.raw(e)) // beside a false nobody looks at it: no fact
			continue
		}
		t, s := w.info.TypeOf(e), w.set(e)
		p, pointer := t.(*types.Pointer)
		isError := types.Identical(t, errorType) || pointer && strings.HasSuffix(nameOf(p.Elem()), "Error") && i == len(n.Results)-1
		if isError && !w.info.Types[e].IsNil() {
			s = fmt.Sprintf("mut.Nil(%d, %s)", w.add(noError, n, w.raw(n)), s)
		}
		parts = append(parts, s)
	}
	return "return " + strings.Join(parts, ", ")
}
