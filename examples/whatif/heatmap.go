package main

import (
	"errors"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// heatMap is one output over two inputs, and the window of settings in which all is as asked. What
// stands in the way outside of it has a letter.
type heatMap struct {
	title, x, y, z string
	xs, ys         []string     // the values of the inputs, as they are written
	at             [][]float64  // by y and x: the output, NaN for no answer
	binds          [][][]string // by y and x: what stands in the way, nothing within the window
}

const mostCells = 60 // along one side

func (h *heatMap) plot() (*plot.Plot, error) {
	if len(h.xs) > mostCells || len(h.ys) > mostCells {
		return nil, fmt.Errorf("%d by %d cells are too small to read: want at most %d a side", len(h.xs), len(h.ys), mostCells)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for j := range h.at {
		for _, v := range h.at[j] {
			if !math.IsNaN(v) {
				low, high = min(low, v), max(high, v)
			}
		}
	}
	reasons := h.reasons()
	if math.IsInf(low, 0) {
		return nil, errors.New("no scenario has an answer: there is nothing to draw")
	}
	p := newPlot(h.title, h.x, h.y)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, float64(len(h.xs))-0.5, -0.5, float64(len(h.ys))-0.5
	p.X.Tick.Marker, p.Y.Tick.Marker = cellTicks{h.xs, 12}, cellTicks{h.ys, 16}
	p.X.Tick.Length, p.Y.Tick.Length = vg.Points(3), vg.Points(3)
	p.X.Padding, p.Y.Padding = 0, 0
	var said notes
	for i, r := range reasons {
		said = append(said, letter(i)+"  "+r)
	}
	if len(said) > 0 {
		said = append(said, "The strong line bounds the settings at which nothing stands in the way.")
	}
	p.Add(said, &cells{h, low, high, reasons}, scale{h.z, low, high})
	return p, nil
}

// reasons are all that stand in the way somewhere.
func (h *heatMap) reasons() (out []string) {
	for _, row := range h.binds {
		for _, cell := range row {
			for _, r := range cell {
				if !slices.Contains(out, r) {
					out = append(out, r)
				}
			}
		}
	}
	return out
}

func letter(i int) string { return string(rune('a' + i%26)) }

// cellTicks writes the value of each cell beside it, or of every other one where they are many.
type cellTicks struct {
	values []string
	most   int
}

func (t cellTicks) Ticks(float64, float64) (out []plot.Tick) {
	step := (len(t.values) + t.most - 1) / t.most
	for i := 0; i < len(t.values); i += step {
		out = append(out, plot.Tick{Value: float64(i), Label: t.values[i]})
	}
	return out
}

// shade runs from light to dark, so that it reads in grey as well.
func shade(share float64) color.RGBA {
	stops := []color.RGBA{{0xfb, 0xf5, 0xdf, 0xff}, {0xbf, 0xd9, 0xc8, 0xff}, {0x6f, 0xae, 0xbf, 0xff}, {0x2f, 0x75, 0xa5, 0xff}, {0x16, 0x3a, 0x66, 0xff}}
	at := min(max(share, 0), 1) * float64(len(stops)-1)
	i := min(int(at), len(stops)-2)
	mixed := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (at-float64(i))*(float64(b)-float64(a)))) }
	a, b := stops[i], stops[i+1]
	return color.RGBA{mixed(a.R, b.R), mixed(a.G, b.G), mixed(a.B, b.B), 0xff}
}

// cells draws the map.
type cells struct {
	*heatMap
	low, high float64
	known     []string // reasons, by their letters
}

func (h *cells) share(v float64) float64 {
	if h.high == h.low {
		return 0.5
	}
	return (v - h.low) / (h.high - h.low)
}

func (h *cells) Plot(c draw.Canvas, p *plot.Plot) {
	atX, atY := p.Transforms(&c)
	box := func(i, j int) vg.Rectangle {
		return vg.Rectangle{
			Min: vg.Point{X: atX(float64(i) - 0.5), Y: atY(float64(j) - 0.5)},
			Max: vg.Point{X: atX(float64(i) + 0.5), Y: atY(float64(j) + 0.5)},
		}
	}
	// Each cell reaches a little under the next ones: no light shines through.
	const seam = 0.7 * vg.Length(1)
	one := box(0, 0).Size()
	numbers := one.X > vg.Points(30) && one.Y > vg.Points(13)
	letters := one.X > vg.Points(9) && one.Y > vg.Points(9)
	for j := range h.at {
		for i, v := range h.at[j] {
			r := box(i, j)
			fill := ground
			if !math.IsNaN(v) {
				fill = shade(h.share(v))
			}
			c.SetColor(fill)
			c.Fill(vg.Rectangle{Min: r.Min, Max: vg.Point{X: min(r.Max.X+seam, c.Max.X), Y: min(r.Max.Y+seam, c.Max.Y)}}.Path())
			reasons, mark := h.binds[j][i], ""
			if len(reasons) > 0 {
				hatch(&c, r, draw.LineStyle{Color: ink, Width: vg.Points(0.5)})
			}
			for _, reason := range reasons {
				if letters {
					mark += letter(slices.Index(h.known, reason))
				}
			}
			if numbers && !math.IsNaN(v) {
				mark = strings.TrimSpace(mark + " " + number(v))
			}
			h.write(&c, r, mark, len(reasons) > 0, !math.IsNaN(v) && h.share(v) > 0.55)
		}
	}
	h.window(&c, box)
	c.StrokeLines(thin, outline(c.Rectangle))
}

