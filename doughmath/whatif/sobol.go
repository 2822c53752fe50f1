package whatif

import (
	"math/bits"
	"math/rand/v2"
)

// sobolPoints are Sobol's, in the order of the Gray code: the first 2^k points,
// and every block of 2^k that follows, have one in each of the 2^k equal parts
// of every coordinate. The seed scrambles them by a random lower-triangular
// binary matrix and a random digital shift for each coordinate, which keeps
// that evenness, makes every point uniform over the cube, and leaves the origin.
//
// Source: S. Joe and F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635 (direction
// numbers); J. Matoušek, J. Complexity 14 (1998) 527 (scrambling).
type sobolPoints struct {
	axes []sobolAxis
	half float64 // of the last bit, for the middle of a cell; 0 leaves the points as published
}

type sobolAxis struct {
	directions [openBits]uint64 // openBits binary places each
	shift      uint64
}

func newSobolPoints(dims int, seed uint64) *sobolPoints {
	p := plainSobolPoints(dims)
	p.half = 0.5
	draws := rand.New(rand.NewPCG(seed, sobolStream))
	for j := range p.axes {
		p.axes[j].scramble(draws)
	}
	return p
}

// plainSobolPoints are the points as published, which start at the origin.
func plainSobolPoints(dims int) *sobolPoints {
	p := &sobolPoints{axes: make([]sobolAxis, dims)}
	for j := range p.axes {
		p.axes[j].directions = sobolDirections(j)
	}
	return p
}

func (p *sobolPoints) Point(i int, u []float64) {
	gray := uint64(i) ^ uint64(i)>>1
	for j := range u {
		axis := &p.axes[j]
		x := axis.shift
		for rest := gray; rest != 0; rest &= rest - 1 {
			x ^= axis.directions[bits.TrailingZeros64(rest)&63]
		}
		u[j] = (float64(x) + p.half) / (1 << openBits)
	}
}

// scramble multiplies the directions by a random matrix with ones on the
// diagonal and nothing above it: a binary place depends on itself and on those before.
func (a *sobolAxis) scramble(draws *rand.Rand) {
	var rows [openBits]uint64
	for place := range rows {
		own := uint64(1) << (openBits - 1 - place)
		before := (uint64(1)<<openBits - 1) &^ (own<<1 - 1)
		rows[place] = own | draws.Uint64()&before
	}
	for k, v := range a.directions {
		var scrambled uint64
		for _, row := range rows {
			scrambled = scrambled<<1 | uint64(bits.OnesCount64(row&v)&1)
		}
		a.directions[k] = scrambled
	}
	a.shift = draws.Uint64() >> (64 - openBits)
}

// sobolDirections returns the direction numbers of coordinate j from 0. The
// first has the bits of the index in reverse; the others follow from a primitive
// polynomial over the numbers 0 and 1 and the numbers to start with.
func sobolDirections(j int) (v [openBits]uint64) {
	if j == 0 {
		for k := range v {
			v[k] = 1 << (openBits - 1 - k)
		}
		return v
	}
	row := &joeKuo[j-1]
	degree := len(row.start)
	for k := range v {
		if k < degree {
			v[k] = uint64(row.start[k]) << (openBits - 1 - k)
			continue
		}
		v[k] = v[k-degree] ^ v[k-degree]>>degree
		for t := 1; t < degree; t++ {
			if row.inner>>(degree-1-t)&1 == 1 {
				v[k] ^= v[k-t]
			}
		}
	}
	return v
}
