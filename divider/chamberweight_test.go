package divider_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
)

func ExampleChamberWeight() {
	out, err := divider.ChamberWeight(divider.ChamberWeightInput{Volume: 376.9, GasFree: 1.27, Gas: 10, Ambient: 101.325, Chamber: unit.Bars(2)})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%v; one more point of gas: %.1f g\n", out.Weight, out.PerGas)
	// Output: 453.2 g; one more point of gas: -2.7 g
}

func ExampleVolumeForChamberWeight() {
	out, err := divider.VolumeForChamberWeight(divider.VolumeForChamberWeightInput{Weight: 450, GasFree: 1.27, Gas: 6, Ambient: 101.325, Chamber: 101.325})
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Volume)
	// Output: 376.9 ml
}

func ExampleGasForChamberWeight() {
	out, err := divider.GasForChamberWeight(divider.GasForChamberWeightInput{Weight: 430.85, Volume: 376.95, GasFree: 1.27, Ambient: 101.325, Chamber: 101.325})
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Gas)
	// Output: 10 %
}

func ExamplePressureForChamberWeight() {
	out, err := divider.PressureForChamberWeight(divider.PressureForChamberWeightInput{Weight: 453.5, Volume: 376.9, GasFree: 1.27, Gas: 10, Ambient: 101.325})
	if err != nil {
		panic(err)
	}
	fmt.Println(out.Chamber)
	// Output: 202.9 kPa
}

func ExampleGasAfterMixing() {
	out, err := divider.GasAfterMixing(divider.GasAfterMixingInput{Gas: 5, Ambient: 101.325, Mixer: 101.325, Rest: 60})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%v of gas a minute after the mixer stops\n", out.Gas)
	// Output: 7.846 % of gas a minute after the mixer stops
}

// Each inverse brings back what ChamberWeight was given.
func TestChamberThereAndBack(t *testing.T) {
	for _, gas := range []unit.Percent{1, 6, 20, 65, 90} {
		for _, chamber := range []unit.Pressure{40, 101.325, 300, 1500} {
			in := divider.ChamberWeightInput{Volume: 377, GasFree: 1.25, Gas: gas, Ambient: 98, Chamber: chamber}
			out, err := divider.ChamberWeight(in)
			require.NoError(t, err)
			v, err := divider.VolumeForChamberWeight(divider.VolumeForChamberWeightInput{Weight: out.Weight, GasFree: in.GasFree, Gas: gas, Ambient: in.Ambient, Chamber: chamber})
			require.NoError(t, err)
			assert.InEpsilon(t, float64(in.Volume), float64(v.Volume), 1e-12)
			g, err := divider.GasForChamberWeight(divider.GasForChamberWeightInput{Weight: out.Weight * (1 - 1e-15), Volume: in.Volume, GasFree: in.GasFree, Ambient: in.Ambient, Chamber: chamber})
			if gas < 90 { // at the very end rounding may fall outside
				require.NoError(t, err)
				assert.InEpsilon(t, float64(gas), float64(g.Gas), 1e-9)
			}
			p, err := divider.PressureForChamberWeight(divider.PressureForChamberWeightInput{Weight: out.Weight, Volume: in.Volume, GasFree: in.GasFree, Gas: gas, Ambient: in.Ambient})
			require.NoError(t, err)
			assert.InEpsilon(t, float64(chamber), float64(p.Chamber), 1e-9)
		}
	}
}

// The sensitivities are the slopes of the weight itself.
func TestChamberSensitivities(t *testing.T) {
	in := divider.ChamberWeightInput{Volume: 377, GasFree: 1.25, Gas: 12, Ambient: 98, Chamber: 250}
	weight := func(change func(*divider.ChamberWeightInput)) float64 {
		in := in
		change(&in)
		out, err := divider.ChamberWeight(in)
		require.NoError(t, err)
		return float64(out.Weight)
	}
	out, err := divider.ChamberWeight(in)
	require.NoError(t, err)
	const h = 1e-4
	slope := func(up, down func(*divider.ChamberWeightInput)) float64 { return (weight(up) - weight(down)) / (2 * h) }
	assert.InEpsilon(t, slope(func(c *divider.ChamberWeightInput) { c.Volume += h }, func(c *divider.ChamberWeightInput) { c.Volume -= h }), out.PerVolume, 1e-7)
	assert.InEpsilon(t, slope(func(c *divider.ChamberWeightInput) { c.Gas += h }, func(c *divider.ChamberWeightInput) { c.Gas -= h }), out.PerGas, 1e-7)
	assert.InEpsilon(t, slope(func(c *divider.ChamberWeightInput) { c.Chamber += h }, func(c *divider.ChamberWeightInput) { c.Chamber -= h }), out.PerPressure, 1e-7)
	assert.InEpsilon(t, slope(func(c *divider.ChamberWeightInput) { c.GasFree += h }, func(c *divider.ChamberWeightInput) { c.GasFree -= h })/100, out.PerGasFree, 1e-7)
}

