package proof

import (
	"fmt"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

const (
	// maxRunPockets limits the memory of a run, maxRunTrays its length.
	maxRunPockets = 1_000_000
	maxRunTrays   = 20_000_000
	maxRunVisits  = 200_000_000 // pockets past the transfer
	maxActs       = 1000
	maxFaults     = 10_000
	// The latest time of an act is a year.
	maxRunTime = 365 * maxDwell
)

// ActKind names what is done to the machines during a run.
type ActKind string

// The acts. Divider and proofer run together, so stop, start and speed act on both.
const (
	ActStop       ActKind = "stop"        // both machines stop; pieces inside stay
	ActStart      ActKind = "start"       // both machines run on
	ActSpeed      ActKind = "speed"       // both machines change to Strokes
	ActScalingOff ActKind = "scaling-off" // both run on, no dough is scaled; the oil is shut
	ActScalingOn  ActKind = "scaling-on"  // dough is scaled again
	ActLanes      ActKind = "lanes"       // from now on Across pieces a stroke, and transfers move pieces on by as many pockets
)

// Act is something done at a time during a run.
type Act struct {
	At      unit.Duration   `json:"at" range:">0 s..365 d"`                                       // time from the first stroke, in order; a stroke at the very moment comes first
	Do      ActKind         `json:"do"`                                                           // "stop", "start", "speed", "scaling-off", "scaling-on" or "lanes"
	Strokes unit.StrokeRate `json:"strokes,omitzero" range:"0.01 strokes/min..10000 strokes/min"` // the new speed, only with "speed"
	Across  int             `json:"across,omitzero" range:"-"`                                    // the new number across, only with "lanes"; must divide the pockets evenly
}

// FaultKind names what goes wrong with one piece.
type FaultKind string

const (
	// FaultMissing is a piece that the divider did not deliver.
	FaultMissing FaultKind = "missing"
	// FaultJam is a piece that does not tip out of its pocket. It stays, and
	// so does every piece that is later dropped on it, until a person takes them out.
	FaultJam FaultKind = "jam"
)

// Fault is something that goes wrong with one piece.
type Fault struct {
	Kind   FaultKind `json:"kind"`                        // "missing" or "jam"
	Stroke int       `json:"stroke" range:"1..100000000"` // stroke that drops the piece, counted from 1 with the empty ones; in order, up to the last stroke of the run where that is known beforehand
	Lane   int       `json:"lane" range:"-"`              // which piece of the stroke, from 1 to the number across
	Pass   int       `json:"pass,omitzero" range:"-"`     // only with "jam": the pass at whose end it does not tip, from 1 to the passes of its lane
}

// Run asks what happens in a run through the overhead proofer, followed pocket
// by pocket: with stops, speed changes, scaling off, lane changes, missing
// pieces and jams:
//
//	N trays of P pockets, the transfer F and the discharge F + L trays from the chute
//	stroke k, counted from 0, falls into tray ceil(k * r)
//	S * r trays a minute pass the chute while the machines run
//	counted: m pieces in, n out, s = m - n inside at the end of the log, I at most
//	         n_m missing, n_s stuck, n_d doubles, n_x mixed, n_u faults unmet, E events
//	timed:   t_1 first piece out, t_2 last in, t_3 last out, t_4 to clear out
//	         dwells from t_min to t_max, t on average
//
// It is the independent check of [Dwell], [Lanes] and [Clear], which it meets
// to the last digit in a steady run.
//
// The run starts with the machines running and scaling on. After the last act
// it goes on until the proofer is empty, or ends there if the machines stand.
// The next product may be loaded at once if it has the same number across;
// otherwise when the proofer is empty: at the last piece out, or, if the
// machines stand, after clear_out of running.
//
// A piece that comes into a pocket that is taken sticks to what is there and
// goes on with it; both count as pieces, with the dwell of the one that was there
// first. A jammed piece stays, with all that is dropped on it.
//
// A fault that cannot happen is refused: a lane that is never loaded, a pass
// that its lane does not make, and, if all pieces are dropped without a break
// (no act but stops that are followed by starts, and speeds), a stroke or lane
// after the last piece. With lanes that change, a pass is refused if no piece
// makes so many. What depends on the log beyond that is counted in unmet.
//
// Only what stands inside at the end raises a condition. Pieces that are mixed,
// doubled or stuck, and faults unmet, raise none: read their counts.
//
// It is refused if:
//   - the proofer or the pattern is refused in [Lanes],
//   - the proofer has more than a million pockets in all,
//   - acts or faults are out of order, incomplete or name what is not there,
//   - a fault cannot happen,
//   - nothing ever ends the scaling, or the run is longer than 20 million trays.
//
// Source: derived from the path of the trays; common practice (divider and
// proofer start, stop and change speed together).
//
// [Run.Events] gives every event.
type Run struct {
	Proofer Proofer         `json:"proofer"`                                                     // the overhead proofer, at most a million pockets in all
	Across  int             `json:"across" range:"-"`                                            // pieces dropped by one stroke; must divide the pockets evenly unless load and next are given
	Load    []int           `json:"load,omitzero" range:"-" items:"..200"`                       // pockets that a stroke drops into, as in [Lanes]; leave out for pockets 1 to across
	Next    []int           `json:"next,omitzero" range:"-" items:"..200"`                       // where pieces are tipped, as in [Lanes]; leave out for the usual pattern
	Strokes unit.StrokeRate `json:"strokes" sym:"S" range:"0.01 strokes/min..10000 strokes/min"` // speed at the start
	Pieces  int             `json:"pieces,omitzero" range:"1..100000000"`                        // pieces after which scaling goes off by itself; leave out if an act ends the scaling
	Acts    []Act           `json:"acts,omitzero" items:"0..1000"`                               // what is done, in the order of time
	Faults  []Fault         `json:"faults,omitzero" items:"0..10000"`                            // what goes wrong, in the order of strokes
}

// RunResult is what happened in a run.
type RunResult struct {
	PiecesIn     int             `json:"pieces_in" sym:"m"`     // pieces dropped into the proofer
	PiecesOut    int             `json:"pieces_out" sym:"n"`    // pieces that left it by the end of the log
	Missing      int             `json:"missing" sym:"n_m"`     // pieces that the divider did not deliver
	Stuck        int             `json:"stuck" sym:"n_s"`       // pieces that jammed, or came to lie on one that did, and are among the stranded; above 0, a person must take them out with the machines locked out: running on does not bring them out
	Doubles      int             `json:"doubles" sym:"n_d"`     // pieces that came into a pocket that was taken; above 0, take what sticks together out before the next station
	Mixed        int             `json:"mixed" sym:"n_x"`       // pieces that were inside when the lanes changed, so that they leave by other lanes or at other times than planned; above 0, put an act that turns scaling off, and the clear-out, before that of the lanes
	Unmet        int             `json:"unmet" sym:"n_u"`       // faults that did not come about within the log: no piece was dropped by that stroke in that lane, or it did not get to that pass or lay on another there; above 0, the run says nothing of them, so check their strokes, lanes and passes
	Stranded     int             `json:"stranded" sym:"s"`      // pieces inside at the end of the log, stuck ones included
	MostInside   int             `json:"most_inside" sym:"I"`   // most pieces inside at once, counted just after a stroke
	PocketEvents int             `json:"pocket_events" sym:"E"` // drops, tips and exits followed
	FirstOut     unit.Duration   `json:"first_out" sym:"t_1"`   // from the first stroke until the first piece left; 0 if none did
	LastIn       unit.Duration   `json:"last_in" sym:"t_2"`     // from the first stroke to the last that dropped a piece
	LastOut      unit.Duration   `json:"last_out" sym:"t_3"`    // from the first stroke until the last piece left, within the log
	Shortest     unit.Duration   `json:"shortest" sym:"t_min"`  // shortest dwell of a piece that left
	Longest      unit.Duration   `json:"longest" sym:"t_max"`   // longest dwell of a piece that left
	MeanDwell    unit.Duration   `json:"mean_dwell" sym:"t"`    // mean dwell of the pieces that left
	ClearOut     unit.Duration   `json:"clear_out" sym:"t_4"`   // how long the machines run with scaling off to empty the proofer: from a restart if the log ends stopped, else from the last stroke that dropped a piece; the next product has to wait that long if it is loaded another number across
	Conditions   Conditions      `json:"conditions"`            // pieces-stranded, part-pass
	Cautions     reckon.Cautions `json:"cautions"`              // moving-machinery, oil-slip, locked-out, running-drive
}

func (Run) ID() string { return "proofer-run" }

func (q Run) Check(c *reckon.Checks) { q.check(c) }

// check returns the pattern as well.
func (q *Run) check(c *reckon.Checks) pattern {
	t := pattern{}
	before := c.Mark()
	q.Proofer.Check(c)
	chain := c.Mark() == before
	c.Under(before, "proofer")
	reckon.CheckItems(c, "load", len(q.Load), maxPockets)
	reckon.CheckItems(c, "next", len(q.Next), maxPockets)
	switch {
	case q.Load == nil && q.Next == nil:
		q.Proofer.checkLanes(c, "across", q.Across)
	case q.Load == nil:
		reckon.CheckCount(c, "across", q.Across, 1, max(1, q.Proofer.Pockets))
	case len(q.Load) != q.Across:
		c.Fail("across", strconv.Itoa(q.Across), "the number of pockets in load, "+strconv.Itoa(len(q.Load)))
	}
	if c.Mark() == before {
		load := q.Load
		if load == nil {
			load = firstPockets(q.Across)
		}
		t = newPattern(c, q.Proofer, load, q.Next)
	}
	if chain && q.Proofer.Pockets*q.Proofer.Trays > maxRunPockets {
		c.Fail("proofer.trays", strconv.Itoa(q.Proofer.Trays), "at most "+strconv.Itoa(maxRunPockets/q.Proofer.Pockets)+" trays, a million pockets in all")
	}
	reckon.CheckRange(c, "strokes", q.Strokes, minStrokes, maxStrokes)
	if q.Pieces != 0 {
		reckon.CheckCount(c, "pieces", q.Pieces, 1, maxPieces)
	}
	if len(q.Acts) > maxActs {
		c.Fail("acts", strconv.Itoa(len(q.Acts))+" acts", "at most "+strconv.Itoa(maxActs))
	}
	if len(q.Faults) > maxFaults {
		c.Fail("faults", strconv.Itoa(len(q.Faults))+" faults", "at most "+strconv.Itoa(maxFaults))
	}
	if c.Mark() > before {
		return t
	}
	q.checkActs(c)
	q.checkFaults(c, t)
	if c.Mark() == before && q.unbroken() {
		q.checkDropped(c)
	}
	return t
}

// firstPockets returns the pockets 1 to n.
func firstPockets(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i + 1
	}
	return out
}

