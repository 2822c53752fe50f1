package doughmath

import (
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// thermometerReading is what a bakery thermometer is good for. Common practice.
const thermometerReading unit.TempDelta = 0.5

// MixingHeat asks how warm the dough will be by the heat balance, and what the
// factor rule says of the same batch:
//
//	T_d = (Q + E + H - Q_out) / C
//	Q = sum m_i*c_i*T_i + C_b*T_b - Q_ice,  C = sum m_i*c_i + m_ice*C_w/m_w + C_b
//	E = e*M or P*t_m,  H = q*m_f,  Q_ice = m_ice*h_ice(T_ice),  C_b = m_b*c_b
//	M = sum m_i + m_ice,  c_d = (C - C_b)/M,  dT = (E + H - Q_out)/C
//	x_f = 100*C_f/C,  x_w = 100*C_w/C
//
//	F = N*T_d - (T_f + T_w + T_r + T_p),  r = F/N
//	T_rule = (T_f + T_w + T_r + T_p + F_now)/N,  F_now = f or N*f,  D = T_rule - T_d
//
// with masses in kg; m, c and T of each ingredient and, with the index b, of
// the bowl; m_f, C_f, T_f and m_w, C_w, T_w the mass, heat capacity and
// temperature of all the flour and all the water that is in no preferment, and T_p the
// temperature of the preferments, if there are any; m_ice the ice and h_ice the
// heat that makes it water of 0 °C, with the heat of melting that is named; E the mixing work, q the heat of hydration
// for each kilogram of flour, and Q_out what a jacket takes out. The flour of a preferment gave its heat of hydration
// off when that was mixed, and gives none.
//
// The rule and the balance differ because the rule gives every temperature the
// same weight, 1/N, while heat weighs flour and water by mass and specific
// heat, some 40 to 60 in a common dough, and gives the room none. A friction
// that makes the rule right is right for this batch and day only; it is
// returned in both readings. An ingredient that is neither flour nor water counts in the balance, not in the rule.
//
// It holds if all the ice melts and little heat is lost unless Q_out says so. Work, hydration and specific heats are
// estimates: measure one dough and let [WorkForMixingHeat] find the work, which then carries the losses of your mixer too.
//
// It is refused if:
//   - there is no flour or no water, besides that of preferments,
//   - a temperature is missing, or a specific heat where the model has none,
//   - both work and power are given, or one of power and time alone,
//   - friction is given without its basis.
//
// Source: first law of thermodynamics; heat of hydration bakingbusiness.com, Bakers Dictionary; flour
// Y. A. Cengel, M. A. Boles, Thermodynamics, 8th ed., problem 5-157; ice IAPWS R10-06(2009); cases in testdata/cases/doughmath/mixing-heat.json.
//
// The inverses are [WaterForMixingHeat], [IceForMixingHeat] and [WorkForMixingHeat].
type MixingHeat struct {
	MixingBatch
	Room     unit.Temp       `json:"room,omitzero" sym:"T_r" range:"-40 °C..60 °C"`   // room temperature; leave out for the two-factor rule
	Friction *unit.TempDelta `json:"friction,omitzero" sym:"f" range:"-20 C°..60 C°"` // the friction now used, in the reading named by friction_basis; none is written as 0 C°
	Basis    FrictionBasis   `json:"friction_basis,omitzero"`                         // "once" or "per-factor"; leave both out if the rule is not to be compared
}

// MixingHeatResult is the dough by the heat balance, and the factor rule beside it.
type MixingHeatResult struct {
	DoughTemp       unit.Temp         `json:"dough_temp" sym:"T_d"`             // dough temperature at the end of mixing
	Mass            unit.Mass         `json:"mass" sym:"M"`                     // dough, ice included
	SpecificHeat    unit.SpecificHeat `json:"specific_heat" sym:"c_d"`          // of the dough
	WorkHeat        unit.Energy       `json:"work_heat" sym:"E"`                // from mixing
	HeatOfHydration unit.Energy       `json:"heat_of_hydration" sym:"H"`        // from the flour taking up water
	IceHeat         unit.Energy       `json:"ice_heat" sym:"Q_ice"`             // taken up by the ice until it is water of 0 °C
	Rise            unit.TempDelta    `json:"rise" sym:"dT"`                    // what work and hydration, less the cooling, add to the dough
	FlourShare      unit.Percent      `json:"flour_share" sym:"x_f"`            // how far one degree of the flour moves the dough; the factor rule says 100/N
	WaterShare      unit.Percent      `json:"water_share" sym:"x_w"`            // how far one degree of the water moves it; the factor rule says 100/N
	Factors         int               `json:"factors" sym:"N"`                  // N of the factor rule: water and flour, the room if given, and preferments if there are any
	Once            unit.TempDelta    `json:"once" sym:"F"`                     // the friction, taken off once, with which the factor rule says the same
	PerFactor       unit.TempDelta    `json:"per_factor" sym:"r"`               // the same for each factor
	RuleDough       unit.Temp         `json:"rule_dough,omitzero" sym:"T_rule"` // dough by the factor rule with the friction given; not given without one
	Difference      unit.TempDelta    `json:"difference" sym:"D"`               // the rule's dough less the balance's; 0 without a friction
	Conditions      Conditions        `json:"conditions"`                       // uncalibrated, from-memory, below-freezing, warm-for-yeast, cold-for-dry-yeast, much-ice, energy-differs, friction-negative
	Cautions        reckon.Cautions   `json:"cautions"`                         // hot-water, ice-handling, lifting
}

func (MixingHeat) ID() string { return "mixing-heat" }

func (q MixingHeat) Check(c *reckon.Checks) {
	q.check(c, false)
	q.checkPoured(c)
	checkGiven(c, "room", q.Room)
	switch {
	case q.Friction != nil:
		q.Basis.check(c, *q.Friction)
	case q.Basis != "":
		c.Fail("friction", "not given", "the friction now used, 0 C° if there is none; or leave friction_basis out too")
	}
}

// Solve has no answer if the balance ends below 0 °C, where not all ice melts, or above 60 °C.
func (q MixingHeat) Solve() (out MixingHeatResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	s := q.sum()
	work, hydration := q.workHeat(&s), q.hydration(&s)
	gain := work + hydration - float64(q.CoolingEnergy)
	dough := (s.heat + gain) / s.capacity
	if !(dough >= 0 && dough <= hottestReading.Celsius()) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "usable dough", Wanted: "a heat balance that ends at " + unit.Celsius(dough).String(),
			Low: "0 °C", High: hottestReading.String(), Advice: "below 0 °C the ice does not all melt: take less; above, check work and cooling",
		}
	}
	out.DoughTemp, out.Mass, out.SpecificHeat = unit.Celsius(dough), unit.Mass(s.mass), unit.SpecificHeat((s.capacity-s.bowlCapacity)/(s.mass/1000))
	out.WorkHeat, out.HeatOfHydration, out.IceHeat = unit.Energy(work), unit.Energy(hydration), unit.Energy(-s.iceHeat+0)
	out.Rise = unit.TempDelta(gain / s.capacity)
	out.FlourShare, out.WaterShare = unit.Percent(100*s.flourCapacity/s.capacity), unit.Percent(100*s.waterCapacity/s.capacity)
	out.Conditions, out.Cautions = q.conditions(&s)
	q.compare(&s, &out)
	return out, nil
}

