package molder

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What rounding in a cup can be, taken wide. The most motions are those of the
// fastest rounder in the longest rounding.
const (
	slowestLine unit.StrokeRate   = 0.01
	fastestLine unit.StrokeRate   = 1000
	slowestCore unit.RotationRate = 0.1
	fastestCore unit.RotationRate = 1000
	mostRows                      = 100
	mostMotions                   = 10000
)

// checkMotions checks how many motions were good in trials.
func checkMotions(c *reckon.Checks, least, most float64) {
	ok := reckon.CheckRange(c, "good_low", least, 0, mostMotions)
	if reckon.CheckRange(c, "good_high", most, 0, mostMotions) && ok && most != 0 && most < least {
		c.Fail("good_high", number(most), "at least as many as good_low, "+number(least))
	}
}

// motionConditions compares the motions with what the shop's trials call for.
func motionConditions(motions, least, most float64) Conditions {
	var c Conditions
	if least == 0 && most == 0 {
		c |= reckon.Uncalibrated
	}
	if motions < least*(1-1e-9) {
		c |= FewMotions
	}
	if most != 0 && motions > most*(1+1e-9) {
		c |= ManyMotions
	}
	return c
}

// checkCupTime requires a time in the cup that pieces are rounded for, and returns it.
func checkCupTime(c *reckon.Checks, rows int, strokes unit.StrokeRate) unit.Duration {
	ok := reckon.CheckCount(c, "rows", rows, 1, mostRows)
	if ok = reckon.CheckRange(c, "strokes", strokes, slowestLine, fastestLine) && ok; !ok {
		return 0
	}
	time := unit.Duration(float64(rows) * 60 / float64(strokes))
	if !(time >= shortestRounding && time <= longestRounding) {
		c.Fail("strokes", strokes.String(), "a speed at which the piece is in its cup for "+shortestRounding.String()+" to "+longestRounding.String()+": at this one it is "+time.String())
	}
	return time
}

// RoundingMotions asks by how many motions a piece is rounded in a cup, where a
// moving core or wall works it against a belt, with a speed of its own:
//
//	T = n * 60 / S
//	M = q * T / 60
//
// The line's speed alone says how long the piece is in its cup, the rounder's
// speed how often it is worked in that time: a faster rounder rounds more, a
// faster line less. It is the other way round where the piece runs along a track or
// wall, which [RoundingTime] is for. One motion takes the core or wall once round
// and back to where it was. How many are enough depends on the dough and is found
// in trials: see [MotionsFromTrials].
//
// It is refused if:
//   - the piece is in its cup for less than 0.05 s or more than 10 min at this speed,
//   - good_high is less than good_low.
//
// Source: counting of rows and motions (derived); cases in testdata/cases/molder/rounding-motions.json.
//
// The inverse is [SpeedForMotions].
type RoundingMotions struct {
	Rows     int               `json:"rows" sym:"n" range:"1..100"`                                // rows of cups from where they are loaded to where they are discharged, one for each stroke of the line
	Strokes  unit.StrokeRate   `json:"strokes" sym:"S" range:"0.01 strokes/min..1000 strokes/min"` // speed of the line
	Speed    unit.RotationRate `json:"speed" sym:"q" range:"0.1 rev/min..1000 rev/min"`            // speed of the rounder, one motion for each turn
	GoodLow  float64           `json:"good_low,omitzero" range:"0..10000"`                         // fewest motions that were good: see [MotionsFromTrials]; leave out if not known
	GoodHigh float64           `json:"good_high,omitzero" range:"0..10000"`                        // most motions that were good, not less than good_low; leave out if not known
}

// RoundingMotionsResult is by how many motions a piece is rounded.
type RoundingMotionsResult struct {
	Time       unit.Duration   `json:"time" sym:"T"`    // in the cup
	Motions    float64         `json:"motions" sym:"M"` // of the core or wall in that time
	Conditions Conditions      `json:"conditions"`      // few-motions, many-motions, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`        // moving-machinery, interlocks, running-drive
}

