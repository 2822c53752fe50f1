package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"example.com/dough/doughmath/calc/describe"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// call runs the program with an input and returns what it said.
func call(input string, args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(input), &o, &e)
	return code, o.String(), e.String()
}

// split cuts a line as a shell does, as far as the help text needs it.
func split(t *testing.T, line string) []string {
	t.Helper()
	var words []string
	for rest := strings.TrimSpace(line); rest != ""; rest = strings.TrimSpace(rest) {
		end := " "
		if rest[0] == '"' || rest[0] == '\'' {
			end, rest = rest[:1], rest[1:]
		}
		word, after, closed := strings.Cut(rest, end)
		require.True(t, closed || end == " ", "a quote is not closed in %q", line)
		words, rest = append(words, word), after
	}
	return words
}

// Every example of the help text works as it stands.
func TestHelpExamples(t *testing.T) {
	t.Chdir("../..") // the examples are typed at the top of the project
	_, examples, ok := strings.Cut(help, "Examples\n")
	require.True(t, ok)
	n := 0
	for line := range strings.Lines(examples) {
		args := split(t, line)
		require.Equal(t, []string{"go", "run", "./examples/calc"}, args[:3])
		code, out, errs := call("", args[3:]...)
		assert.Zero(t, code, "%s%s", line, errs)
		assert.NotEmpty(t, out, line)
		assert.Empty(t, errs, line)
		n++
	}
	assert.GreaterOrEqual(t, n, 5)
}

