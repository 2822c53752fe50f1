package line_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// baked is the demo's loaves, a full rack at a time into a rack oven.
func baked(t testing.TB) line.Clock {
	t.Helper()
	q := clock(t, 2)
	q.Line.Oven = line.Oven{Kind: line.RackOven, Places: 7, Loading: unit.Minutes(2)}
	q.Shift.Mixer.Cycle = unit.Minutes(5)
	q.Order.Pieces, q.Order.Spare = 950, 10 // ten full racks
	q.Order.Product.Baking = line.Baking{Time: unit.Minutes(35), PerLoad: 96}
	return q
}

// A piece is at the station whose pieces it is among, at any moment, and no piece is at two.
func TestClockSaysWhereAPieceIs(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 13))
	seen := map[string]bool{}
	for range 25 {
		q := randomClock(t, r)
		out, err := q.Solve()
		if err != nil {
			continue
		}
		made := out.Batches[len(out.Batches)-1]
		last := int(0)
		for range 12 {
			q.At = q.Start + unit.Duration(r.Float64()*1.2)*(made.LastOven-q.Start+unit.Minutes(30))
			q.Piece = 1 + r.IntN(q.Order.Pieces)
			out, err := q.Solve()
			require.NoError(t, err)
			at := ""
			for i, s := range out.Stations {
				assert.LessOrEqual(t, s.FirstPiece, s.LastPiece)
				if i > 0 {
					assert.Equal(t, out.Stations[i-1].LastPiece+1, s.FirstPiece, "one after the other, the oven first")
				}
				if s.FirstPiece <= q.Piece && q.Piece <= s.LastPiece {
					at = s.Station
				}
				seen[s.Station] = true
				last = max(last, s.LastPiece)
			}
			switch out.Piece.Station {
			case "not mixed yet", "baked":
				assert.Empty(t, at)
			default:
				assert.Equal(t, at, out.Piece.Station, "piece %d at %v", q.Piece, q.At)
			}
			seen[out.Piece.Station] = true
		}
	}
	for _, s := range []string{"not mixed yet", "mixer", "floor", "hopper", "overhead proofer", "rack being filled", "final proof", "before the oven", "oven", "baked"} {
		assert.True(t, seen[s], s)
	}
	// Without an oven it ends where pieces are proofed.
	q := clock(t, 0)
	q.Line.Oven, q.Order.Product.Baking = line.Oven{}, line.Baking{}
	q.Piece, q.At = 1, unit.Hours(12)
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "proofed", out.Piece.Station)
	assert.Empty(t, out.Stations)
}

func finding(t *testing.T, q line.Clock, at string) line.Finding {
	t.Helper()
	out, err := q.Solve()
	require.NoError(t, err)
	i := slices.IndexFunc(out.Findings, func(f line.Finding) bool { return f.At == at })
	require.GreaterOrEqual(t, i, 0, "%v", out.Findings)
	return out.Findings[i]
}

func findings(t *testing.T, q line.Clock) []line.Finding {
	t.Helper()
	out, err := q.Solve()
	require.NoError(t, err)
	return out.Findings
}

