package line

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var everyAim = [...]OrderAim{FewestLate, LeastLateness, LeastWorst, EarliestFinish}

// bestOf tries every order and returns the best score.
func (o *sequence) bestOf() (best score) {
	best = never
	o.everyWay(func(order []int) {
		t, _ := o.tally(order)
		if s := o.score(t); s.less(best) {
			best = s
		}
	})
	return best
}

// What is aimed at comes first, then what the comments on the aims say, in their order.
func TestScoreOfAnAim(t *testing.T) {
	x := tally{late: 1, lateness: 2, worst: 3, finish: 4, changing: 5, line: 6}
	for aim, want := range map[OrderAim]score{FewestLate: {1, 2, 4, 5}, LeastLateness: {2, 1, 4, 5}, LeastWorst: {3, 1, 4, 5}, EarliestFinish: {4, 1, 2, 5}} {
		assert.Equal(t, want, (&sequence{aim: aim}).score(x), aim)
	}
	assert.True(t, score{1, 2, 3, 4}.less(score{1, 2, 3, 5}))
	assert.False(t, score{1, 2, 3, 4}.less(score{1, 2, 3, 4}))
	assert.False(t, score{1, 3, 3, 4}.less(score{1, 2, 9, 9}))
}

// Runs are taken out and put back so that the first of them stands at a place.
func TestShiftOfRuns(t *testing.T) {
	for n := 1; n <= 6; n++ {
		list := make([]int, n)
		for i := range list {
			list[i] = i
		}
		for size := 1; size <= n; size++ {
			for i := 0; i+size <= n; i++ {
				for to := 0; to+size <= n; to++ {
					want := slices.Insert(slices.Delete(slices.Clone(list), i, i+size), to, list[i:i+size]...)
					got := slices.Repeat([]int{-1}, n)
					shift(got, list, i, size, to)
					assert.Equal(t, want, got, "%d from %d to %d", size, i, to)
				}
			}
		}
	}
}

// moverOf is a mover that stands at an order.
func moverOf(o *sequence, order []int, steps int, seed uint64) mover {
	n := len(order)
	m := mover{o: o, steps: steps, seed: seed, now: slices.Clone(order), try: slices.Clone(order), heads: make([]tally, n+1), sets: make([]uint64, n+1)}
	m.settle(0)
	return m
}

// What a mover keeps of its order is what its runs come to one by one, and a try counts as it would in full.
func TestMoverCountsAsInFull(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 1))
	for trial := range 60 {
		n := 2 + r.IntN(5)
		o := someSequence(r, n, everyAim[trial%4])
		o.prepare()
		order := o.start0()
		m := moverOf(o, order, 1000, uint64(trial))
		for range 8 {
			head, last, set := tally{line: o.start}, n, uint64(0)
			for k, j := range m.now {
				assert.Equal(t, head, m.heads[k])
				assert.Equal(t, set, m.sets[k])
				head, last, set = o.step(head, last, j), j, set|1<<j
			}
			assert.Equal(t, head, m.heads[n])
			from, i, j := r.IntN(n), r.IntN(n), r.IntN(n)
			copy(m.try, m.now)
			if from = min(from, i, j); i != j {
				m.try[i], m.try[j] = m.try[j], m.try[i]
			}
			want := never
			if all, allowed := o.tally(m.try); allowed {
				want = o.score(all)
			}
			left := m.steps
			assert.Equal(t, want, m.score(from), "%v from place %d on", m.try, from)
			assert.Equal(t, left-(n-from), m.steps, "so many places are looked at")
			if want != never {
				copy(m.now, m.try)
				m.settle(from)
			}
		}
	}
}

// The random numbers are those of Knuth's linear congruential generator (MMIX; The Art of Computer Programming 2, 3.3.4), the same each time:
// worked out from 1 with whole numbers of any length.
func TestMovesAreTheSameEachTime(t *testing.T) {
	m := mover{seed: 1}
	var got []int
	for _, below := range []int{3, 7, 10, 1000, 60} {
		got = append(got, m.random(below))
	}
	assert.Equal(t, []int{2, 1, 6, 870, 54}, got)
}

