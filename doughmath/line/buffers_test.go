package line_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// The first mixing of these orders starts at five.
const five = 5 * 3600

// byHand is an order that the head can follow, on a line at 20 strokes a minute, two by two: 3 s a stroke. A batch is mixed for 10 min every 5 min,
// stands 5 min on the floor, and a piece stays 7 min in the overhead proofer, 20 min in racks of 100, and 4 min on one of two decks, which then
// take a minute to be loaded again.
func byHand(t *testing.T, batches, pieces int) line.Clock {
	t.Helper()
	in := round100(t)
	in.Order.Pieces = batches * pieces
	in.Shift.Mixer.Mixing, in.Shift.Mixer.Cycle, in.Shift.Mixer.High = 600, 300, unit.Mass(100*pieces)
	p := &in.Order.Product
	p.FloorTime, p.PerCarrier, p.FinalStay, p.RateHigh, p.DwellHigh = 300, 100, 1200, 0, 600
	p.Baking = line.Baking{Time: 240, PerLoad: 100}
	in.Line.Oven = line.Oven{Kind: line.DeckOven, Places: 2, Loading: 60}
	in.Line.FinalProof = line.FinalProof{Carrier: proof.CarrierRack, Handling: 300}
	plan, err := in.Solve()
	require.NoError(t, err)
	require.Equal(t, []int{batches, pieces}, []int{plan.Batch.Batches, plan.Batch.PiecesPerBatch})
	return line.Clock{Line: in.Line, Order: in.Order, Shift: in.Shift, Start: five}
}

// holdsBuffersByHand holds what stands at each station: times count from the first mixing.
func holdsBuffersByHand(t *testing.T, got, want []line.Buffer) {
	t.Helper()
	if !assert.Len(t, got, len(want)) {
		return
	}
	for i, w := range want {
		g := got[i]
		assert.Equal(t, w.Station, g.Station)
		assert.Equal(t, w.Most, g.Most, "%s: most", w.Station)
		assert.InDelta(t, float64(w.MostAt)+five, float64(g.MostAt), 1e-6, "%s: when", w.Station)
		assert.InDelta(t, w.Mean, g.Mean, 1e-6, "%s: mean", w.Station)
		assert.InDelta(t, float64(w.MeanStay), float64(g.MeanStay), 1e-6, "%s: stay", w.Station)
	}
}

