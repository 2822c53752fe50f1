package main

import (
	"slices"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
)

// side says where a remark is of use.
type side int

const (
	atLine side = iota
	inRoom
)

// A remark that holds whatever is done today says how far the numbers can be trusted, and stands once, on the last page. What a page
// says in its own words already is not said again.
var (
	standing = []string{"rounded", "uncalibrated", "outside-source", "from-memory", "part-pass", "finer-than-usable", "rule-set-dated", "tear-untried", "few-runs"}
	said     = []string{"light-run-out", "warmer-than-tap", "below-freezing", "rate-limited", "outside-good", "drifting", "changed-since", "contradiction"}
)

// Each page names what can hurt somebody at the work that it is for: nobody draws hot water at the line, allergens are compared in
// the mixing room and at the changeover, and parts are washed when they are out.
const (
	inTheRoom  = reckon.HotWater | reckon.IceHandling | reckon.Spoilage | reckon.Lifting | reckon.Allergens | reckon.FlourDust
	elsewhere  = reckon.HotWater | reckon.IceHandling | reckon.Spoilage | reckon.Allergens | reckon.Cleaning
	everywhere = reckon.MovingMachinery | reckon.Interlocks // the last pages start with them
)

// station is a part of a plan with what was met there.
type station struct {
	name string
	side side
	met  []reckon.Noted
}

func stations(p *line.PlanResult) []station {
	list := []station{
		{"piece", atLine, []reckon.Noted{p.Piece.Conditions}},
		{"label", atLine, []reckon.Noted{p.Label.Conditions}},
		{"mark", atLine, []reckon.Noted{p.Trials, p.Mark.Conditions}},
		{"check", atLine, []reckon.Noted{p.Check.Conditions}},
		{"drum", atLine, []reckon.Noted{p.Drum.Conditions}},
		{"rounder", atLine, []reckon.Noted{p.Rounding.Conditions, p.Motions.Conditions}},
		{"proofer", atLine, []reckon.Noted{p.Speed.Conditions, p.Dwell.Conditions, p.Clear.Conditions, p.Pocket.Conditions}},
		{"stamper", atLine, []reckon.Noted{p.Stamp.Conditions}},
		{"moulder", atLine, []reckon.Noted{p.Rollers.Conditions, p.Gap.Conditions, p.Roll.Conditions, p.Chain.Conditions}},
		{"board", atLine, []reckon.Noted{p.Guides.Conditions, p.Heights.Conditions, p.Board.Conditions}},
		{"pan", atLine, []reckon.Noted{p.Pan.Conditions}},
		{"belts", atLine, []reckon.Noted{p.Spacing.Conditions}},
		{"final proof", atLine, []reckon.Noted{p.FinalProof.Conditions}},
		{"hopper", atLine, []reckon.Noted{p.Hopper.Conditions, p.Drift.Conditions}},
		{"batches", inRoom, []reckon.Noted{p.Batch.Conditions}},
		{"weighing", inRoom, []reckon.Noted{p.Weigh.Conditions, p.Hydration.Conditions}},
		{"water", inRoom, []reckon.Noted{p.Water.Conditions, p.Ice.Conditions, p.HeatIce.Conditions, p.Mix.Conditions}},
		{"heat balance", inRoom, []reckon.Noted{p.HeatWater.Conditions, p.Heat.Conditions}},
	}
	ferments := []reckon.Noted{p.Split.Conditions}
	for i := range p.PrefermentRuns {
		ferments = append(ferments, p.PrefermentRuns[i].Water.Conditions, p.PrefermentRuns[i].Draw.Conditions)
	}
	list = append(list, station{"preferments", inRoom, ferments})
	for _, d := range p.Dusting {
		list = append(list, station{"flour on the " + d.Name, atLine, []reckon.Noted{d.Flour.Conditions, d.Slide.Conditions}})
	}
	return list
}

// where names the stations of a side at which a remark was met; what none of them met belongs to the plan itself, at the line.
func where(p *line.PlanResult, one reckon.Note, of ...side) (names []string) {
	none := true
	for _, st := range stations(p) {
		if slices.ContainsFunc(st.met, func(set reckon.Noted) bool { return slices.Contains(set.Notes(), one) }) {
			none = false
			if slices.Contains(of, st.side) {
				names = append(names, st.name)
			}
		}
	}
	if none && slices.Contains(of, atLine) {
		return []string{"speed"}
	}
	return names
}

// lookAt says what was met that calls for something today.
func (b *book) lookAt(o *made, at side) {
	for _, one := range reckon.Distinct(reckon.Remarks(o.plan())) {
		if slices.Contains(standing, one.Word) || slices.Contains(said, one.Word) {
			continue
		}
		if names := where(o.plan(), one, at); names != nil {
			b.row("LOOK AT", "%s: %s", listed(names), one.Says)
		}
	}
}

// hazards names what can hurt somebody here; the last pages say how to go about it.
func (b *book) hazards(all reckon.Cautions) {
	if words := (all &^ everywhere).Words(); len(words) > 0 {
		b.row("TAKE CARE", "%s (last pages)", strings.ReplaceAll(strings.Join(words, ", "), "-", " "))
	}
}

// restsOn says once what the numbers of all pages rest on, and for which products.
func (b *book) restsOn() {
	type rest struct {
		note reckon.Note
		of   []string
	}
	var list []rest
	for _, o := range b.orders {
		if o.refused() != nil {
			continue
		}
		for _, one := range reckon.Distinct(reckon.Remarks(o.plan())) {
			if !slices.Contains(standing, one.Word) {
				continue
			}
			of := o.name() + " (" + strings.Join(where(o.plan(), one, atLine, inRoom), ", ") + ")"
			if set := &o.plan().Label.RuleSet; one.Word == "rule-set-dated" {
				of = o.name() + ": " + set.Authority + ", " + set.Edition
			}
			if i := slices.IndexFunc(list, func(r rest) bool { return r.note == one }); i >= 0 {
				list[i].of = append(list[i].of, of)
			} else {
				list = append(list, rest{one, []string{of}})
			}
		}
	}
	if list == nil {
		return
	}
	b.blank()
	b.block("WHAT THE NUMBERS REST ON")
	for _, r := range list {
		b.block(columns([]int{width - 4}, "  ", r.note.Says+" For "+strings.Join(r.of, "; ")+".")...)
	}
}
