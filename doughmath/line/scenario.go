package line

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Scenario is one line, one shift and the orders that run on it, one after the other.
type Scenario struct {
	Title  string  `json:"title"`        // for the head of the run sheet
	Line   Line    `json:"line"`         // the equipment
	Shift  Shift   `json:"shift"`        // the day
	Orders []Order `json:"orders"`       // in the order of production; at least one
	Day    *Day    `json:"day,omitzero"` // from when, by whom and until when they are made; leave out if only their plans are wanted
}

// ReadScenario reads a scenario from JSON. Quantities are text with a unit. It may be a form that was filled in:
// see [reckon.Filled].
//
// It returns an *[reckon.InputError], with the JSON path as its field, for
// every unknown name, missing value, missing unit and wrong kind of value, and
// in the same go for what Check finds wrong with the values that could be read.
// If all could be read, only the names are looked at: [Scenario.PlanAll] tells the rest.
func ReadScenario(data []byte) (Scenario, error) {
	s, err := reckon.Decode[Scenario]("scenario", reckon.Filled(data))
	if err != nil {
		return Scenario{}, err
	}
	c := reckon.Checks{Func: "scenario"}
	s.checkNames(&c)
	if err := c.Err(); err != nil {
		return Scenario{}, err
	}
	return *s, nil
}

// Check tells what is wrong with the names, the line, the shift and every order.
func (s *Scenario) Check(c *reckon.Checks) {
	s.checkNames(c)
	f := faults{c: c, told: map[reckon.InputError]bool{}}
	if len(s.Orders) == 0 {
		f.noOrders()
	}
	for i := range s.Orders {
		wrong := reckon.Checks{Func: planID}
		Plan{Line: s.Line, Order: s.Orders[i], Shift: s.Shift}.Check(&wrong)
		f.take(i, wrong.Err())
	}
	s.checkDay(c)
}

// faults gathers what is wrong with the orders. What is wrong with the line or
// the shift is wrong for every order: it is told once.
type faults struct {
	c    *reckon.Checks
	told map[reckon.InputError]bool
}

func (f *faults) noOrders() { f.c.Fail("orders", "empty", "at least one order") }

// take takes over what the plan of an order refused.
func (f *faults) take(order int, err error) {
	for _, e := range reckon.InputErrors(err) {
		here := *e
		here.Field = scenarioPath(e.Field, order)
		if !f.told[here] {
			f.told[here] = true
			f.c.Nest("", &here)
		}
	}
}

// longestName bounds what is printed as one line of a run sheet.
const longestName = 100

// checkNames checks that a run sheet can print every name as it is, and that formulas
// name each ingredient once.
func (s *Scenario) checkNames(c *reckon.Checks) {
	name := func(field, text string) {
		if utf8.RuneCountInString(text) > longestName || strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
			c.Fail(field, strconv.Quote(text[:min(len(text), longestName)]), fmt.Sprintf("up to %d printable characters, without line breaks", longestName))
		}
	}
	name("title", s.Title)
	name("line.name", s.Line.Name)
	for i, k := range s.Line.Divider.Lanes[:min(len(s.Line.Divider.Lanes), mostLanes)] {
		name(fmt.Sprintf("line.divider.lanes[%d].dough", i), k.Dough)
	}
	for i, d := range s.Line.Drums {
		name(fmt.Sprintf("line.drums[%d].name", i), d.Name)
	}
	for i, d := range s.Line.Dusters[:min(len(s.Line.Dusters), mostDusters)] {
		name(fmt.Sprintf("line.flour_dusters[%d].name", i), d.Name)
	}
	for i, b := range s.Line.Belts {
		name(fmt.Sprintf("line.belts[%d].name", i), b.Name)
	}
	if chain := s.Line.Moulder.Chain; chain != nil {
		for i, h := range chain.Heights {
			name(fmt.Sprintf("line.moulder.curling_chain.heights[%d].name", i), h.Name)
		}
	}
	for i, scale := range s.Shift.Scales {
		name(fmt.Sprintf("shift.scales[%d].name", i), scale.Name)
		for j, kept := range scale.For {
			if !slices.ContainsFunc(s.Orders, func(o Order) bool {
				return slices.ContainsFunc(o.Product.Formula, func(g doughmath.Ingredient) bool { return g.Name == kept })
			}) {
				c.Fail(fmt.Sprintf("shift.scales[%d].for[%d]", i, j), strconv.Quote(kept[:min(len(kept), longestName)]), "an ingredient of one of the formulas")
			}
		}
	}
	for i := range s.Orders {
		p, path := &s.Orders[i].Product, fmt.Sprintf("orders[%d].product", i)
		name(path+".name", p.Name)
		name(path+".dough", p.Dough)
		seen := map[string]bool{}
		for j, g := range p.Formula {
			field := fmt.Sprintf("%s.formula[%d].name", path, j)
			name(field, g.Name)
			if seen[g.Name] {
				c.Fail(field, strconv.Quote(unit.Clip(g.Name)), "each ingredient once: add its percentages up, or give the two different names")
			}
			seen[g.Name] = true
		}
		for j, f := range p.Preferments {
			name(fmt.Sprintf("%s.preferments[%d].name", path, j), f.Name)
		}
	}
}

// Planned is one order of a scenario with its plan, or with the reason why it
// cannot be made as asked.
type Planned struct {
	Order   *Order
	Plan    PlanResult
	Refused error // a *[reckon.NoSolutionError], or several joined
}

// PlanAll plans every order of the scenario.
//
// An order that cannot be made as asked is refused in its place, and the
// others are planned. Values that are missing or impossible are returned as
// *[reckon.InputError], of all orders at once, and then nothing is planned.
func (s *Scenario) PlanAll() ([]Planned, error) { return s.ExplainAll(nil) }

// ExplainAll is [Scenario.PlanAll] with the working of each order: working[i]
// is filled for Orders[i] if it is not nil.
func (s *Scenario) ExplainAll(working []*reckon.Working) ([]Planned, error) {
	c := reckon.Checks{Func: "scenario"}
	f := faults{c: &c, told: map[reckon.InputError]bool{}}
	if len(s.Orders) == 0 {
		f.noOrders()
	}
	cl, err := Commission(s.Line)
	f.take(0, err)
	out := make([]Planned, len(s.Orders))
	for i := range s.Orders {
		o := &s.Orders[i]
		out[i].Order = o
		wrong := reckon.Checks{Func: planID}
		q := Plan{Line: s.Line, Order: *o, Shift: s.Shift}
		switch {
		case err != nil:
			// What is wrong with the orders is told in the same go.
			q.Check(&wrong)
		case i < len(working) && working[i] != nil:
			out[i].Plan, out[i].Refused = q.plan(nil, working[i])
		default:
			out[i].Plan, out[i].Refused = cl.Plan(o, &s.Shift, nil)
		}
		f.take(i, wrong.Err())
		f.take(i, out[i].Refused)
	}
	s.checkDay(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// scenarioPath turns the path of a plan's input into that of the scenario.
func scenarioPath(field string, order int) string {
	if rest, ok := strings.CutPrefix(field, "order."); ok {
		return fmt.Sprintf("orders[%d].%s", order, rest)
	}
	return field
}
