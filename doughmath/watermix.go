package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// hottestTap leaves steam and kettles out.
var hottestTap = unit.Celsius(95)

// scaldingCelsius is where hot water gets its caution. A tap-water table gives
// two hours to a second-degree burn at 45 °C, 2 minutes at 51 °C and 3 seconds
// at 60 °C (antiscald.com); the caution starts below, at what is usually taken
// as safe for long contact (memory).
const scaldingCelsius = 43

// WaterMix asks how much cold and how much hot water to draw for the water wanted:
//
//	m_hot = W*(T - T_cold) / (T_hot - T_cold),  m_cold = W - m_hot
//	x = 100*(m_hot/W)
//
// which is the heat given up by the one and taken up by the other, with one
// specific heat for both. That of water changes by less than 1 % from 0 to
// 95 °C, which moves the mixture by less than 0.1 °C. Heat lost to the pail is
// left out.
//
// Source: first law of thermodynamics, common practice; checked against the heat content of
// water by IAPWS SR6-08(2011) in testdata/cases/doughmath/water-mix.json.
//
// The inverse is [TemperatureForWaterMix].
type WaterMix struct {
	Water      unit.Mass `json:"water" sym:"W" range:">0 g..100 t"`       // water wanted
	WantedTemp unit.Temp `json:"wanted_temp" sym:"T" range:"0 °C..95 °C"` // its temperature, from that of the cold tap to that of the hot one
	Cold       unit.Temp `json:"cold" sym:"T_cold" range:"0 °C..95 °C"`   // cold or chilled water
	Hot        unit.Temp `json:"hot" sym:"T_hot" range:"0 °C..95 °C"`     // hot or tap water, warmer than the cold
}

// WaterMixResult is what to draw from each tap.
type WaterMixResult struct {
	ColdWater  unit.Mass       `json:"cold_water" sym:"m_cold"` // from the cold tap
	HotWater   unit.Mass       `json:"hot_water" sym:"m_hot"`   // from the hot tap
	HotShare   unit.Percent    `json:"hot_share" sym:"x"`       // hot water in the whole
	Conditions Conditions      `json:"conditions"`              // warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`                // hot-water, lifting
}

func (WaterMix) ID() string { return "water-mix" }

func (q WaterMix) Check(c *reckon.Checks) { q.check(c) }

func (q *WaterMix) check(c *reckon.Checks) {
	checkUpTo(c, "water", q.Water, mostMass)
	reckon.CheckTemp(c, "wanted_temp", q.WantedTemp, unit.Celsius(0), hottestTap)
	if checkTap(c, "cold", q.Cold) && checkTap(c, "hot", q.Hot) && !q.Cold.Less(q.Hot) {
		c.Fail("hot", q.Hot.String(), "warmer than the cold water of "+q.Cold.String())
	}
}

// Solve has no answer if the water wanted is colder than the cold water or warmer than the hot.
func (q WaterMix) Solve() (out WaterMixResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *WaterMix) SolveInto(out *WaterMixResult) error {
	*out = WaterMixResult{}
	c := reckon.Checks{Func: q.ID()}
	if q.check(&c); !c.OK() {
		return c.Err()
	}
	if q.WantedTemp.Less(q.Cold) || q.Hot.Less(q.WantedTemp) {
		advice := "heat the hot water more"
		if q.WantedTemp.Less(q.Cold) {
			advice = "chill the cold water or use ice"
		}
		return &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "mix of these waters", Wanted: "water of " + q.WantedTemp.String(),
			Low: q.Cold.String(), High: q.Hot.String(), Advice: advice,
		}
	}
	hot := float64(q.Water) * (q.WantedTemp.Celsius() - q.Cold.Celsius()) / (q.Hot.Celsius() - q.Cold.Celsius())
	out.ColdWater, out.HotWater, out.HotShare = q.Water-unit.Mass(hot), unit.Mass(hot), unit.Percent(100*(hot/float64(q.Water)))
	out.Conditions, out.Cautions = waterMixConditions(q.WantedTemp, q.Cold, q.Hot, out.ColdWater, out.HotWater)
	return nil
}

func (q WaterMix) Show(w *reckon.Working, out WaterMixResult) {
	w.Inputs(q)
	w.Lines(out,
		"hot water: m_hot = W*(T - T_cold) / (T_hot - T_cold)  [heat given up = heat taken up]",
		"share of hot water: x = 100*(m_hot/W)",
		"cold water: m_cold = W - m_hot",
	)
}

func checkTap(c *reckon.Checks, field string, t unit.Temp) bool {
	return reckon.CheckTemp(c, field, t, unit.Celsius(0), hottestTap)
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

// TemperatureForWaterMix asks how warm the water is when two waters are mixed:
//
//	T = (m_cold*T_cold + m_hot*T_hot) / W,  W = m_cold + m_hot
//
// It is the inverse of [WaterMix], with the same validity.
//
// Source: first law of thermodynamics, common practice.
//
// The inverse is [WaterMix].
type TemperatureForWaterMix struct {
	ColdWater unit.Mass `json:"cold_water" sym:"m_cold" range:"0 g..100 t"` // from the one tap
	Cold      unit.Temp `json:"cold" sym:"T_cold" range:"0 °C..95 °C"`      // its temperature
	HotWater  unit.Mass `json:"hot_water" sym:"m_hot" range:"-"`            // from the other, 0 to 100 t; together with the cold water 1 mg or more
	Hot       unit.Temp `json:"hot" sym:"T_hot" range:"0 °C..95 °C"`        // its temperature
}

// TemperatureForWaterMixResult is the mixture.
type TemperatureForWaterMixResult struct {
	Temperature unit.Temp       `json:"temperature" sym:"T"` // of the mixture
	Total       unit.Mass       `json:"total" sym:"W"`       // both waters
	Conditions  Conditions      `json:"conditions"`          // warm-for-yeast
	Cautions    reckon.Cautions `json:"cautions"`            // hot-water, lifting
}

func (TemperatureForWaterMix) ID() string { return "temperature-for-water-mix" }

func (q TemperatureForWaterMix) Check(c *reckon.Checks) {
	cold := reckon.CheckRange(c, "cold_water", q.ColdWater, 0, mostMass)
	if hot := reckon.CheckRange(c, "hot_water", q.HotWater, 0, mostMass); cold && hot && q.ColdWater+q.HotWater < leastMass {
		c.Fail("hot_water", q.HotWater.String(), "at least "+reckon.Text(leastMass)+" together with the cold water")
	}
	checkTap(c, "cold", q.Cold)
	checkTap(c, "hot", q.Hot)
}

func (q TemperatureForWaterMix) Solve() (out TemperatureForWaterMixResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Total = q.ColdWater + q.HotWater
	out.Temperature = unit.Celsius((float64(float64(q.ColdWater)*q.Cold.Celsius()) + float64(float64(q.HotWater)*q.Hot.Celsius())) / float64(out.Total))
	out.Conditions, out.Cautions = waterMixConditions(out.Temperature, q.Cold, q.Hot, q.ColdWater, q.HotWater)
	return out, nil
}

func (q TemperatureForWaterMix) Show(w *reckon.Working, out TemperatureForWaterMixResult) {
	w.Inputs(q)
	w.Lines(out,
		"water in all: W = m_cold + m_hot",
		"temperature of the mixture: T = (m_cold*T_cold + m_hot*T_hot) / W  [heat given up = heat taken up]",
	)
}
