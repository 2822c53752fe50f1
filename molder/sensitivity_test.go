package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// Each value against what a small change does when the turns are worked out again.
func TestSensitivityIsTheDerivative(t *testing.T) {
	const step = 1e-6
	for _, in := range []molder.TurnsForGap{
		{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6, Core: 8},
		{Piece: 85, Density: 1.0, Gap: 2, Recovery: 1.3, Width: 60, Core: 3},
		{Piece: 85, Density: 1.0, Gap: 2, Recovery: 1.3, Width: 60},
	} {
		out, err := molder.CurlSensitivity{Piece: in.Piece, Density: in.Density, Gap: in.Gap, Recovery: in.Recovery, Aspect: in.Aspect, Width: in.Width, Core: in.Core}.Solve()
		require.NoError(t, err)
		for what, c := range map[string]struct {
			want   float64
			change func(in *molder.TurnsForGap, by float64)
		}{
			"gap":      {out.GapEffect, func(in *molder.TurnsForGap, by float64) { in.Gap *= unit.Length(by) }},
			"recovery": {out.RecoveryEffect, func(in *molder.TurnsForGap, by float64) { in.Recovery *= by }},
			"piece":    {out.PieceEffect, func(in *molder.TurnsForGap, by float64) { in.Piece *= unit.Mass(by) }},
			"density":  {out.DensityEffect, func(in *molder.TurnsForGap, by float64) { in.Density *= unit.Density(by) }},
			"aspect":   {out.AspectEffect, func(in *molder.TurnsForGap, by float64) { in.Aspect *= by }},
			"width":    {out.WidthEffect, func(in *molder.TurnsForGap, by float64) { in.Width *= unit.Length(by) }},
			"core":     {out.CoreEffect, func(in *molder.TurnsForGap, by float64) { in.Core *= unit.Length(by) }},
		} {
			more, less := in, in
			c.change(&more, 1+step)
			c.change(&less, 1-step)
			up, err := more.Solve()
			require.NoError(t, err)
			down, err := less.Solve()
			require.NoError(t, err)
			assert.InDelta(t, (up.Turns-down.Turns)/(2*step)/out.Turns, c.want, 1e-8, what)
		}
		assert.InEpsilon(t, out.GapEffect*out.Turns/float64(in.Gap), out.TurnsPerGap, 1e-12)
	}
}

func TestSensitivityRefusesWhatTurnsRefuse(t *testing.T) {
	_, err := molder.CurlSensitivity{Core: -1}.Solve()
	assert.Equal(t, []string{"piece", "density", "gap", "recovery", "aspect", "core"}, fields(err))
}

func ExampleCurlSensitivity() {
	out, _ := molder.CurlSensitivity{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100), Gap: unit.Millimetres(5.8), Recovery: 1.8, Aspect: 1.6,
	}.Solve()
	fmt.Printf("%.2f turns now; closing the gap by a tenth of a millimetre adds %.2f.\n", out.Turns, -out.TurnsPerGap/10)
	fmt.Printf("One percent of gap counts as much as %.0f percent of weight.\n", out.GapEffect/-out.PieceEffect)
	// Output:
	// 3.01 turns now; closing the gap by a tenth of a millimetre adds 0.04.
	// One percent of gap counts as much as 3 percent of weight.
}
