package whatif

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func differenceAt(t *testing.T, list []Difference, path string) Difference {
	t.Helper()
	for _, d := range list {
		if d.Path == path {
			return d
		}
	}
	t.Fatalf("no %s among %d differences", path, len(list))
	return Difference{}
}

func planComparison(t *testing.T) Comparison {
	day := demo(t)
	return Comparison{Subject: Of(line.Plan{Line: day.Line, Order: day.Orders[0], Shift: day.Shift}), Cases: []Case{
		{Name: "as planned"},
		{Name: "warm", Change: []Change{{"shift.tap", "22 °C"}, {"shift.flour_temp", "26 °C"}}},
		{Name: "heavy", Change: []Change{{"order.product.baked", "60 g"}}},
		{Name: "impossible", Change: []Change{{"shift.mixer.low", "190 kg"}, {"order.pieces", "100"}}},
	}}
}

func TestCompareNumbers(t *testing.T) {
	out, err := planComparison(t).Solve()
	require.NoError(t, err)
	var inputs []string
	for _, d := range out.Inputs {
		inputs = append(inputs, d.Path)
	}
	assert.Equal(t, []string{"order.pieces", "order.product.baked", "shift.flour_temp", "shift.tap", "shift.mixer.low"}, inputs)

	flour := differenceAt(t, out.Inputs, "shift.flour_temp")
	assert.Equal(t, []string{"°C", "C°"}, []string{flour.Unit, flour.Apart})
	assert.Equal(t, []float64{22, 26, 22, 22}, numbers(flour.Cases))
	assert.Equal(t, 4.0, flour.Cases[1].Absolute)
	assert.True(t, math.IsNaN(flour.Cases[1].Relative), "a temperature has no natural zero")

	// By hand: a piece a third heavier; 26 °C of dough less flour and room, 78 - 15 - 22 - 25 °C.
	target := differenceAt(t, out.Outputs, "target")
	assert.InDelta(t, 1/3., target.Cases[2].Relative, 1e-12)
	assert.InDelta(t, 0, target.Cases[1].Absolute, 1e-12)
	assert.Empty(t, target.Cases[1].Because)
	water := differenceAt(t, out.Outputs, "water_temp")
	assert.Equal(t, []float64{16, 12, 16}, numbers(water.Cases[:3]))

	// A refused case has no answers, and says why.
	assert.False(t, target.Cases[3].There)
	require.NotEmpty(t, out.Cases[3].Refusals)
	assert.Empty(t, out.Cases[1].Refusals)
	assert.True(t, out.Cases[1].CautionsGained.Has(reckon.IceHandling))
	assert.True(t, out.Cases[1].CautionsLost.Has(reckon.HotWater))
	for _, d := range out.Outputs {
		assert.Len(t, d.Cases, 4)
		require.False(t, d.Cases[0].equal(&d.Cases[1]) && d.Cases[0].equal(&d.Cases[2]) && d.Cases[0].equal(&d.Cases[3]), d.Path)
	}
	data, err := json.Marshal(out)
	require.NoError(t, err)
	assert.Contains(t, string(data), `{"path":"shift.tap","kind":"number","unit":"°C","difference_unit":"C°","cases":[{"value":15},{"value":22,"absolute":7},{"value":15,"absolute":0},{"value":15,"absolute":0}]}`)
}

func numbers(cells []Cell) []float64 {
	var out []float64
	for _, c := range cells {
		out = append(out, c.Number)
	}
	return out
}

func reasons(c Cell) []string {
	var out []string
	for _, r := range c.Because {
		out = append(out, r.Heading+": "+r.Symbol)
	}
	return out
}

