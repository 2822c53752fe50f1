package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Travel is how a piece moves along the track or wall of a rounder.
type Travel string

const (
	// Carried is a piece that moves with the drum, along a wall that stands still.
	Carried Travel = "carried"
	// Rolling is a piece that rolls between the moving drum and a fixed wall: its middle moves at half the speed of the drum.
	Rolling Travel = "rolling"
)

// advance is the speed of the piece over that of the surface that drives it.
func (t Travel) advance() float64 {
	if t == Rolling {
		return 0.5
	}
	return 1
}

// show records k, the speed of the piece over that of the drum.
func (t Travel) show(w *reckon.Working) {
	w.Given("speed of the piece over that of the drum", "k", t.advance(), "", "1 carried with the drum, 1/2 rolling along a fixed wall")
}

// What drums and rounding can be, taken wide.
const (
	slowestDrum      unit.RotationRate = 0.1
	fastestDrum      unit.RotationRate = 1000
	shortestRounding unit.Duration     = 0.05
	longestRounding  unit.Duration     = 600
)

func checkRounder(c *reckon.Checks, diameter, path unit.Length, travel Travel, least, most unit.Duration) {
	reckon.CheckRange(c, "diameter", diameter, 10, 10000)
	reckon.CheckRange(c, "path", path, 10, 100000)
	reckon.CheckEither(c, "travel", travel, Carried, Rolling)
	ok := reckon.CheckRange(c, "good_low", least, 0, longestRounding)
	if reckon.CheckRange(c, "good_high", most, 0, longestRounding) && ok && most != 0 && most < least {
		c.Fail("good_high", most.String(), "at least as long as good_low, "+least.String())
	}
}

// roundingConditions compares a rounding time with what the shop's trials call for.
func roundingConditions(time, least, most unit.Duration) Conditions {
	var c Conditions
	if least == 0 && most == 0 {
		c |= reckon.Uncalibrated
	}
	if time < least {
		c |= UnderRounded
	}
	if most != 0 && time > most {
		c |= OverRounded
	}
	return c
}

// RoundingTime asks how long a piece is rounded that runs along a track or wall:
//
//	v = pi * D * n / 60
//	T = s / (k * v),  k = 1 carried with the drum, 1/2 rolling along a fixed wall
//
// It holds without slip. A slower drum or a longer path rounds more. Where a
// moving core or wall works the piece in a cup, [RoundingMotions] is the question. How long is long enough depends on the dough and is
// found in trials: see [RoundingFromTrials].
//
// It is refused if:
//   - the piece is rounded for less than 0.05 s or more than 10 min at this speed,
//   - good_high is less than good_low.
//
// Source: kinematics of rolling (derived); cases in testdata/cases/molder/rounding-time.json.
//
// The inverse is [DrumSpeedForRoundingTime].
type RoundingTime struct {
	Diameter  unit.Length       `json:"diameter" sym:"D" range:"10 mm..10 m"`                 // diameter of the drum where it drives the piece
	DrumSpeed unit.RotationRate `json:"drum_speed" sym:"n" range:"0.1 rev/min..1000 rev/min"` // drum speed
	Path      unit.Length       `json:"path" sym:"s" range:"10 mm..100 m"`                    // length that the piece travels along the drum
	Travel    Travel            `json:"travel"`                                               // "carried" or "rolling"
	GoodLow   unit.Duration     `json:"good_low,omitzero" range:"0 s..10 min"`                // shortest rounding that was good: see [RoundingFromTrials]; leave out if not known
	GoodHigh  unit.Duration     `json:"good_high,omitzero" range:"0 s..10 min"`               // longest rounding that was good, not less than good_low; leave out if not known
}

// RoundingTimeResult is how long a piece is rounded.
type RoundingTimeResult struct {
	Time       unit.Duration   `json:"time" sym:"T"`    // in the rounder
	Surface    unit.Speed      `json:"surface" sym:"v"` // speed of the drum's surface
	Conditions Conditions      `json:"conditions"`      // under-rounded, over-rounded, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`        // moving-machinery, interlocks, running-drive
}

func (RoundingTime) ID() string { return "rounding-time" }

func (q RoundingTime) Check(c *reckon.Checks) { q.check(c) }

