package whatif

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
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
		"spread of nothing":         {"study: study.outputs is empty", `study: study.vary[0].distribution.shape is "bell": want "normal", "lognormal"`},
		"robust without a must":     {"study: scatter is empty", "study: must is empty"},
		"robust, set and scattered": {`study: scatter[0].path is "room": want an input that is not set as well: study.vary[0] is the same`},
		"robust, too large":         {"study: study.vary is 3000 settings with 1000 trials each: want at most 1000000 scenarios, or force"},
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

func waterSpread() Spread {
	return Spread{Study: waterStudy(
		Factor{Path: "flour_temp", Distribution: Distribution{Shape: Uniform, HalfWidth: "2 C°"}},
		Factor{Path: "room", Distribution: Distribution{Shape: Normal, Mean: "73 °F", SD: "0.5 C°"}},
		Factor{Path: "friction", Distribution: Distribution{Shape: Triangular, HalfWidth: "1.5 C°"}},
	)}
}

// Of a sum everything is known in closed form.
//
// Source: variances of the shapes, JCGM 101:2008, 6.4 (derived).
func TestSpreadOfASum(t *testing.T) {
	s := waterSpread()
	s.Screen = true
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Empty(t, got.Notes)
	parts := []float64{2 / math.Sqrt(3), 0.5, 1.5 / math.Sqrt(6)}
	variance := 0.0
	for _, p := range parts {
		variance += p * p
	}
	o := got.Outputs[0]
	assert.InDelta(t, 64-21-(73-32)/1.8, o.FirstOrder.Estimate, 1e-9)
	assert.InDelta(t, math.Sqrt(variance), o.FirstOrder.U, 1e-9)
	assert.Zero(t, o.FirstOrder.DoF)
	assert.InDelta(t, 1.959963985, o.FirstOrder.Factor, 1e-9)
	for k, slope := range []float64{-1, -1 / 1.8, -1} { // the room is in °F
		assert.InDelta(t, slope, o.FirstOrder.Inputs[k].Slope, 1e-9)
		assert.InDelta(t, parts[k], o.FirstOrder.Inputs[k].Part, 1e-9)
		share := parts[k] * parts[k] / variance
		assert.InDelta(t, share, o.FirstOrder.Inputs[k].Share, 1e-9)
		in := o.Influences[k]
		assert.InDelta(t, share, in.First.Value, 2*in.First.Error)
		assert.InDelta(t, share, in.Total.Value, 2*in.Total.Error)
		assert.InDelta(t, 0, o.Effects[k].SD, 1e-9, "no effect of one hangs on another")
	}
	assert.True(t, o.Trials.Reached)
	assert.InDelta(t, math.Sqrt(variance), o.Trials.U.Value, 2*o.Trials.U.Error+1e-6)
	assert.InDelta(t, o.FirstOrder.Estimate, o.Trials.Mean.Value, 2*o.Trials.Mean.Error+1e-6)
	assert.Len(t, o.Values(), got.Trials)
	assert.Zero(t, got.Refused.Count)
	assert.Equal(t, 0.9, got.Inputs[1].U, "0.5 C° are 0.9 F°")
	_, err = json.Marshal(got)
	require.NoError(t, err)
}

// The same digits, whatever the workers are.
func TestSpreadDoesNotDependOnWorkers(t *testing.T) {
	for _, scheme := range []Combine{"", Random, LatinHypercube, Halton} {
		s := waterSpread()
		s.Study.Combine, s.Study.Samples, s.Points = scheme, 20000, 64
		one, err := s.Run(t.Context(), Options{})
		require.NoError(t, err)
		three, err := s.Run(t.Context(), Options{Workers: 3})
		require.NoError(t, err)
		assert.Equal(t, one, three, "%q", scheme)
		s.Study.Seed++
		other, err := s.Run(t.Context(), Options{})
		require.NoError(t, err)
		assert.NotEqual(t, one.Outputs[0].Trials.Mean, other.Outputs[0].Trials.Mean)
	}
}

