package line

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// Rounder is the rounding drum as it turns, whichever drum is in.
type Rounder struct {
	Diameter unit.Length       `json:"diameter"`       // of the drum where it drives the piece, 10 mm to 10 m
	Speed    unit.RotationRate `json:"speed"`          // 0.1 to 1000 rev/min
	Path     unit.Length       `json:"path"`           // length that the piece travels along it, 10 mm to 100 m
	Travel   molder.Travel     `json:"travel"`         // "carried" or "rolling"
	Least    unit.Duration     `json:"least,omitzero"` // shortest rounding that was good; leave out if not known
	Most     unit.Duration     `json:"most,omitzero"`  // longest rounding that was good; leave out if not known
}

// FirstPair is the first pair of rollers of a moulder that has two.
type FirstPair struct {
	Recovery float64               `json:"recovery"`            // sheet thickness over gap behind it, 1 to 5
	Limit    float64               `json:"limit"`               // largest reduction that the dough stands in one pair, 1.1 to 10
	Scale    molder.IndicatorScale `json:"scale,omitzero"`      // gaps measured at its indicator; leave out for none
	Last     molder.IndicatorScale `json:"last_scale,omitzero"` // gaps measured at the indicator of the second pair; leave out for none
}

// Chain is the list of heights at which the curling chain can hang.
type Chain struct {
	Heights  []molder.ChainHeight `json:"heights"`           // from the lowest to the highest, each for heavier pieces
	Lightest unit.Mass            `json:"lightest,omitzero"` // lightest piece that was good at the lowest height; leave out if not known
	Margin   unit.Percent         `json:"margin,omitzero"`   // how near to a border counts as between two heights
	Measured bool                 `json:"measured,omitzero"` // true if the list comes from trials on this line
}

// Board is the pressure board that rolls the curled piece out.
type Board struct {
	Length    unit.Length  `json:"length"`              // along the belt, 50 to 10000 mm
	Belt      unit.Speed   `json:"belt"`                // belt speed under it
	Spring    float64      `json:"spring"`              // diameter of the finished piece over the height where it leaves, 1 to 5
	Bite      unit.Percent `json:"bite"`                // how much the entry presses the roll, 0 to 50 % of its diameter
	SealTurns float64      `json:"seal_turns,omitzero"` // least turns that closed the seam; leave out if not known
	Measured  bool         `json:"measured,omitzero"`   // true if spring was measured on this line
}

// Guides are the side guides of the pressure board.
type Guides struct {
	Spread    float64     `json:"spread"`             // length of the finished piece over the distance between them, 0.5 to 2
	Narrowest unit.Length `json:"narrowest,omitzero"` // narrowest that they close
	Widest    unit.Length `json:"widest,omitzero"`    // widest that they open; leave out for no limit
	Measured  bool        `json:"measured,omitzero"`  // true if spread was measured on this line
}

// Panned is the pan that a piece goes into, and how it grows there.
type Panned struct {
	Pan      molder.Pan   `json:"pan"`               // measured inside
	Growth   float64      `json:"growth"`            // volume at the end of the proof over volume as panned, 1 to 8
	FillLow  unit.Percent `json:"fill_low"`          // least wanted fill of the pan at the end of the proof
	FillHigh unit.Percent `json:"fill_high"`         // largest wanted fill
	Measured bool         `json:"measured,omitzero"` // true if growth was measured on this dough
}

// FinalProof is where the pieces proof after make-up.
type FinalProof struct {
	Holder    proof.Holder  `json:"holder"`             // "rack", "box" or "continuous"
	Handling  unit.Duration `json:"handling,omitzero"`  // how long a holder is bound besides the stay
	Available int           `json:"available,omitzero"` // holders that the plant has; leave out if they are not to be checked
}

