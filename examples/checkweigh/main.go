// Checkweigh reads weighings as they are made and says of each subgroup of
// pieces whether the divider is steady, and where to set its mark.
//
//	go run ./examples/checkweigh -demo -png chart.png          the invented demo plant
//	go run ./examples/checkweigh weighings.csv                 your own, from a file
//	scale | go run ./examples/checkweigh -                     or as they arrive
//	  -trials trials.csv -target "85 g" -limit "0.6 g"         and where to set the mark
//	  -svg chart.svg -png chart.png                            and the chart
//
// The weighings have a header with the unit of the weight; lane and mark may
// be left out:
//
//	lane,mark,weight (g)
//	1,12,85.3
//
// Each lane has its own chart: its first subgroups set the limits, the later
// ones are held against them. Trials, for the mark, have the columns
// mark, weight (g) and pieces.
//
// A row that cannot be read is named by line, column and value. With
// -bad-rows refuse (the default) nothing after it is read and it leaves with 1;
// with -bad-rows skip the other rows are kept. It leaves with 2 if it was called wrongly.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"slices"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/testdata"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// The exit codes.
const (
	exitOK    = 0
	exitData  = 1
	exitUsage = 2
)

// options are what the person chose.
type options struct {
	demo              bool
	kind              string
	rules             string
	size, setup       int
	width             float64
	badRows           string
	trials, state     string
	svg, png          string
	target, limit     doughmath.Mass
	markLow, markHigh float64
	division          float64
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("checkweigh", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.BoolVar(&o.demo, "demo", false, "read the weighings and trials of the invented demo plant")
	flags.StringVar(&o.kind, "chart", string(divider.ChartAveragesRanges), "averages-ranges, averages-deviations or individuals")
	flags.StringVar(&o.rules, "rules", string(divider.ZoneTests), "limits-only, zone-tests or eight-tests")
	flags.IntVar(&o.size, "size", 5, "pieces in a subgroup; 1 for individuals")
	flags.IntVar(&o.setup, "setup", 20, "subgroups of each lane that set its limits")
	flags.Float64Var(&o.width, "width", 3, "half-width of the limits in standard errors")
	flags.StringVar(&o.badRows, "bad-rows", "refuse", "refuse or skip a row that cannot be read")
	flags.StringVar(&o.trials, "trials", "", "CSV `file` of trial weighings, to say where to set the mark")
	flags.TextVar(&o.target, "target", doughmath.Mass(0), "mean weight wanted, with its unit")
	flags.TextVar(&o.limit, "limit", doughmath.Mass(0), "how far the mean may lie off before the mark is moved, with its unit")
	flags.Float64Var(&o.markLow, "mark-low", 0, "lowest mark of the handle")
	flags.Float64Var(&o.markHigh, "mark-high", 100, "highest mark of the handle")
	flags.Float64Var(&o.division, "division", 0, "smallest part of a mark that can be set; 0 if the handle moves freely")
	flags.StringVar(&o.state, "state", "", "JSON `file` that keeps the charts from one shift to the next")
	flags.StringVar(&o.svg, "svg", "", "write the chart to this SVG `file`")
	flags.StringVar(&o.png, "png", "", "write the chart to this PNG `file`")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitOK
		}
		return exitUsage
	}
	if err := o.check(flags.Args()); err != nil {
		fmt.Fprintln(stderr, "checkweigh:", err)
		return exitUsage
	}
	line := &line{options: o, out: stdout, lanes: map[int]*lane{}}
	if err := line.process(flags.Args(), stdin, stderr); err != nil {
		fmt.Fprintln(stderr, "checkweigh:", err)
		return exitData
	}
	return exitOK
}