// Where the oven has room and racks are full nothing is found. What is found is gone when it is mended as it says.
func TestClockFindingsAreMended(t *testing.T) {
	assert.Empty(t, findings(t, baked(t)))

	// A part-filled rack comes while the places are taken.
	q := baked(t)
	q.Line.Oven.Places, q.Line.Oven.Loading = 6, 0
	q.Order.Product.Baking.Time = unit.Minutes(36) // a rack every 6 min
	q.Order.Pieces = 920
	f := finding(t, q, "oven")
	assert.Equal(t, "pieces that are proofed wait for it up to 1 min 53 s: a load goes in as there is room, and it was ready sooner than the ones before it let it in", f.Says)
	assert.Equal(t, "bake in 7 places, let no batch end with a part-filled rack, or allow a stay of 56 min 53 s in the final proof", f.Mend)
	mended := q
	mended.Line.Oven.Places = 7
	assert.Empty(t, findings(t, mended))
	mended = q
	mended.Order.Product.Baking.StayMax = unit.Minutes(56) + 53
	assert.Empty(t, findings(t, mended))
	mended.Order.Product.Baking.StayMax = unit.Minutes(56) + 52
	assert.Contains(t, finding(t, mended, "oven").Says, "and 1 min 52 s is the most")
	mended = q
	mended.Order.Pieces = 950
	assert.Empty(t, findings(t, mended))

	// A last load of one piece goes in like any other.
	q = baked(t)
	q.Line.Oven.Kind, q.Order.Product.Baking.PerLoad = line.DeckOven, 137 // seven times that are 959 of the 960
	out, err := q.Solve()
	require.NoError(t, err)
	require.Len(t, out.Loads, 8)
	assert.Equal(t, [2]int{960, 960}, [2]int{out.Loads[7].FirstPiece, out.Loads[7].LastPiece})

	// Loads that take longer to make than to bake leave the oven empty.
	q = baked(t)
	q.Order.Product.Baking.PerLoad, q.Order.Product.Baking.Time = 192, unit.Minutes(9)
	f = finding(t, q, "oven")
	assert.Equal(t, "it stands without pieces 4 times, up to 3 min, first at 6:56: a load of 192 pieces takes 12 min to make and 9 min to bake", f.Says)
	assert.Equal(t, "make loads of at most 144 pieces, or run at 21.34 pieces/min or more", f.Mend)
	q.Order.Product.Baking.PerLoad = 96
	assert.Empty(t, findings(t, q))

	// Where the divider waits, the oven is without pieces too, and a batch in time mends both.
	q = waiting(t)
	q.Order.Product.Baking = line.Baking{Time: unit.Minutes(20), PerLoad: 432}
	q.Line.Oven = line.Oven{Kind: line.RackOven, Places: 4}
	f = finding(t, q, "oven")
	assert.Contains(t, f.Says, "the mixer gives a batch every 40 min")
	assert.Equal(t, finding(t, q, "hopper").Mend, f.Mend)
	p, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "let mixers or bowls take turns, so that a batch comes every "+p.Times.BatchScaling.String(), f.Mend)
	q.Shift.Mixer.Cycle = p.Times.BatchScaling
	for _, f := range findings(t, q) {
		assert.NotContains(t, f.Says, "waits for dough")
		assert.NotContains(t, f.Says, "without pieces")
	}

	// Racks that are wanting: as many as it says are enough, and so is the rate.
	q = baked(t)
	q.Line.FinalProof.Available = 8
	f = finding(t, q, "racks")
	require.True(t, strings.HasPrefix(f.Says, "up to "), f.Says)
	out, err = q.Solve()
	require.NoError(t, err)
	q.Line.FinalProof.Available = out.Racks.Most
	assert.Empty(t, findings(t, q))
	q.Line.FinalProof.Available--
	assert.Len(t, findings(t, q), 1)
}

// A preferment that keeps is made in lots, each ripe for its first batch and none too old for its last.
func TestClockLots(t *testing.T) {
	q := clock(t, 1)
	q.Shift.Mixer.High = unit.Kilograms(60)
	mixes := slices.Clone(q.Order.Product.PrefermentMixes)
	q.Order.Product.PrefermentMixes = mixes
	for _, keeps := range []unit.Duration{60, unit.Minutes(25), unit.Hours(3)} {
		mixes[0].Keeps = keeps
		out, err := q.Solve()
		require.NoError(t, err)
		next := 1
		for i, k := range out.Lots {
			assert.Equal(t, next, k.FirstBatch, "every batch has its lot")
			next = k.LastBatch + 1
			ripe := k.Start + unit.Minutes(188)
			assert.InDelta(t, float64(out.Batches[k.FirstBatch-1].Mix), float64(ripe), 1e-6)
			assert.LessOrEqual(t, out.Batches[k.LastBatch-1].Mix-ripe, keeps+1e-6)
			if i+1 < len(out.Lots) {
				assert.Greater(t, out.Batches[k.LastBatch].Mix-ripe, keeps, "one batch more would be too late")
			}
		}
		assert.Equal(t, len(out.Batches)+1, next)
		for _, b := range out.Batches {
			assert.Empty(t, b.Preferments)
		}
		assert.InDelta(t, float64(q.Start-unit.Minutes(188)), float64(out.Earliest), 1e-6)
		assert.True(t, out.Cautions.Has(reckon.Spoilage))
	}
	// A soaker overnight is started the day before.
	q = clock(t, 0)
	q.Order.Product.Preferments = []doughmath.Preferment{{
		Name: "soaker", Amount: 4, Reading: doughmath.FlourOnFlour,
		Parts: []doughmath.PrefermentPart{{Name: q.Order.Product.Formula[0].Name, Percent: 100}, {Name: "water", Percent: 100}},
	}}
	q.Order.Product.PrefermentMixes = []line.PrefermentMix{{Name: "soaker", Mixing: unit.Minutes(15), Ripening: unit.Hours(12), Keeps: unit.Hours(6)}}
	q.Order.Product.Heat = nil
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []line.PrefermentLot{{Name: "soaker", Start: unit.Hours(5) - unit.Minutes(735), FirstBatch: 1, LastBatch: len(out.Batches)}}, out.Lots)
	assert.Negative(t, float64(out.Earliest))
}

