package proof

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// SweatWater returns the moisture that condenses on a piece in the proofer,
// and the dusting flour that would take it up:
//
//	m_w = share/100 * m * c * (T_until - T_start) / h, m_flour = m_w / (uptake / 100)
//
// With a share of 100 % it is a bound by the energy balance: all the heat that
// warms the piece comes from condensation. In truth air and radiation warm it
// as well, and the core lags behind: weigh pieces before and after, and take
// [ShareForSweatWater] with origin "measured": any other share is an estimate,
// the bound too, and is marked so. More flour is not the only cure, nor the first: less
// humidity or warmer dough sweats less, and only as much flour is right as
// keeps pieces from sticking.
//
// It returns an *[reckon.InputError] if:
//   - piece, specific_heat, start, until, latent_heat, share, uptake or dusted is out of its range,
//   - origin is not named,
//   - until is below start, or dusted is given without uptake.
//
// Source: first law; case P-10 in testdata/cases/proof/sweat-water.json.
//
// The inverse is [ShareForSweatWater].
type SweatWater struct {
	Piece        unit.Mass           `json:"piece"`           // mass of the piece, 1 g to 100 kg
	SpecificHeat unit.SpecificHeat   `json:"specific_heat"`   // of the dough, 1.5 to 4.2 kJ/(kg K); about 2.8 for bread dough
	Start        unit.Temp           `json:"start"`           // dough as it comes in, 0 to 50 °C
	Until        unit.Temp           `json:"until"`           // dough when the sweating ends, at most the dew point; start to 60 °C
	Latent       unit.SpecificEnergy `json:"latent_heat"`     // of condensation, 2300 to 2510 kJ/kg; 2420 at about 34 °C
	Share        unit.Percent        `json:"share"`           // part of the warming that condensation does, 0 to 100 %; 100 % gives the bound that cannot be passed, see [ShareForSweatWater]
	Origin       ValueOrigin         `json:"origin"`          // "measured" or "assumed": where share comes from
	Uptake       unit.Percent        `json:"uptake,omitzero"` // water that dusting flour takes up before it gets sticky, in percent of its own mass, 1 to 100 %: from trials; leave out if no flour is asked about
	Dusted       unit.Mass           `json:"dusted,omitzero"` // dusting flour on the piece, up to its own mass, to be held against the need; only with uptake
}

func (SweatWater) ID() string { return "sweat-water" }

