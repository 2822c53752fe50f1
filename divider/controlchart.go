package divider

import (
	"fmt"
	"math"
	"strconv"
	"strings"

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
	Kind         ChartKind `json:"kind"`                                        // which chart
	SubgroupSize int       `json:"subgroup_size" sym:"n" range:"-"`             // pieces in a subgroup, all of one lane; 1 for individuals, 2 to 25 for averages, 1 to 25 for the other two
	Centre       unit.Mass `json:"centre" sym:"m" range:"1 mg..100 kg"`         // weight that the chart is centred on
	SD           unit.Mass `json:"sd" sym:"s" range:"0.001 mg..100 kg"`         // standard deviation of single pieces within subgroups
	LimitWidth   float64   `json:"limit_width,omitzero" sym:"L" range:"0.5..6"` // half-width of the limits in standard errors, usually 3; left out for cusum
	EwmaWeight   float64   `json:"ewma_weight,omitzero" sym:"a" range:"-"`      // of the newest point in the moving average, usually 0.05 to 0.4; above 0 to 1 for ewma, left out for others
	Slack        float64   `json:"slack,omitzero" sym:"k" range:"-"`            // standard errors that each point is forgiven, half the move to be found; 0 to 5 for cusum, left out for others
	Decision     float64   `json:"decision,omitzero" sym:"h" range:"-"`         // sum at which the chart signals, in standard errors, usually 4 or 5; above 0 to 50 for cusum, left out for others
	Rules        RunRules  `json:"rules"`                                       // tests for patterns; "limits-only" for cusum and ewma
}

// Check reports what is wrong with the setup.
func (s ChartSetup) Check(c *reckon.Checks) {
	s.checkDesign(c)
	reckon.CheckRange(c, "centre", s.Centre, lightestPiece, heaviestPiece)
	checkSD(c, "sd", s.SD)
}

// averages reports whether the chart plots each subgroup by itself, so that run rules apply.
func (s ChartSetup) averages() bool {
	return s.Kind == ChartAveragesRanges || s.Kind == ChartAveragesDeviations || s.Kind == ChartIndividuals
}

// standardError returns the standard deviation of a subgroup's average.
func (s ChartSetup) standardError() float64 {
	return float64(s.SD) / math.Sqrt(float64(s.SubgroupSize))
}

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
	reckon.CheckCount(c, "subgroup_size", s.SubgroupSize, low, high)
	if !known {
		return
	}
	zero := func(field string, v float64) {
		if v != 0 {
			c.Fail(field, fmt.Sprintf("%g", v), "nothing: the "+string(s.Kind)+" chart does not use it")
		}
	}
	if s.Kind == ChartCUSUM {
		zero("limit_width", s.LimitWidth)
		reckon.CheckRange(c, "slack", s.Slack, 0, 5)
		reckon.CheckAbove(c, "decision", s.Decision, 50)
	} else {
		reckon.CheckRange(c, "limit_width", s.LimitWidth, 0.5, 6)
		zero("slack", s.Slack)
		zero("decision", s.Decision)
	}
	if s.Kind == ChartEWMA {
		reckon.CheckAbove(c, "ewma_weight", s.EwmaWeight, 1)
	} else {
		zero("ewma_weight", s.EwmaWeight)
	}
	if s.averages() {
		reckon.CheckWord(c, "rules", s.Rules, LimitsOnly, ZoneTests, EightTests)
	} else if s.Rules != LimitsOnly {
		c.Fail("rules", fmt.Sprintf("%q", s.Rules), `"limits-only": points of this chart depend on those before, so that run rules would signal without cause`)
	}
}

// checkSubgroups requires whole subgroups of one lane.
func checkSubgroups(c *reckon.Checks, x []unit.Mass, lanes []int, size int) {
	if size > 0 && len(x)%size != 0 {
		c.Fail("weighings", fmt.Sprintf("%d weighings", len(x)), fmt.Sprintf("whole subgroups of %d: keep the last %d for the next time", size, len(x)%size))
	}
	if len(lanes) == 0 || !reckon.CheckItems(c, "lane_of", len(lanes), mostWeighings) {
		return
	}
	if len(lanes) != len(x) {
		c.Fail("lane_of", fmt.Sprintf("%d lanes", len(lanes)), fmt.Sprintf("one for each of the %d weighings, or none", len(x)))
		return
	}
	for i, lane := range lanes {
		if lane != lanes[0] {
			c.Fail(fmt.Sprintf("lane_of[%d]", i), fmt.Sprintf("lane %d", lane), fmt.Sprintf("lane %d like the first: a chart is of one lane, or the difference between lanes hides in the spread", lanes[0]))
		}
	}
}

