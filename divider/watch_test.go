package divider_test

import (
	"encoding/json"
	"fmt"
	"log"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExampleWatch() {
	watch, err := divider.NewWatch(divider.ChartSetup{Kind: divider.ChartIndividuals, SubgroupSize: 1, Centre: unit.Grams(85), SD: unit.Grams(0.7), LimitWidth: 3, Rules: divider.LimitsOnly})
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range grams(85.4, 84.6) {
		if _, _, err := watch.Add(m); err != nil {
			log.Fatal(err)
		}
	}
	saved, err := json.Marshal(watch) // at the end of the shift
	if err != nil {
		log.Fatal(err)
	}
	var next divider.Watch // at the start of the next
	if err := json.Unmarshal(saved, &next); err != nil {
		log.Fatal(err)
	}
	p, _, err := next.Add(unit.Grams(88))
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("point", p.Point, p.Signals)
	// Output:
	// point 3 beyond-limit, spread-beyond-limit
}

// Each test signals at the point where it must, and not one point sooner. The
// patterns follow from the words of the rules.
func TestRunRules(t *testing.T) {
	for _, tt := range []struct {
		id     string
		rules  divider.RunRules
		z      []float64 // standard errors from the centre
		signal divider.Signals
	}{
		{"beyond", divider.LimitsOnly, []float64{0, 3.1}, divider.BeyondLimit},
		{"beyond-below", divider.LimitsOnly, []float64{0, 1, -3.1}, divider.BeyondLimit},
		{"two-of-three", divider.ZoneTests, []float64{0, 2.1, 0, 2.1}, divider.TwoOfThree},
		{"two-of-three-below", divider.EightTests, []float64{0, -2.1, -2.2}, divider.TwoOfThree},
		{"four-of-five", divider.ZoneTests, []float64{1.1, 1.2, 0, 1.1, 1.3}, divider.FourOfFive},
		{"eight-one-side", divider.ZoneTests, []float64{.1, .2, .3, .2, .1, .3, .2, .1}, divider.EightOneSide},
		{"nine-one-side", divider.EightTests, []float64{-.1, -.2, -.3, -.2, -.1, -.3, -.2, -.1, -.2}, divider.NineOneSide},
		{"six-rising", divider.EightTests, []float64{-.9, -.5, -.3, .2, .4, .6}, divider.SixTrending},
		{"six-falling", divider.EightTests, []float64{.9, .5, .3, -.2, -.4, -.6}, divider.SixTrending},
		{"fourteen-alternating", divider.EightTests, []float64{.5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5}, divider.FourteenAlternating},
		{"fifteen-near", divider.EightTests, []float64{.5, .4, -.5, -.4, .5, .4, -.5, -.4, .5, .4, -.5, -.4, .5, .4, -.5}, divider.FifteenNear},
		{"eight-away", divider.EightTests, []float64{1.5, -1.5, -1.2, 1.5, 1.2, -1.5, -1.3, 1.5}, divider.EightAway},
	} {
		t.Run(tt.id, func(t *testing.T) {
			watch, err := divider.NewWatch(onChart(tt.rules))
			require.NoError(t, err)
			for i, z := range tt.z {
				p, complete, err := watch.Add(unit.Grams(85 + z))
				require.NoError(t, err)
				require.True(t, complete)
				got := p.Signals &^ divider.SpreadBeyondLimit
				if i == len(tt.z)-1 {
					assert.Equal(t, tt.signal, got, got.String())
				} else {
					assert.Zero(t, got, "point %d: %s", i+1, got)
				}
			}
		})
	}
}

func TestSignalsThereAndBack(t *testing.T) {
	for s := range divider.Signals(1 << 12) {
		text, err := s.MarshalText()
		require.NoError(t, err)
		var back divider.Signals
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, s, back)
		assert.Len(t, s.Sentences(), len(s.Words()))
	}
	var s divider.Signals
	assert.Error(t, s.UnmarshalText([]byte("beyond-limit, nonsense")))
	assert.True(t, (divider.BeyondLimit | divider.SumAbove).Has(divider.SumAbove))
}

func TestWatchGivesThePointsOfTheBatch(t *testing.T) {
	x := wandering(240)
	for name, setup := range setups() {
		t.Run(name, func(t *testing.T) {
			batch, err := divider.ControlChart{Setup: setup, Weighings: x}.Solve()
			require.NoError(t, err)
			require.Positive(t, batch.Signalled, "the drift must show, else the test shows little")
			watch, err := divider.NewWatch(setup)
			require.NoError(t, err)
			var points []divider.ChartPoint
			for _, m := range x {
				// Saved and restored after every single weighing.
				saved, err := json.Marshal(watch)
				require.NoError(t, err)
				var restored divider.Watch
				require.NoError(t, json.Unmarshal(saved, &restored))
				p, complete, err := restored.Add(m)
				require.NoError(t, err)
				if complete {
					points = append(points, p)
				}
				watch = restored
			}
			assert.Empty(t, cmp.Diff(batch.Points, points))
			assert.Zero(t, watch.Waiting())
			assert.Equal(t, setup, watch.Setup())
		})
	}
}

