package line_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Aims that a head can follow: 800 pieces of 100 g in two batches of 400, at any speed from 14 to 28 strokes a minute.
// 140 trays at S strokes a minute are a dwell of 140/S min, a batch is scaled in 200/S min, the mixer keeps up
// with 20 strokes a minute, and a piece stays for 5 to 10 min, in the middle 7.5 min.
func aimed(t *testing.T, a line.Aim) line.Plan {
	t.Helper()
	in := round100(t)
	in.Line.Divider.StrokesLow, in.Line.Divider.StrokesHigh = 10, 30
	in.Order.Product.DwellHigh, in.Order.Product.FloorTime = 600, 300
	in.Order.Aim = a
	return in
}

func TestAimsByHand(t *testing.T) {
	for _, c := range []struct {
		name            string
		aim             line.Aim
		strokes         unit.StrokeRate
		waits           unit.Duration
		finish, longest unit.Duration // what is made takes the proofer (400 + 140 - 1)/S min, the first piece in at 0
	}{
		// With 20 strokes a minute nothing waits: 12 min of mixing, 5 min on the floor, 399 strokes later the last one, 7 min in the proofer.
		{"fastest", line.Aim{For: line.Fastest}, 20, 0, 1020 + (399+140)*3, 420},
		{"a rate of 36 pieces a minute", line.Aim{For: line.WantedRate, Rate: 36}, 18, 0, 1020 + (399+140)*60/18.0, 140 * 60 / 18.0},
		{"mid-dwell", line.Aim{For: line.MidDwell}, 140 / 7.5, 0, 1020 + (399+140)*7.5/140*60, 450},
		{"no waits", line.Aim{For: line.NoWaits}, 20, 0, 1020 + (399+140)*3, 420},
		// 17 min and 539 strokes at 14 a minute: 55.5 min in all.
		{"a calm run that ends in time", line.Aim{For: line.FinishInTime, FinishIn: 1020 + 539*60/14.0}, 14, 0, 1020 + 539*60/14.0, 600},
		{"a run that ends with nothing waiting", line.Aim{For: line.FinishInTime, FinishIn: 1020 + 539*60/16.0}, 16, 0, 1020 + 539*60/16.0, 140 * 60 / 16.0},
		// At 25 strokes a minute a batch is scaled in 480 s and the divider waits for 120 s: 17 min, 539 strokes and one wait. Any
		// slower speed with which the mixer keeps up is 20 strokes a minute at the most, and takes 2637 s.
		{"a rate at which the mixer just keeps up", line.Aim{For: line.WantedRate, Rate: 40}, 20, 0, 1020 + (399+140)*3, 420},
		{"a run that only ends in time if the divider waits", line.Aim{For: line.FinishInTime, FinishIn: 1020 + 539*60/25.0 + 120}, 25, 120, 1020 + 539*60/25.0 + 120, 140*60/25.0 + 120},
	} {
		p, err := aimed(t, c.aim).Solve()
		require.NoError(t, err, c.name)
		require.Equal(t, 400, p.Batch.PiecesPerBatch, c.name)
		assert.InEpsilon(t, float64(c.strokes), float64(p.Strokes), 1e-9, c.name)
		assert.InEpsilon(t, 20, float64(p.MixerStrokes), 1e-9, "%s: the mixer gives 400 pieces in 10 min", c.name)
		assert.InDelta(t, float64(c.waits), float64(p.Aim.Here.Waits), 1e-6, c.name)
		assert.InDelta(t, float64(c.finish), float64(p.Aim.Here.Finish), 1e-6, c.name)
		assert.InDelta(t, float64(c.longest), float64(p.LongestDwell), 1e-6, c.name)
		assert.Empty(t, p.Aim.Here.Missed, c.name)
		assert.False(t, p.Conditions.Has(reckon.Rounded), "a speed without steps: %s", c.name)
		for _, k := range p.Aim.Costs {
			h := p.Aim.Here
			assert.InDelta(t, float64(h.Waits), float64(k.Best.Waits+k.Waits), 1e-9, "%s against %s", c.name, k.Best.Aim)
			assert.InDelta(t, float64(h.Giveaway), float64(k.Best.Giveaway+k.Giveaway), 1e-6, "%s against %s", c.name, k.Best.Aim)
			assert.InDelta(t, float64(h.Flour), float64(k.Best.Flour+k.Flour), 1e-6, "%s against %s", c.name, k.Best.Aim)
			assert.InDelta(t, float64(h.Finish), float64(k.Best.Finish+k.Finish), 1e-6, "%s against %s", c.name, k.Best.Aim)
			assert.InDelta(t, float64(h.PieceRate), float64(k.Best.PieceRate+k.PieceRate), 1e-9, "%s against %s", c.name, k.Best.Aim)
		}
		var others []line.AimFor
		for _, k := range p.Aim.Costs {
			others = append(others, k.Best.Aim)
		}
		var want []line.AimFor
		for _, a := range []line.AimFor{line.Fastest, line.MidDwell, line.NoWaits, line.LeastGiveaway, line.LeastFlour} {
			if a != c.aim.For {
				want = append(want, a)
			}
		}
		assert.Equal(t, want, others, "an aim is held against every other that takes no number")
	}
}

