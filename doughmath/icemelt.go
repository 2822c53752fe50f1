package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// IceMelt returns how long ice takes to melt in a dough:
//
//	t = rho*h_i*d / (2*U*(T - 0 °C))
//
// with rho the density of ice, h_i the heat that makes it water of 0 °C, d the
// smallest dimension of a piece, which shrinks from both sides, U the heat
// transfer at its surface and T the dough around it. How much ice there is
// does not enter, save through T.
//
// It is an estimate: U in a mixer is hardly known. Watch once how long pieces of known size last, and let
// [TransferForIceMelt] find it. At 200 W/(m² K) in a dough of 20 °C flakes of 2 mm are gone in 76 s, cubes of 30 mm
// not in a quarter of an hour.
//
// It returns an *[reckon.InputError] if:
//   - size is outside 0.01 to 200 mm, or time outside 1 s to 4 h,
//   - ice_temp is missing or outside -40 to 0 °C, or around is missing or outside 1 to 45 °C,
//   - heat_transfer is outside 20 to 5000 W/(m² K).
//
// Source: heat balance at the surface; heat transfer L. Levine, Energy balances in dough mixers III (2003), order
// of magnitude; ice IAPWS R10-06(2009); cases in testdata/cases/doughmath/ice-melt.json.
//
// The inverses are [SizeForIceMelt] and [TransferForIceMelt].
type IceMelt struct {
	Size     unit.Length   `json:"size"`          // smallest dimension of a piece: the thickness of a flake, the edge of a cube; 0.01 to 200 mm
	IceTemp  unit.Temp     `json:"ice_temp"`      // temperature of the ice, -40 to 0 °C
	Around   unit.Temp     `json:"around"`        // mean temperature of the dough around it while it melts, 1 to 45 °C
	Transfer float64       `json:"heat_transfer"` // heat that reaches its surface, in W/(m² K), 20 to 5000; some 200 is the low end for dough at a wall
	Time     unit.Duration `json:"time"`          // mixing time, 1 s to 4 h
}

func (IceMelt) ID() string { return "ice-melt" }

