package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DoughType names a dough for which a target temperature is usual.
type DoughType string

// The dough types, as the sources behind their temperatures name them.
const (
	BakeryDough   DoughType = "bakery-dough"   // any usual dough: the range that bakeries work in
	StraightDough DoughType = "straight-dough" // straight bread dough, mixed slowly
	HearthDough   DoughType = "hearth-dough"   // lean hand-made hearth bread
	PizzaDough    DoughType = "pizza-dough"    // pizza dough from a strong mixer
	PanDough      DoughType = "pan-dough"      // pan bread and rolls on a make-up line
	SweetDough    DoughType = "sweet-dough"    // sweet and enriched yeast dough
	RyeSourDough  DoughType = "rye-sour-dough" // rye dough with sour
	LayeredDough  DoughType = "layered-dough"  // yeast dough to be layered with fat
)

// dough temperature targets, with their origin beside them.
type targetRow struct {
	low, high unit.Temp
	source    string
	memory    bool
}

// target returns the usual temperatures of a dough type.
func (d DoughType) target() (targetRow, bool) {
	const recalled = "common practice, recalled"
	switch d {
	case BakeryDough:
		return targetRow{unit.Celsius(23), unit.Celsius(30), "bakemag, The science of fermentation", false}, true
	case StraightDough:
		return targetRow{unit.Fahrenheit(78), unit.Fahrenheit(78), "J. E. Wihlfahrt, A Treatise on Baking", false}, true
	case HearthDough:
		return targetRow{unit.Fahrenheit(75), unit.Fahrenheit(75), "San Francisco Baking Institute, Artisan I (2009)", false}, true
	case PizzaDough:
		return targetRow{unit.Fahrenheit(80), unit.Fahrenheit(85), "T. Lehmann, Pizza Today, June 2018", false}, true
	case PanDough, SweetDough:
		return targetRow{unit.Celsius(26), unit.Celsius(28), recalled, true}, true
	case RyeSourDough:
		return targetRow{unit.Celsius(28), unit.Celsius(31), recalled, true}, true
	case LayeredDough:
		return targetRow{unit.Celsius(18), unit.Celsius(22), recalled, true}, true
	}
	return targetRow{}, false
}

// TargetTemperature returns the dough temperature that is usual for a type of dough:
//
//	T_d = (T_low + T_high) / 2
//
// It is a place to start, not a rule: fermentation time, flour and the make-up
// line decide, and a formula that names its dough temperature is right. A
// figure that was recalled and not seen in a source says so.
//
// It returns an *[reckon.InputError] if:
//   - the dough type is not one of those named.
//
// Source: J. E. Wihlfahrt, A Treatise on Baking; San Francisco Baking Institute, Artisan I; T. Lehmann, Pizza Today,
// June 2018; bakemag, The science of fermentation; the rest common practice, recalled; cases in testdata/cases/doughmath/target-temperature.json.
//
// [WaterTemperature] goes on to the water.
type TargetTemperature struct {
	Dough DoughType `json:"dough"` // "bakery-dough", "straight-dough", "hearth-dough", "pizza-dough", "pan-dough", "sweet-dough", "rye-sour-dough" or "layered-dough"
}

func (TargetTemperature) ID() string { return "target-temperature" }

// SHELL
func (q TargetTemperature) Check(c *reckon.Checks) {
	_, err := explainTargetTemperature(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TargetTemperature) Solve() (TargetTemperatureResult, error) {
	return explainTargetTemperature(q, nil)
}

func (q TargetTemperature) Show(w *reckon.Working, _ TargetTemperatureResult) {
	_, _ = explainTargetTemperature(q, w)
}

// TargetTemperatureResult is where to start.
type TargetTemperatureResult struct {
	Low        unit.Temp  `json:"low"`        // lower end of what is usual
	High       unit.Temp  `json:"high"`       // upper end; the same if the source names one figure
	Target     unit.Temp  `json:"target"`     // the middle, to start from
	Origin     string     `json:"origin"`     // on whose authority
	Conditions Conditions `json:"conditions"` // from-memory
}

func explainTargetTemperature(in TargetTemperature, w *reckon.Working) (out TargetTemperatureResult, err error) {
	row, known := in.Dough.target()
	if !known {
		c := reckon.Checks{Func: "target-temperature"}
		reckon.CheckWord(&c, "dough", in.Dough, BakeryDough, StraightDough, HearthDough, PizzaDough, PanDough, SweetDough, RyeSourDough, LayeredDough)
		return TargetTemperatureResult{}, c.Err()
	}
	out = TargetTemperatureResult{Low: row.low, High: row.high, Target: unit.Celsius((row.low.Celsius() + row.high.Celsius()) / 2), Origin: row.source}
	if row.memory {
		out.Conditions = reckon.FromMemory
	}
	if w != nil {
		w.Given("lower end of what is usual", "T_low", row.low.Celsius(), "°C", row.source)
		w.Given("upper end", "T_high", row.high.Celsius(), "°C", row.source)
		w.Step("dough temperature to start from", "T_d", "(T_low + T_high) / 2", out.Target.Celsius(), "°C", "")
	}
	return out, nil
}
