package main

import (
	"fmt"
	"io"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/studyrows"
)

// compare sets cases side by side.
func (a *app) compare(f *flags) error {
	q, err := f.comparison()
	if err != nil {
		return err
	}
	found, err := q.Solve()
	if err != nil {
		return err
	}
	return a.report(f, found, func(w io.Writer) { writeCompared(w, &found, f.text("explain") == "true") })
}

func (f *flags) comparison() (q whatif.Comparison, err error) {
	if name := f.text("study"); name != "" {
		data, err := intake.Read(name)
		if err != nil {
			return q, &failure{broken, err}
		}
		return whatif.ReadComparison(data)
	}
	if len(f.given["vary"]) > 0 {
		return q, wrong(misused, `-vary goes with the other commands: want -case "NAME: PATH=VALUE; PATH=VALUE"`)
	}
	if q.Subject, err = f.subject(); err != nil {
		return q, err
	}
	q.Cases = []whatif.Case{{Name: "as it is"}}
	for _, text := range f.given["case"] {
		c, err := parseCase(text)
		if err != nil {
			return q, err
		}
		q.Cases = append(q.Cases, c)
	}
	for _, text := range f.list("want") {
		q.Outputs = append(q.Outputs, parseOutput(text))
	}
	if f.text("units") != "" {
		err = unitsOf(f, &q.Units)
	}
	return q, err
}

// parseCase reads "NAME: PATH=VALUE; PATH=VALUE".
func parseCase(text string) (c whatif.Case, err error) {
	name, changes, ok := strings.Cut(text, ":")
	bad := wrong(misused, `-case is %q: want "NAME: PATH=VALUE; PATH=VALUE"`, text)
	if c.Name = strings.TrimSpace(name); !ok || c.Name == "" {
		return c, bad
	}
	for change := range strings.SplitSeq(changes, ";") {
		path, value, ok := strings.Cut(change, "=")
		if !ok {
			return c, bad
		}
		c.Change = append(c.Change, whatif.Change{Path: strings.TrimSpace(path), Value: strings.TrimSpace(value)})
	}
	return c, nil
}

func writeCompared(w io.Writer, c *whatif.Compared, explain bool) {
	rows := [][]string{{""}}
	for _, k := range c.Cases {
		rows[0] = append(rows[0], k.Name)
	}
	for _, list := range [][]whatif.Difference{c.Inputs, c.Outputs} {
		for i := range list {
			rows = append(rows, differenceCells(&list[i]))
		}
		rows = append(rows, nil)
	}
	fmt.Fprintf(w, "%s", calc.AppendAligned(nil, rows[:len(rows)-1]))
	for i, k := range c.Cases {
		for j := range k.Refusals {
			fmt.Fprintf(w, "\n%s has no answer: %s", k.Name, studyrows.Refusal(&k.Refusals[j]))
		}
		writeRemarks(w, k.Name, "look out for", k.Gained)
		writeRemarks(w, k.Name, "no longer", k.Lost)
		for _, n := range k.CautionsGained.Notes() {
			fmt.Fprintf(w, "\n%s: take care: %s: %s", k.Name, n.Word, n.Says)
		}
		if explain && i > 0 {
			writeReasons(w, c, i)
		}
	}
	fmt.Fprintf(w, "\n%s\n", reckon.CautionDeference)
}

func writeRemarks(w io.Writer, name, what string, remarks []reckon.Remark) {
	for _, n := range reckon.Distinct(remarks) {
		fmt.Fprintf(w, "\n%s: %s %s: %s", name, what, n.Word, n.Says)
	}
}

// differenceCells is one value in every case, and by how much it differs from the first.
func differenceCells(d *whatif.Difference) []string {
	out := []string{d.Path}
	for i := range d.Cases {
		k := &d.Cases[i]
		cell := k.Text
		switch {
		case !k.There:
			cell = "-"
		case d.Kind == whatif.Flag:
			cell = map[bool]string{true: "true", false: "false"}[k.Number != 0]
		case d.Kind != whatif.Word:
			cell = number(k.Number) + unitAfter(d.Unit)
			if i > 0 && k.Absolute == k.Absolute && k.Absolute != 0 {
				sign := "+"
				if k.Absolute < 0 {
					sign = ""
				}
				cell += " (" + sign + number(k.Absolute)
				if d.Apart != d.Unit {
					cell += unitAfter(d.Apart)
				}
				cell += ")"
			}
		}
		out = append(out, cell)
	}
	return out
}

// writeReasons explains every value of a case that differs by the steps that changed.
func writeReasons(w io.Writer, c *whatif.Compared, at int) {
	for _, d := range c.Outputs {
		because := d.Cases[at].Because
		if len(because) == 0 {
			continue
		}
		fmt.Fprintf(w, "\n\n%s, %s, because", c.Cases[at].Name, d.Path)
		for _, r := range because {
			before := "new"
			if r.Before != nil {
				before = number(*r.Before)
			}
			fmt.Fprintf(w, "\n  %-28s %-6s %s -> %s%s", r.ID, r.Symbol, before, number(r.Value), unitAfter(r.Unit))
			if r.Expression != "" {
				fmt.Fprintf(w, "  from %s", r.Expression)
			}
		}
	}
	fmt.Fprintln(w)
}
