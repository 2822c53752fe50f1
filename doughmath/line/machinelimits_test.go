package line_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// What machines and products may be given, where another value says how far: each is taken at its bound and refused beyond it, under its own name. The
// figures are those of the comments on the fields, what no line comes near.
func TestLimitsOfMachinesAndProducts(t *testing.T) {
	first := func(in *line.Plan) *line.FirstPair {
		f := *in.Line.Moulder.First
		in.Line.Moulder.First = &f
		return &f
	}
	belt := func(in *line.Plan) *line.Belt { in.Line.Belts = slices.Clone(in.Line.Belts); return &in.Line.Belts[1] } // of the moulder, with a speed of its own
	geared := func(in *line.Plan) *line.Belt {
		b := belt(in)
		b.BeltSpeed = 0
		return b
	}
	for _, c := range []struct {
		field      string
		at, beyond float64
		set        func(in *line.Plan, v float64)
	}{
		{"line.divider.strokes_low", 0.01, 0.0099, func(in *line.Plan, v float64) { in.Line.Divider.StrokesLow = unit.StrokeRate(v) }},
		{"line.divider.strokes_low", 1000, 1001, func(in *line.Plan, v float64) {
			in.Line.Divider.StrokesLow, in.Line.Divider.StrokesHigh = unit.StrokeRate(v), unit.StrokeRate(v)
		}},
		{"line.divider.strokes_high", 12, 11.9, func(in *line.Plan, v float64) {
			in.Line.Divider.StrokesLow, in.Line.Divider.StrokesHigh = 12, unit.StrokeRate(v)
		}},
		{"line.divider.strokes_high", 1000, 1001, func(in *line.Plan, v float64) { in.Line.Divider.StrokesHigh = unit.StrokeRate(v) }},
		{"line.divider.stroke_step", 0.001, 0.00099, func(in *line.Plan, v float64) { in.Line.Divider.StrokeStep = unit.StrokeRate(v) }},
		{"line.divider.stroke_step", 1000, 1001, func(in *line.Plan, v float64) { in.Line.Divider.StrokeStep = unit.StrokeRate(v) }},
		{"line.divider.stroke_step", 0, -0.005, func(in *line.Plan, v float64) { in.Line.Divider.StrokeStep = unit.StrokeRate(v) }},
		{"line.divider.mark_low", -1e6, -1.001e6, func(in *line.Plan, v float64) { in.Line.Divider.MarkLow = v }},
		{"line.divider.mark_high", 1e6, 1.001e6, func(in *line.Plan, v float64) { in.Line.Divider.MarkHigh = v }},
		{"line.divider.mark_high", -0.999e6, -1.001e6, func(in *line.Plan, v float64) { in.Line.Divider.MarkLow, in.Line.Divider.MarkHigh = -2e6, v }},
		{"line.divider.mark_high", 4.1, 4, func(in *line.Plan, v float64) { in.Line.Divider.MarkLow, in.Line.Divider.MarkHigh = 4, v }},
		{"line.divider.mark_step", 1e-6, 0.99e-6, func(in *line.Plan, v float64) { in.Line.Divider.MarkStep = v }},
		{"line.divider.mark_step", 1e6, 1.001e6, func(in *line.Plan, v float64) { in.Line.Divider.MarkStep = v }},
		{"line.divider.mark_step", 0, -0.005, func(in *line.Plan, v float64) { in.Line.Divider.MarkStep = v }},
		{"line.divider.hopper_capacity", 1e7, 1.001e7, func(in *line.Plan, v float64) { in.Line.Divider.HopperCapacity = unit.Mass(v) }},
		{"line.divider.hopper_least", 99_999, 100_000, func(in *line.Plan, v float64) {
			in.Line.Divider.HopperCapacity, in.Line.Divider.HopperLeast = 100_000, unit.Mass(v)
		}},
		{"line.divider.hopper_least", 0, -0.005, func(in *line.Plan, v float64) { in.Line.Divider.HopperLeast = unit.Mass(v) }},
		{"line.divider.confidence", 50, 49.9, func(in *line.Plan, v float64) { in.Line.Divider.Confidence = unit.Percent(v) }},
		{"line.divider.confidence", 99.9, 99.95, func(in *line.Plan, v float64) { in.Line.Divider.Confidence = unit.Percent(v) }},
		{"line.divider.lanes[0].across", 1, 0, func(in *line.Plan, v float64) {
			in.Line.Divider.Lanes = slices.Clone(in.Line.Divider.Lanes)
			in.Line.Divider.Lanes[0].Across, in.Line.Divider.Lanes[0].Dough = int(v), "another"
		}},
		{"line.moulder.gap_low", 0.05, 0.0495, func(in *line.Plan, v float64) { in.Line.Moulder.GapLow = unit.Length(v) }},
		{"line.moulder.gap_low", 200, 201, func(in *line.Plan, v float64) {
			in.Line.Moulder.GapLow, in.Line.Moulder.GapHigh = unit.Length(v), unit.Length(v)
		}},
		{"line.moulder.gap_high", 3, 2.9, func(in *line.Plan, v float64) { in.Line.Moulder.GapLow, in.Line.Moulder.GapHigh = 3, unit.Length(v) }},
		{"line.moulder.gap_high", 200, 201, func(in *line.Plan, v float64) { in.Line.Moulder.GapHigh = unit.Length(v) }},
		{"line.moulder.gap_step", 0.001, 0.00099, func(in *line.Plan, v float64) { in.Line.Moulder.GapStep = unit.Length(v) }},
		{"line.moulder.gap_step", 200, 201, func(in *line.Plan, v float64) { in.Line.Moulder.GapStep = unit.Length(v) }},
		{"line.moulder.gap_step", 0, -0.005, func(in *line.Plan, v float64) { in.Line.Moulder.GapStep = unit.Length(v) }},
		{"line.moulder.rate_high", 10_000, 10_001, func(in *line.Plan, v float64) { in.Line.Moulder.RateHigh = unit.PieceRate(v) }},
		{"line.moulder.rate_high", 0.01, 0.0099, func(in *line.Plan, v float64) { in.Line.Moulder.RateHigh = unit.PieceRate(v) }},
		{"line.moulder.first_pair.flattened_to", 1, 0.99, func(in *line.Plan, v float64) { first(in).FlattenedTo = unit.Length(v) }},
		{"line.moulder.first_pair.flattened_to", 500, 501, func(in *line.Plan, v float64) { first(in).FlattenedTo = unit.Length(v) }},
		{"line.moulder.first_pair.flattened_to", 0, -0.005, func(in *line.Plan, v float64) { first(in).FlattenedTo = unit.Length(v) }},
		{"line.rounder.speed_low", 0.1, 0.099, func(in *line.Plan, v float64) { in.Line.Rounder.SpeedLow = unit.RotationRate(v) }},
		{"line.rounder.speed_high", 200, 199, func(in *line.Plan, v float64) {
			in.Line.Rounder.SpeedLow, in.Line.Rounder.SpeedHigh = 200, unit.RotationRate(v)
		}},
		{"line.rounder.speed_high", 1000, 1001, func(in *line.Plan, v float64) { in.Line.Rounder.SpeedHigh = unit.RotationRate(v) }},
		{"order.product.rounding.speed", 100, 99, func(in *line.Plan, v float64) {
			in.Line.Rounder.SpeedLow, in.Order.Product.Rounding.Speed = 100, unit.RotationRate(v)
		}},
		{"order.product.rounding.speed", 200, 201, func(in *line.Plan, v float64) {
			in.Line.Rounder.SpeedHigh, in.Order.Product.Rounding.Speed = 200, unit.RotationRate(v)
		}},
		{"line.stamper.stamps_low", 0, -0.005, func(in *line.Plan, v float64) { in.Line.Stamper.StampsLow = unit.StrokeRate(v) }},
		{"line.stamper.stamps_high", 10.1, 10, func(in *line.Plan, v float64) {
			in.Line.Stamper.StampsLow, in.Line.Stamper.StampsHigh = 10, unit.StrokeRate(v)
		}},
		{"line.stamper.stamps_high", 1000, 1001, func(in *line.Plan, v float64) { in.Line.Stamper.StampsHigh = unit.StrokeRate(v) }},
		{"line.belts[1].belt_speed", 10_000, 10_001, func(in *line.Plan, v float64) { geared(in).BeltSpeed = unit.Speed(v) }},
		{"line.belts[1].belt_speed", 0.1, 0.099, func(in *line.Plan, v float64) { belt(in).BeltSpeed = unit.Speed(v) }},
		{"line.belts[1].belt_speed", 10_000, 10_001, func(in *line.Plan, v float64) { belt(in).BeltSpeed = unit.Speed(v) }},
		{"line.belts[1].advance_per_stroke", 1, 0.99, func(in *line.Plan, v float64) { geared(in).AdvancePerStroke = unit.Length(v) }},
		{"line.belts[1].advance_per_stroke", 10_000, 10_001, func(in *line.Plan, v float64) { geared(in).AdvancePerStroke = unit.Length(v) }},
		{"line.belts[1].belt_speed", 0.1, 0.099, func(in *line.Plan, v float64) { geared(in).BeltSpeed = unit.Speed(v) }},             // beside its gearing
		{"line.belts[1].advance_per_stroke", 0, 0.005, func(in *line.Plan, v float64) { belt(in).AdvancePerStroke = unit.Length(v) }}, // beside a speed of its own
		{"line.belts[1].merge_pitch", 10_000, 10_001, func(in *line.Plan, v float64) {
			b := belt(in)
			b.EvenMerge, b.MergePitch = false, unit.Length(v)
		}},
		{"line.belts[1].merge_pitch", 0, 0.005, func(in *line.Plan, v float64) {
			b := belt(in)
			b.EvenMerge, b.MergePitch = true, unit.Length(v)
		}},
		{"line.belts[1].least_gap", 5000, 5001, func(in *line.Plan, v float64) { belt(in).LeastGap = unit.Length(v) }},
		{"line.belts[1].across", 100, 101, func(in *line.Plan, v float64) { belt(in).Across = int(v) }},
		{"line.belts[1].across", 1, 0, func(in *line.Plan, v float64) { belt(in).Across = int(v) }},
		{"line.belts", 100, 101, func(in *line.Plan, v float64) { in.Line.Belts = slices.Repeat(in.Line.Belts[:1], int(v)) }},
		{"line.parts", 100, 101, func(in *line.Plan, v float64) { in.Line.Parts = slices.Repeat(in.Line.Parts[:1], int(v)) }},
		{"line.flour_dusters", 10, 11, func(in *line.Plan, v float64) { in.Line.Dusters = slices.Repeat(in.Line.Dusters[:1], int(v)) }},
		{"line.divider.lanes", 100, 101, func(in *line.Plan, v float64) {
			in.Line.Divider.Lanes = slices.Repeat(in.Line.Divider.Lanes[:1], int(v))
		}},
		{"line.controls", 100, 101, func(in *line.Plan, v float64) { in.Line.Controls = slices.Repeat(in.Line.Controls[:1], int(v)) }},
		{"shift.mixer.low", 50_000, 50_001, func(in *line.Plan, v float64) { in.Shift.Mixer.Low, in.Shift.Mixer.High = unit.Mass(v), 50_000 }},
		{"shift.mixer.mixing", 1, 0.99, func(in *line.Plan, v float64) { in.Shift.Mixer.Mixing = unit.Duration(v) }},
		{"shift.mixer.cycle", 24 * 3600, 24*3600 + 1, func(in *line.Plan, v float64) { in.Shift.Mixer.Cycle = unit.Duration(v) }},
		{"shift.hot_tap", 95, 95.1, func(in *line.Plan, v float64) { in.Shift.HotTap = unit.Celsius(v) }},
		{"shift.hot_tap", 15.1, 15, func(in *line.Plan, v float64) { in.Shift.Tap, in.Shift.HotTap = unit.Celsius(15), unit.Celsius(v) }},
		{"shift.tap", 40, 40.1, func(in *line.Plan, v float64) { in.Shift.Tap = unit.Celsius(v) }},
		{"shift.tap", 0, -0.1, func(in *line.Plan, v float64) { in.Shift.Tap = unit.Celsius(v) }},
		{"order.product.length", 5000, 5001, func(in *line.Plan, v float64) {
			in.Line.Moulder.Guides, in.Line.Moulder.Board, in.Order.Product.Length = nil, nil, unit.Length(v) // which have limits of their own
		}},
		{"order.product.length", 1, 0.99, func(in *line.Plan, v float64) {
			in.Line.Moulder.Guides, in.Line.Moulder.Board, in.Order.Product.Length = nil, nil, unit.Length(v) // which have limits of their own
		}},
		{"order.product.turns", 20, 20.1, func(in *line.Plan, v float64) { in.Order.Product.Turns = v }},
		{"order.product.turns", 0.5, 0.495, func(in *line.Plan, v float64) { in.Order.Product.Turns = v }},
		{"order.product.rate_high", 0.01, 0.0099, func(in *line.Plan, v float64) { in.Order.Product.RateHigh = unit.PieceRate(v) }},
		{"order.product.rate_high", 10_000, 10_001, func(in *line.Plan, v float64) { in.Order.Product.RateHigh = unit.PieceRate(v) }},
		{"order.product.rate_high", 0, -0.005, func(in *line.Plan, v float64) { in.Order.Product.RateHigh = unit.PieceRate(v) }},
		{"order.product.allergens", 30, 31, func(in *line.Plan, v float64) {
			in.Order.Product.Allergens = nil
			for i := range int(v) {
				in.Order.Product.Allergens = append(in.Order.Product.Allergens, strings.Repeat("x", i+1))
			}
		}},
		{"order.product.fittings", 20, 21, func(in *line.Plan, v float64) { in.Order.Product.Fittings = make([]string, int(v)) }},
		{"order.product.preferment_mixes[0].keeps", 168 * 3600, 168*3600 + 1, func(in *line.Plan, v float64) {
			in.Order.Product.PrefermentMixes = []line.PrefermentMix{{Name: "soaker", Keeps: unit.Duration(v)}}
		}},
	} {
		refused := func(v float64) bool {
			in := input(t, 1)
			c.set(&in, v)
			return slices.ContainsFunc(reckon.Wrong(in), func(e *reckon.InputError) bool { return e.Field == c.field })
		}
		assert.False(t, refused(c.at), "%s may be %v", c.field, c.at)
		assert.True(t, refused(c.beyond), "%s may not be %v: %v is the bound", c.field, c.beyond, c.at)
	}
}

