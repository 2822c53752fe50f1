package divider

import (
	"math"
	"strconv"
	"strings"

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

// EstimatedGrowth is a first figure for the growth of a yeasted dough: one dough grew to 181 % within its first
// hour of fermentation, at air pressure. In a chamber the gas is pressed together:
// multiply by air pressure over chamber pressure, both absolute. Young dough in a
// cool hopper grows less still: weigh and find out with [HopperGrowth].
//
// Source: Bourekoua et al., Agrobiologia 12 (2022) 3184, abstract.
const EstimatedGrowth unit.GrowthRate = 81.13 / 60

const maxGrowth unit.GrowthRate = 100

const maxMoves = 100 // of the mark within a batch

// WeightDrift asks how far piece weight falls as a batch gasses in the hopper,
// and when to move the handle:
//
//	g   = p / 6000
//	m   = m_0 / (1 + g*t)    D = m - m_0
//	F   = m_0 - m_0 / (1 + g*60)
//	m_m = m_0 * ln(1 + g*t) / (g*t)
//	R   = m_0 / (m_0 - L)
//	t_i = (R^i - 1) / g    x_i = L * R^i / b, the move i, if the handle moves freely
//
// A handle with a step is moved by k whole steps, as near to the start as they come; the
// weight then goes above it by less than the limit:
//
//	k   = max(1, round(L / (|b| * q)))
//	t_i = ((m_0 + (i - 1) * k * |b| * q) / (m_0 - L) - 1) / g    x_i = k * q, towards more weight
//
// with p the growth of the dough's volume. Gas is made at a steady rate, so
// the volume of a gram in the chamber grows by the same amount each minute;
// under pressure it grows by less, which a measured growth allows for. As the
// dough lightens a mark weighs less too, so that the moves grow by R.
//
// It holds for the first part of a fermentation, before the dough lets go of
// gas, and for a hopper that empties first in, first out. Every move is followed
// by a weighing.
//
// It is refused if:
//   - drift_limit is given and is not less than start_weight,
//   - per_mark is missing or 0 with a drift_limit, or given without one,
//   - mark_step is given without a drift_limit.
//
// Source: conservation of mass; steady gas production, an estimate; [HopperGrowth] calibrates it.
//
// The inverse is [BatchForWeightDrift].
type WeightDrift struct {
	StartWeight unit.Mass       `json:"start_weight" sym:"m_0" range:">0 g..100 kg"` // mean weight of the first pieces
	Growth      unit.GrowthRate `json:"growth" sym:"p" range:"0 %/min..100 %/min"`   // growth of the dough's volume in the chamber, of the volume at the start
	GrowthBasis GrowthBasis     `json:"growth_basis"`                                // whether growth was measured with [HopperGrowth]
	Time        unit.Duration   `json:"time" sym:"t" range:">0 s..24 h"`             // how long the batch stands in the hopper, see [HopperTime]
	DriftLimit  unit.Mass       `json:"drift_limit,omitzero" sym:"L" range:"-"`      // weight that may be lost before the mark is moved, above 0 and below start_weight; leave out for no moves
	PerMark     unit.Mass       `json:"per_mark,omitzero" sym:"b" range:"-"`         // weight of one mark at the start, from [MarkForWeight]; needed with drift_limit, 0.000001 mg to 1000 t, or the same below 0
	MarkStep    float64         `json:"mark_step,omitzero" sym:"q" range:"-"`        // smallest part of a mark that the handle can be set to, 1e-6 to 1e9, with drift_limit; leave out if it moves freely
}

// DriftMove is one move of the mark within a batch.
type DriftMove struct {
	At   unit.Duration `json:"at" sym:"t_#"`   // hopper time at which the weight has fallen by the limit
	Move float64       `json:"move" sym:"x_#"` // marks to move from where the handle stands then; weigh afterwards
}

// WeightDriftResult is the weight through the batch.
type WeightDriftResult struct {
	EndWeight   unit.Mass `json:"end_weight" sym:"m"`   // mean weight of the last pieces if the mark is left alone
	Drift       unit.Mass `json:"drift" sym:"D"`        // end_weight less start_weight; 0 or below
	FirstMinute unit.Mass `json:"first_minute" sym:"F"` // weight lost in the first minute
	Mean        unit.Mass `json:"mean" sym:"m_m"`       // mean weight of all pieces if the mark is left alone

	Moves []DriftMove `json:"moves"` // when to move the mark back to start_weight, if a drift_limit was given

	Conditions Conditions      `json:"conditions"` // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`   // raised-bowl; moving-machinery and moving-belt, if there are moves
}

func (WeightDrift) ID() string { return "weight-drift" }

func (q WeightDrift) Check(c *reckon.Checks) {
	checkDrift(c, q.StartWeight, q.Growth, q.GrowthBasis)
	reckon.CheckAbove(c, "time", q.Time, unit.Hours(24))
	if q.DriftLimit != 0 {
		checkLimit(c, q.DriftLimit, q.StartWeight)
	}
	switch {
	case q.DriftLimit == 0 && q.PerMark != 0:
		c.Fail("per_mark", q.PerMark.String(), "nothing, unless drift_limit is given")
	case q.DriftLimit != 0:
		checkPerMark(c, "per_mark", q.PerMark)
	}
	switch {
	case q.DriftLimit == 0 && q.MarkStep != 0:
		c.Fail("mark_step", strconv.FormatFloat(q.MarkStep, 'g', 6, 64), "nothing, unless drift_limit is given")
	case q.DriftLimit != 0:
		checkMarkStep(c, q.MarkStep)
	}
}

// Solve has no answer if the mark would have to be moved more than 100 times, or if one step
// of the handle weighs more than twice the limit.
func (q WeightDrift) Solve() (WeightDriftResult, error) { return q.Append(nil) }

// Append is Solve with the moves appended to dst.
func (q WeightDrift) Append(dst []DriftMove) (out WeightDriftResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	if step := q.step(); float64(step) > 2*float64(q.DriftLimit)*(1+1e-12) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "move of the mark",
			Wanted: "a weight held to " + q.DriftLimit.String(), Low: (step / 2).String(),
			Advice: "one step of the handle weighs " + step.String() + ": make smaller batches, cool the dough or set the handle finer",
		}
	}
	moves := q.moves()
	if moves > maxMoves {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "plan with up to 100 moves",
			Wanted: "a weight held to " + q.DriftLimit.String(), Advice: "make smaller batches, cool the dough or widen the limit",
		}
	}
	start, g := float64(q.StartWeight), q.perSecond()
	grown := float64(g * float64(q.Time))
	end := start / (1 + grown)
	out = WeightDriftResult{
		EndWeight: unit.Mass(end), Drift: unit.Mass(end - start),
		FirstMinute: unit.Mass(start - start/(1+float64(g*60))), Mean: q.StartWeight, Moves: dst,
		Cautions: reckon.RaisedBowl,
	}
	if grown != 0 {
		out.Mean = unit.Mass(start * math.Log1p(grown) / grown)
	}
	if q.GrowthBasis == Estimated {
		out.Conditions |= reckon.Uncalibrated
	}
	for i := range moves {
		out.Moves = append(out.Moves, q.move(i+1))
		out.Cautions |= reckon.MovingMachinery | reckon.MovingBelt
	}
	return out, nil
}

