package unit_test

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "example.com/dough/doughmath/unit"
)

// parse reads text as the kind of quantity named.
func parse(kind, text string) (Quantity, error) {
	switch kind {
	case "mass":
		return ParseMass(text)
	case "length":
		return ParseLength(text)
	case "volume":
		return ParseVolume(text)
	case "density":
		return ParseDensity(text)
	case "speed":
		return ParseSpeed(text)
	case "energy":
		return ParseEnergy(text)
	case "specific heat":
		return ParseSpecificHeat(text)
	case "specific energy":
		return ParseSpecificEnergy(text)
	case "power":
		return ParsePower(text)
	case "pressure":
		return ParsePressure(text)
	case "mass rate":
		return ParseMassRate(text)
	case "volume rate":
		return ParseVolumeRate(text)
	case "piece rate":
		return ParsePieceRate(text)
	case "stroke rate":
		return ParseStrokeRate(text)
	case "rotation rate":
		return ParseRotationRate(text)
	case "temperature difference":
		return ParseTempDelta(text)
	case "temperature":
		return ParseTemp(text)
	case "percent":
		return ParsePercent(text)
	case "specific volume":
		return ParseSpecificVolume(text)
	case "heat transfer":
		return ParseHeatTransfer(text)
	case "concentration":
		return ParseConcentration(text)
	case "growth rate":
		return ParseGrowthRate(text)
	case "tray rate":
		return ParseTrayRate(text)
	case "baker's percent":
		return ParseBakersPercent(text)
	case "duration":
		return ParseDuration(text)
	}
	panic(kind)
}

var zeros = []Quantity{
	SpecificVolume(0), HeatTransfer(0), Concentration(0), GrowthRate(0), TrayRate(0),
	Mass(0), Length(0), Volume(0), Density(0), Speed(0), Energy(0), SpecificHeat(0), SpecificEnergy(0),
	Power(0), Pressure(0), MassRate(0), VolumeRate(0), PieceRate(0), StrokeRate(0), RotationRate(0), TempDelta(0), Celsius(0),
	Percent(0), BakersPercent(0), Duration(0),
}

