package main

import (
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/drawing"
)

// changePage is how the line is changed over from one product to the next.
type changePage struct {
	Before, Next         int // the numbers of their cards
	BeforeName, NextName string
	MendFirst            []string
	Facts                []fact
	LookAt               []string
	Care                 []string
	Drawing              template.HTML
	Steps                []step
}

// step is one line of the list, with a box to tick.
type step struct {
	Number   int
	Start    string // minutes from the last stroke
	Who      string
	Do       string
	Where    string
	Care     []string // what hurts in this step, told where it first comes up
	Critical bool
}

// changePage plans the changeover between two orders.
func (s *shop) changePage(before, next *line.Planned) (*changePage, error) {
	out, err := line.Changeover{Line: s.scenario.Line, Before: *before.Order, Next: *next.Order, Shift: s.scenario.Shift, People: s.people}.Solve()
	if err != nil {
		return nil, err
	}
	c := &changePage{
		BeforeName: before.Order.Product.Name, NextName: next.Order.Product.Name,
		MendFirst: mendFirst(out.Contradictions), Facts: s.changeFacts(&out), LookAt: (out.Conditions &^ (line.NotProven | line.Contradictory)).Sentences(),
		Care: (out.Cautions & always).Sentences(),
	}
	work := drawing.Work{ID: s.id(), Title: "Who does what, " + c.BeforeName + " to " + c.NextName, Zero: "last stroke"}
	told := always
	for i := range out.Steps {
		k := &out.Steps[i]
		c.Steps = append(c.Steps, step{
			Number: i + 1, Start: clock(k.Start), Who: who(k.Who), Do: k.In(s.units), Where: k.Machine, Critical: k.Critical,
			Care: (k.Cautions &^ told).Sentences(),
		})
		told |= k.Cautions
		work.Jobs = append(work.Jobs, drawing.Job{Number: i + 1, Start: minutes(k.Start), End: minutes(k.End), Who: k.Who, Critical: k.Critical})
		switch k.Phase {
		case line.PhaseStop:
			work.From = minutes(k.End)
		case line.PhaseStart:
			work.To = minutes(k.Start)
		}
	}
	if out.Standing > 0 {
		work.Marked = "the line stands, " + out.Standing.In(s.units)
	}
	c.Drawing = work.Draw()
	return c, nil
}

// changeFacts are what the people want to know before they begin.
func (s *shop) changeFacts(out *line.ChangeoverResult) []fact {
	var times []string
	for _, t := range out.ByPeople {
		times = append(times, t.Takes.In(s.units)+" with "+strconv.Itoa(t.People))
	}
	list := []fact{{"Takes", strings.Join(times, ", ") + ", from the last stroke to the first"}}
	if out.Conditions.Has(line.NotProven) {
		list = append(list, fact{"At least", out.Least.In(s.units) + ", in whatever order it is done"})
	}
	if out.Ahead > 0 {
		list = append(list, fact{"Ahead", "begin " + out.Ahead.In(s.units) + " before the last stroke"})
	}
	mix := "start the first batch " + out.FirstMix.In(s.units) + " after the last stroke"
	if out.FirstMix < 0 {
		mix = "start the first batch " + (-out.FirstMix).In(s.units) + " before the last stroke"
	}
	list = append(list, fact{"Mixing room", mix})
	if len(out.CarriedOver) > 0 {
		list = append(list, fact{"Clean away", strings.Join(out.CarriedOver, ", ")})
	}
	if len(out.NewInNext) > 0 {
		list = append(list, fact{"New on the line", strings.Join(out.NewInNext, ", ")})
	}
	return list
}

func minutes(d unit.Duration) float64 { return float64(d) / 60 }

// clock shows minutes and seconds.
func clock(d unit.Duration) string {
	sign, s := "", int(float64(d)+0.5)
	if d < 0 {
		sign, s = "−", int(-float64(d)+0.5)
	}
	return fmt.Sprintf("%s%d:%02d", sign, s/60, s%60)
}

// who says who does it.
func who(people []int) string {
	list := make([]string, len(people))
	for i, p := range people {
		list[i] = strconv.Itoa(p)
	}
	return strings.Join(list, "+")
}
