package line_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
	"example.com/dough/proof"
)

// mayBe is what may be to blame for each symptom, as a baker would go through it; common practice.
var mayBe = []struct {
	symptom line.Symptom
	order   int
	causes  []line.CauseName
}{
	{line.TooLight, bun, []line.CauseName{line.HandleMoved, line.DoughOtherwise, line.DoughWarm, line.StoodLong, line.HopperLow}},
	{line.TooHeavy, bun, []line.CauseName{line.HandleMoved, line.DoughOtherwise, line.DoughCold}},
	{line.DriftingWeight, bun, []line.CauseName{line.GrowsFast, line.DoughWarm, line.StoodLong, line.HopperLow}},
	{line.UnevenLanes, bun, []line.CauseName{line.LaneOff}},
	{line.Doubles, bun, []line.CauseName{line.LineFast, line.PieceWide, line.FlourLittle, line.DoughSticky}},                 // its one belt is geared to the line
	{line.Doubles, roll, []line.CauseName{line.BeltSlow, line.LineFast, line.PieceWide, line.FlourLittle, line.DoughSticky}}, // the moulder's belts have speeds of their own
	{line.TornSheet, loaf, []line.CauseName{line.GapNarrow, line.FirstGapOff, line.SheetThin, line.DoughCold, line.DwellShort}},
	{line.OpenSeam, loaf, []line.CauseName{line.BoardInOff, line.BoardOutOff, line.GapWide, line.FlourMuch, line.AirDry}},
	{line.TooLong, loaf, []line.CauseName{line.GuidesOff, line.DrawsBack, line.BoardOutOff, line.HandleMoved, line.DoughOtherwise}},
	{line.TooShort, loaf, []line.CauseName{line.GuidesOff, line.DrawsBack, line.BoardOutOff, line.HandleMoved, line.DoughOtherwise}},
	{line.NotRound, bun, []line.CauseName{line.RoundedLittle, line.DrumWrong, line.FlourMuch, line.AirDry}},
	{line.MisshapenStamp, bun, []line.CauseName{line.StamperSet, line.DwellLong, line.DoughWarm, line.FlourLittle, line.DoughSticky, line.AirDry}},
	{line.OutOfStep, bun, []line.CauseName{line.StamperSet}}, // timed, each row calls its own stamp
	{line.StickingInPocket, bun, []line.CauseName{line.FlourLittle, line.DoughSticky, line.DwellLong, line.AirDamp, line.GrownLarge, line.DoughWarm}},
	{line.Floury, bun, []line.CauseName{line.FlourMuch, line.DoughSticky}},
	{line.Skinned, bun, []line.CauseName{line.AirDry, line.DwellLong}},
	{line.Wet, bun, []line.CauseName{line.AirDamp, line.DoughCold, line.DoughSticky}},
	{line.OvenWaits, loaf, []line.CauseName{line.LineSlow, line.MixerSlow, line.RacksFew}},
}

// asked lists the causes that something is to be measured for, each once.
func asked(out *line.FaultCausesResult) (list []line.CauseName) {
	for _, m := range out.Measure {
		for _, s := range m.For {
			if !slices.Contains(list, s.Cause) {
				list = append(list, s.Cause)
			}
		}
	}
	return list
}

// Of each symptom everything that may be to blame is asked for while nothing is measured, and cleared once everything is measured as planned:
// that and nothing else. What to take care of meanwhile: machines that move, and oil or flour where a look brings people close.
func TestWhatMayBeToBlame(t *testing.T) {
	for _, c := range mayBe {
		b := newBench(t, c.order)
		b.Symptom = c.symptom
		out, err := b.Solve()
		require.NoError(t, err)
		var cleared []line.CauseName
		for _, k := range out.Cleared {
			if !slices.Contains(cleared, k.Cause) {
				cleared = append(cleared, k.Cause)
			}
		}
		assert.ElementsMatch(t, c.causes, cleared, "%s, measured as planned", c.symptom)
		assert.Empty(t, asked(&out), "%s: all of it is measured", c.symptom)
		assert.Empty(t, out.Causes, c.symptom)

		b.Readings, b.Instruments = line.Readings{}, line.Instruments{}
		out, err = b.Solve()
		require.NoError(t, err)
		assert.ElementsMatch(t, c.causes, asked(&out), "%s, nothing measured", c.symptom)
		assert.Empty(t, out.Cleared, c.symptom)
		want := reckon.MovingMachinery | reckon.Interlocks | reckon.LockedOut | reckon.MovingBelt
		switch c.symptom {
		case line.UnevenLanes:
			want |= reckon.OilSlip
		case line.StickingInPocket, line.Floury:
			want |= reckon.FlourDust
		}
		assert.Equal(t, want, out.Cautions, "%s", c.symptom)
	}
}

