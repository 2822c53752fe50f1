package line_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// anyOrder is an order of the demo under other limits: some wide, some narrow, some that exclude one another.
func anyOrder(t testing.TB, rng *rand.Rand) line.Plan {
	pick := func(from ...float64) float64 { return from[rng.IntN(len(from))] }
	i := rng.IntN(3)
	in := input(t, i)
	p, d, m := &in.Order.Product, &in.Line.Divider, &in.Shift.Mixer
	in.Order.Pieces = int(pick(300, 1000, 2750, 6000)) + rng.IntN(50)
	d.StrokeStep = unit.StrokeRate(pick(0.5, 1, 3))
	d.HopperLeast = unit.Mass(pick(0, 2000, 6000))
	d.HopperCapacity = unit.Mass(pick(60_000, 160_000))
	p.HopperMax = unit.Minutes(pick(18, 25, 40, 70))
	p.DwellHigh = p.DwellLow + unit.Duration(pick(0.02, 0.5, 1, 3)*float64(p.DwellLow))
	m.High = unit.Mass(pick(40_000, 62_700, 110_000))
	m.Low = unit.Mass(pick(5000, 25_000, 40_000))
	m.Cycle = unit.Minutes(pick(6, 10, 16, 22, 30))
	p.Heat = nil // the water that a batch needs depends on its size, and does not narrow the window
	p.Drift.DriftLimit, p.Drift.Growth = 0, 0
	if rng.IntN(3) == 0 {
		p.Drift = line.HopperDrift{Growth: unit.GrowthRate(pick(0.05, 0.1)), GrowthBasis: "measured", DriftLimit: p.Tolerance / 2, Hold: line.HoldByBatch}
	}
	return in
}

// pinned leaves a line nothing but one speed and one size of batch: whether that works, and what comes of it, says the plan.
func pinned(in line.Plan, strokes unit.StrokeRate, pieces int, dough unit.Mass) (p line.PlanResult, works bool) {
	d, m := &in.Line.Divider, &in.Shift.Mixer
	in.Order.Aim = line.Aim{}
	d.StrokesLow, d.StrokesHigh, d.StrokeStep = strokes, strokes, 0
	m.Low, m.High = 0, dough*(1+1e-12)
	p, err := in.Solve()
	return p, err == nil && p.Batch.PiecesPerBatch == pieces
}

// gone is what comes of a plan, by its own times and weights.
type gone struct{ rate, dwell, longest, waits, finish, giveaway, flour float64 }

func goneBy(in *line.Plan, p *line.PlanResult) (g gone) {
	b, t := &p.Batch, &p.Times
	g.rate, g.dwell, g.longest = float64(p.Rate.PieceRate), float64(p.Dwell.Dwell), float64(p.LongestDwell)
	if b.Batches > 1 {
		g.waits = float64(b.Batches-1) * float64(t.BatchWait)
		if t.BatchWait > 0 {
			g.rate = float64(b.PiecesPerBatch) / (float64(t.BatchInterval) / 60)
		}
	}
	g.finish = float64(t.LastOut)
	g.giveaway = max(0, float64(p.Mark.Expected-p.Piece.Dough))*float64(b.PiecesMade) + float64(b.LeftoverPieces)*float64(p.Piece.Dough)
	for _, d := range p.Dusting {
		g.flour += float64(d.Flour.PerRun)
	}
	return g
}

// misses is how far a run is from an aim: less is better.
func misses(in *line.Plan, aim line.Aim, g gone) float64 {
	switch middle := float64(in.Order.Product.DwellLow+in.Order.Product.DwellHigh) / 2; aim.For {
	case line.WantedRate:
		return math.Abs(g.rate - float64(aim.Rate))
	case line.MidDwell:
		return max(math.Abs(g.dwell-middle), math.Abs(g.longest-middle))
	case line.NoWaits:
		return g.waits
	case line.LeastGiveaway:
		return g.giveaway
	case line.LeastFlour:
		return g.flour
	case line.FinishInTime:
		return max(0, g.finish-float64(aim.FinishIn))
	}
	return 0
}

