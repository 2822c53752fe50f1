package line

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A stop, the work behind it and a start are narrow for two people, as little can be done beside them; worked out by hand.
func TestNarrowsByHand(t *testing.T) {
	// 0 waits 30; 1 is the stop, 2 and 3 are done behind it, 4 is the start; 5 may be done at any time behind the wait.
	s := searchOf(2, [3]int{30, 0}, [3]int{10, 1, 1}, [3]int{20, 1, 2}, [3]int{30, 1, 2}, [3]int{5, 1, 4 | 8}, [3]int{7, 1, 1})
	s.prepare()
	w := &s.narrows
	// Beside the stop 7 of 10, beside 3 both 20 and 7 of 30, beside the start 5 of 5, beside 2 more than its time: by what they leave,
	// stop, 3 and start; 2 is not one behind the other with 3.
	assert.Equal(t, []int{1, 3, 4}, w.jobs[:w.n])
	assert.Equal(t, []float64{10, 30, 5}, w.room[:w.n])
	assert.Equal(t, []int{2, 5}, w.fillers[:w.m])
	assert.Equal(t, []uint64{0b10, 0b11, 0b10}, w.beside[:w.n])
	assert.Equal(t, []float64{0, 0, 0}, w.gap[:w.n])
	// 2 beside 3 leaves 10; 5 from the stop on, whose 3 are left, into 3, whose 3 are left; 5 of the start.
	assert.Equal(t, 11.0, w.idle(s, 1, 0))
	// When the stop has started, 3 of them come to 30 - 20 - 7 and 5 - 5, as 5 may last from 3 into the start.
	assert.Equal(t, 3.0, w.idle(s, 1|2, 30))
	// 5 has ended at 37: nothing but 2 is left for 3.
	s.start[5] = 30
	assert.Equal(t, 3.0, w.idle(s, 1|2|32, 36.5), "it still goes on")
	assert.Equal(t, 15.0, w.idle(s, 1|2|32, 37))
	assert.Equal(t, 5.0, w.idle(s, 1|2|4|8|32, 90), "the start is left, with nothing beside it")
	assert.Zero(t, w.idle(s, 63, 95), "all is started")
	// Work that all wait for takes its own time between two narrows: 50 by one, or 60 together by two.
	for _, c := range []struct {
		between [][3]int
		want    float64
	}{
		{nil, 0},
		{[][3]int{{50, 1, 1}}, 50},
		{[][3]int{{50, 1, 1}, {50, 1, 1}, {20, 1, 1}}, 60},
		{[][3]int{{50, 1, 1}, {30, 1, 2}}, 80},
		{[][3]int{{50, 0, 1}, {30, 2, 1}}, 50},
		{[][3]int{{20, 0, 1}, {30, 2, 1}}, 30},
	} {
		list := append([][3]int{{10, 1}}, c.between...)
		list = append(list, [3]int{5, 1, 1<<(len(c.between)+1) - 1}, [3]int{500, 1})
		s = searchOf(2, list...)
		s.prepare()
		assert.Equal(t, c.want, s.between(0, len(c.between)+1), c.between)
	}
}

// Up to six jobs may be done beside a narrow one, and beside all narrow ones together; four are looked at, the narrowest.
func TestHowManyNarrows(t *testing.T) {
	for n, want := range map[int]int{5: 1, 6: 1, 7: 0} {
		s := searchOf(2, [3]int{100, 1})
		for range n {
			s.add(7, 1, 0)
		}
		// They wait for one another, so that each has but one beside it; those are narrower than nothing.
		s.prepare()
		found := false
		for _, i := range s.narrows.jobs[:s.narrows.n] {
			found = found || i == 0
		}
		assert.Equal(t, want == 1, found, "%d beside it", n)
	}
	// Beside 0 are 2, 3 and 4, beside 1, which waits for them, so many others.
	for others, want := range map[int]int{3: 2, 4: 1} {
		s := searchOf(2, [3]int{100, 1}, [3]int{90, 1, 1 | 4 | 8 | 16}, [3]int{1, 1}, [3]int{1, 1}, [3]int{1, 1})
		for range others {
			s.add(2, 1, 1)
		}
		s.prepare()
		w := &s.narrows
		assert.Equal(t, 0, w.jobs[0])
		assert.Equal(t, want, w.n, "%d others", others)
	}
	// Five one behind the other, the third with most beside it.
	s := searchOf(2, [3]int{50, 1}, [3]int{40, 1, 1}, [3]int{10, 1, 2}, [3]int{30, 1, 4}, [3]int{20, 1, 8}, [3]int{10, 1})
	s.prepare()
	w := &s.narrows
	assert.Equal(t, []int{0, 1, 3, 4}, w.jobs[:w.n])
	assert.Equal(t, []float64{0, 0, 10, 0}, w.gap[:w.n], "the third lies between")
	// Whoever needs both people is not beside a job, nor is what takes nobody.
	s = searchOf(2, [3]int{50, 1}, [3]int{10, 2}, [3]int{10, 0}, [3]int{20, 1})
	s.prepare()
	w = &s.narrows
	assert.Equal(t, []int{0}, w.jobs[:w.n])
	assert.Equal(t, []int{3}, w.fillers[:w.m])
	assert.Equal(t, 30.0, w.idle(s, 0, 0))
	s = searchOf(2, [3]int{50, 1}, [3]int{10, 2, 1}, [3]int{20, 1})
	s.prepare()
	assert.Equal(t, []int{0}, s.narrows.jobs[:s.narrows.n], "what takes everybody loses nothing")
	// Three people leave two beside a job: twice its time, less 2 times 10 and 20.
	s = searchOf(3, [3]int{50, 1}, [3]int{10, 2}, [3]int{20, 1})
	s.prepare()
	assert.Equal(t, 100.0, s.narrows.room[0])
	assert.Equal(t, 60.0, s.narrows.idle(s, 0, 0))
}

