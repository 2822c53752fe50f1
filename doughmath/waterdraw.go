package doughmath

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// WaterDraw asks what to weigh, so that ice, tap water and hot water together
// act like the water needed:
//
//	needed colder than the tap: m_ice = W*(T_tap - T_w) / (T_tap - T_0 + L_c), m_hot = 0
//	needed warmer than the tap: m_hot = W*(T_w - T_tap) / (T_hot - T_tap), m_ice = 0
//	m_t = W - m_ice - m_hot
//	T = (m_t*T_tap + m_hot*T_hot + m_ice*(T_0 - L_c)) / W
//	with a division: m_ice and m_hot are rounded to whole divisions d, the tap water makes up the rest
//
// with T_0 the freezing point and L_c = 80 C° (144 F°), what melting cools by as degrees of
// water. The ice replaces water. It holds as [Ice] and [WaterMix] do, which it
// decides between; T is what the weights act like once they are rounded.
//
// It is refused if:
//   - the hot tap is no warmer than the cold one,
//   - the division exceeds the water.
//
// Source: distributor's ice temperature table, koerner-co.com; first law of thermodynamics; cases in
// testdata/cases/doughmath/water-draw.json.
//
// [TemperatureForIce] and [TemperatureForWaterMix] lead back.
type WaterDraw struct {
	Water      unit.Mass `json:"water" sym:"W" range:">0 g..100 t"`                // the formula water
	NeededTemp unit.Temp `json:"needed_temp" sym:"T_w" range:"-273.15 °C..60 °C"`  // water temperature needed; below 0 °C is normal
	Tap        unit.Temp `json:"tap" sym:"T_tap" range:"0 °C..60 °C"`              // temperature of the cold tap
	HotTap     unit.Temp `json:"hot_tap,omitzero" sym:"T_hot" range:"0 °C..95 °C"` // of the hot tap, warmer than the cold one; leave out if there is none
	Division   unit.Mass `json:"division,omitzero" sym:"d" range:"-"`              // the scale's division, no more than the water; 0 for weights that are not rounded
}

// WaterWeights is what to weigh for the water of a dough.
type WaterWeights struct {
	Ice      unit.Mass `json:"ice" sym:"m_ice"`       // ice, in the place of water
	TapWater unit.Mass `json:"tap_water" sym:"m_t"`   // from the cold tap
	HotWater unit.Mass `json:"hot_water" sym:"m_hot"` // from the hot tap
	ActsLike unit.Temp `json:"acts_like" sym:"T"`     // the temperature of water that has the same effect
}

// WaterDrawResult is what to weigh, and what to look at.
type WaterDrawResult struct {
	Ice        unit.Mass       `json:"ice" sym:"m_ice"`       // ice to weigh, in the place of water
	TapWater   unit.Mass       `json:"tap_water" sym:"m_t"`   // from the cold tap
	HotWater   unit.Mass       `json:"hot_water" sym:"m_hot"` // from the hot tap
	ActsLike   unit.Temp       `json:"acts_like" sym:"T"`     // the temperature of water that has the same effect
	Conditions Conditions      `json:"conditions"`            // much-ice, warmer-than-tap, rounded
	Cautions   reckon.Cautions `json:"cautions"`              // ice-handling, hot-water, lifting
}

func (WaterDraw) ID() string { return "water-draw" }

func (q WaterDraw) Check(c *reckon.Checks) {
	checkUpTo(c, "water", q.Water, mostMass)
	reckon.CheckTemp(c, "needed_temp", q.NeededTemp, unit.Celsius(-unit.KelvinAtZeroCelsius), hottestReading)
	checkTaps(c, q.Tap, q.HotTap)
	if q.Division != 0 && !(q.Division >= smallestMass) {
		c.Fail("division", reckon.Text(q.Division), "left out, or "+reckon.Text(smallestMass)+" or more")
	} else if q.Water > 0 && q.Division > q.Water {
		c.Fail("division", reckon.Text(q.Division), "no more than the water of "+reckon.Text(q.Water)+": use a finer scale")
	}
}

