package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// IngredientPrice is what an ingredient costs. Every price is in the same money.
type IngredientPrice struct {
	Name  string    `json:"name"`                                  // as in the formula
	Price float64   `json:"price" sym:"a_#" range:"0..1000000000"` // in your money
	For   unit.Mass `json:"for" sym:"b_#" range:"1 mg..1000 t"`    // what it buys, such as "25 kg"
}

// DoughCost asks what the ingredients of one piece cost, ingredient by
// ingredient:
//
//	c_j = 1000 * a_i / b_i for 1 kg of ingredient j, which has price i
//	S = sum of p_i, C = sum of p_i * c_i / S
//	waste on the order: k = 1 + w / 100; waste of the dough: k = 1 / (1 - w / 100)
//	C_p = C * m * k / 1000, C_s = C_p / (1 - u / 100)
//	s_i = 100 * p_i * c_i / (C * S), C_i = C_p * s_i / 100
//
// It counts ingredients alone: labour, energy, packing and rent come on top. Money has
// no unit here; give every price in the same.
//
// It is refused if:
//   - the formula is not one that [FormulaScale] takes, or two of its ingredients have the same name,
//   - an ingredient has no price, a price names no ingredient, or one is there twice,
//   - waste is allowed for and its basis is not named.
//
// Source: common practice; cases in testdata/cases/doughmath/dough-cost.json.
type DoughCost struct {
	Ingredients []Ingredient      `json:"ingredients" items:"1..1000"`                   // the formula; the flours make 100 %
	Prices      []IngredientPrice `json:"prices" items:"..1000"`                         // one for each ingredient, water too: its price can be 0
	PieceWeight unit.Mass         `json:"piece_weight" sym:"m" range:"1 mg..1000 t"`     // dough weight of one piece
	Waste       unit.Percent      `json:"waste,omitzero" sym:"w,0" range:"0 %..<100 %"`  // dough that sticks, is trimmed or is swept up
	WasteBasis  WasteBasis        `json:"waste_basis,omitzero"`                          // "order" or "dough"; needed with a waste allowance
	Unsold      unit.Percent      `json:"unsold,omitzero" sym:"u,0" range:"0 %..<100 %"` // pieces made that are not sold, of the pieces made
}

// CostPart is what one ingredient costs.
type CostPart struct {
	Name         string       `json:"name"`                     // as in the formula
	CostPerPiece float64      `json:"cost_per_piece" sym:"C_#"` // in a piece made, its waste counted in; in your money
	Share        unit.Percent `json:"share" sym:"s_#"`          // of the cost of the dough; 0 if nothing costs anything
}

// DoughCostResult is what the ingredients cost.
type DoughCostResult struct {
	Parts        []CostPart `json:"parts"`                    // by ingredient, in the order of the formula
	CostPerKg    float64    `json:"cost_per_kg" sym:"C"`      // ingredients of 1 kg of dough, in your money
	CostPerPiece float64    `json:"cost_per_piece" sym:"C_p"` // ingredients of a piece made, its waste counted in
	CostPerSold  float64    `json:"cost_per_sold" sym:"C_s"`  // ingredients of a piece sold, the unsold counted in
}

func (DoughCost) ID() string { return "dough-cost" }

func (q DoughCost) Check(c *reckon.Checks) { q.check(c) }

// highestPrice catches slips of a digit, whatever the money.
const highestPrice = 1e9

// check returns the sum of the percentages.
func (q DoughCost) check(c *reckon.Checks) (sum float64) {
	sum, _ = checkFormula(c, q.Ingredients)
	for i := range q.Ingredients {
		name := q.Ingredients[i].Name
		if findIngredient(q.Ingredients[:i], name) >= 0 {
			refuseItem(c, "ingredients", i, "name", strconv.Quote(unit.Clip(name)), "a name of its own, so that it has a price of its own")
		} else if findPrice(q.Prices, name) < 0 {
			c.Fail("prices", "none for "+unit.Clip(name), "a price for every ingredient, 0 for what costs nothing")
		}
	}
	if len(q.Prices) > mostListItems {
		c.Fail("prices", strconv.Itoa(len(q.Prices))+" prices", "at most "+strconv.Itoa(mostListItems))
		return 0
	}
	for i := range q.Prices {
		p := &q.Prices[i]
		mark := c.Mark()
		switch {
		case findPrice(q.Prices[:i], p.Name) >= 0:
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "each ingredient once")
		case findIngredient(q.Ingredients, p.Name) < 0:
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "the name of an ingredient of the formula")
		}
		reckon.CheckRange(c, "price", p.Price, 0, highestPrice)
		checkMass(c, "for", p.For)
		c.Item(mark, "prices", i)
	}
	checkMass(c, "piece_weight", q.PieceWeight)
	checkWaste(c, q.Waste, q.WasteBasis)
	reckon.CheckBelow(c, "unsold", q.Unsold, 0, 100)
	return sum
}

func findPrice(list []IngredientPrice, name string) int {
	for i := range list {
		if list[i].Name == name {
			return i
		}
	}
	return -1
}

func (q DoughCost) Solve() (DoughCostResult, error) { return q.Append(nil) }

// Append is Solve with the parts appended to dst.
func (q DoughCost) Append(dst []CostPart) (out DoughCostResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	sum := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	cost := 0.0 // of 100 kg of flour and what goes with it
	for i := range q.Ingredients {
		cost += float64(float64(q.Ingredients[i].Percent) * q.perKg(i))
	}
	perKg := cost / sum
	piece := float64(perKg*float64(q.PieceWeight)) * q.WasteBasis.Factor(q.Waste) / 1000
	for i := range q.Ingredients {
		g := &q.Ingredients[i]
		part := CostPart{Name: g.Name}
		if cost > 0 {
			share := float64(g.Percent) * q.perKg(i) / cost
			part.CostPerPiece, part.Share = piece*share, unit.Percent(100*share)
		}
		dst = append(dst, part)
	}
	return DoughCostResult{Parts: dst, CostPerKg: perKg, CostPerPiece: piece, CostPerSold: piece / (1 - float64(q.Unsold)/100)}, nil
}

// perKg returns the price of 1 kg of ingredient i.
func (q *DoughCost) perKg(i int) float64 {
	p := &q.Prices[findPrice(q.Prices, q.Ingredients[i].Name)]
	return p.Price * 1000 / float64(p.For)
}

func (q DoughCost) Show(w *reckon.Working, out DoughCostResult) {
	out.Parts = out.Parts[len(out.Parts)-len(q.Ingredients):]
	w.Inputs(q)
	var l itemLines
	l.line("sum of the percentages: S = sum(p_#) in %")
	for i, g := range q.Ingredients {
		n := strconv.Itoa(findPrice(q.Prices, g.Name) + 1)
		l.item(i+1, g.Name, "price of 1 kg: c_# = a_"+n+"*1000{g/kg}/b_"+n)
	}
	l.line(
		"cost of 1 kg of dough: C = sum(p_#*c_#)/S",
		q.WasteBasis.line(),
		"cost of a piece made: C_p = C*m*k/1000{g/kg}",
	)
	if out.CostPerKg > 0 {
		for i, p := range out.Parts {
			l.item(i+1, p.Name, "share of the cost: s_# = 100*p_#*c_#/(C*S)", "cost in a piece made: C_# = C_p*s_#/100")
		}
	}
	l.line("cost of a piece sold: C_s = C_p/(1 - u/100)")
	l.show(w, out)
}
