package main

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/testdata"
)

// cards is everything that is printed, in the order in which it is needed.
type cards struct {
	Title   string
	Paper   string
	Defer   string
	Day     *dayPage
	Sheets  []sheet
	Notes   []string
	Refused bool // an order cannot be made as asked
}

// sheet is a product, or the changeover to the next.
type sheet struct {
	ID     string
	Head   string // stands at the top of each of its pages
	Card   *card
	Change *changePage
}

// shop is what the cards are about.
type shop struct {
	scenario line.Scenario
	book     line.RunBook
	day      line.DayPlanResult
	numbers  []int  // of its runs, the numbers of their cards
	named    bool   // the day has names of its own for its orders
	noDay    string // why there is no day, "" if there is one
	people   int
	units    unit.System
	drawn    int // drawings so far: each has a name of its own
}

// id names the next drawing.
func (s *shop) id() string {
	s.drawn++
	return "d" + strconv.Itoa(s.drawn)
}

// cards solves everything that is asked.
func (o *options) cards() (*cards, error) {
	s := &shop{people: o.people, units: o.units}
	plans, err := o.read(s)
	if err != nil {
		return nil, err
	}
	if o.runs != "" {
		data, err := intake.Read(o.runs)
		if err != nil {
			return nil, err
		}
		if s.book, err = line.ReadRunBook(data); err != nil {
			return nil, fmt.Errorf("%s: %w", o.runs, err)
		}
	}
	out := &cards{Title: s.scenario.Title, Paper: "A4", Defer: reckon.CautionDeference}
	if o.paper == "letter" {
		out.Paper = "letter"
	}
	if s.noDay == "" {
		out.Day = s.dayPage()
	} else {
		out.Notes = append(out.Notes, s.noDay)
	}
	if s.scenario.Line.Changing.Stop == 0 && len(plans) > 1 {
		out.Notes = append(out.Notes, "The line does not say how it is changed over, so no changeover is printed.")
	}
	running := -1 // the order that the line is set to
	for i := range plans {
		name := plans[i].Order.Product.Name
		if plans[i].Refused == nil && running >= 0 && s.scenario.Line.Changing.Stop > 0 {
			change, err := s.changePage(&plans[running], &plans[i])
			if err != nil {
				return nil, err
			}
			change.Before, change.Next = running+1, i+1
			out.add(fmt.Sprintf("Change over to %d  %s", i+1, name), nil, change)
		}
		card, err := s.card(i+1, &plans[i])
		if err != nil {
			return nil, err
		}
		out.add(fmt.Sprintf("%d  %s", i+1, name), card, nil)
		if plans[i].Refused != nil {
			out.Refused = true
			continue
		}
		running = i
	}
	return out, nil
}

func (c *cards) add(head string, card *card, change *changePage) {
	c.Sheets = append(c.Sheets, sheet{ID: "s" + strconv.Itoa(len(c.Sheets)+1), Head: head, Card: card, Change: change})
}

// read reads the scenario or the day, and plans it.
func (o *options) read(s *shop) ([]line.Planned, error) {
	if o.day != "" {
		return s.readDay(o.day)
	}
	var data []byte
	var err error
	switch {
	case o.scenario != "":
		data, err = intake.Read(o.scenario)
	case o.demo == "alder":
		data, err = testdata.Scenario("alder.json")
	default:
		data, err = testdata.Scenario("demo.json")
	}
	if err != nil {
		return nil, err
	}
	if s.scenario, err = line.ReadScenario(data); err != nil {
		return nil, err
	}
	plans, err := s.scenario.PlanAll()
	if err != nil {
		return nil, reckon.AsTyped(err, &s.scenario, data)
	}
	return plans, s.inOrder(plans, o.start)
}

// readDay reads a question to day-plan. The orders are made in the order that it finds.
func (s *shop) readDay(file string) ([]line.Planned, error) {
	data, err := intake.Read(file)
	if err != nil {
		return nil, err
	}
	q, err := reckon.Decode[line.DayPlan](line.DayPlan{}.ID(), data)
	if err != nil {
		return nil, err
	}
	s.people, s.named = q.People, true
	s.scenario = line.Scenario{Title: q.Line.Name, Line: q.Line, Shift: q.Shift}
	s.day, err = q.Solve()
	if len(reckon.InputErrors(err)) > 0 {
		return nil, reckon.AsTyped(err, q, data)
	}
	byName := map[string]*line.Order{}
	for i := range q.Orders {
		byName[q.Orders[i].Name] = &q.Orders[i].Order
	}
	for i, r := range s.day.Runs {
		s.scenario.Orders = append(s.scenario.Orders, *byName[r.Name])
		s.numbers = append(s.numbers, i+1)
	}
	if err != nil { // not as asked
		s.noDay = "There is no chart of the day: " + err.Error()
		for i := range q.Orders {
			s.scenario.Orders = append(s.scenario.Orders, q.Orders[i].Order)
		}
	}
	return s.scenario.PlanAll()
}

// inOrder plans the day with the orders as the scenario has them, without those that cannot be made.
func (s *shop) inOrder(plans []line.Planned, start unit.Duration) error {
	q := line.DayPlan{
		Line: s.scenario.Line, Shift: s.scenario.Shift,
		DayTerms: line.DayTerms{Start: start, People: s.people, Aim: line.EarliestFinish, Allergens: line.CleanedBetween},
	}
	for i := range plans {
		if plans[i].Refused != nil {
			continue
		}
		o := line.DayOrder{Name: strconv.Itoa(i+1) + " " + plans[i].Order.Product.Name, Order: *plans[i].Order}
		if n := len(q.Orders); n > 0 {
			o.After = []string{q.Orders[n-1].Name}
		}
		q.Orders = append(q.Orders, o)
		s.numbers = append(s.numbers, i+1)
	}
	switch {
	case len(q.Orders) == 0:
		s.noDay = "There is no chart of the day, since no order can be made as asked."
		return nil
	case len(q.Orders) > 1 && s.scenario.Line.Changing.Stop == 0:
		s.noDay = "There is no chart of the day, since the line does not say how it is changed over."
		return nil
	}
	var err error
	s.day, err = q.Solve()
	if slices.ContainsFunc(reckon.InputErrors(err), func(e *reckon.InputError) bool { return strings.HasPrefix(e.Field, "orders") }) {
		// Each order was planned, so it is the day that cannot hold them: too many, or too many batches.
		s.noDay = "There is no chart of the day: " + err.Error()
		return nil
	}
	return err
}

func (c *cards) write(b *bytes.Buffer) error { return page.Execute(b, c) }