// checkActs checks the log and that the run comes to an end.
func (q *Run) checkActs(c *reckon.Checks) {
	running, scaling, speed, last := true, true, float64(q.Strokes), 0.0
	trays := 0.0
	few := q.Across
	before := c.Mark()
	for i := range q.Acts {
		a := &q.Acts[i]
		mark := c.Mark()
		at := float64(a.At)
		if !(at > 0 && at >= last && a.At <= maxRunTime) {
			c.Fail("at", a.At.String(), "a time above 0 and within a year, not before that of the previous act")
			c.Item(mark, "acts", i)
			return
		}
		if running {
			trays += float64((at - last) / 60 * speed * q.Proofer.TraysPerStroke)
		}
		last = at
		q.checkAct(c, a)
		c.Item(mark, "acts", i)
		switch a.Do {
		case ActSpeed:
			speed = float64(a.Strokes)
		case ActLanes:
			few = min(few, a.Across)
		case ActStop:
			running = false
		case ActStart:
			running = true
		case ActScalingOff:
			scaling = false
		case ActScalingOn:
			scaling = true
		}
	}
	if c.Mark() > before {
		return
	}
	if running && scaling {
		if q.Pieces == 0 {
			c.Fail("pieces", "not given", "a number of pieces, or acts that end with scaling off or a stop: the run would never end")
			return
		}
		trays += float64(float64(q.Pieces+len(q.Faults)) / float64(few) * q.Proofer.TraysPerStroke)
	}
	// The clear-out comes on top.
	trays += float64((q.Proofer.Pockets + 2) * q.Proofer.Trays)
	if most := min(maxRunTrays, maxRunVisits/q.Proofer.Pockets); trays > float64(most) {
		c.Fail("acts", fmt.Sprintf("a run of %.0f trays", trays), "at most "+strconv.Itoa(most)+" trays: cut the run into parts")
	}
}

