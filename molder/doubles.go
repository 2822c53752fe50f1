package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DoublesRisk asks how often pieces touch on a belt when they do not arrive
// evenly:
//
//	z = (l / v - 60 / r) / s,  P = Phi(z)
//	n = 60 * P * r
//	p = v * 60 / r
//
// with Phi the normal distribution. It is a model: the times from piece to
// piece are taken as normal and as independent of each other. It says how far
// a belt or a rate is from trouble; what is counted on the line decides.
//
// A piece never comes before the one in front of it. Where the spread exceeds
// a third of the mean time, a normal time would be below zero for more than one
// piece in 740; the model no longer holds, and the result is called outside-source.
//
// It is refused if:
//   - the belt is so slow that evenly spaced pieces touch.
//
// Source: normal distribution; cases in testdata/cases/molder/doubles-risk.json.
//
// The inverse is [BeltForDoubles].
type DoublesRisk struct {
	Belt     unit.Speed     `json:"belt" sym:"v" range:"0.1 mm/s..10 m/s"`                  // belt speed
	Rate     unit.PieceRate `json:"rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on this lane of the belt
	Piece    unit.Length    `json:"piece" sym:"l" range:"1 mm..5000 mm"`                    // length of a piece along the belt
	Spread   unit.Duration  `json:"spread" sym:"s" range:"1 ms..600 s"`                     // standard deviation of the time from piece to piece: see [ArrivalSpread]
	Most     float64        `json:"most" range:"0..300000"`                                 // acceptable doubles in an hour
	Measured bool           `json:"measured,omitzero"`                                      // true if spread was measured on this line
}

// DoublesRiskResult is how often pieces touch.
type DoublesRiskResult struct {
	Probability float64         `json:"probability" sym:"P"` // that a piece touches the one before, 0 to 1
	PerHour     float64         `json:"per_hour" sym:"n"`    // doubles to expect in an hour
	Pitch       unit.Length     `json:"pitch" sym:"p"`       // mean distance from piece to piece
	Conditions  Conditions      `json:"conditions"`          // risk-of-doubles, uncalibrated, outside-source
	Cautions    reckon.Cautions `json:"cautions"`            // moving-machinery
}

// mostDoubles is half of the pieces of the fastest lane in an hour.
const mostDoubles = 30 * float64(fastestRate)

// largestUnevenness is the largest spread, over the mean time from piece to
// piece, for which times can be taken as normal. A piece never comes before
// the one in front of it: with a spread of a third of the mean a normal time is
// below zero for one piece in 740, with more the model counts times that
// cannot be.
const largestUnevenness = 1.0 / 3

func (DoublesRisk) ID() string { return "doubles-risk" }

func (q DoublesRisk) Check(c *reckon.Checks) { q.check(c) }

// check returns the pitch, which shows whether evenly spaced pieces touch.
func (q DoublesRisk) check(c *reckon.Checks) (pitch unit.Length) {
	ok := reckon.CheckRange(c, "belt", q.Belt, slowestBelt, fastestBelt)
	ok = checkLane(c, q.Rate, q.Piece) && ok
	checkSpread(c, q.Spread)
	reckon.CheckRange(c, "most", q.Most, 0, mostDoubles)
	if ok {
		pitch = checkApart(c, q.Belt, q.Rate, q.Piece)
	}
	return pitch
}

func (q DoublesRisk) Solve() (out DoublesRiskResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	pitch := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	p := touching(q.Belt, q.Rate, q.Piece, q.Spread)
	out = DoublesRiskResult{
		Probability: p, PerHour: 60 * p * float64(q.Rate), Pitch: pitch,
		Conditions: normality(q.Rate, q.Spread), Cautions: reckon.MovingMachinery,
	}
	// A belt set for exactly the limit must not fail for its last binary digits.
	if out.PerHour > q.Most*(1+1e-9) {
		out.Conditions |= RiskOfDoubles
	}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q DoublesRisk) Show(w *reckon.Working, out DoublesRiskResult) {
	w.Inputs(q)
	w.Lines(out,
		"pitch: p = v*60/r  [60 s in a minute]",
		"distance to touching, in spreads: z = (l/v - 60/r)/s",
	)
	w.Given("probability of a double", "P", out.Probability, "", "normal distribution at z")
	w.Lines(out, "doubles in an hour: n = 60*P*r in 1/h  [60 minutes in an hour]")
}

// touching returns the probability that a piece touches the one before.
func touching(belt unit.Speed, rate unit.PieceRate, piece unit.Length, spread unit.Duration) float64 {
	z := (float64(piece)/float64(belt) - 60/float64(rate)) / float64(spread)
	return 0.5 * math.Erfc(-z/math.Sqrt2)
}

// normality says whether times from piece to piece can still be normal.
func normality(rate unit.PieceRate, spread unit.Duration) Conditions {
	if float64(spread) > largestUnevenness*60/float64(rate)*(1+1e-9) {
		return reckon.OutsideSource
	}
	return 0
}

func checkSpread(c *reckon.Checks, spread unit.Duration) {
	reckon.CheckRange(c, "spread", spread, 0.001, 600)
}

// BeltForDoubles asks for the slowest belt on which no more pieces touch than
// is acceptable:
//
//	P = n / (60 * r),  Phi(z) = P
//	v = l / (60 / r + z * s)
//	p = v * 60 / r
//
// It is the inverse of [DoublesRisk], with the same validity.
//
// It is refused if:
//   - most is not less than half of the pieces in an hour.
//
// Source: normal distribution.
//
// The inverse is [DoublesRisk].
type BeltForDoubles struct {
	Most     float64        `json:"most" sym:"n" range:"-"`                                 // acceptable doubles in an hour, above 0 and less than half of the pieces
	Rate     unit.PieceRate `json:"rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on this lane of the belt
	Piece    unit.Length    `json:"piece" sym:"l" range:"1 mm..5000 mm"`                    // length of a piece along the belt
	Spread   unit.Duration  `json:"spread" sym:"s" range:"1 ms..600 s"`                     // standard deviation of the time from piece to piece: see [ArrivalSpread]
	Measured bool           `json:"measured,omitzero"`                                      // true if spread was measured on this line
}