func (o *options) check(args []string) error {
	switch {
	case o.demo == (len(args) > 0):
		return errors.New("name one file of weighings, - for standard input, or -demo")
	case len(args) > 1:
		return fmt.Errorf("one file of weighings, not %d; options come first", len(args))
	case o.badRows != "refuse" && o.badRows != "skip":
		return fmt.Errorf("-bad-rows is %q: want refuse or skip", o.badRows)
	case !slices.Contains([]string{string(divider.ChartAveragesRanges), string(divider.ChartAveragesDeviations), string(divider.ChartIndividuals)}, o.kind):
		return fmt.Errorf("-chart is %q: want averages-ranges, averages-deviations or individuals", o.kind)
	case o.setup < 2 || o.setup > 1000:
		return fmt.Errorf("-setup is %d: want 2 to 1000 subgroups", o.setup)
	}
	// The library's own checks, on a setup with every value in range.
	if _, err := divider.NewWatch(o.chart(1, 1)); err != nil {
		return err
	}
	if o.demo {
		if o.target == 0 {
			o.target = doughmath.Grams(85)
		}
		if o.limit == 0 {
			o.limit = doughmath.Grams(0.8)
		}
		if o.division == 0 {
			o.division = 0.1
		}
	}
	if (o.trials != "" || o.demo) && !(o.target > 0 && o.limit > 0) {
		return errors.New("-trials wants -target and -limit, both above 0, with their units")
	}
	return nil
}

// chart returns the chart that the options ask for.
func (o *options) chart(centre, sd doughmath.Mass) divider.ChartSetup {
	return divider.ChartSetup{
		Kind: divider.ChartKind(o.kind), Size: o.size, Centre: centre, SD: sd,
		Width: o.width, Rules: divider.RunRules(o.rules),
	}
}

// line is the divider: all its lanes behind one handle.
type line struct {
	options
	out         io.Writer
	unit        string // of the weighings, for all that is shown
	lanes       map[int]*lane
	order       []int // lanes as they first appeared
	calibration *divider.Calibration
	mark        float64
	marked      bool
	latest      map[int]doughmath.Mass // mean of the newest subgroup of each lane at this mark
	action      divider.Action         // of the last advice
	weighings   int
}

// lane is one lane's chart.
type lane struct {
	number  int
	setup   []doughmath.Mass // gathered until they set the limits
	watch   divider.Watch
	watched bool
	settled int                  // points that set the limits
	last    int                  // number of the last point
	points  []divider.ChartPoint // to be drawn
	signals divider.Signals      // of the last point
	moves   []move
}

// move is a move of the handle: after which of the lane's points, and the marks.
type move struct {
	after    int
	from, to float64
}

func (l *line) process(args []string, stdin io.Reader, stderr io.Writer) error {
	if err := l.calibrate(); err != nil {
		return err
	}
	if err := l.restore(); err != nil {
		return err
	}
	in := stdin
	switch {
	case l.demo:
		data, err := testdata.Scenario("weighings.csv")
		if err != nil {
			return err
		}
		in = bytes.NewReader(data)
	case args[0] != "-":
		file, err := os.Open(args[0])
		if err != nil {
			return err
		}
		defer func() { _ = file.Close() }() // only read
		in = file
	}
	rows, err := newRows(in, "weight", "lane", "mark")
	if err != nil {
		return err
	}
	l.unit = rows.unit
	skipped := 0
	for {
		row, err := rows.next()
		if errors.Is(err, io.EOF) {
			break
		}
		var bad *badRow
		if errors.As(err, &bad) && l.badRows == "skip" {
			fmt.Fprintln(stderr, "checkweigh:", err)
			skipped++
			continue
		}
		if err != nil {
			return fmt.Errorf("%w (nothing after it was read; -bad-rows skip leaves it out)", err)
		}
		if err := l.weigh(row); err != nil {
			return err
		}
	}
	return l.finish(skipped)
}

// weigh takes one weighing.
func (l *line) weigh(r row) error {
	l.weighings++
	a := l.lanes[r.lane]
	if a == nil {
		a = &lane{number: r.lane}
		l.lanes[r.lane] = a
		l.order = append(l.order, r.lane)
	}
	if r.hasMark {
		if l.marked && r.mark != l.mark {
			l.move(r.mark)
		}
		l.mark, l.marked = r.mark, true
	}
	if !a.watched {
		a.setup = append(a.setup, r.weight)
		if len(a.setup) == l.setup*l.size {
			return l.settle(a)
		}
		return nil
	}
	p, complete, err := a.watch.Add(r.weight)
	if err != nil {
		return fmt.Errorf("line %d: %w", r.line, err)
	}
	if complete {
		a.last = p.Number
		if l.svg != "" || l.png != "" { // only a picture needs what is past
			a.points = append(a.points, p)
		}
		l.report(a, p)
		return l.advise(a, p)
	}
	return nil
}

