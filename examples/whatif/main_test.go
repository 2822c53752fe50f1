package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/whatif"
)

// call runs the program and returns what it said.
func call(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(context.Background(), args, &o, &e)
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

// Every example of the help text works as it stands, at the top of the project.
func TestHelpExamples(t *testing.T) {
	folder := t.TempDir()
	t.Chdir("../..")
	_, examples, ok := strings.Cut(help, "Examples\n")
	require.True(t, ok)
	n := 0
	for line := range strings.Lines(examples) {
		args := split(t, line)
		require.Equal(t, []string{"go", "run", "./examples/whatif"}, args[:3])
		for i, a := range args {
			if strings.HasSuffix(a, ".svg") {
				args[i] = filepath.Join(folder, a)
			}
		}
		code, out, errs := call(args[3:]...)
		assert.Zero(t, code, "%s%s", line, errs)
		assert.NotEmpty(t, out, line)
		assert.Empty(t, errs, line)
		n++
	}
	assert.GreaterOrEqual(t, n, 6)
}

// What README says to type is among the examples that are run.
func TestReadmeCommandsAreExamples(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	n := 0
	for line := range strings.Lines(string(readme)) {
		if command, ok := strings.CutPrefix(strings.TrimSpace(line), "go run ./examples/whatif "); ok {
			assert.Contains(t, help, "  go run ./examples/whatif "+command+"\n")
			n++
		}
	}
	assert.GreaterOrEqual(t, n, 2)
}

// rowsOf reads CSV, a map by column for each row.
func rowsOf(t *testing.T, text string) (out []map[string]string) {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	for _, row := range all[1:] {
		m := map[string]string{}
		for i, name := range all[0] {
			m[name] = row[i]
		}
		out = append(out, m)
	}
	return out
}

func value(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err, text)
	return x
}

var bun = []string{"-product", "Star bun"}

func with(command string, args ...string) []string {
	return append(append([]string{command}, bun...), args...)
}

// The demo's tap and flour varied, against the factor rule by hand: three times the 26 °C wanted less
// 15 C° of friction, 25 °C of room and the flour; and the trade's 80 C° for ice.
func TestVaryTapAndFlour(t *testing.T) {
	code, out, errs := call(with("vary", "-to", "csv", "-vary", "shift.tap=6 °C..20 °C in 8", "-vary", "shift.flour_temp=16 °C..30 °C in 8", "-want", "water_temp,ice_to_weigh (kg),water_mass (kg)")...)
	require.Equal(t, done, code, errs)
	rows := rowsOf(t, out)
	require.Len(t, rows, 64)
	for i, r := range rows {
		tap, flour := value(t, r["shift.tap (°C)"]), value(t, r["shift.flour_temp (°C)"])
		assert.InDelta(t, float64(6+2*(i/8)), tap, 1e-12)
		assert.InDelta(t, float64(16+2*(i%8)), flour, 1e-12)
		water := 3*26 - 15 - 25 - flour
		assert.InDelta(t, water, value(t, r["water_temp (°C)"]), 1e-9)
		ice := max(0, value(t, r["water_mass (kg)"])*(tap-water)/(tap+80))
		assert.InDelta(t, ice, value(t, r["ice_to_weigh (kg)"]), 0.0051, "weighed to 10 g")
		assert.Equal(t, strconv.Itoa(i), r["scenario"])
		assert.Empty(t, r["error"])
	}
}

// What must be so, and is not, stands in the row.
func TestInTheWay(t *testing.T) {
	code, out, errs := call(with("vary", "-to", "csv", "-vary", "shift.flour_temp=20 °C, 24 °C, 28 °C", "-want", "water_temp", "-within", "water_temp=11 °C..16 °C", "-avoid", "part-pass")...)
	require.Equal(t, done, code, errs)
	rows := rowsOf(t, out)
	assert.Equal(t, "part-pass and water temp above 16 °C", rows[0]["in_the_way"])
	assert.Equal(t, "part-pass", rows[1]["in_the_way"])
	assert.Equal(t, "part-pass and water temp below 11 °C", rows[2]["in_the_way"])
}