// Two batches of 200 pieces, where nothing waits: 100 strokes are 300 s. The first piece is cut after 900 s and the last after 1497 s, they are out 420 s
// later, and the racks are full after 1467, 1617, 1767 and 1917 s, proofed after 2667, 2817, 2967 and 3117 s, and go into the oven then.
// The mean number is the pieces times their mean stay, over the time from the first coming to the last going (Little's law).
func TestBuffersByHand(t *testing.T) {
	q := byHand(t, 2, 200)
	q.Levels = true
	out, err := q.Solve()
	require.NoError(t, err)
	holdsBuffersByHand(t, out.Buffers, []line.Buffer{
		{Station: "mixer", Most: 400, MostAt: 300, Mean: 400 * 600 / 900.0, MeanStay: 600}, // the second batch is in before the first is out
		{Station: "floor", Most: 200, MostAt: 600, Mean: 400 * 300 / 600.0, MeanStay: 300},
		{Station: "hopper", Most: 200, MostAt: 900, Mean: 400 * 148.5 / 597, MeanStay: 148.5}, // 0 to 99 strokes
		{Station: "overhead proofer", Most: 280, MostAt: 900 + 139*3, Mean: 400 * 420 / 1017.0, MeanStay: 420},
		{Station: "rack being filled", Most: 100, MostAt: 1467, Mean: 400 * 73.5 / 597, MeanStay: 73.5}, // 49 to 0 strokes
		{Station: "final proof", Most: 400, MostAt: 1917, Mean: 400 * 1200 / 1650.0, MeanStay: 1200},
		{Station: "oven", Most: 200, MostAt: 2817, Mean: 400 * 240 / 690.0, MeanStay: 240},
	})
	assert.Empty(t, out.Findings)
	// A rack is taken as the one before it is full, and back 5 min after it is unloaded.
	assert.Equal(t, 4, out.Racks.Most)
	assert.InDelta(t, five+1767, float64(out.Racks.MostAt), 1e-6)
	var levels [][2]float64
	for _, l := range out.Racks.Levels {
		levels = append(levels, [2]float64{float64(l.At) - five, float64(l.Racks)})
	}
	assert.Equal(t, [][2]float64{{1320, 1}, {1467, 2}, {1617, 3}, {1767, 4}, {2967, 3}, {3117, 2}, {3267, 1}, {3417, 0}}, levels)

	// A rack that is baked in is back 5 min after that.
	q.Line.Oven.Kind = line.RackOven
	out, err = q.Solve()
	require.NoError(t, err)
	assert.InDelta(t, five+3117+240+300, float64(out.Racks.Levels[len(out.Racks.Levels)-1].At), 1e-6)
	q.Line.FinalProof.Available = 2 // while one is filled the other is away for 1200 + 240 + 300 s: 100 pieces in 29 min
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Contains(t, out.Findings[0].Mend, "run no faster than 3.44 pieces/min")
	q.Line.FinalProof.Available = 0
	q.Line.Oven.Kind = line.DeckOven

	for _, c := range []struct {
		available, short int
		from             unit.Duration
	}{{4, 0, 0}, {3, 1, five + 1767}, {2, 2, five + 1617}} {
		q.Line.FinalProof.Available = c.available
		out, err = q.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.short, out.Racks.ShortBy, "%d racks", c.available)
		assert.InDelta(t, float64(c.from), float64(out.Racks.ShortFrom), 1e-6)
		assert.Equal(t, c.short > 0, out.Conditions.Has(line.RacksShort))
		assert.Equal(t, c.short > 0, len(out.Findings) == 1)
	}
	assert.Equal(t, "up to 4 are taken at once and there are 2: from 5:27 the line waits for racks", out.Findings[0].Says) // 1617 s are 27 min

	// What is where, moment by moment.
	for _, c := range []struct {
		at       unit.Duration
		stations []line.Station
		of123    string // where the piece with that number is
	}{
		{-1, nil, "not mixed yet"},
		{0, []line.Station{{Station: "mixer", FirstPiece: 1, LastPiece: 200}}, "mixer"},
		{599, []line.Station{{Station: "mixer", FirstPiece: 1, LastPiece: 400}}, "mixer"},
		{600, []line.Station{{Station: "floor", FirstPiece: 1, LastPiece: 200}, {Station: "mixer", FirstPiece: 201, LastPiece: 400}}, "floor"},
		// 101 pairs are cut after 300 s.
		{1200, []line.Station{{Station: "overhead proofer", FirstPiece: 1, LastPiece: 202}, {Station: "hopper", FirstPiece: 203, LastPiece: 400}}, "overhead proofer"},
		// 61 pairs are out, and the first rack is full.
		{1500, []line.Station{
			{Station: "final proof", FirstPiece: 1, LastPiece: 100}, {Station: "rack being filled", FirstPiece: 101, LastPiece: 122}, {Station: "overhead proofer", FirstPiece: 123, LastPiece: 400},
		}, "overhead proofer"},
		{1503, []line.Station{
			{Station: "final proof", FirstPiece: 1, LastPiece: 100}, {Station: "rack being filled", FirstPiece: 101, LastPiece: 124}, {Station: "overhead proofer", FirstPiece: 125, LastPiece: 400},
		}, "rack being filled"},
		{2817, []line.Station{{Station: "oven", FirstPiece: 1, LastPiece: 200}, {Station: "final proof", FirstPiece: 201, LastPiece: 400}}, "oven"},
		{3057, []line.Station{{Station: "oven", FirstPiece: 201, LastPiece: 300}, {Station: "final proof", FirstPiece: 301, LastPiece: 400}}, "baked"},
	} {
		q.At, q.Piece = five+c.at, 123
		out, err = q.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.stations, out.Stations, "after %v", c.at)
		assert.Equal(t, c.of123, out.Piece.Station, "after %v", c.at)
	}
}

// Pieces that proof one by one for 300 s: the first is out after 1320 s and goes 300 s later, when 100 pairs have come, the last of them 3 s before; and so many stay
// until the last has come.
func TestMostIsToldWhenItIsReached(t *testing.T) {
	q := byHand(t, 2, 200)
	q.Order.Product.Baking, q.Line.Oven = line.Baking{}, line.Oven{}
	q.Order.Product.FinalStay = 300
	q.Line.FinalProof.Carrier = proof.CarrierContinuous
	out, err := q.Solve()
	require.NoError(t, err)
	i := slices.IndexFunc(out.Buffers, func(b line.Buffer) bool { return b.Station == "final proof" })
	require.GreaterOrEqual(t, i, 0)
	holdsBuffersByHand(t, out.Buffers[i:i+1], []line.Buffer{{Station: "final proof", Most: 200, MostAt: 1320 + 297, Mean: 400 * 300 / 897.0, MeanStay: 300}})
}

