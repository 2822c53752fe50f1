// Package drawing draws what hangs at a machine: a scale with its pointer, the positions of a lever, the window of a
// speed, who does what at a changeover, and the day. Each drawing is made from plain data and comes back as SVG to be put into a
// page: black on white, in millimetres, with a title and a description for whoever cannot see it. Nothing is
// read, written or kept.
package drawing

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"
)

// canvas is a drawing under way. Lengths are millimetres; y runs downwards.
type canvas struct {
	strings.Builder
	width, height float64
}

// The sizes of text, in millimetres: the smaller is 11 points, with capitals some 2.8 mm high.
const (
	small = 3.9
	plain = 4.5
)

// letter is how wide a letter is on the average, as a part of its size: a wide face such as DejaVu Sans, so that others
// only leave room.
const letter = 0.62

// figure closes a drawing. The id must be its own on the page.
func (c *canvas) figure(id, title, description string) template.HTML {
	id, title, description = html.EscapeString(id), html.EscapeString(title), html.EscapeString(description)
	return template.HTML(`<svg role="img" aria-labelledby="` + id + `-t ` + id + `-d" viewBox="0 0 ` + num(c.width) + ` ` + num(c.height) + `">` +
		`<title id="` + id + `-t">` + title + `</title><desc id="` + id + `-d">` + description + `</desc>` + c.String() + `</svg>`)
}

// num writes a length to a hundredth of a millimetre; what is no number is none.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64)
}

func (c *canvas) line(x1, y1, x2, y2, thick float64) {
	fmt.Fprintf(c, `<path d="M%s %sL%s %s" stroke="#000" stroke-width="%s" fill="none"/>`, num(x1), num(y1), num(x2), num(y2), num(thick))
}

// dashed is a line that only leads the eye.
func (c *canvas) dashed(x1, y1, x2, y2 float64) {
	fmt.Fprintf(c, `<path d="M%s %sL%s %s" stroke="#000" stroke-width="0.25" stroke-dasharray="1 1" fill="none"/>`, num(x1), num(y1), num(x2), num(y2))
}

// box is a rectangle filled with a colour or a pattern.
func (c *canvas) box(x, y, width, height float64, fill string) {
	fmt.Fprintf(c, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="#000" stroke-width="0.4"/>`, num(x), num(y), num(max(width, 0)), num(max(height, 0)), html.EscapeString(fill))
}

func (c *canvas) shape(points ...float64) {
	c.WriteString(`<path d="M`)
	for i, p := range points {
		if i > 0 {
			c.WriteByte(' ')
		}
		c.WriteString(num(p))
	}
	c.WriteString(`Z" fill="#000"/>`)
}

func (c *canvas) dot(x, y, radius float64, fill string) {
	fmt.Fprintf(c, `<circle cx="%s" cy="%s" r="%s" fill="%s" stroke="#000" stroke-width="0.4"/>`, num(x), num(y), num(radius), fill)
}

// Where a text stands from its place.
const (
	after  = "start"
	centre = "middle"
	before = "end"
)

// clear keeps lines that lead the eye from crossing the letters.
const clear = `paint-order="stroke" stroke="#fff" stroke-width="1" `

// text writes one line with its foot at y, no wider than room: what is longer ends in dots, and stands in full beside the drawing.
func (c *canvas) text(x, y, size, room float64, where, words string) {
	c.write(x, y, size, room, where, clear+`fill="#000"`, words)
}

// bold is text that counts more.
func (c *canvas) bold(x, y, size, room float64, where, words string) {
	c.write(x, y, size, room/1.12, where, clear+`fill="#000" font-weight="bold"`, words)
}

// reversed is bold text on black.
func (c *canvas) reversed(x, y, size, room float64, where, words string) {
	c.write(x, y, size, room/1.12, where, `fill="#fff" font-weight="bold"`, words)
}

func (c *canvas) write(x, y, size, room float64, where, look, words string) {
	fmt.Fprintf(c, `<text x="%s" y="%s" font-size="%s" text-anchor="%s" %s>%s</text>`, num(x), num(y), num(size), where, look, html.EscapeString(clip(words, size, room)))
}

// wide is how wide a text is about.
func wide(words string, size float64) float64 { return float64(len([]rune(words))) * size * letter }

// clip cuts a text to what fits.
func clip(words string, size, room float64) string {
	r := []rune(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, words))
	fits := int(room / (size * letter))
	if len(r) <= fits {
		return string(r)
	}
	return string(r[:max(fits-1, 0)]) + "…"
}

// number writes a number of a scale, without the last digits that binary arithmetic leaves over.
func number(v float64) string { return strconv.FormatFloat(math.Round(v*1e6)/1e6+0, 'f', -1, 64) }
