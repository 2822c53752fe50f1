package whatif

import (
	"context"
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// waterBase makes water of 64 °C less the temperatures of flour and room.
func waterBase() Subject {
	return Of(doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Friction: unit.CelsiusDegrees(14), Basis: doughmath.FrictionOnce,
	})
}

func waterStudy(vary ...Factor) Study {
	return Study{Subject: waterBase(), Vary: vary, Outputs: path("water_temp")}
}

func TestAimsThatAreRefused(t *testing.T) {
	run := map[string]func() error{
		"seek two": func() error {
			_, err := Seek{Study: waterStudy(Factor{Path: "room"}, Factor{Path: "flour_temp"}), Value: "4 °C"}.Run(t.Context())
			return err
		},
		"seek a word": func() error {
			_, err := Seek{Study: waterStudy(Factor{Path: "friction_basis"}), Value: "4 °C"}.Run(t.Context())
			return err
		},
		"seek without a unit": func() error {
			_, err := Seek{Study: waterStudy(Factor{Path: "flour_temp"}), Value: "4"}.Run(t.Context())
			return err
		},
		"seek in too many steps": func() error {
			_, err := Seek{Study: waterStudy(Factor{Path: "flour_temp", Step: "1e-13 C°"}), Value: "4 °C"}.Run(t.Context())
			return err
		},
		"seek in one step": func() error {
			_, err := Seek{Study: waterStudy(Factor{Path: "flour_temp", Step: "500 C°"}), Value: "4 °C"}.Run(t.Context())
			return err
		},
		"seek over a list": func() error {
			_, err := Seek{Study: waterStudy(Factor{Path: "flour_temp", Values: []string{"20 °C"}}), Value: "4 °C"}.Run(t.Context())
			return err
		},
		"seek without outputs": func() error {
			_, err := Seek{Study: Study{Subject: waterBase(), Vary: []Factor{{Path: "flour_tmp"}}}, Value: "4 °C", Points: 1}.Run(t.Context())
			return err
		},
		"best of what": func() error {
			_, err := Best{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Aim: "cheapest", Value: "4 °C", Must: Must{Limits: []Limit{{Path: "water_temp"}}}}.Run(t.Context(), Options{})
			return err
		},
		"best with a condition unknown": func() error {
			_, err := Best{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Aim: Least, Must: Must{Without: []string{"below-freezin"}, Limits: []Limit{{Path: "base", Low: "20 °C", High: "10 C°"}}}}.Run(t.Context(), Options{})
			return err
		},
		"spread too wide": func() error {
			_, err := Spread{
				Study:       waterStudy(Factor{Path: "room", Distribution: Distribution{Shape: Normal, SD: "30 C°"}}, Factor{Path: "flour_temp", Distribution: Distribution{Shape: Uniform, Low: "30 °C", High: "20 °C", SD: "1 C°"}}),
				Correlation: [][]float64{{1, 2}, {2, 1}}, Probability: 101, Digits: 9,
			}.Run(t.Context(), Options{})
			return err
		},
		"spread of nothing": func() error {
			_, err := Spread{Study: Study{Subject: waterBase(), Vary: []Factor{{Path: "room", Distribution: Distribution{Shape: "bell"}}}}}.Run(t.Context(), Options{})
			return err
		},
		"robust without a must": func() error {
			_, err := Robust{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3})}.Run(t.Context(), Options{})
			return err
		},
		"robust, set and scattered": func() error {
			f := Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}
			_, err := Robust{Study: waterStudy(f), Scatter: []Factor{{Path: "room", Distribution: Distribution{Shape: Normal, SD: "1 C°"}}}, Must: Must{Without: []string{"below-freezing"}}}.Run(t.Context(), Options{})
			return err
		},
		"robust, too large": func() error {
			f := Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3000}
			_, err := Robust{Study: waterStudy(f), Scatter: []Factor{{Path: "flour_temp", Distribution: Distribution{Shape: Normal, SD: "1 C°"}}}, Must: Must{Without: []string{"below-freezing"}}}.Run(t.Context(), Options{})
			return err
		},
		"robust, more trials than the limit": func() error {
			study := waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3})
			study.Limit = 100
			_, err := Robust{Study: study, Scatter: []Factor{{Path: "flour_temp", Distribution: Distribution{Shape: Normal, SD: "1 C°"}}}, Must: Must{Without: []string{"below-freezing"}}}.Run(t.Context(), Options{})
			return err
		},
		"spread of a limit without the other": func() error {
			_, err := Spread{Study: waterStudy(
				Factor{Path: "room", Distribution: Distribution{Shape: Uniform}},
				Factor{Path: "flour_temp", Distribution: Distribution{Shape: Uniform, HalfWidth: "1e-15 C°"}},
				Factor{Path: "friction", From: "10 C°", To: "20 C°", Weights: []float64{1, 2}},
			)}.Run(t.Context(), Options{})
			return err
		},
		"spread that holds too much": func() error {
			study := Study{Subject: OfScenario(demo(t)), Force: true}
			for _, p := range []string{"shift.flour_temp", "shift.room", "shift.tap"} {
				study.Vary = append(study.Vary, Factor{Path: p, Distribution: Distribution{Shape: Uniform, HalfWidth: "1 C°"}})
			}
			for i := range 4 {
				for _, u := range []string{"g", "kg", "oz", "lb"} {
					study.Outputs = append(study.Outputs, Output{Path: order(i) + ".target", Unit: u})
				}
			}
			_, err := Spread{Study: study, Points: 1 << 20}.Run(t.Context(), Options{})
			return err
		},
	}
	for name, want := range map[string][]string{
		"seek two":                      {"study: study.vary is 2 inputs: want the one that is to be found"},
		"seek a word":                   {`study: study.vary[0].path is "friction_basis": want a number: a word is not searched`},
		"seek without a unit":           {`study: value is "4": want a unit after the number`},
		"seek in too many steps":        {"study: study.vary[0].step is flour_temp in 1e+15 steps: want 1 to 1e+12 steps"},
		"seek in one step":              {"study: study.vary[0].step is flour_temp in 0.2 steps: want 1 to 1e+12 steps"},
		"seek over a list":              {"study: study.vary[0] is values, a count or a distribution: want from and to"},
		"seek without outputs":          {"study: points is 1: want a whole number from 3 to 1000000", "study: study.outputs is empty"},
		"best of what":                  {`study: aim is "cheapest": want "least", "most" or "nearest"`, `study: value is "4 °C": want nothing`, "study: must.limits[0] is without low and high"},
		"best with a condition unknown": {`study: must.limits[0].high is 10 C°: want no less than low, 20 °C`, `study: must.without[0] is "below-freezin": want "below-freezing" perhaps`},
		"spread too wide": {
			"study: probability is 101 %: want 50 % to 99.99 %", "study: digits is 9", "study: correlation[0][1] is 2: want -1 to 1",
			"study: study.vary[0].distribution is ", "% of it is out of the range: want -40 °C to 60 °C; or truncate, to cut it off there", "study: study.vary[1].distribution.sd is given: want nothing: a distribution that is uniform takes mean, half_width, low, high, dof",
			"study: study.vary[1].distribution.high is 20 °C: want more than low, 30 °C",
		},
		"spread of nothing":                  {"study: study.outputs is empty", `study: study.vary[0].distribution.shape is "bell": want "normal", "lognormal"`},
		"robust without a must":              {"study: scatter is empty", "study: must is empty"},
		"robust, set and scattered":          {`study: scatter[0].path is "room": want an input that is not set as well: study.vary[0] is the same`},
		"robust, more trials than the limit": {"study: study.vary is 3 settings with 1000 trials each: want at most 100 scenarios, or force"},
		"spread of a limit without the other": {
			"study: study.vary[0].distribution.half_width is missing: want how far the limits are from the mean; or low and high in place of both",
			"study: study.vary[1].distribution.half_width is 1e-15 C°: want so much that the limits differ from the mean",
			"study: study.vary[2].weights is given: want nothing: only a list of values has weights",
		},
		"spread that holds too much": {"study: points is 1048576 points of 80 outputs each: want at most 838860 points"},
		"robust, too large":          {"study: study.vary is 3000 settings with 1000 trials each: want at most 1000000 scenarios, or force"},
	} {
		err := run[name]()
		require.Error(t, err, name)
		assert.NotEmpty(t, reckon.InputErrors(err), name)
		for _, w := range want {
			assert.Contains(t, err.Error(), w, name)
		}
	}
}

