package doughmath_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/unit"
)

// rollPrices are invented prices for the invented rolls.
func rollPrices() []doughmath.IngredientPrice {
	return []doughmath.IngredientPrice{
		{Name: "flour", Price: 15, For: unit.Kilograms(25)},
		{Name: "water", Price: 0, For: unit.Kilograms(1)},
		{Name: "sugar", Price: 9, For: unit.Kilograms(10)},
		{Name: "salt", Price: 6, For: unit.Kilograms(20)},
		{Name: "yeast", Price: 3, For: unit.Kilograms(1)},
	}
}

func ExampleDoughCost() {
	out, err := doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: unit.Grams(85), Unsold: 5}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f a roll made, %.4f a roll sold\n", out.CostPerPiece, out.CostPerSold)
	fmt.Println("flour is", out.Parts[0].Share, "of it")
	// Output:
	// 0.0353 a roll made, 0.0371 a roll sold
	// flour is 87.34 % of it
}

func ExampleDoughForStock() {
	out, err := doughmath.DoughForStock{Ingredients: rolls(), Stock: []doughmath.Stock{
		{Name: "flour", Mass: unit.Kilograms(75)}, {Name: "yeast", Mass: unit.Kilograms(1)},
	}}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Dough, "of dough, then the", out.Scarce, "is gone and", out.Uses[0].Left, "of flour are left")
	// Output: 110.3 kg of dough, then the yeast is gone and 8.333 kg of flour are left
}

func TestDoughCostNamesEveryBadField(t *testing.T) {
	in := doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), Waste: 1, Unsold: 100}
	in.Prices[0] = doughmath.IngredientPrice{Name: "rye", Price: -1}
	in.Prices[1].Name = "salt"
	_, err := in.Solve()
	assert.Equal(t, []string{"prices", "prices", "prices[0].name", "prices[0].price", "prices[0].for", "prices[3].name", "piece_weight", "waste_basis", "unsold"}, fields(err))
	assert.ErrorContains(t, err, "none for flour")
	assert.ErrorContains(t, err, "none for water")
	in = doughmath.DoughCost{Ingredients: rolls(), Prices: append(rollPrices(), rollPrices()[0]), PieceWeight: 85}
	_, err = in.Solve()
	assert.Equal(t, []string{"prices[5].name"}, fields(err))
	in = doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: 85}
	in.Ingredients[4].Name = "salt"
	_, err = in.Solve()
	assert.Equal(t, []string{"ingredients[4].name", "prices[4].name"}, fields(err))
}

func TestDoughCostBoundsTheList(t *testing.T) {
	_, err := doughmath.DoughCost{Ingredients: rolls()[:1], Prices: make([]doughmath.IngredientPrice, 1001), PieceWeight: 85}.Solve()
	assert.Equal(t, []string{"prices", "prices"}, fields(err))
}

// Shares make 100 %, parts make the piece, and a dough of free ingredients is free.
func TestDoughCostAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	for range 500 {
		in := doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: 85, Waste: unit.Percent(9 * r.Float64()), WasteBasis: doughmath.WasteOnDough, Unsold: unit.Percent(50 * r.Float64())}
		byHand, all := 0.0, 0.0
		for i := range in.Prices {
			in.Prices[i].Price = 10 * r.Float64()
			byHand += float64(in.Ingredients[i].Percent) * in.Prices[i].Price / in.Prices[i].For.Kilograms()
			all += float64(in.Ingredients[i].Percent)
		}
		out, err := in.Solve()
		require.NoError(t, err)
		require.InEpsilon(t, byHand/all, out.CostPerKg, 1e-12)
		cost, share := 0.0, 0.0
		for _, p := range out.Parts {
			cost += p.CostPerPiece
			share += float64(p.Share)
		}
		require.InEpsilon(t, out.CostPerPiece, cost, 1e-12)
		require.InDelta(t, 100, share, 1e-9)
		require.InEpsilon(t, out.CostPerKg*0.085/(1-float64(in.Waste)/100), out.CostPerPiece, 1e-12)
		require.InEpsilon(t, out.CostPerPiece, out.CostPerSold*(1-float64(in.Unsold)/100), 1e-12)
	}
	free := doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: 85}
	for i := range free.Prices {
		free.Prices[i].Price = 0
	}
	out, err := free.Solve()
	require.NoError(t, err)
	assert.Zero(t, out.CostPerSold)
	assert.Zero(t, out.Parts[0].Share)
}

