// Code generated from the table in generate_test.go; DO NOT EDIT.

package unit

// Mass is held in grams; weight as the trade says.
type Mass float64

// Grams returns v g as a Mass.
func Grams(v float64) Mass { return Mass(v) }

// Grams returns the value in g.
func (x Mass) Grams() float64 { return float64(x) }

// Kilograms returns v kg as a Mass.
func Kilograms(v float64) Mass { return Mass(v * 1000) }

// Kilograms returns the value in kg.
func (x Mass) Kilograms() float64 { return float64(x) / 1000 }

// Ounces returns v oz as a Mass.
func Ounces(v float64) Mass { return Mass(float64(v*gramsPerPound) / ouncesPerPound) }

// Ounces returns the value in oz.
func (x Mass) Ounces() float64 { return float64(float64(x)*ouncesPerPound) / gramsPerPound }

// Pounds returns v lb as a Mass.
func Pounds(v float64) Mass { return Mass(v * gramsPerPound) }

// Pounds returns the value in lb.
func (x Mass) Pounds() float64 { return float64(x) / gramsPerPound }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Mass) String() string { return massDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Mass) In(sys System) string { return massDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Mass) AppendIn(b []byte, sys System) ([]byte, error) {
	return massDim.appendIn(b, float64(x), massDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Mass) AppendText(b []byte) ([]byte, error) { return massDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Mass) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Mass) UnmarshalText(text []byte) error { return read(x, text, ParseMass) }

// ParseMass reads a number with a unit, or returns an [Error] that lists the units.
func ParseMass(text string) (Mass, error) {
	v, err := massDim.parse(text)
	return Mass(v), err
}

func (x Mass) dimension() *dimension { return massDim }
func (x Mass) held() float64         { return float64(x) }

// Length is held in millimetres.
type Length float64

// Millimetres returns v mm as a Length.
func Millimetres(v float64) Length { return Length(v) }

// Millimetres returns the value in mm.
func (x Length) Millimetres() float64 { return float64(x) }

// Centimetres returns v cm as a Length.
func Centimetres(v float64) Length { return Length(v * 10) }

// Centimetres returns the value in cm.
func (x Length) Centimetres() float64 { return float64(x) / 10 }

// Metres returns v m as a Length.
func Metres(v float64) Length { return Length(v * 1000) }

// Metres returns the value in m.
func (x Length) Metres() float64 { return float64(x) / 1000 }

// Inches returns v in as a Length.
func Inches(v float64) Length { return Length(v * mmPerInch) }

// Inches returns the value in in.
func (x Length) Inches() float64 { return float64(x) / mmPerInch }

// Feet returns v ft as a Length.
func Feet(v float64) Length { return Length(v * 304.8) }

// Feet returns the value in ft.
func (x Length) Feet() float64 { return float64(x) / 304.8 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Length) String() string { return lengthDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Length) In(sys System) string { return lengthDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Length) AppendIn(b []byte, sys System) ([]byte, error) {
	return lengthDim.appendIn(b, float64(x), lengthDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Length) AppendText(b []byte) ([]byte, error) { return lengthDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Length) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Length) UnmarshalText(text []byte) error { return read(x, text, ParseLength) }

// ParseLength reads a number with a unit, or returns an [Error] that lists the units.
func ParseLength(text string) (Length, error) {
	v, err := lengthDim.parse(text)
	return Length(v), err
}

func (x Length) dimension() *dimension { return lengthDim }
func (x Length) held() float64         { return float64(x) }

// Volume is held in millilitres.
type Volume float64

// Millilitres returns v ml as a Volume.
func Millilitres(v float64) Volume { return Volume(v) }

// Millilitres returns the value in ml.
func (x Volume) Millilitres() float64 { return float64(x) }

// Litres returns v l as a Volume.
func Litres(v float64) Volume { return Volume(v * 1000) }

// Litres returns the value in l.
func (x Volume) Litres() float64 { return float64(x) / 1000 }

// USGallons returns v US gal as a Volume.
func USGallons(v float64) Volume { return Volume(v * mlPerUSGallon) }

