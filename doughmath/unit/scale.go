package unit

import (
	"strconv"
	"strings"
)

// A Scale says how a number in a unit is converted from the unit that a
// quantity is held in, and back:
//
//	held = (number - Zero) * Mul / Div
type Scale struct {
	Unit     string // such as "lb"
	Mul, Div float64
	Zero     float64 // only a temperature has one: 32 for °F
}

// Held returns the number v on s in the unit held.
func (s Scale) Held(v float64) float64 { return float64((v-s.Zero)*s.Mul) / s.Div }

// Number returns the held value v on s.
func (s Scale) Number(v float64) float64 { return float64(v*s.Div)/s.Mul + s.Zero }

// Scales returns the scales of a value whose held unit is written as held: the
// one on which a person reads a value of this size in sys, and the one in
// which all values of this kind can be added up in sys. What has no customary
// unit of its own stays as it is.
func Scales(held string, value float64, sys System) (read, sum Scale) {
	d, zeros := scaled(held)
	if d == nil {
		same := Scale{Unit: held, Mul: 1, Div: 1}
		return same, same
	}
	base := d.units[0]
	if l := d.show[sys]; sys == US && l.unit != "" {
		base, _ = d.find(l.unit)
	}
	return scale(d.shown(value, sys), held, zeros), scale(base, held, zeros)
}

// ScaleOf returns the scale of a unit in which a value with this held unit
// can be written.
func ScaleOf(held, symbol string) (Scale, bool) {
	d, zeros := scaled(held)
	if d == nil {
		return Scale{}, false
	}
	u, ok := d.find(symbol)
	return scale(u, held, zeros), ok
}

// AllScales returns the scale of every unit in which a value with this held
// unit can be written.
func AllScales(held string) []Scale {
	d, zeros := scaled(held)
	if d == nil {
		return nil
	}
	all := make([]Scale, len(d.units))
	for i, u := range d.units {
		all[i] = scale(u, held, zeros)
	}
	return all
}

// Belongs reports whether a person who works in sys has the unit: every metric
// reader has all units of time, and a reader in US units no grams.
func Belongs(held, symbol string, sys System) bool {
	d, _ := scaled(held)
	if d == nil || d.show[US].unit == "" {
		return true
	}
	customary := symbol == d.show[US].unit
	for _, r := range d.show[US].then {
		customary = customary || r.symbol == symbol
	}
	if sys == US {
		return customary
	}
	switch u, _ := d.find(symbol); u.symbol {
	case "oz", "oz/h", "ft", "°F", "F°", "lb", "lb/h", "in", "US fl oz", "US gal":
		return false
	}
	return !customary
}

// scaled returns the dimension of a unit held. zeros is how many zero points
// its values have: a sum of three temperatures is 96 °F at freezing.
func scaled(held string) (d *dimension, zeros float64) {
	if rest, ok := strings.CutPrefix(held, SumOfTemps); ok {
		n, err := strconv.Atoi(strings.TrimSuffix(rest, ")"))
		if err != nil {
			return nil, 0
		}
		return tempDim, float64(n)
	}
	for _, d := range [...]*dimension{
		massDim, lengthDim, volumeDim, densityDim, speedDim, energyDim, specificHeatDim, specificEnergyDim, powerDim, specificVolumeDim,
		heatTransferDim, concentrationDim, pressureDim, massRateDim, volumeRateDim, durationDim, tempDim, tempDeltaDim, trayRateDim,
		pieceRateDim, strokeRateDim, rotationRateDim, growthRateDim, areaDim, spaceDim, squareMassDim, heatCapacityDim, moistVolumeDim, bulkDensityDim, perLengthDim,
	} {
		if d.units[0].symbol == held {
			return d, 1
		}
	}
	return nil, 0
}

// SumOfTemps opens the unit of a sum of temperatures, "°C (sum of 3)": on
// another scale every one of them has its zero point.
const SumOfTemps = "°C (sum of "

func scale(u form, held string, zeros float64) Scale {
	s := Scale{Unit: u.symbol, Mul: u.mul, Div: u.div}
	switch u.symbol {
	case "°F":
		s.Zero = FahrenheitAtFreezing * zeros
	case "K":
		s.Zero = KelvinAtZeroCelsius * zeros
	}
	if rest, ok := strings.CutPrefix(held, "°C"); ok {
		s.Unit += rest
	}
	return s
}

// What only occurs inside a working: no quantity is held in these.
var (
	areaDim = &dimension{
		name: "area", units: []form{{"mm²", 1, 1, nil}, {"in²", mmPerInch * mmPerInch, 1, nil}, {"cm²", 100, 1, nil}, {"m²", 1e6, 1, nil}, {"ft²", 304.8 * 304.8, 1, nil}},
		show: [2]ladder{{unit: "mm²"}, {unit: "in²"}},
	}
	spaceDim = &dimension{
		name: "space", units: []form{{"mm³", 1, 1, nil}, {"in³", mmPerInch * mmPerInch * mmPerInch, 1, nil}, {"ml", 1000, 1, nil}, {"l", 1e6, 1, nil}, {"ft³", 304.8 * 304.8 * 304.8, 1, nil}},
		show: [2]ladder{{unit: "mm³"}, {unit: "in³"}},
	}
	perLengthDim = &dimension{
		name: "per length", units: []form{{"1/mm", 1, 1, nil}, {"1/in", 1, mmPerInch, nil}},
		show: [2]ladder{{unit: "1/mm"}, {unit: "1/in"}},
	}
	squareMassDim = &dimension{
		name: "square of mass", units: []form{{"g²", 1, 1, nil}, {"oz²", gramsPerPound * gramsPerPound, ouncesPerPound * ouncesPerPound, nil}},
		show: [2]ladder{{unit: "g²"}, {unit: "oz²"}},
	}
	heatCapacityDim = &dimension{
		name: "heat capacity", units: []form{{"kJ/K", 1, 1, nil}, {"Btu/F°", kJPerBtu * 9, 5, nil}},
		show: [2]ladder{{unit: "kJ/K"}, {unit: "Btu/F°"}},
	}
	moistVolumeDim = &dimension{
		name: "volume of moist air", units: []form{{"m3/kg", 1, 1, nil}, {"ft3/lb", mlPerCubicFoot, gramsPerPound * 1000, nil}},
		show: [2]ladder{{unit: "m3/kg"}, {unit: "ft3/lb"}},
	}
	bulkDensityDim = &dimension{
		name: "density in kg/m³", units: []form{{"kg/m³", 1, 1, nil}, {"lb/ft³", gramsPerPound * 1000, mlPerCubicFoot, nil}},
		show: [2]ladder{{unit: "kg/m³"}, {unit: "lb/ft³"}},
	}
)
