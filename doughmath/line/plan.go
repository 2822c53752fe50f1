package line

import (
	"errors"
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

// Plan returns every setting for one product on one line, in the order in
// which dough passes the stations. What to weigh for a batch is appended to dst.
//
//	scaling weight -> mark -> shared window of divider, proofer, stamper or moulder, belts, oven -> speed
//	speed -> rate -> largest batch -> batches -> formula, water, ice
//	speed -> passes, dwell, clear-out -> times
//	piece -> drum, gap, turns, belts
//
// The speed is the fastest that everything allows. Where the mixer cannot
// keep up with the divider, the divider waits between batches (batch_wait) and the
// condition rate-limited is set.
//
// Each part holds as far as its own function says. It is a plan to start from:
// every mark change is followed by a weighing, and every estimate by a trial.
//
// It returns an *[reckon.InputError] for every value that is missing,
// impossible or at odds with another, and a *[reckon.NoSolutionError] that
// names what binds and what would work if the product cannot be made as asked.
//
// Source: the functions of the stations; common practice for their order.
//
// Plan commissions the line each time; to plan often on one line, use
// [Commission] once and [Commissioned.Plan].
type Plan struct {
	Line  Line  `json:"line"`  // the equipment as it stands
	Order Order `json:"order"` // what to make, and how much
	Shift Shift `json:"shift"` // today's conditions
}

func (Plan) ID() string { return "line-plan" }

// SHELL
func (q Plan) Check(c *reckon.Checks) {
	_, err := explainPlan(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Plan) Solve() (PlanResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q Plan) Append(dst []doughmath.Part) (PlanResult, error) { return explainPlan(q, dst, nil) }

func (q Plan) Show(w *reckon.Working, _ PlanResult) { _, _ = explainPlan(q, nil, w) }

// Times are the moments of a run, counted from the start of the first mixing.
type Times struct {
	FirstStroke   unit.Duration `json:"first_stroke"`   // the first pieces are scaled
	FirstOut      unit.Duration `json:"first_out"`      // the first pieces leave the overhead proofer
	BatchScaling  unit.Duration `json:"batch_scaling"`  // how long the divider scales one batch
	BatchInterval unit.Duration `json:"batch_interval"` // from the start of one batch to the start of the next
	BatchWait     unit.Duration `json:"batch_wait"`     // how long the divider waits for dough between batches; 0 if it never does
	LastMix       unit.Duration `json:"last_mix"`       // the last batch is started
	LastStroke    unit.Duration `json:"last_stroke"`    // the last pieces are scaled: scaling off, oil shut
	LastOut       unit.Duration `json:"last_out"`       // the last pieces leave the overhead proofer
}

// PlanResult is every setting of one product on one line. The results of the
// stations are the stations' own, so that their documentation holds here.
type PlanResult struct {
	Piece     doughmath.ScalingWeightResult `json:"piece"`      // dough weight of one piece
	Aim       unit.Mass                     `json:"aim"`        // dough weight to scale: that of the piece, or what the label asks for if that is more
	PieceLow  unit.Mass                     `json:"piece_low"`  // lightest piece within the tolerance
	PieceHigh unit.Mass                     `json:"piece_high"` // heaviest piece within the tolerance

	Trials divider.Conditions          `json:"trials"` // of the trial pieces behind the mark: lack-of-fit, turns-back, weigh-more
	Mark   divider.MarkForWeightResult `json:"mark"`   // where the handle gives that weight, with its interval, and the mark to set: the nearest, or one step heavier if the nearest falls below the label

	Speed        proof.SpeedResult  `json:"speed"`         // divider speeds at which everything holds, and what binds
	Strokes      unit.StrokeRate    `json:"strokes"`       // the speed to set: the fastest that everything allows
	Rate         divider.RateResult `json:"rate"`          // pieces and dough at that speed
	Dwell        proof.DwellResult  `json:"dwell"`         // passes, stay and pieces in the overhead proofer
	LongestDwell unit.Duration      `json:"longest_dwell"` // longest stay of a piece, the waits between batches counted
	Clear        proof.ClearResult  `json:"clear"`         // how the proofer fills and empties, if the divider never waits

	Batch          doughmath.BatchPlanResult    `json:"batch"`            // dough and batches
	BatchMost      unit.Mass                    `json:"batch_most"`       // largest batch that mixer, hopper and hopper time allow
	BatchMostLimit string                       `json:"batch_most_limit"` // which of them binds: "mixer", "hopper" or "hopper time"
	Hopper         divider.HopperTimeResult     `json:"hopper"`           // how long a batch stands
	Weigh          doughmath.FormulaScaleResult `json:"weigh"`            // what to weigh for each batch
	Hydration      doughmath.HydrationResult    `json:"hydration"`        // how wet the dough is

	Split doughmath.PrefermentSplitResult `json:"split,omitzero"` // the batch as preferments and final mix, if there are preferments

	Water        doughmath.WaterTemperatureResult   `json:"water"`               // water temperature by the factor rule
	HeatWater    doughmath.WaterForMixingHeatResult `json:"heat_water,omitzero"` // water temperature by the heat balance, if the product has the data
	Heat         doughmath.MixingHeatResult         `json:"heat,omitzero"`       // the heats behind it, and the friction with which the rule would agree
	WaterTemp    unit.Temp                          `json:"water_temp"`          // the one to use: by the balance if there is one, otherwise by the rule
	WaterMass    unit.Mass                          `json:"water_mass"`          // formula water of the final mix of one batch, ice included
	Ice          doughmath.IceResult                `json:"ice,omitzero"`        // ice and tap water by the trade's rule, if the tap is too warm; the ice replaces water
	HeatIce      doughmath.IceForMixingHeatResult   `json:"heat_ice,omitzero"`   // the same by the heat balance, if it knows how cold the ice is
	IceToWeigh   unit.Mass                          `json:"ice_to_weigh"`        // ice, to the scale's division
	WaterToWeigh unit.Mass                          `json:"water_to_weigh"`      // water from the tap, to make up the formula water

	Label     divider.TargetWeightResult  `json:"label,omitzero"`      // lowest mean that the law on weights allows, if a label promises a weight
	Check     divider.PiecesToWeighResult `json:"check,omitzero"`      // pieces to weigh at each check
	LeaveLow  unit.Mass                   `json:"leave_low,omitzero"`  // lowest mean of a check at which the handle is left alone
	LeaveHigh unit.Mass                   `json:"leave_high,omitzero"` // highest
	Oil       divider.OilUseResult        `json:"oil,omitzero"`        // divider oil of the run
	Flour     divider.FlourUseResult      `json:"flour,omitzero"`      // dusting flour of the run

	Drum     molder.DrumChoiceResult   `json:"drum"`              // rounding drum
	Rounding molder.RoundingTimeResult `json:"rounding,omitzero"` // time in the rounder
	Gap      molder.GapResult          `json:"gap,omitzero"`      // for the moulder: gap that gives the turns wanted
	GapSet   unit.Length               `json:"gap_set,omitzero"`  // the gap to set, to the step of the rollers
	Rollers  molder.RollerGapsResult   `json:"rollers,omitzero"`  // both pairs of rollers, if there are two
	Roll     molder.TurnsForGapResult  `json:"roll,omitzero"`     // the sheet, the turns and the roll at that gap

	Chain   molder.CurlingChainResult   `json:"chain,omitzero"`   // height of the curling chain
	Guides  molder.SideGuidesResult     `json:"guides,omitzero"`  // side guides for the length wanted
	Heights molder.BoardForLengthResult `json:"heights,omitzero"` // heights of the pressure board for that length
	Board   molder.PressureBoardResult  `json:"board,omitzero"`   // what the board does to the piece
	Pan     molder.PanFitResult         `json:"pan,omitzero"`     // how the piece fills its pan
	Stamp   molder.StampRateResult      `json:"stamp,omitzero"`   // for the stamper: how the die meets the piece

	FinalProof proof.FinalProofLoadResult `json:"final_proof,omitzero"` // the room that the final proof needs

	TightestBelt string                    `json:"tightest_belt"` // the belt with the smallest gap between pieces, "" if there is no belt
	Spacing      molder.PieceSpacingResult `json:"spacing"`       // pieces on that belt

	Times      Times           `json:"times"`      // from the first mixing to the last piece out
	Conditions Conditions      `json:"conditions"` // of the plan itself: rate-limited, rounded (dwell-outside-window stands in dwell); see [reckon.Remarks] for those of every station
	Cautions   reckon.Cautions `json:"cautions"`   // of the line as a whole: moving-machinery, flour-dust, oil-slip, allergens, interlocks; see [reckon.Hazards] for those of every station
}

func explainPlan(in Plan, dst []doughmath.Part, w *reckon.Working) (PlanResult, error) {
	c := reckon.Checks{Func: planID}
	cl, err := commission(in.Line, w)
	c.Nest("", err)
	if err != nil {
		// What is wrong with the order and the shift is told in the same go.
		in.Order.Product.check(&c, &in.Order, &in.Shift, &in.Line)
		in.Order.probe(&c, &in.Line, &in.Shift)
		return PlanResult{}, c.Err()
	}
	return cl.Explain(&in.Order, &in.Shift, dst, w)
}

const planID = "line-plan"

// Plan is the package's [Plan] on a line that was commissioned before. It
// allocates nothing if dst has room for the formula's ingredients and the
// product has neither preferments nor a heat balance, which make lists of their own.
func (cl *Commissioned) Plan(order *Order, shift *Shift, dst []doughmath.Part) (PlanResult, error) {
	return cl.Explain(order, shift, dst, nil)
}

// Explain is [Commissioned.Plan] with its working.
func (cl *Commissioned) Explain(order *Order, shift *Shift, dst []doughmath.Part, w *reckon.Working) (out PlanResult, err error) {
	// The run holds pointers, not values: the compiler then sees that nothing
	// of it outlives the call, and keeps it off the heap.
	c := reckon.Checks{Func: planID}
	var r run
	r.line, r.fits, r.has, r.order, r.product, r.shift, r.w, r.c, r.out = &cl.line, cl.fits, cl.has, order, &order.Product, shift, w, &c, &out
	r.product.check(r.c, order, shift, r.line)
	r.weight()
	r.check()
	r.drum()
	r.rounding()
	r.speed()
	r.batches()
	r.dough(dst)
	r.preferments()
	r.heat()
	r.water()
	r.proofer()
	r.moulder()
	r.rollers()
	r.shaping()
	r.stamping()
	r.belts()
	r.times()
	r.supplies()
	r.finalProof()
	if !c.OK() {
		order.probe(&c, &cl.line, shift)
		return PlanResult{}, c.Err()
	}
	r.cautions()
	return out, nil
}

// run is one plan on its way through the stations. A station that needs what
// an earlier one could not give is passed over, so that one error is told once.
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
	length  unit.Length // of the piece on the belts
	first   int         // index of the formula's first part among the parts weighed
}

// weight: from the baked weight to the dough piece and the mark.
func (r *run) weight() {
	p := r.product
	r.w.Heading("Dough piece")
	var err error
	askScalingWeight := doughmath.ScalingWeight{
		Baked: p.Baked, Fermentation: p.Loss.Fermentation,
		Bake: p.Loss.Bake, Cooling: p.Loss.Cooling, Combine: p.Loss.Combine,
	}
	r.out.Piece, err = askScalingWeight.Solve()
	if r.w != nil && err == nil {
		askScalingWeight.Show(r.w, r.out.Piece)
	}
	r.adopt("order.product", err, func(field string) string {
		if field == "baked" {
			return field
		}
		return "loss." + field
	})
	if err != nil {
		return
	}
	r.label()
	if !r.c.OK() {
		return
	}
	r.out.Aim = max(r.out.Piece.Dough, r.out.Label.Dough)
	r.out.PieceLow = r.out.Aim - p.Tolerance
	r.out.PieceHigh = r.out.Aim + p.Tolerance
	if r.w != nil {
		if r.out.Label.Dough > 0 {
			r.w.Heading("Dough piece to scale")
			r.w.Given("dough piece for the baked weight", "m_b", float64(r.out.Piece.Dough), "g", "")
			r.w.Given("dough piece for the label", "m_l", float64(r.out.Label.Dough), "g", "")
			r.w.Step("dough piece", "m", "max(m_b, m_l)", float64(r.out.Aim), "g", "the heavier of the two")
		} else {
			r.w.Given("dough piece", "m", float64(r.out.Aim), "g", "")
		}
		r.w.Given("tolerance either way", "e", float64(p.Tolerance), "g", "the product's")
		r.w.Step("lightest piece", "m_low", "m - e", float64(r.out.PieceLow), "g", "")
		r.w.Step("heaviest piece", "m_high", "m + e", float64(r.out.PieceHigh), "g", "")
	}
	if !(r.out.PieceLow > 0) {
		r.c.Fail("order.product.tolerance", p.Tolerance.String(), "less than the dough piece, "+r.out.Aim.String())
		return
	}
	lanes := r.line.lanes(p.Across)
	if lanes < 0 {
		r.refuseAcross()
		return
	}
	r.w.Heading("Mark")
	d, k := &r.line.Divider, &r.fits[lanes].Calibration
	r.out.Trials = r.fits[lanes].Conditions
	askMarkForWeight := divider.MarkForWeight{
		Calibration: *k, Weight: r.out.Aim,
		Interval: d.Interval, Of: divider.OfMean, MarkLow: d.MarkLow, MarkHigh: d.MarkHigh, Division: d.MarkStep,
	}
	r.out.Mark, err = askMarkForWeight.Solve()
	if r.w != nil && err == nil {
		askMarkForWeight.Show(r.w, r.out.Mark)
	}
	r.adopt("order.product", err, func(string) string { return "baked" })
	if err != nil {
		return
	}
	if r.out.Mark.Conditions.Has(divider.MarkOutOfRange) {
		r.offTheScale(k)
		return
	}
	r.mark()
}

func (r *run) refuseAcross() {
	r.c.Fail("order.product.across", strconv.Itoa(r.product.Across), "a number across for which the divider has trial pieces: "+r.line.laneList())
}

// offTheScale refuses a piece that the divider cannot scale, and says which it can.
func (r *run) offTheScale(k *divider.Calibration) {
	d := &r.line.Divider
	low, _ := divider.WeightForMark{Calibration: *k, Mark: d.MarkLow, Of: divider.OfMean}.Solve()
	high, _ := divider.WeightForMark{Calibration: *k, Mark: d.MarkHigh, Of: divider.OfMean}.Solve()
	r.c.Nest("", &reckon.NoSolutionError{
		Func: planID, Unknown: "mark on the handle",
		Wanted: "a dough piece of " + r.out.Aim.String() + ", " + strconv.Itoa(r.product.Across) + " across",
		Low:    min(low.Weight, high.Weight).String(), High: max(low.Weight, high.Weight).String(),
		Advice: "change the number across, or fit the pockets that the maker offers for this weight",
	})
}

// drum: which one, and how large the piece is as a ball.
func (r *run) drum() {
	if !r.c.OK() {
		return
	}
	p, l := r.product, r.line
	var err error
	r.w.Heading("Rounding drum")
	askDrumChoice := molder.DrumChoice{
		Piece: r.out.Aim, Density: p.Density, Drums: l.Drums,
		FillLow: l.Fill.Low, FillHigh: l.Fill.High, Calibrated: l.Fill.Calibrated,
	}
	r.out.Drum, err = askDrumChoice.Solve()
	if r.w != nil && err == nil {
		askDrumChoice.Show(r.w, r.out.Drum)
	}
	r.adopt("", err, func(field string) string {
		switch {
		case strings.HasPrefix(field, "drums"):
			return "line." + field
		case strings.HasPrefix(field, "fill_"):
			return "line.drum_fill." + strings.TrimPrefix(field, "fill_")
		case field == "piece":
			return "order.product.baked"
		}
		return "order.product." + field
	})
}

// speed: what every machine allows, as divider strokes, and the fastest of it.
func (r *run) speed() {
	p, d := r.product, &r.line.Divider
	limits := [2]proof.StrokeLimit{{Name: "divider", Low: d.StrokesLow, High: d.StrokesHigh}}
	n := 1
	// The moulder, the oven and the belts count pieces, whatever the number across.
	var rates [3]proof.RateLimit
	m := 0
	add := func(name string, most unit.PieceRate) {
		rates[m] = proof.RateLimit{Name: name, High: most}
		m++
	}
	switch p.Route {
	case ToStamper:
		s := &r.line.Stamper
		if !r.has.stamper {
			r.c.Fail("order.product.route", `"stamper"`, "a route that the line has: it has no stamper")
			return
		}
		// One stamp for each row.
		limits[n] = proof.StrokeLimit{Name: "stamper", Low: s.StampsLow, High: s.StampsHigh}
		n++
	case ToMoulder:
		if !r.has.moulder {
			r.c.Fail("order.product.route", `"moulder"`, "a route that the line has: it has no moulder")
			return
		}
		add("moulder", r.line.Moulder.RateHigh)
	}
	if p.RateHigh > 0 {
		add("oven", p.RateHigh)
	}
	if !r.c.OK() {
		return
	}
	// A belt binds where the pieces would come to lie too close. Of all belts
	// the one that takes the fewest pieces binds.
	r.w.Heading("What the belts carry")
	r.length = r.out.Drum.Diameter
	r.w.Given("diameter of the piece as a ball", "D", float64(r.length), "mm", "")
	if p.Route == ToMoulder {
		r.length = p.Length
		r.w.Given("length of the moulded piece", "D", float64(p.Length), "mm", "the product's")
	}
	var slowest *Belt
	var least float64
	for i := range r.line.Belts {
		b := &r.line.Belts[i]
		if b.Route != "" && b.Route != p.Route {
			continue
		}
		pitch := float64(r.length + b.LeastGap)
		rate := float64(b.Speed) * 60 * float64(r.lanesOn(b)) / pitch
		if r.w != nil {
			r.w.Given("belt "+b.Name+", speed", "v", float64(b.Speed), "mm/s", "")
			r.w.Given("pieces side by side on it", "l", float64(r.lanesOn(b)), "", "")
			r.w.Given("least gap wanted", "g", float64(b.LeastGap), "mm", "")
			r.w.Step("most pieces on it", "P_b", "v*60*l / (D + g)", rate, "pieces/min", "one piece and one gap after the other")
		}
		if slowest == nil || rate < least {
			slowest, least = b, rate
		}
	}
	if slowest != nil {
		add(slowest.Name, unit.PieceRate(least))
	}
	r.w.Heading("Speed")
	var err error
	askSpeed := proof.Speed{
		Proofer: r.line.Proofer, Across: p.Across, DwellLow: p.DwellLow,
		DwellHigh: p.DwellHigh, Limits: limits[:n], Rates: rates[:m],
	}
	r.out.Speed, err = askSpeed.Solve()
	if r.w != nil && err == nil {
		askSpeed.Show(r.w, r.out.Speed)
	}
	r.adopt("", err, func(field string) string {
		switch {
		case strings.HasPrefix(field, "proofer"):
			return "line." + field
		case strings.HasPrefix(field, "limits"), strings.HasPrefix(field, "rates"):
			return "line" // its own checks name the machine
		}
		return "order.product." + field
	})
	if err != nil {
		return
	}
	r.out.Strokes = r.out.Speed.High
	if step := d.StrokeStep; step > 0 {
		r.out.Strokes = unit.StrokeRate(math.Floor(float64(r.out.Speed.High)/float64(step)+1e-9) * float64(step))
		if r.w != nil {
			r.w.Given("fastest that everything allows", "S_top", float64(r.out.Speed.High), "strokes/min", "")
			r.w.Given("step of the speed setting", "q", float64(step), "strokes/min", "")
			r.w.Step("speed to set", "S_set", "floor(S_top/q + 1e-9) * q", float64(r.out.Strokes), "strokes/min", "rounded down to a step")
		}
		if r.out.Strokes < r.out.Speed.Low {
			r.c.Nest("", &reckon.NoSolutionError{
				Func: planID, Unknown: "step of the divider's speed", Wanted: "a speed that everything allows",
				Low: r.out.Speed.Low.String(), High: r.out.Speed.High.String(), Advice: "the step of " + step.String() + " leaps over that range; ask whether the drive can be set finer",
			})
			return
		}
		if r.out.Strokes != r.out.Speed.High {
			r.out.Conditions |= reckon.Rounded
		}
	}
	r.w.Heading("Rate")
	askRate := divider.Rate{Strokes: r.out.Strokes, Across: p.Across, Piece: r.out.Aim}
	r.out.Rate, err = askRate.Solve()
	if r.w != nil && err == nil {
		askRate.Show(r.w, r.out.Rate)
	}
	r.adopt("order.product", err, nil)
}

// batches: the largest batch that everything allows, and the batches.
func (r *run) batches() {
	if !r.c.OK() {
		return
	}
	p, s := r.product, r.shift
	r.w.Heading("Largest batch")
	askBatchForHopperTime := divider.BatchForHopperTime{Limit: p.HopperMax, Dough: r.out.Rate.Dough}
	byTime, err := askBatchForHopperTime.Solve()
	if r.w != nil && err == nil {
		askBatchForHopperTime.Show(r.w, byTime)
	}
	r.adopt("order.product", err, func(string) string { return "hopper_max" })
	r.out.BatchMost, r.out.BatchMostLimit = s.Mixer.High, "mixer"
	if r.line.Divider.Hopper < r.out.BatchMost {
		r.out.BatchMost, r.out.BatchMostLimit = r.line.Divider.Hopper, "hopper"
	}
	if byTime.Batch < r.out.BatchMost {
		r.out.BatchMost, r.out.BatchMostLimit = byTime.Batch, "hopper time"
	}
	if r.w != nil {
		r.w.Given("most that the mixer takes", "M_m", float64(s.Mixer.High), "g", "")
		r.w.Given("most that the hopper takes", "M_h", float64(r.line.Divider.Hopper), "g", "")
		r.w.Given("most within the hopper time", "M_t", float64(byTime.Batch), "g", "")
		r.w.Step("largest batch", "M", "min(M_m, M_h, M_t)", float64(r.out.BatchMost), "g", "")
	}
	least := s.Mixer.Low
	if least > r.out.BatchMost {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "batch", Wanted: "at least the " + least.String() + " that the mixer mixes well",
			High: r.out.BatchMost.String(), Advice: "the " + r.out.BatchMostLimit + " allows no more; take a smaller mixer or allow more time in the hopper",
		})
		return
	}
	if !r.c.OK() {
		return
	}
	r.w.Heading("Batches")
	askBatchPlan := doughmath.BatchPlan{
		Pieces: r.order.Pieces, PieceWeight: r.out.Aim, Spare: r.order.Spare,
		Waste: s.Waste, WasteBasis: s.WasteBasis, MixerMost: r.out.BatchMost, MixerLeast: least,
	}
	r.out.Batch, err = askBatchPlan.Solve()
	if r.w != nil && err == nil {
		askBatchPlan.Show(r.w, r.out.Batch)
	}
	r.adopt("", err, func(field string) string {
		switch field {
		case "pieces", "spare":
			return "order." + field
		case "waste", "waste_basis":
			return "shift." + field
		}
		return "shift.mixer.high"
	})
	if err != nil {
		return
	}
	r.w.Heading("Time in the hopper")
	askHopperTime := divider.HopperTime{Batch: r.out.Batch.BatchDough, Dough: r.out.Rate.Dough, Limit: p.HopperMax}
	r.out.Hopper, err = askHopperTime.Solve()
	if r.w != nil && err == nil {
		askHopperTime.Show(r.w, r.out.Hopper)
	}
	r.adopt("order.product", err, nil)
}

