package whatif

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"

	"example.com/dough/doughmath/reckon"
)

func point(s sampler, i, dims int) []float64 {
	u := make([]float64, dims)
	s.Point(i, u)
	return u
}

func sampled(t testing.TB, scheme Combine, dims, n int, seed uint64) sampler {
	t.Helper()
	c := reckon.Checks{Func: "study"}
	s := newSampler(&c, scheme, dims, n, seed)
	require.NoError(t, c.Err())
	return s
}

var schemes = []Combine{Random, LatinHypercube, Sobol, Halton}

// The first points in three coordinates are printed by Joe and Kuo; those in five
// follow from the direction numbers and were made apart from this code.
//
// Source: S. Joe and F. Y. Kuo, example of the reference program (published); five coordinates derived.
func TestSobolAsPublished(t *testing.T) {
	want := [][5]float64{
		{0, 0, 0, 0, 0},
		{0.5, 0.5, 0.5, 0.5, 0.5},
		{0.75, 0.25, 0.25, 0.25, 0.75},
		{0.25, 0.75, 0.75, 0.75, 0.25},
		{0.375, 0.375, 0.625, 0.875, 0.375},
		{0.875, 0.875, 0.125, 0.375, 0.875},
		{0.625, 0.125, 0.875, 0.625, 0.625},
		{0.125, 0.625, 0.375, 0.125, 0.125},
		{0.1875, 0.3125, 0.9375, 0.4375, 0.5625},
		{0.6875, 0.8125, 0.4375, 0.9375, 0.0625},
		{0.9375, 0.0625, 0.6875, 0.1875, 0.3125},
		{0.4375, 0.5625, 0.1875, 0.6875, 0.8125},
		{0.3125, 0.1875, 0.3125, 0.5625, 0.9375},
		{0.8125, 0.6875, 0.8125, 0.0625, 0.4375},
		{0.5625, 0.4375, 0.0625, 0.8125, 0.1875},
		{0.0625, 0.9375, 0.5625, 0.3125, 0.6875},
	}
	plain := plainSobolPoints(5)
	for i, w := range want {
		assert.Equal(t, w[:], point(plain, i, 5), "point %d", i)
	}
}

// All 64 coordinates of two points far down, in units of 2^-30.
//
// Source: SciPy 1.10.1, scipy.stats.qmc.Sobol(64, scramble=False, bits=30) (reference library).
func TestSobolInAllCoordinates(t *testing.T) {
	plain := plainSobolPoints(maxSpaceful)
	for i, want := range map[int][maxSpaceful]float64{
		1000:   {235929600, 103809024, 556793856, 726663168, 300941312, 974127104, 49283072, 965738496, 537919488, 74448896, 91226112, 273678336, 173015040, 412090368, 154140672, 397410304, 772800512, 370147328, 1064304640, 779091968, 560988160, 590348288, 1020264448, 579862528, 625999872, 974127104, 42991616, 1051721728, 63963136, 365953024, 158334976, 156237824, 317718528, 636485632, 860880896, 827326464, 911212544, 892338176, 330301440, 514850816, 980418560, 273678336, 1030750208, 753926144, 902823936, 99614720, 936378368, 986710016, 1072693248, 514850816, 378535936, 554696704, 808452096, 470810624, 135266304, 957349888, 487587840, 84934656, 948961280, 613416960, 479199232, 646971392, 277872640, 479199232},
		123456: {28450816, 196222976, 329916416, 483516416, 181657600, 218243072, 768614400, 498278400, 758554624, 267427840, 535912448, 838787072, 592683008, 301129728, 819634176, 710139904, 613441536, 399056896, 947052544, 168747008, 126803968, 647389184, 500867072, 533602304, 800071680, 563126272, 925409280, 481878016, 787505152, 349233152, 724049920, 81289216, 282501120, 63315968, 13524992, 431906816, 202563584, 502145024, 238428160, 398336000, 852500480, 122691584, 990388224, 389554176, 817373184, 724049920, 1014931456, 834445312, 769892352, 172204032, 279420928, 680697856, 144285696, 217817088, 1033052160, 3186688, 1052041216, 35201024, 842522624, 424271872, 523116544, 580706304, 735059968, 1022353408},
	} {
		for j, x := range point(plain, i, maxSpaceful) {
			assert.Equal(t, want[j], x*(1<<30), "coordinate %d of point %d", j+1, i)
		}
	}
}

