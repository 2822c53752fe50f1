package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

var train = molder.BeltTrain{Rate: 60, LeastGap: 100, Belts: []molder.Belt{
	{Name: "rounder outlet", Speed: 250, Piece: 70}, {Name: "moulder inlet", Speed: 400, Piece: 70}, {Name: "panning", Speed: 150, Piece: 60},
}}

// Belt by belt the train must say what the single belt says.
func TestBeltTrainAgreesWithEachBelt(t *testing.T) {
	kept := molder.BeltRow{Name: "kept"}
	out, err := train.Append([]molder.BeltRow{kept})
	require.NoError(t, err)
	require.Equal(t, kept, out.Rows[0])
	for i, b := range train.Belts {
		single, err := molder.PieceSpacing{Belt: b.Speed, Rate: train.Rate, Piece: b.Piece}.Solve()
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
	assert.Equal(t, []string{"rate", "least_gap", "belts"}, fields(err))
	_, err = molder.BeltTrain{Rate: 60, Belts: []molder.Belt{{}, {Name: "slow", Speed: 70, Piece: 70}}}.Solve()
	assert.Equal(t, []string{"belts[0].name", "belts[0].speed", "belts[0].piece", "belts[1].speed"}, fields(err))
	_, err = molder.BeltTrain{Rate: 0.01, Belts: []molder.Belt{{Name: "a", Speed: 100, Piece: 70}}}.Solve()
	assert.Equal(t, []string{"belts[0].speed"}, fields(err), "600 m apart")
}

func ExampleBeltTrain() {
	out, _ := molder.BeltTrain{Rate: unit.PiecesPerMinute(60), Belts: []molder.Belt{
		{Name: "rounder outlet", Speed: unit.MetresPerMinute(15), Piece: unit.Millimetres(70)},
		{Name: "moulder inlet", Speed: unit.MetresPerMinute(24), Piece: unit.Millimetres(70)},
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

func FuzzBelts(f *testing.F) {
	f.Add(60.0, 250.0, 400.0, 70.0)
	f.Fuzz(func(t *testing.T, rate, a, b, piece float64) {
		if out, err := (molder.BeltTrain{Rate: unit.PieceRate(rate), Belts: []molder.Belt{
			{Name: "a", Speed: unit.Speed(a), Piece: unit.Length(piece)}, {Name: "b", Speed: unit.Speed(b), Piece: unit.Length(piece)},
		}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
