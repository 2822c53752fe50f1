package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Die is what the stamper's die does on the piece. It belongs to the die; how
// many of them sit around a head is another matter.
type Die string

const (
	// StillDie presses and does not turn: a split, cross or straight cut.
	StillDie Die = "still"
	// TurningDie turns while it presses: a twisted cut.
	TurningDie Die = "turning"
)

// Spin is whether the stamper turns its die, a setting.
type Spin string

const (
	// SpinOn turns the die while it presses.
	SpinOn Spin = "on"
	// SpinOff lets it press still.
	SpinOff Spin = "off"
)

// StampMode is what makes the stamper stamp.
type StampMode string

const (
	// OffStamp lets the pieces pass unstamped.
	OffStamp StampMode = "off"
	// TimedStamp stamps when a row arrives, timed by the proofer's discharge.
	TimedStamp StampMode = "timed"
	// ContinuousStamp runs at a speed of its own.
	ContinuousStamp StampMode = "continuous"
)

// maxAcross bounds the pieces side by side.
const maxAcross = 20

// What stamping can be, taken wide: the slowest is the slowest discharge with the most pieces across.
const (
	slowestStamps = unit.StrokeRate(slowestRate) / maxAcross
	fastestStamps = unit.StrokeRate(10000)
)

// StampRate asks how often the stamper stamps to keep in step with the
// discharge:
//
//	s = r / a
//	T = 60 / s
//	t = k/100 * T
//	N = s / n
//
// It counts rows: one stamp, or one die of the head, for every row. Whether
// the dwell prints well is seen on the dough. The stamper's cover interlock
// is never defeated, whatever the rhythm.
//
// It is refused if:
//   - a still die is to spin, which would tear the piece,
//   - a turning die is not to spin: it makes its cut by turning.
//
// Source: counting of rows (derived); the interlock is common practice; cases
// in testdata/cases/molder/stamp-rate.json.
//
// The inverse is [RateForStamps].
type StampRate struct {
	PieceRate  unit.PieceRate  `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"`  // pieces discharged on all lanes together
	Across     int             `json:"across" sym:"a" range:"1..20"`                                  // pieces side by side in one row
	Die        Die             `json:"die"`                                                           // "still" or "turning"
	Spin       Spin            `json:"spin"`                                                          // "on" or "off", as the stamper is set
	Around     int             `json:"around,omitzero" sym:"n" range:"1..50"`                         // dies around a turning head; leave out for a die that goes up and down
	Contact    unit.Percent    `json:"contact" sym:"k" range:">0 %..<100 %"`                          // part of a cycle for which the die is on the dough
	StampsHigh unit.StrokeRate `json:"stamps_high,omitzero" range:"0 strokes/min..10000 strokes/min"` // the fastest that the stamper stamps; leave out if not known
}

// StampRateResult is how the stamper runs in step.
type StampRateResult struct {
	Stamps        unit.StrokeRate   `json:"stamps" sym:"s"`         // one for each row
	StampInterval unit.Duration     `json:"stamp_interval" sym:"T"` // from row to row
	Dwell         unit.Duration     `json:"dwell" sym:"t"`          // of the die on the dough
	Head          unit.RotationRate `json:"head,omitzero" sym:"N"`  // speed of the head; left out for a die that goes up and down
	Conditions    Conditions        `json:"conditions"`             // rate-limited
	Cautions      reckon.Cautions   `json:"cautions"`               // interlocks, moving-machinery, locked-out, running-drive, stamper-cover
}

const stampCautions = reckon.Interlocks | reckon.MovingMachinery | reckon.LockedOut | reckon.RunningDrive | reckon.StamperCover

func (StampRate) ID() string { return "stamp-rate" }

