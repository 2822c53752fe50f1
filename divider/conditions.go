package divider

import "example.com/dough/doughmath/reckon"

// Conditions is a set of things to look at in an answer of this station: the
// general ones of [reckon.Set] and those below. Each has a word for programs,
// which stays the same, and a sentence for people.
type Conditions = reckon.Set[words]

const (
	// MarkOutOfRange says that the mark lies off the scale of the handle.
	MarkOutOfRange Conditions = 1 << (reckon.FirstOwn + iota)
	// LackOfFit says that the trial weights miss the fitted curve by more than their own scatter.
	LackOfFit
	// TurnsBack says that a fitted curve turns within the data, so that one weight has two marks.
	TurnsBack
	// WideInterval says that the interval is wider than the tolerance.
	WideInterval
	// NoMoveWarranted says that the difference is within the scatter, or within the limit given.
	NoMoveWarranted
	// WeighMore says that more pieces must be weighed before a decision.
	WeighMore
	// LongHopperTime says that dough stands in the hopper longer than the limit given.
	LongHopperTime
	// SlowerThanMachine says that the machine cannot run as slowly as asked.
	SlowerThanMachine
	// LanesUneven says that the lanes of a machine differ by more than their scatter.
	LanesUneven
	// OutOfControl says that a chart signals a change of the process.
	OutOfControl
	// NotCapable says that the pieces scatter too much for the tolerance.
	NotCapable
	// BelowLabel says that pieces fall below the weight that the rule requires.
	BelowLabel
	// AboveLimit says that pieces weigh more than the rule allows.
	AboveLimit
	// RuleSetDated says that the rule set must be checked against the edition in force.
	RuleSetDated
	// MarkOutsideInterval says that the mark to set lies outside the interval of the mark wanted.
	MarkOutsideInterval
	// LightRunOut says that the last pieces of a run are drawn from too little dough.
	LightRunOut
	// Correlated says that neighbouring weighings resemble one another.
	Correlated
	// FinerThanUsable says that the mean need not be known as well as asked for.
	FinerThanUsable
	// FreshSubgroup says that a subgroup tells nothing of the mark, and another is to be weighed.
	FreshSubgroup

	conditionEnd // one past the last
)

// words is the vocabulary of [Conditions].
type words struct{}

func (words) Conditions() []reckon.Note { return conditions[:] }

var conditions = [...]reckon.Note{
	{Word: "mark-out-of-range", Says: "The mark lies off the scale of the handle."},
	{Word: "lack-of-fit", Says: "The trial weights miss the fitted curve by more than their own scatter: try the quadratic shape, or weigh again."},
	{Word: "turns-back", Says: "The fitted curve turns within the marks weighed: weigh the doubtful marks again, or fit a straight line."},
	{Word: "wide-interval", Says: "The interval is wider than the tolerance: weigh more pieces."},
	{Word: "no-move-warranted", Says: "The difference is within the scatter of the pieces, or within the limit: leave the handle where it is."},
	{Word: "weigh-more", Says: "Weigh more pieces before you decide."},
	{Word: "long-hopper-time", Says: "The dough stands in the hopper longer than the limit: mix smaller batches, or run faster."},
	{Word: "slower-than-machine", Says: "The machine cannot run this slowly: let it stand between batches, or cut fewer pieces across."},
	{Word: "lanes-uneven", Says: "The lanes differ by more than their scatter: the handle cannot correct that; have the chambers checked."},
	{Word: "out-of-control", Says: "The chart signals a change: look for the cause before you move the handle."},
	{Word: "not-capable", Says: "The pieces scatter too much for the tolerance."},
	{Word: "below-label", Says: "Pieces fall below the weight that the rule requires."},
	{Word: "above-limit", Says: "Pieces weigh more than the rule allows."},
	{Word: "rule-set-dated", Says: "Check this rule set against the edition in force; the local authority decides."},
	{Word: "mark-outside-interval", Says: "The handle cannot be set within the interval of the mark: the pieces will miss the weight by more than is uncertain. Judge by the weight expected at the mark set."},
	{Word: "light-run-out", Says: "The last pieces of the run are drawn from less dough than the hopper needs and scale light: weigh each of them, or set the last of the dough aside."},
	{Word: "correlated", Says: "Neighbouring weighings resemble one another, so that they tell less than as many independent pieces: weigh pieces that lie further apart, or count the correlation with weighing-correlation."},
	{Word: "finer-than-usable", Says: "The half-width asked for is finer than half a step of the handle, or half a division of the scale: no more pieces are weighed than these can use."},
	{Word: "fresh-subgroup", Says: "This subgroup says nothing of the mark: leave the handle alone, find the cause, and weigh a fresh subgroup."},
}

// Every condition has its note, or this does not compile.
var _ [1]struct{} = [conditionEnd >> (reckon.FirstOwn + len(conditions))]struct{}{}
