package doughmath_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleTargetTemperature() {
	out, err := doughmath.TargetTemperature{DoughType: doughmath.PizzaDough}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Low.In(unit.US), "to", out.High.In(unit.US), "by", out.Source)
	// Output: 80 °F to 85 °F by T. Lehmann, Pizza Today, June 2018
}

// A figure without a source that was seen says so, a figure with one does not,
// and every target can be handed to the water temperature.
func TestTargetTemperatureOwnsUpToItsOrigin(t *testing.T) {
	for _, d := range []doughmath.DoughType{
		doughmath.BakeryDough, doughmath.StraightDough, doughmath.HearthDough, doughmath.PizzaDough,
		doughmath.PanDough, doughmath.SweetDough, doughmath.RyeSourDough, doughmath.LayeredDough,
	} {
		out, err := doughmath.TargetTemperature{DoughType: d}.Solve()
		require.NoError(t, err, d)
		assert.Equal(t, out.Source == "common practice, recalled", out.Conditions.Has(reckon.FromMemory), d)
		assert.False(t, out.High.Less(out.Low) || out.TargetTemp.Less(out.Low) || out.High.Less(out.TargetTemp), d)
		_, err = doughmath.WaterTemperature{TargetTemp: out.TargetTemp, FlourTemp: out.TargetTemp, Basis: doughmath.FrictionOnce}.Solve()
		assert.NoError(t, err, d)
	}
	_, err := doughmath.TargetTemperature{DoughType: "bagel"}.Solve()
	assert.Equal(t, []string{"dough_type"}, fields(err))
	assert.ErrorContains(t, err, `"layered-dough"`)
}

func BenchmarkTargetTemperature(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (doughmath.TargetTemperature{DoughType: doughmath.PizzaDough}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
