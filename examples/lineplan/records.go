package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/examples/internal/tabular"
)

// printBlank prints a record of an order with every control where the plan has it.
func (o *options) printBlank(w io.Writer) error {
	s, text, err := o.read()
	if err != nil {
		return err
	}
	if o.blank < 1 || o.blank > len(s.Orders) {
		return fmt.Errorf("-blank %d: the scenario has the orders 1 to %d", o.blank, len(s.Orders))
	}
	order := &s.Orders[o.blank-1]
	at, err := line.ControlSettings{Line: s.Line, Order: *order, Shift: s.Shift}.Solve()
	if err != nil {
		return reckon.AsTyped(err, &s, reckon.Filled(text))
	}
	r := line.RunRecord{Date: o.date, Line: s.Line, Order: *order, Shift: s.Shift}
	for i := range at.Settings {
		if k := &at.Settings[i]; k.At != "" {
			r.Settings = append(r.Settings, line.Standing{Control: k.Control, At: k.At})
		}
	}
	return writeRecords(w, line.RunBook{Records: []line.RunRecord{r}})
}

func writeRecords(w io.Writer, book line.RunBook) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(book)
}

// keepRecord adds what stands on standard input to the shop's records, in the order of their days. The file is replaced as a
// whole, so that it is never half written.
func keepRecord(file string, stdin io.Reader, w io.Writer) error {
	data, err := io.ReadAll(stdin)
	if err != nil {
		return err
	}
	more, err := line.ReadRunBook(data)
	if err != nil {
		return err
	}
	book, err := readKept(file)
	if err != nil {
		return err
	}
	book.Records = append(book.Records, more.Records...)
	slices.SortStableFunc(book.Records, func(a, b line.RunRecord) int { return strings.Compare(a.Date, b.Date) })
	c := reckon.Checks{Func: "run-book"}
	if book.Check(&c); !c.OK() {
		return c.Err()
	}
	var text bytes.Buffer
	if err := writeRecords(&text, book); err != nil {
		return err
	}
	err = tabular.Write(file, nil, func(to io.Writer) error {
		_, err := to.Write(text.Bytes())
		return err
	})
	if err == nil {
		fmt.Fprintf(w, "kept %d in %s, %d in all\n", len(more.Records), file, len(book.Records))
	}
	return err
}

// readKept reads the shop's records; there are none before the first is kept.
func readKept(file string) (line.RunBook, error) {
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return line.RunBook{}, nil
	}
	if err != nil {
		return line.RunBook{}, err
	}
	return line.ReadRunBook(data)
}
