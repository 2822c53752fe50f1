package molder_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

var moulder = molder.PressureBoard{
	Piece: 500, Density: 1.1, RollDiameter: 60, HeightIn: 58, HeightOut: 46, BoardLength: 900, Belt: 300,
	Spring: 1.05, Guides: 280, SealTurns: 4, Measured: true,
}

func TestBoardGoesBack(t *testing.T) {
	for _, in := range []unit.Length{46, 46.0001, 50, 60, 80} {
		m := moulder
		m.HeightIn = in
		out, err := m.Solve()
		require.NoError(t, err)
		length, err := molder.BoardLengthForTurns{Turns: out.Turns, RollDiameter: m.RollDiameter, HeightIn: in, HeightOut: m.HeightOut, Spring: m.Spring}.Solve()
		require.NoError(t, err)
		same(t, m.BoardLength, length.BoardLength, "board")
		same(t, out.ContactLength, length.ContactLength, "contact")
		if in > 60 {
			continue // no bite
		}
		back, err := molder.BoardForLength{
			Piece: m.Piece, Density: m.Density, Length: out.Length, RollDiameter: m.RollDiameter, Spring: m.Spring, Measured: true,
			Bite: unit.Percent(100 * (1 - float64(in/m.RollDiameter)) * (1 - 1e-12)),
		}.Solve()
		require.NoError(t, err)
		same(t, m.HeightOut, back.HeightOut, "height out")
		same(t, in, back.HeightIn, "height in")
		same(t, out.Diameter, back.Diameter, "diameter")
	}
}

// The perimeter of a shape whose boundary comes point by point.
func around(points int, at func(turn float64) (x, y float64)) float64 {
	var sum float64
	x, y := at(0)
	for i := 1; i <= points; i++ {
		nx, ny := at(float64(i) / float64(points))
		sum += math.Hypot(nx-x, ny-y)
		x, y = nx, ny
	}
	return sum
}

// The turns against the sum of small turns on the way, each of a stadium that
// is put together from its two half circles and the flats that its area leaves.
func TestBoardTurnsAreTheIntegral(t *testing.T) {
	for _, spring := range []float64{1, 1.05, 1.2, 1.304} {
		for _, c := range []struct{ in, roll, out unit.Length }{{58, 60, 46}, {80, 60, 46}, {46, 60, 46}, {46.001, 60, 46}} {
			m := moulder
			m.HeightIn, m.RollDiameter, m.HeightOut, m.Spring = c.in, c.roll, c.out, spring
			out, err := m.Solve()
			require.NoError(t, err)
			rate := func(x float64) float64 {
				height := float64(c.in) - float64(c.in-c.out)*x/float64(m.BoardLength)
				back := min(float64(c.roll), spring*height) // to which it would spring back
				flat := (math.Pi/4*back*back - math.Pi/4*height*height) / height
				return 1 / (math.Pi*height + 2*flat)
			}
			start, end := float64(m.BoardLength-out.ContactLength), float64(m.BoardLength)
			bend := end // where the piece begins to be drawn out
			if c.in > c.out {
				bend = max(start, min(end, float64(m.BoardLength)*(float64(c.in)-float64(c.roll)/spring)/float64(c.in-c.out)))
			}
			want := quad.Fixed(rate, start, bend, 50, nil, 0) + quad.Fixed(rate, bend, end, 50, nil, 0)
			same(t, want, out.Turns, "turns")
			if c.in > c.roll {
				touch := float64(c.in) - float64(c.in-c.out)*float64(m.BoardLength-out.ContactLength)/float64(m.BoardLength)
				same(t, float64(c.roll), touch, "height at first touch")
			} else {
				assert.Equal(t, m.BoardLength, out.ContactLength)
			}
		}
	}
}

