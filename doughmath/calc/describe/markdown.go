package describe

import (
	"fmt"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// AppendMarkdown appends the description as a section of Markdown that can be
// read as plain text too. The example is worked in the given units. The link
// says where a page with another calculation is; without one its id is named.
func (d Description) AppendMarkdown(b []byte, units unit.System, link func(id string) string) ([]byte, error) {
	add := func(format string, args ...any) { b = fmt.Appendf(b, format, args...) }
	list := func(title string, items []string) {
		if len(items) > 0 {
			add("\n**%s**\n\n", title)
		}
		for _, item := range items {
			add("- %s\n", item)
		}
	}
	add("## %s\n\n*%s*\n\n%s\n", d.ID, d.Question, d.Summary)
	if d.Relation != "" {
		add("\n```\n%s\n```\n", d.Relation)
	}
	for _, n := range d.Notes {
		add("\n%s\n", n)
	}
	add("\n**Give**\n\n")
	for _, f := range d.Inputs {
		b = f.appendMarkdown(b)
	}
	add("\n**Get**\n\n")
	for _, f := range d.Outputs {
		if !f.isRemarks() {
			b = f.appendMarkdown(b)
		}
	}
	list("Look out for", noteLines(d.Conditions))
	list("Take care", noteLines(d.Cautions))
	if len(d.Cautions) > 0 {
		add("\n%s\n", reckon.CautionDeference)
	}
	list("Refused, besides values out of their ranges", d.Refusals)
	b, err := d.appendExample(b, units)
	if err != nil {
		return b, err
	}
	list("Sources", d.Sources)
	if len(d.Inverses) > 0 {
		others := make([]string, len(d.Inverses))
		for i, id := range d.Inverses {
			if others[i] = "`" + id + "`"; link != nil {
				others[i] = "[" + id + "](" + link(id) + ")"
			}
		}
		add("\n**The other way round**: %s.\n", strings.Join(others, ", "))
	}
	add("\nIn Go: `%s`.\n", d.Func)
	return b, nil
}

func noteLines(notes []reckon.Note) []string {
	lines := make([]string, len(notes))
	for i, n := range notes {
		lines[i] = "`" + n.Word + "`: " + n.Says
	}
	return lines
}

// isRemarks says that the field holds conditions or cautions, which stand
// beside the result.
func (f Field) isRemarks() bool { return strings.HasPrefix(f.Kind, "list of ") }

// appendMarkdown appends a line such as
//
//   - `batch`, M (mass, more than 0 g to 10 t): dough tipped into the hopper.
func (f Field) appendMarkdown(b []byte) []byte {
	b = fmt.Appendf(b, "- `%s`", f.Name)
	if f.Symbol != "" {
		b = fmt.Appendf(b, ", %s", f.Symbol)
	}
	about := []string{f.Kind}
	if f.Range != (reckon.Range{}) {
		about = append(about, f.Range.String())
	}
	if f.Items != (reckon.Range{}) {
		about = append(about, f.Items.String()+" items")
	}
	if f.Optional {
		about = append(about, "optional")
	}
	b = fmt.Appendf(b, " (%s)", strings.Join(about, ", "))
	if f.Meaning != "" {
		b = fmt.Appendf(b, ": %s", strings.TrimSuffix(f.Meaning, "."))
	}
	b = append(b, ".\n"...)
	for _, c := range f.Choices {
		b = fmt.Appendf(b, "  - `%s`", c.Word)
		if c.Meaning != "" {
			b = fmt.Appendf(b, " %s", c.Meaning)
		}
		b = append(b, '\n')
	}
	return b
}

// withoutPlans leaves out the parts of a working that are a whole plan, but for a word: a plan is shown with line-plan.
func withoutPlans(steps []reckon.ShownStep) (list []reckon.ShownStep) {
	plan := ""
	for _, s := range steps {
		if s.Kind == reckon.HeadingStep {
			which, _, found := strings.Cut(s.ID, ": ")
			if !found || !strings.HasPrefix(which, "Plan") {
				which = ""
			} else if which != plan {
				s.ID = which + ", as in line-plan"
				list = append(list, s)
			}
			plan = which
		}
		if plan == "" {
			list = append(list, s)
		}
	}
	return list
}

// appendExample works the example and shows every step.
func (d Description) appendExample(b []byte, units unit.System) ([]byte, error) {
	r, err := calc.Eval(d.ID, d.Example, calc.Options{Units: units, Rounded: true, Working: true})
	if err != nil {
		return b, err
	}
	b = append(b, "\n**Worked example**\n\n```json\n"...)
	b = append(b, d.Example...)
	b = append(b, "\n```\n\n```\n"...)
	b = calc.AppendSteps(b, withoutPlans(reckon.ShowSteps(r.Working, units)))
	b = append(b, "```\n\nAnswer:\n\n```\n"...)
	if b, err = r.AppendText(b); err != nil {
		return b, err
	}
	b = append(b, "```\n"...)
	var words []string
	for _, n := range append(reckon.Distinct(r.Conditions), r.Cautions.Notes()...) {
		words = append(words, n.Word)
	}
	if len(words) > 0 {
		b = fmt.Appendf(b, "\nIt comes with `%s`.\n", strings.Join(words, "`, `"))
	}
	return b, nil
}
