package doughmath_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
)

func ExampleFrictionFactor() {
	out, err := doughmath.FrictionFactor(doughmath.FrictionFactorInput{
		Dough: doughmath.Celsius(26), Water: doughmath.Celsius(18), Flour: doughmath.Celsius(21), Room: doughmath.Celsius(23),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("friction %v with %d factors\n", out.Once, out.Factors)
	// Output: friction 16 C° with 3 factors
}

func TestFrictionFactorConditions(t *testing.T) {
	batch := doughmath.FrictionFactorInput{Dough: doughmath.Celsius(20), Water: doughmath.Celsius(20), Flour: doughmath.Celsius(20)}
	for _, c := range []struct {
		dough float64
		want  doughmath.Conditions
	}{
		{20, 0}, {19.5, doughmath.FrictionNegative}, {9.5, doughmath.FrictionNegative | doughmath.OutsideSource}, {50, 0}, {50.5, doughmath.OutsideSource},
	} {
		batch.Dough = doughmath.Celsius(c.dough)
		out, err := doughmath.FrictionFactor(batch)
		require.NoError(t, err)
		assert.Equal(t, c.want, out.Conditions, "dough at %v °C", c.dough)
		assert.InDelta(t, float64(out.Once), 2*float64(out.PerFactor), 1e-12)
	}
}

func TestFrictionFactorNamesEveryBadField(t *testing.T) {
	_, err := doughmath.FrictionFactor(doughmath.FrictionFactorInput{Dough: doughmath.Celsius(75), Water: doughmath.Celsius(65), Flour: doughmath.Celsius(78), Room: doughmath.Celsius(80)})
	assert.Equal(t, []string{"dough", "water", "flour", "room"}, fields(err), "Fahrenheit typed as Celsius")
}
