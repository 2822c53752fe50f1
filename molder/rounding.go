package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Travel is how a piece moves through the rounder.
type Travel string

const (
	// Carried is a piece that sits in a cup and moves with the drum.
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
	ok := reckon.CheckRange(c, "least", least, 0, longestRounding)
	if reckon.CheckRange(c, "most", most, 0, longestRounding) && ok && most != 0 && most < least {
		c.Fail("most", most.String(), "at least as long as least, "+least.String())
	}
}

// roundingConditions compares a rounding time with what the shop's trials want.
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

// RoundingTime returns how long a piece is rounded:
//
//	v = pi D n
//	time = path / (k v),  k = 1 carried in a cup, 1/2 rolling along a fixed wall
//
// It holds without slip. How long is long enough depends on the dough and is
// found in trials: see [RoundingFromTrials].
//
// It returns an *[reckon.InputError] if:
//   - diameter is outside 10 mm to 10 m, or path outside 10 mm to 100 m,
//   - speed is outside 0.1 to 1000 rev/min, or such that the piece is rounded for less than 0.05 or more than 600 s,
//   - travel is not named,
//   - least or most is outside 0 to 600 s, or most is less than least.
//
// Source: kinematics of rolling (derived); cases in testdata/cases/molder/rounding-time.json.
//
// The inverse is [DrumSpeedForRoundingTime].
type RoundingTime struct {
	Diameter unit.Length       `json:"diameter"`       // diameter of the drum where it drives the piece, 10 mm to 10 m
	Speed    unit.RotationRate `json:"speed"`          // drum speed, 0.1 to 1000 rev/min
	Path     unit.Length       `json:"path"`           // length that the piece travels along the drum, 10 mm to 100 m
	Travel   Travel            `json:"travel"`         // "carried" or "rolling"
	Least    unit.Duration     `json:"least,omitzero"` // shortest rounding that was good, up to 600 s: see [RoundingFromTrials]; leave out if not known
	Most     unit.Duration     `json:"most,omitzero"`  // longest rounding that was good, up to 600 s; leave out if not known
}

func (RoundingTime) ID() string { return "rounding-time" }