// dough: what to weigh for one batch, its water and its ice.
func (r *run) dough(dst []doughmath.Part) {
	p, s := r.product, r.shift
	var err error
	if r.c.OK() {
		r.w.Heading("Weighing one batch")
		askFormulaScale := doughmath.FormulaScale{Ingredients: p.Formula, Dough: r.out.Batch.BatchDough, Division: s.Division}
		r.out.Weigh, err = askFormulaScale.Append(dst)
		if r.w != nil && err == nil {
			askFormulaScale.Show(r.w, r.out.Weigh)
		}
		r.adopt("", err, func(field string) string {
			switch {
			case field == "division":
				return "shift.division"
			case strings.HasPrefix(field, "ingredients"):
				return "order.product.formula" + strings.TrimPrefix(field, "ingredients")
			}
			return "order." + field
		})
	}
	r.w.Heading("Hydration")
	askHydration := doughmath.Hydration{Ingredients: p.Formula, Liquids: doughmath.LiquidsWater}
	r.out.Hydration, err = askHydration.Solve()
	if r.w != nil && err == nil {
		askHydration.Show(r.w, r.out.Hydration)
	}
	if r.out.Weigh.Flour == 0 { // otherwise its errors were told above
		r.adopt("", err, func(field string) string {
			return "order.product.formula" + strings.TrimPrefix(field, "ingredients")
		})
	}
	if err == nil && !(r.out.Hydration.Hydration > 0) {
		r.c.Fail("order.product.formula", "without any water", "water or another liquid: flour alone makes no dough")
	}
	r.w.Heading("Water temperature")
	askWaterTemperature := doughmath.WaterTemperature{
		Target: p.Dough, Flour: s.Flour, Room: s.Room, Third: p.PrefermentTemp,
		Friction: p.Friction, Basis: p.Basis,
	}
	r.out.Water, err = askWaterTemperature.Solve()
	if r.w != nil && err == nil {
		askWaterTemperature.Show(r.w, r.out.Water)
	}
	r.adopt("", err, func(field string) string {
		switch field {
		case "target":
			return "order.product.dough"
		case "flour", "room":
			return "shift." + field
		case "third":
			return "order.product.preferment_temp"
		}
		return "order.product." + field
	})
	if err != nil || !r.c.OK() {
		return
	}
	r.out.WaterTemp = r.out.Water.Water
	r.first = len(r.out.Weigh.Parts) - len(p.Formula)
}

