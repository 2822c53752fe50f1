package divider_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func shopTrials() []divider.FlourTrial {
	return []divider.FlourTrial{{1, 90, 120}, {2, 130, 120}, {3, 185, 120}, {4, 230, 120}}
}

func TestStickinessFitAgainstLibrary(t *testing.T) {
	trials := shopTrials()
	var x, y []float64
	for _, tr := range trials {
		x, y = append(x, tr.Stickiness), append(y, tr.Flour.Grams()/float64(tr.Pieces))
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	got, err := divider.StickinessFit{Trials: trials}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, a, got.Scale.Intercept.Grams(), 1e-12)
	assert.InDelta(t, b, got.Scale.PerStep.Grams(), 1e-12)
	assert.Equal(t, 1.0, got.Scale.StickinessLow)
	assert.Equal(t, 4.0, got.Scale.StickinessHigh)
	assert.Zero(t, got.Conditions)
}

func TestFlourThereAndBack(t *testing.T) {
	fit, err := divider.StickinessFit{Trials: shopTrials()}.Solve()
	require.NoError(t, err)
	for _, x := range []float64{0, 1, 2.5, 4, 7} {
		used, err := divider.FlourUse{Scale: fit.Scale, Stickiness: x, PieceRate: 60, RunTime: 3600}.Solve()
		require.NoError(t, err)
		back, err := divider.StickinessForFlour{Scale: fit.Scale, FlourPerPiece: used.FlourPerPiece}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, x, back.Stickiness, 1e-12)
		assert.InEpsilon(t, used.Hour.KilogramsPerHour(), used.PerRun.Kilograms(), 1e-12, "an hour's run")
		assert.InEpsilon(t, used.FlourPerPiece.Grams()*3600, used.PerRun.Grams(), 1e-12)
		outside := x < 1 || x > 4
		assert.Equal(t, outside, used.Conditions.Has(reckon.Extrapolated), "at %v", x)
		assert.False(t, used.Conditions.Has(reckon.Uncalibrated))
		assert.True(t, used.Cautions.Has(reckon.FlourDust))
	}
}

// Flour goes with the surface: eight pieces moulded into one have four times the surface of
// one of them, and the flour on a square centimetre stays what it was.
func TestFlourGoesWithTheSurface(t *testing.T) {
	fit, err := divider.StickinessFit{Trials: shopTrials(), TrialPiece: 50}.Solve()
	require.NoError(t, err)
	small := divider.FlourUse{Scale: fit.Scale, Stickiness: 2, Piece: 50, PieceRate: 60, RunTime: 3600}
	large := small
	large.Piece = 400
	a, err := small.Solve()
	require.NoError(t, err)
	b, err := large.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 4*float64(a.FlourPerPiece), float64(b.FlourPerPiece), 1e-12)
	back, err := divider.StickinessForFlour{Scale: fit.Scale, FlourPerPiece: b.FlourPerPiece, Piece: 400}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 2, back.Stickiness, 1e-12)
	holdsWhenWorkedByHand(t, large)
	holdsWhenWorkedByHand(t, divider.StickinessForFlour{Scale: fit.Scale, FlourPerPiece: b.FlourPerPiece, Piece: 400})
	large.Piece = 0
	_, err = large.Solve()
	assert.Equal(t, []string{"piece"}, fields(err))
	large.Piece, large.Scale.TrialPiece = 400, 0
	_, err = large.Solve()
	assert.Equal(t, []string{"piece"}, fields(err), "a scale that names no weight holds for its own pieces alone")
}

