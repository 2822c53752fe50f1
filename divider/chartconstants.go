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
// A lower factor below zero is given as 0. d2 and d3 are integrated with
// every digit, not copied from a printed table, and agree with values integrated at 30 digits in 10 digits. The
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

// rangeOf holds d2 and d3, the mean and the standard deviation of the range of
// n standard normal values. A test integrates them again.
var rangeOf = [mostInSubgroup + 1]struct{ mean, sd float64 }{
	2:  {1.1283791670955126, 0.8525024664274168},
	3:  {1.6925687506432692, 0.8883680040452316},
	4:  {2.058750746007928, 0.8798082028249695},
	5:  {2.3259289472810396, 0.8640819410994913},
	6:  {2.534412721222943, 0.8480396861174976},
	7:  {2.7043567512138096, 0.8332053356223393},
	8:  {2.847200612090556, 0.8198314897919474},
	9:  {2.9700263244184737, 0.8078342745533075},
	10: {3.077505461670348, 0.7970506735193985},
	11: {3.1728727038160027, 0.7873146205503124},
	12: {3.2584552797438264, 0.7784783412034387},
	13: {3.3359803540982553, 0.7704162020638002},
	14: {3.4067631081999545, 0.76302309562476},
	15: {3.471826889882077, 0.7562114297279288},
	16: {3.5319827861095767, 0.7499080894099249},
	17: {3.587883961765384, 0.7440517839607254},
	18: {3.640063757937445, 0.7385908533782051},
	19: {3.6889630232076516, 0.7334814955188843},
	20: {3.734950119596643, 0.7286863457072899},
	21: {3.7783358298426215, 0.7241733407175337},
	22: {3.819384643362835, 0.71991480843422},
	23: {3.8583234232850088, 0.7158867354918302},
	24: {3.895348148451359, 0.7120681751479639},
	25: {3.930629219507114, 0.7084407658886438},
}

// meanRange returns d2.
func meanRange(n int) float64 { return rangeOf[n].mean }

// sdRange returns d3.
func sdRange(n int) float64 { return rangeOf[n].sd }
