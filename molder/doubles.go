package molder

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DoublesRisk asks how often pieces touch on a belt when they arrive unevenly:
//
//	z = (l / v - 60 / r) / s,  P = Phi(z)
//	n = 60 * P * r
//	p = v * 60 / r
//
// with Phi the normal distribution. It is a model: the times from piece to
// piece are taken as normal and as independent of each other. It says how far
// a belt or a rate is from trouble; what is counted on the line decides.
//
// A piece never comes before the one in front of it. Where the standard
// deviation exceeds a third of the mean time, a normal time would be below zero for more than one
// piece in 740; the model no longer holds, and the result is called outside-source.
//
// It is refused if:
//   - the belt is so slow that evenly spaced pieces touch.
//
// Source: normal distribution; cases in testdata/cases/molder/doubles-risk.json.
//
// The inverse is [BeltForDoubles].
type DoublesRisk struct {
	Belt         unit.Speed     `json:"belt" sym:"v" range:"0.1 mm/s..10 m/s"`                        // belt speed
	PieceRate    unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on this lane of the belt
	PieceLength  unit.Length    `json:"piece_length" sym:"l" range:"1 mm..5 m"`                       // length of a piece along the belt
	SD           unit.Duration  `json:"sd" sym:"s" range:"1 ms..10 min"`                              // standard deviation of the time from piece to piece: see [ArrivalSD]
	PerHourLimit float64        `json:"per_hour_limit" range:"0..300000"`                             // acceptable doubles in an hour
	Measured     bool           `json:"measured,omitzero"`                                            // true if sd was measured on this line
}

// DoublesRiskResult is how often pieces touch.
type DoublesRiskResult struct {
	Probability float64         `json:"probability" sym:"P"` // that a piece touches the one before, 0 to 1
	PerHour     float64         `json:"per_hour" sym:"n"`    // doubles to expect in an hour
	Pitch       unit.Length     `json:"pitch" sym:"p"`       // mean distance from piece to piece
	Conditions  Conditions      `json:"conditions"`          // risk-of-doubles, uncalibrated, outside-source
	Cautions    reckon.Cautions `json:"cautions"`            // moving-machinery, running-drive
}

// mostDoubles is half of the pieces of the fastest lane in an hour.
const mostDoubles = 30 * float64(fastestRate)

// largestUnevenness is the largest standard deviation, over the mean time from
// piece to piece, for which times can be taken as normal. A piece never comes
// before the one in front of it: with one of a third of the mean a normal time is
// below zero for one piece in 740, with more the model counts times that
// cannot be.
const largestUnevenness = 1.0 / 3

// mostIntervals is about as many as fit into what is read.
const mostIntervals = 100_000

func (DoublesRisk) ID() string { return "doubles-risk" }

func (q DoublesRisk) Check(c *reckon.Checks) { q.check(c) }

// check returns the pitch, which shows whether evenly spaced pieces touch.
func (q DoublesRisk) check(c *reckon.Checks) (pitch unit.Length) {
	ok := reckon.CheckRange(c, "belt", q.Belt, slowestBelt, fastestBelt)
	ok = checkLane(c, q.PieceRate, q.PieceLength) && ok
	checkSD(c, q.SD)
	reckon.CheckRange(c, "per_hour_limit", q.PerHourLimit, 0, mostDoubles)
	if ok {
		pitch = checkApart(c, q.Belt, q.PieceRate, q.PieceLength)
	}
	return pitch
}

func (q DoublesRisk) Solve() (out DoublesRiskResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	pitch := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	p := touching(q.Belt, q.PieceRate, q.PieceLength, q.SD)
	out = DoublesRiskResult{
		Probability: p, PerHour: 60 * p * float64(q.PieceRate), Pitch: pitch,
		Conditions: normality(q.PieceRate, q.SD), Cautions: reckon.MovingMachinery | reckon.RunningDrive,
	}
	// A belt set for exactly the limit must not fail for its last binary digits.
	if out.PerHour > q.PerHourLimit*(1+1e-9) {
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
		"pitch: p = v*60{s/min}/r",
		"distance to touching, in standard deviations: z = (l/v - 60{s/min}/r)/s",
		"probability of a double: P = normal(z)  [share of a normal distribution below z]",
		"doubles in an hour: n = 60{min/h}*P*r in 1/h",
	)
}

