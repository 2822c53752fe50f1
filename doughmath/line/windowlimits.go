package line

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
)

// limit is an input of the plan that limits its settings.
type limit struct {
	name, field string
	side        LimitSide
	at          knob
	unit        float64 // one unit more room, in the unit held
	end         float64 // as far as its range goes that way
}

// knob is a quantity of a plan that can be moved.
type knob interface {
	value() float64
	set(v float64)
	text(v float64) string     // rounded, for reading
	exact(v float64) string    // every digit
	legible(v float64) legible // for reading in the units of a person's choice
}

// legible is a value that a person reads in the units of their choice.
type legible interface{ In(sys unit.System) string }

type quantity interface {
	~float64
	legible
	String() string
	MarshalText() ([]byte, error)
}

type knobOf[Q quantity] struct{ of *Q }

func (k knobOf[Q]) value() float64            { return float64(*k.of) }
func (k knobOf[Q]) set(v float64)             { *k.of = Q(v) }
func (k knobOf[Q]) text(v float64) string     { return Q(v).String() }
func (k knobOf[Q]) legible(v float64) legible { return Q(v) }
func (k knobOf[Q]) exact(v float64) string {
	text, _ := Q(v).MarshalText()
	return string(text)
}

func knobAt[Q quantity](of *Q) knob { return knobOf[Q]{of} }

// plain is a number without a unit.
type plain float64

func (p plain) String() string        { return strconv.FormatFloat(float64(p), 'g', 4, 64) }
func (p plain) In(unit.System) string { return p.String() }
func (p plain) MarshalText() ([]byte, error) {
	return strconv.AppendFloat(nil, float64(p), 'g', -1, 64), nil
}

// limits lists the limits that this order has on this line.
func (a *asked) limits() []limit {
	l, p, m := &a.plan.Line, &a.plan.Order.Product, &a.plan.Shift.Mixer
	d := &l.Divider
	list := append(make([]limit, 0, 32),
		limit{"divider", "line.divider.strokes_low", SlowSide, knobAt(&d.StrokesLow), -1, 0.01},
		limit{"divider", "line.divider.strokes_high", FastSide, knobAt(&d.StrokesHigh), 1, 1000},
		limit{"dwell", "order.product.dwell_high", SlowSide, knobAt(&p.DwellHigh), 60, float64(longest)},
		limit{"dwell", "order.product.dwell_low", FastSide, knobAt(&p.DwellLow), -60, float64(shortest)},
		limit{"hopper time", "order.product.hopper_max", SlowSide, knobAt(&p.HopperMax), 60, float64(longest)},
		limit{"hopper", "line.divider.hopper_capacity", BatchSide, knobAt(&d.HopperCapacity), 1000, 10_000_000},
		limit{"mixer", "shift.mixer.high", BatchSide, knobAt(&m.High), 1000, 1e9},
		limit{"mixer", "shift.mixer.low", BatchSide, knobAt(&m.Low), -1000, 0},
		limit{"mixer", "shift.mixer.cycle", BatchSide, knobAt(&m.Cycle), -60, float64(shortest)},
	)
	if d.StrokeStep > 0 {
		list = append(list, limit{"step", "line.divider.stroke_step", FastSide, knobAt(&d.StrokeStep), -float64(d.StrokeStep), 0})
	}
	if p.Drift.Hold == HoldByBatch && p.Drift.Growth > 0 {
		list = append(list, limit{"weight drift", "order.product.hopper_drift.growth", SlowSide, knobAt(&p.Drift.Growth), -0.01, 0})
	}
	if a.r.stamped {
		list = append(list,
			limit{"stamper", "line.stamper.stamps_low", SlowSide, knobAt(&l.Stamper.StampsLow), -1, 0},
			limit{"stamper", "line.stamper.stamps_high", FastSide, knobAt(&l.Stamper.StampsHigh), 1, 1000})
	}
	if p.RateHigh > 0 {
		list = append(list, limit{"oven", "order.product.rate_high", FastSide, knobAt(&p.RateHigh), 1, 10_000})
	}
	for i := range l.Belts {
		if b := &l.Belts[i]; a.r.over(b) && b.AdvancePerStroke == 0 {
			list = append(list, limit{b.Name, "line.belts[" + strconv.Itoa(i) + "].belt_speed", FastSide, knobAt(&b.BeltSpeed), 1000. / 60, 10_000})
		}
	}
	if a.r.moulded {
		k := &l.Moulder
		list = append(list,
			limit{"moulder", "line.moulder.rate_high", FastSide, knobAt(&k.RateHigh), 1, 10_000},
			limit{"rollers", "line.moulder.gap_low", GapSide, knobAt(&k.GapLow), -0.1, 0.05},
			limit{"rollers", "line.moulder.gap_high", GapSide, knobAt(&k.GapHigh), 0.1, 200},
			limit{"turns", "order.product.turns", GapSide, knobAt((*plain)(&p.Turns)), -0.1, min(p.Turns, 1)})
		if p.TearLimit > 0 {
			list = append(list, limit{"tear", "order.product.tear_limit", GapSide, knobAt(&p.TearLimit), -0.1, 0.1})
		}
	}
	return list
}

