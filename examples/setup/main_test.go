package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/testdata"
)

func call(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, complaints bytes.Buffer
	code = run(args, strings.NewReader(stdin), &out, &complaints)
	return code, out.String(), complaints.String()
}

func TestDemoPage(t *testing.T) {
	code, out, complaints := call("")
	assert.Equal(t, exitOK, code)
	assert.Empty(t, complaints)
	for _, want := range []string{
		"STAR BUN", "SLOW STICK", "CHANGE OVER   Long picnic roll to Tin loaf 800 g", "clean away: milk", "a step of the divider handle weighs 1.561 g",
		"a lock for each who reaches in", "TAKE CARE", "The stamper closes",
	} {
		assert.Contains(t, out, want)
	}
	assert.NotContains(t, out, "MEND FIRST")
	assert.NotContains(t, out, "KNOWN GOOD", "nothing was kept yet")
	for n, row := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(row), width, "line %d: %s", n+1, row)
		assert.Equal(t, strings.TrimRight(row, " "), row, "line %d", n+1)
	}
	code, us, _ := call("", "-units", "us")
	assert.Equal(t, exitOK, code)
	assert.Contains(t, us, " in ")
	assert.NotContains(t, us, " mm ")
}

// A run that is kept stands beside the next plan, and the file holds all that was kept.
func TestKeepAndStartFromIt(t *testing.T) {
	runs := filepath.Join(t.TempDir(), "runs.json")
	for i, mark := range []string{"12.5", "13", "13", "12.5"} {
		code, blank, complaints := call("", "-blank", "1", "-date", "2026-11-0"+string(rune('1'+i)))
		require.Equal(t, exitOK, code, complaints)
		var b line.RunBook
		require.NoError(t, json.Unmarshal([]byte(blank), &b))
		require.Equal(t, "divider handle", b.Records[0].Settings[0].Control)
		b.Records[0].Settings[0].At, b.Records[0].Good = mark, true
		record, err := json.Marshal(b)
		require.NoError(t, err)
		code, out, complaints := call(string(record), "-keep", runs)
		require.Equal(t, exitOK, code, complaints)
		assert.Contains(t, out, "kept 1 in")
	}
	data, err := os.ReadFile(runs)
	require.NoError(t, err)
	book, err := line.ReadRunBook(data)
	require.NoError(t, err)
	assert.Len(t, book.Records, 4)
	code, out, complaints := call("", "-runs", runs)
	assert.Equal(t, exitOK, code, complaints)
	assert.Contains(t, out, "4 good runs looked at, the last on 2026-11-04")
	assert.Contains(t, out, "divider handle: last 4 runs 12.5 to 13, today's plan 12.5")
	assert.Equal(t, 1, strings.Count(out, "KNOWN GOOD"), "of the one product that was kept")

	warm := filepath.Join(t.TempDir(), "day.json")
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(warm, bytes.Replace(day, []byte(`"room": "25 °C"`), []byte(`"room": "29 °C"`), 1), 0o600))
	_, out, _ = call("", "-runs", runs, "-scenario", warm)
	assert.Contains(t, out, "since then shift.room was 25 °C, is 29 °C")
}

// What is wrong is not kept, and the file stays as it was.
func TestKeepRefuses(t *testing.T) {
	runs := filepath.Join(t.TempDir(), "runs.json")
	_, blank, _ := call("", "-blank", "2", "-date", "2026-11-01")
	require.NoError(t, os.WriteFile(runs, []byte(blank), 0o600))
	for _, wrong := range []string{"", "{}", strings.Replace(blank, "2026-11-01", "yesterday", 1), strings.Replace(blank, `"18.5"`, `"18.5 kg"`, 1)} {
		code, out, complaints := call(wrong, "-keep", runs)
		assert.Equal(t, exitFile, code)
		assert.Empty(t, out)
		assert.NotEmpty(t, complaints)
		data, err := os.ReadFile(runs)
		require.NoError(t, err)
		assert.Equal(t, blank, string(data))
	}
	there, err := filepath.Glob(filepath.Join(filepath.Dir(runs), "*"))
	require.NoError(t, err)
	assert.Len(t, there, 1, "nothing is left lying about")
}

