package reckon_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A cell takes a text as strictly as Decode takes JSON, and what it refuses changes nothing.
func TestCell(t *testing.T) {
	for _, c := range []struct {
		path, unit string
		takes      map[string]func(*input) bool
		refuses    []string
	}{
		{"target", "", map[string]func(*input) bool{"20 °C": func(q *input) bool { return q.Target == unit.Celsius(20) }}, []string{"", "20", "20 g", "x"}},
		{"target", "°F", map[string]func(*input) bool{
			"68": func(q *input) bool { return q.Target == unit.Fahrenheit(68) }, "20 °C": func(q *input) bool { return q.Target == unit.Celsius(20) },
		}, []string{"", "warm"}},
		{"count", "", map[string]func(*input) bool{
			"5": func(q *input) bool { return q.Count == 5 }, "-7": func(q *input) bool { return q.Count == -7 }, "0": func(q *input) bool { return q.Count == 0 },
		}, []string{"", "05", "+5", " 5", "5 ", "5\n", "5.0", "1e2", "0x5", "99999999999999999999", "five"}},
		{"small", "", map[string]func(*input) bool{"127": func(q *input) bool { return q.Small == 127 }, "-128": func(q *input) bool { return q.Small == -128 }}, []string{"128", "-129"}},
		{"factor", "", map[string]func(*input) bool{
			"1.5": func(q *input) bool { return q.Factor == 1.5 }, "-1e-3": func(q *input) bool { return q.Factor == -0.001 },
			"0." + strings.Repeat("1", 62): func(q *input) bool { return math.Abs(q.Factor-1.0/9) < 1e-15 },
		}, []string{"", ".5", "1.", "+1", "NaN", "Inf", "1_0", "0x1p2", " 1", "1 ", "1 g", "1e999", "0." + strings.Repeat("1", 63)}},
		{"open", "", map[string]func(*input) bool{"true": func(q *input) bool { return q.Open }, "false": func(q *input) bool { return !q.Open }}, []string{"", "TRUE", "t", "1"}},
		{"units", "", map[string]func(*input) bool{"us": func(q *input) bool { return q.Units == unit.US }}, []string{"", "eu"}},
		{"basis", "", map[string]func(*input) bool{"once": func(q *input) bool { return q.Basis == "once" }, "": func(q *input) bool { return q.Basis == "" }}, []string{"\xff"}},
		{"pieces[1].weight", "oz", map[string]func(*input) bool{"3": func(q *input) bool { return q.Pieces[1].Weight == unit.Ounces(3) }}, []string{""}},
		{"extra.weight", "", map[string]func(*input) bool{"3 g": func(q *input) bool { return q.Extra.Weight == 3 }}, []string{"3"}},
	} {
		filled := func() *input {
			return &input{Target: unit.Celsius(1), Count: 1, Small: 1, Factor: 1, Basis: "x", Pieces: []piece{{1, ""}, {1, ""}}, Extra: &piece{1, ""}}
		}
		for text, is := range c.takes {
			q := filled()
			cell, err := CellIn(q, c.path, c.unit)
			require.NoError(t, err, c.path)
			assert.Equal(t, c.path, cell.At)
			assert.True(t, cell.Set(text) && is(q), "%s = %q", c.path, text)
		}
		for _, text := range c.refuses {
			q := filled()
			cell, err := CellIn(q, c.path, c.unit)
			require.NoError(t, err, c.path)
			assert.False(t, cell.Set(text), "%s = %q", c.path, text)
			assert.Equal(t, filled(), q, "%s = %q", c.path, text)
		}
	}
	q := &input{Count: 3, Pieces: []piece{{1, ""}}}
	for path, want := range map[string]bool{"target": true, "room": false, "count": false, "pieces[0].weight": true, "pieces[0].note": false} {
		cell, err := CellIn(q, path, "")
		require.NoError(t, err, path)
		assert.Equal(t, want, cell.Required, path)
	}
	sizes, err := CellIn(&struct {
		Sizes []float64 `json:"sizes,omitzero"`
	}{[]float64{1}}, "sizes[0]", "")
	require.NoError(t, err)
	assert.True(t, sizes.Required, "an item is there, or the list is shorter")
	count, err := CellIn(q, "count", "")
	require.NoError(t, err)
	count.Clear()
	assert.Zero(t, q.Count)
	for _, c := range [][3]string{
		{"target", "mm", "a temperature in quotes"},
		{"count", "g", "no unit here"},
		{"basis", "g", "no unit here"},
		{"units", "g", "no unit here"},
		{"open", "g", "no unit here"},
		{"factor", "g", "no unit here"},
		{"pieces", "", "the path of a single value"},
		{"pieces[0]", "", "the path of a single value"},
		{"limits", "", "the path of a single value"},
		{"words", "", "the path of a single value"},
		{"tagret", "", "target perhaps"},
		{"extra.weight", "", "something to vary: the input has no such part"},
		{"pieces[1].weight", "", "an item from 0 to 0"},
	} {
		_, err := CellIn(q, c[0], c[1])
		assert.ErrorContains(t, err, c[2], c[0])
	}
}

// A number is set if it can be held: what counts something is whole, and no larger than a float64 tells from its neighbours.
func TestNumberSet(t *testing.T) {
	q := &input{}
	small, err := NumberIn(q, "small")
	require.NoError(t, err)
	count, err := NumberIn(q, "count")
	require.NoError(t, err)
	for x, want := range map[float64]bool{127: true, -128: true, 128: false, -129: false, 1.5: false, math.Inf(1): false} {
		assert.Equal(t, want, small.Set(x), "%v", x)
	}
	assert.False(t, count.Set(math.NaN()))
	wide := strconv.IntSize == 64 // otherwise an int holds no such number
	for x, want := range map[float64]bool{1 << 53: wide, 1<<53 + 2: false, -(1 << 53): wide, 0: true, -0.5: false} {
		assert.Equal(t, want, count.Set(x), "%v", x)
		if want {
			assert.Equal(t, x, count.Value())
		}
	}
	room, err := NumberIn(q, "room")
	require.NoError(t, err)
	assert.True(t, math.IsNaN(room.Value()), "not given")
	assert.True(t, room.Set(0))
	assert.Equal(t, unit.Celsius(0), q.Room)
	assert.Equal(t, []string{"°C", ""}, []string{room.Held, small.Held})
}
