package line

import (
	"math"
	"math/bits"
)

const (
	mostOdd      = 3
	mostBarriers = 4
)

// uneven returns how much time of people cannot but be lost because times do not add up: at a job that takes everybody all
// begin together, so that between two of them each of the people works and idles for the same time. Where
// all times but a few odd ones are whole numbers of a step, those who do the odd ones do not end with the others.
func (s *search) uneven() float64 {
	if s.grid == 0 {
		return 0
	}
	var chain, all uint64 // jobs that take everybody, one behind the other
	for _, i := range s.order[:s.n] {
		if s.takes[i] == s.people && chain&^s.before[i] == 0 && bits.OnesCount64(chain) < mostBarriers {
			chain |= 1 << i
		}
		if s.takes[i] == s.people {
			all |= 1 << i
		}
	}
	lost := 0.0
	for rest := s.manned; rest != 0; rest &= rest - 1 {
		u := unevenly{step: s.time[bits.TrailingZeros64(rest)], people: s.people}
		if u.find(s, chain, s.manned&^all) {
			lost = max(lost, u.lost(0))
		}
	}
	return lost
}

// unevenly is a way to look for lost time: the odd jobs of one step, and what each of the people has done of them
// before, between and after the jobs that take everybody.
type unevenly struct {
	step     float64
	people   int
	n, parts int
	odd      [mostOdd]float64 // by how much each job is off the step
	from, to [mostOdd]int     // between which jobs that take everybody it may be done
	done     [mostBarriers + 1][mostPeople]float64
}

// find finds the odd jobs, and reports whether they are few.
func (u *unevenly) find(s *search, chain, jobs uint64) bool {
	u.parts = bits.OnesCount64(chain) + 1
	for rest := jobs; rest != 0; rest &= rest - 1 {
		i := bits.TrailingZeros64(rest)
		odd := math.Mod(s.time[i], u.step)
		if odd == 0 {
			continue
		}
		if u.n == mostOdd || s.takes[i] > 1 {
			return false
		}
		u.odd[u.n] = odd
		u.from[u.n] = bits.OnesCount64(chain & s.before[i])
		u.to[u.n] = u.parts - 1 - bits.OnesCount64(chain&s.behind[i])
		u.n++
	}
	return u.n > 0
}

// lost gives the odd jobs to people, one by one, in whatever way loses least.
func (u *unevenly) lost(k int) float64 {
	if k == u.n {
		sum := 0.0
		for part := range u.parts {
			sum += u.idle(&u.done[part])
		}
		return sum
	}
	least := math.Inf(1)
	for part := u.from[k]; part <= u.to[k]; part++ {
		for p := range u.people {
			was := u.done[part][p]
			u.done[part][p] = math.Mod(was+u.odd[k], u.step)
			least = min(least, u.lost(k+1))
			u.done[part][p] = was
			if was == 0 {
				break // those who have done none are alike
			}
		}
	}
	return least
}

// idle returns how long people idle at least until all end together.
func (u *unevenly) idle(done *[mostPeople]float64) float64 {
	least := math.Inf(1)
	for _, end := range done[:u.people] {
		sum := 0.0
		for _, d := range done[:u.people] {
			if d > end {
				d -= u.step
			}
			sum += end - d
		}
		least = min(least, sum)
	}
	return least
}
