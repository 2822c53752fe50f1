package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ToleranceFactor returns how many standard deviations of the sample must lie
// between the mean of the sample and the limit, so that the limit holds for a
// named share of all pieces with a named confidence:
//
//	one-sided:  k = t'(level; n - 1, z_share * sqrt(n)) / sqrt(n)
//	Howe:       k = z * sqrt((n - 1) * (1 + 1/n) / chi2(1 - level; n - 1)), z at (1 + share) / 2
//	exact:      the k with  level = E[P(chi2 >= (n - 1) * r^2 / k^2)],
//	            Phi(x + r) - Phi(x - r) = share, x normal with variance 1/n
//
// t' is the noncentral t quantile. The factors hold for pieces whose weights
// scatter normally and independently. Both integrals agree with the reference
// factors to all 10 digits given (testdata/cases/divider/tolerance-factor.json).
//
// It returns an *[reckon.InputError] if:
//   - pieces is outside 2 to 20 000,
//   - share or level is outside 50 to 99.99 %.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.6.3; W.
// G. Howe, Journal of the American Statistical Association 64 (1969), 610-620.
// The handbook's older one-sided formula (Natrella's) is an approximation and
// comes out otherwise: see the case file.
type ToleranceFactor struct {
	Pieces int          `json:"pieces"` // pieces weighed; 2 to 20 000
	Share  unit.Percent `json:"share"`  // share of all pieces that the interval covers; 50 % to 99.99 %
	Level  unit.Percent `json:"level"`  // confidence that it does; 50 % to 99.99 %
}

func (ToleranceFactor) ID() string { return "tolerance-factor" }

// SHELL
func (q ToleranceFactor) Check(c *reckon.Checks) {
	_, err := explainToleranceFactor(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ToleranceFactor) Solve() (ToleranceFactorResult, error) {
	return explainToleranceFactor(q, nil)
}

func (q ToleranceFactor) Show(w *reckon.Working, _ ToleranceFactorResult) {
	_, _ = explainToleranceFactor(q, w)
}

// ToleranceFactorResult holds the factors, in standard deviations of the sample.
type ToleranceFactorResult struct {
	OneSided float64 `json:"one_sided"` // k for "at least" or "at most"
	Exact    float64 `json:"exact"`     // k for "from ... to ...", from the integral that defines it
	Howe     float64 `json:"howe"`      // the same by Howe's approximation
}

func explainToleranceFactor(in ToleranceFactor, w *reckon.Working) (out ToleranceFactorResult, err error) {
	c := reckon.Checks{Func: "tolerance-factor"}
	reckon.CheckCount(&c, "pieces", in.Pieces, 2, mostWeighings)
	checkLevel(&c, "share", in.Share)
	checkLevel(&c, "level", in.Level)
	if err := c.Err(); err != nil {
		return ToleranceFactorResult{}, err
	}
	n, share, level := float64(in.Pieces), float64(in.Share)/100, float64(in.Level)/100
	out = ToleranceFactorResult{OneSided: oneSidedFactor(n, share, level), Exact: exactFactor(n, share, level), Howe: howeFactor(n, share, level)}
	if w != nil {
		w.Given("pieces weighed", "n", n, "pieces", "")
		w.Given("one-sided factor", "k_1", out.OneSided, "", "noncentral t quantile over sqrt(n), integrated")
		w.Given("exact two-sided factor", "k_e", out.Exact, "", "root of the defining integral")
		w.Given("normal quantile", "z", normalQuantile((1+share)/2), "", "at (1 + share) / 2")
		w.Given("chi-square quantile", "X", chiSquareQuantile(1-level, n-1), "", "at 1 - level, n - 1 degrees of freedom")
		w.Step("two-sided factor by Howe", "k_h", "z*sqrt((n - 1)*(1 + 1/n)/X)", out.Howe, "", "Howe 1969")
	}
	return out, nil
}

func oneSidedFactor(n, share, level float64) float64 {
	t, _ := noncentralQuantile(level, n-1, normalQuantile(share)*math.Sqrt(n))
	return t / math.Sqrt(n)
}

func howeFactor(n, share, level float64) float64 {
	return normalQuantile((1+share)/2) * math.Sqrt((n-1)*(1+1/n)/chiSquareQuantile(1-level, n-1))
}

// exactFactor solves the defining integral, as a trapezoidal sum over the
// standardised error y of the mean, from 0 because it is even.
func exactFactor(n, share, level float64) float64 {
	const (
		step  = 0.25
		nodes = 34 // to y = 8.25, where the density is below 1e-15 of its peak
	)
	var radius, weight [nodes]float64 // r at the mean's error, and the node's weight
	for i := range nodes {
		y := step * float64(i)
		x := y / math.Sqrt(n)
		// The share within x -+ r grows with r from 0 to 1.
		radius[i], _ = reckon.Bisect(0, x+10, func(r float64) float64 {
			return normalBelow(x+r) - normalBelow(x-r) - share
		})
		weight[i] = 2 * step * normalDensity(y)
	}
	weight[0] /= 2
	confidence := func(k float64) float64 {
		sum := 0.0
		for i, r := range radius {
			sum += float64(weight[i] * (1 - chiSquareBelow((n-1)*square(r/k), n-1)))
		}
		return sum
	}
	howe := howeFactor(n, share, level)
	k, _ := reckon.Bisect(howe/2, 2*howe, func(k float64) float64 { return confidence(k) - level })
	return k
}
