package molder_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// The closed form against the integral of the arc itself.
func TestSpiralIsTheIntegral(t *testing.T) {
	for _, in := range []molder.SpiralLength{
		{Length: 200, Thickness: 4}, {Length: 300, Thickness: 5, Core: 10}, {Length: 100, Thickness: 12}, {Length: 900, Thickness: 2, Core: 80},
	} {
		out, err := in.Solve()
		require.NoError(t, err)
		rolled, err := molder.Curls(in).Solve()
		require.NoError(t, err)
		b := float64(in.Thickness) / (2 * math.Pi)
		arc := quad.Fixed(func(phi float64) float64 {
			r := float64(in.Core)/2 + b*phi
			return math.Hypot(r, b)
		}, 0, 2*math.Pi*rolled.Turns, 200, nil, 0)
		assert.InEpsilon(t, arc, float64(out.Spiral), 1e-8)
		same(t, 100*(arc/float64(in.Length)-1), float64(out.ExcessShare), "excess")
		assert.Less(t, out.ExcessShare, unit.Percent(5))
	}
}

func TestSpiralNamesEveryBadField(t *testing.T) {
	_, err := molder.SpiralLength{Core: -1}.Solve()
	assert.Equal(t, []string{"length", "thickness", "core"}, fields(err))
}

func ExampleSpiralLength() {
	out, _ := molder.SpiralLength{Length: unit.Millimetres(200), Thickness: unit.Millimetres(4)}.Solve()
	fmt.Printf("The spiral is %.2f mm long, %.1f %% more than the sheet.\n", out.Spiral.Millimetres(), float64(out.ExcessShare))
	// Output:
	// The spiral is 201.41 mm long, 0.7 % more than the sheet.
}