// Label is the weight promised to a buyer: the baked weight is its nominal quantity.
type Label struct {
	Rules       divider.RuleSetName `json:"rules"`                 // a rule set by authority and year; see [divider.TargetWeight]
	Spread      unit.Mass           `json:"spread"`                // standard deviation of the pieces as sold
	FirstShare  unit.Percent        `json:"first_share,omitzero"`  // share of pieces taken to be tolerable below the first limit
	SecondShare unit.Percent        `json:"second_share,omitzero"` // the same below the second limit
	Drift       unit.Mass           `json:"drift,omitzero"`        // how far the mean wanders down between checks
}

// Check is how the piece weight is watched during the run.
type Check struct {
	SD        unit.Mass     `json:"sd"`         // standard deviation of single dough pieces, from an earlier sample
	HalfWidth unit.Mass     `json:"half_width"` // how well the mean must be known, plus or minus
	Level     unit.Percent  `json:"level"`      // confidence, 50 to 99.99 %
	Every     unit.Duration `json:"every"`      // from one check to the next, 1 s to 24 h
}

// Heat is what the heat balance of mixing needs beside the formula.
type Heat struct {
	Heats         doughmath.HeatModel `json:"specific_heats"`      // "trade" or "composition"
	HydrationHeat unit.SpecificEnergy `json:"hydration_heat"`      // for each kg of flour; the trade uses 15.1 kJ/kg
	Work          unit.SpecificEnergy `json:"work,omitzero"`       // mixing work for each kg of dough; leave out if power and time are given
	Power         unit.Power          `json:"power,omitzero"`      // mean power that reaches the dough
	Time          unit.Duration       `json:"time,omitzero"`       // how long
	Cooling       unit.Energy         `json:"cooling,omitzero"`    // heat taken out of one batch by a jacket or lost to the room
	Bowl          doughmath.MixerBowl `json:"bowl,omitzero"`       // bowl and tool, if their warming counts
	IceTemp       unit.Temp           `json:"ice_temp,omitzero"`   // temperature of the ice; must be there if ice is needed
	Calibrated    bool                `json:"calibrated,omitzero"` // true if the work was found from a measured dough
	Ingredients   []HeatOf            `json:"ingredients"`         // one for each line of the formula, in its order
}

// HeatOf is what the heat balance needs of one line of the formula.
type HeatOf struct {
	Kind         doughmath.IngredientKind `json:"kind"`                   // what it is, such as "bread-flour" or "water"
	Temp         unit.Temp                `json:"temp,omitzero"`          // its temperature; leave out for the water that is to be found
	SpecificHeat unit.SpecificHeat        `json:"specific_heat,omitzero"` // its own value in place of the model's
}

// label: what the law on weights asks of the mean.
func (r *run) label() {
	p := r.product
	if p.Label == (Label{}) {
		return
	}
	var err error
	r.w.Heading("Label")
	askTargetWeight := divider.TargetWeight{
		Rules: p.Label.Rules, Nominal: p.Baked, Spread: p.Label.Spread, FirstShare: p.Label.FirstShare, SecondShare: p.Label.SecondShare,
		Drift: p.Label.Drift, Fermentation: p.Loss.Fermentation, Bake: p.Loss.Bake, Cooling: p.Loss.Cooling, Combine: p.Loss.Combine,
	}
	r.out.Label, err = askTargetWeight.Solve()
	if r.w != nil && err == nil {
		askTargetWeight.Show(r.w, r.out.Label)
	}
	r.adopt("order.product", err, func(field string) string {
		if field == "nominal" {
			return "baked"
		}
		return "label." + field
	})
	if w := r.w; w != nil && err == nil {
		o := &r.out.Label
		w.Given("lowest mean as sold", "m_t", float64(o.Target), "g", "")
		w.Given("dough piece for it", "m_d", float64(o.Dough), "g", "")
		w.Given("first limit as sold", "T_1", float64(o.FirstLimit), "g", "")
		w.Step("first limit on the dough piece", "D_1", "T_1*m_d/m_t", float64(o.DoughFirst), "g", "by the mean loss")
		w.Given("second limit as sold", "T_2", float64(o.SecondLimit), "g", "")
		w.Step("second limit on the dough piece", "D_2", "T_2*m_d/m_t", float64(o.DoughSecond), "g", "by the mean loss")
	}
}