// The setting nearest to 4 °C lies between the values of the grid, and beats all of them.
func TestBestGoesOnBetweenTheValues(t *testing.T) {
	s := Best{Study: waterStudy(Factor{Path: "flour_temp", From: "10 °C", To: "50 °C", Count: 9}, Factor{Path: "room", From: "20 °C", To: "26 °C", Count: 2}), Aim: Nearest, Value: "4.25 °C"}
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.True(t, got.Met)
	assert.True(t, got.Between)
	assert.InDelta(t, 4.25, got.Best.Outputs[0], 1e-6)
	assert.InDelta(t, 59.75, got.Best.Inputs[0]+got.Best.Inputs[1], 1e-6)
	assert.InDelta(t, 4, got.Grid.Outputs[0], 1e-9, "60 °C together are the nearest of the grid")
	s.Exact = true
	exact, err := s.Run(t.Context(), Options{Workers: 2})
	require.NoError(t, err)
	assert.False(t, exact.Between)
	assert.Equal(t, exact.Grid, exact.Best)
	assert.Equal(t, got.Grid, exact.Grid)
	assert.Equal(t, 18, exact.Solved)
}

// The coldest water that is not ice: a condition holds the optimum back.
func TestBestKeepsToConditionsAndLimits(t *testing.T) {
	flour := Factor{Path: "flour_temp", From: "10 °C", To: "50 °C", Count: 9}
	got, err := Best{Study: waterStudy(flour), Aim: Least, Must: Must{Without: []string{"below-freezing"}}}.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.True(t, got.Met)
	assert.InDelta(t, 1, got.Grid.Outputs[0], 1e-9, "40 °C flour; with 45 °C it is below freezing")
	assert.InDelta(t, 0, got.Best.Outputs[0], 1e-6)
	assert.GreaterOrEqual(t, got.Best.Outputs[0], 0.)
	assert.Equal(t, 7, got.Kept.Count)

	// Limits on another output, that no setting keeps to: the nearest is told, and what it misses.
	got, err = Best{Study: waterStudy(flour), Aim: Least, Must: Must{Limits: []Limit{{Path: "water_temp", Low: "36 °C", High: "40 °C"}}}}.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.False(t, got.Met)
	assert.InDelta(t, 10, got.Best.Inputs[0], 1e-9)
	assert.Equal(t, []string{"water_temp is 31 °C, below 36 °C"}, got.Best.Missed)
	assert.Zero(t, got.Kept.Count)

	// Everything is refused.
	_, err = Best{Study: waterStudy(Factor{Path: "flour_temp", From: "-40 °C", To: "-10 °C", Count: 4}), Aim: Least}.Run(t.Context(), Options{})
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
}

