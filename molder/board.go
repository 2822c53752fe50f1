package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What boards and pieces under them can be, taken wide.
const (
	lowestBoard   unit.Length = 1
	highestBoard  unit.Length = 500
	shortestBoard unit.Length = 50
	longestBoard  unit.Length = 10000
	leastPressed              = 0.1 // turns under the board
	mostPressed               = 100
	shortestGuide unit.Length = 5
	widestGuide   unit.Length = 2000
)

// deepestBite is how much of the roll's diameter the entry may press. Only the
// friction of the belt draws a roll under the board; one that has to give more
// than half of its thickness at once is held up there and torn. Common
// practice, no source: to be calibrated on the line.
const deepestBite unit.Percent = 50

// cylinder returns the length of a piece of volume v (mm³) rolled out to diameter d.
func cylinder(v, d float64) float64 { return 4 * v / (math.Pi * d * d) }

// PressureBoard returns the diameter and length of the moulded piece, and how often it turns under the board:
//
//	d = spring * height out,  L = 4 m / (pi rho d^2)
//	turns = contact / (pi h_m),  h_m = (h_0 - h_1) / ln(h_0 / h_1)
//	time = 2 contact / belt speed
//
// with h_0 the height at which the board first touches and h_1 the height
// where the piece leaves. Between a moving belt and a fixed board the middle
// of a rolling piece moves at half the speed of the belt. The piece is taken
// as a cylinder that rolls without slip; pointed ends make it longer. The
// board only makes a piece thinner and longer: it comes out no thicker than
// the roll and thinner than the piece as a ball. The entry may press the roll
// by up to half of its diameter; what is held to give more is held up and torn
// (common practice, to be calibrated).
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg, or density outside 0.1 to 1.5 g/ml,
//   - roll, height_in or height_out is outside 1 to 500 mm,
//   - height_in is less than half of roll, so that the piece cannot pass,
//   - height_out is above height_in, or not below roll (the board would not touch),
//   - height_out is so high that the piece would come out thicker than roll, or as thick as a ball of its weight,
//   - height_out is so low that the piece would have to be longer than the guides let it,
//   - board is outside 50 to 10000 mm, or turns the piece less than 0.1 or more than 100 times, belt outside 0.1 mm/s to 10 m/s, spring outside 1 to 5,
//   - guides is outside 5 to 2000 mm, or seal_turns outside 0 to 100.
//
// Source: cylinder volume and kinematics of rolling (derived); cases in
// testdata/cases/molder/pressure-board.json.
//
// The inverses are [BoardForLength] and [BoardLengthForTurns].
type PressureBoard struct {
	Piece     unit.Mass    `json:"piece"`               // piece weight, 1 g to 10 kg
	Density   unit.Density `json:"density"`             // density of the dough under the board, 0.1 to 1.5 g/ml
	Roll      unit.Length  `json:"roll"`                // diameter of the rolled piece as it comes, 1 to 500 mm, as [Curls] gives it
	HeightIn  unit.Length  `json:"height_in"`           // height of the board over the belt where the piece enters, 1 to 500 mm and at least half of roll
	HeightOut unit.Length  `json:"height_out"`          // height where it leaves, 1 mm to height_in and less than roll; the piece springs back to no more than roll
	Board     unit.Length  `json:"board"`               // length of the board along the belt, 50 to 10000 mm
	Belt      unit.Speed   `json:"belt"`                // belt speed, 0.1 mm/s to 10 m/s
	Spring    float64      `json:"spring"`              // diameter of the finished piece over height_out, 1 to 5: as [RecoveryFromSheet] gives it, with the height for the gap
	Guides    unit.Length  `json:"guides"`              // distance between the side guides, 5 to 2000 mm: the piece grows no longer
	SealTurns float64      `json:"seal_turns,omitzero"` // least turns under the board that closed the seam, up to 100: see [SealFromTrials]; leave out if not known
	Measured  bool         `json:"measured,omitzero"`   // true if spring was measured on this line
}

