package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// LossBasis names what a loss is counted on. Sources use both: a tenth of the
// dough is a ninth of the bread.
type LossBasis string

const (
	// LossOnDough counts on the weight that goes into the stage: out = in * (1 - l), so in = out / (1 - l).
	LossOnDough LossBasis = "dough"
	// LossOnBaked counts on the weight that comes out of the stage: in = out * (1 + l).
	LossOnBaked LossBasis = "baked"
)

// LossCombination names how the losses of several stages go together.
type LossCombination string

const (
	// LossesCompounded takes each loss on the weight at its own stage.
	LossesCompounded LossCombination = "compounded"
	// LossesAdded adds the percentages and takes the sum once; they must count on the same weight.
	LossesAdded LossCombination = "added"
)

// Loss is what one stage loses. The zero Loss is no loss.
type Loss struct {
	Percent unit.Percent `json:"percent"` // 0 to under 100 % on dough, 0 to 1000 % on baked
	Basis   LossBasis    `json:"basis"`   // "dough" (of what goes in) or "baked" (of what comes out)
}

// The loss from dough to bread on dough weight outside which it is called
// unusual: pan bread loses about 10 to 13 %, crusty hearth bread up to 30 %.
// Common practice; the lower figures from W. Gisslen, Professional Baking.
const leastUsualLoss, mostUsualLoss = 5, 30

// Losses are the stages between the scaled piece and the bread that is sold.
type Losses struct {
	Fermentation Loss            `json:"fermentation,omitzero"` // from scaling to the oven; leave out for none
	Bake         Loss            `json:"bake"`                  // in the oven
	Cooling      Loss            `json:"cooling,omitzero"`      // from the oven to the weight that counts; leave out for none
	Combine      LossCombination `json:"combine"`               // "compounded" or "added"
}

func (l *Loss) check(c *reckon.Checks, field string, required bool) {
	if !required && l.Percent == 0 && l.Basis == "" {
		return
	}
	// The paths are put together only when there is something to say.
	if l.Basis != LossOnDough && l.Basis != LossOnBaked {
		reckon.CheckEither(c, field+".basis", l.Basis, LossOnDough, LossOnBaked)
		if l.Percent >= 0 && l.Percent < 100 {
			return
		}
	}
	switch {
	case l.Basis == LossOnBaked && !(l.Percent >= 0 && l.Percent <= 1000):
		reckon.CheckRange(c, field+".percent", l.Percent, 0, 1000)
	case l.Basis != LossOnBaked && !(l.Percent >= 0 && l.Percent < 100):
		reckon.CheckBelow(c, field+".percent", l.Percent, 0, 100)
	}
}

func (l *Losses) check(c *reckon.Checks) {
	l.Fermentation.check(c, "fermentation", false)
	l.Bake.check(c, "bake", true)
	l.Cooling.check(c, "cooling", false)
	reckon.CheckEither(c, "combine", l.Combine, LossesCompounded, LossesAdded)
	if !c.OK() || l.Combine != LossesAdded {
		return
	}
	if l.Fermentation != (Loss{}) && l.Fermentation.Basis != l.Bake.Basis {
		c.Fail("fermentation.basis", string(l.Fermentation.Basis), "the basis of the bake loss ("+string(l.Bake.Basis)+"): only losses on the same weight can be added")
	}
	if l.Cooling != (Loss{}) && l.Cooling.Basis != l.Bake.Basis {
		c.Fail("cooling.basis", string(l.Cooling.Basis), "the basis of the bake loss ("+string(l.Bake.Basis)+"): only losses on the same weight can be added")
	}
	if sum := l.sum(); c.OK() && l.Bake.Basis == LossOnDough && !(sum < 100) {
		c.Fail("bake.percent", reckon.Text(l.Bake.Percent), "losses that add up to under 100 % of the dough: they make "+reckon.Text(unit.Percent(sum)))
	}
}

func (l *Losses) sum() float64 {
	return float64(l.Fermentation.Percent) + float64(l.Bake.Percent) + float64(l.Cooling.Percent)
}

// stage returns what goes into a stage for 1 that comes out.
func stage(l Loss) float64 {
	if l.Basis == LossOnBaked {
		return 1 + float64(l.Percent)/100
	}
	return 1 / (1 - float64(l.Percent)/100)
}