// More than can be followed is refused by name.
func TestClockBounds(t *testing.T) {
	for _, c := range []struct {
		id, field string
		spoil     func(*line.Clock)
	}{
		{"loads", "order.product.baking.per_load", func(q *line.Clock) {
			q.Line.Oven = line.Oven{Kind: line.DeckOven, Places: 1000}
			q.Order.Product.Baking.PerLoad, q.Order.Pieces = 1, 12_000
		}},
		{"racks", "order.product.per_carrier", func(q *line.Clock) {
			q.Line.Oven, q.Order.Product.Baking = line.Oven{}, line.Baking{}
			q.Order.Product.PerCarrier, q.Order.Pieces = 1, 120_000
		}},
		{"levels", "levels", func(q *line.Clock) {
			q.Line.Oven, q.Order.Product.Baking = line.Oven{}, line.Baking{}
			q.Order.Product.PerCarrier, q.Order.Pieces, q.Levels = 1, 12_000, true
		}},
		{"far away", "at", func(q *line.Clock) { q.At = unit.Hours(241) }},
	} {
		q := baked(t)
		c.spoil(&q)
		_, err := q.Solve()
		list := reckon.InputErrors(err)
		if assert.Len(t, list, 1, c.id) {
			assert.Equal(t, c.field, list[0].Field, c.id)
		}
	}
}

// Every step of a working with an oven, from any of the three times, comes out again by another parser.
func TestClockWorkingWithAnOven(t *testing.T) {
	var workings []*reckon.Working
	for _, kind := range []line.OvenKind{line.DeckOven, line.RackOven, line.TunnelOven} {
		for _, q := range []line.Clock{baked(t), waiting(t)} {
			q.Order.Product.Baking.PerLoad = 2 * q.Order.Product.PerCarrier
			q.Order.Product.Baking.Time = unit.Minutes(14)
			q.Line.Oven = line.Oven{Kind: kind, Places: 3, Loading: unit.Minutes(1)}
			if kind == line.TunnelOven {
				q.Line.Oven = line.Oven{Kind: kind, Belt: 20_000}
				q.Order.Product.Baking.PerLoad *= 2
			}
			q.Piece = 300
			for _, from := range []line.Clock{{Start: unit.Hours(5)}, {OvenAt: unit.Hours(8)}, {FinishAt: unit.Hours(30)}} {
				q.Start, q.OvenAt, q.FinishAt = from.Start, from.OvenAt, from.FinishAt
				out, w, err := reckon.Explain(q)
				require.NoError(t, err)
				workings = append(workings, w)
				require.NoError(t, retrace(w))
				switch {
				case q.OvenAt != 0:
					assert.InDelta(t, float64(q.OvenAt), float64(out.FirstOven), 1e-6)
				case q.FinishAt != 0:
					assert.InDelta(t, float64(q.FinishAt), float64(out.LastOven), 1e-6)
				}
			}
		}
	}
	outlinedBesideThePlan(t, "TestClockWorkingWithAnOven", workings...)
}
