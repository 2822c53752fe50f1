package doughmath_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExamplePrefermentPercent() {
	out, err := doughmath.PrefermentPercent{Percent: 20, Reading: doughmath.FlourOnFlour, TotalPercent: 200}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.FlourOnFlour, "of the flour in it, or", out.MassOnFlour, "of the flour by weight, or", out.MassOnFinalFlour, "of the flour added")
	// Output: 20 % of the flour in it, or 40 % of the flour by weight, or 50 % of the flour added
}

func TestPrefermentPercentRefuses(t *testing.T) {
	_, err := doughmath.PrefermentPercent{Percent: 1001, Reading: doughmath.FlourOnFlour, TotalPercent: 180}.Solve()
	assert.Len(t, reckon.InputErrors(err), 1, "one thing is said once")
	_, err = doughmath.PrefermentPercent{Percent: -1, TotalPercent: 99}.Solve()
	assert.Equal(t, []string{"percent", "reading", "total_percent"}, fields(err))
	for reading, p := range map[doughmath.PrefermentReading]unit.BakersPercent{doughmath.FlourOnFlour: 100, doughmath.MassOnFlour: 180} {
		_, err = doughmath.PrefermentPercent{Percent: p, Reading: reading, TotalPercent: 180}.Solve()
		assert.Equal(t, []string{"percent"}, fields(err))
	}
	_, err = doughmath.PrefermentPercent{Percent: 1000, Reading: doughmath.MassOnFinalFlour, TotalPercent: 180}.Solve()
	assert.NoError(t, err)
}