func TestCommands(t *testing.T) {
	const piece = `{"length":"300 mm","thickness":"5 mm"}`
	for id, c := range map[string]struct {
		input string
		args  []string
		code  int
		out   string // found in the output
		errs  string // found in the complaints
	}{
		"nothing":          {"", nil, done, "Leaves with 0", ""},
		"help":             {"", []string{"help"}, done, "calc rows", ""},
		"help of do":       {"", []string{"do", "-h"}, misused, "calc rows", ""},
		"no such command":  {"", []string{"bake"}, misused, "", `no command is called "bake"`},
		"list":             {"", []string{"list"}, done, "water-temperature", ""},
		"list station":     {"", []string{"list", "-station", "moulder", "turns"}, done, "curls ", ""},
		"list sticky":      {"", []string{"list", "sticky", "pocket"}, done, "fault-causes ", ""},
		"list too light":   {"", []string{"list", "too", "light"}, done, "fault-causes ", ""},
		"list in quotes":   {"", []string{"list", "too long"}, done, "fault-causes ", ""},
		"list a symptom":   {"", []string{"list", "open-seam"}, done, "fault-causes ", ""},
		"list torn":        {"", []string{"list", "tears"}, done, "fault-causes ", ""},
		"list nothing":     {"", []string{"list", "-station", "oven"}, refused, "", "the stations are formula, temperature"},
		"list bad option":  {"", []string{"list", "-paint"}, misused, "", "calc help"},
		"about":            {"", []string{"about", "curls"}, done, "Worked example", ""},
		"about in US":      {"", []string{"about", "-units", "us", "curls"}, done, " in\n", ""},
		"about from do":    {"", []string{"do", "curls", "-help"}, done, "Worked example", ""},
		"about json":       {"", []string{"about", "-json", "curls"}, done, `"$schema": "https://json-schema.org/draft/2020-12/schema"`, ""},
		"about misspelt":   {"", []string{"about", "crulls"}, misused, "", `want "curls" perhaps`},
		"about two":        {"", []string{"about", "curls", "sheet"}, misused, "", "one calculation"},
		"about bad units":  {"", []string{"about", "-units", "old", "curls"}, misused, "", "metric or us"},
		"about bad option": {"", []string{"about", "-paint"}, misused, "", "calc help"},
		"do flags":         {"", []string{"do", "curls", "-length", "300 mm", "--thickness=5 mm"}, done, "turns     4.37\n", ""},
		"do object":        {"", []string{"do", "curls", piece}, done, "turns     4.37\n", ""},
		"do input":         {piece, []string{"do", "curls", "-"}, done, "moving-machinery: Keep hands", ""},
		"do json":          {piece, []string{"do", "-json", "curls", "-"}, done, `"turns":4.370193722368316`, ""},
		"do working":       {piece, []string{"do", "-working", "curls", "-"}, done, "from (D - d)/(2*t)", ""},
		"do list":          {"", []string{"do", "recovery-from-sheet", "-gap", "4 mm", "-thicknesses", "7.1 mm, 7.4 mm, 7 mm"}, done, "recovery", ""},
		"do JSON list":     {"", []string{"do", "recovery-from-sheet", "-gap", "4 mm", "-thicknesses", `["7.1 mm","7.4 mm"]`}, done, "recovery", ""},
		"do no unit":       {"", []string{"do", "curls", "-length", "300", "-thickness", "5 mm"}, refused, "", `length is "300": want a unit after the number`},
		"do misspelt":      {"", []string{"do", "curls", "-lengt", "300 mm", "-thickness", "5 mm"}, refused, "", "want length perhaps"},
		"do option late":   {"", []string{"do", "curls", "-length", "300 mm", "-thickness", "5 mm", "-units", "us"}, misused, "", "-units stands after the id: put it before curls"},
		"do strange name":  {"", []string{"do", "curls", "-a\"b", "1"}, refused, "", `["a\"b"] is not a known name`},
		"do wrong kind":    {"", []string{"do", "length-for-turns", "-turns", "many", "-thickness", "5 mm"}, refused, "", `turns is "many": want a number without a unit`},
		"do twice":         {"", []string{"do", "curls", "-length", "1 m", "-length", "2 m"}, misused, "", "there twice"},
		"do no value":      {"", []string{"do", "curls", "-length"}, misused, "", "-length has no value"},
		"do no flag":       {"", []string{"do", "curls", "length", "1 m"}, misused, "", "want -NAME VALUE"},
		"do no id":         {"", []string{"do"}, misused, "", "give the id"},
		"do unknown id":    {"", []string{"do", "bake"}, misused, "", "want the id of a calculation"},
		"do bad option":    {"", []string{"do", "-paint", "curls"}, misused, "", "calc help"},
		"do bad units":     {"", []string{"do", "-units", "old", "curls"}, misused, "", "metric or us"},
		"solve":            {"", []string{"solve", "curls", "length", "-turns", "2.5", "-thickness", "5 mm"}, done, "length-for-turns: How long", ""},
		"solve itself":     {"", []string{"solve", "curls", "turns", "-length", "30 cm", "-thickness", "5 mm"}, done, "turns     4.37", ""},
		"solve json":       {"", []string{"solve", "-json", "curls", "length", "-turns", "2.5", "-thickness", "5 mm"}, done, `{"calculation":"length-for-turns"`, ""},
		"solve nothing":    {"", []string{"solve", "curls", "-turns", "2.5"}, misused, "", "needs the name of an unknown"},
		"solve by search":  {"", []string{"solve", "curls", "core", "-length", "300 mm", "-thickness", "5 mm", "-turns", "3"}, done, "core  16.831 mm\n\nwhere turns is 3; searched from 0 mm to 200 mm", ""},
		"solve in JSON":    {"", []string{"solve", "-json", "curls", "core", "-length", "300 mm", "-thickness", "5 mm", "-turns", "3"}, done, `"met":[{"kind":"crossing","from":{"input":16.83`, ""},
		"solve in a range": {"", []string{"solve", "-from", "1 mm", "-upto", "20 mm", "curls", "core", "-length", "300 mm", "-thickness", "5 mm", "-turns", "3"}, done, "searched from 1 mm to 20 mm", ""},
		"solve in vain":    {"", []string{"solve", "curls", "core", "-length", "300 mm", "-thickness", "5 mm", "-turns", "30"}, refused, "", "no core gives turns of 30; it can reach 0.5 to 4.37"},
		"solve for what":   {"", []string{"solve", "curls", "core", "-length", "300 mm", "-thickness", "5 mm"}, misused, "", "no output has a value"},
		"solve for two":    {"", []string{"solve", "curls", "core", "-thickness", "5 mm", "-length", "300 mm", "-turns", "3", "-diameter", "40 mm"}, misused, "", "-turns and -diameter are outputs"},
		"solve unknown":    {"", []string{"solve", "curls", "lengt", "-turns", "2.5"}, misused, "", `want "length" perhaps`},
	} {
		t.Run(id, func(t *testing.T) {
			code, out, errs := call(c.input, c.args...)
			assert.Equal(t, c.code, code, errs)
			assert.Contains(t, out, c.out)
			assert.Contains(t, errs, c.errs)
			if c.code == done {
				assert.Empty(t, errs)
			}
		})
	}
}

