package exercise

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

// of is what the scheme makes of an answer: what whoever marks by it alone does.
func (s *Scheme) of(x float64) Mark {
	for _, b := range s.Bands {
		if b.Low <= x && x <= b.High {
			return b.Mark
		}
	}
	return s.Else
}

// Whoever goes by the scheme marks every number as the library does.
func TestTheSchemeMarksAlike(t *testing.T) {
	var met [6]atomic.Int64
	verdicts := [...]Verdict{Right, TooManyDigits, TooFewDigits, Nearly, Mistaken, Wrong}
	t.Cleanup(func() { // when all of them have been tried
		for i, v := range verdicts {
			assert.Greater(t, met[i].Load(), int64(100), v)
		}
	})
	eachExercise(t, 1, func(t *testing.T, e *Exercise) {
		k, err := e.Key()
		require.NoError(t, err)
		s, random := k.Scheme(), rand.New(rand.NewPCG(1, 2))
		try := []float64{k.Value, k.Value * 2, k.Value / 3, -k.Value, 0}
		for _, m := range k.Mistakes {
			try = append(try, m.Value, m.Value+k.Tolerance*random.Float64())
		}
		for _, b := range s.Bands {
			try = append(try, b.Low-e.Asked.Step/50, b.Low+(b.High-b.Low)/2, b.High+e.Asked.Step/50)
		}
		for range 4 {
			try = append(try, k.Value+k.Tolerance*random.NormFloat64()*4)
		}
		last := lastOfStep(e.Asked.Step)
		for _, v := range try {
			for _, step := range [...]float64{last, powerOfTen(exponent(last) + 1), powerOfTen(exponent(last) + 2), powerOfTen(exponent(last) - 1)} {
				text := atSteps(v, step)
				if strings.Contains(text, ".") { // zeros behind it cannot be seen in a number
					text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
				}
				x, err := strconv.ParseFloat(text, 64)
				require.NoError(t, err)
				want := e.Mark(strings.TrimSpace(text + " " + e.Asked.Unit))
				want.Read = ""
				met[slices.Index(verdicts[:], want.Verdict)].Add(1)
				assert.Equal(t, want, s.of(x), "%s in %s, asked %s: %s for %v", e.Spec.Asked, e.Spec.Units, e.Asked.Text(), text, k.Value)
			}
		}
	})
}

// The rules of the steps say of every number on the way what it is, and what
// follows from the ones before it.
func TestTheSchemeFollows(t *testing.T) {
	var rests atomic.Int64
	t.Cleanup(func() { assert.Greater(t, rests.Load(), int64(200)) })
	eachExercise(t, 1, func(t *testing.T, e *Exercise) {
		k, err := e.Key()
		require.NoError(t, err)
		s := k.Scheme()
		require.Len(t, s.Steps, len(k.Blanks))
		right := func(symbol string) (float64, bool) {
			n, err := strconv.Atoi(symbol)
			if err != nil {
				return 0, false // pi
			}
			return s.Steps[n-1].Right, true
		}
		for i, r := range s.Steps {
			b := k.Blanks[i]
			assert.InDelta(t, r.Right, r.Scale.Held(b.Number), 1e-9*math.Abs(r.Right)+1e-12, b.Words)
			assert.InDelta(t, r.Tolerance, math.Abs(r.Scale.Held(b.Number+b.Tolerance)-r.Right), 1e-6*r.Tolerance+1e-8*math.Abs(r.Right), b.Words)
			assert.True(t, r.Low <= r.Right && r.Right <= r.High, b.Words)
			if r.Follows == nil {
				continue
			}
			rests.Add(1)
			assert.InDelta(t, r.Right, r.Follows.Eval(right), 1e-9*math.Abs(r.Right)+1e-12, b.Words)
			for _, symbol := range r.Follows.Symbols() {
				n, err := strconv.Atoi(symbol)
				require.NoError(t, err)
				assert.LessOrEqual(t, n, i, "%s rests on an earlier blank", b.Words)
			}
		}
	})
}

// A number that a step repeats under another name is followed through as well.
func TestCopiesAreFollowed(t *testing.T) {
	k := &Key{known: map[string]*reckon.Expression{}, blanks: make([]blank, 1)}
	k.knows(&reckon.Step{Kind: reckon.WorkedStep, Symbol: "a", Expression: "2*b", Value: 4}, true)
	k.knows(&reckon.Step{Kind: reckon.WorkedStep, Symbol: "c", Expression: "a", Value: 4}, false)
	e := k.resolved(&reckon.Step{Expression: "c + 1"})
	require.NotNil(t, e)
	assert.Equal(t, []string{"1"}, e.Symbols())
	assert.Nil(t, k.resolved(&reckon.Step{Expression: "pi*2"}))
}
