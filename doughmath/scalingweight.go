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
	Percent unit.Percent `json:"percent" sym:"l_#" range:"-"` // 0 to under 100 % on dough, 0 to 1000 % on baked
	Basis   LossBasis    `json:"basis"`                       // "dough" (of what goes in) or "baked" (of what comes out)
}

// Check requires a loss that leaves something, and its basis.
func (l Loss) Check(c *reckon.Checks) { l.check(c) }

func (l *Loss) check(c *reckon.Checks) {
	switch l.Basis {
	case LossOnDough:
		reckon.CheckBelow(c, "percent", l.Percent, 0, 100)
	case LossOnBaked:
		reckon.CheckRange(c, "percent", l.Percent, 0, 1000)
	default:
		reckon.CheckEither(c, "basis", l.Basis, LossOnDough, LossOnBaked)
		reckon.CheckBelow(c, "percent", l.Percent, 0, 100)
	}
}

// factor returns what goes into a stage for 1 that comes out.
func (l Loss) factor() float64 {
	if l.Basis == LossOnBaked {
		return 1 + float64(l.Percent)/100
	}
	return 1 / (1 - float64(l.Percent)/100)
}

// step is the right-hand side of the step to [Loss.factor], n being the symbol's index.
func (l Loss) step(n string) string {
	if l.Basis == LossOnBaked {
		return "1 + l_" + n + "/100  [on what comes out]"
	}
	return "1/(1 - l_" + n + "/100)  [on what goes in]"
}

// The loss from dough to bread on dough weight outside which it is called
// unusual: pan bread loses about 10 to 13 %, crusty hearth bread up to 30 %.
// Common practice; the lower figures from W. Gisslen, Professional Baking.
const leastUsualLoss, mostUsualLoss = 5, 30

func lossCondition(onDough float64) Conditions {
	// The slack keeps a loss that is just at the limit within it.
	if onDough < leastUsualLoss-roundingSlack || onDough > mostUsualLoss+roundingSlack {
		return UnusualLoss
	}
	return 0
}

// Losses are the stages between the scaled piece and the bread that is sold.
type Losses struct {
	Fermentation Loss            `json:"fermentation,omitzero" sym:"f,0"` // from scaling to the oven; leave out for none
	Bake         Loss            `json:"bake" sym:"b"`                    // in the oven
	Cooling      Loss            `json:"cooling,omitzero" sym:"c,0"`      // from the oven to the weight that counts; leave out for none
	Combine      LossCombination `json:"combine"`                         // "compounded" or "added"
}

