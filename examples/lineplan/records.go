package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/keep"
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

// patience is how long it waits for another that keeps a record just now.
const patience = 5 * time.Second

// keepRecord adds what stands on standard input to the shop's records, in the order of their days. The file is replaced as a
// whole, by one program at a time, and not before somebody could be told.
func keepRecord(file string, stdin io.Reader, stdout io.Writer) error {
	data, err := intake.All(stdin, "the record")
	if err != nil {
		return err
	}
	more, err := line.ReadRunBook(data)
	if err != nil {
		return err
	}
	held, err := keep.Hold(context.Background(), file, patience)
	if err != nil {
		return err
	}
	defer held.Release()
	var book line.RunBook
	if data, err = held.Read(); err == nil && data != nil { // there are none before the first is kept
		book, err = line.ReadRunBook(data)
	}
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
	return held.Replace(text.Bytes(), func() error {
		_, err := fmt.Fprintf(stdout, "kept %d in %s, %d in all\n", len(more.Records), file, len(book.Records))
		return err
	})
}