func TestFlourRefuses(t *testing.T) {
	scale := divider.StickinessScale{Intercept: -1, PerStep: 1, StickinessLow: 1, StickinessHigh: 4, TrialCount: 5}
	for _, tt := range []struct {
		id   string
		run  func() error
		want []string
	}{
		{"nothing given", func() error {
			_, err := (divider.FlourUse{}).Solve()
			return err
		}, []string{"run_time", "piece_rate"}},
		{"less than no flour", func() error {
			_, err := (divider.FlourUse{Scale: scale, Stickiness: 0.5, PieceRate: 60, RunTime: 60}).Solve()
			return err
		}, []string{"stickiness"}},
		{"a broken scale", func() error {
			_, err := (divider.FlourUse{Scale: divider.StickinessScale{Intercept: unit.Mass(math.NaN()), PerStep: unit.Mass(math.Inf(1)), StickinessLow: 4, StickinessHigh: 1, SD: -1, TrialCount: -1}, Stickiness: -1, PieceRate: 60, RunTime: 60}).Solve()
			return err
		}, []string{"scale.intercept", "scale.per_step", "scale.stickiness_high", "scale.sd", "scale.trial_count", "stickiness"}},
		{"a scale that falls", func() error {
			_, err := (divider.StickinessForFlour{Scale: divider.StickinessScale{PerStep: -1, StickinessHigh: 1}, FlourPerPiece: -1}).Solve()
			return err
		}, []string{"scale.per_step", "flour_per_piece"}},
		{"one trial", func() error {
			_, err := (divider.StickinessFit{Trials: shopTrials()[:1]}).Solve()
			return err
		}, []string{"trials"}},
		{"one step of stickiness", func() error {
			_, err := (divider.StickinessFit{Trials: []divider.FlourTrial{{2, 100, 100}, {2, 120, 100}}}).Solve()
			return err
		}, []string{"trials"}},
		{"bad trials", func() error {
			_, err := (divider.StickinessFit{Trials: []divider.FlourTrial{{2, 100, 0}, {-1, unit.Mass(math.NaN()), 1}, {3, 5000, 4}}}).Solve()
			return err
		}, []string{"trials[0].pieces", "trials[1].stickiness", "trials[1].flour", "trials[2].flour"}},
		{"no authority", func() error {
			_, err := (divider.DustLimit{}).Solve()
			return err
		}, []string{"authority"}},
	} {
		t.Run(tt.id, func(t *testing.T) { assert.Equal(t, tt.want, refusedFields(tt.run())) })
	}
}

func TestTwoTrialsAreTooFew(t *testing.T) {
	fit, err := divider.StickinessFit{Trials: shopTrials()[:2]}.Solve()
	require.NoError(t, err)
	assert.Equal(t, divider.WeighMore, fit.Conditions)
	used, err := divider.FlourUse{Scale: fit.Scale, Stickiness: 1.5, PieceRate: 60, RunTime: 60}.Solve()
	require.NoError(t, err)
	assert.Equal(t, divider.Conditions(reckon.Uncalibrated), used.Conditions)
}

// No figure stands without its authority, and the figures differ as the sources say: twentyfold.
func TestDustLimitsDiffer(t *testing.T) {
	kept := []divider.DustFigure{{What: "the caller's"}}
	low, err := divider.DustLimit{Authority: divider.DustACGIH}.Append(kept)
	require.NoError(t, err)
	require.Len(t, low.Figures, 2)
	assert.Equal(t, kept[0], low.Figures[0])
	high, err := divider.DustLimit{Authority: divider.DustUK}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 20.0, high.Figures[0].ValueLow/low.Figures[1].ValueLow)
	for _, a := range []divider.DustAuthority{divider.DustACGIH, divider.DustUK, divider.DustUSOSHA, divider.DustAustralia, divider.DustExplosionUK, divider.DustExplosionRecalled, divider.DustLayerUSOSHA} {
		got, err := divider.DustLimit{Authority: a}.Solve()
		require.NoError(t, err)
		assert.NotEmpty(t, got.Authority)
		assert.NotEmpty(t, got.Note)
		assert.NotEmpty(t, got.Figures)
		assert.Equal(t, got.Standing == divider.Recalled, got.Conditions.Has(reckon.FromMemory))
		assert.True(t, got.Cautions.Has(reckon.FlourDust))
		for _, f := range got.Figures {
			assert.LessOrEqual(t, f.ValueLow, f.ValueHigh)
			assert.NotEmpty(t, f.Unit)
			assert.NotEmpty(t, f.Basis)
		}
	}
}

// Of a scale and of trials one thing is said at a time.
func TestFlourIsRefusedOnce(t *testing.T) {
	_, err := divider.StickinessForFlour{Scale: divider.StickinessScale{PerStep: -2e6, StickinessHigh: 4, TrialCount: 4}, FlourPerPiece: 1}.Solve()
	assert.Equal(t, []string{"scale.per_step"}, refusedFields(err))
	_, err = divider.StickinessFit{Trials: []divider.FlourTrial{{Stickiness: 1, Flour: -1, Pieces: 1}, {Stickiness: 1, Flour: 1, Pieces: 1}}}.Solve()
	assert.Equal(t, []string{"trials[0].flour"}, refusedFields(err))
}