// mark: whether what the mark gives is enough for the label and within the
// tolerance. If rounding alone took it below the label, the handle goes one
// step further.
func (r *run) mark() {
	o, p := r.out, r.product
	// What binary arithmetic leaves over is not weight that is missing.
	enough := unit.Mass(float64(o.Label.Dough) * (1 - 1e-9))
	if o.Mark.Expected < enough {
		r.heavier()
	}
	if o.Mark.Expected < enough {
		o.Label.Conditions |= divider.BelowLabel
	}
	if step := r.line.Divider.MarkStep; p.Tolerance > 0 && (o.Mark.Expected < o.PieceLow || o.Mark.Expected > o.PieceHigh) && step > 0 {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "mark that the handle can be set to",
			Wanted: "a dough piece of " + o.PieceLow.String() + " to " + o.PieceHigh.String(),
			Advice: "a step of " + strconv.FormatFloat(step, 'g', 6, 64) + " marks weighs " + unit.Mass(math.Abs(o.Mark.PerMark)*step).String() +
				", and the nearest mark gives " + o.Mark.Expected.String() + ": see whether the handle can be set finer, or widen the tolerance",
		})
	}
}

// heavier moves the mark by one step of the handle to more weight, if it reaches so far.
func (r *run) heavier() {
	d, m := &r.line.Divider, &r.out.Mark
	set := m.Set + math.Copysign(d.MarkStep, m.PerMark)
	if set < d.MarkLow || set > d.MarkHigh {
		return
	}
	r.w.Heading("Mark, one step heavier for the label")
	askWeightForMark := divider.WeightForMark{
		Calibration: r.fits[r.line.lanes(r.product.Across)].Calibration, Mark: set, Of: divider.OfMean,
	}
	at, err := askWeightForMark.Solve()
	if r.w != nil && err == nil {
		askWeightForMark.Show(r.w, at)
	}
	r.adopt("line.divider", err, nil)
	m.Set, m.Expected = set, at.Weight
	m.Conditions |= reckon.Rounded
}

// check: how many pieces to weigh, and between which of their means the handle
// is left alone.
func (r *run) check() {
	p := r.product
	if !r.c.OK() || p.Check == (Check{}) {
		return
	}
	var err error
	r.w.Heading("Check weighing")
	askPiecesToWeigh := divider.PiecesToWeigh{SD: p.Check.SD, HalfWidth: p.Check.HalfWidth, Level: p.Check.Level}
	r.out.Check, err = askPiecesToWeigh.Solve()
	if r.w != nil && err == nil {
		askPiecesToWeigh.Show(r.w, r.out.Check)
	}
	r.adopt("order.product.check", err, nil)
	if err == nil {
		r.leave()
	}
}

// leave: within what the pieces weighed can tell nothing is known to be off,
// and within half a step of the handle no other mark comes nearer. A mean
// below the lowest that the label allows is never left, nor one out of tolerance.
func (r *run) leave() {
	o, step := r.out, r.line.Divider.MarkStep
	half := unit.Mass(float64(math.Abs(o.Mark.PerMark)*step) / 2)
	off := max(o.Check.HalfWidth, half)
	low := max(o.Aim-off, o.Label.Dough)
	high := low + 2*off
	o.LeaveLow, o.LeaveHigh = low, high
	if r.product.Tolerance > 0 {
		o.LeaveLow, o.LeaveHigh = max(low, o.PieceLow), min(high, o.PieceHigh)
	}
	if w := r.w; w != nil {
		w.Given("dough piece", "m", float64(o.Aim), "g", "")
		w.Given("how well the mean is known", "E", float64(o.Check.HalfWidth), "g", "")
		w.Given("weight of a mark", "b", o.Mark.PerMark, "g per mark", "")
		w.Given("smallest part of a mark", "q", step, "", "0 if the handle moves freely")
		w.Step("half a step of the handle", "H", "abs(b)*q / 2", float64(half), "g", "within it no other mark comes nearer")
		w.Step("left alone either way", "e", "max(E, H)", float64(off), "g", "")
		w.Given("lowest mean that the label allows", "m_d", float64(o.Label.Dough), "g", "0 without a label")
		w.Step("left alone from", "a_low", "max(m - e, m_d)", float64(low), "g", "")
		w.Step("left alone up to", "a_high", "a_low + 2*e", float64(high), "g", "")
		w.Given("lightest piece", "m_low", float64(o.PieceLow), "g", "")
		w.Given("heaviest piece", "m_high", float64(o.PieceHigh), "g", "")
		if r.product.Tolerance > 0 {
			w.Step("leave the handle from", "c_low", "max(a_low, m_low)", float64(o.LeaveLow), "g", "never out of tolerance")
			w.Step("leave the handle up to", "c_high", "min(a_high, m_high)", float64(o.LeaveHigh), "g", "never out of tolerance")
		}
	}
}

