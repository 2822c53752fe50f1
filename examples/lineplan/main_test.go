package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/testdata"
)

func call(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, complaints bytes.Buffer
	code = run(args, strings.NewReader(stdin), &out, &complaints)
	return code, out.String(), complaints.String()
}

// write puts a bent copy of the demo scenario into a file.
func write(t *testing.T, swaps ...string) string {
	t.Helper()
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	text := string(data)
	for i := 0; i < len(swaps); i += 2 {
		require.Contains(t, text, swaps[i])
		text = strings.Replace(text, swaps[i], swaps[i+1], 1)
	}
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	return file
}

// assertPages holds every page to its size, and returns the heads of all with how many rows each has.
func assertPages(t *testing.T, out string) (heads []string) {
	t.Helper()
	for page := range strings.SplitSeq(out, "\f") {
		rows := strings.Split(strings.TrimSuffix(page, "\n"), "\n")
		heads = append(heads, rows[0])
		assert.LessOrEqual(t, len(rows), 60, rows[0])
		for _, row := range rows {
			assert.LessOrEqual(t, utf8.RuneCountInString(row), 80, "%s", row)
			assert.Equal(t, strings.TrimRight(row, " "), row)
		}
	}
	assert.NotContains(t, out, "NaN")
	return heads
}

// Each product has one page at the line and one in the mixing room, in both systems of units.
func TestDemoPages(t *testing.T) {
	for demo, orders := range map[string]int{"fernhill": 4, "alder": 3} {
		for _, units := range []string{"metric", "us"} {
			code, out, complaints := call("", "-demo", demo, "-units", units)
			assert.Equal(t, exitOK, code)
			assert.Empty(t, complaints)
			count := map[string]int{}
			for _, head := range assertPages(t, out) {
				kind, _, _ := strings.Cut(head, "  ")
				count[kind]++
			}
			assert.Equal(t, 1, count["THE DAY"], "%s %s", demo, units)
			assert.GreaterOrEqual(t, count["BY THE CLOCK"], 1, "%s %s", demo, units)
			assert.Equal(t, orders, count["LINE"], "%s %s", demo, units)
			assert.Equal(t, orders, count["MIXING ROOM"], "%s %s", demo, units)
			assert.GreaterOrEqual(t, count["CHANGE OVER"], orders-1, "%s %s", demo, units)
			assert.NotContains(t, out, "MEND FIRST")
			assert.NotContains(t, out, "NOT AS ASKED")
		}
	}
}

// What the pages of the demo plants say, in the places where it is wanted.
func TestDemoSays(t *testing.T) {
	_, out, _ := call("")
	for _, want := range []string{
		"divider          divider handle        12.5              ______  clockwise",
		"a step of 0.5 is 1.56 g a piece: weigh after every move",
		"3 passes", "6 passes", // six pockets, two and one across
		"LEAVE THE HANDLE ALONE", "ICE for the water", "water, HOT", "a lock for each who reaches in",
		"The stamper closes", "warp it", "fresh yeast", "of 40 in the final proof",
	} {
		assert.Contains(t, out, want)
	}
	assert.NotContains(t, out, "clean away", "milk goes last, so that nothing is carried over")
	_, out, _ = call("", "-scenario", write(t, `"allergens": "plain-first"`, `"allergens": "cleaned-between"`, `"due": "33 h"`, `"due": "26 h"`))
	assert.Contains(t, out, "ALLERGENS   clean away: milk")
	_, out, _ = call("", "-demo", "alder", "-units", "us")
	for _, want := range []string{
		"side guides           7 1/4 in", "board, front          1 9/16 in", // to the sixteenth, as the scale has it
		"2 passes", "4 passes", // eight pockets, four and two across
		"poolish is started 10 h 10 min before", "4 across", "plain round, straight to panning", "5:50 pm -1",
	} {
		assert.Contains(t, out, want)
	}
	assert.NotContains(t, out, "tamper  ")
	for _, metric := range []string{" kg", "°C", " mm"} {
		assert.NotContains(t, out, metric)
	}
}

// A setting reads the same at the line and in the changeover.
func TestSettingsReadAlike(t *testing.T) {
	_, out, _ := call("", "-demo", "alder", "-units", "us")
	assert.Contains(t, out, "set side guides to 7 1/4 in")
	assert.Contains(t, out, "set board, front to 2 5/8 in (was 1 9/16 in, up)")
}

