package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// IngredientPrice is what an ingredient costs. Every price is in the same money.
type IngredientPrice struct {
	Name  string    `json:"name"`  // as in the formula
	Price float64   `json:"price"` // in your money; 0 to a thousand million
	For   unit.Mass `json:"for"`   // what it buys, such as "25 kg"; 1 mg to 1000 t
}

// DoughCost returns what the ingredients of a piece cost, ingredient by
// ingredient. The parts are appended to dst.
//
//	cost of 1 kg of dough = sum of p_i * price_i / (sum %), price_i for 1 kg
//	cost of a piece = cost of 1 kg * piece weight * k, with k as in batch-plan
//	cost of a piece sold = cost of a piece / (1 - unsold)
//
// It counts ingredients alone: labour, energy, packing and rent come on top. Money has
// no unit here; give every price in the same.
//
// It returns an *[reckon.InputError] if:
//   - the formula is not one that [FormulaScale] takes, or two of its ingredients have one name,
//   - an ingredient has no price, a price names no ingredient, or one is there twice,
//   - a price is outside 0 to a thousand million, or what it buys is outside 1 mg to 1000 t,
//   - piece_weight is outside 1 mg to 1000 t,
//   - waste or unsold is outside 0 to under 100 %, or the basis of the waste is not named.
//
// Source: common practice; cases in testdata/cases/doughmath/dough-cost.json.
type DoughCost struct {
	Ingredients []Ingredient      `json:"ingredients"`          // the formula; the flours make 100 %
	Prices      []IngredientPrice `json:"prices"`               // one for each ingredient, water too: its price can be 0
	PieceWeight unit.Mass         `json:"piece_weight"`         // dough weight of one piece; 1 mg to 1000 t
	Waste       unit.Percent      `json:"waste,omitzero"`       // dough that sticks, is trimmed or is swept up; 0 to under 100 %
	WasteBasis  WasteBasis        `json:"waste_basis,omitzero"` // "order" or "dough"; needed with a waste allowance
	Unsold      unit.Percent      `json:"unsold,omitzero"`      // pieces made that are not sold; 0 to under 100 % of the pieces made
}

func (DoughCost) ID() string { return "dough-cost" }

// SHELL
func (q DoughCost) Check(c *reckon.Checks) {
	_, err := explainDoughCost(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DoughCost) Solve() (DoughCostResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q DoughCost) Append(dst []CostPart) (DoughCostResult, error) {
	return explainDoughCost(q, dst, nil)
}

func (q DoughCost) Show(w *reckon.Working, _ DoughCostResult) { _, _ = explainDoughCost(q, nil, w) }

// CostPart is what one ingredient costs.
type CostPart struct {
	Name     string       `json:"name"`      // as in the formula
	PerPiece float64      `json:"per_piece"` // in a piece made, its waste counted in; in your money
	Share    unit.Percent `json:"share"`     // of the cost of the dough; 0 if nothing costs anything
}

// DoughCostResult is what the ingredients cost.
type DoughCostResult struct {
	Parts    []CostPart `json:"parts"`     // by ingredient, in the order of the formula
	PerKg    float64    `json:"per_kg"`    // ingredients of 1 kg of dough, in your money
	PerPiece float64    `json:"per_piece"` // ingredients of a piece made, its waste counted in
	PerSold  float64    `json:"per_sold"`  // ingredients of a piece sold, the unsold counted in
}

func explainDoughCost(in DoughCost, dst []CostPart, w *reckon.Working) (out DoughCostResult, err error) {
	c := reckon.Checks{Func: "dough-cost"}
	sum, _ := checkFormula(&c, in.Ingredients)
	for i := range in.Ingredients {
		name := in.Ingredients[i].Name
		if findIngredient(in.Ingredients[:i], name) >= 0 {
			c.Fail(itemField("ingredients", i, "name"), strconv.Quote(unit.Clip(name)), "a name of its own, so that it has a price of its own")
		} else if findPrice(in.Prices, name) < 0 {
			c.Fail("prices", "none for "+unit.Clip(name), "a price for every ingredient, 0 for what costs nothing")
		}
	}
	if len(in.Prices) > mostListItems {
		c.Fail("prices", strconv.Itoa(len(in.Prices))+" prices", "at most "+strconv.Itoa(mostListItems))
		return DoughCostResult{}, c.Err()
	}
	for i := range in.Prices {
		p := &in.Prices[i]
		switch {
		case findPrice(in.Prices[:i], p.Name) >= 0:
			c.Fail(itemField("prices", i, "name"), strconv.Quote(unit.Clip(p.Name)), "each ingredient once")
		case findIngredient(in.Ingredients, p.Name) < 0:
			c.Fail(itemField("prices", i, "name"), strconv.Quote(unit.Clip(p.Name)), "the name of an ingredient of the formula")
		}
		if !(p.Price >= 0 && p.Price <= 1e9) {
			reckon.CheckRange(&c, itemField("prices", i, "price"), p.Price, 0, 1e9)
		}
		if !(p.For >= smallestMass && p.For <= largestMass) {
			checkMass(&c, itemField("prices", i, "for"), p.For)
		}
	}
	checkMass(&c, "piece_weight", in.PieceWeight)
	checkWaste(&c, in.Waste, in.WasteBasis)
	reckon.CheckBelow(&c, "unsold", in.Unsold, 0, 100)
	if err := c.Err(); err != nil {
		return DoughCostResult{}, err
	}
	cost := 0.0 // of 100 kg of flour and what goes with it
	for i := range in.Ingredients {
		cost += float64(float64(in.Ingredients[i].Percent) * in.perKg(i))
	}
	k := in.WasteBasis.factor(in.Waste)
	perKg := cost / sum
	piece := float64(perKg*float64(in.PieceWeight)) * k / 1000
	out = DoughCostResult{PerKg: perKg, PerPiece: piece, PerSold: piece / (1 - float64(in.Unsold)/100)}
	for i := range in.Ingredients {
		g := &in.Ingredients[i]
		part := CostPart{Name: g.Name}
		if cost > 0 {
			share := float64(g.Percent) * in.perKg(i) / cost
			part.PerPiece, part.Share = piece*share, unit.Percent(100*share)
		}
		dst = append(dst, part)
	}
	out.Parts = dst
	if w != nil {
		w.Step("sum of the percentages", "S", explainPercents(w, in.Ingredients), sum, "%", "")
		total := ""
		for i, g := range in.Ingredients {
			n := strconv.Itoa(i + 1)
			w.Given("price of 1 kg of "+g.Name, "c_"+n, in.perKg(i), "", "")
			total = plus(total, "p_"+n+"*c_"+n)
		}
		w.Step("cost of 1 kg of dough", "C", "("+total+")/S", perKg, "", "")
		w.Given("piece weight", "m", float64(in.PieceWeight), "g", "")
		in.WasteBasis.explain(w, in.Waste, k)
		w.Step("cost of a piece made", "C_p", "C*m*k/1000", piece, "", "")
		w.Given("pieces not sold", "u", float64(in.Unsold), "%", "")
		w.Step("cost of a piece sold", "C_s", "C_p/(1 - u/100)", out.PerSold, "", "")
	}
	return out, nil
}

// perKg returns the price of 1 kg of ingredient i.
func (in *DoughCost) perKg(i int) float64 {
	p := &in.Prices[findPrice(in.Prices, in.Ingredients[i].Name)]
	return p.Price * 1000 / float64(p.For)
}

func findPrice(list []IngredientPrice, name string) int {
	for i := range list {
		if list[i].Name == name {
			return i
		}
	}
	return -1
}