func (q WeightDrift) Show(w *reckon.Working, out WeightDriftResult) {
	w.Inputs(q)
	w.Lines(out,
		growthPerSecond,
		"weight at the end: m = m_0/(1 + g*t)  [conservation of mass]",
		"drift: D = m - m_0",
		"weight lost in the first minute: F = m_0 - m_0/(1 + g*60{s/min})",
	)
	switch grown := float64(q.perSecond() * float64(q.Time)); {
	case grown > 1e-4:
		w.Lines(out, "mean weight of the batch: m_m = m_0*ln(1 + g*t)/(g*t)")
	case grown > 0: // 1 + g*t would lose the digits of so little growth
		w.Lines(out, "mean weight of the batch: m_m = m_0*(1 - g*t/2 + g*t*(g*t)/3)  [the logarithm's series, as the growth is next to nothing]")
	default:
		w.Lines(out, "mean weight of the batch: m_m = m_0")
	}
	if q.DriftLimit == 0 {
		return
	}
	each := [2]string{"time of move #: t_# = (pow(R, #) - 1)/g", "marks to move then: x_# = L*pow(R, #)/b"}
	if q.MarkStep == 0 {
		w.Lines(out, "growth that loses the limit: R = m_0/(m_0 - L)")
	} else {
		w.Lines(out, "steps of the handle in a move: k = max(1, round(L/(abs(b)*q)))  [as near to the start as they come]")
		each = [2]string{"time of move #: t_# = ((m_0 + (# - 1)*k*abs(b)*q)/(m_0 - L) - 1)/g", "marks to move then: x_# = k*q*b/abs(b)"}
	}
	for i, m := range out.Moves[len(out.Moves)-q.moves():] {
		w.Item(i+1, m, each[0], each[1])
	}
}