// Where two racks go into the oven together, the first stands before it until the second is proofed: from 2667 s for 150 s.
func TestRackThatWaitsForTheNext(t *testing.T) {
	q := byHand(t, 2, 200)
	q.Order.Product.Baking = line.Baking{Time: 540, PerLoad: 200}
	out, err := q.Solve()
	require.NoError(t, err)
	i := slices.IndexFunc(out.Buffers, func(b line.Buffer) bool { return b.Station == "before the oven" })
	require.GreaterOrEqual(t, i, 0)
	holdsBuffersByHand(t, out.Buffers[i:i+1], []line.Buffer{{Station: "before the oven", Most: 100, MostAt: 2667, Mean: 400 * 75 / 450.0, MeanStay: 75}})
}

// Two batches of 150 pieces, and the divider waits for 75 s between them: 75 strokes are 225 s. A piece meets that wait in the overhead proofer, so the first is out after
// 1395 s and the last 447 s later. A rack ends with its batch: 100, 50, 100 and 50 pieces are full after 1542, 1617, 1767 and 1842 s, proofed after 2742, 2817, 2967
// and 3042 s, and the decks are free again 300 s after they were loaded: two loads wait for 75 s.
func TestBuffersWhereTheDividerWaits(t *testing.T) {
	q := byHand(t, 2, 150)
	q.Levels = true
	out, err := q.Solve()
	require.NoError(t, err)
	var loads [][5]float64
	for _, l := range out.Loads {
		loads = append(loads, [5]float64{float64(l.FirstPiece), float64(l.LastPiece), float64(l.Ready) - five, float64(l.In) - five, float64(l.Out) - five})
	}
	assert.Equal(t, [][5]float64{{1, 100, 2742, 2742, 2982}, {101, 150, 2817, 2817, 3057}, {151, 250, 2967, 3042, 3282}, {251, 300, 3042, 3117, 3357}}, loads)
	holdsBuffersByHand(t, out.Buffers, []line.Buffer{
		{Station: "mixer", Most: 300, MostAt: 300, Mean: 300 * 600 / 900.0, MeanStay: 600},
		{Station: "floor", Most: 150, MostAt: 600, Mean: 300 * 300 / 600.0, MeanStay: 300},
		{Station: "hopper", Most: 150, MostAt: 900, Mean: 300 * 111 / 522.0, MeanStay: 111},                          // 0 to 74 strokes
		{Station: "overhead proofer", Most: 280, MostAt: 900 + 139*3 + 75, Mean: 300 * 457.5 / 942, MeanStay: 457.5}, // the wait for the first batch alone
		{Station: "rack being filled", Most: 100, MostAt: 1542, Mean: 300 * 61 / 447.0, MeanStay: 61},                // 100 for 73.5 s on average, 50 for 36 s
		{Station: "final proof", Most: 300, MostAt: 1842, Mean: 300 * 1200 / 1500.0, MeanStay: 1200},
		{Station: "before the oven", Most: 100, MostAt: 2967, Mean: 300 * 37.5 / 375, MeanStay: 37.5}, // half of them, for 75 s
		{Station: "oven", Most: 150, MostAt: 2817, Mean: 300 * 240 / 615.0, MeanStay: 240},
	})
	// The first rack of the second batch is not the one that the first batch left part-filled.
	assert.Equal(t, 4, out.Racks.Most)
	assert.InDelta(t, five+1767, float64(out.Racks.MostAt), 1e-6)
	// A rack stands ready as the one before is full; the first of a batch is taken with its first piece, 3 s after the last of the batch before.
	require.Greater(t, len(out.Racks.Levels), 4)
	for i, at := range []float64{1395, 1542, 1620, 1767} {
		assert.InDelta(t, five+at, float64(out.Racks.Levels[i].At), 1e-6)
		assert.Equal(t, i+1, out.Racks.Levels[i].Racks)
	}
	require.Len(t, out.Findings, 2)
	assert.Equal(t, line.Finding{
		At: "hopper", Says: "the divider waits for dough for 1 min 15 s after each batch but the last: the mixer gives a batch every 5 min and the divider scales it in 3 min 45 s",
		Mend: "let mixers or bowls take turns, so that a batch comes every 3 min 45 s",
	}, out.Findings[0])
	assert.Equal(t, "oven", out.Findings[1].At)
	assert.Contains(t, out.Findings[1].Says, "pieces that are proofed wait for it up to 1 min 15 s: a load goes in as there is room")
	// A third deck is free when the fourth load is ready.
	assert.Equal(t, "bake in 3 places, let no batch end with a part-filled rack, or allow a stay of 21 min 15 s in the final proof", out.Findings[1].Mend)

	for stay, told := range map[unit.Duration]string{1275: "", 1274: "up to 1 min 15 s, and 1 min 14 s is the most"} {
		q.Order.Product.Baking.StayMax = stay
		out, err = q.Solve()
		require.NoError(t, err)
		if told == "" {
			assert.Len(t, out.Findings, 1, "they may wait so long")
		} else if assert.Len(t, out.Findings, 2) {
			assert.Contains(t, out.Findings[1].Says, told)
		}
	}
}

