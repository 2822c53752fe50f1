package divider

import (
	"math"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// LimitingRule names the rule that sets the lowest mean.
type LimitingRule string

const (
	// LimitedByAverage says that the average must reach the label, and the scatter requires no more.
	LimitedByAverage LimitingRule = "average"
	// LimitedByFirst says that too many pieces would fall below the first limit.
	LimitedByFirst LimitingRule = "first-limit"
	// LimitedBySecond says that too many pieces would fall below the second limit.
	LimitedBySecond LimitingRule = "second-limit"
)

const (
	// firstShareUK is the share of packages that British guidance lets fall
	// below the first limit: one in forty.
	//
	// Source: Business Companion, Small bakers and average weight.
	firstShareUK unit.Percent = 2.5
	// noneShare is the share of pieces above which a limit that none may pass is
	// called broken: a normal distribution always leaves some. Common practice, no source.
	noneShare unit.Percent = 0.1
	// smallestShare and largestShare bound a share of light pieces. Far out in
	// the tail no divider's weights are normal, and half of the pieces is no tail.
	smallestShare unit.Percent = 1e-6
	largestShare  unit.Percent = 49
)

// TargetWeight asks for the lowest mean weight that meets the packers' rules
// with the scatter that the line has, the dough piece for it, and what is given
// away over the label:
//
//	m = max(Q_n, T_1 + z_1*s, T_2 + z_2*s) + d, z_1 at F_1, z_2 at F_2
//	D = k*m,  D_1 = k*T_1,  D_2 = k*T_2
//	g = m - Q_n,  G = k*g*N,  G_y = G*Y
//	C_d = G*C,  c_y = k*N*Y*C,  C_y = g*c_y
//	m_b = m for the better deviation s_b,  E = (m - m_b)*c_y
//
// with z_1 and z_2 the normal quantiles of the shares F_1 and F_2 tolerated below
// the first and the second limit, and k the dough for one of bread from
// [doughmath.ScalingWeight]. Under a loaf ordinance T_1 is the least weight of a
// loaf, and the average is held at the standard size too, since the rules on
// labelled weight hold besides.
//
// It holds for weights that are normally distributed and a scatter measured on
// pieces as sold; a limit carried back to dough leaves out that ovens differ
// from place to place. It is the packer's side: an inspector's test of the mean
// ([LotCheck]) lets a little less pass because of the chance of the draw, and
// that allowance is never a target. A scatter that requires a mean above the
// label sets not-capable, and so does one that does not fit between an
// ordinance's least and most. The local weights and measures authority decides
// which text holds.
//
// It is refused if:
//   - nominal is not a quantity that the rules cover,
//   - sd or drift is negative or above a quarter of the nominal,
//   - first_share or second_share is missing where needed, or second_share is given where there is no second limit,
//   - a loss is not as [doughmath.ScalingWeight] takes it,
//   - better_sd is above sd.
//
// Source: SI 2006/659 and Business Companion, Small bakers and average weight
// (the three packers' rules); limits as in [TolerableDeficiency] and [LoafLimits];
// cases in testdata/cases/divider/target-weight.json.
//
// The inverses are [SDForTarget] and [FractionBelow].
type TargetWeight struct {
	Rules       RuleSetName  `json:"rules"`                                                    // "eu-76-211", "uk-2006-659", "au-ntmr-2009", "nz-1999-373", "us-hb133-a", "us-tx-434-007" or "lk-caa-2024"
	Nominal     unit.Mass    `json:"nominal" sym:"Q_n" range:"-"`                              // weight on the label; the quantities that [TolerableDeficiency] or [LoafLimits] name
	SD          unit.Mass    `json:"sd" sym:"s" range:"-"`                                     // standard deviation of the pieces as sold, from piece to piece; 0 g to a quarter of the nominal
	FirstShare  unit.Percent `json:"first_share,omitzero" sym:"F_1" range:"-"`                 // share of pieces taken to be tolerable below the first limit (and above the most); 0.000001 % to 49 %; in the UK left out for, and at most, one in forty; Germany writes 2 %; other texts name none
	SecondShare unit.Percent `json:"second_share,omitzero" sym:"F_2" range:"0.000001 %..49 %"` // the same below the second limit, where no piece may be: a normal distribution always leaves some; left out where there is no such limit
	Drift       unit.Mass    `json:"drift,omitzero" sym:"d,0" range:"-"`                       // how far the mean wanders down between checks, which sd does not hold; 0 g to a quarter of the nominal

	Fermentation doughmath.Loss            `json:"fermentation,omitzero" sym:"-"` // loss from scaling to the oven; as for [doughmath.ScalingWeight]
	Bake         doughmath.Loss            `json:"bake" sym:"-"`                  // loss in the oven
	Cooling      doughmath.Loss            `json:"cooling,omitzero" sym:"-"`      // loss from the oven to the weight that counts: cooling, and drying on display
	Combine      doughmath.LossCombination `json:"combine"`                       // "compounded" or "added"

	PiecesPerDay int       `json:"pieces_per_day,omitzero" sym:"N" range:"0..10000000"` // pieces made in a day; 0 for no sums of money
	DaysPerYear  int       `json:"days_per_year,omitzero" sym:"Y,0" range:"0..366"`     // working days
	CostPerKg    float64   `json:"cost_per_kg,omitzero" sym:"C,0" range:"0..1000000"`   // money for a kilogram of dough, in any currency
	BetterSD     unit.Mass `json:"better_sd,omitzero" sym:"s_b" range:"-"`              // a standard deviation to compare with, up to sd; left out for none
}

// TargetWeightResult is where to aim and what it costs.
type TargetWeightResult struct {
	Target       unit.Mass            `json:"target" sym:"m"`          // lowest mean of the pieces as sold that meets the rules
	Dough        unit.Mass            `json:"dough" sym:"D"`           // dough piece for it: the weight to scale
	LimitedBy    LimitingRule         `json:"limited_by"`              // "average", "first-limit" or "second-limit"
	FirstLimit   unit.Mass            `json:"first_limit" sym:"T_1"`   // few pieces below this
	SecondLimit  unit.Mass            `json:"second_limit" sym:"T_2"`  // hardly any below this; 0 where the rule set has no such limit
	DoughFirst   unit.Mass            `json:"dough_first" sym:"D_1"`   // the first limit carried back to the dough piece by the mean loss
	DoughSecond  unit.Mass            `json:"dough_second" sym:"D_2"`  // the second limit carried back likewise; 0 where there is none
	Giveaway     unit.Mass            `json:"giveaway" sym:"g"`        // mean over the label, per piece as sold
	GiveawayDay  unit.Mass            `json:"giveaway_day" sym:"G"`    // dough given away in a day
	GiveawayYear unit.Mass            `json:"giveaway_year" sym:"G_y"` // dough given away in a year
	CostDay      float64              `json:"cost_day" sym:"C_d"`      // money given away in a day
	CostYear     float64              `json:"cost_year" sym:"C_y"`     // money given away in a year
	GramYear     float64              `json:"gram_year" sym:"c_y"`     // money in a year for moving the mean of the pieces as sold by one gram
	BetterTarget unit.Mass            `json:"better_target" sym:"m_b"` // target with better_sd; 0 if none was given
	SavingYear   float64              `json:"saving_year" sym:"E"`     // money in a year that better_sd is worth
	RuleSet      RuleSet              `json:"rule_set"`                // whose rules, which edition, how far seen
	Loss         doughmath.Conditions `json:"loss"`                    // of the losses: unusual-loss
	Conditions   Conditions           `json:"conditions"`              // rule-set-dated, from-memory, not-capable
	Cautions     reckon.Cautions      `json:"cautions"`                // weights-law
}

func (TargetWeight) ID() string { return "target-weight" }

func (q TargetWeight) Check(c *reckon.Checks) { q.check(c) }

// check returns what the rules ask of the packer, the share tolerated below the
// first limit and the scaling weight of one gram of bread.
func (q TargetWeight) check(c *reckon.Checks) (rules packerRules, share unit.Percent, loss doughmath.ScalingWeightResult) {
	rules = checkPackerRules(c, q.Rules, q.Nominal)
	if c.OK() { // shares and sd have a range only under known rules
		share = checkShares(c, q.Rules, rules, q.FirstShare, q.SecondShare)
		reckon.CheckRange(c, "sd", q.SD, 0, q.Nominal/4)
		reckon.CheckRange(c, "drift", q.Drift, 0, q.Nominal/4)
	} else {
		reckon.CheckNotNegative(c, "sd", q.SD)
		reckon.CheckNotNegative(c, "drift", q.Drift)
	}
	loss, err := q.losses().Solve()
	if err != nil {
		// The fields are this input's own, so the errors are too.
		for _, e := range reckon.InputErrors(err) {
			c.Fail(e.Field, e.Value, e.Want)
		}
	}
	reckon.CheckCount(c, "pieces_per_day", q.PiecesPerDay, 0, 10_000_000)
	reckon.CheckCount(c, "days_per_year", q.DaysPerYear, 0, 366)
	reckon.CheckRange(c, "cost_per_kg", q.CostPerKg, 0, 1_000_000)
	if q.SD >= 0 {
		reckon.CheckRange(c, "better_sd", q.BetterSD, 0, q.SD)
	}
	return rules, share, loss
}

// losses asks for the dough that one gram of bread needs, which is the factor for any weight.
func (q TargetWeight) losses() doughmath.ScalingWeight {
	return doughmath.ScalingWeight{Baked: 1, Fermentation: q.Fermentation, Bake: q.Bake, Cooling: q.Cooling, Combine: q.Combine}
}

func (q TargetWeight) Solve() (out TargetWeightResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	rules, share, loss := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	set, _ := RuleSetFor(q.Rules) // the word was checked
	z1, z2 := tail(share), 0.0
	if rules.second != 0 {
		z2 = tail(q.SecondShare)
	}
	target, limiting := rules.lowestMean(q.Nominal.Grams(), q.SD.Grams(), z1, z2)
	target += q.Drift.Grams()
	k := loss.Dough.Grams()
	giveaway := target - q.Nominal.Grams()
	day := giveaway * k * float64(q.PiecesPerDay) // dough, g
	gramYear := k * float64(q.PiecesPerDay) * float64(q.DaysPerYear) / 1000 * q.CostPerKg
	out = TargetWeightResult{
		Target: unit.Grams(target), Dough: unit.Grams(target * k), LimitedBy: limiting,
		DoughFirst: unit.Grams(rules.first * k), DoughSecond: unit.Grams(rules.second * k),
		FirstLimit: unit.Grams(rules.first), SecondLimit: unit.Grams(rules.second),
		Giveaway: unit.Grams(giveaway), GiveawayDay: unit.Grams(day), GiveawayYear: unit.Grams(day * float64(q.DaysPerYear)),
		CostDay: day / 1000 * q.CostPerKg, CostYear: giveaway * gramYear, GramYear: gramYear,
		RuleSet: set, Loss: loss.Conditions, Conditions: set.conditions(), Cautions: reckon.WeightsLaw,
	}
	if limiting != LimitedByAverage || rules.most != 0 && target+float64(z1*q.SD.Grams()) > rules.most {
		out.Conditions |= NotCapable
	}
	if q.BetterSD != 0 {
		better, _ := rules.lowestMean(q.Nominal.Grams(), q.BetterSD.Grams(), z1, z2)
		better += q.Drift.Grams()
		out.BetterTarget = unit.Grams(better)
		out.SavingYear = float64((target - better) * gramYear)
	}
	return out, nil
}

func (q TargetWeight) Show(w *reckon.Working, out TargetWeightResult) {
	rules := packerRulesFor(q.Rules, q.Nominal)
	losses := q.losses()
	loss, _ := losses.Solve() // they were checked
	w.Heading("Dough for one of bread")
	losses.Show(w, loss)
	w.Heading("Target")
	w.Inputs(q)
	showPackerRules(w, out, q.Nominal, out.RuleSet)
	showTails(w, rules, q.Rules, q.FirstShare, q.SecondShare)
	second := func(sd string) string {
		if rules.second != 0 {
			return ", T_2 + z_2*" + sd
		}
		return ""
	}
	w.Lines(out,
		"target for the mean: m = max(Q_n, T_1 + z_1*s"+second("s")+") + d",
		"mean over the label: g = m - Q_n",
		"first limit as dough: D_1 = T_1*k",
	)
	if rules.second != 0 {
		w.Lines(out, "second limit as dough: D_2 = T_2*k")
	}
	if q.BetterSD > 0 {
		w.Lines(out, "target with the better deviation: m_b = max(Q_n, T_1 + z_1*s_b"+second("s_b")+") + d")
	}
	if q.PiecesPerDay > 0 {
		w.Lines(out,
			"dough given away in a day: G = g*k*N",
			"dough given away in a year: G_y = G*Y",
			"money given away in a day: C_d = G/1000{g/kg}*C",
			"money in a year for one gram of bread: c_y = k*N*Y/1000{g/kg}*C",
			"money given away in a year: C_y = g*c_y",
		)
		if q.BetterSD > 0 {
			w.Lines(out, "money in a year that the better deviation is worth: E = (m - m_b)*c_y")
		}
	}
	w.Lines(out, "dough piece: D = m*k")
}

// packerRules is what a rule set asks of the packer, in g.
type packerRules struct {
	first  float64 // few pieces below
	second float64 // hardly any below; 0 for no such limit
	most   float64 // few pieces above; 0 for no such limit
}

// packerRulesFor returns what the rule set asks at a nominal quantity that it covers.
func packerRulesFor(name RuleSetName, nominal unit.Mass) packerRules {
	quantity := nominal.Grams()
	if isOrdinance(name) {
		v, _ := loafVariation(name, nominal)
		out := packerRules{first: quantity - v}
		if name == LoafTexas {
			out.most = quantity + v
		}
		return out
	}
	tenths := deficiencyFor(name, quantity).inTenths(quantity)
	out := packerRules{first: lower(quantity, 1, tenths)}
	if hasSecondLimit(name) {
		out.second = lower(quantity, 2, tenths)
	}
	return out
}

// isOrdinance reports whether the rules are on the weight of a single loaf.
func isOrdinance(name RuleSetName) bool { return name == LoafTexas || name == LoafSriLanka }

// checkPackerRules requires a rule set by name and a nominal quantity that it
// covers, and returns what it asks of the packer.
func checkPackerRules(c *reckon.Checks, name RuleSetName, nominal unit.Mass) packerRules {
	mark := c.Mark()
	switch {
	case isOrdinance(name):
		checkLoaf(c, name, nominal)
	case reckon.CheckWord(c, "rules", name, RulesEU, RulesUK, RulesAustralia, RulesNewZealand, RulesUSCategoryA, LoafTexas, LoafSriLanka):
		low, high := nominalRange(name)
		reckon.CheckRange(c, "nominal", nominal, unit.Grams(low), unit.Grams(high))
	default:
		reckon.CheckPositive(c, "nominal", nominal)
	}
	if c.Mark() > mark {
		return packerRules{}
	}
	return packerRulesFor(name, nominal)
}

// showPackerRules records the limits T_1 and T_2 that follow from the nominal
// quantity Q_n or, under a loaf ordinance, T_1 and U.
func showPackerRules(w *reckon.Working, answer any, nominal unit.Mass, set RuleSet) {
	if !isOrdinance(set.Name) {
		showDeficiency(w, answer, nominal, set)
		return
	}
	showVariation(w, nominal, set)
	w.Lines(answer, "first limit, the least of a loaf: T_1 = Q_n - v in g")
	if set.Name == LoafTexas {
		w.Lines(answer, "the most of a loaf: U = Q_n + v in g")
	}
}

// firstShare returns the share of pieces taken to be tolerable below the first
// limit: the United Kingdom names one, so that it may be left out there.
func firstShare(name RuleSetName, given unit.Percent) unit.Percent {
	if given == 0 && name == RulesUK {
		return firstShareUK
	}
	return given
}

// checkShares requires the shares of light pieces that the rules need, and
// returns the one for the first limit.
func checkShares(c *reckon.Checks, name RuleSetName, rules packerRules, first, second unit.Percent) unit.Percent {
	high := largestShare
	if name == RulesUK {
		high = firstShareUK
	}
	share := firstShare(name, first)
	reckon.CheckRange(c, "first_share", share, smallestShare, high)
	if rules.second != 0 {
		reckon.CheckRange(c, "second_share", second, smallestShare, largestShare)
	} else if second != 0 {
		c.Fail("second_share", second.String(), "nothing: this rule set has no second limit")
	}
	return share
}

// tail returns how many standard deviations the mean stays above a limit with the share below it.
func tail(share unit.Percent) float64 { return -normalQuantile(float64(share) / 100) }

// showTails records how far the mean must stay above the limits.
func showTails(w *reckon.Working, rules packerRules, name RuleSetName, first, second unit.Percent) {
	share := firstShare(name, first)
	if first == 0 {
		w.Given("share tolerated below the first limit", "F_1", float64(share), "%", "Business Companion: one in forty")
	}
	w.Given("distance to the first limit in standard deviations", "z_1", tail(share), "", "normal quantile of the share F_1 below it")
	if rules.second != 0 {
		w.Given("distance to the second limit in standard deviations", "z_2", tail(second), "", "normal quantile of the share F_2 below it")
	}
}

// lowestMean returns the lowest mean that meets the rules, without drift, and the rule that fixes it.
func (r packerRules) lowestMean(nominal, sd, z1, z2 float64) (float64, LimitingRule) {
	target, limiting := nominal, LimitedByAverage
	if m := r.first + float64(z1*sd); m > target {
		target, limiting = m, LimitedByFirst
	}
	if m := r.second + float64(z2*sd); r.second != 0 && m > target {
		target, limiting = m, LimitedBySecond
	}
	return target, limiting
}

// SDForTarget asks how steady the weights must be for a mean to meet the
// packers' rules:
//
//	s = min((m - d - T_1) / z_1, (m - d - T_2) / z_2), z_1 at F_1, z_2 at F_2, where m - d >= Q_n
//
// with z_1 and z_2 the normal quantiles of those shares. It is the inverse of
// [TargetWeight] where a limit fixes the mean, with the same validity. An
// ordinance's upper limit is not in it; the condition above-limit says when it
// is passed.
// The local weights and measures authority decides which text holds.
//
// It is refused if:
//   - rules, nominal, the shares or drift are not as [TargetWeight] takes them,
//   - target is not half to twice the nominal.
//
// Source: as for [TargetWeight].
//
// The inverse is [TargetWeight].
type SDForTarget struct {
	Rules       RuleSetName  `json:"rules"`                                                    // as for [TargetWeight]
	Nominal     unit.Mass    `json:"nominal" sym:"Q_n" range:"-"`                              // weight on the label, as for [TargetWeight]
	Target      unit.Mass    `json:"target" sym:"m" range:"-"`                                 // mean of the pieces as sold; nominal plus drift to twice the nominal
	FirstShare  unit.Percent `json:"first_share,omitzero" sym:"F_1" range:"-"`                 // as for [TargetWeight]
	SecondShare unit.Percent `json:"second_share,omitzero" sym:"F_2" range:"0.000001 %..49 %"` // as for [TargetWeight]
	Drift       unit.Mass    `json:"drift,omitzero" sym:"d,0" range:"-"`                       // how far the mean wanders down between checks; 0 g to a quarter of the nominal
}

// SDForTargetResult is how steady the line must be.
type SDForTargetResult struct {
	SD         unit.Mass       `json:"sd" sym:"s"` // largest standard deviation of the pieces as sold that meets the rules
	LimitedBy  LimitingRule    `json:"limited_by"` // "first-limit" or "second-limit"
	RuleSet    RuleSet         `json:"rule_set"`   // whose rules, which edition, how far seen
	Conditions Conditions      `json:"conditions"` // rule-set-dated, from-memory; above-limit if with that deviation too many are above the most that a loaf may weigh
	Cautions   reckon.Cautions `json:"cautions"`   // weights-law
}

func (SDForTarget) ID() string { return "sd-for-target" }

func (q SDForTarget) Check(c *reckon.Checks) { q.check(c) }

// check returns what the rules ask of the packer and the share tolerated below the first limit.
func (q SDForTarget) check(c *reckon.Checks) (rules packerRules, share unit.Percent) {
	rules = checkPackerRules(c, q.Rules, q.Nominal)
	if !c.OK() {
		reckon.CheckPositive(c, "target", q.Target)
		reckon.CheckNotNegative(c, "drift", q.Drift)
		return rules, 0
	}
	share = checkShares(c, q.Rules, rules, q.FirstShare, q.SecondShare)
	reckon.CheckRange(c, "target", q.Target, q.Nominal/2, q.Nominal*2)
	reckon.CheckRange(c, "drift", q.Drift, 0, q.Nominal/4)
	return rules, share
}

// Solve has no answer if the target less the drift is below the label, since
// no steadiness makes up for an average that is too low.
func (q SDForTarget) Solve() (out SDForTargetResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	rules, share := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	mean := q.Target.Grams() - q.Drift.Grams()
	// The guard forgives the last bit of nominal + drift - drift.
	if mean < q.Nominal.Grams()-roundingGuard {
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "standard deviation", Wanted: "a mean of " + q.Target.String(),
			Low: (q.Nominal + q.Drift).String(), Advice: "the average itself must reach the label, so aim higher or check more often to cut the drift",
		}
	}
	set, _ := RuleSetFor(q.Rules) // the word was checked
	z1 := tail(share)
	sd, limiting := (mean-rules.first)/z1, LimitedByFirst
	if rules.second != 0 {
		if s := (mean - rules.second) / tail(q.SecondShare); s < sd {
			sd, limiting = s, LimitedBySecond
		}
	}
	out = SDForTargetResult{SD: unit.Grams(sd), LimitedBy: limiting, RuleSet: set, Conditions: set.conditions(), Cautions: reckon.WeightsLaw}
	// The upper limit does not enter the deviation found, but a condition says when it is passed.
	if rules.most != 0 && q.Target.Grams()+float64(z1*sd) > rules.most+roundingGuard {
		out.Conditions |= AboveLimit
	}
	return out, nil
}