func (RoundingMotions) ID() string { return "rounding-motions" }

func (q RoundingMotions) Check(c *reckon.Checks) { q.check(c) }

// check returns the time in the cup.
func (q *RoundingMotions) check(c *reckon.Checks) unit.Duration {
	time := checkCupTime(c, q.Rows, q.Strokes)
	reckon.CheckRange(c, "speed", q.Speed, slowestCore, fastestCore)
	checkMotions(c, q.GoodLow, q.GoodHigh)
	return time
}

func (q RoundingMotions) Solve() (out RoundingMotionsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	time := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.Time, out.Motions = time, float64(q.Speed)*float64(time)/60
	out.Conditions = motionConditions(out.Motions, q.GoodLow, q.GoodHigh)
	out.Cautions = reckon.MovingMachinery | reckon.Interlocks | reckon.RunningDrive
	return out, nil
}

func (q RoundingMotions) Show(w *reckon.Working, out RoundingMotionsResult) {
	w.Inputs(q)
	w.Lines(out,
		"time in the cup: T = n*60{s/min}/S  [one row for each stroke]",
		"motions: M = q*T/60{s/min}")
}

// SpeedForMotions asks how fast the rounder must run for a piece to be worked in
// its cup by the wanted number of motions:
//
//	T = n * 60 / S
//	q = M * 60 / T
//
// It is the inverse of [RoundingMotions], with the same validity.
//
// It is refused if:
//   - the piece is in its cup for less than 0.05 s or more than 10 min at this speed,
//   - good_high is less than good_low.
//
// Source: counting of rows and motions (derived).
//
// The inverse is [RoundingMotions].
type SpeedForMotions struct {
	Motions  float64         `json:"motions" sym:"M" range:">0..10000"`                          // wanted motions
	Rows     int             `json:"rows" sym:"n" range:"1..100"`                                // rows of cups from where they are loaded to where they are discharged, one for each stroke of the line
	Strokes  unit.StrokeRate `json:"strokes" sym:"S" range:"0.01 strokes/min..1000 strokes/min"` // speed of the line
	GoodLow  float64         `json:"good_low,omitzero" range:"0..10000"`                         // fewest motions that were good: see [MotionsFromTrials]; leave out if not known
	GoodHigh float64         `json:"good_high,omitzero" range:"0..10000"`                        // most motions that were good, not less than good_low; leave out if not known
}

// SpeedForMotionsResult is how fast the rounder runs.
type SpeedForMotionsResult struct {
	Speed      unit.RotationRate `json:"speed" sym:"q"` // of the rounder, one motion for each turn
	Time       unit.Duration     `json:"time" sym:"T"`  // in the cup
	Conditions Conditions        `json:"conditions"`    // few-motions, many-motions, uncalibrated
	Cautions   reckon.Cautions   `json:"cautions"`      // moving-machinery, interlocks, running-drive
}

func (SpeedForMotions) ID() string { return "speed-for-motions" }

func (q SpeedForMotions) Check(c *reckon.Checks) { q.check(c) }

// check returns the time in the cup.
func (q *SpeedForMotions) check(c *reckon.Checks) unit.Duration {
	if !(q.Motions > 0 && q.Motions <= mostMotions) {
		c.Fail("motions", number(q.Motions), "more than 0, up to "+strconv.Itoa(mostMotions))
	}
	time := checkCupTime(c, q.Rows, q.Strokes)
	checkMotions(c, q.GoodLow, q.GoodHigh)
	return time
}

// Solve has no answer if the rounder would have to run slower than 0.1 or faster than 1000 rev/min.
func (q SpeedForMotions) Solve() (out SpeedForMotionsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	time := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	speed := unit.RotationRate(q.Motions * 60 / float64(time))
	if !(speed >= slowestCore*(1-1e-9) && speed <= fastestCore*(1+1e-9)) {
		each := float64(time) / 60
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "rounder speed", Wanted: number(q.Motions) + " motions in " + time.String(),
			Low: number(float64(slowestCore) * each), High: number(float64(fastestCore) * each),
			Advice: "the rounder would have to run at " + speed.String() + ", and rounders run at " + slowestCore.String() + " to " + fastestCore.String() + "; check the rows and the line's speed",
		}
	}
	out.Speed, out.Time = speed, time
	out.Conditions = motionConditions(q.Motions, q.GoodLow, q.GoodHigh)
	out.Cautions = reckon.MovingMachinery | reckon.Interlocks | reckon.RunningDrive
	return out, nil
}

