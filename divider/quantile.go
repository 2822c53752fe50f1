package divider

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// The quantiles behind intervals and limits. Central distributions come from
// gonum, which reaches 12 significant digits of every reference value in
// quantile_test.go; the noncentral t is integrated here, because gonum's falls
// back on an approximation without a word once its noncentrality passes 38, as
// a large sample's tolerance factor does.

// normalQuantile returns z with a share p of a standard normal below it.
func normalQuantile(p float64) float64 { return mathext.NormalQuantile(p) }

// normalBelow returns the share of a standard normal below z.
func normalBelow(z float64) float64 { return float64(0.5 * math.Erfc(-z/math.Sqrt2)) }

// normalDensity returns the density of a standard normal at z.
func normalDensity(z float64) float64 { return math.Exp(-0.5*z*z) / math.Sqrt(2*math.Pi) }

// studentQuantile returns t with a share p of Student's t distribution below it.
func studentQuantile(p, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}

// chiSquareQuantile returns the value with a share p of the chi-square distribution below it.
func chiSquareQuantile(p, df float64) float64 { return distuv.ChiSquared{K: df}.Quantile(p) }

// chiSquareBelow returns the share of the chi-square distribution below x.
func chiSquareBelow(x, df float64) float64 { return distuv.ChiSquared{K: df}.CDF(x) }

// noncentralBelow returns the share below t of the noncentral t distribution
// with noncentrality delta:
//
//	P(T <= t) = E[Phi(t*u - delta)], u = sqrt(chi-square(df) / df)
//
// The expectation is a trapezoidal sum over v = ln u, whose density is
// proportional to exp(df*(v - exp(2v)/2)). It falls off smoothly on both
// sides, so that the sum converges faster than any power of the step.
//
// Source: the definition, as in Johnson, Kotz and Balakrishnan, Continuous
// Univariate Distributions, volume 2 (2nd ed. 1995), chapter 31.
func noncentralBelow(t, df, delta float64) float64 {
	below, _ := noncentral(t, df, delta)
	return below
}

// noncentral is noncentralBelow with the density at t, its slope.
func noncentral(t, df, delta float64) (below, density float64) {
	// Beyond these ends the density of v is below 1e-16 of its peak at v = 0.
	x := 37 / df
	low, high := -math.Sqrt(x)-x, math.Sqrt(x)
	// A step is well below the width of the density and of the edge that Phi makes in it.
	steps := int((high - low) * 5 * max(1, math.Sqrt(2*df), math.Abs(delta)))
	h := (high - low) / float64(steps)
	all := 0.0
	for i := range steps + 1 {
		v := low + float64(float64(i)*h)
		u := math.Exp(v)
		// Expm1 keeps the digits that count once there are millions of degrees of freedom.
		w := math.Exp(df * (v - float64(0.5*math.Expm1(2*v))))
		z := float64(t*u) - delta
		below += float64(w * normalBelow(z))
		density += float64(w * u * normalDensity(z))
		all += w
	}
	return below / all, density / all
}

// noncentralQuantile returns t with a share p of the noncentral t distribution
// below it, for a positive t, and false if there is none. It takes Newton's
// steps while they stay within the bracket and halves it otherwise.
func noncentralQuantile(p, df, delta float64) (float64, bool) {
	if noncentralBelow(0, df, delta) > p {
		return 0, false
	}
	low, high := 0.0, 1+math.Abs(delta)
	for noncentralBelow(high, df, delta) < p {
		if high *= 2; high > 1e12 {
			return 0, false
		}
	}
	t := high
	for range 200 {
		below, density := noncentral(t, df, delta)
		if below < p {
			low = t
		} else {
			high = t
		}
		next := t + float64((p-below)/density)
		if !(next > low && next < high) {
			next = low + float64((high-low)/2)
		}
		if math.Abs(next-t) <= 1e-14*t {
			return next, true
		}
		t = next
	}
	return t, true
}

func square(x float64) float64 { return float64(x * x) }
