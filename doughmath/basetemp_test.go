package doughmath_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleBaseTemperature() {
	out, err := doughmath.BaseTemperature{TargetTemp: unit.Celsius(24), Factors: 3, Friction: 8, Basis: doughmath.FrictionOnce}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("base %v, or %v counted in °F\n", out.Base.CelsiusDegrees(), out.Fahrenheit)
	// Output: base 64, or 211.2 counted in °F
}

func ExampleDoughTemperatureForBase() {
	out, err := doughmath.DoughTemperatureForBase{Base: 64, Factors: 3, Friction: 8, Basis: doughmath.FrictionOnce}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("dough", out.DoughTemp)
	// Output: dough 24 °C
}

func ExampleWaterForBase() {
	out, err := doughmath.WaterForBase{Base: 64, FlourTemp: unit.Celsius(27), Room: unit.Celsius(28)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("water", out.WaterTemp)
	// Output: water 9 °C
}

func ExampleBaseForWater() {
	out, err := doughmath.BaseForWater{WaterTemp: unit.Celsius(9), FlourTemp: unit.Celsius(27), Room: unit.Celsius(28)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("base", out.Base.CelsiusDegrees())
	// Output: base 64
}

func ExampleBaseCorrection() {
	// The dough came out at 26 °C; 24 °C was wanted.
	out, err := doughmath.BaseCorrection{Base: 70, Factors: 3, WaterTemp: unit.Celsius(15), TargetTemp: unit.Celsius(24), GotTemp: unit.Celsius(26)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("next batch: water", out.WaterTemp, "and base", out.Base.CelsiusDegrees())
	// Output: next batch: water 9 °C and base 64
}

func TestBaseNamesEveryBadField(t *testing.T) {
	_, err := doughmath.BaseTemperature{Factors: 1, Friction: 61}.Solve()
	assert.Equal(t, []string{"target_temp", "factors", "friction", "friction_basis"}, fields(err))
	_, err = doughmath.DoughTemperatureForBase{Base: 241, Factors: 6, Friction: -21}.Solve()
	assert.Equal(t, []string{"base", "factors", "friction", "friction_basis"}, fields(err))
	_, err = doughmath.WaterForBase{Base: -61, Room: unit.Celsius(99)}.Solve()
	assert.Equal(t, []string{"base", "flour_temp", "room"}, fields(err))
	_, err = doughmath.BaseForWater{WaterTemp: unit.Celsius(56), Third: unit.Celsius(61)}.Solve()
	assert.Equal(t, []string{"water_temp", "flour_temp", "third"}, fields(err))
	_, err = doughmath.BaseCorrection{Base: 300}.Solve()
	assert.Equal(t, []string{"base", "factors", "water_temp", "target_temp", "got_temp"}, fields(err))
}

// The base and the water from it are the factor rule cut in two, and the
// correction of a correction leads back.
func TestBaseThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	solved, corrected := 0, 0
	for range 2000 {
		in := randomFactors(r)
		water, err := in.Solve()
		if err != nil {
			continue
		}
		solved++
		base, w, err := reckon.Explain(doughmath.BaseTemperature{TargetTemp: in.TargetTemp, Factors: water.Factors, Friction: in.Friction, Basis: in.Basis})
		require.NoError(t, err)
		isTrue(t, w)
		assert.Equal(t, water.Base, base.Base)
		again, err := doughmath.WaterForBase{Base: base.Base, FlourTemp: in.FlourTemp, Room: in.Room, Third: in.Third, Fourth: in.Fourth}.Solve()
		require.NoError(t, err)
		assert.Equal(t, water.WaterTemp, again.WaterTemp)
		assert.Equal(t, water.Conditions, again.Conditions)
		if !water.Conditions.Has(doughmath.ColderThanAllIce) {
			had, err := doughmath.BaseForWater{WaterTemp: again.WaterTemp, FlourTemp: in.FlourTemp, Room: in.Room, Third: in.Third, Fourth: in.Fourth}.Solve()
			require.NoError(t, err)
			assert.InDelta(t, float64(base.Base), float64(had.Base), 1e-12)
			assert.InDelta(t, base.Fahrenheit, had.Fahrenheit, 1e-12)
			assert.Equal(t, water.Factors, had.Factors)
			assert.Equal(t, water.Conditions, had.Conditions)
		}
		dough, err := doughmath.DoughTemperatureForBase{Base: base.Base, Factors: water.Factors, Friction: in.Friction, Basis: in.Basis}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, in.TargetTemp.Celsius(), dough.DoughTemp.Celsius(), 1e-12)

		step := doughmath.BaseCorrection{Base: base.Base, Factors: water.Factors, WaterTemp: water.WaterTemp, TargetTemp: in.TargetTemp, GotTemp: in.TargetTemp.Add(unit.TempDelta(-3 + 6*r.Float64()))}
		next, err := step.Solve()
		if err != nil || !(next.WaterTemp.Celsius() >= -80) {
			continue
		}
		corrected++
		home, err := doughmath.BaseCorrection{Base: next.Base, Factors: step.Factors, WaterTemp: next.WaterTemp, TargetTemp: step.GotTemp, GotTemp: step.TargetTemp}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(step.Base), float64(home.Base), 1e-9)
		assert.InDelta(t, step.WaterTemp.Celsius(), home.WaterTemp.Celsius(), 1e-9)
	}
	assert.Greater(t, solved, 1000)
	assert.Greater(t, corrected, 1000)
}

