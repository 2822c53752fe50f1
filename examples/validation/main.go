// Validation runs every check against a value from outside the project and
// prints a page of Markdown: how many agree, and whose values they are.
//
//	go run ./examples/validation                                print the page
//	go run ./examples/validation -check testdata/VALIDATION.md  is the page in the file current?
//	go run ./examples/validation -write testdata/VALIDATION.md  bring it up to date
//	go run ./examples/validation -summary                       print the line that README.md carries
//	go run ./examples/validation -answers > FILE                print every answer, in every digit and as people read it
//	go run ./examples/validation -against FILE                  how far do those of another machine agree with ours?
//
// It leaves with 0 if all is well, with 1 if a check does not hold, the
// file is out of date, another machine answers otherwise, or something cannot be read or written, and
// with 2 if it was called wrongly.
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
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
	"example.com/dough/testdata"
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], counted, out, complaints))
}

// counted runs every case.
func counted() (*counts, error) {
	cases, err := testdata.Cases()
	if err != nil {
		return nil, err
	}
	return count(calc.Entries(), cases)
}

func run(args []string, counted func() (*counts, error), stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("validation", flag.ContinueOnError)
	flags.SetOutput(stderr)
	check := flags.String("check", "", "complain if the page in this `file` is out of date")
	write := flags.String("write", "", "bring the page in this `file` up to date")
	short := flags.Bool("summary", false, "print the line that README.md carries")
	print := flags.Bool("answers", false, "print every answer of this machine")
	other := flags.String("against", "", "hold the answers of another machine, in this `file`, against ours")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if flags.NArg() > 0 || flags.NFlag() > 1 {
		_, _ = fmt.Fprintln(stderr, "validation: give one of -check FILE, -write FILE, -summary, -answers and -against FILE, or nothing")
		return 2
	}
	if *print || *other != "" {
		cases, err := testdata.Cases()
		switch {
		case err != nil:
		case *print:
			err = writeAnswers(stdout, calc.Entries(), cases)
		default:
			err = compareWith(*other, cases, stdout)
		}
		return complain(stderr, err)
	}
	sources, err := testdata.Sources()
	if err != nil {
		return complain(stderr, err)
	}
	counts, err := counted()
	if err != nil {
		return complain(stderr, err)
	}
	if *short {
		_, err = fmt.Fprintln(stdout, counts.summary())
		return complain(stderr, err)
	}
	page := counts.page(sources)
	switch {
	case *write != "":
		return complain(stderr, tabular.Write(*write, nil, func(w io.Writer) error {
			_, err := w.Write(page)
			return err
		}))
	case *check != "":
		old, err := intake.Read(*check)
		if err == nil && !bytes.Equal(old, page) {
			err = fmt.Errorf("%s is out of date: go run ./examples/validation -write %s", *check, *check)
		}
		return complain(stderr, err)
	}
	_, err = stdout.Write(page)
	return complain(stderr, err)
}

// compareWith says how far the answers in the file agree with ours.
func compareWith(file string, cases []testdata.Case, stdout io.Writer) error {
	f, err := intake.Open(file)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }() // it was only read
	said, err := against(f, calc.Entries(), cases)
	if err == nil {
		_, err = fmt.Fprintln(stdout, said)
	}
	return err
}

// complain prints err, if any, and returns the exit code.
func complain(stderr io.Writer, err error) int {
	if err == nil {
		return 0
	}
	_, _ = fmt.Fprintln(stderr, "validation:", err) // there is nobody left to tell
	return 1
}

// kinds are the provenances in the order of the page, the strongest first.
var kinds = [...]struct {
	is    testdata.Provenance
	title string
}{
	{testdata.Published, "Published values"},
	{testdata.ReferenceLibrary, "Computed with a general-purpose library"},
	{testdata.Derived, "Worked out apart from the code, from a source's relation or figures"},
	{testdata.CommonPractice, "Facts of the trade, without a source"},
	{testdata.Memory, "Recalled, not seen"},
}

// tally counts cases.
type tally struct {
	cases, agree, rounded, errata int
	sources                       []string // keys, in the order met
}

func (t *tally) add(c testdata.Case) {
	t.cases++
	switch c.Status {
	case testdata.Rounded:
		t.rounded++
	case testdata.Erratum:
		t.errata++
	default:
		t.agree++
	}
	if !slices.Contains(t.sources, c.Source) {
		t.sources = append(t.sources, c.Source)
	}
}

