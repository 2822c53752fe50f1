package molder_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"

	"example.com/dough/doughmath"
	"example.com/dough/molder"
)

var moulder = molder.PressureBoardInput{
	Piece: 500, Density: 1.1, Roll: 60, HeightIn: 58, HeightOut: 46, Board: 900, Belt: 300,
	Spring: 1.05, Guides: 280, SealTurns: 4, Measured: true,
}

func TestBoardGoesBack(t *testing.T) {
	for _, in := range []doughmath.Length{46, 46.0001, 50, 60, 80} {
		m := moulder
		m.HeightIn = in
		out, err := molder.PressureBoard(m)
		require.NoError(t, err)
		length, err := molder.BoardLengthForTurns(molder.BoardLengthForTurnsInput{Turns: out.Turns, Roll: m.Roll, HeightIn: in, HeightOut: m.HeightOut})
		require.NoError(t, err)
		same(t, m.Board, length.Board, "board")
		same(t, out.Contact, length.Contact, "contact")
		if in > 60 {
			continue // no bite
		}
		back, err := molder.BoardForLength(molder.BoardForLengthInput{
			Piece: m.Piece, Density: m.Density, Length: out.Length, Roll: m.Roll, Spring: m.Spring, Measured: true,
			Bite: doughmath.Percent(100 * (1 - float64(in/m.Roll)) * (1 - 1e-12)),
		})
		require.NoError(t, err)
		same(t, m.HeightOut, back.HeightOut, "height out")
		same(t, in, back.HeightIn, "height in")
		same(t, out.Diameter, back.Diameter, "diameter")
	}
}

// The logarithmic mean against the sum of small turns on the way.
func TestBoardTurnsAreTheIntegral(t *testing.T) {
	for _, c := range []struct{ in, roll, out doughmath.Length }{{58, 60, 46}, {80, 60, 46}, {46, 60, 46}, {46.001, 60, 46}} {
		m := moulder
		m.HeightIn, m.Roll, m.HeightOut = c.in, c.roll, c.out
		out, err := molder.PressureBoard(m)
		require.NoError(t, err)
		want := quad.Fixed(func(x float64) float64 {
			height := float64(c.in) - float64(c.in-c.out)*x/float64(m.Board)
			return 1 / (math.Pi * height)
		}, float64(m.Board-out.Contact), float64(m.Board), 50, nil, 0)
		same(t, want, out.Turns, "turns")
		if c.in > c.roll {
			touch := float64(c.in) - float64(c.in-c.out)*float64(m.Board-out.Contact)/float64(m.Board)
			same(t, float64(c.roll), touch, "height at first touch")
		} else {
			assert.Equal(t, m.Board, out.Contact)
		}
	}
}

func TestBoardConditions(t *testing.T) {
	out, err := molder.PressureBoard(moulder)
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
	m := moulder
	m.SealTurns = out.Turns * 1.01
	out, err = molder.PressureBoard(m)
	require.NoError(t, err)
	assert.Equal(t, doughmath.SeamOpen, out.Conditions)
	m.SealTurns = 0
	out, err = molder.PressureBoard(m)
	require.NoError(t, err)
	assert.Equal(t, doughmath.Uncalibrated, out.Conditions)
}

func TestBoardRefuses(t *testing.T) {
	_, err := molder.PressureBoard(molder.PressureBoardInput{SealTurns: -1})
	assert.Equal(t, []string{"piece", "density", "roll", "height_in", "height_out", "board", "belt", "spring", "guides", "seal_turns"}, fields(err))
	m := moulder
	m.HeightOut = 59
	_, err = molder.PressureBoard(m)
	assert.Equal(t, []string{"height_out"}, fields(err), "a board that widens")
	m = moulder
	m.Guides = 150
	_, err = molder.PressureBoard(m)
	require.Equal(t, []string{"height_out"}, fields(err), "no room between the guides")
	lowest, perr := doughmath.ParseLength(doughmath.InputErrors(err)[0].Want[len("at least "):len("at least 59.16 mm")])
	require.NoError(t, perr)
	m.HeightIn, m.Roll, m.HeightOut = 70, 70, lowest+0.01
	_, err = molder.PressureBoard(m)
	assert.NoError(t, err, "the height named must do")

	_, err = molder.BoardForLength(molder.BoardForLengthInput{Bite: 60})
	assert.Equal(t, []string{"piece", "density", "length", "roll", "spring", "bite"}, fields(err))
	var none *doughmath.NoSolutionError
	_, err = molder.BoardForLength(molder.BoardForLengthInput{Piece: 500, Density: 1.1, Length: 100, Roll: 60, Spring: 1})
	require.ErrorAs(t, err, &none)
	_, err = molder.BoardForLength(molder.BoardForLengthInput{Piece: 500, Density: 1.1, Length: 240, Roll: 60, Spring: 1, Bite: 50})
	assert.Equal(t, []string{"bite"}, fields(err))
	_, err = molder.BoardLengthForTurns(molder.BoardLengthForTurnsInput{})
	assert.Equal(t, []string{"turns", "roll", "height_in", "height_out"}, fields(err))
	_, err = molder.BoardLengthForTurns(molder.BoardLengthForTurnsInput{Turns: 100, Roll: 1 + 1e-9, HeightIn: 500, HeightOut: 1})
	assert.Equal(t, []string{"height_in"}, fields(err))
	_, err = molder.SealFromTrials(molder.SealFromTrialsInput{Trials: []molder.SealTrial{{}}})
	assert.Equal(t, []string{"trials[0].turns", "trials[0].verdict"}, fields(err))
	_, err = molder.SealFromTrials(molder.SealFromTrialsInput{})
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.SealFromTrials(molder.SealFromTrialsInput{Trials: []molder.SealTrial{{Turns: 6, Verdict: molder.Good}, {Turns: 9, Verdict: molder.Good}, {Turns: 8, Verdict: molder.TooMuch}}})
	require.ErrorAs(t, err, &none)
}

