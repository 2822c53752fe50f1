package divider

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Bounds on the dusting arithmetic. They catch slips of the unit.
const (
	stickiest      float64        = 1000 // the shop's own scale may run as it likes
	mostDusting    unit.Mass      = 1000 // g on one piece
	mostTrialFlour unit.Mass      = 1e6
	fastestPieces  unit.PieceRate = 10_000
	fewTrials                     = 3 // below this a line fits anything

	// A line through two trials of 1 kg a hair apart in stickiness is no scale.
	stickiestFlour unit.Mass = 1e6
)

// A StickinessScale says how much dusting flour a piece takes at each step of
// the shop's own stickiness scale. There is no universal one: what a hand
// calls sticky, and what a duster gives, differ from shop to shop.
//
// Flour lies on the surface of a piece, and pieces of one shape and density have surfaces as the
// power 2/3 of their weights: a scale that names the weight of its trial pieces holds for other
// weights by that.
type StickinessScale struct {
	Intercept      unit.Mass `json:"intercept" sym:"a" range:"-1 t..1 t"`      // flour on a piece at stickiness 0, by the line; may be below zero
	PerStep        unit.Mass `json:"per_step" sym:"b" range:"-"`               // more flour for each step of stickiness; -1 t to 1 t, and above 0 where [StickinessForFlour] solves for the step
	StickinessLow  float64   `json:"stickiness_low" range:"0..1000"`           // least sticky trial, on the shop's scale
	StickinessHigh float64   `json:"stickiness_high" range:"-"`                // stickiest trial; stickiness_low to 1000
	SD             unit.Mass `json:"sd" sym:"s" range:"0 g..1 t"`              // scatter of the trials about the line (residual standard deviation); 0 with fewer than three
	TrialCount     int       `json:"trial_count" range:"0..1000000"`           // trials behind the line; with fewer than three the scale counts as uncalibrated
	TrialPiece     unit.Mass `json:"trial_piece,omitzero" sym:"m_r" range:"-"` // dough weight of the trial pieces, 0 g to 100 kg; leave out if the scale is only for pieces of that weight
}

// Check requires figures that a line through the shop's trials can have.
func (s StickinessScale) Check(c *reckon.Checks) {
	reckon.CheckRange(c, "intercept", s.Intercept, -stickiestFlour, stickiestFlour)
	reckon.CheckRange(c, "per_step", s.PerStep, -stickiestFlour, stickiestFlour)
	lowOK := reckon.CheckRange(c, "stickiness_low", s.StickinessLow, 0, stickiest)
	if reckon.CheckRange(c, "stickiness_high", s.StickinessHigh, 0, stickiest) && lowOK && s.StickinessHigh < s.StickinessLow {
		c.Fail("stickiness_high", strconv.FormatFloat(s.StickinessHigh, 'g', 6, 64), "at least stickiness_low, "+strconv.FormatFloat(s.StickinessLow, 'g', 6, 64))
	}
	reckon.CheckRange(c, "sd", s.SD, 0, stickiestFlour)
	reckon.CheckCount(c, "trial_count", s.TrialCount, 0, 1_000_000)
	checkOptionalMass(c, "trial_piece", s.TrialPiece)
}

// onPiece returns the surface of a piece over that of a trial piece.
func (s StickinessScale) onPiece(piece unit.Mass) float64 {
	if s.TrialPiece == 0 {
		return 1
	}
	return math.Pow(float64(piece)/float64(s.TrialPiece), 2.0/3)
}

// checkPiece requires the weight of the piece where the scale is of another, and only there.
func (s StickinessScale) checkPiece(c *reckon.Checks, piece unit.Mass) bool {
	ok := reckon.CheckRange(c, "piece", piece, 0, heaviestPiece)
	switch {
	case !ok:
	case s.TrialPiece > 0 && piece < lightestPiece:
		c.Fail("piece", piece.String(), "1 mg to 100 kg: the scale is of trial pieces of "+s.TrialPiece.String()+", and flour goes with the surface")
		return false
	case s.TrialPiece == 0 && piece != 0:
		c.Fail("piece", piece.String(), "nothing, unless the scale names its trial_piece")
		return false
	}
	return ok
}

// surfaceLine is the step to [StickinessScale.onPiece].
func (s StickinessScale) surfaceLine() string {
	if s.TrialPiece == 0 {
		return "surface, of a trial piece's: A = 1  [the scale is of such pieces]"
	}
	return "surface, of a trial piece's: A = pow(m/m_r, 2/3)  [pieces of one shape]"
}

func (s StickinessScale) conditions(stickiness float64) Conditions {
	var out Conditions
	if s.TrialCount < fewTrials {
		out |= reckon.Uncalibrated
	}
	if stickiness < s.StickinessLow || stickiness > s.StickinessHigh {
		out |= reckon.Extrapolated
	}
	return out
}

