package line_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// Whatever station a bad value is for, it is told under its own name and alone; and beside what stops a plan before that station is
// asked at all: nothing ordered, or a hopper without room.
func TestOneBadValueIsToldAloneAndBesideOthers(t *testing.T) {
	fields := func(list []*reckon.InputError) (out []string) {
		for _, e := range list {
			out = append(out, e.Field)
		}
		slices.Sort(out)
		return out
	}
	nan := math.NaN()
	orders := [...]line.Plan{input(t, 0), input(t, 1), input(t, 2)}
	for _, c := range []struct {
		order int
		field string
		bend  func(l *line.Line, p *line.Product, s *line.Shift)
	}{
		{0, "order.product.baked", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Baked = -5 }},
		{0, "order.product.loss.bake.percent", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Loss.Bake.Percent = 100 }},
		{0, "order.product.loss.combine", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Loss.Combine = "mixed" }},
		{2, "order.product.label.rules", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Label.Rules = "moon" }},
		{2, "order.product.label.sd", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Label.SD = -1 }},
		{2, "order.product.label.first_share", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Label.FirstShare = -1 }},
		{0, "order.product.check.sd", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Check.SD = -1 }},
		{0, "order.product.check.half_width", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Check.HalfWidth = -1 }},
		{0, "order.product.check.confidence", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Check.Confidence = 40 }},
		{0, "order.product.check.group", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Check.Group = 1 }},
		{0, "order.product.check.every", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Check.Every = 0.5 }},
		{0, "order.product.tolerance", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Tolerance = -1 }},
		{0, "order.product.density", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Density = 9 }},
		{0, "order.product.pocketed.growth", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.Pocketed = &line.Pocketed{Growth: 9, Flatness: 1}
		}},
		{0, "order.product.pocketed.flatness", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.Pocketed = &line.Pocketed{Growth: 1, Flatness: 4}
		}},
		{0, "order.product.dwell_low", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.DwellLow = 0 }},
		{0, "order.product.dwell_high", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.DwellHigh = 60 }},
		{0, "order.product.hopper_max", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.HopperMax = 0 }},
		{0, "order.product.floor_time", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.FloorTime = -1 }},
		{0, "order.product.route", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Route = "attic" }},
		{0, "order.product.rounding.time_low", func(l *line.Line, p *line.Product, _ *line.Shift) {
			l.Controls, l.Changing = nil, line.Changing{}
			l.Rounder = line.Rounder{Way: line.OnTrack, SpeedLow: 10, SpeedHigh: 60, Diameter: 620, Path: 2400, Travel: molder.Rolling}
			p.Rounding = line.Rounding{Speed: 38, TimeLow: -1}
		}},
		{0, "line.oil_valves[0]", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Oil = []unit.VolumeRate{-1} }},
		{2, "order.product.preferment_temp", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.Preferments = orders[1].Order.Product.Preferments // without a temperature, and in a heat balance
		}},
		{0, "order.product.rounding.motions_low", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Rounding.MotionsLow = -1 }},
		{0, "order.product.rounding.motions_high", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Rounding.MotionsHigh = 1 }},
		{0, "order.product.rounding.speed", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Rounding.Speed = 0 }},
		{0, "order.product.hopper_drift.hold", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Drift.Hold = "hope" }},
		{0, "order.product.hopper_drift.drift_limit", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Drift.DriftLimit = -1 }},
		{0, "order.product.hopper_drift.drift_limit", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Tolerance, p.Drift.DriftLimit = 0, 0 }},
		{0, "order.product.hopper_drift.growth", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Drift.Growth = -1 }},
		{0, "order.product.hopper_drift.growth_basis", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Drift.GrowthBasis = "guessed" }},
		{0, "order.product.stickiness", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Stickiness = -1 }},
		{0, "order.product.final_stay", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.FinalStay = -1 }},
		{0, "order.product.per_carrier", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.PerCarrier, p.Baking = -1, line.Baking{} }},
		{0, "order.product.baking.time", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Baking.Time = 0 }},
		{0, "order.product.baking.per_load", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Baking.PerLoad = 0 }},
		{0, "order.product.baking.stay_max", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Baking.StayMax = 60 }},
		{0, "order.product.formula", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Formula = p.Formula[:1] }}, // without water
		{0, "order.product.formula", func(_ *line.Line, p *line.Product, _ *line.Shift) { // nor with all of its flour
			p.Formula = slices.Clone(p.Formula[:1])
			p.Formula[0].Percent = 70
		}},
		{0, "order.product.formula[3].percent", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.Formula = slices.Clone(p.Formula)
			p.Formula[3].Percent = -1
		}},
		{0, "order.product.dough_temp", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.DoughTemp = unit.Temp{} }},
		{0, "order.product.friction", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Friction = unit.TempDelta(nan) }},
		{0, "order.product.friction_basis", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Basis = "twice" }},
		{0, "order.product.yeast", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Yeast = "wild" }},
		{0, "shift.flour_temp", func(_ *line.Line, _ *line.Product, s *line.Shift) { s.FlourTemp = unit.Temp{} }},
		{0, "shift.room", func(_ *line.Line, _ *line.Product, s *line.Shift) { s.Room = unit.Celsius(70) }},
		{0, "shift.tap", func(_ *line.Line, _ *line.Product, s *line.Shift) { s.Tap = unit.Temp{} }},
		{0, "shift.waste", func(_ *line.Line, _ *line.Product, s *line.Shift) { s.Waste = -1 }},
		{0, "shift.waste_basis", func(_ *line.Line, _ *line.Product, s *line.Shift) { s.WasteBasis = "" }},
		{0, "shift.division", func(_ *line.Line, _ *line.Product, s *line.Shift) { s.Division = 0 }},
		{0, "shift.scales[0].division", func(_ *line.Line, _ *line.Product, s *line.Shift) {
			s.Division, s.Scales = 0, []doughmath.Scale{{Name: "floor"}}
		}},
		{1, "order.product.preferments[0].amount", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.Preferments = slices.Clone(p.Preferments)
			p.Preferments[0].Amount = -1
		}},
		{1, "order.product.preferment_temp", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.PrefermentTemp = unit.Celsius(-90) }},
		{1, "order.product.preferment_mixes", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.PrefermentMixes = slices.Repeat(p.PrefermentMixes, 2)
		}},
		{1, "order.product.preferment_mixes", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.PrefermentMixes = slices.Repeat(p.PrefermentMixes, 17)
		}},
		{1, "order.product.preferment_mixes[0].name", mixed(func(m *line.PrefermentMix) { m.Name = "biga" })},
		{1, "order.product.preferment_mixes[1].name", func(_ *line.Line, p *line.Product, _ *line.Shift) { // the same twice, of two
			p.Preferments = append(slices.Clone(p.Preferments), p.Preferments[0])
			p.Preferments[0].Amount, p.Preferments[1].Amount, p.Preferments[1].Name = 10, 10, "poolish"
			p.PrefermentMixes = slices.Repeat(p.PrefermentMixes, 2)
		}},
		{1, "order.product.preferment_mixes[0].mixing", mixed(func(m *line.PrefermentMix) { m.Mixing = -1 })},
		{1, "order.product.preferment_mixes[0].ripening", mixed(func(m *line.PrefermentMix) { m.Ripening = 169 * 3600 })},
		{1, "order.product.preferment_mixes[0].keeps", mixed(func(m *line.PrefermentMix) { m.Keeps = -1 })},
		{1, "order.product.preferment_mixes[0].friction", mixed(func(m *line.PrefermentMix) { m.Friction = unit.TempDelta(nan) })},
		{1, "order.product.preferment_mixes[0].friction_basis", mixed(func(m *line.PrefermentMix) { m.Basis = "twice" })},
		// Without a temperature that is wanted neither a friction nor its basis says anything.
		{1, "order.product.preferment_mixes[0].target_temp", mixed(func(m *line.PrefermentMix) { m.TargetTemp, m.Basis = unit.Temp{}, "" })},
		{1, "order.product.preferment_mixes[0].target_temp", mixed(func(m *line.PrefermentMix) { m.TargetTemp, m.Friction = unit.Temp{}, 0 })},
		{1, "order.product.turns", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Turns = 0.4 }},
		{1, "order.product.sheet_aspect", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Aspect = 0 }},
		{1, "order.product.tear_limit", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.TearLimit = 900 }},
		{1, "order.product.turns_ratio", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.TurnsRatio = 9 }},
		{1, "order.product.length", func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Length = 0 }},
		{2, "order.product.panned.growth", panned(func(k *line.Panned) { k.Growth = 9 })},
		{2, "order.product.panned.fill_low", panned(func(k *line.Panned) { k.FillLow = -1 })},
		{2, "order.product.panned.pan.depth", panned(func(k *line.Panned) { k.Pan.Depth = 0 })},
		{2, "order.product.heat.ingredients", func(_ *line.Line, p *line.Product, _ *line.Shift) {
			h := *p.Heat
			h.Ingredients = h.Ingredients[1:]
			p.Heat = &h
		}},

		{0, "line.proofer.pockets", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Proofer.Pockets = 0 }},
		{0, "line.proofer.trays", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Proofer.Trays = -1 }},
		{0, "line.pocket.gap", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Pocket.Gap = -1 }},
		{0, "line.drums", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Drums, l.Controls, l.Changing = nil, nil, line.Changing{}
		}},
		{0, "line.divider.hopper_least", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.HopperLeast = unit.Mass(math.NaN()) }},
		{0, "line.flour_dusters[1].scale.trial_piece", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Dusters = slices.Clone(l.Dusters)
			l.Dusters[1].Scale.TrialPiece = 0
		}},
		{0, "line.flour_dusters[1].name", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			duster(func(d *line.Duster) { d.Name = "" })(l, nil, nil)
			l.Controls, l.Changing = nil, line.Changing{} // which know it by its name
		}},
		{0, "line.flour_dusters[1].onto", duster(func(d *line.Duster) { d.Onto = "roof" })},
		{0, "line.flour_dusters[1].scale.stickiness_high", duster(func(d *line.Duster) { d.Scale.StickinessLow, d.Scale.StickinessHigh = 3, 2.9 })},
		{0, "line.flour_dusters[1].scale.sd", duster(func(d *line.Duster) { d.Scale.SD = -1 })},
		{0, "line.flour_dusters[1].scale.trial_count", duster(func(d *line.Duster) { d.Scale.TrialCount = -1 })},
		{0, "line.flour_dusters[1].slide", duster(func(d *line.Duster) {
			d.Slide, d.SlideStep = []divider.SlidePoint{{Slide: 1, FlourRate: 1}}, 0
		})},
		{0, "line.flour_dusters[1].slide_step", duster(func(d *line.Duster) { d.Slide, d.SlideStep = nil, 0.005 })}, // a step of no slide
		{0, "line.moulder.rate_high", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Moulder.RateHigh = 10_001 }},
		{0, "line.moulder.gap_high", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Moulder.GapHigh = 200.5 }}, // by the line itself: these pieces are not moulded
		{0, "line.moulder.gap_high", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Moulder.GapLow, l.Moulder.GapHigh = 3, 2.9 }},
		{0, "line.moulder.gap_step", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Moulder.GapStep = 200.5 }},
		{0, "line.moulder.first_pair.flattened_to", first(func(f *line.FirstPair) { f.FlattenedTo = 500.5 })},
		{0, "line.cup_ratio.low", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.CupRatio.Low = 0 }},
		{0, "line.cup_ratio.high", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.CupRatio.High = 5 }},
		{0, "line.rounder.rows", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Rounder.Rows = 101 }},
		{0, "line.rounder.path", func(l *line.Line, p *line.Product, s *line.Shift) {
			track(line.Rounding{Speed: 38}, 0)(l, p, s)
			l.Rounder.Path = -1
		}},
		{0, "line.stamper.die", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Stamper.Die = "hammer" }},
		{0, "line.stamper.contact", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Stamper.Contact = 101 }},
		{0, "line.stamper.around", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Stamper.Around = -3 }},
		{0, "line.oil_valves[1]", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Oil = []unit.VolumeRate{1, -1} }},
		{0, "line.final_proof.carrier", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.FinalProof.Carrier = "shelf" }},
		{0, "line.final_proof.handling", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.FinalProof.Handling = -1 }},
		{0, "line.final_proof.available", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.FinalProof.Available = -1 }},
		{0, "line.oven.kind", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Oven.Kind = "hearth" }},
		{0, "line.moulder.recovery", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Moulder.Recovery = 0.5 }},
		{0, "line.moulder.first_pair.reduction_limit", first(func(f *line.FirstPair) { f.ReductionLimit = 0 })},
		{0, "line.moulder.first_pair.recovery", first(func(f *line.FirstPair) { f.Recovery = 0 })},
		{0, "line.moulder.first_pair.roller_diameter", first(func(f *line.FirstPair) { f.Roller = -1 })},
		{0, "line.moulder.first_pair.friction", first(func(f *line.FirstPair) { f.Friction = -1 })},
		{0, "line.moulder.first_pair.scale.method", first(func(f *line.FirstPair) { f.Scale.Method = "guess" })},
		{0, "line.moulder.first_pair.last_scale.method", first(func(f *line.FirstPair) { f.Last.Method = "guess" })},
		{0, "line.moulder.curling_chain.margin", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			k := *l.Moulder.Chain
			k.Margin, l.Moulder.Chain = -1, &k
		}},
		{0, "line.moulder.side_guides.length_ratio", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			k := *l.Moulder.Guides
			k.LengthRatio, l.Moulder.Guides = 9, &k
		}},
		{0, "line.moulder.pressure_board.bite", board(func(k *line.Board) { k.Bite = -1 })},
		{0, "line.moulder.pressure_board.spring", board(func(k *line.Board) { k.Spring = 0 })},
		{0, "line.moulder.pressure_board.length", board(func(k *line.Board) { k.Length = 0 })},
		{0, "line.moulder.pressure_board.belt", board(func(k *line.Board) { k.Belt = 0 })},
		{0, "line.moulder.pressure_board.seal_turns", board(func(k *line.Board) { k.SealTurns = -1 })},
		{0, "line.parts[0].materials[0]", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Parts = []molder.PartCare{{Part: "rounding-drum", Materials: []molder.Material{"gold"}}}
		}},
		{0, "line.divider.lanes[0].trials[0].weight", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Divider.Lanes = slices.Clone(l.Divider.Lanes)
			l.Divider.Lanes[0].Trials = slices.Clone(l.Divider.Lanes[0].Trials)
			l.Divider.Lanes[0].Trials[0].Weight = -1
		}},
		{0, "line.divider.lanes[0].shape", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Divider.Lanes = slices.Clone(l.Divider.Lanes)
			l.Divider.Lanes[0].Shape = "round"
		}},
		{0, "line.divider.interval", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.Interval = "wide" }},
		{1, "line.belts[1].place", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Belts = slices.Clone(l.Belts)
			l.Belts[1].Place = ""
		}},
		{0, "line.belts[0].place", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Belts = slices.Clone(l.Belts)
			l.Belts[0].Route = line.ToPanning // no moulded piece runs over it
		}},
		{0, "line.belts[0].place", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Belts = slices.Clone(l.Belts)
			l.Belts[0].Route = line.ToStamper
		}},
		{0, "line.belts[0].place", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Belts = slices.Clone(l.Belts)
			l.Belts[0].Place = "above"
		}},
		{0, "line.belts[0].route", func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Belts = slices.Clone(l.Belts)
			l.Belts[0].Route = "attic"
		}},
		{0, "line.changing.stop", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Changing.Stop = -1 }},
		{0, "line.changing.set_aside", func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Changing.SetAside = 10_001 }},
	} {
		if strings.HasPrefix(c.field, "line.") {
			in := orders[c.order]
			c.bend(&in.Line, &in.Order.Product, &in.Shift)
			_, err := line.Commission(in.Line)
			assert.Equal(t, []string{c.field}, fields(reckon.InputErrors(err)), "%s, of a line alone", c.field)
		}
		for _, beside := range []string{"", "order.pieces", "line.divider.hopper_capacity"} {
			in := orders[c.order]
			c.bend(&in.Line, &in.Order.Product, &in.Shift)
			want := []string{c.field}
			switch beside {
			case "order.pieces":
				in.Order.Pieces = 0
			case "line.divider.hopper_capacity":
				in.Line.Divider.HopperCapacity = 0
				if c.field != "line.divider.hopper_least" {
					in.Line.Divider.HopperLeast = 0
				}
			}
			if beside != "" {
				want = append(want, beside)
			}
			slices.Sort(want)
			_, err := in.Solve()
			assert.Equal(t, want, fields(reckon.InputErrors(err)), "%s, beside %q", c.field, beside)
			assert.Equal(t, want, fields(reckon.Wrong(in)), "%s, beside %q: a form says as much", c.field, beside)
		}
	}
}

