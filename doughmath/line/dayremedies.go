package line

import (
	"math"

	"example.com/dough/doughmath/unit"
)

// remedies finds what would meet every due time of a day that does not.
func (d *day) remedies() (r DayRemedies) {
	n := len(d.runs)
	small := usual(exactRuns)
	small.layers = n <= exactRuns
	worst := *d.sequence
	worst.aim = LeastWorst
	f := worst.search(small)
	if d.found.tally.worst <= f.tally.worst {
		f.order, f.tally = d.found.order, d.found.tally
	}
	// Everything moves with the start.
	r.StartEarlier = unit.Duration(f.tally.worst)
	r.StartAt = unit.Duration(d.sequence.start) - r.StartEarlier
	for _, j := range f.order {
		r.Order = append(r.Order, d.q.Orders[j].Name)
	}
	r.Faster = d.sequence.faster(f.order)
	if n == 1 {
		return r
	}
	small.below = score{1, 0, 0, 0}
	for k := range n {
		rest := d.sequence.without(k)
		if rest.search(small).tally.late == 0 {
			r.LeaveOut = append(r.LeaveOut, d.q.Orders[k].Name)
		}
	}
	return r
}

// faster returns by how much faster every run of an order must be to be in time, its gaps as they are; 0 if no speed is enough.
func (o *sequence) faster(order []int) unit.Percent {
	share, gaps, runs, last := 1.0, o.start, int64(0), len(o.time)
	for _, j := range order {
		gaps += o.gap[last][j]
		runs += o.time[j]
		last = j
		if gaps+runs <= o.due[j] {
			continue
		}
		share = min(share, float64(o.due[j]-gaps)/float64(runs))
	}
	if share <= 0 {
		return 0
	}
	// Up to a tenth of a percent, so that it is enough.
	return unit.Percent(math.Ceil((1/share-1)*1000) / 10)
}

// without is the sequence for the fewest late, without one of its runs.
func (o *sequence) without(k int) *sequence {
	n := len(o.time)
	rest := newSequence(n-1, FewestLate)
	rest.start = o.start
	at := func(i int) int { // where the rest's run i is in all
		if i < k {
			return i
		}
		return i + 1
	}
	for i := range n {
		for j := range n {
			rest.gap[i][j], rest.change[i][j] = o.gap[at(i)][at(j)], o.change[at(i)][at(j)]
		}
		if i == n-1 {
			break
		}
		rest.time[i], rest.due[i], rest.weight[i] = o.time[at(i)], o.due[at(i)], o.weight[at(i)]
		b := o.before[at(i)]
		rest.before[i] = b&(1<<k-1) | b>>(k+1)<<k
	}
	return rest
}
