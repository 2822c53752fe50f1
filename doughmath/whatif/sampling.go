package whatif

import (
	"math/bits"
	"math/rand/v2"
	"strconv"

	"example.com/dough/doughmath/reckon"
)

// The bounds of a sample.
const (
	maxSample   = 1 << 30 // points
	maxRandom   = 1024    // inputs of the schemes that treat all alike
	maxSpaceful = 64      // inputs of Sobol and Halton, see joeKuo
)

// A sampler spreads points over the unit hypercube. Point i is the same to the
// last bit on every machine and whatever was asked for before, so that any part
// of a sample can be had alone. Every coordinate is above 0 and below 1.
type sampler interface {
	Point(i int, u []float64)
}

// newSampler returns n points in so many dimensions, or tells c what is wrong.
// The points of a scheme other than the Latin hypercube do not depend on n: a
// longer sample starts with the shorter one. Coordinate j does not depend on how many follow it.
func newSampler(c *reckon.Checks, scheme Combine, dims, n int, seed uint64) sampler {
	most := maxRandom
	if scheme == Sobol || scheme == Halton {
		most = maxSpaceful
	}
	known := c.Told("combine") || reckon.CheckWord(c, "combine", scheme, Random, LatinHypercube, Sobol, Halton)
	fits := c.Told("samples") || reckon.CheckCount(c, "samples", n, 1, maxSample)
	if dims < 1 || known && dims > most {
		want := "1 to " + strconv.Itoa(most) + " inputs"
		if most == maxSpaceful {
			want += "; more can be sampled with " + strconv.Quote(string(LatinHypercube))
		}
		c.Fail("combine", strconv.Quote(string(scheme))+" with "+strconv.Itoa(dims)+" inputs", want)
		return nil
	}
	if !known || !fits || n < 1 {
		return nil
	}
	switch scheme {
	case LatinHypercube:
		return newLatinPoints(dims, n, seed)
	case Sobol:
		return newSobolPoints(dims, seed)
	case Halton:
		return newHaltonPoints(dims, seed)
	}
	return randomPoints{seed} // also where something was told of already: nothing will be drawn
}

// The streams of random numbers that a seed gives, one for each use.
const (
	latinStream uint64 = iota + 1
	sobolStream
	haltonStream
	screenStream
)

// randomPoints are independent draws: point i takes its coordinates one after
// the other from a generator of its own, PCG started with the seed and i.
//
// Source: M. E. O'Neill, PCG: A Family of Simple Fast Space-Efficient
// Statistically Good Algorithms for Random Number Generation, 2014.
type randomPoints struct{ seed uint64 }

func (p randomPoints) Point(i int, u []float64) {
	var draws rand.PCG
	draws.Seed(p.seed, mix(uint64(i)))
	for j := range u {
		u[j] = open(draws.Uint64())
	}
}

// latinPoints are a Latin hypercube: of the n points one lies in each n-th of
// every coordinate, at a random place in it. The order of the n-ths is a random
// permutation for each coordinate that is computed for one i at a time, by the
// swap-or-not shuffle: in each round cards x and key - x (modulo n) change
// places or not, as a coin says that is thrown for the pair.
//
// Source: M. D. McKay, R. J. Beckman and W. J. Conover, Technometrics 21 (1979)
// 239; V. T. Hoang, B. Morris and P. Rogaway, An Enciphering Scheme Based on a
// Card Shuffle, CRYPTO 2012.
type latinPoints struct {
	n      uint64
	within int // bits that place a point in its n-th
	axes   []latinAxis
}

type latinAxis struct {
	rounds [shuffleRounds]shuffleRound
	places uint64 // key of where in its n-th a point lies
}

// shuffleRounds leaves a card where it was, or two cards at their distance,
// once in 2^16 seeds.
const shuffleRounds = 16

type shuffleRound struct{ key, coins uint64 }

func newLatinPoints(dims, n int, seed uint64) *latinPoints {
	p := &latinPoints{n: uint64(n), within: openBits - bits.Len64(uint64(n)), axes: make([]latinAxis, dims)}
	draws := rand.New(rand.NewPCG(seed, latinStream))
	for j := range p.axes {
		axis := &p.axes[j]
		axis.places = draws.Uint64()
		for r := range axis.rounds {
			axis.rounds[r] = shuffleRound{draws.Uint64N(p.n), draws.Uint64()}
		}
	}
	return p
}

func (p *latinPoints) Point(i int, u []float64) {
	for first := 0; first < len(u); first += 8 {
		// A round waits for the one before it: eight coordinates wait together.
		var bands [8]uint64
		axes := p.axes[first:min(first+8, len(u))]
		for j := range axes {
			bands[j] = uint64(i)
		}
		for r := range shuffleRounds {
			for j := range axes {
				round, band := &axes[j].rounds[r], bands[j]
				partner := round.key + p.n - band
				if partner >= p.n {
					partner -= p.n
				}
				coin := mix(max(band, partner)^round.coins) >> 63
				bands[j] ^= (band ^ partner) & -coin // a branch that nobody can foresee costs more
			}
		}
		for j := range axes {
			place := mix(uint64(i)^axes[j].places) >> (64 - p.within)
			// Both parts of the sum are exact, so that no point is rounded out of its band.
			u[first+j] = (float64(bands[j]) + (float64(place)+0.5)/float64(uint64(1)<<p.within)) / float64(p.n)
		}
	}
}

// openBits is how many bits a coordinate has: with half of the last one added
// it is still exact, and neither 0 nor 1.
const openBits = 52

// open turns random bits into a number above 0 and below 1.
func open(random uint64) float64 { return openAt(random >> (64 - openBits)) }

func openAt(place uint64) float64 { return (float64(place) + 0.5) / (1 << openBits) }

// nth is the seed of batch or replicate i: no two seeds have one in common but by a rare chance.
func nth(seed uint64, i int) uint64 { return mix(mix(seed) + uint64(i)) }

// mix turns neighbouring numbers into unlike ones; no two give the same.
//
// Source: G. L. Steele, D. Lea and C. H. Flood, Fast Splittable Pseudorandom
// Number Generators, OOPSLA 2014 (the finaliser, with D. Stafford's constants).
func mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
