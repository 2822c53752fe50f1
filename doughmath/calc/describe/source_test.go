package describe

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

// The packages that hold calculations, and the words that an id puts before
// the name of a calculation: divider.Rate is "divider-rate".
var stations = []station{
	{"doughmath", "../..", nil},
	{"divider", "../../../divider", []string{"divider"}},
	{"proof", "../../../proof", []string{"proofer", "proof"}},
	{"molder", "../../../molder", []string{"molder", "moulder"}},
	{"line", "../../line", []string{"line"}},
}

type station struct {
	name, dir string
	words     []string
}

// source is what a package's Go files say, read without compiling them.
type source struct {
	station
	methods  map[string]*ast.FuncDecl // "HopperTime.Solve"
	types    map[string]*ast.TypeSpec
	consts   map[string][]Choice // of a named string type, in the order written
	examples map[string]bool     // "Rate" if some test file has ExampleRate
	tests    []map[string]bool   // for each function of the test files, the names in it
	fuzzes   map[string]bool     // the names in its fuzz targets
}

// sources holds every station by its name, parsed once for all tests.
var sources = sync.OnceValues(func() (map[string]*source, error) {
	out := map[string]*source{}
	for _, st := range stations {
		s := &source{
			station: st, methods: map[string]*ast.FuncDecl{}, types: map[string]*ast.TypeSpec{},
			consts: map[string][]Choice{}, examples: map[string]bool{}, fuzzes: map[string]bool{},
		}
		files, err := filepath.Glob(filepath.Join(st.dir, "*.go"))
		if err != nil || len(files) == 0 {
			return nil, fmt.Errorf("no Go files in %s: %w", st.dir, err)
		}
		for _, name := range files {
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			s.read(file, strings.HasSuffix(name, "_test.go"))
		}
		out[st.name] = s
	}
	return out, nil
})

func readSources(t *testing.T) map[string]*source {
	t.Helper()
	all, err := sources()
	require.NoError(t, err)
	return all
}

func (s *source) read(file *ast.File, test bool) {
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			name, example := strings.CutPrefix(d.Name.Name, "Example")
			switch {
			case d.Recv != nil && !test:
				if on, ok := d.Recv.List[0].Type.(*ast.Ident); ok {
					s.methods[on.Name+"."+d.Name.Name] = d
				}
			case d.Recv != nil:
			case test && example:
				name, _, _ = strings.Cut(name, "_")
				s.examples[name] = true
			case test:
				names := namesIn(d)
				s.tests = append(s.tests, names)
				if strings.HasPrefix(d.Name.Name, "Fuzz") {
					maps.Copy(s.fuzzes, names)
				}
			}
		case *ast.GenDecl:
			if test {
				continue
			}
			for _, spec := range d.Specs {
				switch spec := spec.(type) {
				case *ast.TypeSpec:
					if spec.Doc == nil {
						spec.Doc = d.Doc
					}
					s.types[spec.Name.Name] = spec
				case *ast.ValueSpec:
					s.readConst(d, spec)
				}
			}
		}
	}
}

// namesIn returns every name that stands in a function.
func namesIn(d *ast.FuncDecl) map[string]bool {
	found := map[string]bool{}
	ast.Inspect(d, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok {
			found[id.Name] = true
		}
		return true
	})
	return found
}

// together reports whether a function of the package's tests holds both names.
func (s *source) together(a, b string) bool {
	for _, t := range s.tests {
		if t[a] && t[b] {
			return true
		}
	}
	return false
}

// readConst keeps the constants of named string types: the choices that a
// word offers.
func (s *source) readConst(d *ast.GenDecl, spec *ast.ValueSpec) {
	named, ok := spec.Type.(*ast.Ident)
	if !ok || d.Tok != token.CONST || len(spec.Values) != 1 {
		return
	}
	if value, ok := spec.Values[0].(*ast.BasicLit); ok && value.Kind == token.STRING {
		meaning := oneLine(spec.Doc.Text() + " " + spec.Comment.Text())
		meaning = strings.TrimSpace(strings.TrimPrefix(meaning, spec.Names[0].Name))
		s.consts[named.Name] = append(s.consts[named.Name], Choice{strings.Trim(value.Value, `"`), meaning})
	}
}

// calculations lists the exported types that solve something and have an id.
func (s *source) calculations() []string {
	var out []string
	for name := range s.types {
		if ast.IsExported(name) && s.methods[name+".ID"] != nil && s.methods[name+".Solve"] != nil {
			out = append(out, name)
		}
	}
	return out
}

// idsFor returns the ids that a calculation of this package may have.
func (s *source) idsFor(name string) []string {
	out := []string{kebab(name)}
	for _, w := range s.words {
		out = append(out, w+"-"+kebab(name))
	}
	return out
}

// kebab turns "MarkForWeight" into "mark-for-weight".
func kebab(name string) string {
	var b strings.Builder
	runes := []rune(name)
	for i, r := range runes {
		if i > 0 && unicode.IsUpper(r) && (!unicode.IsUpper(runes[i-1]) || i+1 < len(runes) && unicode.IsLower(runes[i+1])) {
			b.WriteByte('-')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}