// compares reports whether a friction is given, to hold the rule against the balance.
func (q *MixingHeat) compares() bool { return q.Friction != nil }

// compare finds the friction with which the factor rule says the same, and how
// far the rule is off with the friction that is used.
func (q *MixingHeat) compare(s *batchHeat, out *MixingHeatResult) {
	// The factor rule takes ice and water as one water that has the same effect.
	water := (s.waterDegrees - float64(s.ice*float64(iceEquivalent))) / (s.water + s.ice)
	flour := s.flourDegrees / s.flour
	out.Factors = 2
	known := flour + water
	if q.Room.Given() {
		out.Factors++
		known += q.Room.Celsius()
	}
	if s.preferment > 0 {
		out.Factors++
		known += s.prefermentDegrees / s.preferment
	}
	n := float64(out.Factors)
	out.Once = unit.TempDelta(float64(n*out.DoughTemp.Celsius()) - known)
	out.PerFactor = out.Once / unit.TempDelta(n)
	if out.Once < 0 {
		out.Conditions |= FrictionNegative
	}
	if q.compares() {
		out.RuleDough = unit.Celsius((known + float64(q.Basis.once(*q.Friction, out.Factors))) / n)
		out.Difference = out.RuleDough.Sub(out.DoughTemp)
		if out.Difference > thermometerReading || out.Difference < -thermometerReading {
			out.Conditions |= EnergyDiffers
		}
	}
}