// BeltForDoublesResult is the slowest belt that does.
type BeltForDoublesResult struct {
	Belt       unit.Speed      `json:"belt" sym:"v"`  // slowest belt
	Pitch      unit.Length     `json:"pitch" sym:"p"` // mean distance from piece to piece
	Conditions Conditions      `json:"conditions"`    // uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`      // moving-machinery
}

func (BeltForDoubles) ID() string { return "belt-for-doubles" }

func (q BeltForDoubles) Check(c *reckon.Checks) {
	rate := reckon.CheckRange(c, "rate", q.Rate, slowestRate, fastestRate)
	reckon.CheckRange(c, "piece", q.Piece, shortestBody, longestBody)
	checkSpread(c, q.Spread)
	switch p := q.probability(); {
	case rate && !(p > 0 && p < 0.5):
		c.Fail("most", number(q.Most), "more than 0 and less than "+number(30*float64(q.Rate))+", half of the pieces in an hour")
	case !rate && !(q.Most > 0):
		c.Fail("most", number(q.Most), "more than 0 and less than half of the pieces in an hour")
	}
}

// Solve has no answer if the pieces come so unevenly that no belt up to 10 m/s
// parts them, or if the belt would run slower than 0.1 mm/s.
func (q BeltForDoubles) Solve() (out BeltForDoublesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	free := 60/float64(q.Rate) + float64(q.spreads()*float64(q.Spread))
	belt := unit.Speed(float64(q.Piece) / free)
	if !(free > 0 && belt >= slowestBelt && belt <= fastestBelt) {
		return out, q.noBelt(free, belt)
	}
	out = BeltForDoublesResult{Belt: belt, Pitch: pitchOf(belt, q.Rate), Conditions: normality(q.Rate, q.Spread), Cautions: reckon.MovingMachinery}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q BeltForDoubles) Show(w *reckon.Working, out BeltForDoublesResult) {
	w.Inputs(q)
	w.Lines(out, "probability of a double: P = n/(60*r)  [60 minutes in an hour]")
	w.Given("distance to touching, in spreads", "z", q.spreads(), "", "normal distribution at P")
	w.Lines(out,
		"belt speed: v = l/(60/r + z*s)",
		"pitch: p = v*60/r  [60 s in a minute]",
	)
}

// probability returns the share of the pieces that may touch the one before.
func (q BeltForDoubles) probability() float64 { return q.Most / (60 * float64(q.Rate)) }

