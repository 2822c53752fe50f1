package line

import "example.com/dough/doughmath/reckon"

// Conditions is a set of things to look at in an answer of the line as a whole. The stations
// have their own: [reckon.Remarks] lists all of them.
type Conditions = reckon.Set[words]

const (
	// Contradictory says that two controls cannot stand so together.
	Contradictory Conditions = 1 << (reckon.FirstOwn + iota)
	// NotProven says that a shorter way through the work was not ruled out.
	NotProven
	// AllergensUnknown says that a product does not say which allergens it contains.
	AllergensUnknown
	// CarriedOver says that an allergen of the product before is not in the next.
	CarriedOver
	// NothingCleaned says that an allergen would be carried over and the line names no cleaning for it.
	NothingCleaned
	// FewRuns says that there are too few good runs to see scatter or drift.
	FewRuns
	// OutsideGood says that a setting of today's plan lies outside what was good.
	OutsideGood
	// Drifting says that a setting as run has moved one way from run to run.
	Drifting
	// ChangedSince says that the line, the product or the day differs from the last good run.
	ChangedSince
	// Late says that something is done after its due time.
	Late
	// RacksShort says that more racks are in the final proof at once than there are.
	RacksShort
	// NothingFound says that nothing that was measured is off.
	NothingFound
	// MoreThanOne says that more than one thing is off.
	MoreThanOne
	// FreshFirst says that the pieces weighed say nothing of the mark.
	FreshFirst
	// NoWindow says that no settings work at the product's number across.
	NoWindow
	// AimMissed says that no settings reach the aim of the order.
	AimMissed

	conditionEnd // one past the last
)

// words is the vocabulary of [Conditions].
type words struct{}

func (words) Conditions() []reckon.Note { return conditions[:] }

var conditions = [...]reckon.Note{
	{Word: "contradiction", Says: "Two controls cannot stand so together: mend that before anything runs."},
	{Word: "not-proven", Says: "The order is good, but perhaps not the best: the search ended before every better one was ruled out. The least that any order could come to says how much there may be to gain."},
	{Word: "allergens-unknown", Says: "A product does not say which allergens it contains: they were not compared, so clean as for an allergen that must not be carried over."},
	{Word: "carried-over", Says: "The product before contains an allergen that the next does not: clean as your food-safety plan says, and have it checked before the next dough is tipped."},
	{Word: "nothing-cleaned", Says: "An allergen would be carried over and the line names nothing to be cleaned for it: add the cleaning of your food-safety plan."},
	{Word: "few-runs", Says: "There are fewer than three good runs: how far they scatter says little."},
	{Word: "outside-good", Says: "The plan sets a control outside what was good before: see what has changed, and start from the run that was good."},
	{Word: "drifting", Says: "A control as run has moved one way from run to run: look for what wears or creeps before you follow it."},
	{Word: "changed-since", Says: "The line, the product or the day differs from the last good run: its settings may not fit."},
	{Word: "late", Says: "Something is done after its due time: tell whoever waits for it, or change the day."},
	{Word: "racks-short", Says: "More racks may be in the final proof at once than there are: the line would wait for one."},
	{Word: "nothing-found", Says: "Nothing that was measured is off: change nothing before you have measured or seen more."},
	{Word: "more-than-one", Says: "More than one thing is off: change one, the first, and look again before the next."},
	{Word: "fresh-subgroup-first", Says: "The pieces weighed are not whole, or scatter otherwise than before: leave the handle alone and weigh a fresh subgroup once you know why."},
	{Word: "no-window", Says: "No speed, batch and gap work at this number across: see which limits exclude one another, and how far one of them would have to move."},
	{Word: "aim-missed", Says: "No settings that work reach the aim of the order: see by how much the best misses it, and which limit to move."},
}

// Every condition has its note, or this does not compile.
var _ [1]struct{} = [conditionEnd >> (reckon.FirstOwn + len(conditions))]struct{}{}
