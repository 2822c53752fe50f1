package whatif

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

// Source: standard normal quantiles, computed with a standard library's inverse
// refined by Newton steps on erfc (reference library).
func TestNormalQuantile(t *testing.T) {
	for p, z := range map[float64]float64{
		0.5: 0, 0.6: 0.2533471031358, 0.75: 0.674489750196082, 0.8: 0.841621233572914, 0.9: 1.2815515655446,
		0.95: 1.64485362695147, 0.975: 1.95996398454005, 0.99: 2.32634787404084, 0.995: 2.5758293035489,
		0.999: 3.09023230616781, 0.9995: 3.29052673149193, 0.9999: 3.71901648545571, 0.99999: 4.26489079392384,
		0.999999: 4.75342430881709,
	} {
		assert.InDelta(t, z, normal{0, 1}.quantile(p), 1e-12, "%v", p)
		assert.InDelta(t, -z, normal{0, 1}.quantile(1-p), 1e-9, "%v", 1-p) // 1-p is rounded
	}
}

var everyShape = map[string]shape{
	"normal":       normal{20, 2},
	"student":      student{20, 2, 5},
	"lognormal":    lognormalOf(20, 6),
	"rectangular":  trapezoidal{18, 24, 1},
	"triangle":     trapezoidal{18, 24, 0},
	"trapezoidal":  trapezoidal{18, 24, 0.4},
	"triangular":   triangular{18, 19, 24},
	"arcsine":      arcsine{18, 24},
	"curvilinear":  curvilinear{18, 24, 0.5},
	"truncated":    mustTruncate(normal{20, 2}, 19, 24),
	"truncated t":  mustTruncate(student{20, 2, 3}, 10, 30),
	"tail removed": mustTruncate(lognormalOf(20, 6), 0, 30),
}

func mustTruncate(d shape, low, high float64) shape {
	out, ok := newTruncated(d, low, high)
	if !ok {
		panic("nothing left")
	}
	return out
}

// The share below a quantile is the share asked for.
func TestQuantileThereAndBack(t *testing.T) {
	for name, d := range everyShape {
		before := math.Inf(-1)
		for _, p := range []float64{1e-6, 0.001, 0.05, 0.2, 0.3, 0.5, 0.7, 0.95, 0.999, 1 - 1e-6} {
			x := d.quantile(p)
			assert.InDelta(t, p, d.below(x), 1e-8, "%s at %v", name, p) // as near as gonum has the middle of t
			assert.Greater(t, x, before, "%s at %v", name, p)
			before = x
		}
		assert.Zero(t, d.below(-1e9)+1-d.below(1e9) > 1e-6, name)
	}
}

// A table gives what the distribution itself does, to a millionth, and never falls.
func TestTables(t *testing.T) {
	for name, d := range map[string]shape{
		"Cauchy": student{20, 2, 1}, "few readings": student{20, 2, 3}, "many readings": student{20, 2, 200}, "curvilinear": curvilinear{18, 24, 0.5},
		"nearly uniform": curvilinear{18, 24, 1e-6}, "truncated": mustTruncate(student{20, 2, 3}, 10, 30),
	} {
		table, ok := tabulate(d).(tabulated)
		require.True(t, ok, name)
		before := math.Inf(-1)
		for i := range 3001 {
			p := normalBelow(float64(i)/3000*12.4 - 6.2)
			exact, fast := d.quantile(p), table.quantile(p)
			assert.InDelta(t, exact, fast, 1e-6*math.Abs(exact-20)+2e-5, "%s at %v", name, p)
			assert.GreaterOrEqual(t, fast, before, "%s at %v", name, p)
			before = fast
		}
	}
	assert.Equal(t, normal{1, 2}, tabulate(normal{1, 2}))
	assert.IsType(t, truncated{}, tabulate(mustTruncate(normal{20, 2}, 19, 24)))
}

// Mean and standard deviation are those of the quantiles.
func TestMomentsAreThoseOfTheQuantiles(t *testing.T) {
	const n = 20000
	for name, d := range everyShape {
		mean, square := 0.0, 0.0
		for i := range n {
			x := d.quantile((float64(i)+0.5)/n) - 20
			mean += x / n
			square += x * x / n
		}
		assert.InDelta(t, mean+20, d.mean(), 5e-4, name)
		assert.InEpsilon(t, math.Sqrt(square-mean*mean), d.sd(), 2e-2, name) // of t the tails beyond the last slice are missing
	}
}