// The warmest flour that needs no ice makes water as cold as the tap, 15 °C: 38 less 15 are 23 °C,
// and a little more, as long as the ice rounds to nothing on a scale of 10 g.
func TestWarmestFlourWithoutIce(t *testing.T) {
	code, out, errs := call(with("best", "-to", "json", "-vary", "shift.flour_temp=15 °C..35 °C in 5", "-aim", "most shift.flour_temp", "-within", "ice_to_weigh<=0 g")...)
	require.Equal(t, done, code, errs)
	var b whatif.BestResult
	require.NoError(t, json.Unmarshal([]byte(out), &b))
	assert.True(t, b.Met)
	assert.GreaterOrEqual(t, b.Best.Inputs[0], 23.0)
	assert.InDelta(t, 23, b.Best.Inputs[0], 0.05)
	code, out, errs = call(with("seek", "-vary", "shift.flour_temp=15 °C..35 °C", "-want", "water_temp", "-value", "15 °C")...)
	require.Equal(t, done, code, errs)
	assert.Contains(t, out, "water_temp is 15 °C where shift.flour_temp is\n  23 °C\n")
}

// Which of five tolerances decides the dough temperature: with four factors, each moves it by a quarter. In
// sixteenths of a C°²: friction 2², room 3²/3, flour 2²/3, water and the third 1/3 each, together 9.
func TestToleranceThatDecides(t *testing.T) {
	code, out, errs := call("spread", "-study", "tolerances.json")
	require.Equal(t, done, code, errs)
	for _, want := range []string{
		"first order   26 °C           0.75 C° ",
		"friction                                      2 C°            0.5 C°                  44 %\n  room ",
		"room                                      1.732 C°          0.433 C°                  33 %\n  flour_temp ",
		"flour_temp                                1.155 C°         0.2887 C°                  15 %\n  ",
	} {
		assert.Contains(t, out, want)
	}
}

func TestCompareCases(t *testing.T) {
	code, out, errs := call(with("compare", "-case", "warm day: shift.flour_temp=28 °C; shift.room=30 °C", "-want", "water_temp,ice_to_weigh (kg)", "-explain")...)
	require.Equal(t, done, code, errs)
	assert.Contains(t, out, "water_temp        16 °C     5 °C (-11 C°)\n")
	assert.Contains(t, out, "warm day, water_temp, because\n  flour temperature            T_f    22 -> 28 °C\n")
	assert.Contains(t, out, "take care: ice-handling")
}

// Whatever names a setting says what can hurt whoever sets it, and whom to obey first.
func TestSettingsAreCautioned(t *testing.T) {
	of := []string{"-product", "Star bun", "-within", "water_temp=5 °C..17 °C"}
	for _, args := range [][]string{
		append([]string{"best", "-vary", "shift.tap=10 °C..16 °C in 3", "-aim", "least water_temp"}, of...),
		append([]string{"robust", "-vary", "shift.tap=10 °C..16 °C in 3", "-scatter", "shift.room=± 3 C°", "-samples", "10"}, of...),
		{"seek", "-product", "Star bun", "-vary", "shift.flour_temp=10 °C..40 °C", "-want", "water_temp", "-value", "12 °C"},
	} {
		code, out, errs := call(args...)
		require.Equal(t, 0, code, errs)
		assert.Contains(t, out, "Take care\n  moving-machinery: ", args[0])
		assert.Contains(t, out, reckon.CautionDeference, args[0])
	}
}

