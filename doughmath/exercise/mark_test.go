package exercise

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// fixed makes an exercise of chosen values, by ranges of one value each.
func fixed(t *testing.T, spec Spec, values ...string) *Exercise {
	t.Helper()
	for i := 0; i < len(values); i += 2 {
		number, symbol, _ := strings.Cut(values[i+1], " ")
		step := ""
		if _, decimals, ok := strings.Cut(number, "."); ok {
			step = strconv.FormatFloat(powerOfTen(-len(decimals)), 'f', -1, 64) + " " + symbol
		}
		spec.Ranges = append(spec.Ranges, Range{values[i], values[i+1], values[i+1], step})
	}
	for seed := range int64(50) {
		spec.Seed = seed
		if e, err := spec.Make(); err == nil {
			return e
		}
	}
	t.Fatalf("no exercise of %v", values)
	return nil
}

// waterOf makes the exercise 3*26 - F - 21 - 23 in °C, or 3*80 - F - 70 - 72 in °F.
func waterOf(t *testing.T, system unit.System, basis, friction string) *Exercise {
	t.Helper()
	spec := Spec{Calculation: "water-temperature", Asked: "water_temp", Units: system}
	for seed := range int64(50) {
		spec.Seed = seed
		spec.Ranges = []Range{{"target_temp", "26 °C", "26 °C", ""}, {"flour_temp", "21 °C", "21 °C", ""}, {"room", "23 °C", "23 °C", ""}, {"friction", friction, friction, ""}}
		if system == unit.US {
			spec.Ranges = []Range{{"target_temp", "80 °F", "80 °F", ""}, {"flour_temp", "70 °F", "70 °F", ""}, {"room", "72 °F", "72 °F", ""}, {"friction", friction, friction, ""}}
		}
		e, err := spec.Make()
		if err == nil && e.texts[e.form.slotAt("friction_basis")] == basis {
			return e
		}
	}
	t.Fatal("no such exercise")
	return nil
}

func TestMark(t *testing.T) {
	metric := waterOf(t, unit.Metric, "once", "14 C°") // 20 °C
	for answer, want := range map[string]struct {
		verdict Verdict
		mistake string
	}{
		"20 °C":      {Right, ""},
		"20.0 °C":    {Right, ""},
		"68 °F":      {Right, ""},
		"20,5 °C":    {Right, ""}, // within the thermometer's step
		"20.04 °C":   {TooManyDigits, ""},
		"21.5 °C":    {Nearly, ""},
		"34 °C":      {Mistaken, "friction-forgotten"},           // 78 - 44
		"-8 °C":      {Mistaken, "friction-per-factor-for-once"}, // 78 - 42 - 44
		"48 °C":      {Mistaken, "friction-added"},               // 78 + 14 - 44
		"-6 °C":      {Mistaken, "water-not-counted"},            // 52 - 14 - 44
		"68 °C":      {Mistaken, "fahrenheit-called-celsius"},
		"57 °C":      {Wrong, ""},
		"20":         {Ambiguous, ""},
		"450 g":      {WrongQuantity, ""},
		"no idea":    {Unread, ""},
		"":           {Empty, ""},
		"293.15 K":   {TooManyDigits, ""},
		"20 C° or 8": {Unread, ""},
	} {
		m := metric.Mark(answer)
		assert.Equal(t, want.verdict, m.Verdict, "%q: %s", answer, m.Says)
		assert.Equal(t, want.mistake, m.Mistake, "%q: %s", answer, m.Says)
		assert.NotContains(t, m.Says, "20 °C", "the answer is not given away")
	}
	perFactor := waterOf(t, unit.US, "per-factor", "8 F°") // 240 - 24 - 142
	assert.Equal(t, Right, perFactor.Mark("74 F").Verdict)
	assert.Equal(t, "friction-once-for-per-factor", perFactor.Mark("90 °F").Mistake) // 240 - 8 - 142
	once := waterOf(t, unit.US, "once", "20 F°")                                     // 240 - 20 - 142
	assert.Equal(t, Right, once.Mark("78 °F").Verdict)
	assert.Equal(t, "friction-converted-with-32", once.Mark("110 °F").Mistake, "20 F° taken for 20 °F is 32 less to take off")
}

