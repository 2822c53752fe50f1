package line

import (
	"math"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// Plan asks for every setting of one product on one line on one day, in the
// order in which dough passes the stations:
//
//	scaling weight -> mark -> shared window of divider, proofer, stamper or moulder, belts, oven -> speed
//	speed -> rate -> largest batch -> batches -> formula, water, ice
//	speed -> passes, dwell, clear-out -> times
//	piece -> drum, gap, turns, belts
//	growth in the hopper -> weight through a batch, moves of the mark or a smaller batch
//
// Without an aim the speed is the fastest that everything allows; [Aim] chooses otherwise among the settings of [Window].
// The mixer is one of the
// machines that set it: where it cannot keep up, a faster divider makes no more,
// it only stands between batches, and the proofer with it. So the divider runs
// at the mixer's pace if the window of all the others holds it, and nothing
// waits; if not, at the slowest speed of the window where that keeps the pieces
// the shortest, and the divider waits between batches (batch_wait). Either sets the
// condition rate-limited.
//
// Each part holds as far as its own calculation says. It is a plan to start
// from: every mark change is followed by a weighing, and every estimate by a trial.
//
// It is refused for every value that is missing, impossible or at odds with
// another, all at once; and if pieces would stay longer in the proofer than
// dwell_high while the divider waits for dough; and if no settings reach the aim of the order.
//
// Source: the calculations of the stations; common practice for their order.
//
// Solve commissions the line each time; to plan often on one line, use
// [Commission] once and [Commissioned.Plan].
type Plan struct {
	Line  Line  `json:"line"`  // the equipment as it stands
	Order Order `json:"order"` // what to make, and how much
	Shift Shift `json:"shift"` // today's conditions
}

const planID = "line-plan"

func (Plan) ID() string { return planID }

func (q Plan) Check(c *reckon.Checks) {
	q.Line.check(c)
	r := run{line: &q.Line, order: &q.Order, product: &q.Order.Product, shift: &q.Shift, has: q.Line.parts(), c: c, out: new(PlanResult), telling: true}
	r.stations(everyStation, nil)
}

// Solve has no answer if the product cannot be made as asked: it says what
// stands in the way and what would work.
func (q Plan) Solve() (PlanResult, error) { return q.Append(nil) }

// Append is Solve with what to weigh for a batch appended to dst.
func (q Plan) Append(dst []doughmath.Part) (PlanResult, error) { return q.plan(dst, nil) }

func (q Plan) Show(w *reckon.Working, _ PlanResult) {
	// Every station shows its part when it has answered; what it answers is the
	// same again.
	_, _ = q.plan(nil, w)
}

// showFirst plans q and shows the plan as the first part of a longer working, under "Plan". It returns false if
// there is no working to write or no plan to show.
func (q Plan) showFirst(w *reckon.Working) (PlanResult, bool) {
	if w == nil {
		return PlanResult{}, false
	}
	plan, err := q.Solve()
	if err != nil {
		return PlanResult{}, false
	}
	q.showAs(w, "Plan", plan)
	return plan, true
}

// showAs is Show as the first part of a longer working: each heading says of which plan it is.
func (q Plan) showAs(w *reckon.Working, which string, out PlanResult) {
	from := len(w.Steps)
	w.Heading("Line")
	q.Show(w, out)
	for i := from; i < len(w.Steps); i++ {
		if s := &w.Steps[i]; s.Kind == reckon.HeadingStep {
			s.ID = which + ": " + s.ID
		}
	}
}

func (q *Plan) plan(dst []doughmath.Part, w *reckon.Working) (PlanResult, error) {
	cl, err := commission(q.Line, w)
	if err != nil {
		c := reckon.Checks{Func: planID}
		q.Check(&c)
		if c.OK() {
			c.Nest("", err)
		}
		return PlanResult{}, c.Err()
	}
	return cl.Explain(&q.Order, &q.Shift, dst, w)
}

// Times are the moments of a run, counted from the start of the first mixing.
type Times struct {
	FirstStroke   unit.Duration `json:"first_stroke" sym:"T_1"`   // the first pieces are scaled
	FirstOut      unit.Duration `json:"first_out" sym:"T_3"`      // the first pieces leave the overhead proofer
	BatchScaling  unit.Duration `json:"batch_scaling" sym:"t_s"`  // how long the divider scales one batch
	BatchInterval unit.Duration `json:"batch_interval" sym:"t_b"` // from the start of one batch to the start of the next
	BatchWait     unit.Duration `json:"batch_wait" sym:"t_w"`     // how long the divider waits for dough between batches; 0 if it never does
	LastMix       unit.Duration `json:"last_mix" sym:"T_2"`       // the last batch is started
	LastStroke    unit.Duration `json:"last_stroke" sym:"T_4"`    // the last pieces are scaled: scaling off, oil shut
	LastOut       unit.Duration `json:"last_out" sym:"T_5"`       // the last pieces leave the overhead proofer
}

// Dusting is what one duster gives.
type Dusting struct {
	Name  string                     `json:"name"`                   // as in the line
	Onto  Onto                       `json:"onto"`                   // what its flour falls on
	Flour divider.FlourUseResult     `json:"flour" sym:"-"`          // flour on a piece, an hour and for the run
	Slide divider.SlideForFlowResult `json:"slide,omitzero" sym:"-"` // where to set its slide, if the line has the positions
}

// PlanResult is every setting of one product on one line. The results of the
// stations are the stations' own, so that their documentation holds here.
type PlanResult struct {
	Piece     doughmath.ScalingWeightResult `json:"piece" sym:"-"`           // dough weight of one piece
	Target    unit.Mass                     `json:"target" sym:"m"`          // dough weight to scale: that of the piece, or what the label requires if that is more
	PieceLow  unit.Mass                     `json:"piece_low" sym:"m_low"`   // lightest piece within the tolerance
	PieceHigh unit.Mass                     `json:"piece_high" sym:"m_high"` // heaviest piece within the tolerance

	Trials divider.Conditions          `json:"trials"`       // of the trial pieces behind the mark: lack-of-fit, weigh-more, outlier, scale-too-coarse; a curve that turns back within them is refused
	Mark   divider.MarkForWeightResult `json:"mark" sym:"-"` // where the handle gives that weight, with its interval, and the mark to set: the nearest, or one step heavier if the nearest falls below the label; never says mark-out-of-range: such a piece is refused

	Speed        proof.SpeedResult     `json:"speed" sym:"-"`                      // divider speeds at which everything holds, and what limits them
	Strokes      unit.StrokeRate       `json:"strokes" sym:"S_set"`                // the speed to set: the fastest that everything allows, the mixer included, or the best for the aim of the order
	StrokesLimit string                `json:"strokes_limit"`                      // what sets it: the limits of the fastest speed, "mixer", or the aim of the order
	MixerStrokes unit.StrokeRate       `json:"mixer_strokes,omitzero" sym:"S_mix"` // fastest speed with which the mixer keeps up with these batches; left out for a single batch
	Rate         divider.RateResult    `json:"rate" sym:"-"`                       // pieces and dough at that speed
	Dwell        proof.DwellResult     `json:"dwell" sym:"-"`                      // passes, stay and pieces in the overhead proofer
	LongestDwell unit.Duration         `json:"longest_dwell" sym:"t_long"`         // longest stay of a piece, the waits between batches counted
	Pocket       proof.PocketFitResult `json:"pocket,omitzero" sym:"-"`            // how the grown piece lies in its pocket, if the line has its size; never says pocket-too-small: such a piece is refused
	Clear        proof.ClearResult     `json:"clear" sym:"-"`                      // how the proofer fills and empties, if the divider never waits

	Aim AimResult `json:"aim,omitzero" sym:"-"` // what the aim of the order costs, if it names one

	Batch             doughmath.BatchPlanResult    `json:"batch" sym:"-"`                   // dough and batches
	LargestBatch      unit.Mass                    `json:"largest_batch" sym:"M"`           // largest batch that mixer, hopper, hopper time and weight drift allow, its waste included
	LargestBatchLimit string                       `json:"largest_batch_limit"`             // which of them limits it: "mixer", "hopper", "hopper time" or "weight drift"
	Hopper            divider.HopperTimeResult     `json:"hopper" sym:"-"`                  // how long a batch stands
	LightPieces       int                          `json:"light_pieces,omitzero" sym:"n_l"` // pieces that scale light at the end of the run, as the hopper runs out; 0 if the divider scales true until it is empty
	DriftLimit        unit.Mass                    `json:"drift_limit,omitzero" sym:"L_d"`  // weight that may be lost in the hopper, by limit, tolerance and label, from what the mark set gives
	Drift             divider.WeightDriftResult    `json:"drift,omitzero" sym:"-"`          // weight at the end of a batch if the mark were left alone, and the moves that hold it, counted from the tipping; if the product says how its dough gasses
	Weigh             doughmath.FormulaScaleResult `json:"weigh" sym:"-"`                   // what to weigh for each batch
	Hydration         doughmath.HydrationResult    `json:"hydration" sym:"-"`               // how wet the dough is

	Split doughmath.PrefermentSplitResult `json:"split,omitzero" sym:"-"` // the batch as preferments and final mix, if there are preferments

	PrefermentRuns []PrefermentRun `json:"preferment_runs,omitzero"` // how each preferment is made and when, in the order given

	Water        doughmath.WaterTemperatureResult   `json:"water" sym:"-"`               // water temperature by the factor rule
	HeatWater    doughmath.WaterForMixingHeatResult `json:"heat_water,omitzero" sym:"-"` // water temperature by the heat balance, if the product has the data
	Heat         doughmath.MixingHeatResult         `json:"heat,omitzero" sym:"-"`       // the heats behind it, and the friction with which the rule would agree
	WaterTemp    unit.Temp                          `json:"water_temp"`                  // the one to use: by the balance if there is one, otherwise by the rule
	WaterMass    unit.Mass                          `json:"water_mass" sym:"W_all"`      // formula water of the final mix of one batch, ice included
	Ice          doughmath.IceResult                `json:"ice,omitzero" sym:"-"`        // ice and tap water by the trade's rule, if the tap is too warm; the ice replaces water; never says no-ice-needed: it is not asked then
	HeatIce      doughmath.IceForMixingHeatResult   `json:"heat_ice,omitzero" sym:"-"`   // the same by the heat balance, if it knows how cold the ice is; never says no-ice-needed: it is not asked then
	Mix          doughmath.WaterMixResult           `json:"mix,omitzero" sym:"-"`        // cold and hot water, if the water is warmer than the tap and there is a hot one
	HotToWeigh   unit.Mass                          `json:"hot_to_weigh" sym:"H_set"`    // water from the hot tap, to the scale's division
	IceToWeigh   unit.Mass                          `json:"ice_to_weigh" sym:"J_set"`    // ice, to the scale's division
	WaterToWeigh unit.Mass                          `json:"water_to_weigh" sym:"W_tap"`  // water from the tap, to make up the formula water

	Label   divider.TargetWeightResult  `json:"label,omitzero" sym:"-"` // lowest mean that the law on weights allows, if a label promises a weight
	Check   divider.PiecesToWeighResult `json:"check,omitzero" sym:"-"` // pieces to weigh at each check
	Band    divider.HandleBandResult    `json:"band,omitzero" sym:"-"`  // between which means of a check the handle is left alone, and what that finds
	Oil     divider.OilUseResult        `json:"oil,omitzero" sym:"-"`   // divider oil of the run
	Dusting []Dusting                   `json:"dusting,omitzero"`       // dusting flour of the run, duster by duster

	Drum     molder.DrumChoiceResult      `json:"drum" sym:"-"`              // rounding drum
	Rounding molder.RoundingTimeResult    `json:"rounding,omitzero" sym:"-"` // time in the rounder, if the piece runs along a track
	Motions  molder.RoundingMotionsResult `json:"motions,omitzero" sym:"-"`  // time and motions in the rounder, if it is rounded in a cup
	Gap      molder.SheetSettingResult    `json:"gap,omitzero" sym:"-"`      // for the moulder: the gap to set, for at least the turns asked for and the thinnest sheet that holds
	Rollers  molder.RollerGapsResult      `json:"rollers,omitzero" sym:"-"`  // both pairs of rollers, if there are two
	Roll     molder.TurnsForGapResult     `json:"roll,omitzero" sym:"-"`     // the sheet, the turns and the roll at that gap; never says sheet-may-tear: the gap is as wide as the dough needs

	Chain   molder.CurlingChainResult   `json:"chain,omitzero" sym:"-"`   // height of the curling chain
	Guides  molder.SideGuidesResult     `json:"guides,omitzero" sym:"-"`  // side guides for the length asked for
	Heights molder.BoardForLengthResult `json:"heights,omitzero" sym:"-"` // heights of the pressure board for that length
	Board   molder.PressureBoardResult  `json:"board,omitzero" sym:"-"`   // what the board does to the piece
	Pan     molder.PanFitResult         `json:"pan,omitzero" sym:"-"`     // how the piece fills its pan
	Stamp   molder.StampRateResult      `json:"stamp,omitzero" sym:"-"`   // for the stamper: how the die meets the piece

	FinalProof proof.FinalProofLoadResult `json:"final_proof,omitzero" sym:"-"` // the room that the final proof needs

	TightestBelt string                    `json:"tightest_belt"`   // the belt with the smallest gap between pieces, "" if there is no belt
	Spacing      molder.PieceSpacingResult `json:"spacing" sym:"-"` // pieces on that belt; never says risk-of-doubles: the speed keeps the pieces apart

	Times      Times           `json:"times"`      // from the first mixing to the last piece out
	Conditions Conditions      `json:"conditions"` // of the plan itself: rate-limited, rounded; with those of the hopper stands light-run-out, if the divider needs dough in it; see [reckon.Remarks] for those of every station
	Cautions   reckon.Cautions `json:"cautions"`   // of the line as a whole: moving-machinery, flour-dust, oil-slip, allergens, moving-belt, and with the stamper interlocks and stamper-cover, and wheels where one of two machines stands idle; see [reckon.Hazards] for those of every station
}

// Plan is the package's [Plan] on a line that was commissioned before. It
// allocates nothing if dst has room for the formula's ingredients, of which there are no more than 24, the product has
// neither preferments nor a heat balance, which make lists of their own, and no
// two limits of the speed are equal, whose names are put together.
func (cl *Commissioned) Plan(order *Order, shift *Shift, dst []doughmath.Part) (PlanResult, error) {
	return cl.Explain(order, shift, dst, nil)
}

// Explain is [Commissioned.Plan] with its working.
func (cl *Commissioned) Explain(order *Order, shift *Shift, dst []doughmath.Part, w *reckon.Working) (out PlanResult, err error) {
	err = cl.plan(&out, order, shift, dst, w)
	return out, err
}

// PlanInto is [Commissioned.Plan] for a caller who keeps the plan: it writes
// it where out points to, which spares the copy of a large result. With an error out is zero.
func (cl *Commissioned) PlanInto(out *PlanResult, order *Order, shift *Shift, dst []doughmath.Part) error {
	return cl.plan(out, order, shift, dst, nil)
}

func (cl *Commissioned) plan(out *PlanResult, order *Order, shift *Shift, dst []doughmath.Part, w *reckon.Working) error {
	*out = PlanResult{}
	// The run holds pointers, not values: the compiler then sees that nothing
	// of it outlives the call, and keeps it off the heap.
	c := reckon.Checks{Func: planID}
	var r run
	r.line, r.fits, r.has, r.order, r.product, r.shift, r.w, r.c, r.out = &cl.line, cl.fits, cl.has, order, &order.Product, shift, w, &c, out
	r.stations(everyStation, dst)
	if !c.OK() {
		*out = PlanResult{}
		return c.Err()
	}
	return nil
}

// run is one plan on its way through the stations. Each station is asked with
// what those before it have found; where one has no answer, those after it
// only tell what is wrong with the values given.
type run struct {
	line    *Line
	fits    []divider.MarkFitResult // by index of Divider.Lanes
	has     parts
	order   *Order
	product *Product
	shift   *Shift
	w       *reckon.Working
	c       *reckon.Checks
	out     *PlanResult
	dusted  stretch         // speeds at which the slides of the dusters reach; looked at for an aim or a window
	bare    bool            // what an aim costs is not asked
	telling bool            // nothing is solved, the values given are only checked
	moulded bool            // the product goes through the moulder
	stamped bool            // it goes under the stamper
	drifts  bool            // the product says how its dough gasses in the hopper
	first   int             // index of the formula's first part among the parts weighed
	fewest  batched         // the fewest batches, at the fastest speed
	top     unit.StrokeRate // that speed, on a step of the setting
	held    unit.Duration   // how long a batch may stand before it has lost the weight it may; 0 if a smaller batch is not what holds it
}

// has reports whether one of those stations is among these.
func (s station) has(which station) bool { return s&which != 0 }

// stations asks the stations that are due, in the order in which dough passes them.
func (r *run) stations(due station, dst []doughmath.Part) {
	r.moulded, r.stamped = r.product.Route == ToMoulder, r.product.Route == ToStamper
	r.drifts = r.product.Drift != (HopperDrift{})
	if due.has(ordering) {
		r.order.check(r.c, r.line)
	}
	if due.has(shifting) {
		r.shift.check(r.c)
	}
	if due.has(weighting) {
		r.weight()
	}
	if due.has(checking) {
		r.check()
	}
	if due.has(labelling) {
		r.label()
	}
	if due.has(aiming) {
		r.aim()
	}
	if due.has(marking) {
		r.mark()
	}
	if due.has(leaving) {
		r.leave()
	}
	if due.has(drumming) {
		r.drum()
	}
	if due.has(pocketing) {
		r.pocket()
	}
	if due.has(speeding) {
		r.speed()
	}
	if due.has(batching) {
		r.setSpeed()
		r.batches()
	}
	if due.has(rounding) {
		r.rounding()
	}
	if due.has(weighing | wetting | tempering) {
		r.dough(due, dst)
	}
	if due.has(splitting) {
		r.preferments()
	}
	if due.has(ripening) {
		r.prefermentMixes()
	}
	if due.has(heating) {
		r.heat()
	}
	if due.has(watering) {
		r.water()
	}
	if due.has(proofing) {
		r.proofer()
	}
	if r.moulded {
		r.makeUp(due)
	}
	if r.stamped && due.has(stamping) {
		r.stamping()
	}
	if due.has(travelling) {
		r.belts()
	}
	if due.has(timing) {
		r.times()
	}
	if due.has(supplying) {
		r.supplies()
	}
	if due.has(finishing) {
		r.finalProof()
	}
	r.showAim()
	r.out.Cautions |= reckon.MovingMachinery | reckon.FlourDust | reckon.OilSlip | reckon.Allergens | reckon.MovingBelt
	if r.stamped {
		r.out.Cautions |= reckon.Interlocks | reckon.StamperCover
	}
	if r.has.stamper && r.has.moulder {
		r.out.Cautions |= reckon.Wheels // the one that this product does not need may be rolled out of the way
	}
}

// makeUp asks the stations of a moulded piece.
func (r *run) makeUp(due station) {
	if due.has(guiding) {
		r.guides()
	}
	if due.has(moulding) {
		r.moulder()
	}
	if due.has(rolling) {
		r.rollers()
	}
	if due.has(shaping) {
		r.shaping()
	}
}

// nearest rounds v to a step.
func nearest(v, step float64) float64 { return math.Round(v/step) * step }

// showNearest records the value that a step allows, under the symbol of the
// plan that holds it.
func (r *run) showNearest(words, symbol, of string, step float64, held string) {
	r.w.Carried("step", "q", step, held)
	r.w.Lines(*r.out, words+": "+symbol+" = round("+of+"/q)*q  [to the nearest step]")
}
