package line

import (
	"slices"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// The longest lists of readings.
const (
	mostWeighed  = 1000
	mostMeasured = 100
	mostRacks    = 100_000
)

// check refuses readings that cannot be, and those of what the line does not have.
func (r *Readings) check(c *reckon.Checks, l *Line) {
	r.checkWeights(c, l)
	if r.DoughTemp.Given() {
		reckon.CheckTemp(c, "dough_temp", r.DoughTemp, unit.Celsius(0), unit.Celsius(50))
	}
	optional(c, "stood", r.Stood, shortest, longest)
	optional(c, "hopper_dough", r.HopperDough, 1, 10_000_000)
	optional(c, "cycle", r.Cycle, shortest, longest)
	if r.Racks != 0 {
		reckon.CheckCount(c, "racks", r.Racks, 1, mostRacks)
	}
	reckon.CheckRange(c, "stickiness", r.Stickiness, 0, 1000)
	if a := r.Air; a != nil {
		a.check(c)
	}
	optional(c, "grown", r.Grown, 1, 1000)
	optional(c, "on_belt", r.OnBelt, 1, 5000)
	lengths := each(c, "lengths", r.Lengths, 5, 2000)
	sheets := each(c, "sheets", r.Sheets, 0.1, 200)
	r.checkFlour(c, l)
	r.checkBelts(c, l)
	optional(c, "strokes", r.Strokes, 0.01, 1000)
	optional(c, "stamps", r.Stamps, 0.01, 1000)
	if r.StampMode != "" {
		reckon.CheckWord(c, "stamp_mode", r.StampMode, molder.OffStamp, molder.ContinuousStamp, molder.TimedStamp)
	}
	if r.Spin != "" {
		reckon.CheckEither(c, "spin", r.Spin, molder.SpinOn, molder.SpinOff)
	}
	optional(c, "rounder_speed", r.RounderSpeed, 0.1, 1000)
	if r.Drum != "" && !slices.ContainsFunc(l.Drums, func(d molder.Drum) bool { return d.Name == r.Drum }) {
		c.Fail("drum", strconv.Quote(unit.Clip(r.Drum)), "a rounding drum of the line")
	}
	optional(c, "first_gap", r.FirstGap, 0.05, 200)
	gap := optional(c, "last_gap", r.LastGap, 0.05, 200)
	guides := optional(c, "guides", r.Guides, 5, 2000)
	optional(c, "board_in", r.BoardIn, 1, 500)
	optional(c, "board_out", r.BoardOut, 1, 500)
	if guides && lengths && r.Guides > 0 && len(r.Lengths) > 0 {
		molder.GuideRatioFromPieces{Guides: r.Guides, Lengths: r.Lengths}.Check(c)
	}
	if gap && sheets && r.LastGap > 0 {
		for i, t := range r.Sheets {
			if !(t >= r.LastGap && t <= 5*r.LastGap) {
				c.Fail("sheets["+strconv.Itoa(i)+"]", t.String(), "from last_gap, "+r.LastGap.String()+", to five times that")
			}
		}
	}
	r.checkThere(c, l)
}

// checkWeights refuses what cannot be weighed, or was not weighed on this line.
func (r *Readings) checkWeights(c *reckon.Checks, l *Line) {
	if reckon.CheckItems(c, "weighings", len(r.Weighings), mostWeighed) {
		for i, m := range r.Weighings {
			mark := c.Mark()
			reckon.CheckRange(c, "", m, 0.001, 100_000)
			c.Item(mark, "weighings", i)
		}
	}
	if d := &l.Divider; r.Mark != nil && !(*r.Mark >= d.MarkLow && *r.Mark <= d.MarkHigh) {
		text := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
		c.Fail("mark", text(*r.Mark), text(d.MarkLow)+" to "+text(d.MarkHigh)+", which the handle reaches")
	}
	if reckon.CheckItems(c, "lanes", len(r.Lanes), 32) {
		for i := range r.Lanes {
			mark := c.Mark()
			if n := r.Lanes[i].Lane; slices.ContainsFunc(r.Lanes[:i], func(o divider.LaneWeighing) bool { return o.Lane == n }) {
				c.Fail("lane", strconv.Itoa(n), "each lane once")
			}
			r.Lanes[i].Check(c)
			c.Item(mark, "lanes", i)
		}
	}
	if len(r.Hopper) > 0 {
		mark := c.Mark()
		hopper := reckon.Checks{Func: c.Func}
		divider.HopperGrowth{Weighings: r.Hopper, Confidence: oneSigma}.Check(&hopper)
		for _, e := range reckon.InputErrors(hopper.Err()) {
			here := *e
			here.Field = "hopper" + e.Field[min(len("weighings"), len(e.Field)):]
			c.Nest("", &here)
		}
		_ = mark
	}
}

func (r *Readings) checkFlour(c *reckon.Checks, l *Line) {
	if !reckon.CheckItems(c, "flour", len(r.Flour), mostDusters) {
		return
	}
	for i, k := range r.Flour {
		mark := c.Mark()
		if !slices.ContainsFunc(l.Dusters, func(d Duster) bool { return d.Name == k.Duster }) {
			c.Fail("duster", strconv.Quote(unit.Clip(k.Duster)), "a duster of the line")
		} else if slices.ContainsFunc(r.Flour[:i], func(o FlourReading) bool { return o.Duster == k.Duster }) {
			c.Fail("duster", strconv.Quote(unit.Clip(k.Duster)), "each duster once")
		}
		reckon.CheckRange(c, "flour_rate", k.FlourRate, 0, 1000)
		c.Item(mark, "flour", i)
	}
}

func (r *Readings) checkBelts(c *reckon.Checks, l *Line) {
	if !reckon.CheckItems(c, "belts", len(r.Belts), mostParts) {
		return
	}
	for i, k := range r.Belts {
		mark := c.Mark()
		if !slices.ContainsFunc(l.Belts, func(b Belt) bool { return b.Name == k.Belt && b.BeltSpeed > 0 }) {
			c.Fail("belt", strconv.Quote(unit.Clip(k.Belt)), "a belt of the line that has a speed of its own")
		} else if slices.ContainsFunc(r.Belts[:i], func(o BeltReading) bool { return o.Belt == k.Belt }) {
			c.Fail("belt", strconv.Quote(unit.Clip(k.Belt)), "each belt once")
		}
		reckon.CheckRange(c, "belt_speed", k.BeltSpeed, 0.1, 10_000)
		c.Item(mark, "belts", i)
	}
}

// checkThere refuses readings of what the line does not have.
func (r *Readings) checkThere(c *reckon.Checks, l *Line) {
	m, has := &l.Moulder, l.parts()
	for _, k := range [...]struct {
		field       string
		given, have bool
		what        string
	}{
		{"racks", r.Racks != 0, l.FinalProof != FinalProof{}, "a final proof"},
		{"stickiness", r.Stickiness != 0, len(l.Dusters) > 0, "dusters of flour"},
		{"grown", r.Grown != 0, has.pocket, "the size of its pockets"},
		{"sheets", len(r.Sheets) > 0, has.moulder, "a moulder"},
		{"lengths", len(r.Lengths) > 0, has.moulder, "a moulder"},
		{"stamps", r.Stamps != 0, has.stamper, "a stamper"},
		{"stamp_mode", r.StampMode != "", has.stamper, "a stamper"},
		{"spin", r.Spin != "", has.stamper && l.Stamper.Die != "", "a stamper with its die"},
		{"rounder_speed", r.RounderSpeed != 0, has.rounder, "its rounder"},
		{"first_gap", r.FirstGap != 0, m.First != nil, "a first pair of rollers"},
		{"last_gap", r.LastGap != 0, has.moulder, "a moulder"},
		{"guides", r.Guides != 0, m.Guides != nil, "side guides"},
		{"board_in", r.BoardIn != 0, m.Board != nil, "a pressure board"},
		{"board_out", r.BoardOut != 0, m.Board != nil, "a pressure board"},
	} {
		if k.given && !k.have && !c.Told(k.field) {
			c.Fail(k.field, "given", "nothing: the line does not give "+k.what)
		}
	}
}

// check lets the proofer's own calculation judge the air.
func (a *Around) check(c *reckon.Checks) {
	mark := c.Mark()
	wrong := reckon.Checks{Func: c.Func}
	a.surface(a.SurfaceIn, 60).Check(&wrong)
	for _, e := range reckon.InputErrors(wrong.Err()) {
		here := *e
		if here.Field == "dough_temp" {
			here.Field = "surface_in"
		}
		c.Nest("", &here)
	}
	c.Under(mark, "air")
}

// check requires how closely each reading that was given was taken.
func (k *Instruments) check(c *reckon.Checks, r *Readings, markStep float64) {
	optional(c, "thermometer", k.Thermometer, 0.01, 5)
	optional(c, "rule", k.Rule, 0.01, 20)
	optional(c, "gauge", k.Gauge, 0.001, 5)
	optional(c, "counting", k.Counting, 0.01, 20)
	optional(c, "scale", k.Scale, 0.01, 20)
	optional(c, "handle", k.Handle, 1e-6, 1e6)
	optional(c, "stickiness", k.Stickiness, 0.01, 100)
	for _, need := range [...]struct {
		field string
		has   bool
		given bool
		of    string
	}{
		{"thermometer", k.Thermometer != 0, r.DoughTemp.Given() || r.Air != nil, "temperatures"},
		{"rule", k.Rule != 0, r.Grown != 0 || r.OnBelt != 0 || len(r.Lengths) > 0 || r.Guides != 0 || r.BoardIn != 0 || r.BoardOut != 0, "lengths and heights"},
		{"gauge", k.Gauge != 0, r.FirstGap != 0 || r.LastGap != 0 || len(r.Sheets) > 0, "roller gaps and sheets"},
		{"counting", k.Counting != 0, r.Stood != 0 || r.Cycle != 0 || r.Strokes != 0 || r.Stamps != 0 || r.RounderSpeed != 0 || len(r.Belts) > 0, "speeds and times"},
		{"scale", k.Scale != 0, len(r.Flour) > 0 || r.HopperDough != 0, "flour caught and dough in the hopper"},
		{"handle", k.Handle != 0, r.Mark != nil && markStep == 0, "the mark of a handle that moves freely"},
		{"stickiness", k.Stickiness != 0, r.Stickiness != 0, "stickiness"},
	} {
		if need.given && !need.has {
			c.Fail(need.field, "missing", "how closely "+need.of+" were read, as a standard uncertainty")
		}
	}
}

// optional is [reckon.CheckRange] for what may be left out.
func optional[N ~float64](c *reckon.Checks, field string, v, low, high N) bool {
	return v == 0 || reckon.CheckRange(c, field, v, low, high)
}

// each is [reckon.CheckRange] for every item of a list.
func each[N ~float64](c *reckon.Checks, field string, list []N, low, high N) bool {
	mark := c.Mark()
	if reckon.CheckItems(c, field, len(list), mostMeasured) {
		for i, v := range list {
			before := c.Mark()
			reckon.CheckRange(c, "", v, low, high)
			c.Item(before, field, i)
		}
	}
	return c.Mark() == mark
}
