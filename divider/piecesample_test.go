package divider_test

import (
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
	return divider.PieceSample{Weighings: grams(weighings...), Level: 95, Share: 95, Method: divider.ToleranceHowe}
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
	assert.Zero(t, out.Conditions)
	// t(0.975; 1) = 12.7062 and s = sqrt 2, so the half-width is 12.7062.
	assert.InDelta(t, 85-12.7062047361747, out.MeanLow.Grams(), 1e-10)
}

func TestPieceSampleNamesEveryBadField(t *testing.T) {
	in := divider.PieceSample{Weighings: grams(85, 0, -3, math.NaN(), 1e9), Level: 100, Share: 10, Method: "guess", HalfWidth: -1, Division: unit.Mass(math.Inf(1))}
	_, err := in.Solve()
	assert.Equal(t, []string{"weighings[1]", "weighings[2]", "weighings[3]", "weighings[4]", "level", "share", "method", "half_width", "division"}, refusedFields(err))

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

// Pieces asked for and half-width reached go there and back: n pieces reach
// the half-width, n - 1 do not.
func TestPiecesToWeighGoesThereAndBack(t *testing.T) {
	for _, sd := range []float64{0.3, 1, 7} {
		for _, half := range []float64{0.05, 0.4, 3, 20} {
			for _, level := range []unit.Percent{50, 90, 99.9} {
				plan, err := divider.PiecesToWeigh{SD: unit.Grams(sd), HalfWidth: unit.Grams(half), Level: level}.Solve()
				require.NoError(t, err)
				if plan.Pieces > 20000 {
					continue // more than the inverse takes
				}
				back, err := divider.HalfWidthForPieces{SD: unit.Grams(sd), Pieces: plan.Pieces, Level: level}.Solve()
				require.NoError(t, err)
				assert.Equal(t, plan.HalfWidth, back.HalfWidth)
				assert.LessOrEqual(t, back.HalfWidth.Grams(), half)
				if plan.Pieces > 2 {
					fewer, err := divider.HalfWidthForPieces{SD: unit.Grams(sd), Pieces: plan.Pieces - 1, Level: level}.Solve()
					require.NoError(t, err)
					assert.Greater(t, fewer.HalfWidth.Grams(), half)
				}
			}
		}
	}
}

func TestPiecesToDetectGoesThereAndBack(t *testing.T) {
	for _, sides := range []divider.SampleSides{divider.OneSided, divider.TwoSided} {
		for _, shift := range []float64{0.1, 0.5, 1, 4} {
			in := divider.PiecesToDetect{SD: 1, Shift: unit.Grams(shift), Level: 95, Power: 90, Sides: sides}
			plan, err := in.Solve()
			require.NoError(t, err)
			back, err := divider.ShiftForPieces{SD: 1, Pieces: plan.Pieces, Level: 95, Power: 90, Sides: sides}.Solve()
			require.NoError(t, err)
			assert.Equal(t, plan.Shift, back.Shift)
			assert.LessOrEqual(t, back.Shift.Grams(), shift)
			if plan.Pieces > 2 {
				fewer, err := divider.ShiftForPieces{SD: 1, Pieces: plan.Pieces - 1, Level: 95, Power: 90, Sides: sides}.Solve()
				require.NoError(t, err)
				assert.Greater(t, fewer.Shift.Grams(), shift)
			}
		}
	}
}

func TestPlansRefuse(t *testing.T) {
	_, err := divider.PiecesToWeigh{SD: 1, HalfWidth: 1e-6, Level: 20}.Solve()
	assert.Equal(t, []string{"half_width", "level"}, refusedFields(err))
	_, err = divider.PiecesToWeigh{SD: 0, HalfWidth: 0, Level: 95}.Solve()
	assert.Equal(t, []string{"sd", "half_width"}, refusedFields(err))
	_, err = divider.HalfWidthForPieces{SD: -1, Pieces: 1, Level: 100}.Solve()
	assert.Equal(t, []string{"sd", "pieces", "level"}, refusedFields(err))
	_, err = divider.PiecesToDetect{SD: 1, Shift: 5000, Level: 0, Power: 0, Sides: "three"}.Solve()
	assert.Equal(t, []string{"shift", "level", "power", "sides"}, refusedFields(err))
	_, err = divider.ShiftForPieces{}.Solve()
	assert.Equal(t, []string{"sd", "pieces", "level", "power", "sides"}, refusedFields(err))
	_, err = divider.ToleranceFactor{}.Solve()
	assert.Equal(t, []string{"pieces", "share", "level"}, refusedFields(err))
	_, err = divider.GroupSample{Groups: grams(500, 500), Division: -1}.Solve()
	assert.Equal(t, []string{"groups", "pieces", "level", "division"}, refusedFields(err))
	_, err = divider.ScaleDivision{SD: -1, Variation: 2e6}.Solve()
	assert.Equal(t, []string{"division", "sd", "variation"}, refusedFields(err))
	_, err = divider.ScaleDivision{Division: 1}.Solve()
	assert.Equal(t, []string{"sd"}, refusedFields(err))
}

// Howe's factor stays as near the exact one as its comment says, and the exact
// factor falls with every piece.
func TestHoweNearExact(t *testing.T) {
	for _, share := range []unit.Percent{50, 90, 95, 99, 99.99} {
		for _, level := range []unit.Percent{90, 95, 99} {
			last := math.Inf(1)
			for _, n := range []int{5, 6, 10, 20, 100, 2000} {
				f, err := divider.ToleranceFactor{Pieces: n, Share: share, Level: level}.Solve()
				require.NoError(t, err)
				off := 0.05
				if n >= 10 && share >= 90 && share <= 99 {
					off = 0.01
				}
				assert.InEpsilon(t, f.Exact, f.Howe, off, "n %d share %v level %v", n, share, level)
				assert.Less(t, f.Exact, last)
				last = f.Exact
			}
		}
	}
}

func TestGroupAndSingleWeighingAgreeOnTheMean(t *testing.T) {
	single := grams(85, 84, 86.5, 85.2, 84.8, 86, 83.9, 85.6, 85.1, 84.4, 85.8, 85.3)
	var groups []unit.Mass
	for i := 0; i < len(single); i += 3 {
		groups = append(groups, single[i]+single[i+1]+single[i+2])
	}
	one, err := divider.PieceSample{Weighings: single, Level: 95, Share: 95, Method: divider.ToleranceHowe}.Solve()
	require.NoError(t, err)
	many, err := divider.GroupSample{Groups: groups, Pieces: 3, Level: 95, Division: 0.2}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, one.Mean.Grams(), many.Mean.Grams(), 1e-12)
	assert.InDelta(t, 0.2/math.Sqrt(12)/3, many.RoundingSD.Grams(), 1e-15)
	assert.Zero(t, many.Conditions)
	many, err = divider.GroupSample{Groups: groups, Pieces: 3, Level: 95, Division: 20}.Solve()
	require.NoError(t, err)
	assert.Equal(t, divider.Conditions(reckon.ScaleTooCoarse), many.Conditions)
}

