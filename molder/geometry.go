package molder

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// What a piece of dough can be, taken wide: the ranges catch slips of unit
// and digit, not unusual products. Dough is near 1.18 g/ml and rested bulk
// dough at 1.0 to 1.1 (Handbook on Sourdough Biotechnology, 2013, table 3.4);
// a fully proofed piece is near 0.3 g/ml.
const (
	lightestPiece unit.Mass    = 1
	heaviestPiece unit.Mass    = 10000
	loosestDough  unit.Density = 0.1
	densestDough  unit.Density = 1.5
)

func checkPiece(c *reckon.Checks, piece unit.Mass, density unit.Density) bool {
	mass := reckon.CheckRange(c, "piece", piece, lightestPiece, heaviestPiece)
	return reckon.CheckRange(c, "density", density, loosestDough, densestDough) && mass
}

// volume returns the volume of a piece in mm³.
func volume(piece unit.Mass, density unit.Density) float64 {
	return float64(piece) / float64(density) * 1000
}

// volumeLine is how a working shows the volume of a piece of mass m and density rho.
const volumeLine = "piece volume: V = m/rho*1000{mm³/ml} in mm³"

// asThickAsBall reports whether t mm is at least the diameter of the piece as a
// ball. It compares volumes, which needs no root.
func asThickAsBall(t float64, piece unit.Mass, density unit.Density) bool {
	return math.Pi/6*t*t*t >= volume(piece, density)
}

// sphere returns the diameter of a ball of dough: d = (6 m / (pi rho))^(1/3).
func sphere(piece unit.Mass, density unit.Density) unit.Length {
	return unit.Length(math.Cbrt(6 * volume(piece, density) / math.Pi))
}

// number shows a plain number in a sentence.
func number(v float64) string {
	if a := math.Abs(v); a >= 9999.5 && a < 1e7 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 4, 64)
}