func (PressureBoard) ID() string { return "pressure-board" }

// SHELL
func (q PressureBoard) Check(c *reckon.Checks) {
	_, err := explainPressureBoard(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PressureBoard) Solve() (PressureBoardResult, error) { return explainPressureBoard(q, nil) }

func (q PressureBoard) Show(w *reckon.Working, _ PressureBoardResult) {
	_, _ = explainPressureBoard(q, w)
}

// PressureBoardResult is the moulded piece.
type PressureBoardResult struct {
	Diameter   unit.Length     `json:"diameter"`   // of the finished piece
	Length     unit.Length     `json:"length"`     // of the finished piece, as a cylinder
	Contact    unit.Length     `json:"contact"`    // part of the board that touches the piece
	Turns      float64         `json:"turns"`      // revolutions of the piece under the board
	Time       unit.Duration   `json:"time"`       // in contact with the board
	Conditions Conditions      `json:"conditions"` // seam-open, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainPressureBoard(in PressureBoard, w *reckon.Working) (out PressureBoardResult, err error) {
	c := reckon.Checks{Func: "pressure-board"}
	ok := checkPiece(&c, in.Piece, in.Density)
	heights := checkHeights(&c, in.Roll, in.HeightIn, in.HeightOut)
	board := reckon.CheckRange(&c, "board", in.Board, shortestBoard, longestBoard)
	reckon.CheckRange(&c, "belt", in.Belt, slowestBelt, fastestBelt)
	ok = reckon.CheckRange(&c, "spring", in.Spring, 1, 5) && ok
	ok = reckon.CheckRange(&c, "guides", in.Guides, shortestGuide, widestGuide) && ok
	reckon.CheckRange(&c, "seal_turns", in.SealTurns, 0, mostPressed)
	v := volume(in.Piece, in.Density)
	d := in.Spring * float64(in.HeightOut)
	// The height that [BoardForLength] gives for these guides is just enough; the
	// slack forgives the rounding of binary arithmetic, no more.
	switch {
	case !ok || !heights:
	case d > float64(in.Roll)*(1+1e-9) || asThickAsBall(d, in.Piece, in.Density):
		ball := sphere(in.Piece, in.Density)
		highest := min(in.Roll, ball) / unit.Length(in.Spring)
		c.Fail("height_out", in.HeightOut.String(), "at most "+highest.String()+": higher, a roll of "+in.Roll.String()+" of a piece that is "+ball.String()+
			" thick as a ball would come out "+unit.Length(d).String()+" thick, and the board only makes it thinner; lower the board or measure spring again")
	case cylinder(v, d) > float64(in.Guides)*(1+1e-9):
		lowest := unit.Length(math.Sqrt(4*v/(math.Pi*float64(in.Guides))) / in.Spring)
		c.Fail("height_out", in.HeightOut.String(), "at least "+lowest.String()+": lower, the piece has nowhere to go between the guides; raise the board or open the guides")
	}
	contact, mean := contactOf(float64(in.Board), float64(in.Roll), float64(in.HeightIn), float64(in.HeightOut))
	if turns := contact / (math.Pi * mean); board && heights && !(turns >= leastPressed*(1-1e-9) && turns <= mostPressed*(1+1e-9)) {
		c.Fail("board", in.Board.String(), "a board under which the piece turns "+number(leastPressed)+" to "+number(mostPressed)+" times: at these heights it turns "+number(turns)+" times")
	}
	if err := c.Err(); err != nil {
		return PressureBoardResult{}, err
	}
	out = PressureBoardResult{
		Diameter: unit.Length(d), Length: unit.Length(cylinder(v, d)), Contact: unit.Length(contact),
		Turns: contact / (math.Pi * mean), Time: unit.Duration(2 * contact / float64(in.Belt)), Cautions: reckon.MovingMachinery,
	}
	if !in.Measured || in.SealTurns == 0 {
		out.Conditions |= reckon.Uncalibrated
	}
	if out.Turns < in.SealTurns {
		out.Conditions |= SeamOpen
	}
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Given("spring behind the board", "s", in.Spring, "", "")
		explainContact(w, in.Board, in.Roll, in.HeightIn, in.HeightOut, contact, mean)
		w.Step("diameter of the piece", "d", "s * h_1", d, "mm", "")
		w.Step("length of the piece", "L", "4*V / (pi*d*d)", float64(out.Length), "mm", "volume of a cylinder")
		w.Given("belt speed", "v", float64(in.Belt), "mm/s", "")
		w.Step("time under the board", "T", "2 * c / v", float64(out.Time), "s", "the middle of the piece moves at half the speed of the belt")
		w.Step("turns under the board", "N", "c / (pi * h_m)", out.Turns, "", "rolling without slip")
	}
	return out, nil
}