// Of what a line or a product does not have nothing is asked.
func TestWhatTheLineLacksIsNotToBlame(t *testing.T) {
	guides := func(b *bench) { b.Line.Moulder.Guides, b.Line.Moulder.Board = nil, nil }
	first := func(b *bench) { b.Line.Moulder.First = nil }
	for _, c := range []struct {
		id      string
		symptom line.Symptom
		order   int
		without func(b *bench)
		causes  []line.CauseName
	}{
		{"no guides", line.TooLong, loaf, guides, []line.CauseName{line.GapNarrow, line.HandleMoved, line.DoughOtherwise}}, // then it is as long as its sheet is wide
		{"no guides", line.TooShort, loaf, guides, []line.CauseName{line.GapWide, line.HandleMoved, line.DoughOtherwise}},
		{"no guides", line.OpenSeam, loaf, guides, []line.CauseName{line.GapWide, line.FlourMuch, line.AirDry}},
		{"no first pair", line.TornSheet, loaf, first, []line.CauseName{line.GapNarrow, line.SheetThin, line.DoughCold, line.DwellShort}},
		{"no tear limit", line.TornSheet, loaf, func(b *bench) { b.Order.Product.TearLimit = 0 }, []line.CauseName{line.GapNarrow, line.FirstGapOff, line.DoughCold, line.DwellShort}},
		{"no turns to close a seam", line.OpenSeam, loaf, func(b *bench) { k := *b.Line.Moulder.Board; k.SealTurns = 0; b.Line.Moulder.Board = &k }, []line.CauseName{line.GapWide, line.FlourMuch, line.AirDry}},
		{"no rounder", line.NotRound, bun, func(b *bench) { b.Line.Rounder, b.Order.Product.Rounding = line.Rounder{}, line.Rounding{} }, []line.CauseName{line.DrumWrong, line.FlourMuch, line.AirDry}},
		{"no pocket", line.StickingInPocket, bun, func(b *bench) { b.Line.Pocket, b.Order.Product.Pocketed = proof.Pocket{}, nil }, []line.CauseName{line.FlourLittle, line.DoughSticky, line.DwellLong, line.AirDamp, line.DoughWarm}},
		{"no dusters", line.Floury, bun, func(b *bench) { b.Line.Dusters, b.Order.Product.Stickiness = nil, 0 }, nil},
		{"no belt", line.Doubles, bun, func(b *bench) { b.Line.Belts = nil }, []line.CauseName{line.LineFast, line.FlourLittle, line.DoughSticky}},
		{"scales true until it is empty", line.TooLight, bun, func(b *bench) { b.Line.Divider.HopperLeast = 0 }, []line.CauseName{line.HandleMoved, line.DoughOtherwise, line.DoughWarm, line.StoodLong}},
		{"no final proof", line.OvenWaits, bun, func(b *bench) {
			b.Line.FinalProof, b.Line.Oven = line.FinalProof{}, line.Oven{}
			b.Order.Product.FinalStay, b.Order.Product.PerCarrier, b.Order.Product.Baking = 0, 0, line.Baking{}
		}, []line.CauseName{line.LineSlow, line.MixerSlow}},
		{"a stamper on its own", line.OutOfStep, bun, func(b *bench) { b.Line.Stamper.Mode = molder.ContinuousStamp }, []line.CauseName{line.StamperSet, line.StampsOff}},
	} {
		b := newBench(t, c.order)
		b.Symptom, b.Readings, b.Instruments = c.symptom, line.Readings{}, line.Instruments{}
		b.Line.Controls, b.Line.Changing = nil, line.Changing{}
		c.without(b)
		out, err := b.Solve()
		if assert.NoError(t, err, c.id) {
			assert.ElementsMatch(t, c.causes, asked(&out), "%s: %s", c.id, c.symptom)
		}
	}
	// The stamper without a die: only how it stamps is to be read, not whether the die turns.
	for die, questions := range map[molder.Die]int{molder.TurningDie: 2, "": 1} {
		b := newBench(t, bun)
		b.Symptom, b.Readings, b.Instruments, b.Line.Controls, b.Line.Changing = line.OutOfStep, line.Readings{}, line.Instruments{}, nil, line.Changing{}
		if die == "" {
			b.Line.Stamper.Die, b.Line.Stamper.Spin, b.Line.Stamper.Contact = "", "", 0
		}
		out, err := b.Solve()
		require.NoError(t, err)
		assert.Len(t, out.Measure, questions, "%q", die)
	}
	// Of two dusters both keep pieces from sticking together, one keeps them from sticking in the pockets.
	for symptom, dusters := range map[line.Symptom]int{line.Doubles: 2, line.StickingInPocket: 1, line.Floury: 2, line.NotRound: 2, line.MisshapenStamp: 2} {
		b := newBench(t, bun)
		b.Symptom, b.Readings, b.Instruments = symptom, line.Readings{}, line.Instruments{}
		out, err := b.Solve()
		require.NoError(t, err)
		n := 0
		for _, m := range out.Measure {
			if m.For[0].Cause == line.FlourLittle || m.For[0].Cause == line.FlourMuch {
				n++
			}
		}
		assert.Equal(t, dusters, n, "%s", symptom)
	}
}

