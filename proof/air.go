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
	// dryAirConstant is the gas constant of dry air in kJ/(kg K). Source: the same.
	dryAirConstant = 0.287042
	// freezingCelsius is where the saturation line changes from ice to water: the triple point.
	freezingCelsius = 0.01
)

// The ranges of the air, taken wide: cold store to steam-heated
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

// The branches of saturation as a person can key them in, with % for the
// temperature: over water and over ice.
const (
	overWater = "exp(-5800.2206/(% + 273.15) + 1.3914993 - 0.048640239*(% + 273.15) + 0.000041764768*pow(% + 273.15, 2)" +
		" - 0.000000014452093*pow(% + 273.15, 3) + 6.5459673*ln(% + 273.15))/1000{Pa/kPa}"
	overIce = "exp(-5674.5359/(% + 273.15) + 6.3925247 - 0.009677843*(% + 273.15) + 0.00000062215701*pow(% + 273.15, 2)" +
		" + 0.0000000020747825*pow(% + 273.15, 3) - 0.0000000000009484024*pow(% + 273.15, 4) + 4.1635019*ln(% + 273.15))/1000{Pa/kPa}"
)

// saturationLine is the end of a line of a sheet: saturation at the temperature called symbol.
func saturationLine(symbol string, celsius float64) string {
	text := overWater
	if celsius <= freezingCelsius {
		text = overIce
	}
	return strings.ReplaceAll(text, "%", symbol) + " in kPa  [Hyland and Wexler]"
}

// saturated returns the temperature at which vapour of the given pressure is saturated.
func saturated(kPa float64) (celsius float64, ok bool) {
	return reckon.Bisect(-100, 200, func(t float64) float64 { return saturation(t) - kPa })
}

// wetBulbText is wetBulbRatio in a sheet, and where it stands.
func wetBulbText(wet float64) (relation, source string) {
	if wet > freezingCelsius {
		return "((2501 - 2.326*T_wb)*w_s - 1.006*(T_a - T_wb))/(2501 + 1.86*T_a - 4.186*T_wb)", "ASHRAE equation 33"
	}
	return "((2830 - 0.24*T_wb)*w_s - 1.006*(T_a - T_wb))/(2830 + 1.86*T_a - 2.1*T_wb)", "ASHRAE equation 35"
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

// SaturationPressure asks how much water vapour air can hold, as the pressure
// of vapour that is in balance with water:
//
//	ln(p_ws * 1000) = C1/T + C2 + C3*T + C4*T^2 + C5*T^3 + C6*ln(T), T = t + 273.15
//
// and with ice, by a like formula, below 0.01 °C.
//
// Source: R. W. Hyland, A. Wexler, ASHRAE Transactions 89 (1983), in ASHRAE
// Handbook-Fundamentals 2017, chapter 1.
//
// The inverse is [TemperatureForSaturation].
type SaturationPressure struct {
	Temp unit.Temp `json:"temp" sym:"t" range:"-100 °C..200 °C"` // of the water and its vapour
}

// SaturationPressureResult is the most vapour that air can hold there.
type SaturationPressureResult struct {
	Pressure   unit.Pressure `json:"pressure" sym:"p_ws"` // of the vapour over water, or over ice below 0.01 °C
	Conditions Conditions    `json:"conditions"`          // below-freezing
}

func (SaturationPressure) ID() string { return "saturation-pressure" }

func (q SaturationPressure) Check(c *reckon.Checks) {
	reckon.CheckTemp(c, "temp", q.Temp, unit.Celsius(-100), unit.Celsius(200))
}

func (q SaturationPressure) Solve() (out SaturationPressureResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Pressure = unit.Kilopascals(saturation(q.Temp.Celsius()))
	if q.Temp.Celsius() <= freezingCelsius {
		out.Conditions |= BelowFreezing
	}
	return out, nil
}

func (q SaturationPressure) Show(w *reckon.Working, out SaturationPressureResult) {
	w.Inputs(q)
	w.Lines(out, "saturation pressure: p_ws = "+saturationLine("t", q.Temp.Celsius()))
}

// TemperatureForSaturation asks at what temperature vapour of a given pressure
// condenses, the dew point t at which that is the saturation pressure:
//
//	ln(p_ws * 1000) = C1/T + C2 + C3*T + C4*T^2 + C5*T^3 + C6*ln(T), T = t + 273.15
//
// It is the inverse of [SaturationPressure], found by bisection, with the same
// validity: a vapour pressure from that at -100 °C to that at 200 °C.
//
// Source: as for [SaturationPressure].
//
// The inverse is [SaturationPressure].
type TemperatureForSaturation struct {
	Pressure unit.Pressure `json:"pressure" sym:"p_ws" range:"0.0000015 kPa..1550 kPa"` // of the vapour
}

// TemperatureForSaturationResult is where it condenses.
type TemperatureForSaturationResult struct {
	Temp       unit.Temp  `json:"temp" sym:"t"` // dew point, or frost point below 0.01 °C
	Conditions Conditions `json:"conditions"`   // below-freezing
}

func (TemperatureForSaturation) ID() string { return "temperature-for-saturation" }

func (q TemperatureForSaturation) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "pressure", q.Pressure, 1.5e-6, 1550)
}

