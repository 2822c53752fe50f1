package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// MixUse is a preferment that goes into another mix.
type MixUse struct {
	Name string    `json:"name"`                     // the preferment's
	Mass unit.Mass `json:"mass" range:"0 g..1000 t"` // how much of it; in all no more than is made
}

// WeighedMix is a preferment by weight.
type WeighedMix struct {
	Name    string              `json:"name"`                             // what it is called; not "final mix"
	Weights []WeighedIngredient `json:"weights,omitzero" items:"1..1000"` // what is weighed into it; leave out if it is mixed of other preferments alone
	Uses    []MixUse            `json:"uses,omitzero" items:"..1000"`     // other preferments that go into it
}

// FormulaFromMixes asks for the overall formula of a dough that is weighed in
// several mixes:
//
//	M_i = sum of g_i + sum of u_j_i
//	y_i = (d_i + sum of y_j * u_i_j) / M_i
//	m_i = g_f + sum of y_j * g_j
//	F = sum of m_i over the flours, D = sum of m_i
//	p_i = 100 * m_i / F, S = 100 * D / F
//	F_all = F + sum of m_i * 100 / (100 + h_i) over the starters
//	P = 100 * (F_all - F_f) / F_all
//	h = 100 * W / F_all, h_f = 100 * W_f / (F_f + F_sf)
//
// with M_i what is made of preferment i, g_i what is weighed into it, and u_j_i what it takes of preferment j.
// d_i goes into the final mix, and of what is made the share y_i ends in the dough. m_i is all of ingredient i, of which g_f is
// weighed into the final mix and g_j into preferment j. F is all that is weighed as flour, F_f that of the final mix, F_sf the flour in its
// starters; W is all water, W_f that of the final mix.
//
// The percentages count on F, as in [FormulaScale]; the flour inside ingredients of the role "starter" is not in it.
// What is returned as all_flour, prefermented_flour and hydration counts that flour too, in whichever mix
// the starter is, because a starter is flour and water mixed beforehand, as a preferment is.
//
// It counts of each preferment only what goes into the dough: what is kept back
// for the next day does not count. Ingredients with the same name are one ingredient.
// They can go to [FormulaScale] as they are.
//
// It is exact arithmetic on the weights.
//
// It is refused if:
//   - two preferments have the same name, or a name is empty,
//   - a water content or a starter's hydration is missing, out of range, or given where it does not belong,
//   - an ingredient has another role, water content or hydration in another mix,
//   - a use names no preferment, a preferment is not used at all, or more of it is used than is made,
//   - a preferment contains itself, directly or by way of others,
//   - nothing in the dough is weighed as flour, or an ingredient exceeds ten times the flour.
//
// Source: K. Forkish, Flour Water Salt Yeast (2012), levain table; Bake magazine, French bread with poolish; cases in
// testdata/cases/doughmath/formula-from-mixes.json.
//
// The inverse is [PrefermentSplit].
type FormulaFromMixes struct {
	Preferments []WeighedMix        `json:"preferments" sym:"-" items:"1..16"` // as they are made; what is kept back is not used
	Final       []WeighedIngredient `json:"final" sym:"-" items:"1..1000"`     // what is weighed into the final mix
	FinalUses   []MixUse            `json:"final_uses" sym:"-" items:"..1000"` // preferments that go into the final mix
	Liquids     LiquidReading       `json:"liquids"`                           // for the hydrations: "whole-mass" or "water-content"
}

// FormulaFromMixesResult is the overall formula behind the mixes.
type FormulaFromMixesResult struct {
	Ingredients       []Ingredient       `json:"ingredients"`                // the overall formula, each ingredient once
	Flour             unit.Mass          `json:"flour" sym:"F"`              // all that is weighed as flour, in the preferments too, without what a starter holds: the percentages count on it
	AllFlour          unit.Mass          `json:"all_flour" sym:"F_all"`      // all the flour, that inside starters too
	Dough             unit.Mass          `json:"dough" sym:"D"`              // all the dough
	TotalPercent      unit.BakersPercent `json:"total_percent" sym:"S"`      // sum of the percentages
	PrefermentedFlour unit.Percent       `json:"prefermented_flour" sym:"P"` // flour in the preferments and in starters, of all_flour
	Hydration         unit.BakersPercent `json:"hydration" sym:"h"`          // of the dough: all water on all_flour
	FinalHydration    unit.BakersPercent `json:"final_hydration" sym:"h_f"`  // of the final mix without the preferments, a starter weighed into it counted: not the dough's; 0 if it has next to no flour
	Conditions        Conditions         `json:"conditions"`                 // unusual-hydration, unusual-salt
}