// What only some lines or products have is refused elsewhere, each by its own name and alone.
func TestValuesThatHaveNoPlace(t *testing.T) {
	for _, c := range []struct {
		order int
		field string
		bend  func(in *line.Plan)
	}{
		{0, "order.product.turns", func(in *line.Plan) { in.Order.Product.Turns = 0.005 }},
		{0, "order.product.sheet_aspect", func(in *line.Plan) { in.Order.Product.Aspect = 0.005 }},
		{0, "order.product.tear_limit", func(in *line.Plan) { in.Order.Product.TearLimit = 0.005 }},
		{0, "order.product.turns_ratio", func(in *line.Plan) { in.Order.Product.TurnsRatio = 0.005 }},
		{0, "order.product.length", func(in *line.Plan) { in.Order.Product.Length = 0.005 }},
		{0, "order.product.panned", func(in *line.Plan) { in.Order.Product.Panned = &line.Panned{} }},
		{0, "order.product.stickiness", func(in *line.Plan) { in.Order.Product.Stickiness = 0 }}, // the dusters depend on it
		{0, "order.product.pocketed", func(in *line.Plan) { in.Order.Product.Pocketed = nil }},   // the pocket has a size
		{0, "order.product.pocketed", func(in *line.Plan) { in.Line.Pocket = proof.Pocket{} }},   // it has none
		{0, "order.product.fittings", func(in *line.Plan) { in.Order.Product.Fittings = []string{} }},
		{0, "order.product.fittings[0]", func(in *line.Plan) { in.Order.Product.Fittings = []string{"a pail"} }},
		{0, "order.product.allergens[0]", func(in *line.Plan) { in.Order.Product.Allergens = []string{""} }},
		{0, "order.product.allergens[1]", func(in *line.Plan) { in.Order.Product.Allergens = []string{"milk", "milk"} }},
		{0, "order.product.rounding.time_low", func(in *line.Plan) { in.Order.Product.Rounding.TimeLow = 0.005 }},
		{0, "order.product.rounding.time_high", func(in *line.Plan) { in.Order.Product.Rounding.TimeHigh = 0.005 }},
		{0, "line.rounder.diameter", func(in *line.Plan) { in.Line.Rounder.Diameter = 0.005 }},
		{0, "line.rounder.path", func(in *line.Plan) { in.Line.Rounder.Path = 0.005 }},
		{0, "line.rounder.travel", func(in *line.Plan) { in.Line.Rounder.Travel = molder.Rolling }},
		{0, "shift.division", func(in *line.Plan) { in.Shift.Division, in.Shift.Scales = 0, nil }},
		{0, "line.belts[0].name", func(in *line.Plan) { in.Line.Belts = slices.Clone(in.Line.Belts); in.Line.Belts[0].Name = "" }},
		{1, "order.product.dough", func(in *line.Plan) { in.Order.Product.Dough = "brioche" }},
		{1, "order.product.tolerance", func(in *line.Plan) { in.Order.Product.Tolerance = -0.005 }},
		{1, "order.product.heat.ingredients", func(in *line.Plan) { in.Order.Product.Heat = &line.Heat{} }},
	} {
		in := input(t, c.order)
		c.bend(&in)
		_, err := in.Solve()
		var got []string
		for _, e := range reckon.InputErrors(err) {
			got = append(got, e.Field)
		}
		assert.Equal(t, []string{c.field}, got, c.field)
	}
}