// growthPerSecond is a line that two workings share.
const growthPerSecond = "growth a second: g = p/6000 in 1/s"

// perSecond returns the growth of the volume in a second, of the start's.
func (q *WeightDrift) perSecond() float64 { return float64(q.Growth) / 6000 }

// step returns what one step of the handle weighs; 0 if it moves freely.
func (q *WeightDrift) step() unit.Mass {
	return unit.Mass(math.Abs(float64(q.PerMark)) * q.MarkStep)
}

// steps returns how many steps of the handle make a move.
func (q *WeightDrift) steps() float64 {
	return max(1, math.Round(float64(q.DriftLimit)/float64(q.step())))
}

// move returns the move i, counted from 1.
func (q *WeightDrift) move(i int) DriftMove {
	g, start, limit := q.perSecond(), float64(q.StartWeight), float64(q.DriftLimit)
	if q.MarkStep == 0 {
		power := math.Pow(start/(start-limit), float64(i))
		return DriftMove{At: unit.Duration((power - 1) / g), Move: limit * power / float64(q.PerMark)}
	}
	made := float64(float64(i-1) * q.steps() * float64(q.step()))
	return DriftMove{
		At:   unit.Duration(((start+made)/(start-limit) - 1) / g),
		Move: math.Copysign(q.steps()*q.MarkStep, float64(q.PerMark)),
	}
}

// moves counts the moves of the mark, up to one more than can be planned.
func (q *WeightDrift) moves() int {
	if q.DriftLimit == 0 {
		return 0
	}
	for n := range maxMoves + 1 {
		if !(q.move(n+1).At < q.Time) {
			return n
		}
	}
	return maxMoves + 1
}

func checkDrift(c *reckon.Checks, start unit.Mass, growth unit.GrowthRate, basis GrowthBasis) {
	reckon.CheckAbove(c, "start_weight", start, maxPiece)
	reckon.CheckRange(c, "growth", growth, 0, maxGrowth)
	reckon.CheckEither(c, "growth_basis", basis, Measured, Estimated)
}

// checkPerMark requires what one mark weighs.
func checkPerMark(c *reckon.Checks, field string, m unit.Mass) {
	if a := math.Abs(float64(m)); !(a >= 1e-9 && a <= 1e9) {
		c.Fail(field, m.String(), "the weight of one mark, 0.000001 mg to 1000 t, or the same below 0")
	}
}

// checkLimit requires a loss that leaves some of the piece.
func checkLimit(c *reckon.Checks, limit, start unit.Mass) {
	if reckon.CheckPositive(c, "drift_limit", limit) && start > 0 && limit >= start {
		c.Fail("drift_limit", limit.String(), "less than start_weight, "+start.String())
	}
}

// BatchForWeightDrift asks for the largest batch that holds its weight within
// a limit without a move of the handle:
//
//	g = p / 6000
//	t = (m_0 / (m_0 - L) - 1) / g
//	M = D * t / 3.6 - H
//
// It is the inverse of [WeightDrift], with the same validity. The dough rate is
// taken as steady; it falls with the weight, by less than the limit.
//
// It is refused if:
//   - drift_limit is not less than start_weight.
//
// Source: conservation of mass; steady gas production, an estimate; [HopperGrowth] calibrates it.
//
// The inverse is [WeightDrift].
type BatchForWeightDrift struct {
	StartWeight unit.Mass       `json:"start_weight" sym:"m_0" range:">0 g..100 kg"`    // mean weight of the first pieces
	DriftLimit  unit.Mass       `json:"drift_limit" sym:"L" range:"-"`                  // weight that may be lost over the batch; above 0 and below start_weight
	Growth      unit.GrowthRate `json:"growth" sym:"p" range:">0 %/min..100 %/min"`     // growth of the dough's volume in the chamber, of the volume at the start
	GrowthBasis GrowthBasis     `json:"growth_basis"`                                   // whether growth was measured with [HopperGrowth]
	DoughRate   unit.MassRate   `json:"dough_rate" sym:"D" range:">0 kg/h..200000 t/h"` // dough that the divider uses, see [Rate]
	Head        unit.Mass       `json:"head,omitzero" sym:"H,0" range:"0 g..10 t"`      // dough that is left in the hopper when the next batch is tipped, see [HopperTime]; leave out if it runs empty
}

