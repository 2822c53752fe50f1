package doughmath_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleWaterMix() {
	out, err := doughmath.WaterMix{Water: unit.Kilograms(40), WantedTemp: unit.Celsius(27), Cold: unit.Celsius(12), Hot: unit.Celsius(52)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.ColdWater, "cold and", out.HotWater, "hot")
	// Output: 25 kg cold and 15 kg hot
}

func ExampleTemperatureForWaterMix() {
	out, err := doughmath.TemperatureForWaterMix{ColdWater: unit.Kilograms(25), Cold: unit.Celsius(12), HotWater: unit.Kilograms(15), Hot: unit.Celsius(52)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Total, "of", out.Temperature)
	// Output: 40 kg of 27 °C
}

// The rule takes one specific heat; the heat content of water says what that costs.
func TestWaterMixAgainstHeatContent(t *testing.T) {
	worst := 0.0
	for cold := 0.0; cold < 95; cold += 5 {
		for hot := cold + 5; hot <= 95; hot += 5 {
			for share := 0.1; share < 1; share += 0.1 {
				mix, err := doughmath.TemperatureForWaterMix{
					ColdWater: unit.Mass(1000 * (1 - share)), Cold: unit.Celsius(cold), HotWater: unit.Mass(1000 * share), Hot: unit.Celsius(hot),
				}.Solve()
				require.NoError(t, err)
				out := waterAt(t, mix.Temperature.Celsius(), doughmath.LiquidWater)
				brought := (1-share)*float64(waterAt(t, cold, doughmath.LiquidWater).Heat) + share*float64(waterAt(t, hot, doughmath.LiquidWater).Heat)
				worst = max(worst, math.Abs(float64(out.Heat)-brought)/float64(out.SpecificHeat))

				back, err := doughmath.WaterMix{Water: 1000, WantedTemp: mix.Temperature, Cold: unit.Celsius(cold), Hot: unit.Celsius(hot)}.Solve()
				require.NoError(t, err)
				assert.InDelta(t, share, float64(back.HotWater)/1000, 1e-12)
				assert.InDelta(t, 100*share, float64(back.HotShare), 1e-9)
			}
		}
	}
	assert.Less(t, worst, 0.1, "the bound that the documentation promises")
}

func TestWaterMixLimits(t *testing.T) {
	in := doughmath.WaterMix{Water: 1000, WantedTemp: unit.Celsius(9), Cold: unit.Celsius(10), Hot: unit.Celsius(60)}
	_, err := in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [3]string{"10 °C", "60 °C", "chill the cold water or use ice"}, [3]string{none.Low, none.High, none.Advice})
	in.WantedTemp = unit.Celsius(61)
	_, err = in.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "heat the hot water more", none.Advice)

	in.WantedTemp = unit.Celsius(40)
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
	assert.Equal(t, reckon.HotWater, out.Cautions)
	in.WantedTemp, in.Water = unit.Celsius(40.5), unit.Kilograms(50)
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.WarmForYeast, out.Conditions)
	assert.Equal(t, reckon.HotWater|reckon.Lifting, out.Cautions)

	_, err = doughmath.WaterMix{Water: -1, Cold: unit.Celsius(20), Hot: unit.Celsius(20)}.Solve()
	assert.Equal(t, []string{"water", "wanted_temp", "hot"}, fields(err))
	_, err = doughmath.TemperatureForWaterMix{HotWater: 1e9}.Solve()
	assert.Equal(t, []string{"hot_water", "cold", "hot"}, fields(err))
	_, err = doughmath.TemperatureForWaterMix{Cold: unit.Celsius(20), Hot: unit.Celsius(20)}.Solve()
	assert.Equal(t, []string{"hot_water"}, fields(err), "no water at all")
}

func FuzzWaterMix(f *testing.F) {
	f.Add(1000.0, 20.0, 10.0, 60.0)
	f.Add(math.NaN(), math.Inf(1), -40.0, 5e-324)
	f.Fuzz(func(t *testing.T, water, wanted, cold, hot float64) {
		a, _ := doughmath.WaterMix{Water: unit.Mass(water), WantedTemp: unit.Celsius(wanted), Cold: unit.Celsius(cold), Hot: unit.Celsius(hot)}.Solve()
		marshals(t, a)
		b, _ := doughmath.TemperatureForWaterMix{ColdWater: unit.Mass(water), HotWater: unit.Mass(wanted), Cold: unit.Celsius(cold), Hot: unit.Celsius(hot)}.Solve()
		marshals(t, b)
	})
}