// Check requires losses that can be combined as asked.
func (l *Losses) Check(c *reckon.Checks) {
	mark := c.Mark()
	if l.Fermentation != (Loss{}) {
		l.Fermentation.check(c)
		c.Under(mark, "fermentation")
		mark = c.Mark()
	}
	l.Bake.check(c)
	c.Under(mark, "bake")
	if l.Cooling != (Loss{}) {
		mark = c.Mark()
		l.Cooling.check(c)
		c.Under(mark, "cooling")
	}
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

// factor returns the dough for 1 of bread.
func (l *Losses) factor() float64 {
	if l.Combine == LossesAdded {
		return Loss{Percent: unit.Percent(l.sum()), Basis: l.Bake.Basis}.factor()
	}
	return l.Fermentation.factor() * l.Bake.factor() * l.Cooling.factor()
}

// lines are the steps from the losses to k, the dough for 1 of bread.
func (l *Losses) lines() []string {
	if l.Combine == LossesAdded {
		k := "1/(1 - l/100)  [on dough weight]"
		if l.Bake.Basis == LossOnBaked {
			k = "1 + l/100  [on baked weight]"
		}
		return []string{
			"losses together: l = l_f + l_b + l_c in %  [added]",
			"dough for one of bread: k = " + k,
		}
	}
	return []string{
		"into fermentation for one out of it: k_f = " + l.Fermentation.step("f"),
		"into the oven for one out of it: k_b = " + l.Bake.step("b"),
		"into cooling for one out of it: k_c = " + l.Cooling.step("c"),
		"dough for one of bread: k = k_f*k_b*k_c  [compounded]",
	}
}

// ScalingWeight asks what dough weight to scale for the baked weight wanted:
//
//	D = B * k, E = D - B
//	on dough: k = 1 / (1 - l / 100), on baked: k = 1 + l / 100
//	compounded: k = k_f * k_b * k_c, stage by stage; added: l = l_f + l_b + l_c, once
//	L_d = 100 * E / D, L_b = 100 * E / B
//
// What a loss counts on, and how losses are combined, is named with each, because sources
// differ: 1.02 times is not the same as over 0.98.
//
// The loss of a piece falls as the piece grows, so a loss holds only near the
// weight at which it was measured; see [LossFromWeights].
//
// It is refused if:
//   - losses on different weights are to be added, or add up to 100 % of the dough or more.
//
// Source: W. Gisslen, Professional Baking (2008), scaling allowance; A. Gupta, material balance slides
// (fermentation factor); cases in testdata/cases/doughmath/scaling-weight.json.
//
// The inverse is [BakedWeightForDough].
type ScalingWeight struct {
	Baked        unit.Mass       `json:"baked" sym:"B" range:"1 mg..1000 t"` // weight wanted of one piece as sold
	Fermentation Loss            `json:"fermentation,omitzero" sym:"f,0"`    // from scaling to the oven; leave out for none
	Bake         Loss            `json:"bake" sym:"b"`                       // in the oven
	Cooling      Loss            `json:"cooling,omitzero" sym:"c,0"`         // from the oven to the weight that counts; leave out for none
	Combine      LossCombination `json:"combine"`                            // "compounded" or "added"
}

// ScalingWeightResult is the dough to scale.
type ScalingWeightResult struct {
	Dough       unit.Mass       `json:"dough" sym:"D"`           // dough weight of one piece
	Extra       unit.Mass       `json:"extra" sym:"E"`           // dough above the weight wanted
	LossOnDough unit.Percent    `json:"loss_on_dough" sym:"L_d"` // all that is lost, on the dough weight
	LossOnBaked unit.Percent    `json:"loss_on_baked" sym:"L_b"` // the same, on the baked weight
	Conditions  Conditions      `json:"conditions"`              // unusual-loss
	Cautions    reckon.Cautions `json:"cautions"`                // weights-law
}

func (ScalingWeight) ID() string { return "scaling-weight" }

func (q ScalingWeight) Check(c *reckon.Checks) { q.check(c) }

// check returns the dough for 1 of bread.
func (q *ScalingWeight) check(c *reckon.Checks) (k float64) {
	checkMass(c, "baked", q.Baked)
	var l Losses // a literal would be built elsewhere and copied
	l.Fermentation, l.Bake, l.Cooling, l.Combine = q.Fermentation, q.Bake, q.Cooling, q.Combine
	l.Check(c)
	return l.factor()
}

func (q ScalingWeight) Solve() (out ScalingWeightResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *ScalingWeight) SolveInto(out *ScalingWeightResult) error {
	*out = ScalingWeightResult{}
	c := reckon.Checks{Func: q.ID()}
	k := q.check(&c)
	if !c.OK() {
		return c.Err()
	}
	dough := float64(float64(q.Baked) * k)
	extra := dough - float64(q.Baked)
	onDough := 100 * extra / dough
	out.Dough, out.Extra, out.LossOnDough, out.LossOnBaked = unit.Mass(dough), unit.Mass(extra), unit.Percent(onDough), unit.Percent(100*extra/float64(q.Baked))
	out.Conditions, out.Cautions = lossCondition(onDough), reckon.WeightsLaw
	return nil
}

func (q ScalingWeight) Show(w *reckon.Working, out ScalingWeightResult) {
	w.Inputs(q)
	l := Losses{q.Fermentation, q.Bake, q.Cooling, q.Combine}
	w.Lines(out, l.lines()...)
	w.Lines(out,
		"dough weight: D = B*k",
		"dough above the weight wanted: E = D - B",
		"loss on dough: L_d = 100*E/D",
		"loss on baked weight: L_b = 100*E/B",
	)
}

// BakedWeightForDough asks how much a scaled piece will weigh once it is baked:
//
//	B = D / k, E = D - B
//	on dough: k = 1 / (1 - l / 100), on baked: k = 1 + l / 100
//	compounded: k = k_f * k_b * k_c, stage by stage; added: l = l_f + l_b + l_c, once
//	L_d = 100 * E / D, L_b = 100 * E / B
//
// It is the inverse of [ScalingWeight], with the same validity and source.
//
// It is refused if:
//   - losses on different weights are to be added, or add up to 100 % of the dough or more.
//
// Source: W. Gisslen, Professional Baking (2008), scaling allowance, solved for the bread.
//
// The inverse is [ScalingWeight].
type BakedWeightForDough struct {
	Dough        unit.Mass       `json:"dough" sym:"D" range:"1 mg..1000 t"` // weight of one piece as scaled
	Fermentation Loss            `json:"fermentation,omitzero" sym:"f,0"`    // from scaling to the oven; leave out for none
	Bake         Loss            `json:"bake" sym:"b"`                       // in the oven
	Cooling      Loss            `json:"cooling,omitzero" sym:"c,0"`         // from the oven to the weight that counts; leave out for none
	Combine      LossCombination `json:"combine"`                            // "compounded" or "added"
}

// BakedWeightForDoughResult is the bread to expect.
type BakedWeightForDoughResult struct {
	Baked       unit.Mass       `json:"baked" sym:"B"`           // weight of one piece as sold
	Lost        unit.Mass       `json:"lost" sym:"E"`            // dough weight - baked weight
	LossOnDough unit.Percent    `json:"loss_on_dough" sym:"L_d"` // all that is lost, on the dough weight
	LossOnBaked unit.Percent    `json:"loss_on_baked" sym:"L_b"` // the same, on the baked weight
	Conditions  Conditions      `json:"conditions"`              // unusual-loss
	Cautions    reckon.Cautions `json:"cautions"`                // weights-law
}

func (BakedWeightForDough) ID() string { return "baked-weight-for-dough" }

func (q BakedWeightForDough) Check(c *reckon.Checks) { q.check(c) }

// check returns the dough for 1 of bread.
func (q *BakedWeightForDough) check(c *reckon.Checks) (k float64) {
	checkMass(c, "dough", q.Dough)
	var l Losses // a literal would be built elsewhere and copied
	l.Fermentation, l.Bake, l.Cooling, l.Combine = q.Fermentation, q.Bake, q.Cooling, q.Combine
	l.Check(c)
	return l.factor()
}

func (q BakedWeightForDough) Solve() (out BakedWeightForDoughResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	k := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	baked := float64(q.Dough) / k
	lost := float64(q.Dough) - baked
	onDough := 100 * lost / float64(q.Dough)
	return BakedWeightForDoughResult{
		Baked: unit.Mass(baked), Lost: unit.Mass(lost), LossOnDough: unit.Percent(onDough), LossOnBaked: unit.Percent(100 * lost / baked),
		Conditions: lossCondition(onDough), Cautions: reckon.WeightsLaw,
	}, nil
}

func (q BakedWeightForDough) Show(w *reckon.Working, out BakedWeightForDoughResult) {
	w.Inputs(q)
	l := Losses{q.Fermentation, q.Bake, q.Cooling, q.Combine}
	w.Lines(out, l.lines()...)
	w.Lines(out,
		"baked weight: B = D/k",
		"lost: E = D - B",
		"loss on dough: L_d = 100*E/D",
		"loss on baked weight: L_b = 100*E/B",
	)
}

// LossFromWeights asks how much weight was lost between two weighings, on either
// basis:
//
//	E = D - B
//	on dough: L_d = 100 * E / D
//	on baked: L_b = 100 * E / B
//
// It is exact arithmetic on the weights. Weigh pieces of the size that you
// sell: a small piece loses a larger share than a large one.
//
// It is refused if:
//   - the bread is heavier than the dough, or lighter than a thousand-millionth of it.
//
// Source: F. Accum, Art of Making Good Wholesome Bread (1821), weighings; M. Bocevska and others, Kemija u industriji, for the
// fall of the loss with the weight; cases in testdata/cases/doughmath/loss-from-weights.json.
//
// The losses go to [ScalingWeight].
type LossFromWeights struct {
	Dough unit.Mass `json:"dough" sym:"D" range:"1 mg..1000 t"` // weight before
	Baked unit.Mass `json:"baked" sym:"B" range:"1 mg..1000 t"` // weight after, no more than the dough weight
}

// LossFromWeightsResult is what was lost.
type LossFromWeightsResult struct {
	Lost        unit.Mass    `json:"lost" sym:"E"`            // dough weight - baked weight
	LossOnDough unit.Percent `json:"loss_on_dough" sym:"L_d"` // for [Loss] with the basis "dough"
	LossOnBaked unit.Percent `json:"loss_on_baked" sym:"L_b"` // for [Loss] with the basis "baked"
	Conditions  Conditions   `json:"conditions"`              // unusual-loss
}

func (LossFromWeights) ID() string { return "loss-from-weights" }

func (q LossFromWeights) Check(c *reckon.Checks) {
	doughOK := checkMass(c, "dough", q.Dough)
	if checkMass(c, "baked", q.Baked) && doughOK && q.Baked > q.Dough {
		c.Fail("baked", reckon.Text(q.Baked), "no more than the dough of "+reckon.Text(q.Dough)+": weigh both again on the same scale")
	}
	// A bread of next to nothing would make the loss on it as large as one likes.
	if c.OK() && q.Baked < q.Dough/1e9 {
		c.Fail("baked", reckon.Text(q.Baked), "a weight that bread from this dough can have")
	}
}

func (q LossFromWeights) Solve() (out LossFromWeightsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	lost := float64(q.Dough) - float64(q.Baked)
	onDough := 100 * lost / float64(q.Dough)
	return LossFromWeightsResult{
		Lost: unit.Mass(lost), LossOnDough: unit.Percent(onDough), LossOnBaked: unit.Percent(100 * lost / float64(q.Baked)),
		Conditions: lossCondition(onDough),
	}, nil
}

func (q LossFromWeights) Show(w *reckon.Working, out LossFromWeightsResult) {
	w.Inputs(q)
	w.Lines(out,
		"lost: E = D - B",
		"loss on baked weight: L_b = 100*E/B",
		"loss on dough: L_d = 100*E/D",
	)
}
