package line

import (
	"math"
	"reflect"
	"strings"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// station is a set of the stations of a plan, one bit for each. A station is
// what is asked, or left alone, as a whole when a plan is repeated.
type station uint32

const (
	ordering   station = 1 << iota // the checks of the order
	shifting                       // the checks of the shift
	weighting                      // Piece
	checking                       // Check
	labelling                      // Label
	aiming                         // Target, PieceLow, PieceHigh
	marking                        // Trials, Mark, and of Label whether the mark meets it
	leaving                        // Band, and of Check whether that is within the tolerance
	drumming                       // Drum
	pocketing                      // Pocket
	speeding                       // Speed
	batching                       // Strokes, Rate, all of the batches and the hopper, Conditions
	rounding                       // Rounding, Motions
	weighing                       // Weigh
	wetting                        // Hydration
	tempering                      // Water
	splitting                      // Split
	ripening                       // PrefermentRuns
	heating                        // HeatWater, Heat, WaterTemp
	watering                       // the formula water, what of it is ice or hot, and of Water whether the tap is too cold
	proofing                       // Dwell, LongestDwell, Clear
	guiding                        // Guides
	moulding                       // Gap, Roll
	rolling                        // Rollers
	shaping                        // Chain, Heights, Board, Pan
	stamping                       // Stamp
	travelling                     // TightestBelt, Spacing
	timing                         // the Times that are not those of the batches
	supplying                      // Oil, Dusting
	finishing                      // FinalProof

	everyStation = finishing<<1 - 1
)

// A plan that is repeated also keeps these two, which come before all stations.
const (
	soundLine station = finishing << (1 + iota) // the checks of the line
	fitted                                      // the trial pieces, fitted
)

// reads says what each station reads: inputs by their paths, as far as any of
// them is read, and the stations before it whose answers it uses. What no station
// names counts as read by all of them, as the route of the product does. No station reads
// what a later one writes. The tests hold the source of every station against this list.
var reads = [...]struct {
	station station
	inputs  string
	after   station
}{
	{soundLine, "line", 0},
	{fitted, "line.divider.lanes line.divider.confidence", 0},
	{ordering, "order line.flour_dusters line.rounder line.pocket line.oven", 0},
	{shifting, "shift", 0},
	{weighting, "order.product.baked order.product.loss", 0},
	{checking, "order.product.check order.product.dough order.product.across line.divider", fitted},
	{labelling, "order.product.label order.product.baked order.product.loss order.product.check", weighting | checking},
	{aiming, "order.product.tolerance", weighting | labelling},
	{marking, "order.product.tolerance order.product.dough order.product.across line.divider", labelling | aiming | fitted},
	{leaving, "order.pieces order.spare order.product.check order.product.tolerance order.product.dough order.product.across line.divider", checking | labelling | aiming | marking | fitted},
	{drumming, "order.product.density line.drums line.cup_ratio", aiming},
	{pocketing, "order.product.pocketed order.product.density line.pocket", aiming},
	{speeding, "order.product.across order.product.dwell_low order.product.dwell_high order.product.rate_high order.product.length " +
		"order.product.baking line.oven line.divider line.proofer line.stamper line.moulder line.belts", drumming},
	{batching, "order.pieces order.spare order.aim order.product.across order.product.dwell_low order.product.dwell_high order.product.floor_time order.product.stickiness order.product.hopper_max order.product.hopper_drift order.product.tolerance order.product.label " +
		"shift.mixer shift.waste shift.waste_basis line.divider line.proofer line.flour_dusters", weighting | labelling | aiming | marking | speeding},
	{rounding, "order.product.rounding line.rounder", batching},
	{weighing, "order.product.formula shift.division shift.scales", batching},
	{wetting, "order.product.formula", 0},
	{tempering, "order.product.dough_temp order.product.preferment_temp order.product.friction order.product.friction_basis order.product.yeast order.product.yeast_step " +
		"shift.flour_temp shift.room", 0},
	{splitting, "order.product.formula order.product.preferments shift.division shift.scales", weighing},
	{ripening, "order.product.formula order.product.preferments order.product.preferment_mixes order.product.preferment_temp " +
		"shift.flour_temp shift.room shift.tap shift.hot_tap", splitting},
	{heating, "order.product.formula order.product.preferments order.product.preferment_temp order.product.heat order.product.dough_temp order.product.friction " +
		"order.product.friction_basis order.product.yeast order.product.yeast_step shift.room", weighing | tempering | splitting},
	{watering, "order.product.formula order.product.preferments order.product.preferment_temp order.product.heat order.product.dough_temp order.product.yeast " +
		"order.product.yeast_step shift.tap shift.hot_tap shift.division shift.scales", weighing | tempering | splitting | heating},
	{proofing, "order.product.across order.product.dwell_low order.product.dwell_high shift.mixer line.proofer", batching},
	{guiding, "order.product.length line.moulder", 0},
	{moulding, "order.product.turns order.product.density order.product.sheet_aspect order.product.turns_ratio order.product.tear_limit line.moulder", aiming | drumming | guiding},
	{rolling, "order.product.density line.moulder", aiming | drumming | moulding},
	{shaping, "order.product.density order.product.length order.product.panned line.moulder", aiming | guiding | moulding},
	{stamping, "order.product.across line.stamper", batching},
	{travelling, "order.product.across order.product.length line.belts", drumming | batching},
	{timing, "order.product.floor_time shift.mixer", batching | proofing},
	{supplying, "order.product.stickiness line.oil_valves line.flour_dusters", aiming | batching | proofing},
	{finishing, "order.product.final_stay order.product.per_carrier order.product.baking line.final_proof line.oven", batching},
}

// readersOf returns the stations whose answers the input at the path can change.
func readersOf(path string) station {
	var found station
	for i := range reads {
		for input := range strings.FieldsSeq(reads[i].inputs) {
			// The whole may change, or a part of it.
			if within(path, input) || within(input, path) {
				found |= reads[i].station
			}
		}
		if found&reads[i].after != 0 {
			found |= reads[i].station
		}
	}
	const checks = ordering | shifting | soundLine
	if found&^checks == 0 {
		return everyStation | soundLine | fitted
	}
	return found
}

// within reports whether a path is another or leads to a part of it.
func within(path, whole string) bool {
	rest, ok := strings.CutPrefix(path, whole)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// forget takes back what the stations have found.
func (r *run) forget(due station) {
	o := r.out
	o.Cautions = 0
	for ; due != 0; due &= due - 1 {
		switch due & -due {
		case weighting:
			o.Piece = doughmath.ScalingWeightResult{}
		case checking:
			o.Check = divider.PiecesToWeighResult{}
		case labelling:
			o.Label = divider.TargetWeightResult{}
		case aiming:
			o.Target, o.PieceLow, o.PieceHigh = 0, 0, 0
		case marking:
			o.Trials, o.Mark = 0, divider.MarkForWeightResult{}
			o.Label.Conditions &^= divider.BelowLabel
		case leaving:
			o.Band = divider.HandleBandResult{}
			o.Check.Conditions &^= divider.WideInterval
		case drumming:
			o.Drum = molder.DrumChoiceResult{}
		case pocketing:
			o.Pocket = proof.PocketFitResult{}
		case speeding:
			o.Speed = proof.SpeedResult{}
		case batching:
			o.Strokes, o.StrokesLimit, o.MixerStrokes, o.Rate = 0, "", 0, divider.RateResult{}
			o.Batch, o.LargestBatch, o.LargestBatchLimit = doughmath.BatchPlanResult{}, 0, ""
			o.Hopper, o.LightPieces = divider.HopperTimeResult{}, 0
			o.DriftLimit, o.Drift, r.held = 0, divider.WeightDriftResult{Moves: o.Drift.Moves[:0]}, 0 // the list is filled again
			o.Times.BatchScaling, o.Times.BatchInterval, o.Times.BatchWait = 0, 0, 0
			o.Aim, r.fewest, r.top, r.dusted = AimResult{}, batched{}, 0, stretch{}
			o.Conditions = 0
		case rounding:
			o.Rounding, o.Motions = molder.RoundingTimeResult{}, molder.RoundingMotionsResult{}
		case weighing:
			o.Weigh, r.first = doughmath.FormulaScaleResult{}, 0
		case wetting:
			o.Hydration = doughmath.HydrationResult{}
		case tempering:
			o.Water = doughmath.WaterTemperatureResult{}
		case splitting:
			o.Split = doughmath.PrefermentSplitResult{}
		case ripening:
			o.PrefermentRuns = nil
		case heating:
			o.HeatWater, o.Heat = doughmath.WaterForMixingHeatResult{}, doughmath.MixingHeatResult{}
		case watering:
			o.WaterMass, o.HotToWeigh, o.IceToWeigh, o.WaterToWeigh = 0, 0, 0, 0
			o.Ice, o.HeatIce, o.Mix = doughmath.IceResult{}, doughmath.IceForMixingHeatResult{}, doughmath.WaterMixResult{}
			o.Water.Conditions &^= doughmath.WarmerThanTap
		case proofing:
			o.Dwell, o.LongestDwell, o.Clear = proof.DwellResult{}, 0, proof.ClearResult{}
		case guiding:
			o.Guides = molder.SideGuidesResult{}
		case moulding:
			o.Gap, o.Roll = molder.SheetSettingResult{}, molder.TurnsForGapResult{}
		case rolling:
			o.Rollers = molder.RollerGapsResult{}
		case shaping:
			o.Chain, o.Heights = molder.CurlingChainResult{}, molder.BoardForLengthResult{}
			o.Board, o.Pan = molder.PressureBoardResult{}, molder.PanFitResult{}
		case stamping:
			o.Stamp = molder.StampRateResult{}
		case travelling:
			o.TightestBelt, o.Spacing = "", molder.PieceSpacingResult{}
		case timing:
			t := &o.Times
			t.FirstStroke, t.FirstOut, t.LastMix, t.LastStroke, t.LastOut = 0, 0, 0, 0, 0
		case supplying:
			o.Oil, o.Dusting = divider.OilUseResult{}, o.Dusting[:0] // the list is filled again
		case finishing:
			o.FinalProof = proof.FinalProofLoadResult{}
		}
	}
}

// Repeat returns a function that plans q as it stands at each call and writes the plan to
// out. It is for studies, which plan the same again with a few inputs changed: vary names
// those by their paths, such as "shift.tap", "order.product.baked" or "line.belts[2].belt_speed", and between two
// calls nothing else of q may change, and nothing of out. What does not depend on what has changed is
// kept in out, and the plan is the same to the last bit, or refused with the same error,
// as one from the start.
//
// A path that leads to no number counts as changed at every call, and one that leads nowhere as all of q.
// The function is for one goroutine. The lists in out are its own: the next call overwrites them.
func (q *Plan) Repeat(out *PlanResult, vary []string) func() error {
	p := &repeated{plan: q, owed: everyStation | soundLine | fitted}
	r := &p.run
	r.line, r.order, r.product, r.shift, r.c, r.out = &q.Line, &q.Order, &q.Order.Product, &q.Shift, &p.checks, out
	for _, path := range vary {
		p.watch(path)
	}
	return p.again
}

// repeated is a plan that keeps what it found.
type repeated struct {
	plan   *Plan
	inputs []input
	owed   station // what has to be asked the next time
	run    run
	checks reckon.Checks
	parts  []doughmath.Part

	refused bool       // the last plan was
	found   PlanResult // by then, while its answer must hold nothing
}

// input is one that may change.
type input struct {
	number  reckon.Number
	last    float64
	always  bool // whether it has changed cannot be seen: it counts as changed
	readers station
}

func (p *repeated) watch(path string) {
	in := input{always: true, readers: readersOf(path)}
	// Looking for a number makes the parts on the way to it that are not there: not in the plan itself.
	probe := *p.plan
	if _, err := reckon.NumberIn(&probe, path); err == nil && reflect.DeepEqual(probe, *p.plan) {
		in.number, _ = reckon.NumberIn(p.plan, path)
		in.always, in.last = false, in.number.Value()
	}
	p.inputs = append(p.inputs, in)
}

// changed reports whether the input is another than at the last call. Not a number is always
// another: a temperature that was not given reads so, and one that is none.
func (in *input) changed() bool {
	if in.always {
		return true
	}
	last, now := in.last, in.number.Value()
	in.last = now
	return now != last || math.Signbit(now) != math.Signbit(last)
}

func (p *repeated) again() error {
	for i := range p.inputs {
		in := &p.inputs[i]
		if in.changed() {
			p.owed |= in.readers
		}
	}
	out := p.run.out
	if p.refused {
		*out, p.refused = p.found, false
	}
	p.checks = reckon.Checks{Func: planID}
	sound := p.commission()
	if sound {
		p.run.forget(p.owed)
		p.run.stations(p.owed, p.parts[:0])
		if p.checks.OK() {
			p.owed, p.parts = 0, out.Weigh.Parts
			return nil
		}
	}
	// What was not answered remains owed, and all that is wrong is told, as ever.
	p.found, p.refused = *out, true
	if sound {
		cl := Commissioned{line: p.plan.Line, fits: p.run.fits, has: p.run.has}
		return cl.PlanInto(out, &p.plan.Order, &p.plan.Shift, nil)
	}
	var err error
	*out, err = p.plan.Solve()
	return err
}

// commission does again what is owed of commissioning the line, and reports whether it is sound.
func (p *repeated) commission() bool {
	line, r := &p.plan.Line, &p.run
	if p.owed&soundLine != 0 {
		r.has = line.parts()
		line.check(&p.checks)
	}
	if p.owed&fitted != 0 {
		r.fits = line.fit(&p.checks, nil)
	}
	if !p.checks.OK() {
		return false
	}
	p.owed &^= soundLine | fitted
	return true
}
