// Spreadsheet writes a calculation, or the plan of a whole scenario, as a
// workbook in which the inputs are cells and every step of the working is a
// formula over earlier cells, so that a planner can go on in the tool that is
// already open.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/keep"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
	"example.com/dough/testdata"
)

const help = `spreadsheet writes a live workbook (.xlsx): change a yellow cell and all that
follows from it is computed again by the spreadsheet.

  spreadsheet [OPTION...]                      the plan of the invented demo plant
  spreadsheet [OPTION...] -scenario FILE       the plan of your own scenario; - reads it from the input
  spreadsheet [OPTION...] ID VALUES            one calculation with its working

ID and VALUES are those of examples/calc: flags named as "calc about ID" lists
them, or one JSON object in quotes, or - to read that object from the input.

Options
  -o FILE            the workbook to write; else plan.xlsx or ID.xlsx
  -replace           write over a workbook that is there already
  -units metric|us   in which units inputs and results are shown
  -paper a4|letter   for printing; else A4, and Letter with -units us

A scenario gets an index with totals, a sheet for the line and the shift, and for
each order its inputs and results and its working. Each sheet says how far its
formulas hold. The workbook is written whole or not at all.

Leaves with 0 if all was worked out, 1 if something could not be, 2 if it was
called wrongly, 3 if a file or what is printed could not be read or written.

Examples
  go run ./examples/spreadsheet
  go run ./examples/spreadsheet curls -length "300 mm" -thickness "5 mm"
  go run ./examples/spreadsheet -o water.xlsx water-temperature -target_temp "26 °C" -flour_temp "21 °C" -room "23 °C" -friction "14 C°" -friction_basis once
`

// The exit codes.
const (
	done    = 0
	refused = 1 // something could not be worked out
	misused = 2 // the command line is wrong
	broken  = 3 // a file could not be read or written
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], os.Stdin, out, complaints))
}

// options are what the command line asks for.
type options struct {
	out, scenario string
	replace       bool
	units         unit.System
	paper         int
	command       string // that makes the same workbook again
}

func run(args []string, in io.Reader, stdout, stderr io.Writer) int {
	fail := func(code int, err error) int {
		for s := range strings.Lines(err.Error()) {
			fmt.Fprintln(stderr, "spreadsheet:", strings.TrimSpace(s))
		}
		return code
	}
	o, rest, err := readOptions(args)
	switch {
	case errors.Is(err, flag.ErrHelp) || len(rest) == 1 && rest[0] == "help":
		if _, err := io.WriteString(stdout, help); err != nil {
			return fail(broken, err)
		}
		return done
	case err == nil:
		err = o.apart(rest, in, stdout)
	}
	if err != nil {
		return fail(misused, err)
	}
	work := o.plans
	if len(rest) > 0 {
		work = o.calculation
	}
	b, told, code, err := work(rest, in)
	if err != nil {
		return fail(code, err)
	}
	if err := o.save(b); err != nil {
		return fail(broken, err)
	}
	if _, err := fmt.Fprintf(stdout, "%s: %s\n", o.out, told); err != nil {
		return fail(broken, err)
	}
	return code
}

// apart refuses to write over what is read.
func (o *options) apart(rest []string, in io.Reader, stdout io.Writer) error {
	read := intake.Place{What: "-scenario", Name: o.scenario}
	if o.scenario == "-" || len(rest) > 0 && rest[len(rest)-1] == "-" {
		read = intake.Place{What: "the input", Stream: in}
	}
	return intake.Apart([]intake.Place{read}, []intake.Place{{What: "-o", Name: o.out}, {What: "what is printed", Stream: stdout}})
}

