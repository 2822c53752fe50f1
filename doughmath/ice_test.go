package doughmath_test

import (
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
)

func ExampleIce() {
	out, err := doughmath.Ice{Water: unit.Kilograms(40), Tap: unit.Celsius(18), NeededTemp: unit.Celsius(4), Reading: doughmath.IceReplacing}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("ice", out.Ice, "and tap water", out.TapWater)
	// Output: ice 5.714 kg and tap water 34.29 kg
}

func ExampleTemperatureForIce() {
	out, err := doughmath.TemperatureForIce{Water: unit.Kilograms(40), Tap: unit.Celsius(18), Ice: unit.Kilograms(10), Reading: doughmath.IceReplacing}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("acts like water of", out.WaterTemp)
	// Output: acts like water of -6.5 °C
}

func TestIceNamesEveryBadField(t *testing.T) {
	_, err := doughmath.Ice{Tap: unit.Celsius(-1), Reading: "instead"}.Solve()
	assert.Equal(t, []string{"water", "tap", "reading", "needed_temp"}, fields(err))
	_, err = doughmath.Ice{Water: 2e8, Tap: unit.Celsius(20), NeededTemp: unit.Celsius(-300), Reading: doughmath.IceAdded}.Solve()
	assert.Equal(t, []string{"water", "needed_temp"}, fields(err))
	_, err = doughmath.TemperatureForIce{Water: 1000, Tap: unit.Celsius(20), Ice: 1001, Reading: doughmath.IceAdded}.Solve()
	assert.Equal(t, []string{"ice"}, fields(err))
}

func TestIceLimits(t *testing.T) {
	ice := func(tap, needed float64, reading doughmath.IceReading) (doughmath.IceResult, error) {
		return doughmath.Ice{Water: 1000, Tap: unit.Celsius(tap), NeededTemp: unit.Celsius(needed), Reading: reading}.Solve()
	}
	out, err := ice(20, -80, doughmath.IceReplacing)
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(1000), out.Ice, "all the water as ice")
	assert.Equal(t, doughmath.MuchIce, out.Conditions)
	_, err = ice(20, -80.5, doughmath.IceReplacing)
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"-80 °C", "20 °C"}, [2]string{none.Low, none.High})

	out, err = ice(20, -30, doughmath.IceAdded)
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(1000), out.Ice, "as much ice as water")
	assert.Equal(t, unit.Mass(2000), out.Total)
	_, err = ice(20, -30.5, doughmath.IceAdded)
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "-30 °C", none.Low)

	for _, reading := range []doughmath.IceReading{doughmath.IceReplacing, doughmath.IceAdded} {
		for _, needed := range []float64{20, 25} {
			var w *reckon.Working
			out, w, err = reckon.Explain(doughmath.Ice{Water: 1000, Tap: unit.Celsius(20), NeededTemp: unit.Celsius(needed), Reading: reading})
			require.NoError(t, err)
			isTrue(t, w)
			assert.Zero(t, out.Ice)
			assert.Equal(t, doughmath.NoIceNeeded, out.Conditions)
			assert.Zero(t, out.Cautions, "no ice, nothing to handle")
		}
	}
	out, err = ice(20, -20, doughmath.IceReplacing) // 40 % of ice
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
	assert.Equal(t, reckon.IceHandling, out.Cautions)
	out, err = ice(20, -20.5, doughmath.IceReplacing)
	require.NoError(t, err)
	assert.Equal(t, doughmath.MuchIce, out.Conditions)

	heavy, err := doughmath.Ice{Water: unit.Kilograms(50), Tap: unit.Celsius(20), NeededTemp: unit.Celsius(4), Reading: doughmath.IceReplacing}.Solve()
	require.NoError(t, err)
	assert.Equal(t, reckon.IceHandling|reckon.Lifting, heavy.Cautions)
}

// The heat balance itself, with the trade's 1 kcal/(kg K) and 80 kcal/kg, and
// back through the inverse.
func TestIceBalancesHeatThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		tap := 1 + 40*r.Float64()
		in := doughmath.Ice{Water: unit.Mass(100 + 1e5*r.Float64()), Tap: unit.Celsius(tap), Reading: doughmath.IceReplacing}
		coldest := -80.0
		if r.IntN(2) == 0 {
			in.Reading, coldest = doughmath.IceAdded, (tap-80)/2
		}
		needed := coldest + (tap-coldest)*r.Float64()
		in.NeededTemp = unit.Celsius(needed)
		out, w, err := reckon.Explain(in)
		require.NoError(t, err)
		isTrue(t, w)
		heat := float64(out.TapWater)*(tap-needed) - float64(out.Ice)*(80+needed)
		assert.InDelta(t, 0, heat/float64(out.Total), 1e-9)
		assert.InDelta(t, float64(out.Total), float64(out.Ice+out.TapWater), 1e-9*float64(out.Total))
		assert.InDelta(t, float64(out.Ice)/float64(out.Total), float64(out.Share)/100, 1e-12)

		// A person in °F divides by tap or needed + 112 and gets the same ice.
		divisor := in.Tap.Fahrenheit()
		if in.Reading == doughmath.IceAdded {
			divisor = in.NeededTemp.Fahrenheit()
		}
		assert.InEpsilon(t, in.Water.Pounds()*(in.Tap.Fahrenheit()-in.NeededTemp.Fahrenheit())/(divisor+112), out.Ice.Pounds(), 1e-9)

		back, w, err := reckon.Explain(doughmath.TemperatureForIce{Water: in.Water, Tap: in.Tap, Ice: min(out.Ice, in.Water), Reading: in.Reading})
		require.NoError(t, err)
		isTrue(t, w)
		assert.InDelta(t, needed, back.WaterTemp.Celsius(), 1e-9)
		assert.InDelta(t, float64(out.CoolingEnergy), float64(back.CoolingEnergy), 1e-6)
	}
}

