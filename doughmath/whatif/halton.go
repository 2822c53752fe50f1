package whatif

import (
	"math"
	"math/rand/v2"
)

// haltonPoints are Halton's: coordinate j of point i has the digits of i in the
// j-th prime, the last digit first. The digits are scrambled by a random
// permutation for each place, which keeps the points as even and takes away
// the stripes that large primes make.
//
// Source: J. H. Halton, Numerische Mathematik 2 (1960) 84; A. B. Owen, A
// randomized Halton algorithm in R, arXiv:1706.02808 (2017). The points are
// those of gonum's samplemv.Halton, which makes them only all at once.
type haltonPoints []haltonAxis

type haltonAxis struct {
	base   int
	digits [][]int // digits[place][digit] is what the digit becomes
}

func newHaltonPoints(dims int, seed uint64) haltonPoints {
	draws := rand.New(rand.NewPCG(seed, haltonStream))
	return haltonWith(dims, draws.Perm)
}

// plainHaltonPoints are the points as defined, which start at the origin.
func plainHaltonPoints(dims int) haltonPoints {
	return haltonWith(dims, func(base int) []int {
		same := make([]int, base)
		for d := range same {
			same[d] = d
		}
		return same
	})
}

func haltonWith(dims int, permutation func(base int) []int) haltonPoints {
	p := make(haltonPoints, dims)
	base := 1
	for j := range p {
		base = nextPrime(base)
		p[j].base = base
		// As many places as change a number below 1.
		for unit := 1 / float64(base); 1-unit < 1; unit /= float64(base) {
			p[j].digits = append(p[j].digits, permutation(base))
		}
	}
	return p
}

func (p haltonPoints) Point(i int, u []float64) {
	for j := range u {
		base, rest, sum := p[j].base, i, 0.0
		unit := 1 / float64(base)
		for _, digits := range p[j].digits {
			sum += float64(float64(digits[rest%base]) * unit)
			rest /= base
			unit /= float64(base)
		}
		u[j] = min(max(sum, math.SmallestNonzeroFloat64), 1-0x1p-53)
	}
}

func nextPrime(n int) int {
	for n++; ; n++ {
		prime := true
		for d := 2; d*d <= n; d++ {
			prime = prime && n%d != 0
		}
		if prime && n > 1 {
			return n
		}
	}
}
