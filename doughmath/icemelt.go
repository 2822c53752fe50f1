package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// IceMelt asks whether the ice will melt before mixing ends:
//
//	t = rho*h_ice(T_ice)*d / (2*U*T)
//	left = 100*max(0, 1 - t_m/t)
//
// with rho the density of ice, h_ice the heat that makes ice of T_ice water of 0 °C, d the
// smallest dimension of a piece, which shrinks from both sides, U the heat
// transfer at its surface, T the dough around it in °C and t_m the mixing time.
// How much ice there is does not enter, except through T.
//
// It is an estimate: U in a mixer is hardly known. Watch once how long pieces of known size last, and let
// [TransferForIceMelt] find it. At 200 W/(m2 K) in a dough of 20 °C flakes of 2 mm are gone in 76 s, cubes of 30 mm
// are not in a quarter of an hour.
//
// Source: heat balance at the surface; heat transfer L. Levine, Energy balances in dough mixers III (2003), order
// of magnitude; ice IAPWS R10-06(2009); cases in testdata/cases/doughmath/ice-melt.json.
//
// The inverses are [SizeForIceMelt] and [TransferForIceMelt].
type IceMelt struct {
	IceSize      unit.Length       `json:"ice_size" sym:"d" range:"0.01 mm..200 mm"`                 // smallest dimension of a piece: the thickness of a flake, the edge of a cube
	IceTemp      unit.Temp         `json:"ice_temp" sym:"T_ice" range:"-40 °C..0 °C"`                // temperature of the ice
	AroundTemp   unit.Temp         `json:"around_temp" sym:"T" range:"1 °C..45 °C"`                  // mean temperature of the dough around it while it melts
	HeatTransfer unit.HeatTransfer `json:"heat_transfer" sym:"U" range:"20 W/(m2 K)..5000 W/(m2 K)"` // at its surface; some 200 W/(m2 K) is the low end for dough at a wall
	Time         unit.Duration     `json:"time" sym:"t_m" range:"1 s..4 h"`                          // mixing time
}

// IceMeltResult is whether the ice is gone in time.
type IceMeltResult struct {
	Melt       unit.Duration `json:"melt" sym:"t"`        // time until the ice is gone
	Unmelted   unit.Percent  `json:"unmelted" sym:"left"` // of the smallest dimension, when mixing ends
	Conditions Conditions    `json:"conditions"`          // uncalibrated, much-ice
}

const (
	leastIceSize unit.Length = 0.01
	mostIceSize  unit.Length = 200
	// leastAroundCelsius keeps away from a dough of 0 °C, in which ice does not melt.
	leastAroundCelsius = 1
	// The heat transfer that a dough in a mixer may have.
	leastTransfer unit.HeatTransfer = 20
	mostTransfer  unit.HeatTransfer = 5000
)

// iceDensity is that of ice at 0 °C, in kg/m³; IAPWS R10-06(2009).
const iceDensity = 916.72

func (IceMelt) ID() string { return "ice-melt" }

func (q IceMelt) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "ice_size", q.IceSize, leastIceSize, mostIceSize)
	checkMelting(c, q.IceTemp, q.AroundTemp)
	reckon.CheckRange(c, "heat_transfer", q.HeatTransfer, leastTransfer, mostTransfer)
	reckon.CheckRange(c, "time", q.Time, 1, unit.Hours(4))
}

func (q IceMelt) Solve() (out IceMeltResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	melt := float64(q.IceSize) / meltingRate(q.HeatTransfer, q.IceTemp, q.AroundTemp)
	out.Melt, out.Unmelted = unit.Duration(melt), unit.Percent(100*max(0, 1-float64(q.Time)/melt))
	out.Conditions = reckon.Uncalibrated
	if out.Melt > q.Time {
		out.Conditions |= MuchIce
	}
	return out, nil
}

func (q IceMelt) Show(w *reckon.Working, out IceMeltResult) {
	w.Inputs(q)
	w.Lines(out, iceDensityLine, heatToMeltLine,
		"rate at which the dimension shrinks: r = 2*U*T / (rho*h_ice) in mm/s  [from both sides]",
		"time to melt: t = d / r",
		"left when mixing ends: left = 100*max(0, 1 - t_m/t)",
	)
}

const iceDensityLine = "density of ice: rho = 916.72 in kg/m³  [IAPWS R10-06(2009)]"

func checkMelting(c *reckon.Checks, ice, around unit.Temp) {
	checkIceTemp(c, ice)
	reckon.CheckTemp(c, "around_temp", around, unit.Celsius(leastAroundCelsius), unit.Celsius(45))
}

func checkIceTemp(c *reckon.Checks, ice unit.Temp) {
	reckon.CheckTemp(c, "ice_temp", ice, unit.Celsius(-40), unit.Celsius(0))
}

// meltingLoad is the heat that melts ice of a temperature, in J for each mm of
// thickness and m² of surface.
func meltingLoad(ice unit.Temp) float64 { return iceDensity * heatToMelt(ice.Celsius()) }

