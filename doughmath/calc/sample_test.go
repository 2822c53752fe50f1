package calc_test

import (
	"os"

	"example.com/dough/doughmath/calc"
)

// all asks for everything (CHECKS=all). Every day the largest questions, which hold a whole line or day, are tried as
// a sample: they take longer than all the others together.
var all = os.Getenv("CHECKS") == "all"

// large reports whether a question is tried as a sample: one in eight of what would be tried.
func large(e calc.Entry) bool { return !all && len(e.Example) > 2500 }

// mutations is how many of an example are tried: fewer of those that are long.
func mutations(e calc.Entry) int {
	if all {
		return 100
	}
	return max(5, min(40, 40_000/len(e.Example)))
}