// USGallons returns the value in US gal.
func (x Volume) USGallons() float64 { return float64(x) / mlPerUSGallon }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Volume) String() string { return volumeDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Volume) In(sys System) string { return volumeDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Volume) AppendIn(b []byte, sys System) ([]byte, error) {
	return volumeDim.appendIn(b, float64(x), volumeDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Volume) AppendText(b []byte) ([]byte, error) { return volumeDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Volume) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Volume) UnmarshalText(text []byte) error { return read(x, text, ParseVolume) }

// ParseVolume reads a number with a unit, or returns an [Error] that lists the units.
func ParseVolume(text string) (Volume, error) {
	v, err := volumeDim.parse(text)
	return Volume(v), err
}

func (x Volume) dimension() *dimension { return volumeDim }
func (x Volume) held() float64         { return float64(x) }

// Density is held in grams per millilitre.
type Density float64

// GramsPerMillilitre returns v g/ml as a Density.
func GramsPerMillilitre(v float64) Density { return Density(v) }

// GramsPerMillilitre returns the value in g/ml.
func (x Density) GramsPerMillilitre() float64 { return float64(x) }

// KilogramsPerCubicMetre returns v kg/m3 as a Density.
func KilogramsPerCubicMetre(v float64) Density { return Density(v / 1000) }

// KilogramsPerCubicMetre returns the value in kg/m3.
func (x Density) KilogramsPerCubicMetre() float64 { return float64(x) * 1000 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Density) String() string { return densityDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Density) In(sys System) string { return densityDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Density) AppendIn(b []byte, sys System) ([]byte, error) {
	return densityDim.appendIn(b, float64(x), densityDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Density) AppendText(b []byte) ([]byte, error) { return densityDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Density) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Density) UnmarshalText(text []byte) error { return read(x, text, ParseDensity) }

// ParseDensity reads a number with a unit, or returns an [Error] that lists the units.
func ParseDensity(text string) (Density, error) {
	v, err := densityDim.parse(text)
	return Density(v), err
}

func (x Density) dimension() *dimension { return densityDim }
func (x Density) held() float64         { return float64(x) }

// Speed is held in millimetres per second.
type Speed float64

// MillimetresPerSecond returns v mm/s as a Speed.
func MillimetresPerSecond(v float64) Speed { return Speed(v) }

// MillimetresPerSecond returns the value in mm/s.
func (x Speed) MillimetresPerSecond() float64 { return float64(x) }

// MetresPerMinute returns v m/min as a Speed.
func MetresPerMinute(v float64) Speed { return Speed(float64(v*1000) / 60) }

// MetresPerMinute returns the value in m/min.
func (x Speed) MetresPerMinute() float64 { return float64(float64(x)*60) / 1000 }

// FeetPerMinute returns v ft/min as a Speed.
func FeetPerMinute(v float64) Speed { return Speed(float64(v*304.8) / 60) }

// FeetPerMinute returns the value in ft/min.
func (x Speed) FeetPerMinute() float64 { return float64(float64(x)*60) / 304.8 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Speed) String() string { return speedDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Speed) In(sys System) string { return speedDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Speed) AppendIn(b []byte, sys System) ([]byte, error) {
	return speedDim.appendIn(b, float64(x), speedDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Speed) AppendText(b []byte) ([]byte, error) { return speedDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Speed) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Speed) UnmarshalText(text []byte) error { return read(x, text, ParseSpeed) }

// ParseSpeed reads a number with a unit, or returns an [Error] that lists the units.
func ParseSpeed(text string) (Speed, error) {
	v, err := speedDim.parse(text)
	return Speed(v), err
}

func (x Speed) dimension() *dimension { return speedDim }
func (x Speed) held() float64         { return float64(x) }

// Energy is held in kilojoules.
type Energy float64

// Kilojoules returns v kJ as a Energy.
func Kilojoules(v float64) Energy { return Energy(v) }

// Kilojoules returns the value in kJ.
func (x Energy) Kilojoules() float64 { return float64(x) }

// WattHours returns v Wh as a Energy.
func WattHours(v float64) Energy { return Energy(v * 3.6) }

// WattHours returns the value in Wh.
func (x Energy) WattHours() float64 { return float64(x) / 3.6 }

// BTU returns v Btu as a Energy.
func BTU(v float64) Energy { return Energy(v * kJPerBtu) }

