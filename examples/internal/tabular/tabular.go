// Package tabular writes rows of numbers and words for people and programs: as an
// aligned table, as CSV, or as JSON Lines. A column has one unit, which stands in its name.
package tabular

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A Column is what stands in one place of every row.
type Column struct {
	Name string
	Unit string // of its numbers; "" for words and plain numbers
}

// Title names the column with its unit: "length (mm)".
func (c Column) Title() string {
	if c.Unit == "" {
		return c.Name
	}
	return c.Name + " (" + c.Unit + ")"
}

// A Writer takes the cells of a row from left to right, and then its end. What
// goes wrong with the file is told by End or Close.
type Writer interface {
	Number(x float64)                   // NaN for none
	Text(s string)                      // "" for none
	Words(words []string)               // names that stay the same
	Refused(err error, data func() any) // why the row could not be worked out, and the same as data; nil if it was
	End() error                         // of the row
	Close(notes []byte) error           // of the file; notes are for people
}

// New writes in the format "table", "csv" or "jsonl".
func New(format string, out io.Writer, columns []Column) (Writer, error) {
	w := bufio.NewWriterSize(out, 64<<10)
	switch format {
	case "csv":
		return newCSV(w, columns), nil
	case "jsonl":
		return newLines(w, columns), nil
	case "table":
		return newTable(w, columns), nil
	}
	return nil, fmt.Errorf("%q is no format: want table, csv or jsonl", format)
}

// AppendNumber appends every digit of x, and a whole number as a person writes it.
func AppendNumber(b []byte, x float64) []byte {
	if x == math.Trunc(x) && math.Abs(x) < 1e15 {
		return strconv.AppendInt(b, int64(x), 10)
	}
	return strconv.AppendFloat(b, x, 'g', -1, 64)
}

// AppendRounded appends x with four significant digits, for a person.
func AppendRounded(b []byte, x float64) []byte {
	switch size := math.Abs(x); {
	case size >= 1e15 || size > 0 && size < 1e-6:
		return strconv.AppendFloat(b, x, 'g', 4, 64)
	case size >= 1000 || x == 0:
		return strconv.AppendFloat(b, x+0, 'f', 0, 64)
	}
	decimals := 3 - int(math.Floor(math.Log10(math.Abs(x))))
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	return append(b, strings.TrimRight(strings.TrimRight(text, "0"), ".")...)
}

// plain says that nothing in s needs a second look: most cells.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == ',' || c == '"' || c == '\\' {
			return false
		}
	}
	return s == "" || strings.IndexByte("=+-@", s[0]) < 0
}