// moved returns the value of a limit by one unit, no further than its end.
func (k *limit) moved() float64 {
	if k.unit < 0 {
		return max(k.at.value()+k.unit, k.end)
	}
	return min(k.at.value()+k.unit, k.end)
}

// sixDigits rounds a value to six digits, to where the limit leaves more room.
func (k *limit) sixDigits(v float64) float64 {
	scale := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(v))))
	if k.unit < 0 {
		return max(math.Floor(float64(v*scale))/scale, k.end)
	}
	return min(math.Ceil(float64(v*scale))/scale, k.end)
}

// extent is how wide the window is: in speeds, and what the fastest run keeps up.
func (a *asked) extent() (speeds unit.StrokeRate, rate unit.PieceRate) {
	r := &a.r
	low, high := unit.StrokeRate(math.Inf(1)), unit.StrokeRate(0)
	r.eachWorkable(func(_ batched, s stretch) { low, high = min(low, s.low), max(high, s.high) })
	return high - low, r.point(a.out.batched(), a.out.Strokes, 0).PieceRate
}

// buys moves each limit alone by one unit.
func (a *asked) buys(ways []WindowWay, gap *WindowGap) (list []WindowLimit) {
	speeds, rate := a.extent()
	limits := a.limits()
	list = make([]WindowLimit, 0, len(limits))
	largest := a.out.LargestBatchLimit
	for i := range limits {
		k := &limits[i]
		was, to := k.at.value(), k.moved()
		l := WindowLimit{Limit: k.name, Field: k.field, Side: k.side, Stands: k.at.text(was), Moved: k.at.text(to), stands: k.at.legible(was), moved: k.at.legible(to)}
		k.at.set(to)
		switch {
		case to == was:
		case k.side == GapSide && a.start(sheeting):
			then := a.gap()
			l.Gaps = (then.High - then.Low) - (gap.High - gap.Low)
		case k.side != GapSide && a.start(pacing):
			s, p := a.extent()
			l.Speeds, l.PieceRate = s-speeds, p-rate
		}
		k.at.set(was)
		l.Binds = l.Gaps != 0 || l.Speeds != 0 || l.PieceRate != 0
		switch k.side {
		case SlowSide:
			l.Binds = l.Binds || slices.ContainsFunc(ways, func(w WindowWay) bool { return among(w.LowLimit, k.name) })
		case FastSide:
			l.Binds = l.Binds || slices.ContainsFunc(ways, func(w WindowWay) bool { return among(w.HighLimit, k.name) })
		case BatchSide:
			l.Binds = l.Binds || k.field != "shift.mixer.low" && k.field != "shift.mixer.cycle" && k.name == largest
		}
		list = append(list, l)
	}
	a.again()
	return list
}