// SHELL
func (q IceMelt) Check(c *reckon.Checks) {
	_, err := explainIceMelt(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q IceMelt) Solve() (IceMeltResult, error) { return explainIceMelt(q, nil) }

func (q IceMelt) Show(w *reckon.Working, _ IceMeltResult) { _, _ = explainIceMelt(q, w) }

// IceMeltResult is whether the ice is gone in time.
type IceMeltResult struct {
	Melt       unit.Duration `json:"melt"`       // time until the ice is gone
	Left       unit.Percent  `json:"left"`       // of the smallest dimension, when mixing ends
	Conditions Conditions    `json:"conditions"` // uncalibrated, much-ice
}

const (
	leastIceSize unit.Length = 0.01
	mostIceSize  unit.Length = 200
	leastAround  float64     = 1 // °C; ice does not melt in a dough of 0 °C
)

// iceDensity is that of ice at 0 °C, in kg/m³; IAPWS R10-06(2009).
const iceDensity = 916.72

func explainIceMelt(in IceMelt, w *reckon.Working) (out IceMeltResult, err error) {
	c := reckon.Checks{Func: "ice-melt"}
	reckon.CheckRange(&c, "size", in.Size, leastIceSize, mostIceSize)
	checkMelting(&c, in.IceTemp, in.Around)
	reckon.CheckRange(&c, "heat_transfer", in.Transfer, 20, 5000)
	reckon.CheckRange(&c, "time", in.Time, 1, unit.Hours(4))
	if err := c.Err(); err != nil {
		return IceMeltResult{}, err
	}
	rate := 2 * in.Transfer * in.Around.Celsius() / meltingLoad(in.IceTemp)
	melt := float64(in.Size) / rate
	out = IceMeltResult{Melt: unit.Duration(melt), Left: unit.Percent(100 * max(0, 1-float64(in.Time)/melt)), Conditions: reckon.Uncalibrated}
	if out.Melt > in.Time {
		out.Conditions |= MuchIce
	}
	if w != nil {
		w.Given("smallest dimension", "d", float64(in.Size), "mm", "")
		explainMelting(w, in.IceTemp, in.Around)
		w.Given("heat transfer at the surface", "U", in.Transfer, "W/(m² K)", "")
		w.Given("mixing time", "time", float64(in.Time), "s", "")
		w.Step("rate at which the dimension shrinks", "r", "2*U*T / (rho*h_i)", rate, "mm/s", "from both sides")
		w.Step("time to melt", "t", "d / r", melt, "s", "")
		w.Step("left when mixing ends", "left", "100*max(0, 1 - time/t)", float64(out.Left), "%", "")
	}
	return out, nil
}

// meltingLoad is the heat that melts ice of a temperature, in J for each mm of
// thickness and m² of surface.
func meltingLoad(ice unit.Temp) float64 { return iceDensity * heatToMelt(ice.Celsius()) }

func checkMelting(c *reckon.Checks, ice, around unit.Temp) {
	reckon.CheckTemp(c, "ice_temp", ice, unit.Celsius(-40), unit.Celsius(0))
	reckon.CheckTemp(c, "around", around, unit.Celsius(leastAround), unit.Celsius(45))
}

func explainMelting(w *reckon.Working, ice, around unit.Temp) {
	w.Given("density of ice", "rho", iceDensity, "kg/m³", "IAPWS R10-06(2009)")
	w.Given("temperature of the ice", "T_i", ice.Celsius(), "°C", "")
	w.Step("heat to melt it", "h_i", "333.425 - 2.0967*T_i - 0.00733*T_i*T_i/2", heatToMelt(ice.Celsius()), "kJ/kg", "IAPWS R10-06(2009)")
	w.Given("temperature of the dough around", "T", around.Celsius(), "°C", "")
}

// SizeForIceMelt returns how thick a piece of ice may be to melt in time:
//
//	d = 2*U*(T - 0 °C)*t / (rho*h_i)
//
// It is an inverse of [IceMelt], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - an input is out of the range that [IceMelt] names.
//
// Source: heat balance at the surface; ice IAPWS R10-06(2009).
type SizeForIceMelt struct {
	Time     unit.Duration `json:"time"`          // time in which it must be gone, 1 s to 4 h
	IceTemp  unit.Temp     `json:"ice_temp"`      // temperature of the ice, -40 to 0 °C
	Around   unit.Temp     `json:"around"`        // mean temperature of the dough around it while it melts, 1 to 45 °C
	Transfer float64       `json:"heat_transfer"` // heat that reaches its surface, in W/(m² K), 20 to 5000
}

func (SizeForIceMelt) ID() string { return "size-for-ice-melt" }

// SHELL
func (q SizeForIceMelt) Check(c *reckon.Checks) {
	_, err := explainSizeForIceMelt(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SizeForIceMelt) Solve() (SizeForIceMeltResult, error) { return explainSizeForIceMelt(q, nil) }

func (q SizeForIceMelt) Show(w *reckon.Working, _ SizeForIceMeltResult) {
	_, _ = explainSizeForIceMelt(q, w)
}

// SizeForIceMeltResult is the ice to use.
type SizeForIceMeltResult struct {
	Size       unit.Length `json:"size"`       // largest smallest dimension
	Conditions Conditions  `json:"conditions"` // uncalibrated
}

func explainSizeForIceMelt(in SizeForIceMelt, w *reckon.Working) (out SizeForIceMeltResult, err error) {
	c := reckon.Checks{Func: "size-for-ice-melt"}
	reckon.CheckRange(&c, "time", in.Time, 1, unit.Hours(4))
	checkMelting(&c, in.IceTemp, in.Around)
	reckon.CheckRange(&c, "heat_transfer", in.Transfer, 20, 5000)
	if err := c.Err(); err != nil {
		return SizeForIceMeltResult{}, err
	}
	rate := 2 * in.Transfer * in.Around.Celsius() / meltingLoad(in.IceTemp)
	out = SizeForIceMeltResult{Size: unit.Length(rate * float64(in.Time)), Conditions: reckon.Uncalibrated}
	if w != nil {
		explainMelting(w, in.IceTemp, in.Around)
		w.Given("heat transfer at the surface", "U", in.Transfer, "W/(m² K)", "")
		w.Given("time", "t", float64(in.Time), "s", "")
		w.Step("smallest dimension", "d", "2*U*T / (rho*h_i) * t", float64(out.Size), "mm", "from both sides")
	}
	return out, nil
}

// TransferForIceMelt returns the heat transfer at the surface of ice that was seen to melt:
//
//	U = rho*h_i*d / (2*(T - 0 °C)*t)
//
// Use it to calibrate [IceMelt] for a mixer and a dough; it is its inverse, with the same source.
// A value outside 20 to 5000 W/(m² K) is not one of a dough in a mixer.
//
// It returns an *[reckon.InputError] if:
//   - melt is outside 1 s to 4 h,
//   - another input is out of the range that [IceMelt] names.
//
// Source: heat balance at the surface; ice IAPWS R10-06(2009).
type TransferForIceMelt struct {
	Size    unit.Length   `json:"size"`     // smallest dimension of a piece, 0.01 to 200 mm
	Melt    unit.Duration `json:"melt"`     // time until it was gone, 1 s to 4 h
	IceTemp unit.Temp     `json:"ice_temp"` // temperature of the ice, -40 to 0 °C
	Around  unit.Temp     `json:"around"`   // mean temperature of the dough around it, 1 to 45 °C
}

func (TransferForIceMelt) ID() string { return "transfer-for-ice-melt" }

// SHELL
func (q TransferForIceMelt) Check(c *reckon.Checks) {
	_, err := explainTransferForIceMelt(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TransferForIceMelt) Solve() (TransferForIceMeltResult, error) {
	return explainTransferForIceMelt(q, nil)
}

func (q TransferForIceMelt) Show(w *reckon.Working, _ TransferForIceMeltResult) {
	_, _ = explainTransferForIceMelt(q, w)
}

// TransferForIceMeltResult is the heat transfer of that mixer and dough.
type TransferForIceMeltResult struct {
	Transfer   float64    `json:"heat_transfer"` // in W/(m² K)
	Conditions Conditions `json:"conditions"`    // outside-source
}

func explainTransferForIceMelt(in TransferForIceMelt, w *reckon.Working) (out TransferForIceMeltResult, err error) {
	c := reckon.Checks{Func: "transfer-for-ice-melt"}
	reckon.CheckRange(&c, "size", in.Size, leastIceSize, mostIceSize)
	reckon.CheckRange(&c, "melt", in.Melt, 1, unit.Hours(4))
	checkMelting(&c, in.IceTemp, in.Around)
	if err := c.Err(); err != nil {
		return TransferForIceMeltResult{}, err
	}
	out = TransferForIceMeltResult{Transfer: meltingLoad(in.IceTemp) * float64(in.Size) / (2 * in.Around.Celsius() * float64(in.Melt))}
	if !(out.Transfer >= 20 && out.Transfer <= 5000) {
		out.Conditions |= reckon.OutsideSource
	}
	if w != nil {
		w.Given("smallest dimension", "d", float64(in.Size), "mm", "")
		w.Given("time until it was gone", "t", float64(in.Melt), "s", "")
		explainMelting(w, in.IceTemp, in.Around)
		w.Step("heat transfer at the surface", "U", "rho*h_i*d / (2*T*t)", out.Transfer, "W/(m² K)", "from both sides")
	}
	return out, nil
}
