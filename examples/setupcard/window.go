package main

import (
	"fmt"
	"html/template"
	"slices"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/drawing"
	"example.com/dough/proof"
)

// window draws how fast the product may run: what each machine allows, and where all of them meet.
func (s *shop) window(p *line.Planned) (template.HTML, error) {
	l, o, r := &s.scenario.Line, &p.Plan, &p.Order.Product
	w := drawing.Window{
		ID: s.id(), Title: "How fast it may run", Unit: unit.Describe(o.Strokes).Held, At: float64(o.Strokes),
		Rows: []drawing.Band{{Name: "divider", Low: float64(l.Divider.StrokesLow), High: float64(l.Divider.StrokesHigh)}},
	}
	stay, err := s.stay(r)
	if err != nil {
		return "", err
	}
	w.Rows = append(w.Rows, stay)
	if r.Route == line.ToStamper {
		w.Rows = append(w.Rows, drawing.Band{Name: "stamper", Low: float64(l.Stamper.StampsLow), High: float64(l.Stamper.StampsHigh)})
	}
	pieces := func(name string, most unit.PieceRate) {
		w.Rows = append(w.Rows, drawing.Band{Name: name, NoLow: true, High: float64(most) / float64(r.Across), HighSays: "up to " + most.In(s.units)})
	}
	if r.Route == line.ToMoulder {
		pieces("moulder", l.Moulder.RateHigh)
	}
	if r.RateHigh > 0 {
		pieces("oven", r.RateHigh)
	}
	if o.MixerStrokes > 0 {
		w.Rows = append(w.Rows, drawing.Band{Name: "mixer keeps up", NoLow: true, High: float64(o.MixerStrokes), HighSays: "up to " + o.MixerStrokes.In(s.units)})
	}
	w.Rows = append(w.Rows, s.allTogether(r.Across, o))
	for _, across := range s.otherAcross(r) {
		other := *p.Order
		other.Product.Across = across
		plan, err := line.Plan{Line: *l, Order: other, Shift: s.scenario.Shift}.Solve()
		if err != nil {
			continue // it cannot be made so at any speed
		}
		w.Rows = append(w.Rows, s.allTogether(across, &plan))
	}
	return w.Draw(), nil
}

// stay is the stay in the overhead proofer that suits the product, as speeds of the divider.
func (s *shop) stay(r *line.Product) (drawing.Band, error) {
	b := drawing.Band{Name: "stay in proofer", LowSays: r.DwellHigh.In(s.units), HighSays: r.DwellLow.In(s.units)}
	q := proof.StrokesForDwell{Proofer: s.scenario.Line.Proofer, Across: r.Across, Dwell: r.DwellHigh}
	slow, err := q.Solve()
	if err != nil {
		return b, err
	}
	q.Dwell = r.DwellLow
	fast, err := q.Solve()
	b.Low, b.High = float64(slow.Strokes), float64(fast.Strokes)
	return b, err
}

// allTogether is what every machine allows with so many across, and which of them limits it.
func (s *shop) allTogether(across int, o *line.PlanResult) drawing.Band {
	return drawing.Band{
		Name: fmt.Sprintf("all, %d across", across), Low: float64(o.Speed.Low), High: float64(o.Speed.High),
		LowSays: o.Speed.LowLimit, HighSays: o.Speed.HighLimit, Counts: true,
	}
}

// otherAcross lists the other numbers across that the divider has trial pieces for of this dough.
func (s *shop) otherAcross(r *line.Product) []int {
	var list []int
	for _, k := range s.scenario.Line.Divider.Lanes {
		if k.Dough == r.Dough && k.Across != r.Across && !slices.Contains(list, k.Across) {
			list = append(list, k.Across)
		}
	}
	return list
}
