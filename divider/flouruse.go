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
)

// A StickinessScale says how much dusting flour a piece takes at each step of
// the shop's own scale of stickiness. There is no universal one: what a hand
// calls sticky, and what a duster gives, differ from shop to shop.
type StickinessScale struct {
	Intercept unit.Mass `json:"intercept"` // flour on a piece at stickiness 0, by the line; may be below zero
	PerStep   unit.Mass `json:"per_step"`  // more flour for each step of stickiness
	From      float64   `json:"from"`      // least sticky trial, on the shop's scale
	To        float64   `json:"to"`        // stickiest trial
	Spread    unit.Mass `json:"spread"`    // scatter of the trials about the line (residual standard deviation); 0 with fewer than three
	Trials    int       `json:"trials"`    // trials behind the line; with fewer than three the scale counts as uncalibrated
}

// FlourTrial is one weighing of dusting flour: set the duster so that the
// pieces just do not stick, run some pieces, and weigh what left the duster.
type FlourTrial struct {
	Stickiness float64   `json:"stickiness"` // on the shop's own scale; 0 to 1000
	Flour      unit.Mass `json:"flour"`      // flour that left the duster; 0 g to 1000 kg
	Pieces     int       `json:"pieces"`     // pieces run meanwhile; 1 to 10 million
}

// StickinessFit returns the flour on a piece against the shop's own scale of
// stickiness, as the straight line of least squares through the shop's trials:
//
//	g = a + b*x,  b = Sxy / Sxx,  a = mean g - b * mean x
//
// with g the flour that left the duster for each piece. It holds for this shop,
// this duster and this flour, between the least and the most sticky trial.
// Only as much flour as keeps pieces from sticking: run the trials there.
//
// It returns an *[reckon.InputError] if:
//   - trials has fewer than two entries, or all are at one step of stickiness,
//   - a stickiness is outside 0 to 1000, a weight of flour outside 0 g to 1000 kg
//     or the pieces outside 1 to 10 million,
//   - a trial comes to more than 1 kg on a piece.
//
// Source: least squares, checked on NIST StRD Norris; common practice of the
// trade; cases in testdata/cases/divider/stickiness-fit.json.
type StickinessFit struct {
	Trials []FlourTrial `json:"trials"` // at least two, at two different steps of stickiness
}

func (StickinessFit) ID() string { return "stickiness-fit" }

