package main

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
)

// width is the width of a page in characters.
const width = 78

// page writes what is pinned up at the line.
type page struct {
	*bytes.Buffer
	units unit.System
}

func (p *page) rule(r rune) { p.WriteString(strings.Repeat(string(r), width) + "\n") }

const indent = 12

// paragraph wraps text beside its label.
func (p *page) paragraph(label, text string) {
	row := fmt.Sprintf("%-*s", indent, label)
	empty := true
	for word := range strings.FieldsSeq(text) {
		if !empty && utf8.RuneCountInString(row)+1+utf8.RuneCountInString(word) > width {
			p.WriteString(row + "\n")
			row, empty = strings.Repeat(" ", indent), true
		}
		if !empty {
			row += " "
		}
		row += word
		empty = false
	}
	p.WriteString(strings.TrimRight(row, " ") + "\n")
}

// refused says in its place why an order cannot be made as asked.
func (p *page) refused(n int, o *line.Order, err error) {
	p.rule('=')
	fmt.Fprintf(p, "%d  %s\n", n, strings.ToUpper(o.Product.Name))
	p.rule('-')
	p.WriteString("NOT AS ASKED\n")
	p.paragraph("", err.Error())
}

// settings lists the controls in walking order, with room for where each was run.
func (p *page) settings(n int, o *line.Order, out *line.ControlSettingsResult) {
	p.rule('=')
	fmt.Fprintf(p, "%d  %s\n", n, strings.ToUpper(o.Product.Name))
	p.rule('-')
	for _, k := range out.Contradictions {
		p.mendFirst(k)
	}
	for i := range out.Settings {
		s := &out.Settings[i]
		if s.At == "" {
			continue
		}
		way := ""
		if s.More != "" {
			way = "  + " + s.More
		}
		p.WriteString(strings.TrimRight(fmt.Sprintf("  %-16s %-17s %-14s ______%s", s.Machine, s.Control, s.In(p.units), way), " ") + "\n")
		if s.PerStep != 0 {
			p.paragraph("", "a step of the "+s.Control+" weighs "+s.PerStep.In(p.units)+"; weigh after every move")
		}
	}
	p.paragraph("", "______ is where it was run, + the way that is more, of the mark heavier")
}

// mendFirst names two controls that cannot stand so together.
func (p *page) mendFirst(k line.Contradiction) {
	p.paragraph("MEND FIRST", fmt.Sprintf("%s at %s, %s at %s: %s", k.Control, k.At, k.Other, k.OtherAt, k.Why))
}

// known says what ran well before.
func (p *page) known(out *line.KnownGoodResult) {
	p.paragraph("KNOWN GOOD", fmt.Sprintf("%d good runs looked at, the last on %s", out.Good, out.LastGood))
	for i := range out.Settings {
		s := &out.Settings[i]
		if s.Says == "" || !s.Outside && !s.Drifting && s.Low == s.High {
			continue // as planned, every time
		}
		text := s.Control + ": " + s.Says
		if s.Start != s.Planned {
			text += "; start at " + s.Start
		}
		if s.Drifting {
			text += "; it creeps from run to run"
		}
		p.paragraph("", text)
	}
	for _, d := range out.Changed {
		p.paragraph("", fmt.Sprintf("since then %s was %s, is %s", d.Path, d.Was, d.Is))
	}
	for _, word := range out.Conditions.Sentences() {
		p.paragraph("LOOK AT", word)
	}
}

// changeover lists the steps from one order to the next.
func (p *page) changeover(before, next *line.Order, out *line.ChangeoverResult) {
	p.rule('=')
	fmt.Fprintf(p, "CHANGE OVER   %s to %s\n", before.Product.Name, next.Product.Name)
	p.rule('-')
	var times []string
	for _, t := range out.ByPeople {
		times = append(times, fmt.Sprintf("%s with %d", t.Takes.In(p.units), t.People))
	}
	p.paragraph("Takes", strings.Join(times, ", ")+fmt.Sprintf(" from the last stroke; the line stands for %s", out.Standing.In(p.units)))
	if out.Saved > 0 {
		p.paragraph("", fmt.Sprintf("work ahead begins %s before the last stroke and saves %s", out.Ahead.In(p.units), out.Saved.In(p.units)))
	}
	if out.FirstMix < 0 {
		p.paragraph("Mix", fmt.Sprintf("start the first batch %s before the last stroke", (-out.FirstMix).In(p.units)))
	} else {
		p.paragraph("Mix", fmt.Sprintf("start the first batch %s after the last stroke", out.FirstMix.In(p.units)))
	}
	for _, k := range out.Contradictions {
		p.mendFirst(k)
	}
	if len(out.CarriedOver) > 0 {
		p.paragraph("Allergens", "clean away: "+strings.Join(out.CarriedOver, ", "))
	}
	if len(out.NewInNext) > 0 {
		p.paragraph("Allergens", "new on the line: "+strings.Join(out.NewInNext, ", "))
	}
	for i := range out.Steps {
		s := &out.Steps[i]
		who := "-"
		if len(s.Who) > 0 {
			who = strings.Trim(strings.ReplaceAll(fmt.Sprint(s.Who), " ", "+"), "[]")
		}
		mark := " "
		if s.Critical {
			mark = "!"
		}
		row := fmt.Sprintf("  [ ] %6s %s %-4s ", clock(s.Start), mark, who)
		p.wrapped(row, s.In(p.units))
	}
	p.paragraph("", "minutes from the last stroke; ! may not be late")
	for _, word := range out.Conditions.Sentences() {
		p.paragraph("LOOK AT", word)
	}
}

// wrapped writes text behind a head, further lines below it.
func (p *page) wrapped(head, text string) {
	row, at := head, utf8.RuneCountInString(head)
	for word := range strings.FieldsSeq(text) {
		if utf8.RuneCountInString(row)+utf8.RuneCountInString(word) > width {
			p.WriteString(strings.TrimRight(row, " ") + "\n")
			row = strings.Repeat(" ", at)
		}
		row += word + " "
	}
	p.WriteString(strings.TrimRight(row, " ") + "\n")
}

// clock shows minutes and seconds.
func clock(d unit.Duration) string {
	sign, s := "", int(float64(d)+0.5)
	if d < 0 {
		sign, s = "-", int(-float64(d)+0.5)
	}
	return fmt.Sprintf("%s%d:%02d", sign, s/60, s%60)
}
