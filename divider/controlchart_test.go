package divider_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// onChart is a chart of single pieces at 85 g with a standard deviation of 1 g,
// so that a weighing of 86 g lies one standard error above the centre.
func onChart(rules divider.RunRules) divider.ChartSetup {
	return divider.ChartSetup{Kind: divider.ChartIndividuals, Size: 1, Centre: 85, SD: 1, Width: 3, Rules: rules}
}

// wandering returns n weighings about 85 g, always the same ones.
func wandering(n int) []unit.Mass {
	r := rand.New(rand.NewPCG(1, 2))
	out := make([]unit.Mass, n)
	for i := range out {
		out[i] = unit.Grams(85 + 0.7*r.NormFloat64() + 0.004*float64(i))
	}
	return out
}

func setups() map[string]divider.ChartSetup {
	return map[string]divider.ChartSetup{
		"ranges":      {Kind: divider.ChartAveragesRanges, Size: 4, Centre: 85, SD: 0.7, Width: 3, Rules: divider.EightTests},
		"deviations":  {Kind: divider.ChartAveragesDeviations, Size: 5, Centre: 85, SD: 0.7, Width: 2.5, Rules: divider.ZoneTests},
		"individuals": {Kind: divider.ChartIndividuals, Size: 1, Centre: 85, SD: 0.7, Width: 3, Rules: divider.EightTests},
		"cusum":       {Kind: divider.ChartCUSUM, Size: 2, Centre: 85, SD: 0.7, Slack: 0.5, Decision: 4, Rules: divider.LimitsOnly},
		"ewma":        {Kind: divider.ChartEWMA, Size: 3, Centre: 85, SD: 0.7, Width: 2.7, Weight: 0.2, Rules: divider.LimitsOnly},
	}
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

// A point on the limit is within it, as the tests' words say "beyond".
func TestOnTheLimitIsNoSignal(t *testing.T) {
	out, err := divider.ControlChart{Setup: onChart(divider.EightTests), Weighings: grams(88)}.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Signalled)
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
		assert.Equal(t, 41%setup.Size, waiting, name)
		assert.Equal(t, waiting, used.Restart())
		for _, m := range x[41:] {
			a, completeA, err := used.Add(m)
			require.NoError(t, err)
			b, completeB, err := fresh.Add(m)
			require.NoError(t, err)
			require.Equal(t, completeB, completeA)
			if completeA {
				b.Number += 41 / setup.Size
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
	assert.Equal(t, []string{"setup.kind", "setup.size", "setup.centre", "setup.sd"}, refusedFields(err))

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

func TestControlChartRefuses(t *testing.T) {
	for _, tt := range []struct {
		id     string
		change func(*divider.ControlChart)
		fields []string
	}{
		{"zero-weighing", func(in *divider.ControlChart) { in.Weighings[2] = 0 }, []string{"weighings[2]"}},
		{"uneven", func(in *divider.ControlChart) { in.Weighings = in.Weighings[:7] }, []string{"weighings"}},
		{"none", func(in *divider.ControlChart) { in.Weighings = nil }, []string{"weighings"}},
		{"mixed-lanes", func(in *divider.ControlChart) { in.Lanes = []int{1, 1, 2, 1, 1, 1, 3, 1} }, []string{"lanes[2]", "lanes[6]"}},
		{"too-few-lanes", func(in *divider.ControlChart) { in.Lanes = []int{1} }, []string{"lanes"}},
		{"not-its-fields", func(in *divider.ControlChart) {
			in.Setup.Weight, in.Setup.Slack, in.Setup.Decision = 0.2, 1, 4
		}, []string{"setup.slack", "setup.decision", "setup.weight"}},
		{"rules-on-a-cusum", func(in *divider.ControlChart) {
			in.Setup = divider.ChartSetup{Kind: divider.ChartCUSUM, Size: 4, Centre: 85, SD: 1, Width: 3, Slack: 9, Rules: divider.ZoneTests}
		}, []string{"setup.width", "setup.slack", "setup.decision", "setup.rules"}},
		{"ewma-without-weight", func(in *divider.ControlChart) {
			in.Setup = divider.ChartSetup{Kind: divider.ChartEWMA, Size: 4, Centre: 85, SD: 1, Width: 3, Rules: divider.LimitsOnly}
		}, []string{"setup.weight"}},
		{"everything", func(in *divider.ControlChart) {
			in.Setup = divider.ChartSetup{Kind: divider.ChartAveragesRanges, Size: 99, Centre: -1, SD: unit.Mass(math.NaN()), Width: 40}
		}, []string{"setup.size", "setup.width", "setup.rules", "setup.centre", "setup.sd", "weighings"}},
	} {
		t.Run(tt.id, func(t *testing.T) {
			in := divider.ControlChart{
				Setup:     divider.ChartSetup{Kind: divider.ChartAveragesRanges, Size: 4, Centre: 85, SD: 1, Width: 3, Rules: divider.ZoneTests},
				Weighings: grams(85, 84, 86, 85, 85.5, 84.5, 85, 86),
			}
			tt.change(&in)
			_, err := in.Solve()
			assert.Equal(t, tt.fields, refusedFields(err))
		})
	}
}

func TestSetUpChartRefuses(t *testing.T) {
	in := divider.SetUpChart{Kind: divider.ChartAveragesRanges, Size: 2, Weighings: grams(85, 85, 86, 86), Width: 3, Rules: divider.LimitsOnly}
	_, err := in.Solve()
	assert.ErrorContains(t, err, "without scatter", "equal within each subgroup: the mean moves, the spread is unknown")
	in.Weighings = grams(85, 84)
	_, err = in.Solve()
	assert.Equal(t, []string{"weighings"}, refusedFields(err))
	_, err = divider.SetUpChart{Kind: "pie", Width: -1}.Solve()
	assert.Equal(t, []string{"kind", "size", "weighings"}, refusedFields(err))
}

// A run that wanders must not widen its own limits.
func TestSetUpIgnoresTheWanderingMean(t *testing.T) {
	steady, moved := wandering(100), wandering(100)
	for i := range moved {
		moved[i] += unit.Grams(float64(i / 5))
	}
	a, err := divider.SetUpChart{Kind: divider.ChartAveragesRanges, Size: 5, Weighings: steady, Width: 3, Rules: divider.LimitsOnly}.Solve()
	require.NoError(t, err)
	b, err := divider.SetUpChart{Kind: divider.ChartAveragesRanges, Size: 5, Weighings: moved, Width: 3, Rules: divider.LimitsOnly}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, a.Setup.SD.Grams(), b.Setup.SD.Grams(), 1e-9)
	assert.True(t, b.Conditions.Has(divider.OutOfControl))
	assert.False(t, a.Conditions.Has(divider.WeighMore), "twenty subgroups are enough")
}

func TestChartAppendsToTheCallersSlice(t *testing.T) {
	dst := make([]divider.ChartPoint, 0, 8)
	in := divider.ControlChart{Setup: onChart(divider.ZoneTests), Weighings: grams(85, 86, 84, 85)}
	assert.Zero(t, testing.AllocsPerRun(10, func() { _, _ = in.Append(dst) }))
	dst = append(dst, divider.ChartPoint{Number: 99})
	out, err := in.Append(dst)
	require.NoError(t, err)
	require.Len(t, out.Points, 5)
	assert.Equal(t, 99, out.Points[0].Number)
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

func TestRunLengthRefuses(t *testing.T) {
	for _, tt := range []struct {
		in     divider.RunLength
		fields []string
	}{
		{divider.RunLength{}, []string{"kind", "sides"}},
		{divider.RunLength{Kind: divider.ChartEWMA, Sides: divider.OneSided, Shift: 99, Decision: 1, Slack: 1}, []string{"shift", "sides", "width", "weight", "slack", "decision"}},
		{divider.RunLength{Kind: divider.ChartCUSUM, Sides: divider.TwoSided, Slack: -1, Decision: 21, Width: 3}, []string{"width", "slack", "decision"}},
		{divider.RunLength{Kind: divider.ChartIndividuals, Sides: divider.TwoSided, Width: math.NaN()}, []string{"width"}},
		{divider.RunLength{Kind: divider.ChartEWMA, Sides: divider.TwoSided, Width: 4.5, Weight: 0.02}, []string{"width"}},
	} {
		_, err := tt.in.Solve()
		assert.Equal(t, tt.fields, refusedFields(err))
	}
	var none *reckon.NoSolutionError
	_, err := divider.RunLength{Kind: divider.ChartCUSUM, Sides: divider.TwoSided, Slack: 5, Decision: 20}.Solve()
	assert.ErrorAs(t, err, &none, "a chart that never signals has no run length worth the name")
}

// An ewma that forgets at once is the chart of single pieces: two ways to the
// same run length, one in closed form.
func TestEWMAOfWeightOneIsTheChartOfSinglePieces(t *testing.T) {
	for _, shift := range []float64{0, 0.5, -1, 3} {
		a, err := divider.RunLength{Kind: divider.ChartEWMA, Sides: divider.TwoSided, Width: 3, Weight: 1, Shift: shift}.Solve()
		require.NoError(t, err)
		b, err := divider.RunLength{Kind: divider.ChartIndividuals, Sides: divider.TwoSided, Width: 3, Shift: shift}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, b.RunLength, a.RunLength, 1e-10)
	}
}

// The run length by equation against the chart itself: mean over many runs.
func TestRunLengthBySimulation(t *testing.T) {
	const runs = 4000
	r := rand.New(rand.NewPCG(7, 11))
	for name, setup := range map[string]divider.ChartSetup{
		"cusum":       {Kind: divider.ChartCUSUM, Size: 1, Centre: 85, SD: 1, Slack: 0.5, Decision: 4, Rules: divider.LimitsOnly},
		"individuals": {Kind: divider.ChartIndividuals, Size: 1, Centre: 85, SD: 1, Width: 3, Rules: divider.LimitsOnly},
	} {
		want, err := divider.RunLength{Kind: setup.Kind, Shift: 1, Sides: divider.TwoSided, Width: setup.Width, Slack: setup.Slack, Decision: setup.Decision}.Solve()
		require.NoError(t, err)
		total := 0
		for range runs {
			watch, err := divider.NewWatch(setup)
			require.NoError(t, err)
			for {
				p, _, err := watch.Add(unit.Grams(86 + r.NormFloat64()))
				require.NoError(t, err)
				total++
				if p.Signals&^divider.SpreadBeyondLimit != 0 {
					break
				}
			}
		}
		// A run length scatters at most about as much as it is long.
		got := float64(total) / runs
		assert.InDelta(t, want.RunLength, got, 4*want.RunLength/math.Sqrt(runs), name)
	}
}

func TestOperatingCurveIsEven(t *testing.T) {
	out, err := divider.OperatingCurve{Size: 5, Width: 3, Shifts: []float64{1.2, -1.2, 10}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, out.Points[0].Missed, out.Points[1].Missed)
	assert.InDelta(t, 1, out.Points[2].RunLength, 1e-12)
	_, err = divider.OperatingCurve{Shifts: []float64{0, 11, math.NaN()}}.Solve()
	assert.Equal(t, []string{"size", "width", "shifts[1]", "shifts[2]"}, refusedFields(err))
	_, err = divider.OperatingCurve{Size: 1, Width: 3}.Solve()
	assert.Equal(t, []string{"shifts"}, refusedFields(err))
}

func TestCapabilityConditions(t *testing.T) {
	base := divider.Capability{Mean: 85, Within: 0.7, Pieces: 500, Low: 82, High: 88, Level: 95, Required: 1.33}
	for _, tt := range []struct {
		id     string
		change func(*divider.Capability)
		want   divider.Conditions
	}{
		{"capable", func(in *divider.Capability) { in.Within = 0.6 }, 0},
		{"just-capable", func(in *divider.Capability) { in.Pieces = 100 }, divider.WeighMore},
		{"too-wide", func(in *divider.Capability) { in.Within = 1 }, divider.NotCapable},
		{"off-centre", func(in *divider.Capability) { in.Mean = 86.5 }, divider.NotCapable},
		{"outside", func(in *divider.Capability) { in.Mean = 90 }, divider.NotCapable},
		{"wandering", func(in *divider.Capability) { in.Within, in.Overall = 0.6, 1 }, divider.NotCapable},
	} {
		in := base
		tt.change(&in)
		out, err := in.Solve()
		require.NoError(t, err)
		assert.Equal(t, tt.want, out.Conditions, tt.id)
	}
}

func TestCapabilityThereAndBack(t *testing.T) {
	for _, cpk := range []float64{0.5, 1, 1.33, 2} {
		sd, err := divider.SDForCapability{Mean: 84, Low: 82, High: 88, Cpk: cpk}.Solve()
		require.NoError(t, err)
		out, err := divider.Capability{Mean: 84, Within: sd.SD, Pieces: 100, Low: 82, High: 88, Level: 95, Required: 1}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, cpk, out.Cpk, 1e-14)
	}
}

func TestCapabilityRefuses(t *testing.T) {
	_, err := divider.Capability{Overall: -1, Low: 88, High: 82, Target: 85}.Solve()
	assert.Equal(t, []string{"mean", "within", "overall", "pieces", "high", "target", "level", "required"}, refusedFields(err))
	_, err = divider.SDForCapability{Mean: 90, Low: 82, High: 88, Cpk: 9}.Solve()
	assert.Equal(t, []string{"cpk"}, refusedFields(err))
	_, err = divider.SDForCapability{Mean: 90, Low: 82, High: 88, Cpk: 1}.Solve()
	assert.Equal(t, []string{"mean"}, refusedFields(err))
	_, err = divider.ChartConstants{Size: 26}.Solve()
	assert.Equal(t, []string{"size"}, refusedFields(err))
}

func TestChartCalculationsDoNotAllocate(t *testing.T) {
	points := make([]divider.ShiftPoint, 0, 2)
	for name, f := range map[string]func(){
		"chart-constants": func() { _, _ = (divider.ChartConstants{Size: 5}).Solve() },
		"run-length": func() {
			_, _ = (divider.RunLength{Kind: divider.ChartEWMA, Shift: 1, Sides: divider.TwoSided, Width: 2.962, Weight: 0.2}).Solve()
		},
		"operating-curve": func() {
			_, _ = (divider.OperatingCurve{Size: 5, Width: 3, Shifts: []float64{0, 1}}).Append(points)
		},
		"sd-for-capability": func() {
			_, _ = (divider.SDForCapability{Mean: 85, Low: 82, High: 88, Cpk: 1.33}).Solve()
		},
	} {
		assert.Zero(t, testing.AllocsPerRun(3, f), name)
	}
}

func FuzzControlChart(f *testing.F) {
	f.Add(uint8(0), 2, 85.0, 1.0, 3.0, 0.0, 85.0, 84.0)
	f.Add(uint8(3), 1, 85.0, 1e-6, 0.0, 4.0, 1e5, 1e-3)
	f.Add(uint8(4), 25, 1e5, 1e5, 6.0, 0.2, 1e5, math.NaN())
	kinds := []divider.ChartKind{divider.ChartAveragesRanges, divider.ChartAveragesDeviations, divider.ChartIndividuals, divider.ChartCUSUM, divider.ChartEWMA}
	f.Fuzz(func(t *testing.T, kind uint8, size int, centre, sd, width, other, a, b float64) {
		setup := divider.ChartSetup{Kind: kinds[int(kind)%len(kinds)], Size: size, Centre: unit.Grams(centre), SD: unit.Grams(sd), Width: width, Rules: divider.LimitsOnly}
		switch setup.Kind {
		case divider.ChartCUSUM:
			setup.Width, setup.Decision = 0, other
		case divider.ChartEWMA:
			setup.Weight = other
		}
		var x []unit.Mass
		for range 4 * min(max(size, 1), 25) {
			x = append(x, unit.Grams(a), unit.Grams(b))
		}
		out, err := divider.ControlChart{Setup: setup, Weighings: x}.Solve()
		if err != nil {
			if len(refusedFields(err)) == 0 {
				t.Fatal(err)
			}
			return
		}
		for _, p := range out.Points {
			allFinite(t, float64(p.Value), float64(p.Spread), float64(p.Plotted), float64(p.Low), float64(p.High), p.Above, p.Below)
		}
	})
}

func FuzzRunLength(f *testing.F) {
	f.Add(uint8(0), 0.0, 3.0, 0.0)
	f.Add(uint8(1), 2.0, 0.5, 5.0)
	f.Add(uint8(2), -1.0, 2.7, 0.2)
	f.Fuzz(func(t *testing.T, kind uint8, shift, a, b float64) {
		in := divider.RunLength{Kind: divider.ChartIndividuals, Shift: shift, Sides: divider.TwoSided, Width: a}
		switch kind % 3 {
		case 1:
			in = divider.RunLength{Kind: divider.ChartCUSUM, Shift: shift, Sides: divider.TwoSided, Slack: a, Decision: b}
		case 2:
			in.Kind, in.Weight = divider.ChartEWMA, b
		}
		out, err := in.Solve()
		if err != nil {
			return
		}
		allFinite(t, out.FalseAlarm, out.RunLength)
		if out.RunLength < 1-1e-9 || out.FalseAlarm < 1-1e-9 {
			t.Fatalf("fewer than one point: %+v %+v", in, out)
		}
	})
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
		allFinite(t, float64(p.Value), float64(p.Spread), float64(p.Plotted), p.Above, p.Below)
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

func BenchmarkRunLength(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.RunLength{Kind: divider.ChartCUSUM, Shift: 1, Sides: divider.TwoSided, Slack: 0.5, Decision: 5}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCapability(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.Capability{Mean: 85, Within: 0.7, Pieces: 500, Low: 82, High: 88, Level: 95, Required: 1.33}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
