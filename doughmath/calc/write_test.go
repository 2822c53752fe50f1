package calc

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

type rowOf struct {
	Name       string               `json:"name"`
	Mass       unit.Mass            `json:"mass"`
	Temp       unit.Temp            `json:"temp"`
	Conditions doughmath.Conditions `json:"conditions"`
}

type everything struct {
	Mass       unit.Mass            `json:"mass"`
	Temp       unit.Temp            `json:"temp"`
	Number     float64              `json:"number"`
	Whole      int                  `json:"whole"`
	Open       bool                 `json:"open"`
	Units      unit.System          `json:"units"`
	Missing    unit.Mass            `json:"missing,omitzero"`
	None       []float64            `json:"none,omitempty"`
	Rows       []rowOf              `json:"rows"`
	Masses     [2]unit.Mass         `json:"masses"`
	Inner      struct{ A int }      `json:"inner"`
	Pointer    *rowOf               `json:"pointer"`
	ByName     map[string]unit.Mass `json:"by_name"`
	Conditions doughmath.Conditions `json:"conditions"`
	Cautions   reckon.Cautions      `json:"cautions"`
}

func full() everything {
	return everything{
		Mass: 2500, Temp: unit.Celsius(21.25), Number: 1.0 / 3, Whole: -2, Open: true, Units: unit.US,
		Rows: []rowOf{
			{Name: "a \"b\" <c> \x01 ä", Mass: 1, Temp: unit.Celsius(1), Conditions: reckon.Rounded},
			{Name: "d", Mass: 2},
		},
		Masses: [2]unit.Mass{1, 2}, ByName: map[string]unit.Mass{"z": 1, "a": 2},
		Conditions: reckon.Uncalibrated, Cautions: reckon.HotWater,
	}
}

func resultOf(v any, o Options) Result {
	p := reflect.New(reflect.TypeOf(v)).Elem()
	p.Set(reflect.ValueOf(v))
	r := Result{ID: "test", value: p, plan: newOutPlan(p.Type()), options: o}
	r.plan.collect(p, nil, &r)
	return r
}

func TestWritesEveryKind(t *testing.T) {
	r := resultOf(full(), Options{})
	data, err := json.Marshal(r)
	require.NoError(t, err)
	assert.JSONEq(t, `{"calculation":"test","result":{"mass":"2.5 kg","temp":"21.25 °C","number":0.3333333333333333,"whole":-2,"open":true,"units":"us",
		"rows":[{"name":"a \"b\" <c> \u0001 ä","mass":"1 g","temp":"1 °C","conditions":["rounded"]},{"name":"d","mass":"2 g","conditions":[]}],
		"masses":["1 g","2 g"],"inner":{"A":0},"pointer":null,"by_name":{"a":"2 g","z":"1 g"}},
		"conditions":[{"at":"rows[0]","word":"rounded","says":"A value was rounded to what the scale, the tray or whole pieces allow."},
		{"word":"uncalibrated","says":"This is a model's estimate: measure it on the line and put the measured value in."}],
		"cautions":[{"word":"hot-water","says":"Hot water scalds: mix it before it reaches the hand, and follow the local code for hot taps."}],
		"defer":"`+reckon.CautionDeference+`"}`, string(data))
	// A condition of a row counts for the whole.
	assert.True(t, slices.Contains(r.Words(), "rounded") && slices.Contains(r.Words(), "uncalibrated"))

	with := full()
	with.Pointer = &rowOf{Name: "p", Conditions: doughmath.BelowFreezing}
	r = resultOf(with, Options{Rounded: true, Units: unit.US})
	assert.True(t, slices.Contains(r.Words(), "below-freezing"))
	for path, want := range map[string]string{
		"mass": "5.512 lb", "temp": "70.3 °F", "number": "0.3333", "whole": "-2", "open": "true", "units": "us", "missing": "", "none": "",
		"masses": "0.03527 oz, 0.07055 oz", "inner.A": "0", "pointer.name": "p", "pointer.temp": "", "by_name": `{"a":"0.07055 oz","z":"0.03527 oz"}`,
		"conditions": "uncalibrated", "cautions": "hot-water",
	} {
		got, err := r.Append(nil, path)
		require.NoError(t, err, path)
		assert.Equal(t, want, string(got), path)
	}
	got, err := resultOf(full(), Options{}).Append(nil, "pointer.name")
	require.NoError(t, err)
	assert.Empty(t, got)
}