// FlourTrial is one weighing of dusting flour: set the duster so that the
// pieces just do not stick, run some pieces, and weigh what left the duster.
type FlourTrial struct {
	Stickiness float64   `json:"stickiness" sym:"x_#" range:"0..1000"` // on the shop's own scale
	Flour      unit.Mass `json:"flour" sym:"m_#" range:"-"`            // flour that left the duster; 0 g to 1 t, and up to 1 kg on one piece
	Pieces     int       `json:"pieces" sym:"n_#" range:"1..10000000"` // pieces run meanwhile
}

func (t FlourTrial) perPiece() float64 { return t.Flour.Grams() / float64(t.Pieces) }

// Check requires a trial with up to 1 kg of flour on a piece.
func (t FlourTrial) Check(c *reckon.Checks) {
	good := c.Mark()
	reckon.CheckRange(c, "stickiness", t.Stickiness, 0, stickiest)
	reckon.CheckRange(c, "flour", t.Flour, 0, mostTrialFlour)
	reckon.CheckCount(c, "pieces", t.Pieces, 1, mostPiecesInRun)
	if c.Mark() == good && !(t.perPiece() <= mostDusting.Grams()) {
		c.Fail("flour", t.Flour.String(), "at most "+mostDusting.String()+" on one piece")
	}
}

// StickinessFit asks how much dusting flour a piece takes at each step of the
// shop's own stickiness scale, by the straight line of least squares through the
// shop's N trials:
//
//	x_m  = sum(x_i) / N
//	g_m  = sum(m_i/n_i) / N
//	S_xx = sum((x_i - x_m)^2)
//	S_xg = sum((x_i - x_m) * (m_i/n_i - g_m))
//	b    = S_xg / S_xx
//	a    = g_m - b*x_m
//	s    = sqrt(sum((m_i/n_i - a - b*x_i)^2) / (N - 2))
//	m_r  = the weight of the pieces, alike in all trials
//
// with m_i the flour that left the duster and n_i the pieces. It holds for
// this shop, this duster and this flour, between the least and the most sticky
// trial. Dust no more than keeps pieces from sticking: run the trials there.
//
// It is refused if:
//   - there are fewer than two trials, or all are at one step of stickiness,
//   - a trial put more than 1 kg on a piece.
//
// Source: least squares, checked on NIST StRD Norris; common practice of the
// trade; cases in testdata/cases/divider/stickiness-fit.json.
type StickinessFit struct {
	Trials     []FlourTrial `json:"trials" items:"..10000"`                   // at least two, at two different steps of stickiness
	TrialPiece unit.Mass    `json:"trial_piece,omitzero" range:"0 g..100 kg"` // dough weight of the pieces, alike in all trials; leave out if the scale is only for such pieces
}

// StickinessFitResult is the shop's scale.
type StickinessFitResult struct {
	Scale      StickinessScale `json:"scale"`      // for [FlourUse]
	Conditions Conditions      `json:"conditions"` // weigh-more
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust
}

func (StickinessFit) ID() string { return "stickiness-fit" }

func (q StickinessFit) Check(c *reckon.Checks) { q.check(c) }

// check returns the least and the most sticky trial.
func (q *StickinessFit) check(c *reckon.Checks) (from, to float64) {
	start := c.Mark()
	from, to = math.Inf(1), math.Inf(-1)
	reckon.CheckItems(c, "trials", len(q.Trials), maxTrials)
	for i, t := range q.Trials {
		from, to = math.Min(from, t.Stickiness), math.Max(to, t.Stickiness)
		mark := c.Mark()
		t.Check(c)
		c.Item(mark, "trials", i)
	}
	switch {
	case len(q.Trials) < 2:
		c.Fail("trials", strconv.Itoa(len(q.Trials))+" trials", "two or more, at different steps of stickiness")
	// Steps closer than this cannot be told apart by hand, and the slope through them means nothing.
	case c.Mark() == start && to-from < 1e-6:
		c.Fail("trials", "all at stickiness "+strconv.FormatFloat(from, 'g', -1, 64), "trials at two or more different steps of stickiness")
	}
	checkOptionalMass(c, "trial_piece", q.TrialPiece)
	return from, to
}

