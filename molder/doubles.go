package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DoublesRisk returns how often pieces touch on a belt when they do not arrive evenly:
//
//	P = Phi(z),  z = (length / belt speed - 60 s / rate) / spread
//	doubles per hour = 60 P * rate
//
// with Phi the normal distribution. It is a model: the times from piece to
// piece are taken as normal and as independent of each other. It says how far
// a belt or a rate is from trouble; the count on the line decides.
//
// A piece never comes before the one in front of it. Where the spread is more
// than a third of the mean time, a normal time would be below zero for more
// than one piece in 740; the model no longer holds, and the result is called outside-source.
//
// It returns an *[reckon.InputError] if:
//   - belt is outside 0.1 mm/s to 10 m/s, or so slow that evenly spaced pieces touch,
//   - rate is outside 0.01 to 10000 pieces/min, or piece outside 1 to 5000 mm,
//   - spread is outside 1 ms to 600 s, or most outside 0 to 300000.
//
// Source: normal distribution; cases in testdata/cases/molder/doubles-risk.json.
//
// The inverse is [BeltForDoubles].
type DoublesRisk struct {
	Belt     unit.Speed     `json:"belt"`              // belt speed, 0.1 mm/s to 10 m/s
	Rate     unit.PieceRate `json:"rate"`              // pieces on this lane of the belt, 0.01 to 10000 pieces/min
	Piece    unit.Length    `json:"piece"`             // length of a piece along the belt, 1 to 5000 mm
	Spread   unit.Duration  `json:"spread"`            // standard deviation of the time from piece to piece, 1 ms to 600 s: see [ArrivalSpread]
	Most     float64        `json:"most"`              // doubles in an hour that can be lived with, 0 to 300000
	Measured bool           `json:"measured,omitzero"` // true if spread was measured on this line
}

func (DoublesRisk) ID() string { return "doubles-risk" }

// SHELL
func (q DoublesRisk) Check(c *reckon.Checks) {
	_, err := explainDoublesRisk(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoublesRisk) Solve() (DoublesRiskResult, error) { return explainDoublesRisk(q, nil) }

func (q DoublesRisk) Show(w *reckon.Working, _ DoublesRiskResult) { _, _ = explainDoublesRisk(q, w) }

// DoublesRiskResult is how often pieces touch.
type DoublesRiskResult struct {
	Probability float64         `json:"probability"` // that a piece touches the one before, 0 to 1
	PerHour     float64         `json:"per_hour"`    // doubles to expect in an hour
	Pitch       unit.Length     `json:"pitch"`       // mean distance from piece to piece
	Conditions  Conditions      `json:"conditions"`  // risk-of-doubles, uncalibrated, outside-source
	Cautions    reckon.Cautions `json:"cautions"`    // moving-machinery
}

// mostDoubles is half of the pieces of the fastest lane in an hour.
const mostDoubles = 30 * float64(fastestRate)

// largestUnevenness is the largest spread, over the mean time from piece to
// piece, for which times can be taken as normal. A piece never comes before
// the one in front of it: with a spread of a third of the mean a normal time is
// below zero for one piece in 740, with more the model counts times that
// cannot be.
const largestUnevenness = 1.0 / 3

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

func explainDoublesRisk(in DoublesRisk, w *reckon.Working) (out DoublesRiskResult, err error) {
	c := reckon.Checks{Func: "doubles-risk"}
	ok := reckon.CheckRange(&c, "belt", in.Belt, slowestBelt, fastestBelt)
	ok = checkLane(&c, in.Rate, in.Piece) && ok
	checkSpread(&c, in.Spread)
	reckon.CheckRange(&c, "most", in.Most, 0, mostDoubles)
	if ok {
		checkApart(&c, in.Belt, in.Rate, in.Piece)
	}
	if err := c.Err(); err != nil {
		return DoublesRiskResult{}, err
	}
	z := (float64(in.Piece)/float64(in.Belt) - 60/float64(in.Rate)) / float64(in.Spread)
	p := 0.5 * math.Erfc(-z/math.Sqrt2)
	out = DoublesRiskResult{Probability: p, PerHour: 60 * p * float64(in.Rate), Pitch: pitchOf(in.Belt, in.Rate), Cautions: reckon.MovingMachinery}
	out.Conditions = normality(in.Rate, in.Spread)
	// A belt set for exactly the limit must not fail for its last binary digits.
	if out.PerHour > in.Most*(1+1e-9) {
		out.Conditions |= RiskOfDoubles
	}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("belt speed", "v", float64(in.Belt), "mm/s", "")
		w.Given("rate", "r", float64(in.Rate), "pieces/min", "")
		w.Given("piece length", "l", float64(in.Piece), "mm", "")
		w.Given("spread of the time from piece to piece", "s", float64(in.Spread), "s", "")
		w.Step("pitch", "p", "v * 60 / r", float64(out.Pitch), "mm", "60 s in a minute")
		w.Step("distance to touching, in spreads", "z", "(l/v - 60/r) / s", z, "", "")
		w.Given("probability of a double", "P", p, "", "normal distribution at z")
		w.Step("doubles in an hour", "n", "60 * P * r", out.PerHour, "1/h", "60 minutes in an hour")
	}
	return out, nil
}