// checkAct checks what is done, apart from when.
func (q *Run) checkAct(c *reckon.Checks, a *Act) {
	reckon.CheckWord(c, "do", a.Do, ActStop, ActStart, ActSpeed, ActScalingOff, ActScalingOn, ActLanes)
	switch {
	case a.Do == ActSpeed:
		reckon.CheckRange(c, "strokes", a.Strokes, minStrokes, maxStrokes)
	case a.Strokes != 0:
		c.Fail("strokes", a.Strokes.String(), "nothing: it goes with \"speed\" only")
	}
	switch {
	case a.Do == ActLanes && (q.Load != nil || q.Next != nil):
		c.Fail("do", strconv.Quote(string(a.Do)), "another act: lanes change only in the usual pattern, without load and next")
	case a.Do == ActLanes:
		q.Proofer.checkLanes(c, "across", a.Across)
	case a.Across != 0:
		c.Fail("across", strconv.Itoa(a.Across), "nothing: it goes with \"lanes\" only")
	}
}

// checkFaults checks the faults, and refuses those of which it is known
// beforehand that they do not come about.
func (q *Run) checkFaults(c *reckon.Checks, t pattern) {
	lanes, few := q.Across, q.Across
	for _, a := range q.Acts {
		if a.Do == ActLanes {
			lanes, few = max(lanes, a.Across), min(few, a.Across)
		}
	}
	stroke, lane := 1, 0
	for i, f := range q.Faults {
		mark := c.Mark()
		reckon.CheckEither(c, "kind", f.Kind, FaultMissing, FaultJam)
		placed := reckon.CheckCount(c, "stroke", f.Stroke, stroke, maxPieces)
		loaded := reckon.CheckCount(c, "lane", f.Lane, 1, lanes)
		switch {
		case f.Kind == FaultJam:
			most := q.Proofer.Pockets
			if lanes != few { // a piece makes the most passes if it moves on by the fewest pockets each time
				most = q.Proofer.Pockets / max(1, few)
			} else if loaded {
				var index [maxPockets + 1]uint8
				most, _, _ = t.path(t.load[f.Lane-1], &index)
			}
			reckon.CheckCount(c, "pass", f.Pass, 1, most)
		case f.Pass != 0:
			c.Fail("pass", strconv.Itoa(f.Pass), "nothing: it goes with \"jam\" only")
		}
		if f.Stroke == stroke && f.Lane <= lane {
			c.Fail("lane", strconv.Itoa(f.Lane), "one fault for each piece, lanes in order within a stroke")
		}
		c.Item(mark, "faults", i)
		if placed {
			stroke, lane = f.Stroke, f.Lane
		}
	}
}

