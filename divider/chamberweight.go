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

// ChamberWeight asks what weight a measuring chamber cuts, and what that depends on:
//
//	a     = G / 100    r = P_a / P_c
//	d     = 1 - a + a*r
//	rho_c = rho * (1 - a) / d
//	m     = rho_c * V
//	G_c   = 100 * a*r / d
//	m_V   = rho_c
//	m_G   = -rho * V * r / d^2 / 100
//	m_P   = rho * V * (1 - a) * a*r / P_c / d^2
//	m_rho = m / rho / 100
//
// with rho the density of the dough without gas, G the gas in the dough at
// air pressure and G_c what is left of it in the chamber; m_V, m_G, m_P and
// m_rho are how the weight changes with each of them. The gas follows Boyle's
// law at constant temperature; the rest of the dough is taken as
// incompressible and no gas as dissolving, which the short stroke allows.
//
// It is an estimate until it has been calibrated with a weighed piece:
// [GasForChamberWeight], [VolumeForChamberWeight] or [PressureForChamberWeight].
//
// Source: conservation of mass and Boyle's law; G. M. Campbell et al., Cereal Chem. 70 (1993) 517 (gas and pressure).
//
// The inverses are [VolumeForChamberWeight], [GasForChamberWeight] and [PressureForChamberWeight].
type ChamberWeight struct {
	Volume  unit.Volume   `json:"volume" sym:"V" range:">0 ml..100 l"`           // chamber volume at the mark
	GasFree unit.Density  `json:"gas_free" sym:"rho" range:"0.9 g/ml..1.6 g/ml"` // density of the dough without its gas
	Gas     unit.Percent  `json:"gas" sym:"G" range:"0 %..90 %"`                 // gas in the dough, of its volume, at ambient pressure
	Ambient unit.Pressure `json:"ambient" sym:"P_a" range:"50 kPa..120 kPa"`     // air pressure, absolute
	Chamber unit.Pressure `json:"chamber" sym:"P_c" range:"20 kPa..2000 kPa"`    // pressure of the dough in the full chamber, absolute
}

// ChamberWeightResult is the piece and what it depends on.
type ChamberWeightResult struct {
	Weight      unit.Mass    `json:"weight" sym:"m"`           // weight of the piece
	Density     unit.Density `json:"density" sym:"rho_c"`      // density of the dough in the chamber
	ChamberGas  unit.Percent `json:"chamber_gas" sym:"G_c"`    // gas left in the chamber, of its volume
	PerVolume   unit.Density `json:"per_volume" sym:"m_V"`     // weight gained for each more volume of chamber
	PerGas      unit.Mass    `json:"per_gas" sym:"m_G"`        // weight gained for each more percentage point of gas in the dough; below 0
	PerPressure unit.Mass    `json:"per_pressure" sym:"m_P"`   // weight gained for each more kPa in the chamber
	PerGasFree  unit.Mass    `json:"per_gas_free" sym:"m_rho"` // weight gained for each more 0.01 g/ml of gas-free density

	Conditions Conditions `json:"conditions"` // uncalibrated
}

func (ChamberWeight) ID() string { return "chamber-weight" }

func (q ChamberWeight) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "volume", q.Volume, maxChamber)
	reckon.CheckRange(c, "gas_free", q.GasFree, minGasFree, maxGasFree)
	reckon.CheckRange(c, "gas", q.Gas, 0, maxGas)
	checkPressures(c, q.Ambient, q.Chamber)
}

func (q ChamberWeight) Solve() (out ChamberWeightResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	rho, v, a := float64(q.GasFree), float64(q.Volume), float64(q.Gas)/100
	r := float64(q.Ambient) / float64(q.Chamber)
	d := 1 - a + float64(a*r) // volume in the chamber of what was one volume outside
	density := rho * (1 - a) / d
	m := density * v
	return ChamberWeightResult{
		Weight: unit.Mass(m), Density: unit.Density(density),
		ChamberGas:  unit.Percent(100 * a * r / d),
		PerVolume:   unit.Density(density),
		PerGas:      unit.Mass(-rho * v * r / (d * d) / 100),
		PerPressure: unit.Mass(rho * v * (1 - a) * a * r / float64(q.Chamber) / (d * d)),
		PerGasFree:  unit.Mass(m / rho / 100),
		Conditions:  reckon.Uncalibrated,
	}, nil
}

