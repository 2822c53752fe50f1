package doughmath

import (
	"cmp"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// iceEquivalent is how far the heat that melts a mass of ice would cool the
// same mass of water: 144 Btu/lb over 1 Btu/(lb °F), which is 80 C° (144 F°).
// With the measured properties of water it is 79.6 C°.
//
// Source: distributor's ice temperature table, whose 32 °F column fixes 144 Btu/lb.
const iceEquivalent unit.TempDelta = 80

// tradeLatentHeat is 144 Btu/lb, the heat that melts ice in the trade's
// arithmetic, in kJ/kg. The measured value is 333.4 kJ/kg.
//
// Source: bakingbusiness.com, "Pro Tip: how to keep things cool this summer".
const tradeLatentHeat = 144 * 2.326

const (
	// muchIceShare is the share of ice in the water above which it may not
	// melt in the mixing time. Common practice, from memory: texts warn from
	// about two fifths to a half. Flake ice melts sooner than cubes: [IceMelt].
	muchIceShare unit.Percent = 40
	// liftingMass is what one person should think twice about lifting.
	// Common practice; limits differ by authority.
	liftingMass unit.Mass = 20000
)

// IceReading names whether the ice is part of the formula water. Sources use
// both and some mix them up, which over-ices by up to a fifth.
type IceReading string

const (
	// IceReplacing takes the ice out of the formula water: ice and tap water together are the water.
	IceReplacing IceReading = "replacing"
	// IceAdded puts the ice on top of all the water.
	IceAdded IceReading = "added"
)

// MeltingHeat names the heat that melts ice. Sources print anything from 333
// to 336 kJ/kg, and a figure is only theirs if it is worked out with theirs.
type MeltingHeat string

const (
	// MeltingTrade is 144 Btu/lb, 334.944 kJ/kg: 80 kcal/kg, which cools as 80 C° of water.
	MeltingTrade MeltingHeat = "trade"
	// MeltingMeasured is 333.425 kJ/kg, IAPWS R10-06(2009).
	MeltingMeasured MeltingHeat = "measured"
	// MeltingGiven is the figure that stands beside it.
	MeltingGiven MeltingHeat = "given"
)

// Melting is the heat that melts ice, by name.
type Melting struct {
	Heat MeltingHeat         `json:"melting,omitzero"`                          // "trade", "measured", or "given" with melting_heat; left out, it is that of the relation
	Own  unit.SpecificEnergy `json:"melting_heat,omitzero" sym:"h_m" range:"-"` // with "given": 320 to 350 kJ/kg; otherwise left out
}

func (m Melting) check(c *reckon.Checks) {
	switch m.Heat {
	case MeltingGiven:
		reckon.CheckRange(c, "melting_heat", m.Own, 320, 350)
		return
	case "", MeltingTrade, MeltingMeasured:
	default:
		reckon.CheckWord(c, "melting", m.Heat, MeltingTrade, MeltingMeasured, MeltingGiven)
	}
	if m.Own != 0 {
		c.Fail("melting_heat", reckon.Text(m.Own), "left out, or the melting \"given\"")
	}
}

// heat returns the heat in kJ/kg, left being that of the relation.
func (m Melting) heat(left MeltingHeat) float64 {
	switch cmp.Or(m.Heat, left) {
	case MeltingGiven:
		return float64(m.Own)
	case MeltingMeasured:
		return latentHeatOfIce
	}
	return tradeLatentHeat
}

// line is the step to [Melting.heat].
func (m Melting) line(left MeltingHeat) string {
	switch cmp.Or(m.Heat, left) {
	case MeltingGiven:
		return "heat that melts ice: h = h_m in kJ/kg  [given]"
	case MeltingMeasured:
		return "heat that melts ice: h = 333.425 in kJ/kg  [IAPWS R10-06(2009)]"
	}
	return "heat that melts ice: h = 144*2.326 in kJ/kg  [144 Btu/lb]"
}

// cooling returns how far melting ice cools as much water, in C°.
func (m Melting) cooling() float64 {
	if m.Heat == "" || m.Heat == MeltingTrade {
		return float64(iceEquivalent) // the quotient, without its last binary digit
	}
	return m.heat(MeltingTrade) / tradeWaterHeat
}

// Ice asks how much ice and how much tap water act like the water needed:
//
//	m_ice = W*(T_tap - T_needed) / (T_tap - T_0 + L_c),     m_t = W - m_ice, m = W    replacing part of the water
//	m_ice = W*(T_tap - T_needed) / (T_needed - T_0 + L_c),  m_t = W, m = W + m_ice    added on top of the water
//	x = 100*m_ice/m,  Q = m_ice/1000 * h,  L_c = h/c_w
//
// with temperatures in °C, h the heat that melts ice and L_c as many degrees of
// water: 80 C° at the trade's 144 Btu/lb, which is taken if melting is left out;
// in °F the divisors are then T + 112. To divide by 80 alone leaves out that
// the melted ice warms up too, and gives about a fifth too much. Ice of less than a
// billionth of the water is what arithmetic leaves over, and none is weighed.
//
// It holds for ice at 0 °C that melts in the mixing time. Ice from a freezer
// cools a little more; [MixingHeat] reckons with its own temperature, and
// [IceMelt] with the size of its pieces.
//
// Source: distributor's ice temperature table, koerner-co.com; cases in testdata/cases/doughmath/ice.json.
//
// The inverse is [TemperatureForIce].
type Ice struct {
	Water      unit.Mass  `json:"water" sym:"W" range:">0 g..100 t"`                    // the formula water
	Tap        unit.Temp  `json:"tap" sym:"T_tap" range:"0 °C..60 °C"`                  // temperature of the water at hand
	NeededTemp unit.Temp  `json:"needed_temp" sym:"T_needed" range:"-273.15 °C..60 °C"` // water temperature needed; below 0 °C is normal
	Reading    IceReading `json:"reading"`                                              // "replacing" or "added"
	Melting
}

// IceResult is what to weigh.
type IceResult struct {
	Ice           unit.Mass       `json:"ice" sym:"m_ice"`        // ice to weigh
	TapWater      unit.Mass       `json:"tap_water" sym:"m_t"`    // water to weigh
	Total         unit.Mass       `json:"total" sym:"m"`          // both together
	Share         unit.Percent    `json:"share" sym:"x"`          // ice in the total
	CoolingEnergy unit.Energy     `json:"cooling_energy" sym:"Q"` // heat that the ice takes up in melting
	Conditions    Conditions      `json:"conditions"`             // no-ice-needed, much-ice
	Cautions      reckon.Cautions `json:"cautions"`               // ice-handling, lifting
}

func (Ice) ID() string { return "ice" }

func (q Ice) Check(c *reckon.Checks) { q.check(c) }

func (q *Ice) check(c *reckon.Checks) {
	checkIceWater(c, q.Water, q.Tap, q.Reading)
	reckon.CheckTemp(c, "needed_temp", q.NeededTemp, unit.Celsius(-unit.KelvinAtZeroCelsius), hottestReading)
	q.Melting.check(c)
}

// Solve has no answer if even all the water as ice, or as much ice as water on top, is not enough.
func (q Ice) Solve() (out IceResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *Ice) SolveInto(out *IceResult) error {
	*out = IceResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	tap, needed := q.Tap.Celsius(), q.NeededTemp.Celsius()
	cooling := q.cooling()
	coldest, divisor := -cooling, tap+cooling
	if q.Reading == IceAdded {
		// As much ice as water: with more the rule runs away.
		coldest, divisor = (tap-cooling)/2, needed+cooling
	}
	if needed < coldest {
		return &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "share of ice", Wanted: "water that acts like " + q.NeededTemp.String(),
			Low: unit.Celsius(coldest).String(), High: q.Tap.String(), Advice: "cool the flour or the room as well, or accept a warmer dough",
		}
	}
	ice := unit.Mass(max(0, float64(q.Water)*(tap-needed)/divisor))
	none := isNoIce(ice, q.Water)
	if none {
		ice = 0
	}
	out.share(q.Water, ice, q.Reading)
	out.CoolingEnergy = unit.Energy(float64(ice) / 1000 * q.heat(MeltingTrade))
	if none {
		out.Conditions |= NoIceNeeded
	}
	return nil
}