func (FormulaFromMixes) ID() string { return "formula-from-mixes" }

func (q FormulaFromMixes) Check(c *reckon.Checks) {
	var m mixer
	m.overall(c, &q, nil)
}

// mixer holds weighed preferments while they are sorted and measured.
type mixer struct {
	mixGraph
	made               [mostPreferments]float64 // weight of a preferment as made, in g
	fraction           [mostPreferments]float64 // how much of what is made ends in the dough
	flour, dough, salt float64                  // in the dough, in g
	finalFlour         float64                  // weighed into the final mix, in g
	final              wetness                  // of the final mix, in g
}

// overall appends the overall formula to dst. That an ingredient is the same in every
// mix and not too much of the flour only shows when the mixes are put together.
func (m *mixer) overall(c *reckon.Checks, q *FormulaFromMixes, dst []Ingredient) []Ingredient {
	m.check(c, q)
	reckon.CheckEither(c, "liquids", q.Liquids, LiquidsWhole, LiquidsWater)
	if !c.OK() {
		return dst
	}
	m.fractions()
	// Until the flour is known, the percentages are grams.
	first := len(dst)
	for i := range q.Final {
		g := &q.Final[i]
		mark := c.Mark()
		dst = merge(c, dst, first, g, 1)
		c.Item(mark, "final", i)
		m.final = m.final.with(q.Liquids, &Ingredient{Role: g.Role, WaterContent: g.WaterContent, Hydration: g.Hydration}, float64(g.Mass))
		if g.Role == RoleFlour {
			m.finalFlour += float64(g.Mass)
		}
	}
	for k := range q.Preferments {
		mark := c.Mark()
		for i := range q.Preferments[k].Weights {
			at := c.Mark()
			dst = merge(c, dst, first, &q.Preferments[k].Weights[i], m.fraction[k])
			c.Item(at, "weights", i)
		}
		c.Item(mark, "preferments", k)
	}
	list := dst[first:]
	for i := range list {
		m.dough += float64(list[i].Percent)
		switch list[i].Role {
		case RoleFlour:
			m.flour += float64(list[i].Percent)
		case RoleSalt:
			m.salt += float64(list[i].Percent)
		}
	}
	if c.OK() && !(m.flour > 0) {
		c.Fail("final", "a dough without flour", "some flour (role \"flour\") to count the percentages on")
	}
	for i := range list {
		list[i].Percent = unit.BakersPercent(100 * float64(list[i].Percent) / m.flour)
		if c.OK() && !(list[i].Percent <= largestPercent) {
			c.Fail("final", unit.Clip(list[i].Name)+" at "+reckon.Text(list[i].Percent)+" of the flour", "no ingredient of more than ten times the flour")
		}
	}
	return dst
}

func (m *mixer) check(c *reckon.Checks, q *FormulaFromMixes) {
	checkWeights(c, "final", q.Final)
	if len(q.Preferments) == 0 || len(q.Preferments) > mostPreferments {
		c.Fail("preferments", strconv.Itoa(len(q.Preferments))+" preferments", "1 to "+strconv.Itoa(mostPreferments)+" preferments")
		return
	}
	m.n = len(q.Preferments)
	var used [mostPreferments]float64
	for k := range q.Preferments {
		p := &q.Preferments[k]
		mark := c.Mark()
		if p.Name == "" || p.Name == FinalMix {
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "a name other than \""+FinalMix+"\"")
		}
		for i := range q.Preferments[:k] {
			if q.Preferments[i].Name == p.Name {
				c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "a name of its own")
			}
		}
		if len(p.Weights) > 0 || len(p.Uses) == 0 {
			_, m.made[k] = checkWeights(c, "weights", p.Weights)
		}
		uses := checkUses(c, q, "uses", p.Uses)
		for j := range m.n {
			m.use[k][j] = uses[j]
			m.made[k] += uses[j]
			used[j] += uses[j]
		}
		if c.OK() && !(m.made[k] > 0) {
			c.Fail("weights", "nothing", "some ingredients, with their weights")
		}
		c.Item(mark, "preferments", k)
	}
	final := checkUses(c, q, "final_uses", q.FinalUses)
	if !c.OK() {
		return
	}
	if !m.sort() {
		refuseItem(c, "preferments", m.loop, "uses", "a way back to "+strconv.Quote(unit.Clip(q.Preferments[m.loop].Name))+" itself",
			"preferments that do not contain one another in a circle: start from one that is mixed of ingredients alone")
		return
	}
	for j := range m.n {
		all := used[j] + final[j]
		if all == 0 {
			refuseItem(c, "preferments", j, "name", strconv.Quote(unit.Clip(q.Preferments[j].Name)), "a use in the final mix or in another preferment: add it to final_uses with its weight")
		}
		if all > m.made[j]*(1+1e-9) {
			refuseItem(c, "preferments", j, "weights", reckon.Text(unit.Mass(m.made[j])), "at least the "+reckon.Text(unit.Mass(all))+" that is used of it")
		}
	}
	m.fraction = final
}