// Too few figures are told apart from a wrong value, and counts have no such thing.
func TestDigits(t *testing.T) {
	e := fixed(t, Spec{Calculation: "curls", Asked: "turns"}, "length", "300 mm", "thickness", "5 mm", "core", "10 mm")
	// D = sqrt(100 + 4*300*5/pi) = 44.83 mm, N = (44.83 - 10)/10 = 3.483
	for answer, want := range map[string]Verdict{
		"3.48": Right, "3.49": Right, "3.483": TooManyDigits, "3.4831": TooManyDigits, "3.5": TooFewDigits, "3": TooFewDigits, "3.4": Wrong, "3.52": Nearly, "4": Wrong, "0": Wrong, "3.483e0": TooManyDigits,
	} {
		assert.Equal(t, want, e.Mark(answer).Verdict, answer)
	}
	assert.Equal(t, "core-forgotten", e.Mark("4.48").Mistake)
	assert.Equal(t, "one-thickness-a-turn", e.Mark("6.97").Mistake)

	count := fixed(t, Spec{Calculation: "batch-plan", Asked: "batches"}, "pieces", "2400", "piece_weight", "85 g", "spare", "24", "waste", "1.5 %", "mixer_high", "90 kg", "mixer_low", "25 kg")
	// 2424 pieces of 86.275 g (or 86.294 g) are 209.1 kg: three batches of at most 90 kg
	for answer, want := range map[string]Verdict{"3": Right, "3 batches": Right, "3.0": Right, "2": Mistaken, "2.3": Wrong, "4": Wrong, "3 kg": WrongQuantity} {
		assert.Equal(t, want, count.Mark(answer).Verdict, answer)
	}
	assert.Equal(t, "batches-rounded-down", count.Mark("2").Mistake)
}

func TestMarkWork(t *testing.T) {
	e := waterOf(t, unit.Metric, "per-factor", "5 C°") // N = 3, S = 44, F = 15, B = 63, T_w = 19
	k, err := e.Key()
	require.NoError(t, err)
	var symbols []string
	for _, b := range k.Blanks {
		symbols = append(symbols, b.Symbol)
	}
	require.Equal(t, []string{"N", "S", "F", "B", "T_w"}, symbols)
	verdicts := func(m WorkMark) (out []Verdict) {
		for _, s := range m.Steps {
			out = append(out, s.Verdict)
		}
		return out
	}
	for name, c := range map[string]struct {
		blanks []string
		answer string
		steps  []Verdict
		score  float64
	}{
		"all right":                {[]string{"3", "44 °C", "15 C°", "63 °C", "19 °C"}, "19 °C", []Verdict{Right, Right, Right, Right, Right}, 1},
		"the answer alone":         {nil, "19 °C", []Verdict{Empty, Empty, Empty, Empty, Right}, 1},
		"nothing":                  {nil, "", []Verdict{Empty, Empty, Empty, Empty, Empty}, 0},
		"in other units":           {[]string{"3", "143.2 °F", "27 F°", "209.4 °F", "66.2 °F"}, "66.2 °F", []Verdict{Right, Right, Right, Right, Right}, 1},
		"friction once":            {[]string{"3", "44 °C", "5 C°", "73 °C", "29 °C"}, "29 °C", []Verdict{Right, Right, Wrong, Followed, Followed}, 0.8},
		"a sum gone wrong":         {[]string{"3", "54 °C", "15 C°", "63 °C", ""}, "9 °C", []Verdict{Right, Wrong, Right, Right, Followed}, 0.8},
		"and steps left out":       {[]string{"", "", "5 C°", "", ""}, "29 °C", []Verdict{Empty, Empty, Wrong, Empty, Followed}, 0.2},
		"what makes it impossible": {[]string{"3", "-1000 °C", "15 C°", "63 °C", ""}, "1063 °C", []Verdict{Right, Wrong, Right, Right, Wrong}, 0.6},
		"what makes it nothing":    {[]string{"3", "63 °C", "15 C°", "63 °C", ""}, "0 °C", []Verdict{Right, Wrong, Right, Right, Wrong}, 0.6},
		"wrong all over":           {[]string{"4", "50 °C", "10 C°", "90 °C", "5 °C"}, "5 °C", []Verdict{Wrong, Wrong, Wrong, Wrong, Wrong}, 0},
		"hostile":                  {[]string{strings.Repeat("9", 1<<20), "\x00", "15 C°", "1,234 °C", "<b>"}, "19 °C", []Verdict{Unread, Unread, Right, Ambiguous, Unread}, 1},
	} {
		t.Run(name, func(t *testing.T) {
			m, err := k.MarkWork(c.blanks, c.answer)
			require.NoError(t, err)
			assert.Equal(t, c.steps, verdicts(m), "%+v", m)
			assert.InDelta(t, c.score, m.Score, 1e-9)
		})
	}
	_, err = k.MarkWork(make([]string, 6), "")
	require.Len(t, reckon.InputErrors(err), 1)
	assert.Equal(t, "blanks", reckon.InputErrors(err)[0].Field)
}
