package doughmath_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func ExampleWaterTemperature() {
	out, err := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Friction: 14, Basis: doughmath.FrictionOnce,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("water", out.WaterTemp, "or", out.WaterTemp.In(unit.US))
	// Output: water 20 °C or 68 °F
}

func ExampleDoughTemperatureForWater() {
	out, err := doughmath.DoughTemperatureForWater{
		WaterTemp: unit.Celsius(17), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Friction: 14, Basis: doughmath.FrictionOnce,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("dough", out.DoughTemp)
	// Output: dough 25 °C
}

// fields returns the fields that err refuses, in the order found.
func fields(err error) []string {
	var out []string
	for _, e := range reckon.InputErrors(err) {
		out = append(out, e.Field)
	}
	return out
}

// marshals fails if a number in v is NaN or infinite, which JSON refuses.
func marshals(t *testing.T, v any) {
	t.Helper()
	_, err := json.Marshal(v)
	require.NoError(t, err, "%+v", v)
}

func TestWaterTemperatureNamesEveryBadField(t *testing.T) {
	_, err := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(78), Room: unit.Celsius(-41), Third: unit.Celsius(60.1), Fourth: unit.Celsius(math.NaN()),
		Friction: unit.TempDelta(math.NaN()), Basis: "twice",
	}.Solve()
	assert.Equal(t, []string{"target_temp", "flour_temp", "room", "third", "fourth", "friction", "friction_basis"}, fields(err))
	assert.ErrorContains(t, err, `target_temp is 78 °C: want a temperature from 0 °C to 45 °C`)
	assert.ErrorContains(t, err, `friction_basis is "twice": want "once" or "per-factor"`)

	_, err = doughmath.DoughTemperatureForWater{WaterTemp: unit.Celsius(56), FlourTemp: unit.Celsius(20)}.Solve()
	assert.Equal(t, []string{"water_temp", "friction_basis"}, fields(err))
}

func TestWaterTemperatureEdges(t *testing.T) {
	// Two factors, no friction: water = 2*target - flour, so that the flour sets the water exactly.
	at := func(target, flour float64) doughmath.WaterTemperature {
		return doughmath.WaterTemperature{TargetTemp: unit.Celsius(target), FlourTemp: unit.Celsius(flour), Basis: doughmath.FrictionOnce}
	}
	for _, c := range []struct {
		id            string
		target, flour float64
		want          doughmath.Conditions
		cautions      reckon.Cautions
	}{
		{"just-freezing", 10, 20, 0, 0},
		{"below-freezing", 10, 20.5, doughmath.BelowFreezing, 0},
		{"warm-limit", 30, 20, 0, 0},
		{"warm", 30, 19.5, doughmath.WarmForYeast, reckon.HotWater},
		{"hottest", 30, 15, doughmath.WarmForYeast, reckon.HotWater},
	} {
		out, err := at(c.target, c.flour).Solve()
		if assert.NoError(t, err, c.id) {
			assert.Equal(t, c.want, out.Conditions, c.id)
			assert.Equal(t, c.cautions, out.Cautions, c.id)
		}
	}
	_, err := at(30, 14.5).Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "29.8 °C", none.High, "the warmest dough that 45 °C water gives")
	assert.ErrorContains(t, err, "flour of 15 °C would do")

	in := at(0, 60)
	in.Friction = 20
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.BelowFreezing, out.Conditions, "-80 °C is all ice")
	in.Friction = 20.5
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.ColderThanAllIce, out.Conditions, "ice is not told to mend what it cannot")
}

// Water below absolute zero is no water: it is refused with the dough that can
// be reached. Down to there the number is one that the ice rule takes.
func TestWaterTemperatureBelowAbsoluteZero(t *testing.T) {
	in := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(0), FlourTemp: unit.Celsius(60), Room: unit.Celsius(33.15), Friction: 60, Basis: doughmath.FrictionPerFactor,
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, -273.15, out.WaterTemp.Celsius(), 1e-12)
	assert.Equal(t, doughmath.ColderThanAllIce, out.Conditions)
	_, err = doughmath.Ice{Water: 1000, Tap: unit.Celsius(10), NeededTemp: out.WaterTemp, Reading: doughmath.IceReplacing}.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none, "the ice rule takes the number and says what ice can do")

	in.Room = unit.Celsius(60)
	out, err = in.Solve()
	assert.Empty(t, out)
	require.ErrorAs(t, err, &none)
	// By hand: (-80 + 120 + 180)/3 and (45 + 120 + 180)/3.
	assert.Equal(t, [2]string{unit.Celsius(220.0 / 3).String(), unit.Celsius(345.0 / 3).String()}, [2]string{none.Low, none.High})
	assert.ErrorContains(t, err, "water of -300 °C, below absolute zero")
}