func (q ChamberWeight) Show(w *reckon.Working, out ChamberWeightResult) {
	w.Inputs(q)
	w.Lines(out,
		gasShare, pressureRatio,
		"volume in the chamber of one volume outside: d = 1 - a + a*r  [Boyle's law]",
		"density in the chamber: rho_c = rho*(1 - a)/d  [conservation of mass]",
		"piece weight: m = rho_c*V",
		"gas in the chamber: G_c = 100*a*r/d",
		"weight for each ml of chamber: m_V = rho_c",
		"weight for each percentage point of gas: m_G = -rho*V*r/(d*d)/100",
		"weight for each kPa in the chamber: m_P = rho*V*(1 - a)*a*r/P_c/(d*d)",
		"weight for each 0.01 g/ml of gas-free density: m_rho = m/rho/100",
	)
}

// Lines that several workings share.
const (
	gasShare      = "gas in the dough, as a fraction: a = G/100"
	pressureRatio = "pressure ratio: r = P_a/P_c"
	shareOfFull   = "weight over that of a chamber full of gas-free dough: q = m/(rho*V)  [conservation of mass]"
)

func checkPressures(c *reckon.Checks, ambient, chamber unit.Pressure) {
	reckon.CheckRange(c, "ambient", ambient, minAmbient, maxAmbient)
	reckon.CheckRange(c, "chamber", chamber, minChamberPressure, maxChamberPres)
}

// VolumeForChamberWeight asks how large the chamber must be for a given weight:
//
//	a = G / 100    r = P_a / P_c
//	V = m * (1 - a + a*r) / (rho * (1 - a))
//
// It is an inverse of [ChamberWeight], with the same validity. From a weighed
// piece it gives the chamber as it acts, short fill included.
//
// Source: conservation of mass and Boyle's law.
//
// The inverse is [ChamberWeight].
type VolumeForChamberWeight struct {
	Weight  unit.Mass     `json:"weight" sym:"m" range:">0 g..100 kg"`           // weight of the piece, wanted or weighed
	GasFree unit.Density  `json:"gas_free" sym:"rho" range:"0.9 g/ml..1.6 g/ml"` // density of the dough without its gas
	Gas     unit.Percent  `json:"gas" sym:"G" range:"0 %..90 %"`                 // gas in the dough, of its volume, at ambient pressure
	Ambient unit.Pressure `json:"ambient" sym:"P_a" range:"50 kPa..120 kPa"`     // air pressure, absolute
	Chamber unit.Pressure `json:"chamber" sym:"P_c" range:"20 kPa..2000 kPa"`    // pressure of the dough in the full chamber, absolute
}

// VolumeForChamberWeightResult is the chamber.
type VolumeForChamberWeightResult struct {
	Volume     unit.Volume `json:"volume" sym:"V"` // chamber volume
	Conditions Conditions  `json:"conditions"`     // uncalibrated: the volume rests on the gas and the pressure put in
}

func (VolumeForChamberWeight) ID() string { return "volume-for-chamber-weight" }

func (q VolumeForChamberWeight) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "weight", q.Weight, maxPiece)
	reckon.CheckRange(c, "gas_free", q.GasFree, minGasFree, maxGasFree)
	reckon.CheckRange(c, "gas", q.Gas, 0, maxGas)
	checkPressures(c, q.Ambient, q.Chamber)
}

func (q VolumeForChamberWeight) Solve() (out VolumeForChamberWeightResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	rho, a := float64(q.GasFree), float64(q.Gas)/100
	r := float64(q.Ambient) / float64(q.Chamber)
	return VolumeForChamberWeightResult{
		Volume:     unit.Volume(float64(q.Weight) * (1 - a + float64(a*r)) / (rho * (1 - a))),
		Conditions: reckon.Uncalibrated,
	}, nil
}

func (q VolumeForChamberWeight) Show(w *reckon.Working, out VolumeForChamberWeightResult) {
	w.Inputs(q)
	w.Lines(out, gasShare, pressureRatio, "chamber volume: V = m*(1 - a + a*r)/(rho*(1 - a))  [Boyle's law]")
}

// GasForChamberWeight asks how much gas is in the dough, going by a weighed piece:
//
//	q = m / (rho * V)    r = P_a / P_c
//	G = 100 * (1 - q) / (1 + q*(r - 1))
//
// It is an inverse of [ChamberWeight], with the same validity, and calibrates it.
//
// Source: conservation of mass and Boyle's law.
//
// The inverse is [ChamberWeight].
type GasForChamberWeight struct {
	Weight  unit.Mass     `json:"weight" sym:"m" range:">0 g..100 kg"`           // mean weight of pieces
	Volume  unit.Volume   `json:"volume" sym:"V" range:">0 ml..100 l"`           // chamber volume at the mark
	GasFree unit.Density  `json:"gas_free" sym:"rho" range:"0.9 g/ml..1.6 g/ml"` // density of the dough without its gas
	Ambient unit.Pressure `json:"ambient" sym:"P_a" range:"50 kPa..120 kPa"`     // air pressure, absolute
	Chamber unit.Pressure `json:"chamber" sym:"P_c" range:"20 kPa..2000 kPa"`    // pressure of the dough in the full chamber, absolute
}

