package divider

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// TrialPlan asks which marks to weigh, in which order and with how many pieces
// each, so that the mean weight at a mark is known as well as wanted:
//
//	N    = M * R    f = N - 2
//	t    = Student's t, two-sided at C, for f degrees of freedom
//	x_i  = x_l + (x_h - x_l) * (i - 1)/(M - 1)
//	S_xx = R * sum((x_i - x_m)^2)    x_m = (x_l + x_h)/2
//	v    = 1/N + u^2/S_xx    u = x - x_m
//	k    = max(1, ceil((t*s/h)^2 * v))
//	P    = N * k
//	r    = t * s * sqrt(v / k)    r_m = r / |b|
//
// For a curve f is N - 3, and v has the bend's term besides, as in [Calibration]:
//
//	S_qq = R * sum(((x_i - x_m)^2 - S_xx/N)^2)
//	v    = 1/N + u^2/S_xx + (u^2 - S_xx/N)^2 / S_qq
//
// Fit the result with the weighting "by-pieces".
//
// It holds if the scatter is from piece to piece, and of the size given.
//
// It is refused if:
//   - mark_count and rounds together leave no degree of freedom,
//   - slope is 0.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 4.5.1 (interval of a fitted value).
type TrialPlan struct {
	Shape      Shape        `json:"shape"`                                   // the curve that is to be fitted
	Confidence unit.Percent `json:"confidence" sym:"C" range:"50 %..99.9 %"` // for the interval
	MarkLow    float64      `json:"mark_low" sym:"x_l" range:"-1e9..1e9"`    // lowest mark to weigh: as low as gives useful pieces, since widely spread marks fix the slope
	MarkHigh   float64      `json:"mark_high" sym:"x_h" range:"-"`           // highest mark to weigh, above mark_low, up to 1e9
	MarkCount  int          `json:"mark_count" sym:"M" range:"2..50"`        // different marks, evenly spread from low to high; 3 or more for a curve. One more than that tests the shape
	Rounds     int          `json:"rounds" sym:"R" range:"1..50"`            // times that every mark is weighed; mark_count * rounds must be at least one more than the coefficients. An even number cancels a steady drift of the dough
	RunMark    float64      `json:"run_mark" sym:"x" range:"-"`              // the mark that the product will run at, roughly; from mark_low to mark_high
	PieceSD    unit.Mass    `json:"piece_sd" sym:"s" range:">0 g..1000 t"`   // standard deviation of single pieces, from an earlier sample
	HalfWidth  unit.Mass    `json:"half_width" sym:"h" range:">0 g..1000 t"` // how well the mean weight at that mark is to be known
	Slope      unit.Mass    `json:"slope" sym:"b" range:"-"`                 // weight of one mark, roughly, from an earlier fit or two weighings; 0.000001 mg to 1000 t, or the same below 0
}

// TrialMark is one weighing of the plan.
type TrialMark struct {
	Mark   float64 `json:"mark" sym:"x_#"` // where to set the handle
	Pieces int     `json:"pieces"`         // how many pieces to weigh there
}

// TrialPlanResult is the plan.
type TrialPlanResult struct {
	PiecesEach       int             `json:"pieces_each" sym:"k"`        // pieces to weigh at each trial
	Pieces           int             `json:"pieces" sym:"P"`             // pieces in all
	DegreesOfFreedom int             `json:"degrees_of_freedom" sym:"f"` // left to judge the fit by
	Reaches          unit.Mass       `json:"reaches" sym:"r"`            // half width of the interval that the plan achieves, in weight
	ReachesMarks     float64         `json:"reaches_marks" sym:"r_m"`    // the same in marks
	Trials           []TrialMark     `json:"trials"`                     // the weighings in their order: up the scale, then down it, so that a steady drift of the dough is not taken for a slope
	Cautions         reckon.Cautions `json:"cautions"`                   // moving-machinery, moving-belt
}

func (TrialPlan) ID() string { return "trial-plan" }

func (q TrialPlan) Check(c *reckon.Checks) {
	start := c.Mark()
	reckon.CheckEither(c, "shape", q.Shape, Straight, Quadratic)
	reckon.CheckRange(c, "confidence", q.Confidence, 50, 99.9)
	low := reckon.CheckRange(c, "mark_low", q.MarkLow, -maxMark, maxMark)
	// The sums below cannot separate marks closer than this.
	if reckon.CheckRange(c, "mark_high", q.MarkHigh, -maxMark, maxMark) && low && !(q.MarkHigh-q.MarkLow >= 1e-6*max(1, math.Abs(q.MarkLow))) {
		c.Fail("mark_high", strconv.FormatFloat(q.MarkHigh, 'g', 6, 64), "more than mark_low")
	} else if c.Mark() == start {
		reckon.CheckRange(c, "run_mark", q.RunMark, q.MarkLow, q.MarkHigh)
	}
	p := q.Shape.coefficients()
	if reckon.CheckCount(c, "mark_count", q.MarkCount, p, 50) && reckon.CheckCount(c, "rounds", q.Rounds, 1, 50) && q.MarkCount*q.Rounds <= p {
		c.Fail("rounds", strconv.Itoa(q.Rounds), "2 or more, or another mark: so few trials leave no degree of freedom")
	}
	reckon.CheckAbove(c, "piece_sd", q.PieceSD, maxWeight)
	reckon.CheckAbove(c, "half_width", q.HalfWidth, maxWeight)
	checkPerMark(c, "slope", q.Slope)
}

