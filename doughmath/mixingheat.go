package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// HeatModel names where the specific heats of the ingredients come from.
type HeatModel string

const (
	// TradeHeats are those of bakery engineering: flour 1.76 kJ/(kg K), water 1 Btu/(lb °F).
	TradeHeats HeatModel = "trade"
	// CompositionHeats are worked out from the composition, at 20 °C.
	CompositionHeats HeatModel = "composition"
)

const (
	// tradeFlourHeat is the trade's specific heat of flour, 0.42 Btu/(lb °F).
	// Source: Y. A. Cengel, M. A. Boles, Thermodynamics, 8th ed., problem 5-157.
	tradeFlourHeat = 1.76
	// tradeWaterHeat is 1 Btu/(lb °F), by definition of the unit.
	tradeWaterHeat = 4.1868
	// heatReferenceCelsius is where the composition's specific heats are taken. A dough's
	// changes by under 0.1 % for each degree.
	heatReferenceCelsius = 20
	// thermometerReading is what a bakery thermometer is good for. Common practice.
	thermometerReading unit.TempDelta = 0.5
)

// HydrationHeat is the heat that flour of 11 to 12 % moisture gives off as it
// takes up water, for each kilogram of flour: 6.5 Btu/lb. It falls steeply as
// the moisture of the flour rises, and some texts take it for each kilogram of
// dough, which is wrong by two thirds.
//
// Source: bakingbusiness.com, Bakers Dictionary, "Heat of hydration".
const HydrationHeat unit.SpecificEnergy = 6.5 * 2.326

// HeatIngredient is one part of a batch with its temperature.
type HeatIngredient struct {
	Kind         IngredientKind    `json:"kind"`                   // what it is; "other" for anything else, a preferment too
	Mass         unit.Mass         `json:"mass"`                   // 0.001 g to 100 t
	Temp         unit.Temp         `json:"temp,omitzero"`          // its temperature, -40 to 60 °C; water that is to be found has none
	SpecificHeat unit.SpecificHeat `json:"specific_heat,omitzero"` // its own value, 0.5 to 5 kJ/(kg K), in place of the model's; "other" and, in the trade model, all but flour and water need one
	Composition  Composition       `json:"composition,omitzero"`   // its own composition, in place of the table's, for the composition model
}

// MixerBowl is the metal that takes part in the warming.
type MixerBowl struct {
	Mass         unit.Mass         `json:"mass"`          // of bowl and tool, 0.001 g to 100 t
	Temp         unit.Temp         `json:"temp"`          // before mixing, -40 to 60 °C
	SpecificHeat unit.SpecificHeat `json:"specific_heat"` // 0.1 to 5 kJ/(kg K); steel has about 0.5
}

// MixingBatch is a batch as a heat balance sees it.
type MixingBatch struct {
	Ingredients   []HeatIngredient    `json:"ingredients"`         // 1 to 100, with at least one flour and one water
	Heats         HeatModel           `json:"specific_heats"`      // "trade" or "composition"
	HydrationHeat unit.SpecificEnergy `json:"hydration_heat"`      // heat given off for each kg of FLOUR, 0 to 100 kJ/kg; the trade uses 15.1 kJ/kg
	Ice           unit.Mass           `json:"ice,omitzero"`        // ice beside the water, 0 to 100 t
	IceTemp       unit.Temp           `json:"ice_temp,omitzero"`   // temperature of the ice, -40 to 0 °C; must be there if there is ice
	Work          unit.SpecificEnergy `json:"work,omitzero"`       // mixing work for each kg of dough, 0 to 200 kJ/kg; leave out if power and time are given
	Power         unit.Power          `json:"power,omitzero"`      // mean power that reaches the dough, 0 to 1000 kW
	Time          unit.Duration       `json:"time,omitzero"`       // how long, 0 to 4 h
	Cooling       unit.Energy         `json:"cooling,omitzero"`    // heat taken out by a jacket or lost to the room, -1e6 to 1e6 kJ
	Bowl          MixerBowl           `json:"bowl,omitzero"`       // bowl and tool, if their warming counts
	Calibrated    bool                `json:"calibrated,omitzero"` // true if the work was found from a measured dough by [WorkForMixingHeat]
}

// batchHeat is a batch summed up: masses in g, heat capacities in kJ/K and
// heats, above liquid water and dry matter at 0 °C, in kJ.
type batchHeat struct {
	mass, capacity, heat                 float64 // ingredients; water without a temperature counts in mass and capacity only
	flour, flourCapacity, flourDegrees   float64 // degrees: sum of mass * temperature
	water, waterCapacity, waterDegrees   float64
	unknown                              float64 // heat capacity of the water without a temperature
	bowlCapacity, bowlHeat, iceHeat, ice float64
	memory                               bool
}

