// Package arrows holds the packages of the library to their layers, and to
// what a library leaves to the program that uses it.
package arrows

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "example.com/dough/"

// lower lists what each package of the library may import of the others.
// Whatever is not here rests on top and is a program, or testdata.
//
//	examples -> exercise, whatif -> calc -> line -> divider, proof, molder -> doughmath -> reckon -> unit
var lower = func() map[string][]string {
	contract := []string{"doughmath/unit", "doughmath/reckon"}
	stations := []string{"doughmath", "divider", "proof", "molder"}
	line := slices.Concat(contract, stations)
	calc := append(slices.Clone(line), "doughmath/line", "doughmath/internal/nearest")
	return map[string][]string{
		"doughmath/unit":             {},
		"doughmath/internal/nearest": {},
		"doughmath/internal/arrows":  {},
		"doughmath/reckon":           {"doughmath/unit", "doughmath/internal/nearest"},
		"doughmath":                  contract,
		"proof":                      contract,
		"molder":                     contract,
		"divider":                    append(slices.Clone(contract), "doughmath"), // for the losses
		"doughmath/line":             line,
		"doughmath/calc":             calc,
		"doughmath/calc/describe":    append(slices.Clone(calc), "doughmath/calc"),
		"doughmath/whatif":           append(slices.Clone(calc), "doughmath/calc"),
		"doughmath/exercise":         append(slices.Clone(calc), "doughmath/calc"),
	}
}()

// listed is what go list says of a package.
type listed struct {
	ImportPath, Dir        string
	Standard               bool
	GoFiles, Imports, Deps []string
}

func (p *listed) name() string { return strings.TrimPrefix(p.ImportPath, module) }

// list returns the packages of this module and all that they rest on, without
// their tests.
func list(t *testing.T) map[string]*listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-json=ImportPath,Dir,Standard,GoFiles,Imports,Deps", module+"...")
	out, err := cmd.Output()
	require.NoError(t, err)
	all := map[string]*listed{}
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		p := new(listed)
		if err := dec.Decode(p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all[p.ImportPath] = p
	}
}

// browserPage is compiled for a browser only; what it calls is looked at, in the folder beside it.
const browserPage = "../../../examples/practice/page"

// Every folder with Go files is looked at. Walking over all of them also tells
// the go command to run these tests again when a file comes or goes.
func TestNothingIsOverlooked(t *testing.T) {
	all := list(t)
	require.NoError(t, filepath.WalkDir("../../..", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if base := d.Name(); base == "testdata" || strings.HasPrefix(base, ".") && base != ".." {
			return fs.SkipDir // testdata is a package for tests and examples only
		}
		if _, err := os.Stat(filepath.Join(name, "go.mod")); err == nil && name != "../../.." {
			return fs.SkipDir // a module of its own, which the library does not know
		}
		files, err := filepath.Glob(filepath.Join(name, "*.go"))
		if len(files) > 0 && filepath.ToSlash(name) != browserPage {
			full, _ := filepath.Abs(name)
			listed := slices.ContainsFunc(slices.Collect(maps.Values(all)), func(p *listed) bool { return p.Dir == full })
			assert.True(t, listed, "%s is not among the packages", name)
		}
		return err
	}))
}

// library returns the packages of the library among all.
func library(all map[string]*listed) []*listed {
	var out []*listed
	for _, p := range all {
		if ours := strings.HasPrefix(p.ImportPath, module); ours && !strings.HasPrefix(p.name(), "examples/") && p.name() != "testdata" {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b *listed) int { return strings.Compare(a.ImportPath, b.ImportPath) })
	return out
}

func TestArrowsPointDown(t *testing.T) {
	all := list(t)
	for _, p := range library(all) {
		allowed, ok := lower[p.name()]
		if !assert.True(t, ok, "%s has no place among the layers: give it one in this test", p.name()) {
			continue
		}
		for _, imported := range p.Imports {
			if name, ours := strings.CutPrefix(imported, module); ours {
				assert.Contains(t, allowed, name, "%s must not import %s", p.name(), name)
			}
		}
	}
	for name := range lower {
		assert.NotNil(t, all[module+name], "%s is gone: take it out of this test", name)
	}
}

