package doughmath

import "example.com/dough/doughmath/reckon"

// Conditions is a set of things to look at in an answer of this station: the
// general ones of [reckon.Set] and those below. Each has a word for programs,
// which stays the same, and a sentence for people.
type Conditions = reckon.Set[words]

const (
	// BelowFreezing says that liquid water cannot be that cold: ice is needed.
	BelowFreezing Conditions = 1 << (reckon.FirstOwn + iota)
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
	// EnergyDiffers says that the energy balance and the factor rule disagree by more than the reading of a thermometer.
	EnergyDiffers
	// FewBatches says that the batches logged say too little about the next one.
	FewBatches

	conditionEnd // one past the last
)

// words is the vocabulary of [Conditions].
type words struct{}

func (words) Conditions() []reckon.Note { return conditions[:] }

var conditions = [...]reckon.Note{
	{Word: "below-freezing", Says: "Liquid water cannot be this cold: replace part of the water with ice."},
	{Word: "colder-than-all-ice", Says: "Not even all the water as ice cools enough: cool the flour or the room, or accept a warmer dough."},
	{Word: "much-ice", Says: "So much ice may not melt in the mixing time: use flake ice, or cool the flour as well."},
	{Word: "warm-for-yeast", Says: "Water this warm can harm yeast that it touches: keep the yeast out of it, or warm the flour instead."},
	{Word: "no-ice-needed", Says: "The water is already as cold as wanted: no ice."},
	{Word: "friction-negative", Says: "The friction comes out below zero: take the temperatures again."},
	{Word: "unusual-hydration", Says: "The dough is far wetter or drier than a make-up line handles: check the formula."},
	{Word: "unusual-salt", Says: "The salt is far from what bread formulas use: check the formula."},
	{Word: "unusual-loss", Says: "The loss is far from what bread loses: check the weights and whether it counts on dough or on bread."},
	{Word: "small-batch", Says: "The batch is below what the mixer mixes well."},
	{Word: "leftover-dough", Says: "Dough is left after the last whole piece."},
	{Word: "energy-differs", Says: "The energy balance and the factor rule disagree by more than a thermometer reads: calibrate the friction."},
	{Word: "few-batches", Says: "So few batches, or so scattered, say little about the next: log more of them before you rely on it."},
}

// Every condition has its note, or this does not compile.
var _ [1]struct{} = [conditionEnd >> (reckon.FirstOwn + len(conditions))]struct{}{}