func (q StampRate) Check(c *reckon.Checks) {
	checkRow(c, q.PieceRate, q.Across)
	checkSpin(c, q.Die, q.Spin)
	if q.Around != 0 {
		reckon.CheckCount(c, "around", q.Around, 1, 50)
	}
	if !(q.Contact > 0 && q.Contact < 100) {
		c.Fail("contact", q.Contact.String(), "more than 0 % and under 100 %")
	}
	reckon.CheckRange(c, "stamps_high", q.StampsHigh, 0, fastestStamps)
}

func (q StampRate) Solve() (out StampRateResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	stamps := rowRate(q.PieceRate, q.Across)
	interval := 60 / stamps
	out = StampRateResult{
		Stamps: unit.StrokeRate(stamps), StampInterval: unit.Duration(interval),
		Dwell: unit.Duration(float64(q.Contact) / 100 * interval), Cautions: stampCautions,
	}
	if q.Around != 0 {
		out.Head = unit.RotationRate(stamps / float64(q.Around))
	}
	if q.StampsHigh != 0 && out.Stamps > q.StampsHigh {
		out.Conditions |= reckon.RateLimited
	}
	return out, nil
}

func (q StampRate) Show(w *reckon.Working, out StampRateResult) {
	w.Inputs(q)
	w.Lines(out,
		"stamps: s = r/a  [one for each row]",
		"interval: T = 60{s/min}/s",
		"dwell: t = k/100*T",
	)
	if q.Around != 0 {
		w.Lines(out, "head speed: N = s/n  [one die for each row]")
	}
}

// checkSpin requires a setting that the die is made for.
func checkSpin(c *reckon.Checks, die Die, spin Spin) {
	reckon.CheckEither(c, "die", die, StillDie, TurningDie)
	reckon.CheckEither(c, "spin", spin, SpinOn, SpinOff)
	switch {
	case die == StillDie && spin == SpinOn:
		c.Fail("spin", `"on"`, `"off" for a still die: a split, cross or straight die that turns tears the piece`)
	case die == TurningDie && spin == SpinOff:
		c.Fail("spin", `"off"`, `"on" for a turning die: without turning it makes no twisted cut`)
	}
}

func checkRow(c *reckon.Checks, rate unit.PieceRate, across int) {
	reckon.CheckRange(c, "piece_rate", rate, slowestRate, fastestRate)
	reckon.CheckCount(c, "across", across, 1, maxAcross)
}

// rowRate returns the rows discharged in a minute.
func rowRate(rate unit.PieceRate, across int) float64 { return float64(rate) / float64(across) }

// RateForStamps asks how many pieces a minute a stamper keeps in step with:
//
//	r = s * a
//
// It is the inverse of [StampRate], with the same validity.
//
// Source: counting of rows (derived).
//
// The inverse is [StampRate].
type RateForStamps struct {
	Stamps unit.StrokeRate `json:"stamps" sym:"s" range:"0.0005 strokes/min..10000 strokes/min"` // one for each row
	Across int             `json:"across" sym:"a" range:"1..20"`                                 // pieces side by side in one row
}

// RateForStampsResult is the discharge that goes with it.
type RateForStampsResult struct {
	PieceRate unit.PieceRate  `json:"piece_rate" sym:"r"` // pieces on all lanes together
	Cautions  reckon.Cautions `json:"cautions"`           // interlocks, moving-machinery, locked-out, running-drive, stamper-cover
}

func (RateForStamps) ID() string { return "rate-for-stamps" }

func (q RateForStamps) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "stamps", q.Stamps, slowestStamps, fastestStamps)
	reckon.CheckCount(c, "across", q.Across, 1, maxAcross)
}

// Solve has no answer if the discharge would be less than 0.01 or more than
// 10000 pieces/min.
func (q RateForStamps) Solve() (out RateForStampsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	rate := unit.PieceRate(float64(q.Stamps) * float64(q.Across))
	if !(rate >= slowestRate && rate <= fastestRate) {
		each := 1 / float64(q.Across)
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "discharge", Wanted: q.Stamps.String() + " with " + number(float64(q.Across)) + " across",
			Low: unit.StrokeRate(float64(slowestRate) * each).String(), High: unit.StrokeRate(float64(fastestRate) * each).String(),
			Advice: "the line would have to discharge " + rate.String() + ", and lines discharge " + slowestRate.String() + " to " + fastestRate.String() + "; check the stamps and the pieces across",
		}
	}
	return RateForStampsResult{PieceRate: rate, Cautions: stampCautions}, nil
}