// check returns the rounding time and the speed of the drum's surface.
func (q *RoundingTime) check(c *reckon.Checks) (time unit.Duration, surface unit.Speed) {
	mark := c.Mark()
	checkRounder(c, q.Diameter, q.Path, q.Travel, q.GoodLow, q.GoodHigh)
	reckon.CheckRange(c, "drum_speed", q.DrumSpeed, slowestDrum, fastestDrum)
	if c.Mark() > mark {
		return time, surface
	}
	v := math.Pi * float64(q.Diameter) * float64(q.DrumSpeed) / 60
	time = unit.Duration(float64(q.Path) / (q.Travel.advance() * v))
	// A drum set for exactly one end must not fail for its last binary digit.
	if !(time >= shortestRounding*(1-1e-9) && time <= longestRounding*(1+1e-9)) {
		c.Fail("drum_speed", q.DrumSpeed.String(), "a speed at which the piece is rounded for "+shortestRounding.String()+" to "+longestRounding.String()+": at this one it is "+time.String())
	}
	return time, unit.Speed(v)
}

func (q RoundingTime) Solve() (out RoundingTimeResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	time, surface := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.Time, out.Surface = time, surface
	out.Conditions = roundingConditions(time, q.GoodLow, q.GoodHigh)
	out.Cautions = reckon.MovingMachinery | reckon.Interlocks | reckon.RunningDrive
	return out, nil
}

func (q RoundingTime) Show(w *reckon.Working, out RoundingTimeResult) {
	w.Inputs(q)
	q.Travel.show(w)
	w.Lines(out,
		"surface speed: v = pi*D*n/60{s/min}",
		"rounding time: T = s/(k*v)")
}

// DrumSpeedForRoundingTime asks how fast the drum must turn to round a piece for
// the wanted time:
//
//	v = s / (k * T),  k = 1 carried with the drum, 1/2 rolling along a fixed wall
//	n = v * 60 / (pi * D)
//
// It is the inverse of [RoundingTime], with the same validity.
//
// It is refused if good_high is less than good_low.
//
// Source: kinematics of rolling (derived).
//
// The inverse is [RoundingTime].
type DrumSpeedForRoundingTime struct {
	Time     unit.Duration `json:"time" sym:"T" range:"0.05 s..10 min"`    // wanted rounding time
	Diameter unit.Length   `json:"diameter" sym:"D" range:"10 mm..10 m"`   // diameter of the drum where it drives the piece
	Path     unit.Length   `json:"path" sym:"s" range:"10 mm..100 m"`      // length that the piece travels along the drum
	Travel   Travel        `json:"travel"`                                 // "carried" or "rolling"
	GoodLow  unit.Duration `json:"good_low,omitzero" range:"0 s..10 min"`  // shortest rounding that was good: see [RoundingFromTrials]; leave out if not known
	GoodHigh unit.Duration `json:"good_high,omitzero" range:"0 s..10 min"` // longest rounding that was good, not less than good_low; leave out if not known
}

// DrumSpeedForRoundingTimeResult is how fast the drum turns.
type DrumSpeedForRoundingTimeResult struct {
	DrumSpeed  unit.RotationRate `json:"drum_speed" sym:"n"` // of the drum
	Surface    unit.Speed        `json:"surface" sym:"v"`    // speed of the drum's surface
	Conditions Conditions        `json:"conditions"`         // under-rounded, over-rounded, uncalibrated
	Cautions   reckon.Cautions   `json:"cautions"`           // moving-machinery, interlocks, running-drive
}

func (DrumSpeedForRoundingTime) ID() string { return "drum-speed-for-rounding-time" }

func (q DrumSpeedForRoundingTime) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "time", q.Time, shortestRounding, longestRounding)
	checkRounder(c, q.Diameter, q.Path, q.Travel, q.GoodLow, q.GoodHigh)
}

// Solve has no answer if the drum would have to turn slower than 0.1 or faster than 1000 rev/min.
func (q DrumSpeedForRoundingTime) Solve() (out DrumSpeedForRoundingTimeResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	v := float64(q.Path) / (q.Travel.advance() * float64(q.Time))
	speed := unit.RotationRate(v * 60 / (math.Pi * float64(q.Diameter)))
	if !(speed >= slowestDrum && speed <= fastestDrum) {
		return out, q.noSpeed(speed)
	}
	out.DrumSpeed, out.Surface = speed, unit.Speed(v)
	out.Conditions = roundingConditions(q.Time, q.GoodLow, q.GoodHigh)
	out.Cautions = reckon.MovingMachinery | reckon.Interlocks | reckon.RunningDrive
	return out, nil
}

