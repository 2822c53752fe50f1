package line_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// followed is an order followed piece by piece, apart from the clock: through the pockets by [proof.Run], onto racks, and into an
// oven whose places are kept as a list of when each is free. Times are in seconds from the first mixing.
type followed struct {
	at    [][9]float64 // of each piece: mixing, mixed, tipped, cut, out, rack full, proofed, in the oven, baked
	racks [][2]float64 // of each rack: taken from, until
}

func follow(t *testing.T, q *line.Clock, p *line.PlanResult) followed {
	t.Helper()
	product, l, b := &q.Order.Product, &q.Line, &p.Batch
	run := proof.Run{Proofer: l.Proofer, Across: product.Across, Strokes: p.Strokes, Pieces: b.PiecesMade}
	waits := p.Times.BatchWait > 0 && b.Batches > 1
	for i := 1; waits && i < b.Batches; i++ {
		stop := float64(i)*float64(p.Times.BatchScaling) + float64(i-1)*float64(p.Times.BatchWait) - 1e-3
		run.Acts = append(run.Acts, proof.Act{At: unit.Duration(stop), Do: proof.ActStop}, proof.Act{At: unit.Duration(stop) + p.Times.BatchWait, Do: proof.ActStart})
	}
	events, err := run.Events()
	require.NoError(t, err)
	f := followed{at: make([][9]float64, b.PiecesMade)}
	first := float64(p.Times.FirstStroke)
	for e := range events {
		switch k := &f.at[e.Piece-1]; e.Kind {
		case proof.EventIn:
			k[3] = first + float64(e.At)
		case proof.EventOut:
			k[4] = first + float64(e.At)
		default:
		}
	}
	for i := range f.at {
		batch := float64(i / b.PiecesPerBatch)
		f.at[i][0] = batch * float64(p.Times.BatchInterval)
		f.at[i][1] = f.at[i][0] + float64(q.Shift.Mixer.Mixing)
		f.at[i][2] = f.at[i][1] + float64(product.FloorTime)
	}
	// groups cuts the pieces into so many at a time; where the divider waits, each batch begins anew.
	groups := func(per int, visit func(from, to int)) {
		for from := 0; from < b.PiecesMade; {
			to := min(b.PiecesMade, from+max(1, per))
			if waits {
				to = min(to, (from/b.PiecesPerBatch+1)*b.PiecesPerBatch)
			}
			visit(from, to)
			from = to
		}
	}
	per := 0
	if l.FinalProof.Carrier == proof.CarrierRack {
		per = product.PerCarrier
	}
	groups(per, func(from, to int) {
		for i := from; i < to; i++ {
			f.at[i][5] = f.at[to-1][4]
			f.at[i][6] = f.at[i][5] + float64(product.FinalStay)
			f.at[i][7] = f.at[i][6]
		}
	})
	if per := product.Baking.PerLoad; per > 0 && l.Oven.Kind != line.TunnelOven {
		free := make([]float64, l.Oven.Places)
		groups(per, func(from, to int) {
			place := slices.Index(free, slices.Min(free))
			in := max(free[place], f.at[to-1][6])
			free[place] = in + float64(product.Baking.Time+l.Oven.Loading)
			for i := from; i < to; i++ {
				f.at[i][7] = in
			}
		})
	} else if l.Oven.Kind == line.TunnelOven && l.FinalProof.Carrier == proof.CarrierRack && product.PerCarrier > 0 {
		free, each := 0.0, float64(product.Baking.Time)/float64(per)
		for i := range f.at {
			f.at[i][7] = max(free, f.at[i][6])
			free = f.at[i][7] + each
		}
	}
	for i := range f.at {
		f.at[i][8] = f.at[i][7] + float64(product.Baking.Time)
	}
	back := 7
	if l.Oven.Kind == line.RackOven && product.Baking.PerLoad > 0 {
		back = 8
	}
	full := 0.0
	groups(per, func(from, to int) {
		start := f.at[from][4]
		if from > 0 && (!waits || from%b.PiecesPerBatch != 0) {
			start = full
		}
		full = f.at[to-1][4]
		f.racks = append(f.racks, [2]float64{start, f.at[to-1][back] + float64(l.FinalProof.Handling)})
	})
	return f
}

// randomClock is an order of the demo plant with an oven, batches, racks and times drawn at random.
func randomClock(t testing.TB, r *rand.Rand) line.Clock {
	t.Helper()
	q := clock(t, r.IntN(3))
	p := &q.Order.Product
	q.Order.Pieces = 200 + r.IntN(1500)
	q.Shift.Mixer.High = unit.Kilograms(40 + 100*r.Float64())
	q.Shift.Mixer.Low = 1000
	q.Shift.Mixer.Cycle = unit.Minutes(4 + 30*r.Float64())
	p.HopperMax, p.DwellHigh = unit.Minutes(70), unit.Minutes(60)
	p.FloorTime = unit.Minutes(float64(r.IntN(20)))
	p.PerCarrier, p.FinalStay = 24+r.IntN(200), unit.Minutes(20+40*r.Float64())
	p.Baking = line.Baking{Time: unit.Minutes(8 + 30*r.Float64())}
	switch kind := []line.OvenKind{line.DeckOven, line.RackOven, line.TunnelOven}[r.IntN(3)]; kind {
	case line.DeckOven:
		q.Line.Oven = line.Oven{Kind: kind, Places: 1 + r.IntN(12), Loading: unit.Minutes(4 * r.Float64())}
		p.Baking.PerLoad = 20 + r.IntN(300)
	case line.RackOven:
		q.Line.Oven = line.Oven{Kind: kind, Places: 1 + r.IntN(12), Loading: unit.Minutes(4 * r.Float64())}
		p.Baking.PerLoad = p.PerCarrier * (1 + r.IntN(2))
	default:
		q.Line.Oven = line.Oven{Kind: kind, Belt: 20_000}
		p.Baking.PerLoad = 300 + r.IntN(1500)
	}
	return q
}

