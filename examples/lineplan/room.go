package main

import (
	"fmt"
	"slices"
	"strings"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// room is the page for the mixing room: when each batch is started, what is weighed for it in order, and its water.
func (b *book) room(o *made) {
	if o.refused() != nil {
		return
	}
	p, q := o.plan(), &o.order().Product
	b.open("MIXING ROOM  "+o.name(), b.s.Line.Name+", order "+o.place)
	b.scales(&b.s.Shift, o.order())
	b.row("Make", "%d %s of %s for %s", p.Batch.Batches, plural(p.Batch.Batches, "batch", "batches"), b.weight(p.Batch.BatchDough), b.pieces(o))
	b.row("Dough", "%s out of the mixer, hydration %.0f %%; %s mixing%s", b.temp(q.DoughTemp), float64(p.Hydration.Hydration), b.minutes(b.s.Shift.Mixer.Mixing), b.floor(q))
	b.row("Water", "%s", b.water(p))
	if q.Heat != nil {
		b.row("", "by the heat balance; the factor rule says %s, and would agree at a friction of %s", b.temp(p.Water.WaterTemp), p.Heat.Once.In(b.units))
	}
	for i := range p.PrefermentRuns {
		b.ferment(&p.PrefermentRuns[i], keeps(q, p.PrefermentRuns[i].Name))
	}
	b.lookAt(o, inRoom)
	b.blank()
	b.weigh(o)
	b.blank()
	b.starts(o)
	b.uses(p)
	b.hazards(reckon.Hazards(p) & inTheRoom)
}

func (b *book) floor(q *line.Product) string {
	if q.FloorTime == 0 {
		return ", then straight to the divider"
	}
	return ", then " + b.minutes(q.FloorTime) + " on the floor"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// water says what to draw for one batch: weights first, the temperature that they act like after them.
func (b *book) water(p *line.PlanResult) string {
	temp := b.temp(p.WaterTemp)
	switch {
	case p.WaterMass == 0:
		return "none in the final mix"
	case p.IceToWeigh > 0:
		return fmt.Sprintf("%s of ICE and %s from the cold tap for each batch, which act like water of %s", b.weight(p.IceToWeigh), b.weight(p.WaterToWeigh), temp)
	case p.HotToWeigh > 0:
		return fmt.Sprintf("%s HOT and %s from the cold tap for each batch, mixed before the yeast meets it: %s", b.weight(p.HotToWeigh), b.weight(p.WaterToWeigh), temp)
	case p.Water.Conditions.Has(doughmath.WarmerThanTap):
		return fmt.Sprintf("%s for each batch, warmed to %s", b.weight(p.WaterToWeigh), temp)
	}
	return fmt.Sprintf("%s from the cold tap for each batch, at %s", b.weight(p.WaterToWeigh), temp)
}

// keeps is how long a preferment may stand once it is ripe; 0 if each batch has its own.
func keeps(q *line.Product, name string) unit.Duration {
	i := slices.IndexFunc(q.PrefermentMixes, func(m line.PrefermentMix) bool { return m.Name == name })
	if i < 0 {
		return 0
	}
	return q.PrefermentMixes[i].Keeps
}

// ferment says how a preferment is made. What keeps is made in lots, whose water stands with their weights.
func (b *book) ferment(r *line.PrefermentRun, keeps unit.Duration) {
	text := r.Name + " is started " + b.minutes(r.Before) + " before the mixing of its batch"
	if keeps > 0 {
		text = r.Name + " is made in lots: one is started " + b.minutes(r.Before) + " before the first batch that it is for is mixed, and keeps " + b.minutes(keeps)
	}
	switch parts := b.drawn(r.Draw.Ice, r.Draw.HotWater, r.Draw.TapWater); {
	case parts == "":
	case keeps > 0:
		text += "; its water acts like " + b.temp(r.Water.WaterTemp)
	default:
		text += "; its water: " + parts + ", which act like " + b.temp(r.Water.WaterTemp)
	}
	b.row("Preferment", "%s", text)
}

// drawn lists ice, hot and cold water.
func (b *book) drawn(ice, hot, tap unit.Mass) string {
	var parts []string
	for _, x := range [...]struct {
		mass unit.Mass
		from string
	}{{ice, "of ICE"}, {hot, "HOT"}, {tap, "from the cold tap"}} {
		if x.mass > 0 {
			parts = append(parts, b.weight(x.mass)+" "+x.from)
		}
	}
	return listed(parts)
}

// weigh lists what to weigh for one batch, preferments first.
func (b *book) weigh(o *made) {
	p, q := o.plan(), &o.order().Product
	n := 0
	item := func(name, scale string, m, division unit.Mass, percent string) {
		if scale != "" {
			name += " (" + scale + ")"
		}
		if division == 0 {
			division = b.finest
		}
		n++
		b.item(fmt.Sprint(n), name, b.reads(m, division), percent, "[ ]")
	}
	// Ice, hot and cold water are weighed one by one, to the water that the formula asks for.
	water := func(name, scale string, ice, hot, all, division unit.Mass, percent unit.BakersPercent) {
		shown := percent.In(b.units)
		for _, x := range [...]struct {
			mass unit.Mass
			name string
		}{{ice, "ICE for the " + name}, {hot, name + ", HOT"}, {all - ice - hot, name + ", cold tap"}} {
			if x.mass > 0.0005 { // half a milligram is left over by arithmetic
				if x.mass < all { // it was shared out to the finest scale
					scale, division = "", b.finest
				}
				item(x.name, scale, x.mass, division, shown)
				shown = ""
			}
		}
	}
	if len(p.Split.Parts) == 0 {
		b.row("WEIGH", "for each batch, in this order")
		one := waters(p.Weigh.Parts, func(i int) bool { return q.Formula[i].Role == doughmath.RoleWater }) == 1
		for i, part := range p.Weigh.Parts {
			if one && q.Formula[i].Role == doughmath.RoleWater {
				water(part.Name, part.Scale, p.IceToWeigh, p.HotToWeigh, part.Mass, part.Division, part.Percent)
				continue
			}
			item(part.Name, part.Scale, part.Mass, part.Division, part.Percent.In(b.units))
		}
		b.item("", "total dough", b.weight(p.Weigh.Weighed), p.Weigh.TotalPercent.In(b.units), "")
		return
	}
	// A mix for so many batches: a lot is weighed for all that it is for.
	weigh := func(mix string, count int) (all unit.Mass) {
		ice, hot := p.IceToWeigh, p.HotToWeigh
		if i := slices.IndexFunc(p.PrefermentRuns, func(r line.PrefermentRun) bool { return r.Name == mix }); i >= 0 {
			ice, hot = p.PrefermentRuns[i].Draw.Ice, p.PrefermentRuns[i].Draw.HotWater
		} else if mix != doughmath.FinalMix {
			ice, hot = 0, 0
		}
		all, parts := p.MixFor(mix, count)
		one := waters(parts, func(i int) bool { return isWater(q.Formula, parts[i].Name) }) == 1
		for _, part := range parts {
			if one && isWater(q.Formula, part.Name) {
				water(part.Name, part.Scale, ice*unit.Mass(count), hot*unit.Mass(count), part.Mass, part.Division, part.Percent)
				continue
			}
			item(part.Name, part.Scale, part.Mass, part.Division, part.Percent.In(b.units))
		}
		return all
	}
	mix := ""
	for _, part := range p.Split.Parts {
		if part.Mix == mix {
			continue
		}
		if mix = part.Mix; keeps(q, mix) == 0 {
			b.row("WEIGH", "%s of each batch, in this order", mix)
			weigh(mix, 1)
			continue
		}
		for _, s := range o.starts(&o.clock) {
			if s.name == mix {
				b.row("WEIGH", "%s, started %s, for %s", mix, b.at(s.at), s.batches())
				b.item("", "all of it", b.weight(weigh(mix, s.count())), "", "")
			}
		}
	}
	b.item("", "total dough", b.weight(p.Split.Weighed), p.Weigh.TotalPercent.In(b.units), "")
}

// waters counts what is water among the parts.
func waters[T any](parts []T, is func(i int) bool) (n int) {
	for i := range parts {
		if is(i) {
			n++
		}
	}
	return n
}

func (b *book) item(n, name, weight, percent, tick string) {
	const room = 16
	b.block(columns([]int{3, 36, room, 10, 3}, "  ", padLeft(n, 2), name, padLeft(weight, room), percent, tick)...)
}

func padLeft(text string, w int) string { return fmt.Sprintf("%*s", w, text) }

// isWater reports whether the formula's ingredient of that name is water.
func isWater(formula []doughmath.Ingredient, name string) bool {
	return slices.ContainsFunc(formula, func(g doughmath.Ingredient) bool { return g.Name == name && g.Role == doughmath.RoleWater })
}

// starts is the table of the batches, with room for what was met.
func (b *book) starts(o *made) {
	widths, head := []int{6}, []string{"BATCH"}
	for _, f := range o.clock.Batches[0].Preferments { // those that do not keep: one for each batch
		widths, head = append(widths, 11), append(head, strings.ToUpper(f.Name))
	}
	widths, head = append(widths, 11, 11, 11, 10, 0), append(head, "INTO MIXER", "OUT", "TIP", "MET", "DONE")
	b.block(columns(widths, "", head...)...)
	for i := range o.clock.Batches {
		k := &o.clock.Batches[i]
		row := []string{fmt.Sprintf("%5d", k.Batch)}
		for _, f := range k.Preferments {
			row = append(row, b.at(f.Start))
		}
		row = append(row, b.at(k.Mix), b.at(k.Mixed), b.at(k.Tip), "______", "[ ]")
		b.block(columns(widths, "", row...)...)
	}
	b.row("", "%s; met: the dough temperature out of the mixer", b.counted())
}

// counted says what times count from.
func (b *book) counted() string {
	if b.clock {
		return "by the clock on the wall, -1 is the day before"
	}
	return "hours and minutes from the first mixing"
}

// uses says what the run takes from the store beside its dough.
func (b *book) uses(p *line.PlanResult) {
	var uses []string
	if p.Oil.OilRate > 0 {
		uses = append(uses, "oil "+p.Oil.PerRun.In(b.units))
	}
	for _, d := range p.Dusting {
		uses = append(uses, fmt.Sprintf("flour on the %s %s a piece, %s in all", d.Name, b.small(d.Flour.FlourPerPiece), b.weight(d.Flour.PerRun)))
	}
	if len(uses) > 0 {
		b.blank()
		b.row("Besides", "%s", strings.Join(uses, "; "))
	}
}
