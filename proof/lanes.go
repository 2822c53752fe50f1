package proof

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath"
)

// LanesInput is a proofer whose pieces move in a pattern of their own.
type LanesInput struct {
	Proofer        Proofer              `json:"proofer"`                   // the overhead proofer; last_pass_trays counts from the last transfer to the discharge
	FirstPassTrays int                  `json:"first_pass_trays,omitzero"` // trays from the chute to the transfer, 1 to Trays; leave out if the transfer stands at the chute, so that the first pass is whole
	Load           []int                `json:"load"`                      // pockets that a stroke drops into, counted from 1, each once
	Next           []int                `json:"next,omitzero"`             // for each pocket in turn, the pocket that a piece is tipped into when it comes round, 0 when it leaves; leave out for the usual pattern, on by as many pockets as are loaded
	Strokes        doughmath.StrokeRate `json:"strokes"`                   // speed of the divider, 0.01 to 10000 strokes/min
}

// Lane is what a piece that is dropped into one pocket meets.
type Lane struct {
	Pocket int                `json:"pocket"` // pocket that it is dropped into
	Passes int                `json:"passes"` // times it goes round
	Travel int                `json:"travel"` // trays travelled
	Last   int                `json:"last"`   // pocket that it leaves from
	Dwell  doughmath.Duration `json:"dwell"`  // time in the proofer
}

// LanesResult is the time in the proofer, lane by lane.
type LanesResult struct {
	Lanes      []Lane               `json:"lanes"`      // one for each pocket loaded, in the order of Load
	Shortest   doughmath.Duration   `json:"shortest"`   // shortest dwell of a lane; where lanes differ, pieces leave in another order than they came
	Longest    doughmath.Duration   `json:"longest"`    // longest dwell of a lane
	Mean       doughmath.Duration   `json:"mean"`       // mean over the lanes
	Rate       doughmath.PieceRate  `json:"rate"`       // pieces in, and out once full
	Inside     int                  `json:"inside"`     // most pieces inside at once, counted just after a stroke
	Conditions doughmath.Conditions `json:"conditions"` // part-pass
	Cautions   doughmath.Cautions   `json:"cautions"`   // moving-machinery
}

// Lanes returns the passes, the travel and the dwell of each lane of an
// overhead proofer with any pattern of transfers:
//
//	T = F + (n - 2)*N + L for n passes of two or more, t = T / (strokes * r)
//
// with F trays from the chute to the transfer, N on a full pass, L from the
// last transfer to the discharge, and r trays per stroke. A piece of one pass
// travels from the chute straight to the discharge. The mean dwell is the
// pieces inside over the rate, however much the lanes differ.
//
// It is exact for a chain that carries every tray past the chute, the transfer
// and the discharge in turn. A tray that is due at the same place at the same
// moment is emptied first, then tipped, then loaded.
//
// It returns an *[doughmath.InputError] if:
//   - pockets, trays, last_pass_trays, first_pass_trays or trays_per_stroke are out of their range,
//   - load names no pocket, a pocket twice or one that is not there,
//   - next has not one entry for each pocket, or names a pocket that is not there,
//   - the pattern sends a piece round for ever or lets two pieces meet: the error names the tray and the lanes,
//   - strokes is outside 0.01 to 10000 strokes/min.
//
// Source: derived from the path of the trays; the usual pattern gives [Dwell].
//
// [Run] follows the same pattern pocket by pocket; [ExplainLanes] shows the working.
func Lanes(in LanesInput, dst []Lane) (LanesResult, error) { return ExplainLanes(in, dst, nil) }

