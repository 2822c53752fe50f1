package exercise

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func TestFaultsAreMade(t *testing.T) {
	for _, name := range Faults() {
		blamed := map[string]bool{}
		for _, system := range systems {
			for seed := range int64(40) {
				e, err := FaultSpec{Fault: name, Units: system, Seed: seed}.Make()
				require.NoError(t, err, "%s, seed %d", name, seed)
				causes := e.Causes()
				blamed[causes[0].ID] = true
				assert.Len(t, causes, len(e.Plan))
				assert.NotEqual(t, e.planned(causes[0].ID).Planned, e.planned(causes[0].ID).Measured)
				assert.GreaterOrEqual(t, causes[0].Share, mainCause*causes[1].Share, "the first is clearly the first")
				m := e.Mark([]string{causes[0].ID}, e.Change.right())
				assert.InDelta(t, 1, m.Score, 1e-9, "%s, seed %d: %+v", name, seed, m)
				m = e.Mark([]string{causes[1].ID}, "")
				assert.Zero(t, m.Score)
				assert.NotEmpty(t, m.Cause.Says)
				assert.NotContains(t, e.Symptom, "%")
				again, err := e.Spec.Make()
				require.NoError(t, err)
				assert.Equal(t, e.String(), again.String())
			}
		}
		assert.Greater(t, len(blamed), 1, "%s has more than one thing to blame", name)
	}
}

func (e *FaultExercise) planned(id string) Compared {
	for _, p := range e.Plan {
		if p.ID == id {
			return p
		}
	}
	return Compared{}
}

// The ranking is what the calculation makes of the plan with one value at a time.
func TestCausesByOneAtATime(t *testing.T) {
	f := formOf("dough-temperature-for-water")
	x := &faultDrawn{fault: &faults[0], form: f, outlet: f.asked("dough_temp"), planned: newDrawn(f), measured: newDrawn(f)}
	for i := range f.slots {
		planned, measured := map[string]string{
			"water_temp": "18 °C", "flour_temp": "21 °C", "room": "23 °C", "friction": "14 C°", "friction_basis": "once", "yeast": "instant-dry", "yeast_step": "own-water",
		}, map[string]string{"water_temp": "18 °C", "flour_temp": "27 °C", "room": "24.5 °C", "friction": "14 C°", "friction_basis": "once", "yeast": "instant-dry", "yeast_step": "own-water"}
		x.planned.set(f, i, planned[f.slots[i].path])
		x.measured.set(f, i, measured[f.slots[i].path])
	}
	x.planned.close(f)
	x.measured.close(f)
	var ok bool
	x.out, ok = x.comesTo(&x.planned) // 76/3
	require.True(t, ok)
	x.found, ok = x.comesTo(&x.measured) // 83.5/3
	require.True(t, ok)
	causes := oneByOne(x)
	require.Len(t, causes, 4)
	assert.Equal(t, "flour_temp", causes[0].ID)
	assert.InDelta(t, 80, causes[0].Share, 1e-9, "6 of 7.5 degrees")
	assert.Equal(t, "room", causes[1].ID)
	assert.InDelta(t, 20, causes[1].Share, 1e-9)
	assert.Equal(t, "27.5 °C", causes[0].Explains)
	assert.InDelta(t, 4, causes[0].Beyond/causes[1].Beyond, 1e-9, "2 degrees of the dough against a half")
}

func TestFaultRankingsAreRead(t *testing.T) {
	e, err := FaultSpec{Fault: "dough-off-temperature", Seed: 1}.Make()
	require.NoError(t, err)
	letter := func(id string) string {
		for i, c := range e.Choices {
			if c == id {
				return string(rune('A' + i))
			}
		}
		return ""
	}
	first := e.Causes()[0].ID
	assert.Equal(t, Right, e.Mark([]string{letter(first)}, "").Cause.Verdict)
	assert.Equal(t, Right, e.Mark([]string{"(" + letter(first) + ")", "whatever"}, "").Cause.Verdict)
	assert.Equal(t, Empty, e.Mark(nil, "").Cause.Verdict)
	assert.Equal(t, Unread, e.Mark([]string{"the oven"}, "").Cause.Verdict)
	assert.Equal(t, Unread, e.Mark(make([]string, 99), "").Cause.Verdict)
	_, err = FaultSpec{Fault: "dough", Seed: MaxSeed + 1, Units: unit.System(9)}.Make()
	var fields []string
	for _, in := range reckon.InputErrors(err) {
		fields = append(fields, in.Field)
	}
	assert.Equal(t, []string{"seed", "units", "fault"}, fields)
}
