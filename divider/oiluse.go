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

// OilUse asks how much divider oil a run and a day use, and how much of it
// runs to waste through valves left open while scaling stops:
//
//	q   = sum(q_i)
//	L   = q/60 * u
//	V   = q/60 * (t + u)
//	L_d = L * r
//	V_d = V * r
//	l   = 100 * u / (t + u)
//	v   = q/60 * t / n
//
// The oil is shut off whenever scaling stops: what runs then reaches the belt,
// the dough at the next start and the floor. It holds for gravity valves whose
// rate was measured at the oil's working temperature; warm oil runs faster.
// Follow the machine's manual for kind and amount of oil.
//
// It is refused if:
//   - scaling and left_open are both 0 s.
//
// Source: rate times time; common practice of the trade, in
// testdata/cases/divider/oil-use.json.
//
// The inverses are [OilTimeForUse] and [OilRateForUse].
type OilUse struct {
	Valves       []unit.VolumeRate `json:"valves" sym:"q_#" range:">0 ml/min..10 l/min" items:"1..100"` // what each valve lets through while open, measured with a cup and a clock
	Scaling      unit.Duration     `json:"scaling" sym:"t" range:"-"`                                   // time in one run that the machine scales with the valves open; up to 7 d, 0 s only if they are left open
	LeftOpen     unit.Duration     `json:"left_open,omitzero" sym:"u,0" range:"0 s..7 d"`               // time in one run that the valves stay open while scaling stops; should be none
	Runs         int               `json:"runs" sym:"r" range:"1..1000"`                                // runs in a day
	PiecesPerRun int               `json:"pieces_per_run,omitzero" sym:"n" range:"0..10000000"`         // pieces scaled in one run; 0 for no figure per piece
}

// OilUseResult is where the oil goes.
type OilUseResult struct {
	OilRate     unit.VolumeRate `json:"oil_rate" sym:"q"`      // all valves together, while open
	PerRun      unit.Volume     `json:"per_run" sym:"V"`       // oil in one run, lost or not
	LostOil     unit.Volume     `json:"lost_oil" sym:"L"`      // of that, let through while scaling stops
	PerDay      unit.Volume     `json:"per_day" sym:"V_d"`     // oil in a day, lost or not
	LostDay     unit.Volume     `json:"lost_day" sym:"L_d"`    // of that, let through while scaling stops
	LostShare   unit.Percent    `json:"lost_share" sym:"l"`    // lost, of all oil
	OilPerPiece unit.Volume     `json:"oil_per_piece" sym:"v"` // oil while scaling, on one piece; 0 if no pieces were given
	Cautions    reckon.Cautions `json:"cautions"`              // oil-slip, moving-machinery
}

func (OilUse) ID() string { return "oil-use" }

func (q OilUse) Check(c *reckon.Checks) { q.check(c) }

// check returns the rate of all valves together.
func (q *OilUse) check(c *reckon.Checks) unit.VolumeRate {
	rate := checkValves(c, q.Valves)
	reckon.CheckRange(c, "scaling", q.Scaling, 0, longestRun)
	reckon.CheckRange(c, "left_open", q.LeftOpen, 0, longestRun)
	if q.Scaling == 0 && q.LeftOpen == 0 {
		c.Fail("scaling", "0 s", "a time that the valves are open, scaling or left open")
	}
	reckon.CheckCount(c, "runs", q.Runs, 1, mostRuns)
	reckon.CheckCount(c, "pieces_per_run", q.PiecesPerRun, 0, mostPiecesInRun)
	return rate
}

func (q OilUse) Solve() (out OilUseResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	rate := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	perSecond := rate.MillilitresPerMinute() / 60
	used := perSecond * float64(q.Scaling)
	lost := perSecond * float64(q.LeftOpen)
	run := perSecond * (float64(q.Scaling) + float64(q.LeftOpen))
	out = OilUseResult{
		OilRate: rate, PerRun: unit.Millilitres(run), LostOil: unit.Millilitres(lost),
		PerDay: unit.Millilitres(run * float64(q.Runs)), LostDay: unit.Millilitres(lost * float64(q.Runs)),
		LostShare: unit.Percent(100 * float64(q.LeftOpen) / (float64(q.Scaling) + float64(q.LeftOpen))),
		Cautions:  reckon.OilSlip | reckon.MovingMachinery,
	}
	if q.PiecesPerRun > 0 {
		out.OilPerPiece = unit.Millilitres(used / float64(q.PiecesPerRun))
	}
	return out, nil
}

