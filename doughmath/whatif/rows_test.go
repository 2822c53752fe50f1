package whatif

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// all runs a study and keeps its rows.
func all(t testing.TB, c *Compiled, o Options) []Row {
	t.Helper()
	var out []Row
	for r, err := range c.Rows(context.Background(), o) {
		require.NoError(t, err)
		out = append(out, r.Clone())
	}
	return out
}

// same holds two rows to be the same to the last bit.
func same(t *testing.T, want, got *Row) {
	t.Helper()
	require.Equal(t, want.Index, got.Index)
	require.Equal(t, bitsOf(want.Values), bitsOf(got.Values), "scenario %d", want.Index)
	require.Equal(t, want.words, got.words)
	require.Equal(t, want.Conditions(), got.Conditions())
	require.Equal(t, want.Cautions(), got.Cautions())
	require.Equal(t, want.Refusals(), got.Refusals())
}

func bitsOf(v []float64) []uint64 {
	out := make([]uint64, len(v))
	for i := range v {
		out[i] = math.Float64bits(v[i])
	}
	return out
}

// bakeStudy is a study of 1,536 scenarios with all that rows may hold; some are refused.
func bakeStudy() Study {
	return Study{
		Subject: Of(twoTrays()),
		Vary: []Factor{
			values("crust", "soft", "hard"), values("steam", "false", "true"),
			{Path: "oven", From: "200 °C", To: "300 °C", Count: 16},
			{Path: "count", From: "0", To: "2", Count: 3},
			{Path: "trays[bottom].load", From: "800 g", To: "1200 g", Count: 8},
		},
		Outputs: []Output{{Path: "total"}, {Path: "loaves[1].weight"}, {Path: "loaves[bottom].weight", Unit: "oz"}, {Path: "best.weight"}, {Path: "rest.weight"}, {Path: "note"}, {Path: "steamed"}, {Path: "core"}},
	}
}

func studies(t *testing.T) map[string]Study {
	drawn := bakeStudy()
	drawn.Combine, drawn.Samples, drawn.Seed = Random, 1111, 42
	drawn.Vary = append([]Factor{}, drawn.Vary...)
	drawn.Vary[2] = Factor{Path: "oven", Distribution: Distribution{Shape: Normal, Mean: "250 °C", SD: "25 C°", Truncate: true}}
	drawn.Vary[4] = Factor{Path: "trays[bottom].load", From: "800 g", To: "1200 g"}
	beside := Study{Subject: Of(water()), Combine: SideBySide, Outputs: path("water_temp"), Vary: []Factor{
		{Path: "room", From: "10 °C", To: "35 °C", Count: 1000}, {Path: "flour_temp", From: "10 °C", To: "35 °C", Count: 1000},
	}}
	day := Study{Subject: OfScenario(demo(t)), Outputs: []Output{{Path: "orders[Star bun].water_temp"}, {Path: "orders[2].target"}, {Path: "orders[2].strokes_limit"}}, Vary: []Factor{
		{Path: "shift.tap", From: "2 °C", To: "38 °C", Count: 10}, {Path: "orders[Star bun].product.baked", From: "20 g", To: "80 g", Count: 30},
	}}
	return map[string]Study{"grid": bakeStudy(), "drawn": drawn, "beside": beside, "small": smallStudy(), "scenario": day}
}

