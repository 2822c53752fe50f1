package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DoughYield returns the dough that 100 of flour give: net with the liquids
// alone, gross with every ingredient. A starter's flour counts as flour and its water as liquid.
//
//	net   = 100 * (all flour + all liquid) / all flour
//	gross = 100 * (all ingredients) / all flour
//
// The trade counts milk and eggs at their whole weight and salt, yeast and the rest on all the
// flour. A net yield of 160 is a hydration of 60 %.
//
// It is exact arithmetic on the percentages.
//
// It returns an *[reckon.InputError] if:
//   - the formula is not one that [FormulaScale] takes,
//   - the reading of liquids is not named.
//
// Source: einfachbrotbacken.de, Teigausbeute; J. Loderbauer, Das Baeckerbuch (2016), as cited by lebensmittellexikon.de; cases in
// testdata/cases/doughmath/dough-yield.json.
//
// [WaterForHydration] finds the water for a wanted net yield (100 % less); [BreadYield] goes on to the
// bread.
type DoughYield struct {
	Ingredients []Ingredient  `json:"ingredients"` // the formula; the flours make 100 %, a starter counts on the flours listed
	Liquids     LiquidReading `json:"liquids"`     // "whole-mass", as the trade counts, or "water-content"
}

func (DoughYield) ID() string { return "dough-yield" }

