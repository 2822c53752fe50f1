package proof

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

// doublesInRun counts the pieces that meet in a run of so many strokes.
func doublesInRun(way pattern, strokes int) int {
	in := Run{Proofer: way.p, Strokes: 20, Across: len(way.load), Pieces: strokes * len(way.load)}
	m := &machine{pattern: way, in: in, first: way.p.first(), offset: way.p.discharge(), loads: way.load, running: true, scaling: true}
	m.slots = make([]slot, way.p.Pockets*way.p.Trays)
	m.lifted = make([]slot, way.p.Pockets)
	m.setSpeed(20)
	m.play(nil)
	return m.out.Doubles
}

// The same where strokes and trays nearly keep step, or keep step in decimals
// that binary arithmetic does not hold. All ratios are whole numbers over 3, 7
// or 10000, so that the run, of more strokes than that, shows all that happens.
func TestMeetingsOfRatiosNearSimpleOnes(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	refused, allowed, late := 0, 0, 0
	for range 600 {
		var ratio float64
		switch r.IntN(4) {
		case 0:
			ratio = float64(10_000+r.IntN(20_000)) / 10_000
		case 1:
			ratio = float64([]int{11_000, 12_500, 15_000, 20_000, 25_000, 30_000}[r.IntN(6)]+r.IntN(3)-1) / 10_000
		case 2:
			ratio = float64(10+r.IntN(40)) / 10
		case 3:
			ratio = []float64{4.0 / 3, 5.0 / 3, 9.0 / 7, 15.0 / 7}[r.IntN(4)]
		}
		p := Proofer{Pockets: 2 + r.IntN(2), Trays: 1 + r.IntN(120), TraysPerStroke: ratio}
		p.LastPassTrays = 1 + r.IntN(p.Trays)
		way := pattern{p: p, load: []int{1, 2}, next: []int{2, 0, 0}[:p.Pockets]}
		if p.Pockets == 3 {
			way.next = []int{2, 3, 0}
			p.FirstPassTrays = 1 + r.IntN(p.Trays)
			way.p = p
		}
		c := reckon.Checks{Func: "test"}
		way.checkMeetings(&c)
		doubles := doublesInRun(way, 12_000)
		require.Equal(t, doubles > 0, !c.OK(), "%+v load %v next %v: %d doubles, %v", p, way.load, way.next, doubles, c.Err())
		if c.OK() {
			allowed++
			continue
		}
		refused++
		if doublesInRun(way, 1000) == 0 {
			late++
		}
	}
	require.Greater(t, allowed, 30)
	require.Greater(t, refused, 100)
	require.Positive(t, late, "meetings that take long are among them")
}

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
		c := reckon.Checks{Func: "test"}
		way.checkMeetings(&c)

		doubles := doublesInRun(way, 200)
		require.Equal(t, doubles > 0, !c.OK(), "%+v load %v next %v: %d doubles, %v", p, load, next, doubles, c.Err())
		if c.OK() {
			allowed++
		} else {
			refused++
		}
	}
	require.Greater(t, allowed, 300)
	require.Greater(t, refused, 300)
}