// The schemas that about prints are JSON that a program can take apart.
func TestAboutJSON(t *testing.T) {
	code, out, _ := call("", "about", "-json", "curls")
	require.Zero(t, code)
	var page struct {
		About         describe.Description
		Input, Output map[string]any
	}
	require.NoError(t, json.Unmarshal([]byte(out), &page))
	assert.Equal(t, "curls", page.About.ID)
	assert.Equal(t, "object", page.Input["type"])
	assert.Equal(t, "object", page.Output["type"])
}

func TestRows(t *testing.T) {
	const jsonl = `{"length":"300 mm","thickness":"5 mm"}` + "\n\n" + `{"length":"300","thickness":"5 mm"}` + "\n" + `{"length":"310 mm","thickness":"5 mm"}`
	for id, c := range map[string]struct {
		input string
		args  []string
		code  int
		out   string
		errs  string
	}{
		"csv to csv": {
			"length,thickness\n300 mm,5 mm\n12 in,\"0.2 in\"\n",
			[]string{"-to", "csv", "curls"},
			done,
			"row,turns,diameter (mm),conditions,cautions,error\n" +
				"1,4.370193722368316,43.70193722368317,many-turns,moving-machinery roller-nip,\n" +
				"2,4.370193722368317,44.40116821926209,many-turns,moving-machinery roller-nip,\n", "",
		},
		"units in the header": {
			"\ufeffLength (mm),thickness [mm],Core\n300,5,\n30 cm,5,10 mm\n",
			[]string{"-to", "csv", "-units", "us", "curls"},
			done,
			"row,turns,diameter (in),conditions,cautions,error\n" +
				"1,4.370193722368316,1.7205487095938257,many-turns,moving-machinery roller-nip,\n" +
				"2,3.4831454550379513,1.765017895684233,,moving-machinery roller-nip,\n", "",
		},
		"table": {
			"batch,length,thickness\nwhite,300 mm,5 mm\nrye,200 mm,9 mm\n",
			[]string{"-keep", "batch", "curls"},
			done,
			"row  batch  turns  diameter (mm)  conditions  cautions\n" +
				"  1  white   4.37           43.7  many-turns  moving-machinery roller-nip\n" +
				"  2  rye     2.66          47.87              moving-machinery roller-nip\n" +
				"\nLook out for\n  many-turns: The piece makes more turns than is usual: look at the sheet and at a cut piece, and keep it as long as the sheet does not tear.\n" +
				"\nTake care\n  moving-machinery: ", "",
		},
		"a bad row stops": {
			"length,thickness\n300 mm,5 mm\n300,5 mm\n300 mm,5 mm\n",
			[]string{"-to", "csv", "curls"},
			refused,
			"moving-machinery roller-nip,\n2,,,,,",
			"row 2 (line 3): curls: length is \"300\": want a unit after the number; a number and a unit (mm, cm, m, in, ft)\nstopped there: -bad skip goes on\n",
		},
		"bad rows are skipped": {
			"length,thickness\n300,5 mm\n300 mm\n\"300 mm\n",
			[]string{"-to", "csv", "-bad", "skip", "curls"},
			refused,
			"row,turns,diameter (mm),conditions,cautions,error\n1,,,,,\"curls: length is \"\"300\"\": want a unit after the number; a number and a unit (mm, cm, m, in, ft)\"\n2,,,,,\"it has 1 cells: want 2, as in the first line\"\n3,,,,,",
			"row 2 (line 3): it has 1 cells: want 2, as in the first line\n",
		},
		"stray quotes": {
			"length,thickness\na\"b,5 mm\n300 mm,5 mm\n",
			[]string{"-to", "csv", "-bad", "skip", "curls"},
			refused,
			"\n2,4.37", "row 1 (line 2): not CSV: bare \" in non-quoted-field\n",
		},
		"a bad row in the table": {
			"batch,length,thickness\nrye,x,5 mm\n",
			[]string{"-bad", "skip", "-keep", "batch", "curls"},
			refused,
			"  1  rye    not worked out\n", "row 1 (line 2): curls: length is \"x\"",
		},
		"jsonl": {
			jsonl,
			[]string{"-from", "jsonl", "-to", "jsonl", "-bad", "skip", "curls"},
			refused,
			`{"errors":[{"kind":"unit","calculation":"curls","field":"length","value":"\"300\"","want":"a unit after the number; a number and a unit (mm, cm, m, in, ft)"}],"row":2}` + "\n" + `{"row":3,"calculation":"curls"`,
			"row 2 (line 3): curls: length is",
		},
		"working": {jsonl, []string{"-from", "jsonl", "-to", "jsonl", "-working", "curls"}, refused, `"expression":"(D - d)/(2*t)"`, "row 2"},
		"no solution in jsonl": {
			`{"target_temp":"45 °C","flour_temp":"1 °C","friction":"0 C°","friction_basis":"once"}`,
			[]string{"-from", "jsonl", "-to", "jsonl", "water-temperature"},
			refused,
			`{"errors":[{"kind":"no-solution","calculation":"water-temperature","unknown":"safe water temperature","wanted":"a dough of 45 °C","high":"23 °C","advice":"`, "row 1 (line 1): water-temperature: no safe",
		},
		"a list in a cell": {
			"gap (mm);thicknesses (mm)\n", []string{"recovery-from-sheet"}, misused, "", `is not a known name`,
		},
		"a list with the unit above": {
			"gap (mm),thicknesses (mm)\n4,\"7.1, 7.4,7\"\n", []string{"-to", "csv", "recovery-from-sheet"}, done, "\n1,", "",
		},
		"unknown column":   {"lengt,thickness\n", []string{"curls"}, misused, "", `lengt is not a known name: want length perhaps; one of length, thickness, core; or copy the column with -keep "lengt"`},
		"column twice":     {"length,Length (mm)\n", []string{"curls"}, misused, "", "there twice"},
		"nothing to keep":  {"length\n", []string{"-keep", "batch", "curls"}, misused, "", `there is no column "batch"`},
		"empty":            {"", []string{"curls"}, misused, "", "the first line must name the inputs"},
		"only a header":    {"length,thickness\n", []string{"curls"}, done, "row  turns  diameter (mm)  conditions  cautions\n", ""},
		"a wrong choice":   {"", []string{"-to", "pdf", "curls"}, misused, "", `-to is "pdf": want table or csv or jsonl`},
		"wrong choices":    {"", []string{"-bad", "x", "-from", "y", "-units", "z", "curls"}, misused, "", "-from is \"y\": want csv or jsonl\n-bad is \"x\""},
		"no id":            {"", nil, misused, "", "an id and at most one file"},
		"unknown id":       {"", []string{"curl"}, misused, "", `want "curls" perhaps`},
		"bad option":       {"", []string{"-paint"}, misused, "", "calc help"},
		"no such file":     {"", []string{"curls", "none.csv"}, broken, "", "none.csv"},
		"keep with jsonl":  {"", []string{"-from", "jsonl", "-keep", "a", "curls"}, misused, "", "-keep and -echo go with CSV"},
		"long line":        {strings.Repeat("x", 10<<20) + "\n" + `{"length":"300 mm","thickness":"5 mm"}`, []string{"-from", "jsonl", "-to", "csv", "-bad", "skip", "curls"}, refused, "\n2,4.37", "row 1 (line 1): the row is longer than 1048576 bytes\n"},
		"long good line":   {`{"length":"300 mm",` + strings.Repeat(" ", 200_000) + `"thickness":"5 mm"}` + "\n", []string{"-from", "jsonl", "-to", "csv", "curls"}, done, "\n1,4.37", ""},
		"quote left open":  {"length,thickness\n\"300 mm,5 mm\n" + strings.Repeat("300 mm,5 mm\n", 400_000), []string{"-to", "csv", "curls"}, broken, "", "a quote may not be closed"},
		"quote open, ends": {"length,thickness\n300 mm,5 mm\n\"300 mm,5 mm\n", []string{"-to", "csv", "curls"}, refused, "\n1,4.37", "row 2 (line 3): not CSV: extraneous or missing"},
	} {
		t.Run(id, func(t *testing.T) {
			code, out, errs := call(c.input, append([]string{"rows"}, c.args...)...)
			assert.Equal(t, c.code, code, errs)
			assert.Contains(t, out, c.out)
			assert.Contains(t, errs, c.errs)
			if c.code == done {
				assert.Empty(t, errs)
			}
		})
	}
}

