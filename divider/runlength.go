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

// longestRunLength bounds what the equations can tell: above it the chance of a
// signal drowns in rounding.
const longestRunLength = 1e10

// RunLength asks how many points a chart takes on average to signal a change in
// the weight, and how many until it signals without cause:
//
//	averages, individuals:  R = 1 / (Phi(D - L) + Phi(-D - L)), R_0 = R at D = 0
//	cusum, upward:  R(z) = 1 + R(0) Phi(k - D - z) + integral of R(y) phi(y + k - D - z) over 0 to h
//	cusum, both:    1/R = 1/R_up + 1/R_down
//	ewma:           R(u) = 1 + 1/a * integral of R(y) phi((y - (1 - a) u)/a - D) over -c to c, c = L sqrt(a/(2-a))
//
// with the chart started at its centre and, for ewma, limits at their steady
// width. Points scatter normally and independently and the centre and the
// standard deviation are taken as known; estimated from few pieces, run lengths
// vary widely about these.
//
// The integral equations are solved at 64 Gauss-Legendre points.
//
// It is refused if:
//   - sides is "one" for ewma,
//   - limit_width, ewma_weight, slack or decision is given to a chart that does not use it,
//   - for ewma, limit_width is above 18 * sqrt(ewma_weight * (2 - ewma_weight)), where the equation loses its digits.
//
// Source: E. S. Page, Biometrika 41 (1954), 100-115 (integral equation); J. M.
// Lucas and R. B. Crosier, Technometrics 24 (1982), 199-205; J. M. Lucas and M.
// S. Saccucci, Technometrics 32 (1990), 1-12; values from R package spc.
type RunLength struct {
	Kind       ChartKind   `json:"kind"`                                         // which chart; the three that plot averages or single pieces count as one, with limits only
	ShiftInSD  float64     `json:"shift_in_sd" sym:"D" range:"-10..10"`          // move of the mean, in standard errors of a point (sd / sqrt(pieces in a subgroup))
	Sides      SampleSides `json:"sides"`                                        // "two" if the chart signals both ways, "one" if only upward; ewma: "two"
	LimitWidth float64     `json:"limit_width,omitzero" sym:"L" range:"0.5..6"`  // half-width of the limits in standard errors; for ewma of its own steady standard error; left out for cusum
	EwmaWeight float64     `json:"ewma_weight,omitzero" sym:"a" range:"0.02..1"` // of the newest point in the moving average; for ewma alone
	Slack      float64     `json:"slack,omitzero" sym:"k" range:"-"`             // standard errors that each point is forgiven; 0 to 5 for cusum, left out for others
	Decision   float64     `json:"decision,omitzero" sym:"h" range:"-"`          // sum at which the chart signals, in standard errors; 0.01 to 20 for cusum, left out for others
}

// RunLengthResult is how long the chart takes.
type RunLengthResult struct {
	FalseAlarm float64 `json:"false_alarm" sym:"R_0"` // points on average until the chart signals although nothing has moved
	RunLength  float64 `json:"run_length" sym:"R"`    // points on average until it signals the move
}

func (RunLength) ID() string { return "run-length" }

func (q RunLength) Check(c *reckon.Checks) {
	known := reckon.CheckWord(c, "kind", q.Kind, ChartAveragesRanges, ChartAveragesDeviations, ChartIndividuals, ChartCUSUM, ChartEWMA)
	reckon.CheckRange(c, "shift_in_sd", q.ShiftInSD, -10, 10)
	reckon.CheckEither(c, "sides", q.Sides, TwoSided, OneSided)
	if !known {
		return
	}
	if q.Kind == ChartEWMA && q.Sides == OneSided {
		c.Fail("sides", `"one"`, `"two" for an ewma chart`)
	}
	// limits reports whether the chart uses the value and can.
	limits := func(field string, used bool, v, low, high float64) bool {
		if used {
			return reckon.CheckRange(c, field, v, low, high)
		}
		if v != 0 {
			c.Fail(field, fmt.Sprintf("%g", v), "nothing: the "+string(q.Kind)+" chart does not use it")
		}
		return false
	}
	width := limits("limit_width", q.Kind != ChartCUSUM, q.LimitWidth, 0.5, 6)
	weight := limits("ewma_weight", q.Kind == ChartEWMA, q.EwmaWeight, 0.02, 1)
	if most := widestInSteps / 2 * math.Sqrt(q.EwmaWeight*(2-q.EwmaWeight)); width && weight && q.LimitWidth > most {
		c.Fail("limit_width", fmt.Sprintf("%g", q.LimitWidth), fmt.Sprintf("at most %.3g with that ewma_weight, above which the equation loses its digits: narrow the limits or give the newest point more weight", most))
	}
	limits("slack", q.Kind == ChartCUSUM, q.Slack, 0, 5)
	limits("decision", q.Kind == ChartCUSUM, q.Decision, 0.01, 20)
}

// Solve has no answer if a run length exceeds 1e10.
func (q RunLength) Solve() (out RunLengthResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	alarm, run := q.runLength(0), q.runLength(q.ShiftInSD)
	if !(alarm > 0 && alarm <= longestRunLength && run > 0 && run <= longestRunLength) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "run length",
			Wanted: "a chart that signals so seldom", High: "10 000 000 000 points", Advice: "narrow the limits or lower the decision",
		}
	}
	return RunLengthResult{FalseAlarm: alarm, RunLength: run}, nil
}

