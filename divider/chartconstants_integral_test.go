package divider

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The table of d2 and d3 is what their definitions integrate to, but for the last digits: processors
// take the exponentials in the sum otherwise.
func TestRangesAreIntegrated(t *testing.T) {
	for n := 2; n <= mostInSubgroup; n++ {
		assert.InEpsilon(t, integratedMeanRange(n), meanRange(n), 1e-14, n)
		assert.InEpsilon(t, integratedSDRange(n), sdRange(n), 1e-14, n)
	}
}

// integratedMeanRange returns d2, the mean range of n standard normal values:
//
//	d2 = integral of 1 - Phi(x)^n - (1 - Phi(x))^n over all x
//
// The sum is trapezoidal: the integrand is even and falls off like a normal
// tail, so that the error is far below the last digit.
//
// Source: L. H. C. Tippett, Biometrika 17 (1925), 364-387.
func integratedMeanRange(n int) float64 {
	const step = 0.125
	sum := 0.5 * (1 - 2*power(0.5, n))
	for x := step; x < 9; x += step {
		upper := normalBelow(-x)
		sum += 1 - power(1-upper, n) - power(upper, n)
	}
	return 2 * step * sum
}

// integratedSDRange returns d3, the standard deviation of the range of n standard normal
// values, from the chance that the range is above r:
//
//	E[R^2] = integral of 2 r (1 - F(r)) over r > 0
//	F(r) = n * integral of phi(x) (Phi(x + r) - Phi(x))^(n-1) over all x
//
// Both sums are trapezoidal; r = exp(t - exp(-t)) lets the outer one fall off
// on both sides.
func integratedSDRange(n int) float64 {
	const (
		step  = 0.125
		nodes = 137 // x from -8.5 to 8.5
		rStep = 0.0625
	)
	var below, density [nodes]float64
	for i := range nodes {
		x := -8.5 + float64(step*float64(i))
		below[i], density[i] = normalBelow(x), normalDensity(x)
	}
	square := 0.0
	for t := -3.0; t < 2.7; t += rStep {
		r := math.Exp(t - math.Exp(-t))
		inside := 0.0
		for i := range nodes {
			x := -8.5 + float64(step*float64(i))
			inside += float64(density[i] * power(normalBelow(x+r)-below[i], n-1))
		}
		square += float64(2 * r * r * (1 + math.Exp(-t)) * max(0, 1-float64(float64(n)*step*inside)))
	}
	d2 := integratedMeanRange(n)
	return math.Sqrt(float64(square*rStep) - float64(d2*d2))
}
