package main

import (
	"fmt"
	"math"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
)

// today is the page for the whole day: what is made when, what is drawn from the store, and what does not go as it should.
func (b *book) today() {
	b.open("THE DAY  "+b.s.Title, b.s.Line.Name)
	shift := &b.s.Shift
	b.scales(shift, b.all()...)
	b.row("Today", "flour %s, room %s, tap %s", b.temp(shift.FlourTemp), b.temp(shift.Room), b.temp(shift.Tap))
	for _, o := range b.orders {
		if o.refused() != nil {
			b.row("NOT AS ASKED", "%s cannot be made as asked: see its page", o.name())
		}
	}
	if b.s.Day == nil {
		b.row("No day", "the orders stand as given and times count from the first mixing of each: a day in the scenario says from when, by whom and until when")
	}
	if len(b.day.Runs) == 0 {
		return
	}
	b.late()
	for _, says := range b.day.Conditions.Sentences() {
		b.row("LOOK AT", "%s", says)
	}
	if b.day.Conditions.Has(line.NotProven) {
		b.row("", "no order has fewer than %d late, or is through on the line before %s", b.day.Least.Late, b.at(b.day.Least.Finish))
	}
	if n := len(b.dayClock.Findings); n > 0 {
		b.row("WAITS", "%d %s: see BY THE CLOCK", n, plural(n, "thing does not go as it should", "things do not go as they should"))
	}
	b.blank()
	widths := []int{3, 20, 8, 8, 8, 8, 8, 10}
	b.block(columns(widths, "", "", "", "first", "first", "last", "into", "", "")...)
	b.block(columns(widths, "", "", "PRODUCT", "MIXING", "STROKE", "STROKE", "OVEN", "READY", "DUE")...)
	for i := range b.day.Runs {
		r := &b.day.Runs[i]
		due := ""
		if r.Due > 0 {
			due = b.at(r.Due)
			if r.Late > 0 {
				due += " LATE"
			}
		}
		b.block(columns(widths, "", fmt.Sprintf("%3d", i+1), r.Name, b.at(r.Batches[0]), b.at(r.FirstStroke), b.at(r.LastStroke), b.at(r.FirstOven), b.at(r.Ready), due)...)
	}
	b.blank()
	for i := 1; i < len(b.day.Runs); i++ {
		r := &b.day.Runs[i]
		wait := ""
		if r.Gap > r.Changeover {
			wait = "; the " + r.GapLimit + " keeps it waiting until " + b.at(r.FirstStroke)
		}
		b.row("Change over", "to %s: %s from %s, %d people%s", r.Name, b.minutes(r.Changeover), b.at(b.day.Runs[i-1].LastStroke), b.s.Day.People, wait)
	}
	if b.day.RacksAtOnce > 0 {
		have := ""
		if n := b.s.Line.FinalProof.Available; n > 0 {
			have = fmt.Sprintf(" of %d", n)
		}
		b.row("Racks", "%d%s in the final proof at most", b.day.RacksAtOnce, have)
	}
	b.handle()
	b.store()
	b.hazards(b.day.Cautions)
}

// late says what would meet the due times that are not met.
func (b *book) late() {
	if b.day.Total.Late == 0 {
		return
	}
	b.row("LATE", "%d of %d orders, by %s in all", b.day.Total.Late, len(b.day.Runs), b.minutes(b.day.Total.Lateness))
	k := &b.day.Remedies
	b.row("", "in time if the day starts %s earlier, at %s, in the order %s", b.minutes(k.StartEarlier), b.at(k.StartAt), strings.Join(k.Order, ", "))
	if len(k.LeaveOut) > 0 {
		b.row("", "or without one of these: %s", strings.Join(k.LeaveOut, ", "))
	}
	if k.Faster > 0 {
		b.row("", "or if every run were %.1f %% faster", float64(k.Faster))
	}
}

// handle says what it comes to that no mark gives quite what is wanted.
func (b *book) handle() {
	var list []string
	for _, o := range b.orders {
		if k := &o.plan().Band; o.refused() == nil && k.OffsetDough != 0 {
			more := " more"
			if k.OffsetDough < 0 {
				more = " less"
			}
			list = append(list, o.name()+" takes "+b.weight(unit.Mass(math.Abs(float64(k.OffsetDough))))+more)
		}
	}
	if list != nil {
		b.row("Handle", "as near as its steps come to the weights wanted: %s", listed(list))
	}
}

// store is what is drawn for the whole day.
func (b *book) store() {
	b.blank()
	water := ""
	if b.day.Ice > 0 {
		water = ", " + b.weight(b.day.Ice) + " of the water as ice"
	}
	b.row("STORE", "draw %s in all%s", b.weight(b.day.Drawn), water)
	cell := func(name string, m unit.Mass) []string { return []string{name, padLeft(b.weight(m), 17), ""} }
	for i := 0; i < len(b.day.Store); i += 2 {
		cells := cell(b.day.Store[i].Name, b.day.Store[i].Mass)
		if i+1 < len(b.day.Store) {
			cells = append(cells, cell(b.day.Store[i+1].Name, b.day.Store[i+1].Mass)...)
		}
		b.block(columns([]int{18, 17, 2, 18, 17, 1}[:len(cells)], "  ", cells...)...)
	}
	if b.day.Dusting > 0 {
		b.block(columns([]int{18, 17}, "  ", "dusting flour", padLeft(b.weight(b.day.Dusting), 17))...)
	}
}
