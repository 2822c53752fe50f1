package line

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Times that do not add up lose time of people: worked out by hand.
func TestUnevenTimesByHand(t *testing.T) {
	for _, c := range []struct {
		id   string
		s    *search
		want float64
	}{
		// 60, 60 and 70: in steps of 60 one person is 10 ahead, so that the other loses 10 at least.
		{"one is odd", searchOf(2, [3]int{60, 1}, [3]int{60, 1}, [3]int{70, 1}), 10},
		{"none is odd", searchOf(2, [3]int{60, 1}, [3]int{60, 1}, [3]int{120, 1}), 0},
		{"one person loses nothing", searchOf(1, [3]int{60, 1}, [3]int{60, 1}, [3]int{70, 1}), 0},
		// Two odd ones, 10 each: one for each of the two, and nothing is lost, nor in steps of 70, of which 60 is 10 short.
		{"two are odd, for two", searchOf(2, [3]int{60, 1}, [3]int{60, 1}, [3]int{70, 1}, [3]int{70, 1}), 0},
		{"in steps of 70 one is odd", searchOf(2, [3]int{60, 1}, [3]int{70, 1}, [3]int{70, 1}), 10},
		// Three people: two are 10 ahead, and in steps of 70 two are 10 short, which loses 20.
		{"two are odd, for three", searchOf(3, [3]int{60, 1}, [3]int{60, 1}, [3]int{70, 1}, [3]int{70, 1}), 20},
		// Parted by a job of both: one odd before it and one behind it lose 10 each.
		{"parted", searchOf(2, [3]int{70, 1}, [3]int{60, 2, 1}, [3]int{70, 1, 2}, [3]int{60, 1}), 20},
		// An odd one that may be done before or behind goes to the other.
		{"free to go to either side", searchOf(2, [3]int{70, 1}, [3]int{60, 2, 1}, [3]int{70, 1}, [3]int{60, 1}, [3]int{60, 1}), 0},
		// Before or behind, but not beside that which waits for the job of both.
		{"on the other side", searchOf(2, [3]int{60, 2}, [3]int{70, 1, 1}, [3]int{60, 2, 2}, [3]int{70, 1, 4}, [3]int{60, 1}), 20},
		// Nothing is said of an odd job of several; in steps of 70 three are 10 short together.
		{"an odd job of several", searchOf(3, [3]int{60, 1}, [3]int{60, 1}, [3]int{60, 1}, [3]int{70, 2}), 0},
		{"50 is 10 short", searchOf(2, [3]int{60, 1}, [3]int{50, 1}), 10},
	} {
		c.s.prepare()
		assert.Equal(t, c.want, c.s.uneven(), c.id)
	}
	// Three odd ones are looked at, more are not: 3 times 10 for two people lose 10, in steps of 60; those of 70 and 60 find no less than 0.
	for n, want := range map[int]float64{1: 10, 3: 10, 4: 0} {
		s := searchOf(2, [3]int{60, 1}, [3]int{60, 1}, [3]int{60, 1}, [3]int{60, 1})
		for range n {
			s.add(70, 1, 0)
		}
		s.prepare()
		u := unevenly{step: 60, people: 2}
		few := u.find(s, 0, s.manned)
		assert.Equal(t, n <= 3, few, "%d odd ones", n)
		if few {
			assert.Equal(t, want, u.lost(0))
		}
	}
	s := searchOf(2, [3]int{60, 1}, [3]int{70, 1})
	s.prepare()
	s.grid = 0
	assert.Zero(t, s.uneven(), "times that share no step may add up to anything")
}

// Between jobs that take everybody an odd one goes where it may be: behind what it waits for, before what waits for it.
func TestWhereOddJobsGo(t *testing.T) {
	// 0 to 4 take both, one behind the other; 5 waits for the second and is waited for by the fourth, 6 is free, 7 waits for the last.
	s := searchOf(2, [3]int{60, 2}, [3]int{60, 2, 1}, [3]int{60, 2, 2}, [3]int{60, 2, 4 | 32}, [3]int{60, 2, 8}, [3]int{70, 1, 2}, [3]int{80, 1}, [3]int{90, 1, 16})
	s.prepare()
	u := unevenly{step: 60, people: 2}
	assert.True(t, u.find(s, 1|2|4|8, s.manned&^31))
	assert.Equal(t, 5, u.parts)
	assert.Equal(t, 3, u.n)
	assert.Equal(t, [mostOdd]float64{10, 20, 30}, u.odd)
	assert.Equal(t, [mostOdd]int{2, 0, 4}, u.from)
	assert.Equal(t, [mostOdd]int{3, 4, 4}, u.to)
	u = unevenly{step: 60, people: 2}
	assert.False(t, u.find(s, 1|2|4|8, 0), "none is odd")
	// 10 is alone and loses 10, 20 goes beside 30 and loses 10; in steps of 70, 80 and 90 no more is lost.
	assert.Equal(t, 20.0, s.uneven())
	s = searchOf(2, [3]int{60, 2}, [3]int{60, 2})
	s.prepare()
	assert.Zero(t, s.uneven())
}

