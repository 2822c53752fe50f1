package proof

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The altitudes asked about, from the lowest shore to above the highest town.
const (
	lowestAltitude  unit.Length = -500_000
	highestAltitude unit.Length = 5_500_000
)

// The standard atmosphere: pressure at sea level in kPa, its fall with each
// millimetre as a part of it, and the power.
const (
	seaLevel      = 101.325
	fallPerMetre  = 2.25577e-5
	pressurePower = 5.2559
)

// AirPressure asks how high the pressure of the air is at an altitude:
//
//	p = 101.325 * (1 - 0.0000225577 * z)^5.2559
//
// with z in metres. It is the standard atmosphere: the weather moves the
// pressure some 3 % either way. A barometer on the spot is better, if it shows
// the pressure of the place and not the one reduced to sea level that weather
// reports give.
//
// Source: ASHRAE Handbook-Fundamentals 2017, chapter 1, equation 3.
//
// The inverse is [AltitudeForAirPressure].
type AirPressure struct {
	Altitude unit.Length `json:"altitude" sym:"z" range:"-500 m..5500 m"` // above sea level
}

// AirPressureResult is the pressure there.
type AirPressureResult struct {
	Pressure unit.Pressure `json:"pressure" sym:"p"` // of the air in standard weather
}

func (AirPressure) ID() string { return "air-pressure" }

func (q AirPressure) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "altitude", q.Altitude, lowestAltitude, highestAltitude)
}

func (q AirPressure) Solve() (out AirPressureResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Pressure = unit.Kilopascals(seaLevel * math.Pow(1-float64(fallPerMetre*q.Altitude.Metres()), pressurePower))
	return out, nil
}

func (q AirPressure) Show(w *reckon.Working, out AirPressureResult) {
	w.Inputs(q)
	w.Lines(out, "pressure: p = 101.325*pow(1 - 0.0000225577*z/1000{mm/m}, 5.2559) in kPa  [standard atmosphere]")
}

// AltitudeForAirPressure asks at what altitude the air has a pressure in
// standard weather:
//
//	z = (1 - (p / 101.325)^(1 / 5.2559)) / 0.0000225577
//
// with z in metres. It is the inverse of [AirPressure], with the same validity.
//
// Source: as for [AirPressure].
//
// The inverse is [AirPressure].
type AltitudeForAirPressure struct {
	Pressure unit.Pressure `json:"pressure" sym:"p" range:"51 kPa..107 kPa"` // of the air
}

// AltitudeForAirPressureResult is how high that is.
type AltitudeForAirPressureResult struct {
	Altitude unit.Length `json:"altitude" sym:"z"` // above sea level
}

func (AltitudeForAirPressure) ID() string { return "altitude-for-air-pressure" }

func (q AltitudeForAirPressure) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "pressure", q.Pressure, 51, 107)
}

func (q AltitudeForAirPressure) Solve() (out AltitudeForAirPressureResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Altitude = unit.Metres((1 - math.Pow(float64(q.Pressure)/seaLevel, 1/pressurePower)) / fallPerMetre)
	return out, nil
}

func (q AltitudeForAirPressure) Show(w *reckon.Working, out AltitudeForAirPressureResult) {
	w.Inputs(q)
	w.Lines(out, "altitude: z = (1 - pow(p/101.325, 1/5.2559))/0.0000225577*1000{mm/m} in mm  [standard atmosphere]")
}
