package line

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/unit"
)

// someSearch is jobs at random, those that wait for another in any place of the list; some take nobody, some several.
func someSearch(r *rand.Rand, n, people int, step float64) *search {
	s := &search{people: people, n: n}
	order := r.Perm(n)
	for k, i := range order {
		s.time[i] = step * float64(1+r.IntN(5))
		switch r.IntN(6) {
		case 0:
			s.takes[i] = 0
		case 1:
			s.takes[i] = 1 + r.IntN(people)
		default:
			s.takes[i] = 1
		}
		for _, j := range order[:k] {
			if r.IntN(n+1) < 2 {
				s.after[i] |= 1 << j
			}
		}
	}
	return s
}

// searchOf is a search of jobs given one by one: time, people, jobs before.
func searchOf(people int, jobs ...[3]int) *search {
	s := &search{people: people}
	for _, j := range jobs {
		s.add(unit.Duration(j[0]), j[1], uint64(j[2]))
	}
	return s
}

// has reports whether a job is in a set.
func has(set uint64, i int) bool { return set>>i&1 == 1 }

// free reports whether a job's people are free from a moment on, beside the jobs of a set.
func (s *search) free(placed uint64, i int, at float64) bool {
	moments := []float64{at}
	for k := range s.n {
		if has(placed, k) && s.start[k] > at && s.start[k] < at+s.time[i] {
			moments = append(moments, s.start[k])
		}
	}
	for _, m := range moments {
		busy := s.takes[i]
		for k := range s.n {
			if has(placed, k) && s.start[k] <= m && m < s.start[k]+s.time[k] {
				busy += s.takes[k]
			}
		}
		if busy > s.people && s.takes[i] > 0 {
			return false
		}
	}
	return true
}

// tryAll places the jobs that are left one after the other in every order, each as early as it fits but no people before now, and returns the
// earliest end of all.
func (s *search) tryAll(placed uint64, now float64) float64 {
	if placed == 1<<s.n-1 {
		end := 0.0
		for i := range s.n {
			end = max(end, s.start[i]+s.time[i])
		}
		return end
	}
	best := math.Inf(1)
	for i := range s.n {
		if has(placed, i) || s.after[i]&^placed != 0 {
			continue
		}
		ready := 0.0
		if s.takes[i] > 0 {
			ready = now
		}
		for j := range s.n {
			if has(s.after[i], j) {
				ready = max(ready, s.start[j]+s.time[j])
			}
		}
		at := math.Inf(1)
		for k := -1; k < s.n; k++ {
			m := ready
			if k >= 0 {
				if m = s.start[k] + s.time[k]; !has(placed, k) || m <= ready {
					continue
				}
			}
			if m < at && s.free(placed, i, m) {
				at = m
			}
		}
		was := s.start[i]
		s.start[i] = at
		best = min(best, s.tryAll(placed|1<<i, now))
		s.start[i] = was
	}
	return best
}

// What a job waits for, what waits for it, and the least that is left after it are as they are by definition.
func TestWhatAJobLeavesToDo(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	for range 60 {
		s := someSearch(r, 1+r.IntN(7), 1+r.IntN(3), 10)
		s.prepare()
		var reach func(i int) uint64 // what i waits for, by whatever way
		reach = func(i int) (set uint64) {
			for j := range s.n {
				if has(s.after[i], j) {
					set |= 1<<j | reach(j)
				}
			}
			return set
		}
		var tail func(i int) float64
		tail = func(i int) float64 {
			longest, work := 0.0, 0.0
			for j := range s.n {
				if has(s.after[j], i) {
					longest = max(longest, tail(j))
				}
				if has(reach(j), i) {
					work += float64(s.takes[j]) * s.time[j]
				}
			}
			return s.time[i] + max(longest, work/float64(s.people))
		}
		for i := range s.n {
			assert.Equal(t, reach(i), s.before[i])
			assert.InDelta(t, tail(i), s.tail[i], 1e-9)
			assert.Equal(t, s.takes[i] > 0, has(s.manned, i))
			for j := range s.n {
				assert.Equal(t, has(reach(j), i), has(s.behind[i], j))
				assert.Equal(t, has(s.after[j], i), has(s.next[i], j))
			}
		}
		for k := range s.n {
			assert.Zero(t, slices.Index(s.order[:s.n], s.order[k])-k, "each once")
			for _, later := range s.order[k:s.n] {
				assert.False(t, has(s.before[s.order[k]], later), "each behind what it waits for")
			}
		}
	}
}