func (q StickinessFit) Solve() (out StickinessFitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	from, to := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	n := float64(len(q.Trials))
	var meanX, meanG float64
	for _, t := range q.Trials {
		meanX += t.Stickiness / n
		meanG += t.perPiece() / n
	}
	var sxx, sxg float64
	for _, t := range q.Trials {
		dx := t.Stickiness - meanX
		sxx += float64(dx * dx)
		sxg += float64(dx * (t.perPiece() - meanG))
	}
	slope := sxg / sxx
	intercept := meanG - float64(slope*meanX)
	out = StickinessFitResult{Cautions: reckon.FlourDust, Scale: StickinessScale{
		Intercept: unit.Grams(intercept), PerStep: unit.Grams(slope), StickinessLow: from, StickinessHigh: to, TrialCount: len(q.Trials), TrialPiece: q.TrialPiece,
	}}
	if len(q.Trials) < fewTrials {
		out.Conditions |= WeighMore
		return out, nil
	}
	var squares float64
	for _, t := range q.Trials {
		r := t.perPiece() - meanG - float64(slope*(t.Stickiness-meanX))
		squares += float64(r * r)
	}
	out.Scale.SD = unit.Grams(math.Sqrt(squares / (n - 2)))
	return out, nil
}

func (q StickinessFit) Show(w *reckon.Working, out StickinessFitResult) {
	w.Inputs(q)
	w.Lines(out,
		"trials: N = count(x_#...)",
		"least stickiness tried: x_low = min(x_#...)",
		"most: x_high = max(x_#...)",
		"mean stickiness: x_m = sum(x_#)/N",
		"mean flour on a piece: g_m = sum(m_#/n_#)/N in g",
		"sum of squares of stickiness about its mean: S_xx = sum(pow(x_# - x_m, 2))",
		"sum of products of stickiness and flour about their means: S_xg = sum((x_# - x_m)*(m_#/n_# - g_m)) in g",
		"more flour for each step: b = S_xg/S_xx  [least squares]",
		"flour at stickiness 0, by the line: a = g_m - b*x_m  [least squares]",
	)
	if len(q.Trials) >= fewTrials {
		w.Lines(out, "scatter about the line: s = sqrt(sum(pow(m_#/n_# - a - b*x_#, 2))/(N - 2))")
	}
}

// FlourUse asks how much dusting flour a piece, an hour and a run will take, for
// the stickiness of the dough on the shop's own scale:
//
//	A = (m / m_r)^(2/3)    (1 if the scale names no m_r)
//	g = (a + b*x) * A      (the trials scattered about it by s*A)
//	H = g * r * 60/1000
//	G = g * r * t/60
//
// It is an estimate from the shop's trials, good between their least and most
// sticky dough. A scale with fewer than three trials behind it sets
// uncalibrated. Dust no more than keeps pieces from sticking; what floats in
// the air is under limits that differ by authority: see [DustLimit].
//
// It is refused if:
//   - the scale gives less than no flour or more than 1 kg on a piece at that stickiness,
//   - piece is missing with a scale that names its trial_piece, or given without one.
//
// Source: the shop's own trials; common practice of the trade, in
// testdata/cases/divider/flour-use.json.
//
// The inverse is [StickinessForFlour].
type FlourUse struct {
	Scale      StickinessScale `json:"scale"`                                                      // from [StickinessFit]
	Stickiness float64         `json:"stickiness" sym:"x" range:"0..1000"`                         // of today's dough, on the shop's own scale
	Piece      unit.Mass       `json:"piece,omitzero" sym:"m" range:"-"`                           // dough weight of a piece, 1 mg to 100 kg, if the scale names its trial_piece
	PieceRate  unit.PieceRate  `json:"piece_rate" sym:"r" range:">0 pieces/min..10000 pieces/min"` // pieces that pass the duster
	RunTime    unit.Duration   `json:"run_time" sym:"t" range:"1 s..7 d"`                          // length of the run
}

// FlourUseResult is what the duster gives.
type FlourUseResult struct {
	FlourPerPiece unit.Mass       `json:"flour_per_piece" sym:"g"` // flour on one piece, what falls beside it included
	Hour          unit.MassRate   `json:"hour" sym:"H"`            // flour in an hour
	PerRun        unit.Mass       `json:"per_run" sym:"G"`         // flour in the run
	Conditions    Conditions      `json:"conditions"`              // uncalibrated, extrapolated
	Cautions      reckon.Cautions `json:"cautions"`                // flour-dust, moving-machinery
}

func (FlourUse) ID() string { return "flour-use" }

func (q FlourUse) Check(c *reckon.Checks) { q.check(c) }

