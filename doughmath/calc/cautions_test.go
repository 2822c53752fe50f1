package calc_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// hazards names, by caution, every calculation whose advice has somebody set or
// move a machine, lift, heat, change an ingredient or reach towards the dough.
var hazards = []struct {
	caution reckon.Cautions
	ids     string
}{
	{reckon.MovingMachinery, `slide-for-flow rounding-motions speed-for-motions mark-for-weight next-mark mark-fit trial-plan weight-drift strokes-for-rate flour-use
		oil-use oil-time-for-use oil-rate-for-use proofer-dwell strokes-for-dwell proofer-speed proofer-clear
		proofer-tradeoff proofer-speed-change proofer-lanes proofer-run rate-for-final-proof-load drum-choice
		rounding-time drum-speed-for-rounding-time sheet gap-for-thickness gap-for-sheet-length gap-for-turns
		turns-for-gap curls curl-sensitivity sheeting-passes thickness-for-passes roller-gaps last-gap-for-reduction
		indicator-for-gap curling-chain pressure-board board-for-length side-guides stamp-rate rate-for-stamps
		stamp-drift stamps-for-run piece-spacing belt-for-gap rate-for-gap belt-train doubles-risk belt-for-doubles line-plan sheet-setting sheet-from-trials roller-grip gap-for-grip grip-from-trials
		control-settings changeover known-good line-clock line-window day-plan fault-causes day-clock`},
	{reckon.RunningDrive, `line-window control-settings changeover rounding-motions speed-for-motions strokes-for-rate proofer-dwell strokes-for-dwell proofer-speed proofer-tradeoff proofer-speed-change
		proofer-run rate-for-final-proof-load rounding-time drum-speed-for-rounding-time stamp-rate rate-for-stamps
		stamp-drift stamps-for-run piece-spacing belt-for-gap rate-for-gap belt-train doubles-risk belt-for-doubles line-plan day-plan`},
	{reckon.RollerNip, `sheet gap-for-thickness gap-for-sheet-length recovery-from-sheet aspect-from-sheet curls
		thickness-for-turns gap-for-turns turns-for-gap curl-sensitivity sheeting-passes thickness-for-passes
		roller-gaps last-gap-for-reduction indicator-fit indicator-for-gap gap-for-indicator line-plan sheet-setting sheet-from-trials roller-grip gap-for-grip grip-from-trials
		control-settings changeover`},
	{reckon.MovingBelt, `changeover weighing-correlation mark-fit mark-for-weight next-mark trial-plan lane-offsets weight-drift hopper-growth piece-sample
		handle-band weighing-verdict pieces-to-weigh pieces-to-detect group-sample set-up-chart control-chart cup-ratio-from-trials
		rounding-from-trials motions-from-trials chain-from-trials seal-from-trials guide-ratio-from-pieces line-plan turns-ratio-from-pieces day-plan fault-causes day-clock`},
	{reckon.RaisedBowl, "hopper-time batch-for-hopper-time weight-drift batch-for-weight-drift line-plan"},
	{reckon.Interlocks, `line-window control-settings changeover known-good rounding-motions speed-for-motions rounding-time drum-speed-for-rounding-time sheet gap-for-thickness gap-for-sheet-length
		gap-for-turns turns-for-gap roller-gaps last-gap-for-reduction stamp-rate rate-for-stamps stamp-drift stamps-for-run day-plan fault-causes`},
	{reckon.StamperCover, "stamp-rate rate-for-stamps stamp-drift stamps-for-run"},
	{reckon.LockedOut, `control-settings changeover proofer-clear proofer-run drum-choice curling-chain chain-from-trials stamp-rate rate-for-stamps
		stamp-drift stamps-for-run part-care day-plan fault-causes`},
	{reckon.Lifting, `control-settings changeover formula-scale preferment-split ice temperature-for-ice water-draw water-mix temperature-for-water-mix mixing-heat
		water-for-mixing-heat ice-for-mixing-heat batch-plan mixed-batch-plan drum-choice part-care line-plan day-plan day-clock`},
	{reckon.HotWater, "water-mix temperature-for-water-mix"},
	{reckon.IceHandling, "ice temperature-for-ice mixing-heat ice-for-mixing-heat"},
	{reckon.Allergens, "changeover liquid-for-water proofer-clear line-plan day-plan day-clock"},
	{reckon.Spoilage, "liquid-for-water starter-feeding preferment-split preferment-times line-clock"},
	{reckon.HotOven, "line-clock day-clock oven-rate"},
	{reckon.FlourDust, `slide-for-flow flow-for-slide formula-scale preferment-split stickiness-fit flour-use stickiness-for-flour dust-limit sweat-water
		flour-share flour-for-piece line-plan day-plan day-clock`},
	{reckon.OilSlip, "changeover oil-use oil-time-for-use oil-rate-for-use proofer-clear proofer-run line-plan day-plan day-clock"},
	{reckon.Cleaning, "changeover drum-choice part-care"},
	{reckon.WeightsLaw, `scaling-weight baked-weight-for-dough tolerable-deficiency loaf-limits target-weight sd-for-target
		fraction-below lot-check lot-operating-curve fraction-for-acceptance line-plan`},
}

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

func TestEveryHazardHasItsCaution(t *testing.T) {
	sorted := map[string]bool{}
	for id := range strings.FieldsSeq(atTheDesk) {
		sorted[id] = true
	}
	wanted := map[string]reckon.Cautions{}
	for _, h := range hazards {
		for id := range strings.FieldsSeq(h.ids) {
			assert.False(t, strings.Contains(" "+strings.Join(strings.Fields(atTheDesk), " ")+" ", " "+id+" "), "%s is in both lists", id)
			sorted[id] = true
			wanted[id] |= h.caution
		}
	}
	for _, e := range calc.Entries() {
		assert.True(t, sorted[e.ID], "%s is in no list: what can hurt whoever does what it says?", e.ID)
		out, err := e.Run([]byte(e.Example), nil)
		require.NoError(t, err, e.ID)
		got := reckon.Hazards(out)
		assert.Empty(t, (wanted[e.ID] &^ got).Words(), "%s does not carry these", e.ID)
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