// checkTaps requires a cold tap, and a hot one that is hot if it is there.
func checkTaps(c *reckon.Checks, tap, hot unit.Temp) {
	tapOK := reckon.CheckTemp(c, "tap", tap, unit.Celsius(0), hottestReading)
	if hot.Given() && checkTap(c, "hot_tap", hot) && tapOK && !tap.Less(hot) {
		c.Fail("hot_tap", hot.String(), "warmer than the cold tap of "+tap.String())
	}
}

// Solve has no answer if even all the water as ice is not enough, or if the hot
// tap is not hot enough. Without a hot tap, water warmer than the tap is told
// by the condition warmer-than-tap, and the tap water is there to be heated.
func (q WaterDraw) Solve() (out WaterDrawResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	supply := WaterSupply{Water: q.Water, Tap: q.Tap, HotTap: q.HotTap}
	weigh, conditions, cautions, err := supply.draw(q.ID(), q.NeededTemp, float64(iceEquivalent), q.Division)
	return WaterDrawResult{weigh.Ice, weigh.TapWater, weigh.HotWater, weigh.ActsLike, conditions, cautions}, err
}

func (q WaterDraw) Show(w *reckon.Working, out WaterDrawResult) {
	w.Inputs(q)
	showTradeCooling(w)
	showDraw(w, out, WaterSupply{Tap: q.Tap, HotTap: q.HotTap}, "T_w", q.NeededTemp, q.Division)
}

// WaterSupply is the water of a dough and where it comes from. With it an
// answer leads with what to weigh.
type WaterSupply struct {
	Water  unit.Mass `json:"water,omitzero" sym:"W" range:"-"`       // the formula water, up to 100 t, with the tap; leave both out if the temperature is all that is asked
	Tap    unit.Temp `json:"tap,omitzero" sym:"T_tap" range:"-"`     // temperature of the cold tap, 0 to 60 °C, with the water
	HotTap unit.Temp `json:"hot_tap,omitzero" sym:"T_hot" range:"-"` // of the hot tap, warmer than the cold one and up to 95 °C; leave out if there is none
}

func (s *WaterSupply) given() bool {
	return s.Water != 0 || s.Tap != (unit.Temp{}) || s.HotTap != (unit.Temp{})
}

func (s *WaterSupply) check(c *reckon.Checks) {
	if s.given() {
		checkUpTo(c, "water", s.Water, mostMass)
		checkTaps(c, s.Tap, s.HotTap)
	}
}

// weigh adds what to weigh to an answer, if there is a supply to weigh it from.
func (s WaterSupply) weigh(id string, needed unit.Temp, out *WaterWeights, c *Conditions, u *reckon.Cautions) error {
	if !s.given() {
		return nil
	}
	weights, conditions, cautions, err := s.draw(id, needed, float64(iceEquivalent), 0)
	if err != nil {
		return err
	}
	*out = weights
	// The kilograms are there, so nobody has to be told to find them.
	*c = *c&^BelowFreezing | conditions
	*u |= cautions
	return nil
}

// show records what weigh adds.
func (s WaterSupply) show(w *reckon.Working, out WaterWeights, symbol string, needed unit.Temp) {
	if s.given() {
		showTradeCooling(w)
		showDraw(w, out, s, symbol, needed, 0)
	}
}

