package proof_test

import (
	"errors"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// The pieces inside at a change are followed one by one in the run.
func TestSpeedChangeMeetsTheRun(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 150 {
		p, across := randomProofer(r)
		p.TraysPerStroke = float64(1 + r.IntN(3))
		full, err := proof.Dwell{Proofer: p, Across: across, Strokes: 30}.Solve()
		require.NoError(t, err)
		if full.Dwell < 2 || full.Dwell > unit.Hours(2) {
			continue
		}
		in := proof.SpeedChange{
			Proofer: p, Across: across, StrokesBefore: 30, StrokesAfter: unit.StrokesPerMinute(5 + 60*r.Float64()),
			Pause: unit.Duration(r.IntN(300)), DwellLow: full.Dwell / 2, DwellHigh: full.Dwell * 1.5,
		}
		out, err := in.Solve()
		require.NoError(t, err)
		// Just after stroke k, with the proofer full.
		k := full.Inside/across + 3
		at := unit.Seconds(2*float64(k) + 1e-6)
		acts := []proof.Act{{At: at, Do: proof.ActSpeed, Strokes: in.StrokesAfter}}
		if in.Pause > 0 {
			acts = []proof.Act{{At: at, Do: proof.ActStop}, {At: at, Do: proof.ActSpeed, Strokes: in.StrokesAfter}, {At: at + in.Pause, Do: proof.ActStart}}
		}
		events, err := proof.Run{Proofer: p, Across: across, Strokes: 30, Acts: acts, Pieces: across * (2*k + 10)}.Events()
		require.NoError(t, err)
		outside, inside := 0, 0
		for e := range events {
			loaded := e.At - e.Dwell
			if e.Kind != proof.EventOut || loaded > at || e.At < at {
				continue
			}
			inside++
			if e.Dwell < in.DwellLow-0.01 || e.Dwell > in.DwellHigh+0.01 {
				outside++
			}
			if e.Stroke == k+1 {
				require.InDelta(t, float64(out.JustIn), float64(e.Dwell), 1e-3)
			}
			require.LessOrEqual(t, float64(e.At-at), float64(out.Settled)+1e-3)
		}
		require.Equal(t, out.Inside, inside)
		require.InDelta(t, out.Outside, outside, float64(2*across), "pieces on the very edge may fall to either side")
	}
}

func TestSpeedChangePause(t *testing.T) {
	in := proof.SpeedChange{Proofer: demo, Across: 2, StrokesBefore: 24, StrokesAfter: 24, DwellLow: unit.Minutes(12), DwellHigh: unit.Minutes(20)}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Minutes(5), out.LongestPause)
	assert.Zero(t, out.Outside)
	assert.False(t, out.Conditions.Has(proof.DwellOutsideWindow))
	in.Pause = out.LongestPause
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Outside)
	in.Pause++
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 720, out.Outside)
	assert.True(t, out.Conditions.Has(proof.DwellOutsideWindow))

	_, err = proof.SpeedChange{Proofer: demo, Across: 2, StrokesBefore: 0, StrokesAfter: 1e9, Pause: -1, DwellLow: 700, DwellHigh: 600}.Solve()
	assert.Equal(t, []string{"strokes_before", "strokes_after", "pause", "dwell_high"}, fields(err))
}