// pattern is a way through the proofer. Pockets count from 1; 0 is outside.
type pattern struct {
	p     Proofer
	first int // trays from chute to transfer
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

// discharge returns the trays from the chute to the discharge, 1 to Trays.
func (t pattern) discharge() int {
	d := t.first + t.p.LastPassTrays
	if d > t.p.Trays {
		d -= t.p.Trays
	}
	return d
}

// travel returns the trays travelled in n passes.
func (t pattern) travel(n int) int {
	if n == 1 {
		return t.discharge()
	}
	return t.first + (n-2)*t.p.Trays + t.p.LastPassTrays
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

// checkChain checks the trays and the pockets, whatever the pattern.
func checkChain(c *doughmath.Checks, p Proofer, first int) bool {
	before := c.OK()
	doughmath.CheckCount(c, "proofer.pockets", p.Pockets, 1, maxPockets)
	if doughmath.CheckCount(c, "proofer.trays", p.Trays, 1, maxTrays) {
		doughmath.CheckCount(c, "proofer.last_pass_trays", p.LastPassTrays, 1, p.Trays)
		if first != 0 {
			doughmath.CheckCount(c, "first_pass_trays", first, 1, p.Trays)
		}
	}
	doughmath.CheckRange(c, "proofer.trays_per_stroke", p.TraysPerStroke, 1, 100)
	return before && c.OK()
}

// newPattern checks a pattern on a chain that is in order.
func newPattern(c *doughmath.Checks, p Proofer, first int, load, next []int) pattern {
	if first == 0 {
		first = p.Trays
	}
	good := true
	var seen [maxPockets + 1]bool
	if len(load) == 0 || len(load) > p.Pockets {
		c.Fail("load", strconv.Itoa(len(load))+" pockets", "1 to "+strconv.Itoa(p.Pockets)+" pockets")
		return pattern{}
	}
	for i, q := range load {
		switch {
		case q < 1 || q > p.Pockets:
			c.Fail(fmt.Sprintf("load[%d]", i), strconv.Itoa(q), "a pocket from 1 to "+strconv.Itoa(p.Pockets))
			good = false
		case seen[q]:
			c.Fail(fmt.Sprintf("load[%d]", i), strconv.Itoa(q)+" again", "each pocket once")
			good = false
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
			good = false
		}
	}
	t := pattern{p: p, first: first, load: load, next: next, shift: len(load)}
	if good {
		t.checkMeetings(c)
	}
	return t
}

// stay returns the stretch of chain, from and to in trays since loading, over
// which a piece that makes n passes stands in its pocket of pass i.
func (t pattern) stay(i, n int) (from, to int) {
	if i > 1 {
		from = t.travel(i) - t.p.LastPassTrays
	}
	if i == n {
		return from, t.travel(n)
	}
	return from, t.first + (i-1)*t.p.Trays
}

// checkMeetings refuses a pattern in which a piece never leaves, or two meet.
func (t pattern) checkMeetings(c *doughmath.Checks) {
	var a, b [maxPockets + 1]uint8
	for i, laneB := range t.load {
		passesB, last, ok := t.path(laneB, &b)
		if !ok {
			c.Fail("next", fmt.Sprintf("a round without end: lane %d comes from pocket %d back to pocket %d", laneB, last, t.to(last)),
				"a pattern in which every piece leaves: 0 for the last pocket")
			return
		}
		for _, laneA := range t.load[:i] {
			passesA, _, _ := t.path(laneA, &a)
			for q := 1; q <= t.p.Pockets; q++ {
				if a[q] == 0 || b[q] == 0 {
					continue
				}
				if tray, meet := t.meet(int(a[q]), passesA, int(b[q]), passesB); meet {
					c.Fail("next", fmt.Sprintf("two pieces in pocket %d of tray %d: lane %d on pass %d and lane %d on pass %d", q, tray, laneA, a[q], laneB, b[q]),
						"a pattern in which no two pieces meet: send one of the two lanes another way")
					return
				}
			}
		}
	}
}

// meet reports whether the piece of one lane, on its i-th of m passes, and one
// of another lane, on its j-th of n, are ever in the same pocket together, and
// on which tray first. They are if their stays overlap when the second is
// loaded a number of rounds after the first, and a tray is loaded again after
// just so many rounds.
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
// travel apart, and which is the first.
func (t pattern) loadedAgain(apart int) (tray int, again bool) {
	// Some hundred strokes show every way in which strokes and trays can lie.
	const tries = 1000
	r := t.p.TraysPerStroke
	d := math.Abs(float64(apart))
	// Strokes q apart are floor(q*r) or ceil(q*r) trays apart.
	for _, q := range [...]float64{math.Floor(d / r), math.Ceil(d / r)} {
		if math.Floor(q*r) != d && math.Ceil(q*r) != d {
			continue
		}
		for k := range tries {
			at := math.Ceil(float64(k) * r)
			if math.Ceil((float64(k)+q)*r)-at == d {
				return int(at)%t.p.Trays + 1, true
			}
		}
	}
	return 0, false
}

// ExplainLanes is [Lanes] with its working.
func ExplainLanes(in LanesInput, dst []Lane, w *doughmath.Working) (LanesResult, error) {
	c := doughmath.Checks{Func: "proofer-lanes"}
	t := pattern{}
	if checkChain(&c, in.Proofer, in.FirstPassTrays) {
		t = newPattern(&c, in.Proofer, in.FirstPassTrays, in.Load, in.Next)
	}
	doughmath.CheckRange(&c, "strokes", in.Strokes, minStrokes, maxStrokes)
	if err := c.Err(); err != nil {
		return LanesResult{}, err
	}
	out := LanesResult{Rate: doughmath.PieceRate(float64(in.Strokes) * float64(len(in.Load))), Cautions: doughmath.MovingMachinery}
	if t.first != in.Proofer.Trays || in.Proofer.LastPassTrays != in.Proofer.Trays {
		out.Conditions |= doughmath.PartPass
	}
	trayRate := float64(in.Strokes) * in.Proofer.TraysPerStroke
	if w != nil {
		w.Given("trays from the chute to the transfer", "F", float64(t.first), "", "")
		w.Given("trays on one full pass", "N", float64(in.Proofer.Trays), "", "")
		w.Given("trays from the last transfer to the discharge", "L", float64(in.Proofer.LastPassTrays), "", "")
		w.Given("trays per stroke", "r", in.Proofer.TraysPerStroke, "", "")
		w.Given("divider speed", "S", float64(in.Strokes), "strokes/min", "")
		w.Given("lanes", "a", float64(len(in.Load)), "", "")
		w.Step("trays a minute", "v", "S * r", trayRate, "trays/min", "")
	}
	travelled := 0
	for i, q := range in.Load {
		var index [maxPockets + 1]uint8
		passes, last, _ := t.path(q, &index)
		lane := Lane{Pocket: q, Passes: passes, Travel: t.travel(passes), Last: last}
		lane.Dwell = doughmath.Duration(float64(lane.Travel) / trayRate * 60)
		dst = append(dst, lane)
		out.Inside += ceil(float64(lane.Travel) / in.Proofer.TraysPerStroke)
		travelled += lane.Travel
		if i == 0 || lane.Dwell < out.Shortest {
			out.Shortest = lane.Dwell
		}
		out.Longest = max(out.Longest, lane.Dwell)
		if w != nil {
			t.explainLane(w, i, lane)
		}
	}
	out.Lanes = dst
	out.Mean = doughmath.Duration(float64(travelled) / float64(len(in.Load)) / trayRate * 60)
	if w != nil {
		var sum strings.Builder
		for i := range in.Load {
			if i > 0 {
				sum.WriteString(" + ")
			}
			sum.WriteString("T_" + strconv.Itoa(i+1))
		}
		w.Step("mean dwell", "t", "("+sum.String()+") / a / v * 60", float64(out.Mean), "s", "")
	}
	return out, nil
}

func (t pattern) explainLane(w *doughmath.Working, i int, lane Lane) {
	n, where := strconv.Itoa(i+1), "lane from pocket "+strconv.Itoa(lane.Pocket)
	w.Given(where+", passes", "n_"+n, float64(lane.Passes), "", "counted along the pattern")
	expression, why := "F + (n_"+n+" - 2)*N + L", "part passes at both ends and whole ones between"
	if lane.Passes == 1 {
		expression, why = "F + L", "from the chute straight to the discharge"
		if t.first+t.p.LastPassTrays > t.p.Trays {
			expression = "F + L - N"
		}
	}
	w.Step(where+", trays travelled", "T_"+n, expression, float64(lane.Travel), "", why)
	w.Step(where+", dwell", "t_"+n, "T_"+n+" / v * 60", float64(lane.Dwell), "s", "")
}