// proofer: passes, dwell and how it fills and empties.
func (r *run) proofer() {
	if !r.c.OK() {
		return
	}
	var err error
	r.w.Heading("Overhead proofer")
	askDwell := proof.Dwell{Proofer: r.line.Proofer, Across: r.product.Across, Strokes: r.out.Strokes}
	r.out.Dwell, err = askDwell.Solve()
	if r.w != nil && err == nil {
		askDwell.Show(r.w, r.out.Dwell)
	}
	r.adopt("line", err, nil)
	askClear := proof.Clear{
		Proofer: r.line.Proofer, Across: r.product.Across, Strokes: r.out.Strokes,
		Pieces: r.out.Batch.PiecesMade,
	}
	r.out.Clear, err = askClear.Solve()
	if r.w != nil && err == nil {
		askClear.Show(r.w, r.out.Clear)
	}
	r.adopt("", err, func(field string) string {
		if field == "pieces" {
			return "order.pieces" // made in whole batches, there are more of them
		}
		return "line." + field
	})
	if r.c.OK() {
		r.waits()
	}
}

// waits: how long the divider waits for dough between batches, and the proofer
// with it, so that the pieces inside stay longer.
func (r *run) waits() {
	o := r.out
	t := &o.Times
	// Dough that is lost on the way takes no strokes.
	t.BatchScaling = unit.Duration(float64(o.Batch.PiecesPerBatch) * 60 / float64(o.Rate.Pieces))
	t.BatchInterval = max(t.BatchScaling, r.shift.Mixer.Cycle)
	t.BatchWait = t.BatchInterval - t.BatchScaling
	met := min(float64(o.Batch.Batches-1), math.Ceil(float64(o.Dwell.Dwell)/float64(t.BatchScaling)*(1-1e-9)))
	o.LongestDwell = o.Dwell.Dwell + unit.Duration(float64(met*float64(t.BatchWait)))
	if t.BatchWait > 0 && o.Batch.Batches > 1 {
		o.Conditions |= reckon.RateLimited
	}
	if float64(o.LongestDwell) > float64(r.product.DwellHigh)*(1+1e-9) {
		o.Dwell.Conditions |= proof.DwellOutsideWindow
	}
	if w := r.w; w != nil {
		w.Heading("Waits between batches")
		w.Given("pieces per batch", "n_b", float64(o.Batch.PiecesPerBatch), "", "")
		w.Given("pieces a minute", "P", float64(o.Rate.Pieces), "pieces/min", "")
		w.Given("mixer, from batch to batch", "t_c", float64(r.shift.Mixer.Cycle), "s", "")
		w.Given("batches", "b", float64(o.Batch.Batches), "", "")
		w.Given("dwell", "t", float64(o.Dwell.Dwell), "s", "while the machines run")
		w.Step("scaling one batch", "t_s", "n_b*60 / P", float64(t.BatchScaling), "s", "dough that is lost on the way takes no strokes")
		w.Step("from batch to batch", "t_b", "max(t_s, t_c)", float64(t.BatchInterval), "s", "the slower of divider and mixer")
		w.Step("wait between batches", "t_w", "t_b - t_s", float64(t.BatchWait), "s", "divider and proofer stand together")
		w.Step("most waits that one piece meets", "k", "min(b - 1, ceil(t/t_s*(1 - 1e-9)))", met, "", "")
		w.Step("longest stay in the proofer", "t_long", "t + k*t_w", float64(o.LongestDwell), "s", "")
	}
}