func mixed(bend func(m *line.PrefermentMix)) func(*line.Line, *line.Product, *line.Shift) {
	return func(_ *line.Line, p *line.Product, _ *line.Shift) {
		p.PrefermentMixes = slices.Clone(p.PrefermentMixes)
		bend(&p.PrefermentMixes[0])
	}
}

func panned(bend func(k *line.Panned)) func(*line.Line, *line.Product, *line.Shift) {
	return func(_ *line.Line, p *line.Product, _ *line.Shift) {
		k := *p.Panned
		bend(&k)
		p.Panned = &k
	}
}

func first(bend func(f *line.FirstPair)) func(*line.Line, *line.Product, *line.Shift) {
	return func(l *line.Line, _ *line.Product, _ *line.Shift) {
		f := *l.Moulder.First
		bend(&f)
		l.Moulder.First = &f
	}
}

func board(bend func(k *line.Board)) func(*line.Line, *line.Product, *line.Shift) {
	return func(l *line.Line, _ *line.Product, _ *line.Shift) {
		k := *l.Moulder.Board
		bend(&k)
		l.Moulder.Board = &k
	}
}

// What is said of a line and a product that cannot be so, in the words that tell what to do.
func TestWhatIsSaidOfALine(t *testing.T) {
	orders := [...]line.Plan{input(t, 0), input(t, 1), input(t, 2)}
	for _, c := range []struct {
		order int
		bend  func(l *line.Line, p *line.Product, s *line.Shift)
		want  []string
	}{
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.StrokesHigh = 11 }, []string{"line.divider.strokes_high is 11 strokes/min: want at least strokes_low, 12 strokes/min"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.StrokesHigh = 1001 }, []string{"line.divider.strokes_high is 1001 strokes/min: want 0.01 strokes/min to 1000 strokes/min"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.MarkHigh = 0 }, []string{"line.divider.mark_high is 0: want more than mark_low, 0"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.MarkLow = math.Inf(-1) }, []string{"line.divider.mark_low is -Inf: want -1e+06 to 1e+06"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.HopperLeast = 160_000 }, []string{"line.divider.hopper_least is 160 kg: want less than hopper_capacity, 160 kg"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Divider.Lanes = nil }, []string{"line.divider.lanes is empty: want at least one number of pieces across with its trial pieces"}},
		{0, func(l *line.Line, p *line.Product, _ *line.Shift) { p.Across = 1 }, []string{"order.product.across is 1: want a number across for which the divider has trial pieces of this dough: 2"}},
		{0, func(l *line.Line, p *line.Product, _ *line.Shift) { p.Dough = "brioche" }, []string{`order.product.dough is "brioche": want a dough for which the divider has trial pieces: "rolls", "tin bread"`}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Moulder.GapHigh = 0.5 }, []string{"line.moulder.gap_high is 0.5 mm: want at least gap_low, 1 mm"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Rounder.SpeedHigh = 50 }, []string{"line.rounder.speed_high is 50 rev/min: want at least speed_low, 60 rev/min"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) {
			l.Rounder.Diameter, l.Rounder.Path, l.Rounder.Travel = 600, 2400, molder.Rolling
		}, []string{
			"line.rounder.diameter is 600 mm: want nothing: leave it out where the piece is rounded in a cup", "line.rounder.path is 2.4 m: want nothing: leave it out where the piece is rounded in a cup",
			`line.rounder.travel is "rolling": want nothing: leave it out where the piece is rounded in a cup`,
		}},
		{0, func(l *line.Line, p *line.Product, _ *line.Shift) { p.Rounding.TimeLow, p.Rounding.TimeHigh = 3, 8 }, []string{
			"order.product.rounding.time_low is 3 s: want nothing: the line rounds in a cup, where motions count", "order.product.rounding.time_high is 8 s: want nothing: the line rounds in a cup, where motions count",
		}},
		{0, track(line.Rounding{Speed: 38, MotionsLow: 10, MotionsHigh: 20}, 0), []string{
			"order.product.rounding.motions_low is 10: want nothing: the line rounds along a track, where time counts",
			"order.product.rounding.motions_high is 20: want nothing: the line rounds along a track, where time counts",
		}},
		{0, track(line.Rounding{Speed: 38, TimeLow: 3, TimeHigh: 8}, 0), nil},
		{0, track(line.Rounding{Speed: 38, TimeLow: 3, TimeHigh: 8}, 3), []string{"line.rounder.rows is 3: want nothing: leave it out where the piece runs along a track"}},
		{0, func(l *line.Line, p *line.Product, _ *line.Shift) { p.Rounding.Speed = 201 }, []string{"order.product.rounding.speed is 201 rev/min: want 60 rev/min to 200 rev/min, which the line's rounder reaches"}},
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Stamper.StampsHigh = 10 }, []string{"line.stamper.stamps_high is 10 strokes/min: want more than stamps_low, 10 strokes/min"}},
		{1, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Stamper.Mode = molder.OffStamp }, nil}, // it is not stamped
		{0, func(l *line.Line, _ *line.Product, _ *line.Shift) { l.Stamper.Mode = molder.OffStamp }, []string{
			`order.product.route is "stamper": want a route that is on: the line's stamper is off; set line.stamper.mode to continuous or timed`,
		}},
		{0, func(l *line.Line, p *line.Product, _ *line.Shift) {
			l.Stamper, l.Controls, l.Changing = line.Stamper{}, nil, line.Changing{}
		}, []string{`order.product.route is "stamper": want a route that the line has: it has no stamper`}},
		{1, func(l *line.Line, p *line.Product, _ *line.Shift) {
			l.Moulder, l.Controls, l.Changing = line.Moulder{}, nil, line.Changing{}
		}, []string{`order.product.route is "moulder": want a route that the line has: it has no moulder`}},
		{0, belt(func(b *line.Belt) { b.AdvancePerStroke = 0 }), []string{"line.belts[0].belt_speed is missing: want a speed of its own, or advance_per_stroke if it is geared to the line"}},
		{0, belt(func(b *line.Belt) { b.BeltSpeed = 300 }), []string{"line.belts[0].advance_per_stroke is 400 mm: want nothing beside belt_speed: a belt has a speed of its own or is geared to the line"}},
		{0, belt(func(b *line.Belt) { b.EvenMerge, b.MergePitch = true, 30 }), []string{"line.belts[0].merge_pitch is 30 mm: want nothing beside even_merge"}},
		{0, belt(func(b *line.Belt) { b.Name = "" }), []string{`line.belts[0].name is "": want a name, to say which belt sets a limit`}},
		{0, belt(func(b *line.Belt) { b.Route = line.ToPanning }), []string{`line.belts[0].place is "before-moulder": want nothing: no moulded piece runs over it`}},
		{0, func(_ *line.Line, p *line.Product, s *line.Shift) { s.HotTap = unit.Celsius(15) }, []string{"shift.hot_tap is 15 °C: want warmer than the cold tap of 15 °C"}},
		{0, func(_ *line.Line, _ *line.Product, s *line.Shift) { s.HotTap = unit.Celsius(-1) }, []string{"shift.hot_tap is -1 °C: want a temperature from 0 °C to 95 °C"}},
		{0, func(_ *line.Line, _ *line.Product, s *line.Shift) { s.HotTap = unit.Celsius(96) }, []string{"shift.hot_tap is 96 °C: want a temperature from 0 °C to 95 °C"}},
		{0, func(_ *line.Line, _ *line.Product, s *line.Shift) { s.Tap = unit.Celsius(-1) }, []string{"shift.tap is -1 °C: want a temperature from 0 °C to 40 °C"}},
		{0, func(_ *line.Line, _ *line.Product, s *line.Shift) { s.Tap = unit.Celsius(41) }, []string{"shift.tap is 41 °C: want a temperature from 0 °C to 40 °C"}},
		// A scale of stickiness that begins at 0 may be that of a dough that is not sticky at all.
		{0, func(l *line.Line, p *line.Product, _ *line.Shift) {
			l.Dusters, l.Controls, l.Changing, p.Stickiness = slices.Clone(l.Dusters), nil, line.Changing{}, 0
			for i := range l.Dusters {
				l.Dusters[i].Scale.StickinessLow, l.Dusters[i].Slide, l.Dusters[i].SlideStep = 0, nil, 0
			}
		}, nil},
		{0, func(l *line.Line, p *line.Product, _ *line.Shift) {
			l.Dusters, p.Stickiness = slices.Clone(l.Dusters), 0
			l.Dusters[0].Scale.StickinessLow, l.Dusters[1].Scale.StickinessLow = 0, 0.005
		}, []string{"order.product.stickiness is missing: want how sticky the dough is on the bakery's scale: the line's flour_dusters depend on it"}},
		{0, func(_ *line.Line, p *line.Product, s *line.Shift) { p.Baking.PerLoad = -1 }, []string{"order.product.baking.per_load is -1: want a whole number from 1 to 1000000"}},
		{0, func(l *line.Line, p *line.Product, s *line.Shift) { l.Oven.Kind, p.Baking.PerLoad = line.RackOven, 433 }, []string{
			"order.product.baking.per_load is 433: want whole racks of 432, the product's per_carrier",
		}},
		{0, func(l *line.Line, p *line.Product, s *line.Shift) { l.Oven.Kind, p.PerCarrier = line.RackOven, 0 }, []string{"order.product.per_carrier is 0: want a whole number from 1 to 1000000"}},
		{0, func(l *line.Line, p *line.Product, s *line.Shift) { l.Oven = line.Oven{} }, []string{"order.product.baking.per_load is 432: want nothing, or line.oven, which takes such a load"}},
		// A deck of 1 in 12 h and 4 h: 1/960 of a piece a minute.
		{0, func(l *line.Line, p *line.Product, s *line.Shift) {
			l.Oven, p.Baking = line.Oven{Kind: line.DeckOven, Places: 1, Loading: 4 * 3600}, line.Baking{Time: 12 * 3600, PerLoad: 1}
		}, []string{"order.product.baking.per_load is 1: want more: the oven would take less than 0.01 pieces/min"}},
		{2, func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Tolerance, p.Drift.DriftLimit = 0, 0 }, nil}, // its label says how light a piece may be
		{0, func(_ *line.Line, p *line.Product, _ *line.Shift) { p.Tolerance, p.Drift.DriftLimit = 0, 0 }, []string{
			"order.product.hopper_drift.drift_limit is 0 g: want more than 0 g where neither a tolerance nor a label says how light a piece may be",
		}},
		{1, func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.PrefermentMixes = nil
			p.Heat = &line.Heat{Ingredients: make([]line.HeatOf, 7)}
		}, nil},
		{1, func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.PrefermentMixes, p.PrefermentTemp = nil, unit.Temp{}
		}, nil}, // the rule does without it
		{1, func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.PrefermentMixes, p.PrefermentTemp, p.Heat = nil, unit.Temp{}, &line.Heat{Ingredients: make([]line.HeatOf, 7)}
		}, []string{"order.product.preferment_temp is not given: want the temperature of the preferments: the heat balance needs it"}},
		{1, func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.Heat = &line.Heat{Ingredients: make([]line.HeatOf, 6)}
		}, []string{
			"order.product.heat.ingredients is 6 lines: want one for each of the formula's 7 lines, in its order",
		}},
		{1, func(_ *line.Line, p *line.Product, _ *line.Shift) {
			p.Heat = &line.Heat{Ingredients: make([]line.HeatOf, 101)}
		}, []string{
			"order.product.heat.ingredients is 101 items: want at most 100 items", "order.product.heat.ingredients is 101 lines: want one for each of the formula's 7 lines, in its order",
		}},
		{1, mixed(func(m *line.PrefermentMix) { m.Name = "biga" }), []string{`order.product.preferment_mixes[0].name is "biga": want the name of a preferment, each once`}},
		{0, func(_ *line.Line, p *line.Product, _ *line.Shift) { p.PrefermentMixes = make([]line.PrefermentMix, 1) }, []string{
			"order.product.preferment_mixes is 1 mixes: want one for each of the 0 preferments",
		}},
	} {
		in := orders[c.order]
		c.bend(&in.Line, &in.Order.Product, &in.Shift)
		assert.Equal(t, c.want, told(in))
	}
}

