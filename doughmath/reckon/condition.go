package reckon

import (
	"fmt"
	"math/bits"
	"strings"
)

// Conditions is a set of things to look at in a result that was computed all
// the same. A calculation never bends a value to make a condition go away.
type Conditions uint64

// The conditions. Each has a word for programs, which stays the same, and a
// sentence for people: see [Conditions.Words] and [Conditions.Sentences].
const (
	// Rounded says that a value was rounded to what a scale, a tray or a whole piece allows.
	Rounded Conditions = 1 << iota
	// Uncalibrated says that the result is a model's estimate, to be replaced by a measurement on the line.
	Uncalibrated
	// OutsideSource says that an input lies outside the range for which the relation's source vouches.
	OutsideSource
	// Extrapolated says that the result lies outside the data it was fitted on.
	Extrapolated
	// FromMemory says that a table value behind the result was recalled, not seen in its source.
	FromMemory
	// BelowFreezing says that liquid water cannot be that cold: ice is needed.
	BelowFreezing
	// ColderThanAllIce says that not even all the water as ice cools enough.
	ColderThanAllIce
	// MuchIce says that so much ice may not melt in the mixing time.
	MuchIce
	// WarmForYeast says that the water is warm enough to harm yeast that it touches.
	WarmForYeast
	// NoIceNeeded says that the water is already as cold as wanted.
	NoIceNeeded
	// FrictionNegative says that the measured friction is below zero: a reading is probably wrong.
	FrictionNegative
	// UnusualHydration says that the dough is far wetter or drier than a dough that a make-up line handles.
	UnusualHydration
	// UnusualSalt says that the salt is far from what bread formulas use.
	UnusualSalt
	// UnusualLoss says that the loss is far from what bread loses.
	UnusualLoss
	// SmallBatch says that a batch is below what the mixer mixes well.
	SmallBatch
	// LeftoverDough says that dough remains after the last whole piece.
	LeftoverDough
	// MarkOutOfRange says that the mark lies off the scale of the handle.
	MarkOutOfRange
	// LackOfFit says that the trial pieces do not lie on the fitted line within their own scatter.
	LackOfFit
	// WideInterval says that the interval is wider than the tolerance: weigh more pieces.
	WideInterval
	// NoMoveWarranted says that the difference is within the scatter or the limit given: leave the handle alone.
	NoMoveWarranted
	// WeighMore says that more pieces must be weighed before a decision.
	WeighMore
	// LongHopperTime says that dough stands in the hopper longer than the limit given.
	LongHopperTime
	// RateLimited says that a machine's limit holds the rate below what was asked.
	RateLimited
	// DwellOutsideWindow says that the dwell lies outside what the product wants.
	DwellOutsideWindow
	// PiecesStranded says that pieces stand in the proofer when the machines stop.
	PiecesStranded
	// PartPass says that a pass covers only part of the trays.
	PartPass
	// BetweenDrums says that the piece lies between what two drums are made for.
	BetweenDrums
	// DrumTooSmall says that the piece overfills the cup.
	DrumTooSmall
	// DrumTooLarge says that the piece is loose in the cup.
	DrumTooLarge
	// DeepReduction says that the sheet is reduced by more than the dough's limit in one pass.
	DeepReduction
	// FewTurns says that the piece is rolled less than is usual.
	FewTurns
	// ManyTurns says that the piece is rolled more than is usual.
	ManyTurns
	// RiskOfDoubles says that pieces may touch on a belt.
	RiskOfDoubles
	// OutOfStep says that two machines drift against each other.
	OutOfStep
	// SurfaceDrying says that the air dries the piece's surface.
	SurfaceDrying
	// SurfaceSweating says that moisture condenses on the piece.
	SurfaceSweating
	// Outlier says that a weighing lies far from the others; it is kept.
	Outlier
	// OutOfControl says that a chart signals a change of the process.
	OutOfControl
	// NotCapable says that the process spread does not fit the tolerance.
	NotCapable
	// ScaleTooCoarse says that the scale's division is too coarse for the job.
	ScaleTooCoarse
	// BelowLabel says that pieces fall below the weight that the rule demands.
	BelowLabel
	// RuleSetDated says that the rule set must be checked against the edition in force.
	RuleSetDated
	// LatePlan says that the work does not end by the time wanted.
	LatePlan
	// Overloaded says that a station is asked for more than it can hold.
	Overloaded
	// EnergyDiffers says that the energy balance and the factor rule disagree by more than the reading of a thermometer.
	EnergyDiffers
	// FewBatches says that the batches logged say too little about the next one.
	FewBatches
	// UnderRounded says that the piece is rounded less than the shop's trials want.
	UnderRounded
	// OverRounded says that the piece is rounded more than the shop's trials want.
	OverRounded
	// SeamOpen says that the piece turns less under the pressure board than closes its seam.
	SeamOpen
	// PanOverfull says that the piece grows beyond what the pan is wanted to hold.
	PanOverfull
	// PanUnderfull says that the piece grows less than fills the pan as wanted.
	PanUnderfull
	// BetweenSettings says that the piece lies near the border of two settings.
	BetweenSettings
	// HotForPart says that the water is warmer than the part stands.
	HotForPart
	// SlowerThanMachine says that a machine cannot run as slowly as asked.
	SlowerThanMachine
	// TurnsBack says that a fitted curve turns within the data, so that one weight has two marks.
	TurnsBack
	// LanesUneven says that the lanes of a machine differ by more than their scatter.
	LanesUneven
	// AboveLimit says that pieces weigh more than the rule allows.
	AboveLimit

	conditionEnd // one past the last
)