// A flattened piece turns less than a round one of the height of the board, and
// the stadium is the bound: an ellipse of its height and area turns less still.
func TestBoardTurnsOfAFlattenedPiece(t *testing.T) {
	for _, c := range []struct{ spring, round, ellipse float64 }{{1.1, 10.5, 0.2}, {1.3, 34.5, 1.6}, {1.5, 62.5, 3.6}, {2, 150, 8.4}} {
		m := molder.PressureBoard{
			Piece: 800, Density: 1, RollDiameter: 80, HeightIn: 40, HeightOut: 40, BoardLength: 900, Belt: 300, Spring: c.spring, Guides: 2000,
		}
		out, err := m.Solve()
		require.NoError(t, err)
		assert.InDelta(t, c.round, 100*(900/(math.Pi*40)/out.Turns-1), 0.05, "round")
		wide := 40 * c.spring * c.spring // of the same area
		ellipse := around(100_000, func(turn float64) (x, y float64) {
			return wide / 2 * math.Cos(2*math.Pi*turn), 20 * math.Sin(2*math.Pi*turn)
		})
		assert.InDelta(t, c.ellipse, 100*(1-900/ellipse/out.Turns), 0.05, "ellipse")
	}
}

// Seal turns count on the measure of the board: a trial at the heights of a
// working line is just sealed there.
func TestSealTrialsShareTheMeasure(t *testing.T) {
	m := moulder
	m.Spring = 1.3
	short, err := m.Solve()
	require.NoError(t, err)
	m.BoardLength = 1200
	long, err := m.Solve()
	require.NoError(t, err)
	seal, err := molder.SealFromTrials{Trials: []molder.SealTrial{{Turns: short.Turns, Verdict: molder.Good}, {Turns: long.Turns, Verdict: molder.Good}}}.Solve()
	require.NoError(t, err)
	m.BoardLength, m.SealTurns = 900, seal.GoodLow
	out, err := m.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
	m.BoardLength = 890
	out, err = m.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.SeamOpen, out.Conditions)
}

// The roll of an oval sheet holds the dough of the piece and no more: a board
// cannot make it shorter again.
func TestBoardKeepsTheRollsDough(t *testing.T) {
	roll, err := molder.TurnsForGap{Piece: 500, Density: 1.1, Gap: 4, Recovery: 1.8, Aspect: 1.6}.Solve()
	require.NoError(t, err)
	same(t, 500/1.1*1000, math.Pi/4*float64(roll.Mean*roll.Mean*roll.Width), "volume of the even roll")
	same(t, 4/math.Pi, math.Pi/4*float64(roll.Diameter*roll.Diameter*roll.Width)/(500/1.1*1000), "volume of a cylinder of the middle")

	q := molder.BoardForLength{Piece: 500, Density: 1.1, Length: roll.Width * 0.9, RollDiameter: roll.Diameter, RollLength: roll.Width, Spring: 1.1, Bite: 5}
	_, err = q.Solve()
	var none *reckon.NoSolutionError
	require.ErrorAs(t, err, &none, "a piece thinner than the middle of the roll and shorter than the roll")
	assert.Equal(t, roll.Width.String(), none.Low)
	q.Length = roll.Width
	set, err := q.Solve()
	require.NoError(t, err)
	same(t, roll.Mean, set.Diameter, "as long as the roll")

	board := molder.PressureBoard{
		Piece: 500, Density: 1.1, RollDiameter: roll.Diameter, RollLength: roll.Width, HeightIn: set.HeightIn, HeightOut: set.HeightOut,
		BoardLength: 900, Belt: 300, Spring: 1.1, Guides: 400,
	}
	_, err = board.Solve()
	require.NoError(t, err)
	board.HeightOut *= 1.001
	_, err = board.Solve()
	assert.Equal(t, []string{"height_out"}, fields(err))
	board.RollDiameter = roll.Mean * 0.999
	_, err = board.Solve()
	assert.Equal(t, []string{"roll_diameter"}, fields(err), "too thin to hold the dough")
	board.RollLength = 1
	_, err = board.Solve()
	assert.Equal(t, []string{"roll_length"}, fields(err))
	q.RollDiameter = roll.Mean * 0.999
	_, err = q.Solve()
	assert.Equal(t, []string{"roll_diameter"}, fields(err))
}