func (q MixingHeat) Show(w *reckon.Working, out MixingHeatResult) {
	w.Inputs(q)
	q.show(w, out)
	ice, melting, degrees, allWater := "0 in kJ  [no ice]", "", q.sumOf("m_#*T_#", (*HeatIngredient).isWater), "m_w"
	if q.Ice > 0 {
		ice, melting, degrees, allWater = "m_ice/1000{g/kg}*h_ice", "; melting counts as 80 C°", degrees+" - m_ice*80", "(m_w + m_ice)"
	}
	known := "T_f + T_w"
	if q.Room.Given() {
		known += " + T_r"
	}
	if slices.ContainsFunc(q.Ingredients, func(x HeatIngredient) bool { return x.Preferment }) {
		known += " + T_p"
		preferment := (*HeatIngredient).isOfPreferment
		w.Lines(out, "temperature of the preferments: T_p = ("+q.sumOf("m_#*T_#", preferment)+") / ("+q.sumOf("m_#", preferment)+") in °C  [mean by mass]")
	}
	w.Lines(out,
		"heat from mixing: E = "+q.workSheet()+" in kJ",
		"heat of hydration: H = q*m_f/1000{g/kg}  [for each kg of flour that is in no preferment]",
		"heat taken up by the ice: Q_ice = "+ice,
		"heat capacity of the flour: C_f = "+q.sumOf("m_#/1000{g/kg}*c_#", (*HeatIngredient).isFlour)+" in kJ/K",
		"specific heat of the dough: c_d = (C - C_b) / (M/1000{g/kg})",
		"what work and hydration, less the cooling, add: dT = (E + H - Q_out) / C",
		"how far one degree of the flour moves the dough: x_f = 100*C_f / C",
		"how far one degree of the water moves the dough: x_w = 100*C_w / C",
		"dough temperature: T_d = (Q + E + H - Q_out) / C  [first law of thermodynamics]",
		"flour temperature: T_f = ("+q.sumOf("m_#*T_#", (*HeatIngredient).isFlour)+") / m_f in °C  [mean by mass]",
		"water temperature, ice reckoned in: T_w = ("+degrees+") / "+allWater+" in °C  [mean by mass"+melting+"]",
		"factors counted, the water included: N = 1 + count("+strings.ReplaceAll(strings.Replace(known, "T_f + T_w", "T_f", 1), " + ", ", ")+")",
		"friction with which the factor rule says the same: F = N*T_d - ("+known+")  [factor rule]",
		"the same for each factor: r = F / N",
	)
	if q.compares() {
		if *q.Friction == 0 && w != nil {
			w.Given("friction", "f", 0, "C°", "") // a symbol that is zero is not among the inputs
		}
		w.Lines(out,
			"friction now used, as it is taken off: F_now = "+q.Basis.sheet(),
			"dough by the factor rule: T_rule = ("+known+" + F_now) / N  [factor rule]",
			"difference: D = T_rule - T_d",
		)
	}
}