// BTU returns the value in Btu.
func (x Energy) BTU() float64 { return float64(x) / kJPerBtu }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Energy) String() string { return energyDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Energy) In(sys System) string { return energyDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Energy) AppendIn(b []byte, sys System) ([]byte, error) {
	return energyDim.appendIn(b, float64(x), energyDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Energy) AppendText(b []byte) ([]byte, error) { return energyDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Energy) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Energy) UnmarshalText(text []byte) error { return read(x, text, ParseEnergy) }

// ParseEnergy reads a number with a unit, or returns an [Error] that lists the units.
func ParseEnergy(text string) (Energy, error) {
	v, err := energyDim.parse(text)
	return Energy(v), err
}

func (x Energy) dimension() *dimension { return energyDim }
func (x Energy) held() float64         { return float64(x) }

// SpecificHeat is held in kilojoules per kilogram and kelvin.
type SpecificHeat float64

// KilojoulesPerKilogramKelvin returns v kJ/(kg K) as a SpecificHeat.
func KilojoulesPerKilogramKelvin(v float64) SpecificHeat { return SpecificHeat(v) }

// KilojoulesPerKilogramKelvin returns the value in kJ/(kg K).
func (x SpecificHeat) KilojoulesPerKilogramKelvin() float64 { return float64(x) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x SpecificHeat) String() string { return specificHeatDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x SpecificHeat) In(sys System) string { return specificHeatDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x SpecificHeat) AppendIn(b []byte, sys System) ([]byte, error) {
	return specificHeatDim.appendIn(b, float64(x), specificHeatDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x SpecificHeat) AppendText(b []byte) ([]byte, error) {
	return specificHeatDim.append(b, float64(x))
}

// MarshalText writes every digit and the unit held.
func (x SpecificHeat) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *SpecificHeat) UnmarshalText(text []byte) error { return read(x, text, ParseSpecificHeat) }

// ParseSpecificHeat reads a number with a unit, or returns an [Error] that lists the units.
func ParseSpecificHeat(text string) (SpecificHeat, error) {
	v, err := specificHeatDim.parse(text)
	return SpecificHeat(v), err
}

func (x SpecificHeat) dimension() *dimension { return specificHeatDim }
func (x SpecificHeat) held() float64         { return float64(x) }

// SpecificEnergy is held in kilojoules per kilogram.
type SpecificEnergy float64

// KilojoulesPerKilogram returns v kJ/kg as a SpecificEnergy.
func KilojoulesPerKilogram(v float64) SpecificEnergy { return SpecificEnergy(v) }

// KilojoulesPerKilogram returns the value in kJ/kg.
func (x SpecificEnergy) KilojoulesPerKilogram() float64 { return float64(x) }

// WattHoursPerKilogram returns v Wh/kg as a SpecificEnergy.
func WattHoursPerKilogram(v float64) SpecificEnergy { return SpecificEnergy(v * 3.6) }

// WattHoursPerKilogram returns the value in Wh/kg.
func (x SpecificEnergy) WattHoursPerKilogram() float64 { return float64(x) / 3.6 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x SpecificEnergy) String() string { return specificEnergyDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x SpecificEnergy) In(sys System) string { return specificEnergyDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x SpecificEnergy) AppendIn(b []byte, sys System) ([]byte, error) {
	return specificEnergyDim.appendIn(b, float64(x), specificEnergyDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x SpecificEnergy) AppendText(b []byte) ([]byte, error) {
	return specificEnergyDim.append(b, float64(x))
}

// MarshalText writes every digit and the unit held.
func (x SpecificEnergy) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *SpecificEnergy) UnmarshalText(text []byte) error { return read(x, text, ParseSpecificEnergy) }

// ParseSpecificEnergy reads a number with a unit, or returns an [Error] that lists the units.
func ParseSpecificEnergy(text string) (SpecificEnergy, error) {
	v, err := specificEnergyDim.parse(text)
	return SpecificEnergy(v), err
}

func (x SpecificEnergy) dimension() *dimension { return specificEnergyDim }
func (x SpecificEnergy) held() float64         { return float64(x) }

// SpecificVolume is held in millilitres per gram.
type SpecificVolume float64

// MillilitresPerGram returns v ml/g as a SpecificVolume.
func MillilitresPerGram(v float64) SpecificVolume { return SpecificVolume(v) }

