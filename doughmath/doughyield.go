package doughmath

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// DoughYield asks how much dough 100 parts of flour give: net with the liquids
// alone, gross with every ingredient:
//
//	F = 100 + F_s, W = W_l + W_s, S = sum of p_i
//	Y_n = 100 * (F + W) / F
//	Y_g = 100 * S / F
//
// with W_l, W_s and F_s as for [Hydration]: a starter's flour counts as flour and its water as liquid.
// The trade counts milk and eggs at their whole weight, and salt, yeast and the rest on all the
// flour. A net yield of 160 is a hydration of 60 %.
//
// It is exact arithmetic on the percentages.
//
// It is refused if:
//   - the formula is not one that [FormulaScale] takes.
//
// Source: einfachbrotbacken.de, Teigausbeute; J. Loderbauer, Das Baeckerbuch (2016), as cited by lebensmittellexikon.de; cases in
// testdata/cases/doughmath/dough-yield.json.
//
// [WaterForHydration] finds the water for a wanted net yield (100 % less); [BreadYield] goes on to the
// bread.
type DoughYield struct {
	Ingredients []Ingredient  `json:"ingredients" items:"1..1000"` // the formula; the flours make 100 %, a starter counts on the flours listed
	Liquids     LiquidReading `json:"liquids"`                     // "whole-mass", as the trade counts, or "water-content"
}

// DoughYieldResult is the dough from 100 parts of flour.
type DoughYieldResult struct {
	Net        unit.BakersPercent `json:"net" sym:"Y_n"`   // flour and liquids for 100 parts of flour
	Gross      unit.BakersPercent `json:"gross" sym:"Y_g"` // everything for 100 parts of flour
	Conditions Conditions         `json:"conditions"`      // unusual-hydration, unusual-salt
}

func (DoughYield) ID() string { return "dough-yield" }

func (q DoughYield) Check(c *reckon.Checks) { q.check(c) }

// check returns the sums of the percentages and of the salt.
func (q DoughYield) check(c *reckon.Checks) (sum, salt float64) {
	sum, salt = checkFormula(c, q.Ingredients)
	reckon.CheckEither(c, "liquids", q.Liquids, LiquidsWhole, LiquidsWater)
	return sum, salt
}

func (q DoughYield) Solve() (out DoughYieldResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	sum, salt := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	s := q.Liquids.count(q.Ingredients)
	flour, liquid := 100+s.starterFlour, s.water+s.starterWater
	net, gross := 100*(flour+liquid)/flour, 100*sum/flour
	return DoughYieldResult{
		Net: unit.BakersPercent(net), Gross: unit.BakersPercent(gross),
		Conditions: hydrationCondition(net-100) | saltCondition(salt),
	}, nil
}

func (q DoughYield) Show(w *reckon.Working, out DoughYieldResult) {
	w.Inputs(q)
	q.Liquids.show(w, out, q.Ingredients)
	w.Lines(out,
		"sum of the percentages: S = sum(p_#) in %",
		"all flour: F = 100 + F_s in %",
		"all liquid: W = W_l + W_s in %",
		"gross yield: Y_g = 100*S/F",
		"net yield: Y_n = 100*(F + W)/F",
	)
}

// BreadYield asks how much bread came from 100 parts of flour:
//
//	Y = 100 * (B - R) / F, G = Y - 100
//
// It is exact arithmetic on the weights.
//
// It is refused if:
//   - the flour is less than a thousandth of the bread,
//   - the rework is as much as the bread or more.
//
// Source: wiki-otvet.ru, how to cost bread (Russian practice of yield and gain); F. Accum, Art of Making Good Wholesome Bread
// (1821); cases in testdata/cases/doughmath/bread-yield.json.
//
// The inverses are [FlourForBread] and [BreadForFlour].
type BreadYield struct {
	Bread  unit.Mass `json:"bread" sym:"B" range:"1 mg..1000 t"`  // bread as sold
	Rework unit.Mass `json:"rework,omitzero" sym:"R,0" range:"-"` // bread of earlier days worked in, which this flour did not make; 0 to less than the bread
	Flour  unit.Mass `json:"flour" sym:"F" range:"1 mg..1000 t"`  // all the flour, at least a thousandth of the bread
}

// BreadYieldResult is the bread from 100 parts of flour.
type BreadYieldResult struct {
	Yield unit.BakersPercent `json:"yield" sym:"Y"` // bread for 100 parts of flour
	Gain  unit.BakersPercent `json:"gain" sym:"G"`  // bread above the flour, for 100 parts of flour
}

func (BreadYield) ID() string { return "bread-yield" }