// check returns the flour on a piece, in g.
func (q *FlourUse) check(c *reckon.Checks) float64 {
	mark := c.Mark()
	q.Scale.Check(c)
	ready := c.Mark() == mark
	c.Under(mark, "scale")
	ready = reckon.CheckRange(c, "stickiness", q.Stickiness, 0, stickiest) && ready
	ready = ready && q.Scale.checkPiece(c, q.Piece)
	reckon.CheckRange(c, "run_time", q.RunTime, 1, longestRun)
	if !(q.PieceRate > 0 && q.PieceRate <= fastestPieces) {
		c.Fail("piece_rate", q.PieceRate.String(), "more than 0 pieces/min, up to "+fastestPieces.String())
	}
	flour := (q.Scale.Intercept.Grams() + float64(q.Scale.PerStep.Grams()*q.Stickiness)) * q.Scale.onPiece(q.Piece)
	if ready && !(flour >= 0 && flour <= mostDusting.Grams()) {
		c.Fail("stickiness", strconv.FormatFloat(q.Stickiness, 'g', 6, 64), "a step at which the scale gives 0 g to "+mostDusting.String()+
			" on a piece; it was tried from "+strconv.FormatFloat(q.Scale.StickinessLow, 'g', 6, 64)+" to "+strconv.FormatFloat(q.Scale.StickinessHigh, 'g', 6, 64))
	}
	return flour
}

func (q FlourUse) Solve() (out FlourUseResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	flour := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	perMinute := flour * q.PieceRate.PiecesPerMinute()
	return FlourUseResult{
		FlourPerPiece: unit.Grams(flour), Hour: unit.KilogramsPerHour(perMinute * 60 / 1000),
		PerRun: unit.Grams(perMinute * (float64(q.RunTime) / 60)), Conditions: q.Scale.conditions(q.Stickiness),
		Cautions: reckon.FlourDust | reckon.MovingMachinery,
	}, nil
}

func (q FlourUse) Show(w *reckon.Working, out FlourUseResult) {
	w.Inputs(q)
	w.Lines(out,
		q.Scale.surfaceLine(),
		"flour on a piece: g = (a + b*x)*A  [the shop's own line]",
		"flour in an hour: H = g*r * 60{min/h}/1000{g/kg}",
		"flour in the run: G = g*r * t/60{s/min}",
	)
}

// StickinessForFlour asks how sticky a dough is that takes so much dusting
// flour, on the shop's own scale:
//
//	A = (m / m_r)^(2/3)    (1 if the scale names no m_r)
//	x = (g/A - a) / b      (the trials scattered by s about the line)
//
// It is the inverse of [FlourUse], with the same validity. If a dough takes
// more steps than usual, look at its temperature and water before you dust more.
//
// It is refused if:
//   - the scale's flour does not rise by at least 0.001 mg a step,
//   - piece is missing with a scale that names its trial_piece, or given without one.
//
// Source: as for [FlourUse].
//
// The inverse is [FlourUse].
type StickinessForFlour struct {
	Scale         StickinessScale `json:"scale"`                                     // from [StickinessFit]; its flour must rise with stickiness
	FlourPerPiece unit.Mass       `json:"flour_per_piece" sym:"g" range:"0 g..1 kg"` // flour on one piece
	Piece         unit.Mass       `json:"piece,omitzero" sym:"m" range:"-"`          // dough weight of a piece, 1 mg to 100 kg, if the scale names its trial_piece
}

// StickinessForFlourResult is how sticky the dough was.
type StickinessForFlourResult struct {
	Stickiness float64         `json:"stickiness" sym:"x"` // on the shop's own scale; may lie outside it
	Conditions Conditions      `json:"conditions"`         // uncalibrated, extrapolated
	Cautions   reckon.Cautions `json:"cautions"`           // flour-dust
}

func (StickinessForFlour) ID() string { return "stickiness-for-flour" }

func (q StickinessForFlour) Check(c *reckon.Checks) {
	mark := c.Mark()
	q.Scale.Check(c)
	if q.Scale.PerStep < 1e-6 && c.Mark() == mark {
		c.Fail("per_step", q.Scale.PerStep.String(), "a scale whose flour rises with stickiness; weigh the trials again")
	}
	ready := c.Mark() == mark
	c.Under(mark, "scale")
	reckon.CheckRange(c, "flour_per_piece", q.FlourPerPiece, 0, mostDusting)
	if ready {
		q.Scale.checkPiece(c, q.Piece)
	}
}

func (q StickinessForFlour) Solve() (out StickinessForFlourResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	x := (q.FlourPerPiece.Grams()/q.Scale.onPiece(q.Piece) - q.Scale.Intercept.Grams()) / q.Scale.PerStep.Grams()
	return StickinessForFlourResult{Stickiness: x, Conditions: q.Scale.conditions(x), Cautions: reckon.FlourDust}, nil
}

func (q StickinessForFlour) Show(w *reckon.Working, out StickinessForFlourResult) {
	w.Inputs(q)
	w.Lines(out, q.Scale.surfaceLine(), "stickiness, on the shop's scale: x = (g/A - a)/b")
}
