package drawing

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"
)

// Window is the settings of one quantity, such as the speed, at which something works: a bar for each way to do it, what is
// set, and the points that are best for something.
type Window struct {
	ID     string // its own on the page
	Title  string // of what
	Unit   string
	Rows   []Band
	At     float64 // what is set; 0 if none of these is
	Points []Point
}

// Band is what works in one way.
type Band struct {
	Name     string  // of the way
	Low      float64 // from here
	High     float64 // to here
	Steady   float64 // up to here nothing waits, and the bar is grey: beyond it is white; 0 if nothing ever waits
	LowSays  string  // what limits it below; "" for nothing
	HighSays string  // and above
}

// Point is a setting that is best for something.
type Point struct {
	Row    int // the way, counted from 0
	At     float64
	Letter string // as in the list beside the drawing
	Says   string // what it is best for
}

// mostBands bounds a window: more than a page holds.
const mostBands = 20

// The measures of a window, in millimetres.
const (
	bandWidth, bandLeft, bandRight = 186.0, 46.0, 6.0
	bandHead, bandRow, bandBar     = 8.0, 13.0, 6.4
)

// Draw draws a row for each band, on one axis, and a line through all at what is set.
func (w Window) Draw() template.HTML {
	rows := w.Rows[:min(len(w.Rows), mostBands)]
	low, high := w.ends(rows)
	if len(rows) == 0 || bad(w.At) || bad(low) || bad(high) {
		return ""
	}
	step := round((high - low) / 8)
	low, high = math.Floor(low/step+1e-9)*step, math.Ceil(high/step-1e-9)*step
	at := func(v float64) float64 {
		return bandLeft + (min(max(v, low), high)-low)/(high-low)*(bandWidth-bandLeft-bandRight)
	}
	foot := bandHead + bandRow*float64(len(rows))
	c := &canvas{width: bandWidth, height: foot + 9}
	for v := low; v <= high+step/2; v += step {
		c.dashed(at(v), bandHead-1, at(v), foot)
		c.text(at(v), foot+4.6, small, 20, centre, number(v))
	}
	c.line(bandLeft, foot, bandWidth-bandRight, foot, 0.5)
	c.text(1, foot+4.6, small, bandLeft-10, after, w.Unit)
	rings := make([][]ring, len(rows))
	for i, b := range rows {
		rings[i] = w.rings(i, at)
		c.band(b, at, bandHead+bandRow*float64(i), rings[i])
	}
	title := w.Title
	if w.At != 0 {
		title += ": run at " + number(w.At) + unitAfter(w.Unit)
		c.set(at(w.At), foot, "run at "+number(w.At)+unitAfter(w.Unit))
	}
	for i := range rows { // over the line
		for _, p := range rings[i] {
			y := bandHead + bandRow*float64(i) + bandBar/2
			c.dot(p.x, y, ringSize, "#fff")
			c.bold(p.x, y+1.45, small, 2*ringSize, centre, p.letter)
		}
	}
	return c.figure(w.ID, title, w.describe(rows))
}

// set is the pointer to what is set, with its words on the side where there is room.
func (c *canvas) set(x, foot float64, says string) {
	c.line(x, bandHead-1.5, x, foot, 1)
	c.shape(x-2.4, bandHead-5, x+2.4, bandHead-5, x, bandHead-1)
	if x+4+wide(says, plain)*1.12 < bandWidth {
		c.bold(x+4, bandHead-2, plain, bandWidth-x-4, after, says)
	} else {
		c.bold(x-4, bandHead-2, plain, x-4, before, says)
	}
}

// band is one row: its name, its bar, and beside or under the bar what limits it at either end.
func (c *canvas) band(b Band, at func(float64) float64, y float64, rings []ring) {
	const left, right, grey = bandLeft, bandWidth - bandRight, "#bbb"
	c.text(1, y+5, plain, left-3, after, b.Name)
	from, to := at(b.Low), at(b.High)
	c.box(from, y, max(to-from, 0.6), bandBar, grey)
	if b.Steady > 0 && b.Steady < b.High {
		steady := max(at(b.Steady), from)
		c.box(steady, y, to-steady, bandBar, "#fff")
	}
	// What limits it stands beside its end, or under it where there is no room: under a bar with both, half for each.
	lowEnd, highEnd := from, to // with the rings that stand out over them
	for _, p := range rings {
		lowEnd, highEnd = min(lowEnd, p.x-ringSize), max(highEnd, p.x+ringSize)
	}
	lowBeside, highBeside := wide(b.LowSays, small) < lowEnd-left-2, wide(b.HighSays, small) < right-highEnd-2
	share := 1.0
	if !lowBeside && !highBeside && b.LowSays != "" && b.HighSays != "" {
		share = 0.5
	}
	under := y + bandBar + 4
	switch {
	case b.LowSays == "":
	case lowBeside:
		c.text(lowEnd-1.5, y+4.6, small, lowEnd-left, before, b.LowSays)
	default:
		c.text(from, under, small, (right-from)*share, after, b.LowSays)
	}
	switch {
	case b.HighSays == "":
	case highBeside:
		c.text(highEnd+1.5, y+4.6, small, right-highEnd, after, b.HighSays)
	default:
		c.text(max(to-1, left+wide(b.HighSays, small)), under, small, (right-left)*share, before, b.HighSays)
	}
}

// ring is a point as it is drawn: its letter in a ring.
type ring struct {
	x      float64
	letter string
}

// ringSize is the radius of a ring.
const ringSize = 3.0

// rings are the points of one row. Those that are too close stand side by side.
func (w Window) rings(row int, at func(float64) float64) (list []ring) {
	here := slices.DeleteFunc(slices.Clone(w.Points), func(p Point) bool { return p.Row != row || bad(p.At) })
	slices.SortStableFunc(here, func(a, b Point) int { return cmp.Compare(a.At, b.At) })
	last := math.Inf(-1)
	for _, p := range here {
		last = max(at(p.At), last+2*ringSize+0.4)
		list = append(list, ring{last, p.Letter})
	}
	return list
}

// ends is what the axis spans: what is set, the points and the ends of every band.
func (w Window) ends(rows []Band) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	take := func(v float64) { low, high = min(low, v), max(high, v) }
	for _, b := range rows {
		take(b.Low)
		take(b.High)
	}
	for _, p := range w.Points {
		take(p.At)
	}
	if w.At != 0 {
		take(w.At)
	}
	if margin := (high - low) * 0.05; margin > 0 {
		return low - margin, high + margin
	}
	return low - 1, high + 1
}

func (w Window) describe(rows []Band) string {
	var b strings.Builder
	for i, r := range rows {
		fmt.Fprintf(&b, "%s: %s to %s%s", r.Name, number(r.Low), number(r.High), unitAfter(w.Unit))
		if says := strings.Trim(r.LowSays+"; "+r.HighSays, "; "); says != "" {
			b.WriteString(" (" + says + ")")
		}
		switch {
		case r.Steady > 0 && r.Steady < r.Low:
			b.WriteString(", with waits at any of them")
		case r.Steady > 0 && r.Steady < r.High:
			b.WriteString(", without a wait up to " + number(r.Steady))
		}
		b.WriteString(". ")
		for _, p := range w.Points {
			if p.Row == i {
				fmt.Fprintf(&b, "%s, %s: %s%s. ", p.Letter, p.Says, number(p.At), unitAfter(w.Unit))
			}
		}
	}
	return strings.TrimSpace(b.String())
}
