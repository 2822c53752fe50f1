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

func ExampleFrictionFactor() {
	out, err := doughmath.FrictionFactor{
		DoughTemp: unit.Celsius(26), WaterTemp: unit.Celsius(18), FlourTemp: unit.Celsius(21), Room: unit.Celsius(23),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("friction %v with %d factors\n", out.Once, out.Factors)
	// Output: friction 16 C° with 3 factors
}

func TestFrictionFactorConditions(t *testing.T) {
	batch := doughmath.FrictionFactor{DoughTemp: unit.Celsius(20), WaterTemp: unit.Celsius(20), FlourTemp: unit.Celsius(20)}
	for _, c := range []struct {
		dough float64
		want  doughmath.Conditions
	}{
		{20, 0}, {19.5, doughmath.FrictionNegative}, {9.5, doughmath.FrictionNegative | reckon.OutsideSource}, {50, 0}, {50.5, reckon.OutsideSource},
	} {
		batch.DoughTemp = unit.Celsius(c.dough)
		out, err := batch.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.want, out.Conditions, "dough at %v °C", c.dough)
		assert.InDelta(t, float64(out.Once), 2*float64(out.PerFactor), 1e-12)
	}
}

func TestFrictionFactorNamesEveryBadField(t *testing.T) {
	_, err := doughmath.FrictionFactor{DoughTemp: unit.Celsius(75), WaterTemp: unit.Celsius(65), FlourTemp: unit.Celsius(78), Room: unit.Celsius(80)}.Solve()
	assert.Equal(t, []string{"dough_temp", "water_temp", "flour_temp", "room"}, fields(err), "Fahrenheit typed as Celsius")
}
