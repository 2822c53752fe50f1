package molder

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ScaleMethod is how a list of measured gaps is read between its numbers.
type ScaleMethod string

const (
	// ByTable joins neighbouring points by straight lines and goes no further than the list.
	ByTable ScaleMethod = "table"
	// ByLine fits one straight line through all points.
	ByLine ScaleMethod = "line"
)

// largestNumber bounds what an indicator shows; it catches slips, not unusual indicators.
const largestNumber = 10000

// widestPoint bounds what is measured at an indicator, also beyond the gaps that rollers are set to.
const widestPoint unit.Length = 1000

// An IndicatorPoint is a number at the indicator and the gap measured there.
type IndicatorPoint struct {
	Number float64     `json:"number" sym:"n_#" range:"-10000..10000"` // as the indicator shows it
	Gap    unit.Length `json:"gap" sym:"g_#" range:"0 mm..1 m"`        // measured
}

// Check requires a number and a gap that indicators show and rollers have.
func (p IndicatorPoint) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "number", p.Number, -largestNumber, largestNumber)
	reckon.CheckRange(c, "gap", p.Gap, 0, widestPoint)
}

// An IndicatorScale is the measured list of one pair of rollers.
type IndicatorScale struct {
	Points []IndicatorPoint `json:"points" items:"..10000"` // in the order of their numbers, at least two; for the table the gap must rise or fall all the way
	Method ScaleMethod      `json:"method"`                 // "table" or "line"
}

// given reports whether there is a scale at all.
func (s IndicatorScale) given() bool { return len(s.Points) > 0 || s.Method != "" }

// Check requires a list that can be read by its method.
func (s IndicatorScale) Check(c *reckon.Checks) {
	ok := reckon.CheckEither(c, "method", s.Method, ByTable, ByLine)
	if !checkPoints(c, s.Points, 2, "at least two measured points") || !ok {
		return
	}
	if s.Method == ByTable {
		checkTable(c, s.Points)
	} else if fitLine(s.Points).slope == 0 {
		c.Fail("points", "a list without slope", "gaps that change with the number")
	}
}

// checkPoints requires points of any order.
func checkPoints(c *reckon.Checks, points []IndicatorPoint, least int, want string) bool {
	if len(points) < least {
		c.Fail("points", strconv.Itoa(len(points))+" long", want)
		return false
	}
	start := c.Mark()
	reckon.CheckItems(c, "points", len(points), mostTrials)
	for i := range points {
		mark := c.Mark()
		points[i].Check(c)
		c.Item(mark, "points", i)
	}
	return c.Mark() == start
}

// checkTable requires numbers in their order and gaps that rise or fall all the way.
func checkTable(c *reckon.Checks, points []IndicatorPoint) {
	rising := points[1].Gap > points[0].Gap
	for i := 1; i < len(points); i++ {
		p, before := points[i], points[i-1]
		mark := c.Mark()
		if p.Number <= before.Number {
			c.Fail("number", number(p.Number), "more than "+number(before.Number)+" before it: list the numbers in their order")
		}
		if p.Gap == before.Gap || (p.Gap > before.Gap) != rising {
			c.Fail("gap", p.Gap.String(), "a gap that goes on in the same direction as those before it: measure it again")
		}
		c.Item(mark, "points", i)
	}
}

// A line is gap = intercept + slope * number, through the point of the means.
type line struct {
	meanNumber, meanGap, slope float64
	squares                    float64 // of the numbers about their mean
	residuals                  float64 // sum of the squared misses
}

func (l line) gap(n float64) float64 { return l.meanGap + float64(l.slope*(n-l.meanNumber)) }

func (l line) number(gap float64) float64 { return l.meanNumber + (gap-l.meanGap)/l.slope }

// fitLine fits by least squares, about the means so that nothing is lost.
// The slope is 0 if all numbers are the same.
func fitLine(points []IndicatorPoint) line {
	var l line
	count := float64(len(points))
	for _, p := range points {
		l.meanNumber += p.Number / count
		l.meanGap += float64(p.Gap) / count
	}
	var xy float64
	for _, p := range points {
		x := p.Number - l.meanNumber
		l.squares += float64(x * x)
		xy += float64(x * (float64(p.Gap) - l.meanGap))
	}
	if l.squares > 0 {
		l.slope = xy / l.squares
	}
	for _, p := range points {
		e := float64(p.Gap) - l.gap(p.Number)
		l.residuals += float64(e * e)
	}
	return l
}

