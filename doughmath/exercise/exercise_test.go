package exercise

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

var systems = []unit.System{unit.Metric, unit.US}

// eachExercise makes exercises for everything that can be asked of every
// calculation, in both systems of units.
func eachExercise(t *testing.T, seeds int, visit func(t *testing.T, e *Exercise)) {
	t.Helper()
	for _, entry := range calc.Entries() {
		if _, unfitted := Unfit(entry.ID); unfitted {
			continue
		}
		t.Run(entry.ID, func(t *testing.T) {
			t.Parallel()
			for _, asked := range formOf(entry.ID).askNames() {
				for _, system := range systems {
					for seed := range seeds {
						e, err := Spec{Calculation: entry.ID, Asked: asked, Units: system, Seed: int64(seed), Distractors: seed % 3, Conversions: seed % 2}.Make()
						if assert.NoError(t, err, "%s, seed %d", asked, seed) {
							visit(t, e)
						}
					}
				}
			}
		})
	}
}

// right is the answer as finely as asked.
func (e *Exercise) right() string { return e.Asked.write(e.outlet.quantity, e.held) }

func TestTheRightAnswerIsRightAndEachMistakeIsNamed(t *testing.T) {
	eachExercise(t, 4, func(t *testing.T, e *Exercise) {
		name := e.Spec.Asked + " of seed " + strconv.FormatInt(e.Spec.Seed, 10) + " in " + e.Spec.Units.String()
		assert.Equal(t, Right, e.Mark(e.right()).Verdict, "%s: %s", name, e.right())
		for i, m := range e.mistakes {
			off := math.Abs(m.held - e.held)
			if e.outlet.whole {
				off = math.Abs(math.Round(m.held) - e.held)
			}
			assert.Greater(t, off, e.Asked.tolerance, "%s: %s is within reach of the answer", name, m.mistake.ID)
			text := e.Asked.write(e.outlet.quantity, m.held)
			if m.mistake.Calculation == "" {
				text = strings.TrimSpace(figures(shown(e.outlet.quantity, m.held, e.Asked.Unit), 6) + " " + e.Asked.Unit)
			}
			mark := e.Mark(text)
			if m.mistake.Calculation != "" && !e.doubled(i) {
				assert.Equal(t, m.mistake.ID, mark.Mistake, "%s: %s", name, text)
			} else {
				assert.Equal(t, Mistaken, mark.Verdict, "%s: %s of %s", name, text, m.mistake.ID)
			}
			assert.NotEqual(t, Right, mark.Verdict, "%s: %s", name, text)
		}
	})
}

// An answer in any unit of the quantity is taken.
func TestEveryUnitIsTaken(t *testing.T) {
	eachExercise(t, 1, func(t *testing.T, e *Exercise) {
		if e.outlet.quantity == nil {
			return
		}
		for _, symbol := range unit.Describe(e.outlet.quantity).Units {
			v, ok := unit.InUnit(quantityOf(e.outlet.quantity, e.held), symbol)
			require.True(t, ok)
			text := strconv.FormatFloat(v, 'g', 12, 64) + " " + symbol
			assert.Contains(t, []Verdict{Right, TooManyDigits}, e.Mark(text).Verdict, "%s: %s", e.Spec.Asked, text)
		}
	})
}

// What is told suffices: whoever puts it into the calculation gets the answer,
// and what is told in another unit is the same.
func TestWhatIsGivenIsWhatIsAsked(t *testing.T) {
	eachExercise(t, 3, func(t *testing.T, e *Exercise) {
		for _, g := range e.Given {
			require.NotEmpty(t, g.Text, "%s of %s", g.Words, e.Spec.Asked)
			if g.Field == "" {
				assert.True(t, g.Table || g.Relation || g.distractor)
				continue
			}
			s := &e.form.slots[e.form.slotAt(g.Field)]
			require.Equal(t, g.Field, s.path)
			if s.choices == nil {
				got, ok := readBound(g.Text, s.quantity)
				want, _ := readBound(e.texts[e.form.slotAt(g.Field)], s.quantity)
				assert.True(t, ok && math.Abs(got-want) <= 1e-9*math.Abs(want), "%s: %s for %s", g.Field, g.Text, e.texts[e.form.slotAt(g.Field)])
				assert.True(t, s.legal.holds(got), "%s: %s", g.Field, g.Text)
			}
		}
		assert.NotEmpty(t, e.Lines())
		assert.Positive(t, e.Difficulty.Steps)
		assert.NotZero(t, e.held)
	})
}