// How far each reading and instrument may go: the ranges of the tags on their fields. At a bound it is taken, a hundredth further refused under its name.
func TestHowFarReadingsGo(t *testing.T) {
	base := newBench(t, roll).FaultCauses
	base.Symptom, base.Readings, base.Instruments = line.Doubles, line.Readings{}, line.Instruments{Thermometer: 0.3, Rule: 0.5, Gauge: 0.05, Counting: 1, Scale: 2, Stickiness: 0.3}
	belt := base.Line.Belts[1].Name
	for _, c := range []struct {
		field     string
		low, high float64
		set       func(r *line.Readings, k *line.Instruments, v float64)
	}{
		{"readings.weighings[0]", 0.001, 100_000, func(r *line.Readings, _ *line.Instruments, v float64) { r.Weighings = []unit.Mass{unit.Mass(v)} }},
		{"readings.sd", 1e-6, 100_000, func(r *line.Readings, _ *line.Instruments, v float64) { r.SD = unit.Mass(v) }},
		{"readings.stood", 1, 24 * 3600, func(r *line.Readings, _ *line.Instruments, v float64) { r.Stood = unit.Duration(v) }},
		{"readings.hopper_dough", 1, 1e7, func(r *line.Readings, _ *line.Instruments, v float64) { r.HopperDough = unit.Mass(v) }},
		{"readings.cycle", 1, 24 * 3600, func(r *line.Readings, _ *line.Instruments, v float64) { r.Cycle = unit.Duration(v) }},
		{"readings.stickiness", 0, 1000, func(r *line.Readings, _ *line.Instruments, v float64) { r.Stickiness = v }},
		{"readings.grown", 1, 1000, func(r *line.Readings, _ *line.Instruments, v float64) { r.Grown = unit.Length(v) }},
		{"readings.on_belt", 1, 5000, func(r *line.Readings, _ *line.Instruments, v float64) { r.OnBelt = unit.Length(v) }},
		{"readings.lengths[0]", 5, 2000, func(r *line.Readings, _ *line.Instruments, v float64) { r.Lengths = []unit.Length{unit.Length(v)} }},
		{"readings.sheets[0]", 0.1, 200, func(r *line.Readings, _ *line.Instruments, v float64) { r.Sheets = []unit.Length{unit.Length(v)} }},
		{"readings.flour[0].flour_rate", 0, 1000, func(r *line.Readings, _ *line.Instruments, v float64) {
			r.Flour = []line.FlourReading{{Duster: "rounder belt", FlourRate: unit.MassRate(v)}}
		}},
		{"readings.belts[0].belt_speed", 0.1, 10_000, func(r *line.Readings, _ *line.Instruments, v float64) {
			r.Belts = []line.BeltReading{{Belt: belt, BeltSpeed: unit.Speed(v)}}
		}},
		{"readings.strokes", 0.01, 1000, func(r *line.Readings, _ *line.Instruments, v float64) { r.Strokes = unit.StrokeRate(v) }},
		{"readings.stamps", 0.01, 1000, func(r *line.Readings, _ *line.Instruments, v float64) { r.Stamps = unit.StrokeRate(v) }},
		{"readings.rounder_speed", 0.1, 1000, func(r *line.Readings, _ *line.Instruments, v float64) { r.RounderSpeed = unit.RotationRate(v) }},
		{"readings.first_gap", 0.05, 200, func(r *line.Readings, _ *line.Instruments, v float64) { r.FirstGap = unit.Length(v) }},
		{"readings.last_gap", 0.05, 200, func(r *line.Readings, _ *line.Instruments, v float64) { r.LastGap = unit.Length(v) }},
		{"readings.guides", 5, 2000, func(r *line.Readings, _ *line.Instruments, v float64) { r.Guides = unit.Length(v) }},
		{"readings.board_in", 1, 500, func(r *line.Readings, _ *line.Instruments, v float64) { r.BoardIn = unit.Length(v) }},
		{"readings.board_out", 1, 500, func(r *line.Readings, _ *line.Instruments, v float64) { r.BoardOut = unit.Length(v) }},
		{"readings.dough_temp", 0, 50, func(r *line.Readings, _ *line.Instruments, v float64) { r.DoughTemp = unit.Celsius(v) }},
		{"readings.mark", 0, 40, func(r *line.Readings, _ *line.Instruments, v float64) { r.Mark = &v }}, // as far as this handle reaches
		{"instruments.thermometer", 0.01, 5, func(_ *line.Readings, k *line.Instruments, v float64) { k.Thermometer = unit.TempDelta(v) }},
		{"instruments.rule", 0.01, 20, func(_ *line.Readings, k *line.Instruments, v float64) { k.Rule = unit.Length(v) }},
		{"instruments.gauge", 0.001, 5, func(_ *line.Readings, k *line.Instruments, v float64) { k.Gauge = unit.Length(v) }},
		{"instruments.counting", 0.01, 20, func(_ *line.Readings, k *line.Instruments, v float64) { k.Counting = unit.Percent(v) }},
		{"instruments.scale", 0.01, 20, func(_ *line.Readings, k *line.Instruments, v float64) { k.Scale = unit.Percent(v) }},
		{"instruments.handle", 1e-6, 1e6, func(_ *line.Readings, k *line.Instruments, v float64) { k.Handle = v }},
		{"instruments.stickiness", 0.01, 100, func(_ *line.Readings, k *line.Instruments, v float64) { k.Stickiness = v }},
	} {
		refused := func(v float64) bool {
			q := base
			c.set(&q.Readings, &q.Instruments, v)
			return slices.ContainsFunc(reckon.Wrong(q), func(e *reckon.InputError) bool { return e.Field == c.field })
		}
		assert.False(t, refused(c.low), "%s may be %v", c.field, c.low)
		assert.False(t, refused(c.high), "%s may be %v", c.field, c.high)
		below := c.low * 0.99
		if c.low == 0 {
			below = -0.005
		}
		assert.True(t, refused(below), "%s may not be %v: %v is the bound", c.field, below, c.low)
		assert.True(t, refused(c.high*1.01), "%s may not be %v: %v is the bound", c.field, c.high*1.01, c.high)
	}
}

