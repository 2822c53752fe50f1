package doughmath

import (
	"cmp"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// itemLines are lines of a sheet, some of them about an item with a name. A
// name is anybody's text and may hold what divides a line, so it goes before
// the words of a step only when the line has been read.
type itemLines struct{ names, lines []string }

// line adds lines about no item in particular.
func (l *itemLines) line(lines ...string) {
	l.names = append(l.names, make([]string, len(lines))...)
	l.lines = append(l.lines, lines...)
}

// item adds lines about item n, counted from 1: every # in them stands for n.
func (l *itemLines) item(n int, name string, lines ...string) {
	for _, text := range lines {
		l.names = append(l.names, name)
		l.lines = append(l.lines, strings.ReplaceAll(text, "#", strconv.Itoa(n)))
	}
}

// show records the lines, all at once: one by one they would look at every earlier step again.
func (l *itemLines) show(w *reckon.Working, answer any) {
	if w == nil {
		return
	}
	first := len(w.Steps)
	w.Lines(answer, l.lines...)
	for i, name := range l.names {
		if name != "" {
			w.Steps[first+i].ID = name + ", " + w.Steps[first+i].ID
		}
	}
}

func plus(sum, term string) string {
	if sum == "" {
		return term
	}
	return sum + " + " + term
}

// sumOf is a sum of terms, of which there may be none.
func sumOf(terms string) string { return cmp.Or(terms, "0") }