// With three batches there are two waits. At 25 strokes a minute a batch of 400 is scaled in 480 s: 17 min, 739 strokes, and twice 120 s.
func TestAimWithTwoWaits(t *testing.T) {
	in := aimed(t, line.Aim{For: line.FinishInTime, FinishIn: 1020 + 739*60/25.0 + 240})
	in.Order.Pieces = 1200
	p, err := in.Solve()
	require.NoError(t, err)
	require.Equal(t, 3, p.Batch.Batches)
	assert.InEpsilon(t, 25, float64(p.Strokes), 1e-9)
	assert.InDelta(t, 240, float64(p.Aim.Here.Waits), 1e-6)
	assert.InDelta(t, 140*60/25.0+120, float64(p.LongestDwell), 1e-6, "a piece that stays for 336 s meets one of them")
}

// A line whose slowest is a little faster than wanted says by how much.
func TestAimMissedByLittle(t *testing.T) {
	in := aimed(t, line.Aim{For: line.WantedRate, Rate: 36})
	in.Line.Divider.StrokesLow = 18.0025
	_, err := in.Solve()
	assert.ErrorContains(t, err, "the nearest is 18 strokes/min with 2 batches of 400 pieces, 36.01 pieces/min: 0.005 pieces/min more than wanted")
}

// On steps of half a stroke a minute the speed is the nearest that serves, which the plan says, and what a step rounds away is no miss.
func TestAimsOnSteps(t *testing.T) {
	in := aimed(t, line.Aim{For: line.WantedRate, Rate: 36.4}) // 18.2 strokes a minute
	in.Line.Divider.StrokeStep = 0.5
	p, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.StrokeRate(18), p.Strokes)
	assert.True(t, p.Conditions.Has(reckon.Rounded))
	in.Order.Aim.Rate = 36.6 // 18.3, nearer to 18.5
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.StrokeRate(18.5), p.Strokes)
	for rate, want := range map[unit.PieceRate]unit.StrokeRate{36.498: 18, 36.502: 18.5} { // 0.498 or 0.502 from the one, and the other way round
		in.Order.Aim.Rate = rate
		p, err = in.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, p.Strokes, rate)
	}
	in.Order.Aim.Rate = 36
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.StrokeRate(18), p.Strokes)
	assert.False(t, p.Conditions.Has(reckon.Rounded), "36 pieces a minute, two by two, are 18 strokes: nothing is rounded")
	for _, a := range []line.AimFor{line.Fastest, line.NoWaits, line.LeastGiveaway, line.LeastFlour} {
		in.Order.Aim = line.Aim{For: a}
		p, err = in.Solve()
		require.NoError(t, err, a)
		// Giveaway and flour are the same at any speed: then it is the fastest run, and the mixer keeps up with 20.
		assert.Equal(t, unit.StrokeRate(20), p.Strokes, a)
		assert.Equal(t, 2, p.Batch.Batches, a)
		assert.False(t, p.Conditions.Has(reckon.Rounded), "%s names no speed, and 28 and 20 are whole steps", a)
	}

	// Half a step of the speed, two by two, is half a piece a minute: so far the slowest speed, 28 pieces a minute, may be off.
	in.Order.Aim = line.Aim{For: line.WantedRate, Rate: 27.5}
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.StrokeRate(14), p.Strokes)
	in.Order.Aim.Rate = 27.4
	_, err = in.Solve()
	assert.ErrorContains(t, err, "0.6 pieces/min more than wanted")

	// A run that is to end 5 ms before 16 strokes a minute end it takes the next step, which ends it in time.
	in.Order.Aim = line.Aim{For: line.FinishInTime, FinishIn: 1020 + 539*60/16.0 - 0.005}
	p, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.StrokeRate(16.5), p.Strokes)
}

