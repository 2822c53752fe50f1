package divider_test

import (
	"encoding/json"
	"fmt"
	"log"
	"maps"
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
		{"two-of-three", divider.ZoneTests, []float64{0, 2.01, 0, 2.01}, divider.TwoOfThree},
		{"two-of-three-below", divider.EightTests, []float64{0, -2.1, -2.2}, divider.TwoOfThree},
		{"four-of-five", divider.ZoneTests, []float64{1.005, 1.2, 0, 1.005, 1.3}, divider.FourOfFive},
		{"eight-one-side", divider.ZoneTests, []float64{.1, .2, .3, .2, .1, .3, .2, .1}, divider.EightOneSide},
		{"nine-one-side", divider.EightTests, []float64{-.1, -.2, -.3, -.2, -.1, -.3, -.2, -.1, -.2}, divider.NineOneSide},
		{"six-rising", divider.EightTests, []float64{-.9, -.5, -.3, .2, .4, .6}, divider.SixTrending},
		{"six-falling", divider.EightTests, []float64{.9, .5, .3, -.2, -.4, -.6}, divider.SixTrending},
		{"fourteen-alternating", divider.EightTests, []float64{.5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5}, divider.FourteenAlternating},
		{"fifteen-near", divider.EightTests, []float64{.5, .4, -.5, -.4, .5, .4, -.5, -.4, .5, .4, -.5, -.4, .5, .4, -.5}, divider.FifteenNear},
		{"eight-away", divider.EightTests, []float64{1.5, -1.5, -1.2, 1.5, 1.2, -1.5, -1.3, 1.5}, divider.EightAway},
	} {
		t.Run(tt.id, func(t *testing.T) {
			for _, side := range []float64{1, -1} { // the rules are the same below the centre as above it
				for i, got := range signalsOf(t, tt.rules, side, tt.z) {
					if i == len(tt.z)-1 {
						assert.Equal(t, tt.signal, got, got.String())
					} else {
						assert.Zero(t, got, "point %d: %s", i+1, got)
					}
				}
			}
		})
	}
}

// signalsOf returns what each point signals but for the moving range. The points lie so many standard errors
// from the centre, on the side named.
func signalsOf(t *testing.T, rules divider.RunRules, side float64, z []float64) []divider.Signals {
	watch, err := divider.NewWatch(onChart(rules))
	require.NoError(t, err)
	out := make([]divider.Signals, 0, len(z))
	for _, z := range z {
		p, complete, err := watch.Add(unit.Grams(85 + side*z))
		require.NoError(t, err)
		require.True(t, complete)
		out = append(out, p.Signals&^divider.SpreadBeyondLimit)
	}
	return out
}