func TestDoughForStockRefuses(t *testing.T) {
	in := doughmath.DoughForStock{Ingredients: rolls(), Stock: []doughmath.Stock{{Name: "rye", Mass: -1}, {Name: "salt", Mass: 1}, {Name: "salt", Mass: 1}, {Name: "sugar", Mass: 1}}}
	in.Ingredients[2].Percent = 0
	_, err := in.Solve()
	assert.Equal(t, []string{"stock[0].mass", "stock[0].name", "stock[2].name", "stock[3].name"}, fields(err))
	_, err = doughmath.DoughForStock{Ingredients: rolls()}.Solve()
	assert.Equal(t, []string{"stock"}, fields(err))
	_, err = doughmath.DoughForStock{Ingredients: rolls(), Stock: []doughmath.Stock{{Name: "yeast", Mass: 1e9}}}.Solve()
	assert.Equal(t, []string{"stock"}, fields(err))
	twice := append(rolls(), doughmath.Ingredient{Name: "water", Percent: 3, Role: doughmath.RoleWater}, doughmath.Ingredient{Name: "water", Percent: 2, Role: doughmath.RoleWater})
	for _, formula := range [][]doughmath.Ingredient{twice[:6], append(rolls()[:1], twice[5:]...)} { // apart, and one after the other
		_, err = doughmath.DoughForStock{Ingredients: formula, Stock: []doughmath.Stock{{Name: "water", Mass: 1}}}.Solve()
		assert.Equal(t, []string{"stock[0].name"}, fields(err))
	}
}

// Of two that run out together, the first listed is named.
func TestDoughForStockTies(t *testing.T) {
	out, err := doughmath.DoughForStock{Ingredients: rolls(), Stock: []doughmath.Stock{
		{Name: "water", Mass: 600}, {Name: "salt", Mass: 20}, {Name: "flour", Mass: 1000},
	}}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "salt", out.Scarce)
	for _, u := range out.Uses[1:] {
		assert.Zero(t, u.Left)
	}
}

// The dough found takes no more than there is, and all of what is scarce.
func TestDoughForStockUsesItUp(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 1))
	for range 1000 {
		in := doughmath.DoughForStock{Ingredients: rolls()}
		for _, g := range in.Ingredients {
			in.Stock = append(in.Stock, doughmath.Stock{Name: g.Name, Mass: unit.Mass(float64(g.Percent) * (1 + 1000*r.Float64()))})
		}
		out, err := in.Solve()
		require.NoError(t, err)
		scaled, err := doughmath.FormulaScale{Ingredients: in.Ingredients, Dough: out.Dough}.Solve()
		require.NoError(t, err)
		for i, p := range scaled.Parts {
			require.InEpsilon(t, float64(p.Mass), float64(out.Uses[i].Used), 1e-12)
			require.GreaterOrEqual(t, float64(out.Uses[i].Left), 0.0)
			require.InDelta(t, float64(in.Stock[i].Mass), float64(out.Uses[i].Used+out.Uses[i].Left), 1e-9*float64(in.Stock[i].Mass))
			if p.Name == out.Scarce {
				require.Zero(t, out.Uses[i].Left)
			}
		}
	}
}

func TestCostAndStockDoNotAllocate(t *testing.T) {
	cost := doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: 85}
	parts := make([]doughmath.CostPart, 0, 8)
	stock := doughmath.DoughForStock{Ingredients: rolls(), Stock: []doughmath.Stock{{Name: "flour", Mass: 75000}, {Name: "yeast", Mass: 1000}}}
	uses := make([]doughmath.StockUse, 0, 8)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := cost.Append(parts); err != nil {
			t.Fatal(err)
		}
		if _, err := stock.Append(uses); err != nil {
			t.Fatal(err)
		}
	}))
}

func BenchmarkDoughCost(b *testing.B) {
	in := doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: 85}
	parts := make([]doughmath.CostPart, 0, 8)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Append(parts); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzDoughCost(f *testing.F) {
	f.Add(58.0, 15.0, 25000.0, 85.0, 2.0, 5.0)
	f.Add(1000.0, 1e9, 1e-3, 1e9, 99.99999999999999, 99.99999999999999)
	f.Add(5e-324, 5e-324, 1e9, 1e-3, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, water, price, buys, piece, waste, unsold float64) {
		in := doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: unit.Mass(piece), Waste: unit.Percent(waste), WasteBasis: doughmath.WasteOnDough, Unsold: unit.Percent(unsold)}
		in.Ingredients[1].Percent = unit.BakersPercent(water)
		for i := range in.Prices {
			in.Prices[i].Price, in.Prices[i].For = price, unit.Mass(buys)
		}
		out, _ := in.Solve()
		marshals(t, out)
		stock, _ := doughmath.DoughForStock{Ingredients: in.Ingredients, Stock: []doughmath.Stock{{Name: "water", Mass: unit.Mass(buys)}, {Name: "salt", Mass: unit.Mass(piece)}}}.Solve()
		marshals(t, stock)
	})
}
