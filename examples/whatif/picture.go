package main

import (
	"image/color"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.com/dough/examples/internal/tabular"
)

// The colours of lines can be told apart by the colour-blind, and each has a dash and a
// sign of its own, so that a picture reads in black and white too.
// Source: M. Okabe and K. Ito, Color Universal Design (2008).
var (
	ink    = color.RGBA{R: 0x22, G: 0x22, B: 0x22, A: 0xff}
	faint  = color.RGBA{R: 0xdd, G: 0xdd, B: 0xdd, A: 0xff}
	ground = color.RGBA{R: 0xf2, G: 0xf2, B: 0xf2, A: 0xff}
	blue   = color.RGBA{R: 0x00, G: 0x72, B: 0xb2, A: 0xff}
	orange = color.RGBA{R: 0xd5, G: 0x5e, B: 0x00, A: 0xff}

	hands = []hand{
		{blue, nil, draw.CircleGlyph{}},
		{orange, dashed(6, 3), draw.PyramidGlyph{}},
		{color.RGBA{R: 0x00, G: 0x70, B: 0x55, A: 0xff}, dashed(2, 2), draw.BoxGlyph{}},
		{color.RGBA{R: 0xa0, G: 0x50, B: 0x80, A: 0xff}, dashed(8, 3, 2, 3), draw.RingGlyph{}},
		{color.RGBA{R: 0x80, G: 0x60, B: 0x00, A: 0xff}, dashed(12, 3), draw.TriangleGlyph{}},
		{ink, dashed(4, 2, 1, 2, 1, 2), draw.SquareGlyph{}},
	}
)

// hand is how one of several lines is drawn.
type hand struct {
	color color.Color
	dash  []vg.Length
	sign  draw.GlyphDrawer
}

func dashed(points ...float64) (out []vg.Length) {
	for _, p := range points {
		out = append(out, vg.Points(p))
	}
	return out
}

const (
	pictureWidth  = 8 * vg.Inch
	pictureHeight = 5 * vg.Inch
	margin        = 10 // points
	rowHeight     = 12 // points, of a row of words
)

var (
	small  = text.Style{Color: ink, Font: font.From(plot.DefaultFont, 10), YAlign: draw.YCenter, Handler: plot.DefaultTextHandler}
	tiny   = text.Style{Color: ink, Font: font.From(plot.DefaultFont, 8), YAlign: draw.YCenter, XAlign: draw.XCenter, Handler: plot.DefaultTextHandler}
	thin   = draw.LineStyle{Color: ink, Width: vg.Points(0.8)}
	strong = draw.LineStyle{Color: ink, Width: vg.Points(2)}
)

// newPlot is a plot in our look: a title to the left, faint lines behind, no box.
func newPlot(title, x, y string) *plot.Plot {
	p := plot.New()
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, x, y
	p.Title.TextStyle.Font = font.From(plot.DefaultFont, 13)
	p.Title.Padding = vg.Points(8)
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font, a.Tick.Label.Font = font.From(plot.DefaultFont, 11), font.From(plot.DefaultFont, 10)
		a.Label.TextStyle.Color, a.Tick.Label.Color, a.Color, a.Tick.Color = ink, ink, ink, ink
		a.Label.Padding, a.Padding = vg.Points(5), vg.Points(4)
		a.Tick.Marker = ticks{}
	}
	return p
}

var orderNamed = regexp.MustCompile(`^orders\[([^\]]*[^0-9\]][^\]]*)\]`)

// words is a path as a person reads it: "shift: tap", and "Star bun: water temp" for that of an order.
func words(path string) string {
	return strings.NewReplacer("_", " ", ".", ": ").Replace(orderNamed.ReplaceAllString(path, "$1"))
}

// ticks puts a number at each round value, with as many decimals as they need.
type ticks struct{}

