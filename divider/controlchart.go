package divider

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ChartKind names a control chart.
type ChartKind string

const (
	// ChartAveragesRanges plots the average and the range of each subgroup.
	ChartAveragesRanges ChartKind = "averages-ranges"
	// ChartAveragesDeviations plots the average and the standard deviation of each subgroup.
	ChartAveragesDeviations ChartKind = "averages-deviations"
	// ChartIndividuals plots single pieces and the moving range of two in a row.
	ChartIndividuals ChartKind = "individuals"
	// ChartCUSUM adds up what each point lies above or below the centre: it finds small moves that last.
	ChartCUSUM ChartKind = "cusum"
	// ChartEWMA plots an average that forgets old points little by little: it finds small moves too.
	ChartEWMA ChartKind = "ewma"
)

// RunRules names the tests for patterns within the limits.
type RunRules string

const (
	// LimitsOnly signals points beyond the limits and nothing else.
	LimitsOnly RunRules = "limits-only"
	// ZoneTests adds the zone tests of the Statistical Quality Control Handbook
	// (1956): two of three points in a row beyond two standard errors on one
	// side, four of five beyond one, eight on one side of the centre.
	ZoneTests RunRules = "zone-tests"
	// EightTests are those of L. S. Nelson, Journal of Quality Technology 16
	// (1984), 237-239: the first two zone tests, nine points on one side, six
	// steadily rising or falling, fourteen alternating, fifteen within one
	// standard error, eight beyond one on either side.
	EightTests RunRules = "eight-tests"
)

// fewestSetupSubgroups is how many subgroups make limits that will stand.
// Common practice asks for 20 to 25.
const fewestSetupSubgroups = 20

// ChartSetup is a control chart ready for use: what the set-up phase found, or
// what a standard gives.
type ChartSetup struct {
	Kind     ChartKind `json:"kind"`              // which chart
	Size     int       `json:"size"`              // pieces in a subgroup, all of one lane; 1 for individuals, 2 to 25 for averages, 1 to 25 for the other two
	Centre   unit.Mass `json:"centre"`            // weight that the chart is centred on; 1 mg to 100 kg
	SD       unit.Mass `json:"sd"`                // standard deviation of single pieces within subgroups; 1 µg to 100 kg
	Width    float64   `json:"width,omitzero"`    // half-width of the limits in standard errors, usually 3; 0.5 to 6, and 0 for cusum
	Weight   float64   `json:"weight,omitzero"`   // of the newest point in the moving average, usually 0.05 to 0.4; above 0 to 1 for ewma, 0 for others
	Slack    float64   `json:"slack,omitzero"`    // standard errors that each point is forgiven, half the move to be found; 0 to 5 for cusum, 0 for others
	Decision float64   `json:"decision,omitzero"` // sum at which the chart signals, in standard errors, usually 4 or 5; above 0 to 50 for cusum, 0 for others
	Rules    RunRules  `json:"rules"`             // tests for patterns; "limits-only" for cusum and ewma
}

// averages reports whether the chart plots each subgroup by itself, so that run rules apply.
func (s ChartSetup) averages() bool {
	return s.Kind == ChartAveragesRanges || s.Kind == ChartAveragesDeviations || s.Kind == ChartIndividuals
}

// standardError returns the standard deviation of a subgroup's average.
func (s ChartSetup) standardError() float64 { return float64(s.SD) / math.Sqrt(float64(s.Size)) }

// checkDesign checks what a person chooses, before centre and sd are known.
func (s ChartSetup) checkDesign(c *reckon.Checks) {
	known := reckon.CheckWord(c, "kind", s.Kind, ChartAveragesRanges, ChartAveragesDeviations, ChartIndividuals, ChartCUSUM, ChartEWMA)
	low, high := 1, mostInSubgroup
	switch s.Kind {
	case ChartIndividuals:
		high = 1
	case ChartAveragesRanges, ChartAveragesDeviations:
		low = 2
	}
	reckon.CheckCount(c, "size", s.Size, low, high)
	if !known {
		return
	}
	zero := func(field string, v float64) {
		if v != 0 {
			c.Fail(field, fmt.Sprintf("%g", v), "nothing: the "+string(s.Kind)+" chart does not use it")
		}
	}
	if s.Kind == ChartCUSUM {
		zero("width", s.Width)
		reckon.CheckRange(c, "slack", s.Slack, 0, 5)
		if reckon.CheckPositive(c, "decision", s.Decision) {
			reckon.CheckRange(c, "decision", s.Decision, 0, 50)
		}
	} else {
		reckon.CheckRange(c, "width", s.Width, 0.5, 6)
		zero("slack", s.Slack)
		zero("decision", s.Decision)
	}
	if s.Kind != ChartEWMA {
		zero("weight", s.Weight)
	} else if reckon.CheckPositive(c, "weight", s.Weight) {
		reckon.CheckRange(c, "weight", s.Weight, 0, 1)
	}
	if s.averages() {
		reckon.CheckWord(c, "rules", s.Rules, LimitsOnly, ZoneTests, EightTests)
	} else if s.Rules != LimitsOnly {
		c.Fail("rules", fmt.Sprintf("%q", s.Rules), `"limits-only": points of this chart hang together, so that run rules would signal without cause`)
	}
}

