package divider

import (
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Sampling names the sampling plan of an inspection. A rule set offers one or more.
type Sampling string

const (
	// SampleSingle draws one sample and opens no package.
	SampleSingle Sampling = "single"
	// SampleDouble draws a second sample if the first leaves the matter open.
	SampleDouble Sampling = "double"
	// SampleDestructive opens the packages, so it draws few.
	SampleDestructive Sampling = "destructive"
	// SampleAll weighs every package of a lot too small to sample.
	SampleAll Sampling = "all"
)

// Outcome is how one test of an inspection ended.
type Outcome string

const (
	// Pass says that the test is met.
	Pass Outcome = "pass"
	// Fail says that it is not.
	Fail Outcome = "fail"
	// Undecided says that the first sample does not settle it.
	Undecided Outcome = "undecided"
)

// Verdict is what an inspection comes to. Verdicts that rest on figures which
// nobody has compared with the text say so in their very word.
type Verdict string

const (
	// Accept says that the sample meets every test of the rule set.
	Accept Verdict = "accept"
	// Reject says that it does not.
	Reject Verdict = "reject"
	// DrawSecond says that a second sample must be drawn and weighed.
	DrawSecond Verdict = "second-sample"
	// UnverifiedAccept is Accept by figures recalled, not seen: it decides nothing.
	UnverifiedAccept Verdict = "unverified-accept"
	// UnverifiedReject is Reject by figures recalled, not seen: it decides nothing.
	UnverifiedReject Verdict = "unverified-reject"
)

// A samplingPlan is one row of a rule set's table of samples.
type samplingPlan struct {
	sampling         Sampling
	lotFrom, lotTo   int
	first            int // packages to draw; 0 for the whole lot
	accept           int // light packages of the first sample up to which it is accepted
	reject           int // and from which it is rejected, where a second sample settles what is between
	second           int // packages of that; 0 for none
	acceptBoth       int // accept up to, of both samples together
	meanSample       int // packages in the test of the mean; 0 for all of the first sample
	factor           float64
	acceptPerHundred int // instead of accept, for a whole lot
}

// anyLot is more packages than there are in any lot, and as many as every machine can count.
const anyLot = math.MaxInt32

// The tables. A factor is as printed, since the printed table is the law.
// lotcheck_test.go compares each with t/sqrt(n).
//
// Source: Directive 76/211/EEC, Annex II; SI 2006/659, Schedule 2; NTMR 2009
// reg 4.34, with the lot sizes from memory; New Zealand Schedule 7A, Table 1;
// NIST Handbook 133, Table 2-1, from memory.
var (
	plansEU = [...]samplingPlan{
		{sampling: SampleDouble, lotFrom: 100, lotTo: 500, first: 30, accept: 1, reject: 3, second: 30, acceptBoth: 4, meanSample: 30, factor: 0.503},
		{sampling: SampleDouble, lotFrom: 501, lotTo: 3200, first: 50, accept: 2, reject: 5, second: 50, acceptBoth: 6, meanSample: 50, factor: 0.379},
		{sampling: SampleDouble, lotFrom: 3201, lotTo: anyLot, first: 80, accept: 3, reject: 7, second: 80, acceptBoth: 8, meanSample: 50, factor: 0.379},
		{sampling: SampleDestructive, lotFrom: 100, lotTo: anyLot, first: 20, accept: 1, meanSample: 20, factor: 0.640},
	}
	plansUKOnly = [...]samplingPlan{
		{sampling: SampleSingle, lotFrom: 100, lotTo: 500, first: 50, accept: 3, meanSample: 30, factor: 0.503},
		{sampling: SampleSingle, lotFrom: 501, lotTo: 3200, first: 80, accept: 5, meanSample: 50, factor: 0.379},
		{sampling: SampleSingle, lotFrom: 3201, lotTo: anyLot, first: 125, accept: 7, meanSample: 50, factor: 0.379},
		{sampling: SampleAll, lotFrom: 1, lotTo: 99, acceptPerHundred: 5},
	}
	plansAustralia = [...]samplingPlan{
		{sampling: SampleSingle, lotFrom: 100, lotTo: 500, first: 50, accept: 3, factor: 0.379},
		{sampling: SampleSingle, lotFrom: 501, lotTo: 3200, first: 80, accept: 5, factor: 0.295},
		{sampling: SampleSingle, lotFrom: 3201, lotTo: anyLot, first: 125, accept: 7, factor: 0.234},
	}
	plansNewZealand = [...]samplingPlan{
		{sampling: SampleSingle, lotFrom: 2, lotTo: 12},
		{sampling: SampleSingle, lotFrom: 13, lotTo: 39, first: 12, factor: 0.746},
		{sampling: SampleSingle, lotFrom: 40, lotTo: 79, first: 12, accept: 1, factor: 0.826},
		{sampling: SampleSingle, lotFrom: 80, lotTo: 149, first: 12, accept: 2, factor: 0.860},
		{sampling: SampleSingle, lotFrom: 150, lotTo: 399, first: 32, accept: 3, factor: 0.465},
		{sampling: SampleSingle, lotFrom: 400, lotTo: 4000, first: 32, accept: 4, factor: 0.483},
		{sampling: SampleSingle, lotFrom: 4001, lotTo: anyLot, first: 80, accept: 6, factor: 0.295},
	}
	plansUSCategoryA = [...]samplingPlan{
		{sampling: SampleSingle, lotFrom: 2, lotTo: 2, factor: 8.985},
		{sampling: SampleSingle, lotFrom: 3, lotTo: 3, factor: 2.484},
		{sampling: SampleSingle, lotFrom: 4, lotTo: 4, factor: 1.591},
		{sampling: SampleSingle, lotFrom: 5, lotTo: 5, factor: 1.241},
		{sampling: SampleSingle, lotFrom: 6, lotTo: 6, factor: 1.050},
		{sampling: SampleSingle, lotFrom: 7, lotTo: 7, factor: 0.925},
		{sampling: SampleSingle, lotFrom: 8, lotTo: 8, factor: 0.836},
		{sampling: SampleSingle, lotFrom: 9, lotTo: 9, factor: 0.769},
		{sampling: SampleSingle, lotFrom: 10, lotTo: 10, factor: 0.715},
		{sampling: SampleSingle, lotFrom: 11, lotTo: 11, factor: 0.672},
		{sampling: SampleSingle, lotFrom: 12, lotTo: 250, first: 12, factor: 0.635},
		{sampling: SampleSingle, lotFrom: 251, lotTo: 3200, first: 24, factor: 0.422},
		{sampling: SampleSingle, lotFrom: 3201, lotTo: anyLot, first: 48, accept: 1, factor: 0.291},
	}
)

// largestPlainLot is the batch that the directive and the UK take at most,
// unless it is an hour's output at the end of the packing line.
const largestPlainLot = 10000

// planFor returns the row for the lot, made ready: with the sample sizes of a whole lot filled in.
func planFor(rules RuleSetName, sampling Sampling, lot int) (samplingPlan, bool) {
	if rules == RulesUK {
		if p, ok := findPlan(plansUKOnly[:], sampling, lot); ok {
			return p, true
		}
	}
	switch rules {
	case RulesEU, RulesUK:
		return findPlan(plansEU[:], sampling, lot)
	case RulesAustralia:
		return findPlan(plansAustralia[:], sampling, lot)
	case RulesNewZealand:
		return findPlan(plansNewZealand[:], sampling, lot)
	default:
		return findPlan(plansUSCategoryA[:], sampling, lot)
	}
}

func findPlan(plans []samplingPlan, sampling Sampling, lot int) (samplingPlan, bool) {
	for _, p := range plans {
		if p.sampling != sampling || lot < p.lotFrom || lot > p.lotTo {
			continue
		}
		if p.first == 0 {
			p.first = lot
		}
		if p.acceptPerHundred != 0 {
			p.accept = lot * p.acceptPerHundred / 100
		}
		if p.meanSample == 0 {
			p.meanSample = p.first
		}
		return p, true
	}
	return samplingPlan{}, false
}

// checkPlan requires a rule set, a plan that it offers and a lot that the plan covers.
func checkPlan(c *reckon.Checks, rules RuleSetName, sampling Sampling, lot int) (samplingPlan, bool) {
	known := false
	switch rules {
	case RulesEU:
		known = reckon.CheckEither(c, "sampling", sampling, SampleDouble, SampleDestructive)
	case RulesUK:
		known = reckon.CheckWord(c, "sampling", sampling, SampleSingle, SampleDouble, SampleDestructive, SampleAll)
	case RulesAustralia, RulesNewZealand, RulesUSCategoryA:
		known = reckon.CheckWord(c, "sampling", sampling, SampleSingle)
	}
	if !known {
		return samplingPlan{}, false
	}
	plan, ok := planFor(rules, sampling, lot)
	if ok {
		return plan, true
	}
	switch {
	case sampling == SampleAll:
		c.Fail("lot", strconv.Itoa(lot), "1 to 99 packages; a larger lot is sampled")
	case lot > anyLot:
		c.Fail("lot", strconv.Itoa(lot), "at most "+strconv.Itoa(anyLot)+" packages")
	case rules == RulesUK:
		c.Fail("lot", strconv.Itoa(lot), `100 packages or more; weigh a smaller lot whole, with sampling "all"`)
	case rules == RulesNewZealand || rules == RulesUSCategoryA:
		c.Fail("lot", strconv.Itoa(lot), "2 packages or more")
	default:
		c.Fail("lot", strconv.Itoa(lot), "100 packages or more; the plan has no row for a smaller lot")
	}
	return samplingPlan{}, false
}

// planConditions says what to look at in anything that rests on a sampling plan.
func planConditions(set RuleSet, lot int) Conditions {
	out := set.conditions()
	if set.Standing == PartRecalled {
		out |= reckon.FromMemory
	}
	if (set.Name == RulesEU || set.Name == RulesUK) && lot > largestPlainLot {
		out |= reckon.OutsideSource
	}
	return out
}

// LotCheck asks whether the sample drawn from a lot passes the rule set's
// inspection: the test of the mean, and the count of light packages.
//
//	m >= m_min = Q_n - k*s, with m and s the mean and standard deviation of the first n of the weights x_i
//	d <= c, with d the number of x_i and y_i below T_1 = Q_n - T
//	i = the number of them below T_2 = Q_n - 2*T
//	n, k and c from the plan for a lot of N packages
//
// with T from [TolerableDeficiency]. The printed factor k is t(0.995)/sqrt(n) in
// the EU, the UK and Australia, with a correction for small lots in New Zealand,
// and t(0.975)/sqrt(n) in Handbook 133. In Australia and New Zealand a single
// package below T_2 rejects the lot as well. The allowance k*s protects the
// packer from the chance of the draw. It is never a target: a packer who aims
// there fails about every second inspection, and always the rule that the
// average reaches the label; use [TargetWeight].
//
// The directive's text asks for a mean above the limit, its table for one at or
// above it; the table is followed. Where the table's test of the mean takes
// fewer packages than were drawn, the first ones count. A verdict by figures
// from memory says "unverified". The local weights and measures authority decides.
//
// [LotOperatingCurve] gives the chance to pass.
//
// It is refused if:
//   - sampling is not one of the rule set's plans,
//   - nominal lies outside the quantities that the rule set covers,
//   - lot is smaller or larger than the plan covers,
//   - sample has another size than the plan says,
//   - second_weights is there without need, or has another size than the plan says.
//
// Source: Directive 76/211/EEC, Annex II; SI 2006/659, Schedule 2; NTMR 2009
// reg 4.34; New Zealand Schedule 7A; NIST Handbook 133 from memory; cases in
// testdata/cases/divider/lot-check.json.
type LotCheck struct {
	Rules         RuleSetName `json:"rules"`                                                               // "eu-76-211", "uk-2006-659", "au-ntmr-2009", "nz-1999-373" or "us-hb133-a"
	Sampling      Sampling    `json:"sampling"`                                                            // "single", "double", "destructive" or "all", as far as the rule set offers it
	Nominal       unit.Mass   `json:"nominal" sym:"Q_n" range:"-"`                                         // weight on the label; the quantities that [TolerableDeficiency] names
	Lot           int         `json:"lot" sym:"N" range:"-"`                                               // packages in the lot; from 100 (EU, Australia), from 2 (New Zealand, US), any (UK); up to 2147483647
	Sample        []unit.Mass `json:"sample" sym:"x_#" range:"0 g..1 t" items:"..20000"`                   // net weights in the order drawn, as many as the plan says
	SecondWeights []unit.Mass `json:"second_weights,omitempty" sym:"y_#" range:"0 g..1 t" items:"..20000"` // the second sample of a double plan, only if the first leaves the matter open
}

// LotCheckResult is what the sample comes to under the rule set.
type LotCheckResult struct {
	Verdict     Verdict         `json:"verdict"`                // "accept", "reject", "second-sample"; "unverified-" before it if the figures were recalled
	MeanTest    Outcome         `json:"mean_test"`              // the inspector's test of the mean; never a target for the packer
	Contents    Outcome         `json:"contents"`               // the count of packages below the first limit; "undecided" calls for a second sample
	Mean        unit.Mass       `json:"mean" sym:"m"`           // of the packages in the test of the mean
	SD          unit.Mass       `json:"sd" sym:"s"`             // their standard deviation, divisor n-1
	MeanLimit   unit.Mass       `json:"mean_limit" sym:"m_min"` // lowest mean that the test lets pass: the label less an allowance for chance
	MeanSample  int             `json:"mean_sample" sym:"n"`    // packages in that test: the first so many drawn, since the table fixes the number
	Defective   int             `json:"defective" sym:"d"`      // packages below the first limit, in both samples
	Allowed     int             `json:"allowed" sym:"c"`        // as many may be, at this stage
	Inadequate  int             `json:"inadequate" sym:"i"`     // packages below the second limit: not to be sold, whatever the verdict
	FirstLimit  unit.Mass       `json:"first_limit" sym:"T_1"`  // label less the tolerable deficiency
	SecondLimit unit.Mass       `json:"second_limit" sym:"T_2"` // label less twice the deficiency; 0 where the rule set has no such limit
	RuleSet     RuleSet         `json:"rule_set"`               // whose rules, which edition, how far seen
	Conditions  Conditions      `json:"conditions"`             // rule-set-dated, from-memory, outside-source, below-label, weigh-more
	Cautions    reckon.Cautions `json:"cautions"`               // weights-law
}

// heaviestWeighing bounds one weighing, against slips of the unit.
const heaviestWeighing unit.Mass = 1e6

func (LotCheck) ID() string { return "lot-check" }

func (q LotCheck) Check(c *reckon.Checks) { q.check(c) }

// check returns the plan and the count of light packages, on which it depends
// whether there is a second sample.
func (q LotCheck) check(c *reckon.Checks) (plan samplingPlan, light lightCount) {
	checkAverageRules(c, q.Rules, q.Nominal)
	plan, planned := checkPlan(c, q.Rules, q.Sampling, q.Lot)
	reckon.CheckItems(c, "sample", len(q.Sample), mostWeighings)
	reckon.CheckItems(c, "second_weights", len(q.SecondWeights), mostWeighings)
	checkWeights(c, "sample", q.Sample)
	checkWeights(c, "second_weights", q.SecondWeights)
	if planned && len(q.Sample) != plan.first {
		c.Fail("sample", strconv.Itoa(len(q.Sample))+" weights", strconv.Itoa(plan.first)+" weights for a lot of "+strconv.Itoa(q.Lot))
	}
	if !c.OK() {
		return plan, light
	}
	nominal := q.Nominal.Grams()
	tenths := deficiencyFor(q.Rules, nominal).inTenths(nominal)
	light.first = unit.Grams(lower(nominal, 1, tenths))
	if hasSecondLimit(q.Rules) {
		light.second = unit.Grams(lower(nominal, 2, tenths))
	}
	light.add(q.Sample)
	light.allowed = plan.accept
	light.open = light.defective > plan.accept && light.defective < plan.reject
	switch {
	case light.open && len(q.SecondWeights) == plan.second:
		light.add(q.SecondWeights)
		light.allowed = plan.acceptBoth
	case light.open && len(q.SecondWeights) > 0:
		c.Fail("second_weights", strconv.Itoa(len(q.SecondWeights))+" weights", strconv.Itoa(plan.second)+" weights")
	case len(q.SecondWeights) > 0:
		c.Fail("second_weights", strconv.Itoa(len(q.SecondWeights))+" weights", "no second sample: the first one decides")
	}
	return plan, light
}

func (q LotCheck) Solve() (out LotCheckResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	plan, light := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	set, _ := RuleSetFor(q.Rules) // the word was checked
	nominal := q.Nominal.Grams()
	mean, sd := float64(q.Sample[0]), 0.0
	if plan.meanSample > 1 {
		mean, sd = meanSD(q.Sample[:plan.meanSample])
	}
	allowance := float64(plan.factor * sd)
	out = LotCheckResult{
		MeanTest: Pass, Contents: Pass,
		Mean: unit.Grams(mean), SD: unit.Grams(sd), MeanLimit: unit.Grams(nominal - allowance), MeanSample: plan.meanSample,
		Defective: light.defective, Allowed: light.allowed, Inadequate: light.inadequate, FirstLimit: light.first, SecondLimit: light.second,
		RuleSet: set, Conditions: planConditions(set, q.Lot), Cautions: reckon.WeightsLaw,
	}
	if mean < nominal-allowance-roundingGuard {
		out.MeanTest = Fail
	}
	switch {
	case light.open && len(q.SecondWeights) == 0:
		out.Contents = Undecided
	case out.Defective > out.Allowed:
		out.Contents = Fail
	}
	out.decide()
	return out, nil
}

// lighter lists the symbols of the packages below a limit.
func (q *LotCheck) lighter(limit unit.Mass) []string {
	first := those("x_#", len(q.Sample), func(i int) bool { return q.Sample[i] < limit })
	return append(first, those("y_#", len(q.SecondWeights), func(i int) bool { return q.SecondWeights[i] < limit })...)
}

func (q LotCheck) Show(w *reckon.Working, out LotCheckResult) {
	plan, _ := planFor(q.Rules, q.Sampling, q.Lot) // it was checked
	w.Inputs(q)
	showDeficiency(w, out, q.Nominal, out.RuleSet)
	w.Lines(out, countLine("packages below the first limit", "d", q.lighter(out.FirstLimit)))
	if plan.acceptPerHundred > 0 {
		w.Given("as many may be in a hundred", "h", float64(plan.acceptPerHundred), "", out.RuleSet.Edition)
		w.Lines(out, "as many may be: c = floor(N*h/100)")
	} else {
		w.Given("as many may be", "c", float64(out.Allowed), "", out.RuleSet.Edition)
	}
	if hasSecondLimit(q.Rules) {
		w.Lines(out, countLine("packages below the second limit", "i", q.lighter(out.SecondLimit)))
	}
	w.Given("packages in the test of the mean", "n", float64(plan.meanSample), "", out.RuleSet.Edition)
	weights, squares := make([]string, plan.meanSample), make([]string, plan.meanSample)
	for i := range weights {
		weights[i] = "x_" + strconv.Itoa(i+1)
		squares[i] = "(" + weights[i] + " - m)*(" + weights[i] + " - m)"
	}
	w.Lines(out, "their mean: m = ("+strings.Join(weights, " + ")+")/n")
	if plan.meanSample > 1 {
		w.Lines(out, "their standard deviation, divisor n-1: s = sqrt(("+strings.Join(squares, " + ")+")/(n - 1))")
	} else {
		w.Lines(out, "their standard deviation: s = 0  [one package has none]")
	}
	w.Given("factor for chance", "k", plan.factor, "", out.RuleSet.Edition)
	w.Lines(out, "lowest mean that passes: m_min = Q_n - k*s")
}

func checkWeights(c *reckon.Checks, field string, weights []unit.Mass) {
	for i, m := range weights {
		if !(m >= 0 && m <= heaviestWeighing) { // the name is only put together for a bad one
			reckon.CheckRange(c, field+"["+strconv.Itoa(i)+"]", m, 0, heaviestWeighing)
		}
	}
}

// A lightCount counts the light packages of the samples.
type lightCount struct {
	first, second         unit.Mass // the limits; the second is 0 where the rule set has none
	defective, inadequate int       // packages below them
	allowed               int       // defective ones, at this stage
	open                  bool      // the first sample does not decide
}

func (l *lightCount) add(weights []unit.Mass) {
	for _, m := range weights {
		if m < l.first {
			l.defective++
		}
		if m < l.second {
			l.inadequate++
		}
	}
}

// decide joins the tests to the verdict.
func (r *LotCheckResult) decide() {
	inadequateRejects := r.RuleSet.Name == RulesAustralia || r.RuleSet.Name == RulesNewZealand
	switch {
	case r.MeanTest == Fail, r.Contents == Fail, inadequateRejects && r.Inadequate > 0:
		r.Verdict = Reject
	case r.Contents == Undecided:
		r.Verdict = DrawSecond
		r.Conditions |= WeighMore
	default:
		r.Verdict = Accept
	}
	if r.MeanTest == Fail || r.Defective > 0 {
		r.Conditions |= BelowLabel
	}
	if r.Conditions.Has(reckon.FromMemory) {
		switch r.Verdict {
		case Accept:
			r.Verdict = UnverifiedAccept
		case Reject:
			r.Verdict = UnverifiedReject
		}
	}
}

// LotOperatingCurve asks how likely a lot is to pass the count of light packages,
// for each share of light packages in it:
//
//	P_i = P(d_1 <= c_1) + sum over c_1 < x < r_1 of P(d_1 = x) * P(d_2 <= c_2 - x)
//	d_1, d_2 = light packages among n_1 and n_2, binomial at f_i
//	n_1, c_1, r_1, n_2, c_2 from the plan for a lot of N packages
//
// The sum is only there for a double plan. It holds for lots many times the
// sample; a smaller one sets outside-source. The test of the mean is another
// matter and not in the curve, nor is the second limit. The local weights and
// measures authority decides which text holds.
//
// It is refused if:
//   - sampling or lot are not as [LotCheck] takes them, or sampling is "all",
//   - fractions is empty.
//
// Source: binomial arithmetic on the tables that [LotCheck] names; cases in
// testdata/cases/divider/lot-operating-curve.json.
//
// The inverse is [FractionForAcceptance].
type LotOperatingCurve struct {
	Rules     RuleSetName    `json:"rules"`                                                   // "eu-76-211", "uk-2006-659", "au-ntmr-2009", "nz-1999-373" or "us-hb133-a"
	Sampling  Sampling       `json:"sampling"`                                                // "single", "double" or "destructive", as far as the rule set offers it
	Lot       int            `json:"lot" sym:"N" range:"-"`                                   // packages in the lot, as for [LotCheck]
	Fractions []unit.Percent `json:"fractions" sym:"f_#" range:"0 %..100 %" items:"1..10000"` // shares of the lot below the first limit, at least one
}

// OperatingPoint is the chance that a lot with so many light packages passes.
type OperatingPoint struct {
	Fraction unit.Percent `json:"fraction" sym:"f_#"` // share of the lot below the first limit
	Accepted float64      `json:"accepted" sym:"P_#"` // probability that the count of light packages lets it pass, 0 to 1
}

// LotOperatingCurveResult is the operating characteristic of the plan.
type LotOperatingCurveResult struct {
	Points       []OperatingPoint `json:"points"`                  // the caller's slice with one point for each fraction added
	FirstSample  int              `json:"first_sample" sym:"n_1"`  // packages in the first sample
	Accept       int              `json:"accept" sym:"c_1"`        // light packages up to which the first sample is accepted
	SecondSample int              `json:"second_sample" sym:"n_2"` // packages in the second sample; 0 for none
	RuleSet      RuleSet          `json:"rule_set"`                // whose rules, which edition, how far seen
	Conditions   Conditions       `json:"conditions"`              // rule-set-dated, from-memory, outside-source
	Cautions     reckon.Cautions  `json:"cautions"`                // weights-law
}

// largeLotShare is the share of a lot up to which drawing without putting back
// is near enough to the binomial. A tenth is the usual rule; common practice, no source.
const largeLotShare = 10

// mostFractions is more points than a curve is ever drawn with.
const mostFractions = 10_000

func (LotOperatingCurve) ID() string { return "lot-operating-curve" }

func (q LotOperatingCurve) Check(c *reckon.Checks) { q.check(c) }

// check returns the plan and the rule set.
func (q LotOperatingCurve) check(c *reckon.Checks) (samplingPlan, RuleSet) {
	plan, set := checkCurve(c, q.Rules, q.Sampling, q.Lot)
	reckon.CheckItems(c, "fractions", len(q.Fractions), mostFractions)
	if len(q.Fractions) == 0 {
		c.Fail("fractions", "empty", "at least one share of light packages")
	}
	for i, p := range q.Fractions {
		if !(p >= 0 && p <= 100) { // the name is only put together for a bad one
			reckon.CheckRange(c, "fractions["+strconv.Itoa(i)+"]", p, 0, 100)
		}
	}
	return plan, set
}

func (q LotOperatingCurve) Solve() (LotOperatingCurveResult, error) { return q.Append(nil) }

// Append is Solve with the points appended to dst.
func (q LotOperatingCurve) Append(dst []OperatingPoint) (out LotOperatingCurveResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	plan, set := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	for _, p := range q.Fractions {
		dst = append(dst, OperatingPoint{Fraction: p, Accepted: plan.accepted(float64(p) / 100)})
	}
	return LotOperatingCurveResult{
		Points: dst, FirstSample: plan.first, Accept: plan.accept, SecondSample: plan.second,
		RuleSet: set, Conditions: curveConditions(set, plan, q.Lot), Cautions: reckon.WeightsLaw,
	}, nil
}

func (q LotOperatingCurve) Show(w *reckon.Working, out LotOperatingCurveResult) {
	plan, _ := planFor(q.Rules, q.Sampling, q.Lot) // it was checked
	w.Inputs(q)
	plan.show(w, out.RuleSet)
	// A curve may have any number of points: Item, which reads the steps before it, would take long.
	for i, point := range out.Points[len(out.Points)-len(q.Fractions):] { // the rest was the caller's
		number, p := strconv.Itoa(i+1), float64(point.Fraction)/100
		first, second := "A_"+number, "B_"+number
		w.Given("chance to pass on the first sample", first, binomialUpTo(plan.first, plan.accept, p), "", "binomial distribution of n_1 at f_"+number+"/100")
		w.Given("chance to pass on the second sample", second, plan.acceptedLater(p), "", "binomial distributions of n_1 and n_2, over what the first sample leaves open")
		w.Step("chance to pass", "P_"+number, first+" + "+second, point.Accepted, "", "")
	}
}

// show records the samples that the plan draws and what it forgives.
func (plan samplingPlan) show(w *reckon.Working, set RuleSet) {
	w.Given("packages in the first sample", "n_1", float64(plan.first), "", set.Edition)
	w.Given("accepted up to", "c_1", float64(plan.accept), "", set.Edition)
	if plan.second > 0 {
		w.Given("rejected from", "r_1", float64(plan.reject), "", set.Edition)
		w.Given("packages in the second sample", "n_2", float64(plan.second), "", set.Edition)
		w.Given("accepted up to, of both", "c_2", float64(plan.acceptBoth), "", set.Edition)
	}
}

// checkCurve requires a rule set and a plan with a curve.
func checkCurve(c *reckon.Checks, rules RuleSetName, sampling Sampling, lot int) (samplingPlan, RuleSet) {
	reckon.CheckWord(c, "rules", rules, RulesEU, RulesUK, RulesAustralia, RulesNewZealand, RulesUSCategoryA)
	if sampling == SampleAll {
		c.Fail("sampling", `"all"`, "a plan that draws a sample: a lot weighed whole leaves nothing to chance")
		return samplingPlan{}, RuleSet{}
	}
	plan, _ := checkPlan(c, rules, sampling, lot)
	set, _ := RuleSetFor(rules) // checked above
	return plan, set
}

func curveConditions(set RuleSet, plan samplingPlan, lot int) Conditions {
	out := planConditions(set, lot)
	if plan.first+plan.second > lot/largeLotShare {
		out |= reckon.OutsideSource
	}
	return out
}

// accepted returns the chance to pass with a share p of light packages.
func (plan samplingPlan) accepted(p float64) float64 {
	return binomialUpTo(plan.first, plan.accept, p) + plan.acceptedLater(p)
}

// acceptedLater returns the chance to pass on the second sample.
func (plan samplingPlan) acceptedLater(p float64) float64 {
	sum := 0.0
	for x := plan.accept + 1; x < plan.reject; x++ {
		sum += float64(binomialExactly(plan.first, x, p) * binomialUpTo(plan.second, plan.acceptBoth-x, p))
	}
	return sum
}

// binomialUpTo returns the chance of at most k out of n. The terms are built
// up from the first by their ratio, which loses nothing that matters for the
// samples of these plans (n to 125).
func binomialUpTo(n, k int, p float64) float64 {
	sum, _ := binomialTerms(n, k, p)
	return sum
}

// binomialExactly returns the chance of exactly k out of n.
func binomialExactly(n, k int, p float64) float64 {
	_, last := binomialTerms(n, k, p)
	return last
}

func binomialTerms(n, k int, p float64) (sum, last float64) {
	if p >= 1 {
		return 0, 0 // every plan draws more than it forgives
	}
	term := math.Pow(1-p, float64(n))
	sum = term
	for i := 1; i <= k; i++ {
		term = float64(term * (float64(n-i+1) / float64(i)) * (p / (1 - p)))
		sum += term
	}
	return math.Min(sum, 1), term
}

// FractionForAcceptance asks what share of light packages a lot can hold and
// still have a given chance to pass:
//
//	P(f) = P, with P(f) as in lot-operating-curve for a lot of N packages
//
// At 0.95 it is the share that seldom costs a good packer a lot, at 0.10 the
// share that seldom slips through. Found by bisection, since P falls steadily.
// The local weights and measures authority decides which text holds.
//
// It is refused if:
//   - sampling or lot are not as [LotOperatingCurve] takes them.
//
// Source: binomial arithmetic on the tables that [LotCheck] names.
//
// The inverse is [LotOperatingCurve].
type FractionForAcceptance struct {
	Rules    RuleSetName `json:"rules"`                                 // "eu-76-211", "uk-2006-659", "au-ntmr-2009", "nz-1999-373" or "us-hb133-a"
	Sampling Sampling    `json:"sampling"`                              // "single", "double" or "destructive", as far as the rule set offers it
	Lot      int         `json:"lot" sym:"N" range:"-"`                 // packages in the lot, as for [LotCheck]
	Accepted float64     `json:"accepted" sym:"P" range:"0.001..0.999"` // wanted probability to pass
}

// FractionForAcceptanceResult is the lot that passes with that chance.
type FractionForAcceptanceResult struct {
	Fraction   unit.Percent    `json:"fraction" sym:"f"` // share of the lot below the first limit
	RuleSet    RuleSet         `json:"rule_set"`         // whose rules, which edition, how far seen
	Conditions Conditions      `json:"conditions"`       // rule-set-dated, from-memory, outside-source
	Cautions   reckon.Cautions `json:"cautions"`         // weights-law
}

func (FractionForAcceptance) ID() string { return "fraction-for-acceptance" }

func (q FractionForAcceptance) Check(c *reckon.Checks) { q.check(c) }

// check returns the plan and the rule set.
func (q FractionForAcceptance) check(c *reckon.Checks) (samplingPlan, RuleSet) {
	plan, set := checkCurve(c, q.Rules, q.Sampling, q.Lot)
	reckon.CheckRange(c, "accepted", q.Accepted, 0.001, 0.999)
	return plan, set
}

func (q FractionForAcceptance) Solve() (out FractionForAcceptanceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	plan, set := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	// P is 1 at none light and 0 at all light, for every plan draws more than it forgives.
	p, _ := reckon.Bisect(0, 1, func(p float64) float64 { return plan.accepted(p) - q.Accepted })
	return FractionForAcceptanceResult{
		Fraction: unit.Percent(p * 100), RuleSet: set,
		Conditions: curveConditions(set, plan, q.Lot), Cautions: reckon.WeightsLaw,
	}, nil
}

func (q FractionForAcceptance) Show(w *reckon.Working, out FractionForAcceptanceResult) {
	plan, _ := planFor(q.Rules, q.Sampling, q.Lot) // it was checked
	w.Inputs(q)
	plan.show(w, out.RuleSet)
	w.Given("share of light packages", "f", float64(out.Fraction), "%", "bisection on the operating curve")
}
