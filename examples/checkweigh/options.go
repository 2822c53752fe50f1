package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// usage stands above the list of options. A test runs each of its commands.
const usage = `checkweigh says of each subgroup of pieces whether the divider is steady, and
where to set its mark.

  checkweigh -demo -png chart.png
  checkweigh weighings.csv
  checkweigh -state charts.json -svg chart.svg weighings.csv
  checkweigh -trials trials.csv -target "85 g" -move-limit "0.6 g" -mark-low 0 -mark-high 40 weighings.csv

A table of weighings has the columns lane, mark and weight (g), of which lane
and mark may be left out; - reads it from standard input. A table of trials has
the columns mark, weight (g) and pieces.

Options, which come before the name of the table:
`

// Bounds of what a person may choose that the library has no field for.
const (
	fewestSetup     = 2
	mostSetup       = 1000
	mostSetupPieces = 20_000 // that divider.SetUpChart takes for one chart
)

// kinds are the charts that plot each subgroup by itself.
var kinds = []divider.ChartKind{divider.ChartAveragesRanges, divider.ChartAveragesDeviations, divider.ChartIndividuals}

// options are what the person chose.
type options struct {
	demo              bool
	kind              string
	rules             string
	subgroupSize      int
	setup             int
	limitWidth        float64
	badRows           string
	trials, state     string
	svg, png          string
	target, moveLimit unit.Mass
	markLow, markHigh float64
	markStep          float64
}

// flags names the options.
func (o *options) flags(stderr io.Writer) *flag.FlagSet {
	f := flag.NewFlagSet("checkweigh", flag.ContinueOnError)
	f.SetOutput(stderr)
	f.Usage = func() {
		fmt.Fprint(stderr, usage)
		f.PrintDefaults()
	}
	f.BoolVar(&o.demo, "demo", false, "read the weighings and trials of the invented demo plant")
	f.StringVar(&o.kind, "chart", string(divider.ChartAveragesRanges), "averages-ranges, averages-deviations or individuals")
	f.StringVar(&o.rules, "rules", string(divider.ZoneTests), "limits-only, zone-tests or eight-tests")
	f.IntVar(&o.subgroupSize, "subgroup-size", 5, "pieces in a subgroup; 1 for individuals")
	f.IntVar(&o.setup, "setup", 20, "subgroups of each lane that set its limits")
	f.Float64Var(&o.limitWidth, "limit-width", 3, "half-width of the limits in standard errors")
	f.StringVar(&o.badRows, "bad-rows", "refuse", "refuse or skip a row that cannot be read")
	f.StringVar(&o.trials, "trials", "", "CSV `file` of trial weighings, to say where to set the mark; needs -target, -mark-low and -mark-high too")
	f.Func("target", "mean `weight` wanted, with its unit; for -trials", func(text string) error { return o.target.UnmarshalText([]byte(text)) })
	f.Func("move-limit", "how far the mean may lie off before it matters, a `weight` with its unit, where that is more than half a step of the handle; for -trials", func(text string) error { return o.moveLimit.UnmarshalText([]byte(text)) })
	f.Float64Var(&o.markLow, "mark-low", 0, "lowest `mark` on the scale of the handle; for -trials")
	f.Float64Var(&o.markHigh, "mark-high", 0, "highest `mark` on the scale of the handle; for -trials")
	f.Float64Var(&o.markStep, "mark-step", 0, "smallest part of a `mark` that can be set; 0 if the handle moves freely; for -trials")
	f.StringVar(&o.state, "state", "", "JSON `file` that keeps the charts, and what is unfinished, from one shift to the next")
	f.StringVar(&o.svg, "svg", "", "write the chart to this SVG `file`")
	f.StringVar(&o.png, "png", "", "write the chart to this PNG `file`")
	return f
}

// complaints gathers everything that is wrong, so that a person mends it in one go.
type complaints []error

func (c *complaints) add(format string, values ...any) {
	*c = append(*c, fmt.Errorf(format, values...))
}

// check complains of every option that is wrong, before anything is read.
// Only the options that were given are known to be meant.
func (o *options) check(args []string, given map[string]bool) error {
	var bad complaints
	o.checkFiles(&bad, args, given)
	o.checkChart(&bad)
	o.checkUse(&bad, given)
	if o.demo {
		o.fillDemo(given)
	}
	o.checkMark(&bad, given)
	return errors.Join(bad...)
}

func (o *options) checkFiles(bad *complaints, args []string, given map[string]bool) {
	switch {
	case o.demo == (len(args) > 0):
		bad.add("name one file of weighings, - for standard input, or -demo")
	case len(args) > 1:
		bad.add("one file of weighings, not %d; options come first", len(args))
	}
	if o.badRows != "refuse" && o.badRows != "skip" {
		bad.add("-bad-rows is %q: want refuse or skip", o.badRows)
	}
	for _, file := range []struct{ option, name string }{{"trials", o.trials}, {"state", o.state}, {"svg", o.svg}, {"png", o.png}} {
		if given[file.option] && file.name == "" {
			bad.add("-%s names no file: name one, or leave it out", file.option)
		}
	}
}