// Every speed on the step and every size of batch is tried by a plan that has no other choice: it works if and only if
// the window holds it, and no other does better for an aim than the plan for that aim.
func TestWindowHoldsWhatWorks(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 2026))
	inside, out, closed, waiting, aimed, missed := 0, 0, 0, 0, 0, 0
	for n := range 30 {
		in := anyOrder(t, rng)
		name := fmt.Sprint(n, " ", in.Order.Product.Name)
		w, err := line.Window(in).Solve()
		fast, planErr := in.Solve()
		if err != nil {
			require.Error(t, planErr, name)
			closed++
			continue
		}
		if len(w.Conflict) > 0 {
			require.Error(t, planErr, name)
			require.True(t, w.Conditions.Has(line.NoWindow))
			closed++
			continue
		}
		require.NoError(t, planErr, name)
		step, across := float64(in.Line.Divider.StrokeStep), in.Order.Product.Across
		ways := map[int]line.WindowWay{}
		for _, way := range w.Ways {
			if way.Across == across {
				ways[way.PiecesPerBatch] = way
			}
		}
		each := float64(fast.Batch.BatchDough) / float64(fast.Batch.PiecesPerBatch)
		all := in.Order.Pieces + in.Order.Spare
		var works []gone
		batches := w.Best[0].Batches
		for seen := 0; seen < 32; batches++ {
			pieces := (all + batches - 1) / batches
			if pieces < 1 || (all+pieces-1)/pieces != batches {
				if batches >= all {
					break
				}
				continue // no number of equal batches of whole pieces
			}
			if seen++; seen > 1 && float64(pieces)*each < float64(in.Shift.Mixer.Low)*(1-1e-12) {
				break
			}
			way, listed := ways[pieces]
			for k := math.Ceil(float64(fast.Speed.Low)/step - 1e-9); k*step <= float64(fast.Speed.High)*(1+1e-9); k++ {
				s := k * step
				p, ok := pinned(in, unit.StrokeRate(s), pieces, unit.Mass(float64(pieces)*each))
				holds := listed && s >= float64(way.Low)-1e-9 && s <= float64(way.High)+1e-9
				require.Equal(t, ok, holds, "%s: %v strokes/min, %d batches of %d: %+v", name, s, batches, pieces, way)
				if !ok {
					out++
					continue
				}
				inside++
				if p.Times.BatchWait > 0 && batches > 1 {
					waiting++
				}
				works = append(works, goneBy(&in, &p))
			}
		}
		require.NotEmpty(t, works, name)
		aims := []line.Aim{{For: line.Fastest}, {For: line.MidDwell}, {For: line.NoWaits}, {For: line.LeastGiveaway}, {For: line.LeastFlour}}
		for _, share := range []float64{0.3, 0.8, 1.02} {
			aims = append(aims, line.Aim{For: line.WantedRate, Rate: unit.PieceRate(share * float64(fast.Rate.PieceRate))},
				line.Aim{For: line.FinishInTime, FinishIn: unit.Duration(float64(fast.Times.LastOut) / share)})
		}
		for _, aim := range aims {
			least := math.Inf(1)
			for _, g := range works {
				least = min(least, misses(&in, aim, g))
			}
			with := in
			with.Order.Aim = aim
			p, err := with.Solve()
			own, windowErr := line.Window(with).Solve()
			require.NoError(t, windowErr)
			var best line.AimPoint
			for _, b := range own.Best {
				if b.Aim == aim.For {
					best = b
				}
			}
			require.Equal(t, best.Missed != "", err != nil, "%s, %v: %s, %v", name, aim, best.Missed, err)
			here := gone{float64(best.PieceRate), float64(best.Dwell), float64(best.LongestDwell), float64(best.Waits), float64(best.Finish), float64(best.Giveaway), float64(best.Flour)}
			require.InDelta(t, least, misses(&in, aim, here), 1e-6*max(1, least), "%s, %v: %+v", name, aim, best)
			if err != nil {
				var none *reckon.NoSolutionError
				require.ErrorAs(t, err, &none)
				require.ErrorContains(t, err, best.Missed)
				require.True(t, own.Conditions.Has(line.AimMissed))
				missed++
				continue
			}
			aimed++
			assert.Equal(t, best.Strokes, p.Strokes, name)
			assert.Equal(t, best.Batches, p.Batch.Batches, name)
			assert.Equal(t, best.PiecesPerBatch, p.Batch.PiecesPerBatch, name)
			assert.Equal(t, best, p.Aim.Here, name)
			g := goneBy(&in, &p)
			for _, pair := range [][2]float64{{g.rate, here.rate}, {g.dwell, here.dwell}, {g.longest, here.longest}, {g.waits, here.waits}, {g.finish, here.finish}, {g.giveaway, here.giveaway}, {g.flour, here.flour}} {
				require.InDelta(t, pair[0], pair[1], 1e-6*max(1, pair[0]), "%s, %v: %+v, %+v", name, aim, g, here)
			}
			if aim.For == line.Fastest {
				assert.Equal(t, fast.Strokes, p.Strokes, "naming the aim changes nothing")
				assert.Equal(t, fast.Batch, p.Batch)
			}
		}
	}
	for _, n := range []int{inside, out, closed, waiting, aimed, missed} {
		assert.Positive(t, n)
	}
}

