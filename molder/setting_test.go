package molder_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

var finest = molder.SheetSetting{
	Turns: 2.5, Piece: 500, Density: 1.1, Recovery: 1.8, Aspect: 1.6, Measured: true,
	TearLimit: 7, GapLow: 1, GapHigh: 15, GapStep: 0.25,
}

// The thinnest sheet that holds, whatever the turns, as long as they are at least those wanted.
func TestSheetSettingGoesToTheThinnestThatHolds(t *testing.T) {
	out, err := finest.Solve()
	require.NoError(t, err)
	// 7 mm / 1.8 = 3.89 mm, up to 4 mm: a sheet of 7.2 mm.
	same(t, 4, out.Gap, "gap")
	same(t, 7.2, out.Thickness, "thickness")
	assert.Equal(t, "tear", out.Limit)
	assert.Zero(t, out.Conditions)
	roll, err := molder.TurnsForGap{Piece: 500, Density: 1.1, Gap: out.Gap, Recovery: 1.8, Aspect: 1.6, Measured: true, TearLimit: 7}.Solve()
	require.NoError(t, err)
	same(t, roll.Turns, out.Turns, "turns")
	assert.Greater(t, out.Turns, 2.5)
	assert.Greater(t, out.TurnsGap, out.Gap)

	for _, c := range []struct {
		limit string
		gap   unit.Length
		of    func(q *molder.SheetSetting)
	}{
		{"rollers", 4.5, func(q *molder.SheetSetting) { q.GapLow = 4.5 }},
		{"reduction", 4.25, func(q *molder.SheetSetting) { q.ReductionGap = 4.1 }},
		// 4 V / (pi a w^2) = 4 * 454545 / (pi * 1.6 * 210^2) = 8.202 mm; over 1.8 it is 4.557 mm.
		{"width", 4.75, func(q *molder.SheetSetting) { q.WidthLimit = 210 }},
		// pi N^2 t = sqrt(4 V a / (pi t)) at 20 turns: t^1.5 = 962.25 / (400 pi), t = 0.837 mm; over 1.8 it is 0.465 mm.
		{"turns", 0.5, func(q *molder.SheetSetting) { q.GapLow, q.TearLimit = 0.05, 0.1 }},
		{"tear", 7 / 1.8, func(q *molder.SheetSetting) { q.GapStep = 0 }},
	} {
		q := finest
		c.of(&q)
		out, err := q.Solve()
		require.NoError(t, err, c.limit)
		same(t, c.gap, out.Gap, c.limit)
		assert.Equal(t, c.limit, out.Limit)
	}
}

// Wanted turns come before the limit for one pair of rollers, and it is said.
func TestSheetSettingKeepsTheTurns(t *testing.T) {
	q := finest
	q.ReductionGap = 9
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "reduction", out.Limit)
	assert.Equal(t, molder.DeepReduction, out.Conditions)
	assert.LessOrEqual(t, out.Gap, out.TurnsGap)
	assert.Greater(t, out.Gap+q.GapStep, out.TurnsGap, "the next step would make too few")
	assert.GreaterOrEqual(t, out.Turns, 2.5)
}

// Nobody knows how thin a dough can go that was never tried.
func TestSheetSettingWithoutTrials(t *testing.T) {
	q := finest
	q.TearLimit = 0
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "turns", out.Limit)
	assert.Equal(t, molder.TearUntried, out.Conditions)
	assert.GreaterOrEqual(t, out.Turns, 2.5, "at least the wanted turns: the step below, not the nearest")
	assert.Greater(t, out.Gap+q.GapStep, out.TurnsGap)
}

