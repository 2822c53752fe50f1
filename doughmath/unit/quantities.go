package unit

// Mass is held in grams; weight as the trade says.
type Mass float64

// Grams returns v g as a Mass.
func Grams(v float64) Mass { return Mass(v) }

// Grams returns the value in g.
func (m Mass) Grams() float64 { return float64(m) }

// Kilograms returns v kg as a Mass.
func Kilograms(v float64) Mass { return Mass(v * 1000) }

// Kilograms returns the value in kg.
func (m Mass) Kilograms() float64 { return float64(m) / 1000 }

// Ounces returns v oz as a Mass.
func Ounces(v float64) Mass { return Mass(float64(v*gramsPerPound) / ouncesPerPound) }

// Ounces returns the value in oz.
func (m Mass) Ounces() float64 { return float64(float64(m)*ouncesPerPound) / gramsPerPound }

// Pounds returns v lb as a Mass.
func Pounds(v float64) Mass { return Mass(v * gramsPerPound) }

// Pounds returns the value in lb.
func (m Mass) Pounds() float64 { return float64(m) / gramsPerPound }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (m Mass) String() string { return massDim.format(float64(m), Metric) }

// In rounds to four significant figures in a unit of sys.
func (m Mass) In(sys System) string { return massDim.format(float64(m), sys) }

// AppendIn appends every digit and a unit of sys.
func (m Mass) AppendIn(b []byte, sys System) ([]byte, error) {
	return massDim.appendIn(b, float64(m), massDim.shown(float64(m), sys))
}

// AppendText appends every digit and the unit held.
func (m Mass) AppendText(b []byte) ([]byte, error) { return massDim.append(b, float64(m)) }

