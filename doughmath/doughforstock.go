package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Stock is how much there is of one ingredient.
type Stock struct {
	Name string    `json:"name"` // as in the formula
	Mass unit.Mass `json:"mass"` // 0 to 1000 t
}

// DoughForStock returns the largest dough that can be made of the ingredients
// at hand, which of them is used up, and what is left of the others. The uses are appended to dst.
//
//	flour = smallest of 100 * stock_i / p_i, dough = flour * sum % / 100
//
// It is the inverse of [FormulaScale] by a scarce ingredient, and exact arithmetic on the percentages.
//
// It returns an *[reckon.InputError] if:
//   - the formula is not one that [FormulaScale] takes, or a name in stock fits two of its lines,
//   - there is no stock, or more than 1000 lines of it,
//   - a name is not in the formula, or is there twice, or the formula takes none of it,
//   - a mass is outside 0 to 1000 t,
//   - the flour would be more than 1000 t.
//
// Source: common practice, the rule of baker's percentages solved for the flour.
type DoughForStock struct {
	Ingredients []Ingredient `json:"ingredients"` // the formula; the flours make 100 %
	Stock       []Stock      `json:"stock"`       // what is scarce; what is not listed does not limit
}

func (DoughForStock) ID() string { return "dough-for-stock" }

// SHELL
func (q DoughForStock) Check(c *reckon.Checks) {
	_, err := explainDoughForStock(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoughForStock) Solve() (DoughForStockResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q DoughForStock) Append(dst []StockUse) (DoughForStockResult, error) {
	return explainDoughForStock(q, dst, nil)
}

func (q DoughForStock) Show(w *reckon.Working, _ DoughForStockResult) {
	_, _ = explainDoughForStock(q, nil, w)
}

// StockUse is what becomes of one ingredient in stock.
type StockUse struct {
	Name string    `json:"name"` // as in the formula
	Used unit.Mass `json:"used"` // what the dough takes
	Left unit.Mass `json:"left"` // what remains
}

// DoughForStockResult is the largest dough that the stock allows.
type DoughForStockResult struct {
	Dough  unit.Mass  `json:"dough"`  // the largest dough
	Flour  unit.Mass  `json:"flour"`  // all the flour in it
	Scarce string     `json:"scarce"` // the ingredient that runs out first; of equal ones, the first listed
	Uses   []StockUse `json:"uses"`   // by ingredient, in the order of the stock
}

func explainDoughForStock(in DoughForStock, dst []StockUse, w *reckon.Working) (DoughForStockResult, error) {
	c := reckon.Checks{Func: "dough-for-stock"}
	sum, _ := checkFormula(&c, in.Ingredients)
	if len(in.Stock) == 0 || len(in.Stock) > mostListItems {
		c.Fail("stock", strconv.Itoa(len(in.Stock))+" ingredients", "1 to "+strconv.Itoa(mostListItems)+" ingredients that are scarce")
	}
	flour, scarce := 0.0, -1
	for i := range in.Stock {
		s := &in.Stock[i]
		massOK := s.Mass >= 0 && s.Mass <= largestMass
		if !massOK {
			reckon.CheckRange(&c, itemField("stock", i, "mass"), s.Mass, 0, largestMass)
		}
		for j := range in.Stock[:i] {
			if in.Stock[j].Name == s.Name {
				c.Fail(itemField("stock", i, "name"), strconv.Quote(unit.Clip(s.Name)), "each ingredient once")
			}
		}
		at := findIngredient(in.Ingredients, s.Name)
		switch {
		case at < 0:
			c.Fail(itemField("stock", i, "name"), strconv.Quote(unit.Clip(s.Name)), "the name of an ingredient of the formula")
		case findIngredient(in.Ingredients[at+1:], s.Name) >= 0:
			c.Fail(itemField("stock", i, "name"), strconv.Quote(unit.Clip(s.Name)), "a name that the formula has once: give its lines names of their own")
		case in.Ingredients[at].Percent == 0:
			c.Fail(itemField("stock", i, "name"), strconv.Quote(unit.Clip(s.Name)), "an ingredient of which the formula takes some")
		case massOK:
			if f := 100 * float64(s.Mass) / float64(in.Ingredients[at].Percent); scarce < 0 || f < flour {
				flour, scarce = f, i
			}
		}
	}
	if c.OK() && !(flour <= float64(largestMass)) {
		c.Fail("stock", "enough for "+reckon.Text(unit.Mass(flour))+" of flour", "stock for at most "+reckon.Text(largestMass)+" of flour: list the flour too")
	}
	if err := c.Err(); err != nil {
		return DoughForStockResult{}, err
	}
	dough := float64(flour*sum) / 100
	first := len(dst)
	for i := range in.Stock {
		s := &in.Stock[i]
		used := float64(flour*float64(in.Ingredients[findIngredient(in.Ingredients, s.Name)].Percent)) / 100
		if i == scarce {
			used = float64(s.Mass) // all of it, to the last digit
		}
		dst = append(dst, StockUse{Name: s.Name, Used: unit.Mass(used), Left: max(0, s.Mass-unit.Mass(used))})
	}
	if w != nil {
		w.Step("sum of the percentages", "S", explainPercents(w, in.Ingredients), sum, "%", "")
		smallest := ""
		for i, s := range in.Stock {
			n := strconv.Itoa(i + 1)
			at := findIngredient(in.Ingredients, s.Name)
			w.Given(s.Name+" in stock", "m_"+n, float64(s.Mass), "g", "")
			w.Step("flour for which the "+s.Name+" is enough", "F_"+n, "100*m_"+n+"/p_"+strconv.Itoa(at+1), 100*float64(s.Mass)/float64(in.Ingredients[at].Percent), "g", "")
			if i > 0 {
				smallest += ", "
			}
			smallest += "F_" + n
		}
		if len(in.Stock) > 1 {
			smallest = "min(" + smallest + ")"
		}
		w.Step("flour", "F", smallest, flour, "g", "")
		w.Step("dough", "D", "F*S/100", dough, "g", "")
	}
	return DoughForStockResult{Dough: unit.Mass(dough), Flour: unit.Mass(flour), Scarce: dst[first+scarce].Name, Uses: dst}, nil
}
