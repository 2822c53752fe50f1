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

// PieceSpacing asks how far apart the pieces are on a belt, and how much of
// the belt is free between them:
//
//	p = v * 60 / r
//	g = p - l
//
// It holds for pieces that arrive evenly; for uneven arrival see [DoublesRisk].
//
// It is refused if:
//   - the belt is so slow that the pieces touch,
//   - the rate is so low that more than 100 m of belt are free between two pieces.
//
// Source: kinematics (derived); cases in testdata/cases/molder/piece-spacing.json.
//
// The inverses are [BeltForGap] and [RateForGap].
type PieceSpacing struct {
	Belt        unit.Speed     `json:"belt" sym:"v" range:"0.1 mm/s..10 m/s"`                        // belt speed
	PieceRate   unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on this lane of the belt
	PieceLength unit.Length    `json:"piece_length" sym:"l" range:"1 mm..5 m"`                       // length of a piece along the belt
	LeastGap    unit.Length    `json:"least_gap,omitzero" range:"0 mm..5 m"`                         // smallest gap wanted; with 0 only touching pieces are refused
}

// PieceSpacingResult is how the pieces run.
type PieceSpacingResult struct {
	Pitch      unit.Length     `json:"pitch" sym:"p"` // from one piece to the same point of the next
	Gap        unit.Length     `json:"gap" sym:"g"`   // free belt between them
	Conditions Conditions      `json:"conditions"`    // risk-of-doubles
	Cautions   reckon.Cautions `json:"cautions"`      // moving-machinery, running-drive
}

func (PieceSpacing) ID() string { return "piece-spacing" }

func (q PieceSpacing) Check(c *reckon.Checks) { q.check(c) }

// check returns the pitch, which shows whether the pieces touch.
func (q *PieceSpacing) check(c *reckon.Checks) (pitch unit.Length) {
	mark := c.Mark()
	ok := reckon.CheckRange(c, "belt", q.Belt, slowestBelt, fastestBelt)
	ok = checkLane(c, q.PieceRate, q.PieceLength) && ok
	reckon.CheckRange(c, "least_gap", q.LeastGap, 0, longestBody)
	if ok {
		pitch = checkApart(c, q.Belt, q.PieceRate, q.PieceLength)
	}
	if gap := pitch - q.PieceLength; c.Mark() == mark && gap > widestFree*(1+1e-9) {
		tooFree(c, "piece_rate", q.PieceRate.String(), gap)
	}
	return pitch
}

func (q PieceSpacing) Solve() (out PieceSpacingResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *PieceSpacing) SolveInto(out *PieceSpacingResult) error {
	*out = PieceSpacingResult{}
	c := reckon.Checks{Func: q.ID()}
	pitch := q.check(&c)
	if !c.OK() {
		return c.Err()
	}
	out.Pitch, out.Gap, out.Cautions = pitch, pitch-q.PieceLength, reckon.MovingMachinery|reckon.RunningDrive
	if out.Gap < q.LeastGap {
		out.Conditions |= RiskOfDoubles
	}
	return nil
}

func (q PieceSpacing) Show(w *reckon.Working, out PieceSpacingResult) {
	w.Inputs(q)
	w.Lines(out,
		"pitch: p = v*60{s/min}/r",
		"gap: g = p - l",
	)
}

func checkLane(c *reckon.Checks, rate unit.PieceRate, piece unit.Length) bool {
	ok := reckon.CheckRange(c, "piece_rate", rate, slowestRate, fastestRate)
	return reckon.CheckRange(c, "piece_length", piece, shortestBody, longestBody) && ok
}

func pitchOf(belt unit.Speed, rate unit.PieceRate) unit.Length {
	return unit.Length(float64(belt) * 60 / float64(rate))
}

// checkApart requires a belt fast enough that evenly spaced pieces do not touch,
// and returns their pitch.
func checkApart(c *reckon.Checks, belt unit.Speed, rate unit.PieceRate, piece unit.Length) unit.Length {
	pitch := pitchOf(belt, rate)
	if pitch <= piece {
		c.Fail("belt", belt.String(), apartWant(rate, piece))
	}
	return pitch
}

func apartWant(rate unit.PieceRate, piece unit.Length) string {
	touching := unit.Speed(float64(piece) * float64(rate) / 60)
	return "more than " + touching.String() + ", at which pieces of this length touch: run the belt faster or the divider slower"
}

// tooFree says that more of the belt is free between pieces than can be meant.
func tooFree(c *reckon.Checks, field, value string, gap unit.Length) {
	c.Fail(field, value, "at most "+widestFree.String()+" free between pieces, and at this speed and rate it is "+gap.String()+": check both")
}

// BeltForGap asks how fast the belt must run to leave the wanted gap between
// the pieces:
//
//	p = l + g
//	v = p * r / 60
//
// It is the inverse of [PieceSpacing], with the same validity.
//
// Source: kinematics (derived).
//
// The inverse is [PieceSpacing].
type BeltForGap struct {
	Gap         unit.Length    `json:"gap" sym:"g" range:">0 mm..100 m"`                             // wanted gap between pieces
	PieceRate   unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on this lane of the belt
	PieceLength unit.Length    `json:"piece_length" sym:"l" range:"1 mm..5 m"`                       // length of a piece along the belt
}

