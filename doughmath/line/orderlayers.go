package line

import (
	"cmp"
	"math"
	"slices"
)

// found is the best order that a search came to.
type found struct {
	order  []int
	tally  tally
	least  tally // no order comes to less in any of these
	proven bool  // no order is better
}

// effort is how much work a search may be.
type effort struct {
	steps  int   // places looked at to find an order to start from
	layers bool  // whether the layers are gone through
	below  score // only an order better than this is of use; never for any
	wide   int   // ways of a layer that are followed
}

// usual is the effort for so many runs.
func usual(n int) effort {
	if n <= exactRuns {
		return effort{shortSteps, true, never, wideLayer}
	}
	return effort{longSteps, true, never, wideLayer / 8}
}

// search finds the best order: first a good one by moving runs about, then layer by layer the
// ways in which each set of runs can be made, each dropped if another does no worse in
// all, or if even its bound is no better than the best order known.
//
// Source: M. Held and R. M. Karp, A dynamic programming approach to sequencing problems, SIAM Journal 10 (1962) 196
// (the sets, recalled).
func (o *sequence) search(e effort) (f found) {
	o.prepare()
	f.order = o.start0()
	f.least = o.root()
	goal := o.goal(&f.least)
	o.improve(f.order, e.steps, goal)
	f.tally, _ = o.tally(f.order)
	if !e.layers {
		return f
	}
	best := o.score(f.tally)
	if e.below.less(best) {
		best = e.below
	}
	l := layers{o: o, best: best, dropped: never, keep: e.wide}
	if order := l.run(); order != nil {
		f.order = order
		if l.dropped != never {
			o.improve(f.order, e.steps/10, goal)
		}
		f.tally, _ = o.tally(f.order)
	}
	least := o.score(f.tally)
	if l.dropped.less(least) {
		least = l.dropped
	}
	f.proven = least == o.score(f.tally)
	switch o.aim {
	case LeastLateness:
		f.least.lateness = max(f.least.lateness, least[0])
	case LeastWorst:
		f.least.worst = max(f.least.worst, least[0])
	case EarliestFinish:
		f.least.finish = max(f.least.finish, least[0])
	default:
		f.least.late = max(f.least.late, least[0])
	}
	return f
}

// goal returns a score that no order betters, so that whoever meets it need not look on: of few runs that of the best order, found
// layer by layer in less time than moving them about takes.
func (o *sequence) goal(least *tally) score {
	if len(o.time) <= fewRuns {
		l := layers{o: o, best: never, dropped: never, keep: wideLayer}
		if order := l.run(); order != nil {
			t, _ := o.tally(order)
			return o.score(t)
		}
	}
	return o.score(*least)
}

// root returns what no order at all comes to less than.
func (o *sequence) root() (least tally) {
	n := len(o.time)
	least = tally{math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64, 0}
	for j := range n {
		if o.before[j] != 0 {
			continue
		}
		t := o.step(tally{line: o.start}, n, j)
		b := o.bound(t, j, 1<<j)
		if n == 1 {
			b = o.leave(t, j)
		}
		least.late, least.lateness, least.worst = min(least.late, b.late), min(least.lateness, b.lateness), min(least.worst, b.worst)
		least.finish, least.changing = min(least.finish, b.finish), min(least.changing, b.changing)
	}
	return least
}

// start0 is an order by due time that keeps what must be made before.
func (o *sequence) start0() (order []int) {
	for done := uint64(0); len(order) < len(o.time); {
		for _, j := range o.byDue {
			if done>>j&1 == 0 && o.before[j]&^done == 0 {
				order, done = append(order, j), done|1<<j
				break
			}
		}
	}
	return order
}

// improve moves runs, alone or two or three together, to where they do better, until no move
// helps; then it moves a few at random and tries again, for so many places looked at or until it meets the goal.
func (o *sequence) improve(order []int, steps int, goal score) {
	n := len(order)
	if n < 2 {
		return
	}
	m := mover{o: o, steps: steps, seed: 1, now: slices.Clone(order), try: slices.Clone(order), heads: make([]tally, n+1), sets: make([]uint64, n+1)}
	m.settle(0)
	m.at = m.score(0)
	m.descend()
	best, since := m.at, 0
	copy(order, m.now)
	for m.steps > 0 && goal.less(best) {
		m.kick()
		if m.descend(); m.at.less(best) {
			best = m.at
			copy(order, m.now)
			since = 0
		} else if since++; since%5 == 0 {
			m.back(order, best)
		}
	}
}

