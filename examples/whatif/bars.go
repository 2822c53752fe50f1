package main

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// tornado shows which input matters most: a bar for each, the longest at the top.
type tornado struct {
	title, x string
	bars     []bar // from the largest to the smallest
	notes    notes
}

// bar is the share that one input has in the scatter of the output.
type bar struct {
	name      string
	u         string  // the uncertainty of the input
	part      float64 // how far that moves the output
	share     float64 // in percent
	low, high float64 // the interval of the share; NaN if there is none
	rises     bool    // the output rises with the input
}

func (t *tornado) plot() (*plot.Plot, error) {
	if len(t.bars) == 0 {
		return nil, errors.New("no input scatters: there is nothing to draw")
	}
	p := newPlot(t.title, t.x, "")
	n := len(t.bars)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 0, -0.7, float64(n)-0.3
	names := make([]string, n)
	for i, b := range t.bars {
		p.X.Max = max(p.X.Max, b.share*1.12)
		if !math.IsNaN(b.high) {
			p.X.Max = max(p.X.Max, b.high*1.12)
		}
		names[n-1-i] = words(b.name)
	}
	p.X.Max = min(max(p.X.Max, 10), 110)
	p.Y.Tick.Marker, p.Y.Tick.Length = cellTicks{names, n}, 0
	p.Y.Padding = 0
	p.Add(backdrop{x: true}, t.notes, t)
	return p, nil
}

// Plot draws the bars.
func (t *tornado) Plot(c draw.Canvas, p *plot.Plot) {
	atX, atY := p.Transforms(&c)
	for i, b := range t.bars {
		y := float64(len(t.bars) - 1 - i)
		r := vg.Rectangle{Min: vg.Point{X: atX(0), Y: atY(y - 0.32)}, Max: vg.Point{X: atX(max(b.share, 0)), Y: atY(y + 0.32)}}
		if b.rises {
			c.SetColor(blue)
			c.Fill(r.Path())
		} else {
			c.SetColor(ground)
			c.Fill(r.Path())
			hatch(&c, r, draw.LineStyle{Color: orange, Width: vg.Points(1.2)})
		}
		c.StrokeLines(thin, outline(r))
		end := r.Max.X
		if b.high-b.low > 1 { // a shorter one is not seen
			c.StrokeLine2(strong, atX(max(b.low, 0)), atY(y), atX(b.high), atY(y))
			end = max(end, atX(b.high))
		}
		c.FillText(small, vg.Point{X: end + vg.Points(5), Y: atY(y)}, percent(b.share))
	}
}

// histogram shows how an output scatters, and the interval that covers so much of it.
type histogram struct {
	title, x  string
	values    []float64 // one for each answer drawn
	mean      float64
	low, high float64                 // the coverage interval
	covers    float64                 // in percent
	curve     func(x float64) float64 // the density by first-order propagation; nil for none
	notes     notes
}

func (h *histogram) plot() (*plot.Plot, error) {
	b, err := binsOf(h.values)
	if err != nil {
		return nil, err
	}
	p := newPlot(h.title, h.x, "share of the scenarios (%)")
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = b.from, b.from+b.width*float64(len(b.shares)), 0, 0
	for _, s := range b.shares {
		p.Y.Max = max(p.Y.Max, s*1.15)
	}
	p.Y.Padding, p.X.Padding = 0, 0
	p.Add(backdrop{y: true}, append(notes{
		fmt.Sprintf("mean %s; %s %% lie from %s to %s (filled)", number(h.mean), number(h.covers), number(h.low), number(h.high)),
	}, h.notes...), &drawnBins{h, b})
	return p, nil
}

// bins are the shares, in percent, of values in intervals of one width.
type bins struct {
	from, width float64
	shares      []float64
}

// binsOf takes as many bins as the cube root of the values asks for, from 10 to 80, over
// all but the outermost thousandth.
func binsOf(values []float64) (bins, error) {
	low, high := math.Inf(1), math.Inf(-1)
	n := 0
	for _, v := range values {
		if !math.IsNaN(v) {
			low, high, n = min(low, v), max(high, v), n+1
		}
	}
	switch {
	case n == 0:
		return bins{}, errors.New("no scenario has an answer: there is nothing to draw")
	case low == high:
		low, high = low-0.5, high+0.5
	}
	count := min(max(int(2*math.Cbrt(float64(n))), 10), 60)
	b := bins{low, (high - low) / float64(count), make([]float64, count)}
	for _, v := range values {
		if !math.IsNaN(v) {
			b.shares[min(int((v-low)/b.width), count-1)] += 100 / float64(n)
		}
	}
	return b, nil
}

type drawnBins struct {
	*histogram
	bins
}

// Plot draws the bins: filled within the interval, hatched outside.
func (h *drawnBins) Plot(c draw.Canvas, p *plot.Plot) {
	atX, atY := p.Transforms(&c)
	for i, s := range h.shares {
		from := h.from + h.width*float64(i)
		for _, part := range []struct {
			from, to float64
			inside   bool
		}{{from, min(from+h.width, h.low), false}, {max(from, h.low), min(from+h.width, h.high), true}, {max(from, h.high), from + h.width, false}} {
			if part.from >= part.to || s == 0 {
				continue
			}
			r := vg.Rectangle{Min: vg.Point{X: atX(part.from), Y: atY(0)}, Max: vg.Point{X: atX(part.to), Y: atY(s)}}
			if part.inside {
				c.SetColor(shade(0.5))
				c.Fill(r.Path())
			} else {
				hatch(&c, r, draw.LineStyle{Color: orange, Width: vg.Points(0.8)})
			}
		}
		c.StrokeLines(draw.LineStyle{Color: ink, Width: vg.Points(0.4)}, outline(vg.Rectangle{Min: vg.Point{X: atX(from), Y: atY(0)}, Max: vg.Point{X: atX(from + h.width), Y: atY(s)}}))
	}
	for _, end := range []float64{h.low, h.high} {
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: vg.Points(1.4), Dashes: dashed(5, 3)}, atX(end), c.Min.Y, atX(end), c.Max.Y)
	}
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: vg.Points(1.4)}, atX(h.mean), c.Min.Y, atX(h.mean), c.Max.Y)
	if h.curve != nil {
		var line []vg.Point
		for i := range 201 {
			x := p.X.Min + (p.X.Max-p.X.Min)*float64(i)/200
			line = append(line, vg.Point{X: atX(x), Y: atY(min(h.curve(x)*h.width*100, p.Y.Max))})
		}
		c.StrokeLines(draw.LineStyle{Color: orange, Width: vg.Points(1.6), Dashes: dashed(2, 2)}, line)
	}
}