func TestRefusals(t *testing.T) {
	vary := "shift.tap=6 °C..20 °C in 3"
	folder := t.TempDir()
	study := filepath.Join(folder, "study.json")
	require.NoError(t, os.WriteFile(study, []byte(`{"vary":[{"path":"shift.tap","values":["6 °C"]}],"outputs":[{"path":"water_temp"}],"seeds":3}`), 0o600))
	for id, c := range map[string]struct {
		args []string
		code int
		errs string
	}{
		"no command":         {[]string{"bake"}, misused, `no command is called "bake": vary, seek, spread, best, robust or compare`},
		"no option":          {with("vary", "-paint", "x"), misused, "whatif help lists the options"},
		"an option twice":    {with("vary", "-seed", "1", "-seed", "2"), misused, "-seed is there twice"},
		"a stray word":       {with("vary", "tap"), misused, `"tap" is no option`},
		"nothing varies":     {with("vary", "-want", "water_temp"), misused, "nothing varies"},
		"nothing wanted":     {with("vary", "-vary", vary), misused, "nothing is wanted"},
		"no such product":    {[]string{"vary", "-product", "Star bum", "-vary", vary}, misused, `want one of "Star bun"`},
		"no such file":       {[]string{"vary", "-scenario", "none.json", "-vary", vary}, broken, "none.json"},
		"no such path":       {with("vary", "-vary", "shift.tapp=6 °C, 7 °C", "-want", "water_temp"), misused, "tap perhaps"},
		"no such output":     {with("vary", "-vary", vary, "-want", "water_tmp"), misused, "water_temp perhaps"},
		"a wrong unit":       {with("vary", "-vary", "shift.tap=6 kg..20 kg in 3", "-want", "water_temp"), misused, "a number and a unit (°C, °F, K)"},
		"backwards":          {with("vary", "-vary", "shift.tap=20 °C..6 °C in 3", "-want", "water_temp"), misused, "a range runs upwards"},
		"too large":          {with("vary", "-vary", "shift.tap=6 °C..20 °C in 3000", "-vary", "shift.flour_temp=6 °C..20 °C in 3000", "-want", "water_temp"), misused, "9000000 scenarios"},
		"a half factor":      {with("vary", "-vary", "=5", "-want", "water_temp"), misused, `-vary is "=5"`},
		"no count":           {with("vary", "-vary", vary, "-want", "water_temp", "-count", "many"), misused, `-count is "many": want a whole number`},
		"a first too far":    {with("vary", "-vary", vary, "-want", "water_temp", "-first", "4"), misused, "first"},
		"no format":          {with("vary", "-vary", vary, "-want", "water_temp", "-to", "pdf"), misused, `-to is "pdf"`},
		"no picture":         {with("vary", "-vary", vary, "-want", "water_temp", "-plot", filepath.Join(folder, "x.pdf")), misused, "ends with .svg or .png"},
		"three inputs drawn": {with("vary", "-vary", vary, "-vary", "shift.room=20 °C, 21 °C", "-vary", "shift.flour_temp=20 °C, 21 °C", "-want", "water_temp", "-plot", "x.svg"), misused, "one or two inputs"},
		"a word drawn":       {with("vary", "-vary", vary, "-want", "drum.name", "-plot", "x.svg"), misused, "drum.name is none"},
		"heat of one":        {with("vary", "-vary", vary, "-want", "water_temp", "-chart", "heat", "-plot", "x.svg"), misused, "two inputs"},
		"a chart, no plot":   {with("vary", "-vary", vary, "-want", "water_temp", "-chart", "lines"), misused, "want -plot NAME.svg too"},
		"no chart":           {with("vary", "-vary", vary, "-want", "water_temp", "-chart", "pie", "-plot", "x.svg"), misused, "lines or heat"},
		"a limit backwards":  {with("vary", "-vary", vary, "-want", "water_temp", "-within", "water_temp=9 °C..5 °C"), misused, "runs backwards"},
		"a limit of nothing": {with("vary", "-vary", vary, "-want", "water_temp", "-within", "water_temp"), misused, "-within is"},
		"a limit, no unit":   {with("vary", "-vary", vary, "-want", "water_temp", "-within", "water_temp<=9"), misused, "want the unit of the column after the number, °C"},
		"a misspelt study":   {with("vary", "-study", study), misused, "seed perhaps"},
		"two things varied":  {[]string{"spread", "-study", "tolerances.json", "-product", "Star bun"}, misused, "the study says what it varies"},
		"a base alone":       {[]string{"vary", "-base", "{}", "-vary", vary}, misused, "want its -id"},
		"an id and a plan":   {with("vary", "-id", "curls", "-base", "{}", "-vary", vary), misused, "want one of them"},
		"no such id":         {[]string{"vary", "-id", "crulls", "-base", "{}", "-vary", vary}, misused, `"curls" perhaps`},
		"an id alone":        {[]string{"vary", "-id", "curls", "-vary", vary}, misused, "want its input, -base"},
		"no aim":             {with("best", "-vary", vary, "-want", "water_temp"), misused, "nothing is aimed at"},
		"no such aim":        {with("best", "-vary", vary, "-aim", "nicest water_temp"), misused, "aim"},
		"no such condition":  {with("best", "-vary", vary, "-aim", "most water_temp", "-avoid", "sem-open"), misused, "a condition of this answer"},
		"no case":            {with("compare", "-case", "warm"), misused, `want "NAME: PATH=VALUE; PATH=VALUE"`},
		"one case":           {with("compare"), misused, "2 to 20 cases"},
		"out of reach":       {with("seek", "-vary", "shift.flour_temp=15 °C..35 °C", "-want", "water_temp", "-value", "50 °C"), refused, "it can reach 3 °C to 23 °C"},
		"nothing keeps":      {with("best", "-vary", vary, "-aim", "most shift.tap", "-within", "water_temp<=1 °C"), refused, "no setting keeps to all that it must"},
	} {
		t.Run(id, func(t *testing.T) {
			code, _, errs := call(c.args...)
			assert.Equal(t, c.code, code, errs)
			assert.Contains(t, errs, c.errs)
		})
	}
}

