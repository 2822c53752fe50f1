package divider

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

const (
	mostSlides                = 50
	mostFlow    unit.MassRate = 1000 // kg/h from one duster
	widestSlide               = 1e6
)

// SlidePoint is flour caught and weighed at one position of a duster's slide.
type SlidePoint struct {
	Slide     float64       `json:"slide" sym:"x_#" range:"-1e6..1e6"`              // position of the slide, as its scale shows it
	FlourRate unit.MassRate `json:"flour_rate" sym:"F_#" range:"0 kg/h..1000 kg/h"` // flour caught there, over a time
}

// SlideForFlow asks how far to open the slide of a duster for the flour wanted:
//
//	X = x_i + (F - F_i) * (x_j - x_i) / (F_j - F_i),  between the neighbours i and j
//	X_set = round(X / q) * q    F_set = F_i + (X_set - x_i) * (F_j - F_i) / (x_j - x_i)
//
// Each duster has a table of its own: catch what it drops at several positions for
// a few minutes, and weigh. It holds for that flour, which runs otherwise when it is damp, and between
// the positions tried. Open it no further than keeps the pieces from sticking.
//
// It is refused if:
//   - the positions or the flour do not rise from each point to the next.
//
// Source: interpolation between the shop's own weighings; common practice.
//
// The inverse is [FlowForSlide].
type SlideForFlow struct {
	FlourRate unit.MassRate `json:"flour_rate" sym:"F" range:"0 kg/h..1000 kg/h"`      // flour wanted, see [FlourUse]
	Points    []SlidePoint  `json:"points" items:"2..50"`                              // from the narrowest to the widest
	SlideStep float64       `json:"slide_step,omitzero" sym:"q" range:"1e-6..1000000"` // finest step of the slide; leave out if it moves freely
}

// SlideForFlowResult is where to set the slide.
type SlideForFlowResult struct {
	Slide      float64         `json:"slide" sym:"X_set"`      // position to set, to its step
	FlourRate  unit.MassRate   `json:"flour_rate" sym:"F_set"` // flour that it drops there
	Conditions Conditions      `json:"conditions"`             // rounded
	Cautions   reckon.Cautions `json:"cautions"`               // flour-dust, moving-machinery
}

func (SlideForFlow) ID() string { return "slide-for-flow" }

func (q SlideForFlow) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "flour_rate", q.FlourRate, 0, mostFlow)
	checkSlides(c, q.Points)
	if q.SlideStep != 0 {
		reckon.CheckRange(c, "slide_step", q.SlideStep, 1e-6, widestSlide)
	}
}

// checkSlides requires a table that rises from point to point.
func checkSlides(c *reckon.Checks, points []SlidePoint) {
	if n := len(points); n < 2 || n > mostSlides {
		c.Fail("points", strconv.Itoa(n)+" points", "2 to "+strconv.Itoa(mostSlides)+" points")
		return
	}
	var last SlidePoint
	var lastSlide, lastFlow bool // whether they are in range
	for i, p := range points {
		mark := c.Mark()
		slide := reckon.CheckRange(c, "slide", p.Slide, -widestSlide, widestSlide)
		if slide && lastSlide && !(p.Slide-last.Slide >= 1e-9) {
			c.Fail("slide", strconv.FormatFloat(p.Slide, 'g', 6, 64), "more than that of the point before, "+strconv.FormatFloat(last.Slide, 'g', 6, 64))
		}
		flow := reckon.CheckRange(c, "flour_rate", p.FlourRate, 0, mostFlow)
		if flow && lastFlow && !(p.FlourRate-last.FlourRate >= 1e-9) {
			c.Fail("flour_rate", p.FlourRate.String(), "more than that of the point before, "+last.FlourRate.String())
		}
		last, lastSlide, lastFlow = p, slide, flow
		c.Item(mark, "points", i)
	}
}

// Solve has no answer if no position that was tried gives so much or so little, or if the step
// takes the slide beyond them.
func (q SlideForFlow) Solve() (out SlideForFlowResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	first, last := q.Points[0], q.Points[len(q.Points)-1]
	i := q.above()
	set := q.nearest(i)
	if q.FlourRate < first.FlourRate || q.FlourRate > last.FlourRate || set < first.Slide || set > last.Slide {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "position of the slide", Wanted: q.FlourRate.String() + " of flour",
			Low: first.FlourRate.String(), High: last.FlourRate.String(), Advice: "catch flour at further positions, or see whether another duster does it",
		}
	}
	out = SlideForFlowResult{Slide: set, FlourRate: flowBetween(q.Points, set), Cautions: reckon.FlourDust | reckon.MovingMachinery}
	if set != q.exact(i) {
		out.Conditions |= reckon.Rounded
	}
	return out, nil
}

