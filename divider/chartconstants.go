package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
)

// mostInSubgroup is the largest subgroup that the usual tables cover.
const mostInSubgroup = 25

// ChartConstants asks for the constants of control charts with limits at three
// standard errors, for a subgroup of n pieces:
//
//	d2 = E[range], d3 = sd[range] of n standard normal values
//	c4 = sqrt(2/(n-1)) * Gamma(n/2) / Gamma((n-1)/2)
//	A = 3/sqrt(n), A2 = A/d2, A3 = A/c4, E2 = 3/d2, E3 = 3/c4
//	B3, B4 = 1 -+ 3*sqrt(1-c4^2)/c4; B5, B6 = c4 -+ 3*sqrt(1-c4^2)
//	D1, D2 = d2 -+ 3*d3; D3, D4 = 1 -+ 3*d3/d2
//
// A lower factor below zero is given as 0. d2 and d3 are integrated, not
// looked up, and agree with values integrated at 30 digits in 10 digits. The
// printed tables differ by one unit of the third decimal where they were formed
// from d2 and d3 already rounded.
//
// Source: ISO 7870-2:2013 and ASTM E2587 (layout of the table, not seen);
// definitions; cases in testdata/cases/divider/chart-constants.json.
type ChartConstants struct {
	SubgroupSize int `json:"subgroup_size" sym:"n" range:"2..25"` // pieces in a subgroup
}

// ChartConstantsResult holds the constants by their usual symbols. A lower
// factor below zero is given as 0: a spread cannot be less.
type ChartConstantsResult struct {
	MeanRange float64 `json:"mean_range" sym:"d2"` // mean range of so many pieces, in standard deviations
	SDRange   float64 `json:"sd_range" sym:"d3"`   // standard deviation of the range, in standard deviations
	MeanSD    float64 `json:"mean_sd" sym:"c4"`    // mean of the sample standard deviation, in standard deviations
	A         float64 `json:"factor_a" sym:"A"`    // limits of averages from a known standard deviation
	A2        float64 `json:"factor_a2" sym:"A2"`  // limits of averages from the mean range
	A3        float64 `json:"factor_a3" sym:"A3"`  // limits of averages from the mean standard deviation
	B3        float64 `json:"factor_b3" sym:"B3"`  // lower limit of deviations from their mean
	B4        float64 `json:"factor_b4" sym:"B4"`  // upper limit of deviations from their mean
	B5        float64 `json:"factor_b5" sym:"B5"`  // lower limit of deviations from a known standard deviation
	B6        float64 `json:"factor_b6" sym:"B6"`  // upper limit of deviations from a known standard deviation
	D1        float64 `json:"factor_d1" sym:"D1"`  // lower limit of ranges from a known standard deviation
	D2        float64 `json:"factor_d2" sym:"D2"`  // upper limit of ranges from a known standard deviation
	D3        float64 `json:"factor_d3" sym:"D3"`  // lower limit of ranges from the mean range
	D4        float64 `json:"factor_d4" sym:"D4"`  // upper limit of ranges from the mean range
	E2        float64 `json:"factor_e2" sym:"E2"`  // limits of single pieces from the mean range
	E3        float64 `json:"factor_e3" sym:"E3"`  // limits of single pieces from the mean standard deviation
}

func (ChartConstants) ID() string { return "chart-constants" }

func (q ChartConstants) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "subgroup_size", q.SubgroupSize, 2, mostInSubgroup)
}

