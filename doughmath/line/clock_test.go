package line_test

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
	"example.com/dough/testdata"
)

func clock(t testing.TB, order int) line.Clock {
	t.Helper()
	s, _ := demo(t)
	return line.Clock{Line: s.Line, Order: s.Orders[order], Shift: s.Shift, Start: unit.Hours(5)}
}

// waiting is an order of the demo for which the divider waits between batches.
func waiting(t testing.TB) line.Clock {
	t.Helper()
	q := clock(t, 0)
	q.Line.Oven, q.Order.Product.Baking = line.Oven{}, line.Baking{}
	q.Order.Product.HopperMax, q.Shift.Mixer.Cycle, q.Shift.Mixer.High = unit.Minutes(70), unit.Minutes(40), 40_500
	q.Order.Product.DwellHigh = unit.Minutes(40)
	return q
}

// The clock is the plan's times moved to the wall.
func TestClockIsThePlans(t *testing.T) {
	for order := range 4 {
		q := clock(t, order)
		out, err := q.Solve()
		require.NoError(t, err)
		p, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
		require.NoError(t, err)
		first, last := out.Batches[0], out.Batches[len(out.Batches)-1]
		assert.Len(t, out.Batches, p.Batch.Batches)
		beat := 60 / float64(p.Strokes)
		for words, k := range map[string]struct {
			delta     float64
			want, got unit.Duration
		}{
			"first stroke": {1e-6, p.Times.FirstStroke, first.FirstCut}, "tipped then": {1e-6, p.Times.FirstStroke, first.Tip},
			"last mix": {1e-6, p.Times.LastMix, last.Mix}, "last stroke": {1e-6, p.Times.LastStroke, last.LastCut},
			"first out": {beat, p.Times.FirstOut, first.FirstOut}, "last out": {beat, p.Times.LastOut, last.LastOut},
		} {
			assert.InDelta(t, float64(k.want), float64(k.got-q.Start), k.delta, "order %d: %s", order, words)
		}
		assert.Equal(t, p.StrokesLimit, out.Bottleneck)
		assert.Empty(t, out.Findings)
		for i, b := range out.Batches[1:] {
			assert.Less(t, b.FirstCut-out.Batches[i].LastCut, unit.Duration(2*beat), "nothing waits")
			assert.GreaterOrEqual(t, b.FirstCut, b.Tip-unit.Duration(beat), "no batch is scaled before it is there")
		}
	}
}

// Pieces followed pocket by pocket come out when the clock says, to the stroke, with waits between batches and without.
func TestClockAgainstThePockets(t *testing.T) {
	waits := false
	for _, q := range []line.Clock{clock(t, 0), clock(t, 2), waiting(t)} {
		out, err := q.Solve()
		require.NoError(t, err)
		p, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
		require.NoError(t, err)
		waits = waits || p.Times.BatchWait > 0
		run := proof.Run{Proofer: q.Line.Proofer, Across: q.Order.Product.Across, Strokes: p.Strokes, Pieces: p.Batch.PiecesMade}
		if p.Times.BatchWait > 0 {
			for i := 1; i < p.Batch.Batches; i++ {
				stop := float64(i)*float64(p.Times.BatchScaling) + float64(i-1)*float64(p.Times.BatchWait) - 1e-3
				run.Acts = append(run.Acts, proof.Act{At: unit.Duration(stop), Do: proof.ActStop}, proof.Act{At: unit.Duration(stop) + p.Times.BatchWait, Do: proof.ActStart})
			}
		}
		got, err := run.Solve()
		require.NoError(t, err)
		beat := 60 / float64(p.Strokes)
		zero := out.Batches[0].FirstCut
		last := out.Batches[len(out.Batches)-1]
		assert.InDelta(t, float64(got.FirstOut), float64(out.Batches[0].FirstOut-zero), beat)
		assert.InDelta(t, float64(got.LastIn), float64(last.LastCut-zero), 0.01)
		assert.InDelta(t, float64(got.LastOut), float64(last.LastOut-zero), beat)
		assert.Equal(t, p.Batch.PiecesMade, got.PiecesOut)
	}
	assert.True(t, waits)
}

