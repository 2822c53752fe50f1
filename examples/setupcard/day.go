package main

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/drawing"
)

// dayPage is the day by station and time, order by order, and by the clock.
type dayPage struct {
	Drawing template.HTML
	Runs    []dayRun
	Facts   []fact
	LookAt  []string
	Due     bool // an order has a due time
	Clock   *clockPage
}

// dayRun is one order of the day.
type dayRun struct {
	Number                       int
	Name, Called, Pieces         string
	Mixing, Divider, Oven, Ready string // by the clock on the wall
	Due, Late, Wait              string
}

// place is where a station stands in the chart: as dough passes them, what is not known here last.
func place(station string) int {
	stations := [...]string{startedAhead, "mixer", "changeover", "divider", "overhead proofer", "final proof", "oven", "packing"}
	if i := slices.Index(stations[:], station); i >= 0 {
		return i
	}
	return len(stations)
}

// dayPage draws the day. The orders have the numbers of their cards.
func (s *shop) dayPage() *dayPage {
	d := &s.day
	c := &dayPage{LookAt: (d.Conditions &^ line.NotProven).Sentences(), Facts: s.dayFacts(), Clock: s.clockPage()}
	chart := drawing.Day{ID: s.id(), Title: "The day by station and time"}
	numbers := map[string]int{}
	for i := range d.Runs {
		r := &d.Runs[i]
		n := s.numbers[i]
		numbers[r.Name] = n
		run := dayRun{
			Number: n, Name: s.plans[n-1].Order.Product.Name, Pieces: strconv.Itoa(r.Pieces),
			Mixing: wall(r.Batches[0]) + ", one batch", Divider: span(r.FirstStroke, r.LastStroke), Oven: span(r.FirstOven, r.LastOven),
			Ready: wall(r.Ready), Wait: r.Gap.In(s.units) + " for the " + r.GapLimit,
		}
		if n := len(r.Batches); n > 1 {
			run.Mixing = span(r.Batches[0], r.Batches[n-1]) + ", " + strconv.Itoa(n) + " batches"
		}
		if s.named {
			run.Called = r.Name
		}
		if i == 0 {
			run.Wait = ""
		}
		if r.Due > 0 {
			c.Due, run.Due = true, wall(r.Due)
			chart.Due = append(chart.Due, drawing.Due{Order: n, At: hours(r.Due), Late: r.Late > 0})
		}
		if r.Late > 0 {
			run.Late = "late by " + r.Late.In(s.units)
		}
		c.Runs = append(c.Runs, run)
	}
	for i := range s.clock.Runs {
		for _, b := range aheadBars(&s.clock.Runs[i].Clock) {
			b.Order = s.numbers[i]
			chart.Bars = append(chart.Bars, b)
			chart.Rows = []string{startedAhead}
		}
	}
	for _, b := range d.Chart {
		chart.Bars = append(chart.Bars, drawing.Bar{Row: b.Row, Order: numbers[b.Order], Start: hours(b.Start), End: hours(b.End)})
		if !slices.Contains(chart.Rows, b.Row) {
			chart.Rows = append(chart.Rows, b.Row)
		}
	}
	slices.SortStableFunc(chart.Rows, func(a, b string) int { return place(a) - place(b) })
	c.Drawing = chart.Draw()
	return c
}

// dayFacts are what stands above the chart.
func (s *shop) dayFacts() []fact {
	d := &s.day
	list := []fact{{"Ready", "all of it at " + wall(d.Ready)}}
	if d.Total.Late > 0 {
		list = append(list, fact{"Late", fmt.Sprintf("%d of %d orders; whatever comes first, it is %d at least", d.Total.Late, len(d.Runs), d.Least.Late)})
	}
	if r := &d.Remedies; r.StartEarlier > 0 {
		list = append(list, fact{"To be in time", fmt.Sprintf("start %s earlier, at %s, and make them in the order %s", r.StartEarlier.In(s.units), wall(r.StartAt), strings.Join(r.Order, ", "))})
		if len(r.LeaveOut) > 0 {
			list = append(list, fact{"or", "leave out one of these: " + strings.Join(r.LeaveOut, ", ")})
		}
		if r.Faster > 0 {
			list = append(list, fact{"or", "run all of them " + r.Faster.In(s.units) + " faster, if machines and dough allow it"})
		}
	}
	if s.named && d.Conditions.Has(line.NotProven) {
		list = append(list, fact{"Order", "good, but a better one was not ruled out: none is through on the line before " + wall(d.Least.Finish)})
	}
	if d.RacksAtOnce > 0 {
		list = append(list, fact{"Final proof", s.racks()})
	}
	return list
}

func hours(d unit.Duration) float64 { return float64(d) / 3600 }

// wall is what the clock on the wall shows, to the minute, and the day if it is another than that of the start: day 2 is
// the day after.
func wall(d unit.Duration) string {
	text, day := d.TimeOfDay(unit.Metric)
	switch {
	case day == -1:
		text += " the day before"
	case day != 0:
		text += fmt.Sprintf(" day %d", day+1)
	}
	return text
}

// span is from one time to another: the day is told once where it is the same.
func span(from, to unit.Duration) string {
	a, b := wall(from), wall(to)
	at, day, _ := strings.Cut(a, " ")
	if _, other, _ := strings.Cut(b, " "); day == other {
		a = at
	}
	return a + " to " + b
}
