package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The range of a base temperature: five factors of 45 °C, and room to spare.
const (
	leastBase unit.TempDelta = -60
	mostBase  unit.TempDelta = 240
)

// The number of temperatures that the factor rule may count, the water included.
const (
	leastFactors = 2
	mostFactors  = 5
)

// baseInFahrenheit returns a base as a person counts it who adds up n temperatures in °F.
func baseInFahrenheit(base, n float64) float64 {
	return float64(base*9)/5 + float64(unit.FahrenheitAtFreezing*n)
}

// BaseTemperature asks for the base temperature, which is what the temperatures
// of water, flour, room and any preferment must add up to:
//
//	B = N*T_d - F
//	F = f if the friction is taken off once, N*f if it is the rise per factor
//	B_F = B*9/5 + 32*N
//
// with N the number of temperatures counted, the water included, and F the
// friction factor.
//
// A base is a sum of Celsius temperatures; one counted in °F is another number
// for the same thing and is given beside it as B_F. A base holds for one
// formula, mixer, time and batch size.
//
// Source: the French base-temperature method as bvallejo reports it; cases in
// testdata/cases/doughmath/base-temperature.json.
//
// The inverse is [DoughTemperatureForBase]; [WaterForBase] goes on to the water.
type BaseTemperature struct {
	TargetTemp unit.Temp      `json:"target_temp" sym:"T_d" range:"0 °C..45 °C"` // wanted dough temperature
	Factors    int            `json:"factors" sym:"N" range:"2..5"`              // the number of temperatures counted, the water included
	Friction   unit.TempDelta `json:"friction" sym:"f" range:"-20 C°..60 C°"`    // rise through mixing, in the reading named by friction_basis
	Basis      FrictionBasis  `json:"friction_basis"`                            // "once" or "per-factor"
}

// BaseTemperatureResult is what all the factors must add up to.
type BaseTemperatureResult struct {
	Base       unit.TempDelta `json:"base" sym:"B"`         // sum of the temperatures in °C, the water included
	Fahrenheit float64        `json:"fahrenheit" sym:"B_F"` // the same sum counted in °F; it is 9/5 of the base and 32 for each factor
}

func (BaseTemperature) ID() string { return "base-temperature" }

func (q BaseTemperature) Check(c *reckon.Checks) {
	checkTarget(c, "target_temp", q.TargetTemp)
	reckon.CheckCount(c, "factors", q.Factors, leastFactors, mostFactors)
	q.Basis.check(c, q.Friction)
}

func (q BaseTemperature) Solve() (out BaseTemperatureResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n := float64(q.Factors)
	base := float64(n*q.TargetTemp.Celsius()) - float64(q.Basis.once(q.Friction, q.Factors))
	out.Base, out.Fahrenheit = unit.TempDelta(base), baseInFahrenheit(base, n)
	return out, nil
}

func (q BaseTemperature) Show(w *reckon.Working, out BaseTemperatureResult) {
	w.Inputs(q)
	w.Lines(out,
		"friction factor: F = "+q.Basis.sheet(),
		"base temperature: B = N*T_d - F  [what all factors must add up to]",
		"the base counted in °F: B_F = B*9/5 + 32*N  [each of the N temperatures brings its 32]",
	)
}

// DoughTemperatureForBase asks what dough temperature a base temperature gives:
//
//	T_d = (B + F) / N
//	F = f if the friction is taken off once, N*f if it is the rise per factor
//
// It is the inverse of [BaseTemperature], with the same validity.
//
// Source: the French base-temperature method as bvallejo reports it.
//
// The inverse is [BaseTemperature].
type DoughTemperatureForBase struct {
	Base     unit.TempDelta `json:"base" sym:"B" range:"-60 C°..240 C°"`    // sum of the temperatures in °C, the water included
	Factors  int            `json:"factors" sym:"N" range:"2..5"`           // the number of temperatures counted, the water included
	Friction unit.TempDelta `json:"friction" sym:"f" range:"-20 C°..60 C°"` // rise through mixing, in the reading named by friction_basis
	Basis    FrictionBasis  `json:"friction_basis"`                         // "once" or "per-factor"
}