// ControlChart asks whether the divider stayed as it was when the chart was set
// up: phase II, with limits that later pieces do not move.
//
//	averages:     x_i = the average of the n pieces y_i of subgroup i;
//	              low, high = m -+ L * s / sqrt(n), for individuals the same with n = 1
//	ranges:       R_i = the range of subgroup i, or the moving range of two individuals;
//	              R_m = d2 * s,  R_low, R_high = R_m -+ L * d3 * s
//	deviations:   R_i = the standard deviation of subgroup i;
//	              R_m = c4 * s,  R_low, R_high = R_m -+ L * s * sqrt(1 - c4^2)
//	ewma:         W_i = a * x_i + (1 - a) * W_(i-1), from m;
//	              low_i, high_i = m -+ L * s / sqrt(n) * sqrt(a/(2 - a) * (1 - (1 - a)^(2i)))
//	cusum:        P_i = max(0, P_(i-1) + z - k), N_i = max(0, N_(i-1) - z - k), z = (x_i - m) * sqrt(n) / s;
//	              signal above h
//	c points signal, f is the number of the first
//
// A lower limit of a spread below zero is given as 0.
//
// A subgroup holds pieces that had no reason to differ: one lane, one after
// another. A stroke across several lanes is no subgroup, because lanes always
// differ; each lane has its chart. A signal says that something changed, not
// what: look for the cause, then weigh again, and move the handle last. On an
// individuals chart the limits hold for weights that scatter normally. The
// averages charts find a move of two standard errors in a few points, cusum
// and ewma one of half a standard error in a few dozen: [RunLength] says how many.
//
// [Watch] does the same one weighing at a time; [SetUpChart] is phase I.
//
// It is refused if:
//   - a field of the setup is given to a chart that does not use it,
//   - the weighings are no whole number of subgroups,
//   - lane_of is given and differs from lane to lane or from the number of weighings.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control;
// NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3; run rules from
// the sources that [RunRules] names, as recalled.
type ControlChart struct {
	Setup     ChartSetup  `json:"setup"`                                                    // the chart, from [SetUpChart] or from a standard
	Weighings []unit.Mass `json:"weighings" sym:"y_#" range:"1 mg..100 kg" items:"..20000"` // weights of single pieces in the order weighed, subgroup after subgroup; up to 20 000
	LaneOf    []int       `json:"lane_of,omitzero" range:"-" items:"..20000"`               // the lane of each weighing; they must all be one lane; leave out if they were not noted
}

// ChartPoint is one subgroup on the chart.
type ChartPoint struct {
	Point    int       `json:"point"`               // counted from 1
	Value    unit.Mass `json:"value" sym:"x_#"`     // average of the subgroup, or the single weighing
	Spread   unit.Mass `json:"spread" sym:"R_#"`    // its range or standard deviation, or the moving range; 0 g for the first individual and for a single piece on a cusum or ewma chart
	Plotted  unit.Mass `json:"plotted" sym:"W_#"`   // what is compared with the limits: the value, or the moving average
	Low      unit.Mass `json:"low" sym:"low_#"`     // lower limit of what is plotted; 0 g on a cusum chart
	High     unit.Mass `json:"high" sym:"high_#"`   // upper limit of what is plotted; 0 g on a cusum chart
	SumAbove float64   `json:"sum_above" sym:"P_#"` // cusum of what lies above the centre, in standard errors; 0 on other charts
	SumBelow float64   `json:"sum_below" sym:"N_#"` // cusum of what lies below the centre, in standard errors; 0 on other charts
	Signals  Signals   `json:"signals"`             // what this point signals; empty if nothing
}

