package drawing

import (
	"fmt"
	"html/template"
	"math"
	"strings"
)

// Window is what several things allow of one quantity, such as the speed, row by row, and the point that was chosen.
type Window struct {
	ID    string // its own on the page
	Title string // of what
	Unit  string
	Rows  []Band // the last is usually what all of them allow together
	At    float64
}

// Band is what one of them allows.
type Band struct {
	Name     string  // who allows it
	Low      float64 // from here
	High     float64 // to here
	NoLow    bool    // it allows anything below as well
	NoHigh   bool    // and anything above
	LowSays  string  // what limits it below, or what it means there; "" for nothing
	HighSays string  // and above
	Counts   bool    // drawn full: what all allow together
}

// mostBands bounds a window: far more than a line has machines.
const mostBands = 40

// Draw draws a row for each band, on one axis, and a line through all at the point chosen.
func (w Window) Draw() template.HTML {
	rows := w.Rows[:min(len(w.Rows), mostBands)]
	const width, left, right, row, head = 186.0, 46.0, 6.0, 10.5, 8.0
	low, high := w.ends(rows)
	if len(rows) == 0 || bad(w.At) || bad(low) || bad(high) {
		return ""
	}
	step := round((high - low) / 8)
	low, high = math.Floor(low/step+1e-9)*step, math.Ceil(high/step-1e-9)*step
	at := func(v float64) float64 {
		return left + (min(max(v, low), high)-low)/(high-low)*(width-left-right)
	}
	foot := head + row*float64(len(rows))
	c := &canvas{width: width, height: foot + 9}
	for v := low; v <= high+step/2; v += step {
		c.dashed(at(v), head-1, at(v), foot)
		c.text(at(v), foot+4.6, small, 20, centre, number(v))
	}
	c.line(left, foot, width-right, foot, 0.5)
	c.text(1, foot+4.6, small, left-10, after, w.Unit)
	for i, b := range rows {
		c.band(b, at, head+row*float64(i), left, width-right)
	}
	x := at(w.At)
	c.line(x, head-1.5, x, foot, 1)
	c.shape(x-2.4, head-5, x+2.4, head-5, x, head-1)
	// The number stands on the side where there is room.
	if says := "run at " + number(w.At) + unitAfter(w.Unit); x+4+wide(says, plain)*1.12 < width {
		c.bold(x+4, head-2, plain, width-x-4, after, says)
	} else {
		c.bold(x-4, head-2, plain, x-4, before, says)
	}
	return c.figure(w.ID, w.Title+": run at "+number(w.At)+unitAfter(w.Unit), w.describe(rows))
}

// band is one row: its name, its bar, and under the bar what limits it at either end.
func (c *canvas) band(b Band, at func(float64) float64, y, left, right float64) {
	write := c.text
	fill, from, to := "#fff", left, right
	if b.Counts {
		write, fill = c.bold, "#bbb"
	}
	if !b.NoLow {
		from = at(b.Low)
	}
	if !b.NoHigh {
		to = at(b.High)
	}
	write(1, y+4.4, plain, left-3, after, b.Name)
	from, to = max(from, left), min(to, right)
	c.box(from, y, to-from, 5, fill)
	// What limits it stands beside its end, or under it where there is no room: under a bar with both, half for each.
	lowBeside, highBeside := wide(b.LowSays, small) < from-left-2, wide(b.HighSays, small) < right-to-2
	share := 1.0
	if !lowBeside && !highBeside && b.LowSays != "" && b.HighSays != "" {
		share = 0.5
	}
	if b.LowSays != "" && lowBeside {
		c.text(from-1.5, y+4, small, from-left, before, b.LowSays)
	} else if b.LowSays != "" {
		c.text(from, y+9, small, (right-from)*share, after, b.LowSays)
	}
	switch {
	case b.HighSays == "":
	case highBeside:
		c.text(to+1.5, y+4, small, right-to, after, b.HighSays)
	case b.NoLow:
		c.text(from+1.5, y+9, small, right-from, after, b.HighSays)
	default:
		c.text(to-1, y+9, small, (to-left)*share, before, b.HighSays)
	}
}

// ends is what the axis spans: the point, and both ends of every band that has two. What is open on one side goes to the edge.
func (w Window) ends(rows []Band) (low, high float64) {
	low, high = w.At, w.At
	for _, b := range rows {
		if !b.NoLow && !b.NoHigh {
			low, high = min(low, b.Low), max(high, b.High)
		}
	}
	if margin := (high - low) * 0.05; margin > 0 {
		return low - margin, high + margin
	}
	return low - 1, high + 1
}

func (w Window) describe(rows []Band) string {
	var b strings.Builder
	for _, r := range rows {
		fmt.Fprintf(&b, "%s:", r.Name)
		switch {
		case r.NoLow && r.NoHigh:
			b.WriteString(" any")
		case r.NoLow:
			fmt.Fprintf(&b, " up to %s", number(r.High))
		case r.NoHigh:
			fmt.Fprintf(&b, " from %s", number(r.Low))
		default:
			fmt.Fprintf(&b, " %s to %s", number(r.Low), number(r.High))
		}
		b.WriteString(unitAfter(w.Unit))
		if says := strings.Trim(r.LowSays+"; "+r.HighSays, "; "); says != "" {
			b.WriteString(" (" + says + ")")
		}
		b.WriteString(". ")
	}
	return strings.TrimSpace(b.String())
}
