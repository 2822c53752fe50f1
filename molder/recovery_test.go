package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

func TestRecoverySpread(t *testing.T) {
	// Ratios 1, 2, 3: mean 2 and sample standard deviation 1, by hand.
	out, err := molder.RecoveryFromSheet{Gap: 4, Thicknesses: []unit.Length{4, 8, 12}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2.0, out.Recovery)
	assert.Equal(t, 1.0, out.SD)
	assert.Equal(t, 3, out.Count)
}

func ExampleRecoveryFromSheet() {
	out, _ := molder.RecoveryFromSheet{
		Gap:         unit.Millimetres(4),
		Thicknesses: []unit.Length{unit.Millimetres(7.1), unit.Millimetres(7.4), unit.Millimetres(7)},
	}.Solve()
	fmt.Printf("%d sheets behind a 4 mm gap are %v thick: recovery %.2f, spread %.2f.\n", out.Count, out.Thickness, out.Recovery, out.SD)
	// Output:
	// 3 sheets behind a 4 mm gap are 7.167 mm thick: recovery 1.79, spread 0.05.
}
