package proof_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// demo is an invented proofer.
var demo = proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1}

// randomProofer returns a proofer that can be built, and lanes that fit it.
func randomProofer(r *rand.Rand) (p proof.Proofer, across int) {
	across = 1 + r.IntN(6)
	p = proof.Proofer{Pockets: across * (1 + r.IntN(8)), Trays: 1 + r.IntN(300), TraysPerStroke: 1}
	p.LastPassTrays = p.Trays
	if r.IntN(2) == 0 {
		p.LastPassTrays = 1 + r.IntN(p.Trays)
	}
	if r.IntN(2) == 0 {
		p.FirstPassTrays = 1 + r.IntN(p.Trays)
	}
	if r.IntN(2) == 0 {
		p.TraysPerStroke = []float64{1.25, 1.5, 2, 2.5, 3, 7}[r.IntN(6)]
	}
	return p, across
}

func TestDwellAndStrokesGoThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		p, across := randomProofer(r)
		strokes := unit.StrokesPerMinute(0.5 + 100*r.Float64())
		there, err := proof.Dwell{Proofer: p, Across: across, Strokes: strokes}.Solve()
		require.NoError(t, err)
		if there.Dwell < 1 || there.Dwell > unit.Hours(24) {
			continue // not what StrokesForDwell answers for
		}
		back, err := proof.StrokesForDwell{Proofer: p, Across: across, Dwell: there.Dwell}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(strokes), float64(back.Strokes), 1e-14)
		assert.Equal(t, there.Inside, back.Inside)
		assert.Equal(t, there.Passes, back.Passes)
		assert.InEpsilon(t, float64(there.PieceRate), float64(back.PieceRate), 1e-14)
		assert.InEpsilon(t, float64(there.TrayRate), float64(back.TrayRate), 1e-14)
	}
}

// Little's law: with every tray filled and the last pass whole, what the
// proofer holds is every pocket it has.
func TestDwellFillsEveryPocket(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		p, across := randomProofer(r)
		p.FirstPassTrays, p.LastPassTrays, p.TraysPerStroke = 0, p.Trays, 1
		out, err := proof.Dwell{Proofer: p, Across: across, Strokes: 1 + unit.StrokeRate(60*r.Float64())}.Solve()
		require.NoError(t, err)
		assert.Equal(t, p.Pockets*p.Trays, out.Inside)
		assert.InEpsilon(t, float64(p.Pockets*p.Trays), float64(out.PieceRate)*out.Dwell.Minutes(), 1e-12)
		assert.Zero(t, out.Conditions)
	}
}

func TestDwellPartPass(t *testing.T) {
	p := demo
	p.LastPassTrays = 60
	out, err := proof.Dwell{Proofer: p, Across: 2, Strokes: 24}.Solve()
	require.NoError(t, err)
	assert.True(t, out.Conditions.Has(proof.PartPass))
	assert.True(t, out.Cautions.Has(reckon.MovingMachinery))
	assert.InDelta(t, 12.5, out.Dwell.Minutes(), 1e-12) // 300 trays at 24 a minute
	assert.Equal(t, 600, out.Inside)
}

func fields(err error) []string {
	var out []string
	for _, e := range reckon.InputErrors(err) {
		out = append(out, e.Field)
	}
	return out
}

func TestDwellRefuses(t *testing.T) {
	_, err := proof.Dwell{Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 120, TraysPerStroke: 1}, Across: 4, Strokes: 24}.Solve()
	require.Error(t, err)
	assert.Equal(t, "proofer-dwell: across is 4: want a lane count that divides the pockets (6) evenly: 1, 2, 3 or 6", err.Error())

	_, err = proof.Dwell{Proofer: proof.Proofer{Pockets: 1, Trays: 1, LastPassTrays: 1, TraysPerStroke: 1}, Across: 0, Strokes: 24}.Solve()
	require.Error(t, err)
	assert.Equal(t, "proofer-dwell: across is 0: want a lane count that divides the pockets (1) evenly: 1", err.Error())

	_, err = proof.Dwell{Proofer: proof.Proofer{Pockets: 6, Trays: 120, LastPassTrays: 121, TraysPerStroke: 0.5}, Across: 5, Strokes: unit.StrokeRate(math.NaN())}.Solve()
	assert.Equal(t, []string{"proofer.last_pass_trays", "proofer.trays_per_stroke", "across", "strokes"}, fields(err))

	_, err = proof.Dwell{}.Solve()
	assert.Equal(t, []string{"proofer.pockets", "proofer.trays", "proofer.trays_per_stroke", "strokes"}, fields(err))

	_, err = proof.StrokesForDwell{Proofer: demo, Across: 2, Dwell: 0.5}.Solve()
	assert.Equal(t, []string{"dwell"}, fields(err))
}