// Solve has no answer if no temperature from -100 to 200 °C has that vapour pressure.
func (q TemperatureForSaturation) Solve() (out TemperatureForSaturationResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	t, ok := saturated(float64(q.Pressure))
	if !ok {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "dew point", Wanted: q.Pressure.String(), Low: "0.0000015 kPa", High: "1550 kPa",
		}
	}
	out.Temp = unit.Celsius(t)
	if t <= freezingCelsius {
		out.Conditions |= BelowFreezing
	}
	return out, nil
}

func (q TemperatureForSaturation) Show(w *reckon.Working, out TemperatureForSaturationResult) {
	w.Inputs(q)
	w.Root("dew point", "t", out.Temp.Celsius(), "°C", "where the saturation pressure is p_ws, by bisection")
	w.PutBack("saturation pressure there: p_ws = " + saturationLine("t", out.Temp.Celsius()))
}

// Air asks for the relative humidity, wet bulb, dew point and humidity ratio of
// a proofer's air, from any one of the first three:
//
//	p_v = RH / 100 * p_ws(T_a), p_v = p_ws(T_dew)
//	w = ((2501 - 2.326*T_wb)*w_s(T_wb) - 1.006*(T_a - T_wb)) / (2501 + 1.86*T_a - 4.186*T_wb)
//	W = 0.621945 * p_v / (p - p_v) * 1000 = 1000 * w
//	h = 1.006 * T_a + W / 1000 * (2501 + 1.86 * T_a)
//	v = 0.287042 * (T_a + 273.15) * (1 + 1.607858 * W / 1000) / p
//
// with the saturation pressure p_ws of [SaturationPressure] and, at the wet
// bulb, w_s = 0.621945 * p_ws / (p - p_ws); below 0.01 °C the wet bulb is
// frozen and has constants of its own. Air and vapour are taken as ideal gases,
// which puts W some 0.3 to 0.6 % below the tables that count their interaction.
//
// It is refused if:
//   - not exactly one of humidity, wet_bulb and dew_point is given,
//   - the wet bulb is lower than dry air would give,
//   - the vapour pressure exceeds nine tenths of the pressure.
//
// Enthalpy and volume are for each kilogram of dry air, the enthalpy counted from
// dry air and liquid water at 0 °C: its difference between two states is the
// heat that a proofer's coil and steam have to bring.
//
// Source: ASHRAE Handbook-Fundamentals 2017, chapter 1, equations 5, 6, 20, 26, 30, 33 and 35.
//
// The three ways of giving the moisture are each other's inverses.
type Air struct {
	DryBulb  unit.Temp     `json:"dry_bulb" sym:"T_a" range:"0 °C..90 °C"`          // temperature of the air
	Humidity unit.Percent  `json:"humidity,omitzero" sym:"RH" range:"0.1 %..100 %"` // relative humidity
	WetBulb  unit.Temp     `json:"wet_bulb,omitzero" sym:"T_wb" range:"-"`          // or the reading of a wet bulb with moving air, -20 °C to dry_bulb
	DewPoint unit.Temp     `json:"dew_point,omitzero" sym:"T_dew" range:"-"`        // or the dew point, -60 °C to dry_bulb
	Pressure unit.Pressure `json:"pressure" sym:"p" range:"60 kPa..110 kPa"`        // of the air; 101.325 kPa at sea level, less higher up: see [AirPressure]
}

