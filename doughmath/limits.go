package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The range in which temperatures of air, flour, water and dough are taken at
// their word. It is wide: it catches Fahrenheit typed as Celsius and slips of
// a digit, not an unusual day.
var (
	coldestReading = unit.Celsius(-40)
	hottestReading = unit.Celsius(60)
)

const (
	// leastMass is a milligram, finer than any bakery scale; it keeps results finite.
	leastMass unit.Mass = 0.001
	// mostMass is 100 t: it catches grams typed as kilograms, and keeps results finite.
	mostMass unit.Mass = 1e8
	// mostIngredients limits one dough; it catches a list of another kind.
	mostIngredients = 100
)

// checkGiven requires a temperature that may be left out to be a reading if it is there.
func checkGiven(c *reckon.Checks, field string, t unit.Temp) {
	if t.Given() {
		reckon.CheckTemp(c, field, t, coldestReading, hottestReading)
	}
}

// checkUpTo requires more than zero and no more than most.
func checkUpTo[N ~float64](c *reckon.Checks, field string, v, most N) {
	if reckon.CheckPositive(c, field, v) && v > most {
		c.Fail(field, reckon.Text(v), "up to "+reckon.Text(most))
	}
}
