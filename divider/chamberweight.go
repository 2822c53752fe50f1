package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The bounds of chamber figures; wide, to catch slips of a digit and gauge
// pressures typed for absolute ones.
const (
	maxChamber                         = unit.Volume(100_000)
	minGasFree, maxGasFree             = unit.Density(0.9), unit.Density(1.6)
	maxGas                             = unit.Percent(90)
	minAmbient, maxAmbient             = unit.Pressure(50), unit.Pressure(120)
	minChamberPressure, maxChamberPres = unit.Pressure(20), unit.Pressure(2000)
)

// ChamberWeight returns the weight that a measuring chamber cuts off:
//
//	m = rho * V * (1 - a_c)
//	a_c = a*r / (1 - a + a*r)    r = P_ambient / P_chamber
//
// with rho the density of the dough without gas, a the gas in the dough at
// ambient pressure and a_c what is left of it in the chamber. The gas follows
// Boyle's law at constant temperature; the rest of the dough is taken as
// incompressible and no gas as dissolving, which the short stroke allows.
//
// It is an estimate until one of its inverses has been fed a weighed piece:
// [GasForChamberWeight], [VolumeForChamberWeight] or [PressureForChamberWeight].
//
// It returns an *[reckon.InputError] if:
//   - volume is not above 0 and up to 100 l,
//   - gas_free is not 0.9 to 1.6 g/ml,
//   - gas is not 0 to 90 %,
//   - ambient is not 50 to 120 kPa or chamber not 20 to 2000 kPa, both absolute.
//
// Source: conservation of mass and Boyle's law; G. M. Campbell et al., Cereal Chem. 70 (1993) 517 (gas and pressure).
type ChamberWeight struct {
	Volume  unit.Volume   `json:"volume"`   // chamber volume at the mark; above 0 up to 100 l
	GasFree unit.Density  `json:"gas_free"` // density of the dough without its gas; 0.9 to 1.6 g/ml
	Gas     unit.Percent  `json:"gas"`      // gas in the dough, of its volume, at ambient pressure; 0 to 90 %
	Ambient unit.Pressure `json:"ambient"`  // air pressure, absolute; 50 to 120 kPa
	Chamber unit.Pressure `json:"chamber"`  // pressure of the dough in the full chamber, absolute; 20 to 2000 kPa
}

func (ChamberWeight) ID() string { return "chamber-weight" }

