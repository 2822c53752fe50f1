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

// targetRow is what is usual, with its origin beside it.
type targetRow struct {
	low, high unit.Temp
	source    string
	memory    bool
}

// target returns the usual temperatures of a dough type.
func (d DoughType) target() targetRow {
	const recalled = "common practice, recalled"
	switch d {
	case BakeryDough:
		return targetRow{unit.Celsius(23), unit.Celsius(30), "bakemag, The science of fermentation", false}
	case StraightDough:
		return targetRow{unit.Fahrenheit(78), unit.Fahrenheit(78), "J. E. Wihlfahrt, A Treatise on Baking", false}
	case HearthDough:
		return targetRow{unit.Fahrenheit(75), unit.Fahrenheit(75), "San Francisco Baking Institute, Artisan I (2009)", false}
	case PizzaDough:
		return targetRow{unit.Fahrenheit(80), unit.Fahrenheit(85), "T. Lehmann, Pizza Today, June 2018", false}
	case PanDough, SweetDough:
		return targetRow{unit.Celsius(26), unit.Celsius(28), recalled, true}
	case RyeSourDough:
		return targetRow{unit.Celsius(28), unit.Celsius(31), recalled, true}
	case LayeredDough:
		return targetRow{unit.Celsius(18), unit.Celsius(22), recalled, true}
	}
	return targetRow{}
}

// TargetTemperature asks what temperature is usual for a type of dough:
//
//	T_d = (T_low + T_high) / 2
//
// It is a place to start, not a rule: fermentation time, flour and the make-up
// line decide, and a formula that names its dough temperature is right. A
// figure that was recalled and not seen in a source says so.
//
// Source: J. E. Wihlfahrt, A Treatise on Baking; San Francisco Baking Institute, Artisan I; T. Lehmann, Pizza Today,
// June 2018; bakemag, The science of fermentation; the rest common practice, recalled; cases in testdata/cases/doughmath/target-temperature.json.
//
// [WaterTemperature] goes on to the water.
type TargetTemperature struct {
	DoughType DoughType `json:"dough_type"` // "bakery-dough", "straight-dough", "hearth-dough", "pizza-dough", "pan-dough", "sweet-dough", "rye-sour-dough" or "layered-dough"
}

// TargetTemperatureResult is where to start.
type TargetTemperatureResult struct {
	Low        unit.Temp  `json:"low" sym:"T_low"`       // lower end of what is usual
	High       unit.Temp  `json:"high" sym:"T_high"`     // upper end; the same if the source names one figure
	TargetTemp unit.Temp  `json:"target_temp" sym:"T_d"` // the middle, to start from
	Source     string     `json:"source"`                // on whose authority
	Conditions Conditions `json:"conditions"`            // from-memory
}

func (TargetTemperature) ID() string { return "target-temperature" }

func (q TargetTemperature) Check(c *reckon.Checks) {
	reckon.CheckWord(c, "dough_type", q.DoughType, BakeryDough, StraightDough, HearthDough, PizzaDough, PanDough, SweetDough, RyeSourDough, LayeredDough)
}

func (q TargetTemperature) Solve() (out TargetTemperatureResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	row := q.DoughType.target()
	out.Low, out.High, out.Source = row.low, row.high, row.source
	out.TargetTemp = unit.Celsius((row.low.Celsius() + row.high.Celsius()) / 2)
	if row.memory {
		out.Conditions = reckon.FromMemory
	}
	return out, nil
}

func (q TargetTemperature) Show(w *reckon.Working, out TargetTemperatureResult) {
	w.Given("lower end of what is usual", "T_low", out.Low.Celsius(), "°C", out.Source)
	w.Given("upper end", "T_high", out.High.Celsius(), "°C", out.Source)
	w.Lines(out, "dough temperature to start from: T_d = (T_low + T_high) / 2")
}
