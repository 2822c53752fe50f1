package line

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"maps"
	"math/bits"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// source is this package as it is written: what each function reads and calls.
type source struct {
	info  *types.Info
	pkg   *types.Package
	funcs map[string]*ast.FuncDecl
}

type noImports struct{}

func (noImports) Import(string) (*types.Package, error) { return nil, errors.New("not needed") }

func readSource(t *testing.T) source {
	t.Helper()
	fset := token.NewFileSet()
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	var files []*ast.File
	s := source{info: &types.Info{Selections: map[*ast.SelectorExpr]*types.Selection{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}, funcs: map[string]*ast.FuncDecl{}}
	for _, e := range entries {
		if name := e.Name(); strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
			f, err := parser.ParseFile(fset, name, nil, 0)
			require.NoError(t, err)
			files = append(files, f)
		}
	}
	// What other packages declare is not known and not looked at.
	config := types.Config{Importer: noImports{}, Error: func(error) {}}
	s.pkg, _ = config.Check("line", fset, files, s.info)
	for _, f := range files {
		for _, d := range f.Decls {
			if d, ok := d.(*ast.FuncDecl); ok {
				s.funcs[s.info.Defs[d.Name].(*types.Func).FullName()] = d
			}
		}
	}
	return s
}

// uses gathers the fields, as "Type.Field", that a piece of code reaches, here and in all that it calls.
// What only a working shows is left out.
func (s *source) uses(n ast.Node, seen, fields map[string]bool) {
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.IfStmt:
			if types.ExprString(n.Cond) == "w != nil" || strings.HasSuffix(types.ExprString(n.Cond), "r.w != nil") || strings.HasPrefix(types.ExprString(n.Cond), "r.w != nil") {
				if n.Init != nil {
					s.uses(n.Init, seen, fields)
				}
				s.uses(n.Cond, seen, fields)
				if n.Else != nil {
					s.uses(n.Else, seen, fields)
				}
				return false
			}
		case *ast.SelectorExpr:
			if sel := s.info.Selections[n]; sel != nil && sel.Kind() == types.FieldVal {
				from := sel.Recv()
				if p, ok := from.(*types.Pointer); ok {
					from = p.Elem()
				}
				if named, ok := from.(*types.Named); ok {
					fields[named.Obj().Name()+"."+n.Sel.Name] = true
				}
			}
		case *ast.Ident:
			if f, ok := s.info.Uses[n].(*types.Func); ok && f.Pkg() == s.pkg && !seen[f.FullName()] {
				seen[f.FullName()] = true
				if d := s.funcs[f.FullName()]; d != nil {
					s.uses(d.Body, seen, fields)
				}
			}
		}
		return true
	})
}

// What an input can change is asked again and nothing else: who reads it, who uses their answers, and all where nobody names it. From the list of what each reads.
func TestReadersOfInputs(t *testing.T) {
	const (
		all    = everyStation | soundLine | fitted
		slower = speeding | batching | rounding | weighing | splitting | ripening | heating | watering | proofing | stamping | travelling | timing | supplying | finishing // what hangs on the speed
	)
	for path, want := range map[string]station{
		"order.product.per_carrier":     ordering | finishing,
		"order.product.pocketed.growth": ordering | pocketing,
		"line.pocket":                   soundLine | ordering | pocketing,
		"line.oil_valves":               soundLine | supplying,
		"line.moulder":                  soundLine | guiding | moulding | rolling | shaping | slower,
		"line.belts[2].belt_speed":      soundLine | slower,
		"shift.scales":                  shifting | weighing | splitting | ripening | heating | watering,
		"order.product.route":           all, // what no station names
		"line.controls":                 all,
		"nowhere":                       all,
	} {
		assert.Equal(t, want, readersOf(path), path)
	}
}