// checkChart holds the chart against the library's own ranges.
func (o *options) checkChart(bad *complaints) {
	design := o.chart(unit.Grams(1), unit.Grams(1)) // any that are in range
	if !slices.Contains(kinds, design.Kind) {
		bad.add("-chart is %q: want averages-ranges, averages-deviations or individuals", o.kind)
		design.Kind = divider.ChartAveragesRanges // so that the other options are checked all the same
		if o.subgroupSize == 1 {
			design.Kind = divider.ChartIndividuals
		}
	}
	_, err := divider.NewWatch(design)
	for _, e := range reckon.InputErrors(err) {
		option, want := optionOf(strings.TrimPrefix(e.Field, "setup.")), e.Want
		if option == "subgroup-size" && design.Kind == divider.ChartIndividuals {
			want = "1 with -chart individuals"
		}
		bad.add("-%s is %s: want %s", option, e.Value, want)
	}
	switch {
	case o.setup < fewestSetup || o.setup > mostSetup:
		bad.add("-setup is %d: want %d to %d subgroups", o.setup, fewestSetup, mostSetup)
	case err == nil && o.setup*o.subgroupSize > mostSetupPieces:
		bad.add("-setup is %d, with -subgroup-size %d: want up to %d subgroups of that size", o.setup, o.subgroupSize, mostSetupPieces/o.subgroupSize)
	}
}

// The options that only advice on the mark uses, and those that it cannot do without.
var (
	markOptions = []string{"target", "mark-low", "mark-high", "mark-step", "move-limit"}
	markNeeds   = markOptions[:3]
)

// checkUse refuses an option that would do nothing, and asks for those that are missing.
func (o *options) checkUse(bad *complaints, given map[string]bool) {
	switch {
	case o.demo:
	case o.trials != "":
		for _, name := range markNeeds {
			if !given[name] {
				bad.add("-trials needs -%s too", name)
			}
		}
	default:
		for _, name := range markOptions {
			if given[name] {
				bad.add("-%s does nothing without -trials: name the file of trial weighings, or leave it out", name)
			}
		}
	}
}

// fillDemo takes what was not given from the demo plant.
func (o *options) fillDemo(given map[string]bool) {
	for name, fill := range map[string]func(){
		"target":     func() { o.target = unit.Grams(85) },
		"move-limit": func() { o.moveLimit = unit.Grams(0.8) },
		"mark-low":   func() { o.markLow = 0 },
		"mark-high":  func() { o.markHigh = 40 },
		"mark-step":  func() { o.markStep = 0.1 },
	} {
		if !given[name] {
			fill()
		}
	}
}

// checkMark holds the options for the mark that were given against the
// library's own ranges, with the others filled in so that they pass.
func (o *options) checkMark(bad *complaints, given map[string]bool) {
	fit, err := divider.MarkFit{
		Trials:     []divider.Trial{{Mark: 1, Weight: 10, Pieces: 1}, {Mark: 2, Weight: 21, Pieces: 1}, {Mark: 3, Weight: 30, Pieces: 1}},
		Confidence: confidence, Shape: divider.Straight, Weighting: divider.ByPieces,
	}.Solve()
	if err != nil {
		*bad = append(*bad, err)
		return
	}
	in := divider.NextMark{Calibration: fit.Calibration, Weight: 20, Pieces: 1, Target: 20, MoveLimit: 1, MarkStep: o.markStep, MarkLow: o.markLow, MarkHigh: o.markHigh}
	if given["target"] {
		in.Target = o.target
	}
	if given["move-limit"] {
		in.MoveLimit = o.moveLimit
	}
	if !o.demo && !given["mark-low"] {
		in.MarkLow = o.markHigh - 1
	}
	if !o.demo && !given["mark-high"] {
		in.MarkHigh = o.markLow + 1
	}
	in.Mark = in.MarkLow
	_, err = in.Solve() // that it finds no mark for this calibration says nothing of the options
	for _, e := range reckon.InputErrors(err) {
		if option := optionOf(e.Field); given[option] {
			bad.add("-%s is %s: want %s", option, e.Value, strings.ReplaceAll(e.Want, "mark_low", fmt.Sprintf("-mark-low, which is %g", o.markLow)))
		}
	}
}

// optionOf returns the option that fills a field of the library.
func optionOf(field string) string { return strings.ReplaceAll(field, "_", "-") }

// chart returns the chart that the options ask for.
func (o *options) chart(centre, sd unit.Mass) divider.ChartSetup {
	return divider.ChartSetup{
		Kind: divider.ChartKind(o.kind), SubgroupSize: o.subgroupSize, Centre: centre, SD: sd,
		LimitWidth: o.limitWidth, Rules: divider.RunRules(o.rules),
	}
}

// pictured reports whether a picture was asked for.
func (o *options) pictured() bool { return o.svg != "" || o.png != "" }
