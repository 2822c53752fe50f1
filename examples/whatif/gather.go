package main

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"

	"example.com/dough/doughmath/whatif"
)

// gathered are the rows of a study that a picture is drawn of.
type gathered struct {
	columns []whatif.Column
	inputs  int
	window  *window
	chart   string
	of      string      // what is varied, for the title
	names   [2][]string // of the values of the inputs, as they were met
	values  [][]float64
	words   [][]string // of the inputs
	reasons [][]string // why not, of each row
}

const mostDrawn = 100_000 // rows

func newGathered(c *whatif.Compiled, s whatif.Study, w *window, chart, of string) (*gathered, error) {
	g := &gathered{columns: c.Columns(), window: w, chart: chart, of: of}
	for _, k := range g.columns {
		if k.Input {
			g.inputs++
		}
	}
	switch {
	case g.inputs > 2:
		return nil, wrong(misused, "a picture shows one or two inputs that vary, not %d", g.inputs)
	case c.Size() > mostDrawn:
		return nil, wrong(misused, "a picture of %d scenarios cannot be read: want at most %d", c.Size(), mostDrawn)
	case s.Combine != "" && s.Combine != whatif.Grid && g.inputs == 2:
		return nil, wrong(misused, "a picture of two inputs wants a grid, each value with each")
	case chart != "" && chart != "lines" && chart != "heat":
		return nil, wrong(misused, "-chart is %q: want lines or heat", chart)
	case chart == "heat" && g.inputs != 2:
		return nil, wrong(misused, "-chart heat wants two inputs that vary")
	}
	if first := g.columns[g.inputs]; first.Kind != whatif.Number && first.Kind != whatif.Whole {
		return nil, wrong(misused, "a picture shows numbers: %s is none", first.Path)
	}
	return g, nil
}

func (g *gathered) take(row *whatif.Row) {
	g.values = append(g.values, slices.Clone(row.Values))
	var texts []string
	for i := range g.inputs {
		text := row.Word(i)
		switch g.columns[i].Kind {
		case whatif.Word:
		case whatif.Flag:
			text = map[bool]string{true: "true", false: "false"}[row.Values[i] != 0]
		default:
			text = number(row.Values[i])
		}
		if !slices.Contains(g.names[i], text) {
			g.names[i] = append(g.names[i], text)
		}
		texts = append(texts, text)
	}
	g.words, g.reasons = append(g.words, texts), append(g.reasons, g.window.binds(row))
}

// draw draws what was gathered.
func (g *gathered) draw(names []string) error {
	var p *plot.Plot
	var err error
	rows := 0 // of words above the picture
	many := g.inputs == 2 && len(g.names[0]) > 3 && len(g.names[1]) > 3
	if g.chart == "heat" || g.chart == "" && many {
		h := g.heat()
		p, err = h.plot()
		rows = len(h.reasons())
	} else {
		var l *lineChart
		if l, err = g.lines(); err == nil {
			p, err = l.plot()
		}
	}
	if err != nil {
		return &failure{misused, err}
	}
	for _, name := range names {
		if err := save(name, p, rows); err != nil {
			return &failure{broken, err}
		}
	}
	return nil
}

func title(k whatif.Column) string {
	out := words(k.Path)
	if k.Unit != "" {
		out += " (" + k.Unit + ")"
	}
	return out
}

// heading names what is varied and what is shown.
func heading(of, shown string) string {
	if of != "" {
		return of + ": " + shown
	}
	return strings.ToUpper(shown[:1]) + shown[1:]
}

func (g *gathered) heat() *heatMap {
	out := g.columns[g.inputs]
	h := &heatMap{title: heading(g.of, words(out.Path)), x: title(g.columns[0]), y: title(g.columns[1]), z: title(out), xs: g.names[0], ys: g.names[1]}
	for range h.ys {
		row := make([]float64, len(h.xs))
		for i := range row {
			row[i] = math.NaN()
		}
		h.at, h.binds = append(h.at, row), append(h.binds, make([][]string, len(h.xs)))
	}
	for n, v := range g.values {
		i, j := slices.Index(h.xs, g.words[n][0]), slices.Index(h.ys, g.words[n][1])
		h.at[j][i], h.binds[j][i] = v[g.inputs], g.reasons[n]
	}
	return h
}

// lines is a curve for each output in the unit of the first one, or for each value
// of the second input.
func (g *gathered) lines() (*lineChart, error) {
	along, beside := 0, 1
	if g.inputs == 2 && len(g.names[1]) > len(g.names[0]) {
		along, beside = 1, 0
	}
	if k := g.columns[along].Kind; k != whatif.Number && k != whatif.Whole {
		return nil, wrong(misused, "a line runs over a number: %s is none", g.columns[along].Path)
	}
	first := g.columns[g.inputs]
	l := &lineChart{why: g.why(), title: heading(g.of, words(first.Path)+" over "+words(g.columns[along].Path)), x: title(g.columns[along]), y: title(first)}
	if g.inputs == 2 {
		for _, name := range g.names[beside] {
			k := curve{name: name + unitAfter(g.columns[beside].Unit)}
			for n, v := range g.values {
				if g.words[n][beside] == name {
					k.x, k.y = append(k.x, v[along]), append(k.y, g.within(n, v[g.inputs]))
				}
			}
			l.curves = append(l.curves, k)
		}
		l.notes = append(l.notes, "Lines: "+words(g.columns[beside].Path))
		return l, nil
	}
	for i, c := range g.columns[g.inputs:] {
		if c.Unit != first.Unit || c.Kind != first.Kind {
			l.notes = append(l.notes, words(c.Path)+" is in another unit and is not drawn")
			continue
		}
		k := curve{name: words(c.Path)}
		for n, v := range g.values {
			k.x, k.y = append(k.x, v[0]), append(k.y, g.within(n, v[g.inputs+i]))
		}
		l.curves = append(l.curves, k)
	}
	if len(l.curves) == 1 {
		l.curves[0].name = ""
		return l, nil
	}
	what := lastName(first.Path)
	for _, c := range g.columns[g.inputs:] {
		if lastName(c.Path) != what {
			what = ""
			break
		}
	}
	l.title = heading(g.of, strings.TrimSpace(what+" over "+words(g.columns[along].Path)))
	l.y = strings.TrimSpace(what + unitAfter(first.Unit))
	if what != "" && first.Unit != "" {
		l.y = what + " (" + first.Unit + ")"
	}
	return l, nil
}

// lastName is the end of a path: "ice to weigh".
func lastName(path string) string {
	return words(path[strings.LastIndexByte(path, '.')+1:])
}

// why is what stands in the way anywhere, if it can be said in a few words.
func (g *gathered) why() string {
	var all []string
	for _, reasons := range g.reasons {
		for _, r := range reasons {
			if !slices.Contains(all, r) {
				all = append(all, r)
			}
		}
	}
	switch len(all) {
	case 0:
		return "no answer"
	case 1, 2:
		return strings.Join(all, ", ")
	}
	return "something is in the way: see the rows"
}

// within is the value of a scenario if nothing stands in its way.
func (g *gathered) within(n int, v float64) float64 {
	if len(g.reasons[n]) > 0 {
		return math.NaN()
	}
	return v
}
