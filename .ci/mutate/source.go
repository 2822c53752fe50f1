package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/tools/go/packages"
)

const module = "example.com/dough"

// kind is a kind of change.
type kind string

const (
	arithmetic    kind = "arithmetic"     // + for -, * for /, and the other way round
	boundary      kind = "boundary"       // < for <=, > for >=, and the other way round
	literal       kind = "constant"       // a number by a hundredth more, a count by one
	namedConstant kind = "named-constant" // the same of a constant with a name, wherever it is used
	exponent      kind = "exponent"       // a cube root for a square root, a power by a twentieth
	sign          kind = "sign"           // no minus
	unitSwap      kind = "unit-swap"      // another unit of the same quantity
	condition     kind = "condition"      // a set of conditions empty
	caution       kind = "caution"        // a set of cautions empty
	noError       kind = "no-error"       // nil for an error
	removedCheck  kind = "removed-check"  // an input is not checked
	removed       kind = "removed"        // a statement is left out
	negated       kind = "negated"        // a branch is taken when it should not be, and not when it should
	never         kind = "never"          // a branch is never taken
	dropped       kind = "dropped"        // one side of an "and" or an "or" is left out
)

var allKinds = []kind{
	arithmetic, boundary, literal, namedConstant, exponent, sign, unitSwap, condition, caution, noError, removedCheck, removed, negated, never, dropped,
}

// change is one wrong fact.
type change struct {
	id   int
	kind kind
	file string // in the module
	line int
	of   string // function, or what is declared
	text string
	// counts: of whole numbers, such as an index or the next item, which state no fact
	counts bool
	// nth is which one of those that are alike in a function, from 1; 0 if there is no other
	nth int
}

func (c change) String() string { return fmt.Sprintf("%s:%d: %s", c.file, c.line, c.key()) }

// key is the change without its line, which moves. Those that are alike in a function are numbered.
func (c change) key() string {
	if c.nth > 0 {
		return fmt.Sprintf("%s (%d)", c.alike(), c.nth)
	}
	return c.alike()
}

// alike is what several changes of a function may be called.
func (c change) alike() string {
	return fmt.Sprintf("%s %s: %s: %s", c.file, c.of, c.kind, c.text)
}

// equal reports whether the change, or all that are like it, stand among those that make no difference.
func (c change) equal(known map[string]string) bool {
	return known[c.key()] != "" || known[c.alike()] != ""
}

// number numbers the changes that are alike.
func number(changes []change) {
	times := map[string]int{}
	for i := range changes {
		times[changes[i].alike()]++
	}
	met := map[string]int{}
	for i := range changes {
		if c := &changes[i]; times[c.alike()] > 1 {
			met[c.alike()]++
			c.nth = met[c.alike()]
		}
	}
}

// source is a package with its changes.
type source struct {
	root, pkg, dir string
	texts          map[string]string // by file, each change asked for where it stands
	changes        []change
}

