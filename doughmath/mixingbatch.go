package doughmath

import (
	"strconv"
	"strings"

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
	Kind         IngredientKind    `json:"kind"`                                                                // what it is; "other" for anything else, a preferment as a whole too
	Mass         unit.Mass         `json:"mass" sym:"m_#" range:"1 mg..100 t"`                                  // its mass
	Temp         unit.Temp         `json:"temp,omitzero" sym:"T_#" range:"-40 °C..60 °C"`                       // its temperature; water that is to be found has none
	SpecificHeat unit.SpecificHeat `json:"specific_heat,omitzero" sym:"c_#" range:"0.5 kJ/(kg K)..5 kJ/(kg K)"` // its own value, in place of the model's; "other" and, in the trade model, all but flour and water need one
	Composition  Composition       `json:"composition,omitzero"`                                                // its own composition, in place of the table's, for the composition model
	Preferment   bool              `json:"preferment,omitzero"`                                                 // true for what comes in a preferment, starter or soaker: its flour has taken up its water before, and the factor rule counts it as one temperature more
}

// MixerBowl is the metal that takes part in the warming.
type MixerBowl struct {
	Mass         unit.Mass         `json:"mass" sym:"m_b" range:"1 mg..100 t"`                         // of bowl and tool
	Temp         unit.Temp         `json:"temp" sym:"T_b" range:"-40 °C..60 °C"`                       // before mixing
	SpecificHeat unit.SpecificHeat `json:"specific_heat" sym:"c_b" range:"0.1 kJ/(kg K)..5 kJ/(kg K)"` // steel has about 0.5 kJ/(kg K)
}

// MixingBatch is a batch as a heat balance sees it.
type MixingBatch struct {
	Ingredients   []HeatIngredient    `json:"ingredients" items:"..100"`                          // what goes into the mixer, 1 to 100 parts, with at least one flour and one water
	Heats         HeatModel           `json:"specific_heats"`                                     // "trade" or "composition"
	HydrationHeat unit.SpecificEnergy `json:"hydration_heat" sym:"q" range:"0 kJ/kg..100 kJ/kg"`  // heat given off for each kg of FLOUR; the trade uses 15.1 kJ/kg
	Ice           unit.Mass           `json:"ice,omitzero" sym:"m_ice" range:"-"`                 // ice besides the water, 0 to 100 t; leave out if the ice is to be found
	IceTemp       unit.Temp           `json:"ice_temp,omitzero" sym:"T_ice" range:"-40 °C..0 °C"` // temperature of the ice; must be there if there is ice
	Melting                           // the heat that melts it at 0 °C; left out, it is the measured one
	Work          unit.SpecificEnergy `json:"work,omitzero" sym:"e" range:"-"`                                 // mixing work for each kg of dough, 0 to 200 kJ/kg; leave out if power and time are given, or the work is to be found
	Power         unit.Power          `json:"power,omitzero" sym:"P" range:"-"`                                // mean power that reaches the dough, 0 to 1000 kW; together with the time
	Time          unit.Duration       `json:"time,omitzero" sym:"t_m" range:"-"`                               // how long, 0 to 4 h; together with the power
	CoolingEnergy unit.Energy         `json:"cooling_energy,omitzero" sym:"Q_out,0" range:"-1000 MJ..1000 MJ"` // heat taken out by a jacket or lost to the room
	Bowl          MixerBowl           `json:"bowl,omitzero"`                                                   // bowl and tool, if their warming counts
	YeastUse                          // how the yeast meets the water; water above 45 °C is refused if it does
	Calibrated    bool                `json:"calibrated,omitzero"` // true if the work was found from a measured dough by [WorkForMixingHeat]
}

