package main

import (
	"cmp"
	"errors"
	"fmt"
	"image/color"
	"io"
	"slices"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/tabular"
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
	laneHeight = 3 * vg.Inch // without the strip above
	topRoom    = 0.2 * vg.Inch
	sideRoom   = 16 // points, on both sides together
)

// picture writes the chart in the forms asked for.
func (l *line) picture() error {
	if !l.pictured() {
		return nil
	}
	if l.drawn > mostDrawn {
		return fmt.Errorf("more than %d points and moves: no picture was drawn; draw one of fewer rows", mostDrawn)
	}
	plots, strips, err := l.plots()
	if err != nil {
		return err
	}
	height := topRoom
	numbered := false
	for _, s := range strips {
		height = max(height, topRoom+vg.Length(len(strips))*(laneHeight+s.height()))
		numbered = numbered || s.numbered
	}
	if numbered {
		for i, m := range l.moves {
			fmt.Fprintf(l.out, "move %d in the chart: mark %g to %g\n", i+1, m.from, m.to)
		}
	}
	if l.svg != "" {
		c := vgsvg.New(chartWidth, height)
		if err := save(l.svg, c, c, plots); err != nil {
			return err
		}
	}
	if l.png != "" {
		c := vgimg.NewWith(vgimg.UseWH(chartWidth, height), vgimg.UseDPI(110))
		return save(l.png, c, vgimg.PngCanvas{Canvas: c}, plots)
	}
	return nil
}

// mostPictured is how many lanes a picture holds: more than any divider has across.
const mostPictured = 40

// plots returns the chart of each lane that has points, and the strip above it.
func (l *line) plots() (plots []*plot.Plot, strips []*strip, err error) {
	watched := false
	for _, n := range l.order {
		a := l.lanes[n]
		watched = watched || a.watched
		if !a.watched || len(a.points) == 0 {
			continue
		}
		p, s, err := l.plot(a)
		if err != nil {
			return nil, nil, err
		}
		plots, strips = append(plots, p), append(strips, s)
	}
	switch {
	case len(plots) > mostPictured:
		return nil, nil, fmt.Errorf("%d lanes have charts: no picture was drawn; one holds %d", len(plots), mostPictured)
	case !watched:
		return nil, nil, errors.New("no lane has enough weighings for a chart: no picture was drawn")
	case len(plots) == 0:
		return nil, nil, errors.New("no subgroup was completed: no picture was drawn")
	}
	return plots, strips, nil
}

// save draws the lanes one below the other and writes the picture.
func save(name string, c vg.CanvasSizer, picture io.WriterTo, plots []*plot.Plot) error {
	tiles := draw.Tiles{Rows: len(plots), Cols: 1, PadTop: topRoom, PadY: vg.Points(6), PadRight: vg.Points(sideRoom - 6), PadLeft: vg.Points(6), PadBottom: vg.Points(4)}
	var grid [][]*plot.Plot
	for _, p := range plots {
		grid = append(grid, []*plot.Plot{p})
	}
	canvases := plot.Align(grid, tiles, draw.New(c))
	for i, p := range plots {
		p.Draw(canvases[i][0])
	}
	err := tabular.Write(name, nil, func(w io.Writer) error {
		_, err := picture.WriteTo(w)
		return err
	})
	if err != nil {
		return &broken{err}
	}
	return nil
}