func TestScaleDivisionLimits(t *testing.T) {
	for _, tt := range []struct {
		id                      string
		division, sd, variation unit.Mass
		coarse                  bool
	}{
		{"hb133-example", 1, 0, 7.2, false},
		{"just-fine", 1.2, 0, 7.2, false},
		{"over-the-rule", 2, 0, 7.2, true},
		{"as-large-as-the-scatter", 0.7, 0.7, 0, false},
		{"larger-than-the-scatter", 1, 0.7, 0, true},
		{"one-of-two", 1, 0.7, 7.2, true},
	} {
		out, err := divider.ScaleDivision{Division: tt.division, SD: tt.sd, Variation: tt.variation}.Solve()
		require.NoError(t, err)
		assert.Equal(t, tt.coarse, out.Conditions.Has(reckon.ScaleTooCoarse), tt.id)
	}
	out, err := divider.ScaleDivision{Division: 1, SD: 1}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(13.0/12), out.ShownSD.Grams(), 1e-15, "a division as large as the sd adds 4 %")
}

func TestSampleCalculationsDoNotAllocate(t *testing.T) {
	in := sample(85, 84, 86, 85, 84.5, 85.5)
	in.Method = divider.ToleranceExact
	// gonum takes one small slice for each chi-square quantile below a quarter.
	fromGonum := map[string]float64{"piece-sample": 3, "tolerance-factor": 2}
	for name, f := range map[string]func(){
		"piece-sample":    func() { _, _ = in.Solve() },
		"pieces-to-weigh": func() { _, _ = (divider.PiecesToWeigh{SD: 1, HalfWidth: 0.3, Level: 95}).Solve() },
		"pieces-to-detect": func() {
			_, _ = (divider.PiecesToDetect{SD: 1, Shift: 0.5, Level: 95, Power: 90, Sides: divider.TwoSided}).Solve()
		},
		"tolerance-factor": func() {
			_, _ = (divider.ToleranceFactor{Pieces: 20, Share: 95, Level: 95}).Solve()
		},
		"group-sample": func() {
			_, _ = (divider.GroupSample{Groups: in.Weighings, Pieces: 2, Level: 95}).Solve()
		},
		"scale-division": func() { _, _ = (divider.ScaleDivision{Division: 1, SD: 1}).Solve() },
	} {
		assert.LessOrEqual(t, testing.AllocsPerRun(5, f), fromGonum[name], name)
	}
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
		out, err := divider.PieceSample{Weighings: grams(a, b, c), Level: unit.Percent(level), Share: unit.Percent(share), Method: method, HalfWidth: unit.Grams(half)}.Solve()
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

func BenchmarkToleranceFactor(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.ToleranceFactor{Pieces: 20, Share: 95, Level: 95}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPiecesToWeigh(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.PiecesToWeigh{SD: 1, HalfWidth: 0.3, Level: 95}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