// Without a step the window ends where a plan that is pinned just beyond its end is refused, and no speed inside does better for an aim.
func TestWindowWithoutAStep(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 2026))
	ends, aimed := 0, 0
	for n := range 40 {
		in := anyOrder(t, rng)
		in.Line.Divider.StrokeStep = 0
		w, err := line.Window(in).Solve()
		if err != nil || len(w.Conflict) > 0 {
			continue
		}
		name := fmt.Sprint(n, " ", in.Order.Product.Name)
		var works []gone
		for i, way := range w.Ways {
			if way.Across != in.Order.Product.Across || i > 4 {
				continue
			}
			for _, end := range []struct {
				at    unit.StrokeRate
				limit string
				out   unit.StrokeRate
			}{{way.Low, way.LowLimit, way.Low * (1 - 1e-6)}, {way.High, way.HighLimit, way.High * (1 + 1e-6)}} {
				p, ok := pinned(in, end.at, way.PiecesPerBatch, way.BatchDough)
				require.True(t, ok, "%s: %+v", name, way)
				works = append(works, goneBy(&in, &p))
				if end.limit == "divider" { // which a pinned plan moves
					continue
				}
				ends++
				_, ok = pinned(in, end.out, way.PiecesPerBatch, way.BatchDough)
				require.False(t, ok, "%s, limit %s: %+v", name, end.limit, way)
			}
			for range 6 {
				p, ok := pinned(in, way.Low+(way.High-way.Low)*unit.StrokeRate(rng.Float64()), way.PiecesPerBatch, way.BatchDough)
				require.True(t, ok, "%s: %+v", name, way)
				works = append(works, goneBy(&in, &p))
			}
		}
		for _, aim := range []line.Aim{
			{For: line.MidDwell},
			{For: line.NoWaits},
			{For: line.LeastGiveaway},
			{For: line.WantedRate, Rate: unit.PieceRate(works[len(works)-1].rate)},
			{For: line.FinishInTime, FinishIn: unit.Duration(works[len(works)-2].finish)},
		} {
			least := math.Inf(1)
			for _, g := range works {
				least = min(least, misses(&in, aim, g))
			}
			in.Order.Aim = aim
			p, err := in.Solve()
			if err != nil {
				require.Positive(t, least, "%s, %v: %v", name, aim, err)
				continue
			}
			aimed++
			require.LessOrEqual(t, misses(&in, aim, goneBy(&in, &p)), least+1e-6*max(1, least), "%s, %v", name, aim)
		}
	}
	assert.Greater(t, ends, 50)
	assert.Greater(t, aimed, 50)
}

