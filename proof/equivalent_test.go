package proof_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// The coldest and the warmest dough are answers still: a proof that takes as long as the known one is as warm.
func TestTemperatureForProofReaches(t *testing.T) {
	in := proof.TemperatureForProof{KnownTime: 3600, WantedTime: 3600, Model: proof.ModelQ10, ModelValue: 2, Origin: proof.OriginMeasured}
	for _, celsius := range []float64{0, 50} {
		in.Reference = unit.Celsius(celsius)
		out, err := in.Solve()
		require.NoError(t, err)
		assert.InDelta(t, celsius, out.Temp.Celsius(), 0)
	}
	// With a Q10 of 2 an hour at 20 °C is four at 0 °C and an eighth of one at 50 °C.
	in.Reference, in.WantedTime = unit.Celsius(20), unit.Hours(5)
	_, err := in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "7 min 30 s to 4 h", none.Low+" to "+none.High)
}

// What is worked out is shown as worked out: over a slope the mean speed of a Q10 has a closed form, that of an
// activation energy is read off an integral.
func TestEquivalentShowsTheMeanOverASlope(t *testing.T) {
	in := proof.Equivalent{
		History:   []proof.Stage{{Temp: unit.Celsius(24), Time: 3600}, {Temp: unit.Celsius(24), End: unit.Celsius(28), Time: 3600}, {Temp: unit.Celsius(28), Time: 3600}},
		Reference: unit.Celsius(26), Model: proof.ModelQ10, ModelValue: 2, Origin: proof.OriginMeasured,
	}
	kinds := func() map[string]reckon.StepKind {
		_, w, err := reckon.Explain(in)
		require.NoError(t, err)
		out := map[string]reckon.StepKind{}
		for _, s := range w.Steps {
			if strings.HasPrefix(s.Symbol, "k_") {
				out[s.Symbol] = s.Kind
			}
		}
		return out
	}
	assert.Equal(t, map[string]reckon.StepKind{"k_1": reckon.WorkedStep, "k_2": reckon.WorkedStep, "k_3": reckon.WorkedStep}, kinds())
	in.Model, in.ModelValue = proof.ModelArrhenius, 55
	assert.Equal(t, map[string]reckon.StepKind{"k_1": reckon.WorkedStep, "k_2": reckon.TableStep, "k_3": reckon.WorkedStep}, kinds())
}

// Whatever else is wrong, a dough that hardly warms is told too; once, and not where its temperatures are wrong themselves.
func TestShareForSweatWaterRefuses(t *testing.T) {
	for _, c := range []struct {
		id           string
		piece        unit.Mass
		start, until float64
		want         []string
	}{
		{"a tenth of a degree", 500, 0, 0.1, nil},
		{"less", 500, 0, 0.09, []string{"until_temp"}},
		{"less, and no piece", 0, 0, 0.09, []string{"piece", "until_temp"}},
		{"colder than it came in", 500, 27, 26, []string{"until_temp"}},
		{"came in from the oven", 500, 100, 30, []string{"start_temp"}},
	} {
		t.Run(c.id, func(t *testing.T) {
			in := proof.ShareForSweatWater{Piece: c.piece, SpecificHeat: 2.8, StartTemp: unit.Celsius(c.start), UntilTemp: unit.Celsius(c.until), Latent: 2420}
			var got []string
			for _, bad := range reckon.Wrong(in) {
				got = append(got, bad.Field)
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// Vapour of nine tenths of the pressure is just allowed.
func TestAirOfNineTenths(t *testing.T) {
	full, err := proof.SaturationPressure{Temp: unit.Celsius(90)}.Solve()
	require.NoError(t, err)
	in := proof.Air{DryBulb: unit.Celsius(90), Humidity: 100, Pressure: full.Pressure / 0.9}
	for 0.9*in.Pressure != full.Pressure {
		in.Pressure = unit.Pressure(float64(in.Pressure) * (1 + 0x1p-52))
		require.Less(t, float64(in.Pressure), float64(full.Pressure/0.9)*(1+1e-12))
	}
	_, err = in.Solve()
	assert.NoError(t, err)
}