// MillilitresPerGram returns the value in ml/g.
func (x SpecificVolume) MillilitresPerGram() float64 { return float64(x) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x SpecificVolume) String() string { return specificVolumeDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x SpecificVolume) In(sys System) string { return specificVolumeDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x SpecificVolume) AppendIn(b []byte, sys System) ([]byte, error) {
	return specificVolumeDim.appendIn(b, float64(x), specificVolumeDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x SpecificVolume) AppendText(b []byte) ([]byte, error) {
	return specificVolumeDim.append(b, float64(x))
}

// MarshalText writes every digit and the unit held.
func (x SpecificVolume) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *SpecificVolume) UnmarshalText(text []byte) error { return read(x, text, ParseSpecificVolume) }

// ParseSpecificVolume reads a number with a unit, or returns an [Error] that lists the units.
func ParseSpecificVolume(text string) (SpecificVolume, error) {
	v, err := specificVolumeDim.parse(text)
	return SpecificVolume(v), err
}

func (x SpecificVolume) dimension() *dimension { return specificVolumeDim }
func (x SpecificVolume) held() float64         { return float64(x) }

// HeatTransfer is held in watts per square metre and kelvin.
type HeatTransfer float64

// WattsPerSquareMetreKelvin returns v W/(m2 K) as a HeatTransfer.
func WattsPerSquareMetreKelvin(v float64) HeatTransfer { return HeatTransfer(v) }

// WattsPerSquareMetreKelvin returns the value in W/(m2 K).
func (x HeatTransfer) WattsPerSquareMetreKelvin() float64 { return float64(x) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x HeatTransfer) String() string { return heatTransferDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x HeatTransfer) In(sys System) string { return heatTransferDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x HeatTransfer) AppendIn(b []byte, sys System) ([]byte, error) {
	return heatTransferDim.appendIn(b, float64(x), heatTransferDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x HeatTransfer) AppendText(b []byte) ([]byte, error) {
	return heatTransferDim.append(b, float64(x))
}

// MarshalText writes every digit and the unit held.
func (x HeatTransfer) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *HeatTransfer) UnmarshalText(text []byte) error { return read(x, text, ParseHeatTransfer) }

// ParseHeatTransfer reads a number with a unit, or returns an [Error] that lists the units.
func ParseHeatTransfer(text string) (HeatTransfer, error) {
	v, err := heatTransferDim.parse(text)
	return HeatTransfer(v), err
}

func (x HeatTransfer) dimension() *dimension { return heatTransferDim }
func (x HeatTransfer) held() float64         { return float64(x) }

// Concentration is held in milligrams per cubic metre.
type Concentration float64

// MilligramsPerCubicMetre returns v mg/m3 as a Concentration.
func MilligramsPerCubicMetre(v float64) Concentration { return Concentration(v) }

// MilligramsPerCubicMetre returns the value in mg/m3.
func (x Concentration) MilligramsPerCubicMetre() float64 { return float64(x) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Concentration) String() string { return concentrationDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Concentration) In(sys System) string { return concentrationDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Concentration) AppendIn(b []byte, sys System) ([]byte, error) {
	return concentrationDim.appendIn(b, float64(x), concentrationDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Concentration) AppendText(b []byte) ([]byte, error) {
	return concentrationDim.append(b, float64(x))
}

// MarshalText writes every digit and the unit held.
func (x Concentration) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Concentration) UnmarshalText(text []byte) error { return read(x, text, ParseConcentration) }

// ParseConcentration reads a number with a unit, or returns an [Error] that lists the units.
func ParseConcentration(text string) (Concentration, error) {
	v, err := concentrationDim.parse(text)
	return Concentration(v), err
}

func (x Concentration) dimension() *dimension { return concentrationDim }
func (x Concentration) held() float64         { return float64(x) }

// GrowthRate is held in percent of what it was at the start, a minute.
type GrowthRate float64

// PercentPerMinute returns v %/min as a GrowthRate.
func PercentPerMinute(v float64) GrowthRate { return GrowthRate(v) }

