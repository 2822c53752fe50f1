package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// WaterMix returns how much cold and hot water make the water wanted:
//
//	m_hot = W*(T - T_cold) / (T_hot - T_cold),  m_cold = W - m_hot
//
// which is the heat given up by the one and taken up by the other, with one
// specific heat for both. That of water changes by less than 1 % from 0 to
// 95 °C, which moves the mixture by less than 0.1 °C. Heat lost to the pail is
// left out.
//
// It returns an *[reckon.InputError] if:
//   - water is not above 0 and up to 100 t,
//   - cold or hot is missing or outside 0 to 95 °C, or hot is not warmer than cold,
//   - wanted is missing or outside 0 to 95 °C.
//
// It returns a *[reckon.NoSolutionError] if wanted is colder than the cold water or warmer than the hot.
//
// Source: first law of thermodynamics, common practice; checked against the heat content of
// water by IAPWS SR6-08(2011) in testdata/cases/doughmath/water-mix.json.
//
// The inverse is [TemperatureForWaterMix].
type WaterMix struct {
	Water  unit.Mass `json:"water"`  // water wanted, more than 0 to 100 t
	Wanted unit.Temp `json:"wanted"` // its temperature, from that of the cold tap to that of the hot one
	Cold   unit.Temp `json:"cold"`   // cold or chilled water, 0 to 95 °C
	Hot    unit.Temp `json:"hot"`    // hot or tap water, warmer than the cold, to 95 °C
}

func (WaterMix) ID() string { return "water-mix" }

// SHELL
func (q WaterMix) Check(c *reckon.Checks) {
	_, err := explainWaterMix(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WaterMix) Solve() (WaterMixResult, error) { return explainWaterMix(q, nil) }

func (q WaterMix) Show(w *reckon.Working, _ WaterMixResult) { _, _ = explainWaterMix(q, w) }

// WaterMixResult is what to draw from each tap.
type WaterMixResult struct {
	Cold       unit.Mass       `json:"cold"`       // from the cold tap
	Hot        unit.Mass       `json:"hot"`        // from the hot tap
	HotShare   unit.Percent    `json:"hot_share"`  // hot water in the whole
	Conditions Conditions      `json:"conditions"` // warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`   // hot-water, lifting
}

// hottestTap leaves steam and kettles out.
var hottestTap = unit.Celsius(95)

// scaldingCelsius is where hot water gets its caution. A tap-water table gives
// two hours to a second-degree burn at 45 °C, 2 minutes at 51 °C and 3 seconds
// at 60 °C (antiscald.com); the caution starts below, at what is usually taken
// as safe for long contact (memory).
const scaldingCelsius = 43

func explainWaterMix(in WaterMix, w *reckon.Working) (out WaterMixResult, err error) {
	c := reckon.Checks{Func: "water-mix"}
	if reckon.CheckPositive(&c, "water", in.Water) && in.Water > mostWater {
		c.Fail("water", in.Water.String(), "up to "+mostWater.String())
	}
	reckon.CheckTemp(&c, "wanted", in.Wanted, unit.Celsius(0), hottestTap)
	if reckon.CheckTemp(&c, "cold", in.Cold, unit.Celsius(0), hottestTap) && reckon.CheckTemp(&c, "hot", in.Hot, unit.Celsius(0), hottestTap) && !in.Cold.Less(in.Hot) {
		c.Fail("hot", in.Hot.String(), "warmer than the cold water of "+in.Cold.String())
	}
	if err := c.Err(); err != nil {
		return WaterMixResult{}, err
	}
	if in.Wanted.Less(in.Cold) || in.Hot.Less(in.Wanted) {
		advice := "heat the hot water more"
		if in.Wanted.Less(in.Cold) {
			advice = "chill the cold water or use ice"
		}
		return WaterMixResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "mix of these waters", Wanted: "water of " + in.Wanted.String(),
			Low: in.Cold.String(), High: in.Hot.String(), Advice: advice,
		}
	}
	hot := float64(in.Water) * (in.Wanted.Celsius() - in.Cold.Celsius()) / (in.Hot.Celsius() - in.Cold.Celsius())
	out = WaterMixResult{Cold: in.Water - unit.Mass(hot), Hot: unit.Mass(hot), HotShare: unit.Percent(100 * (hot / float64(in.Water)))}
	out.Conditions, out.Cautions = waterMixConditions(in.Wanted, in.Cold, in.Hot, out.Cold, out.Hot)
	if w != nil {
		w.Given("water wanted", "W", float64(in.Water), "g", "")
		w.Given("temperature wanted", "T", in.Wanted.Celsius(), "°C", "")
		w.Given("temperature of the cold water", "T_cold", in.Cold.Celsius(), "°C", "")
		w.Given("temperature of the hot water", "T_hot", in.Hot.Celsius(), "°C", "")
		w.Step("hot water", "m_hot", "W*(T - T_cold) / (T_hot - T_cold)", hot, "g", "heat given up = heat taken up")
		w.Step("share of hot water", "share", "100*(m_hot / W)", float64(out.HotShare), "%", "")
		w.Step("cold water", "m_cold", "W - m_hot", float64(out.Cold), "g", "")
	}
	return out, nil
}

