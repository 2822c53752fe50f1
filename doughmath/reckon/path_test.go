package reckon_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// shelf has all that a path may lead through.
type shelf struct {
	Bowls []bowl        `json:"bowls"`
	First [2]bowl       `json:"first"`
	Spare *bowl         `json:"spare,omitzero"`
	Kept  bowl          `json:"kept,omitzero"`
	Sizes []float64     `json:"sizes" range:"1..9"`
	Tap   unit.Temp     `json:"tap"`
	Turns int           `json:"turns,omitzero"`
	Lots  []lot         `json:"lots"`
	Rate  unit.MassRate `json:"rate" range:"0 kg/h.."`
}

// lot goes by the name of the bowl in it.
type lot struct {
	Count int  `json:"count"`
	Of    bowl `json:"of"`
}

func fullShelf() *shelf {
	return &shelf{
		Bowls: []bowl{{"large", 1000}, {"small", 500}}, First: [2]bowl{{"a", 1}, {"b", 2}}, Spare: &bowl{"spare", 100},
		Kept: bowl{"kept", 7}, Sizes: []float64{3, 4}, Tap: unit.Celsius(15), Turns: 2, Lots: []lot{{5, bowl{"red", 1}}, {6, bowl{"blue", 2}}}, Rate: 9,
	}
}

func TestPath(t *testing.T) {
	q := fullShelf()
	for _, c := range []struct {
		path, at string
		want     float64
	}{
		{"bowls[1].water", "bowls[1].water", 500},
		{"bowls[small].water", "bowls[1].water", 500},
		{"first[1].water", "first[1].water", 2},
		{"first[b].water", "first[1].water", 2},
		{"spare.water", "spare.water", 100},
		{"kept.water", "kept.water", 7},
		{"sizes[0]", "sizes[0]", 3},
		{"tap", "tap", 15},
		{"turns", "turns", 2},
		{"lots[blue].count", "lots[1].count", 6},
		{"rate", "rate", 9},
	} {
		p, err := PathIn(reflect.TypeFor[shelf](), c.path)
		require.NoError(t, err, c.path)
		assert.Equal(t, c.path, p.String())
		v, at, err := p.Place(q)
		require.NoError(t, err, c.path)
		assert.Equal(t, c.at, at)
		n, ok := NumberAt(v)
		require.True(t, ok)
		assert.Equal(t, c.want, n.Value(), c.path)
		r := p.Reader(q)
		got, there := r.Value()
		require.True(t, there, c.path)
		n, _ = NumberAt(got)
		assert.Equal(t, c.want, n.Value(), c.path)
	}
	p, _ := PathIn(reflect.TypeFor[shelf](), "sizes[1]")
	assert.Equal(t, []string{"1..9", "sizes"}, []string{p.Tag.Get("range"), p.Name()})
	assert.Equal(t, reflect.TypeFor[float64](), p.Type)
	p, _ = PathIn(reflect.TypeFor[*shelf](), "rate")
	_, _, err := p.Place(&q)
	assert.NoError(t, err, "through a pointer")
}

// ledger has what a path meets seldom: a part that goes by its kind, because its name is none; a part nobody outside
// sees; a name of one letter; and values that are left out.
type ledger struct {
	Marks  []mark    `json:"marks"`
	Hidden []hidden  `json:"hidden"`
	A      lot       `json:"a"`
	Opt    []float64 `json:"opt,omitzero"`
	Loans  []loan    `json:"loans"`
	Lent   *bowl     `json:"lent,omitzero"`
}

type mark struct {
	Name int     `json:"name"`
	Kind string  `json:"kind"`
	At   float64 `json:"at"`
}

type hidden struct {
	of    bowl
	Count int `json:"count"`
}

type loan struct {
	Of    *bowl     `json:"of"`
	Kept  bowl      `json:"kept"`
	Back  int       `json:"back,omitzero"`
	Given int       `json:"given"`
	Dates []float64 `json:"dates,omitzero"`
}

func TestPathsSeldomMet(t *testing.T) {
	q := &ledger{
		Marks: []mark{{1, "a", 3}, {2, "b", 4}}, Hidden: []hidden{{bowl{"red", 1}, 5}}, A: lot{6, bowl{"blue", 7}}, Opt: []float64{},
		Loans: []loan{{nil, bowl{"x", 0}, 0, 0, []float64{}}, {&bowl{"y", 8}, bowl{"z", 9}, 2, 3, []float64{4}}},
	}
	for path, want := range map[string]float64{
		"marks[b].at": 4, "a.count": 6, "a.of.water": 7, "loans[0].given": 0, "loans[1].of.water": 8, "loans[1].back": 2, "loans[1].dates[0]": 4, "loans[z].given": 3,
	} {
		p, err := PathIn(reflect.TypeFor[ledger](), path)
		require.NoError(t, err, path)
		r := p.Reader(q)
		v, there := r.Value()
		require.True(t, there, path)
		n, ok := NumberAt(v)
		require.True(t, ok, path)
		assert.Equal(t, want, n.Value(), path)
		if path != "loans[z].given" && path != "marks[b].at" {
			_, at, err := p.Place(q)
			require.NoError(t, err)
			assert.Equal(t, path, at)
		}
	}
	for _, path := range []string{"opt", "opt[0]", "loans[0].of.water", "loans[0].of", "loans[0].back", "loans[0].dates", "loans[2].given", "loans[v].given", "lent", "lent.water"} {
		p, err := PathIn(reflect.TypeFor[ledger](), path)
		require.NoError(t, err, path)
		r := p.Reader(q)
		_, there := r.Value()
		assert.False(t, there, path)
	}
	for path, want := range map[string]bool{"a.count": true, "a.of.water": true, "opt": true, "lent": false, "lent.water": false, "marks[0].at": false} {
		p, err := PathIn(reflect.TypeFor[ledger](), path)
		require.NoError(t, err, path)
		r := p.Reader(q)
		assert.Equal(t, want, r.Fixed(), path)
	}
	_, err := PathIn(reflect.TypeFor[ledger](), "hidden[red].count")
	assert.ErrorContains(t, err, "the number of an item, counted from 0")
	for _, path := range []string{".a", "a..count"} {
		_, err = PathIn(reflect.TypeFor[ledger](), path)
		require.Error(t, err, path)
		assert.Equal(t, `""`, InputErrors(err)[0].Value, "nothing stands before the point")
	}
	assert.Equal(t, 5, q.Hidden[0].Count+int(q.Hidden[0].of.Water)-1)
}