// Whatever the grid, the best is never worse than any of it.
func TestBestIsNeverWorseThanTheGrid(t *testing.T) {
	s := waterStudy(Factor{Path: "flour_temp", From: "0 °C", To: "45 °C", Count: 7}, Factor{Path: "friction", From: "5 C°", To: "25 C°", Count: 5})
	for _, aim := range []Aim{Least, Most, Nearest} {
		b := Best{Study: s, Aim: aim, Must: Must{Without: []string{"below-freezing"}}}
		if aim == Nearest {
			b.Value = "12.34 °C"
		}
		got, err := b.Run(t.Context(), Options{})
		require.NoError(t, err)
		of := func(y float64) float64 {
			return map[Aim]float64{Least: y, Most: -y, Nearest: math.Abs(y - 12.34)}[aim]
		}
		study, err := s.Compile()
		require.NoError(t, err)
		for row, err := range study.Rows(t.Context(), Options{}) {
			require.NoError(t, err)
			if y := row.Values[2]; row.Err() == nil && y >= 0 {
				assert.LessOrEqual(t, of(got.Best.Outputs[0]), of(y), "%s, scenario %d", aim, row.Index)
			}
		}
	}
}

// Water of 64 °C less flour and room is within 19 to 21 °C most often with a room of 23 °C,
// if the flour is 21 °C with a standard deviation of 1 C°: as often as a normal
// number is within one standard deviation.
func TestRobust(t *testing.T) {
	s := Robust{
		Study:   waterStudy(Factor{Path: "room", From: "20 °C", To: "26 °C", Step: "1 C°"}),
		Scatter: []Factor{{Path: "flour_temp", Distribution: Distribution{Shape: Normal, Mean: "21 °C", SD: "1 C°"}}},
		Must:    Must{Limits: []Limit{{Path: "water_temp", Low: "19 °C", High: "21 °C"}}, Without: []string{"below-freezing"}},
		Trials:  4000, Seed: 1,
	}
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.InDelta(t, 23, got.Best.Inputs[0], 1e-12)
	assert.Equal(t, 3, got.Best.Index)
	assert.Equal(t, 7, got.Settings)
	assert.Zero(t, got.Tied)
	within := 1 - 2*normalBelow(-1)
	assert.InDelta(t, within, got.Best.Kept.Value, 0.02)
	assert.Less(t, got.Best.Kept.Low, within)
	assert.Greater(t, got.Best.Kept.High, within)
	require.NotNil(t, got.Ahead)
	next := normalBelow(2) - normalBelow(0) // one degree beside
	assert.InDelta(t, within-next, got.Ahead.Value, 2*got.Ahead.Error)
	assert.Len(t, got.Next, 6)
	again, err := s.Run(t.Context(), Options{Workers: 3})
	require.NoError(t, err)
	assert.Equal(t, got, again, "workers change nothing")
	// Far from freezing every setting keeps: they are tied, and the first is told.
	s.Must = Must{Without: []string{"below-freezing"}}
	got, err = s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Equal(t, 6, got.Tied)
	assert.Zero(t, got.Best.Index)
	assert.Zero(t, got.Ahead.Value)
}

