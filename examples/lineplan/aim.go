package main

import (
	"strings"

	"example.com/dough/doughmath/line"
)

// aim says what the aim of the order costs against the best for each other aim.
func (b *book) aim(o *line.PlanResult) {
	for i := range o.Aim.Costs {
		c := &o.Aim.Costs[i]
		label := ""
		if i == 0 {
			label = "Aim"
		}
		b.row(label, "%s, against %s (%s, %d batches): %s", o.Aim.Here.Aim, c.Best.Aim, c.Best.Strokes.In(b.units), c.Best.Batches, b.cost(c))
	}
}

// cost is what differs, each in the word for its way; what is the same is left out.
func (b *book) cost(c *line.AimCost) string {
	var all []string
	add := func(d float64, text func() string, more, less string) {
		switch {
		case d > 0:
			all = append(all, text()+" "+more)
		case d < 0:
			all = append(all, strings.TrimPrefix(text(), "-")+" "+less)
		}
	}
	u := b.units
	add(float64(c.PieceRate), func() string { return c.PieceRate.In(u) }, "more", "fewer")
	add(float64(c.Finish), c.Finish.String, "later", "earlier")
	add(float64(c.Waits), c.Waits.String, "more waiting", "less waiting")
	add(float64(c.Giveaway), func() string { return c.Giveaway.In(u) }, "more dough beyond the order", "less dough beyond the order")
	add(float64(c.Flour), func() string { return c.Flour.In(u) }, "more dusting flour", "less dusting flour")
	if len(all) == 0 {
		return "the same"
	}
	return strings.Join(all, ", ")
}
