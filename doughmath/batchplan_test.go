package doughmath_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func ExampleBatchPlan() {
	out, err := doughmath.BatchPlan{Pieces: 2400, PieceWeight: unit.Grams(85), MixerHigh: unit.Kilograms(90)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Batches, "batches of", out.BatchDough, "for", out.PiecesPerBatch, "pieces each")
	// Output: 3 batches of 68 kg for 800 pieces each
}

func ExamplePiecesForDough() {
	out, err := doughmath.PiecesForDough{Dough: unit.Kilograms(82), PieceWeight: unit.Grams(60)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Pieces, "pieces and", out.LeftoverDough, "left")
	// Output: 1366 pieces and 40 g left
}

func ExampleMixedBatchPlan() {
	out, err := doughmath.MixedBatchPlan{MixerHigh: unit.Kilograms(60), Order: []doughmath.OrderLine{
		{Name: "rolls", Pieces: 600, PieceWeight: unit.Grams(85)},
		{Name: "loaves", Pieces: 80, PieceWeight: unit.Grams(570)},
	}}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range out.Lines {
		fmt.Println(l.Pieces, l.Name, l.Dough)
	}
	fmt.Println(out.Batches, "batches of", out.BatchDough)
	// Output:
	// 600 rolls 51 kg
	// 80 loaves 45.6 kg
	// 2 batches of 48.3 kg
}

func TestBatchPlanNamesEveryBadField(t *testing.T) {
	_, err := doughmath.BatchPlan{Spare: -1, PieceWeight: -1, Waste: 100, WasteBasis: "all", MixerLow: -1}.Solve()
	assert.Equal(t, []string{"pieces", "spare", "piece_weight", "waste", "waste_basis", "mixer_high", "mixer_low"}, fields(err))
	_, err = doughmath.BatchPlan{Pieces: 1, PieceWeight: 100, Waste: 1, MixerHigh: 10, MixerLow: 11}.Solve()
	assert.Equal(t, []string{"waste_basis", "mixer_low"}, fields(err))
	_, err = doughmath.BatchPlan{Pieces: 1, PieceWeight: 100, Waste: 1, WasteBasis: doughmath.WasteOnOrder, MixerHigh: 100.9}.Solve()
	assert.Equal(t, []string{"mixer_high"}, fields(err), "the mixer must hold one piece and its waste")
	_, err = doughmath.BatchPlan{Pieces: 1, PieceWeight: 100, Waste: 99.9, WasteBasis: "all", MixerHigh: 100}.Solve()
	assert.Equal(t, []string{"waste_basis"}, fields(err), "what a piece takes with its waste is not known")
	_, err = doughmath.PiecesForDough{Dough: 1e9, PieceWeight: 1, Waste: -1, WasteBasis: doughmath.WasteOnDough}.Solve()
	assert.Equal(t, []string{"piece_weight", "waste"}, fields(err))
	_, err = doughmath.MixedBatchPlan{Order: []doughmath.OrderLine{{Spare: -1}}, Waste: 1, MixerHigh: 1}.Solve()
	assert.Equal(t, []string{"order[0].pieces", "order[0].spare", "order[0].piece_weight", "waste_basis"}, fields(err))
	_, err = doughmath.MixedBatchPlan{MixerHigh: 1}.Solve()
	assert.Equal(t, []string{"order"}, fields(err))
	long := doughmath.MixedBatchPlan{MixerHigh: 1000, Order: make([]doughmath.OrderLine, 1001)}
	for i := range long.Order {
		long.Order[i] = doughmath.OrderLine{Pieces: 1, PieceWeight: 1}
	}
	_, err = long.Solve()
	assert.Equal(t, []string{"order"}, fields(err))
	long.Order = long.Order[:1000]
	_, err = long.Solve()
	assert.NoError(t, err, "a thousand lines are taken")
	// Waste counts: 100 million batches without it, more with it.
	many := doughmath.MixedBatchPlan{Order: []doughmath.OrderLine{{Pieces: 1e8, PieceWeight: 100}}, MixerHigh: 100}
	_, err = many.Solve()
	assert.NoError(t, err)
	many.Waste, many.WasteBasis = 1, doughmath.WasteOnOrder
	_, err = many.Solve()
	assert.Equal(t, []string{"mixer_high"}, fields(err))
	_, err = doughmath.MixedBatchPlan{Order: []doughmath.OrderLine{{Pieces: 1e8, PieceWeight: 1e9}}, MixerHigh: 1}.Solve()
	assert.Equal(t, []string{"mixer_high"}, fields(err))
}

