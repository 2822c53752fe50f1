package calc_test

import (
	"math"
	"regexp"
	"slices"
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

// What is shown is what was computed: no number loses more than its fifth digit.
func TestShownNumbersAreThose(t *testing.T) {
	for c := range everyWorking(t) {
		held := map[string]reckon.Step{}
		for _, s := range c.working.Steps {
			held[s.ID+" "+s.Symbol] = s
		}
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			for _, s := range reckon.ShowSteps(c.working.Steps, sys) {
				if s.Kind == reckon.HeadingStep {
					continue
				}
				step, ok := held[s.ID+" "+s.Symbol]
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
				if !hasAgain(c.working.Steps, step) {
					assert.InDelta(t, want, v, 6e-5*math.Abs(want)+1e-7, "%s, %v: %s", c.name, sys, s.ID)
				}
			}
		}
	}
}

// hasAgain reports whether another step has the words and the symbol of s.
func hasAgain(steps []reckon.Step, s reckon.Step) bool {
	n := 0
	for i := range steps {
		if steps[i].ID == s.ID && steps[i].Symbol == s.Symbol {
			n++
		}
	}
	return n > 1
}

// A number that stands in an expression only to convert says so, and what
// guards the code against binary rounding stands in none.
func TestConstantsSayWhatTheyConvert(t *testing.T) {
	guard := regexp.MustCompile(`\de-\d`)
	for c := range everyWorking(t) {
		for _, s := range c.working.Steps {
			assert.False(t, guard.MatchString(s.Expression), "%s: %s = %s", c.name, s.Symbol, s.Expression)
			e, err := reckon.ParseExpression(s.Expression)
			if err != nil {
				continue
			}
			if strings.HasPrefix(s.ID, "half-width of the limits at point") {
				continue // which has the number of the point in it
			}
			for _, constant := range []string{"60", "3600", "1000", "3.6", "24", "86400", "1440"} {
				if hasNumber(e, constant) && !strings.Contains(s.Constants, constant+" ") {
					t.Errorf("%s: what is %s in %s = %s?", c.name, constant, s.Symbol, s.Expression)
				}
			}
		}
	}
}

func hasNumber(e *reckon.Expression, text string) bool {
	return e.Op == 'n' && e.Name == text || slices.ContainsFunc(e.Args, func(a *reckon.Expression) bool { return hasNumber(a, text) })
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