// WaterForMixingHeat asks how warm the water must be to bring the dough to the
// target by the heat balance:
//
//	T_w = (C*T_d - Q - G) / C_x,  G = E + H - Q_out
//	Q = sum m_i*c_i*T_i + C_b*T_b - Q_ice,  C = sum m_i*c_i + m_ice*C_w/m_w + C_b
//	E = e*M or P*t_m,  H = q*m_f,  Q_ice = m_ice*h_ice(T_ice),  C_b = m_b*c_b
//
// with C the heat capacity of everything, Q the heat that the rest brings in,
// and C_x the heat capacity of the water to be found, which is the water
// without a temperature; the other symbols are those of [MixingHeat].
//
// It is an inverse of [MixingHeat], with the same validity. A
// result below freezing is normal and means ice; below -80 °C even all of
// this water as ice is not enough.
//
// It is refused if:
//   - no water is left without a temperature,
//   - [MixingHeat] refuses the batch.
//
// Source: first law of thermodynamics; cases in testdata/cases/doughmath/water-for-mixing-heat.json.
//
// The inverse is [MixingHeat].
type WaterForMixingHeat struct {
	MixingBatch
	TargetTemp unit.Temp `json:"target_temp" sym:"T_d" range:"0 °C..45 °C"`        // wanted dough temperature
	Tap        unit.Temp `json:"tap,omitzero" sym:"T_tap" range:"0 °C..60 °C"`     // temperature of the cold tap; with it, and with ice_temp, the answer leads with what to weigh
	HotTap     unit.Temp `json:"hot_tap,omitzero" sym:"T_hot" range:"0 °C..95 °C"` // of the hot tap, warmer than the cold one; leave out if there is none
}

// WaterForMixingHeatResult is the water to use.
type WaterForMixingHeatResult struct {
	Weigh      WaterWeights    `json:"weigh,omitzero"`       // ice, tap water and hot water, if the tap is given
	WaterTemp  unit.Temp       `json:"water_temp" sym:"T_w"` // may be below freezing: see the conditions and [IceForMixingHeat]
	Conditions Conditions      `json:"conditions"`           // below-freezing, colder-than-all-ice, warm-for-yeast, cold-for-dry-yeast, uncalibrated, from-memory, much-ice, warmer-than-tap
	Cautions   reckon.Cautions `json:"cautions"`             // hot-water, ice-handling, lifting
}

func (WaterForMixingHeat) ID() string { return "water-for-mixing-heat" }

func (q WaterForMixingHeat) Check(c *reckon.Checks) {
	checkTarget(c, "target_temp", q.TargetTemp)
	q.check(c, true)
	q.checkPoured(c)
	if q.draws() {
		checkTaps(c, q.Tap, q.HotTap)
		if q.Ice == 0 && !q.IceTemp.Given() {
			c.Fail("ice_temp", "not given", "the temperature of the ice, of which some may be needed")
		}
	}
}

// draws reports whether the water is to be made of ice and taps.
func (q WaterForMixingHeat) draws() bool { return q.Tap.Given() || q.HotTap.Given() }

// Solve has no answer if the water would have to be above 45 °C and meets the
// yeast, above 55 °C whatever the yeast, or below
// absolute zero (-273.15 °C), where the number no longer stands for any water
// or ice. The range that it names reaches from all of this water as ice, which
// acts like water of -80 °C, to the hottest water, and it says what flour would do.
func (q WaterForMixingHeat) Solve() (out WaterForMixingHeatResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	s := q.sum()
	gain := q.workHeat(&s) + q.hydration(&s) - float64(q.CoolingEnergy)
	water := unit.Celsius((float64(s.capacity*q.TargetTemp.Celsius()) - s.heat - gain) / s.unknown)
	if !q.fits(water) {
		// The heat that the hottest water falls short of, from the flour instead.
		short := unit.TempDelta((water.Celsius() - q.hottest()) * s.unknown / s.flourCapacity)
		return out, q.noWater(q.ID(), "a dough of "+q.TargetTemp.String(), water, "flour "+short.String()+" warmer would do", func(t float64) string {
			return unit.Celsius((s.heat + gain + float64(s.unknown*t)) / s.capacity).String()
		})
	}
	out.WaterTemp = water
	out.Conditions, out.Cautions = q.waterConditions(water)
	conditions, cautions := q.conditions(&s)
	out.Conditions, out.Cautions = out.Conditions|conditions, out.Cautions|cautions
	if out.Conditions.Has(ColderThanAllIce) {
		out.Conditions &^= BelowFreezing // another water's, which has no ice to spare either
	}
	if q.draws() {
		supply := WaterSupply{Water: unit.Mass(s.open), Tap: q.Tap, HotTap: q.HotTap}
		out.Weigh, conditions, cautions, err = supply.draw(q.ID(), water, q.heatToMelt()*s.open/1000/s.unknown, 0)
		if err != nil {
			return WaterForMixingHeatResult{}, err
		}
		out.Conditions, out.Cautions = out.Conditions&^BelowFreezing|conditions, out.Cautions|cautions
	}
	return out, nil
}

