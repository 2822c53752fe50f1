package line

import (
	"math"
	"math/bits"
	"slices"

	"example.com/dough/doughmath/unit"
)

// The bounds of the search.
const (
	searchSteps = 5_000
	dives       = 51   // quick tries before the search
	keptStates  = 1024 // states that the search keeps in mind
)

// search looks for the shortest order. Jobs are started in the order of time, each as early
// as what it waits for and its people allow; one that could have started earlier in the same order is not
// started there, because another branch of the tree does so.
type search struct {
	n, people int
	time      [mostJobs]float64
	takes     [mostJobs]int
	after     [mostJobs]uint64
	tail      [mostJobs]float64 // least time from the start of a job to the end of all
	order     [mostJobs]int     // each job behind all that it waits for
	first     float64           // when the first job that takes people can start
	grid      float64           // every start is a whole number of these after that; 0 if there is none
	manned    uint64            // the jobs that take people
	behind    [mostJobs]uint64  // all that waits for each, by whatever way
	before    [mostJobs]uint64  // all that each waits for, by whatever way
	next      [mostJobs]uint64  // what waits for each itself

	start     [mostJobs]float64
	best      float64
	bestStart [mostJobs]float64
	least     float64
	steps     int
	narrows   narrows // where people must idle
	kept      []state // what was met last of each of many sets of started jobs
}

// state is how far the work has got.
type state struct {
	started uint64
	running uint64 // what of it still goes on
	now     float64
	ends    [mostPeople]float64 // of what goes on, by index
}

// add puts one more job on the list and returns its index.
func (s *search) add(time unit.Duration, takes int, after uint64) int {
	i := s.n
	s.time[i], s.takes[i], s.after[i] = float64(time), takes, after
	s.n++
	return i
}

// run finds the shortest order, and a time that none takes less than.
func (s *search) run() (total, least unit.Duration) {
	s.prepare()
	s.best = math.Inf(1)
	var free [mostPeople]float64
	started := s.waits(0)
	s.least = s.bound(started, &free, 0, max(s.narrows.idle(s, started, 0), s.uneven()))
	key, seed := s.tail, uint64(1)
	for range dives {
		if !s.shorter(s.least) {
			break
		}
		s.dive(&key)
		seed = s.shuffle(&key, seed)
	}
	if s.shorter(s.least) {
		s.kept = make([]state, keptStates)
		s.step(0, free, 0)
	}
	if s.steps <= searchSteps || !s.shorter(s.least) {
		s.least = s.best
	}
	return unit.Duration(s.best), unit.Duration(s.least)
}

// prepare orders the jobs and finds what each leaves to do after it: the longest way to the end, or
// the work of all that wait for it, shared by all.
func (s *search) prepare() {
	var done uint64
	for k := 0; k < s.n; {
		for i := range s.n {
			if done>>i&1 == 0 && s.after[i]&^done == 0 {
				done |= 1 << i
				s.order[k] = i
				k++
				for rest := s.after[i]; rest != 0; rest &= rest - 1 {
					j := bits.TrailingZeros64(rest)
					s.before[i] |= s.before[j] | 1<<j
				}
			}
		}
	}
	for k := s.n - 1; k >= 0; k-- {
		i := s.order[k]
		work := 0.0
		for rest := s.behind[i]; rest != 0; rest &= rest - 1 {
			j := bits.TrailingZeros64(rest)
			work += float64(float64(s.takes[j]) * s.time[j])
		}
		s.tail[i] = s.time[i] + max(s.tail[i], work/float64(s.people))
		for rest := s.after[i]; rest != 0; rest &= rest - 1 {
			j := bits.TrailingZeros64(rest)
			s.tail[j] = max(s.tail[j], s.tail[i])
			s.behind[j] |= s.behind[i] | 1<<i
			s.next[j] |= 1 << i
		}
	}
	for i := range s.n {
		if s.takes[i] > 0 {
			s.manned |= 1 << i
		}
	}
	s.findGrid()
	s.narrows.find(s)
}

// findGrid finds the step that all times have in common: then no end lies between two steps. A wait that all else
// waits for, such as a proofer that runs empty, only moves the steps.
func (s *search) findGrid() {
	i := s.order[0]
	waits := s.takes[i] == 0 && bits.OnesCount64(s.behind[i]) == s.n-1
	for j := range s.n {
		switch {
		case waits && j == i:
			s.first = s.time[i]
		case s.time[j] != math.Trunc(s.time[j]):
			s.grid = 0
			return
		default:
			a, b := s.grid, s.time[j]
			for b > 0 {
				a, b = b, math.Mod(a, b)
			}
			s.grid = a
		}
	}
}

// shorter reports whether a time is shorter than the best, by more than binary arithmetic leaves over.
func (s *search) shorter(t float64) bool { return t < s.best*(1-hair) }

