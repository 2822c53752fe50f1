package divider

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// GrowthBasis names where the growth of the dough in the hopper is from.
type GrowthBasis string

const (
	// Measured is the growth that [HopperGrowth] finds in weighings on the line.
	Measured GrowthBasis = "measured"
	// Estimated is any other figure, such as [EstimatedGrowth].
	Estimated GrowthBasis = "estimated"
)

// EstimatedGrowth is a first figure for the growth of a yeasted dough, in
// percent of its volume a minute: one dough grew to 181 % within its first
// hour of fermentation, at air pressure. In a chamber the gas is pressed together:
// multiply by air pressure over chamber pressure, both absolute. Young dough in a
// cool hopper grows less still: weigh and find out with [HopperGrowth].
//
// Source: Bourekoua et al., Agrobiologia 12 (2022) 3184, abstract.
const EstimatedGrowth = 81.13 / 60

// maxGrowth bounds the growth, in percent a minute.
const maxGrowth = 100

// WeightDrift returns how piece weight falls as a batch gasses in the hopper,
// and when to move the mark, appended to the caller's slice:
//
//	weight(t) = start / (1 + g*t)
//	move j at t_j = (R^j - 1) / g    R = start / (start - limit)
//
// with g the growth of the dough's volume. Gas is made at a steady rate, so
// the volume of a gram in the chamber grows by the same amount each minute;
// under pressure it grows by less, which a measured growth has in it. As the
// dough lightens a mark weighs less too, so that the moves grow by R.
//
// It holds for the first part of a fermentation, before the dough lets go of
// gas, and for a hopper that empties first in, first out. Every move is followed
// by a weighing.
//
// It returns an *[reckon.InputError] if:
//   - start is not above 0 and up to 100 kg, growth not 0 to 100 % a minute or its basis not named,
//   - time is not above 0 and up to 24 h,
//   - limit is given and not above 0 and below start, or per_mark is missing or 0 with it, or given without it.
//
// It returns a *[reckon.NoSolutionError] if the mark would have to be moved more than 100 times.
//
// Source: conservation of mass; steady gas production, an estimate; [HopperGrowth] calibrates it.
//
// The inverse is [BatchForWeightDrift].
type WeightDrift struct {
	Start       unit.Mass     `json:"start"`             // mean weight of the first pieces; above 0 up to 100 kg
	Growth      float64       `json:"growth"`            // growth of the dough's volume in the chamber, in percent of the start a minute; 0 to 100
	GrowthBasis GrowthBasis   `json:"growth_basis"`      // "measured" by [HopperGrowth], or "estimated"
	Time        unit.Duration `json:"time"`              // how long the batch stands, see [HopperTime]; above 0 up to 24 h
	Limit       unit.Mass     `json:"limit,omitzero"`    // weight that may be lost before the mark is moved, above 0 and below start; leave out for no moves
	PerMark     float64       `json:"per_mark,omitzero"` // g for each mark at the start, from [MarkForWeight]; needed with limit, not 0
}

func (WeightDrift) ID() string { return "weight-drift" }