// What a limit buys is what the window of a line with that limit moved has more.
func TestWindowLimitsBuy(t *testing.T) {
	units := map[string]float64{
		"line.divider.strokes_low": -1, "line.divider.strokes_high": 1, "order.product.dwell_high": 60, "order.product.dwell_low": -60,
		"order.product.hopper_max": 60, "line.divider.hopper_capacity": 1000, "shift.mixer.high": 1000, "shift.mixer.low": -1000, "shift.mixer.cycle": -60,
		"order.product.hopper_drift.growth": -0.01, "line.stamper.stamps_low": -1, "line.stamper.stamps_high": 1, "order.product.rate_high": 1,
		"line.moulder.rate_high": 1, "line.moulder.gap_low": -0.1, "line.moulder.gap_high": 0.1, "order.product.turns": -0.1, "order.product.tear_limit": -0.1,
	}
	speeds := func(w *line.WindowResult, across int) (low, high unit.StrokeRate) {
		low = 1e9
		for _, way := range w.Ways {
			if way.Across == across {
				low, high = min(low, way.Low), max(high, way.High)
			}
		}
		return low, high
	}
	names := func(limits, name string) bool { return slices.Contains(strings.Split(limits, " and "), name) }
	largest := func(in line.Plan) string {
		p, err := in.Solve()
		require.NoError(t, err)
		return p.LargestBatchLimit
	}
	rng := rand.New(rand.NewPCG(5, 2026))
	bought, bound := map[line.LimitSide]int{}, map[bool]int{}
	for range 25 {
		in := anyOrder(t, rng)
		now, err := line.Window(in).Solve()
		if err != nil || len(now.Conflict) > 0 {
			continue
		}
		across := in.Order.Product.Across
		lowNow, highNow := speeds(&now, across)
		for _, l := range now.Limits {
			by, known := units[l.Field]
			if !known { // a belt, and the step, which goes
				if by = 1000. / 60; l.Limit == "step" {
					by = -float64(in.Line.Divider.StrokeStep)
				}
			}
			moved := in
			moved.Line.Belts = append([]line.Belt(nil), in.Line.Belts...)
			at, err := reckon.NumberIn(&moved, l.Field)
			require.NoError(t, err, l.Field)
			if at.Value()+by < 0 || l.Limit == "tear" && at.Value()+by < 0.1 {
				continue
			}
			at.Set(at.Value() + by)
			then, err := line.Window(moved).Solve()
			require.NoError(t, err, "%+v", l)
			low, high := speeds(&then, across)
			require.InDelta(t, float64(then.Best[0].PieceRate-now.Best[0].PieceRate), float64(l.PieceRate), 1e-9, "%+v", l)
			require.InDelta(t, float64(high-low-(highNow-lowNow)), float64(l.Speeds), 1e-9, "%+v", l)
			require.InDelta(t, float64(then.Gap.High-then.Gap.Low-(now.Gap.High-now.Gap.Low)), float64(l.Gaps), 1e-9, "%+v", l)
			require.GreaterOrEqual(t, float64(l.PieceRate), -1e-9, "more room never costs: %+v", l)
			require.GreaterOrEqual(t, float64(l.Gaps), -1e-9, "%+v", l)
			buys := l.PieceRate > 0 || l.Speeds > 0 || l.Gaps > 0
			if buys {
				require.True(t, l.Binds, "%+v", l)
				bought[l.Side]++
			}
			// What buys nothing binds only if it is named as the limit of a way or of the batch.
			named := l.Side == line.BatchSide && slices.Contains([]string{"line.divider.hopper_capacity", "shift.mixer.high"}, l.Field) && largest(in) == l.Limit
			for _, way := range now.Ways {
				named = named || way.Across == across && (l.Side == line.SlowSide && names(way.LowLimit, l.Limit) || l.Side == line.FastSide && names(way.HighLimit, l.Limit))
			}
			if l.PieceRate >= 0 && l.Speeds >= 0 {
				require.Equal(t, buys || named, l.Binds, "%+v", l)
				bound[named && !buys]++
			}
		}
	}
	for _, side := range []line.LimitSide{line.SlowSide, line.FastSide, line.BatchSide, line.GapSide} {
		assert.Positive(t, bought[side], side)
	}
	assert.Positive(t, bound[true], "some are named, and a unit more is not enough")
}

