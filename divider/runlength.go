package divider

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/dough/doughmath/reckon"
)

// runLengthNodes is how many points stand for the state of a cusum or ewma
// chart. With 64 the reference run lengths come out to 6 digits and more.
const runLengthNodes = 64

// widestInSteps is how wide the limits of an ewma chart may be, in standard
// deviations of the step that one point can move it: against a solution at 300
// points, 64 keep 6 digits up to there and lose them soon after.
const widestInSteps = 36

// longestRunLength bounds what the equations can tell: beyond it the chance of a
// signal drowns in rounding.
const longestRunLength = 1e10

// RunLength returns how many points a chart takes on average to signal a move
// of the weight, and how many until it signals without cause:
//
//	averages, individuals:  1 / (Phi(shift - L) + Phi(-shift - L))
//	cusum, upward:  R(z) = 1 + R(0) Phi(k - shift - z) + integral of R(y) phi(y + k - shift - z) over 0 to h
//	cusum, both:    1/R = 1/R_up + 1/R_down
//	ewma:           R(u) = 1 + 1/a * integral of R(y) phi((y - (1 - a) u)/a - shift) over -c to c, c = L sqrt(a/(2-a))
//
// with the chart started at its centre and, for ewma, limits at their steady
// width. Points scatter normally and independently and the centre and the
// standard deviation are taken as known; estimated from few pieces, run lengths
// vary widely about these.
//
// The integral equations are solved at 64 Gauss-Legendre points.
//
// It returns an *[reckon.InputError] if:
//   - kind or sides is not named, shift is outside -10 to 10, or sides is "one" for ewma,
//   - width is outside 0.5 to 6, weight outside 0.02 to 1, slack outside 0 to 5 or decision outside 0 to 20,
//     or one is given to a chart that does not use it,
//   - for ewma, width is above 18 * sqrt(weight * (2 - weight)), where the equation loses its digits.
//
// It returns a *[reckon.NoSolutionError] if a run length is above 1e10.
//
// Source: E. S. Page, Biometrika 41 (1954), 100-115 (integral equation); J. M.
// Lucas and R. B. Crosier, Technometrics 24 (1982), 199-205; J. M. Lucas and M.
// S. Saccucci, Technometrics 32 (1990), 1-12; values from R package spc.
type RunLength struct {
	Kind     ChartKind   `json:"kind"`              // which chart; the three that plot averages or single pieces count as one, with limits only
	Shift    float64     `json:"shift"`             // move of the mean, in standard errors of a point (sd / sqrt(pieces in a subgroup)); -10 to 10
	Sides    SampleSides `json:"sides"`             // "two" if the chart signals both ways, "one" if only upward; ewma: "two"
	Width    float64     `json:"width,omitzero"`    // half-width of the limits in standard errors, 0.5 to 6; for ewma of its own steady standard error; 0 for cusum
	Weight   float64     `json:"weight,omitzero"`   // of the newest point in the moving average; 0.02 to 1 for ewma, 0 for others
	Slack    float64     `json:"slack,omitzero"`    // standard errors that each point is forgiven; 0 to 5 for cusum, 0 for others
	Decision float64     `json:"decision,omitzero"` // sum at which the chart signals, in standard errors; above 0 to 20 for cusum, 0 for others
}

func (RunLength) ID() string { return "run-length" }

// SHELL
func (q RunLength) Check(c *reckon.Checks) {
	_, err := explainRunLength(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q RunLength) Solve() (RunLengthResult, error) { return explainRunLength(q, nil) }

func (q RunLength) Show(w *reckon.Working, _ RunLengthResult) { _, _ = explainRunLength(q, w) }

// RunLengthResult is how long the chart takes.
type RunLengthResult struct {
	FalseAlarm float64 `json:"false_alarm"` // points on average until the chart signals although nothing has moved
	RunLength  float64 `json:"run_length"`  // points on average until it signals the move
}

func explainRunLength(in RunLength, w *reckon.Working) (out RunLengthResult, err error) {
	c := reckon.Checks{Func: "run-length"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return RunLengthResult{}, err
	}
	out = RunLengthResult{FalseAlarm: in.runLength(0), RunLength: in.runLength(in.Shift)}
	if !(out.FalseAlarm > 0 && out.FalseAlarm <= longestRunLength && out.RunLength > 0 && out.RunLength <= longestRunLength) {
		return RunLengthResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "run length",
			Wanted: "a chart that signals so seldom", High: "10 000 000 000 points", Advice: "narrow the limits or lower the decision",
		}
	}
	if w != nil {
		w.Given("move of the mean", "D", in.Shift, "", "in standard errors")
		if in.Kind == ChartCUSUM || in.Kind == ChartEWMA {
			w.Given("points until a false alarm", "R_0", out.FalseAlarm, "points", "integral equation")
			w.Given("points until the signal", "R", out.RunLength, "points", "integral equation")
		} else {
			w.Given("limits in standard errors", "L", in.Width, "", "")
			below, above := normalBelow(-in.Shift-in.Width), normalBelow(in.Shift-in.Width)
			w.Given("share of points above the limit", "p_a", above, "", "normal distribution at D - L")
			if in.Sides == TwoSided {
				w.Given("share of points below the limit", "p_b", below, "", "normal distribution at -D - L")
				w.Step("points until the signal", "R", "1/(p_a + p_b)", out.RunLength, "points", "")
			} else {
				w.Step("points until the signal", "R", "1/p_a", out.RunLength, "points", "")
			}
		}
	}
	return out, nil
}

