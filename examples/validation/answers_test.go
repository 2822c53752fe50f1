package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// few are enough to ask here: .ci/run asks all, of four kinds of processor.
func few(t *testing.T) ([]calc.Entry, []testdata.Case) {
	cases, err := testdata.Cases()
	require.NoError(t, err)
	var entries []calc.Entry
	for _, id := range []string{"batch-for-hopper-time", "curls", "water-temperature"} {
		e, ok := calc.Lookup(id)
		require.True(t, ok)
		entries = append(entries, e)
	}
	return entries, cases[:3]
}

func TestAnswersOfAnotherMachine(t *testing.T) {
	entries, cases := few(t)
	var ours bytes.Buffer
	require.NoError(t, writeAnswers(&ours, entries, cases))
	said, err := against(bytes.NewReader(ours.Bytes()), entries, cases)
	require.NoError(t, err)
	assert.Equal(t, "6 answers: all are the same to the last digit.", said)

	lines := strings.SplitAfter(strings.TrimSuffix(ours.String(), "\n"), "\n")
	require.Len(t, lines, 6)
	last := func(digits string) string {
		return strings.Replace(ours.String(), "44.83145455037952 mm", digits+" mm", 1)
	}
	said, err = against(strings.NewReader(last("44.83145455037953")), entries, cases)
	require.NoError(t, err)
	assert.Contains(t, said, "6 answers: all read the same; 1 differ in digits that nobody is shown, by ")

	for name, c := range map[string]struct{ theirs, says string }{
		"ends early":      {strings.Join(lines[:4], ""), "end before"},
		"goes on":         {ours.String() + "\n" + lines[0], "more than the 6 questions"},
		"another version": {lines[1] + ours.String(), "another version"},
		"reads otherwise": {strings.Replace(ours.String(), `"shown":"`, `"shown":"about `, 1), "is read differently there"},
		"a digit shown":   {last("44.83146"), "1e-12 is allowed"},
		"no JSON":         {strings.Replace(ours.String(), "{", "(", 1), "the other machine's answer to"},
		"another unit":    {strings.Replace(ours.String(), `952 mm"`, `952 in"`, 1), "there"},
		"a key missing":   {strings.Replace(ours.String(), `"conditions":[]`, `"condition":[]`, 1), "conditions"},
		"a line too long": {strings.Repeat("7", mostLine+1), "end before"},
	} {
		t.Run(name, func(t *testing.T) {
			require.False(t, ours.String() == c.theirs, "nothing was changed")
			_, err := against(strings.NewReader(c.theirs), entries, cases)
			assert.ErrorContains(t, err, c.says)
		})
	}
}

func TestAnswersOption(t *testing.T) {
	var out, errs bytes.Buffer
	assert.Equal(t, 1, run([]string{"-against", filepath.Join(t.TempDir(), "none")}, counted, &out, &errs))
	file := filepath.Join(t.TempDir(), "empty")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	assert.Equal(t, 1, run([]string{"-against", file}, counted, &out, &errs))
	assert.Contains(t, errs.String(), "end before")
	assert.Empty(t, out.String())
	assert.Equal(t, 2, run([]string{"-answers", "-summary"}, counted, &out, &errs))
}