func (q RunLength) Show(w *reckon.Working, out RunLengthResult) {
	w.Inputs(q)
	if q.Kind == ChartCUSUM || q.Kind == ChartEWMA {
		w.Given("points until a false alarm", "R_0", out.FalseAlarm, "points", "integral equation")
		w.Given("points until the signal", "R", out.RunLength, "points", "integral equation")
		return
	}
	w.Lines(out,
		"share of points beyond one limit when nothing has moved: p_0 = normal(-L)  [normal distribution]",
		"share of points above the limit: p_a = normal(D - L)",
	)
	if q.Sides == OneSided {
		w.Lines(out,
			"points until a false alarm: R_0 = 1/p_0 in points",
			"points until the signal: R = 1/p_a in points",
		)
		return
	}
	w.Lines(out,
		"share of points below the limit: p_b = normal(-D - L)",
		"points until a false alarm: R_0 = 1/(2*p_0) in points",
		"points until the signal: R = 1/(p_a + p_b) in points",
	)
}

func (q RunLength) runLength(shift float64) float64 {
	switch q.Kind {
	case ChartCUSUM:
		up := cusumRun(q.Slack, q.Decision, shift)
		if q.Sides == OneSided {
			return up
		}
		// A side that hardly ever signals adds nothing, and its equation may
		// lose its digits: then it is left out of the sum.
		rate := 0.0
		for _, r := range [...]float64{up, cusumRun(q.Slack, q.Decision, -shift)} {
			if r >= 1 && r <= longestRunLength {
				rate += 1 / r
			}
		}
		return 1 / rate
	case ChartEWMA:
		return ewmaRun(q.EwmaWeight, q.LimitWidth, shift)
	}
	chance := normalBelow(shift - q.LimitWidth)
	if q.Sides == TwoSided {
		chance += normalBelow(-shift - q.LimitWidth)
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

// OperatingCurve asks, for changes in the weight, how likely the next subgroup
// on a chart of averages is to show nothing, and how many subgroups it takes
// until one signals:
//
//	b_i = Phi(L - D_i*sqrt(n)) - Phi(-L - D_i*sqrt(n))
//	R_i = 1 / (1 - b_i),  N_i = n * R_i
//
// with D_i the move in standard deviations of single pieces, for normal weights,
// limits taken as known and no run rules.
//
// Source: D. C. Montgomery, Introduction to Statistical Quality Control, and
// the printed curve of the piston-ring example.
type OperatingCurve struct {
	SubgroupSize int       `json:"subgroup_size" sym:"n" range:"1..25"`              // pieces in a subgroup
	LimitWidth   float64   `json:"limit_width" sym:"L" range:"0.5..6"`               // half-width of the limits in standard errors, usually 3
	Shifts       []float64 `json:"shifts" sym:"D_#" range:"-10..10" items:"1..1000"` // moves of the mean, in standard deviations of single pieces
}

// ShiftPoint is what one subgroup shows of one move.
type ShiftPoint struct {
	ShiftInSD  float64 `json:"shift_in_sd" sym:"D_#"` // move of the mean, in standard deviations of single pieces
	Missed     float64 `json:"missed" sym:"b_#"`      // chance that the next subgroup shows nothing, 0 to 1
	RunLength  float64 `json:"run_length" sym:"R_#"`  // subgroups on average until one signals
	MeanPieces float64 `json:"mean_pieces" sym:"N_#"` // pieces weighed by then, on average
}

// OperatingCurveResult is the curve.
type OperatingCurveResult struct {
	Points []ShiftPoint `json:"points"` // one for each move, in the order given
}

func (OperatingCurve) ID() string { return "operating-curve" }

func (q OperatingCurve) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "subgroup_size", q.SubgroupSize, 1, mostInSubgroup)
	reckon.CheckRange(c, "limit_width", q.LimitWidth, 0.5, 6)
	if len(q.Shifts) < 1 || len(q.Shifts) > 1000 {
		c.Fail("shifts", fmt.Sprintf("%d shifts", len(q.Shifts)), "1 to 1000 shifts")
	}
	for i, s := range q.Shifts {
		if !(math.Abs(s) <= 10) {
			c.Fail(fmt.Sprintf("shifts[%d]", i), fmt.Sprintf("%g", s), "-10 to 10")
		}
	}
}

func (q OperatingCurve) Solve() (OperatingCurveResult, error) { return q.Append(nil) }

// Append is Solve with the points appended to dst.
func (q OperatingCurve) Append(dst []ShiftPoint) (out OperatingCurveResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	n := float64(q.SubgroupSize)
	for _, s := range q.Shifts {
		within, beyond := q.shares(s)
		run := 1 / beyond
		dst = append(dst, ShiftPoint{ShiftInSD: s, Missed: within, RunLength: run, MeanPieces: n * run})
	}
	return OperatingCurveResult{Points: dst}, nil
}

// shares returns the share of averages within the limits and beyond them after
// a move. Each is found by itself, which keeps the digits of small chances.
func (q OperatingCurve) shares(shift float64) (within, beyond float64) {
	move := float64(math.Abs(shift) * math.Sqrt(float64(q.SubgroupSize))) // the curve is even
	return normalBelow(q.LimitWidth-move) - normalBelow(-q.LimitWidth-move), normalBelow(move-q.LimitWidth) + normalBelow(-q.LimitWidth-move)
}

func (q OperatingCurve) Show(w *reckon.Working, out OperatingCurveResult) {
	w.Inputs(q)
	for i, point := range out.Points[len(out.Points)-len(q.Shifts):] { // the rest was the caller's
		w.Item(i+1, point,
			"move in standard errors: d_# = abs(D_#)*sqrt(n)",
			"chance that a subgroup signals: p_# = normal(d_# - L) + normal(-d_# - L)  [normal distribution beyond the limits]",
			"chance that it shows nothing: b_# = 1 - p_#",
			"subgroups until one signals: R_# = 1/p_#",
			"pieces weighed by then: N_# = n*R_# in pieces",
		)
	}
}
