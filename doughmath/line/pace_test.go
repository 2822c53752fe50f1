package line_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// round100 is the demo's bun as a piece of 100 g of dough, at one speed that nobody can change: numbers that the
// head can follow. Loss, waste, drift and head of dough are nothing; 800 pieces are scaled in two batches of 400,
// each by 200 strokes at 20 a minute: 600 s.
func round100(t *testing.T) line.Plan {
	t.Helper()
	in := input(t, 0)
	in.Line.Divider.StrokesLow, in.Line.Divider.StrokesHigh, in.Line.Divider.StrokeStep = 20, 20, 0
	in.Line.Divider.HopperLeast, in.Line.Divider.HopperCapacity = 0, 40_000
	in.Line.Drums = slices.Clone(in.Line.Drums)
	in.Line.Drums[1].Cup = 62 // a ball of 100 g at 1.08 g/ml is 56.1 mm wide
	p := &in.Order.Product
	p.Baked, p.Tolerance, p.Drift, p.HopperMax = 100, 5, line.HopperDrift{}, unit.Hours(1)
	p.Loss.Bake.Percent, p.Loss.Cooling.Percent = 0, 0
	in.Order.Pieces, in.Order.Spare = 800, 0
	in.Shift.Waste, in.Shift.WasteBasis = 0, ""
	in.Shift.Mixer.Low, in.Shift.Mixer.High, in.Shift.Mixer.Cycle = 1000, 200_000, 600
	return in
}

// The divider waits for what the mixer takes longer than the scaling of a batch, to a hundredth of a second.
func TestWaitBetweenBatches(t *testing.T) {
	in := round100(t)
	p, err := in.Solve()
	require.NoError(t, err)
	require.Equal(t, unit.Mass(100), p.Target)
	require.Equal(t, 2, p.Batch.Batches)
	require.Equal(t, 400, p.Batch.PiecesPerBatch)
	assert.InDelta(t, 20, float64(p.MixerStrokes), 1e-9, "400 pieces, two by two, in 10 min")
	assert.InDelta(t, 600, float64(p.Times.BatchScaling), 1e-9)
	assert.Zero(t, p.Times.BatchWait, "the mixer just keeps up")
	assert.False(t, p.Conditions.Has(reckon.RateLimited))
	assert.Equal(t, p.Dwell.Dwell, p.LongestDwell)
	assert.InDelta(t, 720+600, float64(p.Times.FirstStroke+p.Times.LastMix), 1e-9, "12 min of mixing, and 10 min from batch to batch")

	in.Shift.Mixer.Cycle = 600.005
	p, err = in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 0.005, float64(p.Times.BatchWait), 1e-9)
	assert.InDelta(t, 600.005, float64(p.Times.BatchInterval), 1e-9)
	assert.True(t, p.Conditions.Has(reckon.RateLimited), "two batches, and a wait between them")
	// 140 trays at 20 a minute are 420 s, less than the 600 s of a batch: a piece meets one wait.
	assert.InDelta(t, 420.005, float64(p.LongestDwell), 1e-6)
	// The first stroke after 720 s, 400 strokes, of which the last one ends the run 3 s before, and the wait.
	assert.InDelta(t, 720+1200-3+0.005, float64(p.Times.LastStroke), 1e-6)

	// 40 pieces a minute fill a rack of 100 in 2.5 min: of the four of a batch, all are back after 15 min of proof before the next, 20 min later.
	racks := in
	racks.Line.Oven, racks.Line.FinalProof = line.Oven{}, line.FinalProof{Carrier: proof.CarrierRack}
	racks.Shift.Mixer.Cycle = unit.Minutes(30)
	q := &racks.Order.Product
	q.Baking, q.DwellHigh, q.FinalStay, q.PerCarrier = line.Baking{}, unit.Minutes(30), unit.Minutes(15), 100
	p, err = racks.Solve()
	require.NoError(t, err)
	require.InDelta(t, 1200, float64(p.Times.BatchWait), 1e-9)
	assert.Equal(t, 4, p.FinalProof.Needed)

	// A single batch waits for none, however slow the mixer.
	in.Order.Pieces, in.Shift.Mixer.Cycle = 400, unit.Hours(1)
	p, err = in.Solve()
	require.NoError(t, err)
	require.Equal(t, 1, p.Batch.Batches)
	assert.False(t, p.Conditions.Has(reckon.RateLimited))
	assert.Zero(t, p.MixerStrokes)
	assert.Equal(t, p.Dwell.Dwell, p.LongestDwell)

	// Nor does its dough stand behind a head that the mixer was to follow: 400 pieces of 100 g at 4000 g a minute.
	in.Line.Divider.HopperLeast, in.Line.Divider.HopperCapacity = 2000, 42_000
	p, err = in.Solve()
	require.NoError(t, err)
	require.Equal(t, 1, p.Batch.Batches)
	assert.InDelta(t, 600, float64(p.Hopper.Time), 1e-9)
}