// gone lists what is known of changes of the package that are no longer there.
func (p *source) gone(known map[string]string) (keys []string) {
	there := map[string]bool{}
	for _, c := range p.changes {
		there[c.key()], there[c.alike()] = true, true
	}
	for key := range known {
		if file, _, _ := strings.Cut(key, " "); path.Dir(file) == p.pkg && !there[key] {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}

func load(root, pkg string) (*source, error) {
	root, err := filepath.Abs(root)
	if err != nil {
		return nil, err
	}
	config := &packages.Config{Dir: root, Mode: packages.NeedName | packages.NeedFiles | packages.NeedSyntax | packages.NeedTypes |
		packages.NeedTypesInfo | packages.NeedImports | packages.NeedDeps}
	list, err := packages.Load(config, "./"+pkg)
	if err != nil {
		return nil, err
	}
	if len(list) != 1 || len(list[0].Errors) > 0 || len(list[0].Syntax) == 0 {
		return nil, fmt.Errorf("%s is not one package that builds: %v", pkg, list[0].Errors)
	}
	p := list[0]
	out := &source{root: root, pkg: pkg, dir: filepath.Join(root, pkg), texts: map[string]string{}}
	named := map[types.Object]int{}
	for _, f := range p.Syntax {
		name := p.Fset.Position(f.Pos()).Filename
		code, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return nil, err
		}
		w := &writer{source: out, code: code, at: p.Fset.File(f.Pos()), fset: p.Fset, info: p.TypesInfo, pkg: p.Types, rel: rel, named: named, names: map[string]string{}}
		out.texts[name] = w.write(f)
	}
	number(out.changes)
	return out, nil
}

// writer writes one file anew.
type writer struct {
	*source
	code  []byte
	at    *token.File
	fset  *token.FileSet
	info  *types.Info
	pkg   *types.Package
	rel   string
	of    string
	used  bool
	names map[string]string    // of the packages imported, by path
	named map[types.Object]int // changes of constants with a name
}

func (w *writer) write(f *ast.File) string {
	for _, im := range f.Imports {
		path := strings.Trim(im.Path.Value, `"`)
		w.names[path] = filepath.Base(path)
		if im.Name != nil {
			w.names[path] = im.Name.Name
		}
	}
	var b strings.Builder
	end := 0
	for _, d := range f.Decls {
		b.Write(w.code[end:w.offset(d.Pos())])
		b.WriteString(w.text(d))
		end = w.offset(d.End())
	}
	b.Write(w.code[end:])
	out := b.String()
	if !w.used {
		return out
	}
	i := w.offset(f.Name.End())
	out = out[:i] + `; import "` + module + `/doughmath/mut"` + out[i:]
	if name := w.names["math"]; name != "" {
		out += "\nvar _ = " + name + ".Pi\n" // a change may have taken its last use
	}
	return out
}

func (w *writer) offset(p token.Pos) int { return w.at.Offset(p) }

func (w *writer) raw(n ast.Node) string { return string(w.code[w.offset(n.Pos()):w.offset(n.End())]) }

func (w *writer) between(from, to token.Pos) string {
	return string(w.code[w.offset(from):w.offset(to)])
}

// add makes a change and returns its number.
func (w *writer) add(k kind, n ast.Node, text string) int {
	id := len(w.changes) + 1
	w.changes = append(w.changes, change{id, k, w.rel, w.at.Line(n.Pos()), w.of, strings.Join(strings.Fields(text), " "), w.counts(k, n), 0})
	w.used = true
	return id
}

// counts reports whether the change is to a step of a count, or to the 0 or 1 that one begins with.
func (w *writer) counts(k kind, n ast.Node) bool {
	e, ok := n.(ast.Expr)
	if !ok {
		return false
	}
	b, ok := w.info.TypeOf(e).Underlying().(*types.Basic)
	if !ok || b.Info()&types.IsInteger == 0 {
		return false
	}
	return k == arithmetic || k == literal && (w.raw(e) == "0" || w.raw(e) == "1")
}

// inner writes the node with what is in it written anew.
func (w *writer) inner(n ast.Node) string {
	var parts []ast.Node
	first := true
	ast.Inspect(n, func(c ast.Node) bool {
		if first {
			first = false
			return true
		}
		if _, comment := c.(*ast.CommentGroup); c != nil && !comment {
			parts = append(parts, c)
		}
		return false
	})
	slices.SortStableFunc(parts, func(a, b ast.Node) int { return int(a.Pos() - b.Pos()) })
	var b strings.Builder
	end := n.Pos()
	for _, c := range parts {
		if c.Pos() < end {
			continue // names that several fields share
		}
		b.WriteString(w.between(end, c.Pos()))
		b.WriteString(w.text(c))
		end = c.End()
	}
	b.WriteString(w.between(end, n.End()))
	return b.String()
}

// typeName writes a type as this file does; false if it does not import what that takes.
func (w *writer) typeName(t types.Type) (string, bool) {
	ok := true
	s := types.TypeString(t, func(p *types.Package) string {
		if p == w.pkg {
			return ""
		}
		name, have := w.names[p.Path()]
		ok = ok && have
		if name == "." {
			return ""
		}
		return name
	})
	return s, ok
}

func isNumber(t types.Type) bool {
	if t == nil {
		return false
	}
	if _, param := t.(*types.TypeParam); param {
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&(types.IsInteger|types.IsFloat) != 0 && b.Info()&types.IsUntyped == 0
}

func nameOf(t types.Type) string {
	switch t := t.(type) {
	case *types.Named:
		return t.Obj().Name()
	case *types.Alias:
		return t.Obj().Name()
	}
	return ""
}

// setKind says which kind of set of remarks a type is.
func setKind(t types.Type) kind {
	switch nameOf(t) {
	case "Conditions":
		return condition
	case "Cautions":
		return caution
	}
	return ""
}