// sum checks the batch and adds it up. Water may lack its temperature if open is true, and then some must.
func (b MixingBatch) sum(c *reckon.Checks, open bool) batchHeat {
	var s batchHeat
	reckon.CheckCount(c, "ingredients", len(b.Ingredients), 1, mostIngredients)
	reckon.CheckEither(c, "specific_heats", b.Heats, TradeHeats, CompositionHeats)
	reckon.CheckRange(c, "hydration_heat", b.HydrationHeat, 0, 100)
	flours, waters, opens := 0, 0, 0
	for i, x := range b.Ingredients {
		checkIngredient(c, i, x.Kind, x.Mass)
		given := x.Temp.Given() && x.Temp.Celsius() >= coldestReading.Celsius() && x.Temp.Celsius() <= hottestReading.Celsius()
		if unknown := open && x.Kind == WaterKind && !x.Temp.Given(); unknown {
			opens++
		} else if !given {
			reckon.CheckTemp(c, ingredientField(i, "temp"), x.Temp, coldestReading, hottestReading)
		}
		heat := b.specificHeat(c, i, x, &s.memory)
		if x.Kind.flour() {
			flours++
		}
		if x.Kind == WaterKind {
			waters++
		}
		if !c.OK() {
			continue
		}
		m, t := float64(x.Mass), 0.0
		capacity := float64(m / 1000 * heat)
		if given {
			t = x.Temp.Celsius()
		} else {
			s.unknown += capacity
		}
		s.mass += m
		s.capacity += capacity
		s.heat += float64(capacity * t)
		if x.Kind.flour() {
			s.flour, s.flourCapacity, s.flourDegrees = s.flour+m, s.flourCapacity+capacity, s.flourDegrees+float64(m*t)
		}
		if x.Kind == WaterKind {
			s.water, s.waterCapacity, s.waterDegrees = s.water+m, s.waterCapacity+capacity, s.waterDegrees+float64(m*t)
		}
	}
	if len(b.Ingredients) > 0 && flours == 0 {
		c.Fail("ingredients", "without flour", "at least one flour")
	}
	switch {
	case len(b.Ingredients) > 0 && waters == 0:
		c.Fail("ingredients", "without water", "at least one water")
	case open && waters > 0 && opens == 0:
		c.Fail("ingredients", "water with its temperature", "the water that is to be found without a temperature")
	}
	b.checkRest(c)
	if !c.OK() {
		return s
	}
	if b.Ice > 0 {
		s.ice = float64(b.Ice)
		s.iceHeat = float64(s.ice / 1000 * -heatToMelt(b.IceTemp.Celsius()))
		// Once melted it is water like the rest.
		s.capacity += float64(s.ice / s.water * s.waterCapacity)
		s.heat += s.iceHeat
		s.mass += s.ice
	}
	if b.Bowl != (MixerBowl{}) {
		s.bowlCapacity = float64(float64(b.Bowl.Mass) / 1000 * float64(b.Bowl.SpecificHeat))
		s.bowlHeat = float64(s.bowlCapacity * b.Bowl.Temp.Celsius())
		s.capacity += s.bowlCapacity
		s.heat += s.bowlHeat
	}
	return s
}

func (b MixingBatch) checkRest(c *reckon.Checks) {
	reckon.CheckRange(c, "work", b.Work, 0, 200)
	reckon.CheckRange(c, "power", b.Power, 0, 1000)
	reckon.CheckRange(c, "time", b.Time, 0, unit.Hours(4))
	if b.Work != 0 && (b.Power != 0 || b.Time != 0) {
		c.Fail("work", b.Work.String(), "either the work, or power and time")
	}
	if (b.Power != 0) != (b.Time != 0) {
		c.Fail("time", b.Time.String(), "power and time together")
	}
	reckon.CheckRange(c, "cooling", b.Cooling, -1e6, 1e6)
	reckon.CheckRange(c, "ice", b.Ice, 0, mostWater)
	if b.Ice != 0 || b.IceTemp.Given() {
		reckon.CheckTemp(c, "ice_temp", b.IceTemp, unit.Celsius(-40), unit.Celsius(0))
	}
	if b.Bowl != (MixerBowl{}) {
		reckon.CheckRange(c, "bowl.mass", b.Bowl.Mass, leastMass, mostWater)
		reckon.CheckTemp(c, "bowl.temp", b.Bowl.Temp, coldestReading, hottestReading)
		reckon.CheckRange(c, "bowl.specific_heat", b.Bowl.SpecificHeat, 0.1, 5)
	}
}

// specificHeat returns the specific heat of ingredient i in kJ/(kg K).
func (b MixingBatch) specificHeat(c *reckon.Checks, i int, x HeatIngredient, memory *bool) float64 {
	switch {
	case x.SpecificHeat != 0:
		if !(x.SpecificHeat >= 0.5 && x.SpecificHeat <= 5) {
			reckon.CheckRange(c, ingredientField(i, "specific_heat"), x.SpecificHeat, 0.5, 5)
		}
		return float64(x.SpecificHeat)
	case b.Heats == TradeHeats && x.Kind.flour():
		return tradeFlourHeat
	case b.Heats == TradeHeats && x.Kind == WaterKind:
		return tradeWaterHeat
	case b.Heats == TradeHeats:
		c.Fail(ingredientField(i, "specific_heat"), "not given", "its specific heat, or the composition model: the trade names none for "+strconv.Quote(unit.Clip(string(x.Kind))))
		return 0
	}
	m, recalled := x.Kind.made(c, x.Composition, i)
	if recalled {
		*memory = true
	}
	if !c.OK() {
		return 0
	}
	return specificHeatOf(m.fractions(), heatReferenceCelsius)
}

