package reckon

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
)

type spacing struct {
	Belt  unit.Speed     `json:"belt" sym:"v"`
	Piece unit.Mass      `json:"piece" sym:"m"`
	Rate  unit.PieceRate `json:"rate" sym:"r"`
}

type spaced struct {
	Pitch unit.Length   `json:"pitch" sym:"p"`
	Dough unit.MassRate `json:"dough" sym:"D"`
}

// A conversion is a step of its own, and starts from what was typed; what only
// converts falls out where the units shown fit one another.
func TestShowSteps(t *testing.T) {
	q := spacing{Belt: unit.MetresPerMinute(13.7), Piece: unit.Ounces(2.91), Rate: 55}
	out := spaced{Pitch: unit.Length(float64(q.Belt) * 60 / 55), Dough: unit.MassRate(float64(q.Piece) * 55 * 60 / 1000)}
	var w Working
	w.Inputs(q)
	w.Lines(out,
		"pitch: p = v*60{s/min}/r",
		"dough: D = m*r*60{min/h}/1000{g/kg}  [counting]",
		"belt, as it is held: u = v*1 in mm/s",
	)
	w.AsTyped([]byte(`{"belt":"13.7 m/min","piece":"2.91 oz","rate":"55 pieces/min"}`))
	assert.Equal(t, "2.91 oz", w.Steps[1].Typed)
	assert.Equal(t, "piece", w.Steps[1].Field)
	assert.Equal(t, "v*60/r", w.Steps[3].Expression, "held, every constant stays")
	assert.Equal(t, []string{"v/r", "60 s/min"}, []string{w.Steps[3].Plain, w.Steps[3].Constants})
	assert.Equal(t, `  belt: v = 13.7 m/min
  piece: m = 2.91 oz
  rate: r = 55 pieces/min
  pitch: p = v/r = 13.7/55 = 0.24909 m
  pitch, in mm: p = 0.24909*1000 = 249.09 mm
  piece, in g: m = 2.91*453.59237/16 = 82.497 g
  dough: D = m*r*60/1000 = 82.497*55*60/1000 = 272.24 kg/h  [counting; 60 min/h, 1000 g/kg]
  belt, as it is held: u = v*1 = 13.7*1 = 13.7 m/min
`, w.String())
	assert.Equal(t, `  belt: v = 44.94751 ft/min
  piece: m = 2.91 oz
  rate: r = 55 pieces/min
  pitch: p = v/r = 44.94751/55 = 0.817227 ft
  pitch, in in: p = 0.817227*12 = 9.8067 in
  piece, in g: m = 2.91*453.59237/16 = 82.497 g
  dough: D = m*r*60/1000 = 82.497*55*60/1000 = 272.24 kg/h  [counting; 60 min/h, 1000 g/kg]
  dough, in lb/h: D = 272.24*1000/453.59237 = 600.19 lb/h
  belt, as it is held: u = v*1 = 44.94751*1 = 44.948 ft/min
`, w.In(unit.US))
}

// A question as long as is read has its texts noted, and no longer one.
func TestTypedUpToTheLongest(t *testing.T) {
	const text = `{"belt":"13.7 m/min"}`
	for spaces, want := range map[int]string{maxInput - len(text): "13.7 m/min", maxInput - len(text) + 1: ""} {
		var w Working
		w.Inputs(spacing{Belt: unit.MetresPerMinute(13.7), Piece: 85, Rate: 55})
		w.AsTyped([]byte(text + strings.Repeat(" ", spaces)))
		assert.Equal(t, want, w.Steps[0].Typed)
	}
}

// given is an input as it was typed, and worked a step that is not an answer of its own.
func given(id, symbol string, value float64, held, typed string) Step {
	return Step{Kind: InputStep, ID: id, Symbol: symbol, Value: value, Unit: held, Typed: typed}
}

func worked(id, symbol, expression string, value float64, held string) Step {
	whole, plain, constants := converting(expression)
	return Step{Kind: WorkedStep, ID: id, Symbol: symbol, Expression: whole, Plain: plain, Constants: constants, Value: value, Unit: held}
}

func answer(s Step) Step {
	s.Answer = true
	return s
}