// SHELL
func (q DoughYield) Check(c *reckon.Checks) {
	_, err := explainDoughYield(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoughYield) Solve() (DoughYieldResult, error) { return explainDoughYield(q, nil) }

func (q DoughYield) Show(w *reckon.Working, _ DoughYieldResult) { _, _ = explainDoughYield(q, w) }

// DoughYieldResult is the dough that 100 of flour give.
type DoughYieldResult struct {
	Net        unit.BakersPercent `json:"net"`        // flour and liquids for 100 of flour
	Gross      unit.BakersPercent `json:"gross"`      // everything for 100 of flour
	Conditions Conditions         `json:"conditions"` // unusual-hydration, unusual-salt
}

func explainDoughYield(in DoughYield, w *reckon.Working) (DoughYieldResult, error) {
	c := reckon.Checks{Func: "dough-yield"}
	sum, salt := checkFormula(&c, in.Ingredients)
	reckon.CheckEither(&c, "liquids", in.Liquids, LiquidsWhole, LiquidsWater)
	if err := c.Err(); err != nil {
		return DoughYieldResult{}, err
	}
	s := in.Liquids.count(in.Ingredients)
	flour, liquid := 100+s.starterFlour, s.water+s.starterWater
	net, gross := 100*(flour+liquid)/flour, 100*sum/flour
	if w != nil {
		w.Step("sum of the percentages", "S", explainPercents(w, in.Ingredients), sum, "%", "")
		s.explain(w)
		w.Step("all flour", "F", "100 + F_s", flour, "%", "")
		w.Step("all liquid", "W", "W_l + W_s", liquid, "%", "")
		w.Step("gross yield", "Y_g", "100*S/F", gross, "%", "")
		w.Step("net yield", "Y_n", "100*(F + W)/F", net, "%", "")
	}
	return DoughYieldResult{
		Net: unit.BakersPercent(net), Gross: unit.BakersPercent(gross),
		Conditions: hydrationCondition(net-100) | saltCondition(salt),
	}, nil
}

// BreadYield returns the bread that 100 of flour made.
//
//	yield = 100 * (bread - rework) / flour, gain = yield - 100
//
// It is exact arithmetic on the weights.
//
// It returns an *[reckon.InputError] if:
//   - bread or flour is outside 1 mg to 1000 t, or flour is less than a thousandth of the bread,
//   - rework is negative, or as much as the bread or more.
//
// Source: wiki-otvet.ru, how to cost bread (Russian practice of yield and gain); F. Accum, Art of Making Good Wholesome Bread
// (1821); cases in testdata/cases/doughmath/bread-yield.json.
//
// The inverse is [FlourForBread].
type BreadYield struct {
	Bread  unit.Mass `json:"bread"`           // bread as sold; 1 mg to 1000 t
	Rework unit.Mass `json:"rework,omitzero"` // bread of earlier days worked in, which the flour did not make; 0 to less than bread
	Flour  unit.Mass `json:"flour"`           // all the flour; 1 mg to 1000 t, a thousandth of the bread or more
}

func (BreadYield) ID() string { return "bread-yield" }

// SHELL
func (q BreadYield) Check(c *reckon.Checks) {
	_, err := explainBreadYield(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BreadYield) Solve() (BreadYieldResult, error) { return explainBreadYield(q, nil) }

func (q BreadYield) Show(w *reckon.Working, _ BreadYieldResult) { _, _ = explainBreadYield(q, w) }

// BreadYieldResult is the bread of 100 of flour.
type BreadYieldResult struct {
	Yield unit.BakersPercent `json:"yield"` // bread for 100 of flour
	Gain  unit.BakersPercent `json:"gain"`  // bread above the flour, for 100 of flour
}

func explainBreadYield(in BreadYield, w *reckon.Working) (BreadYieldResult, error) {
	c := reckon.Checks{Func: "bread-yield"}
	breadOK := checkMass(&c, "bread", in.Bread)
	if flourOK := checkMass(&c, "flour", in.Flour); flourOK && breadOK && in.Flour < in.Bread/1000 {
		c.Fail("flour", reckon.Text(in.Flour), "a thousandth of the bread or more: check the units")
	}
	checkRework(&c, in.Rework, in.Bread, breadOK)
	if err := c.Err(); err != nil {
		return BreadYieldResult{}, err
	}
	yield := 100 * (float64(in.Bread) - float64(in.Rework)) / float64(in.Flour)
	if w != nil {
		w.Given("bread", "B", float64(in.Bread), "g", "")
		w.Given("rework", "R", float64(in.Rework), "g", "")
		w.Given("flour", "F", float64(in.Flour), "g", "")
		w.Step("yield", "Y", "100*(B - R)/F", yield, "%", "")
		w.Step("gain", "G", "Y - 100", yield-100, "%", "")
	}
	return BreadYieldResult{Yield: unit.BakersPercent(yield), Gain: unit.BakersPercent(yield - 100)}, nil
}

func checkRework(c *reckon.Checks, rework, bread unit.Mass, breadOK bool) {
	if breadOK {
		reckon.CheckBelow(c, "rework", rework, 0, bread)
	} else {
		reckon.CheckRange(c, "rework", rework, 0, largestMass)
	}
}

// FlourForBread returns the flour that makes the bread wanted.
//
//	flour = 100 * (bread - rework) / yield
//
// It is the inverse of [BreadYield], with the same validity and source.
//
// It returns an *[reckon.InputError] if:
//   - bread is outside 1 mg to 1000 t,
//   - rework is negative, or as much as the bread or more,
//   - yield is outside 1 to 1000 %.
//
// Source: wiki-otvet.ru, how to cost bread; cases in testdata/cases/doughmath/flour-for-bread.json.
type FlourForBread struct {
	Bread  unit.Mass          `json:"bread"`           // bread wanted; 1 mg to 1000 t
	Rework unit.Mass          `json:"rework,omitzero"` // bread of earlier days worked in; 0 to less than bread
	Yield  unit.BakersPercent `json:"yield"`           // bread for 100 of flour; 1 to 1000 %
}

func (FlourForBread) ID() string { return "flour-for-bread" }

// SHELL
func (q FlourForBread) Check(c *reckon.Checks) {
	_, err := explainFlourForBread(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FlourForBread) Solve() (FlourForBreadResult, error) { return explainFlourForBread(q, nil) }

func (q FlourForBread) Show(w *reckon.Working, _ FlourForBreadResult) {
	_, _ = explainFlourForBread(q, w)
}

// FlourForBreadResult is the flour to use.
type FlourForBreadResult struct {
	Flour unit.Mass `json:"flour"` // all the flour
}

func explainFlourForBread(in FlourForBread, w *reckon.Working) (FlourForBreadResult, error) {
	c := reckon.Checks{Func: "flour-for-bread"}
	breadOK := checkMass(&c, "bread", in.Bread)
	checkRework(&c, in.Rework, in.Bread, breadOK)
	reckon.CheckRange(&c, "yield", in.Yield, 1, largestPercent)
	if err := c.Err(); err != nil {
		return FlourForBreadResult{}, err
	}
	flour := 100 * (float64(in.Bread) - float64(in.Rework)) / float64(in.Yield)
	if w != nil {
		w.Given("bread wanted", "B", float64(in.Bread), "g", "")
		w.Given("rework", "R", float64(in.Rework), "g", "")
		w.Given("bread for 100 of flour", "Y", float64(in.Yield), "%", "")
		w.Step("flour", "F", "100*(B - R)/Y", flour, "g", "")
	}
	return FlourForBreadResult{Flour: unit.Mass(flour)}, nil
}