// The values are those of a shop: within the range that it knows, in steps of
// its instruments, and never in the metric units in an exercise in US units.
func TestValuesComeFromTheShop(t *testing.T) {
	eachExercise(t, 2, func(t *testing.T, e *Exercise) {
		for i := range e.form.slots {
			s := &e.form.slots[i]
			g := &s.grids[e.Spec.Units]
			if s.choices != nil || len(g.fixed) > 0 || s.list > 0 {
				continue
			}
			number, symbol, _ := strings.Cut(e.texts[i], " ")
			v, err := strconv.ParseFloat(number, 64)
			require.NoError(t, err)
			steps := v / (float64(g.tenths) * powerOfTen(-g.decimals))
			assert.InDelta(t, math.Round(steps), steps, 1e-6, "%s: %s", s.path, e.texts[i])
			assert.True(t, steps > float64(g.low)-0.5 && steps < float64(g.high)+0.5, "%s: %s", s.path, e.texts[i])
			if s.quantity != nil {
				assert.True(t, unit.Belongs(unit.Describe(s.quantity).Held, symbol, e.Spec.Units), "%s: %s in %s", s.path, e.texts[i], e.Spec.Units)
			}
		}
	})
}

// The same Spec makes the same exercise, whoever else makes some at the time.
func TestTheSameSeedMakesTheSame(t *testing.T) {
	spec := Spec{Calculation: "scaling-weight", Seed: 12, Distractors: 2, Conversions: 2}
	first, err := spec.Make()
	require.NoError(t, err)
	texts := make([]string, 8)
	var all sync.WaitGroup
	for i := range texts {
		all.Go(func() {
			e, err := spec.Make()
			if err == nil {
				texts[i] = e.String()
			}
		})
	}
	all.Wait()
	for _, text := range texts {
		assert.Equal(t, first.String(), text)
	}
	again, err := first.Spec.Make()
	require.NoError(t, err)
	assert.Equal(t, first.String(), again.String(), "an exercise's own Spec makes it again")
}

// Whole numbers drive the draws, so that the values below hold on every machine.
func TestDrawsAreTheSameEverywhere(t *testing.T) {
	e, err := Spec{Calculation: "water-temperature", Asked: "water_temp", Seed: 1}.Make()
	require.NoError(t, err)
	again, err := Spec{Calculation: "water-temperature", Asked: "water_temp", Seed: 2}.Make()
	require.NoError(t, err)
	assert.NotEqual(t, e.input, again.input)
	d := newDraw(1, 0)
	assert.Equal(t, []int{59, 8, 71, 2}, []int{d.n(100), d.n(100), d.n(100), d.n(100)}, "pinned: the numbers of a seed are the same on every machine")
}

// What a page is made from holds everything but the answer.
func TestAsJSON(t *testing.T) {
	e, err := Spec{Calculation: "proofer-dwell", Asked: "dwell", Seed: 4, Distractors: 1}.Make()
	require.NoError(t, err)
	text, err := json.Marshal(e)
	require.NoError(t, err)
	var back Exercise
	require.NoError(t, json.Unmarshal(text, &back))
	assert.Equal(t, e.Given[0].Text, back.Given[0].Text)
	assert.NotContains(t, string(text), "distractor\":", "nobody is told which value is not needed")
	assert.Equal(t, Unread, back.Mark("20 min").Verdict, "it has no answer")
	_, err = back.Key()
	assert.ErrorContains(t, err, "from its Spec")
	again, err := back.Spec.Make()
	require.NoError(t, err)
	assert.Equal(t, e.held, again.held)
	key, err := e.Key()
	require.NoError(t, err)
	text, err = json.Marshal(key)
	require.NoError(t, err)
	assert.Contains(t, string(text), `"answer":"`+key.Answer)
	assert.NotContains(t, string(text), "NaN")
}

// The hazards of the step are told wherever the answer has cautions.
func TestHazardsAreTold(t *testing.T) {
	e, err := Spec{Calculation: "hopper-time", Asked: "time", Seed: 4}.Make()
	require.NoError(t, err)
	require.Len(t, e.Hazards, 1)
	assert.Contains(t, e.String(), "Take care: "+e.Hazards[0].Says)
	assert.Contains(t, e.String(), reckon.CautionDeference)
	eachExercise(t, 1, func(t *testing.T, e *Exercise) {
		r, err := e.form.entry.Eval(e.input, calc.Options{})
		require.NoError(t, err)
		assert.Len(t, e.Hazards, len(r.Cautions.Notes()))
	})
}