func TestBaseRefusesWaterThatKillsYeast(t *testing.T) {
	_, err := doughmath.WaterForBase{Base: 82, FlourTemp: unit.Celsius(9), Room: unit.Celsius(10)}.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "64 C°", none.High)
	assert.ErrorContains(t, err, "flour of 27 °C or a room of 28 °C would do")
	_, err = doughmath.BaseCorrection{Base: 70, Factors: 3, WaterTemp: unit.Celsius(51), TargetTemp: unit.Celsius(25), GotTemp: unit.Celsius(21)}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "19 °C", none.High, "21 °C and a third of the 6 degrees down to 45 °C")
	assert.ErrorContains(t, err, "flour or room 18 C° warmer would do")
}

// A number below absolute zero stands for no water and no ice.
func TestBaseThatNoWaterReaches(t *testing.T) {
	hot := unit.Celsius(60)
	_, err := doughmath.WaterForBase{Base: -60, FlourTemp: hot, Room: hot, Third: hot, Fourth: hot}.Solve()
	assert.ErrorContains(t, err, "it can reach 160 C° to 285 C°")
	_, err = doughmath.BaseCorrection{
		Base: 0, Factors: 5, WaterTemp: unit.Celsius(-80), TargetTemp: unit.Celsius(0), GotTemp: unit.Celsius(45),
	}.Solve()
	assert.ErrorContains(t, err, "below absolute zero")
}

// Water of -90 °C is a number, but no ice makes it: melting cools by 80 C°. Nothing is weighed then.
func TestBaseThatNoIceReaches(t *testing.T) {
	q := doughmath.BaseCorrection{Base: 40, Factors: 3, WaterTemp: unit.Celsius(-60), TargetTemp: unit.Celsius(20), GotTemp: unit.Celsius(30)}
	out, err := q.Solve()
	require.NoError(t, err, "as long as nobody weighs it")
	assert.Equal(t, doughmath.ColderThanAllIce, out.Conditions)
	q.WaterSupply = doughmath.WaterSupply{Water: 40000, Tap: unit.Celsius(18)}
	out, err = q.Solve()
	assert.ErrorContains(t, err, "it can reach -80 °C to 18 °C")
	assert.Zero(t, out)
}

// What is wrong with the yeast and the supply is told too.
func TestBaseCorrectionChecksYeastAndSupply(t *testing.T) {
	_, err := doughmath.BaseCorrection{
		Base: 70, Factors: 3, WaterTemp: unit.Celsius(15), TargetTemp: unit.Celsius(24), GotTemp: unit.Celsius(26),
		YeastUse: doughmath.YeastUse{Yeast: "wild", YeastStep: "first"}, WaterSupply: doughmath.WaterSupply{Water: 1},
	}.Solve()
	assert.Equal(t, []string{"yeast", "yeast_step", "tap"}, fields(err))
}