// move notes that the handle was moved: a subgroup of two settings would be none.
func (l *line) move(to float64) {
	fmt.Fprintf(l.out, "mark moved from %g to %g\n", l.mark, to)
	l.latest = nil
	for _, n := range l.order {
		a := l.lanes[n]
		dropped := len(a.setup)
		if a.watched {
			dropped = a.watch.Restart()
		}
		a.setup = nil
		a.moves = append(a.moves, move{a.last, l.mark, to})
		if dropped > 0 {
			fmt.Fprintf(l.out, "lane %d: %d weighings before the move belong to no subgroup and are left out\n", n, dropped)
		}
	}
}

// settle sets up a lane's chart on the pieces gathered.
func (l *line) settle(a *lane) error {
	design := l.chart(0, 0)
	out, err := divider.SetUpChart(divider.SetUpChartInput{
		Kind: design.Kind, Size: design.Size, Weighings: a.setup, Width: design.Width, Rules: design.Rules,
	}, nil)
	if err != nil {
		return fmt.Errorf("lane %d: %w", a.number, err)
	}
	if a.watch, err = divider.NewWatch(out.Setup); err != nil {
		return err
	}
	for _, m := range a.setup { // so that runs carry over into use, and numbers go on
		if _, _, err := a.watch.Add(m); err != nil {
			return err
		}
	}
	a.points, a.settled, a.last, a.watched, a.setup = out.Chart.Points, out.Subgroups, out.Subgroups, true, nil
	fmt.Fprintf(l.out, "lane %d  set up on %d subgroups of %d: %s from %s to %s, pieces scatter by %s\n",
		a.number, out.Subgroups, l.size, l.show(out.Setup.Centre), l.show(out.Chart.Low), l.show(out.Chart.High), l.show(out.Setup.SD))
	for _, p := range a.points {
		if p.Signals != 0 {
			l.report(a, p)
		}
	}
	for _, s := range (out.Conditions &^ doughmath.OutOfControl).Sentences() {
		l.say(s)
	}
	if out.Conditions.Has(doughmath.OutOfControl) {
		l.say("The set-up run was not steady: find each cause, leave out the subgroups it explains and set up again before you trust the limits.")
	}
	return nil
}

// report prints the state at a point, and a sentence for each signal that the
// point before did not have.
func (l *line) report(a *lane, p divider.ChartPoint) {
	state := "steady"
	if p.Signals != 0 {
		state = "SIGNAL " + p.Signals.String()
	}
	fmt.Fprintf(l.out, "lane %d  point %d  %s  %s\n", a.number, p.Number, l.show(p.Value), state)
	for _, s := range (p.Signals &^ a.signals).Sentences() {
		l.say(s)
	}
	if a.signals == 0 && p.Signals != 0 {
		l.say(doughmath.OutOfControl.Sentences()[0])
	}
	a.signals = p.Signals
}

// value is a weight in the unit of the weighings.
func (l *line) value(m doughmath.Mass) float64 {
	v, _ := doughmath.InUnit(m, l.unit) // newRows made sure of the unit
	return v
}

// show is a weight in the unit of the weighings, to four figures or the whole.
func (l *line) show(m doughmath.Mass) string {
	v := l.value(m)
	decimals := 3
	for size := math.Abs(v); size >= 10 && decimals > 0; size /= 10 {
		decimals--
	}
	return strconv.FormatFloat(v, 'f', decimals, 64) + " " + l.unit
}

// say prints a sentence that goes with the line above.
func (l *line) say(sentence string) { fmt.Fprintln(l.out, "        "+sentence) }

