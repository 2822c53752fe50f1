// Worksheet prints a sheet of exercises and, on request, its key.
//
//	go run ./examples/worksheet                              ten exercises over all stations
//	go run ./examples/worksheet -key                         and their answers, with the working
//	go run ./examples/worksheet -units us -seed 7            ounces, pounds, inches, °F; another set
//	go run ./examples/worksheet -station divider -steps 2..5 of one station, of so many steps
//	go run ./examples/worksheet -ask curls,ice -size 6       of these calculations
//	go run ./examples/worksheet -blanks -hints               with the working to fill in, and a hint for each step
//	go run ./examples/worksheet -case rolls-to-proofer       a case study
//	go run ./examples/worksheet -fault any                   what would you change?
//	go run ./examples/worksheet -key -o sheet.html           one self-contained page that prints on A4 or Letter
//	go run ./examples/worksheet -o sheet.zip                 a package in the open format QTI 3.0, for a learning platform
//	go run ./examples/worksheet -seed 7 -mark answers.txt    marks answers to sheet 7, a line for each: "3: 68 °F"
//	go run ./examples/worksheet -list                        what there is to ask for
//
// The same options print the same sheet, and mark the answers to it. A number of the
// working is marked in its blank: "3.1: 44 °F" is the first of exercise 3. It exits with 1 if no sheet can be made
// as asked or written, and with 2 if it was called wrongly.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], os.Stdin, out, complaints))
}

// The exit codes.
const (
	exitOK      = 0
	exitRefused = 1
	exitUsage   = 2
)

// options are what the sheet is to hold and how it is printed.
type options struct {
	set             exercise.SetSpec
	caseName, fault string
	key, blanks     bool
	hints, list     bool
	html, qti       bool
	paper, out      string
	mark            string // the file with the answers
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	o, err := parse(args, stderr)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		fmt.Fprintln(stderr, "worksheet:", err)
		return exitUsage
	}
	if err := o.apart(stdin, stdout); err != nil {
		fmt.Fprintln(stderr, "worksheet:", err)
		return exitUsage
	}
	var page bytes.Buffer
	if o.list {
		list(&page)
	} else if err := o.print(&page, stdin); err != nil {
		for line := range strings.Lines(err.Error()) {
			fmt.Fprintln(stderr, "worksheet:", strings.TrimSpace(line))
		}
		return exitRefused
	}
	err = tabular.Write(o.out, stdout, func(w io.Writer) error {
		_, err := w.Write(page.Bytes())
		return err
	})
	if err != nil {
		fmt.Fprintln(stderr, "worksheet:", err)
		return exitRefused
	}
	return exitOK
}

// apart refuses to write over what is read.
func (o options) apart(stdin io.Reader, stdout io.Writer) error {
	answers := intake.Place{What: "-mark", Name: o.mark}
	if o.mark == "-" {
		answers = intake.Place{What: "the answers", Stream: stdin}
	}
	return intake.Apart([]intake.Place{answers}, []intake.Place{{What: "-o", Name: o.out}, {What: "what is printed", Stream: stdout}})
}

