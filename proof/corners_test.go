package proof_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// No piece is ever lost, whatever lanes change while the proofer is full and
// whatever jams: pieces that meet go on together.
func TestRunLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 30))
	met, lumps, unmet := 0, 0, 0
	for range 400 {
		p := proof.Proofer{Pockets: 6, Trays: 5 + r.IntN(30), TraysPerStroke: 1}
		p.FirstPassTrays, p.LastPassTrays = 1+r.IntN(p.Trays), 1+r.IntN(p.Trays)
		lanes := []int{1, 2, 3, 6}
		in := proof.Run{Proofer: p, Across: lanes[r.IntN(4)], Strokes: 60, Pieces: 50 + r.IntN(800)}
		at, few := unit.Duration(0), in.Across
		for range r.IntN(5) {
			at += unit.Duration(1 + r.IntN(60))
			in.Acts = append(in.Acts, proof.Act{At: at, Do: proof.ActLanes, Across: lanes[r.IntN(4)]})
			few = min(few, in.Acts[len(in.Acts)-1].Across)
		}
		stroke, most := 0, 20
		if len(in.Acts) == 0 {
			most = 3 // all within the strokes of the shortest run
		}
		for range r.IntN(4) {
			stroke += 1 + r.IntN(most)
			in.Faults = append(in.Faults, proof.Fault{Kind: proof.FaultJam, Stroke: stroke, Lane: 1, Pass: 1 + r.IntN(6/few)})
		}
		out, err := in.Solve()
		require.NoError(t, err)
		require.Equal(t, in.Pieces, out.PiecesIn)
		require.Equal(t, out.PiecesIn, out.PiecesOut+out.Stranded)
		require.Equal(t, out.Stuck, out.Stranded, "the machines run until only stuck pieces are left")
		met += out.Doubles
		joined, jams := 0, 0
		events, err := in.Events()
		require.NoError(t, err)
		for e := range events {
			if e.Kind == proof.EventDouble {
				joined++
			}
			if e.Kind == proof.EventStuck {
				jams++
			}
		}
		require.Equal(t, len(in.Faults)-jams, out.Unmet)
		unmet += out.Unmet
		require.GreaterOrEqual(t, out.Doubles, joined, "a lump that joins another brings all its pieces")
		lumps += out.Doubles - joined
	}
	assert.Positive(t, met, "pieces that meet are among the runs")
	assert.Positive(t, lumps, "and lumps that meet again")
	assert.Positive(t, unmet, "and faults that do not come about")
}

// With every piece stuck nothing comes out, and there is nothing to wait for.
func TestRunAllStuck(t *testing.T) {
	in := proof.Run{
		Proofer: demo, Across: 1, Strokes: 24, Pieces: 2,
		Faults: []proof.Fault{{Kind: proof.FaultJam, Stroke: 1, Lane: 1, Pass: 1}, {Kind: proof.FaultJam, Stroke: 2, Lane: 1, Pass: 2}},
	}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, out.Stuck)
	assert.Zero(t, out.PiecesOut)
	assert.Zero(t, out.ClearOut)
	assert.Zero(t, out.LastOut)
}

func TestSpeedChangeLeavesNoPause(t *testing.T) {
	out, err := proof.SpeedChange{Proofer: demo, Across: 2, StrokesBefore: 24, StrokesAfter: 12, DwellLow: 600, DwellHigh: unit.Minutes(20)}.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.LongestPause, "the new speed alone is too slow")
}

func TestFinalProofLoadCountsTheGaps(t *testing.T) {
	in := proof.FinalProofLoad{PieceRate: 60, Stay: unit.Minutes(30), Carrier: proof.CarrierRack, PerCarrier: 240, BatchPieces: 1200, Wait: unit.Minutes(10)}
	out, err := in.Solve()
	require.NoError(t, err)
	assert.InDelta(t, 40, float64(out.MeanRate), 1e-12) // 1200 pieces in 20 and 10 min
	assert.InDelta(t, 1200, out.MeanInside, 1e-9)       // 40 a minute for half an hour
	assert.Equal(t, unit.Minutes(4), out.StayDifference)
	for _, h := range []proof.Carrier{proof.CarrierBox, proof.CarrierContinuous} {
		in.Carrier = h
		out, err = in.Solve()
		require.NoError(t, err)
		assert.Zero(t, out.StayDifference)
	}
}

// The ends of the range that the source vouches for belong to it.
func TestEquivalentVouchedRange(t *testing.T) {
	for _, c := range []struct {
		stage, reference float64
		outside          bool
	}{{23, 30, false}, {30, 23, false}, {22.9, 25, true}, {30.1, 25, true}, {25, 22.9, true}, {25, 30.1, true}} {
		out, err := proof.Equivalent{
			History: []proof.Stage{{Temp: unit.Celsius(c.stage), Time: 3600}}, Reference: unit.Celsius(c.reference), Model: proof.ModelQ10, ModelValue: 2, Origin: proof.OriginMeasured,
		}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.outside, out.Conditions.Has(reckon.OutsideSource), "%+v", c)
	}
	_, err := proof.Q10ForProof{Cool: proof.Trial{unit.Celsius(25), 3600}, Warm: proof.Trial{unit.Celsius(27), 3100}}.Solve()
	assert.NoError(t, err, "two degrees apart are enough")
}

// A limit that is just reached is kept.
func TestLimitsJustReached(t *testing.T) {
	in := surfaceInput()
	out, err := in.Solve()
	require.NoError(t, err)
	in.SweatLimit, in.DryLimit = out.Sweating, out.Drying
	out, err = in.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)

	sweat := sweatInput()
	need, err := sweat.Solve()
	require.NoError(t, err)
	sweat.Dusted = need.Flour
	enough, err := sweat.Solve()
	require.NoError(t, err)
	assert.Zero(t, enough.Conditions)
}