// DoughTemperatureForBaseResult is the dough that the base gives.
type DoughTemperatureForBaseResult struct {
	DoughTemp unit.Temp `json:"dough_temp" sym:"T_d"` // dough temperature at the end of mixing
}

func (DoughTemperatureForBase) ID() string { return "dough-temperature-for-base" }

func (q DoughTemperatureForBase) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "base", q.Base, leastBase, mostBase)
	reckon.CheckCount(c, "factors", q.Factors, leastFactors, mostFactors)
	q.Basis.check(c, q.Friction)
}

func (q DoughTemperatureForBase) Solve() (out DoughTemperatureForBaseResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.DoughTemp = unit.Celsius(float64(q.Base+q.Basis.once(q.Friction, q.Factors)) / float64(q.Factors))
	return out, nil
}

func (q DoughTemperatureForBase) Show(w *reckon.Working, out DoughTemperatureForBaseResult) {
	w.Inputs(q)
	w.Lines(out,
		"friction factor: F = "+q.Basis.sheet(),
		"dough temperature: T_d = (B + F) / N  [factor rule]",
	)
}

// WaterForBase asks how warm the water must be to make the base temperature:
//
//	T_w = B - (T_f + T_r + T_3 + T_4)
//	N = 1 + the number of temperatures that are given
//
// The temperatures counted must be those that the base was made with, so N is
// that of the base. A result below freezing is normal and means ice.
//
// Source: the French base-temperature method as bvallejo reports it; cases in
// testdata/cases/doughmath/water-for-base.json.
//
// The base comes from [BaseTemperature] or [BaseCorrection]. The inverse is [BaseForWater].
type WaterForBase struct {
	Base      unit.TempDelta `json:"base" sym:"B" range:"-60 C°..240 C°"`             // sum of the temperatures in °C, the water included
	FlourTemp unit.Temp      `json:"flour_temp" sym:"T_f" range:"-40 °C..60 °C"`      // flour temperature
	Room      unit.Temp      `json:"room,omitzero" sym:"T_r" range:"-40 °C..60 °C"`   // room temperature; leave out if the base was made without it
	Third     unit.Temp      `json:"third,omitzero" sym:"T_3" range:"-40 °C..60 °C"`  // preferment, starter or soaker, if any
	Fourth    unit.Temp      `json:"fourth,omitzero" sym:"T_4" range:"-40 °C..60 °C"` // a second one, if any
	YeastUse
	WaterSupply
}

// WaterForBaseResult is the water to use.
type WaterForBaseResult struct {
	Weigh      WaterWeights    `json:"weigh,omitzero"`       // ice, tap water and hot water, if the water and the tap are given
	WaterTemp  unit.Temp       `json:"water_temp" sym:"T_w"` // may be below freezing: see the conditions and [Ice]
	Factors    int             `json:"factors" sym:"N"`      // N, the water included; the base must have been made with the same
	Conditions Conditions      `json:"conditions"`           // below-freezing, colder-than-all-ice, warm-for-yeast, cold-for-dry-yeast, much-ice, warmer-than-tap
	Cautions   reckon.Cautions `json:"cautions"`             // hot-water, ice-handling, lifting
}

func (WaterForBase) ID() string { return "water-for-base" }

func (q WaterForBase) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "base", q.Base, leastBase, mostBase)
	q.factors().check(c)
	q.YeastUse.check(c)
	q.WaterSupply.check(c)
}

// Solve has no answer if the water would have to be above 45 °C and meets the
// yeast, above 55 °C whatever the yeast, or below absolute zero. It says what flour or room would do.
func (q WaterForBase) Solve() (out WaterForBaseResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n, sum := q.factors().sum()
	water := unit.Celsius(float64(q.Base) - sum)
	if !q.fits(water) {
		return out, q.noWater(q.ID(), "a base of "+q.Base.String(), water, q.factors().warmer(water.Sub(unit.Celsius(q.hottest()))), func(t float64) string {
			return unit.TempDelta(t + sum).String()
		})
	}
	out.WaterTemp, out.Factors = water, n
	out.Conditions, out.Cautions = q.waterConditions(water)
	if err = q.weigh(q.ID(), water, &out.Weigh, &out.Conditions, &out.Cautions); err != nil {
		return WaterForBaseResult{}, err
	}
	return out, nil
}