func TestPathLost(t *testing.T) {
	for path, want := range map[string]string{
		"bowl":             "bowls perhaps; one of",
		"bowls[x":          `the number or the name of an item, such as "[0]"`,
		"tap[0]":           "no item here: this is not a list",
		"sizes[x]":         "the number of an item, counted from 0",
		"sizes[-1]":        "the number of an item, counted from 0",
		"tap.celsius":      "no name here",
		"bowls[0].wate":    "water perhaps; one of name, water",
		"bowls[0].water.x": "no name here",
	} {
		_, err := PathIn(reflect.TypeFor[shelf](), path)
		require.Error(t, err, path)
		assert.Contains(t, InputErrors(err)[0].Want, want, path)
		assert.Equal(t, path, InputErrors(err)[0].Field)
	}
	empty := &shelf{Bowls: []bowl{{"", 1}}}
	for path, want := range map[string]string{
		"bowls[2].water":    "an item from 0 to 0",
		"bowls[smal].water": "the number of an item, or the name of one",
		"bowls[].water":     "the number of an item, or the name of one",
		"spare.water":       "something to vary: the input has no such part",
	} {
		p, err := PathIn(reflect.TypeFor[shelf](), path)
		require.NoError(t, err, path)
		_, _, err = p.Place(empty)
		require.Error(t, err, path)
		assert.Contains(t, InputErrors(err)[0].Want, want, path)
	}
	p, _ := PathIn(reflect.TypeFor[*shelf](), "rate")
	var none *shelf
	_, _, err := p.Place(&none)
	assert.Error(t, err)
}

// What an answer leaves out is not there, and is again when the answer has it.
func TestReaderAbsent(t *testing.T) {
	a := new(shelf)
	for path, fixed := range map[string]bool{
		"bowls[1].water": false, "bowls[small].water": false, "spare.water": false, "kept.water": true, "turns": true, "lots[blue].of.water": false,
	} {
		p, err := PathIn(reflect.TypeFor[shelf](), path)
		require.NoError(t, err)
		*a = shelf{}
		r := p.Reader(a)
		assert.Equal(t, fixed, r.Fixed(), path)
		_, there := r.Value()
		assert.False(t, there, path)
		*a = *fullShelf()
		_, there = r.Value()
		assert.True(t, there, path)
		*a = shelf{Bowls: []bowl{{"small", 5}}}
		v, there := r.Value()
		assert.Equal(t, path == "bowls[small].water", there, path)
		if there {
			assert.Equal(t, 5.0, v.Float())
		}
	}
	p, err := PathIn(reflect.TypeFor[shelf](), "tap")
	require.NoError(t, err)
	*a = shelf{}
	r := p.Reader(a)
	assert.Zero(t, testing.AllocsPerRun(10, func() { r.Value() }))
	p, _ = PathIn(reflect.TypeFor[shelf](), "lots[blue].of.water")
	*a = *fullShelf()
	r = p.Reader(a)
	assert.Zero(t, testing.AllocsPerRun(10, func() { r.Value() }))
}

func TestItemName(t *testing.T) {
	assert.Equal(t, "red", ItemName(reflect.ValueOf(lot{5, bowl{"red", 1}})))
	assert.Equal(t, "", ItemName(reflect.ValueOf(5.0)))
}

// kept is a calculation that keeps what does not depend on what varies.
type kept struct {
	A float64 `json:"a"`
	B float64 `json:"b"`
}

func (kept) ID() string                   { return "kept" }
func (kept) Check(*Checks)                {}
func (q kept) Solve() (float64, error)    { return q.A + q.B, nil }
func (kept) Show(w *Working, out float64) {}

func (q *kept) Repeat(out *float64, vary []string) func() error {
	b := q.B
	return func() error { *out = q.A + b; return nil }
}

func TestRepeat(t *testing.T) {
	own, out := kept{1, 10}, 0.0
	again := Repeat(&own, &out, []string{"a"})
	own.A, own.B = 2, 20 // b was not to change: it is kept
	require.NoError(t, again())
	assert.Equal(t, 12.0, out)

	q, answer := twoBowls(), poured{}
	again = Repeat(&q, &answer, nil)
	q.Rate = 7.2
	require.NoError(t, again())
	assert.Equal(t, unit.Duration(800), answer.Time)
	q.Count = 99
	assert.Error(t, again())
}
