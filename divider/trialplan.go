package divider

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// TrialPlan returns which marks to weigh, in which order and with how many
// pieces each, appended to the caller's slice, so that the mean weight at a
// mark is known as well as wanted:
//
//	half width = t * piece SD * sqrt(v / pieces each)
//	v = 1/N + u^2/sum u_i^2 + ...    N = marks * rounds
//
// with t for N less the coefficients, u the mark less the mean of the marks,
// and the bend's term for a curve as in [Calibration]. Fit the result with the
// weighting "by-pieces".
//
// It holds if the scatter is from piece to piece, and of the size given.
//
// It returns an *[reckon.InputError] if:
//   - shape is not named, confidence not 50 to 99.9 %, a mark not -1e9 to 1e9 or low_mark not below high_mark,
//   - at does not lie from low_mark to high_mark,
//   - marks is not 2 (3 for a curve) to 50, rounds not 1 to 50, or both together leave no degree of freedom,
//   - piece_sd or half_width is not above 0 and up to 1000 t, or slope is 0 or beyond 1e9.
//
// It returns a *[reckon.NoSolutionError] if more than 1000 pieces would be needed at each trial.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 4.5.1 (interval of a fitted value).
type TrialPlan struct {
	Shape      Shape        `json:"shape"`      // "straight" or "quadratic"
	Confidence unit.Percent `json:"confidence"` // for the interval; 50 to 99.9 %
	LowMark    float64      `json:"low_mark"`   // lowest mark to weigh; -1e9 to 1e9. As low as pieces of use come out: spread tells the slope
	HighMark   float64      `json:"high_mark"`  // highest mark to weigh, above low_mark
	Marks      int          `json:"marks"`      // different marks, evenly spread from low to high; 2 (3 for a curve) to 50. One more than that tests the shape
	Rounds     int          `json:"rounds"`     // times that every mark is weighed; 1 to 50, and marks * rounds at least one more than the coefficients. An even number cancels a steady drift of the dough
	At         float64      `json:"at"`         // the mark that the product will run at, roughly; from low_mark to high_mark
	PieceSD    unit.Mass    `json:"piece_sd"`   // standard deviation of single pieces, from an earlier sample; above 0
	HalfWidth  unit.Mass    `json:"half_width"` // how well the mean weight at that mark is to be known; above 0
	Slope      float64      `json:"slope"`      // g for each mark, roughly, from an earlier fit or two weighings; not 0
}

func (TrialPlan) ID() string { return "trial-plan" }

// SHELL
func (q TrialPlan) Check(c *reckon.Checks) {
	_, err := explainTrialPlan(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TrialPlan) Solve() (TrialPlanResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q TrialPlan) Append(dst []TrialMark) (TrialPlanResult, error) {
	return explainTrialPlan(q, dst, nil)
}

func (q TrialPlan) Show(w *reckon.Working, _ TrialPlanResult) { _, _ = explainTrialPlan(q, nil, w) }

// TrialMark is one weighing of the plan.
type TrialMark struct {
	Mark   float64 `json:"mark"`   // where to set the handle
	Pieces int     `json:"pieces"` // how many pieces to weigh there
}

// TrialPlanResult is the plan.
type TrialPlanResult struct {
	PiecesEach       int         `json:"pieces_each"`        // pieces to weigh at each trial
	Pieces           int         `json:"pieces"`             // pieces in all
	DegreesOfFreedom int         `json:"degrees_of_freedom"` // left to judge the fit by
	Reaches          unit.Mass   `json:"reaches"`            // half width of the interval that the plan comes to, in weight
	ReachesMarks     float64     `json:"reaches_marks"`      // the same in marks
	Trials           []TrialMark `json:"trials"`             // the weighings in their order: up the scale, then down it, so that a steady drift of the dough does not pass for a slope
}

func explainTrialPlan(in TrialPlan, dst []TrialMark, w *reckon.Working) (out TrialPlanResult, err error) {
	c := reckon.Checks{Func: "trial-plan"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return TrialPlanResult{}, err
	}
	n := in.Marks * in.Rounds
	df := n - in.Shape.coefficients()
	t := distuv.StudentsT{Sigma: 1, Nu: float64(df)}.Quantile(0.5 + float64(in.Confidence)/200)
	v, s2, s4 := in.spread()
	needed := t * float64(in.PieceSD) / float64(in.HalfWidth)
	each := max(1, math.Ceil(needed*needed*v))
	if !(each <= 1000) {
		best := t * float64(in.PieceSD) * math.Sqrt(v/1000)
		return TrialPlanResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "plan with up to 1000 pieces a trial",
			Wanted: "a mean known to " + in.HalfWidth.String(), Low: unit.Mass(best).String(),
			Advice: "take more rounds, or be content with a wider interval",
		}
	}
	out = TrialPlanResult{PiecesEach: int(each), Pieces: n * int(each), DegreesOfFreedom: df, Trials: dst}
	out.Reaches = unit.Mass(t * float64(in.PieceSD) * math.Sqrt(v/each))
	out.ReachesMarks = float64(out.Reaches) / math.Abs(in.Slope)
	for round := range in.Rounds {
		for i := range in.Marks {
			if round%2 == 1 {
				i = in.Marks - 1 - i
			}
			out.Trials = append(out.Trials, TrialMark{Mark: in.mark(i), Pieces: out.PiecesEach})
		}
	}
	if w != nil {
		w.Given("trials", "N", float64(n), "", "marks times rounds")
		w.Given("Student's t", "t", t, "", "for N less the coefficients")
		w.Given("standard deviation of a piece", "s", float64(in.PieceSD), "g", "")
		w.Given("half width wanted", "h", float64(in.HalfWidth), "g", "")
		w.Given("sum of squares of the marks", "S_xx", s2, "", "about their mean")
		w.Given("mark, less the mean of the marks", "u", in.At-in.middle(), "", "")
		if in.Shape == Quadratic {
			w.Given("sum of squares of the bend", "S_qq", s4, "", "orthogonal to the line")
			w.Step("variance there, for one piece a trial", "v", "1/N + u*u/S_xx + pow(u*u - S_xx/N, 2)/S_qq", v, "", "")
		} else {
			w.Step("variance there, for one piece a trial", "v", "1/N + u*u/S_xx", v, "", "")
		}
		w.Step("pieces at each trial", "k", "max(1, ceil(pow(t*s/h, 2) * v))", each, "", "")
		w.Step("half width reached", "r", "t * s * sqrt(v / k)", float64(out.Reaches), "g", "")
	}
	return out, nil
}

