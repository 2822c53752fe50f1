package line

import (
	"cmp"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DayRun is one order of the day as it is made. Times are from midnight of the day of start.
type DayRun struct {
	Name        string          `json:"name"`                  // the order
	Pieces      int             `json:"pieces"`                // pieces made
	Changeover  unit.Duration   `json:"changeover"`            // to it from what was made before
	Gap         unit.Duration   `json:"gap"`                   // from the last stroke before to its first; for the first of the day, from the start
	GapLimit    string          `json:"gap_limit"`             // what the gap waits for: "changeover", "mixer" or "oven"
	Batches     []unit.Duration `json:"batches"`               // when each batch goes into the mixer
	Preferments []PrefermentDue `json:"preferments,omitzero"`  // when those of the first batch are started
	FirstStroke unit.Duration   `json:"first_stroke"`          // the first pieces are scaled
	LastStroke  unit.Duration   `json:"last_stroke"`           // the last are
	LastOut     unit.Duration   `json:"last_out"`              // the last pieces leave the overhead proofer
	FirstOven   unit.Duration   `json:"first_oven"`            // the first are through the final proof
	LastOven    unit.Duration   `json:"last_oven"`             // the last are
	Ready       unit.Duration   `json:"ready"`                 // all of it is baked, cooled and packed
	Due         unit.Duration   `json:"due,omitzero"`          // as given
	Late        unit.Duration   `json:"late,omitzero"`         // after its due time
	Strokes     unit.StrokeRate `json:"strokes"`               // speed of the divider
	Limit       string          `json:"limit"`                 // what limits that speed
	CarriedOver []string        `json:"carried_over,omitzero"` // allergens of the order before that it does not contain
	Conditions  Conditions      `json:"conditions"`            // late, and of the changeover carried-over, allergens-unknown, nothing-cleaned, not-proven
	Cautions    reckon.Cautions `json:"cautions"`              // of the plan and of the changeover, for whose steps ask line-plan and changeover: moving-machinery, interlocks, locked-out, flour-dust, oil-slip, lifting, allergens, moving-belt, running-drive, roller-nip, cleaning, stamper-cover, wheels
}

// StoreDraw is what is drawn of one ingredient.
type StoreDraw struct {
	Name string    `json:"name"` // as in the formulas
	Mass unit.Mass `json:"mass"` // for all orders, each batch weighed to the scale
}

// DayBar is one bar of a chart of the day.
type DayBar struct {
	Row   string        `json:"row"`   // "mixer", "changeover", "divider", "overhead proofer", "final proof", "oven" or "packing"
	Order string        `json:"order"` // whose; for a changeover, the next
	Start unit.Duration `json:"start"` // from midnight
	End   unit.Duration `json:"end"`   // from midnight
}

// DayRemedies is what would meet every due time. Each is enough alone.
type DayRemedies struct {
	StartEarlier unit.Duration `json:"start_earlier"`      // by so much, with the orders made as in order
	StartAt      unit.Duration `json:"start_at"`           // then; below 0 it is the day before
	Order        []string      `json:"order"`              // the order in which that is enough
	LeaveOut     []string      `json:"leave_out,omitzero"` // orders of which one, left out or made elsewhere, lets all others be in time
	Faster       unit.Percent  `json:"faster,omitzero"`    // by so much faster, every run in that order, if changeovers and waits stay as they are; left out if no speed is enough
}

// DayPlanResult is the day.
type DayPlanResult struct {
	Runs        []DayRun        `json:"runs"`                           // in the order to make them
	Total       OrderTotal      `json:"total" sym:"1"`                  // of this order; the finish is the line's
	Least       OrderTotal      `json:"least" sym:"0"`                  // no order has less of any of these, each taken alone
	Ready       unit.Duration   `json:"ready" sym:"-"`                  // when all is ready, from midnight
	Store       []StoreDraw     `json:"store"`                          // what to draw from the store, water and ice included
	Drawn       unit.Mass       `json:"drawn" sym:"S"`                  // all of that
	Ice         unit.Mass       `json:"ice,omitzero" sym:"-"`           // how much of the water of the final mixes is ice
	Dusting     unit.Mass       `json:"dusting,omitzero" sym:"-"`       // dusting flour beside that, if the line counts it
	RacksAtOnce int             `json:"racks_at_once,omitzero" sym:"-"` // most racks or boxes that are taken at once, filling and handling counted, if the final proof is planned
	Remedies    DayRemedies     `json:"remedies,omitzero" sym:"-"`      // what would meet every due time, if one is not met
	Chart       []DayBar        `json:"chart"`                          // the day as bars, by their starts
	Conditions  Conditions      `json:"conditions"`                     // late, not-proven, racks-short, carried-over, allergens-unknown, nothing-cleaned
	Cautions    reckon.Cautions `json:"cautions"`                       // those of all runs: moving-machinery, interlocks, locked-out, flour-dust, oil-slip, lifting, allergens, moving-belt, running-drive, roller-nip, cleaning, stamper-cover, wheels
}

// day is a day that is planned.
type day struct {
	q        *DayPlan
	cl       *Commissioned
	c        *reckon.Checks
	runs     []dayRun
	sequence *sequence
	limits   [][]string // what each gap waits for
	known    map[jobList]unit.Duration
	found    found
}

// dayRun is one order on a clock that starts with its first mixing.
type dayRun struct {
	clock               Clock
	plan                PlanResult
	ran                 ran
	firstOven, lastOven unit.Duration
	tail                int64 // from the last stroke until it is ready
}

// plan plans each order for itself.
func (d *day) plan() {
	for i := range d.runs {
		r, o, at := &d.runs[i], &d.q.Orders[i], "orders["+strconv.Itoa(i)+"]"
		r.clock = Clock{Line: d.q.Line, Order: o.asBaked(), Shift: d.q.Shift}
		if err := d.cl.PlanInto(&r.plan, &r.clock.Order, &d.q.Shift, nil); err != nil {
			nestPlan(d.c, at, err)
			continue
		}
		r.clock.Order.Product.Baking.Time = o.baking()
		r.ran = ran{q: &r.clock, plan: &r.plan}
		mark := d.c.Mark()
		if r.ran.check(d.c, at); d.c.Mark() > mark {
			continue
		}
		r.ran.bake()
		r.firstOven, r.lastOven = r.ran.piece(1).Oven, r.ran.piece(r.plan.Batch.PiecesMade).Oven
		r.tail = secondsUp(r.lastOven - r.plan.Times.LastStroke + o.baking() + o.Packing)
	}
}

// connect finds what lies between any two orders, and what is wanted of the order of all.
func (d *day) connect() {
	n := len(d.runs)
	o := newSequence(n, d.q.Aim)
	d.sequence = o
	o.start, o.before = secondsUp(d.q.Start), d.q.before()
	d.limits = make([][]string, n+1)
	for i := range n + 1 {
		d.limits[i] = make([]string, n+1)
		for j := range n + 1 {
			// What lies between two others is wanted too, for when those are left out.
			if i != j && (i == n || j == n || o.before[i]>>j&1 == 0) {
				d.gap(i, j)
			}
		}
	}
	for i := range d.runs {
		t, k := &d.runs[i].plan.Times, &d.q.Orders[i]
		o.time[i], o.weight[i] = secondsUp(t.LastStroke-t.FirstStroke), int64(max(1, k.Weight))
		if k.Due != 0 {
			o.due[i] = secondsDown(k.Due) - d.runs[i].tail
		}
	}
}

// gap finds what lies between two orders; n is the line before and after the day.
func (d *day) gap(i, j int) {
	n, o := len(d.runs), d.sequence
	takes, given := d.given(i, j)
	if !given && i < n && j < n {
		takes = d.takes(i, j)
	}
	o.change[i][j], d.limits[i][j] = secondsUp(takes), "changeover"
	o.gap[i][j] = o.change[i][j]
	longer := func(gap unit.Duration, limit string) {
		if s := secondsUp(gap); s > o.gap[i][j] {
			o.gap[i][j], d.limits[i][j] = s, limit
		}
	}
	if j == n {
		return
	}
	next := &d.runs[j]
	if i == n {
		longer(next.plan.Times.FirstStroke, "mixer")
		return
	}
	last, a, b := &d.runs[i], &d.q.Orders[i], &d.q.Orders[j]
	longer(d.q.Shift.Mixer.Cycle+next.plan.Times.FirstStroke-(last.plan.Times.LastStroke-last.plan.Times.LastMix), "mixer")
	if a.baking() == 0 {
		return
	}
	// Counted from the last stroke of the one and from the first of the other.
	first := next.firstOven - next.plan.Times.FirstStroke
	longer(last.lastOven-last.plan.Times.LastStroke-first, "oven")
	if a.bakedOtherwise(b) {
		longer(last.ran.baked()-last.plan.Times.LastStroke-first+d.q.OvenReset, "oven")
	}
	longer(next.ran.behind(&last.ran)+next.plan.Times.FirstStroke-last.plan.Times.LastStroke, "oven")
}

// bakedOtherwise reports whether the oven is reset between two orders.
func (o *DayOrder) bakedOtherwise(next *DayOrder) bool {
	return o.baking() != next.baking() || o.BakeTemp != next.BakeTemp
}

// asBaked is the order with the day's time in the oven, where the oven is planned: it takes more or fewer pieces then.
func (o *DayOrder) asBaked() Order {
	order := o.Order
	if order.Product.Baking.PerLoad > 0 {
		order.Product.Baking.Time = o.baking()
	}
	return order
}

// baking is its time in the oven, by the day or by its product.
func (o *DayOrder) baking() unit.Duration {
	if o.Bake != 0 {
		return o.Bake
	}
	return o.Product.Baking.Time
}

// bakes reports whether it goes through the oven; how long, if nothing is wrong with that, is [DayOrder.baking].
func (o *DayOrder) bakes() bool { return o.Bake != 0 || o.Product.Baking != (Baking{}) }

// given returns the changeover that was given.
func (d *day) given(i, j int) (unit.Duration, bool) {
	var before, next string
	if i < len(d.runs) {
		before = d.q.Orders[i].Name
	}
	if j < len(d.runs) {
		next = d.q.Orders[j].Name
	}
	for _, g := range d.q.Changeovers {
		if g.Before == before && g.Next == next {
			return g.Time, true
		}
	}
	if before != "" && next != "" {
		return d.q.Changeover, d.q.Changeover != 0
	}
	return 0, false
}

// takes is how long the changeover from one order to another takes by the line's controls. Many
// pairs of a day have the same steps: they are put into order once.
func (d *day) takes(i, j int) unit.Duration {
	var out ChangeoverResult
	b, err := d.cl.changes(&out, d.planned(i), d.planned(j), d.q.People)
	if err != nil {
		nestPlan(d.c, "orders["+strconv.Itoa(i)+"]", err)
		return 0
	}
	s := b.search(d.q.People, nil)
	same := jobList{s.n, s.time, s.takes, s.after}
	takes, known := d.known[same]
	if !known {
		takes, _ = s.run()
		d.known[same] = takes
	}
	return takes
}

// jobList is the steps of a changeover, as far as their order depends on them.
type jobList struct {
	n     int
	time  [mostJobs]float64
	takes [mostJobs]int
	after [mostJobs]uint64
}

func (d *day) planned(i int) *Planned {
	return &Planned{Order: &d.q.Orders[i].Order, Plan: d.runs[i].plan}
}

// write writes down the day in the order found.
func (d *day) write(out *DayPlanResult, dst []DayRun) {
	out.Total, out.Least, out.Conditions = d.found.tally.total(), d.found.least.total(), d.found.conditions()
	t, last := tally{line: d.sequence.start}, len(d.runs)
	for _, j := range d.found.order {
		before := t.line
		t = d.sequence.step(t, last, j)
		r := d.run(last, j, before)
		out.Ready = max(out.Ready, r.Ready)
		out.Conditions |= r.Conditions &^ (Late | NotProven)
		out.Cautions |= r.Cautions
		dst = append(dst, r)
		last = j
	}
	out.Runs = dst
	runs := dst[len(dst)-len(d.runs):]
	d.store(out)
	d.racks(out, runs)
	d.chart(out, runs)
	if d.found.tally.late > 0 {
		out.Remedies = d.remedies()
	}
}

// run is order j after order i, whose last stroke is at before.
func (d *day) run(i, j int, before int64) DayRun {
	o, p, q := d.sequence, &d.runs[j], &d.q.Orders[j]
	t := &p.plan.Times
	first := before + o.gap[i][j]
	r := DayRun{
		Name: q.Name, Pieces: p.plan.Batch.PiecesMade, Due: q.Due, Strokes: p.plan.Strokes, Limit: p.plan.StrokesLimit,
		Changeover: unit.Duration(o.change[i][j]), Gap: unit.Duration(o.gap[i][j]), GapLimit: d.limits[i][j],
		FirstStroke: unit.Duration(first), LastStroke: unit.Duration(first + o.time[j]),
		Cautions: p.plan.Cautions | p.plan.Weigh.Cautions,
	}
	mix := r.FirstStroke - t.FirstStroke
	for b := 1; b <= p.plan.Batch.Batches; b++ {
		k := p.ran.batch(b)
		r.Batches = append(r.Batches, mix+k.Mix)
		if b == 1 {
			for _, f := range k.Preferments {
				r.Preferments = append(r.Preferments, PrefermentDue{f.Name, mix + f.Start})
			}
		}
	}
	r.LastOut, r.FirstOven, r.LastOven = mix+t.LastOut, mix+p.firstOven, mix+p.lastOven
	r.Ready = r.LastStroke + unit.Duration(p.tail)
	if q.Due != 0 {
		if by := r.Ready - unit.Duration(secondsDown(q.Due)); by > 0 {
			r.Late = by
			r.Conditions |= Late
		}
	}
	if i == len(d.runs) {
		return r
	}
	var k ChangeoverResult
	if _, given := d.given(i, j); !given {
		k, _ = d.cl.Between(d.planned(i), d.planned(j), &d.q.Shift, d.q.People, nil)
	} else {
		k.compare(&d.q.Orders[i].Product, &q.Product)
	}
	r.CarriedOver = k.CarriedOver
	r.Conditions |= k.Conditions
	r.Cautions |= k.Cautions
	return r
}

// store adds up what is drawn, each batch as its scales weigh it.
func (d *day) store(out *DayPlanResult) {
	draw := func(name string, m unit.Mass, batches int) {
		m = unit.Mass(float64(m) * float64(batches))
		i := slices.IndexFunc(out.Store, func(s StoreDraw) bool { return s.Name == name })
		if i < 0 {
			i = len(out.Store)
			out.Store = append(out.Store, StoreDraw{Name: name})
		}
		out.Store[i].Mass += m
		out.Drawn += m
	}
	for i := range d.runs {
		p, b := &d.runs[i].plan, d.runs[i].plan.Batch.Batches
		d.eachDrawn(i, func(_ int, name string, m unit.Mass) { draw(name, m, b) })
		out.Ice += unit.Mass(float64(p.IceToWeigh) * float64(b))
		for k := range p.Dusting {
			out.Dusting += p.Dusting[k].Flour.PerRun
		}
	}
}

// eachDrawn visits what each batch of an order takes from the store, counted from 1.
func (d *day) eachDrawn(i int, draw func(k int, name string, m unit.Mass)) {
	p, n := &d.runs[i].plan, 0
	formula := d.q.Orders[i].Product.Formula
	for k := range formula {
		name := formula[k].Name
		if len(p.Split.Parts) == 0 {
			n++
			draw(n, name, p.Weigh.Parts[k].Mass)
		}
		for _, part := range p.Split.Parts {
			if part.Name == name {
				n++
				draw(n, name, part.Mass)
			}
		}
	}
}

// racks counts how many racks or boxes are taken at once.
func (d *day) racks(out *DayPlanResult, runs []DayRun) {
	var spans []rackSpan
	names := d.q.names()
	for k := range runs {
		r := d.runs[slices.Index(names, runs[k].Name)].ran
		r.start = runs[k].Batches[0]
		spans = r.racks(spans)
	}
	use := rackUse(spans, d.q.Line.FinalProof.Available, false)
	if out.RacksAtOnce = use.Most; use.ShortBy > 0 {
		out.Conditions |= RacksShort
	}
}

// chart lists the bars of the day.
func (d *day) chart(out *DayPlanResult, runs []DayRun) {
	names, end := d.q.names(), d.q.Start
	bar := func(row string, r *DayRun, from, to unit.Duration) {
		if to > from {
			out.Chart = append(out.Chart, DayBar{row, r.Name, from, to})
		}
	}
	for k := range runs {
		r := &runs[k]
		o := &d.q.Orders[slices.Index(names, r.Name)]
		for _, mix := range r.Batches {
			bar("mixer", r, mix, mix+d.q.Shift.Mixer.Mixing)
		}
		bar("changeover", r, end, end+r.Changeover)
		bar("divider", r, r.FirstStroke, r.LastStroke)
		bar("overhead proofer", r, r.FirstStroke, r.LastOut)
		if stay := o.Product.FinalStay; stay > 0 {
			bar("final proof", r, r.FirstOven-stay, r.LastOven)
		}
		if o.baking() > 0 {
			bar("oven", r, r.FirstOven, r.LastOven+o.baking())
		}
		bar("packing", r, r.Ready-o.Packing, r.Ready)
		end = r.LastStroke
	}
	slices.SortStableFunc(out.Chart, func(a, b DayBar) int { return cmp.Compare(a.Start, b.Start) })
}