var conditionTexts = [...][2]string{
	{"rounded", "A value was rounded to what the scale, the tray or whole pieces allow."},
	{"uncalibrated", "This is a model's estimate: measure it on the line and put the measured value in."},
	{"outside-source", "An input lies outside the range that the relation's source vouches for."},
	{"extrapolated", "The result lies outside the data it was fitted on: weigh trial pieces there first."},
	{"from-memory", "A table value behind this was recalled, not seen in its source: check it before you rely on it."},
	{"below-freezing", "Liquid water cannot be this cold: replace part of the water with ice."},
	{"colder-than-all-ice", "Not even all the water as ice cools enough: cool the flour or the room, or accept a warmer dough."},
	{"much-ice", "So much ice may not melt in the mixing time: use flake ice, or cool the flour as well."},
	{"warm-for-yeast", "Water this warm can harm yeast that it touches: keep the yeast out of it, or warm the flour instead."},
	{"no-ice-needed", "The water is already as cold as wanted: no ice."},
	{"friction-negative", "The friction comes out below zero: take the temperatures again."},
	{"unusual-hydration", "The dough is far wetter or drier than a make-up line handles: check the formula."},
	{"unusual-salt", "The salt is far from what bread formulas use: check the formula."},
	{"unusual-loss", "The loss is far from what bread loses: check the weights and whether it counts on dough or on bread."},
	{"small-batch", "The batch is below what the mixer mixes well."},
	{"leftover-dough", "Dough is left after the last whole piece."},
	{"mark-out-of-range", "The mark lies off the scale of the handle."},
	{"lack-of-fit", "The trial pieces do not lie on the fitted line within their own scatter: try the curve, or weigh again."},
	{"wide-interval", "The interval is wider than the tolerance: weigh more pieces."},
	{"no-move-warranted", "The difference is within the scatter of the pieces, or within the limit given: leave the handle where it is."},
	{"weigh-more", "Weigh more pieces before you decide."},
	{"long-hopper-time", "The dough stands in the hopper longer than the limit: make smaller batches or run faster."},
	{"rate-limited", "A machine's limit holds the rate below what was asked."},
	{"dwell-outside-window", "The dwell lies outside what the product wants."},
	{"pieces-stranded", "Pieces stand in the proofer when the machines stop: plan the clear-out."},
	{"part-pass", "One pass covers only part of the trays."},
	{"between-drums", "The piece lies between two drums: try both and keep the one that rounds it."},
	{"drum-too-small", "The piece overfills the cup: take the next larger drum."},
	{"drum-too-large", "The piece is loose in the cup: take the next smaller drum."},
	{"deep-reduction", "The sheet is reduced by more than the dough's limit in one pass: open the gap or share the work."},
	{"few-turns", "The piece is rolled less than is usual: close the gap for a longer, thinner sheet."},
	{"many-turns", "The piece is rolled more than is usual: open the gap."},
	{"risk-of-doubles", "Pieces may touch on the belt: run the belt faster or the divider slower."},
	{"out-of-step", "The two machines drift against each other: set the speed again or link the drives."},
	{"surface-drying", "The air dries the surface of the piece: raise the humidity or shorten the stay."},
	{"surface-sweating", "Moisture condenses on the piece: lower the humidity or use a little more dusting flour."},
	{"outlier", "A weighing lies far from the others: it is kept, look for the cause."},
	{"out-of-control", "The chart signals a change: look for the cause before you move the handle."},
	{"not-capable", "The spread of the pieces does not fit the tolerance."},
	{"scale-too-coarse", "The scale's division is too coarse for this job."},
	{"below-label", "Pieces fall below the weight that the rule demands."},
	{"rule-set-dated", "Check this rule set against the edition in force; the local authority decides."},
	{"late-plan", "The work does not end by the time wanted."},
	{"overloaded", "A station is asked for more than it can hold."},
	{"energy-differs", "The energy balance and the factor rule disagree by more than a thermometer reads: calibrate the friction."},
	{"few-batches", "So few batches, or so scattered, say little about the next: log more of them before you rely on it."},
	{"under-rounded", "The piece is rounded less than your trials want: slow the drum, lengthen the travel or take the next smaller drum."},
	{"over-rounded", "The piece is rounded more than your trials want and its skin may tear: run the drum faster or shorten the travel."},
	{"seam-open", "The piece turns too little under the board to close its seam: lengthen the board, lower it or roll a thinner piece."},
	{"pan-overfull", "The piece outgrows the pan: scale it lighter, take a larger pan or proof it less."},
	{"pan-underfull", "The piece does not fill the pan: scale it heavier, take a smaller pan or proof it longer."},
	{"between-settings", "The piece lies near the border of two settings: try both and keep the one that works."},
	{"hot-for-part", "The water is too warm for this part: let it cool, or the part warps or comes apart."},
	{"slower-than-machine", "The machine cannot run as slowly as asked: let it stand between batches, or cut fewer pieces across."},
	{"turns-back", "The fitted curve turns within the marks weighed: weigh the odd marks again, or fit the straight line."},
	{"lanes-uneven", "The lanes differ by more than their scatter: the handle cannot mend that, have the chambers looked at."},
	{"above-limit", "Pieces weigh more than the rule allows."},
}