// factor returns the dough for 1 of bread.
func (l *Losses) factor() float64 {
	if l.Combine == LossesAdded {
		return stage(Loss{Percent: unit.Percent(l.sum()), Basis: l.Bake.Basis})
	}
	return stage(l.Fermentation) * stage(l.Bake) * stage(l.Cooling)
}

// explain records the factor k.
func (l *Losses) explain(w *reckon.Working, k float64) {
	w.Given("fermentation loss", "l_f", float64(l.Fermentation.Percent), "%", "")
	w.Given("bake loss", "l_b", float64(l.Bake.Percent), "%", "")
	w.Given("cooling loss", "l_c", float64(l.Cooling.Percent), "%", "")
	if l.Combine == LossesAdded {
		w.Step("losses together", "l", "l_f + l_b + l_c", l.sum(), "%", "added")
		if l.Bake.Basis == LossOnBaked {
			w.Step("dough for one of bread", "k", "1 + l/100", k, "", "on baked weight")
		} else {
			w.Step("dough for one of bread", "k", "1/(1 - l/100)", k, "", "on dough weight")
		}
		return
	}
	for _, s := range [...]struct {
		id, symbol, on, off string
		loss                Loss
	}{
		{"into fermentation for one out of it", "k_f", "1/(1 - l_f/100)", "1 + l_f/100", l.Fermentation},
		{"into the oven for one out of it", "k_b", "1/(1 - l_b/100)", "1 + l_b/100", l.Bake},
		{"into cooling for one out of it", "k_c", "1/(1 - l_c/100)", "1 + l_c/100", l.Cooling},
	} {
		if s.loss.Basis == LossOnBaked {
			w.Step(s.id, s.symbol, s.off, stage(s.loss), "", "on what comes out")
		} else {
			w.Step(s.id, s.symbol, s.on, stage(s.loss), "", "on what goes in")
		}
	}
	w.Step("dough for one of bread", "k", "k_f*k_b*k_c", k, "", "compounded")
}

func lossCondition(onDough float64) Conditions {
	// The slack keeps a loss that is just at the limit within it.
	if onDough < leastUsualLoss-roundingSlack || onDough > mostUsualLoss+roundingSlack {
		return UnusualLoss
	}
	return 0
}

// ScalingWeight returns the dough weight that gives the wanted baked weight.
//
//	on dough: dough = baked / (1 - l)
//	on baked: dough = baked * (1 + l)
//	compounded: the stages one after the other; added: l = l_f + l_b + l_c, once
//
// What a loss counts on, and how losses go together, is named with each, because sources
// differ: 1.02 times is not the same as over 0.98.
//
// The loss of a piece falls as the piece grows, so a loss holds only near the
// weight at which it was measured; see [LossFromWeights].
//
// It returns an *[reckon.InputError] if:
//   - baked is outside 1 mg to 1000 t,
//   - a loss is negative, 100 % or more of the dough, or more than 1000 % of the bread,
//   - a basis or the combination is not named,
//   - losses on different weights are to be added, or add up to 100 % of the dough or more.
//
// Source: W. Gisslen, Professional Baking (2008), scaling allowance; A. Gupta, material balance slides
// (fermentation factor); cases in testdata/cases/doughmath/scaling-weight.json.
//
// The inverse is [BakedWeightForDough].
type ScalingWeight struct {
	Baked        unit.Mass       `json:"baked"`                 // weight wanted of one piece as sold; 1 mg to 1000 t
	Fermentation Loss            `json:"fermentation,omitzero"` // from scaling to the oven; leave out for none
	Bake         Loss            `json:"bake"`                  // in the oven
	Cooling      Loss            `json:"cooling,omitzero"`      // from the oven to the weight that counts; leave out for none
	Combine      LossCombination `json:"combine"`               // "compounded" or "added"
}

func (ScalingWeight) ID() string { return "scaling-weight" }

