package line_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// What an oven takes is what the final proof's relation says of as many places, each taken for the baking.
func TestOvenRate(t *testing.T) {
	for _, c := range []struct {
		id     string
		q      line.OvenRate
		rate   float64 // pieces/min
		inside int
		pace   unit.Duration
	}{
		{"deck", line.OvenRate{Oven: line.Oven{Kind: line.DeckOven, Places: 3, Loading: unit.Minutes(4)}, Time: unit.Minutes(26), PerLoad: 40}, 4, 120, unit.Minutes(10)},
		{"rack", line.OvenRate{Oven: line.Oven{Kind: line.RackOven, Places: 1}, Time: unit.Minutes(20), PerLoad: 300}, 15, 300, unit.Minutes(20)},
		{"tunnel", line.OvenRate{Oven: line.Oven{Kind: line.TunnelOven, Belt: 24_000}, Time: unit.Minutes(40), PerLoad: 640}, 16, 640, unit.Minutes(40)},
	} {
		out, err := c.q.Solve()
		require.NoError(t, err, c.id)
		assert.InDelta(t, c.rate, float64(out.PieceRate), 1e-12, c.id)
		assert.Equal(t, c.inside, out.Inside, c.id)
		assert.InDelta(t, float64(c.pace), float64(out.Pace), 1e-9, c.id)
		same, err := proof.RateForFinalProofLoad{Available: max(1, c.q.Places), PerCarrier: c.q.PerLoad, Carrier: proof.CarrierContinuous, Stay: c.q.Time, Handling: c.q.Loading}.Solve()
		require.NoError(t, err, c.id)
		assert.InDelta(t, float64(same.PieceRate), float64(out.PieceRate), 1e-9, c.id)
	}
	out, err := line.OvenRate{Oven: line.Oven{Kind: line.TunnelOven, Belt: 24_000}, Time: unit.Minutes(40), PerLoad: 640}.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 10, float64(out.BeltSpeed), 1e-9, "24 m in 40 min, in mm/s")
}

// An oven that no line comes near sets no limit, rather than one that no line may have.
func TestOvenThatNoLineComesNear(t *testing.T) {
	in := input(t, 2)
	in.Order.Product.Baking.PerLoad, in.Order.Product.Baking.Time = in.Order.Product.PerCarrier*200, 60
	for rate, limits := range map[unit.PieceRate]bool{9_900: true, 10_050: false} {
		loads := float64(rate) / float64(in.Order.Product.Baking.PerLoad) // in a minute
		in.Line.Oven = line.Oven{Kind: line.DeckOven, Places: 20, Loading: unit.Duration(20*60/loads - 60)}
		out, err := line.OvenRate{Oven: in.Line.Oven, Time: 60, PerLoad: in.Order.Product.Baking.PerLoad}.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, float64(rate), float64(out.PieceRate), 1e-9)
		_, w, err := reckon.Explain(in)
		require.NoError(t, err)
		assert.Equal(t, limits, slices.ContainsFunc(w.Steps, func(s reckon.Step) bool { return s.ID == "What the oven takes" }), "%v", rate)
	}
}

func TestOvenRefuses(t *testing.T) {
	good := line.OvenRate{Oven: line.Oven{Kind: line.DeckOven, Places: 3}, Time: unit.Minutes(26), PerLoad: 40}
	for _, c := range []struct {
		id    string
		spoil func(*line.OvenRate)
		want  []string
	}{
		{"no such oven", func(q *line.OvenRate) { q.Kind = "stone" }, []string{"kind"}},
		{"a tunnel has no decks", func(q *line.OvenRate) { q.Kind, q.Loading = line.TunnelOven, 5 }, []string{"places", "loading"}},
		{"a deck has no belt", func(q *line.OvenRate) { q.Belt = 5000 }, []string{"belt"}},
		{"short belt", func(q *line.OvenRate) { q.Kind, q.Places, q.Belt = line.TunnelOven, 0, 5 }, []string{"belt"}},
		{"all at once", func(q *line.OvenRate) { *q = line.OvenRate{} }, []string{"kind", "places", "time", "per_load"}},
		{"no number", func(q *line.OvenRate) { q.Loading = unit.Duration(math.NaN()) }, []string{"loading"}},
		{"too slow", func(q *line.OvenRate) { q.Places, q.PerLoad, q.Time = 1, 1, unit.Hours(3) }, []string{"per_load"}},
	} {
		q := good
		c.spoil(&q)
		var got []string
		_, err := q.Solve()
		for _, e := range reckon.InputErrors(err) {
			got = append(got, e.Field)
		}
		assert.Equal(t, c.want, got, c.id)
	}
}