// A few runs moved at random leave an order that is allowed, each run once, and its score with it; in time every order is met.
func TestKickKeepsTheOrderAllowed(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 2))
	for n := 2; n <= 4; n++ {
		o := someSequence(r, n, FewestLate)
		all, met := 0, map[string]bool{}
		o.everyWay(func([]int) { all++ })
		o.prepare()
		order := o.start0()
		m := moverOf(o, order, 1000, 1)
		for range 300 {
			m.kick()
			k, allowed := o.tally(m.now)
			require.True(t, allowed)
			require.Equal(t, o.score(k), m.at)
			require.Equal(t, k, o.leave(m.heads[n], m.now[n-1]))
			var key strings.Builder
			for _, j := range m.now {
				key.WriteString(string(rune('a' + j)))
			}
			met[key.String()] = true
		}
		assert.Len(t, met, all, "of %d", n)
	}
}

// Moving runs about ends where no move of one, two or three together and no exchange helps; with places to look at it meets the best.
func TestMovingAboutEndsWhereNothingHelps(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 3))
	for trial := range 120 {
		n := 1 + r.IntN(6)
		o := someSequence(r, n, everyAim[trial%4])
		o.prepare()
		order := o.start0()
		if n > 1 {
			m := moverOf(o, order, 1_000_000, 1)
			m.at = m.score(0)
			m.descend()
			at, allowed := o.tally(m.now)
			require.True(t, allowed)
			assert.Equal(t, o.score(at), m.at)
			down := slices.Clone(order)
			o.improve(down, 1_000_000, never)
			assert.Equal(t, m.now, down, "what is as good as the goal ends on the first way down")
			try := make([]int, n)
			better := func() bool {
				k, allowed := o.tally(try)
				return allowed && o.score(k).less(m.at)
			}
			for i := range n {
				for j := range n {
					copy(try, m.now)
					try[i], try[j] = try[j], try[i]
					assert.False(t, better(), "%v instead of %v", try, m.now)
					for size := 1; size <= min(3, n-1) && max(i, j)+size <= n; size++ {
						shift(try, m.now, i, size, j)
						assert.False(t, better(), "%v instead of %v", try, m.now)
					}
				}
			}
		}
		best := o.bestOf()
		o.improve(order, 1<<30, best)
		k, allowed := o.tally(order)
		require.True(t, allowed)
		assert.Equal(t, best, o.score(k), "%d runs, %s", n, o.aim)
	}
}

// So it does with eight runs, of which four may stand before and behind a move of three.
func TestMovingEightAboutEndsWhereNothingHelps(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 8))
	const n = 8
	try := make([]int, n)
	for trial := range 120 {
		o := someSequence(r, n, everyAim[trial%4])
		o.prepare()
		m := moverOf(o, o.start0(), 1_000_000, 1)
		m.at = m.score(0)
		m.descend()
		for size := 1; size <= 3; size++ {
			for i := 0; i+size <= n; i++ {
				for to := 0; to+size <= n; to++ {
					shift(try, m.now, i, size, to)
					k, allowed := o.tally(try)
					require.False(t, allowed && o.score(k).less(m.at), "%v instead of %v", try, m.now)
				}
			}
		}
	}
}

// Nothing is moved where there are no places to look at or the goal is met, beyond the first way down.
func TestMovingAboutStops(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 4))
	for range 20 {
		o := someSequence(r, 5, FewestLate)
		o.prepare()
		order := o.start0()
		was := slices.Clone(order)
		o.improve(order, 0, never)
		assert.Equal(t, was, order)
		o.improve(order, 5, never) // one look at the order itself
		assert.Equal(t, was, order)
	}
	one := newSequence(1, FewestLate)
	one.time[0] = 5 // so that there is something better than its finish, were there a way
	one.prepare()
	order := []int{0}
	one.improve(order, 1000, score{})
	assert.Equal(t, []int{0}, order, "one run stays where it is")
}

// A mover that goes back to an order stands there with all that it keeps of it.
func TestMoverGoesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 6))
	for range 20 {
		o := someSequence(r, 5, FewestLate)
		o.prepare()
		order := o.start0()
		fresh, m := moverOf(o, order, 1000, 1), moverOf(o, order, 1000, 1)
		m.kick()
		m.back(order, score{1, 2, 3, 4})
		assert.Equal(t, order, m.now)
		assert.Equal(t, fresh.heads, m.heads)
		assert.Equal(t, score{1, 2, 3, 4}, m.at)
	}
}

// The first order goes by due times, and waits for what must be made before.
func TestFirstOrder(t *testing.T) {
	o := newSequence(4, FewestLate)
	copy(o.due, []int64{40, 10, noDue, 30})
	o.prepare()
	assert.Equal(t, []int{1, 3, 0, 2}, o.start0())
	o.before[1] = 1 << 2 // then 1, which is due first, follows at once
	o.prepare()
	assert.Equal(t, []int{3, 0, 2, 1}, o.start0())
	o.before[3] = 1<<1 | 1<<2
	o.prepare()
	assert.Equal(t, []int{0, 2, 1, 3}, o.start0())
}

