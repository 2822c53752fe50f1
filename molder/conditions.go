package molder

import "example.com/dough/doughmath/reckon"

// Conditions is a set of things to look at in an answer of this station: the
// general ones of [reckon.Set] and those below. Each has a word for programs,
// which stays the same, and a sentence for people.
type Conditions = reckon.Set[words]

const (
	// BetweenDrums says that the piece lies between what two drums are made for.
	BetweenDrums Conditions = 1 << (reckon.FirstOwn + iota)
	// DrumTooSmall says that the piece overfills the cup, and no drum has a larger one.
	DrumTooSmall
	// DrumTooLarge says that the piece is loose in the cup, and no drum that takes it has a smaller one.
	DrumTooLarge
	// UnderRounded says that the piece is rounded along a track or wall for less time than the shop's trials call for.
	UnderRounded
	// OverRounded says that it is rounded there for more time than they call for.
	OverRounded
	// DeepReduction says that the sheet is reduced by more than the dough's limit in one pass.
	DeepReduction
	// FewTurns says that the piece makes fewer turns than is usual.
	FewTurns
	// ManyTurns says that the piece makes more turns than is usual.
	ManyTurns
	// SeamOpen says that the piece turns less under the pressure board than closes its seam.
	SeamOpen
	// PanOverfull says that the piece grows to more than the pan should hold.
	PanOverfull
	// PanUnderfull says that the piece grows to less than should fill the pan.
	PanUnderfull
	// BetweenSettings says that the piece lies near the border of two settings.
	BetweenSettings
	// RiskOfDoubles says that pieces may touch on a belt.
	RiskOfDoubles
	// OutOfStep says that two machines drift against each other.
	OutOfStep
	// TearUntried says that it is not known how thin the dough can be sheeted.
	TearUntried
	// SheetMayTear says that the sheet is thinner than any that held in trials.
	SheetMayTear
	// NoGrip says that the rollers do not take the piece in.
	NoGrip
	// HotForPart says that the water is warmer than the part can stand.
	HotForPart
	// FewMotions says that the piece is rounded in its cup by fewer motions than the shop's trials call for.
	FewMotions
	// ManyMotions says that the piece is rounded in its cup by more motions than the shop's trials call for.
	ManyMotions
	// LongerThanGuides says that the piece comes out longer than the side guides stand apart.
	LongerThanGuides

	conditionEnd // one past the last
)

// The longest lists: parts of a line, and trials and pieces noted by hand.
const (
	mostParts  = 100
	mostTrials = 10_000
)

// words is the vocabulary of [Conditions].
type words struct{}

func (words) Conditions() []reckon.Note { return conditions[:] }

var conditions = [...]reckon.Note{
	{Word: "between-drums", Says: "The piece lies between two drums: try both and keep the one that rounds it."},
	{Word: "drum-too-small", Says: "The piece fills the cup more than is good, and no drum here has a larger one: scale it lighter, or get a drum with cups that suit it."},
	{Word: "drum-too-large", Says: "The piece is loose in the cup, and no drum here that takes it has a smaller one: scale it heavier, or get a drum with cups that suit it."},
	{Word: "under-rounded", Says: "The piece is rounded less than your trials call for: slow the drum or lengthen the travel."},
	{Word: "over-rounded", Says: "The piece is rounded more than your trials call for and its skin may tear: run the drum faster or shorten the travel."},
	{Word: "deep-reduction", Says: "The sheet is reduced by more than the dough's limit in one pass: open the gap or share the work."},
	{Word: "few-turns", Says: "The piece makes fewer turns than is usual: close the gap for a longer, thinner sheet."},
	{Word: "many-turns", Says: "The piece makes more turns than is usual: look at the sheet and at a cut piece, and keep it as long as the sheet does not tear."},
	{Word: "seam-open", Says: "The piece turns too little under the board to close its seam: lengthen the board, lower it or roll a thinner piece."},
	{Word: "pan-overfull", Says: "The piece outgrows the pan: scale it lighter, take a larger pan or proof it less."},
	{Word: "pan-underfull", Says: "The piece does not fill the pan: scale it heavier, take a smaller pan or proof it longer."},
	{Word: "between-settings", Says: "The piece lies near the border of two settings: try both and keep the one that works."},
	{Word: "risk-of-doubles", Says: "Pieces may touch on the belt: run the belt faster or the divider slower."},
	{Word: "out-of-step", Says: "The two machines drift against each other: set the speed again or link the drives."},
	{Word: "tear-untried", Says: "How thin this dough can be sheeted is not known: try thinner sheets until one tears, and keep the thinnest that holds."},
	{Word: "sheet-may-tear", Says: "The sheet is thinner than any that held in your trials: open the gap."},
	{Word: "no-grip", Says: "The rollers do not draw in a piece this thick: flatten it in front of them, open the gap or dust less, and never push it in."},
	{Word: "hot-for-part", Says: "The water is too warm for this part: let it cool, or the part may warp or come apart."},
	{Word: "few-motions", Says: "The piece is worked in its cup by fewer motions than your trials call for: run the rounder faster; a slower line does the same."},
	{Word: "many-motions", Says: "The piece is worked in its cup by more motions than your trials call for and its skin may tear: run the rounder slower."},
	{Word: "longer-than-guides", Says: "The piece is taken to come out longer than the guides stand apart; dough draws back behind them, and only a slack one spreads: measure pieces that have come to rest."},
}

// Every condition has its note, or this does not compile.
var _ [1]struct{} = [conditionEnd >> (reckon.FirstOwn + len(conditions))]struct{}{}
