package exercise

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/unit"
)

// A rung of a scale: a value of from and more, in the unit held, is given in
// this unit, in steps of so much.
type rung struct {
	from float64
	unit string
	step float64
}

// instruments is what a shop reads its quantities from, by kind of quantity and
// unit system: a thermometer of half a degree, a scale whose division grows
// with what lies on it, a speed in whole strokes. They are common practice.
var instruments = map[string][2][]rung{
	"mass": {
		{{0, "g", 0.005}, {1, "g", 0.05}, {10, "g", 0.5}, {50, "g", 1}, {300, "g", 5}, {1000, "kg", 0.05}, {10_000, "kg", 0.5}, {100_000, "kg", 1}},
		{{0, "oz", 0.0005}, {1, "oz", 0.005}, {10, "oz", 0.05}, {50, "oz", 0.1}, {453, "lb", 0.05}, {4536, "lb", 0.5}, {22_680, "lb", 1}},
	},
	"length": {
		{{0, "mm", 0.05}, {5, "mm", 0.1}, {20, "mm", 1}, {200, "mm", 5}, {3000, "m", 0.1}, {100_000, "m", 10}},
		{{0, "in", 0.005}, {5, "in", 0.01}, {20, "in", 0.05}, {150, "in", 0.25}, {3048, "ft", 0.5}, {30_480, "ft", 50}},
	},
	"volume": {
		{{0, "ml", 0.05}, {10, "ml", 1}, {100, "ml", 5}, {1000, "l", 0.1}},
		{{0, "US fl oz", 0.005}, {10, "US fl oz", 0.05}, {100, "US fl oz", 0.25}, {3785, "US gal", 0.05}},
	},
	"duration": {
		{{0, "ms", 5}, {0.5, "s", 0.05}, {3, "s", 0.1}, {10, "s", 1}, {120, "min", 0.5}, {600, "min", 1}, {7200, "h", 0.25}},
		{{0, "ms", 5}, {0.5, "s", 0.05}, {3, "s", 0.1}, {10, "s", 1}, {120, "min", 0.5}, {600, "min", 1}, {7200, "h", 0.25}},
	},
	"temperature":            {{{0, "°C", 0.5}}, {{0, "°F", 1}}},
	"temperature difference": {{{0, "C°", 0.5}}, {{0, "F°", 1}}},
	"density":                {{{0, "g/ml", 0.01}}, {{0, "lb/ft3", 0.5}}},
	"speed":                  {{{0, "m/min", 0.5}}, {{0, "ft/min", 1}}},
	"energy":                 {{{0, "kJ", 10}}, {{0, "Btu", 10}}},
	"specific heat":          {{{0, "kJ/(kg K)", 0.05}}, {{0, "Btu/(lb °F)", 0.01}}},
	"specific energy":        {{{0, "kJ/kg", 0.1}, {20, "kJ/kg", 1}, {1000, "kJ/kg", 10}}, {{0, "Btu/lb", 0.1}, {20, "Btu/lb", 1}, {1000, "Btu/lb", 5}}},
	"power":                  {{{0, "kW", 0.5}}, {{0, "hp", 0.5}}},
	"specific volume":        {{{0, "ml/g", 0.01}}, {{0, "ft3/lb", 0.0005}}},
	"heat transfer":          {{{0, "W/(m2 K)", 10}}, {{0, "Btu/(h ft2 °F)", 2}}},
	"concentration":          {{{0, "mg/m3", 0.5}}, {{0, "mg/m3", 0.5}}},
	"growth rate":            {{{0, "%/min", 0.01}}, {{0, "%/min", 0.01}}},
	"tray rate":              {{{0, "trays/min", 1}}, {{0, "trays/min", 1}}},
	"pressure":               {{{0, "kPa", 0.1}, {20, "kPa", 0.5}, {150, "kPa", 5}}, {{0, "psi", 0.02}, {20, "psi", 0.1}, {150, "psi", 0.5}}},
	"mass rate":              {{{0, "kg/h", 0.02}, {2, "kg/h", 0.1}, {20, "kg/h", 1}, {100, "kg/h", 5}}, {{0, "lb/h", 0.05}, {2, "lb/h", 0.2}, {20, "lb/h", 1}, {100, "lb/h", 10}}},
	"volume rate":            {{{0, "ml/min", 0.5}, {20, "ml/min", 1}}, {{0, "US fl oz/h", 0.5}, {20, "US fl oz/h", 1}}},
	"piece rate":             {{{0, "pieces/min", 1}}, {{0, "pieces/min", 1}}},
	"stroke rate":            {{{0, "strokes/min", 1}}, {{0, "strokes/min", 1}}},
	"rotation rate":          {{{0, "rev/min", 1}}, {{0, "rev/min", 1}}},
	"percent":                {{{0, "%", 0.005}, {0.1, "%", 0.05}, {0.5, "%", 0.1}, {5, "%", 0.5}, {20, "%", 1}}, {{0, "%", 0.005}, {0.1, "%", 0.05}, {0.5, "%", 0.1}, {5, "%", 0.5}, {20, "%", 1}}},
	"baker's percent":        {{{0, "%", 0.1}, {5, "%", 0.5}, {20, "%", 1}}, {{0, "%", 0.1}, {5, "%", 0.5}, {20, "%", 1}}},
}

