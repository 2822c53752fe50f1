package line_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The speeds at which an order runs, by hand. A piece stays for A/S with A = 140 trays * 60 = 8400 s of strokes a minute, and 5 to 10 min suit it: 14 to 28
// strokes a minute, and the stamper stamps no faster either. A batch of n pieces, two by two, is scaled in c/S with c = 30n.
func TestSpeedsThatWorkByHand(t *testing.T) {
	for _, c := range []struct {
		name          string
		pieces, batch int // of the order, and the most in a batch
		cycle         unit.Duration
		hopper        unit.Duration
		head          unit.Mass
		low           unit.StrokeRate
		lowLimit      string
		high          unit.StrokeRate
		highLimit     string
		steady        unit.StrokeRate // c over the cycle
	}{
		{"the mixer keeps up", 800, 400, 400, 3600, 0, 14, "dwell", 28, "dwell and stamper", 30},
		{"the divider waits, and no piece stays too long", 800, 400, 600, 3600, 0, 14, "dwell", 28, "dwell and stamper", 20},
		// One wait: 780 + (8400 - 12000)/S is at most 600 s up to 20 strokes a minute.
		{"pieces that meet a wait would stay too long", 800, 400, 780, 3600, 0, 14, "dwell", 20, "mixer", 12000 / 780.0},
		// Two batches of 150 pieces: a piece stays for longer than a batch takes, and meets the one wait that there is: 350 + (8400 - 4500)/S is at most 600 s from 15.6 on.
		{"a faster divider lets pieces out sooner than the wait is longer", 300, 150, 350, 3600, 0, 15.6, "mixer", 28, "dwell and stamper", 4500 / 350.0},
		// Two batches of 280 pieces: each is scaled in as long as a piece stays, which so meets one wait and stays for a cycle at any speed that waits.
		{"a batch as long as the stay", 560, 280, 500, 3600, 0, 14, "dwell", 28, "dwell and stamper", 8400 / 500.0},
		{"dough may stand for 800 s", 800, 400, 400, 800, 0, 15, "hopper time", 28, "dwell and stamper", 30},
		{"and 20 pieces of a head before it", 800, 400, 400, 800, 2000, 15.75, "hopper time", 28, "dwell and stamper", 30},
		{"a single batch waits for none", 400, 400, 5000, 3600, 0, 14, "dwell", 28, "dwell and stamper", 0},
		{"a single batch, but for the hopper", 400, 400, 5000, 800, 0, 15, "hopper time", 28, "dwell and stamper", 0},
	} {
		in := aimed(t, line.Aim{})
		in.Order.Pieces, in.Order.Product.HopperMax = c.pieces, c.hopper
		in.Shift.Mixer.High, in.Shift.Mixer.Cycle = unit.Mass(100*c.batch), c.cycle
		in.Line.Divider.HopperLeast, in.Line.Divider.HopperCapacity = c.head, 45_000
		in.Shift.Mixer.Low = unit.Mass(100 * c.batch)
		out, err := line.Window(in).Solve()
		require.NoError(t, err, c.name)
		var got *line.WindowWay
		for i := range out.Ways {
			if w := &out.Ways[i]; w.Across == 2 && w.PiecesPerBatch == c.batch {
				got = w
			}
		}
		require.NotNil(t, got, c.name)
		assert.Equal(t, c.pieces/c.batch, got.Batches, c.name)
		assert.InDelta(t, float64(c.low), float64(got.Low), 1e-9, "%s: slowest", c.name)
		assert.Equal(t, c.lowLimit, got.LowLimit, c.name)
		assert.InDelta(t, float64(c.high), float64(got.High), 1e-9, "%s: fastest", c.name)
		assert.Equal(t, c.highLimit, got.HighLimit, c.name)
		assert.InDelta(t, float64(c.steady), float64(got.Steady), 1e-9, "%s: the mixer keeps up", c.name)
	}
	// 900 + (8400 - 12000)/S is at most 600 s up to 12 strokes a minute, and pieces stay too long below 14; nor does one wait of 600 s leave any time for the proofer.
	for _, c := range []struct {
		pieces, batch int
		cycle         unit.Duration
	}{{800, 400, 900}, {300, 150, 600}, {560, 280, 601}} { // the last would stay for a cycle at any speed
		in := aimed(t, line.Aim{})
		in.Order.Pieces, in.Shift.Mixer.Cycle = c.pieces, c.cycle
		in.Shift.Mixer.High, in.Shift.Mixer.Low = unit.Mass(100*c.batch), unit.Mass(100*c.batch)
		_, err := in.Solve()
		assert.Error(t, err, "%d pieces every %v", c.batch, c.cycle)
	}
}

// Eight batches of 40 pieces, each scaled in a seventh of the time for which a piece stays: it meets seven waits and stays for seven cycles at any speed that waits,
// which is all that suits it. In binary seven times 85.9 s are more than 601.3 s, by a tenth of a million-millionth.
func TestAStayOfWholeCycles(t *testing.T) {
	in := aimed(t, line.Aim{})
	in.Order.Pieces, in.Order.Product.DwellHigh = 320, 601.3
	in.Shift.Mixer.Low, in.Shift.Mixer.High, in.Shift.Mixer.Cycle = 4000, 4000, 85.9
	out, err := line.Window(in).Solve()
	require.NoError(t, err)
	way := out.Ways[slices.IndexFunc(out.Ways, func(w line.WindowWay) bool { return w.Across == 2 })]
	require.Equal(t, []int{8, 40}, []int{way.Batches, way.PiecesPerBatch})
	assert.Equal(t, unit.StrokesPerMinute(28), way.High)
	in.Order.Product.DwellHigh = 601.2 // and the mixer keeps up with 13.97 strokes a minute, where it takes 13.98
	out, err = line.Window(in).Solve()
	require.NoError(t, err)
	assert.False(t, slices.ContainsFunc(out.Ways, func(w line.WindowWay) bool { return w.Across == 2 && w.PiecesPerBatch == 40 }))
	assert.NotEmpty(t, out.Conflict)
}