// The step of all times is their greatest common divisor (Euclid); a wait that all else waits for is left out of it and moves the first start.
func TestStepOfAllTimes(t *testing.T) {
	for _, c := range []struct {
		id          string
		s           *search
		grid, first float64
	}{
		{"12 and 18", searchOf(2, [3]int{12, 1}, [3]int{18, 1}), 6, 0},
		{"the first alone", searchOf(1, [3]int{12, 1}), 12, 0},
		{"apart from 1", searchOf(2, [3]int{9, 1}, [3]int{4, 2}), 1, 0},
		{"a wait before all", searchOf(2, [3]int{7, 0}, [3]int{12, 1, 1}, [3]int{18, 1, 1}), 6, 7},
		{"a wait before some", searchOf(2, [3]int{7, 0}, [3]int{14, 1, 1}, [3]int{21, 1}), 7, 0},
		{"work before all", searchOf(2, [3]int{7, 1}, [3]int{12, 1, 1}, [3]int{18, 1, 1}), 1, 0},
		{"a wait in the middle", searchOf(2, [3]int{7, 0}, [3]int{12, 1, 1}, [3]int{15, 0, 2}, [3]int{18, 1, 4}), 3, 7},
	} {
		c.s.prepare()
		assert.Equal(t, c.grid, c.s.grid, c.id)
		assert.Equal(t, c.first, c.s.first, c.id)
	}
	s := searchOf(1, [3]int{12, 1}, [3]int{18, 1})
	s.time[1] = 18.5
	s.prepare()
	assert.Zero(t, s.grid, "half a second is no step: times may be parted by anything")
	s = searchOf(1, [3]int{7, 0}, [3]int{18, 1, 1})
	s.time[0] = 7.25
	s.prepare()
	assert.Equal(t, []float64{18, 7.25}, []float64{s.grid, s.first}, "a wait before all may be odd")
}

// So much work by so many, some free later: the level to which water fills steps, the least of those of the first few alone.
func TestWorkIsFilledIn(t *testing.T) {
	s := &search{people: 3}
	for _, c := range []struct {
		free      [mostPeople]float64
		now, work float64
		want      float64
	}{
		{[mostPeople]float64{0, 0, 0}, 0, 12, 4},
		{[mostPeople]float64{0, 10, 20}, 0, 6, 6},    // the first alone
		{[mostPeople]float64{0, 10, 20}, 0, 10, 10},  // until the second is free
		{[mostPeople]float64{0, 10, 20}, 0, 14, 12},  // 12 of the first, 2 of the second
		{[mostPeople]float64{0, 10, 20}, 0, 36, 22},  // 22, 12 and 2
		{[mostPeople]float64{0, 10, 20}, 15, 12, 21}, // from 15, 15 and 20: 6, 6 and 1 are 13, so that 21 - 1/3 would do for all three
	} {
		want := math.Inf(1)
		sum := c.work
		for p := range 3 {
			sum += max(c.free[p], c.now)
			want = min(want, sum/float64(p+1))
		}
		if c.now == 0 {
			assert.InDelta(t, c.want, want, 1e-9)
		}
		assert.InDelta(t, want, s.filled(&c.free, c.now, c.work), 1e-9)
	}
}

// What a search has started at a moment, at random: as its steps start jobs.
func (s *search) begin(r *rand.Rand, jobs int) (started uint64, free [mostPeople]float64, now float64) {
	started = s.waits(0)
	for range jobs {
		var may []int
		var from []float64
		for i := range s.n {
			if has(started, i) || s.after[i]&^started != 0 {
				continue
			}
			at := free[s.takes[i]-1]
			for j := range s.n {
				if has(s.after[i], j) {
					at = max(at, s.start[j]+s.time[j])
				}
			}
			if at >= now {
				may, from = append(may, i), append(from, at)
			}
		}
		if len(may) == 0 {
			return started, free, now
		}
		k := r.IntN(len(may))
		s.start[may[k]], now = from[k], from[k]
		s.take(&free, may[k])
		started = s.waits(started | 1<<may[k])
	}
	return started, free, now
}