// ControlChartResult is the chart with its signals.
type ControlChartResult struct {
	Points       []ChartPoint    `json:"points"`                   // one for each subgroup
	Signalled    int             `json:"signalled" sym:"c"`        // points that signal something
	First        int             `json:"first" sym:"f"`            // number of the first of them; 0 if none
	SpreadCentre unit.Mass       `json:"spread_centre" sym:"R_m"`  // mean of the ranges, deviations or moving ranges to expect; 0 g where none is plotted
	SpreadLow    unit.Mass       `json:"spread_low" sym:"R_low"`   // their lower limit, 0 g if it would be below
	SpreadHigh   unit.Mass       `json:"spread_high" sym:"R_high"` // their upper limit; 0 g where none is plotted
	Low          unit.Mass       `json:"low" sym:"low"`            // lower limit at the last point; 0 g on a cusum chart
	High         unit.Mass       `json:"high" sym:"high"`          // upper limit at the last point; 0 g on a cusum chart
	Conditions   Conditions      `json:"conditions"`               // out-of-control
	Cautions     reckon.Cautions `json:"cautions"`                 // moving-belt
}

func (ControlChart) ID() string { return "control-chart" }

func (q ControlChart) Check(c *reckon.Checks) {
	mark := c.Mark()
	q.Setup.Check(c)
	c.Under(mark, "setup")
	checkEach(c, "weighings", q.Weighings, 1)
	checkSubgroups(c, q.Weighings, q.LaneOf, q.Setup.SubgroupSize)
}

func (q ControlChart) Solve() (ControlChartResult, error) { return q.Append(nil) }

// Append is Solve with the points appended to dst.
func (q ControlChart) Append(dst []ChartPoint) (out ControlChartResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	return runChart(q.Setup, q.Weighings, dst), nil
}

func (q ControlChart) Show(w *reckon.Working, out ControlChartResult) {
	out.Points = out.Points[len(out.Points)-len(q.Weighings)/q.Setup.SubgroupSize:] // the rest was the caller's
	w.Inputs(q)
	w.Lines(out, q.Setup.subgroupLines(len(out.Points))...)
	if q.Setup.averages() {
		q.Setup.showConstants(w)
	}
	q.Setup.showLimits(w, out, out)
}

// runChart plots weighings that have been checked.
func runChart(setup ChartSetup, x []unit.Mass, dst []ChartPoint) ControlChartResult {
	watch := Watch{setup: setup, limits: setup.limits()}
	out := ControlChartResult{Points: dst, SpreadCentre: watch.limits.centre, SpreadLow: watch.limits.low, SpreadHigh: watch.limits.high, Cautions: reckon.MovingBelt}
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
				out.First = p.Point
			}
		}
	}
	return out
}

// subgroupLines say how the average and the spread of each subgroup come about
// from its pieces y.
func (s ChartSetup) subgroupLines(subgroups int) []string {
	var lines []string
	pieces := make([]string, s.SubgroupSize)
	for i := range subgroups {
		for j := range pieces {
			pieces[j] = "y_" + strconv.Itoa(i*s.SubgroupSize+j+1)
		}
		number := strconv.Itoa(i + 1)
		add := func(line string) { lines = append(lines, strings.ReplaceAll(line, "#", number)) }
		list := strings.Join(pieces, ", ")
		if s.SubgroupSize > 1 {
			add("average of subgroup #: x_# = (" + strings.Join(pieces, " + ") + ")/n")
		}
		if s.SubgroupSize == 1 {
			add("piece #: x_# = y_#")
		}
		switch {
		case s.Kind == ChartIndividuals && i > 0:
			add("moving range at piece #: R_# = abs(y_# - y_" + strconv.Itoa(i) + ")")
		case s.Kind == ChartAveragesDeviations:
			for j, y := range pieces {
				pieces[j] = "(" + y + " - x_#)*(" + y + " - x_#)"
			}
			add("standard deviation of subgroup #: R_# = sqrt((" + strings.Join(pieces, " + ") + ")/(n - 1))")
		case s.SubgroupSize > 1:
			add("range of subgroup #: R_# = max(" + list + ") - min(" + list + ")")
		}
	}
	return lines
}

// showConstants records what the spread of a subgroup of normal pieces is, in
// standard deviations of a piece.
func (s ChartSetup) showConstants(w *reckon.Working) {
	size := max(2, s.SubgroupSize) // of single pieces, two in a row
	if s.Kind == ChartAveragesDeviations {
		w.Given("mean standard deviation of a subgroup", "c4", meanOfSD(size), "", "chart-constants")
		return
	}
	w.Given("mean range of a subgroup", "d2", meanRange(size), "", "chart-constants")
	if s.averages() {
		w.Given("standard deviation of the range", "d3", sdRange(size), "", "chart-constants")
	}
}

