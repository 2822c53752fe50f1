package calc_test

import (
	"go/ast"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/calc"
)

// A calculation is an exported type with an ID and a Solve. Each
// must be in the calculator, shown by a runnable example and say on whose
// authority it stands.
func TestEveryCalculationIsComplete(t *testing.T) {
	byFunc := map[string]calc.Entry{}
	ids := map[string]bool{}
	for _, e := range calc.Entries() {
		_, twice := byFunc[e.Func()]
		assert.False(t, twice, "%s has two entries", e.Func())
		assert.False(t, ids[e.ID], "the id %q is there twice", e.ID)
		byFunc[e.Func()], ids[e.ID] = e, true
		assert.True(t, strings.HasSuffix(e.Question, "?"), "%s: the question %q does not ask", e.ID, e.Question)
	}
	for _, e := range calc.Entries() {
		for _, inverse := range e.Inverses {
			assert.True(t, ids[inverse], "%s: its inverse %q is not a calculation", e.ID, inverse)
			assert.NotEqual(t, e.ID, inverse, "%s is named as its own inverse", e.ID)
		}
	}
	// Every inverse goes there and back in some test.
	byPackage := map[string]source{}
	sources := readSources(t)
	for _, s := range sources {
		byPackage[s.name] = s
	}
	for _, e := range calc.Entries() {
		if !strings.Contains(e.ID, "-for-") {
			continue
		}
		pkg, name, _ := strings.Cut(e.Func(), ".")
		s := byPackage[pkg]
		met := slices.ContainsFunc(calc.Entries(), func(o calc.Entry) bool {
			opkg, oname, _ := strings.Cut(o.Func(), ".")
			return opkg == pkg && (slices.Contains(o.Inverses, e.ID) || slices.Contains(e.Inverses, o.ID)) && s.together(name, oname)
		})
		assert.True(t, met, "%s has no test that goes there and back: put it and a calculation that it inverts into one test function", e.Func())
	}
	found := map[string]bool{}
	for _, s := range sources {
		for _, name := range s.calculations() {
			full := s.name + "." + name
			found[full] = true
			doc := s.types[name].Doc.Text()
			if e, ok := byFunc[full]; assert.True(t, ok, "%s has no entry: add ask[%[1]s](...) in doughmath/calc", full) {
				assert.True(t, slices.Contains(s.idsFor(name), e.ID), "%s has the id %q, want one of %q", full, e.ID, s.idsFor(name))
			}
			assert.True(t, s.examples[name], "%s has no func Example%s in a test file of its package", full, name)
			assert.Contains(t, doc, "\nSource: ", "%s: its comment has no line that starts with \"Source: \"", full)
			assert.True(t, strings.HasPrefix(doc, name+" "), "%s: its comment does not start with its name", full)
		}
	}
	for name := range byFunc {
		assert.True(t, found[name], "the entry for %s has no such type with an ID and a Solve", name)
	}
}

// Whoever calls by id knows a value by its JSON name: a field's comment must
// not speak of another by its name in Go.
func TestFieldsAreNamedAsInJSON(t *testing.T) {
	statistics := []string{"SD", "Howe", "Grubbs", "Pp", "Cp", "Cpk", "Cpm"} // written so in the trade
	word := regexp.MustCompile(`(^|[ (])([A-Z]\w*)`)
	for _, s := range readSources(t) {
		names := map[string]bool{}
		comments := map[string]string{}
		for typ, spec := range s.types {
			st, ok := spec.Type.(*ast.StructType)
			if !ok {
				continue
			}
			for _, f := range st.Fields.List {
				if f.Tag == nil || len(f.Names) != 1 || !strings.Contains(f.Tag.Value, `json:"`) {
					continue
				}
				names[f.Names[0].Name] = true
				comments[typ+"."+f.Names[0].Name] = f.Comment.Text()
			}
		}
		for field, text := range comments {
			for _, at := range word.FindAllStringSubmatchIndex(text, -1) {
				before, name := strings.TrimRight(text[:at[4]], " ("), text[at[4]:at[5]]
				opens := before == "" || strings.ContainsAny(before[len(before)-1:], ".:")
				assert.False(t, !opens && len(name) > 1 && names[name] && !slices.Contains(statistics, name), "%s.%s: its comment says %q", s.name, field, name)
			}
		}
	}
}
