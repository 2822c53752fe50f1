package line

import (
	"strconv"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Product is what one bread or roll asks of a line.
type Product struct {
	Name      string                  `json:"name"`                  // what the order calls it
	Formula   []doughmath.Ingredient  `json:"formula"`               // in the order of weighing; the flours make 100 %
	Baked     unit.Mass               `json:"baked"`                 // weight wanted of one piece as sold
	Loss      doughmath.Losses        `json:"loss"`                  // what is lost from dough to the piece as sold
	Tolerance unit.Mass               `json:"tolerance"`             // how far a dough piece may be off either way, less than the piece
	Dough     unit.Temp               `json:"dough"`                 // dough temperature wanted
	Friction  unit.TempDelta          `json:"friction"`              // warming in the mixer
	Basis     doughmath.FrictionBasis `json:"friction_basis"`        // "once" or "per-factor"
	FloorTime unit.Duration           `json:"floor_time,omitzero"`   // rest between mixer and divider, up to 24 h; leave out for none
	HopperMax unit.Duration           `json:"hopper_max"`            // longest that dough may stand in the hopper, up to 24 h
	Across    int                     `json:"across"`                // pieces across the divider
	DwellLow  unit.Duration           `json:"dwell_low"`             // shortest stay in the overhead proofer, 1 s to 24 h
	DwellHigh unit.Duration           `json:"dwell_high"`            // longest stay, dwell_low to 24 h
	RateHigh  unit.PieceRate          `json:"rate_high,omitzero"`    // most pieces that oven and packing take, 0.01 to 10000 pieces/min; leave out if they never bind
	Density   unit.Density            `json:"density"`               // of the piece as it is rounded and moulded, 0.1 to 1.5 g/ml
	Route     Route                   `json:"route"`                 // "stamper" or "moulder"
	Turns     float64                 `json:"turns,omitzero"`        // curls wanted, for the moulder, 0.5 to 20; leave out for the stamper
	Aspect    float64                 `json:"sheet_aspect,omitzero"` // sheet length over width, for the moulder, 0.5 to 10
	Length    unit.Length             `json:"length,omitzero"`       // length of the moulded piece, 1 to 5000 mm; leave out for the stamper

	Preferments    []doughmath.Preferment `json:"preferments,omitzero"`     // sponges, levains, soakers, old dough; leave out for a straight dough
	PrefermentTemp unit.Temp              `json:"preferment_temp,omitzero"` // their temperature; counts as a factor of the rule if given
	Heat           *Heat                  `json:"heat,omitzero"`            // for the heat balance of mixing; leave out to use the factor rule
	Label          Label                  `json:"label,omitzero"`           // the weight promised; leave out if none is
	Check          Check                  `json:"check,omitzero"`           // how the piece weight is watched; leave out if it is not planned here
	Stickiness     float64                `json:"stickiness,omitzero"`      // of the dough on the shop's own scale, for the dusting flour
	Panned         *Panned                `json:"panned,omitzero"`          // the pan that the piece goes into; leave out if it goes on a tray
	FinalStay      unit.Duration          `json:"final_stay,omitzero"`      // time in the final proof; leave out if it is not planned
	PerHolder      int                    `json:"per_holder,omitzero"`      // pieces in one rack, box or carrier of the final proof, with final_stay
}

// Mixer is the mixer that feeds the line.
type Mixer struct {
	Low    unit.Mass     `json:"low"`    // least dough that it mixes well, 0 to high
	High   unit.Mass     `json:"high"`   // most dough that it takes, above 0
	Mixing unit.Duration `json:"mixing"` // from scaling in to dough out, for one batch, 1 s to 24 h
	Cycle  unit.Duration `json:"cycle"`  // from one batch to the next, at best, 1 s to 24 h; less than mixing if bowls or mixers take turns
}

// Shift is what the day brings.
type Shift struct {
	Flour      unit.Temp            `json:"flour"`                // flour temperature
	Room       unit.Temp            `json:"room"`                 // room temperature
	Tap        unit.Temp            `json:"tap"`                  // temperature of the cold tap, 0 to 40 °C
	Waste      unit.Percent         `json:"waste,omitzero"`       // dough that sticks, is trimmed or is swept up; leave out for none
	WasteBasis doughmath.WasteBasis `json:"waste_basis,omitzero"` // "order" or "dough"; needed with a waste allowance
	Mixer      Mixer                `json:"mixer"`                // the mixer
	Division   unit.Mass            `json:"division"`             // division of the ingredient scale, 1 mg or more
}

// Order is a number of pieces of one product.
type Order struct {
	Pieces  int     `json:"pieces"`         // good pieces wanted, 1 to 100 million
	Spare   int     `json:"spare,omitzero"` // pieces made on top, for weighing and samples; leave out for none
	Product Product `json:"product"`        // of what
}

// check reports what the stations' own checks would not, or not under this name.
func (p *Product) check(c *reckon.Checks, o *Order, s *Shift, l *Line) {
	reckon.CheckNotNegative(c, "order.product.tolerance", p.Tolerance)
	reckon.CheckEither(c, "order.product.route", p.Route, ToStamper, ToMoulder)
	reckon.CheckRange(c, "order.product.floor_time", p.FloorTime, 0, longest)
	reckon.CheckRange(c, "order.product.density", p.Density, 0.1, 1.5)
	reckon.CheckCount(c, "order.pieces", o.Pieces, 1, mostPieces)
	switch {
	case p.Route == ToMoulder:
		reckon.CheckRange(c, "order.product.length", p.Length, 1, 5000)
		reckon.CheckRange(c, "order.product.turns", p.Turns, 0.5, 20)
	case p.Turns != 0 || p.Aspect != 0 || p.Length != 0:
		const out = "left out, for a piece that goes to the stamper"
		if p.Turns != 0 {
			c.Fail("order.product.turns", strconv.FormatFloat(p.Turns, 'g', 4, 64), out)
		}
		if p.Aspect != 0 {
			c.Fail("order.product.sheet_aspect", strconv.FormatFloat(p.Aspect, 'g', 4, 64), out)
		}
		if p.Length != 0 {
			c.Fail("order.product.length", p.Length.String(), out)
		}
	}
	if p.Stickiness == 0 && l.Duster.From > 0 {
		c.Fail("order.product.stickiness", "missing", "how sticky the dough is on the shop's scale: the line's flour_duster goes by it")
	}
	if p.Check != (Check{}) {
		reckon.CheckRange(c, "order.product.check.every", p.Check.Every, shortest, longest)
	}
	if reckon.CheckPositive(c, "shift.mixer.high", s.Mixer.High) {
		reckon.CheckRange(c, "shift.mixer.low", s.Mixer.Low, 0, s.Mixer.High)
	}
	reckon.CheckRange(c, "shift.mixer.mixing", s.Mixer.Mixing, shortest, longest)
	reckon.CheckRange(c, "shift.mixer.cycle", s.Mixer.Cycle, shortest, longest)
	reckon.CheckTemp(c, "shift.tap", s.Tap, unit.Celsius(0), unit.Celsius(40))
	reckon.CheckPositive(c, "shift.division", s.Division)
	if p.RateHigh != 0 {
		reckon.CheckRange(c, "order.product.rate_high", p.RateHigh, 0.01, 10_000)
	}
}

// Bounds that catch slips of a digit or a unit and keep every result finite.
const (
	mostPieces               = 100_000_000
	shortest   unit.Duration = 1
	longest    unit.Duration = 24 * 3600
)