// With a head of dough the tail of a batch stands until the next is mixed, and the head itself is cut after that.
func TestHeadStandsWhileTheDividerWaits(t *testing.T) {
	in := round100(t)
	in.Line.Divider.HopperLeast, in.Line.Divider.HopperCapacity = 2000, 42_000
	in.Shift.Mixer.Cycle = 660
	p, err := in.Solve()
	require.NoError(t, err)
	require.Equal(t, 400, p.Batch.PiecesPerBatch)
	// (40 kg + 2 kg) at 4 kg a minute are 630 s, and 60 s of waiting.
	assert.InDelta(t, 690, float64(p.Hopper.Time), 1e-9)
	assert.Equal(t, 20, p.LightPieces, "2 kg in pieces of 100 g, and no more for a last binary digit")
	in.Line.Divider.HopperLeast, in.Line.Divider.HopperCapacity = 2001, 43_000
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 21, p.LightPieces)
	in.Line.Divider.HopperLeast = 2000 * (1 + 1e-12)
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 20, p.LightPieces)
}

// Where the weight asks for more speed than the mixer gives dough for, the divider waits, and no slower than the weight allows: 400 pieces of 100 g that may
// lose 12 g while they grow by 1 % a minute are cut within 818.18 s, at 14.67 strokes a minute, and the mixer takes 15 min a batch.
func TestTheWeightHoldsThePace(t *testing.T) {
	in := aimed(t, line.Aim{})
	in.Order.Product.Tolerance, in.Line.Divider.MarkStep = 0, 0
	in.Order.Product.Drift = line.HopperDrift{Growth: 1, GrowthBasis: divider.Measured, DriftLimit: 12, Hold: line.HoldByBatch}
	in.Shift.Mixer.High, in.Shift.Mixer.Low, in.Shift.Mixer.Cycle = 40_000, 40_000, 900
	in.Order.Product.DwellHigh = 1200
	p, err := in.Solve()
	require.NoError(t, err)
	require.Equal(t, 400, p.Batch.PiecesPerBatch)
	assert.InEpsilon(t, 400*60/2/((1/0.88-1)/0.01*60), float64(p.Strokes), 1e-9)
}

// The largest batch is the least of what mixer, hopper and hopper time allow, and of equals the first is named.
func TestLargestBatchIsTheLeast(t *testing.T) {
	in := round100(t)
	in.Order.Pieces = 4000
	for _, c := range []struct {
		mixer, hopper, head unit.Mass
		max                 unit.Duration
		want                unit.Mass
		limit               string
	}{
		{40_000, 40_000, 0, 3600, 40_000, "mixer"},
		{40_100, 40_000, 0, 3600, 40_000, "hopper"},
		{40_100, 42_000, 2000, 3600, 40_000, "hopper"}, // 2 kg are in
		{200_000, 160_000, 0, 600, 40_000, "hopper time"},
		{200_000, 160_000, 2000, 630, 40_000, "hopper time"}, // the head is cut first: 4 kg a minute, 42 kg
	} {
		in.Shift.Mixer.High, in.Line.Divider.HopperCapacity, in.Line.Divider.HopperLeast = c.mixer, c.hopper, c.head
		in.Order.Product.HopperMax = c.max
		p, err := in.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(c.want), float64(p.LargestBatch), 1e-6)
		assert.Equal(t, c.limit, p.LargestBatchLimit)
	}

	// What the mixer mixes well at the least may be just as much, and no more.
	in = round100(t)
	in.Shift.Mixer.Low = 40_000
	_, err := in.Solve()
	require.NoError(t, err)
	in.Shift.Mixer.Low = 40_001
	_, err = in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "40 kg", none.High, "what the hopper holds")
	assert.Contains(t, none.Advice, "the hopper allows no more")
}

// Waste on the order is a part of the dough that is cut, on the dough a part of what is mixed; neither takes strokes.
func TestWasteInTheLargestBatch(t *testing.T) {
	in := round100(t)
	in.Line.Divider.HopperCapacity, in.Order.Product.HopperMax = 160_000, 600 // 40 kg are cut in 600 s
	in.Shift.Waste, in.Shift.WasteBasis = 20, "order"
	p, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 48_000, float64(p.LargestBatch), 1e-6, "40 kg and a fifth of it")
	in.Shift.WasteBasis = "dough"
	p, w, err := reckon.Explain(in)
	require.NoError(t, err)
	require.NoError(t, retrace(w))
	assert.True(t, slices.ContainsFunc(w.Steps, func(s reckon.Step) bool { return s.Expression == "1/(1 - w/100)" && s.Value == 1.25 }))
	assert.InDelta(t, 50_000, float64(p.LargestBatch), 1e-6, "a fifth of 50 kg is lost")
	assert.InDelta(t, 600, float64(p.Hopper.Time), 1e-9)
}