// A refused scenario is a row with its error, and the base's refusal is said first.
func TestRefusedRows(t *testing.T) {
	args := []string{"vary", "-id", "water-temperature", "-base", `{"target_temp":"45 °C","flour_temp":"1 °C","friction":"0 C°","friction_basis":"once"}`, "-vary", "target_temp=20 °C, 45 °C", "-want", "water_temp"}
	code, out, errs := call(append(args, "-to", "csv")...)
	require.Equal(t, done, code)
	assert.Contains(t, errs, "the base itself is refused (no safe water temperature)")
	rows := rowsOf(t, out)
	require.Len(t, rows, 2)
	assert.Equal(t, "39", rows[0]["water_temp (°C)"])
	assert.Empty(t, rows[1]["water_temp (°C)"])
	assert.Contains(t, rows[1]["error"], "no safe water temperature gives a dough of 45 °C")
	_, out, _ = call(append(args, "-to", "jsonl")...)
	assert.Contains(t, out, `{"scenario":1,"target_temp (°C)":45,"conditions":[],"error":[{"kind":"no-solution","calculation":"water-temperature"`)
	assert.Contains(t, out, `"high":"23 °C"`)
}

// stopper interrupts once so much has been written.
type stopper struct {
	bytes.Buffer
	after int
	stop  func()
}

func (s *stopper) Write(p []byte) (int, error) {
	n, err := s.Buffer.Write(p)
	if s.Len() > s.after {
		s.stop()
	}
	return n, err
}

// Interrupted, the program ends with whole rows; the flag that it names goes on with the rest.
func TestInterrupted(t *testing.T) {
	args := with("vary", "-to", "csv", "-vary", "shift.tap=6 °C..20 °C in 60", "-vary", "shift.flour_temp=16 °C..30 °C in 60", "-want", "water_temp,ice_to_weigh")
	_, whole, _ := call(args...)
	for _, workers := range []string{"1", "2"} {
		ctx, stop := context.WithCancel(context.Background())
		out, errs := &stopper{after: 100_000, stop: stop}, &bytes.Buffer{}
		code := run(ctx, append(args, "-workers", workers), out, errs)
		assert.Equal(t, interrupted, code)
		require.True(t, strings.HasSuffix(out.String(), "\n"))
		assert.True(t, strings.HasPrefix(whole, out.String()))
		_, again, ok := strings.Cut(errs.String(), "-first ")
		require.True(t, ok, errs.String())
		first, _, _ := strings.Cut(again, " ")
		_, rest, _ := call(append(args, "-first", first)...)
		_, rest, _ = strings.Cut(rest, "\n")
		assert.Equal(t, whole, out.String()+rest)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	file := filepath.Join(t.TempDir(), "rows.csv")
	var errs bytes.Buffer
	assert.Equal(t, interrupted, run(ctx, append(args, "-file", file), io.Discard, &errs))
	assert.NoFileExists(t, file)
	assert.FileExists(t, file+".part0")
	assert.Contains(t, errs.String(), "the rows so far are in "+file+".part0")
	assert.Contains(t, errs.String(), "-first 0 goes on there")
	errs.Reset()
	assert.Equal(t, interrupted, run(ctx, []string{"spread", "-study", "tolerances.json"}, io.Discard, &errs))
	assert.Contains(t, errs.String(), "nothing was written")
}

// failing stands for a full disk or a closed pipe.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestFullDisks(t *testing.T) {
	vary := []string{"-vary", "shift.tap=6 °C..20 °C in 9", "-want", "water_temp"}
	for _, args := range [][]string{{"help"}, with("vary", vary...), with("vary", append(vary, "-to", "csv")...), {"spread", "-study", "tolerances.json"}} {
		var errs bytes.Buffer
		assert.Equal(t, broken, run(context.Background(), args, failing{}, &errs), "%q", args)
		assert.Contains(t, errs.String(), "disk full")
	}
	folder := t.TempDir()
	file := filepath.Join(folder, "rows.jsonl")
	code, out, errs := call(with("vary", append(vary, "-file", file)...)...)
	require.Equal(t, done, code, errs)
	assert.Empty(t, out)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, 9, bytes.Count(data, []byte("\n")), "the ending says what to write")
	names, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, names, 1)
	if _, err := os.Stat("/dev/full"); err == nil {
		code, _, errs := call(with("vary", append(vary, "-file", "/dev/full")...)...)
		assert.Equal(t, broken, code)
		assert.Contains(t, errs, "no space left on device")
	}
	code, _, errs = call(with("vary", append(vary, "-plot", filepath.Join(folder, "none", "x.svg"))...)...)
	assert.Equal(t, broken, code, errs)
}

