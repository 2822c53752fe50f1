package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// leaves lists every single value of a tree with its path.
func leaves(in any, path string) (out [][2]string) {
	switch v := in.(type) {
	case map[string]any:
		names := make([]string, 0, len(v))
		for name := range v {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			out = append(out, leaves(v[name], strings.TrimPrefix(path+"."+name, "."))...)
		}
	case []any:
		for i := range v {
			out = append(out, leaves(v[i], fmt.Sprintf("%s[%d]", path, i))...)
		}
	default:
		text, _ := textOf(v)
		out = append(out, [2]string{path, text})
	}
	return out
}

// other changes the number that a text starts with.
func other(text, factor string) string {
	var x, f float64
	if n, _ := fmt.Sscan(text, &x); n == 1 {
		_, _ = fmt.Sscan(factor, &f)
		end := strings.IndexByte(text+" ", ' ')
		return fmt.Sprint(x*f) + text[end:]
	}
	return text + factor
}

func cells(fields []string) string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = `"` + strings.ReplaceAll(f, `"`, `""`) + `"`
	}
	return strings.Join(out, ",") + "\n"
}

// What is set cell by cell into an open question is answered, and refused, as if each
// row were read for itself: for every calculation, with every value of its example made
// larger and negative, left out, and not readable at all.
func TestCellsAnswerAsJSON(t *testing.T) {
	for _, e := range calc.Entries() {
		t.Run(e.ID, func(t *testing.T) {
			example, err := tree([]byte(e.Example))
			require.NoError(t, err)
			var head, whole []string
			var rows [][]string
			for _, leaf := range leaves(example, "") {
				head, whole = append(head, leaf[0]), append(whole, leaf[1])
			}
			all, most := os.Getenv("CHECKS") == "all", 10
			if len(e.Example) > 2500 && !all {
				most = 3
			}
			if len(head) > most {
				step := len(head) / most // of the largest, a part is enough
				var fewer, values []string
				for i := 0; i < len(head); i += step {
					fewer, values = append(fewer, head[i]), append(values, whole[i])
				}
				head, whole = fewer, values
			}
			rows = append(rows, whole)
			for i := range head {
				for _, cell := range []string{other(whole[i], "1.01"), other(whole[i], "-1"), "", "?"} {
					row := slices.Clone(whole)
					row[i] = cell
					rows = append(rows, row)
				}
			}
			var file strings.Builder
			file.WriteString(cells(head))
			for _, row := range rows {
				file.WriteString(cells(row))
			}
			args := []string{"rows", "-to", "csv", "-bad", "skip", e.ID}
			if strings.Contains(e.Example, "[") {
				args = slices.Insert(args, 1, "-base", e.Example)
			}
			_, together, complaints := call(file.String(), args...)
			lines := strings.Split(together, "\n")
			require.Len(t, lines, len(rows)+2, complaints)
			for i, row := range rows {
				if !all && i%3 != 0 { // every day a third of them
					continue
				}
				_, alone, _ := call(cells(head)+cells(row), args...)
				want := strings.Split(alone, "\n")
				require.Len(t, want, 3)
				assert.Equal(t, strings.TrimPrefix(want[1], "1,"), strings.TrimPrefix(lines[i+1], fmt.Sprint(i+1, ",")), "%q", row)
			}
		})
	}
}

// bunPlan is the demo's first order as the plan of one product.
func bunPlan(t testing.TB) string {
	t.Helper()
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	var day struct {
		Line, Shift json.RawMessage
		Orders      []json.RawMessage
	}
	require.NoError(t, json.Unmarshal(data, &day))
	var b bytes.Buffer
	require.NoError(t, json.Compact(&b, fmt.Appendf(nil, `{"line":%s,"shift":%s,"order":%s}`, day.Line, day.Shift, day.Orders[0])))
	return b.String()
}

