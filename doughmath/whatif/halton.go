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
	digits [][]float64 // digits[place][digit] is what the digit becomes, and counts there
	zeros  []float64   // zeros[place] is what the zeros from that place on become
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
			worth := make([]float64, base)
			for d, becomes := range permutation(base) {
				worth[d] = float64(becomes) * unit
			}
			p[j].digits = append(p[j].digits, worth)
		}
		p[j].zeros = make([]float64, len(p[j].digits)+1)
		for place := len(p[j].digits) - 1; place >= 0; place-- {
			p[j].zeros[place] = p[j].digits[place][0] + p[j].zeros[place+1]
		}
	}
	return p
}

func (p haltonPoints) Point(i int, u []float64) {
	for j := range u {
		axis, base := &p[j], uint32(p[j].base)
		sum, place := 0.0, 0
		for rest := uint32(i); rest != 0; place++ {
			sum += axis.digits[place][rest%base]
			rest /= base
		}
		u[j] = min(max(sum+axis.zeros[place], math.SmallestNonzeroFloat64), 1-0x1p-53)
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