// PercentPerMinute returns the value in %/min.
func (x GrowthRate) PercentPerMinute() float64 { return float64(x) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x GrowthRate) String() string { return growthRateDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x GrowthRate) In(sys System) string { return growthRateDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x GrowthRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return growthRateDim.appendIn(b, float64(x), growthRateDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x GrowthRate) AppendText(b []byte) ([]byte, error) { return growthRateDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x GrowthRate) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *GrowthRate) UnmarshalText(text []byte) error { return read(x, text, ParseGrowthRate) }

// ParseGrowthRate reads a number with a unit, or returns an [Error] that lists the units.
func ParseGrowthRate(text string) (GrowthRate, error) {
	v, err := growthRateDim.parse(text)
	return GrowthRate(v), err
}

func (x GrowthRate) dimension() *dimension { return growthRateDim }
func (x GrowthRate) held() float64         { return float64(x) }

// TrayRate is held in trays per minute.
type TrayRate float64

// TraysPerMinute returns v trays/min as a TrayRate.
func TraysPerMinute(v float64) TrayRate { return TrayRate(v) }

// TraysPerMinute returns the value in trays/min.
func (x TrayRate) TraysPerMinute() float64 { return float64(x) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x TrayRate) String() string { return trayRateDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x TrayRate) In(sys System) string { return trayRateDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x TrayRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return trayRateDim.appendIn(b, float64(x), trayRateDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x TrayRate) AppendText(b []byte) ([]byte, error) { return trayRateDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x TrayRate) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *TrayRate) UnmarshalText(text []byte) error { return read(x, text, ParseTrayRate) }

// ParseTrayRate reads a number with a unit, or returns an [Error] that lists the units.
func ParseTrayRate(text string) (TrayRate, error) {
	v, err := trayRateDim.parse(text)
	return TrayRate(v), err
}

func (x TrayRate) dimension() *dimension { return trayRateDim }
func (x TrayRate) held() float64         { return float64(x) }

// Power is held in kilowatts.
type Power float64

// Kilowatts returns v kW as a Power.
func Kilowatts(v float64) Power { return Power(v) }

// Kilowatts returns the value in kW.
func (x Power) Kilowatts() float64 { return float64(x) }

// Horsepower returns v hp as a Power.
func Horsepower(v float64) Power { return Power(v * kWPerHorsepower) }

// Horsepower returns the value in hp.
func (x Power) Horsepower() float64 { return float64(x) / kWPerHorsepower }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Power) String() string { return powerDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Power) In(sys System) string { return powerDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Power) AppendIn(b []byte, sys System) ([]byte, error) {
	return powerDim.appendIn(b, float64(x), powerDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Power) AppendText(b []byte) ([]byte, error) { return powerDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Power) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Power) UnmarshalText(text []byte) error { return read(x, text, ParsePower) }

// ParsePower reads a number with a unit, or returns an [Error] that lists the units.
func ParsePower(text string) (Power, error) {
	v, err := powerDim.parse(text)
	return Power(v), err
}

func (x Power) dimension() *dimension { return powerDim }
func (x Power) held() float64         { return float64(x) }

// Pressure is held in kilopascals; absolute unless a calculation says otherwise.
type Pressure float64

// Kilopascals returns v kPa as a Pressure.
func Kilopascals(v float64) Pressure { return Pressure(v) }

// Kilopascals returns the value in kPa.
func (x Pressure) Kilopascals() float64 { return float64(x) }

// Bars returns v bar as a Pressure.
func Bars(v float64) Pressure { return Pressure(v * 100) }

// Bars returns the value in bar.
func (x Pressure) Bars() float64 { return float64(x) / 100 }

// PSI returns v psi as a Pressure.
func PSI(v float64) Pressure { return Pressure(v * kPaPerPsi) }

// PSI returns the value in psi.
func (x Pressure) PSI() float64 { return float64(x) / kPaPerPsi }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Pressure) String() string { return pressureDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Pressure) In(sys System) string { return pressureDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Pressure) AppendIn(b []byte, sys System) ([]byte, error) {
	return pressureDim.appendIn(b, float64(x), pressureDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Pressure) AppendText(b []byte) ([]byte, error) { return pressureDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Pressure) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Pressure) UnmarshalText(text []byte) error { return read(x, text, ParsePressure) }

// ParsePressure reads a number with a unit, or returns an [Error] that lists the units.
func ParsePressure(text string) (Pressure, error) {
	v, err := pressureDim.parse(text)
	return Pressure(v), err
}

