package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DoughProperty returns the specific heat and the gas-free density of a dough
// or a food from its composition:
//
//	c = sum x_i*c_i(t),  1/rho = sum x_i/rho_i(t)
//
// where x_i is the share of water, protein, fat, carbohydrate without fibre,
// fibre and ash, and c_i and rho_i are quadratics in the temperature. Salt
// counts as ash and sugar as carbohydrate.
//
// It holds from 0 to 100 °C. The printed table of foods counts the fibre
// twice, as carbohydrate and as fibre, and so lies up to 2 % above it. Volumes
// are taken to add up; a dough shrinks as the flour takes up water, so measured
// gas-free doughs, usually quoted at 1.25 to 1.29 g/ml, lie 2 to 4 % above the density here: weigh
// a dough of known volume, and put the measured value in. The specific heat of flour comes out some 13 % above
// the 1.76 kJ/(kg K) that bakery engineering uses.
//
// It returns an *[reckon.InputError] if:
//   - there are no ingredients or more than 100, or a kind is not named,
//   - a mass is outside 0.001 g to 100 t,
//   - a composition does not add to 99 to 101 %, or that of "other" is missing,
//   - temperature is missing or outside 0 to 100 °C.
//
// Source: Y. Choi, M. R. Okos (1986), in ASHRAE Handbook-Refrigeration, Thermal Properties of Foods;
// J. E. Siebel (1892) for the rule from water alone; cases in testdata/cases/doughmath/dough-property.json.
//
// [DoughDensity] goes on to the dough with gas.
type DoughProperty struct {
	Ingredients []DoughIngredient `json:"ingredients"` // what is in the dough, 1 to 100 of them
	Temperature unit.Temp         `json:"temperature"` // 0 to 100 °C
}

func (DoughProperty) ID() string { return "dough-property" }