func (q OilUse) Show(w *reckon.Working, out OilUseResult) {
	w.Inputs(q)
	w.Lines(out,
		"all valves together: q = sum(q_#)",
		"lost in one run: L = q/60{s/min} * u",
		"oil in one run: V = q/60{s/min} * (t + u)",
		"lost in a day: L_d = L*r",
		"oil in a day: V_d = V*r",
		"lost, of all oil: l = 100*u/(t + u)",
	)
	if q.PiecesPerRun > 0 {
		w.Lines(out, "oil on one piece: v = q/60{s/min} * t/n")
	}
}

// checkValves requires valves that let something through and returns the sum of their rates.
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

// OilTimeForUse asks how long the valves can stay open on an allowed use of oil:
//
//	q = sum(q_i)
//	t = V / (q/60)
//
// It is an inverse of [OilUse], with the same validity. Asked with what a can
// holds, it says when the can is empty.
//
// It is refused if:
//   - the valves together let through less than 1e-7 ml/min, a drop in a year.
//
// Source: as for [OilUse].
//
// The inverse is [OilUse].
type OilTimeForUse struct {
	Valves []unit.VolumeRate `json:"valves" sym:"q_#" range:">0 ml/min..10 l/min" items:"1..100"` // what each valve lets through while open
	Use    unit.Volume       `json:"use" sym:"V" range:">0 ml..1000000 l"`                        // oil allowed
}

// OilTimeForUseResult is how long the valves may be open.
type OilTimeForUseResult struct {
	Open     unit.Duration   `json:"open" sym:"t"` // time open, all valves together
	Cautions reckon.Cautions `json:"cautions"`     // oil-slip, moving-machinery
}

func (OilTimeForUse) ID() string { return "oil-time-for-use" }

func (q OilTimeForUse) Check(c *reckon.Checks) { q.check(c) }

// check returns the rate of all valves together.
func (q *OilTimeForUse) check(c *reckon.Checks) unit.VolumeRate {
	rate := checkValves(c, q.Valves)
	checkUse(c, q.Use)
	if rate > 0 && rate < slowestRate {
		c.Fail("valves", rate.String()+" together", "at least "+slowestRate.String()+" together")
	}
	return rate
}

func (q OilTimeForUse) Solve() (out OilTimeForUseResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	rate := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	open := q.Use.Millilitres() / (rate.MillilitresPerMinute() / 60)
	return OilTimeForUseResult{Open: unit.Seconds(open), Cautions: reckon.OilSlip | reckon.MovingMachinery}, nil
}

func (q OilTimeForUse) Show(w *reckon.Working, out OilTimeForUseResult) {
	w.Inputs(q)
	w.Lines(out,
		"all valves together: q = sum(q_#) in ml/min",
		"time open: t = V/(q/60{s/min})",
	)
}

// slowestRate keeps a quotient from overflowing. It is a drop in a year.
const slowestRate unit.VolumeRate = 1e-7

func checkUse(c *reckon.Checks, use unit.Volume) {
	if !(use > 0 && use <= mostOil) {
		c.Fail("use", use.String(), "more than 0 ml, up to "+mostOil.String())
	}
}

// OilRateForUse asks for the rate of each valve at which an allowed use of oil
// lasts for the time that the valves are open:
//
//	q = V / n / (t/60)
//
// It is an inverse of [OilUse], with the same validity. Asked with what a cup
// caught in a minute, it is the measurement of the rate.
//
// Source: as for [OilUse].
//
// The inverse is [OilUse].
type OilRateForUse struct {
	Use        unit.Volume   `json:"use" sym:"V" range:">0 ml..1000000 l"` // oil allowed, or caught in a cup
	Open       unit.Duration `json:"open" sym:"t" range:"1 s..7 d"`        // time that the valves are open
	ValveCount int           `json:"valve_count" sym:"n" range:"1..100"`   // how many share it
}

// OilRateForUseResult is how far each valve is to be opened.
type OilRateForUseResult struct {
	OilRate  unit.VolumeRate `json:"oil_rate" sym:"q"` // what each valve lets through
	Cautions reckon.Cautions `json:"cautions"`         // oil-slip, moving-machinery
}

func (OilRateForUse) ID() string { return "oil-rate-for-use" }

func (q OilRateForUse) Check(c *reckon.Checks) {
	checkUse(c, q.Use)
	reckon.CheckRange(c, "open", q.Open, 1, longestRun)
	reckon.CheckCount(c, "valve_count", q.ValveCount, 1, mostValves)
}

func (q OilRateForUse) Solve() (out OilRateForUseResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	rate := q.Use.Millilitres() / float64(q.ValveCount) / (float64(q.Open) / 60)
	return OilRateForUseResult{OilRate: unit.MillilitresPerMinute(rate), Cautions: reckon.OilSlip | reckon.MovingMachinery}, nil
}

func (q OilRateForUse) Show(w *reckon.Working, out OilRateForUseResult) {
	w.Inputs(q)
	w.Lines(out, "rate of each valve: q = V/n / (t/60{s/min})")
}
