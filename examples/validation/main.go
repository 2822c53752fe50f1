// Validation runs every check against a value from outside the project and
// prints, as a Markdown table, how many agree and whose values they are.
//
//	go run ./examples/validation                    print the table
//	go run ./examples/validation -check README.md   is the table in the file current?
//	go run ./examples/validation -write README.md   bring it up to date
//
// In a file the table stands between the lines
//
//	<!-- validation:begin -->
//	<!-- validation:end -->
//
// It leaves with 0 if all is well, with 1 if a check does not hold or the
// file's table is out of date, and with 2 if it was called wrongly.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("validation", flag.ContinueOnError)
	flags.SetOutput(stderr)
	check := flags.String("check", "", "complain if the table in this `file` is out of date")
	write := flags.String("write", "", "bring the table in this `file` up to date")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if flags.NArg() > 0 || *check != "" && *write != "" {
		_, _ = fmt.Fprintln(stderr, "validation: give -check FILE, -write FILE or nothing")
		return 2
	}
	cases, err := testdata.Cases()
	if err != nil {
		return complain(stderr, err)
	}
	sources, err := testdata.Sources()
	if err != nil {
		return complain(stderr, err)
	}
	var table bytes.Buffer
	if err := report(&table, calc.Entries(), cases, sources); err != nil {
		return complain(stderr, err)
	}
	file := *check + *write
	if file == "" {
		_, err = stdout.Write(table.Bytes())
		return complain(stderr, err)
	}
	old, err := os.ReadFile(file)
	if err != nil {
		return complain(stderr, err)
	}
	fresh, err := between(old, table.Bytes())
	switch {
	case err != nil:
		return complain(stderr, fmt.Errorf("%s: %w", file, err))
	case bytes.Equal(old, fresh):
		return 0
	case *check != "":
		return complain(stderr, fmt.Errorf("%s: the validation table is out of date: go run ./examples/validation -write %s", file, file))
	}
	return complain(stderr, os.WriteFile(file, fresh, 0o644))
}

// complain prints err, if any, and returns the exit code.
func complain(stderr io.Writer, err error) int {
	if err == nil {
		return 0
	}
	_, _ = fmt.Fprintln(stderr, "validation:", err) // there is nobody left to tell
	return 1
}

const (
	begin = "<!-- validation:begin -->\n"
	end   = "<!-- validation:end -->"
)

// between returns text with what stands between the markers replaced.
func between(text, table []byte) ([]byte, error) {
	if bytes.Count(text, []byte(begin)) != 1 || bytes.Count(text, []byte(end)) != 1 {
		return nil, fmt.Errorf("want the lines %q and %q once each", strings.TrimSpace(begin), end)
	}
	before, rest, _ := bytes.Cut(text, []byte(begin))
	_, after, ok := bytes.Cut(rest, []byte(end))
	if !ok {
		return nil, fmt.Errorf("%q stands before %q", end, strings.TrimSpace(begin))
	}
	return slices.Concat(before, []byte(begin+"\n"), table, []byte("\n"+end), after), nil
}

// tally counts one calculation's cases.
type tally struct {
	status     map[testdata.Status]int
	provenance map[testdata.Provenance]int
	sources    []string // keys, in the order met
	cases      int
}

func newTally() *tally {
	return &tally{status: map[testdata.Status]int{}, provenance: map[testdata.Provenance]int{}}
}

func (t *tally) add(c testdata.Case) {
	t.cases++
	t.status[c.Status]++
	t.provenance[c.Provenance]++
	if !slices.Contains(t.sources, c.Source) {
		t.sources = append(t.sources, c.Source)
	}
}

var kinds = [...]testdata.Provenance{testdata.Published, testdata.Derived, testdata.ReferenceLibrary, testdata.CommonPractice, testdata.Memory}

func (t *tally) mix() string {
	var parts []string
	for _, k := range kinds {
		if n := t.provenance[k]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, k))
		}
	}
	return strings.Join(parts, ", ")
}

// row writes the counts and ends the row.
func (t *tally) row(w *bytes.Buffer, references string) {
	fmt.Fprintf(w, "%d | %d | %d | %d | %s | %s |\n", t.cases, t.status[testdata.Agrees],
		t.status[testdata.Rounded], t.status[testdata.Erratum], t.mix(), references)
}

// report runs the cases and writes the table. It returns an error that names
// every case that does not hold, and then the table is worth nothing.
func report(w *bytes.Buffer, entries []calc.Entry, cases []testdata.Case, sources map[string]testdata.Source) error {
	byID := map[string]*tally{}
	all := newTally()
	var failed []error
	for _, c := range cases {
		e, ok := calc.Lookup(c.Func)
		if !ok {
			failed = append(failed, fmt.Errorf("case %s: no calculation is called %q", c.ID, c.Func))
			continue
		}
		result, err := e.Run(c.In, nil)
		for _, complaint := range testdata.Compare(c, result, err) {
			failed = append(failed, fmt.Errorf("%s: case %s: %s", c.Func, c.ID, complaint))
		}
		if byID[e.ID] == nil {
			byID[e.ID] = newTally()
		}
		byID[e.ID].add(c)
		all.add(c)
	}
	if len(failed) > 0 {
		return errors.Join(failed...)
	}

	number := map[string]int{} // of a source, in the order met in the table
	var listed []string
	fmt.Fprintln(w, "| Question | Calculation | Function | Cases | Agree | Rounded | Errata | Whose values | Sources |")
	fmt.Fprintln(w, "| --- | --- | --- | ---: | ---: | ---: | ---: | --- | --- |")
	for _, e := range entries {
		fmt.Fprintf(w, "| %s | `%s` | `%s` | ", e.Question, e.ID, e.Func())
		t := byID[e.ID]
		if t == nil {
			fmt.Fprintln(w, "| | | | there and back from its inverse | |")
			continue
		}
		references := make([]string, len(t.sources))
		for i, key := range t.sources {
			if number[key] == 0 {
				listed = append(listed, key)
				number[key] = len(listed)
			}
			references[i] = fmt.Sprint(number[key])
		}
		t.row(w, strings.Join(references, ", "))
	}
	fmt.Fprint(w, "| **all** | | | ")
	all.row(w, fmt.Sprint(len(listed)))
	fmt.Fprint(w, `
*Agree*: ours is the printed value, to half its last digit or within the tolerance that the case gives a reason for. *Rounded*: the source rounded a value on the way; the case says which.
*Errata*: the source's printed value is wrong; the case keeps it beside ours and a test asserts that they differ.
`)
	fmt.Fprint(w, "\nSources:\n\n")
	for i, key := range listed {
		fmt.Fprintf(w, "%d. %s\n", i+1, cite(sources[key]))
	}
	return nil
}

// cite writes a source in one line of Markdown.
func cite(s testdata.Source) string {
	var parts []string
	if s.Author != "" {
		parts = append(parts, s.Author)
	}
	title := s.Title
	if s.URL != "" {
		title = "[" + title + "](" + s.URL + ")"
	}
	parts = append(parts, title)
	if s.Year != "" {
		parts = append(parts, s.Year)
	}
	return fmt.Sprintf("%s (%s).", strings.Join(parts, ", "), s.Provenance)
}
