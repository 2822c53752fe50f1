package line

import (
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Day is what a scenario says of its day. Its orders go by the names of their products.
type Day struct {
	DayTerms
	Orders []DayOf `json:"orders,omitzero" items:"1..60"` // what is asked of single orders; leave out if nothing is
}

// DayOf is what the day asks of one order.
type DayOf struct {
	Product string `json:"product"` // the name of its product, each once
	DayTimes
}

// DayPlan returns the question that [Day] asks about the orders of a scenario whose plans are given, as [Scenario.PlanAll]
// returns them, or about all of them without plans. An order that was refused is left out of the day, and nothing waits for it.
func (s *Scenario) DayPlan(plans []Planned) DayPlan {
	q := DayPlan{Line: s.Line, Shift: s.Shift}
	if s.Day == nil {
		return q
	}
	q.DayTerms = s.Day.DayTerms
	var refused []string
	for i := range s.Orders {
		o := DayOrder{Name: s.Orders[i].Product.Name, Order: s.Orders[i]}
		if i < len(plans) && plans[i].Refused != nil {
			refused = append(refused, o.Name)
			continue
		}
		if j := s.Day.of(o.Name); j >= 0 {
			o.DayTimes = s.Day.Orders[j].DayTimes
		}
		q.Orders = append(q.Orders, o)
	}
	for i := range q.Orders {
		q.Orders[i].After = slices.DeleteFunc(slices.Clone(q.Orders[i].After), func(name string) bool { return slices.Contains(refused, name) })
	}
	q.Changeovers = slices.DeleteFunc(slices.Clone(q.Changeovers), func(g GivenChangeover) bool {
		return slices.Contains(refused, g.Before) || slices.Contains(refused, g.Next)
	})
	return q
}

// of returns the index of what is asked of an order, or -1.
func (d *Day) of(product string) int {
	return slices.IndexFunc(d.Orders, func(o DayOf) bool { return o.Product == product })
}

// PlanDay plans the day of a scenario whose orders were planned. It has no runs if no order can be made, or if the scenario
// has no day.
//
// It returns an *[reckon.InputError] for every value of the day that is missing or impossible, by its path in the scenario.
func (s *Scenario) PlanDay(plans []Planned) (DayPlanResult, error) {
	q := s.DayPlan(plans)
	if len(q.Orders) == 0 {
		return DayPlanResult{}, nil
	}
	out, err := q.Solve()
	return out, s.refusedDay(&q, err)
}

// ClockDay is PlanDay with the same day by the clock, as [DayClock] has it.
func (s *Scenario) ClockDay(plans []Planned) (DayPlanResult, DayClockResult, error) {
	q := s.DayPlan(plans)
	if len(q.Orders) == 0 {
		return DayPlanResult{}, DayClockResult{}, nil
	}
	plan, clock, err := q.ByTheClock()
	return plan, clock, s.refusedDay(&q, err)
}

// refusedDay is what the day refused, under the paths of the scenario.
func (s *Scenario) refusedDay(q *DayPlan, err error) error {
	if err == nil {
		return nil
	}
	c := reckon.Checks{Func: "scenario"}
	s.takeDay(&c, q, err)
	if c.OK() {
		c.Nest("", err)
	}
	return c.Err()
}

// checkDay tells what is wrong with the day, beside the plans of its orders.
func (s *Scenario) checkDay(c *reckon.Checks) {
	if s.Day == nil {
		return
	}
	for i, o := range s.Day.Orders[:min(len(s.Day.Orders), mostRuns)] {
		at := "day.orders[" + strconv.Itoa(i) + "].product"
		switch {
		case !slices.ContainsFunc(s.Orders, func(k Order) bool { return k.Product.Name == o.Product }):
			c.Fail(at, strconv.Quote(unit.Clip(o.Product)), "the name of the product of one of the orders")
		case s.Day.of(o.Product) < i:
			c.Fail(at, strconv.Quote(unit.Clip(o.Product)), "each product once")
		}
	}
	reckon.CheckItems(c, "day.orders", len(s.Day.Orders), mostRuns)
	if len(s.Orders) == 0 {
		return // which is told already
	}
	q := s.DayPlan(nil)
	wrong := reckon.Checks{Func: q.ID()}
	q.check(&wrong, false)
	s.takeDay(c, &q, wrong.Err())
}

// takeDay takes over what the day refused, under the paths of the scenario, each value once.
func (s *Scenario) takeDay(c *reckon.Checks, q *DayPlan, err error) {
	for _, e := range reckon.InputErrors(err) {
		here := *e
		here.Func = c.Func
		here.Field = s.dayPath(q, e.Field)
		if !c.Told(here.Field) {
			c.Nest("", &here)
		}
	}
}

// dayPath turns the path of an input of the day's question into that of the scenario.
func (s *Scenario) dayPath(q *DayPlan, field string) string {
	if strings.HasPrefix(field, "line.") || strings.HasPrefix(field, "shift.") || field == "orders" && len(q.Orders) > mostRuns {
		return field
	}
	number, rest, _ := strings.Cut(strings.TrimPrefix(field, "orders["), "].")
	k, err := strconv.Atoi(number)
	if err != nil {
		return "day." + field
	}
	name := q.Orders[k].Name
	switch {
	case rest == "name":
		rest = "product.name"
	case !strings.HasPrefix(rest, "product.") && rest != "pieces" && rest != "spare":
		if j := s.Day.of(name); j >= 0 {
			return "day.orders[" + strconv.Itoa(j) + "]." + rest
		}
		return "day.orders"
	}
	i := slices.IndexFunc(s.Orders, func(o Order) bool { return o.Product.Name == name })
	if rest == "product.name" { // of two with the same name the second is told
		for j := range s.Orders {
			if s.Orders[j].Product.Name == name {
				i = j
			}
		}
	}
	return "orders[" + strconv.Itoa(i) + "]." + rest
}