// GasForChamberWeightResult is the gas in the dough.
type GasForChamberWeightResult struct {
	Gas unit.Percent `json:"gas" sym:"G"` // gas in the dough, of its volume, at ambient pressure
}

func (GasForChamberWeight) ID() string { return "gas-for-chamber-weight" }

func (q GasForChamberWeight) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "weight", q.Weight, maxPiece)
	reckon.CheckAbove(c, "volume", q.Volume, maxChamber)
	reckon.CheckRange(c, "gas_free", q.GasFree, minGasFree, maxGasFree)
	checkPressures(c, q.Ambient, q.Chamber)
}

// Solve has no answer if the piece is heavier than a chamber full of dough
// without gas, or so light that more than 90 % would be gas.
func (q GasForChamberWeight) Solve() (out GasForChamberWeightResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	full := float64(q.GasFree) * float64(q.Volume)
	share := float64(q.Weight) / full
	r := float64(q.Ambient) / float64(q.Chamber)
	a := (1 - share) / (1 + float64(share*(r-1)))
	if !(a >= 0 && a <= float64(maxGas)/100) {
		most := float64(maxGas) / 100
		low := full * (1 - most) / (1 - most + float64(most*r))
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "gas", Wanted: "a piece of " + q.Weight.String(),
			Low: unit.Mass(low).String(), High: unit.Mass(full).String(),
			Advice: "check the chamber volume and the gas-free density",
		}
	}
	out.Gas = unit.Percent(100 * a)
	return out, nil
}

func (q GasForChamberWeight) Show(w *reckon.Working, out GasForChamberWeightResult) {
	w.Inputs(q)
	w.Lines(out, pressureRatio, shareOfFull, "gas in the dough: G = 100*(1 - q)/(1 + q*(r - 1))  [Boyle's law]")
}

// PressureForChamberWeight asks how hard the dough is pressed into the
// chamber, going by a weighed piece:
//
//	a   = G / 100    q = m / (rho * V)
//	P_c = P_a * q*a / ((1 - a) * (1 - q))
//
// It is an inverse of [ChamberWeight], with the same validity. A piece that is
// nearly free of gas says little about the pressure.
//
// Source: conservation of mass and Boyle's law.
//
// The inverse is [ChamberWeight].
type PressureForChamberWeight struct {
	Weight  unit.Mass     `json:"weight" sym:"m" range:">0 g..100 kg"`           // mean weight of pieces
	Volume  unit.Volume   `json:"volume" sym:"V" range:">0 ml..100 l"`           // chamber volume at the mark
	GasFree unit.Density  `json:"gas_free" sym:"rho" range:"0.9 g/ml..1.6 g/ml"` // density of the dough without its gas
	Gas     unit.Percent  `json:"gas" sym:"G" range:"1 %..90 %"`                 // gas in the dough, of its volume, at ambient pressure
	Ambient unit.Pressure `json:"ambient" sym:"P_a" range:"50 kPa..120 kPa"`     // air pressure, absolute
}

// PressureForChamberWeightResult is the pressure behind the piece.
type PressureForChamberWeightResult struct {
	Chamber unit.Pressure `json:"chamber" sym:"P_c"` // pressure of the dough in the full chamber, absolute
}

func (PressureForChamberWeight) ID() string { return "pressure-for-chamber-weight" }

func (q PressureForChamberWeight) Check(c *reckon.Checks) {
	reckon.CheckAbove(c, "weight", q.Weight, maxPiece)
	reckon.CheckAbove(c, "volume", q.Volume, maxChamber)
	reckon.CheckRange(c, "gas_free", q.GasFree, minGasFree, maxGasFree)
	reckon.CheckRange(c, "gas", q.Gas, 1, maxGas)
	reckon.CheckRange(c, "ambient", q.Ambient, minAmbient, maxAmbient)
}

// Solve has no answer if the pressure would lie outside 20 to 2000 kPa.
func (q PressureForChamberWeight) Solve() (out PressureForChamberWeightResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	a := float64(q.Gas) / 100
	full := float64(q.GasFree) * float64(q.Volume)
	share := float64(q.Weight) / full
	p := float64(q.Ambient) * share * a / ((1 - a) * (1 - share))
	// A piece heavier than the chamber full of gas-free dough comes out below 0.
	if !(p >= float64(minChamberPressure) && p <= float64(maxChamberPres)) {
		at := func(p unit.Pressure) string {
			r := float64(q.Ambient) / float64(p)
			return unit.Mass(full * (1 - a) / (1 - a + float64(a*r))).String()
		}
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "pressure", Wanted: "a piece of " + q.Weight.String(),
			Low: at(minChamberPressure), High: at(maxChamberPres),
			Advice: "check the chamber volume, the gas-free density and the gas",
		}
	}
	out.Chamber = unit.Pressure(p)
	return out, nil
}