// meltingRate is how fast the smallest dimension shrinks, in mm/s.
func meltingRate(transfer unit.HeatTransfer, ice, around unit.Temp) float64 {
	return 2 * float64(transfer) * around.Celsius() / meltingLoad(ice)
}

// SizeForIceMelt asks how thick a piece of ice can be and still melt in time:
//
//	d = 2*U*T / (rho*h_ice(T_ice)) * t
//
// It is an inverse of [IceMelt], with the same validity.
//
// Source: heat balance at the surface; ice IAPWS R10-06(2009).
//
// The inverse is [IceMelt].
type SizeForIceMelt struct {
	Time         unit.Duration     `json:"time" sym:"t" range:"1 s..4 h"`                            // time in which it must be gone
	IceTemp      unit.Temp         `json:"ice_temp" sym:"T_ice" range:"-40 °C..0 °C"`                // temperature of the ice
	AroundTemp   unit.Temp         `json:"around_temp" sym:"T" range:"1 °C..45 °C"`                  // mean temperature of the dough around it while it melts
	HeatTransfer unit.HeatTransfer `json:"heat_transfer" sym:"U" range:"20 W/(m2 K)..5000 W/(m2 K)"` // at its surface
}

// SizeForIceMeltResult is the ice to use.
type SizeForIceMeltResult struct {
	IceSize    unit.Length `json:"ice_size" sym:"d"` // the most that the smallest dimension may be
	Conditions Conditions  `json:"conditions"`       // uncalibrated
}

func (SizeForIceMelt) ID() string { return "size-for-ice-melt" }

func (q SizeForIceMelt) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "time", q.Time, 1, unit.Hours(4))
	checkMelting(c, q.IceTemp, q.AroundTemp)
	reckon.CheckRange(c, "heat_transfer", q.HeatTransfer, leastTransfer, mostTransfer)
}

func (q SizeForIceMelt) Solve() (out SizeForIceMeltResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.IceSize = unit.Length(meltingRate(q.HeatTransfer, q.IceTemp, q.AroundTemp) * float64(q.Time))
	out.Conditions = reckon.Uncalibrated
	return out, nil
}

func (q SizeForIceMelt) Show(w *reckon.Working, out SizeForIceMeltResult) {
	w.Inputs(q)
	w.Lines(out, iceDensityLine, heatToMeltLine, "smallest dimension: d = 2*U*T / (rho*h_ice) * t  [from both sides]")
}

// TransferForIceMelt asks for the heat transfer to ice whose melting was timed:
//
//	U = rho*h_ice(T_ice)*d / (2*T*t)
//
// Use it to calibrate [IceMelt] for a mixer and a dough; it is an inverse of it.
// A value outside 20 to 5000 W/(m2 K) is not one of a dough in a mixer.
//
// Source: heat balance at the surface; ice IAPWS R10-06(2009).
//
// The inverse is [IceMelt].
type TransferForIceMelt struct {
	IceSize    unit.Length   `json:"ice_size" sym:"d" range:"0.01 mm..200 mm"`  // smallest dimension of a piece
	Melt       unit.Duration `json:"melt" sym:"t" range:"1 s..4 h"`             // time until it was gone
	IceTemp    unit.Temp     `json:"ice_temp" sym:"T_ice" range:"-40 °C..0 °C"` // temperature of the ice
	AroundTemp unit.Temp     `json:"around_temp" sym:"T" range:"1 °C..45 °C"`   // mean temperature of the dough around it
}

// TransferForIceMeltResult is the heat transfer of that mixer and dough.
type TransferForIceMeltResult struct {
	HeatTransfer unit.HeatTransfer `json:"heat_transfer" sym:"U"` // at the surface of the ice
	Conditions   Conditions        `json:"conditions"`            // outside-source
}

func (TransferForIceMelt) ID() string { return "transfer-for-ice-melt" }

func (q TransferForIceMelt) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "ice_size", q.IceSize, leastIceSize, mostIceSize)
	reckon.CheckRange(c, "melt", q.Melt, 1, unit.Hours(4))
	checkMelting(c, q.IceTemp, q.AroundTemp)
}

func (q TransferForIceMelt) Solve() (out TransferForIceMeltResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.HeatTransfer = unit.HeatTransfer(meltingLoad(q.IceTemp) * float64(q.IceSize) / (2 * q.AroundTemp.Celsius() * float64(q.Melt)))
	if !(out.HeatTransfer >= leastTransfer && out.HeatTransfer <= mostTransfer) {
		out.Conditions |= reckon.OutsideSource
	}
	return out, nil
}

func (q TransferForIceMelt) Show(w *reckon.Working, out TransferForIceMeltResult) {
	w.Inputs(q)
	w.Lines(out, iceDensityLine, heatToMeltLine, "heat transfer at the surface: U = rho*h_ice*d / (2*T*t)  [from both sides]")
}