func (in *TrialPlan) check(c *reckon.Checks) {
	reckon.CheckEither(c, "shape", in.Shape, Straight, Quadratic)
	reckon.CheckRange(c, "confidence", in.Confidence, 50, 99.9)
	reckon.CheckRange(c, "low_mark", in.LowMark, -maxMark, maxMark)
	// Marks closer than this are not told apart by the sums below.
	if reckon.CheckRange(c, "high_mark", in.HighMark, -maxMark, maxMark) && !(in.HighMark-in.LowMark >= 1e-6*max(1, math.Abs(in.LowMark))) {
		c.Fail("high_mark", strconv.FormatFloat(in.HighMark, 'g', 6, 64), "more than low_mark")
	} else if c.OK() {
		reckon.CheckRange(c, "at", in.At, in.LowMark, in.HighMark)
	}
	p := in.Shape.coefficients()
	if reckon.CheckCount(c, "marks", in.Marks, p, 50) && reckon.CheckCount(c, "rounds", in.Rounds, 1, 50) && in.Marks*in.Rounds <= p {
		c.Fail("rounds", strconv.Itoa(in.Rounds), "2 or more, or another mark: so few trials leave no degree of freedom")
	}
	reckon.CheckAbove(c, "piece_sd", in.PieceSD, maxWeight)
	reckon.CheckAbove(c, "half_width", in.HalfWidth, maxWeight)
	if !(math.Abs(in.Slope) >= 1e-9) || !(math.Abs(in.Slope) <= maxMark) {
		c.Fail("slope", strconv.FormatFloat(in.Slope, 'g', 6, 64), "g for each mark, 1e-9 to 1e9 or the same below 0")
	}
}

func (in *TrialPlan) middle() float64 { return in.LowMark + float64((in.HighMark-in.LowMark)/2) }

// mark returns the i-th of the marks.
func (in *TrialPlan) mark(i int) float64 {
	return in.LowMark + float64((in.HighMark-in.LowMark)*float64(i)/float64(in.Marks-1))
}

// spread returns the variance of the fitted weight, for one piece a trial and
// a piece SD of 1, and the sums of squares of the marks and of the bend. The
// marks lie evenly, so that the bend has no lopsided part.
func (in *TrialPlan) spread() (v, s2, s4 float64) {
	n := float64(in.Marks * in.Rounds)
	u := in.At - in.middle()
	for i := range in.Marks {
		x := in.mark(i) - in.middle()
		s2 += float64(float64(in.Rounds) * x * x)
	}
	v = 1/n + float64(u*u)/s2
	if in.Shape == Quadratic {
		for i := range in.Marks {
			x := in.mark(i) - in.middle()
			q := float64(x*x) - s2/n
			s4 += float64(float64(in.Rounds) * q * q)
		}
		q := float64(u*u) - s2/n
		v += float64(q*q) / s4
	}
	return v, s2, s4
}
