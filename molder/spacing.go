package molder

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What belts and rates can be, taken wide.
const (
	slowestBelt  unit.Speed     = 0.1
	fastestBelt  unit.Speed     = 10000
	slowestRate  unit.PieceRate = 0.01
	fastestRate  unit.PieceRate = 10000
	shortestBody unit.Length    = 1
	longestBody  unit.Length    = 5000
	widestFree   unit.Length    = 100000 // between pieces: it catches slips of the decimal point
)

// PieceSpacing returns the pitch of the pieces on a belt and the gap between them:
//
//	pitch = belt speed / rate
//	gap = pitch - piece length
//
// It holds for pieces that arrive evenly; for uneven arrival see [DoublesRisk].
//
// It returns an *[reckon.InputError] if:
//   - belt is outside 0.1 mm/s to 10 m/s, or so slow that pieces touch,
//   - rate is outside 0.01 to 10000 pieces/min, or so slow that more than 100 m are free between pieces,
//   - piece is outside 1 to 5000 mm, or least_gap outside 0 to 5000 mm.
//
// Source: kinematics (derived); cases in testdata/cases/molder/piece-spacing.json.
//
// The inverses are [BeltForGap] and [RateForGap].
type PieceSpacing struct {
	Belt     unit.Speed     `json:"belt"`               // belt speed, 0.1 mm/s to 10 m/s
	Rate     unit.PieceRate `json:"rate"`               // pieces on this lane of the belt, 0.01 to 10000 pieces/min
	Piece    unit.Length    `json:"piece"`              // length of a piece along the belt, 1 to 5000 mm
	LeastGap unit.Length    `json:"least_gap,omitzero"` // smallest gap wanted, 0 to 5000 mm; with 0 only touching pieces are refused
}

func (PieceSpacing) ID() string { return "piece-spacing" }

