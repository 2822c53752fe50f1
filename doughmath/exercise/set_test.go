package exercise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func TestASetHasNoTwoAlike(t *testing.T) {
	for _, spec := range []SetSpec{
		{Size: MaxSet, Seed: 1},
		{Size: MaxSet, Seed: 2, Units: unit.US, Distractors: 2, Conversions: 1},
		{Size: 300, Seed: 3, Calculations: []string{"water-temperature", "curls"}},
		{Size: 60, Seed: 4, Station: "proofer", StepsLow: 2, StepsHigh: 6},
	} {
		set, err := spec.Make()
		require.NoError(t, err)
		require.Len(t, set, spec.Size)
		seen := map[string]bool{}
		calculations := map[string]bool{}
		for _, e := range set {
			told := e.Spec.Calculation + e.Spec.Asked + strings.Join(e.texts, "|")
			assert.False(t, seen[told], "%s asks twice for %s of %v", e.Spec.Calculation, e.Spec.Asked, e.texts)
			seen[told] = true
			calculations[e.Spec.Calculation] = true
			assert.True(t, e.Difficulty.Steps >= spec.StepsLow && (spec.StepsHigh == 0 || e.Difficulty.Steps <= spec.StepsHigh))
			assert.Equal(t, spec.Units, e.Spec.Units)
			if spec.Station != "" {
				assert.Equal(t, spec.Station, e.Station)
			}
		}
		if spec.Size == MaxSet {
			assert.Greater(t, len(calculations), 175, "all take their turn")
		}
	}
}

func TestTheSameSeedMakesTheSameSet(t *testing.T) {
	spec := SetSpec{Size: 40, Seed: 9, Distractors: 1, Conversions: 1}
	one, err := spec.Make()
	require.NoError(t, err)
	two, err := spec.Make()
	require.NoError(t, err)
	spec.Seed++
	three, err := spec.Make()
	require.NoError(t, err)
	same := 0
	for i := range one {
		assert.Equal(t, one[i].String(), two[i].String())
		again, err := one[i].Spec.Make()
		require.NoError(t, err)
		assert.Equal(t, one[i].String(), again.String(), "each can be made alone")
		if one[i].String() == three[i].String() {
			same++
		}
	}
	assert.Zero(t, same)
}

func TestBadSets(t *testing.T) {
	for name, c := range map[string]struct {
		spec SetSpec
		want []string
	}{
		"empty":           {SetSpec{}, []string{"size"}},
		"too large":       {SetSpec{Size: 1001, Seed: MaxSeed + 1}, []string{"size", "seed"}},
		"unknown":         {SetSpec{Size: 1, Calculations: []string{"curls", "curles", "line-plan"}}, []string{"calculations[1]", "calculations[2]"}},
		"no station":      {SetSpec{Size: 1, Station: "oven"}, []string{"station"}},
		"both":            {SetSpec{Size: 1, Station: "divider", Calculations: []string{"curls"}}, []string{"station"}},
		"steps":           {SetSpec{Size: 1, StepsLow: 5, StepsHigh: 3}, []string{"steps_high"}},
		"steps of none":   {SetSpec{Size: 1, StepsLow: 9, Calculations: []string{"curls"}}, []string{"steps_low"}},
		"extras":          {SetSpec{Size: 1, Distractors: 9, Conversions: -2, Units: 3}, []string{"units", "distractors", "conversions"}},
		"a list too long": {SetSpec{Size: 1, Calculations: make([]string, 1001)}, []string{"calculations"}},
	} {
		set, err := c.spec.Make()
		assert.Nil(t, set, name)
		var fields []string
		for _, in := range reckon.InputErrors(err) {
			fields = append(fields, in.Field)
		}
		assert.Equal(t, c.want, fields, "%s: %v", name, err)
	}
}

// What cannot be made without a repeat is said soon, with what can be reached.
func TestASetThatRunsOut(t *testing.T) {
	_, err := SetSpec{Size: 900, Calculations: []string{"loaf-limits"}}.Make()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.NotEmpty(t, none.High)
}

// What is asked for may come as JSON: it is read strictly, as everything else is.
func TestSpecsFromJSON(t *testing.T) {
	spec, err := reckon.Decode[Spec]("exercise", []byte(`{"calculation":"curls","units":"us","seed":5,"ranges":[{"field":"core","low":"0.2 in","high":"0.4 in"}]}`))
	require.NoError(t, err)
	assert.Equal(t, Spec{Calculation: "curls", Units: unit.US, Seed: 5, Ranges: []Range{{"core", "0.2 in", "0.4 in", ""}}}, *spec)
	set, err := reckon.Decode[SetSpec]("exercise", []byte(`{"size":10,"station":"divider","steps_low":2}`))
	require.NoError(t, err)
	assert.Equal(t, SetSpec{Size: 10, Station: "divider", StepsLow: 2}, *set)
	_, err = reckon.Decode[CaseStudySpec]("exercise", []byte(`{"case":"warm-day","seed":1.5}`))
	assert.Error(t, err)
	_, err = reckon.Decode[FaultSpec]("exercise", []byte(`{"fautl":"any"}`))
	assert.ErrorContains(t, err, "fault")
}