// numberSteps are for plain numbers, wholeSteps for what is counted.
var (
	numberSteps = []rung{{0, "", 0.005}, {0.5, "", 0.05}, {10, "", 0.5}, {50, "", 1}, {1000, "", 50}}
	wholeSteps  = []rung{{0, "", 1}, {50, "", 5}, {200, "", 10}, {1000, "", 100}}
)

// instrument picks the rung for a value of this size.
func instrument(zero unit.Quantity, whole bool, held float64, system unit.System) rung {
	scale := numberSteps
	switch {
	case zero != nil:
		scale = instruments[unit.Describe(zero).Name][system]
	case whole:
		scale = wholeSteps
	}
	var out rung
	for i, r := range scale {
		if i == 0 || math.Abs(held) >= r.from {
			out = r
		}
	}
	return out
}

// finest is the finest step that an answer is asked to, by its unit, where
// three figures would be finer than anybody reads or coarser than is read.
var finest = map[string]float64{
	"°C": 0.5, "°F": 1, "C°": 0.5, "F°": 1,
	"kg": 0.01, "strokes/min": 0.1, "pieces/min": 0.1, "rev/min": 0.1, "trays/min": 0.1, "min": 0.1,
}

// smallDelta is the difference of temperatures, in the unit shown, below which
// it is asked to a tenth.
const smallDelta = 10

// askedStep is the step to which an answer of this size, in the unit shown, is
// asked: three figures, and no finer than is read.
func askedStep(shown float64, symbol string) float64 {
	switch symbol {
	case "°C", "°F":
		return finest[symbol]
	case "C°", "F°":
		if math.Abs(shown) >= smallDelta {
			return finest[symbol]
		}
		return 0.1
	}
	return max(powerOfTen(exponent(shown)-2), finest[symbol])
}

// exponent is the power of ten of the first figure of v. It goes by the
// decimal text, which is the same on every processor.
func exponent(v float64) int {
	text := strconv.FormatFloat(math.Abs(v), 'e', 2, 64)
	n, _ := strconv.Atoi(text[len("1.00e"):]) // FormatFloat has written it
	return n
}

func powerOfTen(n int) float64 {
	v, _ := strconv.ParseFloat("1e"+strconv.Itoa(n), 64) // exact to the last bit, unlike a power computed
	return v
}

// decimalsOf counts the decimals that multiples of the step have.
func decimalsOf(step float64) int {
	text := strconv.FormatFloat(step, 'f', -1, 64)
	for i := range text {
		if text[i] == '.' {
			return len(text) - i - 1
		}
	}
	return 0
}

// atSteps writes v to the nearest step.
func atSteps(v, step float64) string {
	text := strconv.FormatFloat(float64(math.Round(v/step)*step), 'f', decimalsOf(step), 64)
	if zero, err := strconv.ParseFloat(text, 64); err == nil && zero == 0 && text[0] == '-' {
		return text[1:]
	}
	return text
}