// Layer by layer the best is found, whatever the aim; with the best known there is none better.
func TestLayersFindTheBest(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 5))
	for trial := range 60 {
		n := 1 + r.IntN(6)
		o := someSequence(r, n, everyAim[trial%4])
		o.prepare()
		best := o.bestOf()
		l := layers{o: o, best: never, dropped: never, keep: wideLayer}
		order := l.run()
		assert.False(t, slices.ContainsFunc(l.next, func(w way) bool { return w.worse }), "what is worse than another of the same runs is forgotten")
		k, allowed := o.tally(order)
		require.True(t, allowed)
		assert.Equal(t, best, o.score(k))
		assert.Equal(t, never, l.dropped, "nothing is left out")
		l = layers{o: o, best: best, dropped: never, keep: wideLayer}
		assert.Nil(t, l.run(), "none is better than the best")
		best[3]++
		l = layers{o: o, best: best, dropped: never, keep: wideLayer}
		assert.NotNil(t, l.run(), "a second less changing over is better")
		best[3]--
		assert.Equal(t, best, o.goal(&tally{}), "of few runs the goal is the best")
		fresh := *o
		fresh.least, fresh.leastWork, fresh.from, fresh.into, fresh.byDue, fresh.byTime, fresh.weightLow = nil, nil, nil, nil, nil, nil, 0
		f := fresh.search(effort{0, true, never, 120_000})
		assert.Equal(t, best, o.score(f.tally))
		assert.True(t, f.proven)
		f = o.search(effort{0, false, never, 0})
		assert.Equal(t, o.start0(), f.order, "without layers, and without places to look at")
		assert.False(t, f.proven)
		assert.Equal(t, o.root(), f.least)
		at, _ := o.tally(f.order)
		assert.Equal(t, at, f.tally)
		down := o.start0()
		o.improve(down, 500, o.goal(&f.least))
		f = o.search(effort{500, false, never, 0})
		assert.Equal(t, down, f.order, "with places to look at, it is moved about")
		f = o.search(effort{0, true, best, 120_000})
		assert.Equal(t, o.start0(), f.order, "nothing better than the best is of use")
		best[3]++
		f = o.search(effort{0, true, best, 120_000})
		assert.True(t, o.score(f.tally).less(best) || slices.Equal(o.start0(), f.order))
	}
	assert.Equal(t, effort{1_000_000, true, never, 120_000}, usual(16), "up to here the search proves")
	assert.Equal(t, effort{100_000_000, true, never, 15_000}, usual(17))
	// Of eight runs the goal is still the best.
	eight := someSequence(r, 8, LeastLateness)
	eight.prepare()
	root := eight.root()
	best := eight.search(effort{0, true, never, 120_000})
	require.True(t, best.proven)
	assert.Equal(t, eight.score(best.tally), eight.goal(&root))
	require.NotEqual(t, eight.score(root), eight.goal(&root))
	// Of more runs than few the goal is what no order betters.
	o := someSequence(r, 9, LeastWorst)
	o.prepare()
	least := o.root()
	assert.Equal(t, o.score(least), o.goal(&least))
}

