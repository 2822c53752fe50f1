package reckon_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// pour is an invented calculation: how long water runs into bowls.
type pour struct {
	Bowls []bowl        `json:"bowls"`
	Count int           `json:"count"`
	Tap   unit.Temp     `json:"tap,omitzero"`
	Rate  unit.MassRate `json:"rate"`
	Spare *bowl         `json:"spare,omitzero"`
	Word  string        `json:"word"`
}

type bowl struct {
	Name  string    `json:"name"`
	Water unit.Mass `json:"water"`
}

type poured struct {
	Time unit.Duration `json:"time" sym:"t"`
	Tap  unit.Temp     `json:"tap"`
}

func (pour) ID() string { return "pour" }

func (q pour) Check(c *Checks) {
	CheckPositive(c, "rate", q.Rate)
	CheckCount(c, "count", q.Count, 0, 10)
}

func (q pour) Solve() (out poured, err error) {
	c := Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	sum := unit.Mass(0)
	for _, b := range q.Bowls {
		sum += b.Water
	}
	if q.Spare != nil {
		sum += q.Spare.Water
	}
	return poured{Time: unit.Duration(float64(q.Count) * float64(sum) * 3.6 / float64(q.Rate)), Tap: q.Tap}, nil
}

func (q pour) Show(w *Working, out poured) { w.Given("time", "t", float64(out.Time), "s", "") }

func twoBowls() pour {
	return pour{Bowls: []bowl{{"large", 1000}, {"small", 500}}, Count: 1, Rate: 3.6, Spare: &bowl{"spare", 100}}
}

func TestVary(t *testing.T) {
	q := twoBowls()
	for _, c := range []struct {
		path   string
		values []float64
		want   []float64
	}{
		{"rate", []float64{3.6, 7.2}, []float64{1600, 800}},
		{"bowls[1].water", []float64{0, 100}, []float64{1100, 1200}},
		{"bowls[small].water", []float64{0, 100}, []float64{1100, 1200}},
		{"spare.water", []float64{0, 1}, []float64{1500, 1501}},
		{"count", []float64{2, 3}, []float64{3200, 4800}},
	} {
		all, err := Vary(q, c.path, c.values)
		require.NoError(t, err, c.path)
		for range 2 { // a sequence can be gone through again
			i := 0
			for x, a := range all {
				require.NoError(t, a.Err)
				assert.Equal(t, c.values[i], x)
				assert.InDelta(t, c.want[i], float64(a.Value.Time), 1e-9, "%s = %v", c.path, x)
				i++
			}
			assert.Equal(t, len(c.want), i)
		}
	}
	assert.Equal(t, twoBowls(), q, "what is varied is a copy, its lists too")
	n, err := NumberIn(&q, "bowls[large].water")
	require.NoError(t, err)
	assert.Equal(t, "g", n.Held)
	assert.Equal(t, 1000.0, n.Value())
	assert.True(t, n.Set(1200))
	assert.Equal(t, unit.Mass(1200), q.Bowls[0].Water, "a number is set where it stands")
	require.True(t, n.Set(1000))
	n, err = NumberIn(&q, "count")
	require.NoError(t, err)
	assert.Equal(t, 1.0, n.Value())

	all, err := Vary(q, "tap", []float64{12})
	require.NoError(t, err)
	for _, a := range all {
		assert.Equal(t, unit.Celsius(12), a.Value.Tap)
	}
	// What one value does wrong is that value's answer.
	all, err = Vary(q, "count", []float64{1.5, 11, 2})
	require.NoError(t, err)
	var got []bool
	for _, a := range all {
		got = append(got, a.Err != nil)
	}
	assert.Equal(t, []bool{true, true, false}, got)
	for range all {
		break // whoever has seen enough stops
	}
	for path, want := range map[string]string{
		"rat": "rate perhaps", "bowls": "the path of a number", "bowls[2].water": "0 to 1", "bowls[smal].water": "small perhaps",
		"bowls[0": "an item", "rate.x": "no name here", "word": "the path of a number", "rate[0]": "not a list", "": "the path of a number", "bowls[0].": "the path of a number",
	} {
		_, err := Vary(q, path, nil)
		var bad *InputError
		require.ErrorAs(t, err, &bad, path)
		assert.Contains(t, bad.Want, want, path)
	}
}

// A part that is not there comes to be where its number is set, and one that is there stays the one that it is.
func TestNumberOfAPartLeftOut(t *testing.T) {
	q := twoBowls()
	spare := q.Spare
	n, err := NumberIn(&q, "spare.water")
	require.NoError(t, err)
	assert.Equal(t, 100.0, n.Value())
	assert.True(t, n.Set(200))
	assert.Equal(t, unit.Mass(200), spare.Water)
	q.Spare = nil
	all, err := Vary(q, "spare.water", []float64{0, 1})
	require.NoError(t, err)
	for x, a := range all {
		require.NoError(t, a.Err)
		assert.InDelta(t, 1500+x, float64(a.Value.Time), 1e-9) // 1500 g and the spare at 1 g/s
	}
	assert.Nil(t, q.Spare, "what is varied is a copy")
	n, err = NumberIn(&q, "spare.water")
	require.NoError(t, err)
	assert.True(t, n.Set(300))
	assert.Equal(t, &bowl{Water: 300}, q.Spare)
}

func TestExplainAndWrong(t *testing.T) {
	out, w, err := Explain(twoBowls())
	require.NoError(t, err)
	assert.Equal(t, float64(out.Time), w.Steps[0].Value)
	out, w, err = Explain(pour{})
	require.Error(t, err)
	assert.Nil(t, w)
	assert.Zero(t, out)
	assert.Empty(t, Wrong(twoBowls()))
	wrong := Wrong(pour{Count: -1})
	require.Len(t, wrong, 2)
	assert.Equal(t, "rate", wrong[0].Field)
}

func TestChecksPutPathsTogether(t *testing.T) {
	c := Checks{Func: "demo"}
	c.Fail("first", "1", "2")
	mark := c.Mark()
	c.Fail("dry", "1", "2")
	c.Fail("", "1", "2")
	c.Fail("[0].x", "1", "2")
	c.Item(mark, "air", 3)
	c.Under(mark, "rooms")
	var got []string
	for _, e := range InputErrors(c.Err()) {
		got = append(got, e.Field)
	}
	assert.Equal(t, []string{"first", "rooms.air[3].dry", "rooms.air[3]", "rooms.air[3][0].x"}, got)
	assert.True(t, c.Told("first"))
	assert.False(t, c.Told("dry"))
}

func ExampleVary() {
	all, err := Vary(twoBowls(), "rate", []float64{3.6, 7.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for rate, answer := range all {
		fmt.Println(rate, "kg/h:", answer.Value.Time)
	}
	// Output:
	// 3.6 kg/h: 26 min 40 s
	// 7.2 kg/h: 13 min 20 s
}

func BenchmarkVary(b *testing.B) {
	q := twoBowls()
	values := make([]float64, 1000)
	for i := range values {
		values[i] = 1 + float64(i)
	}
	all, err := Vary(q, "rate", values)
	if err != nil {
		b.Fatal(err)
	}
	var sum unit.Duration
	b.Run("vary", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for _, a := range all {
				sum += a.Value.Time
			}
		}
	})
	b.Run("by hand", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for _, x := range values {
				q.Rate = unit.MassRate(x)
				out, _ := q.Solve()
				sum += out.Time
			}
		}
	})
	if sum == 0 {
		b.Fatal("nothing ran")
	}
}