// BatchForWeightDriftResult is the largest batch.
type BatchForWeightDriftResult struct {
	Time       unit.Duration   `json:"time" sym:"t"`  // hopper time at which the limit is reached
	Batch      unit.Mass       `json:"batch" sym:"M"` // batch that leaves the hopper in that time
	Conditions Conditions      `json:"conditions"`    // uncalibrated
	Cautions   reckon.Cautions `json:"cautions"`      // raised-bowl
}

func (BatchForWeightDrift) ID() string { return "batch-for-weight-drift" }

func (q BatchForWeightDrift) Check(c *reckon.Checks) {
	checkDrift(c, q.StartWeight, q.Growth, q.GrowthBasis)
	if q.Growth == 0 {
		c.Fail("growth", q.Growth.String(), "more than 0 %/min: a dough that does not grow keeps its weight in any batch")
	}
	checkLimit(c, q.DriftLimit, q.StartWeight)
	reckon.CheckAbove(c, "dough_rate", q.DoughRate, maxDough)
	reckon.CheckRange(c, "head", q.Head, 0, maxBatch)
}

// Solve has no answer if the limit is not reached within 24 h, when any batch will do, or if
// the head of dough alone loses more.
func (q BatchForWeightDrift) Solve() (out BatchForWeightDriftResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	g := float64(q.Growth) / 6000
	ratio := float64(q.StartWeight) / (float64(q.StartWeight) - float64(q.DriftLimit))
	t := (ratio - 1) / g
	if !(t <= 86400) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "batch", Wanted: "a loss of " + q.DriftLimit.String() + " within 24 h",
			Advice: "at that growth no batch loses so much: let the mixer or the hopper time set its size",
		}
	}
	batch := unit.Mass(float64(q.DoughRate)*t/3.6) - q.Head
	if !(batch > 0) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "batch", Wanted: "a loss of at most " + q.DriftLimit.String(),
			Advice: "the head of " + q.Head.String() + " alone stands too long: run faster, keep less dough in the hopper or cool the dough",
		}
	}
	out.Time, out.Batch = unit.Duration(t), batch
	if q.GrowthBasis == Estimated {
		out.Conditions |= reckon.Uncalibrated
	}
	out.Cautions = reckon.RaisedBowl
	return out, nil
}

func (q BatchForWeightDrift) Show(w *reckon.Working, out BatchForWeightDriftResult) {
	w.Inputs(q)
	w.Lines(out,
		growthPerSecond,
		"time to the limit: t = (m_0/(m_0 - L) - 1)/g  [conservation of mass]",
		"largest batch: M = D*t/3600{s/h}*1000{g/kg} - H  [conservation of mass]",
	)
}

// HopperWeighing is a check within a batch, with the mark left alone.
type HopperWeighing struct {
	Time   unit.Duration `json:"time" sym:"t_#" range:"0 s..24 h"`      // since the batch was tipped
	Weight unit.Mass     `json:"weight" sym:"m_#" range:"1 mg..100 kg"` // mean weight of the pieces
	Pieces int           `json:"pieces" sym:"n_#" range:"1..100000"`    // how many pieces the mean is of
}

// Check requires a weighing that can have been made.
func (h HopperWeighing) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "time", h.Time, 0, unit.Hours(24))
	reckon.CheckRange(c, "weight", h.Weight, lightestPiece, heaviestPiece)
	reckon.CheckCount(c, "pieces", h.Pieces, 1, 100_000)
}

