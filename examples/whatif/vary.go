package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/option"
	"example.com/dough/examples/internal/studyrows"
	"example.com/dough/examples/internal/tabular"
)

// shard is the part of a study that is run, and how.
type shard struct {
	first, count, workers int
}

// vary runs a study and writes its rows, and a picture if one is wanted.
func (a *app) vary(f *flags) error {
	study, err := f.study()
	if err != nil {
		return err
	}
	var s shard
	if err := f.drawing(&study, &s); err != nil {
		return err
	}
	format, err := f.choose("to", option.ByEnding(f.text("file"), "table", "csv", "jsonl")...)
	if err != nil {
		return err
	}
	if len(study.Outputs) == 0 {
		return wrong(misused, `nothing is wanted: want -want "PATH,PATH"`)
	}
	limits, err := f.window(&study)
	if err != nil {
		return err
	}
	c, err := study.Compile()
	if err != nil {
		return err
	}
	if err := limits.compile(c); err != nil {
		return err
	}
	for _, r := range c.BaseRefused() {
		a.say("the base itself is refused (%s): the study runs all the same", studyrows.Refusal(&r))
	}
	var kept *gathered
	if f.text("chart") != "" && len(f.given["plot"]) == 0 {
		return wrong(misused, "-chart says how to draw: want -plot NAME.svg too")
	}
	if len(f.given["plot"]) > 0 {
		if kept, err = newGathered(c, study, limits, f.text("chart"), cmp.Or(f.text("product"), f.text("id"))); err != nil {
			return err
		}
	}
	return a.writeRows(f, c, s, format, limits, kept)
}

// drawing reads how scenarios are drawn, and which of them are run.
func (f *flags) drawing(study *whatif.Study, s *shard) error {
	if word := f.text("combine"); word != "" {
		study.Combine = whatif.Combine(word)
	}
	var errs [5]error
	study.Samples, errs[0] = f.whole("samples", study.Samples)
	study.Seed, errs[1] = f.whole("seed", study.Seed)
	s.first, errs[2] = f.whole("first", 0)
	s.count, errs[3] = f.whole("count", 0)
	s.workers, errs[4] = f.whole("workers", 1)
	return errors.Join(errs[:]...)
}

// stopped gives an interruption its exit code.
func stopped(err error) error {
	if errors.Is(err, context.Canceled) {
		return wrong(interrupted, "interrupted: nothing was written")
	}
	return err
}

// errStopped says that somebody interrupted the rows.
var errStopped = errors.New("interrupted")

func (a *app) writeRows(f *flags, c *whatif.Compiled, s shard, format string, limits *window, kept *gathered) error {
	name := f.text("file")
	if name == "-" {
		name = ""
	}
	count := s.count
	if count == 0 {
		count = c.Size() - s.first
	}
	if count > 100_000 {
		a.say("%d scenarios", count)
	}
	tell, end := a.progress(count, name != "")
	done := 0
	write := func(out io.Writer) error {
		w, err := studyrows.New(format, out, c, limits.inTheWay())
		if err != nil {
			return err
		}
		for row, err := range c.Rows(a.ctx, whatif.Options{Workers: s.workers, First: s.first, Count: s.count, Progress: tell}) {
			switch {
			case errors.Is(err, context.Canceled):
				return errors.Join(errStopped, w.Close())
			case err != nil:
				return err
			}
			if err := w.Write(row); err != nil {
				return err
			}
			if kept != nil {
				kept.take(row)
			}
			done++
		}
		return w.Close()
	}
	err := writeWhole(name, a.out, write)
	end()
	switch {
	case errors.Is(err, errStopped):
		return &failure{interrupted, goOn(err, name, s, done)}
	case err != nil && len(reckon.InputErrors(err)) == 0:
		return &failure{broken, err}
	case err != nil:
		return err
	}
	if kept == nil {
		return nil
	}
	for _, word := range kept.window.avoid {
		if !slices.Contains(kept.window.met, word) {
			a.say("-avoid %s: no scenario has this condition, so it bounds nothing", word)
		}
	}
	return kept.draw(f.given["plot"])
}

// goOn says where an interrupted study goes on.
func goOn(err error, name string, s shard, done int) error {
	next, where := s.first+done, ""
	var left *leftOver
	if errors.As(err, &left) {
		where = "; the rows so far are in " + left.name + ", and " + name + " was not touched"
	}
	again := "-first " + strconv.Itoa(next)
	if s.count > 0 {
		again += " -count " + strconv.Itoa(s.count-done)
	}
	return fmt.Errorf("interrupted after %d scenarios%s: the same command with %s goes on there", done, where, again)
}

// leftOver names a file with the rows that there were when somebody stopped.
type leftOver struct{ name string }

func (l *leftOver) Error() string { return "the rows so far are in " + l.name }

// writeWhole writes to the file whole or not at all; what was interrupted stays beside it.
func writeWhole(name string, out io.Writer, write func(io.Writer) error) error {
	if name == "" {
		return write(out)
	}
	file, err := tabular.Create(name)
	if err != nil {
		return err
	}
	err = write(file)
	switch {
	case err == nil:
		return file.Keep()
	case errors.Is(err, errStopped):
		return errors.Join(err, file.Leave(), &leftOver{file.Name()})
	}
	file.Drop()
	return err
}