func (q Ice) Show(w *reckon.Working, out IceResult) {
	w.Inputs(q)
	ice := "W*(T_tap - T_needed) / (T_tap - T_0 + L_c)  [heat given up by the tap water = heat taken up by the ice]"
	switch {
	case out.Conditions.Has(NoIceNeeded):
		ice = "0  [the tap water is cold enough]"
	case q.Reading == IceAdded:
		ice = "W*(T_tap - T_needed) / (T_needed - T_0 + L_c)  [heat given up by the water = heat taken up by the ice]"
	}
	w.Lines(out, q.line(MeltingTrade))
	showIceCooling(w, out)
	w.Lines(out, "ice: m_ice = "+ice)
	q.Reading.show(w, out)
	w.Lines(out, iceEnergyLine)
}

func checkIceWater(c *reckon.Checks, water unit.Mass, tap unit.Temp, reading IceReading) {
	checkUpTo(c, "water", water, mostMass)
	reckon.CheckTemp(c, "tap", tap, unit.Celsius(0), hottestReading)
	reckon.CheckEither(c, "reading", reading, IceReplacing, IceAdded)
}

// isNoIce reports whether the ice is nothing but what binary arithmetic leaves
// over: nobody weighs it, and it is not to be handled with care.
func isNoIce(ice, water unit.Mass) bool { return !(ice > roundingSlack*water) }

