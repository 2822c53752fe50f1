package proof

import (
	"fmt"
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Lanes asks how many passes each lane of an overhead proofer makes, how far it
// travels and how long it stays, with any pattern of transfers:
//
//	n_i passes of lane i through the P pockets, T_i = F + (n_i - 2)*N + L
//	v = S * r, t_i = T_i / v * 60, t = sum(T_i) / a / v * 60
//	t_min = min(t_i), t_max = max(t_i)
//	R = S * a, I = sum(ceil(T_i / r))
//
// with a lanes, their passes counted along the pattern, and the other symbols of
// [Dwell]. A piece of one pass travels from the chute straight to the discharge:
// T_i = F + L, less N if that exceeds N. The mean dwell t is the pieces inside
// over the rate, however much the lanes differ.
//
// It is exact for a chain that carries every tray past the chute, the transfer
// and the discharge in turn. A tray that is due at the same place at the same
// moment is emptied first, then tipped, then loaded. A pattern in which two
// pieces meet in any run, however long, is refused: where trays_per_stroke is
// near a simple ratio but not at it, strokes and trays drift past each other,
// and every distance between two loads comes about that can. What is within
// the last digits of binary arithmetic counts as whole.
//
// It is refused if:
//   - first_pass_trays or last_pass_trays exceeds the trays,
//   - load names no pocket, a pocket twice or one that is not there,
//   - next does not have one entry for each pocket, or names a pocket that is not there,
//   - the pattern sends a piece round endlessly or lets two pieces meet: the error names the tray and the lanes.
//
// Source: derived from the path of the trays; the usual pattern gives [Dwell].
//
// [Run] follows the same pattern pocket by pocket.
type Lanes struct {
	Proofer Proofer         `json:"proofer"`                                                     // the overhead proofer
	Load    []int           `json:"load" range:"-" items:"..200"`                                // pockets that a stroke drops into, counted from 1, each once
	Next    []int           `json:"next,omitzero" range:"-" items:"..200"`                       // for each pocket in turn, the pocket that a piece is tipped into when it comes round, 0 when it leaves; leave out for the usual pattern, on by as many pockets as are loaded
	Strokes unit.StrokeRate `json:"strokes" sym:"S" range:"0.01 strokes/min..10000 strokes/min"` // speed of the divider
}

// Lane is what a piece that is dropped into one pocket meets.
type Lane struct {
	Pocket         int           `json:"pocket"`                    // pocket that it is dropped into
	Passes         int           `json:"passes" sym:"n_#"`          // times it goes round
	TraysTravelled int           `json:"trays_travelled" sym:"T_#"` // trays travelled
	LastPocket     int           `json:"last_pocket"`               // pocket that it leaves from
	Dwell          unit.Duration `json:"dwell" sym:"t_#"`           // time in the proofer
}

// LanesResult is the time in the proofer, lane by lane.
type LanesResult struct {
	Lanes      []Lane          `json:"lanes"`                // one for each pocket loaded, in the order of load
	Shortest   unit.Duration   `json:"shortest" sym:"t_min"` // shortest dwell of a lane; where lanes differ, pieces leave in another order than they came
	Longest    unit.Duration   `json:"longest" sym:"t_max"`  // longest dwell of a lane
	MeanDwell  unit.Duration   `json:"mean_dwell" sym:"t"`   // mean over the lanes
	PieceRate  unit.PieceRate  `json:"piece_rate" sym:"R"`   // pieces in, and out once full
	Inside     int             `json:"inside" sym:"I"`       // most pieces inside at once, counted just after a stroke
	Conditions Conditions      `json:"conditions"`           // part-pass
	Cautions   reckon.Cautions `json:"cautions"`             // moving-machinery
}

func (Lanes) ID() string { return "proofer-lanes" }

func (q Lanes) Check(c *reckon.Checks) { q.check(c) }

// check returns the pattern as well, if nothing is wrong with it.
func (q *Lanes) check(c *reckon.Checks) (t pattern) {
	mark := c.Mark()
	q.Proofer.Check(c)
	c.Under(mark, "proofer")
	reckon.CheckItems(c, "load", len(q.Load), maxPockets)
	reckon.CheckItems(c, "next", len(q.Next), maxPockets)
	if c.Mark() == mark {
		t = newPattern(c, q.Proofer, q.Load, q.Next)
	}
	reckon.CheckRange(c, "strokes", q.Strokes, minStrokes, maxStrokes)
	return t
}

func (q Lanes) Solve() (LanesResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q Lanes) Append(dst []Lane) (out LanesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	t := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out = LanesResult{PieceRate: unit.PieceRate(float64(q.Strokes) * float64(len(q.Load))), Conditions: q.Proofer.conditions(), Cautions: reckon.MovingMachinery}
	trayRate := float64(q.Strokes) * q.Proofer.TraysPerStroke
	travelled := 0
	for i, pocket := range q.Load {
		var index [maxPockets + 1]uint8
		passes, last, _ := t.path(pocket, &index)
		lane := Lane{Pocket: pocket, Passes: passes, TraysTravelled: q.Proofer.travelled(passes), LastPocket: last}
		lane.Dwell = unit.Duration(float64(lane.TraysTravelled) / trayRate * 60)
		dst = append(dst, lane)
		out.Inside += ceil(float64(lane.TraysTravelled) / q.Proofer.TraysPerStroke)
		travelled += lane.TraysTravelled
		if i == 0 {
			out.Shortest = lane.Dwell
		}
		out.Shortest = min(out.Shortest, lane.Dwell)
		out.Longest = max(out.Longest, lane.Dwell)
	}
	out.Lanes = dst
	out.MeanDwell = unit.Duration(float64(travelled) / float64(len(q.Load)) / trayRate * 60)
	return out, nil
}

func (q Lanes) Show(w *reckon.Working, out LanesResult) {
	w.Inputs(q)
	q.Proofer.showFirst(w)
	w.Given("lanes", "a", float64(len(q.Load)), "", "pockets loaded by a stroke")
	w.Lines(out,
		"trays a minute: v = S*r in trays/min",
		"pieces a minute: R = S*a",
	)
	lanes := out.Lanes[len(out.Lanes)-len(q.Load):]
	for i, lane := range lanes {
		where := "lane from pocket " + strconv.Itoa(lane.Pocket)
		w.Given(where+", passes", "n_"+strconv.Itoa(i+1), float64(lane.Passes), "", "counted along the pattern")
		w.Item(i+1, lane,
			q.Proofer.travelLine(where+", trays travelled: T_#", "n_#", lane.Passes),
			where+", dwell: t_# = T_#/v*60{s/min}",
		)
	}
	if len(lanes) == 1 {
		w.Lines(out, "shortest dwell: t_min = t_1", "longest dwell: t_max = t_1")
	} else {
		w.Lines(out, "shortest dwell: t_min = min(t_#...)", "longest dwell: t_max = max(t_#...)")
	}
	w.Lines(out,
		"most pieces inside: I = sum(ceil(T_#/r))  [for each lane a piece for every r trays of travel]",
		"mean dwell: t = sum(T_#)/a/v*60{s/min}",
	)
}

// pattern is a way through the proofer. Pockets count from 1; 0 is outside.
type pattern struct {
	p     Proofer
	load  []int
	next  []int // nil: on by shift
	shift int
}

// to returns the pocket that a piece in pocket q is tipped into, 0 if it leaves.
func (t pattern) to(q int) int {
	if t.next != nil {
		return t.next[q-1]
	}
	if q+t.shift > t.p.Pockets {
		return 0
	}
	return q + t.shift
}

// path fills index with the pass, from 1, on which a piece dropped into pocket
// lane stands in each pocket, 0 for never. It returns the passes made and the
// last pocket, or ok false if the piece never leaves.
func (t pattern) path(lane int, index *[maxPockets + 1]uint8) (passes, last int, ok bool) {
	*index = [maxPockets + 1]uint8{}
	for q := lane; q != 0; q = t.to(q) {
		if index[q] != 0 {
			return passes, last, false
		}
		passes++
		index[q] = uint8(passes)
		last = q
	}
	return passes, last, true
}

// newPattern checks a pattern on a chain that is in order.
func newPattern(c *reckon.Checks, p Proofer, load, next []int) pattern {
	before := c.Mark()
	var seen [maxPockets + 1]bool
	if len(load) == 0 || len(load) > p.Pockets {
		c.Fail("load", strconv.Itoa(len(load))+" pockets", "1 to "+strconv.Itoa(p.Pockets)+" pockets")
		return pattern{}
	}
	for i, q := range load {
		switch {
		case q < 1 || q > p.Pockets:
			c.Fail(fmt.Sprintf("load[%d]", i), strconv.Itoa(q), "a pocket from 1 to "+strconv.Itoa(p.Pockets))
		case seen[q]:
			c.Fail(fmt.Sprintf("load[%d]", i), strconv.Itoa(q)+" again", "each pocket once")
		default:
			seen[q] = true
		}
	}
	if next != nil && len(next) != p.Pockets {
		c.Fail("next", strconv.Itoa(len(next))+" entries", "one for each of the "+strconv.Itoa(p.Pockets)+" pockets")
		return pattern{}
	}
	for i, q := range next {
		if q < 0 || q > p.Pockets {
			c.Fail(fmt.Sprintf("next[%d]", i), strconv.Itoa(q), "a pocket from 1 to "+strconv.Itoa(p.Pockets)+", or 0 if the piece leaves")
		}
	}
	t := pattern{p: p, load: load, next: next, shift: len(load)}
	if c.Mark() == before {
		t.checkMeetings(c)
	}
	return t
}

// stay returns the stretch of chain, from and to in trays since loading, over
// which a piece that makes n passes stands in its pocket of pass i.
func (t pattern) stay(i, n int) (from, to int) {
	if i > 1 {
		from = t.p.travelled(i) - t.p.LastPassTrays
	}
	if i == n {
		return from, t.p.travelled(n)
	}
	return from, t.p.first() + (i-1)*t.p.Trays
}

// checkMeetings refuses a pattern in which a piece never leaves, or two meet.
// Two that meet go on together, so that it is enough to look where their ways join.
func (t pattern) checkMeetings(c *reckon.Checks) {
	var a, b [maxPockets + 1]uint8
	for i, laneB := range t.load {
		passesB, last, ok := t.path(laneB, &b)
		if !ok {
			c.Fail("next", fmt.Sprintf("an endless round: lane %d comes from pocket %d back to pocket %d", laneB, last, t.to(last)),
				"a pattern in which every piece leaves: 0 for the last pocket")
			return
		}
		for _, laneA := range t.load[:i] {
			passesA, _, _ := t.path(laneA, &a)
			q := laneA
			for q != 0 && b[q] == 0 {
				q = t.to(q)
			}
			if q == 0 {
				continue // their ways stay apart
			}
			if tray, meet := t.meet(int(a[q]), passesA, int(b[q]), passesB); meet {
				where := "tray " + strconv.Itoa(tray)
				if tray == 0 {
					where = "a tray, in a long run"
				}
				c.Fail("next", fmt.Sprintf("two pieces in pocket %d of %s: lane %d on pass %d and lane %d on pass %d", q, where, laneA, a[q], laneB, b[q]),
					"a pattern in which no two pieces meet: send one of the two lanes another way")
				return
			}
		}
	}
}

// meet reports whether the piece of one lane, on its i-th of m passes, and one
// of another lane, on its j-th of n, are ever in the same pocket together, and
// on which tray first, 0 if that takes a long run. They are if their stays
// overlap when the second is loaded a number of rounds after the first, and a
// tray is loaded again after just so many rounds.
func (t pattern) meet(i, m, j, n int) (tray int, meet bool) {
	fromA, toA := t.stay(i, m)
	fromB, toB := t.stay(j, n)
	for rounds := i - j - 1; rounds <= i-j+1; rounds++ {
		later := rounds * t.p.Trays
		if max(fromA, fromB+later) < min(toA, toB+later) {
			if tray, again := t.loadedAgain(later); again {
				return tray, true
			}
		}
	}
	return 0, false
}

// loadedAgain reports whether some tray is loaded twice, so many trays of
// travel apart, and which is the first, 0 if that takes a long run.
//
// With m strokes between them the two loads are m*r trays apart if that is
// whole. If not, they are floor(m*r) or ceil(m*r) apart, and both happen: a
// stroke waits for its tray for a part w of a tray, and the distance is the
// larger one as long as w is below the fraction of m*r. The first stroke waits
// for none. And as the strokes go on, w takes every value that r allows: all
// multiples of 1/s below 1 if r is a whole number over s, in which the fraction
// of m*r is one of them, and values as close to 1 as one likes if it is not.
func (t pattern) loadedAgain(apart int) (tray int, again bool) {
	r := t.p.TraysPerStroke
	d := math.Abs(float64(apart))
	for _, m := range [...]float64{math.Floor(d / r), math.Ceil(d / r)} {
		if apart := m * r; down(apart) != d && up(apart) != d {
			continue
		}
		// Most distances are found among the first strokes.
		const tries = 1000
		for k := range tries {
			at := t.p.tray(k)
			if t.p.tray(k+int(m))-at == d {
				return int(at)%t.p.Trays + 1, true
			}
		}
		return 0, true
	}
	return 0, false
}