// Every station reads only inputs on which it is said to depend, and only
// answers of stations that are said to come before it.
func TestReadsSayAll(t *testing.T) {
	s := readSource(t)
	names := map[string]station{}
	for i, n := range strings.Fields(`ordering shifting weighting checking labelling aiming marking leaving drumming pocketing speeding batching rounding
		weighing wetting tempering splitting ripening heating watering proofing guiding moulding rolling shaping stamping travelling timing supplying finishing`) {
		names[n] = 1 << i
	}
	require.Equal(t, everyStation, station(1)<<len(names)-1)
	method := func(name string) *ast.FuncDecl {
		d := s.funcs["(*line.run)."+name]
		require.NotNil(t, d, name)
		return d
	}

	// Whose an answer is, as forget says.
	owner := map[string]station{}
	ast.Inspect(method("forget").Body, func(n ast.Node) bool {
		c, ok := n.(*ast.CaseClause)
		if !ok {
			return true
		}
		who := names[types.ExprString(c.List[0])]
		require.NotZero(t, who, types.ExprString(c.List[0]))
		for _, st := range c.Body {
			a, ok := st.(*ast.AssignStmt)
			if !ok || a.Tok == token.AND_NOT_ASSIGN { // of those, one word is another station's
				continue
			}
			for _, x := range a.Lhs {
				field := map[string]bool{}
				s.uses(x, map[string]bool{}, field)
				for f := range field {
					if f != "PlanResult.Times" && a.Tok == token.ASSIGN {
						assert.Zero(t, owner[f], f)
						owner[f] = who
					}
				}
			}
		}
		return true
	})
	for f := range reflect.TypeFor[PlanResult]().Fields() {
		if name := "PlanResult." + f.Name; f.Name != "Times" && f.Name != "Cautions" && f.Name != "WaterTemp" {
			assert.NotZero(t, owner[name], "%s is no station's", name)
		}
	}
	owner["PlanResult.WaterTemp"] = heating // which always writes it
	owner["run.fits"] = fitted

	// What is reached from where the stations are asked.
	code := map[station]ast.Node{weighing: method("weigh"), wetting: method("wet"), tempering: method("waterTemp")}
	for _, asks := range []string{"stations", "makeUp"} {
		ast.Inspect(method(asks), func(n ast.Node) bool {
			if st, ok := n.(*ast.IfStmt); ok {
				_, cond, _ := strings.Cut(types.ExprString(st.Cond), "due.has(")
				if who := names[strings.TrimSuffix(cond, ")")]; who != 0 {
					code[who] = st.Body
				}
			}
			return true
		})
	}
	require.Len(t, code, len(names))
	inputs := map[string]map[string]string{} // by type and field, the path
	for path, of := range map[string]reflect.Type{"order.product.": reflect.TypeFor[Product](), "order.": reflect.TypeFor[Order](), "shift.": reflect.TypeFor[Shift](), "line.": reflect.TypeFor[Line]()} {
		inputs[of.Name()] = map[string]string{}
		for f := range of.Fields() {
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if f.Anonymous {
				name = "yeast"
			}
			inputs[of.Name()][f.Name] = path + name
		}
	}
	before := map[station]station{} // all that come before, and what they need
	for i := range reads {
		e := &reads[i]
		before[e.station] = e.after
		for a := e.after; a != 0; a &= a - 1 {
			before[e.station] |= before[a&-a]
		}
		if e.station <= everyStation {
			assert.Less(t, e.after&everyStation, e.station, "a station is asked after those that it uses")
		}
	}
	for name, who := range names {
		fields := map[string]bool{}
		s.uses(code[who], map[string]bool{}, fields)
		for _, f := range slices.Sorted(maps.Keys(fields)) {
			of, field, _ := strings.Cut(f, ".")
			if path := inputs[of][field]; path != "" && path != "order.product" {
				assert.NotZero(t, readersOf(path)&who, "%s reads %s", name, path)
			}
			if o := owner[f]; o != 0 && o != who {
				assert.NotZero(t, before[who]&o, "%s uses %s of station %d", name, f, bits.TrailingZeros32(uint32(o)))
			}
		}
		assert.Greater(t, len(fields), 3, name)
	}
}