func TestChamberRefuses(t *testing.T) {
	_, err := divider.ChamberWeight(divider.ChamberWeightInput{Gas: 91, Chamber: 10})
	assert.Equal(t, []string{"volume", "gas_free", "gas", "ambient", "chamber"}, fields(err))
	_, err = divider.VolumeForChamberWeight(divider.VolumeForChamberWeightInput{Gas: -1})
	assert.Equal(t, []string{"weight", "gas_free", "gas", "ambient", "chamber"}, fields(err))
	_, err = divider.GasForChamberWeight(divider.GasForChamberWeightInput{Weight: 1e6, GasFree: 2})
	assert.Equal(t, []string{"weight", "volume", "gas_free", "ambient", "chamber"}, fields(err))
	_, err = divider.PressureForChamberWeight(divider.PressureForChamberWeightInput{Gas: 0.5})
	assert.Equal(t, []string{"weight", "volume", "gas_free", "gas", "ambient"}, fields(err))
	_, err = divider.GasForChamberWeight(divider.GasForChamberWeightInput{Weight: 500, Volume: 376.9, GasFree: 1.27, Ambient: 101, Chamber: 101})
	assert.ErrorContains(t, err, "to 478.7 g: check the chamber volume")
	_, err = divider.GasForChamberWeight(divider.GasForChamberWeightInput{Weight: 40, Volume: 376.9, GasFree: 1.27, Ambient: 101, Chamber: 101})
	assert.ErrorContains(t, err, "it can reach 47.87 g to", "a tenth of the chamber, when nine tenths are gas")
	_, err = divider.PressureForChamberWeight(divider.PressureForChamberWeightInput{Weight: 478.7, Volume: 376.9, GasFree: 1.27, Gas: 10, Ambient: 101})
	assert.ErrorContains(t, err, "no pressure gives")
	for _, weight := range []unit.Mass{200, 478, 600} { // suction, more than 20 bar, more than the dough without gas
		_, err = divider.PressureForChamberWeight(divider.PressureForChamberWeightInput{Weight: weight, Volume: 376.9, GasFree: 1.27, Gas: 10, Ambient: 101})
		assert.ErrorContains(t, err, "it can reach 306.6 g to 476 g", "%v", weight)
	}
	_, err = divider.GasAfterMixing(divider.GasAfterMixingInput{Gas: unit.Percent(math.NaN()), Rest: -1})
	assert.Equal(t, []string{"gas", "ambient", "mixer", "rest"}, fields(err))
}

func FuzzChamber(f *testing.F) {
	f.Add(376.9, 1.27, 10.0, 101.3, 200.0, 450.0)
	f.Add(1e-300, 1.6, 90.0, 50.0, 2000.0, 1e5)
	f.Fuzz(func(t *testing.T, volume, density, gas, ambient, chamber, weight float64) {
		v, d, g := unit.Volume(volume), unit.Density(density), unit.Percent(gas)
		a, p, m := unit.Pressure(ambient), unit.Pressure(chamber), unit.Mass(weight)
		if out, err := divider.ChamberWeight(divider.ChamberWeightInput{Volume: v, GasFree: d, Gas: g, Ambient: a, Chamber: p}); err == nil {
			finite(t, float64(out.Weight), float64(out.ChamberGas), out.PerGas, out.PerPressure, out.PerGasFree)
		}
		if out, err := divider.VolumeForChamberWeight(divider.VolumeForChamberWeightInput{Weight: m, GasFree: d, Gas: g, Ambient: a, Chamber: p}); err == nil {
			finite(t, float64(out.Volume))
		}
		if out, err := divider.GasForChamberWeight(divider.GasForChamberWeightInput{Weight: m, Volume: v, GasFree: d, Ambient: a, Chamber: p}); err == nil {
			finite(t, float64(out.Gas))
		}
		if out, err := divider.PressureForChamberWeight(divider.PressureForChamberWeightInput{Weight: m, Volume: v, GasFree: d, Gas: g, Ambient: a}); err == nil {
			finite(t, float64(out.Chamber))
		}
		if out, err := divider.GasAfterMixing(divider.GasAfterMixingInput{Gas: g, Ambient: a, Mixer: p, Rest: unit.Duration(weight)}); err == nil {
			finite(t, float64(out.Gas), out.DensityRatio)
		}
	})
}

func BenchmarkChamberWeight(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = divider.ChamberWeight(divider.ChamberWeightInput{Volume: 377, GasFree: 1.25, Gas: 12, Ambient: 98, Chamber: 250})
	}
}