func TestSheetSettingHasNoAnswer(t *testing.T) {
	for limit, of := range map[string]func(q *molder.SheetSetting){
		"of this dough tears":    func(q *molder.SheetSetting) { q.TearLimit = 14 },
		"the rollers reach gaps": func(q *molder.SheetSetting) { q.GapLow = 8 },
		"wider than 120 mm":      func(q *molder.SheetSetting) { q.WidthLimit = 120 },
		"open to 3 mm only":      func(q *molder.SheetSetting) { q.GapHigh = 3 },
		"no step of the rollers": func(q *molder.SheetSetting) { q.GapStep = 4.5; q.TearLimit = 8.5 },
		"ask for more turns":     func(q *molder.SheetSetting) { q.Turns, q.GapHigh = 0.5, 200 },
	} {
		q := finest
		of(&q)
		_, err := q.Solve()
		var none *reckon.NoSolutionError
		require.ErrorAs(t, err, &none, limit)
		assert.Equal(t, "sheet-setting", none.Func)
		assert.ErrorContains(t, err, limit)
	}
}

func TestSheetSettingRefuses(t *testing.T) {
	_, err := molder.SheetSetting{TearLimit: -1, GapStep: -1, ReductionGap: -1, WidthLimit: -1, TurnsRatio: -1}.Solve()
	assert.Equal(t, []string{"turns", "piece", "density", "recovery", "aspect", "turns_ratio", "tear_limit", "gap_low", "gap_high", "gap_step", "reduction_gap", "width_limit"}, fields(err))
	q := finest
	q.GapHigh = 0.5
	_, err = q.Solve()
	assert.Equal(t, []string{"gap_high"}, fields(err))
	q = finest
	q.Aspect, q.Width, q.WidthLimit = 0, 210, 200
	_, err = q.Solve()
	assert.Equal(t, []string{"width_limit"}, fields(err))
}

// Whatever is asked for: the sheet holds, the turns are there, and no thinner
// sheet is left that the limits allow.
func TestSheetSettingIsTheRule(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	answers := 0
	for range 4000 {
		q := molder.SheetSetting{
			Turns: between[float64](r, 0.6, 8), Piece: between[unit.Mass](r, 20, 2000), Density: between[unit.Density](r, 0.8, 1.2),
			Recovery: between[float64](r, 1.1, 2.7), GapLow: between[unit.Length](r, 0.5, 3), GapHigh: between[unit.Length](r, 3, 30),
			GapStep: either[unit.Length](r, 0, 0.1, 0.25, 1), TearLimit: between[unit.Length](r, 1, 30), TurnsRatio: either(r, 0, 0.8, 1.1),
			ReductionGap: either[unit.Length](r, 0, 2, 6), WidthLimit: either[unit.Length](r, 0, 150, 400),
		}
		q.Aspect, q.Width = either(r, 1.6, 2.5), 0
		out, err := q.Solve()
		require.Empty(t, reckon.InputErrors(err))
		if err != nil {
			continue
		}
		answers++
		roll, err := molder.TurnsForGap{Piece: q.Piece, Density: q.Density, Gap: out.Gap, Recovery: q.Recovery, Aspect: q.Aspect, TurnsRatio: q.TurnsRatio, TearLimit: q.TearLimit}.Solve()
		require.NoError(t, err, "%+v", q)
		assert.False(t, roll.Conditions.Has(molder.SheetMayTear|molder.ManyTurns), "%+v", q)
		same(t, roll.Turns, out.Turns, "turns")
		assert.GreaterOrEqual(t, out.Turns, q.Turns*(1-1e-9), "%+v", q)
		assert.LessOrEqual(t, out.Gap, q.GapHigh*(1+1e-9))
		if q.WidthLimit != 0 {
			assert.LessOrEqual(t, roll.Width, q.WidthLimit*(1+1e-9))
		}
		thinner := out.Gap - max(q.GapStep, 1e-6*out.Gap)
		held := thinner*unit.Length(q.Recovery) >= q.TearLimit && thinner >= q.GapLow && thinner >= q.ReductionGap &&
			(q.WidthLimit == 0 || roll.Width*unit.Length(math.Sqrt(float64(out.Gap/thinner))) <= q.WidthLimit)
		assert.False(t, held && out.Limit != "turns", "a thinner sheet was left: %+v", q)
	}
	assert.Greater(t, answers, 500)
}

