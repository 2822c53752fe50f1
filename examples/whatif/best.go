package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/whatif"
)

// must reads -within, -avoid and -with: what an answer has to keep to.
func (f *flags) must(m whatif.Must) (whatif.Must, error) {
	m.With, m.Without = append(m.With, f.list("with")...), append(m.Without, f.list("avoid")...)
	for _, text := range f.given["within"] {
		l, err := parseLimit(text)
		if err != nil {
			return m, err
		}
		m.Limits = append(m.Limits, l)
	}
	return m, nil
}

// parseLimit reads "PATH<=9 min", "PATH>=5 min" and "PATH=5 min..9 min".
func parseLimit(text string) (l whatif.Limit, err error) {
	bad := wrong(misused, `-within is %q: want "PATH<=VALUE", "PATH>=VALUE" or "PATH=VALUE..VALUE", each with its unit`, text)
	at := strings.IndexAny(text, "<>=")
	if at <= 0 {
		return l, bad
	}
	l.Path = strings.TrimSpace(text[:at])
	rest := strings.TrimSpace(strings.TrimPrefix(text[at+1:], "="))
	switch text[at] {
	case '<':
		l.High = rest
	case '>':
		l.Low = rest
	default:
		low, high, ok := strings.Cut(rest, "..")
		if !ok {
			return l, bad
		}
		l.Low, l.High = strings.TrimSpace(low), strings.TrimSpace(high)
	}
	if l.Low == "" && l.High == "" {
		return l, bad
	}
	return l, nil
}

// aim reads "most PATH", "least PATH" and "nearest PATH=VALUE".
func (f *flags) aim(q *whatif.Best) error {
	text := f.text("aim")
	if text == "" {
		if q.Aim == "" {
			return wrong(misused, `nothing is aimed at: want -aim "most PATH", "least PATH" or "nearest PATH=VALUE"`)
		}
		return nil
	}
	word, path, _ := strings.Cut(text, " ")
	path, q.Value, _ = strings.Cut(path, "=")
	q.Aim, path, q.Value = whatif.Aim(word), strings.TrimSpace(path), strings.TrimSpace(q.Value)
	if path == "" {
		return wrong(misused, `-aim is %q: want "most PATH", "least PATH" or "nearest PATH=VALUE"`, text)
	}
	if slices.ContainsFunc(q.Study.Vary, func(v whatif.Factor) bool { return v.Path == path }) {
		q.Of = path
		return nil
	}
	o := parseOutput(path)
	q.Study.Outputs = append([]whatif.Output{o}, slices.DeleteFunc(q.Study.Outputs, func(other whatif.Output) bool { return other.Path == o.Path })...)
	return nil
}

// best finds the best setting.
func (a *app) best(f *flags) error {
	q, err := readQuestion(f, func(q *whatif.Best) *whatif.Study { return &q.Study })
	if err != nil {
		return err
	}
	if q.Must, err = f.must(q.Must); err != nil {
		return err
	}
	if err := f.aim(&q); err != nil {
		return err
	}
	q.Exact = q.Exact || f.text("exact") == "true"
	var s shard
	if err := f.drawing(&q.Study, &s); err != nil {
		return err
	}
	tell, end := a.progress(-1, f.text("file") != "")
	found, err := q.Run(a.ctx, whatif.Options{Workers: s.workers, Progress: tell})
	end()
	if err != nil {
		return stopped(noSolution(err))
	}
	if err := a.report(f, found, func(w io.Writer) { writeBest(w, &q, found) }); err != nil {
		return err
	}
	if !found.Met {
		return wrong(refused, "no setting keeps to all that it must: this one comes nearest")
	}
	return nil
}

func writeBest(w io.Writer, q *whatif.Best, b *whatif.BestResult) {
	of := q.Of
	if of == "" {
		of = q.Study.Outputs[0].Path
	}
	value := ""
	if q.Value != "" {
		value = " to " + q.Value
	}
	fmt.Fprintf(w, "%s %s%s\n", q.Aim, of, value)
	rows := [][]string{{"", "best", "best of the study"}}
	n := len(b.Best.Inputs)
	cell := func(s *whatif.Scenario, i int) string {
		c := &b.Columns[i]
		if word, ok := s.Words[c.Path]; ok {
			return word
		}
		switch {
		case i < n:
			return amount(s.Inputs[i], c)
		case slices.Contains(s.Missing, i-n):
			return "-"
		}
		return amount(s.Outputs[i-n], c)
	}
	for i := range b.Columns {
		rows = append(rows, []string{b.Columns[i].Path, cell(&b.Best, i), cell(&b.Grid, i)})
	}
	fmt.Fprintf(w, "%s", calc.AppendAligned(nil, rows))
	for _, m := range b.Best.Missed {
		fmt.Fprintf(w, "does not keep to: %s\n", m)
	}
	if len(b.Best.Conditions) > 0 {
		fmt.Fprintf(w, "look out for %s\n", strings.Join(b.Best.Conditions, ", "))
	}
	fmt.Fprintf(w, "%d of the study's %d scenarios keep to all that they must, %d have no answer; %d were solved in all\n", b.Kept.Count, b.Kept.Of, b.Refused, b.Solved)
	takeCare(w, b.Best.Cautions)
}

// robust finds the setting that keeps its outputs where they must be most often.
func (a *app) robust(f *flags) error {
	q, err := readQuestion(f, func(q *whatif.Robust) *whatif.Study { return &q.Study })
	if err != nil {
		return err
	}
	if q.Must, err = f.must(q.Must); err != nil {
		return err
	}
	for _, text := range f.given["scatter"] {
		factor, err := parseFactor(text)
		if err != nil {
			return err
		}
		q.Scatter = append(q.Scatter, factor)
	}
	if q.Trials, err = f.whole("samples", q.Trials); err != nil {
		return err
	}
	if q.Seed, err = f.whole("seed", q.Seed); err != nil {
		return err
	}
	workers, err := f.whole("workers", 1)
	if err != nil {
		return err
	}
	tell, end := a.progress(-1, f.text("file") != "")
	found, err := q.Run(a.ctx, whatif.Options{Workers: workers, Progress: tell})
	end()
	if err != nil {
		return stopped(noSolution(err))
	}
	return a.report(f, found, func(w io.Writer) { writeRobust(w, found) })
}

func writeRobust(w io.Writer, r *whatif.RobustResult) {
	rows := [][]string{{}}
	for _, c := range r.Columns {
		rows[0] = append(rows[0], title(c))
	}
	rows[0] = append(rows[0], "keeps to all", "no answer")
	for _, s := range append([]whatif.RobustSetting{r.Best}, r.Next...) {
		var row []string
		for i, c := range r.Columns {
			if word, ok := s.Words[c.Path]; ok {
				row = append(row, word)
			} else {
				row = append(row, digits(s.Inputs[i]))
			}
		}
		rows = append(rows, append(row, share(s.Kept), fmt.Sprint(s.Refused)))
	}
	fmt.Fprintf(w, "%s", calc.AppendAligned(nil, rows))
	fmt.Fprintf(w, "%d settings, %d trials of each\n", r.Settings, r.Trials)
	if r.Tied > 0 {
		fmt.Fprintf(w, "%d other settings keep as often as the first\n", r.Tied)
	}
	if r.Ahead != nil {
		fmt.Fprintf(w, "the first is ahead of the second by %s %%, which chance may move by %s %%\n", number(100*r.Ahead.Value), number(100*r.Ahead.Error))
	}
	takeCare(w, r.Cautions)
}
