package drawing

import (
	"fmt"
	"html/template"
	"math"
	"strings"
)

// Scale is a scale that a pointer stands on: of a handle, a wheel, a slide or a spindle. All numbers are in one unit, the
// one that is shown.
type Scale struct {
	ID        string  // its own on the page
	Name      string  // what the shop calls the control
	Low, High float64 // ends of the scale; both 0 where they are not known
	Step      float64 // finest step, 0 if it moves freely
	At        float64 // where the pointer goes
	Reads     string  // the same as a person reads it, with its unit
	Unit      string  // "" for a plain number
	Kept      bool    // true if it is known where good runs stood
	KeptLow   float64 // the lowest of them
	KeptHigh  float64 // the highest
	Left      string  // which way the control is moved for the pointer to go left; "" if the scale shows it
	Right     string  // and right
}

// The scale on paper: so wide, with at most so many steps on it that each can be told from the next.
const (
	scaleWidth = 90.0
	scaleEdge  = 7.0 // left free on either side, for half a label
	mostSteps  = 50
	cutSteps   = 30 // of a longer scale, so many around the pointer
)

// stretch is the part of a scale that is drawn.
type stretch struct {
	low, high, step float64
	cutLow, cutHigh bool  // the scale goes on
	firstStep       int64 // the step at low
	labels          int   // each how many-th step has its number
}

// Draw draws the scale as a ruler with its pointer. A scale with more steps than can be told apart is cut on both sides of
// the pointer. Good runs lie under a thick bar.
func (s Scale) Draw() template.HTML {
	if bad(s.Low) || bad(s.High) || bad(s.At) || bad(s.Step) {
		return ""
	}
	p := s.stretch()
	c := &canvas{width: scaleWidth, height: 17.8}
	const rule = 8.2 // where the ruler lies
	at := func(v float64) float64 {
		return scaleEdge + (v-p.low)/(p.high-p.low)*(scaleWidth-2*scaleEdge)
	}
	c.line(scaleEdge, rule, scaleWidth-scaleEdge, rule, 0.5)
	if p.cutLow {
		c.cut(scaleEdge, rule, -1)
	}
	if p.cutHigh {
		c.cut(scaleWidth-scaleEdge, rule, 1)
	}
	steps := int(math.Round((p.high - p.low) / p.step))
	for i := range steps + 1 {
		n := p.firstStep + int64(i)
		v := float64(n) * p.step
		long := 2.2
		if n%int64(p.labels) == 0 {
			long = 4
			c.text(at(v), rule+8, small, 2*scaleEdge, centre, number(v))
		}
		c.line(at(v), rule, at(v), rule+long, 0.3)
	}
	if s.Kept {
		low, high := max(s.KeptLow, p.low), min(s.KeptHigh, p.high)
		if low <= high {
			c.box(at(low)-0.8, rule-2.2, at(high)-at(low)+1.6, 1.9, "#aaa")
		}
	}
	x := at(s.At)
	c.ways(s.Left, s.Right, x)
	c.shape(x-3, 0.4, x+3, 0.4, x, rule-0.2)
	c.line(x, rule, x, rule+4, 0.9)
	return c.figure(s.ID, s.Name+": pointer at "+s.Reads, s.describe(p))
}

// ways says at the ends which way the control is moved for the pointer, which stands at x, to go there. Where the pointer
// leaves no room it can hardly go farther, and only the other way is told.
func (c *canvas) ways(left, right string, x float64) {
	if says := "← " + left; left != "" && wide(says, small) < x-4 {
		c.text(0.5, 4.2, small, x, after, says)
	}
	if says := right + " →"; right != "" && wide(says, small) < scaleWidth-x-4 {
		c.text(scaleWidth-0.5, 4.2, small, scaleWidth-x, before, says)
	}
}

// cut is the end of a stretch of a scale that goes on.
func (c *canvas) cut(x, y, way float64) {
	for i := range 3 {
		c.dot(x+way*(1.4+1.6*float64(i)), y, 0.3, "#000")
	}
}

func (s Scale) describe(p stretch) string {
	var b strings.Builder
	if s.Low < s.High {
		fmt.Fprintf(&b, "The scale goes from %s to %s%s.", number(s.Low), number(s.High), unitAfter(s.Unit))
	}
	if p.cutLow || p.cutHigh {
		fmt.Fprintf(&b, " Drawn from %s to %s.", number(p.low), number(p.high))
	}
	if s.Kept {
		fmt.Fprintf(&b, " Good runs stood at %s", number(s.KeptLow))
		if s.KeptHigh != s.KeptLow {
			fmt.Fprintf(&b, " to %s", number(s.KeptHigh))
		}
		b.WriteByte('.')
	}
	if s.Left != "" {
		fmt.Fprintf(&b, " To the left: %s.", s.Left)
	}
	if s.Right != "" {
		fmt.Fprintf(&b, " To the right: %s.", s.Right)
	}
	return strings.TrimSpace(b.String())
}

func unitAfter(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// stretch chooses what of the scale is drawn and how fine.
func (s Scale) stretch() stretch {
	known := s.Low < s.High
	low, high := min(s.Low, s.At), max(s.High, s.At)
	step := s.Step
	switch {
	case step > 0 && !short(step):
		step = round(step) // made in another unit: it is read in round numbers
	case step > 0:
	case known:
		step = round((high - low) / mostSteps)
	default:
		step = round(max(math.Abs(s.At), 1) / mostSteps)
	}
	p := stretch{step: step}
	first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
	if !known || last-first > mostSteps {
		middle := math.Round(s.At / step)
		from, to := middle-cutSteps/2, middle+cutSteps/2
		switch {
		case known && from < first:
			from, to = first, first+cutSteps
		case known && to > last:
			from, to = last-cutSteps, last
		case !known && from < 0 && s.At >= 0:
			from, to = 0, cutSteps // nothing stands below the belt
		}
		p.cutLow, p.cutHigh = from > first || !known && from != 0, to < last || !known
		first, last = from, to
	}
	p.low, p.high, p.firstStep = first*step, last*step, int64(first)
	p.labels = apart(p)
	return p
}

// apart is each how many-th step has its number: as many as have room, and round ones where there are.
func apart(p stretch) int {
	steps := (p.high - p.low) / p.step
	each := (scaleWidth - 2*scaleEdge) / steps
	need := max(wide(number(p.low), small), wide(number(p.high), small), wide(number(p.low+p.step), small)*0.9) + 2
	fallback := 0
	for n := 1; n <= cutSteps+mostSteps; n++ {
		if float64(n)*each < need {
			continue
		}
		if isRound(float64(n) * p.step) {
			return n
		}
		if fallback == 0 {
			fallback = n
		}
	}
	return max(fallback, 1)
}

// isRound reports whether v is 1, 2, 2.5 or 5 of a power of ten.
func isRound(v float64) bool { return math.Abs(round(v)-v) <= 1e-9*v }

// round is the least round number from v on.
func round(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(v)+1e-12))
	for _, f := range [...]float64{1, 2, 2.5, 5} {
		if f*ten >= v*(1-1e-9) {
			return f * ten
		}
	}
	return 10 * ten
}

// short reports whether a step has few enough digits to be a mark on a scale in this unit.
func short(step float64) bool {
	v := step * 1e4
	return math.Abs(v-math.Round(v)) <= 1e-6*v && v >= 0.5
}

func bad(v float64) bool { return math.IsNaN(v) || math.Abs(v) > 1e9 }
