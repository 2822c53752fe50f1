package whatif

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func TestSeekByHand(t *testing.T) {
	for name, tt := range map[string]struct {
		vary  Factor
		value string
		from  float64
		to    float64
		kind  Meet
	}{
		"over the range of the input": {Factor{Path: "flour_temp"}, "4 °C", 37, 37, Crossing},
		"in another unit":             {Factor{Path: "flour_temp", Unit: "°F"}, "39.2 °F", 98.6, 98.6, Crossing},
		"a stated range":              {Factor{Path: "flour_temp", From: "70 °F", To: "100 °F"}, "10 °C", 87.8, 87.8, Crossing},
		"in steps":                    {Factor{Path: "flour_temp", From: "0 °C", To: "50 °C", Step: "0.3 C°"}, "4 °C", 36.9, 37.2, Between},
		"on a step":                   {Factor{Path: "flour_temp", From: "0 °C", To: "50 °C", Step: "0.5 C°"}, "4 °C", 37, 37, Crossing},
	} {
		got, err := Seek{Study: waterStudy(tt.vary), Value: tt.value}.Run(context.Background())
		require.NoError(t, err, name)
		require.Len(t, got.Met, 1, name)
		m := got.Met[0]
		assert.Equal(t, tt.kind, m.Kind, name)
		assert.InDelta(t, tt.from, m.From.Input, 1e-9, name)
		assert.InDelta(t, tt.to, m.To.Input, 1e-9, name)
		if tt.kind == Between {
			assert.InDelta(t, 0.1, m.From.Residual, 1e-9, name)
			assert.InDelta(t, -0.2, m.To.Residual, 1e-9, name)
		}
	}
}

// Where the library has the relation turned round, that one answers, whatever it calls the output.
func TestSeekByInverse(t *testing.T) {
	base := divider.HopperTime{Batch: unit.Kilograms(120), DoughRate: 400}
	got, err := Seek{Study: Study{Subject: Of(base), Vary: []Factor{{Path: "batch", Unit: "kg"}}, Outputs: path("time")}, Value: "20 min"}.Run(context.Background())
	require.NoError(t, err)
	assert.Equal(t, "batch-for-hopper-time", got.Inverse)
	require.Len(t, got.Met, 1)
	assert.InDelta(t, 400./3, got.Met[0].From.Input, 1e-9) // 400 kg/h for a third of an hour
	assert.Equal(t, 1, got.Solved)
	// One that lies outside the stated range is not taken.
	_, err = Seek{Study: Study{Subject: Of(base), Vary: []Factor{{Path: "batch", From: "1 kg", To: "100 kg"}}, Outputs: path("time")}, Value: "20 min"}.Run(context.Background())
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "hopper-time: no batch gives time of 20 min; it can reach 9 s to 900 s: no value from 1 kg to 100 kg does", none.Error())
}

func TestSeekThatFindsNothing(t *testing.T) {
	got, err := Seek{Study: waterStudy(Factor{Path: "flour_temp", From: "30 °C", To: "35 °C"}), Value: "40 °F"}.Run(context.Background())
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "water-temperature: no flour_temp gives water_temp of 40 °F; it can reach 6 °C to 11 °C: no value from 30 °C to 35 °C does", err.Error())
	assert.Empty(t, got.Met)
	assert.Equal(t, &Reach{Low: 6, LowAt: 35, High: 11, HighAt: 30}, got.Reach)
	// Water above 45 °C is refused: the stretch is kept out and told.
	got, err = Seek{Study: waterStudy(Factor{Path: "flour_temp"}), Value: "50 °C"}.Run(context.Background())
	require.ErrorAs(t, err, &none)
	require.Len(t, got.Refused, 1)
	assert.InDelta(t, -40, got.Refused[0].From, 1e-12)
	assert.InDelta(t, -4, got.Refused[0].To, 1e-12)
	assert.InDelta(t, 45, got.Reach.High, 1e-9)
	// Nothing at all is answered.
	_, err = Seek{Study: waterStudy(Factor{Path: "flour_temp", From: "-40 °C", To: "-10 °C"}), Value: "4 °C"}.Run(context.Background())
	require.ErrorContains(t, err, "nothing from -40 °C to -10 °C has an answer")
}

// On a plan the mark moves in steps: the value of the input is a whole stretch, and
// just beyond its ends the mark is another.
func TestSeekOnAPlanMovesInSteps(t *testing.T) {
	study := Study{Subject: OfScenario(demo(t)), Vary: []Factor{{Path: "orders[Star bun].product.baked", From: "30 g", To: "90 g"}}, Outputs: path("orders[Star bun].mark.set")}
	got, err := Seek{Study: study, Value: "13", Points: 64}.Run(t.Context())
	require.NoError(t, err)
	require.Len(t, got.Met, 1)
	stretch := got.Met[0]
	assert.Equal(t, Level, stretch.Kind)
	c, err := study2(study).Compile()
	require.NoError(t, err)
	b := c.bench()
	for x, want := range map[float64]bool{
		stretch.From.Input: true, stretch.To.Input: true,
		math.Nextafter(stretch.From.Input, 0): false, math.Nextafter(stretch.To.Input, 100): false,
	} {
		assert.Equal(t, want, b.solve([]float64{x}).Values[1] == 13, "%v g", x)
	}
	// Between two marks the output leaps over what is wanted.
	got, err = Seek{Study: study, Value: "13.2", Points: 64}.Run(t.Context())
	require.NoError(t, err)
	require.Len(t, got.Met, 1)
	assert.Equal(t, Jump, got.Met[0].Kind)
	assert.Equal(t, []float64{13}, got.Met[0].From.Outputs)
	assert.Equal(t, []float64{13.5}, got.Met[0].To.Outputs)
	// Pieces go by one: 5 batches stand for a stretch of orders.
	study.Vary, study.Outputs = []Factor{{Path: "orders[Star bun].pieces", From: "100", To: "20000"}}, path("orders[Star bun].batch.batches")
	got, err = Seek{Study: study, Value: "5", Points: 64}.Run(t.Context())
	require.NoError(t, err)
	require.Len(t, got.Met, 1)
	assert.Equal(t, Level, got.Met[0].Kind)
	before, err := Seek{Study: study, Value: "4", Points: 64}.Run(t.Context())
	require.NoError(t, err)
	assert.InDelta(t, 1, got.Met[0].From.Input-before.Met[0].To.Input, 0, "one piece more is one batch more")
}

// study2 gives the study a count, which a seek must not have.
func study2(s Study) Study {
	s.Vary = []Factor{s.Vary[0]}
	s.Vary[0].Count = 2
	return s
}

// Settings in steps are the numbers that a person would write, in the unit of the column.
func TestSeekInStepsOfAnotherUnit(t *testing.T) {
	got, err := Seek{Study: waterStudy(Factor{Path: "room", From: "60 °F", To: "90 °F", Step: "1 F°"}), Value: "68.5 °F"}.Run(t.Context())
	require.NoError(t, err)
	require.Len(t, got.Met, 1)
	assert.Equal(t, [2]float64{72, 73}, [2]float64{got.Met[0].From.Input, got.Met[0].To.Input})
	assert.Equal(t, Stretch{60, 90}, got.Searched)
	assert.Equal(t, [2]float64{90, 60}, [2]float64{got.Reach.LowAt, got.Reach.HighAt})
}
