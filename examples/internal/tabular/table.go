package tabular

import (
	"bufio"
	"math"
	"strings"
	"unicode/utf8"
)

// tableWriter writes aligned columns for people, numbers rounded. It looks at the
// first rows for the widths and then lets rows through as they come.
type tableWriter struct {
	w       *bufio.Writer
	row     []string
	first   [][]string
	widths  []int
	numbers []bool // columns that hold a number somewhere in the first rows
}

const lookAhead = 200

func newTable(w *bufio.Writer, columns []Column) *tableWriter {
	t := &tableWriter{w: w, numbers: make([]bool, len(columns))}
	for _, c := range columns {
		t.Text(c.Title())
	}
	_ = t.End() // it is only kept so far
	return t
}

func (t *tableWriter) Number(x float64) {
	cell := ""
	if !math.IsNaN(x) {
		cell = string(AppendRounded(nil, x))
		t.numbers[len(t.row)] = true
	}
	t.row = append(t.row, cell)
}

func (t *tableWriter) Text(s string) { t.row = append(t.row, Harmless(s, false)) }

func (t *tableWriter) Words(words []string) { t.Text(strings.Join(words, " ")) }

func (t *tableWriter) Refused(err error, _ func() any) {
	if err == nil {
		t.Text("")
		return
	}
	t.Text(strings.ReplaceAll(err.Error(), "\n", "; "))
}

func (t *tableWriter) End() error {
	row := t.row
	t.row = nil
	if t.widths != nil {
		return t.line(row)
	}
	if t.first = append(t.first, row); len(t.first) <= lookAhead {
		return nil
	}
	return t.begin()
}

func (t *tableWriter) begin() error {
	t.widths = make([]int, len(t.numbers))
	for _, row := range t.first {
		for i, cell := range row[:max(0, len(row)-1)] { // the last column needs no width
			t.widths[i] = max(t.widths[i], utf8.RuneCountInString(cell))
		}
		last := len(row) - 1
		if last >= 0 && t.numbers[last] {
			t.widths[last] = max(t.widths[last], utf8.RuneCountInString(row[last]))
		}
	}
	for _, row := range t.first {
		if err := t.line(row); err != nil {
			return err
		}
	}
	t.first = nil
	return nil
}

// line puts numbers to the right of their columns and words to the left.
func (t *tableWriter) line(row []string) error {
	var b strings.Builder
	for i, cell := range row {
		room := strings.Repeat(" ", max(0, t.widths[i]-utf8.RuneCountInString(cell)))
		if t.numbers[i] {
			b.WriteString(room + cell)
		} else {
			b.WriteString(cell + room)
		}
		b.WriteString("  ")
	}
	_, err := t.w.WriteString(strings.TrimRight(b.String(), " ") + "\n")
	return err
}

func (t *tableWriter) Close(notes []byte) error {
	if t.widths == nil {
		if err := t.begin(); err != nil {
			return err
		}
	}
	if _, err := t.w.Write(notes); err != nil {
		return err
	}
	return t.w.Flush()
}
