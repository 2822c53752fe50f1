package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// once runs the cases once for all the tests.
var once = sync.OnceValues(counted)

func TestPrintWriteCheck(t *testing.T) {
	file := filepath.Join(t.TempDir(), "page.md")
	require.NoError(t, os.WriteFile(file, []byte("old"), 0o600))
	var out, errs bytes.Buffer
	require.Zero(t, run(nil, once, &out, &errs), errs.String())
	assert.Contains(t, out.String(), "| `water-temperature` | ")
	assert.Contains(t, out.String(), "| **all** |")

	assert.Equal(t, 1, run([]string{"-check", file}, once, &out, &errs), "the old page must be found out")
	assert.Contains(t, errs.String(), "out of date")
	require.Zero(t, run([]string{"-write", file}, once, &out, &errs))
	assert.Zero(t, run([]string{"-check", file}, once, &out, &errs), "what was written must be current")
}

// The page and the line on the front page are what the cases say today.
func TestPageIsCurrent(t *testing.T) {
	var out, errs bytes.Buffer
	assert.Zero(t, run([]string{"-check", "../../testdata/VALIDATION.md"}, once, &out, &errs), errs.String())
	require.Zero(t, run([]string{"-summary"}, once, &out, &errs))
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	flat := strings.Join(strings.Fields(string(readme)), " ")
	assert.Contains(t, flat, strings.TrimSpace(out.String()), "README.md: go run ./examples/validation -summary")
}

func TestCalledWrongly(t *testing.T) {
	dir := t.TempDir()
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"both":         {[]string{"-check", "a", "-write", "b"}, 2, "-check FILE"},
		"argument":     {[]string{"README.md"}, 2, "-check FILE"},
		"unknown flag": {[]string{"-paint"}, 2, "paint"},
		"help":         {[]string{"-h"}, 0, "-check"},
		"no such file": {[]string{"-check", filepath.Join(dir, "none.md")}, 1, "none.md"},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errs bytes.Buffer
			assert.Equal(t, c.code, run(c.args, once, &out, &errs))
			assert.Contains(t, errs.String(), c.says)
			assert.Empty(t, out.String())
		})
	}
}

// A case that does not hold must never end up as a row of the table.
func TestWrongCaseIsNamed(t *testing.T) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	bad := cases[0]
	bad.ID = "bent"
	bad.Want = map[string]json.RawMessage{"no_such_result": json.RawMessage("1")}
	stray := cases[0]
	stray.ID, stray.Func = "stray", "no-such-calculation"
	_, err = count(calc.Entries(), append(cases[:3], bad, stray))
	require.ErrorContains(t, err, "case bent")
	require.ErrorContains(t, err, bad.Cite(), "whose value it is")
	require.ErrorContains(t, err, "case stray")
}

func TestCite(t *testing.T) {
	assert.Equal(t, "A. Baker, [Bread](https://example.com), 1930 (published).",
		cite(testdata.Source{Author: "A. Baker", Title: "Bread", Year: "1930", URL: "https://example.com", Provenance: testdata.Published}))
	assert.Equal(t, "facts of the trade (common-practice).", cite(testdata.Source{Title: "facts of the trade", Provenance: testdata.CommonPractice}))
}