// hydration returns the heat of hydration in kJ.
func (b MixingBatch) hydration(s batchHeat) float64 {
	return float64(float64(b.HydrationHeat) * s.flour / 1000)
}

// workHeat returns the heat of mixing in kJ.
func (b MixingBatch) workHeat(mass float64) float64 {
	return float64(float64(b.Work)*mass/1000) + float64(float64(b.Power)*float64(b.Time))
}

// conditions of the balance itself.
func (b MixingBatch) conditions(s batchHeat) (c Conditions, u reckon.Cautions) {
	if !b.Calibrated {
		c |= reckon.Uncalibrated
	}
	if s.memory {
		c |= reckon.FromMemory
	}
	for _, x := range b.Ingredients {
		if x.Kind == WaterKind && x.Temp.Given() {
			water, caution := waterConditions(x.Temp)
			c, u = c|water, u|caution
		}
	}
	if s.ice > 0 {
		u |= reckon.IceHandling
		if unit.Percent(100*s.ice/(s.ice+s.water)) > muchIceShare {
			c |= MuchIce
		}
	}
	if unit.Mass(max(s.ice, s.water, s.flour)) > liftingMass {
		u |= reckon.Lifting
	}
	return c, u
}

// MixingHeat returns the dough temperature by the first law, and what the factor rule makes of the same batch:
//
//	T_d = (sum m*c*T + C_b*T_b - m_i*h_i + E + q*m_f - Q) / (sum m*c + m_i*c_w + C_b)
//
// with m, c and T of each ingredient, C_b and T_b of the bowl, m_i the ice and
// h_i the heat that makes it water of 0 °C, E the mixing work, q the heat of
// hydration for each kilogram of flour, and Q what a jacket takes out.
//
// The rule and the balance differ because the rule gives every temperature the
// same weight, 1/N, while heat weighs flour and water by mass and specific
// heat, some 40 to 60 in a common dough, and gives the room none. A friction
// that makes the rule right is right for this batch and day only; it is
// returned in both readings. An ingredient that is neither flour nor water counts in the balance, not in the rule.
//
// It holds if all the ice melts and little heat is lost unless Q says so. Work, hydration and specific heats are
// estimates: measure one dough and let [WorkForMixingHeat] find the work, which then carries the losses of your mixer too.
//
// It returns an *[reckon.InputError] if:
//   - there are no ingredients or more than 100, no flour, no water, or a kind is not named,
//   - a mass is outside 0.001 g to 100 t, or ice is outside 0 to 100 t,
//   - a temperature is missing or outside -40 to 60 °C, that of the ice outside -40 to 0 °C,
//   - a specific heat is outside 0.5 to 5 kJ/(kg K) (bowl 0.1 to 5), or missing where the model has none,
//   - hydration_heat is outside 0 to 100 kJ/kg, work outside 0 to 200 kJ/kg, power outside 0 to 1000 kW, time outside 0 to 4 h, cooling outside -1e6 to 1e6 kJ,
//   - both work and power are given, or one of power and time alone,
//   - friction is outside -20 to 60 C°, or given without its basis.
//
// It returns a *[reckon.NoSolutionError] if the balance ends below 0 °C, where not all ice melts, or above 60 °C.
//
// Source: first law of thermodynamics; heat of hydration bakingbusiness.com, Bakers Dictionary; flour
// Y. A. Cengel, M. A. Boles, Thermodynamics, 8th ed., problem 5-157; ice IAPWS R10-06(2009); cases in testdata/cases/doughmath/mixing-heat.json.
//
// The inverses are [WaterForMixingHeat], [IceForMixingHeat] and [WorkForMixingHeat].
type MixingHeat struct {
	MixingBatch
	Room     unit.Temp      `json:"room,omitzero"`           // room temperature, -40 to 60 °C; leave out for the two-factor rule
	Friction unit.TempDelta `json:"friction,omitzero"`       // the friction now used, in the reading named by friction_basis, -20 to 60 C°
	Basis    FrictionBasis  `json:"friction_basis,omitzero"` // "once" or "per-factor"; leave both out if the rule is not to be compared
}

func (MixingHeat) ID() string { return "mixing-heat" }

