// Setupcard writes what a line's people hang at the machines: for each product of a scenario where every control stands, drawn,
// with room for what was run; how to change over, with boxes to tick; and the day as a chart and by the clock. It is one page
// of HTML that needs nothing else and prints in black and white on A4 or Letter. A scenario's day says in which order the cards
// hang, from when and by whom the line is changed over; without one they hang as given.
//
//	go run ./examples/setupcard -o cards.html                        the invented demo plant
//	go run ./examples/setupcard -demo alder -units us -o cards.html  another, in US units
//	go run ./examples/setupcard -scenario day.json -units us -paper letter -o cards.html
//	go run ./examples/setupcard -runs runs.json -o cards.html        with what ran well before, from the shop's own records
//	go run ./examples/setupcard -start "22 h" -people 3 -o cards.html in place of what the scenario's day says
//	go run ./examples/setupcard -day day.json -o cards.html          a question to day-plan: the orders in the order that it finds
//
// Print it from a browser, or with headless Chromium: chromium --headless --print-to-pdf=cards.pdf cards.html
//
// It exits with 0 if all was written, with 1 if a file is wrong (each value is named with its JSON path, and nothing is
// written), with 2 if it was called wrongly, and with 3 if an order cannot be made as asked, which its card says.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], out, complaints))
}

// The exit codes.
const (
	exitOK      = 0
	exitFile    = 1
	exitUsage   = 2
	exitRefused = 3
)

type options struct {
	demo, scenario, day, runs string
	file                      string
	paper                     string
	people                    int
	start                     unit.Duration
	given                     map[string]bool // the options that a person gave
	units                     unit.System
}

func run(args []string, stdout, stderr io.Writer) int {
	o, err := parse(args, stderr)
	if err == nil {
		err = o.apart(stdout)
	}
	switch {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		fmt.Fprintln(stderr, "setupcard:", err)
		return exitUsage
	}
	// Everything is made before anything is written.
	var page bytes.Buffer
	cards, err := o.cards()
	if err == nil {
		err = cards.write(&page)
	}
	if err == nil {
		err = tabular.Write(o.file, stdout, func(w io.Writer) error {
			_, err := w.Write(page.Bytes())
			return err
		})
	}
	switch {
	case err != nil:
		fmt.Fprintln(stderr, "setupcard:", err)
		return exitFile
	case cards.Refused:
		return exitRefused
	}
	return exitOK
}

// apart refuses to write over what is read.
func (o *options) apart(stdout io.Writer) error {
	return intake.Apart(
		[]intake.Place{{What: "-scenario", Name: o.scenario}, {What: "-day", Name: o.day}, {What: "-runs", Name: o.runs}},
		[]intake.Place{{What: "-o", Name: o.file}, {What: "what is printed", Stream: stdout}},
	)
}

func parse(args []string, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("setupcard", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&o.demo, "demo", "fernhill", "the demo `plant`: fernhill, metric, or alder, in US units")
	flags.StringVar(&o.scenario, "scenario", "", "read the scenario from this JSON `file` instead of the demo plant")
	flags.StringVar(&o.day, "day", "", "in place of a scenario, a question to day-plan in this JSON `file`: the cards follow the order that it finds")
	flags.StringVar(&o.runs, "runs", "", "the shop's records, a JSON `file`, as examples/lineplan keeps them")
	flags.StringVar(&o.file, "o", "", "write to this `file`, whole or not at all, instead of standard output")
	flags.StringVar(&o.paper, "paper", "a4", "what it is printed on: a4 or letter")
	flags.TextVar(&o.start, "start", unit.Duration(0), "when the first mixing starts, from midnight, in place of what the day of the scenario says, or of 5 h; with -day the file says")
	flags.IntVar(&o.people, "people", 0, "people who change over, in place of what the day of the scenario says, or of 2; with -day the file says")
	flags.TextVar(&o.units, "units", unit.Metric, "metric or us")
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	given := map[string]bool{}
	flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
	o.given = given
	switch {
	case flags.NArg() > 0:
		return o, fmt.Errorf("%q is not an option", flags.Arg(0))
	case o.demo != "fernhill" && o.demo != "alder":
		return o, fmt.Errorf("-demo %q: want fernhill or alder", unit.Clip(o.demo))
	case given["demo"] && (given["scenario"] || given["day"]):
		return o, errors.New("want either -demo or a file of your own")
	case o.paper != "a4" && o.paper != "letter":
		return o, fmt.Errorf("-paper %q: want a4 or letter", unit.Clip(o.paper))
	case given["day"] && (given["scenario"] || given["start"] || given["people"]):
		return o, errors.New("-day says the line, its orders, the start and the people: want no -scenario, -start or -people beside it")
	}
	return o, nil
}
