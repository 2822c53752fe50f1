package proof

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
)

// A pattern is refused if and only if two pieces meet when it is run.
func TestMeetingsAreTheOnesThatHappen(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	refused, allowed := 0, 0
	for range 4000 {
		p := Proofer{Pockets: 2 + r.IntN(5), Trays: 1 + r.IntN(9), TraysPerStroke: []float64{1, 1, 2, 3, 1.5, 2.5}[r.IntN(6)]}
		p.LastPassTrays, p.FirstPassTrays = 1+r.IntN(p.Trays), 1+r.IntN(p.Trays)
		var load, next []int
		for _, q := range r.Perm(p.Pockets)[:1+r.IntN(p.Pockets)] {
			load = append(load, q+1)
		}
		for range p.Pockets {
			next = append(next, r.IntN(p.Pockets+1))
		}
		way := pattern{p: p, load: load, next: next}
		endless := false
		for _, q := range load {
			var index [maxPockets + 1]uint8
			_, _, ok := way.path(q, &index)
			endless = endless || !ok
		}
		if endless {
			continue
		}
		c := doughmath.Checks{Func: "test"}
		way.checkMeetings(&c)

		in := RunInput{Proofer: p, Strokes: 20, Across: len(load), Pieces: 200 * len(load)}
		m := &machine{pattern: way, in: in, first: p.first(), offset: p.discharge(), loads: load, running: true, scaling: true}
		m.slots = make([]slot, p.Pockets*p.Trays)
		m.lifted = make([]slot, p.Pockets)
		m.setSpeed(20)
		m.play(nil)
		require.Equal(t, m.out.Doubles > 0, !c.OK(), "%+v load %v next %v: %d doubles, %v", p, load, next, m.out.Doubles, c.Err())
		if c.OK() {
			allowed++
		} else {
			refused++
		}
	}
	require.Greater(t, allowed, 300)
	require.Greater(t, refused, 300)
}