func (q PressureForChamberWeight) Show(w *reckon.Working, out PressureForChamberWeightResult) {
	w.Inputs(q)
	w.Lines(out, gasShare, shareOfFull, "chamber pressure: P_c = P_a*q*a/((1 - a)*(1 - q))  [Boyle's law]")
}

// What the gas does in the first minute after mixing.
//
// Source: G. M. Campbell et al., Cereal Foods World 43 (1998) 163, abstract.
const (
	afterMixGrowth  = 0.65 // share by which the bubbles grow
	afterMixSeconds = 20.0 // time constant
)

// GasAfterMixing asks how much gas is in the dough after mixing, as a start for
// [ChamberWeight]:
//
//	a   = G_0 / 100
//	x_0 = a / (1 - a)
//	x   = x_0 * P_m/P_a * (1 + 0.65 * (1 - exp(-t/20)))
//	G   = 100 * x / (1 + x)
//	R   = (1 + x_0) / (1 + x)
//
// Gas taken up is in proportion to the absolute pressure in the mixer, and the
// bubbles grow by 65 % with a time constant of 20 s after the stop. What the
// yeast adds later is the subject of [WeightDrift]. Both figures are of one
// laboratory's doughs: an estimate, until [GasForChamberWeight] finds the gas
// from a weighed piece.
//
// Source: G. M. Campbell et al., Cereal Foods World 43 (1998) 163 and Cereal Chem. 70 (1993) 517, abstracts.
type GasAfterMixing struct {
	Gas           unit.Percent  `json:"gas" sym:"G_0" range:"0 %..40 %"`                  // gas of its volume, at ambient pressure, when mixed at ambient pressure and the mixer stops
	Ambient       unit.Pressure `json:"ambient" sym:"P_a" range:"50 kPa..120 kPa"`        // air pressure, absolute
	MixerPressure unit.Pressure `json:"mixer_pressure" sym:"P_m" range:"10 kPa..250 kPa"` // pressure in the mixer, absolute: the air pressure in an open bowl
	Rest          unit.Duration `json:"rest" sym:"t" range:"0 s..24 h"`                   // time since the mixer stopped
}

// GasAfterMixingResult is the gas before the yeast adds to it.
type GasAfterMixingResult struct {
	Gas          unit.Percent `json:"gas" sym:"G"`           // gas of the dough's volume, at ambient pressure
	DensityRatio float64      `json:"density_ratio" sym:"R"` // density of the dough over that at the stop, when mixed at ambient pressure
	Conditions   Conditions   `json:"conditions"`            // uncalibrated
}

func (GasAfterMixing) ID() string { return "gas-after-mixing" }

func (q GasAfterMixing) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "gas", q.Gas, 0, 40)
	reckon.CheckRange(c, "ambient", q.Ambient, minAmbient, maxAmbient)
	reckon.CheckRange(c, "mixer_pressure", q.MixerPressure, 10, 250)
	reckon.CheckRange(c, "rest", q.Rest, 0, unit.Hours(24))
}

func (q GasAfterMixing) Solve() (out GasAfterMixingResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	a := float64(q.Gas) / 100
	x0 := a / (1 - a)
	growth := 1 + float64(afterMixGrowth*(1-math.Exp(-float64(q.Rest)/afterMixSeconds)))
	x := float64(x0 * (float64(q.MixerPressure) / float64(q.Ambient)) * growth)
	return GasAfterMixingResult{
		Gas: unit.Percent(100 * x / (1 + x)), DensityRatio: (1 + x0) / (1 + x),
		Conditions: reckon.Uncalibrated,
	}, nil
}

func (q GasAfterMixing) Show(w *reckon.Working, out GasAfterMixingResult) {
	w.Inputs(q)
	w.Lines(out,
		"gas at the stop, as a fraction: a = G_0/100",
		"gas per volume without gas, at the stop: x_0 = a/(1 - a)",
		"growth since the stop: k = 1 + 0.65*(1 - exp(-t/20))  [Campbell et al. 1998]",
		"gas per volume without gas: x = x_0*P_m/P_a*k  [Campbell et al. 1993]",
		"gas: G = 100*x/(1 + x)",
		"density, over that at the stop: R = (1 + x_0)/(1 + x)",
	)
}
