package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/tabular"
	"example.com/dough/molder"
)

// A book is all that is printed for a scenario: the day, each product at the line and in the mixing room, the changeovers
// between them, and how to take care.
type book struct {
	paper
	instruments
	s        *line.Scenario
	orders   []*made             // in the order of making, those that cannot be made at the end
	day      line.DayPlanResult  // without runs if the scenario has no day
	dayClock line.DayClockResult // the same by the clock
	care     []molder.PartCareResult
}

// made is one order with all that its pages say.
type made struct {
	planned  *line.Planned
	place    string // such as "2 of 4"
	settings line.ControlSettingsResult
	clock    line.ClockResult
	run      *line.DayRun           // nil without a day
	known    *line.KnownGoodResult  // nil without good runs before
	before   *made                  // what the line made before it, nil for the first
	change   *line.ChangeoverResult // from that
	working  *reckon.Working        // nil if it is not wanted
}

func (o *made) name() string           { return o.planned.Order.Product.Name }
func (o *made) order() *line.Order     { return o.planned.Order }
func (o *made) plan() *line.PlanResult { return &o.planned.Plan }
func (o *made) refused() error         { return o.planned.Refused }

// lastStroke is when the last pieces of the order are scaled.
func (o *made) lastStroke() unit.Duration {
	return o.clock.Batches[len(o.clock.Batches)-1].LastCut
}

// gather plans a scenario and finds all that its pages say. records are those of the shop.
func gather(s *line.Scenario, records *line.RunBook, units unit.System, explain bool) (*book, error) {
	working := make([]*reckon.Working, len(s.Orders))
	if explain {
		for i := range working {
			working[i] = new(reckon.Working)
		}
	}
	plans, err := s.ExplainAll(working)
	if err != nil {
		return nil, err
	}
	b := &book{instruments: newInstruments(s, units), s: s}
	if b.care, err = s.Line.Care(nil); err != nil {
		return nil, err
	}
	if b.day, b.dayClock, err = s.ClockDay(plans); err != nil {
		return nil, err
	}
	for i := range plans {
		o := &made{planned: &plans[i], working: working[i]}
		if o.refused() == nil {
			if err := b.about(o, records); err != nil {
				return nil, err
			}
		}
		b.orders = append(b.orders, o)
	}
	slices.SortStableFunc(b.orders, func(x, y *made) int { return b.turn(x) - b.turn(y) })
	for i, o := range b.orders {
		o.place = fmt.Sprintf("%d of %d", i+1, len(b.orders))
	}
	return b, b.connect()
}

// all are the orders as the scenario has them.
func (b *book) all() (list []*line.Order) {
	for i := range b.s.Orders {
		list = append(list, &b.s.Orders[i])
	}
	return list
}

// turn is when an order is made, among the others.
func (b *book) turn(o *made) int {
	if o.refused() != nil {
		return len(b.s.Orders)
	}
	return max(0, slices.IndexFunc(b.day.Runs, func(r line.DayRun) bool { return r.Name == o.name() }))
}

// about finds what the pages of an order that can be made say beside its plan.
func (b *book) about(o *made, records *line.RunBook) (err error) {
	equipment := b.s.Line
	if len(equipment.Controls) == 0 {
		equipment.Controls = usual(&equipment)
	}
	if o.settings, err = (line.ControlSettings{Line: equipment, Order: *o.order(), Shift: b.s.Shift}).Solve(); err != nil {
		return err
	}
	start := noDay
	if i := slices.IndexFunc(b.day.Runs, func(r line.DayRun) bool { return r.Name == o.name() }); i >= 0 {
		o.run = &b.day.Runs[i]
		start = o.run.Batches[0]
	}
	if o.clock, err = (line.Clock{Line: b.s.Line, Order: *o.order(), Shift: b.s.Shift, Start: start}).Solve(); err != nil {
		return err
	}
	if b.from == 0 || o.clock.Earliest < b.from {
		b.from = o.clock.Earliest
	}
	if runs := records.Of(b.s.Line.Name, o.name()); slices.ContainsFunc(runs, func(r line.RunRecord) bool { return r.Good }) {
		o.known = new(line.KnownGoodResult)
		*o.known, err = line.KnownGood{Line: equipment, Order: *o.order(), Shift: b.s.Shift, Records: runs, Last: lastRuns}.Solve()
	}
	return err
}

// lastRuns is how many good runs are looked at: about as many as a shop remembers.
const lastRuns = 6

// usual names the controls of a line that names none, as such machines have them.
func usual(l *line.Line) []line.Control {
	list := []line.Control{
		{Name: "handle", Machine: "divider", Sets: line.SetsMark, Change: line.Stopped},
		{Name: "speed", Machine: "divider", Sets: line.SetsStrokes, Change: line.Running},
		{Name: "pieces across", Machine: "divider", Sets: line.SetsAcross, Change: line.LockedOut},
		{Name: "drum", Machine: "rounder", Sets: line.SetsDrum, Change: line.LockedOut},
	}
	add := func(has bool, name, machine string, sets line.Sets, change line.When) {
		if has {
			list = append(list, line.Control{Name: name, Machine: machine, Sets: sets, Change: change})
		}
	}
	moulder := l.Moulder != (line.Moulder{})
	add(l.Rounder != (line.Rounder{}), "speed of rounding", "rounder", line.SetsRounderSpeed, line.Running)
	for i, d := range l.Dusters {
		if len(d.Slide) > 0 {
			list = append(list, line.Control{Name: "slide " + strconv.Itoa(i+1), Machine: "duster " + d.Name, Sets: line.SetsSlide, Of: d.Name, Change: line.AnyTime})
		}
	}
	add(true, "way", "proofer outlet", line.SetsRoute, line.Stopped)
	add(l.Stamper != (line.Stamper{}), "stamping", "stamper", line.SetsStampMode, line.AnyTime)
	add(moulder && l.Moulder.First != nil, "first gap", "moulder", line.SetsFirstGap, line.Stopped)
	add(moulder, "last gap", "moulder", line.SetsLastGap, line.Stopped)
	add(moulder && l.Moulder.Chain != nil, "curling chain", "moulder", line.SetsChain, line.LockedOut)
	board := moulder && l.Moulder.Board != nil && l.Moulder.Guides != nil
	add(board, "side guides", "moulder", line.SetsGuides, line.Stopped)
	add(board, "board, entry", "moulder", line.SetsBoardIn, line.Stopped)
	add(board, "board, exit", "moulder", line.SetsBoardOut, line.Stopped)
	return list
}

// write prints the pages.
func (b *book) write(w io.Writer) {
	if len(b.orders) > 1 || b.s.Day != nil {
		b.today()
	}
	b.byTheClock()
	for _, o := range b.orders {
		b.changeover(o)
		b.lineside(o)
		b.room(o)
	}
	b.lastPage()
	b.print(w, b.s.Title)
	for _, o := range b.orders {
		if o.working != nil {
			fmt.Fprintf(w, "\fWORKING  %s\n%s", o.name(), tabular.Harmless(o.working.In(b.units), true))
		}
	}
}