// How a working is put on paper, by hand: a person writes a step in the way that takes the fewest conversions, starts a
// conversion from what stands there first, and keeps a number as it was typed.
func TestPaper(t *testing.T) {
	for _, c := range []struct {
		id    string
		sys   unit.System
		steps []Step
		want  string
	}{
		{"a number stays as it was typed", unit.Metric, []Step{
			given("rest", "r", 900, "s", "0.25h"), given("share", "x", 0.5, "", "0.50"), given("piece", "m", 3*453.59237/16, "g", "3 oz"),
		}, `
  rest: r = 0.25 h
  share: x = 0.50
  piece: m = 3 oz
`},
		{"in US units only if it is in such a unit", unit.US, []Step{
			given("flour", "F", 226.796185, "g", "226.796185 g"), given("water", "W", 226.796185, "g", "0.5 lb"), given("rest", "r", 5400, "s", "90 min"),
		}, `
  flour: F = 8 oz
  water: W = 0.5 lb
  rest: r = 90 min
`},
		{"but not with an exponent, a sign or a base, nor if it is another number or none", unit.Metric, []Step{
			given("a", "a", 5000, "g", "5e3 g"), given("b", "b", 5000, "g", "5E3 g"), given("c", "c", 5000, "g", "+5000 g"), given("d", "d", 5000, "g", "0x1388p0 g"),
			given("e", "e", 5000, "g", "0X1388P0 g"), given("f", "f", 5000, "g", "6000 g"), given("g", "g", 0, "g", "none g"), given("h", "h", 5000, "g", "5000"),
			given("i", "i", 5, "", "5.0 g"), given("k", "k", 5000, "g", "5000 stone"),
			given("l", "l", 0, "g", "- g"), given("m", "m", 0, "", ""), given("n", "n", 0, "g", "0 stone"),
		}, `
  a: a = 5 kg
  b: b = 5 kg
  c: c = 5 kg
  d: d = 5 kg
  e: e = 5 kg
  f: f = 5 kg
  g: g = 0 g
  h: h = 5 kg
  i: i = 5
  k: k = 5 kg
  l: l = 0 g
  m: m = 0
  n: n = 0 g
`},
		{"what an earlier part has is written down again, in its unit, and not worked out again", unit.Metric, []Step{
			given("rest", "t", 5400, "s", "90 min"), given("piece", "m", 453.59237, "g", "1 lb"), worked("two rests", "u", "t*2", 10800, "s"),
			{Kind: HeadingStep, ID: "Later"},
			{Kind: CarriedStep, ID: "rest", Symbol: "t", Expression: "t", Value: 5400, Unit: "s", Source: "rest, from above"},
			{Kind: CarriedStep, ID: "two rests", Symbol: "u", Expression: "u", Value: 10800, Unit: "s", Source: "two rests, from above"},
			{Kind: CarriedStep, ID: "piece", Symbol: "m", Expression: "m", Value: 453.59237, Unit: "g", Source: "piece, from above"},
		}, `
  rest: t = 90 min
  piece: m = 1 lb
  two rests: u = t*2 = 90*2 = 180 min

Later
  rest: t = 90 min  [rest, from above]
  two rests, in h: u = 180/60 = 3 h
  two rests: u = 3 h  [two rests, from above]
  piece, in g: m = 1*453.59237 = 453.59 g
  piece: m = 453.59 g  [piece, from above]
`},
		{"of two ways with one conversion each, that in which people read the numbers", unit.Metric, []Step{
			given("pieces", "n", 2000, "", ""), given("piece", "m", 85, "g", ""), worked("dough", "D", "n*m", 170000, "g"),
			given("more", "a", 30000, "g", ""), answer(worked("all", "A", "D + a", 200000, "g")),
		}, `
  pieces: n = 2000
  piece: m = 85 g
  dough: D = n*m = 2000*85 = 170000 g
  more: a = 30 kg
  dough, in kg: D = 170000/1000 = 170 kg
  all: A = D + a = 170 + 30 = 200 kg
`},
		{"an answer is read in its own unit, so that a conversion at the end counts", unit.Metric, []Step{
			given("pieces", "n", 2000, "", ""), given("piece", "m", 85, "g", ""), worked("dough", "D", "n*m", 170000, "g"),
			worked("half", "H", "D/2", 85000, "g"), answer(worked("two doughs", "A", "D*2", 340000, "g")),
		}, `
  pieces: n = 2000
  piece: m = 85 g
  dough: D = n*m = 2000*85 = 170000 g
  half: H = D/2 = 170000/2 = 85000 g
  dough, in kg: D = 170000/1000 = 170 kg
  two doughs: A = D*2 = 170*2 = 340 kg
`},
		{"nor does a reader of ounces end with grams", unit.US, []Step{
			given("pieces", "n", 2, "", ""), worked("dough", "w", "n*85", 170, "g"), worked("two doughs", "d", "w*2", 340, "g"),
		}, `
  pieces: n = 2
  dough: w = n*85 = 2*85 = 170 g
  dough, in oz: w = 170*16/453.59237 = 5.9966 oz
  two doughs: d = w*2 = 5.9966*2 = 11.993 oz
`},
		{"numbers of one kind go together in the unit of most of them, and of as many in that of the first", unit.Metric, []Step{
			given("flour", "a", 2000, "g", "2 kg"), given("sugar", "b", 500, "g", "500 g"), given("salt", "c", 300, "g", "300 g"), given("water", "d", 3000, "g", "3 kg"),
			given("rest", "r", 5400, "s", "90 min"), given("proof", "q", 7200, "s", "2 h"),
			worked("three", "x", "a + b + d", 5500, "g"), worked("others", "y", "a + b + c", 2800, "g"), worked("both", "z", "r + q", 12600, "s"),
		}, `
  flour: a = 2 kg
  sugar: b = 500 g
  salt: c = 300 g
  water: d = 3 kg
  rest: r = 90 min
  proof: q = 2 h
  sugar, in kg: b = 500/1000 = 0.5 kg
  three: x = a + b + d = 2 + 0.5 + 3 = 5.5 kg
  flour, in g: a = 2*1000 = 2000 g
  others: y = a + b + c = 2000 + 500 + 300 = 2800 g
  proof, in min: q = 2*60 = 120 min
  both: z = r + q = 90 + 120 = 210 min
`},
		{"a time at pieces a minute is in minutes", unit.Metric, []Step{
			given("rate", "R", 55, "pieces/min", "55 pieces/min"), given("run", "t", 7200, "s", "2 h"), worked("pieces", "n", "R*t/60{s/min}", 6600, ""),
		}, `
  rate: R = 55 pieces/min
  run: t = 2 h
  run, in min: t = 2*60 = 120 min
  pieces: n = R*t = 55*120 = 6600
`},
		{"what only converts falls out, with numbers in the units that people read", unit.Metric, []Step{
			given("dough", "M", 170000, "g", ""), worked("price", "c", "M*0.002", 340, ""), given("rate", "D", 85, "kg/h", ""),
			worked("run", "t", "M/1000{g/kg}/D*3600{s/h}", 7200, "s"),
		}, `
  dough: M = 170 kg
  dough, in g: M = 170*1000 = 170000 g
  price: c = M*0.002 = 170000*0.002 = 340
  rate: D = 85 kg/h
  run: t = M/D = 170/85 = 2 h
`},
		{"or with those of one kind alike", unit.Metric, []Step{
			given("flour", "a", 2000, "g", "2 kg"), given("water", "d", 3000, "g", "3 kg"), given("sugar", "b", 500, "g", "500 g"), given("run", "t", 3600, "s", "1 h"),
			worked("rate", "D", "(a + d + b)/1000{g/kg}/t*3600{s/h}", 5.5, "kg/h"),
		}, `
  flour: a = 2 kg
  water: d = 3 kg
  sugar: b = 500 g
  run: t = 1 h
  sugar, in kg: b = 500/1000 = 0.5 kg
  rate: D = (a + d + b)/t = (2 + 3 + 0.5)/1 = 5.5 kg/h
`},
		{"lengths that people read in feet and in inches make an area in inches", unit.US, []Step{
			given("belt", "L", 3048, "mm", ""), given("width", "W", 254, "mm", ""), worked("area", "A", "L*W", 774192, "mm²"),
		}, `
  belt: L = 10 ft
  width: W = 10 in
  belt, in in: L = 10*12 = 120 in
  area: A = L*W = 120*10 = 1200 in²
`},
		{"and so do lengths in feet, for there is no area in feet", unit.US, []Step{
			given("belt", "L", 3048, "mm", ""), given("width", "W", 3657.6, "mm", ""), worked("area", "A", "L*W", 11148364.8, "mm²"),
		}, `
  belt: L = 10 ft
  width: W = 12 ft
  belt, in in: L = 10*12 = 120 in
  width, in in: W = 12*12 = 144 in
  area: A = L*W = 120*144 = 17280 in²
`},
		{"a time at kilograms an hour and one at pieces a minute each stay in their own unit", unit.Metric, []Step{
			given("rate", "D", 100, "kg/h", ""), given("first", "t_1", 7200, "s", ""), given("piece", "m", 1000, "g", ""), given("pieces", "R", 10, "pieces/min", ""),
			given("second", "t_2", 1800, "s", ""), worked("dough", "M", "D*t_1/3600{s/h}*1000{g/kg} + m*R*t_2/60{s/min}", 500000, "g"),
		}, `
  rate: D = 100 kg/h
  first: t_1 = 2 h
  piece: m = 1 kg
  pieces: R = 10 pieces/min
  second: t_2 = 30 min
  dough: M = D*t_1 + m*R*t_2 = 100*2 + 1*10*30 = 500 kg
`},
		{"what is put back does not stand in for what was given", unit.Metric, []Step{
			given("pressure", "p", 6.6, "kPa", "6.60 kPa"), given("share", "x", 3.3, "", ""),
			{Kind: CheckStep, ID: "put back", Symbol: "p", Expression: "x*2", Value: 6.6, Unit: "kPa"},
			worked("twice", "y", "p*2", 13.2, "kPa"),
		}, `
  pressure: p = 6.60 kPa
  share: x = 3.3
  put back: p = x*2 = 3.3*2 = 6.6 kPa
  twice: y = p*2 = 6.60*2 = 13.2 kPa
`},
		{"a conversion starts from what stood there first", unit.US, []Step{
			given("flour", "m", 907.18474, "g", "2 lb"), given("sugar", "b", 3*453.59237/16, "g", "3 oz"), worked("price", "c", "m*0.002", 1.81436948, ""),
			worked("both", "s", "m + b", 35*453.59237/16, "g"),
		}, `
  flour: m = 2 lb
  sugar: b = 3 oz
  flour, in g: m = 2*453.59237 = 907.18 g
  price: c = m*0.002 = 907.18*0.002 = 1.8144
  flour, in oz: m = 2*16 = 32 oz
  both: s = m + b = 32 + 3 = 35 oz
`},
		{"a base temperature is told in degrees too, where its zero point counts", unit.US, []Step{
			given("target", "T_d", 26, "°C", ""), given("friction", "F", 14, "C°", ""), answer(worked("base", "B", "3*T_d - F", 64, "°C (sum of 3)")),
		}, `
  target: T_d = 78.8 °F
  friction: F = 25.2 F°
  base: B = 3*T_d - F = 3*78.8 - 25.2 = 211.2 °F (sum of 3)
  base, in F°: B = (211.2 - 96) = 115.2 F°
`},
		{"and not where it does not", unit.Metric, []Step{
			given("target", "T_d", 26, "°C", ""), given("friction", "F", 14, "C°", ""), answer(worked("base", "B", "3*T_d - F", 64, "°C (sum of 3)")),
		}, `
  target: T_d = 26 °C
  friction: F = 14 C°
  base: B = 3*T_d - F = 3*26 - 14 = 64 °C (sum of 3)
`},
		{"a difference that only binary rounding leaves is none, and a small product is one", unit.Metric, []Step{
			given("made", "a", 300000.00000000006, "g", ""), given("used", "b", 300000, "g", ""), given("lost", "c", -300000.00000000006, "g", ""),
			worked("left", "d", "a - b", 300000.00000000006-300000, "g"), worked("sum", "e", "b + c", 300000-300000.00000000006, "g"),
			given("x", "x", 1e-8, "", ""), worked("square", "y", "x*x", 1e-16, ""),
		}, `
  made: a = 300 kg
  used: b = 300 kg
  lost: c = -300 kg
  left: d = a - b = 300 - 300 = 0 kg
  sum: e = b + c = 300 + (-300) = 0 kg
  x: x = 1e-08
  square: y = x*x = 1e-08*1e-08 = 1e-16
`},
	} {
		t.Run(c.id, func(t *testing.T) {
			w := Working{Steps: c.steps}
			for range 8 { // in whatever order a map yields
				require.Equal(t, c.want[1:], w.In(c.sys))
			}
		})
	}
	assert.Equal(t, []ShownStep{{Kind: HeadingStep, ID: "Water"}}, ShowSteps([]Step{{Kind: HeadingStep, ID: "Water"}}, unit.Metric))
}

