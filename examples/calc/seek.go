package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/program"
)

// inputsOf are the names of the values that a calculation takes.
func inputsOf(e calc.Entry) map[string]bool {
	out := map[string]bool{}
	for _, f := range describe.Of(e).Inputs {
		out[strings.TrimSuffix(f.Name, "[]")] = true
	}
	return out
}

// seek finds the input of e that gives an output the value that was given for it. It is
// for what no listed calculation solves: the input's range is searched.
func (a app) seek(e calc.Entry, set map[string]string, unknown string, names, cells []string) ([]byte, int, error) {
	inputs := inputsOf(e)
	var given, values []string
	q := whatif.Seek{Study: whatif.Study{Vary: []whatif.Factor{{Path: unknown, From: set["from"], To: set["upto"]}}}}
	started := false
	for i, name := range names {
		switch {
		case name == unknown:
			started = true
			fallthrough
		case inputs[name]:
			given, values = append(given, name), append(values, cells[i])
		case len(q.Study.Outputs) > 0:
			return nil, misused, fmt.Errorf("%s: -%s and -%s are outputs: want the value of one", e.ID, q.Study.Outputs[0].Path, name)
		default:
			q.Study.Outputs, q.Value = []whatif.Output{{Path: name}}, cells[i]
		}
	}
	if len(q.Study.Outputs) == 0 {
		return nil, misused, fmt.Errorf("%s: no output has a value: want one that tells %s, such as -%s VALUE", e.ID, unknown, strings.Join(defaultOutputs(e), " or -"))
	}
	if !started {
		// The question needs some value there; the example has one that works.
		example, err := tree([]byte(e.Example))
		old, there := at(example, steps(unknown))
		text, textErr := textOf(old)
		if err != nil || !there || textErr != nil {
			return nil, misused, fmt.Errorf("%s: want -%s VALUE too, a value to start from", e.ID, unknown)
		}
		given, values = append(given, unknown), append(values, text)
	}
	f, err := newForm(e, given, nil, nil)
	if err != nil {
		return nil, misused, err
	}
	base, err := f.json(values)
	if err != nil {
		return nil, misused, err
	}
	if q.Study.Subject, err = whatif.ByID(e.ID, base); err != nil {
		return nil, refused, err
	}
	found, err := q.Run(a.ctx)
	switch {
	case a.ctx.Err() != nil:
		return nil, interrupted, program.ErrInterrupted
	case err != nil:
		return nil, refused, err
	}
	if set["json"] == "true" {
		b, err := json.Marshal(found)
		return append(b, '\n'), broken, err
	}
	return appendMet(nil, found), done, nil
}

// appendMet appends the values found, one a line.
func appendMet(b []byte, s *whatif.SeekResult) []byte {
	show := func(x float64, c *whatif.Column) string {
		return strings.TrimSpace(strconv.FormatFloat(x, 'g', 6, 64) + " " + c.Unit)
	}
	for _, m := range s.Met {
		b = fmt.Appendf(b, "%s  %s", s.Columns[0].Path, show(m.From.Input, &s.Columns[0]))
		if m.To.Input != m.From.Input {
			b = fmt.Appendf(b, " to %s", show(m.To.Input, &s.Columns[0]))
		}
		b = append(b, '\n')
	}
	return fmt.Appendf(b, "\nwhere %s is %s; searched from %s to %s\n", s.Columns[1].Path, show(s.Value, &s.Columns[1]),
		show(s.Searched.From, &s.Columns[0]), show(s.Searched.To, &s.Columns[0]))
}

// solving returns the calculation that finds an unknown from the values named, or
// says that it is an input to be searched for: where none is listed, or the one that is takes
// other values.
func solving(e calc.Entry, unknown string, names []string) (inverse calc.Entry, search bool, err error) {
	question, _ := e.Types()
	_, noInput := reckon.PathIn(question, unknown)
	inverse, err = e.Solving(unknown)
	switch {
	case noInput != nil:
		return inverse, false, err
	case err != nil:
		return e, true, nil //nolint:nilerr // what no calculation turns round is searched for
	}
	takes := inputsOf(inverse)
	return inverse, slices.ContainsFunc(names, func(name string) bool { return !takes[name] }), nil
}
