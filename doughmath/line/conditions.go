package line

import "example.com/dough/doughmath/reckon"

// Conditions is a set of things to look at in a plan as a whole. The stations
// have their own: [reckon.Remarks] lists all of them.
type Conditions = reckon.Set[words]

// words is the vocabulary of [Conditions]: the general words are enough.
type words struct{}

func (words) Conditions() []reckon.Note { return nil }
