package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/testdata"
)

// A wrong option is refused before anything is read: the table here is none.
func TestOptionsAreCheckedFirst(t *testing.T) {
	trials := []string{"-trials", "no-such.csv", "-target", "85 g", "-move-limit", "0.6 g", "-mark-low", "0", "-mark-high", "40"}
	with := func(more ...string) []string { return append(append([]string{}, trials...), append(more, "-")...) }
	for _, tt := range []struct {
		id   string
		args []string
		want string
	}{
		{"no-file", nil, "name one file of weighings"},
		{"two-files", []string{"a.csv", "b.csv"}, "one file of weighings, not 2"},
		{"demo-and-file", []string{"-demo", "a.csv"}, "name one file of weighings"},
		{"chart", []string{"-chart", "pie", "-"}, `-chart is "pie": want averages-ranges`},
		{"cusum", []string{"-chart", "cusum", "-"}, `-chart is "cusum"`},
		{"bad-rows", []string{"-bad-rows", "hide", "-"}, `-bad-rows is "hide": want refuse or skip`},
		{"setup", []string{"-setup", "1", "-"}, "-setup is 1: want 2 to 1000 subgroups"},
		{"setup-too-large", []string{"-setup", "801", "-subgroup-size", "25", "-"}, "-setup is 801, with -subgroup-size 25: want up to 800"},
		{"size", []string{"-subgroup-size", "40", "-"}, "-subgroup-size is 40: want a whole number from 2 to 25"},
		{"size-of-individuals", []string{"-chart", "individuals", "-"}, "-subgroup-size is 5: want 1 with -chart individuals"},
		{"width", []string{"-limit-width", "NaN", "-"}, "-limit-width is NaN: want 0.5 to 6"},
		{"rules", []string{"-rules", "none", "-"}, `-rules is "none": want "limits-only"`},
		{"empty-state", []string{"-state", "", "-"}, "-state names no file"},
		{"target-without-unit", []string{"-target", "85", "-"}, "-target"},
		{"unknown", []string{"-nonsense"}, "-nonsense"},

		{"no-target", []string{"-trials", "t.csv", "-move-limit", "1 g", "-mark-low", "0", "-mark-high", "9", "-"}, "-trials needs -target too"},
		{"no-scale", []string{"-trials", "t.csv", "-target", "85 g", "-move-limit", "1 g", "-"}, "-trials needs -mark-low too\ncheckweigh: -trials needs -mark-high too"},
		{"target-alone", []string{"-target", "85 g", "-"}, "-target does nothing without -trials"},
		{"limit-alone", []string{"-move-limit", "1 g", "-"}, "-move-limit does nothing without -trials"},
		{"division-alone", []string{"-mark-step", "0.1", "-"}, "-mark-step does nothing without -trials"},

		{"scale-upside-down", with("-mark-low", "40"), "-mark-high is 40: want more than -mark-low, which is 40"},
		{"scale-without-end", with("-mark-low", "NaN"), "-mark-low is NaN: want -1e+09 to 1e+09"},
		{"scale-too-long", with("-mark-high", "1e10"), "-mark-high is 1e+10: want -1e+09 to 1e+09"},
		{"division", with("-mark-step", "-0.5"), "-mark-step is -0.5: want 1e-06 to 1e+09"},
		{"target", with("-target", "0 g"), "-target is 0 g: want more than 0 g"},
		{"limit", with("-move-limit", "-1 g"), "-move-limit is -1 g: want 0 g to 1000 t"},
		{"demo", []string{"-demo", "-target", "0 g"}, "-target is 0 g: want more than 0 g"},
	} {
		t.Run(tt.id, func(t *testing.T) {
			got := checkweigh("no table at all", tt.args...)
			assert.Equal(t, exitUsage, got.code, got.err)
			assert.Contains(t, got.err, tt.want)
			assert.NotContains(t, got.err, "-mark is", "there is no such option")
			assert.Empty(t, got.out)
		})
	}
	got := checkweigh("", filepath.Join(t.TempDir(), "missing.csv"))
	assert.Equal(t, exitFile, got.code)
}

// What is wrong is told all at once, and nothing that is right.
func TestAllWrongOptionsAtOnce(t *testing.T) {
	got := checkweigh("", "-chart", "pie", "-setup", "0", "-limit-width", "9", "-bad-rows", "x", "-trials", "t.csv", "-target", "-1 g", "-mark-step", "-1", "-mark-high", "-5", "-")
	assert.Equal(t, exitUsage, got.code)
	for _, want := range []string{"-chart", "-setup is 0", "-limit-width is 9", "-bad-rows", "-target is -1 g", "-mark-step is -1", "needs -mark-low"} {
		assert.Contains(t, got.err, want)
	}
	assert.Equal(t, 7, strings.Count(got.err, "checkweigh: "), got.err)
}

// The longest set-up that the options allow is one that the library takes.
func TestLongestSetUp(t *testing.T) {
	got := checkweigh(steady(mostSetupPieces), "-setup", "800", "-subgroup-size", "25", "-")
	assert.Equal(t, exitOK, got.code, got.err)
	assert.Contains(t, got.out, "set up on 800 subgroups of 25")
}

// The commands in the help text are run as they stand there.
func TestHelpHoldsCommandsThatWork(t *testing.T) {
	help := checkweigh("", "-h")
	assert.Equal(t, exitOK, help.code)
	assert.NotContains(t, help.err, "default 100", "nobody knows where the scale of a handle ends")
	t.Chdir(t.TempDir())
	for _, name := range []string{"weighings.csv", "trials.csv"} {
		data, err := testdata.Scenario(name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name, data, 0o600))
	}
	run := 0
	for line := range strings.Lines(help.err) {
		command, ok := strings.CutPrefix(line, "  checkweigh ")
		if !ok {
			continue
		}
		words := csv.NewReader(strings.NewReader(command)) // which takes quotes as a shell does
		words.Comma = ' '
		args, err := words.Read()
		require.NoError(t, err)
		got := checkweigh("", args...)
		assert.Equal(t, exitOK, got.code, "%s: %s", command, got.err)
		run++
	}
	assert.Equal(t, 4, run)
}
