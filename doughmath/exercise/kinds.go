package exercise

import (
	"strings"

	"example.com/dough/doughmath/unit"
)

// kinds is the zero of every quantity that an answer may turn out to be. Where
// two are written in the same unit, the commoner stands first.
var kinds = []unit.Quantity{
	unit.Mass(0),
	unit.Temp{},
	unit.Duration(0), unit.Length(0), unit.Percent(0), unit.TempDelta(0), unit.Speed(0), unit.PieceRate(0), unit.StrokeRate(0),
	unit.MassRate(0), unit.Volume(0), unit.VolumeRate(0), unit.Density(0), unit.Pressure(0), unit.Energy(0), unit.SpecificEnergy(0), unit.SpecificHeat(0),
	unit.Power(0), unit.RotationRate(0), unit.TrayRate(0), unit.GrowthRate(0), unit.SpecificVolume(0), unit.HeatTransfer(0), unit.Concentration(0), unit.BakersPercent(0),
}

// kindNames is what a quantity is called to a student, where its name says less.
var kindNames = map[string]string{
	"mass": "weight", "duration": "time", "percent": "percentage", "baker's percent": "percentage", "mass rate": "flow of dough or flour", "volume rate": "flow of a liquid",
	"piece rate": "rate of pieces", "stroke rate": "speed in strokes", "rotation rate": "speed in turns",
}

func kindName(name string) string {
	if better, ok := kindNames[name]; ok {
		return better
	}
	return name
}

// kindOf returns the zero of the quantity that the text is written in the unit
// of, or nil if it is none.
func kindOf(text string) unit.Quantity {
	for _, zero := range kinds {
		if _, err := unit.Parse(zero, text); err == nil {
			return zero
		}
	}
	return nil
}

// kindOfHeld returns the zero of the quantity that is held in the unit, or nil.
func kindOfHeld(symbol string) unit.Quantity {
	if symbol == "" || strings.ContainsRune(symbol, '³') {
		return nil
	}
	for _, zero := range kinds {
		if unit.Describe(zero).Held == symbol {
			return zero
		}
	}
	return nil
}