// A scenario is the same alone and in its row, in any shard, with any number of workers.
func TestAnyShardAnyWorkers(t *testing.T) {
	for name, s := range studies(t) {
		t.Run(name, func(t *testing.T) {
			c, err := s.Compile()
			require.NoError(t, err)
			rows := all(t, c, Options{})
			require.Len(t, rows, c.Size())
			refused := 0
			for i := range rows {
				require.Equal(t, i, rows[i].Index)
				if rows[i].Err() != nil {
					refused++
				}
			}
			t.Logf("%d of %d refused", refused, len(rows))
			for i := 0; i < len(rows); i += 97 {
				alone, err := c.At(i)
				require.NoError(t, err)
				same(t, &rows[i], &alone)
			}
			for _, workers := range []int{2, 3, 8, 1000} {
				for i, r := range all(t, c, Options{Workers: workers}) {
					same(t, &rows[i], &r)
				}
			}
			for first := 0; first < len(rows); {
				count := min(1+first/2, len(rows)-first)
				shard := all(t, c, Options{First: first, Count: count, Workers: first % 3})
				require.Len(t, shard, count)
				for i := range shard {
					same(t, &rows[first+i], &shard[i])
				}
				first += count
			}
		})
	}
}

// Scenario i draws the same whatever the outputs are, and whatever varies after it in the study.
func TestCommonNumbers(t *testing.T) {
	s := studies(t)["drawn"]
	one, err := s.Compile()
	require.NoError(t, err)
	s.Outputs = path("total")
	s.Samples = 500
	two, err := s.Compile()
	require.NoError(t, err)
	n := len(s.Vary)
	for i, r := range all(t, two, Options{}) {
		other, err := one.At(i)
		require.NoError(t, err)
		assert.Equal(t, bitsOf(other.Values[:n]), bitsOf(r.Values[:n]))
	}
	s.Seed++
	three, err := s.Compile()
	require.NoError(t, err)
	a, _ := two.At(0)
	b, _ := three.At(0)
	assert.NotEqual(t, a.Values[4], b.Values[4])
}

// What an answer leaves out is not there, neither is it 0; and the base is left alone.
func TestAbsent(t *testing.T) {
	base := twoTrays()
	c, err := Study{Subject: Of(base), Vary: []Factor{values("count", "2", "1"), values("steam", "false", "true"), values("trays[top].load", "5 kg")}, Outputs: []Output{
		{Path: "loaves[1].weight"}, {Path: "loaves[top].weight"}, {Path: "loaves[bottom].weight"}, {Path: "best.weight"}, {Path: "rest.weight"}, {Path: "core"}, {Path: "steamed"}, {Path: "loaves[9].weight"},
	}}.Compile()
	require.NoError(t, err)
	nan := math.NaN()
	for i, want := range [][]float64{
		{900, 5000, 900, 100, nan, nan, 0, nan},
		{900, 5000, 900, 100, 5, 230, 1, nan},
		{nan, 5000, nan, 100, nan, nan, 0, nan},
		{nan, 5000, nan, 100, 5, 230, 1, nan},
	} {
		r, err := c.At(i)
		require.NoError(t, err)
		require.NoError(t, r.Err())
		assert.Equal(t, bitsOf(want), bitsOf(r.Values[3:]), "scenario %d", i)
	}
	assert.Equal(t, twoTrays(), base)
}

// Conditions stand with their places, cautions together, and nothing is left of an earlier answer.
func TestRemarks(t *testing.T) {
	c, err := Study{Subject: Of(twoTrays()), Vary: []Factor{values("oven", "260 °C", "290 °C", "200 °C"), values("trays[bottom].load", "2 kg", "1 kg")}}.Compile()
	require.NoError(t, err)
	heavyNote, burntNote := reckon.Note{Word: "heavy", Says: "It is heavy."}, reckon.Note{Word: "burnt", Says: "It is burnt."}
	rows := all(t, c, Options{})
	assert.ElementsMatch(t, []reckon.Remark{{Note: burntNote}, {Path: "loaves[1]", Note: heavyNote}, {Path: "best", Note: heavyNote}}, rows[0].Conditions())
	assert.Equal(t, reckon.HotWater, rows[0].Cautions())
	assert.Empty(t, rows[2].Conditions())
	assert.Zero(t, rows[2].Cautions())
	assert.NotEmpty(t, rows[2].Refusals())
	assert.ElementsMatch(t, []reckon.Remark{{Path: "best", Note: heavyNote}}, rows[5].Conditions())
	// The same as from the answer itself.
	q := twoTrays()
	q.Oven, q.Trays[1].Load = unit.Celsius(260), 2000
	out, err := q.Solve()
	require.NoError(t, err)
	assert.ElementsMatch(t, reckon.Remarks(out), rows[0].Conditions())

	w := c.m.worker()
	assert.NoError(t, w.eval([]float64{260, 2000}, nil))
	words, _ := w.remarks()
	assert.ElementsMatch(t, []string{"heavy", "burnt"}, words)
	watch, known := c.m.watch("burnt")
	assert.Nil(t, known)
	assert.True(t, watch.has(w.marks))
	assert.NoError(t, w.eval([]float64{200, 2000}, nil))
	w.note()
	assert.False(t, watch.has(w.marks))
	_, known = c.m.watch("brunt")
	assert.Subset(t, known, []string{"heavy", "burnt", "rounded"})
}