// What JSON holds comes back the same.
func TestAimsThereAndBack(t *testing.T) {
	seek, err := ReadSeek([]byte(`{"study":{"calculation":"hopper-time","base":{"batch":"120 kg","dough_rate":"400 kg/h"},"vary":[{"path":"batch"}],"outputs":[{"path":"time"}]},"value":"20 min"}`))
	require.NoError(t, err)
	found, err := seek.Run(t.Context())
	require.NoError(t, err)
	assert.Equal(t, "batch-for-hopper-time", found.Inverse)

	spread := waterSpread()
	data, err := json.Marshal(spread)
	require.NoError(t, err)
	back, err := ReadSpread(data)
	require.NoError(t, err)
	one, err := spread.Run(t.Context(), Options{})
	require.NoError(t, err)
	two, err := back.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Equal(t, one, two)

	best := Best{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Aim: Most, Must: Must{With: []string{"below-freezing"}}}
	data, err = json.Marshal(best)
	require.NoError(t, err)
	again, err := ReadBest(data)
	require.NoError(t, err)
	assert.Equal(t, best.Must, again.Must)

	robust := Robust{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Scatter: spread.Study.Vary[:1], Must: best.Must}
	data, err = json.Marshal(robust)
	require.NoError(t, err)
	_, err = ReadRobust(data)
	require.NoError(t, err)

	_, err = ReadSeek([]byte(`{"study":{"calculation":"hopper-tim","base":{},"vary":[]},"value":20,"from":1}`))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "study: from is")
}

