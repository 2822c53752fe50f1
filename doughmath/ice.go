package doughmath

import (
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

// Ice asks how much ice and how much tap water act like the water needed:
//
//	m_ice = W*(T_tap - T_needed) / (T_tap + 80),     m_t = W - m_ice, m = W    replacing part of the water
//	m_ice = W*(T_tap - T_needed) / (T_needed + 80),  m_t = W, m = W + m_ice    added on top of the water
//	x = 100*m_ice/m,  Q = m_ice/1000 * 144*2.326
//
// with temperatures in °C and 80 C° for the heat that melts ice, which is 144
// Btu/lb; in °F the divisors are T + 112. To divide by 80 alone leaves out that
// the melted ice warms up too, and gives about a fifth too much.
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
}

// IceResult is what to weigh.
type IceResult struct {
	Ice           unit.Mass       `json:"ice" sym:"m_ice"`        // ice to weigh
	TapWater      unit.Mass       `json:"tap_water" sym:"m_t"`    // water to weigh
	Total         unit.Mass       `json:"total" sym:"m"`          // both together
	Share         unit.Percent    `json:"share" sym:"x"`          // ice in the total
	CoolingEnergy unit.Energy     `json:"cooling_energy" sym:"Q"` // heat that the ice takes up in melting, at 144 Btu/lb
	Conditions    Conditions      `json:"conditions"`             // no-ice-needed, much-ice
	Cautions      reckon.Cautions `json:"cautions"`               // ice-handling, lifting
}

func (Ice) ID() string { return "ice" }

func (q Ice) Check(c *reckon.Checks) {
	checkIceWater(c, q.Water, q.Tap, q.Reading)
	reckon.CheckTemp(c, "needed_temp", q.NeededTemp, unit.Celsius(-unit.KelvinAtZeroCelsius), hottestReading)
}

// Solve has no answer if even all the water as ice, or as much ice as water on top, is not enough.
func (q Ice) Solve() (out IceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	tap, needed := q.Tap.Celsius(), q.NeededTemp.Celsius()
	coldest, divisor := -float64(iceEquivalent), tap+float64(iceEquivalent)
	if q.Reading == IceAdded {
		// As much ice as water: with more the rule runs away.
		coldest, divisor = (tap-float64(iceEquivalent))/2, needed+float64(iceEquivalent)
	}
	if needed < coldest {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "share of ice", Wanted: "water that acts like " + q.NeededTemp.String(),
			Low: unit.Celsius(coldest).String(), High: q.Tap.String(), Advice: "cool the flour or the room as well, or accept a warmer dough",
		}
	}
	if needed >= tap {
		out = shareIce(q.Water, 0, q.Reading)
		out.Conditions |= NoIceNeeded
		return out, nil
	}
	return shareIce(q.Water, unit.Mass(float64(q.Water)*(tap-needed)/divisor), q.Reading), nil
}

func (q Ice) Show(w *reckon.Working, out IceResult) {
	w.Inputs(q)
	ice := "W*(T_tap - T_needed) / (T_tap + L_c)  [heat given up by the tap water = heat taken up by the ice]"
	switch {
	case out.Conditions.Has(NoIceNeeded):
		ice = "0  [the tap water is cold enough]"
	case q.Reading == IceAdded:
		ice = "W*(T_tap - T_needed) / (T_needed + L_c)  [heat given up by the water = heat taken up by the ice]"
	}
	w.Lines(out, iceCoolingLine, "ice: m_ice = "+ice)
	q.Reading.show(w, out)
}

func checkIceWater(c *reckon.Checks, water unit.Mass, tap unit.Temp, reading IceReading) {
	checkUpTo(c, "water", water, mostMass)
	reckon.CheckTemp(c, "tap", tap, unit.Celsius(0), hottestReading)
	reckon.CheckEither(c, "reading", reading, IceReplacing, IceAdded)
}