// The remarks of a whole plan are those that the plan itself has.
func TestRemarksOfAPlan(t *testing.T) {
	s := planStudy(t)
	c, err := s.Compile()
	require.NoError(t, err)
	for _, i := range []int{0, 4321, c.Size() - 1} {
		w := c.runner(Options{})
		r := c.row()
		w.run(c, i, &r)
		assert.ElementsMatch(t, reckon.Remarks(w.parts[0].answer), r.Conditions())
		assert.Equal(t, reckon.Hazards(w.parts[0].answer), r.Cautions())
		assert.NotEmpty(t, r.Conditions())
	}
}

// One order that cannot be made leaves the others alone, and is named.
func TestOneOrderRefused(t *testing.T) {
	c, err := Study{Subject: OfScenario(demo(t)), Vary: []Factor{values("orders[Slow stick].product.dwell_low", "25 min"), values("orders[Slow stick].product.dwell_high", "35 min")}, Outputs: []Output{
		{Path: "orders[Star bun].target"}, {Path: "orders[Slow stick].target"},
	}}.Compile()
	require.NoError(t, err)
	r, err := c.At(0)
	require.NoError(t, err)
	assert.InDelta(t, 51.3318, r.Values[2], 1e-4)
	assert.True(t, math.IsNaN(r.Values[3]))
	require.NotEmpty(t, r.Refusals())
	for _, refused := range r.Refusals() {
		assert.Equal(t, "orders[3]", refused.At)
	}
	for _, c := range r.Conditions() {
		assert.Contains(t, c.Path, "orders[0]")
	}

	c, err = Study{Subject: OfScenario(demo(t)), Vary: []Factor{values("shift.mixer.low", "300 kg"), values("orders[1].product.turns", "50")}}.Compile()
	require.NoError(t, err)
	r, err = c.At(0)
	require.NoError(t, err)
	var fields []string
	for _, refused := range r.Refusals() {
		fields = append(fields, refused.At+" "+refused.Field)
	}
	assert.Equal(t, []string{" shift.mixer.low", "orders[1] orders[1].product.turns"}, fields, "what all orders are refused for is told once")
}

