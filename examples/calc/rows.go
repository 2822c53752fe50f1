package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
)

func (a app) rows(args []string) int {
	set, rest, ok := a.options(args, "units", "working?", "from", "to", "bad", "keep")
	if !ok {
		return misused
	}
	o, err := evalOptions(set)
	if len(rest) < 1 || len(rest) > 2 {
		err = errors.Join(err, errors.New("rows needs an id and at most one file"))
	}
	to, toErr := choose(set, "to", "table", "csv", "jsonl")
	bad, badErr := choose(set, "bad", "stop", "skip")
	formats := []string{"csv", "jsonl"}
	if len(rest) == 2 && filepath.Ext(rest[1]) == ".jsonl" {
		formats = []string{"jsonl", "csv"}
	}
	from, fromErr := choose(set, "from", formats...)
	if err := errors.Join(err, toErr, badErr, fromErr); err != nil {
		return a.fail(misused, err)
	}
	e, err := find(rest[0])
	if err != nil {
		return a.fail(misused, err)
	}
	in := a.in
	if len(rest) == 2 && rest[1] != "-" {
		file, err := os.Open(rest[1])
		if err != nil {
			return a.fail(broken, err)
		}
		defer func() { _ = file.Close() }() // it was only read
		in = file
	}
	o.Rounded = to == "table"
	keep := []string{}
	if set["keep"] != "" {
		keep = strings.Split(set["keep"], ",")
	}
	var next reader
	if from == "jsonl" {
		if len(keep) > 0 {
			return a.fail(misused, errors.New("-keep goes with CSV"))
		}
		next = &lineReader{r: bufio.NewReaderSize(in, 64<<10)}
	} else if next, err = newCSVReader(e, in, keep); err != nil {
		return a.fail(misused, err)
	}
	w := newWriter(to, e, keep, a.out)
	code := a.each(e, o, next, w, bad == "stop")
	if err := w.flush(); err != nil {
		return a.fail(broken, err)
	}
	return code
}

// each works every row out. It holds one row at a time.
func (a app) each(e calc.Entry, o calc.Options, next reader, w writer, stop bool) int {
	code, refusals := done, 0
	for number := 1; ; number++ {
		input, kept, err := next.row()
		var bad *rowError
		switch {
		case errors.Is(err, io.EOF):
			if refusals > 1 {
				a.say("%d rows could not be worked out", refusals)
			}
			return code
		case err == nil:
			var r calc.Result
			if r, err = e.Eval(input, o); err == nil {
				if err := w.row(number, kept, r); err != nil {
					return a.fail(broken, err)
				}
				continue
			}
		case !errors.As(err, &bad):
			return a.fail(broken, err)
		}
		code = refused
		refusals++
		for line := range strings.Lines(err.Error()) {
			a.say("row %d%s: %s", number, next.place(), strings.TrimSuffix(line, "\n"))
		}
		if err := w.refusal(number, kept, err); err != nil {
			return a.fail(broken, err)
		}
		if stop {
			a.say("stopped there: -bad skip goes on")
			return code
		}
	}
}

// A reader hands out one row at a time as the JSON of an input. What it
// returns is good until the next call. It returns a *rowError for a row that
// cannot be read, and io.EOF at the end.
type reader interface {
	row() (input []byte, kept []string, err error)
	place() string // of the last row, for a person: " (line 4)"
}

type rowError struct{ text string }

func (e *rowError) Error() string { return e.text }

// maxRow bounds one row, so that a file without line ends cannot fill the memory.
const maxRow = 1 << 20

var errLongRow = &rowError{fmt.Sprintf("the row is longer than %d bytes", maxRow)}

// lineReader reads JSON Lines. Empty lines count but are no rows.
type lineReader struct {
	r    *bufio.Reader
	line int
	long []byte // a line that does not fit the buffer
}

func (l *lineReader) place() string { return " (line " + strconv.Itoa(l.line) + ")" }

func (l *lineReader) row() ([]byte, []string, error) {
	for {
		line, err := l.next()
		if len(bytes.TrimSpace(line)) > 0 || err != nil {
			return line, nil, err
		}
	}
}

func (l *lineReader) next() ([]byte, error) {
	l.line++
	line, err := l.r.ReadSlice('\n')
	l.long = l.long[:0]
	tooLong := false
	for errors.Is(err, bufio.ErrBufferFull) {
		if tooLong = tooLong || len(l.long) > maxRow; !tooLong {
			l.long = append(l.long, line...)
		}
		line, err = l.r.ReadSlice('\n')
	}
	switch {
	case tooLong:
		return nil, errLongRow
	case errors.Is(err, io.EOF) && len(line)+len(l.long) > 0:
		err = nil
	}
	if len(l.long) > 0 {
		l.long = append(l.long, line...)
		line = l.long
	}
	return line, err
}