// One input is shown as it was typed, as several are.
func TestAsTypedOfOneInput(t *testing.T) {
	w := Working{Steps: []Step{{Kind: InputStep, ID: "rest", Symbol: "r", Value: 900, Unit: "s", Field: "rest"}}}
	w.AsTyped([]byte(`{"parts":[{"a":1},{}],"rest":"0.25 h"}`))
	assert.Equal(t, "  rest: r = 0.25 h\n", w.String())
}

// A line says each thing once.
func TestShownStepReads(t *testing.T) {
	for _, c := range []struct {
		step        ShownStep
		chain, note string
	}{
		{ShownStep{Value: "24"}, "24", ""},
		{ShownStep{Value: "24", Unit: "°C"}, "24 °C", ""},
		{ShownStep{Expression: "a + b", Numbers: "1 + 2", Value: "3", Unit: "kg", Source: "scale"}, "a + b = 1 + 2 = 3 kg", "scale"},
		{ShownStep{Expression: "60*pi", Numbers: "60*pi", Value: "188.5", Constants: "60 s/min"}, "60*pi = 188.5", "60 s/min"},
		{ShownStep{Expression: "T_1", Numbers: "24", Value: "24", Source: "rule", Constants: "60 s/min"}, "T_1 = 24", "rule; 60 s/min"},
		{ShownStep{Expression: "T_1", Value: "24"}, "T_1 = 24", ""},
	} {
		assert.Equal(t, c.chain, c.step.Chain())
		assert.Equal(t, c.note, c.step.Note())
	}
}