func (q WaterForMixingHeat) Show(w *reckon.Working, out WaterForMixingHeatResult) {
	w.Inputs(q)
	q.show(w, out)
	w.Lines(out,
		"heat capacity of the water to be found: C_x = "+q.sumOf("m_#/1000{g/kg}*c_#", (*HeatIngredient).isOpen)+" in kJ/K",
		"heat from mixing: E = "+q.workSheet()+" in kJ",
		"heat of hydration: H = q*m_f/1000{g/kg} in kJ  [for each kg of flour that is in no preferment]",
		"heat from mixing, hydration and cooling: G = E + H - Q_out in kJ",
		"water temperature: T_w = (C*T_d - Q - G) / C_x  [first law of thermodynamics]",
	)
	if !q.draws() {
		return
	}
	if q.Ice == 0 {
		w.Lines(out, q.meltLines()...)
	}
	w.Lines(out,
		"water to be found: W = "+q.sumOf("m_#", (*HeatIngredient).isOpen)+" in g",
		"cooling by melting, as degrees of this water: L_c = h_ice*W/1000{g/kg}/C_x in C°",
	)
	showDraw(w, out, WaterSupply{Tap: q.Tap, HotTap: q.HotTap}, "T_w", out.WaterTemp, 0)
}

// IceForMixingHeat asks how much ice brings the dough to the target by the heat balance:
//
//	m_ice = D / (c_w*T_w + h_ice(T_ice)),      m_t = m_w - m_ice    replacing part of the water
//	m_ice = D / (h_ice(T_ice) + c_w*T_d - e),  m_t = m_w            added on top of the water
//	D = Q + E + H - Q_out - C*T_d,  x = 100*m_ice/(m_t + m_ice)
//	Q = sum m_i*c_i*T_i + C_b*T_b,  C = sum m_i*c_i + C_b
//	E = e*M or P*t_m,  H = q*m_f,  C_b = m_b*c_b
//
// with D the heat that is too much without ice, T_w the tap water, c_w = C_w/m_w its
// specific heat, h_ice the heat that makes ice of T_ice water of 0 °C, and e the
// mixing work for each kilogram of dough, which added ice brings along; the
// other symbols are those of [MixingHeat].
//
// It is an inverse of [MixingHeat], with the same validity: the dough
// with this ice is at the target. If it is there without any, no ice is needed. If
// it is colder than that without any, no ice brings it to the target: warm the water, with [WaterForMixingHeat].
//
// It is refused if:
//   - the batch has ice already, or the temperature of the ice is missing,
//   - [MixingHeat] refuses the batch.
//
// Source: first law of thermodynamics; ice IAPWS R10-06(2009); cases in testdata/cases/doughmath/ice-for-mixing-heat.json.
//
// The inverse is [MixingHeat].
type IceForMixingHeat struct {
	MixingBatch            // without ice; the temperature of the ice is needed
	TargetTemp  unit.Temp  `json:"target_temp" sym:"T_d" range:"0 °C..45 °C"` // wanted dough temperature
	Reading     IceReading `json:"reading"`                                   // "replacing" or "added"
}

// IceForMixingHeatResult is what to weigh.
type IceForMixingHeatResult struct {
	Ice        unit.Mass       `json:"ice" sym:"m_ice"`     // ice to weigh
	TapWater   unit.Mass       `json:"tap_water" sym:"m_t"` // water to weigh
	Share      unit.Percent    `json:"share" sym:"x"`       // ice in both together
	Conditions Conditions      `json:"conditions"`          // no-ice-needed, much-ice, uncalibrated, from-memory, below-freezing, warm-for-yeast, cold-for-dry-yeast
	Cautions   reckon.Cautions `json:"cautions"`            // hot-water, ice-handling, lifting
}

func (IceForMixingHeat) ID() string { return "ice-for-mixing-heat" }