// SHELL
func (q RoundingTime) Check(c *reckon.Checks) {
	_, err := explainRoundingTime(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RoundingTime) Solve() (RoundingTimeResult, error) { return explainRoundingTime(q, nil) }

func (q RoundingTime) Show(w *reckon.Working, _ RoundingTimeResult) { _, _ = explainRoundingTime(q, w) }

// RoundingTimeResult is how long a piece is rounded.
type RoundingTimeResult struct {
	Time       unit.Duration   `json:"time"`       // in the rounder
	Surface    unit.Speed      `json:"surface"`    // speed of the drum's surface
	Conditions Conditions      `json:"conditions"` // under-rounded, over-rounded, uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, interlocks
}

func explainRoundingTime(in RoundingTime, w *reckon.Working) (out RoundingTimeResult, err error) {
	c := reckon.Checks{Func: "rounding-time"}
	checkRounder(&c, in.Diameter, in.Path, in.Travel, in.Least, in.Most)
	ok := reckon.CheckRange(&c, "speed", in.Speed, slowestDrum, fastestDrum)
	k := in.Travel.advance()
	v := math.Pi * float64(in.Diameter) * float64(in.Speed) / 60
	// A drum set for exactly one end must not fail for its last binary digit.
	if time := unit.Duration(float64(in.Path) / (k * v)); ok && c.OK() && !(time >= shortestRounding*(1-1e-9) && time <= longestRounding*(1+1e-9)) {
		c.Fail("speed", in.Speed.String(), "a speed at which the piece is rounded for "+shortestRounding.String()+" to "+longestRounding.String()+": at this one it is "+time.String())
	}
	if err := c.Err(); err != nil {
		return RoundingTimeResult{}, err
	}
	out = RoundingTimeResult{Time: unit.Duration(float64(in.Path) / (k * v)), Surface: unit.Speed(v), Cautions: reckon.MovingMachinery | reckon.Interlocks}
	out.Conditions = roundingConditions(out.Time, in.Least, in.Most)
	if w != nil {
		w.Given("drum diameter", "D", float64(in.Diameter), "mm", "")
		w.Given("drum speed", "n", float64(in.Speed), "rev/min", "")
		w.Given("path", "s", float64(in.Path), "mm", "")
		w.Given("speed of the piece over that of the drum", "k", k, "", "1 carried, 1/2 rolling along a fixed wall")
		w.Step("surface speed", "v", "pi * D * n / 60", v, "mm/s", "60 s in a minute")
		w.Step("rounding time", "T", "s / (k * v)", float64(out.Time), "s", "")
	}
	return out, nil
}

// DrumSpeedForRoundingTime returns the drum speed that rounds a piece for the wanted time:
//
//	n = path / (k pi D time)
//
// It is the inverse of [RoundingTime], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - time is outside 0.05 to 600 s,
//   - diameter, path, travel, least or most is out of the range that [RoundingTime] names.
//
// It returns a *[reckon.NoSolutionError] if the drum would have to turn slower than 0.1 or faster than 1000 rev/min.
//
// Source: kinematics of rolling (derived).
type DrumSpeedForRoundingTime struct {
	Time     unit.Duration `json:"time"`           // wanted rounding time, 0.05 to 600 s
	Diameter unit.Length   `json:"diameter"`       // diameter of the drum where it drives the piece, 10 mm to 10 m
	Path     unit.Length   `json:"path"`           // length that the piece travels along the drum, 10 mm to 100 m
	Travel   Travel        `json:"travel"`         // "carried" or "rolling"
	Least    unit.Duration `json:"least,omitzero"` // shortest rounding that was good, up to 600 s; leave out if not known
	Most     unit.Duration `json:"most,omitzero"`  // longest rounding that was good, up to 600 s; leave out if not known
}

func (DrumSpeedForRoundingTime) ID() string { return "drum-speed-for-rounding-time" }

// SHELL
func (q DrumSpeedForRoundingTime) Check(c *reckon.Checks) {
	_, err := explainDrumSpeedForRoundingTime(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DrumSpeedForRoundingTime) Solve() (DrumSpeedForRoundingTimeResult, error) {
	return explainDrumSpeedForRoundingTime(q, nil)
}

func (q DrumSpeedForRoundingTime) Show(w *reckon.Working, _ DrumSpeedForRoundingTimeResult) {
	_, _ = explainDrumSpeedForRoundingTime(q, w)
}

// DrumSpeedForRoundingTimeResult is how fast the drum turns.
type DrumSpeedForRoundingTimeResult struct {
	Speed      unit.RotationRate `json:"speed"`      // of the drum
	Surface    unit.Speed        `json:"surface"`    // speed of the drum's surface
	Conditions Conditions        `json:"conditions"` // under-rounded, over-rounded, uncalibrated
	Cautions   reckon.Cautions   `json:"cautions"`   // moving-machinery, interlocks
}

func explainDrumSpeedForRoundingTime(in DrumSpeedForRoundingTime, w *reckon.Working) (out DrumSpeedForRoundingTimeResult, err error) {
	c := reckon.Checks{Func: "drum-speed-for-rounding-time"}
	reckon.CheckRange(&c, "time", in.Time, shortestRounding, longestRounding)
	checkRounder(&c, in.Diameter, in.Path, in.Travel, in.Least, in.Most)
	if err := c.Err(); err != nil {
		return DrumSpeedForRoundingTimeResult{}, err
	}
	k := in.Travel.advance()
	v := float64(in.Path) / (k * float64(in.Time))
	out = DrumSpeedForRoundingTimeResult{
		Speed: unit.RotationRate(v * 60 / (math.Pi * float64(in.Diameter))), Surface: unit.Speed(v),
		Conditions: roundingConditions(in.Time, in.Least, in.Most), Cautions: reckon.MovingMachinery | reckon.Interlocks,
	}
	if !(out.Speed >= slowestDrum && out.Speed <= fastestDrum) {
		at := unit.Duration(float64(in.Time) * float64(out.Speed)) // at 1 rev/min
		none := &reckon.NoSolutionError{
			Func: c.Func, Unknown: "drum speed", Wanted: "a rounding time of " + in.Time.String(),
			Advice: "the drum would have to turn at " + out.Speed.String() + ", and drums turn at " + slowestDrum.String() + " to " + fastestDrum.String() + "; take another drum or another length of travel",
		}
		if low, high := max(shortestRounding, at/unit.Duration(fastestDrum)), min(longestRounding, at/unit.Duration(slowestDrum)); low <= high {
			none.Low, none.High = low.String(), high.String()
		}
		return DrumSpeedForRoundingTimeResult{}, none
	}
	if w != nil {
		w.Given("rounding time", "T", float64(in.Time), "s", "")
		w.Given("path", "s", float64(in.Path), "mm", "")
		w.Given("speed of the piece over that of the drum", "k", k, "", "1 carried, 1/2 rolling along a fixed wall")
		w.Given("drum diameter", "D", float64(in.Diameter), "mm", "")
		w.Step("surface speed", "v", "s / (k * T)", v, "mm/s", "")
		w.Step("drum speed", "n", "v * 60 / (pi * D)", float64(out.Speed), "rev/min", "60 s in a minute")
	}
	return out, nil
}

// A RoundingTrial is one piece rounded and looked at.
type RoundingTrial struct {
	Time    unit.Duration `json:"time"`    // rounding time, above 0 to 600 s
	Verdict Verdict       `json:"verdict"` // "too-little", "good" or "too-much"
}

// RoundingFromTrials returns the range of rounding times that was good in trials:
//
//	least = shortest good time,  most = longest good time
//
// The range is what was seen to work, not more; trials at both sides that
// did not work make it sure.
//
// It returns an *[reckon.InputError] if:
//   - a time is not above 0 and up to 600 s, or a verdict is not named,
//   - fewer than two trials at different times were good.
//
// It returns a *[reckon.NoSolutionError] if a bad trial lies among the good ones.
//
// Source: trials by eye (common practice); cases in testdata/cases/molder/rounding-from-trials.json.
//
// It calibrates [RoundingTime].
type RoundingFromTrials struct {
	Trials []RoundingTrial `json:"trials"` // in any order; at least two good ones at different times
}

func (RoundingFromTrials) ID() string { return "rounding-from-trials" }

// SHELL
func (q RoundingFromTrials) Check(c *reckon.Checks) {
	_, err := explainRoundingFromTrials(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RoundingFromTrials) Solve() (RoundingFromTrialsResult, error) {
	return explainRoundingFromTrials(q, nil)
}

func (q RoundingFromTrials) Show(w *reckon.Working, _ RoundingFromTrialsResult) {
	_, _ = explainRoundingFromTrials(q, w)
}

// RoundingFromTrialsResult is the time in which this dough rounds.
type RoundingFromTrialsResult struct {
	Least unit.Duration `json:"least"` // shortest that was good
	Most  unit.Duration `json:"most"`  // longest that was good
	Good  int           `json:"good"`  // trials that were good
}

func explainRoundingFromTrials(in RoundingFromTrials, w *reckon.Working) (RoundingFromTrialsResult, error) {
	c := reckon.Checks{Func: "rounding-from-trials"}
	window := newTrialWindow()
	for i, t := range in.Trials {
		if !(t.Time > 0 && t.Time <= longestRounding) {
			c.Fail(fmt.Sprintf("trials[%d].time", i), t.Time.String(), "more than 0 s, up to 10 min")
		}
		checkVerdict(&c, i, t.Verdict)
		window.add(float64(t.Time), t.Verdict)
	}
	if err := c.Err(); err != nil {
		return RoundingFromTrialsResult{}, err
	}
	if err := window.err(&c, "range of rounding times"); err != nil {
		return RoundingFromTrialsResult{}, err
	}
	w.Given("shortest good rounding", "least", window.low, "s", "trials")
	w.Given("longest good rounding", "most", window.high, "s", "trials")
	return RoundingFromTrialsResult{Least: unit.Duration(window.low), Most: unit.Duration(window.high), Good: window.good}, nil
}

// A FillTrial is one piece rounded in one drum and looked at.
type FillTrial struct {
	Piece   unit.Mass   `json:"piece"`   // piece weight, 1 g to 10 kg
	Cup     unit.Length `json:"cup"`     // cup diameter of the drum, 5 to 500 mm
	Verdict Verdict     `json:"verdict"` // "too-little" if it was loose, "good", or "too-much" if it overfilled the cup
}

// FillFromTrials returns the range of fill (diameter of the piece as a ball
// over cup diameter) that was good in trials:
//
//	fill = (6 m / (pi rho))^(1/3) / cup
//
// The range is what was seen to work, not more; trials at both sides that
// did not work make it sure.
//
// It returns an *[reckon.InputError] if:
//   - density is outside 0.1 to 1.5 g/ml,
//   - a piece is outside 1 g to 10 kg, a cup outside 5 to 500 mm, or a verdict is not named,
//   - a piece fills its cup to less than 0.1 or more than 2 times,
//   - fewer than two trials of different fill were good.
//
// It returns a *[reckon.NoSolutionError] if a bad trial lies among the good ones.
//
// Source: sphere volume (derived); trials by eye (common practice); cases in testdata/cases/molder/fill-from-trials.json.
//
// It calibrates [DrumChoice].
type FillFromTrials struct {
	Density unit.Density `json:"density"` // density of the dough as it is rounded, 0.1 to 1.5 g/ml
	Trials  []FillTrial  `json:"trials"`  // in any order; at least two good ones of different fill
}

func (FillFromTrials) ID() string { return "fill-from-trials" }

// SHELL
func (q FillFromTrials) Check(c *reckon.Checks) {
	_, err := explainFillFromTrials(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FillFromTrials) Solve() (FillFromTrialsResult, error) { return explainFillFromTrials(q, nil) }

func (q FillFromTrials) Show(w *reckon.Working, _ FillFromTrialsResult) {
	_, _ = explainFillFromTrials(q, w)
}

// FillFromTrialsResult is the fill at which this dough rounds.
type FillFromTrialsResult struct {
	FillLow  float64 `json:"fill_low"`  // least fill that was good
	FillHigh float64 `json:"fill_high"` // largest fill that was good
	Good     int     `json:"good"`      // trials that were good
}

func explainFillFromTrials(in FillFromTrials, w *reckon.Working) (FillFromTrialsResult, error) {
	c := reckon.Checks{Func: "fill-from-trials"}
	dense := reckon.CheckRange(&c, "density", in.Density, loosestDough, densestDough)
	window := newTrialWindow()
	for i, t := range in.Trials {
		ok := dense
		if !(t.Piece >= lightestPiece && t.Piece <= heaviestPiece) {
			ok = reckon.CheckRange(&c, fmt.Sprintf("trials[%d].piece", i), t.Piece, lightestPiece, heaviestPiece)
		}
		if !(t.Cup >= smallestCup && t.Cup <= largestCup) {
			ok = reckon.CheckRange(&c, fmt.Sprintf("trials[%d].cup", i), t.Cup, smallestCup, largestCup)
		}
		checkVerdict(&c, i, t.Verdict)
		fill := float64(sphere(t.Piece, in.Density)) / float64(t.Cup)
		if ok && !(fill >= leastFill && fill <= largestFill) {
			c.Fail(fmt.Sprintf("trials[%d].cup", i), t.Cup.String(), "a cup that the piece fills "+number(leastFill)+" to "+number(largestFill)+" times, not "+number(fill)+": measure the cup and weigh the piece again")
		}
		window.add(fill, t.Verdict)
	}
	if err := c.Err(); err != nil {
		return FillFromTrialsResult{}, err
	}
	if err := window.err(&c, "range of fill"); err != nil {
		return FillFromTrialsResult{}, err
	}
	w.Given("least good fill", "f_low", window.low, "", "trials, piece diameter as a ball over cup diameter")
	w.Given("largest good fill", "f_high", window.high, "", "trials")
	return FillFromTrialsResult{FillLow: window.low, FillHigh: window.high, Good: window.good}, nil
}
