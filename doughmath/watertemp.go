package doughmath

import (
	"fmt"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// FrictionBasis names how the heat of mixing enters the factor rule. Sources
// use both readings, and a figure measured under one is wrong under the other:
// the once-only friction is N times the rise per factor.
type FrictionBasis string

const (
	// FrictionOnce takes the friction factor off once: N*target - sum - friction.
	FrictionOnce FrictionBasis = "once"
	// FrictionPerFactor takes the rise in mixing off the target: N*(target - rise) - sum.
	FrictionPerFactor FrictionBasis = "per-factor"
)

// once returns the friction as the factor rule subtracts it, for n factors.
func (b FrictionBasis) once(friction unit.TempDelta, n int) unit.TempDelta {
	if b == FrictionPerFactor {
		return unit.TempDelta(float64(n) * float64(friction))
	}
	return friction
}

// The range in which temperatures of air, flour, water and dough are taken at
// their word. It is wide: it catches Fahrenheit typed as Celsius and slips of
// a digit, not an unusual day.
var (
	coldestReading = unit.Celsius(-40)
	hottestReading = unit.Celsius(60)
)

const (
	// yeastCautionCelsius is the water temperature above which yeast that the
	// water touches may be harmed. Trade texts put the caution at 38 to 43 °C;
	// common practice, no source.
	yeastCautionCelsius = 40
	// yeastRefusalCelsius is the water temperature above which no water is
	// recommended: baker's yeast dies at about 55 to 60 °C. Common practice, no source.
	yeastRefusalCelsius = 55
)

// WaterTemperature returns the water temperature that brings the dough to the
// target, by the factor rule:
//
//	T_w = N*T_d - (T_f + T_r + ...) - F
//
// with N the number of temperatures counted, the water included (2 to 5), and
// F the friction factor. With the friction named per factor, F = N * rise. A
// friction factor measured with one N does not carry over to another.
//
// The rule gives every factor the same weight. It is exact only when the
// friction was measured on like batches; [MixingHeat] gives the energy balance.
// A result below freezing is normal and means ice; below -80 °C not even all
// the water as ice is enough.
//
// It returns an *[reckon.InputError] if:
//   - target is missing or outside 0 to 45 °C,
//   - another temperature given is outside -40 to 60 °C, or flour is missing,
//   - friction is outside -20 to 60 C° or its basis is not named.
//
// It returns a *[reckon.NoSolutionError] if the water would have to be above 55 °C, or
// below absolute zero (-273.15 °C), where the number no longer stands for any water or ice.
// The range that it names reaches from all the water as ice, which acts like water
// of -80 °C, to water of 55 °C.
//
// Source: J. E. Wihlfahrt, A Treatise on Baking (rule of averages); T. Lehmann,
// Pizza Today, June 2018 (with friction); cases in testdata/cases/doughmath/water-temperature.json.
//
// The inverses are [DoughTemperatureForWater] and [FrictionFactor].
type WaterTemperature struct {
	Target unit.Temp `json:"target"`          // wanted dough temperature, 0 to 45 °C
	Flour  unit.Temp `json:"flour"`           // flour temperature, -40 to 60 °C
	Room   unit.Temp `json:"room,omitzero"`   // room temperature, -40 to 60 °C; leave out for the two-factor rule
	Third  unit.Temp `json:"third,omitzero"`  // preferment, starter or soaker, if any, -40 to 60 °C
	Fourth unit.Temp `json:"fourth,omitzero"` // a second one, if any, -40 to 60 °C

	Friction unit.TempDelta `json:"friction"`       // rise through mixing, in the reading named by friction_basis, -20 to 60 C°
	Basis    FrictionBasis  `json:"friction_basis"` // "once" or "per-factor"
}

func (WaterTemperature) ID() string { return "water-temperature" }

// SHELL
func (q WaterTemperature) Check(c *reckon.Checks) {
	_, err := explainWaterTemperature(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WaterTemperature) Solve() (WaterTemperatureResult, error) {
	return explainWaterTemperature(q, nil)
}

func (q WaterTemperature) Show(w *reckon.Working, _ WaterTemperatureResult) {
	_, _ = explainWaterTemperature(q, w)
}

// factorTemps are the temperatures that the factor rule counts beside the water.
type factorTemps struct{ flour, room, third, fourth unit.Temp }

// known returns the number of factors N, the water included, and the sum of
// the known temperatures in °C.
func (f *factorTemps) known() (n int, sum float64) {
	n, sum = 2, f.flour.Celsius()
	for _, t := range [...]unit.Temp{f.room, f.third, f.fourth} {
		if t.Given() {
			n, sum = n+1, sum+t.Celsius()
		}
	}
	return n, sum
}

func (f *factorTemps) check(c *reckon.Checks) {
	reckon.CheckTemp(c, "flour", f.flour, coldestReading, hottestReading)
	checkGiven(c, "room", f.room)
	checkGiven(c, "third", f.third)
	checkGiven(c, "fourth", f.fourth)
}

// checkGiven wants a temperature that may be left out to be a reading if it is there.
func checkGiven(c *reckon.Checks, field string, t unit.Temp) {
	if t.Given() {
		reckon.CheckTemp(c, field, t, coldestReading, hottestReading)
	}
}

// explain records N, the known temperatures and their sum S.
func (f *factorTemps) explain(w *reckon.Working, n int) {
	w.Given("factors counted, the water included", "N", float64(n), "", "")
	sum, expression := 0.0, ""
	for _, x := range [...]struct {
		id, symbol string
		t          unit.Temp
	}{{"flour temperature", "T_f", f.flour}, {"room temperature", "T_r", f.room}, {"preferment or soaker temperature", "T_3", f.third}, {"second preferment or soaker temperature", "T_4", f.fourth}} {
		if x.t.Given() {
			w.Given(x.id, x.symbol, x.t.Celsius(), "°C", "")
			if expression != "" {
				expression += " + "
			}
			expression += x.symbol
			sum += x.t.Celsius()
		}
	}
	w.Step("sum of the known temperatures", "S", expression, sum, "C°", "")
}

// The friction that is taken at its word, in either reading. Trade texts name 2
// to 35 F° taken off once (Wihlfahrt, Lehmann); the rest is room to spare.
const (
	leastFriction unit.TempDelta = -20
	mostFriction  unit.TempDelta = 60
)

// check wants a friction that is plausible, in a reading that is named.
func (b FrictionBasis) check(c *reckon.Checks, friction unit.TempDelta) {
	reckon.CheckRange(c, "friction", friction, leastFriction, mostFriction)
	reckon.CheckEither(c, "friction_basis", b, FrictionOnce, FrictionPerFactor)
}

// explain records the friction F as the factor rule subtracts it, for the N recorded before.
func (b FrictionBasis) explain(w *reckon.Working, friction unit.TempDelta, n int) {
	if b == FrictionPerFactor {
		w.Given("rise in mixing, per factor", "r", float64(friction), "C°", "")
		w.Step("friction factor", "F", "N*r", float64(b.once(friction, n)), "C°", "the rise, once for each factor")
	} else {
		w.Given("friction factor", "F", float64(friction), "C°", "")
	}
}

// WaterTemperatureResult is the water to use.
type WaterTemperatureResult struct {
	Water      unit.Temp       `json:"water"`      // may be below freezing: see the conditions and [Ice]
	Factors    int             `json:"factors"`    // N, the water included
	Base       unit.TempDelta  `json:"base"`       // base temperature N*target - friction, the sum the factors must make
	Conditions Conditions      `json:"conditions"` // below-freezing, colder-than-all-ice, warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`   // hot-water
}

func explainWaterTemperature(in WaterTemperature, w *reckon.Working) (out WaterTemperatureResult, err error) {
	c := reckon.Checks{Func: "water-temperature"}
	reckon.CheckTemp(&c, "target", in.Target, unit.Celsius(0), unit.Celsius(45))
	factors := factorTemps{in.Flour, in.Room, in.Third, in.Fourth}
	factors.check(&c)
	in.Basis.check(&c, in.Friction)
	if err := c.Err(); err != nil {
		return WaterTemperatureResult{}, err
	}
	n, sum := factors.known()
	friction := in.Basis.once(in.Friction, n)
	base := float64(float64(n)*in.Target.Celsius()) - float64(friction)
	out = WaterTemperatureResult{Water: unit.Celsius(base - sum), Factors: n, Base: unit.TempDelta(base)}
	out.Conditions, out.Cautions = waterConditions(out.Water)
	if w != nil {
		in.explain(w, &factors, out)
	}
	if out.Water.Celsius() > yeastRefusalCelsius {
		// The target at which the water is just at the limit.
		limit := (yeastRefusalCelsius + sum + float64(friction)) / float64(n)
		return WaterTemperatureResult{}, in.tooHot(out.Water, unit.Celsius(limit))
	}
	if out.Water.Celsius() < -unit.KelvinAtZeroCelsius {
		reach := func(water float64) unit.Temp { return unit.Celsius((water + sum + float64(friction)) / float64(n)) }
		return WaterTemperatureResult{}, tooCold(c.Func, "a dough of "+in.Target.String(), out.Water, reach(-float64(iceEquivalent)), reach(yeastRefusalCelsius))
	}
	return out, nil
}

func (in *WaterTemperature) explain(w *reckon.Working, factors *factorTemps, out WaterTemperatureResult) {
	w.Given("dough temperature wanted", "T_d", in.Target.Celsius(), "°C", "")
	factors.explain(w, out.Factors)
	in.Basis.explain(w, in.Friction, out.Factors)
	w.Step("base temperature", "B", "N*T_d - F", float64(out.Base), "C°", "sum that all factors must make")
	w.Step("water temperature", "T_w", "B - S", out.Water.Celsius(), "°C", "factor rule")
}

// tooHot refuses water that no yeast survives and says what dough can be reached.
func (in *WaterTemperature) tooHot(water, limit unit.Temp) error {
	return &reckon.NoSolutionError{
		Func: "water-temperature", Unknown: "safe water temperature",
		Wanted: "a dough of " + in.Target.String(), High: limit.String(),
		Advice: "water of " + water.String() + " would kill the yeast; warm the flour or the room, or mix longer",
	}
}

// tooCold refuses a number that stands for no water and no ice, and says what
// can be reached with nothing but ice and with the hottest water.
func tooCold(function, wanted string, water unit.Temp, low, high fmt.Stringer) error {
	return &reckon.NoSolutionError{
		Func: function, Unknown: "water or ice", Wanted: wanted, Low: low.String(), High: high.String(),
		Advice: "it would take water of " + water.String() + ", below absolute zero; check the readings and what warms the dough in mixing, cool the flour or the room, or accept a warmer dough",
	}
}

// waterConditions says what to look at in a calculated water temperature. What
// is colder than all ice is not also told to be mended with ice.
func waterConditions(t unit.Temp) (Conditions, reckon.Cautions) {
	var c Conditions
	var u reckon.Cautions
	switch {
	case t.Celsius() < -float64(iceEquivalent):
		c |= ColderThanAllIce
	case t.Celsius() < 0:
		c |= BelowFreezing
	}
	if t.Celsius() > yeastCautionCelsius {
		c |= WarmForYeast
		u |= reckon.HotWater
	}
	return c, u
}

// DoughTemperatureForWater returns the dough temperature that the factor rule
// foresees for the water at hand:
//
//	T_d = (T_w + T_f + T_r + ... + F) / N
//
// It is the inverse of [WaterTemperature], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - water is missing or outside -80 to 55 °C,
//   - another input is out of the range that [WaterTemperature] names.
//
// Source: J. E. Wihlfahrt, A Treatise on Baking; common practice with friction.
type DoughTemperatureForWater struct {
	Water  unit.Temp `json:"water"`           // water temperature; below 0 °C stands for ice and water; -80 to 55 °C
	Flour  unit.Temp `json:"flour"`           // flour temperature, -40 to 60 °C
	Room   unit.Temp `json:"room,omitzero"`   // room temperature, -40 to 60 °C; leave out for the two-factor rule
	Third  unit.Temp `json:"third,omitzero"`  // preferment, starter or soaker, if any, -40 to 60 °C
	Fourth unit.Temp `json:"fourth,omitzero"` // a second one, if any, -40 to 60 °C

	Friction unit.TempDelta `json:"friction"`       // rise through mixing, in the reading named by friction_basis, -20 to 60 C°
	Basis    FrictionBasis  `json:"friction_basis"` // "once" or "per-factor"
}

func (DoughTemperatureForWater) ID() string { return "dough-temperature-for-water" }

// SHELL
func (q DoughTemperatureForWater) Check(c *reckon.Checks) {
	_, err := explainDoughTemperatureForWater(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoughTemperatureForWater) Solve() (DoughTemperatureForWaterResult, error) {
	return explainDoughTemperatureForWater(q, nil)
}

func (q DoughTemperatureForWater) Show(w *reckon.Working, _ DoughTemperatureForWaterResult) {
	_, _ = explainDoughTemperatureForWater(q, w)
}

// DoughTemperatureForWaterResult is the dough to expect.
type DoughTemperatureForWaterResult struct {
	Dough      unit.Temp       `json:"dough"`      // dough temperature at the end of mixing
	Factors    int             `json:"factors"`    // N, the water included
	Conditions Conditions      `json:"conditions"` // of the water: below-freezing, warm-for-yeast
	Cautions   reckon.Cautions `json:"cautions"`   // hot-water
}

func explainDoughTemperatureForWater(in DoughTemperatureForWater, w *reckon.Working) (out DoughTemperatureForWaterResult, err error) {
	c := reckon.Checks{Func: "dough-temperature-for-water"}
	reckon.CheckTemp(&c, "water", in.Water, unit.Celsius(-float64(iceEquivalent)), unit.Celsius(yeastRefusalCelsius))
	factors := factorTemps{in.Flour, in.Room, in.Third, in.Fourth}
	factors.check(&c)
	in.Basis.check(&c, in.Friction)
	if err := c.Err(); err != nil {
		return DoughTemperatureForWaterResult{}, err
	}
	n, sum := factors.known()
	friction := in.Basis.once(in.Friction, n)
	out = DoughTemperatureForWaterResult{Dough: unit.Celsius((in.Water.Celsius() + sum + float64(friction)) / float64(n)), Factors: n}
	out.Conditions, out.Cautions = waterConditions(in.Water)
	if w != nil {
		w.Given("water temperature", "T_w", in.Water.Celsius(), "°C", "")
		factors.explain(w, n)
		in.Basis.explain(w, in.Friction, n)
		w.Step("dough temperature", "T_d", "(T_w + S + F) / N", out.Dough.Celsius(), "°C", "factor rule")
	}
	return out, nil
}