// Many turns are no reason to open the gap.
func TestManyTurnsAreWellIfTheSheetHolds(t *testing.T) {
	q := molder.TurnsForGap{Piece: 500, Density: 1.1, Gap: 2.5, Recovery: 1.8, Aspect: 1.6, Measured: true}
	out, err := q.Solve()
	require.NoError(t, err)
	require.Greater(t, out.Turns, 4.0)
	assert.Equal(t, molder.ManyTurns, out.Conditions)
	for _, s := range out.Conditions.Sentences() {
		assert.NotContains(t, s, "open the gap")
	}
	q.TearLimit = 4.5 // the sheet is 4.5 mm
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
	q.TearLimit = 4.6
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.ManyTurns|molder.SheetMayTear, out.Conditions)
	q.TearLimit, q.TurnsRatio = -1, 3
	_, err = q.Solve()
	assert.Equal(t, []string{"turns_ratio", "tear_limit"}, fields(err))
}

// The ratio counts in both directions.
func TestTurnsRatioGoesBack(t *testing.T) {
	for _, ratio := range []float64{0.7, 1, 1.2} {
		for _, core := range []unit.Length{0, 9} {
			q := molder.TurnsForGap{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Width: 210, Core: core}
			tight, err := q.Solve()
			require.NoError(t, err)
			q.TurnsRatio = ratio
			out, err := q.Solve()
			require.NoError(t, err)
			same(t, tight.Turns*ratio, out.Turns, "turns")
			back, err := molder.GapForTurns{Turns: out.Turns, Piece: 500, Density: 1.1, Recovery: 1.8, Width: 210, Core: core, TurnsRatio: ratio}.Solve()
			require.NoError(t, err)
			same(t, 4, back.Gap, "gap")
		}
	}
	_, err := molder.GapForTurns{Turns: 19, Piece: 500, Density: 1.1, Recovery: 1.8, Width: 210, TurnsRatio: 0.5}.Solve()
	require.Equal(t, []string{"turns"}, fields(err))
	assert.ErrorContains(t, err, "0.5 to 10 with this turns_ratio")
}

func TestSheetFromTrials(t *testing.T) {
	trials := []molder.SheetTrial{{Thickness: 12, Verdict: molder.TooLittle}, {Thickness: 9, Verdict: molder.Good}, {Thickness: 7, Verdict: molder.Good}}
	out, err := molder.SheetFromTrials{Trials: trials}.Solve()
	require.NoError(t, err)
	assert.Equal(t, [2]unit.Length{7, 9}, [2]unit.Length{out.TearLimit, out.GoodHigh})
	assert.Equal(t, molder.TearUntried, out.Conditions, "none tore yet")
	trials = append(trials, molder.SheetTrial{Thickness: 5, Verdict: molder.TooMuch}, molder.SheetTrial{Thickness: 6, Verdict: molder.TooMuch})
	out, err = molder.SheetFromTrials{Trials: trials}.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Length(6), out.Torn)
	assert.Zero(t, out.Conditions)
	var none *reckon.NoSolutionError
	_, err = molder.SheetFromTrials{Trials: append(trials, molder.SheetTrial{Thickness: 8, Verdict: molder.TooMuch})}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = molder.SheetFromTrials{Trials: append(trials, molder.SheetTrial{Thickness: 8, Verdict: molder.TooLittle})}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = molder.SheetFromTrials{}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.SheetFromTrials{Trials: make([]molder.SheetTrial, 1001)}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.SheetFromTrials{Trials: []molder.SheetTrial{{}}}.Solve()
	assert.Equal(t, []string{"trials[0].thickness", "trials[0].verdict"}, fields(err))
}

