package divider

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Bounds on the oil arithmetic. They catch slips of the unit, not unusual machines.
const (
	fastestValve    unit.VolumeRate = 10_000 // ml/min: more than any drip or wick
	longestRun      unit.Duration   = 7 * 86400
	mostOil         unit.Volume     = 1e9 // ml
	mostValves                      = 100
	mostRuns                        = 1000
	mostPiecesInRun                 = 10_000_000
)

// OilUse returns the divider oil used in a run and in a day, and how much of it
// ran through valves that were left open while scaling stopped:
//
//	run  = (q1 + q2 + ...) * (scaling + left open)
//	lost = (q1 + q2 + ...) * left open
//
// The oil is shut whenever scaling stops: what runs then reaches the belt, the
// dough at the next start and the floor. It holds for gravity valves whose rate
// was measured at the oil's working temperature; warm oil runs faster.
// Follow the machine's manual for kind and amount of oil.
//
// It returns an *[reckon.InputError] if:
//   - valves is empty or longer than 100, or a rate is not above 0 and at most 10 l/min,
//   - scaling or left_open is negative or longer than 7 d, or both are zero,
//   - runs is outside 1 to 1000, or pieces_per_run outside 0 to 10 million.
//
// Source: rate times time; common practice of the trade, in
// testdata/cases/divider/oil-use.json.
//
// The inverses are [OilTimeForUse] and [OilRateForUse].
type OilUse struct {
	Valves       []unit.VolumeRate `json:"valves"`                  // what each valve lets through while open, measured with a cup and a clock; 1 to 100 valves, above 0 to 10 l/min each
	Scaling      unit.Duration     `json:"scaling"`                 // time in one run that the machine scales with the valves open; 0 s to 7 d
	LeftOpen     unit.Duration     `json:"left_open,omitzero"`      // time in one run that the valves stay open while scaling stops; 0 s to 7 d; should be none
	Runs         int               `json:"runs"`                    // runs in a day; 1 to 1000
	PiecesPerRun int               `json:"pieces_per_run,omitzero"` // pieces scaled in one run; 0 to 10 million; 0 for no figure per piece
}

func (OilUse) ID() string { return "oil-use" }

