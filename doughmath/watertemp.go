package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// WaterTemperature asks how warm the water must be for the dough to come out
// of the mixer at the target, by the factor rule:
//
//	T_w = B - (T_f + T_r + T_3 + T_4)
//	B = N*T_d - F
//	F = f if the friction is taken off once, N*f if it is the rise per factor
//
// with N the number of temperatures counted, the water included (2 to 5), B
// the base temperature and F the friction factor. A friction factor measured
// with one N does not carry over to another.
//
// The rule gives every factor the same weight. It is exact only when the
// friction was measured on like batches; [MixingHeat] gives the energy balance.
// A result below freezing is normal and means ice; below -80 °C even all the
// water as ice is not enough. Above 45 °C the water kills yeast that it meets.
//
// Source: J. E. Wihlfahrt, A Treatise on Baking (rule of averages); T. Lehmann,
// Pizza Today, June 2018 (with friction); cases in testdata/cases/doughmath/water-temperature.json.
//
// The inverses are [DoughTemperatureForWater] and [FrictionFactor].
type WaterTemperature struct {
	TargetTemp unit.Temp `json:"target_temp" sym:"T_d" range:"0 °C..45 °C"`       // wanted dough temperature
	FlourTemp  unit.Temp `json:"flour_temp" sym:"T_f" range:"-40 °C..60 °C"`      // flour temperature
	Room       unit.Temp `json:"room,omitzero" sym:"T_r" range:"-40 °C..60 °C"`   // room temperature; leave out for the two-factor rule
	Third      unit.Temp `json:"third,omitzero" sym:"T_3" range:"-40 °C..60 °C"`  // preferment, starter or soaker, if any
	Fourth     unit.Temp `json:"fourth,omitzero" sym:"T_4" range:"-40 °C..60 °C"` // a second one, if any

	Friction unit.TempDelta `json:"friction" sym:"f" range:"-20 C°..60 C°"` // rise through mixing, in the reading named by friction_basis
	Basis    FrictionBasis  `json:"friction_basis"`                         // "once" or "per-factor"
	YeastUse
	WaterSupply
}

// WaterTemperatureResult is the water to use.
type WaterTemperatureResult struct {
	Weigh      WaterWeights    `json:"weigh,omitzero"`       // ice, tap water and hot water, if the water and the tap are given
	WaterTemp  unit.Temp       `json:"water_temp" sym:"T_w"` // may be below freezing: see the conditions and [Ice]
	Factors    int             `json:"factors" sym:"N"`      // N, the water included
	Base       unit.TempDelta  `json:"base" sym:"B"`         // base temperature, what all the factors must add up to
	Conditions Conditions      `json:"conditions"`           // below-freezing, colder-than-all-ice, warm-for-yeast, cold-for-dry-yeast, much-ice, warmer-than-tap
	Cautions   reckon.Cautions `json:"cautions"`             // hot-water, ice-handling, lifting
}

func (WaterTemperature) ID() string { return "water-temperature" }

func (q WaterTemperature) Check(c *reckon.Checks) { q.check(c) }

func (q *WaterTemperature) check(c *reckon.Checks) {
	checkTarget(c, "target_temp", q.TargetTemp)
	q.factors().check(c)
	q.Basis.check(c, q.Friction)
	q.YeastUse.check(c)
	q.WaterSupply.check(c)
}

// Solve has no answer if the water would have to be above 45 °C and meets the
// yeast, above 55 °C whatever the yeast, or below
// absolute zero (-273.15 °C), where the number no longer stands for any water
// or ice. The range that it names reaches from all the water as ice, which
// acts like water of -80 °C, to the hottest water, and it says what flour or room would do.
// With a supply it has no answer either if ice and taps cannot make the water.
func (q WaterTemperature) Solve() (out WaterTemperatureResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *WaterTemperature) SolveInto(out *WaterTemperatureResult) error {
	*out = WaterTemperatureResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	n, sum := q.factors().sum()
	friction := float64(q.Basis.once(q.Friction, n))
	base := float64(float64(n)*q.TargetTemp.Celsius()) - friction
	water := unit.Celsius(base - sum)
	if !q.fits(water) {
		return q.noWater(q.ID(), "a dough of "+q.TargetTemp.String(), water, q.factors().warmer(water.Sub(unit.Celsius(q.hottest()))), func(t float64) string {
			return unit.Celsius((t + sum + friction) / float64(n)).String()
		})
	}
	out.WaterTemp, out.Factors, out.Base = water, n, unit.TempDelta(base)
	out.Conditions, out.Cautions = q.waterConditions(water)
	if !q.given() {
		return nil
	}
	if err := q.weigh(q.ID(), water, &out.Weigh, &out.Conditions, &out.Cautions); err != nil {
		*out = WaterTemperatureResult{}
		return err
	}
	return nil
}