func (q Run) Solve() (out RunResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	t := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	m := newMachine(&q, t)
	m.play(nil)
	return m.result(), nil
}

// Show counts: nothing but the last step can be keyed in.
func (q Run) Show(w *reckon.Working, out RunResult) {
	w.Inputs(q)
	w.Heading("Counted pocket by pocket")
	w.Found(out, "pocket by pocket")
	w.Lines(out, "pieces inside at the end of the log: s = m - n")
}

// unbroken reports whether all pieces are dropped in a row: every stroke in the
// same lanes until the last piece is in. Of a run without a number of pieces that
// comes to an end none is.
func (q *Run) unbroken() bool {
	running := true
	for _, a := range q.Acts {
		switch a.Do {
		case ActStop:
			running = false
		case ActStart:
			running = true
		case ActSpeed:
		default:
			return false
		}
	}
	return running
}

// checkDropped refuses faults at strokes and in lanes that an unbroken run does
// not come to. Each missing piece is made up for by one at the end.
func (q *Run) checkDropped(c *reckon.Checks) {
	places := q.Pieces
	for i, f := range q.Faults {
		// Strokes go to 1e8 and lanes to 200, more than an int of 32 bits holds.
		if place := float64(float64(f.Stroke-1)*float64(q.Across)) + float64(f.Lane); place > float64(places) {
			mark := c.Mark()
			if last := (places + q.Across - 1) / q.Across; f.Stroke > last {
				c.Fail("stroke", strconv.Itoa(f.Stroke), "1 to "+strconv.Itoa(last)+", the last stroke that drops a piece")
			} else {
				c.Fail("lane", strconv.Itoa(f.Lane), "1 to "+strconv.Itoa(places-(last-1)*q.Across)+", the lanes of the last stroke that drops a piece")
			}
			c.Item(mark, "faults", i)
			continue
		}
		if f.Kind == FaultMissing {
			places++
		}
	}
}