// Nothing ends before its bound, whatever is started: tried in every order. The bound is the longest way to the end and the work left, shared by all.
func TestNoOrderIsBelowItsBound(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 2))
	for trial := range 1000 {
		step := []float64{1, 10, 0.25}[trial%3]
		s := someSearch(r, 2+r.IntN(8), 1+r.IntN(3), step)
		s.prepare()
		started, free, now := s.begin(r, r.IntN(s.n))
		lost := s.narrows.idle(s, started, now)
		if started == s.waits(0) {
			lost = max(lost, s.uneven())
		}
		least := s.bound(started, &free, now, lost)
		if s.n-bits.OnesCount64(started) < 5 {
			assert.LessOrEqual(t, least, s.tryAll(started, now)+1e-9, "%+v", s)
		}

		// Once more, by definition.
		soonest, want := math.Inf(1), 0.0
		end := map[int]float64{}
		for _, i := range s.order[:s.n] {
			from := s.start[i]
			if !has(started, i) {
				if from = 0; s.takes[i] > 0 {
					from = now
				}
				for j := range s.n {
					if has(s.after[i], j) {
						from = max(from, end[j])
					}
				}
				if s.takes[i] > 0 {
					soonest = min(soonest, from)
				}
			}
			end[i] = from + s.time[i]
			want = max(want, from+s.tail[i])
		}
		for k := -1; k < s.n && !math.IsInf(soonest, 1); k++ {
			stretch, work := 0.0, lost
			if k >= 0 {
				if has(started, k) || s.takes[k] == 0 {
					continue
				}
				stretch, work = s.tail[k], 0
			}
			for i := range s.n {
				if !has(started, i) && s.takes[i] > 0 {
					work += float64(s.takes[i]) * max(0, min(s.time[i], s.tail[i]-stretch))
				}
			}
			level := math.Inf(1)
			sum := work
			for p := range s.people {
				sum += max(free[p], soonest)
				level = min(level, sum/float64(p+1))
			}
			if work > 0 {
				want = max(want, level+stretch)
			}
		}
		if s.grid > 0 {
			want = s.first + math.Ceil((want-s.first)/s.grid-1e-9)*s.grid
		}
		assert.InDelta(t, want, least, 1e-9, "%+v", s)
	}
}

// The people of a job are those who have been free for the shortest time, and the list stays in order.
func TestPeopleOfAJob(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 3))
	for range 200 {
		people := 1 + r.IntN(5)
		s := searchOf(people, [3]int{1 + r.IntN(9), 1 + r.IntN(people)})
		var free [mostPeople]float64
		for p := range people {
			free[p] = float64(r.IntN(10))
		}
		slices.Sort(free[:people])
		s.start[0] = free[s.takes[0]-1] + float64(r.IntN(5))
		want := slices.Clone(free[:people])
		for range s.takes[0] {
			last := 0
			for p := range want {
				if want[p] <= s.start[0] {
					last = p
				}
			}
			want[last] = s.start[0] + s.time[0] + 1000 // told apart, so that nobody is taken twice
		}
		for p := range want {
			if want[p] > 900 {
				want[p] -= 1000
			}
		}
		slices.Sort(want)
		s.take(&free, 0)
		assert.Equal(t, want, free[:people])
	}
}