func ExamplePressureBoard() {
	out, _ := molder.PressureBoard(molder.PressureBoardInput{
		Piece: doughmath.Grams(500), Density: doughmath.KilogramsPerCubicMetre(1100), Roll: doughmath.Millimetres(60),
		HeightIn: doughmath.Millimetres(58), HeightOut: doughmath.Millimetres(46), Board: doughmath.Millimetres(900),
		Belt: doughmath.MetresPerMinute(18), Spring: 1.05, Guides: doughmath.Millimetres(280), SealTurns: 6, Measured: true,
	})
	fmt.Printf("The piece comes out %v thick and %v long after %.1f turns.\n", out.Diameter, out.Length, out.Turns)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// The piece comes out 48.3 mm thick and 248.1 mm long after 5.5 turns.
	// The piece turns too little under the board to close its seam: lengthen the board, lower it or roll a thinner piece.
}

func ExampleBoardForLength() {
	out, _ := molder.BoardForLength(molder.BoardForLengthInput{
		Piece: doughmath.Grams(500), Density: doughmath.KilogramsPerCubicMetre(1100), Length: doughmath.Millimetres(240),
		Roll: doughmath.Millimetres(60), Spring: 1.05, Bite: 5, Measured: true,
	})
	fmt.Printf("Set the board to %v at the entry and %v at the exit.\n", out.HeightIn, out.HeightOut)
	// Output:
	// Set the board to 57 mm at the entry and 46.77 mm at the exit.
}

func ExampleBoardLengthForTurns() {
	out, _ := molder.BoardLengthForTurns(molder.BoardLengthForTurnsInput{
		Turns: 6, Roll: doughmath.Millimetres(60), HeightIn: doughmath.Millimetres(58), HeightOut: doughmath.Millimetres(46),
	})
	fmt.Printf("Six turns need a board of %v.\n", out.Board)
	// Output:
	// Six turns need a board of 975.8 mm.
}

func ExampleSealFromTrials() {
	out, _ := molder.SealFromTrials(molder.SealFromTrialsInput{Trials: []molder.SealTrial{
		{Turns: 3, Verdict: molder.TooLittle}, {Turns: 6, Verdict: molder.Good}, {Turns: 9, Verdict: molder.Good}, {Turns: 14, Verdict: molder.TooMuch},
	}})
	fmt.Printf("This dough seals with %v to %v turns.\n", out.Least, out.Most)
	// Output:
	// This dough seals with 6 to 9 turns.
}

func FuzzPressureBoard(f *testing.F) {
	f.Add(500.0, 1.1, 60.0, 58.0, 46.0, 900.0, 300.0, 1.05, 280.0, 5.0)
	f.Fuzz(func(t *testing.T, m, rho, roll, in, low, board, belt, spring, guides, turns float64) {
		if out, err := molder.PressureBoard(molder.PressureBoardInput{
			Piece: doughmath.Mass(m), Density: doughmath.Density(rho), Roll: doughmath.Length(roll), HeightIn: doughmath.Length(in),
			HeightOut: doughmath.Length(low), Board: doughmath.Length(board), Belt: doughmath.Speed(belt), Spring: spring, Guides: doughmath.Length(guides), SealTurns: turns,
		}); err == nil {
			finite(t, out)
			assert.LessOrEqual(t, out.Length, doughmath.Length(guides))
		}
		if out, err := molder.BoardForLength(molder.BoardForLengthInput{
			Piece: doughmath.Mass(m), Density: doughmath.Density(rho), Length: doughmath.Length(guides), Roll: doughmath.Length(roll), Spring: spring, Bite: doughmath.Percent(turns),
		}); err == nil {
			finite(t, out)
			assert.GreaterOrEqual(t, out.HeightIn, out.HeightOut)
		}
		if out, err := molder.BoardLengthForTurns(molder.BoardLengthForTurnsInput{Turns: turns, Roll: doughmath.Length(roll), HeightIn: doughmath.Length(in), HeightOut: doughmath.Length(low)}); err == nil {
			finite(t, out)
		}
	})
}
