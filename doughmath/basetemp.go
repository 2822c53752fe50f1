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

// BaseTemperature returns the base temperature, the sum that the temperatures
// of water, flour, room and any preferment must make:
//
//	B = N*T_d - F
//
// with N the number of temperatures counted, the water included (2 to 5), and
// F the friction factor. With the friction named per factor, F = N * rise.
//
// A base is a sum of Celsius temperatures; one counted in °F is another number
// for the same thing and is given beside it. A base holds for one formula,
// mixer, time and batch size.
//
// It returns an *[reckon.InputError] if:
//   - target is missing or outside 0 to 45 °C,
//   - factors is outside 2 to 5,
//   - friction is outside -20 to 60 C° or its basis is not named.
//
// Source: the French base-temperature method as bvallejo reports it; cases in
// testdata/cases/doughmath/base-temperature.json.
//
// The inverse is [DoughTemperatureForBase]; [WaterForBase] goes on to the water.
type BaseTemperature struct {
	Target   unit.Temp      `json:"target"`         // wanted dough temperature, 0 to 45 °C
	Factors  int            `json:"factors"`        // N, the number of temperatures counted, the water included, 2 to 5
	Friction unit.TempDelta `json:"friction"`       // rise through mixing, in the reading named by friction_basis, -20 to 60 C°
	Basis    FrictionBasis  `json:"friction_basis"` // "once" or "per-factor"
}

func (BaseTemperature) ID() string { return "base-temperature" }

