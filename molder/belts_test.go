package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

var train = molder.BeltTrain{PieceRate: 60, LeastGap: 100, Belts: []molder.Belt{
	{Name: "rounder outlet", BeltSpeed: 250, PieceLength: 70}, {Name: "moulder inlet", BeltSpeed: 400, PieceLength: 70}, {Name: "panning", BeltSpeed: 150, PieceLength: 60},
}}

// Belt by belt the train must say what the single belt says.
func TestBeltTrainAgreesWithEachBelt(t *testing.T) {
	kept := molder.BeltRow{Name: "kept"}
	out, err := train.Append([]molder.BeltRow{kept})
	require.NoError(t, err)
	require.Equal(t, kept, out.Rows[0])
	for i, b := range train.Belts {
		single, err := molder.PieceSpacing{Belt: b.BeltSpeed, PieceRate: train.PieceRate, PieceLength: b.PieceLength}.Solve()
		require.NoError(t, err)
		row := out.Rows[i+1]
		assert.Equal(t, molder.BeltRow{Name: b.Name, Pitch: single.Pitch, Gap: single.Gap, Ratio: row.Ratio}, row)
	}
	assert.Zero(t, out.Rows[1].Ratio)
	assert.Equal(t, 1.6, out.Rows[2].Ratio)
	assert.Equal(t, 2, out.Tightest)
	assert.Equal(t, molder.RiskOfDoubles, out.Conditions)
}

func TestBeltsRefuse(t *testing.T) {
	_, err := molder.BeltTrain{LeastGap: -1}.Solve()
	assert.Equal(t, []string{"piece_rate", "least_gap", "belts"}, fields(err))
	_, err = molder.BeltTrain{PieceRate: 60, Belts: []molder.Belt{{}, {Name: "slow", BeltSpeed: 70, PieceLength: 70}}}.Solve()
	assert.Equal(t, []string{"belts[0].name", "belts[0].belt_speed", "belts[0].piece_length", "belts[1].belt_speed"}, fields(err))
	_, err = molder.BeltTrain{PieceRate: 0.01, Belts: []molder.Belt{{Name: "a", BeltSpeed: 100, PieceLength: 70}}}.Solve()
	assert.Equal(t, []string{"belts[0].belt_speed"}, fields(err), "600 m apart")
}

func ExampleBeltTrain() {
	out, _ := molder.BeltTrain{PieceRate: unit.PiecesPerMinute(60), Belts: []molder.Belt{
		{Name: "rounder outlet", BeltSpeed: unit.MetresPerMinute(15), PieceLength: unit.Millimetres(70)},
		{Name: "moulder inlet", BeltSpeed: unit.MetresPerMinute(24), PieceLength: unit.Millimetres(70)},
	}}.Solve()
	for _, r := range out.Rows {
		fmt.Printf("%-15s a piece every %v, %v between\n", r.Name, r.Pitch, r.Gap)
	}
	// Output:
	// rounder outlet  a piece every 250 mm, 180 mm between
	// moulder inlet   a piece every 400 mm, 330 mm between
}

func BenchmarkBeltTrain(b *testing.B) {
	dst := make([]molder.BeltRow, 0, len(train.Belts))
	b.ReportAllocs()
	for b.Loop() {
		_, _ = train.Append(dst[:0])
	}
}

// A belt that is geared to the line holds its pieces its advance apart, at any rate.
func TestGearedBelt(t *testing.T) {
	for _, rate := range []unit.PieceRate{20, 47.3, 90} {
		out, err := molder.BeltTrain{PieceRate: rate, Belts: []molder.Belt{
			{Name: "own", BeltSpeed: 200, PieceLength: 60}, {Name: "geared", AdvancePerStroke: 130, PieceLength: 60},
		}}.Solve()
		require.NoError(t, err)
		assert.Equal(t, [2]unit.Length{130, 70}, [2]unit.Length{out.Rows[1].Pitch, out.Rows[1].Gap})
		same(t, 130*float64(rate)/60/200, out.Rows[1].Ratio, "ratio")
	}
	_, err := molder.BeltTrain{PieceRate: 60, Belts: []molder.Belt{
		{Name: "neither", PieceLength: 60}, {Name: "both", BeltSpeed: 200, AdvancePerStroke: 130, PieceLength: 60}, {Name: "touching", AdvancePerStroke: 60, PieceLength: 60},
	}}.Solve()
	assert.Equal(t, []string{"belts[0].belt_speed", "belts[1].advance_per_stroke", "belts[2].advance_per_stroke"}, fields(err))
}

func FuzzBelts(f *testing.F) {
	f.Add(60.0, 250.0, 400.0, 70.0)
	f.Fuzz(func(t *testing.T, rate, a, b, piece float64) {
		if out, err := (molder.BeltTrain{PieceRate: unit.PieceRate(rate), Belts: []molder.Belt{
			{Name: "a", BeltSpeed: unit.Speed(a), PieceLength: unit.Length(piece)}, {Name: "b", BeltSpeed: unit.Speed(b), PieceLength: unit.Length(piece)},
		}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