// greedy starts the jobs one after another: whatever can start first, of that the one with the longest tail, of those the first on the list.
func (s *search) greedy() (end float64, start [mostJobs]float64) {
	var started uint64
	var free [mostPeople]float64
	for started != 1<<s.n-1 {
		best, from := -1, math.Inf(1)
		for i := range s.n {
			if has(started, i) || s.after[i]&^started != 0 {
				continue
			}
			at := 0.0
			if s.takes[i] > 0 {
				at = free[s.takes[i]-1]
			}
			for j := range s.n {
				if has(s.after[i], j) {
					at = max(at, start[j]+s.time[j])
				}
			}
			if s.takes[i] == 0 {
				best, from = i, at
				break
			}
			if at < from || at == from && s.tail[i] > s.tail[best] {
				best, from = i, at
			}
		}
		start[best] = from
		if s.takes[best] > 0 {
			s.start[best] = from
			s.take(&free, best)
		}
		started |= 1 << best
		end = max(end, from+s.time[best])
	}
	return end, start
}

// The first try and the first way down the tree both go greedily; the whole tree finds what trying every order finds, without a try before it.
func TestTreeOfStarts(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 4))
	fresh := func(s *search) *search {
		x := *s
		x.best, x.kept = math.Inf(1), make([]state, keptStates)
		return &x
	}
	for trial := range 150 {
		made := someSearch(r, 1+r.IntN(6), 1+r.IntN(3), []float64{1, 60, 0.3}[trial%3])
		plain := *made
		made.prepare()
		s := fresh(made)
		end, start := s.greedy()

		s = fresh(made)
		s.dive(&s.tail)
		assert.Equal(t, end, s.best)
		assert.Equal(t, start, s.bestStart)
		s.best = end
		s.bestStart[0] = -1
		s.dive(&s.tail)
		assert.Equal(t, -1.0, s.bestStart[0], "what is no shorter is not taken")

		s = fresh(made)
		s.steps = searchSteps - bits.OnesCount64(s.manned) - 1
		s.step(0, [mostPeople]float64{}, 0)
		assert.Equal(t, end, s.best, "as many steps as jobs that take people, and one that finds all started")
		assert.Equal(t, start, s.bestStart)

		s = fresh(made)
		s.steps = searchSteps - bits.OnesCount64(s.manned)
		s.step(0, [mostPeople]float64{}, 0)
		assert.Equal(t, math.Inf(1), s.best, "a step too few")

		best := made.tryAll(0, 0)
		all := plain
		total, least := all.run()
		assert.InDelta(t, best, float64(total), 1e-9, "%+v", made)
		assert.Equal(t, total, least)
		s = fresh(made)
		s.step(0, [mostPeople]float64{}, 0)
		assert.InDelta(t, best, s.best, 1e-9, "%+v", made)
		last := 0.0
		for i := range s.n {
			last = max(last, s.bestStart[i]+s.time[i])
		}
		assert.Equal(t, last, s.best)

		s = fresh(made)
		s.best = best
		s.step(0, [mostPeople]float64{}, 0)
		assert.Equal(t, best, s.best, "none is shorter than the shortest")

		s = fresh(made)
		s.least = math.Inf(1)
		s.step(0, [mostPeople]float64{}, 0)
		assert.Equal(t, 1, s.steps, "nothing is sought that cannot be shorter than what is proven")
	}
}

// Quick tries are by the tails, and then by tails that are up to twice as great: worked out from Knuth's numbers with whole numbers of any length.
func TestQuickTries(t *testing.T) {
	s := searchOf(1, [3]int{8, 1}, [3]int{16, 1}, [3]int{32, 1})
	s.prepare()
	var key [mostJobs]float64
	seed := s.shuffle(&key, 1)
	assert.Equal(t, []float64{11.38567304611206, 24.1505184173584, 52.74749946594238}, key[:3])
	assert.Equal(t, uint64(11960119808228829710), seed)
	r := rand.New(rand.NewPCG(31, 7))
	better := 0
	for range 60 {
		made := someSearch(r, 9, 2, 1)
		s := *made
		s.steps = 5_000 // nothing beside them
		total, _ := s.run()
		x := *made
		x.prepare()
		end, _ := x.greedy()
		assert.LessOrEqual(t, float64(total), end)
		if float64(total) < end {
			better++
		}
	}
	assert.Positive(t, better, "now and then they find what the first does not")
	// What the bound proves is proven to the last digit, however binary arithmetic adds it up, and with no step left.
	s = searchOf(1, [3]int{1, 1}, [3]int{2, 1}, [3]int{3, 1})
	copy(s.time[:], []float64{0.1, 0.2, 0.3})
	s.steps = 6_000
	total, least := s.run()
	assert.Equal(t, total, least)
	assert.InDelta(t, 0.6, float64(total), 1e-12)
}