// SHELL
func (q StickinessFit) Check(c *reckon.Checks) {
	_, err := explainStickinessFit(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StickinessFit) Solve() (StickinessFitResult, error) { return explainStickinessFit(q, nil) }

func (q StickinessFit) Show(w *reckon.Working, _ StickinessFitResult) {
	_, _ = explainStickinessFit(q, w)
}

// StickinessFitResult is the shop's scale.
type StickinessFitResult struct {
	Scale      StickinessScale `json:"scale"`      // for [FlourUse]
	Conditions Conditions      `json:"conditions"` // weigh-more
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust
}

func explainStickinessFit(in StickinessFit, w *reckon.Working) (out StickinessFitResult, err error) {
	c := reckon.Checks{Func: "stickiness-fit"}
	for i := range in.Trials {
		in.Trials[i].check(&c, i)
	}
	if len(in.Trials) < 2 {
		c.Fail("trials", strconv.Itoa(len(in.Trials))+" trials", "two or more, at different steps of stickiness")
	}
	if err := c.Err(); err != nil {
		return StickinessFitResult{}, err
	}
	n := float64(len(in.Trials))
	from, to := math.Inf(1), math.Inf(-1)
	var meanX, meanG float64
	for _, t := range in.Trials {
		from, to = math.Min(from, t.Stickiness), math.Max(to, t.Stickiness)
		meanX += t.Stickiness / n
		meanG += t.perPiece() / n
	}
	// Steps closer than this cannot be told apart by hand, and the slope through them means nothing.
	if to-from < 1e-6 {
		c.Fail("trials", "all at stickiness "+strconv.FormatFloat(from, 'g', -1, 64), "trials at two or more different steps of stickiness")
		return StickinessFitResult{}, c.Err()
	}
	var sxx, sxy float64
	for _, t := range in.Trials {
		dx := t.Stickiness - meanX
		sxx += float64(dx * dx)
		sxy += float64(dx * (t.perPiece() - meanG))
	}
	slope := sxy / sxx
	intercept := meanG - float64(slope*meanX)
	out = StickinessFitResult{Cautions: reckon.FlourDust, Scale: StickinessScale{
		Intercept: unit.Grams(intercept), PerStep: unit.Grams(slope), From: from, To: to, Trials: len(in.Trials),
	}}
	if len(in.Trials) < fewTrials {
		out.Conditions |= WeighMore
	} else {
		var squares float64
		for _, t := range in.Trials {
			r := t.perPiece() - meanG - float64(slope*(t.Stickiness-meanX))
			squares += float64(r * r)
		}
		out.Scale.Spread = unit.Grams(math.Sqrt(squares / (n - 2)))
	}
	if w != nil {
		w.Given("mean stickiness of the trials", "x", meanX, "", "of the trials given")
		w.Given("mean flour on a piece", "g", meanG, "g", "of the trials given")
		w.Given("sum of squares of stickiness about its mean", "Sxx", sxx, "", "of the trials given")
		w.Given("sum of products of stickiness and flour about their means", "Sxy", sxy, "g", "of the trials given")
		w.Step("more flour for each step", "b", "Sxy / Sxx", slope, "g", "least squares")
		w.Step("flour at stickiness 0, by the line", "a", "g - b*x", intercept, "g", "least squares")
	}
	return out, nil
}

func (t FlourTrial) perPiece() float64 { return t.Flour.Grams() / float64(t.Pieces) }

// check puts the names together only for what is bad.
func (t FlourTrial) check(c *reckon.Checks, i int) {
	good := t.Stickiness >= 0 && t.Stickiness <= stickiest && t.Flour >= 0 && t.Flour <= mostTrialFlour && t.Pieces >= 1 && t.Pieces <= mostPiecesInRun
	if good && t.perPiece() <= mostDusting.Grams() {
		return
	}
	field := "trials[" + strconv.Itoa(i) + "]"
	if good {
		c.Fail(field+".flour", t.Flour.String(), "at most "+mostDusting.String()+" on one piece")
		return
	}
	reckon.CheckRange(c, field+".stickiness", t.Stickiness, 0, stickiest)
	reckon.CheckRange(c, field+".flour", t.Flour, 0, mostTrialFlour)
	reckon.CheckCount(c, field+".pieces", t.Pieces, 1, mostPiecesInRun)
}

// FlourUse returns the dusting flour for each piece, hour and run, from the
// stickiness of the dough on the shop's own scale:
//
//	g    = a + b*x
//	hour = g * rate,  run = g * rate * time
//
// It is an estimate from the shop's trials, good between their least and most
// sticky dough. A scale with fewer than three trials behind it sets
// uncalibrated. Only as much flour as keeps pieces from sticking; what floats
// in the air is under limits that differ by authority: see [DustLimit].
//
// It returns an *[reckon.InputError] if:
//   - a value of the scale is not finite, beyond 1 kg a piece or negative where it counts or spreads,
//   - stickiness is outside 0 to 1000, or where the scale gives less than no flour
//     or more than 1 kg on a piece,
//   - rate is not above 0 and at most 10 000 pieces/min,
//   - run is outside 1 s to 7 d.
//
// Source: the shop's own trials; common practice of the trade, in
// testdata/cases/divider/flour-use.json.
//
// The inverse is [StickinessForFlour].
type FlourUse struct {
	Scale      StickinessScale `json:"scale"`      // from [StickinessFit]
	Stickiness float64         `json:"stickiness"` // of today's dough, on the shop's own scale; 0 to 1000
	Rate       unit.PieceRate  `json:"rate"`       // pieces that pass the duster; above 0 to 10 000 pieces/min
	Run        unit.Duration   `json:"run"`        // length of the run; 1 s to 7 d
}

func (FlourUse) ID() string { return "flour-use" }

// SHELL
func (q FlourUse) Check(c *reckon.Checks) {
	_, err := explainFlourUse(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FlourUse) Solve() (FlourUseResult, error) { return explainFlourUse(q, nil) }

func (q FlourUse) Show(w *reckon.Working, _ FlourUseResult) { _, _ = explainFlourUse(q, w) }

// FlourUseResult is what the duster gives.
type FlourUseResult struct {
	PerPiece   unit.Mass       `json:"per_piece"`  // flour on one piece, what falls beside it included
	Hour       unit.MassRate   `json:"hour"`       // flour in an hour
	Run        unit.Mass       `json:"run"`        // flour in the run
	Conditions Conditions      `json:"conditions"` // uncalibrated, extrapolated
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust, moving-machinery
}

func explainFlourUse(in FlourUse, w *reckon.Working) (out FlourUseResult, err error) {
	c := reckon.Checks{Func: "flour-use"}
	in.Scale.check(&c)
	ready := c.OK()
	stickinessOK := reckon.CheckRange(&c, "stickiness", in.Stickiness, 0, stickiest)
	reckon.CheckRange(&c, "run", in.Run, 1, longestRun)
	if !(in.Rate > 0 && in.Rate <= fastestPieces) {
		c.Fail("rate", in.Rate.String(), "more than 0 pieces/min, up to "+fastestPieces.String())
	}
	flour := in.Scale.Intercept.Grams() + float64(in.Scale.PerStep.Grams()*in.Stickiness)
	if ready && stickinessOK && !(flour >= 0 && flour <= mostDusting.Grams()) {
		c.Fail("stickiness", strconv.FormatFloat(in.Stickiness, 'g', 6, 64), "a step at which the scale gives 0 g to "+mostDusting.String()+
			" on a piece; it was tried from "+strconv.FormatFloat(in.Scale.From, 'g', 6, 64)+" to "+strconv.FormatFloat(in.Scale.To, 'g', 6, 64))
	}
	if err := c.Err(); err != nil {
		return FlourUseResult{}, err
	}
	perMinute := flour * in.Rate.PiecesPerMinute()
	out = FlourUseResult{
		PerPiece: unit.Grams(flour), Hour: unit.KilogramsPerHour(perMinute * 60 / 1000),
		Run: unit.Grams(perMinute * (float64(in.Run) / 60)), Conditions: in.Scale.conditions(in.Stickiness),
		Cautions: reckon.FlourDust | reckon.MovingMachinery,
	}
	if w != nil {
		in.Scale.explain(w)
		w.Given("stickiness, on the shop's scale", "x", in.Stickiness, "", "")
		w.Step("flour on a piece", "g", "a + b*x", flour, "g", "the shop's own line")
		w.Given("pieces in a minute", "r", in.Rate.PiecesPerMinute(), "pieces/min", "")
		w.Given("length of the run", "t", float64(in.Run), "s", "")
		w.Step("flour in an hour", "H", "g*r * 60 / 1000", float64(out.Hour), "kg/h", "")
		w.Step("flour in the run", "G", "g*r * (t/60)", out.Run.Grams(), "g", "")
	}
	return out, nil
}

func (s StickinessScale) check(c *reckon.Checks) {
	reckon.CheckRange(c, "scale.intercept", s.Intercept, -stickiestFlour, stickiestFlour)
	reckon.CheckRange(c, "scale.per_step", s.PerStep, -stickiestFlour, stickiestFlour)
	reckon.CheckRange(c, "scale.from", s.From, 0, stickiest)
	reckon.CheckRange(c, "scale.to", s.To, 0, stickiest)
	if s.To < s.From {
		c.Fail("scale.to", strconv.FormatFloat(s.To, 'g', 6, 64), "at least scale.from, "+strconv.FormatFloat(s.From, 'g', 6, 64))
	}
	reckon.CheckRange(c, "scale.spread", s.Spread, 0, stickiestFlour)
	reckon.CheckCount(c, "scale.trials", s.Trials, 0, 1_000_000)
}

// stickiestFlour bounds the figures of a scale: a line through two trials of 1 kg
// a hair apart in stickiness is no scale.
const stickiestFlour unit.Mass = 1e6

func (s StickinessScale) conditions(stickiness float64) Conditions {
	var out Conditions
	if s.Trials < fewTrials {
		out |= reckon.Uncalibrated
	}
	if stickiness < s.From || stickiness > s.To {
		out |= reckon.Extrapolated
	}
	return out
}

func (s StickinessScale) explain(w *reckon.Working) {
	w.Given("flour at stickiness 0, by the line", "a", s.Intercept.Grams(), "g", "the shop's own trials")
	w.Given("more flour for each step", "b", s.PerStep.Grams(), "g", "the shop's own trials")
}

// StickinessForFlour returns the step on the shop's own scale of stickiness
// that goes with an amount of dusting flour:
//
//	x = (g - a) / b
//
// It is the inverse of [FlourUse], with the same validity. A dough that takes
// more steps than usual wants a look at its temperature and water, not more flour.
//
// It returns an *[reckon.InputError] if:
//   - the scale is not as [FlourUse] wants it, or its flour does not rise by at least 0.000001 g a step,
//   - per_piece is outside 0 g to 1 kg.
//
// Source: as for [FlourUse].
type StickinessForFlour struct {
	Scale    StickinessScale `json:"scale"`     // from [StickinessFit]; its flour must rise with stickiness
	PerPiece unit.Mass       `json:"per_piece"` // flour on one piece; 0 g to 1 kg
}

func (StickinessForFlour) ID() string { return "stickiness-for-flour" }

// SHELL
func (q StickinessForFlour) Check(c *reckon.Checks) {
	_, err := explainStickinessForFlour(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q StickinessForFlour) Solve() (StickinessForFlourResult, error) {
	return explainStickinessForFlour(q, nil)
}

func (q StickinessForFlour) Show(w *reckon.Working, _ StickinessForFlourResult) {
	_, _ = explainStickinessForFlour(q, w)
}

// StickinessForFlourResult is how sticky the dough was.
type StickinessForFlourResult struct {
	Stickiness float64         `json:"stickiness"` // on the shop's own scale; may lie outside it
	Conditions Conditions      `json:"conditions"` // uncalibrated, extrapolated
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust
}

func explainStickinessForFlour(in StickinessForFlour, w *reckon.Working) (out StickinessForFlourResult, err error) {
	c := reckon.Checks{Func: "stickiness-for-flour"}
	in.Scale.check(&c)
	if in.Scale.PerStep < 1e-6 && c.OK() {
		c.Fail("scale.per_step", in.Scale.PerStep.String(), "a scale whose flour rises with stickiness; weigh the trials again")
	}
	reckon.CheckRange(&c, "per_piece", in.PerPiece, 0, mostDusting)
	if err := c.Err(); err != nil {
		return StickinessForFlourResult{}, err
	}
	x := (in.PerPiece.Grams() - in.Scale.Intercept.Grams()) / in.Scale.PerStep.Grams()
	out = StickinessForFlourResult{Stickiness: x, Conditions: in.Scale.conditions(x), Cautions: reckon.FlourDust}
	if w != nil {
		in.Scale.explain(w)
		w.Given("flour on a piece", "g", in.PerPiece.Grams(), "g", "")
		w.Step("stickiness, on the shop's scale", "x", "(g - a) / b", x, "", "")
	}
	return out, nil
}