// A symbol gives way to its number, but no letter of a number does.
func TestSubstitute(t *testing.T) {
	number := func(symbol string) (string, bool) {
		text, ok := map[string]string{"e": "-7", "e_1": "8", "η": "0.5"}[symbol]
		return text, ok
	}
	for expression, want := range map[string]string{
		"9e-3 + 10e-3 + e": "9e-3 + 10e-3 + (-7)", "e": "(-7)", "e_1*e + max(η, 1)": "8*(-7) + max(0.5, 1)", "2*η": "2*0.5", "": "", "3": "3",
	} {
		assert.Equal(t, want, substitute(expression, number), expression)
	}
}

// Factors by definition: what two units share falls out, and whole numbers stay whole.
func TestConversion(t *testing.T) {
	scale := func(held, symbol string) unit.Scale {
		s, ok := unit.ScaleOf(held, symbol)
		require.True(t, ok, symbol)
		return s
	}
	for _, c := range []struct{ held, from, to, want string }{
		{"s", "h", "min", "x*60"},
		{"s", "min", "h", "x/60"},
		{"g", "oz", "lb", "x/16"},
		{"g", "lb", "oz", "x*16"},
		{"g", "g", "oz", "x*16/453.59237"},
		{"g", "lb", "g", "x*453.59237"},
		{"°C", "°C", "°F", "x*9/5 + 32"},
		{"°C", "°F", "°C", "(x - 32)*5/9"},
		{"C°", "F°", "C°", "x*5/9"},
		{"mm", "ft", "in", "x*12"},
		{"mm", "in", "ft", "x/12"},
		{"mm/s", "m/min", "ft/min", "x*1000/304.8"},
	} {
		assert.Equal(t, c.want, conversion(scale(c.held, c.from), scale(c.held, c.to)), "%s to %s", c.from, c.to)
	}
}