// bound returns a time that no order takes less than, from what is started already.
func (s *search) bound(started uint64, free *[mostPeople]float64, now, lost float64) float64 {
	least, soonest := 0.0, math.Inf(1)
	for i := range s.n {
		from := s.start[i]
		if started>>i&1 == 0 {
			if s.after[i]&^started != 0 {
				continue // what it waits for leaves no less
			}
			from = now
			for rest := s.after[i]; rest != 0; rest &= rest - 1 {
				j := bits.TrailingZeros64(rest)
				from = max(from, s.start[j]+s.time[j])
			}
			soonest = min(soonest, from)
		}
		least = max(least, from+s.tail[i])
	}
	if !math.IsInf(soonest, 1) {
		least = max(least, s.shared(started, free, soonest, lost))
	}
	if s.grid > 0 {
		least = s.first + float64(math.Ceil((least-s.first)/s.grid-1e-6)*s.grid)
	}
	return least
}

// shared returns how long the work that is left takes if it is shared by all: whatever of it cannot lie in the last
// stretch t of the time, because too much waits for it, is done before that stretch. Every t that may bind is tried. Where
// people must idle, that takes their time as well.
func (s *search) shared(started uint64, free *[mostPeople]float64, now, lost float64) float64 {
	left := s.manned &^ started
	least := s.filled(free, now, s.work(left, 0)+lost)
	for rest := left; rest != 0; rest &= rest - 1 {
		t := s.tail[bits.TrailingZeros64(rest)]
		if work := s.work(left, t); work > 0 {
			least = max(least, s.filled(free, now, work)+t)
		}
	}
	return least
}

// work returns how much of the work of some jobs cannot lie in the last stretch of the time.
func (s *search) work(jobs uint64, stretch float64) (sum float64) {
	for ; jobs != 0; jobs &= jobs - 1 {
		i := bits.TrailingZeros64(jobs)
		sum += float64(float64(s.takes[i]) * max(0, min(s.time[i], s.tail[i]-stretch)))
	}
	return sum
}

// filled returns when so much work is done if whoever is free takes part of it: with those who are free last it takes
// longer than without. free is in order.
func (s *search) filled(free *[mostPeople]float64, now, work float64) float64 {
	end := math.Inf(1)
	for p := range s.people {
		work += max(free[p], now)
		end = min(end, work/float64(p+1))
	}
	return end
}

// shuffle makes keys of the tails, up to twice as great at random.
func (s *search) shuffle(key *[mostJobs]float64, seed uint64) uint64 {
	for i := range s.n {
		seed = scrambled(seed)
		key[i] = s.tail[i] * (1 + float64(float64(seed>>40)/(1<<24)))
	}
	return seed
}

// dive starts the jobs one after another: whatever can start first, and of that the one with the greatest key.
func (s *search) dive(key *[mostJobs]float64) {
	var free [mostPeople]float64
	var ready [mostJobs]float64 // when all that a job waits for has ended
	var end float64
	for started, all := uint64(0), uint64(1)<<s.n-1; started != all; {
		first, from := -1, math.Inf(1)
		for rest := all &^ started; rest != 0; rest &= rest - 1 {
			i := bits.TrailingZeros64(rest)
			if s.after[i]&^started != 0 {
				continue
			}
			at := ready[i]
			if s.takes[i] == 0 {
				first, from = i, at // it starts as soon as it may, whatever else does
				break
			}
			if at = max(at, free[s.takes[i]-1]); at < from || at == from && key[i] > key[first] {
				first, from = i, at
			}
		}
		s.start[first] = from
		done := from + s.time[first]
		end = max(end, done)
		for rest := s.next[first]; rest != 0; rest &= rest - 1 {
			j := bits.TrailingZeros64(rest)
			ready[j] = max(ready[j], done)
		}
		s.take(&free, first)
		started |= 1 << first
	}
	if s.shorter(end) {
		s.best, s.bestStart = end, s.start
	}
}

// met reports whether the same jobs were started before with everything at least as early: nothing better comes of it
// this time. It keeps what it met last of each of many sets of jobs.
func (s *search) met(started uint64, now float64) bool {
	k := &s.kept[started*0x9E3779B97F4A7C15>>32%keptStates]
	if k.started == started && started != 0 && k.now <= now && s.noLater(k, now) {
		return true
	}
	var running uint64
	n := 0
	for rest := started; rest != 0; rest &= rest - 1 {
		i := bits.TrailingZeros64(rest)
		if end := s.start[i] + s.time[i]; end > now {
			if n == mostPeople {
				return false // that many waits go on beside the work
			}
			k.ends[n] = end
			running |= 1 << i
			n++
		}
	}
	k.started, k.running, k.now = started, running, now
	return false
}

// noLater reports whether all that went on in a state ended no later than now; then everybody was free no later.
func (s *search) noLater(k *state, now float64) bool {
	n := 0
	for rest := k.running; rest != 0; rest &= rest - 1 {
		i := bits.TrailingZeros64(rest)
		if k.ends[n] > max(s.start[i]+s.time[i], now) {
			return false
		}
		n++
	}
	return true
}