// Whoever uses a part of the library pays for no more than that part needs.
func TestNothingHeavyIsPulledIn(t *testing.T) {
	all := list(t)
	rests := func(name, on string) bool {
		return slices.ContainsFunc(all[module+name].Deps, func(d string) bool { return strings.Contains(d, on) })
	}
	for _, dep := range all[module+"doughmath/unit"].Deps {
		assert.True(t, all[dep].Standard, "unit rests on %s", dep)
	}
	for _, name := range []string{"doughmath/unit", "doughmath/reckon", "proof"} {
		assert.False(t, rests(name, "gonum.org/"), "%s pulls in the numerics library", name)
	}
	assert.True(t, rests("divider", "gonum.org/"), "the test above could not fail")
	for _, name := range []string{"doughmath/calc", "doughmath/exercise"} {
		assert.False(t, rests(name, module+"doughmath/calc/describe"), "%s pulls in the descriptions", name)
	}
	for _, p := range library(all) {
		for _, heavy := range []string{"schema", "testify", "go-cmp", "gonum.org/v1/plot", "excelize"} {
			assert.False(t, rests(p.name(), heavy), "%s pulls in %s", p.name(), heavy)
		}
	}
}

// The library leaves files, the network, the environment, the clock, printing
// and what runs at the same time to the program that uses it.
func TestTheLibraryOnlyComputes(t *testing.T) {
	for _, p := range library(list(t)) {
		for _, name := range p.GoFiles {
			fset := token.NewFileSet()
			file, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			for _, wrong := range forbidden(fset, file) {
				if where := p.name() + "/" + name; slices.Contains(goroutines, where) && strings.HasSuffix(wrong, "starts a goroutine") {
					continue
				}
				t.Errorf("%s: %s", p.name(), wrong)
			}
		}
	}
}

// goroutines lists the files that start goroutines, and only when the caller asks for them.
var goroutines = []string{"doughmath/whatif/together.go"}

// A program's own affairs: these packages and what lies below them, and these
// functions of packages that are harmless otherwise.
var (
	programs = []string{"os", "net", "io/fs", "io/ioutil", "path/filepath", "syscall", "log", "flag", "plugin", "runtime", "unsafe", "database/sql", "math/rand"}
	calls    = map[string][]string{
		"time":         {"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer", "LoadLocation", "Local"},
		"fmt":          {"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
		"math/rand/v2": {"Int", "IntN", "Int32", "Int32N", "Int64", "Int64N", "Uint32", "Uint64", "UintN", "N", "Float32", "Float64", "NormFloat64", "ExpFloat64", "Perm", "Shuffle"},
	}
)

// forbidden lists what a file has that only a program may have.
func forbidden(fset *token.FileSet, file *ast.File) []string {
	var out []string
	wrong := func(n ast.Node, format string, args ...any) {
		at := fset.Position(n.Pos())
		out = append(out, fmt.Sprintf("%s:%d: ", filepath.Base(at.Filename), at.Line)+fmt.Sprintf(format, args...))
	}
	imported := map[string]string{} // path by name
	for _, s := range file.Imports {
		at, _ := strconv.Unquote(s.Path.Value) // it was parsed
		name := path.Base(at)
		if name == "v2" {
			name = path.Base(path.Dir(at))
		}
		if s.Name != nil {
			name = s.Name.Name
		}
		imported[name] = at
		for _, bad := range programs {
			if at == bad || strings.HasPrefix(at, bad+"/") && at != "math/rand/v2" {
				wrong(s, "imports %s", at)
			}
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			wrong(n, "starts a goroutine")
		case *ast.SelectorExpr:
			if n.Sel.Name == "Go" {
				wrong(n, "starts a goroutine")
			}
			if x, ok := n.X.(*ast.Ident); ok && slices.Contains(calls[imported[x.Name]], n.Sel.Name) {
				wrong(n, "uses %s.%s", x.Name, n.Sel.Name)
			}
		case *ast.CallExpr:
			if f, ok := n.Fun.(*ast.Ident); ok && (f.Name == "print" || f.Name == "println") {
				wrong(n, "prints")
			}
		}
		return true
	})
	return out
}

// The test above finds what it looks for.
func TestForbidden(t *testing.T) {
	const source = `package p

import (
	"fmt"
	"math/rand"
	fresh "math/rand/v2"
	"os/exec"
	"sync"
	"time"
)

func f(d time.Duration, all *sync.WaitGroup) string {
	go f(d, nil)
	all.Go(func() {})
	println(time.Now(), fresh.Float64(), fresh.New(fresh.NewPCG(1, 2)).Float64())
	fmt.Println()
	return fmt.Sprint(rand.Int(), exec.ErrDot, time.Second)
}
`
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "p.go", source, parser.SkipObjectResolution)
	require.NoError(t, err)
	assert.Equal(t, []string{
		"p.go:5: imports math/rand", "p.go:7: imports os/exec",
		"p.go:13: starts a goroutine", "p.go:14: starts a goroutine", "p.go:15: prints",
		"p.go:15: uses time.Now", "p.go:15: uses fresh.Float64", "p.go:16: uses fmt.Println",
	}, forbidden(fset, file))
}