// AirResult is everything about the air.
type AirResult struct {
	Humidity   unit.Percent        `json:"humidity" sym:"RH"`      // relative humidity
	WetBulb    unit.Temp           `json:"wet_bulb" sym:"T_wb"`    // thermodynamic wet bulb
	DewPoint   unit.Temp           `json:"dew_point" sym:"T_dew"`  // where moisture begins to condense; frost point below 0.01 °C
	Saturation unit.Pressure       `json:"saturation" sym:"p_ws"`  // most vapour that air of this temperature holds
	Vapour     unit.Pressure       `json:"vapour" sym:"p_v"`       // vapour that it holds
	Ratio      float64             `json:"humidity_ratio" sym:"W"` // g water per kg of dry air
	Enthalpy   unit.SpecificEnergy `json:"enthalpy" sym:"h"`       // for each kg of dry air
	Volume     float64             `json:"volume" sym:"v"`         // m³ of the moist air for each kg of dry air
	Conditions Conditions          `json:"conditions"`             // below-freezing (dew point)
}

func (Air) ID() string { return "proof-air" }

func (q Air) Check(c *reckon.Checks) { q.check(c) }

// check returns everything about the air as well: whether it has a wet bulb
// shows when it is looked for.
func (q *Air) check(c *reckon.Checks) (out AirResult) {
	before := c.Mark()
	vapour := q.vapour(c)
	if c.Mark() > before {
		return out
	}
	dry, p := q.DryBulb.Celsius(), float64(q.Pressure)
	ws := saturation(dry)
	ratio := humidityRatio(vapour, p)
	out = AirResult{
		Humidity: q.Humidity, WetBulb: q.WetBulb, DewPoint: q.DewPoint, Saturation: unit.Kilopascals(ws),
		Vapour: unit.Kilopascals(vapour), Ratio: ratio * 1000,
		Enthalpy: unit.SpecificEnergy(float64(1.006*dry) + float64(ratio*(2501+float64(1.86*dry)))),
		Volume:   dryAirConstant * (dry + 273.15) * (1 + float64(1.607858*ratio)) / p,
	}
	if q.Humidity == 0 {
		out.Humidity = unit.Percent(math.Min(100, vapour/ws*100)) // saturated air, to the last digit
	}
	if !q.DewPoint.Given() {
		dew, _ := saturated(vapour) // all vapour that is taken condenses between -100 and 200 °C
		// Saturated air has its dew point at its own temperature, to the last digit.
		out.DewPoint = unit.Celsius(math.Min(dew, dry))
	}
	if !q.WetBulb.Given() {
		var found bool
		if out.WetBulb, found = wetBulb(dry, out.DewPoint.Celsius(), ratio, p); !found {
			c.Fail("humidity", out.Vapour.String()+" of vapour", "air that has a wet bulb")
			return AirResult{}
		}
	}
	if out.DewPoint.Celsius() <= freezingCelsius {
		out.Conditions |= BelowFreezing
	}
	return out
}

