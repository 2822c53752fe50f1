package exercise

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
)

// drawable reports whether one of the first draws makes an exercise.
func drawable(f *form, o *outlet, system unit.System, draws int) bool {
	d, v := newDraw(1, 0), newDrawn(f)
	for range draws {
		d.values(f, &v, system, nil, nil)
		if build(f, o, Spec{Units: system}, &v, false) != nil {
			return true
		}
	}
	return false
}

// The lists of what makes no exercise are exact: whatever is on them cannot be
// drawn, and whatever is not can, in both systems of units.
func TestWhatMakesNoExercise(t *testing.T) {
	for _, e := range calc.Entries() {
		f := formOf(e.ID)
		answer, err := e.Eval([]byte(f.entry.Example), calc.Options{Working: true})
		require.NoError(t, err)
		numbers := 0
		for i := range f.slots {
			if f.slots[i].choices == nil {
				numbers++
			}
		}
		if numbers <= mostGivens {
			f.drawOthers()
		}
		made := false
		why, unfitted := Unfit(e.ID)
		draws := 60
		if unfitted { // some search for seconds
			draws = 8
		}
		for i := range f.outlets {
			o := f.outlets[i]
			o.tables, o.steps = nil, 0
			v, ok := o.value(reflect.ValueOf(answer.Value()))
			if numbers == 0 || numbers > mostGivens || !ok || strings.HasSuffix(o.path, dull) || !f.varies(&o, v) || !f.byHand(&o, answer.Working, answerStep(answer.Working, &o, v)) {
				continue
			}
			can := drawable(f, &o, unit.Metric, draws) && drawable(f, &o, unit.US, draws)
			made = made || can
			if !unfitted {
				assert.Equal(t, !can, slices.Contains(notAsked[e.ID], o.path), "%s: %s can be drawn: %v", e.ID, o.path, can)
			}
		}
		switch {
		case slices.Contains(byJudgement, e.ID):
			assert.True(t, unfitted && made, "%s is left out by judgement", e.ID)
		default:
			assert.Equal(t, !made, unfitted, "%s makes an exercise: %v; %s", e.ID, made, why)
		}
		if !unfitted {
			assert.NotEmpty(t, f.asks, e.ID)
		}
	}
	for id := range unfit {
		_, ok := calc.Lookup(id)
		assert.True(t, ok, "%s is no calculation", id)
	}
	for id, list := range notAsked {
		f := formOf(id)
		require.NotNil(t, f, id)
		for _, path := range list {
			assert.True(t, slices.ContainsFunc(f.outlets, func(o outlet) bool { return o.path == path }), "%s has no output %s", id, path)
		}
	}
}

// A constant that a student finds alone is one of the working.
func TestWhatIsNotTold(t *testing.T) {
	for id, symbols := range notTold {
		e, ok := calc.Lookup(id)
		require.True(t, ok, id)
		answer, err := e.Eval([]byte(e.Example), calc.Options{Working: true})
		require.NoError(t, err)
		for _, symbol := range symbols {
			assert.GreaterOrEqual(t, stepBefore(answer.Working, symbol), 0, "%s has no %s", id, symbol)
		}
	}
}
