package calc_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Whoever keys in the numbers of a step as they are shown gets the number
// shown, to its last digit: every step of every example and case, in both
// systems of units. And what is shown is what was computed.
func TestShownNumbersComeOut(t *testing.T) {
	lines, digits := 0, 0
	for c := range everyWorking(t) {
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			for _, s := range reckon.ShowSteps(c.working.Steps, sys) {
				if s.Numbers == "" {
					assert.True(t, s.Expression == "" && (s.Kind == reckon.HeadingStep || s.Value != ""), "%s: %+v", c.name, s)
					continue
				}
				lines++
				digits = max(digits, len(s.Value))
				if got, want := keyedIn(t, s), s.Value; got != want {
					t.Errorf("%s, %v: %s makes %s, shown is %s (%s)", c.name, sys, s.Numbers, got, want, s.ID)
				}
			}
		}
	}
	assert.Greater(t, lines, 10_000)
}

// keyedIn is what the numbers shown make, to as many digits as are shown.
func keyedIn(t *testing.T, s reckon.ShownStep) string {
	e, err := reckon.ParseExpression(s.Numbers)
	require.NoError(t, err, s.Numbers)
	v := e.Eval(func(string) (float64, bool) { return 0, false })
	mantissa, exponent, small := strings.Cut(s.Value, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	scale := 1.0
	if small {
		power, err := strconv.Atoi(exponent)
		require.NoError(t, err)
		scale = math.Pow(10, float64(-power))
	}
	text := strconv.FormatFloat(v*scale, 'f', len(decimals), 64)
	if f, err := strconv.ParseFloat(text, 64); err == nil && f == 0 {
		text = "0"
	}
	if small {
		text += "e" + exponent
	}
	return text
}