// MarshalText writes every digit and the unit held.
func (m Mass) MarshalText() ([]byte, error) { return m.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (m *Mass) UnmarshalText(text []byte) error { return read(m, text, ParseMass) }

// ParseMass reads a number with a unit, or returns a [Error] that lists the units.
func ParseMass(text string) (Mass, error) {
	v, err := massDim.parse(text)
	return Mass(v), err
}

func (m Mass) dimension() *dimension { return massDim }
func (m Mass) held() float64         { return float64(m) }

// Length is held in millimetres.
type Length float64

// Millimetres returns v mm as a Length.
func Millimetres(v float64) Length { return Length(v) }

// Millimetres returns the value in mm.
func (l Length) Millimetres() float64 { return float64(l) }

// Centimetres returns v cm as a Length.
func Centimetres(v float64) Length { return Length(v * 10) }

// Centimetres returns the value in cm.
func (l Length) Centimetres() float64 { return float64(l) / 10 }

// Metres returns v m as a Length.
func Metres(v float64) Length { return Length(v * 1000) }

// Metres returns the value in m.
func (l Length) Metres() float64 { return float64(l) / 1000 }

// Inches returns v in as a Length.
func Inches(v float64) Length { return Length(v * mmPerInch) }

// Inches returns the value in in.
func (l Length) Inches() float64 { return float64(l) / mmPerInch }

// Feet returns v ft as a Length.
func Feet(v float64) Length { return Length(v * 304.8) }

// Feet returns the value in ft.
func (l Length) Feet() float64 { return float64(l) / 304.8 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (l Length) String() string { return lengthDim.format(float64(l), Metric) }

// In rounds to four significant figures in a unit of sys.
func (l Length) In(sys System) string { return lengthDim.format(float64(l), sys) }

// AppendIn appends every digit and a unit of sys.
func (l Length) AppendIn(b []byte, sys System) ([]byte, error) {
	return lengthDim.appendIn(b, float64(l), lengthDim.shown(float64(l), sys))
}

// AppendText appends every digit and the unit held.
func (l Length) AppendText(b []byte) ([]byte, error) { return lengthDim.append(b, float64(l)) }

// MarshalText writes every digit and the unit held.
func (l Length) MarshalText() ([]byte, error) { return l.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (l *Length) UnmarshalText(text []byte) error { return read(l, text, ParseLength) }

// ParseLength reads a number with a unit, or returns a [Error] that lists the units.
func ParseLength(text string) (Length, error) {
	v, err := lengthDim.parse(text)
	return Length(v), err
}

func (l Length) dimension() *dimension { return lengthDim }
func (l Length) held() float64         { return float64(l) }

// Volume is held in millilitres.
type Volume float64

// Millilitres returns v ml as a Volume.
func Millilitres(v float64) Volume { return Volume(v) }

// Millilitres returns the value in ml.
func (v Volume) Millilitres() float64 { return float64(v) }

// Litres returns v l as a Volume.
func Litres(v float64) Volume { return Volume(v * 1000) }

// Litres returns the value in l.
func (v Volume) Litres() float64 { return float64(v) / 1000 }

// USGallons returns v US gal as a Volume.
func USGallons(v float64) Volume { return Volume(v * mlPerUSGallon) }

// USGallons returns the value in US gal.
func (v Volume) USGallons() float64 { return float64(v) / mlPerUSGallon }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (v Volume) String() string { return volumeDim.format(float64(v), Metric) }

// In rounds to four significant figures in a unit of sys.
func (v Volume) In(sys System) string { return volumeDim.format(float64(v), sys) }

// AppendIn appends every digit and a unit of sys.
func (v Volume) AppendIn(b []byte, sys System) ([]byte, error) {
	return volumeDim.appendIn(b, float64(v), volumeDim.shown(float64(v), sys))
}

// AppendText appends every digit and the unit held.
func (v Volume) AppendText(b []byte) ([]byte, error) { return volumeDim.append(b, float64(v)) }

// MarshalText writes every digit and the unit held.
func (v Volume) MarshalText() ([]byte, error) { return v.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (v *Volume) UnmarshalText(text []byte) error { return read(v, text, ParseVolume) }

// ParseVolume reads a number with a unit, or returns a [Error] that lists the units.
func ParseVolume(text string) (Volume, error) {
	v, err := volumeDim.parse(text)
	return Volume(v), err
}

func (v Volume) dimension() *dimension { return volumeDim }
func (v Volume) held() float64         { return float64(v) }

// Density is held in grams per millilitre.
type Density float64

// GramsPerMillilitre returns v g/ml as a Density.
func GramsPerMillilitre(v float64) Density { return Density(v) }

// GramsPerMillilitre returns the value in g/ml.
func (d Density) GramsPerMillilitre() float64 { return float64(d) }

// KilogramsPerCubicMetre returns v kg/m3 as a Density.
func KilogramsPerCubicMetre(v float64) Density { return Density(v / 1000) }

// KilogramsPerCubicMetre returns the value in kg/m3.
func (d Density) KilogramsPerCubicMetre() float64 { return float64(d) * 1000 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (d Density) String() string { return densityDim.format(float64(d), Metric) }

// In rounds to four significant figures in a unit of sys.
func (d Density) In(sys System) string { return densityDim.format(float64(d), sys) }

// AppendIn appends every digit and a unit of sys.
func (d Density) AppendIn(b []byte, sys System) ([]byte, error) {
	return densityDim.appendIn(b, float64(d), densityDim.shown(float64(d), sys))
}

// AppendText appends every digit and the unit held.
func (d Density) AppendText(b []byte) ([]byte, error) { return densityDim.append(b, float64(d)) }

// MarshalText writes every digit and the unit held.
func (d Density) MarshalText() ([]byte, error) { return d.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (d *Density) UnmarshalText(text []byte) error { return read(d, text, ParseDensity) }

// ParseDensity reads a number with a unit, or returns a [Error] that lists the units.
func ParseDensity(text string) (Density, error) {
	v, err := densityDim.parse(text)
	return Density(v), err
}

func (d Density) dimension() *dimension { return densityDim }
func (d Density) held() float64         { return float64(d) }

// Speed is held in millimetres per second.
type Speed float64

// MillimetresPerSecond returns v mm/s as a Speed.
func MillimetresPerSecond(v float64) Speed { return Speed(v) }

// MillimetresPerSecond returns the value in mm/s.
func (s Speed) MillimetresPerSecond() float64 { return float64(s) }

// MetresPerMinute returns v m/min as a Speed.
func MetresPerMinute(v float64) Speed { return Speed(float64(v*1000) / 60) }

// MetresPerMinute returns the value in m/min.
func (s Speed) MetresPerMinute() float64 { return float64(float64(s)*60) / 1000 }

// FeetPerMinute returns v ft/min as a Speed.
func FeetPerMinute(v float64) Speed { return Speed(float64(v*304.8) / 60) }

// FeetPerMinute returns the value in ft/min.
func (s Speed) FeetPerMinute() float64 { return float64(float64(s)*60) / 304.8 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (s Speed) String() string { return speedDim.format(float64(s), Metric) }

// In rounds to four significant figures in a unit of sys.
func (s Speed) In(sys System) string { return speedDim.format(float64(s), sys) }

// AppendIn appends every digit and a unit of sys.
func (s Speed) AppendIn(b []byte, sys System) ([]byte, error) {
	return speedDim.appendIn(b, float64(s), speedDim.shown(float64(s), sys))
}

// AppendText appends every digit and the unit held.
func (s Speed) AppendText(b []byte) ([]byte, error) { return speedDim.append(b, float64(s)) }

// MarshalText writes every digit and the unit held.
func (s Speed) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (s *Speed) UnmarshalText(text []byte) error { return read(s, text, ParseSpeed) }

// ParseSpeed reads a number with a unit, or returns a [Error] that lists the units.
func ParseSpeed(text string) (Speed, error) {
	v, err := speedDim.parse(text)
	return Speed(v), err
}

func (s Speed) dimension() *dimension { return speedDim }
func (s Speed) held() float64         { return float64(s) }

// Energy is held in kilojoules.
type Energy float64

// Kilojoules returns v kJ as a Energy.
func Kilojoules(v float64) Energy { return Energy(v) }

// Kilojoules returns the value in kJ.
func (e Energy) Kilojoules() float64 { return float64(e) }

// WattHours returns v Wh as a Energy.
func WattHours(v float64) Energy { return Energy(v * 3.6) }

// WattHours returns the value in Wh.
func (e Energy) WattHours() float64 { return float64(e) / 3.6 }

// BTU returns v Btu as a Energy.
func BTU(v float64) Energy { return Energy(v * kJPerBtu) }

// BTU returns the value in Btu.
func (e Energy) BTU() float64 { return float64(e) / kJPerBtu }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (e Energy) String() string { return energyDim.format(float64(e), Metric) }

// In rounds to four significant figures in a unit of sys.
func (e Energy) In(sys System) string { return energyDim.format(float64(e), sys) }

// AppendIn appends every digit and a unit of sys.
func (e Energy) AppendIn(b []byte, sys System) ([]byte, error) {
	return energyDim.appendIn(b, float64(e), energyDim.shown(float64(e), sys))
}

// AppendText appends every digit and the unit held.
func (e Energy) AppendText(b []byte) ([]byte, error) { return energyDim.append(b, float64(e)) }

// MarshalText writes every digit and the unit held.
func (e Energy) MarshalText() ([]byte, error) { return e.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (e *Energy) UnmarshalText(text []byte) error { return read(e, text, ParseEnergy) }

// ParseEnergy reads a number with a unit, or returns a [Error] that lists the units.
func ParseEnergy(text string) (Energy, error) {
	v, err := energyDim.parse(text)
	return Energy(v), err
}

func (e Energy) dimension() *dimension { return energyDim }
func (e Energy) held() float64         { return float64(e) }

// SpecificHeat is held in kilojoules per kilogram and kelvin.
type SpecificHeat float64

// KilojoulesPerKilogramKelvin returns v kJ/(kg K) as a SpecificHeat.
func KilojoulesPerKilogramKelvin(v float64) SpecificHeat { return SpecificHeat(v) }

// KilojoulesPerKilogramKelvin returns the value in kJ/(kg K).
func (s SpecificHeat) KilojoulesPerKilogramKelvin() float64 { return float64(s) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (s SpecificHeat) String() string { return specificHeatDim.format(float64(s), Metric) }

// In rounds to four significant figures in a unit of sys.
func (s SpecificHeat) In(sys System) string { return specificHeatDim.format(float64(s), sys) }

// AppendIn appends every digit and a unit of sys.
func (s SpecificHeat) AppendIn(b []byte, sys System) ([]byte, error) {
	return specificHeatDim.appendIn(b, float64(s), specificHeatDim.shown(float64(s), sys))
}

// AppendText appends every digit and the unit held.
func (s SpecificHeat) AppendText(b []byte) ([]byte, error) {
	return specificHeatDim.append(b, float64(s))
}

// MarshalText writes every digit and the unit held.
func (s SpecificHeat) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (s *SpecificHeat) UnmarshalText(text []byte) error { return read(s, text, ParseSpecificHeat) }

// ParseSpecificHeat reads a number with a unit, or returns a [Error] that lists the units.
func ParseSpecificHeat(text string) (SpecificHeat, error) {
	v, err := specificHeatDim.parse(text)
	return SpecificHeat(v), err
}

func (s SpecificHeat) dimension() *dimension { return specificHeatDim }
func (s SpecificHeat) held() float64         { return float64(s) }

// SpecificEnergy is held in kilojoules per kilogram.
type SpecificEnergy float64

// KilojoulesPerKilogram returns v kJ/kg as a SpecificEnergy.
func KilojoulesPerKilogram(v float64) SpecificEnergy { return SpecificEnergy(v) }

// KilojoulesPerKilogram returns the value in kJ/kg.
func (s SpecificEnergy) KilojoulesPerKilogram() float64 { return float64(s) }

// WattHoursPerKilogram returns v Wh/kg as a SpecificEnergy.
func WattHoursPerKilogram(v float64) SpecificEnergy { return SpecificEnergy(v * 3.6) }

// WattHoursPerKilogram returns the value in Wh/kg.
func (s SpecificEnergy) WattHoursPerKilogram() float64 { return float64(s) / 3.6 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (s SpecificEnergy) String() string { return specificEnergyDim.format(float64(s), Metric) }

// In rounds to four significant figures in a unit of sys.
func (s SpecificEnergy) In(sys System) string { return specificEnergyDim.format(float64(s), sys) }

// AppendIn appends every digit and a unit of sys.
func (s SpecificEnergy) AppendIn(b []byte, sys System) ([]byte, error) {
	return specificEnergyDim.appendIn(b, float64(s), specificEnergyDim.shown(float64(s), sys))
}

// AppendText appends every digit and the unit held.
func (s SpecificEnergy) AppendText(b []byte) ([]byte, error) {
	return specificEnergyDim.append(b, float64(s))
}

// MarshalText writes every digit and the unit held.
func (s SpecificEnergy) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (s *SpecificEnergy) UnmarshalText(text []byte) error { return read(s, text, ParseSpecificEnergy) }

// ParseSpecificEnergy reads a number with a unit, or returns a [Error] that lists the units.
func ParseSpecificEnergy(text string) (SpecificEnergy, error) {
	v, err := specificEnergyDim.parse(text)
	return SpecificEnergy(v), err
}

func (s SpecificEnergy) dimension() *dimension { return specificEnergyDim }
func (s SpecificEnergy) held() float64         { return float64(s) }

// Power is held in kilowatts.
type Power float64

// Kilowatts returns v kW as a Power.
func Kilowatts(v float64) Power { return Power(v) }

// Kilowatts returns the value in kW.
func (p Power) Kilowatts() float64 { return float64(p) }

// Horsepower returns v hp as a Power.
func Horsepower(v float64) Power { return Power(v * kWPerHorsepower) }

// Horsepower returns the value in hp.
func (p Power) Horsepower() float64 { return float64(p) / kWPerHorsepower }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (p Power) String() string { return powerDim.format(float64(p), Metric) }

// In rounds to four significant figures in a unit of sys.
func (p Power) In(sys System) string { return powerDim.format(float64(p), sys) }

// AppendIn appends every digit and a unit of sys.
func (p Power) AppendIn(b []byte, sys System) ([]byte, error) {
	return powerDim.appendIn(b, float64(p), powerDim.shown(float64(p), sys))
}

// AppendText appends every digit and the unit held.
func (p Power) AppendText(b []byte) ([]byte, error) { return powerDim.append(b, float64(p)) }

// MarshalText writes every digit and the unit held.
func (p Power) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (p *Power) UnmarshalText(text []byte) error { return read(p, text, ParsePower) }

// ParsePower reads a number with a unit, or returns a [Error] that lists the units.
func ParsePower(text string) (Power, error) {
	v, err := powerDim.parse(text)
	return Power(v), err
}

func (p Power) dimension() *dimension { return powerDim }
func (p Power) held() float64         { return float64(p) }

// Pressure is held in kilopascals; absolute unless a function says otherwise.
type Pressure float64

// Kilopascals returns v kPa as a Pressure.
func Kilopascals(v float64) Pressure { return Pressure(v) }

// Kilopascals returns the value in kPa.
func (p Pressure) Kilopascals() float64 { return float64(p) }

// Bars returns v bar as a Pressure.
func Bars(v float64) Pressure { return Pressure(v * 100) }

// Bars returns the value in bar.
func (p Pressure) Bars() float64 { return float64(p) / 100 }

// PSI returns v psi as a Pressure.
func PSI(v float64) Pressure { return Pressure(v * kPaPerPsi) }

// PSI returns the value in psi.
func (p Pressure) PSI() float64 { return float64(p) / kPaPerPsi }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (p Pressure) String() string { return pressureDim.format(float64(p), Metric) }

// In rounds to four significant figures in a unit of sys.
func (p Pressure) In(sys System) string { return pressureDim.format(float64(p), sys) }

// AppendIn appends every digit and a unit of sys.
func (p Pressure) AppendIn(b []byte, sys System) ([]byte, error) {
	return pressureDim.appendIn(b, float64(p), pressureDim.shown(float64(p), sys))
}

// AppendText appends every digit and the unit held.
func (p Pressure) AppendText(b []byte) ([]byte, error) { return pressureDim.append(b, float64(p)) }

// MarshalText writes every digit and the unit held.
func (p Pressure) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (p *Pressure) UnmarshalText(text []byte) error { return read(p, text, ParsePressure) }

// ParsePressure reads a number with a unit, or returns a [Error] that lists the units.
func ParsePressure(text string) (Pressure, error) {
	v, err := pressureDim.parse(text)
	return Pressure(v), err
}

func (p Pressure) dimension() *dimension { return pressureDim }
func (p Pressure) held() float64         { return float64(p) }

// MassRate is held in kilograms per hour.
type MassRate float64

// KilogramsPerHour returns v kg/h as a MassRate.
func KilogramsPerHour(v float64) MassRate { return MassRate(v) }

// KilogramsPerHour returns the value in kg/h.
func (m MassRate) KilogramsPerHour() float64 { return float64(m) }

// GramsPerMinute returns v g/min as a MassRate.
func GramsPerMinute(v float64) MassRate { return MassRate(float64(v*60) / 1000) }

// GramsPerMinute returns the value in g/min.
func (m MassRate) GramsPerMinute() float64 { return float64(float64(m)*1000) / 60 }

// PoundsPerHour returns v lb/h as a MassRate.
func PoundsPerHour(v float64) MassRate { return MassRate(float64(v*gramsPerPound) / 1000) }

// PoundsPerHour returns the value in lb/h.
func (m MassRate) PoundsPerHour() float64 { return float64(float64(m)*1000) / gramsPerPound }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (m MassRate) String() string { return massRateDim.format(float64(m), Metric) }

// In rounds to four significant figures in a unit of sys.
func (m MassRate) In(sys System) string { return massRateDim.format(float64(m), sys) }

// AppendIn appends every digit and a unit of sys.
func (m MassRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return massRateDim.appendIn(b, float64(m), massRateDim.shown(float64(m), sys))
}

// AppendText appends every digit and the unit held.
func (m MassRate) AppendText(b []byte) ([]byte, error) { return massRateDim.append(b, float64(m)) }

// MarshalText writes every digit and the unit held.
func (m MassRate) MarshalText() ([]byte, error) { return m.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (m *MassRate) UnmarshalText(text []byte) error { return read(m, text, ParseMassRate) }

// ParseMassRate reads a number with a unit, or returns a [Error] that lists the units.
func ParseMassRate(text string) (MassRate, error) {
	v, err := massRateDim.parse(text)
	return MassRate(v), err
}

func (m MassRate) dimension() *dimension { return massRateDim }
func (m MassRate) held() float64         { return float64(m) }

// VolumeRate is held in millilitres per minute.
type VolumeRate float64

// MillilitresPerMinute returns v ml/min as a VolumeRate.
func MillilitresPerMinute(v float64) VolumeRate { return VolumeRate(v) }

// MillilitresPerMinute returns the value in ml/min.
func (v VolumeRate) MillilitresPerMinute() float64 { return float64(v) }

// LitresPerHour returns v l/h as a VolumeRate.
func LitresPerHour(v float64) VolumeRate { return VolumeRate(float64(v*1000) / 60) }

// LitresPerHour returns the value in l/h.
func (v VolumeRate) LitresPerHour() float64 { return float64(float64(v)*60) / 1000 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (v VolumeRate) String() string { return volumeRateDim.format(float64(v), Metric) }

// In rounds to four significant figures in a unit of sys.
func (v VolumeRate) In(sys System) string { return volumeRateDim.format(float64(v), sys) }

// AppendIn appends every digit and a unit of sys.
func (v VolumeRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return volumeRateDim.appendIn(b, float64(v), volumeRateDim.shown(float64(v), sys))
}

// AppendText appends every digit and the unit held.
func (v VolumeRate) AppendText(b []byte) ([]byte, error) { return volumeRateDim.append(b, float64(v)) }

// MarshalText writes every digit and the unit held.
func (v VolumeRate) MarshalText() ([]byte, error) { return v.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (v *VolumeRate) UnmarshalText(text []byte) error { return read(v, text, ParseVolumeRate) }

// ParseVolumeRate reads a number with a unit, or returns a [Error] that lists the units.
func ParseVolumeRate(text string) (VolumeRate, error) {
	v, err := volumeRateDim.parse(text)
	return VolumeRate(v), err
}

func (v VolumeRate) dimension() *dimension { return volumeRateDim }
func (v VolumeRate) held() float64         { return float64(v) }

// PieceRate is held in pieces per minute.
type PieceRate float64

// PiecesPerMinute returns v pieces/min as a PieceRate.
func PiecesPerMinute(v float64) PieceRate { return PieceRate(v) }

// PiecesPerMinute returns the value in pieces/min.
func (p PieceRate) PiecesPerMinute() float64 { return float64(p) }

// PiecesPerHour returns v pieces/h as a PieceRate.
func PiecesPerHour(v float64) PieceRate { return PieceRate(v / 60) }

// PiecesPerHour returns the value in pieces/h.
func (p PieceRate) PiecesPerHour() float64 { return float64(p) * 60 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (p PieceRate) String() string { return pieceRateDim.format(float64(p), Metric) }

// In rounds to four significant figures in a unit of sys.
func (p PieceRate) In(sys System) string { return pieceRateDim.format(float64(p), sys) }

// AppendIn appends every digit and a unit of sys.
func (p PieceRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return pieceRateDim.appendIn(b, float64(p), pieceRateDim.shown(float64(p), sys))
}

// AppendText appends every digit and the unit held.
func (p PieceRate) AppendText(b []byte) ([]byte, error) { return pieceRateDim.append(b, float64(p)) }

// MarshalText writes every digit and the unit held.
func (p PieceRate) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (p *PieceRate) UnmarshalText(text []byte) error { return read(p, text, ParsePieceRate) }

// ParsePieceRate reads a number with a unit, or returns a [Error] that lists the units.
func ParsePieceRate(text string) (PieceRate, error) {
	v, err := pieceRateDim.parse(text)
	return PieceRate(v), err
}

func (p PieceRate) dimension() *dimension { return pieceRateDim }
func (p PieceRate) held() float64         { return float64(p) }

// StrokeRate is held in strokes per minute.
type StrokeRate float64

// StrokesPerMinute returns v strokes/min as a StrokeRate.
func StrokesPerMinute(v float64) StrokeRate { return StrokeRate(v) }

// StrokesPerMinute returns the value in strokes/min.
func (s StrokeRate) StrokesPerMinute() float64 { return float64(s) }

// StrokesPerHour returns v strokes/h as a StrokeRate.
func StrokesPerHour(v float64) StrokeRate { return StrokeRate(v / 60) }

// StrokesPerHour returns the value in strokes/h.
func (s StrokeRate) StrokesPerHour() float64 { return float64(s) * 60 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (s StrokeRate) String() string { return strokeRateDim.format(float64(s), Metric) }

// In rounds to four significant figures in a unit of sys.
func (s StrokeRate) In(sys System) string { return strokeRateDim.format(float64(s), sys) }

// AppendIn appends every digit and a unit of sys.
func (s StrokeRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return strokeRateDim.appendIn(b, float64(s), strokeRateDim.shown(float64(s), sys))
}

// AppendText appends every digit and the unit held.
func (s StrokeRate) AppendText(b []byte) ([]byte, error) { return strokeRateDim.append(b, float64(s)) }

// MarshalText writes every digit and the unit held.
func (s StrokeRate) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (s *StrokeRate) UnmarshalText(text []byte) error { return read(s, text, ParseStrokeRate) }

// ParseStrokeRate reads a number with a unit, or returns a [Error] that lists the units.
func ParseStrokeRate(text string) (StrokeRate, error) {
	v, err := strokeRateDim.parse(text)
	return StrokeRate(v), err
}

func (s StrokeRate) dimension() *dimension { return strokeRateDim }
func (s StrokeRate) held() float64         { return float64(s) }

// RotationRate is held in revolutions per minute.
type RotationRate float64

// RevolutionsPerMinute returns v rev/min as a RotationRate.
func RevolutionsPerMinute(v float64) RotationRate { return RotationRate(v) }

// RevolutionsPerMinute returns the value in rev/min.
func (r RotationRate) RevolutionsPerMinute() float64 { return float64(r) }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (r RotationRate) String() string { return rotationRateDim.format(float64(r), Metric) }

// In rounds to four significant figures in a unit of sys.
func (r RotationRate) In(sys System) string { return rotationRateDim.format(float64(r), sys) }

// AppendIn appends every digit and a unit of sys.
func (r RotationRate) AppendIn(b []byte, sys System) ([]byte, error) {
	return rotationRateDim.appendIn(b, float64(r), rotationRateDim.shown(float64(r), sys))
}

// AppendText appends every digit and the unit held.
func (r RotationRate) AppendText(b []byte) ([]byte, error) {
	return rotationRateDim.append(b, float64(r))
}

// MarshalText writes every digit and the unit held.
func (r RotationRate) MarshalText() ([]byte, error) { return r.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (r *RotationRate) UnmarshalText(text []byte) error { return read(r, text, ParseRotationRate) }

// ParseRotationRate reads a number with a unit, or returns a [Error] that lists the units.
func ParseRotationRate(text string) (RotationRate, error) {
	v, err := rotationRateDim.parse(text)
	return RotationRate(v), err
}

func (r RotationRate) dimension() *dimension { return rotationRateDim }
func (r RotationRate) held() float64         { return float64(r) }

// TempDelta is held in Celsius degrees; a difference of temperatures, so it converts by 9/5 and no 32.
type TempDelta float64

// CelsiusDegrees returns v C° as a TempDelta.
func CelsiusDegrees(v float64) TempDelta { return TempDelta(v) }

// CelsiusDegrees returns the value in C°.
func (t TempDelta) CelsiusDegrees() float64 { return float64(t) }

// FahrenheitDegrees returns v F° as a TempDelta.
func FahrenheitDegrees(v float64) TempDelta { return TempDelta(float64(v*5) / 9) }

// FahrenheitDegrees returns the value in F°.
func (t TempDelta) FahrenheitDegrees() float64 { return float64(float64(t)*9) / 5 }

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (t TempDelta) String() string { return tempDeltaDim.format(float64(t), Metric) }

// In rounds to four significant figures in a unit of sys.
func (t TempDelta) In(sys System) string { return tempDeltaDim.format(float64(t), sys) }

// AppendIn appends every digit and a unit of sys.
func (t TempDelta) AppendIn(b []byte, sys System) ([]byte, error) {
	return tempDeltaDim.appendIn(b, float64(t), tempDeltaDim.shown(float64(t), sys))
}

// AppendText appends every digit and the unit held.
func (t TempDelta) AppendText(b []byte) ([]byte, error) { return tempDeltaDim.append(b, float64(t)) }

// MarshalText writes every digit and the unit held.
func (t TempDelta) MarshalText() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (t *TempDelta) UnmarshalText(text []byte) error { return read(t, text, ParseTempDelta) }

// ParseTempDelta reads a number with a unit, or returns a [Error] that lists the units.
func ParseTempDelta(text string) (TempDelta, error) {
	v, err := tempDeltaDim.parse(text)
	return TempDelta(v), err
}

func (t TempDelta) dimension() *dimension { return tempDeltaDim }
func (t TempDelta) held() float64         { return float64(t) }

// BakersPercent is held in percent of the total flour; as printed on a formula: 62.5 means 62.5 %.
type BakersPercent float64

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (p BakersPercent) String() string { return bakersPercentDim.format(float64(p), Metric) }

// In rounds to four significant figures in a unit of sys.
func (p BakersPercent) In(sys System) string { return bakersPercentDim.format(float64(p), sys) }

// AppendIn appends every digit and a unit of sys.
func (p BakersPercent) AppendIn(b []byte, sys System) ([]byte, error) {
	return bakersPercentDim.appendIn(b, float64(p), bakersPercentDim.shown(float64(p), sys))
}

// AppendText appends every digit and the unit held.
func (p BakersPercent) AppendText(b []byte) ([]byte, error) {
	return bakersPercentDim.append(b, float64(p))
}

// MarshalText writes every digit and the unit held.
func (p BakersPercent) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (p *BakersPercent) UnmarshalText(text []byte) error { return read(p, text, ParseBakersPercent) }

// ParseBakersPercent reads a number with a unit, or returns a [Error] that lists the units.
func ParseBakersPercent(text string) (BakersPercent, error) {
	v, err := bakersPercentDim.parse(text)
	return BakersPercent(v), err
}

func (p BakersPercent) dimension() *dimension { return bakersPercentDim }
func (p BakersPercent) held() float64         { return float64(p) }

// Percent is held in percent of a whole; as printed: 12 means 12 %.
type Percent float64

// String rounds to four significant figures in a metric unit, for people; see [Quantity] for full precision.
func (p Percent) String() string { return percentDim.format(float64(p), Metric) }

// In rounds to four significant figures in a unit of sys.
func (p Percent) In(sys System) string { return percentDim.format(float64(p), sys) }

// AppendIn appends every digit and a unit of sys.
func (p Percent) AppendIn(b []byte, sys System) ([]byte, error) {
	return percentDim.appendIn(b, float64(p), percentDim.shown(float64(p), sys))
}

// AppendText appends every digit and the unit held.
func (p Percent) AppendText(b []byte) ([]byte, error) { return percentDim.append(b, float64(p)) }

// MarshalText writes every digit and the unit held.
func (p Percent) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (p *Percent) UnmarshalText(text []byte) error { return read(p, text, ParsePercent) }

// ParsePercent reads a number with a unit, or returns a [Error] that lists the units.
func ParsePercent(text string) (Percent, error) {
	v, err := percentDim.parse(text)
	return Percent(v), err
}

func (p Percent) dimension() *dimension { return percentDim }
func (p Percent) held() float64         { return float64(p) }

// Duration is held in seconds.
type Duration float64

// Seconds returns v s as a Duration.
func Seconds(v float64) Duration { return Duration(v) }

// Seconds returns the value in s.
func (d Duration) Seconds() float64 { return float64(d) }

// Minutes returns v min as a Duration.
func Minutes(v float64) Duration { return Duration(v * 60) }

// Minutes returns the value in min.
func (d Duration) Minutes() float64 { return float64(d) / 60 }

// Hours returns v h as a Duration.
func Hours(v float64) Duration { return Duration(v * 3600) }

// Hours returns the value in h.
func (d Duration) Hours() float64 { return float64(d) / 3600 }

// String returns hours, minutes and seconds, rounded to the second from ten
// seconds up: "7 min 30 s".
func (d Duration) String() string { return d.clock() }

// In returns the same text as String in every unit system.
func (d Duration) In(System) string { return d.clock() }

// AppendIn appends every digit and a unit of sys.
func (d Duration) AppendIn(b []byte, sys System) ([]byte, error) {
	return durationDim.appendIn(b, float64(d), durationDim.shown(float64(d), sys))
}

// AppendText appends every digit and the unit held.
func (d Duration) AppendText(b []byte) ([]byte, error) { return durationDim.append(b, float64(d)) }

// MarshalText writes every digit and the unit held.
func (d Duration) MarshalText() ([]byte, error) { return d.AppendText(nil) }

// UnmarshalText reads a number with a unit; a bare number is refused with a [Error].
func (d *Duration) UnmarshalText(text []byte) error { return read(d, text, ParseDuration) }

// ParseDuration reads a number with a unit, or returns a [Error] that lists the units.
func ParseDuration(text string) (Duration, error) {
	v, err := durationDim.parse(text)
	return Duration(v), err
}

func (d Duration) dimension() *dimension { return durationDim }
func (d Duration) held() float64         { return float64(d) }