// csvReader reads CSV with the names of the inputs in the first line.
type csvReader struct {
	r     *csv.Reader
	limit *limitReader
	form  *form
	b     []byte
	kept  []string
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
	l.left -= n
	return n, err
}

func newCSVReader(e calc.Entry, in io.Reader, keep []string) (*csvReader, error) {
	buffered := bufio.NewReaderSize(in, 64<<10)
	if mark, err := buffered.Peek(3); err == nil && string(mark) == "\ufeff" {
		_, _ = buffered.Discard(3) // spreadsheets put it there; what was peeked can be discarded
	}
	limit := &limitReader{buffered, maxRow}
	r := csv.NewReader(limit)
	r.ReuseRecord, r.FieldsPerRecord = true, -1
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("the first line must name the inputs: %w", err)
	}
	f, err := newForm(e, slices.Clone(header), keep)
	return &csvReader{r: r, limit: limit, form: f, kept: make([]string, len(keep))}, err
}

func (c *csvReader) place() string { return " (line " + strconv.Itoa(c.line) + ")" }

func (c *csvReader) row() ([]byte, []string, error) {
	c.limit.left = maxRow
	cells, err := c.r.Read()
	clear(c.kept)
	var syntax *csv.ParseError
	switch {
	case errors.As(err, &syntax) && !errors.Is(err, io.EOF):
		c.line = syntax.StartLine
		return nil, c.kept, &rowError{"not CSV: " + syntax.Err.Error()}
	case err != nil:
		return nil, nil, err
	}
	c.line, _ = c.r.FieldPos(0)
	for i, k := range c.form.kept {
		if k < len(cells) {
			c.kept[i] = cells[k]
		}
	}
	if len(cells) != len(c.form.columns) {
		return nil, c.kept, &rowError{fmt.Sprintf("it has %d cells: want %d, as in the first line", len(cells), len(c.form.columns))}
	}
	c.b = c.form.appendJSON(c.b[:0], cells)
	return c.b, c.kept, nil
}

// A writer takes results one at a time.
type writer interface {
	row(number int, kept []string, r calc.Result) error
	refusal(number int, kept []string, err error) error
	flush() error
}

func newWriter(to string, e calc.Entry, keep []string, out io.Writer) writer {
	w := bufio.NewWriterSize(out, 64<<10)
	if to == "jsonl" {
		return &lineWriter{w: w}
	}
	c := columns(e)
	head := slices.Concat([]string{"row"}, keep, c, []string{"conditions", "cautions"})
	if to == "csv" {
		return &csvWriter{w: w, columns: c, head: head}
	}
	return &tableWriter{w: w, columns: c, head: head}
}

// columns lists the outputs that fit into one cell each.
func columns(e calc.Entry) []string {
	var out []string
	for _, f := range describe.Of(e).Outputs {
		name := strings.TrimSuffix(f.Name, "[]")
		isObject := f.Kind == "object" && name == f.Name
		if !strings.ContainsAny(name, "[{") && !isObject && !strings.HasPrefix(f.Kind, "list of ") {
			out = append(out, name)
		}
	}
	return out
}

// lineWriter writes JSON Lines.
type lineWriter struct {
	w *bufio.Writer
	b []byte
}

func (l *lineWriter) row(number int, _ []string, r calc.Result) error {
	l.b = append(strconv.AppendInt(append(l.b[:0], `{"row":`...), int64(number), 10), ',')
	start := len(l.b)
	var err error
	if l.b, err = r.AppendJSON(l.b); err != nil {
		return err
	}
	l.b = slices.Delete(l.b, start, start+1) // the result's own opening brace
	l.b = append(l.b, '\n')
	_, err = l.w.Write(l.b)
	return err
}

func (l *lineWriter) refusal(number int, _ []string, err error) error {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(map[string]any{"row": number, "errors": reckon.Refusals(err)}); err != nil {
		return err
	}
	_, err = l.w.Write(text.Bytes())
	return err
}

func (l *lineWriter) flush() error { return l.w.Flush() }

// csvWriter writes CSV. A row that could not be worked out is left out: its
// number is missing.
type csvWriter struct {
	w             *bufio.Writer
	columns, head []string
	units         []string // of the columns, once a row has been written
	started       bool
	b, cell       []byte
}