// check checks a whole setup, as a field called setup.
func (s ChartSetup) check(c *reckon.Checks) {
	inner := reckon.Checks{Func: c.Func}
	s.checkDesign(&inner)
	reckon.CheckRange(&inner, "centre", s.Centre, lightestPiece, heaviestPiece)
	reckon.CheckRange(&inner, "sd", s.SD, 1e-6, heaviestPiece)
	c.Nest("setup", inner.Err())
}

// checkSubgroups wants whole subgroups of one lane.
func checkSubgroups(c *reckon.Checks, x []unit.Mass, lanes []int, size int) {
	if size > 0 && len(x)%size != 0 {
		c.Fail("weighings", fmt.Sprintf("%d weighings", len(x)), fmt.Sprintf("whole subgroups of %d: keep the last %d for the next time", size, len(x)%size))
	}
	if len(lanes) == 0 {
		return
	}
	if len(lanes) != len(x) {
		c.Fail("lanes", fmt.Sprintf("%d lanes", len(lanes)), fmt.Sprintf("one for each of the %d weighings, or none", len(x)))
		return
	}
	for i, lane := range lanes {
		if lane != lanes[0] {
			c.Fail(fmt.Sprintf("lanes[%d]", i), fmt.Sprintf("lane %d", lane), fmt.Sprintf("lane %d like the first: a chart is of one lane, else the difference between lanes hides in the spread", lanes[0]))
		}
	}
}

// ControlChart returns whether the divider stayed as it was when the chart was
// set up: phase II, with limits that later pieces do not move.
//
//	averages, individuals:  m -+ L * s / sqrt(n)
//	ranges:       d2*s -+ L * d3*s;  deviations: c4*s -+ L * s * sqrt(1 - c4^2)
//	ewma:         W = lambda * x + (1 - lambda) * W, from m;
//	              m -+ L * s / sqrt(n) * sqrt(lambda/(2 - lambda) * (1 - (1 - lambda)^(2i)))
//	cusum:        C+ = max(0, C+ + z - k), C- = max(0, C- - z - k), z = (x - m) * sqrt(n) / s;
//	              signal above h
//
// A lower limit of a spread that comes out below zero is 0.
//
// A subgroup holds pieces that had no reason to differ: one lane, one after
// another. A stroke across several lanes is no subgroup, because lanes differ
// always; each lane has its chart. A signal says that something changed, not
// what: look for the cause, then weigh again, and move the handle last. On an
// individuals chart the limits hold for weights that scatter normally. The
// averages charts find a move of two standard errors in a few points, cusum
// and ewma one of half a standard error in a few dozen: [RunLength] says how many.
//
// Points are appended to dst, which may be nil. [Watch] does the same one
// weighing at a time.
//
// It returns an *[reckon.InputError] if:
//   - a field of the setup is out of its range, or is given to a chart that does not use it,
//   - there are no weighings, more than 20 000, or no whole number of subgroups,
//   - a weighing is outside 1 mg to 100 kg,
//   - lanes is given and differs from lane to lane or from the number of weighings.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control;
// NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3; run rules from
// the sources that [RunRules] names, as recalled.
//
// [ExplainControlChart] shows the working; [SetUpChart] is phase I.
type ControlChart struct {
	Setup     ChartSetup  `json:"setup"`          // the chart, from [SetUpChart] or from a standard
	Weighings []unit.Mass `json:"weighings"`      // weights of single pieces in the order weighed, subgroup after subgroup; 1 to 20 000, each 1 mg to 100 kg
	Lanes     []int       `json:"lanes,omitzero"` // the lane of each weighing; they must all be one lane; leave out if nobody noted them
}

func (ControlChart) ID() string { return "control-chart" }