// Pictures are the same each time, and name their axes with units.
func TestPictures(t *testing.T) {
	folder := t.TempDir()
	tap, flour := "shift.tap=6 °C..20 °C in 5", "shift.flour_temp=16 °C..30 °C in 5"
	for id, c := range map[string]struct {
		args []string
		says []string
	}{
		"line":      {with("vary", "-vary", flour, "-want", "ice_to_weigh (kg)"), []string{"Star bun: ice to weigh over shift: flour temp", "ice to weigh (kg)", "shift: flour temp (°C)"}},
		"outputs":   {with("vary", "-vary", flour, "-want", "water_temp,water.base,rate.piece_rate"), []string{"water temp", "rate: piece rate is in another unit"}},
		"orders":    {[]string{"vary", "-vary", tap, "-want", "orders[Star bun].ice_to_weigh (kg),orders[Tin loaf 800 g].ice_to_weigh (kg)"}, []string{"Tin loaf 800 g: ice to weigh", "ice to weigh (kg)", "Ice to weigh over shift: tap"}},
		"lines":     {with("vary", "-vary", tap, "-vary", "shift.flour_temp=16 °C, 22 °C, 28 °C", "-want", "ice_to_weigh (kg)"), []string{"22 °C", "Lines: shift: flour temp"}},
		"gaps":      {with("vary", "-vary", flour, "-want", "water_temp", "-within", "water_temp>=12 °C"), []string{"water temp below 12 °C"}},
		"heat":      {with("vary", "-vary", tap, "-vary", flour, "-want", "ice_to_weigh (kg)", "-within", "ice_to_weigh<=0 kg"), []string{"a  ice to weigh above 0 kg", "The strong line bounds", "shift: tap (°C)"}},
		"tornado":   {[]string{"spread", "-study", "tolerances.json"}, []string{"what decides dough temp", "44 %", "friction"}},
		"histogram": {[]string{"spread", "-study", "tolerances.json", "-chart", "histogram"}, []string{"95 % lie from 24.5", "share of the scenarios (%)", "dough temp (°C)"}},
	} {
		t.Run(id, func(t *testing.T) {
			svg, again, img := filepath.Join(folder, id+".svg"), filepath.Join(folder, id+"2.svg"), filepath.Join(folder, id+".png")
			code, _, errs := call(append(c.args, "-plot", svg, "-plot", again, "-plot", img)...)
			require.Equal(t, done, code, errs)
			first, err := os.ReadFile(svg)
			require.NoError(t, err)
			second, err := os.ReadFile(again)
			require.NoError(t, err)
			assert.Equal(t, first, second)
			for _, want := range c.says {
				assert.Contains(t, string(first), want)
			}
			file, err := os.Open(img)
			require.NoError(t, err)
			defer func() { _ = file.Close() }()
			picture, err := png.Decode(file)
			require.NoError(t, err)
			assert.Equal(t, 880, picture.Bounds().Dx())
		})
	}
}