// among reports whether a limit is among those that apply together.
func among(limits, name string) bool {
	return limits == name || slices.Contains(strings.Split(limits, " and "), name)
}

// conflict returns a smallest set of limits that exclude one another, nil if it is not they that stand in the way.
//
// A limit that is out of the way stands at the end of its range. Taking one after the other out of the way, and back only if
// that is all that helps, leaves a set of which each is needed; no smaller set does the same if none of that size does.
//
// Speeds and batches do not depend on the gap, nor does that on them: a smallest conflict lies on one side.
func (a *asked) conflict() (list []WindowConflict) {
	due := sheeting
	if !a.start(pacing) {
		due = pacing
	}
	limits := slices.DeleteFunc(a.limits(), func(k limit) bool { return (k.side == GapSide) != (due == sheeting) })
	given := make([]float64, len(limits))
	for i := range limits {
		given[i] = limits[i].at.value()
	}
	// excluded asks with only some of the limits in the way.
	excluded := func(in []int) bool {
		for i := range limits {
			v := limits[i].end
			if slices.Contains(in, i) {
				v = given[i]
			}
			limits[i].at.set(v)
		}
		return !a.start(due)
	}
	var set []int
	if !excluded(nil) {
		set = smallest(len(limits), excluded)
	}
	for i := range limits {
		limits[i].at.set(given[i])
	}
	for _, i := range set {
		list = append(list, a.relaxed(&limits[i], due))
	}
	return list
}

// smallest returns a smallest set of the numbers below n that is excluded; all of them are.
func smallest(n int, excluded func([]int) bool) []int {
	set := make([]int, n)
	for i := range set {
		set[i] = i
	}
	for i := range n {
		if without := slices.DeleteFunc(slices.Clone(set), func(j int) bool { return j == i }); excluded(without) {
			set = without
		}
	}
	for size := 1; size < len(set); size++ {
		if smaller := firstOf(n, size, excluded); smaller != nil {
			return smaller
		}
	}
	return set
}

// firstOf returns the first set of so many numbers below n that holds, nil if none does.
func firstOf(n, size int, holds func([]int) bool) []int {
	in := make([]int, size)
	var try func(at, from int) bool
	try = func(at, from int) bool {
		if at == size {
			return holds(in)
		}
		for in[at] = from; in[at] <= n-size+at; in[at]++ {
			if try(at+1, in[at]+1) {
				return true
			}
		}
		return false
	}
	if try(0, 0) {
		return in
	}
	return nil
}

// relaxed moves a limit alone until a plan is found.
func (a *asked) relaxed(k *limit, due station) WindowConflict {
	was := k.at.value()
	c := WindowConflict{Limit: k.name, Field: k.field, Stands: k.at.text(was), stands: k.at.legible(was)}
	defer k.at.set(was)
	works := func(v float64) bool {
		k.at.set(v)
		return a.start(due)
	}
	if !works(k.end) {
		return c
	}
	good := k.end
	if k.name != "step" { // a finer step does not always do what a coarser one does: only none at all
		good = k.least(was, works)
	}
	if k.at.set(good); a.rest(Aim{}) != nil {
		return c // something else stands in the way as well
	}
	c.Needs = k.at.exact(good)
	c.Strokes, c.PieceRate = a.out.Strokes, a.out.Rate.PieceRate
	c.needs, c.by, c.way = k.at.legible(good), k.at.legible(math.Abs(good-was)), " less"
	if good > was {
		c.way = " more"
	}
	c.By = c.by.In(unit.Metric) + c.way
	return c
}

// least halves the way from where a limit stands, which does not work, to its end, which does.
func (k *limit) least(from float64, works func(float64) bool) float64 {
	bad, good := from, k.end
	for range 60 {
		if mid := bad + float64((good-bad)/2); works(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	if digits := k.sixDigits(good); works(digits) {
		return digits
	}
	return good
}
