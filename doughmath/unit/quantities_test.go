package unit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	. "example.com/dough/doughmath/unit"
)

// Every constructor against the definition of its unit (NIST Special
// Publication 811 (2008), Appendix B), and its accessor back to what was typed.
func TestConstructorsAndAccessors(t *testing.T) {
	const v = 7.3
	for _, c := range []struct {
		name       string
		q          Quantity
		held, back float64
	}{
		{"ml/g", MillilitresPerGram(v), v, MillilitresPerGram(v).MillilitresPerGram()},
		{"W/(m2 K)", WattsPerSquareMetreKelvin(v), v, WattsPerSquareMetreKelvin(v).WattsPerSquareMetreKelvin()},
		{"mg/m3", MilligramsPerCubicMetre(v), v, MilligramsPerCubicMetre(v).MilligramsPerCubicMetre()},
		{"%/min", PercentPerMinute(v), v, PercentPerMinute(v).PercentPerMinute()},
		{"trays/min", TraysPerMinute(v), v, TraysPerMinute(v).TraysPerMinute()},
		{"g", Grams(v), v, Grams(v).Grams()},
		{"kg", Kilograms(v), 7300, Kilograms(v).Kilograms()},
		{"oz", Ounces(v), v * 28.349523125, Ounces(v).Ounces()},
		{"lb", Pounds(v), v * 453.59237, Pounds(v).Pounds()},
		{"mm", Millimetres(v), v, Millimetres(v).Millimetres()},
		{"cm", Centimetres(v), 73, Centimetres(v).Centimetres()},
		{"m", Metres(v), 7300, Metres(v).Metres()},
		{"in", Inches(v), v * 25.4, Inches(v).Inches()},
		{"ft", Feet(v), v * 304.8, Feet(v).Feet()},
		{"ml", Millilitres(v), v, Millilitres(v).Millilitres()},
		{"l", Litres(v), 7300, Litres(v).Litres()},
		{"US gal", USGallons(v), v * 3785.411784, USGallons(v).USGallons()},
		{"g/ml", GramsPerMillilitre(v), v, GramsPerMillilitre(v).GramsPerMillilitre()},
		{"kg/m3", KilogramsPerCubicMetre(v), v / 1000, KilogramsPerCubicMetre(v).KilogramsPerCubicMetre()},
		{"mm/s", MillimetresPerSecond(v), v, MillimetresPerSecond(v).MillimetresPerSecond()},
		{"m/min", MetresPerMinute(v), v * 1000 / 60, MetresPerMinute(v).MetresPerMinute()},
		{"ft/min", FeetPerMinute(v), v * 5.08, FeetPerMinute(v).FeetPerMinute()},
		{"kJ", Kilojoules(v), v, Kilojoules(v).Kilojoules()},
		{"Wh", WattHours(v), v * 3.6, WattHours(v).WattHours()},
		{"Btu", BTU(v), v * 1.05505585262, BTU(v).BTU()},
		{"kJ/(kg K)", KilojoulesPerKilogramKelvin(v), v, KilojoulesPerKilogramKelvin(v).KilojoulesPerKilogramKelvin()},
		{"kJ/kg", KilojoulesPerKilogram(v), v, KilojoulesPerKilogram(v).KilojoulesPerKilogram()},
		{"Wh/kg", WattHoursPerKilogram(v), v * 3.6, WattHoursPerKilogram(v).WattHoursPerKilogram()},
		{"kW", Kilowatts(v), v, Kilowatts(v).Kilowatts()},
		{"hp", Horsepower(v), v * 0.7456998715822702, Horsepower(v).Horsepower()},
		{"kPa", Kilopascals(v), v, Kilopascals(v).Kilopascals()},
		{"bar", Bars(v), 730, Bars(v).Bars()},
		{"psi", PSI(v), v * 6.894757293168361, PSI(v).PSI()},
		{"kg/h", KilogramsPerHour(v), v, KilogramsPerHour(v).KilogramsPerHour()},
		{"g/min", GramsPerMinute(v), v * 0.06, GramsPerMinute(v).GramsPerMinute()},
		{"lb/h", PoundsPerHour(v), v * 0.45359237, PoundsPerHour(v).PoundsPerHour()},
		{"ml/min", MillilitresPerMinute(v), v, MillilitresPerMinute(v).MillilitresPerMinute()},
		{"l/h", LitresPerHour(v), v * 1000 / 60, LitresPerHour(v).LitresPerHour()},
		{"pieces/min", PiecesPerMinute(v), v, PiecesPerMinute(v).PiecesPerMinute()},
		{"pieces/h", PiecesPerHour(v), v / 60, PiecesPerHour(v).PiecesPerHour()},
		{"strokes/min", StrokesPerMinute(v), v, StrokesPerMinute(v).StrokesPerMinute()},
		{"strokes/h", StrokesPerHour(v), v / 60, StrokesPerHour(v).StrokesPerHour()},
		{"rev/min", RevolutionsPerMinute(v), v, RevolutionsPerMinute(v).RevolutionsPerMinute()},
		{"C°", CelsiusDegrees(v), v, CelsiusDegrees(v).CelsiusDegrees()},
		{"F°", FahrenheitDegrees(v), v * 5 / 9, FahrenheitDegrees(v).FahrenheitDegrees()},
		{"s", Seconds(v), v, Seconds(v).Seconds()},
		{"min", Minutes(v), v * 60, Minutes(v).Minutes()},
		{"h", Hours(v), v * 3600, Hours(v).Hours()},
		{"K", Kelvins(v), v - 273.15, Kelvins(v).Kelvins()},
	} {
		assert.InEpsilon(t, c.held, Held(c.q), 1e-15, c.name)
		assert.InEpsilon(t, v, c.back, 1e-13, c.name)
		typed, ok := InUnit(c.q, c.name)
		assert.True(t, ok, c.name)
		assert.InEpsilon(t, v, typed, 1e-13, c.name)
	}
}