// Rows after the first ones go through with the widths found so far.
func TestLongTable(t *testing.T) {
	input := "length,thickness\n" + strings.Repeat("300 mm,5 mm\n", 1000)
	code, out, errs := call(input, "rows", "curls")
	require.Zero(t, code, errs)
	lines := strings.Split(out, "\n")
	require.Len(t, strings.Split(strings.Split(out, "\n\n")[0], "\n"), 1001)
	assert.Equal(t, "  1   4.37           43.7  many-turns  moving-machinery roller-nip", lines[1])
	assert.Equal(t, "1000   4.37           43.7  many-turns  moving-machinery roller-nip", lines[1000])
}

// A value of the input may be an object inside an object, or stand in an item of a list.
func TestNestedNames(t *testing.T) {
	f := &form{columns: []column{{name: "a.b"}, {name: "a.c.d", kind: asJSON}, {name: "e", unit: "g", kind: asList}, {name: "a.n", kind: asNumbers}}}
	for i := range f.columns {
		f.columns[i].path = steps(f.columns[i].name)
	}
	base := []byte(`{"a":{"b":"old","l":[{"name":"x y","w":1},{"part":{"name":"z"}}]}}`)
	for _, c := range []struct {
		base  []byte
		cells []string
		want  string
	}{
		{nil, []string{"x", "true", "1, 2 kg", "1,2"}, `{"e":["1 g","2 kg"],"a":{"b":"x","n":[1,2],"c":{"d":true}}}`},
		{nil, []string{"", `t"rue`, `["1 g"]`, ""}, `{"e":["1 g"],"a":{"c":{"d":"t\"rue"}}}`},
		{nil, []string{"", "", "", ""}, `{}`},
		{base, []string{"", "", "", ""}, string(base)},
		{base, []string{"new", "", "", ""}, strings.Replace(string(base), "old", "new", 1)},
	} {
		f.base = c.base
		got, err := f.json(c.cells)
		require.NoError(t, err)
		assert.JSONEq(t, c.want, string(got))
	}
	for path, want := range map[string]string{"a.l[x y].w": `"w":2`, "a.l[0].w": `"w":2`, "a.l[z].w": `"name":"z"},"w":2`} {
		f := &form{base: base, columns: []column{{name: path, kind: asJSON, path: steps(path)}}}
		got, err := f.json([]string{"2"})
		require.NoError(t, err)
		assert.Contains(t, string(got), want)
	}
	f = &form{base: base, columns: []column{{name: "a.l[2].w", kind: asJSON, path: steps("a.l[2].w")}}}
	_, err := f.json([]string{"2"})
	assert.ErrorContains(t, err, "there is no item [2]: the base has 2")
}

