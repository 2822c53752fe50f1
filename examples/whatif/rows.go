package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/tabular"
)

// rowWriter writes the rows of a study.
type rowWriter struct {
	w       tabular.Writer
	columns []whatif.Column
	words   []string
	window  *window // what must be so, if anything must

	// Of a table, for people:
	held    []whatif.Row  // the first rows, until it is known what they have in common
	table   bool          // and they are held
	shared  []reckon.Note // conditions of every scenario: said once
	met     []reckon.Note
	careful reckon.Cautions
}

// mostHeld is how many rows of a table are looked at for what they have in common.
const mostHeld = 500

func newRowWriter(format string, out io.Writer, c *whatif.Compiled, w *window) (*rowWriter, error) {
	r := &rowWriter{columns: c.Columns(), table: format == "table", window: w}
	head := []tabular.Column{{Name: "scenario"}}
	for _, k := range r.columns {
		head = append(head, tabular.Column{Name: k.Path, Unit: k.Unit})
	}
	if w.asks() {
		head = append(head, tabular.Column{Name: "in_the_way"})
	}
	head = append(head, tabular.Column{Name: "conditions"}, tabular.Column{Name: "error"})
	var err error
	r.w, err = tabular.New(format, out, head)
	return r, err
}

func (r *rowWriter) write(row *whatif.Row) error {
	if !r.table {
		return r.put(row)
	}
	r.careful |= row.Cautions()
	if r.held = append(r.held, row.Clone()); len(r.held) <= mostHeld {
		return nil
	}
	return r.release()
}

// release writes what was held, and from then on every row as it comes.
func (r *rowWriter) release() error {
	r.table = false
	for i := range r.held {
		if err := r.put(&r.held[i]); err != nil {
			return err
		}
	}
	r.held = nil
	return nil
}

// share finds the conditions that every scenario has which has an answer.
func (r *rowWriter) share() {
	answered := 0
	counts := map[reckon.Note]int{}
	var order []reckon.Note
	for i := range r.held {
		if r.held[i].Err() != nil {
			continue
		}
		answered++
		for _, n := range reckon.Distinct(r.held[i].Conditions()) {
			if counts[n]++; counts[n] == 1 {
				order = append(order, n)
			}
		}
	}
	if answered < 2 {
		return
	}
	for _, n := range order {
		if counts[n] == answered {
			r.shared = append(r.shared, n)
		}
	}
}

func (r *rowWriter) put(row *whatif.Row) error {
	r.w.Number(float64(row.Index))
	for i, c := range r.columns {
		switch v := row.Values[i]; {
		case c.Kind == whatif.Word:
			r.w.Text(row.Word(i))
		case c.Kind == whatif.Flag && !math.IsNaN(v):
			r.w.Text(strconv.FormatBool(v != 0))
		default:
			r.w.Number(v)
		}
	}
	if r.window.asks() {
		r.w.Text(strings.Join(r.window.binds(row), " and "))
	}
	r.words = r.words[:0]
	for _, c := range row.Conditions() {
		if slices.Contains(r.shared, c.Note) || slices.Contains(r.words, c.Word) {
			continue
		}
		r.words = append(r.words, c.Word)
		if !slices.Contains(r.met, c.Note) {
			r.met = append(r.met, c.Note)
		}
	}
	r.w.Words(r.words)
	r.w.Refused(row.Err(), func() any { return row.Refusals() })
	return r.w.End()
}

// close ends the rows. Below a table stand the sentences that a person must not miss.
func (r *rowWriter) close() error {
	if r.table {
		r.share()
		if err := r.release(); err != nil {
			return err
		}
	}
	return r.w.Close(appendNotes(nil, r.shared, r.met, r.careful))
}

// appendNotes appends the sentences behind the words.
func appendNotes(b []byte, shared, met []reckon.Note, careful reckon.Cautions) []byte {
	add := func(title string, notes []reckon.Note) {
		if len(notes) > 0 {
			b = append(b, "\n"+title+"\n"...)
		}
		for _, n := range notes {
			b = append(b, "  "+n.Word+": "+n.Says+"\n"...)
		}
	}
	add("Look out in every scenario for", shared)
	add("Look out for", met)
	add("Take care", careful.Notes())
	if careful != 0 {
		b = append(b, "  "+reckon.CautionDeference+"\n"...)
	}
	return b
}

// writeAligned writes cells below one another.
func writeAligned(w io.Writer, rows [][]string) {
	var widths []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			line.WriteString(cell + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell)+2))
		}
		fmt.Fprintln(w, strings.TrimRight(line.String(), " "))
	}
}