func speedInput(limits ...proof.StrokeLimit) proof.Speed {
	return proof.Speed{Proofer: demo, Across: 2, DwellLow: unit.Minutes(10), DwellHigh: unit.Minutes(20), Limits: limits}
}

func TestSpeed(t *testing.T) {
	for _, c := range []struct {
		id                  string
		limits              []proof.StrokeLimit
		low, high           unit.StrokeRate
		lowLimit, highLimit string
	}{
		{"dwell alone", nil, 18, 36, "dwell", "dwell"},
		{"divider above", []proof.StrokeLimit{{"divider", 10, 30}}, 18, 30, "dwell", "divider"},
		{"divider below", []proof.StrokeLimit{{"divider", 20, 40}}, 20, 36, "divider", "dwell"},
		{"two limits", []proof.StrokeLimit{{"divider", 20, 32}, {"oven", 0, 25}}, 20, 25, "divider", "oven"},
		{"all that tie are named", []proof.StrokeLimit{{"divider", 18, 36}, {"stamper", 20, 30}, {"oven", 20, 30}}, 20, 30, "stamper and oven", "stamper and oven"},
		{"the dwell ties too", []proof.StrokeLimit{{"divider", 18 * (1 - 1e-12), 36 * (1 + 1e-12)}}, 18, 36, "dwell and divider", "dwell and divider"},
		{"no tie beyond a billionth", []proof.StrokeLimit{{"divider", 18 * (1 + 2e-9), 36 * (1 - 2e-9)}}, 18 * (1 + 2e-9), 36 * (1 - 2e-9), "divider", "divider"},
		{"one point left", []proof.StrokeLimit{{"divider", 25, 25}}, 25, 25, "divider", "divider"},
	} {
		t.Run(c.id, func(t *testing.T) {
			out, err := speedInput(c.limits...).Solve()
			require.NoError(t, err)
			assert.InDelta(t, float64(c.low), float64(out.Low), 1e-12)
			assert.InDelta(t, float64(c.high), float64(out.High), 1e-12)
			assert.Equal(t, c.lowLimit, out.LowLimit)
			assert.Equal(t, c.highLimit, out.HighLimit)
			for _, end := range []struct {
				s     unit.StrokeRate
				rate  unit.PieceRate
				dwell unit.Duration
			}{{out.Low, out.RateLow, out.DwellAtLow}, {out.High, out.RateHigh, out.DwellAtHigh}} {
				at, err := proof.Dwell{Proofer: demo, Across: 2, Strokes: end.s}.Solve()
				require.NoError(t, err)
				assert.Equal(t, at.PieceRate, end.rate)
				assert.Equal(t, at.Dwell, end.dwell)
			}
		})
	}
}

// A limit in pieces binds at the strokes that make so many, whatever the number across.
func TestSpeedRates(t *testing.T) {
	for _, across := range []int{1, 2, 3} {
		in := speedInput()
		in.Across = across
		in.DwellLow, in.DwellHigh = 1, unit.Hours(24)
		in.Rates = []proof.RateLimit{{"final proof", 12, 90}, {"oven", 24, 60}}
		out, err := in.Solve()
		require.NoError(t, err)
		assert.InDelta(t, 24, float64(out.RateLow), 1e-12)
		assert.InDelta(t, 60, float64(out.RateHigh), 1e-12)
		assert.Equal(t, "oven", out.LowLimit)
		assert.Equal(t, "oven", out.HighLimit)
	}
	in := speedInput()
	in.Rates = []proof.RateLimit{{"", -1, 0}, {"oven", 5, 4}}
	_, err := in.Solve()
	assert.Equal(t, []string{"rates[0].name", "rates[0].low", "rates[0].high", "rates[1].high"}, fields(err))
	in.Rates = make([]proof.RateLimit, 101)
	_, err = in.Solve()
	assert.Equal(t, []string{"rates"}, fields(err))
}

