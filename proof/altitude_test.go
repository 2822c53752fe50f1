package proof_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

func TestAltitudeAndBack(t *testing.T) {
	for z := -460.0; z < 5400; z += 10 {
		in := proof.AirPressure{Altitude: unit.Metres(z)}
		at, err := in.Solve()
		require.NoError(t, err)
		back := proof.AltitudeForAirPressure(at)
		out, err := back.Solve()
		require.NoError(t, err)
		require.InDelta(t, z, out.Altitude.Metres(), 1e-8)
		require.True(t, shows(t, in))
		require.True(t, shows(t, back))
	}
	_, err := proof.AirPressure{Altitude: unit.Metres(9000)}.Solve()
	assert.Equal(t, []string{"altitude"}, fields(err))
	_, err = proof.AltitudeForAirPressure{}.Solve()
	assert.Equal(t, []string{"pressure"}, fields(err))
}

// Warming air without water takes 1.006 kJ/kg and degree with what vapour it
// holds; steam adds its own heat; and thinner air fills more room.
func TestHeatAndVolumeOfAir(t *testing.T) {
	at := func(celsius, dew, kPa float64) proof.AirResult {
		out, err := proof.Air{DryBulb: unit.Celsius(celsius), DewPoint: unit.Celsius(dew), Pressure: unit.Pressure(kPa)}.Solve()
		require.NoError(t, err)
		return out
	}
	cool, warm, high := at(25, 20, 101.325), at(38, 20, 101.325), at(25, 20, 80)
	w := cool.Ratio / 1000
	assert.InDelta(t, 13*(1.006+1.86*w), float64(warm.Enthalpy-cool.Enthalpy), 1e-9)
	// By hand, from the gas law: R of dry air 287.042 J/(kg K), vapour as ratio over 0.621945 more moles.
	assert.InEpsilon(t, 0.287042*298.15/(101.325-2.3388), cool.Volume, 1e-5, "the air fills the room at its own part of the pressure")
	assert.InEpsilon(t, 0.287042*298.15/(80-2.3388), high.Volume, 1e-5)
	assert.Greater(t, high.Enthalpy, cool.Enthalpy, "the same dew point is more water for each kg of thin air")
}

func ExampleAirPressure() {
	out, err := proof.AirPressure{Altitude: unit.Metres(1200)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Pressure)
	// Output:
	// 87.72 kPa
}

func ExampleAltitudeForAirPressure() {
	out, err := proof.AltitudeForAirPressure{Pressure: unit.Kilopascals(101.325)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Altitude)
	// Output:
	// 0 mm
}