func (q WaterTemperature) Show(w *reckon.Working, out WaterTemperatureResult) {
	w.Inputs(q)
	q.factors().show(w, out)
	w.Lines(out,
		"friction factor: F = "+q.Basis.sheet(),
		"base temperature: B = N*T_d - F"+temps(out.Factors)+"  [what all factors must add up to]",
		"water temperature: T_w = B - S  [factor rule]",
	)
	q.show(w, out.Weigh, "T_w", out.WaterTemp)
}

func (q *WaterTemperature) factors() factorTemps {
	return factorTemps{q.FlourTemp, q.Room, q.Third, q.Fourth}
}

// DoughTemperatureForWater asks how warm the dough will be with the water at
// hand, by the factor rule:
//
//	T_d = (T_w + T_f + T_r + T_3 + T_4 + F) / N
//	F = f if the friction is taken off once, N*f if it is the rise per factor
//
// It is the inverse of [WaterTemperature], with the same validity.
//
// Source: J. E. Wihlfahrt, A Treatise on Baking; common practice with friction.
//
// The inverses are [WaterTemperature] and [FrictionFactor].
type DoughTemperatureForWater struct {
	WaterTemp unit.Temp `json:"water_temp" sym:"T_w" range:"-80 °C..55 °C"`      // water temperature; below 0 °C stands for ice and water; above 45 °C only if it does not meet the yeast
	FlourTemp unit.Temp `json:"flour_temp" sym:"T_f" range:"-40 °C..60 °C"`      // flour temperature
	Room      unit.Temp `json:"room,omitzero" sym:"T_r" range:"-40 °C..60 °C"`   // room temperature; leave out for the two-factor rule
	Third     unit.Temp `json:"third,omitzero" sym:"T_3" range:"-40 °C..60 °C"`  // preferment, starter or soaker, if any
	Fourth    unit.Temp `json:"fourth,omitzero" sym:"T_4" range:"-40 °C..60 °C"` // a second one, if any

	Friction unit.TempDelta `json:"friction" sym:"f" range:"-20 C°..60 C°"` // rise through mixing, in the reading named by friction_basis
	Basis    FrictionBasis  `json:"friction_basis"`                         // "once" or "per-factor"
	YeastUse
}

// DoughTemperatureForWaterResult is the dough to expect.
type DoughTemperatureForWaterResult struct {
	DoughTemp  unit.Temp       `json:"dough_temp" sym:"T_d"` // dough temperature at the end of mixing
	Factors    int             `json:"factors" sym:"N"`      // N, the water included
	Conditions Conditions      `json:"conditions"`           // of the water: below-freezing, warm-for-yeast, cold-for-dry-yeast
	Cautions   reckon.Cautions `json:"cautions"`             // hot-water
}

func (DoughTemperatureForWater) ID() string { return "dough-temperature-for-water" }

func (q DoughTemperatureForWater) Check(c *reckon.Checks) {
	if checkWater(c, q.WaterTemp) {
		q.checkWater(c, "water_temp", q.WaterTemp)
	}
	q.factors().check(c)
	q.Basis.check(c, q.Friction)
	q.check(c)
}

func (q DoughTemperatureForWater) Solve() (out DoughTemperatureForWaterResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n, sum := q.factors().sum()
	friction := float64(q.Basis.once(q.Friction, n))
	out.DoughTemp, out.Factors = unit.Celsius((q.WaterTemp.Celsius()+sum+friction)/float64(n)), n
	out.Conditions, out.Cautions = q.waterConditions(q.WaterTemp)
	return out, nil
}

func (q DoughTemperatureForWater) Show(w *reckon.Working, out DoughTemperatureForWaterResult) {
	w.Inputs(q)
	q.factors().show(w, out)
	w.Lines(out,
		"friction factor: F = "+q.Basis.sheet(),
		"dough temperature: T_d = (T_w + S + F) / N  [factor rule]",
	)
}

func (q DoughTemperatureForWater) factors() factorTemps {
	return factorTemps{q.FlourTemp, q.Room, q.Third, q.Fourth}
}

// checkTarget requires a dough temperature that somebody may be after.
func checkTarget(c *reckon.Checks, field string, t unit.Temp) {
	reckon.CheckTemp(c, field, t, unit.Celsius(0), unit.Celsius(45))
}

// checkWater requires the temperature of water that was used; all of it as ice acts like water of -80 °C.
func checkWater(c *reckon.Checks, t unit.Temp) bool {
	return reckon.CheckTemp(c, "water_temp", t, unit.Celsius(-float64(iceEquivalent)), unit.Celsius(hottestWaterCelsius))
}

// checkWater requires the temperature of water that is to be used.
func (y YeastUse) checkWater(c *reckon.Checks, field string, t unit.Temp) {
	switch hottest := unit.Celsius(y.hottest()); {
	case !hottest.Less(t) || t.Celsius() > hottestReading.Celsius(): // the latter is told as no reading
	case y.meets():
		c.Fail(field, t.String(), "up to "+hottest.String()+", above which water kills yeast that it touches; or keep the yeast out of the water: say which yeast, and the yeast_step that keeps it out")
	default:
		c.Fail(field, t.String(), "up to "+hottest.String()+", above which water scalds flour and hands")
	}
}