// What makes no sense is shown as it is, and never panics.
func TestShowStepsThatMakeNoSense(t *testing.T) {
	for _, s := range []Step{
		{},
		{Symbol: "x"},
		{Symbol: "x", Expression: "("},
		{Symbol: "x", Expression: "x"},
		{Symbol: "x", Expression: "nosuch*2", Unit: "g"},
		{Symbol: "x", Typed: "1e999 g", Unit: "g"},
		{Symbol: "x", Typed: "two", Unit: "s"},
		{Symbol: "x", Expression: "1/0", Answer: true, Unit: "s"},
		{Symbol: "x", Expression: "0/0", Value: math.NaN(), Unit: "s"},
		{Symbol: "x", Expression: "2", Plain: ")", Unit: "°C (sum of many)"},
		{Symbol: "x", Expression: "2*pi", Value: 7, Unit: "no unit", Answer: true},
	} {
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			assert.NotEmpty(t, ShowSteps([]Step{s, s}, sys))
		}
	}
}

func TestFloorForgivesBinaryRounding(t *testing.T) {
	for text, want := range map[string]float64{
		"floor(8.4/1.2)": 7, "ceil(8.4/1.2)": 7, "floor(0.3/0.1)": 3, "ceil(0.1*3/0.3)": 1, "floor(6.999)": 6, "ceil(7.001)": 8, "floor(-0.5)": -1,
		"count(1, 1, 2)": 3, "count(5)": 1, "normal(0)": 0.5,
	} {
		e, err := ParseExpression(text)
		assert.NoError(t, err, text)
		assert.Equal(t, want, e.Eval(func(string) (float64, bool) { return 0, false }), text)
	}
}