// A difference is explained from the changed input to the output, in the order of the working.
func TestBecause(t *testing.T) {
	out, err := planComparison(t).Solve()
	require.NoError(t, err)
	for _, c := range []struct {
		path string
		of   int
		want []string
	}{
		{"water_temp", 1, []string{"Water temperature: T_f", "Water temperature: S", "Water temperature: T_w"}},
		{"target", 2, []string{"Dough piece: B", "Dough piece: D", "Dough piece to scale: m_b", "Dough piece to scale: m"}},
		{"drum.diameter", 2, []string{"Dough piece: B", "Dough piece: D", "Dough piece to scale: m_b", "Dough piece to scale: m", "Rounding drum: m", "Rounding drum: V", "Rounding drum: d"}},
		{"rate.dough_rate", 2, []string{"Dough piece: B", "Dough piece: D", "Dough piece to scale: m_b", "Dough piece to scale: m", "Rate: m", "Rate: D"}},
		{"water_mass", 2, []string{
			"Dough piece: B", "Dough piece: D", "Dough piece to scale: m_b", "Dough piece to scale: m", "Batches: m", "Batches: m_k", "Batches: D_b",
			"Weighing one batch: D", "Weighing one batch: F", "Weighing one batch: e_2", "Weighing one batch: m_2", "Water and ice: W_1", "Water and ice: W_all",
		}},
	} {
		cell := differenceAt(t, out.Outputs, c.path).Cases[c.of]
		assert.Equal(t, c.want, reasons(cell), c.path)
	}
	// Ice was not needed before: its steps are new, and start at the tap and the flour.
	ice := differenceAt(t, out.Outputs, "ice_to_weigh").Cases[1]
	assert.Equal(t, []string{"Water temperature: T_f", "Water temperature: S", "Water temperature: T_w", "Water and ice: T_tap"}, reasons(ice)[:4])
	last := ice.Because[len(ice.Because)-1]
	assert.Equal(t, []any{"J_set", ice.Number, (*float64)(nil)}, []any{last.Symbol, last.Value, last.Before})
}

// Every chain ends at the value that it explains, has only what changed, and starts at an input that differs or at a step that is new.
func TestEveryChain(t *testing.T) {
	out, err := planComparison(t).Solve()
	require.NoError(t, err)
	changed := map[float64]bool{}
	for _, d := range out.Inputs {
		for _, c := range d.Cases[1:] {
			changed[c.Number] = true
		}
	}
	explained := 0
	var middle []string // the chance is an integral, which the working records and does not work out
	for _, d := range out.Outputs {
		for i, c := range d.Cases[1:] {
			if len(c.Because) == 0 {
				continue
			}
			explained++
			assert.Equal(t, c.Number, c.Because[len(c.Because)-1].Value, "%s of case %d", d.Path, i+1)
			for _, r := range c.Because {
				assert.True(t, r.Before == nil || *r.Before != r.Value || r.Expression != "", "%s: %s", d.Path, r.ID)
			}
			if first := c.Because[0]; first.Before != nil && !(first.Expression == "" && changed[first.Value]) {
				middle = append(middle, d.Path)
			}
		}
	}
	assert.Greater(t, explained, 80)
	assert.Empty(t, middle, "chains that start in the middle")
}

