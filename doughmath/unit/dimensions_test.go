package unit_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/unit"
)

// What units are by definition: NIST Special Publication 811 (2008), Appendix B, and its section 5 for those of time.
// From these alone the factors of the table below are worked out.
const (
	inch       = 25.4                   // mm, exact
	foot       = 12 * inch              // mm
	pound      = 453.59237              // g, exact
	gravity    = 9.80665                // m/s², standard, exact
	gallon     = 231 * cubic            // ml, US
	cubic      = 2.54 * 2.54 * 2.54     // ml in a cubic inch
	cubicFoot  = 1728 * cubic           // ml
	btu        = 2.326 * pound / 1000   // kJ: a Btu (IT) per pound is 2.326 kJ/kg, exact
	poundForce = pound / 1000 * gravity // N
)

// factors is what one of each unit is in the unit held, by the unit held.
var factors = map[string]map[string]float64{
	"g":           {"g": 1, "kg": 1000, "mg": 0.001, "t": 1e6, "oz": pound / 16, "lb": pound},
	"mm":          {"mm": 1, "cm": 10, "m": 1000, "in": inch, "ft": foot},
	"ml":          {"ml": 1, "l": 1000, "US fl oz": gallon / 128, "US gal": gallon},
	"g/ml":        {"g/ml": 1, "kg/m3": 0.001, "lb/ft3": pound / cubicFoot},
	"mm/s":        {"mm/s": 1, "m/s": 1000, "m/min": 1000. / 60, "ft/min": foot / 60},
	"kJ":          {"kJ": 1, "J": 0.001, "MJ": 1000, "Wh": 3.6, "kWh": 3600, "kcal": 4.184, "Btu": btu},
	"kJ/(kg K)":   {"kJ/(kg K)": 1, "Btu/(lb °F)": 2.326 * 9 / 5},
	"kJ/kg":       {"kJ/kg": 1, "Wh/kg": 3.6, "Btu/lb": 2.326},
	"kW":          {"kW": 1, "W": 0.001, "hp": 550 * foot / 1000 * poundForce / 1000}, // 550 ft lbf/s
	"ml/g":        {"ml/g": 1, "ft3/lb": cubicFoot / pound},
	"W/(m2 K)":    {"W/(m2 K)": 1, "Btu/(h ft2 °F)": btu * 1000 / 3600 / (foot / 1000 * foot / 1000) * 9 / 5},
	"mg/m3":       {"mg/m3": 1, "g/m3": 1000},
	"%/min":       {"%/min": 1, "%/h": 1. / 60},
	"trays/min":   {"trays/min": 1, "trays/h": 1. / 60},
	"kPa":         {"kPa": 1, "Pa": 0.001, "hPa": 0.1, "bar": 100, "psi": poundForce / (inch / 1000 * inch / 1000) / 1000, "atm": 101.325},
	"kg/h":        {"kg/h": 1, "t/h": 1000, "g/h": 0.001, "g/min": 0.06, "g/s": 3.6, "kg/min": 60, "lb/h": pound / 1000, "oz/h": pound / 16 / 1000},
	"ml/min":      {"ml/min": 1, "ml/h": 1. / 60, "ml/s": 60, "l/h": 1000. / 60, "l/min": 1000, "US fl oz/h": gallon / 128 / 60},
	"pieces/min":  {"pieces/min": 1, "pieces/h": 1. / 60, "pieces/s": 60},
	"strokes/min": {"strokes/min": 1, "strokes/h": 1. / 60},
	"rev/min":     {"rev/min": 1, "rev/s": 60},
	"C°":          {"C°": 1, "F°": 5. / 9},
	"s":           {"s": 1, "ms": 0.001, "min": 60, "h": 3600, "d": 86400},
	"°C":          {"°C": 1, "°F": 5. / 9, "K": 1}, // of a degree; where the scales begin, see below
	// What only occurs inside a working.
	"mm²":   {"mm²": 1, "in²": inch * inch, "cm²": 100, "m²": 1e6, "ft²": foot * foot},
	"mm³":   {"mm³": 1, "in³": inch * inch * inch, "ml": 1000, "l": 1e6, "ft³": foot * foot * foot},
	"1/mm":  {"1/mm": 1, "1/in": 1 / inch},
	"g²":    {"g²": 1, "oz²": pound / 16 * pound / 16},
	"kJ/K":  {"kJ/K": 1, "Btu/F°": btu * 9 / 5},
	"m3/kg": {"m3/kg": 1, "ft3/lb": cubicFoot / pound / 1000},
	"kg/m³": {"kg/m³": 1, "lb/ft³": pound * 1000 / cubicFoot},
}