// outside reports whether v lies beyond the ends of the list.
func outside(v, first, last float64) bool { return v < min(first, last) || v > max(first, last) }

// sameGap is how near a gap lies to the narrowest or widest one and still is that one: more than binary arithmetic
// leaves over, and less than any gauge shows. Otherwise the last number that a refusal names would be refused too.
const sameGap = 1e-9

// gapAt reads the gap at a number.
func (s IndicatorScale) gapAt(n float64) (gap float64, segment line, c Conditions, ok bool) {
	low, high := s.Points[0].Number, s.Points[0].Number
	for _, p := range s.Points {
		low, high = min(low, p.Number), max(high, p.Number)
	}
	segment, c, ok = s.segment(n < low || n > high, func(a, b IndicatorPoint) bool { return n >= a.Number && n <= b.Number })
	if !ok {
		return 0, segment, c, false
	}
	gap = segment.gap(n)
	for _, end := range [...]float64{float64(narrowestGap), float64(widestGap)} {
		if math.Abs(gap-end) < sameGap {
			gap = end
		}
	}
	return gap, segment, c, gap >= float64(narrowestGap) && gap <= float64(widestGap)
}

// numberAt reads the number at which the rollers stand at the gap.
func (s IndicatorScale) numberAt(gap float64) (n float64, segment line, c Conditions, ok bool) {
	low, high := float64(s.Points[0].Gap), float64(s.Points[0].Gap)
	for _, p := range s.Points {
		low, high = min(low, float64(p.Gap)), max(high, float64(p.Gap))
	}
	segment, c, ok = s.segment(gap < low || gap > high, func(a, b IndicatorPoint) bool { return !outside(gap, float64(a.Gap), float64(b.Gap)) })
	if !ok {
		return 0, segment, c, false
	}
	n = segment.number(gap)
	return n, segment, c, math.Abs(n) <= largestNumber
}

// segment returns the line to read on: the fitted one, or the one between the
// neighbours that hold picks.
func (s IndicatorScale) segment(beyond bool, hold func(a, b IndicatorPoint) bool) (line, Conditions, bool) {
	if s.Method == ByLine {
		var c Conditions
		if beyond {
			c = reckon.Extrapolated
		}
		return fitLine(s.Points), c, true
	}
	for i := 1; i < len(s.Points); i++ {
		if a, b := s.Points[i-1], s.Points[i]; hold(a, b) {
			return line{meanNumber: a.Number, meanGap: float64(a.Gap), slope: float64(b.Gap-a.Gap) / (b.Number - a.Number)}, 0, true
		}
	}
	return line{}, 0, false
}

// IndicatorForGap asks which indicator number gives the wanted gap, from gaps
// measured at known numbers:
//
//	n = n_0 + (g - g_0) / k
//	by the table: n_0 = n_i,  g_0 = g_i,  k = (g_(i+1) - g_i) / (n_(i+1) - n_i)
//	by the line: n_0 = sum(n_i) / p,  g_0 = sum(g_i) / p,  k = sum((n_i - n_0) * (g_i - g_0)) / sum((n_i - n_0)^2)
//
// The table is read on the straight line between the neighbours of the gap and
// goes no further than its ends; the line is fitted through all p points, goes
// on, and says so.
//
// It is refused if:
//   - points has fewer than two,
//   - the table is out of order or turns back, or the line has no slope.
//
// Source: linear interpolation; least squares.
//
// The inverse is [GapForIndicator]; [IndicatorFit] shows how good the line is.
type IndicatorForGap struct {
	Gap    unit.Length      `json:"gap" sym:"g" range:"0.05 mm..200 mm"` // wanted gap
	Points []IndicatorPoint `json:"points" items:"..10000"`              // measured, in the order of their numbers, at least two; for the table the gap must rise or fall all the way
	Method ScaleMethod      `json:"method"`                              // "table" or "line"
}

// IndicatorForGapResult is the number to set.
type IndicatorForGapResult struct {
	Number     float64         `json:"number" sym:"n"` // at the indicator
	Conditions Conditions      `json:"conditions"`     // extrapolated
	Cautions   reckon.Cautions `json:"cautions"`       // moving-machinery, roller-nip
}