// share shares the water out and says what to look at.
func (out *IceResult) share(water, ice unit.Mass, reading IceReading) {
	out.Ice, out.TapWater, out.Total = ice, water-ice, water
	if reading == IceAdded {
		out.TapWater, out.Total = water, water+ice
	}
	out.Share = unit.Percent(100 * float64(ice) / float64(out.Total))
	if out.Share > muchIceShare {
		out.Conditions |= MuchIce
	}
	if !isNoIce(ice, water) {
		out.Cautions |= reckon.IceHandling
	}
	if ice > liftingMass || out.TapWater > liftingMass {
		out.Cautions |= reckon.Lifting
	}
}

const iceEnergyLine = "heat that melts the ice: Q = m_ice/1000{g/kg}*h"

// showFreezing records where water freezes: with a symbol for it the relations hold in °F as they stand.
func showFreezing(w *reckon.Working) { w.Given("freezing point of water", "T_0", 0, "°C", "") }

// showTradeCooling records what the melting of ice cools by, as the trade counts it.
func showTradeCooling(w *reckon.Working) {
	w.Given("cooling by melting, as degrees of water", "L_c", float64(iceEquivalent), "C°", "144 Btu/lb")
}

// showIceCooling records what the melting of ice cools by.
func showIceCooling(w *reckon.Working, out any) {
	showFreezing(w)
	w.Given("specific heat of water", "c_w", tradeWaterHeat, "kJ/(kg K)", "1 Btu/(lb °F)")
	w.Lines(out, "cooling by melting, as degrees of water: L_c = h/c_w in C°")
}

// show records how the ice m_ice is shared out.
func (r IceReading) show(w *reckon.Working, out any) {
	tapWater, total := "W - m_ice", "W"
	if r == IceAdded {
		tapWater, total = "W", "W + m_ice"
	}
	w.Lines(out,
		"tap water: m_t = "+tapWater,
		"ice and water together: m = "+total,
		"share of ice: x = 100*m_ice / m",
	)
}