// Pieces followed pocket by pocket, rack by rack and place by place are where the clock says, to the stroke, in the demo's orders and in plans
// drawn at random; levels, means and racks are those counted from them.
func TestClockAgainstPiecesFollowed(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 4))
	list := []line.Clock{clock(t, 0), clock(t, 1), clock(t, 2), clock(t, 3), waiting(t)}
	for range 60 {
		list = append(list, randomClock(t, r))
	}
	waits, late, solved := 0, 0, map[line.OvenKind]int{}
	for n, q := range list {
		q.Levels = true
		p, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
		if err != nil {
			continue
		}
		out, err := q.Solve()
		require.NoError(t, err)
		f := follow(t, &q, &p)
		name := fmt.Sprintf("plan %d, %s", n, q.Line.Oven.Kind)
		solved[q.Line.Oven.Kind]++
		beat := 60 / float64(p.Strokes)
		if p.Times.BatchWait > 0 && p.Batch.Batches > 1 {
			waits++
		}
		// A tray that comes later than its stroke carries on through rack and oven: a stroke each.
		near := func(want float64, got unit.Duration, strokes float64, what string) {
			assert.InDelta(t, want, float64(got-q.Start), strokes*beat+0.01, "%s: %s", name, what)
		}
		for i, k := range out.Batches {
			first, last := f.at[i*p.Batch.PiecesPerBatch], f.at[min((i+1)*p.Batch.PiecesPerBatch, len(f.at))-1]
			near(first[0], k.Mix, 0, "mixing")
			near(first[2], k.Tip, 0, "tipping")
			near(first[3], k.FirstCut, 1, "first cut")
			near(last[3], k.LastCut, 1, "last cut")
			near(first[4], k.FirstOut, 1, "first out")
			near(last[4], k.LastOut, 1, "last out")
			near(first[7], k.FirstOven, 2, "first into the oven")
			near(last[7], k.LastOven, 2, "last into the oven")
		}
		for _, k := range out.Loads {
			near(f.at[k.LastPiece-1][6], k.Ready, 1, "load proofed")
			near(f.at[k.FirstPiece-1][7], k.In, 2, "load in")
			near(f.at[k.LastPiece-1][8], k.Out, 2, "load baked")
			if k.In > k.Ready+1 {
				late++
			}
		}
		f.holdsBuffers(t, out.Buffers, beat, name)
		f.holdsRacks(t, &q, &out.Racks, name)
	}
	assert.Greater(t, waits, 5)
	assert.Greater(t, late, 20)
	for _, kind := range []line.OvenKind{line.DeckOven, line.RackOven, line.TunnelOven} {
		assert.Greater(t, solved[kind], 5, kind)
	}
}

// holdsBuffers counts from the moments of all pieces what stands at each station.
func (f *followed) holdsBuffers(t *testing.T, list []line.Buffer, beat float64, name string) {
	t.Helper()
	stations := []string{"mixer", "floor", "hopper", "overhead proofer", "rack being filled", "final proof", "before the oven", "oven"}
	for _, b := range list {
		s := slices.Index(stations, b.Station)
		type change struct {
			at float64
			by int
		}
		var changes []change
		sum := 0.0
		for i := range f.at {
			in, out := f.at[i][s], f.at[i][s+1]
			sum += out - in
			changes = append(changes, change{in, 1}, change{out, -1})
		}
		n := float64(len(f.at))
		// Little's law: pieces on average are pieces a second times their mean stay.
		horizon := f.at[len(f.at)-1][s+1] - f.at[0][s]
		assert.InDelta(t, sum/n, float64(b.MeanStay), 2*beat+0.01, "%s: stay, %s", name, b.Station)
		assert.InDelta(t, n/horizon*float64(b.MeanStay), b.Mean, 0.02*b.Mean+1, "%s: mean, %s", name, b.Station)
		slices.SortFunc(changes, func(a, b change) int {
			if math.Abs(a.at-b.at) > 0.01 {
				return cmp.Compare(a.at, b.at)
			}
			return cmp.Compare(a.by, b.by) // who leaves, leaves first
		})
		most, level, area, last := 0, 0, 0.0, 0.0
		for _, c := range changes {
			area += float64(level) * (c.at - last)
			level, last = level+c.by, c.at
			most = max(most, level)
		}
		assert.InDelta(t, sum, area, 1e-6*sum+1)
		// A stroke of pieces may come sooner or later.
		assert.InDelta(t, most, b.Most, 8+0.01*float64(most), "%s: most, %s", name, b.Station)
	}
}

func (f *followed) holdsRacks(t *testing.T, q *line.Clock, use *line.RackUse, name string) {
	t.Helper()
	if q.Order.Product.FinalStay == 0 {
		return
	}
	most := 0
	for _, r := range f.racks {
		n := 0
		for _, o := range f.racks {
			if o[0] <= r[0]+1 && o[1] > r[0]+1 {
				n++
			}
		}
		most = max(most, n)
	}
	assert.InDelta(t, most, use.Most, 1, "%s: racks", name)
	taken := 0
	for i, k := range use.Levels {
		taken = max(taken, k.Racks)
		assert.True(t, i == 0 || k.At > use.Levels[i-1].At, name)
	}
	assert.Equal(t, use.Most, taken, name)
	assert.Zero(t, use.Levels[len(use.Levels)-1].Racks, "all are back")
}