// SHELL
func (q PieceSpacing) Check(c *reckon.Checks) {
	_, err := explainPieceSpacing(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PieceSpacing) Solve() (PieceSpacingResult, error) { return explainPieceSpacing(q, nil) }

func (q PieceSpacing) Show(w *reckon.Working, _ PieceSpacingResult) { _, _ = explainPieceSpacing(q, w) }

// PieceSpacingResult is how the pieces run.
type PieceSpacingResult struct {
	Pitch      unit.Length     `json:"pitch"`      // from one piece to the same point of the next
	Gap        unit.Length     `json:"gap"`        // free belt between them
	Conditions Conditions      `json:"conditions"` // risk-of-doubles
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func checkLane(c *reckon.Checks, rate unit.PieceRate, piece unit.Length) bool {
	ok := reckon.CheckRange(c, "rate", rate, slowestRate, fastestRate)
	return reckon.CheckRange(c, "piece", piece, shortestBody, longestBody) && ok
}

func pitchOf(belt unit.Speed, rate unit.PieceRate) unit.Length {
	return unit.Length(float64(belt) * 60 / float64(rate))
}

// checkApart wants a belt fast enough that evenly spaced pieces do not touch.
func checkApart(c *reckon.Checks, belt unit.Speed, rate unit.PieceRate, piece unit.Length) {
	if pitchOf(belt, rate) <= piece {
		c.Fail("belt", belt.String(), apartWant(rate, piece))
	}
}

func apartWant(rate unit.PieceRate, piece unit.Length) string {
	touching := unit.Speed(float64(piece) * float64(rate) / 60)
	return "more than " + touching.String() + ", at which pieces of this length touch: run the belt faster or the divider slower"
}

func explainPieceSpacing(in PieceSpacing, w *reckon.Working) (out PieceSpacingResult, err error) {
	c := reckon.Checks{Func: "piece-spacing"}
	ok := reckon.CheckRange(&c, "belt", in.Belt, slowestBelt, fastestBelt)
	ok = checkLane(&c, in.Rate, in.Piece) && ok
	reckon.CheckRange(&c, "least_gap", in.LeastGap, 0, longestBody)
	if ok {
		checkApart(&c, in.Belt, in.Rate, in.Piece)
	}
	if err := c.Err(); err != nil {
		return PieceSpacingResult{}, err
	}
	pitch := pitchOf(in.Belt, in.Rate)
	out = PieceSpacingResult{Pitch: pitch, Gap: pitch - in.Piece, Cautions: reckon.MovingMachinery}
	if out.Gap > widestFree*(1+1e-9) {
		return PieceSpacingResult{}, tooFree(&c, "rate", in.Rate.String(), out.Gap)
	}
	if out.Gap < in.LeastGap {
		out.Conditions |= RiskOfDoubles
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

// tooFree says that more of the belt is free between pieces than can be meant.
func tooFree(c *reckon.Checks, field, value string, gap unit.Length) error {
	c.Fail(field, value, "at most "+widestFree.String()+" free between pieces, and at this speed and rate it is "+gap.String()+": check both")
	return c.Err()
}

// BeltForGap returns the belt speed that leaves the wanted gap between pieces:
//
//	belt speed = rate * (piece length + gap)
//
// It is the inverse of [PieceSpacing], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - gap is not above 0 and up to 100 m,
//   - rate is outside 0.01 to 10000 pieces/min, or piece outside 1 to 5000 mm.
//
// It returns a *[reckon.NoSolutionError] if the belt would have to run slower than 0.1 mm/s or faster than 10 m/s.
//
// Source: kinematics (derived).
type BeltForGap struct {
	Gap   unit.Length    `json:"gap"`   // wanted gap between pieces, above 0 to 100 m
	Rate  unit.PieceRate `json:"rate"`  // pieces on this lane of the belt, 0.01 to 10000 pieces/min
	Piece unit.Length    `json:"piece"` // length of a piece along the belt, 1 to 5000 mm
}

func (BeltForGap) ID() string { return "belt-for-gap" }

// SHELL
func (q BeltForGap) Check(c *reckon.Checks) {
	_, err := explainBeltForGap(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BeltForGap) Solve() (BeltForGapResult, error) { return explainBeltForGap(q, nil) }

func (q BeltForGap) Show(w *reckon.Working, _ BeltForGapResult) { _, _ = explainBeltForGap(q, w) }

// BeltForGapResult is how fast the belt runs.
type BeltForGapResult struct {
	Belt     unit.Speed      `json:"belt"`     // belt speed
	Pitch    unit.Length     `json:"pitch"`    // from piece to piece
	Cautions reckon.Cautions `json:"cautions"` // moving-machinery
}

func checkGap(c *reckon.Checks, gap unit.Length) {
	if !(gap > 0 && gap <= widestFree) {
		c.Fail("gap", gap.String(), "more than 0 mm, up to "+widestFree.String())
	}
}

func explainBeltForGap(in BeltForGap, w *reckon.Working) (out BeltForGapResult, err error) {
	c := reckon.Checks{Func: "belt-for-gap"}
	checkGap(&c, in.Gap)
	checkLane(&c, in.Rate, in.Piece)
	if err := c.Err(); err != nil {
		return BeltForGapResult{}, err
	}
	pitch := in.Piece + in.Gap
	out = BeltForGapResult{Belt: unit.Speed(float64(pitch) * float64(in.Rate) / 60), Pitch: pitch, Cautions: reckon.MovingMachinery}
	if !(out.Belt >= slowestBelt && out.Belt <= fastestBelt) {
		low, high := pitchOf(slowestBelt, in.Rate)-in.Piece, pitchOf(fastestBelt, in.Rate)-in.Piece
		none := &reckon.NoSolutionError{
			Func: c.Func, Unknown: "belt speed", Wanted: "a gap of " + in.Gap.String(),
			Advice: "the belt would have to run at " + out.Belt.String() + ", and belts run at " + slowestBelt.String() + " to " + fastestBelt.String() + "; run the divider slower or ask for a smaller gap",
		}
		if out.Belt < slowestBelt {
			none.Advice = "the belt would have to run at " + out.Belt.String() + ", and belts run at " + slowestBelt.String() + " to " + fastestBelt.String() + "; run the divider faster or ask for a larger gap"
		}
		if high > 0 {
			none.Low, none.High = max(0, low).String(), min(widestFree, high).String()
		}
		return BeltForGapResult{}, none
	}
	if w != nil {
		w.Given("gap", "g", float64(in.Gap), "mm", "")
		w.Given("piece length", "l", float64(in.Piece), "mm", "")
		w.Given("rate", "r", float64(in.Rate), "pieces/min", "")
		w.Step("pitch", "p", "l + g", float64(pitch), "mm", "")
		w.Step("belt speed", "v", "p * r / 60", float64(out.Belt), "mm/s", "60 s in a minute")
	}
	return out, nil
}

// RateForGap returns the rate at which pieces on a belt of given speed keep the wanted gap:
//
//	rate = belt speed / (piece length + gap)
//
// It is the inverse of [PieceSpacing], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - gap is not above 0 and up to 100 m,
//   - belt is outside 0.1 mm/s to 10 m/s, or piece outside 1 to 5000 mm.
//
// It returns a *[reckon.NoSolutionError] if the rate would be outside the 0.01 to 10000 pieces/min that [PieceSpacing] takes.
//
// Source: kinematics (derived).
type RateForGap struct {
	Gap   unit.Length `json:"gap"`   // wanted gap between pieces, above 0 to 100 m
	Belt  unit.Speed  `json:"belt"`  // belt speed, 0.1 mm/s to 10 m/s
	Piece unit.Length `json:"piece"` // length of a piece along the belt, 1 to 5000 mm
}

func (RateForGap) ID() string { return "rate-for-gap" }

// SHELL
func (q RateForGap) Check(c *reckon.Checks) {
	_, err := explainRateForGap(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RateForGap) Solve() (RateForGapResult, error) { return explainRateForGap(q, nil) }

func (q RateForGap) Show(w *reckon.Working, _ RateForGapResult) { _, _ = explainRateForGap(q, w) }

// RateForGapResult is how many pieces the lane takes.
type RateForGapResult struct {
	Rate     unit.PieceRate  `json:"rate"`     // pieces on this lane
	Pitch    unit.Length     `json:"pitch"`    // from piece to piece
	Cautions reckon.Cautions `json:"cautions"` // moving-machinery
}

func explainRateForGap(in RateForGap, w *reckon.Working) (out RateForGapResult, err error) {
	c := reckon.Checks{Func: "rate-for-gap"}
	checkGap(&c, in.Gap)
	reckon.CheckRange(&c, "belt", in.Belt, slowestBelt, fastestBelt)
	reckon.CheckRange(&c, "piece", in.Piece, shortestBody, longestBody)
	if err := c.Err(); err != nil {
		return RateForGapResult{}, err
	}
	pitch := in.Piece + in.Gap
	out = RateForGapResult{Rate: unit.PieceRate(float64(in.Belt) * 60 / float64(pitch)), Pitch: pitch, Cautions: reckon.MovingMachinery}
	if !(out.Rate >= slowestRate && out.Rate <= fastestRate) {
		low, high := pitchOf(in.Belt, fastestRate)-in.Piece, pitchOf(in.Belt, slowestRate)-in.Piece
		none := &reckon.NoSolutionError{
			Func: c.Func, Unknown: "rate", Wanted: "a gap of " + in.Gap.String(),
			Advice: "the lane would carry " + out.Rate.String() + ", and lanes carry " + slowestRate.String() + " to " + fastestRate.String() + "; set another belt speed or ask for another gap",
		}
		if high > 0 {
			none.Low, none.High = max(0, low).String(), min(widestFree, high).String()
		}
		return RateForGapResult{}, none
	}
	if w != nil {
		w.Given("gap", "g", float64(in.Gap), "mm", "")
		w.Given("piece length", "l", float64(in.Piece), "mm", "")
		w.Given("belt speed", "v", float64(in.Belt), "mm/s", "")
		w.Step("pitch", "p", "l + g", float64(pitch), "mm", "")
		w.Step("rate", "r", "v * 60 / p", float64(out.Rate), "pieces/min", "60 s in a minute")
	}
	return out, nil
}
