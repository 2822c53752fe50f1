package describe

import (
	"go/ast"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/calc"
)

// The table of entries is sound in itself.
func TestEntries(t *testing.T) {
	funcs, ids := map[string]bool{}, map[string]bool{}
	for _, e := range calc.Entries() {
		assert.False(t, funcs[e.Func()], "%s has two entries", e.Func())
		assert.False(t, ids[e.ID], "the id %q is there twice", e.ID)
		funcs[e.Func()], ids[e.ID] = true, true
		assert.True(t, strings.HasSuffix(e.Question, "?"), "%s: the question %q does not ask", e.ID, e.Question)
	}
	for _, e := range calc.Entries() {
		for _, inverse := range e.Inverses {
			assert.True(t, ids[inverse], "%s: its inverse %q is not a calculation", e.ID, inverse)
			assert.NotEqual(t, e.ID, inverse, "%s is named as its own inverse", e.ID)
		}
	}
}

// A calculation is an exported type with an ID and a Solve. Each must be in the
// calculator, shown by a runnable example and say on whose authority it stands.
func TestEveryCalculationIsComplete(t *testing.T) {
	entries := map[string]calc.Entry{}
	for _, e := range calc.Entries() {
		entries[e.Func()] = e
	}
	for _, s := range readSources(t) {
		for _, name := range s.calculations() {
			full, doc := s.name+"."+name, s.types[name].Doc.Text()
			e, ok := entries[full]
			delete(entries, full)
			assert.True(t, ok, "%s has no entry: add ask[%[1]s](...) in doughmath/calc", full)
			assert.True(t, !ok || slices.Contains(s.idsFor(name), e.ID), "%s has the id %q, want one of %q", full, e.ID, s.idsFor(name))
			assert.True(t, s.examples[name], "%s has no func Example%s in a test file of its package", full, name)
			assert.Contains(t, doc, "\nSource: ", "%s: its comment has no line that starts with \"Source: \"", full)
			assert.True(t, strings.HasPrefix(doc, name+" "), "%s: its comment does not start with its name", full)
		}
	}
	for name := range entries {
		t.Errorf("the entry for %s has no such type with an ID and a Solve", name)
	}
}

// Every inverse goes there and back in some test: a test function names both
// it and a calculation that it inverts.
func TestInversesGoThereAndBack(t *testing.T) {
	inverts := func(a, b calc.Entry) bool {
		return slices.Contains(a.Inverses, b.ID) || slices.Contains(b.Inverses, a.ID)
	}
	for _, e := range calc.Entries() {
		if !strings.Contains(e.ID, "-for-") {
			continue
		}
		pkg, name, _ := strings.Cut(e.Func(), ".")
		station := readSources(t)[pkg]
		met := slices.ContainsFunc(calc.Entries(), func(o calc.Entry) bool {
			other, ok := strings.CutPrefix(o.Func(), pkg+".")
			return ok && inverts(e, o) && station.together(name, other)
		})
		assert.True(t, met, "%s has no test that goes there and back: put it and a calculation that it inverts into one test function", e.Func())
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