// BeltForDoubles returns the slowest belt on which no more pieces touch than can be lived with:
//
//	belt speed = length / (60 s / rate + z spread),  Phi(z) = most / (60 rate)
//
// It is the inverse of [DoublesRisk], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - rate is outside 0.01 to 10000 pieces/min, or piece outside 1 to 5000 mm,
//   - spread is outside 1 ms to 600 s,
//   - most is not above 0 and less than half of the pieces in an hour.
//
// It returns a *[reckon.NoSolutionError] if the pieces come so unevenly that
// no belt up to 10 m/s parts them, or if the belt would run slower than 0.1 mm/s.
//
// Source: normal distribution.
type BeltForDoubles struct {
	Most     float64        `json:"most"`              // doubles in an hour that can be lived with, above 0 and less than half of the pieces
	Rate     unit.PieceRate `json:"rate"`              // pieces on this lane of the belt, 0.01 to 10000 pieces/min
	Piece    unit.Length    `json:"piece"`             // length of a piece along the belt, 1 to 5000 mm
	Spread   unit.Duration  `json:"spread"`            // standard deviation of the time from piece to piece, 1 ms to 600 s: see [ArrivalSpread]
	Measured bool           `json:"measured,omitzero"` // true if spread was measured on this line
}

func (BeltForDoubles) ID() string { return "belt-for-doubles" }

// SHELL
func (q BeltForDoubles) Check(c *reckon.Checks) {
	_, err := explainBeltForDoubles(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BeltForDoubles) Solve() (BeltForDoublesResult, error) { return explainBeltForDoubles(q, nil) }

func (q BeltForDoubles) Show(w *reckon.Working, _ BeltForDoublesResult) {
	_, _ = explainBeltForDoubles(q, w)
}

// BeltForDoublesResult is the slowest belt that does.
type BeltForDoublesResult struct {
	Belt       unit.Speed      `json:"belt"`       // slowest belt
	Pitch      unit.Length     `json:"pitch"`      // mean distance from piece to piece
	Conditions Conditions      `json:"conditions"` // uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainBeltForDoubles(in BeltForDoubles, w *reckon.Working) (out BeltForDoublesResult, err error) {
	c := reckon.Checks{Func: "belt-for-doubles"}
	rate := reckon.CheckRange(&c, "rate", in.Rate, slowestRate, fastestRate)
	reckon.CheckRange(&c, "piece", in.Piece, shortestBody, longestBody)
	checkSpread(&c, in.Spread)
	p := in.Most / (60 * float64(in.Rate))
	switch {
	case rate && !(p > 0 && p < 0.5):
		c.Fail("most", number(in.Most), "more than 0 and less than "+number(30*float64(in.Rate))+", half of the pieces in an hour")
	case !rate && !(in.Most > 0):
		c.Fail("most", number(in.Most), "more than 0 and less than half of the pieces in an hour")
	}
	if err := c.Err(); err != nil {
		return BeltForDoublesResult{}, err
	}
	z := -math.Sqrt2 * math.Erfcinv(2*p)
	free := 60/float64(in.Rate) + float64(z*float64(in.Spread))
	belt := unit.Speed(float64(in.Piece) / free)
	if !(free > 0 && belt >= slowestBelt && belt <= fastestBelt) {
		none := &reckon.NoSolutionError{
			Func: c.Func, Unknown: "belt speed", Wanted: "at most " + number(in.Most) + " doubles in an hour",
			Low:    number(in.doubles(fastestBelt)),
			Advice: "the pieces come too unevenly for their rate; find out what holds them up, or run slower",
		}
		if free > 0 && belt < slowestBelt {
			none.Low, none.High = "", number(in.doubles(slowestBelt))
			none.Advice = "the belt would have to run at " + belt.String() + ", and " + slowestBelt.String() + " is the slowest; run it at that, it has fewer doubles"
		}
		return BeltForDoublesResult{}, none
	}
	out = BeltForDoublesResult{Belt: belt, Pitch: pitchOf(belt, in.Rate), Conditions: normality(in.Rate, in.Spread), Cautions: reckon.MovingMachinery}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("doubles in an hour", "n", in.Most, "1/h", "")
		w.Given("rate", "r", float64(in.Rate), "pieces/min", "")
		w.Given("piece length", "l", float64(in.Piece), "mm", "")
		w.Given("spread of the time from piece to piece", "s", float64(in.Spread), "s", "")
		w.Step("probability of a double", "P", "n / (60 * r)", p, "", "60 minutes in an hour")
		w.Given("distance to touching, in spreads", "z", z, "", "normal distribution at P")
		w.Step("belt speed", "v", "l / (60/r + z*s)", float64(belt), "mm/s", "")
		w.Step("pitch", "p", "v * 60 / r", float64(out.Pitch), "mm", "60 s in a minute")
	}
	return out, nil
}

