package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/option"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
)

// rowsJob is what the command line of rows asks for.
type rowsJob struct {
	entry          calc.Entry
	options        calc.Options
	from, to       string
	stop, echo     bool
	keep, outputs  []string
	base           []byte
	baseName       string // of its file, if it was named
	source, target string // names of files; "" or "-" for the streams
}

func (a app) rows(args []string) int {
	set, rest, ok := a.options(args, "units", "working?", "from", "to", "bad", "keep", "base", "want", "echo?", "file")
	if !ok {
		return misused
	}
	job, code, err := rowsAsked(set, rest)
	if err != nil {
		return a.fail(code, err)
	}
	if err := job.apart(a); err != nil {
		return a.fail(misused, err)
	}
	in := a.in
	if job.source != "" && job.source != "-" {
		file, err := intake.Open(job.source)
		if err != nil {
			return a.fail(broken, err)
		}
		defer func() { _ = file.Close() }() // it was only read
		in = file
	}
	code = done
	err = tabular.Write(job.target, a.out, func(out io.Writer) error {
		var err error
		if code, err = a.work(job, program.Reading(a.ctx, in), out); code == refused && job.stop && job.target != "" {
			return errors.New(job.target + " was not written")
		}
		return err
	})
	switch {
	case err == nil:
		return code
	case code == done:
		code = broken
	case code == interrupted && job.target != "" && job.target != "-":
		err = fmt.Errorf("%w: %s was not written", err, job.target)
	}
	return a.fail(code, err)
}

func rowsAsked(set map[string]string, rest []string) (job rowsJob, code int, err error) {
	var errs [6]error
	job.options, errs[0] = evalOptions(set)
	if len(rest) < 1 || len(rest) > 2 {
		errs[1] = errors.New("rows needs an id and at most one file")
	}
	if len(rest) == 2 {
		job.source = rest[1]
	}
	job.target = set["file"]
	job.to, errs[2] = choose(set, "to", option.ByEnding(job.target, "table", "csv", "jsonl")...)
	bad, badErr := choose(set, "bad", "stop", "skip")
	job.from, errs[3] = choose(set, "from", option.ByEnding(job.source, "csv", "jsonl")...)
	job.keep, job.outputs = option.List(set["keep"]), option.List(set["want"])
	job.stop, job.echo, errs[4] = bad == "stop", set["echo"] == "true", badErr
	job.options.Rounded = job.to == "table"
	if job.from == "jsonl" && (len(job.keep) > 0 || job.echo) {
		errs[5] = errors.New("-keep and -echo go with CSV")
	}
	if err := errors.Join(errs[:]...); err != nil {
		return job, misused, err
	}
	if job.entry, err = find(rest[0]); err != nil {
		return job, misused, err
	}
	if text, given := set["base"]; given {
		if job.base = []byte(text); !strings.HasPrefix(strings.TrimSpace(text), "{") {
			job.baseName = text
			if job.base, err = intake.Read(text); err != nil {
				return job, broken, fmt.Errorf("-base: %w", err)
			}
		}
		if err := readBase(job.entry, job.base); err != nil {
			return job, refused, err
		}
	}
	return job, done, nil
}

// apart refuses to write over what is read.
func (j *rowsJob) apart(a app) error {
	rows := intake.Place{What: "the rows", Name: j.source}
	if j.source == "" || j.source == "-" {
		rows = intake.Place{What: rows.What, Stream: a.in}
	}
	answers := intake.Place{What: "-file", Name: j.target}
	if j.target == "" || j.target == "-" {
		answers = intake.Place{What: "what is printed", Stream: a.out}
	}
	return intake.Apart([]intake.Place{rows, {What: "-base", Name: j.baseName}}, []intake.Place{answers})
}

// work answers all rows. Its error is that of a file, or of the command line.
func (a app) work(job rowsJob, in io.Reader, out io.Writer) (int, error) {
	whole := job.to == "jsonl" && len(job.outputs) == 0
	if len(job.outputs) == 0 {
		job.outputs = defaultOutputs(job.entry)
	}
	outputs, err := newOutputs(job.entry, job.outputs, job.options.Units)
	switch {
	case whole:
		outputs, err = nil, nil
	case job.options.Working:
		err = errors.New("-working goes with -to jsonl, without -want")
	}
	if err != nil {
		return misused, err
	}
	var source reader
	if job.from == "jsonl" {
		source = newLineReader(job.entry, in, job.base)
	} else if source, err = newCSVReader(job.entry, in, job.keep, job.base); err != nil {
		return readingCode(err, misused), err
	}
	s := &solver{entry: job.entry, options: job.options, source: source, outputs: outputs}
	var w sink = &wholeSink{w: bufio.NewWriterSize(out, 64<<10)}
	if !whole {
		w = newSheet(job.to, out, job.entry, source.form(), outputs, job.echo, job.options.Units)
	}
	code, err := a.each(s, w, job.stop)
	return code, errors.Join(err, w.close())
}

// each works every row out. It holds one row at a time.
func (a app) each(s *solver, w sink, stop bool) (int, error) {
	code, refusals := done, 0
	for number := 1; ; number++ {
		r, err := s.source.row()
		if a.ctx.Err() != nil {
			return interrupted, fmt.Errorf("%w after %d rows", program.ErrInterrupted, number-1)
		}
		if err == nil {
			var answer *solved
			if answer, err = s.solve(r); err == nil {
				if err := w.answered(number, r, answer); err != nil {
					return broken, err
				}
				continue
			}
		} else if !isRowError(err) {
			if !errors.Is(err, io.EOF) {
				return readingCode(err, broken), err
			}
			if refusals > 1 {
				a.say("%d rows could not be worked out", refusals)
			}
			return code, nil
		}
		code = refused
		refusals++
		for line := range strings.Lines(err.Error()) {
			a.say("row %d%s: %s", number, s.source.place(), strings.TrimSuffix(line, "\n"))
		}
		if err := w.refused(number, r, err); err != nil {
			return broken, err
		}
		if stop {
			a.say("stopped there: -bad skip goes on")
			return code, nil
		}
	}
}

// unread is an error of the reading, not of what was read.
type unread struct{ error }

func (u *unread) Unwrap() error { return u.error }

// readingCode is the exit code for an error of the rows as a whole, if it is none of the reading.
func readingCode(err error, otherwise int) int {
	var failed *unread
	switch {
	case errors.Is(err, program.ErrInterrupted):
		return interrupted
	case errors.As(err, &failed):
		return broken
	}
	return otherwise
}

// isRowError says that the row is wrong, not the file.
func isRowError(err error) bool {
	var bad *rowError
	return errors.As(err, &bad)
}
