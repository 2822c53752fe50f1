// Checkweigh reads weighings as they are made and says of each subgroup of
// pieces whether the divider is steady, and where to set its mark.
//
//	go run ./examples/checkweigh -demo -png chart.png          the invented demo plant
//	go run ./examples/checkweigh weighings.csv                 your own, from a file
//	scale | go run ./examples/checkweigh -                     or as they arrive
//	  -trials trials.csv -target "85 g" -move-limit "0.6 g" -mark-low 0 -mark-high 40
//	                                                           and where to set the mark
//	  -svg chart.svg -png chart.png                            and the chart
//	  -state charts.json                                       and going on with it the next shift
//
// Options come before the name of the table. The weighings have a header with
// the unit of the weight; lane and mark may be left out:
//
//	lane,mark,weight (g)
//	1,12,85.3
//
// Each lane has its own chart: its first subgroups set the limits, the later
// ones are held against them. Trials, for the mark, have the columns
// mark, weight (g) and pieces. A subgroup with a double or a torn piece, an outlier
// or a change of scatter says nothing of the mark: it is named with where to look,
// and the next advice waits for a fresh one.
//
// With -state the charts, a set-up or a subgroup that is not finished, and the
// mark are kept in a file, and the next run goes on with them. A table of the
// next run holds the rows that came since, under a header of their own.
//
// A row that cannot be read is named by line, column and value. With
// -bad-rows refuse (the default) nothing after it is read, what came before it
// is kept and drawn, and it leaves with 1; with -bad-rows skip the other rows
// are kept. It leaves with 2 if it was called wrongly.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/dough/doughmath/unit"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// The exit codes.
const (
	exitOK    = 0
	exitData  = 1
	exitUsage = 2
)

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o options
	flags := o.flags(stderr)
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitOK
		}
		return exitUsage
	}
	given := map[string]bool{}
	flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
	if err := o.check(flags.Args(), given); err != nil {
		complain(stderr, err)
		return exitUsage
	}
	line := &line{options: o, out: stdout, lanes: map[int]*lane{}, latest: map[int]unit.Mass{}}
	if err := line.process(flags.Args(), stdin, stderr); err != nil {
		complain(stderr, err)
		return exitData
	}
	return exitOK
}

// complain prints each thing that is wrong on a line of its own.
func complain(stderr io.Writer, err error) {
	for text := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintln(stderr, "checkweigh:", text)
	}
}