// SHELL
func (q ControlChart) Check(c *reckon.Checks) {
	_, err := explainControlChart(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ControlChart) Solve() (ControlChartResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q ControlChart) Append(dst []ChartPoint) (ControlChartResult, error) {
	return explainControlChart(q, dst, nil)
}

func (q ControlChart) Show(w *reckon.Working, _ ControlChartResult) {
	_, _ = explainControlChart(q, nil, w)
}

// ChartPoint is one subgroup on the chart.
type ChartPoint struct {
	Number  int       `json:"number"`  // counted from 1
	Value   unit.Mass `json:"value"`   // average of the subgroup, or the single weighing
	Spread  unit.Mass `json:"spread"`  // its range or standard deviation, or the moving range; 0 g for the first individual and for a single piece on a cusum or ewma chart
	Plotted unit.Mass `json:"plotted"` // what is held against the limits: the value, or the moving average
	Low     unit.Mass `json:"low"`     // lower limit of what is plotted; 0 g on a cusum chart
	High    unit.Mass `json:"high"`    // upper limit of what is plotted; 0 g on a cusum chart
	Above   float64   `json:"above"`   // cusum of what lies above the centre, in standard errors; 0 on other charts
	Below   float64   `json:"below"`   // cusum of what lies below the centre, in standard errors; 0 on other charts
	Signals Signals   `json:"signals"` // what this point signals; empty if nothing
}

// ControlChartResult is the chart with its signals.
type ControlChartResult struct {
	Points       []ChartPoint `json:"points"`        // one for each subgroup
	Signalled    int          `json:"signalled"`     // points that signal something
	First        int          `json:"first"`         // number of the first of them; 0 if none
	SpreadCentre unit.Mass    `json:"spread_centre"` // mean of the ranges, deviations or moving ranges to expect; 0 g where none is plotted
	SpreadLow    unit.Mass    `json:"spread_low"`    // their lower limit, 0 g if it comes out below
	SpreadHigh   unit.Mass    `json:"spread_high"`   // their upper limit; 0 g where none is plotted
	Low          unit.Mass    `json:"low"`           // lower limit at the last point; 0 g on a cusum chart
	High         unit.Mass    `json:"high"`          // upper limit at the last point; 0 g on a cusum chart
	Conditions   Conditions   `json:"conditions"`    // out-of-control
}

func explainControlChart(in ControlChart, dst []ChartPoint, w *reckon.Working) (out ControlChartResult, err error) {
	c := reckon.Checks{Func: "control-chart"}
	in.Setup.check(&c)
	checkEach(&c, "weighings", in.Weighings, 1)
	checkSubgroups(&c, in.Weighings, in.Lanes, in.Setup.Size)
	if err := c.Err(); err != nil {
		return ControlChartResult{}, err
	}
	out = runChart(in.Setup, in.Weighings, dst)
	if w != nil {
		explainChart(in.Setup, out, w)
	}
	return out, nil
}

// runChart plots weighings that have been checked.
func runChart(setup ChartSetup, x []unit.Mass, dst []ChartPoint) ControlChartResult {
	watch := Watch{setup: setup, limits: setup.limits()}
	out := ControlChartResult{Points: dst, SpreadCentre: watch.limits.centre, SpreadLow: watch.limits.low, SpreadHigh: watch.limits.high}
	for _, m := range x {
		p, complete := watch.add(m)
		if !complete {
			continue
		}
		out.Points = append(out.Points, p)
		out.Low, out.High = p.Low, p.High
		if p.Signals != 0 {
			out.Conditions |= OutOfControl
			out.Signalled++
			if out.First == 0 {
				out.First = p.Number
			}
		}
	}
	return out
}

// explainChart records how the limits, or the sums, of the last point came about.
func explainChart(setup ChartSetup, out ControlChartResult, w *reckon.Working) {
	last := out.Points[len(out.Points)-1]
	w.Given("centre", "m", float64(setup.Centre), "g", "")
	w.Given("standard deviation of pieces", "s", float64(setup.SD), "g", "within subgroups")
	w.Given("pieces in a subgroup", "n", float64(setup.Size), "pieces", "")
	w.Step("standard error of a subgroup's average", "e", "s/sqrt(n)", setup.standardError(), "g", "")
	w.Given("number of the last point", "i", float64(last.Number), "", "")
	switch setup.Kind {
	case ChartCUSUM:
		before := ChartPoint{}
		if last.Number > 1 {
			before = out.Points[len(out.Points)-2]
		}
		w.Given("last average", "x", float64(last.Value), "g", "")
		w.Given("slack", "k", setup.Slack, "", "")
		w.Step("distance from the centre", "z", "(x - m)/e", (float64(last.Value)-float64(setup.Centre))/setup.standardError(), "", "in standard errors")
		w.Given("sum above, before", "P", before.Above, "", "")
		w.Given("sum below, before", "N", before.Below, "", "")
		w.Step("sum above", "C_p", "max(0, P + z - k)", last.Above, "", "")
		w.Step("sum below", "C_n", "max(0, N - z - k)", last.Below, "", "")
	case ChartEWMA:
		w.Given("limits in standard errors", "L", setup.Width, "", "")
		w.Given("weight of the newest point", "a", setup.Weight, "", "")
		w.Step("half-width of the limits", "U", "L*e*sqrt(a/(2 - a)*(1 - pow(1 - a, 2*i)))", ewmaHalf(setup, last.Number), "g", "")
		w.Step("lower limit", "low", "m - U", float64(last.Low), "g", "")
		w.Step("upper limit", "high", "m + U", float64(last.High), "g", "")
	default:
		w.Given("limits in standard errors", "L", setup.Width, "", "")
		w.Step("lower limit", "low", "m - L*e", float64(last.Low), "g", "")
		w.Step("upper limit", "high", "m + L*e", float64(last.High), "g", "")
	}
}

// ewmaHalf returns the half-width of the moving average's limits at point i.
func ewmaHalf(s ChartSetup, i int) float64 {
	start := 1 - math.Pow(1-s.Weight, float64(2*i)) // grows to 1 as the chart forgets where it started
	return s.Width * s.standardError() * math.Sqrt(s.Weight/(2-s.Weight)*start)
}

// spreadLimits are those of ranges, deviations or moving ranges.
type spreadLimits struct{ centre, low, high unit.Mass }

func (s ChartSetup) limits() spreadLimits {
	var mean, scatter float64 // of the spread, in standard deviations of pieces
	switch s.Kind {
	case ChartAveragesRanges:
		mean, scatter = meanRange(s.Size), sdRange(s.Size)
	case ChartAveragesDeviations:
		mean = meanOfSD(s.Size)
		scatter = math.Sqrt(1 - float64(mean*mean))
	case ChartIndividuals:
		mean, scatter = meanRange(2), sdRange(2)
	default:
		return spreadLimits{}
	}
	sd, half := float64(s.SD), float64(s.Width*scatter)
	return spreadLimits{unit.Mass(mean * sd), unit.Mass(max(0, mean-half) * sd), unit.Mass((mean + half) * sd)}
}

// SetUpChart returns a control chart from the pieces of a run that was thought
// steady, and whether it was: phase I.
//
//	m = mean of all pieces
//	s = mean range / d2, or mean standard deviation / c4, or mean moving range / d2(2)
//
// Deviations are used by averages-deviations, moving ranges of two wherever the
// subgroup is a single piece, ranges by the rest. Only the scatter within
// subgroups counts, so that a mean that wanders does not widen its own limits.
//
// If the chart is out of control, its limits are not to be used yet: find each
// cause, leave out the subgroups it explains (and only those) and set the chart
// up again. It sets weigh-more below 20 subgroups: common practice takes 20 to
// 25. Points are appended to dst, which may be nil.
//
// It returns an *[reckon.InputError] if:
//   - a choice is out of its range, or is given to a chart that does not use it,
//   - there are fewer than two subgroups, more than 20 000 weighings, or no whole number of subgroups,
//   - a weighing is outside 1 mg to 100 kg, or the subgroups show no scatter,
//   - lanes is given and differs from lane to lane or from the number of weighings.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control;
// NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.
//
// [ExplainSetUpChart] shows the working; [ControlChart] is phase II.
type SetUpChart struct {
	Kind      ChartKind   `json:"kind"`              // which chart
	Size      int         `json:"size"`              // pieces in a subgroup, all of one lane; 1 for individuals, 2 to 25 for averages, 1 to 25 for the other two
	Weighings []unit.Mass `json:"weighings"`         // weights of single pieces in the order weighed, subgroup after subgroup; at least two subgroups, at most 20 000 weighings, each 1 mg to 100 kg
	Lanes     []int       `json:"lanes,omitzero"`    // the lane of each weighing; they must all be one lane; leave out if nobody noted them
	Width     float64     `json:"width,omitzero"`    // half-width of the limits in standard errors, usually 3; 0.5 to 6, and 0 for cusum
	Weight    float64     `json:"weight,omitzero"`   // of the newest point in the moving average; above 0 to 1 for ewma, 0 for others
	Slack     float64     `json:"slack,omitzero"`    // standard errors that each point is forgiven; 0 to 5 for cusum, 0 for others
	Decision  float64     `json:"decision,omitzero"` // sum at which the chart signals, in standard errors; above 0 to 50 for cusum, 0 for others
	Rules     RunRules    `json:"rules"`             // tests for patterns; "limits-only" for cusum and ewma
}

func (SetUpChart) ID() string { return "set-up-chart" }

// SHELL
func (q SetUpChart) Check(c *reckon.Checks) {
	_, err := explainSetUpChart(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SetUpChart) Solve() (SetUpChartResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q SetUpChart) Append(dst []ChartPoint) (SetUpChartResult, error) {
	return explainSetUpChart(q, dst, nil)
}

func (q SetUpChart) Show(w *reckon.Working, _ SetUpChartResult) { _, _ = explainSetUpChart(q, nil, w) }

// SetUpChartResult is the chart and what it says of the pieces it was set up on.
type SetUpChartResult struct {
	Setup      ChartSetup         `json:"setup"`       // to be used by [ControlChart] and [Watch]
	Subgroups  int                `json:"subgroups"`   // subgroups that it rests on
	MeanSpread unit.Mass          `json:"mean_spread"` // mean range, standard deviation or moving range found
	Chart      ControlChartResult `json:"chart"`       // those subgroups on it
	Conditions Conditions         `json:"conditions"`  // out-of-control, weigh-more
}

func explainSetUpChart(in SetUpChart, dst []ChartPoint, w *reckon.Working) (out SetUpChartResult, err error) {
	c := reckon.Checks{Func: "set-up-chart"}
	setup := ChartSetup{Kind: in.Kind, Size: in.Size, Width: in.Width, Weight: in.Weight, Slack: in.Slack, Decision: in.Decision, Rules: in.Rules}
	setup.checkDesign(&c)
	checkEach(&c, "weighings", in.Weighings, 2*max(1, in.Size))
	checkSubgroups(&c, in.Weighings, in.Lanes, in.Size)
	if err := c.Err(); err != nil {
		return SetUpChartResult{}, err
	}
	mean, _ := meanSD(in.Weighings)
	spread, divisor := in.meanSpread()
	sd := spread / divisor
	if !(sd >= 1e-6) {
		c.Fail("weighings", fmt.Sprintf("%d weighings without scatter inside their subgroups", len(in.Weighings)), "weighings that differ: read them on a finer scale")
		return SetUpChartResult{}, c.Err()
	}
	setup.Centre, setup.SD = unit.Mass(mean), unit.Mass(sd)
	out = SetUpChartResult{
		Setup: setup, Subgroups: len(in.Weighings) / in.Size, MeanSpread: unit.Mass(spread),
		Chart: runChart(setup, in.Weighings, dst),
	}
	out.Conditions = out.Chart.Conditions
	if out.Subgroups < fewestSetupSubgroups {
		out.Conditions |= WeighMore
	}
	if w != nil {
		w.Given("mean of all pieces", "m", mean, "g", "two-pass mean")
		w.Given("mean spread", "S", spread, "g", in.spreadName())
		w.Given("what it is for a deviation of one", "d", divisor, "", "chart constant d2 or c4")
		w.Step("standard deviation of pieces", "s", "S/d", sd, "g", "within subgroups")
		if setup.averages() {
			w.Given("pieces in a subgroup", "n", float64(setup.Size), "pieces", "")
			w.Given("limits in standard errors", "L", setup.Width, "", "")
			w.Step("lower limit", "low", "m - L*(s/sqrt(n))", float64(out.Chart.Low), "g", "")
			w.Step("upper limit", "high", "m + L*(s/sqrt(n))", float64(out.Chart.High), "g", "")
		}
	}
	return out, nil
}

func (in SetUpChart) spreadName() string {
	switch {
	case in.Size == 1:
		return "mean moving range of two"
	case in.Kind == ChartAveragesDeviations:
		return "mean standard deviation of the subgroups"
	}
	return "mean range of the subgroups"
}

// meanSpread returns the mean spread within subgroups, and the same for
// standard normal pieces.
func (in SetUpChart) meanSpread() (mean, divisor float64) {
	x, sum, count := in.Weighings, 0.0, 0
	if in.Size == 1 {
		for i := 1; i < len(x); i++ {
			sum += math.Abs(float64(x[i]) - float64(x[i-1]))
		}
		return sum / float64(len(x)-1), meanRange(2)
	}
	for ; len(x) >= in.Size; x = x[in.Size:] {
		var g subgroup
		for _, m := range x[:in.Size] {
			g.add(m)
		}
		if in.Kind == ChartAveragesDeviations {
			sum += g.sd()
		} else {
			sum += g.span()
		}
		count++
	}
	if in.Kind == ChartAveragesDeviations {
		return sum / float64(count), meanOfSD(in.Size)
	}
	return sum / float64(count), meanRange(in.Size)
}