func parse(args []string, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("worksheet", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.IntVar(&o.set.Size, "size", 10, "how many exercises")
	flags.Int64Var(&o.set.Seed, "seed", 1, "another number makes another sheet")
	flags.TextVar(&o.set.Units, "units", unit.Metric, "metric or us")
	flags.StringVar(&o.set.Station, "station", "", "exercises of this station only")
	flags.IntVar(&o.set.Distractors, "distractors", 0, "values in each exercise that are not needed, up to 3")
	flags.IntVar(&o.set.Conversions, "conversions", 0, "values in each exercise in another unit than usual, up to 3")
	ask := flags.String("ask", "", "exercises of these calculations only, `ids` with commas between them")
	steps := flags.String("steps", "", "exercises of so many steps, such as 2..5")
	flags.StringVar(&o.caseName, "case", "", "a case study in place of a set: its name, or any")
	flags.StringVar(&o.fault, "fault", "", "a plan with a fault in place of a set: its name, or any")
	flags.BoolVar(&o.key, "key", false, "print the key behind the sheet")
	flags.BoolVar(&o.blanks, "blanks", false, "print the working with blanks to fill in")
	flags.BoolVar(&o.hints, "hints", false, "print a hint for each step")
	flags.BoolVar(&o.html, "html", false, "a self-contained HTML page, as for a file that ends in .html")
	flags.BoolVar(&o.qti, "qti", false, "a package of QTI 3.0, as for a file that ends in .zip; with -key the working is in it for those who mark")
	flags.StringVar(&o.paper, "paper", "", "size of the printed page: a4 or letter; as the units have it if left out")
	flags.StringVar(&o.out, "o", "", "write to this `file`, whole or not at all, in place of the terminal")
	flags.StringVar(&o.mark, "mark", "", "mark the answers in this `file`, or - for what is typed, in place of printing the sheet")
	flags.BoolVar(&o.list, "list", false, "list the calculations, case studies and faults")
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	if *ask != "" {
		o.set.Calculations = strings.Split(*ask, ",")
	}
	if o.paper == "" {
		o.paper = map[unit.System]string{unit.Metric: "a4", unit.US: "letter"}[o.set.Units]
	}
	if !o.html && !o.qti {
		o.html, o.qti = strings.EqualFold(filepath.Ext(o.out), ".html"), strings.EqualFold(filepath.Ext(o.out), ".zip")
	}
	switch {
	case flags.NArg() > 0:
		return o, fmt.Errorf("%q is not an option", flags.Arg(0))
	case o.paper != "a4" && o.paper != "letter":
		return o, fmt.Errorf("paper is %q: want a4 or letter", o.paper)
	case o.html && o.qti:
		return o, errors.New("want either -html or -qti")
	case o.mark != "" && (o.html || o.qti || o.list):
		return o, errors.New("answers are marked as text: want -mark without -html, -qti and -list")
	case o.qti && (o.out == "" || o.out == "-"):
		return o, errors.New("a package is no text: say with -o to which file it goes")
	case o.qti && (o.caseName != "" || o.fault != ""):
		return o, errors.New("a package holds exercises that stand alone: print a case study or a fault as text or as a page")
	case o.caseName != "" && o.fault != "":
		return o, errors.New("want either -case or -fault")
	case *steps != "":
		low, high, ok := strings.Cut(*steps, "..")
		var errLow, errHigh error
		o.set.StepsLow, errLow = strconv.Atoi(low)
		o.set.StepsHigh, errHigh = strconv.Atoi(high)
		if !ok || errLow != nil || errHigh != nil {
			return o, fmt.Errorf("steps is %q: want two whole numbers, such as 2..5", *steps)
		}
	}
	return o, nil
}

// print makes the sheet and writes it, or what the answers to it are worth.
func (o options) print(w *bytes.Buffer, stdin io.Reader) error {
	s, err := o.make()
	if err != nil {
		return err
	}
	switch {
	case o.mark != "":
		given, err := o.readAnswers(stdin)
		if err != nil {
			return err
		}
		return s.writeMarks(w, given)
	case o.qti:
		return s.writeQTI(w)
	case o.html:
		return s.writeHTML(w, o.paper)
	}
	s.writeText(w)
	return nil
}

func (o options) make() (*sheet, error) {
	switch {
	case o.caseName != "":
		spec := exercise.CaseStudySpec{Case: o.caseName, Units: o.set.Units, Seed: o.set.Seed}
		if spec.Case == "any" {
			spec.Case = ""
		}
		c, err := spec.Make()
		if err != nil {
			return nil, err
		}
		return caseSheet(c, o)
	case o.fault != "":
		spec := exercise.FaultSpec{Fault: o.fault, Units: o.set.Units, Seed: o.set.Seed}
		if spec.Fault == "any" {
			spec.Fault = ""
		}
		f, err := spec.Make()
		if err != nil {
			return nil, err
		}
		return faultSheet(f, o)
	}
	set, err := o.set.Make()
	if err != nil {
		return nil, err
	}
	return setSheet(set, o)
}

// list names what can be asked for.
func list(w *bytes.Buffer) {
	station := ""
	for _, e := range calc.Entries() {
		if e.Station != station {
			station = e.Station
			fmt.Fprintf(w, "\nstation %s\n", station)
		}
		if why, unfit := exercise.Unfit(e.ID); unfit {
			fmt.Fprintf(w, "  %-30s  none: %s\n", e.ID, why)
		} else {
			fmt.Fprintf(w, "  %-30s  %s\n", e.ID, e.Question)
		}
	}
	fmt.Fprintf(w, "\ncase studies: %s\nfaults: %s\n", strings.Join(exercise.CaseStudies(), ", "), strings.Join(exercise.Faults(), ", "))
}
