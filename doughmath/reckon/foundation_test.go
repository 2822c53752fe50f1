package reckon_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func TestChecksNameEveryBadField(t *testing.T) {
	c := Checks{Func: "demo"}
	assert.False(t, CheckPositive(&c, "dough", unit.Grams(-5)))
	assert.False(t, CheckPositive(&c, "flour", unit.Mass(math.NaN())))
	assert.False(t, CheckNotNegative(&c, "loss", unit.Percent(-1)))
	assert.False(t, CheckFinite(&c, "mark", math.Inf(1)))
	assert.False(t, CheckRange(&c, "share", unit.Percent(101), 0, 100))
	assert.False(t, CheckBelow(&c, "loss", unit.Percent(100), 0, 100))
	assert.False(t, CheckCount(&c, "across", 0, 1, 12))
	assert.False(t, CheckTemp(&c, "room", unit.Temp{}, unit.Celsius(-10), unit.Celsius(50)))
	assert.False(t, CheckWord(&c, "basis", "twice", "once", "per-factor", "never"))
	assert.True(t, CheckPositive(&c, "fine", unit.Grams(1)))
	err := c.Err()
	require.Error(t, err)
	var got []string
	for _, e := range InputErrors(err) {
		got = append(got, e.Error())
	}
	assert.Equal(t, []string{
		"demo: dough is -5 g: want more than 0 g",
		"demo: flour is NaN g: want more than 0 g",
		"demo: loss is -1 %: want 0 % or more",
		"demo: mark is +Inf: want a finite number",
		"demo: share is 101 %: want 0 % to 100 %",
		"demo: loss is 100 %: want 0 % to under 100 %",
		"demo: across is 0: want a whole number from 1 to 12",
		"demo: room is not given: want a temperature from -10 °C to 50 °C",
		`demo: basis is "twice": want "once", "per-factor" or "never"`,
	}, got)
}

// What a check takes, up to the largest number that there is, and what it does not.
func TestChecksTake(t *testing.T) {
	c := Checks{Func: "demo"}
	for _, v := range []float64{math.SmallestNonzeroFloat64, 1, math.MaxFloat64} {
		assert.True(t, CheckPositive(&c, "x", v) && CheckNotNegative(&c, "x", v) && CheckFinite(&c, "x", v) && CheckFinite(&c, "x", -v), "%v", v)
	}
	assert.True(t, CheckNotNegative(&c, "x", 0.0) && CheckBelow(&c, "x", 0.0, 0, 1) && CheckRange(&c, "x", 1.0, 0, 1) && CheckAbove(&c, "x", 1.0, 1) && CheckItems(&c, "x", 3, 3))
	c.Nest("part", nil)
	assert.True(t, c.OK())
	for _, v := range []float64{math.Inf(1), math.Inf(-1), math.NaN()} {
		assert.False(t, CheckPositive(&c, "x", v) || CheckNotNegative(&c, "x", v) || CheckFinite(&c, "x", v), "%v", v)
	}
	assert.False(t, CheckPositive(&c, "x", 0.0) || CheckAbove(&c, "x", 0.0, 1) || CheckAbove(&c, "x", 1.5, 1) || CheckBelow(&c, "x", -0.5, 0, 1) || CheckBelow(&c, "x", 1.0, 0, 1) ||
		CheckRange(&c, "x", -0.5, 0, 1) || CheckRange(&c, "x", 1.5, 0, 1) || CheckItems(&c, "x", 4, 3))

	other := Checks{Func: "demo"}
	other.Nest("part", errors.New("no mixer"))
	assert.False(t, other.Told("part"), "an error of another kind is told of no field")
	for range MaxErrors {
		other.Nest("", errors.New(strings.Repeat("z", 10_000)))
	}
	assert.LessOrEqual(t, len(other.Err().Error()), MaxRefusal)
}

func TestChecksPassWithoutCost(t *testing.T) {
	allocs := testing.AllocsPerRun(100, func() {
		c := Checks{Func: "demo"}
		CheckPositive(&c, "dough", unit.Grams(5))
		CheckTemp(&c, "room", unit.Celsius(20), unit.Celsius(0), unit.Celsius(40))
		CheckWord(&c, "basis", "once", "once", "per-factor")
		if c.Err() != nil || !c.OK() {
			t.Error("nothing is wrong")
		}
	})
	assert.Zero(t, allocs)
}

