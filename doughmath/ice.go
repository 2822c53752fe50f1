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

// The water that ice is reckoned for.
const mostWater unit.Mass = 1e8 // 100 t: it catches grams typed as kilograms, and keeps results finite

// Ice returns the ice and the tap water that act like the water needed:
//
//	ice = W*(T_tap - T_needed) / (T_tap + 80)      replacing part of the water
//	ice = W*(T_tap - T_needed) / (T_needed + 80)   added on top of the water
//
// with temperatures in °C and 80 C° for the heat that melts ice; in °F the
// divisors are T + 112. To divide by 80 alone leaves out that the melted ice
// warms up too, and gives about a fifth too much.
//
// It holds for ice at 0 °C that melts in the mixing time. Ice from a freezer
// cools a little more; [MixingHeat] reckons with its own temperature, and
// [IceMelt] with the size of its pieces.
//
// It returns an *[reckon.InputError] if:
//   - water is not above 0 and up to 100 t,
//   - tap is missing or outside 0 to 60 °C, or needed is missing or outside -273.15 to 60 °C,
//   - the reading is not named.
//
// It returns a *[reckon.NoSolutionError] if not even all the water as ice, or as much ice as water on top, is enough.
//
// Source: distributor's ice temperature table, koerner-co.com; cases in testdata/cases/doughmath/ice.json.
//
// The inverse is [TemperatureForIce].
type Ice struct {
	Water   unit.Mass  `json:"water"`   // the formula water, more than 0 to 100 t
	Tap     unit.Temp  `json:"tap"`     // temperature of the water at hand, 0 to 60 °C
	Needed  unit.Temp  `json:"needed"`  // water temperature needed; below 0 °C is normal; -273.15 to 60 °C
	Reading IceReading `json:"reading"` // "replacing" or "added"
}

func (Ice) ID() string { return "ice" }

// SHELL
func (q Ice) Check(c *reckon.Checks) {
	_, err := explainIce(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Ice) Solve() (IceResult, error) { return explainIce(q, nil) }

func (q Ice) Show(w *reckon.Working, _ IceResult) { _, _ = explainIce(q, w) }

// IceResult is what to weigh.
type IceResult struct {
	Ice        unit.Mass       `json:"ice"`        // ice to weigh
	TapWater   unit.Mass       `json:"tap_water"`  // water to weigh
	Total      unit.Mass       `json:"total"`      // both together
	Share      unit.Percent    `json:"share"`      // ice in the total
	Cooling    unit.Energy     `json:"cooling"`    // heat that the ice takes up in melting, at 144 Btu/lb
	Conditions Conditions      `json:"conditions"` // no-ice-needed, much-ice
	Cautions   reckon.Cautions `json:"cautions"`   // ice-handling, lifting
}

func explainIce(in Ice, w *reckon.Working) (out IceResult, err error) {
	c := reckon.Checks{Func: "ice"}
	checkIceWater(&c, in.Water, in.Tap, in.Reading)
	reckon.CheckTemp(&c, "needed", in.Needed, unit.Celsius(-unit.KelvinAtZeroCelsius), hottestReading)
	if err := c.Err(); err != nil {
		return IceResult{}, err
	}
	tap, needed := in.Tap.Celsius(), in.Needed.Celsius()
	coldest, divisor, expression := -float64(iceEquivalent), tap+float64(iceEquivalent), "W*(T_tap - T_needed) / (T_tap + L_c)"
	if in.Reading == IceAdded {
		// As much ice as water: beyond it the rule runs away.
		coldest, divisor, expression = (tap-float64(iceEquivalent))/2, needed+float64(iceEquivalent), "W*(T_tap - T_needed) / (T_needed + L_c)"
	}
	if needed < coldest {
		return IceResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "share of ice", Wanted: "water that acts like " + in.Needed.String(),
			Low: unit.Celsius(coldest).String(), High: in.Tap.String(), Advice: "cool the flour or the room as well, or accept a warmer dough",
		}
	}
	ice := float64(in.Water) * (tap - needed) / divisor
	if needed >= tap {
		ice = 0
	}
	out = iceResult(in.Water, unit.Mass(ice), in.Reading)
	if needed >= tap {
		out.Conditions |= NoIceNeeded
	}
	if w != nil {
		w.Given("formula water", "W", float64(in.Water), "g", "")
		w.Given("temperature of the tap water", "T_tap", tap, "°C", "")
		w.Given("water temperature needed", "T_needed", needed, "°C", "")
		w.Given("cooling by melting, as degrees of water", "L_c", float64(iceEquivalent), "C°", "144 Btu/lb")
		if needed >= tap {
			w.Step("ice", "ice", "0*W", ice, "g", "the tap water is cold enough")
		} else {
			w.Step("ice", "ice", expression, ice, "g", "heat given up by the tap water = heat taken up by the ice")
		}
		explainIceParts(w, in.Reading, out)
		w.Step("share of ice", "share", "100*ice / total", float64(out.Share), "%", "")
	}
	return out, nil
}

