package proof

import (
	"iter"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// EventKind names what happens to a piece in a pocket.
type EventKind uint8

// The events.
const (
	EventIn     EventKind = iota + 1 // the piece drops into its first pocket
	EventMoved                       // it is tipped into another pocket
	EventOut                         // it leaves
	EventStuck                       // it should have been tipped, and stays
	EventDouble                      // it comes into a pocket that is taken, and sticks to what is there
)

// String returns "in", "moved", "out", "stuck" or "double".
func (k EventKind) String() string {
	if k < EventIn || k > EventDouble {
		return "event " + strconv.Itoa(int(k))
	}
	return [...]string{"in", "moved", "out", "stuck", "double"}[k-EventIn]
}

// Event is one thing that happens to one piece.
type Event struct {
	At     unit.Duration // from the first stroke
	Dwell  unit.Duration // how long the piece has been inside, stops included
	Piece  int           // number of the piece, from 1 in the order dropped
	Stroke int           // stroke that dropped it, from 1
	Lane   int           // which piece of the stroke, from 1
	Tray   int           // tray that carries it, from 1
	Pocket int           // pocket that it is in, or leaves, from 1
	Pass   int           // pass that it is on after the event, from 1
	Kind   EventKind
}

// Events gives every event of the run that the result sums up, in the order of
// time, one by one as they are asked for. It keeps no more than the pockets of
// the proofer, however long the run. The sequence can be used again.
//
// The error is that of Solve.
func (q Run) Events() (iter.Seq[Event], error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return nil, c.Err()
	}
	return func(yield func(Event) bool) {
		c := reckon.Checks{Func: q.ID()}
		t := q.check(&c)
		if !c.OK() {
			return // the caller has changed the lists since
		}
		newMachine(&q, t).play(yield)
	}, nil
}
