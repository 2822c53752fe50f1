package molder

import (
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

// PressureBoard asks how thick and how long the moulded piece comes out of the
// pressure board, and how many times it turns under it:
//
//	h_0 = min(h_in, D),  h_1 = max(h_out, min(h_0, D / s))
//	c = B * (h_0 - h_out) / (h_in - h_out), or B for a level board
//	d = s * h_out,  V = m / rho * 1000,  L = 4 * V / (pi * d^2)
//	T = 2 * c / v
//	P = pi / 2 * (h + min(D, s * h)^2 / h)  at a height h
//	P_m = pi * (h_0 - h_out) / (ln((h_0^2 + D^2) / (h_1^2 + D^2)) + 2 * ln(h_1 / h_out) / (1 + s^2)), or P for a level board
//	N = c / P_m
//
// with h_0 the height at which the board first touches, h_1 that from which it
// draws the piece out for good, and P_m the harmonic mean of the perimeter P
// on the way. A piece under a board lower than its own diameter is not round:
// it advances one perimeter a turn. Its section keeps the area of the circle
// to which it would spring back, of the roll or of the piece drawn out so far,
// and is a stadium: flat on belt and board and round at the sides. No section
// of that area between belt and board has a shorter perimeter, so the turns
// are the most that the piece can make. An ellipse of the same height and area
// turns it less: by 0.2 % at a spring of 1.1, 1.6 % at 1.3, 3.6 % at 1.5 and 8.4 % at 2. A
// round piece of the height's diameter would turn more, by 10.5, 34.5, 62.5 and 150 %.
//
// Between a moving belt and a fixed board the middle of a rolling piece moves
// at half the speed of the belt. The finished piece is taken as a cylinder
// that rolls without slip; pointed ends make it longer. The board only makes a
// piece thinner and longer: it comes out no thicker and no shorter than the
// roll, and thinner than the piece as a ball. The roll of an oval sheet is
// thickest in the middle: a cylinder of its diameter and its length would hold
// 27 % more dough than there is, so its length is given by itself. The entry
// may press the roll by up to half of its diameter; a roll that has to give
// more is held up and torn (common practice, to be calibrated).
//
// It is refused if:
//   - height_in is less than half of roll_diameter, so that the piece cannot pass,
//   - height_out exceeds height_in, or is not below roll_diameter (the board would not touch),
//   - height_out is so high that the piece would come out thicker or shorter than the roll, or as thick as a ball of its weight,
//   - a roll of roll_diameter and roll_length cannot hold the dough,
//   - height_out is so low that the piece would have to be longer than the guides let it,
//   - the board turns the piece less than 0.1 or more than 100 times.
//
// Source: cylinder volume, kinematics of rolling and perimeter of a stadium (derived); cases in
// testdata/cases/molder/pressure-board.json.
//
// The inverses are [BoardForLength] and [BoardLengthForTurns].
type PressureBoard struct {
	Piece        unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density      unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough under the board
	RollDiameter unit.Length  `json:"roll_diameter" sym:"D" range:"1 mm..500 mm"`   // diameter of the rolled piece in its middle, where it is thickest, as [Curls] gives it
	RollLength   unit.Length  `json:"roll_length,omitzero" range:"5 mm..2 m"`       // length of the rolled piece as it comes, which is the width of its sheet; leave out for a cylinder
	HeightIn     unit.Length  `json:"height_in" sym:"h_in" range:"1 mm..500 mm"`    // height of the board over the belt where the piece enters; at least half of roll_diameter
	HeightOut    unit.Length  `json:"height_out" sym:"h_out" range:"1 mm..500 mm"`  // height where it leaves; at most height_in and less than roll_diameter; the piece springs back to no more than that
	BoardLength  unit.Length  `json:"board_length" sym:"B" range:"50 mm..10 m"`     // length of the board along the belt
	Belt         unit.Speed   `json:"belt" sym:"v" range:"0.1 mm/s..10 m/s"`        // belt speed
	Spring       float64      `json:"spring" sym:"s" range:"1..5"`                  // diameter of the finished piece over height_out: as [RecoveryFromSheet] gives it, with the height for the gap
	Guides       unit.Length  `json:"guides" range:"5 mm..2 m"`                     // distance between the side guides, which limits the length of the piece
	SealTurns    float64      `json:"seal_turns,omitzero" range:"0..100"`           // least turns under the board that closed the seam: see [SealFromTrials]; leave out if not known
	Measured     bool         `json:"measured,omitzero"`                            // true if spring was measured on this line
}

// PressureBoardResult is the moulded piece.
type PressureBoardResult struct {
	Diameter      unit.Length     `json:"diameter" sym:"d"`       // of the finished piece
	Length        unit.Length     `json:"length" sym:"L"`         // of the finished piece, as a cylinder
	ContactLength unit.Length     `json:"contact_length" sym:"c"` // part of the board that touches the piece
	Turns         float64         `json:"turns" sym:"N"`          // revolutions of the piece under the board
	Time          unit.Duration   `json:"time" sym:"T"`           // in contact with the board
	Conditions    Conditions      `json:"conditions"`             // seam-open, uncalibrated
	Cautions      reckon.Cautions `json:"cautions"`               // moving-machinery
}

func (PressureBoard) ID() string { return "pressure-board" }

func (q PressureBoard) Check(c *reckon.Checks) { q.check(c) }

// check returns the moulded piece, which shows whether the board can make it.
func (q *PressureBoard) check(c *reckon.Checks) (out PressureBoardResult) {
	ok := checkPiece(c, q.Piece, q.Density)
	roll := checkRollLength(c, q.RollLength)
	heights := checkHeights(c, q.RollDiameter, q.HeightIn, q.HeightOut)
	board := reckon.CheckRange(c, "board_length", q.BoardLength, shortestBoard, longestBoard)
	reckon.CheckRange(c, "belt", q.Belt, slowestBelt, fastestBelt)
	spring := reckon.CheckRange(c, "spring", q.Spring, 1, 5)
	ok = reckon.CheckRange(c, "guides", q.Guides, shortestGuide, widestGuide) && ok
	reckon.CheckRange(c, "seal_turns", q.SealTurns, 0, mostPressed)
	v := volume(q.Piece, q.Density)
	d := q.Spring * float64(q.HeightOut)
	out.Diameter, out.Length = unit.Length(d), unit.Length(cylinder(v, d))
	// The height that [BoardForLength] gives for these guides is just enough; the
	// slack forgives the rounding of binary arithmetic, no more.
	switch {
	case !ok || !spring || !heights || !roll || !checkHeld(c, v, q.RollDiameter, q.RollLength):
	case float64(out.Length) < float64(q.RollLength)*(1-1e-9):
		highest := unit.Length(mean(v, q.RollLength) / q.Spring)
		c.Fail("height_out", q.HeightOut.String(), "at most "+highest.String()+": higher, the piece would come out "+out.Length.String()+" long from a roll of "+
			q.RollLength.String()+", and the board only makes it longer; lower the board or roll a narrower sheet")
	case d > float64(q.RollDiameter)*(1+1e-9) || asThickAsBall(d, q.Piece, q.Density):
		ball := sphere(q.Piece, q.Density)
		highest := min(q.RollDiameter, ball) / unit.Length(q.Spring)
		c.Fail("height_out", q.HeightOut.String(), "at most "+highest.String()+": higher, a roll of "+q.RollDiameter.String()+" of a piece that is "+ball.String()+
			" thick as a ball would come out "+out.Diameter.String()+" thick, and the board only makes it thinner; lower the board or measure spring again")
	case float64(out.Length) > float64(q.Guides)*(1+1e-9):
		lowest := unit.Length(mean(v, q.Guides) / q.Spring)
		c.Fail("height_out", q.HeightOut.String(), "at least "+lowest.String()+": lower, the piece has nowhere to go between the guides; raise the board or open the guides")
	}
	share, perimeter := contactOf(float64(q.RollDiameter), float64(q.HeightIn), float64(q.HeightOut), q.Spring)
	contact := float64(q.BoardLength) * share
	out.ContactLength, out.Turns = unit.Length(contact), contact/perimeter
	if board && heights && spring && !(out.Turns >= leastPressed*(1-1e-9) && out.Turns <= mostPressed*(1+1e-9)) {
		c.Fail("board_length", q.BoardLength.String(), "a board under which the piece turns "+number(leastPressed)+" to "+number(mostPressed)+" times: at these heights it turns "+number(out.Turns)+" times")
	}
	return out
}

func (q PressureBoard) Solve() (out PressureBoardResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	made := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out = made
	out.Time, out.Cautions = unit.Duration(2*float64(out.ContactLength)/float64(q.Belt)), reckon.MovingMachinery
	if !q.Measured || q.SealTurns == 0 {
		out.Conditions |= reckon.Uncalibrated
	}
	if out.Turns < q.SealTurns {
		out.Conditions |= SeamOpen
	}
	return out, nil
}

func (q PressureBoard) Show(w *reckon.Working, out PressureBoardResult) {
	w.Inputs(q)
	contact := "B  [the piece touches from the entry on]"
	if q.HeightIn > q.RollDiameter {
		contact = "B*(D - h_out)/(h_in - h_out)  [the board falls evenly]"
	}
	w.Lines(out,
		"height where the board touches: h_0 = min(h_in, D) in mm",
		"part of the board that touches: c = "+contact,
		"diameter of the piece: d = s*h_out",
		volumeLine,
		"length of the piece: L = 4*V/(pi*d*d)  [volume of a cylinder]",
		"time under the board: T = 2*c/v  [the middle of the piece moves at half the speed of the belt]")
	showPerimeter(w, out, q.RollDiameter, q.HeightIn, q.HeightOut)
	w.Lines(out, "turns under the board: N = c/P_m  [rolling without slip]")
}

// cylinder returns the length of a piece of volume v (mm³) rolled out to diameter d.
func cylinder(v, d float64) float64 { return 4 * v / (math.Pi * d * d) }

// checkHeights requires a board that narrows, or stays level, touches the piece and lets it in.
func checkHeights(c *reckon.Checks, roll, in, out unit.Length) bool {
	ok := reckon.CheckRange(c, "roll_diameter", roll, lowestBoard, highestBoard)
	ok = reckon.CheckRange(c, "height_in", in, lowestBoard, highestBoard) && ok
	ok = reckon.CheckRange(c, "height_out", out, lowestBoard, highestBoard) && ok
	if !ok {
		return false
	}
	// An entry set for exactly the deepest bite must not fail for its last binary digit.
	if lowest := roll * (1 - unit.Length(deepestBite)/100); in < lowest*(1-1e-9) {
		c.Fail("height_in", in.String(), "at least "+lowest.String()+", half of roll_diameter: lower, the piece is held up at the entry and torn; raise the entry or roll a thinner piece")
		ok = false
	}
	switch {
	case out > in:
		c.Fail("height_out", out.String(), "at most height_in, "+in.String()+": the board narrows along the belt")
		return false
	case out >= roll:
		c.Fail("height_out", out.String(), "less than roll_diameter, "+roll.String()+": otherwise the board does not touch the piece")
		return false
	}
	return ok
}

// contactOf returns the part of the board that touches, and the mean perimeter
// that counts for rolling: the height falls evenly from h_0 to h_out, and the
// piece turns by dx / P on the way.
func contactOf(roll, in, out, spring float64) (share, perimeter float64) {
	start := min(in, roll)
	share = 1
	if in > roll {
		share = (roll - out) / (in - out)
	}
	if start == out {
		return share, math.Pi / 2 * out * (1 + float64(spring*spring))
	}
	// Down to drawn the piece still springs back to the whole roll.
	drawn := max(out, min(start, roll/spring))
	turned := math.Log1p((start-drawn)*(start+drawn)/(float64(drawn*drawn)+float64(roll*roll))) +
		2*math.Log1p((drawn-out)/out)/(1+float64(spring*spring))
	return share, math.Pi * (start - out) / turned
}

// showPerimeter records the steps from the heights to the perimeter that counts for rolling.
func showPerimeter(w *reckon.Working, answer any, roll, in, out unit.Length) {
	if min(in, roll) == out {
		w.Lines(answer, "perimeter: P_m = pi/2*h_out*(1 + s*s) in mm  [stadium that springs back to a circle of s*h_out]")
		return
	}
	w.Lines(answer,
		"height from which the piece is drawn out: h_1 = max(h_out, min(h_0, D/s)) in mm",
		"turning before that, as a logarithm: y_1 = ln((h_0*h_0 + D*D)/(h_1*h_1 + D*D))  [stadium of the roll's area]",
		"turning behind it: y_2 = 2*ln(h_1/h_out)/(1 + s*s)  [stadium that springs back to a circle of s*h]",
		"mean perimeter: P_m = pi*(h_0 - h_out)/(y_1 + y_2) in mm  [harmonic mean along the board]")
}

// mean returns the diameter of a cylinder of volume v (mm³) and this length.
func mean(v float64, length unit.Length) float64 {
	return math.Sqrt(4 * v / (math.Pi * float64(length)))
}

// checkRollLength requires the length of a roll if it is given.
func checkRollLength(c *reckon.Checks, length unit.Length) bool {
	return length == 0 || reckon.CheckRange(c, "roll_length", length, shortestGuide, widestGuide)
}

// checkHeld requires a roll that can hold the dough of the piece, of v mm³. The
// slack is for the rounding of binary arithmetic.
func checkHeld(c *reckon.Checks, v float64, diameter, length unit.Length) bool {
	if length == 0 {
		return true
	}
	least := unit.Length(mean(v, length))
	if diameter < least*(1-1e-9) {
		c.Fail("roll_diameter", diameter.String(), "at least "+least.String()+": a thinner roll "+length.String()+" long does not hold the dough of this piece; measure the roll in its middle")
		return false
	}
	return true
}

// BoardForLength asks how high the board must be set, at its entry and its
// exit, to roll a piece out to the wanted length:
//
//	h_in = D * (1 - b/100)
//	V = m / rho * 1000
//	d = sqrt(4 * V / (pi * L))
//	h_out = d / s
//
// It is the inverse of [PressureBoard], with the same validity. The board
// narrows along the belt; how much it bites at the entry is the shop's choice.
//
// It is refused if:
//   - the bite is so large that the entry would be lower than the exit,
//   - a roll of roll_diameter and roll_length cannot hold the dough.
//
// Source: cylinder volume (derived); narrowing along the board from memory.
//
// The inverse is [PressureBoard].
type BoardForLength struct {
	Piece        unit.Mass    `json:"piece" sym:"m" range:"1 g..10 kg"`             // piece weight
	Density      unit.Density `json:"density" sym:"rho" range:"0.1 g/ml..1.5 g/ml"` // density of the dough under the board
	Length       unit.Length  `json:"length" sym:"L" range:"5 mm..2 m"`             // wanted length of the finished piece
	RollDiameter unit.Length  `json:"roll_diameter" sym:"D" range:"1 mm..500 mm"`   // diameter of the rolled piece in its middle, where it is thickest, as [Curls] gives it
	RollLength   unit.Length  `json:"roll_length,omitzero" range:"5 mm..2 m"`       // length of the rolled piece as it comes, which is the width of its sheet; leave out for a cylinder
	Spring       float64      `json:"spring" sym:"s" range:"1..5"`                  // diameter of the finished piece over height_out: as [RecoveryFromSheet] gives it, with the height for the gap
	Bite         unit.Percent `json:"bite" sym:"b" range:"0 %..50 %"`               // how much of its diameter the entry presses the roll; the shop's choice
	Measured     bool         `json:"measured,omitzero"`                            // true if spring was measured on this line
}

// BoardForLengthResult is where the board goes.
type BoardForLengthResult struct {
	HeightIn   unit.Length     `json:"height_in" sym:"h_in"`   // height over the belt where the piece enters
	HeightOut  unit.Length     `json:"height_out" sym:"h_out"` // height where it leaves
	Diameter   unit.Length     `json:"diameter" sym:"d"`       // of the finished piece
	Conditions Conditions      `json:"conditions"`             // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`               // moving-machinery
}

func (BoardForLength) ID() string { return "board-for-length" }

func (q BoardForLength) Check(c *reckon.Checks) { q.check(c) }

// check returns the heights and the diameter, which show whether the entry is
// above the exit.
func (q *BoardForLength) check(c *reckon.Checks) (in, out, d unit.Length) {
	mark := c.Mark()
	checkPiece(c, q.Piece, q.Density)
	reckon.CheckRange(c, "length", q.Length, shortestGuide, widestGuide)
	reckon.CheckRange(c, "roll_diameter", q.RollDiameter, lowestBoard, highestBoard)
	checkRollLength(c, q.RollLength)
	reckon.CheckRange(c, "spring", q.Spring, 1, 5)
	reckon.CheckRange(c, "bite", q.Bite, 0, deepestBite)
	if c.Mark() > mark {
		return in, out, d
	}
	v := volume(q.Piece, q.Density)
	if !checkHeld(c, v, q.RollDiameter, q.RollLength) {
		return in, out, d
	}
	d = unit.Length(mean(v, q.Length))
	in = unit.Length(float64(q.RollDiameter) * (1 - float64(q.Bite)/100))
	out = unit.Length(float64(d) / q.Spring)
	// An exit where no board can be is not the bite's fault.
	if in < out && q.possible(out, d) {
		most := unit.Percent(100 * (1 - float64(out/q.RollDiameter)))
		c.Fail("bite", q.Bite.String(), "at most "+most.String()+": more puts the entry lower than the exit")
	}
	return in, out, d
}

// possible reports whether a board can stand at the exit and make the piece so
// thick. The exit that [PressureBoard] has for such a length is just possible;
// the slack forgives the rounding of binary arithmetic, no more.
func (q *BoardForLength) possible(out, d unit.Length) bool {
	return float64(q.Length) >= float64(q.RollLength)*(1-1e-9) && out < q.RollDiameter && float64(d) <= float64(q.RollDiameter)*(1+1e-9) && !asThickAsBall(float64(d), q.Piece, q.Density) && out >= lowestBoard
}

// Solve has no answer if the exit would be no lower than the roll or lower
// than 1 mm, or if the piece would come out thicker or shorter than the roll,
// or as thick as a ball of its weight: the board can only make it longer.
func (q BoardForLength) Solve() (out BoardForLengthResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	heightIn, heightOut, d := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if !q.possible(heightOut, d) {
		return out, q.noBoard(heightOut)
	}
	out = BoardForLengthResult{HeightIn: heightIn, HeightOut: heightOut, Diameter: d, Cautions: reckon.MovingMachinery}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q BoardForLength) Show(w *reckon.Working, out BoardForLengthResult) {
	w.Inputs(q)
	w.Lines(out,
		"height where the piece enters: h_in = D*(1 - b/100)",
		volumeLine,
		"diameter of the piece: d = sqrt(4*V/(pi*L))  [volume of a cylinder]",
		"height where the piece leaves: h_out = d/s",
	)
}

// noBoard says which lengths can be reached.
func (q *BoardForLength) noBoard(height unit.Length) error {
	ball, v := sphere(q.Piece, q.Density), volume(q.Piece, q.Density)
	shortest := max(shortestGuide, q.RollLength, unit.Length(cylinder(v, float64(min(q.RollDiameter, ball)))))
	longest := min(widestGuide, unit.Length(cylinder(v, q.Spring*float64(lowestBoard))))
	none := &reckon.NoSolutionError{Func: q.ID(), Unknown: "board", Wanted: "a piece " + q.Length.String() + " long"}
	if shortest >= longest {
		none.Advice = "no board makes a piece of this roll with this spring; measure roll_diameter and spring again"
		return none
	}
	none.Low, none.High = shortest.String(), longest.String()
	roll := q.RollDiameter.String() + " thick"
	if q.RollLength != 0 {
		roll += ", " + q.RollLength.String() + " long,"
	}
	none.Advice = "the roll is " + roll + " and the piece " + ball.String() + " as a ball, and the board can only make it longer; ask for a longer piece or roll a thicker one"
	if height < lowestBoard {
		none.Advice = "the board would have to stand at " + height.String() + ", and " + lowestBoard.String() + " is the lowest; ask for a shorter piece or take a heavier one"
	}
	return none
}

// BoardLengthForTurns asks how long the board must be to turn a piece the
// wanted number of times:
//
//	h_0 = min(h_in, D),  h_1 = max(h_out, min(h_0, D / s))
//	P_m = pi * (h_0 - h_out) / (ln((h_0^2 + D^2) / (h_1^2 + D^2)) + 2 * ln(h_1 / h_out) / (1 + s^2)), or pi / 2 * h_out * (1 + s^2) for a level board
//	c = N * P_m
//	B = c * (h_in - h_out) / (h_0 - h_out), or c for a level board
//
// It is the inverse of [PressureBoard], with the same validity.
//
// It is refused if:
//   - height_in is less than half of roll_diameter, so that the piece cannot pass,
//   - height_out exceeds height_in, or is not below roll_diameter (the board would not touch),
//   - height_out is so high that the piece would come out thicker than the roll.
//
// Source: kinematics of rolling and perimeter of a stadium (derived).
//
// The inverse is [PressureBoard].
type BoardLengthForTurns struct {
	Turns        float64     `json:"turns" sym:"N" range:"0.1..100"`              // wanted turns under the board
	RollDiameter unit.Length `json:"roll_diameter" sym:"D" range:"1 mm..500 mm"`  // diameter of the rolled piece as it comes
	HeightIn     unit.Length `json:"height_in" sym:"h_in" range:"1 mm..500 mm"`   // height of the board over the belt where the piece enters; at least half of roll_diameter
	HeightOut    unit.Length `json:"height_out" sym:"h_out" range:"1 mm..500 mm"` // height where it leaves; at most height_in and less than roll_diameter
	Spring       float64     `json:"spring" sym:"s" range:"1..5"`                 // diameter of the finished piece over height_out, as for [PressureBoard]
}

// BoardLengthForTurnsResult is the board to use.
type BoardLengthForTurnsResult struct {
	BoardLength   unit.Length `json:"board_length" sym:"B"`   // length along the belt
	ContactLength unit.Length `json:"contact_length" sym:"c"` // part of it that touches the piece
}

func (BoardLengthForTurns) ID() string { return "board-length-for-turns" }

func (q BoardLengthForTurns) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "turns", q.Turns, leastPressed, mostPressed)
	heights := checkHeights(c, q.RollDiameter, q.HeightIn, q.HeightOut)
	if reckon.CheckRange(c, "spring", q.Spring, 1, 5) && heights && q.Spring*float64(q.HeightOut) > float64(q.RollDiameter)*(1+1e-9) {
		highest := q.RollDiameter / unit.Length(q.Spring)
		c.Fail("height_out", q.HeightOut.String(), "at most "+highest.String()+": higher, the piece would come out thicker than the roll")
	}
}