func waterMixConditions(mix, cold, hot unit.Temp, coldMass, hotMass unit.Mass) (c Conditions, u reckon.Cautions) {
	if mix.Celsius() > yeastCautionCelsius {
		c |= WarmForYeast
	}
	if max(cold.Celsius(), hot.Celsius()) > scaldingCelsius {
		u |= reckon.HotWater
	}
	if coldMass > liftingMass || hotMass > liftingMass {
		u |= reckon.Lifting
	}
	return c, u
}

// TemperatureForWaterMix returns the temperature that two waters mix to:
//
//	T = (m_cold*T_cold + m_hot*T_hot) / (m_cold + m_hot)
//
// It is the inverse of [WaterMix], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - a mass is outside 0 to 100 t, or both together less than 0.001 g,
//   - cold or hot is missing or outside 0 to 95 °C.
//
// Source: first law of thermodynamics, common practice.
type TemperatureForWaterMix struct {
	ColdWater unit.Mass `json:"cold_water"` // from the one tap, 0 to 100 t
	Cold      unit.Temp `json:"cold"`       // its temperature, 0 to 95 °C
	HotWater  unit.Mass `json:"hot_water"`  // from the other, 0 to 100 t; together more than 0
	Hot       unit.Temp `json:"hot"`        // its temperature, 0 to 95 °C
}

func (TemperatureForWaterMix) ID() string { return "temperature-for-water-mix" }

// SHELL
func (q TemperatureForWaterMix) Check(c *reckon.Checks) {
	_, err := explainTemperatureForWaterMix(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TemperatureForWaterMix) Solve() (TemperatureForWaterMixResult, error) {
	return explainTemperatureForWaterMix(q, nil)
}

func (q TemperatureForWaterMix) Show(w *reckon.Working, _ TemperatureForWaterMixResult) {
	_, _ = explainTemperatureForWaterMix(q, w)
}

// TemperatureForWaterMixResult is the mixture.
type TemperatureForWaterMixResult struct {
	Temperature unit.Temp       `json:"temperature"` // of the mixture
	Total       unit.Mass       `json:"total"`       // both waters
	Conditions  Conditions      `json:"conditions"`  // warm-for-yeast
	Cautions    reckon.Cautions `json:"cautions"`    // hot-water, lifting
}

func explainTemperatureForWaterMix(in TemperatureForWaterMix, w *reckon.Working) (out TemperatureForWaterMixResult, err error) {
	c := reckon.Checks{Func: "temperature-for-water-mix"}
	ok := reckon.CheckRange(&c, "cold_water", in.ColdWater, 0, mostWater)
	ok = reckon.CheckRange(&c, "hot_water", in.HotWater, 0, mostWater) && ok
	if ok && in.ColdWater+in.HotWater < leastMass {
		c.Fail("hot_water", in.HotWater.String(), "with the cold water at least 0.001 g")
	}
	reckon.CheckTemp(&c, "cold", in.Cold, unit.Celsius(0), hottestTap)
	reckon.CheckTemp(&c, "hot", in.Hot, unit.Celsius(0), hottestTap)
	if err := c.Err(); err != nil {
		return TemperatureForWaterMixResult{}, err
	}
	total := in.ColdWater + in.HotWater
	t := (float64(float64(in.ColdWater)*in.Cold.Celsius()) + float64(float64(in.HotWater)*in.Hot.Celsius())) / float64(total)
	out = TemperatureForWaterMixResult{Temperature: unit.Celsius(t), Total: total}
	out.Conditions, out.Cautions = waterMixConditions(out.Temperature, in.Cold, in.Hot, in.ColdWater, in.HotWater)
	if w != nil {
		w.Given("cold water", "m_cold", float64(in.ColdWater), "g", "")
		w.Given("temperature of the cold water", "T_cold", in.Cold.Celsius(), "°C", "")
		w.Given("hot water", "m_hot", float64(in.HotWater), "g", "")
		w.Given("temperature of the hot water", "T_hot", in.Hot.Celsius(), "°C", "")
		w.Step("water in all", "W", "m_cold + m_hot", float64(total), "g", "")
		w.Step("temperature of the mixture", "T", "(m_cold*T_cold + m_hot*T_hot) / W", t, "°C", "heat given up = heat taken up")
	}
	return out, nil
}
