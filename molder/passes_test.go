package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

func TestPassesGoBack(t *testing.T) {
	for passes := 1; passes <= 6; passes++ {
		for _, recovery := range []float64{1, 1.2} {
			thin, err := molder.ThicknessForPasses{ThicknessIn: 120, Passes: passes, Recovery: recovery, ReductionLimit: 2}.Solve()
			require.NoError(t, err)
			out, err := molder.SheetingPasses{ThicknessIn: 120, ThicknessOut: thin.ThicknessOut, Recovery: recovery, ReductionLimit: 2}.Solve()
			require.NoError(t, err)
			assert.Equal(t, passes, out.Passes)
			same(t, 2.0, out.Reduction, "reduction")
			out, err = molder.SheetingPasses{ThicknessIn: 120, ThicknessOut: thin.ThicknessOut * 0.99, Recovery: recovery, ReductionLimit: 2}.Solve()
			require.NoError(t, err)
			assert.Equal(t, passes+1, out.Passes)
			assert.Less(t, out.Reduction, 2.0)
		}
	}
}

func ExampleSheetingPasses() {
	out, _ := molder.SheetingPasses{ThicknessIn: unit.Millimetres(40), ThicknessOut: unit.Millimetres(5), Recovery: 1.2, ReductionLimit: 2}.Solve()
	fmt.Printf("%d passes of %.2f to 1.\n", out.Passes, out.Reduction)
	// Output:
	// 5 passes of 1.82 to 1.
}

func ExampleThicknessForPasses() {
	out, _ := molder.ThicknessForPasses{ThicknessIn: unit.Millimetres(40), Passes: 3, Recovery: 1, ReductionLimit: 2}.Solve()
	fmt.Printf("Three passes at 2 to 1 bring 40 mm down to %v.\n", out.ThicknessOut)
	// Output:
	// Three passes at 2 to 1 bring 40 mm down to 5 mm.
}