func (x Pressure) dimension() *dimension { return pressureDim }
func (x Pressure) held() float64         { return float64(x) }

// MassRate is held in kilograms per hour.
type MassRate float64

// KilogramsPerHour returns v kg/h as a MassRate.
func KilogramsPerHour(v float64) MassRate { return MassRate(v) }

// KilogramsPerHour returns the value in kg/h.
func (x MassRate) KilogramsPerHour() float64 { return float64(x) }

// GramsPerMinute returns v g/min as a MassRate.
func GramsPerMinute(v float64) MassRate { return MassRate(float64(v*60) / 1000) }

// GramsPerMinute returns the value in g/min.
func (x MassRate) GramsPerMinute() float64 { return float64(float64(x)*1000) / 60 }

// PoundsPerHour returns v lb/h as a MassRate.
func PoundsPerHour(v float64) MassRate { return MassRate(float64(v*gramsPerPound) / 1000) }

// PoundsPerHour returns the value in lb/h.
func (x MassRate) PoundsPerHour() float64 { return float64(float64(x)*1000) / gramsPerPound }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x MassRate) String() string { return massRateDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x MassRate) In(sys System) string { return massRateDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x MassRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return massRateDim.appendIn(b, float64(x), massRateDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x MassRate) AppendText(b []byte) ([]byte, error) { return massRateDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x MassRate) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *MassRate) UnmarshalText(text []byte) error { return read(x, text, ParseMassRate) }

// ParseMassRate reads a number with a unit, or returns an [Error] that lists the units.
func ParseMassRate(text string) (MassRate, error) {
	v, err := massRateDim.parse(text)
	return MassRate(v), err
}

func (x MassRate) dimension() *dimension { return massRateDim }
func (x MassRate) held() float64         { return float64(x) }

// VolumeRate is held in millilitres per minute.
type VolumeRate float64

// MillilitresPerMinute returns v ml/min as a VolumeRate.
func MillilitresPerMinute(v float64) VolumeRate { return VolumeRate(v) }

// MillilitresPerMinute returns the value in ml/min.
func (x VolumeRate) MillilitresPerMinute() float64 { return float64(x) }

// LitresPerHour returns v l/h as a VolumeRate.
func LitresPerHour(v float64) VolumeRate { return VolumeRate(float64(v*1000) / 60) }

// LitresPerHour returns the value in l/h.
func (x VolumeRate) LitresPerHour() float64 { return float64(float64(x)*60) / 1000 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x VolumeRate) String() string { return volumeRateDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x VolumeRate) In(sys System) string { return volumeRateDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x VolumeRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return volumeRateDim.appendIn(b, float64(x), volumeRateDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x VolumeRate) AppendText(b []byte) ([]byte, error) { return volumeRateDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x VolumeRate) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *VolumeRate) UnmarshalText(text []byte) error { return read(x, text, ParseVolumeRate) }

// ParseVolumeRate reads a number with a unit, or returns an [Error] that lists the units.
func ParseVolumeRate(text string) (VolumeRate, error) {
	v, err := volumeRateDim.parse(text)
	return VolumeRate(v), err
}

func (x VolumeRate) dimension() *dimension { return volumeRateDim }
func (x VolumeRate) held() float64         { return float64(x) }

// PieceRate is held in pieces per minute.
type PieceRate float64

// PiecesPerMinute returns v pieces/min as a PieceRate.
func PiecesPerMinute(v float64) PieceRate { return PieceRate(v) }

// PiecesPerMinute returns the value in pieces/min.
func (x PieceRate) PiecesPerMinute() float64 { return float64(x) }

// PiecesPerHour returns v pieces/h as a PieceRate.
func PiecesPerHour(v float64) PieceRate { return PieceRate(v / 60) }

// PiecesPerHour returns the value in pieces/h.
func (x PieceRate) PiecesPerHour() float64 { return float64(x) * 60 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x PieceRate) String() string { return pieceRateDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x PieceRate) In(sys System) string { return pieceRateDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x PieceRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return pieceRateDim.appendIn(b, float64(x), pieceRateDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x PieceRate) AppendText(b []byte) ([]byte, error) { return pieceRateDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x PieceRate) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *PieceRate) UnmarshalText(text []byte) error { return read(x, text, ParsePieceRate) }