// write puts words into a cell, on a ground of their own where it is hatched.
func (h *cells) write(c *draw.Canvas, r vg.Rectangle, mark string, hatched, dark bool) {
	if mark == "" {
		return
	}
	style, middle := tiny, vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
	switch {
	case hatched:
		half := vg.Point{X: style.Width(mark)/2 + vg.Points(1.5), Y: vg.Points(4.5)}
		c.SetColor(color.White)
		c.Fill(vg.Rectangle{Min: vg.Point{X: middle.X - half.X, Y: middle.Y - half.Y}, Max: middle.Add(half)}.Path())
	case dark:
		style.Color = color.White
	}
	c.FillText(style, middle, mark)
}

// window draws the line about the settings at which nothing stands in the way.
func (h *cells) window(c *draw.Canvas, box func(i, j int) vg.Rectangle) {
	free := func(i, j int) bool {
		return j >= 0 && j < len(h.binds) && i >= 0 && i < len(h.binds[j]) && len(h.binds[j][i]) == 0
	}
	if len(h.known) == 0 {
		return
	}
	// First all of it in white, so that it stands out from dark cells.
	for _, style := range []draw.LineStyle{{Color: color.White, Width: 2.2 * strong.Width}, strong} {
		for j := range h.binds {
			for i := range h.binds[j] {
				if !free(i, j) {
					continue
				}
				r := box(i, j)
				for _, side := range []struct {
					open     bool
					from, to vg.Point
				}{
					{free(i-1, j), r.Min, vg.Point{X: r.Min.X, Y: r.Max.Y}},
					{free(i+1, j), vg.Point{X: r.Max.X, Y: r.Min.Y}, r.Max},
					{free(i, j-1), r.Min, vg.Point{X: r.Max.X, Y: r.Min.Y}},
					{free(i, j+1), vg.Point{X: r.Min.X, Y: r.Max.Y}, r.Max},
				} {
					if !side.open {
						c.StrokeLine2(style, side.from.X, side.from.Y, side.to.X, side.to.Y)
					}
				}
			}
		}
	}
}

func outline(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}, r.Min}
}

// scale is the key to the shades, to the right of the map.
type scale struct {
	name      string
	low, high float64
}

const scaleWidth = 14 // points

func (s scale) marks() []plot.Tick {
	if s.low == s.high {
		return []plot.Tick{{Value: s.low, Label: number(s.low)}}
	}
	return ticks{}.Ticks(s.low, s.high)
}

// GlyphBoxes asks for the room beside the map.
func (s scale) GlyphBoxes(*plot.Plot) []plot.GlyphBox {
	widest := vg.Length(0)
	for _, t := range s.marks() {
		widest = max(widest, small.Width(t.Label))
	}
	return []plot.GlyphBox{{X: 1, Rectangle: vg.Rectangle{Max: vg.Point{X: vg.Points(scaleWidth+44) + widest}}}}
}

func (s scale) Plot(c draw.Canvas, _ *plot.Plot) {
	left := c.Max.X + vg.Points(14)
	height := c.Size().Y
	const bands = 64
	for i := range bands {
		r := vg.Rectangle{
			Min: vg.Point{X: left, Y: c.Min.Y + height*vg.Length(i)/bands},
			Max: vg.Point{X: left + vg.Points(scaleWidth), Y: min(c.Min.Y+height*vg.Length(i+1)/bands+vg.Points(0.7), c.Max.Y)},
		}
		c.SetColor(shade((float64(i) + 0.5) / bands))
		c.Fill(r.Path())
	}
	c.StrokeLines(thin, outline(vg.Rectangle{Min: vg.Point{X: left, Y: c.Min.Y}, Max: vg.Point{X: left + vg.Points(scaleWidth), Y: c.Max.Y}}))
	widest := vg.Length(0)
	for _, t := range s.marks() {
		y := c.Min.Y + height/2
		if s.high > s.low {
			y = c.Min.Y + height*vg.Length((t.Value-s.low)/(s.high-s.low))
		}
		c.StrokeLine2(thin, left+vg.Points(scaleWidth), y, left+vg.Points(scaleWidth+3), y)
		c.FillText(small, vg.Point{X: left + vg.Points(scaleWidth+5), Y: y}, t.Label)
		widest = max(widest, small.Width(t.Label))
	}
	name := small
	name.Rotation, name.XAlign, name.YAlign = math.Pi/2, draw.XCenter, draw.YTop
	c.FillText(name, vg.Point{X: left + vg.Points(scaleWidth+10) + widest, Y: c.Min.Y + height/2}, s.name)
}