// step starts one more job in every way that may lead to a shorter order. free is when each person is, in order.
func (s *search) step(started uint64, free [mostPeople]float64, now float64) {
	if s.steps++; s.steps > searchSteps || !s.shorter(s.least) {
		return
	}
	started = s.waits(started)
	if started == 1<<s.n-1 {
		var end float64
		for i := range s.n {
			end = max(end, s.start[i]+s.time[i])
		}
		if s.shorter(end) {
			s.best, s.bestStart = end, s.start
		}
		return
	}
	if !s.shorter(s.bound(started, &free, now, s.narrows.idle(s, started, now))) || s.met(started, now) {
		return
	}
	var may [mostJobs]int
	var from [mostJobs]float64
	m, soonest := 0, math.Inf(1)
	for left := (1<<s.n - 1) &^ started; left != 0; left &= left - 1 {
		i := bits.TrailingZeros64(left)
		if s.after[i]&^started != 0 {
			continue
		}
		from[i] = free[s.takes[i]-1]
		for rest := s.after[i]; rest != 0; rest &= rest - 1 {
			j := bits.TrailingZeros64(rest)
			from[i] = max(from[i], s.start[j]+s.time[j])
		}
		if from[i] < now {
			continue
		}
		soonest = min(soonest, from[i]+s.time[i])
		// Whatever can start first, and of that the longest way to the end.
		at := m
		for m++; at > 0 && (from[may[at-1]] > from[i] || from[may[at-1]] == from[i] && s.tail[may[at-1]] < s.tail[i]); at-- {
			may[at] = may[at-1]
		}
		may[at] = i
	}
	for k, i := range may[:m] {
		if from[i] >= soonest || s.twin(may[:k], i) {
			continue
		}
		s.start[i] = from[i]
		then := free
		s.take(&then, i)
		s.step(started|1<<i, then, from[i])
	}
}

// waits starts every job that takes nobody and waits for nothing that is not started.
func (s *search) waits(started uint64) uint64 {
	for _, i := range s.order[:s.n] {
		if s.takes[i] > 0 || s.after[i]&^started != 0 {
			continue
		}
		from := 0.0
		for rest := s.after[i]; rest != 0; rest &= rest - 1 {
			j := bits.TrailingZeros64(rest)
			from = max(from, s.start[j]+s.time[j])
		}
		s.start[i] = from
		started |= 1 << i
	}
	return started
}

// twin reports whether a job is just like one that was tried: only their names differ.
func (s *search) twin(tried []int, i int) bool {
	return slices.ContainsFunc(tried, func(j int) bool {
		return s.time[i] == s.time[j] && s.takes[i] == s.takes[j] && s.after[i] == s.after[j] && s.next[i] == s.next[j]
	})
}

// take gives a job its people: those who have been free for the shortest time, so that what could
// have been started earlier shows. free stays in order.
func (s *search) take(free *[mostPeople]float64, i int) {
	last := s.people
	for free[last-1] > s.start[i] {
		last--
	}
	n, end := s.takes[i], s.start[i]+s.time[i]
	p := last - n
	for ; p+n < s.people && free[p+n] < end; p++ {
		free[p] = free[p+n]
	}
	for k := range n {
		free[p+k] = end
	}
}

// hand gives each job its people and its slack.
func (s *search) hand(jobs []JobTime) {
	var order [mostJobs]int
	for i := range s.n {
		order[i] = i
		jobs[i].Start, jobs[i].End = unit.Duration(s.bestStart[i]), unit.Duration(s.bestStart[i]+s.time[i])
	}
	byStart(order[:s.n], jobs)
	var free [mostPeople]float64
	var last [mostPeople]int // the job that each person did last, counted from 1
	next := s.after          // what each job waits for, its people's jobs before included
	for _, i := range order[:s.n] {
		for range s.takes[i] {
			p := s.freest(&free, float64(jobs[i].Start), jobs[i].Who)
			jobs[i].Who = append(jobs[i].Who, p+1)
			free[p] = float64(jobs[i].End)
			if last[p] > 0 {
				next[i] |= 1 << (last[p] - 1)
			}
			last[p] = i + 1
		}
		slices.Sort(jobs[i].Who)
	}
	var latest [mostJobs]float64
	for i := range latest {
		latest[i] = s.best
	}
	for k := s.n - 1; k >= 0; k-- {
		i := order[k]
		jobs[i].Slack = unit.Duration(latest[i] - float64(jobs[i].End))
		if float64(jobs[i].Slack) <= hair*s.best {
			jobs[i].Slack, jobs[i].Critical = 0, true
		}
		for rest := next[i]; rest != 0; rest &= rest - 1 {
			j := bits.TrailingZeros64(rest)
			latest[j] = min(latest[j], latest[i]-s.time[i])
		}
	}
}

// freest returns the person who has been free for the shortest time at a moment and is not at the job yet: whoever comes
// from the job just done stays at work.
func (s *search) freest(free *[mostPeople]float64, at float64, taken []int) int {
	found := -1
	for p := range s.people {
		if free[p] > at || slices.Contains(taken, p+1) {
			continue
		}
		if found < 0 || free[p] > free[found] {
			found = p
		}
	}
	return found
}
