package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/drawing"
)

// clockPage is the day by the clock: what waits, what is started ahead, and every batch from the mixer to the oven.
type clockPage struct {
	Facts    []fact
	Findings []finding
	Care     []string
	Ahead    []ahead
	Runs     []clockRun
}

// finding is something that does not go as it should.
type finding struct{ Where, Says, Mend string }

// ahead is a preferment or a soaker to be started.
type ahead struct {
	at                     unit.Duration
	Start, What, Make, For string
}

// clockRun is an order, batch by batch.
type clockRun struct {
	Number  int
	Name    string
	Most    string // what stands where, at the most
	Batches []clockBatch
}

type clockBatch struct {
	Number                   int
	Mix, Tip, Scaled, InOven string
}

// startedAhead is the row of the chart for what stands before it is mixed.
const startedAhead = "started ahead"

// whereItStands is what can hurt somebody by what stands and what is baked; the cards tell the rest.
const whereItStands = reckon.HotOven | reckon.Spoilage

// clockPage puts the day onto the clock.
func (s *shop) clockPage() *clockPage {
	k := &s.clock
	c := &clockPage{
		Care:  (k.Cautions & whereItStands).Sentences(),
		Facts: []fact{{"First work", "at " + wall(k.Earliest)}, {"Into the oven", span(k.FirstOven, k.LastOven)}},
	}
	for _, f := range k.Findings {
		where := f.At
		if f.Order != "" {
			where = f.Order + ", " + f.At
		}
		c.Findings = append(c.Findings, finding{where, f.Says, f.Mend})
	}
	for i := range k.Runs {
		r, n := &k.Runs[i].Clock, s.numbers[i]
		run := clockRun{Number: n, Name: s.plans[n-1].Order.Product.Name}
		var most []string
		for _, b := range r.Buffers {
			most = append(most, b.Station+" "+strconv.Itoa(b.Most))
		}
		run.Most = strings.Join(most, ", ")
		for j := range r.Batches {
			b := &r.Batches[j]
			run.Batches = append(run.Batches, clockBatch{b.Batch, wall(b.Mix), wall(b.Tip), span(b.FirstCut, b.LastCut), span(b.FirstOven, b.LastOven)})
			for _, p := range b.Preferments {
				c.Ahead = append(c.Ahead, s.ahead(n, p.Name, p.Start, b.Batch, b.Batch))
			}
		}
		for _, l := range r.Lots {
			c.Ahead = append(c.Ahead, s.ahead(n, l.Name, l.Start, l.FirstBatch, l.LastBatch))
		}
		c.Runs = append(c.Runs, run)
	}
	slices.SortStableFunc(c.Ahead, func(a, b ahead) int { return cmp.Compare(a.at, b.at) })
	return c
}

// ahead is one making of a preferment of card n, for some of its batches.
func (s *shop) ahead(n int, name string, start unit.Duration, first, last int) ahead {
	p, count := &s.plans[n-1].Plan, last-first+1
	a := ahead{at: start, Start: wall(start), What: name, For: fmt.Sprintf("%d %s, batch %d", n, s.plans[n-1].Order.Product.Name, first)}
	if count > 1 {
		a.For = fmt.Sprintf("%d %s, batches %d to %d", n, s.plans[n-1].Order.Product.Name, first, last)
	}
	all, parts := p.MixFor(name, count)
	list := make([]string, len(parts))
	for i, part := range parts {
		list[i] = part.Name + " " + part.Mass.In(s.units)
	}
	a.Make = all.In(s.units) + ": " + strings.Join(list, ", ")
	for i := range p.PrefermentRuns {
		r := &p.PrefermentRuns[i]
		if r.Name != name {
			continue
		}
		for _, w := range [...]struct {
			mass unit.Mass
			as   string
		}{{r.Draw.Ice, "as ice"}, {r.Draw.HotWater, "hot"}} {
			if w.mass > 0 {
				a.Make += "; of the water " + (w.mass * unit.Mass(count)).In(s.units) + " " + w.as
			}
		}
	}
	return a
}

// aheadBars are what stands before it is mixed, from the first of it until the last batch that takes it is mixed.
func aheadBars(r *line.ClockResult) (list []drawing.Bar) {
	bar := func(from, to unit.Duration) {
		list = append(list, drawing.Bar{Row: startedAhead, Start: hours(from), End: hours(to)})
	}
	for _, p := range r.Batches[0].Preferments {
		last := &r.Batches[len(r.Batches)-1]
		bar(p.Start, last.Mix)
	}
	for _, l := range r.Lots {
		bar(l.Start, r.Batches[l.LastBatch-1].Mix)
	}
	return list
}

// racks says how many racks or boxes are taken at once.
func (s *shop) racks() string {
	text := strconv.Itoa(s.clock.Racks.Most)
	if n := s.scenario.Line.FinalProof.Available; n > 0 {
		text += " of " + strconv.Itoa(n)
	}
	return text + " racks at once at most, first at " + wall(s.clock.Racks.MostAt)
}