// Source: JCGM 101:2008, 6.4; the standard deviations by integration (derived).
func TestStandardDeviations(t *testing.T) {
	for name, tt := range map[string]struct {
		d    shape
		want float64
	}{
		"uniform of half-width 3":       {trapezoidal{-3, 3, 1}, 3 / math.Sqrt(3)},
		"triangular of half-width 3":    {trapezoidal{-3, 3, 0}, 3 / math.Sqrt(6)},
		"the same with its peak stated": {triangular{-3, 0, 3}, 3 / math.Sqrt(6)},
		"arcsine of half-width 3":       {arcsine{-3, 3}, 3 / math.Sqrt2},
		"trapezoid, top 0.4":            {trapezoidal{-3, 3, 0.4}, 3 * math.Sqrt((1+0.16)/6)},
		"t with 5 degrees of freedom":   {student{0, 3, 5}, 3 * math.Sqrt(5./3)},
		"t with 2 degrees of freedom":   {student{0, 3, 2}, math.Inf(1)},
		"curvilinear trapezoid":         {curvilinear{-3, 3, 0.5}, math.Sqrt(9./3 + 0.25/9)},
		"lognormal":                     {lognormalOf(20, 6), 6},
		"two values":                    {discrete{[]float64{1, 5}, []float64{0.5, 1}}, 2},
	} {
		assert.InDelta(t, tt.want, tt.d.sd(), 1e-12, name)
	}
	assert.InDelta(t, 20, lognormalOf(20, 6).mean(), 1e-12)
}

func TestDiscrete(t *testing.T) {
	d := discrete{[]float64{5, 1, 3}, []float64{0.25, 0.75, 1}}
	for p, want := range map[float64]float64{0.01: 5, 0.25: 5, 0.26: 1, 0.75: 1, 0.76: 3, 0.999: 3} {
		assert.Equal(t, want, d.quantile(p), "%v", p)
	}
	assert.InDelta(t, 0.75, d.below(4), 1e-15)
	assert.InDelta(t, 2.5, d.mean(), 1e-15)
}

func TestTruncationThatLeavesNothing(t *testing.T) {
	_, ok := newTruncated(normal{0, 1}, 5, 9)
	assert.False(t, ok)
}

func TestCorrelationsThatAreNone(t *testing.T) {
	for name, tt := range map[string]struct {
		r    [][]float64
		want string
	}{
		"rows":          {[][]float64{{1}}, "spread: correlation is 1 rows: want 3, one for each input that is uncertain"},
		"columns":       {[][]float64{{1, 0, 0}, {0, 1}, {0, 0, 1}}, "spread: correlation[1] is 2 numbers: want 3, one for each input that is uncertain"},
		"diagonal":      {[][]float64{{1, 0, 0}, {0, 0.9, 0}, {0, 0, 1}}, "spread: correlation[1][1] is 0.9: want 1: every input is correlated with itself"},
		"not symmetric": {[][]float64{{1, 0.2, 0}, {0.3, 1, 0}, {0, 0, 1}}, "spread: correlation[1][0] is 0.3: want 0.2, as correlation[0][1] has it"},
		"too large":     {[][]float64{{1, 2, 0}, {2, 1, 0}, {0, 0, 1}}, "spread: correlation[0][1] is 2: want -1 to 1\nspread: correlation[1][0] is 2: want -1 to 1"},
		"no number":     {[][]float64{{1, math.NaN(), 0}, {0, 1, 0}, {0, 0, 1}}, "spread: correlation[0][1] is NaN: want -1 to 1\nspread: correlation[1][0] is 0: want NaN, as correlation[0][1] has it"},
		"at odds":       {[][]float64{{1, 0.9, -0.9}, {0.9, 1, 0.9}, {-0.9, 0.9, 1}}, "spread: correlation is a matrix with the eigenvalue -0.8: want correlations that can hold together, with no eigenvalue below 0: bring some nearer to 0"},
	} {
		t.Run(name, func(t *testing.T) {
			c := reckon.Checks{Func: "spread"}
			assert.False(t, checkCorrelation(&c, "correlation", tt.r, 3))
			assert.EqualError(t, c.Err(), tt.want)
		})
	}
	c := reckon.Checks{}
	assert.True(t, checkCorrelation(&c, "correlation", nil, 3), "no matrix is no correlation")
	assert.True(t, checkCorrelation(&c, "correlation", [][]float64{{1, 1, -1}, {1, 1, -1}, {-1, -1, 1}}, 3), "one input three times over")
}