// Solve has no answer if the board would be shorter than 50 mm or longer than 10 m.
func (q BoardLengthForTurns) Solve() (out BoardLengthForTurnsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	share, perimeter := contactOf(float64(q.RollDiameter), float64(q.HeightIn), float64(q.HeightOut), q.Spring)
	contact := q.Turns * perimeter
	board := unit.Length(contact / share)
	if !(board >= shortestBoard && board <= longestBoard) {
		each := share / perimeter // turns for each mm of board
		advice := "the board would have to be " + board.String() + " long; lower it at the entry, roll a thinner piece or ask for fewer turns"
		if board < shortestBoard {
			advice = "the board would be only " + board.String() + " long; ask for more turns"
		}
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "board", Wanted: number(q.Turns) + " turns under the board",
			Low: number(float64(shortestBoard)*each) + " turns", High: number(float64(longestBoard)*each) + " turns", Advice: advice,
		}
	}
	return BoardLengthForTurnsResult{BoardLength: board, ContactLength: unit.Length(contact)}, nil
}

func (q BoardLengthForTurns) Show(w *reckon.Working, out BoardLengthForTurnsResult) {
	w.Inputs(q)
	board := "c  [the piece touches from the entry on]"
	if q.HeightIn > q.RollDiameter {
		board = "c*(h_in - h_out)/(D - h_out)  [the board falls evenly]"
	}
	w.Lines(out, "height where the board touches: h_0 = min(h_in, D) in mm")
	showPerimeter(w, out, q.RollDiameter, q.HeightIn, q.HeightOut)
	w.Lines(out,
		"part of the board that touches: c = N*P_m  [rolling without slip]",
		"length of the board: B = "+board,
	)
}