// SHELL
func (q MixingHeat) Check(c *reckon.Checks) {
	_, err := explainMixingHeat(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q MixingHeat) Solve() (MixingHeatResult, error) { return explainMixingHeat(q, nil) }

func (q MixingHeat) Show(w *reckon.Working, _ MixingHeatResult) { _, _ = explainMixingHeat(q, w) }

// MixingHeatResult is the dough by the heat balance, and the factor rule beside it.
type MixingHeatResult struct {
	Dough        unit.Temp         `json:"dough"`               // dough temperature at the end of mixing
	Mass         unit.Mass         `json:"mass"`                // dough, ice included
	SpecificHeat unit.SpecificHeat `json:"specific_heat"`       // of the dough
	WorkHeat     unit.Energy       `json:"work_heat"`           // from mixing
	Hydration    unit.Energy       `json:"hydration"`           // from the flour taking up water
	IceHeat      unit.Energy       `json:"ice_heat"`            // taken up by the ice until it is water of 0 °C
	Rise         unit.TempDelta    `json:"rise"`                // what work and hydration, less the cooling, add to the dough
	FlourShare   unit.Percent      `json:"flour_share"`         // how far one degree of the flour moves the dough; the factor rule says 100/N
	WaterShare   unit.Percent      `json:"water_share"`         // how far one degree of the water moves it; the factor rule says 100/N
	Factors      int               `json:"factors"`             // N of the factor rule: water and flour, and the room if given
	Once         unit.TempDelta    `json:"once"`                // the friction, taken off once, with which the factor rule says the same
	PerFactor    unit.TempDelta    `json:"per_factor"`          // the same for each factor
	RuleDough    unit.Temp         `json:"rule_dough,omitzero"` // dough by the factor rule with the friction given; not given without one
	Difference   unit.TempDelta    `json:"difference"`          // the rule's dough less the balance's; 0 without a friction
	Conditions   Conditions        `json:"conditions"`          // uncalibrated, from-memory, below-freezing, warm-for-yeast, much-ice, energy-differs, friction-negative
	Cautions     reckon.Cautions   `json:"cautions"`            // hot-water, ice-handling, lifting
}

func explainMixingHeat(in MixingHeat, w *reckon.Working) (out MixingHeatResult, err error) {
	c := reckon.Checks{Func: "mixing-heat"}
	s := in.sum(&c, false)
	if in.Room.Given() {
		reckon.CheckTemp(&c, "room", in.Room, coldestReading, hottestReading)
	}
	compare := in.Basis != "" || in.Friction != 0
	if compare {
		in.Basis.check(&c, in.Friction)
	}
	if err := c.Err(); err != nil {
		return MixingHeatResult{}, err
	}
	work, hydration := in.workHeat(s.mass), in.hydration(s)
	gain := work + hydration - float64(in.Cooling)
	dough := (s.heat + gain) / s.capacity
	if !(dough >= 0 && dough <= hottestReading.Celsius()) {
		return MixingHeatResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "sound dough", Wanted: "a heat balance that ends at " + unit.Celsius(dough).String(),
			Low: "0 °C", High: hottestReading.String(), Advice: "below 0 °C the ice does not all melt: take less; above, check work and cooling",
		}
	}
	out = MixingHeatResult{
		Dough: unit.Celsius(dough), Mass: unit.Mass(s.mass), SpecificHeat: unit.SpecificHeat((s.capacity - s.bowlCapacity) / (s.mass / 1000)),
		WorkHeat: unit.Energy(work), Hydration: unit.Energy(hydration), IceHeat: unit.Energy(-s.iceHeat + 0), Rise: unit.TempDelta(gain / s.capacity),
		FlourShare: unit.Percent(100 * s.flourCapacity / s.capacity), WaterShare: unit.Percent(100 * s.waterCapacity / s.capacity),
	}
	out.Conditions, out.Cautions = in.conditions(s)
	// The factor rule takes ice and water as one water that has the same effect.
	water := (s.waterDegrees - float64(s.ice*float64(iceEquivalent))) / (s.water + s.ice)
	flour := s.flourDegrees / s.flour
	out.Factors = 2
	known := flour + water
	if in.Room.Given() {
		out.Factors = 3
		known += in.Room.Celsius()
	}
	n := float64(out.Factors)
	out.Once = unit.TempDelta(float64(n*dough) - known)
	out.PerFactor = out.Once / unit.TempDelta(n)
	if out.Once < 0 {
		out.Conditions |= FrictionNegative
	}
	if compare {
		out.RuleDough = unit.Celsius((known + float64(in.Basis.once(in.Friction, out.Factors))) / n)
		out.Difference = out.RuleDough.Sub(out.Dough)
		if out.Difference > thermometerReading || out.Difference < -thermometerReading {
			out.Conditions |= EnergyDiffers
		}
	}
	if w != nil {
		in.explain(w, s, false)
		w.Step("heat from mixing", "E", in.workExpression(), work, "kJ", "")
		w.Step("heat of hydration", "H", "q*m_f/1000", hydration, "kJ", "for each kg of flour")
		w.Step("specific heat of the dough", "c_d", "(C - C_b) / (M/1000)", float64(out.SpecificHeat), "kJ/(kg K)", "")
		w.Step("dough temperature", "T_d", "(Q + E + H - Q_out) / C", dough, "°C", "first law of thermodynamics")
		w.Given("flour temperature", "T_f", flour, "°C", "mean by mass")
		w.Given("water temperature, ice reckoned in", "T_w", water, "°C", "mean by mass; melting counts as 80 C°")
		expression := "2*T_d - T_f - T_w"
		if in.Room.Given() {
			w.Given("room temperature", "T_r", in.Room.Celsius(), "°C", "")
			expression = "3*T_d - (T_f + T_w + T_r)"
		}
		w.Step("friction with which the factor rule says the same", "F", expression, float64(out.Once), "C°", "factor rule")
	}
	return out, nil
}