// failing stands for a full disk or a closed pipe.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }
func (failing) Read([]byte) (int, error)  { return 0, errors.New("disk gone") }

func TestBrokenPipes(t *testing.T) {
	rows := "length,thickness\n" + strings.Repeat("300 mm,5 mm\n", 5000)
	for _, args := range [][]string{{"help"}, {"do", "curls", "-length", "1 m", "-thickness", "5 mm"}, {"rows", "curls"}, {"rows", "-to", "csv", "curls"}, {"rows", "-to", "jsonl", "curls"}} {
		var errs bytes.Buffer
		assert.Equal(t, broken, run(context.Background(), args, strings.NewReader(rows), failing{}, &errs), "%q", args)
		assert.Contains(t, errs.String(), "disk full")
	}
	for _, args := range [][]string{{"do", "curls", "-"}, {"rows", "-from", "jsonl", "curls"}} {
		var out, errs bytes.Buffer
		assert.Equal(t, broken, run(context.Background(), args, failing{}, &out, &errs), "%q", args)
		assert.Contains(t, errs.String(), "disk gone")
	}
}

func TestFileByItsEnding(t *testing.T) {
	file := filepath.Join(t.TempDir(), "rows.jsonl")
	require.NoError(t, os.WriteFile(file, []byte(`{"length":"300 mm","thickness":"5 mm"}`), 0o600))
	code, out, errs := call("", "rows", "-to", "csv", "curls", file)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "\n1,4.37")
}

