package doughmath

import (
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// IngredientRole says what an ingredient does in the arithmetic of a formula.
type IngredientRole string

// The roles.
const (
	// RoleFlour is what the percentages count on: the flours make 100 %.
	RoleFlour IngredientRole = "flour"
	// RoleWater is water, and ice in its place.
	RoleWater IngredientRole = "water"
	// RoleLiquid is a liquid other than water, such as milk or egg, with its water content.
	RoleLiquid IngredientRole = "liquid"
	// RoleStarter is flour and water that come ready mixed, with their hydration.
	RoleStarter IngredientRole = "starter"
	// RoleSalt is salt.
	RoleSalt IngredientRole = "salt"
	// RoleOther is everything else: yeast, sugar, fat, improver, seeds.
	RoleOther IngredientRole = "other"
)

// known reports whether r is one of the roles, without building a message.
func (r IngredientRole) known() bool {
	switch r {
	case RoleFlour, RoleWater, RoleLiquid, RoleStarter, RoleSalt, RoleOther:
		return true
	}
	return false
}

// takes reports whether an ingredient of this role can have this water content
// and this hydration. It is false for a role that is none.
func (r IngredientRole) takes(water unit.Percent, hydration unit.BakersPercent) bool {
	if water == 0 && hydration == 0 {
		switch r {
		case RoleFlour, RoleWater, RoleSalt, RoleOther:
			return true
		}
		return false
	}
	switch r {
	case RoleLiquid, RoleOther:
		return water >= 0 && water <= 100 && hydration == 0
	case RoleStarter:
		return water == 0 && hydration > 0 && hydration <= largestPercent
	}
	return false
}

// Ingredient is one line of a formula.
type Ingredient struct {
	Name         string             `json:"name"`                                      // what the label says; not empty
	Percent      unit.BakersPercent `json:"percent" sym:"p_#" range:"0 %..1000 %"`     // of the flour
	Role         IngredientRole     `json:"role"`                                      // "flour", "water", "liquid", "starter", "salt" or "other"
	WaterContent unit.Percent       `json:"water_content,omitzero" range:"0 %..100 %"` // water in it, of its own weight: of a liquid, more than 0 %, and of others such as butter; 0 for the rest
	Hydration    unit.BakersPercent `json:"hydration,omitzero" range:"0 %..1000 %"`    // of a starter: its water on its flour, more than 0 %; 0 for the rest
}

// Bounds that catch slips of a digit or a unit, and keep every sum finite.
const (
	largestMass       unit.Mass          = 1e9  // 1000 t, more than any mixing room holds
	smallestMass      unit.Mass          = 1e-3 // 1 mg, less than any ingredient or piece
	largestPercent    unit.BakersPercent = 1000 // ten times the flour
	mostListItems                        = 1000
	flourSumTolerance                    = 1e-6 // in percent: forgives the rounding of binary arithmetic, no more
	// usualSaltLow and usualSaltHigh bound the salt of bread formulas, in percent of flour. Common practice, no source.
	usualSaltLow, usualSaltHigh unit.BakersPercent = 1, 3
	// coarseErrorPercent is the error of one ingredient above which a scale is
	// called too coarse for it. Common practice, no source.
	coarseErrorPercent = 5
	// roundingSlack is how far below a whole number a quotient may lie and still be
	// taken for it, so that 216 oz hold eight times 27 oz whatever the unit held.
	roundingSlack = 1e-9
)

// wholeBelow returns the largest whole number not above x, forgiving the
// rounding of binary arithmetic. x must be from 0 to 10^12.
func wholeBelow(x float64) float64 {
	slack := 1e-14 * x
	if slack < roundingSlack {
		slack = roundingSlack
	}
	return math.Floor(x + slack)
}

func checkMass(c *reckon.Checks, field string, m unit.Mass) bool {
	return m >= smallestMass && m <= largestMass || refuseMass(c, field, m)
}

func refuseMass(c *reckon.Checks, field string, m unit.Mass) bool {
	return reckon.CheckRange(c, field, m, smallestMass, largestMass)
}

// refuseItem says what is wrong with a field of item i of a list.
func refuseItem(c *reckon.Checks, list string, i int, field, value, want string) {
	mark := c.Mark()
	c.Fail(field, value, want)
	c.Item(mark, list, i)
}

// refuseCharacter says what is wrong with a name, a role, or what the role
// calls for, once there is no name or the role does not take what was given.
func refuseCharacter(c *reckon.Checks, name string, role IngredientRole, water unit.Percent, hydration unit.BakersPercent) {
	if name == "" {
		c.Fail("name", `""`, "the ingredient's name")
	}
	if !role.known() {
		reckon.CheckWord(c, "role", role, RoleFlour, RoleWater, RoleLiquid, RoleStarter, RoleSalt, RoleOther)
		return
	}
	switch {
	case role == RoleLiquid && !(water > 0 && water <= 100):
		c.Fail("water_content", reckon.Text(water), "more than 0 % to 100 %, the water in this liquid (for water itself use the role \"water\")")
	case role == RoleOther && !(water >= 0 && water <= 100):
		c.Fail("water_content", reckon.Text(water), "0 % to 100 %, the water in this ingredient")
	case role != RoleLiquid && role != RoleOther && water != 0:
		c.Fail("water_content", reckon.Text(water), "left out: only the roles \"liquid\" and \"other\" have a water content to give")
	}
	switch {
	case role == RoleStarter && !(hydration > 0 && hydration <= largestPercent):
		c.Fail("hydration", reckon.Text(hydration), "more than 0 % to 1000 %, the starter's water on its flour")
	case role != RoleStarter && hydration != 0:
		c.Fail("hydration", reckon.Text(hydration), "left out: only the role \"starter\" has a hydration to give")
	}
}

// checkFormula requires a formula whose flours make 100 %, and returns the sum of
// all percentages and of the salt.
func checkFormula(c *reckon.Checks, ingredients []Ingredient) (sum, salt float64) {
	if len(ingredients) == 0 || len(ingredients) > mostListItems {
		c.Fail("ingredients", strconv.Itoa(len(ingredients))+" ingredients", "1 to "+strconv.Itoa(mostListItems)+" ingredients, a flour among them")
		return sum, salt
	}
	flour := 0.0
	for i := range ingredients {
		g := &ingredients[i]
		if !(g.Percent >= 0 && g.Percent <= largestPercent && g.Name != "" && g.Role.takes(g.WaterContent, g.Hydration)) {
			g.refuse(c, i)
			continue
		}
		sum += float64(g.Percent)
		switch g.Role {
		case RoleFlour:
			flour += float64(g.Percent)
		case RoleSalt:
			salt += float64(g.Percent)
		}
	}
	if c.OK() && math.Abs(flour-100) > flourSumTolerance {
		c.Fail("ingredients", "a formula whose flours make "+reckon.Text(unit.BakersPercent(flour)), "flours (role \"flour\") that make 100 % together: check the flours, or work out the percentages from the weights")
	}
	return sum, salt
}

// refuse says what is wrong with item i of a formula.
func (g *Ingredient) refuse(c *reckon.Checks, i int) {
	mark := c.Mark()
	if reckon.CheckRange(c, "percent", g.Percent, 0, largestPercent) {
		refuseCharacter(c, g.Name, g.Role, g.WaterContent, g.Hydration)
	}
	c.Item(mark, "ingredients", i)
}

func findIngredient(list []Ingredient, name string) int {
	for i := range list {
		if list[i].Name == name {
			return i
		}
	}
	return -1
}

func saltCondition(salt float64) Conditions {
	if salt > 0 && (salt < float64(usualSaltLow) || salt > float64(usualSaltHigh)) {
		return UnusualSalt
	}
	return 0
}

// FormulaScale asks how much of every ingredient to weigh out for this much
// dough, or for this much flour:
//
//	S = sum of p_i, F = D * 100 / S or D = F * S / 100
//	rounding up to whole u: F_u = ceil(F / u) * u, otherwise F_u = F
//	e_i = F_u * p_i / 100, D_u = F_u * S / 100
//	without a division: m_i = e_i, D_d = D_u
//	with a division:    D_d = round(D_u / d) * d, m_i = e_i in whole divisions d that add up to D_d
//	r_i = m_i - e_i
//
// The rounding is by largest remainder: each weight is rounded down, and the divisions that are missing go
// to the ingredients that lost most (of equal ones, to the earlier). With several scales each ingredient is weighed on the
// one that is kept for it, or else on the finest that takes its weight; those on the finest scale are rounded first, and
// those on a coarser one make up for it, so that the dough is right to the nearest of the coarsest division in use. The condition
// scale-too-coarse means that an ingredient is off by more than 5 % of itself.
//
// It is exact arithmetic on the percentages. A starter counts on the flours
// listed, not on the flour inside it; see [PrefermentSplit] for the other readings.
//
// It is refused if:
//   - the flours do not make 100 %,
//   - a name is empty,
//   - a water content or a starter's hydration is missing, out of range, or given where it does not belong,
//   - both dough and flour are given, or neither,
//   - the division exceeds the dough,
//   - a division and scales are both given, or no scale takes an ingredient,
//   - a scale is kept for what is not an ingredient, or two for the same.
//
// Source: Wild Yeast, Baker's Percentage tutorial (2008); A. Gupta and others, cases in
// testdata/cases/doughmath/formula-scale.json. The rounding is the method of largest remainders.
//
// The inverse is [FormulaFromWeights].
type FormulaScale struct {
	Ingredients []Ingredient `json:"ingredients" items:"1..1000"`                    // the formula, in the order of weighing; the flours make 100 %
	Dough       unit.Mass    `json:"dough,omitzero" sym:"D" range:"1 mg..1000 t"`    // dough wanted; leave out if flour is given
	Flour       unit.Mass    `json:"flour,omitzero" sym:"F" range:"1 mg..1000 t"`    // all the flour; leave out if dough is given
	Division    unit.Mass    `json:"division,omitzero" sym:"d" range:"1 mg..1000 t"` // the scale's division, no more than the dough; 0 for weights that are not rounded
	Scales      []Scale      `json:"scales,omitzero" items:"0..16"`                  // in place of a division: the scales to weigh on
	RoundUp     unit.Mass    `json:"round_up,omitzero" sym:"u" range:"1 mg..1000 t"` // a convenient weight of flour, such as a kilogram or a bag: the flour is raised to the next whole multiple of it; 0 for none
}

func (q *FormulaScale) scaling() scaling { return scaling{q.Division, q.Scales} }

// Part is one ingredient as weighed.
type Part struct {
	Name     string             `json:"name"`                      // as in the formula
	Percent  unit.BakersPercent `json:"percent"`                   // as in the formula
	Mass     unit.Mass          `json:"mass" sym:"m_#"`            // what to weigh
	Exact    unit.Mass          `json:"exact" sym:"e_#"`           // what the formula asks for, before rounding
	Error    unit.Mass          `json:"error" sym:"r_#"`           // mass - exact; never as much as one division
	Scale    string             `json:"scale,omitzero"`            // the scale to weigh it on, if there are several
	Division unit.Mass          `json:"division,omitzero" sym:"-"` // its division; 0 for a weight that is not rounded
}

// FormulaScaleResult is what to weigh.
type FormulaScaleResult struct {
	Parts        []Part             `json:"parts"`                         // in the order of the formula
	Flour        unit.Mass          `json:"flour" sym:"F"`                 // all the flour, before rounding
	FlourUsed    unit.Mass          `json:"flour_used,omitzero" sym:"F_u"` // the flour rounded up, if that is asked for: all weights go by it
	DoughMade    unit.Mass          `json:"dough_made,omitzero" sym:"D_u"` // the dough that comes of it
	Dough        unit.Mass          `json:"dough" sym:"D"`                 // all the dough, before rounding
	Weighed      unit.Mass          `json:"weighed" sym:"D_d"`             // what the parts add up to: the dough to the nearest division, the coarsest in use
	TotalPercent unit.BakersPercent `json:"total_percent" sym:"S"`         // sum of the percentages
	Conditions   Conditions         `json:"conditions"`                    // rounded, scale-too-coarse, unusual-salt
	Cautions     reckon.Cautions    `json:"cautions"`                      // flour-dust, lifting
}

func (FormulaScale) ID() string { return "formula-scale" }

func (q FormulaScale) Check(c *reckon.Checks) { q.check(c) }

// check returns the flour, the dough and the sums of the percentages and of the salt.
func (q *FormulaScale) check(c *reckon.Checks) (flour, dough unit.Mass, sum, salt float64) {
	sum, salt = checkFormula(c, q.Ingredients)
	checkAmount(c, q.Dough, q.Flour)
	q.scaling().check(c)
	if q.RoundUp != 0 {
		checkMass(c, "round_up", q.RoundUp)
	}
	if !c.OK() {
		return flour, dough, sum, salt
	}
	q.scaling().checkNames(c, q.Ingredients)
	flour, dough = amounts(q.Dough, q.Flour, sum)
	used, made := q.used(flour, dough, sum)
	if q.Division > made {
		c.Fail("division", reckon.Text(q.Division), "no more than the dough of "+reckon.Text(dough)+": use a finer scale")
	}
	if len(q.Scales) > 0 && c.OK() {
		for i := range q.Ingredients {
			g := &q.Ingredients[i]
			m := unit.Mass(float64(float64(used)*float64(g.Percent)) / 100)
			if _, d := q.scaling().on(g.Name, m); d == 0 {
				q.scaling().refuse(c, g.Name, m)
				break
			}
		}
	}
	return flour, dough, sum, salt
}

// used returns flour and dough, raised to a convenient weight if that is asked for.
func (q *FormulaScale) used(flour, dough unit.Mass, sum float64) (used, made unit.Mass) {
	if q.RoundUp == 0 {
		return flour, dough
	}
	return amounts(0, wholeAbove(flour, q.RoundUp), sum)
}

// wholeAbove raises m to a whole multiple of step. What is whole but for the
// rounding of binary arithmetic stays as it is.
func wholeAbove(m, step unit.Mass) unit.Mass {
	n := float64(m) / float64(step)
	return unit.Mass(math.Ceil(n-max(roundingSlack, 1e-14*n)) * float64(step))
}

// checkAmount requires exactly one of dough and flour.
func checkAmount(c *reckon.Checks, dough, flour unit.Mass) {
	switch {
	case dough != 0 && flour != 0:
		c.Fail("flour", reckon.Text(flour), "left out, because dough is given: give one of the two")
	case dough == 0 && flour == 0:
		c.Fail("dough", reckon.Text(dough), "more than 0 g of dough, or of flour instead")
	case dough != 0:
		checkMass(c, "dough", dough)
	default:
		checkMass(c, "flour", flour)
	}
}

// amounts works out the one of flour and dough that was not given.
func amounts(dough, flour unit.Mass, sum float64) (allFlour, allDough unit.Mass) {
	if dough != 0 {
		return unit.Mass(float64(float64(dough)*100) / sum), dough
	}
	return flour, unit.Mass(float64(float64(flour)*sum) / 100)
}

func (q FormulaScale) Solve() (FormulaScaleResult, error) { return q.Append(nil) }

// Append is Solve with the parts appended to dst.
func (q FormulaScale) Append(dst []Part) (out FormulaScaleResult, err error) {
	err = q.AppendInto(dst, &out)
	return out, err
}

// AppendInto is Append with the answer written to out.
func (q *FormulaScale) AppendInto(dst []Part, out *FormulaScaleResult) error {
	*out = FormulaScaleResult{}
	c := reckon.Checks{Func: "formula-scale"}
	flour, dough, sum, salt := q.check(&c)
	if !c.OK() {
		return c.Err()
	}
	used, made := q.used(flour, dough, sum)
	first := len(dst)
	dst = slices.Grow(dst, len(q.Ingredients))[:first+len(q.Ingredients)]
	on, parts := q.scaling(), dst[first:]
	var room [usualParts]weighing
	list := room[:0]
	for i := range q.Ingredients {
		g, p := &q.Ingredients[i], &parts[i]
		exact := unit.Mass(float64(float64(used)*float64(g.Percent)) / 100)
		p.Name, p.Percent, p.Mass, p.Exact, p.Error = g.Name, g.Percent, exact, exact, 0
		if p.Scale, p.Division = "", on.division; len(on.scales) > 0 { // few have several, and every plan comes by here
			p.Scale, p.Division = on.on(g.Name, exact)
		}
		list = append(list, weighing{exact, p.Division, exact})
	}
	out.Parts, out.Flour, out.Dough, out.Weighed, out.TotalPercent = dst, flour, dough, made, unit.BakersPercent(sum)
	out.Conditions, out.Cautions = saltCondition(salt), reckon.FlourDust|reckon.Lifting
	if on.rounds() {
		out.Weighed = roundWeights(list, made)
		for i, w := range list {
			p := &parts[i]
			p.Mass, p.Error = w.mass, w.mass-p.Exact
			out.Conditions |= w.seen()
		}
	}
	if q.RoundUp != 0 {
		out.FlourUsed, out.DoughMade = used, made
		if float64(used-flour) > 1e-9*float64(flour) {
			out.Conditions |= reckon.Rounded
		}
	}
	return nil
}

func (q FormulaScale) Show(w *reckon.Working, out FormulaScaleResult) {
	out.Parts = out.Parts[len(out.Parts)-len(q.Ingredients):]
	w.Inputs(q)
	w.Lines(out, "sum of the percentages: S = sum(p_#)", amountLine(q.Dough))
	flour, dough := "F", "D"
	if q.RoundUp != 0 {
		flour, dough = "F_u", "D_u"
		w.Lines(out, "flour, rounded up: F_u = ceil(F/u)*u", "dough of that flour: D_u = F_u*S/100")
	}
	var each itemLines
	if !q.scaling().rounds() {
		for i, p := range out.Parts {
			each.item(i+1, p.Name, "to weigh: m_# = "+flour+"*p_#/100", "before rounding: e_# = m_#")
		}
		each.line("dough as weighed: D_d = " + dough + "  [nothing is rounded]")
		each.show(w, out)
		return
	}
	for i, p := range out.Parts {
		each.item(i+1, p.Name, "before rounding: e_# = "+flour+"*p_#/100")
	}
	if q.Division != 0 {
		each.line("dough to the nearest division: D_d = round(" + dough + "/d)*d")
	}
	each.show(w, out)
	for i, p := range out.Parts {
		n := strconv.Itoa(i + 1)
		showRounded(w, p.Name+", to weigh"+onScale(p.Scale), n, q.scaling().showDivision(w, n, p.Division), p.Exact, p.Division, p.Mass)
	}
	var off itemLines
	for i, p := range out.Parts {
		off.item(i+1, p.Name, "off by: r_# = m_# - e_#")
	}
	if q.Division == 0 {
		off.line("dough as weighed: D_d = sum(m_#)")
	}
	off.show(w, out)
}

// showRounded records a weight of so many whole divisions. Who is given the
// divisions that are missing depends on all the remainders at once.
func showRounded(w *reckon.Working, words, n, division string, exact, step, mass unit.Mass) {
	e, m := "e_"+n, "m_"+n
	switch down := wholeBelow(float64(exact) / float64(step)); {
	case math.Round(float64(mass)/float64(step)) > down:
		w.Step(words, m, "(floor("+e+"/"+division+") + 1)*"+division, float64(mass), "g", "rounded up: among the largest remainders, so that the weights add up")
	default:
		w.Step(words, m, "floor("+e+"/"+division+")*"+division, float64(mass), "g", "rounded down, so that the weights add up")
	}
}

// showDivision returns the symbol of the division that part n is weighed to, which is another only on scales.
func (s scaling) showDivision(w *reckon.Working, n string, division unit.Mass) string {
	if s.division != 0 {
		return "d"
	}
	w.Given("division that part "+n+" is weighed to", "v_"+n, float64(division), "g", "")
	return "v_" + n
}

func onScale(name string) string {
	if name == "" {
		return ""
	}
	return " on the scale " + unit.Clip(name)
}

// amountLine is the step to the one of flour and dough that was not given.
func amountLine(dough unit.Mass) string {
	if dough != 0 {
		return "flour: F = D*100/S"
	}
	return "dough: D = F*S/100"
}

// WeighedIngredient is one ingredient by weight.
type WeighedIngredient struct {
	Name         string             `json:"name"`                                      // what the label says; not empty
	Mass         unit.Mass          `json:"mass" sym:"m_#" range:"0 g..1000 t"`        // its weight
	Role         IngredientRole     `json:"role"`                                      // "flour", "water", "liquid", "starter", "salt" or "other"
	WaterContent unit.Percent       `json:"water_content,omitzero" range:"0 %..100 %"` // water in it, of its own weight: of a liquid, more than 0 %, and of others such as butter; 0 for the rest
	Hydration    unit.BakersPercent `json:"hydration,omitzero" range:"0 %..1000 %"`    // of a starter: its water on its flour, more than 0 %; 0 for the rest
}

// FormulaFromWeights asks for the baker's percentages of a dough that was
// weighed:
//
//	F = sum of m_i over the flours, D = sum of m_i
//	p_i = 100 * m_i / F, S = 100 * D / F
//
// Its ingredients can go to [FormulaScale] as they are.
//
// It is exact arithmetic on the weights. The flour is what is weighed as flour; the
// flour inside a starter is not counted in it.
//
// It is refused if:
//   - no flour is among the weights, or a weight exceeds ten times the flour,
//   - a name is empty,
//   - a water content or a starter's hydration is missing, out of range, or given where it does not belong.
//
// Source: Baker's Math teaching slides (R. Gray); Artisan Bakers, teaching page on percentages; cases in
// testdata/cases/doughmath/formula-from-weights.json.
//
// The inverse is [FormulaScale].
type FormulaFromWeights struct {
	Weights []WeighedIngredient `json:"weights" items:"1..1000"` // every ingredient, a flour among them
}

// FormulaFromWeightsResult is the formula behind the weights.
type FormulaFromWeightsResult struct {
	Ingredients  []Ingredient       `json:"ingredients"`           // the formula, in the order of the weights
	Flour        unit.Mass          `json:"flour" sym:"F"`         // all the flour, without what a starter holds
	Dough        unit.Mass          `json:"dough" sym:"D"`         // all the weights
	TotalPercent unit.BakersPercent `json:"total_percent" sym:"S"` // sum of the percentages
	Conditions   Conditions         `json:"conditions"`            // unusual-salt
}

func (FormulaFromWeights) ID() string { return "formula-from-weights" }

func (q FormulaFromWeights) Check(c *reckon.Checks) { q.check(c) }

// check returns the flour and the total in g.
func (q FormulaFromWeights) check(c *reckon.Checks) (flour, total float64) {
	flour, total = checkWeights(c, "weights", q.Weights)
	if c.OK() && !(flour > 0) {
		c.Fail("weights", "a dough without flour", "some flour (role \"flour\") to count the percentages on")
	}
	if !c.OK() {
		return flour, total
	}
	for i := range q.Weights {
		if p := unit.BakersPercent(100 * float64(q.Weights[i].Mass) / flour); !(p <= largestPercent) {
			refuseItem(c, "weights", i, "mass", reckon.Text(q.Weights[i].Mass), "no more than ten times the flour of "+reckon.Text(unit.Mass(flour)))
		}
	}
	return flour, total
}

// checkWeights requires weights that can be added, and returns the flour and the total in g.
func checkWeights(c *reckon.Checks, list string, weights []WeighedIngredient) (flour, total float64) {
	if len(weights) == 0 || len(weights) > mostListItems {
		c.Fail(list, strconv.Itoa(len(weights))+" ingredients", "1 to "+strconv.Itoa(mostListItems)+" ingredients, a flour among them")
		return flour, total
	}
	for i := range weights {
		g := &weights[i]
		mark := c.Mark()
		if !reckon.CheckRange(c, "mass", g.Mass, 0, largestMass) {
			c.Item(mark, list, i)
			continue
		}
		if g.Name == "" || !g.Role.takes(g.WaterContent, g.Hydration) {
			refuseCharacter(c, g.Name, g.Role, g.WaterContent, g.Hydration)
			c.Item(mark, list, i)
		}
		total += float64(g.Mass)
		if g.Role == RoleFlour {
			flour += float64(g.Mass)
		}
	}
	return flour, total
}

func (q FormulaFromWeights) Solve() (FormulaFromWeightsResult, error) { return q.Append(nil) }

// Append is Solve with the ingredients appended to dst.
func (q FormulaFromWeights) Append(dst []Ingredient) (out FormulaFromWeightsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	flour, total := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	salt := 0.0
	for i := range q.Weights {
		g := &q.Weights[i]
		p := unit.BakersPercent(100 * float64(g.Mass) / flour)
		if g.Role == RoleSalt {
			salt += float64(p)
		}
		dst = append(dst, Ingredient{Name: g.Name, Percent: p, Role: g.Role, WaterContent: g.WaterContent, Hydration: g.Hydration})
	}
	return FormulaFromWeightsResult{
		Ingredients: dst, Flour: unit.Mass(flour), Dough: unit.Mass(total),
		TotalPercent: unit.BakersPercent(100 * total / flour), Conditions: saltCondition(salt),
	}, nil
}

func (q FormulaFromWeights) Show(w *reckon.Working, out FormulaFromWeightsResult) {
	out.Ingredients = out.Ingredients[len(out.Ingredients)-len(q.Weights):]
	w.Inputs(q)
	flours := ""
	for i, g := range out.Ingredients {
		if g.Role == RoleFlour {
			flours = plus(flours, "m_"+strconv.Itoa(i+1))
		}
	}
	var l itemLines
	l.line("flour: F = "+flours, "dough: D = sum(m_#)")
	for i, g := range out.Ingredients {
		l.item(i+1, g.Name, "percent: p_# = 100*m_#/F")
	}
	l.line("sum of the percentages: S = 100*D/F")
	l.show(w, out)
}
