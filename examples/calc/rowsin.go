package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
)

// A reader hands out one row at a time. What it returns is good until the next
// call. It returns a *rowError for a row that cannot be read, and io.EOF at the end.
type reader interface {
	row() (row, error)
	place() string // of the last row, for a person: " (line 4)"
	form() *form   // of the cells; of JSON Lines it grows
}

// row is what one row gives.
type row struct {
	cells  []string // by the columns of the form; "" is not given
	object []byte   // the row as it stands, if it is JSON
	simple bool     // the cells hold all of it
}

type rowError struct{ text string }

func (e *rowError) Error() string { return e.text }

// The bounds of a file.
const (
	maxRow     = 1 << 20 // bytes of one row, so that a file without line ends cannot fill the memory
	maxColumns = 1000
)

var errLongRow = &rowError{fmt.Sprintf("the row is longer than %d bytes", maxRow)}

// lineReader reads JSON Lines. Empty lines count but are no rows.
type lineReader struct {
	r     *intake.Lines
	entry calc.Entry
	f     *form
	known map[string]int // columns by their paths
	cells []string
}

func newLineReader(e calc.Entry, in io.Reader, base []byte) *lineReader {
	return &lineReader{r: intake.NewLines(in, maxRow), entry: e, f: &form{base: base}, known: map[string]int{}}
}

func (l *lineReader) place() string { return " (line " + strconv.Itoa(l.r.Number()) + ")" }
func (l *lineReader) form() *form   { return l.f }

func (l *lineReader) row() (row, error) {
	for {
		line, err := l.r.Next()
		if long := (*intake.LongLine)(nil); errors.As(err, &long) {
			err = errLongRow
		}
		if len(bytes.TrimSpace(line)) == 0 && err == nil {
			continue
		}
		r := row{object: line}
		if err == nil && l.f.base != nil {
			clear(l.cells)
			dec := json.NewDecoder(bytes.NewReader(line))
			dec.UseNumber()
			r.simple = l.flat(dec, "")
			if _, more := dec.Token(); !errors.Is(more, io.EOF) {
				r.simple = false
			}
			r.cells = l.cells
		}
		return r, err
	}
}

// flat puts the values of an object into cells. It is false for an object that cells
// cannot hold, or that is none: the calculator reads it as a whole then.
func (l *lineReader) flat(dec *json.Decoder, path string) bool {
	if t, err := dec.Token(); err != nil || t != json.Delim('{') {
		return false
	}
	return l.members(dec, path)
}

func (l *lineReader) members(dec *json.Decoder, path string) bool {
	for dec.More() {
		name, err := dec.Token()
		if err != nil {
			return false
		}
		at := path + name.(string) // the decoder takes nothing else there
		value, err := dec.Token()
		if err != nil {
			return false
		}
		text, isNumber := "", false
		switch v := value.(type) {
		case json.Delim:
			if v != '{' || !l.members(dec, at+".") {
				return false
			}
			continue
		case string:
			text = v
		case json.Number:
			text, isNumber = v.String(), true
		case bool:
			text, isNumber = strconv.FormatBool(v), true
		}
		i, known := l.known[at]
		if !known {
			one, err := newForm(l.entry, []string{at}, []string{}, nil)
			if err != nil || len(l.f.columns) == maxColumns {
				return false
			}
			i = len(l.f.columns)
			l.f.columns, l.known[at] = append(l.f.columns, one.columns[0]), i
			l.cells = append(l.cells, "")
		}
		if text == "" || l.cells[i] != "" || (l.f.columns[i].kind == asJSON) != isNumber {
			return false
		}
		l.cells[i] = text
	}
	_, err := dec.Token() // its end
	return err == nil
}

// json returns the row put into the base. A null takes a value out of it, a list
// takes the place of a list.
//
// Source: RFC 7396, JSON Merge Patch; names joined by points are ours.
func (l *lineReader) json(object []byte) ([]byte, error) {
	if l.f.base == nil {
		return object, nil
	}
	if !json.Valid(object) {
		return object, nil // the calculator says what is wrong with it
	}
	if name := twice(json.NewDecoder(bytes.NewReader(object))); name != "" {
		return nil, fmt.Errorf("%s is there twice: want each name once", name)
	}
	patch, err := tree(object)
	if err == nil {
		err = spelt(patch, "", map[string]bool{})
	}
	if err != nil {
		return nil, err
	}
	base, err := tree(l.f.base)
	if err != nil {
		return nil, err
	}
	merged, err := merge(base, patch)
	return compact(merged), err
}