// counts are the tallies of all cases, by provenance and calculation.
type counts struct {
	entries []calc.Entry
	all     tally
	kind    map[testdata.Provenance]*tally
	by      map[testdata.Provenance]map[string]*tally // by id
}

// count runs the cases. It returns an error that names every case that does
// not hold, and then there is nothing to count.
func count(entries []calc.Entry, cases []testdata.Case) (*counts, error) {
	out := &counts{entries: entries, kind: map[testdata.Provenance]*tally{}, by: map[testdata.Provenance]map[string]*tally{}}
	for _, k := range kinds {
		out.kind[k.is], out.by[k.is] = &tally{}, map[string]*tally{}
	}
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
		mine := out.by[c.Provenance][e.ID]
		if mine == nil {
			mine = &tally{}
			out.by[c.Provenance][e.ID] = mine
		}
		mine.add(c)
		out.kind[c.Provenance].add(c)
		out.all.add(c)
	}
	return out, errors.Join(failed...)
}

// summary is one line for a front page.
func (n *counts) summary() string {
	var parts []string
	for _, k := range kinds {
		parts = append(parts, fmt.Sprintf("%d %s", n.kind[k.is].cases, k.is))
	}
	return fmt.Sprintf("%d checks of %d calculations against values from outside (%s): %d agree as printed, %d after a rounding in the source, %d are errata of the source.",
		n.all.cases, len(n.entries), strings.Join(parts, ", "), n.all.agree, n.all.rounded, n.all.errata)
}

const pageHead = `# Checks against values from outside

<!-- Made by go run ./examples/validation -write testdata/VALIDATION.md; do not edit. -->

Every calculation is held against values that this code did not make; the tables say whose they are.
*Agree*: ours is the printed value, to half its last digit or within the tolerance that the case gives
a reason for. *Rounded*: the source rounded a value on the way; the case says which. *Errata*: the
source's printed value is wrong; the case keeps it beside ours and a test asserts that they differ. An
inverse without values of its own is held by going there and back, in a test of its package. The cases
are in [cases](cases), one file for each calculation.
`

// page writes the tables, by provenance, and the sources.
func (n *counts) page(sources map[string]testdata.Source) []byte {
	var w bytes.Buffer
	w.WriteString(pageHead)
	fmt.Fprintf(&w, "\n%s\n\n", n.summary())
	fmt.Fprintln(&w, "| Whose values | Cases | Agree | Rounded | Errata |")
	fmt.Fprintln(&w, "| --- | ---: | ---: | ---: | ---: |")
	row := func(name string, t *tally) {
		fmt.Fprintf(&w, "| %s | %d | %d | %d | %d |\n", name, t.cases, t.agree, t.rounded, t.errata)
	}
	for _, k := range kinds {
		row(string(k.is), n.kind[k.is])
	}
	row("**all**", &n.all)
	number := map[string]int{} // of a source, in the order met on the page
	var listed []string
	for _, k := range kinds {
		fmt.Fprintf(&w, "\n## %s\n\n", k.title)
		fmt.Fprintln(&w, "| Calculation | Cases | Agree | Rounded | Errata | Sources |")
		fmt.Fprintln(&w, "| --- | ---: | ---: | ---: | ---: | --- |")
		for _, e := range n.entries {
			t := n.by[k.is][e.ID]
			if t == nil {
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
			fmt.Fprintf(&w, "| `%s` | %d | %d | %d | %d | %s |\n", e.ID, t.cases, t.agree, t.rounded, t.errata, strings.Join(references, ", "))
		}
	}
	fmt.Fprint(&w, "\n## Held by going there and back\n\n")
	for _, e := range n.entries {
		if !n.has(e.ID) {
			fmt.Fprintf(&w, "- `%s`: inverse of `%s`\n", e.ID, strings.Join(e.Inverses, "`, `"))
		}
	}
	fmt.Fprint(&w, "\n## Sources\n\n")
	for i, key := range listed {
		fmt.Fprintf(&w, "%d. %s\n", i+1, cite(sources[key]))
	}
	return w.Bytes()
}

// has reports whether the calculation has a case.
func (n *counts) has(id string) bool {
	for _, k := range kinds {
		if n.by[k.is][id] != nil {
			return true
		}
	}
	return false
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
