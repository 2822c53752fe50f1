package line

import (
	"slices"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/molder"
)

// ControlScale is everything that a control can stand at: its positions, or the numbers on its scale.
type ControlScale struct {
	Positions []Position // of a control that is no number, in the shop's words; empty for a number
	Low, High float64    // ends of a number, in the unit of its [Setting]; both 0 where the line does not say how far it goes
	Step      float64    // finest step, in that unit; 0 if it moves freely
}

// Scale returns what the control with that index can stand at on this line, for whoever draws it. It is for a line that
// was found without fault, by [Scenario.PlanAll] or [ControlSettings]; an index that there is not has nothing.
func (l *Line) Scale(i int) ControlScale {
	if i < 0 || i >= len(l.Controls) {
		return ControlScale{}
	}
	k := &l.Controls[i]
	if !k.Sets.number() {
		if len(k.Positions) > 0 {
			return ControlScale{Positions: slices.Clone(k.Positions)}
		}
		var out ControlScale
		for _, v := range k.values(l) {
			out.Positions = append(out.Positions, Position{Name: v, Value: v})
		}
		return out
	}
	low, high := k.ends(l)
	return ControlScale{Low: low, High: high, Step: l.step(i)}
}

// ends returns how far the number of a control goes, both 0 where the line does not say.
func (k *Control) ends(l *Line) (low, high float64) {
	d, m := &l.Divider, &l.Moulder
	switch k.Sets {
	case SetsMark:
		return d.MarkLow, d.MarkHigh
	case SetsStrokes:
		return float64(d.StrokesLow), float64(d.StrokesHigh)
	case SetsStamps:
		return float64(l.Stamper.StampsLow), float64(l.Stamper.StampsHigh)
	case SetsRounderSpeed:
		return float64(l.Rounder.SpeedLow), float64(l.Rounder.SpeedHigh)
	case SetsLastGap:
		return float64(m.GapLow), float64(m.GapHigh)
	case SetsFirstNumber:
		if m.First != nil {
			return span(m.First.Scale.Points, indicated)
		}
	case SetsLastNumber:
		if m.First != nil {
			return span(m.First.Last.Points, indicated)
		}
	case SetsGuides:
		if m.Guides != nil && m.Guides.Widest > 0 {
			return float64(m.Guides.Narrowest), float64(m.Guides.Widest)
		}
	case SetsSlide:
		if i := slices.IndexFunc(l.Dusters, func(d Duster) bool { return d.Name == k.Of }); i >= 0 {
			return span(l.Dusters[i].Slide, func(p divider.SlidePoint) float64 { return p.Slide })
		}
	}
	return 0, 0
}

func indicated(p molder.IndicatorPoint) float64 { return p.Number }

// span returns the lowest and the highest number that was measured on a scale.
func span[P any](points []P, number func(P) float64) (low, high float64) {
	for i, p := range points {
		v := number(p)
		if i == 0 {
			low, high = v, v
		}
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// Hazards returns the cautions of moving the control there and then.
func (s *Setting) Hazards() reckon.Cautions { return cautions(s.Sets, s.Change) }
