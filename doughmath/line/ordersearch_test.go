package line

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// someSequence is runs with times, gaps and due times at random, some of them to be made after another.
func someSequence(r *rand.Rand, n int, aim OrderAim) *sequence {
	o := newSequence(n, aim)
	o.start = int64(r.IntN(50))
	for i := range n {
		o.time[i], o.weight[i] = int64(5+r.IntN(60)), int64(1+r.IntN(4))
		if r.IntN(4) > 0 {
			o.due[i] = o.start + int64(20+r.IntN(45*n))
		}
		if i > 0 && r.IntN(4) == 0 {
			o.before[i] |= 1 << r.IntN(i)
		}
	}
	through(o.before)
	for i := range n + 1 {
		for j := range n + 1 {
			o.gap[i][j], o.change[i][j] = int64(r.IntN(40)), int64(r.IntN(40))
		}
	}
	return o
}

// everyWay visits the orders of n runs in which every run comes after what must be made before it.
func (o *sequence) everyWay(visit func(order []int)) {
	n := len(o.time)
	var place func(order []int, done uint64)
	place = func(order []int, done uint64) {
		if len(order) == n {
			visit(order)
			return
		}
		for j := range n {
			if done>>j&1 == 0 && o.before[j]&^done == 0 {
				place(append(order, j), done|1<<j)
			}
		}
	}
	place(make([]int, 0, n), 0)
}

// pairs are the runs that follow one another in an order, the line before and after the day included.
func pairs(order []int) (list [][2]int) {
	last := len(order)
	for _, j := range order {
		list = append(list, [2]int{last, j})
		last = j
	}
	return append(list, [2]int{last, len(order)})
}

// One run comes straight after another if and only if some allowed order has them so; the least before each is the least of those.
func TestWhatFollowsStraight(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 1))
	for range 40 {
		n := 1 + r.IntN(5)
		o := someSequence(r, n, FewestLate)
		met := map[[2]int]bool{}
		o.everyWay(func(order []int) {
			for _, p := range pairs(order) {
				met[p] = true
			}
		})
		o.prepare()
		for j := range n + 1 {
			gap, work := far, far
			for i := range n + 1 {
				if i == n && j == n {
					continue // a day without a run
				}
				assert.Equal(t, met[[2]int{i, j}], o.follows(i, j), "%d after %d with %b made before", j, i, o.before)
				if i < n && met[[2]int{i, j}] {
					gap, work = min(gap, o.gap[i][j]), min(work, o.change[i][j])
				}
			}
			if j < n {
				assert.Equal(t, gap, o.least[j], "the least gap before %d", j)
				assert.Equal(t, work, o.leastWork[j], "the least work before %d", j)
			}
		}
		assert.Equal(t, slices.Min(o.weight), o.weightLow)
		for k := 1; k < n; k++ {
			assert.LessOrEqual(t, o.due[o.byDue[k-1]], o.due[o.byDue[k]])
			a, b := o.byTime[k-1], o.byTime[k]
			assert.LessOrEqual(t, o.time[a]+o.least[a], o.time[b]+o.least[b])
		}
	}
}

// The prices of the assignment never exceed a gap, and together they are the least sum of gaps with one before and one after each:
// duality of linear programming, tried against every permutation.
func TestPricesOfGaps(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 2))
	for range 30 {
		n := 1 + r.IntN(5)
		o := someSequence(r, n, EarliestFinish)
		from, into := o.assign()
		require.Len(t, from, n+1)
		require.Len(t, into, n+1)
		cost := func(i, j int) int64 {
			if o.follows(i, j) {
				return o.gap[i][j]
			}
			return far
		}
		sum := int64(0)
		for i := range n + 1 {
			sum += from[i] + into[i]
			for j := range n + 1 {
				assert.LessOrEqual(t, from[i]+into[j], cost(i, j), "%d to %d", i, j)
			}
		}
		least, next := int64(math.MaxInt64), make([]int, n+1)
		var pick func(i int, used uint64, total int64)
		pick = func(i int, used uint64, total int64) {
			if i == len(next) {
				least = min(least, total)
				return
			}
			for j := range next {
				if used>>j&1 == 0 {
					pick(i+1, used|1<<j, total+cost(i, j))
				}
			}
		}
		pick(0, 0, 0)
		assert.Equal(t, least, sum)
	}
}