const definition = "%s in %s: NIST Special Publication 811 (2008), Appendix B"

// Every unit is what its definition says, on its scale, where a text is read and where it is written.
func TestUnitsByDefinition(t *testing.T) {
	for held, want := range factors {
		var symbols []string
		for _, s := range AllScales(held) {
			symbols = append(symbols, s.Unit)
			one, zero := s.Held(1+s.Zero), s.Held(s.Zero)
			assert.InEpsilon(t, want[s.Unit], one-zero, 4e-16, definition, s.Unit, held)
			assert.InEpsilon(t, 1/want[s.Unit], s.Number(1)-s.Zero, 1e-13, definition, s.Unit, held)
			of, ok := ScaleOf(held, s.Unit)
			assert.True(t, ok)
			assert.Equal(t, s, of)
		}
		assert.ElementsMatch(t, slices.Collect(maps.Keys(want)), symbols, held)
		assert.Equal(t, held, symbols[0])
		_, ok := ScaleOf(held, "cubit")
		assert.False(t, ok)
	}
	for _, q := range zeros {
		info := Describe(q)
		want := factors[info.Held]
		if info.Held == "%" {
			want = map[string]float64{"%": 1}
		}
		assert.ElementsMatch(t, slices.Collect(maps.Keys(want)), info.Units, info.Name)
		for _, symbol := range info.Units {
			if info.Name == "temperature" {
				continue
			}
			for _, read := range []func() (float64, error){
				func() (float64, error) { return Parse(q, "1 "+symbol) },
				func() (float64, error) { return ParseIn(q, "1", symbol) },
			} {
				v, err := read()
				require.NoError(t, err)
				assert.InEpsilon(t, want[symbol], v, 4e-16, definition, symbol, info.Held)
			}
			c, ok := ConverterTo(q, symbol)
			require.True(t, ok)
			assert.InEpsilon(t, want[symbol], c.ToHeld(1), 4e-16, definition, symbol, info.Held)
		}
	}
}

// Water freezes at 0 °C, 32 °F and 273.15 K; it boils at 212 °F. A sum of temperatures has the zero point of each.
func TestScalesOfTemperature(t *testing.T) {
	for symbol, freezing := range map[string]float64{"°C": 0, "°F": 32, "K": 273.15} {
		s, ok := ScaleOf("°C", symbol)
		require.True(t, ok)
		assert.Equal(t, freezing, s.Number(0), symbol)
		assert.Equal(t, 0.0, s.Held(freezing), symbol)
		sum, ok := ScaleOf("°C (sum of 3)", symbol)
		require.True(t, ok)
		assert.Equal(t, symbol+" (sum of 3)", sum.Unit)
		assert.InDelta(t, 3*freezing, sum.Number(0), 1e-12, symbol)
		v, err := ParseIn(Temp{}, fmt.Sprint(freezing), symbol)
		require.NoError(t, err)
		assert.Equal(t, 0.0, v, symbol)
		q, err := ParseTemp(fmt.Sprint(freezing) + " " + symbol)
		require.NoError(t, err)
		assert.Equal(t, Celsius(0), q, symbol)
	}
	assert.Equal(t, 100.0, Fahrenheit(212).Celsius())
	for _, held := range []string{"°C (sum of three)", "cubit", ""} {
		_, ok := ScaleOf(held, "°F")
		assert.False(t, ok, held)
		assert.Empty(t, AllScales(held))
		read, sum := Scales(held, 5, US)
		assert.Equal(t, Scale{Unit: held, Mul: 1, Div: 1}, read)
		assert.Equal(t, read, sum)
	}
}