func TestParseFactor(t *testing.T) {
	for text, want := range map[string]whatif.Factor{
		"a.b=1 °C..5 °C in 3":      {Path: "a.b", From: "1 °C", To: "5 °C", Count: 3},
		"a.b = 1 in..5 in in 3":    {Path: "a.b", From: "1 in", To: "5 in", Count: 3},
		"a.b=1 in..5 in":           {Path: "a.b", From: "1 in", To: "5 in"},
		"a.b=1 °C..5 °C by 2 C°":   {Path: "a.b", From: "1 °C", To: "5 °C", Step: "2 C°"},
		"a[x=y].b":                 {Path: "a[x=y].b"},
		"a.b=once, per-factor":     {Path: "a.b", Values: []string{"once", "per-factor"}},
		"a.b=± 2 C°":               {Path: "a.b", Distribution: whatif.Distribution{Shape: whatif.Uniform, HalfWidth: "2 C°"}},
		"a.b=20 °C +- 2 C°":        {Path: "a.b", Distribution: whatif.Distribution{Shape: whatif.Uniform, Mean: "20 °C", HalfWidth: "2 C°"}},
		"a.b=20 °C sd 2 C°":        {Path: "a.b", Distribution: whatif.Distribution{Shape: whatif.Normal, Mean: "20 °C", SD: "2 C°"}},
		"a.b=sd 2 C°":              {Path: "a.b", Distribution: whatif.Distribution{Shape: whatif.Normal, SD: "2 C°"}},
		"orders[Star bun].product": {Path: "orders[Star bun].product"},
	} {
		got, err := parseFactor(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestBins(t *testing.T) {
	b, err := binsOf([]float64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9})
	require.NoError(t, err)
	sum := 0.0
	for _, s := range b.shares {
		sum += s
	}
	assert.InDelta(t, 100, sum, 1e-9)
	assert.Len(t, b.shares, 10)
	_, err = binsOf(nil)
	assert.Error(t, err)
	b, err = binsOf([]float64{3, 3})
	require.NoError(t, err)
	assert.Equal(t, 2.5, b.from)
}

// Ticks are round numbers that cover the axis, and no more than a reader can take in.
func TestTicks(t *testing.T) {
	for _, axis := range [][2]float64{{0, 1}, {-3, 17}, {1e-5, 2e-5}, {995, 1005}, {0, 1e6}, {16.2, 16.9}} {
		marks := ticks{}.Ticks(axis[0], axis[1])
		assert.GreaterOrEqual(t, len(marks), 3, "%v", axis)
		assert.LessOrEqual(t, len(marks), 12, "%v", axis)
		seen := map[string]bool{}
		for _, m := range marks {
			assert.False(t, seen[m.Label], "%v: %s twice", axis, m.Label)
			seen[m.Label] = true
			assert.True(t, m.Value >= axis[0]-1e-9*(axis[1]-axis[0]) && m.Value <= axis[1]*(1+1e-9), "%v: %v", axis, m.Value)
		}
	}
}

// FuzzVary: no option makes the program panic, whatever it holds.
func FuzzVary(f *testing.F) {
	f.Add("thickness=4 mm..6 mm in 3", "turns,diameter (cm)", "turns<=4")
	f.Add("thickness=4 mm, 5 mm", "turns", "diameter=40 mm..50 mm")
	f.Add("thickness=± 1 mm", "turns", "turns>=")
	f.Add("core[0]=..", "(", "=..")
	f.Fuzz(func(t *testing.T, vary, want, within string) {
		if len(vary) > 60 {
			return // a count of millions takes its time
		}
		base := `{"length":"300 mm","thickness":"5 mm"}`
		for _, args := range [][]string{
			{"vary", "-want=" + want, "-within=" + within, "-to", "csv", "-count", "3"},
			{"best", "-aim", "most turns", "-exact", "-within=" + within},
			{"seek", "-want=" + want, "-value=" + within, "-points", "9"},
			{"compare", "-case=a:" + vary, "-want=" + want},
		} {
			if args[0] != "compare" {
				args = append(args, "-vary="+vary)
			}
			code, _, errs := call(append(args, "-id", "curls", "-base", base)...)
			if code != done && errs == "" {
				t.Errorf("%q left with %d and said nothing", args, code)
			}
			if code == broken || code == interrupted {
				t.Errorf("%q: nothing was broken: %s", args, errs)
			}
		}
	})
}