// What it takes to find a window, and why there is none, is a fraction of a millisecond.
func BenchmarkWindow(b *testing.B) {
	s, cl := demo(b)
	long := s.Orders[0]
	long.Product.DwellLow, long.Product.DwellHigh, long.Product.HopperMax = unit.Minutes(12), unit.Minutes(13), unit.Minutes(90)
	long.Product.Name = "in conflict"
	for _, order := range append(s.Orders[:3:3], long) {
		b.Run(order.Product.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var err error
				if keptWindow, err = cl.Window(&order, &s.Shift, keptWindow.Ways[:0]); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

var keptWindow line.WindowResult

func BenchmarkPlanWithAim(b *testing.B) {
	s, cl := demo(b)
	for _, aim := range []line.AimFor{line.Fastest, line.MidDwell} {
		order := s.Orders[0]
		order.Aim = line.Aim{For: aim}
		b.Run(string(aim), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := cl.PlanInto(&kept, &order, &s.Shift, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// What limits a way is named on both sides, also where nothing but the step of the speed stands between it and its limit.
func TestEveryWayNamesItsLimits(t *testing.T) {
	for _, name := range []string{"demo.json", "alder.json"} {
		s := scenario(t, name)
		for _, order := range s.Orders {
			out, err := line.Window{Line: s.Line, Order: order, Shift: s.Shift}.Solve()
			require.NoError(t, err)
			require.NotEmpty(t, out.Ways)
			for _, w := range out.Ways {
				assert.NotEmpty(t, w.LowLimit, order.Product.Name)
				assert.NotEmpty(t, w.HighLimit, order.Product.Name)
			}
		}
	}
	// The roll stays 6 min at 23 1/3 strokes a minute: the wheel goes by halves.
	in := input(t, 1)
	out, err := line.Window(in).Solve()
	require.NoError(t, err)
	assert.Equal(t, "dwell", out.Ways[0].HighLimit)
	assert.Equal(t, unit.StrokeRate(23), out.Ways[0].High)
	for _, k := range out.Limits {
		if k.Field == "order.product.dwell_low" {
			assert.True(t, k.Binds)
		}
	}
}

// Batches are counted from the fewest to 31 more, as far as there are equal ones of whole pieces that the mixer takes.
func TestWaysByHand(t *testing.T) {
	for _, c := range []struct {
		pieces  int
		low     unit.Mass
		batches []int // and so many pieces in each
		each    []int
	}{
		{6, 0, []int{1, 2, 3, 6}, []int{6, 3, 2, 1}},
		{7, 0, []int{1, 2, 3, 4, 7}, []int{7, 4, 3, 2, 1}},
		{7, 110, []int{1, 2, 3}, []int{7, 4, 3}}, // a piece of dough is 45 g / (0.89 * 0.985) = 51.33 g, with 1 % of waste 51.85 g
		{1, 0, []int{1}, []int{1}},
	} {
		in := input(t, 0)
		in.Order.Pieces, in.Order.Spare, in.Shift.Mixer.Low, in.Shift.Mixer.Cycle = c.pieces, 0, c.low, 1
		in.Line.Divider.HopperLeast, in.Shift.Division = 0, 0.1
		out, err := line.Window(in).Solve()
		require.NoError(t, err)
		var batches, each []int
		for _, w := range out.Ways {
			batches, each = append(batches, w.Batches), append(each, w.PiecesPerBatch)
			assert.InDelta(t, float64(w.PiecesPerBatch)*45/(0.89*0.985)*1.01, float64(w.BatchDough), 1e-6, "dough of each")
			if steady := float64(w.PiecesPerBatch) * 60 / 2; w.Batches > 1 { // two across, a batch a second
				assert.InDelta(t, steady, float64(w.Steady), 1e-9)
			} else {
				assert.Zero(t, w.Steady, "nothing follows a single batch")
			}
		}
		assert.Equal(t, c.batches, batches, "%d pieces", c.pieces)
		assert.Equal(t, c.each, each, "%d pieces", c.pieces)
	}
	in := input(t, 0)
	in.Shift.Mixer.Low, in.Shift.Mixer.Cycle = 0, 1
	out, err := line.Window(in).Solve()
	require.NoError(t, err)
	for i, w := range out.Ways { // 6040 pieces, 313 kg of dough: two batches of at most 200 kg are the fewest, or as many as the time in the hopper takes
		assert.Equal(t, out.Ways[0].Batches+i, w.Batches)
		assert.Equal(t, (6040+w.Batches-1)/w.Batches, w.PiecesPerBatch)
	}
	assert.Len(t, out.Ways, 32)
}

// Every number across at which the dough was weighed is looked at: it has its ways, or it is said why it has none.
func TestWindowOfOtherNumbersAcross(t *testing.T) {
	in := input(t, 0)
	three, bread := in.Line.Divider.Lanes[0], in.Line.Divider.Lanes[1]
	three.Across = 3
	in.Line.Divider.Lanes = []line.Lanes{in.Line.Divider.Lanes[0], three, bread}
	in.Line.Controls, in.Line.Changing, in.Line.Belts, in.Order.Product.Fittings = nil, line.Changing{}, nil, nil
	in.Shift.Mixer.Low, in.Order.Product.HopperMax = 10_000, unit.Minutes(40)
	alone := in
	alone.Order.Product.Across = 3
	out, err := line.Window(in).Solve()
	require.NoError(t, err)
	own, err := line.Window(alone).Solve()
	require.NoError(t, err)
	ways := map[int][]line.WindowWay{}
	for _, w := range out.Ways {
		ways[w.Across] = append(ways[w.Across], w)
	}
	assert.Len(t, ways, 2, "bread is another dough")
	assert.NotEmpty(t, ways[2])
	for _, w := range own.Ways {
		if w.Across == 3 {
			require.NotEmpty(t, ways[3])
			assert.Equal(t, w, ways[3][0], "as if that were the product's own")
			ways[3] = ways[3][1:]
		}
	}
	assert.Empty(t, ways[3])
	assert.Empty(t, out.Closed)
	in.Order.Product.RateHigh = 33 // three across at 12 strokes a minute are 36 pieces; two across are in for 9 min at 31.1
	out, err = line.Window(in).Solve()
	require.NoError(t, err)
	for _, w := range out.Ways {
		assert.Equal(t, 2, w.Across)
	}
	require.Len(t, out.Closed, 1)
	assert.Equal(t, 3, out.Closed[0].Across)
	alone.Order.Product.RateHigh = 33
	_, err = alone.Solve()
	require.Error(t, err)
	assert.Equal(t, strings.TrimPrefix(err.Error(), "line-plan: "), out.Closed[0].Says)
}

// How narrow the last gap may be is what the sheet holds, or the rollers where that is not known; how wide, what still makes the turns.
func TestGapsByHand(t *testing.T) {
	for _, c := range []struct {
		order         int
		low           unit.Length
		limit, widest string
	}{
		{1, 3.25, "tear", "turns"}, // a sheet of 5 mm is 3.125 mm between the rollers, by quarters
		{2, 5.75, "tear", "turns"}, // 9 mm are 5.625 mm
		{3, 1, "rollers", "turns"}, // what it holds is not known
		{0, 0, "", ""},             // stamped, not moulded
	} {
		in := input(t, c.order)
		out, err := line.Window(in).Solve()
		require.NoError(t, err)
		assert.Equal(t, c.low, out.Gap.Low, "order %d", c.order)
		assert.Equal(t, []string{c.limit, c.widest}, []string{out.Gap.LowLimit, out.Gap.HighLimit}, "order %d", c.order)
		if c.low == 0 {
			assert.Zero(t, out.Gap)
			continue
		}
		wide := out.Gap.High
		in.Line.Moulder.GapHigh = wide - 0.5
		out, err = line.Window(in).Solve()
		require.NoError(t, err)
		assert.Equal(t, wide-0.5, out.Gap.High)
		assert.Equal(t, "rollers", out.Gap.HighLimit, "order %d: they open no wider", c.order)
	}
}

// A best point that water, weighing or rounding refuses says so, and no other: smaller batches are warmed more by the same mixer.
func TestBestPointThatIsRefused(t *testing.T) {
	refused, made := 0, 0
	for _, power := range []float64{16, 42} {
		in := input(t, 2)
		heat := *in.Order.Product.Heat
		heat.Power = unit.Kilowatts(power)
		in.Order.Product.Heat = &heat
		in.Order.Product.HopperMax, in.Shift.Mixer.Cycle = unit.Minutes(25), unit.Minutes(5)
		in.Order.Pieces, in.Order.Spare = 1503, 0 // 9 times 167, so that batches of 94 leave one piece over and those of 167 none
		out, err := line.Window(in).Solve()
		require.NoError(t, err, "%v kW", power)
		for _, p := range out.Best {
			asked := in
			asked.Order.Aim = line.Aim{For: p.Aim}
			_, err := asked.Solve()
			own, windowErr := line.Window(asked).Solve()
			require.NoError(t, windowErr)
			assert.Equal(t, err != nil, own.Conditions.Has(line.AimMissed), "%v kW, %s: %v", power, p.Aim, err)
			if err == nil {
				made++
				assert.Empty(t, p.Missed, "%v kW, %s", power, p.Aim)
				continue
			}
			text, is := strings.CutPrefix(p.Missed, "refused: ")
			assert.NotEmpty(t, text, "%v kW, %s: %v", power, p.Aim, err)
			assert.ErrorContains(t, err, text)
			if is {
				refused++
			}
		}
	}
	assert.Positive(t, refused)
	assert.Positive(t, made)
}

// The working comes out again by another parser, whatever limits the ways, with a step of the speed and without, across the product's number and others.
func TestWindowWorking(t *testing.T) {
	var workings []*reckon.Working
	rng := rand.New(rand.NewPCG(17, 2026))
	for n, shown := 0, 0; shown < 4 && n < 60; n++ {
		in := anyOrder(t, rng)
		if n%3 == 0 {
			in.Line.Divider.StrokeStep = 0
		}
		if n%4 == 0 {
			in.Order.Product.TearLimit = 0
		}
		if _, err := line.Window(in).Solve(); err != nil {
			continue
		}
		shown++
		_, w, err := reckon.Explain(line.Window(in))
		require.NoError(t, err)
		workings = append(workings, w)
		require.NoError(t, retrace(w), "%d", n)
	}
	outlinedBesideThePlan(t, "TestWindowWorking", workings...)
}

// A limit reads in the units of a person's choice.
func TestLimitsInUnits(t *testing.T) {
	in := input(t, 1)
	out, err := line.Window(in).Solve()
	require.NoError(t, err)
	seen := 0
	for i := range out.Limits {
		k := &out.Limits[i]
		stands, moved := k.In(unit.US)
		switch k.Field {
		case "line.divider.hopper_capacity":
			seen++
			assert.Equal(t, []string{"160 kg", unit.Kilograms(160).In(unit.US), unit.Kilograms(161).In(unit.US)}, []string{k.Stands, stands, moved})
		case "order.product.turns":
			seen++
			assert.Equal(t, []string{"2.5", "2.4"}, []string{stands, moved})
		}
	}
	assert.Equal(t, 2, seen)

	in.Order.Product.HopperMax = unit.Minutes(2)
	out, err = line.Window(in).Solve()
	require.NoError(t, err)
	require.NotEmpty(t, out.Conflict)
	for i := range out.Conflict {
		k := &out.Conflict[i]
		stands, needs, by := k.In(unit.Metric)
		assert.Equal(t, []string{k.Stands, k.By}, []string{stands, by})
		assert.Equal(t, k.Needs == "", needs == "")
		if k.Field == "shift.mixer.low" {
			stands, _, _ = k.In(unit.US)
			assert.Equal(t, unit.Kilograms(40).In(unit.US), stands)
		}
	}
	// As read from JSON it holds only its texts.
	bare := line.WindowLimit{Stands: "160 kg", Moved: "161 kg"}
	stands, moved := bare.In(unit.US)
	assert.Equal(t, []string{"160 kg", "161 kg"}, []string{stands, moved})
	none := line.WindowConflict{Stands: "2 min", Needs: "180 s", By: "1 min more"}
	stands, needs, by := none.In(unit.US)
	assert.Equal(t, []string{"2 min", "180 s", "1 min more"}, []string{stands, needs, by})
}