// Whichever time is given, the others follow.
func TestClockFromEitherEnd(t *testing.T) {
	q := clock(t, 1)
	out, err := q.Solve()
	require.NoError(t, err)
	for _, from := range []line.Clock{{OvenAt: out.FirstOven}, {FinishAt: out.LastOven}} {
		from.Line, from.Order, from.Shift = q.Line, q.Order, q.Shift
		again, err := from.Solve()
		require.NoError(t, err)
		assert.InDelta(t, float64(q.Start), float64(again.Start), 1e-6)
		assert.InDelta(t, float64(out.LastOven), float64(again.LastOven), 1e-6)
	}
	// The sponge of the first batch takes 8 min to mix and 3 h to ripen.
	assert.Equal(t, []line.PrefermentDue{{Name: "sponge", Start: q.Start - unit.Minutes(188)}}, out.Batches[0].Preferments)
	assert.Equal(t, q.Start-unit.Minutes(188), out.Earliest)
	q.Start = unit.Hours(2)
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Negative(t, float64(out.Earliest), "the evening before")
}

// Where the divider waits, the clock says so at the hopper and at the oven, and why.
func TestClockSaysWhatWaits(t *testing.T) {
	q := waiting(t)
	out, err := q.Solve()
	require.NoError(t, err)
	p, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	require.NoError(t, err)
	require.Positive(t, float64(p.Times.BatchWait))
	require.Len(t, out.Findings, 2)
	assert.Equal(t, "hopper", out.Findings[0].At)
	assert.Contains(t, out.Findings[0].Says, p.Times.BatchWait.String()+" after each batch but the last: the mixer gives a batch every 40 min")
	assert.Equal(t, "oven", out.Findings[1].At)
	assert.True(t, out.Conditions.Has(reckon.RateLimited))
	beat := 60 / float64(p.Strokes)
	for i, b := range out.Batches[1:] {
		assert.InDelta(t, 40*60, float64(b.LastCut-out.Batches[i].LastCut), 2*beat, "the wait among them")
		assert.InDelta(t, 40*60, float64(b.Mix-out.Batches[i].Mix), 1e-9)
		assert.InDelta(t, 40*60, float64(b.FirstOven-out.Batches[i].FirstOven), 2*beat, "each batch starts a rack of its own")
	}
	// Dough that waits for the mixer longer than it may: the head, 6 kg, is cut and the tail stands as the next until the cycle is over.
	q.Order.Product.HopperMax = unit.Minutes(40)
	stands, err := q.Solve()
	require.NoError(t, err)
	p, err = line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 40*60+6000*3.6/float64(p.Rate.DoughRate), float64(p.Hopper.Time), 1e-6)
	require.Len(t, stands.Findings, 3)
	assert.Equal(t, line.Finding{
		At: "hopper", Says: "dough stands there up to " + p.Hopper.Time.String() + ", longer than 40 min: a batch of " + strconv.Itoa(p.Batch.PiecesPerBatch) + " pieces is scaled in " + p.Times.BatchScaling.String(),
		Mend: "make smaller batches, or run faster",
	}, stands.Findings[1])
	q = clock(t, 0)
	q.Line.FinalProof.Available = 5
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []line.Finding{{
		At: "racks", Says: "up to 9 are taken at once and there are 5: from 5:56 the line waits for racks",
		Mend: "have 9, or run no faster than 30.31 pieces/min",
	}}, out.Findings)
	assert.True(t, out.Conditions.Has(line.RacksShort))
	assert.Equal(t, 4, out.Racks.ShortBy)
}

// A piece is followed from the divider to the oven; its rack goes when it is full.
func TestClockFollowsAPiece(t *testing.T) {
	q := clock(t, 0)
	for _, c := range []struct{ piece, batch, rack int }{{1, 1, 432}, {432, 1, 432}, {433, 1, 864}, {1208, 1, 1296}, {1209, 2, 1296}, {6040, 5, 6040}} {
		q.Piece = c.piece
		out, err := q.Solve()
		require.NoError(t, err)
		// Two across at 28 strokes a minute, 5 min in the proofer, from 12 min after the start.
		cut := float64(q.Start) + 12*60 + float64((c.piece-1)/2)*60/28
		full := float64(q.Start) + 12*60 + float64((c.rack-1)/2)*60/28 + 300
		assert.Equal(t, c.batch, out.Piece.Batch)
		for i, k := range []struct{ want, got float64 }{{cut, float64(out.Piece.Cut)}, {cut + 300, float64(out.Piece.Out)}, {full, float64(out.Piece.Full)}, {full + 45*60, float64(out.Piece.Oven)}} {
			assert.InDelta(t, k.want, k.got, 1e-6, "piece %d, moment %d", c.piece, i)
		}
	}
	q.Line.Oven, q.Order.Product.Baking = line.Oven{}, line.Baking{}
	q.Order.Product.PerCarrier, q.Order.Product.FinalStay, q.Piece = 0, 0, 7
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, out.Piece.Out, out.Piece.Oven, "no final proof is planned")
}

