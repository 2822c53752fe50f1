package doughmath_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
)

func ExampleWaterProperty() {
	out, err := doughmath.WaterProperty{Temperature: unit.Celsius(-18), Phase: doughmath.IceWater}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a kilogram of freezer ice takes %.0f kJ to become water of 0 °C\n", -out.Heat.KilojoulesPerKilogram())
	// Output: a kilogram of freezer ice takes 370 kJ to become water of 0 °C
}

func waterAt(t *testing.T, celsius float64, phase doughmath.WaterPhase) doughmath.WaterPropertyResult {
	t.Helper()
	out, err := doughmath.WaterProperty{Temperature: unit.Celsius(celsius), Phase: phase}.Solve()
	require.NoError(t, err)
	return out
}

// The specific heat is the slope of the heat, so the two check each other.
func TestWaterHeatSlopesAsItsSpecificHeat(t *testing.T) {
	for c := 0.5; c < 100; c++ {
		slope := float64(waterAt(t, c+0.5, doughmath.LiquidWater).Heat - waterAt(t, c-0.5, doughmath.LiquidWater).Heat)
		assert.InDelta(t, slope, float64(waterAt(t, c, doughmath.LiquidWater).SpecificHeat), 2e-5)
	}
	for c := -39.5; c < 0; c++ {
		slope := float64(waterAt(t, c+0.5, doughmath.IceWater).Heat - waterAt(t, c-0.5, doughmath.IceWater).Heat)
		assert.InDelta(t, slope, float64(waterAt(t, c, doughmath.IceWater).SpecificHeat), 1e-9)
	}
}

func TestWaterPropertyNamesEveryBadField(t *testing.T) {
	_, err := doughmath.WaterProperty{Phase: "steam"}.Solve()
	assert.Equal(t, []string{"temperature", "phase"}, fields(err))
	_, err = doughmath.WaterProperty{Temperature: unit.Celsius(1), Phase: doughmath.IceWater}.Solve()
	assert.Equal(t, []string{"temperature"}, fields(err))
	_, err = doughmath.WaterProperty{Temperature: unit.Celsius(-1), Phase: doughmath.LiquidWater}.Solve()
	assert.Equal(t, []string{"temperature"}, fields(err))
}

func FuzzWaterProperty(f *testing.F) {
	f.Add(20.0)
	f.Add(math.NaN())
	f.Add(math.Inf(1))
	f.Fuzz(func(t *testing.T, celsius float64) {
		for _, phase := range []doughmath.WaterPhase{doughmath.LiquidWater, doughmath.IceWater} {
			out, _ := doughmath.WaterProperty{Temperature: unit.Celsius(celsius), Phase: phase}.Solve()
			marshals(t, out)
		}
	})
}