func TestBatchPlanBatches(t *testing.T) {
	for _, c := range []struct {
		id          string
		in          doughmath.BatchPlan
		batches     int
		per         int
		left        int
		condition   doughmath.Conditions
		doughPerRun float64
	}{
		{"fits exactly, in ounces", doughmath.BatchPlan{Pieces: 8, PieceWeight: unit.Ounces(27), MixerHigh: unit.Ounces(216)}, 1, 8, 0, 0, 216 * 28.349523125},
		{"one more piece", doughmath.BatchPlan{Pieces: 9, PieceWeight: unit.Ounces(27), MixerHigh: unit.Ounces(216)}, 2, 5, 1, reckon.Rounded | doughmath.LeftoverDough, 135 * 28.349523125},
		{"waste fills the mixer", doughmath.BatchPlan{Pieces: 100, PieceWeight: 100, Waste: 25, WasteBasis: doughmath.WasteOnOrder, MixerHigh: 10000}, 2, 50, 0, 0, 6250},
		{"waste of the dough", doughmath.BatchPlan{Pieces: 100, PieceWeight: 100, Waste: 20, WasteBasis: doughmath.WasteOnDough, MixerHigh: 10000}, 2, 50, 0, 0, 6250},
		{"spare", doughmath.BatchPlan{Pieces: 98, Spare: 2, PieceWeight: 100, MixerHigh: 10000, MixerLow: 10000}, 1, 100, 0, 0, 10000},
		{"too little", doughmath.BatchPlan{Pieces: 101, PieceWeight: 100, MixerHigh: 10000, MixerLow: 6000}, 2, 51, 1, reckon.Rounded | doughmath.LeftoverDough | doughmath.SmallBatch, 5100},
	} {
		out, err := c.in.Solve()
		require.NoError(t, err, c.id)
		assert.Equal(t, c.batches, out.Batches, c.id)
		assert.Equal(t, c.per, out.PiecesPerBatch, c.id)
		assert.Equal(t, c.left, out.LeftoverPieces, c.id)
		assert.Equal(t, c.condition, out.Conditions, c.id)
		assert.InDelta(t, c.doughPerRun, float64(out.BatchDough), 1e-9, c.id)
	}
}

// Eight times 27 oz are 216 oz in the working too, whatever binary arithmetic makes of it.
func TestBatchPlanShowsWholePieces(t *testing.T) {
	_, w, err := reckon.Explain(doughmath.BatchPlan{Pieces: 8, PieceWeight: unit.Ounces(27), MixerHigh: unit.Ounces(216)})
	require.NoError(t, err)
	shown := map[string]float64{}
	for _, s := range w.Steps {
		shown[s.Symbol] = s.Value
	}
	assert.Equal(t, 8.0, shown["n_M"])
	assert.Equal(t, 1.0, shown["b"])
}

func TestMixedBatchPlanBatches(t *testing.T) {
	order := []doughmath.OrderLine{{Name: "rolls", Pieces: 100, PieceWeight: 80, Spare: 25}, {Name: "loaves", Pieces: 4, PieceWeight: 500}}
	for _, c := range []struct {
		most, least unit.Mass
		batches     int
		condition   doughmath.Conditions
	}{{12000, 12000, 1, 0}, {11999, 0, 2, 0}, {6000, 6000, 2, 0}, {7000, 6001, 2, doughmath.SmallBatch}, {5000, 0, 3, 0}} {
		out, err := doughmath.MixedBatchPlan{Order: order, MixerHigh: c.most, MixerLow: c.least}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.batches, out.Batches, "%v", c.most)
		assert.Equal(t, c.condition, out.Conditions, "%v", c.most)
		assert.InDelta(t, 12000/float64(c.batches), float64(out.BatchDough), 1e-9)
		assert.Equal(t, 129, out.Pieces)
		assert.Equal(t, 125, out.Lines[0].Pieces)
		assert.InDelta(t, 1000.0/12, float64(out.Lines[0].Share), 1e-9)
	}
}