// vapour checks what was given of the air and returns its vapour pressure in kPa.
func (q *Air) vapour(c *reckon.Checks) float64 {
	ok := reckon.CheckTemp(c, "dry_bulb", q.DryBulb, coldestAir, hottestAir)
	ok = reckon.CheckRange(c, "pressure", q.Pressure, lowestPressure, highestPressure) && ok
	given := 0
	if q.Humidity != 0 {
		given++
		ok = reckon.CheckRange(c, "humidity", q.Humidity, 0.1, 100) && ok
	}
	if q.WetBulb.Given() {
		given++
	}
	if q.DewPoint.Given() {
		given++
	}
	if given != 1 {
		c.Fail("humidity", [...]string{"not given", "given", "given twice", "given three times"}[given], "one of humidity, wet_bulb and dew_point")
		return 0
	}
	if !ok {
		return 0
	}
	dry, p := q.DryBulb.Celsius(), float64(q.Pressure)
	var vapour float64
	most := 0.9 * p
	switch {
	case q.Humidity != 0:
		vapour = float64(q.Humidity) / 100 * saturation(dry)
	case q.DewPoint.Given():
		if reckon.CheckTemp(c, "dew_point", q.DewPoint, unit.Celsius(-60), q.DryBulb) {
			vapour = saturation(q.DewPoint.Celsius())
		}
	case reckon.CheckTemp(c, "wet_bulb", q.WetBulb, unit.Celsius(-20), q.DryBulb):
		if vapour = saturation(q.WetBulb.Celsius()); vapour > most {
			break // the air at the wick is steam
		}
		w := wetBulbRatio(dry, q.WetBulb.Celsius(), p)
		vapour = p * w / (massRatio + w)
		if vapour < 0.001*saturation(dry) {
			c.Fail("wet_bulb", q.WetBulb.String(), "a reading that air of "+q.DryBulb.String()+" can give: even bone-dry air reads higher; wet the wick and read again")
			return 0
		}
	}
	if vapour > most {
		field, text := "humidity", q.Humidity.String()
		if q.DewPoint.Given() {
			field, text = "dew_point", q.DewPoint.String()
		} else if q.WetBulb.Given() {
			field, text = "wet_bulb", q.WetBulb.String()
		}
		c.Fail(field, text, "less moisture: at "+q.Pressure.String()+" this air would be nearly all steam")
	}
	return vapour
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

func (q Air) Solve() (out AirResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if out = q.check(&c); !c.OK() {
		return AirResult{}, c.Err()
	}
	return out, nil
}

func (q Air) Show(w *reckon.Working, out AirResult) {
	w.Inputs(q)
	q.show(w, out)
}

// show records everything about the air behind what was given.
func (q *Air) show(w *reckon.Working, out AirResult) {
	w.Lines(out, "saturation pressure of the air: p_ws = "+saturationLine("T_a", q.DryBulb.Celsius()))
	wet := out.WetBulb.Celsius()
	relation, source := wetBulbText(wet)
	switch {
	case q.Humidity != 0:
		w.Lines(out, "vapour pressure: p_v = RH/100*p_ws")
	case q.DewPoint.Given():
		w.Lines(out, "vapour pressure: p_v = "+saturationLine("T_dew", q.DewPoint.Celsius()))
	default:
		w.Lines(out,
			"saturation pressure at the wet bulb: p_wb = "+saturationLine("T_wb", wet),
			"humidity ratio at the wet bulb: w_s = 0.621945*p_wb/(p - p_wb) in kg/kg",
		)
		w.Lines(out,
			"humidity ratio: w = "+relation+" in kg/kg  ["+source+"]",
			"vapour pressure: p_v = p*w/(0.621945 + w)",
		)
	}
	if q.Humidity == 0 {
		w.Lines(out, "relative humidity: RH = min(100, p_v/p_ws*100)")
	}
	if !q.DewPoint.Given() {
		w.Root("dew point", "T_dew", out.DewPoint.Celsius(), "°C", "where the saturation pressure is p_v, by bisection")
		w.PutBack("saturation pressure at the dew point: p_v = " + saturationLine("T_dew", out.DewPoint.Celsius()))
	}
	w.Lines(out, "humidity ratio: W = 0.621945*p_v/(p - p_v)*1000{g/kg} in g/kg  [of dry air]")
	if !q.WetBulb.Given() {
		w.Root("wet bulb", "T_wb", wet, "°C", "where the humidity ratio is that of the air, by bisection")
		w.Lines(nil,
			"saturation pressure at the wet bulb: p_wb = "+saturationLine("T_wb", wet),
			"humidity ratio at the wet bulb: w_s = 0.621945*p_wb/(p - p_wb) in kg/kg",
		)
		w.PutBack("humidity ratio of air with this wet bulb: W = " + relation + "*1000{g/kg} in g/kg  [" + source + "]")
	}
	w.Lines(out,
		"enthalpy: h = 1.006*T_a + W/1000{g/kg}*(2501 + 1.86*T_a)  [for each kg of dry air, ASHRAE equation 30]",
		"volume: v = 0.287042*(T_a + 273.15)*(1 + 1.607858*W/1000{g/kg})/p in m3/kg  [for each kg of dry air, ASHRAE equation 26]",
	)
}
