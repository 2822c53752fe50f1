package proof

import "example.com/dough/doughmath/reckon"

// Conditions is a set of things to look at in an answer of this station: the
// general ones of [reckon.Set] and those below. Each has a word for programs,
// which stays the same, and a sentence for people.
type Conditions = reckon.Set[words]

const (
	// DwellOutsideWindow says that the dwell is outside the range that suits the product.
	DwellOutsideWindow Conditions = 1 << (reckon.FirstOwn + iota)
	// PiecesStranded says that pieces stand in the proofer when the machines stop.
	PiecesStranded
	// PartPass says that a pass covers only part of the trays.
	PartPass
	// SurfaceDrying says that the air dries the piece's surface.
	SurfaceDrying
	// SurfaceSweating says that moisture condenses on the piece.
	SurfaceSweating
	// Overloaded says that a station is asked for more than it can hold.
	Overloaded
	// BelowFreezing says that the vapour stands over ice, not over water: at the triple point of 0.01 °C, or below.
	BelowFreezing
	// PocketTooSmall says that the grown piece has too little room in its pocket.
	PocketTooSmall

	conditionEnd // one past the last
)

// words is the vocabulary of [Conditions].
type words struct{}

func (words) Conditions() []reckon.Note { return conditions[:] }

var conditions = [...]reckon.Note{
	{Word: "dwell-outside-window", Says: "The dwell is outside the range that suits the product."},
	{Word: "pieces-stranded", Says: "Pieces stand in the proofer when the machines stop: plan the clear-out."},
	{Word: "part-pass", Says: "One pass covers only part of the trays."},
	{Word: "surface-drying", Says: "The air dries the surface of the piece: raise the humidity or shorten the stay."},
	{Word: "surface-sweating", Says: "Moisture condenses on the piece: lower the humidity or use a little more dusting flour."},
	{Word: "overloaded", Says: "A station is asked for more than it can hold."},
	{Word: "below-freezing", Says: "The vapour is over ice, not over water: what the air gives up forms frost, not dew."},
	{Word: "pocket-too-small", Says: "The grown piece has too little room in its pocket: take a lighter piece, a larger pocket or a shorter dwell."},
}

// Every condition has its note, or this does not compile.
var _ [1]struct{} = [conditionEnd >> (reckon.FirstOwn + len(conditions))]struct{}{}