func checkIceWater(c *reckon.Checks, water unit.Mass, tap unit.Temp, reading IceReading) {
	if reckon.CheckPositive(c, "water", water) && water > mostWater {
		c.Fail("water", water.String(), "up to "+mostWater.String())
	}
	reckon.CheckTemp(c, "tap", tap, unit.Celsius(0), hottestReading)
	reckon.CheckEither(c, "reading", reading, IceReplacing, IceAdded)
}

// iceResult shares the water out and says what to look at.
func iceResult(water, ice unit.Mass, reading IceReading) (out IceResult) {
	out.Ice, out.TapWater, out.Total = ice, water-ice, water
	if reading == IceAdded {
		out.TapWater, out.Total = water, water+ice
	}
	out.Share = unit.Percent(100 * float64(ice) / float64(out.Total))
	out.Cooling = unit.Energy(float64(ice) / 1000 * tradeLatentHeat)
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

func explainIceParts(w *reckon.Working, reading IceReading, out IceResult) {
	tapWater, total := "W - ice", "W + 0*ice"
	if reading == IceAdded {
		tapWater, total = "W + 0*ice", "W + ice"
	}
	w.Step("tap water", "water", tapWater, float64(out.TapWater), "g", "")
	w.Step("ice and water together", "total", total, float64(out.Total), "g", "")
}

// TemperatureForIce returns the water temperature that ice and tap water act like:
//
//	T = T_tap - ice/W*(T_tap + 80)        replacing part of the water
//	T = (W*T_tap - ice*80) / (W + ice)    added on top of the water
//
// It is the inverse of [Ice], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - water is not above 0 and up to 100 t, or ice is outside 0 to the water,
//   - tap is missing or outside 0 to 60 °C,
//   - the reading is not named.
//
// Source: distributor's ice temperature table, koerner-co.com; cooling value of ice:
// bakingbusiness.com; cases in testdata/cases/doughmath/temperature-for-ice.json.
type TemperatureForIce struct {
	Water   unit.Mass  `json:"water"`   // the formula water, more than 0 to 100 t
	Tap     unit.Temp  `json:"tap"`     // temperature of the water at hand, 0 to 60 °C
	Ice     unit.Mass  `json:"ice"`     // ice at hand, 0 up to the water
	Reading IceReading `json:"reading"` // "replacing" or "added"
}

func (TemperatureForIce) ID() string { return "temperature-for-ice" }

// SHELL
func (q TemperatureForIce) Check(c *reckon.Checks) {
	_, err := explainTemperatureForIce(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TemperatureForIce) Solve() (TemperatureForIceResult, error) {
	return explainTemperatureForIce(q, nil)
}

func (q TemperatureForIce) Show(w *reckon.Working, _ TemperatureForIceResult) {
	_, _ = explainTemperatureForIce(q, w)
}

// TemperatureForIceResult is the water that the ice and the tap water act like.
type TemperatureForIceResult struct {
	Water      unit.Temp       `json:"water"`      // water temperature that has the same effect; below 0 °C is normal
	TapWater   unit.Mass       `json:"tap_water"`  // water to weigh
	Total      unit.Mass       `json:"total"`      // ice and water together
	Share      unit.Percent    `json:"share"`      // ice in the total
	Cooling    unit.Energy     `json:"cooling"`    // heat that the ice takes up in melting, at 144 Btu/lb
	Conditions Conditions      `json:"conditions"` // much-ice
	Cautions   reckon.Cautions `json:"cautions"`   // ice-handling, lifting
}

func explainTemperatureForIce(in TemperatureForIce, w *reckon.Working) (TemperatureForIceResult, error) {
	c := reckon.Checks{Func: "temperature-for-ice"}
	checkIceWater(&c, in.Water, in.Tap, in.Reading)
	reckon.CheckRange(&c, "ice", in.Ice, 0, max(in.Water, 0))
	if err := c.Err(); err != nil {
		return TemperatureForIceResult{}, err
	}
	tap, water, ice := in.Tap.Celsius(), float64(in.Water), float64(in.Ice)
	t, expression := tap-float64(ice/water*(tap+float64(iceEquivalent))), "T_tap - ice/W*(T_tap + L_c)"
	if in.Reading == IceAdded {
		t, expression = (float64(water*tap)-float64(ice*float64(iceEquivalent)))/(water+ice), "(W*T_tap - ice*L_c) / (W + ice)"
	}
	parts := iceResult(in.Water, in.Ice, in.Reading)
	if w != nil {
		w.Given("formula water", "W", water, "g", "")
		w.Given("ice", "ice", ice, "g", "")
		w.Given("temperature of the tap water", "T_tap", tap, "°C", "")
		w.Given("cooling by melting, as degrees of water", "L_c", float64(iceEquivalent), "C°", "144 Btu/lb")
		explainIceParts(w, in.Reading, parts)
		w.Step("water temperature that has the same effect", "T", expression, t, "°C", "heat given up by the tap water = heat taken up by the ice")
	}
	return TemperatureForIceResult{
		Water: unit.Celsius(t), TapWater: parts.TapWater, Total: parts.Total, Share: parts.Share,
		Cooling: parts.Cooling, Conditions: parts.Conditions, Cautions: parts.Cautions,
	}, nil
}
