package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/dough/examples/internal/folder"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/examples/internal/browser"
)

// where the pages stand.
const where = "../../doughmath/exercise/course"

func TestPagesAreCurrent(t *testing.T) {
	files, err := makeFiles()
	require.NoError(t, err)
	for _, f := range files {
		there, err := os.ReadFile(filepath.Join(where, f.Name))
		if err != nil || !bytes.Equal(there, f.Data) {
			t.Errorf("%s is out of date: run go generate ./examples/course", f.Name)
		}
	}
}

// Lessons come in the order in which dough passes the stations, each once, and
// what each says is said.
func TestLessons(t *testing.T) {
	seen := map[string]bool{}
	for i := range lessons {
		l := &lessons[i]
		_, known := calc.Lookup(l.calculation)
		assert.True(t, known, l.calculation)
		assert.False(t, seen[l.calculation], l.calculation)
		seen[l.calculation] = true
		for _, text := range []string{l.title, l.why, l.reading, l.next} {
			assert.NotEmpty(t, text)
			assert.NotContains(t, text, "  ")
		}
		assert.NotEqual(t, l.example, l.exercise)
	}
}

// A number in the prose would go stale, but for those that hold always.
func TestProseHasNoNumbers(t *testing.T) {
	always := map[string]bool{"100": true, "60": true, "1000": true, "1": true}
	for i := range lessons {
		l := &lessons[i]
		for _, n := range regexp.MustCompile(`[0-9][0-9.,]*`).FindAllString(l.why+" "+l.reading+" "+l.next, -1) {
			assert.True(t, always[strings.TrimRight(n, ".,")], "%s: %s", l.title, n)
		}
	}
}

// The relation that is typeset is the one that makes the numbers beside it: it has the
// numbers in the places of its symbols, and they come to what stands behind them.
func TestRelationsHold(t *testing.T) {
	course, err := makeCourse()
	require.NoError(t, err)
	for _, c := range course {
		for _, r := range c.Relation {
			at := slices.IndexFunc(c.Example.Working, func(s reckon.ShownStep) bool { return s.Symbol == r.Symbol && s.Kind == reckon.WorkedStep })
			s := c.Example.Working[at]
			relation, err := reckon.ParseExpression(r.Expression)
			require.NoError(t, err)
			numbers, err := reckon.ParseExpression(s.Numbers)
			require.NoError(t, err)
			assert.True(t, alike(relation, numbers), "%s: %s and %s", c.Title, r.Expression, s.Numbers)
			v, err := strconv.ParseFloat(s.Value, 64)
			require.NoError(t, err)
			_, decimals, _ := strings.Cut(s.Value, ".")
			assert.InDelta(t, v, numbers.Eval(func(string) (float64, bool) { return 0, false }), 0.5000001*math.Pow10(-len(decimals)), "%s: %s", c.Title, s.Numbers)
		}
		for _, s := range c.Where {
			assert.NotEmpty(t, s.Words)
		}
	}
}

// alike reports whether an expression is another with numbers for its symbols.
func alike(symbols, numbers *reckon.Expression) bool {
	if symbols.Op == 's' {
		return numbers.Op == 'n' || numbers.Op == '~' && numbers.Args[0].Op == 'n' || symbols.Name == numbers.Name
	}
	if symbols.Op != numbers.Op || symbols.Number != numbers.Number || len(symbols.Args) != len(numbers.Args) {
		return false
	}
	for i := range symbols.Args {
		if !alike(symbols.Args[i], numbers.Args[i]) {
			return false
		}
	}
	return true
}

// Each key is right to the marking, and its likely mistakes are told.
func TestKeys(t *testing.T) {
	course, err := makeCourse()
	require.NoError(t, err)
	for i, c := range course {
		e, err := exercise.Spec{Calculation: lessons[i].calculation, Asked: lessons[i].asked, Seed: lessons[i].exercise}.Make()
		require.NoError(t, err)
		assert.Equal(t, exercise.Right, e.Mark(c.Exercises[0].Answer).Verdict, c.Title)
		assert.NotEqual(t, c.Example.Given, c.Exercises[0].Given, c.Title)
		for _, told := range c.Exercises[0].Mistakes {
			answer, says, _ := strings.Cut(told, ": ")
			assert.Equal(t, says, e.Mark(answer).Says, c.Title)
		}
	}
}

// The page needs nothing else, and every link on it leads somewhere.
func TestThePageStandsAlone(t *testing.T) {
	files, err := makeFiles()
	require.NoError(t, err)
	page := string(files[1].Data)
	for _, outside := range []string{"http:", "https:", "src=", "<script", "<link", "@import", "url("} {
		assert.NotContains(t, page, outside)
	}
	assert.NotContains(t, page, "&amp;#")
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(`\sid="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		assert.False(t, ids[m[1]], "%s stands twice", m[1])
		ids[m[1]] = true
	}
	leads := regexp.MustCompile(`(?:href="#|aria-labelledby=")([^"]+)"`).FindAllStringSubmatch(page, -1)
	assert.Greater(t, len(leads), 4*len(lessons))
	for _, m := range leads {
		assert.True(t, ids[m[1]], m[1])
	}
	for _, m := range regexp.MustCompile(`\]\(\.\./\.\./calc/reference/([a-z-]+\.md)#([a-z0-9-]+)\)`).FindAllStringSubmatch(string(files[0].Data), -1) {
		text, err := os.ReadFile(filepath.Join(where, "../../calc/reference", m[1]))
		require.NoError(t, err)
		assert.Contains(t, string(text), "\n## "+m[2]+"\n")
	}
}

// With PICTURES=folder the page is pictured there, light and dark.
func TestInABrowser(t *testing.T) {
	browser.Script(t, "testdata/page.cjs", filepath.Join(where, "index.html"), browser.Tool(t, "chromium"), os.Getenv("PICTURES"))
}

func TestCalls(t *testing.T) {
	var out, complaint bytes.Buffer
	for _, args := range [][]string{{}, {"-out", "x", "y"}, {"-html"}} {
		assert.Equal(t, folder.Usage, run(args, &out, &complaint))
		assert.Empty(t, out.String())
	}
	assert.Equal(t, folder.OK, run([]string{"-h"}, &out, &complaint))
	inTheWay := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(inTheWay, nil, 0o600))
	assert.Equal(t, folder.Failed, run([]string{"-out", inTheWay}, &out, &complaint))
	where := t.TempDir()
	assert.Equal(t, folder.OK, run([]string{"-out", where}, &out, &complaint))
	assert.Contains(t, out.String(), "index.html")
}
