package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// RuleSetName names a set of net-content rules by authority and edition. The
// sets differ in what they round, what they allow and how they sample, so one
// is always chosen by name.
type RuleSetName string

// The rule sets. See [RuleSetFor] for whose they are and how far they were seen.
const (
	// RulesEU is the average system of Council Directive 76/211/EEC.
	RulesEU RuleSetName = "eu-76-211"
	// RulesUK is the packers' rules of SI 2006/659.
	RulesUK RuleSetName = "uk-2006-659"
	// RulesAustralia is OIML R 87:2004 as Australia enacted it in 2009.
	RulesAustralia RuleSetName = "au-ntmr-2009"
	// RulesNewZealand is the average quantity system of 1999, as amended in 2001.
	RulesNewZealand RuleSetName = "nz-1999-373"
	// RulesUSCategoryA is Category A of NIST Handbook 133, recalled from memory.
	RulesUSCategoryA RuleSetName = "us-hb133-a"
	// LoafTexas is the standard loaf of the Texas Health and Safety Code.
	LoafTexas RuleSetName = "us-tx-434-007"
	// LoafSriLanka is the loaf of the Consumer Affairs Authority's gazette of 2024.
	LoafSriLanka RuleSetName = "lk-caa-2024"
)

// Standing says how far the figures of a rule set were seen in print.
type Standing string

const (
	// SeenInText says that the figures were read in the text named, or in national texts that transcribe it.
	SeenInText Standing = "published"
	// SeenInReports says that only reports about the text were read.
	SeenInReports Standing = "secondary"
	// PartRecalled says that some figures of the sampling plan were recalled, not seen.
	PartRecalled Standing = "part-memory"
	// Recalled says that the figures were recalled, not seen.
	Recalled Standing = "memory"
)

// A RuleSet says whose rules a result rests on. It goes with every result, so
// that nobody takes the arithmetic for the law.
type RuleSet struct {
	Name      RuleSetName `json:"name"`       // the word that chooses it
	Authority string      `json:"authority"`  // who made it
	Edition   string      `json:"edition"`    // which text, of when; check it against the one in force
	Standing  Standing    `json:"provenance"` // "published", "secondary", "part-memory" or "memory"
	Note      string      `json:"note"`       // what was seen, what was not, and to whom it applies
}

// RuleSetFor returns the description of a rule set, and false for a word that names none.
//
// Source: the texts named in each edition and note.
func RuleSetFor(name RuleSetName) (RuleSet, bool) {
	switch name {
	case RulesEU:
		return RuleSet{
			name, "European Union", "Council Directive 76/211/EEC, consolidated, Annexes I and II", SeenInText,
			"5 g to 10 kg. The rounding up to 0.1 g was read in the British and German texts that transcribe the directive.",
		}, true
	case RulesUK:
		return RuleSet{
			name, "United Kingdom", "SI 2006/659, Schedule 2, with the government's table to 25 kg", SeenInText,
			"Packages made up in a constant quantity; the weight must still hold while the bread is on display.",
		}, true
	case RulesAustralia:
		return RuleSet{
			name, "Australia", "National Trade Measurement Regulations 2009, regs 4.34 and 4.36 (OIML R 87:2004)", PartRecalled,
			"The deficiency table was read; the lot sizes of the sampling plan were recalled and agree with the British single plan.",
		}, true
	case RulesNewZealand:
		return RuleSet{
			name, "New Zealand", "Weights and Measures Regulations 1999, Schedule 7A, as amended by SR 2001/305", SeenInText,
			"No rounding rule was seen, so percentages are not rounded, which is the stricter reading.",
		}, true
	case RulesUSCategoryA:
		return RuleSet{
			name, "United States, NIST", "Handbook 133, Tables 2-1 and 2-5, editions of about 2005 to 2020", Recalled,
			"Only the row to 0.26 lb was seen. Where the pound and gram columns differ the smaller variation is taken.",
		}, true
	case LoafTexas:
		return RuleSet{
			name, "State of Texas", "Health and Safety Code section 434.007, as of 2024", SeenInText,
			"Holds within 24 hours of baking; not for food service establishments and licensed food manufacturers. The rules on labelled weight hold besides.",
		}, true
	case LoafSriLanka:
		return RuleSet{
			name, "Sri Lanka, Consumer Affairs Authority", "gazette of February 2024", SeenInReports,
			"Read in press reports; the gazette itself was not seen.",
		}, true
	}
	return RuleSet{}, false
}