func (q RateForStamps) Show(w *reckon.Working, out RateForStampsResult) {
	w.Inputs(q)
	w.Lines(out, "pieces: r = s*a  [one stamp for each row]")
}

// StampDrift asks how far the stamper drifts against the discharge over a run:
//
//	q = r / a
//	e = s - q if it runs continuously, min(0, s - q) if it is timed
//	n = e * T / 60
//	t = 60 * k/100 / |e|
//
// A timed stamper waits for the rows, and misses those for which it is too
// slow. It holds for speeds that stay as they are, and from a start in step.
//
// Source: counting of rows (derived); cases in testdata/cases/molder/stamp-drift.json.
//
// The inverse is [StampsForRun].
type StampDrift struct {
	Mode      StampMode       `json:"mode"`                                                         // "timed" or "continuous"
	Stamps    unit.StrokeRate `json:"stamps" sym:"s" range:"0.0005 strokes/min..10000 strokes/min"` // its speed, or its fastest if it is timed
	PieceRate unit.PieceRate  `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces discharged on all lanes together
	Across    int             `json:"across" sym:"a" range:"1..20"`                                 // pieces side by side in one row
	RunTime   unit.Duration   `json:"run_time" sym:"T" range:"1 s..48 h"`                           // length of the run
	Window    unit.Percent    `json:"window" sym:"k" range:">0 %..50 %"`                            // how far a stamp may be off, as a share of the distance from row to row
}

// StampDriftResult is how far the two drift apart.
type StampDriftResult struct {
	GainRate   unit.StrokeRate `json:"gain_rate" sym:"e"`      // rows gained by the stamper, one for each stroke; below zero if it falls behind
	RowsOff    float64         `json:"rows_off" sym:"n"`       // rows out of step at the end of the run, the same way
	Until      unit.Duration   `json:"until,omitzero" sym:"t"` // when the stamps leave the window; left out if the run ends in step
	Conditions Conditions      `json:"conditions"`             // out-of-step, rate-limited
	Cautions   reckon.Cautions `json:"cautions"`               // interlocks, moving-machinery, locked-out, running-drive, stamper-cover
}

func (StampDrift) ID() string { return "stamp-drift" }

func (q StampDrift) Check(c *reckon.Checks) {
	reckon.CheckEither(c, "mode", q.Mode, TimedStamp, ContinuousStamp)
	reckon.CheckRange(c, "stamps", q.Stamps, slowestStamps, fastestStamps)
	checkRow(c, q.PieceRate, q.Across)
	checkRun(c, q.RunTime, q.Window)
}

func (q StampDrift) Solve() (out StampDriftResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out = StampDriftResult{GainRate: q.Stamps - unit.StrokeRate(rowRate(q.PieceRate, q.Across)), Cautions: stampCautions}
	if q.Mode == TimedStamp {
		out.GainRate = min(0, out.GainRate)
		if out.GainRate < 0 {
			out.Conditions |= reckon.RateLimited
		}
	}
	out.RowsOff = float64(out.GainRate) * float64(q.RunTime) / 60
	// A speed set for exactly the window must not fail for its last binary digit.
	if window := float64(q.Window) / 100; math.Abs(out.RowsOff) > window*(1+1e-9) {
		out.Until = unit.Duration(window / math.Abs(float64(out.GainRate)) * 60)
		out.Conditions |= OutOfStep
	}
	return out, nil
}

func (q StampDrift) Show(w *reckon.Working, out StampDriftResult) {
	w.Inputs(q)
	drift := "s - q"
	if q.Mode == TimedStamp {
		drift = "min(0, s - q)  [a timed stamper waits for the row]"
	}
	w.Lines(out,
		"rows: q = r/a in strokes/min  [a stamp for each row]",
		"drift: e = "+drift,
		"rows out of step at the end: n = e*T/60{s/min}",
	)
	if out.Until != 0 {
		w.Lines(out, "time until the stamps leave the window: t = 60{s/min}*k/100/abs(e)")
	}
}

func checkRun(c *reckon.Checks, run unit.Duration, window unit.Percent) {
	reckon.CheckRange(c, "run_time", run, 1, unit.Hours(48))
	if !(window > 0 && window <= 50) {
		c.Fail("window", window.String(), "more than 0 %, up to 50 %: half way between two rows nothing is stamped right")
	}
}

// StampsForRun asks how closely the speed of a continuous stamper must be set to
// keep in step to the end of a run:
//
//	q = r / a
//	e = k/100 / (T / 60)
//	s_low = max(0, q - e),  s_high = q + e
//	p = 100 * e / q
//
// It is the inverse of [StampDrift], with the same validity. A run of an hour
// takes a finer setting than a handwheel allows: link the drives or let the discharge time it.
//
// Source: counting of rows (derived).
//
// The inverse is [StampDrift].
type StampsForRun struct {
	PieceRate unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces discharged on all lanes together
	Across    int            `json:"across" sym:"a" range:"1..20"`                                 // pieces side by side in one row
	RunTime   unit.Duration  `json:"run_time" sym:"T" range:"1 s..48 h"`                           // length of the run
	Window    unit.Percent   `json:"window" sym:"k" range:">0 %..50 %"`                            // how far a stamp may be off, as a share of the distance from row to row
}

// StampsForRunResult is how closely the speeds must agree.
type StampsForRunResult struct {
	Low            unit.StrokeRate `json:"low" sym:"s_low"`         // slowest that keeps step to the end; 0 if it may stand still
	High           unit.StrokeRate `json:"high" sym:"s_high"`       // fastest that keeps step to the end
	SpeedTolerance unit.Percent    `json:"speed_tolerance" sym:"p"` // how far the speed may be off, as a share of the rows' own
	Cautions       reckon.Cautions `json:"cautions"`                // interlocks, moving-machinery, locked-out, running-drive, stamper-cover
}

func (StampsForRun) ID() string { return "stamps-for-run" }

func (q StampsForRun) Check(c *reckon.Checks) {
	checkRow(c, q.PieceRate, q.Across)
	checkRun(c, q.RunTime, q.Window)
}

// Solve has no answer if the fastest would be more than 10000 strokes/min.
func (q StampsForRun) Solve() (out StampsForRunResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	rows := rowRate(q.PieceRate, q.Across)
	allowed := float64(q.Window) / 100 / (float64(q.RunTime) / 60)
	high := unit.StrokeRate(rows + allowed)
	if high > fastestStamps {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "range of stamps", Wanted: "step with " + number(rows) + " rows a minute", High: number(float64(fastestStamps)-allowed) + " rows a minute",
			Advice: "it would go up to " + high.String() + ", and " + fastestStamps.String() + " is the most; check the rate, the pieces across and the run",
		}
	}
	return StampsForRunResult{
		Low: unit.StrokeRate(max(0, rows-allowed)), High: high,
		SpeedTolerance: unit.Percent(100 * allowed / rows), Cautions: stampCautions,
	}, nil
}

func (q StampsForRun) Show(w *reckon.Working, out StampsForRunResult) {
	w.Inputs(q)
	w.Lines(out,
		"rows: q = r/a in strokes/min  [a stamp for each row]",
		"allowed drift: e = k/100/(T/60{s/min}) in strokes/min",
		"slowest: s_low = max(0, q - e)",
		"fastest: s_high = q + e",
		"allowed drift of the rows' own: p = 100*e/q",
	)
}
