package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ToleranceMethod names how the factor of a two-sided tolerance interval is
// found: sources print both.
type ToleranceMethod string

const (
	// ToleranceExact solves the integral that defines the factor.
	ToleranceExact ToleranceMethod = "exact"
	// ToleranceHowe is Howe's approximation: within 1 % of the exact factor from 10 pieces and shares of 90 to 99 %, within 5 % from 5 pieces.
	ToleranceHowe ToleranceMethod = "howe"
)

// ToleranceFactor asks how many standard deviations of the sample must lie
// between the mean of the sample and the limit, so that the limit holds for a
// named share of all pieces with a named confidence:
//
//	one-sided:  k_1 = t_1(P; n - 1, z_1 * sqrt(n)) / sqrt(n), z_1 at p
//	Howe:       k_h = z * sqrt((n - 1) * (1 + 1/n) / chi2(1 - P; n - 1)), z at (1 + p) / 2
//	exact:      the k_2 with  P = E[P(chi2 >= (n - 1) * r^2 / k_2^2)],
//	            Phi(x + r) - Phi(x - r) = p, x normal with variance 1/n
//
// t_1 is the noncentral t quantile. The factors hold for pieces whose weights
// scatter normally and independently. Both integrals agree with the reference
// factors to all 10 digits given (testdata/cases/divider/tolerance-factor.json).
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.6.3; W.
// G. Howe, Journal of the American Statistical Association 64 (1969), 610-620.
// The handbook's older one-sided formula (Natrella's) is an approximation and
// gives other factors: see the case file.
type ToleranceFactor struct {
	Pieces     int          `json:"pieces" sym:"n" range:"2..20000"`          // pieces weighed
	Share      unit.Percent `json:"share" sym:"p" range:"50 %..99.99 %"`      // share of all pieces that the interval covers
	Confidence unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"` // confidence that it does
}

// ToleranceFactorResult holds the factors, in standard deviations of the sample.
type ToleranceFactorResult struct {
	OneSided float64 `json:"one_sided" sym:"k_1"` // for "at least" or "at most"
	TwoSided float64 `json:"two_sided" sym:"k_2"` // for "from ... to ...", from the integral that defines it
	Howe     float64 `json:"howe" sym:"k_h"`      // the same by Howe's approximation
}

func (ToleranceFactor) ID() string { return "tolerance-factor" }

func (q ToleranceFactor) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "pieces", q.Pieces, 2, mostWeighings)
	checkLevel(c, "share", q.Share)
	checkLevel(c, "confidence", q.Confidence)
}

func (q ToleranceFactor) Solve() (out ToleranceFactorResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n, share, level := float64(q.Pieces), float64(q.Share)/100, float64(q.Confidence)/100
	out.OneSided, out.TwoSided, out.Howe = oneSidedFactor(n, share, level), exactFactor(n, share, level), howeFactor(n, share, level)
	return out, nil
}

func (q ToleranceFactor) Show(w *reckon.Working, out ToleranceFactorResult) {
	n, share, level := float64(q.Pieces), float64(q.Share)/100, float64(q.Confidence)/100
	w.Inputs(q)
	w.Given("normal quantile of the share, one-sided", "z_1", normalQuantile(share), "", "at p/100")
	w.Lines(out, "noncentrality: D = z_1*sqrt(n)")
	w.Given("noncentral t quantile", "t_1", oneSidedQuantile(n, share, level), "", "at P/100, n - 1 degrees of freedom, noncentrality D, integrated")
	w.Lines(out, "one-sided factor: k_1 = t_1/sqrt(n)")
	w.Given("exact two-sided factor", "k_2", out.TwoSided, "", "root of the defining integral")
	w.Given("normal quantile of the share, two-sided", "z", normalQuantile((1+share)/2), "", "at (1 + p/100)/2")
	w.Given("chi-square quantile", "X", chiSquareQuantile(1-level, n-1), "", "at 1 - P/100, n - 1 degrees of freedom")
	w.Lines(out, "two-sided factor by Howe: k_h = z*sqrt((n - 1)*(1 + 1/n)/X)  [Howe 1969]")
}

// factor returns the two-sided factor by the method.
func (m ToleranceMethod) factor(n, share, level float64) float64 {
	if m == ToleranceExact {
		return exactFactor(n, share, level)
	}
	return howeFactor(n, share, level)
}

func oneSidedFactor(n, share, level float64) float64 {
	return oneSidedQuantile(n, share, level) / math.Sqrt(n)
}

// oneSidedQuantile returns the noncentral t quantile behind the one-sided factor.
func oneSidedQuantile(n, share, level float64) float64 {
	t, _ := noncentralQuantile(level, n-1, normalQuantile(share)*math.Sqrt(n))
	return t
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
