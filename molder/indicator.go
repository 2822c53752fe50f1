package molder

import (
	"fmt"
	"math"

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
	Number float64     `json:"number"` // as the indicator shows it, -10000 to 10000
	Gap    unit.Length `json:"gap"`    // measured, 0 to 1000 mm
}

// An IndicatorScale is the measured list of one pair of rollers.
type IndicatorScale struct {
	Points []IndicatorPoint `json:"points"` // in the order of their numbers, at least two; for the table the gap must rise or fall all the way
	Method ScaleMethod      `json:"method"` // "table" or "line"
}

// given reports whether there is a scale at all.
func (s IndicatorScale) given() bool { return len(s.Points) > 0 || s.Method != "" }

// check takes the names of both fields whole, so that nothing is put together while all is well.
func (s IndicatorScale) check(c *reckon.Checks, method, points string) {
	ok := reckon.CheckEither(c, method, s.Method, ByTable, ByLine)
	if checkPoints(c, points, s.Points, s.Method == ByTable) && ok && s.Method == ByLine && fitLine(s.Points).slope == 0 {
		c.Fail(points, "a list without slope", "gaps that change with the number")
	}
}

func checkPoints(c *reckon.Checks, field string, points []IndicatorPoint, ordered bool) bool {
	if len(points) < 2 {
		c.Fail(field, fmt.Sprintf("%d long", len(points)), "at least two measured points")
		return false
	}
	ok := true
	for i, p := range points {
		if !(math.Abs(p.Number) <= largestNumber) {
			ok = reckon.CheckRange(c, fmt.Sprintf("%s[%d].number", field, i), p.Number, -largestNumber, largestNumber)
		}
		if !(p.Gap >= 0 && p.Gap <= widestPoint) {
			ok = reckon.CheckRange(c, fmt.Sprintf("%s[%d].gap", field, i), p.Gap, 0, widestPoint)
		}
	}
	if !ok || !ordered {
		return ok
	}
	rising := points[1].Gap > points[0].Gap
	for i, p := range points[1:] {
		if before := points[i]; p.Number <= before.Number {
			c.Fail(fmt.Sprintf("%s[%d].number", field, i+1), number(p.Number), "more than "+number(before.Number)+" before it: list the numbers in their order")
			ok = false
		}
		if before := points[i]; p.Gap == before.Gap || (p.Gap > before.Gap) != rising {
			c.Fail(fmt.Sprintf("%s[%d].gap", field, i+1), p.Gap.String(), "a gap that goes on in the direction of those before it: measure it again")
			ok = false
		}
	}
	return ok
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

// IndicatorForGap returns the number at which a pair of rollers stands at the
// wanted gap, from gaps measured at known numbers:
//
//	number = n_0 + (gap - g_0) / slope
//
// on the straight line between the neighbouring points of the table, or on
// the line fitted through all of them (n_0 and g_0 are then the means). The
// table goes no further than its ends; the fitted line does, and says so.
//
// It returns an *[reckon.InputError] if:
//   - gap is outside 0.05 to 200 mm, or method is not named,
//   - points has fewer than two, a number outside -10000 to 10000, or a gap outside 0 to 1000 mm,
//   - the table is out of order or turns back, or the line has no slope.
//
// It returns a *[reckon.NoSolutionError] if the gap lies outside the table,
// or if the fitted line reaches it only beyond the numbers -10000 to 10000.
//
// Source: linear interpolation; least squares.
//
// The inverse is [GapForIndicator]; [IndicatorFit] shows how good the line is.
type IndicatorForGap struct {
	Gap    unit.Length      `json:"gap"`    // wanted gap, 0.05 to 200 mm
	Points []IndicatorPoint `json:"points"` // measured, in the order of their numbers, at least two; for the table the gap must rise or fall all the way
	Method ScaleMethod      `json:"method"` // "table" or "line"
}

func (IndicatorForGap) ID() string { return "indicator-for-gap" }

// SHELL
func (q IndicatorForGap) Check(c *reckon.Checks) {
	_, err := explainIndicatorForGap(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q IndicatorForGap) Solve() (IndicatorForGapResult, error) {
	return explainIndicatorForGap(q, nil)
}

func (q IndicatorForGap) Show(w *reckon.Working, _ IndicatorForGapResult) {
	_, _ = explainIndicatorForGap(q, w)
}

// IndicatorForGapResult is the number to set.
type IndicatorForGapResult struct {
	Number     float64         `json:"number"`     // at the indicator
	Conditions Conditions      `json:"conditions"` // extrapolated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery
}

func explainIndicatorForGap(in IndicatorForGap, w *reckon.Working) (IndicatorForGapResult, error) {
	c := reckon.Checks{Func: "indicator-for-gap"}
	reckon.CheckRange(&c, "gap", in.Gap, narrowestGap, widestGap)
	scale := IndicatorScale{Points: in.Points, Method: in.Method}
	scale.check(&c, "method", "points")
	if err := c.Err(); err != nil {
		return IndicatorForGapResult{}, err
	}
	n, segment, conditions, ok := scale.numberAt(float64(in.Gap))
	if !ok {
		return IndicatorForGapResult{}, scale.noNumber(c.Func, "number", in.Gap, narrowestGap, widestGap)
	}
	if w != nil {
		w.Given("gap", "g", float64(in.Gap), "mm", "")
		segment.explain(w)
		w.Step("number", "n", "n_0 + (g - g_0) / k", n, "", "")
	}
	return IndicatorForGapResult{Number: n, Conditions: conditions, Cautions: reckon.MovingMachinery}, nil
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

func (l line) explain(w *reckon.Working) {
	w.Given("number of the known point", "n_0", l.meanNumber, "", "measured list")
	w.Given("gap of the known point", "g_0", l.meanGap, "mm", "measured list")
	w.Given("gap for each number", "k", l.slope, "mm", "measured list")
}

// GapForIndicator returns the gap at a number of the indicator, from gaps
// measured at known numbers:
//
//	gap = g_0 + slope * (number - n_0)
//
// It is the inverse of [IndicatorForGap], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - number is outside -10000 to 10000,
//   - points or method is refused by [IndicatorForGap].
//
// It returns a *[reckon.NoSolutionError] if the number lies outside the
// table, or if the gap there is outside the 0.05 to 200 mm that [IndicatorForGap] takes.
//
// Source: linear interpolation; least squares.
type GapForIndicator struct {
	Number float64          `json:"number"` // at the indicator, -10000 to 10000
	Points []IndicatorPoint `json:"points"` // measured, in the order of their numbers, at least two; for the table the gap must rise or fall all the way
	Method ScaleMethod      `json:"method"` // "table" or "line"
}

func (GapForIndicator) ID() string { return "gap-for-indicator" }

// SHELL
func (q GapForIndicator) Check(c *reckon.Checks) {
	_, err := explainGapForIndicator(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GapForIndicator) Solve() (GapForIndicatorResult, error) {
	return explainGapForIndicator(q, nil)
}

func (q GapForIndicator) Show(w *reckon.Working, _ GapForIndicatorResult) {
	_, _ = explainGapForIndicator(q, w)
}

// GapForIndicatorResult is the gap at a number.
type GapForIndicatorResult struct {
	Gap        unit.Length `json:"gap"`        // between the rollers, 0.05 to 200 mm
	Conditions Conditions  `json:"conditions"` // extrapolated
}

func explainGapForIndicator(in GapForIndicator, w *reckon.Working) (GapForIndicatorResult, error) {
	c := reckon.Checks{Func: "gap-for-indicator"}
	reckon.CheckRange(&c, "number", in.Number, -largestNumber, largestNumber)
	scale := IndicatorScale{Points: in.Points, Method: in.Method}
	scale.check(&c, "method", "points")
	if err := c.Err(); err != nil {
		return GapForIndicatorResult{}, err
	}
	gap, segment, conditions, ok := scale.gapAt(in.Number)
	if !ok {
		return GapForIndicatorResult{}, scale.noGap(c.Func, in.Number)
	}
	if w != nil {
		w.Given("number", "n", in.Number, "", "")
		segment.explain(w)
		w.Step("gap", "g", "g_0 + k*(n - n_0)", gap, "mm", "")
	}
	return GapForIndicatorResult{Gap: unit.Length(gap), Conditions: conditions}, nil
}

// IndicatorFit returns the straight line through measured gaps by least squares, and how well they lie on it:
//
//	gap = zero + slope * number
//	scatter = sqrt(sum of squared misses / (points - 2))
//
// If the scatter is more than the gap may be off, read the list as a table.
//
// It returns an *[reckon.InputError] if:
//   - points has fewer than three, a number outside -10000 to 10000, or a gap outside 0 to 1000 mm,
//   - all numbers are the same.
//
// Source: least squares; NIST Statistical Reference Datasets, Norris; cases in testdata/cases/molder/indicator-fit.json.
//
// It calibrates [IndicatorForGap].
type IndicatorFit struct {
	Points []IndicatorPoint `json:"points"` // in any order, at least three with different numbers
}

func (IndicatorFit) ID() string { return "indicator-fit" }

// SHELL
func (q IndicatorFit) Check(c *reckon.Checks) {
	_, err := explainIndicatorFit(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q IndicatorFit) Solve() (IndicatorFitResult, error) { return explainIndicatorFit(q, nil) }

func (q IndicatorFit) Show(w *reckon.Working, _ IndicatorFitResult) { _, _ = explainIndicatorFit(q, w) }

// IndicatorFitResult is the straight line through them.
type IndicatorFitResult struct {
	Zero    float64     `json:"zero"`    // gap at the number 0 on the line, in mm; it may be below zero
	Slope   float64     `json:"slope"`   // mm of gap for each number
	Scatter unit.Length `json:"scatter"` // standard deviation of the measured gaps about the line
	Worst   int         `json:"worst"`   // index of the point farthest from the line
	Miss    unit.Length `json:"miss"`    // how far that one is off
}

func explainIndicatorFit(in IndicatorFit, w *reckon.Working) (out IndicatorFitResult, err error) {
	c := reckon.Checks{Func: "indicator-fit"}
	if len(in.Points) < 3 {
		c.Fail("points", fmt.Sprintf("%d long", len(in.Points)), "at least three measured points")
	} else {
		checkPoints(&c, "points", in.Points, false)
	}
	if err := c.Err(); err != nil {
		return IndicatorFitResult{}, err
	}
	l := fitLine(in.Points)
	if l.squares == 0 {
		c.Fail("points", "all at number "+number(l.meanNumber), "at least two different numbers")
		return IndicatorFitResult{}, c.Err()
	}
	out = IndicatorFitResult{
		Zero: l.meanGap - float64(l.slope*l.meanNumber), Slope: l.slope,
		Scatter: unit.Length(math.Sqrt(l.residuals / float64(len(in.Points)-2))),
	}
	for i, p := range in.Points {
		if miss := p.Gap - unit.Length(l.gap(p.Number)); math.Abs(float64(miss)) > math.Abs(float64(out.Miss)) {
			out.Worst, out.Miss = i, miss
		}
	}
	if w != nil {
		l.explain(w)
		w.Step("gap at number 0", "g_z", "g_0 - k*n_0", out.Zero, "mm", "")
		w.Given("sum of squared misses", "SS", l.residuals, "mm²", "least squares")
		w.Given("points", "n", float64(len(in.Points)), "", "")
		w.Step("scatter", "s", "sqrt(SS / (n - 2))", float64(out.Scatter), "mm", "")
	}
	return out, nil
}
