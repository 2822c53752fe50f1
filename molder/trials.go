package molder

import (
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// Verdict is what a person saw in a trial piece.
type Verdict string

const (
	// TooLittle is a piece that got too little of it: loose in the cup, not round, open at the seam.
	TooLittle Verdict = "too-little"
	// Good is a piece as wanted.
	Good Verdict = "good"
	// TooMuch is a piece that got too much of it: overfilled, torn, squeezed out.
	TooMuch Verdict = "too-much"
)

// Check requires one of the named verdicts.
func (v Verdict) Check(c *reckon.Checks) {
	switch v {
	case TooLittle, Good, TooMuch:
	default:
		reckon.CheckWord(c, "verdict", v, TooLittle, Good, TooMuch)
	}
}

// A trialWindow gathers trials of one setting: the lowest and highest value
// that was good, and how far the bad ones reach towards them.
type trialWindow struct {
	low, high    float64 // of the good ones
	little, much float64 // the highest that was too little, the lowest that was too much
	good         int
}

func newTrialWindow() trialWindow {
	return trialWindow{low: math.Inf(1), high: math.Inf(-1), little: math.Inf(-1), much: math.Inf(1)}
}

// windowOf gathers the trials, each by the value and the verdict that one comes
// to as it is checked. What nothing since start was wrong with is checked as a whole.
func windowOf[T any](c *reckon.Checks, start int, trials []T, each func(*T) (float64, Verdict)) trialWindow {
	window := newTrialWindow()
	for i := range trials {
		mark := c.Mark()
		window.add(each(&trials[i]))
		c.Item(mark, "trials", i)
	}
	if c.Mark() == start {
		window.check(c)
	}
	return window
}

func (t *trialWindow) add(v float64, verdict Verdict) {
	switch verdict {
	case Good:
		t.low, t.high = min(t.low, v), max(t.high, v)
		t.good++
	case TooLittle:
		t.little = max(t.little, v)
	case TooMuch:
		t.much = min(t.much, v)
	}
}

// check requires enough good trials to make a window.
func (t *trialWindow) check(c *reckon.Checks) bool {
	if t.good < 2 || t.low == t.high {
		c.Fail("trials", number(float64(t.good))+" good", "at least two good trials at different values, to make a range of")
		return false
	}
	return true
}

// none says why there is no window if a bad trial lies among the good ones.
func (t *trialWindow) none(id, unknown string) error {
	if t.little >= t.low || t.much <= t.high {
		return &reckon.NoSolutionError{
			Func: id, Unknown: unknown, Wanted: "the verdicts of all trials",
			Advice: "a piece judged bad lies among the good ones; something else differs between them, so try those again with the same dough",
		}
	}
	return nil
}

// goodOnes lists the symbols of the good ones of n trials: "T_2, T_3".
func goodOnes(symbol string, n int, verdict func(i int) Verdict) string {
	var good []string
	for i := range n {
		if verdict(i) == Good {
			good = append(good, symbol+strconv.Itoa(i+1))
		}
	}
	return strings.Join(good, ", ")
}
