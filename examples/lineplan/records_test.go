package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/examples/internal/program"
)

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
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "RAN WELL 4 good runs looked at, the last on 2026-11-04")
	assert.Contains(t, flat, "last 4 runs 12.5 to 13, today's plan 12.5")
	assert.Equal(t, 1, strings.Count(out, "RAN WELL"), "of the one product that was kept")
	assertPages(t, out)

	_, out, _ = call("", "-runs", runs, "-scenario", write(t, `"room": "25 °C"`, `"room": "29 °C"`))
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
	// A folder that there is not keeps nothing.
	code, _, complaints := call(`{"records":[]}`, "-keep", filepath.Join(t.TempDir(), "nowhere", "runs.json"))
	assert.Equal(t, exitFile, code)
	assert.NotEmpty(t, complaints)
}

// Records are kept in the order of their days, whenever they are handed in. One of another product or line is not looked at.
func TestKeptByDay(t *testing.T) {
	runs := filepath.Join(t.TempDir(), "runs.json")
	for _, day := range []string{"2026-11-05", "2026-11-02", "2026-11-04"} {
		_, blank, _ := call("", "-blank", "1", "-date", day)
		code, _, complaints := call(strings.Replace(blank, `"good": false`, `"good": true`, 1), "-keep", runs)
		require.Equal(t, exitOK, code, complaints)
	}
	_, blank, _ := call("", "-blank", "2", "-demo", "alder", "-date", "2026-11-06")
	code, _, complaints := call(strings.Replace(blank, `"good": false`, `"good": true`, 1), "-keep", runs)
	require.Equal(t, exitOK, code, complaints)
	code, out, complaints := call("", "-runs", runs)
	assert.Equal(t, exitOK, code, complaints)
	assert.Contains(t, out, "3 good runs looked at, the last on 2026-11-05")
	code, out, _ = call("", "-runs", runs, "-demo", "alder", "-units", "us")
	assert.Equal(t, exitOK, code)
	assert.Contains(t, out, "1 good runs looked at, the last on 2026-11-06")

	// What ran well reads as the scale of the control does, in the units of the page.
	data, err := os.ReadFile(runs)
	require.NoError(t, err)
	at := regexp.MustCompile(`("control": "side guides",\s+"at": )"[^"]+"`)
	require.True(t, at.Match(data))
	require.NoError(t, os.WriteFile(runs, at.ReplaceAll(data, []byte(`${1}"7.5 in"`)), 0o600))
	_, out, _ = call("", "-runs", runs, "-demo", "alder", "-units", "us")
	assert.Contains(t, out, "last run 7 1/2 in, today's plan 7 1/4 in; start at 7 1/2 in")
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
	assert.Equal(t, exitUsage, run([]string{"-scenario", runs}, strings.NewReader(""), file, &complaints))
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

// A form feed parts the pages, on a terminal too; nothing else is obeyed.
func TestFormFeeds(t *testing.T) {
	file, err := os.Create(filepath.Join(t.TempDir(), "out"))
	require.NoError(t, err)
	require.NoError(t, put(&program.Output{File: file}, []byte("one\n\ftwo\x1b\n")))
	require.NoError(t, file.Close())
	data, err := os.ReadFile(file.Name())
	require.NoError(t, err)
	assert.Equal(t, "one\n\ftwo\\u001b\n", string(data))
}