func TestClockRefuses(t *testing.T) {
	for _, c := range []struct {
		id    string
		spoil func(*line.Clock)
		field string
	}{
		{"no time", func(q *line.Clock) { q.Start = 0 }, "start"},
		{"two times", func(q *line.Clock) { q.FinishAt = 100 }, "start"},
		{"too late", func(q *line.Clock) { q.Start = unit.Hours(49) }, "start"},
		{"before midnight", func(q *line.Clock) { q.Start = -1 }, "start"},
		{"no number", func(q *line.Clock) { q.Start = unit.Duration(math.NaN()) }, "start"},
		{"no such piece", func(q *line.Clock) { q.Piece = 6041 }, "piece"},
		{"less than one", func(q *line.Clock) { q.Piece = -1 }, "piece"},
		{"the order", func(q *line.Clock) { q.Order.Pieces = 0 }, "order.pieces"},
		{"too many batches", func(q *line.Clock) {
			q.Order.Pieces, q.Shift.Mixer = 300_000, line.Mixer{High: 10_000, Mixing: 60, Cycle: 60}
		}, "order.pieces"},
	} {
		q := clock(t, 0)
		c.spoil(&q)
		_, err := q.Solve()
		list := reckon.InputErrors(err)
		if assert.Len(t, list, 1, c.id) {
			assert.Equal(t, c.field, list[0].Field, c.id)
			assert.Equal(t, "line-clock", list[0].Func, c.id)
		}
	}
}

// Times may be as early and as late as they are said to be, and the last piece that is made can be followed.
func TestClockBoundsOfTimes(t *testing.T) {
	for _, at := range []float64{-48, 240} {
		q := clock(t, 0)
		q.At = unit.Hours(at)
		assert.Empty(t, reckon.Wrong(q), "%v h", at)
		q.At *= 1.001
		assert.Len(t, reckon.Wrong(q), 1, "%v h", at)
	}
	for _, set := range []func(q *line.Clock, d unit.Duration){
		func(q *line.Clock, d unit.Duration) { q.Start = d },
		func(q *line.Clock, d unit.Duration) { q.OvenAt = d },
		func(q *line.Clock, d unit.Duration) { q.FinishAt = d },
	} {
		q := clock(t, 0)
		q.Start = 0
		set(&q, unit.Hours(48))
		assert.Empty(t, reckon.Wrong(q))
		set(&q, unit.Hours(48.01))
		assert.Len(t, reckon.Wrong(q), 1)
	}
	q := clock(t, 0)
	q.OvenAt, q.FinishAt = 1, 1
	list := reckon.Wrong(q)
	require.Len(t, list, 1)
	assert.Equal(t, "3 times", list[0].Value)
	q = clock(t, 0)
	q.Piece = 6040
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, out.LastOven, out.Piece.Oven)
	assert.Empty(t, out.Piece.Station, "no moment was named")
	assert.Empty(t, out.Stations)
	q.Piece++
	_, err = q.Solve()
	assert.EqualError(t, err, "line-clock: piece is 6041: want one of the 6040 that are made")
	q.Piece, q.At = 0, unit.Hours(6)
	out, err = q.Solve()
	require.NoError(t, err)
	assert.NotEmpty(t, out.Stations)
	assert.Zero(t, out.Piece)
}