// The factors are exact by definition; NIST Special Publication 811 (2008),
// Appendix B, lists them.
func TestParseAgainstDefinitions(t *testing.T) {
	for _, c := range []struct {
		kind, text string
		held       float64
	}{
		{"mass", "85 g", 85},
		{"mass", "1 lb", 453.59237},
		{"mass", "3 oz", 85.048569375},
		{"mass", "2 lb 8 oz", 1133.980925},
		{"mass", "-2 lb 8 oz", -1133.980925},
		{"mass", "5 mg", 0.005},
		{"mass", "62.3kg", 62300},
		{"mass", " 1.5e3 g ", 1500},
		{"mass", "−4 g", -4},
		{"mass", "0.25 t", 250000},
		{"mass", ".5 kg", 500},
		{"mass", "5. g", 5},
		{"mass", "1E3 g", 1000},
		{"mass", "1e3g", 1000},
		{"mass", "+3 g", 3},
		{"mass", "−2 lb 8 oz", -1133.980925},
		{"mass", "2 lb 0 oz", 907.18474},
		{"mass", "2 lb 9 oz", 1162.330448125},
		{"mass", "2 lb .5 oz", 921.3595015625},
		{"mass", "8" + strings.Repeat(" ", 62) + "g", 8}, // 64 characters
		{"temperature", "8" + strings.Repeat(" ", 62) + "C", 8},
		{"length", "1 ft 2 in", 355.6},
		{"length", "2.5 cm", 25},
		{"volume", "1 US gal", 3785.411784},
		{"volume", "8 US fl oz", 236.5882365},
		{"volume", "2 L", 2000},
		{"density", "1150 kg/m3", 1.15},
		{"density", "1 lb/ft3", 0.016018463373960142}, // 453.59237 / 28316.846592
		{"speed", "6 m/min", 100},
		{"speed", "100 ft/min", 508},
		{"energy", "1 kWh", 3600},
		{"energy", "1 Btu", 1.05505585262},
		{"specific heat", "1 Btu/(lb °F)", 4.1868},
		{"specific energy", "1 Btu/lb", 2.326},
		{"specific energy", "11 Wh/kg", 39.6},
		{"power", "1 hp", 0.7456998715822702},
		{"pressure", "1 psi", 6.894757293168361}, // 453.59237 * 9.80665 / 25.4²
		{"pressure", "1013.25 mbar", 101.325},
		{"mass rate", "100 lb/h", 45.359237},
		{"mass rate", "5 g/s", 18},
		{"volume rate", "1 l/h", 1000.0 / 60},
		{"piece rate", "3000 pieces/h", 50},
		{"stroke rate", "25 strokes/min", 25},
		{"rotation rate", "40 rpm", 40},
		{"temperature difference", "9 F°", 5},
		{"temperature difference", "5 °C", 5},
		{"temperature", "24 C", 24},
		{"temperature", "24 °C", 24},
		{"temperature", "212 °F", 100},
		{"temperature", "-40 F", -40},
		{"temperature", "273.15 K", 0},
		{"percent", "12%", 12},
		{"baker's percent", "62.5 %", 62.5},
		{"duration", "7 min 30 s", 450},
		{"duration", "1 h 30 min", 5400},
		{"duration", "250 ms", 0.25},
		{"duration", "1 d 2 h", 93600},
		{"specific volume", "1 ft3/lb", 62.42796057614461},       // 28316.846592 / 453.59237
		{"heat transfer", "1 Btu/(h ft2 °F)", 5.678263341113488}, // SP 811, B.8: 5.678263
		{"concentration", "0.01 g/m3", 10},
		{"growth rate", "30 %/h", 0.5},
		{"tray rate", "600 trays/h", 10},
	} {
		t.Run(c.kind+" "+c.text, func(t *testing.T) {
			q, err := parse(c.kind, c.text)
			require.NoError(t, err)
			assert.InEpsilon(t, c.held+1, Held(q)+1, 1e-15)
		})
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ kind, text, want string }{
		{"mass", "85", "want a unit after the number"},
		{"mass", "1e3", "want a unit after the number"},
		{"mass", "5e", `want a unit of mass in place of "e"`},
		{"mass", "5 e g", `want a unit of mass in place of "e g"`},
		{"mass", "5e g", `want a unit of mass in place of "e g"`},
		{"mass", "2 lb (8 oz", `want a unit of mass in place of "lb (8 oz"`},
		{"mass", ". g", "a number first"},
		{"mass", "2 lb -8 cubit", `want a unit of mass in place of "cubit"`},
		{"temperature", "24 X 3 C", `want a unit of temperature in place of "X"`},
		{"mass", "2 lb 3 lb", "the larger unit first"},
		{"mass", "−2 lb −8 oz", "no sign inside"},
		{"mass", "-1e308 t", "a number that a computer can hold"},
		{"mass", "2 lb 1e999 oz", "a number that a computer can hold"},
		{"mass", "8" + strings.Repeat(" ", 63) + "g", "at most 64 characters"},
		{"temperature", "8" + strings.Repeat(" ", 63) + "C", "at most 64 characters"},
		{"temperature", "", "a number first"},
		{"temperature", "C", "a number first"},
		{"temperature", "1e999 C", "a number that a computer can hold"},
		{"temperature", "-1e308 F", "a number that a computer can hold"},
		{"mass", "", "a number and a unit"},
		{"mass", "g", "a number first"},
		{"mass", "85 °C", `a unit of mass in place of "°C"`},
		{"mass", "1,5 kg", "a point for the decimals"},
		{"mass", "1.2.3 kg", "unit"},
		{"mass", "8 oz 2 lb", "the larger unit first"},
		{"mass", "2 lb -8 oz", "no sign inside"},
		{"mass", "2 lb +8 oz", "no sign inside"},
		{"mass", "2 lb 8", "a unit after the number"},
		{"mass", "nan g", "a number first"},
		{"mass", "inf g", "a number first"},
		{"mass", "1e999 g", "a number that a computer can hold"},
		{"mass", "1e308 t", "a number that a computer can hold"},
		{"mass", "0x10 g", "unit"},
		{"mass", "1_000 g", "unit"},
		{"mass", "3 oz of dough and a very long story that nobody should have to read", "at most 64 characters"},
		{"percent", "12 % 3 %", "one number only"},
		{"temperature", "24", "a unit after the number"},
		{"temperature", "24 C 3 C", "one number only"},
		{"temperature", "24 X", `a unit of temperature in place of "X"`},
		{"temperature", "1e308 F", "a number that a computer can hold"},
		{"temperature difference", "3 °R", "unit"},
		{"duration", "7:30", "unit"},
	} {
		t.Run(c.kind+" "+c.text, func(t *testing.T) {
			q, err := parse(c.kind, c.text)
			require.Error(t, err)
			if _, isTemp := q.(Temp); !isTemp {
				assert.Zero(t, Held(q))
			} else {
				assert.Equal(t, Temp{}, q)
			}
			assert.Contains(t, err.Error(), c.want)
			var wrong *Error
			assert.ErrorAs(t, err, &wrong)
		})
	}
}

