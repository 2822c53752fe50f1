package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/option"
	"example.com/dough/examples/internal/studyrows"
	"example.com/dough/examples/internal/tabular"
)

// report writes what a command found: text for people, or JSON for a program. It goes to the file whole
// or not at all.
func (a *app) report(f *flags, result any, text func(io.Writer)) error {
	format, err := f.choose("to", option.ByEnding(f.text("file"), "text", "json")...)
	if err != nil {
		return err
	}
	name := f.text("file")
	if name == "-" {
		name = ""
	}
	err = tabular.Write(name, a.out, func(w io.Writer) error {
		var b strings.Builder
		if format == "json" {
			enc := json.NewEncoder(&b)
			enc.SetEscapeHTML(false)
			enc.SetIndent("", " ")
			if err := enc.Encode(result); err != nil {
				return err
			}
		} else {
			text(&b)
		}
		safe, _ := tabular.Escape([]byte(b.String()))
		_, err := w.Write(safe)
		return err
	})
	if err != nil {
		return &failure{broken, err}
	}
	return nil
}

// noSolution leaves with its own code: nothing was wrong with the question.
func noSolution(err error) error {
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		return &failure{refused, err}
	}
	return err
}

// seek finds the value of an input that gives an output a wanted value.
func (a *app) seek(f *flags) error {
	q, err := readQuestion(f, func(q *whatif.Seek) *whatif.Study { return &q.Study })
	if err != nil {
		return err
	}
	if text := f.text("value"); text != "" {
		q.Value = text
	}
	if q.Points, err = f.whole("points", q.Points); err != nil {
		return err
	}
	found, err := q.Run(a.ctx)
	if err != nil && found == nil {
		return stopped(err)
	}
	if reportErr := a.report(f, found, func(w io.Writer) { writeSeek(w, found) }); reportErr != nil {
		return reportErr
	}
	return noSolution(err)
}

func writeSeek(w io.Writer, s *whatif.SeekResult) {
	input, output := &s.Columns[0], &s.Columns[1]
	if len(s.Met) > 0 {
		fmt.Fprintf(w, "%s is %s where %s is\n", output.Path, amount(s.Value, output), input.Path)
	}
	for _, m := range s.Met {
		at := amount(m.From.Input, input)
		if m.To.Input != m.From.Input {
			at += " to " + amount(m.To.Input, input)
		}
		fmt.Fprintf(w, "  %s%s\n", at, meets(&m, output))
		for j := range s.Columns[2:] {
			fmt.Fprintf(w, "    %s %s\n", s.Columns[2+j].Path, amount(m.From.Outputs[1+j], &s.Columns[2+j]))
		}
		if len(m.From.Conditions) > 0 {
			fmt.Fprintf(w, "    look out for %s\n", strings.Join(m.From.Conditions, ", "))
		}
	}
	for _, r := range s.Refused {
		fmt.Fprintf(w, "no answer where %s is %s to %s\n", input.Path, amount(r.From, input), amount(r.To, input))
	}
	switch {
	case s.Inverse != "":
		fmt.Fprintf(w, "answered by %s, the same relation turned round\n", s.Inverse)
	case s.Reach != nil:
		fmt.Fprintf(w, "searched from %s to %s: %s goes from %s (at %s) to %s (at %s)\n",
			amount(s.Searched.From, input), amount(s.Searched.To, input), output.Path,
			amount(s.Reach.Low, output), amount(s.Reach.LowAt, input), amount(s.Reach.High, output), amount(s.Reach.HighAt, input))
	}
	if s.More {
		fmt.Fprintln(w, "there are more than are told: search a smaller range")
	}
	var careful reckon.Cautions
	for _, m := range s.Met {
		careful |= m.From.Cautions | m.To.Cautions
	}
	takeCare(w, careful)
}

// takeCare tells what can hurt whoever sets what was found.
func takeCare(w io.Writer, careful reckon.Cautions) {
	fmt.Fprintf(w, "%s", studyrows.AppendNotes(nil, nil, nil, careful))
}

// meets says how the output meets the value, where that is not plain.
func meets(m *whatif.Meeting, output *whatif.Column) string {
	switch m.Kind {
	case whatif.Touch:
		return " (it touches the value and turns back)"
	case whatif.Level:
		return " (all the way)"
	case whatif.Between:
		return fmt.Sprintf(" (between the two: %s and %s)", amount(m.From.Outputs[0], output), amount(m.To.Outputs[0], output))
	case whatif.Jump:
		return fmt.Sprintf(" (it leaps from %s to %s)", amount(m.From.Outputs[0], output), amount(m.To.Outputs[0], output))
	}
	return ""
}

// amount is a number of a column with its unit, six digits of it.
func amount(x float64, c *whatif.Column) string { return digits(x) + unitAfter(c.Unit) }