func (q SDForTarget) Show(w *reckon.Working, out SDForTargetResult) {
	rules := packerRulesFor(q.Rules, q.Nominal)
	w.Inputs(q)
	showPackerRules(w, out, q.Nominal, out.RuleSet)
	showTails(w, rules, q.Rules, q.FirstShare, q.SecondShare)
	if rules.second != 0 {
		w.Lines(out, "largest standard deviation: s = min((m - d - T_1)/z_1, (m - d - T_2)/z_2)")
		return
	}
	w.Lines(out, "largest standard deviation: s = (m - d - T_1)/z_1")
}

// FractionBelow asks what share of the pieces is below the label and the
// limits, and what is given away, for a mean and a scatter as they are:
//
//	F_n = Phi((Q_n - m)/s),  F_1 = Phi((T_1 - m)/s),  F_2 = Phi((T_2 - m)/s)
//	F_u = Phi((m - U)/s)
//	G = m - Q_n,  E = G*Phi(k) + s*phi(k),  k = G/s
//
// with Phi and phi the standard normal distribution and its density. It is
// [TargetWeight] asked the other way round, with the same validity. Below-label
// is set if the mean is short, if in the UK more than one piece in forty falls
// below the first limit, or if more than one in a thousand falls below a limit
// that none may pass: the second, or the least of a loaf ordinance. Above-limit
// is set if more than one in a thousand is above the most of such an ordinance.
// The local weights and measures authority decides.
//
// It is refused if:
//   - nominal is not a quantity that the rules cover,
//   - mean is not half to twice the nominal,
//   - sd is not 0.01 % to 25 % of the nominal.
//
// Source: the normal distribution; limits as in [TolerableDeficiency] and
// [LoafLimits]; cases in testdata/cases/divider/fraction-below.json.
//
// The inverse is [TargetWeight].
type FractionBelow struct {
	Rules   RuleSetName `json:"rules"`                       // as for [TargetWeight]
	Nominal unit.Mass   `json:"nominal" sym:"Q_n" range:"-"` // weight on the label, as for [TargetWeight]
	Mean    unit.Mass   `json:"mean" sym:"m" range:"-"`      // mean of the pieces as sold; half to twice the nominal
	SD      unit.Mass   `json:"sd" sym:"s" range:"-"`        // their standard deviation; 0.01 % of the nominal to a quarter of it
}