func (q WaterForBase) Show(w *reckon.Working, out WaterForBaseResult) {
	w.Inputs(q)
	q.factors().show(w, out)
	w.Lines(out, "water temperature: T_w = B - S  [base temperature less the known temperatures]")
	q.show(w, out.Weigh, "T_w", out.WaterTemp)
}

func (q WaterForBase) factors() factorTemps {
	return factorTemps{q.FlourTemp, q.Room, q.Third, q.Fourth}
}

// BaseForWater asks what base temperature a batch had:
//
//	B = T_w + T_f + T_r + T_3 + T_4
//	B_F = B*9/5 + 32*N
//
// with N the number of temperatures counted, the water included, and B_F the
// base counted in °F. Keep the base of a batch whose dough came out right, and
// use it for the next. It is the inverse of [WaterForBase], with the same validity.
//
// Source: the French base-temperature method as bvallejo reports it; cases in
// testdata/cases/doughmath/base-for-water.json.
//
// The inverse is [WaterForBase].
type BaseForWater struct {
	WaterTemp unit.Temp `json:"water_temp" sym:"T_w" range:"-80 °C..55 °C"`      // water temperature; below 0 °C stands for ice and water
	FlourTemp unit.Temp `json:"flour_temp" sym:"T_f" range:"-40 °C..60 °C"`      // flour temperature
	Room      unit.Temp `json:"room,omitzero" sym:"T_r" range:"-40 °C..60 °C"`   // room temperature; leave out for a base without it
	Third     unit.Temp `json:"third,omitzero" sym:"T_3" range:"-40 °C..60 °C"`  // preferment, starter or soaker, if any
	Fourth    unit.Temp `json:"fourth,omitzero" sym:"T_4" range:"-40 °C..60 °C"` // a second one, if any
}

// BaseForWaterResult is the base that the batch had.
type BaseForWaterResult struct {
	Base       unit.TempDelta  `json:"base" sym:"B"`         // sum of the temperatures in °C, the water included
	Fahrenheit float64         `json:"fahrenheit" sym:"B_F"` // the same sum counted in °F; it is 9/5 of the base and 32 for each factor
	Factors    int             `json:"factors" sym:"N"`      // N, the water included; the base holds for this N only
	Conditions Conditions      `json:"conditions"`           // of the water: below-freezing, warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`             // hot-water
}

func (BaseForWater) ID() string { return "base-for-water" }

func (q BaseForWater) Check(c *reckon.Checks) {
	checkWater(c, q.WaterTemp)
	q.factors().check(c)
}

func (q BaseForWater) Solve() (out BaseForWaterResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n, sum := q.factors().sum()
	base := q.WaterTemp.Celsius() + sum
	out.Base, out.Fahrenheit, out.Factors = unit.TempDelta(base), baseInFahrenheit(base, float64(n)), n
	out.Conditions, out.Cautions = YeastUse{}.waterConditions(q.WaterTemp)
	return out, nil
}

func (q BaseForWater) Show(w *reckon.Working, out BaseForWaterResult) {
	w.Inputs(q)
	q.factors().show(w, out)
	w.Lines(out,
		"base temperature: B = T_w + S  [sum of all the factors]",
		"the base counted in °F: B_F = B*9/5 + 32*N  [each of the N temperatures brings its 32]",
	)
}

func (q BaseForWater) factors() factorTemps {
	return factorTemps{q.FlourTemp, q.Room, q.Third, q.Fourth}
}