// What the words of the rules leave out: a point that lies on a line of a zone is not beyond it, one that equals the
// one before neither rises nor falls, and no more is asked of the newest point than that it is one of those that count.
func TestRunRulesStopAtTheirWords(t *testing.T) {
	for _, tt := range []struct {
		id    string
		rules divider.RunRules
		z     []float64 // the last point says nothing
	}{
		{"on two standard errors", divider.ZoneTests, []float64{2, 0, 2}},
		{"on one standard error", divider.ZoneTests, []float64{1, 1, -0.1, 1, 1}},
		{"on the centre", divider.ZoneTests, []float64{0, 0, 0, 0, 0, 0, 0, 0}},
		{"one on the centre", divider.EightTests, []float64{.1, .2, .3, .2, 0, .1, .3, .2, .1, .2}},
		{"two of four", divider.ZoneTests, []float64{2.1, 0, 0, 2.1}},
		{"four of six", divider.ZoneTests, []float64{1.1, 1.1, 0, 0, 1.1, 1.1}},
		{"two of three, the newest is not", divider.ZoneTests, []float64{2.1, 2.2, 0}},
		{"four of five, the newest is not", divider.ZoneTests, []float64{1.1, 1.2, 1.1, 1.3, -0.1}},
		{"two of three, one on either side", divider.ZoneTests, []float64{2.1, 0, -2.1}},
		{"four of five, on either side", divider.ZoneTests, []float64{1.1, -1.1, 1.1, -1.1, 1.1}},
		{"seven on one side", divider.ZoneTests, []float64{-.1, .2, .3, .2, .1, .3, .2, .1}},
		{"eight on one side, by the eight tests", divider.EightTests, []float64{.1, .2, .3, .2, .1, .3, .2, .1}},
		{"two beyond two, of limits alone", divider.LimitsOnly, []float64{2.1, 2.1}},
		{"five rising, of the zone tests", divider.ZoneTests, []float64{-.9, -.5, -.3, .2, .4, .6}},
		{"six rising, two alike", divider.EightTests, []float64{-.9, -.5, -.3, -.3, .2, .4, .6}},
		{"fourteen alternating, two alike", divider.EightTests, []float64{.5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, -.5, .5, .5}},
		{"fourteen alternating but for one that does not fall", divider.EightTests, []float64{-.5, .5, -.5, .5, -.5, .5, .5, .8, -.5, .5, -.5, .5, -.5, .5}},
		{"fourteen alternating but for one that does not fall, ending low", divider.EightTests, []float64{.5, -.5, .5, -.5, .5, -.5, .5, .5, .8, -.5, .5, -.5, .5, -.5}},
		{"fifteen, one beyond", divider.EightTests, []float64{1.1, .4, -.5, -.4, .5, .4, -.5, -.4, .5, .4, -.5, -.4, .5, .4, -.5}},
		{"eight away, one on the line", divider.EightTests, []float64{1.5, -1.5, -1.2, 1.5, 1, -1.5, -1.3, 1.5}},
	} {
		for _, side := range []float64{1, -1} {
			got := signalsOf(t, tt.rules, side, tt.z)
			assert.Zero(t, got[len(got)-1], "%s, side %v: %s", tt.id, side, got[len(got)-1])
		}
	}
	near := []float64{1, .4, -1, -.4, .5, .4, -.5, -.4, 1, .4, -.5, -.4, .5, .4, -1}
	assert.Equal(t, divider.FifteenNear, signalsOf(t, divider.EightTests, 1, near)[14], "on one standard error is within it")
}

// A cusum signals above its decision interval and not at it: a point that lies z standard errors off adds z less the slack.
func TestSumsSignalAboveTheDecision(t *testing.T) {
	for _, side := range []float64{1, -1} {
		watch, err := divider.NewWatch(divider.ChartSetup{Kind: divider.ChartCUSUM, SubgroupSize: 1, Centre: 85, SD: 1, Slack: 0.5, Decision: 4, Rules: divider.LimitsOnly})
		require.NoError(t, err)
		above, below := divider.SumAbove, divider.SumBelow
		if side < 0 {
			above, below = below, above
		}
		for _, step := range []struct {
			z    float64
			sum  float64 // 4.5 - 0.5, then 0.5 more and less
			says divider.Signals
		}{{4.5, 4, 0}, {1, 4.5, above}, {0, 4, 0}, {-8, 0, below}} {
			p, _, err := watch.Add(unit.Grams(85 + side*step.z))
			require.NoError(t, err)
			sum := p.SumAbove
			if side < 0 {
				sum = p.SumBelow
			}
			assert.InDelta(t, step.sum, sum, 1e-12)
			assert.Equal(t, step.says, p.Signals)
		}
	}
}