// Long names lengthen a page, and never widen one.
func TestLongNames(t *testing.T) {
	long := strings.Repeat("sour", 25) // as long as a name may be
	swaps := []string{
		`"title": "Fernhill Bakehouse, line 2, Thursday"`, `"title": "` + long + `"`, `"name": "line 2"`, `"name": "` + long + `"`,
		`{"name": "small cups"`, `{"name": "` + long + `"`, `"drums": ["small cups"`, `"drums": ["` + long + `"`,
		`"name": "rounder belt"`, `"name": "` + long + `"`, `"of": "rounder belt"`, `"of": "` + long + `"`, `"of": "rounder belt"`, `"of": "` + long + `"`,
		`"name": "discharge belt"`, `"name": "` + long + `"`, `"machine": "overhead proofer"`, `"machine": "` + long + `"`,
		`"name": "proofer infeed"`, `"name": "` + long + `"`, `{"name": "two"`, `{"name": "` + long + `"`,
		`"product": "Star bun"`, `"product": "` + long + `"`, `"name": "Star bun"`, `"name": "` + long + `"`,
		`{"name": "bread flour"`, `{"name": "` + long + `"`, `{"name": "sponge", "mixing"`, `{"name": "` + long + `", "mixing"`, `{"name": "sponge", "amount"`, `{"name": "` + long + `", "amount"`,
	}
	for _, units := range []string{"metric", "us"} {
		code, out, complaints := call("", "-units", units, "-scenario", write(t, swaps...))
		require.Equal(t, exitOK, code, complaints)
		assertPages(t, out)
		assert.GreaterOrEqual(t, strings.Count(strings.Join(strings.Fields(out), ""), long), 25, "no name is cut where it is the only one")
	}
}

// Nothing in a name moves the cursor or opens a page of its own.
func TestHostileNames(t *testing.T) {
	code, out, complaints := call("", "-scenario", write(t, `"name": "proofer infeed"`, `"name": "in\u001b[2Jfeed\u000c"`, `"name": "two"`, `"name": "t\u202ewo\n"`))
	require.Equal(t, exitOK, code, complaints)
	assertPages(t, out)
	for _, r := range []string{"\x1b", "\u202e", "\u000cfeed"} {
		assert.NotContains(t, out, r)
	}
	_, want, _ := call("")
	assert.Equal(t, strings.Count(want, "\f"), strings.Count(out, "\f"))
}

// A scenario without a day counts from the first mixing; a line that names no controls has the usual ones.
func TestWithoutDayAndControls(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	var tree map[string]any
	require.NoError(t, json.Unmarshal(data, &tree))
	delete(tree, "day")
	delete(tree["line"].(map[string]any), "controls")
	delete(tree["line"].(map[string]any), "changing")
	text, err := json.Marshal(tree)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, text, 0o600))
	code, out, complaints := call("", "-scenario", file)
	require.Equal(t, exitOK, code, complaints)
	heads := assertPages(t, out)
	assert.True(t, strings.HasPrefix(heads[0], "THE DAY"))
	assert.NotContains(t, out, "CHANGE OVER")
	for _, want := range []string{"+0:12", "-3:08", "handle                12.5", "curling chain         low", "hours and minutes from the first mixing"} {
		assert.Contains(t, out, want)
	}
}

// An order that is late says so on its page and on that of the day, with what would help.
func TestLate(t *testing.T) {
	code, out, _ := call("", "-scenario", write(t, `"due": "29 h"`, `"due": "25 h"`))
	assert.Equal(t, exitOK, code)
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "1:00 LATE")
	assert.Contains(t, flat, "in time if the day starts")
	assert.Regexp(t, `ready 1:48, due 1:00: 48 min LATE`, flat)
}

// What two controls must not do together stands at the top of the page.
func TestMendFirst(t *testing.T) {
	code, out, complaints := call("", "-scenario", write(t, `"sets": "oil",`,
		`"sets": "oil", "not_with": [{"at": "open", "control": "rounding drum", "control_at": "small cups", "why": "oil runs into the cups"}],`))
	assert.Equal(t, exitOK, code, complaints)
	assert.Equal(t, 4, strings.Count(out, "MEND FIRST  oil cocks at open, rounding drum at small cups"), "on the pages of both with small cups, and in the changeovers to them")
}

var weighed = regexp.MustCompile(`^  ([ 0-9]{2})  (.*\S) +([0-9.]+) kg `)

// What is printed adds up: the parts of a preferment to what of it goes into the final mix, and
// those of the final mix to the total dough.
func TestPrintedWeightsAddUp(t *testing.T) {
	_, out, _ := call("")
	var sum, sponge float64
	totals := 0
	for line := range strings.SplitSeq(out, "\n") {
		if strings.HasPrefix(line, "WEIGH") {
			sponge, sum = sum, 0
		}
		m := weighed.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		kg, err := strconv.ParseFloat(m[3], 64)
		require.NoError(t, err)
		switch m[2] {
		case "total dough":
			totals++
			assert.InDelta(t, sum, kg, 1e-9, line)
			sum = 0
		case "sponge":
			assert.InDelta(t, sponge, kg, 1e-9, line)
			fallthrough
		default:
			sum += kg
		}
	}
	assert.Equal(t, 4, totals)
}

