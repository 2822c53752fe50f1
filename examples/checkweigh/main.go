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
// next run holds the rows that came since, under a header of their own. The file
// is written, whole or not at all, whenever the program waits for more weighings,
// and never holds one of which not all was said. One program at a time has it.
//
// A row that cannot be read is named by line, column and value. With
// -bad-rows refuse (the default) nothing after it is read, what came before it
// is kept and drawn, and it leaves with 1; with -bad-rows skip the other rows
// are kept. It leaves with 2 if it was called wrongly, with 3 if a file or what it
// prints could not be read or written, and with 4 if it was interrupted, hung up or ended:
// then it keeps and draws what it has read.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(program.Context(), os.Args[1:], os.Stdin, out, complaints))
}

// The exit codes.
const (
	exitOK          = 0
	exitData        = 1
	exitUsage       = 2
	exitFile        = 3
	exitInterrupted = 4
)

// broken is what went wrong with a file or a stream, not with what is in it.
type broken struct{ error }

func (b *broken) Unwrap() error { return b.error }

func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
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
	err := o.check(flags.Args(), given)
	if err == nil {
		err = o.apart(flags.Args(), stdin, stdout)
	}
	if err != nil {
		complain(stderr, err)
		return exitUsage
	}
	line := &line{options: o, out: &printing{to: stdout}, lanes: map[int]*lane{}, latest: map[int]unit.Mass{}}
	if err = line.process(ctx, flags.Args(), stdin, stderr); err == nil {
		return exitOK
	}
	complain(stderr, err)
	switch file := (*broken)(nil); {
	case errors.As(err, &file):
		return exitFile
	case errors.Is(err, program.ErrInterrupted):
		return exitInterrupted
	}
	return exitData
}

// apart refuses to write over what is read.
func (o *options) apart(args []string, stdin io.Reader, stdout io.Writer) error {
	table := intake.Place{What: "the table"}
	switch {
	case o.demo:
	case args[0] == "-":
		table.Stream = stdin
	default:
		table.Name = args[0]
	}
	return intake.Apart([]intake.Place{table, {What: "-trials", Name: o.trials}}, []intake.Place{
		{What: "-state", Name: o.state},
		{What: "-svg", Name: o.svg},
		{What: "-png", Name: o.png},
		{What: "what is printed", Stream: stdout},
	})
}

// printing is what is printed. It keeps its first error: what comes after that is not said.
type printing struct {
	to  io.Writer
	err error
}

func (s *printing) Write(p []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.to.Write(p)
	if err != nil {
		s.err = &broken{fmt.Errorf("what is printed: %w", err)}
	}
	return n, s.err
}

// complain prints each thing that is wrong on a line of its own.
func complain(stderr io.Writer, err error) {
	for text := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintln(stderr, "checkweigh:", text)
	}
}