// ParsePieceRate reads a number with a unit, or returns an [Error] that lists the units.
func ParsePieceRate(text string) (PieceRate, error) {
	v, err := pieceRateDim.parse(text)
	return PieceRate(v), err
}

func (x PieceRate) dimension() *dimension { return pieceRateDim }
func (x PieceRate) held() float64         { return float64(x) }

// StrokeRate is held in strokes per minute.
type StrokeRate float64

// StrokesPerMinute returns v strokes/min as a StrokeRate.
func StrokesPerMinute(v float64) StrokeRate { return StrokeRate(v) }

// StrokesPerMinute returns the value in strokes/min.
func (x StrokeRate) StrokesPerMinute() float64 { return float64(x) }

// StrokesPerHour returns v strokes/h as a StrokeRate.
func StrokesPerHour(v float64) StrokeRate { return StrokeRate(v / 60) }

// StrokesPerHour returns the value in strokes/h.
func (x StrokeRate) StrokesPerHour() float64 { return float64(x) * 60 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x StrokeRate) String() string { return strokeRateDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x StrokeRate) In(sys System) string { return strokeRateDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x StrokeRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return strokeRateDim.appendIn(b, float64(x), strokeRateDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x StrokeRate) AppendText(b []byte) ([]byte, error) { return strokeRateDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x StrokeRate) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *StrokeRate) UnmarshalText(text []byte) error { return read(x, text, ParseStrokeRate) }

// ParseStrokeRate reads a number with a unit, or returns an [Error] that lists the units.
func ParseStrokeRate(text string) (StrokeRate, error) {
	v, err := strokeRateDim.parse(text)
	return StrokeRate(v), err
}

func (x StrokeRate) dimension() *dimension { return strokeRateDim }
func (x StrokeRate) held() float64         { return float64(x) }

// RotationRate is held in revolutions per minute.
type RotationRate float64

// RevolutionsPerMinute returns v rev/min as a RotationRate.
func RevolutionsPerMinute(v float64) RotationRate { return RotationRate(v) }

// RevolutionsPerMinute returns the value in rev/min.
func (x RotationRate) RevolutionsPerMinute() float64 { return float64(x) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x RotationRate) String() string { return rotationRateDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x RotationRate) In(sys System) string { return rotationRateDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x RotationRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return rotationRateDim.appendIn(b, float64(x), rotationRateDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x RotationRate) AppendText(b []byte) ([]byte, error) {
	return rotationRateDim.append(b, float64(x))
}

// MarshalText writes every digit and the unit held.
func (x RotationRate) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *RotationRate) UnmarshalText(text []byte) error { return read(x, text, ParseRotationRate) }

// ParseRotationRate reads a number with a unit, or returns an [Error] that lists the units.
func ParseRotationRate(text string) (RotationRate, error) {
	v, err := rotationRateDim.parse(text)
	return RotationRate(v), err
}

func (x RotationRate) dimension() *dimension { return rotationRateDim }
func (x RotationRate) held() float64         { return float64(x) }

// TempDelta is held in Celsius degrees; a difference of temperatures, so it converts by 9/5 and no 32.
type TempDelta float64

// CelsiusDegrees returns v C° as a TempDelta.
func CelsiusDegrees(v float64) TempDelta { return TempDelta(v) }

// CelsiusDegrees returns the value in C°.
func (x TempDelta) CelsiusDegrees() float64 { return float64(x) }

// FahrenheitDegrees returns v F° as a TempDelta.
func FahrenheitDegrees(v float64) TempDelta { return TempDelta(float64(v*5) / 9) }

// FahrenheitDegrees returns the value in F°.
func (x TempDelta) FahrenheitDegrees() float64 { return float64(float64(x)*9) / 5 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x TempDelta) String() string { return tempDeltaDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x TempDelta) In(sys System) string { return tempDeltaDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x TempDelta) AppendIn(b []byte, sys System) ([]byte, error) {
	return tempDeltaDim.appendIn(b, float64(x), tempDeltaDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x TempDelta) AppendText(b []byte) ([]byte, error) { return tempDeltaDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x TempDelta) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *TempDelta) UnmarshalText(text []byte) error { return read(x, text, ParseTempDelta) }

