package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// curve is one line of a chart. Where y is NaN there is no answer, and the line has a gap.
type curve struct {
	name string
	x, y []float64
}

// lineChart is one output, or several in one unit, over one input.
type lineChart struct {
	title, x, y string
	curves      []curve
	why         string // there are gaps
	notes       notes
}

const mostCurves = 6 // more cannot be told apart

func (l *lineChart) plot() (*plot.Plot, error) {
	if len(l.curves) > mostCurves {
		return nil, fmt.Errorf("%d lines cannot be told apart: want at most %d, or a heat map", len(l.curves), mostCurves)
	}
	p := newPlot(l.title, l.x, l.y)
	var ends sideNames
	var gaps []float64
	low, high := math.Inf(1), math.Inf(-1)
	p.Add(backdrop{x: true, y: true})
	for i, k := range l.curves {
		h := hands[i]
		var runs []plotter.XYs
		open := false
		for j, y := range k.y {
			if math.IsNaN(y) {
				open = false
				gaps = append(gaps, k.x[j])
				continue
			}
			low, high = min(low, y), max(high, y)
			if !open {
				runs, open = append(runs, nil), true
			}
			last := len(runs) - 1
			runs[last] = append(runs[last], plotter.XY{X: k.x[j], Y: y})
		}
		for _, run := range runs {
			line, err := plotter.NewLine(run)
			if err != nil {
				return nil, err
			}
			line.LineStyle = draw.LineStyle{Color: h.color, Width: vg.Points(1.6), Dashes: h.dash}
			p.Add(line)
			if len(k.x) <= 40 {
				signs, err := plotter.NewScatter(run)
				if err != nil {
					return nil, err
				}
				signs.GlyphStyle = draw.GlyphStyle{Color: h.color, Radius: vg.Points(3), Shape: h.sign}
				p.Add(signs)
			}
		}
		if len(runs) > 0 && k.name != "" {
			last := runs[len(runs)-1]
			ends = append(ends, sideName{k.name, last[len(last)-1].Y, h})
		}
	}
	if math.IsInf(low, 0) {
		return nil, errors.New("no scenario has an answer: there is nothing to draw")
	}
	x := slices.Concat(l.curves[0].x)
	p.X.Min, p.X.Max = slices.Min(x), slices.Max(x)
	p.Y.Min, p.Y.Max = rounded(low, high)
	p.Add(ends, noAnswer{gaps, l.why}, l.notes)
	return p, nil
}

// rounded gives the ends of an axis a little room, to round numbers.
func rounded(low, high float64) (float64, float64) {
	if low == high {
		room := max(math.Abs(low)*0.05, 1)
		return low - room, high + room
	}
	room := (high - low) / 20
	return low - room, high + room
}

// noAnswer marks on the axis where scenarios have no answer, or not one that will do.
type noAnswer struct {
	x   []float64
	why string
}

func (n noAnswer) Plot(c draw.Canvas, p *plot.Plot) {
	atX, _ := p.Transforms(&c)
	for _, x := range n.x {
		c.DrawGlyph(draw.GlyphStyle{Color: ink, Radius: vg.Points(3), Shape: draw.CrossGlyph{}}, vg.Point{X: atX(x), Y: c.Min.Y + vg.Points(5)})
	}
	if len(n.x) > 0 {
		at := vg.Point{X: atX(slices.Min(n.x)) + vg.Points(8), Y: c.Min.Y + vg.Points(16)}
		style := small
		if at.X > c.Min.X+c.Size().X/2 {
			at.X, style.XAlign = atX(slices.Max(n.x)), draw.XRight
		}
		c.FillText(style, at, n.why)
	}
}

// sideNames are the names of lines, beside their ends and never over one another.
type sideNames []sideName

type sideName struct {
	words string
	y     float64
	hand  hand
}

// GlyphBoxes asks for the room that the names take.
func (s sideNames) GlyphBoxes(*plot.Plot) (out []plot.GlyphBox) {
	for _, n := range s {
		out = append(out, plot.GlyphBox{X: 1, Rectangle: vg.Rectangle{Max: vg.Point{X: vg.Points(30) + small.Width(n.words)}}})
	}
	return out
}

func (s sideNames) Plot(c draw.Canvas, p *plot.Plot) {
	_, at := p.Transforms(&c)
	order := slices.Clone(s)
	slices.SortStableFunc(order, func(a, b sideName) int { return cmp.Compare(a.y, b.y) })
	below := c.Min.Y - vg.Points(rowHeight)
	heights := make([]vg.Length, len(order))
	for i, n := range order {
		heights[i] = max(at(n.y), below+vg.Points(rowHeight))
		below = heights[i]
	}
	for i := len(order) - 1; i >= 0; i-- { // what ran out at the top moves down again
		most := c.Max.Y
		if i < len(order)-1 {
			most = heights[i+1] - vg.Points(rowHeight)
		}
		heights[i] = min(heights[i], most)
	}
	for i, n := range order {
		x := c.Max.X + vg.Points(10)
		c.StrokeLine2(draw.LineStyle{Color: n.hand.color, Width: vg.Points(1.6), Dashes: n.hand.dash}, x, heights[i], x+vg.Points(14), heights[i])
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: n.hand.color, Radius: vg.Points(3), Shape: n.hand.sign}, vg.Point{X: x + vg.Points(7), Y: heights[i]})
		style := small
		style.Color = n.hand.color
		c.FillText(style, vg.Point{X: x + vg.Points(18), Y: heights[i]}, n.words)
	}
}