func (b MixingBatch) workExpression() string {
	if b.Power != 0 {
		return "P*time"
	}
	return "e*M/1000"
}

// explain records the batch and its sums: M, m_f, C, C_b, Q, Q_out, q, and e or P and time.
func (b MixingBatch) explain(w *reckon.Working, s batchHeat, workUnknown bool) {
	capacity, heat, mass := "", "", ""
	plus := func(sum *string, term string) {
		if *sum != "" {
			*sum += " + "
		}
		*sum += term
	}
	var none bool
	var c reckon.Checks
	flour, waterMass, waterCapacity := "", "", ""
	for i, x := range b.Ingredients {
		n := strconv.Itoa(i + 1)
		w.Given(string(x.Kind)+", mass", "m_"+n, float64(x.Mass), "g", "")
		w.Given(string(x.Kind)+", specific heat", "c_"+n, b.specificHeat(&c, i, x, &none), "kJ/(kg K)", b.heatSource(x))
		plus(&mass, "m_"+n)
		plus(&capacity, "m_"+n+"/1000*c_"+n)
		if x.Temp.Given() {
			w.Given(string(x.Kind)+", temperature", "T_"+n, x.Temp.Celsius(), "°C", "")
			plus(&heat, "m_"+n+"/1000*c_"+n+"*T_"+n)
		}
		if x.Kind.flour() {
			plus(&flour, "m_"+n)
		}
		if x.Kind == WaterKind {
			plus(&waterMass, "m_"+n)
			plus(&waterCapacity, "m_"+n+"/1000*c_"+n)
		}
	}
	w.Step("flour", "m_f", flour, s.flour, "g", "")
	w.Step("water", "m_w", waterMass, s.water, "g", "")
	w.Step("heat capacity of the water", "C_w", waterCapacity, s.waterCapacity, "kJ/K", "")
	if s.ice > 0 {
		w.Given("ice", "m_i", s.ice, "g", "")
		w.Given("temperature of the ice", "T_i", b.IceTemp.Celsius(), "°C", "")
		w.Step("heat to melt it", "h_i", "333.425 - 2.0967*T_i - 0.00733*T_i*T_i/2", heatToMelt(b.IceTemp.Celsius()), "kJ/kg", "IAPWS R10-06(2009)")
		plus(&mass, "m_i")
		plus(&capacity, "m_i/m_w*C_w")
		plus(&heat, "-m_i/1000*h_i")
	}
	w.Given("heat capacity of the bowl", "C_b", s.bowlCapacity, "kJ/K", "mass times specific heat; 0 if left out")
	if s.bowlCapacity > 0 {
		w.Given("temperature of the bowl", "T_b", b.Bowl.Temp.Celsius(), "°C", "")
		plus(&capacity, "C_b")
		plus(&heat, "C_b*T_b")
	}
	w.Step("dough", "M", mass, s.mass, "g", "")
	w.Step("heat capacity of everything", "C", capacity, s.capacity, "kJ/K", "")
	w.Step("heat brought in, counted from 0 °C", "Q", heat, s.heat, "kJ", "")
	w.Given("heat of hydration, for each kg of flour", "q", float64(b.HydrationHeat), "kJ/kg", "")
	w.Given("heat taken out or lost", "Q_out", float64(b.Cooling), "kJ", "")
	switch {
	case workUnknown:
	case b.Power != 0:
		w.Given("power that reaches the dough", "P", float64(b.Power), "kW", "")
		w.Given("mixing time", "time", float64(b.Time), "s", "")
	default:
		w.Given("mixing work, for each kg of dough", "e", float64(b.Work), "kJ/kg", "")
	}
}

func (b MixingBatch) heatSource(x HeatIngredient) string {
	switch {
	case x.SpecificHeat != 0:
		return "given"
	case b.Heats == TradeHeats:
		return "trade value"
	}
	return "composition, Choi and Okos (1986), at 20 °C"
}