// BaseCorrection asks what base and what water to use after a batch that came
// out too warm or too cold:
//
//	D = N*(T_wanted - T_got),  B_1 = B + D,  T_w1 = T_w + D
//
// so that with three factors the water changes by 3 degrees for each degree of
// the dough. It holds for the same formula, mixer, time and batch size, and if
// flour and room stay as they were. It is a rule, not a balance: a wet dough
// answers more to its water (T. Lehmann: 2.5 degrees of water for one of dough),
// so take the temperature of the next batch too.
//
// Source: essay "Como obtener la temperatura ideal en una masa para pan" (2018); cases in
// testdata/cases/doughmath/base-correction.json.
//
// It is its own inverse, with target_temp and got_temp exchanged.
type BaseCorrection struct {
	Base       unit.TempDelta `json:"base" sym:"B" range:"-60 C°..240 C°"`            // base that the last batch was made with
	Factors    int            `json:"factors" sym:"N" range:"2..5"`                   // the number of temperatures counted, the water included
	WaterTemp  unit.Temp      `json:"water_temp" sym:"T_w" range:"-80 °C..55 °C"`     // water of the last batch; below 0 °C stands for ice and water
	TargetTemp unit.Temp      `json:"target_temp" sym:"T_wanted" range:"0 °C..45 °C"` // dough temperature wanted
	GotTemp    unit.Temp      `json:"got_temp" sym:"T_got" range:"0 °C..60 °C"`       // dough temperature that came out
	YeastUse
	WaterSupply
}

// BaseCorrectionResult is the base and the water for the next batch.
type BaseCorrectionResult struct {
	Weigh      WaterWeights    `json:"weigh,omitzero"`        // ice, tap water and hot water, if the water and the tap are given
	Base       unit.TempDelta  `json:"base" sym:"B_1"`        // base to keep for this dough
	WaterTemp  unit.Temp       `json:"water_temp" sym:"T_w1"` // water for the next batch if flour, room and the rest stay as they were
	Change     unit.TempDelta  `json:"change" sym:"D"`        // how much warmer the water is than before
	Conditions Conditions      `json:"conditions"`            // below-freezing, colder-than-all-ice, warm-for-yeast, cold-for-dry-yeast, much-ice, warmer-than-tap
	Cautions   reckon.Cautions `json:"cautions"`              // hot-water, ice-handling, lifting
}

func (BaseCorrection) ID() string { return "base-correction" }

func (q BaseCorrection) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "base", q.Base, leastBase, mostBase)
	reckon.CheckCount(c, "factors", q.Factors, leastFactors, mostFactors)
	checkWater(c, q.WaterTemp)
	checkTarget(c, "target_temp", q.TargetTemp)
	reckon.CheckTemp(c, "got_temp", q.GotTemp, unit.Celsius(0), hottestReading)
	q.YeastUse.check(c)
	q.WaterSupply.check(c)
}

// Solve has no answer if the water would have to be above 45 °C and meets the
// yeast, above 55 °C whatever the yeast, or below absolute zero.
func (q BaseCorrection) Solve() (out BaseCorrectionResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n := float64(q.Factors)
	change := unit.TempDelta(n * (q.TargetTemp.Celsius() - q.GotTemp.Celsius()))
	water := q.WaterTemp.Add(change)
	if !q.fits(water) {
		short := water.Sub(unit.Celsius(q.hottest()))
		return out, q.noWater(q.ID(), "a dough of "+q.TargetTemp.String(), water, "flour or room "+short.String()+" warmer would do", func(t float64) string {
			return unit.Celsius(q.GotTemp.Celsius() + (t-q.WaterTemp.Celsius())/n).String()
		})
	}
	out.Base, out.WaterTemp, out.Change = q.Base+change, water, change
	out.Conditions, out.Cautions = q.waterConditions(water)
	if err = q.weigh(q.ID(), water, &out.Weigh, &out.Conditions, &out.Cautions); err != nil {
		return BaseCorrectionResult{}, err
	}
	return out, nil
}

func (q BaseCorrection) Show(w *reckon.Working, out BaseCorrectionResult) {
	w.Inputs(q)
	w.Lines(out,
		"change of the water: D = N*(T_wanted - T_got)  [factor rule]",
		"base temperature from now on: B_1 = B + D",
		"water temperature for the next batch: T_w1 = T_w + D",
	)
	q.show(w, out.Weigh, "T_w1", out.WaterTemp)
}
