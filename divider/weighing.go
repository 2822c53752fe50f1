package divider

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// One weighing is taken to lie between these: less is an empty scale, more a
// slip of the unit or of a digit.
const (
	lightestPiece unit.Mass = 0.001   // g
	heaviestPiece unit.Mass = 100_000 // g
)

// leastSD is the smallest standard deviation of pieces that is taken for one: no scale shows less.
const leastSD unit.Mass = 1e-6

// mostWeighings bounds one sample: more than a long day's check-weighing.
const mostWeighings = 20_000

// The confidence levels and shares of pieces for which intervals are found.
const (
	lowestLevel  unit.Percent = 50
	highestLevel unit.Percent = 99.99
)

// checkLevel requires a confidence level, or a share of pieces, within these bounds.
func checkLevel(c *reckon.Checks, field string, level unit.Percent) {
	reckon.CheckRange(c, field, level, lowestLevel, highestLevel)
}

// checkSD requires the standard deviation of pieces.
func checkSD(c *reckon.Checks, field string, sd unit.Mass) bool {
	return reckon.CheckRange(c, field, sd, leastSD, heaviestPiece)
}

// checkOptionalMass requires a mass from zero, which leaves it out, to the heaviest weighing.
func checkOptionalMass(c *reckon.Checks, field string, m unit.Mass) {
	reckon.CheckRange(c, field, m, 0, heaviestPiece)
}

// checkEach names every weighing that is no weight, and a count out of range.
func checkEach(c *reckon.Checks, field string, x []unit.Mass, atLeast int) {
	if len(x) < atLeast || len(x) > mostWeighings {
		c.Fail(field, fmt.Sprintf("%d weighings", len(x)), fmt.Sprintf("%d to %d weighings", atLeast, mostWeighings))
	}
	for i, m := range x {
		if !(m >= lightestPiece && m <= heaviestPiece) {
			c.Fail(fmt.Sprintf("%s[%d]", field, i), m.String(), "1 mg to 100 kg; leave out a weighing that was missed")
		}
	}
}

// checkWeighings is checkEach that also refuses weighings that are all equal,
// whose scatter is unknown.
func checkWeighings(c *reckon.Checks, field string, x []unit.Mass, atLeast int) {
	checkEach(c, field, x, atLeast)
	for _, m := range x {
		if m != x[0] {
			return
		}
	}
	if len(x) >= atLeast {
		c.Fail(field, fmt.Sprintf("%d times %s", len(x), x[0]), "weighings that differ: read them on a finer scale, or weigh more pieces")
	}
}

// twoSided returns the share of a distribution below the upper end of an
// interval that holds the level in the middle.
func twoSided(level unit.Percent) float64 { return (1 + float64(level)/100) / 2 }

// meanSD returns the mean and the standard deviation (divisor n-1) of at least
// two weighings, by two passes about the first weighing with the second pass
// correcting the first.
//
// The certified values of the NIST Statistical Reference Datasets are met to
// every digit that the data keep when held in binary: see weighing_test.go.
// golang.org/x/exp/stats sums without correction and loses a digit of the mean;
// gonum/stat does not, but requires the weighings copied out of their unit.
func meanSD(x []unit.Mass) (mean, sd float64) {
	n := float64(len(x))
	origin := float64(x[0])
	sum := 0.0
	for _, m := range x {
		sum += float64(m) - origin
	}
	centre := origin + sum/n
	var squares, rest float64
	for _, m := range x {
		d := float64(m) - centre
		squares += float64(d * d)
		rest += d
	}
	return centre + rest/n, math.Sqrt(math.Max(0, squares-float64(rest*rest)/n) / (n - 1))
}
