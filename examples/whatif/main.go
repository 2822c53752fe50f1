// Whatif varies a plan, a whole day or any calculation at the command line: what
// comes out, where something happens, what matters most, and a picture of it.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
)

// The exit codes.
const (
	done        = 0
	refused     = 1 // what was asked has no answer
	misused     = 2 // the command line or the study is wrong
	broken      = 3 // a file could not be read or written
	interrupted = 4 // or hung up, or ended: the rows so far are whole
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(program.Context(), os.Args[1:], out, complaints))
}

// app is one run of the program.
type app struct {
	ctx      context.Context
	out, err io.Writer
	command  string
}

// failure is an error that the program leaves with its own code for.
type failure struct {
	code int
	err  error
}

func (f *failure) Error() string { return f.err.Error() }
func (f *failure) Unwrap() error { return f.err }

func wrong(code int, format string, args ...any) error {
	return &failure{code, fmt.Errorf(format, args...)}
}

func run(ctx context.Context, args []string, out, stderr io.Writer) int {
	a := app{ctx: ctx, out: out, err: stderr}
	if len(args) == 0 || slices.Contains([]string{"help", "-h", "-help", "--help"}, args[0]) {
		if _, err := io.WriteString(out, help); err != nil {
			return a.fail(&failure{broken, err})
		}
		return done
	}
	a.command = args[0]
	for _, c := range commands() {
		if c.name == args[0] {
			set, err := readFlags(c, args[1:])
			if err == nil {
				err = set.apart(out)
			}
			if err == nil {
				err = c.do(&a, set)
			}
			return a.fail(err)
		}
	}
	return a.fail(wrong(misused, "no command is called %q: %s", args[0], commandNames()))
}

// fail says what went wrong, a line for each thing, and returns the exit code.
func (a *app) fail(err error) int {
	if err == nil {
		return done
	}
	for line := range strings.Lines(err.Error()) {
		a.say("%s", strings.TrimSuffix(line, "\n"))
	}
	var own *failure
	switch {
	case errors.As(err, &own):
		return own.code
	case len(reckon.InputErrors(err)) > 0:
		return misused
	}
	return broken
}

// say prints a line for a person. There is nobody to tell if that fails.
func (a *app) say(format string, args ...any) {
	_, _ = io.WriteString(a.err, tabular.Harmless(fmt.Sprintf(format, args...), false)+"\n")
}

// command is one thing that the program does.
type command struct {
	name  string
	flags []string // besides the common ones
	do    func(*app, *flags) error
}

func commands() []command {
	return []command{
		{"vary", []string{"combine", "samples", "seed", "first", "count", "workers", "to", "chart", "avoid", "within"}, (*app).vary},
		{"seek", []string{"value", "points", "to"}, (*app).seek},
		{"spread", []string{"combine", "samples", "seed", "workers", "digits", "probability", "chart", "to"}, (*app).spread},
		{"best", []string{"aim", "within", "avoid", "with", "exact?", "combine", "samples", "seed", "workers", "to"}, (*app).best},
		{"robust", []string{"scatter", "within", "avoid", "with", "samples", "seed", "workers", "to"}, (*app).robust},
		{"compare", []string{"case", "explain?", "to"}, (*app).compare},
	}
}

func commandNames() string {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