// rounding: how long a piece is rounded.
func (r *run) rounding() {
	k := &r.line.Rounder
	if !r.c.OK() || !r.has.rounder {
		return
	}
	var err error
	r.w.Heading("Rounding")
	askRoundingTime := molder.RoundingTime{Diameter: k.Diameter, Speed: k.Speed, Path: k.Path, Travel: k.Travel, Least: k.Least, Most: k.Most}
	r.out.Rounding, err = askRoundingTime.Solve()
	if r.w != nil && err == nil {
		askRoundingTime.Show(r.w, r.out.Rounding)
	}
	r.adopt("line.rounder", err, nil)
}

// rollers: both pairs, where the moulder has two.
func (r *run) rollers() {
	m := &r.line.Moulder
	if !r.c.OK() || r.product.Route != ToMoulder || m.First == nil {
		return
	}
	var err error
	r.w.Heading("Both pairs of rollers")
	askRollerGaps := molder.RollerGaps{
		Piece: r.out.Aim, Density: r.product.Density, LastGap: r.out.GapSet, FirstRecovery: m.First.Recovery,
		LastRecovery: m.Recovery, Limit: m.First.Limit, FirstScale: m.First.Scale, LastScale: m.First.Last, Measured: m.Measured,
	}
	r.out.Rollers, err = askRollerGaps.Solve()
	if r.w != nil && err == nil {
		askRollerGaps.Show(r.w, r.out.Rollers)
	}
	r.adopt("", err, func(field string) string {
		switch {
		case strings.HasPrefix(field, "first_scale"):
			return "line.moulder.first_pair.scale" + strings.TrimPrefix(field, "first_scale")
		case strings.HasPrefix(field, "last_scale"):
			return "line.moulder.first_pair." + field
		case field == "first_recovery":
			return "line.moulder.first_pair.recovery"
		case field == "limit":
			return "line.moulder.first_pair.limit"
		case field == "last_recovery":
			return "line.moulder.recovery"
		case field == "last_gap":
			return "line.moulder.gap_low"
		}
		return "order.product." + field
	})
	if err == nil && r.w != nil {
		r.w.Given("number of the first pair", "n_1", r.out.Rollers.FirstNumber, "", "read off its measured gaps; 0 without a scale")
		r.w.Given("number of the second pair", "n_2", r.out.Rollers.LastNumber, "", "read off its measured gaps; 0 without a scale")
	}
}

