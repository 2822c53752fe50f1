package line

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// narrows are jobs, one behind the other, beside which so little else can be done that people must idle, such as the
// stop and the start of a line: whatever is done beside one of them is not done beside another, unless it lasts from one to the other.
type narrows struct {
	n, m    int
	jobs    [mostNarrows]int     // in the order in which they are done
	gap     [mostNarrows]float64 // least time between the one before and this
	room    [mostNarrows]float64 // time of people that each leaves over, of all together
	fillers [mostFillers]int     // what may be done beside any of them
	beside  [mostNarrows]uint64  // what of the fillers may be done beside each
}

const (
	mostNarrows = 4
	mostFillers = 6
)

// find finds where the jobs of a search are narrow.
func (w *narrows) find(s *search) {
	type place struct {
		job    int
		beside uint64
		spare  float64 // what could be done beside it, less the time for it
	}
	var places [mostJobs]place
	n := 0
	for i := range s.n {
		others := s.people - s.takes[i]
		if s.takes[i] == 0 || others == 0 {
			continue
		}
		k := place{job: i, spare: -float64(float64(others) * s.time[i])}
		for rest := (1<<s.n - 1) &^ (s.behind[i] | s.before[i] | 1<<i); rest != 0; rest &= rest - 1 {
			if j := bits.TrailingZeros64(rest); s.takes[j] > 0 && s.takes[j] <= others {
				k.beside |= 1 << j
				k.spare += float64(float64(s.takes[j]) * min(s.time[j], s.time[i]))
			}
		}
		if bits.OnesCount64(k.beside) <= mostFillers {
			places[n] = k
			n++
		}
	}
	slices.SortStableFunc(places[:n], func(a, b place) int { return cmp.Compare(a.spare, b.spare) })
	var chosen, beside uint64
	for _, k := range places[:n] {
		if w.n < mostNarrows && chosen&^(s.behind[k.job]|s.before[k.job]) == 0 && bits.OnesCount64(beside|k.beside) <= mostFillers {
			chosen |= 1 << k.job
			beside |= k.beside
			w.n++
		}
	}
	for rest := beside; rest != 0; rest &= rest - 1 {
		w.fillers[w.m] = bits.TrailingZeros64(rest)
		w.m++
	}
	a := 0
	for _, i := range s.order[:s.n] {
		if chosen>>i&1 == 0 {
			continue
		}
		w.jobs[a], w.room[a] = i, float64(float64(s.people-s.takes[i])*s.time[i])
		for f, j := range w.fillers[:w.m] {
			if (s.behind[i]|s.before[i])>>j&1 == 0 && s.takes[j] <= s.people-s.takes[i] {
				w.beside[a] |= 1 << f
			}
		}
		if a > 0 {
			w.gap[a] = s.between(w.jobs[a-1], i)
		}
		a++
	}
}

// between returns the least time from the end of a job to the start of one that waits for it.
func (s *search) between(first, last int) float64 {
	var end [mostJobs]float64
	work := 0.0
	way := s.behind[first] & s.before[last]
	longest := 0.0
	for _, i := range s.order[:s.n] {
		if way>>i&1 == 0 {
			continue
		}
		for rest := s.after[i] & way; rest != 0; rest &= rest - 1 {
			end[i] = max(end[i], end[bits.TrailingZeros64(rest)])
		}
		end[i] += s.time[i]
		longest = max(longest, end[i])
		work += float64(float64(s.takes[i]) * s.time[i])
	}
	return max(longest, work/float64(s.people))
}

// idle returns how much time of people cannot but be lost in the narrows that were not started, with whatever still can be
// done beside them.
func (w *narrows) idle(s *search, started uint64, now float64) float64 {
	first := 0
	for first < w.n && started>>w.jobs[first]&1 == 1 {
		first++
	}
	var left uint64
	for f, j := range w.fillers[:w.m] {
		if started>>j&1 == 0 || s.start[j]+s.time[j] > now {
			left |= 1 << f
		}
	}
	return w.lost(s, first, left, w.room)
}

// lost places the fillers that are left, one by one, where they leave the least room.
func (w *narrows) lost(s *search, first int, left uint64, room [mostNarrows]float64) float64 {
	sum := 0.0
	for _, r := range room[first:w.n] {
		sum += r
	}
	if left == 0 {
		return sum
	}
	f := bits.TrailingZeros64(left)
	left &^= 1 << f
	j := w.fillers[f]
	least := math.Inf(1)
	for a := first; a < w.n && least > 0; a++ {
		if w.beside[a]>>f&1 == 0 {
			continue
		}
		// It goes on to the next if the way there is short enough.
		then, away := room, 0.0
		for b := a; b < w.n && w.beside[b]>>f&1 == 1; b++ {
			if b > a {
				if away += w.gap[b]; away >= s.time[j] {
					break // it has ended before the next begins
				}
				away += s.time[w.jobs[b]]
			}
			then[b] = max(0, then[b]-float64(float64(s.takes[j])*min(s.time[j], s.time[w.jobs[b]])))
		}
		least = min(least, w.lost(s, first, left, then))
	}
	if math.IsInf(least, 1) {
		return w.lost(s, first, left, room)
	}
	return least
}