// Dough of 100 g that grows by 1 % a minute is 88 g when (1/0.88 - 1)/0.01 min have gone by, 818.18 s, and may lose 12 g: 400 pieces, two by two, are cut by
// then from 14.67 strokes a minute on. It is the hopper time that sets the slowest where dough may stand no longer than that.
func TestTheWeightSetsTheSlowest(t *testing.T) {
	for _, c := range []struct {
		hopper unit.Duration
		low    float64
		limit  string
	}{{3600, 400 * 60 / 2 / ((1/0.88 - 1) / 0.01 * 60), "weight drift"}, {800, 15, "hopper time"}} {
		in := aimed(t, line.Aim{})
		in.Order.Product.HopperMax, in.Shift.Mixer.High, in.Shift.Mixer.Low, in.Shift.Mixer.Cycle = c.hopper, 40_000, 20_000, 400
		in.Order.Product.Tolerance, in.Line.Divider.MarkStep = 0, 0
		in.Order.Product.Drift = line.HopperDrift{Growth: 1, GrowthBasis: divider.Measured, DriftLimit: 12, Hold: line.HoldByBatch}
		out, w, err := reckon.Explain(line.Window(in))
		require.NoError(t, err)
		require.NoError(t, retrace(w))
		outlinedBesideThePlan(t, "TestTheWeightSetsTheSlowest/"+c.limit, w)
		require.Equal(t, 400, out.Ways[0].PiecesPerBatch)
		assert.InEpsilon(t, c.low, float64(out.Ways[0].Low), 1e-9)
		assert.Equal(t, c.limit, out.Ways[0].LowLimit)
		for i := range out.Ways { // numbered from 1, through all numbers of batches
			assert.True(t, slices.ContainsFunc(w.Steps, func(s reckon.Step) bool {
				return s.Symbol == fmt.Sprintf("b_w%d", i+1) && s.Value == float64(out.Ways[i].Batches)
			}), "way %d", i+1)
		}
		assert.Greater(t, len(out.Ways), 1)
	}
}

// The next larger number of equal batches is looked at as long as the mixer mixes them well: 800 pieces in 2 batches of 400, 3 of 267, 4 of 200 and so on down to
// 100 pieces, if that is the least, and 31 beyond the fewest at the most.
func TestBatchesThatAreLookedAt(t *testing.T) {
	for _, c := range []struct {
		low  unit.Mass
		most int // batches
		ways int
	}{
		{10_000, 8, 7}, // 100 pieces of 100 g
		{10_001, 7, 6}, // 115 pieces in 7, 100 would be too few
		{40_000, 2, 1}, // none smaller
		{26_700, 3, 2}, // 267
		{26_701, 2, 1},
	} {
		in := aimed(t, line.Aim{})
		in.Order.Product.DwellHigh, in.Order.Product.HopperMax = unit.Hours(2), unit.Hours(2)
		in.Shift.Mixer.Cycle, in.Shift.Mixer.Low = 30, c.low
		out, err := line.Window(in).Solve()
		require.NoError(t, err)
		most, ways := 0, 0
		for _, w := range out.Ways {
			if w.Across == 2 {
				most, ways = max(most, w.Batches), ways+1
			}
		}
		assert.Equal(t, []int{c.most, c.ways}, []int{most, ways}, "no batch below %v", c.low)
	}
}

// What is given away is what the mark scales over the piece, in every piece made, and the pieces left over; flour falls on every place of a stroke.
func TestGiveawayAndFlourByHand(t *testing.T) {
	for _, c := range []struct{ pieces, batch, made, strokes int }{
		{800, 400, 800, 400},
		{802, 400, 804, 402}, // three batches of 268
		{401, 500, 401, 201}, // one batch; the last stroke drops one piece
	} {
		in := aimed(t, line.Aim{For: line.Fastest})
		in.Order.Pieces, in.Shift.Mixer.High, in.Shift.Mixer.Cycle = c.pieces, unit.Mass(100*c.batch), 300
		in.Line.Divider.HopperCapacity = 60_000
		for _, step := range []float64{0.5, 2} {
			in.Line.Divider.MarkStep = step
			p, err := in.Solve()
			require.NoError(t, err)
			over := max(0, float64(p.Mark.Expected-p.Piece.Dough))
			assert.InDelta(t, over*float64(c.made)+float64(c.made-c.pieces)*100, float64(p.Aim.Here.Giveaway), 1e-6, "%d pieces, steps of %v", c.pieces, step)
			each := 0.0
			for _, d := range p.Dusting {
				each += float64(d.Flour.FlourPerPiece)
			}
			require.Positive(t, each)
			assert.InDelta(t, each*2*float64(c.strokes), float64(p.Aim.Here.Flour), 1e-6, "%d pieces", c.pieces)
		}
	}
}

// Where nothing works, an order with an aim is refused for what one without is.
func TestAnAimSaysWhatStandsInTheWay(t *testing.T) {
	in := aimed(t, line.Aim{})
	in.Shift.Mixer.Cycle, in.Shift.Mixer.High, in.Shift.Mixer.Low = 900, 40_000, 40_000
	_, want := in.Solve()
	require.ErrorContains(t, want, "pieces stay up to")
	in.Order.Aim = line.Aim{For: line.MidDwell}
	_, err := in.Solve()
	assert.EqualError(t, err, want.Error())
}