func TestWritesText(t *testing.T) {
	with := full()
	with.Rows[0].Name = "flour"
	with.Pointer = &rowOf{Name: "p"}
	text, err := resultOf(with, Options{Rounded: true}).AppendText(nil)
	require.NoError(t, err)
	assert.Equal(t, `mass          2.5 kg
temp          21.3 °C
number        0.3333
whole         -2
open          true
units         us
masses        1 g, 2 g
inner.A       0
pointer.name  p
pointer.mass  0 g
by_name       {"a":"2 g","z":"1 g"}
rows:
   name   mass  temp  conditions
1  flour  1 g   1 °C  rounded
2  d      2 g
`, string(text))
}

// A number that is not finite must never pass for a value, wherever it sits.
func TestRefusesWhatIsNotFinite(t *testing.T) {
	for path, spoil := range map[string]func(*everything){
		"mass":    func(e *everything) { e.Mass = unit.Mass(math.NaN()) },
		"temp":    func(e *everything) { e.Temp = unit.Celsius(math.Inf(1)) },
		"number":  func(e *everything) { e.Number = math.Inf(-1) },
		"rows":    func(e *everything) { e.Rows[1].Mass = unit.Mass(math.Inf(1)) },
		"masses":  func(e *everything) { e.Masses[1] = unit.Mass(math.NaN()) },
		"by_name": func(e *everything) { e.ByName["z"] = unit.Mass(math.NaN()) },
		"pointer": func(e *everything) { e.Pointer = &rowOf{Mass: unit.Mass(math.NaN())} },
	} {
		t.Run(path, func(t *testing.T) {
			e := full()
			spoil(&e)
			for _, rounded := range []bool{false, true} {
				r := resultOf(e, Options{Rounded: rounded})
				_, err := r.AppendJSON(nil)
				require.ErrorContains(t, err, path)
				_, err = r.AppendText(nil)
				require.Error(t, err)
				_, err = r.Append(nil, path)
				require.Error(t, err)
			}
		})
	}
	bad := resultOf(struct{}{}, Options{Working: true})
	bad.Working = []reckon.Step{{Value: math.NaN()}}
	_, err := bad.AppendJSON(nil)
	require.Error(t, err)
	assert.Contains(t, string(AppendWorking(nil, []reckon.Step{{Symbol: "x", Value: math.NaN()}}, unit.Metric)), "NaN")
}

func TestRoundedNumbers(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 0.000123456: "0.0001235", 2.99999: "3", 999.96: "1000", 1234.5: "1234", 123456: "123456",
		-1234567.8: "-1234568", 1e300: "1e+300", 1e-300: "1e-300",
	} {
		got, err := appendNumber(nil, v, Options{Rounded: true})
		require.NoError(t, err)
		assert.Equal(t, want, string(got))
		assert.True(t, json.Valid(got))
	}
}

func TestNoPlanForOddTypes(t *testing.T) {
	for _, v := range []any{make(chan int), map[int]int{}, func() {}, uint(1), complex(1, 1)} {
		assert.Panics(t, func() { newOutPlan(reflect.TypeOf(v)) })
	}
}

// What Eval returns with an error cannot be written, and says so.
func TestNoResult(t *testing.T) {
	r, err := Eval("curls", []byte("{}"), Options{})
	require.Error(t, err)
	assert.Nil(t, r.Value())
	for _, write := range []func() ([]byte, error){
		func() ([]byte, error) { return r.AppendJSON(nil) },
		func() ([]byte, error) { return r.AppendText(nil) },
		func() ([]byte, error) { return r.Append(nil, "turns") },
		func() ([]byte, error) { return json.Marshal(r) },
	} {
		_, err := write()
		assert.ErrorIs(t, err, errNoResult)
	}
}