// moulder: gap, sheet and turns.
func (r *run) moulder() {
	if !r.c.OK() || r.product.Route != ToMoulder {
		return
	}
	p, m := r.product, &r.line.Moulder
	rename := func(field string) string {
		switch field {
		case "recovery":
			return "line.moulder.recovery"
		case "aspect":
			return "order.product.sheet_aspect"
		case "gap":
			return "line.moulder.gap_high"
		case "piece":
			return "order.product.baked"
		}
		return "order.product." + field
	}
	var err error
	r.w.Heading("Moulder")
	askGapForTurns := molder.GapForTurns{
		Turns: p.Turns, Piece: r.out.Aim, Density: p.Density,
		Recovery: m.Recovery, Aspect: p.Aspect, Measured: m.Measured,
	}
	r.out.Gap, err = askGapForTurns.Solve()
	if r.w != nil && err == nil {
		askGapForTurns.Show(r.w, r.out.Gap)
	}
	r.adopt("", err, rename)
	if err != nil {
		return
	}
	r.out.GapSet = unit.Length(nearest(float64(r.out.Gap.Gap), float64(m.GapStep)))
	if r.w != nil {
		r.w.Given("gap", "h", float64(r.out.Gap.Gap), "mm", "")
		explainNearest(r.w, "gap to set", "h_set", "h", float64(r.out.GapSet), float64(m.GapStep), "mm")
	}
	if r.out.GapSet < m.GapLow || r.out.GapSet > m.GapHigh {
		r.c.Nest("", &reckon.NoSolutionError{
			Func: planID, Unknown: "gap of the moulder", Wanted: strconv.FormatFloat(p.Turns, 'g', 4, 64) + " turns (a gap of " + r.out.Gap.Gap.String() + ")",
			Low: m.GapLow.String(), High: m.GapHigh.String(), Advice: "these are the gaps that the rollers reach; ask for more turns to close the gap and for fewer to open it",
		})
		return
	}
	askTurnsForGap := molder.TurnsForGap{
		Piece: r.out.Aim, Density: p.Density, Gap: r.out.GapSet, Recovery: m.Recovery,
		Aspect: p.Aspect, Measured: m.Measured,
	}
	r.out.Roll, err = askTurnsForGap.Solve()
	if r.w != nil && err == nil {
		askTurnsForGap.Show(r.w, r.out.Roll)
	}
	r.adopt("", err, rename)
}

