package proof_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

func TestPocketAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 54))
	for range 500 {
		back := proof.PieceForPocket{
			Pocket:  proof.Pocket{Width: unit.Length(40 + 120*r.Float64()), Gap: unit.Length(5 * r.Float64())},
			Density: unit.Density(0.8 + 0.4*r.Float64()), Growth: 1 + r.Float64(), Flatness: 1 + 0.3*r.Float64(), Measured: true,
		}
		heaviest, err := back.Solve()
		require.NoError(t, err)
		in := proof.PocketFit{Pocket: back.Pocket, Piece: heaviest.Piece, Density: back.Density, Growth: back.Growth, Flatness: back.Flatness, Measured: true}
		out, err := in.Solve()
		require.NoError(t, err)
		require.InDelta(t, float64(in.Pocket.Gap), float64(out.Room), 1e-9)
		require.Zero(t, out.Conditions, "made for just this piece")
		require.True(t, shows(t, in))
		require.True(t, shows(t, back))
		in.Piece *= 1.001
		out, err = in.Solve()
		require.NoError(t, err)
		require.True(t, out.Conditions.Has(proof.PocketTooSmall))
	}
}

func TestPocketRefuses(t *testing.T) {
	_, err := proof.PocketFit{Pocket: proof.Pocket{Width: 40, Gap: 20}, Piece: -1, Density: 9, Growth: 0.5, Flatness: 4}.Solve()
	assert.Equal(t, []string{"pocket.gap", "piece", "density", "growth", "flatness"}, fields(err))
	_, err = proof.PieceForPocket{}.Solve()
	assert.Equal(t, []string{"pocket.width", "density", "growth", "flatness"}, fields(err))
	// Only a wide pocket has room for the widest gap.
	wide := proof.PocketFit{Pocket: proof.Pocket{Width: 500, Gap: 100}, Piece: 900, Density: 1.05, Growth: 1.25, Flatness: 1.1}
	_, err = wide.Solve()
	assert.NoError(t, err)
	wide.Pocket.Gap = 100.1
	_, err = wide.Solve()
	assert.Equal(t, []string{"pocket.gap"}, fields(err))
}

func ExamplePocketFit() {
	out, err := proof.PocketFit{
		Pocket: proof.Pocket{Width: 140, Gap: 2}, Piece: 900, Density: 1.05, Growth: 1.25, Flatness: 1.1, Measured: true,
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v wide: %v\n", out.Diameter, out.Conditions.Words())
	// Output:
	// 139.7 mm wide: [pocket-too-small]
}

func ExamplePieceForPocket() {
	out, err := proof.PieceForPocket{Pocket: proof.Pocket{Width: 140, Gap: 2}, Density: 1.05, Growth: 1.25, Flatness: 1.1}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Piece)
	// Output:
	// 831.2 g
}

func FuzzCapacityAndPocket(f *testing.F) {
	f.Add(56.0, 98.0, 28800.0, 2700.0, 3, 900.0, 0.0, 150.0, 2.0, 900.0, 1.05, 1.25, 1.1)
	f.Fuzz(func(t *testing.T, rate, running, shift, breaks float64, changes int, each, through, width, gap, piece, density, growth, flatness float64) {
		machines := []proof.Machine{{"divider", unit.PieceRate(rate), unit.Percent(running)}, {"oven", 48, 96}}
		if out, err := (proof.LineCapacity{Machines: machines, Shift: unit.Duration(shift), Breaks: unit.Duration(breaks), Changeovers: changes, ChangeoverTime: unit.Duration(each), Through: unit.Duration(through)}).Solve(); err == nil {
			finite(t, float64(out.MeanRate), float64(out.Available), float64(out.Running))
		}
		pocket := proof.Pocket{Width: unit.Length(width), Gap: unit.Length(gap)}
		if out, err := (proof.PocketFit{Pocket: pocket, Piece: unit.Mass(piece), Density: unit.Density(density), Growth: growth, Flatness: flatness}).Solve(); err == nil {
			finite(t, float64(out.Diameter), float64(out.Room))
		}
		if out, err := (proof.PieceForPocket{Pocket: pocket, Density: unit.Density(density), Growth: growth, Flatness: flatness}).Solve(); err == nil {
			finite(t, float64(out.Piece))
		}
	})
}