// conditions returns what every result under the rule set must show.
func (r RuleSet) conditions() Conditions {
	if r.Standing == Recalled {
		return RuleSetDated | reckon.FromMemory
	}
	return RuleSetDated
}

// A deficiencyBand is one row of the table of tolerable deficiencies. One of
// perMille and tenths is zero.
type deficiencyBand struct {
	to       float64 // nominal quantity up to and with this, in g
	perMille float64 // of the nominal quantity
	tenths   float64 // tenths of a gram
}

// deficiencyBands is the table that the average systems share. The function is
// continuous, so which side owns a breakpoint never matters.
//
// Source: Directive 76/211/EEC, Annex I, 2.4; Australia NTMR 2009 reg 4.36.
var deficiencyBands = [...]deficiencyBand{
	{to: 50, perMille: 90},
	{to: 100, tenths: 45},
	{to: 200, perMille: 45},
	{to: 300, tenths: 90},
	{to: 500, perMille: 30},
	{to: 1000, tenths: 150},
	{to: 10000, perMille: 15},
	{to: 15000, tenths: 1500},
	{to: math.MaxFloat64, perMille: 10},
}

// A variationBand is one row of Handbook 133, Table 2-5: labels over pounds up to toPounds.
type variationBand struct {
	toPounds float64
	tenths   float64 // maximum allowable variation in tenths of a gram
}

// variationBands is recalled, not seen, but for the row to 0.26 lb. Below the
// first row the variation is 10 % of the label, above the last 2 %.
//
// Source: NIST Handbook 133, Table 2-5, from memory.
var variationBands = [...]variationBand{
	{0.12, 36},
	{0.18, 54},
	{0.26, 72},
	{0.34, 90},
	{0.46, 108},
	{0.58, 127},
	{0.70, 145},
	{0.84, 163},
	{0.94, 181},
	{1.08, 199},
	{1.26, 217},
	{1.40, 235},
	{1.54, 254},
	{1.70, 272},
	{1.88, 290},
	{2.14, 317},
	{2.48, 353},
	{2.76, 390},
	{3.20, 426},
	{3.90, 498},
	{4.70, 544},
	{5.80, 635},
	{6.80, 680},
	{7.90, 771},
	{9.40, 861},
	{11.7, 997},
	{14.3, 1130},
	{17.7, 1270},
	{23.2, 1400},
	{31.6, 1670},
	{42.4, 1990},
	{54.4, 2260},
}

const (
	variationFromPounds     = 0.08 // up to here 10 % of the label
	variationSmallPerMille  = 100
	variationLargePerMille  = 20
	measurementShareAverage = 5 // error of measurement at most a fifth of the deficiency: 76/211/EEC Annex II
	measurementShareUS      = 6 // scale division at most a sixth of the variation: Handbook 133, 2.2, seen
)

// A deficiencyRule is what the table says for one nominal quantity, in the
// form in which it is computed and shown.
type deficiencyRule struct {
	perMille float64 // 0 for a fixed row
	tenths   float64 // the fixed row
	step     float64 // percentages are rounded up to this many tenths of a gram; 0 for not at all
}

// roundingGuard keeps an exact multiple of the step from being rounded up by
// the last bit of binary arithmetic. It is far below what any scale shows.
const roundingGuard = 1e-9

// inTenths returns the deficiency in tenths of a gram: whole steps stay exact that way.
func (r deficiencyRule) inTenths(nominal float64) float64 {
	switch {
	case r.perMille == 0:
		return r.tenths
	case r.step == 0:
		return float64(nominal*r.perMille) / 100
	}
	return math.Ceil(float64(nominal*r.perMille)/100/r.step-roundingGuard) * r.step
}

// nominalRange returns the nominal quantities that a rule set covers, in g.
func nominalRange(name RuleSetName) (low, high float64) {
	switch name {
	case RulesEU:
		return 5, 10000
	case RulesUK:
		return 5, 25000
	case RulesAustralia:
		return 1, 50000
	case LoafTexas, LoafSriLanka:
		return 1, 50000 // the sizes themselves are checked one by one
	}
	// No limits were seen. These only catch slips of a digit.
	return 1, 100000
}

