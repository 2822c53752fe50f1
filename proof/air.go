package proof

import (
	"math"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

const (
	// massRatio is the molar mass of water over that of dry air.
	// Source: ASHRAE Handbook-Fundamentals 2017, chapter 1.
	massRatio = 0.621945
	// freezingCelsius is where the saturation line changes from ice to water: the triple point.
	freezingCelsius = 0.01
)

// The ranges in which the air is taken at its word: cold store to steam-heated
// proofer, mountain top to below sea level.
var (
	coldestAir = unit.Celsius(0)
	hottestAir = unit.Celsius(90)
)

const (
	lowestPressure  unit.Pressure = 60
	highestPressure unit.Pressure = 110
)

// saturation returns the pressure of water vapour over water, or over ice
// below 0.01 °C, in kPa.
//
// Source: R. W. Hyland, A. Wexler, ASHRAE Transactions 89 (1983), as equations
// 5 and 6 of ASHRAE Handbook-Fundamentals 2017, chapter 1; -100 to 200 °C.
func saturation(celsius float64) float64 {
	t := celsius + 273.15
	if celsius <= freezingCelsius {
		return math.Exp(-5.6745359e3/t+6.3925247+float64(-9.677843e-3*t)+float64(6.2215701e-7*t*t)+
			float64(2.0747825e-9*t*t*t)+float64(-9.484024e-13*t*t*t*t)+float64(4.1635019*math.Log(t))) / 1000
	}
	return math.Exp(-5.8002206e3/t+1.3914993+float64(-4.8640239e-2*t)+float64(4.1764768e-5*t*t)+
		float64(-1.4452093e-8*t*t*t)+float64(6.5459673*math.Log(t))) / 1000
}

// saturationText is the liquid branch of saturation for a working.
const saturationText = "exp(-5800.2206/(%+273.15) + 1.3914993 - 0.048640239*(%+273.15) + 0.000041764768*pow(%+273.15, 2)" +
	" - 0.000000014452093*pow(%+273.15, 3) + 6.5459673*ln(%+273.15)) / 1000"

// iceText is the ice branch.
const iceText = "exp(-5674.5359/(%+273.15) + 6.3925247 - 0.009677843*(%+273.15) + 0.00000062215701*pow(%+273.15, 2)" +
	" + 0.0000000020747825*pow(%+273.15, 3) - 0.0000000000009484024*pow(%+273.15, 4) + 4.1635019*ln(%+273.15)) / 1000"

// saturated returns the temperature at which vapour of the given pressure is saturated.
func saturated(kPa float64) (celsius float64, ok bool) {
	return reckon.Bisect(-100, 200, func(t float64) float64 { return saturation(t) - kPa })
}

// humidityRatio returns kg water per kg of dry air.
func humidityRatio(vapour, pressure float64) float64 { return massRatio * vapour / (pressure - vapour) }

// wetBulbRatio returns the humidity ratio of air of the given temperature
// whose wet bulb reads wet.
//
// Source: ASHRAE Handbook-Fundamentals 2017, chapter 1, equations 33 and 35.
func wetBulbRatio(dry, wet, pressure float64) float64 {
	ws := humidityRatio(saturation(wet), pressure)
	if wet > freezingCelsius {
		return (float64((2501-float64(2.326*wet))*ws) - float64(1.006*(dry-wet))) / (2501 + float64(1.86*dry) - float64(4.186*wet))
	}
	return (float64((2830-float64(0.24*wet))*ws) - float64(1.006*(dry-wet))) / (2830 + float64(1.86*dry) - float64(2.1*wet))
}

// SaturationPressure returns the pressure of water vapour that is in balance
// with water:
//
//	ln p_ws = C1/T + C2 + C3*T + C4*T^2 + C5*T^3 + C6*ln T, T in K, p_ws in Pa
//
// and with ice, by a like formula, below 0.01 °C. Valid from -100 to 200 °C.
//
// It returns an *[reckon.InputError] if:
//   - temp is missing or outside -100 to 200 °C.
//
// Source: R. W. Hyland, A. Wexler, ASHRAE Transactions 89 (1983), in ASHRAE
// Handbook-Fundamentals 2017, chapter 1.
//
// The inverse is [TemperatureForSaturation].
type SaturationPressure struct {
	Temp unit.Temp `json:"temp"` // -100 to 200 °C
}

func (SaturationPressure) ID() string { return "saturation-pressure" }

// SHELL
func (q SaturationPressure) Check(c *reckon.Checks) {
	_, err := explainSaturationPressure(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SaturationPressure) Solve() (SaturationPressureResult, error) {
	return explainSaturationPressure(q, nil)
}

func (q SaturationPressure) Show(w *reckon.Working, _ SaturationPressureResult) {
	_, _ = explainSaturationPressure(q, w)
}

// SaturationPressureResult is the most vapour that air can hold there.
type SaturationPressureResult struct {
	Pressure   unit.Pressure `json:"pressure"`   // of the vapour over water, or over ice below 0.01 °C
	Conditions Conditions    `json:"conditions"` // below-freezing
}

func explainSaturationPressure(in SaturationPressure, w *reckon.Working) (out SaturationPressureResult, err error) {
	c := reckon.Checks{Func: "saturation-pressure"}
	reckon.CheckTemp(&c, "temp", in.Temp, unit.Celsius(-100), unit.Celsius(200))
	if err := c.Err(); err != nil {
		return SaturationPressureResult{}, err
	}
	out = SaturationPressureResult{Pressure: unit.Kilopascals(saturation(in.Temp.Celsius()))}
	if in.Temp.Celsius() <= freezingCelsius {
		out.Conditions |= BelowFreezing
	}
	if w != nil {
		w.Given("temperature", "t", in.Temp.Celsius(), "°C", "")
		explainSaturation(w, "saturation pressure", "p_ws", "t", in.Temp.Celsius())
	}
	return out, nil
}

// explainSaturation records the saturation pressure at the temperature called symbol.
func explainSaturation(w *reckon.Working, id, name, symbol string, celsius float64) {
	text := saturationText
	if celsius <= freezingCelsius {
		text = iceText
	}
	w.Step(id, name, strings.ReplaceAll(text, "%", symbol), saturation(celsius), "kPa", "Hyland and Wexler")
}

// TemperatureForSaturation returns the dew point of a vapour pressure, the
// temperature t with
//
//	p_ws(t) = p
//
// It is the inverse of [SaturationPressure], found by bisection, with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - pressure is outside 0.0000015 to 1550 kPa.
//
// Source: as for [SaturationPressure].
type TemperatureForSaturation struct {
	Pressure unit.Pressure `json:"pressure"` // of the vapour, that at -100 °C to that at 200 °C: 0.0000015 to 1550 kPa
}

func (TemperatureForSaturation) ID() string { return "temperature-for-saturation" }

// SHELL
func (q TemperatureForSaturation) Check(c *reckon.Checks) {
	_, err := explainTemperatureForSaturation(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TemperatureForSaturation) Solve() (TemperatureForSaturationResult, error) {
	return explainTemperatureForSaturation(q, nil)
}

func (q TemperatureForSaturation) Show(w *reckon.Working, _ TemperatureForSaturationResult) {
	_, _ = explainTemperatureForSaturation(q, w)
}

// TemperatureForSaturationResult is where it condenses.
type TemperatureForSaturationResult struct {
	Temp       unit.Temp  `json:"temp"`       // dew point, or frost point below 0.01 °C
	Conditions Conditions `json:"conditions"` // below-freezing
}

func explainTemperatureForSaturation(in TemperatureForSaturation, w *reckon.Working) (out TemperatureForSaturationResult, err error) {
	c := reckon.Checks{Func: "temperature-for-saturation"}
	reckon.CheckRange(&c, "pressure", in.Pressure, 1.5e-6, 1550)
	if err := c.Err(); err != nil {
		return TemperatureForSaturationResult{}, err
	}
	t, ok := saturated(float64(in.Pressure))
	if !ok {
		return TemperatureForSaturationResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "dew point", Wanted: in.Pressure.String(), Low: "0.0000015 kPa", High: "1550 kPa",
		}
	}
	out = TemperatureForSaturationResult{Temp: unit.Celsius(t)}
	if t <= freezingCelsius {
		out.Conditions |= BelowFreezing
	}
	if w != nil {
		w.Given("vapour pressure", "p", float64(in.Pressure), "kPa", "")
		w.Given("dew point", "t", t, "°C", "bisection on the saturation pressure")
	}
	return out, nil
}

// Air returns relative humidity, wet bulb, dew point and humidity ratio of a
// proofer's air from any one of the first three:
//
//	p_v = RH/100 * p_ws(t) = p_ws(t_dew), W = 621.945 * p_v / (p - p_v)
//	W = 1000 * ((2501 - 2.326*t_wb)*W_s(t_wb) - 1.006*(t - t_wb)) / (2501 + 1.86*t - 4.186*t_wb)
//
// Air and vapour are taken as ideal gases, which puts W some 0.3 to 0.6 % below
// the tables that count their interaction.
//
// It returns an *[reckon.InputError] if:
//   - dry is missing or outside 0 to 90 °C, or pressure outside 60 to 110 kPa,
//   - not exactly one of humidity, wet_bulb and dew_point is given, or it is out of its range,
//   - the wet bulb is lower than dry air would give, or the vapour pressure is above nine tenths of the pressure.
//
// Source: ASHRAE Handbook-Fundamentals 2017, chapter 1, equations 5, 6, 20, 33 and 35.
//
// The three ways of giving the moisture are each other's inverses.
type Air struct {
	Dry      unit.Temp     `json:"dry"`                // temperature of the air, 0 to 90 °C
	Humidity unit.Percent  `json:"humidity,omitzero"`  // relative humidity, 0.1 to 100 %
	WetBulb  unit.Temp     `json:"wet_bulb,omitzero"`  // or the reading of a wet bulb with moving air, not above dry
	DewPoint unit.Temp     `json:"dew_point,omitzero"` // or the dew point, -60 °C to dry
	Pressure unit.Pressure `json:"pressure"`           // of the air, 60 to 110 kPa; 101.325 kPa at sea level
}

func (Air) ID() string { return "proof-air" }

// SHELL
func (q Air) Check(c *reckon.Checks) {
	_, err := explainAir(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Air) Solve() (AirResult, error) { return explainAir(q, nil) }

func (q Air) Show(w *reckon.Working, _ AirResult) { _, _ = explainAir(q, w) }

// AirResult is everything about the air.
type AirResult struct {
	Humidity   unit.Percent  `json:"humidity"`       // relative humidity
	WetBulb    unit.Temp     `json:"wet_bulb"`       // thermodynamic wet bulb
	DewPoint   unit.Temp     `json:"dew_point"`      // where moisture begins to condense; frost point below 0.01 °C
	Saturation unit.Pressure `json:"saturation"`     // most vapour that air of this temperature holds
	Vapour     unit.Pressure `json:"vapour"`         // vapour that it holds
	Ratio      float64       `json:"humidity_ratio"` // g water per kg of dry air
	Conditions Conditions    `json:"conditions"`     // below-freezing (dew point)
}

// vapour checks the air and returns its vapour pressure in kPa.
func (in Air) vapour(c *reckon.Checks) float64 {
	ok := reckon.CheckTemp(c, "dry", in.Dry, coldestAir, hottestAir)
	ok = reckon.CheckRange(c, "pressure", in.Pressure, lowestPressure, highestPressure) && ok
	given := 0
	if in.Humidity != 0 {
		given++
		ok = reckon.CheckRange(c, "humidity", in.Humidity, 0.1, 100) && ok
	}
	if in.WetBulb.Given() {
		given++
	}
	if in.DewPoint.Given() {
		given++
	}
	if given != 1 {
		c.Fail("humidity", [...]string{"not given", "given", "given twice", "given three times"}[given], "one of humidity, wet_bulb and dew_point")
		return 0
	}
	if !ok {
		return 0
	}
	dry, p := in.Dry.Celsius(), float64(in.Pressure)
	vapour := float64(in.Humidity) / 100 * saturation(dry)
	switch {
	case in.DewPoint.Given():
		if !reckon.CheckTemp(c, "dew_point", in.DewPoint, unit.Celsius(-60), in.Dry) {
			return 0
		}
		vapour = saturation(in.DewPoint.Celsius())
	case in.WetBulb.Given():
		if !reckon.CheckTemp(c, "wet_bulb", in.WetBulb, unit.Celsius(-20), in.Dry) {
			return 0
		}
		if saturation(in.WetBulb.Celsius()) > 0.9*p {
			vapour = p // more than can be allowed
			break
		}
		w := wetBulbRatio(dry, in.WetBulb.Celsius(), p)
		vapour = p * w / (massRatio + w)
		if vapour < 0.001*saturation(dry) {
			c.Fail("wet_bulb", in.WetBulb.String(), "a reading that air of "+in.Dry.String()+" can give: even bone-dry air reads higher; wet the wick and read again")
			return 0
		}
	}
	if vapour > 0.9*p {
		field, text := "humidity", in.Humidity.String()
		if in.DewPoint.Given() {
			field, text = "dew_point", in.DewPoint.String()
		} else if in.WetBulb.Given() {
			field, text = "wet_bulb", in.WetBulb.String()
		}
		c.Fail(field, text, "less moisture: at "+in.Pressure.String()+" this air would be nearly all steam")
	}
	return vapour
}

func explainAir(in Air, w *reckon.Working) (out AirResult, err error) {
	c := reckon.Checks{Func: "proof-air"}
	out = in.state(&c)
	if err := c.Err(); err != nil {
		return AirResult{}, err
	}
	if w != nil {
		in.explain(w, out)
	}
	return out, nil
}

// state checks the air and returns everything about it.
func (in Air) state(c *reckon.Checks) AirResult {
	vapour := in.vapour(c)
	if !c.OK() {
		return AirResult{}
	}
	dry, p := in.Dry.Celsius(), float64(in.Pressure)
	ws := saturation(dry)
	ratio := humidityRatio(vapour, p)
	out := AirResult{
		Humidity: in.Humidity, WetBulb: in.WetBulb, DewPoint: in.DewPoint, Saturation: unit.Kilopascals(ws),
		Vapour: unit.Kilopascals(vapour), Ratio: ratio * 1000,
	}
	if in.Humidity == 0 {
		out.Humidity = unit.Percent(math.Min(100, vapour/ws*100)) // saturated air, to the last digit
	}
	found := true
	if !in.DewPoint.Given() {
		var dew float64
		dew, found = saturated(vapour)
		// Saturated air has its dew point at its own temperature, to the last digit.
		out.DewPoint = unit.Celsius(math.Min(dew, dry))
	}
	if found && !in.WetBulb.Given() {
		out.WetBulb, found = wetBulb(dry, out.DewPoint.Celsius(), ratio, p)
	}
	if !found {
		c.Fail("humidity", out.Vapour.String()+" of vapour", "air that has a dew point and a wet bulb")
		return AirResult{}
	}
	if out.DewPoint.Celsius() <= freezingCelsius {
		out.Conditions |= BelowFreezing
	}
	return out
}

// wetBulb returns the wet bulb between the dew point and the air's temperature.
func wetBulb(dry, dew, ratio, pressure float64) (unit.Temp, bool) {
	upper := dry
	if saturation(dry) > 0.95*pressure {
		// Near boiling no air is left; the wet bulb of any air allowed lies below.
		upper, _ = saturated(0.95 * pressure)
	} else if wetBulbRatio(dry, dry, pressure) <= ratio*(1+1e-12) {
		return unit.Celsius(dry), true // saturated
	}
	t, ok := reckon.Bisect(dew, upper, func(t float64) float64 { return wetBulbRatio(dry, t, pressure) - ratio })
	return unit.Celsius(t), ok
}

func (in Air) explain(w *reckon.Working, out AirResult) {
	w.Given("air temperature", "t", in.Dry.Celsius(), "°C", "")
	w.Given("air pressure", "p", float64(in.Pressure), "kPa", "")
	explainSaturation(w, "saturation pressure", "p_ws", "t", in.Dry.Celsius())
	switch {
	case in.Humidity != 0:
		w.Given("relative humidity", "RH", float64(in.Humidity), "%", "")
		w.Step("vapour pressure", "p_v", "RH / 100 * p_ws", float64(out.Vapour), "kPa", "")
		w.Given("dew point", "t_dew", out.DewPoint.Celsius(), "°C", "bisection on the saturation pressure")
	case in.DewPoint.Given():
		w.Given("dew point", "t_dew", in.DewPoint.Celsius(), "°C", "")
		explainSaturation(w, "vapour pressure", "p_v", "t_dew", in.DewPoint.Celsius())
	default:
		wet := in.WetBulb.Celsius()
		w.Given("wet bulb", "t_wb", wet, "°C", "")
		explainSaturation(w, "saturation pressure at the wet bulb", "p_wb", "t_wb", wet)
		w.Step("humidity ratio at the wet bulb", "W_wb", "0.621945 * p_wb / (p - p_wb)", humidityRatio(saturation(wet), float64(in.Pressure)), "kg/kg", "")
		expression := "((2501 - 2.326*t_wb)*W_wb - 1.006*(t - t_wb)) / (2501 + 1.86*t - 4.186*t_wb)"
		if wet <= freezingCelsius {
			expression = "((2830 - 0.24*t_wb)*W_wb - 1.006*(t - t_wb)) / (2830 + 1.86*t - 2.1*t_wb)"
		}
		w.Step("humidity ratio", "w", expression, wetBulbRatio(in.Dry.Celsius(), wet, float64(in.Pressure)), "kg/kg", "ASHRAE equations 33 and 35")
		w.Step("vapour pressure", "p_v", "p * w / (0.621945 + w)", float64(out.Vapour), "kPa", "")
	}
	if in.Humidity == 0 {
		w.Step("relative humidity", "RH", "min(100, p_v / p_ws * 100)", float64(out.Humidity), "%", "")
	}
	w.Step("humidity ratio", "W", "0.621945 * p_v / (p - p_v) * 1000", out.Ratio, "g/kg", "of dry air")
}