// SHELL
func (q ScalingWeight) Check(c *reckon.Checks) {
	_, err := explainScalingWeight(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q ScalingWeight) Solve() (ScalingWeightResult, error) { return explainScalingWeight(q, nil) }

func (q ScalingWeight) Show(w *reckon.Working, _ ScalingWeightResult) {
	_, _ = explainScalingWeight(q, w)
}

// ScalingWeightResult is the dough to scale.
type ScalingWeightResult struct {
	Dough       unit.Mass       `json:"dough"`         // dough weight of one piece
	Extra       unit.Mass       `json:"extra"`         // dough above the weight wanted
	LossOnDough unit.Percent    `json:"loss_on_dough"` // all that is lost, on the dough weight
	LossOnBaked unit.Percent    `json:"loss_on_baked"` // the same, on the baked weight
	Conditions  Conditions      `json:"conditions"`    // unusual-loss
	Cautions    reckon.Cautions `json:"cautions"`      // weights-law
}

func explainScalingWeight(in ScalingWeight, w *reckon.Working) (out ScalingWeightResult, err error) {
	c := reckon.Checks{Func: "scaling-weight"}
	checkMass(&c, "baked", in.Baked)
	var all Losses
	all.Fermentation, all.Bake, all.Cooling, all.Combine = in.Fermentation, in.Bake, in.Cooling, in.Combine
	all.check(&c)
	if err := c.Err(); err != nil {
		return ScalingWeightResult{}, err
	}
	k := all.factor()
	dough := float64(float64(in.Baked) * k)
	extra := dough - float64(in.Baked)
	out = ScalingWeightResult{
		Dough: unit.Mass(dough), Extra: unit.Mass(extra), LossOnDough: unit.Percent(100 * extra / dough),
		LossOnBaked: unit.Percent(100 * extra / float64(in.Baked)), Cautions: reckon.WeightsLaw,
	}
	out.Conditions = lossCondition(float64(out.LossOnDough))
	if w != nil {
		w.Given("baked weight wanted", "B", float64(in.Baked), "g", "")
		all.explain(w, k)
		w.Step("dough weight", "D", "B*k", dough, "g", "")
		w.Step("dough above the weight wanted", "E", "D - B", extra, "g", "")
		w.Step("loss on dough", "L_d", "100*E/D", float64(out.LossOnDough), "%", "")
		w.Step("loss on baked weight", "L_b", "100*E/B", float64(out.LossOnBaked), "%", "")
	}
	return out, nil
}

// BakedWeightForDough returns the baked weight that a dough weight gives.
//
//	baked = dough / k, with k the dough for one of bread as in scaling-weight
//
// It is the inverse of [ScalingWeight], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - dough is outside 1 mg to 1000 t,
//   - a loss is one that [ScalingWeight] refuses.
//
// Source: W. Gisslen, Professional Baking (2008), scaling allowance, solved for the bread.
type BakedWeightForDough struct {
	Dough        unit.Mass       `json:"dough"`                 // weight of one piece as scaled; 1 mg to 1000 t
	Fermentation Loss            `json:"fermentation,omitzero"` // from scaling to the oven; leave out for none
	Bake         Loss            `json:"bake"`                  // in the oven
	Cooling      Loss            `json:"cooling,omitzero"`      // from the oven to the weight that counts; leave out for none
	Combine      LossCombination `json:"combine"`               // "compounded" or "added"
}

func (BakedWeightForDough) ID() string { return "baked-weight-for-dough" }

// SHELL
func (q BakedWeightForDough) Check(c *reckon.Checks) {
	_, err := explainBakedWeightForDough(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BakedWeightForDough) Solve() (BakedWeightForDoughResult, error) {
	return explainBakedWeightForDough(q, nil)
}

func (q BakedWeightForDough) Show(w *reckon.Working, _ BakedWeightForDoughResult) {
	_, _ = explainBakedWeightForDough(q, w)
}

// BakedWeightForDoughResult is the bread to expect.
type BakedWeightForDoughResult struct {
	Baked       unit.Mass       `json:"baked"`         // weight of one piece as sold
	Lost        unit.Mass       `json:"lost"`          // dough weight - baked weight
	LossOnDough unit.Percent    `json:"loss_on_dough"` // all that is lost, on the dough weight
	LossOnBaked unit.Percent    `json:"loss_on_baked"` // the same, on the baked weight
	Conditions  Conditions      `json:"conditions"`    // unusual-loss
	Cautions    reckon.Cautions `json:"cautions"`      // weights-law
}

func explainBakedWeightForDough(in BakedWeightForDough, w *reckon.Working) (out BakedWeightForDoughResult, err error) {
	c := reckon.Checks{Func: "baked-weight-for-dough"}
	checkMass(&c, "dough", in.Dough)
	all := Losses{in.Fermentation, in.Bake, in.Cooling, in.Combine}
	all.check(&c)
	if err := c.Err(); err != nil {
		return BakedWeightForDoughResult{}, err
	}
	k := all.factor()
	baked := float64(in.Dough) / k
	lost := float64(in.Dough) - baked
	out = BakedWeightForDoughResult{
		Baked: unit.Mass(baked), Lost: unit.Mass(lost), LossOnDough: unit.Percent(100 * lost / float64(in.Dough)),
		LossOnBaked: unit.Percent(100 * lost / baked), Cautions: reckon.WeightsLaw,
	}
	out.Conditions = lossCondition(float64(out.LossOnDough))
	if w != nil {
		w.Given("dough weight", "D", float64(in.Dough), "g", "")
		all.explain(w, k)
		w.Step("baked weight", "B", "D/k", baked, "g", "")
		w.Step("lost", "E", "D - B", lost, "g", "")
		w.Step("loss on dough", "L_d", "100*E/D", float64(out.LossOnDough), "%", "")
		w.Step("loss on baked weight", "L_b", "100*E/B", float64(out.LossOnBaked), "%", "")
	}
	return out, nil
}

// LossFromWeights returns the loss between two weighings, on either basis.
//
//	on dough: l = 100 * (dough - baked) / dough
//	on baked: l = 100 * (dough - baked) / baked
//
// It is exact arithmetic on the weights. Weigh pieces of the size that you
// sell: a small piece loses a larger share than a large one.
//
// It returns an *[reckon.InputError] if:
//   - dough is outside 1 mg to 1000 t,
//   - baked is below 1 mg, more than dough, or less than a thousand-millionth of it.
//
// Source: F. Accum, Art of Making Good Wholesome Bread (1821), weighings; M. Bocevska and others, Kemija u industriji, for the
// fall of the loss with the weight; cases in testdata/cases/doughmath/loss-from-weights.json.
//
// The losses go to [ScalingWeight].
type LossFromWeights struct {
	Dough unit.Mass `json:"dough"` // weight before; 1 mg to 1000 t
	Baked unit.Mass `json:"baked"` // weight after; 1 mg to the dough weight
}

func (LossFromWeights) ID() string { return "loss-from-weights" }

// SHELL
func (q LossFromWeights) Check(c *reckon.Checks) {
	_, err := explainLossFromWeights(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q LossFromWeights) Solve() (LossFromWeightsResult, error) {
	return explainLossFromWeights(q, nil)
}

func (q LossFromWeights) Show(w *reckon.Working, _ LossFromWeightsResult) {
	_, _ = explainLossFromWeights(q, w)
}

// LossFromWeightsResult is what was lost.
type LossFromWeightsResult struct {
	Lost        unit.Mass    `json:"lost"`          // dough weight - baked weight
	LossOnDough unit.Percent `json:"loss_on_dough"` // for [Loss] with the basis "dough"
	LossOnBaked unit.Percent `json:"loss_on_baked"` // for [Loss] with the basis "baked"
	Conditions  Conditions   `json:"conditions"`    // unusual-loss
}

func explainLossFromWeights(in LossFromWeights, w *reckon.Working) (out LossFromWeightsResult, err error) {
	c := reckon.Checks{Func: "loss-from-weights"}
	doughOK := checkMass(&c, "dough", in.Dough)
	if checkMass(&c, "baked", in.Baked) && doughOK && in.Baked > in.Dough {
		c.Fail("baked", reckon.Text(in.Baked), "no more than the dough of "+reckon.Text(in.Dough)+": weigh both again on the same scale")
	}
	// A bread of next to nothing would put the loss on it beyond every bound.
	if c.OK() && in.Baked < in.Dough/1e9 {
		c.Fail("baked", reckon.Text(in.Baked), "a weight that a bread of this dough can have")
	}
	if err := c.Err(); err != nil {
		return LossFromWeightsResult{}, err
	}
	lost := float64(in.Dough) - float64(in.Baked)
	out = LossFromWeightsResult{Lost: unit.Mass(lost), LossOnDough: unit.Percent(100 * lost / float64(in.Dough)), LossOnBaked: unit.Percent(100 * lost / float64(in.Baked))}
	out.Conditions = lossCondition(float64(out.LossOnDough))
	if w != nil {
		w.Given("weight before", "D", float64(in.Dough), "g", "")
		w.Given("weight after", "B", float64(in.Baked), "g", "")
		w.Step("lost", "E", "D - B", lost, "g", "")
		w.Step("loss on baked weight", "L_b", "100*E/B", float64(out.LossOnBaked), "%", "")
		w.Step("loss on dough", "L_d", "100*E/D", float64(out.LossOnDough), "%", "")
	}
	return out, nil
}
