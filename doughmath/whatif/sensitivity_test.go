package whatif

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

// influenced solves the plan of the indices with f itself.
func influenced(t *testing.T, f function, p *population, outputs, points, replicates int, seed uint64) ([][]influence, Share) {
	t.Helper()
	c := reckon.Checks{}
	newPlan := func(seed uint64) *pairs { return newPairs(&c, p, points, seed, func(_, _ []float64) {}) }
	d := len(p.shapes)
	x, u, y := make([]float64, d), make([]float64, d), make([]float64, outputs)
	got, refused, err := influences(newPlan, func(plan design, n int, visit func(y []float64)) error {
		for i := range n {
			plan.point(i, x, nil, u)
			_ = f(x, y)
			visit(y)
		}
		return nil
	}, outputs, points, replicates, seed)
	require.NoError(t, err)
	return got, refused
}

// firstOf returns first-order indices of a product of independent factors of mean 1.
func firstOf(parts []float64) (out []float64) {
	whole := 1.0
	for _, v := range parts {
		whole *= 1 + v
	}
	for _, v := range parts {
		out = append(out, v/(whole-1))
	}
	return out
}

func unitCube(d int) []shape { return repeat(trapezoidal{0, 1, 1}, d) }

// Functions whose indices are known in closed form.
//
// Source: T. Ishigami and T. Homma 1990, and A. Saltelli and others, Global
// Sensitivity Analysis: The Primer, 2008 (published; totals from the closed form, derived);
// the G function (derived: the 0.7165 and 0.1791 in circulation leave the four
// inert inputs out of the variance), and its curved form (partial variances published); linear models of G. Li and others 2010
// (derived); a product of two (derived).
func TestInfluences(t *testing.T) {
	a := []float64{0, 1, 4.5, 9, 99, 99, 99, 99}
	weights := []float64{5, 4, 3, 2, 1}
	weight, curve := []float64{78, 12, 0.5, 2, 97, 33}, []float64{1, 2, 15, 0.6, 8, 48}
	parts := []float64{5.34102441e-05, 0.00473372781, 3.22580645, 0.0181818182, 0.000391993532, 0.0205472122}
	for name, tt := range map[string]struct {
		f            func(x []float64) float64
		in           []shape
		first, total []float64
	}{
		"Ishigami": {
			func(x []float64) float64 {
				return math.Sin(x[0]) + 7*math.Pow(math.Sin(x[1]), 2) + 0.1*math.Pow(x[2], 4)*math.Sin(x[0])
			},
			repeat(trapezoidal{-math.Pi, math.Pi, 1}, 3),
			[]float64{0.3139051911, 0.4424111448, 0},
			[]float64{0.5575888552, 0.4424111448, 0.2436836641},
		},
		"G": {
			func(x []float64) float64 {
				y := 1.0
				for i := range x {
					y *= (math.Abs(4*x[i]-2) + a[i]) / (1 + a[i])
				}
				return y
			},
			unitCube(8),
			[]float64{0.7161921689, 0.1790480422, 0.02367577418, 0.007161921689, 7.161921689e-05, 7.161921689e-05, 7.161921689e-05, 7.161921689e-05},
			[]float64{0.7871441267, 0.2421981928, 0.03431691015, 0.01046038707, 0.0001049490519, 0.0001049490519, 0.0001049490519, 0.0001049490519},
		},
		"G, curved": { // the partial variances are a_i²/((1+2a_i)(1+w_i)²), printed for these parameters
			func(x []float64) float64 {
				y := 1.0
				for i := range x {
					y *= ((1+curve[i])*math.Pow(math.Abs(2*x[i]-1), curve[i]) + weight[i]) / (1 + weight[i])
				}
				return y
			},
			unitCube(6), firstOf(parts), nil,
		},
		"all equal": {sum, repeat(normal{3, 2}, 5), []float64{0.2, 0.2, 0.2, 0.2, 0.2}, []float64{0.2, 0.2, 0.2, 0.2, 0.2}},
		"5 to 1": {
			func(x []float64) float64 {
				y := 0.0
				for i := range x {
					y += weights[i] * x[i]
				}
				return y
			},
			repeat(trapezoidal{0, 1, 0}, 5),
			[]float64{25. / 55, 16. / 55, 9. / 55, 4. / 55, 1. / 55},
			[]float64{25. / 55, 16. / 55, 9. / 55, 4. / 55, 1. / 55},
		},
		"product": {
			func(x []float64) float64 { return x[0] * x[1] },
			[]shape{normal{2, 0.2}, normal{3, 0.5}},
			[]float64{0.2627737226, 0.7299270073},
			[]float64{0.2627737226 + 0.007299270073, 0.7299270073 + 0.007299270073},
		},
	} {
		got, refused := influenced(t, scalar(tt.f), newPopulation(tt.in, nil), 1, 1024, indexReplicates, 8)
		assert.Zero(t, refused.Count)
		for j := range tt.first {
			f, s := got[0][j].first, got[0][j].total
			assert.InDelta(t, tt.first[j], f.Value, 2*f.Error+1e-9, "%s, first order of input %d", name, j+1) // four standard errors
			if tt.total == nil {
				continue
			}
			assert.InDelta(t, tt.total[j], s.Value, 2*s.Error+1e-9, "%s, total of input %d", name, j+1)
			assert.Less(t, f.Error, 0.01, "%s, input %d", name, j+1)
			assert.Less(t, s.Error, 0.01, "%s, input %d", name, j+1)
		}
	}
}