// deficiencyFor looks up the row. The nominal quantity is within nominalRange.
func deficiencyFor(name RuleSetName, nominal float64) deficiencyRule {
	if name == RulesUSCategoryA {
		label := unit.Mass(nominal)
		if label <= unit.Pounds(variationFromPounds) {
			return deficiencyRule{perMille: variationSmallPerMille}
		}
		for _, b := range variationBands {
			if label <= unit.Pounds(b.toPounds)+roundingGuard {
				return deficiencyRule{tenths: b.tenths}
			}
		}
		return deficiencyRule{perMille: variationLargePerMille}
	}
	var r deficiencyRule
	for _, b := range deficiencyBands {
		if nominal <= b.to {
			r.perMille, r.tenths = b.perMille, b.tenths
			break
		}
	}
	switch {
	case name == RulesNewZealand:
	case name == RulesAustralia && nominal > 1000:
		r.step = 10
	default:
		r.step = 1
	}
	return r
}

// measurementShare returns which part of the deficiency measuring may be off by: one in so many.
func measurementShare(name RuleSetName) float64 {
	if name == RulesUSCategoryA {
		return measurementShareUS
	}
	return measurementShareAverage
}

// hasSecondLimit reports whether the rule set knows packages so light that none may be sold.
func hasSecondLimit(name RuleSetName) bool { return name != RulesUSCategoryA }

// lower returns the nominal quantity less times the deficiency, in g, with no
// more rounding than the last division: a package at the very limit passes.
func lower(nominal, times, tenths float64) float64 {
	return (float64(nominal*10) - float64(times*tenths)) / 10
}

// checkAverageRules requires an average system by name and a nominal quantity that it covers.
func checkAverageRules(c *reckon.Checks, name RuleSetName, nominal unit.Mass) {
	if !reckon.CheckWord(c, "rules", name, RulesEU, RulesUK, RulesAustralia, RulesNewZealand, RulesUSCategoryA) {
		// Without a rule set the range is not known, but zero is wrong under any.
		reckon.CheckPositive(c, "nominal", nominal)
		return
	}
	low, high := nominalRange(name)
	reckon.CheckRange(c, "nominal", nominal, unit.Grams(low), unit.Grams(high))
}

// TolerableDeficiency asks how far one package may fall short of its label
// under a rule set, and which two weights follow from it:
//
//	T   = p/1000 * Q_n rounded up to the edition's step, or the fixed grams of the row
//	T_1 = Q_n - T
//	T_2 = Q_n - 2*T
//	e   = T/5, in us-hb133-a T/6
//
// The step is 0.1 g in the EU and the UK, and in Australia 0.1 g up to 1 kg and
// 1 g above. T_2 is twice the rounded deficiency; the German table rounds twice
// the percentage itself and may differ by 0.1 g.
// The local weights and measures authority decides which text holds.
//
// It is refused if:
//   - nominal lies outside the quantities that the rule set covers.
//
// Source: Directive 76/211/EEC, Annex I; SI 2006/659; NTMR 2009 reg 4.36; New
// Zealand Schedule 7A; NIST Handbook 133 from memory; cases in
// testdata/cases/divider/tolerable-deficiency.json.
type TolerableDeficiency struct {
	Rules   RuleSetName `json:"rules"`                       // "eu-76-211", "uk-2006-659", "au-ntmr-2009", "nz-1999-373" or "us-hb133-a"
	Nominal unit.Mass   `json:"nominal" sym:"Q_n" range:"-"` // weight on the label; 5 g to 10 kg (EU), to 25 kg (UK), 1 g to 50 kg (Australia), to 100 kg (others)
}

