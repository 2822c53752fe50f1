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
	plans    []line.Planned // in the order of the cards
	book     line.RunBook
	day      line.DayPlanResult
	clock    line.DayClockResult // the same day by the clock
	numbers  []int               // of its runs, the numbers of their cards
	named    bool                // the day has names of its own for its orders
	noDay    string              // why there is no day, "" if there is one
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
	s := &shop{units: o.units}
	if err := o.read(s); err != nil {
		return nil, err
	}
	plans := s.plans
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
func (o *options) read(s *shop) error {
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
		return err
	}
	if s.scenario, err = line.ReadScenario(data); err != nil {
		return err
	}
	plans, err := s.scenario.PlanAll()
	if err != nil {
		return reckon.AsTyped(err, &s.scenario, reckon.Filled(data))
	}
	if s.scenario.Day != nil {
		return s.byItsDay(plans, o)
	}
	return s.asGiven(plans, o)
}

// readDay reads a question to day-plan. The orders are made in the order that it finds.
func (s *shop) readDay(file string) error {
	data, err := intake.Read(file)
	if err != nil {
		return err
	}
	q, err := reckon.Decode[line.DayPlan](line.DayPlan{}.ID(), data)
	if err != nil {
		return err
	}
	s.people, s.named = q.People, true
	s.scenario = line.Scenario{Title: q.Line.Name, Line: q.Line, Shift: q.Shift}
	names := make([]string, len(q.Orders))
	for i := range q.Orders {
		names[i] = q.Orders[i].Name
		s.scenario.Orders = append(s.scenario.Orders, q.Orders[i].Order)
	}
	s.day, s.clock, err = q.ByTheClock()
	if len(reckon.InputErrors(err)) > 0 {
		return reckon.AsTyped(err, q, data)
	}
	if err != nil { // not as asked
		s.noDay = "There is no chart of the day: " + err.Error()
	}
	plans, err := s.scenario.PlanAll()
	s.inOrder(plans, names)
	return err
}

// byItsDay makes the orders in the order that the scenario's day finds, from when and by whom it says, unless a person says otherwise.
func (s *shop) byItsDay(plans []line.Planned, o *options) (err error) {
	terms := *s.scenario.Day
	if o.given["start"] {
		terms.Start = o.start
	}
	if o.given["people"] {
		terms.People = o.people
	}
	s.scenario.Day, s.people = &terms, terms.People
	if s.day, s.clock, err = s.scenario.ClockDay(plans); err != nil {
		return err
	}
	names := make([]string, len(plans))
	for i := range plans {
		names[i] = plans[i].Order.Product.Name
	}
	s.inOrder(plans, names)
	if len(s.day.Runs) == 0 {
		s.noDay = noOrder
	}
	return nil
}

// inOrder puts the plans into the order in which the day makes them, and those that it leaves out behind them.
func (s *shop) inOrder(plans []line.Planned, names []string) {
	made := make([]bool, len(plans))
	for i := range s.day.Runs {
		k := slices.Index(names, s.day.Runs[i].Name)
		made[k] = true
		s.plans, s.numbers = append(s.plans, plans[k]), append(s.numbers, i+1)
	}
	for k := range plans {
		if !made[k] {
			s.plans = append(s.plans, plans[k])
		}
	}
}

// noOrder is why there is no day.
const noOrder = "There is no chart of the day, since no order can be made as asked."

// What a scenario without a day is taken to start at and to be changed over by.
const (
	usualStart  = unit.Duration(5 * 3600)
	usualPeople = 2
)

// asGiven plans a day with the orders as the scenario has them, without those that cannot be made.
func (s *shop) asGiven(plans []line.Planned, o *options) error {
	start, people := usualStart, usualPeople
	if o.given["start"] {
		start = o.start
	}
	if o.given["people"] {
		people = o.people
	}
	s.plans, s.people = plans, people
	q := line.DayPlan{
		Line: s.scenario.Line, Shift: s.scenario.Shift,
		DayTerms: line.DayTerms{Start: start, People: people, Aim: line.EarliestFinish, Allergens: line.CleanedBetween},
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
		s.noDay = noOrder
		return nil
	case len(q.Orders) > 1 && s.scenario.Line.Changing.Stop == 0:
		s.noDay = "There is no chart of the day, since the line does not say how it is changed over."
		return nil
	}
	var err error
	s.day, s.clock, err = q.ByTheClock()
	if slices.ContainsFunc(reckon.InputErrors(err), func(e *reckon.InputError) bool { return strings.HasPrefix(e.Field, "orders") }) {
		// Each order was planned, so it is the day that cannot hold them: too many, or too many batches.
		s.noDay = "There is no chart of the day: " + err.Error()
		return nil
	}
	return err
}

func (c *cards) write(b *bytes.Buffer) error { return page.Execute(b, c) }