// The end of the range that stands in the way is told, in whatever unit the value was given.
func TestBinds(t *testing.T) {
	for _, c := range []struct {
		value, wanted, low, high string
		want                     string
	}{
		{value: "12 t", low: "0 g", high: "1e+07 g", want: "high"},
		{value: "0 g", low: "0 g", high: "1e+07 g", want: "low"},
		{value: "10 t", low: "0 g", high: "1e+07 g", want: "high"},
		{value: "3", low: "0.1", high: "2", want: "high"},
		{value: "-3", low: "1", high: "12", want: "low"},
		{value: "1", low: "1", high: "12", want: "low"},
		{value: "100 °F", low: "0 °C", high: "30 °C", want: "high"},
		{value: "9 kJ/(kg K)", low: "1 kJ/(kg K)", high: "5 kJ/(kg K)", want: "high"},
		{value: "1 h 30 min", low: "0 s", high: "3600 s", want: "high"},
		{value: "not given", low: "0 °C", high: "30 °C"},
		{value: "NaN", low: "0.1", high: "2"},
		{wanted: "water of 96 °C", low: "15 °C", high: "58 °C", want: "high"},
		{wanted: "a piece 240 mm long", low: "300 mm", high: "1.2 m", want: "low"},
		{wanted: "a dough piece of 20 g, 2 across", low: "30.4 g", high: "105.5 g", want: "low"},
		{wanted: "a reduction of 20 to 1 in both pairs", low: "1.1", high: "10", want: "high"},
		{wanted: "10 t at 1 kg/h", high: "240 h", want: "high"},
		{wanted: "a hydration of 50 %", low: "60 %", want: "low"},
		{wanted: "a speed that everything allows", low: "12 strokes/min", high: "13 strokes/min"},
		{wanted: "a dwell of 5 min 30 s", low: "6 min", high: "7 min 20 s", want: "low"},
		{wanted: "anything"},
	} {
		assert.Equal(t, c.want, binds(&reckon.Refusal{Value: c.value, Wanted: c.wanted, Low: c.low, High: c.high}), "%+v", c)
	}
	compiled, err := Study{Subject: Of(twoTrays()), Vary: []Factor{values("factor", "0.05", "3")}}.Compile()
	require.NoError(t, err)
	for i, want := range []string{"low", "high"} {
		r, err := compiled.At(i)
		require.NoError(t, err)
		require.Len(t, r.Refusals(), 1)
		got := r.Refusals()[0]
		assert.Equal(t, []string{"range", "factor", want, "0.1", "2"}, []string{string(got.Kind), got.Field, got.Binds, got.Low, got.High})
	}
}