func (q ChartConstants) Solve() (out ChartConstantsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	root := math.Sqrt(float64(q.SubgroupSize))
	d2, d3, c4 := meanRange(q.SubgroupSize), sdRange(q.SubgroupSize), meanOfSD(q.SubgroupSize)
	spread := math.Sqrt(1 - float64(c4*c4)) // of the sample standard deviation
	return ChartConstantsResult{
		MeanRange: d2, SDRange: d3, MeanSD: c4, A: 3 / root, A2: 3 / (d2 * root), A3: 3 / (c4 * root),
		B3: max(0, 1-3*spread/c4), B4: 1 + 3*spread/c4, B5: max(0, c4-float64(3*spread)), B6: c4 + float64(3*spread),
		D1: max(0, d2-float64(3*d3)), D2: d2 + float64(3*d3), D3: max(0, 1-3*d3/d2), D4: 1 + 3*d3/d2, E2: 3 / d2, E3: 3 / c4,
	}, nil
}

func (q ChartConstants) Show(w *reckon.Working, out ChartConstantsResult) {
	w.Inputs(q)
	w.Given("mean range", "d2", out.MeanRange, "", "integrated from the normal distribution")
	w.Given("standard deviation of the range", "d3", out.SDRange, "", "integrated from the normal distribution")
	w.Given("mean standard deviation", "c4", out.MeanSD, "", "ratio of gamma functions")
	w.Lines(out,
		"limits of averages from a known deviation: A = 3/sqrt(n)",
		"limits of averages from the mean range: A2 = A/d2",
		"limits of averages from the mean deviation: A3 = A/c4",
		"lower limit of deviations from their mean: B3 = max(0, 1 - 3*sqrt(1 - c4*c4)/c4)",
		"upper limit of deviations from their mean: B4 = 1 + 3*sqrt(1 - c4*c4)/c4",
		"lower limit of deviations from a known one: B5 = max(0, c4 - 3*sqrt(1 - c4*c4))",
		"upper limit of deviations from a known one: B6 = c4 + 3*sqrt(1 - c4*c4)",
		"lower limit of ranges from a known deviation: D1 = max(0, d2 - 3*d3)",
		"upper limit of ranges from a known deviation: D2 = d2 + 3*d3",
		"lower limit of ranges from their mean: D3 = max(0, 1 - 3*d3/d2)",
		"upper limit of ranges from their mean: D4 = 1 + 3*d3/d2",
		"limits of single pieces from the mean range: E2 = 3/d2",
		"limits of single pieces from the mean deviation: E3 = 3/c4",
	)
}

// meanOfSD returns c4: the mean of the sample standard deviation of n standard normal values.
func meanOfSD(n int) float64 {
	top, _ := math.Lgamma(float64(n) / 2)
	bottom, _ := math.Lgamma(float64(n-1) / 2)
	return math.Sqrt(2/float64(n-1)) * math.Exp(top-bottom)
}

// power returns x to the whole power n.
func power(x float64, n int) float64 {
	out := 1.0
	for ; n > 0; n >>= 1 {
		if n&1 == 1 {
			out = float64(out * x)
		}
		x *= x
	}
	return out
}

// meanRange returns d2, the mean range of n standard normal values:
//
//	d2 = integral of 1 - Phi(x)^n - (1 - Phi(x))^n over all x
//
// The sum is trapezoidal: the integrand is even and falls off like a normal
// tail, so that the error is far below the last digit.
//
// Source: L. H. C. Tippett, Biometrika 17 (1925), 364-387.
func meanRange(n int) float64 {
	const step = 0.125
	sum := 0.5 * (1 - 2*power(0.5, n))
	for x := step; x < 9; x += step {
		upper := normalBelow(-x)
		sum += 1 - power(1-upper, n) - power(upper, n)
	}
	return 2 * step * sum
}

// sdRange returns d3, the standard deviation of the range of n standard normal
// values, from the chance that the range is above r:
//
//	E[R^2] = integral of 2 r (1 - F(r)) over r > 0
//	F(r) = n * integral of phi(x) (Phi(x + r) - Phi(x))^(n-1) over all x
//
// Both sums are trapezoidal; r = exp(t - exp(-t)) lets the outer one fall off
// on both sides.
func sdRange(n int) float64 {
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
	d2 := meanRange(n)
	return math.Sqrt(float64(square*rStep) - float64(d2*d2))
}