func TestBoardConditions(t *testing.T) {
	out, err := moulder.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.Conditions)
	m := moulder
	m.SealTurns = out.Turns * 1.01
	out, err = m.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.SeamOpen, out.Conditions)
	m.SealTurns = 0
	out, err = m.Solve()
	require.NoError(t, err)
	assert.Equal(t, molder.Conditions(reckon.Uncalibrated), out.Conditions)
}

func TestBoardRefuses(t *testing.T) {
	_, err := molder.PressureBoard{SealTurns: -1}.Solve()
	assert.Equal(t, []string{"piece", "density", "roll_diameter", "height_in", "height_out", "board_length", "belt", "spring", "guides", "seal_turns"}, fields(err))
	m := moulder
	m.HeightOut = 59
	_, err = m.Solve()
	assert.Equal(t, []string{"height_out"}, fields(err), "a board that widens")
	m = moulder
	m.Guides = 150
	_, err = m.Solve()
	require.Equal(t, []string{"height_out"}, fields(err), "no room between the guides")
	lowest, perr := unit.ParseLength(reckon.InputErrors(err)[0].Want[len("at least "):len("at least 59.16 mm")])
	require.NoError(t, perr)
	m.HeightIn, m.RollDiameter, m.HeightOut = 70, 70, lowest+0.01
	_, err = m.Solve()
	assert.NoError(t, err, "the height named must do")

	_, err = molder.BoardForLength{Bite: 60}.Solve()
	assert.Equal(t, []string{"piece", "density", "length", "roll_diameter", "spring", "bite"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.BoardForLength{Piece: 500, Density: 1.1, Length: 100, RollDiameter: 60, Spring: 1}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = molder.BoardForLength{Piece: 500, Density: 1.1, Length: 240, RollDiameter: 60, Spring: 1, Bite: 50}.Solve()
	assert.Equal(t, []string{"bite"}, fields(err))
	_, err = molder.BoardLengthForTurns{}.Solve()
	assert.Equal(t, []string{"turns", "roll_diameter", "height_in", "height_out", "spring"}, fields(err))
	_, err = molder.BoardLengthForTurns{Turns: 5, RollDiameter: 60, HeightIn: 50, HeightOut: 50, Spring: 1.3}.Solve()
	assert.Equal(t, []string{"height_out"}, fields(err), "65 mm from a roll of 60 mm")
	_, err = molder.BoardLengthForTurns{Turns: 100, RollDiameter: 1 + 1e-9, HeightIn: 500, HeightOut: 1, Spring: 1}.Solve()
	require.ErrorAs(t, err, &none, "nearly all of the board passes above the roll")
	_, err = molder.SealFromTrials{Trials: []molder.SealTrial{{}}}.Solve()
	assert.Equal(t, []string{"trials[0].turns", "trials[0].verdict"}, fields(err))
	_, err = molder.SealFromTrials{}.Solve()
	assert.Equal(t, []string{"trials"}, fields(err))
	_, err = molder.SealFromTrials{Trials: []molder.SealTrial{{Turns: 6, Verdict: molder.Good}, {Turns: 9, Verdict: molder.Good}, {Turns: 8, Verdict: molder.TooMuch}}}.Solve()
	require.ErrorAs(t, err, &none)
}

// The board makes a piece thinner and longer, never thicker and shorter.
func TestBoardOnlyMakesThinner(t *testing.T) {
	thick := molder.PressureBoard{Piece: 500, Density: 1.1, RollDiameter: 80, HeightIn: 79, HeightOut: 79, BoardLength: 1000, Belt: 300, Spring: 5, Guides: 250}
	_, err := thick.Solve()
	require.Equal(t, []string{"height_out"}, fields(err), "395 mm thick from a roll of 80 mm")
	assert.ErrorContains(t, err, "at most 16 mm", "80 mm over a spring of 5")
	thick.Spring, thick.HeightOut = 1.25, 64 // springs back to the roll itself
	out, err := thick.Solve()
	require.NoError(t, err)
	assert.Equal(t, unit.Length(80), out.Diameter)
	thick.HeightOut = 64.1
	_, err = thick.Solve()
	assert.Equal(t, []string{"height_out"}, fields(err), "a little thicker than the roll")

	// A roll thicker than the piece as a ball of 95.4 mm: as thick as that is no cylinder.
	wide := molder.PressureBoard{Piece: 500, Density: 1.1, RollDiameter: 200, HeightIn: 150, HeightOut: 96, BoardLength: 1000, Belt: 300, Spring: 1, Guides: 250}
	_, err = wide.Solve()
	assert.Equal(t, []string{"height_out"}, fields(err))
	wide.HeightOut = 95
	_, err = wide.Solve()
	require.NoError(t, err)

	var none *reckon.NoSolutionError
	short := molder.BoardForLength{Piece: 500, Density: 1.1, Length: 20, RollDiameter: 80, Spring: 5}
	_, err = short.Solve()
	require.ErrorAs(t, err, &none)
	// 500 g of 1.1 g/ml: 4 V / (pi 80^2) = 90.43 mm; with the exit at 1 mm it would be 5 mm thick and 23 m long, and guides open to 2 m.
	assert.Equal(t, [2]string{"90.43 mm", "2 m"}, [2]string{none.Low, none.High})
	short.Length = 90.5
	_, err = short.Solve()
	require.NoError(t, err, "the range named must be reachable")
	// 10 g of 1 g/ml, 2 m long: 2.52 mm thick; with a spring of 5 the exit would be at 0.5 mm.
	_, err = molder.BoardForLength{Piece: 10, Density: 1, Length: 2000, RollDiameter: 20, Spring: 5}.Solve()
	require.ErrorAs(t, err, &none)
	_, err = molder.BoardForLength{Piece: 1, Density: 1.5, Length: 2000, RollDiameter: 4, Spring: 5}.Solve()
	assert.ErrorContains(t, err, "measure roll_diameter and spring again", "even at 1 mm it would come out thicker than the roll")
	// 4 * 10000 / (pi 5^2) = 509.3 mm.
	assert.Equal(t, "509.3 mm", none.High)
}

func TestBoardTooLowForTheRoll(t *testing.T) {
	m := molder.PressureBoard{Piece: 500, Density: 1.1, RollDiameter: 80, HeightIn: 10, HeightOut: 10, BoardLength: 1000, Belt: 300, Spring: 4, Guides: 400}
	_, err := m.Solve()
	require.Equal(t, []string{"height_in"}, fields(err))
	m.HeightIn = 40
	_, err = m.Solve()
	require.NoError(t, err, "half of the roll")
	m.HeightIn = 39.9
	_, err = m.Solve()
	require.Equal(t, []string{"height_in"}, fields(err))
	_, err = molder.BoardLengthForTurns{Turns: 5, RollDiameter: 80, HeightIn: 39.9, HeightOut: 10, Spring: 4}.Solve()
	require.Equal(t, []string{"height_in"}, fields(err))
}

// The turns that a board gives are turns that a board can be asked for.
func TestBoardTurnsAreBounded(t *testing.T) {
	m := molder.PressureBoard{Piece: 5, Density: 1.1, RollDiameter: 10, HeightIn: 9, HeightOut: 9, BoardLength: 10000, Belt: 300, Spring: 1, Guides: 400}
	_, err := m.Solve()
	assert.Equal(t, []string{"board_length"}, fields(err), "10 m / (pi 9 mm) = 354 turns")
	m.BoardLength, m.HeightIn = 50, 500 // it touches over 0.1 mm: 1/491 of the fall
	_, err = m.Solve()
	assert.Equal(t, []string{"board_length"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.BoardLengthForTurns{Turns: 100, RollDiameter: 60, HeightIn: 50, HeightOut: 50, Spring: 1}.Solve()
	require.ErrorAs(t, err, &none)
	// 50 mm and 10 m over pi 50 mm.
	assert.Equal(t, [2]string{"0.3183 turns", "63.66 turns"}, [2]string{none.Low, none.High})
	_, err = molder.BoardLengthForTurns{Turns: 0.3, RollDiameter: 60, HeightIn: 50, HeightOut: 50, Spring: 1}.Solve()
	require.ErrorAs(t, err, &none)
	assert.ErrorContains(t, err, "ask for more turns")
}

func ExamplePressureBoard() {
	out, _ := molder.PressureBoard{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100), RollDiameter: unit.Millimetres(60),
		HeightIn: unit.Millimetres(58), HeightOut: unit.Millimetres(46), BoardLength: unit.Millimetres(900),
		Belt: unit.MetresPerMinute(18), Spring: 1.05, Guides: unit.Millimetres(280), SealTurns: 6, Measured: true,
	}.Solve()
	fmt.Printf("The piece comes out %v thick and %v long after %.1f turns.\n", out.Diameter, out.Length, out.Turns)
	for _, s := range out.Conditions.Sentences() {
		fmt.Println(s)
	}
	// Output:
	// The piece comes out 48.3 mm thick and 248.1 mm long after 5.3 turns.
	// The piece turns too little under the board to close its seam: lengthen the board, lower it or roll a thinner piece.
}

func ExampleBoardForLength() {
	out, _ := molder.BoardForLength{
		Piece: unit.Grams(500), Density: unit.KilogramsPerCubicMetre(1100), Length: unit.Millimetres(240),
		RollDiameter: unit.Millimetres(60), Spring: 1.05, Bite: 5, Measured: true,
	}.Solve()
	fmt.Printf("Set the board to %v at the entry and %v at the exit.\n", out.HeightIn, out.HeightOut)
	// Output:
	// Set the board to 57 mm at the entry and 46.77 mm at the exit.
}

func ExampleBoardLengthForTurns() {
	out, _ := molder.BoardLengthForTurns{
		Turns: 6, RollDiameter: unit.Millimetres(60), HeightIn: unit.Millimetres(58), HeightOut: unit.Millimetres(46), Spring: 1.05,
	}.Solve()
	fmt.Printf("Six turns need a board of %v.\n", out.BoardLength)
	// Output:
	// Six turns need a board of 1.025 m.
}

func ExampleSealFromTrials() {
	out, _ := molder.SealFromTrials{Trials: []molder.SealTrial{
		{Turns: 3, Verdict: molder.TooLittle}, {Turns: 6, Verdict: molder.Good}, {Turns: 9, Verdict: molder.Good}, {Turns: 14, Verdict: molder.TooMuch},
	}}.Solve()
	fmt.Printf("This dough seals with %v to %v turns.\n", out.GoodLow, out.GoodHigh)
	// Output:
	// This dough seals with 6 to 9 turns.
}

func FuzzPressureBoard(f *testing.F) {
	f.Add(500.0, 1.1, 60.0, 58.0, 46.0, 900.0, 300.0, 1.05, 280.0, 5.0)
	f.Fuzz(func(t *testing.T, m, rho, roll, in, low, board, belt, spring, guides, turns float64) {
		if out, err := (molder.PressureBoard{
			Piece: unit.Mass(m), Density: unit.Density(rho), RollDiameter: unit.Length(roll), HeightIn: unit.Length(in),
			HeightOut: unit.Length(low), BoardLength: unit.Length(board), Belt: unit.Speed(belt), Spring: spring, Guides: unit.Length(guides), SealTurns: turns,
		}).Solve(); err == nil {
			finite(t, out)
			assert.LessOrEqual(t, out.Length, unit.Length(guides))
		}
		if out, err := (molder.BoardForLength{
			Piece: unit.Mass(m), Density: unit.Density(rho), Length: unit.Length(guides), RollDiameter: unit.Length(roll), Spring: spring, Bite: unit.Percent(turns),
		}).Solve(); err == nil {
			finite(t, out)
			assert.GreaterOrEqual(t, out.HeightIn, out.HeightOut)
		}
		if out, err := (molder.BoardLengthForTurns{Turns: turns, RollDiameter: unit.Length(roll), HeightIn: unit.Length(in), HeightOut: unit.Length(low), Spring: spring}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
