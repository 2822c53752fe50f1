package reckon

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

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