func (q IceForMixingHeat) Check(c *reckon.Checks) {
	checkTarget(c, "target_temp", q.TargetTemp)
	reckon.CheckEither(c, "reading", q.Reading, IceReplacing, IceAdded)
	if q.Ice != 0 {
		c.Fail("ice", q.Ice.String(), "left out: it is what is to be found")
		q.Ice = 0 // said once
	}
	if !q.IceTemp.Given() {
		checkIceTemp(c, q.IceTemp)
	}
	q.check(c, false)
	q.checkPoured(c)
}

// Solve has no answer if even all the water as ice, or as much ice as water on
// top, is not enough, or if the dough is colder than wanted without any ice. The
// range that it names reaches from that much ice, or the 0 °C at which it no
// longer all melts, to no ice.
func (q IceForMixingHeat) Solve() (out IceForMixingHeatResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	s := q.sum()
	target, melt := q.TargetTemp.Celsius(), q.heatToMelt()
	waterHeat := s.waterCapacity / (s.water / 1000)
	// Waters may differ in specific heat; what counts is the heat they bring.
	tap := s.waterHeat / s.waterCapacity
	surplus := s.heat + q.workHeat(&s) + q.hydration(&s) - float64(q.CoolingEnergy) - float64(s.capacity*target)
	perKilogram := float64(waterHeat*tap) + melt
	if q.Reading == IceAdded {
		perKilogram = melt + float64(waterHeat*target) - float64(q.Work)
	}
	ice := 1000 * surplus / perKilogram
	none := isNoIce(unit.Mass(ice), unit.Mass(s.water))
	if none {
		ice = 0
	}
	warmer := surplus / s.capacity // than the target, without ice
	if ice > s.water || warmer < -roundingSlack {
		without := surplus + float64(s.capacity*target)
		low := (without - float64(perKilogram*s.water/1000)) / s.capacity
		if q.Reading == IceAdded {
			low = (without - float64((melt-float64(q.Work))*s.water/1000)) / (s.capacity + s.waterCapacity)
		}
		return out, q.noIce(max(0, low), without/s.capacity, warmer)
	}
	var parts IceResult
	parts.share(unit.Mass(s.water), unit.Mass(ice), q.Reading)
	out.Ice, out.TapWater, out.Share = parts.Ice, parts.TapWater, parts.Share
	out.Conditions, out.Cautions = q.conditions(&s)
	out.Conditions, out.Cautions = out.Conditions|parts.Conditions, out.Cautions|parts.Cautions
	if none {
		out.Conditions |= NoIceNeeded
	}
	return out, nil
}

// noIce refuses a dough that lies outside what ice can do, from all of it to none.
func (q *IceForMixingHeat) noIce(low, high, warmer float64) error {
	err := &reckon.NoSolutionError{
		Func: q.ID(), Unknown: "share of ice", Wanted: "a dough of " + q.TargetTemp.String(),
		Low: unit.Celsius(low).String(), High: unit.Celsius(high).String(), Advice: "cool the flour or the bowl as well, mix slower, or accept a warmer dough",
	}
	if warmer < 0 {
		err.Advice = "without any ice the dough is " + unit.TempDelta(-warmer).String() + " too cold: warm the water"
		if high < low {
			err.Low = "" // the batch freezes with no ice at all
		}
	}
	return err
}

func (q IceForMixingHeat) Show(w *reckon.Working, out IceForMixingHeatResult) {
	w.Inputs(q)
	q.show(w, out)
	ice, tap := "1000{g/kg}*D / (C_w/(m_w/1000{g/kg})*T_w + h_ice)", "m_w - m_ice"
	if q.Reading == IceAdded {
		ice, tap = "1000{g/kg}*D / (h_ice + C_w/(m_w/1000{g/kg})*T_d)", "m_w"
		if q.Work != 0 {
			ice = "1000{g/kg}*D / (h_ice + C_w/(m_w/1000{g/kg})*T_d - e)"
		}
	}
	if out.Conditions.Has(NoIceNeeded) {
		ice = "0  [the dough is cold enough]"
	}
	w.Lines(out, q.meltLines()...)
	w.Lines(out,
		"temperature of the tap water: T_w = ("+q.sumOf("m_#/1000{g/kg}*c_#*T_#", (*HeatIngredient).isWater)+") / C_w in °C  [mean by heat capacity]",
		"heat from mixing: E = "+q.workSheet()+" in kJ",
		"heat of hydration: H = q*m_f/1000{g/kg} in kJ  [for each kg of flour that is in no preferment]",
		"heat that is too much without ice: D = Q + E + H - Q_out - C*T_d in kJ  [first law of thermodynamics]",
		"ice: m_ice = "+ice,
		"tap water: m_t = "+tap,
		"share of ice: x = 100*m_ice / (m_t + m_ice)",
	)
}