func (IndicatorForGap) ID() string { return "indicator-for-gap" }

func (q IndicatorForGap) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "gap", q.Gap, narrowestGap, widestGap)
	q.scale().Check(c)
}

func (q IndicatorForGap) scale() IndicatorScale {
	return IndicatorScale{Points: q.Points, Method: q.Method}
}

// Solve has no answer if the gap lies outside the table, or if the fitted line
// reaches it only outside the numbers -10000 to 10000.
func (q IndicatorForGap) Solve() (out IndicatorForGapResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n, _, conditions, ok := q.scale().numberAt(float64(q.Gap))
	if !ok {
		return out, q.scale().noNumber(c.Func, "number", q.Gap, narrowestGap, widestGap)
	}
	return IndicatorForGapResult{Number: n, Conditions: conditions, Cautions: reckon.MovingMachinery | reckon.RollerNip}, nil
}

func (q IndicatorForGap) Show(w *reckon.Working, out IndicatorForGapResult) {
	w.Inputs(q)
	_, on, _, _ := q.scale().numberAt(float64(q.Gap))
	q.scale().show(w, nil, on)
	w.Lines(out, "number: n = n_0 + (g - g_0)/k")
}

// noNumber says which gaps, between low and high, have a number.
func (s IndicatorScale) noNumber(id, unknown string, gap, low, high unit.Length) error {
	none := &reckon.NoSolutionError{Func: id, Unknown: unknown, Wanted: "a gap of " + gap.String()}
	a, b := s.Points[0].Gap, s.Points[len(s.Points)-1].Gap
	none.Advice = s.ends() + "; measure further, or read it as a line"
	if s.Method == ByLine {
		l := fitLine(s.Points)
		a, b = unit.Length(l.gap(-largestNumber)), unit.Length(l.gap(largestNumber))
		none.Advice = "the fitted line reaches this gap at number " + number(l.number(float64(gap))) + ", and no indicator shows more than " + number(largestNumber) + "; measure the gaps again, farther apart"
	}
	if a, b = max(low, min(a, b)), min(high, max(a, b)); a <= b {
		none.Low, none.High = a.String(), b.String()
	}
	return none
}

// noGap says which numbers have a gap that rollers can have.
func (s IndicatorScale) noGap(id string, n float64) error {
	none := &reckon.NoSolutionError{Func: id, Unknown: "gap", Wanted: "the number " + number(n)}
	rollers := "rollers have gaps of " + narrowestGap.String() + " to " + widestGap.String()
	var low, high float64
	if s.Method == ByLine {
		l := fitLine(s.Points)
		a, b := l.number(float64(narrowestGap)), l.number(float64(widestGap))
		low, high = max(-largestNumber, min(a, b)), min(largestNumber, max(a, b))
		none.Advice = "the fitted line comes to " + unit.Length(l.gap(n)).String() + " there, and " + rollers + "; take a number nearer to those measured"
	} else {
		first, last := s.Points[0], s.Points[len(s.Points)-1]
		low, high = first.Number, last.Number
		none.Advice = s.ends() + "; measure further, or read it as a line"
		if n >= low && n <= high {
			none.Advice = rollers + ", and the list goes beyond them there; take another number"
		}
		for _, end := range [...]unit.Length{narrowestGap, widestGap} {
			at, _, _, ok := s.numberAt(float64(end))
			switch {
			case !ok:
			case (end == narrowestGap) == (first.Gap < last.Gap):
				low = at
			default:
				high = at
			}
		}
		if max(first.Gap, last.Gap) < narrowestGap || min(first.Gap, last.Gap) > widestGap {
			low, high = 1, 0 // no point has a gap that rollers can have
		}
	}
	if low <= high {
		none.Low, none.High = number(low), number(high)
	}
	return none
}

// ends says between which numbers the list lies.
func (s IndicatorScale) ends() string {
	return "the list of measured gaps goes from number " + number(s.Points[0].Number) + " to number " + number(s.Points[len(s.Points)-1].Number)
}

