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
	w        tabular.Writer
	columns  []whatif.Column
	words    []string
	inTheWay func(*whatif.Row) string // nil if nothing must be so

	// Of a table, for people:
	held    []whatif.Row  // the first rows, until it is known what they have in common
	table   bool          // and they are held
	shared  []reckon.Note // conditions of every scenario: said once
	met     []reckon.Note
	careful reckon.Cautions
}

// mostHeld is how many rows of a table are looked at for what they have in common.
const mostHeld = 500

// New writes to out in the format "table", "csv" or "jsonl". If inTheWay is not
// nil, a column says what it says of each row: what keeps it from being one that is wanted.
func New(format string, out io.Writer, c *whatif.Compiled, inTheWay func(*whatif.Row) string) (*Writer, error) {
	r := &Writer{columns: c.Columns(), table: format == "table", inTheWay: inTheWay}
	head := []tabular.Column{{Name: "scenario"}}
	for _, k := range r.columns {
		head = append(head, tabular.Column{Name: k.Path, Unit: k.Unit})
	}
	if inTheWay != nil {
		head = append(head, tabular.Column{Name: "in_the_way"})
	}
	head = append(head, tabular.Column{Name: "conditions"}, tabular.Column{Name: "error"})
	var err error
	r.w, err = tabular.New(format, out, head)
	return r, err
}

// Write writes one row. It keeps none that the loop of a study writes over.
func (r *Writer) Write(row *whatif.Row) error {
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
func (r *Writer) release() error {
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
func (r *Writer) share() {
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

func (r *Writer) put(row *whatif.Row) error {
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
	if r.inTheWay != nil {
		r.w.Text(r.inTheWay(row))
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

// Close ends the rows. Below a table stand the sentences that a person must not miss.
func (r *Writer) Close() error {
	if r.table {
		r.share()
		if err := r.release(); err != nil {
			return err
		}
	}
	return r.w.Close(AppendNotes(nil, r.shared, r.met, r.careful))
}

// AppendNotes appends the sentences behind the words.
func AppendNotes(b []byte, shared, met []reckon.Note, careful reckon.Cautions) []byte {
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