// showLimits records the limits and what is compared with them. The chart is
// the answer itself, or a part of it.
func (s ChartSetup) showLimits(w *reckon.Working, answer any, chart ControlChartResult) {
	lines := []string{"standard error of a subgroup's average: e = s/sqrt(n) in g"}
	switch s.Kind {
	case ChartCUSUM:
		lines = append(lines, s.sumLines(len(chart.Points))...)
	case ChartEWMA:
		lines = append(lines, s.averageLines(len(chart.Points))...)
	case ChartAveragesDeviations:
		lines = append(lines,
			"mean standard deviation to expect: R_m = c4*s",
			"its lower limit: R_low = max(0, c4 - L*sqrt(1 - c4*c4))*s",
			"its upper limit: R_high = (c4 + L*sqrt(1 - c4*c4))*s",
		)
	default:
		lines = append(lines,
			"mean range to expect: R_m = d2*s",
			"its lower limit: R_low = max(0, d2 - L*d3)*s",
			"its upper limit: R_high = (d2 + L*d3)*s",
		)
	}
	if s.averages() {
		lines = append(lines, "lower limit: low = m - L*e", "upper limit: high = m + L*e")
	}
	if s.Kind != ChartEWMA {
		lines = append(lines, eachOf(len(chart.Points), "plotted at point #: W_# = "+s.value())...)
	}
	lines = append(lines, countLine("points that signal", "c", those("W_#", len(chart.Points), func(i int) bool { return chart.Points[i].Signals != 0 })))
	w.Lines(answer, lines...)
	w.Given("number of the first of them", "f", float64(chart.First), "", "as counted from 1; 0 for none")
}

// sumLines say how the sums of a cusum chart grow from point to point.
func (s ChartSetup) sumLines(points int) []string {
	var lines []string
	slack := ""
	if s.Slack > 0 {
		slack = " - k"
	}
	above, below := "", "" // the sums before
	for i := range points {
		number := strconv.Itoa(i + 1)
		for _, line := range [...]string{
			"distance of point # from the centre, in standard errors: z_# = (" + s.value() + " - m)/e",
			"sum above at point #: P_# = max(0, " + above + "z_#" + slack + ")",
			"sum below at point #: N_# = max(0, " + below + "-z_#" + slack + ")",
		} {
			lines = append(lines, strings.ReplaceAll(line, "#", number))
		}
		above, below = "P_"+number+" + ", "N_"+number+" + "
	}
	return lines
}

// averageLines say how the moving average and its limits go on from point to point.
func (s ChartSetup) averageLines(points int) []string {
	var lines []string
	before := "m"
	for i := range points {
		number := strconv.Itoa(i + 1)
		for _, line := range [...]string{
			"moving average at point #: W_# = a*" + s.value() + " + (1 - a)*" + before,
			"half-width of the limits at point #: U_# = L*e*sqrt(a/(2 - a)*(1 - pow(1 - a, 2*#))) in g",
			"lower limit at point #: low_# = m - U_#",
			"upper limit at point #: high_# = m + U_#",
		} {
			lines = append(lines, strings.ReplaceAll(line, "#", number))
		}
		before = "W_" + number
	}
	last := strconv.Itoa(points)
	return append(lines, "lower limit at the last point: low = low_"+last, "upper limit at the last point: high = high_"+last)
}

// value is the symbol of what is plotted of a subgroup: a single piece is its own average.
func (s ChartSetup) value() string {
	if s.SubgroupSize == 1 {
		return "y_#"
	}
	return "x_#"
}

// ewmaHalf returns the half-width of the moving average's limits at point i.
func ewmaHalf(s ChartSetup, i int) float64 {
	start := 1 - math.Pow(1-s.EwmaWeight, float64(2*i)) // grows to 1 as the chart forgets where it started
	return s.LimitWidth * s.standardError() * math.Sqrt(s.EwmaWeight/(2-s.EwmaWeight)*start)
}

// spreadLimits are those of ranges, deviations or moving ranges.
type spreadLimits struct{ centre, low, high unit.Mass }

