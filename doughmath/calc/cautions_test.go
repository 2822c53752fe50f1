package calc_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/testdata/hold"
)

// atTheDesk are the calculations that send nobody to a machine, a bowl or an
// ingredient: they say what was measured, what a model gives or what a word means.
const atTheDesk = `formula-from-weights hydration water-for-hydration formula-from-mixes preferment-percent ratio-for-feeding
	dough-yield bread-yield flour-for-bread ingredient-water dough-for-stock dough-cost target-temperature water-temperature
	dough-temperature-for-water friction-factor friction-log base-temperature dough-temperature-for-base water-for-base
	base-for-water base-correction ice-melt size-for-ice-melt transfer-for-ice-melt work-for-mixing-heat water-property
	dough-property dough-density gas-for-density loss-from-weights pieces-for-dough divider-rate takt pieces-for-takt
	weight-for-mark chamber-weight volume-for-chamber-weight gas-for-chamber-weight pressure-for-chamber-weight
	gas-after-mixing half-width-for-pieces shift-for-pieces tolerance-factor scale-division chart-constants run-length
	operating-curve capability sd-for-capability final-proof-load shared-rate proof-equivalent temperature-for-proof
	q10-for-proof saturation-pressure temperature-for-saturation proof-air proof-surface warming-for-surface
	humidity-for-surface share-for-sweat-water piece-for-drum length-for-turns spiral-length calender-bound
	piece-length-for-guides board-length-for-turns pan-fit piece-for-pan tray-fit piece-for-tray growth-from-jar
	flatness-from-pieces arrival-sd bread-for-flour pocket-fit piece-for-pocket line-capacity shift-for-line-capacity
	air-pressure altitude-for-air-pressure long-tray-fit long-piece-for-tray rectangular-sheet piece-for-rectangular-sheet
	critical-path run-order`

// warm are inputs whose answer is water that scalds, where the example's is not.
var warm = map[string]string{
	"water-temperature":           `{"target_temp":"27 C","flour_temp":"5 C","room":"10 C","friction":"20 C","friction_basis":"once","yeast":"none"}`,
	"dough-temperature-for-water": `{"water_temp":"48 C","flour_temp":"5 C","room":"10 C","friction":"20 C","friction_basis":"once","yeast":"none"}`,
}

// What [hold.Hazards] says of a calculation is held beside the code, by TestHeld of its station.
func TestEveryHazardHasItsCaution(t *testing.T) {
	sorted := map[string]bool{}
	for id := range strings.FieldsSeq(atTheDesk) {
		sorted[id] = true
	}
	for _, h := range hold.Hazards() {
		for _, id := range h.IDs() {
			assert.False(t, strings.Contains(" "+strings.Join(strings.Fields(atTheDesk), " ")+" ", " "+id+" "), "%s is in both lists", id)
			sorted[id] = true
		}
	}
	for _, e := range calc.Entries() {
		assert.True(t, sorted[e.ID], "%s is in no list: what can hurt whoever does what it says?", e.ID)
		delete(sorted, e.ID)
	}
	assert.Empty(t, sorted, "no calculation is called so")
}

// The stamper's cover is named where there is a stamper and nowhere else.
func TestGuardsAreNamedAtTheirPlace(t *testing.T) {
	for _, e := range calc.Entries() {
		out, err := e.Run([]byte(e.Example), nil)
		require.NoError(t, err, e.ID)
		says := strings.Join(reckon.Hazards(out).Sentences(), " ")
		stamps := strings.Contains(e.ID, "stamp")
		assert.Equal(t, stamps, strings.Contains(says, "The stamper closes"), e.ID)
	}
}

// Water that scalds carries the caution whichever way it is asked for.
func TestWaterThatScaldsIsCautioned(t *testing.T) {
	for id, input := range warm {
		e, _ := calc.Lookup(id)
		out, err := e.Run([]byte(input), nil)
		require.NoError(t, err, id)
		assert.True(t, reckon.Hazards(out).Has(reckon.HotWater), id)
	}
}