// twice returns a name that stands twice in an object of valid JSON, of which the
// standard library would keep one.
func twice(dec *json.Decoder) string {
	t, _ := dec.Token() // it is valid
	open, _ := t.(json.Delim)
	seen := map[string]bool{}
	for (open == '{' || open == '[') && dec.More() {
		name := ""
		if open == '{' {
			t, _ = dec.Token()
			name, _ = t.(string)
			if seen[name] {
				return strconv.Quote(unit.Clip(name))
			}
			seen[name] = true
		}
		if inner := twice(dec); inner != "" {
			return inner
		}
	}
	if open == '{' || open == '[' {
		_, _ = dec.Token() // its end
	}
	return ""
}

// spelt refuses a value that stands in a row under two spellings of its path.
func spelt(patch any, path string, seen map[string]bool) error {
	object, ok := patch.(map[string]any)
	if !ok || len(object) == 0 {
		for at := range seen {
			if at == path || strings.HasPrefix(at, path+".") || strings.HasPrefix(path, at+".") {
				return fmt.Errorf("%q is there twice: want each name once", unit.Clip(path))
			}
		}
		if seen[path] = true; len(seen) > maxColumns {
			return fmt.Errorf("it has more than %d values", maxColumns)
		}
		return nil
	}
	for name, value := range object {
		if err := spelt(value, strings.TrimPrefix(path+"."+name, "."), seen); err != nil {
			return err
		}
	}
	return nil
}

func merge(in, patch any) (any, error) {
	object, ok := patch.(map[string]any)
	if !ok {
		return patch, nil
	}
	into, ok := in.(map[string]any)
	if !ok {
		into = map[string]any{}
	}
	var out any = into
	for name, value := range object {
		switch path := steps(name); {
		case value == nil:
			delete(into, name)
		case len(path) > 1:
			old, _ := at(out, path)
			inner, err := merge(old, value)
			if err == nil {
				_, err = put(out, path, inner)
			}
			if err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		default:
			inner, err := merge(into[name], value)
			if err != nil {
				return nil, err
			}
			into[name] = inner
		}
	}
	return out, nil
}

// csvReader reads CSV with the names of the inputs in the first line.
type csvReader struct {
	r     *csv.Reader
	limit *limitReader
	f     *form
	line  int
}

// limitReader stops a record that does not end.
type limitReader struct {
	r    io.Reader
	left int
}

func (l *limitReader) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, errors.New(errLongRow.text + ": a quote may not be closed")
	}
	n, err := l.r.Read(p)
	if l.left -= n; err != nil && !errors.Is(err, io.EOF) {
		err = &unread{err}
	}
	return n, err
}

func newCSVReader(e calc.Entry, in io.Reader, keep []string, base []byte) (*csvReader, error) {
	buffered := bufio.NewReaderSize(in, 64<<10)
	if mark, err := buffered.Peek(3); err == nil && string(mark) == "\ufeff" {
		_, _ = buffered.Discard(3) // spreadsheets put it there; what was peeked can be discarded
	}
	limit := &limitReader{buffered, maxRow}
	r := csv.NewReader(limit)
	r.ReuseRecord, r.FieldsPerRecord = true, -1
	header, err := r.Read()
	if errors.Is(err, program.ErrInterrupted) {
		return nil, fmt.Errorf("%w before the first row", err)
	}
	if err != nil {
		return nil, fmt.Errorf("the first line must name the inputs: %w", err)
	}
	if len(header) > maxColumns {
		return nil, fmt.Errorf("the first line names %d columns: want at most %d", len(header), maxColumns)
	}
	f, err := newForm(e, slices.Clone(header), keep, base)
	return &csvReader{r: r, limit: limit, f: f}, err
}

func (c *csvReader) place() string { return " (line " + strconv.Itoa(c.line) + ")" }
func (c *csvReader) form() *form   { return c.f }

func (c *csvReader) row() (row, error) {
	c.limit.left = maxRow
	cells, err := c.r.Read()
	if err != nil {
		return row{}, c.wrong(err)
	}
	c.line, _ = c.r.FieldPos(0)
	if len(cells) != len(c.f.columns) {
		return row{cells: cells}, &rowError{fmt.Sprintf("it has %d cells: want %d, as in the first line", len(cells), len(c.f.columns))}
	}
	for i, cell := range cells {
		cells[i] = strings.TrimSpace(cell)
	}
	return row{cells: cells, simple: true}, nil
}

func (c *csvReader) wrong(err error) error {
	var syntax *csv.ParseError
	if errors.As(err, &syntax) && !errors.Is(err, io.EOF) {
		c.line = syntax.StartLine
		return &rowError{"not CSV: " + syntax.Err.Error()}
	}
	return err
}
