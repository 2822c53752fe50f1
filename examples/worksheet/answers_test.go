package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/unit"
)

func mark(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, complaint bytes.Buffer
	code = run(append(args, "-mark", "-"), strings.NewReader(stdin), &out, &complaint)
	return code, out.String(), complaint.String()
}

// Wrong answers made on purpose, to a sheet in US units, are each told their mistake.
func TestMistakesAreTold(t *testing.T) {
	set, err := exercise.SetSpec{Size: 20, Seed: 4, Units: unit.US}.Make()
	require.NoError(t, err)
	var lines strings.Builder
	var says []string
	for i, e := range set {
		k, err := e.Key()
		require.NoError(t, err)
		if len(k.Mistakes) > 0 {
			fmt.Fprintf(&lines, "%d: %s\n", i+1, k.Mistakes[0].Answer)
			says = append(says, k.Mistakes[0].Says)
		}
	}
	require.GreaterOrEqual(t, len(says), 10)
	code, text, complaint := mark(lines.String(), "-units", "us", "-seed", "4", "-size", "20")
	require.Equal(t, exitOK, code, complaint)
	flat := strings.Join(strings.Fields(text), " ")
	assert.Equal(t, len(says), strings.Count(flat, ": 0.00, mistake. "), text)
	for _, s := range says {
		assert.Contains(t, flat, s)
	}
	assert.Contains(t, text, "Together 0.00 of 20.")
}

func TestMarksOfASheet(t *testing.T) {
	// Sheet 1 of this calculation: the key says what is right.
	_, sheet, _ := call("-ask", "loss-from-weights", "-size", "1", "-key", "-blanks")
	_, key, _ := strings.Cut(sheet, "KEY")
	require.Contains(t, key, "\n1. ")
	_, key, _ = strings.Cut(key, "\n1. ")
	right, _, _ := strings.Cut(key, "\n")
	for _, c := range []struct{ answers, says string }{
		{"1: " + right, "1.00, right. Right."},
		{"", "Answer (none): 0.00, empty."},
		{"1: 3 kg", "wrong quantity"},
		{"1: " + right + "\n\n1.1: 60 kg\n", "Blank 1, 60 kg: wrong. Not right:"},
		{"  1 :" + right + "  \r\n", "Together 1.00 of 1."},
	} {
		code, text, complaint := mark(c.answers, "-ask", "loss-from-weights", "-size", "1")
		require.Equal(t, exitOK, code, complaint)
		assert.Contains(t, strings.Join(strings.Fields(text), " "), c.says)
	}
}

// Case studies are followed through, and of a fault the causes are marked.
func TestMarksOfCasesAndFaults(t *testing.T) {
	c, err := exercise.CaseStudySpec{Case: "warm-day", Seed: 2}.Make()
	require.NoError(t, err)
	var lines strings.Builder
	for i, p := range c.Parts {
		k, err := p.Key()
		require.NoError(t, err)
		fmt.Fprintf(&lines, "%d: %s\n", i+1, k.Answer)
	}
	code, text, complaint := mark(lines.String(), "-case", "warm-day", "-seed", "2")
	require.Equal(t, exitOK, code, complaint)
	assert.Contains(t, text, "Together 3.00 of 3.")
	f, err := exercise.FaultSpec{Fault: "proof-off-time", Seed: 3}.Make()
	require.NoError(t, err)
	k, err := f.Change.Key()
	require.NoError(t, err)
	code, text, complaint = mark("1: "+f.Causes()[0].ID+"\n2: "+k.Answer, "-fault", "proof-off-time", "-seed", "3")
	require.Equal(t, exitOK, code, complaint)
	assert.Contains(t, text, "Together 2.00 of 2.")
	code, _, complaint = mark("1.1: 3", "-fault", "proof-off-time", "-seed", "3")
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, complaint, "0 blanks")
}

func TestAnswersThatCannotBeMarked(t *testing.T) {
	for answers, says := range map[string]string{
		"68 °F":                      "line 1 of the answers",
		"1: 3\n1: 4":                 "line 2 of the answers: it was answered before",
		"0: 3\nx: 4\n1.0: 5\n1.x: 6": "line 4 of the answers",
		"11: 3 g":                    "exercises 1 to 10",
		"1.400: 3 g":                 "exercise 1 has",
		strings.Repeat("1", 1<<20):   "line 1 of the answers",
	} {
		code, text, complaint := mark(answers, "-seed", "7")
		assert.Equal(t, exitRefused, code)
		assert.Empty(t, text)
		assert.Contains(t, complaint, says)
		assert.Less(t, len(complaint), 1000)
	}
	code, text, _ := mark("1: "+strings.Repeat("9", 1<<20)+"\x00\x1b[2J", "-size", "1")
	assert.Equal(t, exitOK, code)
	assert.NotContains(t, text, "\x1b")
	assert.Less(t, len(text), 2000)
	code, _, complaint := mark(strings.Repeat("\n", mostAnswers+1))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, complaint, "more than 4 MB")
	code, _, complaint = call("-mark", filepath.Join(t.TempDir(), "none.txt"))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, complaint, "none.txt")
	file := filepath.Join(t.TempDir(), "answers.txt")
	require.NoError(t, os.WriteFile(file, []byte("1: 3 g"), 0o600))
	code, _, complaint = call("-mark", file, "-size", "1", "-ask", "ice")
	assert.Equal(t, exitOK, code, complaint)
	code, _, _ = call("-mark", file, "-html")
	assert.Equal(t, exitUsage, code)
}
