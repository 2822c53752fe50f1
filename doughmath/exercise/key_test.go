package exercise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

// A key's own numbers fill its blanks rightly, each has its hint, and neither
// the hints nor the working with blanks give a number of the answer away.
func TestKeysFillTheirBlanks(t *testing.T) {
	eachExercise(t, 2, func(t *testing.T, e *Exercise) {
		k, err := e.Key()
		require.NoError(t, err)
		name := e.Spec.Asked + " in " + e.Spec.Units.String()
		if !assert.NotEmpty(t, k.Blanks, name) {
			return
		}
		require.Len(t, k.blanks, len(k.Blanks))
		assert.Len(t, k.Hints, len(k.Blanks), name)
		if e.Spec.Calculation != "final-proof-load" { // whose steps depend on the values
			assert.Len(t, k.Blanks, e.Difficulty.Steps, name)
		}
		texts := make([]string, len(k.Blanks))
		for i, b := range k.Blanks {
			texts[i] = b.Value
			assert.NotEmpty(t, b.Words, name)
			assert.NotEmpty(t, b.Expression, name)
		}
		m, err := k.MarkWork(texts, k.Answer)
		require.NoError(t, err)
		for i, s := range m.Steps {
			assert.Contains(t, []Verdict{Right, Followed}, s.Verdict, "%s: %s = %s: %s", name, k.Blanks[i].Symbol, texts[i], s.Says)
		}
		assert.Equal(t, rightScore, m.Score, name)
		assert.Equal(t, k.Answer, k.Blanks[len(k.Blanks)-1].Value, name)
		assert.NotEmpty(t, k.Sources, name)
		assert.Len(t, k.Unneeded, e.Difficulty.Distractors)
		full, open := k.Lines(false), k.Lines(true)
		require.Equal(t, len(full), len(open))
		blanks := 0
		for i := range open {
			assert.NotContains(t, full[i], "NaN", name)
			blanks += strings.Count(open[i], "________")
		}
		assert.GreaterOrEqual(t, blanks, len(k.Blanks), name)
	})
}

// The working of a key is worked out again from the numbers that it shows.
func TestKeysComeOut(t *testing.T) {
	eachExercise(t, 1, func(t *testing.T, e *Exercise) {
		k, err := e.Key()
		require.NoError(t, err)
		for i := range k.Working {
			s := &k.Working[i]
			if s.Kind != reckon.WorkedStep || strings.Contains(s.Numbers, "pi") {
				continue
			}
			expression, err := reckon.ParseExpression(s.Numbers)
			require.NoError(t, err, "%s: %s", s.ID, s.Numbers)
			assert.Empty(t, expression.Symbols(), "%s: %s", s.ID, s.Numbers)
		}
	})
}