// SHELL
func (q OilUse) Check(c *reckon.Checks) {
	_, err := explainOilUse(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q OilUse) Solve() (OilUseResult, error) { return explainOilUse(q, nil) }

func (q OilUse) Show(w *reckon.Working, _ OilUseResult) { _, _ = explainOilUse(q, w) }

// OilUseResult is where the oil goes.
type OilUseResult struct {
	Rate      unit.VolumeRate `json:"rate"`       // all valves together, while open
	Run       unit.Volume     `json:"run"`        // oil in one run, lost or not
	Lost      unit.Volume     `json:"lost"`       // of that, let through while scaling stops
	Day       unit.Volume     `json:"day"`        // oil in a day, lost or not
	LostDay   unit.Volume     `json:"lost_day"`   // of that, let through while scaling stops
	LostShare unit.Percent    `json:"lost_share"` // lost, of all oil
	PerPiece  unit.Volume     `json:"per_piece"`  // oil while scaling, on one piece; 0 if no pieces were given
	Cautions  reckon.Cautions `json:"cautions"`   // oil-slip, moving-machinery
}

func explainOilUse(in OilUse, w *reckon.Working) (out OilUseResult, err error) {
	c := reckon.Checks{Func: "oil-use"}
	rate := checkValves(&c, in.Valves)
	reckon.CheckRange(&c, "scaling", in.Scaling, 0, longestRun)
	reckon.CheckRange(&c, "left_open", in.LeftOpen, 0, longestRun)
	if in.Scaling == 0 && in.LeftOpen == 0 {
		c.Fail("scaling", "0 s", "a time that the valves are open, scaling or left open")
	}
	reckon.CheckCount(&c, "runs", in.Runs, 1, mostRuns)
	reckon.CheckCount(&c, "pieces_per_run", in.PiecesPerRun, 0, mostPiecesInRun)
	if err := c.Err(); err != nil {
		return OilUseResult{}, err
	}
	perSecond := rate.MillilitresPerMinute() / 60
	used := perSecond * float64(in.Scaling)
	lost := perSecond * float64(in.LeftOpen)
	run := perSecond * (float64(in.Scaling) + float64(in.LeftOpen))
	out = OilUseResult{
		Rate: rate, Run: unit.Millilitres(run), Lost: unit.Millilitres(lost),
		Day: unit.Millilitres(run * float64(in.Runs)), LostDay: unit.Millilitres(lost * float64(in.Runs)),
		LostShare: unit.Percent(100 * float64(in.LeftOpen) / (float64(in.Scaling) + float64(in.LeftOpen))),
		Cautions:  reckon.OilSlip | reckon.MovingMachinery,
	}
	if in.PiecesPerRun > 0 {
		out.PerPiece = unit.Millilitres(used / float64(in.PiecesPerRun))
	}
	if w != nil {
		w.Given("all valves together", "q", rate.MillilitresPerMinute(), "ml/min", "sum of the rates measured")
		w.Given("scaling in one run", "t", float64(in.Scaling), "s", "")
		w.Given("left open in one run", "u", float64(in.LeftOpen), "s", "")
		w.Given("runs in a day", "r", float64(in.Runs), "", "")
		w.Step("lost in one run", "L", "q/60 * u", lost, "ml", "")
		w.Step("oil in one run", "V", "q/60 * (t + u)", run, "ml", "")
		w.Step("lost in a day", "L_d", "L * r", out.LostDay.Millilitres(), "ml", "")
		w.Step("oil in a day", "V_d", "V * r", out.Day.Millilitres(), "ml", "")
	}
	return out, nil
}

// checkValves wants valves that let something through and returns the sum of their rates.
func checkValves(c *reckon.Checks, valves []unit.VolumeRate) unit.VolumeRate {
	if len(valves) < 1 || len(valves) > mostValves {
		c.Fail("valves", strconv.Itoa(len(valves))+" valves", "1 to "+strconv.Itoa(mostValves)+" valves")
	}
	var sum unit.VolumeRate
	for i, q := range valves {
		if !(q > 0 && q <= fastestValve) { // the name is only put together for a bad one
			c.Fail("valves["+strconv.Itoa(i)+"]", q.String(), "more than 0 ml/min, up to "+fastestValve.String()+"; leave a shut valve out")
		}
		sum += q
	}
	return sum
}

// OilTimeForUse returns how long the valves may be open for an allowed use of oil:
//
//	open = use / (q1 + q2 + ...)
//
// It is an inverse of [OilUse], with the same validity. Asked with what a can
// holds, it says when the can is empty.
//
// It returns an *[reckon.InputError] if:
//   - valves is empty or longer than 100, or a rate is not above 0 and at most 10 l/min,
//   - use is not above 0 ml and at most 1 000 000 l.
//
// Source: as for [OilUse].
type OilTimeForUse struct {
	Valves []unit.VolumeRate `json:"valves"` // what each valve lets through while open; 1 to 100 valves, above 0 to 10 l/min each
	Use    unit.Volume       `json:"use"`    // oil allowed; above 0 ml to 1 000 000 l
}

func (OilTimeForUse) ID() string { return "oil-time-for-use" }

// SHELL
func (q OilTimeForUse) Check(c *reckon.Checks) {
	_, err := explainOilTimeForUse(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q OilTimeForUse) Solve() (OilTimeForUseResult, error) { return explainOilTimeForUse(q, nil) }

func (q OilTimeForUse) Show(w *reckon.Working, _ OilTimeForUseResult) {
	_, _ = explainOilTimeForUse(q, w)
}

// OilTimeForUseResult is how long the valves may be open.
type OilTimeForUseResult struct {
	Open     unit.Duration   `json:"open"`     // time open, all valves together
	Cautions reckon.Cautions `json:"cautions"` // oil-slip, moving-machinery
}

func explainOilTimeForUse(in OilTimeForUse, w *reckon.Working) (out OilTimeForUseResult, err error) {
	c := reckon.Checks{Func: "oil-time-for-use"}
	rate := checkValves(&c, in.Valves)
	checkUse(&c, in.Use)
	if rate > 0 && rate < slowestRate {
		c.Fail("valves", rate.String()+" together", "at least "+slowestRate.String()+" together")
	}
	if err := c.Err(); err != nil {
		return OilTimeForUseResult{}, err
	}
	open := in.Use.Millilitres() / (rate.MillilitresPerMinute() / 60)
	out = OilTimeForUseResult{Open: unit.Seconds(open), Cautions: reckon.OilSlip | reckon.MovingMachinery}
	if w != nil {
		w.Given("oil allowed", "V", in.Use.Millilitres(), "ml", "")
		w.Given("all valves together", "q", rate.MillilitresPerMinute(), "ml/min", "sum of the rates measured")
		w.Step("time open", "t", "V / (q/60)", open, "s", "")
	}
	return out, nil
}

// slowestRate keeps a quotient from overflowing. It is a drop in a year.
const slowestRate unit.VolumeRate = 1e-7

func checkUse(c *reckon.Checks, use unit.Volume) {
	if !(use > 0 && use <= mostOil) {
		c.Fail("use", use.String(), "more than 0 ml, up to "+mostOil.String())
	}
}

// OilRateForUse returns the rate of each valve at which an allowed use of oil
// lasts for the time that the valves are open:
//
//	q = use / (valves * open)
//
// It is an inverse of [OilUse], with the same validity. Asked with what a cup
// caught in a minute, it is the measurement of the rate.
//
// It returns an *[reckon.InputError] if:
//   - use is not above 0 ml and at most 1 000 000 l,
//   - open is outside 1 s to 7 d,
//   - valves is outside 1 to 100.
//
// Source: as for [OilUse].
type OilRateForUse struct {
	Use    unit.Volume   `json:"use"`    // oil allowed, or caught in a cup; above 0 ml to 1 000 000 l
	Open   unit.Duration `json:"open"`   // time that the valves are open; 1 s to 7 d
	Valves int           `json:"valves"` // how many share it; 1 to 100
}

func (OilRateForUse) ID() string { return "oil-rate-for-use" }

// SHELL
func (q OilRateForUse) Check(c *reckon.Checks) {
	_, err := explainOilRateForUse(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q OilRateForUse) Solve() (OilRateForUseResult, error) { return explainOilRateForUse(q, nil) }

func (q OilRateForUse) Show(w *reckon.Working, _ OilRateForUseResult) {
	_, _ = explainOilRateForUse(q, w)
}

// OilRateForUseResult is how far each valve is to be opened.
type OilRateForUseResult struct {
	Rate     unit.VolumeRate `json:"rate"`     // what each valve lets through
	Cautions reckon.Cautions `json:"cautions"` // oil-slip, moving-machinery
}

func explainOilRateForUse(in OilRateForUse, w *reckon.Working) (out OilRateForUseResult, err error) {
	c := reckon.Checks{Func: "oil-rate-for-use"}
	checkUse(&c, in.Use)
	reckon.CheckRange(&c, "open", in.Open, 1, longestRun)
	reckon.CheckCount(&c, "valves", in.Valves, 1, mostValves)
	if err := c.Err(); err != nil {
		return OilRateForUseResult{}, err
	}
	rate := in.Use.Millilitres() / float64(in.Valves) / (float64(in.Open) / 60)
	out = OilRateForUseResult{Rate: unit.MillilitresPerMinute(rate), Cautions: reckon.OilSlip | reckon.MovingMachinery}
	if w != nil {
		w.Given("oil allowed", "V", in.Use.Millilitres(), "ml", "")
		w.Given("valves", "n", float64(in.Valves), "", "")
		w.Given("time open", "t", float64(in.Open), "s", "")
		w.Step("rate of each valve", "q", "V / n / (t/60)", rate, "ml/min", "")
	}
	return out, nil
}