// Words, flags, conditions and parts that come and go.
func TestCompareBake(t *testing.T) {
	own := twoTrays()
	own.Spare, own.Steam, own.Trays = nil, true, own.Trays[:1]
	q := Comparison{Subject: Of(twoTrays()), Cases: []Case{
		{Name: "base"},
		{Name: "hard and hot", Change: []Change{{"crust", "hard"}, {"oven", "290 °C"}}},
		{Name: "its own base", Subject: Of(own)},
		{Name: "too hot", Change: []Change{{"oven", "290 °C"}}},
	}, Units: unit.US}
	out, err := q.Solve()
	require.NoError(t, err)
	crust := differenceAt(t, out.Inputs, "crust")
	assert.Equal(t, []string{"soft", "hard", "soft", "soft"}, []string{crust.Cases[0].Text, crust.Cases[1].Text, crust.Cases[2].Text, crust.Cases[3].Text})
	assert.Equal(t, []float64{446, 554}, numbers(differenceAt(t, out.Inputs, "oven").Cases[:2]))
	assert.InDelta(t, 108, differenceAt(t, out.Inputs, "oven").Cases[1].Absolute, 1e-9)
	assert.Equal(t, "F°", differenceAt(t, out.Inputs, "oven").Apart)
	assert.False(t, differenceAt(t, out.Inputs, "trays[bottom].load").Cases[2].There)
	steam := differenceAt(t, out.Inputs, "steam")
	assert.Equal(t, []bool{false, false, true, false}, []bool{steam.Cases[0].There, steam.Cases[1].There, steam.Cases[2].There, steam.Cases[3].There})

	assert.Equal(t, "oz", differenceAt(t, out.Outputs, "total").Unit)
	assert.Equal(t, "hard", differenceAt(t, out.Outputs, "note").Cases[1].Text)
	assert.False(t, differenceAt(t, out.Outputs, "loaves[bottom].weight").Cases[2].There)
	assert.False(t, differenceAt(t, out.Outputs, "best.weight").Cases[2].There)
	assert.Equal(t, 1.0, differenceAt(t, out.Outputs, "steamed").Cases[2].Number)

	word := func(list []reckon.Remark) (out []string) {
		for _, r := range list {
			out = append(out, r.Path+" "+r.Word)
		}
		return out
	}
	assert.Equal(t, []string{" burnt"}, word(out.Cases[1].Gained))
	assert.Empty(t, out.Cases[1].Lost)
	assert.Equal(t, []string{"best heavy"}, word(out.Cases[2].Lost))
	assert.Equal(t, "high", out.Cases[3].Refusals[0].Binds)

	q.Outputs = []Output{{Path: "total", Unit: "kg"}, {Path: "loaves[0].name"}}
	out, err = q.Solve()
	require.NoError(t, err)
	require.Len(t, out.Outputs, 2, "what was asked for is told, the same or not")
	assert.Equal(t, 1.4, out.Outputs[0].Cases[0].Number)
	assert.Equal(t, "top", out.Outputs[1].Cases[1].Text)
}

// A whole scenario: the orders are known by their names.
func TestCompareScenario(t *testing.T) {
	q := Comparison{Subject: OfScenario(demo(t)), Cases: []Case{
		{Name: "today"}, {Name: "warm tap", Change: []Change{{"shift.tap", "24 °C"}, {"orders[Star bun].product.baked", "46 g"}}},
	}}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Len(t, out.Inputs, 2)
	assert.Equal(t, 46.0, differenceAt(t, out.Inputs, "orders[Star bun].product.baked").Cases[1].Number)
	target := differenceAt(t, out.Outputs, "orders[Star bun].target")
	assert.Equal(t, "Dough piece: B", reasons(target.Cases[1])[0])
	for _, d := range out.Outputs {
		assert.True(t, strings.HasPrefix(d.Path, "orders["), d.Path)
		assert.NotContains(t, d.Path, "orders[0]")
	}
}

