package proof

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// SweatWater asks how much moisture condenses on a piece in the proofer, and
// how much dusting flour would take it up:
//
//	Q = m / 1000 * c * (T_2 - T_1)
//	m_w = s / 100 * Q / h * 1000, p = m_w / m * 100
//	m_f = m_w / (u / 100)
//
// With a share of 100 % it is a bound by the energy balance: all the heat that
// warms the piece comes from condensation. In truth air and radiation warm it
// as well, and the core lags behind: weigh pieces before and after, and take
// [ShareForSweatWater] with origin "measured". Any other share is an estimate,
// the bound too, and is marked so. More flour is not the only cure, nor the first: less
// humidity or warmer dough sweats less, and only as much flour is right as
// keeps pieces from sticking.
//
// It is refused if:
//   - until_temp is below start_temp,
//   - dusted is given without uptake.
//
// Source: first law; case P-10 in testdata/cases/proof/sweat-water.json.
//
// The inverse is [ShareForSweatWater].
type SweatWater struct {
	Piece        unit.Mass           `json:"piece" sym:"m" range:"1 g..100 kg"`                          // mass of the piece
	SpecificHeat unit.SpecificHeat   `json:"specific_heat" sym:"c" range:"1.5 kJ/(kg K)..4.2 kJ/(kg K)"` // of the dough; about 2.8 for bread dough
	StartTemp    unit.Temp           `json:"start_temp" sym:"T_1" range:"0 °C..50 °C"`                   // dough as it comes in
	UntilTemp    unit.Temp           `json:"until_temp" sym:"T_2" range:"-"`                             // dough when the sweating ends, at most the dew point; start_temp to 60 °C
	Latent       unit.SpecificEnergy `json:"latent_heat" sym:"h" range:"2300 kJ/kg..2510 kJ/kg"`         // of condensation; 2420 at about 34 °C
	Share        unit.Percent        `json:"share" sym:"s" range:"0 %..100 %"`                           // part of the warming that condensation does; 100 % gives the upper bound, see [ShareForSweatWater]
	Origin       ValueOrigin         `json:"origin"`                                                     // "measured" or "assumed": where share comes from
	Uptake       unit.Percent        `json:"uptake,omitzero" sym:"u" range:"1 %..100 %"`                 // water that dusting flour takes up before it gets sticky, in percent of its own mass: from trials; leave out if no flour is asked about
	Dusted       unit.Mass           `json:"dusted,omitzero" range:"-"`                                  // dusting flour on the piece, up to its own mass, to be compared with the need; only with uptake
}

// SweatWaterResult is the moisture on the piece.
type SweatWaterResult struct {
	LatentHeat unit.Energy     `json:"latent_heat" sym:"Q"` // that warms the piece
	Water      unit.Mass       `json:"water" sym:"m_w"`     // condensed on it
	Percent    unit.Percent    `json:"percent" sym:"p"`     // the same, of the piece
	Flour      unit.Mass       `json:"flour" sym:"m_f"`     // dusting flour that takes it up; 0 if no uptake is given
	Conditions Conditions      `json:"conditions"`          // uncalibrated (share assumed), surface-sweating (less flour on the piece than that)
	Cautions   reckon.Cautions `json:"cautions"`            // flour-dust, if flour is asked about
}

func (SweatWater) ID() string { return "sweat-water" }

func (q SweatWater) Check(c *reckon.Checks) {
	piece := checkWarming(c, q.Piece, q.SpecificHeat, q.StartTemp, q.UntilTemp, q.Latent)
	reckon.CheckRange(c, "share", q.Share, 0, 100)
	reckon.CheckEither(c, "origin", q.Origin, OriginMeasured, OriginAssumed)
	if q.Uptake != 0 {
		reckon.CheckRange(c, "uptake", q.Uptake, 1, 100)
	}
	switch {
	case q.Dusted != 0 && q.Uptake == 0:
		c.Fail("dusted", q.Dusted.String(), "nothing, or the uptake of the flour as well")
	case piece:
		reckon.CheckRange(c, "dusted", q.Dusted, 0, q.Piece)
	}
}

// checkWarming checks a piece that is warmed.
func checkWarming(c *reckon.Checks, piece unit.Mass, heat unit.SpecificHeat, start, until unit.Temp, latent unit.SpecificEnergy) (known bool) {
	known = reckon.CheckRange(c, "piece", piece, 1, unit.Kilograms(100))
	reckon.CheckRange(c, "specific_heat", heat, 1.5, 4.2)
	if reckon.CheckTemp(c, "start_temp", start, coldestDough, hottestDough) {
		reckon.CheckTemp(c, "until_temp", until, start, unit.Celsius(60))
	}
	reckon.CheckRange(c, "latent_heat", latent, 2300, 2510)
	return known
}

// warmingHeat returns the heat that warms a piece, in kJ.
func warmingHeat(piece unit.Mass, heat unit.SpecificHeat, start, until unit.Temp) float64 {
	return piece.Kilograms() * float64(heat) * float64(until.Sub(start))
}