// draw decides between ice, tap and hot tap. cooling is how far melting ice
// cools as much water, in C°.
func (s WaterSupply) draw(id string, needed unit.Temp, cooling float64, division unit.Mass) (out WaterWeights, c Conditions, u reckon.Cautions, err error) {
	tap, water := s.Tap.Celsius(), float64(s.Water)
	ice, hot := 0.0, 0.0
	switch short := needed.Celsius() - tap; {
	case needed.Celsius() < -cooling:
		return out, 0, 0, &reckon.NoSolutionError{
			Func: id, Unknown: "share of ice", Wanted: "water that acts like " + needed.String(),
			Low: unit.Celsius(-cooling).String(), High: s.warmest().String(), Advice: "cool the flour or the room as well, or accept a warmer dough",
		}
	case short < 0:
		ice = water * -short / (tap + cooling)
	case s.HotTap.Less(needed): // there is one, and it is colder
		return out, 0, 0, &reckon.NoSolutionError{
			Func: id, Unknown: "mix of these waters", Wanted: "water of " + needed.String(),
			Low: unit.Celsius(-cooling).String(), High: s.HotTap.String(), Advice: "heat the hot water more, or warm the flour",
		}
	case s.HotTap.Given():
		hot = water * short / (s.HotTap.Celsius() - tap)
	case short > roundingSlack:
		c |= WarmerThanTap
	}
	out.Ice, out.HotWater = wholeDivisions(ice, water, division), wholeDivisions(hot, water, division)
	out.TapWater = s.Water - out.Ice - out.HotWater
	heat := float64(float64(out.TapWater)*tap) - float64(float64(out.Ice)*cooling)
	if out.HotWater > 0 {
		heat += float64(float64(out.HotWater) * s.HotTap.Celsius())
	}
	out.ActsLike = unit.Celsius(heat / water)
	if math.Abs(ice+hot-float64(out.Ice+out.HotWater)) > roundingSlack*water {
		c |= reckon.Rounded
	}
	if float64(out.Ice)*100 > float64(muchIceShare)*water {
		c |= MuchIce
	}
	if out.Ice > 0 {
		u |= reckon.IceHandling
	}
	if out.HotWater > 0 && s.HotTap.Celsius() > scaldingCelsius || out.TapWater > 0 && tap > scaldingCelsius {
		u |= reckon.HotWater
	}
	if max(out.Ice, out.TapWater, out.HotWater) > liftingMass {
		u |= reckon.Lifting
	}
	return out, c, u, nil
}

// warmest is the warmest water that there is.
func (s WaterSupply) warmest() unit.Temp {
	if s.HotTap.Given() {
		return s.HotTap
	}
	return s.Tap
}

// wholeDivisions rounds a part of the water to the scale, but never above the
// whole divisions that there are. What arithmetic leaves over is nothing.
func wholeDivisions(part, water float64, division unit.Mass) unit.Mass {
	switch {
	case isNoIce(unit.Mass(part), unit.Mass(water)):
		return 0
	case division == 0:
		return unit.Mass(part)
	}
	d := float64(division)
	return unit.Mass(min(math.Round(part/d), wholeBelow(water/d)) * d)
}

// showDraw records how the water is drawn. The water has the symbol W, what is needed
// the symbol given, and what melting cools by L_c.
func showDraw(w *reckon.Working, out any, s WaterSupply, symbol string, needed unit.Temp, division unit.Mass) {
	ice, hot := "0 in g", "0 in g"
	switch {
	case needed.Less(s.Tap):
		ice = "W*(T_tap - " + symbol + ") / (T_tap - T_0 + L_c) in g  [heat given up by the tap water = heat taken up by the ice]"
	case s.HotTap.Given():
		hot = "W*(" + symbol + " - T_tap) / (T_hot - T_tap) in g  [heat given up = heat taken up]"
	}
	round := func(x string) string {
		if division == 0 {
			return x
		}
		return "min(round(" + x + "/d), floor(W/d))*d"
	}
	heat := "m_t*T_tap + m_ice*(T_0 - L_c)"
	if s.HotTap.Given() {
		heat += " + m_hot*T_hot"
	}
	showFreezing(w)
	w.Lines(out,
		"ice before rounding: e_ice = "+ice,
		"hot water before rounding: e_hot = "+hot,
		"ice: m_ice = "+round("e_ice"),
		"hot water: m_hot = "+round("e_hot"),
		"tap water: m_t = W - m_ice - m_hot",
		"acts like water of: T = ("+heat+") / W",
	)
}
