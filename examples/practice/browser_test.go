package main

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.com/dough/examples/internal/folder"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/browser"
	"example.com/dough/examples/practice/desk"
)

// The page is compiled once, run in Node and opened in Chromium. With PICTURES=folder it is
// pictured there in each state, light and dark.
func TestInABrowser(t *testing.T) {
	chromium := browser.Tool(t, "chromium")
	where := filepath.Join(t.TempDir(), "practice")
	code, stdout, stderr := call("-out", where)
	require.Equal(t, folder.OK, code, stderr)
	t.Log("\n" + stdout)
	t.Run("the same in WebAssembly", func(t *testing.T) {
		browser.Script(t, "testdata/same.cjs", where, save(t, requests(t)))
	})
	t.Run("the page", func(t *testing.T) {
		browser.Script(t, "testdata/page.cjs", where, save(t, expected(t, chromium)), os.Getenv("PICTURES"))
	})
}

// save writes what a script reads.
func save(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "want.json")
	require.NoError(t, os.WriteFile(name, text, 0o600))
	return name
}

// A request to the desk, and what it is answered on this machine.
type asked struct {
	Kind    string `json:"kind"`
	Request string `json:"request"`
	Reply   string `json:"reply"`
}

// requests are what the library in WebAssembly has to answer to the byte as it does here.
func requests(t *testing.T) (all []asked) {
	t.Helper()
	add := func(kind string, request any) []byte {
		text, err := json.Marshal(request)
		require.NoError(t, err)
		reply := desk.Answer(kind, text)
		all = append(all, asked{kind, string(text), string(reply)})
		return reply
	}
	add("topics", struct{}{})
	add("set", exercise.SetSpec{Size: -1, Seed: -1, Station: "oven"})
	for _, spec := range []exercise.SetSpec{
		{Size: 60, Seed: 1},
		{Size: 60, Seed: 9007199254740991, Units: unit.US, Distractors: 1, Conversions: 2},
		{Size: 20, Seed: 5, StepsLow: 3, StepsHigh: 8},
	} {
		var set struct{ Reply []desk.Shown }
		require.NoError(t, json.Unmarshal(add("set", spec), &set))
		for _, e := range set.Reply {
			var key struct{ Reply desk.Key }
			require.NoError(t, json.Unmarshal(add("key", e.Spec), &key))
			add("mark", desk.Work{Spec: e.Spec, Answer: key.Reply.Answer})
			add("mark", desk.Work{Spec: e.Spec, Answer: "1 234,5 kg", Blanks: []string{"1"}})
		}
	}
	return all
}

// wanted is what a student types into the page, and what it has to say.
type wanted struct {
	Browser   string       `json:"browser"`
	Address   string       `json:"address"`
	Paper     string       `json:"paper"` // the command that prints the same set
	Questions []desk.Shown `json:"questions"`
	Right     []string     `json:"right"`
	Mistakes  []typed      `json:"mistakes"`
}

// typed is a wrong answer to one of the exercises.
type typed struct {
	Exercise int    `json:"exercise"`
	Answer   string `json:"answer"`
	Says     string `json:"says"`
}

// expected is a set as the library makes it here.
func expected(t *testing.T, chromium string) wanted {
	t.Helper()
	want := wanted{Browser: chromium, Address: "#seed=7&units=us&size=10", Paper: "worksheet -units us -size 10 -seed 7"}
	spec := exercise.SetSpec{Size: 10, Seed: 7, Units: unit.US}
	set, err := spec.Make()
	require.NoError(t, err)
	for i, e := range set {
		key, err := e.Key()
		require.NoError(t, err)
		want.Right = append(want.Right, key.Answer)
		for _, m := range key.Mistakes {
			want.Mistakes = append(want.Mistakes, typed{i, m.Answer, m.Says})
		}
	}
	require.GreaterOrEqual(t, len(want.Mistakes), 10)
	text, err := json.Marshal(spec)
	require.NoError(t, err)
	var shown struct{ Reply []desk.Shown }
	require.NoError(t, json.Unmarshal(desk.Answer("set", text), &shown))
	want.Questions = shown.Reply
	return want
}

// BenchmarkReady opens the page from a disk in a fresh browser on one core, and
// reports the shortest time until the first exercise can be read:
//
//	BROWSER=need go test ./examples/practice -run '^$' -bench Ready -benchtime 5x
func BenchmarkReady(b *testing.B) {
	node, chromium, taskset := browser.Tool(b, "node"), browser.Tool(b, "chromium"), browser.Tool(b, "taskset")
	where := filepath.Join(b.TempDir(), "practice")
	code, _, stderr := call("-out", where)
	require.Equal(b, folder.OK, code, stderr)
	shortest := math.Inf(1)
	for b.Loop() {
		text, err := exec.Command(taskset, "-c", "0", node, "testdata/ready.cjs", where, chromium).Output()
		require.NoError(b, err)
		took, err := strconv.ParseFloat(strings.TrimSpace(string(text)), 64)
		require.NoError(b, err)
		shortest = min(shortest, took)
	}
	b.ReportMetric(shortest, "ms-to-first-exercise")
}