// plot draws one lane: its points, the limits, the signals and the moves of the
// mark. It returns how high the strip above it is, too.
func (l *line) plot(a *lane) (*plot.Plot, *strip, error) {
	p := plot.New()
	p.Title.Text = fmt.Sprintf("Lane %d: averages of %d pieces", a.number, a.watch.Setup().SubgroupSize)
	if a.watch.Setup().SubgroupSize == 1 {
		p.Title.Text = fmt.Sprintf("Lane %d: single pieces", a.number)
	}
	p.X.Label.Text, p.Y.Label.Text = "point", "weight ("+l.unit+")"
	p.X.Tick.Marker = every{5}
	box := l.frame(a)
	s := &strip{}
	for _, part := range []func() error{
		func() error { return addSetUp(p, s, a, box) },
		func() error { return l.addLimits(p, a, box) },
		func() error { return l.addPoints(p, s, a) },
	} {
		if err := part(); err != nil {
			return nil, nil, err
		}
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = box.left, box.right, box.low, box.high
	l.addMoves(p, s, a, box)
	return p, s, nil
}

// frame is what a lane's chart spans, in points and in the unit shown.
type frame struct{ left, right, low, high float64 }

// frame returns the span of a lane's points and limits, with a little room.
func (l *line) frame(a *lane) frame {
	f := frame{
		left: float64(a.points[0].Point) - 0.5, right: float64(a.points[len(a.points)-1].Point) + 0.5,
		low: l.value(a.points[0].Low), high: l.value(a.points[0].High),
	}
	for _, pt := range a.points {
		f.low, f.high = min(f.low, l.value(pt.Value)), max(f.high, l.value(pt.Value))
	}
	room := (f.high - f.low) / 12
	f.low, f.high = f.low-room, f.high+room
	return f
}

// addSetUp puts a ground behind the points that set the limits.
func addSetUp(p *plot.Plot, s *strip, a *lane, f frame) error {
	if a.settled == 0 {
		return nil
	}
	end := f.left + float64(a.settled)
	ground, err := plotter.NewPolygon(plotter.XYs{{X: f.left, Y: f.low}, {X: end, Y: f.low}, {X: end, Y: f.high}, {X: f.left, Y: f.high}})
	if err != nil {
		return err
	}
	ground.Color, ground.Width = faint, 0
	p.Add(ground)
	s.labels = append(s.labels, label{x: f.left, words: "set-up"})
	if f.right > end {
		s.labels = append(s.labels, label{x: end, words: "in use"})
	}
	return nil
}

// addLimits draws the centre and the limits.
func (l *line) addLimits(p *plot.Plot, a *lane, f frame) error {
	var names sides
	for _, ln := range []struct {
		name string
		at   unit.Mass
		dash []vg.Length
	}{
		{"lower limit", a.points[0].Low, dashes},
		{"centre", a.watch.Setup().Centre, nil},
		{"upper limit", a.points[0].High, dashes},
	} {
		drawn, err := plotter.NewLine(plotter.XYs{{X: f.left, Y: l.value(ln.at)}, {X: f.right, Y: l.value(ln.at)}})
		if err != nil {
			return err
		}
		drawn.LineStyle = draw.LineStyle{Color: ink, Width: vg.Points(1), Dashes: ln.dash}
		p.Add(drawn)
		names = append(names, side{ln.name + " " + l.show(ln.at), l.value(ln.at)})
	}
	p.Add(names)
	return nil
}

// addPoints draws the points, joined, and the signals about them.
func (l *line) addPoints(p *plot.Plot, s *strip, a *lane) error {
	var all, level, spread plotter.XYs
	for _, pt := range a.points {
		xy := plotter.XY{X: float64(pt.Point), Y: l.value(pt.Value)}
		all = append(all, xy)
		if pt.Signals&^divider.SpreadBeyondLimit != 0 {
			level = append(level, xy)
		}
		if pt.Signals.Has(divider.SpreadBeyondLimit) {
			spread = append(spread, xy)
		}
	}
	path, err := plotter.NewLine(all)
	if err != nil {
		return err
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
			return err
		}
		drawn.GlyphStyle = marks.style
		p.Add(drawn)
		s.keys = append(s.keys, glyphKey(marks.name, marks.style))
	}
	return nil
}

// addMoves arranges the labels of the moves. The plot's range must be known.
func (l *line) addMoves(p *plot.Plot, s *strip, a *lane, f frame) {
	s.labels = append(s.labels, moveLabels(l.moves, a.moves, f.left)...)
	slices.SortStableFunc(s.labels, func(a, b label) int { return cmp.Compare(a.x, b.x) })
	p.Add(s)
	// The lanes are drawn to one scale, or nearly: the labels' rows follow from the width alone.
	page := p.DataCanvas(draw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: chartWidth - sideRoom, Y: laneHeight}}})
	at, _ := p.Transforms(&page)
	s.arrange(at)
	if len(a.moves) > 0 {
		s.keys = append(s.keys, s.moveKey())
	}
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
