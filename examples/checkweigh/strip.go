package main

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The strip stands above a lane's chart, where no point can come in its way. It
// holds the key and, below it, the labels of the set-up and of the moves.
type strip struct {
	keys     []key
	labels   []label // from left to right
	rows     int
	numbered bool // the moves have numbers in place of words
}

// key explains one sign of the chart.
type key struct {
	words string
	sign  func(c *draw.Canvas, at vg.Point)
}

// label is a few words about a place on the chart.
type label struct {
	x     float64
	words string
	moves []int // numbers of the moves that it is about; none for the set-up
	row   int   // above the chart, counted from 0
}

const (
	rowHeight = 12 // points, of a row of words and of the key
	wordGap   = 4  // points between words and what stands beside them
	mostRows  = 6  // of labels: more of them would be higher than they are of use
)

var (
	small     = text.Style{Color: ink, Font: font.From(plot.DefaultFont, 10), YAlign: draw.YCenter, Handler: plot.DefaultTextHandler}
	moveStyle = draw.LineStyle{Color: green, Width: vg.Points(1.5), Dashes: dots}
)

// arrange gives each label its row, for a chart on which at is the place of x.
// If the moves come too close together for words they get numbers, and of
// those that stand too close the later ones are left out and their lines cut short.
func (s *strip) arrange(at func(x float64) vg.Length) {
	s.stagger(at)
	if s.rows <= mostRows {
		return
	}
	s.numbered, s.rows = true, 2
	end := at(s.labels[0].x) - vg.Points(rowHeight)
	for i := range s.labels {
		m := &s.labels[i]
		m.row = 1 // the words of the set-up stand above the numbers
		if len(m.moves) == 0 {
			continue
		}
		m.row, m.words = 0, numbers(m.moves)
		half := small.Width(m.words) / 2
		if at(m.x)-half < end+vg.Points(wordGap) {
			m.words = ""
			continue
		}
		end = at(m.x) + half
	}
}

// stagger puts a label one row above all those that begin under its words, so
// that the lines of these end below it and no two labels touch.
func (s *strip) stagger(at func(x float64) vg.Length) {
	s.rows = 0
	for i := len(s.labels) - 1; i >= 0; i-- {
		m := &s.labels[i]
		end := at(m.x) + vg.Points(2*wordGap) + small.Width(m.words)
		m.row = 0
		for _, later := range s.labels[i+1:] {
			if at(later.x) < end {
				m.row = max(m.row, later.row+1)
			}
		}
		s.rows = max(s.rows, m.row+1)
	}
}

// numbers shows the numbers of moves that follow one another.
func numbers(moves []int) string {
	if len(moves) == 1 {
		return fmt.Sprint(moves[0])
	}
	return fmt.Sprintf("%d-%d", moves[0], moves[len(moves)-1])
}

// height is how much room the strip takes above the chart.
func (s *strip) height() vg.Length { return vg.Points(float64(rowHeight*(s.rows+1)) + 2*wordGap) }

// rowAt is the middle of a row of labels above the chart's upper edge.
func rowAt(c *draw.Canvas, row int) vg.Length {
	return c.Max.Y + vg.Points(wordGap+float64(rowHeight*row)+rowHeight/2)
}

// GlyphBoxes asks for the strip's room above the chart, and beside it for words at its end.
func (s *strip) GlyphBoxes(p *plot.Plot) []plot.GlyphBox {
	out := []plot.GlyphBox{{Y: 1, Rectangle: vg.Rectangle{Max: vg.Point{Y: s.height()}}}}
	for _, m := range s.labels {
		out = append(out, plot.GlyphBox{X: p.X.Norm(m.x), Rectangle: vg.Rectangle{Max: vg.Point{X: vg.Points(wordGap) + small.Width(m.words)}}})
	}
	return out
}