// SHELL
func (q ChamberWeight) Check(c *reckon.Checks) {
	_, err := explainChamberWeight(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ChamberWeight) Solve() (ChamberWeightResult, error) { return explainChamberWeight(q, nil) }

func (q ChamberWeight) Show(w *reckon.Working, _ ChamberWeightResult) {
	_, _ = explainChamberWeight(q, w)
}

// ChamberWeightResult is the piece and what it hangs on.
type ChamberWeightResult struct {
	Weight      unit.Mass    `json:"weight"`       // weight of the piece
	Density     unit.Density `json:"density"`      // density of the dough in the chamber
	ChamberGas  unit.Percent `json:"chamber_gas"`  // gas left in the chamber, of its volume
	PerVolume   float64      `json:"per_volume"`   // g more for each ml of chamber
	PerGas      float64      `json:"per_gas"`      // g more for each percentage point of gas in the dough; below 0
	PerPressure float64      `json:"per_pressure"` // g more for each kPa in the chamber
	PerGasFree  float64      `json:"per_gas_free"` // g more for each 0.01 g/ml of gas-free density

	Conditions Conditions `json:"conditions"` // uncalibrated
}

func explainChamberWeight(in ChamberWeight, w *reckon.Working) (out ChamberWeightResult, err error) {
	c := reckon.Checks{Func: "chamber-weight"}
	reckon.CheckAbove(&c, "volume", in.Volume, maxChamber)
	reckon.CheckRange(&c, "gas_free", in.GasFree, minGasFree, maxGasFree)
	reckon.CheckRange(&c, "gas", in.Gas, 0, maxGas)
	checkPressures(&c, in.Ambient, in.Chamber)
	if err := c.Err(); err != nil {
		return ChamberWeightResult{}, err
	}
	rho, v, a := float64(in.GasFree), float64(in.Volume), float64(in.Gas)/100
	r := float64(in.Ambient) / float64(in.Chamber)
	d := 1 - a + float64(a*r) // volume in the chamber of what was one volume outside
	density := rho * (1 - a) / d
	m := density * v
	out = ChamberWeightResult{
		Weight: unit.Mass(m), Density: unit.Density(density),
		ChamberGas:  unit.Percent(100 * a * r / d),
		PerVolume:   density,
		PerGas:      -rho * v * r / (d * d) / 100,
		PerPressure: rho * v * (1 - a) * a * r / float64(in.Chamber) / (d * d),
		PerGasFree:  m / rho / 100,
		Conditions:  reckon.Uncalibrated,
	}
	if w != nil {
		explainDough(w, rho, in.Ambient, in.Chamber, r)
		w.Given("gas in the dough", "a", a, "", "at ambient pressure")
		w.Given("chamber volume", "V", v, "ml", "")
		w.Step("volume left of one", "d", "1 - a + a*r", d, "", "Boyle's law")
		w.Step("density in the chamber", "rho_c", "rho * (1 - a) / d", density, "g/ml", "conservation of mass")
		w.Step("piece weight", "m", "rho_c * V", m, "g", "")
	}
	return out, nil
}

func checkPressures(c *reckon.Checks, ambient, chamber unit.Pressure) {
	reckon.CheckRange(c, "ambient", ambient, minAmbient, maxAmbient)
	reckon.CheckRange(c, "chamber", chamber, minChamberPressure, maxChamberPres)
}

func explainDough(w *reckon.Working, rho float64, ambient, chamber unit.Pressure, r float64) {
	w.Given("gas-free density", "rho", rho, "g/ml", "")
	w.Given("air pressure", "P_a", float64(ambient), "kPa", "absolute")
	w.Given("chamber pressure", "P_c", float64(chamber), "kPa", "absolute")
	w.Step("pressure ratio", "r", "P_a / P_c", r, "", "")
}

// VolumeForChamberWeight returns the chamber that cuts off a given weight:
//
//	V = m * (1 - a + a*r) / (rho * (1 - a))    r = P_ambient / P_chamber
//
// It is an inverse of [ChamberWeight], with the same validity. Given a weighed
// piece it returns the chamber as it acts, short fill included.
//
// It returns an *[reckon.InputError] if:
//   - weight is not above 0 and up to 100 kg,
//   - another input is out of the range that [ChamberWeight] names.
//
// Source: conservation of mass and Boyle's law.
//
// The inverse is [ChamberWeight].
type VolumeForChamberWeight struct {
	Weight  unit.Mass     `json:"weight"`   // weight of the piece, wanted or weighed; above 0 up to 100 kg
	GasFree unit.Density  `json:"gas_free"` // density of the dough without its gas; 0.9 to 1.6 g/ml
	Gas     unit.Percent  `json:"gas"`      // gas in the dough, of its volume, at ambient pressure; 0 to 90 %
	Ambient unit.Pressure `json:"ambient"`  // air pressure, absolute; 50 to 120 kPa
	Chamber unit.Pressure `json:"chamber"`  // pressure of the dough in the full chamber, absolute; 20 to 2000 kPa
}

func (VolumeForChamberWeight) ID() string { return "volume-for-chamber-weight" }

// SHELL
func (q VolumeForChamberWeight) Check(c *reckon.Checks) {
	_, err := explainVolumeForChamberWeight(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q VolumeForChamberWeight) Solve() (VolumeForChamberWeightResult, error) {
	return explainVolumeForChamberWeight(q, nil)
}

func (q VolumeForChamberWeight) Show(w *reckon.Working, _ VolumeForChamberWeightResult) {
	_, _ = explainVolumeForChamberWeight(q, w)
}

// VolumeForChamberWeightResult is the chamber.
type VolumeForChamberWeightResult struct {
	Volume     unit.Volume `json:"volume"`     // chamber volume
	Conditions Conditions  `json:"conditions"` // uncalibrated: the volume rests on the gas and the pressure put in
}

func explainVolumeForChamberWeight(in VolumeForChamberWeight, w *reckon.Working) (out VolumeForChamberWeightResult, err error) {
	c := reckon.Checks{Func: "volume-for-chamber-weight"}
	reckon.CheckAbove(&c, "weight", in.Weight, maxPiece)
	reckon.CheckRange(&c, "gas_free", in.GasFree, minGasFree, maxGasFree)
	reckon.CheckRange(&c, "gas", in.Gas, 0, maxGas)
	checkPressures(&c, in.Ambient, in.Chamber)
	if err := c.Err(); err != nil {
		return VolumeForChamberWeightResult{}, err
	}
	rho, a := float64(in.GasFree), float64(in.Gas)/100
	r := float64(in.Ambient) / float64(in.Chamber)
	out = VolumeForChamberWeightResult{
		Volume:     unit.Volume(float64(in.Weight) * (1 - a + float64(a*r)) / (rho * (1 - a))),
		Conditions: reckon.Uncalibrated,
	}
	if w != nil {
		explainDough(w, rho, in.Ambient, in.Chamber, r)
		w.Given("gas in the dough", "a", a, "", "at ambient pressure")
		w.Given("piece weight", "m", float64(in.Weight), "g", "")
		w.Step("chamber volume", "V", "m * (1 - a + a*r) / (rho * (1 - a))", float64(out.Volume), "ml", "Boyle's law")
	}
	return out, nil
}

// GasForChamberWeight returns the gas in the dough that a weighed piece tells of:
//
//	a = (1 - q) / (1 + q*(r - 1))    q = m / (rho * V), r = P_ambient / P_chamber
//
// It is an inverse of [ChamberWeight], with the same validity, and calibrates it.
//
// It returns an *[reckon.InputError] if:
//   - weight is not above 0 and up to 100 kg,
//   - another input is out of the range that [ChamberWeight] names.
//
// It returns a *[reckon.NoSolutionError] if the piece is heavier than a chamber full
// of dough without gas, or so light that more than 90 % would be gas.
//
// Source: conservation of mass and Boyle's law.
//
// The inverse is [ChamberWeight].
type GasForChamberWeight struct {
	Weight  unit.Mass     `json:"weight"`   // mean weight of pieces; above 0 up to 100 kg
	Volume  unit.Volume   `json:"volume"`   // chamber volume at the mark; above 0 up to 100 l
	GasFree unit.Density  `json:"gas_free"` // density of the dough without its gas; 0.9 to 1.6 g/ml
	Ambient unit.Pressure `json:"ambient"`  // air pressure, absolute; 50 to 120 kPa
	Chamber unit.Pressure `json:"chamber"`  // pressure of the dough in the full chamber, absolute; 20 to 2000 kPa
}

func (GasForChamberWeight) ID() string { return "gas-for-chamber-weight" }

// SHELL
func (q GasForChamberWeight) Check(c *reckon.Checks) {
	_, err := explainGasForChamberWeight(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GasForChamberWeight) Solve() (GasForChamberWeightResult, error) {
	return explainGasForChamberWeight(q, nil)
}

func (q GasForChamberWeight) Show(w *reckon.Working, _ GasForChamberWeightResult) {
	_, _ = explainGasForChamberWeight(q, w)
}

// GasForChamberWeightResult is the gas in the dough.
type GasForChamberWeightResult struct {
	Gas unit.Percent `json:"gas"` // gas in the dough, of its volume, at ambient pressure
}

func explainGasForChamberWeight(in GasForChamberWeight, w *reckon.Working) (out GasForChamberWeightResult, err error) {
	c := reckon.Checks{Func: "gas-for-chamber-weight"}
	reckon.CheckAbove(&c, "weight", in.Weight, maxPiece)
	reckon.CheckAbove(&c, "volume", in.Volume, maxChamber)
	reckon.CheckRange(&c, "gas_free", in.GasFree, minGasFree, maxGasFree)
	checkPressures(&c, in.Ambient, in.Chamber)
	if err := c.Err(); err != nil {
		return GasForChamberWeightResult{}, err
	}
	rho := float64(in.GasFree)
	full := rho * float64(in.Volume)
	q := float64(in.Weight) / full
	r := float64(in.Ambient) / float64(in.Chamber)
	a := (1 - q) / (1 + float64(q*(r-1)))
	if !(a >= 0 && a <= float64(maxGas)/100) {
		most := float64(maxGas) / 100
		low := full * (1 - most) / (1 - most + float64(most*r))
		return GasForChamberWeightResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "gas", Wanted: "a piece of " + in.Weight.String(),
			Low: unit.Mass(low).String(), High: unit.Mass(full).String(),
			Advice: "check the chamber volume and the gas-free density",
		}
	}
	out = GasForChamberWeightResult{Gas: unit.Percent(100 * a)}
	if w != nil {
		explainDough(w, rho, in.Ambient, in.Chamber, r)
		w.Given("chamber volume", "V", float64(in.Volume), "ml", "")
		w.Given("piece weight", "m", float64(in.Weight), "g", "")
		w.Step("share that is not gas, in the chamber", "q", "m / (rho * V)", q, "", "conservation of mass")
		w.Step("gas in the dough", "a", "100 * (1 - q) / (1 + q*(r - 1))", float64(out.Gas), "%", "Boyle's law")
	}
	return out, nil
}

// PressureForChamberWeight returns the pressure in the chamber that a weighed
// piece tells of:
//
//	P_chamber = P_ambient * q*a / ((1 - a)*(1 - q))    q = m / (rho * V)
//
// It is an inverse of [ChamberWeight], with the same validity. A piece that is
// nearly free of gas tells little of the pressure.
//
// It returns an *[reckon.InputError] if:
//   - weight is not above 0 and up to 100 kg, or gas is not 1 to 90 %,
//   - another input is out of the range that [ChamberWeight] names.
//
// It returns a *[reckon.NoSolutionError] if the pressure would lie outside 20 to 2000 kPa.
//
// Source: conservation of mass and Boyle's law.
//
// The inverse is [ChamberWeight].
type PressureForChamberWeight struct {
	Weight  unit.Mass     `json:"weight"`   // mean weight of pieces; above 0 up to 100 kg
	Volume  unit.Volume   `json:"volume"`   // chamber volume at the mark; above 0 up to 100 l
	GasFree unit.Density  `json:"gas_free"` // density of the dough without its gas; 0.9 to 1.6 g/ml
	Gas     unit.Percent  `json:"gas"`      // gas in the dough, of its volume, at ambient pressure; 1 to 90 %
	Ambient unit.Pressure `json:"ambient"`  // air pressure, absolute; 50 to 120 kPa
}

func (PressureForChamberWeight) ID() string { return "pressure-for-chamber-weight" }

// SHELL
func (q PressureForChamberWeight) Check(c *reckon.Checks) {
	_, err := explainPressureForChamberWeight(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PressureForChamberWeight) Solve() (PressureForChamberWeightResult, error) {
	return explainPressureForChamberWeight(q, nil)
}

func (q PressureForChamberWeight) Show(w *reckon.Working, _ PressureForChamberWeightResult) {
	_, _ = explainPressureForChamberWeight(q, w)
}

// PressureForChamberWeightResult is the pressure behind the piece.
type PressureForChamberWeightResult struct {
	Chamber unit.Pressure `json:"chamber"` // pressure of the dough in the full chamber, absolute
}

func explainPressureForChamberWeight(in PressureForChamberWeight, w *reckon.Working) (out PressureForChamberWeightResult, err error) {
	c := reckon.Checks{Func: "pressure-for-chamber-weight"}
	reckon.CheckAbove(&c, "weight", in.Weight, maxPiece)
	reckon.CheckAbove(&c, "volume", in.Volume, maxChamber)
	reckon.CheckRange(&c, "gas_free", in.GasFree, minGasFree, maxGasFree)
	reckon.CheckRange(&c, "gas", in.Gas, 1, maxGas)
	reckon.CheckRange(&c, "ambient", in.Ambient, minAmbient, maxAmbient)
	if err := c.Err(); err != nil {
		return PressureForChamberWeightResult{}, err
	}
	rho, a := float64(in.GasFree), float64(in.Gas)/100
	full := rho * float64(in.Volume)
	q := float64(in.Weight) / full
	p := float64(in.Ambient) * q * a / ((1 - a) * (1 - q))
	// A piece heavier than the chamber full of gas-free dough comes out below 0.
	if !(p >= float64(minChamberPressure) && p <= float64(maxChamberPres)) {
		at := func(p unit.Pressure) string {
			r := float64(in.Ambient) / float64(p)
			return unit.Mass(full * (1 - a) / (1 - a + float64(a*r))).String()
		}
		return PressureForChamberWeightResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "pressure", Wanted: "a piece of " + in.Weight.String(),
			Low: at(minChamberPressure), High: at(maxChamberPres),
			Advice: "check the chamber volume, the gas-free density and the gas",
		}
	}
	out = PressureForChamberWeightResult{Chamber: unit.Pressure(p)}
	if w != nil {
		w.Given("gas-free density", "rho", rho, "g/ml", "")
		w.Given("air pressure", "P_a", float64(in.Ambient), "kPa", "absolute")
		w.Given("gas in the dough", "a", a, "", "at ambient pressure")
		w.Given("chamber volume", "V", float64(in.Volume), "ml", "")
		w.Given("piece weight", "m", float64(in.Weight), "g", "")
		w.Step("share that is not gas, in the chamber", "q", "m / (rho * V)", q, "", "conservation of mass")
		w.Step("chamber pressure", "P_c", "P_a * q * a / ((1 - a) * (1 - q))", p, "kPa", "Boyle's law")
	}
	return out, nil
}

// What the gas does in the first minute after mixing.
//
// Source: G. M. Campbell et al., Cereal Foods World 43 (1998) 163, abstract.
const (
	afterMixGrowth  = 0.65 // share by which the bubbles grow
	afterMixSeconds = 20.0 // time constant
)

// GasAfterMixing returns the gas that mixing leaves in the dough, as a start
// for [ChamberWeight]:
//
//	x = a/(1 - a) * P_mixer/P_ambient * (1 + 0.65*(1 - exp(-rest/20 s)))
//	gas = x / (1 + x)
//
// Gas taken up is in proportion to the absolute pressure in the mixer, and the
// bubbles grow by 65 % with a time constant of 20 s after the stop. What the
// yeast adds later is [WeightDrift]'s. Both figures are of one laboratory's
// doughs: an estimate, until [GasForChamberWeight] has been fed a weighed piece.
//
// It returns an *[reckon.InputError] if:
//   - gas is not 0 to 40 %,
//   - ambient is not 50 to 120 kPa or mixer not 10 to 250 kPa, both absolute,
//   - rest is not 0 to 24 h.
//
// Source: G. M. Campbell et al., Cereal Foods World 43 (1998) 163 and Cereal Chem. 70 (1993) 517, abstracts.
type GasAfterMixing struct {
	Gas     unit.Percent  `json:"gas"`     // gas of its volume, at ambient pressure, when mixed at ambient pressure and the mixer stops; 0 to 40 %
	Ambient unit.Pressure `json:"ambient"` // air pressure, absolute; 50 to 120 kPa
	Mixer   unit.Pressure `json:"mixer"`   // pressure in the mixer, absolute; 10 to 250 kPa, the air pressure in an open bowl
	Rest    unit.Duration `json:"rest"`    // time since the mixer stopped; 0 to 24 h
}

func (GasAfterMixing) ID() string { return "gas-after-mixing" }

// SHELL
func (q GasAfterMixing) Check(c *reckon.Checks) {
	_, err := explainGasAfterMixing(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GasAfterMixing) Solve() (GasAfterMixingResult, error) { return explainGasAfterMixing(q, nil) }

func (q GasAfterMixing) Show(w *reckon.Working, _ GasAfterMixingResult) {
	_, _ = explainGasAfterMixing(q, w)
}

// GasAfterMixingResult is the gas before the yeast adds to it.
type GasAfterMixingResult struct {
	Gas          unit.Percent `json:"gas"`           // gas of the dough's volume, at ambient pressure
	DensityRatio float64      `json:"density_ratio"` // density of the dough over that at the stop, when mixed at ambient pressure
	Conditions   Conditions   `json:"conditions"`    // uncalibrated
}

func explainGasAfterMixing(in GasAfterMixing, w *reckon.Working) (out GasAfterMixingResult, err error) {
	c := reckon.Checks{Func: "gas-after-mixing"}
	reckon.CheckRange(&c, "gas", in.Gas, 0, 40)
	reckon.CheckRange(&c, "ambient", in.Ambient, minAmbient, maxAmbient)
	reckon.CheckRange(&c, "mixer", in.Mixer, 10, 250)
	reckon.CheckRange(&c, "rest", in.Rest, 0, unit.Hours(24))
	if err := c.Err(); err != nil {
		return GasAfterMixingResult{}, err
	}
	a := float64(in.Gas) / 100
	x0 := a / (1 - a)
	growth := 1 + float64(afterMixGrowth*(1-math.Exp(-float64(in.Rest)/afterMixSeconds)))
	x := float64(x0 * (float64(in.Mixer) / float64(in.Ambient)) * growth)
	out = GasAfterMixingResult{
		Gas: unit.Percent(100 * x / (1 + x)), DensityRatio: (1 + x0) / (1 + x),
		Conditions: reckon.Uncalibrated,
	}
	if w != nil {
		w.Given("gas when the mixer stops", "a", a, "", "mixed at ambient pressure")
		w.Given("air pressure", "P_a", float64(in.Ambient), "kPa", "absolute")
		w.Given("pressure in the mixer", "P_m", float64(in.Mixer), "kPa", "absolute")
		w.Given("time since the stop", "t", float64(in.Rest), "s", "")
		w.Given("growth of the bubbles", "g", afterMixGrowth, "", "Campbell et al. 1998")
		w.Given("time constant", "T", afterMixSeconds, "s", "Campbell et al. 1998")
		w.Step("gas per volume without gas, at the stop", "x_0", "a / (1 - a)", x0, "", "")
		w.Step("growth since the stop", "G", "1 + g*(1 - exp(-t/T))", growth, "", "Campbell et al. 1998")
		w.Step("gas per volume without gas", "x", "x_0 * P_m / P_a * G", x, "", "Campbell et al. 1993")
		w.Step("gas", "gas", "100 * x / (1 + x)", float64(out.Gas), "%", "")
	}
	return out, nil
}
