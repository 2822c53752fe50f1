package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

func TestGrowthRefuses(t *testing.T) {
	_, err := molder.GrowthFromJar{}.Solve()
	assert.Equal(t, []string{"jars"}, fields(err))
	_, err = molder.GrowthFromJar{Jars: []molder.JarTrial{{}, {HeightBefore: 40, HeightAfter: 39}, {HeightBefore: 40, HeightAfter: 321}}}.Solve()
	assert.Equal(t, []string{"jars[0].height_before", "jars[1].height_after", "jars[2].height_after"}, fields(err))
}

func ExampleGrowthFromJar() {
	out, _ := molder.GrowthFromJar{Jars: []molder.JarTrial{
		{HeightBefore: unit.Millimetres(42), HeightAfter: unit.Millimetres(108)}, {HeightBefore: unit.Millimetres(40), HeightAfter: unit.Millimetres(106)},
	}}.Solve()
	fmt.Printf("The dough grows %.1f times.\n", out.Growth)
	// Output:
	// The dough grows 2.6 times.
}

func FuzzGrowth(f *testing.F) {
	f.Add(42.0, 108.0, 40.0, 106.0)
	f.Fuzz(func(t *testing.T, a, b, c, d float64) {
		if out, err := (molder.GrowthFromJar{Jars: []molder.JarTrial{{HeightBefore: unit.Length(a), HeightAfter: unit.Length(b)}, {HeightBefore: unit.Length(c), HeightAfter: unit.Length(d)}}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
