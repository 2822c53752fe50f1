package molder_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

var (
	heights = []molder.ChainHeight{{Name: "low", UpTo: 60}, {Name: "middle", UpTo: 250}, {Name: "high", UpTo: 900}}
	chain   = molder.ChainFromTrials{Names: []string{"low", "middle", "high"}, Trials: []molder.ChainTrial{
		{Height: 2, Piece: 800, Verdict: molder.Good},
		{Height: 0, Piece: 30, Verdict: molder.Good},
		{Height: 0, Piece: 50, Verdict: molder.Good},
		{Height: 0, Piece: 90, Verdict: molder.TooLittle},
		{Height: 1, Piece: 70, Verdict: molder.Good},
		{Height: 1, Piece: 200, Verdict: molder.Good},
		{Height: 2, Piece: 300, Verdict: molder.Good},
	}}
)

func TestChainBorders(t *testing.T) {
	for _, c := range []struct {
		piece unit.Mass
		name  string
		above unit.Mass
		want  molder.Conditions
	}{
		{1, "low", 0, 0},
		{56.9, "low", 0, 0},
		{57, "low", 0, molder.BetweenSettings},
		{60, "low", 0, molder.BetweenSettings},
		{60.1, "middle", 60, molder.BetweenSettings},
		{100, "middle", 60, 0},
		{262.5, "high", 250, molder.BetweenSettings},
		{900, "high", 250, 0},
	} {
		out, err := molder.CurlingChain{Piece: c.piece, Heights: heights, Margin: 5, Measured: true}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.name, out.Name, "%v", c.piece)
		assert.Equal(t, c.name, heights[out.Height].Name)
		assert.Equal(t, c.above, out.Above, "%v", c.piece)
		assert.Equal(t, c.want, out.Conditions, "%v", c.piece)
	}
	out, err := molder.CurlingChain{Piece: 60, Heights: heights}.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.Conditions(reckon.Uncalibrated), out.Conditions, "without a margin no border is near")
}

// The list found in trials must send every good trial to its own height.
func TestChainFromTrialsServesTheChain(t *testing.T) {
	kept := molder.ChainHeight{Name: "kept", UpTo: 5000}
	list, err := chain.Append([]molder.ChainHeight{kept})
	require.NoError(t, err)
	require.Equal(t, kept, list.Heights[0], "the caller's list is appended to")
	for _, trial := range chain.Trials {
		if trial.Verdict != molder.Good {
			continue
		}
		out, err := molder.CurlingChain{Piece: trial.Piece, Heights: list.Heights[1:], Measured: true}.Solve()
		require.NoError(t, err)
		assert.Equal(t, trial.Height, out.Height, "%v", trial.Piece)
	}
}

// No list sends a piece to a height at which the trials failed.
func TestChainKeepsToTheGoodSideOfBadTrials(t *testing.T) {
	in := molder.ChainFromTrials{Names: []string{"low", "high"}, Trials: []molder.ChainTrial{
		{Height: 0, Piece: 50, Verdict: molder.Good},
		{Height: 0, Piece: 100, Verdict: molder.Good},
		{Height: 0, Piece: 120, Verdict: molder.TooMuch},
		{Height: 1, Piece: 200, Verdict: molder.Good},
		{Height: 1, Piece: 300, Verdict: molder.Good},
	}}
	list, err := in.Solve()
	require.NoError(t, err)
	assert.Equal(t, []molder.ChainHeight{{Name: "low", UpTo: 110}, {Name: "high", UpTo: 300}}, list.Heights, "half way from 100 g to the bad 120 g")
	assert.Equal(t, unit.Mass(50), list.Lightest)
	for _, c := range []struct {
		piece unit.Mass
		name  string
		want  molder.Conditions
	}{{1, "low", reckon.Extrapolated}, {49.9, "low", reckon.Extrapolated}, {50, "low", 0}, {110, "low", 0}, {130, "high", 0}} {
		out, err := molder.CurlingChain{Piece: c.piece, Heights: list.Heights, Lightest: list.Lightest, Measured: true}.Solve()
		require.NoError(t, err)
		assert.Equal(t, c.name, out.Name, "%v", c.piece)
		assert.Equal(t, c.want, out.Conditions, "%v", c.piece)
	}
	// Bad above as well: the border keeps to both.
	in.Trials = append(in.Trials, molder.ChainTrial{Height: 1, Piece: 116, Verdict: molder.TooLittle})
	list, err = in.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(118), list.Heights[0].UpTo)
	// Pieces of 120 to 150 g failed at both heights.
	in.Trials[len(in.Trials)-1].Piece = 150
	_, err = in.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "120 g was bad at low and 150 g at high")

	_, err = molder.CurlingChain{Piece: 85, Heights: heights, Lightest: 60.1}.Solve()
	assert.Equal(t, []string{"lightest"}, fields(err), "heavier than the lowest height goes")
}

