package unit

import (
	"math"
	"strconv"
)

// Temp is a temperature on a scale. Two temperatures cannot be added: their
// sum means nothing, and mixing up a temperature with a difference of
// temperatures is the commonest slip in water-temperature arithmetic. Subtract
// them to get a [TempDelta], add a TempDelta to get a Temp.
//
// The zero Temp is "not given", not 0 °C, so that a forgotten field is
// reported and never taken for freezing. Temps compare with ==.
type Temp struct {
	celsius float64
	given   bool
}

// Fixed points of the temperature scales.
//
// Source: NIST Special Publication 811 (2008), Appendix B.
const (
	FahrenheitAtFreezing = 32     // exact, by definition of the conversion
	KelvinAtZeroCelsius  = 273.15 // exact
)

// Celsius returns v °C.
func Celsius(v float64) Temp { return Temp{celsius: v, given: true} }

// Fahrenheit returns v °F. Whole and half degrees come back from
// [Temp.Fahrenheit] within one unit in the last place.
func Fahrenheit(v float64) Temp { return Celsius(float64((v-FahrenheitAtFreezing)*5) / 9) }

// Kelvins returns v K on the absolute scale.
func Kelvins(v float64) Temp { return Celsius(v - KelvinAtZeroCelsius) }

// Given reports whether t was given at all.
func (t Temp) Given() bool { return t.given }

// Celsius returns t in °C, or NaN if it was not given.
func (t Temp) Celsius() float64 {
	if !t.given {
		return math.NaN()
	}
	return t.celsius
}

// Fahrenheit returns t in °F, or NaN if it was not given.
func (t Temp) Fahrenheit() float64 { return float64(t.Celsius()*9)/5 + FahrenheitAtFreezing }

// Kelvins returns t in K, or NaN if it was not given.
func (t Temp) Kelvins() float64 { return t.Celsius() + KelvinAtZeroCelsius }

// Between reports whether t was given and is from low to high.
func (t Temp) Between(low, high Temp) bool {
	return t.given && t.celsius >= low.celsius && t.celsius <= high.celsius
}

// Sub returns t - u.
func (t Temp) Sub(u Temp) TempDelta { return TempDelta(t.Celsius() - u.Celsius()) }

// Add returns t + d.
func (t Temp) Add(d TempDelta) Temp { return Temp{celsius: t.celsius + float64(d), given: t.given} }

// Equal reports whether t and u are the same temperature, or both not given.
func (t Temp) Equal(u Temp) bool { return t == u }

// Less reports whether t is colder than u.
func (t Temp) Less(u Temp) bool { return t.Celsius() < u.Celsius() }

var tempDim = &dimension{
	name:  "temperature",
	units: []form{{"°C", 1, 1, []string{"C"}}, {"°F", 5, 9, []string{"F"}}, {"K", 1, 1, nil}},
	show:  [2]ladder{{unit: "°C"}, {unit: "°F"}},
}

func (t Temp) dimension() *dimension { return tempDim }
func (t Temp) held() float64         { return t.Celsius() }

func (t Temp) in(symbol string) float64 {
	switch symbol {
	case "°F":
		return t.Fahrenheit()
	case "K":
		return t.Kelvins()
	}
	return t.Celsius()
}

// String rounds to a tenth of a degree Celsius, for people.
func (t Temp) String() string { return t.In(Metric) }

// In rounds to a tenth of a degree of sys.
func (t Temp) In(sys System) string {
	if !t.given {
		return "not given"
	}
	u := tempDim.shown(t.celsius, sys)
	tenth := math.Round(t.in(u.symbol)*10) / 10
	return strconv.FormatFloat(tenth+0, 'f', -1, 64) + " " + u.symbol
}

// AppendIn appends every digit in °C or °F.
func (t Temp) AppendIn(b []byte, sys System) ([]byte, error) {
	return t.appendUnit(b, tempDim.shown(t.celsius, sys).symbol)
}

// AppendText appends every digit in °C. A Temp that was not given appends nothing.
func (t Temp) AppendText(b []byte) ([]byte, error) { return t.appendUnit(b, "°C") }

func (t Temp) appendUnit(b []byte, symbol string) ([]byte, error) {
	if !t.given {
		return b, nil
	}
	v := t.in(symbol)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return b, &Error{Quantity: tempDim.name, Text: strconv.FormatFloat(v, 'g', -1, 64), Want: "a finite number"}
	}
	b = strconv.AppendFloat(b, v, 'g', -1, 64)
	b = append(b, ' ')
	return append(b, symbol...), nil
}

// MarshalText writes every digit in °C.
func (t Temp) MarshalText() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalText reads "24 °C", "24 C", "75 °F", "297.15 K" and, as the text of
// a Temp that was not given, nothing at all.
func (t *Temp) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*t = Temp{}
		return nil
	}
	return read(t, text, ParseTemp)
}

// ParseTemp reads a number with a unit, or returns a [Error].
func ParseTemp(text string) (Temp, error) {
	// The scale's zero point is not part of the unit table, so the number is
	// read as if it were Celsius degrees and placed on its scale here.
	number, symbol, err := tempDim.parseOne(text)
	if err != nil {
		return Temp{}, err
	}
	t := tempIn(number, symbol)
	if math.IsInf(t.celsius, 0) {
		return Temp{}, tempDim.fail(text, "a number that a computer can hold")
	}
	return t, nil
}

// tempIn places a number on the scale with the symbol.
func tempIn(number float64, symbol string) Temp {
	switch symbol {
	case "°F":
		return Fahrenheit(number)
	case "K":
		return Kelvins(number)
	}
	return Celsius(number)
}