func TestRowsOverBase(t *testing.T) {
	plan := bunPlan(t)
	const sheet = `{"length":"300 mm","thickness":"5 mm"}`
	for id, c := range map[string]struct {
		input string
		args  []string
		code  int
		out   string
		errs  string
	}{
		"only what differs": {
			"thickness (mm)\n5\n\n4\n",
			[]string{"-to", "csv", "-base", `{"length":"300 mm"}`, "-want", "turns, diameter (cm)", "-echo", "curls"},
			done, "row,thickness (mm),turns,diameter (cm),conditions,cautions,error\n1,5,4.370193722368316,4.370193722368317,many-turns,", "",
		},
		"an empty cell is as in the base": {
			"length,thickness\n310 mm,5 mm\n,4 mm\n1 ft,\n",
			[]string{"-to", "csv", "-base", sheet, "-want", "turns", "-echo", "curls"},
			done, "\n2,300,4,4.88", "",
		},
		"lines": {
			`{"thickness":"5 mm"}` + "\n" + `{"thickness":"4 mm"}` + "\n" + `{"length":"400 mm"}`,
			[]string{"-from", "jsonl", "-to", "jsonl", "-base", sheet, "-want", "turns", "curls"},
			done, `{"row":2,"turns":4.88`, "",
		},
		"a null takes a value out": {
			`{"thickness":"5 mm"}` + "\n\n" + `{"thickness":null}`,
			[]string{"-from", "jsonl", "-to", "csv", "-base", sheet, "-want", "turns", "curls"},
			refused, "\n2,,,,\"curls: thickness is missing", "row 2 (line 3): curls: thickness is missing",
		},
		"a name twice in a line": {
			`{"thickness":"5 mm"}` + "\n" + `{"thickness":"5 mm","thickness":"4 mm"}`,
			[]string{"-from", "jsonl", "-to", "csv", "-base", sheet, "-want", "turns", "curls"},
			refused, "", `row 2 (line 2): "thickness" is there twice`,
		},
		"a path under two names": {
			`{"shift.tap":"12 °C","shift":{"tap":"11 °C"}}`,
			[]string{"-from", "jsonl", "-to", "csv", "-base", plan, "-want", "water_temp", "line-plan"},
			refused, "", `row 1 (line 1): "shift.tap" is there twice`,
		},
		"an item under two names": {
			"order.product.formula[water].percent,order.product.formula[1].percent\n56 %,57 %\n",
			[]string{"-to", "csv", "-base", plan, "-want", "water_temp", "line-plan"},
			refused, "", `order.product.formula[1].percent is the same value as order.product.formula[water].percent`,
		},
		"a bare number in a line": {
			`{"thickness":"5 mm"}` + "\n" + `{"thickness":5}`,
			[]string{"-from", "jsonl", "-to", "csv", "-base", sheet, "-want", "turns", "curls"},
			refused, "", "row 2 (line 2): curls: thickness is the bare number 5",
		},
		"paths in lines": {
			`{"shift.tap":"12 °C"}` + "\n" + `{"shift":{"tap":"11 °C"},"order.product.formula[water].percent":"57 %"}`,
			[]string{"-from", "jsonl", "-to", "jsonl", "-base", plan, "-want", "water_temp,rate.piece_rate", "line-plan"},
			done, `{"row":2,"water_temp (°C)":`, "",
		},
		"a plan's rows": {
			"shift.tap (°C),order.product.baked (g),order.product.formula[water].percent (%)\n15,45,56\n16,46,57\n",
			[]string{"-to", "csv", "-base", plan, "-want", "water_temp,target (oz)", "-echo", "line-plan"},
			done, "row,shift.tap (°C),order.product.baked (g),order.product.formula[water].percent (%),water_temp (°C),target (oz),conditions,cautions,error\n1,15,45,56,", "",
		},
		"a bad base":            {"thickness\n5 mm\n", []string{"-base", `{"lengt":"300 mm"}`, "curls"}, refused, "", "the base: curls: lengt is not a known name: want length perhaps"},
		"a base with no unit":   {"thickness\n5 mm\n", []string{"-base", `{"length":"300"}`, "curls"}, refused, "", `the base: curls: length is "300": want a unit`},
		"a base that is none":   {"thickness\n5 mm\n", []string{"-base", `{"length"`, "curls"}, refused, "", "the base: curls: the input is"},
		"a base out of range":   {"thickness\n5 mm\n", []string{"-base", `{"length":"-3 mm"}`, "curls"}, refused, "", "the base: curls: length is"},
		"no such base":          {"thickness\n5 mm\n", []string{"-base", "none.json", "curls"}, broken, "", "none.json"},
		"no such item":          {"shift.tap,order.product.formula[watter].percent\n15 °C,50 %\n", []string{"-base", plan, "line-plan"}, refused, "", "there is no item [watter]"},
		"no such output":        {"", []string{"-want", "turn,diametre", "curls"}, misused, "", "turn is not a known output: want turns perhaps; one of turns, diameter, conditions, cautions\ncurls: diametre"},
		"a part as output":      {"", []string{"-want", "rate", "line-plan"}, misused, "", "rate is a part with several outputs"},
		"no such unit":          {"", []string{"-want", "diameter (kg)", "curls"}, misused, "", `diameter is in "kg": want one of mm, cm, m, in, ft`},
		"a unit for a number":   {"", []string{"-want", "turns (mm)", "curls"}, misused, "", "turns has no unit"},
		"working and a choice":  {"", []string{"-working", "-want", "turns", "-to", "jsonl", "curls"}, misused, "", "-working goes with -to jsonl, without -want"},
		"echo of lines":         {"", []string{"-echo", "-from", "jsonl", "curls"}, misused, "", "go with CSV"},
		"a formula in a column": {"batch,length,thickness\n\"=HYPERLINK(\"\"x\"\")\",300 mm,5 mm\n-3,300 mm,5 mm\n", []string{"-to", "csv", "-keep", "batch", "-want", "turns", "curls"}, done, "1,\"'=HYPERLINK(\"\"x\"\")\",4.37", ""},
		"bytes for a terminal":  {"batch,length,thickness\n\x1b[2J,300 mm,5 mm\n", []string{"-keep", "batch", "curls"}, done, "  1  \ufffd[2J", ""},
		"too many columns":      {strings.Repeat("length,", 1001) + "\n", []string{"curls"}, misused, "", "names 1002 columns: want at most 1000"},
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

// A file is there whole or not at all, and what stood there stays if not.
func TestRowsToFile(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "out.csv")
	only := func() {
		t.Helper()
		names, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.LessOrEqual(t, len(names), 1, "something was left over")
	}
	read := func() string {
		t.Helper()
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		return string(data)
	}
	code, out, errs := call("length,thickness\n300 mm,5 mm\n300,5 mm\n", "rows", "-file", file, "curls")
	assert.Equal(t, refused, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "out.csv was not written")
	assert.NoFileExists(t, file)
	only()
	code, out, errs = call("length,thickness\n300 mm,5 mm\n", "rows", "-file", file, "curls")
	require.Equal(t, done, code, errs)
	assert.Empty(t, out)
	assert.Contains(t, read(), "row,turns,diameter (mm),", "the ending says what to write")
	only()
	code, _, errs = call("length,thickness\n300 mm,5 mm\n\"", "rows", "-file", file, "curls")
	assert.Equal(t, refused, code, errs)
	assert.Contains(t, read(), "\n1,4.37")
	only()
	code, _, errs = call("length,thickness\n300 mm,5 mm\n", "rows", "-file", filepath.Join(dir, "none", "out.csv"), "curls")
	assert.Equal(t, broken, code)
	assert.Contains(t, errs, "no such file")
	if _, err := os.Stat("/dev/full"); err == nil {
		code, _, errs = call("length,thickness\n300 mm,5 mm\n", "rows", "-file", "/dev/full", "curls")
		assert.Equal(t, broken, code)
		assert.Contains(t, errs, "no space left on device")
	}
}

// A program that asked for JSON is refused in JSON.
func TestRefusedInJSON(t *testing.T) {
	for id, c := range map[string]struct {
		args []string
		code int
		want string
	}{
		"range":   {[]string{"do", "-json", "curls", "-length", "0 mm", "-thickness", "5 mm"}, refused, `{"calculation":"curls","errors":[{"kind":"range","calculation":"curls","field":"length","value":"0 mm","low":"1 mm","high":"5000 mm","unit":"mm","want":"1 mm to 5 m"}]}`},
		"no id":   {[]string{"do", "-json", "crulls"}, misused, `{"calculation":"crulls","errors":[{"kind":"input","calculation":"calc","field":"id","value":"\"crulls\"","want":"\"curls\" perhaps"}]}`},
		"inverse": {[]string{"solve", "-json", "curls", "length", "-turns", "0", "-thickness", "5 mm"}, refused, ""},
	} {
		code, out, errs := call("", c.args...)
		assert.Equal(t, c.code, code, id)
		assert.NotEmpty(t, errs, id)
		require.True(t, json.Valid([]byte(out)), out)
		assert.Contains(t, out, `"errors":[{"kind":`)
		if c.want != "" {
			assert.JSONEq(t, c.want, out, id)
		}
	}
}

// BenchmarkPlanRows plans the demo's first order for 10,000 rows that vary five inputs,
// from a file to a file.
func BenchmarkPlanRows(b *testing.B) {
	dir := b.TempDir()
	for _, from := range []string{"csv", "jsonl"} {
		b.Run(from, func(b *testing.B) {
			var rows bytes.Buffer
			if from == "csv" {
				rows.WriteString("shift.tap (°C),shift.flour_temp (°C),order.product.baked (g),order.product.friction (C°),order.pieces\n")
			}
			for i := range 10_000 {
				tap, flour, baked, friction, pieces := 10+float64(i%10), 18+float64(i/10%10)/2, 42+float64(i%7), 12+float64(i%5), 5000+i%11*100
				if from == "csv" {
					fmt.Fprintf(&rows, "%g,%g,%g,%g,%d\n", tap, flour, baked, friction, pieces)
				} else {
					fmt.Fprintf(&rows, `{"shift.tap":"%g °C","shift.flour_temp":"%g °C","order.product.baked":"%g g","order.product.friction":"%g C°","order.pieces":%d}`+"\n", tap, flour, baked, friction, pieces)
				}
			}
			in, base, out := filepath.Join(dir, "in."+from), filepath.Join(dir, "base.json"), filepath.Join(dir, "out.csv")
			require.NoError(b, os.WriteFile(in, rows.Bytes(), 0o600))
			require.NoError(b, os.WriteFile(base, []byte(bunPlan(b)), 0o600))
			b.ReportAllocs()
			for b.Loop() {
				var errs bytes.Buffer
				if code := run(context.Background(), []string{"rows", "-base", base, "-want", "water_temp,target,mark.mark,rate.piece_rate,batch.batches", "-file", out, "line-plan", in}, nil, io.Discard, &errs); code != done {
					b.Fatal(errs.String())
				}
			}
			b.ReportMetric(1e9/b.Elapsed().Seconds()*float64(b.N)*10_000/1e9, "plans/s")
		})
	}
}