func (q SweatWater) Solve() (out SweatWaterResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	heat := warmingHeat(q.Piece, q.SpecificHeat, q.StartTemp, q.UntilTemp)
	water := float64(q.Share) / 100 * heat / float64(q.Latent) * 1000
	out = SweatWaterResult{LatentHeat: unit.Kilojoules(heat), Water: unit.Grams(water), Percent: unit.Percent(water / q.Piece.Grams() * 100)}
	if q.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	if q.Uptake != 0 {
		out.Flour = unit.Grams(water / (float64(q.Uptake) / 100))
		out.Cautions |= reckon.FlourDust
		if q.Dusted != 0 && q.Dusted < out.Flour {
			out.Conditions |= SurfaceSweating
		}
	}
	return out, nil
}

func (q SweatWater) Show(w *reckon.Working, out SweatWaterResult) {
	w.Inputs(q)
	w.Lines(out,
		"heat that warms the piece: Q = m/1000{g/kg}*c*(T_2 - T_1)  [first law]",
		"water condensed: m_w = s/100*Q/h*1000{g/kg}",
		"of the piece: p = m_w/m*100",
	)
	if q.Uptake != 0 {
		w.Lines(out, "flour that takes it up: m_f = m_w/(u/100)")
	}
}

// ShareForSweatWater asks what part of a piece's warming condensation does,
// from the mass that it gained:
//
//	Q = m / 1000 * c * (T_2 - T_1)
//	s = m_w / 1000 * h / Q * 100
//
// It is the calibration for [SweatWater] and its inverse: use the value with
// origin "measured", for this piece and this proofer only.
//
// It is refused if:
//   - until_temp is not above start_temp by a tenth of a degree or more,
//   - weight_gain exceeds what the energy balance allows: weigh again.
//
// Source: first law.
//
// The inverse is [SweatWater].
type ShareForSweatWater struct {
	Piece        unit.Mass           `json:"piece" sym:"m" range:"1 g..100 kg"`                          // mass of the piece as it comes in
	SpecificHeat unit.SpecificHeat   `json:"specific_heat" sym:"c" range:"1.5 kJ/(kg K)..4.2 kJ/(kg K)"` // of the dough
	StartTemp    unit.Temp           `json:"start_temp" sym:"T_1" range:"0 °C..50 °C"`                   // dough as it comes in
	UntilTemp    unit.Temp           `json:"until_temp" sym:"T_2" range:"-"`                             // dough when it is weighed again, above start_temp, to 60 °C
	Latent       unit.SpecificEnergy `json:"latent_heat" sym:"h" range:"2300 kJ/kg..2510 kJ/kg"`         // of condensation
	WeightGain   unit.Mass           `json:"weight_gain" sym:"m_w" range:"-"`                            // mass gained, 0 to what the energy balance allows
}

// ShareForSweatWaterResult is how much of the warming condensation does.
type ShareForSweatWaterResult struct {
	Share unit.Percent `json:"share" sym:"s"` // for [SweatWater]
}

func (ShareForSweatWater) ID() string { return "share-for-sweat-water" }

func (q ShareForSweatWater) Check(c *reckon.Checks) { q.check(c) }

// check returns the heat that warmed the piece as well, in kJ.
func (q *ShareForSweatWater) check(c *reckon.Checks) (heat float64) {
	before := c.Mark()
	checkWarming(c, q.Piece, q.SpecificHeat, q.StartTemp, q.UntilTemp, q.Latent)
	if q.UntilTemp.Sub(q.StartTemp) < 0.1 && !c.Told("start_temp") && !c.Told("until_temp") {
		c.Fail("until_temp", q.UntilTemp.String(), "warmer than start_temp, "+q.StartTemp.String()+", by a tenth of a degree or more")
	}
	reckon.CheckNotNegative(c, "weight_gain", q.WeightGain)
	if c.Mark() > before {
		return heat
	}
	heat = warmingHeat(q.Piece, q.SpecificHeat, q.StartTemp, q.UntilTemp)
	if bound := unit.Grams(heat / float64(q.Latent) * 1000); q.WeightGain > bound*(1+1e-9) {
		c.Fail("weight_gain", q.WeightGain.String(), "at most "+bound.String()+", what the heat that warmed the piece can have condensed: weigh again")
	}
	return heat
}

func (q ShareForSweatWater) Solve() (out ShareForSweatWaterResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	heat := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.Share = unit.Percent(q.WeightGain.Grams() / 1000 * float64(q.Latent) / heat * 100)
	return out, nil
}

func (q ShareForSweatWater) Show(w *reckon.Working, out ShareForSweatWaterResult) {
	w.Inputs(q)
	w.Lines(out,
		"heat that warms the piece: Q = m/1000{g/kg}*c*(T_2 - T_1) in kJ  [first law]",
		"share of the warming: s = m_w/1000{g/kg}*h/Q*100",
	)
}
