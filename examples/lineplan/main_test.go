package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/testdata"
)

func call(args ...string) (code int, stdout, stderr string) {
	var out, complaints bytes.Buffer
	code = run(args, &out, &complaints)
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

func TestDemoSheet(t *testing.T) {
	code, out, complaints := call()
	assert.Equal(t, exitOK, code)
	assert.Empty(t, complaints)
	for _, want := range []string{
		"STAR BUN", "LONG PICNIC ROLL", "TIN LOAF 800 G", "SLOW STICK",
		"3 passes", "6 passes", // six pockets, two and one across
		"Weigh after every", "ice included", "TAKE CARE", "ALWAYS",
	} {
		assert.Contains(t, out, want)
	}
	for n, line := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), width, "line %d: %s", n+1, line)
		assert.Equal(t, strings.TrimRight(line, " "), line, "line %d", n+1)
	}
	assert.NotContains(t, out, "NaN")
}

var weighed = regexp.MustCompile(`^  ([ 0-9]{2})  (.*\S) +([0-9.]+) kg   `)

// What is printed adds up: the parts of a preferment to what of it goes into the final mix, and
// those of the final mix to the total dough.
func TestPrintedWeightsAddUp(t *testing.T) {
	_, out, _ := call()
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
	_, out, _ := call()
	for _, want := range []string{
		" of ice and ", " hot and ", "Start       sponge: 3 h 8 min before the mixing of each batch",
	} {
		assert.Contains(t, out, want)
	}
}

// tooSlow makes the demo's stick stay longer than the divider is slow.
var tooSlow = []string{`"dwell_low": "8 min", "dwell_high": "12 min"`, `"dwell_low": "25 min", "dwell_high": "35 min"`}

func TestUnits(t *testing.T) {
	code, out, _ := call("-units", "us")
	assert.Equal(t, exitOK, code)
	assert.Contains(t, out, " oz of dough")
	assert.Contains(t, out, " lb")
	assert.Contains(t, out, "°F")
	assert.NotContains(t, out, "°C")
	assert.NotContains(t, out, " kg")
	code, _, complaints := call("-units", "imperial")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, complaints, "metric or us")
}

func TestJSON(t *testing.T) {
	code, out, _ := call("-json", "-explain", "-scenario", write(t, tooSlow...))
	assert.Equal(t, exitRefused, code)
	var got struct {
		Orders []struct {
			Product string
			Plan    *struct{ Strokes, Expected string }
			Refused string
			Working *struct{ Steps []json.RawMessage }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	require.Len(t, got.Orders, 4)
	assert.Equal(t, "28 strokes/min", got.Orders[0].Plan.Strokes)
	assert.Greater(t, len(got.Orders[0].Working.Steps), 50)
	assert.Nil(t, got.Orders[3].Plan)
	assert.Contains(t, got.Orders[3].Refused, "12 strokes/min")
}

func TestExplain(t *testing.T) {
	_, out, _ := call("-explain")
	assert.Contains(t, out, "Water temperature\n")
	assert.Contains(t, out, "water temperature: T_w = B - S = 63 - 47 = 16 °C")
}

func TestWrongScenario(t *testing.T) {
	file := write(t, `"160 kg"`, `"160"`, `"room": "25 °C"`, `"room": "25 °C", "attic": "30 °C"`, `"pieces": 4000`, `"pieces": "4000"`)
	code, out, complaints := call("-scenario", file)
	assert.Equal(t, exitScenario, code)
	assert.Empty(t, out, "nothing is half printed")
	for _, path := range []string{"line.divider.hopper_capacity", "shift.attic", "orders[1].pieces"} {
		assert.Contains(t, complaints, path)
	}
	// A value that reads well and makes no sense is told in the same way.
	file = write(t, `"bread flour", "percent": "100 %"`, `"bread flour", "percent": "95 %"`, `"dwell_high": "9 min"`, `"dwell_high": "4 min"`)
	code, out, complaints = call("-scenario", file)
	assert.Equal(t, exitScenario, code)
	assert.Empty(t, out)
	assert.Contains(t, complaints, "orders[0].product.formula")
	code, _, complaints = call("-scenario", filepath.Join(t.TempDir(), "no.json"))
	assert.Equal(t, exitScenario, code)
	assert.Contains(t, complaints, "no.json")
}

func TestUsage(t *testing.T) {
	code, _, _ := call("-oven")
	assert.Equal(t, exitUsage, code)
	code, _, complaints := call("day.json")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, complaints, "-scenario")
	code, _, _ = call("-h")
	assert.Equal(t, exitOK, code)
}

// Pieces that would stay too long in the proofer are not planned, and no script
// takes the sheet for one that is as asked.
func TestNotAsAsked(t *testing.T) {
	code, out, _ := call()
	assert.Equal(t, exitOK, code, "every order is planned as asked")
	assert.NotContains(t, out, "NOT AS ASKED")
	code, out, _ = call("-scenario", write(t, `"cycle": "10 min"`, `"cycle": "24 min"`))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, out, "NOT AS ASKED\nREFUSED     line-plan: no divider speed gives every piece a dwell of 6 min to")
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "and the mixer gives the next after 24 min")
	code, out, _ = call("-json", "-scenario", write(t, `"cycle": "10 min"`, `"cycle": "24 min"`))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, out, `"refused"`)
}

// Where the mixer is the slowest machine the sheet says so, and offers its pace.
func TestMixersPace(t *testing.T) {
	code, out, _ := call("-scenario", write(t, `"hopper_max": "25 min"`, `"hopper_max": "40 min"`, `"cycle": "10 min"`, `"cycle": "24 min"`, `"high": "200 kg"`, `"high": "62.7 kg"`))
	assert.Equal(t, exitRefused, code, "the other orders have no hopper time for it")
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "run at 25 strokes/min:")
	assert.Contains(t, flat, "the mixer keeps up with 25.17 strokes/min; at the speed set nothing waits")
}

func TestPlainRound(t *testing.T) {
	_, out, _ := call("-scenario", write(t, `g/ml", "route": "stamper"`, `g/ml", "route": "panning"`))
	assert.Contains(t, out, "Panning     plain round")
	assert.NotContains(t, out, "Stamper  ")
}

// An order with an aim says what that costs, and one that cannot be reached is not as asked.
func TestAim(t *testing.T) {
	code, out, _ := call("-scenario", write(t, `"pieces": 6000`, `"aim": {"for": "mid-dwell"}, "pieces": 6000`))
	assert.Equal(t, exitOK, code)
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "run at 20 strokes/min:")
	assert.Contains(t, flat, "Aim mid-dwell, against fastest (28 strokes/min, 5 batches): 16 pieces/min fewer, 45 min 11 s later, 51.3")
	code, out, _ = call("-scenario", write(t, `"pieces": 6000`, `"aim": {"for": "rate", "piece_rate": "80 pieces/min"}, "pieces": 6000`))
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "NOT AS ASKED REFUSED line-plan: no speed and batches gives a rate of 80 pieces/min kept up: the nearest is 28 strokes/min with 5 batches of 1208 pieces, 56 pieces/min: 24 pieces/min fewer than wanted")
}
