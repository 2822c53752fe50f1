package main

import (
	"strings"

	"example.com/dough/doughmath/reckon"
)

// lastPage says once how to go about what can hurt somebody, how parts are washed and stored, and what the numbers rest on.
func (b *book) lastPage() {
	b.open("TAKE CARE  "+b.s.Title, b.s.Line.Name)
	b.block(columns([]int{width - 2}, "", reckon.CautionDeference)...)
	all := b.day.Cautions | b.dayClock.Cautions
	for _, o := range b.orders {
		if o.refused() == nil {
			all |= reckon.Hazards(o.plan())
		}
		all |= o.settings.Cautions
		if o.change != nil {
			all |= o.change.Cautions
		}
	}
	b.blank()
	for _, sentence := range all.Sentences() {
		b.point(sentence)
	}
	b.point("A piece near twice or half the others is not the mark: leave the handle, find where it comes from, and weigh afresh.")
	b.parts()
	b.restsOn()
}

// parts says how what is taken out of the line is washed and stored.
func (b *book) parts() {
	if len(b.s.Line.Parts) == 0 {
		return
	}
	b.blank()
	b.block("PARTS (the maker's own instructions come first)")
	for i, p := range b.s.Line.Parts {
		of := make([]string, len(p.Materials))
		for j, m := range p.Materials {
			of[j] = string(m)
		}
		if p.Glued {
			of = append(of, "glued")
		}
		b.point(strings.ReplaceAll(string(p.Part), "-", " ") + " of " + listed(of) + ":")
		for _, text := range []string{b.care[i].Wash, b.care[i].Drying, b.care[i].Store, b.care[i].Loosens} {
			if text != "" {
				b.block(columns([]int{width - 2}, "  ", text)...)
			}
		}
	}
}

// point is one of a list.
func (b *book) point(text string) { b.block(columns([]int{1, width - 2}, "", "-", text)...) }
