package unit_test

import (
	"bytes"
	"flag"
	"go/format"
	"os"
	"strings"
	"testing"
	"text/template"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var write = flag.Bool("write", false, "write quantities.go anew")

// A quantity is a row of the table that quantities.go is made from.
type quantity struct {
	Type string
	Doc  string // completes "<Type> is held in"
	Made []made // constructors, each with its accessor
}

// made is one unit that a quantity is made from and read in: mul / div units
// held, as in the table of dimensions.
type made struct {
	Name, Unit string
	Mul, Div   string // "" for one
}

var quantities = []quantity{
	{"Mass", "grams; weight as the trade says", []made{{"Grams", "g", "", ""}, {"Kilograms", "kg", "1000", ""}, {"Ounces", "oz", "gramsPerPound", "ouncesPerPound"}, {"Pounds", "lb", "gramsPerPound", ""}}},
	{"Length", "millimetres", []made{{"Millimetres", "mm", "", ""}, {"Centimetres", "cm", "10", ""}, {"Metres", "m", "1000", ""}, {"Inches", "in", "mmPerInch", ""}, {"Feet", "ft", "304.8", ""}}},
	{"Volume", "millilitres", []made{{"Millilitres", "ml", "", ""}, {"Litres", "l", "1000", ""}, {"USGallons", "US gal", "mlPerUSGallon", ""}}},
	{"Density", "grams per millilitre", []made{{"GramsPerMillilitre", "g/ml", "", ""}, {"KilogramsPerCubicMetre", "kg/m3", "", "1000"}}},
	{"Speed", "millimetres per second", []made{{"MillimetresPerSecond", "mm/s", "", ""}, {"MetresPerMinute", "m/min", "1000", "60"}, {"FeetPerMinute", "ft/min", "304.8", "60"}}},
	{"Energy", "kilojoules", []made{{"Kilojoules", "kJ", "", ""}, {"WattHours", "Wh", "3.6", ""}, {"BTU", "Btu", "kJPerBtu", ""}}},
	{"SpecificHeat", "kilojoules per kilogram and kelvin", []made{{"KilojoulesPerKilogramKelvin", "kJ/(kg K)", "", ""}}},
	{"SpecificEnergy", "kilojoules per kilogram", []made{{"KilojoulesPerKilogram", "kJ/kg", "", ""}, {"WattHoursPerKilogram", "Wh/kg", "3.6", ""}}},
	{"SpecificVolume", "millilitres per gram", []made{{"MillilitresPerGram", "ml/g", "", ""}}},
	{"HeatTransfer", "watts per square metre and kelvin", []made{{"WattsPerSquareMetreKelvin", "W/(m2 K)", "", ""}}},
	{"Concentration", "milligrams per cubic metre", []made{{"MilligramsPerCubicMetre", "mg/m3", "", ""}}},
	{"GrowthRate", "percent of what it was at the start, a minute", []made{{"PercentPerMinute", "%/min", "", ""}}},
	{"TrayRate", "trays per minute", []made{{"TraysPerMinute", "trays/min", "", ""}}},
	{"Power", "kilowatts", []made{{"Kilowatts", "kW", "", ""}, {"Horsepower", "hp", "kWPerHorsepower", ""}}},
	{"Pressure", "kilopascals; absolute unless a calculation says otherwise", []made{{"Kilopascals", "kPa", "", ""}, {"Bars", "bar", "100", ""}, {"PSI", "psi", "kPaPerPsi", ""}}},
	{"MassRate", "kilograms per hour", []made{{"KilogramsPerHour", "kg/h", "", ""}, {"GramsPerMinute", "g/min", "60", "1000"}, {"PoundsPerHour", "lb/h", "gramsPerPound", "1000"}}},
	{"VolumeRate", "millilitres per minute", []made{{"MillilitresPerMinute", "ml/min", "", ""}, {"LitresPerHour", "l/h", "1000", "60"}}},
	{"PieceRate", "pieces per minute", []made{{"PiecesPerMinute", "pieces/min", "", ""}, {"PiecesPerHour", "pieces/h", "", "60"}}},
	{"StrokeRate", "strokes per minute", []made{{"StrokesPerMinute", "strokes/min", "", ""}, {"StrokesPerHour", "strokes/h", "", "60"}}},
	{"RotationRate", "revolutions per minute", []made{{"RevolutionsPerMinute", "rev/min", "", ""}}},
	{"TempDelta", "Celsius degrees; a difference of temperatures, so it converts by 9/5 and no 32", []made{{"CelsiusDegrees", "C°", "", ""}, {"FahrenheitDegrees", "F°", "5", "9"}}},
	{"BakersPercent", "percent of the total flour; as printed on a formula: 62.5 means 62.5 %", nil},
	{"Percent", "percent of a whole; as printed: 12 means 12 %", nil},
	{"Duration", "seconds", []made{{"Seconds", "s", "", ""}, {"Minutes", "min", "60", ""}, {"Hours", "h", "3600", ""}}},
}

// To and From convert by exact numbers only, never by an inexact reciprocal,
// and round each product, so that no processor fuses it with what follows.
func (m made) To() string   { return convert("v", m.Mul, m.Div) }
func (m made) From() string { return convert("float64(x)", m.Div, m.Mul) }

func convert(v, mul, div string) string {
	switch {
	case mul != "" && div != "":
		return "float64(" + v + "*" + mul + ") / " + div
	case mul != "":
		return v + " * " + mul
	case div != "":
		return v + " / " + div
	}
	return v
}

// Dim is the variable that holds the quantity's units.
func (q quantity) Dim() string { return strings.ToLower(q.Type[:1]) + q.Type[1:] + "Dim" }

// Clock reports whether people read it as hours, minutes and seconds.
func (q quantity) Clock() bool { return q.Type == "Duration" }

var source = template.Must(template.New("").Parse(`// Code generated from the table in generate_test.go; DO NOT EDIT.

package unit
{{range .}}{{$t := .Type}}{{$d := .Dim}}
// {{$t}} is held in {{.Doc}}.
type {{$t}} float64
{{range .Made}}
// {{.Name}} returns v {{.Unit}} as a {{$t}}.
func {{.Name}}(v float64) {{$t}} { return {{$t}}({{.To}}) }

// {{.Name}} returns the value in {{.Unit}}.
func (x {{$t}}) {{.Name}}() float64 { return {{.From}} }
{{end}}{{if .Clock}}
// String returns hours, minutes and seconds, rounded to the second from ten
// seconds up: "7 min 30 s".
func (x {{$t}}) String() string { return x.clock() }

// In returns the same text as String in every unit system.
func (x {{$t}}) In(System) string { return x.clock() }
{{else}}
// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x {{$t}}) String() string { return {{$d}}.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x {{$t}}) In(sys System) string { return {{$d}}.format(float64(x), sys) }
{{end}}
// AppendIn appends every digit and a unit of sys.
func (x {{$t}}) AppendIn(b []byte, sys System) ([]byte, error) {
	return {{$d}}.appendIn(b, float64(x), {{$d}}.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x {{$t}}) AppendText(b []byte) ([]byte, error) { return {{$d}}.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x {{$t}}) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *{{$t}}) UnmarshalText(text []byte) error { return read(x, text, Parse{{$t}}) }

// Parse{{$t}} reads a number with a unit, or returns an [Error] that lists the units.
func Parse{{$t}}(text string) ({{$t}}, error) {
	v, err := {{$d}}.parse(text)
	return {{$t}}(v), err
}

func (x {{$t}}) dimension() *dimension { return {{$d}} }
func (x {{$t}}) held() float64         { return float64(x) }
{{end}}`))

// quantities.go is made from the table above. Mend it with
//
//	go generate ./doughmath/unit
func TestQuantitiesAreCurrent(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, source.Execute(&b, quantities))
	want, err := format.Source(b.Bytes())
	require.NoError(t, err)
	if *write {
		require.NoError(t, os.WriteFile("quantities.go", want, 0o644))
	}
	got, err := os.ReadFile("quantities.go")
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "quantities.go is not what its table says: go generate ./doughmath/unit")
}