// A machine of one speed and the dwell that it gives are limits that meet, in
// whatever direction the last binary digits lie.
func TestSpeedOfLimitsThatMeet(t *testing.T) {
	met := [2]int{}
	for i := range 3000 {
		strokes := unit.StrokesPerMinute(10 + float64(i)/10)
		dwell, err := proof.Dwell{Proofer: demo, Across: 2, Strokes: strokes}.Solve()
		require.NoError(t, err)
		in := proof.Speed{Proofer: demo, Across: 2, DwellLow: dwell.Dwell, DwellHigh: dwell.Dwell, Limits: []proof.StrokeLimit{{"divider", strokes, strokes}}}
		if i%2 == 1 {
			in.Limits, in.Rates = nil, []proof.RateLimit{{"oven", dwell.PieceRate, dwell.PieceRate}}
		}
		out, err := in.Solve()
		require.NoError(t, err, "%v", strokes)
		require.LessOrEqual(t, out.Low, out.High)
		require.InEpsilon(t, float64(strokes), float64(out.Low), 1e-14)
		require.InEpsilon(t, float64(strokes), float64(out.High), 1e-14)
		require.LessOrEqual(t, out.DwellAtHigh, out.DwellAtLow)
		want := [...]string{"dwell and divider", "dwell and oven"}[i%2]
		require.Equal(t, want, out.LowLimit, "both apply, whichever the last binary digit favours")
		require.Equal(t, want, out.HighLimit)
		if out.Low < strokes || out.High < strokes {
			met[0]++
		} else {
			met[1]++
		}
	}
	for _, n := range met {
		assert.Positive(t, n, "each way is among them")
	}

	// Within a billionth limits meet, at the slower speed; beyond it they exclude each other.
	in := speedInput(proof.StrokeLimit{"divider", 20 * (1 + 0.9e-9), 40}, proof.StrokeLimit{"oven", 0, 20})
	out, w, err := reckon.Explain(in)
	require.NoError(t, err)
	assert.Equal(t, unit.StrokeRate(20), out.Low)
	assert.Equal(t, unit.StrokeRate(20), out.High)
	assert.Equal(t, "divider", out.LowLimit)
	assert.Equal(t, "oven", out.HighLimit)
	assert.Contains(t, w.String(), "S_low = min(max(l_0, l_1, l_2), min(h_0, h_1, h_2)) = ")
	in.Limits[0].Low = 20 * (1 + 1.1e-9)
	_, err = in.Solve()
	var none *reckon.NoSolutionError
	assert.ErrorAs(t, err, &none)
}

func TestSpeedConflict(t *testing.T) {
	_, err := speedInput(proof.StrokeLimit{"divider", 10, 40}, proof.StrokeLimit{"oven", 0, 12}).Solve()
	var none *reckon.NoSolutionError
	require.True(t, errors.As(err, &none))
	assert.Equal(t, "proofer-speed: no divider speed gives both dwell (18 strokes/min or more) and oven (12 strokes/min or less): "+
		"the nearest are 12 strokes/min (dwell 30 min), which suits oven, and 18 strokes/min (dwell 20 min), which suits dwell; "+
		"move one of the two limits, or load another number across", err.Error())
	_, err = speedInput(proof.StrokeLimit{"stamper", 30, 40}, proof.StrokeLimit{"oven", 0, 25}).Solve()
	require.True(t, errors.As(err, &none))
	assert.Contains(t, err.Error(), "both stamper (30 strokes/min or more) and oven (25 strokes/min or less)")
}

func TestSpeedRefuses(t *testing.T) {
	in := speedInput(proof.StrokeLimit{"", -1, 0}, proof.StrokeLimit{"oven", 30, 20}, proof.StrokeLimit{"stamper", 0, 10})
	in.DwellLow, in.DwellHigh = in.DwellHigh, in.DwellLow
	_, err := in.Solve()
	assert.Equal(t, []string{"dwell_high", "limits[0].name", "limits[0].low", "limits[0].high", "limits[1].high"}, fields(err))
	_, err = speedInput(make([]proof.StrokeLimit, 101)...).Solve()
	assert.Equal(t, []string{"limits"}, fields(err))
}

func TestClear(t *testing.T) {
	in := proof.Clear{Proofer: demo, Across: 2, Strokes: 24, Pieces: 3000}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 15, out.FirstOut.Minutes(), 1e-12)
	assert.InDelta(t, 1499.0/24, out.LastIn.Minutes(), 1e-12)
	assert.InDelta(t, 1499.0/24+15, out.LastOut.Minutes(), 1e-12)
	assert.Equal(t, out.LastOut-out.LastIn, out.ChangeoverGap)
	assert.Equal(t, proof.GapClearOut, out.Rule)
	assert.Equal(t, 720, out.Stranded)

	in.NextAcross = 2
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, proof.GapNextTray, out.Rule)
	assert.InDelta(t, 2.5, out.ChangeoverGap.Seconds(), 1e-12)

	in.NextAcross = 3
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, proof.GapClearOut, out.Rule)

	in.NextAcross, in.Across, in.Pieces = 4, 5, 0
	_, err = in.Solve()
	assert.Equal(t, []string{"across", "pieces", "next_across"}, fields(err))
}