// belts finds the belt on which the pieces lie closest.
func (r *run) belts() {
	if !r.c.OK() {
		return
	}
	var tightest *Belt
	var least float64
	for i := range r.line.Belts {
		b := &r.line.Belts[i]
		if b.Route != "" && b.Route != r.product.Route {
			continue
		}
		// Free belt for each piece, over what is wanted at the least.
		spare := float64(b.Speed)*60*float64(r.lanesOn(b))/float64(r.out.Rate.Pieces) - float64(r.length+b.LeastGap)
		if tightest == nil || spare < least {
			tightest, least = b, spare
		}
	}
	if tightest == nil {
		return
	}
	var err error
	if r.w != nil {
		r.w.Heading("Belt " + tightest.Name)
	}
	r.out.TightestBelt = tightest.Name
	askPieceSpacing := molder.PieceSpacing{
		Belt: tightest.Speed, Piece: r.length,
		Rate: unit.PieceRate(float64(r.out.Rate.Pieces) / float64(r.lanesOn(tightest))), LeastGap: tightest.LeastGap,
	}
	r.out.Spacing, err = askPieceSpacing.Solve()
	if r.w != nil && err == nil {
		askPieceSpacing.Show(r.w, r.out.Spacing)
	}
	r.adopt("order.product", err, func(string) string { return "length" })
}

