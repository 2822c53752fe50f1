package molder

import (
	"example.com/dough/doughmath"
)

// What belts and rates can be, taken wide.
const (
	slowestBelt  doughmath.Speed     = 0.1
	fastestBelt  doughmath.Speed     = 10000
	slowestRate  doughmath.PieceRate = 0.01
	fastestRate  doughmath.PieceRate = 10000
	shortestBody doughmath.Length    = 1
	longestBody  doughmath.Length    = 5000
)

// PieceSpacingInput is one lane of one belt.
type PieceSpacingInput struct {
	Belt     doughmath.Speed     `json:"belt"`               // belt speed, 0.1 mm/s to 10 m/s
	Rate     doughmath.PieceRate `json:"rate"`               // pieces on this lane of the belt, 0.01 to 10000 pieces/min
	Piece    doughmath.Length    `json:"piece"`              // length of a piece along the belt, 1 to 5000 mm
	LeastGap doughmath.Length    `json:"least_gap,omitzero"` // smallest gap wanted, 0 to 5000 mm; with 0 only touching pieces are refused
}

// PieceSpacingResult is how the pieces run.
type PieceSpacingResult struct {
	Pitch      doughmath.Length     `json:"pitch"`      // from one piece to the same point of the next
	Gap        doughmath.Length     `json:"gap"`        // free belt between them
	Conditions doughmath.Conditions `json:"conditions"` // risk-of-doubles
	Cautions   doughmath.Cautions   `json:"cautions"`   // moving-machinery
}

func checkLane(c *doughmath.Checks, rate doughmath.PieceRate, piece doughmath.Length) bool {
	ok := doughmath.CheckRange(c, "rate", rate, slowestRate, fastestRate)
	return doughmath.CheckRange(c, "piece", piece, shortestBody, longestBody) && ok
}

func pitchOf(belt doughmath.Speed, rate doughmath.PieceRate) doughmath.Length {
	return doughmath.Length(float64(belt) * 60 / float64(rate))
}

// checkApart wants a belt fast enough that evenly spaced pieces do not touch.
func checkApart(c *doughmath.Checks, belt doughmath.Speed, rate doughmath.PieceRate, piece doughmath.Length) {
	if pitchOf(belt, rate) <= piece {
		c.Fail("belt", belt.String(), apartWant(rate, piece))
	}
}

func apartWant(rate doughmath.PieceRate, piece doughmath.Length) string {
	touching := doughmath.Speed(float64(piece) * float64(rate) / 60)
	return "more than " + touching.String() + ", at which pieces of this length touch: run the belt faster or the divider slower"
}

// PieceSpacing returns the pitch of the pieces on a belt and the gap between them:
//
//	pitch = belt speed / rate
//	gap = pitch - piece length
//
// It holds for pieces that arrive evenly; for uneven arrival see [DoublesRisk].
//
// It returns an *[doughmath.InputError] if:
//   - belt is outside 0.1 mm/s to 10 m/s, or so slow that pieces touch,
//   - rate is outside 0.01 to 10000 pieces/min,
//   - piece is outside 1 to 5000 mm, or least_gap outside 0 to 5000 mm.
//
// Source: kinematics (derived); cases in testdata/cases/molder/piece-spacing.json.
//
// The inverses are [BeltForGap] and [RateForGap]; [ExplainPieceSpacing] shows the working.
func PieceSpacing(in PieceSpacingInput) (PieceSpacingResult, error) {
	return ExplainPieceSpacing(in, nil)
}

// ExplainPieceSpacing is [PieceSpacing] with its working.
func ExplainPieceSpacing(in PieceSpacingInput, w *doughmath.Working) (out PieceSpacingResult, err error) {
	c := doughmath.Checks{Func: "piece-spacing"}
	ok := doughmath.CheckRange(&c, "belt", in.Belt, slowestBelt, fastestBelt)
	ok = checkLane(&c, in.Rate, in.Piece) && ok
	doughmath.CheckRange(&c, "least_gap", in.LeastGap, 0, longestBody)
	if ok {
		checkApart(&c, in.Belt, in.Rate, in.Piece)
	}
	if err := c.Err(); err != nil {
		return PieceSpacingResult{}, err
	}
	pitch := pitchOf(in.Belt, in.Rate)
	out = PieceSpacingResult{Pitch: pitch, Gap: pitch - in.Piece, Cautions: doughmath.MovingMachinery}
	if out.Gap < in.LeastGap {
		out.Conditions |= doughmath.RiskOfDoubles
	}
	if w != nil {
		w.Given("belt speed", "v", float64(in.Belt), "mm/s", "")
		w.Given("rate", "r", float64(in.Rate), "pieces/min", "")
		w.Given("piece length", "l", float64(in.Piece), "mm", "")
		w.Step("pitch", "p", "v * 60 / r", float64(pitch), "mm", "60 s in a minute")
		w.Step("gap", "g", "p - l", float64(out.Gap), "mm", "")
	}
	return out, nil
}

