package main

import (
	"fmt"
	"image/color"
	"io"
	"os"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
)

// The colours can be told apart by the colour-blind, and every one of them has
// a shape or a dash of its own, so that the chart reads in black and white too.
// Source: M. Okabe and K. Ito, Color Universal Design (2008).
var (
	ink     = color.RGBA{R: 0x22, G: 0x22, B: 0x22, A: 0xff}
	blue    = color.RGBA{R: 0x00, G: 0x72, B: 0xb2, A: 0xff}
	red     = color.RGBA{R: 0xd5, G: 0x5e, B: 0x00, A: 0xff}
	green   = color.RGBA{R: 0x00, G: 0x70, B: 0x55, A: 0xff}
	faint   = color.RGBA{R: 0xee, G: 0xee, B: 0xee, A: 0xff}
	dashes  = []vg.Length{vg.Points(6), vg.Points(4)}
	dots    = []vg.Length{vg.Points(1.5), vg.Points(3)}
	outside = vg.Points(5)
)

const (
	chartWidth = 11 * vg.Inch
	laneHeight = 3.4 * vg.Inch
	topRoom    = 0.2 * vg.Inch
)

// draw writes the chart in the forms asked for.
func (l *line) draw() error {
	var plots []*plot.Plot
	for _, n := range l.order {
		if a := l.lanes[n]; a.watched && len(a.points) > 0 {
			p, err := l.plot(a)
			if err != nil {
				return err
			}
			plots = append(plots, p)
		}
	}
	if len(plots) == 0 {
		return fmt.Errorf("no subgroup was completed: there is nothing to draw")
	}
	height := vg.Length(laneHeight*vg.Length(len(plots))) + topRoom
	if l.svg != "" {
		c := vgsvg.New(chartWidth, height)
		if err := save(l.svg, c, c, plots); err != nil {
			return err
		}
	}
	if l.png != "" {
		c := vgimg.NewWith(vgimg.UseWH(chartWidth, height), vgimg.UseDPI(110))
		if err := save(l.png, c, vgimg.PngCanvas{Canvas: c}, plots); err != nil {
			return err
		}
	}
	return nil
}

// save draws the lanes one below the other and writes the picture.
func save(name string, c vg.CanvasSizer, picture io.WriterTo, plots []*plot.Plot) error {
	tiles := draw.Tiles{Rows: len(plots), Cols: 1, PadTop: topRoom, PadY: vg.Points(6), PadRight: vg.Points(10), PadLeft: vg.Points(6), PadBottom: vg.Points(4)}
	var grid [][]*plot.Plot
	for _, p := range plots {
		grid = append(grid, []*plot.Plot{p})
	}
	canvases := plot.Align(grid, tiles, draw.New(c))
	for i, p := range plots {
		p.Draw(canvases[i][0])
	}
	file, err := os.Create(name)
	if err != nil {
		return err
	}
	if _, err := picture.WriteTo(file); err != nil {
		_ = file.Close() // the first error tells more
		return err
	}
	return file.Close()
}