// Where layers grow too wide, what is said of the order is what the ways that went might have come to: never more than the best has, and
// proven only if that is no better. The best known is what moving about finds besides.
func TestNarrowLayersSayWhatTheyMissed(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 7))
	proven, missed := 0, 0
	for trial := range 4 {
		many := trial < 2
		n := 9
		if many {
			n = 16
		}
		o := someSequence(r, n, everyAim[trial])
		for i := range o.gap { // changing over takes longer than what is made, and nothing must be made before
			for j := range o.gap[i] {
				o.gap[i][j] = int64(r.IntN(300))
			}
		}
		clear(o.before)
		if many { // the bounds say little
			for i := range o.due {
				o.due[i], o.weight[i] = o.start+int64(200+r.IntN(900)), int64(1+r.IntN(20))
			}
		}
		o.prepare()
		other := o.start0()
		o.improve(other, 2_000, score{})
		exact, _ := o.tally(other)
		best := o.score(exact)
		start := o.start0()
		at, _ := o.tally(start)
		l := layers{o: o, best: o.score(at), dropped: never, keep: narrowLayer}
		order := l.run()
		if l.dropped == never || order == nil {
			continue
		}
		f := o.search(effort{0, true, never, narrowLayer})
		assert.Equal(t, order, f.order, "the best of what was followed, without places to look at")
		k, allowed := o.tally(f.order)
		require.True(t, allowed)
		assert.Equal(t, k, f.tally)
		got := o.score(k)
		assert.Equal(t, !l.dropped.less(got), f.proven)
		want, root := min(got[0], l.dropped[0]), o.root()
		for aim, pair := range map[OrderAim][3]int64{
			FewestLate: {f.least.late, root.late, min(exact.late, k.late)}, LeastLateness: {f.least.lateness, root.lateness, min(exact.lateness, k.lateness)},
			LeastWorst: {f.least.worst, root.worst, min(exact.worst, k.worst)}, EarliestFinish: {f.least.finish, root.finish, min(exact.finish, k.finish)},
		} {
			if aim == o.aim {
				assert.Equal(t, max(pair[1], want), pair[0])
				assert.LessOrEqual(t, pair[0], pair[2], "no order has less")
			} else {
				assert.Equal(t, pair[1], pair[0], "of what it was not looked for, what is said of all orders")
			}
		}
		if f.proven {
			proven++
			assert.False(t, best.less(got))
		} else {
			missed++
			f = o.search(effort{200_000, true, never, narrowLayer})
			moved := slices.Clone(f.order)
			o.improve(moved, 20_000, never)
			assert.Equal(t, moved, f.order, "what is not proven is moved about once more, until nothing helps")
		}
	}
	assert.Positive(t, proven)
	assert.Positive(t, missed)
}

// Of a run only what may be better is followed, and a layer that has twice as many ways as are kept is looked through.
func TestWhatALayerFollows(t *testing.T) {
	o := plainRuns(0, []int64{10, 20}, []int64{5, 5}, []int64{1, 1})
	root := way{tally: tally{line: 0}, last: 2}
	// First 10 is 5 late, then 20 is 25: 30 in all; first 20 is 15 late, then 10 is 25: 40.
	o.aim = LeastLateness
	for below, want := range map[int64][]uint8{100: {0, 1}, 41: {0, 1}, 40: {0}, 31: {0}, 30: nil} {
		l := layers{o: o, best: score{below}, dropped: never, keep: wideLayer, heads: map[ending]int32{}}
		l.extend(&root, 7)
		var got []uint8
		for _, w := range l.next {
			got = append(got, w.last)
			assert.Equal(t, int32(7), w.from)
		}
		assert.Equal(t, want, got, "better than %d", below)
	}
	for n, want := range map[int]int{397: 399, 398: narrowLayer} { // two more
		l := layers{o: o, best: never, dropped: never, keep: 200, heads: map[ending]int32{}}
		for i := range n {
			l.next = append(l.next, way{done: uint64(100 + i)})
		}
		l.extend(&root, 0)
		assert.Len(t, l.next, want)
	}
}

// One way of making the same runs does no worse than another if it ends no later with no more late, no more changing and no more lateness, or for the
// aim at the latest no later a latest: then whatever follows, it does not either.
func TestNoWorseWayByHand(t *testing.T) {
	base := tally{late: 2, lateness: 30, worst: 20, changing: 7, line: 100}
	for _, c := range []struct {
		id   string
		more func(x *tally)
		of   []OrderAim // for which base is no worse
		than []OrderAim // for which the other is no worse than base
	}{
		{"the same", func(*tally) {}, everyAim[:], everyAim[:]},
		{"ends later", func(x *tally) { x.line++ }, everyAim[:], nil},
		{"one more late", func(x *tally) { x.late++ }, everyAim[:], nil},
		{"more changing", func(x *tally) { x.changing++ }, everyAim[:], nil},
		{"more lateness", func(x *tally) { x.lateness++ }, everyAim[:], []OrderAim{LeastWorst}},
		{"a later latest", func(x *tally) { x.worst++ }, everyAim[:], []OrderAim{FewestLate, LeastLateness, EarliestFinish}},
		{"sooner with more late", func(x *tally) { x.line--; x.late++ }, nil, nil},
	} {
		other := base
		c.more(&other)
		for _, aim := range everyAim {
			o := &sequence{aim: aim}
			assert.Equal(t, slices.Contains(c.of, aim), o.noWorse(&base, &other), "%s, %s", c.id, aim)
			assert.Equal(t, slices.Contains(c.than, aim), o.noWorse(&other, &base), "%s, %s", c.id, aim)
		}
	}
}