func TestClockWorking(t *testing.T) {
	var workings []*reckon.Working
	kept := clock(t, 1) // a sponge that keeps, made in lots
	kept.Order.Product.PrefermentMixes = slices.Clone(kept.Order.Product.PrefermentMixes)
	kept.Order.Product.PrefermentMixes[0].Keeps = unit.Minutes(25)
	kept.Shift.Mixer.High = unit.Kilograms(60)
	bare := clock(t, 0) // without racks and an oven, from the end
	bare.Line.Oven, bare.Order.Product.Baking = line.Oven{}, line.Baking{}
	bare.Order.Product.PerCarrier, bare.Order.Product.FinalStay, bare.Piece = 0, 0, 7
	bare.Start, bare.FinishAt = 0, unit.Hours(20)
	two := clock(t, 1) // a sponge and a soaker for each batch
	two.Order.Product.Preferments = append(slices.Clone(two.Order.Product.Preferments), doughmath.Preferment{
		Name: "soaker", Amount: 4, Reading: doughmath.FlourOnFlour,
		Parts: []doughmath.PrefermentPart{{Name: two.Order.Product.Formula[0].Name, Percent: 100}, {Name: "water", Percent: 100}},
	})
	two.Order.Product.PrefermentMixes = append(slices.Clone(two.Order.Product.PrefermentMixes), line.PrefermentMix{Name: "soaker", Mixing: unit.Minutes(15), Ripening: unit.Hours(1)})
	two.Order.Product.Heat = nil
	racks := waiting(t)
	racks.Piece, racks.Start, racks.OvenAt = 5000, 0, unit.Hours(9)
	for _, q := range []line.Clock{byHand(t, 1, 100), clock(t, 1), clock(t, 3), waiting(t), kept, bare, racks, two} {
		_, w, err := reckon.Explain(q)
		require.NoError(t, err)
		workings = append(workings, w)
		assert.NoError(t, testdata.Retrace(w, 1e-9))
	}
	outlinedBesideThePlan(t, "TestClockWorking", workings...)
}

func BenchmarkClock(b *testing.B) {
	q := clock(b, 2)
	var out line.ClockResult
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if out, err = q.Append(out.Batches[:0]); err != nil {
			b.Fatal(err)
		}
	}
	if len(out.Batches) == 0 {
		b.Fatal("there are no batches")
	}
}

func retrace(w *reckon.Working) error {
	return errors.Join(testdata.Retrace(w, 1e-9), standsForItself(w))
}

func BenchmarkClockWithAnOven(b *testing.B) {
	q := baked(b)
	var out line.ClockResult
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if out, err = q.Append(out.Batches[:0]); err != nil {
			b.Fatal(err)
		}
	}
	if len(out.Loads) == 0 {
		b.Fatal("there are no loads")
	}
}

func FuzzClock(f *testing.F) {
	f.Add(900, 7, 96, 96, 35.0, 10.0, 120.0, uint8(0))
	f.Add(300, 1, 30, 60, 12.0, 40.0, 60.0, uint8(1))
	f.Add(1500, 0, 50, 640, 20.0, 25.0, 90.0, uint8(2))
	f.Fuzz(func(t *testing.T, pieces, places, perCarrier, perLoad int, bake, cycle, high float64, kind uint8) {
		q := clock(t, 2)
		q.Line.Oven = line.Oven{Kind: []line.OvenKind{line.DeckOven, line.RackOven, line.TunnelOven}[kind%3], Places: places}
		p := &q.Order.Product
		p.PerCarrier, p.Baking = perCarrier, line.Baking{Time: unit.Minutes(bake), PerLoad: perLoad}
		p.HopperMax, p.DwellHigh = unit.Minutes(70), unit.Minutes(60)
		q.Order.Pieces, q.Shift.Mixer.Cycle, q.Shift.Mixer.High, q.Shift.Mixer.Low = pieces, unit.Minutes(cycle), unit.Kilograms(high), 1000
		out, err := q.Solve()
		if err != nil {
			return
		}
		for i, k := range out.Loads {
			if k.In < k.Ready || k.Out <= k.In || k.LastPiece < k.FirstPiece || i > 0 && (k.FirstPiece != out.Loads[i-1].LastPiece+1 || k.In < out.Loads[i-1].In) {
				t.Fatalf("load %+v after %+v", k, out.Loads[max(0, i-1)])
			}
		}
		for _, b := range out.Buffers {
			if !(b.Mean > 0) || float64(b.Most) < b.Mean*(1-1e-6) || b.MeanStay <= 0 {
				t.Fatalf("%+v", b)
			}
		}
	})
}