func (in RunLength) check(c *reckon.Checks) {
	known := reckon.CheckWord(c, "kind", in.Kind, ChartAveragesRanges, ChartAveragesDeviations, ChartIndividuals, ChartCUSUM, ChartEWMA)
	reckon.CheckRange(c, "shift", in.Shift, -10, 10)
	reckon.CheckEither(c, "sides", in.Sides, TwoSided, OneSided)
	if !known {
		return
	}
	if in.Kind == ChartEWMA && in.Sides == OneSided {
		c.Fail("sides", `"one"`, `"two" for an ewma chart`)
	}
	limits := func(field string, used bool, v, low, high float64) {
		switch {
		case used:
			reckon.CheckRange(c, field, v, low, high)
		case v != 0:
			c.Fail(field, fmt.Sprintf("%g", v), "nothing: the "+string(in.Kind)+" chart does not use it")
		}
	}
	limits("width", in.Kind != ChartCUSUM, in.Width, 0.5, 6)
	limits("weight", in.Kind == ChartEWMA, in.Weight, 0.02, 1)
	if most := widestInSteps / 2 * math.Sqrt(in.Weight*(2-in.Weight)); in.Kind == ChartEWMA && in.Weight >= 0.02 && in.Weight <= 1 && in.Width > most && in.Width <= 6 {
		c.Fail("width", fmt.Sprintf("%g", in.Width), fmt.Sprintf("at most %.3g with that weight, beyond which the equation loses its digits: narrow the limits or give the newest point more weight", most))
	}
	limits("slack", in.Kind == ChartCUSUM, in.Slack, 0, 5)
	limits("decision", in.Kind == ChartCUSUM, in.Decision, 0.01, 20)
}

func (in RunLength) runLength(shift float64) float64 {
	switch in.Kind {
	case ChartCUSUM:
		up := cusumRun(in.Slack, in.Decision, shift)
		if in.Sides == OneSided {
			return up
		}
		// A side that hardly ever signals adds nothing, and its equation may
		// lose its digits: then it is left out of the sum.
		rate := 0.0
		for _, r := range [...]float64{up, cusumRun(in.Slack, in.Decision, -shift)} {
			if r >= 1 && r <= longestRunLength {
				rate += 1 / r
			}
		}
		return 1 / rate
	case ChartEWMA:
		return ewmaRun(in.Weight, in.Width, shift)
	}
	chance := normalBelow(shift - in.Width)
	if in.Sides == TwoSided {
		chance += normalBelow(-shift - in.Width)
	}
	return 1 / chance
}

// cusumRun returns the average run length of an upward cusum started at 0.
func cusumRun(k, h, shift float64) float64 {
	var y, weight [runLengthNodes]float64
	quad.Legendre{}.FixedLocations(y[:], weight[:], 0, h)
	var system linearSystem
	// Unknowns: R at the nodes, then R(0).
	row := func(i int, z float64) {
		for j := range runLengthNodes {
			system[i][j] = -weight[j] * normalDensity(y[j]+k-shift-z)
		}
		system[i][runLengthNodes] = -normalBelow(k - shift - z)
		system[i][i]++
		system[i][runLengthNodes+1] = 1
	}
	for i := range runLengthNodes {
		row(i, y[i])
	}
	row(runLengthNodes, 0)
	return system.solveLast()
}

// ewmaRun returns the average run length of an ewma chart started at its centre.
func ewmaRun(a, width, shift float64) float64 {
	edge := width * math.Sqrt(a/(2-a))
	var y, weight [runLengthNodes]float64
	quad.Legendre{}.FixedLocations(y[:], weight[:], -edge, edge)
	var system linearSystem
	row := func(i int, u float64) {
		for j := range runLengthNodes {
			system[i][j] = -weight[j] / a * normalDensity((y[j]-float64((1-a)*u))/a-shift)
		}
		system[i][i]++
		system[i][runLengthNodes+1] = 1
	}
	for i := range runLengthNodes {
		row(i, y[i])
	}
	row(runLengthNodes, 0)
	return system.solveLast()
}

// linearSystem holds one equation for each unknown, with the right side last.
type linearSystem [runLengthNodes + 1][runLengthNodes + 2]float64