func TestChecksNest(t *testing.T) {
	inner := Checks{Func: "ice"}
	inner.Fail("water", "0 g", "more than 0 g")
	inner.Fail("tap", "not given", "a temperature")
	outer := Checks{Func: "line-plan"}
	other := errors.New("plain")
	outer.Nest("shift", errors.Join(inner.Err(), other))
	outer.Nest("", fmt.Errorf("wrapped: %w", inner.Err()))
	in := InputErrors(outer.Err())
	require.Len(t, in, 4)
	assert.Equal(t, "shift.water", in[0].Field)
	assert.Equal(t, "water", in[2].Field)
	assert.ErrorIs(t, outer.Err(), other)
	assert.Nil(t, InputErrors(nil))
}

func TestNoSolutionErrorNamesTheRange(t *testing.T) {
	e := &NoSolutionError{Func: "ice", Unknown: "amount of ice", Wanted: "-90 °C", Low: "-80 °C", High: "20 °C", Advice: "cool the flour"}
	assert.Equal(t, "ice: no amount of ice gives -90 °C; it can reach -80 °C to 20 °C: cool the flour", e.Error())
	e.Low, e.Advice = "", ""
	assert.Equal(t, "ice: no amount of ice gives -90 °C; it can reach up to 20 °C", e.Error())
	e.Low, e.High = "-80 °C", ""
	assert.Equal(t, "ice: no amount of ice gives -90 °C; it can reach -80 °C and more", e.Error())
}

// kneading is the vocabulary of an invented station.
type kneading struct{}

func (kneading) Conditions() []Note {
	return []Note{{Word: "too-cold", Says: "The dough is cold."}, {Word: "too-wet", Says: "The dough is wet."}}
}

type kneadingConditions = Set[kneading]

const (
	tooCold kneadingConditions = 1 << (FirstOwn + iota)
	tooWet
)

func TestConditionsSpeak(t *testing.T) {
	c := tooCold | Rounded
	assert.Equal(t, []string{"rounded", "too-cold"}, c.Words())
	assert.Equal(t, "rounded, too-cold", c.String())
	assert.Len(t, c.Sentences(), 2)
	assert.True(t, c.Has(Rounded))
	assert.False(t, c.Has(Rounded|tooWet))
	data, err := json.Marshal(c)
	require.NoError(t, err)
	assert.JSONEq(t, `["rounded","too-cold"]`, string(data))
	var back kneadingConditions
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, c, back)
	assert.Error(t, json.Unmarshal([]byte(`["bewitched"]`), &back))
	assert.Empty(t, kneadingConditions(1<<63|1<<15).Words(), "a bit without a word says nothing")
}

// Every bit has its word and its sentence, and no word stands twice.
func TestEveryConditionAndCautionHasItsText(t *testing.T) {
	seen := map[string]bool{}
	for _, n := range append(kneadingConditions(0).Known(), Cautions(0).Known()...) {
		assert.Regexp(t, `^[a-z]+(-[a-z]+)*$`, n.Word)
		assert.Regexp(t, `^[A-Z].*\.$`, n.Says)
		assert.False(t, seen[n.Word], n.Word)
		seen[n.Word] = true
	}
	assert.Equal(t, Cautions(0).Known(), Cautions(math.MaxUint64).Notes())
	u := MovingMachinery | IceHandling
	data, err := json.Marshal(u)
	require.NoError(t, err)
	var back Cautions
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, u, back)
	assert.True(t, back.Has(IceHandling))
	assert.Error(t, json.Unmarshal([]byte(`["dragons"]`), &back))
	assert.Error(t, json.Unmarshal([]byte(`"dragons"`), &back))
}

type kneaded struct {
	Conditions kneadingConditions `json:"conditions"`
	Cautions   Cautions           `json:"cautions"`
}