// Every value of a saved watch is held to what a watch can have saved: the one at its bound is taken, the next is not.
func TestSavedWatchIsHeld(t *testing.T) {
	watch, err := divider.NewWatch(setups()["ranges"]) // subgroups of four
	require.NoError(t, err)
	for _, m := range grams(85, 84, 86, 85, 85, 83, 87) { // one point, and three pieces of the next
		_, _, err = watch.Add(m)
		require.NoError(t, err)
	}
	saved, err := json.Marshal(watch)
	require.NoError(t, err)
	restore := func(changes map[string]any) error {
		var whole map[string]any
		require.NoError(t, json.Unmarshal(saved, &whole))
		for path, v := range changes {
			at := whole["state"].(map[string]any)
			name, inner, deep := strings.Cut(path, ".")
			if deep {
				at, name = at[name].(map[string]any), inner
			}
			require.Contains(t, at, name)
			at[name] = v
		}
		data, err := json.Marshal(whole)
		require.NoError(t, err)
		var out divider.Watch
		return json.Unmarshal(data, &out)
	}
	type state = map[string]any
	empty := func(rest state) state {
		out := state{"group.pieces": 0, "group.origin": "0 g", "group.lowest": "0 g", "group.highest": "0 g", "group.sum": 0, "group.squares": 0}
		maps.Copy(out, rest)
		return out
	}
	// Three pieces, the first of 85 g, with the sums of their distances from it and of the squares.
	three := func(lowest, highest string, sum, squares float64) state {
		return state{"group.lowest": lowest, "group.highest": highest, "group.sum": sum, "group.squares": squares}
	}
	// Weights of 86 g are known to a billionth of three times that, and a distance of that size has its square.
	const slack = 1e-9 * 3 * 86
	for _, tt := range []struct {
		id      string
		changes state
		refused []string
	}{
		{"as saved", nil, nil},
		{"points", state{"points": math.MaxInt32}, nil},
		{"more points than are counted", state{"points": math.MaxInt32 + 1}, []string{"state.points"}},
		{"fewer points than none", state{"points": -1, "run": 0}, []string{"state.points"}},
		{"all points since the restart", state{"points": 7, "run": 7}, nil},
		{"none since the restart", state{"points": 7, "run": 0}, nil},
		{"more since the restart than there are", state{"points": 7, "run": 8}, []string{"state.run"}},
		{"run below 0", state{"run": -1}, []string{"state.run"}},
		{"a whole subgroup", state{"group.pieces": 4}, []string{"state.group.pieces"}},
		{"pieces below 0", state{"group.pieces": -1}, []string{"state.group.pieces"}},
		{"no piece", empty(nil), nil},
		{"no piece, with a sum", empty(state{"group.sum": 1e-9}), []string{"state.group"}},
		{"no piece, with a first one", empty(state{"group.origin": "85 g"}), []string{"state.group"}},
		{"last", state{"last": "100 kg"}, nil},
		{"last too heavy", state{"last": "100.001 kg"}, []string{"state.last"}},
		{"last below 0", state{"last": "-1 mg"}, []string{"state.last"}},
		{"average", state{"average": "100 kg"}, nil},
		{"average too heavy", state{"average": "100.001 kg"}, []string{"state.average"}},
		{"first piece too heavy", state{"group.origin": "100.001 kg"}, []string{"state.group.origin"}},
		{"lightest below 0", state{"group.lowest": "-1 mg"}, []string{"state.group.lowest"}},
		{"heaviest too heavy", state{"group.highest": "100.001 kg"}, []string{"state.group.highest"}},
		{"lightest above the first", three("85.001 g", "87 g", 2, 4), []string{"state.group"}},
		{"heaviest below the first", three("83 g", "84.999 g", -2, 4), []string{"state.group"}},
		{"lightest the first", three("85 g", "87 g", 2, 4), nil},
		{"heaviest the first", three("83 g", "85 g", -2, 4), nil},
		{"all heavy", three("83 g", "86 g", 3, 3), nil},
		{"sum above the heaviest", three("83 g", "86 g", 3.01, 4), []string{"state.group"}},
		{"sum at the lightest", three("84 g", "87 g", -3, 3), nil},
		{"sum below the lightest", three("84 g", "87 g", -3.01, 4), []string{"state.group"}},
		{"squares that such a sum has", three("83 g", "87 g", 2, 1.34), nil},
		{"squares below those of the mean", three("83 g", "87 g", 2, 1.32), []string{"state.group"}},
		{"all heaviest or lightest", three("83 g", "87 g", 2, 12), nil},
		{"squares above all that can be", three("83 g", "87 g", 2, 12.01), []string{"state.group"}},
		{"squares by the lightest", three("83 g", "86 g", 0, 12), nil},
		{"squares beyond the lightest", three("83 g", "86 g", 0, 12.01), []string{"state.group"}},
		{"the last digit of the sum", three("83 g", "86 g", 3+0.998*slack, 4), nil},
		{"more than the last digit of the sum", three("83 g", "86 g", 3+1.002*slack, 4), []string{"state.group"}},
		{"the last digit of the squares", state{"group.origin": "86 g", "group.lowest": "86 g", "group.highest": "86 g", "group.sum": 0, "group.squares": 0.998 * slack * slack}, nil},
		{"more than the last digit of the squares", state{"group.origin": "86 g", "group.lowest": "86 g", "group.highest": "86 g", "group.sum": 0, "group.squares": 1.002 * slack * slack}, []string{"state.group"}},
		{"sum of 25 pieces of 100 kg", state{"group.sum": -2.5e6}, []string{"state.group"}}, // in its range, of no such pieces
		{"sum of more", state{"group.sum": -2.500001e6}, []string{"state.group.sum"}},
		{"sum of more above", state{"group.sum": 2.500001e6}, []string{"state.group.sum"}},
		{"squares of such pieces", state{"group.squares": 2.5e11}, []string{"state.group"}},
		{"squares of more", state{"group.squares": 2.500001e11}, []string{"state.group.squares"}},
		{"squares below 0", state{"group.squares": -1e-9}, []string{"state.group.squares"}},
		{"sums below 0", state{"above": -1e-9, "below": -1e-9}, []string{"state.above", "state.below"}},
	} {
		t.Run(tt.id, func(t *testing.T) {
			assert.Equal(t, tt.refused, refusedFields(restore(tt.changes)))
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
	for _, bad := range []float64{0, 0.00099, -1, math.NaN(), math.Inf(1), 100_001, 1e9} {
		_, _, err = watch.Add(unit.Grams(bad))
		assert.Equal(t, []string{"weighing"}, refusedFields(err))
		assert.Equal(t, 1, watch.Waiting(), "a bad weighing changes nothing")
	}
	for _, light := range []unit.Mass{0.001, 100_000} {
		_, _, err = watch.Add(light)
		require.NoError(t, err, "the lightest and the heaviest that are weighings")
	}
	watch.Restart()
	_, _, err = watch.Add(85)
	require.NoError(t, err)
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

// A spread is beyond its limits on either side, from the first subgroup on; a first single piece has none.
// Limits of half a width leave a band about the mean range, d2 = 1.128 of two pieces and 3.078 of ten, d3 = 0.853 and 0.797
// (Montgomery, appendix VI).
func TestSpreadBeyondLimits(t *testing.T) {
	for _, tt := range []struct {
		id      string
		kind    divider.ChartKind
		width   float64
		weights []unit.Mass
		beyond  bool // of the last piece
	}{
		{"first wide", divider.ChartAveragesRanges, 3, grams(80, 90, 80, 90), true},
		{"first usual", divider.ChartAveragesRanges, 3, grams(84, 86, 85, 85), false},
		{"first alike, of ten", divider.ChartAveragesRanges, 3, grams(85, 85, 85, 85, 85, 85, 85, 85, 85, 85), true}, // 3.078 - 3*0.797 = 0.687
		{"first piece", divider.ChartIndividuals, 0.5, grams(85), false},
		{"second piece alike", divider.ChartIndividuals, 0.5, grams(85, 85), true}, // 1.128 - 0.5*0.853 = 0.70
		{"second piece usual", divider.ChartIndividuals, 0.5, grams(85, 86), false},
		{"second piece far", divider.ChartIndividuals, 0.5, grams(84.2, 85.8), true}, // above 1.128 + 0.43 = 1.55
	} {
		n := len(tt.weights)
		if tt.kind == divider.ChartIndividuals {
			n = 1
		}
		watch, err := divider.NewWatch(divider.ChartSetup{Kind: tt.kind, SubgroupSize: n, Centre: 85, SD: 1, LimitWidth: tt.width, Rules: divider.LimitsOnly})
		require.NoError(t, err)
		var last divider.ChartPoint
		for _, m := range tt.weights {
			last, _, err = watch.Add(m)
			require.NoError(t, err)
		}
		assert.Equal(t, tt.beyond, last.Signals.Has(divider.SpreadBeyondLimit), tt.id)
	}
}