// Any order is made, no batch is over the mixer, and one batch fewer would not do.
func TestBatchPlanAlwaysFits(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	for range 2000 {
		in := doughmath.BatchPlan{
			Pieces: 1 + r.IntN(20000), Spare: r.IntN(50), PieceWeight: unit.Mass(20 + 1500*r.Float64()),
			Waste: unit.Percent(10 * r.Float64()), WasteBasis: doughmath.WasteOnDough, MixerHigh: unit.Mass(5000 + 300000*r.Float64()),
		}
		out, err := in.Solve()
		require.NoError(t, err)
		all := in.Pieces + in.Spare
		require.GreaterOrEqual(t, out.PiecesMade, all)
		require.Less(t, out.LeftoverPieces, out.Batches)
		require.LessOrEqual(t, float64(out.BatchDough), float64(in.MixerHigh)*(1+1e-9))
		if out.Batches > 1 {
			fewer := math.Ceil(float64(all) / float64(out.Batches-1))
			require.Greater(t, fewer*float64(in.PieceWeight)/(1-float64(in.Waste)/100), float64(in.MixerHigh)*(1-1e-9))
		}
		back, err := doughmath.PiecesForDough{Dough: out.BatchDough, PieceWeight: in.PieceWeight, Waste: in.Waste, WasteBasis: in.WasteBasis}.Solve()
		require.NoError(t, err)
		require.Equal(t, out.PiecesPerBatch, back.Pieces)
		require.InDelta(t, 0, float64(back.LeftoverDough), 1e-6)
		mixed, err := doughmath.MixedBatchPlan{
			Order: []doughmath.OrderLine{{Pieces: in.Pieces, Spare: in.Spare, PieceWeight: in.PieceWeight}},
			Waste: in.Waste, WasteBasis: in.WasteBasis, MixerHigh: in.MixerHigh,
		}.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(out.Dough), float64(mixed.Dough), 1e-12)
		require.LessOrEqual(t, mixed.Batches, out.Batches)
	}
}

func TestBatchPlanDoesNotAllocate(t *testing.T) {
	order := []doughmath.OrderLine{{Pieces: 600, PieceWeight: 85}, {Pieces: 80, PieceWeight: 570}}
	lines := make([]doughmath.OrderDough, 0, 2)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := (doughmath.BatchPlan{Pieces: 2400, PieceWeight: 85, Waste: 1, WasteBasis: doughmath.WasteOnOrder, MixerHigh: 90000}).Solve(); err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.PiecesForDough{Dough: 90000, PieceWeight: 85}).Solve(); err != nil {
			t.Fatal(err)
		}
		if _, err := (doughmath.MixedBatchPlan{Order: order, MixerHigh: 60000}).Append(lines); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkBatchPlan(b *testing.B) {
	in := doughmath.BatchPlan{Pieces: 2400, PieceWeight: 85, Waste: 1, WasteBasis: doughmath.WasteOnOrder, MixerHigh: 90000}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzBatchPlan(f *testing.F) {
	f.Add(2400, 24, 85.0, 1.5, 90000.0, 20000.0, true)
	f.Add(100000000, 100000000, 1e-3, 99.99999999999999, 1e9, 0.0, false)
	f.Fuzz(func(t *testing.T, pieces, spare int, piece, waste, most, least float64, onOrder bool) {
		basis := doughmath.WasteOnDough
		if onOrder {
			basis = doughmath.WasteOnOrder
		}
		p, m, l, w := unit.Mass(piece), unit.Mass(most), unit.Mass(least), unit.Percent(waste)
		plan, err := doughmath.BatchPlan{Pieces: pieces, Spare: spare, PieceWeight: p, Waste: w, WasteBasis: basis, MixerHigh: m, MixerLow: l}.Solve()
		marshals(t, plan)
		if err == nil && (plan.Batches < 1 || plan.PiecesMade < pieces+spare) {
			t.Fatalf("%+v", plan)
		}
		back, _ := doughmath.PiecesForDough{Dough: m, PieceWeight: p, Waste: w, WasteBasis: basis}.Solve()
		marshals(t, back)
		mixed, _ := doughmath.MixedBatchPlan{Order: []doughmath.OrderLine{{Pieces: pieces, PieceWeight: p}, {Pieces: spare, PieceWeight: p}}, Waste: w, WasteBasis: basis, MixerHigh: m, MixerLow: l}.Solve()
		marshals(t, mixed)
	})
}

// Whole pieces: what lacks a pound's rounding is whole, and what is left over is said.
func TestPiecesForDoughWhole(t *testing.T) {
	for _, c := range []struct {
		dough  unit.Mass
		pieces int
		want   doughmath.Conditions
	}{
		{1000, 10, 0},
		{1000 + 1e-8, 10, 0},
		{800 - 4e-8, 8, 0}, // a piece less four parts in ten thousand million
		{1050, 10, reckon.Rounded | doughmath.LeftoverDough},
		{1000.001, 10, reckon.Rounded | doughmath.LeftoverDough},
		{999.999, 9, reckon.Rounded | doughmath.LeftoverDough},
	} {
		out, err := doughmath.PiecesForDough{Dough: c.dough, PieceWeight: 100}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.pieces, out.Pieces, c.dough)
		assert.Equal(t, c.want, out.Conditions, c.dough)
	}
	out, err := doughmath.PiecesForDough{Dough: 1e8, PieceWeight: 1}.Solve()
	require.NoError(t, err, "a hundred million, and no more")
	assert.Equal(t, 100_000_000, out.Pieces)
	_, err = doughmath.PiecesForDough{Dough: 1e8, PieceWeight: 0.999}.Solve()
	assert.Equal(t, []string{"piece_weight"}, fields(err))
}
