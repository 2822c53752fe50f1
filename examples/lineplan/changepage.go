package main

import (
	"fmt"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// changeover is the page for changing the line over to an order from the one before it, step by step.
func (b *book) changeover(o *made) {
	k := o.change
	if k == nil {
		return
	}
	b.open("CHANGE OVER  "+o.before.name()+" to "+o.name(), b.s.Line.Name)
	var times []string
	for _, t := range k.ByPeople {
		times = append(times, fmt.Sprintf("%s with %d", b.minutes(t.Takes), t.People))
	}
	b.row("Takes", "%s, from the last stroke at %s; the line stands for %s", listed(times), b.at(o.before.lastStroke()), b.minutes(k.Standing))
	if k.Conditions.Has(line.NotProven) {
		b.row("", "shorter may be possible, but not under %s", b.minutes(k.Least))
	}
	if o.run != nil && o.run.Gap > o.run.Changeover {
		b.row("", "the %s keeps the first stroke until %s", o.run.GapLimit, b.at(o.run.FirstStroke))
	}
	if k.Saved > 0 {
		b.row("", "work ahead begins %s before the last stroke, and saves %s", b.minutes(k.Ahead), b.minutes(k.Saved))
	}
	for _, c := range k.Contradictions {
		b.mendFirst(c)
	}
	if len(k.CarriedOver) > 0 {
		b.row("ALLERGENS", "clean away: %s", listed(k.CarriedOver))
	}
	if len(k.NewInNext) > 0 {
		b.row("ALLERGENS", "new on the line: %s", listed(k.NewInNext))
	}
	for _, says := range (k.Conditions &^ line.NotProven).Sentences() {
		b.row("LOOK AT", "%s", says)
	}
	b.blank()
	widths := []int{3, 6, 2, 5, 57}
	b.block(columns(widths, "  ", "", "   MIN", "", "WHO", "WHAT")...)
	for i := range k.Steps {
		s := &k.Steps[i]
		late := ""
		if s.Critical {
			late = "!"
		}
		who := strings.Trim(strings.ReplaceAll(fmt.Sprint(s.Who), " ", "+"), "[]")
		b.block(columns(widths, "  ", "[ ]", minuteSecond(s.Start), late, who, s.In(b.units))...)
	}
	b.row("", "minutes from the last stroke; ! may not be late")
	b.hazards(reckon.Hazards(*k))
}

// minuteSecond shows minutes and seconds.
func minuteSecond(d unit.Duration) string {
	sign, s := "", int(float64(d)+0.5)
	if d < 0 {
		sign, s = "-", int(-float64(d)+0.5)
	}
	return fmt.Sprintf("%6s", fmt.Sprintf("%s%d:%02d", sign, s/60, s%60))
}

// connect finds the changeovers between the orders, in the order of making.
func (b *book) connect() error {
	if b.s.Day == nil || len(b.s.Line.Controls) == 0 || b.s.Line.Changing.Stop == 0 {
		return nil
	}
	cl, err := line.Commission(b.s.Line)
	if err != nil {
		return err
	}
	var before *made
	for _, o := range b.orders {
		if o.refused() != nil {
			continue
		}
		if o.before = before; before != nil {
			k, err := cl.Between(before.planned, o.planned, &b.s.Shift, b.s.Day.People, nil)
			if err != nil {
				return err
			}
			o.change = &k
		}
		before = o
	}
	return nil
}
