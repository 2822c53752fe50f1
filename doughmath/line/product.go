package line

import (
	"slices"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// Order is a number of pieces of one product.
type Order struct {
	Pieces  int     `json:"pieces" range:"1..100000000"` // good pieces to deliver
	Spare   int     `json:"spare,omitzero" range:"-"`    // pieces made on top, for weighing and samples; leave out for none
	Product Product `json:"product"`                     // of what
	Aim     Aim     `json:"aim,omitzero"`                // what speed and batches are chosen for; leave out for the fastest
}

// Product is one bread or roll, as a line has to make it.
type Product struct {
	Name       string                  `json:"name"`                                                         // what the order calls it
	Dough      string                  `json:"dough,omitzero"`                                               // dough or family of doughs that it is made of, as the line's trial pieces name it; leave out if they name none
	Formula    []doughmath.Ingredient  `json:"formula" items:"1..1000"`                                      // in the order of weighing; the flours make 100 %
	Baked      unit.Mass               `json:"baked" range:"-"`                                              // weight of one piece as sold
	Loss       doughmath.Losses        `json:"loss"`                                                         // what is lost from dough to the piece as sold
	Tolerance  unit.Mass               `json:"tolerance" range:"0 g.."`                                      // how far a dough piece may be off either way, less than the piece
	DoughTemp  unit.Temp               `json:"dough_temp" range:"-"`                                         // dough temperature to reach
	Friction   unit.TempDelta          `json:"friction" range:"-"`                                           // warming in the mixer
	Basis      doughmath.FrictionBasis `json:"friction_basis"`                                               // "once" or "per-factor"
	FloorTime  unit.Duration           `json:"floor_time,omitzero" range:"0 s..24 h"`                        // rest between mixer and divider; leave out for none
	HopperMax  unit.Duration           `json:"hopper_max" range:">0 s..24 h"`                                // longest that dough may stand in the hopper
	Across     int                     `json:"across" range:"-"`                                             // pieces across the divider, one of the numbers that the line has trial pieces of this dough for
	DwellLow   unit.Duration           `json:"dwell_low" range:"1 s..24 h"`                                  // shortest stay in the overhead proofer
	DwellHigh  unit.Duration           `json:"dwell_high" range:"1 s..24 h"`                                 // longest stay, at least dwell_low
	RateHigh   unit.PieceRate          `json:"rate_high,omitzero" range:"0.01 pieces/min..10000 pieces/min"` // most pieces that packing, or an oven that the line does not describe, can take; leave out if they never limit the line
	Density    unit.Density            `json:"density" range:"0.1 g/ml..1.5 g/ml"`                           // of the piece as it is rounded and moulded
	Route      Route                   `json:"route"`                                                        // where it goes from the overhead proofer: "stamper", "moulder" or, for a plain round piece, straight to "panning"
	Turns      float64                 `json:"turns,omitzero" range:"-"`                                     // turns of the curl, for the moulder, 0.5 to 20; leave out otherwise
	Aspect     float64                 `json:"sheet_aspect,omitzero" range:"-"`                              // sheet length over width, for the moulder, 0.5 to 10
	TearLimit  unit.Length             `json:"tear_limit,omitzero" range:"-"`                                // thinnest sheet of this dough that did not tear in trials, 0.1 to 200 mm; leave out if not known
	TurnsRatio float64                 `json:"turns_ratio,omitzero" range:"-"`                               // turns counted in cut pieces over turns computed, 0.3 to 2; leave out for 1
	Length     unit.Length             `json:"length,omitzero" range:"-"`                                    // length of the moulded piece, 1 to 5000 mm; leave out otherwise

	Preferments        []doughmath.Preferment `json:"preferments,omitzero" items:"..16"`  // sponges, levains, soakers, old dough; leave out for a straight dough
	PrefermentTemp     unit.Temp              `json:"preferment_temp,omitzero" range:"-"` // their temperature; counts as a factor of the rule if given
	doughmath.YeastUse                        // how the yeast meets the water
	Heat               *Heat                  `json:"heat,omitzero"`                  // for the heat balance of mixing; leave out to use the factor rule
	Label              Label                  `json:"label,omitzero"`                 // the weight promised; leave out if none is
	Check              Check                  `json:"check,omitzero"`                 // how the piece weight is watched; leave out if it is not planned here
	Drift              HopperDrift            `json:"hopper_drift,omitzero"`          // how the dough gasses in the hopper and how its weight is held; leave out if it is not planned
	Stickiness         float64                `json:"stickiness,omitzero" range:"-"`  // of the dough on the bakery's own scale, for the dusting flour
	Rounding           Rounding               `json:"rounding,omitzero"`              // how the rounder is set for it; needed where the line says how it rounds
	Pocketed           *Pocketed              `json:"pocketed,omitzero"`              // how the piece grows in the overhead proofer; needed where the line has the size of its pockets
	Panned             *Panned                `json:"panned,omitzero"`                // the pan that the moulded piece goes into; leave out if it goes on a tray or is not moulded
	FinalStay          unit.Duration          `json:"final_stay,omitzero" range:"-"`  // time in the final proof; leave out if it is not planned
	PerCarrier         int                    `json:"per_carrier,omitzero" range:"-"` // pieces in one rack, box or carrier of the final proof, with final_stay

	Baking Baking `json:"baking,omitzero"` // how it is baked; leave out if that is not planned

	Fittings  []string `json:"fittings,omitzero" items:"1..20"`  // fittings that are in only for products that name them, such as a die; leave out for none
	Allergens []string `json:"allergens,omitzero" items:"0..30"` // allergens that it contains, by the words of the food-safety plan; [] for none, leave out if they are not to be compared

	PrefermentMixes []PrefermentMix `json:"preferment_mixes,omitzero" items:"..16"` // how each preferment is made, one for each; leave out if that is not planned here
}

// PrefermentMix is how one preferment is made.
type PrefermentMix struct {
	Name       string                  `json:"name"`                              // the preferment
	Mixing     unit.Duration           `json:"mixing" range:"-"`                  // weighing and mixing, 0 to 4 h
	Ripening   unit.Duration           `json:"ripening" range:"-"`                // from mixed to ripe, of a soaker until it is soaked, 0 to 168 h
	Keeps      unit.Duration           `json:"keeps,omitzero" range:"0 s..168 h"` // how long it may stand once ripe: one lot then serves all batches mixed by then; leave out if each batch has its own
	TargetTemp unit.Temp               `json:"target_temp,omitzero" range:"-"`    // its temperature wanted; leave out if its water is not to be found
	Friction   unit.TempDelta          `json:"friction,omitzero" range:"-"`       // warming as it is mixed
	Basis      doughmath.FrictionBasis `json:"friction_basis,omitzero"`           // "once" or "per-factor"; needed with target_temp
	doughmath.YeastUse
}

// Heat is what the heat balance of mixing needs beside the formula.
type Heat struct {
	Heats         doughmath.HeatModel `json:"specific_heats"`                    // "trade" or "composition"
	HydrationHeat unit.SpecificEnergy `json:"hydration_heat" range:"-"`          // for each kg of flour, 0 to 100 kJ/kg; the trade uses 15.1 kJ/kg
	Work          unit.SpecificEnergy `json:"work,omitzero" range:"-"`           // mixing work for each kg of dough, 0 to 200 kJ/kg; leave out if power and time are given
	Power         unit.Power          `json:"power,omitzero" range:"-"`          // mean power that reaches the dough, 0 to 1000 kW
	Time          unit.Duration       `json:"time,omitzero" range:"-"`           // how long, 0 to 4 h
	CoolingEnergy unit.Energy         `json:"cooling_energy,omitzero" range:"-"` // heat that a jacket takes out of one batch or that is lost to the room
	Bowl          doughmath.MixerBowl `json:"bowl,omitzero" range:"-"`           // bowl and tool, if their warming counts
	IceTemp       unit.Temp           `json:"ice_temp,omitzero" range:"-"`       // temperature of the ice; required if ice is needed
	Calibrated    bool                `json:"calibrated,omitzero"`               // true if the work was found from a measured dough
	Ingredients   []HeatOf            `json:"ingredients" items:"..100"`         // one for each line of the formula, in its order
}

// HeatOf is what the heat balance needs of one line of the formula.
type HeatOf struct {
	Kind         doughmath.IngredientKind `json:"kind"`                             // what it is, such as "bread-flour" or "water"
	Temp         unit.Temp                `json:"temp,omitzero" range:"-"`          // its temperature; leave out for the water that is to be found
	SpecificHeat unit.SpecificHeat        `json:"specific_heat,omitzero" range:"-"` // its own value in place of the model's, 0.5 to 5 kJ/(kg K)
}

// Label is the weight promised to a buyer: the baked weight is its nominal quantity.
type Label struct {
	Rules       divider.RuleSetName `json:"rules"`                           // a rule set by authority and year; see [divider.TargetWeight]
	SD          unit.Mass           `json:"sd" range:"-"`                    // standard deviation of the pieces as sold; up to a quarter of the baked weight
	FirstShare  unit.Percent        `json:"first_share,omitzero" range:"-"`  // share of pieces taken to be tolerable below the first limit
	SecondShare unit.Percent        `json:"second_share,omitzero" range:"-"` // the same below the second limit
	Drift       unit.Mass           `json:"drift,omitzero" range:"-"`        // how far the mean drifts down between checks; up to a quarter of the baked weight
}

// Check is how the piece weight is watched during the run.
type Check struct {
	SD         unit.Mass     `json:"sd" range:"0.000001 g.."`               // standard deviation of single dough pieces, from an earlier sample
	HalfWidth  unit.Mass     `json:"half_width" range:"-"`                  // how closely the mean must be known, plus or minus
	Confidence unit.Percent  `json:"confidence" range:"50 %..99.99 %"`      // how sure to be of it
	Every      unit.Duration `json:"every" range:"1 s..24 h"`               // from one check to the next
	Division   unit.Mass     `json:"division,omitzero" range:"0 g..100 kg"` // smallest step of the scale that weighs the pieces; leave out if it is fine
	Group      int           `json:"group,omitzero" range:"-"`              // pieces to weigh together where single weighing is too much work, 2 to 1000
}

// Pocketed is how a piece grows in its pocket of the overhead proofer.
type Pocketed struct {
	Growth   float64 `json:"growth" range:"1..8"`   // volume as it leaves the overhead proofer over volume as rounded
	Flatness float64 `json:"flatness" range:"1..3"` // its diameter there over the diameter of a ball of the same volume
	Measured bool    `json:"measured,omitzero"`     // true if both were measured on this dough
}

// Rounding is how the rounder is set for a product.
type Rounding struct {
	Speed       unit.RotationRate `json:"speed" range:"-"`                 // of the drum on a track, of the rounding motion in a cup: one that the line's rounder reaches
	TimeLow     unit.Duration     `json:"time_low,omitzero" range:"-"`     // on a track: shortest rounding that was good, up to 10 min; leave out if not known
	TimeHigh    unit.Duration     `json:"time_high,omitzero" range:"-"`    // longest, at least time_low
	MotionsLow  float64           `json:"motions_low,omitzero" range:"-"`  // in a cup: fewest motions that were good, up to 10000; leave out if not known
	MotionsHigh float64           `json:"motions_high,omitzero" range:"-"` // most, at least motions_low
}

// check refuses what the line's rounder does not do. What its own calculation refuses is told by that.
func (g *Rounding) check(c *reckon.Checks, k *Rounder) {
	if k.Way != OnTrack && k.Way != InCup {
		return // the line has no rounder, or has said what is wrong with it
	}
	mark := c.Mark()
	if k.SpeedLow > 0 && k.SpeedHigh >= k.SpeedLow && !(g.Speed >= k.SpeedLow && g.Speed <= k.SpeedHigh) {
		c.Fail("speed", g.Speed.String(), k.SpeedLow.String()+" to "+k.SpeedHigh.String()+", which the line's rounder reaches")
	}
	const cup, track = "nothing: the line rounds in a cup, where motions count", "nothing: the line rounds along a track, where time counts"
	if k.Way == InCup && g.TimeLow != 0 {
		c.Fail("time_low", g.TimeLow.String(), cup)
	}
	if k.Way == InCup && g.TimeHigh != 0 {
		c.Fail("time_high", g.TimeHigh.String(), cup)
	}
	if k.Way == OnTrack && g.MotionsLow != 0 {
		c.Fail("motions_low", strconv.FormatFloat(g.MotionsLow, 'g', 4, 64), track)
	}
	if k.Way == OnTrack && g.MotionsHigh != 0 {
		c.Fail("motions_high", strconv.FormatFloat(g.MotionsHigh, 'g', 4, 64), track)
	}
	c.Under(mark, "rounding")
}

// Panned is the pan that a piece goes into, and how it grows there.
type Panned struct {
	Pan      molder.Pan   `json:"pan"`                 // measured inside
	Growth   float64      `json:"growth" range:"1..8"` // volume at the end of the proof over volume as panned
	FillLow  unit.Percent `json:"fill_low" range:"-"`  // least fill of the pan at the end of the proof
	FillHigh unit.Percent `json:"fill_high" range:"-"` // largest fill, above fill_low
	Measured bool         `json:"measured,omitzero"`   // true if growth was measured on this dough
}

// Shift is the day's temperatures, waste and mixer.
type Shift struct {
	FlourTemp  unit.Temp            `json:"flour_temp" range:"-40 °C..60 °C"` // flour temperature
	Room       unit.Temp            `json:"room" range:"-40 °C..60 °C"`       // room temperature
	Tap        unit.Temp            `json:"tap" range:"0 °C..40 °C"`          // temperature of the cold tap
	Waste      unit.Percent         `json:"waste,omitzero" range:"-"`         // dough that sticks in bowl and hopper or is swept up before it is cut; leave out for none. Pieces lost behind the divider are spare pieces
	WasteBasis doughmath.WasteBasis `json:"waste_basis,omitzero"`             // "order" or "dough"; needed with a waste allowance
	Mixer      Mixer                `json:"mixer"`                            // the mixer
	HotTap     unit.Temp            `json:"hot_tap,omitzero" range:"-"`       // temperature of the hot tap, warmer than the cold one and up to 95 °C; leave out if there is none
	Division   unit.Mass            `json:"division,omitzero" range:"-"`      // division of the ingredient scale, 1 mg or more; leave out if scales are given
	Scales     []doughmath.Scale    `json:"scales,omitzero" items:"0..16"`    // the ingredient scales, if there are several, such as one in the floor and one on the bench
}

// Mixer is the mixer that feeds the line.
type Mixer struct {
	Low    unit.Mass     `json:"low" range:"-"`            // least dough that it mixes well, up to high
	High   unit.Mass     `json:"high" range:">0 g.."`      // most dough that it can mix
	Mixing unit.Duration `json:"mixing" range:"1 s..24 h"` // from scaling in to dough out, for one batch
	Cycle  unit.Duration `json:"cycle" range:"1 s..24 h"`  // from one batch to the next, at best; less than mixing if bowls or mixers take turns
}

// check tells what no station tells, or not under this name.
func (o *Order) check(c *reckon.Checks, l *Line) {
	mark := c.Mark()
	reckon.CheckCount(c, "pieces", o.Pieces, 1, mostPieces)
	o.Aim.check(c)
	product := c.Mark()
	o.Product.check(c, l)
	c.Under(product, "product")
	c.Under(mark, "order")
}

func (p *Product) check(c *reckon.Checks, l *Line) {
	reckon.CheckNotNegative(c, "tolerance", p.Tolerance)
	p.Route.check(c)
	reckon.CheckRange(c, "floor_time", p.FloorTime, 0, longest)
	reckon.CheckRange(c, "density", p.Density, 0.1, 1.5)
	if p.Route == ToMoulder {
		reckon.CheckRange(c, "length", p.Length, 1, 5000)
	} else {
		p.checkNotMoulded(c)
	}
	if p.Stickiness == 0 && slices.ContainsFunc(l.Dusters, func(d Duster) bool { return d.Scale.StickinessLow > 0 }) {
		c.Fail("stickiness", "missing", "how sticky the dough is on the bakery's scale: the line's flour_dusters depend on it")
	}
	p.Rounding.check(c, &l.Rounder)
	p.checkFittings(c, l)
	switch pocket := l.Pocket != (proof.Pocket{}); {
	case pocket && p.Pocketed == nil:
		c.Fail("pocketed", "missing", "how the piece grows in the overhead proofer: the line's pocket has a size that it must fit")
	case !pocket && p.Pocketed != nil:
		c.Fail("pocketed", "given", "nothing, or the size of line.pocket with it")
	}
	for i := range p.PrefermentMixes[:min(len(p.PrefermentMixes), mostMixes)] {
		mark := c.Mark()
		reckon.CheckRange(c, "keeps", p.PrefermentMixes[i].Keeps, 0, unit.Hours(168))
		c.Item(mark, "preferment_mixes", i)
	}
	if p.Baking != (Baking{}) {
		p.Baking.check(c, p, l)
	}
	if p.Check != (Check{}) {
		reckon.CheckRange(c, "check.every", p.Check.Every, shortest, longest)
	}
	if p.RateHigh != 0 {
		reckon.CheckRange(c, "rate_high", p.RateHigh, 0.01, 10_000)
	}
}

// checkFittings requires fittings of the line that wait for being named, and allergens that have a word.
func (p *Product) checkFittings(c *reckon.Checks, l *Line) {
	if p.Fittings != nil && len(p.Fittings) == 0 {
		c.Fail("fittings", "empty", "the fittings that it needs")
	}
	if reckon.CheckItems(c, "fittings", len(p.Fittings), mostPositions) {
		for i, name := range p.Fittings {
			if j := l.control(name); j < 0 || !l.Controls[j].ByName {
				c.Fail("fittings["+strconv.Itoa(i)+"]", strconv.Quote(unit.Clip(name)), "a fitting of the line that is in by_name")
			}
		}
	}
	if reckon.CheckItems(c, "allergens", len(p.Allergens), mostAllergens) {
		for i, word := range p.Allergens {
			if word == "" || slices.Contains(p.Allergens[:i], word) {
				c.Fail("allergens["+strconv.Itoa(i)+"]", strconv.Quote(unit.Clip(word)), "a word, each once")
			}
		}
	}
}

// mostAllergens bounds the allergens of a product.
const mostAllergens = 30

// checkNotMoulded refuses what only a moulded piece has.
func (p *Product) checkNotMoulded(c *reckon.Checks) {
	const out = "nothing: leave it out for a piece that is not moulded"
	if p.Turns != 0 {
		c.Fail("turns", strconv.FormatFloat(p.Turns, 'g', 4, 64), out)
	}
	if p.Aspect != 0 {
		c.Fail("sheet_aspect", strconv.FormatFloat(p.Aspect, 'g', 4, 64), out)
	}
	if p.TearLimit != 0 {
		c.Fail("tear_limit", p.TearLimit.String(), out)
	}
	if p.TurnsRatio != 0 {
		c.Fail("turns_ratio", strconv.FormatFloat(p.TurnsRatio, 'g', 4, 64), out)
	}
	if p.Length != 0 {
		c.Fail("length", p.Length.String(), out)
	}
	if p.Panned != nil {
		c.Fail("panned", "given", out)
	}
}

func (s *Shift) check(c *reckon.Checks) {
	mark := c.Mark()
	if reckon.CheckPositive(c, "mixer.high", s.Mixer.High) {
		reckon.CheckRange(c, "mixer.low", s.Mixer.Low, 0, s.Mixer.High)
	}
	reckon.CheckRange(c, "mixer.mixing", s.Mixer.Mixing, shortest, longest)
	reckon.CheckRange(c, "mixer.cycle", s.Mixer.Cycle, shortest, longest)
	reckon.CheckTemp(c, "tap", s.Tap, unit.Celsius(0), unit.Celsius(40))
	if s.HotTap.Given() && reckon.CheckTemp(c, "hot_tap", s.HotTap, unit.Celsius(0), unit.Celsius(95)) && s.Tap.Given() && !s.Tap.Less(s.HotTap) {
		c.Fail("hot_tap", s.HotTap.String(), "warmer than the cold tap of "+s.Tap.String())
	}
	if len(s.Scales) == 0 {
		reckon.CheckPositive(c, "division", s.Division)
	}
	c.Under(mark, "shift")
}

// Bounds that catch slips of a digit or a unit and keep every result finite.
const (
	mostPieces               = 100_000_000
	shortest   unit.Duration = 1
	longest    unit.Duration = 24 * 3600
)
