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

	"example.com/dough/doughmath"
)

// row is one row of a table of weighings.
type row struct {
	line    int
	lane    int // 1 if the table has no such column
	mark    float64
	hasMark bool
	pieces  int
	weight  doughmath.Mass
}

// badRow is what cannot be read, and where.
type badRow struct {
	line          int
	column, value string
	want          string
}

func (b *badRow) Error() string {
	return fmt.Sprintf("line %d, column %s: %q: want %s", b.line, b.column, b.value, b.want)
}

// rows reads a table row by row, as it arrives.
type rows struct {
	csv  *csv.Reader
	at   map[string]int // column by name
	unit string
}

// newRows reads the header: the columns named, in any order, of which only the
// first must be there; it holds its unit in parentheses.
func newRows(in io.Reader, weight string, others ...string) (*rows, error) {
	r := &rows{csv: csv.NewReader(in), at: map[string]int{}}
	r.csv.FieldsPerRecord = -1 // a short row is told with its line and column, below
	r.csv.TrimLeadingSpace = true
	header, err := r.csv.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf(`line 1: nothing there: want a header such as "%s,%s (g)"`, strings.Join(others, ","), weight)
	}
	if err != nil {
		return nil, err
	}
	for i, cell := range header {
		name, unit, _ := strings.Cut(strings.TrimPrefix(cell, "\ufeff"), "(")
		name = strings.ToLower(strings.TrimSpace(name))
		if name == weight {
			r.unit = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(unit), ")"))
			if _, err := doughmath.ParseMass("1 " + r.unit); err != nil {
				return nil, &badRow{1, weight, cell, `its unit in parentheses, such as "weight (g)"`}
			}
		} else if !slices.Contains(others, name) {
			return nil, &badRow{1, strconv.Itoa(i + 1), cell, "one of " + strings.Join(append(slices.Clone(others), weight+" (g)"), ", ")}
		}
		if _, twice := r.at[name]; twice {
			return nil, &badRow{1, name, cell, "each column once"}
		}
		r.at[name] = i
	}
	if _, ok := r.at[weight]; !ok {
		return nil, &badRow{1, weight, strings.Join(header, ","), `a column such as "weight (g)"`}
	}
	return r, nil
}

// next returns the next row, io.EOF after the last, or a *badRow.
func (r *rows) next() (row, error) {
	cells, err := r.csv.Read()
	if err != nil {
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			return row{}, &badRow{broken.StartLine, strconv.Itoa(broken.Column), broken.Err.Error(), "cells separated by commas, quotes in pairs"}
		}
		return row{}, err
	}
	line, _ := r.csv.FieldPos(0)
	out := row{line: line, lane: 1}
	if len(cells) != len(r.at) {
		return row{}, &badRow{line, strconv.Itoa(len(cells)), strings.Join(cells, ","), fmt.Sprintf("%d cells, as in the header", len(r.at))}
	}
	for name, i := range r.at {
		cell := strings.TrimSpace(cells[i])
		number, err := strconv.ParseFloat(cell, 64)
		whole := err == nil && number == math.Trunc(number) && number >= 1 && number <= 1e5
		switch name {
		case "lane":
			if !whole {
				return row{}, &badRow{line, name, cell, "a whole number from 1"}
			}
			out.lane = int(number)
		case "pieces":
			if !whole {
				return row{}, &badRow{line, name, cell, "a whole number from 1"}
			}
			out.pieces = int(number)
		case "mark":
			if err != nil || math.Abs(number) > 1e9 || math.IsNaN(number) {
				return row{}, &badRow{line, name, cell, "a number"}
			}
			out.mark, out.hasMark = number, true
		default:
			if err == nil {
				out.weight, err = doughmath.ParseMass(cell + " " + r.unit)
			}
			if err != nil || out.weight <= 0 || out.weight > 100*1000 {
				return row{}, &badRow{line, name, cell, "a weight in " + r.unit + ", above 0 and up to 100 kg"}
			}
		}
	}
	return out, nil
}