// BeltForGapResult is how fast the belt runs.
type BeltForGapResult struct {
	Belt     unit.Speed      `json:"belt" sym:"v"`  // belt speed
	Pitch    unit.Length     `json:"pitch" sym:"p"` // from piece to piece
	Cautions reckon.Cautions `json:"cautions"`      // moving-machinery, running-drive
}

func (BeltForGap) ID() string { return "belt-for-gap" }

func (q BeltForGap) Check(c *reckon.Checks) {
	checkGap(c, q.Gap)
	checkLane(c, q.PieceRate, q.PieceLength)
}

// Solve has no answer if the belt would have to run slower than 0.1 mm/s or
// faster than 10 m/s.
func (q BeltForGap) Solve() (out BeltForGapResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	pitch := q.PieceLength + q.Gap
	belt := unit.Speed(float64(pitch) * float64(q.PieceRate) / 60)
	if !(belt >= slowestBelt && belt <= fastestBelt) {
		return out, q.noBelt(belt)
	}
	return BeltForGapResult{Belt: belt, Pitch: pitch, Cautions: reckon.MovingMachinery | reckon.RunningDrive}, nil
}

func (q BeltForGap) Show(w *reckon.Working, out BeltForGapResult) {
	w.Inputs(q)
	w.Lines(out,
		"pitch: p = l + g",
		"belt speed: v = p*r/60{s/min}",
	)
}

// noBelt says which gaps belts can leave at this rate.
func (q BeltForGap) noBelt(belt unit.Speed) error {
	instead := "run the divider slower or ask for a smaller gap"
	if belt < slowestBelt {
		instead = "run the divider faster or ask for a larger gap"
	}
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "belt speed", Wanted: "a gap of " + q.Gap.String(),
		Advice: "the belt would have to run at " + belt.String() + ", and belts run at " + slowestBelt.String() + " to " + fastestBelt.String() + "; " + instead,
	}
	low, high := pitchOf(slowestBelt, q.PieceRate)-q.PieceLength, pitchOf(fastestBelt, q.PieceRate)-q.PieceLength
	if high > 0 {
		none.Low, none.High = max(0, low).String(), min(widestFree, high).String()
	}
	return none
}

func checkGap(c *reckon.Checks, gap unit.Length) {
	if !(gap > 0 && gap <= widestFree) {
		c.Fail("gap", gap.String(), "more than 0 mm, up to "+widestFree.String())
	}
}

// RateForGap asks how many pieces a minute a belt can carry with the wanted gap:
//
//	p = l + g
//	r = v * 60 / p
//
// It is the inverse of [PieceSpacing], with the same validity.
//
// Source: kinematics (derived).
//
// The inverse is [PieceSpacing].
type RateForGap struct {
	Gap         unit.Length `json:"gap" sym:"g" range:">0 mm..100 m"`       // wanted gap between pieces
	Belt        unit.Speed  `json:"belt" sym:"v" range:"0.1 mm/s..10 m/s"`  // belt speed
	PieceLength unit.Length `json:"piece_length" sym:"l" range:"1 mm..5 m"` // length of a piece along the belt
}

// RateForGapResult is how many pieces the lane can carry.
type RateForGapResult struct {
	PieceRate unit.PieceRate  `json:"piece_rate" sym:"r"` // pieces on this lane
	Pitch     unit.Length     `json:"pitch" sym:"p"`      // from piece to piece
	Cautions  reckon.Cautions `json:"cautions"`           // moving-machinery, running-drive
}

func (RateForGap) ID() string { return "rate-for-gap" }

func (q RateForGap) Check(c *reckon.Checks) {
	checkGap(c, q.Gap)
	reckon.CheckRange(c, "belt", q.Belt, slowestBelt, fastestBelt)
	reckon.CheckRange(c, "piece_length", q.PieceLength, shortestBody, longestBody)
}

// Solve has no answer if the lane would have to carry less than 0.01 or more
// than 10000 pieces/min.
func (q RateForGap) Solve() (out RateForGapResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	pitch := q.PieceLength + q.Gap
	rate := unit.PieceRate(float64(q.Belt) * 60 / float64(pitch))
	if !(rate >= slowestRate && rate <= fastestRate) {
		return out, q.noRate(rate)
	}
	return RateForGapResult{PieceRate: rate, Pitch: pitch, Cautions: reckon.MovingMachinery | reckon.RunningDrive}, nil
}

func (q RateForGap) Show(w *reckon.Working, out RateForGapResult) {
	w.Inputs(q)
	w.Lines(out,
		"pitch: p = l + g",
		"rate: r = v*60{s/min}/p",
	)
}

// noRate says which gaps lanes can have at this belt speed.
func (q RateForGap) noRate(rate unit.PieceRate) error {
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "rate", Wanted: "a gap of " + q.Gap.String(),
		Advice: "the lane would carry " + rate.String() + ", and lanes carry " + slowestRate.String() + " to " + fastestRate.String() + "; set another belt speed or ask for another gap",
	}
	low, high := pitchOf(q.Belt, fastestRate)-q.PieceLength, pitchOf(q.Belt, slowestRate)-q.PieceLength
	if high > 0 {
		none.Low, none.High = max(0, low).String(), min(widestFree, high).String()
	}
	return none
}
