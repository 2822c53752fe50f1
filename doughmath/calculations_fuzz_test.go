package doughmath_test

import (
	"testing"

	"example.com/dough/testdata/hold"
)

// Every calculation, its example changed.
func FuzzCalculations(f *testing.F) { hold.Fuzz(f, "doughmath") }