// noSpeed says which rounding times drums can make of this path.
func (q *DrumSpeedForRoundingTime) noSpeed(speed unit.RotationRate) error {
	at := unit.Duration(float64(q.Time) * float64(speed)) // at 1 rev/min
	none := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "drum speed", Wanted: "a rounding time of " + q.Time.String(),
		Advice: "the drum would have to turn at " + speed.String() + ", and drums turn at " + slowestDrum.String() + " to " + fastestDrum.String() + "; take another drum or another length of travel",
	}
	if low, high := max(shortestRounding, at/unit.Duration(fastestDrum)), min(longestRounding, at/unit.Duration(slowestDrum)); low <= high {
		none.Low, none.High = low.String(), high.String()
	}
	return none
}

func (q DrumSpeedForRoundingTime) Show(w *reckon.Working, out DrumSpeedForRoundingTimeResult) {
	w.Inputs(q)
	q.Travel.show(w)
	w.Lines(out,
		"surface speed: v = s/(k*T)",
		"drum speed: n = v*60{s/min}/(pi*D)")
}

// A RoundingTrial is one piece rounded and looked at.
type RoundingTrial struct {
	Time    unit.Duration `json:"time" sym:"T_#" range:">0 s..10 min"` // rounding time
	Verdict Verdict       `json:"verdict"`                             // "too-little", "good" or "too-much"
}

// Check requires a time that pieces are rounded for, and a verdict.
func (t RoundingTrial) Check(c *reckon.Checks) {
	if !(t.Time > 0 && t.Time <= longestRounding) {
		c.Fail("time", t.Time.String(), "more than 0 s, up to 10 min")
	}
	t.Verdict.Check(c)
}

// RoundingFromTrials asks how long a dough should be rounded, as the range of
// times that was good in trials:
//
//	T_low = min(T_i),  T_high = max(T_i)  of the n trials that were good
//
// The range is what was seen to work, no more; failed trials on both sides of
// it confirm its ends.
//
// It is refused if fewer than two trials at different times were good.
//
// Source: trials by eye (common practice); cases in testdata/cases/molder/rounding-from-trials.json.
//
// It calibrates [RoundingTime].
type RoundingFromTrials struct {
	Trials []RoundingTrial `json:"trials" items:"..10000"` // in any order; at least two good ones at different times
}

// RoundingFromTrialsResult is the time in which this dough rounds.
type RoundingFromTrialsResult struct {
	GoodLow  unit.Duration   `json:"good_low" sym:"T_low"`   // shortest that was good
	GoodHigh unit.Duration   `json:"good_high" sym:"T_high"` // longest that was good
	Good     int             `json:"good" sym:"n"`           // trials that were good
	Cautions reckon.Cautions `json:"cautions"`               // moving-belt
}

func (RoundingFromTrials) ID() string { return "rounding-from-trials" }

func (q RoundingFromTrials) Check(c *reckon.Checks) { q.check(c) }

// check returns what the trials come to.
func (q RoundingFromTrials) check(c *reckon.Checks) trialWindow {
	start := c.Mark()
	reckon.CheckItems(c, "trials", len(q.Trials), mostTrials)
	return windowOf(c, start, q.Trials, func(t *RoundingTrial) (float64, Verdict) {
		t.Check(c)
		return float64(t.Time), t.Verdict
	})
}

// Solve has no answer if a bad trial lies among the good ones.
func (q RoundingFromTrials) Solve() (out RoundingFromTrialsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	window := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	if err = window.none(c.Func, "range of rounding times"); err != nil {
		return out, err
	}
	return RoundingFromTrialsResult{GoodLow: unit.Duration(window.low), GoodHigh: unit.Duration(window.high), Good: window.good, Cautions: reckon.MovingBelt}, nil
}

func (q RoundingFromTrials) Show(w *reckon.Working, out RoundingFromTrialsResult) {
	w.Inputs(q)
	good := goodOnes("T_", len(q.Trials), func(i int) Verdict { return q.Trials[i].Verdict })
	w.Lines(out,
		"trials that were good: n = count("+good+")",
		"shortest good rounding: T_low = min("+good+")  [trials]",
		"longest good rounding: T_high = max("+good+")  [trials]")
}