// checkHeights wants a board that narrows, or stays level, touches the piece and lets it in.
func checkHeights(c *reckon.Checks, roll, in, out unit.Length) bool {
	ok := reckon.CheckRange(c, "roll", roll, lowestBoard, highestBoard)
	ok = reckon.CheckRange(c, "height_in", in, lowestBoard, highestBoard) && ok
	ok = reckon.CheckRange(c, "height_out", out, lowestBoard, highestBoard) && ok
	if !ok {
		return false
	}
	// An entry set for exactly the deepest bite must not fail for its last binary digit.
	if lowest := roll * (1 - unit.Length(deepestBite)/100); in < lowest*(1-1e-9) {
		c.Fail("height_in", in.String(), "at least "+lowest.String()+", half of roll: lower, the piece is held up at the entry and torn; raise the entry or roll a thinner piece")
		ok = false
	}
	switch {
	case out > in:
		c.Fail("height_out", out.String(), "at most height_in, "+in.String()+": the board narrows along the belt")
		return false
	case out >= roll:
		c.Fail("height_out", out.String(), "less than roll, "+roll.String()+": otherwise the board does not touch the piece")
		return false
	}
	return ok
}

// contactOf returns the part of the board that touches, and the mean height
// that counts for rolling: the height falls evenly from h_0 to h_1, and the
// piece turns by dx / (pi h) on the way.
func contactOf(board, roll, in, out float64) (contact, mean float64) {
	start := min(in, roll)
	contact = board
	if in > roll {
		contact = board * ((roll - out) / (in - out))
	}
	x := (start - out) / out
	if x == 0 {
		return contact, out
	}
	return contact, out * x / math.Log1p(x)
}

func explainContact(w *reckon.Working, board, roll, in, out unit.Length, contact, mean float64) {
	w.Given("length of the board", "B", float64(board), "mm", "")
	w.Given("diameter of the roll", "D", float64(roll), "mm", "")
	w.Given("height where it enters", "h_in", float64(in), "mm", "")
	w.Given("height where it leaves", "h_1", float64(out), "mm", "")
	w.Step("height where it touches", "h_0", "min(h_in, D)", float64(min(in, roll)), "mm", "")
	if in > roll {
		w.Step("part of the board that touches", "c", "B * (D - h_1) / (h_in - h_1)", contact, "mm", "the board falls evenly")
	} else {
		w.Step("part of the board that touches", "c", "B", contact, "mm", "")
	}
	if min(in, roll) == out {
		w.Step("mean height for rolling", "h_m", "h_1", mean, "mm", "")
	} else {
		w.Step("mean height for rolling", "h_m", "(h_0 - h_1) / ln(h_0/h_1)", mean, "mm", "logarithmic mean")
	}
}