// A block of 2^k points has one in each 2^k-th of every coordinate, and the scrambling leaves that so.
//
// Source: definition of a digital sequence (derived).
func TestSobolIsEvenBlockByBlock(t *testing.T) {
	const dims, block = maxSpaceful, 256
	for name, s := range map[string]sampler{"plain": plainSobolPoints(dims), "scrambled": newSobolPoints(dims, 7)} {
		for first := 0; first < 4*block; first += block {
			var seen [dims][block]bool
			for i := first; i < first+block; i++ {
				for j, x := range point(s, i, dims) {
					band := int(x * block)
					assert.False(t, seen[j][band], "%s: band %d of coordinate %d twice", name, band, j+1)
					seen[j][band] = true
				}
			}
		}
	}
}

// Source: J. H. Halton 1960, the definition, in exact fractions (derived).
func TestHaltonAsDefined(t *testing.T) {
	want := [][4]float64{
		{0, 0, 0, 0},
		{1. / 2, 1. / 3, 1. / 5, 1. / 7},
		{1. / 4, 2. / 3, 2. / 5, 2. / 7},
		{3. / 4, 1. / 9, 3. / 5, 3. / 7},
		{1. / 8, 4. / 9, 4. / 5, 4. / 7},
		{5. / 8, 7. / 9, 1. / 25, 5. / 7},
		{3. / 8, 2. / 9, 6. / 25, 6. / 7},
		{7. / 8, 5. / 9, 11. / 25, 1. / 49},
		{1. / 16, 8. / 9, 16. / 25, 8. / 49},
		{9. / 16, 1. / 27, 21. / 25, 15. / 49},
		{5. / 16, 10. / 27, 2. / 25, 22. / 49},
		{13. / 16, 19. / 27, 7. / 25, 29. / 49},
		{3. / 16, 4. / 27, 12. / 25, 36. / 49},
		{11. / 16, 13. / 27, 17. / 25, 43. / 49},
		{7. / 16, 22. / 27, 22. / 25, 2. / 49},
		{15. / 16, 7. / 27, 3. / 25, 9. / 49},
	}
	plain := plainHaltonPoints(4)
	for i, w := range want {
		assert.InDeltaSlice(t, w[:], point(plain, i, 4), 1e-15, "point %d", i)
	}
	bases := plainHaltonPoints(maxSpaceful)
	assert.Equal(t, 311, bases[maxSpaceful-1].base, "the 64th prime")
}

// Source: gonum v0.17.0, samplemv.Halton with Owen's scrambling (reference library).
func TestHaltonAsGonum(t *testing.T) {
	const n, dims, seed = 200, maxSpaceful, 42
	batch := mat.NewDense(n, dims, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(dims, nil), Src: rand.NewPCG(seed, haltonStream)}.Sample(batch)
	ours := newHaltonPoints(dims, seed)
	for i := range n {
		assert.InDeltaSlice(t, batch.RawRowView(i), point(ours, i, dims), 1e-15, "point %d", i)
	}
}

// Exactly one point lies in each n-th of every coordinate, whatever n is.
//
// Source: M. D. McKay, R. J. Beckman, W. J. Conover 1979 (derived from the definition).
func TestLatinHypercubeHasOneInEachBand(t *testing.T) {
	for _, n := range []int{1, 2, 3, 5, 10, 16, 1000, 4097} {
		s := sampled(t, LatinHypercube, 3, n, 11)
		seen := make([][3]bool, n)
		for i := range n {
			for j, x := range point(s, i, 3) {
				band := int(x * float64(n))
				assert.False(t, seen[band][j], "n = %d: band %d of coordinate %d twice", n, band, j)
				seen[band][j] = true
			}
		}
	}
}

// The shuffle favours no order: over many seeds all 120 orders of five bands
// come about equally often, by a chi-square test at 1 in 10,000.
func TestLatinHypercubeFavoursNoOrder(t *testing.T) {
	const seeds, orders = 12000, 120
	count := map[[5]int]float64{}
	for seed := range uint64(seeds) {
		s := newLatinPoints(1, 5, seed)
		var order [5]int
		for i := range order {
			order[i] = int(5 * point(s, i, 1)[0])
		}
		count[order]++
	}
	require.Len(t, count, orders)
	chi2 := 0.0
	for _, n := range count {
		chi2 += (n - seeds/orders) * (n - seeds/orders) / (seeds / orders)
	}
	assert.Less(t, chi2, 181.99, "chi-square with 119 degrees of freedom") // distuv.ChiSquared{K: 119}.Quantile(0.9999)
}