// Every remark of an answer is found, with the place where it arose.
func TestRemarks(t *testing.T) {
	answer := struct {
		Trials     kneadingConditions `json:"trials"`
		First      kneaded            `json:"first"`
		Other      *kneaded           `json:"other"`
		None       *kneaded           `json:"none"`
		Rows       []kneaded          `json:"rows"`
		Numbers    []float64          `json:"numbers"`
		Conditions kneadingConditions `json:"conditions"`
		Cautions   Cautions           `json:"cautions"`
	}{
		Trials: tooWet, First: kneaded{Conditions: tooCold, Cautions: HotWater}, Other: &kneaded{Conditions: Rounded},
		Rows: []kneaded{{}, {Conditions: tooCold, Cautions: Lifting}}, Conditions: Outlier, Cautions: OilSlip,
	}
	var got []string
	for _, r := range Remarks(answer) {
		got = append(got, r.Path+": "+r.Word)
	}
	assert.Equal(t, []string{"trials: too-wet", "first: too-cold", "other: rounded", "rows[1]: too-cold", ": outlier"}, got)
	assert.Equal(t, HotWater|Lifting|OilSlip, Hazards(answer))
	assert.Len(t, Distinct(Remarks(answer)), 4)
	assert.Empty(t, Remarks(nil))
}

func TestWorkingThatIsNilRecordsNothing(t *testing.T) {
	var none *Working
	none.Given("water", "W", 1, "g", "")
	none.Step("dough", "D", "W", 1, "g", "")
	var w Working
	w.Given("water", "W", 1, "g", "scale")
	w.Step("dough", "D", "2*W", 2, "g", "")
	assert.Equal(t, []Step{
		{Kind: TableStep, ID: "water", Symbol: "W", Value: 1, Unit: "g", Source: "scale"},
		{Kind: WorkedStep, ID: "dough", Symbol: "D", Expression: "2*W", Value: 2, Unit: "g", Answer: true},
	}, w.Steps)
}

func TestSolve(t *testing.T) {
	x, ok := Bisect(0, 2, func(x float64) float64 { return x*x - 2 })
	assert.True(t, ok)
	assert.InDelta(t, math.Sqrt2, x, 3e-16) // a neighbouring number at worst
	x, ok = Bisect(0, 2, func(x float64) float64 { return 1 - x })
	assert.True(t, ok)
	assert.Equal(t, 1.0, x)
	for name, f := range map[string]func(float64) float64{
		"no change of sign": func(x float64) float64 { return x*x + 1 },
		"not a number":      func(x float64) float64 { return math.Sqrt(x - 1) },
		"a hole on the way": func(x float64) float64 {
			if x > 0.4 && x < 1.6 {
				return math.NaN()
			}
			return x - 1
		},
	} {
		_, ok := Bisect(0, 2, f)
		assert.False(t, ok, name)
	}
	for _, ends := range [][2]float64{{2, 0}, {math.Inf(-1), 0}, {math.NaN(), 1}} {
		_, ok := Bisect(ends[0], ends[1], func(x float64) float64 { return x - 0.5 })
		assert.False(t, ok)
	}
	x, ok = Bisect(3, 5, func(x float64) float64 { return x - 3 })
	assert.True(t, ok)
	assert.Equal(t, 3.0, x)
	x, ok = Bisect(1, 3, func(x float64) float64 { return x - 3 })
	assert.True(t, ok)
	assert.Equal(t, 3.0, x)
}

// What Bisect takes at the ends of a bracket, and what it refuses whatever lies between.
func TestBisectEnds(t *testing.T) {
	minus := func(x float64) float64 { return -1 }
	hole := func(at float64) func(float64) float64 {
		return func(x float64) float64 {
			if x == at {
				return math.NaN()
			}
			return -1
		}
	}
	step := func(x float64) float64 { // a number even of what is none
		if x > 0.5 {
			return 1
		}
		return -1
	}
	for _, c := range []struct {
		id        string
		low, high float64
		f         func(float64) float64
		want      float64
		ok        bool
	}{
		{"falling to 0 at the high end", 1, 3, func(x float64) float64 { return 3 - x }, 3, true},
		{"falling from 0 at the low end", 3, 5, func(x float64) float64 { return 3 - x }, 3, true},
		{"a bracket of one number", 2, 2, func(x float64) float64 { return x - 2 }, 2, true},
		{"nearly 0 at the low end", 0, 1, func(x float64) float64 { return 0.005 - x }, 0.005, true},
		{"nearly 0 at the high end", 0, 1, func(x float64) float64 { return x - 0.995 }, 0.995, true},
		{"negative throughout", 0, 1, minus, 0, false},
		{"no number at the low end", 0, 1, hole(0), 0, false},
		{"no number at the high end", 0, 1, hole(1), 0, false},
		{"no low end", math.Inf(-1), 1, step, 0, false},
		{"no high end", 0, math.Inf(1), step, 0, false},
		{"ends the other way round", 1, 0, step, 0, false},
		{"both ends beyond all numbers", math.Inf(1), math.Inf(1), step, 0, false},
		{"a bracket wider than any number", -math.MaxFloat64, math.MaxFloat64, step, 0, false},
	} {
		x, ok := Bisect(c.low, c.high, c.f)
		assert.Equal(t, c.ok, ok, c.id)
		assert.InDelta(t, c.want, x, 1e-15, c.id)
	}
}

