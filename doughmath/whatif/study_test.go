package whatif

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func path(p string) []Output { return []Output{{Path: p}} }

func values(path string, texts ...string) Factor { return Factor{Path: path, Values: texts} }

// Everything that is wrong with a study is told at once, by its name.
func TestRefused(t *testing.T) {
	of := Of(twoTrays())
	scenario := OfScenario(demo(t))
	for name, c := range map[string]struct {
		study Study
		want  []string // field: a part of what is said
	}{
		"too much": {
			Study{Subject: of, Vary: make([]Factor, 65), Outputs: make([]Output, 1001)},
			[]string{"vary: at most 64 items", "outputs: at most 1000 items"},
		},
		"too many values": {
			Study{Subject: of, Combine: SideBySide, Vary: []Factor{
				{Path: "factor", From: "1", To: "2", Count: 1_000_000},
				{Path: "spare.load", From: "1 g", To: "2 g", Count: 1_000_000},
				{Path: "oven", From: "200 °C", To: "210 °C", Count: 1_000_000},
				{Path: "trays[0].load", From: "1 g", To: "2 g", Count: 1_000_000},
				{Path: "trays[1].load", From: "1 g", To: "2 g", Count: 2},
				values("count", "x"),
			}},
			[]string{"vary[4]: at most 4000000 values"},
		},
		"nothing": {Study{}, []string{"vary: at least one input", "calculation: the id of a calculation with its base"}},
		"an unknown id": {
			Study{Calculation: "water-temprature", Base: []byte("{}"), Vary: []Factor{values("x", "1")}},
			[]string{`calculation: "water-temperature" perhaps`},
		},
		"a base alone":      {Study{Base: []byte("{}"), Vary: []Factor{values("x", "1")}}, []string{"calculation: the id of the calculation that base"}},
		"an id alone":       {Study{Calculation: "curls", Vary: []Factor{values("x", "1")}}, []string{"base: the input of the calculation"}},
		"both":              {Study{Calculation: "curls", Base: []byte("{}"), Scenario: []byte("{}"), Vary: []Factor{values("x", "1")}}, []string{"scenario: nothing beside"}},
		"a bad base":        {Study{Calculation: "curls", Base: []byte(`{"length":"300"}`), Vary: []Factor{values("x", "1")}}, []string{"base.length: a unit after", "base.thickness: a length"}},
		"no orders":         {Study{Scenario: []byte(`{"title":"x"}`), Vary: []Factor{values("x", "1")}}, []string{"scenario.line: an object", "scenario.shift: an object", "scenario.orders: a list"}},
		"unknown paths":     {Study{Subject: of, Vary: []Factor{values("ovn", "200 °C"), values("trays[tpo].load", "1 g"), values("trays[5].load", "1 g"), values("crust.x", "y")}, Outputs: path("totl")}, []string{"vary[0].path: oven perhaps", "vary[1].path: top perhaps", "vary[2].path: an item from 0 to 1", "vary[3].path: no name here", "outputs[0].path: total perhaps"}},
		"no single value":   {Study{Subject: of, Vary: []Factor{values("trays", "1 g"), values("", "1")}, Outputs: path("loaves")}, []string{"vary[0].path: the path of one number", "vary[1].path: the path of one number", "outputs[0].path: the path of one number"}},
		"conditions":        {Study{Subject: of, Vary: []Factor{values("count", "1")}, Outputs: path("conditions")}, []string{"outputs[0].path: an output: every row has its conditions"}},
		"wrong units":       {Study{Subject: of, Vary: []Factor{values("oven", "200", "200 g", "200 °C"), values("factor", "1 g"), values("count", "1.5")}}, []string{"vary[0].values[0]: a unit after the number", "vary[0].values[1]: a unit of temperature", "vary[1].values[0]: a number without a unit", "vary[2].values[0]: a whole number"}},
		"out of range":      {Study{Subject: of, Vary: []Factor{values("oven", "99 °C", "573.2 K"), values("trays[top].load", "0 g", "10 kg"), values("count", "11")}}, []string{"vary[0].values[0]: 100 °C to 300 °C", "vary[0].values[1]: 100 °C to 300 °C", "vary[1].values[0]: more than 0 g to 10 kg", "vary[2].values[0]: 0 to 10"}},
		"unknown words":     {Study{Subject: of, Vary: []Factor{values("crust", "soft", "hrad"), values("steam", "yes")}}, []string{`vary[0].values[1]: "hard" perhaps`, "vary[1].values[0]: true or false"}},
		"twice the same":    {Study{Subject: of, Vary: []Factor{values("trays[0].load", "1 g"), values("trays[top].load", "1 g")}, Outputs: []Output{{Path: "total"}, {Path: "total"}, {Path: "total", Unit: "kg"}}}, []string{"vary[1].path: each input once", "outputs[1].path: each output once"}},
		"backwards":         {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "200 °C", Count: 3}}}, []string{"vary[0].to: more than from"}},
		"empty":             {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "220 °C", Step: "1 C°"}}}, []string{"vary[0].to: more than from"}},
		"no step":           {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C"}}}, []string{"vary[0].step: a step, or a count"}},
		"a step of zero":    {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C", Step: "0 C°"}}}, []string{"vary[0].step: more than 0"}},
		"a step back":       {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C", Step: "-1 C°"}}}, []string{"vary[0].step: more than 0"}},
		"a step too long":   {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C", Step: "11 C°"}}}, []string{"vary[0].step: at most from"}},
		"a step too short":  {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C", Step: "1e-9 C°"}}}, []string{"vary[0].step: a step that makes at most"}},
		"a step of no size": {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C", Step: "1e-320 C°"}}}, []string{"vary[0].step: a step that makes at most"}},
		"step and count":    {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C", Step: "1 C°", Count: 2}}}, []string{"vary[0].count: nothing beside a step"}},
		"a count of one":    {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", To: "230 °C", Count: 1}}}, []string{"vary[0].count: a whole number from 2"}},
		"half a count":      {Study{Subject: of, Vary: []Factor{{Path: "count", From: "1", To: "4", Count: 3}}}, []string{"vary[0].count: a count that gives whole numbers"}},
		"half a range":      {Study{Subject: of, Vary: []Factor{{Path: "oven", From: "220 °C", Count: 2}}}, []string{"vary[0].to: a number and a unit"}},
		"a range of words":  {Study{Subject: of, Vary: []Factor{{Path: "crust", From: "a", To: "b", Count: 2}, {Path: "steam", From: "false", To: "true", Count: 2}}}, []string{"vary[0]: values: a word has no range", "vary[1]: values: a flag has no range"}},
		"two ways":          {Study{Subject: of, Vary: []Factor{{Path: "oven", Values: []string{"220 °C"}, From: "220 °C"}, {Path: "count"}}}, []string{"vary[0]: one of them", "vary[1]: one of them"}},
		"nothing to draw":   {Study{Subject: of, Vary: []Factor{{Path: "oven", Distribution: Distribution{Shape: Uniform, Low: "200 °C", High: "220 °C"}}}}, []string{"vary[0].distribution: values or a range"}},
		"columns":           {Study{Subject: of, Vary: []Factor{{Path: "oven", Values: []string{"220 °C"}, Unit: "kg"}, {Path: "count", Values: []string{"1"}, Unit: "kg"}}, Outputs: []Output{{Path: "total", Unit: "mm"}, {Path: "note", Unit: "mm"}}}, []string{"vary[0].unit: a unit of temperature", "vary[1].unit: no unit", "outputs[0].unit: a unit of mass", "outputs[1].unit: no unit"}},
		"combined": {
			Study{Subject: of, Vary: []Factor{values("count", "1", "2"), values("crust", "soft")}, Combine: SideBySide, Samples: 3, Limit: -1},
			[]string{"samples: nothing, or", "limit: a whole number from 1", "vary[1]: 2, as many as"},
		},
		"a way unknown":    {Study{Subject: of, Vary: []Factor{values("count", "1", "2")}, Combine: "gird"}, []string{`combine: "grid"`, "samples: a whole number from 1"}},
		"a seed":           {Study{Subject: of, Vary: []Factor{values("count", "1", "2")}, Seed: 1}, []string{"seed: nothing, or"}},
		"too many":         {Study{Subject: of, Vary: []Factor{values("count", "1", "2"), values("crust", "soft", "hard")}, Limit: 3}, []string{"vary: at most 3"}},
		"beyond counting":  {Study{Subject: of, Vary: many(), Force: true}, []string{"vary: at most 1000000"}},
		"of no order":      {Study{Subject: scenario, Vary: []Factor{values("orders[Star bnu].pieces", "100"), values("title", "x")}, Outputs: []Output{{Path: "orders[9].target"}, {Path: "orders[Star].target"}, {Path: "orders[0].name"}, {Path: "line"}}}, []string{"vary[0].path: Star bun perhaps", "vary[1].path: the path of one number", "outputs[0].path: an item from 0 to 3", "outputs[1].path: the number of an item", "outputs[2].path: one of piece", "outputs[3].path: one of orders"}},
		"without its part": {Study{Subject: scenario, Vary: []Factor{values("tap", "10 °C"), values("baked", "45 g")}, Outputs: path("water_temp")}, []string{"vary[0].path: shift.tap perhaps", "vary[1].path: orders[Star bun].product.baked or orders[Long picnic roll].product.baked or", "outputs[0].path: orders[Star bun].water_temp or orders[Long"}},
		"without effect":   {Study{Subject: scenario, Vary: []Factor{values("orders[Star bun].pieces", "100")}, Outputs: path("orders[1].target")}, []string{"vary[0].path: an input that a wanted output depends on"}},
		"a part not there": {Study{Subject: Of(bake{}), Vary: []Factor{values("spare.load", "1 g")}}, []string{"vary[0].path: something to vary: the input has no such part"}},
		"a hostile text":   {Study{Subject: of, Vary: []Factor{values("count", strings.Repeat("9", 100_000)), values(strings.Repeat("x", 100_000), "1"), values("factor", "NaN", "Inf", "")}}, []string{"vary[0].values[0]: a number of at most 64", "vary[1].path: one of", "vary[2].values[0]: a number", "vary[2].values[1]: a number", "vary[2].values[2]: a number"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.study.Compile()
			var got []string
			for _, e := range reckon.InputErrors(err) {
				got = append(got, e.Field+": "+e.Want)
				assert.Equal(t, "study", e.Func)
				assert.Less(t, len(e.Value), 1100)
			}
			require.Len(t, got, len(c.want), "%s", strings.Join(got, "\n"))
			for i := range got {
				field, part, _ := strings.Cut(c.want[i], ": ")
				assert.True(t, strings.HasPrefix(got[i], field+": ") && strings.Contains(got[i], part), "%s\n%s", got[i], c.want[i])
			}
		})
	}
}

// many varies so many inputs that the grid cannot be counted.
func many() []Factor {
	var out []Factor
	for _, p := range []string{"factor", "trays[0].load", "trays[1].load", "spare.load"} {
		f := Factor{Path: p, From: "1 g", To: "2 g", Count: 100_000}
		if p == "factor" {
			f.From, f.To = "1", "2"
		}
		out = append(out, f)
	}
	return out
}

// A size is said before anything runs, and a larger one runs if it is forced.
func TestSize(t *testing.T) {
	s := Study{Subject: Of(twoTrays()), Vary: []Factor{
		{Path: "factor", From: "1", To: "2", Count: 1001}, {Path: "oven", From: "200 °C", To: "210 °C", Step: "0.01 C°"},
	}, Outputs: path("total")}
	_, err := s.Compile()
	assert.EqualError(t, err, "study: vary is 1002001 scenarios: want at most 1000000: fewer values, a higher limit, or force to run them all the same")
	s.Force = true
	c, err := s.Compile()
	require.NoError(t, err)
	assert.Equal(t, 1002001, c.Size())
	r, err := c.At(1002000)
	require.NoError(t, err)
	assert.Equal(t, []float64{2, 210, 2800}, r.Values)
	for _, i := range []int{-1, 1002001} {
		_, err = c.At(i)
		assert.ErrorContains(t, err, "want a whole number from 0 to 1002000")
	}
	s.Force, s.Limit = false, 2_000_000
	_, err = s.Compile()
	assert.NoError(t, err)
}

// The steps of a range are the decimals that a person would write, and its ends are hit.
func TestSteps(t *testing.T) {
	for _, c := range []struct {
		f    Factor
		want []float64
	}{
		{Factor{Path: "factor", From: "0", To: "0.7", Step: "0.1"}, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7}},
		{Factor{Path: "factor", From: "-0.3", To: "0.3", Step: "0.1"}, []float64{-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3}},
		{Factor{Path: "factor", From: "0", To: "1", Step: "0.3"}, []float64{0, 0.3, 0.6, 0.9}},
		{Factor{Path: "factor", From: "0", To: "1", Count: 4}, []float64{0, 0.333333333333333, 0.666666666666667, 1}},
		{Factor{Path: "count", From: "0", To: "9", Count: 4}, []float64{0, 3, 6, 9}},
		{Factor{Path: "count", From: "1", To: "6", Step: "2"}, []float64{1, 3, 5}},
		{Factor{Path: "oven", From: "392 °F", To: "397 °F", Step: "1 F°"}, []float64{392, 393, 394, 395, 396, 397}},
		{Factor{Path: "oven", From: "473.15 K", To: "475.15 K", Step: "1 C°"}, []float64{473.15, 474.15, 475.15}},
		{Factor{Path: "trays[0].load", From: "1 lb", To: "2 lb", Step: "4 oz"}, []float64{1, 1.25, 1.5, 1.75, 2}},
		{Factor{Path: "trays[0].load", From: "1 lb", To: "2 lb", Step: "8 oz", Unit: "oz"}, []float64{16, 24, 32}},
		{Factor{Path: "trays[0].load", Values: []string{"1 lb 8 oz", "1e3 g"}}, []float64{680.388555, 1000}},
		{Factor{Path: "trays[0].load", Values: []string{"1e3 g", "2 kg"}}, []float64{1000, 2000}},
	} {
		s := Study{Subject: Of(twoTrays()), Vary: []Factor{c.f}}
		compiled, err := s.Compile()
		require.NoError(t, err, "%+v", c.f)
		var got []float64
		for _, r := range all(t, compiled, Options{}) {
			got = append(got, r.Values[0])
		}
		assert.Equal(t, c.want, got, "%+v", c.f)
	}
}

// Columns have one unit each, which stands in the name.
func TestColumns(t *testing.T) {
	s := Study{
		Subject: Of(twoTrays()),
		Vary:    []Factor{{Path: "oven", Values: []string{"400 °F"}}, {Path: "trays[top].load", Values: []string{"1 kg"}}, values("crust", "hard"), values("steam", "true"), values("count", "2")},
		Outputs: []Output{{Path: "total"}, {Path: "total", Unit: "lb"}, {Path: "core"}, {Path: "note"}, {Path: "steamed"}},
		Units:   unit.US,
	}
	c, err := s.Compile()
	require.NoError(t, err)
	var names []string
	var kinds []Kind
	for _, col := range c.Columns() {
		names, kinds = append(names, col.Name), append(kinds, col.Kind)
	}
	assert.Equal(t, []string{"oven (°F)", "trays[top].load (kg)", "crust", "steam", "count", "total (oz)", "total (lb)", "core (°F)", "note", "steamed"}, names)
	assert.Equal(t, []Kind{Number, Number, Word, Flag, Whole, Number, Number, Number, Word, Flag}, kinds)
	r, err := c.At(0)
	require.NoError(t, err)
	require.NoError(t, r.Err())
	assert.InDeltaSlice(t, []float64{400, 1, 1, 2, 1900 / 28.349523125, 1900 / 453.59237, 400, 1}, pick(r.Values, 0, 1, 3, 4, 5, 6, 7, 9), 1e-12)
	assert.Equal(t, []string{"hard", "hard", "", ""}, []string{r.Word(2), r.Word(8), r.Word(0), r.Word(99)})
	assert.True(t, math.IsNaN(r.Values[2]) && math.IsNaN(r.Values[8]))
}

func pick(v []float64, at ...int) (out []float64) {
	for _, i := range at {
		out = append(out, v[i])
	}
	return out
}

// An output that has the path of an input has a name of its own.
func TestSameName(t *testing.T) {
	c, err := Study{Subject: Of(echo{1}), Vary: []Factor{values("load", "1 g")}, Outputs: path("load")}.Compile()
	require.NoError(t, err)
	assert.Equal(t, "load (g)", c.Columns()[0].Name)
	assert.Equal(t, "answer.load (g)", c.Columns()[1].Name)
}

// echo answers with what it is asked.
type echo struct {
	Load unit.Mass `json:"load"`
}

func (echo) ID() string                 { return "echo" }
func (echo) Check(*reckon.Checks)       {}
func (q echo) Solve() (echo, error)     { return q, nil }
func (echo) Show(*reckon.Working, echo) {}

// What is read is what was written.
func TestStudyJSON(t *testing.T) {
	for name, s := range map[string]Study{
		"a calculation": smallStudy(),
		"a plan":        planStudy(t),
		"a scenario": {
			Subject: OfScenario(demo(t)), Vary: []Factor{{Path: "shift.tap", From: "10 °C", To: "20 °C"}, {Path: "shift.room", Distribution: Distribution{Shape: Normal, Mean: "25 °C", SD: "1 C°"}}},
			Combine: Random, Samples: 5, Seed: 7, Outputs: []Output{{Path: "orders[Star bun].water_temp", Unit: "°F"}}, Units: unit.US, Limit: 10, Force: true,
		},
	} {
		data, err := json.Marshal(s)
		require.NoError(t, err, name)
		back, err := ReadStudy(data)
		require.NoError(t, err, name)
		again, err := json.Marshal(back)
		require.NoError(t, err, name)
		assert.JSONEq(t, string(data), string(again), name)
		one, err := s.Compile()
		require.NoError(t, err, name)
		two, err := back.Compile()
		require.NoError(t, err, name)
		assert.Equal(t, one.Columns(), two.Columns(), name)
		for _, i := range []int{0, one.Size() - 1} {
			a, err := one.At(i)
			require.NoError(t, err)
			b, err := two.At(i)
			require.NoError(t, err)
			assert.Equal(t, a.Values, b.Values, name)
		}
	}
}

// The JSON in the package comment is read and runs.
func TestPackageComment(t *testing.T) {
	source, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	var texts []string
	inside := false
	for line := range strings.Lines(string(source)) {
		text, code := strings.CutPrefix(line, "//\t")
		if code && text == "{\n" {
			texts, inside = append(texts, ""), true
		}
		if inside = inside && code; inside {
			texts[len(texts)-1] += text
		}
	}
	require.Len(t, texts, 2)
	s, err := ReadStudy([]byte(texts[0]))
	require.NoError(t, err)
	c, err := s.Compile()
	require.NoError(t, err)
	assert.Equal(t, 14, c.Size())
	assert.Equal(t, "water_temp (°F)", c.Columns()[3].Name)
	for _, r := range all(t, c, Options{}) {
		assert.NoError(t, r.Err())
	}
	q, err := ReadComparison([]byte(texts[1]))
	require.NoError(t, err)
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Len(t, out.Outputs, 1)
}

func TestReadStudy(t *testing.T) {
	_, err := ReadStudy([]byte(`{"calculation":"curls","base":{"length":"300 mm","thickness":"5"},"vary":[{"path":"length","values":["1 mm"],"form":"2"}],"output":[]}`))
	var got []string
	for _, e := range reckon.InputErrors(err) {
		got = append(got, e.Field)
	}
	assert.Equal(t, []string{"vary[0].form", "output"}, got)
	_, err = ReadStudy([]byte(`{"calculation":"curls","base":{"length":"300 mm","thickness":"5"},"vary":[{"path":"length","values":["1 mm"]}]}`))
	assert.ErrorContains(t, err, "study: base.thickness is ")
	_, err = ReadStudy([]byte(`{"vary":[`))
	assert.ErrorContains(t, err, "study: the input is")
}

// A study says before it starts that its base has no answer, and may run all the same.
func TestBaseRefused(t *testing.T) {
	q := twoTrays()
	q.Oven = unit.Celsius(290)
	c, err := Study{Subject: Of(q), Vary: []Factor{values("oven", "240 °C", "300 °C")}, Outputs: path("total")}.Compile()
	require.NoError(t, err)
	require.Len(t, c.BaseRefused(), 1)
	assert.Equal(t, "soft crust", c.BaseRefused()[0].Unknown)
	rows := all(t, c, Options{})
	assert.Equal(t, 1400.0, rows[0].Values[1])
	assert.Empty(t, rows[0].Refusals())
	assert.True(t, math.IsNaN(rows[1].Values[1]))
	assert.Equal(t, []Refusal{{Refusal: reckon.Refusal{
		Kind: "no-solution", Calculation: "bake", Unknown: "soft crust", Wanted: "300 °C", High: "280 °C", Advice: "bake it cooler",
	}, Binds: "high"}}, rows[1].Refusals())

	c, err = Study{Subject: Of(twoTrays()), Vary: []Factor{values("oven", "240 °C")}}.Compile()
	require.NoError(t, err)
	assert.Nil(t, c.BaseRefused())
}