// WaterForMixingHeat returns the temperature of the water that brings the dough to the target by the heat balance:
//
//	T_w = (C*T_d - Q - E - q*m_f + Q_out) / (m_w*c_w)
//
// with C the heat capacity of everything and Q the heat that the rest brings
// in. The water to be found is the water without a temperature.
//
// It is an inverse of [MixingHeat], with the same validity and source. A
// result below freezing is normal and means ice; below -80 °C not even all of
// this water as ice is enough.
//
// It returns an *[reckon.InputError] if:
//   - target is missing or outside 0 to 45 °C,
//   - no water is left without a temperature,
//   - another input is out of the range that [MixingHeat] names.
//
// It returns a *[reckon.NoSolutionError] if the water would have to be above 55 °C, or
// below absolute zero (-273.15 °C), where the number no longer stands for any water or ice.
// The range that it names reaches from all of this water as ice, which acts like water
// of -80 °C, to water of 55 °C.
//
// Source: first law of thermodynamics; cases in testdata/cases/doughmath/water-for-mixing-heat.json.
type WaterForMixingHeat struct {
	MixingBatch
	Target unit.Temp `json:"target"` // wanted dough temperature, 0 to 45 °C
}

func (WaterForMixingHeat) ID() string { return "water-for-mixing-heat" }

// SHELL
func (q WaterForMixingHeat) Check(c *reckon.Checks) {
	_, err := explainWaterForMixingHeat(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WaterForMixingHeat) Solve() (WaterForMixingHeatResult, error) {
	return explainWaterForMixingHeat(q, nil)
}

func (q WaterForMixingHeat) Show(w *reckon.Working, _ WaterForMixingHeatResult) {
	_, _ = explainWaterForMixingHeat(q, w)
}

// WaterForMixingHeatResult is the water to use.
type WaterForMixingHeatResult struct {
	Water      unit.Temp       `json:"water"`      // may be below freezing: see the conditions and [IceForMixingHeat]
	Conditions Conditions      `json:"conditions"` // below-freezing, colder-than-all-ice, warm-for-yeast, uncalibrated, from-memory, much-ice
	Cautions   reckon.Cautions `json:"cautions"`   // hot-water, ice-handling, lifting
}

func explainWaterForMixingHeat(in WaterForMixingHeat, w *reckon.Working) (out WaterForMixingHeatResult, err error) {
	c := reckon.Checks{Func: "water-for-mixing-heat"}
	reckon.CheckTemp(&c, "target", in.Target, unit.Celsius(0), unit.Celsius(45))
	s := in.sum(&c, true)
	if err := c.Err(); err != nil {
		return WaterForMixingHeatResult{}, err
	}
	gain := in.workHeat(s.mass) + in.hydration(s) - float64(in.Cooling)
	out = WaterForMixingHeatResult{Water: unit.Celsius((float64(s.capacity*in.Target.Celsius()) - s.heat - gain) / s.unknown)}
	out.Conditions, out.Cautions = waterConditions(out.Water)
	conditions, cautions := in.conditions(s)
	out.Conditions, out.Cautions = out.Conditions|conditions, out.Cautions|cautions
	if out.Conditions.Has(ColderThanAllIce) {
		out.Conditions &^= BelowFreezing // another water's, which has no ice to spare either
	}
	reach := func(water float64) unit.Temp {
		return unit.Celsius((s.heat + gain + float64(s.unknown*water)) / s.capacity)
	}
	if out.Water.Celsius() > yeastRefusalCelsius {
		return WaterForMixingHeatResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "safe water temperature", Wanted: "a dough of " + in.Target.String(),
			High: reach(yeastRefusalCelsius).String(), Advice: "water of " + out.Water.String() + " would kill the yeast; warm the flour, or mix longer",
		}
	}
	if out.Water.Celsius() < -unit.KelvinAtZeroCelsius {
		return WaterForMixingHeatResult{}, tooCold(c.Func, "a dough of "+in.Target.String(), out.Water, reach(-float64(iceEquivalent)), reach(yeastRefusalCelsius))
	}
	if w != nil {
		in.explain(w, s, false)
		w.Given("dough temperature wanted", "T_d", in.Target.Celsius(), "°C", "")
		w.Given("heat capacity of the water to be found", "C_x", s.unknown, "kJ/K", "mass times specific heat")
		w.Step("heat from mixing, hydration and cooling", "G", in.workExpression()+" + q*m_f/1000 - Q_out", gain, "kJ", "")
		w.Step("water temperature", "T_w", "(C*T_d - Q - G) / C_x", out.Water.Celsius(), "°C", "first law of thermodynamics")
	}
	return out, nil
}

// IceForMixingHeat returns the ice that brings the dough to the target by the heat balance:
//
//	m_i = D / (c_w*T_w + h_i)            replacing part of the water
//	m_i = D / (h_i + c_w*T_d - e)        added on top of the water
//
// with D = Q + E + q*m_f - Q_out - C*T_d, the heat that is too much without
// ice, T_w the tap water, h_i the heat that makes the ice water of 0 °C, and e the
// mixing work for each kilogram of dough, which added ice brings along.
//
// It is an inverse of [MixingHeat], with the same validity and source: the dough
// with this ice is at the target. If it is there without any, no ice is needed. If
// it is colder than that without any, no ice brings it to the target: warm the water, with [WaterForMixingHeat].
//
// It returns an *[reckon.InputError] if:
//   - target is missing or outside 0 to 45 °C, or the reading is not named,
//   - the batch has ice already, or the temperature of the ice is missing,
//   - another input is out of the range that [MixingHeat] names.
//
// It returns a *[reckon.NoSolutionError] if not even all the water as ice, or as much ice as water on top, is
// enough, or if the dough is colder than wanted without any ice. The range that it names reaches from
// that much ice, or the 0 °C at which it no longer all melts, to no ice.
//
// Source: first law of thermodynamics; ice IAPWS R10-06(2009); cases in testdata/cases/doughmath/ice-for-mixing-heat.json.
type IceForMixingHeat struct {
	MixingBatch            // without ice; the temperature of the ice is needed
	Target      unit.Temp  `json:"target"`  // wanted dough temperature, 0 to 45 °C
	Reading     IceReading `json:"reading"` // "replacing" or "added"
}