// The water stands in kilograms, and no temperature below zero is asked of anybody.
func TestWaterInKilograms(t *testing.T) {
	_, out, _ := call("")
	for _, want := range []string{
		" of ICE and ", " HOT and ", "Preferment  sponge is started 3 h 8 min before the mixing of its batch",
	} {
		assert.Contains(t, out, want)
	}
}

// tooSlow makes the demo's stick stay longer than the divider is slow.
var tooSlow = []string{`"dwell_low": "8 min", "dwell_high": "12 min"`, `"dwell_low": "25 min", "dwell_high": "35 min"`}

func TestUnits(t *testing.T) {
	code, out, _ := call("", "-units", "us")
	assert.Equal(t, exitOK, code)
	assert.Regexp(t, `\d lb \d`, out)
	assert.Contains(t, out, "°F")
	assert.NotContains(t, out, "°C")
	assert.NotContains(t, out, " kg")
	code, _, complaints := call("", "-units", "imperial")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, complaints, "metric or us")
}

func TestJSON(t *testing.T) {
	code, out, _ := call("", "-json", "-explain", "-scenario", write(t, tooSlow...))
	assert.Equal(t, exitRefused, code)
	type ordered struct {
		Product    string
		Settings   []json.RawMessage
		Changeover struct{ Steps []json.RawMessage }
		Plan       *struct{ Strokes, Expected string }
		Refused    string
		Working    *struct{ Steps []json.RawMessage }
	}
	var got struct {
		Day    struct{ Runs []json.RawMessage }
		Orders []ordered
	}
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	require.Len(t, got.Orders, 4)
	bun := slices.IndexFunc(got.Orders, func(o ordered) bool { return o.Product == "Star bun" })
	require.GreaterOrEqual(t, bun, 0)
	assert.Equal(t, "28 strokes/min", got.Orders[bun].Plan.Strokes)
	assert.Greater(t, len(got.Orders[bun].Working.Steps), 50)
	assert.Len(t, got.Day.Runs, 3, "without the order that was refused")
	assert.NotEmpty(t, got.Orders[0].Settings)
	assert.NotEmpty(t, got.Orders[1].Changeover.Steps)
	assert.Nil(t, got.Orders[3].Plan)
	assert.Contains(t, got.Orders[3].Refused, "12 strokes/min")
}

func TestExplain(t *testing.T) {
	_, out, _ := call("", "-explain")
	assert.Contains(t, out, "Water temperature\n")
	assert.Contains(t, out, "water temperature: T_w = B - S = 63 - 47 = 16 °C")
}

func TestWrongScenario(t *testing.T) {
	file := write(t, `"160 kg"`, `"160"`, `"room": "25 °C"`, `"room": "25 °C", "attic": "30 °C"`, `"pieces": 4000`, `"pieces": "4000"`)
	code, out, complaints := call("", "-scenario", file)
	assert.Equal(t, exitFile, code)
	assert.Empty(t, out, "nothing is half printed")
	for _, path := range []string{"line.divider.hopper_capacity", "shift.attic", "orders[1].pieces"} {
		assert.Contains(t, complaints, path)
	}
	// A value that reads well and makes no sense is told in the same way.
	file = write(t, `"bread flour", "percent": "100 %"`, `"bread flour", "percent": "95 %"`, `"dwell_high": "9 min"`, `"dwell_high": "4 min"`)
	code, out, complaints = call("", "-scenario", file)
	assert.Equal(t, exitFile, code)
	assert.Empty(t, out)
	assert.Contains(t, complaints, "orders[0].product.formula")
	code, _, complaints = call("", "-scenario", filepath.Join(t.TempDir(), "no.json"))
	assert.Equal(t, exitFile, code)
	assert.Contains(t, complaints, "no.json")
}