// A value typed in the unit held comes back to the last digit, by text and by JSON.
func TestTextRoundTrip(t *testing.T) {
	for _, z := range zeros {
		info := Describe(z)
		for _, v := range []float64{0, 62.5, 24.5, 85, 0.1, 1.0 / 3, -7.25, 1e-9, 123456789.125, math.MaxFloat64} {
			text := fmt.Sprintf("%v %s", v, info.Held)
			q, err := parse(info.Name, text)
			require.NoError(t, err, text)
			assert.Equal(t, v, Held(q), text)
			back, err := q.MarshalText()
			require.NoError(t, err)
			again, err := parse(info.Name, string(back))
			require.NoError(t, err, string(back))
			assert.Equal(t, q, again)
		}
		for _, u := range info.Units {
			q, err := parse(info.Name, "62.3 "+u)
			require.NoError(t, err)
			got, ok := InUnit(q, u)
			require.True(t, ok)
			assert.InEpsilon(t, 62.3, got, 1e-14, "%s in %s", info.Name, u)
		}
		none, ok := InUnit(z, "cubit")
		assert.False(t, ok)
		assert.Zero(t, none)
	}
}

func TestNotANumberNeverLeaves(t *testing.T) {
	for _, q := range []Quantity{Mass(math.NaN()), Mass(math.Inf(1)), Percent(math.Inf(-1)), Celsius(math.NaN()), Celsius(math.Inf(1)), Celsius(math.Inf(-1)), Duration(math.NaN())} {
		_, err := q.MarshalText()
		assert.Error(t, err)
		_, err = q.AppendIn(nil, US)
		assert.Error(t, err)
		_, err = json.Marshal(q)
		assert.Error(t, err)
	}
}

func TestShownToPeople(t *testing.T) {
	for _, c := range []struct {
		q          Quantity
		metric, us string
	}{
		{Grams(85), "85 g", "2.998 oz"},
		{Ounces(3), "85.05 g", "3 oz"},
		{Kilograms(24.358209), "24.36 kg", "53.7 lb"},
		{Kilograms(123456.7), "123.5 t", "272175 lb"},
		{Grams(0), "0 g", "0 oz"},
		{Grams(0.25), "0.25 g", "0.008818 oz"},
		{Grams(0.05), "50 mg", "0.001764 oz"},
		{Kilograms(9999), "9999 kg", "22044 lb"},
		{Hours(71.5), "71 h 30 min", "71 h 30 min"},
		{Hours(168), "7 d", "7 d"},
		{Hours(76), "3 d 4 h", "3 d 4 h"},
		{Grams(-0.00001), "-0.01 mg", "-3.527e-07 oz"},
		{Grams(math.Copysign(0, -1)), "0 g", "0 oz"},
		{Mass(math.NaN()), "NaN g", "NaN oz"},
		{Mass(math.Inf(-1)), "-Inf t", "-Inf lb"},
		{Percent(1230), "1230 %", "1230 %"},
		{Percent(1e15), "1e+15 %", "1e+15 %"},
		{Percent(9.99e14), "999000000000000 %", "999000000000000 %"},
		{Percent(1e-6), "0.000001 %", "0.000001 %"},
		{Percent(9.99e-7), "9.99e-07 %", "9.99e-07 %"},
		{Hours(72), "3 d", "3 d"},
		{Seconds(10.05), "10 s", "10 s"},
		{Seconds(9.95), "9.95 s", "9.95 s"},
		{Seconds(1e15), "1e+15 s", "1e+15 s"},
		{Seconds(9.99e14), "11562500000 d", "11562500000 d"}, // 86400 s each
		{Duration(math.NaN()), "NaN s", "NaN s"},
		{Duration(math.Inf(1)), "+Inf s", "+Inf s"},
		{Millimetres(7.62), "7.62 mm", "0.3 in"},
		{Fahrenheit(78), "25.6 °C", "78 °F"},
		{Celsius(-0.01), "0 °C", "32 °F"},
		{CelsiusDegrees(5), "5 C°", "9 F°"},
		{Temp{}, "not given", "not given"},
		{Percent(12.345), "12.35 %", "12.35 %"},
		{Seconds(450), "7 min 30 s", "7 min 30 s"},
		{Seconds(3600), "1 h", "1 h"},
		{Seconds(7.25), "7.25 s", "7.25 s"},
		{Seconds(-90), "-1 min 30 s", "-1 min 30 s"},
		{MetresPerMinute(15), "15 m/min", "49.21 ft/min"},
	} {
		assert.Equal(t, c.metric, c.q.In(Metric))
		assert.Equal(t, c.metric, c.q.String())
		assert.Equal(t, c.us, c.q.In(US))
	}
}