// checkUses requires uses of preferments that are there, and returns them by preferment.
func checkUses(c *reckon.Checks, q *FormulaFromMixes, list string, uses []MixUse) (by [mostPreferments]float64) {
	if !reckon.CheckItems(c, list, len(uses), mostListItems) {
		return by
	}
	for i := range uses {
		u := &uses[i]
		k := 0
		for k < len(q.Preferments) && q.Preferments[k].Name != u.Name {
			k++
		}
		mark := c.Mark()
		if k >= len(q.Preferments) {
			c.Fail("name", strconv.Quote(unit.Clip(u.Name)), "the name of a preferment")
		}
		if reckon.CheckRange(c, "mass", u.Mass, 0, largestMass) && k < mostPreferments {
			by[k] += float64(u.Mass)
		}
		c.Item(mark, list, i)
	}
	return by
}

// fractions turns the weights that go into the final mix into shares of what
// is made, and adds what goes there by way of other preferments.
func (m *mixer) fractions() {
	for o := m.n - 1; o >= 0; o-- {
		k := m.order[o]
		m.fraction[k] /= m.made[k]
		for j := range m.n {
			m.fraction[j] += float64(m.fraction[k] * m.use[k][j])
		}
	}
}

// merge adds a weight to the ingredient of its name.
func merge(c *reckon.Checks, dst []Ingredient, first int, g *WeighedIngredient, fraction float64) []Ingredient {
	at := findIngredient(dst[first:], g.Name)
	if at < 0 {
		return append(dst, Ingredient{Name: g.Name, Percent: unit.BakersPercent(float64(g.Mass) * fraction), Role: g.Role, WaterContent: g.WaterContent, Hydration: g.Hydration})
	}
	same := &dst[first+at]
	if same.Role != g.Role || same.WaterContent != g.WaterContent || same.Hydration != g.Hydration {
		c.Fail("name", strconv.Quote(unit.Clip(g.Name)), "the role, water content and hydration that it has in another mix, or a name of its own")
	}
	same.Percent += unit.BakersPercent(float64(g.Mass) * fraction)
	return dst
}

func (q FormulaFromMixes) Solve() (FormulaFromMixesResult, error) { return q.Append(nil) }

// Append is Solve with the ingredients appended to dst.
func (q FormulaFromMixes) Append(dst []Ingredient) (out FormulaFromMixesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	var m mixer
	first := len(dst)
	if dst = m.overall(&c, &q, dst); !c.OK() {
		return out, c.Err()
	}
	all := q.Liquids.count(dst[first:])
	allFlour := m.flour + float64(all.starterFlour*m.flour)/100
	out = FormulaFromMixesResult{
		Ingredients: dst, Flour: unit.Mass(m.flour), AllFlour: unit.Mass(allFlour), Dough: unit.Mass(m.dough), TotalPercent: unit.BakersPercent(100 * m.dough / m.flour),
		PrefermentedFlour: unit.Percent(max(0, 100*(allFlour-m.finalFlour)/allFlour)), Hydration: unit.BakersPercent(all.hydration(100)),
		FinalHydration: unit.BakersPercent(m.final.hydration(m.finalFlour)), Conditions: saltCondition(100 * m.salt / m.flour),
	}
	out.Conditions |= hydrationCondition(float64(out.Hydration))
	return out, nil
}

