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
		for seed := int64(0); seed < 60 && !named; seed++ {
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
		// 100*30/50; of the dough 100*30/81.8
		{Spec{Calculation: "formula-from-weights", Asked: "ingredients[1].percent"}, []string{"weights[0].mass", "50 kg", "weights[1].mass", "30 kg", "weights[2].mass", "1 kg", "weights[3].mass", "800 g"}, "60 %", "percent-of-total", "36.7 %"},
		// flour 100 + 10 in the starter; water 50 + 8.8 in the milk + 10 in the starter
		{Spec{Calculation: "hydration", Asked: "hydration"}, []string{"ingredients[1].percent", "50 %", "ingredients[2].percent", "10 %", "ingredients[2].water_content", "88 %", "ingredients[3].percent", "20 %", "ingredients[3].hydration", "100 %"}, "62.5 %", "hydration-without-starter", "58.8 %"},
		// Three passes: 120 + 120 + 90 at 24 trays/min; one round of 120; six rounds of them
		{Spec{Calculation: "proofer-dwell", Asked: "dwell"}, []string{"proofer.trays", "120", "proofer.last_pass_trays", "90", "across", "2", "strokes", "24 strokes/min"}, "13.8 min", "passes-forgotten", "5 min"},
		{Spec{Calculation: "proofer-dwell", Asked: "dwell"}, []string{"proofer.trays", "120", "proofer.last_pass_trays", "90", "across", "2", "strokes", "24 strokes/min"}, "13.8 min", "pockets-for-passes", "28.8 min"},
		// 40*14/98; 40*14/80
		{Spec{Calculation: "ice", Asked: "ice"}, []string{"water", "40 kg", "tap", "18 °C", "needed_temp", "4 °C"}, "5.71 kg", "ice-by-80-alone", "7 kg"},
		// 120/300 h
		{Spec{Calculation: "hopper-time", Asked: "time"}, []string{"batch", "120 kg", "dough_rate", "300 kg/h"}, "24 min", "decimal-hours-as-minutes", "40 min"},
		{Spec{Calculation: "hopper-time", Asked: "time"}, []string{"batch", "120 kg", "dough_rate", "300 kg/h"}, "24 min", "seconds-for-minutes", "24 s"},
		// The lanes of 85.2 g and 87.9 g have the mean 86.55 g: the second is 1.35 g above it
		{Spec{Calculation: "lane-offsets", Asked: "lanes[1].offset"}, []string{"lanes[0].weight", "85.2 g", "lanes[1].weight", "87.9 g"}, "1.35 g", "mean-of-two-lanes", "86.55 g"},
	} {
		e := fixed(t, c.spec, c.values...)
		assert.Equal(t, Right, e.Mark(c.answer).Verdict, "%s: %s", c.mistake, e.right())
		assert.Equal(t, c.mistake, e.Mark(c.mistaken).Mistake, "%s of %s", c.mistaken, c.spec.Calculation)
	}
	// A loss of 14 % in all is divided off 500 g; 500*1.14 is what adding makes, however the losses go together.
	e := fixed(t, Spec{Calculation: "scaling-weight", Asked: "dough"}, "baked", "500 g", "fermentation.percent", "1 %", "bake.percent", "11 %", "cooling.percent", "2 %")
	assert.Equal(t, "loss-added-for-divided", e.Mark("570 g").Mistake, e.right())
}