func (q SpeedForMotions) Show(w *reckon.Working, out SpeedForMotionsResult) {
	w.Inputs(q)
	w.Lines(out,
		"time in the cup: T = n*60{s/min}/S  [one row for each stroke]",
		"speed of the rounder: q = M*60{s/min}/T")
}

// A MotionTrial is one piece rounded in a cup and looked at.
type MotionTrial struct {
	Motions float64 `json:"motions" sym:"M_#" range:">0..10000"` // motions that it got: see [RoundingMotions]
	Verdict Verdict `json:"verdict"`                             // "too-little", "good" or "too-much"
}

// Check requires a number of motions that pieces are rounded by, and a verdict.
func (t MotionTrial) Check(c *reckon.Checks) {
	if !(t.Motions > 0 && t.Motions <= mostMotions) {
		c.Fail("motions", number(t.Motions), "more than 0, up to "+strconv.Itoa(mostMotions))
	}
	t.Verdict.Check(c)
}

// MotionsFromTrials asks by how many motions a dough should be rounded in a cup, as
// the range that was good in trials:
//
//	M_low = min(M_i),  M_high = max(M_i)  of the n trials that were good
//
// The range is what was seen to work, no more; failed trials on both sides of
// it confirm its ends.
//
// It is refused if fewer than two trials with different motions were good.
//
// Source: trials by eye (common practice); cases in testdata/cases/molder/motions-from-trials.json.
//
// It calibrates [RoundingMotions].
type MotionsFromTrials struct {
	Trials []MotionTrial `json:"trials" items:"2..10000"` // in any order; at least two good ones with different motions
}

// MotionsFromTrialsResult is the number of motions by which this dough rounds.
type MotionsFromTrialsResult struct {
	GoodLow  float64         `json:"good_low" sym:"M_low"`   // fewest that were good
	GoodHigh float64         `json:"good_high" sym:"M_high"` // most that were good
	Good     int             `json:"good" sym:"n"`           // trials that were good
	Cautions reckon.Cautions `json:"cautions"`               // moving-belt
}

func (MotionsFromTrials) ID() string { return "motions-from-trials" }

func (q MotionsFromTrials) Check(c *reckon.Checks) { q.check(c) }

// check returns what the trials come to.
func (q MotionsFromTrials) check(c *reckon.Checks) trialWindow {
	if n := len(q.Trials); n < 2 || n > mostTrials {
		c.Fail("trials", strconv.Itoa(n)+" trials", "2 to "+strconv.Itoa(mostTrials)+" trials, at least two of them good at different values")
		return newTrialWindow()
	}
	return windowOf(c, c.Mark(), q.Trials, func(t *MotionTrial) (float64, Verdict) {
		t.Check(c)
		return t.Motions, t.Verdict
	})
}

// Solve has no answer if a bad trial lies among the good ones.
func (q MotionsFromTrials) Solve() (out MotionsFromTrialsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	window := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if err = window.none(c.Func, "range of motions"); err != nil {
		return out, err
	}
	return MotionsFromTrialsResult{GoodLow: window.low, GoodHigh: window.high, Good: window.good, Cautions: reckon.MovingBelt}, nil
}

func (q MotionsFromTrials) Show(w *reckon.Working, out MotionsFromTrialsResult) {
	w.Inputs(q)
	good := goodOnes("M_", len(q.Trials), func(i int) Verdict { return q.Trials[i].Verdict })
	w.Lines(out,
		"trials that were good: n = count("+good+")",
		"fewest good motions: M_low = min("+good+")  [trials]",
		"most good motions: M_high = max("+good+")  [trials]")
}