// SHELL
func (q WeightDrift) Check(c *reckon.Checks) {
	_, err := explainWeightDrift(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WeightDrift) Solve() (WeightDriftResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q WeightDrift) Append(dst []DriftMove) (WeightDriftResult, error) {
	return explainWeightDrift(q, dst, nil)
}

func (q WeightDrift) Show(w *reckon.Working, _ WeightDriftResult) {
	_, _ = explainWeightDrift(q, nil, w)
}

// DriftMove is one move of the mark within a batch.
type DriftMove struct {
	At    unit.Duration `json:"at"`    // hopper time at which the weight has fallen by the limit
	Marks float64       `json:"marks"` // marks to move from where the handle stands then; weigh afterwards
}

// WeightDriftResult is the weight through the batch.
type WeightDriftResult struct {
	End   unit.Mass `json:"end"`   // mean weight of the last pieces if the mark is left alone
	Drift unit.Mass `json:"drift"` // end less start; 0 or below
	First unit.Mass `json:"first"` // weight lost in the first minute
	Mean  unit.Mass `json:"mean"`  // mean weight of all pieces if the mark is left alone

	Moves []DriftMove `json:"moves"` // when to move the mark back to the start's weight, if a limit was given

	Conditions Conditions      `json:"conditions"` // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, if there are moves
}

func explainWeightDrift(in WeightDrift, dst []DriftMove, w *reckon.Working) (out WeightDriftResult, err error) {
	c := reckon.Checks{Func: "weight-drift"}
	checkDrift(&c, in.Start, in.Growth, in.GrowthBasis)
	reckon.CheckAbove(&c, "time", in.Time, unit.Hours(24))
	if in.Limit != 0 {
		checkLimit(&c, in.Limit, in.Start)
	}
	switch {
	case in.Limit == 0 && in.PerMark != 0:
		c.Fail("per_mark", strconv.FormatFloat(in.PerMark, 'g', 6, 64), "nothing, unless a limit is given")
	case in.Limit != 0 && !(math.Abs(in.PerMark) >= 1e-9 && math.Abs(in.PerMark) <= 1e9):
		c.Fail("per_mark", strconv.FormatFloat(in.PerMark, 'g', 6, 64), "g for each mark, 1e-9 to 1e9 or the same below 0")
	}
	if err := c.Err(); err != nil {
		return WeightDriftResult{}, err
	}
	start, g, t := float64(in.Start), in.Growth/6000, float64(in.Time) // g of the start volume a second
	end := start / (1 + float64(g*t))
	out = WeightDriftResult{
		End: unit.Mass(end), Drift: unit.Mass(end - start),
		First: unit.Mass(start - start/(1+float64(g*60))), Mean: in.Start, Moves: dst,
	}
	if grown := g * t; grown > 0 {
		out.Mean = unit.Mass(start * math.Log1p(grown) / grown)
	}
	if in.GrowthBasis == Estimated {
		out.Conditions |= reckon.Uncalibrated
	}
	if in.Limit > 0 && g > 0 {
		ratio := start / (start - float64(in.Limit))
		grown := 1.0 // R^j
		for n := 1; ; n++ {
			grown = float64(grown * ratio)
			at := (grown - 1) / g
			if !(at < t) {
				break
			}
			if n > 100 {
				return WeightDriftResult{}, &reckon.NoSolutionError{
					Func: c.Func, Unknown: "plan with up to 100 moves",
					Wanted: "a weight held to " + in.Limit.String(), Advice: "make smaller batches, cool the dough or widen the limit",
				}
			}
			out.Moves = append(out.Moves, DriftMove{At: unit.Duration(at), Marks: float64(in.Limit) * grown / in.PerMark})
			out.Cautions |= reckon.MovingMachinery
		}
	}
	if w != nil {
		w.Given("weight at the start", "m_0", start, "g", "")
		w.Given("growth", "p", in.Growth, "% a minute", string(in.GrowthBasis))
		w.Given("time in the hopper", "t", t, "s", "")
		w.Step("growth a second", "g", "p / 6000", g, "1/s", "")
		if in.Limit > 0 {
			w.Given("weight that may be lost", "L", float64(in.Limit), "g", "")
			w.Step("growth that loses it", "R", "m_0 / (m_0 - L)", start/(start-float64(in.Limit)), "", "")
			if len(out.Moves) > len(dst) {
				w.Step("first move", "t_1", "(R - 1) / g", float64(out.Moves[len(dst)].At), "s", "")
			}
		}
		w.Step("weight at the end", "m", "m_0 / (1 + g*t)", end, "g", "conservation of mass")
	}
	return out, nil
}

func checkDrift(c *reckon.Checks, start unit.Mass, growth float64, basis GrowthBasis) {
	reckon.CheckAbove(c, "start", start, maxPiece)
	reckon.CheckRange(c, "growth", growth, 0, maxGrowth)
	reckon.CheckEither(c, "growth_basis", basis, Measured, Estimated)
}

// checkLimit wants a loss that leaves some of the piece.
func checkLimit(c *reckon.Checks, limit, start unit.Mass) {
	if reckon.CheckPositive(c, "limit", limit) && start > 0 && limit >= start {
		c.Fail("limit", limit.String(), "less than the start of "+start.String())
	}
}

// BatchForWeightDrift returns the largest batch that keeps its weight within a
// limit with the mark left alone:
//
//	time  = (start / (start - limit) - 1) / g
//	batch = dough rate * time
//
// It is the inverse of [WeightDrift], with the same validity. The dough rate is
// taken as steady; it falls with the weight, by less than the limit.
//
// It returns an *[reckon.InputError] if:
//   - start is not above 0 and up to 100 kg, or limit not above 0 and below start,
//   - growth is not above 0 and up to 100 % a minute or its basis is not named,
//   - dough is not above 0 and up to 200 000 t/h.
//
// It returns a *[reckon.NoSolutionError] if the limit is not reached within 24 h: any batch will do.
//
// Source: conservation of mass; steady gas production, an estimate; [HopperGrowth] calibrates it.
//
// The inverse is [WeightDrift].
type BatchForWeightDrift struct {
	Start       unit.Mass     `json:"start"`        // mean weight of the first pieces; above 0 up to 100 kg
	Limit       unit.Mass     `json:"limit"`        // weight that may be lost over the batch; above 0 and below start
	Growth      float64       `json:"growth"`       // growth of the dough's volume in the chamber, in percent of the start a minute; above 0 up to 100
	GrowthBasis GrowthBasis   `json:"growth_basis"` // "measured" by [HopperGrowth], or "estimated"
	Dough       unit.MassRate `json:"dough"`        // dough that the divider uses, see [Rate]; above 0
}

func (BatchForWeightDrift) ID() string { return "batch-for-weight-drift" }

// SHELL
func (q BatchForWeightDrift) Check(c *reckon.Checks) {
	_, err := explainBatchForWeightDrift(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BatchForWeightDrift) Solve() (BatchForWeightDriftResult, error) {
	return explainBatchForWeightDrift(q, nil)
}

func (q BatchForWeightDrift) Show(w *reckon.Working, _ BatchForWeightDriftResult) {
	_, _ = explainBatchForWeightDrift(q, w)
}

// BatchForWeightDriftResult is the largest batch.
type BatchForWeightDriftResult struct {
	Time       unit.Duration `json:"time"`       // hopper time at which the limit is reached
	Batch      unit.Mass     `json:"batch"`      // batch that leaves the hopper in that time
	Conditions Conditions    `json:"conditions"` // uncalibrated
}

func explainBatchForWeightDrift(in BatchForWeightDrift, w *reckon.Working) (out BatchForWeightDriftResult, err error) {
	c := reckon.Checks{Func: "batch-for-weight-drift"}
	checkDrift(&c, in.Start, in.Growth, in.GrowthBasis)
	if in.Growth == 0 {
		c.Fail("growth", "0", "more than 0: a dough that does not grow keeps its weight in any batch")
	}
	checkLimit(&c, in.Limit, in.Start)
	reckon.CheckAbove(&c, "dough", in.Dough, maxDough)
	if err := c.Err(); err != nil {
		return BatchForWeightDriftResult{}, err
	}
	g := in.Growth / 6000
	ratio := float64(in.Start) / (float64(in.Start) - float64(in.Limit))
	t := (ratio - 1) / g
	if !(t <= 86400) {
		return BatchForWeightDriftResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "batch", Wanted: "a loss of " + in.Limit.String() + " within 24 h",
			Advice: "at that growth no batch loses so much: let the mixer or the hopper time set its size",
		}
	}
	out = BatchForWeightDriftResult{Time: unit.Duration(t), Batch: unit.Mass(float64(in.Dough) * t / 3.6)}
	if in.GrowthBasis == Estimated {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("weight at the start", "m_0", float64(in.Start), "g", "")
		w.Given("weight that may be lost", "L", float64(in.Limit), "g", "")
		w.Given("growth", "p", in.Growth, "% a minute", string(in.GrowthBasis))
		w.Given("dough rate", "D", float64(in.Dough), "kg/h", "")
		w.Step("growth a second", "g", "p / 6000", g, "1/s", "")
		w.Step("time to the limit", "t", "(m_0 / (m_0 - L) - 1) / g", t, "s", "conservation of mass")
		w.Step("largest batch", "M", "D * t / 3.6", float64(out.Batch), "g", "conservation of mass")
	}
	return out, nil
}

// HopperWeighing is a check within a batch, with the mark left alone.
type HopperWeighing struct {
	Time   unit.Duration `json:"time"`   // since the batch was tipped; 0 to 24 h
	Weight unit.Mass     `json:"weight"` // mean weight of the pieces; above 0 up to 100 kg
	Pieces int           `json:"pieces"` // how many pieces the mean is of; 1 to 100000
}

// HopperGrowth returns the growth of the dough in the hopper from checks within
// a batch, for [WeightDrift]:
//
//	1/weight = A + B*t    growth = B/A, start = 1/A
//
// by least squares, each check counted by its pieces and the fourth power of
// its weight, because 1/weight strays by the stray of the weight over its square.
// The interval is Fieller's, for the ratio of B to A.
//
// It holds for steady gas production and a scatter from piece to piece.
//
// It returns an *[reckon.InputError] if:
//   - there are fewer than 3 or more than 10000 weighings, or all are of one time,
//   - a time is not 0 to 24 h, a weight not above 0 and up to 100 kg, or pieces not 1 to 100000,
//   - confidence is not 50 to 99.9 %.
//
// It returns a *[reckon.NoSolutionError] if the fit gives no weight at the tipping.
//
// Source: conservation of mass; weighted least squares, NIST/SEMATECH e-Handbook of Statistical Methods 4.4.5.2.
type HopperGrowth struct {
	Weighings  []HopperWeighing `json:"weighings"`  // 3 to 10000, at two or more different times
	Confidence unit.Percent     `json:"confidence"` // for the interval; 50 to 99.9 %
}

func (HopperGrowth) ID() string { return "hopper-growth" }

// SHELL
func (q HopperGrowth) Check(c *reckon.Checks) {
	_, err := explainHopperGrowth(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q HopperGrowth) Solve() (HopperGrowthResult, error) { return explainHopperGrowth(q, nil) }

func (q HopperGrowth) Show(w *reckon.Working, _ HopperGrowthResult) { _, _ = explainHopperGrowth(q, w) }

// HopperGrowthResult is the growth as the weights tell it.
type HopperGrowthResult struct {
	Growth float64   `json:"growth"` // percent of the start volume a minute; below 0 if the pieces grew heavier
	Low    float64   `json:"low"`    // lower end of its interval
	High   float64   `json:"high"`   // upper end
	Start  unit.Mass `json:"start"`  // weight that the fit gives at the tipping

	Conditions Conditions `json:"conditions"` // weigh-more: no growth can be told
}

func explainHopperGrowth(in HopperGrowth, w *reckon.Working) (out HopperGrowthResult, err error) {
	c := reckon.Checks{Func: "hopper-growth"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return HopperGrowthResult{}, err
	}
	// Weights are taken in units of the first, so that fourth powers stay tame.
	one := float64(in.Weighings[0].Weight)
	weigh := func(h HopperWeighing) (weight, y float64) {
		r := float64(h.Weight) / one
		return float64(float64(h.Pieces) * r * r * r * r), 1 / r
	}
	var sw, mt, my float64
	for range 2 {
		var st, sy float64
		sw = 0
		for _, h := range in.Weighings {
			k, y := weigh(h)
			sw += k
			st += float64(k * (h.Time.Minutes() - mt))
			sy += float64(k * (y - my))
		}
		mt += st / sw
		my += sy / sw
	}
	var stt, sty, ssr float64
	for _, h := range in.Weighings {
		k, y := weigh(h)
		d := h.Time.Minutes() - mt
		stt += float64(k * d * d)
		sty += float64(k * d * (y - my))
	}
	slope := sty / stt
	for _, h := range in.Weighings {
		k, y := weigh(h)
		r := y - my - float64(slope*(h.Time.Minutes()-mt))
		ssr += float64(k * r * r)
	}
	a := my - float64(slope*mt)
	df := float64(len(in.Weighings) - 2)
	t := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.5 + float64(in.Confidence)/200)
	s2 := ssr / df
	// Fieller's interval for the ratio slope/a, from their variances and covariance.
	vb := s2 / stt
	va := s2/sw + float64(mt*mt*vb)
	cov := -float64(mt * vb)
	t2 := t * t
	pa, pb, pc := float64(a*a)-float64(t2*va), float64(a*slope)-float64(t2*cov), float64(slope*slope)-float64(t2*vb)
	disc := float64(pb*pb) - float64(pa*pc)
	out = HopperGrowthResult{Growth: 100 * slope / a, Start: unit.Mass(one / a)}
	root := math.Sqrt(max(0, disc))
	out.Low, out.High = 100*(pb-root)/pa, 100*(pb+root)/pa
	if !(pa > 0) || !(a > 0) || !(out.Start <= 1000*maxPiece) || !(math.Abs(out.Growth)+math.Abs(out.Low)+math.Abs(out.High) <= 1e9) {
		return HopperGrowthResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "growth", Wanted: "these weights", Advice: "the weighings do not tell the weight at the tipping: weigh earlier in the batch, and more pieces",
		}
	}
	if out.Low <= 0 && out.High >= 0 {
		out.Conditions |= WeighMore
	}
	if w != nil {
		w.Given("weight that stands for one", "m_1", one, "g", "the first weighing")
		w.Given("mean time", "t_m", mt, "min", "weighted mean")
		w.Given("mean of one over weight", "y_m", my, "", "weighted mean")
		w.Given("sum of squares of the times", "S_tt", stt, "", "about the mean")
		w.Given("sum of products", "S_ty", sty, "", "about the means")
		w.Step("slope", "B", "S_ty / S_tt", slope, "1/min", "least squares")
		w.Step("at the tipping", "A", "y_m - B*t_m", a, "", "least squares")
		w.Step("weight at the tipping", "m_0", "m_1 / A", float64(out.Start), "g", "")
		w.Step("growth", "g", "100 * B / A", out.Growth, "% a minute", "")
	}
	return out, nil
}

func (in *HopperGrowth) check(c *reckon.Checks) {
	reckon.CheckRange(c, "confidence", in.Confidence, 50, 99.9)
	if n := len(in.Weighings); n < 3 || n > maxTrials {
		c.Fail("weighings", strconv.Itoa(n)+" weighings", "3 to "+strconv.Itoa(maxTrials)+" weighings")
		return
	}
	oneTime := true
	for i, h := range in.Weighings {
		oneTime = oneTime && h.Time == in.Weighings[0].Time
		if h.Time >= 0 && h.Time <= 86400 && h.Weight > 0 && h.Weight <= maxPiece && h.Pieces >= 1 && h.Pieces <= 100_000 {
			continue
		}
		path := "weighings[" + strconv.Itoa(i) + "]."
		reckon.CheckRange(c, path+"time", h.Time, 0, unit.Hours(24))
		reckon.CheckAbove(c, path+"weight", h.Weight, maxPiece)
		reckon.CheckCount(c, path+"pieces", h.Pieces, 1, 100_000)
	}
	if oneTime && c.OK() {
		c.Fail("weighings", "weighings that are all of one time", "two or more different times within the batch")
	}
}
