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
)

// byTheClock is the page for the whole day by the clock: what waits, what is started ahead, and every batch from the mixer to the
// oven, order by order.
func (b *book) byTheClock() {
	k := &b.dayClock
	if len(k.Runs) == 0 {
		return
	}
	b.open("BY THE CLOCK  "+b.s.Title, b.s.Line.Name)
	b.scales(&b.s.Shift, b.all()...)
	b.row("First work", "%s; into the oven from %s to %s", b.at(k.Earliest), b.at(k.FirstOven), b.at(k.LastOven))
	if k.Racks.Most > 0 {
		have := ""
		if n := b.s.Line.FinalProof.Available; n > 0 {
			have = fmt.Sprintf(" of %d", n)
		}
		b.row("Racks", "%d%s in the final proof at most, first at %s", k.Racks.Most, have, b.at(k.Racks.MostAt))
	}
	for _, f := range k.Findings {
		where := f.At
		if f.Order != "" {
			where = f.Order + ", " + f.At
		}
		b.row("WAITS", "%s: %s", where, f.Says)
		b.row("", "TO MEND IT: %s", f.Mend)
	}
	b.ahead()
	b.blank()
	widths := []int{5, 11, 11, 11, 11, 11, 11}
	b.block(columns(widths, "", "BATCH", "INTO MIXER", "TIP", "CUT FROM", "TO", "OVEN FROM", "TO")...)
	for i := range k.Runs {
		r := &k.Runs[i]
		most := make([]string, len(r.Clock.Buffers))
		for j, s := range r.Clock.Buffers {
			most[j] = s.Station + " " + strconv.Itoa(s.Most)
		}
		rows := append(columns([]int{width - 1}, "", r.Name), columns([]int{width - 7}, "      ", "pieces at once at most: "+strings.Join(most, ", "))...)
		for j := range r.Clock.Batches {
			m := &r.Clock.Batches[j]
			rows = append(rows, columns(widths, "", fmt.Sprintf("%5d", m.Batch), b.at(m.Mix), b.at(m.Tip), b.at(m.FirstCut), b.at(m.LastCut), b.at(m.FirstOven), b.at(m.LastOven))...)
		}
		b.block(rows...)
	}
	b.row("", "%s", b.counted())
	b.hazards(k.Cautions & (reckon.Spoilage | reckon.HotOven)) // the other pages name the rest
}

// start is one making of a preferment or a soaker.
type start struct {
	of          *made
	name        string
	at          unit.Duration
	first, last int // the batches that it is for
}

// batches says which batches of its order it is for.
func (s *start) batches() string {
	if s.first == s.last {
		return "batch " + strconv.Itoa(s.first)
	}
	return fmt.Sprintf("batches %d to %d", s.first, s.last)
}

// count is how many they are.
func (s *start) count() int { return s.last - s.first + 1 }

// starts lists what is made ahead for an order: a lot for each of its batches, or for several while it keeps.
func (o *made) starts(clock *line.ClockResult) (list []start) {
	for i := range clock.Batches {
		k := &clock.Batches[i]
		for _, p := range k.Preferments {
			list = append(list, start{o, p.Name, p.Start, k.Batch, k.Batch})
		}
	}
	for _, l := range clock.Lots {
		list = append(list, start{o, l.Name, l.Start, l.FirstBatch, l.LastBatch})
	}
	return list
}

// ahead is the table of what is started before its batches are mixed, by the clock.
func (b *book) ahead() {
	var list []start
	for i := range b.dayClock.Runs {
		for _, o := range b.orders {
			if r := &b.dayClock.Runs[i]; o.refused() == nil && o.name() == r.Name {
				list = append(list, o.starts(&r.Clock)...)
			}
		}
	}
	if list == nil {
		return
	}
	slices.SortStableFunc(list, func(x, y start) int { return cmp.Compare(x.at, y.at) })
	b.blank()
	widths := []int{11, 12, 35, 14, 3}
	b.block(columns(widths, "", "START", "WHAT", "FOR", padLeft("MAKE", 14))...)
	for i := range list {
		s := &list[i]
		all, _ := s.of.plan().MixFor(s.name, s.count())
		b.block(columns(widths, "", b.at(s.at), s.name, s.of.name()+", "+s.batches(), padLeft(b.weight(all), 14), "[ ]")...)
	}
}