// TolerableDeficiencyResult is what the rule set tolerates of one package.
type TolerableDeficiencyResult struct {
	Deficiency  unit.Mass       `json:"deficiency" sym:"T"`     // tolerable negative error, deficiency or variation, by the name the rule set gives it
	FirstLimit  unit.Mass       `json:"first_limit" sym:"T_1"`  // only a few packages may weigh less
	SecondLimit unit.Mass       `json:"second_limit" sym:"T_2"` // no package may weigh less; 0 where the rule set has no such limit
	ScaleLimit  unit.Mass       `json:"scale_limit" sym:"e"`    // largest error of measurement (a fifth) or, in us-hb133-a, scale division (a sixth)
	RuleSet     RuleSet         `json:"rule_set"`               // whose rules, which edition, how far seen
	Conditions  Conditions      `json:"conditions"`             // rule-set-dated, from-memory
	Cautions    reckon.Cautions `json:"cautions"`               // weights-law
}

func (TolerableDeficiency) ID() string { return "tolerable-deficiency" }

func (q TolerableDeficiency) Check(c *reckon.Checks) { checkAverageRules(c, q.Rules, q.Nominal) }

func (q TolerableDeficiency) Solve() (out TolerableDeficiencyResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	set, _ := RuleSetFor(q.Rules) // the word was checked
	nominal := q.Nominal.Grams()
	tenths := deficiencyFor(q.Rules, nominal).inTenths(nominal)
	out = TolerableDeficiencyResult{
		Deficiency: unit.Grams(tenths / 10),
		FirstLimit: unit.Grams(lower(nominal, 1, tenths)),
		ScaleLimit: unit.Grams(tenths / 10 / measurementShare(q.Rules)),
		RuleSet:    set, Conditions: set.conditions(), Cautions: reckon.WeightsLaw,
	}
	if hasSecondLimit(q.Rules) {
		out.SecondLimit = unit.Grams(lower(nominal, 2, tenths))
	}
	return out, nil
}

func (q TolerableDeficiency) Show(w *reckon.Working, out TolerableDeficiencyResult) {
	w.Inputs(q)
	showDeficiency(w, out, q.Nominal, out.RuleSet)
	w.Given("error of measurement, one part in", "f", measurementShare(q.Rules), "", out.RuleSet.Edition)
	w.Lines(out, "largest error of measurement, or scale division: e = T/f")
}

// showDeficiency records the deficiency T of the nominal quantity Q_n and the
// limits that follow from it. The deficiency is not left to a sheet, which
// knows no roundingGuard.
func showDeficiency(w *reckon.Working, answer any, nominal unit.Mass, set RuleSet) {
	r := deficiencyFor(set.Name, nominal.Grams())
	deficiency := r.inTenths(nominal.Grams()) / 10
	if r.perMille > 0 {
		w.Given("tolerable deficiency in parts per thousand", "p", r.perMille, "", set.Edition)
	}
	switch {
	case r.perMille == 0:
		w.Given("tolerable deficiency, fixed in this row", "T", deficiency, "g", set.Edition)
	case r.step == 0:
		w.Step("tolerable deficiency, not rounded", "T", "Q_n*p/1000{parts per thousand}", deficiency, "g", set.Edition)
	case r.step == 1:
		w.Step("tolerable deficiency, rounded up to 0.1 g", "T", "ceil(Q_n*p/100)/10", deficiency, "g", set.Edition)
	default:
		w.Step("tolerable deficiency, rounded up to 1 g", "T", "ceil(Q_n*p/1000{parts per thousand})", deficiency, "g", set.Edition)
	}
	w.Lines(answer, "first limit: T_1 = Q_n - T in g  ["+set.Edition+"]")
	if hasSecondLimit(set.Name) {
		w.Lines(answer, "second limit: T_2 = Q_n - 2*T in g  ["+set.Edition+"]")
	}
}

// LoafLimits asks for the least and the most that a loaf of a standard size may
// weigh under a loaf-weight ordinance:
//
//	L = Q_n - v,  U = Q_n + v
//
// with v the variation: 1 oz for each pound in Texas; 13.5 g of a 450 g loaf
// and 9 g of a 225 g loaf, downwards only, in Sri Lanka. An ordinance speaks of
// the single loaf; the rules on labelled weight hold besides.
// The local weights and measures authority decides which text holds.
//
// It is refused if:
//   - nominal is not a standard size of the ordinance.
//
// Source: Texas Health and Safety Code 434.007; press reports on the gazette of
// February 2024; cases in testdata/cases/divider/loaf-limits.json.
type LoafLimits struct {
	Rules   RuleSetName `json:"rules"`                       // "us-tx-434-007" or "lk-caa-2024"
	Nominal unit.Mass   `json:"nominal" sym:"Q_n" range:"-"` // the standard size: 1 lb, 1.5 lb or a multiple of 1 lb up to 100 lb (Texas); 225 g or 450 g (Sri Lanka)
}