// FractionBelowResult is what falls short and what is given away.
type FractionBelowResult struct {
	BelowNominal unit.Percent    `json:"below_nominal" sym:"F_n"` // share of pieces below the label
	BelowFirst   unit.Percent    `json:"below_first" sym:"F_1"`   // share below the first limit
	BelowSecond  unit.Percent    `json:"below_second" sym:"F_2"`  // share below the second limit; 0 where the rule set has no such limit
	AboveMost    unit.Percent    `json:"above_most" sym:"F_u"`    // share above the most that a loaf may weigh; 0 where the rule set has no such limit
	Giveaway     unit.Mass       `json:"giveaway" sym:"G"`        // mean over the label; below zero if the mean is short
	Excess       unit.Mass       `json:"excess" sym:"E"`          // what pieces hold above the label, averaged over all pieces, the short ones counted as none
	RuleSet      RuleSet         `json:"rule_set"`                // whose rules, which edition, how far seen
	Conditions   Conditions      `json:"conditions"`              // rule-set-dated, from-memory, below-label, above-limit
	Cautions     reckon.Cautions `json:"cautions"`                // weights-law
}

func (FractionBelow) ID() string { return "fraction-below" }

func (q FractionBelow) Check(c *reckon.Checks) { q.check(c) }

// check returns what the rules ask of the packer.
func (q FractionBelow) check(c *reckon.Checks) packerRules {
	rules := checkPackerRules(c, q.Rules, q.Nominal)
	if c.OK() {
		reckon.CheckRange(c, "mean", q.Mean, q.Nominal/2, q.Nominal*2)
		reckon.CheckRange(c, "sd", q.SD, q.Nominal/10000, q.Nominal/4)
	} else {
		reckon.CheckPositive(c, "mean", q.Mean)
		reckon.CheckPositive(c, "sd", q.SD)
	}
	return rules
}

