package doughmath_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// appends is a calculation that makes a list.
type appends[Row, R any] interface {
	reckon.Calculation[R]
	Append(dst []Row) (R, error)
}

// showsOwnRows requires the working of rows that came after others to be that of the rows alone.
func showsOwnRows[Row, R any](t *testing.T, q appends[Row, R], earlier ...Row) {
	t.Helper()
	_, want, err := reckon.Explain[R](q)
	require.NoError(t, err)
	out, err := q.Append(earlier)
	require.NoError(t, err)
	var w reckon.Working
	q.Show(&w, out)
	assert.Equal(t, want, &w, q.ID())
}

func TestListsShowTheirOwnRows(t *testing.T) {
	flour := []doughmath.WeighedIngredient{{Name: "flour", Mass: 100, Role: doughmath.RoleFlour}}
	part := doughmath.Part{Name: "earlier", Mass: 1, Exact: 2, Error: 3}
	ingredient := doughmath.Ingredient{Name: "earlier", Percent: 7}
	showsOwnRows(t, doughmath.FormulaScale{Ingredients: rolls(), Dough: 777, Division: 5}, part, part)
	showsOwnRows(t, doughmath.FormulaScale{Ingredients: rolls(), Flour: 777}, part)
	showsOwnRows(t, doughmath.FormulaFromWeights{Weights: flour}, ingredient, ingredient)
	showsOwnRows(t, doughmath.DoughCost{Ingredients: rolls(), Prices: rollPrices(), PieceWeight: 85}, doughmath.CostPart{CostPerPiece: 9, Share: 8})
	showsOwnRows(t, doughmath.DoughForStock{Ingredients: rolls(), Stock: []doughmath.Stock{{Name: "yeast", Mass: 10}, {Name: "salt", Mass: 20}}}, doughmath.StockUse{Used: 9, Left: 8})
	showsOwnRows(t, doughmath.MixedBatchPlan{Order: []doughmath.OrderLine{{Pieces: 3, PieceWeight: 500}}, MixerHigh: 1000}, doughmath.OrderDough{Pieces: 9, Dough: 8, Share: 7})
	showsOwnRows(t, hearth(), doughmath.MixPart{Percent: 9, Mass: 8})
	showsOwnRows(t, doughmath.FormulaFromMixes{
		Preferments: []doughmath.WeighedMix{{Name: "sponge", Weights: flour}}, Final: flour,
		FinalUses: []doughmath.MixUse{{Name: "sponge", Mass: 50}}, Liquids: doughmath.LiquidsWhole,
	}, ingredient)
}

// A name may hold whatever divides the lines of a sheet.
func TestNamesDoNotSpoilTheWorking(t *testing.T) {
	name := "T 55: soft = 100 # in all  [mill]"
	q := doughmath.FormulaScale{Dough: unit.Kilograms(1), Ingredients: []doughmath.Ingredient{
		{Name: name, Percent: 100, Role: doughmath.RoleFlour}, {Name: "water", Percent: 60, Role: doughmath.RoleWater},
	}}
	out, w, err := reckon.Explain(q)
	require.NoError(t, err)
	steps := w.Steps[len(w.Steps)-5:]
	assert.Equal(t, reckon.Step{Kind: reckon.WorkedStep, ID: name + ", to weigh", Symbol: "m_1", Expression: "F*p_1/100", Value: float64(out.Parts[0].Mass), Unit: "g", Answer: true}, steps[0])
	assert.Equal(t, "water, to weigh", steps[2].ID)
}