// solveLast returns the last unknown, by elimination with row exchange. The
// system is small and fixed in size: so it stays off the heap.
func (s *linearSystem) solveLast() float64 {
	const n = runLengthNodes + 1
	for col := range n {
		pivot := col
		for r := col + 1; r < n; r++ {
			if math.Abs(s[r][col]) > math.Abs(s[pivot][col]) {
				pivot = r
			}
		}
		s[col], s[pivot] = s[pivot], s[col]
		for r := col + 1; r < n; r++ {
			f := s[r][col] / s[col][col]
			if f == 0 {
				continue
			}
			for j := col; j <= n; j++ {
				s[r][j] -= float64(f * s[col][j])
			}
		}
	}
	return s[n-1][n] / s[n-1][n-1]
}

// OperatingCurve returns, for moves of the weight, the chance that the next
// subgroup on a chart of averages shows nothing, and how many it takes:
//
//	missed = Phi(L - D*sqrt(n)) - Phi(-L - D*sqrt(n))
//	run length = 1 / (1 - missed)
//
// with D the move in standard deviations of single pieces, for normal weights,
// limits taken as known and no run rules. Points are appended to dst, which may
// be nil.
//
// It returns an *[reckon.InputError] if:
//   - size is outside 1 to 25 or width outside 0.5 to 6,
//   - there are no shifts or more than 1000, or one is outside -10 to 10.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control, and
// the printed curve of the piston-ring example.
type OperatingCurve struct {
	Size   int       `json:"size"`   // pieces in a subgroup; 1 to 25
	Width  float64   `json:"width"`  // half-width of the limits in standard errors, usually 3; 0.5 to 6
	Shifts []float64 `json:"shifts"` // moves of the mean, in standard deviations of single pieces; 1 to 1000 of them, each -10 to 10
}

func (OperatingCurve) ID() string { return "operating-curve" }

// SHELL
func (q OperatingCurve) Check(c *reckon.Checks) {
	_, err := explainOperatingCurve(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q OperatingCurve) Solve() (OperatingCurveResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q OperatingCurve) Append(dst []ShiftPoint) (OperatingCurveResult, error) {
	return explainOperatingCurve(q, dst, nil)
}

func (q OperatingCurve) Show(w *reckon.Working, _ OperatingCurveResult) {
	_, _ = explainOperatingCurve(q, nil, w)
}

// ShiftPoint is what one subgroup tells of one move.
type ShiftPoint struct {
	Shift     float64 `json:"shift"`      // move of the mean, in standard deviations of single pieces
	Missed    float64 `json:"missed"`     // chance that the next subgroup shows nothing, 0 to 1
	RunLength float64 `json:"run_length"` // subgroups on average until one signals
	Pieces    float64 `json:"pieces"`     // pieces weighed by then, on average
}

// OperatingCurveResult is the curve.
type OperatingCurveResult struct {
	Points []ShiftPoint `json:"points"` // one for each move, in the order given
}

func explainOperatingCurve(in OperatingCurve, dst []ShiftPoint, w *reckon.Working) (out OperatingCurveResult, err error) {
	c := reckon.Checks{Func: "operating-curve"}
	reckon.CheckCount(&c, "size", in.Size, 1, mostInSubgroup)
	reckon.CheckRange(&c, "width", in.Width, 0.5, 6)
	if len(in.Shifts) < 1 || len(in.Shifts) > 1000 {
		c.Fail("shifts", fmt.Sprintf("%d shifts", len(in.Shifts)), "1 to 1000 shifts")
	}
	for i, s := range in.Shifts {
		if !(math.Abs(s) <= 10) {
			c.Fail(fmt.Sprintf("shifts[%d]", i), fmt.Sprintf("%g", s), "-10 to 10")
		}
	}
	if err := c.Err(); err != nil {
		return OperatingCurveResult{}, err
	}
	out = OperatingCurveResult{Points: dst}
	n := float64(in.Size)
	for _, s := range in.Shifts {
		move := math.Abs(s) * math.Sqrt(n) // the curve is even; this side keeps the digits of small chances
		missed := normalBelow(in.Width-float64(move)) - normalBelow(-in.Width-float64(move))
		run := 1 / (normalBelow(float64(move)-in.Width) + normalBelow(-in.Width-float64(move)))
		out.Points = append(out.Points, ShiftPoint{Shift: s, Missed: missed, RunLength: run, Pieces: n * run})
	}
	if w != nil {
		last := out.Points[len(out.Points)-1]
		w.Given("pieces in a subgroup", "n", n, "pieces", "")
		w.Given("chance that a subgroup shows nothing", "b", last.Missed, "", "normal distribution between the limits, last move")
		w.Given("subgroups until one signals", "R", last.RunLength, "", "1 / (1 - b), from the tails")
		w.Step("pieces weighed by then", "N", "n*R", last.Pieces, "pieces", "")
	}
	return out, nil
}