// Plot draws the strip, and the lines of the moves through the chart below.
func (s *strip) Plot(c draw.Canvas, p *plot.Plot) {
	s.drawKey(&c)
	at, _ := p.Transforms(&c)
	for _, m := range s.labels {
		x, style, words := at(m.x), small, vg.Point{X: at(m.x) + vg.Points(wordGap), Y: rowAt(&c, m.row)}
		if len(m.moves) > 0 {
			style.Color = green
			from, to := c.Min.Y, words.Y+vg.Points(wordGap)
			if s.numbered {
				words.X, style.XAlign, to = x, draw.XCenter, c.Max.Y+vg.Points(wordGap)
			}
			if m.words == "" { // one of so many that whole lines would hide the points
				from = c.Max.Y - vg.Points(wordGap)
			}
			c.StrokeLine2(moveStyle, x, from, x, to)
		}
		c.FillText(style, words, m.words)
	}
}

func (s *strip) drawKey(c *draw.Canvas) {
	place := vg.Point{X: c.Min.X + vg.Points(wordGap), Y: rowAt(c, s.rows) + vg.Points(wordGap)}
	for _, k := range s.keys {
		place.X += vg.Points(wordGap)
		k.sign(c, place)
		place.X += vg.Points(2.5 * wordGap)
		c.FillText(small, place, k.words)
		place.X += small.Width(k.words) + vg.Points(4*wordGap)
	}
}

// glyphKey is the key to a sign that stands at points.
func glyphKey(words string, style draw.GlyphStyle) key {
	return key{words, func(c *draw.Canvas, at vg.Point) { c.DrawGlyphNoClip(style, at) }}
}

// moveKey is the key to the lines of the moves.
func (s *strip) moveKey() key {
	words := "mark moved"
	if s.numbered {
		words += " (the text says what each number is)"
	}
	return key{words, func(c *draw.Canvas, at vg.Point) {
		c.StrokeLine2(moveStyle, at.X, at.Y-vg.Points(rowHeight/2), at.X, at.Y+vg.Points(rowHeight/2))
	}}
}

// moveLabels returns a label for each place where the mark moved; moves
// between the same two points share one.
func moveLabels(all []move, seen []laneMove, left float64) (out []label) {
	for _, s := range seen {
		m, x := all[s.number-1], max(left, float64(s.after)+0.5)
		to := fmt.Sprintf(" to %g", m.to)
		if last := len(out) - 1; last >= 0 && out[last].x == x {
			out[last].words += to
			out[last].moves = append(out[last].moves, s.number)
			continue
		}
		out = append(out, label{x: x, words: fmt.Sprintf("mark %g", m.from) + to, moves: []int{s.number}})
	}
	return out
}

// sides are the names of the centre and the limits, to the right of the chart.
type sides []side

// side is a name at a height.
type side struct {
	words string
	y     float64
}

// GlyphBoxes asks for the room that the names take.
func (s sides) GlyphBoxes(*plot.Plot) (out []plot.GlyphBox) {
	for _, n := range s {
		out = append(out, plot.GlyphBox{X: 1, Rectangle: vg.Rectangle{Max: vg.Point{X: vg.Points(wordGap) + widest(n.words)}}})
	}
	return out
}

// widest is the width of the longest line of some words.
func widest(words string) (w vg.Length) {
	for line := range strings.SplitSeq(words, "\n") {
		w = max(w, small.Width(line))
	}
	return w
}

// Plot writes the names from the lowest to the highest, each in a row of its
// own where the limits lie too close together for that.
func (s sides) Plot(c draw.Canvas, p *plot.Plot) {
	_, at := p.Transforms(&c)
	middle := len(s) / 2
	for i, n := range s {
		y := at(n.y)
		switch away := vg.Points(float64(rowHeight * (i - middle))); {
		case i < middle:
			y = min(y, at(s[middle].y)+away)
		case i > middle:
			y = max(y, at(s[middle].y)+away)
		}
		c.FillText(small, vg.Point{X: c.Max.X + vg.Points(wordGap), Y: y}, n.words)
	}
}