// plot draws one lane: its points, the limits, the signals and the moves of the mark.
func (l *line) plot(a *lane) (*plot.Plot, error) {
	p := plot.New()
	p.Title.Text = fmt.Sprintf("Lane %d: averages of %d pieces", a.number, a.watch.Setup().Size)
	if a.watch.Setup().Size == 1 {
		p.Title.Text = fmt.Sprintf("Lane %d: single pieces", a.number)
	}
	p.X.Label.Text, p.Y.Label.Text = "point", "weight ("+l.unit+")"
	p.Title.Padding = vg.Points(4)
	p.Legend.Top, p.Legend.Padding = true, vg.Points(2)
	p.X.Tick.Marker = every{5}

	first, last := float64(a.points[0].Number), float64(a.points[len(a.points)-1].Number)
	p.X.Min, p.X.Max = first-0.5, last+0.5
	var all, level, spread plotter.XYs
	low, high := l.value(a.points[0].Low), l.value(a.points[0].High)
	for _, pt := range a.points {
		xy := plotter.XY{X: float64(pt.Number), Y: l.value(pt.Value)}
		all = append(all, xy)
		low, high = min(low, xy.Y), max(high, xy.Y)
		if pt.Signals&^divider.SpreadBeyondLimit != 0 {
			level = append(level, xy)
		}
		if pt.Signals.Has(divider.SpreadBeyondLimit) {
			spread = append(spread, xy)
		}
	}
	room := (high - low) / 6
	p.Y.Min, p.Y.Max = low-float64(room/2), high+float64(3*room) // the notes and the key stand above

	if a.settled > 0 {
		end := first - 0.5 + float64(a.settled)
		ground, err := plotter.NewPolygon(plotter.XYs{{X: first - 0.5, Y: p.Y.Min}, {X: end, Y: p.Y.Min}, {X: end, Y: p.Y.Max}, {X: first - 0.5, Y: p.Y.Max}})
		if err != nil {
			return nil, err
		}
		ground.Color, ground.Width = faint, 0
		p.Add(ground)
		if err := note(p, first-0.3, p.Y.Max-float64(room*0.6), "set-up", ink); err != nil {
			return nil, err
		}
		if last > end {
			if err := note(p, end+0.2, p.Y.Max-float64(room*0.6), "in use", ink); err != nil {
				return nil, err
			}
		}
	}
	pt := a.points[0]
	for _, ln := range []struct {
		name string
		at   doughmath.Mass
		dash []vg.Length
	}{
		{"centre", a.watch.Setup().Centre, nil},
		{"upper limit", pt.High, dashes},
		{"lower limit", pt.Low, dashes},
	} {
		drawn, err := plotter.NewLine(plotter.XYs{{X: p.X.Min, Y: l.value(ln.at)}, {X: p.X.Max, Y: l.value(ln.at)}})
		if err != nil {
			return nil, err
		}
		drawn.LineStyle = draw.LineStyle{Color: ink, Width: vg.Points(1), Dashes: ln.dash}
		p.Add(drawn)
		if err := note(p, p.X.Max+(last-first)/200, l.value(ln.at), ln.name+"\n"+l.show(ln.at), ink); err != nil {
			return nil, err
		}
	}
	for i, m := range a.moves {
		x := max(p.X.Min, float64(m.after)+0.5)
		drawn, err := plotter.NewLine(plotter.XYs{{X: x, Y: p.Y.Min}, {X: x, Y: p.Y.Max}})
		if err != nil {
			return nil, err
		}
		drawn.LineStyle = draw.LineStyle{Color: green, Width: vg.Points(1.5), Dashes: dots}
		p.Add(drawn)
		if i == 0 {
			p.Legend.Add("mark moved", drawn)
		}
		if err := note(p, x+0.2, p.Y.Max-float64(room*1.2), fmt.Sprintf("mark %g to %g", m.from, m.to), green); err != nil {
			return nil, err
		}
	}
	path, err := plotter.NewLine(all)
	if err != nil {
		return nil, err
	}
	path.LineStyle = draw.LineStyle{Color: blue, Width: vg.Points(0.8)}
	p.Add(path)
	for _, marks := range []struct {
		name  string
		at    plotter.XYs
		style draw.GlyphStyle
	}{
		{"subgroup", all, draw.GlyphStyle{Color: blue, Radius: vg.Points(2.5), Shape: draw.CircleGlyph{}}},
		{"level signals", level, draw.GlyphStyle{Color: red, Radius: outside, Shape: draw.PyramidGlyph{}}},
		{"spread signals", spread, draw.GlyphStyle{Color: red, Radius: outside + vg.Points(1.5), Shape: draw.BoxGlyph{}}},
	} {
		if len(marks.at) == 0 {
			continue
		}
		drawn, err := plotter.NewScatter(marks.at)
		if err != nil {
			return nil, err
		}
		drawn.GlyphStyle = marks.style
		p.Add(drawn)
		p.Legend.Add(marks.name, drawn)
	}
	return p, nil
}

// every puts a tick with its number at each multiple of step.
type every struct{ step int }

func (e every) Ticks(low, high float64) (out []plot.Tick) {
	step := e.step
	for (high-low)/float64(step) > 24 {
		step *= 2
	}
	for x := (int(low)/step + 1) * step; float64(x) <= high; x += step {
		out = append(out, plot.Tick{Value: float64(x), Label: strconv.Itoa(x)})
	}
	return out
}

// note writes a few words into the chart, or beside it.
func note(p *plot.Plot, x, y float64, words string, c color.Color) error {
	label, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: x, Y: y}}, Labels: []string{words}})
	if err != nil {
		return err
	}
	label.TextStyle[0].Color = c
	label.TextStyle[0].YAlign = text.YCenter
	p.Add(label)
	return nil
}
