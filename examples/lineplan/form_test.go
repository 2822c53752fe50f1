package main

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata"
)

// form is the form without its notes, as a tree.
func form(t *testing.T) map[string]any {
	t.Helper()
	code, text, complaints := call("", "-form")
	require.Equal(t, exitOK, code, complaints)
	var rows []string
	for row := range strings.Lines(text) {
		if !strings.HasPrefix(strings.TrimSpace(row), "#") {
			rows = append(rows, row)
		}
	}
	var tree map[string]any
	require.NoError(t, json.Unmarshal([]byte(strings.Join(rows, "")), &tree))
	return tree
}

// fill writes the values of a scenario into a form: a list of the form has one item, from which each item is made.
func fill(t *testing.T, path string, form, with any) any {
	switch with := with.(type) {
	case map[string]any:
		out, ok := form.(map[string]any)
		require.True(t, ok, "%s is no part of the form", path)
		out = maps.Clone(out)
		for name, v := range with {
			require.Contains(t, out, name, "the form has no %s.%s", path, name)
			out[name] = fill(t, path+"."+name, out[name], v)
		}
		return out
	case []any:
		item, ok := form.([]any)
		require.True(t, ok && len(item) == 1, "%s is no list of the form", path)
		out := []any{}
		for _, v := range with {
			out = append(out, fill(t, path+"[]", item[0], v))
		}
		return out
	}
	_, ok := form.(string)
	require.True(t, ok, "%s is no value of the form", path)
	return with
}

// Whoever fills the form in with what a demo plant has, and leaves the rest as it is, gets that plant's pages.
func TestFilledFormPlans(t *testing.T) {
	for demo, file := range demos {
		data, err := testdata.Scenario(file)
		require.NoError(t, err)
		var plant map[string]any
		require.NoError(t, json.Unmarshal(data, &plant))
		filled, err := json.MarshalIndent(fill(t, "", form(t), plant), "", "  ")
		require.NoError(t, err)
		assert.Contains(t, string(filled), `"? `, "much is not filled in")
		noted := "# my own line\n" + strings.Replace(string(filled), "\n", "\n  # a note, with \"?\" in it\n", 1)
		name := filepath.Join(t.TempDir(), "day.json")
		require.NoError(t, os.WriteFile(name, []byte(noted), 0o600))
		code, got, complaints := call("", "-scenario", name)
		require.Equal(t, exitOK, code, complaints)
		_, want, _ := call("", "-demo", demo)
		assert.Equal(t, want, got)
	}
}

// A form that is not filled in names what is wanted, and plans nothing.
func TestEmptyForm(t *testing.T) {
	_, text, _ := call("", "-form")
	name := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	code, out, complaints := call("", "-scenario", name)
	assert.Equal(t, exitFile, code)
	assert.Empty(t, out)
	for _, want := range []string{"title\n      is missing", "line\n      is missing", "shift\n      is missing", "orders\n      is missing"} {
		assert.Contains(t, complaints, want)
	}
	require.NoError(t, os.WriteFile(name, []byte(strings.Replace(text, `"strokes_low": "? strokes/min`, `"strokes_low": "12 strokes/min`, 1)), 0o600))
	_, _, complaints = call("", "-scenario", name)
	assert.Contains(t, complaints, "line.divider.strokes_low\n      is \"12 strokes/min, strokes/h\"", "what is half filled in is told as typed")
}

// The form has a note for every field, and says how to find nothing that there is not.
func TestFormNotes(t *testing.T) {
	_, text, _ := call("", "-form")
	fields := map[string]bool{}
	var walk func(v reflect.Type, path string)
	walk = func(v reflect.Type, path string) {
		for v.Kind() == reflect.Pointer || v.Kind() == reflect.Slice {
			if v.Kind() == reflect.Slice {
				path += "[]"
			}
			v = v.Elem()
		}
		if v.Kind() != reflect.Struct || !slices.Contains([]string{"line", "divider", "proof", "molder", "doughmath"}, filepath.Base(v.PkgPath())) {
			return
		}
		for _, f := range reckon.Fields(v) {
			at := strings.TrimPrefix(path+"."+f.Name, ".")
			fields[at] = true
			assert.Contains(t, text, "# "+f.Name+": ", at)
			walk(f.Type, at)
		}
	}
	walk(reflect.TypeFor[line.Scenario](), "")
	assert.Greater(t, len(fields), 250)
	assert.NotContains(t, text, ": [needed]", "a field without a meaning")
	about := regexp.MustCompile(`calc about ([a-z-]+)`)
	for at, how := range measure {
		assert.True(t, fields[at], "%s: the form has no such field", at)
		assert.True(t, strings.HasSuffix(how, "."), "%s: no sentence", at)
		for _, m := range about.FindAllStringSubmatch(how, -1) {
			_, ok := calc.Lookup(m[1])
			assert.True(t, ok, "%s: there is no calculation %s", at, m[1])
		}
		flat := strings.Join(strings.Fields(strings.ReplaceAll(text, "#", "")), " ")
		assert.Contains(t, flat, how)
	}
}
