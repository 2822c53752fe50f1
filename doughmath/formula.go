package doughmath

import (
	"math"
	"slices"
	"strconv"
	"strings"

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
	switch r {
	case RoleFlour, RoleWater, RoleSalt:
		return water == 0 && hydration == 0
	case RoleLiquid:
		return water > 0 && water <= 100 && hydration == 0
	case RoleOther:
		return water >= 0 && water <= 100 && hydration == 0
	case RoleStarter:
		return water == 0 && hydration > 0 && hydration <= largestPercent
	}
	return false
}

// Ingredient is one line of a formula.
type Ingredient struct {
	Name      string             `json:"name"`               // what the label says; not empty
	Percent   unit.BakersPercent `json:"percent"`            // of the flour; 0 to 1000 %
	Role      IngredientRole     `json:"role"`               // "flour", "water", "liquid", "starter", "salt" or "other"
	Water     unit.Percent       `json:"water,omitzero"`     // water in it, of its own weight; for a liquid (more than 0 to 100 %), also for others such as butter; 0 for the rest
	Hydration unit.BakersPercent `json:"hydration,omitzero"` // of a starter: its water on its flour; more than 0 to 1000 %; 0 for the rest
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
func wholeBelow(x float64) float64 { return math.Floor(x + max(roundingSlack, 1e-14*x)) }

// itemField returns the JSON path of a field of a list's item.
func itemField(list string, i int, field string) string {
	path := list + "[" + strconv.Itoa(i) + "]"
	if field != "" {
		path += "." + field
	}
	return path
}

// A listPath is the JSON path of a list, put together only when there is
// something to say: "weights", or "preferments[2].weights".
type listPath struct {
	outer string
	at    int // -1 if the list stands by itself
	inner string
}

func (p listPath) String() string {
	if p.at < 0 {
		return p.outer
	}
	return itemField(p.outer, p.at, p.inner)
}

func (p listPath) item(i int, field string) string { return itemField(p.String(), i, field) }

// refuseCharacter tells what is wrong with a name, a role, or what the role
// calls for, once there is no name or the role does not take what was given.
func refuseCharacter(c *reckon.Checks, list listPath, i int, name string, role IngredientRole, water unit.Percent, hydration unit.BakersPercent) {
	if name == "" {
		c.Fail(list.item(i, "name"), `""`, "the ingredient's name")
	}
	if !role.known() {
		reckon.CheckWord(c, list.item(i, "role"), role, RoleFlour, RoleWater, RoleLiquid, RoleStarter, RoleSalt, RoleOther)
		return
	}
	switch {
	case role == RoleLiquid && !(water > 0 && water <= 100):
		c.Fail(list.item(i, "water"), reckon.Text(water), "more than 0 % to 100 %, the water in this liquid (for water itself use the role \"water\")")
	case role == RoleOther && !(water >= 0 && water <= 100):
		c.Fail(list.item(i, "water"), reckon.Text(water), "0 % to 100 %, the water in this ingredient")
	case role != RoleLiquid && role != RoleOther && water != 0:
		c.Fail(list.item(i, "water"), reckon.Text(water), "left out: only the roles \"liquid\" and \"other\" have a water content to give")
	}
	switch {
	case role == RoleStarter && !(hydration > 0 && hydration <= largestPercent):
		c.Fail(list.item(i, "hydration"), reckon.Text(hydration), "more than 0 % to 1000 %, the starter's water on its flour")
	case role != RoleStarter && hydration != 0:
		c.Fail(list.item(i, "hydration"), reckon.Text(hydration), "left out: only the role \"starter\" has a hydration to give")
	}
}

// checkFormula wants a formula whose flours make 100 %, and returns the sum of
// all percentages and of the salt.
func checkFormula(c *reckon.Checks, ingredients []Ingredient) (sum, salt float64) {
	if len(ingredients) == 0 || len(ingredients) > mostListItems {
		c.Fail("ingredients", strconv.Itoa(len(ingredients))+" ingredients", "1 to "+strconv.Itoa(mostListItems)+" ingredients, a flour among them")
		return 0, 0
	}
	flour := 0.0
	for i := range ingredients {
		in := &ingredients[i]
		if !(in.Percent >= 0 && in.Percent <= largestPercent) {
			reckon.CheckRange(c, itemField("ingredients", i, "percent"), in.Percent, 0, largestPercent)
			continue
		}
		if in.Name == "" || !in.Role.takes(in.Water, in.Hydration) {
			refuseCharacter(c, listPath{"ingredients", -1, ""}, i, in.Name, in.Role, in.Water, in.Hydration)
		}
		sum += float64(in.Percent)
		switch in.Role {
		case RoleFlour:
			flour += float64(in.Percent)
		case RoleSalt:
			salt += float64(in.Percent)
		}
	}
	if c.OK() && math.Abs(flour-100) > flourSumTolerance {
		c.Fail("ingredients", "a formula whose flours make "+reckon.Text(unit.BakersPercent(flour)), "flours (role \"flour\") that make 100 % together: weigh out the flours again, or work the percentages from the weights")
	}
	return sum, salt
}

func saltCondition(salt float64) Conditions {
	if salt > 0 && (salt < float64(usualSaltLow) || salt > float64(usualSaltHigh)) {
		return UnusualSalt
	}
	return 0
}

// FormulaScale returns what to weigh of every ingredient for this much dough,
// or for this much flour. The parts are appended to dst.
//
//	flour = dough / (sum % / 100)
//	m_i   = flour * p_i / 100
//
// With a scale division, the total is rounded to the nearest division and
// the parts are rounded so that they still add up to it: each is rounded
// down, and the divisions that are missing go to the ingredients that lost most
// (largest remainder; of equal ones, the earlier). The condition scale-too-coarse means that an
// ingredient is off by more than 5 % of itself.
//
// It is exact arithmetic on the percentages. A starter counts on the flours
// listed, not on the flour inside it; see [PrefermentSplit] for the other readings.
//
// It returns an *[reckon.InputError] if:
//   - there are no ingredients, or more than 1000,
//   - the flours do not make 100 %,
//   - a percentage is outside 0 to 1000 %, a name is empty, a role is not named,
//   - a water content or a starter's hydration is missing, out of range, or given where it does not belong,
//   - not exactly one of dough and flour is given, or it is outside 1 mg to 1000 t,
//   - division is negative, below 1 mg, or larger than the dough.
//
// Source: Wild Yeast, Baker's Percentage tutorial (2008); A. Gupta and others, cases in
// testdata/cases/doughmath/formula-scale.json. The rounding is the method of largest remainders.
//
// The inverse is [FormulaFromWeights].
type FormulaScale struct {
	Ingredients []Ingredient `json:"ingredients"`       // the formula, in the order of weighing; the flours make 100 %
	Dough       unit.Mass    `json:"dough,omitzero"`    // dough wanted, 1 mg to 1000 t; leave out if flour is given
	Flour       unit.Mass    `json:"flour,omitzero"`    // all the flour, 1 mg to 1000 t; leave out if dough is given
	Division    unit.Mass    `json:"division,omitzero"` // the scale's division, 1 mg or more and no more than the dough; 0 for weights that are not rounded
}

func (FormulaScale) ID() string { return "formula-scale" }

// SHELL
func (q FormulaScale) Check(c *reckon.Checks) {
	_, err := explainFormulaScale(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FormulaScale) Solve() (FormulaScaleResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q FormulaScale) Append(dst []Part) (FormulaScaleResult, error) {
	return explainFormulaScale(q, dst, nil)
}

func (q FormulaScale) Show(w *reckon.Working, _ FormulaScaleResult) {
	_, _ = explainFormulaScale(q, nil, w)
}

// Part is one ingredient as weighed.
type Part struct {
	Name    string             `json:"name"`    // as in the formula
	Percent unit.BakersPercent `json:"percent"` // as in the formula
	Mass    unit.Mass          `json:"mass"`    // what to weigh
	Exact   unit.Mass          `json:"exact"`   // what the formula asks for, before rounding
	Error   unit.Mass          `json:"error"`   // mass - exact; never as much as one division
}

// FormulaScaleResult is what to weigh.
type FormulaScaleResult struct {
	Parts        []Part             `json:"parts"`         // in the order of the formula
	Flour        unit.Mass          `json:"flour"`         // all the flour, before rounding
	Dough        unit.Mass          `json:"dough"`         // all the dough, before rounding
	Weighed      unit.Mass          `json:"weighed"`       // what the parts add up to: the dough to the nearest division
	TotalPercent unit.BakersPercent `json:"total_percent"` // sum of the percentages
	Conditions   Conditions         `json:"conditions"`    // rounded, scale-too-coarse, unusual-salt
	Cautions     reckon.Cautions    `json:"cautions"`      // flour-dust, lifting
}

func explainFormulaScale(in FormulaScale, dst []Part, w *reckon.Working) (out FormulaScaleResult, err error) {
	c := reckon.Checks{Func: "formula-scale"}
	sum, salt := checkFormula(&c, in.Ingredients)
	checkAmount(&c, in.Dough, in.Flour)
	if in.Division != 0 && !(in.Division >= smallestMass && in.Division <= largestMass) {
		c.Fail("division", reckon.Text(in.Division), "left out, or 0.001 g or more")
	}
	if err := c.Err(); err != nil {
		return FormulaScaleResult{}, err
	}
	out = FormulaScaleResult{Flour: in.Flour, Dough: in.Dough, TotalPercent: unit.BakersPercent(sum), Cautions: reckon.FlourDust | reckon.Lifting}
	if in.Dough != 0 {
		out.Flour = unit.Mass(float64(float64(in.Dough)*100) / sum)
	} else {
		out.Dough = unit.Mass(float64(float64(in.Flour)*sum) / 100)
	}
	if in.Division > out.Dough {
		c.Fail("division", reckon.Text(in.Division), "no more than the dough of "+reckon.Text(out.Dough)+": take a finer scale")
		return FormulaScaleResult{}, c.Err()
	}
	out.Conditions = saltCondition(salt)
	first := len(dst)
	dst = slices.Grow(dst, len(in.Ingredients))[:first+len(in.Ingredients)]
	parts := dst[first:]
	for i := range parts {
		g, p := &in.Ingredients[i], &parts[i]
		exact := unit.Mass(float64(float64(out.Flour)*float64(g.Percent)) / 100)
		p.Name, p.Percent, p.Mass, p.Exact, p.Error = g.Name, g.Percent, exact, exact, 0
	}
	out.Weighed, out.Parts = out.Dough, dst
	if in.Division != 0 {
		out.Weighed = roundParts(parts, in.Division, out.Dough)
		var seen Conditions
		for i := range parts {
			p := &parts[i]
			// What binary arithmetic leaves over is not rounding.
			if off := math.Abs(float64(p.Error)); off > 1e-9*float64(p.Exact) {
				seen |= reckon.Rounded
				if off*100 > coarseErrorPercent*float64(p.Exact) {
					seen |= reckon.ScaleTooCoarse
				}
			}
		}
		out.Conditions |= seen
	}
	if w != nil {
		explainScale(w, in, out)
	}
	return out, nil
}

// checkAmount wants exactly one of dough and flour.
func checkAmount(c *reckon.Checks, dough, flour unit.Mass) {
	switch {
	case dough != 0 && flour != 0:
		c.Fail("flour", reckon.Text(flour), "left out, because dough is given: give one of the two")
	case dough == 0 && flour == 0:
		c.Fail("dough", reckon.Text(dough), "more than 0 g of dough, or of flour in its place")
	case dough != 0:
		checkMass(c, "dough", dough)
	default:
		checkMass(c, "flour", flour)
	}
}

func checkMass(c *reckon.Checks, field string, m unit.Mass) bool {
	return reckon.CheckRange(c, field, m, smallestMass, largestMass)
}

// roundParts rounds the parts to whole divisions that add up to the total,
// itself rounded to the nearest division, which it returns.
func roundParts(parts []Part, division, total unit.Mass) unit.Mass {
	units := math.Round(float64(total) / float64(division))
	missing := units
	for i := range parts {
		p := &parts[i]
		down := wholeBelow(float64(p.Exact) / float64(division))
		p.Mass = unit.Mass(down * float64(division))
		p.Error = p.Mass - p.Exact
		missing -= down
	}
	// At most one division per part is missing: a part that has been given one
	// has lost nothing any more, so it is not chosen again.
	slack := unit.Mass(roundingSlack * float64(division))
	for ; missing >= 1; missing-- {
		most, least := 0, unit.Mass(math.Inf(1))
		for i := range parts {
			// A part that lost more by rounding noise alone has not lost more.
			if e := parts[i].Error; least-e > slack {
				most, least = i, e
			}
		}
		p := &parts[most]
		p.Mass = unit.Mass(float64(math.Round(float64(p.Mass)/float64(division))+1) * float64(division))
		p.Error = p.Mass - p.Exact
	}
	return unit.Mass(units * float64(division))
}

func explainScale(w *reckon.Working, in FormulaScale, out FormulaScaleResult) {
	expression := explainPercents(w, in.Ingredients)
	w.Step("sum of the percentages", "S", expression, float64(out.TotalPercent), "%", "")
	if in.Dough != 0 {
		w.Given("dough wanted", "D", float64(in.Dough), "g", "")
		w.Step("flour", "F", "D*100/S", float64(out.Flour), "g", "")
	} else {
		w.Given("flour", "F", float64(in.Flour), "g", "")
		w.Step("dough", "D", "F*S/100", float64(out.Dough), "g", "")
	}
	if in.Division != 0 {
		w.Given("scale division", "d", float64(in.Division), "g", "")
		w.Step("dough to the nearest division", "D_d", "round(D/d)*d", float64(out.Weighed), "g", "")
		for i, p := range out.Parts[len(out.Parts)-len(in.Ingredients):] {
			w.Given(p.Name+", rounded so that the parts add up", "r_"+strconv.Itoa(i+1), float64(p.Mass), "g", "largest remainder")
		}
	}
	for i, p := range out.Parts[len(out.Parts)-len(in.Ingredients):] {
		n := strconv.Itoa(i + 1)
		w.Step(p.Name+", before rounding", "m_"+n, "F*p_"+n+"/100", float64(p.Exact), "g", "")
	}
}

// explainPercents records the percentages as p_1, p_2 ... and returns the expression of their sum.
func explainPercents(w *reckon.Working, ingredients []Ingredient) string {
	var expression strings.Builder
	for i, g := range ingredients {
		symbol := "p_" + strconv.Itoa(i+1)
		w.Given(g.Name, symbol, float64(g.Percent), "%", "")
		if i > 0 {
			expression.WriteString(" + ")
		}
		expression.WriteString(symbol)
	}
	return expression.String()
}

// WeighedIngredient is one ingredient by weight.
type WeighedIngredient struct {
	Name      string             `json:"name"`               // what the label says; not empty
	Mass      unit.Mass          `json:"mass"`               // its weight; 0 to 1000 t
	Role      IngredientRole     `json:"role"`               // "flour", "water", "liquid", "starter", "salt" or "other"
	Water     unit.Percent       `json:"water,omitzero"`     // water in it, of its own weight; for a liquid (more than 0 to 100 %), also for others such as butter; 0 for the rest
	Hydration unit.BakersPercent `json:"hydration,omitzero"` // of a starter: its water on its flour; more than 0 to 1000 %; 0 for the rest
}

// FormulaFromWeights returns the baker's percentages of a dough that was
// weighed. The ingredients are appended to dst and can go to [FormulaScale] as they are.
//
//	p_i = 100 * m_i / flour
//
// It is exact arithmetic on the weights. The flour is what is weighed as flour; the
// flour inside a starter is not counted in it.
//
// It returns an *[reckon.InputError] if:
//   - there are no weights, or more than 1000, or no flour among them,
//   - a weight is outside 0 to 1000 t, or more than ten times the flour,
//   - a name is empty, a role is not named,
//   - a water content or a starter's hydration is missing, out of range, or given where it does not belong.
//
// Source: Baker's Math teaching slides (R. Gray); Artisan Bakers, teaching page on percentages; cases in
// testdata/cases/doughmath/formula-from-weights.json.
//
// The inverse is [FormulaScale].
type FormulaFromWeights struct {
	Weights []WeighedIngredient `json:"weights"` // every ingredient, a flour among them
}

func (FormulaFromWeights) ID() string { return "formula-from-weights" }

// SHELL
func (q FormulaFromWeights) Check(c *reckon.Checks) {
	_, err := explainFormulaFromWeights(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FormulaFromWeights) Solve() (FormulaFromWeightsResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q FormulaFromWeights) Append(dst []Ingredient) (FormulaFromWeightsResult, error) {
	return explainFormulaFromWeights(q, dst, nil)
}

func (q FormulaFromWeights) Show(w *reckon.Working, _ FormulaFromWeightsResult) {
	_, _ = explainFormulaFromWeights(q, nil, w)
}

// FormulaFromWeightsResult is the formula behind the weights.
type FormulaFromWeightsResult struct {
	Ingredients  []Ingredient       `json:"ingredients"`   // the formula, in the order of the weights
	Flour        unit.Mass          `json:"flour"`         // all the flour, without what a starter holds
	Dough        unit.Mass          `json:"dough"`         // all the weights
	TotalPercent unit.BakersPercent `json:"total_percent"` // sum of the percentages
	Conditions   Conditions         `json:"conditions"`    // unusual-salt
}

func explainFormulaFromWeights(in FormulaFromWeights, dst []Ingredient, w *reckon.Working) (out FormulaFromWeightsResult, err error) {
	c := reckon.Checks{Func: "formula-from-weights"}
	flour, total := checkWeights(&c, listPath{"weights", -1, ""}, in.Weights)
	if c.OK() && !(flour > 0) {
		c.Fail("weights", "a dough without flour", "some flour (role \"flour\") to count the percentages on")
	}
	if c.OK() {
		for i := range in.Weights {
			if p := unit.BakersPercent(100 * float64(in.Weights[i].Mass) / flour); !(p <= largestPercent) {
				c.Fail(itemField("weights", i, "mass"), reckon.Text(in.Weights[i].Mass), "no more than ten times the flour of "+reckon.Text(unit.Mass(flour)))
			}
		}
	}
	if err := c.Err(); err != nil {
		return FormulaFromWeightsResult{}, err
	}
	first, salt := len(dst), 0.0
	for i := range in.Weights {
		g := &in.Weights[i]
		p := unit.BakersPercent(100 * float64(g.Mass) / flour)
		if g.Role == RoleSalt {
			salt += float64(p)
		}
		dst = append(dst, Ingredient{Name: g.Name, Percent: p, Role: g.Role, Water: g.Water, Hydration: g.Hydration})
	}
	out = FormulaFromWeightsResult{
		Ingredients: dst, Flour: unit.Mass(flour), Dough: unit.Mass(total),
		TotalPercent: unit.BakersPercent(100 * total / flour), Conditions: saltCondition(salt),
	}
	if w != nil {
		flours, all := "", ""
		for i, g := range in.Weights {
			n := strconv.Itoa(i + 1)
			w.Given(g.Name, "m_"+n, float64(g.Mass), "g", "")
			all = plus(all, "m_"+n)
			if g.Role == RoleFlour {
				flours = plus(flours, "m_"+n)
			}
		}
		w.Step("flour", "F", flours, flour, "g", "")
		w.Step("dough", "D", all, total, "g", "")
		for i, g := range dst[first:] {
			n := strconv.Itoa(i + 1)
			w.Step(g.Name, "p_"+n, "100*m_"+n+"/F", float64(g.Percent), "%", "")
		}
		w.Step("sum of the percentages", "S", "100*D/F", float64(out.TotalPercent), "%", "")
	}
	return out, nil
}

func plus(sum, symbol string) string {
	if sum == "" {
		return symbol
	}
	return sum + " + " + symbol
}

// checkWeights wants weights that can be added, and returns the flour and the total in g.
func checkWeights(c *reckon.Checks, list listPath, weights []WeighedIngredient) (flour, total float64) {
	if len(weights) == 0 || len(weights) > mostListItems {
		c.Fail(list.String(), strconv.Itoa(len(weights))+" ingredients", "1 to "+strconv.Itoa(mostListItems)+" ingredients, a flour among them")
		return 0, 0
	}
	for i := range weights {
		g := &weights[i]
		if !(g.Mass >= 0 && g.Mass <= largestMass) {
			reckon.CheckRange(c, list.item(i, "mass"), g.Mass, 0, largestMass)
			continue
		}
		if g.Name == "" || !g.Role.takes(g.Water, g.Hydration) {
			refuseCharacter(c, list, i, g.Name, g.Role, g.Water, g.Hydration)
		}
		total += float64(g.Mass)
		if g.Role == RoleFlour {
			flour += float64(g.Mass)
		}
	}
	return flour, total
}
