package drawing

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
)

// Day is a day by station and time. Times are hours from midnight: from 24 on it is day 2, and below 0 day 0.
type Day struct {
	ID    string // its own on the page
	Title string
	Rows  []string // the stations, from top to bottom
	Bars  []Bar
	Due   []Due
}

// Bar is what one station does for one order.
type Bar struct {
	Row        string // one of the stations
	Order      int    // counted from 1, as in the list beside the chart
	Start, End float64
}

// Due is when an order must be ready.
type Due struct {
	Order int
	At    float64
	Late  bool // it is not
}

// looks are the fills that tell the orders apart in black and white; their numbers do too.
const looks = 6

// mostTracks bounds how many bars of a station are drawn one above the other.
const mostTracks = 12

// Draw draws a row for each station. What overlaps lies one below the other.
func (d Day) Draw() template.HTML {
	low, high := math.Inf(1), math.Inf(-1)
	for _, b := range d.Bars {
		low, high = min(low, b.Start), max(high, b.End)
	}
	for _, u := range d.Due {
		low, high = min(low, u.At), max(high, u.At)
	}
	if !(low < high) || bad(low) || bad(high) {
		return ""
	}
	low, high = math.Floor(low), math.Ceil(high)
	const width, left, right, head, bar, gap = 186.0, 47.0, 6.0, 6.0, 7.4, 3.0
	c := &canvas{width: width}
	d.patterns(c)
	at := func(v float64) float64 { return left + (v-low)/(high-low)*(width-left-right) }
	type placed struct {
		Bar
		y float64
	}
	var all []placed
	var lines []float64
	y := head
	for _, name := range d.Rows {
		bars := slices.DeleteFunc(slices.Clone(d.Bars), func(b Bar) bool { return b.Row != name })
		tracks := stack(bars)
		c.text(0.5, y+5.4, plain*0.95, left-2, after, name)
		deep := 1
		for i, b := range bars {
			all = append(all, placed{b, y + float64(tracks[i])*(bar+0.8)})
			deep = max(deep, tracks[i]+1)
		}
		y += float64(deep)*(bar+0.8) + gap
		lines = append(lines, y-gap/2-0.4)
	}
	for _, at := range lines[:max(len(lines)-1, 0)] {
		c.dashed(0.5, at, width-right, at)
	}
	each := hours(high - low)
	for h := low; h <= high+1e-9; h++ {
		if math.Mod(h, each) == 0 {
			c.dashed(at(h), head-1, at(h), y)
			c.text(at(h), y+4.8, small, 20, centre, strconv.Itoa(int(h-24*math.Floor(h/24)))+":00")
		}
		if day := h / 24; day == math.Floor(day) && h > low && h < high {
			c.line(at(h), head-1, at(h), y, 0.5)
			c.text(at(h), head-1.6, small, 40, centre, "day "+strconv.Itoa(int(day)+1))
		}
	}
	c.line(left, y, width-right, y, 0.5)
	for _, p := range all {
		c.box(at(p.Start), p.y, max(at(p.End)-at(p.Start), 0.5), bar, "url(#"+d.ID+"-p"+strconv.Itoa((max(p.Order, 1)-1)%looks)+")")
		n := strconv.Itoa(p.Order)
		if size := wide(n, plain) + 1.6; at(p.End)-at(p.Start) > size {
			middle := (at(p.Start) + at(p.End)) / 2
			fmt.Fprintf(c, `<rect x="%s" y="%s" width="%s" height="%s" fill="#fff"/>`, num(middle-size/2), num(p.y+1.1), num(size), num(bar-2.2))
			c.bold(middle, p.y+5.2, plain, 20, centre, n)
		}
	}
	c.height = y + 7
	if len(d.Due) > 0 {
		c.due(d.Due, at, y+8, left, width-right)
		c.height += 10
	}
	return c.figure(d.ID, d.Title, d.describe())
}

// due marks when orders must be ready, under the hours.
func (c *canvas) due(due []Due, at func(float64) float64, y, left, right float64) {
	c.text(0.5, y+4.6, plain*0.95, left-2, after, "must be ready")
	for _, u := range due {
		x := at(u.At)
		c.shape(x-1.8, y+2.6, x+1.8, y+2.6, x, y-0.6)
		words := strconv.Itoa(u.Order)
		if u.Late {
			words += " late"
		}
		c.bold(min(x, right-wide(words, small)/2), y+6.8, small, 20, centre, words)
	}
}

// patterns are the fills, from white to black.
func (d Day) patterns(c *canvas) {
	inside := [looks]string{
		`<path d="M0 3L3 0" stroke="#000" stroke-width="0.6"/>`,
		``,
		`<circle cx="1.5" cy="1.5" r="0.6"/>`,
		`<path d="M0 1.5H3" stroke="#000" stroke-width="0.6"/>`,
		`<path d="M0 0L3 3M0 3L3 0" stroke="#000" stroke-width="0.4"/>`,
		`<rect width="3" height="3" fill="#777"/>`,
	}
	c.WriteString("<defs>")
	for i, in := range inside {
		fmt.Fprintf(c, `<pattern id="%s-p%d" width="3" height="3" patternUnits="userSpaceOnUse"><rect width="3" height="3" fill="#fff"/>%s</pattern>`, template.HTMLEscapeString(d.ID), i, in)
	}
	c.WriteString("</defs>")
}

// stack gives each bar a track in which none before it is in the way.
func stack(bars []Bar) []int {
	slices.SortStableFunc(bars, func(a, b Bar) int { return cmp.Compare(a.Start, b.Start) })
	var ends []float64
	out := make([]int, len(bars))
	for i, b := range bars {
		track := slices.IndexFunc(ends, func(end float64) bool { return end <= b.Start+1e-9 })
		switch {
		case track >= 0:
		case len(ends) < mostTracks:
			ends = append(ends, 0)
			track = len(ends) - 1
		default:
			track = mostTracks - 1 // drawn over another: the list has them all
		}
		ends[track], out[i] = b.End, track
	}
	return out
}

// hours is how many hours lie between two lines of the chart.
func hours(span float64) float64 {
	for _, n := range [...]float64{1, 2, 3, 4, 6, 12, 24} {
		if span/n <= 10 {
			return n
		}
	}
	return 24 * math.Ceil(span/240)
}

func (d Day) describe() string {
	var b strings.Builder
	for _, row := range d.Rows {
		first, last, n := math.Inf(1), math.Inf(-1), 0
		for _, x := range d.Bars {
			if x.Row == row {
				first, last, n = min(first, x.Start), max(last, x.End), n+1
			}
		}
		if n > 0 {
			fmt.Fprintf(&b, "%s: busy from %s to %s. ", row, clock(first), clock(last))
		}
	}
	b.WriteString("The table of the day says the same, order by order.")
	return b.String()
}

// clock is a time of the day to the minute.
func clock(h float64) string {
	text, day := unit.Hours(h).TimeOfDay(unit.Metric)
	if day != 0 {
		text += fmt.Sprintf(" of day %d", day+1)
	}
	return text
}
