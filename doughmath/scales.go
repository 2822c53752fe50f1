package doughmath

import (
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Scale is one of the scales that a mixing room weighs on, such as the one in
// the floor for flour and the one on the bench for salt.
type Scale struct {
	Name     string    `json:"name"`                                  // what it is called; each name once
	Division unit.Mass `json:"division" sym:"-" range:"1 mg..1000 t"` // its division
	Capacity unit.Mass `json:"capacity,omitzero" sym:"-" range:"-"`   // most that it takes at once, at least one division and up to 1000 t; leave out if it takes everything
	For      []string  `json:"for,omitzero"`                          // ingredients that are always weighed on it, whatever they weigh; up to 100
}

const mostScales = 16

// scaling is how weights are rounded: to one division, on several scales, or not at all.
type scaling struct {
	division unit.Mass
	scales   []Scale
}

func (s scaling) rounds() bool { return s.division != 0 || len(s.scales) > 0 }

// check requires one division or sound scales, not both.
func (s scaling) check(c *reckon.Checks) {
	if s.division != 0 && !(s.division >= smallestMass && s.division <= largestMass) {
		c.Fail("division", reckon.Text(s.division), "left out, or "+reckon.Text(smallestMass)+" or more")
	}
	if len(s.scales) > mostScales {
		c.Fail("scales", strconv.Itoa(len(s.scales))+" scales", "up to "+strconv.Itoa(mostScales))
		return
	}
	if s.division != 0 && len(s.scales) > 0 {
		c.Fail("division", reckon.Text(s.division), "left out, because scales are given: each has its own")
	}
	for i := range s.scales {
		x, mark := &s.scales[i], c.Mark()
		switch {
		case x.Name == "":
			c.Fail("name", `""`, "the scale's name")
		case slices.ContainsFunc(s.scales[:i], func(o Scale) bool { return o.Name == x.Name }):
			c.Fail("name", strconv.Quote(unit.Clip(x.Name)), "a name of its own")
		}
		if checkMass(c, "division", x.Division) && x.Capacity != 0 {
			reckon.CheckRange(c, "capacity", x.Capacity, x.Division, largestMass)
		}
		if len(x.For) > mostIngredients {
			c.Fail("for", strconv.Itoa(len(x.For))+" ingredients", "up to "+strconv.Itoa(mostIngredients))
		} else {
			for j, name := range x.For {
				if o := s.named(name); o != x || slices.Contains(x.For[:j], name) {
					c.Fail("for["+strconv.Itoa(j)+"]", strconv.Quote(unit.Clip(name)), "each ingredient on one scale, and once")
				}
			}
		}
		c.Item(mark, "scales", i)
	}
}

// checkNames requires every ingredient that a scale is kept for to be one of the formula.
func (s scaling) checkNames(c *reckon.Checks, ingredients []Ingredient) {
	for i := range s.scales[:min(len(s.scales), mostScales)] {
		x, mark := &s.scales[i], c.Mark()
		for j, name := range x.For[:min(len(x.For), mostIngredients)] {
			if findIngredient(ingredients, name) < 0 {
				c.Fail("for["+strconv.Itoa(j)+"]", strconv.Quote(unit.Clip(name)), "the name of an ingredient of the formula")
			}
		}
		c.Item(mark, "scales", i)
	}
}

// named returns the scale that is kept for an ingredient, or nil.
func (s scaling) named(ingredient string) *Scale {
	for i := range s.scales {
		if slices.Contains(s.scales[i].For, ingredient) {
			return &s.scales[i]
		}
	}
	return nil
}

// on returns the scale and the division on which so much of an ingredient is
// weighed: the scale that is kept for it, or else the finest that takes it.
// The division is 0 if no scale takes it.
func (s scaling) on(ingredient string, m unit.Mass) (name string, division unit.Mass) {
	if len(s.scales) == 0 {
		return "", s.division
	}
	x := s.named(ingredient)
	for i := range s.scales {
		o := &s.scales[i]
		if kept := x != nil && slices.Contains(x.For, ingredient); !kept && (o.Capacity == 0 || m <= o.Capacity) && (x == nil || o.Division < x.Division) {
			x = o
		}
	}
	if x == nil || x.Capacity != 0 && m > x.Capacity {
		return "", 0
	}
	return x.Name, x.Division
}

// refuse says that no scale takes so much of an ingredient.
func (s scaling) refuse(c *reckon.Checks, ingredient string, m unit.Mass) {
	if x := s.named(ingredient); x != nil {
		c.Fail("scales", strconv.Quote(unit.Clip(x.Name))+" takes "+reckon.Text(x.Capacity), "a scale for the "+reckon.Text(m)+" of "+unit.Clip(ingredient)+", or leave it to the scale that takes its weight")
		return
	}
	c.Fail("scales", "none that takes "+reckon.Text(m), "a scale for the "+reckon.Text(m)+" of "+unit.Clip(ingredient))
}

// weighing is one weight on its way to whole divisions.
type weighing struct{ exact, division, mass unit.Mass }

// roundWeights rounds what is weighed to whole divisions that add up to the total, and
// returns what they add up to: the total to the nearest of the coarsest
// division among them. Those on the finest scale come first; those on a coarser one make
// up for what rounding has moved before. On each scale the rounding is by largest remainder. What has
// no division is left alone, and counts as exact.
func roundWeights(list []weighing, total unit.Mass) unit.Mass {
	weighed := 0.0 // on finer scales
	var division, coarsest unit.Mass
	for i := range list {
		switch d := list[i].division; {
		case d == 0:
			weighed += float64(list[i].exact)
		case coarsest == 0:
			division, coarsest = d, d
		case d < division:
			division = d
		case d > coarsest:
			coarsest = d
		}
	}
	exact := weighed
	for division > 0 {
		coarser := unit.Mass(0)
		if division < coarsest {
			coarser = nextDivision(list, division)
		}
		missing := 0.0
		here := 0.0
		for i := range list {
			if w := &list[i]; w.division == division {
				down := wholeBelow(float64(w.exact) / float64(division))
				w.mass = unit.Mass(down * float64(division))
				here += float64(w.exact)
				missing -= down
			}
		}
		exact += here
		due := exact - weighed
		if coarser == 0 {
			due = float64(total) - weighed
		}
		units := math.Round(due / float64(division))
		missing += units
		// At most one division per part is missing: a part that has been given one
		// has lost nothing any more, so it is not chosen again.
		slack := unit.Mass(roundingSlack * float64(division))
		for ; missing >= 1; missing-- {
			most, least := -1, unit.Mass(math.Inf(1))
			for i := range list {
				// A part that lost more by rounding noise alone has not lost more.
				w := &list[i]
				if over := w.mass - w.exact; w.division == division && least-over > slack {
					most, least = i, over
				}
			}
			w := &list[most]
			w.mass = unit.Mass((math.Round(float64(w.mass)/float64(division)) + 1) * float64(division))
		}
		weighed += float64(units * float64(division))
		division = coarser
	}
	return unit.Mass(weighed)
}

// nextDivision returns the finest division in the list that is coarser than after, or 0.
func nextDivision(list []weighing, after unit.Mass) unit.Mass {
	next := unit.Mass(0)
	for i := range list {
		if d := list[i].division; d > after && (next == 0 || d < next) {
			next = d
		}
	}
	return next
}

// seen tells what rounding has done to a weight.
func (w weighing) seen() Conditions {
	// What binary arithmetic leaves over is not rounding.
	off := math.Abs(float64(w.mass - w.exact))
	switch {
	case !(off > 1e-9*float64(w.exact)):
		return 0
	case off*100 > coarseErrorPercent*float64(w.exact):
		return reckon.Rounded | reckon.ScaleTooCoarse
	}
	return reckon.Rounded
}

// usualParts is how many parts of a formula are rounded without room being made for more.
const usualParts = 24

// ScaleFor returns the scale on which so much of an ingredient is weighed: the
// one that is kept for it, or else the finest that takes it. It returns false if none does.
func ScaleFor(scales []Scale, ingredient string, m unit.Mass) (Scale, bool) {
	name, _ := scaling{scales: scales}.on(ingredient, m)
	for i := range scales {
		if scales[i].Name == name {
			return scales[i], true
		}
	}
	return Scale{}, false
}