// A speed that lies half a step beside the one that keeps every piece for the middle of its dwell is as near as the
// drive can be set; a hair further off is a miss.
func TestMidDwellHalfAStepAway(t *testing.T) {
	for _, c := range []struct {
		name      string
		low, high unit.StrokeRate
		middle    unit.Duration
		told      string // "" if the aim is reached
	}{
		// 140 trays at 18.75 strokes a minute are 448 s; at 19 they are 442.1 s, at 18.5 454.05 s.
		{"half a step faster", 19, 30, 448, ""},
		{"half a step slower", 10, 18.5, 448, ""},
		{"more than half a step faster", 19, 30, 448.01, "shorter than the middle, 7 min 28"},
		{"more than half a step slower", 10, 18.5, 447.99, "longer than the middle, 7 min 2"},
	} {
		in := aimed(t, line.Aim{For: line.MidDwell})
		in.Line.Divider.StrokesLow, in.Line.Divider.StrokesHigh, in.Line.Divider.StrokeStep = c.low, c.high, 0.5
		in.Order.Product.DwellHigh = 2*c.middle - in.Order.Product.DwellLow
		in.Shift.Mixer.Cycle = 300 // it never waits
		_, err := in.Solve()
		if c.told == "" {
			assert.NoError(t, err, c.name)
		} else {
			assert.ErrorContains(t, err, c.told, c.name)
		}
	}
}

// Where the divider has to wait, the nearest to the middle is where the shortest and the longest stay lie as far from it.
func TestMidDwellBesideAWait(t *testing.T) {
	in := aimed(t, line.Aim{For: line.MidDwell})
	in.Order.Pieces, in.Shift.Mixer.High, in.Shift.Mixer.Cycle = 300, 15_000, 300 // two batches of 150 pieces: 75 strokes, every 5 min
	// A piece stays for 8400/S s, and with one wait for 300 + 3900/S: as far from m where 2m - 300 = 12300/S. At 25 strokes a minute
	// these are 336 s and 456 s, a minute from the middle of 396 s.
	in.Order.Product.DwellLow, in.Order.Product.DwellHigh = 300, 492
	_, err := in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Contains(t, none.Advice, "the nearest is 25 strokes/min with 2 batches of 150 pieces")
	assert.Contains(t, none.Advice, "1 min longer than the middle for the pieces that meet a wait, 6 min 36 s")
}

// A run that is to end when some speed ends it is in time at that speed, whatever binary arithmetic leaves over.
func TestFinishJustInTime(t *testing.T) {
	for strokes := 14.05; strokes < 20; strokes += 0.37 {
		p, err := aimed(t, line.Aim{For: line.FinishInTime, FinishIn: unit.Duration(1020 + 539*60/strokes)}).Solve()
		require.NoError(t, err, strokes)
		assert.InEpsilon(t, strokes, float64(p.Strokes), 1e-9)
	}
}

// Fewer pieces left over and less flour are worth more batches: 805 pieces in 5 batches of 161 are no piece too many and 403 strokes, in 3 batches of
// 269 two and 404.
func TestBatchesForLeastGiveawayAndFlour(t *testing.T) {
	for aim, batches := range map[line.AimFor]int{line.Fastest: 3, line.LeastGiveaway: 5, line.LeastFlour: 5} {
		in := aimed(t, line.Aim{For: aim})
		in.Order.Pieces, in.Shift.Mixer.Cycle = 805, 60
		p, err := in.Solve()
		require.NoError(t, err, aim)
		assert.Equal(t, batches, p.Batch.Batches, aim)
	}
}

// Of speeds at which the divider waits, the slowest waits least: two batches of 150 pieces every 300 s take 225 s at 20 strokes a minute. At 28 they take
// 161 s, but a piece stays for 300 + 139 s instead of 420 + 75 s, so that the fastest run goes at 28.
func TestNearestToNoWaits(t *testing.T) {
	in := aimed(t, line.Aim{For: line.NoWaits})
	in.Order.Pieces, in.Shift.Mixer.High, in.Shift.Mixer.Cycle, in.Line.Divider.StrokesLow = 300, 15_000, 300, 20
	_, err := in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Contains(t, none.Advice, "the nearest is 20 strokes/min with 2 batches of 150 pieces")
	assert.Contains(t, none.Advice, "the divider waits for 1 min 15 s in all")
	in.Order.Aim.For = line.Fastest
	p, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 28, float64(p.Strokes), 1e-9)
	// It costs 64.29 s more of waiting than the nearest to none, and gains 183.43 s: 289 strokes and one wait each.
	i := slices.IndexFunc(p.Aim.Costs, func(k line.AimCost) bool { return k.Best.Aim == line.NoWaits })
	require.GreaterOrEqual(t, i, 0)
	k := p.Aim.Costs[i]
	assert.InDelta(t, 75, float64(k.Best.Waits), 1e-6)
	assert.InDelta(t, 225-150*60/56.0, float64(k.Waits), 1e-6)
	assert.InDelta(t, 289*60/28.0-289*3+225-150*60/56.0, float64(k.Finish), 1e-6)
	assert.Zero(t, k.PieceRate, "the mixer sets it")
}