// Which jobs are narrow, and what may be done beside them, by definition: tried on jobs at random, many of them one behind the other.
func TestNarrowsByDefinition(t *testing.T) {
	r := rand.New(rand.NewPCG(32, 2))
	type narrow struct {
		job    int
		beside []int
		spare  float64
	}
	several := 0
	for range 400 {
		s := someSearch(r, 2+r.IntN(9), 2+r.IntN(2), 1)
		for i := 1; i < s.n && r.IntN(2) == 0; i++ {
			s.after[i] |= 1 << (i - 1)
			for j := i; j < s.n; j++ { // so that they do not wait in a circle
				s.after[i-1] &^= 1 << j
			}
		}
		s.after[s.n-1] &^= 1 << (s.n - 1)
		if !ordered(s) {
			continue
		}
		s.prepare()
		apart := func(i, j int) bool {
			return i != j && !has(s.before[i]|s.before[j], i) && !has(s.before[i]|s.before[j], j)
		}
		var list []narrow
		for i := range s.n {
			k, others := narrow{job: i}, s.people-s.takes[i]
			k.spare = -float64(others) * s.time[i]
			for j := range s.n {
				if apart(i, j) && s.takes[j] > 0 && s.takes[j] <= others {
					k.beside = append(k.beside, j)
					k.spare += float64(s.takes[j]) * min(s.time[i], s.time[j])
				}
			}
			if s.takes[i] > 0 && others > 0 && len(k.beside) <= 6 {
				list = append(list, k)
			}
		}
		slices.SortStableFunc(list, func(a, b narrow) int { return cmp.Compare(a.spare, b.spare) })
		var chosen, fillers []int
		for _, k := range list {
			together := slices.Concat(fillers, k.beside)
			slices.Sort(together)
			together = slices.Compact(together)
			if len(chosen) < 4 && len(together) <= 6 && !slices.ContainsFunc(chosen, func(i int) bool { return apart(i, k.job) }) {
				chosen, fillers = append(chosen, k.job), together
			}
		}
		slices.SortFunc(chosen, func(a, b int) int { return cmp.Compare(slices.Index(s.order[:s.n], a), slices.Index(s.order[:s.n], b)) })
		w := &s.narrows
		if !assert.Equal(t, chosen, append([]int(nil), w.jobs[:w.n]...), "%+v", s) && len(chosen) != w.n {
			continue
		}
		assert.ElementsMatch(t, fillers, w.fillers[:w.m])
		for a, i := range chosen {
			assert.Equal(t, float64(s.people-s.takes[i])*s.time[i], w.room[a])
			for f, j := range fillers {
				assert.Equal(t, apart(i, j) && s.takes[j] <= s.people-s.takes[i], has(w.beside[a], f), "%d beside %d", j, i)
			}
			if a > 0 {
				assert.Equal(t, s.between(chosen[a-1], i), w.gap[a])
				several++
			}
		}
	}
	assert.Greater(t, several, 100)
}

// ordered reports whether no jobs wait for one another in a circle.
func ordered(s *search) bool {
	done := uint64(0)
	for range s.n {
		for i := range s.n {
			if s.after[i]&^done == 0 {
				done |= 1 << i
			}
		}
	}
	return done == 1<<s.n-1
}

// What is lost in narrows is the least over all ways to place what may be done beside them, tried one by one.
func TestLeastIsLost(t *testing.T) {
	r := rand.New(rand.NewPCG(32, 1))
	for trial := range 300 {
		step := []float64{1, 0.001}[trial%2] // whatever the times are counted in
		s := &search{people: 2 + r.IntN(2), n: 8}
		w := &s.narrows
		w.n, w.m = 1+r.IntN(4), r.IntN(4)
		for a := range w.n {
			w.jobs[a] = a
			s.time[a], s.takes[a] = step*float64(5+r.IntN(20)), 1
			w.room[a] = float64(s.people-1) * s.time[a]
			w.beside[a] = uint64(r.IntN(1 << w.m))
			if a > 0 {
				w.gap[a] = step * float64(r.IntN(3)*5)
			}
		}
		for f := range w.m {
			w.fillers[f] = 4 + f
			s.time[4+f], s.takes[4+f] = step*float64(5+5*r.IntN(6)), 1+r.IntN(s.people-1)
		}
		first, left := r.IntN(w.n), uint64(r.IntN(1<<w.m))
		want := math.Inf(1)
		var place func(f int, room [mostNarrows]float64)
		place = func(f int, room [mostNarrows]float64) {
			if f == w.m {
				sum := 0.0
				for _, x := range room[first:w.n] {
					sum += max(0, x)
				}
				want = min(want, sum)
				return
			}
			any := false
			for a := first; a < w.n && has(left, f); a++ {
				if !has(w.beside[a], f) {
					continue
				}
				any = true
				then, from := room, 0.0 // from: when the narrow begins, if the job begins as the first of them ends
				for b := a; b < w.n && has(w.beside[b], f); b++ {
					if b > a {
						if from += w.gap[b]; from >= s.time[4+f] {
							break
						}
						from += s.time[b]
					}
					then[b] -= float64(s.takes[4+f]) * min(s.time[4+f], s.time[b])
				}
				place(f+1, then)
			}
			if !any {
				place(f+1, room)
			}
		}
		place(0, w.room)
		assert.InDelta(t, want, w.lost(s, first, left, w.room), 1e-9)
	}
}