// touching returns the probability that a piece touches the one before.
func touching(belt unit.Speed, rate unit.PieceRate, piece unit.Length, sd unit.Duration) float64 {
	z := (float64(piece)/float64(belt) - 60/float64(rate)) / float64(sd)
	return 0.5 * math.Erfc(-z/math.Sqrt2)
}

// normality says whether times from piece to piece can still be normal.
func normality(rate unit.PieceRate, sd unit.Duration) Conditions {
	if float64(sd) > largestUnevenness*60/float64(rate)*(1+1e-9) {
		return reckon.OutsideSource
	}
	return 0
}

func checkSD(c *reckon.Checks, sd unit.Duration) {
	reckon.CheckRange(c, "sd", sd, 0.001, 600)
}

// BeltForDoubles asks how fast the belt must run so that no more pieces touch
// than is acceptable:
//
//	P = n / (60 * r),  Phi(z) = P
//	v = l / (60 / r + z * s)
//	p = v * 60 / r
//
// It is the inverse of [DoublesRisk], with the same validity.
//
// It is refused if:
//   - per_hour_limit is not less than half of the pieces in an hour.
//
// Source: normal distribution.
//
// The inverse is [DoublesRisk].
type BeltForDoubles struct {
	PerHourLimit float64        `json:"per_hour_limit" sym:"n" range:"-"`                             // acceptable doubles in an hour, above 0 and less than half of the pieces
	PieceRate    unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on this lane of the belt
	PieceLength  unit.Length    `json:"piece_length" sym:"l" range:"1 mm..5 m"`                       // length of a piece along the belt
	SD           unit.Duration  `json:"sd" sym:"s" range:"1 ms..10 min"`                              // standard deviation of the time from piece to piece: see [ArrivalSD]
	Measured     bool           `json:"measured,omitzero"`                                            // true if sd was measured on this line
}

// BeltForDoublesResult is the slowest belt that does.
type BeltForDoublesResult struct {
	Belt       unit.Speed      `json:"belt" sym:"v"`  // slowest belt
	Pitch      unit.Length     `json:"pitch" sym:"p"` // mean distance from piece to piece
	Conditions Conditions      `json:"conditions"`    // uncalibrated, outside-source
	Cautions   reckon.Cautions `json:"cautions"`      // moving-machinery, running-drive
}

func (BeltForDoubles) ID() string { return "belt-for-doubles" }

func (q BeltForDoubles) Check(c *reckon.Checks) {
	rate := reckon.CheckRange(c, "piece_rate", q.PieceRate, slowestRate, fastestRate)
	reckon.CheckRange(c, "piece_length", q.PieceLength, shortestBody, longestBody)
	checkSD(c, q.SD)
	switch p := q.probability(); {
	case rate && !(p > 0 && p < 0.5):
		c.Fail("per_hour_limit", number(q.PerHourLimit), "more than 0 and less than "+number(30*float64(q.PieceRate))+", half of the pieces in an hour")
	case !(q.PerHourLimit > 0):
		c.Fail("per_hour_limit", number(q.PerHourLimit), "more than 0 and less than half of the pieces in an hour")
	}
}

// Solve has no answer if the pieces arrive so unevenly that no belt up to 10 m/s
// parts them, or if the belt would run slower than 0.1 mm/s.
func (q BeltForDoubles) Solve() (out BeltForDoublesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	free := 60/float64(q.PieceRate) + float64(q.deviations()*float64(q.SD))
	belt := unit.Speed(float64(q.PieceLength) / free)
	if !(belt >= slowestBelt && belt <= fastestBelt) { // it is negative where no time is left
		return out, q.noBelt(free, belt)
	}
	out = BeltForDoublesResult{Belt: belt, Pitch: pitchOf(belt, q.PieceRate), Conditions: normality(q.PieceRate, q.SD), Cautions: reckon.MovingMachinery | reckon.RunningDrive}
	if !q.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q BeltForDoubles) Show(w *reckon.Working, out BeltForDoublesResult) {
	w.Inputs(q)
	w.Lines(out, "probability of a double: P = n/(60{min/h}*r)")
	w.Root("distance to touching, in standard deviations", "z", q.deviations(), "", "normal quantile of P")
	w.PutBack("share of a normal distribution below z: P = normal(z)")
	w.Lines(out,
		"belt speed: v = l/(60{s/min}/r + z*s)",
		"pitch: p = v*60{s/min}/r",
	)
}