// mover moves the runs of an order about.
type mover struct {
	o        *sequence
	steps    int // places that may still be looked at
	seed     uint64
	now, try []int
	at       score    // of now
	heads    []tally  // what the first runs of now come to
	sets     []uint64 // and which they are
}

// back goes back to an order with its score.
func (m *mover) back(order []int, at score) {
	copy(m.now, order)
	m.settle(0)
	m.at = at
}

// settle takes up that now has changed from a place on.
func (m *mover) settle(from int) {
	n := len(m.now)
	if from == 0 {
		m.heads[0] = tally{line: m.o.start}
	}
	for k := from; k < n; k++ {
		last := n
		if k > 0 {
			last = m.now[k-1]
		}
		m.heads[k+1], m.sets[k+1] = m.o.step(m.heads[k], last, m.now[k]), m.sets[k]|1<<m.now[k]
	}
}

// score is that of try, which is as now is up to a place; never if its precedence does not hold.
func (m *mover) score(from int) score {
	n := len(m.try)
	m.steps -= n - from
	t, done, last := m.heads[from], m.sets[from], n
	if from > 0 {
		last = m.try[from-1]
	}
	for _, j := range m.try[from:] {
		if m.o.before[j]&^done != 0 {
			return never
		}
		t = m.o.step(t, last, j)
		last, done = j, done|1<<j
	}
	return m.o.score(m.o.leave(t, last))
}

// take makes try what is now, if it is better.
func (m *mover) take(from int) bool {
	s := m.score(from)
	if !s.less(m.at) {
		return false
	}
	m.at = s
	copy(m.now, m.try)
	m.settle(from)
	return true
}

// descend takes every move that helps until none does.
func (m *mover) descend() {
	n := len(m.now)
	for better := true; better; {
		better = false
		for size := 1; size <= 3; size++ {
			for i := 0; i+size <= n; i++ {
				for to := 0; to+size <= n && m.steps > 0; to++ {
					if to != i {
						shift(m.try, m.now, i, size, to)
						better = m.take(min(i, to)) || better
					}
				}
			}
		}
		for i := range n {
			for j := i + 1; j < n && m.steps > 0; j++ {
				copy(m.try, m.now)
				m.try[i], m.try[j] = m.try[j], m.try[i]
				better = m.take(i) || better
			}
		}
	}
}

// kick moves a few at random.
func (m *mover) kick() {
	n := len(m.now)
	for range 1 + m.random(3) {
		size := 1 + m.random(min(3, n-1))
		shift(m.try, m.now, m.random(n-size+1), size, m.random(n-size+1))
		if s := m.score(0); s != never {
			m.at = s
			copy(m.now, m.try)
			m.settle(0)
		}
	}
}

func (m *mover) random(below int) int {
	m.seed = scrambled(m.seed)
	return int(m.seed>>33) % below
}

// scrambled is the next of the random numbers that are the same each time.
func scrambled(seed uint64) uint64 { return seed*6364136223846793005 + 1442695040888963407 }

// shift puts into dst the list with so many runs from i moved so that the first stands at to.
func shift(dst, list []int, i, size, to int) {
	moved := list[i : i+size]
	if to < i {
		copy(dst, list[:to])
		copy(dst[to:], moved)
		copy(dst[to+size:], list[to:i])
		copy(dst[i+size:], list[i+size:])
		return
	}
	copy(dst, list[:i])
	copy(dst[i:], list[i+size:to+size])
	copy(dst[to:], moved)
	copy(dst[to+size:], list[to+size:])
}

// way is one way of making a set of runs.
type way struct {
	done  uint64
	tally tally
	bound score
	from  int32 // in the layer before
	same  int32 // the next way that ends the same set with the same run, or -1
	last  uint8
	worse bool // than another of the same set and end
}