// What is said of readings that cannot be so, in the words that tell what to do.
func TestWhatIsSaidOfReadings(t *testing.T) {
	base := newBench(t, loaf).FaultCauses
	air := *base.Readings.Air
	base.Symptom, base.Readings, base.Instruments = line.TooLong, line.Readings{}, line.Instruments{Thermometer: 0.3, Rule: 0.5, Gauge: 0.05, Counting: 1, Scale: 2, Stickiness: 0.3}
	weighed := func(minutes ...float64) (list []divider.HopperWeighing) {
		for _, m := range minutes {
			list = append(list, divider.HopperWeighing{Time: unit.Minutes(m), Weight: 900, Pieces: 5})
		}
		return list
	}
	for _, c := range []struct {
		bend func(q *line.FaultCauses)
		want []string
	}{
		// How single pieces scatter is known of the product's check or of the weighings, or the weighings say nothing.
		{func(q *line.FaultCauses) {
			q.Order.Product.Check, q.Readings.Weighings = line.Check{}, []unit.Mass{900}
		}, []string{"readings.sd is missing: want how single pieces scatter while the divider is steady: weighings are judged by it"}},
		{func(q *line.FaultCauses) {
			q.Order.Product.Check, q.Readings.Weighings, q.Readings.SD = line.Check{}, []unit.Mass{900}, 0.01
		}, nil},
		{func(q *line.FaultCauses) { q.Order.Product.Check = line.Check{} }, nil},
		{func(q *line.FaultCauses) { q.Order.Pieces = 0 }, []string{"order.pieces is 0: want a whole number from 1 to 100000000"}},
		{func(q *line.FaultCauses) { q.Readings.Hopper = weighed(0, 5, 10); q.Readings.Hopper[1].Pieces = 0 }, []string{"readings.hopper[1].pieces is 0: want a whole number from 1 to 100000"}},
		{func(q *line.FaultCauses) { q.Readings.Weighings = make([]unit.Mass, 1001) }, []string{"readings.weighings is 1001 items: want at most 1000 items"}},
		{func(q *line.FaultCauses) { v := 40.5; q.Readings.Mark = &v }, []string{"readings.mark is 40.5: want 0 to 40, which the handle reaches"}},
		{func(q *line.FaultCauses) { q.Readings.Lanes = make([]divider.LaneWeighing, 33) }, []string{"readings.lanes is 33 items: want at most 32 items"}},
		{func(q *line.FaultCauses) {
			q.Readings.Lanes = []divider.LaneWeighing{{Lane: 2, Weight: 900, Pieces: 5}, {Lane: 2, Weight: 900, Pieces: 5}}
		}, []string{"readings.lanes[1].lane is 2: want each lane once"}},
		{func(q *line.FaultCauses) { q.Readings.Hopper = weighed(0, 5) }, []string{"readings.hopper is 2 weighings: want 3 to 10000 weighings through one batch"}},
		{func(q *line.FaultCauses) { q.Readings.Hopper = weighed(5, 5, 5) }, []string{"readings.hopper is weighings that are all of one time: want two or more different times within the batch"}},
		{func(q *line.FaultCauses) { q.Readings.Hopper = weighed(5, 5, 5); q.Readings.Hopper[1].Pieces = 0 }, []string{"readings.hopper[1].pieces is 0: want a whole number from 1 to 100000"}}, // that first
		{func(q *line.FaultCauses) { q.Readings.Hopper = weighed(5, 5, 6) }, nil},
		{func(q *line.FaultCauses) { q.Readings.Hopper = weighed(5, 6, 6) }, nil},
		{func(q *line.FaultCauses) { q.Readings.Hopper = make([]divider.HopperWeighing, 10_001) }, []string{"readings.hopper is 10001 items: want at most 10000 items"}},
		{func(q *line.FaultCauses) { q.Readings.Flour = []line.FlourReading{{Duster: "attic", FlourRate: 1}} }, []string{`readings.flour[0].duster is "attic": want a duster of the line`}},
		{func(q *line.FaultCauses) {
			q.Readings.Flour = []line.FlourReading{{Duster: "rounder belt", FlourRate: 1}, {Duster: "rounder belt", FlourRate: 1}}
		}, []string{`readings.flour[1].duster is "rounder belt": want each duster once`}},
		{func(q *line.FaultCauses) { q.Readings.Flour = make([]line.FlourReading, 11) }, []string{"readings.flour is 11 items: want at most 10 items"}},
		{func(q *line.FaultCauses) {
			q.Readings.Belts = []line.BeltReading{{Belt: "discharge belt", BeltSpeed: 100}}
		}, []string{`readings.belts[0].belt is "discharge belt": want a belt of the line that has a speed of its own`}},
		{func(q *line.FaultCauses) {
			q.Readings.Belts = []line.BeltReading{{Belt: "moulder belt", BeltSpeed: 100}, {Belt: "moulder belt", BeltSpeed: 100}}
		}, []string{`readings.belts[1].belt is "moulder belt": want each belt once`}},
		{func(q *line.FaultCauses) { q.Readings.Belts = make([]line.BeltReading, 101) }, []string{"readings.belts is 101 items: want at most 100 items"}},
		{func(q *line.FaultCauses) { q.Readings.StampMode, q.Readings.Spin = "on", "twice" }, []string{
			`readings.stamp_mode is "on": want "off", "continuous" or "timed"`, `readings.spin is "twice": want "on" or "off"`,
		}},
		{func(q *line.FaultCauses) { q.Readings.Drum = "a pail" }, []string{`readings.drum is "a pail": want a rounding drum of the line`}},
		{func(q *line.FaultCauses) { q.Readings.Racks = 100_001 }, []string{"readings.racks is 100001: want a whole number from 1 to 100000"}},
		{func(q *line.FaultCauses) { q.Readings.Racks = -1 }, []string{"readings.racks is -1: want a whole number from 1 to 100000"}},
		{func(q *line.FaultCauses) { q.Readings.Lengths = slices.Repeat([]unit.Length{250}, 101) }, []string{"readings.lengths is 101 items: want at most 100 items"}},
		{func(q *line.FaultCauses) { q.Readings.Sheets = slices.Repeat([]unit.Length{6}, 101) }, []string{"readings.sheets is 101 items: want at most 100 items"}},
		// A sheet springs back to its gap and more, never to five times that.
		{func(q *line.FaultCauses) { q.Readings.LastGap, q.Readings.Sheets = 4, []unit.Length{4, 20} }, nil},
		{func(q *line.FaultCauses) { q.Readings.LastGap, q.Readings.Sheets = 4, []unit.Length{3.99, 20.1} }, []string{
			"readings.sheets[0] is 3.99 mm: want from last_gap, 4 mm, to five times that", "readings.sheets[1] is 20.1 mm: want from last_gap, 4 mm, to five times that",
		}},
		{func(q *line.FaultCauses) { q.Readings.Sheets = []unit.Length{3.99} }, nil}, // of no gap that was read
		// A piece comes out as long as the guides are apart, never half of it nor twice.
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Readings.Lengths = 250, []unit.Length{125, 500} }, nil},
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Readings.Lengths = 250, []unit.Length{124.9} }, []string{"readings.lengths[0] is 124.9 mm: want 125 mm to 500 mm"}},
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Readings.Lengths = 250, []unit.Length{250, 500.1} }, []string{"readings.lengths[1] is 500.1 mm: want 125 mm to 500 mm"}},
		// What cannot be is not held against the other.
		{func(q *line.FaultCauses) { q.Readings.LastGap, q.Readings.Sheets = 4, []unit.Length{0.05} }, []string{"readings.sheets[0] is 0.05 mm: want 0.1 mm to 200 mm"}},
		{func(q *line.FaultCauses) { q.Readings.LastGap, q.Readings.Sheets = 0.04, []unit.Length{6} }, []string{"readings.last_gap is 0.04 mm: want 0.05 mm to 200 mm"}},
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Readings.Lengths = 250, []unit.Length{4} }, []string{"readings.lengths[0] is 4 mm: want 5 mm to 2 m"}},
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Readings.Lengths = 3000, []unit.Length{250} }, []string{"readings.guides is 3 m: want 5 mm to 2 m"}},
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Readings.Lengths = 0, []unit.Length{250} }, nil},
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Readings.Lengths = 250, nil }, nil},
		{func(q *line.FaultCauses) { a := air; a.SurfaceIn = unit.Temp{}; q.Readings.Air = &a }, []string{"readings.air.surface_in is not given: want a temperature from 0 °C to 50 °C"}},
		{func(q *line.FaultCauses) { a := air; q.Readings.Air = &a }, nil},
		{func(q *line.FaultCauses) { q.Readings.Strokes, q.Instruments.Counting = 20, 0 }, []string{"instruments.counting is missing: want how closely speeds and times were read, as a standard uncertainty"}},
		{func(q *line.FaultCauses) { q.Readings.Guides, q.Instruments.Rule = 250, 0 }, []string{"instruments.rule is missing: want how closely lengths and heights were read, as a standard uncertainty"}},
	} {
		q := base
		c.bend(&q)
		got := told(q)
		if len(q.Readings.Hopper) > 10_000 || len(q.Readings.Lanes) > 32 {
			got = got[:min(len(got), len(c.want))]
		}
		assert.Equal(t, c.want, got)
	}
}