// shaping: chain, guides, board and pan of a moulded piece.
func (r *run) shaping() {
	p, m := r.product, &r.line.Moulder
	if !r.c.OK() || p.Route != ToMoulder {
		return
	}
	var err error
	if m.Chain != nil {
		r.w.Heading("Curling chain")
		askCurlingChain := molder.CurlingChain{Piece: r.out.Aim, Heights: m.Chain.Heights, Lightest: m.Chain.Lightest, Margin: m.Chain.Margin, Measured: m.Chain.Measured}
		r.out.Chain, err = askCurlingChain.Solve()
		if r.w != nil && err == nil {
			askCurlingChain.Show(r.w, r.out.Chain)
		}
		r.adopt("line.moulder.curling_chain", err, nil)
	}
	if m.Board != nil {
		r.board()
	}
	if p.Panned != nil && r.c.OK() {
		r.w.Heading("Pan")
		askPanFit := molder.PanFit{
			Piece: r.out.Aim, Density: p.Density, Length: p.Length, Pan: p.Panned.Pan, Growth: p.Panned.Growth,
			FillLow: p.Panned.FillLow, FillHigh: p.Panned.FillHigh, Measured: p.Panned.Measured,
		}
		r.out.Pan, err = askPanFit.Solve()
		if r.w != nil && err == nil {
			askPanFit.Show(r.w, r.out.Pan)
		}
		r.adopt("order.product", err, func(field string) string {
			switch field {
			case "piece":
				return "baked"
			case "length", "density":
				return field
			}
			return "panned." + field
		})
	}
}

// board: the guides for the wanted length, the heights of the board, and what it does to the piece.
func (r *run) board() {
	p, m := r.product, &r.line.Moulder
	b, g := m.Board, m.Guides
	if g == nil {
		r.c.Fail("line.moulder.side_guides", "missing", "the side guides: the pressure board needs them")
		return
	}
	guides := func(field string) string {
		if field == "pan" || field == "clearance" {
			return "order.product.length"
		}
		return "line.moulder.side_guides." + field
	}
	var err error
	r.w.Heading("Side guides")
	// The wanted length stands for a pan that it fills from end to end.
	askSideGuides := molder.SideGuides{Pan: p.Length, Spread: g.Spread, Narrowest: g.Narrowest, Widest: g.Widest, Measured: g.Measured}
	r.out.Guides, err = askSideGuides.Solve()
	if r.w != nil && err == nil {
		askSideGuides.Show(r.w, r.out.Guides)
	}
	r.adopt("", err, guides)
	if err != nil {
		return
	}
	board := func(field string) string {
		switch field {
		case "piece":
			return "order.product.baked"
		case "density", "length":
			return "order.product." + field
		case "roll", "height_in", "height_out", "guides":
			return "order.product.length"
		case "board":
			field = "length"
		}
		return "line.moulder.pressure_board." + field
	}
	r.w.Heading("Pressure board")
	// Under the board the piece reaches from guide to guide; it comes to its own length behind it.
	askBoardForLength := molder.BoardForLength{
		Piece: r.out.Aim, Density: p.Density, Length: r.out.Guides.Guides, Roll: r.out.Roll.Diameter, Spring: b.Spring, Bite: b.Bite, Measured: b.Measured,
	}
	r.out.Heights, err = askBoardForLength.Solve()
	if r.w != nil && err == nil {
		askBoardForLength.Show(r.w, r.out.Heights)
	}
	r.adopt("", err, board)
	if err != nil {
		return
	}
	askPressureBoard := molder.PressureBoard{
		Piece: r.out.Aim, Density: p.Density, Roll: r.out.Roll.Diameter, HeightIn: r.out.Heights.HeightIn, HeightOut: r.out.Heights.HeightOut,
		Board: b.Length, Belt: b.Belt, Spring: b.Spring, Guides: r.out.Guides.Guides, SealTurns: b.SealTurns, Measured: b.Measured,
	}
	r.out.Board, err = askPressureBoard.Solve()
	if r.w != nil && err == nil {
		askPressureBoard.Show(r.w, r.out.Board)
	}
	r.adopt("", err, board)
}

// stamping: how the die meets the piece.
func (r *run) stamping() {
	s := &r.line.Stamper
	if !r.c.OK() || r.product.Route != ToStamper || s.Die == "" {
		return
	}
	var err error
	r.w.Heading("Stamper")
	askStampRate := molder.StampRate{Rate: r.out.Rate.Pieces, Across: r.product.Across, Die: s.Die, Around: s.Around, Contact: s.Contact, Fastest: s.StampsHigh}
	r.out.Stamp, err = askStampRate.Solve()
	if r.w != nil && err == nil {
		askStampRate.Show(r.w, r.out.Stamp)
	}
	r.adopt("line.stamper", err, nil)
}