// HopperGrowth asks how fast the dough is gassing in the hopper, from checks
// within a batch, for [WeightDrift]. One over the weight rises along a straight line,
// y = A + B*t with t in minutes, found by least squares from N checks:
//
//	k_i  = n_i * (m_i/m_1)^4    y_i = m_1/m_i
//	W    = sum(k_i)
//	t_m  = sum(k_i * t_i/60) / W    y_m = sum(k_i * y_i) / W
//	S_tt = sum(k_i * (t_i/60 - t_m)^2)
//	S_ty = sum(k_i * (t_i/60 - t_m) * (y_i - y_m))
//	B    = S_ty / S_tt    A = y_m - B*t_m
//	m_0  = m_1 / A
//	g    = 100 * B / A
//	v    = sum(k_i * (y_i - A - B*t_i/60)^2) / (N - 2)
//	T    = Student's t, two-sided at C, for N - 2 degrees of freedom
//	(B - x*A)^2 = T^2 * v * (x^2/W + (1 + x*t_m)^2/S_tt) at x = g_l/100 and g_h/100
//
// Each check counts by its pieces and the fourth power of its weight, because
// an error of the weight makes one of 1/weight that is smaller by its square. The interval is
// Fieller's, for the ratio of B to A.
//
// It holds for steady gas production and a scatter from piece to piece.
//
// It is refused if:
//   - all weighings are of one time.
//
// Source: conservation of mass; weighted least squares, NIST/SEMATECH e-Handbook of Statistical Methods 4.4.5.2.
type HopperGrowth struct {
	Weighings  []HopperWeighing `json:"weighings" items:"3..10000"`              // at two or more different times
	Confidence unit.Percent     `json:"confidence" sym:"C" range:"50 %..99.9 %"` // for the interval
}

// HopperGrowthResult is the growth as the weights show it.
type HopperGrowthResult struct {
	Growth      unit.GrowthRate `json:"growth" sym:"g"`         // growth of the dough's volume, of the volume at the start; below 0 if the pieces grew heavier
	Low         unit.GrowthRate `json:"low" sym:"g_l"`          // lower end of its interval
	High        unit.GrowthRate `json:"high" sym:"g_h"`         // upper end
	StartWeight unit.Mass       `json:"start_weight" sym:"m_0"` // weight that the fit gives at the tipping

	Conditions Conditions      `json:"conditions"` // weigh-more: the growth is not significant
	Cautions   reckon.Cautions `json:"cautions"`   // moving-belt
}

func (HopperGrowth) ID() string { return "hopper-growth" }

func (q HopperGrowth) Check(c *reckon.Checks) {
	start := c.Mark()
	reckon.CheckRange(c, "confidence", q.Confidence, 50, 99.9)
	if n := len(q.Weighings); n < 3 || n > maxTrials {
		c.Fail("weighings", strconv.Itoa(n)+" weighings", "3 to "+strconv.Itoa(maxTrials)+" weighings")
		return
	}
	oneTime := true
	for i, h := range q.Weighings {
		oneTime = oneTime && h.Time == q.Weighings[0].Time
		mark := c.Mark()
		h.Check(c)
		c.Item(mark, "weighings", i)
	}
	if oneTime && c.Mark() == start {
		c.Fail("weighings", "weighings that are all of one time", "two or more different times within the batch")
	}
}

