package doughmath

import (
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Stock is how much there is of one ingredient.
type Stock struct {
	Name string    `json:"name"`                               // as in the formula
	Mass unit.Mass `json:"mass" sym:"m_#" range:"0 g..1000 t"` // what there is
}

// DoughForStock asks for the largest dough that can be made with the ingredients
// at hand, which of them runs out, and what is left of the others:
//
//	F_i = 100 * m_i / p_j for stock i, which is ingredient j
//	F = smallest of F_i, S = sum of p_i, D = F * S / 100
//	u_i = F * p_j / 100, l_i = m_i - u_i
//
// It is the inverse of [FormulaScale] by a scarce ingredient, and exact arithmetic on the percentages.
//
// It is refused if:
//   - the formula is not one that [FormulaScale] takes, or a name in stock fits two of its lines,
//   - a name in stock is not in the formula, is there twice, or the formula takes none of it,
//   - the flour would be more than 1000 t.
//
// Source: common practice, the rule of baker's percentages solved for the flour.
//
// The inverse is [FormulaScale].
type DoughForStock struct {
	Ingredients []Ingredient `json:"ingredients" items:"1..1000"` // the formula; the flours make 100 %
	Stock       []Stock      `json:"stock" items:"1..1000"`       // what is scarce; what is not listed does not limit
}

// StockUse is what becomes of one ingredient in stock.
type StockUse struct {
	Name string    `json:"name"`           // as in the formula
	Used unit.Mass `json:"used" sym:"u_#"` // what the dough takes
	Left unit.Mass `json:"left" sym:"l_#"` // what remains
}

// DoughForStockResult is the largest dough that the stock allows.
type DoughForStockResult struct {
	Dough  unit.Mass  `json:"dough" sym:"D"` // the largest dough
	Flour  unit.Mass  `json:"flour" sym:"F"` // all the flour in it
	Scarce string     `json:"scarce"`        // the ingredient that runs out first; of equal ones, the first listed
	Uses   []StockUse `json:"uses"`          // by ingredient, in the order of the stock
}

func (DoughForStock) ID() string { return "dough-for-stock" }

func (q DoughForStock) Check(c *reckon.Checks) { q.check(c) }

// check returns the sum of the percentages, the flour in g, and the item of
// the stock that limits it.
func (q DoughForStock) check(c *reckon.Checks) (sum, flour float64, scarce int) {
	sum, _ = checkFormula(c, q.Ingredients)
	if len(q.Stock) == 0 || len(q.Stock) > mostListItems {
		c.Fail("stock", strconv.Itoa(len(q.Stock))+" ingredients", "1 to "+strconv.Itoa(mostListItems)+" ingredients that are scarce")
		return sum, flour, -1
	}
	scarce = -1
	for i := range q.Stock {
		mark := c.Mark()
		if f, ok := q.flourFor(c, i); ok && (scarce < 0 || f < flour) {
			flour, scarce = f, i
		}
		c.Item(mark, "stock", i)
	}
	if c.OK() && !(flour <= float64(largestMass)) {
		c.Fail("stock", "enough for "+reckon.Text(unit.Mass(flour))+" of flour", "stock for at most "+reckon.Text(largestMass)+" of flour: list the flour too")
	}
	return sum, flour, scarce
}

// flourFor returns the flour for which item i of the stock is enough.
func (q *DoughForStock) flourFor(c *reckon.Checks, i int) (flour float64, ok bool) {
	s := &q.Stock[i]
	massOK := reckon.CheckRange(c, "mass", s.Mass, 0, largestMass)
	if slices.ContainsFunc(q.Stock[:i], func(other Stock) bool { return other.Name == s.Name }) {
		c.Fail("name", strconv.Quote(unit.Clip(s.Name)), "each ingredient once")
	}
	at := findIngredient(q.Ingredients, s.Name)
	switch {
	case at < 0:
		c.Fail("name", strconv.Quote(unit.Clip(s.Name)), "the name of an ingredient of the formula")
	case findIngredient(q.Ingredients[at+1:], s.Name) >= 0:
		c.Fail("name", strconv.Quote(unit.Clip(s.Name)), "a name that is in the formula once: give each of its lines a name of its own")
	case q.Ingredients[at].Percent == 0:
		c.Fail("name", strconv.Quote(unit.Clip(s.Name)), "an ingredient of which the formula takes some")
	case massOK:
		return 100 * float64(s.Mass) / float64(q.Ingredients[at].Percent), true
	}
	return 0, false
}

func (q DoughForStock) Solve() (DoughForStockResult, error) { return q.Append(nil) }

// Append is Solve with the uses appended to dst.
func (q DoughForStock) Append(dst []StockUse) (out DoughForStockResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	sum, flour, scarce := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	dough := float64(flour*sum) / 100
	for i := range q.Stock {
		s := &q.Stock[i]
		used := float64(flour*float64(q.Ingredients[findIngredient(q.Ingredients, s.Name)].Percent)) / 100
		if i == scarce {
			used = float64(s.Mass) // all of it, to the last digit
		}
		dst = append(dst, StockUse{Name: s.Name, Used: unit.Mass(used), Left: max(0, s.Mass-unit.Mass(used))})
	}
	return DoughForStockResult{Dough: unit.Mass(dough), Flour: unit.Mass(flour), Scarce: q.Stock[scarce].Name, Uses: dst}, nil
}

func (q DoughForStock) Show(w *reckon.Working, out DoughForStockResult) {
	out.Uses = out.Uses[len(out.Uses)-len(q.Stock):]
	w.Inputs(q)
	percent := make([]string, len(q.Stock)) // the symbol of each
	var l itemLines
	l.line("sum of the percentages: S = sum(p_#) in %")
	for i, s := range q.Stock {
		percent[i] = "p_" + strconv.Itoa(findIngredient(q.Ingredients, s.Name)+1)
		l.item(i+1, s.Name, "flour for which it is enough: F_# = 100*m_#/"+percent[i]+" in g")
	}
	if len(q.Stock) > 1 {
		l.line("flour: F = min(F_#...)")
	} else {
		l.line("flour: F = F_1")
	}
	for i, u := range out.Uses {
		l.item(i+1, u.Name, "used: u_# = F*"+percent[i]+"/100", "left: l_# = m_# - u_#")
	}
	l.line("dough: D = F*S/100")
	l.show(w, out)
}