// SHELL
func (q DoughProperty) Check(c *reckon.Checks) {
	_, err := explainDoughProperty(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoughProperty) Solve() (DoughPropertyResult, error) { return explainDoughProperty(q, nil) }

func (q DoughProperty) Show(w *reckon.Working, _ DoughPropertyResult) {
	_, _ = explainDoughProperty(q, w)
}

// DoughPropertyResult is what the composition tells about the dough.
type DoughPropertyResult struct {
	Mass         unit.Mass         `json:"mass"`          // of all the ingredients
	Water        unit.Percent      `json:"water"`         // water in the dough, that of the flour included
	SpecificHeat unit.SpecificHeat `json:"specific_heat"` // heat for one degree
	WaterRule    unit.SpecificHeat `json:"water_rule"`    // the same by the older rule that knows only the water, 0.837 + 3.348 x
	GasFree      unit.Density      `json:"gas_free"`      // density without gas, a few per cent low: see the conditions
	Conditions   Conditions        `json:"conditions"`    // uncalibrated, from-memory
}

func explainDoughProperty(in DoughProperty, w *reckon.Working) (DoughPropertyResult, error) {
	c := reckon.Checks{Func: "dough-property"}
	reckon.CheckTemp(&c, "temperature", in.Temperature, unit.Celsius(0), unit.Celsius(100))
	reckon.CheckCount(&c, "ingredients", len(in.Ingredients), 1, mostIngredients)
	var out DoughPropertyResult
	var parts [len(components)]float64 // grams of each component
	total := 0.0
	for i, x := range in.Ingredients {
		checkIngredient(&c, i, x.Kind, x.Mass)
		m, memory := x.Kind.made(&c, x.Composition, i)
		if memory {
			out.Conditions |= reckon.FromMemory
		}
		if !c.OK() {
			continue
		}
		total += float64(x.Mass)
		for k, f := range m.fractions() {
			parts[k] += float64(float64(x.Mass) * f)
		}
	}
	if err := c.Err(); err != nil {
		return DoughPropertyResult{}, err
	}
	t, heat, volume := in.Temperature.Celsius(), 0.0, 0.0
	for k := range parts {
		parts[k] /= total
		heat += float64(parts[k] * components[k].heat.at(t))
		volume += parts[k] / components[k].density.at(t)
	}
	out.Mass, out.Water = unit.Mass(total), unit.Percent(100*parts[0])
	out.SpecificHeat, out.WaterRule = unit.SpecificHeat(heat), unit.SpecificHeat(0.837+float64(3.348*parts[0]))
	out.GasFree = unit.KilogramsPerCubicMetre(1 / volume)
	out.Conditions |= reckon.Uncalibrated
	if w != nil {
		w.Given("temperature", "t", t, "°C", "")
		heatSum, volumeSum := "", ""
		for k, p := range components {
			w.Given("share of "+p.id, "x_"+p.symbol, parts[k], "", "composition of the ingredients")
			w.Given("specific heat of "+p.id, "c_"+p.symbol, p.heat.at(t), "kJ/(kg K)", "Choi and Okos (1986)")
			w.Given("density of "+p.id, "rho_"+p.symbol, p.density.at(t), "kg/m³", "Choi and Okos (1986)")
			if k > 0 {
				heatSum, volumeSum = heatSum+" + ", volumeSum+" + "
			}
			heatSum += "x_" + p.symbol + "*c_" + p.symbol
			volumeSum += "x_" + p.symbol + "/rho_" + p.symbol
		}
		w.Step("specific heat by the water alone", "c_w", "0.837 + 3.348*x_water", float64(out.WaterRule), "kJ/(kg K)", "Siebel (1892)")
		w.Step("gas-free density", "rho", "1 / ("+volumeSum+") / 1000", float64(out.GasFree), "g/ml", "volumes add up")
		w.Step("specific heat", "c", heatSum, heat, "kJ/(kg K)", "heats add up")
	}
	return out, nil
}

func checkIngredient(c *reckon.Checks, i int, kind IngredientKind, mass unit.Mass) {
	if !(mass >= leastMass && mass <= mostWater) {
		reckon.CheckRange(c, ingredientField(i, "mass"), mass, leastMass, mostWater)
	}
	if _, _, known := kind.composition(); !known && kind != OtherKind {
		checkKind(c, ingredientField(i, "kind"), kind)
	}
}

// GasFreeSource names where a gas-free density comes from.
type GasFreeSource string

const (
	// GasFreeMeasured is a density weighed on the dough itself.
	GasFreeMeasured GasFreeSource = "measured"
	// GasFreeFromComposition is a density from [DoughProperty], a few per cent low.
	GasFreeFromComposition GasFreeSource = "composition"
)

// Bounds of gas-free density, wide around every dough from a batter to a stiff one.
const (
	leastGasFree unit.Density = 0.9
	mostGasFree  unit.Density = 1.6
)

// DoughDensity returns the density of a dough with gas in it:
//
//	rho = rho_0*(1 - alpha)
//
// with rho_0 the density without gas and alpha the gas in the volume. Its
// inverse 1/rho is the specific volume, and 1/(1 - alpha) the expansion.
//
// The relation is exact. The gas that the mixer leaves is some 5 to 15 %
// (common practice) and follows the pressure: a dough pressed into a chamber is denser.
//
// It returns an *[reckon.InputError] if:
//   - gas_free is outside 0.9 to 1.6 g/ml or its origin is not named,
//   - gas is outside 0 to 95 %.
//
// Source: identity; cases in testdata/cases/doughmath/dough-density.json.
//
// The inverse is [GasForDensity].
type DoughDensity struct {
	GasFree unit.Density  `json:"gas_free"`      // density without gas, 0.9 to 1.6 g/ml
	From    GasFreeSource `json:"gas_free_from"` // "measured" or "composition"
	Gas     unit.Percent  `json:"gas"`           // gas in the volume, 0 to 95 %
}

func (DoughDensity) ID() string { return "dough-density" }

// SHELL
func (q DoughDensity) Check(c *reckon.Checks) {
	_, err := explainDoughDensity(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoughDensity) Solve() (DoughDensityResult, error) { return explainDoughDensity(q, nil) }

func (q DoughDensity) Show(w *reckon.Working, _ DoughDensityResult) { _, _ = explainDoughDensity(q, w) }

// DoughDensityResult is the dough as it is scaled or proofed.
type DoughDensityResult struct {
	Density        unit.Density `json:"density"`         // with its gas
	SpecificVolume float64      `json:"specific_volume"` // ml/g
	Expansion      float64      `json:"expansion"`       // volume for the volume without gas
	Conditions     Conditions   `json:"conditions"`      // uncalibrated
}

func explainDoughDensity(in DoughDensity, w *reckon.Working) (out DoughDensityResult, err error) {
	c := reckon.Checks{Func: "dough-density"}
	reckon.CheckRange(&c, "gas_free", in.GasFree, leastGasFree, mostGasFree)
	reckon.CheckEither(&c, "gas_free_from", in.From, GasFreeMeasured, GasFreeFromComposition)
	reckon.CheckRange(&c, "gas", in.Gas, 0, 95)
	if err := c.Err(); err != nil {
		return DoughDensityResult{}, err
	}
	left := 1 - float64(in.Gas)/100
	out = DoughDensityResult{Density: unit.Density(float64(in.GasFree) * left), Expansion: 1 / left, Conditions: in.From.condition()}
	out.SpecificVolume = 1 / float64(out.Density)
	if w != nil {
		w.Given("density without gas", "rho_0", float64(in.GasFree), "g/ml", string(in.From))
		w.Given("gas in the volume", "gas", float64(in.Gas), "%", "")
		w.Step("volume for the volume without gas", "expansion", "1 / (1 - gas/100)", out.Expansion, "", "")
		w.Step("density", "rho", "rho_0*(1 - gas/100)", float64(out.Density), "g/ml", "the gas weighs nothing")
		w.Step("specific volume", "v", "1 / rho", out.SpecificVolume, "ml/g", "")
	}
	return out, nil
}

func (s GasFreeSource) condition() Conditions {
	if s == GasFreeFromComposition {
		return reckon.Uncalibrated
	}
	return 0
}

// GasForDensity returns the gas in a dough of known density:
//
//	alpha = 1 - rho/rho_0
//
// It is the inverse of [DoughDensity], with the same validity and source. With a
// density without gas that is a few per cent low, as the composition gives it, the gas
// comes out a few per cent of the volume low too, and may seem to be less than none.
//
// It returns an *[reckon.InputError] if:
//   - gas_free is outside 0.9 to 1.6 g/ml or its origin is not named,
//   - density is not between a twentieth of gas_free and 1.6 g/ml.
//
// It returns a *[reckon.NoSolutionError] if the dough is denser than it can be without gas.
//
// Source: identity; cases in testdata/cases/doughmath/gas-for-density.json.
type GasForDensity struct {
	GasFree unit.Density  `json:"gas_free"`      // density without gas, 0.9 to 1.6 g/ml
	From    GasFreeSource `json:"gas_free_from"` // "measured" or "composition"
	Density unit.Density  `json:"density"`       // with its gas, 0.045 g/ml to the density without gas
}

func (GasForDensity) ID() string { return "gas-for-density" }

// SHELL
func (q GasForDensity) Check(c *reckon.Checks) {
	_, err := explainGasForDensity(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GasForDensity) Solve() (GasForDensityResult, error) { return explainGasForDensity(q, nil) }

func (q GasForDensity) Show(w *reckon.Working, _ GasForDensityResult) {
	_, _ = explainGasForDensity(q, w)
}

// GasForDensityResult is the gas in the dough.
type GasForDensityResult struct {
	Gas        unit.Percent `json:"gas"`        // gas in the volume
	Expansion  float64      `json:"expansion"`  // volume for the volume without gas
	Conditions Conditions   `json:"conditions"` // uncalibrated
}

func explainGasForDensity(in GasForDensity, w *reckon.Working) (out GasForDensityResult, err error) {
	c := reckon.Checks{Func: "gas-for-density"}
	low := unit.Density(0)
	if reckon.CheckRange(&c, "gas_free", in.GasFree, leastGasFree, mostGasFree) {
		low = in.GasFree * 0.0499 // a little under a twentieth, so that 95 % comes back
	}
	reckon.CheckEither(&c, "gas_free_from", in.From, GasFreeMeasured, GasFreeFromComposition)
	reckon.CheckRange(&c, "density", in.Density, low, mostGasFree)
	if err := c.Err(); err != nil {
		return GasForDensityResult{}, err
	}
	if in.Density > in.GasFree {
		return GasForDensityResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "gas", Wanted: "a density of " + in.Density.String(),
			High: in.GasFree.String(), Advice: "the density without gas is too low: measure it on the dough itself; the composition gives 2 to 4 % too little",
		}
	}
	out = GasForDensityResult{Gas: unit.Percent(100 * (1 - float64(in.Density)/float64(in.GasFree))), Expansion: float64(in.GasFree) / float64(in.Density), Conditions: in.From.condition()}
	if w != nil {
		w.Given("density without gas", "rho_0", float64(in.GasFree), "g/ml", string(in.From))
		w.Given("density", "rho", float64(in.Density), "g/ml", "")
		w.Step("volume for the volume without gas", "expansion", "rho_0 / rho", out.Expansion, "", "")
		w.Step("gas in the volume", "gas", "100*(1 - rho/rho_0)", float64(out.Gas), "%", "")
	}
	return out, nil
}