func (q FractionBelow) Solve() (out FractionBelowResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	rules := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	set, _ := RuleSetFor(q.Rules) // the word was checked
	mean, sd, nominal := q.Mean.Grams(), q.SD.Grams(), q.Nominal.Grams()
	below := func(limit float64) unit.Percent {
		return unit.Percent(100 * normalBelow((limit-mean)/sd))
	}
	k := (mean - nominal) / sd
	excess := float64((mean-nominal)*normalBelow(k)) + float64(sd*normalDensity(k))
	out = FractionBelowResult{
		BelowNominal: below(nominal), BelowFirst: below(rules.first),
		Giveaway: unit.Grams(mean - nominal), Excess: unit.Grams(math.Max(excess, 0)),
		RuleSet: set, Conditions: set.conditions(), Cautions: reckon.WeightsLaw,
	}
	if rules.second != 0 {
		out.BelowSecond = below(rules.second)
	}
	none := out.BelowSecond
	if isOrdinance(q.Rules) {
		none = out.BelowFirst
	}
	if mean < nominal || q.Rules == RulesUK && out.BelowFirst > firstShareUK || none > noneShare {
		out.Conditions |= BelowLabel
	}
	if rules.most != 0 {
		out.AboveMost = unit.Percent(100 * normalBelow((mean-rules.most)/sd))
		if out.AboveMost > noneShare {
			out.Conditions |= AboveLimit
		}
	}
	return out, nil
}

func (q FractionBelow) Show(w *reckon.Working, out FractionBelowResult) {
	rules := packerRulesFor(q.Rules, q.Nominal)
	w.Inputs(q)
	showPackerRules(w, out, q.Nominal, out.RuleSet)
	w.Lines(out,
		"first limit in standard deviations from the mean: k_1 = (T_1 - m)/s",
		"share below the first limit: F_1 = 100*normal(k_1)  [share of a normal distribution below k_1]",
	)
	if rules.second != 0 {
		w.Lines(out, "second limit in standard deviations from the mean: k_2 = (T_2 - m)/s", "share below the second limit: F_2 = 100*normal(k_2)")
	}
	if rules.most != 0 {
		w.Lines(out, "most in standard deviations from the mean: k_u = (U - m)/s", "share above the most: F_u = 100*normal(-k_u)")
	}
	w.Lines(out,
		"mean over the label: G = m - Q_n",
		"the same in standard deviations: k = G/s",
		"share above the label, of one: P = normal(k)",
		"share below the label: F_n = 100*(1 - P)",
		"excess over all pieces: E = G*P + s*exp(-0.5*k*k)/sqrt(2*pi)",
	)
}