func (IceForMixingHeat) ID() string { return "ice-for-mixing-heat" }

// SHELL
func (q IceForMixingHeat) Check(c *reckon.Checks) {
	_, err := explainIceForMixingHeat(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q IceForMixingHeat) Solve() (IceForMixingHeatResult, error) {
	return explainIceForMixingHeat(q, nil)
}

func (q IceForMixingHeat) Show(w *reckon.Working, _ IceForMixingHeatResult) {
	_, _ = explainIceForMixingHeat(q, w)
}

// IceForMixingHeatResult is what to weigh.
type IceForMixingHeatResult struct {
	Ice        unit.Mass       `json:"ice"`        // ice to weigh
	TapWater   unit.Mass       `json:"tap_water"`  // water to weigh
	Share      unit.Percent    `json:"share"`      // ice in both together
	Conditions Conditions      `json:"conditions"` // no-ice-needed, much-ice, uncalibrated, from-memory, below-freezing, warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`   // ice-handling, lifting
}

func explainIceForMixingHeat(in IceForMixingHeat, w *reckon.Working) (out IceForMixingHeatResult, err error) {
	c := reckon.Checks{Func: "ice-for-mixing-heat"}
	reckon.CheckTemp(&c, "target", in.Target, unit.Celsius(0), unit.Celsius(45))
	reckon.CheckEither(&c, "reading", in.Reading, IceReplacing, IceAdded)
	if in.Ice != 0 {
		c.Fail("ice", in.Ice.String(), "none: it is what is to be found")
		in.Ice = 0
	}
	if !in.IceTemp.Given() {
		reckon.CheckTemp(&c, "ice_temp", in.IceTemp, unit.Celsius(-40), unit.Celsius(0))
	}
	s := in.sum(&c, false)
	if err := c.Err(); err != nil {
		return IceForMixingHeatResult{}, err
	}
	target, melt := in.Target.Celsius(), heatToMelt(in.IceTemp.Celsius())
	waterHeat, tap := s.waterCapacity/(s.water/1000), 0.0
	for _, x := range in.Ingredients {
		if x.Kind == WaterKind {
			// Waters may differ in specific heat; what counts is the heat they bring.
			var none bool
			tap += float64(float64(x.Mass) / 1000 * in.specificHeat(&c, 0, x, &none) * x.Temp.Celsius())
		}
	}
	tap /= s.waterCapacity
	surplus := s.heat + in.workHeat(s.mass) + in.hydration(s) - float64(in.Cooling) - float64(s.capacity*target)
	perKilogram := float64(waterHeat*tap) + melt
	if in.Reading == IceAdded {
		perKilogram = melt + float64(waterHeat*target) - float64(in.Work)
	}
	ice := 1000 * surplus / perKilogram
	if surplus <= 0 {
		ice = 0
	}
	warmer := surplus / s.capacity // than the target, without ice
	if ice > s.water || warmer < -roundingSlack {
		without := surplus + float64(s.capacity*target)
		low := (without - float64(perKilogram*s.water/1000)) / s.capacity
		if in.Reading == IceAdded {
			low = (without - float64((melt-float64(in.Work))*s.water/1000)) / (s.capacity + s.waterCapacity)
		}
		return IceForMixingHeatResult{}, in.noIce(max(0, low), without/s.capacity, warmer)
	}
	parts := iceResult(unit.Mass(s.water), unit.Mass(ice), in.Reading)
	out = IceForMixingHeatResult{Ice: parts.Ice, TapWater: parts.TapWater, Share: parts.Share}
	out.Conditions, out.Cautions = in.conditions(s)
	out.Conditions, out.Cautions = out.Conditions|parts.Conditions, out.Cautions|parts.Cautions
	if surplus <= 0 {
		out.Conditions |= NoIceNeeded
	}
	if w != nil {
		in.explain(w, s, false)
		w.Given("dough temperature wanted", "T_d", target, "°C", "")
		w.Given("temperature of the ice", "T_i", in.IceTemp.Celsius(), "°C", "")
		w.Given("temperature of the tap water", "T_w", tap, "°C", "mean by heat capacity")
		w.Step("heat to melt the ice", "h_i", "333.425 - 2.0967*T_i - 0.00733*T_i*T_i/2", melt, "kJ/kg", "IAPWS R10-06(2009)")
		w.Step("heat that is too much without ice", "D", "Q + "+in.workExpression()+" + q*m_f/1000 - Q_out - C*T_d", surplus, "kJ", "first law of thermodynamics")
		expression := "1000*D / (C_w/(m_w/1000)*T_w + h_i)"
		switch {
		case in.Reading == IceAdded && in.Power != 0:
			expression = "1000*D / (h_i + C_w/(m_w/1000)*T_d)"
		case in.Reading == IceAdded:
			expression = "1000*D / (h_i + C_w/(m_w/1000)*T_d - e)"
		}
		if surplus <= 0 {
			expression = "0*D"
		}
		w.Step("ice", "ice", expression, ice, "g", "")
	}
	return out, nil
}

// noIce refuses a dough that lies outside what ice can do, from all of it to none.
func (in *IceForMixingHeat) noIce(low, high, warmer float64) error {
	err := &reckon.NoSolutionError{
		Func: "ice-for-mixing-heat", Unknown: "share of ice", Wanted: "a dough of " + in.Target.String(),
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

// WorkForMixingHeat returns the mixing work that explains a measured dough temperature:
//
//	e = (C*T_d - Q - q*m_f + Q_out) / M
//
// Use it to calibrate the balance: the work found also carries what the mixer
// loses to the room and what the estimates of hydration and specific heat miss,
// so it is good for the same mixer, time, and doughs of about that size.
//
// It is an inverse of [MixingHeat], with the same source. Published figures are 30 kJ/kg, from which on a dough gets
// no denser (Chin and Campbell 2005), and 40 kJ/kg for mechanical development; slow mixers put in less. Above 200 kJ/kg
// it is outside of any source.
//
// It returns an *[reckon.InputError] if:
//   - dough is missing or outside 0 to 60 °C,
//   - the batch has work, power or time already,
//   - another input is out of the range that [MixingHeat] names.
//
// Source: first law of thermodynamics; cases in testdata/cases/doughmath/work-for-mixing-heat.json.
type WorkForMixingHeat struct {
	MixingBatch           // without work, power and time
	Dough       unit.Temp `json:"dough"` // dough temperature that came out, 0 to 60 °C
}

func (WorkForMixingHeat) ID() string { return "work-for-mixing-heat" }

// SHELL
func (q WorkForMixingHeat) Check(c *reckon.Checks) {
	_, err := explainWorkForMixingHeat(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WorkForMixingHeat) Solve() (WorkForMixingHeatResult, error) {
	return explainWorkForMixingHeat(q, nil)
}

func (q WorkForMixingHeat) Show(w *reckon.Working, _ WorkForMixingHeatResult) {
	_, _ = explainWorkForMixingHeat(q, w)
}

// WorkForMixingHeatResult is the work that explains the dough.
type WorkForMixingHeatResult struct {
	Work       unit.SpecificEnergy `json:"work"`       // effective mixing work for each kg of dough
	Total      unit.Energy         `json:"total"`      // for the batch
	Conditions Conditions          `json:"conditions"` // friction-negative, outside-source, from-memory
}

func explainWorkForMixingHeat(in WorkForMixingHeat, w *reckon.Working) (out WorkForMixingHeatResult, err error) {
	c := reckon.Checks{Func: "work-for-mixing-heat"}
	reckon.CheckTemp(&c, "dough", in.Dough, unit.Celsius(0), hottestReading)
	if in.Work != 0 {
		c.Fail("work", in.Work.String(), "none: it is what is to be found")
	}
	if in.Power != 0 {
		c.Fail("power", in.Power.String(), "none: the work is what is to be found")
	}
	if in.Time != 0 {
		c.Fail("time", in.Time.String(), "none: the work is what is to be found")
	}
	in.Work, in.Power, in.Time = 0, 0, 0
	s := in.sum(&c, false)
	if err := c.Err(); err != nil {
		return WorkForMixingHeatResult{}, err
	}
	hydration := in.hydration(s)
	total := float64(s.capacity*in.Dough.Celsius()) - s.heat - hydration + float64(in.Cooling)
	out = WorkForMixingHeatResult{Total: unit.Energy(total), Work: unit.SpecificEnergy(total / (s.mass / 1000))}
	if s.memory {
		out.Conditions |= reckon.FromMemory
	}
	if total < 0 {
		out.Conditions |= FrictionNegative
	}
	if out.Work > 200 {
		out.Conditions |= reckon.OutsideSource
	}
	if w != nil {
		in.explain(w, s, true)
		w.Given("dough temperature", "T_d", in.Dough.Celsius(), "°C", "")
		w.Step("mixing work of the batch", "E", "C*T_d - Q - q*m_f/1000 + Q_out", total, "kJ", "first law of thermodynamics")
		w.Step("mixing work, for each kg of dough", "e", "E / (M/1000)", float64(out.Work), "kJ/kg", "")
	}
	return out, nil
}