// Whatever the scheme, a point is the same whoever asks for it and when, every
// coordinate is inside the cube, and another seed gives other points.
func TestPointsCanBeHadAlone(t *testing.T) {
	const dims, n = 7, 1 << 10
	for _, scheme := range schemes {
		t.Run(string(scheme), func(t *testing.T) {
			forward, backward, other := sampled(t, scheme, dims, n, 5), sampled(t, scheme, dims, n, 5), sampled(t, scheme, dims, n, 6)
			all := make([][]float64, n)
			for i := n - 1; i >= 0; i-- {
				all[i] = point(backward, i, dims)
			}
			same := 0
			for i := range n {
				here := point(forward, i, dims)
				require.Equal(t, all[i], here, "point %d", i)
				require.Equal(t, here[:2], point(sampled(t, scheme, 2, n, 5), i, 2), "coordinates that come later change nothing")
				for _, x := range here {
					require.True(t, x > 0 && x < 1, "%v", x)
				}
				if fmt.Sprint(here) == fmt.Sprint(point(other, i, dims)) {
					same++
				}
			}
			assert.Zero(t, same, "points that two seeds share")
		})
	}
}

// The mean of each coordinate, and of each product of two, is what it is over
// the cube, within four standard errors of independent draws.
func TestPointsFillTheCube(t *testing.T) {
	const dims, n = 6, 1 << 12
	for _, scheme := range schemes {
		s := sampled(t, scheme, dims, n, 3)
		var mean [dims]float64
		var product [dims][dims]float64
		for i := range n {
			u := point(s, i, dims)
			for j := range u {
				mean[j] += u[j] / n
				for k := range j {
					product[j][k] += (u[j] - 0.5) * (u[k] - 0.5) / n
				}
			}
		}
		for j := range mean {
			assert.InDelta(t, 0.5, mean[j], 4/math.Sqrt(12*n), "%s, coordinate %d", scheme, j)
			for k := range j {
				assert.InDelta(t, 0, product[j][k], 4./12/math.Sqrt(n), "%s, coordinates %d and %d", scheme, j, k)
			}
		}
	}
}

// These numbers hold from one release and one machine to the next.
func TestPointsStayTheSame(t *testing.T) {
	got := map[Combine][]float64{}
	for _, scheme := range schemes {
		got[scheme] = point(sampled(t, scheme, 2, 1000, 2026), 777, 2)
	}
	assert.Equal(t, map[Combine][]float64{
		Random:         {0.8172476099224596, 0.8454989404125385},
		LatinHypercube: {0.610069063404975, 0.5118025924227851},
		Sobol:          {0.3657574179598534, 0.4946322335957024},
		Halton:         {0.5554868711870516, 0.8019538541288377},
	}, got)
}

func TestSamplesThatAreRefused(t *testing.T) {
	for name, tt := range map[string]struct {
		scheme  Combine
		dims, n int
		want    string
	}{
		"unknown":    {"grid", 2, 10, `study: combine is "grid": want "random", "latin-hypercube", "sobol" or "halton"`},
		"no points":  {Random, 2, 0, `study: samples is 0: want a whole number from 1 to 1073741824`},
		"no inputs":  {Random, 0, 10, `study: combine is "random" with 0 inputs: want 1 to 1024 inputs`},
		"too many":   {Sobol, 65, 10, `study: combine is "sobol" with 65 inputs: want 1 to 64 inputs; more can be sampled with "latin-hypercube"`},
		"two things": {Halton, 65, -1, "study: samples is -1: want a whole number from 1 to 1073741824\nstudy: combine is \"halton\" with 65 inputs: want 1 to 64 inputs; more can be sampled with \"latin-hypercube\""},
	} {
		t.Run(name, func(t *testing.T) {
			c := reckon.Checks{Func: "study"}
			assert.Nil(t, newSampler(&c, tt.scheme, tt.dims, tt.n, 1))
			assert.EqualError(t, c.Err(), tt.want)
		})
	}
}

func BenchmarkPoint(b *testing.B) {
	for _, scheme := range schemes {
		b.Run(string(scheme), func(b *testing.B) {
			s, u, i, sum := sampled(b, scheme, 5, 1<<20, 1), make([]float64, 5), 0, 0.0
			b.ReportAllocs()
			for b.Loop() {
				s.Point(i&(1<<20-1), u)
				sum += u[0]
				i++
			}
			if sum == 0 {
				b.Fatal("no points")
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "points/s")
		})
	}
}
