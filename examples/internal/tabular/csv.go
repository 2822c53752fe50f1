package tabular

import (
	"bufio"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// csvWriter writes CSV: every digit of a number, the names in the first line.
type csvWriter struct {
	w *bufio.Writer
	b []byte // the row so far
}

func newCSV(w *bufio.Writer, columns []Column) *csvWriter {
	c := &csvWriter{w: w}
	for _, k := range columns {
		c.Text(k.Title())
	}
	_ = c.End() // the writer keeps its first error
	return c
}

func (c *csvWriter) Number(x float64) {
	if !math.IsNaN(x) {
		c.b = AppendNumber(c.b, x)
	}
	c.b = append(c.b, ',')
}

// runs are the signs, in both their widths, at the start of a text that a spreadsheet takes for a formula and runs.
const runs = "=+-@\t\n＝＋－＠"

// Text keeps a text a text.
func (c *csvWriter) Text(s string) {
	if plain(s) {
		c.b = append(append(c.b, s...), ',')
		return
	}
	s = Harmless(s, true)
	if first, _ := utf8.DecodeRuneInString(s); strings.ContainsRune(runs, first) {
		if _, err := strconv.ParseFloat(s, 64); err != nil {
			s = "'" + s
		}
	}
	if strings.ContainsAny(s, ",\"\n") {
		s = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	c.b = append(append(c.b, s...), ',')
}

func (c *csvWriter) Words(words []string) {
	for i, word := range words {
		if i > 0 {
			c.b = append(c.b, ' ')
		}
		c.b = append(c.b, word...)
	}
	c.b = append(c.b, ',')
}

func (c *csvWriter) Refused(err error, _ func() any) {
	if err == nil {
		c.b = append(c.b, ',')
		return
	}
	c.Text(strings.ReplaceAll(err.Error(), "\n", "; "))
}

func (c *csvWriter) End() error {
	c.b[len(c.b)-1] = '\n' // in place of the last comma
	_, err := c.w.Write(c.b)
	c.b = c.b[:0]
	return err
}

func (c *csvWriter) Close([]byte) error { return c.w.Flush() }