// The tree leaves out what need not be tried: worked out step by step.
func TestWhatIsNotTried(t *testing.T) {
	made := func(people int, jobs ...[3]int) *search {
		s := searchOf(people, jobs...)
		s.prepare()
		s.best, s.kept = math.Inf(1), make([]state, keptStates)
		return s
	}
	// What the bound excludes: three of 5 for one person take 15.
	s := made(1, [3]int{5, 1}, [3]int{5, 1}, [3]int{5, 1})
	s.best = 15
	s.step(0, [mostPeople]float64{}, 0)
	assert.Equal(t, 1, s.steps)
	// What was met before.
	s = made(1, [3]int{5, 1}, [3]int{6, 1})
	s.met(1, 0)
	s.step(1, [mostPeople]float64{5}, 0)
	assert.Equal(t, []float64{1, math.Inf(1)}, []float64{float64(s.steps), s.best})
	// What could have started earlier in the same order: the other branch does so.
	s = made(2, [3]int{10, 1}, [3]int{4, 1})
	s.start[0] = 5
	s.step(1, [mostPeople]float64{3, 15}, 5)
	assert.Equal(t, math.Inf(1), s.best)
	s = made(2, [3]int{10, 1}, [3]int{4, 1})
	s.start[0] = 5
	s.step(1, [mostPeople]float64{5, 15}, 5)
	assert.Equal(t, 15.0, s.best, "at the same moment it may")
	// What starts when another could have been done before it: 0 goes on, 1 takes 2, and 2 waits for 0. A step each.
	for _, c := range []struct{ end, steps int }{{3, 3}, {2, 3}, {1, 4}} {
		s = made(2, [3]int{c.end, 1}, [3]int{2, 1}, [3]int{1, 1, 1})
		s.step(1, [mostPeople]float64{0, float64(c.end)}, 0)
		assert.Equal(t, c.steps, s.steps, "0 ends at %d", c.end)
	}
}

// Sixty jobs fit: in two rows, one behind the other, for two people who do 30 each; and all ten people are counted.
func TestMostJobs(t *testing.T) {
	s := &search{people: 2}
	for i := range mostJobs {
		var after uint64
		if i > 1 {
			after = 1 << (i - 2)
		}
		s.add(60, 1, after)
	}
	total, least := s.run()
	assert.Equal(t, []unit.Duration{1800, 1800}, []unit.Duration{total, least})
	jobs := make([]JobTime, mostJobs)
	s.hand(jobs)
	for _, j := range jobs {
		assert.True(t, j.Critical)
	}
	s = &search{people: mostPeople}
	for range 2 * mostPeople {
		s.add(60, 1, 0)
	}
	total, least = s.run()
	assert.Equal(t, []unit.Duration{120, 120}, []unit.Duration{total, least})
	assert.Equal(t, 60.0, s.filled(&[mostPeople]float64{}, 0, 600))
	assert.Equal(t, 70.0, s.filled(&[mostPeople]float64{}, 10, 600))
}

// What takes nobody starts as soon as what it waits for has ended.
func TestWaitsStartByThemselves(t *testing.T) {
	s := searchOf(1, [3]int{5, 0}, [3]int{7, 0, 1}, [3]int{4, 1}, [3]int{3, 0, 2 | 4}, [3]int{9, 0, 1 | 2})
	s.prepare()
	s.start[1] = 99 // of another try
	assert.Equal(t, uint64(1|2|16), s.waits(0), "4 and 3 wait for work")
	assert.Equal(t, []float64{0, 5, 0, 0, 12}, s.start[:5])
	s.start[2] = 20
	assert.Equal(t, uint64(1|2|4|8|16), s.waits(1|2|4|16))
	assert.Equal(t, 24.0, s.start[3])
	s = searchOf(1, [3]int{5, 1})
	s.prepare()
	assert.Zero(t, s.waits(0))
}