// Where a slide does not drop so little that the mixer keeps up, the fastest run is the one whose pieces stay the shorter: at 24 strokes a minute 350 s and a
// wait of 100 s, at 28 300 s and a wait of 171 s.
func TestFastestWhereASlideSetsTheSlowest(t *testing.T) {
	in := aimed(t, line.Aim{For: line.Fastest})
	p, err := in.Solve()
	require.NoError(t, err)
	least := unit.MassRate(float64(p.Dusting[0].Flour.FlourPerPiece) * 2 * 24 * 60 / 1000) // in kg/h, two by two at 24 strokes a minute
	in.Line.Dusters = slices.Clone(in.Line.Dusters)
	in.Line.Dusters[0].Slide = []divider.SlidePoint{{Slide: 1, FlourRate: least}, {Slide: 5, FlourRate: 3 * least}}
	in.Line.Dusters[0].SlideStep = 0
	p, err = in.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 24, float64(p.Strokes), 1e-6)
	assert.InDelta(t, 450, float64(p.LongestDwell), 0.01)
	// The window goes from there to the fastest, whatever is aimed at, also where the plan is refused: without an aim nobody looks for a speed that suits the
	// slide, and in the middle no speed stays.
	for _, aim := range []line.AimFor{"", line.Fastest, line.MidDwell} {
		in.Order.Aim.For = aim
		_, err := in.Solve()
		assert.Equal(t, aim == line.Fastest, err == nil, "%q", aim)
		out, err := line.Window(in).Solve()
		require.NoError(t, err, "%q", aim)
		require.Len(t, out.Ways, 1, "%q", aim)
		way := out.Ways[0]
		assert.InDeltaSlice(t, []float64{24, 28}, []float64{float64(way.Low), float64(way.High)}, 1e-6, "%q", aim)
		assert.Equal(t, "rounder belt", way.LowLimit, "%q", aim)
		assert.Equal(t, line.Fastest, out.Best[0].Aim)
		assert.InDelta(t, 24, float64(out.Best[0].Strokes), 1e-6, "%q", aim)
	}
}

// With no settings that work an aim is refused for what stands in the way, as without an aim.
func TestAimWhereNothingWorks(t *testing.T) {
	in := input(t, 0)
	in.Shift.Mixer.Cycle = unit.Hours(1)
	_, plain := in.Solve()
	in.Order.Aim = line.Aim{For: line.Fastest}
	_, err := in.Solve()
	require.Error(t, err)
	assert.Equal(t, plain, err)
}

// An aim that no settings reach is refused, with the nearest and by how much it misses.
func TestAimsThatAreMissed(t *testing.T) {
	for _, c := range []struct {
		name   string
		aim    line.Aim
		bend   func(*line.Plan)
		advice string
	}{
		// 28 strokes a minute are the most, and while the divider waits the mixer sets 40 pieces a minute.
		{"more than the mixer gives", line.Aim{For: line.WantedRate, Rate: 41}, nil, "1 pieces/min fewer than wanted"},
		{"less than the slowest speed", line.Aim{For: line.WantedRate, Rate: 27}, nil, "1 pieces/min more than wanted"}, // 14 strokes a minute, or a piece stays for more than 10 min
		// At 28 strokes a minute: 12 min, 539 strokes, and 600 - 400*60/56 = 171.43 s of waiting are 2046.43 s.
		{"sooner than the mixer and the proofer can", line.Aim{For: line.FinishInTime, FinishIn: 1020 + 539*60/28.0 + 600 - 400*60/56.0 - 60}, nil, "1 min too late"},
		// No speed stays in the middle: the slowest is 24.
		{"a divider that is too fast", line.Aim{For: line.MidDwell}, func(in *line.Plan) {
			in.Line.Divider.StrokesLow, in.Shift.Mixer.Cycle = 24, 300
		}, "1 min 40 s shorter than the middle, 7 min 30 s"}, // 140/24 min are 350 s
		{"a divider that is too slow", line.Aim{For: line.MidDwell}, func(in *line.Plan) {
			in.Line.Divider.StrokesHigh, in.Shift.Mixer.Cycle = 16, 300
		}, "1 min 15 s longer than the middle, 7 min 30 s"}, // 140/16 min are 525 s
		// At 24 strokes a minute a batch is scaled in 500 s.
		// 200 strokes at 20 a minute are 600 s.
		{"a divider that waits for an instant", line.Aim{For: line.NoWaits}, func(in *line.Plan) {
			in.Line.Divider.StrokesLow, in.Line.Divider.StrokesHigh, in.Shift.Mixer.Cycle = 20, 20, 600.005
		}, "the divider waits for 0.005 s in all"},
		{"an instant sooner than it can", line.Aim{For: line.FinishInTime, FinishIn: 1020 + 539*60/20.0 - 0.005}, func(in *line.Plan) {
			in.Line.Divider.StrokesHigh = 20
		}, "0.005 s too late"},
		{"a divider that has to wait", line.Aim{For: line.NoWaits}, func(in *line.Plan) { in.Line.Divider.StrokesLow = 24 }, "the divider waits for 1 min 40 s in all"},
	} {
		in := aimed(t, c.aim)
		if c.bend != nil {
			c.bend(&in)
		}
		_, err := in.Solve()
		var none *reckon.NoSolutionError
		require.ErrorAs(t, err, &none, c.name)
		assert.Truef(t, strings.Contains(none.Advice, ": "+c.advice), "%s: %q is to say %q", c.name, none.Advice, c.advice)
	}
}