// No order that begins as some runs do comes to less than is said of them, in anything; and root is that of all orders.
func TestNothingIsBelowItsBound(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 3))
	for range 40 {
		n := 2 + r.IntN(4)
		o := someSequence(r, n, FewestLate)
		o.prepare()
		root := o.root()
		o.everyWay(func(order []int) {
			whole, ok := o.tally(order)
			require.True(t, ok)
			head, done := tally{line: o.start}, uint64(0)
			for k, j := range order {
				head = o.step(head, pairs(order)[k][0], j)
				done |= 1 << j
				b := o.bound(head, j, done)
				if k == n-1 { // all is made: what is left is what is left behind
					assert.Equal(t, []int64{whole.late, whole.lateness, whole.worst}, []int64{b.late, b.lateness, b.worst})
				}
				for _, least := range []tally{b, root} {
					for of, pair := range map[string][2]int64{
						"late": {least.late, whole.late}, "lateness": {least.lateness, whole.lateness}, "the latest": {least.worst, whole.worst},
						"finish": {least.finish, whole.finish}, "changing": {least.changing, whole.changing},
					} {
						if pair[0] > pair[1] {
							t.Fatalf("%s of %v is %d, and said to be at least %d after %d", of, order, pair[1], pair[0], k+1)
						}
					}
				}
			}
		})
	}
}

// plainRuns is runs of some times without gaps, due at some times.
func plainRuns(start int64, times, due, weights []int64) *sequence {
	o := newSequence(len(times), FewestLate)
	o.start = start
	copy(o.time, times)
	copy(o.due, due)
	copy(o.weight, weights)
	o.prepare()
	return o
}

// What is least without gaps is known: the fewest late by Moore and Hodgson, the least of the latest by due times (Jackson's rule), the lateness
// of the shortest first against the earliest due times. Worked out by hand.
func TestBoundsByHand(t *testing.T) {
	for _, c := range []struct {
		id                    string
		times, due, weights   []int64
		late, lateness, worst int64
	}{
		{ // By due times 10, 30, 37 against 10, 25, 36: the second is the first late, and the longest so far goes: 10, 17.
			id: "one must be late", times: []int64{10, 20, 7}, due: []int64{10, 25, 36}, weights: []int64{1, 1, 1},
			late: 1, worst: 5,
			// The shortest first, 7, 17, 37 against 10, 25, 36: 1.
			lateness: 1,
		},
		{ // All due at 10: 6 is in time, the others late; by due times they end at 6, 14, 24. Shortest first 6, 14, 24: 4 + 14, at the least weight of 2.
			id: "two must be late", times: []int64{6, 8, 10}, due: []int64{10, 10, 10}, weights: []int64{2, 3, 4},
			late: 2, worst: 14, lateness: 2 * (4 + 14),
		},
		{ // Straight from the start they would be late by 5, 3 and 0, at weights 7, 1 and 1: 38. The shortest first, 4, 17, 32, comes to 7 + 22 at the least weight.
			id: "the weights decide", times: []int64{15, 13, 4}, due: []int64{10, 10, 10}, weights: []int64{7, 1, 1},
			late: 2, worst: 22, lateness: 38, // only 4 is in time, and the last ends at 32
		},
		{ // Nothing is due: nothing is late.
			id: "nothing is due", times: []int64{5, 6}, due: []int64{noDue, noDue}, weights: []int64{1, 1},
		},
		{ // One of two is due, and only its own time counts: 9 against 8, late by 1 at weight 3.
			id: "one is due", times: []int64{5, 9}, due: []int64{noDue, 8}, weights: []int64{1, 3},
			late: 1, worst: 1, lateness: 3,
		},
		{ // By due times 10 at 10, then 4, the second is the first late: 10 goes. 4 and 8 end at 12, with 5 at 17 against 14: 8 goes. 4, 5 and 6 end at 15 against 14: 6 goes.
			id: "what is late is late once", times: []int64{10, 4, 8, 5, 6}, due: []int64{10, 13, 13, 14, 14}, weights: []int64{1, 1, 1, 1, 1},
			late: 3, worst: 33 - 14,
			// The shortest first, 4, 9, 15, 23, 33 against 10, 13, 13, 14, 14.
			lateness: 2 + 9 + 19,
		},
		{ // In time to the second: 4, 9 against 4, 9.
			id: "just in time", times: []int64{4, 5}, due: []int64{4, 9}, weights: []int64{1, 1},
		},
	} {
		for _, start := range []int64{0, 100} {
			due := slices.Clone(c.due)
			for i := range due {
				if due[i] != noDue {
					due[i] += start
				}
			}
			o := plainRuns(start, c.times, due, c.weights)
			// Before any run: the line as it stands, n.
			n := len(c.times)
			for j := range n { // the least gap before each is none
				o.least[j], o.leastWork[j] = 0, 0
			}
			slices.SortStableFunc(o.byTime, func(a, b int) int { return int(o.time[a] - o.time[b]) })
			b := o.bound(tally{line: start}, n, 0)
			assert.Equal(t, []int64{c.late, c.lateness, c.worst}, []int64{b.late, b.lateness, b.worst}, "%s, from %d", c.id, start)
			sum := start
			for _, x := range c.times {
				sum += x
			}
			assert.Equal(t, sum, b.finish, c.id)
			assert.Zero(t, b.changing, c.id)
			// What was made before counts too.
			b = o.bound(tally{line: start, late: 2, lateness: 30, worst: 9, changing: 4}, n, 0)
			assert.Equal(t, []int64{c.late + 2, c.lateness + 30, max(c.worst, 9), 4}, []int64{b.late, b.lateness, b.worst, b.changing}, c.id)
		}
	}
}