// BoardForLength returns the heights of the board that roll a piece out to the wanted length:
//
//	d = sqrt(4 m / (pi rho L)),  height out = d / spring
//	height in = roll (1 - bite/100)
//
// It is the inverse of [PressureBoard], with the same validity. The board
// narrows along the belt; how much it bites at the entry is the shop's own.
//
// It returns an *[reckon.InputError] if:
//   - piece, density, roll or spring is out of the range that [PressureBoard] names,
//   - length is outside 5 to 2000 mm,
//   - bite is outside 0 to 50 %, or so large that the entry would be lower than the exit.
//
// It returns a *[reckon.NoSolutionError] if the exit would be no lower than
// the roll or lower than 1 mm, or if the piece would come out thicker than the
// roll, or as thick as a ball of its weight: the board can only make it longer.
//
// Source: cylinder volume (derived); narrowing along the board from memory.
type BoardForLength struct {
	Piece    unit.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`           // density of the dough under the board, 0.1 to 1.5 g/ml
	Length   unit.Length  `json:"length"`            // wanted length of the finished piece, 5 to 2000 mm
	Roll     unit.Length  `json:"roll"`              // diameter of the rolled piece as it comes, 1 to 500 mm, as [Curls] gives it
	Spring   float64      `json:"spring"`            // diameter of the finished piece over height_out, 1 to 5: as [RecoveryFromSheet] gives it, with the height for the gap
	Bite     unit.Percent `json:"bite"`              // how much the entry presses the roll, 0 to 50 % of its diameter; the shop's own
	Measured bool         `json:"measured,omitzero"` // true if spring was measured on this line
}

func (BoardForLength) ID() string { return "board-for-length" }

// SHELL
func (q BoardForLength) Check(c *reckon.Checks) {
	_, err := explainBoardForLength(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BoardForLength) Solve() (BoardForLengthResult, error) { return explainBoardForLength(q, nil) }

func (q BoardForLength) Show(w *reckon.Working, _ BoardForLengthResult) {
	_, _ = explainBoardForLength(q, w)
}

// BoardForLengthResult is where the board goes.
type BoardForLengthResult struct {
	HeightIn   unit.Length     `json:"height_in"`  // height over the belt where the piece enters
	HeightOut  unit.Length     `json:"height_out"` // height where it leaves
	Diameter   unit.Length     `json:"diameter"`   // of the finished piece
	Conditions Conditions      `json:"conditions"` // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainBoardForLength(in BoardForLength, w *reckon.Working) (out BoardForLengthResult, err error) {
	c := reckon.Checks{Func: "board-for-length"}
	checkPiece(&c, in.Piece, in.Density)
	reckon.CheckRange(&c, "length", in.Length, shortestGuide, widestGuide)
	reckon.CheckRange(&c, "roll", in.Roll, lowestBoard, highestBoard)
	reckon.CheckRange(&c, "spring", in.Spring, 1, 5)
	reckon.CheckRange(&c, "bite", in.Bite, 0, deepestBite)
	if err := c.Err(); err != nil {
		return BoardForLengthResult{}, err
	}
	v := volume(in.Piece, in.Density)
	d := math.Sqrt(4 * v / (math.Pi * float64(in.Length)))
	out = BoardForLengthResult{
		HeightIn:  unit.Length(float64(in.Roll) * (1 - float64(in.Bite)/100)),
		HeightOut: unit.Length(d / in.Spring), Diameter: unit.Length(d), Cautions: reckon.MovingMachinery,
	}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	// The exit that [PressureBoard] has for such a length is just possible; the
	// slack forgives the rounding of binary arithmetic, no more.
	if out.HeightOut >= in.Roll || d > float64(in.Roll)*(1+1e-9) || asThickAsBall(d, in.Piece, in.Density) || out.HeightOut < lowestBoard {
		return BoardForLengthResult{}, in.noBoard(v, d)
	}
	if out.HeightIn < out.HeightOut {
		most := unit.Percent(100 * (1 - float64(out.HeightOut/in.Roll)))
		c.Fail("bite", in.Bite.String(), "at most "+most.String()+": more puts the entry lower than the exit")
		return BoardForLengthResult{}, c.Err()
	}
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Given("diameter of the roll", "D", float64(in.Roll), "mm", "")
		w.Given("bite at the entry", "b", float64(in.Bite), "%", "")
		w.Given("length of the piece", "L", float64(in.Length), "mm", "")
		w.Given("spring behind the board", "s", in.Spring, "", "")
		w.Step("height where it enters", "h_in", "D * (1 - b/100)", float64(out.HeightIn), "mm", "")
		w.Step("diameter of the piece", "d", "sqrt(4*V / (pi*L))", d, "mm", "volume of a cylinder")
		w.Step("height where it leaves", "h_1", "d / s", float64(out.HeightOut), "mm", "")
	}
	return out, nil
}

// noBoard says which lengths can be reached.
func (in *BoardForLength) noBoard(v, d float64) error {
	ball := sphere(in.Piece, in.Density)
	shortest := max(shortestGuide, unit.Length(cylinder(v, float64(min(in.Roll, ball)))))
	longest := min(widestGuide, unit.Length(cylinder(v, in.Spring*float64(lowestBoard))))
	none := &reckon.NoSolutionError{Func: "board-for-length", Unknown: "board", Wanted: "a piece " + in.Length.String() + " long"}
	if shortest >= longest {
		none.Advice = "no board makes a piece of this roll with this spring; measure roll and spring again"
		return none
	}
	none.Low, none.High = shortest.String(), longest.String()
	none.Advice = "the roll is " + in.Roll.String() + " thick and the piece " + ball.String() + " as a ball, and the board can only make it longer; ask for a longer piece or roll a thicker one"
	if height := unit.Length(d / in.Spring); height < lowestBoard {
		none.Advice = "the board would have to stand at " + height.String() + ", and " + lowestBoard.String() + " is the lowest; ask for a shorter piece or take a heavier one"
	}
	return none
}

// BoardLengthForTurns returns the length of board under which a piece turns as often as wanted:
//
//	contact = turns * pi * h_m
//	board = contact, or contact (height in - height out) / (roll - height out) if the board starts above the roll
//
// It is the inverse of [PressureBoard], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - turns is outside 0.1 to 100,
//   - roll, height_in or height_out is refused by [PressureBoard].
//
// It returns a *[reckon.NoSolutionError] if the board would be outside the 50 to 10000 mm that [PressureBoard] takes.
//
// Source: kinematics of rolling (derived).
type BoardLengthForTurns struct {
	Turns     float64     `json:"turns"`      // wanted turns under the board, 0.1 to 100
	Roll      unit.Length `json:"roll"`       // diameter of the rolled piece as it comes, 1 to 500 mm
	HeightIn  unit.Length `json:"height_in"`  // height of the board over the belt where the piece enters, 1 to 500 mm and at least half of roll
	HeightOut unit.Length `json:"height_out"` // height where it leaves, 1 mm to height_in and less than roll
}

func (BoardLengthForTurns) ID() string { return "board-length-for-turns" }

// SHELL
func (q BoardLengthForTurns) Check(c *reckon.Checks) {
	_, err := explainBoardLengthForTurns(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BoardLengthForTurns) Solve() (BoardLengthForTurnsResult, error) {
	return explainBoardLengthForTurns(q, nil)
}

func (q BoardLengthForTurns) Show(w *reckon.Working, _ BoardLengthForTurnsResult) {
	_, _ = explainBoardLengthForTurns(q, w)
}

// BoardLengthForTurnsResult is the board to use.
type BoardLengthForTurnsResult struct {
	Board   unit.Length `json:"board"`   // length along the belt
	Contact unit.Length `json:"contact"` // part of it that touches the piece
}

func explainBoardLengthForTurns(in BoardLengthForTurns, w *reckon.Working) (BoardLengthForTurnsResult, error) {
	c := reckon.Checks{Func: "board-length-for-turns"}
	reckon.CheckRange(&c, "turns", in.Turns, leastPressed, mostPressed)
	checkHeights(&c, in.Roll, in.HeightIn, in.HeightOut)
	if err := c.Err(); err != nil {
		return BoardLengthForTurnsResult{}, err
	}
	share, mean := contactOf(1, float64(in.Roll), float64(in.HeightIn), float64(in.HeightOut))
	contact := in.Turns * math.Pi * mean
	board := contact / share
	if !(board >= float64(shortestBoard) && board <= float64(longestBoard)) {
		each := share / (math.Pi * mean) // turns for each mm of board
		advice := "the board would have to be " + unit.Length(board).String() + " long; lower it at the entry, roll a thinner piece or ask for fewer turns"
		if board < float64(shortestBoard) {
			advice = "the board would be only " + unit.Length(board).String() + " long; ask for more turns"
		}
		return BoardLengthForTurnsResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "board", Wanted: number(in.Turns) + " turns under the board",
			Low: number(float64(shortestBoard)*each) + " turns", High: number(float64(longestBoard)*each) + " turns", Advice: advice,
		}
	}
	if w != nil {
		w.Given("turns", "N", in.Turns, "", "")
		explainContact(w, 1, in.Roll, in.HeightIn, in.HeightOut, share, mean)
		w.Step("contact needed", "C", "N * pi * h_m", contact, "mm", "rolling without slip")
		w.Step("length of the board", "L", "C / c", board, "mm", "c is the part of a board of unit length that touches")
	}
	return BoardLengthForTurnsResult{Board: unit.Length(board), Contact: unit.Length(contact)}, nil
}

// A SealTrial is one piece moulded and looked at.
type SealTrial struct {
	Turns   float64 `json:"turns"`   // turns under the board, above 0 to 100, as [PressureBoard] gives them
	Verdict Verdict `json:"verdict"` // "too-little" if the seam was open, "good", or "too-much" if the skin tore
}

// SealFromTrials returns the range of turns under the board that was good in trials:
//
//	least = fewest good turns,  most = most good turns
//
// The range is what was seen to work, not more; trials at both sides that
// did not work make it sure.
//
// It returns an *[reckon.InputError] if:
//   - turns is not above 0 and up to 100, or a verdict is not named,
//   - fewer than two trials with different turns were good.
//
// It returns a *[reckon.NoSolutionError] if a bad trial lies among the good ones.
//
// Source: trials by eye (common practice); cases in testdata/cases/molder/seal-from-trials.json.
//
// It calibrates [PressureBoard].
type SealFromTrials struct {
	Trials []SealTrial `json:"trials"` // in any order; at least two good ones with different turns
}

func (SealFromTrials) ID() string { return "seal-from-trials" }

// SHELL
func (q SealFromTrials) Check(c *reckon.Checks) {
	_, err := explainSealFromTrials(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SealFromTrials) Solve() (SealFromTrialsResult, error) { return explainSealFromTrials(q, nil) }

func (q SealFromTrials) Show(w *reckon.Working, _ SealFromTrialsResult) {
	_, _ = explainSealFromTrials(q, w)
}

// SealFromTrialsResult is the turns at which this dough seals.
type SealFromTrialsResult struct {
	Least float64 `json:"least"` // fewest turns that were good, the seal_turns of [PressureBoard]
	Most  float64 `json:"most"`  // most turns that were good
	Good  int     `json:"good"`  // trials that were good
}

func explainSealFromTrials(in SealFromTrials, w *reckon.Working) (SealFromTrialsResult, error) {
	c := reckon.Checks{Func: "seal-from-trials"}
	window := newTrialWindow()
	for i, t := range in.Trials {
		if !(t.Turns > 0 && t.Turns <= mostPressed) {
			c.Fail(fmt.Sprintf("trials[%d].turns", i), number(t.Turns), "more than 0, up to 100")
		}
		checkVerdict(&c, i, t.Verdict)
		window.add(t.Turns, t.Verdict)
	}
	if err := c.Err(); err != nil {
		return SealFromTrialsResult{}, err
	}
	if err := window.err(&c, "range of turns"); err != nil {
		return SealFromTrialsResult{}, err
	}
	w.Given("fewest good turns", "least", window.low, "", "trials")
	w.Given("most good turns", "most", window.high, "", "trials")
	return SealFromTrialsResult{Least: window.low, Most: window.high, Good: window.good}, nil
}