// An oven that stands without pieces for more than a second is told: on one deck, a load of 100 pieces comes every 150 s.
func TestOvenThatStandsWithoutPieces(t *testing.T) {
	for _, c := range []struct {
		bake unit.Duration
		says string
		mend string
	}{
		{149, "", ""},
		{148.995, "it stands without pieces 3 times, up to 1.005 s, first at 5:47: a load of 100 pieces takes 2 min 30 s to make and", "make loads of at most 99 pieces, or run at 40.27 pieces/min or more"},
		// 40 pieces a minute make 80 in 2 min, and 100 in 2 min are 50 a minute.
		{120, "it stands without pieces 3 times, up to 30 s, first at 5:46: a load of 100 pieces takes 2 min 30 s to make and 2 min to bake", "make loads of at most 80 pieces, or run at 50 pieces/min or more"},
	} {
		q := byHand(t, 2, 200)
		q.Order.Product.Baking.Time, q.Line.Oven.Places, q.Line.Oven.Loading = c.bake, 1, 0
		out, err := q.Solve()
		require.NoError(t, err)
		if c.says == "" {
			assert.Empty(t, out.Findings)
			continue
		}
		require.Len(t, out.Findings, 1)
		assert.Contains(t, out.Findings[0].Says, c.says)
		assert.Equal(t, c.mend, out.Findings[0].Mend)
	}
}

// In a proofer that moves all the time nothing is filled: each piece is proofed for itself, and of the 100 of a load the last two go straight on into the oven.
func TestBuffersWithoutRacks(t *testing.T) {
	q := byHand(t, 2, 200)
	q.Line.FinalProof = line.FinalProof{Carrier: proof.CarrierContinuous}
	out, err := q.Solve()
	require.NoError(t, err)
	holdsBuffersByHand(t, out.Buffers, []line.Buffer{
		{Station: "mixer", Most: 400, MostAt: 300, Mean: 400 * 600 / 900.0, MeanStay: 600},
		{Station: "floor", Most: 200, MostAt: 600, Mean: 400 * 300 / 600.0, MeanStay: 300},
		{Station: "hopper", Most: 200, MostAt: 900, Mean: 400 * 148.5 / 597, MeanStay: 148.5},
		{Station: "overhead proofer", Most: 280, MostAt: 900 + 139*3, Mean: 400 * 420 / 1017.0, MeanStay: 420},
		{Station: "final proof", Most: 400, MostAt: 1917, Mean: 400 * 1200 / 1797.0, MeanStay: 1200},
		{Station: "before the oven", Most: 98, MostAt: 2667 - 3, Mean: 400 * 73.5 / 597, MeanStay: 73.5}, // 49 to 0 strokes
		{Station: "oven", Most: 200, MostAt: 2817, Mean: 400 * 240 / 690.0, MeanStay: 240},
	})
}

// Racks of 133 for 400 pieces: the fourth is there for the last piece as the third is full, with piece 399 out of the 200th row, and the first is not back by then.
func TestWhenTheLastRackIsTaken(t *testing.T) {
	q := byHand(t, 2, 200)
	q.Order.Product.PerCarrier, q.Order.Product.Baking.PerLoad = 133, 133
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, 4, out.Racks.Most)
	assert.InDelta(t, five+900+3*199+420, float64(out.Racks.MostAt), 1e-6)
}

// An order of a single load of 100 pieces: 50 strokes, out after 420 s, full at 1467 s, proofed at 2667 s and in for 240 s, all of them together.
func TestBuffersOfOneLoad(t *testing.T) {
	out, err := byHand(t, 1, 100).Solve()
	require.NoError(t, err)
	oven := out.Buffers[len(out.Buffers)-1]
	assert.Equal(t, "oven", oven.Station)
	assert.Equal(t, 100, oven.Most)
	assert.InDelta(t, five+2667, float64(oven.MostAt), 1e-6)
	assert.InDelta(t, 240, float64(oven.MeanStay), 1e-6)
	assert.InDelta(t, 100, oven.Mean, 1e-6)
}

// A tunnel oven that the order is not planned for is no station of it.
func TestBuffersBesideATunnel(t *testing.T) {
	q := byHand(t, 2, 200)
	q.Line.Oven, q.Order.Product.Baking = line.Oven{}, line.Baking{}
	want, err := q.Solve()
	require.NoError(t, err)
	q.Line.Oven = line.Oven{Kind: line.TunnelOven, Belt: 24_000}
	got, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, want.Buffers, got.Buffers)
	assert.Equal(t, want.Racks, got.Racks)
}