// After a restart a watch gives the points of a new one, numbered on.
func TestWatchRestarts(t *testing.T) {
	x := wandering(100)
	for name, setup := range setups() {
		used, err := divider.NewWatch(setup)
		require.NoError(t, err)
		fresh := used
		for _, m := range x[:41] {
			_, _, err := used.Add(m)
			require.NoError(t, err)
		}
		waiting := used.Waiting()
		assert.Equal(t, 41%setup.SubgroupSize, waiting, name)
		assert.Equal(t, waiting, used.Restart())
		for _, m := range x[41:] {
			a, completeA, err := used.Add(m)
			require.NoError(t, err)
			b, completeB, err := fresh.Add(m)
			require.NoError(t, err)
			require.Equal(t, completeB, completeA)
			if completeA {
				b.Point += 41 / setup.SubgroupSize
				assert.Equal(t, b, a, name)
			}
		}
	}
}

func TestWatchTakesConstantMemory(t *testing.T) {
	for name, setup := range setups() {
		watch, err := divider.NewWatch(setup)
		require.NoError(t, err)
		before, err := json.Marshal(watch)
		require.NoError(t, err)
		x := wandering(1000)
		i := 0
		assert.Zero(t, testing.AllocsPerRun(900, func() {
			_, _, _ = watch.Add(x[i])
			i++
		}), name)
		after, err := json.Marshal(watch)
		require.NoError(t, err)
		assert.Less(t, len(after), len(before)+200, "%s: only digits grow", name)
	}
}

func TestWatchRefuses(t *testing.T) {
	watch, err := divider.NewWatch(setups()["ranges"])
	require.NoError(t, err)
	_, _, err = watch.Add(85)
	require.NoError(t, err)
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 1e9} {
		_, _, err = watch.Add(unit.Grams(bad))
		assert.Equal(t, []string{"weighing"}, refusedFields(err))
		assert.Equal(t, 1, watch.Waiting(), "a bad weighing changes nothing")
	}
	_, _, err = (&divider.Watch{}).Add(85)
	assert.Error(t, err)
	_, err = divider.NewWatch(divider.ChartSetup{})
	assert.Equal(t, []string{"setup.kind", "setup.subgroup_size", "setup.centre", "setup.sd"}, refusedFields(err))

	good, err := json.Marshal(watch)
	require.NoError(t, err)
	for _, bad := range []string{
		strings.Replace(string(good), `"pieces":1`, `"pieces":1,"colour":3`, 1),
		strings.Replace(string(good), `"sum":0`, `"sum":-400000`, 1),
		strings.Replace(string(good), `"lowest":"85 g"`, `"lowest":"90 g"`, 1),
		`{`, `{}`, `{"setup":{"kind":"individuals","size":1,"centre":"85 g","sd":"1 g","width":3,"rules":"limits-only"},"state":{"points":-1,"above":-1,"group":{"pieces":1,"squares":-1}}}`,
	} {
		require.NotEqual(t, string(good), bad)
		var w divider.Watch
		require.NoError(t, json.Unmarshal(good, &w))
		require.Error(t, json.Unmarshal([]byte(bad), &w))
		assert.Equal(t, 1, w.Waiting(), "what cannot be restored changes nothing")
	}
}

func FuzzWatchJSON(f *testing.F) {
	for _, setup := range setups() {
		watch, err := divider.NewWatch(setup)
		if err != nil {
			f.Fatal(err)
		}
		_, _, _ = watch.Add(85)
		data, err := json.Marshal(watch)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var watch divider.Watch
		if json.Unmarshal(data, &watch) != nil {
			return
		}
		p, _, err := watch.Add(85)
		if err != nil {
			t.Fatal(err)
		}
		allFinite(t, float64(p.Value), float64(p.Spread), float64(p.Plotted), p.SumAbove, p.SumBelow)
	})
}

func BenchmarkWatchAdd(b *testing.B) {
	for name, setup := range setups() {
		b.Run(name, func(b *testing.B) {
			watch, err := divider.NewWatch(setup)
			if err != nil {
				b.Fatal(err)
			}
			x := wandering(64)
			i := 0
			b.ReportAllocs()
			for b.Loop() {
				_, _, _ = watch.Add(x[i%64])
				i++
			}
		})
	}
}