// check requires a batch that can be balanced. Water may lack its temperature if
// open is true, and then some must.
func (b *MixingBatch) check(c *reckon.Checks, open bool) {
	reckon.CheckCount(c, "ingredients", len(b.Ingredients), 1, mostIngredients)
	reckon.CheckEither(c, "specific_heats", b.Heats, TradeHeats, CompositionHeats)
	reckon.CheckRange(c, "hydration_heat", b.HydrationHeat, 0, 100)
	flours, waters, opens := 0, 0, 0
	for i := range b.Ingredients {
		x, mark := &b.Ingredients[i], c.Mark()
		checkIngredient(c, x.Kind, x.Mass)
		switch {
		case x.isFlour():
			flours++
		case x.isWater():
			waters++
		}
		if open && x.isOpen() {
			opens++
		} else {
			reckon.CheckTemp(c, "temp", x.Temp, coldestReading, hottestReading)
		}
		b.checkHeat(c, x)
		c.Item(mark, "ingredients", i)
	}
	if len(b.Ingredients) > 0 && flours == 0 {
		c.Fail("ingredients", "without flour", "at least one flour that is in no preferment")
	}
	switch {
	case len(b.Ingredients) > 0 && waters == 0:
		c.Fail("ingredients", "without water", "at least one water that is in no preferment")
	case open && waters > 0 && opens == 0:
		c.Fail("ingredients", "water with its temperature", "no temperature on the water that is to be found")
	}
	b.checkWork(c)
	reckon.CheckRange(c, "cooling_energy", b.CoolingEnergy, -1e6, 1e6)
	reckon.CheckRange(c, "ice", b.Ice, 0, mostMass)
	if b.Ice != 0 || b.IceTemp.Given() {
		checkIceTemp(c, b.IceTemp)
	}
	b.Melting.check(c)
	b.YeastUse.check(c)
	for i := range b.Ingredients {
		if f := b.Yeast; b.Ingredients[i].Kind == CompressedYeast && f != "" && f != FreshYeast {
			c.Fail("yeast", strconv.Quote(unit.Clip(string(f))), "\"fresh\", or left out: there is compressed yeast among the ingredients")
			break
		}
	}
	if b.hasBowl() {
		mark := c.Mark()
		b.Bowl.Check(c)
		c.Under(mark, "bowl")
	}
}

// checkPoured requires water that is to be poured to be fit for the yeast.
func (b *MixingBatch) checkPoured(c *reckon.Checks) {
	for i := range b.Ingredients {
		if x := &b.Ingredients[i]; x.isWater() {
			mark := c.Mark()
			b.checkWater(c, "temp", x.Temp)
			c.Item(mark, "ingredients", i)
		}
	}
}

// checkHeat requires a specific heat, or what the model needs to find one.
func (b *MixingBatch) checkHeat(c *reckon.Checks, x *HeatIngredient) {
	if x.SpecificHeat == 0 && b.Heats != TradeHeats {
		x.Kind.checkMadeOf(c, x.Composition)
		return
	}
	x.Composition.check(c) // also where it is not needed: what is given is never passed over
	switch {
	case x.SpecificHeat != 0:
		reckon.CheckRange(c, "specific_heat", x.SpecificHeat, 0.5, 5)
	case !x.Kind.flour() && x.Kind != WaterKind:
		c.Fail("specific_heat", "not given", "its specific heat, or the composition model: the trade names none for "+strconv.Quote(unit.Clip(string(x.Kind))))
	}
}

func (b *MixingBatch) checkWork(c *reckon.Checks) {
	reckon.CheckRange(c, "work", b.Work, 0, 200)
	reckon.CheckRange(c, "power", b.Power, 0, 1000)
	reckon.CheckRange(c, "time", b.Time, 0, unit.Hours(4))
	if b.Work != 0 && (b.Power != 0 || b.Time != 0) {
		c.Fail("work", b.Work.String(), "either the work or power and time, not both")
	}
	if (b.Power != 0) != (b.Time != 0) {
		c.Fail("time", b.Time.String(), "power and time together")
	}
}

// Check requires a bowl with all that its warming takes.
func (b MixerBowl) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "mass", b.Mass, leastMass, mostMass)
	reckon.CheckTemp(c, "temp", b.Temp, coldestReading, hottestReading)
	reckon.CheckRange(c, "specific_heat", b.SpecificHeat, 0.1, 5)
}

func (b *MixingBatch) hasBowl() bool { return b.Bowl != (MixerBowl{}) }

// isOpen reports whether x is water whose temperature is to be found.
func (x *HeatIngredient) isOpen() bool { return x.isWater() && !x.Temp.Given() }