// What is refused is counted and left out; a constant has no indices.
func TestInfluencesOfWhatIsRefused(t *testing.T) {
	f := func(x, y []float64) error {
		y[0], y[1] = x[0]+x[1], 7
		if x[0] > 0.9 {
			y[0], y[1] = math.NaN(), math.NaN()
			return errors.New("too warm")
		}
		return nil
	}
	got, refused := influenced(t, f, newPopulation(unitCube(2), nil), 2, 256, 8, 1)
	assert.InDelta(t, 0.19, refused.Value, 0.02, "either of two draws is refused") // 1 - 0.9²
	assert.Greater(t, got[0][1].first.Value, got[0][0].first.Value)
	assert.True(t, math.IsNaN(got[1][0].first.Value))
	assert.Zero(t, got[1][0].first.Digits)
	many := make([]shape, 40)
	for i := range many {
		many[i] = normal{0, 1}
	}
	wide, _ := influenced(t, scalar(sum), newPopulation(many, nil), 1, 256, 4, 1)
	assert.InDelta(t, 1./40, wide[0][39].total.Value, 0.02, "more inputs than Sobol points have coordinates")
}

// Source: A. Saltelli and others, The Primer, 2008, exercise 4, p. 138 (published;
// 0.66 is printed for the mean of the first, whose listed outputs give 0.65).
func TestElementaryEffects(t *testing.T) {
	for _, tt := range []struct{ effects, want []float64 }{
		{[]float64{2.52, 1.995, 2.295, -0.66, -0.945, -1.305}, []float64{0.65, 1.62, 1.79411}},
		{[]float64{-0.39, 0.135, 0.795, 0.255, -0.03, 0.495}, []float64{0.21, 0.35, 0.411995}},
	} {
		got := summarise(tt.effects)
		assert.InDelta(t, tt.want[0], got.mean, 1e-9)
		assert.InDelta(t, tt.want[1], got.absolute, 1e-9)
		assert.InDelta(t, tt.want[2], got.sd, 5e-6)
	}
}