// Conditions and refusals are counted: water below freezing in the half of the
// trials where the flour is above 41 °C, and refused in the quarter above 45 °C.
func TestSpreadCountsConditionsAndRefusals(t *testing.T) {
	s := Spread{Study: waterStudy(Factor{Path: "flour_temp", Distribution: Distribution{Shape: Uniform, Low: "37 °C", High: "45 °C"}})}
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	shares := map[string]float64{}
	for _, c := range got.Conditions {
		shares[c.Word] = c.Share.Value
	}
	assert.InDelta(t, 0.5, shares["below-freezing"], 1e-3)
	s.Study.Vary[0].Distribution = Distribution{Shape: Uniform, Low: "-12 °C", High: "12 °C"}
	got, err = s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.InDelta(t, 1./3, got.Refused.Value, 1e-3, "water above 45 °C is refused")
	assert.Equal(t, got.Refused.Of-got.Refused.Count, got.Outputs[0].Trials.Answered)
	assert.Nil(t, got.Outputs[0].Influences)
	assert.Contains(t, strings.Join(got.Notes, "\n"), "of their points are refused")
	s.Study.Vary[0].Distribution = Distribution{Shape: Uniform, Low: "-12 °C", High: "-6 °C"}
	got, err = s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Nil(t, got.Outputs[0].Trials)
	assert.Nil(t, got.Outputs[0].FirstOrder)
	_, err = json.Marshal(got)
	require.NoError(t, err, "nothing that JSON cannot hold")
}

// Lists, words and correlated inputs: what cannot be had is left out and said.
func TestSpreadSaysWhatItLeavesOut(t *testing.T) {
	s := waterSpread()
	s.Study.Vary = append(s.Study.Vary, Factor{Path: "friction_basis", Values: []string{"once", "per-factor"}})
	s.Study.Samples, s.Points = 4096, 64
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Nil(t, got.Outputs[0].FirstOrder)
	assert.Contains(t, got.Notes[0], "no first order: friction_basis takes only some values")
	assert.Greater(t, got.Outputs[0].Influences[3].Total.Value, 0.9, "28 C° between the readings drown the rest")
	_, err = json.Marshal(got)
	require.NoError(t, err)

	s = waterSpread()
	s.Correlation = [][]float64{{1, 0.8, 0}, {0.8, 1, 0}, {0, 0, 1}}
	got, err = s.Run(t.Context(), Options{})
	require.NoError(t, err)
	variance := 4./3 + 0.25 + 2.25/6 + 2*0.8*2/math.Sqrt(3)*0.5
	assert.InDelta(t, math.Sqrt(variance), got.Outputs[0].FirstOrder.U, 1e-9)
	assert.Nil(t, got.Outputs[0].Influences)
	assert.Contains(t, got.Notes[0], "no indices of variance: they are for inputs that are independent")
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

// dip is y = x² + z/10, whose slope along x is zero at its bottom.
type dip struct {
	X float64 `json:"x" range:"-100..100"`
	Z float64 `json:"z" range:"-100..100"`
}

type dipResult struct {
	Y float64 `json:"y"`
}

func (dip) ID() string                          { return "dip" }
func (dip) Check(*reckon.Checks)                {}
func (q dip) Solve() (dipResult, error)         { return dipResult{q.X*q.X + q.Z/10}, nil }
func (dip) Show(_ *reckon.Working, _ dipResult) {}

// What the first order cannot see is said.
//
// Source: JCGM 101:2008, 9.4 (a squared input about zero): its variance is 2u⁴ (derived).
func TestSpreadTellsWhatTheFirstOrderDoesNotSee(t *testing.T) {
	got, err := Spread{Study: Study{Subject: Of(dip{}), Vary: []Factor{
		{Path: "x", Distribution: Distribution{Shape: Normal, SD: "1"}}, {Path: "z", Distribution: Distribution{Shape: Normal, SD: "1"}},
	}, Outputs: path("y")}}.Run(t.Context(), Options{})
	require.NoError(t, err)
	o := got.Outputs[0]
	assert.InDelta(t, 0.1, o.FirstOrder.U, 1e-9)
	assert.InDelta(t, math.Sqrt(2+0.01), o.Trials.U.Value, 2*o.Trials.U.Error)
	assert.Equal(t, Differs, o.Agreement.Verdict)
	assert.InDelta(t, 2/2.01, o.Influences[0].Total.Value, 2*o.Influences[0].Total.Error)
	assert.Equal(t, []string{"y: the first order does not see x, whose slope is all but zero at the means; it has 100 % of the variance"}, got.Notes)
}