// batchHeat is a batch summed up: masses in g, heat capacities in kJ/K and
// heats, above liquid water and dry matter at 0 °C, in kJ.
type batchHeat struct {
	mass, capacity, heat                          float64 // ingredients; water without a temperature counts in mass and capacity only
	flour, flourCapacity, flourDegrees            float64 // degrees: sum of mass * temperature
	water, waterCapacity, waterDegrees, waterHeat float64
	preferment, prefermentDegrees                 float64
	unknown, open                                 float64 // heat capacity and mass of the water without a temperature
	bowlCapacity, iceHeat, ice                    float64
	memory                                        bool
}

// sum adds up a batch that check found nothing wrong with.
func (b *MixingBatch) sum() (s batchHeat) {
	for i := range b.Ingredients {
		x := &b.Ingredients[i]
		heat, recalled := b.specificHeat(x)
		s.memory = s.memory || recalled
		m, t := float64(x.Mass), 0.0
		capacity := float64(m / 1000 * heat)
		if x.Temp.Given() {
			t = x.Temp.Celsius()
		} else {
			s.unknown, s.open = s.unknown+capacity, s.open+m
		}
		s.mass += m
		s.capacity += capacity
		s.heat += float64(capacity * t)
		switch {
		case x.Preferment:
			s.preferment, s.prefermentDegrees = s.preferment+m, s.prefermentDegrees+float64(m*t)
		case x.isFlour():
			s.flour, s.flourCapacity, s.flourDegrees = s.flour+m, s.flourCapacity+capacity, s.flourDegrees+float64(m*t)
		case x.isWater():
			s.water, s.waterCapacity, s.waterDegrees = s.water+m, s.waterCapacity+capacity, s.waterDegrees+float64(m*t)
			s.waterHeat += float64(capacity * t)
		}
	}
	if b.Ice > 0 {
		s.ice = float64(b.Ice)
		s.iceHeat = float64(s.ice / 1000 * -b.heatToMelt())
		// Once melted it is water like the rest.
		s.capacity += float64(s.ice / s.water * s.waterCapacity)
		s.heat += s.iceHeat
		s.mass += s.ice
	}
	if b.hasBowl() {
		s.bowlCapacity = float64(float64(b.Bowl.Mass) / 1000 * float64(b.Bowl.SpecificHeat))
		s.capacity += s.bowlCapacity
		s.heat += float64(s.bowlCapacity * b.Bowl.Temp.Celsius())
	}
	return s
}

// specificHeat returns the specific heat of an ingredient in kJ/(kg K), and
// whether a composition behind it was recalled.
func (b *MixingBatch) specificHeat(x *HeatIngredient) (heat float64, memory bool) {
	switch {
	case x.SpecificHeat != 0:
		return float64(x.SpecificHeat), false
	case b.Heats == TradeHeats && x.Kind == WaterKind:
		return tradeWaterHeat, false
	case b.Heats == TradeHeats:
		return tradeFlourHeat, false // nothing else passes the check
	}
	m, memory := x.Kind.madeOf(x.Composition)
	return specificHeatOf(m.fractions(), heatReferenceCelsius), memory
}

// heatToMelt returns the heat in kJ/kg that makes the ice water of 0 °C.
func (b *MixingBatch) heatToMelt() float64 {
	return heatToWarmAndMelt(b.IceTemp.Celsius(), b.heat(MeltingMeasured))
}

// meltLines are the steps to heatToMelt.
func (b *MixingBatch) meltLines() []string {
	return []string{
		b.line(MeltingMeasured),
		"heat to warm and melt the ice: h_ice = h - 2.0967*T_ice - 0.00733*T_ice*T_ice/2 in kJ/kg  [IAPWS R10-06(2009)]",
	}
}

// hydration returns the heat of hydration in kJ.
func (b *MixingBatch) hydration(s *batchHeat) float64 {
	return float64(float64(b.HydrationHeat) * s.flour / 1000)
}

// workHeat returns the heat of mixing in kJ.
func (b *MixingBatch) workHeat(s *batchHeat) float64 {
	return float64(float64(b.Work)*s.mass/1000) + float64(float64(b.Power)*float64(b.Time))
}