func TestFahrenheitComesBack(t *testing.T) {
	for f := -40.0; f <= 250; f += 0.5 {
		assert.InDelta(t, f, Fahrenheit(f).Fahrenheit(), 1e-13)
	}
	assert.Equal(t, Celsius(100), Fahrenheit(212))
	assert.Equal(t, TempDelta(10), Celsius(30).Sub(Celsius(20)))
	assert.Equal(t, Celsius(30), Celsius(20).Add(10))
	assert.Equal(t, 300.15, Celsius(27).Kelvins())
	assert.True(t, Celsius(1).Less(Celsius(2)))
	assert.False(t, Celsius(2).Less(Celsius(2)))
	assert.False(t, Celsius(40).Less(Celsius(30)))
	assert.True(t, math.IsNaN(Temp{}.Celsius()))
	assert.False(t, Temp{}.Given())
	assert.Empty(t, cmp.Diff(Celsius(4), Celsius(4)))
	text, err := Temp{}.MarshalText()
	require.NoError(t, err)
	assert.Empty(t, text)
	left := Celsius(4)
	require.NoError(t, left.UnmarshalText(text))
	assert.Equal(t, Temp{}, left)
}

// One formula sheet, as JSON, with map keys and flags in mind.
func TestJSON(t *testing.T) {
	type sheet struct {
		Dough Mass             `json:"dough"`
		Room  Temp             `json:"room"`
		Stay  map[Mass]Percent `json:"stay"`
	}
	var s sheet
	require.NoError(t, json.Unmarshal([]byte(`{"dough":"2 lb 8 oz","room":"75 F","stay":{"85 g":"12 %"}}`), &s))
	assert.Equal(t, sheet{Dough: Pounds(2.5), Room: Fahrenheit(75), Stay: map[Mass]Percent{85: 12}}, s)
	out, err := json.Marshal(s)
	require.NoError(t, err)
	assert.JSONEq(t, `{"dough":"1133.980925 g","room":"23.88888888888889 °C","stay":{"85 g":"12 %"}}`, string(out))
	assert.Error(t, json.Unmarshal([]byte(`{"dough":85}`), &s), "a bare number is never guessed")
	before := s
	assert.Error(t, json.Unmarshal([]byte(`{"dough":"85"}`), &s))
	assert.Equal(t, before, s, "a refused text leaves the value alone")
}

func TestDurationBridge(t *testing.T) {
	assert.Equal(t, Minutes(7.5), DurationOf(7*time.Minute+30*time.Second))
	d, ok := Minutes(7.5).Std()
	assert.True(t, ok)
	assert.Equal(t, 7*time.Minute+30*time.Second, d)
	// The longest is 2^63-1 ns, and the numbers of seconds next to it lie 1907 ns apart.
	d, ok = Duration(9223372036.854774).Std()
	assert.True(t, ok)
	assert.InDelta(t, float64(math.MaxInt64), float64(d), 4000)
	for _, bad := range []Duration{9223372036.854776, -9223372036.854776, Duration(math.NaN()), Duration(math.Inf(1)), Hours(1e10)} {
		d, ok := bad.Std()
		assert.False(t, ok)
		assert.Zero(t, d)
	}
}

func TestUnitSystem(t *testing.T) {
	for _, s := range []System{Metric, US} {
		text, err := s.MarshalText()
		require.NoError(t, err)
		back := System(9)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, s, back)
	}
	var s System
	assert.Error(t, s.UnmarshalText([]byte("imperial")))
}

// A text that is repeated in an error is cut where a person stops reading, and not within a letter.
func TestClip(t *testing.T) {
	for n, want := range map[int]string{64: strings.Repeat("x", 64), 65: strings.Repeat("x", 64) + "…"} {
		assert.Equal(t, want, Clip(strings.Repeat("x", n)))
	}
	assert.Equal(t, strings.Repeat("x", 63)+"…", Clip(strings.Repeat("x", 63)+"°C"))
}

// A quantity that a person reads has every digit when a program reads it.
func TestAppendIn(t *testing.T) {
	for _, z := range zeros {
		for _, s := range []System{Metric, US} {
			b, err := z.AppendIn([]byte("x"), s)
			require.NoError(t, err)
			_, err = parse(Describe(z).Name, string(b[1:]))
			assert.NoError(t, err)
		}
	}
	b, err := Fahrenheit(78).AppendIn(nil, US)
	require.NoError(t, err)
	assert.Equal(t, "78 °F", string(b))
	_, isAppender := Quantity(Mass(1)).(encoding.TextAppender)
	assert.True(t, isAppender)
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"85 g", "2 lb 8 oz", "24 °C", "7 min 30 s", "-1e-3 kg", "1 h 30", "62.5 %", "9 F°", "1 kg/m3 2", "− 4 g"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, z := range zeros {
			q, err := parse(Describe(z).Name, s)
			if err != nil {
				continue
			}
			out, err := q.MarshalText()
			if err != nil {
				t.Fatalf("%q was read but cannot be written: %v", s, err)
			}
			again, err := parse(Describe(z).Name, string(out))
			if err != nil || again != q {
				t.Fatalf("%q came back as %q (%v)", s, out, err)
			}
		}
	})
}

func BenchmarkParseMass(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseMass("2 lb 8 oz"); err != nil {
			b.Fatal(err)
		}
	}
}