func BenchmarkIce(b *testing.B) {
	in := doughmath.Ice{Water: 40000, Tap: unit.Celsius(18), NeededTemp: unit.Celsius(4), Reading: doughmath.IceReplacing}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// No input makes the ice arithmetic panic, or lets NaN or infinity out.
func FuzzIce(f *testing.F) {
	f.Add(40000.0, 18.0, 4.0, 5700.0, true)
	f.Add(5e-324, 60.0, -80.0, 5e-324, false)
	f.Add(math.Inf(1), math.NaN(), -1e308, math.Copysign(0, -1), false)
	f.Fuzz(func(t *testing.T, water, tap, needed, ice float64, replacing bool) {
		reading := doughmath.IceAdded
		if replacing {
			reading = doughmath.IceReplacing
		}
		out, err := doughmath.Ice{Water: unit.Mass(water), Tap: unit.Celsius(tap), NeededTemp: unit.Celsius(needed), Reading: reading}.Solve()
		marshals(t, out)
		back, err2 := doughmath.TemperatureForIce{Water: unit.Mass(water), Tap: unit.Celsius(tap), Ice: unit.Mass(ice), Reading: reading}.Solve()
		marshals(t, back)
		for _, e := range []error{err, err2} {
			var in *reckon.InputError
			var none *reckon.NoSolutionError
			require.True(t, e == nil || errors.As(e, &in) || errors.As(e, &none), "%v", e)
		}
	})
}

// What arithmetic leaves over of a temperature is no ice, and nothing to be
// careful with: a tap of 18 °C is cold enough for water of 17.999999999999996 °C.
func TestNoIceOfARoundingResidue(t *testing.T) {
	for _, reading := range []doughmath.IceReading{doughmath.IceReplacing, doughmath.IceAdded} {
		out, w, err := reckon.Explain(doughmath.Ice{Water: 40000, Tap: unit.Celsius(18), NeededTemp: unit.Celsius(math.Nextafter(18, 0)), Reading: reading})
		require.NoError(t, err)
		isTrue(t, w)
		assert.Zero(t, out.Ice)
		assert.Equal(t, doughmath.NoIceNeeded, out.Conditions)
		assert.Equal(t, reckon.Lifting, out.Cautions, "no ice to handle")

		back, err := doughmath.TemperatureForIce{Water: 4000, Tap: unit.Celsius(18), Ice: 1e-12, Reading: reading}.Solve()
		require.NoError(t, err)
		assert.Zero(t, back.Cautions)
	}
	batch := doughmath.MixingBatch{
		Ingredients: []doughmath.HeatIngredient{
			{Kind: doughmath.BreadFlour, Mass: 10000, Temp: unit.Celsius(22)},
			{Kind: doughmath.WaterKind, Mass: 6000, Temp: unit.Celsius(15)},
		},
		Heats: doughmath.TradeHeats, HydrationHeat: 15.1, Work: 40, IceTemp: unit.Celsius(-6),
	}
	warm, err := doughmath.MixingHeat{MixingBatch: batch}.Solve()
	require.NoError(t, err)
	out, w, err := reckon.Explain(doughmath.IceForMixingHeat{MixingBatch: batch, TargetTemp: warm.DoughTemp.Add(-1e-12), Reading: doughmath.IceReplacing})
	require.NoError(t, err)
	isTrue(t, w)
	assert.Zero(t, out.Ice)
	assert.True(t, out.Conditions.Has(doughmath.NoIceNeeded))
	assert.False(t, out.Cautions.Has(reckon.IceHandling))
}

// The heat of melting is named, and the way back takes the same one.
func TestMeltingByName(t *testing.T) {
	ice := doughmath.Ice{Water: 40000, Tap: unit.Celsius(20), NeededTemp: unit.Celsius(10), Reading: doughmath.IceReplacing}
	left, err := ice.Solve()
	require.NoError(t, err)
	for _, m := range []doughmath.Melting{{Heat: doughmath.MeltingTrade}, {Heat: doughmath.MeltingMeasured}, {Heat: doughmath.MeltingGiven, Own: 334.6}} {
		for _, ice.Reading = range []doughmath.IceReading{doughmath.IceReplacing, doughmath.IceAdded} {
			ice.Melting = m
			out, w, err := reckon.Explain(ice)
			require.NoError(t, err)
			isTrue(t, w)
			back, w, err := reckon.Explain(doughmath.TemperatureForIce{Water: ice.Water, Tap: ice.Tap, Ice: out.Ice, Reading: ice.Reading, Melting: m})
			require.NoError(t, err)
			isTrue(t, w)
			assert.InDelta(t, 10, back.WaterTemp.Celsius(), 1e-12)
			if m.Heat == doughmath.MeltingTrade && ice.Reading == doughmath.IceReplacing {
				assert.Equal(t, left, out, "left out, it is the trade's")
			}
		}
	}
	ice.Melting = doughmath.Melting{Heat: "sour", Own: 1}
	_, err = ice.Solve()
	assert.Equal(t, []string{"melting", "melting_heat"}, fields(err))
	ice.Melting = doughmath.Melting{Heat: doughmath.MeltingGiven, Own: 351}
	_, err = ice.Solve()
	assert.Equal(t, []string{"melting_heat"}, fields(err))
}
