package describe

import (
	"encoding/json"
	"reflect"
	"regexp"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func about(t *testing.T, id string) Description {
	t.Helper()
	e, ok := calc.Lookup(id)
	require.True(t, ok)
	return Of(e)
}

func names(list []Field) []string {
	var out []string
	for _, f := range list {
		out = append(out, f.Name)
	}
	return out
}

func TestOf(t *testing.T) {
	d := about(t, "water-temperature")
	assert.Contains(t, d.Relation, "T_w = B - (T_f + T_r + T_3 + T_4)\n")
	assert.Equal(t, []string{"target_temp", "flour_temp", "room", "third", "fourth", "friction", "friction_basis", "yeast", "yeast_step", "water", "tap", "hot_tap"}, names(d.Inputs))
	assert.Equal(t, []string{"weigh", "weigh.ice", "weigh.tap_water", "weigh.hot_water", "weigh.acts_like", "water_temp", "factors", "base", "conditions", "cautions"}, names(d.Outputs))
	target, room, basis := d.Inputs[0], d.Inputs[2], d.Inputs[6]
	assert.Equal(t, "T_d", target.Symbol)
	assert.Equal(t, "temperature", target.Kind)
	assert.Equal(t, []string{"°C", "°F", "K"}, target.Units)
	assert.Equal(t, reckon.Range{Low: "0 °C", High: "45 °C"}, target.Range)
	assert.False(t, target.Optional)
	assert.True(t, room.Optional)
	assert.Contains(t, room.Absent, "leave out for the two-factor rule")
	assert.Equal(t, "word", basis.Kind)
	require.Len(t, basis.Choices, 2)
	assert.Equal(t, "once", basis.Choices[0].Word)
	assert.Equal(t, "below-freezing", d.Conditions[0].Word)
	assert.NotEmpty(t, d.Cautions)
	assert.NotEmpty(t, d.Sources)
	data, err := json.Marshal(d)
	require.NoError(t, err)
	assert.Contains(t, string(data), `"range":{"low":"0 °C","high":"45 °C"}`)
	page, err := d.AppendMarkdown(nil, unit.US, nil)
	require.NoError(t, err)
	assert.Contains(t, string(page), "68 °F")
	assert.Contains(t, string(page), "- `target_temp`, T_d (temperature, 0 °C to 45 °C): wanted dough temperature.\n")
	assert.Contains(t, string(page), "**The other way round**: `dough-temperature-for-water`, `friction-factor`.\n")
}

// A kitchen has every kind of field, for the names and symbols of its parts.
type kitchen struct {
	Pan    pan               `json:"pan" sym:"1"`
	Spare  *pan              `json:"spare,omitzero" sym:"2"`
	Hidden pan               `json:"hidden" sym:"-"`
	Rows   []pan             `json:"rows" items:"1..5"`
	Shares []float64         `json:"shares,omitzero" sym:"w_#" range:">0..1" items:"2..9"`
	Count  int               `json:"count,omitzero" sym:"n,0" range:"0..5"`
	By     map[string]string `json:"by"`
	Open   bool              `json:"open"`
	Marks  reckon.Cautions   `json:"marks"`
	pan
}

type pan struct {
	Weight unit.Mass `json:"weight" sym:"m_#" range:">0 g.."`
	Parts  []part    `json:"parts"`
}

type part struct {
	Side unit.Length `json:"side" sym:"a_#"`
}

func TestFields(t *testing.T) {
	type line struct {
		symbol, kind, limits, items string
	}
	got := map[string]line{}
	var order []string
	for _, f := range new(docs).fields(reflect.TypeFor[kitchen]()) {
		got[f.Name] = line{f.Symbol, f.Kind, f.Range.String(), f.Items.String()}
		order = append(order, f.Name)
	}
	assert.Equal(t, map[string]line{
		"pan": {"", "object", "", ""}, "pan.weight": {"m_1", "mass", "more than 0 g", ""}, "pan.parts[]": {"", "object", "", ""}, "pan.parts[].side": {"a_i", "length", "", ""},
		"spare": {"", "object", "", ""}, "spare.weight": {"m_2", "mass", "more than 0 g", ""}, "spare.parts[]": {"", "object", "", ""}, "spare.parts[].side": {"a_i", "length", "", ""},
		"hidden": {"", "object", "", ""}, "hidden.weight": {"", "mass", "more than 0 g", ""}, "hidden.parts[]": {"", "object", "", ""}, "hidden.parts[].side": {"", "length", "", ""},
		"rows[]": {"", "object", "", "1 to 5"}, "rows[].weight": {"m_i", "mass", "more than 0 g", ""}, "rows[].parts[]": {"", "object", "", ""}, "rows[].parts[].side": {"a_i", "length", "", ""},
		"shares[]": {"w_i", "number", "more than 0 to 1", "2 to 9"}, "count": {"n", "whole number", "0 to 5", ""},
		"by{}": {"", "text", "", ""}, "open": {"", "true or false", "", ""}, "marks": {"", "list of cautions", "", ""},
		"weight": {"m_#", "mass", "more than 0 g", ""}, "parts[]": {"", "object", "", ""}, "parts[].side": {"a_i", "length", "", ""},
	}, got)
	assert.Equal(t, []string{"pan", "pan.weight", "pan.parts[]", "pan.parts[].side", "spare"}, order[:5])
}

func TestBrokenTexts(t *testing.T) {
	_, err := readDocs([]byte("{"))
	require.Error(t, err)
	// A calculation that the texts do not know yet is still described by its types.
	e, ok := calc.Lookup("curls")
	require.True(t, ok)
	d := new(docs).describe(e)
	assert.Equal(t, "length", d.Inputs[0].Name)
	assert.Equal(t, "length", d.Inputs[0].Kind)
	assert.Empty(t, d.Summary)
}

// Field names are lower case with underscores, so that nobody has to guess.
func TestFieldNames(t *testing.T) {
	plain := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*((\.|\[\]|\{\})+[a-z][a-z0-9]*(_[a-z0-9]+)*)*(\[\]|\{\})*$`)
	for _, e := range calc.Entries() {
		in, out := e.Types()
		for _, name := range append(names(new(docs).fields(in)), names(new(docs).fields(out))...) {
			assert.Regexp(t, plain, name, e.ID)
		}
	}
}

// Everything may be called from several goroutines at once.
func TestConcurrentUse(t *testing.T) {
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for _, e := range calc.Entries() {
				if Of(e).ID != e.ID || len(InputSchema(e)) == 0 || len(OutputSchema(e)) == 0 {
					t.Error(e.ID)
				}
			}
		})
	}
	all.Wait()
}