// finalProof: the room that the final proof needs.
func (r *run) finalProof() {
	p, f := r.product, &r.line.FinalProof
	if !r.c.OK() || p.FinalStay == 0 {
		return
	}
	in := proof.FinalProofLoad{Rate: r.out.Rate.Pieces, Stay: p.FinalStay, Holder: f.Holder, PerHolder: p.PerHolder, Handling: f.Handling, Available: f.Available}
	if t := &r.out.Times; t.BatchWait > 0 && r.out.Batch.Batches > 1 {
		in.Batch, in.Gap = r.out.Batch.PiecesPerBatch, t.BatchWait
	}
	var err error
	r.w.Heading("Final proof")
	askFinalProofLoad := in
	r.out.FinalProof, err = askFinalProofLoad.Solve()
	if r.w != nil && err == nil {
		askFinalProofLoad.Show(r.w, r.out.FinalProof)
	}
	r.adopt("", err, func(field string) string {
		switch field {
		case "stay":
			return "order.product.final_stay"
		case "per_holder":
			return "order.product.per_holder"
		}
		return "line.final_proof." + field
	})
}

// Care returns how each part of the line that is taken out is washed, dried
// and stored. The maker's instructions come first.
func (l *Line) Care(w *reckon.Working) ([]molder.PartCareResult, error) {
	c := reckon.Checks{Func: "part-care"}
	out := make([]molder.PartCareResult, len(l.Parts))
	for i, part := range l.Parts {
		var err error
		w.Heading("Care of the " + string(part.Part))
		askPartCare := part
		out[i], err = askPartCare.Solve()
		if w != nil && err == nil {
			askPartCare.Show(w, out[i])
		}
		c.Nest(fmt.Sprintf("line.parts[%d]", i), err)
	}
	return out, c.Err()
}

// supplies: oil and dusting flour of the run.
func (r *run) supplies() {
	if !r.c.OK() {
		return
	}
	var err error
	// While the divider waits for dough the valves are shut and nothing is dusted.
	scaling := r.out.Clear.LastIn + r.out.Rate.Beat
	if r.w != nil && (len(r.line.Oil) > 0 || r.has.duster) {
		r.w.Heading("Time in which pieces are scaled")
		r.w.Given("last stroke after the first, if the divider never waits", "t_2", float64(r.out.Clear.LastIn), "s", "")
		r.w.Given("time from stroke to stroke", "b", float64(r.out.Rate.Beat), "s", "")
		r.w.Step("time in which pieces are scaled", "T_s", "t_2 + b", float64(scaling), "s", "each stroke takes its time")
	}
	if len(r.line.Oil) > 0 {
		r.w.Heading("Divider oil")
		askOilUse := divider.OilUse{Valves: r.line.Oil, Scaling: scaling, Runs: 1, PiecesPerRun: r.out.Batch.PiecesMade}
		r.out.Oil, err = askOilUse.Solve()
		if r.w != nil && err == nil {
			askOilUse.Show(r.w, r.out.Oil)
		}
		r.adopt("line", err, func(field string) string { return "oil_" + field })
	}
	if r.has.duster {
		r.w.Heading("Dusting flour")
		askFlourUse := divider.FlourUse{Scale: r.line.Duster, Stickiness: r.product.Stickiness, Rate: r.out.Rate.Pieces, Run: scaling}
		r.out.Flour, err = askFlourUse.Solve()
		if r.w != nil && err == nil {
			askFlourUse.Show(r.w, r.out.Flour)
		}
		r.adopt("", err, func(field string) string {
			if rest, ok := strings.CutPrefix(field, "scale"); ok {
				return "line.flour_duster" + rest
			}
			return "order.product." + field
		})
	}
}