// A SealTrial is one piece moulded and looked at.
type SealTrial struct {
	Turns   float64 `json:"turns" sym:"N_#" range:">0..100"` // turns under the board, as [PressureBoard] gives them for its heights
	Verdict Verdict `json:"verdict"`                         // "too-little" if the seam was open, "good", or "too-much" if the skin tore
}

// Check requires turns and a verdict.
func (t *SealTrial) Check(c *reckon.Checks) {
	if !(t.Turns > 0 && t.Turns <= mostPressed) {
		c.Fail("turns", number(t.Turns), "more than 0, up to 100")
	}
	t.Verdict.Check(c)
}

// SealFromTrials asks how many turns under the board a dough needs to seal, as
// the range that was good in trials:
//
//	N_low = min(N_i),  N_high = max(N_i)  of the n trials that were good
//
// The range is what was seen to work, no more; failed trials on both sides of
// it confirm its ends. It counts on the measure of [PressureBoard]: turns that
// were worked out in another way, such as for a round piece, are worked out
// again from the heights of the trial.
//
// It is refused if:
//   - fewer than two trials with different turns were good.
//
// Source: trials by eye (common practice); cases in testdata/cases/molder/seal-from-trials.json.
//
// It calibrates [PressureBoard].
type SealFromTrials struct {
	Trials []SealTrial `json:"trials" items:"..10000"` // in any order; at least two good ones with different turns
}