// lanesOn returns how many pieces lie side by side on a belt.
func (r *run) lanesOn(b *Belt) int { return min(b.Lanes, r.product.Across) }

// times: from the first mixing to the last piece out.
func (r *run) times() {
	if !r.c.OK() {
		return
	}
	p, s, o := r.product, r.shift, r.out
	t := &o.Times
	batches := float64(o.Batch.Batches)
	t.FirstStroke = s.Mixer.Mixing + p.FloorTime
	t.LastMix = unit.Duration((batches - 1) * float64(t.BatchInterval))
	waited := unit.Duration((batches - 1) * float64(t.BatchWait))
	t.FirstOut = t.FirstStroke + o.Clear.FirstOut
	t.LastStroke = t.FirstStroke + o.Clear.LastIn + waited
	t.LastOut = t.LastStroke + o.Clear.ClearOut
	if w := r.w; w != nil {
		w.Heading("Times from the start of the first mixing")
		w.Given("mixing", "t_m", float64(s.Mixer.Mixing), "s", "")
		w.Given("floor time", "t_f", float64(p.FloorTime), "s", "")
		w.Given("from batch to batch", "t_b", float64(t.BatchInterval), "s", "")
		w.Given("wait between batches", "t_w", float64(t.BatchWait), "s", "")
		w.Given("batches", "b", batches, "", "")
		w.Given("proofer, first pieces out after", "t_1", float64(o.Clear.FirstOut), "s", "")
		w.Given("proofer, last stroke after", "t_2", float64(o.Clear.LastIn), "s", "if the divider never waits")
		w.Given("proofer, empty after the last stroke", "t_3", float64(o.Clear.ClearOut), "s", "")
		w.Step("first stroke", "T_1", "t_m + t_f", float64(t.FirstStroke), "s", "")
		w.Step("last batch started", "T_2", "(b - 1) * t_b", float64(t.LastMix), "s", "")
		w.Step("first pieces out", "T_3", "T_1 + t_1", float64(t.FirstOut), "s", "")
		w.Step("last stroke", "T_4", "T_1 + t_2 + (b - 1)*t_w", float64(t.LastStroke), "s", "")
		w.Step("last pieces out", "T_5", "T_4 + t_3", float64(t.LastOut), "s", "")
	}
}