// leastLost is what odd jobs of a step lose at least, by all ways to give them to people in the parts where they may be done.
func leastLost(step float64, people, parts int, odd []float64, from, to []int) float64 {
	want := math.Inf(1)
	var done [mostBarriers + 1][mostPeople]float64
	var give func(k int)
	give = func(k int) {
		if k == len(odd) {
			sum := 0.0
			for part := range parts {
				least := math.Inf(1)
				for end := 0.0; end < step; end++ {
					idle := 0.0
					for p := range people {
						idle += math.Mod(end-done[part][p]+10*step, step)
					}
					least = min(least, idle)
				}
				sum += least
			}
			want = min(want, sum)
			return
		}
		for part := from[k]; part <= to[k]; part++ {
			for p := range people {
				done[part][p] += odd[k]
				give(k + 1)
				done[part][p] -= odd[k]
			}
		}
	}
	give(0)
	return want
}

// What uneven times lose, by definition: the most that any step says, with up to four jobs of everybody one behind the other.
func TestUnevenTimesByDefinition(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 2))
	lost := 0
	for range 300 {
		s := someSearch(r, 2+r.IntN(7), 1+r.IntN(3), 6)
		for i := range s.n {
			if r.IntN(4) == 0 {
				s.time[i]++
			}
			if r.IntN(3) == 0 {
				s.takes[i] = s.people
			}
		}
		s.prepare()
		var chain []int
		for _, i := range s.order[:s.n] {
			behind := s.takes[i] == s.people && len(chain) < 4
			for _, k := range chain {
				behind = behind && has(s.before[i], k)
			}
			if behind {
				chain = append(chain, i)
			}
		}
		want := 0.0
		for k := range s.n {
			if s.takes[k] == 0 {
				continue
			}
			var odd []float64
			var from, to []int
			several := false
			for i := range s.n {
				by := math.Mod(s.time[i], s.time[k])
				if s.takes[i] == 0 || s.takes[i] == s.people || by == 0 {
					continue
				}
				several = several || s.takes[i] > 1
				first, last := 0, len(chain)
				for _, c := range chain {
					if has(s.before[i], c) {
						first++
					}
					if has(s.behind[i], c) {
						last--
					}
				}
				odd, from, to = append(odd, by), append(from, first), append(to, last)
			}
			if len(odd) > 0 && len(odd) <= 3 && !several {
				want = max(want, leastLost(s.time[k], s.people, len(chain)+1, odd, from, to))
			}
		}
		if want > 0 {
			lost++
		}
		assert.Equal(t, want, s.uneven(), "%+v", s)
	}
	assert.Greater(t, lost, 30)
}

// What is lost is the least over all ways to give odd jobs to people, and all ways to end together; tried one by one.
func TestLeastIsLostByOddJobs(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 1))
	for range 200 {
		u := unevenly{step: float64(5 + r.IntN(8)), people: 2 + r.IntN(2), n: 1 + r.IntN(3), parts: 1 + r.IntN(3)}
		for k := range u.n {
			u.odd[k] = float64(1 + r.IntN(int(u.step)-1))
			u.from[k] = r.IntN(u.parts)
			u.to[k] = u.from[k] + r.IntN(u.parts-u.from[k])
		}
		want := leastLost(u.step, u.people, u.parts, u.odd[:u.n], u.from[:u.n], u.to[:u.n])
		assert.Equal(t, want, u.lost(0), "%+v", u)
	}
	u := unevenly{step: 10, people: 3}
	// Ending at 3: 3, 0 and 6; at 0: 0, 7 and 3; at 7: 7, 4 and 0.
	assert.Equal(t, 9.0, u.idle(&[mostPeople]float64{0, 3, 7}))
}