// probability returns the share of the pieces that may touch the one before.
func (q BeltForDoubles) probability() float64 { return q.PerHourLimit / (60 * float64(q.PieceRate)) }

// deviations returns how far the mean time is from touching, in standard
// deviations: below zero. The standard library's Erfcinv takes its argument off one, and so loses the digits of a
// small probability.
func (q BeltForDoubles) deviations() float64 { return mathext.NormalQuantile(q.probability()) }

// noBelt says how many doubles there are on the fastest and the slowest belt.
func (q BeltForDoubles) noBelt(free float64, belt unit.Speed) error {
	perHour := func(belt unit.Speed) string {
		return number(60 * touching(belt, q.PieceRate, q.PieceLength, q.SD) * float64(q.PieceRate))
	}
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "belt speed", Wanted: "at most " + number(q.PerHourLimit) + " doubles in an hour",
		Low:    perHour(fastestBelt),
		Advice: "the pieces arrive too unevenly for their rate; find out what holds them up, or run slower",
	}
	if free > 0 && belt < slowestBelt {
		none.Low, none.High = "", perHour(slowestBelt)
		none.Advice = "the belt would have to run at " + belt.String() + ", and " + slowestBelt.String() + " is the slowest; run it at that: it has fewer doubles"
	}
	return none
}

// ArrivalSD asks how evenly the pieces arrive, from times taken on the line:
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
// Source: sample standard deviation; NIST Statistical Reference Datasets, Mavro; cases in testdata/cases/molder/arrival-sd.json.
//
// It calibrates [DoublesRisk].
type ArrivalSD struct {
	Intervals []unit.Duration `json:"intervals" sym:"t_#" range:">0 s..1 h" items:"3..100000"` // time from each piece to the next; at least three
}

// ArrivalSDResult is how evenly the pieces arrive.
type ArrivalSDResult struct {
	MeanInterval unit.Duration  `json:"mean_interval" sym:"T"` // time from piece to piece
	SD           unit.Duration  `json:"sd" sym:"s"`            // its sample standard deviation
	PieceRate    unit.PieceRate `json:"piece_rate" sym:"r"`    // pieces on this lane
	Pieces       int            `json:"pieces" sym:"n"`        // intervals measured
}

func (ArrivalSD) ID() string { return "arrival-sd" }

func (q ArrivalSD) Check(c *reckon.Checks) { q.check(c) }

// check returns the mean interval, which shows whether a lane can run so fast.
func (q ArrivalSD) check(c *reckon.Checks) (mean unit.Duration) {
	mark := c.Mark()
	reckon.CheckItems(c, "intervals", len(q.Intervals), mostIntervals)
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

func (q ArrivalSD) Solve() (out ArrivalSDResult, err error) {
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
	return ArrivalSDResult{
		MeanInterval: mean, SD: unit.Duration(math.Sqrt(squares / float64(len(q.Intervals)-1))),
		PieceRate: rateOf(mean), Pieces: len(q.Intervals),
	}, nil
}

func (q ArrivalSD) Show(w *reckon.Working, out ArrivalSDResult) {
	w.Inputs(q)
	w.Lines(out,
		"intervals: n = count(t_#...)",
		"mean interval: T = sum(t_#)/n",
		"rate: r = 60{s/min}/T",
		"sum of squared differences from the mean: Q = sum((t_# - T)*(t_# - T)) in s²",
		"standard deviation: s = sqrt(Q/(n - 1))  [sample standard deviation]",
	)
}

// rateOf returns the pieces on a lane from the mean time between them.
func rateOf(interval unit.Duration) unit.PieceRate { return unit.PieceRate(60 / float64(interval)) }
