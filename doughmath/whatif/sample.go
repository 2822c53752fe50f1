package whatif

import (
	"example.com/dough/doughmath/reckon"
)

// sampler yields the points of one scheme in the unit hypercube, each on its
// own: point i is the same on every machine and in every shard.
type sampler interface {
	Point(i int, u []float64) // sets u, as long as there are factors, to numbers from 0 to under 1
}

// sampler returns the sampler of the study for so many factors.
func (s *Study) sampler(c *reckon.Checks, dims int) sampler {
	switch s.Combine {
	case Random:
		return random{uint64(s.Seed)}
	}
	if !c.Told("combine") {
		c.Fail("combine", quoted(string(s.Combine)), reckon.OneOf(Grid, SideBySide, Random))
	}
	return nil
}

// random draws every number on its own.
type random struct{ seed uint64 }

func (r random) Point(i int, u []float64) {
	for k := range u {
		u[k] = float64(mix(mix(mix(r.seed)+uint64(i))+uint64(k))>>11) * 0x1p-53
	}
}

// mix spreads the bits of x: the finaliser of SplitMix64.
//
// Source: G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014.
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