// Solve has no answer if the fit gives no weight at the tipping.
func (q HopperGrowth) Solve() (out HopperGrowthResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	// Weights are taken in units of the first, so that fourth powers stay tame.
	one := float64(q.Weighings[0].Weight)
	weigh := func(h HopperWeighing) (weight, y float64) {
		r := float64(h.Weight) / one
		return float64(float64(h.Pieces) * r * r * r * r), 1 / r
	}
	var sw, mt, my float64
	for range 2 {
		var st, sy float64
		sw = 0
		for _, h := range q.Weighings {
			k, y := weigh(h)
			sw += k
			st += float64(k * (h.Time.Minutes() - mt))
			sy += float64(k * (y - my))
		}
		mt += st / sw
		my += sy / sw
	}
	var stt, sty, ssr float64
	for _, h := range q.Weighings {
		k, y := weigh(h)
		d := h.Time.Minutes() - mt
		stt += float64(k * d * d)
		sty += float64(k * d * (y - my))
	}
	slope := sty / stt
	for _, h := range q.Weighings {
		k, y := weigh(h)
		r := y - my - float64(slope*(h.Time.Minutes()-mt))
		ssr += float64(k * r * r)
	}
	a := my - float64(slope*mt)
	t := q.student()
	s2 := ssr / float64(len(q.Weighings)-2)
	// Fieller's interval for the ratio slope/a, from their variances and covariance.
	vb := s2 / stt
	va := s2/sw + float64(mt*mt*vb)
	cov := -float64(mt * vb)
	t2 := t * t
	pa, pb, pc := float64(a*a)-float64(t2*va), float64(a*slope)-float64(t2*cov), float64(slope*slope)-float64(t2*vb)
	disc := float64(pb*pb) - float64(pa*pc)
	root := math.Sqrt(max(0, disc))
	found := HopperGrowthResult{
		Growth: unit.GrowthRate(100 * slope / a), StartWeight: unit.Mass(one / a),
		Low: unit.GrowthRate(100 * (pb - root) / pa), High: unit.GrowthRate(100 * (pb + root) / pa),
	}
	if !(pa > 0) || !(a > 0) || !(found.StartWeight <= 1000*maxPiece) || !(math.Abs(float64(found.Growth))+math.Abs(float64(found.Low))+math.Abs(float64(found.High)) <= 1e9) {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "growth", Wanted: "these weights", Advice: "the weighings do not fix the weight at the tipping: weigh earlier in the batch, and more pieces",
		}
	}
	if found.Low <= 0 && found.High >= 0 {
		found.Conditions |= WeighMore
	}
	found.Cautions = reckon.MovingBelt
	return found, nil
}

func (q HopperGrowth) Show(w *reckon.Working, out HopperGrowthResult) {
	w.Inputs(q)
	w.Lines(out, eachOf(len(q.Weighings),
		"how much check # counts: k_# = n_#*pow(m_#/m_1, 4)",
		"one over its weight: y_# = m_1/m_#",
	)...)
	w.Given("Student's t", "T", q.student(), "", "two-sided at C, for N - 2 degrees of freedom")
	w.Lines(out,
		"checks: N = count(m_#...)",
		"sum of the weights: W = sum(k_#)",
		"mean time: t_m = sum(k_#*t_#/60{s/min})/W in min",
		"mean of one over weight: y_m = sum(k_#*y_#)/W",
		"sum of squares of the times: S_tt = sum(k_#*pow(t_#/60{s/min} - t_m, 2))",
		"sum of products: S_ty = sum(k_#*(t_#/60{s/min} - t_m)*(y_# - y_m))",
		"slope: B = S_ty/S_tt in 1/min  [least squares]",
		"at the tipping: A = y_m - B*t_m  [least squares]",
		"weight at the tipping: m_0 = m_1/A",
		"growth: g = 100*B/A",
		"variance about the line: v = sum(k_#*pow(y_# - A - B*t_#/60{s/min}, 2))/(N - 2)",
		"square of A, less the square of its uncertainty: p = A*A - T*T*v*(1/W + t_m*t_m/S_tt)",
		"product of A and B, less that of their uncertainties: q = A*B + T*T*v*t_m/S_tt",
		"root: r = sqrt(max(0, q*q - p*(B*B - T*T*v/S_tt)))",
		"lower end: g_l = 100*(q - r)/p  [Fieller]",
		"upper end: g_h = 100*(q + r)/p  [Fieller]",
	)
}

// student returns Student's t for the confidence.
func (q *HopperGrowth) student() float64 {
	return distuv.StudentsT{Sigma: 1, Nu: float64(len(q.Weighings) - 2)}.Quantile(0.5 + float64(q.Confidence)/200)
}

// eachOf writes lines once for each of n items, # being the item's number. In
// one call of Lines they cost less than a call of Item each.
func eachOf(n int, lines ...string) []string {
	out := make([]string, 0, n*len(lines))
	for i := range n {
		for _, line := range lines {
			out = append(out, strings.ReplaceAll(line, "#", strconv.Itoa(i+1)))
		}
	}
	return out
}
