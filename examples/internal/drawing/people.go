package drawing

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Work is who does what when, and what of it may not be late: the critical path. Times are minutes.
type Work struct {
	ID       string // its own on the page
	Title    string
	Zero     string // what happens at 0, such as "last stroke"
	Jobs     []Job
	Marked   string  // what is true of a stretch of it, such as "the line stands"; "" for nothing
	From, To float64 // of that stretch
}

// Job is one piece of work.
type Job struct {
	Number     int // as in the list beside the drawing
	Start, End float64
	Who        []int // the people, numbered from 1; none if it only takes time
	Critical   bool  // it may not be late
}

// mostRows bounds the people that are drawn.
const mostRows = 20

// Draw draws a row for each person, and one for what takes nobody. What may not be late is black.
func (w Work) Draw() template.HTML {
	people, alone, low, high := 0, false, 0.0, 0.0
	for _, j := range w.Jobs {
		if bad(j.Start) || bad(j.End) {
			return ""
		}
		low, high = min(low, j.Start), max(high, j.End)
		alone = alone || len(j.Who) == 0
		for _, p := range j.Who {
			people = max(people, p)
		}
	}
	people = min(people, mostRows)
	if low >= high {
		return ""
	}
	const width, left, right, row, head = 186.0, 24.0, 3.0, 10.0, 7.0
	c := &canvas{width: width}
	step := round((high - low) / 9)
	at := func(v float64) float64 { return left + (v-low)/(high-low)*(width-left-right) }
	y := head
	rowOf := map[int]float64{}
	for p := range people + 1 {
		name := "person " + strconv.Itoa(p)
		if p == 0 {
			if !alone {
				continue
			}
			name = "no one"
		}
		rowOf[p] = y
		c.text(0.5, y+6, plain*0.95, left-1, after, name)
		y += row
	}
	if w.Marked != "" && w.From < w.To {
		// A bracket under the rows.
		c.line(at(w.From), y+1.2, at(w.To), y+1.2, 1.2)
		c.line(at(w.From), y-0.2, at(w.From), y+2.6, 0.5)
		c.line(at(w.To), y-0.2, at(w.To), y+2.6, 0.5)
		size := wide(w.Marked, small)
		c.text(min(max((at(w.From)+at(w.To))/2, left+size/2), width-size/2), y+6.2, small, width-left, centre, w.Marked)
		y += 8
	}
	c.height = y + 7
	for v := math.Ceil(low/step-1e-9) * step; v <= high+1e-9; v += step {
		c.dashed(at(v), head-1, at(v), y)
		c.text(at(v), y+5, small, 20, centre, number(v))
	}
	c.line(left, y, width-right, y, 0.4)
	c.text(0.5, y+5, small, left-6, after, "minutes")
	// Short work is drawn last, so that it is not hidden.
	jobs := slices.Clone(w.Jobs)
	slices.SortStableFunc(jobs, func(a, b Job) int { return int(math.Copysign(1, (b.End-b.Start)-(a.End-a.Start))) })
	for _, j := range jobs {
		who := j.Who
		if len(who) == 0 {
			who = []int{0}
		}
		for _, p := range who {
			if top, drawn := rowOf[p]; drawn {
				c.job(j, at(j.Start), at(j.End), top)
			}
		}
	}
	c.line(at(0), head-2, at(0), y, 0.7)
	c.text(min(max(at(0), left+wide(w.Zero, small)/2), width-wide(w.Zero, small)/2), head-2.8, small, width, centre, w.Zero)
	return c.figure(w.ID, w.Title, w.describe())
}

// job is one bar with its number, where there is room for it.
func (c *canvas) job(j Job, from, to, y float64) {
	fill, write := "#fff", c.text
	if j.Critical {
		fill, write = "#000", c.reversed
	}
	c.box(from, y, max(to-from, 0.5), 8, fill)
	if n := strconv.Itoa(j.Number); to-from > wide(n, small)*1.1 {
		write((from+to)/2, y+5.4, small, 20, centre, n)
	}
	if j.Critical {
		c.line(from, y, from, y+8, 0.35) // two black bars side by side are two
		fmt.Fprintf(c, `<path d="M%s %sv8" stroke="#fff" stroke-width="0.35"/>`, num(from), num(y))
	}
}

func (w Work) describe() string {
	var critical []string
	for _, j := range w.Jobs {
		if j.Critical {
			critical = append(critical, strconv.Itoa(j.Number))
		}
	}
	says := "Who does which step when, in minutes; the list of steps says the same."
	if len(critical) > 0 {
		says += " Steps that may not be late: " + strings.Join(critical, ", ") + "."
	}
	if w.Marked != "" {
		says += " From " + number(w.From) + " to " + number(w.To) + " minutes " + w.Marked + "."
	}
	return says
}