func TestCompareRefused(t *testing.T) {
	base := Of(twoTrays())
	two := []Case{{Name: "a"}, {Name: "b"}}
	for name, c := range map[string]struct {
		q    Comparison
		want []string
	}{
		"nothing":      {Comparison{}, []string{"cases: 2 to 20 cases"}},
		"one":          {Comparison{Subject: base, Cases: two[:1]}, []string{"cases: 2 to 20 cases"}},
		"no base":      {Comparison{Cases: two}, []string{"calculation: the id of"}},
		"names":        {Comparison{Subject: base, Cases: []Case{{}, {Name: "a"}, {Name: "a"}}}, []string{"cases[0].name: a name that", "cases[2].name: a name that"}},
		"changes":      {Comparison{Subject: base, Cases: []Case{{Name: "a"}, {Name: "b", Change: []Change{{"ovn", "1 °C"}, {"oven", "1"}, {"crust", "sotf"}, {"count", "11"}, {"steam", "true"}, {"steam", "false"}}}}}, []string{"oven perhaps", "cases[1].change[1].value: a unit", "cases[1].change[2].value: \"soft\" perhaps", "cases[1].change[3].value: 0 to 10", "cases[1].change[5].path: each input once"}},
		"another":      {Comparison{Subject: base, Cases: []Case{{Name: "a"}, {Name: "b", Subject: Of(water())}}}, []string{"cases[1]: a base of bake"}},
		"outputs":      {Comparison{Subject: base, Cases: two, Outputs: []Output{{Path: "totl"}, {Path: "total", Unit: "mm"}, {Path: "note", Unit: "g"}}}, []string{"total perhaps", "outputs[1].unit: a unit of mass", "outputs[2].unit: no unit"}},
		"a base wrong": {Comparison{Calculation: "curls", Base: []byte(`{"length":"300 mm","thickness":"5 mm"}`), Cases: []Case{{Name: "a"}, {Name: "b", Base: []byte(`{"length":"300"}`)}}}, []string{"cases[1].base.length: a unit", "cases[1].base.thickness: a length"}},
		"a day wrong":  {Comparison{Subject: OfScenario(demo(t)), Cases: []Case{{Name: "a"}, {Name: "b", Base: []byte(`{"title":"x"}`)}}}, []string{"cases[1].base.line: an object", "cases[1].base.shift: an object", "cases[1].base.orders: a list"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.q.Solve()
			var got []string
			for _, e := range reckon.InputErrors(err) {
				got = append(got, e.Field+": "+e.Want)
			}
			require.Len(t, got, len(c.want), "%s", strings.Join(got, "\n"))
			for i := range got {
				assert.True(t, strings.HasPrefix(got[i], c.want[i]) || strings.Contains(got[i], c.want[i]), "%s\n%s", got[i], c.want[i])
			}
		})
	}
}

func TestReadComparison(t *testing.T) {
	q, err := ReadComparison([]byte(`{"calculation":"curls","base":{"length":"300 mm","thickness":"5 mm"},"cases":[
		{"name":"as it is"},{"name":"thin","change":[{"path":"thickness","value":"4 mm"}]},{"name":"long","base":{"length":"320 mm","thickness":"5 mm"}}],"outputs":[{"path":"turns"}]}`))
	require.NoError(t, err)
	out, err := q.Solve()
	require.NoError(t, err)
	require.Len(t, out.Outputs, 1)
	assert.Greater(t, out.Outputs[0].Cases[1].Absolute, 0.)
	assert.NotEmpty(t, out.Outputs[0].Cases[1].Because)
	assert.Greater(t, out.Outputs[0].Cases[2].Absolute, 0.)
	data, err := json.Marshal(q)
	require.NoError(t, err)
	again, err := ReadComparison(data)
	require.NoError(t, err)
	same, err := again.Solve()
	require.NoError(t, err)
	a, _ := json.Marshal(out)
	b, _ := json.Marshal(same)
	assert.JSONEq(t, string(a), string(b))
	_, err = ReadComparison([]byte(`{"calculation":"curls","cases":[{"nam":"a"}]}`))
	assert.ErrorContains(t, err, "cases[0].nam is not a known name: want name perhaps")
}

// long answers with a list.
type long struct {
	Count int       `json:"count"`
	List  []float64 `json:"list"`
}

func (long) ID() string                 { return "long" }
func (long) Check(*reckon.Checks)       {}
func (long) Show(*reckon.Working, long) {}
func (q long) Solve() (long, error)     { return long{q.Count, make([]float64, q.Count)}, nil }

// Of an answer that is too long to be looked through, the outputs are to be named.
func TestCompareLong(t *testing.T) {
	q := Comparison{Subject: Of(long{Count: 10_000, List: make([]float64, 10_000)}), Cases: []Case{{Name: "a"}, {Name: "b", Change: []Change{{"list[9999]", "1"}}}}}
	_, err := q.Solve()
	assert.ErrorContains(t, err, "comparison: outputs is missing: want the outputs to compare: the answers have more than 5000 values")
	q.Outputs = []Output{{Path: "list[9999]"}}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "list[9999]", out.Inputs[0].Path, "every input is looked at")
	assert.Equal(t, 0.0, out.Outputs[0].Cases[1].Number)
}