func duster(bend func(d *line.Duster)) func(*line.Line, *line.Product, *line.Shift) {
	return func(l *line.Line, _ *line.Product, _ *line.Shift) {
		l.Dusters = slices.Clone(l.Dusters)
		bend(&l.Dusters[1])
	}
}

// track is a rounder along whose track the piece runs.
func track(g line.Rounding, rows int) func(*line.Line, *line.Product, *line.Shift) {
	return func(l *line.Line, p *line.Product, _ *line.Shift) {
		l.Controls, l.Changing = nil, line.Changing{}
		l.Rounder = line.Rounder{Way: line.OnTrack, SpeedLow: 10, SpeedHigh: 60, Diameter: 620, Path: 2400, Travel: molder.Rolling, Rows: rows}
		p.Rounding = g
	}
}

func belt(bend func(b *line.Belt)) func(*line.Line, *line.Product, *line.Shift) {
	return func(l *line.Line, _ *line.Product, _ *line.Shift) {
		l.Belts = slices.Clone(l.Belts)
		bend(&l.Belts[0])
	}
}

// A list that is too long is told as that, and what is in it is not looked at.
func TestListsThatAreTooLongAreToldAlone(t *testing.T) {
	in := input(t, 0)
	in.Line.Controls, in.Line.Changing = nil, line.Changing{} // which have positions for other lanes
	in.Line.Divider.Lanes = slices.Repeat(in.Line.Divider.Lanes[:1], 101)
	_, err := in.Solve()
	var fields []string
	for _, e := range reckon.InputErrors(err) {
		fields = append(fields, e.Field)
	}
	assert.Equal(t, []string{"line.divider.lanes"}, fields)
	_, err = line.CriticalPath{Jobs: make([]line.Job, 61)}.Solve()
	assert.EqualError(t, err, "critical-path: jobs is 61 items: want at most 60 items")
	_, err = line.CriticalPath{People: 1, Jobs: []line.Job{{Name: "wipe", Time: 60, After: make([]string, 61)}}}.Solve()
	assert.EqualError(t, err, "critical-path: jobs[0].after is 61 items: want at most 60 items")
}

// A head of dough that alone stands too long is told once: smaller batches do not mend it.
func TestHeadThatStandsTooLongIsToldOnce(t *testing.T) {
	in := input(t, 0)
	in.Order.Product.Drift, in.Order.Product.HopperMax = line.HopperDrift{}, 20
	_, err := in.Solve()
	assert.EqualError(t, err, "line-plan: no batch gives a hopper time of at most 20 s: the head of 6 kg alone stands longer: run faster, or keep less dough in the hopper")
}

// Two things wrong with a preferment, of its times and of its water, are told together.
func TestPrefermentsTellAll(t *testing.T) {
	for _, pieces := range []int{3000, 0} {
		in := input(t, 1)
		in.Order.Pieces = pieces
		in.Order.Product.PrefermentMixes = slices.Clone(in.Order.Product.PrefermentMixes)
		mix := &in.Order.Product.PrefermentMixes[0]
		mix.Mixing, mix.Friction = -1, unit.TempDelta(math.NaN())
		_, err := in.Solve()
		assert.ErrorContains(t, err, "order.product.preferment_mixes[0].mixing")
		assert.ErrorContains(t, err, "order.product.preferment_mixes[0].friction")
	}
}