// SHELL
func (q BaseTemperature) Check(c *reckon.Checks) {
	_, err := explainBaseTemperature(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BaseTemperature) Solve() (BaseTemperatureResult, error) {
	return explainBaseTemperature(q, nil)
}

func (q BaseTemperature) Show(w *reckon.Working, _ BaseTemperatureResult) {
	_, _ = explainBaseTemperature(q, w)
}

// BaseTemperatureResult is the sum that all the factors must make.
type BaseTemperatureResult struct {
	Base       unit.TempDelta `json:"base"`       // sum of the temperatures in °C, the water included
	Fahrenheit float64        `json:"fahrenheit"` // the same sum counted in °F; it is 9/5 of the base and 32 for each factor
}

func explainBaseTemperature(in BaseTemperature, w *reckon.Working) (out BaseTemperatureResult, err error) {
	c := reckon.Checks{Func: "base-temperature"}
	reckon.CheckTemp(&c, "target", in.Target, unit.Celsius(0), unit.Celsius(45))
	reckon.CheckCount(&c, "factors", in.Factors, 2, 5)
	in.Basis.check(&c, in.Friction)
	if err := c.Err(); err != nil {
		return BaseTemperatureResult{}, err
	}
	n := float64(in.Factors)
	friction := in.Basis.once(in.Friction, in.Factors)
	base := float64(n*in.Target.Celsius()) - float64(friction)
	out = BaseTemperatureResult{Base: unit.TempDelta(base), Fahrenheit: baseInFahrenheit(base, n)}
	if w != nil {
		w.Given("dough temperature wanted", "T_d", in.Target.Celsius(), "°C", "")
		w.Given("factors counted, the water included", "N", n, "", "")
		in.Basis.explain(w, in.Friction, in.Factors)
		w.Step("the base counted in °F", "B_F", "(N*T_d - F)*9/5 + 32*N", out.Fahrenheit, "", "each of the N temperatures brings its 32")
		w.Step("base temperature", "B", "N*T_d - F", base, "C°", "sum that all factors must make")
	}
	return out, nil
}

// DoughTemperatureForBase returns the dough temperature that a base stands for:
//
//	T_d = (B + F) / N
//
// It is the inverse of [BaseTemperature], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - base is outside -60 to 240 C°,
//   - factors is outside 2 to 5,
//   - friction is outside -20 to 60 C° or its basis is not named.
//
// Source: the French base-temperature method as bvallejo reports it.
type DoughTemperatureForBase struct {
	Base     unit.TempDelta `json:"base"`           // sum of the temperatures in °C, the water included, -60 to 240 C°
	Factors  int            `json:"factors"`        // N, the number of temperatures counted, the water included, 2 to 5
	Friction unit.TempDelta `json:"friction"`       // rise through mixing, in the reading named by friction_basis, -20 to 60 C°
	Basis    FrictionBasis  `json:"friction_basis"` // "once" or "per-factor"
}

func (DoughTemperatureForBase) ID() string { return "dough-temperature-for-base" }

// SHELL
func (q DoughTemperatureForBase) Check(c *reckon.Checks) {
	_, err := explainDoughTemperatureForBase(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoughTemperatureForBase) Solve() (DoughTemperatureForBaseResult, error) {
	return explainDoughTemperatureForBase(q, nil)
}

func (q DoughTemperatureForBase) Show(w *reckon.Working, _ DoughTemperatureForBaseResult) {
	_, _ = explainDoughTemperatureForBase(q, w)
}

// DoughTemperatureForBaseResult is the dough that the base stands for.
type DoughTemperatureForBaseResult struct {
	Dough unit.Temp `json:"dough"` // dough temperature at the end of mixing
}

func explainDoughTemperatureForBase(in DoughTemperatureForBase, w *reckon.Working) (out DoughTemperatureForBaseResult, err error) {
	c := reckon.Checks{Func: "dough-temperature-for-base"}
	reckon.CheckRange(&c, "base", in.Base, leastBase, mostBase)
	reckon.CheckCount(&c, "factors", in.Factors, 2, 5)
	in.Basis.check(&c, in.Friction)
	if err := c.Err(); err != nil {
		return DoughTemperatureForBaseResult{}, err
	}
	n := float64(in.Factors)
	friction := in.Basis.once(in.Friction, in.Factors)
	out = DoughTemperatureForBaseResult{Dough: unit.Celsius(float64(in.Base+friction) / n)}
	if w != nil {
		w.Given("base temperature", "B", float64(in.Base), "C°", "")
		w.Given("factors counted, the water included", "N", n, "", "")
		in.Basis.explain(w, in.Friction, in.Factors)
		w.Step("dough temperature", "T_d", "(B + F) / N", out.Dough.Celsius(), "°C", "factor rule")
	}
	return out, nil
}

// WaterForBase returns the water temperature that makes up a base temperature:
//
//	T_w = B - (T_f + T_r + ...)
//
// The temperatures counted must be those that the base was made with. A result
// below freezing is normal and means ice.
//
// It returns an *[reckon.InputError] if:
//   - base is outside -60 to 240 C°,
//   - a temperature given is outside -40 to 60 °C, or flour is missing.
//
// It returns a *[reckon.NoSolutionError] if the water would have to be above 55 °C, or
// below absolute zero.
//
// Source: the French base-temperature method as bvallejo reports it; cases in
// testdata/cases/doughmath/water-for-base.json.
//
// The base comes from [BaseTemperature] or [BaseCorrection]. The inverse is [BaseForWater].
type WaterForBase struct {
	Base   unit.TempDelta `json:"base"`            // sum of the temperatures in °C, the water included, -60 to 240 C°
	Flour  unit.Temp      `json:"flour"`           // flour temperature, -40 to 60 °C
	Room   unit.Temp      `json:"room,omitzero"`   // room temperature, -40 to 60 °C; leave out if the base was made without it
	Third  unit.Temp      `json:"third,omitzero"`  // preferment, starter or soaker, if any, -40 to 60 °C
	Fourth unit.Temp      `json:"fourth,omitzero"` // a second one, if any, -40 to 60 °C
}

func (WaterForBase) ID() string { return "water-for-base" }

// SHELL
func (q WaterForBase) Check(c *reckon.Checks) {
	_, err := explainWaterForBase(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WaterForBase) Solve() (WaterForBaseResult, error) { return explainWaterForBase(q, nil) }

func (q WaterForBase) Show(w *reckon.Working, _ WaterForBaseResult) { _, _ = explainWaterForBase(q, w) }

// WaterForBaseResult is the water to use.
type WaterForBaseResult struct {
	Water      unit.Temp       `json:"water"`      // may be below freezing: see the conditions and [Ice]
	Factors    int             `json:"factors"`    // N, the water included; the base must have been made with the same
	Conditions Conditions      `json:"conditions"` // below-freezing, colder-than-all-ice, warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`   // hot-water
}

func explainWaterForBase(in WaterForBase, w *reckon.Working) (out WaterForBaseResult, err error) {
	c := reckon.Checks{Func: "water-for-base"}
	reckon.CheckRange(&c, "base", in.Base, leastBase, mostBase)
	factors := factorTemps{in.Flour, in.Room, in.Third, in.Fourth}
	factors.check(&c)
	if err := c.Err(); err != nil {
		return WaterForBaseResult{}, err
	}
	n, sum := factors.known()
	out = WaterForBaseResult{Water: unit.Celsius(float64(in.Base) - sum), Factors: n}
	out.Conditions, out.Cautions = waterConditions(out.Water)
	if w != nil {
		w.Given("base temperature", "B", float64(in.Base), "C°", "")
		factors.explain(w, n)
		w.Step("water temperature", "T_w", "B - S", out.Water.Celsius(), "°C", "base temperature less the known temperatures")
	}
	if out.Water.Celsius() < -unit.KelvinAtZeroCelsius {
		return WaterForBaseResult{}, tooCold(c.Func, "a base of "+in.Base.String(), out.Water, unit.TempDelta(sum-float64(iceEquivalent)), unit.TempDelta(yeastRefusalCelsius+sum))
	}
	if out.Water.Celsius() > yeastRefusalCelsius {
		return WaterForBaseResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "safe water temperature",
			Wanted: "a base of " + in.Base.String(), High: unit.TempDelta(yeastRefusalCelsius + sum).String(),
			Advice: "water of " + out.Water.String() + " would kill the yeast; warm the flour or the room, or mix longer",
		}
	}
	return out, nil
}

// BaseForWater returns the base temperature that a batch had:
//
//	B = T_w + T_f + T_r + ...
//
// Keep it from a batch whose dough came out right, and use it for the next. It
// is the inverse of [WaterForBase], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - water is missing or outside -80 to 55 °C,
//   - another temperature given is outside -40 to 60 °C, or flour is missing.
//
// Source: the French base-temperature method as bvallejo reports it; cases in
// testdata/cases/doughmath/base-for-water.json.
type BaseForWater struct {
	Water  unit.Temp `json:"water"`           // water temperature; below 0 °C stands for ice and water; -80 to 55 °C
	Flour  unit.Temp `json:"flour"`           // flour temperature, -40 to 60 °C
	Room   unit.Temp `json:"room,omitzero"`   // room temperature, -40 to 60 °C; leave out for a base without it
	Third  unit.Temp `json:"third,omitzero"`  // preferment, starter or soaker, if any, -40 to 60 °C
	Fourth unit.Temp `json:"fourth,omitzero"` // a second one, if any, -40 to 60 °C
}

func (BaseForWater) ID() string { return "base-for-water" }

// SHELL
func (q BaseForWater) Check(c *reckon.Checks) {
	_, err := explainBaseForWater(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BaseForWater) Solve() (BaseForWaterResult, error) { return explainBaseForWater(q, nil) }

func (q BaseForWater) Show(w *reckon.Working, _ BaseForWaterResult) { _, _ = explainBaseForWater(q, w) }

// BaseForWaterResult is the base that the batch had.
type BaseForWaterResult struct {
	Base       unit.TempDelta  `json:"base"`       // sum of the temperatures in °C, the water included
	Fahrenheit float64         `json:"fahrenheit"` // the same sum counted in °F; it is 9/5 of the base and 32 for each factor
	Factors    int             `json:"factors"`    // N, the water included; the base holds for this N only
	Conditions Conditions      `json:"conditions"` // of the water: below-freezing, warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`   // hot-water
}

func explainBaseForWater(in BaseForWater, w *reckon.Working) (out BaseForWaterResult, err error) {
	c := reckon.Checks{Func: "base-for-water"}
	reckon.CheckTemp(&c, "water", in.Water, unit.Celsius(-float64(iceEquivalent)), unit.Celsius(yeastRefusalCelsius))
	factors := factorTemps{in.Flour, in.Room, in.Third, in.Fourth}
	factors.check(&c)
	if err := c.Err(); err != nil {
		return BaseForWaterResult{}, err
	}
	n, sum := factors.known()
	base := in.Water.Celsius() + sum
	out = BaseForWaterResult{Base: unit.TempDelta(base), Fahrenheit: baseInFahrenheit(base, float64(n)), Factors: n}
	out.Conditions, out.Cautions = waterConditions(in.Water)
	if w != nil {
		w.Given("water temperature", "T_w", in.Water.Celsius(), "°C", "")
		factors.explain(w, n)
		w.Step("the base counted in °F", "B_F", "(T_w + S)*9/5 + 32*N", out.Fahrenheit, "", "each of the N temperatures brings its 32")
		w.Step("base temperature", "B", "T_w + S", base, "C°", "sum of all the factors")
	}
	return out, nil
}

// baseInFahrenheit returns a base as a person counts it who adds up n temperatures in °F.
func baseInFahrenheit(base, n float64) float64 {
	return float64(base*9)/5 + float64(unit.FahrenheitAtFreezing*n)
}

// BaseCorrection returns the base and the water temperature after a batch that
// came out too warm or too cold:
//
//	D = N*(T_wanted - T_got),  B' = B + D,  T_w' = T_w + D
//
// so that with three factors the water changes by 3 degrees for each degree of
// the dough. It holds for the same formula, mixer, time and batch size, and if
// flour and room stay as they were. It is a rule, not a balance: a wet dough
// answers more to its water (T. Lehmann: 2.5 degrees of water for one of dough),
// so take the temperature of the next batch too.
//
// It returns an *[reckon.InputError] if:
//   - base is outside -60 to 240 C°,
//   - factors is outside 2 to 5,
//   - water is missing or outside -80 to 55 °C,
//   - wanted is missing or outside 0 to 45 °C, or got is missing or outside 0 to 60 °C.
//
// It returns a *[reckon.NoSolutionError] if the water would have to be above 55 °C, or
// below absolute zero.
//
// Source: essay "Como obtener la temperatura ideal en una masa para pan" (2018); cases in
// testdata/cases/doughmath/base-correction.json.
//
// Its own inverse is itself with wanted and got exchanged.
type BaseCorrection struct {
	Base    unit.TempDelta `json:"base"`    // base that the last batch was made with, -60 to 240 C°
	Factors int            `json:"factors"` // N, the number of temperatures counted, the water included, 2 to 5
	Water   unit.Temp      `json:"water"`   // water of the last batch; below 0 °C stands for ice and water; -80 to 55 °C
	Wanted  unit.Temp      `json:"wanted"`  // dough temperature wanted, 0 to 45 °C
	Got     unit.Temp      `json:"got"`     // dough temperature that came out, 0 to 60 °C
}

func (BaseCorrection) ID() string { return "base-correction" }

// SHELL
func (q BaseCorrection) Check(c *reckon.Checks) {
	_, err := explainBaseCorrection(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BaseCorrection) Solve() (BaseCorrectionResult, error) { return explainBaseCorrection(q, nil) }

func (q BaseCorrection) Show(w *reckon.Working, _ BaseCorrectionResult) {
	_, _ = explainBaseCorrection(q, w)
}

// BaseCorrectionResult is the base and the water for the next batch.
type BaseCorrectionResult struct {
	Base       unit.TempDelta  `json:"base"`       // base to keep for this dough
	Water      unit.Temp       `json:"water"`      // water for the next batch if flour, room and the rest stay as they were
	Change     unit.TempDelta  `json:"change"`     // how much warmer the water is than before
	Conditions Conditions      `json:"conditions"` // below-freezing, colder-than-all-ice, warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`   // hot-water
}

func explainBaseCorrection(in BaseCorrection, w *reckon.Working) (out BaseCorrectionResult, err error) {
	c := reckon.Checks{Func: "base-correction"}
	reckon.CheckRange(&c, "base", in.Base, leastBase, mostBase)
	reckon.CheckCount(&c, "factors", in.Factors, 2, 5)
	reckon.CheckTemp(&c, "water", in.Water, unit.Celsius(-float64(iceEquivalent)), unit.Celsius(yeastRefusalCelsius))
	reckon.CheckTemp(&c, "wanted", in.Wanted, unit.Celsius(0), unit.Celsius(45))
	reckon.CheckTemp(&c, "got", in.Got, unit.Celsius(0), hottestReading)
	if err := c.Err(); err != nil {
		return BaseCorrectionResult{}, err
	}
	n := float64(in.Factors)
	change := n * (in.Wanted.Celsius() - in.Got.Celsius())
	out = BaseCorrectionResult{Base: in.Base + unit.TempDelta(change), Water: in.Water.Add(unit.TempDelta(change)), Change: unit.TempDelta(change)}
	out.Conditions, out.Cautions = waterConditions(out.Water)
	if w != nil {
		w.Given("base temperature of the last batch", "B", float64(in.Base), "C°", "")
		w.Given("factors counted, the water included", "N", n, "", "")
		w.Given("dough temperature wanted", "T_wanted", in.Wanted.Celsius(), "°C", "")
		w.Given("dough temperature that came out", "T_got", in.Got.Celsius(), "°C", "")
		w.Given("water temperature of the last batch", "T_w", in.Water.Celsius(), "°C", "")
		w.Step("change of the water", "D", "N*(T_wanted - T_got)", change, "C°", "factor rule")
		w.Step("base temperature from now on", "B_1", "B + D", float64(out.Base), "C°", "")
		w.Step("water temperature for the next batch", "T_w1", "T_w + D", out.Water.Celsius(), "°C", "")
	}
	if out.Water.Celsius() < -unit.KelvinAtZeroCelsius {
		reach := func(water float64) unit.Temp { return unit.Celsius(in.Got.Celsius() + (water-in.Water.Celsius())/n) }
		return BaseCorrectionResult{}, tooCold(c.Func, "a dough of "+in.Wanted.String(), out.Water, reach(-float64(iceEquivalent)), reach(yeastRefusalCelsius))
	}
	if out.Water.Celsius() > yeastRefusalCelsius {
		return BaseCorrectionResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "safe water temperature",
			Wanted: "a dough of " + in.Wanted.String(), High: unit.Celsius(in.Got.Celsius() + (yeastRefusalCelsius-in.Water.Celsius())/n).String(),
			Advice: "water of " + out.Water.String() + " would kill the yeast; warm the flour or the room, or mix longer",
		}
	}
	return out, nil
}
