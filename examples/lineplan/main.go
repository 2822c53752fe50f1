// Lineplan plans the orders of a scenario on a make-up line and prints what hangs at the line and in the mixing room:
// a page for the day, for each product one for the line and one for the mixing room, each changeover, and how to take care.
//
//	go run ./examples/lineplan                       an invented bakery's night: four orders
//	go run ./examples/lineplan -demo alder -units us another, in US units: eight pockets, four across, a poolish
//	go run ./examples/lineplan -form > day.json      a form for your own: every field, its range, how it is found
//	go run ./examples/lineplan -scenario day.json    your own; every quantity is text with its unit
//	go run ./examples/lineplan -explain              and the working of every number
//	go run ./examples/lineplan -json                 for a program: every digit, in the units held
//
//	go run ./examples/lineplan -blank 1 > run.json        a record of order 1 as planned, to be corrected to what was run
//	go run ./examples/lineplan -keep runs.json < run.json checks the record and adds it to those that the shop keeps
//	go run ./examples/lineplan -runs runs.json            with what ran well before beside today's plan
//
// A page is 60 lines of 80 columns; a form feed stands between two. An order that cannot be made as asked is not planned: its
// page says NOT AS ASKED, what stands in the way and what would work. It exits with 0 if every order was planned as asked,
// or a form, a record or what is kept was written, with 1 if a file is wrong (then only what is wrong is printed, each value
// with its JSON path, and nothing is kept), with 2 if it was called wrongly, and with 3 if an order was refused; go run itself
// exits with 1 then.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"time"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
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

// demos are the invented plants, by the names of their bakeries.
var demos = map[string]string{"fernhill": "demo.json", "alder": "alder.json"}

type options struct {
	scenario, demo, runs, keep, date string
	form, json, explain              bool
	blank                            int
	units                            unit.System
}

func parse(args []string, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("lineplan", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&o.scenario, "scenario", "", "read the scenario from this JSON `file` instead of a demo plant")
	flags.StringVar(&o.demo, "demo", "fernhill", "the demo `plant`: fernhill, metric, or alder, in US units")
	flags.BoolVar(&o.form, "form", false, "print a form for a scenario, to be filled in")
	flags.BoolVar(&o.json, "json", false, "print JSON for a program")
	flags.BoolVar(&o.explain, "explain", false, "print the working of every number")
	flags.StringVar(&o.runs, "runs", "", "the shop's records, a JSON `file`: what ran well before stands beside the plan")
	flags.IntVar(&o.blank, "blank", 0, "print a record of this `order`, counted from 1, to be corrected to what was run")
	flags.StringVar(&o.date, "date", time.Now().Format(time.DateOnly), "the `day` of that record")
	flags.StringVar(&o.keep, "keep", "", "add the record on standard input to this JSON `file`")
	flags.TextVar(&o.units, "units", unit.Metric, "metric or us; JSON keeps the units held")
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	given := map[string]bool{}
	flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
	alone, wrong := count(o.form, given["blank"], given["keep"]), ""
	switch {
	case flags.NArg() > 0:
		wrong = fmt.Sprintf("%q is not an option; a scenario is named with -scenario", flags.Arg(0))
	case given["scenario"] && given["demo"]:
		wrong = "-scenario and -demo name two plants: want one"
	case demos[o.demo] == "":
		wrong = fmt.Sprintf("-demo %q: want fernhill or alder", unit.Clip(o.demo))
	case given["scenario"] && o.scenario == "", given["keep"] && o.keep == "", given["runs"] && o.runs == "", given["blank"] && o.blank == 0:
		wrong = "-scenario, -runs and -keep name a file, and -blank the number of an order: want it not empty"
	case alone > 1 || alone == 1 && (o.json || o.explain || given["runs"]):
		wrong = "-form, -blank and -keep each stand alone"
	case given["date"] && !given["blank"]:
		wrong = "-date is the day of a record: want -blank with it"
	case !isDay(o.date):
		wrong = fmt.Sprintf("-date %q: want a day such as 2026-11-04", unit.Clip(o.date))
	}
	if wrong != "" {
		fmt.Fprintln(stderr, "lineplan:", wrong)
		return o, errors.New(wrong)
	}
	return o, nil
}

func isDay(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

func count(all ...bool) (n int) {
	for _, is := range all {
		if is {
			n++
		}
	}
	return n
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	o, err := parse(args, stderr)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		return exitUsage
	}
	if err := o.apart(stdin, stdout); err != nil {
		fmt.Fprintln(stderr, "lineplan:", err)
		return exitUsage
	}
	// Everything is made before anything is printed.
	var page bytes.Buffer
	switch {
	case o.form:
		writeForm(&page)
	case o.keep != "":
		err = keepRecord(o.keep, stdin, stdout)
	case o.blank != 0:
		err = o.printBlank(&page)
	default:
		err = o.print(&page)
	}
	refused := errors.Is(err, errRefused)
	if err == nil || refused {
		err = put(stdout, page.Bytes())
	}
	switch {
	case err != nil:
		complain(stderr, err)
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

// put prints pages. The form feeds between them are to be obeyed; all else is shown.
func put(w io.Writer, pages []byte) error {
	feed := w
	if out, ok := w.(*program.Output); ok {
		feed = out.File
	}
	for i, page := range bytes.Split(pages, []byte("\f")) {
		if i > 0 {
			if _, err := io.WriteString(feed, "\f"); err != nil {
				return err
			}
		}
		if _, err := w.Write(page); err != nil {
			return err
		}
	}
	return nil
}

// errRefused says that an order cannot be made as asked, which its page says in full.
var errRefused = errors.New("an order cannot be made as asked")

// read reads the scenario; text is its JSON.
func (o *options) read() (s line.Scenario, text []byte, err error) {
	if o.scenario == "" {
		text, err = testdata.Scenario(demos[o.demo])
	} else {
		text, err = intake.Read(o.scenario)
	}
	if err != nil {
		return s, nil, err
	}
	s, err = line.ReadScenario(text)
	return s, text, err
}

// print prints the pages, or the same for a program.
func (o *options) print(w *bytes.Buffer) error {
	s, text, err := o.read()
	if err != nil {
		return err
	}
	records := line.RunBook{}
	if o.runs != "" {
		data, err := intake.Read(o.runs)
		if err != nil {
			return err
		}
		if records, err = line.ReadRunBook(data); err != nil {
			return err
		}
	}
	b, err := gather(&s, &records, o.units, o.explain)
	if err != nil {
		return reckon.AsTyped(err, &s, reckon.Filled(text))
	}
	if o.json {
		err = b.writeJSON(w)
	} else {
		b.write(w)
	}
	for _, k := range b.orders {
		if err == nil && k.refused() != nil {
			err = errRefused
		}
	}
	return err
}

// complain lists what is wrong, a line for each value.
func complain(stderr io.Writer, err error) {
	bad := reckon.InputErrors(err)
	if len(bad) == 0 {
		fmt.Fprintln(stderr, "lineplan:", err)
		return
	}
	values := "values are"
	if len(bad) == 1 {
		values = "value is"
	}
	fmt.Fprintf(stderr, "lineplan: %d %s wrong; nothing was planned or kept.\n", len(bad), values)
	for _, e := range bad {
		fmt.Fprintf(stderr, "  %s\n      is %s\n      want %s\n", e.Field, e.Value, e.Want)
	}
}