// conditions of the balance itself.
func (b *MixingBatch) conditions(s *batchHeat) (c Conditions, u reckon.Cautions) {
	if !b.Calibrated {
		c |= reckon.Uncalibrated
	}
	if s.memory {
		c |= reckon.FromMemory
	}
	for i := range b.Ingredients {
		if x := &b.Ingredients[i]; x.isWater() && x.Temp.Given() {
			water, caution := b.waterConditions(x.Temp)
			c, u = c|water, u|caution
		}
	}
	if !isNoIce(unit.Mass(s.ice), unit.Mass(s.water)) {
		u |= reckon.IceHandling
		if unit.Percent(100*s.ice/(s.ice+s.water)) > muchIceShare {
			c |= MuchIce
		}
	}
	if unit.Mass(max(s.ice, s.water, s.flour, s.preferment)) > liftingMass {
		u |= reckon.Lifting
	}
	return c, u
}

// show records the sums of the batch: the specific heats that were not given,
// m_f, m_w, C_w, C_b, M, C, Q, and h_ice if there is ice.
func (b *MixingBatch) show(w *reckon.Working, out any) {
	source := "trade value"
	if b.Heats == CompositionHeats {
		source = "composition, Choi and Okos (1986), at 20 °C"
	}
	for i := range b.Ingredients {
		if x := &b.Ingredients[i]; x.SpecificHeat == 0 {
			heat, _ := b.specificHeat(x)
			w.Given(string(x.Kind)+", specific heat", "c_"+strconv.Itoa(i+1), heat, "kJ/(kg K)", source)
		}
	}
	mass, bowl := "sum(m_#)", "0 in kJ/K  [left out]"
	capacity := "sum(m_#/1000{g/kg}*c_#)"
	heat := b.sumOf("m_#/1000{g/kg}*c_#*T_#", func(x *HeatIngredient) bool { return x.Temp.Given() })
	if b.Ice > 0 {
		w.Lines(out, b.meltLines()...)
		mass, capacity, heat = mass+" + m_ice", capacity+" + m_ice/m_w*C_w", heat+" - m_ice/1000{g/kg}*h_ice"
	}
	if b.hasBowl() {
		bowl = "m_b/1000{g/kg}*c_b in kJ/K"
		capacity, heat = capacity+" + C_b", heat+" + C_b*T_b"
	}
	w.Lines(out,
		"flour: m_f = "+b.sumOf("m_#", (*HeatIngredient).isFlour)+" in g",
		"water: m_w = "+b.sumOf("m_#", (*HeatIngredient).isWater)+" in g",
		"heat capacity of the water: C_w = "+b.sumOf("m_#/1000{g/kg}*c_#", (*HeatIngredient).isWater)+" in kJ/K",
		"heat capacity of the bowl: C_b = "+bowl,
		"dough: M = "+mass+" in g",
		"heat capacity of everything: C = "+capacity+" in kJ/K",
		"heat brought in, counted from 0 °C: Q = "+heat+" in kJ",
	)
}

func (x *HeatIngredient) isFlour() bool        { return x.Kind.flour() && !x.Preferment }
func (x *HeatIngredient) isWater() bool        { return x.Kind == WaterKind && !x.Preferment }
func (x *HeatIngredient) isOfPreferment() bool { return x.Preferment }

// sumOf writes out the sum of a term over the ingredients that count, # being
// the number of each.
func (b *MixingBatch) sumOf(term string, counts func(*HeatIngredient) bool) string {
	var terms []string
	for i := range b.Ingredients {
		if counts(&b.Ingredients[i]) {
			terms = append(terms, strings.ReplaceAll(term, "#", strconv.Itoa(i+1)))
		}
	}
	if len(terms) == 0 {
		return "0"
	}
	return strings.Join(terms, " + ")
}

// workSheet writes out workHeat.
func (b *MixingBatch) workSheet() string {
	switch {
	case b.Power != 0:
		return "P*t_m"
	case b.Work != 0:
		return "e*M/1000{g/kg}"
	}
	return "0"
}
