package divider

import (
	"math"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// BindingRule names the rule that fixes the lowest mean.
type BindingRule string

const (
	// BindsAverage says that the average must reach the label and the spread asks for no more.
	BindsAverage BindingRule = "average"
	// BindsFirstLimit says that too many pieces would fall below the first limit.
	BindsFirstLimit BindingRule = "first-limit"
	// BindsSecondLimit says that too many pieces would fall below the second limit.
	BindsSecondLimit BindingRule = "second-limit"
)

const (
	// firstShareUK is the share of packages that British guidance lets fall
	// below the first limit: one in forty.
	//
	// Source: Business Companion, Small bakers and average weight.
	firstShareUK unit.Percent = 2.5
	// noneShare is the share of pieces above which a limit that none may pass is
	// called broken: a normal spread always leaves some. Common practice, no source.
	noneShare unit.Percent = 0.1
	// smallestShare and largestShare bound a share of light pieces. Far out in
	// the tail no divider's weights are normal, and half of the pieces is no tail.
	smallestShare unit.Percent = 1e-6
	largestShare  unit.Percent = 49
)

// packerRules is what a rule set asks of the packer, in g.
type packerRules struct {
	first  float64 // few pieces below
	second float64 // hardly any below; 0 for no such limit
	most   float64 // few pieces above; 0 for no such limit
}

// checkPackerRules wants a rule set by name and a nominal quantity that it
// covers, and returns what it asks of the packer.
func checkPackerRules(c *reckon.Checks, name RuleSetName, nominal unit.Mass) packerRules {
	switch name {
	case LoafTexas, LoafSriLanka:
		v := checkLoaf(c, name, nominal)
		out := packerRules{first: nominal.Grams() - v}
		if name == LoafTexas {
			out.most = nominal.Grams() + v
		}
		return out
	}
	if !reckon.CheckWord(c, "rules", name, RulesEU, RulesUK, RulesAustralia, RulesNewZealand, RulesUSCategoryA, LoafTexas, LoafSriLanka) {
		reckon.CheckPositive(c, "nominal", nominal)
		return packerRules{}
	}
	low, high := nominalRange(name)
	if !reckon.CheckRange(c, "nominal", nominal, unit.Grams(low), unit.Grams(high)) {
		return packerRules{}
	}
	tenths := deficiencyFor(name, nominal.Grams()).inTenths(nominal.Grams())
	out := packerRules{first: lower(nominal.Grams(), 1, tenths)}
	if hasSecondLimit(name) {
		out.second = lower(nominal.Grams(), 2, tenths)
	}
	return out
}

// checkShares wants the shares of light pieces that the rules need, and
// returns the one for the first limit.
func checkShares(c *reckon.Checks, name RuleSetName, rules packerRules, first, second unit.Percent) unit.Percent {
	high := largestShare
	if name == RulesUK {
		high = firstShareUK
	}
	if first == 0 && name == RulesUK {
		first = firstShareUK
	} else {
		reckon.CheckRange(c, "first_share", first, smallestShare, high)
	}
	if rules.second > 0 {
		reckon.CheckRange(c, "second_share", second, smallestShare, largestShare)
	} else if second != 0 {
		c.Fail("second_share", second.String(), "nothing: this rule set has no second limit")
	}
	return first
}

// tail returns how many standard deviations the mean stays above a limit with the share below it.
func tail(share unit.Percent) float64 { return -normalQuantile(float64(share) / 100) }

// TargetWeight returns the lowest mean weight that meets the packers' rules
// with the spread that the line has, the dough piece for it, and what is given
// away over the label:
//
//	target = max(Q_n, T1 + z1*s, T2 + z2*s) + drift
//	dough  = k * target
//
// with z1 and z2 the normal quantiles of the shares tolerated below the first
// and the second limit, and k the dough for one of bread from
// [doughmath.ScalingWeight]. Under a loaf ordinance T1 is the least weight of a
// loaf, and the average is held at the standard size too, since the rules on
// labelled weight hold besides.
//
// It holds for weights that are normally distributed and a spread measured on
// pieces as sold; a limit carried back to dough leaves out that ovens differ
// from place to place. It is the packer's side: an inspector's test of the mean
// ([LotCheck]) lets a little less pass because of the chance of the draw, and
// that allowance is never a target. A spread that asks for a mean above the
// label sets not-capable, and so does one that does not fit between an
// ordinance's least and most. The local weights and measures authority decides
// which text holds.
//
// It returns an *[reckon.InputError] if:
//   - rules is not named, or nominal is not a quantity that it covers,
//   - spread or drift is negative or above a quarter of the nominal,
//   - first_share or second_share is missing where needed or outside its range,
//   - a loss is not as [doughmath.ScalingWeight] wants it,
//   - pieces_per_day, days_per_year or cost_per_kg is negative or beyond its range,
//   - better_spread is negative or above the spread.
//
// Source: SI 2006/659 and Business Companion, Small bakers and average weight
// (the three packers' rules); limits as in [TolerableDeficiency] and [LoafLimits];
// cases in testdata/cases/divider/target-weight.json.
//
// The inverses are [SpreadForTarget] and [FractionBelow].
type TargetWeight struct {
	Rules       RuleSetName  `json:"rules"`                 // "eu-76-211", "uk-2006-659", "au-ntmr-2009", "nz-1999-373", "us-hb133-a", "us-tx-434-007" or "lk-caa-2024"
	Nominal     unit.Mass    `json:"nominal"`               // weight on the label; the quantities that [TolerableDeficiency] or [LoafLimits] name
	Spread      unit.Mass    `json:"spread"`                // standard deviation of the pieces as sold, from piece to piece; 0 g to a quarter of the nominal
	FirstShare  unit.Percent `json:"first_share,omitzero"`  // share of pieces taken to be tolerable below the first limit (and above the most); 0.000001 % to 49 %; in the UK left out for, and at most, one in forty; Germany writes 2 %; other texts name none
	SecondShare unit.Percent `json:"second_share,omitzero"` // the same below the second limit, where no piece may be: a normal spread always leaves some; 0.000001 % to 49 %; left out where there is no such limit
	Drift       unit.Mass    `json:"drift,omitzero"`        // how far the mean wanders down between checks, not in the spread; 0 g to a quarter of the nominal

	Fermentation doughmath.Loss            `json:"fermentation,omitzero"` // loss from scaling to the oven; as for [doughmath.ScalingWeight]
	Bake         doughmath.Loss            `json:"bake"`                  // loss in the oven
	Cooling      doughmath.Loss            `json:"cooling,omitzero"`      // loss from the oven to the weight that counts: cooling, and drying on display
	Combine      doughmath.LossCombination `json:"combine"`               // "compounded" or "added"

	PiecesPerDay int       `json:"pieces_per_day,omitzero"` // pieces made in a day; 0 to 10 million; 0 for no sums of money
	DaysPerYear  int       `json:"days_per_year,omitzero"`  // working days; 0 to 366
	CostPerKg    float64   `json:"cost_per_kg,omitzero"`    // money for a kilogram of dough, in any currency; 0 to 1 000 000
	BetterSpread unit.Mass `json:"better_spread,omitzero"`  // a spread to compare with, up to spread; left out for none
}

func (TargetWeight) ID() string { return "target-weight" }

// SHELL
func (q TargetWeight) Check(c *reckon.Checks) {
	_, err := explainTargetWeight(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TargetWeight) Solve() (TargetWeightResult, error) { return explainTargetWeight(q, nil) }

func (q TargetWeight) Show(w *reckon.Working, _ TargetWeightResult) { _, _ = explainTargetWeight(q, w) }

// TargetWeightResult is where to aim and what it costs.
type TargetWeightResult struct {
	Target       unit.Mass            `json:"target"`        // lowest mean of the pieces as sold that meets the rules
	Dough        unit.Mass            `json:"dough"`         // dough piece for it: the weight to scale
	Binds        BindingRule          `json:"binds"`         // "average", "first-limit" or "second-limit"
	FirstLimit   unit.Mass            `json:"first_limit"`   // few pieces below this
	SecondLimit  unit.Mass            `json:"second_limit"`  // hardly any below this; 0 where the rule set has no such limit
	DoughFirst   unit.Mass            `json:"dough_first"`   // the first limit carried back to the dough piece by the mean loss
	DoughSecond  unit.Mass            `json:"dough_second"`  // the second limit carried back likewise; 0 where there is none
	Giveaway     unit.Mass            `json:"giveaway"`      // mean over the label, per piece as sold
	GiveawayDay  unit.Mass            `json:"giveaway_day"`  // dough given away in a day
	GiveawayYear unit.Mass            `json:"giveaway_year"` // dough given away in a year
	CostDay      float64              `json:"cost_day"`      // money given away in a day
	CostYear     float64              `json:"cost_year"`     // money given away in a year
	GramYear     float64              `json:"gram_year"`     // money in a year for moving the mean of the pieces as sold by one gram
	BetterTarget unit.Mass            `json:"better_target"` // target with the better spread; 0 if none was given
	SavingYear   float64              `json:"saving_year"`   // money in a year that the better spread is worth
	RuleSet      RuleSet              `json:"rule_set"`      // whose rules, which edition, how far seen
	Loss         doughmath.Conditions `json:"loss"`          // of the losses: unusual-loss
	Conditions   Conditions           `json:"conditions"`    // rule-set-dated, from-memory, not-capable
	Cautions     reckon.Cautions      `json:"cautions"`      // weights-law
}

func explainTargetWeight(in TargetWeight, w *reckon.Working) (out TargetWeightResult, err error) {
	c := reckon.Checks{Func: "target-weight"}
	rules := checkPackerRules(&c, in.Rules, in.Nominal)
	ready := c.OK() // shares and spread have a range only under known rules
	share := in.FirstShare
	if ready {
		share = checkShares(&c, in.Rules, rules, in.FirstShare, in.SecondShare)
		reckon.CheckRange(&c, "spread", in.Spread, 0, in.Nominal/4)
		reckon.CheckRange(&c, "drift", in.Drift, 0, in.Nominal/4)
	} else {
		reckon.CheckNotNegative(&c, "spread", in.Spread)
		reckon.CheckNotNegative(&c, "drift", in.Drift)
	}
	// For one gram of bread it returns the factor itself.
	loss, err := doughmath.ScalingWeight{Baked: 1, Fermentation: in.Fermentation, Bake: in.Bake, Cooling: in.Cooling, Combine: in.Combine}.Solve()
	if err != nil {
		// The fields are this input's own, so the errors are too.
		for _, e := range reckon.InputErrors(err) {
			c.Fail(e.Field, e.Value, e.Want)
		}
	}
	reckon.CheckCount(&c, "pieces_per_day", in.PiecesPerDay, 0, 10_000_000)
	reckon.CheckCount(&c, "days_per_year", in.DaysPerYear, 0, 366)
	reckon.CheckRange(&c, "cost_per_kg", in.CostPerKg, 0, 1_000_000)
	if in.BetterSpread != 0 && in.Spread >= 0 {
		reckon.CheckRange(&c, "better_spread", in.BetterSpread, 0, in.Spread)
	}
	if err := c.Err(); err != nil {
		return TargetWeightResult{}, err
	}
	set, _ := RuleSetFor(in.Rules) // the word was checked
	z1, z2 := tail(share), 0.0
	if rules.second > 0 {
		z2 = tail(in.SecondShare)
	}
	target, binds := rules.lowestMean(in.Nominal.Grams(), in.Spread.Grams(), z1, z2)
	target += in.Drift.Grams()
	k := loss.Dough.Grams()
	giveaway := target - in.Nominal.Grams()
	day := giveaway * k * float64(in.PiecesPerDay) // dough, g
	gramYear := k * float64(in.PiecesPerDay) * float64(in.DaysPerYear) / 1000 * in.CostPerKg
	out = TargetWeightResult{
		Target: unit.Grams(target), Dough: unit.Grams(target * k), Binds: binds,
		DoughFirst: unit.Grams(rules.first * k), DoughSecond: unit.Grams(rules.second * k),
		FirstLimit: unit.Grams(rules.first), SecondLimit: unit.Grams(rules.second),
		Giveaway: unit.Grams(giveaway), GiveawayDay: unit.Grams(day), GiveawayYear: unit.Grams(day * float64(in.DaysPerYear)),
		CostDay: day / 1000 * in.CostPerKg, CostYear: giveaway * gramYear, GramYear: gramYear,
		RuleSet: set, Loss: loss.Conditions, Conditions: set.conditions(), Cautions: reckon.WeightsLaw,
	}
	if binds != BindsAverage || rules.most > 0 && target+float64(z1*in.Spread.Grams()) > rules.most {
		out.Conditions |= NotCapable
	}
	if in.BetterSpread > 0 {
		better, _ := rules.lowestMean(in.Nominal.Grams(), in.BetterSpread.Grams(), z1, z2)
		better += in.Drift.Grams()
		out.BetterTarget = unit.Grams(better)
		out.SavingYear = float64((target - better) * gramYear)
	}
	if w != nil {
		w.Given("nominal quantity", "Q_n", in.Nominal.Grams(), "g", "")
		w.Given("first limit", "T_1", rules.first, "g", set.Edition)
		w.Given("standard deviation of the pieces as sold", "s", in.Spread.Grams(), "g", "")
		w.Given("wander of the mean", "d", in.Drift.Grams(), "g", "")
		w.Given("distance to the first limit in standard deviations", "z_1", z1, "", "normal quantile of the share tolerated below it")
		if rules.second > 0 {
			w.Given("second limit", "T_2", rules.second, "g", set.Edition)
			w.Given("distance to the second limit in standard deviations", "z_2", z2, "", "normal quantile of the share tolerated below it")
			w.Step("target for the mean", "m", "max(Q_n, T_1 + z_1*s, T_2 + z_2*s) + d", target, "g", "")
		} else {
			w.Step("target for the mean", "m", "max(Q_n, T_1 + z_1*s) + d", target, "g", "")
		}
		w.Given("dough for one of bread", "k", k, "", "the losses, as scaling-weight takes them")
		w.Given("pieces in a day", "N", float64(in.PiecesPerDay), "", "")
		w.Step("dough given away in a day", "G", "(m - Q_n) * k * N", day, "g", "")
		w.Step("dough piece", "D", "m * k", out.Dough.Grams(), "g", "")
	}
	return out, nil
}

// lowestMean returns the lowest mean that meets the rules, without drift, and the rule that fixes it.
func (r packerRules) lowestMean(nominal, spread, z1, z2 float64) (float64, BindingRule) {
	target, binds := nominal, BindsAverage
	if m := r.first + float64(z1*spread); m > target {
		target, binds = m, BindsFirstLimit
	}
	if m := r.second + float64(z2*spread); r.second > 0 && m > target {
		target, binds = m, BindsSecondLimit
	}
	return target, binds
}

// SpreadForTarget returns the largest spread with which a mean still meets the
// packers' rules:
//
//	s = min((target - drift - T1) / z1, (target - drift - T2) / z2)
//
// It is the inverse of [TargetWeight] where a limit binds, with the same
// validity. An ordinance's upper limit is not in it; the condition
// above-limit tells when it is passed.
// The local weights and measures authority decides which text holds.
//
// It returns an *[reckon.InputError] if:
//   - rules, nominal, the shares or drift are not as [TargetWeight] wants them,
//   - target is not a positive weight up to twice the nominal.
//
// It returns a *[reckon.NoSolutionError] if the target less the drift is
// below the label, since no spread mends an average that is too low.
//
// Source: as for [TargetWeight].
type SpreadForTarget struct {
	Rules       RuleSetName  `json:"rules"`                 // as for [TargetWeight]
	Nominal     unit.Mass    `json:"nominal"`               // weight on the label, as for [TargetWeight]
	Target      unit.Mass    `json:"target"`                // mean of the pieces as sold; nominal plus drift to twice the nominal
	FirstShare  unit.Percent `json:"first_share,omitzero"`  // as for [TargetWeight]
	SecondShare unit.Percent `json:"second_share,omitzero"` // as for [TargetWeight]
	Drift       unit.Mass    `json:"drift,omitzero"`        // how far the mean wanders down between checks; 0 g to a quarter of the nominal
}

func (SpreadForTarget) ID() string { return "spread-for-target" }

// SHELL
func (q SpreadForTarget) Check(c *reckon.Checks) {
	_, err := explainSpreadForTarget(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SpreadForTarget) Solve() (SpreadForTargetResult, error) {
	return explainSpreadForTarget(q, nil)
}

func (q SpreadForTarget) Show(w *reckon.Working, _ SpreadForTargetResult) {
	_, _ = explainSpreadForTarget(q, w)
}

// SpreadForTargetResult is how steady the line must be.
type SpreadForTargetResult struct {
	Spread     unit.Mass       `json:"spread"`     // largest standard deviation of the pieces as sold that meets the rules
	Binds      BindingRule     `json:"binds"`      // "first-limit" or "second-limit"
	RuleSet    RuleSet         `json:"rule_set"`   // whose rules, which edition, how far seen
	Conditions Conditions      `json:"conditions"` // rule-set-dated, from-memory; above-limit if with that spread too many are above the most that a loaf may weigh
	Cautions   reckon.Cautions `json:"cautions"`   // weights-law
}

func explainSpreadForTarget(in SpreadForTarget, w *reckon.Working) (out SpreadForTargetResult, err error) {
	c := reckon.Checks{Func: "spread-for-target"}
	rules := checkPackerRules(&c, in.Rules, in.Nominal)
	share := in.FirstShare
	if c.OK() {
		share = checkShares(&c, in.Rules, rules, in.FirstShare, in.SecondShare)
		reckon.CheckRange(&c, "target", in.Target, in.Nominal/2, in.Nominal*2)
		reckon.CheckRange(&c, "drift", in.Drift, 0, in.Nominal/4)
	} else {
		reckon.CheckPositive(&c, "target", in.Target)
		reckon.CheckNotNegative(&c, "drift", in.Drift)
	}
	if err := c.Err(); err != nil {
		return SpreadForTargetResult{}, err
	}
	mean := in.Target.Grams() - in.Drift.Grams()
	// The guard forgives the last bit of nominal + drift - drift.
	if mean < in.Nominal.Grams()-roundingGuard {
		return SpreadForTargetResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "spread", Wanted: "a mean of " + in.Target.String(),
			Low: (in.Nominal + in.Drift).String(), Advice: "the average itself must reach the label, so aim higher or check more often to cut the drift",
		}
	}
	set, _ := RuleSetFor(in.Rules) // the word was checked
	z1 := tail(share)
	spread, binds := (mean-rules.first)/z1, BindsFirstLimit
	z2 := 0.0
	if rules.second > 0 {
		z2 = tail(in.SecondShare)
		if s := (mean - rules.second) / z2; s < spread {
			spread, binds = s, BindsSecondLimit
		}
	}
	out = SpreadForTargetResult{Spread: unit.Grams(spread), Binds: binds, RuleSet: set, Conditions: set.conditions(), Cautions: reckon.WeightsLaw}
	// The upper limit is no part of the spread found, but it is told.
	if rules.most > 0 && in.Target.Grams()+float64(z1*spread) > rules.most+roundingGuard {
		out.Conditions |= AboveLimit
	}
	if w != nil {
		w.Given("target for the mean", "m", in.Target.Grams(), "g", "")
		w.Given("wander of the mean", "d", in.Drift.Grams(), "g", "")
		w.Given("first limit", "T_1", rules.first, "g", set.Edition)
		w.Given("distance to the first limit in standard deviations", "z_1", z1, "", "normal quantile of the share tolerated below it")
		expression := "(m - d - T_1) / z_1"
		if rules.second > 0 {
			w.Given("second limit", "T_2", rules.second, "g", set.Edition)
			w.Given("distance to the second limit in standard deviations", "z_2", z2, "", "normal quantile of the share tolerated below it")
			expression = "min((m - d - T_1) / z_1, (m - d - T_2) / z_2)"
		}
		w.Step("largest standard deviation", "s", expression, spread, "g", "")
	}
	return out, nil
}

// FractionBelow returns the shares of pieces below the label and the limits,
// and what is given away, for a mean and a spread as they are:
//
//	share(x) = Phi((x - m) / s)
//	excess   = (m - Q_n)*Phi(k) + s*phi(k),  k = (m - Q_n) / s
//
// with Phi and phi the standard normal distribution and its density. It is
// [TargetWeight] asked the other way round, with the same validity. Below-label
// is set if the mean is short, if in the UK more than one piece in forty falls
// below the first limit, or if more than one in a thousand falls below a limit
// that none may pass: the second, or the least of a loaf ordinance. Above-limit
// is set if more than one in a thousand is above the most of such an ordinance.
// The local weights and measures authority decides.
//
// It returns an *[reckon.InputError] if:
//   - rules is not named, or nominal is not a quantity that it covers,
//   - mean is outside half to twice the nominal,
//   - spread is outside 0.01 % to 25 % of the nominal.
//
// Source: the normal distribution; limits as in [TolerableDeficiency] and
// [LoafLimits]; cases in testdata/cases/divider/fraction-below.json.
type FractionBelow struct {
	Rules   RuleSetName `json:"rules"`   // as for [TargetWeight]
	Nominal unit.Mass   `json:"nominal"` // weight on the label, as for [TargetWeight]
	Mean    unit.Mass   `json:"mean"`    // mean of the pieces as sold; half to twice the nominal
	Spread  unit.Mass   `json:"spread"`  // their standard deviation; 0.01 % of the nominal to a quarter of it
}

func (FractionBelow) ID() string { return "fraction-below" }

// SHELL
func (q FractionBelow) Check(c *reckon.Checks) {
	_, err := explainFractionBelow(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FractionBelow) Solve() (FractionBelowResult, error) { return explainFractionBelow(q, nil) }

func (q FractionBelow) Show(w *reckon.Working, _ FractionBelowResult) {
	_, _ = explainFractionBelow(q, w)
}

// FractionBelowResult is what falls short and what is given away.
type FractionBelowResult struct {
	BelowNominal unit.Percent    `json:"below_nominal"` // share of pieces below the label
	BelowFirst   unit.Percent    `json:"below_first"`   // share below the first limit
	BelowSecond  unit.Percent    `json:"below_second"`  // share below the second limit; 0 where the rule set has no such limit
	AboveMost    unit.Percent    `json:"above_most"`    // share above the most that a loaf may weigh; 0 where the rule set has no such limit
	Giveaway     unit.Mass       `json:"giveaway"`      // mean over the label; below zero if the mean is short
	Excess       unit.Mass       `json:"excess"`        // what pieces hold above the label, averaged over all pieces, the short ones counted as none
	RuleSet      RuleSet         `json:"rule_set"`      // whose rules, which edition, how far seen
	Conditions   Conditions      `json:"conditions"`    // rule-set-dated, from-memory, below-label, above-limit
	Cautions     reckon.Cautions `json:"cautions"`      // weights-law
}

func explainFractionBelow(in FractionBelow, w *reckon.Working) (out FractionBelowResult, err error) {
	c := reckon.Checks{Func: "fraction-below"}
	rules := checkPackerRules(&c, in.Rules, in.Nominal)
	if c.OK() {
		reckon.CheckRange(&c, "mean", in.Mean, in.Nominal/2, in.Nominal*2)
		reckon.CheckRange(&c, "spread", in.Spread, in.Nominal/10000, in.Nominal/4)
	} else {
		reckon.CheckPositive(&c, "mean", in.Mean)
		reckon.CheckPositive(&c, "spread", in.Spread)
	}
	if err := c.Err(); err != nil {
		return FractionBelowResult{}, err
	}
	set, _ := RuleSetFor(in.Rules) // the word was checked
	mean, spread, nominal := in.Mean.Grams(), in.Spread.Grams(), in.Nominal.Grams()
	below := func(limit float64) unit.Percent {
		return unit.Percent(100 * normalBelow((limit-mean)/spread))
	}
	k := (mean - nominal) / spread
	excess := float64((mean-nominal)*normalBelow(k)) + float64(spread*normalDensity(k))
	out = FractionBelowResult{
		BelowNominal: below(nominal), BelowFirst: below(rules.first),
		Giveaway: unit.Grams(mean - nominal), Excess: unit.Grams(math.Max(excess, 0)),
		RuleSet: set, Conditions: set.conditions(), Cautions: reckon.WeightsLaw,
	}
	if rules.second > 0 {
		out.BelowSecond = below(rules.second)
	}
	none := out.BelowSecond
	if in.Rules == LoafTexas || in.Rules == LoafSriLanka {
		none = out.BelowFirst
	}
	if mean < nominal || in.Rules == RulesUK && out.BelowFirst > firstShareUK || none > noneShare {
		out.Conditions |= BelowLabel
	}
	if rules.most > 0 {
		out.AboveMost = unit.Percent(100 * normalBelow((mean-rules.most)/spread))
		if out.AboveMost > noneShare {
			out.Conditions |= AboveLimit
		}
	}
	if w != nil {
		w.Given("nominal quantity", "Q_n", nominal, "g", "")
		w.Given("mean of the pieces as sold", "m", mean, "g", "")
		w.Given("their standard deviation", "s", spread, "g", "")
		w.Given("first limit", "T_1", rules.first, "g", set.Edition)
		w.Given("share below the first limit", "F_1", float64(out.BelowFirst), "%", "normal distribution at (T_1 - m) / s")
		w.Step("mean over the label", "G", "m - Q_n", out.Giveaway.Grams(), "g", "")
		w.Step("the same in standard deviations", "k", "G / s", k, "", "")
		w.Given("share of a standard normal below k", "P", normalBelow(k), "", "normal distribution")
		w.Step("excess over all pieces", "E", "G*P + s*exp(-0.5*k*k) / sqrt(2*pi)", out.Excess.Grams(), "g", "")
	}
	return out, nil
}