// What is found out takes all scenarios together: no shard of it makes sense.
func TestAimsHaveNoShards(t *testing.T) {
	shard := Options{First: 1, Count: 2}
	_, spread := waterSpread().Run(t.Context(), shard)
	_, best := Best{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Aim: "worst"}.Run(t.Context(), shard)
	_, robust := Robust{}.Run(t.Context(), shard)
	for _, err := range []error{spread, best, robust} {
		require.ErrorContains(t, err, "study: first is 1: want a whole number from 0 to 0")
		require.ErrorContains(t, err, "study: count is 2")
	}
	assert.ErrorContains(t, best, `study: aim is "worst"`)
}

func TestAimsStopWithTheContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := waterSpread().Run(ctx, Options{})
	require.ErrorIs(t, err, context.Canceled)
	_, err = Seek{Study: waterStudy(Factor{Path: "flour_temp"}), Value: "4 °C"}.Run(ctx)
	require.ErrorIs(t, err, context.Canceled)
	_, err = Best{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Aim: Most}.Run(ctx, Options{})
	require.ErrorIs(t, err, context.Canceled)
}

// told is a parabola that tells when it is solved.
type told struct {
	X    float64 `json:"x" range:"-1..1"`
	tell func()
}

type toldResult struct {
	Y float64 `json:"y"`
}

func (told) ID() string                           { return "told" }
func (told) Check(*reckon.Checks)                 {}
func (told) Show(_ *reckon.Working, _ toldResult) {}

func (q told) Solve() (toldResult, error) {
	q.tell()
	return toldResult{(q.X - 0.3) * (q.X - 0.3)}, nil
}

// A descent stops as well, not only the rows before it.
func TestBestStopsWithinADescent(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	solved := 0
	base := told{tell: func() {
		if solved++; solved == 20 {
			cancel()
		}
	}}
	_, err := Best{Study: Study{Subject: Of(base), Vary: []Factor{{Path: "x", From: "-1", To: "1", Count: 3}}, Outputs: path("y")}, Aim: Least}.Run(ctx, Options{})
	require.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, 20, solved)
}

// What is found is set by somebody: it carries what can hurt them.
func TestWhatIsFoundCarriesItsCautions(t *testing.T) {
	warm := func(vary ...Factor) Study {
		return Study{
			Calculation: "dough-temperature-for-water", Vary: vary, Outputs: path("dough_temp"),
			Base: []byte(`{"water_temp":"44 °C","flour_temp":"5 °C","room":"10 °C","friction":"20 C°","friction_basis":"once"}`),
		}
	}
	setting := Factor{Path: "flour_temp", From: "2 °C", To: "8 °C"}

	sought, err := Seek{Study: warm(setting), Value: "26 °C"}.Run(t.Context())
	require.NoError(t, err)
	require.Len(t, sought.Met, 1)
	assert.Equal(t, reckon.HotWater, sought.Met[0].From.Cautions)

	grid := setting
	grid.Step = "3 C°"
	best, err := Best{Study: warm(grid), Aim: Most}.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Equal(t, reckon.HotWater, best.Best.Cautions)

	// Of what scatters, some of the trials scald and some do not.
	robust, err := Robust{
		Study: warm(grid), Scatter: []Factor{{Path: "water_temp", Distribution: Distribution{Shape: Uniform, Low: "30 °C", High: "44 °C"}}},
		Must: Must{Limits: []Limit{{Path: "dough_temp", Low: "20 °C"}}}, Trials: 20,
	}.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Equal(t, reckon.HotWater, robust.Cautions)
}