// Source: of a linear function mu is the coefficient, mu* its size and sigma 0 (identity, derived);
// of the G function the order follows from its parameters (derived).
func TestScreening(t *testing.T) {
	cube := func(u, x []float64) {
		for j := range u {
			x[j] = (u[j]*screenLevels - 0.5) / (screenLevels - 1) // the levels themselves
		}
	}
	linear := scalar(func(x []float64) float64 { return 3*x[0] - 2*x[1] + 0*x[2] })
	got := screening(linear, cube, 3, 1, screenPaths, 1)[0]
	for j, want := range []float64{3, -2, 0} {
		assert.InDelta(t, want, got[j].mean, 1e-12)
		assert.InDelta(t, math.Abs(want), got[j].absolute, 1e-12)
		assert.InDelta(t, 0, got[j].sd, 1e-12)
		assert.Equal(t, screenPaths, got[j].of)
	}
	a := []float64{0, 1, 4.5, 9, 99, 99, 99, 99}
	g := scalar(func(x []float64) float64 {
		y := 1.0
		for i := range x {
			y *= (math.Abs(4*x[i]-2) + a[i]) / (1 + a[i])
		}
		return y
	})
	order := screening(g, cube, 8, 1, 400, 1)[0]
	for j := 1; j < 5; j++ {
		assert.Greater(t, order[j-1].absolute, order[j].absolute, "input %d before %d", j, j+1)
	}
	for j := 5; j < 8; j++ {
		assert.InEpsilon(t, order[4].absolute, order[j].absolute, 0.2, "the inert ones are alike")
	}
}

// Source: E. B. Wilson 1927; the values by its formula for 0, 5 and 50 of 50 (derived).
func TestShares(t *testing.T) {
	z2 := 1.959963984540054 * 1.959963984540054
	none, all, some := newShare(0, 50), newShare(50, 50), newShare(5, 50)
	assert.Zero(t, none.Low)
	assert.InDelta(t, z2/(50+z2), none.High, 1e-12)
	assert.InDelta(t, 50/(50+z2), all.Low, 1e-12)
	assert.Equal(t, 1., all.High)
	for _, end := range []float64{some.Low, some.High} { // the ends are where the score test just holds
		assert.InDelta(t, z2, (0.1-end)*(0.1-end)*50/(end*(1-end)), 1e-9)
	}
	assert.Equal(t, Share{High: 1}, newShare(0, 0), "nothing was tried: anything may be so")
}

// Source: JCGM 101:2008, 7.9.2 (its example: 0.032 g with two digits is 32e-3, half of its unit 0.5e-3).
func TestToleranceAndDigits(t *testing.T) {
	for _, tt := range []struct {
		u      float64
		digits int
		want   float64
	}{{0.032, 2, 0.0005}, {2, 1, 0.5}, {2, 2, 0.05}, {0.0996, 2, 0.005}, {9.96, 2, 0.5}, {123, 2, 5}, {0, 2, 0}} {
		assert.InDelta(t, tt.want, tolerance(tt.u, tt.digits), 1e-15, "%v", tt)
	}
	for _, tt := range []struct {
		value, err float64
		want       int
	}{{12.345, 0.0004, 5}, {12.345, 0.0006, 4}, {12.345, 0.00005, 6}, {0.5, 0.4, 0}, {0.5, 0.05, 1}, {0.5, 0.04, 1}, {1234, 4, 3}, {0, 1, 0}, {7, 0, 15}, {7, math.NaN(), 0}} {
		assert.Equal(t, tt.want, newEstimate(tt.value, tt.err).Digits, "%v", tt)
	}
}

// Source: JCGM 101:2008, 7.7.2 and 7.7.3, by hand for 20 values (derived).
func TestCoverage(t *testing.T) {
	var list []float64
	for i := 1; i <= 20; i++ {
		list = append(list, float64(i*i))
	}
	symmetric, shortest := coverage(list, 0.9)
	assert.Equal(t, [2]float64{1, 361}, symmetric, "q = 18, r = 1")
	assert.Equal(t, [2]float64{1, 361}, shortest)
	symmetric, shortest = coverage(list, 0.5)
	assert.Equal(t, [2]float64{25, 225}, symmetric, "q = 10, r = 5")
	assert.Equal(t, [2]float64{1, 121}, shortest)
}