func (q BreadYield) Check(c *reckon.Checks) {
	breadOK := checkMass(c, "bread", q.Bread)
	if flourOK := checkMass(c, "flour", q.Flour); flourOK && breadOK && q.Flour < q.Bread/1000 {
		c.Fail("flour", reckon.Text(q.Flour), "a thousandth of the bread or more: check the units")
	}
	checkRework(c, q.Rework, q.Bread, breadOK)
}

func checkRework(c *reckon.Checks, rework, bread unit.Mass, breadOK bool) {
	if breadOK {
		reckon.CheckBelow(c, "rework", rework, 0, bread)
	} else {
		reckon.CheckRange(c, "rework", rework, 0, largestMass)
	}
}

func (q BreadYield) Solve() (out BreadYieldResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	yield := 100 * (float64(q.Bread) - float64(q.Rework)) / float64(q.Flour)
	out.Yield, out.Gain = unit.BakersPercent(yield), unit.BakersPercent(yield-100)
	return out, nil
}

func (q BreadYield) Show(w *reckon.Working, out BreadYieldResult) {
	w.Inputs(q)
	w.Lines(out, "yield: Y = 100*(B - R)/F", "gain: G = Y - 100")
}

// FlourForBread asks how much flour makes the bread wanted:
//
//	F = 100 * (B - R) / Y
//
// It is the inverse of [BreadYield], with the same validity and source.
//
// It is refused if:
//   - the rework is as much as the bread or more.
//
// Source: wiki-otvet.ru, how to cost bread; cases in testdata/cases/doughmath/flour-for-bread.json.
//
// The inverse is [BreadYield].
type FlourForBread struct {
	Bread  unit.Mass          `json:"bread" sym:"B" range:"1 mg..1000 t"`  // bread wanted
	Rework unit.Mass          `json:"rework,omitzero" sym:"R,0" range:"-"` // bread of earlier days worked in; 0 to less than the bread
	Yield  unit.BakersPercent `json:"yield" sym:"Y" range:"1 %..1000 %"`   // bread for 100 parts of flour
}

// FlourForBreadResult is the flour to use.
type FlourForBreadResult struct {
	Flour unit.Mass `json:"flour" sym:"F"` // all the flour
}

func (FlourForBread) ID() string { return "flour-for-bread" }

func (q FlourForBread) Check(c *reckon.Checks) {
	breadOK := checkMass(c, "bread", q.Bread)
	checkRework(c, q.Rework, q.Bread, breadOK)
	reckon.CheckRange(c, "yield", q.Yield, 1, largestPercent)
}

func (q FlourForBread) Solve() (out FlourForBreadResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Flour = unit.Mass(100 * (float64(q.Bread) - float64(q.Rework)) / float64(q.Yield))
	return out, nil
}

func (q FlourForBread) Show(w *reckon.Working, out FlourForBreadResult) {
	w.Inputs(q)
	w.Lines(out, "flour: F = 100*(B - R)/Y")
}

// BreadForFlour asks how much bread the flour makes:
//
//	B = F*Y/100 + R
//
// It is an inverse of [BreadYield], with the same validity and source.
//
// Source: US Army, General Regulations (1821), on bread; cases in testdata/cases/doughmath/bread-for-flour.json.
//
// The inverse is [BreadYield].
type BreadForFlour struct {
	Flour  unit.Mass          `json:"flour" sym:"F" range:"1 mg..1000 t"`            // all the flour
	Yield  unit.BakersPercent `json:"yield" sym:"Y" range:"1 %..1000 %"`             // bread for 100 parts of flour
	Rework unit.Mass          `json:"rework,omitzero" sym:"R,0" range:"0 g..1000 t"` // bread of earlier days worked in, which this flour does not make
}

// BreadForFlourResult is the bread to expect.
type BreadForFlourResult struct {
	Bread unit.Mass          `json:"bread" sym:"B"` // bread as sold
	Gain  unit.BakersPercent `json:"gain" sym:"G"`  // bread above the flour, for 100 parts of flour
}

func (BreadForFlour) ID() string { return "bread-for-flour" }

func (q BreadForFlour) Check(c *reckon.Checks) {
	checkMass(c, "flour", q.Flour)
	reckon.CheckRange(c, "yield", q.Yield, 1, largestPercent)
	reckon.CheckRange(c, "rework", q.Rework, 0, largestMass)
}

func (q BreadForFlour) Solve() (out BreadForFlourResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Bread = unit.Mass(float64(float64(q.Flour)*float64(q.Yield))/100) + q.Rework
	out.Gain = q.Yield - 100
	return out, nil
}

func (q BreadForFlour) Show(w *reckon.Working, out BreadForFlourResult) {
	w.Inputs(q)
	w.Lines(out, "bread: B = F*Y/100 + R", "gain: G = Y - 100")
}
