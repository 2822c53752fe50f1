package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/dough/examples/internal/folder"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/exercise"
)

func call(args ...string) (code int, stdout, stderr string) {
	var out, complaint bytes.Buffer
	code = run(args, &out, &complaint)
	return code, out.String(), complaint.String()
}

func TestWrongCalls(t *testing.T) {
	for _, args := range [][]string{{}, {"-out", "x", "y"}, {"-size"}} {
		code, stdout, _ := call(args...)
		assert.Equal(t, folder.Usage, code, args)
		assert.Empty(t, stdout)
	}
	code, _, _ := call("-h")
	assert.Equal(t, folder.OK, code)
}

func TestAFolderThatCannotBeWritten(t *testing.T) {
	inTheWay := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(inTheWay, nil, 0o600))
	assert.Error(t, folder.Write(inTheWay, []folder.File{{Name: "index.html"}}))
}

// Nothing on the page leads out of its folder, whatever else changes.
func TestNothingOutside(t *testing.T) {
	page := read(t, "index.html")
	assert.Contains(t, page, `content="default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; base-uri 'none'; form-action 'none'"`)
	assert.NotContains(t, page, "style=")
	assert.NotRegexp(t, regexp.MustCompile(`\son[a-z]+=`), page)
	for _, name := range []string{"index.html", "practice.css", "practice.js"} {
		for _, outside := range []string{"http:", "https:", "//cdn", "@import", "url(", "fetch(", "XMLHttpRequest", "localStorage", "eval("} {
			assert.NotContains(t, read(t, name), outside, name)
		}
	}
	for _, m := range regexp.MustCompile(`(?:src|href)="([^"#]+)"`).FindAllStringSubmatch(page, -1) {
		assert.NotContains(t, m[1], "/")
	}
}

// Every id that the script looks for is on the page, and every label is of something.
func TestIds(t *testing.T) {
	page, script := read(t, "index.html"), read(t, "practice.js")
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(`\sid="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		assert.False(t, ids[m[1]], "%s stands twice", m[1])
		ids[m[1]] = true
	}
	looked := regexp.MustCompile(`at\("([^"]+)"\)`).FindAllStringSubmatch(script, -1)
	looked = append(looked, regexp.MustCompile(`(?:for|aria-labelledby|aria-describedby|aria-controls)="([^"]+)"`).FindAllStringSubmatch(page, -1)...)
	assert.Greater(t, len(looked), 50)
	for _, m := range looked {
		assert.True(t, ids[m[1]], "%s is not on the page", m[1])
	}
}

// Whatever can be chosen on the page makes a set.
func TestChoices(t *testing.T) {
	page := read(t, "index.html")
	steps := regexp.MustCompile(`<option value="([0-9]+)\.\.([0-9]+)">`).FindAllStringSubmatch(page, -1)
	assert.Len(t, steps, 3)
	for _, m := range steps {
		low, _ := strconv.Atoi(m[1]) // digits, by the pattern
		high, _ := strconv.Atoi(m[2])
		_, err := exercise.SetSpec{Size: 5, StepsLow: low, StepsHigh: high, Distractors: 3, Conversions: 3}.Make()
		assert.NoError(t, err)
	}
	assert.Equal(t, 2, strings.Count(page, "<option>3</option></select>"))
	assert.NotContains(t, page, "<option>4</option>")
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := static.ReadFile("static/" + name)
	require.NoError(t, err)
	return strings.ReplaceAll(string(text), "\r\n", "\n")
}