// SHELL
func (q SweatWater) Check(c *reckon.Checks) {
	_, err := explainSweatWater(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SweatWater) Solve() (SweatWaterResult, error) { return explainSweatWater(q, nil) }

func (q SweatWater) Show(w *reckon.Working, _ SweatWaterResult) { _, _ = explainSweatWater(q, w) }

// SweatWaterResult is the moisture on the piece.
type SweatWaterResult struct {
	Heat       unit.Energy     `json:"heat"`       // that warms the piece
	Water      unit.Mass       `json:"water"`      // condensed on it
	Percent    unit.Percent    `json:"percent"`    // the same, of the piece
	Flour      unit.Mass       `json:"flour"`      // dusting flour that takes it up; 0 if no uptake is given
	Conditions Conditions      `json:"conditions"` // uncalibrated (share assumed), surface-sweating (less flour on the piece than that)
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust, if flour is asked about
}

// checkWarming checks a piece that is warmed.
func checkWarming(c *reckon.Checks, piece unit.Mass, heat unit.SpecificHeat, start, until unit.Temp, latent unit.SpecificEnergy) {
	reckon.CheckRange(c, "piece", piece, 1, unit.Kilograms(100))
	reckon.CheckRange(c, "specific_heat", heat, 1.5, 4.2)
	if reckon.CheckTemp(c, "start", start, coldestDough, hottestDough) {
		reckon.CheckTemp(c, "until", until, start, unit.Celsius(60))
	}
	reckon.CheckRange(c, "latent_heat", latent, 2300, 2510)
}

// warmingHeat returns the heat that warms a piece, in kJ.
func warmingHeat(piece unit.Mass, heat unit.SpecificHeat, start, until unit.Temp) float64 {
	return piece.Kilograms() * float64(heat) * float64(until.Sub(start))
}

func explainSweatWater(in SweatWater, w *reckon.Working) (out SweatWaterResult, err error) {
	c := reckon.Checks{Func: "sweat-water"}
	checkWarming(&c, in.Piece, in.SpecificHeat, in.Start, in.Until, in.Latent)
	reckon.CheckRange(&c, "share", in.Share, 0, 100)
	reckon.CheckEither(&c, "origin", in.Origin, OriginMeasured, OriginAssumed)
	if in.Uptake != 0 {
		reckon.CheckRange(&c, "uptake", in.Uptake, 1, 100)
	}
	switch {
	case in.Dusted != 0 && in.Uptake == 0:
		c.Fail("dusted", in.Dusted.String(), "nothing, or the uptake of the flour as well")
	case in.Dusted != 0:
		reckon.CheckRange(&c, "dusted", in.Dusted, 0, max(0, in.Piece))
	}
	if err := c.Err(); err != nil {
		return SweatWaterResult{}, err
	}
	heat := warmingHeat(in.Piece, in.SpecificHeat, in.Start, in.Until)
	water := float64(in.Share) / 100 * heat / float64(in.Latent) * 1000
	out = SweatWaterResult{Heat: unit.Kilojoules(heat), Water: unit.Grams(water), Percent: unit.Percent(water / in.Piece.Grams() * 100)}
	if in.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	if in.Uptake != 0 {
		out.Flour = unit.Grams(water / (float64(in.Uptake) / 100))
		out.Cautions |= reckon.FlourDust
		if in.Dusted != 0 && in.Dusted < out.Flour {
			out.Conditions |= SurfaceSweating
		}
	}
	if w != nil {
		explainWarming(w, in.Piece, in.SpecificHeat, in.Start, in.Until, in.Latent, heat)
		w.Given("share of the warming", "s", float64(in.Share), "%", "")
		w.Step("water condensed", "m_w", "s / 100 * Q / h * 1000", water, "g", "")
		if in.Uptake != 0 {
			w.Given("water that flour takes up", "u", float64(in.Uptake), "%", "")
			w.Step("flour that takes it up", "m_f", "m_w / (u / 100)", float64(out.Flour), "g", "")
		} else {
			w.Step("of the piece", "p", "m_w / m * 100", float64(out.Percent), "%", "")
		}
	}
	return out, nil
}

func explainWarming(w *reckon.Working, piece unit.Mass, heat unit.SpecificHeat, start, until unit.Temp, latent unit.SpecificEnergy, q float64) {
	w.Given("piece", "m", float64(piece), "g", "")
	w.Given("specific heat", "c", float64(heat), "kJ/(kg K)", "")
	w.Given("dough as it comes in", "T_1", start.Celsius(), "°C", "")
	w.Given("dough when the sweating ends", "T_2", until.Celsius(), "°C", "")
	w.Given("latent heat", "h", float64(latent), "kJ/kg", "")
	w.Step("heat that warms the piece", "Q", "m / 1000 * c * (T_2 - T_1)", q, "kJ", "first law")
}

// ShareForSweatWater returns the part of a piece's warming that condensation
// does, from the mass that it gained:
//
//	share = 100 * gain * h / (m * c * (T_until - T_start))
//
// It is the calibration for [SweatWater] and its inverse: use the value with
// origin "measured", for this piece and this proofer only.
//
// It returns an *[reckon.InputError] if:
//   - an input is out of its range, or until is not above start,
//   - the gain is more than the energy balance allows: weigh again.
//
// Source: first law.
type ShareForSweatWater struct {
	Piece        unit.Mass           `json:"piece"`         // mass of the piece as it comes in, 1 g to 100 kg
	SpecificHeat unit.SpecificHeat   `json:"specific_heat"` // of the dough, 1.5 to 4.2 kJ/(kg K)
	Start        unit.Temp           `json:"start"`         // dough as it comes in, 0 to 50 °C
	Until        unit.Temp           `json:"until"`         // dough when it is weighed again, above start, to 60 °C
	Latent       unit.SpecificEnergy `json:"latent_heat"`   // of condensation, 2300 to 2510 kJ/kg
	Gain         unit.Mass           `json:"gain"`          // mass gained, 0 to what the energy balance allows
}

func (ShareForSweatWater) ID() string { return "share-for-sweat-water" }

// SHELL
func (q ShareForSweatWater) Check(c *reckon.Checks) {
	_, err := explainShareForSweatWater(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ShareForSweatWater) Solve() (ShareForSweatWaterResult, error) {
	return explainShareForSweatWater(q, nil)
}

func (q ShareForSweatWater) Show(w *reckon.Working, _ ShareForSweatWaterResult) {
	_, _ = explainShareForSweatWater(q, w)
}

// ShareForSweatWaterResult is how much of the warming condensation does.
type ShareForSweatWaterResult struct {
	Share unit.Percent `json:"share"` // for [SweatWaterInput]
}

func explainShareForSweatWater(in ShareForSweatWater, w *reckon.Working) (out ShareForSweatWaterResult, err error) {
	c := reckon.Checks{Func: "share-for-sweat-water"}
	checkWarming(&c, in.Piece, in.SpecificHeat, in.Start, in.Until, in.Latent)
	if c.OK() && !(in.Until.Sub(in.Start) >= 0.1) {
		c.Fail("until", in.Until.String(), "warmer than start, "+in.Start.String()+", by a tenth of a degree or more")
	}
	reckon.CheckNotNegative(&c, "gain", in.Gain)
	if err := c.Err(); err != nil {
		return ShareForSweatWaterResult{}, err
	}
	heat := warmingHeat(in.Piece, in.SpecificHeat, in.Start, in.Until)
	if bound := unit.Grams(heat / float64(in.Latent) * 1000); in.Gain > bound*(1+1e-9) {
		c.Fail("gain", in.Gain.String(), "at most "+bound.String()+", what the heat that warmed the piece can have condensed: weigh again")
		return ShareForSweatWaterResult{}, c.Err()
	}
	out = ShareForSweatWaterResult{Share: unit.Percent(in.Gain.Grams() / 1000 * float64(in.Latent) / heat * 100)}
	if w != nil {
		explainWarming(w, in.Piece, in.SpecificHeat, in.Start, in.Until, in.Latent, heat)
		w.Given("mass gained", "g", float64(in.Gain), "g", "")
		w.Step("share of the warming", "s", "g / 1000 * h / Q * 100", float64(out.Share), "%", "")
	}
	return out, nil
}