// preferments: the formula as preferments and final mix.
func (r *run) preferments() {
	p := r.product
	if !r.c.OK() || len(p.Preferments) == 0 {
		return
	}
	var err error
	r.w.Heading("Preferments and final mix of one batch")
	askPrefermentSplit := doughmath.PrefermentSplit{
		Ingredients: p.Formula, Preferments: p.Preferments, Dough: r.out.Weigh.Weighed, Liquids: doughmath.LiquidsWater,
	}
	r.out.Split, err = askPrefermentSplit.Solve()
	if r.w != nil && err == nil {
		askPrefermentSplit.Show(r.w, r.out.Split)
	}
	r.adopt("order.product", err, func(field string) string {
		if rest, ok := strings.CutPrefix(field, "ingredients"); ok {
			return "formula" + rest
		}
		return field
	})
	if err != nil || r.w == nil {
		return
	}
	r.w.Given("all the flour", "F", float64(r.out.Split.Flour), "g", "")
	for i, part := range r.out.Split.Parts {
		n := strconv.Itoa(i + 1)
		r.w.Given(part.Mix+", "+part.Name+", of all the flour", "p_"+n, float64(part.Percent), "%", "")
		r.w.Step(part.Mix+", "+part.Name, "m_"+n, "p_"+n+"*F/100", float64(part.Mass), "g", "")
	}
}

// heat: the water temperature by the heat balance, if the product has the data.
func (r *run) heat() {
	p := r.product
	if !r.c.OK() || p.Heat == nil {
		return
	}
	if len(p.Heat.Ingredients) != len(p.Formula) {
		r.c.Fail("order.product.heat.ingredients", strconv.Itoa(len(p.Heat.Ingredients))+" lines",
			fmt.Sprintf("one for each of the formula's %d lines, in its order", len(p.Formula)))
		return
	}
	if len(p.Preferments) > 0 && !p.PrefermentTemp.Given() {
		r.c.Fail("order.product.preferment_temp", p.PrefermentTemp.String(), "the temperature of the preferments: the heat balance needs it")
		return
	}
	batch := r.heatBatch()
	rename := func(field string) string {
		switch field {
		case "target":
			return "dough"
		case "friction", "friction_basis":
			return field
		}
		return "heat." + field
	}
	var err error
	r.w.Heading("Heat balance of mixing")
	askWaterForMixingHeat := doughmath.WaterForMixingHeat{MixingBatch: batch, Target: p.Dough}
	r.out.HeatWater, err = askWaterForMixingHeat.Solve()
	if r.w != nil && err == nil {
		askWaterForMixingHeat.Show(r.w, r.out.HeatWater)
	}
	r.adopt("order.product", err, rename)
	if err != nil {
		return
	}
	for i := range batch.Ingredients {
		if !batch.Ingredients[i].Temp.Given() {
			batch.Ingredients[i].Temp = r.out.HeatWater.Water
		}
	}
	r.out.WaterTemp = r.out.HeatWater.Water
	askMixingHeat := doughmath.MixingHeat{MixingBatch: batch, Room: r.shift.Room, Friction: p.Friction, Basis: p.Basis}
	r.out.Heat, err = askMixingHeat.Solve()
	if r.w != nil && err == nil {
		askMixingHeat.Show(r.w, r.out.Heat)
	}
	r.adopt("order.product", err, rename)
}

// heatBatch is the batch as the heat balance takes it, its water still without
// a temperature. What is in a preferment has the preferment's.
func (r *run) heatBatch() doughmath.MixingBatch {
	p, h := r.product, r.product.Heat
	batch := doughmath.MixingBatch{
		Heats: h.Heats, HydrationHeat: h.HydrationHeat, Work: h.Work, Power: h.Power, Time: h.Time,
		Cooling: h.Cooling, Bowl: h.Bowl, Calibrated: h.Calibrated,
	}
	add := func(i int, m unit.Mass, t unit.Temp) {
		k := &h.Ingredients[i]
		batch.Ingredients = append(batch.Ingredients, doughmath.HeatIngredient{Kind: k.Kind, Mass: m, Temp: t, SpecificHeat: k.SpecificHeat})
	}
	if len(r.out.Split.Parts) == 0 {
		for i := range p.Formula {
			add(i, r.out.Weigh.Parts[r.first+i].Mass, h.Ingredients[i].Temp)
		}
		return batch
	}
	for _, part := range r.out.Split.Parts {
		for i := range p.Formula {
			switch {
			case p.Formula[i].Name != part.Name:
			case part.Mix == doughmath.FinalMix:
				add(i, part.Mass, h.Ingredients[i].Temp)
			default:
				add(i, part.Mass, p.PrefermentTemp)
			}
		}
	}
	return batch
}