// What is to be done where no control is set for it, in words that name what was found and what would do.
func TestWhatIsToBeDone(t *testing.T) {
	air := func(b *bench) proof.HumidityForSurfaceResult {
		a := b.Readings.Air
		out, err := proof.HumidityForSurface{AirTemp: a.Air.DryBulb, DoughTemp: a.SurfaceIn, Activity: a.Activity, Origin: a.Origin}.Solve()
		require.NoError(t, err)
		return out
	}
	for _, c := range []struct {
		id      string
		symptom line.Symptom
		order   int
		plant   func(b *bench)
		cause   line.CauseName
		do      func(b *bench) string
	}{
		{"damp air", line.Wet, bun, func(b *bench) { b.Readings.Air.Air.Humidity, b.Readings.Air.SweatLimit = 98, 60 }, line.AirDamp, func(b *bench) string {
			return "Make the air drier, or bring the piece in warmer: at 30 °C a surface of 27 °C sweats above a humidity of " + air(b).SweatsAbove.String() + "."
		}},
		{"a duster without a slide", line.StickingInPocket, bun, func(b *bench) { b.Readings.Flour[1].FlourRate /= 2 }, line.FlourLittle, func(b *bench) string {
			return "Set the duster proofer pockets to " + b.plan.Dusting[1].Flour.Hour.String() + ", only as much as keeps the pieces from sticking."
		}},
		{"flour beyond the points of a slide", line.Floury, bun, func(b *bench) { b.Readings.Flour[0].FlourRate = 5 }, line.FlourMuch, func(b *bench) string {
			return "Set the duster rounder belt to " + b.plan.Dusting[0].Slide.FlourRate.String() + ", only as much as keeps the pieces from sticking."
		}},
		{"too few racks", line.OvenWaits, loaf, func(b *bench) { b.Readings.Racks -= 3 }, line.RacksFew, func(*bench) string { return "Bring 3 more, or empty them sooner." }},
		{"a slow mixer", line.OvenWaits, loaf, func(b *bench) { b.Readings.Cycle *= 2 }, line.MixerSlow, func(b *bench) string {
			return "Give a batch every " + b.plan.Times.BatchInterval.String() + ": weigh the next one ahead, or let bowls take turns."
		}},
		{"a cold dough", line.TooHeavy, bun, func(b *bench) { b.Readings.DoughTemp = unit.Celsius(24) }, line.DoughCold, func(*bench) string {
			return "Make the water of the next batch warmer by 6 C°, as long as flour and room stay as they are: the water carries 3 times what the dough is off. Ask water-temperature with what was measured."
		}},
		{"a batch that stood", line.DriftingWeight, bun, func(b *bench) { b.Readings.Stood *= 2 }, line.StoodLong, func(b *bench) string {
			return "Tip batches of " + b.plan.Batch.BatchDough.String() + " as planned, when the one before is cut; if the line ran slower or stood, tip less."
		}},
		{"a low hopper", line.TooLight, bun, func(b *bench) { b.Readings.HopperDough = 3000 }, line.HopperLow, func(*bench) string { return "Tip the next batch while 6 kg or more are left." }},
		{"a heavy lane", line.UnevenLanes, bun, func(b *bench) { b.Readings.Lanes[1].Weight += 3 }, line.LaneOff, func(*bench) string {
			return "Leave the handle alone: it moves every lane alike. Have the chamber of lane 1, its piston and its oil looked at by whoever maintains the divider; its pieces are 1.5 g too light."
		}},
		{"a wide piece", line.Doubles, roll, func(b *bench) { b.Readings.OnBelt = 400 }, line.PieceWide, func(b *bench) string {
			return "Let the pieces grow less before the belt, or make them lie longer apart: a piece of 400 mm needs a pitch of " + (400 + leastGap(b)).String() + " there."
		}},
		{"a sticky dough", line.StickingInPocket, bun, func(b *bench) { b.Readings.Stickiness = 4 }, line.DoughSticky, func(b *bench) string {
			var text strings.Builder
			text.WriteString("Until the dough is mended, dust for it as it is.")
			for i, d := range b.Line.Dusters {
				use, err := divider.FlourUse{Scale: d.Scale, Stickiness: 4, Piece: b.plan.Target, PieceRate: b.plan.Rate.PieceRate, RunTime: 3600}.Solve()
				require.NoError(t, err)
				text.WriteString(" Duster " + d.Name + ": " + use.Hour.String())
				if i == 0 {
					set, err := divider.SlideForFlow{FlourRate: use.Hour, Points: d.Slide, SlideStep: d.SlideStep}.Solve()
					require.NoError(t, err)
					text.WriteString(", slide at " + strconv.FormatFloat(set.Slide, 'g', 4, 64))
				}
				text.WriteString(".")
			}
			return text.String()
		}},
		{"a dough that grows", line.DriftingWeight, bun, func(b *bench) { b.grow(4 * b.growth()) }, line.GrowsFast, func(b *bench) string {
			growth, err := divider.HopperGrowth{Weighings: b.Readings.Hopper, Confidence: 95}.Solve()
			require.NoError(t, err)
			batch, err := divider.BatchForWeightDrift{
				StartWeight: b.plan.Mark.Expected, DriftLimit: b.plan.DriftLimit, Growth: growth.Growth, GrowthBasis: divider.Measured, DoughRate: b.plan.Rate.DoughRate, Head: b.Line.Divider.HopperLeast,
			}.Solve()
			require.NoError(t, err)
			return "Tip batches of up to " + batch.Batch.String() + ": they are cut in " + batch.Time.String() + ", before " + b.plan.DriftLimit.String() +
				" are lost. Leave the handle alone, unless the plan says when to move it: see weight-drift."
		}},
	} {
		b := newBench(t, c.order)
		b.Symptom = c.symptom
		c.plant(b)
		out, err := b.Solve()
		require.NoError(t, err, c.id)
		if assert.NotEmpty(t, out.Causes, c.id) {
			assert.Equal(t, c.cause, out.Causes[0].Cause, c.id)
			assert.Equal(t, c.do(b), out.Causes[0].Do, c.id)
			assert.Empty(t, out.Causes[0].Move, "%s: there is no control to move", c.id)
			assert.Zero(t, out.Causes[0].SetTo, c.id)
		}
	}
	// What stands in another position than planned is told with why.
	b := newBench(t, bun)
	b.Symptom, b.Readings.StampMode, b.Readings.Spin = line.OutOfStep, molder.OffStamp, molder.SpinOff
	out, err := b.Solve()
	require.NoError(t, err)
	require.Len(t, out.Elsewhere, 2)
	for i, want := range []struct{ stands, to, why string }{
		{"off", "timed", "Timed, the stamper stamps when a row arrives; continuous, at a speed of its own."},
		{"off", "on", "A still die that spins tears the piece; a turning die makes its cut by turning."},
	} {
		e := &out.Elsewhere[i]
		assert.Equal(t, line.StamperSet, e.Cause)
		assert.Contains(t, e.Says, want.why)
		assert.True(t, e.Cautions.Has(reckon.StamperCover))
		assert.True(t, out.Cautions.Has(e.Cautions))
	}
}

