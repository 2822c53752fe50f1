package main

import (
	"bytes"
	"fmt"
	"html/template"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// What the course says of itself, on both pages.
const (
	about = "The arithmetic of a bread and roll line in short lessons, in the order in which dough passes: why it matters, the relation, an example, an exercise with its key, " +
		"and what comes next. All relations and numbers come from the calculations of the library; the bakeries are invented."
	caution = "This is arithmetic, not authority: the machine’s manual, local codes and a licensed or authorised person come before anything printed here."
)

// writeMarkdown writes the course for reading beside the reference.
func writeMarkdown(course []*chapter) []byte {
	var w bytes.Buffer
	fmt.Fprintf(&w, "# A course in dough arithmetic\n\n%s\n\n%s\n\n", about, caution)
	fmt.Fprint(&w, "The same as one page that prints well, with the relations typeset: [index.html](index.html). Both are made by `go generate ./examples/course`; do not edit them.\n\n")
	for _, c := range course {
		fmt.Fprintf(&w, "%d. [%s](#lesson-%d)\n", c.Number, c.Title, c.Number)
	}
	fmt.Fprint(&w, "\n[Keys to the exercises](#keys)\n")
	for _, c := range course {
		fmt.Fprintf(&w, "\n<a id=\"lesson-%d\"></a>\n\n## %d. %s\n\n%s\n\n**The relation**\n\n```\n", c.Number, c.Number, c.Title, c.Why)
		for _, r := range c.Relation {
			fmt.Fprintf(&w, "%s = %s\n", r.Symbol, r.Expression)
		}
		fmt.Fprint(&w, "```\n\n")
		for _, s := range c.Where {
			fmt.Fprintf(&w, "- `%s` %s", s.Symbol, s.Words)
			if s.Unit != "" {
				fmt.Fprintf(&w, ", in %s", s.Unit)
			}
			fmt.Fprintln(&w)
		}
		fmt.Fprintf(&w, "\n%s\n", c.How)
		if len(c.Hazards) > 0 {
			fmt.Fprint(&w, "\n**Take care**\n\n")
			list(&w, c.Hazards)
			fmt.Fprintf(&w, "\n%s\n", c.Defer)
		}
		fmt.Fprintf(&w, "\n**Worked example**\n\n%s %s\n\n", c.Example.Setting, c.Example.Question)
		given(&w, c.Example)
		working(&w, c.Example.Working)
		fmt.Fprintf(&w, "\nAnswer: %s", c.Example.Answer)
		if c.Example.US != "" {
			fmt.Fprintf(&w, " (%s)", c.Example.US)
		}
		fmt.Fprintf(&w, "\n\n**Exercise**\n\n%s\n", c.Exercises[0].Question)
		for _, t := range c.Exercises {
			fmt.Fprintf(&w, "\n%s:\n\n", t.Heading())
			given(&w, t)
		}
		fmt.Fprintf(&w, "[Key](#key-%d). In the reference: [%s](../../calc/reference/%s.md#%s).\n\n%s\n", c.Number, c.ID, c.Station, c.ID, c.Next)
	}
	fmt.Fprint(&w, "\n<a id=\"keys\"></a>\n\n## Keys to the exercises\n")
	for _, c := range course {
		fmt.Fprintf(&w, "\n<a id=\"key-%d\"></a>\n\n### %d. %s\n", c.Number, c.Number, c.Title)
		for _, t := range c.Exercises {
			fmt.Fprintf(&w, "\n%s: **%s**\n\n", t.Heading(), t.Answer)
			working(&w, t.Working)
			if len(t.Mistakes) > 0 {
				fmt.Fprint(&w, "\nLikely mistakes:\n\n")
				list(&w, t.Mistakes)
			}
		}
		if sources := c.Exercises[0].Sources; len(sources) > 0 {
			fmt.Fprintf(&w, "\nSources: %s.\n", strings.Join(sources, "; "))
		}
	}
	return w.Bytes()
}

// Heading says in which units a task is.
func (t *task) Heading() string {
	if t.System == "" {
		return "In metric or US units"
	}
	return "In " + t.System + " units"
}

func list(w *bytes.Buffer, lines []string) {
	for _, line := range lines {
		fmt.Fprintf(w, "- %s\n", strings.ReplaceAll(line, "*", `\*`))
	}
}

func given(w *bytes.Buffer, t *task) {
	list(w, t.Given)
	fmt.Fprintf(w, "\nFind: %s\n\n", t.Find)
}

func working(w *bytes.Buffer, steps []reckon.ShownStep) {
	fmt.Fprint(w, "```\n")
	for i := range steps {
		s := &steps[i]
		line := s.ID
		if s.Symbol != "" {
			line += ": " + s.Symbol + " = " + s.Chain()
		}
		if note := s.Note(); note != "" {
			line += "  [" + note + "]"
		}
		fmt.Fprintln(w, line)
	}
	fmt.Fprint(w, "```\n")
}

// inCode turns what stands between backquotes into code.
func inCode(text string) template.HTML {
	parts := strings.Split(template.HTMLEscapeString(text), "`")
	for i := 1; i < len(parts); i += 2 {
		parts[i] = "<code>" + parts[i] + "</code>"
	}
	return template.HTML(strings.Join(parts, ""))
}