// The root is that of plain halving to a neighbouring number, for at most four times as many looks at f whatever its
// shape, and for a third of them where it is smooth; so it is with low and high the other way round.
func TestBisectTakesFewSteps(t *testing.T) {
	step := func(below, above float64) func(float64) float64 {
		return func(x float64) float64 {
			if x < 1.0/3 {
				return below
			}
			return above
		}
	}
	for _, c := range []struct {
		id        string
		low, high float64
		share     float64 // of the halvings
		f         func(float64) float64
	}{
		{"line", 0, 1, 0.1, func(x float64) float64 { return 3*x - 1 }},
		{"square", 0, 2, 1.0 / 3, func(x float64) float64 { return x*x - 2 }},
		{"falling square", -5, -1, 1.0 / 3, func(x float64) float64 { return x*x - 7 }},
		{"small square", 0, 1e-9, 1.0 / 3, func(x float64) float64 { return x*x - 3e-19 }},
		{"cosine", 0, 1, 1.0 / 3, func(x float64) float64 { return math.Cos(x) - x }},
		{"falling exponential", -10, 0, 1.0 / 3, func(x float64) float64 { return 0.2 - math.Exp(x) }},
		{"steep exponential", 0, 10, 0.5, func(x float64) float64 { return math.Exp(x) - 5 }},
		{"hyperbola", 0.01, 100, 0.6, func(x float64) float64 { return 1/x - 3 }},
		{"logarithm", 1, 1e9, 0.6, func(x float64) float64 { return math.Log(x) - 1 }},
		{"bend", 0, 1, 0.6, func(x float64) float64 { return math.Atan(1e6 * (x - 0.3)) }},
		{"flat", -1, 2, 4, func(x float64) float64 { return math.Pow(x-0.3, 9) }},
		{"step", 0, 1, 1.1, step(-1, 1)},
		{"step up from nearly 0", 0, 1, 4, step(-1e-9, 1)},
		{"step up to nearly 0", 0, 1, 4, step(-1, 1e-9)},
	} {
		low, high, halvings := c.low, c.high, 0
		for mid := low + (high-low)/2; mid > low && mid < high; mid = low + (high-low)/2 {
			halvings++
			if (c.f(mid) < 0) == (c.f(c.low) < 0) {
				low = mid
			} else {
				high = mid
			}
		}
		looks := 0
		x, ok := Bisect(c.low, c.high, func(x float64) float64 { looks++; return c.f(x) })
		require.True(t, ok, c.id)
		mirrored := 0
		_, ok = Bisect(-c.high, -c.low, func(x float64) float64 { mirrored++; return c.f(-x) })
		require.True(t, ok, c.id)
		assert.LessOrEqual(t, float64(mirrored), c.share*float64(halvings), "%s mirrored, of %d halvings", c.id, halvings)
		beside := math.Nextafter(x, math.Inf(1)) - x
		assert.InDelta(t, low, x, 2*beside, c.id)
		for _, other := range []float64{x - beside, x + beside} {
			assert.True(t, (c.f(other) < 0) == (c.f(x) < 0) || math.Abs(c.f(x)) <= math.Abs(c.f(other)), "%s: %v is nearer", c.id, other)
		}
		assert.LessOrEqual(t, float64(looks), c.share*float64(halvings), "%s, of %d halvings", c.id, halvings)
	}
}

func TestWorkingReads(t *testing.T) {
	var w Working
	w.Heading("Water")
	w.Given("target", "T_d", 26, "°C", "")
	w.Given("outdoors", "T_o", -4, "°C", "thermometer")
	w.Step("sum", "S", "T_d + T_o + min(1e-9, 2)*pi", 22, "C°", "")
	assert.Equal(t, `
Water
  target: T_d = 26 °C
  outdoors: T_o = -4 °C  [thermometer]
  sum: S = T_d + T_o + min(1e-9, 2)*pi = 26 + (-4) + min(1e-9, 2)*pi = 22 C°
`, w.String())
}