// above returns the first point with at least the flour wanted, or the last.
func (q *SlideForFlow) above() int {
	i := 1
	for i < len(q.Points)-1 && q.Points[i].FlourRate < q.FlourRate {
		i++
	}
	return i
}

// exact returns the position between point i and the one before.
func (q *SlideForFlow) exact(i int) float64 {
	a, b := q.Points[i-1], q.Points[i]
	return a.Slide + float64(float64(q.FlourRate-a.FlourRate)*(b.Slide-a.Slide)/float64(b.FlourRate-a.FlourRate))
}

func (q *SlideForFlow) nearest(i int) float64 {
	x := q.exact(i)
	if q.SlideStep == 0 {
		return x
	}
	return float64(math.Round(x/q.SlideStep) * q.SlideStep)
}

// slideInterval returns the point at or above a position, or the last.
func slideInterval(points []SlidePoint, slide float64) int {
	i := 1
	for i < len(points)-1 && points[i].Slide < slide {
		i++
	}
	return i
}

// flowBetween returns the flour at a position between two points.
func flowBetween(points []SlidePoint, slide float64) unit.MassRate {
	i := slideInterval(points, slide)
	a, b := points[i-1], points[i]
	return a.FlourRate + unit.MassRate((slide-a.Slide)*float64(b.FlourRate-a.FlourRate)/(b.Slide-a.Slide))
}

func (q SlideForFlow) Show(w *reckon.Working, out SlideForFlowResult) {
	w.Inputs(q)
	i := strconv.Itoa(q.above())
	j := strconv.Itoa(q.above() + 1)
	w.Lines(nil, "position: X = x_"+i+" + (F - F_"+i+")*(x_"+j+" - x_"+i+")/(F_"+j+" - F_"+i+")  [between the neighbours in the table]")
	if q.SlideStep > 0 {
		w.Lines(out, "position to set: X_set = round(X/q)*q")
	} else {
		w.Lines(out, "position to set: X_set = X  [the slide moves freely]")
	}
	showFlow(w, out, q.Points, out.Slide, "X_set", "F_set")
}

func showFlow(w *reckon.Working, out any, points []SlidePoint, slide float64, at, flow string) {
	k := slideInterval(points, slide)
	i, j := strconv.Itoa(k), strconv.Itoa(k+1)
	w.Lines(out, "flour there: "+flow+" = F_"+i+" + ("+at+" - x_"+i+")*(F_"+j+" - F_"+i+")/(x_"+j+" - x_"+i+")")
}

// FlowForSlide asks what flour a duster drops at a position of its slide:
//
//	F = F_i + (X - x_i) * (F_j - F_i) / (x_j - x_i),  between the neighbours i and j
//
// It is the inverse of [SlideForFlow], with the same validity and source.
//
// It is refused if:
//   - the positions or the flour do not rise from each point to the next,
//   - the position is not between the first and the last.
//
// Source: interpolation between the shop's own weighings; common practice.
//
// The inverse is [SlideForFlow].
type FlowForSlide struct {
	Slide  float64      `json:"slide" sym:"X" range:"-"` // position of the slide, between the first point and the last
	Points []SlidePoint `json:"points" items:"2..50"`    // from the narrowest to the widest
}

// FlowForSlideResult is what the duster drops.
type FlowForSlideResult struct {
	FlourRate unit.MassRate   `json:"flour_rate" sym:"F"` // flour at that position
	Cautions  reckon.Cautions `json:"cautions"`           // flour-dust
}

func (FlowForSlide) ID() string { return "flow-for-slide" }

func (q FlowForSlide) Check(c *reckon.Checks) {
	mark := c.Mark()
	checkSlides(c, q.Points)
	if c.Mark() == mark {
		reckon.CheckRange(c, "slide", q.Slide, q.Points[0].Slide, q.Points[len(q.Points)-1].Slide)
	}
}

func (q FlowForSlide) Solve() (out FlowForSlideResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	return FlowForSlideResult{FlourRate: flowBetween(q.Points, q.Slide), Cautions: reckon.FlourDust}, nil
}

func (q FlowForSlide) Show(w *reckon.Working, out FlowForSlideResult) {
	w.Inputs(q)
	showFlow(w, out, q.Points, q.Slide, "X", "F")
}