// SealFromTrialsResult is the turns at which this dough seals.
type SealFromTrialsResult struct {
	GoodLow  float64         `json:"good_low" sym:"N_low"`   // fewest turns that were good, the seal_turns of [PressureBoard]
	GoodHigh float64         `json:"good_high" sym:"N_high"` // most turns that were good
	Good     int             `json:"good" sym:"n"`           // trials that were good
	Cautions reckon.Cautions `json:"cautions"`               // moving-belt
}

func (SealFromTrials) ID() string { return "seal-from-trials" }

func (q SealFromTrials) Check(c *reckon.Checks) { q.check(c) }

// check returns what the trials come to.
func (q SealFromTrials) check(c *reckon.Checks) trialWindow {
	start := c.Mark()
	reckon.CheckItems(c, "trials", len(q.Trials), mostTrials)
	return windowOf(c, start, q.Trials, func(t *SealTrial) (float64, Verdict) {
		t.Check(c)
		return t.Turns, t.Verdict
	})
}

// Solve has no answer if a bad trial lies among the good ones.
func (q SealFromTrials) Solve() (out SealFromTrialsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	window := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if err = window.none(q.ID(), "range of turns"); err != nil {
		return out, err
	}
	return SealFromTrialsResult{GoodLow: window.low, GoodHigh: window.high, Good: window.good, Cautions: reckon.MovingBelt}, nil
}

func (q SealFromTrials) Show(w *reckon.Working, out SealFromTrialsResult) {
	w.Inputs(q)
	good := goodOnes("N_", len(q.Trials), func(i int) Verdict { return q.Trials[i].Verdict })
	w.Lines(out,
		"trials that were good: n = count("+good+")",
		"fewest good turns: N_low = min("+good+")  [trials]",
		"most good turns: N_high = max("+good+")  [trials]",
	)
}
