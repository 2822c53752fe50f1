// Setup prints where every control of a line stands for each order of a scenario, how to change
// over from one order to the next, and, from the shop's own records, what ran well before.
//
//	go run ./examples/setup                                the invented demo plant, two people at the changeovers
//	go run ./examples/setup -scenario day.json -people 3   your own, for as many people as you have
//	go run ./examples/setup -runs runs.json                with what ran well before beside today's plan
//	go run ./examples/setup -blank 1 > run.json            a record of order 1 as planned, to be corrected to what was run
//	go run ./examples/setup -keep runs.json < run.json     checks the record and adds it to those that the shop keeps
//
// It exits with 0 if all was printed or kept, with 1 if a file is wrong (each value is named with its JSON path, and
// nothing is printed or kept), or a file or what is printed cannot be read or written, with 2 if it was called wrongly,
// and with 3 if an order cannot be made as asked.
package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/keep"
	"example.com/dough/examples/internal/program"
	"example.com/dough/testdata"
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], os.Stdin, out, complaints))
}

// The exit codes.
const (
	exitOK      = 0
	exitFile    = 1
	exitUsage   = 2
	exitRefused = 3
)

type options struct {
	scenario, runs, keep string
	people, blank        int
	date                 string
	units                unit.System
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("setup", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&o.scenario, "scenario", "", "read the scenario from this JSON `file` instead of the demo plant")
	flags.StringVar(&o.runs, "runs", "", "the shop's records, a JSON `file`")
	flags.StringVar(&o.keep, "keep", "", "add the record on standard input to this JSON `file`")
	flags.IntVar(&o.blank, "blank", 0, "print a record of this `order`, counted from 1, to be corrected to what was run")
	flags.StringVar(&o.date, "date", time.Now().Format(time.DateOnly), "the `day` of that record")
	flags.IntVar(&o.people, "people", 2, "people who change over")
	flags.TextVar(&o.units, "units", unit.Metric, "metric or us; JSON keeps the units held")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitOK
		}
		return exitUsage
	}
	if flags.NArg() > 0 {
		fmt.Fprintf(stderr, "setup: %q is not an option\n", flags.Arg(0))
		return exitUsage
	}
	if err := o.apart(stdin, stdout); err != nil {
		fmt.Fprintln(stderr, "setup:", err)
		return exitUsage
	}
	var page bytes.Buffer
	var err error
	switch {
	case o.keep != "":
		err = o.keepRecord(stdin, stdout)
	case o.blank != 0:
		err = o.printBlank(&page)
	default:
		err = o.print(&page)
	}
	refused := errors.Is(err, errRefused)
	if err == nil || refused {
		_, err = stdout.Write(page.Bytes())
	}
	switch {
	case err != nil:
		fmt.Fprintln(stderr, "setup:", err)
		return exitFile
	case refused:
		return exitRefused
	}
	return exitOK
}

// apart refuses to write over what is read.
func (o *options) apart(stdin io.Reader, stdout io.Writer) error {
	reads := []intake.Place{{What: "-scenario", Name: o.scenario}, {What: "-runs", Name: o.runs}}
	if o.keep != "" {
		reads = []intake.Place{{What: "the record", Stream: stdin}}
	}
	return intake.Apart(reads, []intake.Place{{What: "-keep", Name: o.keep}, {What: "what is printed", Stream: stdout}})
}

// errRefused says that an order cannot be made as asked, which the page says in its place.
var errRefused = errors.New("an order cannot be made as asked")

// day reads the scenario.
func (o *options) day() (line.Scenario, error) {
	data, err := testdata.Scenario("demo.json")
	if o.scenario != "" {
		data, err = intake.Read(o.scenario)
	}
	if err != nil {
		return line.Scenario{}, err
	}
	return line.ReadScenario(data)
}

// print prints every order's settings and the changeovers between them.
func (o *options) print(b *bytes.Buffer) error {
	s, err := o.day()
	if err != nil {
		return err
	}
	var book line.RunBook
	if o.runs != "" {
		data, err := intake.Read(o.runs)
		if err != nil {
			return err
		}
		if book, err = line.ReadRunBook(data); err != nil {
			return err
		}
	}
	p := page{Buffer: b, units: o.units}
	fmt.Fprintf(b, "SET-UP   %s\n", s.Title)
	var care reckon.Cautions
	var refused error
	running := -1 // the order that the line is set to
	for i := range s.Orders {
		at, err := line.ControlSettings{Line: s.Line, Order: s.Orders[i], Shift: s.Shift}.Solve()
		if len(reckon.InputErrors(err)) > 0 {
			return err
		}
		if err != nil {
			p.refused(i+1, &s.Orders[i], err)
			refused = errRefused
			continue
		}
		care |= at.Cautions
		if running >= 0 && s.Line.Changing.Stop > 0 {
			change, err := line.Changeover{Line: s.Line, Before: s.Orders[running], Next: s.Orders[i], Shift: s.Shift, People: o.people}.Solve()
			if err != nil {
				return err
			}
			care |= change.Cautions
			p.changeover(&s.Orders[running], &s.Orders[i], &change)
		}
		running = i
		p.settings(i+1, &s.Orders[i], &at)
		records := book.Of(s.Line.Name, s.Orders[i].Product.Name)
		if !slices.ContainsFunc(records, func(r line.RunRecord) bool { return r.Good }) {
			continue
		}
		known, err := line.KnownGood{Line: s.Line, Order: s.Orders[i], Shift: s.Shift, Records: records, Last: lastRuns}.Solve()
		if err != nil {
			return err
		}
		p.known(&known)
	}
	p.rule('=')
	p.WriteString("TAKE CARE\n")
	for _, sentence := range append(care.Sentences(), reckon.CautionDeference) {
		p.paragraph("", sentence)
	}
	return refused
}

// lastRuns is how many good runs are looked at: about as many as a shop remembers.
const lastRuns = 6

// printBlank prints a record of an order with every control where the plan has it.
func (o *options) printBlank(b *bytes.Buffer) error {
	s, err := o.day()
	if err != nil {
		return err
	}
	if o.blank < 1 || o.blank > len(s.Orders) {
		return fmt.Errorf("-blank %d: the scenario has the orders 1 to %d", o.blank, len(s.Orders))
	}
	order := &s.Orders[o.blank-1]
	at, err := line.ControlSettings{Line: s.Line, Order: *order, Shift: s.Shift}.Solve()
	if err != nil {
		return err
	}
	r := line.RunRecord{Date: o.date, Line: s.Line, Order: *order, Shift: s.Shift}
	for i := range at.Settings {
		if k := &at.Settings[i]; k.At != "" {
			r.Settings = append(r.Settings, line.Standing{Control: k.Control, At: k.At})
		}
	}
	return writeJSON(b, line.RunBook{Records: []line.RunRecord{r}})
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(v)
}

// patience is how long it waits for another that keeps a record just now.
const patience = 5 * time.Second

// keepRecord adds what stands on standard input to the shop's records. The file is replaced as a whole, by one
// program at a time, and not before somebody could be told.
func (o *options) keepRecord(stdin io.Reader, stdout io.Writer) error {
	data, err := intake.All(stdin, "the record")
	if err != nil {
		return err
	}
	more, err := line.ReadRunBook(data)
	if err != nil {
		return err
	}
	held, err := keep.Hold(context.Background(), o.keep, patience)
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
	if err := writeJSON(&text, book); err != nil {
		return err
	}
	return held.Replace(text.Bytes(), func() error {
		_, err := fmt.Fprintf(stdout, "kept %d in %s, %d in all\n", len(more.Records), o.keep, len(book.Records))
		return err
	})
}
