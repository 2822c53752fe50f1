package line

import (
	"cmp"
	"math"
	"slices"
)

// OrderAim is what the order of a day is chosen for. Where two orders are equal in the first, the
// next decides.
type OrderAim string

const (
	// FewestLate asks for the fewest late, then the least total lateness, the earliest finish, the least changing over.
	FewestLate OrderAim = "fewest-late"
	// LeastLateness asks for the least total lateness, then the fewest late, the earliest finish, the least changing over.
	LeastLateness OrderAim = "least-lateness"
	// LeastWorst asks for the latest of all to be the least late, then the fewest late, the earliest finish, the least changing over.
	LeastWorst OrderAim = "least-worst"
	// EarliestFinish asks for the earliest finish, then the fewest late, the least total lateness, the least changing over.
	EarliestFinish OrderAim = "earliest-finish"
)

// The bounds of the search. Lists of up to 16 stay within wideLayer and are proven; where a layer
// outgrows it, only the best narrowLayer of each are followed, and the order is not proven.
const (
	mostRuns    = 60 // a set of runs fits into 64 bits
	wideLayer   = 120_000
	narrowLayer = 300
	fewRuns     = 8           // up to here all ways are gone through at once
	exactRuns   = 16          // up to here the search proves, and needs no long start
	shortSteps  = 1_000_000   // places looked at to find an order to start from
	longSteps   = 100_000_000 // the same for a list too long to be proven
	noDue       = int64(1) << 50
	far         = int64(1) << 40 // a gap between runs that cannot follow one another; no day is as long
)

// sequence is runs that follow one another on one line. All times are whole seconds, so that
// orders compare exactly.
type sequence struct {
	aim    OrderAim
	start  int64
	time   []int64
	due    []int64 // latest end, noDue if there is none
	weight []int64
	before []uint64  // the runs that must be made before each
	gap    [][]int64 // from the end of one run to the start of another; the last row is the line as it stands, the last column as it is left
	change [][]int64 // work of changing over, the same way

	// found by prepare
	least      []int64 // least gap before each
	leastWork  []int64
	from, into []int64 // what leaving and reaching each costs at least, so that from[i]+into[j] <= gap[i][j]
	byDue      []int
	byTime     []int // by time and least gap
	weightLow  int64
}

// tally is what an order comes to.
type tally struct {
	late                   int64
	lateness, worst        int64
	finish, changing, line int64 // line is the end of the last run
}

// score is a tally in the order of the aim: the smaller of two is the better order.
type score [4]int64

func (o *sequence) score(t tally) score {
	switch o.aim {
	case LeastLateness:
		return score{t.lateness, t.late, t.finish, t.changing}
	case LeastWorst:
		return score{t.worst, t.late, t.finish, t.changing}
	case EarliestFinish:
		return score{t.finish, t.late, t.lateness, t.changing}
	default:
		return score{t.late, t.lateness, t.finish, t.changing}
	}
}

func (s score) less(t score) bool { return slices.Compare(s[:], t[:]) < 0 }

var never = score{math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64}

// step adds run j after run i to what came before.
func (o *sequence) step(t tally, i, j int) tally {
	t.line += o.gap[i][j] + o.time[j]
	t.changing += o.change[i][j]
	if by := t.line - o.due[j]; by > 0 {
		t.late++
		t.lateness += by * o.weight[j]
		t.worst = max(t.worst, by)
	}
	return t
}

// leave ends the day after run i.
func (o *sequence) leave(t tally, i int) tally {
	t.finish = t.line + o.gap[i][len(o.time)]
	t.changing += o.change[i][len(o.time)]
	return t
}

// tally returns what an order comes to, or false if one of its runs is made before what must be made before it.
func (o *sequence) tally(order []int) (tally, bool) {
	t, last, done := tally{line: o.start}, len(o.time), uint64(0)
	for _, j := range order {
		if o.before[j]&^done != 0 {
			return t, false
		}
		t = o.step(t, last, j)
		last, done = j, done|1<<j
	}
	return o.leave(t, last), true
}

// prepare finds what every order costs at least.
func (o *sequence) prepare() {
	n := len(o.time)
	o.least, o.leastWork = make([]int64, n), make([]int64, n)
	o.byDue, o.byTime = make([]int, n), make([]int, n)
	o.weightLow = math.MaxInt64
	for j := range n {
		o.byDue[j], o.byTime[j] = j, j
		o.weightLow = min(o.weightLow, o.weight[j])
		o.least[j], o.leastWork[j] = far, far
		for i := range n { // the first is counted with its own gap
			if o.follows(i, j) {
				o.least[j], o.leastWork[j] = min(o.least[j], o.gap[i][j]), min(o.leastWork[j], o.change[i][j])
			}
		}
	}
	slices.SortStableFunc(o.byDue, func(a, b int) int { return cmp.Compare(o.due[a], o.due[b]) })
	slices.SortStableFunc(o.byTime, func(a, b int) int { return cmp.Compare(o.time[a]+o.least[a], o.time[b]+o.least[b]) })
	o.from, o.into = o.assign()
}

