package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
)

// row is one row of a table of weighings.
type row struct {
	line    int
	lane    int // 1 if the table has no such column
	mark    float64
	hasMark bool
	pieces  int
	weight  unit.Mass
}

// badCell is a cell that cannot be read.
type badCell struct{ column, value, want string }

// badRow is what cannot be read in one row, in the order of its columns.
type badRow struct {
	line  int
	cells []badCell
	long  error // if nothing in it was read
}

func (b *badRow) Error() string {
	if b.long != nil {
		return b.long.Error()
	}
	cells := make([]string, len(b.cells))
	for i, c := range b.cells {
		cells[i] = fmt.Sprintf("column %s: %q: want %s", c.column, c.value, c.want)
	}
	return fmt.Sprintf("line %d, %s", b.line, strings.Join(cells, "; "))
}

// bad returns a row with one bad cell.
func bad(line int, column, value, want string) *badRow {
	return &badRow{line: line, cells: []badCell{{column, value, want}}}
}

// marks is the scale that a mark must lie on.
type marks struct {
	low, high float64
	scale     string // whose scale it is; "" if nobody said where it ends
}

// anyMark is a scale whose ends nobody gave. The bounds are those of the library.
var anyMark = marks{low: -1e9, high: 1e9}

func (m marks) want() string {
	text := fmt.Sprintf("a number from %g to %g", m.low, m.high)
	if m.scale != "" {
		text += ", " + m.scale
	}
	return text
}

// The bounds of the other cells. The library takes pieces of 1 mg to 100 kg.
const (
	mostLanes  = 1000 // far more than any divider has
	mostPieces = 100_000
	mostLine   = 64 << 10 // bytes
	lightest   = unit.Mass(0.001)
	heaviest   = unit.Mass(100_000)
)

// weightColumn is the column that every table has.
const weightColumn = "weight"

// rows reads a table row by row, as it arrives. A row is a line: a quote that
// was never closed spoils its own line and no other.
type rows struct {
	in      *intake.Lines
	columns []string
	unit    string
	marks   marks
}

// newRows reads the header: the weight with its unit in parentheses, and any
// of the other columns, in any order.
func newRows(in io.Reader, scale marks, others ...string) (*rows, error) {
	r := &rows{in: intake.NewLines(in, mostLine), marks: scale}
	header, err := r.cells()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf(`line 1: nothing there: want a header such as "%s,%s (g)"`, strings.Join(others, ","), weightColumn)
	}
	if err != nil {
		return nil, err
	}
	for i, cell := range header {
		if err := r.addColumn(i, cell, others); err != nil {
			return nil, err
		}
	}
	if !r.has(weightColumn) {
		return nil, bad(r.line(), weightColumn, strings.Join(header, ","), `a column such as "weight (g)"`)
	}
	return r, nil
}

// addColumn takes one cell of the header.
func (r *rows) addColumn(i int, cell string, others []string) error {
	name, symbol, _ := strings.Cut(cell, "(")
	name = strings.ToLower(strings.TrimSpace(name))
	switch {
	case name == weightColumn:
		r.unit = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(symbol), ")"))
		if _, err := unit.ParseMass("1 " + r.unit); err != nil {
			return bad(r.line(), weightColumn, cell, `its unit in parentheses, such as "weight (g)"`)
		}
	case !slices.Contains(others, name):
		return bad(r.line(), strconv.Itoa(i+1), cell, "one of "+strings.Join(append(slices.Clone(others), weightColumn+" (g)"), ", "))
	}
	if r.has(name) {
		return bad(r.line(), name, cell, "each column once")
	}
	r.columns = append(r.columns, name)
	return nil
}

// line is the number of the line that was read last.
func (r *rows) line() int { return r.in.Number() }

// has reports whether the table has the column.
func (r *rows) has(name string) bool { return slices.Contains(r.columns, name) }

// next returns the next row, io.EOF after the last, or a *badRow.
func (r *rows) next() (row, error) {
	cells, err := r.cells()
	if err != nil {
		return row{}, err
	}
	if len(cells) != len(r.columns) {
		return row{}, bad(r.line(), strconv.Itoa(len(cells)), clip(strings.Join(cells, ",")), fmt.Sprintf("%d cells, as in the header", len(r.columns)))
	}
	out := row{line: r.line(), lane: 1}
	wrong := badRow{line: r.line()}
	for i, name := range r.columns {
		cell := strings.TrimSpace(cells[i])
		if want := r.read(&out, name, cell); want != "" {
			wrong.cells = append(wrong.cells, badCell{name, clip(cell), want})
		}
	}
	if len(wrong.cells) > 0 {
		return row{}, &wrong
	}
	return out, nil
}

// read puts a cell into its place in the row, or returns what it should have been.
func (r *rows) read(out *row, name, cell string) (want string) {
	number, err := strconv.ParseFloat(cell, 64)
	switch name {
	case "lane":
		return count(&out.lane, number, err, mostLanes)
	case "pieces":
		return count(&out.pieces, number, err, mostPieces)
	case "mark":
		if err != nil || !(number >= r.marks.low && number <= r.marks.high) {
			return r.marks.want()
		}
		out.mark, out.hasMark = number, true
	default:
		if err == nil {
			out.weight, err = unit.ParseMass(cell + " " + r.unit)
		}
		if err != nil || !(out.weight >= lightest && out.weight <= heaviest) {
			return "a weight in " + r.unit + ", from 1 mg to 100 kg"
		}
	}
	return ""
}

// count takes a whole number from 1 to most.
func count(n *int, number float64, err error, most int) (want string) {
	if err != nil || number != math.Trunc(number) || !(number >= 1 && number <= float64(most)) {
		return fmt.Sprintf("a whole number from 1 to %d", most)
	}
	*n = int(number)
	return ""
}

// cells returns the cells of the next line that is not blank.
func (r *rows) cells() ([]string, error) {
	text := ""
	for strings.TrimSpace(text) == "" {
		line, err := r.in.Next()
		text = string(line)
		switch long := (*intake.LongLine)(nil); {
		case err == nil:
		case errors.Is(err, io.EOF):
			return nil, err
		case errors.As(err, &long):
			return nil, &badRow{line: r.line(), long: err}
		case errors.Is(err, program.ErrInterrupted):
			return nil, fmt.Errorf("%w after line %d", err, r.line())
		default:
			return nil, &broken{fmt.Errorf("after line %d: %w", r.line(), err)}
		}
	}
	text = strings.TrimRight(text, "\r\n")
	if r.line() == 1 {
		text = strings.TrimPrefix(text, "\ufeff") // which some spreadsheets put in front
	}
	line := csv.NewReader(strings.NewReader(text))
	line.FieldsPerRecord = -1 // a short row is told with its line and column
	line.TrimLeadingSpace = true
	before, err := line.Read()
	if err != nil { // with the cells before the one that is wrong
		return nil, r.stray(text, len(before))
	}
	return before, nil
}

// stray says in which cell of a line a quote has no partner, or stands in the middle.
func (r *rows) stray(text string, cell int) *badRow {
	column := strconv.Itoa(cell + 1)
	if cell < len(r.columns) {
		column = r.columns[cell]
	}
	value := text
	if apart := strings.Split(text, ","); len(apart) == len(r.columns) {
		value = strings.TrimSpace(apart[cell])
	}
	return bad(r.line(), column, clip(value), "no quotes, or a pair of them about the whole cell")
}

// clip keeps a message to one line, whatever the table holds.
func clip(text string) string {
	const most = 60
	if letters := []rune(text); len(letters) > most {
		return string(letters[:most]) + "..."
	}
	return text
}
