package hold

import (
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// A Hazard is a caution and every calculation whose answer carries it.
type Hazard struct {
	Caution reckon.Cautions
	ids     string
}

// IDs are the calculations.
func (h Hazard) IDs() []string { return strings.Fields(h.ids) }

// HazardsOf returns what can hurt whoever does what the calculation says.
func HazardsOf(id string) (all reckon.Cautions) {
	for _, h := range Hazards() {
		if slices.Contains(h.IDs(), id) {
			all |= h.Caution
		}
	}
	return all
}

// Hazards names, by caution, every calculation whose advice has somebody set or
// move a machine, lift, heat, change an ingredient or reach towards the dough.
func Hazards() []Hazard {
	return []Hazard{
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
}