// doubles returns the doubles in an hour on a belt.
func (in *BeltForDoubles) doubles(belt unit.Speed) float64 {
	z := (float64(in.Piece)/float64(belt) - 60/float64(in.Rate)) / float64(in.Spread)
	return 30 * math.Erfc(-z/math.Sqrt2) * float64(in.Rate)
}

// ArrivalSpread returns the mean time from piece to piece and its standard deviation, from times taken on the line:
//
//	mean = sum / n,  spread = sqrt(sum of squared differences / (n - 1))
//
// Take some thirty intervals or more without a stop between them.
//
// It returns an *[reckon.InputError] if:
//   - intervals has fewer than three, or one is not above 0 and up to 1 h.
//
// Source: sample standard deviation; NIST Statistical Reference Datasets, Mavro; cases in testdata/cases/molder/arrival-spread.json.
//
// It calibrates [DoublesRisk].
type ArrivalSpread struct {
	Intervals []unit.Duration `json:"intervals"` // time from each piece to the next, above 0 to 1 h; at least three
}

func (ArrivalSpread) ID() string { return "arrival-spread" }

// SHELL
func (q ArrivalSpread) Check(c *reckon.Checks) {
	_, err := explainArrivalSpread(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ArrivalSpread) Solve() (ArrivalSpreadResult, error) { return explainArrivalSpread(q, nil) }

func (q ArrivalSpread) Show(w *reckon.Working, _ ArrivalSpreadResult) {
	_, _ = explainArrivalSpread(q, w)
}

// ArrivalSpreadResult is how evenly the pieces come.
type ArrivalSpreadResult struct {
	Mean   unit.Duration  `json:"mean"`   // time from piece to piece
	Spread unit.Duration  `json:"spread"` // its sample standard deviation
	Rate   unit.PieceRate `json:"rate"`   // pieces on this lane
	Pieces int            `json:"pieces"` // intervals measured
}

func explainArrivalSpread(in ArrivalSpread, w *reckon.Working) (out ArrivalSpreadResult, err error) {
	c := reckon.Checks{Func: "arrival-spread"}
	if len(in.Intervals) < 3 {
		c.Fail("intervals", fmt.Sprintf("%d long", len(in.Intervals)), "at least three times from piece to piece")
	}
	sum := 0.0
	for i, t := range in.Intervals {
		if !(t > 0 && t <= 3600) {
			c.Fail(fmt.Sprintf("intervals[%d]", i), t.String(), "more than 0 s, up to 1 h")
		}
		sum += float64(t)
	}
	if err := c.Err(); err != nil {
		return ArrivalSpreadResult{}, err
	}
	n := float64(len(in.Intervals))
	mean := sum / n
	squares := 0.0
	for _, t := range in.Intervals {
		d := float64(t) - mean
		squares += float64(d * d)
	}
	out = ArrivalSpreadResult{
		Mean: unit.Duration(mean), Spread: unit.Duration(math.Sqrt(squares / (n - 1))),
		Rate: unit.PieceRate(60 / mean), Pieces: len(in.Intervals),
	}
	if !(out.Rate <= fastestRate) {
		c.Fail("intervals", out.Mean.String()+" on average", "at least 6 ms on average: no lane runs faster")
		return ArrivalSpreadResult{}, c.Err()
	}
	if w != nil {
		w.Given("intervals", "n", n, "", "")
		w.Given("sum of the intervals", "S", sum, "s", "")
		w.Given("sum of squared differences from the mean", "SS", squares, "s²", "")
		w.Step("mean interval", "T", "S / n", mean, "s", "")
		w.Step("rate", "r", "60 / T", float64(out.Rate), "pieces/min", "60 s in a minute")
		w.Step("spread", "s", "sqrt(SS / (n - 1))", float64(out.Spread), "s", "sample standard deviation")
	}
	return out, nil
}
