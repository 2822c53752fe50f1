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
	mostInHopper = 10_000
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
	optional(c, "sd", r.SD, 1e-6, 100_000)
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
	r.checkHopper(c)
}

// checkHopper requires weighings through one batch that a growth can be found from.
func (r *Readings) checkHopper(c *reckon.Checks) {
	if len(r.Hopper) == 0 || !reckon.CheckItems(c, "hopper", len(r.Hopper), mostInHopper) {
		return
	}
	mark, oneTime := c.Mark(), true
	for i, h := range r.Hopper {
		before := c.Mark()
		h.Check(c)
		c.Item(before, "hopper", i)
		oneTime = oneTime && h.Time == r.Hopper[0].Time
	}
	switch {
	case len(r.Hopper) < 3:
		c.Fail("hopper", strconv.Itoa(len(r.Hopper))+" weighings", "3 to "+strconv.Itoa(mostInHopper)+" weighings through one batch")
	case oneTime && c.Mark() == mark:
		c.Fail("hopper", "weighings that are all of one time", "two or more different times within the batch")
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
		if !slices.ContainsFunc(l.Belts, func(b Belt) bool { return b.Name == k.Belt && b.BeltSpeed != 0 }) {
			c.Fail("belt", strconv.Quote(unit.Clip(k.Belt)), "a belt of the line that has a speed of its own")
		} else if slices.ContainsFunc(r.Belts[:i], func(o BeltReading) bool { return o.Belt == k.Belt }) {
			c.Fail("belt", strconv.Quote(unit.Clip(k.Belt)), "each belt once")
		}
		reckon.CheckRange(c, "belt_speed", k.BeltSpeed, 0.1, 10_000)
		c.Item(mark, "belts", i)
	}
}

// checkThere requires of the line what the readings are of.
func (r *Readings) checkThere(c *reckon.Checks, l *Line) {
	m, has := &l.Moulder, l.parts()
	for _, k := range [...]struct {
		part    string // of the line
		missing bool
		given   bool
		what    string
	}{
		{"final_proof", l.FinalProof == FinalProof{}, r.Racks != 0, "racks"},
		{"flour_dusters", len(l.Dusters) == 0, r.Stickiness != 0, "stickiness"},
		{"pocket", !has.pocket, r.Grown != 0, "grown"},
		{"stamper", !has.stamper, r.Stamps != 0, "stamps"},
		{"stamper", !has.stamper, r.StampMode != "", "stamp_mode"},
		{"stamper.die", l.Stamper.Die == "", r.Spin != "", "spin"},
		{"rounder", !has.rounder, r.RounderSpeed != 0, "rounder_speed"},
		{"moulder", !has.moulder, len(r.Sheets) > 0, "sheets"},
		{"moulder", !has.moulder, len(r.Lengths) > 0, "lengths"},
		{"moulder", !has.moulder, r.LastGap != 0, "last_gap"},
		{"moulder.first_pair", m.First == nil, r.FirstGap != 0, "first_gap"},
		{"moulder.side_guides", m.Guides == nil, r.Guides != 0, "guides"},
		{"moulder.pressure_board", m.Board == nil, r.BoardIn != 0, "board_in"},
		{"moulder.pressure_board", m.Board == nil, r.BoardOut != 0, "board_out"},
	} {
		if field := "line." + k.part; k.given && k.missing && !c.Told(field) {
			c.Fail(field, "missing", "what readings."+k.what+" was read on; or leave the reading out")
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
