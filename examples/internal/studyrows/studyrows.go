// Package studyrows writes the rows of a study, so that every program writes them alike.
package studyrows

import (
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/tabular"
)

// A Writer writes the rows of one study.
type Writer struct {
	w       tabular.Writer
	columns []whatif.Column
	table   bool
	words   []string
	met     []reckon.Note
	careful reckon.Cautions
}

// New writes to out in the format "table", "csv" or "jsonl".
func New(format string, out io.Writer, c *whatif.Compiled) (*Writer, error) {
	r := &Writer{columns: c.Columns(), table: format == "table"}
	head := []tabular.Column{{Name: "scenario"}}
	for _, k := range r.columns {
		head = append(head, tabular.Column{Name: k.Path, Unit: k.Unit})
	}
	head = append(head, tabular.Column{Name: "conditions"}, tabular.Column{Name: "error"})
	var err error
	r.w, err = tabular.New(format, out, head)
	return r, err
}

// Write writes one row.
func (r *Writer) Write(row *whatif.Row) error {
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
	r.words = r.words[:0]
	for _, c := range row.Conditions() {
		if !slices.Contains(r.words, c.Word) {
			r.words = append(r.words, c.Word)
		}
		if r.table && !slices.Contains(r.met, c.Note) {
			r.met = append(r.met, c.Note)
		}
	}
	if r.table {
		r.careful |= row.Cautions()
	}
	r.w.Words(r.words)
	r.w.Refused(row.Err())
	return r.w.End()
}

// Close ends the rows. Below a table stand the sentences that a person must not miss.
func (r *Writer) Close() error {
	var b []byte
	add := func(title string, notes []reckon.Note) {
		if len(notes) > 0 {
			b = append(b, "\n"+title+"\n"...)
		}
		for _, n := range notes {
			b = append(b, "  "+n.Word+": "+n.Says+"\n"...)
		}
	}
	add("Look out for", r.met)
	add("Take care", r.careful.Notes())
	if r.careful != 0 {
		b = append(b, "  "+reckon.CautionDeference+"\n"...)
	}
	return r.w.Close(b)
}

// Refusal says in a few words what stands in the way of an answer.
func Refusal(r *whatif.Refusal) string {
	text := ""
	switch {
	case r.Unknown != "":
		text = "no " + r.Unknown
	case r.Field != "":
		text = r.Field + " is " + r.Value
	default:
		text = r.Advice
	}
	if r.At != "" {
		text = r.At + ": " + text
	}
	return strings.TrimSpace(text)
}
