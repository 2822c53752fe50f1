package doughmath

import "example.com/dough/doughmath/reckon"

// Conditions is a set of things to look at in an answer of this station: the
// general ones of [reckon.Set] and those below. Each has a word for programs,
// which stays the same, and a sentence for people.
type Conditions = reckon.Set[words]

const (
	// BelowFreezing says that liquid water cannot be that cold: ice is needed.
	BelowFreezing Conditions = 1 << (reckon.FirstOwn + iota)
	// ColderThanAllIce says that even all the water as ice is not cold enough.
	ColderThanAllIce
	// MuchIce says that the ice may not all melt before mixing ends.
	MuchIce
	// WarmForYeast says that the water is warm enough to harm yeast that it touches.
	WarmForYeast
	// NoIceNeeded says that water or dough is cold enough without ice.
	NoIceNeeded
	// FrictionNegative says that the measured friction is below zero: a reading is probably wrong.
	FrictionNegative
	// UnusualHydration says that the dough is far wetter or drier than a dough that a make-up line handles.
	UnusualHydration
	// UnusualSalt says that the salt is well outside what bread formulas use.
	UnusualSalt
	// UnusualLoss says that the loss is well outside what bread usually loses.
	UnusualLoss
	// SmallBatch says that a batch is smaller than the mixer mixes well.
	SmallBatch
	// LeftoverDough says that dough remains after the last whole piece.
	LeftoverDough
	// EnergyDiffers says that the heat balance and the factor rule differ by more than a thermometer's accuracy.
	EnergyDiffers
	// FewBatches says that the batches logged say too little about the next one.
	FewBatches
	// WarmerThanTap says that the water needed is warmer than the tap, and no hot tap is given.
	WarmerThanTap
	// ColdForDryYeast says that the water is cold enough to harm dry yeast that it wets.
	ColdForDryYeast

	conditionEnd // one past the last
)

// words is the vocabulary of [Conditions].
type words struct{}

func (words) Conditions() []reckon.Note { return conditions[:] }

var conditions = [...]reckon.Note{
	{Word: "below-freezing", Says: "Liquid water cannot be this cold: replace part of the water with ice."},
	{Word: "colder-than-all-ice", Says: "Even with all the water as ice it is not cold enough: cool the flour or the room, or accept a warmer dough."},
	{Word: "much-ice", Says: "This ice may not all melt before mixing ends: use flake ice, or cool the flour as well."},
	{Word: "warm-for-yeast", Says: "Water this warm can harm yeast on contact: keep the yeast out of it, or warm the flour instead."},
	{Word: "no-ice-needed", Says: "It is cold enough already: no ice is needed."},
	{Word: "friction-negative", Says: "The friction comes out negative: measure the temperatures again."},
	{Word: "unusual-hydration", Says: "The dough is far wetter or drier than a make-up line usually handles: check the formula."},
	{Word: "unusual-salt", Says: "The salt is well outside what bread formulas use: check the formula."},
	{Word: "unusual-loss", Says: "The loss is well outside what bread usually loses: check the weights, and whether it is counted on the dough or on the bread."},
	{Word: "small-batch", Says: "The batch is smaller than the mixer mixes well."},
	{Word: "leftover-dough", Says: "Dough is left after the last whole piece."},
	{Word: "energy-differs", Says: "The heat balance and the factor rule differ by more than a thermometer's accuracy: calibrate the friction."},
	{Word: "few-batches", Says: "The batches logged are too few, or vary too much, to say much about the next: log more before you rely on the figures."},
	{Word: "warmer-than-tap", Says: "The tap is colder than the water needed: heat this water, or give the temperature of the hot tap for the kilograms of each."},
	{Word: "cold-for-dry-yeast", Says: "Water this cold harms dry yeast that it wets: work the yeast in once flour and water are mixed, or wet it first in a little water fit for it."},
}

// Every condition has its note, or this does not compile.
var _ [1]struct{} = [conditionEnd >> (reckon.FirstOwn + len(conditions))]struct{}{}