// A ratio that is not whole lets a piece wait for the next tray.
func TestClearWaitsForTheTray(t *testing.T) {
	p := demo
	p.TraysPerStroke = 1.5
	out, err := proof.Clear{Proofer: p, Across: 2, Strokes: 20, Pieces: 4}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 3, out.LastIn.Seconds(), 1e-12)            // the second stroke
	assert.InDelta(t, 60*362.0/30, out.LastOut.Seconds(), 1e-12) // tray 2 of 30 a minute, and 360 trays
}

func TestNoAllocation(t *testing.T) {
	limits := []proof.StrokeLimit{{"divider", 10, 30}, {"oven", 0, 28}}
	rates := []proof.RateLimit{{"oven", 20, 50}}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = proof.Dwell{Proofer: demo, Across: 2, Strokes: 24}.Solve()
		_, _ = proof.StrokesForDwell{Proofer: demo, Across: 2, Dwell: 900}.Solve()
		withRates := speedInput(limits...)
		withRates.Rates = rates
		_, _ = withRates.Solve()
		local := [2]proof.StrokeLimit{{"divider", 10, 30}, {"oven", 0, 28}}
		_, _ = proof.Speed{Proofer: demo, Across: 2, DwellLow: 600, DwellHigh: 1200, Limits: local[:]}.Solve()
		_, _ = proof.Clear{Proofer: demo, Across: 2, Strokes: 24, Pieces: 3000}.Solve()
	}))
}

func finite(t *testing.T, values ...float64) {
	t.Helper()
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%v in a result", values)
		}
	}
}

func FuzzProofer(f *testing.F) {
	f.Add(6, 120, 0, 120, 1.0, 2, 24.0, 600.0, 1200.0, 3000, 1)
	f.Add(200, 100_000, 7, 1, 100.0, 1, 0.01, 1.0, 86400.0, 100_000_000, 0)
	f.Fuzz(func(t *testing.T, pockets, trays, first, last int, ratio float64, across int, strokes, low, high float64, pieces, next int) {
		p := proof.Proofer{Pockets: pockets, Trays: trays, FirstPassTrays: first, LastPassTrays: last, TraysPerStroke: ratio}
		s := unit.StrokeRate(strokes)
		if out, err := (proof.Dwell{Proofer: p, Across: across, Strokes: s}).Solve(); err == nil {
			finite(t, float64(out.Dwell), float64(out.PieceRate), float64(out.TrayRate))
			if out.Inside < across || out.Inside > pockets*trays {
				t.Fatalf("%d pieces in %d pockets", out.Inside, pockets*trays)
			}
		}
		if out, err := (proof.StrokesForDwell{Proofer: p, Across: across, Dwell: unit.Duration(low)}).Solve(); err == nil {
			finite(t, float64(out.Strokes), float64(out.PieceRate), float64(out.TrayRate))
		}
		limits := []proof.StrokeLimit{{"divider", s, s}}
		if out, err := (proof.Speed{Proofer: p, Across: across, DwellLow: unit.Duration(low), DwellHigh: unit.Duration(high), Limits: limits}).Solve(); err == nil {
			finite(t, float64(out.Low), float64(out.High), float64(out.RateLow), float64(out.RateHigh), float64(out.DwellAtLow), float64(out.DwellAtHigh))
			if out.Low > out.High {
				t.Fatal("an empty window was returned")
			}
		}
		if out, err := (proof.Clear{Proofer: p, Across: across, Strokes: s, Pieces: pieces, NextAcross: next}).Solve(); err == nil {
			finite(t, float64(out.FirstOut), float64(out.LastIn), float64(out.LastOut), float64(out.ClearOut), float64(out.ChangeoverGap))
		}
	})
}

func BenchmarkDwell(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.Dwell{Proofer: demo, Across: 2, Strokes: 24}.Solve()
	}
}

func BenchmarkStrokesForDwell(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.StrokesForDwell{Proofer: demo, Across: 2, Dwell: 900}.Solve()
	}
}

func BenchmarkSpeed(b *testing.B) {
	limits := []proof.StrokeLimit{{"divider", 10, 30}, {"oven", 0, 28}}
	b.ReportAllocs()
	for b.Loop() {
		_, _ = speedInput(limits...).Solve()
	}
}

func BenchmarkClear(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.Clear{Proofer: demo, Across: 2, Strokes: 24, Pieces: 3000}.Solve()
	}
}