// TemperatureForIce asks what water temperature ice and tap water act like:
//
//	T = T_tap - m_ice/W*(T_tap - T_0 + L_c),          m_t = W - m_ice, m = W    replacing part of the water
//	T = (W*T_tap + m_ice*(T_0 - L_c)) / (W + m_ice),  m_t = W, m = W + m_ice    added on top of the water
//	x = 100*m_ice/m,  Q = m_ice/1000 * h,  L_c = h/c_w
//
// It is the inverse of [Ice], with the same validity.
//
// Source: distributor's ice temperature table, koerner-co.com; cooling value of ice:
// bakingbusiness.com; cases in testdata/cases/doughmath/temperature-for-ice.json.
//
// The inverse is [Ice].
type TemperatureForIce struct {
	Water   unit.Mass  `json:"water" sym:"W" range:">0 g..100 t"`   // the formula water
	Tap     unit.Temp  `json:"tap" sym:"T_tap" range:"0 °C..60 °C"` // temperature of the water at hand
	Ice     unit.Mass  `json:"ice" sym:"m_ice" range:"-"`           // ice at hand, 0 up to the water
	Reading IceReading `json:"reading"`                             // "replacing" or "added"
	Melting
}

// TemperatureForIceResult is the water that the ice and the tap water act like.
type TemperatureForIceResult struct {
	WaterTemp     unit.Temp       `json:"water_temp" sym:"T"`     // water temperature that has the same effect; below 0 °C is normal
	TapWater      unit.Mass       `json:"tap_water" sym:"m_t"`    // water to weigh
	Total         unit.Mass       `json:"total" sym:"m"`          // ice and water together
	Share         unit.Percent    `json:"share" sym:"x"`          // ice in the total
	CoolingEnergy unit.Energy     `json:"cooling_energy" sym:"Q"` // heat that the ice takes up in melting
	Conditions    Conditions      `json:"conditions"`             // much-ice
	Cautions      reckon.Cautions `json:"cautions"`               // ice-handling, lifting
}

func (TemperatureForIce) ID() string { return "temperature-for-ice" }

func (q TemperatureForIce) Check(c *reckon.Checks) {
	checkIceWater(c, q.Water, q.Tap, q.Reading)
	most := q.Water
	if !(most > 0) { // which is told by its own name
		most = mostMass
	}
	reckon.CheckRange(c, "ice", q.Ice, 0, most)
	q.check(c)
}

func (q TemperatureForIce) Solve() (out TemperatureForIceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	tap, water, ice, cooling := q.Tap.Celsius(), float64(q.Water), float64(q.Ice), q.cooling()
	if q.Reading == IceAdded {
		out.WaterTemp = unit.Celsius((float64(water*tap) - float64(ice*cooling)) / (water + ice))
	} else {
		out.WaterTemp = unit.Celsius(tap - float64(ice/water*(tap+cooling)))
	}
	var parts IceResult
	parts.share(q.Water, q.Ice, q.Reading)
	out.TapWater, out.Total, out.Share = parts.TapWater, parts.Total, parts.Share
	out.CoolingEnergy = unit.Energy(ice / 1000 * q.heat(MeltingTrade))
	out.Conditions, out.Cautions = parts.Conditions, parts.Cautions
	return out, nil
}

func (q TemperatureForIce) Show(w *reckon.Working, out TemperatureForIceResult) {
	w.Inputs(q)
	q.Reading.show(w, out)
	acts := "T_tap - m_ice/W*(T_tap - T_0 + L_c)"
	if q.Reading == IceAdded {
		acts = "(W*T_tap + m_ice*(T_0 - L_c)) / (W + m_ice)"
	}
	w.Lines(out, q.line(MeltingTrade))
	showIceCooling(w, out)
	w.Lines(out, iceEnergyLine,
		"water temperature that has the same effect: T = "+acts+"  [heat given up by the tap water = heat taken up by the ice]")
}