func FuzzFlour(f *testing.F) {
	f.Add(1.0, 90.0, 120, 4.0, 230.0, 120, 2.5, 60.0, 3600.0)
	f.Add(0.0, 1e6, 1000, 1e-6, 0.0, 1, 1000.0, 1e4, 1.0)
	f.Fuzz(func(t *testing.T, x1, f1 float64, n1 int, x2, f2 float64, n2 int, x, rate, run float64) {
		fit, err := divider.StickinessFit{Trials: []divider.FlourTrial{{x1, unit.Mass(f1), n1}, {x2, unit.Mass(f2), n2}, {x, unit.Mass(f2), n1}}}.Solve()
		if err != nil {
			require.NotEmpty(t, reckon.InputErrors(err))
			return
		}
		_, err = json.Marshal(fit) // refuses NaN and infinity
		require.NoError(t, err)
		used, err := divider.FlourUse{Scale: fit.Scale, Stickiness: x, PieceRate: unit.PieceRate(rate), RunTime: unit.Duration(run)}.Solve()
		if err == nil {
			_, err = json.Marshal(used)
			require.NoError(t, err)
		}
		back, err := divider.StickinessForFlour{Scale: fit.Scale, FlourPerPiece: unit.Mass(f1)}.Solve()
		if err == nil {
			_, err = json.Marshal(back)
			require.NoError(t, err)
		}
	})
}

func TestFlourAllocatesNothing(t *testing.T) {
	trials := shopTrials()
	scale := divider.StickinessScale{Intercept: 0.3, PerStep: 0.4, StickinessLow: 1, StickinessHigh: 4, TrialCount: 4}
	figures := make([]divider.DustFigure, 0, 4)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := (divider.StickinessFit{Trials: trials}).Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.FlourUse{Scale: scale, Stickiness: 2, PieceRate: 60, RunTime: 3600}).Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.StickinessForFlour{Scale: scale, FlourPerPiece: 1}).Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.DustLimit{Authority: divider.DustUK}).Append(figures); err != nil {
			t.Error(err)
		}
	}))
}

func BenchmarkFlourUse(b *testing.B) {
	scale := divider.StickinessScale{Intercept: 0.3, PerStep: 0.4, StickinessLow: 1, StickinessHigh: 4, TrialCount: 4}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.FlourUse{Scale: scale, Stickiness: 2, PieceRate: 60, RunTime: 3600}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleStickinessFit() {
	fit, err := divider.StickinessFit{Trials: []divider.FlourTrial{
		{Stickiness: 1, Flour: unit.Grams(90), Pieces: 120},
		{Stickiness: 2, Flour: unit.Grams(130), Pieces: 120},
		{Stickiness: 3, Flour: unit.Grams(185), Pieces: 120},
		{Stickiness: 4, Flour: unit.Grams(230), Pieces: 120},
	}}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("each step takes %s more flour on a piece\n", fit.Scale.PerStep)
	// Output:
	// each step takes 0.3958 g more flour on a piece
}

func ExampleFlourUse() {
	scale := divider.StickinessScale{Intercept: 0.33, PerStep: 0.4, StickinessLow: 1, StickinessHigh: 4, SD: 0.03, TrialCount: 4}
	flour, err := divider.FlourUse{Scale: scale, Stickiness: 2.5, PieceRate: unit.PiecesPerMinute(72), RunTime: unit.Hours(2)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s on a piece, %s, %s in the run\n", flour.FlourPerPiece, flour.Hour, flour.PerRun)
	// Output:
	// 1.33 g on a piece, 5.746 kg/h, 11.49 kg in the run
}

func ExampleStickinessForFlour() {
	scale := divider.StickinessScale{Intercept: 0.33, PerStep: 0.4, StickinessLow: 1, StickinessHigh: 4, SD: 0.03, TrialCount: 4}
	dough, err := divider.StickinessForFlour{Scale: scale, FlourPerPiece: unit.Grams(2.33)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("stickiness %.1f: %s\n", dough.Stickiness, dough.Conditions)
	// Output:
	// stickiness 5.0: extrapolated
}

func ExampleDustLimit() {
	who, err := divider.DustLimit{Authority: divider.DustUK}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(who.Authority)
	for _, f := range who.Figures {
		fmt.Println(f.What, f.ValueLow, f.Unit, "-", f.Basis)
	}
	// Output:
	// Health and Safety Executive, EH40
	// exposure, flour dust 10 mg/m3 - workplace exposure limit, mean of 8 hours
	// exposure, flour dust, short 30 mg/m3 - workplace exposure limit, mean of 15 minutes
}