// The oven sets the speed of the line as packing does, and is named; a plan with a roomy oven is the plan without.
func TestPlanKeepsToTheOven(t *testing.T) {
	in := input(t, 2)
	in.Line.Oven, in.Order.Product.Baking = line.Oven{}, line.Baking{}
	bare, err := in.Solve()
	require.NoError(t, err)
	in.Line.Oven = line.Oven{Kind: line.DeckOven, Places: 8, Loading: unit.Minutes(5)}
	in.Order.Product.Baking = line.Baking{Time: unit.Minutes(35), PerLoad: 100}
	roomy, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, bare.Strokes, roomy.Strokes, "20 pieces/min are more than the 16 of packing")
	in.Line.Oven.Places = 6
	in.Order.Product.DwellHigh, in.Shift.Mixer.Low = unit.Minutes(30), 0
	slow, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, "oven", slow.StrokesLimit)
	assert.InDelta(t, 15, float64(slow.Speed.RateHigh), 1e-9)
	// A rack oven keeps the racks for the baking as well.
	in.Line.Oven = line.Oven{Kind: line.RackOven, Places: 8}
	in.Order.Product.Baking.PerLoad = 96
	racks, err := in.Solve()
	require.NoError(t, err)
	assert.Greater(t, racks.FinalProof.Needed, bare.FinalProof.Needed)
}

func TestPlanRefusesBaking(t *testing.T) {
	for _, c := range []struct {
		id    string
		spoil func(*line.Plan)
		want  string
	}{
		{"no time", func(in *line.Plan) { in.Order.Product.Baking.Time = 0 }, "order.product.baking.time"},
		{"no load", func(in *line.Plan) { in.Order.Product.Baking.PerLoad = 0 }, "order.product.baking.per_load"},
		{"no oven", func(in *line.Plan) { in.Line.Oven = line.Oven{} }, "order.product.baking.per_load"},
		{"part of a rack", func(in *line.Plan) { in.Order.Product.Baking.PerLoad = 95 }, "order.product.baking.per_load"},
		{"shorter than the proof", func(in *line.Plan) { in.Order.Product.Baking.StayMax = 60 }, "order.product.baking.stay_max"},
		{"next to nothing", func(in *line.Plan) {
			in.Order.Product.PerCarrier, in.Order.Product.Baking = 1, line.Baking{Time: unit.Hours(12), PerLoad: 1}
		}, "order.product.baking.per_load"},
		{"no such oven", func(in *line.Plan) { in.Line.Oven.Kind = "stone" }, "line.oven.kind"},
	} {
		in := input(t, 2)
		in.Line.Oven = line.Oven{Kind: line.RackOven, Places: 7}
		in.Order.Product.Baking = line.Baking{Time: unit.Minutes(35), PerLoad: 96}
		_, err := in.Solve()
		require.NoError(t, err)
		c.spoil(&in)
		_, err = in.Solve()
		var got []string
		for _, e := range reckon.InputErrors(err) {
			got = append(got, e.Field)
		}
		assert.Contains(t, got, c.want, c.id)
		assert.Len(t, got, 1, c.id)
	}
}
