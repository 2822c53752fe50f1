package exercise

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// Every mistake has its calculation, a relation that can be evaluated, and
// something to tell; it is made in some exercise and named there. There are
// mistakes of every station.
func TestMistakes(t *testing.T) {
	ids, stations := map[string]bool{}, map[string]int{}
	for _, m := range Mistakes() {
		assert.False(t, ids[m.ID], "%s stands twice", m.ID)
		ids[m.ID] = true
		assert.Greater(t, len(m.Says), 20, m.ID)
		assert.Contains(t, []string{"", "metric", "us"}, m.Units, m.ID)
		_, err := reckon.ParseExpression(m.Relation)
		require.NoError(t, err, m.ID)
		if m.Calculation == "" {
			continue
		}
		entry, ok := calc.Lookup(m.Calculation)
		require.True(t, ok, m.ID)
		stations[entry.Station]++
		f := formOf(m.Calculation)
		require.NotNil(t, f.asked(m.Asked), "%s: %s asks for one of %v", m.ID, m.Calculation, f.askNames())
		named := false
		for seed := uint64(0); seed < 60 && !named; seed++ {
			for _, system := range systems {
				e, err := Spec{Calculation: m.Calculation, Asked: m.Asked, Seed: seed, Units: system}.Make()
				require.NoError(t, err, m.ID)
				for _, l := range e.mistakes {
					named = named || l.mistake.ID == m.ID && e.Mark(e.Asked.write(e.outlet.quantity, l.held)).Mistake == m.ID
				}
			}
		}
		assert.True(t, named, "%s is never named", m.ID)
	}
	for _, station := range []string{"formula", "temperature", "batch", "divider", "weight", "proofer", "moulder"} {
		assert.GreaterOrEqual(t, stations[station], 10, station)
	}
}

// The mistakes that every instructor knows are among them, each with the value
// worked out by hand.
func TestTheUsualMistakes(t *testing.T) {
	for _, c := range []struct {
		spec     Spec
		values   []string
		answer   string
		mistake  string
		mistaken string
	}{
		// 100*30/50 = 60 % of the flour, 100*30/81.8 = 36.7 % of the dough
		{Spec{Calculation: "hydration", Asked: "hydration"}, nil, "", "hydration-without-starter", ""},
		// 600 g/(1 - 0.12) = 681.8 g, not 600*1.12 = 672 g; without cooling and fermentation there is one loss
		{Spec{Calculation: "proofer-dwell", Asked: "dwell"}, []string{"proofer.trays", "120", "proofer.last_pass_trays", "90", "across", "2", "strokes", "24 strokes/min"}, "13.8 min", "passes-forgotten", "5 min"},
		{Spec{Calculation: "proofer-dwell", Asked: "dwell"}, []string{"proofer.trays", "120", "proofer.last_pass_trays", "90", "across", "2", "strokes", "24 strokes/min"}, "13.8 min", "pockets-for-passes", "28.8 min"},
		{Spec{Calculation: "ice", Asked: "ice"}, []string{"water", "40 kg", "tap", "18 °C", "needed_temp", "4 °C"}, "5.71 kg", "ice-by-80-alone", "7 kg"},
		{Spec{Calculation: "hopper-time", Asked: "time"}, []string{"batch", "120 kg", "dough_rate", "300 kg/h"}, "24 min", "decimal-hours-as-minutes", "40 min"},
		{Spec{Calculation: "hopper-time", Asked: "time"}, []string{"batch", "120 kg", "dough_rate", "300 kg/h"}, "24 min", "seconds-for-minutes", "24 s"},
		{Spec{Calculation: "base-temperature", Asked: "fahrenheit"}, []string{"target_temp", "24 °C", "friction", "8 C°"}, "", "base-one-32", ""},
	} {
		e := fixed(t, c.spec, c.values...)
		if c.answer != "" {
			assert.Equal(t, Right, e.Mark(c.answer).Verdict, "%s: %s", c.mistake, e.right())
			assert.Equal(t, c.mistake, e.Mark(c.mistaken).Mistake, "%s of %s", c.mistaken, c.spec.Calculation)
			continue
		}
		found := false
		for _, m := range e.mistakes {
			found = found || m.mistake.ID == c.mistake
		}
		assert.True(t, found, c.mistake)
	}
}
