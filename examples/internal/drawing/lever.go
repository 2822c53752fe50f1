package drawing

import (
	"html/template"
	"strconv"
	"strings"
)

// Lever is a lever, a switch or anything else that stands in one of several positions.
type Lever struct {
	ID     string  // its own on the page
	Name   string  // what the shop calls the control
	Places []Place // in its order
}

// Place is one position.
type Place struct {
	Word  string // the shop's word for it
	Means string // what it stands for, "" if the word says so
	Lanes int    // of what sets the number across: so many pieces side by side; 0 otherwise
	Here  bool   // it stands here
}

// mostPlaces is how many positions are drawn: of more, those around the one that counts.
const mostPlaces = 5

// mostLanes is how many pieces side by side are drawn one by one.
const mostLanes = 8

// Draw draws the positions one below the other, the one that counts on black with a pointer.
func (l Lever) Draw() template.HTML {
	const width, row = 50.0, 6.4
	from, to := l.shown()
	c := &canvas{width: width, height: row*float64(to-from) + 0.6}
	for i, p := range l.Places[from:to] {
		y := 0.3 + row*float64(i)
		write := c.text
		if p.Here {
			write = c.reversed
			c.box(5.5, y, width-5.8, row-0.5, "#000")
			c.shape(0.3, y+0.6, 4.9, y+row/2-0.25, 0.3, y+row-1.1)
		} else {
			c.box(5.5, y, width-5.8, row-0.5, "#fff")
		}
		room := width - 8
		if n := p.Lanes; n > 0 && n <= mostLanes {
			for k := range n {
				fill := "#fff"
				if !p.Here {
					fill = "#ddd"
				}
				c.dot(width-3-3.4*float64(n-1-k), y+row/2-0.25, 1.4, fill)
			}
			room -= 3.4*float64(n) + 1.5
		} else if size := wide(p.Means, small) + 4; p.Means != "" && wide(p.Word, plain)*1.12+size < room {
			write(width-1.6, y+row-2, small, room, before, "("+p.Means+")")
			room -= size
		}
		write(7, y+row-1.9, plain, room, after, p.Word)
	}
	return c.figure(l.ID, l.Name+": "+l.at(), l.describe())
}

// shown is which positions are drawn.
func (l Lever) shown() (from, to int) {
	n := len(l.Places)
	if n <= mostPlaces {
		return 0, n
	}
	for i, p := range l.Places {
		if p.Here {
			from = min(max(i-mostPlaces/2, 0), n-mostPlaces)
		}
	}
	return from, from + mostPlaces
}

func (l Lever) at() string {
	for _, p := range l.Places {
		if p.Here {
			return p.Word
		}
	}
	return "left as it is"
}

func (l Lever) describe() string {
	words := make([]string, len(l.Places))
	for i, p := range l.Places {
		words[i] = p.Word
		switch {
		case p.Lanes == 1:
			words[i] += ", 1 piece across"
		case p.Lanes > 1:
			words[i] += ", " + strconv.Itoa(p.Lanes) + " pieces across"
		case p.Means != "":
			words[i] += ", for " + p.Means
		}
	}
	return "Its positions: " + strings.Join(words, "; ") + "."
}

// Fitting draws a part that is in its machine or out of it.
func Fitting(id, name string, in bool) template.HTML {
	const width, height = 50.0, 13.0
	c := &canvas{width: width, height: height}
	// The machine is open to the right, where the part goes in.
	c.line(22, 1, 2, 1, 0.7)
	c.line(2, 1, 2, height-1, 0.7)
	c.line(2, height-1, 22, height-1, 0.7)
	title, says := name+": out", "The part lies beside its machine."
	if in {
		c.box(5, 3, 15, height-6, "#000")
		c.reversed(12.5, height/2+1.5, plain, 15, centre, "in")
		c.line(33, height/2, 26, height/2, 0.7)
		c.shape(26, height/2-1.8, 22.5, height/2, 26, height/2+1.8)
		title, says = name+": in", "The part is in its machine."
	} else {
		c.dashed(5, 3, 19, 3)
		c.dashed(19, 3, 19, height-3)
		c.dashed(19, height-3, 5, height-3)
		c.dashed(5, height-3, 5, 3)
		c.box(28, 3, 15, height-6, "#fff")
		c.bold(35.5, height/2+1.5, plain, 15, centre, "out")
		c.line(20, height/2, 24.5, height/2, 0.7)
		c.shape(24, height/2-1.8, 27.4, height/2, 24, height/2+1.8)
	}
	return c.figure(id, title, says)
}
