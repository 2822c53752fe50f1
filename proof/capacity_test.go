package proof_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/proof"
)

// A week of breaks leaves no time for a piece, however fast the line is.
func TestShiftWithoutTime(t *testing.T) {
	_, err := proof.ShiftForLineCapacity{Machines: chainOf(10_000), Pieces: 1, Breaks: unit.Hours(7 * 24)}.Solve()
	assert.ErrorContains(t, err, "it can reach up to 0 pieces")
}

func chainOf(rates ...float64) []proof.Machine {
	out := make([]proof.Machine, len(rates))
	for i, r := range rates {
		out[i] = proof.Machine{Name: fmt.Sprintf("machine %d", i+1), PieceRate: unit.PieceRate(r), Running: 100}
	}
	return out
}

// A chain passes what its slowest machine passes, wherever that stands; equal
// ones hold it back together, and speeding up only one of them gains nothing.
func TestLineCapacity(t *testing.T) {
	for _, c := range []struct {
		rates []float64
		limit string
		rate  float64
		next  float64
	}{
		{[]float64{50}, "machine 1", 50, 0},
		{[]float64{60, 50, 70}, "machine 2", 50, 60},
		{[]float64{50, 60, 50}, "machine 1 and machine 3", 50, 60},
		{[]float64{50, 50 * (1 + 1e-12)}, "machine 1 and machine 2", 50, 0},
	} {
		out, err := proof.LineCapacity{Machines: chainOf(c.rates...), Shift: unit.Hours(1)}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.limit, out.Limit)
		assert.Equal(t, unit.PieceRate(c.rate), out.PieceRate)
		assert.Equal(t, unit.PieceRate(c.next), out.NextRate)
		assert.Equal(t, int(c.rate*60), out.Pieces)
		assert.Equal(t, []string{"rounded"}, out.Conditions.Words(), "pieces are whole")
	}
}

func TestLineCapacityAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	for range 500 {
		in := proof.LineCapacity{
			Machines: chainOf(20+60*r.Float64(), 20+60*r.Float64()), Shift: unit.Hours(6 + 4*r.Float64()), Breaks: unit.Minutes(30),
			Changeovers: r.IntN(4), ChangeoverTime: unit.Minutes(15), Through: unit.Minutes(60),
		}
		in.Machines[0].Running = unit.Percent(80 + 20*r.Float64())
		out, err := in.Solve()
		require.NoError(t, err)
		q := proof.ShiftForLineCapacity{Machines: in.Machines, Pieces: out.Pieces, Breaks: in.Breaks, Changeovers: in.Changeovers, ChangeoverTime: in.ChangeoverTime, Through: in.Through}
		back, err := q.Solve()
		require.NoError(t, err)
		require.LessOrEqual(t, float64(back.Shift), float64(in.Shift)*(1+1e-12), "the shift makes these pieces")
		require.Equal(t, out.Limit, back.Limit)
		q.Pieces++
		back, err = q.Solve()
		require.NoError(t, err)
		require.Greater(t, float64(back.Shift), float64(in.Shift)*(1-1e-12), "and not one more")
		require.True(t, shows(t, in))
		require.True(t, shows(t, q))
	}
}

func TestLineCapacityRefuses(t *testing.T) {
	_, err := proof.LineCapacity{Machines: []proof.Machine{{}}, Shift: 1, Breaks: -1, Changeovers: 2, Through: -1}.Solve()
	assert.Equal(t, []string{"machines[0].name", "machines[0].piece_rate", "machines[0].running", "shift", "breaks", "changeover_time", "through"}, fields(err))
	_, err = proof.LineCapacity{Machines: chainOf(10), Shift: unit.Hours(1), Breaks: unit.Minutes(40), Through: unit.Minutes(20)}.Solve()
	assert.ErrorContains(t, err, "more than breaks, changeovers and the way through, 1 h")
	_, err = proof.LineCapacity{Shift: unit.Hours(1)}.Solve()
	assert.Equal(t, []string{"machines"}, fields(err))
	_, err = proof.ShiftForLineCapacity{Machines: chainOf(10), Pieces: 200_000}.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "100800 pieces", none.High, "10 a minute in 10080 minutes")
	slow := chainOf(1, 1)
	slow[0].Running, slow[1].Running = 1e-200, 1e-200
	_, err = proof.ShiftForLineCapacity{Machines: slow, Pieces: 1}.Solve()
	assert.ErrorAs(t, err, &none, "a chain that never runs")
}

func ExampleLineCapacity() {
	out, err := proof.LineCapacity{
		Machines: []proof.Machine{
			{Name: "divider", PieceRate: 56, Running: 98},
			{Name: "oven", PieceRate: 48, Running: 96},
		},
		Shift: unit.Hours(8), Breaks: unit.Minutes(45), Through: unit.Minutes(110),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d pieces; the %s holds the line back\n", out.Pieces, out.Limit)
	// Output:
	// 14676 pieces; the oven holds the line back
}

func ExampleShiftForLineCapacity() {
	out, err := proof.ShiftForLineCapacity{
		Machines: []proof.Machine{{Name: "divider", PieceRate: 56, Running: 100}, {Name: "oven", PieceRate: 48, Running: 100}},
		Pieces:   14400, Breaks: unit.Minutes(45), Through: unit.Minutes(75),
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Shift)
	// Output:
	// 7 h
}