func TestBadSpecs(t *testing.T) {
	for name, c := range map[string]struct {
		spec Spec
		want []string
	}{
		"no calculation":     {Spec{}, []string{"calculation"}},
		"misspelt":           {Spec{Calculation: "curls-"}, []string{"calculation"}},
		"hostile":            {Spec{Calculation: strings.Repeat("x", 1<<20)}, []string{"calculation"}},
		"makes none":         {Spec{Calculation: "part-care"}, []string{"calculation"}},
		"everything":         {Spec{Calculation: "x", Seed: MaxSeed + 1, Units: 7, Distractors: 4, Conversions: -1}, []string{"distractors", "conversions", "seed", "units", "calculation"}},
		"no such output":     {Spec{Calculation: "curls", Asked: "turn"}, []string{"asked"}},
		"hostile output":     {Spec{Calculation: "curls", Asked: strings.Repeat("\x00", 1<<20)}, []string{"asked"}},
		"below the legal":    {Spec{Calculation: "curls", Ranges: []Range{{"length", "-1 mm", "3 mm", ""}}}, []string{"ranges[0].low"}},
		"above the legal":    {Spec{Calculation: "curls", Ranges: []Range{{"length", "300 mm", "300 km", ""}, {"thickness", "3 mm", "900 m", ""}}}, []string{"ranges[0].high", "ranges[1].high"}},
		"no unit":            {Spec{Calculation: "curls", Ranges: []Range{{"length", "300", "400", ""}}}, []string{"ranges[0].low", "ranges[0].high"}},
		"the wrong way":      {Spec{Calculation: "curls", Ranges: []Range{{"length", "300 mm", "200 mm", ""}}}, []string{"ranges[0].high"}},
		"no such input":      {Spec{Calculation: "curls", Ranges: []Range{{"lengths", "300 mm", "400 mm", ""}}}, []string{"ranges[0].field"}},
		"a step of nothing":  {Spec{Calculation: "curls", Ranges: []Range{{"length", "300 mm", "400 mm", "0 mm"}}}, []string{"ranges[0].step"}},
		"a step too fine":    {Spec{Calculation: "curls", Ranges: []Range{{"length", "300 mm", "400 mm", "1e-9 mm"}}}, []string{"ranges[0].step"}},
		"half a piece":       {Spec{Calculation: "batch-plan", Ranges: []Range{{"pieces", "300", "400", "0.5"}}}, []string{"ranges[0].step"}},
		"between two steps":  {Spec{Calculation: "curls", Ranges: []Range{{"length", "301 mm", "303 mm", ""}}}, []string{"ranges[0].step"}},
		"a step in grams":    {Spec{Calculation: "scaling-weight", Units: unit.US, Ranges: []Range{{"baked", "300 g", "400 g", "10 g"}}}, []string{"ranges[0].step"}},
		"a list without end": {Spec{Calculation: "curls", Ranges: make([]Range, 31)}, []string{"ranges"}},
	} {
		t.Run(name, func(t *testing.T) {
			e, err := c.spec.Make()
			assert.Nil(t, e)
			var fields []string
			for _, in := range reckon.InputErrors(err) {
				fields = append(fields, in.Field)
				assert.Equal(t, "exercise", in.Func)
				assert.NotEmpty(t, in.Want)
				assert.Less(t, len(in.Error()), 5000)
			}
			assert.Equal(t, c.want, fields, "%v", err)
		})
	}
}

// A range in which every value is refused, or none makes an exercise, is said to be one.
func TestRangesWithoutAnExercise(t *testing.T) {
	_, err := Spec{Calculation: "water-mix", Asked: "hot_water", Ranges: []Range{{"wanted_temp", "80 °C", "81 °C", ""}, {"hot", "60 °C", "61 °C", ""}}}.Make()
	if assert.Error(t, err) {
		assert.ErrorContains(t, err, "no value in the ranges")
	}
}

func TestAnInstructorsRanges(t *testing.T) {
	for seed := range int64(40) {
		e, err := Spec{Calculation: "water-temperature", Seed: seed, Ranges: []Range{{"flour_temp", "10 °C", "12 °C", "0.25 C°"}, {"friction", "12 C°", "12 C°", ""}}}.Make()
		require.NoError(t, err)
		v := e.texts[e.form.slotAt("flour_temp")]
		assert.Contains(t, []string{"10 °C", "10.25 °C", "10.5 °C", "10.75 °C", "11 °C", "11.25 °C", "11.5 °C", "11.75 °C", "12 °C"}, v)
		assert.Equal(t, "12 C°", e.texts[e.form.slotAt("friction")])
	}
}

// An input is asked for through the inverse that finds it, by its name or by its symbol.
func TestInputsAreAskedThroughTheirInverse(t *testing.T) {
	for _, c := range []struct{ calculation, asked, inverse, output string }{
		{"curls", "length", "length-for-turns", "length"},
		{"divider-rate", "strokes", "strokes-for-rate", "strokes"},
		{"water-temperature", "target_temp", "dough-temperature-for-water", "dough_temp"},
		{"water-temperature", "once", "friction-factor", "once"},
	} {
		e, err := Spec{Calculation: c.calculation, Asked: c.asked}.Make()
		if assert.NoError(t, err, c.asked) {
			assert.Equal(t, c.inverse, e.Spec.Calculation)
			assert.Equal(t, c.output, e.Spec.Asked)
		}
	}
}

// Distractors and conversions are as many as the difficulty says.
func TestDifficulty(t *testing.T) {
	for seed := range int64(30) {
		e, err := Spec{Calculation: "batch-plan", Seed: seed, Distractors: 3, Conversions: 2}.Make()
		require.NoError(t, err)
		distractors, converted := 0, 0
		for _, g := range e.Given {
			if g.distractor {
				distractors++
			}
			if g.Converted {
				converted++
			}
		}
		assert.Equal(t, distractors, e.Difficulty.Distractors)
		assert.Equal(t, 3, distractors)
		assert.Equal(t, converted, e.Difficulty.Conversions)
	}
}