// A reading that is missing among all others is asked for, and what hangs on it alone.
func TestOneReadingIsMissing(t *testing.T) {
	alone := func(b *bench) {
		b.Line.Stamper.Mode, b.Readings.StampMode = molder.ContinuousStamp, molder.ContinuousStamp
	}
	for _, c := range []struct {
		symptom line.Symptom
		order   int
		miss    func(b *bench)
		causes  []line.CauseName
	}{
		{line.TooLight, bun, func(b *bench) { b.Readings.Weighings = nil }, []line.CauseName{line.HandleMoved, line.DoughOtherwise}},
		{line.TooHeavy, bun, func(b *bench) { b.weigh(b.plan.Mark.Expected + 4); b.Readings.Mark = nil }, []line.CauseName{line.HandleMoved, line.DoughOtherwise}},
		{line.TooLight, bun, func(b *bench) { b.Readings.DoughTemp = unit.Temp{} }, []line.CauseName{line.DoughWarm}},
		{line.TooLight, bun, func(b *bench) { b.Readings.Stood = 0 }, []line.CauseName{line.StoodLong}},
		{line.TooLight, bun, func(b *bench) { b.Readings.HopperDough = 0 }, []line.CauseName{line.HopperLow}},
		{line.DriftingWeight, bun, func(b *bench) { b.Readings.Hopper = nil }, []line.CauseName{line.GrowsFast}},
		{line.DriftingWeight, bun, func(b *bench) { // all the same: no scatter to judge by
			for i := range b.Readings.Hopper {
				b.Readings.Hopper[i].Weight = b.plan.Mark.Expected
			}
		}, []line.CauseName{line.GrowsFast}},
		{line.UnevenLanes, bun, func(b *bench) { b.Readings.Lanes = nil }, []line.CauseName{line.LaneOff}},
		{line.Doubles, roll, func(b *bench) { b.Readings.Belts = b.Readings.Belts[:1] }, []line.CauseName{line.BeltSlow}},
		{line.Doubles, roll, func(b *bench) { b.Readings.Strokes = 0 }, []line.CauseName{line.LineFast}},
		{line.Doubles, roll, func(b *bench) { b.Readings.OnBelt = 0 }, []line.CauseName{line.PieceWide}},
		{line.TornSheet, loaf, func(b *bench) { b.Readings.Sheets = nil }, []line.CauseName{line.SheetThin}},
		{line.TornSheet, loaf, func(b *bench) { b.Readings.LastGap = 0 }, []line.CauseName{line.GapNarrow, line.SheetThin}},
		{line.TornSheet, loaf, func(b *bench) { b.Readings.FirstGap = 0 }, []line.CauseName{line.FirstGapOff}},
		{line.TornSheet, loaf, func(b *bench) { b.Readings.Strokes = 0 }, []line.CauseName{line.DwellShort}},
		{line.OpenSeam, loaf, func(b *bench) { b.Readings.BoardIn = 0 }, []line.CauseName{line.BoardInOff}},
		{line.OpenSeam, loaf, func(b *bench) { b.Readings.BoardOut = 0 }, []line.CauseName{line.BoardOutOff}},
		{line.OpenSeam, loaf, func(b *bench) { b.Readings.LastGap, b.Readings.Sheets = 0, nil }, []line.CauseName{line.GapWide}},
		{line.TooLong, loaf, func(b *bench) { b.Readings.Lengths = nil }, []line.CauseName{line.DrawsBack}},
		{line.TooLong, loaf, func(b *bench) { b.Readings.Lengths = b.Readings.Lengths[2:3] }, nil}, // of one length its own rule tells how sure it is
		{line.TooLong, loaf, func(b *bench) { b.Readings.Guides = 0 }, []line.CauseName{line.GuidesOff, line.DrawsBack}},
		{line.TooLong, loaf, func(b *bench) { b.Readings.BoardOut = 0 }, []line.CauseName{line.BoardOutOff}},
		{line.NotRound, bun, func(b *bench) { b.Readings.RounderSpeed = 0 }, []line.CauseName{line.RoundedLittle}},
		{line.NotRound, bun, func(b *bench) { b.Readings.Strokes = 0 }, []line.CauseName{line.RoundedLittle}}, // they carry the cups on
		{line.NotRound, bun, func(b *bench) { b.Readings.Drum = "" }, []line.CauseName{line.DrumWrong}},
		{line.NotRound, bun, func(b *bench) { b.Readings.Air = nil }, []line.CauseName{line.AirDry}},
		{line.OutOfStep, bun, func(b *bench) { b.Readings.StampMode = "" }, []line.CauseName{line.StamperSet}},
		{line.OutOfStep, bun, func(b *bench) { b.Readings.Spin = "" }, []line.CauseName{line.StamperSet}},
		{line.OutOfStep, bun, func(b *bench) { alone(b); b.Readings.Stamps = 0 }, []line.CauseName{line.StampsOff}},
		{line.OutOfStep, bun, func(b *bench) { alone(b); b.Readings.Strokes = 0 }, []line.CauseName{line.StampsOff}},
		{line.OutOfStep, bun, alone, nil},
		{line.OutOfStep, bun, func(b *bench) { alone(b); b.Readings.StampMode, b.Readings.Stamps = molder.TimedStamp, 0 }, nil}, // each row calls its stamp
		{line.StickingInPocket, bun, func(b *bench) { b.Readings.Flour = b.Readings.Flour[:1] }, []line.CauseName{line.FlourLittle}},
		{line.StickingInPocket, bun, func(b *bench) { b.Readings.Flour = b.Readings.Flour[1:] }, nil}, // of another duster
		{line.StickingInPocket, bun, func(b *bench) { b.Readings.Stickiness = 0 }, []line.CauseName{line.DoughSticky}},
		{line.StickingInPocket, bun, func(b *bench) { b.Readings.Grown = 0 }, []line.CauseName{line.GrownLarge}},
		{line.StickingInPocket, bun, func(b *bench) { b.Readings.Air = nil }, []line.CauseName{line.AirDamp}},
		{line.OvenWaits, loaf, func(b *bench) { b.Readings.Cycle = 0 }, []line.CauseName{line.MixerSlow}},
		{line.OvenWaits, loaf, func(b *bench) { b.Readings.Racks = 0 }, []line.CauseName{line.RacksFew}},
		{line.OvenWaits, loaf, func(b *bench) { b.Readings.Strokes = 0 }, []line.CauseName{line.LineSlow}},
	} {
		b := newBench(t, c.order)
		b.Symptom = c.symptom
		c.miss(b)
		out, err := b.Solve()
		if assert.NoError(t, err, "%s, for %v", c.symptom, c.causes) {
			assert.ElementsMatch(t, c.causes, asked(&out), "%s", c.symptom)
			if len(c.causes) > 0 && len(out.Causes) == 0 && out.Finding == "" {
				assert.Contains(t, out.Says, "measure what is listed", "%s, for %v", c.symptom, c.causes)
			}
		}
	}
}