// An order that cannot be made is said to be so in its place; the line is changed over from the one before it to the one after.
func TestNotAsAsked(t *testing.T) {
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, bytes.Replace(day, []byte(`"rate_high": "16 pieces/min"`), []byte(`"rate_high": "6 pieces/min"`), 1), 0o600))
	code, out, complaints := call("", "-scenario", file)
	assert.Equal(t, exitRefused, code)
	assert.Empty(t, complaints)
	assert.Contains(t, out, "NOT AS ASKED")
	assert.Contains(t, out, "CHANGE OVER   Long picnic roll to Slow stick")
	assert.NotContains(t, out, "to Tin loaf")
}

// What two controls must not do together stands at the top, before the steps that would bring it about.
func TestMendFirst(t *testing.T) {
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, bytes.Replace(day, []byte(`"sets": "oil",`),
		[]byte(`"sets": "oil", "not_with": [{"at": "open", "control": "rounding drum", "control_at": "large cups", "why": "oil runs into the cups"}],`), 1), 0o600))
	code, out, complaints := call("", "-scenario", file)
	assert.Equal(t, exitOK, code, complaints)
	assert.Equal(t, 2, strings.Count(out, "MEND FIRST  oil cocks at open, rounding drum at large cups: oil runs into the"))
}

// Records are kept in the order of their days, whenever they are handed in.
func TestKeptByDay(t *testing.T) {
	runs := filepath.Join(t.TempDir(), "runs.json")
	for _, day := range []string{"2026-11-05", "2026-11-02", "2026-11-04"} {
		_, blank, _ := call("", "-blank", "1", "-date", day)
		code, _, complaints := call(strings.Replace(blank, `"good": false`, `"good": true`, 1), "-keep", runs)
		require.Equal(t, exitOK, code, complaints)
	}
	code, out, complaints := call("", "-runs", runs)
	assert.Equal(t, exitOK, code, complaints)
	assert.Contains(t, out, "3 good runs looked at, the last on 2026-11-05")
}

func TestCalledWrongly(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"-people", "0"}, exitFile, "people is 0"},
		{[]string{"-people", "1"}, exitFile, "takes so many"},
		{[]string{"-blank", "5"}, exitFile, "the orders 1 to 4"},
		{[]string{"-blank", "-1"}, exitFile, "the orders 1 to 4"},
		{[]string{"-blank", "1", "-scenario", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-scenario", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-runs", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-keep", filepath.Join("nowhere", "runs.json")}, exitFile, "not JSON"},
		{[]string{"-change"}, exitUsage, "-change"},
		{[]string{"now"}, exitUsage, `"now" is not an option`},
		{[]string{"-help"}, exitOK, "-people"},
	} {
		code, out, complaints := call(`{"records":[]`, c.args...)
		assert.Equal(t, c.code, code, c.args)
		assert.Empty(t, out, c.args)
		assert.Contains(t, complaints, c.says, c.args)
	}
	// A folder that there is not keeps nothing.
	code, _, complaints := call(`{"records":[]}`, "-keep", filepath.Join(t.TempDir(), "nowhere", "runs.json"))
	assert.Equal(t, exitFile, code)
	assert.NotEmpty(t, complaints)
}

// Neither the records nor the scenario are written over by what they are read for, and a folder is no file.
func TestOutputOverInput(t *testing.T) {
	folder := t.TempDir()
	runs := filepath.Join(folder, "runs.json")
	_, blank, _ := call("", "-blank", "1", "-date", "2026-11-01")
	require.NoError(t, os.WriteFile(runs, []byte(blank), 0o600))
	file, err := os.OpenFile(runs, os.O_RDWR|os.O_APPEND, 0)
	require.NoError(t, err)
	defer file.Close()
	var out, complaints bytes.Buffer
	assert.Equal(t, exitUsage, run([]string{"-keep", runs}, file, &out, &complaints))
	assert.Equal(t, exitUsage, run([]string{"-runs", runs}, strings.NewReader(""), file, &complaints))
	assert.Contains(t, complaints.String(), "-keep would go over the record, "+runs)
	data, err := os.ReadFile(runs)
	require.NoError(t, err)
	assert.Equal(t, blank, string(data))
	for _, args := range [][]string{{"-keep", folder}, {"-runs", folder}, {"-scenario", folder}} {
		code, _, complaints := call(blank, args...)
		assert.Equal(t, exitFile, code, args)
		assert.Contains(t, complaints, "is a folder", args)
	}
}