func (c *csvWriter) begin() error {
	if c.started {
		return nil
	}
	c.started = true
	var b []byte
	for i, name := range c.head {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendCell(b, []byte(name))
	}
	_, err := c.w.Write(append(b, '\n'))
	return err
}

func (c *csvWriter) row(number int, kept []string, r calc.Result) error {
	if err := c.begin(); err != nil {
		return err
	}
	b := strconv.AppendInt(c.b[:0], int64(number), 10)
	for _, k := range kept {
		b = appendCell(append(b, ','), append(c.cell[:0], k...))
	}
	var err error
	if c.units == nil {
		c.units = make([]string, len(c.columns))
	}
	for i, name := range c.columns {
		if c.cell, err = r.AppendColumn(c.cell[:0], name, &c.units[i]); err != nil {
			return err
		}
		b = appendCell(append(b, ','), c.cell)
	}
	b = append(b, ',')
	b = appendWords(b, reckon.Distinct(r.Conditions))
	b = append(b, ',')
	b = appendWords(b, r.Cautions.Notes())
	c.b = append(b, '\n')
	_, err = c.w.Write(c.b)
	return err
}

// appendWords appends the words of the notes, separated by spaces.
func appendWords(b []byte, notes []reckon.Note) []byte {
	for i, n := range notes {
		if i > 0 {
			b = append(b, ' ')
		}
		b = append(b, n.Word...)
	}
	return b
}

func (c *csvWriter) refusal(int, []string, error) error { return nil }

func (c *csvWriter) flush() error { return errors.Join(c.begin(), c.w.Flush()) }

func appendCell(b, cell []byte) []byte {
	if !bytes.ContainsAny(cell, ",\"\r\n") {
		return append(b, cell...)
	}
	b = append(b, '"')
	b = append(b, bytes.ReplaceAll(cell, []byte(`"`), []byte(`""`))...)
	return append(b, '"')
}

// tableWriter writes aligned columns. It looks at the first rows for the
// widths and then lets rows through as they come.
type tableWriter struct {
	w             *bufio.Writer
	columns, head []string
	units         []string // of the columns, once a row has been written
	first         [][]string
	widths        []int
	met           []reckon.Note // the conditions of all rows, each once
	cautions      reckon.Cautions
}

const lookAhead = 200

func (t *tableWriter) row(number int, kept []string, r calc.Result) error {
	row := append([]string{strconv.Itoa(number)}, kept...)
	if t.units == nil {
		t.units = make([]string, len(t.columns))
	}
	for i, name := range t.columns {
		cell, err := r.AppendColumn(nil, name, &t.units[i])
		if err != nil {
			return err
		}
		row = append(row, string(cell))
	}
	row = append(row, string(appendWords(nil, reckon.Distinct(r.Conditions))), string(appendWords(nil, r.Cautions.Notes())))
	for _, c := range r.Conditions {
		if !slices.Contains(t.met, c.Note) {
			t.met = append(t.met, c.Note)
		}
	}
	t.cautions |= r.Cautions
	return t.add(row)
}

func (t *tableWriter) refusal(number int, kept []string, _ error) error {
	return t.add(slices.Concat([]string{strconv.Itoa(number)}, kept, []string{"not worked out"}))
}

func (t *tableWriter) add(row []string) error {
	if t.widths == nil {
		if t.first = append(t.first, row); len(t.first) < lookAhead {
			return nil
		}
		return t.begin()
	}
	return t.line(row)
}

func (t *tableWriter) begin() error {
	t.widths = make([]int, len(t.head))
	rows := slices.Concat([][]string{t.head}, t.first)
	for _, row := range rows {
		for i, cell := range row {
			if len(row) == len(t.head) {
				t.widths[i] = max(t.widths[i], utf8.RuneCountInString(cell))
			}
		}
	}
	t.first = nil
	for _, row := range rows {
		if err := t.line(row); err != nil {
			return err
		}
	}
	return nil
}

func (t *tableWriter) line(row []string) error {
	var b strings.Builder
	for i, cell := range row {
		b.WriteString(cell)
		if i < len(row)-1 {
			b.WriteString(strings.Repeat(" ", max(0, t.widths[i]-utf8.RuneCountInString(cell))+2))
		}
	}
	_, err := t.w.WriteString(strings.TrimRight(b.String(), " ") + "\n")
	return err
}

func (t *tableWriter) flush() error {
	if t.widths == nil {
		if err := t.begin(); err != nil {
			return err
		}
	}
	_, err := t.w.Write(appendRemarks(nil, t.met, t.cautions))
	return errors.Join(err, t.w.Flush())
}