// show records the line that the scale was read on: n_0, g_0 and k.
func (s IndicatorScale) show(w *reckon.Working, answer any, on line) {
	if s.Method == ByLine {
		w.Lines(answer,
			"points: p = count(n_#...)",
			"mean of the numbers: n_0 = sum(n_#)/p",
			"mean of the gaps: g_0 = sum(g_#)/p in mm",
			"gap for each number: k = sum((n_# - n_0)*(g_# - g_0))/sum((n_# - n_0)*(n_# - n_0)) in mm  [least squares]")
		return
	}
	a, b := s.neighbours(on)
	w.Lines(answer,
		"number of the point before: n_0 = n_"+a,
		"gap of that point: g_0 = g_"+a+" in mm",
		"gap for each number: k = (g_"+b+" - g_"+a+")/(n_"+b+" - n_"+a+") in mm  [straight line between neighbours]")
}

// GapForIndicator asks what gap a number of the indicator gives, from gaps
// measured at known numbers:
//
//	g = g_0 + k * (n - n_0)
//	by the table: n_0 = n_i,  g_0 = g_i,  k = (g_(i+1) - g_i) / (n_(i+1) - n_i)
//	by the line: n_0 = sum(n_i) / p,  g_0 = sum(g_i) / p,  k = sum((n_i - n_0) * (g_i - g_0)) / sum((n_i - n_0)^2)
//
// It is the inverse of [IndicatorForGap], with the same validity.
//
// It is refused if points or method is refused by [IndicatorForGap].
//
// Source: linear interpolation; least squares.
//
// The inverse is [IndicatorForGap].
type GapForIndicator struct {
	Number float64          `json:"number" sym:"n" range:"-10000..10000"` // at the indicator
	Points []IndicatorPoint `json:"points" items:"..10000"`               // measured, in the order of their numbers, at least two; for the table the gap must rise or fall all the way
	Method ScaleMethod      `json:"method"`                               // "table" or "line"
}

// GapForIndicatorResult is the gap at a number.
type GapForIndicatorResult struct {
	Gap        unit.Length     `json:"gap" sym:"g"` // between the rollers
	Conditions Conditions      `json:"conditions"`  // extrapolated
	Cautions   reckon.Cautions `json:"cautions"`    // roller-nip
}

func (GapForIndicator) ID() string { return "gap-for-indicator" }

func (q GapForIndicator) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "number", q.Number, -largestNumber, largestNumber)
	q.scale().Check(c)
}

func (q GapForIndicator) scale() IndicatorScale {
	return IndicatorScale{Points: q.Points, Method: q.Method}
}

// Solve has no answer if the number lies outside the table, or if the gap
// there is outside the 0.05 mm to 200 mm that [IndicatorForGap] takes.
func (q GapForIndicator) Solve() (out GapForIndicatorResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	gap, _, conditions, ok := q.scale().gapAt(q.Number)
	if !ok {
		return out, q.scale().noGap(c.Func, q.Number)
	}
	return GapForIndicatorResult{Gap: unit.Length(gap), Conditions: conditions, Cautions: reckon.RollerNip}, nil
}

// neighbours numbers the points of the table that on joins.
func (s IndicatorScale) neighbours(on line) (before, after string) {
	i := slices.IndexFunc(s.Points, func(p IndicatorPoint) bool { return p.Number == on.meanNumber })
	return strconv.Itoa(i + 1), strconv.Itoa(i + 2)
}

// showPair is show for one of several pairs of rollers, "1" or "2": its symbols are n_01, g_01 and k_1.
func (s IndicatorScale) showPair(w *reckon.Working, on line, pair string) {
	for i, p := range s.Points {
		n := strconv.Itoa(i + 1)
		w.Given("number of point "+n+" of pair "+pair, "y_"+pair+"_"+n, p.Number, "", "")
		w.Given("gap of point "+n+" of pair "+pair, "x_"+pair+"_"+n, float64(p.Gap), "mm", "")
	}
	of := strings.NewReplacer("@", pair)
	if s.Method == ByLine {
		w.Lines(nil,
			of.Replace("points of pair @: p_@ = count(y_@_#...)"),
			of.Replace("mean of their numbers: n_0@ = sum(y_@_#)/p_@"),
			of.Replace("mean of their gaps: g_0@ = sum(x_@_#)/p_@ in mm"),
			of.Replace("gap for each number of pair @: k_@ = sum((y_@_# - n_0@)*(x_@_# - g_0@))/sum((y_@_# - n_0@)*(y_@_# - n_0@)) in mm  [least squares]"))
		return
	}
	a, b := s.neighbours(on)
	w.Lines(nil,
		of.Replace("number of the point before: n_0@ = y_@_"+a),
		of.Replace("gap of that point: g_0@ = x_@_"+a+" in mm"),
		of.Replace("gap for each number of pair @: k_@ = (x_@_"+b+" - x_@_"+a+")/(y_@_"+b+" - y_@_"+a+") in mm  [straight line between neighbours]"))
}