// ending is a set of runs and the last of them.
type ending struct {
	done uint64
	last uint8
}

// trace is what is kept of a way, to find the order in the end.
type trace struct {
	from int32
	last uint8
}

// layers goes through the sets of runs, one run more each time.
type layers struct {
	o       *sequence
	best    score
	dropped score // the best that a way not followed might have come to
	keep    int   // ways of a layer
	next    []way
	heads   map[ending]int32
}

// run returns an order better than the best known, or nil if it finds none.
func (l *layers) run() []int {
	n := len(l.o.time)
	now := []way{{tally: tally{line: l.o.start}, last: uint8(n)}}
	kept := make([][]trace, 0, n)
	for range n {
		l.next, l.heads = nil, map[ending]int32{}
		for i := range now {
			l.extend(&now[i], int32(i))
		}
		l.narrow(l.keep)
		now = l.next
		list := make([]trace, len(now))
		for i := range now {
			list[i] = trace{now[i].from, now[i].last}
		}
		kept = append(kept, list)
	}
	winner := -1
	for i := range now {
		if winner < 0 || now[i].bound.less(now[winner].bound) {
			winner = i
		}
	}
	if winner < 0 {
		return nil
	}
	order := make([]int, n)
	for k, i := n-1, int32(winner); k >= 0; k-- {
		order[k], i = int(kept[k][i].last), kept[k][i].from
	}
	return order
}

// extend makes one more run after a way.
func (l *layers) extend(w *way, from int32) {
	o := l.o
	n := len(o.time)
	for j := range n {
		if w.done>>j&1 == 1 || o.before[j]&^w.done != 0 {
			continue
		}
		x := way{done: w.done | 1<<j, tally: o.step(w.tally, int(w.last), j), from: from, last: uint8(j)}
		if x.done == 1<<n-1 {
			x.bound = o.score(o.leave(x.tally, j))
		} else {
			x.bound = o.score(o.bound(x.tally, j, x.done))
		}
		if !x.bound.less(l.best) {
			continue
		}
		l.take(x)
	}
	if len(l.next) >= 2*l.keep {
		l.narrow(l.keep)
	}
}

// take keeps a way unless another does no worse.
func (l *layers) take(x way) {
	end := ending{x.done, x.last}
	head, met := l.heads[end]
	if !met {
		head = -1
	}
	for i := head; i >= 0; i = l.next[i].same {
		switch other := &l.next[i]; {
		case l.o.noWorse(&other.tally, &x.tally):
			return
		case l.o.noWorse(&x.tally, &other.tally):
			other.worse = true
		}
	}
	x.same = head
	l.heads[end] = int32(len(l.next))
	l.next = append(l.next, x)
}

// noWorse reports whether whatever follows both ways comes to no more after t than after u.
func (o *sequence) noWorse(t, u *tally) bool {
	if t.line > u.line || t.late > u.late || t.changing > u.changing {
		return false
	}
	if o.aim == LeastWorst {
		return t.worst <= u.worst
	}
	return t.lateness <= u.lateness
}

// narrow forgets the ways that are worse than another, and of the others all but the best if they
// are too many: from then on the search is only a good one.
func (l *layers) narrow(most int) {
	l.next = slices.DeleteFunc(l.next, func(w way) bool { return w.worse })
	if len(l.next) > most {
		slices.SortFunc(l.next, func(a, b way) int {
			return cmp.Or(slices.Compare(a.bound[:], b.bound[:]), cmp.Compare(a.done, b.done), cmp.Compare(a.last, b.last), cmp.Compare(a.from, b.from))
		})
		if cut := l.next[narrowLayer].bound; cut.less(l.dropped) {
			l.dropped = cut
		}
		l.keep = narrowLayer
		l.next = l.next[:narrowLayer]
	}
	l.heads = map[ending]int32{} // to clear one that was large takes longer
	for i := range l.next {
		w := &l.next[i]
		end := ending{w.done, w.last}
		w.same = -1
		if head, met := l.heads[end]; met {
			w.same = head
		}
		l.heads[end] = int32(i)
	}
}