func (s ChartSetup) limits() spreadLimits {
	var mean, scatter float64 // of the spread, in standard deviations of pieces
	switch s.Kind {
	case ChartAveragesRanges:
		mean, scatter = meanRange(s.SubgroupSize), sdRange(s.SubgroupSize)
	case ChartAveragesDeviations:
		mean = meanOfSD(s.SubgroupSize)
		scatter = math.Sqrt(1 - float64(mean*mean))
	case ChartIndividuals:
		mean, scatter = meanRange(2), sdRange(2)
	default:
		return spreadLimits{}
	}
	sd, half := float64(s.SD), float64(s.LimitWidth*scatter)
	return spreadLimits{unit.Mass(mean * sd), unit.Mass(max(0, mean-half) * sd), unit.Mass((mean + half) * sd)}
}

// SetUpChart asks for a control chart from the pieces of a run that was thought
// steady, and whether it was: phase I.
//
//	m = the mean of all pieces y_i,  N = their number / n subgroups
//	s = S / d2, with S the mean range R_i of the subgroups, or the mean moving range of two pieces
//	s = S / c4, with S the mean standard deviation R_i of the subgroups
//	R_m, R_low, R_high, low, high, x_i, W_i, low_i, high_i, P_i, N_i, c and f
//	for L, a, k and h as in control-chart
//
// Deviations are used by averages-deviations, moving ranges of two wherever the
// subgroup is a single piece, ranges by the rest. Only the scatter within
// subgroups counts, so that a mean that wanders does not widen its own limits.
//
// If the chart is out of control, its limits are not to be used yet: find each
// cause, leave out the subgroups it explains (and only those) and set the chart
// up again. It sets weigh-more below 20 subgroups: common practice takes 20 to
// 25. [ControlChart] is phase II.
//
// It is refused if:
//   - a choice is given to a chart that does not use it,
//   - there are fewer than two subgroups, or no whole number of them,
//   - the subgroups show no scatter,
//   - lane_of is given and differs from lane to lane or from the number of weighings.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control;
// NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.
type SetUpChart struct {
	Kind         ChartKind   `json:"kind"`                                                     // which chart
	SubgroupSize int         `json:"subgroup_size" sym:"n" range:"-"`                          // pieces in a subgroup, all of one lane; 1 for individuals, 2 to 25 for averages, 1 to 25 for the other two
	Weighings    []unit.Mass `json:"weighings" sym:"y_#" range:"1 mg..100 kg" items:"..20000"` // weights of single pieces in the order weighed, subgroup after subgroup; at least two subgroups, at most 20 000 weighings
	LaneOf       []int       `json:"lane_of,omitzero" range:"-" items:"..20000"`               // the lane of each weighing; they must all be one lane; leave out if they were not noted
	LimitWidth   float64     `json:"limit_width,omitzero" sym:"L" range:"0.5..6"`              // half-width of the limits in standard errors, usually 3; left out for cusum
	EwmaWeight   float64     `json:"ewma_weight,omitzero" sym:"a" range:"-"`                   // of the newest point in the moving average; above 0 to 1 for ewma, left out for others
	Slack        float64     `json:"slack,omitzero" sym:"k" range:"-"`                         // standard errors that each point is forgiven; 0 to 5 for cusum, left out for others
	Decision     float64     `json:"decision,omitzero" sym:"h" range:"-"`                      // sum at which the chart signals, in standard errors; above 0 to 50 for cusum, left out for others
	Rules        RunRules    `json:"rules"`                                                    // tests for patterns; "limits-only" for cusum and ewma
}

// SetUpChartResult is the chart and what it says about the pieces it was set up on.
type SetUpChartResult struct {
	Setup      ChartSetup         `json:"setup"`               // to be used by [ControlChart] and [Watch]
	Subgroups  int                `json:"subgroups" sym:"N"`   // subgroups that it rests on
	MeanSpread unit.Mass          `json:"mean_spread" sym:"S"` // mean range, standard deviation or moving range found
	Chart      ControlChartResult `json:"chart"`               // those subgroups on it
	Conditions Conditions         `json:"conditions"`          // out-of-control, weigh-more
	Cautions   reckon.Cautions    `json:"cautions"`            // moving-belt
}