// LoafLimitsResult is what each single loaf may weigh.
type LoafLimitsResult struct {
	WeightLow  unit.Mass       `json:"weight_low" sym:"L"`  // no loaf may weigh less
	WeightHigh unit.Mass       `json:"weight_high" sym:"U"` // no loaf may weigh more; 0 where the ordinance sets no upper limit
	RuleSet    RuleSet         `json:"rule_set"`            // whose rules, which edition, how far seen
	Conditions Conditions      `json:"conditions"`          // rule-set-dated
	Cautions   reckon.Cautions `json:"cautions"`            // weights-law
}

func (LoafLimits) ID() string { return "loaf-limits" }

func (q LoafLimits) Check(c *reckon.Checks) { q.check(c) }

// check returns the variation in g.
func (q LoafLimits) check(c *reckon.Checks) (variation float64) {
	if reckon.CheckEither(c, "rules", q.Rules, LoafTexas, LoafSriLanka) {
		return checkLoaf(c, q.Rules, q.Nominal)
	}
	reckon.CheckPositive(c, "nominal", q.Nominal)
	return 0
}

func (q LoafLimits) Solve() (out LoafLimitsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	variation := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	set, _ := RuleSetFor(q.Rules) // the word was checked
	out = LoafLimitsResult{
		WeightLow: unit.Grams(q.Nominal.Grams() - variation),
		RuleSet:   set, Conditions: set.conditions(), Cautions: reckon.WeightsLaw,
	}
	if q.Rules == LoafTexas {
		out.WeightHigh = unit.Grams(q.Nominal.Grams() + variation)
	}
	return out, nil
}

func (q LoafLimits) Show(w *reckon.Working, out LoafLimitsResult) {
	w.Inputs(q)
	showVariation(w, q.Nominal, out.RuleSet)
	if out.WeightHigh > 0 {
		w.Lines(out, "most: U = Q_n + v")
	}
	w.Lines(out, "least: L = Q_n - v")
}

// showVariation records the variation v of a standard size Q_n.
func showVariation(w *reckon.Working, nominal unit.Mass, set RuleSet) {
	variation, _ := loafVariation(set.Name, nominal) // the size was checked
	if set.Name == LoafTexas {
		w.Step("variation, an ounce for each pound", "v", "Q_n/16", variation, "g", set.Edition)
		return
	}
	w.Given("variation", "v", variation, "g", set.Edition)
}

const ouncesPerPound = 16

// checkLoaf requires a standard size and returns its variation in g.
func checkLoaf(c *reckon.Checks, name RuleSetName, nominal unit.Mass) float64 {
	variation, standard := loafVariation(name, nominal)
	switch {
	case standard:
	case name == LoafSriLanka:
		c.Fail("nominal", nominal.String(), "a loaf of 225 g or 450 g")
	default:
		c.Fail("nominal", nominal.In(unit.US), "a standard loaf of 1 lb, 1.5 lb or a multiple of 1 lb up to 100 lb; the ordinance sets no variation for others")
	}
	return variation
}

// loafVariation returns the variation of a standard size in g, and false for any other size.
func loafVariation(name RuleSetName, nominal unit.Mass) (float64, bool) {
	// The guard admits a size typed in another unit, such as 453.592 g for a pound.
	const guard = 1e-4
	if name == LoafSriLanka {
		for _, size := range [...]struct{ nominal, variation float64 }{{225, 9}, {450, 13.5}} {
			if math.Abs(nominal.Grams()-size.nominal) <= guard*size.nominal {
				return size.variation, true
			}
		}
		return 0, false
	}
	pounds := nominal.Pounds()
	for _, size := range [...]float64{1.5, math.Round(pounds)} {
		if size >= 1 && size <= 100 && math.Abs(pounds-size) <= guard {
			return nominal.Grams() / ouncesPerPound, true
		}
	}
	return 0, false
}
