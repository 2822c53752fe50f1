package exercise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func (c *CaseStudy) answers() []string {
	var out []string
	for _, p := range c.Parts {
		out = append(out, p.right())
	}
	return out
}

func TestCasesAreMade(t *testing.T) {
	for _, name := range CaseStudies() {
		for _, system := range systems {
			for seed := range int64(30) {
				c, err := CaseStudySpec{Case: name, Units: system, Seed: seed}.Make()
				require.NoError(t, err, "%s, seed %d", name, seed)
				again, err := c.Spec.Make()
				require.NoError(t, err)
				for i, p := range c.Parts {
					assert.Equal(t, p.String(), again.Parts[i].String())
					for _, from := range p.Carried {
						require.Less(t, from.Part, i+1)
						require.Equal(t, from.Field, p.form.slots[p.form.slotAt(from.Field)].path)
					}
				}
				m, err := c.Mark(c.answers())
				require.NoError(t, err)
				assert.InDelta(t, 1, m.Score, 1e-9, "%s, seed %d: %+v", name, seed, m)
			}
		}
	}
	c, err := CaseStudySpec{Seed: 5}.Make()
	require.NoError(t, err)
	assert.Contains(t, CaseStudies(), c.Spec.Case)
}

// An answer that is wrong only because the one before is has its credit.
func TestCasesAreFollowedThrough(t *testing.T) {
	c, err := CaseStudySpec{Case: "loaf-to-moulder", Seed: 2}.Make()
	require.NoError(t, err)
	answers := c.answers()
	answers[1] = "6.1 mm" // a slip in the thickness, which the turns take up
	curls := c.Parts[3]
	follows := curls.form
	v := newDrawn(follows)
	for i := range follows.slots {
		text := curls.texts[i]
		if follows.slots[i].path == "thickness" {
			text = "6.1 mm"
		}
		v.set(follows, i, text)
	}
	v.close(follows)
	e := build(follows, curls.outlet, curls.Spec, &v, true)
	require.NotNil(t, e)
	require.NotEqual(t, Right, curls.Mark(e.right()).Verdict)
	answers[3] = e.right()
	m, err := c.Mark(answers)
	require.NoError(t, err)
	assert.NotEqual(t, Right, m.Parts[1].Verdict)
	assert.Equal(t, Followed, m.Parts[3].Verdict, m.Parts[3].Says)
	assert.InDelta(t, 0.75, m.Score, 0.13)

	answers[1] = "-5 mm" // nothing can be worked out with that
	m, err = c.Mark(answers)
	require.NoError(t, err)
	assert.NotEqual(t, Followed, m.Parts[3].Verdict)
	answers[1] = strings.Repeat("8", 1<<20)
	_, err = c.Mark(answers)
	require.NoError(t, err)
	_, err = c.Mark(make([]string, 9))
	assert.Equal(t, "answers", reckon.InputErrors(err)[0].Field)
	m, err = c.Mark(nil)
	require.NoError(t, err)
	assert.Zero(t, m.Score)
}

func TestBadCases(t *testing.T) {
	_, err := CaseStudySpec{Case: "rolls", Seed: MaxSeed + 1, Units: unit.System(9)}.Make()
	var fields []string
	for _, in := range reckon.InputErrors(err) {
		fields = append(fields, in.Field)
	}
	assert.Equal(t, []string{"seed", "units", "case"}, fields)
}