// The unit in which a person reads a value, at the bound and a little below.
func TestUnitsToRead(t *testing.T) {
	for _, c := range []struct {
		held       string
		value      float64
		metric, us string
	}{
		{"g", 0.1, "g", "oz"},
		{"g", 0.0999, "mg", "oz"},
		{"g", 1e-300, "mg", "oz"},
		{"g", 0, "g", "oz"},
		{"g", math.NaN(), "g", "oz"},
		{"g", -0.05, "mg", "oz"},
		{"g", 1000, "kg", "lb"},
		{"g", 999, "g", "lb"},
		{"g", 1e7, "t", "lb"},
		{"g", 9.99e6, "kg", "lb"},
		{"g", 453.59237, "g", "lb"},
		{"g", 453.5, "g", "oz"},
		{"mm", 1000, "m", "in"},
		{"mm", 999, "mm", "in"},
		{"mm", 3048, "m", "ft"},
		{"mm", 3047, "m", "in"},
		{"mm", 0, "mm", "in"},
		{"ml", 1000, "l", "US fl oz"},
		{"ml", 999, "ml", "US fl oz"},
		{"ml", gallon, "l", "US gal"},
		{"ml", 3785, "l", "US fl oz"},
		{"mg/m3", 1e4, "g/m3", "g/m3"},
		{"mg/m3", 9999, "mg/m3", "mg/m3"},
		{"kg/h", 1e4, "t/h", "lb/h"},
		{"kg/h", 9999, "kg/h", "lb/h"},
		{"s", 60, "min", "min"},
		{"s", 59.9, "s", "s"},
		{"s", 3600, "h", "h"},
		{"s", 3599, "min", "min"},
		{"s", 0, "s", "s"},
		{"mm/s", 5, "m/min", "ft/min"},
		{"mm/s", 0, "m/min", "ft/min"},
		{"°C", 5, "°C", "°F"},
		{"C°", 5, "C°", "F°"},
		{"%/min", 5, "%/min", "%/min"},
	} {
		read, _ := Scales(c.held, c.value, Metric)
		assert.Equal(t, c.metric, read.Unit, "%v %s", c.value, c.held)
		read, _ = Scales(c.held, c.value, US)
		assert.Equal(t, c.us, read.Unit, "%v %s", c.value, c.held)
	}
	for held, sums := range map[string][2]string{"g": {"g", "oz"}, "mm": {"mm", "in"}, "mm/s": {"mm/s", "ft/min"}, "s": {"s", "s"}, "°C (sum of 2)": {"°C (sum of 2)", "°F (sum of 2)"}} {
		for sys, want := range map[System]string{Metric: sums[0], US: sums[1]} {
			_, sum := Scales(held, 1e6, sys)
			assert.Equal(t, want, sum.Unit)
		}
	}
}

// Which units a person of either system has.
func TestBelongs(t *testing.T) {
	for _, c := range []struct {
		held, symbol string
		metric, us   bool
	}{
		{"g", "kg", true, false},
		{"g", "lb", false, true},
		{"g", "oz", false, true},
		{"s", "h", true, true},
		{"s", "d", true, true},
		{"mm", "ft", false, true},
		{"mm", "in", false, true},
		{"mm", "m", true, false},
		{"°C", "F", false, false},
		{"°C", "°F", false, true},
		{"°C", "K", true, false},
		{"kJ", "Btu", false, true},
		{"kJ", "kcal", true, false},
		{"kg/h", "oz/h", false, false},
		{"ml", "US gal", false, true},
		{"cubit", "x", true, true},
	} {
		assert.Equal(t, c.metric, Belongs(c.held, c.symbol, Metric), c.symbol)
		assert.Equal(t, c.us, Belongs(c.held, c.symbol, US), c.symbol)
	}
}

// A bare number takes the unit of its column, one with a unit keeps it, and what cannot be read is
// refused as if the unit stood beside it.
func TestParseIn(t *testing.T) {
	long := "1" + fmt.Sprintf("%061d", 0) // with a space and "g": 64 characters
	for _, c := range []struct {
		text, symbol string
		want         float64
	}{
		{"85", "g", 85}, {" −3 ", "kg", -3000}, {"2 lb", "g", 907.18474}, {"2 lb 8 oz", "g", 1133.980925}, {"85 g", "", 85}, {long, "g", 1e61},
	} {
		v, err := ParseIn(Mass(0), c.text, c.symbol)
		require.NoError(t, err, c.text)
		assert.InEpsilon(t, c.want, v, 1e-15, c.text)
	}
	for text, symbol := range map[string]string{"85": "", "86": "cubit", "x": "g", "1e999": "g", "-1e308": "t", "1 2": "g", long + "0": "g", "1.": "° C"} {
		v, err := ParseIn(Mass(0), text, symbol)
		require.Error(t, err, text)
		assert.Zero(t, v)
		whole := text
		if text == "85" || text == "1 2" || text == "x" {
			symbol = ""
		}
		if symbol != "" {
			whole += " " + symbol
		}
		_, want := Parse(Mass(0), whole)
		assert.Equal(t, want, err, text)
	}
	v, err := ParseIn(Mass(0), "-0", "g")
	require.NoError(t, err)
	assert.False(t, math.Signbit(v), "nothing has no sign")
}