// ParseTempDelta reads a number with a unit, or returns an [Error] that lists the units.
func ParseTempDelta(text string) (TempDelta, error) {
	v, err := tempDeltaDim.parse(text)
	return TempDelta(v), err
}

func (x TempDelta) dimension() *dimension { return tempDeltaDim }
func (x TempDelta) held() float64         { return float64(x) }

// BakersPercent is held in percent of the total flour; as printed on a formula: 62.5 means 62.5 %.
type BakersPercent float64

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x BakersPercent) String() string { return bakersPercentDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x BakersPercent) In(sys System) string { return bakersPercentDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x BakersPercent) AppendIn(b []byte, sys System) ([]byte, error) {
	return bakersPercentDim.appendIn(b, float64(x), bakersPercentDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x BakersPercent) AppendText(b []byte) ([]byte, error) {
	return bakersPercentDim.append(b, float64(x))
}

// MarshalText writes every digit and the unit held.
func (x BakersPercent) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *BakersPercent) UnmarshalText(text []byte) error { return read(x, text, ParseBakersPercent) }

// ParseBakersPercent reads a number with a unit, or returns an [Error] that lists the units.
func ParseBakersPercent(text string) (BakersPercent, error) {
	v, err := bakersPercentDim.parse(text)
	return BakersPercent(v), err
}

func (x BakersPercent) dimension() *dimension { return bakersPercentDim }
func (x BakersPercent) held() float64         { return float64(x) }

// Percent is held in percent of a whole; as printed: 12 means 12 %.
type Percent float64

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (x Percent) String() string { return percentDim.format(float64(x), Metric) }

// In rounds to four significant figures in a unit of sys.
func (x Percent) In(sys System) string { return percentDim.format(float64(x), sys) }

// AppendIn appends every digit and a unit of sys.
func (x Percent) AppendIn(b []byte, sys System) ([]byte, error) {
	return percentDim.appendIn(b, float64(x), percentDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Percent) AppendText(b []byte) ([]byte, error) { return percentDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Percent) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Percent) UnmarshalText(text []byte) error { return read(x, text, ParsePercent) }

// ParsePercent reads a number with a unit, or returns an [Error] that lists the units.
func ParsePercent(text string) (Percent, error) {
	v, err := percentDim.parse(text)
	return Percent(v), err
}

func (x Percent) dimension() *dimension { return percentDim }
func (x Percent) held() float64         { return float64(x) }

// Duration is held in seconds.
type Duration float64

// Seconds returns v s as a Duration.
func Seconds(v float64) Duration { return Duration(v) }

// Seconds returns the value in s.
func (x Duration) Seconds() float64 { return float64(x) }

// Minutes returns v min as a Duration.
func Minutes(v float64) Duration { return Duration(v * 60) }

// Minutes returns the value in min.
func (x Duration) Minutes() float64 { return float64(x) / 60 }

// Hours returns v h as a Duration.
func Hours(v float64) Duration { return Duration(v * 3600) }

// Hours returns the value in h.
func (x Duration) Hours() float64 { return float64(x) / 3600 }

// String returns hours, minutes and seconds, rounded to the second from ten
// seconds up: "7 min 30 s".
func (x Duration) String() string { return x.clock() }

// In returns the same text as String in every unit system.
func (x Duration) In(System) string { return x.clock() }

// AppendIn appends every digit and a unit of sys.
func (x Duration) AppendIn(b []byte, sys System) ([]byte, error) {
	return durationDim.appendIn(b, float64(x), durationDim.shown(float64(x), sys))
}

// AppendText appends every digit and the unit held.
func (x Duration) AppendText(b []byte) ([]byte, error) { return durationDim.append(b, float64(x)) }

// MarshalText writes every digit and the unit held.
func (x Duration) MarshalText() ([]byte, error) { return x.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with an [Error].
func (x *Duration) UnmarshalText(text []byte) error { return read(x, text, ParseDuration) }

// ParseDuration reads a number with a unit, or returns an [Error] that lists the units.
func ParseDuration(text string) (Duration, error) {
	v, err := durationDim.parse(text)
	return Duration(v), err
}

func (x Duration) dimension() *dimension { return durationDim }
func (x Duration) held() float64         { return float64(x) }