// Of two ways that end the same set with the same run the worse goes, in whichever order they come; others stay beside each other.
func TestWaysThatAreWorseGo(t *testing.T) {
	good, bad := tally{line: 10, changing: 3}, tally{line: 12, changing: 3}
	other := tally{line: 9, changing: 4} // sooner, with more changing
	for _, c := range []struct {
		id   string
		come []way
		stay []tally
	}{
		{"the worse comes later", []way{{done: 3, last: 1, tally: good}, {done: 3, last: 1, tally: bad}}, []tally{good}},
		{"the worse comes first", []way{{done: 3, last: 1, tally: bad}, {done: 3, last: 1, tally: good}}, []tally{good}},
		{"the same twice", []way{{done: 3, last: 1, tally: good}, {done: 3, last: 1, tally: good}}, []tally{good}},
		{"neither is worse", []way{{done: 3, last: 1, tally: good}, {done: 3, last: 1, tally: other}}, []tally{good, other}},
		{"another run ends it", []way{{done: 3, last: 1, tally: good}, {done: 3, last: 0, tally: bad}}, []tally{good, bad}},
		{"another set", []way{{done: 3, last: 1, tally: good}, {done: 5, last: 1, tally: bad}}, []tally{good, bad}},
		{"behind two that are no worse", []way{{done: 3, last: 1, tally: other}, {done: 3, last: 1, tally: good}, {done: 3, last: 1, tally: bad}}, []tally{other, good}},
		{"the first of two goes", []way{{done: 3, last: 1, tally: other}, {done: 3, last: 1, tally: good}, {done: 3, last: 1, tally: tally{line: 8, changing: 4}}, {done: 3, last: 1, tally: tally{line: 7, changing: 5}}}, []tally{good, {line: 8, changing: 4}, {line: 7, changing: 5}}},
		{"worse than one of two", []way{{done: 3, last: 1, tally: bad}, {done: 3, last: 1, tally: other}, {done: 3, last: 1, tally: good}}, []tally{other, good}},
	} {
		for _, pause := range []bool{false, true} { // the layer is looked through between them, or not
			l := layers{o: newSequence(3, FewestLate), best: never, dropped: never, keep: wideLayer, heads: map[ending]int32{}}
			for _, w := range c.come {
				if l.take(w); pause {
					l.narrow(l.keep)
				}
			}
			l.narrow(l.keep)
			var stay []tally
			for _, w := range l.next {
				stay = append(stay, w.tally)
			}
			assert.Equal(t, c.stay, stay, c.id)
			assert.Equal(t, never, l.dropped)
		}
	}
}

// A layer that is too wide keeps the ways with the best bounds, and the best of those that go says what might have been missed.
func TestWideLayerKeepsTheBest(t *testing.T) {
	made := func(n int) layers {
		l := layers{o: newSequence(3, FewestLate), best: never, dropped: never, keep: n, heads: map[ending]int32{}}
		for k := range n {
			i := (k*7 + 3) % n // in no order
			l.take(way{done: uint64(i), bound: score{int64(i / 50), int64(i % 50), 0, 0}, from: int32(i)})
		}
		return l
	}
	const n = 401 // a prime apart from 7
	l := made(n)
	l.narrow(n)
	assert.Len(t, l.next, n, "as many as there may be")
	assert.Equal(t, never, l.dropped)
	l = made(n)
	l.narrow(n - 1)
	require.Len(t, l.next, narrowLayer)
	for i, w := range l.next {
		assert.Equal(t, int32(i), w.from)
	}
	assert.Equal(t, score{6, 0, 0, 0}, l.dropped, "the 301st")
	assert.Equal(t, narrowLayer, l.keep, "and stays narrow from then on")
	l.dropped = score{5, 0, 0, 0}
	for k := range n {
		l.take(way{done: uint64(1000 + k), bound: score{9, 0, 0, 0}})
	}
	l.narrow(l.keep)
	assert.Equal(t, score{5, 0, 0, 0}, l.dropped, "the best of all that went")
	// Of equal bounds it goes by set, last run and where it came from, so that it is the same each time.
	l = layers{o: newSequence(3, FewestLate), best: never, dropped: never, keep: 1, heads: map[ending]int32{}}
	for i := range int32(330) {
		l.next = append(l.next, way{done: uint64(329-i) / 110, last: uint8((329 - i) / 10 % 11), from: (329 - i) % 10})
	}
	l.narrow(1)
	for i, w := range l.next {
		assert.Equal(t, way{done: uint64(i / 110), last: uint8(i / 10 % 11), from: int32(i % 10)}, way{done: w.done, last: w.last, from: w.from})
	}
}