// Every condition has its texts, or this does not compile.
var _ [1]struct{} = [conditionEnd >> len(conditionTexts)]struct{}{}

// Has reports whether every condition of want is set.
func (c Conditions) Has(want Conditions) bool { return c&want == want }

// Words returns the words of the conditions that are set, in a fixed order.
func (c Conditions) Words() []string { return c.texts(0) }

// Sentences returns what to tell a person, in the order of Words.
func (c Conditions) Sentences() []string { return c.texts(1) }

func (c Conditions) texts(column int) []string {
	out := make([]string, 0, bits.OnesCount64(uint64(c)))
	for i, t := range conditionTexts {
		if c&(1<<i) != 0 {
			out = append(out, t[column])
		}
	}
	return out
}

// String returns the words, separated by commas.
func (c Conditions) String() string { return strings.Join(c.Words(), ", ") }

// MarshalJSON writes the words as a list.
func (c Conditions) MarshalJSON() ([]byte, error) { return marshalWords(c.Words()) }

// UnmarshalJSON reads a list of words.
func (c *Conditions) UnmarshalJSON(data []byte) error {
	return unmarshalWords(data, "condition", conditionTexts[:], (*uint64)(c))
}

// ConditionFor returns the condition with the given word.
func ConditionFor(word string) (Conditions, error) {
	for i, t := range conditionTexts {
		if t[0] == word {
			return 1 << i, nil
		}
	}
	return 0, fmt.Errorf("no condition is called %q", word)
}