// BeltForGapInput is the gap wanted on one lane.
type BeltForGapInput struct {
	Gap   doughmath.Length    `json:"gap"`   // wanted gap between pieces, above 0 to 5000 mm
	Rate  doughmath.PieceRate `json:"rate"`  // pieces on this lane of the belt, 0.01 to 10000 pieces/min
	Piece doughmath.Length    `json:"piece"` // length of a piece along the belt, 1 to 5000 mm
}

// BeltForGapResult is how fast the belt runs.
type BeltForGapResult struct {
	Belt     doughmath.Speed    `json:"belt"`     // belt speed
	Pitch    doughmath.Length   `json:"pitch"`    // from piece to piece
	Cautions doughmath.Cautions `json:"cautions"` // moving-machinery
}

func checkGap(c *doughmath.Checks, gap doughmath.Length) {
	if !(gap > 0 && gap <= longestBody) {
		c.Fail("gap", gap.String(), "more than 0 mm, up to "+longestBody.String())
	}
}

// BeltForGap returns the belt speed that leaves the wanted gap between pieces:
//
//	belt speed = rate * (piece length + gap)
//
// It is the inverse of [PieceSpacing], with the same validity.
//
// It returns an *[doughmath.InputError] if:
//   - gap is not above 0 and up to 5000 mm,
//   - rate is outside 0.01 to 10000 pieces/min, or piece outside 1 to 5000 mm.
//
// Source: kinematics (derived).
//
// [ExplainBeltForGap] shows the working.
func BeltForGap(in BeltForGapInput) (BeltForGapResult, error) { return ExplainBeltForGap(in, nil) }

// ExplainBeltForGap is [BeltForGap] with its working.
func ExplainBeltForGap(in BeltForGapInput, w *doughmath.Working) (out BeltForGapResult, err error) {
	c := doughmath.Checks{Func: "belt-for-gap"}
	checkGap(&c, in.Gap)
	checkLane(&c, in.Rate, in.Piece)
	if err := c.Err(); err != nil {
		return BeltForGapResult{}, err
	}
	pitch := in.Piece + in.Gap
	out = BeltForGapResult{Belt: doughmath.Speed(float64(pitch) * float64(in.Rate) / 60), Pitch: pitch, Cautions: doughmath.MovingMachinery}
	if w != nil {
		w.Given("gap", "g", float64(in.Gap), "mm", "")
		w.Given("piece length", "l", float64(in.Piece), "mm", "")
		w.Given("rate", "r", float64(in.Rate), "pieces/min", "")
		w.Step("pitch", "p", "l + g", float64(pitch), "mm", "")
		w.Step("belt speed", "v", "p * r / 60", float64(out.Belt), "mm/s", "60 s in a minute")
	}
	return out, nil
}

// RateForGapInput is the gap wanted on a belt whose speed is fixed.
type RateForGapInput struct {
	Gap   doughmath.Length `json:"gap"`   // wanted gap between pieces, above 0 to 5000 mm
	Belt  doughmath.Speed  `json:"belt"`  // belt speed, 0.1 mm/s to 10 m/s
	Piece doughmath.Length `json:"piece"` // length of a piece along the belt, 1 to 5000 mm
}

// RateForGapResult is how many pieces the lane takes.
type RateForGapResult struct {
	Rate     doughmath.PieceRate `json:"rate"`     // pieces on this lane
	Pitch    doughmath.Length    `json:"pitch"`    // from piece to piece
	Cautions doughmath.Cautions  `json:"cautions"` // moving-machinery
}

// RateForGap returns the rate at which pieces on a belt of given speed keep the wanted gap:
//
//	rate = belt speed / (piece length + gap)
//
// It is the inverse of [PieceSpacing], with the same validity.
//
// It returns an *[doughmath.InputError] if:
//   - gap is not above 0 and up to 5000 mm,
//   - belt is outside 0.1 mm/s to 10 m/s, or piece outside 1 to 5000 mm.
//
// Source: kinematics (derived).
//
// [ExplainRateForGap] shows the working.
func RateForGap(in RateForGapInput) (RateForGapResult, error) { return ExplainRateForGap(in, nil) }

// ExplainRateForGap is [RateForGap] with its working.
func ExplainRateForGap(in RateForGapInput, w *doughmath.Working) (out RateForGapResult, err error) {
	c := doughmath.Checks{Func: "rate-for-gap"}
	checkGap(&c, in.Gap)
	doughmath.CheckRange(&c, "belt", in.Belt, slowestBelt, fastestBelt)
	doughmath.CheckRange(&c, "piece", in.Piece, shortestBody, longestBody)
	if err := c.Err(); err != nil {
		return RateForGapResult{}, err
	}
	pitch := in.Piece + in.Gap
	out = RateForGapResult{Rate: doughmath.PieceRate(float64(in.Belt) * 60 / float64(pitch)), Pitch: pitch, Cautions: doughmath.MovingMachinery}
	if w != nil {
		w.Given("gap", "g", float64(in.Gap), "mm", "")
		w.Given("piece length", "l", float64(in.Piece), "mm", "")
		w.Given("belt speed", "v", float64(in.Belt), "mm/s", "")
		w.Step("pitch", "p", "l + g", float64(pitch), "mm", "")
		w.Step("rate", "r", "v * 60 / p", float64(out.Rate), "pieces/min", "60 s in a minute")
	}
	return out, nil
}