func (SetUpChart) ID() string { return "set-up-chart" }

func (q SetUpChart) Check(c *reckon.Checks) { q.check(c) }

// check returns the chart and the mean spread within subgroups, which must not be zero.
func (q SetUpChart) check(c *reckon.Checks) (setup ChartSetup, spread float64) {
	setup = ChartSetup{Kind: q.Kind, SubgroupSize: q.SubgroupSize, LimitWidth: q.LimitWidth, EwmaWeight: q.EwmaWeight, Slack: q.Slack, Decision: q.Decision, Rules: q.Rules}
	setup.checkDesign(c)
	checkEach(c, "weighings", q.Weighings, 2*max(1, q.SubgroupSize))
	checkSubgroups(c, q.Weighings, q.LaneOf, q.SubgroupSize)
	if !c.OK() {
		return setup, 0
	}
	mean, _ := meanSD(q.Weighings)
	spread, divisor := q.meanSpread()
	setup.Centre, setup.SD = unit.Mass(mean), unit.Mass(spread/divisor)
	if !(setup.SD >= leastSD) {
		c.Fail("weighings", fmt.Sprintf("%d weighings without scatter within their subgroups", len(q.Weighings)), "weighings that differ: read them on a finer scale")
	}
	return setup, spread
}

func (q SetUpChart) Solve() (SetUpChartResult, error) { return q.Append(nil) }

// Append is Solve with the points appended to dst.
func (q SetUpChart) Append(dst []ChartPoint) (out SetUpChartResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	setup, spread := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out = SetUpChartResult{
		Setup: setup, Subgroups: len(q.Weighings) / q.SubgroupSize, MeanSpread: unit.Mass(spread),
		Chart: runChart(setup, q.Weighings, dst),
	}
	out.Conditions = out.Chart.Conditions
	if out.Subgroups < fewestSetupSubgroups {
		out.Conditions |= WeighMore
	}
	out.Cautions = reckon.MovingBelt
	return out, nil
}

func (q SetUpChart) Show(w *reckon.Working, out SetUpChartResult) {
	points := out.Chart.Points
	out.Chart.Points = points[len(points)-out.Subgroups:] // the rest was the caller's
	w.Inputs(q)
	w.Lines(out, "weighings: M = count(y_#...)", "subgroups: N = M/n", "mean of all pieces: m = sum(y_#)/M")
	w.Lines(out, out.Setup.subgroupLines(out.Subgroups)...)
	out.Setup.showConstants(w)
	mean, divisor := "mean range of the subgroups: S = sum(R_#)/N", "d2"
	switch {
	case q.SubgroupSize == 1:
		var moves []string
		for i := 1; i < out.Subgroups; i++ {
			moves = append(moves, "abs(y_"+strconv.Itoa(i+1)+" - y_"+strconv.Itoa(i)+")")
		}
		mean = "mean moving range of two: S = (" + strings.Join(moves, " + ") + ")/(N - 1)"
	case q.Kind == ChartAveragesDeviations:
		mean, divisor = "mean standard deviation of the subgroups: S = sum(R_#)/N", "c4"
	}
	w.Lines(out, mean, "standard deviation of pieces: s = S/"+divisor+"  [within subgroups]")
	out.Setup.showLimits(w, out, out.Chart)
}

// meanSpread returns the mean spread within subgroups, and the same for
// standard normal pieces.
func (q SetUpChart) meanSpread() (mean, divisor float64) {
	x, sum, count := q.Weighings, 0.0, 0
	if q.SubgroupSize == 1 {
		for i := 1; i < len(x); i++ {
			sum += math.Abs(float64(x[i]) - float64(x[i-1]))
		}
		return sum / float64(len(x)-1), meanRange(2)
	}
	for ; len(x) >= q.SubgroupSize; x = x[q.SubgroupSize:] {
		var g subgroup
		for _, m := range x[:q.SubgroupSize] {
			g.add(m)
		}
		if q.Kind == ChartAveragesDeviations {
			sum += g.sd()
		} else {
			sum += g.span()
		}
		count++
	}
	if q.Kind == ChartAveragesDeviations {
		return sum / float64(count), meanOfSD(q.SubgroupSize)
	}
	return sum / float64(count), meanRange(q.SubgroupSize)
}
