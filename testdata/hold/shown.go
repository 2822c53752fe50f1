package hold

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Shown holds what is shown of a working, in both systems of units, and counts the lines that have numbers.
// Whoever keys in the numbers of a step as they are shown gets the number shown, to its last digit. And
// what is shown is what was computed: no number loses more than its fifth digit.
func Shown(t *testing.T, name string, steps []reckon.Step) (lines int) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		shown := reckon.ShowSteps(steps, sys)
		in := fmt.Sprint(name, ", ", sys)
		lines += keysIn(t, in, shown)
		areThose(t, in, steps, shown)
	}
	return lines
}

// keysIn keys in every line that has numbers, and counts them.
func keysIn(t *testing.T, name string, shown []reckon.ShownStep) (lines int) {
	for _, s := range shown {
		if s.Numbers == "" {
			assert.True(t, s.Expression == "" && (s.Kind == reckon.HeadingStep || s.Value != ""), "%s: %+v", name, s)
			continue
		}
		lines++
		if got, want := keyedIn(t, s), s.Value; got != want {
			t.Errorf("%s: %s makes %s, shown is %s (%s)", name, s.Numbers, got, want, s.ID)
		}
	}
	return lines
}

// areThose holds the numbers shown against the steps.
func areThose(t *testing.T, name string, steps []reckon.Step, shown []reckon.ShownStep) {
	held, times := map[string]reckon.Step{}, map[string]int{}
	for _, s := range steps {
		held[s.ID+" "+s.Symbol] = s
		times[s.ID+" "+s.Symbol]++
	}
	for _, s := range shown {
		step, ok := held[s.ID+" "+s.Symbol]
		if s.Kind == reckon.HeadingStep || times[s.ID+" "+s.Symbol] > 1 {
			continue
		}
		scale, known := unit.ScaleOf(step.Unit, s.Unit)
		if !ok || !known || strings.HasPrefix(step.Unit, unit.SumOfTemps) {
			scale = unit.Scale{Mul: 1, Div: 1}
			if !ok || s.Unit != step.Unit {
				continue // a conversion, which has its own words
			}
		}
		v, err := strconv.ParseFloat(s.Value, 64)
		require.NoError(t, err)
		want := scale.Number(step.Value)
		assert.InDelta(t, want, v, 6e-5*math.Abs(want)+1e-7, "%s: %s", name, s.ID)
	}
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