func (q GapForIndicator) Show(w *reckon.Working, out GapForIndicatorResult) {
	w.Inputs(q)
	_, on, _, _ := q.scale().gapAt(q.Number)
	q.scale().show(w, nil, on)
	w.Lines(out, "gap: g = g_0 + k*(n - n_0)")
}

// IndicatorFit asks how well measured gaps lie on a straight line, fitted by
// least squares:
//
//	g = g_z + k * n
//	n_0 = sum(n_i) / p,  g_0 = sum(g_i) / p,  k = sum((n_i - n_0) * (g_i - g_0)) / sum((n_i - n_0)^2)
//	e_i = g_i - g_z - k * n_i
//	s = sqrt(sum(e_i^2) / (p - 2))
//	e = e_i of the point j that is farthest from the line
//
// with p points; j is counted from 0. If the standard deviation s exceeds what
// the gap may be off, read the list as a table.
//
// It is refused if:
//   - points has fewer than three,
//   - all numbers are the same.
//
// Source: least squares; NIST Statistical Reference Datasets, Norris; cases in testdata/cases/molder/indicator-fit.json.
//
// It calibrates [IndicatorForGap].
type IndicatorFit struct {
	Points []IndicatorPoint `json:"points" items:"..10000"` // in any order, at least three with different numbers
}

// IndicatorFitResult is the straight line through them.
type IndicatorFitResult struct {
	Zero     unit.Length     `json:"zero" sym:"g_z"` // gap at the number 0 on the line; it may be below zero
	Slope    unit.Length     `json:"slope" sym:"k"`  // gap for each number
	SD       unit.Length     `json:"sd" sym:"s"`     // standard deviation of the measured gaps about the line
	Worst    int             `json:"worst" sym:"j"`  // index of the point farthest from the line
	Miss     unit.Length     `json:"miss" sym:"e"`   // how far that one is off
	Cautions reckon.Cautions `json:"cautions"`       // roller-nip
}

func (IndicatorFit) ID() string { return "indicator-fit" }

func (q IndicatorFit) Check(c *reckon.Checks) { q.check(c) }

// check returns the line, which points at a single number do not have.
func (q IndicatorFit) check(c *reckon.Checks) (l line) {
	if !checkPoints(c, q.Points, 3, "at least three measured points") {
		return l
	}
	l = fitLine(q.Points)
	if l.squares == 0 {
		c.Fail("points", "all at number "+number(l.meanNumber), "at least two different numbers")
	}
	return l
}

func (q IndicatorFit) Solve() (out IndicatorFitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	l := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.Zero, out.Slope = unit.Length(l.meanGap-float64(l.slope*l.meanNumber)), unit.Length(l.slope)
	out.SD = unit.Length(math.Sqrt(l.residuals / float64(len(q.Points)-2)))
	for i, p := range q.Points {
		if miss := p.Gap - unit.Length(l.gap(p.Number)); math.Abs(float64(miss)) > math.Abs(float64(out.Miss)) {
			out.Worst, out.Miss = i, miss
		}
	}
	out.Cautions = reckon.RollerNip
	return out, nil
}

func (q IndicatorFit) Show(w *reckon.Working, out IndicatorFitResult) {
	w.Inputs(q)
	IndicatorScale{Points: q.Points, Method: ByLine}.show(w, out, line{})
	w.Lines(out, "gap at number 0: g_z = g_0 - k*n_0 in mm")
	for i := range q.Points {
		w.Item(i+1, nil, "miss of point #: e_# = g_# - g_0 - k*(n_# - n_0) in mm")
	}
	w.Lines(out,
		"standard deviation: s = sqrt(sum(e_#*e_#)/(p - 2))",
		"point farthest from the line, counted from 0: j = "+strconv.Itoa(out.Worst),
		"its miss: e = e_"+strconv.Itoa(out.Worst+1))
}