// spreads returns how far the mean time is from touching, in spreads: below zero.
func (q BeltForDoubles) spreads() float64 { return -math.Sqrt2 * math.Erfcinv(2*q.probability()) }

// noBelt says how many doubles there are on the fastest and the slowest belt.
func (q BeltForDoubles) noBelt(free float64, belt unit.Speed) error {
	perHour := func(belt unit.Speed) string {
		return number(60 * touching(belt, q.Rate, q.Piece, q.Spread) * float64(q.Rate))
	}
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "belt speed", Wanted: "at most " + number(q.Most) + " doubles in an hour",
		Low:    perHour(fastestBelt),
		Advice: "the pieces come too unevenly for their rate; find out what holds them up, or run slower",
	}
	if free > 0 && belt < slowestBelt {
		none.Low, none.High = "", perHour(slowestBelt)
		none.Advice = "the belt would have to run at " + belt.String() + ", and " + slowestBelt.String() + " is the slowest; run it at that, it has fewer doubles"
	}
	return none
}

// ArrivalSpread asks how evenly the pieces come, from times taken on the line:
//
//	T = (t_1 + ... + t_n) / n
//	r = 60 / T
//	s = sqrt(sum((t_i - T)^2) / (n - 1))
//
// Take some thirty intervals or more without a stop between them.
//
// It is refused if:
//   - there are fewer than three intervals,
//   - they are shorter than 6 ms on average: no lane runs faster.
//
// Source: sample standard deviation; NIST Statistical Reference Datasets, Mavro; cases in testdata/cases/molder/arrival-spread.json.
//
// It calibrates [DoublesRisk].
type ArrivalSpread struct {
	Intervals []unit.Duration `json:"intervals" sym:"t_#" range:">0 s..1 h"` // time from each piece to the next; at least three
}

// ArrivalSpreadResult is how evenly the pieces come.
type ArrivalSpreadResult struct {
	Mean   unit.Duration  `json:"mean" sym:"T"`   // time from piece to piece
	Spread unit.Duration  `json:"spread" sym:"s"` // its sample standard deviation
	Rate   unit.PieceRate `json:"rate" sym:"r"`   // pieces on this lane
	Pieces int            `json:"pieces" sym:"n"` // intervals measured
}

func (ArrivalSpread) ID() string { return "arrival-spread" }

func (q ArrivalSpread) Check(c *reckon.Checks) { q.check(c) }

// check returns the mean interval, which shows whether a lane can run so fast.
func (q ArrivalSpread) check(c *reckon.Checks) (mean unit.Duration) {
	mark := c.Mark()
	if len(q.Intervals) < 3 {
		c.Fail("intervals", fmt.Sprintf("%d long", len(q.Intervals)), "at least three times from piece to piece")
	}
	sum := 0.0
	for i, t := range q.Intervals {
		if !(t > 0 && t <= 3600) {
			c.Fail(fmt.Sprintf("intervals[%d]", i), t.String(), "more than 0 s, up to 1 h")
		}
		sum += float64(t)
	}
	mean = unit.Duration(sum / float64(len(q.Intervals)))
	if c.Mark() == mark && !(rateOf(mean) <= fastestRate) {
		c.Fail("intervals", mean.String()+" on average", "at least 6 ms on average: no lane runs faster")
	}
	return mean
}

func (q ArrivalSpread) Solve() (out ArrivalSpreadResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	mean := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	squares := 0.0
	for _, t := range q.Intervals {
		d := float64(t - mean)
		squares += float64(d * d)
	}
	return ArrivalSpreadResult{
		Mean: mean, Spread: unit.Duration(math.Sqrt(squares / float64(len(q.Intervals)-1))),
		Rate: rateOf(mean), Pieces: len(q.Intervals),
	}, nil
}

func (q ArrivalSpread) Show(w *reckon.Working, out ArrivalSpreadResult) {
	w.Inputs(q)
	w.Lines(out,
		fmt.Sprintf("intervals: n = %d", out.Pieces),
		"mean interval: T = sum(t_#)/n",
		"rate: r = 60/T  [60 s in a minute]",
		"sum of squared differences from the mean: Q = sum((t_# - T)*(t_# - T)) in s²",
		"spread: s = sqrt(Q/(n - 1))  [sample standard deviation]",
	)
}

// rateOf returns the pieces on a lane from the mean time between them.
func rateOf(interval unit.Duration) unit.PieceRate { return unit.PieceRate(60 / float64(interval)) }
