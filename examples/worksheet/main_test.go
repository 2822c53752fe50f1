package main

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/exercise"
)

func call(args ...string) (code int, stdout, stderr string) {
	var out, complaint bytes.Buffer
	code = run(args, strings.NewReader(""), &out, &complaint)
	return code, out.String(), complaint.String()
}

func TestASheetOfTen(t *testing.T) {
	code, sheet, complaint := call("-units", "us", "-seed", "7")
	require.Equal(t, exitOK, code, complaint)
	assert.Contains(t, sheet, "\n10. ")
	assert.NotContains(t, sheet, "\n11. ")
	assert.NotContains(t, sheet, "KEY")
	assert.Equal(t, 10, strings.Count(sheet, "Answer: ____"))
	_, again, _ := call("-units", "us", "-seed", "7")
	assert.Equal(t, sheet, again, "the same options print the same sheet")
	_, other, _ := call("-units", "us", "-seed", "8")
	assert.NotEqual(t, sheet, other)
	_, withKey, _ := call("-units", "us", "-seed", "7", "-key")
	before, key, ok := strings.Cut(withKey, "\f")
	require.True(t, ok)
	assert.Equal(t, sheet, before, "the key stands behind the same sheet")
	assert.Contains(t, key, "\n10. ")
}

// Every answer of the key is right to the marking.
func TestTheKeyIsRight(t *testing.T) {
	set, err := exercise.SetSpec{Size: 30, Seed: 3}.Make()
	require.NoError(t, err)
	s, err := setSheet(set, options{})
	require.NoError(t, err)
	for i, e := range set {
		assert.Equal(t, exercise.Right, e.Mark(s.Items[i].Answer).Verdict)
	}
}

func TestLinesFitThePage(t *testing.T) {
	_, sheet, _ := call("-size", "60", "-key", "-hints", "-blanks", "-distractors", "2", "-conversions", "1")
	for line := range strings.Lines(sheet) {
		if words := strings.Fields(line); len(words) > 2 {
			longest := 0
			for _, w := range words {
				longest = max(longest, utf8.RuneCountInString(w))
			}
			assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSpace(line)), max(width, longest+24), line)
		}
	}
}

func TestHintsAndBlanks(t *testing.T) {
	_, plain, _ := call("-ask", "curls", "-size", "1")
	_, full, _ := call("-ask", "curls", "-size", "1", "-hints", "-blanks")
	assert.NotContains(t, plain, "Step 1 of")
	assert.Contains(t, full, "? Step 1 of 2, roll diameter: D = ")
	assert.Contains(t, full, "= ________")
}

func TestThePageNeedsNothingElse(t *testing.T) {
	for _, paper := range []string{"a4", "letter"} {
		code, page, complaint := call("-html", "-key", "-hints", "-blanks", "-size", "40", "-paper", paper)
		require.Equal(t, exitOK, code, complaint)
		for _, outside := range []string{"http", "src=", "<script", "<link", "@import", "url("} {
			assert.NotContains(t, page, outside)
		}
		assert.Contains(t, strings.ToLower(page), "size: "+paper)
		assert.Equal(t, 80, strings.Count(page, "<article"), "exercises and their keys")
		assert.Equal(t, strings.Count(page, "<article"), strings.Count(page, "</article>"))
		assert.NotContains(t, page, "&amp;#")
		assert.Contains(t, page, "Take care.")
	}
}

func TestCasesAndFaults(t *testing.T) {
	for _, name := range append(exercise.CaseStudies(), "any") {
		code, sheet, complaint := call("-case", name, "-key", "-units", "us")
		require.Equal(t, exitOK, code, complaint)
		assert.Contains(t, sheet, "your answer to part 1")
	}
	for _, name := range append(exercise.Faults(), "any") {
		code, sheet, complaint := call("-fault", name, "-key")
		require.Equal(t, exitOK, code, complaint)
		assert.Contains(t, sheet, "(a) ")
		assert.Contains(t, sheet, "% of the difference")
	}
}

func TestTheList(t *testing.T) {
	code, text, _ := call("-list")
	assert.Equal(t, exitOK, code)
	assert.Contains(t, text, "  curls ")
	assert.Contains(t, text, "none: a whole line")
	assert.Contains(t, text, "rolls-to-proofer")
}

func TestWrongCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"-size", "0"}, exitRefused, "size is 0"},
		{[]string{"-size", "1001"}, exitRefused, "1000"},
		{[]string{"-ask", "curles,part-care"}, exitRefused, `"curls" perhaps`},
		{[]string{"-station", "oven"}, exitRefused, "moulder"},
		{[]string{"-seed", "9007199254740992"}, exitRefused, "seed"},
		{[]string{"-case", "rolls"}, exitRefused, "rolls-to-proofer"},
		{[]string{"-fault", "dough"}, exitRefused, "dough-off-temperature"},
		{[]string{"-steps", "3"}, exitUsage, "2..5"},
		{[]string{"-steps", "5..2"}, exitRefused, "steps_high"},
		{[]string{"-paper", "a5"}, exitUsage, "letter"},
		{[]string{"-case", "any", "-fault", "any"}, exitUsage, "either"},
		{[]string{"ten"}, exitUsage, `"ten"`},
		{[]string{"-seed", "-1"}, exitRefused, "seed is -1"},
		{[]string{"-units", "imperial"}, exitUsage, "metric or us"},
	} {
		code, stdout, stderr := call(c.args...)
		assert.Equal(t, c.code, code, c.args)
		assert.Empty(t, stdout, c.args)
		assert.Contains(t, stderr, c.says, c.args)
	}
	code, _, _ := call("-h")
	assert.Equal(t, exitOK, code)
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestOutputThatCannotBeWritten(t *testing.T) {
	var complaint bytes.Buffer
	assert.Equal(t, exitRefused, run([]string{"-size", "1"}, strings.NewReader(""), full{}, &complaint))
	assert.Contains(t, complaint.String(), "no space left")
}