// The fewest late without gaps, tried for every set of runs that are in time, by due times: Moore's rule says no other number. Jackson's rule says the latest.
func TestFewestLateOfEverySet(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	for range 200 {
		n := 1 + r.IntN(8)
		times, due, weights := make([]int64, n), make([]int64, n), make([]int64, n)
		for i := range n {
			times[i], due[i], weights[i] = int64(1+r.IntN(20)), int64(1+r.IntN(12*n)), 1
		}
		o := plainRuns(0, times, due, weights)
		for j := range n {
			o.least[j] = 0
		}
		fewest, end, worst := int64(n), int64(0), int64(0)
		for set := range 1 << n {
			line, inTime := int64(0), true
			for _, j := range o.byDue {
				if set>>j&1 == 1 {
					line += times[j]
					inTime = inTime && line <= due[j]
				}
			}
			if inTime {
				fewest = min(fewest, int64(n-bits.OnesCount(uint(set))))
			}
		}
		for _, j := range o.byDue {
			end += times[j]
			worst = max(worst, end-due[j])
		}
		b := o.bound(tally{}, n, 0)
		assert.Equal(t, []int64{fewest, worst}, []int64{b.late, b.worst}, "%v due %v", times, due)
	}
	// Sixty runs of one second, due at 59: one is late; due at 60, none.
	for due, late := range map[int64]int64{59: 1, 60: 0} {
		o := newSequence(60, FewestLate)
		for i := range o.time {
			o.time[i], o.due[i] = 1, due
		}
		o.prepare()
		b := o.bound(tally{}, 60, 0)
		assert.Equal(t, []int64{late, late}, []int64{b.late, b.lateness}, "due at %d", due)
	}
}

// Without precedence the root is what begins best: with gaps of 3 before each and 2 behind the last, three runs of 10, 20 and 7 end at 37 + 9 + 2.
func TestRootByHand(t *testing.T) {
	o := newSequence(3, EarliestFinish)
	copy(o.time, []int64{10, 20, 7})
	copy(o.due, []int64{13, noDue, noDue})
	for i := range 4 {
		for j := range 4 {
			if o.gap[i][j] = 3; j == 3 {
				o.gap[i][j] = 2
			}
			o.change[i][j] = o.gap[i][j]
		}
	}
	o.prepare()
	// The work behind the last is not counted, as nobody knows which is the last.
	assert.Equal(t, tally{finish: 48, changing: 9}, o.root())
	o.before[0] = 1 << 2 // 7 before 10: 10 ends at 23 at the earliest, 10 late
	o.prepare()
	assert.Equal(t, tally{late: 1, lateness: 10, worst: 10, finish: 48, changing: 9}, o.root())
	one := newSequence(1, EarliestFinish)
	one.start, one.time[0], one.due[0] = 5, 10, 12
	one.gap[1][0], one.gap[0][1], one.change[1][0], one.change[0][1] = 3, 2, 4, 1
	one.prepare()
	assert.Equal(t, tally{late: 1, lateness: 6, worst: 6, finish: 20, changing: 5}, one.root(), "5 + 3 + 10 are 18, and 2 behind it")
}