// water: the formula water of the final mix, and what of it is ice.
func (r *run) water() {
	if !r.c.OK() {
		return
	}
	p, s := r.product, r.shift
	expression := ""
	count := func(i int, m unit.Mass) {
		r.out.WaterMass += m
		if r.w != nil {
			symbol := "W_" + strconv.Itoa(i+1)
			r.w.Given(p.Formula[i].Name, symbol, float64(m), "g", "")
			if expression != "" {
				expression += " + "
			}
			expression += symbol
		}
	}
	r.w.Heading("Water and ice")
	for i := range p.Formula {
		if p.Formula[i].Role != doughmath.RoleWater {
			continue
		}
		if len(r.out.Split.Parts) == 0 {
			count(i, r.out.Weigh.Parts[r.first+i].Mass)
		}
		for _, part := range r.out.Split.Parts {
			if part.Mix == doughmath.FinalMix && part.Name == p.Formula[i].Name {
				count(i, part.Mass)
			}
		}
	}
	if r.w != nil && expression != "" {
		r.w.Step("formula water of the final mix of one batch", "W_all", expression, float64(r.out.WaterMass), "g", "")
	}
	r.out.WaterToWeigh = r.out.WaterMass
	if !r.out.WaterTemp.Less(s.Tap) || r.out.WaterMass == 0 {
		return // warm water is mixed to the temperature, no ice
	}
	ice := r.iceFor()
	if !r.c.OK() {
		return
	}
	r.out.IceToWeigh = unit.Mass(nearest(float64(ice), float64(s.Division)))
	r.out.WaterToWeigh = r.out.WaterMass - r.out.IceToWeigh
	if r.w != nil {
		r.w.Given("ice", "J", float64(ice), "g", "")
		explainNearest(r.w, "ice to weigh", "J_set", "J", float64(r.out.IceToWeigh), float64(s.Division), "g")
		r.w.Step("water to weigh", "W_tap", "W_all - J_set", float64(r.out.WaterToWeigh), "g", "")
	}
}

// iceFor returns the ice that replaces water: by the heat balance if it knows
// how cold the ice is, otherwise by the trade's rule.
func (r *run) iceFor() unit.Mass {
	p, s := r.product, r.shift
	var err error
	if p.Heat != nil && p.Heat.IceTemp.Given() {
		batch := r.heatBatch()
		batch.IceTemp = p.Heat.IceTemp
		for i := range batch.Ingredients {
			if !batch.Ingredients[i].Temp.Given() {
				batch.Ingredients[i].Temp = s.Tap
			}
		}
		askIceForMixingHeat := doughmath.IceForMixingHeat{MixingBatch: batch, Target: p.Dough, Reading: doughmath.IceReplacing}
		r.out.HeatIce, err = askIceForMixingHeat.Solve()
		if r.w != nil && err == nil {
			askIceForMixingHeat.Show(r.w, r.out.HeatIce)
		}
		r.adopt("order.product.heat", err, nil)
		return r.out.HeatIce.Ice
	}
	askIce := doughmath.Ice{Water: r.out.WaterMass, Tap: s.Tap, Needed: r.out.WaterTemp, Reading: doughmath.IceReplacing}
	r.out.Ice, err = askIce.Solve()
	if r.w != nil && err == nil {
		askIce.Show(r.w, r.out.Ice)
	}
	r.adopt("shift", err, func(field string) string {
		if field == "needed" {
			return "tap"
		}
		return field
	})
	return r.out.Ice.Ice
}
