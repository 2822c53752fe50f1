package divider_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// grams turns bare numbers into weighings.
func grams(x ...float64) []unit.Mass {
	out := make([]unit.Mass, len(x))
	for i, v := range x {
		out[i] = unit.Grams(v)
	}
	return out
}

func sample(weighings ...float64) divider.PieceSample {
	return divider.PieceSample{Weighings: grams(weighings...), Confidence: 95, Share: 95, Method: divider.ToleranceHowe}
}

// allFinite fails on any NaN or infinity that %v would show.
func allFinite(t *testing.T, values ...float64) {
	t.Helper()
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("not finite: %v", values)
		}
	}
}

func ExamplePieceSample() {
	out, err := divider.PieceSample{
		Weighings:  grams(85.2, 84.1, 86.0, 85.5, 84.7, 85.9, 84.4, 85.1, 86.3, 84.8),
		Confidence: 95, Share: 95, Method: divider.ToleranceExact,
		HalfWidth: unit.Grams(0.3),
	}.Solve()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("mean", out.Mean, "from", out.MeanLow, "to", out.MeanHigh)
	fmt.Println("95 % of all pieces from", out.PiecesLow, "to", out.PiecesHigh)
	fmt.Println("for ±0.3 g weigh", out.Needed)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// mean 85.2 g from 84.68 g to 85.72 g
	// 95 % of all pieces from 82.75 g to 87.65 g
	// for ±0.3 g weigh 25
	// Weigh more pieces before you decide.
}

func TestPieceSampleConditions(t *testing.T) {
	steady := []float64{85, 84, 86, 85, 84.5, 85.5, 85.2, 84.8}
	for _, tt := range []struct {
		id   string
		in   divider.PieceSample
		want divider.Conditions
	}{
		{"steady", sample(steady...), 0},
		{"outlier", sample(append([]float64{71}, steady...)...), reckon.Outlier},
		{"coarse-scale", func() divider.PieceSample { in := sample(steady...); in.Division = 1; return in }(), reckon.ScaleTooCoarse},
		{"fine-scale", func() divider.PieceSample { in := sample(steady...); in.Division = 0.5; return in }(), 0},
		{"too-few", func() divider.PieceSample { in := sample(steady...); in.HalfWidth = 0.2; return in }(), divider.WeighMore},
		{"enough", func() divider.PieceSample { in := sample(steady...); in.HalfWidth = 1; return in }(), 0},
	} {
		t.Run(tt.id, func(t *testing.T) {
			out, err := tt.in.Solve()
			require.NoError(t, err)
			assert.Equal(t, tt.want, out.Conditions, out.Conditions.String())
		})
	}
}

func TestPieceSampleKeepsTheOutlier(t *testing.T) {
	out, err := sample(85, 84, 86, 85, 84.5, 85.5, 71).Solve()
	require.NoError(t, err)
	assert.Equal(t, 7, out.Farthest)
	assert.Equal(t, unit.Grams(71), out.Lightest)
	assert.InDelta(t, (85+84+86+85+84.5+85.5+71)/7.0, out.Mean.Grams(), 1e-12, "the mean counts it")
}

func TestPieceSampleOfTwo(t *testing.T) {
	out, err := sample(84, 86).Solve()
	require.NoError(t, err)
	assert.Zero(t, out.GrubbsLimit, "two pieces have no outlier")
	assert.Equal(t, 1, out.Farthest, "the first of two that lie as far off")
	assert.Zero(t, out.Conditions)
	// t(0.975; 1) = 12.7062 and s = sqrt 2, so the half-width is 12.7062.
	assert.InDelta(t, 85-12.7062047361747, out.MeanLow.Grams(), 1e-10)
}

func TestPieceSampleNamesEveryBadField(t *testing.T) {
	in := divider.PieceSample{Weighings: grams(85, 0, -3, math.NaN(), 1e9), Confidence: 100, Share: 10, Method: "guess", HalfWidth: -1, Division: unit.Mass(math.Inf(1))}
	_, err := in.Solve()
	assert.Equal(t, []string{"weighings[1]", "weighings[2]", "weighings[3]", "weighings[4]", "confidence", "share", "method", "half_width", "division"}, refusedFields(err))

	_, err = sample(85, 85, 85).Solve()
	assert.Equal(t, []string{"weighings"}, refusedFields(err))
	assert.ErrorContains(t, err, "3 times 85 g")
	hopeless := sample(85, 84, 86)
	hopeless.HalfWidth = 5e-324
	_, err = hopeless.Solve()
	assert.Equal(t, []string{"half_width"}, refusedFields(err))
	_, err = sample(85).Solve()
	assert.Equal(t, []string{"weighings"}, refusedFields(err))
}

func TestSampleCalculationsDoNotAllocate(t *testing.T) {
	in := sample(85, 84, 86, 85, 84.5, 85.5)
	in.Method = divider.ToleranceExact
	// gonum takes one small slice for each chi-square quantile below a quarter.
	fromGonum := map[string]float64{"piece-sample": 3, "tolerance-factor": 2}
	for name, f := range map[string]func(){
		"piece-sample":    func() { _, _ = in.Solve() },
		"pieces-to-weigh": func() { _, _ = (divider.PiecesToWeigh{SD: 1, HalfWidth: 0.3, Confidence: 95}).Solve() },
		"pieces-to-detect": func() {
			_, _ = (divider.PiecesToDetect{SD: 1, Shift: 0.5, Confidence: 95, DetectionChance: 90, Sides: divider.TwoSided}).Solve()
		},
		"tolerance-factor": func() {
			_, _ = (divider.ToleranceFactor{Pieces: 20, Share: 95, Confidence: 95}).Solve()
		},
		"group-sample": func() {
			_, _ = (divider.GroupSample{Groups: in.Weighings, Pieces: 2, Confidence: 95}).Solve()
		},
		"scale-division": func() { _, _ = (divider.ScaleDivision{Division: 1, SD: 1}).Solve() },
	} {
		assert.LessOrEqual(t, testing.AllocsPerRun(5, f), fromGonum[name], name)
	}
}

func FuzzPieceSample(f *testing.F) {
	f.Add(85.0, 84.0, 86.0, 95.0, 90.0, 0.5, true)
	f.Add(85.0, 84.0, 86.0, 95.0, 90.0, 5e-324, true)
	f.Add(1e-300, 1e-200, 1e5, 99.99, 50.0, 0.0, false)
	f.Add(math.MaxFloat64, 5e-324, 1.0, 50.0, 99.99, 1.0, true)
	f.Fuzz(func(t *testing.T, a, b, c, level, share, half float64, exact bool) {
		method := divider.ToleranceHowe
		if exact {
			method = divider.ToleranceExact
		}
		out, err := divider.PieceSample{Weighings: grams(a, b, c), Confidence: unit.Percent(level), Share: unit.Percent(share), Method: method, HalfWidth: unit.Grams(half)}.Solve()
		if err != nil {
			if len(refusedFields(err)) == 0 {
				t.Fatal(err)
			}
			return
		}
		allFinite(t, float64(out.Mean), float64(out.SD), float64(out.MeanLow), float64(out.MeanHigh), float64(out.SDLow), float64(out.SDHigh),
			float64(out.AtLeast), float64(out.AtMost), out.Grubbs, out.GrubbsLimit, float64(out.NextLow), float64(out.NextHigh), float64(out.PiecesLow), float64(out.PiecesHigh))
	})
}

func BenchmarkPieceSample(b *testing.B) {
	in := sample(85, 84, 86, 85, 84.5, 85.5, 85.2, 84.8, 86.1, 85.3)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