// The values drawn have the correlations asked for, also where the matrix is of less than full rank.
func TestCorrelationsAreDrawn(t *testing.T) {
	const n = 1 << 14
	for name, r := range map[string][][]float64{
		"three":    {{1, 0.6, -0.3}, {0.6, 1, 0.2}, {-0.3, 0.2, 1}},
		"singular": {{1, 1, -1}, {1, 1, -1}, {-1, -1, 1}},
		"line":     {{1, 0.6, 0.8}, {0.6, 1, 0}, {0.8, 0, 1}},
	} {
		p := newPopulation([]shape{normal{20, 2}, normal{-3, 0.1}, normal{0, 40}}, r)
		s, u := newSobolPoints(3, 1), make([]float64, 3)
		y := make([]float64, 3*n)
		for i := range n {
			s.Point(i, u)
			p.draw(u, y[3*i:3*i+3])
		}
		joint := sampleCovariance(y, 3)
		for a := range 3 {
			for b := range 3 {
				assert.InDelta(t, r[a][b], joint[a][b]/math.Sqrt(joint[a][a]*joint[b][b]), 0.002, "%s, %d and %d", name, a, b)
			}
		}
	}
}

// Inputs of any shape keep their own distribution when they are correlated.
func TestCorrelatedInputsKeepTheirShape(t *testing.T) {
	p := newPopulation([]shape{trapezoidal{0, 1, 1}, arcsine{-1, 1}}, [][]float64{{1, 0.8}, {0.8, 1}})
	const n = 1 << 12
	s, u, x := newSobolPoints(2, 9), make([]float64, 2), make([]float64, 2)
	var below [2]int
	for i := range n {
		s.Point(i, u)
		p.draw(u, x)
		if x[0] < 0.25 {
			below[0]++
		}
		if x[1] < p.shapes[1].quantile(0.1) {
			below[1]++
		}
	}
	assert.InDelta(t, 0.25, float64(below[0])/n, 0.002)
	assert.InDelta(t, 0.1, float64(below[1])/n, 0.002)
}

// Whatever the matrix, it is refused by name or it can be drawn from.
func FuzzCorrelation(f *testing.F) {
	f.Add(0.5, 0.5, 0.5, 1.0)
	f.Add(0.9, -0.9, 0.9, 1.0)
	f.Add(1.0, 1.0, 1.0, 1.0)
	f.Add(math.NaN(), math.Inf(1), 0.0, 0.0)
	f.Fuzz(func(t *testing.T, a, b, d, one float64) {
		r := [][]float64{{1, a, b}, {a, one, d}, {b, d, 1}}
		c := reckon.Checks{Func: "spread"}
		if !checkCorrelation(&c, "correlation", r, 3) {
			require.Error(t, c.Err())
			return
		}
		require.NoError(t, c.Err())
		l := cholesky(r)
		for i := range r {
			for j := range i + 1 {
				sum := 0.0
				for k := range j + 1 {
					sum += l[i][k] * l[j][k]
				}
				assert.InDelta(t, r[i][j], sum, 1e-5, "%v", r)
			}
		}
	})
}

// Whatever the parameters, quantiles are numbers that rise.
func FuzzShapes(f *testing.F) {
	f.Add(0.3, 0.4, 1.0, 2.0, 0.5)
	f.Add(1e-9, 0.999, -5.0, 1e-3, 0.0)
	f.Fuzz(func(t *testing.T, p, q, low, width, part float64) {
		if !(p > 0 && p < q && q < 1 && math.Abs(low) < 1e6 && width > 1e-6 && width < 1e6 && part >= 0 && part <= 1) {
			t.Skip()
		}
		high := low + width
		all := []shape{
			normal{low, width},
			student{low, width, 1 + 50*part},
			trapezoidal{low, high, part},
			arcsine{low, high},
			triangular{low, low + part*width, high},
			lognormalOf(math.Abs(low)+1, width),
		}
		if part > 0 && part < 1 {
			all = append(all, curvilinear{low, high, part * width / 2})
		}
		if cut, ok := newTruncated(normal{low, width}, low-part*width, high); ok {
			all = append(all, cut)
		}
		for _, d := range all {
			x, y := d.quantile(p), d.quantile(q)
			if math.IsNaN(x) || math.IsNaN(y) || x > y+1e-9*width {
				t.Errorf("%T%v: %v at %v, %v at %v", d, d, x, p, y, q)
			}
		}
	})
}