func TestChainOfRandomTrials(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	lists := 0
	for range 20000 {
		in := molder.ChainFromTrials{Names: []string{"low", "middle", "high"}}
		for range 3 + r.IntN(8) {
			height := r.IntN(3)
			verdict := molder.Good
			if r.IntN(3) == 0 {
				verdict = molder.TooMuch
			}
			in.Trials = append(in.Trials, molder.ChainTrial{Height: height, Piece: unit.Mass(1 + 100*height + r.IntN(300)), Verdict: verdict})
		}
		list, err := in.Solve()
		if err != nil {
			continue
		}
		lists++
		for _, trial := range in.Trials {
			out, err := molder.CurlingChain{Piece: trial.Piece, Heights: list.Heights, Lightest: list.Lightest, Measured: true}.Solve()
			if err == nil && trial.Verdict != molder.Good && !out.Conditions.Has(reckon.Extrapolated) {
				require.NotEqual(t, trial.Height, out.Height, "%+v: %v goes where it was bad", in.Trials, trial.Piece)
			}
		}
	}
	assert.Greater(t, lists, 1000)
}

func TestChainRefuses(t *testing.T) {
	_, err := molder.CurlingChain{Margin: 60}.Solve()
	assert.Equal(t, []string{"piece", "heights", "margin"}, fields(err))
	_, err = molder.CurlingChain{Piece: 85, Heights: []molder.ChainHeight{{Name: "a", UpTo: 100}, {UpTo: 100}, {Name: "c"}, {Name: "d", UpTo: 150}}}.Solve()
	assert.Equal(t, []string{"heights[1].name", "heights[1].up_to", "heights[2].up_to"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.CurlingChain{Piece: 901, Heights: heights}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, "900 g", none.High)

	_, err = molder.ChainFromTrials{Trials: []molder.ChainTrial{{Height: -1}}}.Solve()
	assert.Equal(t, []string{"trials[0].height", "trials[0].piece", "trials[0].verdict", "names"}, fields(err))
	_, err = molder.ChainFromTrials{Names: []string{""}}.Solve()
	assert.Equal(t, []string{"names[0]", "trials"}, fields(err))
	// A good piece without a weight is refused as such; it does not hide one that has it.
	good := func(pieces ...unit.Mass) (q molder.ChainFromTrials) {
		q.Names = []string{"only"}
		for _, p := range pieces {
			q.Trials = append(q.Trials, molder.ChainTrial{Piece: p, Verdict: molder.Good})
		}
		return q
	}
	_, err = good(50, 0).Solve()
	assert.Equal(t, []string{"trials[1].piece"}, fields(err))
	_, err = good(0, 50).Solve()
	assert.Equal(t, []string{"trials[0].piece"}, fields(err))
	_, err = good(0).Solve()
	assert.Equal(t, []string{"trials[0].piece"}, fields(err))
	bad := chain
	bad.Trials = append([]molder.ChainTrial{{Height: 1, Piece: 150, Verdict: molder.TooMuch}}, chain.Trials...)
	_, err = bad.Solve()
	require.ErrorAs(t, err, &none, "a bad piece among the good ones")
	bad.Trials = []molder.ChainTrial{{Height: 0, Piece: 500, Verdict: molder.Good}, {Height: 1, Piece: 100, Verdict: molder.Good}, {Height: 2, Piece: 50, Verdict: molder.Good}}
	_, err = bad.Solve()
	require.ErrorAs(t, err, &none, "heavier pieces on a lower chain")
}

func ExampleCurlingChain() {
	out, _ := molder.CurlingChain{
		Piece: unit.Ounces(3), Measured: true,
		Heights: []molder.ChainHeight{{Name: "low", UpTo: unit.Grams(60)}, {Name: "middle", UpTo: unit.Grams(250)}, {Name: "high", UpTo: unit.Grams(900)}},
	}.Solve()
	fmt.Printf("Hang the chain %s: for pieces above %v and up to %v.\n", out.Name, out.Above, out.UpTo)
	// Output:
	// Hang the chain middle: for pieces above 60 g and up to 250 g.
}

func ExampleChainFromTrials() {
	out, _ := molder.ChainFromTrials{
		Names: []string{"low", "high"},
		Trials: []molder.ChainTrial{
			{Height: 0, Piece: unit.Grams(50), Verdict: molder.Good},
			{Height: 0, Piece: unit.Grams(90), Verdict: molder.TooLittle},
			{Height: 1, Piece: unit.Grams(70), Verdict: molder.Good},
			{Height: 1, Piece: unit.Grams(400), Verdict: molder.Good},
		},
	}.Solve()
	for _, h := range out.Heights {
		fmt.Printf("%s: up to %v\n", h.Name, h.UpTo)
	}
	// Output:
	// low: up to 60 g
	// high: up to 400 g
}

func BenchmarkChainFromTrials(b *testing.B) {
	dst := make([]molder.ChainHeight, 0, 3)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = chain.Append(dst[:0])
	}
}

func FuzzChain(f *testing.F) {
	f.Add(85.0, 60.0, 250.0, 5.0)
	f.Fuzz(func(t *testing.T, m, a, b, margin float64) {
		if out, err := (molder.CurlingChain{
			Piece: unit.Mass(m), Margin: unit.Percent(margin),
			Heights: []molder.ChainHeight{{Name: "low", UpTo: unit.Mass(a)}, {Name: "high", UpTo: unit.Mass(b)}},
		}).Solve(); err == nil {
			finite(t, out)
			assert.LessOrEqual(t, unit.Mass(m), out.UpTo)
		}
		if out, err := (molder.ChainFromTrials{Names: []string{"low", "high"}, Trials: []molder.ChainTrial{
			{Piece: unit.Mass(a), Verdict: molder.Good}, {Height: 1, Piece: unit.Mass(b), Verdict: molder.Good}, {Piece: unit.Mass(m), Verdict: molder.TooMuch},
		}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