// Limits that are the dwell itself, or come from a result, hold at every speed.
func TestSpeedChangeAtTheVeryLimits(t *testing.T) {
	r := rand.New(rand.NewPCG(35, 36))
	for i := range 3000 {
		p, across := demo, 2
		strokes := unit.StrokesPerMinute(10 + float64(i)/10)
		if i >= 300 {
			p, across = randomProofer(r)
			strokes = unit.StrokesPerMinute(1 + 60*r.Float64())
		}
		dwell, err := proof.Dwell{Proofer: p, Across: across, Strokes: strokes}.Solve()
		require.NoError(t, err)
		if dwell.Dwell < 1 || dwell.Dwell > unit.Hours(10) {
			continue
		}
		in := proof.SpeedChange{Proofer: p, Across: across, StrokesBefore: strokes, StrokesAfter: strokes, DwellLow: dwell.Dwell, DwellHigh: dwell.Dwell}
		out, err := in.Solve()
		require.NoError(t, err)
		require.Zero(t, out.Outside, "%+v", in)
		require.False(t, out.Conditions.Has(proof.DwellOutsideWindow))
		require.Equal(t, dwell.Inside, out.Inside, "inside, though nothing is altered")
		// The longest stop of every change is one that no piece minds, and a little more is not.
		in.StrokesAfter = unit.StrokeRate(float64(strokes) * (0.8 + 0.4*r.Float64()))
		in.DwellLow, in.DwellHigh = max(1, dwell.Dwell/2), dwell.Dwell*1.4
		out, err = in.Solve()
		require.NoError(t, err)
		require.Positive(t, out.LongestPause)
		in.Pause = out.LongestPause
		out, err = in.Solve()
		require.NoError(t, err)
		require.Zero(t, out.Outside, "%+v", in)
		in.Pause += in.DwellHigh * 1e-6
		in.StrokesAfter = in.StrokesBefore
		in.DwellHigh = dwell.Dwell + in.Pause - in.DwellHigh*1e-6
		out, err = in.Solve()
		require.NoError(t, err)
		require.Equal(t, out.Inside, out.Outside, "%+v", in)
	}
}

func TestTradeoff(t *testing.T) {
	in := proof.Tradeoff{Speed: speedInput(proof.StrokeLimit{"divider", 10, 40}), Across: []int{1, 2, 3, 6}, Steps: 5}
	out, err := in.Solve()
	require.NoError(t, err)
	require.NotEmpty(t, out.Rows)
	for _, row := range out.Rows {
		at, err := proof.Dwell{Proofer: demo, Across: row.Across, Strokes: row.Strokes}.Solve()
		require.NoError(t, err)
		assert.Equal(t, at.Dwell, row.Dwell)
		assert.Equal(t, at.PieceRate, row.PieceRate)
		assert.LessOrEqual(t, row.PieceRate, out.FastestRate)
		assert.InEpsilon(t, float64(row.Inside), float64(row.PieceRate)*row.Dwell.Minutes(), 1e-12)
		assert.True(t, row.Dwell >= 600*(1-1e-12) && row.Dwell <= 1200*(1+1e-12) && row.Strokes >= 10 && row.Strokes <= 40)
	}
	// One across needs 36 strokes at least; two 18 to 36; three 12 to 24; six 10 (the divider) to 12.
	assert.Len(t, out.Rows, 20)
	assert.Equal(t, unit.StrokesPerMinute(10), out.Rows[15].Strokes)

	in.Steps = 1
	out, err = in.Append(out.Rows[:0])
	require.NoError(t, err)
	assert.Len(t, out.Rows, 4)
	assert.InDelta(t, 40, float64(out.Rows[0].Strokes), 1e-12)

	in.Speed.Limits[0] = proof.StrokeLimit{"oven", 0, 5}
	_, err = in.Solve()
	var none *reckon.NoSolutionError
	require.True(t, errors.As(err, &none))
	assert.Equal(t, "proofer-tradeoff", none.Func)

	in.Speed.DwellHigh = 0
	in.Across, in.Steps = []int{4}, 0
	_, err = in.Solve()
	assert.Equal(t, []string{"across[0]", "steps", "speed.dwell_high"}, fields(err))
}

func TestSpeedChangeAllocatesNothing(t *testing.T) {
	limits := []proof.StrokeLimit{{"divider", 10, 40}}
	across := []int{1, 2, 3}
	dst := make([]proof.TradeoffRow, 0, 64)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = proof.SpeedChange{Proofer: demo, Across: 2, StrokesBefore: 24, StrokesAfter: 20, Pause: 60, DwellLow: 600, DwellHigh: 1200}.Solve()
		_, _ = proof.Tradeoff{Speed: speedInput(limits...), Across: across, Steps: 10}.Append(dst)
	}))
}

func BenchmarkSpeedChange(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.SpeedChange{Proofer: demo, Across: 2, StrokesBefore: 24, StrokesAfter: 20, Pause: 60, DwellLow: 600, DwellHigh: 1200}.Solve()
	}
}

func BenchmarkTradeoff(b *testing.B) {
	limits := []proof.StrokeLimit{{"divider", 10, 40}}
	across := []int{1, 2, 3}
	dst := make([]proof.TradeoffRow, 0, 64)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = proof.Tradeoff{Speed: speedInput(limits...), Across: across, Steps: 10}.Append(dst)
	}
}
