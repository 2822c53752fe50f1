package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Die is how the stamper's die moves.
type Die string

const (
	// FixedDie moves up and down over the pieces.
	FixedDie Die = "fixed"
	// RotatingDie sits with others around a turning head.
	RotatingDie Die = "rotating"
)

// StampMode is what makes the stamper stamp.
type StampMode string

const (
	// AutomaticStamp stamps when a row arrives, by a feeler or a link to the discharge.
	AutomaticStamp StampMode = "automatic"
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

// StampRate returns how often the stamper stamps to keep in step with the discharge:
//
//	stamps = rate / across
//	dwell = contact/100 * 60 s / stamps
//	head speed = stamps / dies around
//
// It counts rows: one stamp, or one die of the head, for every row. Whether
// the dwell prints well is seen on the dough. The stamper's cover interlock
// is never defeated, whatever the rhythm.
//
// It returns an *[reckon.InputError] if:
//   - rate is outside 0.01 to 10000 pieces/min, or across outside 1 to 20,
//   - die is not named, or around is not 1 to 50 for a rotating die or is given for a fixed one,
//   - contact is not above 0 and under 100 %, or fastest outside 0 to 10000 strokes/min.
//
// Source: counting of rows (derived); the interlock is common practice; cases
// in testdata/cases/molder/stamp-rate.json.
//
// The inverse is [RateForStamps].
type StampRate struct {
	Rate    unit.PieceRate  `json:"rate"`             // pieces discharged on all lanes together, 0.01 to 10000 pieces/min
	Across  int             `json:"across"`           // pieces side by side in one row, 1 to 20
	Die     Die             `json:"die"`              // "fixed" or "rotating"
	Around  int             `json:"around,omitzero"`  // dies around a rotating head, 1 to 50; leave out for a fixed die
	Contact unit.Percent    `json:"contact"`          // part of a cycle for which the die is on the dough, above 0 to under 100 %
	Fastest unit.StrokeRate `json:"fastest,omitzero"` // most stamps that the stamper makes, up to 10000 strokes/min; leave out if not known
}

func (StampRate) ID() string { return "stamp-rate" }

// SHELL
func (q StampRate) Check(c *reckon.Checks) {
	_, err := explainStampRate(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StampRate) Solve() (StampRateResult, error) { return explainStampRate(q, nil) }

func (q StampRate) Show(w *reckon.Working, _ StampRateResult) { _, _ = explainStampRate(q, w) }

// StampRateResult is how the stamper runs in step.
type StampRateResult struct {
	Stamps     unit.StrokeRate   `json:"stamps"`        // one for each row
	Interval   unit.Duration     `json:"interval"`      // from row to row
	Dwell      unit.Duration     `json:"dwell"`         // of the die on the dough
	Head       unit.RotationRate `json:"head,omitzero"` // speed of a rotating head; left out for a fixed die
	Conditions Conditions        `json:"conditions"`    // rate-limited
	Cautions   reckon.Cautions   `json:"cautions"`      // interlocks, moving-machinery, locked-out
}

func checkRow(c *reckon.Checks, rate unit.PieceRate, across int) {
	reckon.CheckRange(c, "rate", rate, slowestRate, fastestRate)
	reckon.CheckCount(c, "across", across, 1, maxAcross)
}

const stampCautions = reckon.Interlocks | reckon.MovingMachinery | reckon.LockedOut

func explainStampRate(in StampRate, w *reckon.Working) (out StampRateResult, err error) {
	c := reckon.Checks{Func: "stamp-rate"}
	checkRow(&c, in.Rate, in.Across)
	if reckon.CheckEither(&c, "die", in.Die, FixedDie, RotatingDie) {
		if in.Die == RotatingDie {
			reckon.CheckCount(&c, "around", in.Around, 1, 50)
		} else if in.Around != 0 {
			c.Fail("around", number(float64(in.Around)), "nothing for a fixed die")
		}
	}
	if !(in.Contact > 0 && in.Contact < 100) {
		c.Fail("contact", in.Contact.String(), "more than 0 % and under 100 %")
	}
	reckon.CheckRange(&c, "fastest", in.Fastest, 0, 10000)
	if err := c.Err(); err != nil {
		return StampRateResult{}, err
	}
	stamps := float64(in.Rate) / float64(in.Across)
	interval := 60 / stamps
	out = StampRateResult{
		Stamps: unit.StrokeRate(stamps), Interval: unit.Duration(interval),
		Dwell: unit.Duration(float64(in.Contact) / 100 * interval), Cautions: stampCautions,
	}
	if in.Die == RotatingDie {
		out.Head = unit.RotationRate(stamps / float64(in.Around))
	}
	if in.Fastest != 0 && out.Stamps > in.Fastest {
		out.Conditions |= reckon.RateLimited
	}
	if w != nil {
		w.Given("pieces", "r", float64(in.Rate), "pieces/min", "")
		w.Given("across", "a", float64(in.Across), "", "")
		w.Given("part of the cycle on the dough", "k", float64(in.Contact), "%", "")
		w.Step("stamps", "s", "r / a", stamps, "strokes/min", "one for each row")
		w.Step("interval", "T", "60 / s", interval, "s", "60 s in a minute")
		w.Step("dwell", "t", "k/100 * T", float64(out.Dwell), "s", "")
		if in.Die == RotatingDie {
			w.Given("dies around the head", "n", float64(in.Around), "", "")
			w.Step("head speed", "N", "s / n", float64(out.Head), "rev/min", "one die for each row")
		}
	}
	return out, nil
}

// RateForStamps returns the discharge that a stamper keeps in step with:
//
//	rate = stamps * across
//
// It is the inverse of [StampRate], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - stamps is outside 0.0005 to 10000 strokes/min, or across outside 1 to 20.
//
// It returns a *[reckon.NoSolutionError] if the discharge would be outside the 0.01 to 10000 pieces/min that [StampRate] takes.
//
// Source: counting of rows (derived).
type RateForStamps struct {
	Stamps unit.StrokeRate `json:"stamps"` // stamps, 0.0005 to 10000 strokes/min
	Across int             `json:"across"` // pieces side by side in one row, 1 to 20
}

func (RateForStamps) ID() string { return "rate-for-stamps" }

// SHELL
func (q RateForStamps) Check(c *reckon.Checks) {
	_, err := explainRateForStamps(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RateForStamps) Solve() (RateForStampsResult, error) { return explainRateForStamps(q, nil) }

func (q RateForStamps) Show(w *reckon.Working, _ RateForStampsResult) {
	_, _ = explainRateForStamps(q, w)
}

// RateForStampsResult is the discharge that goes with it.
type RateForStampsResult struct {
	Rate     unit.PieceRate  `json:"rate"`     // pieces on all lanes together
	Cautions reckon.Cautions `json:"cautions"` // interlocks, moving-machinery, locked-out
}

func explainRateForStamps(in RateForStamps, w *reckon.Working) (out RateForStampsResult, err error) {
	c := reckon.Checks{Func: "rate-for-stamps"}
	reckon.CheckRange(&c, "stamps", in.Stamps, slowestStamps, fastestStamps)
	reckon.CheckCount(&c, "across", in.Across, 1, maxAcross)
	if err := c.Err(); err != nil {
		return RateForStampsResult{}, err
	}
	out = RateForStampsResult{Rate: unit.PieceRate(float64(in.Stamps) * float64(in.Across)), Cautions: stampCautions}
	if !(out.Rate >= slowestRate && out.Rate <= fastestRate) {
		each := 1 / float64(in.Across)
		return RateForStampsResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "discharge", Wanted: in.Stamps.String() + " with " + number(float64(in.Across)) + " across",
			Low: unit.StrokeRate(float64(slowestRate) * each).String(), High: unit.StrokeRate(float64(fastestRate) * each).String(),
			Advice: "the line would have to discharge " + out.Rate.String() + ", and lines discharge " + slowestRate.String() + " to " + fastestRate.String() + "; check the stamps and the pieces across",
		}
	}
	if w != nil {
		w.Given("stamps", "s", float64(in.Stamps), "strokes/min", "")
		w.Given("across", "a", float64(in.Across), "", "")
		w.Step("pieces", "r", "s * a", float64(out.Rate), "pieces/min", "one stamp for each row")
	}
	return out, nil
}

// StampDrift returns how far the stamper drifts against the discharge over a run:
//
//	drift = stamps - rate / across     (continuous)
//	drift = min(0, stamps - rate / across)   (automatic: it waits for the rows, and misses those it is too slow for)
//	off = drift * run,  until = window / |drift|
//
// It holds for speeds that stay as they are, and from a start in step.
//
// It returns an *[reckon.InputError] if:
//   - mode is not named,
//   - stamps is outside 0.0005 to 10000 strokes/min, or rate outside 0.01 to 10000 pieces/min,
//   - across is outside 1 to 20, or run outside 1 s to 48 h,
//   - window is not above 0 and up to 50 %.
//
// Source: counting of rows (derived); cases in testdata/cases/molder/stamp-drift.json.
//
// The inverse is [StampsForRun].
type StampDrift struct {
	Mode   StampMode       `json:"mode"`   // "automatic" or "continuous"
	Stamps unit.StrokeRate `json:"stamps"` // its speed, or the most that it makes if automatic, 0.0005 to 10000 strokes/min
	Rate   unit.PieceRate  `json:"rate"`   // pieces discharged on all lanes together, 0.01 to 10000 pieces/min
	Across int             `json:"across"` // pieces side by side in one row, 1 to 20
	Run    unit.Duration   `json:"run"`    // length of the run, 1 s to 48 h
	Window unit.Percent    `json:"window"` // how far a stamp may be off, above 0 to 50 % of the distance from row to row
}

func (StampDrift) ID() string { return "stamp-drift" }

// SHELL
func (q StampDrift) Check(c *reckon.Checks) {
	_, err := explainStampDrift(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StampDrift) Solve() (StampDriftResult, error) { return explainStampDrift(q, nil) }

func (q StampDrift) Show(w *reckon.Working, _ StampDriftResult) { _, _ = explainStampDrift(q, w) }

// StampDriftResult is how far the two drift apart.
type StampDriftResult struct {
	Drift      float64         `json:"drift"`          // rows that the stamper gains in a minute; below zero if it falls behind
	Off        float64         `json:"off"`            // rows out of step at the end of the run, the same way
	Until      unit.Duration   `json:"until,omitzero"` // when the stamps leave the window; left out if the run ends in step
	Conditions Conditions      `json:"conditions"`     // out-of-step, rate-limited
	Cautions   reckon.Cautions `json:"cautions"`       // interlocks, moving-machinery, locked-out
}

func explainStampDrift(in StampDrift, w *reckon.Working) (out StampDriftResult, err error) {
	c := reckon.Checks{Func: "stamp-drift"}
	reckon.CheckEither(&c, "mode", in.Mode, AutomaticStamp, ContinuousStamp)
	reckon.CheckRange(&c, "stamps", in.Stamps, slowestStamps, fastestStamps)
	checkRow(&c, in.Rate, in.Across)
	checkRun(&c, in.Run, in.Window)
	if err := c.Err(); err != nil {
		return StampDriftResult{}, err
	}
	rows := float64(in.Rate) / float64(in.Across)
	out = StampDriftResult{Drift: float64(in.Stamps) - rows, Cautions: stampCautions}
	if in.Mode == AutomaticStamp {
		out.Drift = min(0, out.Drift)
		if out.Drift < 0 {
			out.Conditions |= reckon.RateLimited
		}
	}
	out.Off = out.Drift * float64(in.Run) / 60
	// A speed set for exactly the window must not fail for its last binary digit.
	if window := float64(in.Window) / 100; math.Abs(out.Off) > window*(1+1e-9) {
		out.Until = unit.Duration(window / math.Abs(out.Drift) * 60)
		out.Conditions |= OutOfStep
	}
	if w != nil {
		w.Given("stamps", "s", float64(in.Stamps), "strokes/min", "")
		w.Given("pieces", "r", float64(in.Rate), "pieces/min", "")
		w.Given("across", "a", float64(in.Across), "", "")
		w.Given("run", "T", float64(in.Run), "s", "")
		w.Step("rows", "q", "r / a", rows, "1/min", "")
		if in.Mode == AutomaticStamp {
			w.Step("drift", "e", "min(0, s - q)", out.Drift, "1/min", "an automatic stamper waits for the row")
		} else {
			w.Step("drift", "e", "s - q", out.Drift, "1/min", "")
		}
		w.Step("rows out of step at the end", "n", "e * T / 60", out.Off, "", "60 s in a minute")
	}
	return out, nil
}

func checkRun(c *reckon.Checks, run unit.Duration, window unit.Percent) {
	reckon.CheckRange(c, "run", run, 1, unit.Hours(48))
	if !(window > 0 && window <= 50) {
		c.Fail("window", window.String(), "more than 0 %, up to 50 %: half way between two rows nothing is stamped right")
	}
}

// StampsForRun returns the speeds at which a continuous stamper keeps step to the end of a run:
//
//	stamps = rate / across ± window / run
//
// It is the inverse of [StampDrift], with the same validity. A run of an hour
// asks for more than a handwheel can set: link the drives or work automatically.
//
// It returns an *[reckon.InputError] if:
//   - rate, across, run or window is out of the range that [StampDrift] names.
//
// It returns a *[reckon.NoSolutionError] if the fastest would be more than the 10000 strokes/min that [StampDrift] takes.
//
// Source: counting of rows (derived).
type StampsForRun struct {
	Rate   unit.PieceRate `json:"rate"`   // pieces discharged on all lanes together, 0.01 to 10000 pieces/min
	Across int            `json:"across"` // pieces side by side in one row, 1 to 20
	Run    unit.Duration  `json:"run"`    // length of the run, 1 s to 48 h
	Window unit.Percent   `json:"window"` // how far a stamp may be off, above 0 to 50 % of the distance from row to row
}

func (StampsForRun) ID() string { return "stamps-for-run" }

// SHELL
func (q StampsForRun) Check(c *reckon.Checks) {
	_, err := explainStampsForRun(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StampsForRun) Solve() (StampsForRunResult, error) { return explainStampsForRun(q, nil) }

func (q StampsForRun) Show(w *reckon.Working, _ StampsForRunResult) { _, _ = explainStampsForRun(q, w) }

// StampsForRunResult is how well the speeds must agree.
type StampsForRunResult struct {
	Low      unit.StrokeRate `json:"low"`      // slowest that keeps step to the end; 0 if it may stand still
	High     unit.StrokeRate `json:"high"`     // fastest that keeps step to the end
	Within   unit.Percent    `json:"within"`   // how far the speed may be off, of the rows' own
	Cautions reckon.Cautions `json:"cautions"` // interlocks, moving-machinery, locked-out
}

func explainStampsForRun(in StampsForRun, w *reckon.Working) (out StampsForRunResult, err error) {
	c := reckon.Checks{Func: "stamps-for-run"}
	checkRow(&c, in.Rate, in.Across)
	checkRun(&c, in.Run, in.Window)
	if err := c.Err(); err != nil {
		return StampsForRunResult{}, err
	}
	rows := float64(in.Rate) / float64(in.Across)
	allowed := float64(in.Window) / 100 / (float64(in.Run) / 60)
	out = StampsForRunResult{
		Low: unit.StrokeRate(max(0, rows-allowed)), High: unit.StrokeRate(rows + allowed),
		Within: unit.Percent(100 * allowed / rows), Cautions: stampCautions,
	}
	if out.High > fastestStamps {
		return StampsForRunResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "range of stamps", Wanted: "step with " + number(rows) + " rows a minute", High: number(float64(fastestStamps)-allowed) + " rows a minute",
			Advice: "it would go up to " + out.High.String() + ", and " + fastestStamps.String() + " is the most; check the rate, the pieces across and the run",
		}
	}
	if w != nil {
		w.Given("pieces", "r", float64(in.Rate), "pieces/min", "")
		w.Given("across", "a", float64(in.Across), "", "")
		w.Given("run", "T", float64(in.Run), "s", "")
		w.Given("window", "k", float64(in.Window), "%", "")
		w.Step("rows", "q", "r / a", rows, "1/min", "")
		w.Step("allowed drift", "e", "k/100 / (T/60)", allowed, "1/min", "60 s in a minute")
		w.Step("slowest", "s_low", "max(0, q - e)", float64(out.Low), "strokes/min", "")
		w.Step("fastest", "s_high", "q + e", float64(out.High), "strokes/min", "")
		w.Step("allowed drift of the rows' own", "p", "100 * e / q", float64(out.Within), "%", "")
	}
	return out, nil
}