// Solve has no answer if more than 1000 pieces would be needed at each trial.
func (q TrialPlan) Solve() (TrialPlanResult, error) { return q.Append(nil) }

// Append is Solve with the trials appended to dst.
func (q TrialPlan) Append(dst []TrialMark) (out TrialPlanResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	t, v := q.student(), q.variance()
	needed := t * float64(q.PieceSD) / float64(q.HalfWidth)
	each := max(1, math.Ceil(needed*needed*v))
	if !(each <= 1000) {
		best := t * float64(q.PieceSD) * math.Sqrt(v/1000)
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "plan with up to 1000 pieces a trial",
			Wanted: "a mean known to " + q.HalfWidth.String(), Low: unit.Mass(best).String(),
			Advice: "take more rounds, or be content with a wider interval",
		}
	}
	n := q.MarkCount * q.Rounds
	out = TrialPlanResult{PiecesEach: int(each), Pieces: n * int(each), DegreesOfFreedom: n - q.Shape.coefficients(), Trials: dst}
	out.Reaches = unit.Mass(t * float64(q.PieceSD) * math.Sqrt(v/each))
	out.ReachesMarks = float64(out.Reaches) / math.Abs(float64(q.Slope))
	for round := range q.Rounds {
		for i := range q.MarkCount {
			if round%2 == 1 {
				i = q.MarkCount - 1 - i
			}
			out.Trials = append(out.Trials, TrialMark{Mark: q.mark(i), Pieces: out.PiecesEach})
		}
	}
	out.Cautions = reckon.MovingMachinery | reckon.MovingBelt
	return out, nil
}

func (q TrialPlan) Show(w *reckon.Working, out TrialPlanResult) {
	w.Inputs(q)
	// The first round has all marks.
	for i, trial := range out.Trials[len(out.Trials)-q.MarkCount*q.Rounds:][:q.MarkCount] {
		w.Item(i+1, trial, "mark #: x_# = x_l + (x_h - x_l)*(# - 1)/(M - 1)")
	}
	w.Lines(out,
		"trials: N = M*R",
		"degrees of freedom: f = N - "+strconv.Itoa(q.Shape.coefficients()),
	)
	w.Given("Student's t", "t", q.student(), "", "two-sided at C, for f degrees of freedom")
	w.Lines(out,
		"middle of the marks: x_m = (x_l + x_h)/2",
		"sum of squares of the marks: S_xx = R*sum(pow(x_# - x_m, 2))",
		"mark, less the middle: u = x - x_m",
	)
	if q.Shape == Quadratic {
		w.Lines(out,
			"sum of squares of the bend: S_qq = R*sum(pow(pow(x_# - x_m, 2) - S_xx/N, 2))  [orthogonal to the line]",
			"variance there, for one piece a trial: v = 1/N + u*u/S_xx + pow(u*u - S_xx/N, 2)/S_qq",
		)
	} else {
		w.Lines(out, "variance there, for one piece a trial: v = 1/N + u*u/S_xx")
	}
	w.Lines(out,
		"pieces at each trial: k = max(1, ceil(pow(t*s/h, 2)*v))",
		"pieces in all: P = N*k",
		"half width reached: r = t*s*sqrt(v/k)",
		"half width reached, in marks: r_m = r/abs(b)",
	)
}

// student returns Student's t for the confidence.
func (q *TrialPlan) student() float64 {
	df := q.MarkCount*q.Rounds - q.Shape.coefficients()
	return distuv.StudentsT{Sigma: 1, Nu: float64(df)}.Quantile(0.5 + float64(q.Confidence)/200)
}

func (q *TrialPlan) middle() float64 { return q.MarkLow + float64((q.MarkHigh-q.MarkLow)/2) }

// mark returns the i-th of the marks.
func (q *TrialPlan) mark(i int) float64 {
	return q.MarkLow + float64((q.MarkHigh-q.MarkLow)*float64(i)/float64(q.MarkCount-1))
}

// variance returns the variance of the fitted weight, for one piece a trial and
// a piece SD of 1. The marks lie evenly, so that the bend has no skew.
func (q *TrialPlan) variance() float64 {
	n := float64(q.MarkCount * q.Rounds)
	u := q.RunMark - q.middle()
	var s2, s4 float64
	for i := range q.MarkCount {
		x := q.mark(i) - q.middle()
		s2 += float64(float64(q.Rounds) * x * x)
	}
	v := 1/n + float64(u*u)/s2
	if q.Shape == Quadratic {
		for i := range q.MarkCount {
			x := q.mark(i) - q.middle()
			bend := float64(x*x) - s2/n
			s4 += float64(float64(q.Rounds) * bend * bend)
		}
		bend := float64(u*u) - s2/n
		v += float64(bend*bend) / s4
	}
	return v
}
