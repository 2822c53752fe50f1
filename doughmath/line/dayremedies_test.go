package line

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
)

// Gaps stay and runs shorten: the one that must shorten most decides, taken up to a tenth of a percent.
func TestFasterByHand(t *testing.T) {
	for _, c := range []struct {
		id         string
		start      int64
		gaps, time []int64 // in the order made
		due        []int64
		want       unit.Percent
	}{
		{"in time", 100, []int64{20, 10}, []int64{100, 200}, []int64{220, 430}, 0},
		{"the first decides", 100, []int64{20, 10}, []int64{100, 200}, []int64{200, 400}, 25},            // 80 s for 100 s; 270 s for 300 s
		{"the second decides", 100, []int64{20, 10}, []int64{100, 200}, []int64{210, 355}, 33.4},         // 225 s for 300 s: by a third
		{"what is not due does not", 100, []int64{20, 10}, []int64{100, 200}, []int64{noDue, 400}, 11.2}, // 270 s for 300 s: by a ninth
		{"no speed is enough", 100, []int64{20, 10}, []int64{100, 200}, []int64{120, 900}, 0},
		{"nor for what comes later", 100, []int64{20, 10}, []int64{100, 200}, []int64{900, 130}, 0},
		{"a run of no time, just in time", 100, []int64{20, 10}, []int64{0, 200}, []int64{120, 330}, 0},
		{"a second is left", 100, []int64{20, 10}, []int64{100, 200}, []int64{121, 900}, 9900}, // 1 s for 100 s
	} {
		n := len(c.time)
		o := newSequence(n, FewestLate)
		o.start = c.start
		order := make([]int, n)
		last := n
		for k := range n {
			j := n - 1 - k // whichever number a run has
			order[k], o.time[j], o.due[j] = j, c.time[k], c.due[k]
			o.gap[last][j] = c.gaps[k]
			last = j
		}
		got := o.faster(order)
		assert.InDelta(t, float64(c.want), float64(got), 1e-9, c.id)
	}
}

// A day for the fewest late makes B last, 35 late. In the order of the due times B and C are 15 late: that is how much earlier to start.
func TestRemediesByHand(t *testing.T) {
	const start = 1000
	o := newSequence(3, FewestLate)
	o.start = start
	copy(o.time, []int64{50, 20, 20})
	copy(o.due, []int64{start + 50, start + 55, start + 75})
	d := day{q: &DayPlan{}, runs: make([]dayRun, 3), sequence: o}
	for _, name := range []string{"A", "B", "C"} {
		d.q.Orders = append(d.q.Orders, DayOrder{Name: name})
	}
	d.found = o.search(usual(3))
	require.Equal(t, []int64{1, 35}, []int64{d.found.tally.late, d.found.tally.worst})
	// 55 s for the 70 of A and B: by 70/55. Without A, B and C are in time, and without B, A at 50 and C at 70; without C, A or B is not.
	assert.Equal(t, DayRemedies{StartEarlier: 15, StartAt: 985, Order: []string{"A", "B", "C"}, LeaveOut: []string{"A", "B"}, Faster: 27.3}, d.remedies())
	// Where the order of the day is no worse, it is kept: A late by 10 in either.
	copy(o.due, []int64{noDue, noDue, start + 10})
	d.found = found{order: []int{2, 1, 0}, tally: tally{late: 1, worst: 10}}
	assert.Equal(t, []string{"C", "B", "A"}, d.remedies().Order)
	assert.Equal(t, unit.Duration(10), d.remedies().StartEarlier)
	// Alone it cannot be left out.
	o = newSequence(1, FewestLate)
	o.time[0], o.due[0] = 20, 10
	d = day{q: &DayPlan{Orders: []DayOrder{{Name: "A"}}}, runs: make([]dayRun, 1), sequence: o}
	d.found = o.search(usual(1))
	assert.Equal(t, DayRemedies{StartEarlier: 10, StartAt: -10, Order: []string{"A"}, Faster: 100}, d.remedies())
}

// Without one of its runs a day is the same for all others: what must be made before, and what any order of them comes to.
func TestDayWithoutARun(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 1))
	for range 30 {
		n := 2 + r.IntN(4)
		o := someSequence(r, n, LeastWorst)
		for k := range n {
			rest := o.without(k)
			require.Len(t, rest.time, n-1)
			assert.Equal(t, FewestLate, rest.aim)
			assert.Equal(t, o.start, rest.start)
			in := func(i int) int { // all's number of the rest's run
				if i >= k {
					return i + 1
				}
				return i
			}
			for i := range n - 1 {
				for j := range n - 1 {
					assert.Equal(t, o.before[in(i)]>>in(j)&1, rest.before[i]>>j&1, "%d before %d, without %d", in(j), in(i), k)
				}
				assert.Zero(t, rest.before[i]>>(n-1), "nothing else")
			}
			rest.everyWay(func(order []int) {
				got, ok := rest.tally(order)
				require.True(t, ok)
				want, last := tally{line: o.start}, n
				for _, i := range order {
					want = o.step(want, last, in(i))
					last = in(i)
				}
				require.Equal(t, o.leave(want, last), got)
			})
		}
	}
}
