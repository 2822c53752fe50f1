package unit

import (
	"encoding"
	"fmt"
	"math"
	"strconv"
)

// A Quantity is a number with a unit. The quantities of this package are
// plain numbers inside, held in one fixed unit each, so that arithmetic costs
// nothing and a value typed in that unit comes back to the last digit. A value
// typed in another unit comes back within one unit in the last place.
type Quantity interface {
	fmt.Stringer
	encoding.TextMarshaler
	encoding.TextAppender
	// In returns the value as a person reads it in the given unit system,
	// rounded to four significant figures.
	In(sys System) string
	// AppendIn appends the value with every digit in a unit of the given system.
	AppendIn(b []byte, sys System) ([]byte, error)
	dimension() *dimension
	held() float64
}

// Info describes a kind of quantity to a person or a program.
type Info struct {
	Name  string   `json:"name"`  // "mass"
	Held  string   `json:"held"`  // the unit it is held in, "g"
	Units []string `json:"units"` // every unit it can be read in
}

// Describe returns the name and the units of q's kind of quantity.
func Describe(q Quantity) Info {
	d := q.dimension()
	return Info{Name: d.name, Held: d.units[0].symbol, Units: d.symbols()}
}

// InUnit returns q's value in the unit written as symbol, and false if q
// cannot be written in it.
func InUnit(q Quantity, symbol string) (float64, bool) {
	u, ok := q.dimension().find(symbol)
	if !ok {
		return 0, false
	}
	switch t := q.(type) {
	case Temp:
		return t.in(u.symbol), true
	case *Temp:
		return t.in(u.symbol), true
	}
	return u.fromHeld(q.held()), true
}

// A Converter turns values of one kind of quantity from the unit held into
// another and back.
type Converter struct {
	Symbol   string // of the other unit
	mul, div float64
	from     float64 // what the other scale shows at the zero of the one held
}

// ConverterTo returns the converter to the unit written as symbol for q's kind
// of quantity, and false if q cannot be written in it.
func ConverterTo(q Quantity, symbol string) (Converter, bool) {
	u, ok := q.dimension().find(symbol)
	if !ok {
		return Converter{}, false
	}
	c := Converter{Symbol: u.symbol, mul: u.mul, div: u.div}
	if _, isTemp := q.(Temp); isTemp {
		c.from = Celsius(0).in(u.symbol)
	}
	return c, true
}

// FromHeld returns in the other unit what is v in the unit held.
func (c Converter) FromHeld(v float64) float64 { return float64(v*c.div)/c.mul + c.from }

// ToHeld returns in the unit held what is v in the other unit.
func (c Converter) ToHeld(v float64) float64 { return float64((v-c.from)*c.mul) / c.div }

// AppendUnit appends q with the unit written as symbol, with every digit or
// rounded for a person. It returns false, and b as it was, if q cannot be
// written in it.
func AppendUnit(b []byte, q Quantity, symbol string, rounded bool) ([]byte, bool) {
	if t, isTemp := q.(*Temp); isTemp {
		q = *t
	}
	if t, isTemp := q.(Temp); isTemp && !t.Given() {
		return b, false
	}
	v, ok := InUnit(q, symbol)
	if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
		return b, false
	}
	if rounded {
		b = append(b, roundedText(v)...)
	} else {
		b = strconv.AppendFloat(b, v, 'g', -1, 64)
	}
	return append(append(b, ' '), symbol...), true
}

// read parses text into q and leaves q alone if the text is refused.
func read[T any](q *T, text []byte, parse func(string) (T, error)) error {
	v, err := parse(string(text))
	if err == nil {
		*q = v
	}
	return err
}

// Held returns q's value in the unit it is held in, for working and charts.
func Held(q Quantity) float64 { return q.held() }

// The exact factors behind the customary units.
//
// Source: NIST Special Publication 811 (2008), Appendix B (exact by definition).
const (
	gramsPerPound       = 453.59237
	mmPerInch           = 25.4
	mlPerUSGallon       = 3785.411784
	kJPerBtu            = 1.05505585262 // International Table Btu
	kJPerKcal           = 4.184         // thermochemical
	kWPerHorsepower     = 0.7456998715822702
	mlPerCubicFoot      = 28316.846592
	ouncesPerPound      = 16
	fluidOuncesPerUSGal = 128

	// A pound under standard gravity on a square inch.
	kPaPerPsi = gramsPerPound * 9.80665 / (mmPerInch * mmPerInch)
)