// Jobs are twins if they take the same time and people, and wait for and hold up the same.
func TestTwinJobs(t *testing.T) {
	for _, c := range []struct {
		id   string
		jobs [][3]int
		want bool
	}{
		{"alike", [][3]int{{5, 1}, {5, 1}, {9, 1}}, true},
		{"another time", [][3]int{{5, 1}, {6, 1}, {9, 1}}, false},
		{"more people", [][3]int{{5, 1}, {5, 2}, {9, 1}}, false},
		{"waits for another", [][3]int{{5, 1}, {5, 1, 4}, {9, 1}}, false},
		{"another waits for it", [][3]int{{5, 1}, {5, 1}, {9, 1, 1}}, false},
		{"another waits for both", [][3]int{{5, 1}, {5, 1}, {9, 1, 3}}, true},
	} {
		s := searchOf(2, c.jobs...)
		s.prepare()
		assert.Equal(t, c.want, s.twin([]int{0}, 1), c.id)
		assert.Equal(t, c.want, s.twin([]int{2, 0}, 1), c.id)
		assert.False(t, s.twin(nil, 1), c.id)
	}
	// Three that are alike are gone through once: a step for each, and the last.
	s := searchOf(1, [3]int{5, 1}, [3]int{5, 1}, [3]int{5, 1})
	s.prepare()
	s.best, s.kept, s.grid = math.Inf(1), make([]state, keptStates), 0
	s.step(0, [mostPeople]float64{}, 0)
	assert.Equal(t, 4, s.steps)
}

// A set of started jobs is not gone through again unless something in it is earlier than it was.
func TestMetBefore(t *testing.T) {
	made := func() *search {
		s := searchOf(2, [3]int{10, 1}, [3]int{20, 1}, [3]int{30, 1})
		s.prepare()
		s.kept = make([]state, keptStates)
		s.start[1] = 10 // 10 to 30
		return s
	}
	const both = uint64(1 | 2)
	s := made()
	assert.False(t, s.met(both, 10), "for the first time")
	assert.True(t, s.met(both, 10), "the same")
	assert.True(t, s.met(both, 12), "later")
	assert.False(t, s.met(both|4, 10), "another set")
	for _, c := range []struct {
		id         string
		start, now float64
		want       bool
	}{
		{"what goes on ends at the same time", 10, 10, true},
		{"it ends later", 11, 11, true},
		{"it ends sooner", 9, 10, false},
		{"sooner, but so late that it has ended", 9, 30, true},
		{"all is earlier", 8, 9, false},
		{"the moment is earlier", 10, 9, false},
	} {
		s = made()
		s.met(both, 10)
		s.start[1] = c.start
		assert.Equal(t, c.want, s.met(both, c.now), c.id)
	}
	s = made()
	s.met(both, 10)
	s.start[1] = 5
	s.met(both, 10)
	assert.True(t, s.met(both, 10), "what was met last is kept")
	s.start[1] = 10
	assert.True(t, s.met(both, 10), "and is earlier")

	s = made()
	assert.False(t, s.met(0, 0))
	assert.False(t, s.met(0, 0), "the beginning is always gone through")

	// Two go on beside the moment: each must end no later than it did.
	for _, c := range []struct {
		id     string
		starts [2]float64
		want   bool
	}{
		{"the same", [2]float64{10, 12}, true}, {"the first sooner", [2]float64{9, 12}, false}, {"the second sooner", [2]float64{10, 11}, false}, {"both later", [2]float64{11, 13}, true},
	} {
		s = searchOf(3, [3]int{10, 1}, [3]int{20, 1}, [3]int{30, 1}, [3]int{5, 1})
		s.prepare()
		s.kept = make([]state, keptStates)
		s.start[1], s.start[2] = 10, 12
		s.met(7, 13)
		s.start[1], s.start[2] = c.starts[0], c.starts[1]
		assert.Equal(t, c.want, s.met(7, 13), c.id)
	}

	// Eleven go on, ten of them waits: nothing is kept.
	s = searchOf(1, [3]int{10, 1})
	for range mostPeople {
		s.add(50, 0, 0)
	}
	s.prepare()
	s.kept = make([]state, keptStates)
	all := s.waits(0) | 1
	s.met(all, 0)
	assert.False(t, s.met(all, 0))
	assert.False(t, s.met(all, 10), "nor with ten, for the first time")
	assert.True(t, s.met(all, 10))
}

