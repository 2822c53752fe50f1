package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// FrictionBasis names how the heat of mixing enters the factor rule. Sources
// use both readings, and a figure measured under one is wrong under the other:
// the once-only friction is N times the rise per factor.
type FrictionBasis string

const (
	// FrictionOnce takes the friction factor off once: N*target - sum - friction.
	FrictionOnce FrictionBasis = "once"
	// FrictionPerFactor takes the rise in mixing off the target: N*(target - rise) - sum.
	FrictionPerFactor FrictionBasis = "per-factor"
)

// The friction that is taken at its word, in either reading. Trade texts name 2
// to 35 F° taken off once (Wihlfahrt, Lehmann); the rest is room to spare.
const (
	leastFriction unit.TempDelta = -20
	mostFriction  unit.TempDelta = 60
)

// check requires a friction that is plausible, in a reading that is named.
func (b FrictionBasis) check(c *reckon.Checks, friction unit.TempDelta) {
	reckon.CheckRange(c, "friction", friction, leastFriction, mostFriction)
	reckon.CheckEither(c, "friction_basis", b, FrictionOnce, FrictionPerFactor)
}

// once returns the friction as the factor rule subtracts it, for n factors.
func (b FrictionBasis) once(friction unit.TempDelta, n int) unit.TempDelta {
	if b == FrictionPerFactor {
		return unit.TempDelta(float64(n) * float64(friction))
	}
	return friction
}

// sheet writes out what once makes of the friction f for N factors.
func (b FrictionBasis) sheet() string {
	if b == FrictionPerFactor {
		return "N*f in C°  [the rise, once for each factor]"
	}
	return "f in C°  [taken off once]"
}

// FrictionFactor asks what friction factor a mixed batch shows:
//
//	F = N*T_d - (T_f + T_r + T_3 + T_4) - T_w
//	r = F / N
//
// with N the number of temperatures counted, the water included (2 to 5), F
// the friction taken off once and r the same as a rise for each factor.
//
// It holds for the same mixer, speed, time, formula, batch size and N. A batch
// that is larger, stiffer or mixed longer has another factor; [FrictionLog]
// shows how. A factor outside -20 to 60 C° is outside what the trade reports.
//
// Source: Instituto Nacional de Aprendizaje, bakery course book, chapter 3, after the
// American Institute of Baking (2010); cases in testdata/cases/doughmath/friction-factor.json.
//
// The inverses are [WaterTemperature] and [DoughTemperatureForWater].
type FrictionFactor struct {
	DoughTemp unit.Temp `json:"dough_temp" sym:"T_d" range:"-10 °C..60 °C"`      // dough temperature at the end of mixing
	WaterTemp unit.Temp `json:"water_temp" sym:"T_w" range:"-80 °C..55 °C"`      // water temperature; below 0 °C stands for ice and water
	FlourTemp unit.Temp `json:"flour_temp" sym:"T_f" range:"-40 °C..60 °C"`      // flour temperature
	Room      unit.Temp `json:"room,omitzero" sym:"T_r" range:"-40 °C..60 °C"`   // room temperature; leave out for the two-factor rule
	Third     unit.Temp `json:"third,omitzero" sym:"T_3" range:"-40 °C..60 °C"`  // preferment, starter or soaker, if any
	Fourth    unit.Temp `json:"fourth,omitzero" sym:"T_4" range:"-40 °C..60 °C"` // a second one, if any
}

// FrictionFactorResult is the friction of that batch in both readings.
type FrictionFactorResult struct {
	Once       unit.TempDelta `json:"once" sym:"F"`       // friction factor, taken off once
	PerFactor  unit.TempDelta `json:"per_factor" sym:"r"` // the same as a rise for each factor
	Factors    int            `json:"factors" sym:"N"`    // N, the water included; the figure holds for this N only
	Conditions Conditions     `json:"conditions"`         // friction-negative, outside-source
}

func (FrictionFactor) ID() string { return "friction-factor" }

func (q FrictionFactor) Check(c *reckon.Checks) {
	reckon.CheckTemp(c, "dough_temp", q.DoughTemp, unit.Celsius(-10), hottestReading)
	checkWater(c, q.WaterTemp)
	q.factors().check(c)
}

func (q FrictionFactor) Solve() (out FrictionFactorResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	once, n := q.once()
	out.Once, out.PerFactor, out.Factors = unit.TempDelta(once), unit.TempDelta(once/float64(n)), n
	if out.Once < 0 {
		out.Conditions |= FrictionNegative
	}
	if out.Once < leastFriction || out.Once > mostFriction {
		out.Conditions |= reckon.OutsideSource
	}
	return out, nil
}

func (q FrictionFactor) Show(w *reckon.Working, out FrictionFactorResult) {
	w.Inputs(q)
	q.factors().show(w, out)
	w.Lines(out,
		"friction factor, once: F = N*T_d - S - T_w  [factor rule]",
		"rise in mixing, per factor: r = F / N  [the same friction, shared by the factors]",
	)
}

func (q FrictionFactor) factors() factorTemps {
	return factorTemps{q.FlourTemp, q.Room, q.Third, q.Fourth}
}

// once returns the friction, taken off once, and the number of factors.
func (q FrictionFactor) once() (friction float64, n int) {
	n, sum := q.factors().sum()
	return float64(float64(n)*q.DoughTemp.Celsius()) - sum - q.WaterTemp.Celsius(), n
}