// randomFactors draws a plausible mixing room.
func randomFactors(r *rand.Rand) doughmath.WaterTemperature {
	in := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(10 + 20*r.Float64()), FlourTemp: unit.Celsius(40 * r.Float64()),
		Friction: unit.TempDelta(-2 + 12*r.Float64()), Basis: doughmath.FrictionOnce,
	}
	if r.IntN(2) == 0 {
		in.Basis = doughmath.FrictionPerFactor
	}
	if r.IntN(3) > 0 {
		in.Room = unit.Celsius(40 * r.Float64())
	}
	if r.IntN(3) == 0 {
		in.Third = unit.Celsius(40 * r.Float64())
	}
	if r.IntN(4) == 0 {
		in.Fourth = unit.Celsius(40 * r.Float64())
	}
	return in
}

func TestWaterTemperatureThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	solved := 0
	for range 2000 {
		in := randomFactors(r)
		out, w, err := reckon.Explain(in)
		if err != nil || out.Conditions.Has(doughmath.ColderThanAllIce) {
			continue
		}
		solved++
		isTrue(t, w)
		back, w, err := reckon.Explain(doughmath.DoughTemperatureForWater{
			WaterTemp: out.WaterTemp, FlourTemp: in.FlourTemp, Room: in.Room,
			Third: in.Third, Fourth: in.Fourth, Friction: in.Friction, Basis: in.Basis,
		})
		require.NoError(t, err)
		isTrue(t, w)
		assert.InDelta(t, in.TargetTemp.Celsius(), back.DoughTemp.Celsius(), 1e-9)
		assert.Equal(t, out.Conditions, back.Conditions)

		ff, w, err := reckon.Explain(doughmath.FrictionFactor{DoughTemp: in.TargetTemp, WaterTemp: out.WaterTemp, FlourTemp: in.FlourTemp, Room: in.Room, Third: in.Third, Fourth: in.Fourth})
		require.NoError(t, err)
		isTrue(t, w)
		got := ff.Once
		if in.Basis == doughmath.FrictionPerFactor {
			got = ff.PerFactor
		}
		assert.InDelta(t, float64(in.Friction), float64(got), 1e-9)
		assert.Equal(t, out.Factors, ff.Factors)
	}
	assert.Greater(t, solved, 1000, "too few draws were solvable to prove anything")
}

// A person in °F, who computes N*T - sum - F in °F by hand, gets our water.
func TestFahrenheitRouteEqualsCelsiusRoute(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	solved := 0
	for range 2000 {
		in := randomFactors(r)
		out, err := in.Solve()
		if err != nil {
			continue
		}
		solved++
		n, sum := 1.0, 0.0
		for _, f := range []unit.Temp{in.FlourTemp, in.Room, in.Third, in.Fourth} {
			if f.Given() {
				n++
				sum += f.Fahrenheit()
			}
		}
		friction := in.Friction.FahrenheitDegrees()
		if in.Basis == doughmath.FrictionPerFactor {
			friction *= n
		}
		assert.InDelta(t, n*in.TargetTemp.Fahrenheit()-sum-friction, out.WaterTemp.Fahrenheit(), 1e-9)
		base, err := doughmath.BaseTemperature{TargetTemp: in.TargetTemp, Factors: out.Factors, Friction: in.Friction, Basis: in.Basis}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, n*in.TargetTemp.Fahrenheit()-friction, base.Fahrenheit, 1e-9)
	}
	assert.Greater(t, solved, 1000)
}

func TestTemperatureAllocatesNothing(t *testing.T) {
	in := doughmath.WaterTemperature{
		TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
		Third: unit.Celsius(8), Friction: 14, Basis: doughmath.FrictionOnce,
	}
	back := doughmath.DoughTemperatureForWater{WaterTemp: unit.Celsius(10), FlourTemp: unit.Celsius(21), Friction: 14, Basis: doughmath.FrictionOnce}
	friction := doughmath.FrictionFactor{DoughTemp: unit.Celsius(26), WaterTemp: unit.Celsius(10), FlourTemp: unit.Celsius(21)}
	base := doughmath.BaseTemperature{TargetTemp: unit.Celsius(26), Factors: 3, Friction: 14, Basis: doughmath.FrictionOnce}
	forBase := doughmath.WaterForBase{Base: 60, FlourTemp: unit.Celsius(21), Room: unit.Celsius(23)}
	correction := doughmath.BaseCorrection{Base: 60, Factors: 3, WaterTemp: unit.Celsius(15), TargetTemp: unit.Celsius(24), GotTemp: unit.Celsius(26)}
	ice := doughmath.Ice{Water: 40000, Tap: unit.Celsius(18), NeededTemp: unit.Celsius(4), Reading: doughmath.IceAdded}
	forIce := doughmath.TemperatureForIce{Water: 40000, Tap: unit.Celsius(18), Ice: 5000, Reading: doughmath.IceAdded}
	var failed error
	n := testing.AllocsPerRun(100, func() {
		_, e1 := in.Solve()
		_, e2 := back.Solve()
		_, e3 := friction.Solve()
		_, e4 := base.Solve()
		_, e5 := forBase.Solve()
		_, e6 := correction.Solve()
		_, e7 := ice.Solve()
		_, e8 := forIce.Solve()
		for _, e := range [...]error{e1, e2, e3, e4, e5, e6, e7, e8} {
			if e != nil {
				failed = e
			}
		}
	})
	require.NoError(t, failed)
	assert.Zero(t, n)
}