// cautions are those of the line as a whole; the stations have their own.
func (r *run) cautions() {
	o := r.out
	o.Cautions |= reckon.MovingMachinery | reckon.FlourDust | reckon.OilSlip | reckon.Allergens
	if r.product.Route == ToStamper {
		o.Cautions |= reckon.Interlocks
	}
}

// adopt takes over what a station found wrong, under the path at which this
// input holds the value. It is small enough to be inlined while all is well.
func (r *run) adopt(prefix string, err error, rename func(string) string) {
	if err != nil {
		r.refuse(prefix, err, rename)
	}
}

func (r *run) refuse(prefix string, err error, rename func(string) string) {
	var mine reckon.Checks
	mine.Nest(prefix, err)
	for _, e := range reckon.InputErrors(mine.Err()) {
		if rename != nil {
			e.Field = strings.TrimPrefix(e.Field, prefix+".")
			e.Field = rename(e.Field)
			if prefix != "" {
				e.Field = prefix + "." + e.Field
			}
		}
		e.Func = planID
	}
	var none *reckon.NoSolutionError
	if errors.As(mine.Err(), &none) {
		none.Func = planID
	}
	r.c.Nest("", mine.Err())
}

// nearest rounds v to a step, or not at all if there is no step.
func nearest(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	return math.Round(v/step) * step
}

func explainNearest(w *reckon.Working, id, symbol, of string, v, step float64, held string) {
	if step <= 0 {
		w.Step(id, symbol, of, v, held, "set between the steps")
		return
	}
	w.Given("step", "q", step, held, "")
	w.Step(id, symbol, "round("+of+"/q) * q", v, held, "to the nearest step")
}