func TestCalledWrongly(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"-oven"}, exitUsage, "-oven"},
		{[]string{"day.json"}, exitUsage, "-scenario"},
		{[]string{"-demo", "mill"}, exitUsage, "fernhill or alder"},
		{[]string{"-demo", "alder", "-scenario", "day.json"}, exitUsage, "want one"},
		{[]string{"-form", "-json"}, exitUsage, "alone"},
		{[]string{"-blank", "1", "-keep", "runs.json"}, exitUsage, "alone"},
		{[]string{"-scenario", ""}, exitUsage, "name a file"},
		{[]string{"-keep", ""}, exitUsage, "name a file"},
		{[]string{"-blank", "0"}, exitUsage, "number of an order"},
		{[]string{"-date", "2026-11-04"}, exitUsage, "want -blank"},
		{[]string{"-blank", "1", "-date", "yesterday"}, exitUsage, "want a day"},
		{[]string{"-h"}, exitOK, "-form"},
		{[]string{"-blank", "5"}, exitFile, "the orders 1 to 4"},
		{[]string{"-blank", "-1"}, exitFile, "the orders 1 to 4"},
		{[]string{"-blank", "1", "-scenario", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-runs", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-keep", filepath.Join("nowhere", "runs.json")}, exitFile, "not JSON"},
	} {
		code, out, complaints := call(`{"records":[]`, c.args...)
		assert.Equal(t, c.code, code, c.args)
		assert.Empty(t, out, c.args)
		assert.Contains(t, complaints, c.says, c.args)
	}
}

// The day is told with the rest: people fewer than one, a due time before the start, an order that there is not.
func TestWrongDay(t *testing.T) {
	code, out, complaints := call("", "-scenario", write(t, `"people": 2, "aim"`, `"people": 0, "aim"`, `"due": "29 h"`, `"due": "21 h"`, `{"product": "Slow stick"`, `{"product": "Fast stick"`))
	assert.Equal(t, exitFile, code)
	assert.Empty(t, out)
	for _, want := range []string{"day.people", "day.orders[0].due", "day.orders[3].product"} {
		assert.Contains(t, complaints, want)
	}
	// One person for a drum that takes two.
	code, _, complaints = call("", "-scenario", write(t, `"people": 2, "aim"`, `"people": 1, "aim"`))
	assert.Equal(t, exitFile, code)
	assert.Contains(t, complaints, "takes so many")
}

// Pieces that would stay too long in the proofer are not planned, and no script
// takes the sheet for one that is as asked.
func TestNotAsAsked(t *testing.T) {
	code, out, _ := call("")
	assert.Equal(t, exitOK, code, "every order is planned as asked")
	assert.NotContains(t, out, "NOT AS ASKED")
	code, out, _ = call("", "-scenario", write(t, `"cycle": "10 min"`, `"cycle": "24 min"`))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, out, "NOT AS ASKED\nREFUSED     line-plan: no divider speed gives every piece a dwell of")
	assertPages(t, out)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "and the mixer gives the next after 24 min")
	code, out, _ = call("", "-json", "-scenario", write(t, `"cycle": "10 min"`, `"cycle": "24 min"`))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, out, `"refused"`)
}

// Where the mixer is the slowest machine the sheet says so, and offers its pace.
func TestMixersPace(t *testing.T) {
	code, out, _ := call("", "-scenario", write(t, `"hopper_max": "25 min"`, `"hopper_max": "40 min"`, `"cycle": "10 min"`, `"cycle": "24 min"`, `"high": "200 kg"`, `"high": "62.7 kg"`))
	assert.Equal(t, exitRefused, code, "the other orders have no hopper time for it")
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "line speed wheel 25 strokes/min")
	assert.Contains(t, flat, "; the mixer sets the pace")
}

func TestPlainRound(t *testing.T) {
	_, out, _ := call("", "-scenario", write(t, `g/ml", "route": "stamper"`, `g/ml", "route": "panning"`))
	assert.Contains(t, out, "Panning     plain round")
	assert.NotContains(t, out, "Stamper  ")
	assert.Contains(t, out, "route lever           right")
}

// An order with an aim says what that costs, and one that cannot be reached is not as asked.
func TestAim(t *testing.T) {
	code, out, _ := call("", "-scenario", write(t, `"pieces": 6000`, `"aim": {"for": "mid-dwell"}, "pieces": 6000`))
	assert.Equal(t, exitOK, code)
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "line speed wheel 20 strokes/min")
	assert.Contains(t, flat, "Aim mid-dwell, against fastest (28 strokes/min, 5 batches): 16 pieces/min fewer, 45 min 11 s later, 51.3")
	code, out, _ = call("", "-scenario", write(t, `"pieces": 6000`, `"aim": {"for": "rate", "piece_rate": "80 pieces/min"}, "pieces": 6000`))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "NOT AS ASKED REFUSED line-plan: no speed and batches gives a rate of 80 pieces/min kept up: the nearest is 28 strokes/min with 5 batches of 1208 pieces, 56 pieces/min: 24 pieces/min fewer than wanted")
}