func (q FormulaFromMixes) Show(w *reckon.Working, out FormulaFromMixesResult) {
	var m mixer
	list := m.overall(new(reckon.Checks), &q, nil) // for the order of the mixes, and which ingredients there are
	out.Ingredients = out.Ingredients[len(out.Ingredients)-len(list):]
	w.Inputs(q)
	m.givenWeights(w, &q)
	q.Liquids.given(w, list)
	var l itemLines
	m.showShares(&l, &q)
	atFinal := m.showTotals(&l, &q, list)
	flours, finalFlours, allFlour := "", "", "F"
	var all wetTerms
	for i := range list {
		n := strconv.Itoa(i + 1)
		all.add(q.Liquids, &list[i], n, "m_"+n)
		if list[i].Role == RoleFlour {
			flours = plus(flours, "m_"+n)
		}
	}
	for i := range q.Final {
		if q.Final[i].Role == RoleFlour {
			finalFlours = plus(finalFlours, "g_f_"+strconv.Itoa(i+1))
		}
	}
	if all.starterFlour != "" {
		allFlour = plus(allFlour, all.starterFlour)
	}
	l.line(
		"dough: D = sum(m_#)",
		"all that is weighed as flour: F = "+flours,
		"all the flour, with that in starters: F_all = "+allFlour,
		"what is weighed as flour at the final mix: F_f = "+sumOf(finalFlours)+" in g",
		"flour in the preferments and in starters, of all the flour: P = 100*(F_all - F_f)/F_all",
		"all water: W = "+all.allWater()+" in g",
		"hydration: h = 100*W/F_all",
	)
	if out.FinalHydration != 0 {
		l.line(
			"water at the final mix: W_f = "+atFinal.allWater()+" in g",
			"flour in starters at the final mix: F_sf = "+sumOf(atFinal.starterFlour)+" in g",
			"hydration of the final mix: h_f = 100*W_f/(F_f + F_sf)",
		)
	}
	for i, g := range list {
		l.item(i+1, g.Name, "percent: p_# = 100*m_#/F")
	}
	l.line("sum of the percentages: S = 100*D/F")
	l.show(w, out)
}

// givenWeights records what is weighed into each mix: g_2_1 is the first weight of preferment
// 2, g_f_1 that of the final mix; u_3_2 is what preferment 2 takes of preferment 3.
func (m *mixer) givenWeights(w *reckon.Working, q *FormulaFromMixes) {
	for i, g := range q.Final {
		w.Given(g.Name+" in the "+FinalMix, "g_f_"+strconv.Itoa(i+1), float64(g.Mass), "g", "")
	}
	final := checkUses(new(reckon.Checks), q, "", q.FinalUses)
	for k, p := range q.Preferments {
		n := strconv.Itoa(k + 1)
		for i, g := range p.Weights {
			w.Given(g.Name+" in "+p.Name, "g_"+n+"_"+strconv.Itoa(i+1), float64(g.Mass), "g", "")
		}
		for j := range m.n {
			if m.use[k][j] > 0 {
				w.Given(q.Preferments[j].Name+" in "+p.Name, "u_"+strconv.Itoa(j+1)+"_"+n, m.use[k][j], "g", "")
			}
		}
		w.Given(p.Name+" in the "+FinalMix, "d_"+n, final[k], "g", "")
	}
}

// showShares adds the lines to the share of each preferment that ends in the dough.
func (m *mixer) showShares(l *itemLines, q *FormulaFromMixes) {
	for k, p := range q.Preferments {
		n := strconv.Itoa(k + 1)
		made := ""
		for i := range p.Weights {
			made = plus(made, "g_"+n+"_"+strconv.Itoa(i+1))
		}
		for j := range m.n {
			if m.use[k][j] > 0 {
				made = plus(made, "u_"+strconv.Itoa(j+1)+"_"+n)
			}
		}
		l.item(k+1, p.Name, "made: M_# = "+made+" in g")
	}
	for o := m.n - 1; o >= 0; o-- {
		k := m.order[o]
		used := "d_#"
		for j := range m.n {
			if m.use[j][k] > 0 {
				n := strconv.Itoa(j + 1)
				used = plus(used, "y_"+n+"*u_#_"+n)
			}
		}
		if used != "d_#" {
			used = "(" + used + ")"
		}
		l.item(k+1, q.Preferments[k].Name, "share that ends in the dough: y_# = "+used+"/M_#")
	}
}

// showTotals adds the lines to the weight of each ingredient in the dough, and
// returns what the final mix holds of water and flour.
func (m *mixer) showTotals(l *itemLines, q *FormulaFromMixes, list []Ingredient) (atFinal wetTerms) {
	total := make([]string, len(list))
	for t := range q.Final {
		i, symbol := findIngredient(list, q.Final[t].Name), "g_f_"+strconv.Itoa(t+1)
		total[i] = plus(total[i], symbol)
		atFinal.add(q.Liquids, &list[i], strconv.Itoa(i+1), symbol)
	}
	for k, p := range q.Preferments {
		n := strconv.Itoa(k + 1)
		for t, g := range p.Weights {
			i := findIngredient(list, g.Name)
			total[i] = plus(total[i], "g_"+n+"_"+strconv.Itoa(t+1)+"*y_"+n)
		}
	}
	for i, g := range list {
		l.item(i+1, g.Name, "in the dough: m_# = "+total[i]+" in g")
	}
	return atFinal
}