func (ticks) Ticks(low, high float64) (out []plot.Tick) {
	step := math.Pow(10, math.Floor(math.Log10((high-low)/4)))
	for _, k := range []float64{1, 2, 2.5, 5, 10} {
		if (high-low)/(step*k) <= 8 {
			step *= k
			break
		}
	}
	for i := math.Ceil(low/step - 1e-9); i*step <= high+1e-9*step; i++ {
		out = append(out, plot.Tick{Value: i * step, Label: number(i * step)})
	}
	return out
}

// number is x with four significant digits.
func number(x float64) string { return string(tabular.AppendRounded(nil, x)) }

// save writes the picture to the file, as its ending says: whole or not at all. It is higher by so many
// rows of words.
func save(name string, p *plot.Plot, rows int) error {
	height := pictureHeight + vg.Points(float64(rowHeight*rows))
	var c vg.CanvasSizer
	var picture io.WriterTo
	if filepath.Ext(name) == ".svg" {
		svg := vgsvg.New(pictureWidth, height)
		c, picture = svg, svg
	} else {
		img := vgimg.NewWith(vgimg.UseWH(pictureWidth, height), vgimg.UseDPI(110))
		c, picture = img, vgimg.PngCanvas{Canvas: img}
	}
	page := draw.New(c)
	page.SetColor(color.White)
	page.Fill(page.Path())
	room := vg.Points(margin)
	p.Draw(draw.Crop(page, room, -room, room, -room))
	return tabular.Write(name, nil, func(w io.Writer) error {
		_, err := picture.WriteTo(w)
		return err
	})
}

// backdrop draws faint lines at the ticks, behind all else.
type backdrop struct{ x, y bool }

func (b backdrop) Plot(c draw.Canvas, p *plot.Plot) {
	atX, atY := p.Transforms(&c)
	style := draw.LineStyle{Color: faint, Width: vg.Points(0.5)}
	for _, t := range p.X.Tick.Marker.Ticks(p.X.Min, p.X.Max) {
		if b.x && t.Label != "" {
			c.StrokeLine2(style, atX(t.Value), c.Min.Y, atX(t.Value), c.Max.Y)
		}
	}
	for _, t := range p.Y.Tick.Marker.Ticks(p.Y.Min, p.Y.Max) {
		if b.y && t.Label != "" {
			c.StrokeLine2(style, c.Min.X, atY(t.Value), c.Max.X, atY(t.Value))
		}
	}
}

// hatch fills a rectangle with slanted lines, which read without any colour.
func hatch(c *draw.Canvas, r vg.Rectangle, style draw.LineStyle) {
	step := vg.Points(6)
	// Lines of all rectangles lie on one lattice, so that neighbours join.
	for k := vg.Length(math.Floor(float64((r.Min.X+r.Min.Y)/step))) * step; k < r.Max.X+r.Max.Y; k += step {
		from, to := max(r.Min.X, k-r.Max.Y), min(r.Max.X, k-r.Min.Y)
		if from < to {
			c.StrokeLine2(style, from, k-from, to, k-to)
		}
	}
}

// notes are lines of words in the room that they ask for, below the axis.
type notes []string

// room is what the notes need above or beside a plot.
func (n notes) room() vg.Length { return vg.Points(float64(rowHeight * len(n))) }

// GlyphBoxes asks for the room above the plot.
func (n notes) GlyphBoxes(*plot.Plot) []plot.GlyphBox {
	return []plot.GlyphBox{{Y: 1, Rectangle: vg.Rectangle{Max: vg.Point{Y: n.room() + vg.Points(4)}}}}
}

// Plot writes them above the plot.
func (n notes) Plot(c draw.Canvas, _ *plot.Plot) {
	for i, line := range n {
		y := c.Max.Y + n.room() - vg.Points(float64(rowHeight*i)) - vg.Points(rowHeight/2) + vg.Points(4)
		c.FillText(small, vg.Point{X: c.Min.X, Y: y}, line)
	}
}