func BenchmarkWaterTemperature(b *testing.B) {
	in := doughmath.WaterTemperature{TargetTemp: unit.Celsius(26), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23), Friction: 14, Basis: doughmath.FrictionOnce}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// No input makes the factor rule panic, or lets NaN or infinity out.
func FuzzFactorRule(f *testing.F) {
	f.Add(26.0, 21.0, 23.0, 8.0, 14.0, 60.0, 3, true, uint8(7))
	f.Add(math.NaN(), math.Inf(1), -1e308, 1e-320, math.Copysign(0, -1), 1e308, -1, false, uint8(0))
	f.Fuzz(func(t *testing.T, target, flour, room, third, friction, base float64, n int, once bool, given uint8) {
		temp := func(bit uint8, v float64) unit.Temp {
			if given&bit == 0 {
				return unit.Temp{}
			}
			return unit.Celsius(v)
		}
		basis := doughmath.FrictionPerFactor
		if once {
			basis = doughmath.FrictionOnce
		}
		check := func(out any, w *reckon.Working, err error) {
			if err != nil {
				var in *reckon.InputError
				var none *reckon.NoSolutionError
				require.True(t, errors.As(err, &in) || errors.As(err, &none), "%v", err)
			}
			marshals(t, out)
			isFinite(t, w)
		}
		a, wa, err := reckon.Explain(doughmath.WaterTemperature{TargetTemp: temp(1, target), FlourTemp: temp(2, flour), Room: temp(4, room), Third: temp(8, third), Friction: unit.TempDelta(friction), Basis: basis})
		check(a, wa, err)
		b, wb, err := reckon.Explain(doughmath.DoughTemperatureForWater{WaterTemp: temp(1, target), FlourTemp: temp(2, flour), Room: temp(4, room), Fourth: temp(8, third), Friction: unit.TempDelta(friction), Basis: basis})
		check(b, wb, err)
		c, wc, err := reckon.Explain(doughmath.FrictionFactor{DoughTemp: temp(1, target), FlourTemp: temp(2, flour), Room: temp(4, room), WaterTemp: temp(8, third)})
		check(c, wc, err)
		d, wd, err := reckon.Explain(doughmath.BaseTemperature{TargetTemp: temp(1, target), Factors: n, Friction: unit.TempDelta(friction), Basis: basis})
		check(d, wd, err)
		e, we, err := reckon.Explain(doughmath.DoughTemperatureForBase{Base: unit.TempDelta(base), Factors: n, Friction: unit.TempDelta(friction), Basis: basis})
		check(e, we, err)
		g, wg, err := reckon.Explain(doughmath.WaterForBase{Base: unit.TempDelta(base), FlourTemp: temp(2, flour), Room: temp(4, room)})
		check(g, wg, err)
		h, wh, err := reckon.Explain(doughmath.BaseCorrection{Base: unit.TempDelta(base), Factors: n, WaterTemp: temp(1, target), TargetTemp: temp(2, flour), GotTemp: temp(4, room)})
		check(h, wh, err)
	})
}

// isTrue evaluates every step of a working again: the formula that a person
// isTrue works every step out again and demands that no symbol stands for two things.
func isTrue(t *testing.T, w *reckon.Working) {
	t.Helper()
	require.NoError(t, testdata.Retrace(w, 1e-8))
	seen := map[string]bool{}
	for _, s := range w.Steps {
		require.False(t, math.IsNaN(s.Value), "%s", s.Symbol)
		require.False(t, s.Symbol != "" && seen[s.Symbol], "%s: one symbol for two things", s.ID)
		seen[s.Symbol] = true
	}
}

// isFinite demands that every step of a working is a number.
func isFinite(t *testing.T, w *reckon.Working) {
	t.Helper()
	if w == nil {
		return // there was no answer
	}
	for _, s := range w.Steps {
		require.False(t, math.IsNaN(s.Value) || math.IsInf(s.Value, 0), "%s", s.ID)
	}
}