func TestTurnsRatioFromPieces(t *testing.T) {
	out, err := molder.TurnsRatioFromPieces{Computed: 3, Counted: []float64{2.75, 3, 2.5}}.Solve()
	require.NoError(t, err)
	// 2.75 / 3, and the deviation 0.25 of the turns over 3.
	same(t, 2.75/3, out.TurnsRatio, "ratio")
	same(t, 0.25/3, out.SD, "sd")
	one, err := molder.TurnsRatioFromPieces{Computed: 3, Counted: []float64{2.75}}.Solve()
	require.NoError(t, err)
	assert.Zero(t, one.SD)
	_, err = molder.TurnsRatioFromPieces{}.Solve()
	assert.Equal(t, []string{"computed", "counted"}, fields(err))
	_, err = molder.TurnsRatioFromPieces{Computed: 3, Counted: []float64{3, 0, 41}}.Solve()
	assert.Equal(t, []string{"counted[1]", "counted[2]"}, fields(err))
	_, err = molder.TurnsRatioFromPieces{Computed: 3, Counted: make([]float64, 1001)}.Solve()
	assert.Equal(t, []string{"counted"}, fields(err))
	_, err = molder.TurnsRatioFromPieces{Computed: 10, Counted: []float64{1}}.Solve()
	assert.Equal(t, []string{"counted"}, fields(err))
}

func ExampleSheetSetting() {
	out, _ := molder.SheetSetting{
		Turns: molder.UsualTurns, Piece: unit.Grams(900), Density: unit.KilogramsPerCubicMetre(1050), Recovery: 1.6, Aspect: 2.5, Measured: true,
		TearLimit: unit.Millimetres(9), GapLow: unit.Millimetres(1), GapHigh: unit.Millimetres(14), GapStep: unit.Millimetres(0.25),
	}.Solve()
	fmt.Printf("A gap of %v makes a sheet of %v, which rolls up in %.1f turns; %s limits it.\n", out.Gap, out.Thickness, out.Turns, out.Limit)
	// Output:
	// A gap of 5.75 mm makes a sheet of 9.2 mm, which rolls up in 4.3 turns; tear limits it.
}

func ExampleSheetFromTrials() {
	out, _ := molder.SheetFromTrials{Trials: []molder.SheetTrial{
		{Thickness: unit.Millimetres(12), Verdict: molder.Good}, {Thickness: unit.Millimetres(9), Verdict: molder.Good}, {Thickness: unit.Millimetres(8), Verdict: molder.TooMuch},
	}}.Solve()
	fmt.Printf("Sheets down to %v hold; at %v they tear.\n", out.TearLimit, out.Torn)
	// Output:
	// Sheets down to 9 mm hold; at 8 mm they tear.
}

func ExampleTurnsRatioFromPieces() {
	out, _ := molder.TurnsRatioFromPieces{Computed: 3.2, Counted: []float64{3, 3.25, 3}}.Solve()
	fmt.Printf("Count %.2f of the turns computed, give or take %.2f.\n", out.TurnsRatio, out.SD)
	// Output:
	// Count 0.96 of the turns computed, give or take 0.05.
}

func FuzzSheetSetting(f *testing.F) {
	f.Add(2.5, 500.0, 1.1, 1.8, 1.6, 7.0, 1.0, 15.0, 0.25)
	f.Fuzz(func(t *testing.T, turns, m, rho, recovery, aspect, tears, low, high, step float64) {
		if out, err := (molder.SheetSetting{
			Turns: turns, Piece: unit.Mass(m), Density: unit.Density(rho), Recovery: recovery, Aspect: aspect,
			TearLimit: unit.Length(tears), GapLow: unit.Length(low), GapHigh: unit.Length(high), GapStep: unit.Length(step),
		}).Solve(); err == nil {
			finite(t, out)
			assert.GreaterOrEqual(t, out.Turns, turns*(1-1e-9))
		}
	})
}