// WorkForMixingHeat asks for the mixing work that explains a measured dough temperature:
//
//	E = C*T_d - Q - H + Q_out,  e = E/M
//	Q = sum m_i*c_i*T_i + C_b*T_b - Q_ice,  C = sum m_i*c_i + m_ice*C_w/m_w + C_b
//	H = q*m_f,  Q_ice = m_ice*h_ice(T_ice),  C_b = m_b*c_b,  M = sum m_i + m_ice
//
// with the symbols of [MixingHeat].
//
// Use it to calibrate the balance: the work found also carries what the mixer
// loses to the room and what the estimates of hydration and specific heat miss,
// so it is good for the same mixer, time, and doughs of about that size.
//
// It is an inverse of [MixingHeat]. Published figures are 30 kJ/kg, from which on a dough gets
// no denser (Chin and Campbell 2005), and 40 kJ/kg for mechanical development; slow mixers put in less. Above 200 kJ/kg
// it is outside of any source.
//
// It is refused if:
//   - the batch has work, power or time already,
//   - [MixingHeat] refuses the batch.
//
// Source: first law of thermodynamics; cases in testdata/cases/doughmath/work-for-mixing-heat.json.
//
// The inverse is [MixingHeat].
type WorkForMixingHeat struct {
	MixingBatch           // without work, power and time
	DoughTemp   unit.Temp `json:"dough_temp" sym:"T_d" range:"0 °C..60 °C"` // dough temperature that came out
}

// WorkForMixingHeatResult is the work that explains the dough.
type WorkForMixingHeatResult struct {
	Work        unit.SpecificEnergy `json:"work" sym:"e"`         // effective mixing work for each kg of dough
	TotalEnergy unit.Energy         `json:"total_energy" sym:"E"` // for the batch
	Conditions  Conditions          `json:"conditions"`           // friction-negative, outside-source, from-memory
}

func (WorkForMixingHeat) ID() string { return "work-for-mixing-heat" }

func (q WorkForMixingHeat) Check(c *reckon.Checks) {
	reckon.CheckTemp(c, "dough_temp", q.DoughTemp, unit.Celsius(0), hottestReading)
	if q.Work != 0 {
		c.Fail("work", q.Work.String(), "left out: it is what is to be found")
	}
	if q.Power != 0 {
		c.Fail("power", q.Power.String(), "left out: the work is what is to be found")
	}
	if q.Time != 0 {
		c.Fail("time", q.Time.String(), "left out: the work is what is to be found")
	}
	q.Work, q.Power, q.Time = 0, 0, 0 // said once
	q.check(c, false)
}

func (q WorkForMixingHeat) Solve() (out WorkForMixingHeatResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	s := q.sum()
	total := float64(s.capacity*q.DoughTemp.Celsius()) - s.heat - q.hydration(&s) + float64(q.CoolingEnergy)
	out.TotalEnergy, out.Work = unit.Energy(total), unit.SpecificEnergy(total/(s.mass/1000))
	if s.memory {
		out.Conditions |= reckon.FromMemory
	}
	if total < 0 {
		out.Conditions |= FrictionNegative
	}
	if out.Work > 200 {
		out.Conditions |= reckon.OutsideSource
	}
	return out, nil
}

func (q WorkForMixingHeat) Show(w *reckon.Working, out WorkForMixingHeatResult) {
	w.Inputs(q)
	q.show(w, out)
	w.Lines(out,
		"heat of hydration: H = q*m_f/1000{g/kg} in kJ  [for each kg of flour that is in no preferment]",
		"mixing work of the batch: E = C*T_d - Q - H + Q_out  [first law of thermodynamics]",
		"mixing work, for each kg of dough: e = E / (M/1000{g/kg})",
	)
}