// shareIce shares the water out and says what to look at.
func shareIce(water, ice unit.Mass, reading IceReading) (out IceResult) {
	out.Ice, out.TapWater, out.Total = ice, water-ice, water
	if reading == IceAdded {
		out.TapWater, out.Total = water, water+ice
	}
	out.Share = unit.Percent(100 * float64(ice) / float64(out.Total))
	out.CoolingEnergy = unit.Energy(float64(ice) / 1000 * tradeLatentHeat)
	if out.Share > muchIceShare {
		out.Conditions |= MuchIce
	}
	if ice > 0 {
		out.Cautions |= reckon.IceHandling
	}
	if ice > liftingMass || out.TapWater > liftingMass {
		out.Cautions |= reckon.Lifting
	}
	return out
}

const iceCoolingLine = "cooling by melting, as degrees of water: L_c = 80 in C°  [144 Btu/lb]"

// show records how the ice m_ice is shared out.
func (r IceReading) show(w *reckon.Working, out any) {
	tapWater, total := "W - m_ice", "W"
	if r == IceAdded {
		tapWater, total = "W", "W + m_ice"
	}
	w.Lines(out,
		"tap water: m_t = "+tapWater,
		"ice and water together: m = "+total,
		"heat that melts the ice: Q = m_ice/1000 * 144*2.326  [144 Btu/lb]",
		"share of ice: x = 100*m_ice / m",
	)
}

// TemperatureForIce asks what water temperature ice and tap water act like:
//
//	T = T_tap - m_ice/W*(T_tap + 80),        m_t = W - m_ice, m = W    replacing part of the water
//	T = (W*T_tap - m_ice*80) / (W + m_ice),  m_t = W, m = W + m_ice    added on top of the water
//	x = 100*m_ice/m,  Q = m_ice/1000 * 144*2.326
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
}

// TemperatureForIceResult is the water that the ice and the tap water act like.
type TemperatureForIceResult struct {
	WaterTemp     unit.Temp       `json:"water_temp" sym:"T"`     // water temperature that has the same effect; below 0 °C is normal
	TapWater      unit.Mass       `json:"tap_water" sym:"m_t"`    // water to weigh
	Total         unit.Mass       `json:"total" sym:"m"`          // ice and water together
	Share         unit.Percent    `json:"share" sym:"x"`          // ice in the total
	CoolingEnergy unit.Energy     `json:"cooling_energy" sym:"Q"` // heat that the ice takes up in melting, at 144 Btu/lb
	Conditions    Conditions      `json:"conditions"`             // much-ice
	Cautions      reckon.Cautions `json:"cautions"`               // ice-handling, lifting
}

func (TemperatureForIce) ID() string { return "temperature-for-ice" }

func (q TemperatureForIce) Check(c *reckon.Checks) {
	checkIceWater(c, q.Water, q.Tap, q.Reading)
	reckon.CheckRange(c, "ice", q.Ice, 0, max(q.Water, 0))
}

func (q TemperatureForIce) Solve() (out TemperatureForIceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	tap, water, ice := q.Tap.Celsius(), float64(q.Water), float64(q.Ice)
	if q.Reading == IceAdded {
		out.WaterTemp = unit.Celsius((float64(water*tap) - float64(ice*float64(iceEquivalent))) / (water + ice))
	} else {
		out.WaterTemp = unit.Celsius(tap - float64(ice/water*(tap+float64(iceEquivalent))))
	}
	parts := shareIce(q.Water, q.Ice, q.Reading)
	out.TapWater, out.Total, out.Share, out.CoolingEnergy = parts.TapWater, parts.Total, parts.Share, parts.CoolingEnergy
	out.Conditions, out.Cautions = parts.Conditions, parts.Cautions
	return out, nil
}

func (q TemperatureForIce) Show(w *reckon.Working, out TemperatureForIceResult) {
	w.Inputs(q)
	q.Reading.show(w, out)
	acts := "T_tap - m_ice/W*(T_tap + L_c)"
	if q.Reading == IceAdded {
		acts = "(W*T_tap - m_ice*L_c) / (W + m_ice)"
	}
	w.Lines(out, iceCoolingLine,
		"water temperature that has the same effect: T = "+acts+"  [heat given up by the tap water = heat taken up by the ice]")
}