// advise says where to set the mark, once every lane that runs has a new
// subgroup: one handle serves them all. A lane that has a second one before
// another has its first does not wait for it.
func (l *line) advise(a *lane, p divider.ChartPoint) error {
	if l.calibration == nil || !l.marked {
		return nil
	}
	if l.latest == nil {
		l.latest = map[int]doughmath.Mass{}
	}
	_, again := l.latest[a.number]
	l.latest[a.number] = p.Value
	if len(l.latest) < len(l.order) && !again {
		return nil
	}
	var sum doughmath.Mass
	for _, n := range l.order { // in the order of lanes, so that sums come out alike
		sum += l.latest[n]
	}
	lanes := len(l.latest)
	mean := sum / doughmath.Mass(lanes)
	next, err := divider.NextMark(divider.NextMarkInput{
		Calibration: *l.calibration, Mark: l.mark, Weight: mean, Pieces: l.size * lanes, Target: l.target, Limit: l.limit,
		Division: l.division, MarkLow: l.markLow, MarkHigh: l.markHigh,
	})
	if err != nil {
		return err
	}
	clear(l.latest)
	switch next.Action {
	case divider.Move, divider.OffScale:
		fmt.Fprintf(l.out, "mark %g: %s to %.6g (mean %s, target %s)\n", l.mark, next.Action, next.Mark, l.show(mean), l.show(l.target))
	default:
		fmt.Fprintf(l.out, "mark %g: %s (mean %s)\n", l.mark, next.Action, l.show(mean))
	}
	if next.Action != l.action {
		l.say(next.Advice)
		for _, s := range next.Cautions.Sentences() {
			l.say(s)
		}
	}
	l.action = next.Action
	return nil
}

// calibrate fits weight to mark, if trials were named.
func (l *line) calibrate() error {
	var data []byte
	var err error
	switch {
	case l.trials != "":
		data, err = os.ReadFile(l.trials)
	case l.demo:
		data, err = testdata.Scenario("trials.csv")
	default:
		return nil
	}
	if err != nil {
		return err
	}
	rows, err := newRows(bytes.NewReader(data), "weight", "mark", "pieces")
	if err != nil {
		return fmt.Errorf("trials: %w", err)
	}
	var trials []divider.Trial
	for {
		r, err := rows.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fmt.Errorf("trials: %w", err)
		}
		trials = append(trials, divider.Trial{Mark: r.mark, Weight: r.weight, Pieces: r.pieces})
	}
	fit, err := divider.MarkFit(divider.MarkFitInput{Trials: trials, Confidence: 95, Shape: divider.Straight, Weighting: divider.ByPieces})
	if err != nil {
		return fmt.Errorf("trials: %w", err)
	}
	l.calibration = &fit.Calibration
	for _, s := range fit.Conditions.Sentences() {
		fmt.Fprintln(l.out, "trials: "+s)
	}
	return nil
}

// restore takes up the charts where the last shift left them.
func (l *line) restore() error {
	if l.state == "" {
		return nil
	}
	data, err := os.ReadFile(l.state)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // the first shift
	}
	if err != nil {
		return err
	}
	var kept map[int]*divider.Watch
	if err := json.Unmarshal(data, &kept); err != nil {
		return fmt.Errorf("%s: %w", l.state, err)
	}
	for n, watch := range kept {
		was := watch.Setup()
		if asked := l.chart(was.Centre, was.SD); was != asked {
			return fmt.Errorf("%s: lane %d has a chart %s of %d with limits at %g and %s; call with those, or without -state to set up anew",
				l.state, n, was.Kind, was.Size, was.Width, was.Rules)
		}
		l.lanes[n] = &lane{number: n, watch: *watch, watched: true}
		l.order = append(l.order, n)
	}
	slices.Sort(l.order)
	return nil
}

// finish prints the summary, keeps the charts and draws them.
func (l *line) finish(skipped int) error {
	fmt.Fprintf(l.out, "%d weighings", l.weighings)
	if skipped > 0 {
		fmt.Fprintf(l.out, ", %d rows skipped", skipped)
	}
	fmt.Fprintln(l.out)
	kept := map[int]*divider.Watch{}
	for _, n := range l.order {
		a := l.lanes[n]
		if !a.watched {
			fmt.Fprintf(l.out, "lane %d: %d of %d weighings to set up its chart; weigh more, or set up on fewer subgroups\n", n, len(a.setup), l.setup*l.size)
			continue
		}
		kept[n] = &a.watch
		if w := a.watch.Waiting(); w > 0 {
			fmt.Fprintf(l.out, "lane %d: %d of %d weighings of the next subgroup\n", n, w, l.size)
		}
	}
	if l.state != "" {
		data, err := json.MarshalIndent(kept, "", " ")
		if err != nil {
			return err
		}
		if err := os.WriteFile(l.state, append(data, '\n'), 0o644); err != nil {
			return err
		}
	}
	if l.svg == "" && l.png == "" {
		return nil
	}
	if len(kept) == 0 {
		return errors.New("no lane has enough weighings for a chart")
	}
	return l.draw()
}