// follows reports whether j can come straight after i; n stands for the line before and after the day.
func (o *sequence) follows(i, j int) bool {
	n := len(o.time)
	switch {
	case i == j:
		return false
	case i == n:
		return o.before[j] == 0
	case j == n:
		return !slices.ContainsFunc(o.before, func(b uint64) bool { return b>>i&1 == 1 })
	case o.before[i]>>j&1 == 1:
		return false
	}
	for k := range n { // nothing that must be made between them
		if o.before[k]>>i&1 == 1 && o.before[j]>>k&1 == 1 {
			return false
		}
	}
	return true
}

// assign gives each run one before it and one after it at the least sum of gaps, as if the order need not
// hang together: no order has less. It returns the prices that prove it.
//
// Source: H. W. Kuhn, The Hungarian method for the assignment problem, Naval Research Logistics Quarterly 2 (1955) 83
// (recalled), with shortest paths.
func (o *sequence) assign() (from, into []int64) {
	n := len(o.time) + 1
	gaps := make([][]int64, n)
	for i := range gaps {
		gaps[i] = make([]int64, n)
		for j := range n {
			if gaps[i][j] = far; o.follows(i, j) {
				gaps[i][j] = o.gap[i][j]
			}
		}
	}
	u, v := make([]int64, n+1), make([]int64, n+1)
	taken, way := make([]int, n+1), make([]int, n+1)
	for i := 1; i <= n; i++ {
		taken[0] = i
		at := 0
		nearest, used := make([]int64, n+1), make([]bool, n+1)
		for j := range nearest {
			nearest[j] = math.MaxInt64
		}
		for more := true; more; more = taken[at] != 0 {
			used[at] = true
			row, delta, next := taken[at], int64(math.MaxInt64), 0
			for j := 1; j <= n; j++ {
				if used[j] {
					continue
				}
				if reduced := gaps[row-1][j-1] - u[row] - v[j]; reduced < nearest[j] {
					nearest[j], way[j] = reduced, at
				}
				if nearest[j] < delta {
					delta, next = nearest[j], j
				}
			}
			for j := range n + 1 {
				if used[j] {
					u[taken[j]] += delta
					v[j] -= delta
				} else {
					nearest[j] -= delta
				}
			}
			at = next
		}
		for at != 0 {
			taken[at] = taken[way[at]]
			at = way[at]
		}
	}
	return u[1:], v[1:]
}

// bound returns what no order comes to less than that begins as t does, with the runs of done, the last of them i.
func (o *sequence) bound(t tally, i int, done uint64) tally {
	n := len(o.time)
	t.finish = t.line + o.from[i] + o.into[n]
	end, fewest, worst, lateness := t.line, int64(0), int64(0), int64(0)
	var kept [mostRuns]int64 // times of the runs that are not late
	count := 0
	total := t.line
	for _, j := range o.byDue {
		if done>>j&1 == 1 {
			continue
		}
		t.finish += o.time[j] + o.from[j] + o.into[j]
		t.changing += o.leastWork[j]
		takes := o.least[j] + o.time[j]
		if o.due[j] == noDue {
			continue
		}
		total += takes
		worst = max(worst, total-o.due[j])
		lateness += o.weight[j] * max(0, t.line+takes-o.due[j])
		// Moore and Hodgson: where the next is late, the longest so far is the one to be late.
		kept[count], end = takes, end+takes
		count++
		if end > o.due[j] {
			longest := 0
			for k := 1; k < count; k++ {
				if kept[k] > kept[longest] {
					longest = k
				}
			}
			end -= kept[longest]
			count--
			kept[longest] = kept[count]
			fewest++
		}
	}
	if fewest > 0 {
		lateness = max(lateness, o.pairedLateness(t.line, done))
	}
	t.late += fewest
	t.lateness += lateness
	t.worst = max(t.worst, worst)
	return t
}

// pairedLateness is the lateness if the shortest came first and met the earliest due times.
func (o *sequence) pairedLateness(end int64, done uint64) (lateness int64) {
	d := 0
	for _, j := range o.byTime {
		if done>>j&1 == 1 {
			continue
		}
		for done>>o.byDue[d]&1 == 1 {
			d++
		}
		due := o.due[o.byDue[d]]
		d++
		end += o.least[j] + o.time[j]
		lateness += max(0, end-due)
	}
	return lateness * o.weightLow
}