// Cancelled, a run ends with the context's error, and its goroutines are gone.
func TestCancel(t *testing.T) {
	before := runtime.NumGoroutine()
	c, err := planStudy(t).Compile()
	require.NoError(t, err)
	for _, workers := range []int{0, 1, 4} {
		ctx, cancel := context.WithCancel(context.Background())
		n := 0
		var last error
		for r, err := range c.Rows(ctx, Options{Workers: workers}) {
			if last = err; err != nil {
				assert.Nil(t, r)
				continue
			}
			if n++; n == 300 {
				cancel()
			}
		}
		assert.ErrorIs(t, last, context.Canceled)
		assert.Equal(t, 300, n)
		cancel()
	}
	// Left in the middle.
	for range c.Rows(context.Background(), Options{Workers: 4}) {
		break
	}
	done, cancel := context.WithCancel(context.Background())
	cancel()
	for _, err := range c.Rows(done, Options{Workers: 2}) {
		assert.ErrorIs(t, err, context.Canceled)
	}
	for range 100 {
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Errorf("%d goroutines are left, %d before", runtime.NumGoroutine(), before)
}

// A compiled study may be shared.
func TestShared(t *testing.T) {
	c, err := bakeStudy().Compile()
	require.NoError(t, err)
	rows := all(t, c, Options{})
	var wait sync.WaitGroup
	for k := range 4 {
		wait.Go(func() {
			for i := k; i < len(rows); i += 101 {
				r, err := c.At(i)
				if err != nil || !slices.Equal(bitsOf(rows[i].Values), bitsOf(r.Values)) {
					t.Errorf("scenario %d differs: %v", i, err)
				}
			}
		})
	}
	wait.Wait()
}

func TestProgress(t *testing.T) {
	c, err := bakeStudy().Compile()
	require.NoError(t, err)
	for _, workers := range []int{1, 3} {
		var told []int
		rows := 0
		for r, err := range c.Rows(context.Background(), Options{Workers: workers, First: 100, Count: 1000, Progress: func(done int) { told = append(told, done) }}) {
			require.NoError(t, err)
			assert.Equal(t, 100+rows, r.Index)
			rows++
			require.Len(t, told, rows)
			assert.Equal(t, rows, told[rows-1])
		}
		assert.Equal(t, 1000, rows)
	}
}

func TestValuesOnly(t *testing.T) {
	c, err := bakeStudy().Compile()
	require.NoError(t, err)
	rows := all(t, c, Options{})
	for _, workers := range []int{1, 3} {
		for i, r := range all(t, c, Options{Workers: workers, ValuesOnly: true}) {
			require.Equal(t, bitsOf(rows[i].Values), bitsOf(r.Values))
			require.Equal(t, rows[i].Refusals(), r.Refusals())
			require.Empty(t, r.Conditions())
			require.Zero(t, r.Cautions())
		}
	}
}

func TestOptionsRefused(t *testing.T) {
	c, err := bakeStudy().Compile()
	require.NoError(t, err)
	for _, o := range []struct {
		Options
		want []string
	}{
		{Options{Workers: -1, First: -1, Count: -1}, []string{"workers", "first"}},
		{Options{Workers: 1025, Count: -1}, []string{"workers", "count"}},
		{Options{First: 1530, Count: 7}, []string{"count"}},
		{Options{First: 1537}, []string{"first"}},
		{Options{First: math.MaxInt, Count: math.MaxInt}, []string{"first"}},
	} {
		n := 0
		for r, err := range c.Rows(context.Background(), o.Options) {
			n++
			assert.Nil(t, r)
			var got []string
			for _, e := range reckon.InputErrors(err) {
				got = append(got, e.Field)
			}
			assert.Equal(t, o.want, got)
		}
		assert.Equal(t, 1, n)
	}
	assert.Empty(t, all(t, c, Options{First: 1536}))
}

// rising panics when it is asked for more than it can hold.
type rising struct {
	Level float64 `json:"level"`
}

func (rising) ID() string                   { return "rising" }
func (rising) Check(*reckon.Checks)         {}
func (rising) Show(*reckon.Working, rising) {}
func (q rising) Solve() (rising, error) {
	if q.Level == 900 {
		panic("over the rim")
	}
	return q, nil
}

// What panics in a calculation of the caller's own reaches the caller, not the process.
func TestPanic(t *testing.T) {
	c, err := Study{Subject: Of(rising{}), Vary: []Factor{{Path: "level", From: "0", To: "2000", Step: "1"}}, Outputs: path("level")}.Compile()
	require.NoError(t, err)
	for _, workers := range []int{1, 3} {
		assert.PanicsWithValue(t, "over the rim", func() {
			for range c.Rows(context.Background(), Options{Workers: workers}) {
			}
		})
	}
}

// A run allocates what it needs to start, whatever the number of its rows.
func TestRowsDoNotAllocate(t *testing.T) {
	for name, s := range map[string]Study{"small": smallStudy(), "words": {
		Subject: Of(water()), Vary: []Factor{values("friction_basis", "once", "per-factor"), {Path: "room", From: "15 °C", To: "20 °C", Count: 3000}},
		Outputs: []Output{{Path: "water_temp", Unit: "°F"}, {Path: "weigh.ice"}, {Path: "factors"}},
	}} {
		c, err := s.Compile()
		require.NoError(t, err)
		run := func(workers, count int) float64 {
			return testing.AllocsPerRun(5, func() {
				for r, err := range c.Rows(context.Background(), Options{Workers: workers, Count: count}) {
					if err != nil || r.Err() != nil {
						panic(fmt.Sprint(err, r.Err())) // what is refused has an error that somebody makes
					}
				}
			})
		}
		assert.InDelta(t, run(1, 4000), run(1, 6000), 1, name)
		assert.Less(t, run(2, 6000)-run(2, 5000), 100.0, name) // the blocks that hand rows over grow, the rows do not
	}
}