// The numbers of an aim have limits of their own, and stand with that aim alone.
func TestAimRefuses(t *testing.T) {
	for _, c := range []struct {
		aim   line.Aim
		field string // "" if the aim is not refused
	}{
		{line.Aim{For: "luck"}, "order.aim.for"},
		{line.Aim{For: line.WantedRate, Rate: 0.0099}, "order.aim.piece_rate"},
		{line.Aim{For: line.WantedRate, Rate: 0.01}, ""},
		{line.Aim{For: line.WantedRate, Rate: 10_000}, ""},
		{line.Aim{For: line.WantedRate, Rate: 10_001}, "order.aim.piece_rate"},
		{line.Aim{For: line.Fastest, Rate: 0.005}, "order.aim.piece_rate"},
		{line.Aim{For: line.FinishInTime, FinishIn: unit.Hours(240)}, ""},
		{line.Aim{For: line.FinishInTime, FinishIn: unit.Hours(240.01)}, "order.aim.finish_in"},
		{line.Aim{For: line.Fastest, FinishIn: 0.005}, "order.aim.finish_in"},
		{line.Aim{Rate: 30}, "order.aim.for"},
	} {
		var got []string
		_, err := aimed(t, c.aim).Solve()
		for _, e := range reckon.InputErrors(err) {
			got = append(got, e.Field)
		}
		if c.field == "" {
			assert.Empty(t, got, "%+v", c.aim)
		} else {
			assert.Contains(t, got, c.field, "%+v", c.aim)
		}
	}
}

// The largest batch is told of the speed that an aim has set: at 20 strokes a minute, two pieces of 100 g each, 650 s cut 43.33 kg; at the
// fastest, 28, they would cut 60.67 kg, more than the mixer takes.
func TestLargestBatchAtTheSpeedOfTheAim(t *testing.T) {
	in := aimed(t, line.Aim{For: line.NoWaits})
	in.Order.Product.HopperMax, in.Shift.Mixer.High, in.Line.Divider.HopperCapacity = 650, 44_000, 99_000
	p, err := in.Solve()
	require.NoError(t, err)
	require.InEpsilon(t, 20, float64(p.Strokes), 1e-9)
	assert.InEpsilon(t, 43_333.333, float64(p.LargestBatch), 1e-6)
	assert.Equal(t, "hopper time", p.LargestBatchLimit)
}

// Of 31 times 41 pieces none is left over in 31 batches, the 30th number that is looked at, from 2 on; 37 batches of 37 times 41 are beyond the 32nd: two
// batches of 759 leave one over, which is the least of those before.
func TestAimsLookAtSoManyBatches(t *testing.T) {
	for pieces, want := range map[int][2]int{31 * 41: {31, 0}, 37 * 41: {2, 1}} {
		in := aimed(t, line.Aim{For: line.LeastGiveaway})
		in.Order.Pieces, in.Line.Divider.HopperCapacity = pieces, 99_000
		in.Shift.Mixer.Low, in.Shift.Mixer.High, in.Shift.Mixer.Cycle, in.Shift.Mixer.Mixing = 1000, 80_000, 5, 5
		p, w, err := reckon.Explain(in)
		require.NoError(t, err)
		require.NoError(t, retrace(w))
		outlined(t, "TestAimsLookAtSoManyBatches/"+strconv.Itoa(want[0]), w)
		assert.Equal(t, want, [2]int{p.Batch.Batches, p.Batch.PiecesMade - pieces})
	}
}