func readOptions(args []string) (o options, rest []string, err error) {
	flags := flag.NewFlagSet("spreadsheet", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.StringVar(&o.out, "o", "", "")
	flags.StringVar(&o.scenario, "scenario", "", "")
	flags.BoolVar(&o.replace, "replace", false, "")
	flags.TextVar(&o.units, "units", unit.Metric, "")
	paper := flags.String("paper", "", "")
	if err := flags.Parse(args); err != nil {
		return o, nil, fmt.Errorf("%w: spreadsheet help lists the options", err)
	}
	rest = flags.Args()
	switch {
	case *paper == "a4" || *paper == "" && o.units == unit.Metric:
		o.paper = paperA4
	case *paper == "letter" || *paper == "":
		o.paper = paperLetter
	default:
		return o, nil, fmt.Errorf("-paper is %q: want a4 or letter", *paper)
	}
	if o.scenario != "" && len(rest) > 0 {
		return o, nil, fmt.Errorf("%q stands after -scenario: want a calculation or a scenario, not both", rest[0])
	}
	switch {
	case o.out != "":
	case len(rest) > 0:
		o.out = rest[0] + ".xlsx"
	default:
		o.out = "plan.xlsx"
	}
	if !strings.EqualFold(filepath.Ext(o.out), ".xlsx") {
		return o, nil, fmt.Errorf("-o is %q: want a name that ends in .xlsx", o.out)
	}
	o.command = "go run ./examples/spreadsheet"
	for _, a := range args {
		o.command += " " + quoted(a)
	}
	return o, rest, nil
}

// The numbers that spreadsheets have for the two papers.
const (
	paperA4     = 9
	paperLetter = 1
)

// quoted is an argument as a shell takes it.
func quoted(a string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./:=,", r)
	}
	if a != "" && !strings.ContainsFunc(a, func(r rune) bool { return !plain(r) }) {
		return a
	}
	return "'" + strings.ReplaceAll(a, "'", `'\''`) + "'"
}

// plans makes the workbook of a scenario.
func (o *options) plans(_ []string, in io.Reader) (b *book, told string, code int, err error) {
	data, err := testdata.Scenario("demo.json")
	if o.scenario != "" && o.scenario != "-" {
		data, err = intake.Read(o.scenario)
	}
	if o.scenario == "-" {
		data, err = intake.All(in, "the input")
	}
	if err != nil {
		return nil, "", broken, err
	}
	s, err := line.ReadScenario(data)
	if err != nil {
		return nil, "", refused, err
	}
	orders, err := planLive(&s, o.units, 1)
	if err != nil {
		return nil, "", refused, reckon.AsTyped(err, &s, data)
	}
	b = &book{paper: o.paper}
	scenario(b, &s, orders, o.units, o.command)
	var all []*live
	for i := range orders {
		if orders[i].refused != nil {
			code = refused
			told += fmt.Sprintf("; order %d cannot be made as asked: see its sheet", i+1)
			continue
		}
		all = append(all, orders[i].live)
	}
	return b, counted(len(orders), "order") + ", " + summary(all) + told, code, nil
}

// calculation makes the workbook of one calculation.
func (o *options) calculation(args []string, in io.Reader) (b *book, told string, code int, err error) {
	e, ok := calc.Lookup(args[0])
	if !ok {
		_, err := calc.Eval(args[0], nil, calc.Options{})
		return nil, "", misused, err
	}
	var data []byte
	switch args = args[1:]; {
	case len(args) == 1 && args[0] == "-":
		if data, err = intake.All(in, "the input"); err != nil {
			return nil, "", broken, err
		}
	case len(args) == 1 && strings.HasPrefix(strings.TrimSpace(args[0]), "{"):
		data = []byte(args[0])
	default:
		if data, err = objectOf(e, args); err != nil {
			return nil, "", misused, err
		}
	}
	q, err := read(e, data)
	if err != nil {
		return nil, "", refused, err
	}
	l, err := makeLive(e, q, o.units, 1)
	if err != nil {
		return nil, "", refused, err
	}
	b = &book{paper: o.paper}
	calculation(b, l, o.command)
	return b, summary([]*live{l}), done, nil
}

// summary says how much of the workbook is live.
func summary(all []*live) string {
	steps, still, results, stale := 0, 0, 0, 0
	for _, l := range all {
		for i := range l.rows {
			if l.rows[i].how != heading {
				steps++
			}
			if l.rows[i].stale {
				still++
			}
		}
		results += len(l.outputs)
		for i := range l.outputs {
			if l.outputs[i].stale {
				stale++
			}
		}
	}
	told := counted(results, "result") + " from " + counted(steps, "step")
	if still+stale > 0 {
		told += fmt.Sprintf("; %s and %s do not follow every input and are marked", counted(stale, "result"), counted(still, "step"))
	}
	return told
}

// save writes the workbook, whole or not at all, while nobody else writes it.
func (o *options) save(b *book) error {
	held, err := keep.Hold(context.Background(), o.out, 0)
	if err != nil {
		return err
	}
	defer held.Release()
	switch there, err := os.Stat(o.out); {
	case err != nil || there.IsDir(): // writing it tells what is wrong, if anything is
	case !there.Mode().IsRegular():
		return fmt.Errorf("%s is no file that could be replaced", o.out)
	case !o.replace:
		return fmt.Errorf("%s is there already: give another name, or -replace to lose what was done in it", o.out)
	}
	return tabular.Write(o.out, nil, b.write)
}