// The search says whether it is through: with a step more than 5,000 it is not, and what is proven is the bound alone.
func TestStepsOfTheSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 6))
	tried := 0
	for tried < 5 {
		made := someSearch(r, 7, 2, 1)
		s := *made
		s.run()
		first := *made
		first.prepare()
		var free [mostPeople]float64
		root := first.bound(first.waits(0), &free, 0, max(first.narrows.idle(&first, first.waits(0), 0), first.uneven()))
		if s.steps < 3 || root >= s.best {
			continue // proven without the tree
		}
		tried++
		used := s.steps
		s = *made
		s.steps = 5_000 - used
		total, least := s.run()
		assert.Equal(t, total, least)
		s = *made
		s.steps = 5_001 - used
		total, least = s.run()
		assert.Equal(t, unit.Duration(root), least)
		assert.Less(t, least, total)
	}
	s := searchOf(2, [3]int{5, 1}, [3]int{5, 1})
	s.steps = 5_000
	total, least := s.run()
	assert.Equal(t, []unit.Duration{5, 5}, []unit.Duration{total, least}, "what the bound proves takes no step")
	assert.Equal(t, 5_000, s.steps)
}

// Whoever has been free for the shortest time does the next job, the first of them if several have; slack is what the end and the others leave.
func TestWhoDoesWhat(t *testing.T) {
	// Three people: 0 to 4, 0 to 9 and 0 to 6; then 6 to 8 by the third, 8 to 10 by the same, 10 to 15 by two: the third and the second. The job at the
	// end is the first on the list, and a wait of 1 is the last.
	s := searchOf(3, [3]int{5, 2}, [3]int{4, 1}, [3]int{9, 1}, [3]int{6, 1}, [3]int{2, 1}, [3]int{2, 1}, [3]int{1, 0})
	s.prepare()
	s.best = 15
	copy(s.bestStart[:], []float64{10, 0, 0, 0, 6, 8, 0})
	jobs := make([]JobTime, 7)
	s.hand(jobs)
	var who [][]int
	var slack, end []unit.Duration
	for _, j := range jobs {
		who, slack, end = append(who, j.Who), append(slack, j.Slack), append(end, j.End)
		assert.Equal(t, j.Slack == 0, j.Critical)
	}
	assert.Equal(t, [][]int{{2, 3}, {1}, {2}, {3}, {3}, {3}, nil}, who)
	assert.Equal(t, []unit.Duration{0, 11, 1, 0, 0, 0, 14}, slack)
	assert.Equal(t, []unit.Duration{15, 4, 9, 6, 8, 10, 1}, end)
	// The first on the list is done first: 2 and 3 by one, while the other waits for 1; the first may be late by what 3 leaves.
	s = searchOf(2, [3]int{2, 1}, [3]int{9, 1}, [3]int{3, 1})
	s.prepare()
	s.best = 9
	copy(s.bestStart[:], []float64{0, 0, 2})
	jobs = make([]JobTime, 3)
	s.hand(jobs)
	assert.Equal(t, []unit.Duration{4, 0, 4}, []unit.Duration{jobs[0].Slack, jobs[1].Slack, jobs[2].Slack})

	free := [mostPeople]float64{3, 7, 5, 7, 9}
	s.people = 5
	for _, c := range []struct {
		at    float64
		taken []int
		want  int
	}{{8, nil, 1}, {8, []int{2}, 3}, {8, []int{2, 4}, 2}, {6, nil, 2}, {5, nil, 2}, {4, nil, 0}, {2, nil, -1}, {9, nil, 4}} {
		assert.Equal(t, c.want, s.freest(&free, c.at, c.taken), "at %g without %v", c.at, c.taken)
	}
}
