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
	_, err = molder.GrowthFromJar{Jars: []molder.JarTrial{{}, {Before: 40, After: 39}, {Before: 40, After: 321}}}.Solve()
	assert.Equal(t, []string{"jars[0].before", "jars[1].after", "jars[2].after"}, fields(err))
}

func ExampleGrowthFromJar() {
	out, _ := molder.GrowthFromJar{Jars: []molder.JarTrial{
		{Before: unit.Millimetres(42), After: unit.Millimetres(108)}, {Before: unit.Millimetres(40), After: unit.Millimetres(106)},
	}}.Solve()
	fmt.Printf("The dough grows %.1f times.\n", out.Growth)
	// Output:
	// The dough grows 2.6 times.
}

func FuzzGrowth(f *testing.F) {
	f.Add(42.0, 108.0, 40.0, 106.0)
	f.Fuzz(func(t *testing.T, a, b, c, d float64) {
		if out, err := (molder.GrowthFromJar{Jars: []molder.JarTrial{{Before: unit.Length(a), After: unit.Length(b)}, {Before: unit.Length(c), After: unit.Length(d)}}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