var (
	massDim = &dimension{
		name: "mass", compound: true,
		units: []form{
			{"g", 1, 1, nil},
			{"kg", 1000, 1, nil},
			{"mg", 1, 1000, nil},
			{"t", 1e6, 1, nil},
			{"oz", gramsPerPound, ouncesPerPound, nil},
			{"lb", gramsPerPound, 1, nil},
		},
		show: [2]ladder{{"g", []rung{{math.SmallestNonzeroFloat64, "mg"}, {0.1, "g"}, {1000, "kg"}, {1e7, "t"}}}, {"oz", []rung{{gramsPerPound, "lb"}}}},
	}
	lengthDim = &dimension{
		name: "length", compound: true,
		units: []form{{"mm", 1, 1, nil}, {"cm", 10, 1, nil}, {"m", 1000, 1, nil}, {"in", mmPerInch, 1, nil}, {"ft", 304.8, 1, nil}},
		show:  [2]ladder{{"mm", []rung{{1000, "m"}}}, {"in", []rung{{3048, "ft"}}}},
	}
	volumeDim = &dimension{
		name: "volume", compound: true,
		units: []form{
			{"ml", 1, 1, []string{"mL", "cm3", "cm³"}},
			{"l", 1000, 1, []string{"L"}},
			{"US fl oz", mlPerUSGallon, fluidOuncesPerUSGal, nil},
			{"US gal", mlPerUSGallon, 1, nil},
		},
		show: [2]ladder{{"ml", []rung{{1000, "l"}}}, {"US fl oz", []rung{{mlPerUSGallon, "US gal"}}}},
	}
	densityDim = &dimension{
		name: "density",
		units: []form{
			{"g/ml", 1, 1, []string{"kg/l", "g/cm3", "g/cm³"}},
			{"kg/m3", 1, 1000, []string{"kg/m³"}},
			{"lb/ft3", gramsPerPound, mlPerCubicFoot, []string{"lb/ft³"}},
		},
		show: [2]ladder{{unit: "g/ml"}, {unit: "lb/ft3"}},
	}
	speedDim = &dimension{
		name:  "speed",
		units: []form{{"mm/s", 1, 1, nil}, {"m/s", 1000, 1, nil}, {"m/min", 1000, 60, nil}, {"ft/min", 304.8, 60, nil}},
		show:  [2]ladder{{unit: "m/min"}, {unit: "ft/min"}},
	}
	energyDim = &dimension{
		name: "energy",
		units: []form{
			{"kJ", 1, 1, nil},
			{"J", 1, 1000, nil},
			{"MJ", 1000, 1, nil},
			{"Wh", 3.6, 1, nil},
			{"kWh", 3600, 1, nil},
			{"kcal", kJPerKcal, 1, nil},
			{"Btu", kJPerBtu, 1, nil},
		},
		show: [2]ladder{{unit: "kJ"}, {unit: "Btu"}},
	}
	specificHeatDim = &dimension{
		name: "specific heat",
		units: []form{
			{"kJ/(kg K)", 1, 1, []string{"kJ/(kg·K)", "kJ/(kg °C)", "J/(g K)"}},
			{"Btu/(lb °F)", 4.1868, 1, []string{"Btu/(lb F)", "Btu/(lb·°F)"}},
		},
		show: [2]ladder{{unit: "kJ/(kg K)"}, {unit: "Btu/(lb °F)"}},
	}
	specificEnergyDim = &dimension{
		name:  "specific energy",
		units: []form{{"kJ/kg", 1, 1, []string{"J/g"}}, {"Wh/kg", 3.6, 1, nil}, {"Btu/lb", 2.326, 1, nil}},
		show:  [2]ladder{{unit: "kJ/kg"}, {unit: "Btu/lb"}},
	}
	powerDim = &dimension{
		name:  "power",
		units: []form{{"kW", 1, 1, nil}, {"W", 1, 1000, nil}, {"hp", kWPerHorsepower, 1, nil}},
		show:  [2]ladder{{unit: "kW"}, {unit: "hp"}},
	}
	specificVolumeDim = &dimension{
		name:  "specific volume",
		units: []form{{"ml/g", 1, 1, []string{"l/kg", "cm3/g", "cm³/g"}}, {"ft3/lb", mlPerCubicFoot, gramsPerPound, []string{"ft³/lb"}}},
		show:  [2]ladder{{unit: "ml/g"}, {unit: "ft3/lb"}},
	}
	heatTransferDim = &dimension{
		name: "heat transfer",
		units: []form{
			{"W/(m2 K)", 1, 1, []string{"W/(m² K)", "W/(m²·K)", "W/(m2 °C)"}},
			{"Btu/(h ft2 °F)", kJPerBtu * 1000 * 9 / 5, 3600 * 0.3048 * 0.3048, []string{"Btu/(h ft² °F)", "Btu/(h ft2 F)"}},
		},
		show: [2]ladder{{unit: "W/(m2 K)"}, {unit: "Btu/(h ft2 °F)"}},
	}
	concentrationDim = &dimension{
		name:  "concentration",
		units: []form{{"mg/m3", 1, 1, []string{"mg/m³"}}, {"g/m3", 1000, 1, []string{"g/m³"}}},
		show:  [2]ladder{{"mg/m3", []rung{{10_000, "g/m3"}}}},
	}
	growthRateDim = &dimension{
		name:  "growth rate",
		units: []form{{"%/min", 1, 1, nil}, {"%/h", 1, 60, nil}},
		show:  [2]ladder{{unit: "%/min"}},
	}
	trayRateDim = &dimension{
		name:  "tray rate",
		units: []form{{"trays/min", 1, 1, []string{"tray/min"}}, {"trays/h", 1, 60, []string{"tray/h"}}},
		show:  [2]ladder{{unit: "trays/min"}},
	}
	pressureDim = &dimension{
		name: "pressure",
		units: []form{
			{"kPa", 1, 1, nil},
			{"Pa", 1, 1000, nil},
			{"hPa", 1, 10, []string{"mbar"}},
			{"bar", 100, 1, nil},
			{"psi", kPaPerPsi, 1, nil},
			{"atm", 101.325, 1, nil},
		},
		show: [2]ladder{{unit: "kPa"}, {unit: "psi"}},
	}
	massRateDim = &dimension{
		name: "mass rate",
		units: []form{
			{"kg/h", 1, 1, nil},
			{"t/h", 1000, 1, nil},
			{"g/h", 1, 1000, nil},
			{"g/min", 60, 1000, nil},
			{"g/s", 3600, 1000, nil},
			{"kg/min", 60, 1, nil},
			{"lb/h", gramsPerPound, 1000, nil},
			{"oz/h", gramsPerPound, 16000, nil},
		},
		show: [2]ladder{{"kg/h", []rung{{1e4, "t/h"}}}, {unit: "lb/h"}},
	}
	volumeRateDim = &dimension{
		name: "volume rate",
		units: []form{
			{"ml/min", 1, 1, nil},
			{"ml/h", 1, 60, nil},
			{"ml/s", 60, 1, nil},
			{"l/h", 1000, 60, nil},
			{"l/min", 1000, 1, nil},
			{"US fl oz/h", mlPerUSGallon, 60 * fluidOuncesPerUSGal, nil},
		},
		show: [2]ladder{{unit: "ml/min"}, {unit: "US fl oz/h"}},
	}
	pieceRateDim = &dimension{
		name:  "piece rate",
		units: []form{{"pieces/min", 1, 1, []string{"piece/min"}}, {"pieces/h", 1, 60, []string{"piece/h"}}, {"pieces/s", 60, 1, []string{"piece/s"}}},
		show:  [2]ladder{{unit: "pieces/min"}},
	}
	strokeRateDim = &dimension{
		name:  "stroke rate",
		units: []form{{"strokes/min", 1, 1, []string{"stroke/min"}}, {"strokes/h", 1, 60, []string{"stroke/h"}}},
		show:  [2]ladder{{unit: "strokes/min"}},
	}
	rotationRateDim = &dimension{
		name:  "rotation rate",
		units: []form{{"rev/min", 1, 1, []string{"rpm"}}, {"rev/s", 60, 1, nil}},
		show:  [2]ladder{{unit: "rev/min"}},
	}
	tempDeltaDim = &dimension{
		name:  "temperature difference",
		units: []form{{"C°", 1, 1, []string{"°C", "C", "K"}}, {"F°", 5, 9, []string{"°F", "F"}}},
		show:  [2]ladder{{unit: "C°"}, {unit: "F°"}},
	}
	percentDim = &dimension{
		name: "percent", units: []form{{"%", 1, 1, nil}},
		show: [2]ladder{{unit: "%"}},
	}
	bakersPercentDim = &dimension{
		name: "baker's percent", units: []form{{"%", 1, 1, nil}},
		show: [2]ladder{{unit: "%"}},
	}
	durationDim = &dimension{
		name: "duration", compound: true,
		units: []form{{"s", 1, 1, nil}, {"ms", 1, 1000, nil}, {"min", 60, 1, nil}, {"h", 3600, 1, nil}, {"d", 86400, 1, nil}},
		show:  [2]ladder{{"s", []rung{{60, "min"}, {3600, "h"}}}},
	}
)