// repeated hands out the same rows again and again, so that the input itself
// takes no memory.
type repeated struct {
	head, row []byte
	left      int // rows
	rest      []byte
}

func (r *repeated) Read(p []byte) (int, error) {
	if len(r.rest) == 0 {
		switch {
		case r.head != nil:
			r.rest, r.head = r.head, nil
		case r.left == 0:
			return 0, io.EOF
		default:
			r.left--
			r.rest = r.row
		}
	}
	n := copy(p, r.rest)
	r.rest = r.rest[n:]
	return n, nil
}

// BenchmarkRows reports rows per second and how much memory the whole program
// has taken from the system.
func BenchmarkRows(b *testing.B) {
	for _, to := range []string{"csv", "jsonl", "table"} {
		b.Run(to, func(b *testing.B) {
			in := &repeated{
				head: []byte("target_temp (°C),flour_temp (°C),room (°C),friction (C°),friction_basis\n"),
				row:  []byte("26,21.5,23,14,once\n"), left: b.N,
			}
			var errs bytes.Buffer
			b.ReportAllocs()
			b.ResetTimer()
			if code := run(context.Background(), []string{"rows", "-to", to, "water-temperature"}, in, io.Discard, &errs); code != done {
				b.Fatal(errs.String())
			}
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "rows/s")
			b.ReportMetric(float64(m.Sys)/1e6, "MB")
		})
	}
}

// FuzzRows: no file makes the program panic, whatever it holds.
func FuzzRows(f *testing.F) {
	f.Add("length (mm),thickness\n300,5 mm\n310,\n", true)
	f.Add("length (mm),thickness,core\n300,5 mm,\n,4 mm,1 cm\n", true)
	f.Add(`{"length":"300 mm","thickness":"5 mm"}`+"\n{", false)
	f.Add(`{"length":"300 mm","thickness":"5 mm"}`+"\n"+`{"core":null,"length":"30 cm"}`+"\n"+`{"a.b[0]":{"c":[1]}}`, false)
	f.Fuzz(func(t *testing.T, input string, isCSV bool) {
		from := "jsonl"
		if isCSV {
			from = "csv"
		}
		for _, more := range [][]string{{"-to", "csv"}, {"-to", "jsonl"}, {"-to", "table"}, {"-to", "csv", "-base", `{"length":"300 mm","thickness":"5 mm"}`, "-want", "turns"}} {
			code, _, errs := call(input, append(append([]string{"rows", "-from", from, "-bad", "skip"}, more...), "curls")...)
			if code != done && errs == "" {
				t.Errorf("it left with %d and said nothing", code)
			}
			if code == broken {
				t.Errorf("nothing was broken: %s", errs)
			}
		}
	})
}

func ExampleMain() {
	run(context.Background(), []string{"do", "curls", "-length", "300 mm", "-thickness", "5 mm"}, nil, os.Stdout, os.Stderr)
	fmt.Println()
	// Output:
	// turns     4.37
	// diameter  43.7 mm
	//
	// Look out for
	//   many-turns: The piece makes more turns than is usual: look at the sheet and at a cut piece, and keep it as long as the sheet does not tear.
	//
	// Take care
	//   moving-machinery: Keep hands, sleeves and tools away from moving parts and set a machine only as its manual allows; train operators first.
	//   roller-nip: Rollers that turn towards each other draw in hands, sleeves and tools: keep their guard shut, stop and isolate them before you measure a gap or clean them, and take a sheet to be measured from well behind them.
	//   The machine's manual, local codes and a licensed or authorised person come before anything printed here.
}
