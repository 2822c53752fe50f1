// Lineplan plans the orders of a scenario on a make-up line and prints a run
// sheet that a person at the machine can pin up.
//
//	go run ./examples/lineplan                       the invented demo plant
//	go run ./examples/lineplan -scenario day.json    your own; every quantity is text with its unit
//	go run ./examples/lineplan -units us             ounces, pounds, inches, °F
//	go run ./examples/lineplan -explain              and the working of every number
//	go run ./examples/lineplan -json                 for a program: every digit, in the units held
//
// An order that cannot be made as asked is not planned: the sheet says NOT AS
// ASKED, what stands in the way and what would work. It exits with 0 if every
// order was planned as asked, with 1 if the scenario is wrong (then only what is
// wrong is printed, each value with its JSON path) or cannot be read, or what is
// printed cannot be written, with 2 if it was called
// wrongly, and with 3 if an order was refused, as one of the demo's is; go run
// itself exits with 1 then.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
	"example.com/dough/testdata"
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], out, complaints))
}

// The exit codes.
const (
	exitOK       = 0
	exitScenario = 1
	exitUsage    = 2
	exitRefused  = 3
)

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("lineplan", flag.ContinueOnError)
	flags.SetOutput(stderr)
	file := flags.String("scenario", "", "read the scenario from this JSON `file` instead of the demo plant")
	asJSON := flags.Bool("json", false, "print JSON for a program")
	explain := flags.Bool("explain", false, "print the working of every number")
	var units unit.System
	flags.TextVar(&units, "units", unit.Metric, "metric or us; JSON keeps the units held")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitOK
		}
		return exitUsage
	}
	if flags.NArg() > 0 {
		fmt.Fprintf(stderr, "lineplan: %q is not an option; a scenario is named with -scenario\n", flags.Arg(0))
		return exitUsage
	}
	if err := intake.Apart([]intake.Place{{What: "-scenario", Name: *file}}, []intake.Place{{What: "what is printed", Stream: stdout}}); err != nil {
		fmt.Fprintln(stderr, "lineplan:", err)
		return exitUsage
	}
	data, err := read(*file)
	if err != nil {
		fmt.Fprintln(stderr, "lineplan:", err)
		return exitScenario
	}
	scenario, err := line.ReadScenario(data)
	if err != nil {
		return complain(stderr, err)
	}
	working := make([]*reckon.Working, len(scenario.Orders))
	if *explain {
		for i := range working {
			working[i] = new(reckon.Working)
		}
	}
	plans, err := scenario.ExplainAll(working)
	if err != nil {
		return complain(stderr, reckon.AsTyped(err, &scenario, data))
	}
	care, err := scenario.Line.Care(nil)
	if err != nil {
		return complain(stderr, err)
	}
	// Everything is made before anything is printed.
	var page bytes.Buffer
	if *asJSON {
		err = writeJSON(&page, scenario.Title, plans, working)
	} else {
		writeSheet(&page, &scenario, plans, care, working, units)
	}
	if err == nil {
		_, err = stdout.Write(page.Bytes())
	}
	if err != nil {
		fmt.Fprintln(stderr, "lineplan:", err)
		return exitScenario
	}
	for _, p := range plans {
		if p.Refused != nil {
			return exitRefused
		}
	}
	return exitOK
}

func read(file string) ([]byte, error) {
	if file == "" {
		return testdata.Scenario("demo.json")
	}
	return intake.Read(file)
}

// complain lists what is wrong with a scenario, a line for each value.
func complain(stderr io.Writer, err error) int {
	bad := reckon.InputErrors(err)
	values := "values in the scenario are"
	if len(bad) == 1 {
		values = "value in the scenario is"
	}
	fmt.Fprintf(stderr, "lineplan: %d %s wrong; nothing was planned.\n", len(bad), values)
	for _, e := range bad {
		fmt.Fprintf(stderr, "  %s\n      is %s\n      want %s\n", e.Field, e.Value, e.Want)
	}
	return exitScenario
}

// planned is one order as a program reads it.
type planned struct {
	Product string           `json:"product"`
	Pieces  int              `json:"pieces"`
	Plan    *line.PlanResult `json:"plan,omitempty"`
	Refused string           `json:"refused,omitempty"`
	Look    []string         `json:"look_at,omitempty"`
	Care    []string         `json:"take_care,omitempty"`
	Working *reckon.Working  `json:"working,omitempty"`
}

func writeJSON(w io.Writer, title string, plans []line.Planned, working []*reckon.Working) error {
	out := struct {
		Title  string    `json:"title"`
		Orders []planned `json:"orders"`
	}{Title: title}
	for i := range plans {
		p := &plans[i]
		o := planned{Product: p.Order.Product.Name, Pieces: p.Order.Pieces, Working: working[i]}
		if p.Refused != nil {
			o.Refused = p.Refused.Error()
		} else {
			o.Plan = &p.Plan
			for _, n := range reckon.Distinct(reckon.Remarks(p.Plan)) {
				o.Look = append(o.Look, n.Says)
			}
			o.Care = append(reckon.Hazards(p.Plan).Sentences(), reckon.CautionDeference)
		}
		out.Orders = append(out.Orders, o)
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}
